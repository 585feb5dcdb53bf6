// Package cold says what a cold tire will read in other air, what a hot reading
// tells of the cold pressure, how fast a tire loses air, and where a monitor
// should ring.
//
//	now := cold.Air{Temperature: inflation.MustParseTemperature("60 F")}
//	frost := cold.Air{Temperature: inflation.MustParseTemperature("20 F")}
//	p, err := cold.WillRead(95*inflation.PSI, now, frost, weight.US)
//
// Pressures are gauge pressures. [WillRead] and [SetTo] are the gas law on
// absolute pressure, [AtMost] bounds the cold pressure of a hot tire: it can
// condemn a tire, never clear one, and no air is ever let out of a hot one.
package cold

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"axleend.example/inflation"
	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// ErrSpeedBand says that a hot tire was driven outside the speeds for which
// an allowance is published: nothing can be said of its cold pressure.
var ErrSpeedBand = errors.New("no hot allowance for this speed")

// A HotReading is a gauge reading on a tire that was driven.
type HotReading struct {
	// Pressure is what the gauge showed.
	Pressure inflation.Pressure
	// PlusMinus is the gauge's.
	PlusMinus inflation.Pressure
	// MaxLoad is the tire's maximum load rating.
	MaxLoad weight.Mass
	// Speed is the average over the last hour.
	Speed inflation.Speed
}

// A Bound is the most that a hot tire's cold pressure can be. It is an
// upper bound, since the allowance is the least build-up: it can condemn a
// tire, never clear one.
type Bound struct {
	// AtMost is the bound, at least 0.
	AtMost inflation.Pressure `json:"at_most"`
	// Source is where the allowance comes from.
	Source origin.Source `json:"source"`
}

// Condemns reports whether the cold pressure is below the limit even at the
// bound. False says nothing: read the tire cold. There is no method to clear
// a tire, and no reason ever to let air out of a hot one.
func (b Bound) Condemns(limit inflation.Pressure) bool { return b.AtMost < limit }

// The hot allowance of 49 CFR 393.75 table 1, as quoted.
const (
	hotBandLow     = 41 * inflation.MilePerHour
	hotBandHigh    = 55 * inflation.MilePerHour
	hotLoad        = 4000 * weight.Pound
	hotLightOff    = 5 * inflation.PSI
	hotHeavyOff    = 15 * inflation.PSI
	hotAllowanceAt = "49 CFR 393.75"
)

// AtMost gives the most that the cold pressure of a hot tire can be: the
// reading with its plus/minus, less 5 psi for a tire rated up to and including
// 4,000 lb and 15 psi above (49 CFR 393.75 table 1, as quoted), at least 0.
// Errors: [ErrSpeedBand] outside 41 to 55 mph; [inflation.ErrInput].
func AtMost(hot HotReading) (Bound, error) {
	switch {
	case hot.Pressure < 0 || hot.Pressure > maxPressure || hot.PlusMinus < 0 || hot.PlusMinus > maxPressure:
		return Bound{}, fmt.Errorf("reading of %s plus/minus %s: want 0 to %s: %w", hot.Pressure, hot.PlusMinus, maxPressure, inflation.ErrInput)
	case hot.MaxLoad <= 0:
		return Bound{}, fmt.Errorf("maximum load of the tire not read: %w", inflation.ErrInput)
	case hot.Speed < hotBandLow || hot.Speed > hotBandHigh:
		return Bound{}, fmt.Errorf("%s over the last hour: published for 41 to 55 mph only: %w", hot.Speed, ErrSpeedBand)
	}
	off := hotLightOff
	if hot.MaxLoad > hotLoad {
		off = hotHeavyOff
	}
	return Bound{
		AtMost: max(hot.Pressure+hot.PlusMinus-off, 0),
		Source: origin.Source{Grade: origin.Quoted, Title: hotAllowanceAt, Locator: "table 1"},
	}, nil
}

// A Reading is a gauge reading on a cold tire.
type Reading struct {
	// Pressure is what the gauge showed.
	Pressure inflation.Pressure `json:"pressure"`
	// PlusMinus is the gauge's.
	PlusMinus inflation.Pressure `json:"plus_minus,omitzero"`
	// Air is what the tire stood in.
	Air Air `json:"air"`
}

// A Leak is how much a tire loses in 30 days, at the second reading's
// temperature and altitude; below zero it gained. PlusMinus covers both
// gauges, the atmosphere and the rounding.
type Leak struct {
	// PerMonth is the loss in 30 days.
	PerMonth inflation.Pressure `json:"per_month"`
	// PlusMinus is its doubt, rounded up.
	PlusMinus inflation.Pressure `json:"plus_minus"`
}

// Exceeds reports whether the leak is above the limit even at the low end of
// its plus/minus. (Normal leakage is 1 to 2 psi a month, GAO-07-246R, 2007.)
func (l Leak) Exceeds(limit inflation.Pressure) bool { return l.PerMonth-l.PlusMinus > limit }

const month = 30 * 24 * time.Hour

// LeakRate compares two cold readings of one tire, nothing added between, and
// gives the loss in 30 days: the first is brought to the second's air, and the
// plus/minus of both count. Rounded to 0.01 psi or 10 Pa, the plus/minus
// widened. Errors match [inflation.ErrInput]: no time between, a negative pressure or
// plus/minus, no temperature.
func LeakRate(first, second Reading, apart time.Duration, system weight.System) (Leak, error) {
	if apart <= 0 {
		return Leak{}, fmt.Errorf("time between the readings of %s: want more than none: %w", apart, inflation.ErrInput)
	}
	for _, r := range [...]Reading{first, second} {
		if r.Pressure < 0 || r.Pressure > maxPressure || r.PlusMinus < 0 || r.PlusMinus > maxPressure/2 {
			return Leak{}, fmt.Errorf("reading of %s plus/minus %s: %w", r.Pressure, r.PlusMinus, inflation.ErrInput)
		}
	}
	low, err := gasLaw(max(first.Pressure-first.PlusMinus, 0), first.Air, second.Air, weight.Floor)
	if err != nil {
		return Leak{}, err
	}
	high, err := gasLaw(min(first.Pressure+first.PlusMinus, maxPressure), first.Air, second.Air, weight.Ceiling)
	if err != nil {
		return Leak{}, err
	}
	least, ok1 := quantity.MulDiv(int64(low-second.Pressure-second.PlusMinus), int64(month), int64(apart), quantity.Floor)
	most, ok2 := quantity.MulDiv(int64(high-second.Pressure+second.PlusMinus), int64(month), int64(apart), quantity.Ceiling)
	if limit := int64(1) << 61; !ok1 || !ok2 || least < -limit || most > limit {
		return Leak{}, fmt.Errorf("readings only %s apart say nothing of a month: %w", apart, inflation.ErrInput)
	}
	grid := inflation.PressureGrid(system)
	mid := (inflation.Pressure(least) + (inflation.Pressure(most)-inflation.Pressure(least))/2).Round(grid, weight.Nearest)
	width := max(inflation.Pressure(most)-mid, mid-inflation.Pressure(least))
	return Leak{PerMonth: mid, PlusMinus: width.Round(grid, weight.Ceiling)}, nil
}

// FlatPercent is the share of its pressure at or below which a tire counts as
// flat (common practice). It is here for the alarm only: whether a tire is
// flat is for the rules to say.
const FlatPercent = 80

// An Alarm is a suggested low-pressure setting of a tire monitor.
type Alarm struct {
	// At is the pressure below which it should ring.
	At inflation.Pressure `json:"at"`
	// FlatAt is 80 % of the set pressure, rounded down to 0.01 psi; At is
	// clear of it.
	FlatAt inflation.Pressure `json:"flat_at"`
	// NoRoom says that the alarm stands at the set pressure itself, so that it
	// rings on any colder morning: a higher set pressure would leave room.
	NoRoom bool `json:"no_room,omitzero"`
}

// AlarmFor suggests where a monitor should ring: at or above the minimum for
// the load and above 80 % of the set pressure, each plus the sensor's
// plus/minus, rounded up to the step (0 is 1 psi). An alarm at 25 % low, as
// light vehicles have it (49 CFR 571.138 S4.2), rings inside the flat zone.
// Never above the set pressure. Errors match [inflation.ErrInput].
func AlarmFor(set, minimum, plusMinus, step inflation.Pressure) (Alarm, error) {
	if step == 0 {
		step = inflation.PSI
	}
	if set <= 0 || set > maxPressure || minimum < 0 || minimum > set || plusMinus < 0 || plusMinus > maxPressure || step < 0 {
		return Alarm{}, fmt.Errorf("alarm for %s set, %s minimum, plus/minus %s, step %s: %w", set, minimum, plusMinus, step, inflation.ErrInput)
	}
	flat, _ := set.MulDiv(FlatPercent, 100, weight.Ceiling)
	at := min((max(minimum, flat+1)+plusMinus).Round(step, weight.Ceiling), set)
	return Alarm{At: at, FlatAt: flat.Round(inflation.PSI/100, weight.Floor), NoRoom: at == set}, nil
}

// A Morning is what a set tire will read in other air.
type Morning struct {
	// Air is that of the morning.
	Air Air `json:"air"`
	// WillRead is what the gauge will show, rounded down.
	WillRead inflation.Pressure `json:"will_read"`
	// BelowMinimum says that the reading is below the minimum for the load,
	// so air has to be added on such a morning.
	BelowMinimum bool `json:"below_minimum,omitzero"`
}

// Mornings gives what a pressure set cold now will read on other mornings, by
// [WillRead], rounded down to a whole psi or to 10 kPa. minimum is that of
// the load, 0 if not known. Errors match [inflation.ErrInput].
func Mornings(set, minimum inflation.Pressure, now Air, system weight.System, then ...Air) ([]Morning, error) {
	whole := inflation.PSI
	if system == weight.Metric {
		whole = 10 * inflation.Kilopascal
	}
	out := make([]Morning, 0, len(then))
	for _, air := range then {
		p, err := WillRead(set, now, air, system)
		if err != nil {
			return nil, err
		}
		out = append(out, Morning{Air: air, WillRead: p.Round(whole, weight.Floor), BelowMinimum: p < minimum})
	}
	return out, nil
}

// MorningLine is a line for the owner, such as "95 psi set at 60 F will read
// 91 psi at 40 F (add air), 98 psi at 80 F (leave it)": the mornings in their
// order, each with what to do about it.
func MorningLine(set inflation.Pressure, now Air, system weight.System, mornings []Morning) string {
	var b strings.Builder
	b.WriteString(set.String() + " set at " + temperatureText(now.Temperature, system) + " will read ")
	for i, m := range mornings {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(pressureText(m.WillRead, system) + " at " + temperatureText(m.Air.Temperature, system))
		switch {
		case m.BelowMinimum:
			b.WriteString(" (add air)")
		case m.WillRead > set:
			b.WriteString(" (leave it)")
		}
	}
	return b.String()
}

func temperatureText(t inflation.Temperature, system weight.System) string {
	unit := " F"
	if system == weight.Metric {
		unit = " C"
	}
	return string(t.AppendIn(nil, system, 0, weight.Nearest)) + unit
}

func pressureText(p inflation.Pressure, system weight.System) string {
	if system == weight.Metric {
		return string(p.AppendIn(nil, inflation.Kilopascal, 0, weight.Floor)) + " kPa"
	}
	return string(p.AppendIn(nil, inflation.PSI, 0, weight.Floor)) + " psi"
}

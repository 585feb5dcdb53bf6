package inflation

import (
	"errors"
	"fmt"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A Capacity is what ONE tire carries at a cold pressure, as far as anybody
// knows, never more than it is rated for. The zero Capacity is not known.
//
// By a table Low and High are the same: the load read between the rows. Without
// a table they are what the laws with an exponent from 0.5 to 1.0 allow
// (computed): from rating times pressure/full pressure to rating times its
// square root. All ends are rounded down to 0.01 lb or 1 g.
type Capacity struct {
	// Low is what it surely carries; 0 says that nothing is sure.
	Low weight.Mass `json:"low"`
	// High is the most that any accepted law allows; nothing with OpenAbove.
	High weight.Mass `json:"high"`
	// OpenAbove says that nothing limits it from above.
	OpenAbove bool `json:"open_above,omitzero"`
	// From is FromTable, FromEstimate or FromPlacard; zero says that nothing is
	// known.
	From PressureFrom `json:"from,omitzero"`
	// PlacardAsksMore says that the placard relies on more than High, or than
	// the table has: have the placard and the stamps read again.
	PlacardAsksMore bool `json:"placard_asks_more,omitzero"`
}

// Known reports whether anything is known.
func (c Capacity) Known() bool { return c.From != 0 }

// A Fitted says how an axle's tires compare with those on its placard. The zero
// Fitted is not compared.
type Fitted uint8

// How tires compare with the placard's.
const (
	// AsPlacard: of the placard's size, and its load range or a stronger one.
	AsPlacard Fitted = iota + 1
	// WeakerThanPlacard: of a lower load range, or a size that carries less.
	WeakerThanPlacard
)

var fittings = word.List[Fitted]{Kind: "how tires compare with the placard", Unknown: ErrWord, Words: []string{"", "as the placard", "weaker than the placard"}}

// String gives "as the placard", "weaker than the placard" or "not known".
func (f Fitted) String() string { return fittings.String(f) }

// AppendText appends the words, and nothing for not compared. An unknown value
// is an error.
func (f Fitted) AppendText(dst []byte) ([]byte, error) { return fittings.Append(dst, f) }

// MarshalText writes what [Fitted.AppendText] appends.
func (f Fitted) MarshalText() ([]byte, error) { return fittings.Text(f) }

// UnmarshalText reads what [Fitted.MarshalText] writes.
func (f *Fitted) UnmarshalText(text []byte) error { return fittings.Read(f, text) }

// A Placard is what the vehicle maker's label says of one axle. The zero
// Placard was not read.
type Placard struct {
	// Pressure is the cold pressure; 0 if not read.
	Pressure Pressure
	// None says that somebody looked, and the coach has no placard.
	None bool
	// GAWR is the axle's rating and GVWR the coach's; 0 if not read.
	GAWR, GVWR weight.Mass
	// Fitted says how the tires on the axle compare with the placard's.
	Fitted Fitted
}

// heavyVehicle is the GVWR above which a placard's pressure has to carry the
// GAWR (49 CFR 571.120 S5.3.1).
const heavyVehicle = 10_000 * weight.Pound

// Promises gives what ONE tire carries at a cold pressure because the label's
// maker says so: at the placard's pressure or more the tires of an end carry
// half the GAWR (49 CFR 571.120 S5.3.1), rounded down to 0.01 lb or 1 g. ok is
// false below that pressure, for other or weaker tires than the placard's, up
// to a GVWR of 10,000 lb, and where any of it was not read.
func (p Placard) Promises(at Pressure, fit weight.Fitment, system weight.System) (load weight.Mass, ok bool) {
	n := PerEnd.tiresPer(fit)
	if n == 0 || p.Pressure <= 0 || at < p.Pressure || p.GAWR <= 0 || p.GVWR <= heavyVehicle || p.Fitted != AsPlacard {
		return 0, false
	}
	return (promisedEnd(p.GAWR) / weight.Mass(n)).Round(system.MassGrid(), weight.Floor), true
}

// promisedEnd is what the placard's pressure is made for on each end: half the GAWR
// (49 CFR 571.120 S5.3.1), rounded down. It is no limit: that is for rules to set.
func promisedEnd(gawr weight.Mass) weight.Mass { return gawr / 2 }

// Carries gives what the tire carries in the fitment at a cold pressure. Below
// a table's first row it is from nothing to that row's load, below the
// estimate's floor from nothing to what the laws allow at the most. A tire
// whose load range was not read carries at least what the table's lowest range
// allows, at most what its last row has. Passenger and trailer tires without a
// table carry what their sidewall states at the pressure beside it and above, below
// it from nothing to that. A tire whose class is not known carries at most what a
// truck tire does, and nothing for sure. What the placard promises counts for
// an estimate up to its upper end, and where nothing else is known; a table
// wins.
//
// The rating of a passenger tire is divided by 1.10 once, unless the vehicle is
// a passenger car (49 CFR 571.120 S5.1.2). The method is always between the
// rows, and the load range is taken from the tire. Errors match [ErrFitment],
// [ErrLoadRange] or [ErrInput].
func (t Tire) Carries(p Pressure, fit weight.Fitment, placard Placard, opt Options, system weight.System) (Capacity, error) {
	if !possiblePressure(p) {
		return Capacity{}, fmt.Errorf("tire %q at %s: want 0 to %s: %w", word.Clip(t.Name), p, maxPressure, ErrInput)
	}
	c, err := t.carries(t.class(), p, fit, opt, system)
	if err != nil {
		return Capacity{}, fmt.Errorf("tire %q at %s: %w", word.Clip(t.Name), p, err)
	}
	promised, ok := placard.Promises(p, fit, system)
	switch {
	case !ok:
	case c.From == FromTable:
		c.PlacardAsksMore = promised > c.High
	case c.From == FromEstimate, c.From == FromSidewall:
		c.PlacardAsksMore = promised > c.High
		c.Low = max(c.Low, min(promised, c.High))
	default:
		c = Capacity{Low: promised, OpenAbove: true, From: FromPlacard}
		if rated := t.Rated(fit, opt, system); rated.Known() {
			c.High, c.OpenAbove = rated.High, false
			c.Low, c.PlacardAsksMore = min(promised, rated.High), promised > rated.High
		}
	}
	return c, nil
}

// Rated gives what ONE tire may carry at the most in the fitment, by its
// sidewall, as [Tire.RatedLoad]; High is not divided by 1.10 where the class is
// not known, since it may be no passenger tire. It is not known when the
// sidewall was not read for this fitment.
func (t Tire) Rated(fit weight.Fitment, opt Options, system weight.System) Capacity {
	class := t.class()
	low := t.rated(class, fit, opt.OnPassengerCar, system.MassGrid())
	if low == 0 {
		return Capacity{}
	}
	c := Capacity{Low: low, High: low, From: FromSidewall}
	if class == 0 {
		c.High = t.rating(fit).Load
	}
	return c
}

func (t *Tire) carries(class Class, p Pressure, fit weight.Fitment, opt Options, system weight.System) (c Capacity, err error) {
	opt.LoadRange, opt.Method = t.LoadRange, Interpolated
	switch {
	case t.Table != nil:
		if c, err = t.Table.carries(p, fit, opt); err != nil {
			return Capacity{}, err
		}
	case fit != weight.Single && fit != weight.Dual:
		return Capacity{}, ErrFitment
	case t.estimable(class, fit):
		if c, err = t.carriesByLaw(class, p, fit, opt, system); err != nil {
			return Capacity{}, err
		}
	default:
		// The load on the sidewall is what it carries at the pressure beside it; more air
		// adds nothing, and with less it carries no more.
		at := t.rating(fit).Pressure
		if at == 0 {
			return Capacity{}, nil
		}
		if c = t.Rated(fit, opt, system); p < at {
			c.Low = 0
		}
		return c, nil
	}
	if rated := t.Rated(fit, opt, system); rated.Known() {
		c.High = min(c.High, rated.High)
		c.Low = min(c.Low, rated.Low, c.High)
	}
	return c, nil
}

func (t *Tire) carriesByLaw(class Class, p Pressure, fit weight.Fitment, opt Options, system weight.System) (Capacity, error) {
	f, err := factor(false, opt.AllowancePercent)
	if err != nil {
		return Capacity{}, err
	}
	c := Capacity{From: FromEstimate}
	grid := system.MassGrid()
	full := t.full(fit)
	if p >= full.Pressure {
		c.High = full.Load
	} else {
		c.High = rootOf(full.Load, p, full.Pressure, grid)
	}
	u := t.estimate(class, fit)
	if class != 0 && p >= u.Floor() {
		if c.Low = full.Load; p < full.Pressure {
			c.Low, _ = full.Load.MulDiv(int64(p), int64(full.Pressure), weight.Floor)
		}
	}
	if f != unity {
		c.Low, c.High = carries(c.Low, f), carries(c.High, f)
	}
	if p < full.Pressure || f != unity {
		c.Low, c.High = c.Low.Round(grid, weight.Floor), c.High.Round(grid, weight.Floor)
	}
	return c, nil
}

// carries is what one tire carries by the table.
func (t *Table) carries(p Pressure, fit weight.Fitment, opt Options) (Capacity, error) {
	c := Capacity{From: FromTable}
	var err error
	switch c.Low, err = t.CapacityAt(p, fit, opt); {
	case errors.Is(err, ErrBelowFirstRow):
		col := t.columnOf(fit)
		f, err := factor(derates(t.class, opt.OnPassengerCar), opt.AllowancePercent)
		if err != nil {
			return Capacity{}, err
		}
		if c.High = carries(col.loads[col.first], f); f != unity {
			c.High = c.High.Round(t.grid, weight.Floor)
		}
		return c, nil
	case err != nil:
		return Capacity{}, err
	}
	if c.High = c.Low; opt.LoadRange == "" && len(t.caps) > 0 {
		// The range that allows the last row.
		opt.LoadRange = t.caps[len(t.caps)-1].loadRange
		if c.High, err = t.CapacityAt(p, fit, opt); err != nil {
			return Capacity{}, err
		}
	}
	return c, nil
}

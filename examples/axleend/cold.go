package main

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/cold"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// coldFlags are what was typed; what was not stays empty.
type coldFlags struct {
	read, at, to, altitude, toAltitude, minimum string
	speed, maxLoad, plusMinus                   string
}

func coldCommand() *command {
	var f coldFlags
	return &command{
		name: "cold", args: "", short: "a pressure in other air, and what a hot reading tells",
		help: `Says what a cold tire will read at other temperatures or another altitude
(rounded down), and what it has to read now to be no lower there (rounded up).
Give -speed and -max-load instead of -at and -to for a hot tire: the answer is
the most that its cold pressure can be. It is published only for 41 to 55 mph
over the last hour; it can condemn a tire, never clear one. With -minimum, the
exit status is 1 when an answer is below it. A cold tire at 80 % of it or
less, or at 0, counts as flat: then no pressure to set and no line for the
owner is printed.

Example: axleend cold -read 102psi -at 95F -to 60F
Example: axleend cold -read 95psi -at 60F -to 20F,80F -altitude 500ft -to-altitude 5000ft
Example: axleend cold -read 118psi -speed 50mph -max-load 4940lb`,
		run: func(c *call, args []string) int { return readsCold(c, f, args) },
		flags: func(c *call) {
			c.flags.StringVar(&f.read, "read", "", "`pressure` read on the gauge, such as 102psi")
			c.flags.StringVar(&f.at, "at", "", "`temperature` of tire and air at the reading, such as 95F")
			c.flags.StringVar(&f.to, "to", "", "other `temperatures`, such as 60F or 20F,60F")
			c.flags.StringVar(&f.altitude, "altitude", "", "`altitude` of the reading, such as 500ft (default: sea level)")
			c.flags.StringVar(&f.toAltitude, "to-altitude", "", "the other `altitude` (default: the same)")
			c.flags.StringVar(&f.minimum, "minimum", "", "least cold `pressure` for the load")
			c.flags.StringVar(&f.speed, "speed", "", "hot tire: average `speed` over the last hour")
			c.flags.StringVar(&f.maxLoad, "max-load", "", "hot tire: the tire's maximum `load` rating")
			c.flags.StringVar(&f.plusMinus, "plus-minus", "", "hot tire: the gauge's plus/minus, a `pressure`")
			c.asFlag()
		},
	}
}

func readsCold(c *call, f coldFlags, args []string) int {
	if len(args) > 0 {
		return c.misuse("cold takes flags only, not %q; axleend cold -h shows how it is used", args[0])
	}
	if f.speed != "" || f.maxLoad != "" || f.plusMinus != "" {
		return hot(c, f)
	}
	read, err1 := needed("-read", f.read, "the pressure on the gauge, such as 102psi", inflation.ParsePressure)
	at, err2 := needed("-at", f.at, "the temperature at the reading, such as 95F (for a hot tire: -speed and -max-load)", parseAir)
	altitude, err3 := optional("-altitude", f.altitude, weight.ParseLength)
	other, err4 := optional("-to-altitude", f.toAltitude, weight.ParseLength)
	minimum, err5 := optional("-minimum", f.minimum, parseLeast)
	to, err6 := f.temperatures()
	if err := errors.Join(err1, err2, err3, err4, err5, err6); err != nil {
		return c.fail(err)
	}
	if f.toAltitude == "" {
		other = altitude
	}
	now := cold.Air{Temperature: at, Altitude: altitude}
	air := make([]cold.Air, len(to))
	for i, t := range to {
		air[i] = cold.Air{Temperature: t, Altitude: other}
	}
	return coldAnswerOf(c, read, minimum, now, air, systemOf(f.read))
}

func (f coldFlags) temperatures() ([]inflation.Temperature, error) {
	if f.to == "" {
		return nil, errors.New("-to not given: want one or more temperatures, such as 60F or 20F,60F")
	}
	var out []inflation.Temperature
	for text := range strings.SplitSeq(f.to, ",") {
		t, err := parseAir(text)
		if err != nil {
			return nil, fmt.Errorf("-to: %w", err)
		}
		out = append(out, t)
	}
	return out, nil
}

// A coldThere is the tire in other air.
type coldThere struct {
	Air      cold.Air           `json:"air"`
	WillRead inflation.Pressure `json:"will_read"`
	// SetNow is what it has to read now so that it reads there what it reads
	// here; 0 where that is no more than it reads here: a pressure is not
	// lowered for warmer air that lies ahead.
	SetNow       inflation.Pressure `json:"set_now,omitzero"`
	BelowMinimum bool               `json:"below_minimum,omitzero"`
}

// A coldAnswer is what the command prints of a cold tire as JSON.
type coldAnswer struct {
	Read    inflation.Pressure `json:"read"`
	Air     cold.Air           `json:"air"`
	Minimum inflation.Pressure `json:"minimum,omitzero"`
	Below   bool               `json:"below_minimum,omitzero"`
	// Low says that it counts as flat, or may: then nothing that leads to air is said.
	Low      coldLow       `json:"low,omitzero"`
	There    []coldThere   `json:"there,omitempty"`
	Line     string        `json:"line,omitzero"`
	Source   origin.Source `json:"source"`
	Cautions caution.Set   `json:"cautions"`
}

// A coldLow says whether a cold tire ran low, if it was driven like this.
type coldLow string

const (
	coldFlat     coldLow = "flat"
	coldTooClose coldLow = "too close"
)

// noPlusMinus is how far above the line of running low a reading stays in doubt, whose
// gauge nobody wrote a plus/minus down for (stick gauges, from memory).
const noPlusMinus = 5 * inflation.PSI

// lowOf holds a cold reading against the least for the load, 0 where that was not given.
func lowOf(read, minimum inflation.Pressure) coldLow {
	flat, _ := minimum.MulDiv(cold.FlatPercent, 100, weight.Floor)
	switch {
	case read <= flat: // 0 always is
		return coldFlat
	case minimum > 0 && read <= flat+noPlusMinus:
		return coldTooClose
	}
	return ""
}

// coldLowAnswer condemns a tire, or asks for it to be read again: nothing else is said
// of one that nobody may air up.
func coldLowAnswer(c *call, a coldAnswer) int {
	if c.as == "json" {
		return worse(c.printJSON(a), exitStop)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s cold at %s%s\n", a.Read, airText(a.Air), belowText(a.Below, a.Minimum))
	text := coldFlatText
	if a.Low == coldTooClose {
		text = coldTooCloseText
	}
	wrap(&b, "  ", fmt.Sprintf(text, cold.FlatPercent))
	wrap(&b, "", coldWho)
	return worse(c.say(b.String()), exitStop)
}

const (
	coldFlatText     = "RAN LOW, if it was driven like this: at 0, or at %d %% or less of what its load needs, a tire counts as flat (common practice). DO NOT DRIVE on it. ADD NO AIR, to its dual mate neither."
	coldTooCloseText = "NO AIR YET: no more than 5 psi above %d %% of what its load needs, where a tire counts as flat (common practice). Read it again with a good gauge; unless it then reads clearly more, it counts as flat."
	coldWho          = "Trained people let the air out through the valve core, take it off and look at it inside before anybody airs it up (29 CFR 1910.177(f)(2)(i), as guidance)."
)

func coldAnswerOf(c *call, read, minimum inflation.Pressure, now cold.Air, then []cold.Air, system weight.System) int {
	a := coldAnswer{Read: read, Air: now, Minimum: minimum, Source: cold.AtmosphereSource(),
		Cautions: caution.Set(0).With(caution.ColdOnly).With(caution.TirePressureNotRead).With(caution.WheelPressureNotRead)}
	mornings, err := cold.Mornings(read, minimum, now, system, then...)
	if err != nil {
		return c.fail(err)
	}
	a.Below = read < minimum
	if a.Low = lowOf(read, minimum); a.Low != "" {
		a.Cautions = 0
		return coldLowAnswer(c, a)
	}
	code := exitDone
	if a.Below {
		code = exitStop
	}
	for i, air := range then {
		there := coldThere{Air: air, BelowMinimum: mornings[i].BelowMinimum}
		if there.WillRead, err = cold.WillRead(read, now, air, system); err != nil {
			return c.fail(err)
		}
		if there.SetNow, err = cold.SetTo(read, now, air, system); err != nil {
			return c.fail(err)
		}
		if there.SetNow <= read {
			there.SetNow = 0
		}
		if there.BelowMinimum {
			code = exitStop
		}
		a.There = append(a.There, there)
	}
	a.Line = cold.MorningLine(read, now, system, mornings)
	if c.as == "json" {
		return worse(c.printJSON(a), code)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s cold at %s%s\n", read, airText(now), belowText(a.Below, minimum))
	for _, t := range a.There {
		wrap(&b, "  ", fmt.Sprintf("at %s it will read %s (rounded down)%s", airText(t.Air), t.WillRead, belowText(t.BelowMinimum, minimum)))
		if t.SetNow != 0 {
			fmt.Fprintf(&b, "  to read %s there, set %s now (rounded up)\n", read, t.SetNow)
		}
	}
	wrap(&b, "", "For the owner: "+a.Line)
	wrap(&b, "", fmt.Sprintf("By the gas law on absolute pressure; atmosphere: %s", a.Source))
	writeCautions(&b, a.Cautions)
	wrap(&b, "- ", fmt.Sprintf("A tire at or below %d %% of its pressure counts as flat (common practice): add no air, and have trained people look at it.", cold.FlatPercent))
	return worse(c.say(b.String()), code)
}

func belowText(below bool, minimum inflation.Pressure) string {
	if !below {
		return ""
	}
	return fmt.Sprintf(": BELOW the %s that the load needs", minimum)
}

func airText(a cold.Air) string {
	if a.Altitude == 0 {
		return a.Temperature.String() + ", sea level"
	}
	return a.Temperature.String() + ", " + a.Altitude.String()
}

// A hotAnswer is what the command prints of a hot tire as JSON.
type hotAnswer struct {
	Read      inflation.Pressure `json:"read"`
	PlusMinus inflation.Pressure `json:"plus_minus,omitzero"`
	Speed     inflation.Speed    `json:"speed"`
	MaxLoad   weight.Mass        `json:"max_load"`
	Bound     cold.Bound         `json:"bound"`
	Minimum   inflation.Pressure `json:"minimum,omitzero"`
	Condemned bool               `json:"condemned"`
	Cautions  caution.Set        `json:"cautions"`
}

func hot(c *call, f coldFlags) int {
	if f.at != "" || f.to != "" || f.altitude != "" || f.toAltitude != "" {
		return c.misuse("-speed, -max-load and -plus-minus are of a hot tire, -at, -to and the altitudes of a cold one: want one or the other")
	}
	read, err1 := needed("-read", f.read, "the pressure on the gauge, such as 118psi", inflation.ParsePressure)
	speed, err2 := needed("-speed", f.speed, "the average speed over the last hour, such as 50mph", inflation.ParseSpeed)
	maxLoad, err3 := needed("-max-load", f.maxLoad, "the tire's maximum load rating, such as 4940lb", parseLoad)
	plusMinus, err4 := optional("-plus-minus", f.plusMinus, inflation.ParsePressure)
	minimum, err5 := optional("-minimum", f.minimum, parseLeast)
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		return c.fail(err)
	}
	bound, err := cold.AtMost(cold.HotReading{Pressure: read, PlusMinus: plusMinus, MaxLoad: maxLoad, Speed: speed})
	if errors.Is(err, cold.ErrSpeedBand) {
		return c.misuse("%v: nothing can be said of the cold pressure; let the tire cool and read it cold, and let no air out", err)
	}
	if err != nil {
		return c.fail(err)
	}
	a := hotAnswer{Read: read, PlusMinus: plusMinus, Speed: speed, MaxLoad: maxLoad, Bound: bound, Minimum: minimum,
		Condemned: f.minimum != "" && bound.Condemns(minimum), Cautions: caution.Set(0).With(caution.ColdOnly)}
	code := exitDone
	if a.Condemned {
		code = exitStop
	}
	if c.as == "json" {
		return worse(c.printJSON(a), code)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s hot, after %s over the last hour, on a tire rated %s\n", read, speed, maxLoad)
	wrap(&b, "  ", fmt.Sprintf("ESTIMATE: at most %s cold, and it may be less; %s", bound.AtMost, bound.Source))
	switch {
	case a.Condemned:
		wrap(&b, "  ", fmt.Sprintf("BELOW the %s that the load needs, even at that: do not drive on it.", minimum))
	case f.minimum != "":
		wrap(&b, "  ", fmt.Sprintf("Not shown to be below the %s that the load needs, and not shown to be enough: read it cold.", minimum))
	}
	b.WriteString("It can condemn a tire, never clear one: let it cool three\nhours in the shade and read it again.\n")
	writeCautions(&b, a.Cautions)
	return worse(c.say(b.String()), code)
}

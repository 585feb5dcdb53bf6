package main

import (
	"errors"
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// errHardly says that a figure can hardly be: a thousands dot, a figure too few or
// another unit. Here nobody can be asked, so it is refused; a wrong one would let too
// little air be set.
var errHardly = errors.New("can hardly be: look at the figure, its dot and its unit")

// What no load on a coach, and no pressure stamped on a tire of one, goes below or above;
// colder or warmer air nobody reads a tire in (common practice, as in visits).
const (
	leastLoad   = 100 * weight.Pound
	wholeLoad   = 1000 * weight.Pound // below it nobody writes a part of a pound or a kilogram
	mostLoad    = 100_000 * weight.Pound
	mostOfTire  = 20_000 * weight.Pound
	leastStamp  = 30 * inflation.PSI
	mostStamp   = 150 * inflation.PSI
	leastToHold = 20 * inflation.PSI // of a towed car
	coldest     = "-60 F"
	warmest     = "200 F" // of a tire in the sun
)

func parseLoad(text string) (weight.Mass, error) {
	m, err := weight.ParseMass(text)
	if err != nil {
		return 0, err
	}
	return m, plausibleLoad(m)
}

func plausibleLoad(m weight.Mass) error {
	if m >= 0 && m < leastLoad || m > 0 && m < wholeLoad && m%weight.Pound != 0 && m%weight.Kilogram != 0 {
		if whole, err := m.MulDiv(1000, 1, weight.Floor); err == nil && whole >= leastLoad && whole <= mostLoad {
			return fmt.Errorf("%s %w; was %s meant? Write thousands without a dot", m, errHardly, whole)
		}
		return fmt.Errorf("%s %w", m, errHardly)
	}
	return nil
}

func parseStamp(text string) (record.Stamp, error) {
	s, err := record.ParseStamp(text)
	if err != nil {
		return s, err
	}
	if s.At < leastStamp || s.At > mostStamp {
		return s, fmt.Errorf("%s %w; want %s to %s", s.At, errHardly, leastStamp, mostStamp)
	}
	if s.Load > mostOfTire {
		return s, fmt.Errorf("%s %w; want %s at most on one tire", s.Load, errHardly, mostOfTire)
	}
	return s, plausibleLoad(s.Load)
}

func parseLeast(text string) (inflation.Pressure, error) {
	p, err := inflation.ParsePressure(text)
	if err == nil && p < leastToHold {
		err = fmt.Errorf("%s %w; want %s or more", p, errHardly, leastToHold)
	}
	return p, err
}

func parseAir(text string) (inflation.Temperature, error) {
	t, err := inflation.ParseTemperature(text)
	if err == nil && (t < inflation.MustParseTemperature(coldest) || t > inflation.MustParseTemperature(warmest)) {
		err = fmt.Errorf("%s %w; want %s to %s", t, errHardly, coldest, warmest)
	}
	return t, err
}

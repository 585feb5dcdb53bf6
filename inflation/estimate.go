package inflation

import (
	"errors"
	"fmt"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// ErrNoEstimate says that nothing may be estimated: the class is passenger,
// trailer or not known, or the sidewall's rating was not read. Such a tire
// stays at the placard or sidewall pressure.
var ErrNoEstimate = errors.New("no estimate without a table")

// The estimate's figures, all computed or from memory (there is no published
// one): 5 % on top of the straight line, steps of 5 psi, a floor of 70 % of
// the sidewall pressure, and 80 psi for truck sizes, since published tables
// stop somewhere and below that nobody has data.
const (
	estimateStep  = 5 * PSI
	truckFloor    = 80 * PSI
	floorPercent  = 70
	marginPercent = 5
)

// An Unlisted is a tire for which there is no table: what its sidewall says
// for ONE fitment, never taken from the other. What it answers is an estimate,
// and has to be shown as one.
//
// Pressure = sidewall pressure x 1.05 x load / sidewall load, rounded up to
// 5 psi, between a floor and the sidewall pressure. Load grows with pressure
// to a power of 0.5 to 1.0, so against 123,750 computed tables with rows of
// 5 psi this never gave less than the next row up, 11 % more on average.
// Where a real table would start above the floor, it can give less than that
// first row: the answer then has AtFloor, and nobody has seen the table.
type Unlisted struct {
	// Class must be LightTruck or Truck.
	Class Class
	// Rating is the sidewall's maximum load with its cold pressure.
	Rating Rating
	// LowestPermitted is the lowest cold pressure that the tire's maker
	// permits, if the caller knows it: it takes the place of the 70 %, not of
	// the 80 psi of truck sizes.
	LowestPermitted Pressure
}

func (u Unlisted) check() error {
	switch {
	case u.Class != LightTruck && u.Class != Truck:
		return fmt.Errorf("class %s: %w", u.Class, ErrNoEstimate)
	case u.Rating.Load <= 0 || u.Rating.Pressure <= 0:
		return fmt.Errorf("maximum load or its pressure not read: %w", ErrNoEstimate)
	case u.LowestPermitted < 0:
		return fmt.Errorf("lowest permitted pressure of %s: below zero: %w", u.LowestPermitted, ErrInput)
	case u.Rating.Load > maxLoad || u.Rating.Pressure > maxPressure:
		return fmt.Errorf("rating of %s at %s: %w", u.Rating.Load, u.Rating.Pressure, ErrInput)
	}
	return nil
}

// maxPressure keeps sums and products in 64 bits; no wheel holds a tenth.
const maxPressure = 1000 * PSI

func possiblePressure(p Pressure) bool { return 0 <= p && p <= maxPressure }

// Floor is the lowest pressure that [Unlisted.PressureFor] answers: 70 % of
// the sidewall pressure or LowestPermitted, for truck sizes at least 80 psi,
// rounded up to 5 psi, at most the sidewall pressure.
func (u Unlisted) Floor() Pressure {
	floor := u.LowestPermitted
	if floor <= 0 {
		floor, _ = u.Rating.Pressure.MulDiv(floorPercent, 100, weight.Ceiling)
	}
	if u.Class == Truck {
		floor = max(floor, truckFloor)
	}
	return min(floor.Round(estimateStep, weight.Ceiling), u.Rating.Pressure)
}

// Source is where the estimate comes from.
func (Unlisted) Source() origin.Source {
	return origin.Source{Grade: origin.Computed, Title: "estimate from the sidewall's maximum load and pressure"}
}

// PressureFor estimates the cold pressure at which ONE tire carries the load;
// Step and AllowancePercent of the
// options count, rounded up and at most the sidewall pressure. Errors:
// [ErrNoEstimate], [ErrInput], and a [*LoadError] for a load above the
// sidewall's.
func (u Unlisted) PressureFor(load weight.Mass, opt Options) (LookUp, error) {
	if err := u.check(); err != nil {
		return LookUp{}, err
	}
	f, err := factor(false, opt.AllowancePercent)
	if err != nil {
		return LookUp{}, err
	}
	if load < 0 || opt.Step < 0 {
		return LookUp{}, negative(load, opt.Step)
	}
	want, ok := quantity.MulDiv(int64(load), f, unity, quantity.Ceiling)
	if !ok || want > int64(u.Rating.Load) {
		limit := carries(u.Rating.Load, f)
		return LookUp{}, &LoadError{Load: load, Limit: limit, Excess: load - limit, At: u.Rating.Pressure}
	}
	line, _ := quantity.MulDiv(int64(u.Rating.Pressure), want*(100+marginPercent), int64(u.Rating.Load)*100, quantity.Ceiling)
	a := LookUp{Load: weight.Mass(want), Estimated: true}
	floor := u.Floor()
	a.Pressure, a.AtCap = roundUpTo(Pressure(line), estimateStep, u.Rating.Pressure)
	if a.AtFloor = a.Pressure <= floor; a.Pressure < floor {
		a.Pressure, a.AtCap = floor, false
	}
	if opt.Step > 0 && !a.AtCap {
		a.Pressure, a.AtCap = roundUpTo(a.Pressure, opt.Step, u.Rating.Pressure)
	}
	return a, nil
}

// CapacityAt estimates what ONE tire carries at a cold pressure: the straight
// line through the rating, which lies below the curve, rounded down to 0.01 lb
// or 1 g; at most the rating. Errors: [ErrBelowFirstRow] with a load of 0 below
// the floor, [ErrNoEstimate], [ErrInput].
func (u Unlisted) CapacityAt(p Pressure, opt Options, system weight.System) (weight.Mass, error) {
	if err := u.check(); err != nil {
		return 0, err
	}
	f, err := factor(false, opt.AllowancePercent)
	if err != nil {
		return 0, err
	}
	if floor := u.Floor(); p < floor {
		return 0, fmt.Errorf("estimate at %s: its floor is %s: %w", p, floor, ErrBelowFirstRow)
	}
	if p >= u.Rating.Pressure {
		return carries(u.Rating.Load, f), nil
	}
	load, _ := u.Rating.Load.MulDiv(int64(p), int64(u.Rating.Pressure), weight.Floor)
	return carries(load, f).Round(system.MassGrid(), weight.Floor), nil
}

package inflation

import (
	"errors"
	"fmt"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A Need is the cold pressure that ONE tire needs for a load, as far as anybody
// knows. The zero Need is not known: no load, or a tire that only a placard
// speaks for.
//
// By a table Low and High are one row, that of the load with its plus/minus.
// Without a table they are what the laws with an exponent from 0.5 to 1.0 allow
// (computed): Low is full pressure times (load/rating) squared, rounded down,
// High the estimate of [Unlisted], rounded up.
type Need struct {
	// Low is the least that it can need, never above the true need.
	Low Pressure `json:"low"`
	// High is what is enough, never below the true need unless OpenAbove.
	High Pressure `json:"high"`
	// OpenAbove says that even High may not be enough: the load is beyond the
	// last row or the rating, or may be more than was read, or the class of tire
	// is not known.
	OpenAbove bool `json:"open_above,omitzero"`
	// From is FromTable or FromEstimate; zero says that nothing is known.
	From PressureFrom `json:"from,omitzero"`
}

// Known reports whether anything is known.
func (n Need) Known() bool { return n.From != 0 }

// Or is the need of two tires together: the higher of both ends, open where
// either is, by an estimate if either is. One not known leaves the other, open
// above.
func (n Need) Or(other Need) Need {
	switch {
	case !n.Known() && !other.Known():
		return Need{}
	case !n.Known():
		n = other
		fallthrough
	case !other.Known():
		n.OpenAbove = true
		return n
	}
	return Need{max(n.Low, other.Low), max(n.High, other.High), n.OpenAbove || other.OpenAbove, max(n.From, other.From)}
}

// Need gives the cold pressure that the tire needs for a load on ONE tire in
// the fitment; see [AxleLoad.OnTire]. Below a table's first row it is the first
// row; beyond the last row that the load range allows it is at least that row,
// whatever wheel or axle allow. An unread load range counts as the table's
// lowest. Passenger and trailer tires without a table are not known; a tire
// whose class is not known counts as a truck tire, open above: that can condemn
// and never clears. The load range of the options is taken from the tire.
// Errors match [ErrFitment], [ErrLoadRange] or [ErrInput].
func (t Tire) Need(load Load, fit weight.Fitment, opt Options, system weight.System) (Need, error) {
	if load.State == 0 {
		return Need{}, nil
	}
	if !load.check() {
		return Need{}, fmt.Errorf("tire %q: load of %s plus/minus %s: %w", word.Clip(t.Name), load.Load, load.PlusMinus, ErrInput)
	}
	opt.LoadRange = t.LoadRange
	n, err := t.need(t.class(), &load, fit, opt, system)
	if err != nil {
		return Need{}, fmt.Errorf("tire %q: %w", word.Clip(t.Name), err)
	}
	return n, nil
}

func (t *Tire) need(class Class, load *Load, fit weight.Fitment, opt Options, system weight.System) (Need, error) {
	if t.Table == nil && !t.estimable(class, fit) {
		return Need{}, nil
	}
	low, _, err := t.needFor(class, load.least(), fit, opt, system)
	if err != nil {
		return Need{}, err
	}
	n, err := t.needHigh(class, load.most(), fit, opt)
	n.Low, n.OpenAbove = min(low, n.High), n.OpenAbove || load.OpenAbove
	return n, err
}

// needHigh is what is enough for a load.
func (t *Tire) needHigh(class Class, load weight.Mass, fit weight.Fitment, opt Options) (Need, error) {
	n := Need{From: FromTable}
	var a LookUp
	var err error
	if t.Table != nil {
		a, err = t.Table.PressureFor(load, fit, opt)
	} else {
		n.From, n.OpenAbove = FromEstimate, class == 0
		a, err = t.estimate(class, fit).PressureFor(load, opt)
	}
	n.High = a.Pressure
	if over, ok := errors.AsType[*LoadError](err); ok {
		n.High, n.OpenAbove, err = over.At, true, nil
	}
	return n, err
}

// needFor is the least that it can need for a load; sure is false beyond what
// is known.
func (t *Tire) needFor(class Class, load weight.Mass, fit weight.Fitment, opt Options, system weight.System) (low Pressure, sure bool, err error) {
	if t.Table != nil {
		n, err := t.needHigh(class, load, fit, opt)
		return n.High, !n.OpenAbove, err
	}
	f, err := factor(false, opt.AllowancePercent)
	if err != nil {
		return 0, false, err
	}
	full := t.full(fit)
	want, err := load.MulDiv(f, unity, weight.Ceiling)
	if err != nil || want >= full.Load {
		return full.Pressure, false, nil
	}
	return squareOf(full.Pressure, want, full.Load, PressureGrid(system)), true, nil
}

// estimable reports whether the laws between pressure and load say anything of
// the tire: not of passenger tires, whose sidewall states a permitted pressure
// and not the one of the rating, nor of trailer tires.
func (t *Tire) estimable(class Class, fit weight.Fitment) bool {
	return class != Passenger && class != Trailer && t.estimate(class, fit).check() == nil
}

// estimate is what an estimate rests on. A class that is not known counts as
// truck: its floor is the highest.
func (t *Tire) estimate(class Class, fit weight.Fitment) Unlisted {
	if class == 0 {
		class = Truck
	}
	return Unlisted{Class: class, Rating: t.full(fit), LowestPermitted: t.LowestPermitted}
}

// stampAbove is how far a sidewall's maximum pressure may be above the one that
// its maximum load is stated at (49 CFR 571.139 S5.5.6: 10 psi, 69 kPa).
const stampAbove = 69 * Kilopascal

// full is the rating for a fitment with the pressure that it is stated at: of
// two pressures that contradict each other the higher.
func (t *Tire) full(fit weight.Fitment) Rating {
	r := t.rating(fit)
	if r.Pressure > 0 && t.MaxPressure > r.Pressure+stampAbove {
		r.Pressure = t.MaxPressure
	}
	return r
}

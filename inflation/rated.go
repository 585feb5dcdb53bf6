package inflation

import (
	"fmt"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// MadeFor is the class of the tire as read, else its table's, else what its size
// says; 0 where nothing says it. A trailer or passenger tire on the coach itself
// is worth a question: the one is made for free-rolling wheels, the other
// carries its rating divided by 1.10 there.
func (t Tire) MadeFor() Class { return t.class() }

// class is the tire's own, else the table's, else the size's.
func (t *Tire) class() Class {
	if t.Class != 0 {
		return t.Class
	}
	return t.unsaidClass()
}

func (t *Tire) unsaidClass() Class {
	if t.Table != nil {
		return t.Table.class
	}
	if s, err := ParseSize(t.Size); err == nil {
		return s.Class()
	}
	return 0
}

// rating is the sidewall's for a fitment.
func (t *Tire) rating(fit weight.Fitment) Rating {
	switch fit {
	case weight.Single:
		return t.Single
	case weight.Dual:
		return t.Dual
	}
	return Rating{}
}

// RatedLoad gives what ONE tire may carry at the most in the fitment: its
// sidewall's maximum load, which for a passenger tire, or one whose class is
// not known, is divided by 1.10 unless the vehicle is a passenger car (49 CFR
// 571.120 S5.1.2), rounded down to 0.01 lb or 1 g. ok is false when the
// sidewall was not read for this fitment.
func (t Tire) RatedLoad(fit weight.Fitment, onPassengerCar bool, system weight.System) (load weight.Mass, ok bool) {
	load = t.rated(t.class(), fit, onPassengerCar, system.MassGrid())
	return load, load > 0
}

// rated is RatedLoad, or 0.
func (t *Tire) rated(class Class, fit weight.Fitment, onPassengerCar bool, grid weight.Mass) weight.Mass {
	load := t.rating(fit).Load
	if load > 0 && derates(class, onPassengerCar) {
		return carries(load, deratedUnity).Round(grid, weight.Floor)
	}
	return max(load, 0)
}

// CapacityAt gives what ONE tire carries in the fitment at a cold pressure,
// rounded down: by its table, or without one by the estimate of [Unlisted]
// from its sidewall; never more than [Tire.RatedLoad]. A trailer tire without
// a table carries its rating at its stamped pressure and above; below that
// nothing says what it carries. The load range of the options is taken from
// the tire. Errors are those of [Table.CapacityAt] and [Unlisted.CapacityAt].
func (t Tire) CapacityAt(p Pressure, fit weight.Fitment, opt Options, system weight.System) (weight.Mass, error) {
	load, err := t.capacityAt(t.class(), p, fit, opt, system)
	if err != nil {
		return 0, fmt.Errorf("tire %q at %s: %w", word.Clip(t.Name), p, err)
	}
	return load, nil
}

func (t *Tire) capacityAt(class Class, p Pressure, fit weight.Fitment, opt Options, system weight.System) (load weight.Mass, err error) {
	opt.LoadRange = t.LoadRange
	switch r := t.rating(fit); {
	case t.Table != nil:
		load, err = t.Table.CapacityAt(p, fit, opt)
	case fit != weight.Single && fit != weight.Dual:
		err = ErrFitment
	case class == Trailer && r.Load > 0 && r.Pressure > 0:
		if load = r.Load; p < r.Pressure {
			err = fmt.Errorf("trailer tire without a table: %w", ErrBelowFirstRow)
		}
	default:
		load, err = t.unlisted(class, fit).CapacityAt(p, opt, system)
	}
	if err != nil {
		return 0, err
	}
	if most := t.rated(class, fit, opt.OnPassengerCar, system.MassGrid()); most > 0 {
		load = min(load, most)
	}
	return load, nil
}

func (t *Tire) unlisted(class Class, fit weight.Fitment) Unlisted {
	return Unlisted{Class: class, Rating: t.rating(fit), LowestPermitted: t.LowestPermitted}
}

// cap is the lowest pressure stamped on the sidewall, 0 if none was read.
func (t *Tire) cap(fit weight.Fitment) Pressure {
	stamped := t.rating(fit).Pressure
	if stamped == 0 || t.MaxPressure > 0 && t.MaxPressure < stamped {
		return t.MaxPressure
	}
	return stamped
}

// alike reports whether two tires differ in nothing but the name.
func (t *Tire) alike(u *Tire) bool {
	return t.Table == u.Table && t.Single == u.Single && t.Dual == u.Dual && t.MaxPressure == u.MaxPressure &&
		t.LowestPermitted == u.LowestPermitted && t.Class == u.Class && t.LoadRange == u.LoadRange && t.Size == u.Size
}

func (w *Wheel) alike(v *Wheel) bool { return w.MaxLoad == v.MaxLoad && w.MaxPressure == v.MaxPressure }

func allAlike[T any](list []T, alike func(*T, *T) bool) bool {
	for i := 1; i < len(list); i++ {
		if !alike(&list[i], &list[i-1]) {
			return false
		}
	}
	return true
}

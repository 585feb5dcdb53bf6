package record

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inspect/record/condition"
)

// Next gives the visit that comes after last, on its day: what stays with coach,
// axles, wheels and tires (sizes, stamps, numbers, ratings, names), and "not read"
// for what is to be read anew: pressures, tread, what is seen, odometer, air. What
// a tire was left at is what it was last set to, on the day of last and in its
// air. The weighing and what was done belong to last. last itself is not changed;
// of nil comes a visit that says nothing yet.
func Next(last *Visit, day dotcode.Date) *Visit {
	if last == nil {
		last = new(Visit)
	}
	v := *last
	kept(visitPart(), &v)
	v.Version, v.Date = Version, day
	v.Names = last.Names
	kept(namesPart(), &v.Names)
	kept(towingPart(), &v.Towing)
	v.Axles = slices.Clone(last.Axles)
	for i := range v.Axles {
		kept(axlePart(), &v.Axles[i])
	}
	v.Trip = last.Trip
	kept(tripPart(), &v.Trip)
	kept(tirePart(), &v.EveryTire)
	kept(tirePart(), &v.EveryTowedTire)
	v.Tires = slices.Clone(last.Tires)
	set := false
	for i := range v.Tires {
		t := &v.Tires[i]
		left := t.LeftAt
		kept(tirePart(), t)
		if left.Is() {
			t.LastSet, set = left, true
		}
		t.Found, t.LeftAt, t.Tread, t.Seen = left.not(), left.not(), NotRead[Treads](), NotRead[condition.Set]()
	}
	if set {
		v.LastSetOn = Record(last.Date)
		v.LastSetAir = last.AirTemperature
		v.Names.LastSetBy = last.Names.Technician
	}
	v.Odometer, v.ParkedFor, v.AirTemperature = last.Odometer.not(), last.ParkedFor.not(), last.AirTemperature.not()
	return &v
}

// not says that nobody read it yet.
func (Recorded[T]) not() Recorded[T] { return NotRead[T]() }

// kept clears what does not stay.
func kept[S any](p *part[S], s *S) {
	for i := range p.fields {
		if f := &p.fields[i]; !f.Stays {
			f.clear(s)
		}
	}
}

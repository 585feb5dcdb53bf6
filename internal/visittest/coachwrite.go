package visittest

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// weigh says how the coach was weighed.
func (c *Coach) weigh(r *rand.Rand) {
	v, w := &c.Base, &c.Base.Weighing
	n := len(v.Axles)
	towed := slices.IndexFunc(v.Axles, func(a record.Axle) bool { return a.Towed })
	if towed >= 0 && !oneIn(r, 3) {
		n = towed
	}
	plate := func(on ...string) { c.Plates = append(c.Plates, Plate{On: on}) }
	switch roll(r, 2, 7, 3, 4, 4) {
	case 0:
		return
	case 1:
		w.Scale = record.Record(weight.Segmented)
		for i := range n {
			plate(v.Axles[i].ID + "-left")
			plate(v.Axles[i].ID + "-right")
		}
	case 2:
		w.Scale = record.Record(weight.Pads)
		for i := range n {
			for _, end := range [...]string{"-left", "-right"} {
				if v.Axles[i].Fitment == weight.Dual {
					plate(v.Axles[i].ID + end + "-outer")
					plate(v.Axles[i].ID + end + "-inner")
				} else {
					plate(v.Axles[i].ID + end)
				}
			}
		}
	case 3:
		w.Scale = record.Record(weight.WholeAxles)
		for i := range n {
			plate(v.Axles[i].ID)
		}
	case 4:
		w.Scale = record.Record(weight.Platform)
		plate("steer-left")
		plate("steer-right")
		if n > 2 {
			plate("steer-left", "drive-left")
			plate("steer-right", "drive-right")
		}
		plate("left")
		plate("right")
	}
	w.Division = pick(r, record.Recorded[weight.Mass]{}, record.Record(c.Lb(20)))
	if !oneIn(r, 3) {
		w.Tolerance = record.Record(c.Lb(pick(r, 0, 20, 40, 100)))
	}
	yes := record.Record(true)
	if !oneIn(r, 5) {
		w.Level, w.RideHeight, w.LevelersUp, w.SlidesIn, w.Hitched = yes, yes, yes, yes, record.Record(towed >= 0)
	}
	switch roll(r, 5, 3, 2, 2) {
	case 0:
		w.AsDriven = yes
	case 1:
		w.TanksAsDriven, w.FuelAsDriven, w.PeopleAsDriven = yes, yes, yes
	case 2: // nobody said
	case 3:
		w.TanksAsDriven, w.FuelAsDriven, w.PeopleAsDriven = record.Record(oneIn(r, 2)), yes, record.Record(false)
	}
	if oneIn(r, 2) {
		w.Date = record.Record(v.Date.AddDays(-pick(r, 0, 0, 30, 200, 360, 370, 900)))
	}
	if oneIn(r, 3) {
		w.WorkSince = record.Record(oneIn(r, 5))
	}
}

// trip is what will be loaded.
func (c *Coach) trip(r *rand.Rand) {
	if len(c.Plates) == 0 || !oneIn(r, 4) {
		return
	}
	t := &c.Base.Trip
	t.Track = record.Record(78 * weight.Inch)
	t.Stations = []record.TripStation{
		{Name: "tank", Behind: 150 * weight.Inch}, {Name: "bay", Behind: 90 * weight.Inch, Offset: record.Offset(30 * weight.Inch)},
		{Name: "rear", Behind: 300 * weight.Inch},
	}
	for i := range 1 + r.IntN(3) {
		at := pick(r, "tank", "tank", "bay", "rear")
		t.Changes = append(t.Changes, record.TripChange{Name: "load " + string(rune('a'+i)), At: at, Add: record.Record(c.Lb(50 + 50*r.IntN(20)))})
	}
}

// Load is what truly stands on places of the coach.
func (c *Coach) Load(layout *record.Layout, on ...string) weight.Mass {
	var set weight.Set
	for _, name := range on {
		s, err := layout.PlaceNamed(name)
		if err != nil {
			panic(err)
		}
		set |= s
	}
	sum := weight.Mass(0)
	for _, w := range layout.Wheels {
		if set&w.Set == 0 {
			continue
		}
		place := 0
		if w.Place == record.Inner {
			place = 1
		}
		sum += c.Loads[w.Axle][w.Side-weight.Left][place]
	}
	return sum
}

// Write gives what was written down of the coach. Two coaches that differ in one
// truth have visits that differ in what shows it.
func (c *Coach) Write() *record.Visit {
	v := c.Base
	v.Axles, v.Tires = slices.Clone(v.Axles), slices.Clone(v.Tires)
	v.Trip.Stations, v.Trip.Changes = slices.Clone(v.Trip.Stations), slices.Clone(v.Trip.Changes)
	for i := range v.Tires {
		c.Tires[i].write(&v.Tires[i])
	}
	layout, err := v.Layout()
	if err != nil { // it is found again where the visit is judged
		return &v
	}
	v.Weighing.Readings = nil
	for _, p := range c.Plates {
		v.Weighing.Readings = append(v.Weighing.Readings, record.Reading{Load: c.Load(layout, p.On...) + p.Off, On: p.On})
	}
	if c.Hidden > 0 {
		for _, p := range Paths(&v) {
			if !p.Whole && c.hides(p.Name) {
				v = *p.Without(&v)
			}
		}
	}
	return &v
}

// hides reports whether nobody wrote a value down: by its name, so that a worse
// coach hides the same. Where the axles stand is known wherever a trip needs it.
func (c *Coach) hides(name string) bool {
	if strings.HasPrefix(name, "trip") || strings.HasSuffix(name, ".behind_steer") {
		return false
	}
	h := fnv.New64a()
	fmt.Fprint(h, c.Seed, name)
	return int(h.Sum64()>>20%1000) < c.Hidden
}

// write is what was read of a tire.
func (t *TrueTire) write(w *record.Tire) {
	if at, _ := w.ReadAt.Get(); !t.Read || at == record.NotReached {
		return
	}
	read := max(0, t.Cold+t.Warm+t.Off)
	w.Found = record.Record(read)
	added := record.Yes(w.AirAdded)
	if added && t.ReadAmount {
		w.AirAddedBy = record.Record(t.Cold - t.Lowest)
	}
	if added && t.ReadBefore {
		w.BeforeAir = record.Record(max(0, t.Lowest+t.Off))
	}
	if t.ReadLowest {
		w.LowestDriven = record.Record(max(0, t.Lowest+t.Off))
	}
	if t.Left >= 0 {
		w.LeftAt = record.Record(max(0, t.Left+t.Warm+t.Off))
	}
	if t.Lost >= 0 {
		w.NextDay = record.Record(max(0, t.Left+t.Off-t.Lost))
	}
}

// Clone is a coach of its own that may be changed.
func (c *Coach) Clone() *Coach {
	d := *c
	d.Loads, d.Tires, d.Plates = slices.Clone(c.Loads), slices.Clone(c.Tires), slices.Clone(c.Plates)
	d.Base.Axles, d.Base.Tires = slices.Clone(c.Base.Axles), slices.Clone(c.Base.Tires)
	d.Base.Trip.Stations, d.Base.Trip.Changes = slices.Clone(c.Base.Trip.Stations), slices.Clone(c.Base.Trip.Changes)
	return &d
}

// Same reports whether two visits say the same.
func Same(v, w *record.Visit) bool { return reflect.DeepEqual(v, w) }

// Overloaded reports whether a tire on one of the coach's own axles truly carries
// more than it can at the pressure that was read, where that is known: by a table,
// and of duals that share their load.
func (c *Coach) Overloaded(v *record.Visit, at string) (bool, weight.Mass) {
	for i := range v.Tires {
		t := &c.Tires[i]
		if v.Tires[i].At != at || t.Axle < 0 || v.Axles[t.Axle].Towed || c.Table == nil || v.EveryTire.Size == "" {
			continue
		}
		found, ok := v.Tires[i].Found.Get()
		on := c.Loads[t.Axle][t.Side]
		if !ok || on[1] > 0 && on[0] != on[1] {
			continue
		}
		load := on[t.Dual]
		return c.Needs(load, v.Axles[t.Axle].Fitment) > found+inflation.PSI, load
	}
	return false, 0
}

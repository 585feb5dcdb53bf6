package visittest

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/weight"
)

// A Worse makes a coach worse in one thing, or says that this one has nothing to
// be made worse. The coach is changed as it truly is, so that readings others
// are subtracted from fit together.
type Worse struct {
	Name string
	Do   func(*Coach, *rand.Rand) bool
}

// tire is a change of one tire: its truth and what is written of it.
func tire(name string, do func(c *Coach, t *TrueTire, w *record.Tire, r *rand.Rand) bool) Worse {
	return Worse{name, func(c *Coach, r *rand.Rand) bool {
		i := r.IntN(len(c.Tires))
		return do(c, &c.Tires[i], &c.Base.Tires[i], r)
	}}
}

// axle is a change of one axle.
func axle(name string, do func(c *Coach, a *record.Axle, r *rand.Rand) bool) Worse {
	return Worse{name, func(c *Coach, r *rand.Rand) bool {
		return do(c, &c.Base.Axles[r.IntN(len(c.Base.Axles))], r)
	}}
}

// lower makes a recorded quantity less by some steps, or does nothing.
func lower[T ~int64](q *record.Recorded[T], step T, r *rand.Rand) bool {
	v, ok := q.Get()
	if ok {
		*q = record.Record(max(0, v-step*T(1+r.IntN(8))))
	}
	return ok && v > 0
}

// raise makes it more.
func raise[T ~int64](q *record.Recorded[T], step T, r *rand.Rand) bool {
	v, ok := q.Get()
	if ok {
		*q = record.Record(v + step*T(1+r.IntN(8)))
	}
	return ok
}

// turn makes a no that was said a yes, or the other way round.
func turn(q *record.Recorded[bool], to bool) bool {
	v, ok := q.Get()
	if ok {
		*q = record.Record(to)
	}
	return ok && v != to
}

// AllWorse lists what can become worse.
func AllWorse() []Worse {
	return slices.Concat(worsePressure(), worsePast(), worseLoad(), worseLook(), worseKnown())
}

func worsePressure() []Worse {
	return []Worse{
		tire("less air", func(c *Coach, t *TrueTire, w *record.Tire, r *rand.Rand) bool {
			by := c.Psi(pick(r, 1, 1, 2, 5, 10, 20, 60))
			was := t.Cold
			t.Cold = max(0, t.Cold-by)
			switch {
			case record.Yes(w.AirAdded): // what was added stays
				t.Lowest = max(0, t.Lowest-(was-t.Cold))
			case t.Lowest > t.Cold && t.Lowest <= was:
				t.Lowest = t.Cold
			}
			return true
		}),
		tire("driven lower", func(c *Coach, t *TrueTire, _ *record.Tire, r *rand.Rand) bool {
			t.Lowest = max(0, t.Lowest-c.Psi(pick(r, 1, 5, 15, 40)))
			return t.ReadLowest
		}),
		tire("air added", func(_ *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool { return turn(&w.AirAdded, true) }),
		tire("more air added", func(c *Coach, t *TrueTire, w *record.Tire, r *rand.Rand) bool {
			t.Lowest = max(0, t.Lowest-c.Psi(pick(r, 1, 5, 15, 40)))
			return record.Yes(w.AirAdded) && (t.ReadAmount || t.ReadBefore)
		}),
		tire("low alarm", func(_ *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool { return turn(&w.LowAlarm, true) }),
		tire("read at zero before", func(_ *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool { return turn(&w.ReadZero, true) }),
		tire("set higher before", func(c *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool {
			return raise(&w.LastSet, c.Psi(3), r)
		}),
		tire("left lower", func(c *Coach, t *TrueTire, _ *record.Tire, r *rand.Rand) bool {
			left := max(t.Cold, t.Left-c.Psi(1+r.IntN(20)))
			was := t.Left
			t.Left = left
			return was > left
		}),
		tire("lost more by the next day", func(c *Coach, t *TrueTire, _ *record.Tire, r *rand.Rand) bool {
			was := t.Lost
			t.Lost += c.Psi(pick(r, 1, 2, 5, 20))
			return was >= 0
		}),
		tire("warm when read", func(_ *Coach, t *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			return t.Warm == 0 && turn(&w.Hot, true)
		}),
		tire("in the sun", func(c *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			w.InSun = record.Record(true)
			return record.Yes(c.Base.Cold)
		}),
	}
}

// worsePast are changes of what happened to the pressures, and in which air.
func worsePast() []Worse {
	return []Worse{
		{"driven since", func(c *Coach, _ *rand.Rand) bool {
			for i := range c.Tires {
				c.Tires[i].Lowest = min(c.Tires[i].Lowest, c.Tires[i].Cold)
			}
			return turn(&c.Base.DrivenSince, true)
		}},
		{"not moved a little but far", func(c *Coach, _ *rand.Rand) bool { return turn(&c.Base.Moved, false) }},
		{"set later", func(c *Coach, r *rand.Rand) bool {
			on, ok := c.Base.LastSetOn.Get()
			if later := on.AddDays(1 + r.IntN(100)); ok && !later.After(c.Base.Date) {
				c.Base.LastSetOn = record.Record(later)
				return true
			}
			return false
		}},
		{"set on a colder day", func(c *Coach, r *rand.Rand) bool {
			return lower(&c.Base.LastSetAir, inflation.MustParseTemperature("1 F")-inflation.MustParseTemperature("0 F"), r)
		}},
		{"read on a warmer day", func(c *Coach, r *rand.Rand) bool {
			was, _ := c.Base.AirTemperature.Get()
			warmer := raise(&c.Base.AirTemperature, inflation.MustParseTemperature("1 F")-inflation.MustParseTemperature("0 F"), r)
			if then, ok := c.Base.NextDayAir.Get(); ok { // and the next day as well
				now, _ := c.Base.AirTemperature.Get()
				c.Base.NextDayAir = record.Record(then + now - was)
			}
			return warmer
		}},
		axle("higher placard", func(c *Coach, a *record.Axle, r *rand.Rand) bool {
			placard, _ := a.Placard.Get()
			p, ok := placard.Pressure()
			if ok {
				a.Placard = record.Record(record.PlacardAt(p + c.Psi(1+r.IntN(20))))
			}
			return ok
		}),
	}
}

func worseLoad() []Worse {
	every := func(name string, stamp func(*record.Visit) *record.Recorded[record.Stamp]) Worse {
		return Worse{name, func(c *Coach, r *rand.Rand) bool {
			s := stamp(&c.Base)
			v, ok := s.Get()
			if ok {
				*s = record.Record(record.Stamp{Load: c.Lb(int(v.Load/weight.Pound) - 20*(1+r.IntN(30))), At: v.At})
			}
			return ok
		}}
	}
	return []Worse{
		{"more load on an end", func(c *Coach, r *rand.Rand) bool {
			on := &c.Loads[r.IntN(len(c.Loads))][r.IntN(2)]
			more := c.Lb(20 * (1 + r.IntN(60)))
			on[0] += more
			if on[1] > 0 {
				on[1] += more
			}
			return len(c.Plates) > 0
		}},
		{"more load on one wheel", func(c *Coach, r *rand.Rand) bool {
			on := &c.Loads[r.IntN(len(c.Loads))][r.IntN(2)]
			on[r.IntN(2)] += c.Lb(20 * (1 + r.IntN(30)))
			return len(c.Plates) > 0 && on[1] > c.Lb(1000)
		}},
		{"more to load", func(c *Coach, r *rand.Rand) bool {
			for i := range c.Base.Trip.Changes {
				if x := &c.Base.Trip.Changes[i]; x.At == "tank" {
					return raise(&x.Add, c.Lb(50), r)
				}
			}
			return false
		}},
		axle("lower axle rating", func(c *Coach, a *record.Axle, r *rand.Rand) bool { return lower(&a.GAWR, c.Lb(50), r) }),
		{"lower gross rating", func(c *Coach, r *rand.Rand) bool { return lower(&c.Base.Ratings.GVWR, c.Lb(100), r) }},
		{"lower combined rating", func(c *Coach, r *rand.Rand) bool { return lower(&c.Base.Ratings.GCWR, c.Lb(100), r) }},
		every("weaker wheels", func(v *record.Visit) *record.Recorded[record.Stamp] { return &v.EveryTire.Wheel }),
		every("weaker tires alone", func(v *record.Visit) *record.Recorded[record.Stamp] { return &v.EveryTire.Single }),
		every("weaker tires as duals", func(v *record.Visit) *record.Recorded[record.Stamp] { return &v.EveryTire.Dual }),
		{"wheels for less pressure", func(c *Coach, r *rand.Rand) bool {
			s, ok := c.Base.EveryTire.Wheel.Get()
			c.Base.EveryTire.Wheel = record.Record(record.Stamp{Load: s.Load, At: s.At - c.Psi(1+r.IntN(20))})
			return ok
		}},
	}
}

func worseLook() []Worse {
	half := record.ThirtySecond / 2
	return []Worse{
		tire("less tread", func(_ *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool {
			t, ok := w.Tread.Get()
			if !ok || len(t.Anywhere) == 0 {
				return false
			}
			w.Tread = record.Record(record.Treads{Anywhere: []weight.Length{max(0, t.Anywhere[0]-half*weight.Length(1+r.IntN(8)))}})
			return true
		}),
		tire("deeper crack", func(_ *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool { return raise(&w.CrackDepth, half, r) }),
		tire("deeper cut", func(_ *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool { return raise(&w.CutDepth, half, r) }),
		tire("wider hole", func(_ *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool { return raise(&w.InjuryWidth, half, r) }),
		tire("cut nearer the sidewall", func(_ *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			at, ok := w.CutAt.Get()
			w.CutAt = record.Record(record.AtSidewall)
			return ok && at != record.AtSidewall
		}),
		tire("hole nearer the sidewall", func(_ *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			at, ok := w.InjuryAt.Get()
			w.InjuryAt = record.Record(record.AtSidewall)
			return ok && at == record.AtCrown
		}),
		tire("another condition", func(c *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool {
			seen, ok := w.Seen.Or(c.Base.EveryTire.Seen).Get()
			ok = ok && (w.Seen.Is() || !c.hides("every_tire.seen") && !c.hides("every_towed_tire.seen"))
			w.Seen = record.Record(seen.With(pick(r, condition.All()...)))
			return ok
		}),
		tire("older", func(_ *Coach, _ *TrueTire, w *record.Tire, r *rand.Rand) bool {
			number, ok := w.Number.Get()
			var week, year int
			if _, err := fmt.Sscanf(number, "%2d%2d", &week, &year); !ok || err != nil {
				return false
			}
			w.Number = record.Record(fmt.Sprintf("%02d%02d", week, max(3, year-1-r.IntN(8))))
			return year > 3 && year < 26 // one that is yet to come is in doubt
		}),
		tire("a retread", func(c *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			w.Retread = w.Retread.Or(c.Base.EveryTire.Retread)
			return turn(&w.Retread, true) && !c.hides("every_tire.retread")
		}),
		tire("regrooved", func(c *Coach, _ *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			w.Regrooved = w.Regrooved.Or(c.Base.EveryTire.Regrooved)
			return turn(&w.Regrooved, true) && !c.hides("every_tire.regrooved")
		}),
		tire("bias among radials", func(c *Coach, t *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			w.Construction = record.Record(inflation.Bias)
			return t.Axle >= 0 && c.Base.EveryTire.Construction.Is()
		}),
	}
}

// worseKnown are things that are rather less known than worse.
func worseKnown() []Worse {
	return []Worse{
		{"worse gauge", func(c *Coach, r *rand.Rand) bool { return raise(&c.Base.GaugeTolerance, c.Psi(1), r) }},
		{"worse scale", func(c *Coach, r *rand.Rand) bool { return raise(&c.Base.Weighing.Tolerance, c.Lb(20), r) }},
		{"weighed lighter than driven", func(c *Coach, _ *rand.Rand) bool { return turn(&c.Base.Weighing.AsDriven, false) }},
		{"a little more is planned", func(c *Coach, _ *rand.Rand) bool {
			if len(c.Plates) == 0 {
				return false
			}
			t := &c.Base.Trip
			if len(t.Stations) == 0 {
				t.Track = record.Record(78 * weight.Inch)
				t.Stations = []record.TripStation{{Name: "tank", Behind: 150 * weight.Inch}}
			}
			t.Changes = append(slices.Clone(t.Changes), record.TripChange{Name: "a box", At: "tank", Add: record.Record(c.Lb(10))})
			return true
		}},
		{"work since the weighing", func(c *Coach, _ *rand.Rand) bool { return turn(&c.Base.Weighing.WorkSince, true) }},
		{"weighed longer ago", func(c *Coach, r *rand.Rand) bool {
			on, ok := c.Base.Weighing.Date.Get()
			c.Base.Weighing.Date = record.Record(on.AddDays(-1 - r.IntN(400)))
			return ok
		}},
		tire("a zero through an extension", func(_ *Coach, t *TrueTire, w *record.Tire, _ *rand.Rand) bool {
			at, _ := w.ReadAt.Get()
			if t.Left >= 0 { // what it was left at was read at the stem
				t.Left += t.Warm + t.Off
			}
			if t.Lost >= 0 {
				t.Lost += t.Warm
			}
			t.Cold, t.Warm, t.Off = 0, 0, 0
			t.Lowest = 0
			return at == record.ThroughExtension
		}),
	}
}

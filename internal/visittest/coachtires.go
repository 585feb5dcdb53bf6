package visittest

import (
	"fmt"
	"math/rand/v2"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/weight"
)

// tires makes the tires, one for each wheel, and mostly a spare.
func (c *Coach) tires(r *rand.Rand) {
	v := &c.Base
	layout, err := v.Layout()
	if err != nil {
		panic(fmt.Sprintf("seed %d: %v", c.Seed, err))
	}
	v.LastSetOn = record.Record(v.Date.AddDays(-pick(r, 1, 20, 60, 150, 200, 500)))
	if oneIn(r, 2) {
		v.AirTemperature = record.Record(c.temperature(pick(r, 20, 40, 60, 70, 95)))
		v.LastSetAir = record.Record(c.temperature(pick(r, 40, 60, 70, 90)))
	}
	worst := roll(r, 5, 3, 3, 2, 2) // how bad it gets on this coach
	for _, w := range layout.Wheels {
		t := TrueTire{Axle: w.Axle, Side: int(w.Side - weight.Left)}
		if w.Place == record.Inner {
			t.Dual = 1
		}
		c.tire(r, w.Name, t, worst)
	}
	if oneIn(r, 3) {
		c.tire(r, "spare", TrueTire{Axle: -1}, worst)
	}
	c.past(r)
	c.seen(r)
	c.nextDay(rand.New(rand.NewPCG(c.Seed, 24)))
	if oneIn(r, 12) {
		c.hardly(r)
	}
}

// nextDay reads tires that were set once more after 24 hours.
func (c *Coach) nextDay(r *rand.Rand) {
	if then, ok := c.Base.AirTemperature.Get(); ok && !oneIn(r, 4) {
		colder := inflation.MustParseTemperature("20 F") - inflation.MustParseTemperature("0 F")
		c.Base.NextDayAir = record.Record(then - inflation.Temperature(pick(r, 0, 0, 1))*colder)
	}
	for i := range c.Tires {
		t := &c.Tires[i]
		if t.Lost = -1; t.Left >= 0 && !oneIn(r, 3) {
			t.Lost = c.Psi(pick(r, 0, 0, 0, 1, 3, 12))
		}
	}
}

// hardly writes one value that can hardly be.
func (c *Coach) hardly(r *rand.Rand) {
	i := r.IntN(len(c.Tires))
	w, t := &c.Base.Tires[i], &c.Tires[i]
	switch r.IntN(7) {
	case 0:
		w.Tread = record.Record(record.Treads{Anywhere: []weight.Length{40 * record.ThirtySecond}})
	case 1:
		w.Tread = record.Record(record.Treads{Anywhere: []weight.Length{8 * weight.Inch}})
	case 2:
		t.Cold, t.Lowest = c.Psi(165), c.Psi(165)
	case 3:
		c.Base.AirTemperature = record.Record(c.temperature(140))
	case 4:
		w.CrackDepth = record.Record(3 * weight.Inch)
	case 5:
		w.Number = record.Record("5026")
	case 6:
		w.Sure, w.Tread = []string{"tread"}, record.Record(record.Treads{Anywhere: []weight.Length{40 * record.ThirtySecond}})
	}
}

func (c *Coach) temperature(f int) inflation.Temperature {
	if c.Base.System == weight.Metric {
		return inflation.MustParseTemperature(fmt.Sprintf("%d C", (f-32)*5/9))
	}
	return inflation.MustParseTemperature(fmt.Sprintf("%d F", f))
}

// lines are the pressures, in psi, below which something is said of a tire.
func (c *Coach) lines(t *TrueTire) (set int, low []int) {
	if t.Axle < 0 {
		return c.spec.top, []int{c.spec.top, c.spec.top / 2 * 10 / 8}
	}
	ax := &c.Base.Axles[t.Axle]
	placard, ok := ax.Placard.Get()
	p, stated := placard.Pressure()
	top := c.spec.top
	if ax.Towed {
		top = 65
	}
	set = top
	if ok && stated {
		set, low = psi(p), append(low, psi(p))
	}
	if !ax.Towed {
		on := &c.Loads[t.Axle]
		need := psi(c.Needs(max(on[0][0], on[0][1], on[1][0], on[1][1]), ax.Fitment))
		low = append(low, need, need*5/4)
	}
	return set, append(low, set, top)
}

// tire makes one tire.
func (c *Coach) tire(r *rand.Rand, at string, t TrueTire, worst int) {
	v := &c.Base
	w := record.Tire{At: at}
	set, low := c.lines(&t)
	last := set
	switch roll(r, 6, 3, 2, 1) {
	case 1:
		last = min(set, pick(r, low...)+5)
	case 2:
		last = set + 5
	case 3:
		last = 0
	}
	was := set
	if last > 0 {
		w.LastSet, was = record.Record(c.Psi(last)), last
	}
	cold := was - r.IntN(3)
	switch chance := r.IntN(10); {
	case worst == 0:
	case worst == 1: // all fell alike, as over a winter
		cold = was - 6 - int(c.Seed%9) - r.IntN(3)
	case worst == 2 && chance < 3, worst == 3 && chance < 6: // near a line
		cold = pick(r, low...)*8/10 + r.IntN(9) - 4
	case worst == 4 && chance < 5:
		cold = r.IntN(was + 1)
	case chance == 9:
		cold = r.IntN(was + 10)
	}
	t.Cold = c.Psi(cold)
	t.Lowest, t.Read, t.Left = t.Cold, !oneIn(r, 25), -1
	if oneIn(r, 6) {
		t.Left = c.Psi(max(cold, was))
	}
	w.Tread = record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(pick(r, 2, 4, 5, 7, 9, 11, 12)) * record.ThirtySecond}})
	if oneIn(r, 8) {
		in, mid, out := 4+r.IntN(8), 4+r.IntN(8), 4+r.IntN(8)
		at := func(n int) []weight.Length { return []weight.Length{weight.Length(n) * record.ThirtySecond} }
		w.Tread = record.Record(record.Treads{Inner: at(in), Center: at(mid), Outer: at(out)})
	}
	w.Number = record.Record(fmt.Sprintf("%02d%02d", 1+r.IntN(51), pick(r, 15, 18, 20, 21, 22, 24)))
	if oneIn(r, 12) {
		w.ReadAt = record.Record(pick(r, record.AtStem, record.ThroughExtension, record.NotReached))
	}
	if oneIn(r, 40) {
		single, _ := v.EveryTire.Single.Get()
		w.Single = record.Record(record.Stamp{Load: single.Load * 9 / 10 / weight.Kilogram * weight.Kilogram, At: single.At})
		if v.System == weight.US {
			w.Single = record.Record(record.Stamp{Load: c.Lb(int(single.Load/weight.Pound) * 9 / 10), At: single.At})
		}
	}
	v.Tires = append(v.Tires, w)
	c.Tires = append(c.Tires, t)
}

// past is what happened to the tires since they were set, and how much of that
// is known.
func (c *Coach) past(r *rand.Rand) {
	v := &c.Base
	switch roll(r, 5, 2, 2) {
	case 0:
		v.NothingSinceSet = record.Record(true)
	case 1: // nobody asked
	case 2:
		for i := range v.Tires {
			w, t := &v.Tires[i], &c.Tires[i]
			w.AirAdded, w.LowAlarm, w.ReadZero = record.Record(false), record.Record(false), record.Record(false)
			switch roll(r, 12, 2, 1, 1) {
			case 1:
				w.AirAdded = record.Record(true)
				t.Lowest = max(0, t.Cold-c.Psi(pick(r, 2, 5, 10, 20, 30)))
				t.ReadAmount, t.ReadBefore = oneIn(r, 2), oneIn(r, 2)
			case 2:
				w.LowAlarm = record.Record(true)
				t.Lowest = max(0, t.Cold-c.Psi(10))
			case 3:
				w.ReadZero = record.Record(oneIn(r, 2))
			}
		}
	}
	switch roll(r, 3, 3, 2) {
	case 0:
		v.DrivenSince = record.Record(true)
	case 1: // not said
	case 2:
		v.DrivenSince = record.Record(false)
		for i := range c.Tires {
			if t := &c.Tires[i]; t.Lowest == t.Cold && oneIn(r, 2) {
				set, _ := c.lines(t)
				t.Lowest = max(t.Cold, c.Psi(set))
			}
		}
	}
	for i := range c.Tires {
		c.Tires[i].ReadLowest = oneIn(r, 4)
	}
}

// seen is what was found on tires and wheels.
func (c *Coach) seen(r *rand.Rand) {
	all := condition.All()
	for i := range c.Base.Tires {
		w := &c.Base.Tires[i]
		if oneIn(r, 12) {
			w.Seen = record.Record(condition.Set(0).With(pick(r, all...)))
		}
		if oneIn(r, 12) {
			w.Sidewalls = record.Record(pick(r, record.BothSidewalls, record.OuterSidewall, record.InnerSidewall, record.NeitherSidewall))
		}
		depth := func() record.Recorded[weight.Length] {
			return record.Record(weight.Length(r.IntN(6)) * record.ThirtySecond / 2)
		}
		switch r.IntN(25) {
		case 0:
			w.CrackDepth = depth()
		case 1:
			w.CutDepth, w.CutAt = depth(), record.Record(pick(r, record.AtCrown, record.AtShoulder, record.AtSidewall))
		case 2:
			w.InjuryWidth, w.InjuryAt = depth(), record.Record(pick(r, record.AtCrown, record.AtShoulder, record.AtSidewall))
		}
	}
}

// gauge is how warm the tires were and how exact the gauge was.
func (c *Coach) gauge(r *rand.Rand) {
	v := &c.Base
	yes, no := record.Record(true), record.Record(false)
	switch roll(r, 5, 3, 2, 1, 2, 2) {
	case 0:
		v.Cold = yes
	case 1:
		v.ParkedFor = record.Record(pick(r, 3*record.Hour, 12*record.Hour, 2*record.Day, 60*record.Day))
	case 2: // nobody said
	case 3:
		v.ParkedFor, v.Moved = record.Record(record.Hour), yes
	case 4:
		v.ParkedFor = record.Record(20 * record.Minute)
		for i := range c.Tires {
			c.Tires[i].Warm = c.Psi(4 + r.IntN(14))
		}
	case 5:
		for i := range v.Tires {
			v.Tires[i].Hot = no
			if oneIn(r, 3) {
				v.Tires[i].Hot, c.Tires[i].Warm = yes, c.Psi(4+r.IntN(14))
			} else if oneIn(r, 6) {
				v.Tires[i].InSun, c.Tires[i].Warm = yes, c.Psi(r.IntN(6))
			}
		}
	}
	tolerance := pick(r, -1, 1, 1, 2, 3, 6)
	if tolerance >= 0 {
		v.GaugeTolerance = record.Record(c.Psi(tolerance))
	}
	if oneIn(r, 5) {
		v.LastSetGauge = record.Record(c.Psi(r.IntN(4)))
	}
	if oneIn(r, 3) {
		for i := range c.Tires { // up to the tolerance, or 3 psi where none is said
			most := min(3, tolerance)
			if tolerance < 0 {
				most = 3
			}
			c.Tires[i].Off = c.Psi(r.IntN(most+1)) * pick[inflation.Pressure](r, 1, -1)
		}
	}
	v.GaugeStep = pick(r, record.Recorded[inflation.Pressure]{}, record.Record(c.Psi(1)), record.Record(c.Psi(5)))
	if v.System == weight.Metric && v.GaugeStep.Is() {
		v.GaugeStep = record.Record(10 * inflation.Kilopascal)
	}
}

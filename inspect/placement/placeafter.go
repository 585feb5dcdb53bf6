package placement

import (
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
)

// ofWheel are conditions of a wheel and its valve: they stay with the wheel when
// the tire comes off it.
const ofWheel condition.Set = 1<<condition.ValveLeaking | 1<<condition.StemCracked | 1<<condition.StemNotRadial | 1<<condition.ExtensionLoose | 1<<condition.CapMissing |
	1<<condition.WheelBent | 1<<condition.WheelCracked | 1<<condition.WheelHolesElongated | 1<<condition.WheelWelded | 1<<condition.WheelClampWorn |
	1<<condition.LockRingDamaged | 1<<condition.LugNutLoose | 1<<condition.FastenerDamaged

// maxLooks bounds how many arrangements are assessed as a visit after the work.
const maxLooks = 64

// afterWork is the visit as it would be written down after the work: each tire at
// its new place with what is its own, on its wheel with what is that wheel's, set
// to what its axle is to be set to. A tire that is to be bought is not on it.
func (p *placer) afterWork(a arrangement, sets map[int]*inflation.Setting) *record.Visit {
	v := *p.as.Visit
	v.EveryTire = withoutPressures(v.EveryTire)
	// Every tire is set again, cold.
	v.Cold, v.ParkedFor, v.Moved = record.Record(true), record.Recorded[record.ParkedFor]{}, record.Recorded[bool]{}
	v.NothingSinceSet, v.LastSetOn = record.Record(true), record.Record(v.Date)
	v.DrivenSince, v.LastSetAir, v.LastSetGauge = record.Recorded[bool]{}, record.Recorded[inflation.Temperature]{}, v.GaugeTolerance
	v.Tires = nil
	want := p.mountings(a)
	for at := range p.as.Tires {
		st := &p.as.Tires[at]
		if !slices.Contains(p.tires, at) { // a towed unit's stay
			if st.Written {
				v.Tires = append(v.Tires, st.Tire)
			}
			continue
		}
		m := want[at]
		if m.tire == noTire || m.tire == at && !st.Written {
			continue
		}
		t := p.as.Tires[m.tire].Tire
		t.At = st.Name
		if m.demount {
			onWheel(&t, &p.as.Tires[m.wheel].Tire)
		}
		if r, ok := t.Rotates.Get(); ok && r != record.EitherSide && st.Position != nil {
			t.Rotates = record.Record(arrowFor(st.Position.Side))
		}
		switch {
		case st.Position != nil:
			t = withoutPressures(t)
			if s := sets[st.AxleIndex]; s != nil {
				set := record.Record(s.Set)
				t.LastSet, t.Found, t.LeftAt = set, set, set
			}
		case m.tire != at:
			t = withoutPressures(t) // stowed: nobody says yet what it holds
		}
		v.Tires = append(v.Tires, t)
	}
	return &v
}

// onWheel has a tire on a wheel found with another.
func onWheel(t, wheel *record.Tire) {
	t.Wheel, t.WheelFits = wheel.Wheel, wheel.WheelFits
	t.Stem, t.Extension, t.StemFitted, t.SensorFitted = wheel.Stem, wheel.Extension, wheel.StemFitted, wheel.SensorFitted
	own, ok1 := t.Seen.Get()
	its, ok2 := wheel.Seen.Get()
	if ok1 && ok2 {
		t.Seen = record.Record(own&^ofWheel | its&ofWheel)
	} else if ok1 {
		t.Seen = record.Recorded[condition.Set]{} // nobody looked at its wheel
	}
}

// withoutPressures is a tire without any recorded pressure.
func withoutPressures(t record.Tire) record.Tire {
	from := record.Tire{}
	t.LastSet, t.Found, t.LeftAt, t.LowestDriven, t.BeforeAir = from.LastSet, from.Found, from.LeftAt, from.LowestDriven, from.BeforeAir
	t.AirAdded, t.AirAddedBy, t.LowAlarm, t.ReadZero, t.DrivenSince = from.AirAdded, from.AirAddedBy, from.LowAlarm, from.ReadZero, from.DrivenSince
	t.NextDay, t.SensorReading, t.Hot, t.InSun, t.ReadAt = from.NextDay, from.SensorReading, from.Hot, from.InSun, from.ReadAt
	return t
}

// A concern is what a rule, or a need, says of one subject: a tire by the place
// where it was found, else an axle, an end or the coach.
type concern struct{ what, about string }

// comesBefore is how bad what comes before the trip is at least.
const comesBefore = 4

// badness is how bad an item is: the higher, the worse.
func badness(it *report.Item) int {
	n := 2
	switch {
	case it.Stops:
		n = 6
	case it.Action.Compare(report.Plan) < 0:
		n = comesBefore
	}
	if it.Verdict == rules.Breached {
		n++
	}
	return n
}

// whatOf gives the rules of an item, else its own words.
func whatOf(it *report.Item) []string {
	if len(it.Rules) == 0 {
		return []string{it.What}
	}
	return it.Rules
}

// An outlook is what the assessment after the work adds to that as found.
type outlook struct {
	worse []report.Item      // stop, or come before the trip
	added []report.NotJudged // could be judged before
	price []report.Item      // can be planned
	where []string           // the places, ends and axles that worse and added are about
}

func (o *outlook) bad() bool { return len(o.worse)+len(o.added) > 0 }

// reason says in words why an arrangement is not proposed.
func (o *outlook) reason() string {
	if len(o.worse) > 0 {
		return o.worse[0].Where + ": " + o.worse[0].What
	}
	return o.added[0].Where + ": not known: " + o.added[0].Need
}

// assessAfter assesses the visit after the work and compares it with the one found.
// Only what the moves touch counts, and not what waits for a tire to buy.
func (p *placer) assessAfter(a arrangement) (*outlook, error) {
	if slices.Equal(a, p.found) {
		return &outlook{}, nil
	}
	sets, err := p.setOf(a)
	if err != nil {
		return nil, err
	}
	v, out := p.afterWork(a, sets), &outlook{}
	if len(v.Tires) == 0 {
		return out, nil
	}
	setup := p.setup
	setup.EveryVerdict = false
	after, err := inspect.Assess(v, setup)
	if err != nil {
		return nil, err
	}
	c := p.comparison(a)
	for i := range after.Todo {
		it := &after.Todo[i]
		judgedAsSet := it.Verdict != rules.NotRecorded && p.isSet(it.Where, sets)
		if !c.touched[it.Where] || !judgedAsSet && !p.counts(it.Rules) || !c.worse(it) {
			continue
		}
		if badness(it) >= comesBefore && !record.IsSpare(it.Where) {
			out.worse, out.where = append(out.worse, *it), append(out.where, it.Where)
		} else {
			out.price = append(out.price, *it)
		}
	}
	for i := range after.Unjudged {
		if g := &after.Unjudged[i]; c.newGap(g) {
			out.added, out.where = append(out.added, *g), append(out.where, g.Where)
		}
	}
	return out, nil
}

// A comparison is what was said of the coach as found, for holding against it what is
// said after the work.
type comparison struct {
	p       *placer
	a       arrangement
	touched map[string]bool
	wheel   map[string]string // the wheel at a place, by the place where that was found
	bad     map[concern]int   // how bad it was
	unknown map[concern]bool
}

func (p *placer) comparison(a arrangement) *comparison {
	c := &comparison{p: p, a: a, touched: p.touched(a), wheel: make(map[string]string), bad: make(map[concern]int), unknown: make(map[concern]bool)}
	for at, m := range p.mountings(a) {
		if m.wheel >= 0 {
			c.wheel[p.as.Tires[at].Name] = p.as.Tires[m.wheel].Name
		}
	}
	for i := range p.as.Report.Todo {
		it := &p.as.Report.Todo[i]
		for _, what := range whatOf(it) {
			of := concern{what, it.Where}
			c.bad[of] = max(c.bad[of], badness(it))
		}
	}
	for _, g := range p.as.Report.Unjudged {
		c.unknown[concern{g.Need, g.Where}] = true
	}
	return c
}

// chalked gives the tire at a place by the place where it was found; an end, an axle
// and the coach by their own names.
func (c *comparison) chalked(where string) string {
	for at, t := range c.a {
		if t != noTire && c.p.as.Tires[at].Name == where {
			return c.p.as.Tires[t].Name
		}
	}
	return where
}

// worse reports whether an item was not as bad as found.
func (c *comparison) worse(it *report.Item) bool {
	tire, from := c.chalked(it.Where), c.p.pairsOf(it.Where, c.a)
	return slices.ContainsFunc(whatOf(it), func(what string) bool {
		was := c.bad[concern{what, tire}]
		if !it.Stops { // a valve to see to stays with its wheel
			was = max(was, c.bad[concern{what, c.wheel[it.Where]}])
		}
		if len(from) == 2 && from[0] == from[1] { // a pair that stays one
			was = max(was, c.bad[concern{what, from[0]}])
		}
		return was < badness(it)
	})
}

// newGap reports whether what is not judged could be as found: it was unknown neither
// of the tire, nor at its place, nor of its pair.
func (c *comparison) newGap(g *report.NotJudged) bool {
	// What is asked once for all tires says nothing of an arrangement, nor does what a tire
	// to buy leaves open.
	bare := func(at int) bool { return c.p.as.Tires[at].Position != nil && c.a[at] == noTire }
	if g.Where == "coach" && (len(g.Rules) == 0 || slices.ContainsFunc(c.p.tires, bare)) {
		return false
	}
	if !c.touched[g.Where] || record.IsSpare(g.Where) || !c.p.counts(g.Rules) {
		return false
	}
	was := func(where string) bool { return c.unknown[concern{g.Need, where}] }
	return !was(g.Where) && !was(c.chalked(g.Where)) && !slices.ContainsFunc(c.p.pairsOf(g.Where, c.a), was) && !c.unprobed(g)
}

// unprobed reports whether what is missing of a pair is the tread of a tire that nobody
// probed where it was found either: it is to be probed, wherever it goes.
func (c *comparison) unprobed(g *report.NotJudged) bool {
	r := c.p.as.Refs
	return c.p.as.Program.Has(func(rule *rules.Rule) bool {
		return slices.Contains(g.Rules, rule.Name()) && (rule.Measure() == r.PairTread || rule.Measure() == r.PairDeeper)
	}) && slices.ContainsFunc(c.p.tires, func(at int) bool {
		t := c.a[at]
		return t != noTire && c.p.endOf(at) == g.Where && !c.p.as.Tires[t].Line.Tread.Is()
	})
}

// isSet reports whether a place, end or axle is set to a pressure that is known:
// the coach is not.
func (p *placer) isSet(where string, sets map[int]*inflation.Setting) bool {
	for i := range p.as.Visit.Axles {
		if ends := p.as.Layout.EndNames[i]; where == p.as.Visit.Axles[i].ID || where == ends[0] || where == ends[1] {
			return sets[i] != nil
		}
	}
	st := p.as.TireNamed(where)
	return st != nil && sets[st.AxleIndex] != nil
}

// pairsOf names the ends at which the tires of a pair were found: what was not known
// of their pair there goes along with them.
func (p *placer) pairsOf(end string, a arrangement) []string {
	var out []string
	for at, t := range a {
		if t != noTire && p.as.Tires[at].Mate >= 0 && p.endOf(at) == end && p.as.Tires[t].Mate >= 0 {
			out = append(out, p.endOf(t))
		}
	}
	return out
}

// counts reports whether any of the rules says something of an arrangement, and not
// only of pressures as found, which the work sets anew.
func (p *placer) counts(names []string) bool {
	if len(names) == 0 {
		return true
	}
	for _, r := range p.as.Program.Rules() {
		if slices.Contains(names, r.Name()) && !p.skip[r] && !judge.AboutLow(r) {
			return true
		}
	}
	return false
}

// touched names the places, ends and axles whose tires change, but not an end or an
// axle that waits for a tire to buy.
func (p *placer) touched(a arrangement) map[string]bool {
	out := make(map[string]bool)
	for gi := range p.groups {
		g := &p.groups[gi]
		missing := [3]bool{} // left, right, either
		for _, at := range g.places {
			if w := p.as.Tires[at].Position; w != nil && a[at] == noTire {
				missing[w.Side-weight.Left], missing[2] = true, true
			}
		}
		if !p.moved(g, a) {
			continue
		}
		for _, at := range g.places {
			out[p.as.Tires[at].Name] = a[at] != noTire
			if w := p.as.Tires[at].Position; w != nil {
				out[p.endOf(at)] = !missing[w.Side-weight.Left]
				out[p.as.Visit.Axles[w.Axle].ID] = !missing[2]
			}
		}
	}
	out["coach"] = len(out) > 0
	return out
}

// ban takes what an outlook blames out of the search: the tires on an axle or, where
// it blames a place or an end, each way to have the same tires on that end.
func (p *placer) ban(a arrangement, o *outlook) (any bool) {
	for gi := range p.groups {
		g := &p.groups[gi]
		var places []int // by their index in the group
		for i, at := range g.places {
			if m := p.as.Tires[at].Mate; p.blames(o, at) || m >= 0 && p.blames(o, m) {
				places = append(places, i)
			}
		}
		if len(places) == 0 || !p.moved(g, a) {
			continue
		}
		for i := range p.options[gi] {
			if o := &p.options[gi][i]; p.sameAt(g, o, a, places) && !p.asItWas(g, o) {
				o.banned, any = true, true
			}
		}
	}
	return any
}

// blames reports whether an outlook is about a place, its end, its axle or the coach.
func (p *placer) blames(o *outlook, at int) bool {
	names := []string{"coach", p.as.Tires[at].Name}
	if w := p.as.Tires[at].Position; w != nil {
		names = append(names, p.endOf(at), p.as.Visit.Axles[w.Axle].ID)
	}
	return slices.ContainsFunc(names, func(name string) bool { return slices.Contains(o.where, name) })
}

// moved reports whether another tire, or none, is on any place of a group.
func (p *placer) moved(g *group, a arrangement) bool {
	return slices.ContainsFunc(g.places, func(at int) bool { return a[at] != p.found[at] })
}

func (p *placer) sameAt(g *group, o *option, a arrangement, places []int) bool {
	return !slices.ContainsFunc(places, func(i int) bool { return p.tireOf(o, i) != a[g.places[i]] })
}

// asItWas reports whether no tire at hand changes its place in an option.
func (p *placer) asItWas(g *group, o *option) bool {
	for i, at := range g.places {
		if t := p.tireOf(o, i); t != noTire && t != at {
			return false
		}
	}
	return true
}

func (p *placer) tireOf(o *option, i int) int {
	if o.tires[i] == noTire {
		return noTire
	}
	return p.tires[o.tires[i]]
}

// chooseSound takes the best arrangement that the assessment after the work has
// nothing worse to say of. After enough of them no tire at hand changes its place.
func (p *placer) chooseSound() (arrangement, cost, error) {
	var reasons []string
	for range maxLooks {
		a, c, err := p.choose(nil)
		if err != nil {
			return nil, cost{}, err
		}
		o, err := p.assessAfter(a)
		if err != nil {
			return nil, cost{}, err
		}
		if !o.bad() {
			p.out.Price = o.price
			p.because(reasons)
			return a, c, nil
		}
		if r := o.reason(); !slices.Contains(reasons, r) {
			reasons = append(reasons, r)
		}
		if !p.ban(a, o) {
			break
		}
	}
	p.because(reasons)
	return p.choose(p.asItWas)
}

// because says what would have come up where the search went on.
func (p *placer) because(reasons []string) {
	const most = 3
	if n := len(reasons); n > most {
		reasons = append(reasons[:most:most], "and more")
	}
	p.out.NotProposed = strings.Join(reasons, "; ")
}

package history

import (
	"slices"

	"axleend.example/inspect/record"
	"axleend.example/internal/judge"
	"axleend.example/rules"
)

// A tireRead is what a visit read of one tire, of that on which rules about any of several
// tires rest.
type tireRead struct {
	at string
	is readings
}

// readings are a set of these values.
type readings uint8

const (
	readClass readings = 1 << iota
	readStamp
	readWheel
	readSize
	readFound // cold, as is the next
	readLeft
)

// readOf gives what this visit read of a tire.
func readOf(st *judge.TireState) tireRead {
	x := tireRead{at: st.Name}
	for _, v := range [...]struct {
		of readings
		is bool
	}{
		{readClass, st.Class.Is()}, {readStamp, st.Single.Is() || st.Dual.Is() || st.Service.Is()}, {readWheel, st.Wheel.Is()},
		{readSize, st.Size != ""}, {readFound, st.Usable.Is() && !record.Yes(st.Warm)}, {readLeft, st.LeftAt.Is() && !record.Yes(st.Warm)},
	} {
		if v.is {
			x.is |= v.of
		}
	}
	return x
}

// restsOn gives the values of which a rule takes those of the tires that were read, so
// that it is kept as well where the tire it was about was not.
func restsOn(rule *rules.Rule) (on readings) {
	r := judge.MeasuresOf()
	for _, x := range [...]struct {
		of rules.MeasureRef
		on readings
	}{
		{r.OddClass, readClass}, {r.PlacardTooHigh, readStamp | readWheel}, {r.MostPressure, readStamp | readWheel},
		{r.PlacardPromises, readClass | readStamp | readWheel | readSize}, {r.FoundOfSome, readFound}, {r.LeftOfSome, readLeft},
	} {
		if rule.Uses(x.of) {
			on |= x.on
		}
	}
	return on
}

// ofAll is the measure that takes the place of one of some tires once all of an axle were
// read; another measure is its own.
func ofAll(m rules.MeasureRef) rules.MeasureRef {
	switch r := judge.MeasuresOf(); m {
	case r.FoundOfSome:
		return r.FoundSpread
	case r.LeftOfSome:
		return r.LeftSpread
	}
	return m
}

// keepsAll reports whether a visit that read all tires of an axle found them alike, which
// settles that some were not.
func (c *comparison) keepsAll(e *advised) bool {
	all := ofAll(e.rule.Measure())
	return all != e.rule.Measure() && slices.ContainsFunc(c.kept, func(k keptRule) bool { return k.name == e.where && k.rule.Measure() == all })
}

// carriedAsFound reports whether a visit shows that each tire of an axle carries its load
// as found: then a pressure does, of which the rule has nothing to say where no table
// tells what the load needs.
func (c *comparison) carriedAsFound(e *advised, a *judge.Assessment) bool {
	if e.rule.Measure() != a.Refs.AxleFit {
		return false
	}
	all := false
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.AxleIndex < 0 || a.Visit.Axles[st.AxleIndex].ID != e.where {
			continue
		}
		carries := func(k keptRule) bool {
			return k.name == st.Name && k.rule.Measure() == a.Refs.Load && k.rule.Uses(a.Refs.CapacityFound)
		}
		if all = slices.ContainsFunc(c.kept, carries); !all {
			return false
		}
	}
	return all
}

// readAgain reports whether this visit read all that a finding rested on, of the tire or
// of each tire on the axle that it was about.
func (c *comparison) readAgain(e *advised, a *judge.Assessment) bool {
	on := restsOn(e.rule)
	if on == 0 {
		return true
	}
	if st := a.TireNamed(e.place()); e.heldTo > 0 && st != nil && e.rule.Uses(a.Refs.MostPressure) {
		if p, read := pressureOf(e.rule, st); read && p <= e.heldTo {
			return true // what allowed no more need not be read again
		}
	}
	now := c.visits[c.now].read
	for _, was := range c.visits[e.last].read {
		at, concerns := e.concerns(was.at, a)
		if !concerns {
			continue
		}
		again := readings(0)
		for _, x := range now {
			if x.at == at {
				again = x.is
			}
		}
		if was.is&on&^again != 0 {
			return false
		}
	}
	return true
}

// concerns reports whether an entry is about the tire that was at a place, or about its
// axle, and where that tire is now.
func (e *advised) concerns(at string, a *judge.Assessment) (now string, is bool) {
	if e.thread != nil {
		return e.thread.at, at == e.at
	}
	st := a.TireNamed(at)
	return at, at == e.where || !record.IsSpare(at) && st != nil && a.Visit.Axles[st.AxleIndex].ID == e.where
}

// answers reports whether what this visit finds kept settles an entry: it was weighed and
// read again for that, and not only held to a higher rating.
func (c *comparison) answers(e *advised, a *judge.Assessment) bool {
	return c.weighedAgain(e, a) && c.readAgain(e, a) && !c.labelRaised(e, a)
}

// notListed reports whether a visit says nothing of the tire that an entry is about.
func (c *comparison) notListed(e *advised) bool {
	return e.thread != nil && e.thread.presence == OnCoach && e.thread.visit != c.now
}

// lookForTorque closes that the nuts of a place were not checked once they were: on a later
// day than its wheel was put on, where that is said, else than its tire was seen there.
func (c *comparison) lookForTorque(e *advised, a *judge.Assessment) {
	s := c.sighted(e.where)
	if s == nil {
		return
	}
	since := false
	if checked, ok := s.TorqueChecked.Get(); ok && !s.WheelOn.Is() && len(s.thread.seen) > 1 {
		before := &s.thread.seen[len(s.thread.seen)-2]
		since = before.At == e.where && before.Date.Before(checked) && c.visits[e.last].Date.Before(checked) && !a.Visit.Date.Before(checked)
	}
	if since || c.keeps(e.rule, e.where) {
		c.close(e, ClosedByKept)
	}
}

// doesNotApply reports that a rule found nothing at a tire's new place
// although all that it speaks of is recorded there: its where excludes it.
func (c *comparison) doesNotApply(rule *rules.Rule, at string, a *judge.Assessment) bool {
	st := a.TireNamed(at)
	if st == nil {
		return false
	}
	facts := a.SoundTire(st)
	return !slices.ContainsFunc(rule.Measures(), func(m rules.MeasureRef) bool { return !facts.Get(m).Recorded() })
}

// excludes reports whether the place where a tire runs now, and nothing else that this
// visit says or leaves out, keeps a rule silent that spoke of it at another.
func (c *comparison) excludes(e *advised, a *judge.Assessment) bool {
	was, st := a.TireNamed(e.at), a.TireNamed(e.thread.at)
	if was == nil {
		return false
	}
	speaks := func(facts *rules.Facts) bool {
		found, err := c.judge.Program.AppendRun(nil, facts)
		return err != nil || slices.ContainsFunc(found, func(f rules.Finding) bool { return f.Rule == e.rule })
	}
	facts := a.SoundTire(was)
	role, place := facts.Get(a.Refs.Role), facts.Get(a.Refs.Place)
	return !speaks(a.SoundTire(st)) && speaks(a.SoundTire(st).Set(a.Refs.Role, role).Set(a.Refs.Place, place))
}

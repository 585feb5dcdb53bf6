package history

import (
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
)

// What is on a label or stamped on a tire does not change: a visit that has it higher than
// one before contradicts it, and what was over the lower one is not settled by that.

// A labelRead is a rating as a visit read it.
type labelRead struct {
	of     string // the coach, or an axle
	name   string
	rating weight.Mass
}

// takeLabel compares the ratings on the coach's label with those that were read before.
func (c *comparison) takeLabel(todo []report.Item) {
	v := c.visits[c.now].Visit
	take := func(of, name string, is record.Recorded[weight.Mass]) {
		rating, ok := is.Get()
		if !ok || inDoubt(todo, of) {
			return
		}
		now := labelRead{of, name, rating}
		i := slices.IndexFunc(c.label, func(l labelRead) bool { return l.of == of && l.name == name })
		if i < 0 {
			c.label = append(c.label, now)
			return
		}
		if was := c.label[i]; apart(was.rating, rating) {
			stays := ""
			if rating > was.rating {
				stays = "; what was over the lower one stays open until it weighs less than that, or done says what was read"
			}
			c.contradict(of, "%s %s, before it was %s: a label does not change, so read it again%s", name, judge.MassText(rating), judge.MassText(was.rating), stays)
		}
		c.label[i] = now
	}
	take("coach", "GVWR", v.Ratings.GVWR)
	take("coach", "GCWR", v.Ratings.GCWR)
	for _, ax := range ownAxles(v) {
		take(ax.ID, "GAWR", ax.GAWR)
	}
}

// apart reports whether two loads are not one that is stated in both units, each rounded.
func apart(a, b weight.Mass) bool {
	const rounded = 5 * weight.Kilogram // common practice
	return judge.AbsDiff(a, b) > rounded
}

// apartStamps reports the same of two stamps.
func apartStamps(a, b record.Stamp) bool {
	const rounded = 10 * inflation.Kilopascal // common practice
	return apart(a.Load, b.Load) || judge.AbsDiff(a.At, b.At) > rounded
}

// inDoubt reports whether a visit asks to read something again at a place.
func inDoubt(todo []report.Item, at string) bool {
	return slices.ContainsFunc(todo, func(it report.Item) bool {
		return it.Where == at && (it.What == judge.StampsInDoubt || strings.HasPrefix(it.What, judge.ReadAgain))
	})
}

// A stamped is what a tire of a full number states: the last read, and the lowest.
type stamped struct {
	last, least record.Recorded[record.Stamp]
}

// take compares a stamp with those read before: whether it is another than the last, and
// whether it states more than the lowest.
func (s *stamped) take(is record.Recorded[record.Stamp]) (was record.Stamp, differs, raised bool) {
	now, ok := is.Get()
	if !ok {
		return record.Stamp{}, false, false
	}
	was, before := s.last.Get()
	least := now
	if low, ok := s.least.Get(); ok {
		raised = apartStamps(now, low) && (now.Load > low.Load || now.At > low.At)
		least = record.Stamp{Load: min(now.Load, low.Load), At: min(now.At, low.At)}
	}
	s.last, s.least = is, record.Record(least)
	return was, before && apartStamps(was, now), raised
}

// takeStamps compares what a tire of a full number states with what it stated before.
func (c *comparison) takeStamps(s *sightedTire, todo []report.Item) {
	t := s.thread
	if !t.full || t.shared || !s.full || inDoubt(todo, s.Name) {
		return
	}
	for _, x := range [...]struct {
		name string
		of   *stamped
		is   record.Recorded[record.Stamp]
	}{{"single", &t.single, s.Single}, {"dual", &t.dual, s.Dual}} {
		was, differs, raised := x.of.take(x.is)
		if now, _ := x.is.Get(); differs {
			c.contradict(s.Name, "%s %s, before it was %s, with the same number %s: read its sidewall again", x.name, now, was, s.number)
		}
		if raised {
			c.raised = append(c.raised, s.Name)
		}
	}
	if said, ok := s.Retread.Get(); ok && !said && t.retread {
		c.contradict(s.Name, "retread: no, before it was yes, with the same number %s: read its sidewall again", s.number)
	}
	t.retread = t.retread || record.Yes(s.Retread)
}

// labelRaised reports whether a load is kept only by a rating that a visit has higher than
// the one it was found over, though a label, or the stamp of one tire, does not change.
func (c *comparison) labelRaised(e *advised, a *judge.Assessment) bool {
	label := judge.OnLabel(e.rule)
	if !label && !c.stampRaised(e, a) {
		return false
	}
	for i := range c.kept {
		k := &c.kept[i]
		if k.rule != e.rule || k.name != e.place() && k.name != e.where {
			continue
		}
		load, known := k.value.Most()
		over := !known || load > e.limit
		if bound, _ := k.bound.Least(); label {
			return over && e.limit > 0 && bound > e.limit
		}
		return over || e.limit == 0
	}
	return !label
}

// stampRaised reports whether an entry rests on what is stamped on a tire that states more
// now than it did.
func (c *comparison) stampRaised(e *advised, a *judge.Assessment) bool {
	if !judge.OnLoad(e.rule) && restsOn(e.rule)&readStamp == 0 {
		return false
	}
	if e.rule.Subject() == "group" {
		return len(c.raised) > 0
	}
	return slices.ContainsFunc(c.raised, func(at string) bool {
		st := a.TireNamed(at)
		return at == e.place() || st != nil && st.AxleIndex >= 0 && onAxle(e.place(), a.Visit.Axles[st.AxleIndex].ID)
	})
}

// ofMake reports whether a rule is about what a tire is, which stays so as long as its full
// number is read.
func ofMake(e *advised) bool {
	r, m := judge.MeasuresOf(), e.rule.Measure()
	return (m == r.Retread || m == r.Regrooved) && e.thread != nil && e.thread.full && !e.thread.shared
}

// limitOf is the least that a load was over, 0 where it is not known.
func limitOf(f *rules.Finding) int64 {
	if !judge.OnLoad(f.Rule) || !judge.AtMost(f.Rule) {
		return 0
	}
	low, _, _ := f.Bound().Interval()
	return low
}

package history

import (
	"cmp"
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/word"
	"axleend.example/rules"
)

// A ClosedBy says how something advised came to be closed.
type ClosedBy uint8

// The ways.
const (
	// ClosedByDone: a visit says that it was done.
	ClosedByDone ClosedBy = iota + 1
	// ClosedByLeftAt: the tire was left at a pressure that keeps the rule.
	ClosedByLeftAt
	// ClosedByKept: a later visit judged the same rule and found it kept.
	ClosedByKept
	// ClosedByReplaced: the tire is no longer on the coach.
	ClosedByReplaced
	// ClosedByMoved: the tire runs where the rule does not apply.
	ClosedByMoved
	// ClosedByHeld: a tire that leaked was read again 24 hours after it was set and had
	// lost nothing.
	ClosedByHeld
)

var closedByWords = word.List[ClosedBy]{Kind: "how", Words: []string{"", "done", "set right as left", "kept since", "tire replaced", "moved to where the rule does not apply", "held for 24 hours"}, Unknown: word.Err}

// String gives "done", "set right as left", "kept since", "tire replaced", "moved to
// where the rule does not apply" or "held for 24 hours".
func (s ClosedBy) String() string { return closedByWords.String(s) }

// AppendText appends the word, and nothing for the zero ClosedBy. An unknown value
// is an error.
func (s ClosedBy) AppendText(dst []byte) ([]byte, error) { return closedByWords.Append(dst, s) }

// MarshalText writes what [ClosedBy.AppendText] appends.
func (s ClosedBy) MarshalText() ([]byte, error) { return closedByWords.Text(s) }

// UnmarshalText reads what [ClosedBy.MarshalText] writes.
func (s *ClosedBy) UnmarshalText(text []byte) error { return closedByWords.Read(s, text) }

// An Advised is something that a visit's report advised, and what became of it.
// Advice about a tire moves with the tire; advice about its wheel, its load or
// a place stays there.
type Advised struct {
	// Item is as last found, with the action it has where its tire is now: what only is to
	// be done before the trip on a spare may stop the coach once it is on the road.
	Item report.Item `json:"item"`
	// At is where it is now, or was last seen.
	At string `json:"at"`
	// Number is the tire's, as read last; empty where none was.
	Number string `json:"number,omitzero"`
	// First is the day it was first advised.
	First dotcode.Date `json:"first"`
	// Last is the day it was last found.
	Last dotcode.Date `json:"last"`
	// Times counts the visits that found it.
	Times int `json:"times"`
	// Before counts how often it had been closed by then.
	Before int `json:"before,omitzero"`
	// NotFound is the last visit that did not find it again although it looked.
	// What does not go away by itself stays open all the same.
	NotFound dotcode.Date `json:"not_found,omitzero"`
	// LostSight says that nobody knows where its tire is.
	LostSight bool `json:"lost_sight,omitzero"`
	// Closed is the visit that settled it; zero while it is open.
	Closed dotcode.Date `json:"closed,omitzero"`
	// How says what settled it; zero while it is open.
	How ClosedBy `json:"how,omitzero"`
	// Note is what the visit says of what was done.
	Note string `json:"note,omitzero"`
}

// An advisedKey is what an entry is about: a rule, or a title where there is
// none, on a tire or at a place.
type advisedKey struct {
	rule   *rules.Rule
	title  string
	thread *thread
	where  string
}

// An itemRef is an entry of a visit's report.
type itemRef struct{ visit, index int }

// An advised is one entry while visits are taken in.
type advised struct {
	advisedKey
	byAir       bool               // air may set it right
	at          string             // its place when last found
	with        *thread            // the tire that stood there, of a place's entry
	item        report.Item        // as last found
	heldTo      inflation.Pressure // to set, or the most allowed; else 0
	limit       int64              // the most that a load was to be, 0 where it is not known
	from        itemRef            // where that stands
	weighed     int                // the visit whose weighing found it
	first, last int
	times       int
	before      int
	notFound    int // visit, or -1
	closedAt    int // visit, or -1
	how         ClosedBy
	note        string
}

// settle takes in what a visit's report says: what was done, what is found
// again, what is shown to be kept.
func (c *comparison) settle(a *judge.Assessment) {
	c.takeFindings(a)
	for _, e := range c.order {
		switch {
		case e.closedAt >= 0:
		case c.setRight(e, a):
			c.close(e, ClosedByLeftAt)
		case e.last != c.now:
			c.look(e, a)
		}
	}
	c.order = slices.DeleteFunc(c.order, func(e *advised) bool { return e.closedAt >= 0 && e.how != ClosedByReplaced })
}

// takeFindings takes in what a visit's report says is to be done.
func (c *comparison) takeFindings(a *judge.Assessment) {
	todo := a.Report.Todo
	for i := range a.Findings {
		f := &a.Findings[i]
		t := c.threadAt(f.Name)
		switch k := c.itemFor(todo, f); {
		case f.Rule.Measure() == a.Refs.CoachWheelOff: // how to go about the others, not one to follow
		case yearly(f.Rule) && t != nil && t.rests(c.visits[c.now].Date):
		case k >= 0:
			c.takeFinding(f, t, todo, k)
		}
	}
	for i := range todo {
		if it := &todo[i]; len(it.Rules) == 0 {
			key, t := advisedKey{title: it.What, where: it.Where}, c.threadAt(it.Where)
			if t != nil {
				key = advisedKey{title: it.What, thread: t}
			}
			c.touch(key, it.Where, t, todo, i)
		}
	}
}

// takeFinding takes in what the k-th entry of a report says of a finding, at a place where
// that tire stands, or none.
func (c *comparison) takeFinding(f *rules.Finding, t *thread, todo []report.Item, k int) {
	key := advisedKey{rule: f.Rule, where: f.Name}
	if t != nil && f.Rule.Subject() == "tire" && !staysBehind(f.Rule) {
		key = advisedKey{rule: f.Rule, thread: t}
	}
	if e := c.touch(key, f.Name, t, todo, k); e != nil {
		c.hold(e, f)
	}
}

// itemFor finds the entry of a report that says what a finding does, -1 for none.
func (c *comparison) itemFor(todo []report.Item, f *rules.Finding) int {
	id := f.Rule.Name()
	for i := range todo {
		if it := &todo[i]; it.Where == f.Name && slices.Contains(it.Rules, id) {
			return i
		}
	}
	// One led by a worse verdict on the same measure.
	for i := range slices.Backward(todo) {
		same := func(r string) bool { other := c.rules[r]; return other != nil && other.Measure() == f.Rule.Measure() }
		if it := &todo[i]; it.Where == f.Name && slices.ContainsFunc(it.Rules, same) {
			return i
		}
	}
	return -1
}

// touch notes that something was found, as the i-th entry of the report says, and gives it
// unless it stays what it was.
func (c *comparison) touch(key advisedKey, at string, with *thread, todo []report.Item, i int) *advised {
	e := c.advised[key]
	if e == nil || e.closedAt >= 0 {
		e = &advised{advisedKey: key, byAir: byAir(key.rule), first: c.now, before: c.closedBefore(e), closedAt: -1}
		c.advised[key] = e
		c.order = append(c.order, e)
	}
	if e.times > 0 && c.outlasts(e, &todo[i]) {
		return nil
	}
	if e.times == 0 || c.slipAnswers(e) {
		e.weighed, e.heldTo = c.now, 0
	}
	if e.times == 0 || e.last != c.now {
		e.times++
	}
	e.at, e.with, e.item, e.from, e.last, e.notFound = at, with, todo[i], itemRef{c.now, i}, c.now, -1
	return e
}

// outlasts reports whether an entry stays what it was, though a report now asks for less:
// what a tire went through does not go away, nor what lasts because it was not read, nor
// a stop because a worse scale or a warm tire leaves it in doubt.
func (c *comparison) outlasts(e *advised, it *report.Item) bool {
	rank := c.judge.Rank
	milder := cmp.Or(cmp.Compare(rank(it.Action), rank(e.item.Action)), cmp.Compare(e.item.Verdict, it.Verdict)) > 0
	if !milder || e.rule == nil {
		return false
	}
	return pastEvent(e.rule) || asksOfThePast(e) || lasting(e.rule) && it.Verdict == rules.NotRecorded ||
		e.item.Stops && c.leads(e) && it.Verdict != rules.Breached
}

func (c *comparison) close(e *advised, how ClosedBy) {
	e.closedAt, e.how = c.now, how
	c.closed = append(c.closed, e)
	if how == ClosedByDone && yearly(e.rule) && e.thread != nil {
		e.thread.inspected = c.visits[c.now].Date
	}
}

// replaced closes what was advised of a tire that left the coach.
func (c *comparison) replaced(t *thread) {
	for _, e := range c.order {
		if e.thread == t && e.closedAt < 0 {
			c.close(e, ClosedByReplaced)
		}
	}
}

// reopen takes back what was closed because the tire had seemed to leave.
func (c *comparison) reopen(t *thread) {
	for _, e := range c.order {
		if e.thread == t && e.how == ClosedByReplaced && c.advised[e.advisedKey] == e {
			e.closedAt, e.how = -1, 0
			c.closed = slices.DeleteFunc(c.closed, func(x *advised) bool { return x == e })
		}
	}
}

// takeDone closes what a visit says was done, and returns what it says of
// something that was not open. Only what is named closes, and what is less in an entry
// that it leads: that a placard was read does not mend a flat beside it.
func (c *comparison) takeDone(list []record.Done) (left []record.Done) {
	for _, d := range list {
		var done []*advised
		for _, e := range c.order {
			if e.closedAt < 0 && c.named(e, d.Rule) && (e.at == d.At || e.place() == d.At) {
				done = append(done, e)
			}
		}
		if len(done) == 0 {
			left = append(left, d)
		}
		for _, e := range c.order {
			covers := func(o *advised) bool {
				return o == e || c.leads(o) && !c.leads(e) && o.from == e.from && !e.rule.Involves(judge.RanLow)
			}
			if e.closedAt < 0 && slices.ContainsFunc(done, covers) {
				e.note = d.Note
				c.close(e, ClosedByDone)
			}
		}
	}
	return left
}

// named reports whether a text names an entry: by its rule, by that rule's title, or by
// the title of the entry that the rule leads. "run-low" names every rule that says a tire
// ran low.
func (c *comparison) named(e *advised, by string) bool {
	if e.rule == nil {
		return e.title == by
	}
	return by == "run-low" && e.rule.Involves(judge.RanLow) || by == e.rule.ID() || by == e.rule.Name() || by == e.rule.Title() || c.leads(e) && by == e.item.What
}

// leads reports whether an entry's item does what its rule says, and not only lists that
// rule beside worse ones.
func (c *comparison) leads(e *advised) bool {
	if e.rule == nil || !slices.Contains(e.item.Rules, e.rule.Name()) {
		return e.rule == nil
	}
	lead := c.rules[e.item.Rules[0]]
	return lead != nil && lead.Action().Name == e.rule.Action().Name
}

// place is where an entry is now. What was found at a spare's wheel is where its tire runs:
// it mostly took the wheel along.
func (e *advised) place() string {
	if e.thread != nil {
		return e.thread.at
	}
	if t := e.with; t != nil && record.IsSpare(e.where) && t.presence == OnCoach && t.axle >= 0 && !ofNuts(e.rule) {
		return t.at
	}
	return e.where
}

// asItStands is an entry's item with what it asks for where its tire is now: what stops
// the coach on the road is done before the trip on a spare, which carries nothing.
func (c *comparison) asItStands(e *advised) report.Item {
	it, spare := e.item, record.IsSpare(e.place())
	if len(it.Rules) == 0 || spare == record.IsSpare(it.Where) || c.rules[it.Rules[0]] == nil {
		return it
	}
	act := c.rules[it.Rules[0]].Action() // of the one whose action it is
	stops := act.Stops && it.Verdict == rules.Breached
	switch {
	case spare && it.Stops:
		it.Action, it.Stops, it.OnlyAir = report.BeforeTrip, false, false
	case !spare && stops:
		it.Action, it.Stops = report.Action(act.Name), true
	}
	it.WheelOff = !spare && slices.ContainsFunc(it.Rules, func(name string) bool {
		r := c.rules[name]
		return r != nil && r.Involves(judge.WheelOff)
	})
	return it
}

// look closes an entry that this visit shows to be settled.
func (c *comparison) look(e *advised, a *judge.Assessment) {
	if e.rule == nil {
		if (e.where != "weighing" || c.slipAnswers(e)) && !c.notListed(e) && answered(e, a) {
			c.close(e, ClosedByKept)
		}
		return
	}
	if e.thread == nil {
		c.lookAtPlace(e, a)
		return
	}
	t := e.thread
	if t.presence != OnCoach || c.notListed(e) {
		return
	}
	switch {
	case e.rule.Uses(a.Refs.HeldNextDay) || e.rule.Measure() == a.Refs.Conditions[condition.AudibleLeak]:
		c.lookForLeak(e, a)
	case e.rule.Measure() == a.Refs.AirInDoubt:
		c.lookForAir(e, a)
	case c.keeps(e.rule, t.at) && (ofMake(e) || c.labelRaised(e, a)):
		e.notFound = c.now
	case c.keeps(e.rule, t.at):
		c.closeKept(e, c.answers(e, a))
	case pastEvent(e.rule) && c.doesNotApply(e.rule, t.at, a):
		e.notFound = c.now // it looked, and found a pressure that the rule is not about
	case lasting(e.rule) && e.item.Stops && record.IsSpare(t.at):
		e.notFound = c.now // it stops nothing on the carrier, and does once it is on the road
	case t.at != e.at && !pastEvent(e.rule) && !asksOfThePast(e) && c.doesNotApply(e.rule, t.at, a) && c.excludes(e, a):
		c.close(e, ClosedByMoved)
	}
}

// lookAtPlace closes an entry of a place, an axle or the coach that this visit shows to be
// settled.
func (c *comparison) lookAtPlace(e *advised, a *judge.Assessment) {
	if e.rule.Measure() == a.Refs.TorqueDue {
		c.lookForTorque(e, a)
		return
	}
	kept := c.keeps(e.rule, e.where) || c.keepsAll(e) || c.carriedAsFound(e, a)
	// What is a wheel's may have gone with the tire to another place; a spare carries nothing.
	if t := e.with; kept && t != nil && t.presence == OnCoach && t.at != e.where && (t.axle >= 0 || e.rule.Measure() != a.Refs.Load) {
		kept = c.keeps(e.rule, t.at)
	}
	switch {
	case !kept:
	case c.labelRaised(e, a):
		e.notFound = c.now
	default:
		c.closeKept(e, c.answers(e, a))
	}
}

// lookForAir closes a doubt of what a tire was driven at once it was read cold, on the
// road, and is not low.
func (c *comparison) lookForAir(e *advised, a *judge.Assessment) {
	if st := a.TireNamed(e.thread.at); c.keeps(e.rule, st.Name) && st.Line.Low == report.NotLow {
		c.close(e, ClosedByKept)
		return
	}
	e.notFound = c.now
}

// lookForLeak closes a leak whose tire held its pressure for 24 hours, or lost no more
// than tires do by themselves since it was set, on a known day from that on which the
// leak was found, in the air of both days. Above the line of its rule, which no more than that shows, it stays
// open.
func (c *comparison) lookForLeak(e *advised, a *judge.Assessment) {
	set, known := a.Visit.LastSetOn.Get()
	since := known && !set.Before(c.visits[e.last].Date) && set.Before(a.Visit.Date)
	switch st := a.TireNamed(e.thread.at); {
	case a.HeldNextDay(st):
		c.close(e, ClosedByHeld)
	case since && a.HeldSinceSet(st):
		c.close(e, ClosedByKept)
	case c.keeps(e.rule, st.Name):
		e.notFound = c.now
	}
}

func (c *comparison) closeKept(e *advised, kept bool) {
	switch {
	case kept && (lasting(e.rule) || asksOfThePast(e)):
		e.notFound = c.now
	case kept:
		c.close(e, ClosedByKept)
	}
}

// asksOfThePast reports whether a tire was surely driven at so little, or a spare surely
// found at so little after nobody knows what, that trained people are to say whether it
// ran low: no later reading says that.
func asksOfThePast(e *advised) bool {
	r, m := judge.MeasuresOf(), e.rule.Measure()
	return e.item.Verdict == rules.Breached && e.rule.Involves(judge.AskLow) && (m == r.Lowest || m == r.Found)
}

// byAir reports whether a rule (or nil) is on the pressure as found, so that
// air may settle it. A rule on a tire that ran low never is, nor one on a leak or one
// that asks what the tire went through.
func byAir(rule *rules.Rule) bool {
	if rule == nil || rule.Subject() != "tire" || pastEvent(rule) || rule.Involves(judge.LeakTask) || rule.Involves(judge.AskLow) {
		return false
	}
	r := judge.MeasuresOf()
	return rule.Uses(r.Found) || rule.Uses(r.CapacityFound)
}

// setRight reports whether a rule on the pressure as found is kept by the
// pressure the tire was left at.
func (c *comparison) setRight(e *advised, a *judge.Assessment) bool {
	if !e.byAir {
		return false
	}
	st := a.TireNamed(e.place())
	if st == nil || !st.LeftAt.Is() || st.Line.Air == report.AirForbidden || record.Yes(st.Hot) || !c.answers(e, a) {
		return false
	}
	if c.leftAt != st {
		facts := a.SoundAsLeft(st).Set(a.Refs.WasSet, rules.Flag(false))
		var err error
		if c.left, err = c.judge.Program.AppendRun(c.left[:0], facts); err != nil {
			return false
		}
		c.leftAt = st
	}
	for i := range c.left {
		if c.left[i].Rule == e.rule {
			return c.left[i].Verdict == rules.Kept
		}
	}
	return false
}

// answered reports whether a visit settles an entry that no rule made: another
// weighing settles a slip in doubt, another reading a value that could hardly
// be right.
func answered(e *advised, a *judge.Assessment) bool {
	if e.where == "weighing" {
		return len(a.Visit.Weighing.Readings) > 0
	}
	if e.title == judge.SizesInDoubt {
		return a.SizesMeasured(e.where)
	}
	if a.ReadSince(e.place(), e.title) {
		return true
	}
	st := a.TireNamed(e.place())
	if st == nil || !st.Written {
		return false
	}
	switch e.title {
	case judge.DateInDoubt:
		return st.Number.Is()
	case judge.DatesDiffer:
		return st.Number.Is() && st.OtherNumber.Is()
	case judge.RangeInDoubt:
		return st.LoadRange != ""
	case judge.StampsInDoubt:
		return st.Single.Is() && (st.Dual.Is() || st.Service.Is())
	}
	return false
}

// listAdvised gives what is open, the worst first, and what was closed, the
// latest first. What one report said in one entry stays one entry.
func (c *comparison) listAdvised() (open, closed []Advised) {
	all := make([]*advised, 0, len(c.order))
	for _, e := range c.order {
		if e.closedAt < 0 {
			all = append(all, e)
		}
	}
	slices.SortStableFunc(c.closed, func(a, b *advised) int { return b.closedAt - a.closedAt })
	// What one report said in one entry is closed once all of it is.
	done := slices.DeleteFunc(slices.Clone(c.closed), func(e *advised) bool {
		return slices.ContainsFunc(all, func(o *advised) bool {
			same := o.place() == e.place() && (o.thread == e.thread || o.thread == nil || e.thread == nil)
			rest := o.rule != nil && (o.rule.Involves(judge.LeakTask) || pastEvent(o.rule)) && o.first <= e.closedAt && same && slices.Contains(e.item.Rules, o.rule.Name())
			return o.from == e.from || rest // only some of what it says has ended
		}) || e.how == ClosedByLeftAt && slices.ContainsFunc(c.closed, func(o *advised) bool {
			return o.from == e.from && o.closedAt == e.closedAt && o.how == ClosedByHeld // which says more
		})
	})
	open, closed = c.group(all), c.group(done)
	rank := c.judge.Rank
	slices.SortStableFunc(open, func(a, b Advised) int {
		return cmp.Or(cmp.Compare(rank(a.Item.Action), rank(b.Item.Action)), cmp.Compare(b.Item.Verdict, a.Item.Verdict), a.First.Compare(b.First))
	})
	return open, closed
}

func (c *comparison) group(list []*advised) []Advised {
	type key struct {
		from     itemRef
		closedAt int
		how      ClosedBy
	}
	date := func(visit int) dotcode.Date {
		if visit < 0 {
			return dotcode.Date{}
		}
		return c.visits[visit].Date
	}
	if len(list) == 0 {
		return nil
	}
	keyOf := func(e *advised) key { return key{e.from, e.closedAt, e.how} }
	index := make(map[key]int, len(list))
	for _, e := range list {
		if _, ok := index[keyOf(e)]; !ok {
			index[keyOf(e)] = len(index)
		}
	}
	out := make([]Advised, 0, len(index))
	for _, e := range list {
		i := index[keyOf(e)]
		if i == len(out) {
			ad := Advised{Item: c.asItStands(e), At: e.place(), First: date(e.first), Last: date(e.last), Times: e.times, Before: e.before,
				NotFound: date(e.notFound), Closed: date(e.closedAt), How: e.how, Note: e.note}
			if t := e.thread; t != nil {
				ad.Number, ad.LostSight = t.number, t.presence == LostSight
			}
			out = append(out, ad)
			continue
		}
		ad := &out[i]
		if first := date(e.first); first.Before(ad.First) {
			ad.First = first
		}
		ad.Times, ad.Before = max(ad.Times, e.times), max(ad.Before, e.before)
		if nf := date(e.notFound); ad.NotFound.Before(nf) {
			ad.NotFound = nf
		}
	}
	return out
}

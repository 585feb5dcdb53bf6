package history

import (
	"fmt"
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A Presence says where a tire of a history is after the last visit.
type Presence uint8

// The presences. A tire whose place another one took, by its number, and which no other
// place can hold, was replaced. Where that is not proven, as by a size alone, nobody
// knows where it is.
const (
	OnCoach Presence = iota + 1
	Replaced
	LostSight
)

var presenceWords = word.List[Presence]{Kind: "presence", Words: []string{"", "on the coach", "replaced", "not known where"}, Unknown: word.Err}

// String gives "on the coach", "replaced" or "not known where".
func (p Presence) String() string { return presenceWords.String(p) }

// AppendText appends the word, and nothing for the zero Presence. An unknown value
// is an error.
func (p Presence) AppendText(dst []byte) ([]byte, error) { return presenceWords.Append(dst, p) }

// MarshalText writes what [Presence.AppendText] appends.
func (p Presence) MarshalText() ([]byte, error) { return presenceWords.Text(p) }

// UnmarshalText reads what [Presence.MarshalText] writes.
func (p *Presence) UnmarshalText(text []byte) error { return presenceWords.Read(p, text) }

// A TireHistory is one tire through the visits.
type TireHistory struct {
	// At is where it is, or was last seen.
	At string `json:"at"`
	// Number is the symbols of its number; empty while none was read.
	Number string `json:"number,omitzero"`
	// Presence says whether it is still on the coach.
	Presence Presence `json:"presence"`
	// ByNumber says that a full number of its own tells it from all others.
	// Without one it is taken for the same tire as long as it stays at its
	// position and nothing contradicts that.
	ByNumber bool `json:"by_number,omitzero"`
	// Sightings are the visits that found it, the first first.
	Sightings []TireAtVisit `json:"sightings"`
	// Wear is what it lost between probings; not recorded where no two can be compared.
	Wear record.Recorded[Wear] `json:"wear,omitzero"`
	// Leaks are what it lost of its pressure between visits, the first first.
	Leaks []LeakBetween `json:"leaks,omitempty"`
	// Age is that on the day of the last visit, by its number as last read; of a tire
	// that left the coach, on the day it was last seen.
	Age dotcode.Age `json:"age,omitzero"`
	// AgeLimits are the ages at which the rules of the last visit that saw it ask
	// something of it.
	AgeLimits []report.AgeLimit `json:"age_limits,omitempty"`
	// InspectedOn is the last visit that says under done that its yearly inspection was
	// done, or who inspected it off its wheel; zero where none does.
	InspectedOn dotcode.Date `json:"inspected_on,omitzero"`
}

// A TireAtVisit is one tire at one visit, as recorded.
type TireAtVisit struct {
	// Date is the day of the visit.
	Date dotcode.Date `json:"date"`
	// At is its place then.
	At string `json:"at"`
	// Tread is the least probed.
	Tread record.Recorded[weight.Length] `json:"tread,omitzero"`
	// TreadPlusMinus is half a step of the probe, where a tread was read.
	TreadPlusMinus weight.Length `json:"tread_plus_minus,omitzero"`
	// Found is the pressure as read.
	Found record.Recorded[inflation.Pressure] `json:"found,omitzero"`
	// LeftAt is the pressure it was left at.
	LeftAt record.Recorded[inflation.Pressure] `json:"left,omitzero"`
	// TorqueOpen says that its wheel was put on, and that no check of its nuts on a later
	// day was recorded by then; never of a spare.
	TorqueOpen bool `json:"torque_open,omitzero"`
}

// A thread is one tire followed through the visits.
type thread struct {
	number    string // its symbols, "" while none was read
	full      bool   // more than a date code or a part
	shared    bool   // another tire carries the same number
	size      string
	at        string
	presence  Presence
	seen      []TireAtVisit
	leaks     []LeakBetween
	asRead    record.Recorded[LeakBetween] // the last, and one of too few days to judge it
	leaking   bool                         // its last leak stands: no cold reading since
	visit     int                          // the last one that saw it
	axle      int                          // where it was then, -1 for a spare
	order     int                          // of its position on the coach
	since     reading                      // where the next leak begins
	age       dotcode.Age                  // by its number as last read
	ages      []report.AgeLimit
	single    stamped
	dual      stamped
	inspected dotcode.Date // zero where no visit says so
	retread   bool         // at any visit
	lacks     lack         // what the leak that would end where it was last seen lacks
	probed    []probing    // on the road, since wear was last counted anew
	limits    []treadRule  // at the last of these
	// shallowest is the probing with the least tread since wear was last
	// counted anew.
	shallowest record.Recorded[probing]
}

// A probing is the least tread of a tire at a visit.
type probing struct {
	visit int
	tread weight.Length
}

// A reading is what a visit says of a tire's air.
type reading struct {
	visit       int
	found, left record.Recorded[inflation.Pressure]
	usable      bool // the pressure found may be judged
	airAdded    bool
	cold        record.Recorded[bool]
	setOn       dotcode.Date // zero where nobody wrote it down
}

func (t *thread) last() *TireAtVisit { return &t.seen[len(t.seen)-1] }

// lastLeak is the leak that ended where the tire was last seen, or nil.
func (t *thread) lastLeak() *LeakBetween {
	if n := len(t.leaks); n > 0 && t.leaks[n-1].To == t.last().Date {
		return &t.leaks[n-1]
	}
	return nil
}

// A readNumber is what is written on a tire, read once for all visits.
type readNumber struct {
	dotcode.Number
	symbols string
	err     error
}

func (c *comparison) readNumber(text string) readNumber {
	n, ok := c.numbers[text]
	if !ok {
		n.Number, n.err = dotcode.Parse(text)
		n.symbols = n.Symbols()
		c.numbers[text] = n
	}
	return n
}

// numberOf gives the symbols of a tire's number and whether they are more than
// a date code or a part of one. A number without its date, with one that
// cannot be, or that does not fit the other sidewall's tells no tire from
// another.
func (c *comparison) numberOf(st *judge.TireState, on dotcode.Date) (symbols string, whole bool) {
	if st.Line.Number == "" {
		return "", false
	}
	n := c.readNumber(st.Line.Number)
	if n.err != nil || n.Check(on) != nil {
		return "", false
	}
	if st.Line.OtherNumber != "" {
		if other := c.readNumber(st.Line.OtherNumber); other.err == nil && numbersDiffer(n.symbols, other.symbols) {
			return "", false
		}
	}
	return n.symbols, st.Line.WholeNumber
}

// A sightedTire is a tire of the visit being taken in.
type sightedTire struct {
	*judge.TireState
	number string
	full   bool
	thread *thread
	held   *thread // the tire that was followed to its place before
	order  int
}

// sighted is the tire at a place in the visit being taken in, or nil.
func (c *comparison) sighted(at string) *sightedTire {
	for i := range c.tires {
		if c.tires[i].Name == at {
			return &c.tires[i]
		}
	}
	return nil
}

// threadAt is the thread of the tire at a place, or nil.
func (c *comparison) threadAt(at string) *thread {
	if s := c.sighted(at); s != nil {
		return s.thread
	}
	return nil
}

// follow finds which tires of a visit are tires of earlier visits: first by a
// full number that no other tire carries, then by position while nothing
// contradicts.
func (c *comparison) follow(a *judge.Assessment) {
	c.tires = c.tires[:0]
	for i := range a.Tires {
		if st := &a.Tires[i]; st.Written {
			s := sightedTire{TireState: st, order: i}
			s.number, s.full = c.numberOf(st, a.Visit.Date)
			c.tires = append(c.tires, s)
		}
	}
	for _, t := range c.threads {
		if t.presence != OnCoach {
			continue
		}
		if s := c.sighted(t.at); s != nil {
			s.held = t
		}
	}
	c.matchNumbers()
	c.matchPositions()
	c.raised = c.raised[:0]
	for i := range c.tires {
		c.sight(&c.tires[i])
		c.takeStamps(&c.tires[i], a.Report.Todo)
	}
	for i := range c.tires {
		c.compareMates(&c.tires[i])
	}
	c.displaced()
}

// matchNumbers finds tires by a full number that only one tire carries. It
// proves a move only where the old place holds another tire now, or the new
// one held another before: tires bought together often share a number.
func (c *comparison) matchNumbers() {
	for i := range c.tires {
		s := &c.tires[i]
		if !s.full {
			continue
		}
		switch own, shared := c.numbered(s.number); {
		case shared:
			for _, t := range c.threads {
				t.shared = t.shared || t.number == s.number
			}
		case own == nil:
		case own.at == s.Name || own.presence != OnCoach || c.surelyMoved(own, s):
			s.thread = own
		default:
			c.contradict(s.Name, "its number %s is that of the tire at %s, which was not read this time: moved from there, or another tire of the same make and week", s.number, own.at)
			own.shared = true
		}
	}
}

// numbered gives the tire that was followed under a number, nil for none, and whether
// more than one carries it, now or before.
func (c *comparison) numbered(number string) (own *thread, shared bool) {
	now, before := 0, 0
	for i := range c.tires {
		if c.tires[i].number == number {
			now++
		}
	}
	for _, t := range c.threads {
		if t.number == number {
			own = t
			before++
		}
	}
	return own, now > 1 || before > 1
}

// surelyMoved reports whether another tire is now where this one was, or was before
// where this one's number is now read.
func (c *comparison) surelyMoved(own *thread, s *sightedTire) bool {
	there := c.sighted(own.at)
	return there != nil && numbersDiffer(own.number, there.number) ||
		s.held != nil && s.held != own && numbersDiffer(s.held.number, s.number)
}

// matchPositions takes the other tires for those that stood there before,
// unless something contradicts.
func (c *comparison) matchPositions() {
	for i := range c.tires {
		s := &c.tires[i]
		if s.thread != nil {
			continue
		}
		taken := func(x sightedTire) bool { return x.thread == s.held }
		if t := s.held; t != nil && !slices.ContainsFunc(c.tires, taken) {
			why := c.contradicts(t, s)
			if why == "" {
				s.thread = t
				continue
			}
			words := wordsApart(t.number, s.number)
			if words != "" && numbersDiffer(t.number, s.number) {
				why += ": " + words + ", a misreading or another tire"
			}
			if !numbersDiffer(t.number, s.number) || words != "" { // else it was simply replaced
				c.contradict(s.Name, "%s: it is followed as another tire from here on", why)
			}
		}
		c.begin(s)
	}
}

// begin begins to follow a tire that no earlier visit is known to have seen.
func (c *comparison) begin(s *sightedTire) {
	s.thread = &thread{at: s.Name, presence: OnCoach}
	if s.full {
		before, shared := c.numbered(s.number)
		s.thread.shared = shared || before != nil
	}
	c.threads = append(c.threads, s.thread)
}

// contradicts says why a tire cannot be the one that was followed, or "".
func (c *comparison) contradicts(t *thread, s *sightedTire) string {
	if numbersDiffer(t.number, s.number) {
		return fmt.Sprintf("number %s, before it was %s", s.number, t.number)
	}
	if sizesDiffer(t.size, s.Size) {
		return fmt.Sprintf("size %s, before it was %s", s.Size, t.size)
	}
	if was, on, deeper := c.deeper(t, s); deeper {
		depth, _ := s.Line.Tread.Get()
		return fmt.Sprintf("tread %s, deeper than %s on %s: another tire, another spot, or a misreading", depth, was, on)
	}
	return ""
}

func sizesDiffer(a, b string) bool {
	return a != "" && b != "" && a != b && sidewall.NormalizeSize(a) != sidewall.NormalizeSize(b)
}

// deeper reports whether a tread is deeper than the least it was before, by
// more than the probe's steps can explain.
func (c *comparison) deeper(t *thread, s *sightedTire) (was weight.Length, on dotcode.Date, is bool) {
	depth, ok := s.Line.Tread.Get()
	if !ok {
		return 0, on, false
	}
	x, ok := t.shallowest.Get()
	if !ok {
		return 0, on, false
	}
	v := &c.visits[x.visit]
	return x.tread, v.Date, depth-x.tread > (c.visits[c.now].step+v.step+1)/2
}

// readingOf is what a visit tells of a tire's air. What it had before air was added, or is
// without what was, is what it lost to; of two that differ the lower.
func (c *comparison) readingOf(s *sightedTire) reading {
	r := reading{visit: c.now, found: s.Found, left: s.LeftAt, usable: s.FoundAtStem().Is(), airAdded: record.Yes(s.AirAdded)}
	if warm, known := s.Warm.Get(); known {
		r.cold = record.Record(!warm)
	}
	found, read := s.Found.Get()
	before, ok := s.BeforeAir.Get()
	if by, added := s.AirAddedBy.Get(); added && read {
		if without := max(0, found-by); !ok || without < before {
			before, ok = without, true
		}
	}
	if ok {
		r.airAdded = false // so much is known
		if !read || before < found {
			r.found = record.Record(before)
		}
	}
	r.setOn, _ = c.visits[c.now].LastSetOn.Get()
	return r
}

// sight puts a tire of this visit onto its thread.
func (c *comparison) sight(s *sightedTire) {
	t, v := s.thread, &c.visits[c.now]
	x := TireAtVisit{Date: v.Date, At: s.Name, Found: s.Found, LeftAt: s.LeftAt,
		TorqueOpen: s.Line.TorqueOpen && s.AxleIndex >= 0}
	if depth, probed := s.Line.Tread.Get(); probed { // but one that can hardly be
		x.Tread, x.TreadPlusMinus = record.Record(depth), v.step/2
	}
	c.probe(t, s)
	if t.presence != OnCoach {
		c.contradict(s.Name, "number %s is back, after another was read in its place: one of the numbers was misread, or it was put on again", s.number)
		c.reopen(t)
	}
	t.at, t.presence = s.Name, OnCoach
	if s.number != "" && len(s.number) >= len(t.number) {
		t.number, t.full = s.number, s.full
	}
	if s.Size != "" {
		t.size = s.Size
	}
	if s.Line.Age.Known() {
		t.age = s.Line.Age
	}
	t.ages = s.Line.AgeLimits
	if s.InspectedBy != "" {
		c.inspect(t)
	}
	r := c.readingOf(s)
	if cold, _ := r.cold.Get(); cold && r.usable && !r.airAdded {
		t.leaking = false
	}
	if len(t.seen) > 0 {
		c.leak(t, r)
	}
	// A visit that left its air alone, and unread, ends nothing.
	if len(t.seen) == 0 || r.usable || r.left.Is() || r.airAdded {
		t.since = r
	}
	t.seen = append(t.seen, x)
	t.visit, t.axle, t.order = c.now, s.AxleIndex, s.order
}

// probe counts a tire's tread on its thread, anew where it is deeper than it was.
func (c *comparison) probe(t *thread, s *sightedTire) {
	depth, probed := s.Line.Tread.Get()
	was, on, restart := c.deeper(t, s)
	if restart {
		c.contradict(s.Name, "tread %s, deeper than %s on %s, with the same number %s: another spot, a misreading, or another tire of that number; its wear is counted from here on", depth, was, on, s.number)
	}
	if restart || s.AxleIndex < 0 {
		t.probed = t.probed[:0] // nobody knows how far a spare ran
	}
	if !probed {
		return
	}
	if s.AxleIndex >= 0 {
		t.probed = append(t.probed, probing{c.now, depth})
		t.limits = t.limits[:0]
		for _, l := range c.limits {
			if l.name == s.Name {
				t.limits = append(t.limits, l)
			}
		}
	}
	if low, ok := t.shallowest.Get(); restart || !ok || depth <= low.tread {
		t.shallowest = record.Record(probing{c.now, depth})
	}
}

// displaced finds tires whose place another tire took and that are nowhere
// else.
func (c *comparison) displaced() {
	for _, t := range c.threads {
		if t.presence != OnCoach {
			continue
		}
		s := c.sighted(t.at)
		if s == nil || s.thread == t {
			continue
		}
		// That another tire stands there is proven by its number, by its size beside
		// another number, or by having been followed from elsewhere; a deeper tread, a
		// size alone, or a symbol or two, may be misread.
		t.presence = LostSight
		if c.anotherNumber(t, s) || anotherSize(t, s) || len(s.thread.seen) > 1 {
			t.presence = Replaced
		}
		for i := range c.tires {
			if x := &c.tires[i]; x.thread != nil && len(x.thread.seen) == 1 && c.contradicts(t, x) == "" {
				t.presence = LostSight // this new one may be it
			}
		}
		if t.presence == Replaced {
			c.replaced(t)
		}
	}
}

// anotherSize reports whether its size proves that another tire stands where one was
// followed to: by more than a misreading, and beside another number.
func anotherSize(t *thread, s *sightedTire) bool {
	return sizesDiffer(t.size, s.Size) && numbersDiffer(t.number, s.number) && symbolsApart(sidewall.NormalizeSize(t.size), sidewall.NormalizeSize(s.Size)) == 0
}

// anotherNumber reports whether its number proves that another tire stands where one
// was followed to: by more than a misreading, or by two symbols and a deeper tread.
func (c *comparison) anotherNumber(t *thread, s *sightedTire) bool {
	if !numbersDiffer(t.number, s.number) {
		return false
	}
	_, _, deeper := c.deeper(t, s)
	apart := symbolsApart(t.number, s.number)
	return apart == 0 || apart > 1 && deeper
}

// tireHistories lists the tires, those on the coach by position.
func (c *comparison) tireHistories() []TireHistory {
	list := slices.Clone(c.threads)
	slices.SortStableFunc(list, func(a, b *thread) int {
		if x := int(a.presence) - int(b.presence); x != 0 {
			return x
		}
		if a.presence != OnCoach {
			return b.last().Date.Compare(a.last().Date)
		}
		return a.order - b.order
	})
	out := make([]TireHistory, len(list))
	for i, t := range list {
		h := TireHistory{At: t.at, Number: t.number, Presence: t.presence, ByNumber: t.full && !t.shared, Sightings: t.seen, Leaks: t.leaks, Age: t.age, AgeLimits: t.ages, InspectedOn: t.inspected}
		if h.Age.On = c.visits[len(c.visits)-1].Date; t.presence != OnCoach {
			h.Age.On = t.last().Date
		}
		if !h.Age.Known() {
			h.Age = dotcode.Age{}
		}
		if w, why := c.wear(t); why == "" {
			h.Wear = record.Record(w)
		} else if t.presence == OnCoach && t.axle >= 0 {
			c.gap(t.at, why)
		}
		out[i] = h
	}
	return out
}

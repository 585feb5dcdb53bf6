package history

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/document"
	"axleend.example/internal/judge"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Version is the version of the history format that this package writes and
// reads.
const Version = 1

// MaxSize is how many bytes of a history are read. That of a coach with twelve
// axles and a hundred visits has a tenth of it.
const MaxSize = 32 << 20

// Read reads a history from its JSON, as strictly as [report.Read] reads a report;
// name is the file's name for messages. The error is an [*origin.Problems].
func Read(name string, data []byte) (History, error) {
	return document.Read[History](name, data, document.Format{Key: "history", Version: Version, Most: MaxSize})
}

// ErrNoVisit says that there is no visit to compare.
var ErrNoVisit = errors.New("no visit to compare")

// A History is what several visits to one coach say together: wear, leaks,
// loads that changed, and what was advised and is still open. It is plain
// data, comes out the same for the same visits in whatever order, and reads
// back from its JSON unchanged.
type History struct {
	// Version is that of the format, [Version].
	Version int `json:"history"`
	// Invented says that one of the visits was made up.
	Invented bool `json:"invented,omitzero"`
	// Coach is which coach, in the words of the visits.
	Coach string `json:"coach,omitzero"`
	// System is that of the last visit.
	System weight.System `json:"units"`
	// PressureUnit is the unit that pressures are shown in at the last visit; empty for
	// that of System.
	PressureUnit string `json:"pressure_unit,omitzero"`

	// Drive is the answer to whether the coach may drive, by what is still open of all
	// the visits.
	Drive report.Drive `json:"drive"`
	// NotJudged counts the entries of Unjudged. None of these says that a coach is safe.
	NotJudged int `json:"not_judged"`

	// Visits are in the order of their dates.
	Visits []VisitLine `json:"visits"`
	// PerMonth is what the coach is driven in 30 days, from the first to the
	// last odometer that can be compared, rounded up to a whole mile or
	// kilometer.
	PerMonth record.Recorded[weight.Length] `json:"per_month,omitzero"`

	// Todo is what the rules say of the time between the visits, the worst first.
	Todo []report.Item `json:"todo,omitempty"`
	// Open is what a visit advised and nothing recorded since has settled, the worst
	// first.
	Open []Advised `json:"open,omitempty"`
	// Closed is what was settled, the latest first.
	Closed []Advised `json:"closed,omitempty"`

	// Tires are those on the coach in the order of its positions, then those
	// that left it.
	Tires []TireHistory `json:"tires,omitempty"`
	// LeakLimit is the least loss in 30 days that a rule asks to stay at or under,
	// not recorded where no rule asks, or no leak could be judged.
	LeakLimit record.Recorded[inflation.Pressure] `json:"leak_limit,omitzero"`
	// Loads are how loads changed from one weighing to the next.
	Loads []LoadChange `json:"loads,omitempty"`
	// Weighed has each load that was weighed, at every visit that determines it.
	Weighed []LoadHistory `json:"weighed,omitempty"`

	// Contradictions are what cannot be as it stands; nothing is computed from it.
	Contradictions []Contradiction `json:"contradictions,omitempty"`
	// Unjudged is what could not be told, each with what would settle it.
	Unjudged []report.NotJudged `json:"unjudged,omitempty"`
	// Cautions are to be shown with the history, each a sentence.
	Cautions []string `json:"cautions"`
}

// A VisitLine is one visit in a few words.
type VisitLine struct {
	// Date is the day of the visit.
	Date dotcode.Date `json:"date"`
	// Odometer is what it read.
	Odometer record.Recorded[weight.Length] `json:"odometer,omitzero"`
	// Driven is the distance since the visit before, where both odometers
	// were read and contradict nothing.
	Driven record.Recorded[weight.Length] `json:"driven,omitzero"`
	// LoadState is what was aboard, in the words of the visit.
	LoadState string `json:"load_state,omitzero"`
	// Drive is its report's answer to whether the coach may drive.
	Drive report.Drive `json:"drive"`
	// Todo counts what its report advised.
	Todo int `json:"todo,omitzero"`
	// NotJudged counts what its report could not judge.
	NotJudged int `json:"not_judged"`
	// NextVisit is the day that it says the next visit is due.
	NextVisit record.Recorded[dotcode.Date] `json:"next_visit,omitzero"`
}

// A Contradiction is something in the visits that cannot be as it stands.
type Contradiction struct {
	// Date is the visit that does not fit those before.
	Date dotcode.Date `json:"date"`
	// Where is the tire, or coach.
	Where string `json:"where"`
	// What does not fit, in words.
	What string `json:"what"`
}

// Compare compares the visits of one coach, given in any order. Each is
// assessed with the setup; a tire is followed by its number, so that what was
// advised about it moves with it.
//
// The error is an [*origin.Problems] whose paths ("visits[2]") count the
// visits as given: one that [inspect.Assess] refuses, two of one date, another coach's
// name or other axles; or it matches [ErrNoVisit]. Odometers that run
// backward, treads that grew and numbers that do not fit are no errors but
// [History.Contradictions], and nothing is computed from them.
func Compare(visits []*record.Visit, setup inspect.Setup) (History, error) {
	if len(visits) == 0 {
		return History{}, ErrNoVisit
	}
	a, err := judge.New(setup.Program, setup.Tables, setup.Beside...)
	if err != nil {
		return History{}, err
	}
	a.Own = setup.Facts
	c := &comparison{judge: a, advised: make(map[advisedKey]*advised), rules: make(map[string]*rules.Rule),
		numbers: make(map[string]readNumber)}
	a.Watch = c.watch
	order, err := inOrder(visits)
	if err != nil {
		return History{}, err
	}
	var ps origin.Problems
	c.visits = make([]visited, len(order))
	for k, i := range order {
		c.visits[k].Visit = visits[i]
	}
	for k, i := range order {
		vd := &c.visits[k]
		c.kept, c.limits, c.wanted = c.kept[:0], c.limits[:0], append(c.wanted[:0], a.Refs.Tread, a.Refs.Load)
		for _, e := range c.order {
			if e.rule != nil && !slices.Contains(c.wanted, e.rule.Measure()) {
				c.wanted = append(c.wanted, e.rule.Measure(), ofAll(e.rule.Measure()))
			}
		}
		if err := a.Judge(vd.Visit); err != nil {
			addVisitError(&ps, i, err)
			continue
		}
		c.takeRules()
		if ps.Len() > 0 {
			continue // the other visits' problems are still wanted
		}
		vd.step, vd.read, vd.lookedAt = probeStep(vd.Visit), tiresRead(a), lookedAtAll(a)
		rep := &a.Report
		vd.drive, vd.todo, vd.kept, vd.notJudged = rep.Drive, len(rep.Todo), rep.Kept, rep.NotJudged
		c.now, c.leftAt = k, nil
		c.takeLoads(rep.Loads)
		c.takeLabel(rep.Todo)
		// What was done may name a place before or after the tires moved.
		left := c.takeDone(vd.Done)
		c.follow(a)
		c.takeUnasked(c.takeDone(left))
		c.settle(a)
	}
	if err := ps.Err(); err != nil {
		return History{}, err
	}
	return c.history()
}

// tiresRead is what a visit read of the tires that it lists.
func tiresRead(a *judge.Assessment) (out []tireRead) {
	for i := range a.Tires {
		if st := &a.Tires[i]; st.Written {
			out = append(out, readOf(st))
		}
	}
	return out
}

// addVisitError puts the visit's place before the paths of its problems.
func addVisitError(ps *origin.Problems, i int, err error) {
	path := fmt.Sprintf("visits[%d]", i)
	var many *origin.Problems
	if errors.As(err, &many) {
		for _, p := range many.All() {
			p.Path = path + "." + p.Path
			ps.Add(p)
		}
		return
	}
	ps.Add(origin.Problem{Path: path, Code: strictyaml.CodeValue, Err: err})
}

// inOrder gives the indexes of the visits by date, and says what keeps them
// from being visits to one coach.
func inOrder(visits []*record.Visit) ([]int, error) {
	var ps origin.Problems
	fail := func(i int, code string, err error) {
		ps.Add(origin.Problem{Path: fmt.Sprintf("visits[%d]", i), Code: code, Err: err})
	}
	order := make([]int, 0, len(visits))
	for i, v := range visits {
		if v == nil {
			fail(i, strictyaml.CodeValue, ErrNoVisit)
			continue
		}
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return visits[a].Date.Compare(visits[b].Date) })
	named := -1
	for k, i := range order {
		v, first := visits[i], visits[order[0]]
		if k > 0 && v.Date == visits[order[k-1]].Date {
			fail(i, strictyaml.CodeTwice, fmt.Errorf("%w: a visit of %s, also visits[%d]; put what was found on one day into one visit", record.ErrTwice, v.Date, order[k-1]))
		}
		if v.Coach != "" {
			if named < 0 {
				named = i
			} else if v.Coach != visits[named].Coach {
				fail(i, strictyaml.CodeValue, fmt.Errorf("%w: coach %q, but %q in visits[%d]; a history is of one coach", record.ErrContradiction, v.Coach, visits[named].Coach, named))
			}
		}
		if !slices.EqualFunc(ownAxles(v), ownAxles(first), func(a, b record.Axle) bool { return a.ID == b.ID && a.Fitment == b.Fitment }) {
			fail(i, strictyaml.CodeValue, fmt.Errorf("%w: other axles than in visits[%d]: ids and fitments of one coach stay the same", record.ErrContradiction, order[0]))
		}
	}
	return order, ps.Err()
}

// ownAxles are the coach's, without the towed unit's: it may tow another one
// each time.
func ownAxles(v *record.Visit) []record.Axle {
	n := slices.IndexFunc(v.Axles, func(a record.Axle) bool { return a.Towed })
	if n < 0 {
		n = len(v.Axles)
	}
	return v.Axles[:n]
}

// A visited is one visit with what stays of its report.
type visited struct {
	*record.Visit
	drive     report.Drive
	todo      int
	kept      int
	notJudged int
	read      []tireRead    // of its tires
	weighed   []string      // the ends, axles and vehicles whose load it tells
	step      weight.Length // of the probe
	doubt     bool          // about its odometer
	lookedAt  bool          // every tire on the road, and read cold
	run       int           // odometers of one run can be compared
}

// A comparison carries visits through their order.
type comparison struct {
	judge   *judge.Assessment
	rules   map[string]*rules.Rule // of all programs so far, by name
	program *rules.Program         // the last whose rules were taken
	visits  []visited
	now     int // the visit being taken in

	tires   []sightedTire // of the visit being taken in
	threads []*thread
	numbers map[string]readNumber // by what is written on a tire
	advised map[advisedKey]*advised
	order   []*advised // as first found
	closed  []*advised // of spells that ended
	loads   []loadSeries
	weighed []report.LoadLine // of the visit being taken in
	kept    []keptRule        // of the visit being taken in
	label   []labelRead       // as last read
	raised  []string          // places of the visit whose tires state more than they did
	limits  []treadRule
	all     []rules.Finding // of the subject being watched
	wanted  []rules.MeasureRef
	leftAt  *judge.TireState // the tire that left is about
	left    []rules.Finding  // what the rules say of it as it was left
	mates   []cold.Leak

	leakLimit record.Recorded[inflation.Pressure]

	contradictions []Contradiction
	gaps           []report.NotJudged
}

// A keptRule is a rule that a visit shows to be kept, by what of which bound.
type keptRule struct {
	rule         *rules.Rule
	name         string
	value, bound rules.Value
}

// A treadRule is a least tread depth that a rule asks of a tire.
type treadRule struct {
	name  string
	rule  *rules.Rule
	bound weight.Length
}

// takeRules takes in the rules of the visit just judged, which may have asked for
// packs of its own.
func (c *comparison) takeRules() {
	if c.program == c.judge.Program {
		return
	}
	c.program = c.judge.Program
	for _, r := range c.program.Rules() {
		c.rules[r.Name()] = r
	}
}

// watch takes note of findings that a report does not list: on treads, and on
// what is open.
func (c *comparison) watch(facts *rules.Facts) (err error) {
	if c.all, _, err = c.judge.Program.AppendNotKept(c.all[:0], facts, c.wanted...); err != nil {
		return err
	}
	tread := judge.MeasuresOf().Tread
	for i := range c.all {
		f := &c.all[i]
		if f.Verdict == rules.Kept {
			c.kept = append(c.kept, keptRule{f.Rule, f.Name, f.Value, f.Bound()})
		}
		if f.Rule.Measure() != tread || f.Verdict == rules.NotRecorded {
			continue
		}
		if r := f.Rule.Relation(); r != rules.AtLeast && r != rules.MoreThan {
			continue
		}
		if _, high, ok := f.Bound().Interval(); ok {
			c.limits = append(c.limits, treadRule{f.Name, f.Rule, weight.Length(high)})
		}
	}
	return nil
}

func (c *comparison) keeps(rule *rules.Rule, name string) bool {
	for i := range c.kept {
		if c.kept[i].rule == rule && c.kept[i].name == name {
			return true
		}
	}
	return false
}

func (c *comparison) contradict(where, format string, args ...any) {
	c.contradictions = append(c.contradictions, Contradiction{c.visits[c.now].Date, where, fmt.Sprintf(format, args...)})
}

func (c *comparison) gap(where, need string) {
	c.gaps = append(c.gaps, report.NotJudged{Where: where, Need: need})
}

// history puts together what was collected.
func (c *comparison) history() (History, error) {
	last := &c.visits[len(c.visits)-1]
	h := History{Version: Version, System: last.System, PressureUnit: last.PressureUnit, Visits: make([]VisitLine, 0, len(c.visits))}
	for i := range c.visits {
		v := &c.visits[i]
		h.Invented = h.Invented || v.Invented
		if v.Coach != "" {
			h.Coach = v.Coach
		}
		h.Visits = append(h.Visits, VisitLine{Date: v.Date, Odometer: v.Odometer, LoadState: v.LoadState,
			Drive: v.drive, Todo: v.todo, NotJudged: v.notJudged, NextVisit: v.NextVisit})
	}
	c.odometers(&h)
	h.Loads, h.Weighed = c.loadChanges(), c.loadHistories()
	for _, t := range c.threads {
		if l := t.lacks; l.what != "" && t.presence == OnCoach {
			c.gap(t.at, "its leak: "+l.what+" on "+l.on.String())
		}
	}
	var err error
	if h.Todo, err = c.judgeLeaks(); err != nil {
		return History{}, err
	}
	h.LeakLimit = c.leakLimit
	h.Tires = c.tireHistories()
	h.Open, h.Closed = c.listAdvised()
	h.Contradictions, h.Unjudged, h.NotJudged = c.contradictions, c.gaps, len(c.gaps)
	slices.SortStableFunc(h.Contradictions, func(a, b Contradiction) int { return a.Date.Compare(b.Date) })
	if h.Drive = report.NothingFound; last.kept == 0 {
		h.Drive = report.BeforeTheTrip // nothing was looked at
	}
	h.Drive = judge.DriveOf(h.Drive, h.Todo)
	for _, ad := range h.Open {
		ad.Item.Where = ad.At // a spare's stands nowhere in the way until it is on the road
		h.Drive = judge.DriveOf(h.Drive, []report.Item{ad.Item})
	}
	if h.Drive.Stops() {
		h.Cautions = append(h.Cautions, judge.CautionBurst)
	}
	if slices.ContainsFunc(h.Open, func(ad Advised) bool { return ad.Item.Stops || ad.Item.WheelOff }) {
		h.Cautions = append(h.Cautions, judge.CautionWheelOff)
	}
	h.Cautions = append(h.Cautions,
		"A pace is what was, not what will be: alignment, load and pressure change it. Probe again before the earlier figure is reached, and replace by what the probe says.",
		"Leaks rest on what was recorded, as if all visits were at one altitude: air added and not written down hides one; a tire not quite cold looks like one.",
		"Where a load changed, first compare water, fuel, people and cargo on the two days.",
		"Tires of one maker, kind and week carry the same number: it is no serial number, so position and tread are compared as well.",
		"What was advised stays open until a visit shows that it was settled. Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
	return h, nil
}

// odometers finds the distances that can be trusted, and from them what is driven in a
// month.
func (c *comparison) odometers(h *History) {
	at := make([]int, 0, len(c.visits))
	for i := range c.visits {
		if c.visits[i].Odometer.Is() {
			at = append(at, i)
		}
	}
	c.doubtOdometers(at)
	first, last := c.odometerRuns(h, at)
	if first < 0 {
		return
	}
	unit := weight.Mile
	if h.System == weight.Metric {
		unit = weight.Kilometer
	}
	days, ok1 := daysBetween(c.visits[first].Date, c.visits[last].Date)
	driven, ok2 := c.driven(first, last)
	if !ok1 || !ok2 {
		return
	}
	if d, err := driven.MulDiv(30, int64(days), weight.Ceiling); err == nil {
		h.PerMonth = record.Record(d.Round(unit, weight.Ceiling))
	}
}

// doubtOdometers finds odometer readings that cannot be right. A step between two
// visits that runs backward or is too long is bad: a reading between two bad steps is
// in doubt, else both ends of the step are.
func (c *comparison) doubtOdometers(at []int) {
	bad := make([]bool, len(at)+1) // bad[k]: the step to at[k] cannot be
	for k := 1; k < len(at); k++ {
		bad[k] = !c.drivable(at[k-1], at[k])
	}
	read := func(k int) string {
		v := &c.visits[at[k]]
		return v.Odometer.String() + " on " + v.Date.String()
	}
	for k := range at {
		if bad[k] && bad[k+1] {
			c.visits[at[k]].doubt = true
			c.now = at[k]
			c.contradict("odometer", "%s fits neither %s nor %s; it is not used", c.visits[at[k]].Odometer, read(k-1), read(k+1))
		}
	}
	for k := 1; k < len(at); k++ {
		v, before := &c.visits[at[k]], &c.visits[at[k-1]]
		if !bad[k] || bad[k-1] || bad[k+1] {
			continue
		}
		v.doubt, before.doubt = true, true
		c.now = at[k]
		c.contradict("odometer", "%s does not fit %s: one of them was misread, or the odometer was changed; neither is used", v.Odometer, read(k-1))
	}
}

// odometerRuns begins a new run where odometers that nobody doubts run backward: it was
// changed there. It gives the first and the last visit of the last run, -1 without one.
func (c *comparison) odometerRuns(h *History, at []int) (first, last int) {
	first, last = -1, -1
	run := 0
	for _, i := range at {
		v := &c.visits[i]
		if v.doubt {
			continue
		}
		switch {
		case last < 0:
			first = i
		case !c.drivable(last, i):
			run++
			first = i
		}
		v.run = run
		if last >= 0 && last == i-1 {
			if d, ok := c.driven(last, i); ok {
				h.Visits[i].Driven = record.Record(d)
			}
		}
		last = i
	}
	return first, last
}

// drivable reports whether a coach can have gone from one odometer to the
// other in that time.
func (c *comparison) drivable(i, j int) bool {
	const mostADay = 24 * 65 * weight.Mile // day and night at 65 mph (computed)
	was, _ := c.visits[i].Odometer.Get()
	is, _ := c.visits[j].Odometer.Get()
	days, _ := daysBetween(c.visits[i].Date, c.visits[j].Date)
	return is >= was && (is-was)/mostADay <= weight.Length(days)
}

// driven is the distance between two visits, false where an odometer is
// missing or contradicts another.
func (c *comparison) driven(i, j int) (weight.Length, bool) {
	a, b := &c.visits[i], &c.visits[j]
	was, ok1 := a.Odometer.Get()
	is, ok2 := b.Odometer.Get()
	if !ok1 || !ok2 || a.doubt || b.doubt || a.run != b.run || is < was {
		return 0, false
	}
	return is - was, true
}

// daysBetween counts the days from one date to a later one.
func daysBetween(from, to dotcode.Date) (int, bool) {
	if !from.IsValid() || !to.IsValid() || !from.Before(to) {
		return 0, false
	}
	return int(noon(to).Sub(noon(from)) / (24 * time.Hour)), true
}

func noon(d dotcode.Date) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC)
}

// coldReading is a cold pressure with its plus/minus and air.
func (c *comparison) coldReading(i int, p inflation.Pressure) (cold.Reading, bool) {
	air, ok := c.visits[i].AirTemperature.Get()
	tolerance, _ := c.visits[i].GaugeTolerance.Get()
	return cold.Reading{Pressure: p, PlusMinus: tolerance, Air: cold.Air{Temperature: air}}, ok
}

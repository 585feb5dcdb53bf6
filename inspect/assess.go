package inspect

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// CompilePacks loads packs by name from fsys and compiles them for
// [Vocabulary]. The error is an [*origin.Problems].
func CompilePacks(fsys fs.FS, names ...string) (*rules.Program, error) {
	list, err := rules.Load(fsys, names...)
	if err != nil {
		return nil, err
	}
	return rules.Compile(Vocabulary(), list...)
}

// DefaultProgram returns the default packs, compiled once.
func DefaultProgram() (*rules.Program, error) { return defaultProgram() }

var defaultProgram = sync.OnceValues(func() (*rules.Program, error) {
	return CompilePacks(packs.FS(), packs.Default()...)
})

// Setup is what a visit is judged with. The zero Setup is the default packs
// and no table: pressures are then safe estimates.
type Setup struct {
	// Program is compiled for [Vocabulary] or one that extends it.
	Program *rules.Program
	Tables  inflation.Tables
}

// Assess judges a visit. It returns a whole report also where a date code
// cannot be read or readings contradict each other: those are findings in it.
// The error is an [*origin.Problems] for a visit that is not consistent, one
// that matches [ErrNothing] for a visit with neither tire nor reading, or
// that of a program which does not fit. Nothing is rounded to the unsafe side:
// loads count with their plus/minus, ages with the oldest day that a code
// allows, and what was not recorded is reported as not judged.
//
// The report says what was found, never that a coach is safe. It stands beside
// the judgment of trained people and local codes, not in place of them.
func Assess(v *Visit, setup Setup) (Report, error) {
	s, err := NewAssessor(setup)
	if err != nil {
		return Report{}, err
	}
	return s.Assess(v)
}

// An Assessor judges visit after visit and uses its working memory again, where
// [Assess] takes new memory each time. It is for one goroutine at a time; the
// reports are the caller's own, but for those of [Assessor.Lend].
type Assessor struct {
	a     assessment
	lent  Report
	lists lists // of lent
}

// NewAssessor returns an Assessor. The error is that of a program which does
// not fit.
func NewAssessor(setup Setup) (*Assessor, error) {
	s := &Assessor{a: assessment{refs: measures(), program: setup.Program, tables: setup.Tables}}
	a := &s.a
	var err error
	if a.program == nil {
		if a.program, err = DefaultProgram(); err != nil {
			return nil, err
		}
	}
	a.packs = a.program.Packs()
	for _, f := range [...]struct {
		flags *rules.Flags
		of    []rules.MeasureRef
	}{
		{&a.conditions, a.refs.conditions[ExposedCord:]},
		{&a.noted, []rules.MeasureRef{a.refs.aboveNeed, a.refs.wasSet, a.refs.cracksMeasured, a.refs.lookedOver}},
		{&a.ran, []rules.MeasureRef{a.refs.runLow, a.refs.surelyFlat, a.refs.mateRunLow}},
	} {
		if *f.flags, err = a.program.Vocabulary().Flags(f.of...); err != nil {
			return nil, err
		}
	}
	for _, f := range [...]struct {
		subject string
		facts   **rules.Facts
	}{
		{"tire", &a.facts.tire[0]}, {"tire", &a.facts.tire[1]}, {"end", &a.facts.end}, {"axle", &a.facts.axle},
		{"dual_pair", &a.facts.pair}, {"coach", &a.facts.coach}, {"combination", &a.facts.combination},
	} {
		if *f.facts, err = a.program.Vocabulary().NewFacts(f.subject, ""); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Assess is the function [Assess], with the Assessor's setup.
func (s *Assessor) Assess(v *Visit) (Report, error) {
	defer s.a.forget()
	if err := s.a.assess(v); err != nil {
		return Report{}, err
	}
	return s.a.report, nil
}

// Lend is [Assessor.Assess], but the report is lent: the next call of Lend or
// Assess makes another one in its memory. It suits whoever writes a report down
// and goes on, and saves a third of the time.
func (s *Assessor) Lend(v *Visit) (*Report, error) {
	s.a.lists = s.lists
	defer func() {
		s.lists = s.a.lists
		s.a.forget()
	}()
	if err := s.a.assess(v); err != nil {
		return nil, err
	}
	s.lent = s.a.report
	return &s.lent, nil
}

// assess judges a visit; report and findings stay until the next one.
func (a *assessment) assess(v *Visit) error {
	if err := a.check(v); err != nil {
		return err
	}
	if len(v.Tires) == 0 && len(v.Weighing.Readings) == 0 {
		return ErrNothing
	}
	a.visit = v
	a.early, a.dated, a.sound = a.early[:0], nil, sidewall.Stamps{}
	a.cautions = fresh(&a.lists.cautions, 10)
	a.report = Report{
		Version: ReportVersion, Invented: v.Invented, Date: v.Date, System: v.System, Coach: v.Coach,
		Odometer: v.Odometer, LoadState: v.LoadState, AirTemperature: v.AirTemperature, GaugeTolerance: v.GaugeTolerance,
		Gauge: v.Gauge, Stood: v.Stood,
	}
	return a.steps()
}

// check says all that is wrong with a visit, and fills in the layout.
func (a *assessment) check(v *Visit) error {
	var ps *origin.Problems
	checkVisit(v, &a.layout, func(path, code string, err error) {
		if ps == nil {
			ps = new(origin.Problems)
		}
		ps.Add(origin.Problem{Path: path, Code: code, Err: err})
	})
	return ps.Err()
}

// forget lets go of all that belongs to one visit and its report.
func (a *assessment) forget() {
	a.visit, a.solution, a.trip, a.changes, a.byWheel, a.shortOnTrip = nil, weight.Solution{}, cargo.Trip{}, false, false, [maxAxles]bool{}
	a.report, a.lists, a.cautions, a.gaps = Report{}, lists{}, nil, nil
}

// An assessment carries one visit through its steps; each uses only what the
// ones before it found.
type assessment struct {
	visit   *Visit
	layout  layout
	refs    *refs
	program *rules.Program
	packs   []string
	tables  inflation.Tables
	// Flags of a tire that are recorded together: the conditions; whether it holds
	// what it needs, was set, had its cracks measured and was looked over; whether it
	// or its mate ran low.
	conditions, noted, ran rules.Flags
	// watch, where there is one, sees the facts of each subject as judged.
	watch    func(*rules.Facts) error
	solution weight.Solution
	byWheel  bool       // some reading tells the two tires of a pair apart
	trip     cargo.Trip // with the changes for it
	changes  bool
	// shortOnTrip are the axles whose load some pressure carries as weighed, and
	// none with the changes.
	shortOnTrip [maxAxles]bool
	tires       []tireState
	toSet       []inflation.Tire // the same, as inflation sees them
	counted     [maxAxles]bool   // the axles that are part of this visit
	wheels      []inflation.Wheel
	facts       facts
	findings    []rules.Finding
	planned     []rules.Finding // with the changes for the trip
	order       []entry
	text        []byte
	report      Report
	early       []Item          // what is to be done that no rule says
	sound       sidewall.Stamps // the last one of which no stamp was in doubt
	dated       *tireState      // the last one whose number was in no doubt
	aged        struct {
		age   dotcode.Age // the last one, as rules see it
		value rules.Value
	}
	half      [1]inflation.Limit
	texts     []string // of joined
	rigAxles  []weight.Axle
	readings  []weight.Reading
	solver    weight.Solver // holds the solution
	residuals []weight.Residual
	gaps      map[[2]string]int
	cautions  []string
	lists     lists
}

// lists are what a report's lists are made in.
type lists struct {
	axles     []AxleLine
	rows      []inflation.Row // of all the axles
	loads     []LoadLine
	ratings   []RatingLine // of all the loads
	readings  []ReadingLine
	settings  []inflation.Setting
	tires     []TireLine
	made      []dotcode.Candidate // of all the tires
	pairs     []PairLine
	todo      []Item
	speedAt   []string
	speedless []string
	cautions  []string
	packs     []string
}

// fresh is an empty list with room for n zero values, in the memory of the one
// before if that suffices.
func fresh[T any](list *[]T, n int) []T {
	*list = resized(*list, n)
	return (*list)[:0]
}

// facts are those of one subject of each kind, and of two tires for a dual pair.
type facts struct {
	tire                                [2]*rules.Facts
	end, axle, pair, coach, combination *rules.Facts
}

// resized is a slice of n zero values, in the memory of s if that suffices.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// A tireState is one position with all that is known of it, the defaults of
// the visit filled in.
type tireState struct {
	Tire
	name     string
	axle     int // -1 for a spare
	wheel    *wheel
	recorded bool
	mate     int // index of the dual mate, or -1
	opt      inflation.Options
	tire     *inflation.Tire
	set      *inflation.Setting
	found    Recorded[inflation.Pressure] // as it may be judged
	low      Recorded[bool]               // whether it was judged to have run low
	line     *TireLine                    // in the report
}

func (a *assessment) steps() error {
	if err := a.weigh(); err != nil {
		return err
	}
	a.expect()
	a.loadLines()
	if err := a.collectTires(); err != nil {
		return err
	}
	a.setAxles()
	a.axleLines()
	if err := a.judge(); err != nil {
		return err
	}
	a.finish()
	return nil
}

func answer(r Recorded[bool]) weight.YesNo {
	v, ok := r.Get()
	switch {
	case !ok:
		return weight.NotSaid
	case v:
		return weight.Yes
	}
	return weight.No
}

// weigh solves the readings.
func (a *assessment) weigh() error {
	v, w := a.visit, &a.visit.Weighing
	if len(w.Readings) == 0 {
		return nil
	}
	a.rigAxles, a.readings = resized(a.rigAxles, len(v.Axles)), resized(a.readings, len(w.Readings))
	rig := weight.Rig{System: v.System, Axles: a.rigAxles}
	for i := range v.Axles {
		ax := &v.Axles[i]
		behind, _ := ax.Behind.Get()
		rig.Axles[i] = weight.Axle{ID: ax.ID, Fitment: ax.Fitment, Towed: ax.Towed, Behind: behind}
	}
	v.Trip.fit(&rig)
	kind, _ := w.Scale.Get()
	division, _ := w.Division.Get()
	scale := weight.Scale{Kind: kind, Division: division, Stance: weight.Stance{
		Level: answer(w.Level), RideHeight: answer(w.RideHeight),
		LevelersUp: answer(w.LevelersUp), SlidesIn: answer(w.SlidesIn),
		Tanks: answer(w.TanksAsDriven), Fuel: answer(w.FuelAsDriven), People: answer(w.PeopleAsDriven), Hitched: answer(w.Hitched),
	}}
	readings := a.readings
	for i := range readings {
		r := &w.Readings[i]
		out := weight.Reading{Name: r.Name, Load: r.Load}
		if out.Name == "" {
			out.Name = strings.Join(r.On, " + ")
		}
		for _, on := range r.On {
			set, _ := a.layout.place(on) // checked
			out.On |= set
		}
		a.byWheel = a.byWheel || a.layout.splits(out.On)
		out.Tolerance, _ = r.Tolerance.Or(w.Tolerance).Get()
		readings[i] = out
	}
	sol, err := a.solver.Solve(rig, readings, scale)
	if err != nil {
		var ps origin.Problems
		ps.Add(origin.Problem{Path: "weighing", Code: codeValue, Err: err})
		return ps.Err()
	}
	for _, r := range sol.Rejected() {
		a.todo(Item{Action: BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "A scale reading that cannot be",
			Found: r.Error(), Advice: "Check the slip and weigh again.", Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	for _, c := range sol.Conflicts() {
		advice := "Check the slip and the positions on the plate, and weigh again."
		if c.OddOneOut != "" {
			advice = fmt.Sprintf("Without %q the others agree: read or weigh that one again.", c.OddOneOut)
		}
		a.todo(Item{Action: BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "Scale readings contradict each other",
			Found: c.Error(), Advice: advice, Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	a.residuals = sol.AppendResiduals(a.residuals[:0])
	a.report.Readings = fresh(&a.lists.readings, len(a.residuals))
	for _, r := range a.residuals {
		a.report.Readings = append(a.report.Readings, ReadingLine{Name: r.Name, Load: r.Load, Tolerance: r.Tolerance, Residual: r.Off})
	}
	for _, c := range sol.Cautions() {
		a.caution(c.String())
	}
	if share, ok := w.HeavierShare.Get(); ok {
		if sol, err = sol.Assume(share); err != nil {
			var ps origin.Problems
			ps.Add(origin.Problem{Path: "weighing.heavier_share", Code: codeValue, Err: err})
			return ps.Err()
		}
	}
	a.solution = sol
	return nil
}

// expect finds what the coach will carry after the changes for the trip, so that
// pressures are set for the heaviest state that is driven.
func (a *assessment) expect() {
	t := &a.visit.Trip
	if len(t.Changes) == 0 || len(a.visit.Weighing.Readings) == 0 {
		return
	}
	changes, err := t.planned(a.visit.System)
	if err == nil {
		a.trip, err = cargo.PlanTrip(a.solution, cargo.Stage{Name: "after the changes", Changes: changes})
	}
	if err != nil {
		a.gap("trip", "what the coach carries after the changes: "+oneLine(err), "")
		return
	}
	a.changes = true
	for _, c := range a.trip.Cautions() {
		a.caution(c.String())
	}
}

// heaviest is the load of a set after the changes, where that is more than was
// weighed.
func (a *assessment) heaviest(set weight.Set) inflation.Load {
	if e, stage := a.trip.Heaviest(set); stage > 0 {
		return toLoad(e)
	}
	return inflation.Load{}
}

func (a *assessment) caution(text string) {
	if text != "" && !slices.Contains(a.cautions, text) {
		a.cautions = append(a.cautions, text)
	}
}

// joined is three texts in one. Visit after visit asks for the same ones, which
// are made once.
func (a *assessment) joined(x, y, z string) string {
	for _, t := range a.texts {
		if len(t) == len(x)+len(y)+len(z) && t[:len(x)] == x && t[len(x):len(x)+len(y)] == y && t[len(x)+len(y):] == z {
			return t
		}
	}
	if len(a.texts) == cap(a.texts) {
		a.texts = make([]string, 0, 32) // not without end
	}
	a.texts = append(a.texts, x+y+z)
	return a.texts[len(a.texts)-1]
}

func (a *assessment) todo(it Item) { a.early = append(a.early, it) }

// fill takes over what the visit says once for all tires.
func (t *Tire) fill(every *Tire) {
	t.Size, t.LoadRange, t.Model = told(t.Size, every.Size), told(t.LoadRange, every.LoadRange), told(t.Model, every.Model)
	t.Class = t.Class.Or(every.Class)
	t.Construction = t.Construction.Or(every.Construction)
	t.Single = t.Single.Or(every.Single)
	t.Dual = t.Dual.Or(every.Dual)
	t.Wheel = t.Wheel.Or(every.Wheel)
	t.Service = t.Service.Or(every.Service)
	t.Retread = t.Retread.Or(every.Retread)
	t.Regrooved = t.Regrooved.Or(every.Regrooved)
	t.LastSet = t.LastSet.Or(every.LastSet)
	t.ReadAt = t.ReadAt.Or(every.ReadAt)
	t.Hot = t.Hot.Or(every.Hot)
	t.InSun = t.InSun.Or(every.InSun)
	t.Seen = t.Seen.Or(every.Seen)
	t.Sidewalls = t.Sidewalls.Or(every.Sidewalls)
}

// told is a text of a tire's own, else of all; "not read" is none, and no other
// stands in for it.
func told(own, every string) string {
	if own == "" {
		own = every
	}
	if own == notReadText {
		return ""
	}
	return own
}

// collectTires brings together what is known of each wheel position and spare,
// the defaults of the visit filled in.
func (a *assessment) collectTires() error {
	v, l := a.visit, &a.layout
	for i := range v.Axles {
		ax := &v.Axles[i]
		tires := l.tires[l.first[i]:l.first[i+1]]
		// A towed axle counts only if something of it was written down.
		a.counted[i] = !ax.Towed || ax.GAWR.Is() || ax.Placard.Is() || slices.ContainsFunc(tires, func(t int) bool { return t >= 0 })
	}
	places := len(l.wheels) + len(l.spares)
	a.tires = resized(a.tires, places)
	a.report.Tires = fresh(&a.lists.tires, places)
	a.toSet = resized(a.toSet, places)
	a.lists.made = slices.Grow(a.lists.made[:0], places+4)
	for i := range a.tires {
		st := &a.tires[i]
		st.axle, st.mate, st.tire = -1, -1, &a.toSet[i]
		tire := -1
		if i < len(l.wheels) {
			st.wheel = &l.wheels[i]
			st.name, st.axle, st.mate, tire = st.wheel.name, st.wheel.axle, l.mate(i), l.tires[i]
		} else {
			tire = l.spares[i-len(l.wheels)]
			st.name = v.Tires[tire].At
		}
		if st.recorded = tire >= 0; st.recorded {
			st.Tire = v.Tires[tire]
		}
		if st.axle >= 0 && v.Axles[st.axle].Towed { // a towed car runs on other tires
			st.Tire.fill(&v.EveryTowedTire)
		} else {
			st.Tire.fill(&v.EveryTire)
		}
		st.Hot = warmth(v, st)
		if a.counts(st) {
			a.report.Tires = a.report.Tires[:len(a.report.Tires)+1]
			st.line = &a.report.Tires[len(a.report.Tires)-1]
		} else {
			st.line = new(TireLine)
		}
		lr, err := a.loadRange(i)
		if err != nil {
			a.todo(Item{Action: BeforeTrip, Verdict: rules.NotRecorded, Where: st.name, What: rangeInDoubt,
				Found: err.Error(), Advice: "Read the load range off the sidewall again.", Sources: []origin.Source{{Grade: origin.CommonPractice}}})
		}
		st.opt = inflation.Options{LoadRange: lr}
		st.tire.Name, st.tire.Size, st.tire.LoadRange = st.name, st.Size, lr
		st.tire.Table = a.table(i, lr)
		st.tire.Class, _ = st.Class.Get()
		if s, ok := st.Single.Get(); ok {
			st.tire.Single = inflation.Rating{Load: s.Load, Pressure: s.At}
		}
		if s, ok := st.Dual.Get(); ok {
			st.tire.Dual = inflation.Rating{Load: s.Load, Pressure: s.At}
		}
		a.stamps(st)
		if st.wheel != nil && len(v.Weighing.Readings) > 0 {
			st.line.Load = a.tireLoad(st)
		}
		st.found = st.usable()
		a.date(st)
		if st.line.Age.Retread {
			a.casing(st)
		}
		if !st.recorded && a.counts(st) {
			a.gap(st.name, notWritten, "")
		}
	}
	return nil
}

// notWritten is what is said once of a tire that the visit leaves out.
const notWritten = "this tire: nothing was written down for it"

// table finds the i-th tire's table. Two that differ for one size are a finding;
// none at all is shown by the setting, which is then an estimate.
func (a *assessment) table(i int, lr inflation.LoadRange) *inflation.Table {
	st := &a.tires[i]
	if st.Size == "" || a.tables.Len() == 0 {
		return nil
	}
	for j := range a.tires[:i] {
		if t := a.tires[j].tire.Table; t != nil && a.tires[j].Size == st.Size && a.tires[j].opt.LoadRange == lr {
			return t // most coaches run on one size
		}
	}
	t, err := sidewall.FindTable(a.tables, st.Size, lr)
	if errors.Is(err, inflation.ErrAmbiguous) {
		a.gap(st.name, "which table is its own: "+err.Error(), "")
	}
	return t
}

// loadRange reads the i-th tire's load range; mostly it is that of the one
// before.
func (a *assessment) loadRange(i int) (inflation.LoadRange, error) {
	text := a.tires[i].LoadRange
	switch {
	case text == "":
		return "", nil
	case i > 0 && text == a.tires[i-1].LoadRange && a.tires[i-1].opt.LoadRange != "":
		return a.tires[i-1].opt.LoadRange, nil
	}
	return inflation.ParseLoadRange(text)
}

// tireLoad is what one tire carries: weighed by itself, or its end's load,
// halved on a dual pair and rounded up.
func (a *assessment) tireLoad(st *tireState) weight.Estimate {
	end := a.endLoad(st.axle, st.wheel.side)
	if a.visit.Axles[st.axle].Fitment != weight.Dual {
		return end
	}
	if a.byWheel {
		if e := a.solution.Of(st.wheel.set); e.Known() {
			return e
		}
	}
	return a.onOne(st.axle, end)
}

// onOne is what one tire has of what its axle end carries: half on a dual pair,
// rounded up.
func (a *assessment) onOne(axle int, end weight.Estimate) weight.Estimate {
	if a.visit.Axles[axle].Fitment != weight.Dual {
		return end
	}
	grid := a.visit.System.MassGrid()
	half := func(m weight.Mass) weight.Mass { return (m/2 + m%2).Round(grid, weight.Ceiling) }
	end.Load, end.PlusMinus, end.FromSlope = half(end.Load), half(end.PlusMinus), half(end.FromSlope)
	return end
}

// usable is the cold pressure as found where it may be judged: not a zero
// read through an extension, nor what nobody could reach (common practice).
func (t *Tire) usable() Recorded[inflation.Pressure] {
	at, _ := t.ReadAt.Get()
	found, ok := t.Found.Get()
	if !ok || at == NotReached || at == ThroughExtension && found == 0 {
		return Recorded[inflation.Pressure]{}
	}
	return t.Found
}

// Cautions that reports of several kinds carry.
const (
	cautionBurst    = "A tire that ran low can burst while it is aired: keep clear of its sidewall and leave it to trained people."
	cautionWheelOff = "Whenever a wheel comes off: the maker's torque and order, checked again after 50 to 100 miles; chocks and stands, never the levelers (common practice)."
)

// What is said of a tire or a pair by no rule, and settled by another reading.
const (
	dateInDoubt   = "Date code in doubt"
	datesDiffer   = "The numbers of its two sidewalls have different dates"
	rangeInDoubt  = "Load range cannot be read"
	stampsInDoubt = "Stamps on its sidewall contradict each other"
	sizesInDoubt  = "By diameter one of the duals is larger, by circumference the other"
)

// date reads the tire's number, and which days it can have been made on.
func (a *assessment) date(st *tireState) {
	if b := a.dated; b != nil && b.Number == st.Number && b.OtherNumber == st.OtherNumber && b.DecadeMark == st.DecadeMark && b.Retread == st.Retread {
		st.line.takeDate(b.line) // tires of one maker, kind and week
		return
	}
	early := len(a.early)
	n, err, ok := a.number(st)
	if !ok {
		return
	}
	made := a.lists.made
	from := len(made)
	made = n.AppendCandidates(made, a.visit.Date)
	if own := made[from:len(made):len(made)]; len(own) > 0 {
		st.line.Made = own
	}
	a.lists.made = made
	st.line.Age = dotcode.AgeOn(st.line.Made, a.visit.Date)
	st.line.MadeBefore, _ = n.MadeBefore()
	if err != nil {
		a.todo(Item{Action: Plan, Verdict: rules.NotRecorded, Where: st.name, What: dateInDoubt,
			Found: oneLine(err), Advice: "Read the number again, on both sidewalls, and write it down as it stands.",
			Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 574.5"}}})
	}
	if len(a.early) == early {
		a.dated = st
	}
}

// casing says what is missing of a retread: its date is that of the retreading,
// and the casing is older (49 CFR 574.5), but for one whose other sidewall has
// the casing's own, older number.
func (a *assessment) casing(st *tireState) {
	retread, said := st.Retread.Get()
	other, err := dotcode.Parse(st.line.OtherNumber)
	its := other.AgeOn(a.visit.Date)
	switch {
	case said && !retread, retread && err == nil && its.Known() && st.line.Age.Oldest.Before(its.Oldest):
		return
	case retread:
		st.line.Casing = "its casing's own number: the date that was read is that of the retreading, and the casing is older"
	default:
		st.line.Casing = "whether it is a retread, as its number can be: then the date is that of the retreading, and the casing is older"
	}
	a.gap(st.name, st.line.Casing, "")
}

// takeDate takes over what another tire's equal number says.
func (t *TireLine) takeDate(of *TireLine) {
	t.Number, t.OtherNumber, t.WholeNumber = of.Number, of.OtherNumber, of.WholeNumber
	t.Made, t.Age, t.MadeBefore = of.Made, of.Age, of.MadeBefore
}

func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

func toLoad(e weight.Estimate) inflation.Load {
	switch e.State {
	case weight.Determined, weight.Disputed:
		return inflation.Load{Load: e.Load, PlusMinus: e.PlusMinus, State: inflation.Weighed}
	case weight.Assumed:
		return inflation.Load{Load: e.Load, PlusMinus: e.PlusMinus, State: inflation.Assumed}
	}
	return inflation.Load{}
}

// stampedWheel is what the tire's wheel allows.
func (st *tireState) stampedWheel() inflation.Wheel {
	s, _ := st.Wheel.Get()
	return inflation.Wheel{Name: st.name, MaxLoad: s.Load, MaxPressure: s.At}
}

// axleInput is what an axle's pressure rests on, but for its tires, wheels and
// rating.
func (a *assessment) axleInput(i int) inflation.AxleInput {
	v := a.visit
	ax := &v.Axles[i]
	in := inflation.AxleInput{Name: ax.ID, Fitment: ax.Fitment, System: v.System}
	in.Placard, _ = ax.Placard.Get()
	in.Step, _ = v.GaugeStep.Get()
	if len(v.Weighing.Readings) == 0 {
		return in
	}
	left, right := a.endLoad(i, weight.Left), a.endLoad(i, weight.Right)
	if left.State != weight.Assumed {
		in.Weighed.Left, in.Weighed.Right = a.heavierTire(toLoad(left), i, weight.Left), a.heavierTire(toLoad(right), i, weight.Right)
	}
	in.Weighed.Total = toLoad(a.axleLoad(i).Estimate)
	if a.changes {
		in.Heaviest.Left = shared(a.heaviest(weight.EndOf(i, weight.Left)), in.Weighed.Left)
		in.Heaviest.Right = shared(a.heaviest(weight.EndOf(i, weight.Right)), in.Weighed.Right)
		in.Heaviest.Total = a.heaviest(weight.AxleOf(i))
	}
	if in.Weighed.Left.State == 0 && in.Weighed.Right.State == 0 && in.Weighed.Total.State == inflation.Assumed {
		in.Weighed.Total = inflation.Load{}
	}
	return in
}

// heavierTire adds to an end's load what the heavier of its duals carries, where
// each was weighed.
func (a *assessment) heavierTire(l inflation.Load, axle int, side weight.Side) inflation.Load {
	if !a.byWheel || a.visit.Axles[axle].Fitment != weight.Dual || l.State == 0 {
		return l
	}
	x, y := a.solution.Of(weight.WheelOf(axle, side, weight.Outer)), a.solution.Of(weight.WheelOf(axle, side, weight.Inner))
	if x.Known() && y.Known() {
		l.HeavierTire = max(x.Load, y.Load)
		l.HeavierPlusMinus = max(x.AtMost(), y.AtMost()) - l.HeavierTire
	}
	return l
}

// shared is a planned load whose duals share it as they shared the weighed one.
func shared(planned, weighed inflation.Load) inflation.Load {
	if planned.State == 0 || weighed.HeavierTire == 0 || weighed.Load <= 0 {
		return planned
	}
	tire, err1 := weighed.HeavierTire.MulDiv(int64(planned.Load), int64(weighed.Load), weight.Ceiling)
	most, err2 := weighed.HeavierPlusMinus.MulDiv(int64(planned.Load), int64(weighed.Load), weight.Ceiling)
	if err1 == nil && err2 == nil {
		planned.HeavierTire, planned.HeavierPlusMinus = tire, most
	}
	return planned
}

// setAxles finds the pressure to set on each axle.
func (a *assessment) setAxles() {
	v, l := a.visit, &a.layout
	a.report.Settings = fresh(&a.lists.settings, len(v.Axles))
	a.wheels = resized(a.wheels, len(l.wheels))
	wheels := a.wheels
	half := a.half[:] // of the axle's rating
	for i := range wheels {
		st := &a.tires[i]
		wheels[i] = st.stampedWheel()
	}
	for i := range v.Axles {
		if !a.counted[i] {
			continue
		}
		ax := &v.Axles[i]
		in := a.axleInput(i)
		if a.changes && !a.trip.At(1, weight.AxleOf(i)).Known() {
			a.gap(ax.ID, "what it carries after the changes for the trip", "")
		}
		if gawr, ok := ax.GAWR.Get(); ok {
			half[0] = inflation.Limit{Part: inflation.OtherRating, Name: a.joined("half of ", ax.ID, " GAWR"), Load: gawr / 2}
			in.Ratings = half
		}
		first, end := l.first[i], l.first[i+1]
		in.Tires, in.Wheels = a.toSet[first:end], wheels[first:end]
		s, err := inflation.SetAxle(in)
		if err != nil { // a table that does not fit this axle: the rest is still answered
			a.gap(ax.ID, "its pressure to set: "+oneLine(err), "")
			continue
		}
		if s.Outcome == inflation.Short && s.HeaviestGoverns {
			in.Heaviest = inflation.AxleLoad{}
			weighed, err := inflation.SetAxle(in)
			a.shortOnTrip[i] = err == nil && weighed.Outcome != inflation.Short
		}
		a.report.Settings = append(a.report.Settings, s)
		for j := first; j < end; j++ {
			a.tires[j].set = &a.report.Settings[len(a.report.Settings)-1]
		}
	}
}

// take sorts the findings behind the first ones into what the report lists. Of
// them only those stay that ask for something.
func (a *assessment) take(from int) {
	stay := from
	for i := from; i < len(a.findings); i++ {
		f := &a.findings[i]
		switch f.Verdict {
		case rules.Kept:
		case rules.NotRecorded:
			if a.aboutRunLow(f.Rule) && yes(a.tire(f.Name).low) {
				continue // it is condemned by another reading
			}
			for _, m := range f.ToRecord() {
				a.gap(a.need(f, m))
			}
		default:
			if stay != i { // a finding is large
				a.findings[stay] = *f
			}
			stay++
		}
	}
	a.findings = a.findings[:stay]
}

// rank orders actions, the worst first. Those of a vocabulary that extends
// ours come after.
func (a *assessment) rank(action string) int {
	own := [...]string{DoNotDrive, BeforeTrip, Plan}
	if i := slices.Index(own[:], action); i >= 0 {
		return i
	}
	// An action nobody knows would be the worst, not lost.
	return max(0, slices.IndexFunc(a.program.Vocabulary().Definition().Actions, func(x rules.Action) bool { return x.Name == action }))
}

// findGap finds a gap that is listed already, or gives -1. A map only pays where
// there are many.
func (a *assessment) findGap(where, need string) int {
	if len(a.report.Unjudged) < 16 {
		return slices.IndexFunc(a.report.Unjudged, func(g Gap) bool { return g.Where == where && g.Need == need })
	}
	if a.gaps == nil {
		a.gaps = make(map[[2]string]int)
		for i, g := range a.report.Unjudged {
			a.gaps[[2]string{g.Where, g.Need}] = i
		}
	}
	if i, ok := a.gaps[[2]string{where, need}]; ok {
		return i
	}
	return -1
}

func (a *assessment) gap(where, need, rule string) {
	i := a.findGap(where, need)
	if i < 0 {
		i = len(a.report.Unjudged)
		if a.gaps != nil {
			a.gaps[[2]string{where, need}] = i
		}
		a.report.Unjudged = append(a.report.Unjudged, Gap{Where: where, Need: need})
	}
	g := &a.report.Unjudged[i]
	if rule != "" && !slices.Contains(g.Rules, rule) {
		g.Rules = append(g.Rules, rule)
	}
}

// settle makes the list of what is to be done: by action, within one the sure
// ones first, then as they were found. Entries are large, so that each is made
// in its place.
func (a *assessment) settle() {
	judgments := rules.Merge(a.findings)
	now := len(judgments)
	judgments = append(judgments, rules.Merge(a.planned)...)
	early := a.early
	order := a.order[:0]
	for i := range early {
		order = append(order, entry{4*a.rank(early[i].Action) + int(rules.Breached-early[i].Verdict), i})
	}
	names := 0
	for i := range judgments {
		if act, ok := judgments[i].Action(); ok {
			act = asMeant(&judgments[i], act, i >= now)
			order = append(order, entry{4*a.rank(act.Name) + int(rules.Breached-judgments[i].Verdict), len(early) + i})
			names += len(judgments[i].Findings)
		}
	}
	a.order = order
	if len(order) == 0 {
		return
	}
	slices.SortFunc(order, func(x, y entry) int { return cmp.Or(cmp.Compare(x.key, y.key), cmp.Compare(x.index, y.index)) })
	w := itemWriter{system: a.visit.System, names: make([]string, 0, names), sources: make([]origin.Source, 0, names+names/2)}
	w.text = a.text
	a.report.Todo = fresh(&a.lists.todo, len(order))[:len(order)]
	for i, e := range order {
		if e.index < len(early) {
			a.report.Todo[i] = early[e.index]
			continue
		}
		j := &judgments[e.index-len(early)]
		act, _ := j.Action()
		it, later := &a.report.Todo[i], e.index-len(early) >= now
		w.write(it, j, act)
		if meant := asMeant(j, act, later); meant.Name != act.Name || later {
			it.Action, it.Stops = meant.Name, meant.Stops
		}
		if later {
			it.What = "With the changes for the trip: " + it.What
			it.Advice = "Load otherwise than planned, and weigh again before the trip. " + it.Advice
		}
	}
	a.text = w.text
}

// asMeant is what a judgment asks for where that does not stop the coach yet: it
// is only planned, and must not come to that; or it is about a spare, which
// carries nothing.
func asMeant(j *rules.Judgment, act rules.Action, planned bool) rules.Action {
	if planned || act.Stops && isSpare(j.Findings[0].Name) {
		return rules.Action{Name: BeforeTrip}
	}
	return act
}

// An entry is one thing to do, not yet written: an item, or a judgment.
type entry struct{ key, index int }

// finish turns findings into the report's lists.
func (a *assessment) finish() {
	rep := &a.report
	a.settle()
	for i := range rep.Todo {
		it := &rep.Todo[i]
		rep.Stops = rep.Stops || it.Stops
		// The worst comes first: an action that is there already stays.
		if st := a.tire(it.Where); st != nil && st.line.Worst == "" {
			st.line.Worst = it.Action
		}
		for p := range rep.Pairs {
			if pair := &rep.Pairs[p]; pair.Name == it.Where && pair.Worst == "" {
				pair.Worst = it.Action
			}
		}
	}
	if len(rep.Todo) > 0 {
		rep.Worst = rep.Todo[0].Action
	}
	rep.Slowest = a.slowest()
	rep.NotJudged = len(rep.Unjudged)
	for i := range rep.Settings {
		s := &rep.Settings[i]
		for c := range s.Cautions.All() {
			if c == inflation.CautionColdOnly || c == inflation.CautionThisLoadOnly {
				continue // said once for all axles
			}
			a.caution(a.joined(s.Name, ": ", c.Text()))
		}
	}
	read, aged := false, false
	for i := range rep.Tires {
		read, aged = read || rep.Tires[i].Found.Is(), aged || rep.Tires[i].Age.Known()
	}
	if read && !a.visit.GaugeTolerance.Is() {
		a.caution("The gauge's tolerance was not written down: pressures were judged as if it read exactly.")
	}
	if aged {
		a.caution(dotcode.Caution)
	}
	// The weightiest come last: a short page keeps the last ones.
	if a.changes {
		a.caution("A pressure to set holds for the load as weighed and with the changes for the trip, as planned, and for no heavier one. Weigh again once they are made.")
	} else if len(rep.Settings) > 0 {
		a.caution("A pressure to set holds for the load as weighed and for no heavier one.")
	}
	// A pack's rule says it in the list of what is to be done; packs without
	// one leave it to this caution.
	if off, _ := a.wheelOff(); (rep.Stops || off) && !slices.ContainsFunc(a.findings, func(f rules.Finding) bool { return f.Rule.Measure() == a.refs.coachWheelOff }) {
		a.caution(cautionWheelOff)
	}
	a.caution("A pressure is cold once the coach has stood three hours, out of the sun. Never bleed a hot tire (common practice).")
	if rep.Stops {
		a.caution(cautionBurst)
	}
	a.caution("Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
	rep.Cautions = a.cautions
	rep.Packs = append(fresh(&a.lists.packs, len(a.packs)), a.packs...)
}

// An itemWriter writes items; their lists share two arrays.
type itemWriter struct {
	system  weight.System
	names   []string
	sources []origin.Source
	text    []byte
}

// inOwnUnits adds to a bound that a pack writes in the other system's unit what
// it is in the visit's own, rounded to the stricter side.
func (w *itemWriter) inOwnUnits(text []byte, f *rules.Finding) []byte {
	low, high, ok := f.Bound().Interval()
	if !ok || low != high || low == 0 {
		return text
	}
	r := weight.Ceiling
	if rel := f.Rule.Relation(); rel == rules.AtMost || rel == rules.LessThan {
		r = weight.Floor
	}
	mass, length, pressure := weight.Mass(low), weight.Length(low), inflation.Pressure(low)
	metric := w.system == weight.Metric
	out := append(text, " ("...)
	from := len(out)
	switch unit := string(text[bytes.LastIndexByte(text, ' ')+1:]); {
	case metric && unit == "psi":
		out = append(pressure.AppendIn(out, inflation.Kilopascal, 0, r), " kPa)"...)
	case metric && unit == "in":
		out = append(length.AppendIn(out, weight.Millimeter, 1, r), " mm)"...)
	case metric && unit == "lb":
		out = append(commas(mass.AppendIn(out, weight.Kilogram, 0, r), from), " kg)"...)
	case !metric && unit == "kPa":
		out = append(pressure.AppendIn(out, inflation.PSI, 1, r), " psi)"...)
	case !metric && unit == "mm":
		out = append(length.AppendIn(out, weight.Inch, 2, r), " in)"...)
	case !metric && unit == "kg":
		out = append(commas(mass.AppendIn(out, weight.Pound, 0, r), from), " lb)"...)
	default:
		return text
	}
	return out
}

// write says in one entry what a judgment's findings of its verdict say, led by
// the one whose action it is.
func (w *itemWriter) write(it *Item, j *rules.Judgment, act rules.Action) {
	it.Action, it.Stops, it.Verdict = act.Name, act.Stops && j.Verdict == rules.Breached, j.Verdict
	names, sources := len(w.names), len(w.sources)
	for _, led := range [...]bool{true, false} {
		for i := range j.Findings {
			f := &j.Findings[i]
			if f.Verdict != j.Verdict || led != (f.Rule.Action().Name == act.Name) {
				continue
			}
			if it.What == "" {
				it.Where, it.What = f.Name, f.Rule.Title()
				if _, isFlag := f.Value.Yes(); !isFlag {
					w.text = f.Rule.Measure().AppendText(w.text[:0], f.Value)
					it.Found = string(w.text)
					w.text = w.inOwnUnits(f.AppendBoundText(w.text[:0]), f)
					it.Bound = string(w.text)
				}
			}
			switch advice := f.Rule.Advice(); {
			case !led || strings.Contains(it.Advice, advice):
			case it.Advice == "":
				it.Advice = advice
			default:
				it.Advice += " " + advice
			}
			if led {
				for _, c := range f.Rule.Causes() {
					if !slices.Contains(it.Causes, c) {
						it.Causes = append(it.Causes, c)
					}
				}
			}
			it.WheelOff = it.WheelOff || f.Rule.Involves(WheelOff) && !isSpare(f.Name)
			w.names = append(w.names, f.Rule.Name())
			own := f.Rule.AppendSources(w.sources[sources:])
			w.sources = append(w.sources[:sources], own...)
		}
	}
	it.Rules = w.names[names:len(w.names):len(w.names)]
	it.Sources = w.sources[sources:len(w.sources):len(w.sources)]
}

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
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// Compile loads packs by name from fsys and compiles them for
// [TheVocabulary]. The error is an [*origin.Problems].
func Compile(fsys fs.FS, names ...string) (*rules.Program, error) {
	list, err := rules.Load(fsys, names...)
	if err != nil {
		return nil, err
	}
	return rules.Compile(TheVocabulary(), list...)
}

// TheDefaultProgram returns the default packs, compiled once.
func TheDefaultProgram() (*rules.Program, error) { return defaultProgram() }

var defaultProgram = sync.OnceValues(func() (*rules.Program, error) {
	return Compile(packs.FS(), packs.Default()...)
})

// New returns what judges visits by a program, nil for the default one. The
// error is that of a program which does not fit.
func New(program *rules.Program, tables inflation.Tables) (*assessment, error) {
	a := &assessment{refs: measures(), program: program, tables: tables}
	var err error
	if a.program == nil {
		if a.program, err = TheDefaultProgram(); err != nil {
			return nil, err
		}
	}
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
	return a, nil
}

// Assess judges a visit.
func (a *assessment) Assess(v *Visit) (Report, error) {
	if err := a.assess(v); err != nil {
		return Report{}, err
	}
	return a.report, nil
}

// assess judges a visit; report and findings stay until the next one.
func (a *assessment) assess(v *Visit) error {
	var err error
	if a.layout, err = v.Layout(); err != nil {
		return err
	}
	if len(v.Tires) == 0 && len(v.Weighing.Readings) == 0 {
		return ErrNothing
	}
	a.visit = v
	a.early, a.dated, a.sound, a.cautions, a.gaps = nil, nil, sidewall.Stamps{}, nil, nil
	a.solution, a.trip, a.changes, a.byWheel, a.shortOnTrip = weight.Solution{}, cargo.Trip{}, false, false, [weight.MaxAxles]bool{}
	a.report = Report{
		Version: ReportVersion, Invented: v.Invented, Date: v.Date, System: v.System, Coach: v.Coach,
		Odometer: v.Odometer, LoadState: v.LoadState, AirTemperature: v.AirTemperature, GaugeTolerance: v.GaugeTolerance,
		Gauge: v.Gauge, Stood: v.Stood,
	}
	return a.steps()
}

// An assessment carries one visit through its steps; each uses only what the
// ones before it found.
type assessment struct {
	visit   *Visit
	layout  *layout
	refs    *refs
	program *rules.Program
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
	shortOnTrip [weight.MaxAxles]bool
	tires       []tireState
	toSet       []inflation.Tire      // the same, as inflation sees them
	counted     [weight.MaxAxles]bool // the axles that are part of this visit
	facts       facts
	findings    []rules.Finding
	planned     []rules.Finding // with the changes for the trip
	report      Report
	early       []Item          // what is to be done that no rule says
	sound       sidewall.Stamps // the last one of which no stamp was in doubt
	dated       *tireState      // the last one whose number was in no doubt
	aged        struct {
		age   dotcode.Age // the last one, as rules see it
		value rules.Value
	}
	gaps     map[[2]string]int
	cautions []string
}

// facts are those of one subject of each kind, and of two tires for a dual pair.
type facts struct {
	tire                                [2]*rules.Facts
	end, axle, pair, coach, combination *rules.Facts
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
	rig := weight.Rig{System: v.System, Axles: make([]weight.Axle, len(v.Axles))}
	for i := range v.Axles {
		ax := &v.Axles[i]
		behind, _ := ax.Behind.Get()
		rig.Axles[i] = weight.Axle{ID: ax.ID, Fitment: ax.Fitment, Towed: ax.Towed, Behind: behind}
	}
	fit(&v.Trip, &rig)
	kind, _ := w.Scale.Get()
	division, _ := w.Division.Get()
	scale := weight.Scale{Kind: kind, Division: division, Stance: weight.Stance{
		Level: answer(w.Level), RideHeight: answer(w.RideHeight),
		LevelersUp: answer(w.LevelersUp), SlidesIn: answer(w.SlidesIn),
		Tanks: answer(w.TanksAsDriven), Fuel: answer(w.FuelAsDriven), People: answer(w.PeopleAsDriven), Hitched: answer(w.Hitched),
	}}
	readings := make([]weight.Reading, len(w.Readings))
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
	sol, err := weight.Solve(rig, readings, scale)
	if err != nil {
		var ps origin.Problems
		ps.Add(origin.Problem{Path: "weighing", Code: strictyaml.CodeValue, Err: err})
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
	for _, r := range sol.AppendResiduals(nil) {
		a.report.Readings = append(a.report.Readings, ReadingLine{Name: r.Name, Load: r.Load, Tolerance: r.Tolerance, Residual: r.Off})
	}
	for _, c := range sol.Cautions() {
		a.caution(c.String())
	}
	if share, ok := w.HeavierShare.Get(); ok {
		if sol, err = sol.Assume(share); err != nil {
			var ps origin.Problems
			ps.Add(origin.Problem{Path: "weighing.heavier_share", Code: strictyaml.CodeValue, Err: err})
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
	changes, err := plannedChanges(t, a.visit.System)
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

func (a *assessment) todo(it Item) { a.early = append(a.early, it) }

// collectTires brings together what is known of each wheel position and spare,
// the defaults of the visit filled in.
func (a *assessment) collectTires() error {
	v, l := a.visit, a.layout
	for i := range v.Axles {
		ax := &v.Axles[i]
		tires := l.tires[l.first[i]:l.first[i+1]]
		// A towed axle counts only if something of it was written down.
		a.counted[i] = !ax.Towed || ax.GAWR.Is() || ax.Placard.Is() || slices.ContainsFunc(tires, func(t int) bool { return t >= 0 })
	}
	places := len(l.wheels) + len(l.spares)
	a.tires = make([]tireState, places)
	a.report.Tires = make([]TireLine, 0, places)
	a.toSet = make([]inflation.Tire, places)
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
		takeDate(st.line, b.line) // tires of one maker, kind and week
		return
	}
	early := len(a.early)
	n, err, ok := a.number(st)
	if !ok {
		return
	}
	st.line.Made = n.AppendCandidates(nil, a.visit.Date)
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
	v, l := a.visit, a.layout
	a.report.Settings = make([]inflation.Setting, 0, len(v.Axles)) // tires point into it
	wheels := make([]inflation.Wheel, len(l.wheels))
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
			in.Ratings = []inflation.Limit{{Part: inflation.OtherRating, Name: "half of " + ax.ID + " GAWR", Load: gawr / 2}}
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
	var order []entry
	for i := range early {
		order = append(order, entry{4*a.rank(early[i].Action) + int(rules.Breached-early[i].Verdict), i})
	}
	for i := range judgments {
		if act, ok := judgments[i].Action(); ok {
			act = asMeant(&judgments[i], act, i >= now)
			order = append(order, entry{4*a.rank(act.Name) + int(rules.Breached-judgments[i].Verdict), len(early) + i})
		}
	}
	if len(order) == 0 {
		return
	}
	slices.SortFunc(order, func(x, y entry) int { return cmp.Or(cmp.Compare(x.key, y.key), cmp.Compare(x.index, y.index)) })
	w := itemWriter{system: a.visit.System}
	a.report.Todo = make([]Item, len(order))
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
			a.caution(s.Name + ": " + c.Text())
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
	rep.Packs = a.program.Packs()
}

// An itemWriter writes items in the units of a visit.
type itemWriter struct {
	system weight.System
	text   []byte
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
			it.Rules = append(it.Rules, f.Rule.Name())
			it.Sources = f.Rule.AppendSources(it.Sources)
		}
	}
}

// takeDate takes over what another tire's equal number says.
func takeDate(t, of *TireLine) {
	t.Number, t.OtherNumber, t.WholeNumber = of.Number, of.OtherNumber, of.WholeNumber
	t.Made, t.Age, t.MadeBefore = of.Made, of.Age, of.MadeBefore
}

// plannedChanges are the changes for the trip as weight takes them. Stations have no
// names there: what a place holds is not counted.
func plannedChanges(t *Trip, system weight.System) ([]cargo.Change, error) {
	out := make([]cargo.Change, len(t.Changes))
	for i, c := range t.Changes {
		m, err := c.mass(system)
		if err != nil {
			return nil, err
		}
		out[i] = cargo.Change{Name: c.Name, Mass: m}
		for _, s := range t.Stations {
			if s.Name == c.At {
				out[i].At = cargo.Station{Behind: s.Behind, Offset: weight.Length(s.Offset), Towed: s.Towed}
			}
		}
	}
	return out, nil
}

// fit adds to a rig what the trip says about the coach's geometry.
func fit(t *Trip, rig *weight.Rig) {
	rig.Track, _ = t.Track.Get()
	rig.Coupling, _ = t.Coupling.Get()
	rig.Hitch, _ = t.Hitch.Get()
}

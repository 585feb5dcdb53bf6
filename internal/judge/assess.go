// Package judge turns a visit into facts and holds these to rules: the one
// judge behind assessments, placement, history and loading.
package judge

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
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// Compile loads packs by name from fsys and compiles them for
// [Vocabulary]. The error is an [*origin.Problems].
func Compile(fsys fs.FS, names ...string) (*rules.Program, error) {
	list, err := rules.Load(fsys, names...)
	if err != nil {
		return nil, err
	}
	return rules.Compile(Vocabulary(), list...)
}

// DefaultProgram returns the default packs, compiled once.
func DefaultProgram() (*rules.Program, error) { return defaultProgram() }

var defaultProgram = sync.OnceValues(func() (*rules.Program, error) {
	return Compile(packs.FS(), packs.Default()...)
})

// New returns what judges visits by a program, nil for the default one. The
// error is that of a program which does not fit.
func New(program *rules.Program, tables inflation.Tables) (*Assessment, error) {
	a := &Assessment{Refs: MeasuresOf(), Program: program, Tables: tables}
	var err error
	if a.Program == nil {
		if a.Program, err = DefaultProgram(); err != nil {
			return nil, err
		}
	}
	for _, f := range [...]struct {
		flags *rules.Flags
		of    []rules.MeasureRef
	}{
		{&a.Conditions, a.Refs.Conditions[record.ExposedCord:]},
		{&a.Noted, []rules.MeasureRef{a.Refs.AboveNeed, a.Refs.WasSet, a.Refs.cracksMeasured, a.Refs.lookedOver}},
		{&a.Ran, []rules.MeasureRef{a.Refs.RunLow, a.Refs.surelyFlat, a.Refs.MateRunLow}},
	} {
		if *f.flags, err = a.Program.Vocabulary().Flags(f.of...); err != nil {
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
		if *f.facts, err = a.Program.Vocabulary().NewFacts(f.subject, ""); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// Assess judges a visit.
func (a *Assessment) Assess(v *record.Visit) (report.Report, error) {
	if err := a.Judge(v); err != nil {
		return report.Report{}, err
	}
	return a.Report, nil
}

// Judge judges a visit; report and findings stay until the next one.
func (a *Assessment) Judge(v *record.Visit) error {
	var err error
	if a.Layout, err = v.Layout(); err != nil {
		return err
	}
	if len(v.Tires) == 0 && len(v.Weighing.Readings) == 0 {
		return record.ErrNothing
	}
	a.Visit = v
	a.Early, a.dated, a.sound, a.Cautions, a.Gaps = nil, nil, sidewall.Stamps{}, nil, nil
	a.Solution, a.Trip, a.Changes, a.ByWheel, a.shortOnTrip = weight.Solution{}, cargo.Trip{}, false, false, [weight.MaxAxles]bool{}
	a.Report = report.Report{
		Version: report.Version, Invented: v.Invented, Date: v.Date, System: v.System, Coach: v.Coach,
		Odometer: v.Odometer, LoadState: v.LoadState, AirTemperature: v.AirTemperature, GaugeTolerance: v.GaugeTolerance,
		Gauge: v.Gauge, Stood: v.Stood,
	}
	return a.steps()
}

// An Assessment carries one visit through its steps; each uses only what the
// ones before it found.
type Assessment struct {
	Visit   *record.Visit
	Layout  *record.Layout
	Refs    *Measures
	Program *rules.Program
	Tables  inflation.Tables
	// Flags of a tire that are recorded together: the conditions; whether it holds
	// what it needs, was set, had its cracks measured and was looked over; whether it
	// or its mate ran low.
	Conditions, Noted, Ran rules.Flags
	// watch, where there is one, sees the facts of each subject as judged.
	Watch    func(*rules.Facts) error
	Solution weight.Solution
	ByWheel  bool       // some reading tells the two tires of a pair apart
	Trip     cargo.Trip // with the changes for it
	Changes  bool
	// shortOnTrip are the axles whose load some pressure carries as weighed, and
	// none with the changes.
	shortOnTrip [weight.MaxAxles]bool
	Tires       []TireState
	toSet       []inflation.Tire      // the same, as inflation sees them
	Counted     [weight.MaxAxles]bool // the axles that are part of this visit
	facts       facts
	Findings    []rules.Finding
	planned     []rules.Finding // with the changes for the trip
	Report      report.Report
	Early       []report.Item   // what is to be done that no rule says
	sound       sidewall.Stamps // the last one of which no stamp was in doubt
	dated       *TireState      // the last one whose number was in no doubt
	aged        struct {
		age   dotcode.Age // the last one, as rules see it
		value rules.Value
	}
	Gaps     map[[2]string]int
	Cautions []string
}

// facts are those of one subject of each kind, and of two tires for a dual pair.
type facts struct {
	tire                                [2]*rules.Facts
	end, axle, pair, coach, combination *rules.Facts
}

// A TireState is one position with all that is known of it, the defaults of
// the visit filled in.
type TireState struct {
	record.Tire
	Name      string
	AxleIndex int // -1 for a spare
	Position  *record.Wheel
	Written   bool
	Mate      int // index of the dual mate, or -1
	Options   inflation.Options
	Fitted    *inflation.Tire
	Setting   *inflation.Setting
	Usable    record.Recorded[inflation.Pressure] // as it may be judged
	RanLow    record.Recorded[bool]               // whether it was judged to have run low
	Line      *report.TireLine                    // in the report
}

func (a *Assessment) steps() error {
	if err := a.Weigh(); err != nil {
		return err
	}
	a.expect()
	a.LoadLines()
	if err := a.CollectTires(); err != nil {
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

func answer(r record.Recorded[bool]) weight.YesNo {
	v, ok := r.Get()
	switch {
	case !ok:
		return weight.NotSaid
	case v:
		return weight.Yes
	}
	return weight.No
}

// Weigh solves the readings.
func (a *Assessment) Weigh() error {
	v, w := a.Visit, &a.Visit.Weighing
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
			set, _ := a.Layout.PlaceNamed(on) // checked
			out.On |= set
		}
		a.ByWheel = a.ByWheel || a.Layout.Splits(out.On)
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
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "A scale reading that cannot be",
			Found: r.Error(), Advice: "Check the slip and weigh again.", Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	for _, c := range sol.Conflicts() {
		advice := "Check the slip and the positions on the plate, and weigh again."
		if c.OddOneOut != "" {
			advice = fmt.Sprintf("Without %q the others agree: read or weigh that one again.", c.OddOneOut)
		}
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "Scale readings contradict each other",
			Found: c.Error(), Advice: advice, Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	for _, r := range sol.AppendResiduals(nil) {
		a.Report.Readings = append(a.Report.Readings, report.ReadingLine{Name: r.Name, Load: r.Load, Tolerance: r.Tolerance, Residual: r.Off})
	}
	for _, c := range sol.Cautions() {
		a.Caution(c.String())
	}
	if share, ok := w.HeavierShare.Get(); ok {
		if sol, err = sol.Assume(share); err != nil {
			var ps origin.Problems
			ps.Add(origin.Problem{Path: "weighing.heavier_share", Code: strictyaml.CodeValue, Err: err})
			return ps.Err()
		}
	}
	a.Solution = sol
	return nil
}

// expect finds what the coach will carry after the changes for the trip, so that
// pressures are set for the heaviest state that is driven.
func (a *Assessment) expect() {
	t := &a.Visit.Trip
	if len(t.Changes) == 0 || len(a.Visit.Weighing.Readings) == 0 {
		return
	}
	changes, err := plannedChanges(t, a.Visit.System)
	if err == nil {
		a.Trip, err = cargo.PlanTrip(a.Solution, cargo.Stage{Name: "after the changes", Changes: changes})
	}
	if err != nil {
		a.Gap("trip", "what the coach carries after the changes: "+OneLine(err), "")
		return
	}
	a.Changes = true
	for _, c := range a.Trip.Cautions() {
		a.Caution(c.String())
	}
}

// heaviest is the load of a set after the changes, where that is more than was
// weighed.
func (a *Assessment) heaviest(set weight.Set) inflation.Load {
	if e, stage := a.Trip.Heaviest(set); stage > 0 {
		return toLoad(e)
	}
	return inflation.Load{}
}

func (a *Assessment) Caution(text string) {
	if text != "" && !slices.Contains(a.Cautions, text) {
		a.Cautions = append(a.Cautions, text)
	}
}

func (a *Assessment) todo(it report.Item) { a.Early = append(a.Early, it) }

// CollectTires brings together what is known of each wheel position and spare,
// the defaults of the visit filled in.
func (a *Assessment) CollectTires() error {
	v, l := a.Visit, a.Layout
	for i := range v.Axles {
		ax := &v.Axles[i]
		tires := l.TireAt[l.First[i]:l.First[i+1]]
		// A towed axle counts only if something of it was written down.
		a.Counted[i] = !ax.Towed || ax.GAWR.Is() || ax.Placard.Is() || slices.ContainsFunc(tires, func(t int) bool { return t >= 0 })
	}
	places := len(l.Wheels) + len(l.Spares)
	a.Tires = make([]TireState, places)
	a.Report.Tires = make([]report.TireLine, 0, places)
	a.toSet = make([]inflation.Tire, places)
	for i := range a.Tires {
		st := &a.Tires[i]
		st.AxleIndex, st.Mate, st.Fitted = -1, -1, &a.toSet[i]
		tire := -1
		if i < len(l.Wheels) {
			st.Position = &l.Wheels[i]
			st.Name, st.AxleIndex, st.Mate, tire = st.Position.Name, st.Position.Axle, l.MateOf(i), l.TireAt[i]
		} else {
			tire = l.Spares[i-len(l.Wheels)]
			st.Name = v.Tires[tire].At
		}
		if st.Written = tire >= 0; st.Written {
			st.Tire = v.Tires[tire]
		}
		if st.AxleIndex >= 0 && v.Axles[st.AxleIndex].Towed { // a towed car runs on other tires
			st.Tire.Fill(&v.EveryTowedTire)
		} else {
			st.Tire.Fill(&v.EveryTire)
		}
		st.Hot = warmth(v, st)
		if a.Counts(st) {
			a.Report.Tires = a.Report.Tires[:len(a.Report.Tires)+1]
			st.Line = &a.Report.Tires[len(a.Report.Tires)-1]
		} else {
			st.Line = new(report.TireLine)
		}
		lr, err := a.loadRange(i)
		if err != nil {
			a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: st.Name, What: RangeInDoubt,
				Found: err.Error(), Advice: "Read the load range off the sidewall again.", Sources: []origin.Source{{Grade: origin.CommonPractice}}})
		}
		st.Options = inflation.Options{LoadRange: lr}
		st.Fitted.Name, st.Fitted.Size, st.Fitted.LoadRange = st.Name, st.Size, lr
		st.Fitted.Table = a.table(i, lr)
		st.Fitted.Class, _ = st.Class.Get()
		if s, ok := st.Single.Get(); ok {
			st.Fitted.Single = inflation.Rating{Load: s.Load, Pressure: s.At}
		}
		if s, ok := st.Dual.Get(); ok {
			st.Fitted.Dual = inflation.Rating{Load: s.Load, Pressure: s.At}
		}
		a.stamps(st)
		if st.Position != nil && len(v.Weighing.Readings) > 0 {
			st.Line.Load = a.tireLoad(st)
		}
		st.Usable = st.FoundAtStem()
		a.date(st)
		if st.Line.Age.Retread {
			a.casing(st)
		}
		if !st.Written && a.Counts(st) {
			a.Gap(st.Name, notWritten, "")
		}
	}
	return nil
}

// notWritten is what is said once of a tire that the visit leaves out.
const notWritten = "this tire: nothing was written down for it"

// table finds the i-th tire's table. Two that differ for one size are a finding;
// none at all is shown by the setting, which is then an estimate.
func (a *Assessment) table(i int, lr inflation.LoadRange) *inflation.Table {
	st := &a.Tires[i]
	if st.Size == "" || a.Tables.Len() == 0 {
		return nil
	}
	for j := range a.Tires[:i] {
		if t := a.Tires[j].Fitted.Table; t != nil && a.Tires[j].Size == st.Size && a.Tires[j].Options.LoadRange == lr {
			return t // most coaches run on one size
		}
	}
	t, err := sidewall.FindTable(a.Tables, st.Size, lr)
	if errors.Is(err, inflation.ErrAmbiguous) {
		a.Gap(st.Name, "which table is its own: "+err.Error(), "")
	}
	return t
}

// loadRange reads the i-th tire's load range; mostly it is that of the one
// before.
func (a *Assessment) loadRange(i int) (inflation.LoadRange, error) {
	text := a.Tires[i].LoadRange
	switch {
	case text == "":
		return "", nil
	case i > 0 && text == a.Tires[i-1].LoadRange && a.Tires[i-1].Options.LoadRange != "":
		return a.Tires[i-1].Options.LoadRange, nil
	}
	return inflation.ParseLoadRange(text)
}

// tireLoad is what one tire carries: weighed by itself, or its end's load,
// halved on a dual pair and rounded up.
func (a *Assessment) tireLoad(st *TireState) weight.Estimate {
	end := a.endLoad(st.AxleIndex, st.Position.Side)
	if a.Visit.Axles[st.AxleIndex].Fitment != weight.Dual {
		return end
	}
	if a.ByWheel {
		if e := a.Solution.Of(st.Position.Set); e.Known() {
			return e
		}
	}
	return a.OnOne(st.AxleIndex, end)
}

// OnOne is what one tire has of what its axle end carries: half on a dual pair,
// rounded up.
func (a *Assessment) OnOne(axle int, end weight.Estimate) weight.Estimate {
	if a.Visit.Axles[axle].Fitment != weight.Dual {
		return end
	}
	grid := a.Visit.System.MassGrid()
	half := func(m weight.Mass) weight.Mass { return (m/2 + m%2).Round(grid, weight.Ceiling) }
	end.Load, end.PlusMinus, end.FromSlope = half(end.Load), half(end.PlusMinus), half(end.FromSlope)
	return end
}

// Cautions that reports of several kinds carry.
const (
	CautionBurst    = "A tire that ran low can burst while it is aired: keep clear of its sidewall and leave it to trained people."
	CautionWheelOff = "Whenever a wheel comes off: the maker's torque and order, checked again after 50 to 100 miles; chocks and stands, never the levelers (common practice)."
)

// What is said of a tire or a pair by no rule, and settled by another reading.
const (
	DateInDoubt   = "Date code in doubt"
	DatesDiffer   = "The numbers of its two sidewalls have different dates"
	RangeInDoubt  = "Load range cannot be read"
	StampsInDoubt = "Stamps on its sidewall contradict each other"
	SizesInDoubt  = "By diameter one of the duals is larger, by circumference the other"
)

// date reads the tire's number, and which days it can have been made on.
func (a *Assessment) date(st *TireState) {
	if b := a.dated; b != nil && b.Number == st.Number && b.OtherNumber == st.OtherNumber && b.DecadeMark == st.DecadeMark && b.Retread == st.Retread {
		takeDate(st.Line, b.Line) // tires of one maker, kind and week
		return
	}
	early := len(a.Early)
	n, err, ok := a.number(st)
	if !ok {
		return
	}
	st.Line.Made = n.AppendCandidates(nil, a.Visit.Date)
	st.Line.Age = dotcode.AgeOn(st.Line.Made, a.Visit.Date)
	st.Line.MadeBefore, _ = n.MadeBefore()
	if err != nil {
		a.todo(report.Item{Action: report.Plan, Verdict: rules.NotRecorded, Where: st.Name, What: DateInDoubt,
			Found: OneLine(err), Advice: "Read the number again, on both sidewalls, and write it down as it stands.",
			Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 574.5"}}})
	}
	if len(a.Early) == early {
		a.dated = st
	}
}

// casing says what is missing of a retread: its date is that of the retreading,
// and the casing is older (49 CFR 574.5), but for one whose other sidewall has
// the casing's own, older number.
func (a *Assessment) casing(st *TireState) {
	retread, said := st.Retread.Get()
	other, err := dotcode.Parse(st.Line.OtherNumber)
	its := other.AgeOn(a.Visit.Date)
	switch {
	case said && !retread, retread && err == nil && its.Known() && st.Line.Age.Oldest.Before(its.Oldest):
		return
	case retread:
		st.Line.Casing = "its casing's own number: the date that was read is that of the retreading, and the casing is older"
	default:
		st.Line.Casing = "whether it is a retread, as its number can be: then the date is that of the retreading, and the casing is older"
	}
	a.Gap(st.Name, st.Line.Casing, "")
}

func OneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

func toLoad(e weight.Estimate) inflation.Load {
	switch e.State {
	case weight.Determined, weight.Disputed:
		return inflation.Load{Load: e.Load, PlusMinus: e.PlusMinus, State: inflation.Weighed}
	case weight.Assumed:
		return inflation.Load{Load: e.Load, PlusMinus: e.PlusMinus, State: inflation.Assumed}
	}
	return inflation.Load{}
}

// StampedWheel is what the tire's wheel allows.
func (st *TireState) StampedWheel() inflation.Wheel {
	s, _ := st.Wheel.Get()
	return inflation.Wheel{Name: st.Name, MaxLoad: s.Load, MaxPressure: s.At}
}

// AxleInput is what an axle's pressure rests on, but for its tires, wheels and
// rating.
func (a *Assessment) AxleInput(i int) inflation.AxleInput {
	v := a.Visit
	ax := &v.Axles[i]
	in := inflation.AxleInput{Name: ax.ID, Fitment: ax.Fitment, System: v.System}
	placard, said := ax.Placard.Get()
	in.Placard, _ = placard.Pressure()
	in.PlacardNone = said && in.Placard == 0
	in.GAWR, _ = ax.GAWR.Get()
	in.Step, _ = v.GaugeStep.Get()
	in.AsDriven = true // a visit does not say otherwise yet
	if len(v.Weighing.Readings) == 0 {
		return in
	}
	left, right := a.endLoad(i, weight.Left), a.endLoad(i, weight.Right)
	if left.State != weight.Assumed {
		in.Weighed.Left, in.Weighed.Right = a.heavierTire(toLoad(left), i, weight.Left), a.heavierTire(toLoad(right), i, weight.Right)
	}
	in.Weighed.Total = toLoad(a.axleLoad(i).Estimate)
	if a.Changes {
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
func (a *Assessment) heavierTire(l inflation.Load, axle int, side weight.Side) inflation.Load {
	if !a.ByWheel || a.Visit.Axles[axle].Fitment != weight.Dual || l.State == 0 {
		return l
	}
	x, y := a.Solution.Of(weight.WheelOf(axle, side, weight.Outer)), a.Solution.Of(weight.WheelOf(axle, side, weight.Inner))
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
func (a *Assessment) setAxles() {
	v, l := a.Visit, a.Layout
	a.Report.Settings = make([]inflation.Setting, 0, len(v.Axles)) // tires point into it
	wheels := make([]inflation.Wheel, len(l.Wheels))
	for i := range wheels {
		st := &a.Tires[i]
		wheels[i] = st.StampedWheel()
	}
	for i := range v.Axles {
		if !a.Counted[i] {
			continue
		}
		ax := &v.Axles[i]
		in := a.AxleInput(i)
		if a.Changes && !a.Trip.At(1, weight.AxleOf(i)).Known() {
			a.Gap(ax.ID, "what it carries after the changes for the trip", "")
		}
		if gawr, ok := ax.GAWR.Get(); ok {
			in.Ratings = []inflation.Limit{{Part: inflation.OtherRating, Name: "half of " + ax.ID + " GAWR", Load: gawr / 2}}
		}
		first, end := l.First[i], l.First[i+1]
		in.Tires, in.Wheels = a.toSet[first:end], wheels[first:end]
		s, err := inflation.SetAxle(in)
		if err != nil { // a table that does not fit this axle: the rest is still answered
			a.Gap(ax.ID, "its pressure to set: "+OneLine(err), "")
			continue
		}
		if s.Outcome == inflation.Short && s.HeaviestGoverns {
			in.Heaviest = inflation.AxleLoad{}
			weighed, err := inflation.SetAxle(in)
			a.shortOnTrip[i] = err == nil && weighed.Outcome != inflation.Short
		}
		a.Report.Settings = append(a.Report.Settings, s)
		for j := first; j < end; j++ {
			a.Tires[j].Setting = &a.Report.Settings[len(a.Report.Settings)-1]
		}
	}
}

// take sorts the findings behind the first ones into what the report lists. Of
// them only those stay that ask for something.
func (a *Assessment) take(from int) {
	stay := from
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		switch f.Verdict {
		case rules.Kept:
		case rules.NotRecorded:
			if a.AboutRunLow(f.Rule) && record.Yes(a.TireNamed(f.Name).RanLow) {
				continue // it is condemned by another reading
			}
			for _, m := range f.ToRecord() {
				a.Gap(a.Need(f, m))
			}
		default:
			if stay != i { // a finding is large
				a.Findings[stay] = *f
			}
			stay++
		}
	}
	a.Findings = a.Findings[:stay]
}

// Rank orders actions, the worst first. Those of a vocabulary that extends
// ours come after.
func (a *Assessment) Rank(action string) int {
	own := [...]string{report.DoNotDrive, report.BeforeTrip, report.Plan}
	if i := slices.Index(own[:], action); i >= 0 {
		return i
	}
	// An action nobody knows would be the worst, not lost.
	return max(0, slices.IndexFunc(a.Program.Vocabulary().Definition().Actions, func(x rules.Action) bool { return x.Name == action }))
}

// findGap finds a gap that is listed already, or gives -1. A map only pays where
// there are many.
func (a *Assessment) findGap(where, need string) int {
	if len(a.Report.Unjudged) < 16 {
		return slices.IndexFunc(a.Report.Unjudged, func(g report.NotJudged) bool { return g.Where == where && g.Need == need })
	}
	if a.Gaps == nil {
		a.Gaps = make(map[[2]string]int)
		for i, g := range a.Report.Unjudged {
			a.Gaps[[2]string{g.Where, g.Need}] = i
		}
	}
	if i, ok := a.Gaps[[2]string{where, need}]; ok {
		return i
	}
	return -1
}

func (a *Assessment) Gap(where, need, rule string) {
	i := a.findGap(where, need)
	if i < 0 {
		i = len(a.Report.Unjudged)
		if a.Gaps != nil {
			a.Gaps[[2]string{where, need}] = i
		}
		a.Report.Unjudged = append(a.Report.Unjudged, report.NotJudged{Where: where, Need: need})
	}
	g := &a.Report.Unjudged[i]
	if rule != "" && !slices.Contains(g.Rules, rule) {
		g.Rules = append(g.Rules, rule)
	}
}

// Settle makes the list of what is to be done: by action, within one the sure
// ones first, then as they were found. Entries are large, so that each is made
// in its place.
func (a *Assessment) Settle() {
	judgments := rules.Merge(a.Findings)
	now := len(judgments)
	judgments = append(judgments, rules.Merge(a.planned)...)
	early := a.Early
	var order []entry
	for i := range early {
		order = append(order, entry{4*a.Rank(early[i].Action) + int(rules.Breached-early[i].Verdict), i})
	}
	for i := range judgments {
		if act, ok := judgments[i].Action(); ok {
			act = asMeant(&judgments[i], act, i >= now)
			order = append(order, entry{4*a.Rank(act.Name) + int(rules.Breached-judgments[i].Verdict), len(early) + i})
		}
	}
	if len(order) == 0 {
		return
	}
	slices.SortFunc(order, func(x, y entry) int { return cmp.Or(cmp.Compare(x.key, y.key), cmp.Compare(x.index, y.index)) })
	w := ItemWriter{System: a.Visit.System}
	a.Report.Todo = make([]report.Item, len(order))
	for i, e := range order {
		if e.index < len(early) {
			a.Report.Todo[i] = early[e.index]
			continue
		}
		j := &judgments[e.index-len(early)]
		act, _ := j.Action()
		it, later := &a.Report.Todo[i], e.index-len(early) >= now
		w.Write(it, j, act)
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
	if planned || act.Stops && record.IsSpare(j.Findings[0].Name) {
		return rules.Action{Name: report.BeforeTrip}
	}
	return act
}

// An entry is one thing to do, not yet written: an item, or a judgment.
type entry struct{ key, index int }

// finish turns findings into the report's lists.
func (a *Assessment) finish() {
	rep := &a.Report
	a.Settle()
	for i := range rep.Todo {
		it := &rep.Todo[i]
		rep.Stops = rep.Stops || it.Stops
		// The worst comes first: an action that is there already stays.
		if st := a.TireNamed(it.Where); st != nil && st.Line.Worst == "" {
			st.Line.Worst = it.Action
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
	switch {
	case rep.Stops:
		rep.Drive = report.MustNotMove
	case rep.Worst == report.BeforeTrip:
		rep.Drive = report.BeforeTheTrip
	default:
		rep.Drive = report.NothingFound
	}
	rep.Slowest = a.slowest()
	rep.NotJudged = len(rep.Unjudged)
	for i := range rep.Settings {
		s := &rep.Settings[i]
		for c := range s.Cautions.All() {
			if c == inflation.CautionColdOnly || c == inflation.CautionThisLoadOnly {
				continue // said once for all axles
			}
			a.Caution(s.Name + ": " + c.Text())
		}
	}
	read, aged := false, false
	for i := range rep.Tires {
		read, aged = read || rep.Tires[i].Found.Is(), aged || rep.Tires[i].Age.Known()
	}
	if read && !a.Visit.GaugeTolerance.Is() {
		a.Caution("The gauge's tolerance was not written down: pressures were judged as if it read exactly.")
	}
	if aged {
		a.Caution(dotcode.Caution)
	}
	// The weightiest come last: a short page keeps the last ones.
	if a.Changes {
		a.Caution("A pressure to set holds for the load as weighed and with the changes for the trip, as planned, and for no heavier one. Weigh again once they are made.")
	} else if len(rep.Settings) > 0 {
		a.Caution("A pressure to set holds for the load as weighed and for no heavier one.")
	}
	// A pack's rule says it in the list of what is to be done; packs without
	// one leave it to this caution.
	if off, _ := a.wheelOff(); (rep.Stops || off) && !slices.ContainsFunc(a.Findings, func(f rules.Finding) bool { return f.Rule.Measure() == a.Refs.CoachWheelOff }) {
		a.Caution(CautionWheelOff)
	}
	a.Caution("A pressure is cold once the coach has stood three hours, out of the sun. Never bleed a hot tire (common practice).")
	if rep.Stops {
		a.Caution(CautionBurst)
	}
	a.Caution("Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
	rep.Cautions = a.Cautions
	rep.Packs = a.Program.Packs()
}

// An ItemWriter writes items in the units of a visit.
type ItemWriter struct {
	System weight.System
	text   []byte
}

// inOwnUnits adds to a bound that a pack writes in the other system's unit what
// it is in the visit's own, rounded to the stricter side.
func (w *ItemWriter) inOwnUnits(text []byte, f *rules.Finding) []byte {
	low, high, ok := f.Bound().Interval()
	if !ok || low != high || low == 0 {
		return text
	}
	r := weight.Ceiling
	if rel := f.Rule.Relation(); rel == rules.AtMost || rel == rules.LessThan {
		r = weight.Floor
	}
	mass, length, pressure := weight.Mass(low), weight.Length(low), inflation.Pressure(low)
	metric := w.System == weight.Metric
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

// Write says in one entry what a judgment's findings of its verdict say, led by
// the one whose action it is.
func (w *ItemWriter) Write(it *report.Item, j *rules.Judgment, act rules.Action) {
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
			it.WheelOff = it.WheelOff || f.Rule.Involves(WheelOff) && !record.IsSpare(f.Name)
			it.Rules = append(it.Rules, f.Rule.Name())
			it.Sources = f.Rule.AppendSources(it.Sources)
		}
	}
}

// takeDate takes over what another tire's equal number says.
func takeDate(t, of *report.TireLine) {
	t.Number, t.OtherNumber, t.WholeNumber = of.Number, of.OtherNumber, of.WholeNumber
	t.Made, t.Age, t.MadeBefore = of.Made, of.Age, of.MadeBefore
}

// plannedChanges are the changes for the trip as weight takes them. Stations have no
// names there: what a place holds is not counted.
func plannedChanges(t *record.Trip, system weight.System) ([]cargo.Change, error) {
	out := make([]cargo.Change, len(t.Changes))
	for i, c := range t.Changes {
		m, err := c.Mass(system)
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
func fit(t *record.Trip, rig *weight.Rig) {
	rig.Track, _ = t.Track.Get()
	rig.Coupling, _ = t.Coupling.Get()
	rig.Hitch, _ = t.Hitch.Get()
}

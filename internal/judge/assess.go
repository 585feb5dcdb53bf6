// Package judge turns a visit into facts and holds these to rules: the one
// judge behind assessments, placement, history and loading.
package judge

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// Compile loads packs by name, and those that they extend, from fsys or else from
// the shipped ones, and compiles them for [Vocabulary]. The error is an [*origin.Problems].
func Compile(fsys fs.FS, names ...string) (*rules.Program, error) {
	list, err := rules.Load(packs.Behind(fsys), names...)
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

// New returns what judges visits by a program, nil for the default one, with the
// packs of those beside for visits that ask for them. The error is that of a
// program which does not fit.
func New(program *rules.Program, tables inflation.Tables, beside ...*rules.Program) (*Assessment, error) {
	a := &Assessment{Refs: MeasuresOf(), Program: program, Tables: tables, Beside: beside}
	var err error
	if a.Program == nil {
		if a.Program, err = DefaultProgram(); err != nil {
			return nil, err
		}
	}
	for _, p := range append(slices.Clone(beside), a.Program) {
		if p == nil || p.Vocabulary() == nil {
			return nil, fmt.Errorf("%w: a program is none that was compiled", rules.ErrVocabulary)
		}
	}
	a.given = a.Program
	return a, a.newFacts()
}

// newFacts makes the facts for the program's vocabulary.
func (a *Assessment) newFacts() error {
	a.factsOf = a.Program.Vocabulary()
	for _, f := range [...]struct {
		subject string
		facts   **rules.Facts
	}{
		{"tire", &a.facts.tire[0]}, {"tire", &a.facts.tire[1]}, {"end", &a.facts.end}, {"axle", &a.facts.axle},
		{"dual_pair", &a.facts.pair}, {"group", &a.facts.group}, {"coach", &a.facts.coach}, {"combination", &a.facts.combination},
	} {
		var err error
		if *f.facts, err = a.factsOf.NewFacts(f.subject, ""); err != nil {
			return err
		}
	}
	return nil
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
	a.Early, a.Cautions, a.Gaps, a.doubt = nil, nil, nil, doubts{}
	a.Solution, a.Trip, a.Changes, a.coupled, a.ByWheel, a.shortOnTrip = weight.Solution{}, cargo.Trip{}, false, false, false, [weight.MaxAxles]bool{}
	a.Report = report.Report{
		Version: report.Version, Invented: v.Invented, Date: v.Date, System: v.System, PressureUnit: v.PressureUnit, Coach: v.Coach,
		Odometer: v.Odometer, LoadState: v.LoadState, AirTemperature: v.AirTemperature, GaugeTolerance: v.GaugeTolerance,
		Gauge: v.Gauge, ParkedFor: v.ParkedFor, NextVisit: v.NextVisit,
	}
	return a.steps()
}

// An Assessment carries one visit through its steps; each uses only what the
// ones before it found.
type Assessment struct {
	Visit   *record.Visit
	Layout  *record.Layout
	Refs    *Measures
	Program *rules.Program // that of this visit
	// Beside are packs that a visit may ask for, before the shipped ones.
	Beside          []*rules.Program
	given, together *rules.Program   // without and with what a visit asked for
	beside          []*rules.Program // what it asked for
	unfit           []string         // of these, those for other measures
	Tables          inflation.Tables
	// Watch, where there is one, sees the facts of each subject as judged.
	Watch func(*rules.Facts) error
	// Every says that every verdict goes into the report; Own sets what a program
	// knows of a subject beside the visit.
	Every bool
	Own   func(*record.Visit, *rules.Facts)
	doubt doubts

	Solution weight.Solution
	ByWheel  bool       // some reading tells the two tires of a pair apart
	asDriven bool       // the coach was weighed as it is driven, not long ago
	Trip     cargo.Trip // with the changes for it
	Changes  bool
	coupled  bool // and a trailer that was weighed apart hitched
	// shortOnTrip are the axles whose load some pressure carries as weighed, and
	// none with the changes.
	shortOnTrip [weight.MaxAxles]bool
	Counted     [weight.MaxAxles]bool             // the axles that are part of this visit
	inputs      []inflation.AxleInput             // what each axle's pressure rests on
	fitted      [weight.MaxAxles]inflation.Fitted // its tires against the placard's

	Tires       []TireState
	toSet       []inflation.Tire // the same, as inflation sees them
	fallenAlike bool             // all of the coach's tires, and none by more than by itself
	lowRules    bool             // the program judges what a tire was driven at
	cargo       *CargoLabel      // nil where there is none, or it does not say enough
	facts       facts
	factsOf     *rules.Vocabulary // that they were made for
	Findings    []rules.Finding
	all         []rules.Finding // every verdict on one subject
	ratings     twos[report.RatingLine]
	ages        twos[report.AgeLimit]
	planned     []rules.Finding // with the changes for the trip
	Report      report.Report
	Early       []report.Item // what is to be done that no rule says
	Gaps        map[[2]string]int
	Cautions    []string
}

// facts are those of one subject of each kind, and of two tires for a dual pair.
type facts struct {
	tire                                       [2]*rules.Facts
	end, axle, pair, group, coach, combination *rules.Facts
}

func (a *Assessment) steps() error {
	a.hardly()
	if err := a.choosePacks(); err != nil {
		return err
	}
	if err := a.Weigh(); err != nil {
		return err
	}
	a.expect()
	a.LoadLines()
	a.hardlyLoads()
	a.asDriven = a.wasDriven() && !a.stale() && !a.doubt.weighing && !a.hitchMissing()
	a.cargo, _ = a.CargoLabel() // what it lacks is asked for by the rules
	if err := a.CollectTires(); err != nil {
		return err
	}
	a.setAxles()
	a.holdTires()
	a.axleLines()
	if err := a.judge(); err != nil {
		return err
	}
	a.finish()
	return nil
}

func (a *Assessment) Caution(text string) {
	if text != "" && !slices.Contains(a.Cautions, text) {
		a.Cautions = append(a.Cautions, text)
	}
}

func (a *Assessment) todo(it report.Item) { a.Early = append(a.Early, it) }

// Cautions that reports of several kinds carry.
const (
	CautionBurst    = "A tire that ran low can burst while it is aired: keep clear of its sidewall and leave it to trained people."
	CautionTongue   = "Coach and trailer were weighed apart: what rests on the hitch is moved from the trailer's axles to the coach, as if the trailer was weighed with its tongue or pin on the scale. Weigh them hitched."
	cautionNotSaid  = "Nobody wrote down whether the trailer was hitched when it was weighed: what rests on the hitch is counted with the coach, as if they were weighed apart. Write it down, or weigh them hitched."
	CautionWheelOff = "Whenever a wheel comes off: the maker's torque and order, checked again after 50 to 100 miles; chocks and stands, never the levelers (common practice)."
)

// Titles of entries that no rule makes, and that another reading settles.
const (
	DateInDoubt   = "Date code in doubt"
	DatesDiffer   = "The numbers of its two sidewalls have different dates"
	RangeInDoubt  = "Load range cannot be read"
	StampsInDoubt = "Stamps on its sidewall contradict each other"
	SizesInDoubt  = "By diameter one of the duals is larger, by circumference the other"
)

func OneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

// Elsewhere is a copy for other arrangements of the tires: the loads stay, and
// what was found on the tires is to be filled in.
func (a *Assessment) Elsewhere() *Assessment {
	then := *a
	then.Tires = make([]TireState, len(a.Tires))
	then.Report = report.Report{Loads: a.Report.Loads}
	then.Findings, then.planned, then.Early, then.Gaps, then.Cautions = nil, nil, nil, nil, nil
	then.Watch, then.Every = nil, false
	return &then
}

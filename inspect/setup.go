package inspect

import (
	"io/fs"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
)

// Vocabulary returns what rules may speak of: axle ends, axles, the coach and
// the combination, tires and dual pairs with all that is measured of them,
// and the actions, the worst first. Extend it to add measures of your own.
func Vocabulary() *rules.Vocabulary { return judge.Vocabulary() }

// CompilePacks loads packs by name, and those that they extend, from fsys or else
// from the shipped ones, and compiles them for [Vocabulary]. The error is an [*origin.Problems].
func CompilePacks(fsys fs.FS, names ...string) (*rules.Program, error) {
	return judge.Compile(fsys, names...)
}

// DefaultProgram returns the default packs, compiled once.
func DefaultProgram() (*rules.Program, error) { return judge.DefaultProgram() }

// ErrAge says that a text in a pack is no age, such as "10 years".
var ErrAge = judge.ErrAge

// Setup is what a visit is judged with. The zero Setup is the default packs
// and no table: pressures are then safe estimates.
type Setup struct {
	// Program is compiled for [Vocabulary] or one that extends it. Measures that its
	// packs declare may stand in a visit, under own.
	Program *rules.Program
	// Tables are the load and inflation tables at hand, found by size.
	Tables inflation.Tables
	// EveryVerdict puts all that the rules say into [report.Report.Verdicts], kept
	// and not judged ones too.
	EveryVerdict bool
	// Facts, where it is set, is called with the facts of each subject before these
	// are judged, so that a program can set measures of its own: what subject of the
	// visit they are about is in the facts' name ("steer-left"). It must not keep
	// them.
	Facts func(visit *record.Visit, facts *rules.Facts)
	// Beside are programs whose packs a visit may ask for by name, before the
	// shipped ones; of one that it asks for, the whole program is used.
	Beside []*rules.Program
}

// Assess judges a visit. It returns a whole report also where a date code
// cannot be read or readings contradict each other: those are findings in it.
// The error is an [*origin.Problems] for a visit that is not consistent, one
// that matches [record.ErrNothing] for a visit with neither tire nor reading and
// for nil, or that of a program which does not fit; of one that nobody compiled
// it matches [rules.ErrVocabulary]. Nothing is rounded to the unsafe side:
// loads count with their plus/minus, ages with the oldest day that a code
// allows, and what was not recorded is reported as not judged.
//
// The report says what was found, never that a coach is safe. It stands beside
// the judgment of trained people and local codes, not in place of them.
func Assess(v *record.Visit, setup Setup) (report.Report, error) {
	a, err := judge.New(setup.Program, setup.Tables, setup.Beside...)
	if err != nil {
		return report.Report{}, err
	}
	a.Every, a.Own = setup.EveryVerdict, setup.Facts
	return a.Assess(v)
}

// Check reports whether visits can be judged with the setup: the error is that
// of a program which does not fit.
func (s Setup) Check() error {
	_, err := judge.New(s.Program, s.Tables, s.Beside...)
	return err
}

// Package inspect takes the record of one visit to a motorhome and gives the
// whole answer: loads, pressures to set, ages, duals, flats, and what to do.
//
//	visit, err := record.Read("visit.yaml", data)
//	report, err := inspect.Assess(visit, inspect.Setup{Tables: tables})
//	fmt.Println(report.Drive, len(report.Todo), report.NotJudged)
//
// The record is in [axleend.example/inspect/record], the answer in
// [axleend.example/inspect/report]. Beside them are packages with one job each:
// placement (which tire goes where), history (several visits of one coach),
// loading (what may be loaded, what must move), batch (many visits) and sheet
// (pages for people).
//
// # What is judged, and how
//
// No limit stands in this package: all are rules in packs, judged by
// [axleend.example/rules] on the measures that [Vocabulary] lists. Loads count
// with their worst-case plus/minus, gauges with their tolerance where a tire
// may be a flat, ages with the oldest day that a date code allows. Nobody is
// told to air up a tire that ran low, or its dual mate. A hot reading can
// condemn a tire and never clears one.
//
// [axleend.example/inspect/placement] holds other arrangements of the same tires to the same rules, and
// says which tire goes where, the steps that takes, and what has to be bought.
//
// A report says what was found, not that a coach is safe. It stands beside
// trained people's judgment, the makers' instructions and local codes.
//
// Values are plain data without shared state; a compiled program and loaded
// tables may be used by any number of goroutines.
package inspect

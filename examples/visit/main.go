// Command visit makes a visit in Go, as dealer software would from its own
// forms, assesses it, picks the report apart by its types, and stores both so that
// they read back as they were.
//
//	go run ./examples/visit /tmp
//
// Coach and readings are invented. A report does not say that a coach is safe.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"path/filepath"
	"reflect"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

func main() {
	if len(os.Args) != 2 {
		log.Fatal("visit wants a folder to store into")
	}
	if err := run(os.Stdout, os.Args[1]); err != nil {
		log.Fatal(err)
	}
}

// invented is a coach with a soft inner tire. What nobody looked at is left out.
func invented() *record.Visit {
	tire := func(at string, found inflation.Pressure, thirtySeconds weight.Length) record.Tire {
		return record.Tire{At: at, Found: record.Record(found), LastSet: record.Record(95 * inflation.PSI),
			Tread: record.Record(record.Treads{Anywhere: []weight.Length{thirtySeconds * record.ThirtySecond}})}
	}
	return &record.Visit{
		Version: record.Version, Invented: true, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Cold: record.Record(true),
		Axles: []record.Axle{
			{ID: "steer", Fitment: weight.Single, GAWR: record.Record(9500 * weight.Pound), Placard: record.Record(record.PlacardAt(95 * inflation.PSI))},
			{ID: "drive", Fitment: weight.Dual, GAWR: record.Record(17500 * weight.Pound), Placard: record.Record(record.PlacardAt(95 * inflation.PSI))},
		},
		Tires: []record.Tire{tire("steer-left", 95*inflation.PSI, 9), tire("steer-right", 94*inflation.PSI, 9), tire("drive-left-inner", 70*inflation.PSI, 8)},
		Weighing: record.Weighing{AsDriven: record.Record(true), Readings: []record.Reading{
			{Load: 8900 * weight.Pound, On: []string{"drive-left"}}, {Load: 8100 * weight.Pound, On: []string{"drive-right"}}}},
	}
}

func run(out io.Writer, folder string) error {
	made := invented()
	answer, err := inspect.Assess(made, inspect.Setup{}) // with your own tables: inspect.Setup{Tables: tables}
	if err != nil {
		return err // all that is inconsistent, at once
	}
	if answer.Drive.Stops() {
		fmt.Fprintln(out, "the coach stays here:", answer.Drive)
	}
	if t := answer.Tire("drive-left-inner"); t.Low == report.Flat || t.Air == report.AirForbidden {
		fmt.Fprintf(out, "%s: %s; air: %s\n", t.At, t.Low, t.Air)
	}
	if end := answer.Load("drive-left"); end.Estimate.Known() {
		for _, r := range end.Ratings {
			fmt.Fprintf(out, "%s: %s +/- %s, %s of %s: %s\n", end.Name, end.Estimate.Load, end.Estimate.PlusMinus, r.Name, r.Rating, r.Verdict)
		}
	}
	for _, it := range answer.Todo {
		if it.Action.Compare(report.BeforeTrip) <= 0 && it.Stops {
			fmt.Fprintf(out, "%s: %s: %s\n", it.Where, it.What, it.Advice)
		}
	}
	fmt.Fprintln(out, answer.NotJudged, "things were not judged")

	asFile, err1 := record.Marshal(made) // the file that a person may go on with
	asJSON, err2 := json.Marshal(answer) // the report, exactly
	visitFile, reportFile := filepath.Join(folder, "visit.yaml"), filepath.Join(folder, "report.json")
	if err := errors.Join(err1, err2, os.WriteFile(visitFile, asFile, 0o644), os.WriteFile(reportFile, asJSON, 0o644)); err != nil {
		return err
	}
	again, err1 := record.Read(visitFile, asFile)
	back, err2 := report.Read(reportFile, asJSON)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	other, err := inspect.Assess(again, inspect.Setup{})
	fmt.Fprintln(out, "read back, the same:", reflect.DeepEqual(back, answer) && reflect.DeepEqual(other, answer))
	return err
}

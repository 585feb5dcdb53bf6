package report_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

func ExampleDrive_Stops() {
	fmt.Println(report.NotAtThisPressure, report.NotAtThisPressure.Stops(), report.BeforeTheTrip.Stops())
	// Output: not at this pressure true false
}

func ExampleDueVisitAfter() {
	visit, next := dotcode.Date{Year: 2026, Month: 10, Day: 3}, dotcode.Date{Year: 2027, Month: 4, Day: 1}
	due := report.DueTorqueAfter(visit, false, []string{"steer-left"})
	due = append(due, report.DueVisitAfter(visit, record.Record(next)))
	for _, d := range due {
		fmt.Println(d.On, d.Kind, d.Where, d.Source)
	}
	// Output:
	// 2026-10-04 torque check [steer-left] common practice
	// 2027-04-01 next visit [] the last visit (common practice)
}

func ExampleReport_Due() {
	made := dotcode.Date{Year: 2022, Month: 5, Day: 29}
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	limits := []report.AgeLimit{{Age: dotcode.Span{Years: 5}, Kind: report.DueInspection}, {Age: dotcode.Span{Years: 10}, Kind: report.DueReplacement}}
	r := report.Report{Date: day, Tires: []report.TireLine{{At: "steer-left", Age: dotcode.Age{Oldest: made, Youngest: made, On: day}, AgeLimits: limits}}}
	for _, d := range r.Due() {
		fmt.Println(d.On, d.Kind, d.Where)
	}
	for _, d := range report.SortDue(append(report.DueOfAge("spare", r.Tires[0].Age, limits), report.DueAt(day, report.DueColdCheck))) {
		fmt.Println(d.On, d.Kind, d.Where)
	}
	// Output:
	// 2027-05-29 yearly inspection [steer-left]
	// 2027-10-03 next visit []
	// 2032-05-29 replacement by age [steer-left]
	// 2026-10-03 cold check []
	// 2027-05-29 yearly inspection [spare]
	// 2032-05-29 replacement by age [spare]
}

func ExampleReport_Tire() {
	r := report.Report{
		Axles:    []report.AxleLine{{ID: "drive", Role: record.Drive}},
		Loads:    []report.LoadLine{{Name: "drive-left", Kind: report.EndLoad, Estimate: weight.Estimate{Load: 8960 * weight.Pound}}},
		Settings: []inflation.Setting{{Name: "drive", Set: 110 * inflation.PSI}},
		Tires:    []report.TireLine{{At: "drive-left-inner", Low: report.Flat, Air: report.AirForbidden}},
		Pairs:    []report.PairLine{{Name: "drive-left", Inside: "drive-left-inner"}},
	}
	fmt.Println(r.Axle("drive").Role, r.Load("drive-left").Estimate.Load, r.Setting("drive").Set, r.Pair("drive-left").Inside)
	fmt.Println(r.Tire("drive-left-inner").Low, r.Tire("spare") == nil)
	// Output:
	// drive 8960 lb 110 psi drive-left-inner
	// flat true
}

func ExampleAction_Compare() {
	todo := []report.Action{report.Plan, "", report.DoNotDrive, "call_the_owner", report.BeforeTrip}
	slices.SortFunc(todo, report.Action.Compare)
	fmt.Printf("%q\n", todo)
	// Output: ["do_not_drive" "before_trip" "plan" "call_the_owner" ""]
}

func ExampleAgeLimit_On() {
	made := dotcode.Date{Year: 2022, Month: 5, Day: 29}
	age := dotcode.Age{Oldest: made, Youngest: made, On: dotcode.Date{Year: 2026, Month: 10, Day: 3}}
	limit := report.AgeLimit{Age: dotcode.Span{Years: 10}, Kind: report.DueReplacement}
	fmt.Println(limit.On(age))
	limit.Until = true
	fmt.Println(limit.On(age))
	// Output:
	// 2032-05-29 true
	// 2032-05-30 true
}

// A program that writes many reports lends one room to all of them.
func ExampleReport_AppendJSON() {
	var line []byte
	for _, coach := range []string{"Invented coach", "Another"} {
		r := report.Report{Coach: coach}
		var err error
		if line, err = r.AppendJSON(line[:0]); err != nil {
			fmt.Println(err)
			return
		}
		text, err := json.Marshal(r)
		fmt.Println(r.Coach, bytes.Equal(line, text), err)
	}
	// Output:
	// Invented coach true <nil>
	// Another true <nil>
}

func ExampleSetTo() {
	at := func(psi inflation.Pressure) record.Recorded[inflation.Pressure] {
		return record.Record(psi * inflation.PSI)
	}
	fmt.Println(report.SetTo(at(92), at(100)))
	fmt.Println(report.SetTo(at(100), at(100))) // nothing to read again in 24 hours
	// Output:
	// true
	// false
}

package report_test

import (
	"fmt"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
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
	r := report.Report{Date: day, Tires: []report.TireLine{{At: "steer-left", Age: dotcode.Age{Oldest: made, Youngest: made, On: day}}}}
	for _, d := range r.Due() {
		fmt.Println(d.On, d.Kind, d.Where)
	}
	for _, d := range report.SortDue(append(report.DueOfAge("spare", r.Tires[0].Age), report.DueAt(day, report.DueColdCheck))) {
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

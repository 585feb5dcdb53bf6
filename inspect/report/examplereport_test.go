package report_test

import (
	"encoding/json"
	"fmt"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

func ExampleReport_AppendJSON() {
	report, err := inspect.Assess(&record.Visit{
		Version: record.Version,
		Date:    dotcode.Date{Year: 2026, Month: 10, Day: 3},
		Axles:   []record.Axle{{ID: "steer", Fitment: weight.Single}},
		Tires:   []record.Tire{{At: "steer-left", Found: record.Record(95 * inflation.PSI)}},
	}, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	quick, err := report.AppendJSON(nil)
	usual, err2 := json.Marshal(report)
	fmt.Println(string(quick) == string(usual), err, err2)
	// Output: true <nil> <nil>
}

func ExampleDrive_Stops() {
	fmt.Println(report.NotAtThisPressure, report.NotAtThisPressure.Stops(), report.BeforeTheTrip.Stops())
	// Output: not at this pressure true false
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

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

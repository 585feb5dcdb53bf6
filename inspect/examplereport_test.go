package inspect_test

import (
	"encoding/json"
	"fmt"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/weight"
)

func ExampleReport_AppendJSON() {
	report, err := inspect.Assess(&inspect.Visit{
		Version: inspect.VisitVersion,
		Date:    dotcode.Date{Year: 2026, Month: 10, Day: 3},
		Axles:   []inspect.Axle{{ID: "steer", Fitment: weight.Single}},
		Tires:   []inspect.Tire{{At: "steer-left", Found: inspect.Record(95 * inflation.PSI)}},
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

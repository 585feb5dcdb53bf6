package inspect_test

import (
	"encoding/json"
	"fmt"

	"axleend.example/inspect"
)

func ExampleReport_AppendJSON() {
	report, err := inspect.Assess(exampleVisit(), inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	quick, err := report.AppendJSON(nil)
	usual, err2 := json.Marshal(report)
	fmt.Println(string(quick) == string(usual), err, err2)
	// Output: true <nil> <nil>
}

package report_test

import (
	"fmt"

	"axleend.example/inspect/report"
)

func ExampleItem_SaysAs() {
	left := report.Item{Where: "steer-left", What: "Bulge", Stops: true, Found: "seen"}
	right, later := left, left
	right.Where, right.Found = "steer-right", "1 in"
	later.Stops = false
	fmt.Println(left.SaysAs(&right), left.SaysAs(&later))
	// Output: true false
}

package report_test

import (
	"fmt"
	"reflect"
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

func ExampleItem_SaysAs() {
	left := report.Item{Where: "steer-left", What: "Bulge", Stops: true, Found: "seen"}
	right, later := left, left
	right.Where, right.Found = "steer-right", "1 in"
	later.Stops = false
	fmt.Println(left.SaysAs(&right), left.SaysAs(&later))
	// Output: true false
}

// TestSaysAs: two entries that differ in where, found or bound alone say the same, and
// so do their sources and what the advice has to do with wheel and air; any other
// difference makes two of them, whichever is asked.
func TestSaysAs(t *testing.T) {
	one := report.Item{Action: report.BeforeTrip, Verdict: rules.TooClose, Where: "a", What: "b", Found: "c", Bound: "d", Advice: "e", Causes: []string{"f"}, Rules: []string{"g"}}
	other := reflect.ValueOf(report.Item{Action: report.Plan, Stops: true, Verdict: rules.Breached, Where: "A", What: "B", Found: "C", Bound: "D", Advice: "E", Causes: []string{"F"}, WheelOff: true, Air: true, OnlyAir: true, Rules: []string{"G"}, Sources: []origin.Source{{Grade: origin.Computed}}})
	apart := map[string]bool{"Action": true, "Stops": true, "Verdict": true, "What": true, "Advice": true, "Causes": true, "Rules": true}
	for i, field := range reflect.VisibleFields(other.Type()) {
		x := one
		reflect.ValueOf(&x).Elem().Field(i).Set(other.Field(i))
		if got := one.SaysAs(&x); got == apart[field.Name] || got != x.SaysAs(&one) {
			t.Errorf("another %s says the same: %v", field.Name, got)
		}
	}
}

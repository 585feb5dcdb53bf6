package sheet_test

import (
	"bytes"
	"fmt"
	"strings"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

// Two visits of an invented coach.
func exampleVisits() []*record.Visit {
	var visits []*record.Visit
	for _, text := range []string{`
visit: 1
date: 2026-03-17
odometer: 20,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 94 psi, tread: 10/32 in}]
`, `
visit: 1
date: 2026-10-03
odometer: 28,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 76 psi, tread: 8/32 in}]
`} {
		v, err := record.Read("visit.yaml", []byte(text))
		if err != nil {
			fmt.Println(err)
			return nil
		}
		visits = append(visits, v)
	}
	return visits
}

func ExampleHistoryText() {
	history, err := history.Compare(exampleVisits(), inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	worst, _, _ := strings.Cut(sheet.HistoryText(history, sheet.TextOptions{}), ": ")
	before, _, _ := strings.Cut(sheet.SinceLastVisit(history), ".")
	fmt.Println(worst)
	fmt.Println(before)
	// Output:
	// DO NOT DRIVE
	// The visit before was on 2026-03-17, 8,000 mi ago
}

func ExampleHistoryHTML() {
	history, err := history.Compare(exampleVisits(), inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var page bytes.Buffer
	if err := sheet.HistoryHTML(&page, history); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Contains(page.String(), "Tread of steer-left"), strings.Contains(page.String(), "<script"))
	// Output: true false
}

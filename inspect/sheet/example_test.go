package sheet_test

import (
	"bytes"
	"fmt"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

func exampleReport() report.Report {
	visit, err := record.Read("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
coach: an invented coach
axles: [{id: steer, fitment: single, placard: 100 psi}]
tires: [{at: steer-left, found: 79 psi}, {at: steer-right, found: 99 psi}]
`))
	if err != nil {
		panic(err)
	}
	report, err := inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		panic(err)
	}
	return report
}

func ExampleText() {
	page := sheet.Text(exampleReport(), sheet.TextOptions{})
	answer, _, _ := strings.Cut(page, "\n")
	fmt.Println(answer)
	// Output: DO NOT DRIVE: steer-left
}

func ExampleHTML() {
	var page bytes.Buffer
	if err := sheet.HTML(&page, exampleReport(), sheet.HTMLOptions{OneSheet: true}); err != nil {
		fmt.Println(err)
		return
	}
	for _, want := range []string{"<h2>DO NOT DRIVE: steer-left</h2>", "SET <b>100</b> psi", "DO NOT AIR UP steer-left", "<script"} {
		fmt.Println(want, strings.Contains(page.String(), want))
	}
	// Output:
	// <h2>DO NOT DRIVE: steer-left</h2> true
	// SET <b>100</b> psi true
	// DO NOT AIR UP steer-left true
	// <script false
}

func ExampleActionWords() {
	fmt.Println(sheet.ActionWords(report.DoNotDrive))
	fmt.Println(sheet.ActionWords(report.BeforeTrip))
	fmt.Println(sheet.ActionWords(""))
	// Output:
	// DO NOT DRIVE
	// BEFORE THE TRIP
	// nothing found
}

func ExampleList() {
	list := sheet.List([]batch.Line{{Coach: "an invented coach", Drive: report.MustNotMove, First: "Bulge", Where: []string{"steer-left", "steer-right"}, File: "a.yaml", Stops: 2, Before: 3}}, sheet.TextOptions{})
	_, coaches, _ := strings.Cut(list, "\n\n") // behind how many there are
	fmt.Print(coaches)
	// Output:
	// coach              where, and the worst there  more
	// DO NOT DRIVE
	//   an invented coach  steer-left +1: Bulge           4
}

func ExampleCalendar() {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	var file bytes.Buffer
	if err := sheet.Calendar(&file, "an invented coach", day, []report.Due{report.DueAt(day.AddDays(1), report.DueTorque)}); err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(file.String()) {
		if strings.HasPrefix(line, "DTSTART") || strings.HasPrefix(line, "SUMMARY") {
			fmt.Println(strings.TrimSpace(line))
		}
	}
	// Output:
	// DTSTART;VALUE=DATE:20261004
	// SUMMARY:Check the wheel nuts again\, 50 to 100 miles after a wheel was off
}

// A form to fill in by hand: the coach's axles are enough.
func ExampleForm() {
	v := record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{
		{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual},
	}}
	var page strings.Builder
	if err := sheet.Form(&page, &v); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Count(page.String(), `<span class="no">`), "numbers, for six tires in three bands")
	// Output:
	// 18 numbers, for six tires in three bands
}

package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// TestListTellsCoachesOfOneNameApart: by their files, or by line and day; a coach
// without a name is called by its file alone.
func TestListTellsCoachesOfOneNameApart(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	text := sheet.List([]batch.Line{
		{Coach: "twin", File: "a.yaml", Date: day, Drive: report.NothingFound}, {Coach: "twin", File: "b.yaml", Date: day, Drive: report.NothingFound},
		{Coach: "twin", Line: 7, Date: day, Drive: report.NothingFound}, {File: "c.yaml", Problem: "no visit"},
		{Coach: "twin", Line: 8, Date: day, Drive: report.BeforeTheTrip, First: "Cap", Where: []string{"steer-left", "steer-right"}, Before: 1},
	}, sheet.TextOptions{})
	for _, want := range []string{"- twin, a.yaml\n", "- twin, b.yaml\n", "- twin, line 7, 2026-10-03\n", "- c.yaml: no visit\n", "- twin, line 8, 2026-10-03: Cap (steer-left, steer-right)\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the list:\n%s", want, text)
		}
	}
}

// TestListCountsAsThePage: what stops and what comes before the trip are as many as
// the page has numbers for.
func TestListCountsAsThePage(t *testing.T) {
	for _, file := range []string{"../../examples/demo/visit.yaml", "testdata/three-axle.yaml"} {
		r := demo(t, file)
		l := batch.NewLine(batch.Answer{Report: &r})
		numbers := 0
		text := sheet.Text(r, sheet.TextOptions{Full: true})
		_, todo, _ := strings.Cut(text, "To do, worst first")
		for line := range strings.Lines(todo) {
			if head, _, ok := strings.Cut(strings.TrimSpace(line), ". "); ok && len(head) <= 2 && strings.Trim(head, "0123456789") == "" {
				numbers++
			}
		}
		if got := l.Stops + l.Before + l.Later; got != numbers || numbers == 0 {
			t.Errorf("%s: the list counts %d, the page %d", file, got, numbers)
		}
	}
}

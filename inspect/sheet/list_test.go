package sheet_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// TestListTellsCoachesOfOneNameApart: by their files, or by their lines; a coach
// without a name is called by its file alone.
func TestListTellsCoachesOfOneNameApart(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	text := sheet.List([]batch.Line{
		{Coach: "twin", File: "a.yaml", Date: day, Drive: report.NothingFound}, {Coach: "twin", File: "b.yaml", Date: day, Drive: report.NothingFound, NotJudged: 3},
		{Coach: "twin", Line: 7, Date: day, Drive: report.NothingFound}, {Coach: "of one name", File: "d.yaml", Date: day, Drive: report.NothingFound}, {File: "c.yaml", Problem: "no visit"},
		{Coach: "twin", Line: 8, Date: day, Drive: report.BeforeTheTrip, First: "Cap", Where: []string{"steer-left", "steer-right"}, Before: 1},
	}, sheet.TextOptions{})
	for _, want := range []string{"  a.yaml, twin\n", "  b.yaml, twin  3 not judged\n", "  line 7, twin\n", "  of one name\n", "  c.yaml        no visit\n", "  line 8, twin  steer-left +1: Cap\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the list:\n%s", want, text)
		}
	}
}

// TestListHasALineForEachCoach: at 80 columns and more, however long the names are;
// what is cut says so, the answer, the first place, how much more there is and the
// day stand whole, and nothing is cut where there is room.
func TestListHasALineForEachCoach(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	var lines []batch.Line
	for i := range 40 {
		lines = append(lines, batch.Line{
			Coach: strings.Repeat("Invented coach ", 1+i%5) + fmt.Sprint(i), File: fmt.Sprintf("visit-%d.yaml", i), Date: day,
			Drive: report.Drive(1 + i%4), First: strings.Repeat("Some long title of what is wrong ", 1+i%3), Where: []string{"drive-right-inner", "spare"}[:1+i%2],
			Stops: 1 + i, Before: 3, NotJudged: 9, Due: report.DueAt(day.AddDays(i), report.DueTorque),
		})
	}
	for _, called := range []string{"", "an invented customer with a long name"} {
		for i := range lines {
			lines[i].Call = called
		}
		batch.SortLines(lines)
		for _, wide := range []int{80, 100, 130, 300} {
			text := sheet.List(lines, sheet.TextOptions{Columns: wide})
			rows := 0
			for line := range strings.Lines(text) {
				if n := columnsOf(strings.TrimSuffix(line, "\n")); n > wide {
					t.Errorf("%d wide: %d columns: %q", wide, n, line)
				}
				if strings.Contains(line, "drive-right-inner") {
					rows++
					if m := regexp.MustCompile(`drive-right-inner( \+1)?: .* \d+  2026-1\d-\d\d`); !m.MatchString(line) || strings.Contains(line, "...") && wide == 300 {
						t.Errorf("%d wide: %q", wide, line)
					}
				}
			}
			if said := strings.Contains(text, "Text cut off with ..."); rows != len(lines) || said != (strings.Count(text, "...") > 1) || said == (wide == 300) {
				t.Errorf("%d wide: %d lines, want %d:\n%s", wide, rows, len(lines), text)
			}
		}
	}
}

// TestListSaysWhatTheFirstLineSays: a coach of which only a spare has something to do
// stands apart from those of which nothing was found, and is counted so.
func TestListSaysWhatTheFirstLineSays(t *testing.T) {
	text := sheet.List([]batch.Line{
		{Coach: "old spare", Drive: report.NothingFound, First: "Too old", Where: []string{"spare"}, Before: 1}, {Coach: "sound", Drive: report.NothingFound, First: "Weather cracking", Where: []string{"steer-left"}, Later: 1},
	}, sheet.TextOptions{})
	for _, want := range []string{"Nothing but at the spare: 1. Nothing found: 1.", "NOTHING FOUND BUT AT THE SPARE\n  old spare  spare: Too old\nNOTHING FOUND IN WHAT WAS RECORDED\n  sound      steer-left: Weather cracking\n"} {
		if !strings.Contains(spaced(text), spaced(want)) {
			t.Errorf("%q is not in the list:\n%s", want, text)
		}
	}
	if text := sheet.List(nil, sheet.TextOptions{}); strings.Count(text, "\n") > 2 || !strings.HasPrefix(text, "0 coaches. ") {
		t.Errorf("an empty list: %q", text)
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

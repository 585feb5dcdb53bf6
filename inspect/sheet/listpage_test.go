package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/inspect/batch"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// shopLines have one record of each answer, sorted.
func shopLines() []batch.Line {
	return []batch.Line{
		{Coach: "one", Drive: report.MustNotMove, First: "Bulge", Where: []string{"steer-left"}, Stops: 1, Date: visited, Due: report.DueAt(visited, report.DueTorque)},
		{Coach: "two", Drive: report.NotAtThisPressure, First: "Low", Where: []string{"steer-left", "steer-right", "spare"}, Stops: 1, Before: 1},
		{Coach: "bad", Problem: "line 3: no date", File: "bad.yaml"},
		{Coach: "three", Drive: report.BeforeTheTrip, First: "Worn", Where: []string{"steer-left"}, Stops: 2, Before: 9, Call: "an invented number"},
		{Coach: "four", Drive: report.BeforeTheTrip, First: "Read it", Before: 1},
		{Drive: report.NothingFound, First: "Old", Where: []string{"spare"}, Before: 1, File: "five.yaml"},
		{Drive: report.NothingFound, NotJudged: 2, Line: 6},
		{Drive: report.NothingFound, Line: 7, Later: 1, First: "Wear", Where: []string{"steer-left"}, NotJudged: 2, Date: visited},
	}
}

// TestListAsPrinted: a line for each coach below its answer; a column is as wide as it
// needs to be, and left out where nothing stands in it; what falls due is named from 110
// columns on, and a page under 80 breaks its lines.
func TestListAsPrinted(t *testing.T) {
	t.Parallel()
	all := shopLines()
	const (
		head = "8 coaches. Must not leave: 2. Could not be judged: 1. Something to do before the trip: 2. Nothing but at the spare: 1. Nothing found: 2.\n\n"
		wide = `  coach      where, and the worst there  more  due                      call
DO NOT DRIVE
  one        steer-left: Bulge                 2026-10-03 torque check
NOT AT THIS PRESSURE
  two        steer-left +2: Low             1
COULD NOT BE JUDGED
  bad        line 3: no date
BEFORE THE TRIP
  three      steer-left: Worn              10                           an invented number
  four       Read it
NOTHING FOUND BUT AT THE SPARE
  five.yaml  spare: Old
NOTHING FOUND IN WHAT WAS RECORDED
  line 6     2 not judged
  line 7     steer-left: Wear
`
		narrow = `
  coach      where, and the worst there
    more  due         call
DO NOT DRIVE
  one        steer-left: Bulge
    2026-10-03
NOT AT THIS PRESSURE
  two        steer-left +2: Low
    1
`
	)
	page := func(lines []batch.Line, columns int) string {
		return sheet.List(lines, sheet.TextOptions{Columns: columns})
	}
	brief := strings.NewReplacer("2026-10-03 torque check", "2026-10-03", "due                      call", "due         call", "10                           an", "10              an").Replace(wide)
	for _, c := range []struct {
		columns int
		want    string
	}{{unbroken, head + wide}, {110, "\n\n" + wide}, {109, "\n\n" + brief}, {80, "\n\n" + brief}, {79, "\n\n" + brief}, {40, narrow}} {
		if got := page(all, c.columns); !strings.Contains(got, c.want) || c.columns != 40 && !strings.HasSuffix(got, c.want) || strings.Contains(got, "...") {
			t.Errorf("%d columns: want %q:\n%s", c.columns, c.want, got)
		}
	}
	for n, want := range map[int]string{
		0: "0 coaches. Must not leave: 0. Could not be judged: 0. Something to do before the trip: 0. Nothing found: 0.\n",
		1: "1 coach. Must not leave: 1. Could not be judged: 0. Something to do before the trip: 0. Nothing found: 0.\n\n  coach  where, and the worst there  due\nDO NOT DRIVE\n  one    steer-left: Bulge           2026-10-03 torque check\n",
		4: "4 coaches. Must not leave: 2. Could not be judged: 1. Something to do before the trip: 1. Nothing found: 0.\n\n  coach  where, and the worst there  more  due                      call\nDO NOT DRIVE\n",
	} {
		if got := page(all[:n], unbroken); !strings.HasPrefix(got, want) {
			t.Errorf("%d lines: want %q first:\n%s", n, want, got)
		}
	}
}

// TestListCutsNamesFirst: down to 16 columns, or what tells them apart and a cut, then
// whom to call to 10, then the worst; the rest stands whole. What is cut ends in three
// points and the page says where all of it is.
func TestListCutsNamesFirst(t *testing.T) {
	t.Parallel()
	due := report.DueAt(visited, report.DueTorque)
	lines := []batch.Line{
		{Coach: "a coach with a very long name, longer than any column", Drive: report.MustNotMove, First: "A title that is long, too: longer than what is left of a line of eighty", Where: []string{"drive-right-inner"}, Stops: 12, Date: visited, Due: due, Call: "an invented person"},
		{Coach: "a coach with a very long name, longer than any other", File: "visit-2.yaml", Drive: report.MustNotMove, First: "A title", Where: []string{"drive-right-inner"}, Stops: 1, Date: visited, Due: due},
	}
	const cut = "Text cut off with ... is whole in the list's CSV and on the coach's page.\n\n"
	for wide, want := range map[int]string{
		80: cut + "  coach             where, and the worst there      more  due         call\nDO NOT DRIVE\n" +
			"  a coach with...   drive-right-inner: A title...     11  2026-10-03  an...\n  visit-2.yaml...   drive-right-inner: A title            2026-10-03\n",
		110: cut + "  coach             where, and the worst there                       more  due                      call\nDO NOT DRIVE\n" +
			"  a coach with...   drive-right-inner: A title that is long...         11  2026-10-03 torque check  an...\n  visit-2.yaml...   drive-right-inner: A title                             2026-10-03 torque check\n",
		180: cut + "  coach                                where, and the worst there                                                                  more  due                      call\nDO NOT DRIVE\n" +
			"  a coach with a very long name...     drive-right-inner: A title that is long, too: longer than what is left of a line of eighty    11  2026-10-03 torque check  an invented person\n" +
			"  visit-2.yaml, a coach with a...      drive-right-inner: A title                                                                        2026-10-03 torque check\n",
		198: "found: 0.\n\n  coach                                                  where, and the worst there                                                                  more  due                      call\nDO NOT DRIVE\n" +
			"  a coach with a very long name, longer than any column  drive-right-inner: A title that is long, too: longer than what is left of a line of eighty    11  2026-10-03 torque check  an invented person\n" +
			"  a coach with a very long name, longer than any other   drive-right-inner: A title                                                                        2026-10-03 torque check\n",
	} {
		if got := sheet.List(lines, sheet.TextOptions{Columns: wide}); !strings.HasSuffix(got, want) {
			t.Errorf("%d wide: want %q:\n%s", wide, want, got)
		}
	}
	// Two spaces each, names of 53, the worst 90, more 4, due 23 and call 18: 198 (computed).
	if got := sheet.List(lines, sheet.TextOptions{Columns: 197}); !strings.Contains(got, cut) {
		t.Errorf("one column less cuts nothing:\n%s", got)
	}
}

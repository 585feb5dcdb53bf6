package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/report"
)

// A setting of the front is how tightly it is set, in tenths of a millimeter: a line of
// an entry, and what stands between two entries.
type frontSet struct {
	name          string
	line, between int
	moved         bool // the tires, to the back
}

// The sizes are 10, 9, 8 and 7 points of 3.528 tenths of a millimeter, cut to whole
// tenths: 35, 31, 28 and 24. A line is 1.23 of that, and 0.3 stand between (computed).
var frontSets = []frontSet{{"roomy", 43, 10, false}, {"dense", 38, 9, false}, {"dense", 38, 9, true}, {"tight", 34, 8, true}, {"least", 29, 7, true}}

// filled adds entries before the trip that are so high together at a setting: each has
// words of which a line holds one. It reports false where no whole lines are so high.
func (f frontSet) filled(r report.Report, high int) (report.Report, bool) {
	for lines := high / (f.line + f.between); lines*f.line < high; lines++ {
		n, odd := (high-lines*f.line)/f.between, (high-lines*f.line)%f.between
		if odd != 0 || n < 1 || n > lines {
			continue
		}
		r.Todo = slices.Clone(r.Todo)
		for i := range n {
			words := lines / n
			if i < lines%n {
				words++
			}
			r.Todo = append(r.Todo, report.Item{Action: report.BeforeTrip, Where: "x", What: strings.TrimSpace(strings.Repeat(fmt.Sprintf("%032d ", i), words))})
		}
		return r, true
	}
	return r, false
}

// next is the least height of more lines than so high.
func (f frontSet) next(r report.Report, high int) report.Report {
	for high++; ; high++ {
		if full, ok := f.filled(r, high); ok {
			return full
		}
	}
}

// setOf is how a page is set, by its place in frontSets; one more where it runs over.
func setOf(t *testing.T, page string) int {
	t.Helper()
	if strings.Contains(page, "Page 1 takes more than one side") {
		return len(frontSets)
	}
	_, name, _ := strings.Cut(page, `<article class="sheet `)
	name, _, _ = strings.Cut(name, `"`)
	moved := strings.Contains(page, "Page 2 has every tire")
	at := slices.IndexFunc(frontSets, func(f frontSet) bool { return f.name == name && f.moved == moved })
	if at < 0 {
		t.Fatalf("set as %q, tires moved %v", name, moved)
	}
	return at
}

// TestRoomOnTheFront: how high what comes before the trip may be on a front of seven
// tires at each setting, in tenths of a millimeter, before the next tighter one is chosen,
// and what other things on the page take of that (as the sheet reckons; that a page so
// full fits paper is held by a browser in internal/browsercheck). Lines and gaps cannot
// be every height, so a figure may be up to 8 less than the room there is.
func TestRoomOnTheFront(t *testing.T) {
	t.Parallel()
	five := visited.AddYears(-5)
	for _, c := range []struct {
		name string
		set  func(r *report.Report)
		room [5]int // as frontSets
	}{
		{"plainly", func(r *report.Report) {}, [5]int{1046, 1244, 1637, 1664, 1705}},
		{"a short name", func(r *report.Report) { r.Coach = "x" }, [5]int{1046, 1244, 1637, 1664, 1705}},
		{"a name of two lines", func(r *report.Report) { r.Coach = strings.Repeat("W", 30) }, [5]int{977, 1176, 1568, 1596, 1637}},          // 68 less
		{"a name of three lines", func(r *report.Report) { r.Coach = strings.Repeat("W", 60) }, [5]int{910, 1107, 1501, 1528, 1569}},        // as much again
		{"a line more of facts", func(r *report.Report) { r.LoadState = strings.Repeat("W", 60) }, [5]int{1003, 1206, 1599, 1630, 1676}},    // a line less
		{"two lines more", func(r *report.Report) { r.LoadState = strings.Repeat("W", 120) }, [5]int{960, 1168, 1561, 1596, 1647}},          // as much again
		{"gaps", func(r *report.Report) { r.Unjudged, r.NotJudged = make([]report.NotJudged, 3), 3 }, [5]int{1046, 1244, 1637, 1664, 1705}}, // said on the same line
		{"one thing now", func(r *report.Report) {
			r.Todo, r.Drive = items(report.DoNotDrive, "Bulge", "steer-left"), report.MustNotMove
		}, [5]int{910, 1105, 1514, 1550, 1603}}, // a heading and an entry less
		{"two things now", func(r *report.Report) {
			r.Todo, r.Drive = append(items(report.DoNotDrive, "Bulge", "steer-left"), items(report.DoNotDrive, "Cord", "steer-right")...), report.MustNotMove
		}, [5]int{781, 1004, 1467, 1508, 1567}}, // an entry less, and a word more beside another tire
		{"one thing later", func(r *report.Report) { r.Todo = items(report.Plan, "Old", "steer-left") }, [5]int{1046, 2299, 2617, 2616, 2617}}, // before has both columns then
		{"a pressure to set", func(r *report.Report) { r.Settings = []inflation.Setting{aSetting()} }, [5]int{1046, 1244, 1637, 1664, 1705}},   // beside the drawing
		{"no air in one tire", func(r *report.Report) { r.Tires[0].Air = report.AirForbidden }, [5]int{1046, 1244, 1637, 1664, 1705}},
		{"no air in one, asked of another", func(r *report.Report) { r.Tires[0].Air, r.Tires[2].Air = report.AirForbidden, report.AirNotKnown }, [5]int{1046, 1235, 1637, 1664, 1705}},
		{"no air in any, or asked", func(r *report.Report) {
			for i := range 6 {
				r.Tires[i].Air = [...]report.Air{report.AirNotKnown, report.AirForbidden}[i%2]
			}
		}, [5]int{708, 973, 1459, 1518, 1657}},
		{"a whole number", func(r *report.Report) { r.Tires[0].Number, r.Tires[0].WholeNumber = strings.Repeat("1", 13), true }, [5]int{1046, 1244, 1637, 1664, 1705}},
		{"a number in doubt", func(r *report.Report) { r.Tires[0].Number = strings.Repeat("1", 15) }, [5]int{1046, 1228, 1637, 1664, 1705}},
		{"two numbers", func(r *report.Report) {
			r.Tires[0].Number, r.Tires[0].OtherNumber = strings.Repeat("1", 13), strings.Repeat("1", 13)
		}, [5]int{937, 1190, 1637, 1664, 1705}},
		{"a spare of a long name", func(r *report.Report) { r.Tires[6].At = strings.Repeat("x", 24) }, [5]int{970, 1213, 1637, 1664, 1705}},
		{"a hot tire", func(r *report.Report) { r.Tires[0].Hot = true }, [5]int{1046, 1244, 1637, 1664, 1705}}, // the other side is the longer
		{"hot tires", func(r *report.Report) {
			for i := range r.Tires {
				r.Tires[i].Hot = true
			}
		}, [5]int{980, 1120, 1637, 1664, 1705}},
		{"no spare", func(r *report.Report) { r.Tires = r.Tires[:6] }, [5]int{1109, 1298, 1637, 1664, 1705}}, // a row more
		{"an age ahead", func(r *report.Report) {
			r.Tires[0].Age, r.Tires[0].AgeLimits = dotcode.Age{On: visited, Oldest: five, Youngest: five}, []report.AgeLimit{{Age: dotcode.Span{Years: 10}}}
		}, [5]int{1046, 1244, 1637, 1664, 1705}}, // in the other column
	} {
		r := sevenTires()
		r.Drive = report.BeforeTheTrip
		c.set(&r)
		for i, f := range frontSets {
			full, ok := f.filled(r, c.room[i])
			if got := setOf(t, page1(t, full)); !ok || got > i {
				t.Errorf("%s, %s: %d do not fit: set as %d", c.name, f.name, c.room[i], got)
			}
			if c.room[i] < 2600 && setOf(t, page1(t, f.next(r, c.room[i]))) <= i {
				t.Errorf("%s, %s: more than %d fit", c.name, f.name, c.room[i])
			}
		}
	}
}

// TestLaterMovesToTheBackAtNinePoints: where what comes before the trip leaves no room for
// what is planned, that goes to the back, and the front is set at 9 points, not at 10.
func TestLaterMovesToTheBackAtNinePoints(t *testing.T) {
	t.Parallel()
	r := sevenTires()
	r.Drive, r.Todo = report.BeforeTheTrip, items(report.Plan, "Old", "steer-left")
	dense := frontSets[1]
	for high, moved := range map[int]bool{1100: false, 1244: false, 1300: true, 1400: true, 2000: true, 2299: true} {
		full, ok := dense.filled(r, high)
		for !ok {
			high++
			full, ok = dense.filled(r, high)
		}
		page := page1(t, full)
		if got := setOf(t, page); got != 1 || strings.Contains(page, "At the next service: 1 thing, on page 2.") != moved {
			t.Errorf("%d: set as %d, planned things moved %v, want 1 and %v", high, got, !moved, moved)
		}
	}
}

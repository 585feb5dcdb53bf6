package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

// fullOf is a report of so many different things under each action, and of so many that
// were not judged.
func fullOf(stops, before, later, gaps int) report.Report {
	r := sevenTires()
	r.Drive, r.LoadState = report.MustNotMove, "full"
	for i := range stops {
		r.Todo = append(r.Todo, items(report.DoNotDrive, fmt.Sprint("Stop ", i), "steer-left")...)
	}
	for i := range before {
		r.Todo = append(r.Todo, items(report.BeforeTrip, fmt.Sprintf("Title %02d", i), "drive-right-inner")...)
	}
	for i := range later {
		r.Todo = append(r.Todo, items(report.Plan, fmt.Sprint("Later ", i), "spare")...)
	}
	for i := range gaps {
		r.Unjudged = append(r.Unjudged, report.NotJudged{Where: "coach", Need: fmt.Sprint("thing ", i)})
	}
	return r
}

// TestScreenGetsShorterStepByStep: each step is taken where 40 lines do not hold what the
// steps before it leave, and no sooner. Without the rest a page has 12 lines, and one more
// for each stop; what is for the next service takes 1 for its heading and 1 each, then 2
// that run on, then 1; three gaps take 5, then 2; the load takes 1 (computed).
func TestScreenGetsShorterStepByStep(t *testing.T) {
	t.Parallel()
	const (
		load, title = "Load: full\n", "\nTo do, worst first\n"
		listed      = "PLAN\n- spare: Later 0.\n- spare: Later 1.\n- spare: Later 2.\n- spare: Later 3.\n"
		together    = "At the next service: spare: Later 0. spare: Later 1. spare: Later 2. spare:\nLater 3.\n"
		counted     = "At the next service: 4 things, on the full page.\n"
		threeGaps   = "\nNot judged, because it was not recorded\n- To read: coach - thing 0\n- To read: coach - thing 1\n- To read: coach - thing 2\n"
		oneOfThree  = "\nNot judged. To read: coach - thing 0. 2 more on the full page.\n"
		oneOfFour   = "\nNot judged. To read: coach - thing 0. 3 more on the full page.\n"
		theOne      = "\nNot judged. To read: coach - thing 0.\n"
	)
	for _, c := range []struct {
		stops, gaps, lines int
		has                []string
	}{
		{23, 0, 40, []string{load, title, listed}}, {24, 0, 38, []string{load, title, together}},
		{26, 0, 40, []string{load, title, together}}, {27, 0, 40, []string{load, title, counted}},
		{28, 0, 40, []string{title, counted}}, {29, 0, 40, []string{counted}}, {30, 0, 41, []string{counted}},
		{18, 3, 40, []string{load, title, listed, threeGaps}}, {22, 3, 40, []string{load, title, counted, threeGaps}},
		{23, 3, 38, []string{load, title, counted, oneOfThree}}, {25, 3, 40, []string{load, title, counted, oneOfThree}},
		{26, 3, 40, []string{title, counted, oneOfThree}}, {27, 3, 40, []string{counted, oneOfThree}},
		{21, 4, 40, []string{load, title, counted, threeGaps + "1 more on the full page.\n"}}, {25, 4, 40, []string{load, title, counted, oneOfFour}},
		{25, 1, 38 + 2, []string{load, title, counted, theOne}},
	} {
		page := sheet.Text(fullOf(c.stops, 0, 4, c.gaps), sheet.TextOptions{ReadOn: "Read on."})
		if n := strings.Count(page, "\n"); n != c.lines {
			t.Errorf("%d stops, %d gaps: %d lines, want %d", c.stops, c.gaps, n, c.lines)
		}
		for _, part := range []string{load, title, listed, together, counted, threeGaps, oneOfThree, oneOfFour} {
			if want := strings.Contains(strings.Join(c.has, "\n\n"), part); strings.Contains(page, part) != want {
				t.Errorf("%d stops, %d gaps: has %q: %v\n%s", c.stops, c.gaps, part, !want, page)
			}
		}
		for _, want := range append(c.has, "DO NOT DRIVE\n- steer-left: Stop 0.\n", fmt.Sprintf("- steer-left: Stop %d.\n", c.stops-1)) {
			if !strings.Contains(page, want) {
				t.Errorf("%d stops, %d gaps: no %q on\n%s", c.stops, c.gaps, want, page)
			}
		}
	}
}

// TestScreenHasRoomForWhatComesBeforeTheTrip: of twelve things as many stand apart as 40
// lines hold, then as many with their places, then as many titles; the rest is counted.
func TestScreenHasRoomForWhatComesBeforeTheTrip(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ stops, apart, placed, titles, lines int }{
		{13, 12, 12, 12, 40}, {14, 12, 12, 12, 40}, {15, 10, 12, 12, 40}, {18, 5, 12, 12, 40}, {19, 3, 12, 12, 40}, {20, 1, 12, 12, 40}, {21, 0, 12, 12, 39}, {22, 0, 12, 12, 40},
		{23, 0, 4, 12, 40}, {24, 0, 2, 12, 40}, {25, 0, 0, 3, 40}, {26, 0, 0, 0, 40}, {27, 0, 0, 0, 41},
	} {
		page := sheet.Text(fullOf(c.stops, 12, 4, 4), sheet.TextOptions{ReadOn: "Read on."})
		flat := spaced(page)
		apart, placed, titles := strings.Count(page, "\n- drive-right-inner: Title"), strings.Count(flat, "drive-right-inner: Title"), strings.Count(flat, "Title")
		if lines := strings.Count(page, "\n"); apart != c.apart || placed != c.placed || titles != c.titles || lines != c.lines {
			t.Errorf("%d stops: %d apart, %d with places, %d titles, %d lines; want %+v\n%s", c.stops, apart, placed, titles, lines, c, page)
		}
		for want, there := range map[string]bool{
			"\nBEFORE THE TRIP\n": c.apart > 0, "\nAlso - drive-right-inner: Title ": c.apart > 0 && c.apart < 12, "\nBEFORE THE TRIP - drive": c.apart == 0 && c.placed > 0,
			"Also, with places on the full page: Title 0": c.placed > 0 && c.placed < 12, "BEFORE THE TRIP, with places on the full page: Title 00.": c.placed == 0 && c.titles > 0,
			fmt.Sprintf("And %d more things before the trip, on the full page.", 12-c.titles): c.titles > 0 && c.titles < 12, "BEFORE THE TRIP: 12 things, on the full page.": c.titles == 0,
		} {
			if strings.Contains(page, want) != there {
				t.Errorf("%d stops: %q there: %v\n%s", c.stops, want, !there, page)
			}
		}
	}
}

// TestScreenNamesThreePlacesOfTheOneGap: and counts the others; where there is room for
// all gaps it names every place.
func TestScreenNamesThreePlacesOfTheOneGap(t *testing.T) {
	t.Parallel()
	for places, want := range map[string]string{
		"steer-left": "steer-left", "steer-left,drive-left-outer,spare": "steer-left, drive-left-outer, spare", "steer-left,drive-left-outer,spare,coach": "steer-left, drive-left-outer, spare and 1 more",
		"steer-left,steer-right": "steer (both)",
	} {
		for stops, words := range map[int]string{1: "- Find out: " + strings.Replace(want, " and 1 more", ", coach", 1) + " - its size\n", 30: "\nNot judged. Find out: " + want + " - its size.\n"} {
			r := fullOf(stops, 0, 4, 0)
			for _, at := range strings.Split(places, ",") {
				r.Unjudged = append(r.Unjudged, report.NotJudged{Where: at, Need: "its size", Hidden: true})
			}
			if page := sheet.Text(r, sheet.TextOptions{Columns: 80}); !strings.Contains(page, words) {
				t.Errorf("%s, %d stops: no %q on\n%s", places, stops, words, page)
			}
		}
	}
}

// TestScreenHasTheLastCautions: one, or two where the coach must not move.
func TestScreenHasTheLastCautions(t *testing.T) {
	t.Parallel()
	for drive, want := range map[report.Drive]string{report.NothingFound: "\n\nThe third.\n", report.BeforeTheTrip: "\n\nThe third.\n", report.NotAtThisPressure: "\n\nThe second.\nThe third.\n", report.MustNotMove: "\n\nThe second.\nThe third.\n"} {
		r := sevenTires()
		r.Drive, r.Cautions = drive, []string{"The first.", "The second.", "The third."}
		if page := sheet.Text(r, sheet.TextOptions{}); !strings.HasSuffix(page, want) {
			t.Errorf("%s: want %q at the end of\n%s", drive, want, page)
		}
	}
}

// TestScreenSetsAirBesideThePressure: what nobody may air up stands on the line of the
// pressure where all of it fits, to the last column, else below. Behind "steer" and two
// spaces "SET 95 psi; DO NOT AIR UP steer-left" takes 36 columns (computed).
func TestScreenSetsAirBesideThePressure(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		wide  int
		airs  [2]report.Air
		short bool
		want  string
	}{
		{43, [2]report.Air{report.AirForbidden, report.AirFree}, false, "\nsteer  SET 95 psi; DO NOT AIR UP steer-left\n\n"},
		{42, [2]report.Air{report.AirForbidden, report.AirFree}, false, "\nsteer  SET 95 psi\n       DO NOT AIR UP steer-left\n\n"},
		{80, [2]report.Air{report.AirForbidden, report.AirForbidden}, false, "\nsteer  SET 95 psi; DO NOT AIR UP ANY TIRE OF THIS AXLE\n\n"},
		{80, [2]report.Air{report.AirFree, report.AirNotKnown}, false, "\nsteer  SET 95 psi; NO AIR YET in steer-right\nNO AIR YET: first do what is listed below about the tire.\n\n"},
		{80, [2]report.Air{report.AirNotKnown, report.AirNotKnown}, false, "\nsteer  SET 95 psi; NO AIR YET in any tire of this axle\nNO AIR YET: first do what is listed below about the tire.\n\n"},
		{80, [2]report.Air{report.AirNotKnown, report.AirForbidden}, false, "\nsteer  SET 95 psi; DO NOT AIR UP steer-right; NO AIR YET in steer-left\nNO AIR YET: first do what is listed below about the tire.\n\n"},
		{60, [2]report.Air{report.AirNotKnown, report.AirForbidden}, false, "\nsteer  SET 95 psi; DO NOT AIR UP steer-right\n       NO AIR YET in steer-left\nNO AIR YET: first do what is listed below about the tire.\n\n"},
		{80, [2]report.Air{report.AirFree, report.AirFree}, true, "\nsteer  NO PRESSURE CARRIES THIS LOAD; left end: 100 lb more than its rating\n\n"},
		{80, [2]report.Air{report.AirFree, report.AirFree}, false, "\nsteer  SET 95 psi\n\n"},
	} {
		r := sevenTires()
		r.Axles, r.Tires, r.Drive = r.Axles[:1], r.Tires[:2], report.NothingFound
		s := aSetting()
		if c.short {
			s.Outcome, s.Short = inflation.Short, []inflation.Shortfall{{Side: weight.Left, Limit: inflation.Limit{Part: inflation.OtherRating}, Over: 100 * weight.Pound}}
		}
		r.Settings = []inflation.Setting{s}
		for i, air := range c.airs {
			r.Tires[i].Air = air
		}
		if page := sheet.Text(r, sheet.TextOptions{Columns: c.wide}); !strings.Contains(page, c.want) {
			t.Errorf("%d wide, %v: no %q on\n%s", c.wide, c.airs, c.want, page)
		}
	}
	r := fullOf(30, 0, 0, 0) // where there is no room, the weight alone
	for _, c := range []struct {
		outcome inflation.Outcome
		short   []inflation.Shortfall
		want    string
	}{
		{inflation.Short, []inflation.Shortfall{{Side: weight.Left, Over: 100 * weight.Pound}, {Side: weight.Right, Over: 1}}, "steer  NO PRESSURE CARRIES THIS LOAD; too heavy: left 100 lb, right 1 lb\n"},
		{inflation.TooClose, []inflation.Shortfall{{Over: 100 * weight.Pound}}, "steer  SET 95 psi; may be too heavy: heavier end 100 lb\n"},
		{inflation.TooClose, []inflation.Shortfall{{Side: weight.Left}, {Side: weight.Left, Over: 100}}, "steer  SET 95 psi; may be too heavy: left\n"},
		{inflation.CanSet, nil, "steer  SET 95 psi\n"},
	} {
		s := aSetting()
		s.Outcome, s.Short = c.outcome, c.short
		r.Settings = []inflation.Setting{s}
		if page := sheet.Text(r, sheet.TextOptions{}); !strings.Contains(page, c.want) {
			t.Errorf("%s: no %q on\n%s", c.outcome, c.want, page)
		}
	}
}

// TestLongAxleNamesLeaveRoom: the names of axles take the longest of them and two
// spaces, and a third of the page at most.
func TestLongAxleNamesLeaveRoom(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"tag": "\nsteer  SET 95 psi\n", "a-longer-one": "\nsteer         SET 95 psi\n", strings.Repeat("x", 24): "\nsteer" + strings.Repeat(" ", 21) + "SET 95 psi\n",
		strings.Repeat("x", 25): "\nsteer" + strings.Repeat(" ", 21) + "SET 95 psi\n",
	} {
		r := sevenTires()
		r.Axles, r.Settings = []report.AxleLine{{ID: "steer"}, {ID: name}}, []inflation.Setting{aSetting()}
		if page := sheet.Text(r, sheet.TextOptions{}); !strings.Contains(page, want) {
			t.Errorf("%s: no %q on\n%s", name, want, page)
		}
	}
}

// TestScreenPutsOneTitleTogether: the same title under one action has one line, with each
// place once; another action, doubt, or one that stops the coach has its own.
func TestScreenPutsOneTitleTogether(t *testing.T) {
	t.Parallel()
	r := sevenTires()
	r.Drive = report.MustNotMove
	r.Todo = items(report.DoNotDrive, "Bulge", "steer-left")
	r.Todo = append(r.Todo, items(report.BeforeTrip, "Worn", "steer-left", "drive-left-inner")...)
	r.Todo = append(r.Todo, items(report.BeforeTrip, "Old", "spare")...)
	other := items(report.BeforeTrip, "Worn", "drive-left-inner", "spare")
	for i := range other {
		other[i].Advice = "Do something else."
	}
	close := items(report.BeforeTrip, "Worn", "steer-right")
	close[0].Verdict = rules.TooClose
	stops := items(report.BeforeTrip, "Worn", "coach")
	stops[0].Stops = true
	r.Todo = append(append(append(r.Todo, other...), close...), stops...)
	r.Todo = append(r.Todo, items(report.Plan, "Worn", "coach")...)
	r.Todo = append(r.Todo, items("call_the_yard", "Worn", "coach")...)
	want := "\nTo do, worst first\nDO NOT DRIVE\n- steer-left: Bulge.\nBEFORE THE TRIP\n- steer-left, drive-left-inner, spare: Worn.\n- spare: Old.\n- steer-right: Worn (too close to call).\n- coach: Worn.\n" +
		"PLAN\n- coach: Worn.\nCALL THE YARD\n- coach: Worn.\n\n"
	if page := sheet.Text(r, sheet.TextOptions{}); !strings.Contains(page, want) {
		t.Errorf("no %q on\n%s", want, page)
	}
}

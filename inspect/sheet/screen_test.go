package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// TestScreenFits: the demo takes 24 to 40 lines at 80 columns. Down to 40 columns
// no page runs over, and none leaves out what stops the coach, a tire that nobody may
// air up, or where to read on; what comes before the trip is there or counted.
func TestScreenFits(t *testing.T) {
	reports := everyReport(t)
	reports["empty"] = demo(t, "testdata/empty.yaml")
	for name, r := range reports {
		for _, wide := range []int{80, 60, 40} {
			text := sheet.Text(r, sheet.TextOptions{Columns: wide, ReadOn: "Read on."})
			lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
			if n := len(lines); name == "demo/visit.yaml" && wide == 80 && (n < 24 || n > 40) {
				t.Errorf("%s: %d lines, want 24 to 40:\n%s", name, n, text)
			}
			for _, problem := range screenProblems(r, text, wide) {
				t.Errorf("%s, %d wide: %s:\n%s", name, wide, problem, text)
			}
			if lines[len(lines)-1] != "Read on." {
				t.Errorf("%s: the last line is %q", name, lines[len(lines)-1])
			}
		}
	}
}

// TestAnswerAboutDriving: each answer in words, with the places it is about. None
// says that a coach is safe.
func TestAnswerAboutDriving(t *testing.T) {
	stop := report.Item{Action: report.DoNotDrive, Stops: true, Where: "steer-left", What: "Bulge"}
	trip := report.Item{Action: report.BeforeTrip, Where: "drive-left", What: "Something"}
	read := demo(t, demos[0]).Tires[:1]
	hundred := []inflation.Setting{{Name: "steer", Outcome: inflation.CanSet, Set: 100 * inflation.PSI}}
	for _, x := range []struct {
		r    report.Report
		want string
	}{
		{report.Report{Drive: report.MustNotMove, Todo: []report.Item{stop, stop, trip}}, "DO NOT DRIVE: steer-left\nIt stays here until trained people have looked at it or load has come off.\n"},
		{report.Report{Drive: report.NotAtThisPressure, Todo: []report.Item{stop}, Settings: hundred, Tires: []report.TireLine{{At: "steer-left", Axle: "steer", Air: report.AirFree}}}, "NOT AT THIS PRESSURE: steer-left\nSet these tires here, cold, to the pressure below; then the coach may go.\n"},
		{report.Report{Drive: report.NotAtThisPressure, Todo: []report.Item{stop}, Tires: []report.TireLine{{At: "steer-left", Axle: "steer", Air: report.AirFree}}}, "NOT AT THIS PRESSURE: steer-left\nNo pressure to set can be given yet: read what is asked, then"},
		{report.Report{Drive: report.NotAtThisPressure, Todo: []report.Item{stop}, Settings: hundred, Tires: []report.TireLine{{At: "steer-left", Axle: "steer", Air: report.AirNotKnown}}}, "NOT AT THIS PRESSURE: steer-left\nBefore any air, do what is listed below about steer-left. Set"},
		{report.Report{Drive: report.BeforeTheTrip, Todo: []report.Item{trip}, Tires: read}, "BEFORE THE TRIP: drive-left\nDo what"},
		{report.Report{Drive: report.NothingFound, Tires: read, NotJudged: 1}, "NOTHING FOUND IN WHAT WAS RECORDED\nNobody looked at what"},
		{report.Report{Drive: report.NothingFound, Tires: read, Todo: []report.Item{{Action: report.BeforeTrip, Where: "spare"}}}, "NOTHING FOUND BUT AT THE SPARE: spare\nFix the spare before the trip: nobody can rely on it as it is.\nEverything"},
		{report.Report{Drive: report.NothingFound, Tires: read, NotJudged: 1, Todo: []report.Item{{Action: report.BeforeTrip, Where: "spare"}}}, "NOTHING FOUND BUT AT THE SPARE: spare\nFix the spare before the trip: nobody can rely on it as it is. Nobody looked at\nwhat"},
		{report.Report{Drive: report.NothingFound, Tires: read, Todo: []report.Item{{Action: report.Plan, Where: "spare"}}}, "NOTHING FOUND IN WHAT WAS RECORDED\nEverything"},
		{report.Report{Drive: report.NothingFound, Tires: read}, "NOTHING FOUND IN WHAT WAS RECORDED\nEverything that the rules ask for was judged.\n"},
		{report.Report{Drive: report.BeforeTheTrip, Todo: []report.Item{trip}}, "NOTHING RECORDED YET\nThis is a form"},
		{report.Report{Drive: report.NothingFound}, "NOTHING RECORDED YET\nThis is a form"},
	} {
		for _, full := range []bool{false, true} {
			if got := sheet.Text(x.r, sheet.TextOptions{Full: full}); !strings.HasPrefix(got, x.want) {
				t.Errorf("%v: want %q first:\n%s", x.r.Drive, x.want, got)
			}
		}
	}
}

// TestGapsAreCountedByWhoCanReadThem: what can be read here is named first.
func TestGapsAreCountedByWhoCanReadThem(t *testing.T) {
	gap := func(hidden bool, n int) (out []report.NotJudged) {
		for i := range n {
			out = append(out, report.NotJudged{Where: fmt.Sprint("tire-", i), Need: fmt.Sprint("need ", hidden), Hidden: hidden})
		}
		return out
	}
	for _, x := range []struct {
		here, hidden int
		want         string
	}{
		{0, 0, "Everything that the rules ask for was judged."}, {1, 0, "NOT JUDGED: 1 thing; read it at the coach."},
		{0, 2, "NOT JUDGED: 2 things that no walk-around shows."}, {2, 1, "NOT JUDGED: 3 things. Read 2 at the coach; 1 no walk-around shows."},
	} {
		r := report.Report{Drive: report.BeforeTheTrip, Unjudged: append(gap(true, x.hidden), gap(false, x.here)...)}
		page := spaced(sheet.Text(r, sheet.TextOptions{}))
		if !strings.Contains(page, x.want) {
			t.Errorf("want %q on the page:\n%s", x.want, page)
		}
		if here, hidden := strings.Index(page, "To read: "), strings.Index(page, "Find out: "); x.here > 0 && x.hidden > 0 && here > hidden || x.here > 0 != (here >= 0) || x.hidden > 0 != (hidden >= 0) {
			t.Errorf("%+v: read here at %d, find out at %d:\n%s", x, here, hidden, page)
		}
	}
}

func BenchmarkScreen(b *testing.B) {
	r := demo(b, demos[0])
	for b.Loop() {
		sheet.Text(r, sheet.TextOptions{})
	}
}

func BenchmarkText(b *testing.B) {
	r := demo(b, demos[1])
	b.ReportAllocs()
	for b.Loop() {
		sheet.Text(r, sheet.TextOptions{Full: true})
	}
}

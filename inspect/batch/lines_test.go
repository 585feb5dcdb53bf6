package batch_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

var october = dotcode.Date{Year: 2026, Month: 10, Day: 3}

// TestListIsInOneOrder: by the answer, what could not be judged behind what must not
// leave; then by how much stops the coach, how much comes before the trip, what falls
// due, name, file and line.
func TestListIsInOneOrder(t *testing.T) {
	t.Parallel()
	due := func(n int) report.Due { return report.Due{On: october.AddDays(n)} }
	sorted := []batch.Line{
		{Drive: report.MustNotMove, Stops: 2}, {Drive: report.MustNotMove, Stops: 1, Before: 9}, {Drive: report.MustNotMove, Stops: 1, Before: 1, Due: due(1), Coach: "z"},
		{Drive: report.NotAtThisPressure, Stops: 3},
		{Coach: "a", File: "b", Line: 2}, {Coach: "b", File: "a", Line: 1}, {Coach: "b", File: "b", Line: 3}, {Coach: "b", File: "b", Line: 4},
		{Drive: report.BeforeTheTrip, Before: 2, Due: due(9)}, {Drive: report.BeforeTheTrip, Before: 1, Due: due(1), Coach: "z"}, {Drive: report.BeforeTheTrip, Before: 1, Due: due(2), Coach: "a"}, {Drive: report.BeforeTheTrip, Due: due(1), Later: 9},
		{Drive: report.NothingFound, Coach: "a", File: "z"}, {Drive: report.NothingFound, Coach: "b", File: "a", Line: 9}, {Drive: report.NothingFound, Coach: "b", File: "b", Line: 1},
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		lines := slices.Clone(sorted)
		r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		batch.SortLines(lines)
		for i := range lines {
			if got, want := lines[i], sorted[i]; got.Name() != want.Name() || got.File != want.File || got.Drive != want.Drive || got.Stops != want.Stops || got.Before != want.Before || got.Due.On != want.Due.On {
				t.Fatalf("line %d is %+v, want %+v", i, got, want)
			}
		}
	}
}

// TestLineOfAReport: what falls due next stands in it also where that is the next visit
// alone, which is due within a year (common practice), and of what is said of several
// places each place once.
func TestLineOfAReport(t *testing.T) {
	t.Parallel()
	r := report.Report{Date: october, Drive: report.BeforeTheTrip, NotJudged: 7, Todo: []report.Item{
		{Action: report.BeforeTrip, What: "Worn", Where: "steer-left"}, {Action: report.BeforeTrip, What: "Worn", Where: "steer-left"}, {Action: report.BeforeTrip, What: "Old", Where: "spare"}, {Action: report.BeforeTrip, What: "Worn", Where: "drive-left"},
	}}
	l := batch.NewLine(batch.Answer{Line: 3, File: "a.yaml", Visit: &record.Visit{Coach: "an invented coach", Date: october}, Report: &r})
	if l.Line != 3 || l.File != "a.yaml" || l.Coach != "an invented coach" || l.Date != october || l.First != "Worn" || !slices.Equal(l.Where, []string{"steer-left", "drive-left"}) || l.Before != 2 || l.NotJudged != 7 {
		t.Errorf("%+v", l)
	}
	// The places are those of the worst alone, the only one or before another.
	for _, more := range [][]report.Item{nil, {{Action: report.BeforeTrip, What: "Old", Where: "spare"}}} {
		x := report.Report{Date: october, Drive: report.BeforeTheTrip, Todo: append([]report.Item{{Action: report.BeforeTrip, What: "Worn", Where: "steer-left"}}, more...)}
		if l := batch.NewLine(batch.Answer{Report: &x}); l.First != "Worn" || !slices.Equal(l.Where, []string{"steer-left"}) || l.Before != 1+len(more) {
			t.Errorf("with %d more: %+v", len(more), l)
		}
	}
	if due := r.Due(); len(due) != 1 || l.Due.Kind != report.DueVisit || l.Due.On != due[0].On || l.Due.On != october.AddYears(1) {
		t.Errorf("due %+v, of %+v", l.Due, due)
	}
	if l := batch.NewLine(batch.Answer{Line: 3}); l.Problem != "" || l.Drive != 0 || l.Name() != "line 3" {
		t.Errorf("no answer: %+v", l)
	}
	if l := batch.NewLine(batch.Answer{File: "b.yaml", Report: &report.Report{Drive: report.NothingFound, Date: october}}); l.First != "" || l.Name() != "b.yaml" || l.Stops+l.Before+l.Later != 0 {
		t.Errorf("nothing to do: %+v", l)
	}
}

// TestCSVAsWritten: every column of a record with all of them, of one that was not
// judged, and of one of which nothing is known.
func TestCSVAsWritten(t *testing.T) {
	t.Parallel()
	lines := []batch.Line{
		{Coach: "one", File: "a.yaml", Line: 2, Date: october, Drive: report.MustNotMove, First: "Bulge", Where: []string{"steer-left", "spare"}, Stops: 1, Before: 2, Later: 3, NotJudged: 4,
			Due: report.DueAt(october.AddDays(1), report.DueTorque, "steer-left", "steer-right"), Call: "an invented number", Problem: "none"},
		{Coach: "two", Line: 3, Stops: 9, Problem: "no visit"}, {Drive: report.NothingFound},
	}
	var b bytes.Buffer
	if err := batch.WriteCSV(&b, lines); err != nil {
		t.Fatal(err)
	}
	want := `coach,file,line,date,drive,first,where,stops,before,later,not judged,due on,due,due where,problem,call
one,a.yaml,2,2026-10-03,must not move,Bulge,steer-left spare,1,2,3,4,2026-10-04,torque check,steer-left steer-right,none,an invented number
two,,3,,not judged,,,,,,,,,,no visit,
,,,,nothing found,,,0,0,0,0,,,,,
`
	if b.String() != want {
		t.Errorf("%s\nwant %s", b.String(), want)
	}
}

// TestCellsThatBeginAsAFormula: have an apostrophe in front, and no others; what stands
// behind the first character changes nothing.
func TestCellsThatBeginAsAFormula(t *testing.T) {
	t.Parallel()
	for cell, quoted := range map[string]bool{
		"=1": true, "+1": true, "-1": true, "@a": true, "|a": true, "%1": true, "\uff1d1": true, "\uff0b1": true, "\uff0d1": true, "\uff20a": true, " =1": true, "\u00a0=1": true, "\t=1": true,
		"\ta": true, "\ra": true, "\na": true, "\t": true,
		"a": false, "a=1": false, "a\tb": false, "ab\tc": false, " a": false, " ": false, "1-2": false, "": false, "(=1)": false, "\u00a0a": false,
	} {
		var b bytes.Buffer
		if err := batch.WriteCSV(&b, []batch.Line{{Coach: cell, File: "x"}}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		want := strings.ReplaceAll(cell, "\r\n", "\n")
		if quoted {
			want = "'" + want
		}
		if got := rows[1][0]; got != want {
			t.Errorf("%q: %q, want %q", cell, got, want)
		}
	}
}

// endless is a reader of one character, so long.
type endless struct{ left int }

func (e *endless) Read(p []byte) (int, error) {
	n := min(e.left, len(p))
	if n == 0 {
		return 0, io.EOF
	}
	e.left -= n
	for i := range p[:n] {
		p[i] = 'x'
	}
	return n, nil
}

// TestLongLineIsNotKept: a line of 16 MB takes no more memory than one that is read, and
// the record behind it is judged under its own number.
func TestLongLineIsNotKept(t *testing.T) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var out bytes.Buffer
	in := io.MultiReader(&endless{left: 16 << 20}, strings.NewReader("\n"+threeCoaches))
	res, err := batch.Run(context.Background(), in, &out, inspect.Setup{}, batch.Options{})
	runtime.ReadMemStats(&after)
	if err != nil || res.Records != 4 || res.Bad != 2 || !strings.HasPrefix(out.String(), `{"bad_record":1,"line":1,`) || !strings.Contains(out.String(), `{"bad_record":1,"line":4,`) {
		t.Errorf("%+v, %v: %.300s", res, err, out.String())
	}
	if took := after.TotalAlloc - before.TotalAlloc; took > 12<<20 {
		t.Errorf("%d bytes were asked for", took)
	}
}

// TestOneAtATimeUnlessAskedFor: without a number of workers one visit is judged at a time,
// so a Refuse that keeps notes needs no lock.
func TestOneAtATimeUnlessAskedFor(t *testing.T) {
	t.Parallel()
	for _, workers := range []int{-1, 0, 1} {
		var now, most atomic.Int32
		opts := batch.Options{Workers: workers, Refuse: func(*record.Visit) error {
			most.Store(max(most.Load(), now.Add(1)))
			time.Sleep(time.Millisecond)
			now.Add(-1)
			return nil
		}}
		if _, err := batch.Run(context.Background(), strings.NewReader(strings.Repeat(threeCoaches, 20)), nil, inspect.Setup{}, opts); err != nil || most.Load() != 1 {
			t.Errorf("%d workers: %d at once, %v", workers, most.Load(), err)
		}
	}
}

package batch_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/dotcode"
	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

const threeCoaches = `{"visit":1,"date":"2026-10-03","coach":"fine","axles":[{"id":"steer","fitment":"single"}],"tires":[{"at":"steer-left","number":"2222"}]}
{"visit":1,"date":"2026-10-03","coach":"bulge","axles":[{"id":"steer","fitment":"single"}],"tires":[{"at":"steer-left","seen":["bulge"]},{"at":"steer-right","seen":["bulge"]}]}
{"visit":9}
`

// TestEachIsHandedOnInOrder: every record once, in the order of the input, with its
// visit and report or with what is wrong; an error of Each ends the batch; nothing is
// written where there is nowhere to write.
func TestEachIsHandedOnInOrder(t *testing.T) {
	var got []batch.Answer
	opts := batch.Options{Workers: 3, Each: func(a batch.Answer) error { got = append(got, a); return nil }}
	input := strings.Repeat(threeCoaches, 20)
	res, err := batch.Run(context.Background(), strings.NewReader(input), nil, inspect.Setup{}, opts)
	if err != nil || res.Records != 60 || res.Bad != 20 || res.Stops != 20 || len(got) != 60 {
		t.Fatalf("%+v, %v, %d answers", res, err, len(got))
	}
	for i, a := range got {
		if a.Line != i+1 || (a.Err != nil) != (i%3 == 2) || (a.Report != nil) == (a.Err != nil) || a.Err == nil && a.Visit.Coach != [...]string{"fine", "bulge"}[i%3] {
			t.Errorf("record %d: %+v", i+1, a)
		}
	}
	var out, plain bytes.Buffer
	if _, err := batch.Run(context.Background(), strings.NewReader(input), &out, inspect.Setup{}, opts); err != nil {
		t.Fatal(err)
	}
	if _, err := batch.Run(context.Background(), strings.NewReader(input), &plain, inspect.Setup{}, batch.Options{}); err != nil {
		t.Fatal(err)
	}
	if out.String() != plain.String() {
		t.Error("what is written changes with Each")
	}
	enough := errors.New("enough")
	opts.Each = func(batch.Answer) error { return enough }
	if _, err := batch.Run(context.Background(), strings.NewReader(input), io.Discard, inspect.Setup{}, opts); !errors.Is(err, enough) {
		t.Errorf("%v", err)
	}
}

func TestLinesAreWorstFirst(t *testing.T) {
	var lines []batch.Line
	opts := batch.Options{Each: func(a batch.Answer) error { lines = append(lines, batch.NewLine(a)); return nil }}
	if _, err := batch.Run(context.Background(), strings.NewReader(threeCoaches), nil, inspect.Setup{}, opts); err != nil {
		t.Fatal(err)
	}
	lines = append(lines, batch.Line{Coach: "soft", Drive: report.NotAtThisPressure})
	batch.SortLines(lines)
	var names []string
	for i := range lines {
		names = append(names, lines[i].Name())
	}
	if want := []string{"bulge", "soft", "line 3", "fine"}; !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
	if l := lines[0]; l.First != "Bulge" || !slices.Equal(l.Where, []string{"steer-left", "steer-right"}) || l.Due.On.IsZero() {
		t.Errorf("%+v", l)
	}
	// Each bulge stops the coach and so comes first; the rest is counted apart.
	counted := batch.NewLine(batch.Answer{Report: &report.Report{Drive: report.MustNotMove, Todo: []report.Item{
		{Action: report.DoNotDrive, Stops: true, What: "a"}, {Action: report.Plan, Stops: true, What: "b"}, {Action: report.BeforeTrip, What: "c"}, {Action: report.Plan, What: "d"},
		{Action: report.BeforeTrip, What: "c", Where: "drive"}, {Action: report.BeforeTrip, What: "c", Advice: "another"},
	}}})
	if counted.Stops != 2 || counted.Before != 2 || counted.Later != 1 {
		t.Errorf("%d stop it, %d before the trip and %d later, want 2, 2 and 1", counted.Stops, counted.Before, counted.Later)
	}
	if lines[2].Problem == "" {
		t.Error("nothing says why a record could not be judged")
	}
}

// TestCSVIsNoFormula: whatever somebody called a coach, no cell begins as a formula
// does, and every cell reads back, with an apostrophe in front at most.
func TestCSVIsNoFormula(t *testing.T) {
	names := []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =cmd|' /C calc'!A0", "%1", "|x", "\uff1d1", "plain, \"quoted\"", "two\nlines", "", "it's"}
	var lines []batch.Line
	for _, n := range names {
		lines = append(lines, batch.Line{Coach: n, First: n, Problem: n, Where: []string{n}, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}})
	}
	var b bytes.Buffer
	if err := batch.WriteCSV(&b, lines); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != len(names)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for i, row := range rows[1:] {
		for _, cell := range row {
			if text := strings.TrimLeft(cell, " \t\r\n"); text != "" && strings.ContainsRune("=+-@|%\uff1d", []rune(text)[0]) {
				t.Errorf("%q is a formula", cell)
			}
		}
		if got := row[0]; got != names[i] && got != "'"+names[i] {
			t.Errorf("%q reads back as %q", names[i], got)
		}
	}
}

// TestCSVSaysWhetherToDrive: the answer about driving stands in its column, and that
// there is none.
func TestCSVSaysWhetherToDrive(t *testing.T) {
	lines := []batch.Line{{Coach: "a", Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Drive: report.MustNotMove, Stops: 1, Before: 2, Later: 3, NotJudged: 4}, {Coach: "b", Drive: report.NothingFound}, {Coach: "c", Problem: "unreadable"}}
	var b bytes.Buffer
	if err := batch.WriteCSV(&b, lines); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], "drive")
	for i, want := range []string{"must not move", "nothing found", "not judged"} {
		if got := rows[i+1][at]; got != want {
			t.Errorf("%s: %q, want %q", lines[i].Coach, got, want)
		}
		for k, name := range []string{"stops", "before", "later", "not judged", "date"} {
			count := [][]string{{"1", "2", "3", "4", "2026-10-03"}, {"0", "0", "0", "0", ""}, {"", "", "", "", ""}}[i][k]
			if got := rows[i+1][slices.Index(rows[0], name)]; got != count {
				t.Errorf("%s, %s: %q, want %q", lines[i].Coach, name, got, count)
			}
		}
	}
}

// TestNoNamesUnasked: whom to call is in no line by itself.
func TestNoNamesUnasked(t *testing.T) {
	l := batch.NewLine(batch.Answer{Visit: &record.Visit{Names: record.Names{Customer: "an invented customer"}}, Report: &report.Report{}})
	if l.Call != "" {
		t.Errorf("%+v", l)
	}
}

// TestFilesLeavesOutFolders: a folder is no visit, whatever it is called.
func TestFilesLeavesOutFolders(t *testing.T) {
	files, err := batch.Files(fstest.MapFS{"b.yaml": {Data: []byte("visit: 1\n")}, "a.yaml/inner.yaml": {Data: []byte("visit: 1\n")}, "c.json/inner.json": {Data: []byte("{}")}})
	if err != nil || !slices.Equal(files, []string{"b.yaml"}) {
		t.Errorf("%q, %v: want b.yaml alone", files, err)
	}
}

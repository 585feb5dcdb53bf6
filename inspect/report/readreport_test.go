package report_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules/origin"
)

func demoReport(t testing.TB) (report.Report, []byte) {
	t.Helper()
	data, err := os.ReadFile("../../examples/demo/visit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	visit, err := record.Read("visit.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS("../../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	report, err := inspect.Assess(visit, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(report)
	if err != nil {
		t.Fatal(err)
	}
	return report, out
}

func TestReadReport(t *testing.T) {
	want, data := demoReport(t)
	got, err := report.Read("report.json", data)
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("read back: %v\n%+v\nwant\n%+v", err, got, want)
	}
	// A key that a later release added within the version.
	if _, err := report.Read("report.json", []byte(`{"later": 1,`+string(data[1:]))); err != nil {
		t.Errorf("with a key not known: %v", err)
	}
}

func TestReadReportRefuses(t *testing.T) {
	_, data := demoReport(t)
	good := string(data)
	for name, tc := range map[string]struct {
		text string
		is   error
		says string
	}{
		"newer":           {strings.Replace(good, `"report":1`, `"report":2`, 1), record.ErrVersion, `r.json: report: unknown version "2" of the report format: want 1; a newer file needs a newer program`},
		"older than any":  {strings.Replace(good, `"report":1`, `"report":0`, 1), record.ErrVersion, `version "0"`},
		"a fraction":      {strings.Replace(good, `"report":1`, `"report":1.5`, 1), record.ErrVersion, `version "1.5"`},
		"no version":      {strings.Replace(good, `"report":1,`, ``, 1), nil, "r.json: report: missing"},
		"a version null":  {strings.Replace(good, `"report":1,`, `"report":null,`, 1), nil, "r.json: report: missing"},
		"a visit":         {`{"visit": 1}`, nil, "r.json: report: missing"},
		"a list":          {`[]`, nil, "r.json:1:1: "},
		"nothing":         {``, origin.ErrSyntax, "r.json:1:1: "},
		"cut off":         {good[:len(good)/2], origin.ErrSyntax, "r.json:"},
		"trailing":        {good + "{}", origin.ErrSyntax, "r.json:"},
		"a wrong kind":    {"{\"report\": 1,\n \"kept\": \"é\"}", nil, "r.json:2:12: kept: "},
		"a unit left out": {`{"report": 1, "odometer": "41250"}`, origin.ErrUnit, "41250"},
		"too large":       {`{"report": 1, "coach": "` + strings.Repeat("x", report.MaxSize) + `"}`, nil, "at most 2097152"},
	} {
		_, err := report.Read("r.json", []byte(tc.text))
		var ps *origin.Problems
		if !errors.As(err, &ps) || ps.Len() != 1 {
			t.Errorf("%s: %v is not one problem", name, err)
			continue
		}
		if tc.is != nil && !errors.Is(err, tc.is) {
			t.Errorf("%s: %v does not match %v", name, err, tc.is)
		}
		if !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v, want %s", name, err, tc.says)
		}
	}
}

// FuzzReadReport: nothing panics, and what can be written down reads back the
// same. Assess leaves no word out, so what it returns always can.
func FuzzReadReport(f *testing.F) {
	_, data := demoReport(f)
	f.Add(string(data))
	f.Add(`{"report": 1, "date": "2026-10-03", "units": "us", "drive": "nothing found", "not_judged": 0, "can_read": 0, "kept": 0}`)
	f.Add(`{"report": 2}`)
	f.Add("{\"report\": 1,\n\"tires\": [{\"found\": null}]}")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := report.Read("r.json", []byte(text))
		if err != nil {
			var ps *origin.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("%v is no Problems", err)
			}
			return
		}
		once, err := json.Marshal(r)
		if err != nil {
			return // a word that was left out, such as a verdict, has no text
		}
		back, err := report.Read("r.json", once)
		if err != nil {
			return // or has one that nobody reads, such as "unknown"
		}
		twice, err := json.Marshal(back)
		if err != nil || string(once) != string(twice) {
			t.Fatalf("written as\n%s\nand then as\n%s: %v", once, twice, err)
		}
	})
}

func ExampleRead() {
	_, err := report.Read("coach.json", []byte(`{"report": 2, "not_judged": 0}`))
	fmt.Println(err)
	// Output: coach.json: report: unknown version "2" of the report format: want 1; a newer file needs a newer program
}

package inspect_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// documents are one of each kind, by the key that names it, and their readers,
// which write again what they read.
func documents(t *testing.T) (map[string][]byte, map[string]func(data []byte) ([]byte, error)) {
	t.Helper()
	v, setup := visittest.Demo(t)
	text, err := os.ReadFile("../examples/demo/trip.yaml")
	if err != nil {
		t.Fatal(err)
	}
	trip := visittest.Read(t, string(text))
	written := make(map[string][]byte)
	put := func(key string, doc any, err error) {
		if err == nil {
			written[key], err = json.Marshal(doc)
		}
		if err != nil {
			t.Fatal(key, err)
		}
	}
	r, err := inspect.Assess(v, setup)
	put("report", r, err)
	p, err := placement.Find(t.Context(), v, setup)
	put("placement", p, err)
	h, err := history.Compare([]*record.Visit{v}, setup)
	put("history", h, err)
	w, err := loading.Weigh(trip, setup)
	put("weighing", w, err)
	l, err := loading.Plan(t.Context(), trip, setup)
	put("load", l, err)
	return written, map[string]func([]byte) ([]byte, error){
		"report":    reader(report.Read),
		"placement": reader(placement.Read),
		"history":   reader(history.Read),
		"weighing":  reader(loading.ReadWeighing),
		"load":      reader(loading.ReadPlan),
	}
}

func reader[T any](read func(string, []byte) (T, error)) func([]byte) ([]byte, error) {
	return func(data []byte) ([]byte, error) {
		doc, err := read("x.json", data)
		if err != nil {
			return nil, err
		}
		return json.Marshal(doc)
	}
}

// TestDocumentsAreNotMistaken: each reader reads its own document back to the same
// bytes, and refuses every other, one of another version, one that has its key
// alone, and one that lacks a key of a part of it.
func TestDocumentsAreNotMistaken(t *testing.T) {
	t.Parallel()
	written, readers := documents(t)
	for key, read := range readers {
		if again, err := read(written[key]); err != nil || string(again) != string(written[key]) {
			t.Errorf("%s: does not read back: %v", key, err)
		}
		for other, data := range written {
			_, err := read(data)
			if other != key && (err == nil || !strings.Contains(err.Error(), fmt.Sprintf("x.json: %s: missing: this is another document, by its key %q", key, other))) {
				t.Errorf("the reader of a %s on a %s: %v", key, other, err)
			}
		}
		if _, err := read(fmt.Appendf(nil, `{%q: 1}`, key)); problems(err) < 3 {
			t.Errorf("%s with its key alone: %v", key, err)
		}
		if _, err := read(fmt.Appendf(nil, `{%q: 2}`, key)); !errors.Is(err, record.ErrVersion) || !strings.Contains(err.Error(), "want 1; a newer file") {
			t.Errorf("%s of a later version: %v", key, err)
		}
		if _, err := read(fmt.Appendf(nil, `{%q: "1"}`, key)); problems(err) != 1 || errors.Is(err, record.ErrVersion) {
			t.Errorf("%s whose version is a text: %v", key, err)
		}
		var top map[string]json.RawMessage
		if err := json.Unmarshal(written[key], &top); err != nil {
			t.Fatal(err)
		}
		top["later"] = json.RawMessage("1")
		if _, err := read(remarshal(t, top)); err != nil {
			t.Errorf("%s with a key of a later release: %v", key, err)
		}
	}
	r := written["report"]
	for _, x := range [][2]string{
		{`"not_judged":`, "x.json: not_judged: missing"},
		{`"verdict":`, "x.json: loads[0].ratings[0].verdict: missing"},
		{`"action":`, "x.json: todo[0].action: missing"},
	} {
		without := strings.Replace(string(r), x[0], `"other":`, 1)
		if _, err := readers["report"]([]byte(without)); err == nil || err.Error() != x[1] {
			t.Errorf("a report without %s %v", x[0], err)
		}
	}
}

func problems(err error) int {
	var ps *origin.Problems
	if !errors.As(err, &ps) {
		return 0
	}
	return ps.Len()
}

func remarshal(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestVisitInGoIsReadAsStrictly: encoding/json reads a visit as ReadJSON does, and
// refuses what that refuses.
func TestVisitInGoIsReadAsStrictly(t *testing.T) {
	t.Parallel()
	v, _ := visittest.Demo(t)
	data := remarshal(t, v)
	want, err := record.ReadJSON("", data)
	if err != nil {
		t.Fatal(err)
	}
	var got record.Visit
	if err := json.Unmarshal(data, &got); err != nil || string(remarshal(t, &got)) != string(remarshal(t, want)) {
		t.Errorf("read otherwise: %v", err)
	}
	for text, is := range map[string]error{
		strings.Replace(string(data), `"visit":1`, `"visit":2`, 1):        record.ErrVersion,
		strings.Replace(string(data), `"at":"steer-left"`, `"at":"x"`, 1): record.ErrPosition,
		strings.Replace(string(data), `"date":`, `"dates":1,"date":`, 1):  nil,
		strings.Replace(string(data), `"visit":1`, `"report":1`, 1):       nil,
		`{"report": 1}`: nil, `{}`: nil, `null`: nil, `[]`: nil, `"visit"`: nil,
	} {
		in := record.Visit{Coach: "as it was"}
		list := []record.Visit{in}
		err := json.Unmarshal([]byte("["+text+"]"), &list)
		if err == nil || problems(err) == 0 || is != nil && !errors.Is(err, is) {
			t.Errorf("%.60s: %v, want %v", text, err, is)
		}
		if in.UnmarshalJSON([]byte(text)) == nil || in.Coach != "as it was" {
			t.Errorf("%.60s: is taken, or changed what was there", text)
		}
	}
}

// TestNoVisitAndNoProgram: nil is no visit, and a Program that nobody compiled none
// to judge by; each is an error everywhere.
func TestNoVisitAndNoProgram(t *testing.T) {
	t.Parallel()
	v, setup := visittest.Demo(t)
	text, err := os.ReadFile("../examples/demo/trip.yaml")
	if err != nil {
		t.Fatal(err)
	}
	trip := visittest.Read(t, string(text))
	jobs := map[string]func(*record.Visit, inspect.Setup) error{
		"weigh":  func(v *record.Visit, s inspect.Setup) error { _, err := loading.Weigh(v, s); return err },
		"load":   func(v *record.Visit, s inspect.Setup) error { _, err := loading.Plan(t.Context(), v, s); return err },
		"assess": func(v *record.Visit, s inspect.Setup) error { _, err := inspect.Assess(v, s); return err },
		"place":  func(v *record.Visit, s inspect.Setup) error { _, err := placement.Find(t.Context(), v, s); return err },
		"history": func(v *record.Visit, s inspect.Setup) error {
			_, err := history.Compare([]*record.Visit{v}, s)
			return err
		},
	}
	for name, job := range jobs {
		v := v
		if name == "load" {
			v = trip
		}
		if err := job(v, setup); err != nil {
			t.Fatal(name, err)
		}
		if err := job(nil, setup); err == nil {
			t.Errorf("%s of no visit: no error", name)
		}
		if err := job(v, inspect.Setup{Program: new(rules.Program)}); !errors.Is(err, rules.ErrVocabulary) {
			t.Errorf("%s by a program that nobody compiled: %v", name, err)
		}
	}
	if err := (inspect.Setup{Program: new(rules.Program)}).Check(); !errors.Is(err, rules.ErrVocabulary) {
		t.Errorf("a setup with such a program: %v", err)
	}
	if err := (inspect.Setup{Beside: []*rules.Program{nil}}).Check(); !errors.Is(err, rules.ErrVocabulary) {
		t.Errorf("a setup with no program beside: %v", err)
	}
	if _, err := record.Marshal(nil); !errors.Is(err, record.ErrNothing) {
		t.Errorf("written, no visit: %v", err)
	}
	if (*record.Visit)(nil).WithoutNames() != nil || record.Next(nil, v.Date).Version != record.Version {
		t.Error("no visit has names, or no next one")
	}
}

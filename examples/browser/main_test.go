//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/testsize"
)

// answered asks a desk and takes its answer apart.
func answered(t *testing.T, d *desk, what, text string) (answer any, problems []any, wrong string) {
	t.Helper()
	var out struct {
		Answer   any    `json:"answer"`
		Problems []any  `json:"problems"`
		Wrong    string `json:"wrong"`
	}
	got := d.ask(what, text, 80)
	if err := json.Unmarshal([]byte(got), &out); err != nil {
		t.Fatalf("%s: %v in %s", what, err, got)
	}
	if strings.ContainsAny(got, "<>") {
		t.Errorf("%s: the answer has markup: %s", what, got)
	}
	return out.Answer, out.Problems, out.Wrong
}

func demo(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "demo", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// The page is told what the library says of the demo, with its table and without.
func TestDesk(t *testing.T) {
	var d desk
	visit := demo(t, "visit.yaml")
	v, err := record.Read("visit", []byte(visit))
	if err != nil {
		t.Fatal(err)
	}
	report, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	if got, _, _ := answered(t, &d, "report", visit); got != sheet.Text(report, sheet.TextOptions{Full: true, Columns: 80}) {
		t.Errorf("the report is\n%s", got)
	}
	var page bytes.Buffer
	if err := sheet.HTML(&page, report, sheet.HTMLOptions{Visit: v}); err != nil {
		t.Fatal(err)
	}
	if got, _, _ := answered(t, &d, "sheet", visit); got != page.String() {
		t.Error("the sheet is another one")
	}
	verdict, _, _ := answered(t, &d, "verdict", visit)
	if got := verdict.(map[string]any); got["head"] != "DO NOT DRIVE: drive-right (both)" || got["drive"] != "must not move" || !strings.HasPrefix(got["text"].(string), "DO NOT DRIVE: ") {
		t.Errorf("the verdict is %v", verdict)
	}
	if got, _, wrong := answered(t, &d, "open", demo(t, "xv250.yaml")); !reflect.DeepEqual(got, map[string]any{"table": "invented demo table"}) {
		t.Errorf("a table: %v, %s", got, wrong)
	}
	if with, _, _ := answered(t, &d, "report", visit); !strings.Contains(with.(string), "invented demo table") {
		t.Error("the table is not used")
	}
	if _, _, wrong := answered(t, &d, "open", demo(t, "xv250.yaml")); wrong == "" || len(d.tables) != 1 {
		t.Errorf("the same table again: %q, %d tables", wrong, len(d.tables))
	}
	if got, _, _ := answered(t, &d, "places", visit); len(got.(map[string]any)["Wheels"].([]any)) != 6 {
		t.Errorf("places: %v", got)
	}
	if got, _, _ := answered(t, &d, "fields", ""); len(got.([]any)) != len(record.Fields()) {
		t.Errorf("%d fields", len(got.([]any)))
	}
	if _, _, wrong := answered(t, &d, "dinner", visit); !strings.Contains(wrong, `"dinner"`) {
		t.Errorf("no answer of the library: %q", wrong)
	}
	next, _, _ := answered(t, &d, "next", visit)
	if left := next.(map[string]any)["tires"].([]any)[0].(map[string]any); left["found"] != "not read" || left["number"] != "2222" {
		t.Errorf("the next visit's first tire: %v", left)
	}
}

// What is wrong comes with the path by which the page finds its field.
func TestDeskNamesFields(t *testing.T) {
	_, problems, _ := answered(t, new(desk), "verdict", `{"visit": "1", "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single", "gawr": "9500"}],
		"tires": [{"at": "steer-left", "found": "95x", "note": "<b>"}], "weighing": {"readings": [{"load": "<i>", "on": ["steer-left"]}]}}`)
	var paths []string
	for _, p := range problems {
		paths = append(paths, p.(map[string]any)["path"].(string))
	}
	if want := []string{"steer.gawr", "steer-left.found", "weighing.steer-left.load"}; !reflect.DeepEqual(paths, want) {
		t.Errorf("paths %q, want %q", paths, want)
	}
}

// formData is a visit as the form sends it: every value a text, what is empty left
// out or empty.
func formData() map[string]any {
	return map[string]any{
		"visit": "1", "date": "2026-10-03", "units": "us", "coach": `An invented coach, "No. 7"`, "odometer": "41,250 mi", "nothing_since_set": "yes", "stood": "", "gauge": nil,
		"axles":      []any{map[string]any{"id": "steer", "fitment": "single", "gawr": "9500 lb"}, map[string]any{"id": "drive", "fitment": "dual", "placard": "none", "behind_steer": "228 in"}, map[string]any{"id": "car", "fitment": "single", "towed": "yes", "behind_steer": "500 in"}},
		"every_tire": map[string]any{"size": "XV250/72R21", "class": "truck", "seen": "nothing"},
		"tires": []any{
			map[string]any{"at": "steer-left", "found": "98.5 psi", "tread": map[string]any{"outer": []any{"9/32 in", "10/32 in"}, "inner": "8/32 in"}},
			map[string]any{"at": "drive-left-inner", "read_at": "not reached", "seen": []any{"cut", "missing cap"}}, map[string]any{"at": "drive-left-outer", "size": "not read", "tread": []any{"9/32 in", "7 mm"}},
		},
		"weighing": map[string]any{"scale": "platform", "readings": []any{map[string]any{"load": "13340 lb", "on": []any{"left"}}, map[string]any{"load": "not read", "on": []any{"right"}}}},
		"trip": map[string]any{"track": "78 in", "coupling": "tongue", "hitch": "320 in", "stations": []any{map[string]any{"name": "rear bay", "behind_steer": "260 in"}},
			"items":   []any{map[string]any{"name": "tools", "mass": "120 lb", "at": "rear bay", "may_go_to": []any{"rear bay"}}},
			"changes": []any{map[string]any{"name": "two people", "at": "rear bay", "add": "300 lb"}}, "label": map[string]any{"kind": "CCC"}},
		"done": []any{map[string]any{"at": "drive-left-inner", "rule": "run-low"}},
	}
}

// saved reads a form's data and writes the file.
func saved(t *testing.T, data map[string]any) []byte {
	t.Helper()
	text, err := json.Marshal(data)
	if err != nil {
		t.Fatal(err)
	}
	v, err := record.Read("form", text)
	if err != nil {
		t.Error(err)
		return nil
	}
	out, err := record.Marshal(v)
	if err != nil {
		t.Error(err)
	}
	return out
}

// Form data to a visit to a file, and that file again: the same bytes. Tried with
// every field of the record filled in by itself, as the form writes it.
func TestFormToFileAndBack(t *testing.T) {
	within := map[string]func(map[string]any) map[string]any{
		"visit": func(v map[string]any) map[string]any { return v },
		"tread": func(v map[string]any) map[string]any {
			return v["tires"].([]any)[0].(map[string]any)["tread"].(map[string]any)
		},
	}
	for part, path := range map[string][2]string{"axle": {"", "axles"}, "tire": {"", "tires"}, "done": {"", "done"}, "reading": {"weighing", "readings"}, "station": {"trip", "stations"}, "item": {"trip", "items"}, "change": {"trip", "changes"}} {
		within[part] = func(v map[string]any) map[string]any {
			if path[0] != "" {
				v = v[path[0]].(map[string]any)
			}
			return v[path[1]].([]any)[0].(map[string]any)
		}
	}
	groups := make(map[string]bool)
	for _, f := range record.Fields() {
		groups[f.Part] = true
	}
	for _, f := range record.Fields() {
		if groups[f.Kind] {
			continue
		}
		data := formData()
		var into map[string]any
		switch at := within[f.Part]; {
		case at != nil:
			into = at(data)
		case f.Part == "label":
			into = data["trip"].(map[string]any)["label"].(map[string]any)
		case data[f.Part] == nil:
			data[f.Part] = map[string]any{}
			fallthrough
		default:
			into = data[f.Part].(map[string]any)
		}
		value := f.Example
		if len(f.Words) > 0 {
			value = f.Words[0]
		}
		switch {
		case f.Key == "units": // the first is what a file without it has
			value = f.Words[1]
		case f.Key == "towed" && f.Part == "axle", f.Key == "sure", f.Key == "raised": // of another axle, or of a value that is there
			continue
		case f.Key == "fill" || f.Key == "drain" || f.Key == "take_off":
			delete(into, "add")
			if f.Key != "take_off" {
				into["fluid"] = "water"
			}
		case f.Key == "fluid":
			delete(into, "add")
			into["fill"] = "40 gal"
		case value == "":
			value = "words of an invented coach"
		}
		if _, there := into[f.Key]; !there || !f.Needed {
			into[f.Key] = value
		}
		if f.Kind == "own values" {
			into[f.Key] = map[string]any{"since_mounted": "180 mi", "nuts_checked": "no"}
		}
		first := saved(t, data)
		v, err := record.Read("file", first)
		if err != nil {
			t.Errorf("%s of %s: %v\n%s", f.Key, f.Part, err, first)
			continue
		}
		if again, err := record.Marshal(v); err != nil || !bytes.Equal(first, again) {
			t.Errorf("%s of %s: %v\n%s\nand again\n%s", f.Key, f.Part, err, first, again)
		}
		if !bytes.Contains(first, []byte(f.Key+":")) {
			t.Errorf("%s of %s is not in the file\n%s", f.Key, f.Part, first)
		}
	}
}

// What a browser makes of the files is tried in internal/browsercheck.
func TestWrite(t *testing.T) {
	if !testsize.Full() {
		t.Skip("compiles the library to WebAssembly")
	}
	dir := filepath.Join(t.TempDir(), "page")
	if err := write(dir); err != nil {
		t.Fatal(err)
	}
	starts := map[string]string{"index.html": "<!DOCTYPE html>", "form.js": `"use strict"`, "page.js": `"use strict"`, "offline.js": `"use strict"`, "page.css": ":root", "wasm_exec.js": "//", "library.packed": "\x1f\x8b"}
	for name, start := range starts {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !strings.HasPrefix(string(data), start) || bytes.Contains(data, []byte("EDITION")) {
			t.Errorf("%s: %v, starts with %.20q", name, err, data)
		}
		if name == "library.packed" && len(data) > 2_500_000 {
			t.Errorf("the library packed is %d bytes, want at most 2.5 MB", len(data))
		}
		if name == "offline.js" {
			for other := range maps.Keys(starts) {
				if other != "index.html" && other != name && !bytes.Contains(data, []byte(`"`+other+`"`)) {
					t.Errorf("%s does not stay for a page without a network", other)
				}
			}
		}
	}
	if err := write(filepath.Join(dir, "index.html")); err == nil {
		t.Error("a folder that is a file")
	}
}

package record_test

import (
	"errors"
	"maps"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
)

const ownVisit = `visit: 1
date: 2026-10-03
own: {bay_door: Yes, gap: 1/4 in}
axles: [{id: steer, fitment: single, own: {hub_play: 0.4 mm}}]
tires:
  - {at: steer-left, own: {since_mounted: 180 mi, nuts_checked: no, cap: n/a, hue:, odd: "a: b"}}
  - {at: steer-right, own: not read}
`

// TestOwnMeasures: what a visit gives of house measures reads as text, comes back
// from a file, and is another at the next visit.
func TestOwnMeasures(t *testing.T) {
	v, err := record.Read("v.yaml", []byte(ownVisit))
	if err != nil {
		t.Fatal(err)
	}
	want := []map[string]string{
		{"bay_door": "yes", "gap": "1/4 in"},
		{"hub_play": "0.4 mm"},
		{"since_mounted": "180 mi", "nuts_checked": "no", "odd": "a: b"},
		nil,
	}
	check := func(v *record.Visit) {
		t.Helper()
		for i, got := range []map[string]string{v.Own, v.Axles[0].Own, v.Tires[0].Own, v.Tires[1].Own} {
			if !maps.Equal(got, want[i]) {
				t.Errorf("%v, want %v", got, want[i])
			}
		}
	}
	check(v)
	data, err := record.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	again, err := record.Read("v.yaml", data)
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	check(again)
	fromJSON, err := record.ReadJSON("v.json", []byte(`{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single", "own": {"hub_play": "0.4 mm"}}],
		"own": {"bay_door": true, "gap": "1/4 in"}, "tires": [{"at": "steer-left", "own": {"since_mounted": "180 mi", "nuts_checked": false, "cap": null, "odd": "a: b"}}, {"at": "steer-right"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	check(fromJSON)
	next := record.Next(v, dotcode.Date{Year: 2027, Month: 4, Day: 1})
	if next.Own != nil || next.Axles[0].Own != nil || next.Tires[0].Own != nil {
		t.Errorf("what was read stays: %v, %v, %v", next.Own, next.Axles[0].Own, next.Tires[0].Own)
	}
	check(v)
}

// TestOwnRefused: names that no measure can have and values that are none, each at
// its place, from a file and from a program.
func TestOwnRefused(t *testing.T) {
	many := make([]string, 65)
	for i := range many {
		many[i] = "m" + strings.Repeat("x", i) + ": 1"
	}
	for own, wrong := range map[string]string{
		"{Since-Mounted: 180 mi}":                 `v.yaml:4:47: steer-left.own.Since-Mounted: malformed name "Since-Mounted"`,
		"{_x: 1}":                                 "v.yaml:4:36: steer-left.own._x: malformed name",
		"[since_mounted]":                         "v.yaml:4:31: steer-left.own: wrong shape: want names with their values",
		"180 mi":                                  "v.yaml:4:31: steer-left.own: wrong shape: want names with their values",
		"{hue: [red, blue]}":                      "v.yaml:4:37: steer-left.own.hue: wrong shape: want one value, such as 180 mi",
		"{hue: red, hue: blue}":                   "duplicate",
		`{hue: "red\nblue"}`:                      "v.yaml:4:37: steer-left.own.hue: malformed number: a text of several lines",
		"{" + strings.Join(many, ", ") + "}":      "65 values, at most 64",
		"{hue: " + strings.Repeat("x", 201) + "}": "a text of 201 bytes",
	} {
		text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, own: " + own + "}]\n"
		if _, err := record.Read("v.yaml", []byte(text)); err == nil || !strings.Contains(err.Error(), wrong) {
			t.Errorf("%s: %v, want %s", own, err, wrong)
		}
	}
	if _, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\nevery_tire: {own: {a: 1}}\n")); err == nil || !strings.Contains(err.Error(), "one tire at a time") {
		t.Errorf("of every tire: %v", err)
	}
	for _, own := range []map[string]string{{"hue": ""}, {"hue": "not read"}, {"hue": " red"}, {"hue": "Yes"}, {"a b": "red"}, {"hue": "a\nb"}} {
		v, err := record.Read("v.yaml", []byte(ownVisit))
		if err != nil {
			t.Fatal(err)
		}
		v.Tires[0].Own = own
		if _, err := v.Layout(); err == nil || !strings.Contains(err.Error(), "steer-left.own.") {
			t.Errorf("%q: %v", own, err)
		}
	}
}

// TestOwnOfBuiltVisits: one name that no measure can have is told of coach, axle and tire,
// and each may have 64 values and no more.
func TestOwnOfBuiltVisits(t *testing.T) {
	for name, at := range map[string]func(v *record.Visit) *record.Own{
		"own": func(v *record.Visit) *record.Own { return &v.Own }, "steer.own": func(v *record.Visit) *record.Own { return &v.Axles[0].Own }, "steer-left.own": func(v *record.Visit) *record.Own { return &v.Tires[0].Own },
	} {
		v, err := record.Read("v.yaml", []byte(ownVisit))
		if err != nil {
			t.Fatal(err)
		}
		*at(v) = record.Own{"Hue": "red"}
		if _, err := v.Layout(); !errors.Is(err, record.ErrName) || !strings.Contains(err.Error(), name+".Hue: ") {
			t.Errorf("%s: %v", name, err)
		}
		many := record.Own{}
		for i := range 64 {
			many["m"+strings.Repeat("x", i)] = "1"
		}
		*at(v) = many
		if _, err := v.Layout(); err != nil {
			t.Errorf("%s, 64 values: %v", name, err)
		}
		many["one_more"] = "1"
		if _, err := v.Layout(); err == nil || !strings.Contains(err.Error(), name+": out of range: 65 values, at most 64") {
			t.Errorf("%s, 65 values: %v", name, err)
		}
	}
}

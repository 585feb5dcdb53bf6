package main

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/inspect/loading"
)

const demoTrip = "../demo/trip.yaml"

// packed is an invented coach whose right drive end is 240 lb below half its
// GAWR (8,750 lb, common practice), the plus/minus of 10 lb taken off.
const packed = `
visit: 1
invented: yes
date: 2026-10-03
ratings: {gvwr: 26000 lb}
every_tire: {single: 6000 lb at 110 psi, dual: 5000 lb at 110 psi, wheel: 6000 lb at 120 psi}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 200 in}
weighing:
  scale: pads
  as_driven: all
  tolerance: 10 lb
  level: yes
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4100 lb, on: steer-right}
    - {load: 8100 lb, on: drive-left}
    - {load: 8500 lb, on: drive-right}
`

// With 480 lb over the drive axle each of its ends takes 240 lb: just kept.
// One more pound is one too many (computed from moments).
const trip = `
trip:
  stations: [{name: shelf, behind_steer: 200 in}, {name: nook, behind_steer: 0 in}]
  changes: [{name: stones, at: shelf, add: 480 lb}]
`

func TestWeighAndLoadExitStatuses(t *testing.T) {
	heavy := strings.Replace(packed+trip, "480 lb", "482 lb", 1)
	for _, x := range []struct {
		name string
		in   string
		args []string
		code int
		out  string
		errw string
	}{
		{"weigh the demo", "", []string{"weigh", demoTrip}, 0, "drive-right        8,640 lb +/- 60", ""},
		{"half an axle does not stop", "", []string{"weigh", demoVisit}, 0, "OVER A LIMIT: fix this before the trip", ""},
		{"GVWR surely over", strings.Replace(packed, "26000", "24600", 1), []string{"weigh", "-"}, 1, "DO NOT DRIVE", ""},
		{"GVWR too close", strings.Replace(packed, "26000", "24700", 1), []string{"weigh", "-"}, 0, "TOO CLOSE TO CALL", ""},
		{"GAWR surely over", strings.Replace(packed, "9500", "8000", 1), []string{"weigh", "-"}, 1, "over by up to 120", ""},
		{"no rating", "visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: single}]\nweighing: {readings: [{load: 9000 lb, on: a}]}\n", []string{"weigh", "-"}, 0, "NOTHING JUDGED - NOT JUDGED", ""},
		{"GVWR kept, by a coach that may have been weighed light", strings.Replace(packed, "  as_driven: all\n", "", 1), []string{"weigh", "-"}, 0, "NOTHING JUDGED - NOT JUDGED", ""},
		{"only what the packs hold", strings.Replace(packed, "8500", "8900", 1), []string{"weigh", "-packs", "label", "-"}, 0, "WITHIN EVERY LIMIT JUDGED", ""},
		{"half an axle by the default packs", strings.Replace(packed, "8500", "8900", 1), []string{"weigh", "-"}, 0, "OVER A LIMIT", ""},
		{"no such pack", packed, []string{"weigh", "-packs", "labl", "-"}, 2, "", `no pack "labl": did you mean "label"?`},
		{"weigh nothing", "visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: single}]\n", []string{"weigh", "-"}, 2, "", "nothing was weighed"},
		{"weigh misuse", "", []string{"weigh"}, 2, "", "one visit file"},
		{"weigh help", "", []string{"weigh", "-h"}, 0, "axleend weigh examples/demo/trip.yaml", ""},
		{"load the demo", "", []string{"load", demoTrip}, 0, "folding chairs (45 lb): from right rear bay to left front bay", ""},
		{"just kept", packed + trip, []string{"load", "-"}, 0, "NOTHING HAS TO MOVE", ""},
		{"GAWR not read", strings.Replace(packed+trip, ", gawr: 17500 lb", "", 1), []string{"load", "-"}, 1, "NOT CLEARED: nothing has to move for what was judged - NOT JUDGED: 1", ""},
		{"GAWR not read, something has to move", strings.NewReplacer(", gawr: 9500 lb", "", "482 lb}", "482 lb, may_go_to: nook}").Replace(heavy), []string{"load", "-"}, 1, "NOT CLEARED: the moves below clear only what was judged", ""},
		{"ends not weighed", strings.NewReplacer("{load: 8100 lb, on: drive-left}", "{load: 16600 lb, on: drive}", "    - {load: 8500 lb, on: drive-right}\n", "").Replace(packed + trip), []string{"load", "-"}, 1, "NOT CLEARED: nothing has to move for what was judged", ""},
		{"tires not read", strings.Replace(packed+trip, "dual: 5000 lb at 110 psi", "dual: not read", 1), []string{"load", "-"}, 1, "NOT CLEARED: nothing has to move for what was judged", ""},
		{"room of what was read", strings.Replace(packed+trip, ", gawr: 17500 lb", "", 1), []string{"load", "-"}, 1, "This room holds only for what was read", ""},
		{"no plan clears it", heavy, []string{"load", "-"}, 1, "NO PLAN CLEARS IT", ""},
		{"moves clear it", strings.Replace(heavy, "482 lb}", "482 lb, may_go_to: nook}", 1), []string{"load", "-"}, 0, "stones (482 lb): from shelf to nook", ""},
		{"something must stay home", strings.Replace(strings.Replace(heavy, "482 lb}", "482 lb, may_go_to: nook}", 1), "behind_steer: 0 in", "behind_steer: 0 in, most: 480 lb", 1), []string{"load", "-"}, 1, "leave at home: stones", ""},
		{"no trip", packed, []string{"load", "-"}, 2, "", "no place to load"},
		{"no unit", strings.Replace(packed+trip, "480 lb", "480", 1), []string{"load", "-"}, 2, "", `-:23:44: trip.stones.add: mass "480"`},
		{"no such station", strings.Replace(packed+trip, "at: shelf", "at: shlef", 1), []string{"load", "-"}, 2, "", `-:23:32: trip.stones.at: no such station: "shlef": did you mean "shelf"?`},
		{"a plan by the packs given", heavy, []string{"load", "-packs", "label", "-"}, 0, "NOTHING HAS TO MOVE", ""},
		{"a plan for a coach that may have been weighed light", strings.NewReplacer("  as_driven: all\n", "", "  changes: [{name: stones, at: shelf, add: 480 lb}]\n", "").Replace(packed + trip), []string{"load", "-"}, 1, "NOTHING JUDGED", ""},
		{"load misuse", "", []string{"load", "a", "b"}, 2, "", "one visit file"},
		{"load help", "", []string{"load", "-h"}, 0, "axleend load examples/demo/trip.yaml", ""},
		{"unknown form", "", []string{"load", "-as", "csv", demoTrip}, 2, "", "want text or json"},
	} {
		t.Run(x.name, func(t *testing.T) {
			code, out, errw := axleend(t, x.in, x.args...)
			if code != x.code {
				t.Errorf("exit status %d, want %d\n%s%s", code, x.code, out, errw)
			}
			if !strings.Contains(out, x.out) || x.code == 2 && out != "" {
				t.Errorf("standard output %q, want %q in it", out, x.out)
			}
			if !strings.Contains(errw, x.errw) {
				t.Errorf("standard error %q, want %q in it", errw, x.errw)
			}
			for i, l := range strings.Split(out, "\n") {
				if n := utf8.RuneCountInString(l); n > 80 {
					t.Errorf("line %d has %d columns: %s", i+1, n, l)
				}
			}
			if first, _, _ := strings.Cut(strings.ToLower(out), "\n"); strings.Contains(first, "safe") {
				t.Errorf("the first line says safe: %s", first)
			}
		})
	}
	for _, word := range []string{"weigh", "load"} {
		if code := run(context.Background(), []string{word, demoTrip}, nil, full{}, &bytes.Buffer{}); code != exitWrite {
			t.Errorf("%s that cannot write: exit status %d, want %d", word, code, exitWrite)
		}
	}
}

func TestLoadSaysItIsAPlan(t *testing.T) {
	_, out, _ := axleend(t, "", "load", demoTrip)
	text := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"weigh again once it is loaded", "between the two ends of each axle by the offset", "Local codes",
		"Invented example", "left front bay", "then half GAWR, drive, right end"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
}

// TestHalfGAWRIsExplainedOnce: where an end is held against half of its axle's rating
// the page says once what that is, and not where no rating was read.
func TestHalfGAWRIsExplainedOnce(t *testing.T) {
	bare := strings.NewReplacer(", gawr: 9500 lb", "", ", gawr: 17500 lb", "").Replace(packed)
	for _, x := range []struct {
		name, in string
		times    int
	}{{"weigh", packed, 1}, {"load", packed + trip, 1}, {"weigh", bare, 0}} {
		var out, errw bytes.Buffer
		run(context.Background(), []string{x.name, "-"}, strings.NewReader(x.in), &out, &errw)
		if n := strings.Count(out.String(), "half GAWR: each end of an axle"); n != x.times || !strings.Contains(out.String(), "drive-left") {
			t.Errorf("%s says it %d times, want %d:\n%s%s", x.name, n, x.times, &out, &errw)
		}
	}
}

// TestSettleIsSaidAsOnTheFullPage: what would tell an open load is said in the same
// words by weigh and by assess -full.
func TestSettleIsSaidAsOnTheFullPage(t *testing.T) {
	open := packed[:strings.Index(packed, "    - {load: 4000 lb")] + "    - {load: 4000 lb, on: steer-left}\n    - {load: 8100 lb, on: drive-left}\n"
	for _, args := range [][]string{{"weigh", "-"}, {"assess", "-full", "-"}} {
		var out, errw bytes.Buffer
		run(context.Background(), args, strings.NewReader(open), &out, &errw)
		if !strings.Contains(out.String(), "To tell the load of ") || strings.Contains(out.String(), "to settle it") {
			t.Errorf("%v:\n%s%s", args, &out, &errw)
		}
	}
}

func TestLoadPagesFitWhateverTheNames(t *testing.T) {
	long := strings.Repeat("very long name ", 12) + "x"
	in := strings.NewReplacer("id: drive", "id: abcdefghijklmnopqrstuvwx", "on: drive", "on: abcdefghijklmnopqrstuvwx", "shelf", long, "480 lb", "482 lb").Replace(packed + trip)
	for _, word := range []string{"weigh", "load"} {
		_, out, errw := axleend(t, in, word, "-")
		if out == "" {
			t.Errorf("%s: %s", word, errw)
		}
		for i, l := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(l); n > 80 {
				t.Errorf("%s: line %d has %d columns: %s", word, i+1, n, l)
			}
		}
	}
}

func TestWeighAndLoadJSONReadBack(t *testing.T) {
	for word, r := range map[string]any{"weigh": &loading.WeighReport{}, "load": &loading.TripReport{}} {
		_, out, _ := axleend(t, "", word, "-as", "json", demoTrip)
		if err := json.Unmarshal([]byte(out), r); err != nil {
			t.Fatal(err)
		}
		again, err := json.MarshalIndent(r, "", "  ")
		if err != nil || string(again)+"\n" != out {
			t.Errorf("%s: not the same after reading back: %v", word, err)
		}
	}
}

package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/inspect/placement"
)

func TestPlace(t *testing.T) {
	const pair, tag = "../wheels/pair.yaml", "../wheels/tag.yaml"
	flat := filepath.Join(t.TempDir(), "flat.yaml")
	text := "visit: 1\ndate: 2026-10-03\naxles: [{id: drive, fitment: dual}]\ntires: [{at: drive-left-inner, found: 0 psi, last_set: 90 psi, seen: nothing}, {at: drive-left-outer, found: 90 psi, last_set: 90 psi, seen: nothing}]\n"
	if err := os.WriteFile(flat, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(t.TempDir(), "other.yaml")
	text = `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
every_tire: {last_set: 90 psi, seen: nothing, model: a}
tires: [{at: steer-left, found: 90 psi, tread: 3/32 in}, {at: steer-right, found: 90 psi, tread: 9/32 in}, {at: spare, found: 90 psi, tread: 9/32 in, wheel_fits: tag, rotates: right}]
`
	if err := os.WriteFile(other, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	check(t, []want{
		{"a flat and its mate", "place " + demoVisit, exitStop, []string{
			"DO NOT DRIVE AS IT STANDS. BUY 2 TIRES", "NOT JUDGED: 1", "Trained people let its air out through the valve core, then take off the wheel at drive-right-outer",
			"AT DRIVE-RIGHT: chock", "DEMOUNT (trained people): the old tire comes off", "A TIRE TO BUY, see below",
			"Stays off", "coach-care/run-low", "at least 4540 lb dual", "drive-left-inner: its cold pressure, read at the stem",
			"50 to 100 miles", "never the levelers", "does not say that a coach is safe"}},
		{"a pair that the spare mends", "place " + pair, exitDone, []string{
			"MOVE WHEELS: 2 moves", "Duals too far apart in tread", "Take the spare off its carrier.", "Put the spare on drive-left-inner.", "Set cold, one pressure an axle: steer ",
			"Stow wheel drive-left-inner on the spare's carrier.", "Still to do, wherever the tire goes", "Valve leaks", "!DO NOT DRIVE AS", "!To buy", "!NOT JUDGED"}},
		{"a tag axle", "place " + tag, exitDone, []string{"MOVE WHEELS", "Steer tire worn out", "tag-right"}},
		{"onto another wheel", "place " + other, exitDone, []string{
			"the tire of the spare goes onto the wheel from steer-left, its arrow pointing forward on the coach's left side.",
			"Put wheel steer-left, now with the tire of spare, on steer-left.", "read what is missing of it (listed below), and have trained people inspect it",
			"spare, steer-right, steer-left: its date code (look on both sidewalls)"}},
		{"json", "place -as json " + pair, exitDone, []string{`"outcome": "move wheels"`, `"do": "lift"`}},
		{"strict", "place -strict " + pair, exitDone, []string{"MOVE WHEELS"}},
		{"the commercial pack", "place -packs us-commercial " + tag, exitDone, []string{"us-commercial/tread-steer", "Rules: us-commercial."}},
		{"a flat by the commercial pack", "place -packs us-commercial " + flat, exitStop, []string{"drive-left-inner: Run without pressure", "drive-left-outer: it ran low, or its dual mate did"}},
		{"no visit", "place", exitMisuse, []string{"one visit file"}},
		{"no such pack", "place -packs none " + pair, exitMisuse, []string{"none"}},
		{"unknown form", "place -as html " + pair, exitMisuse, []string{"want text or json"}},
	})
}

// TestPlaceStandardInput: a visit without a tire has nothing to place; one in
// which nothing is broken leaves all where it is.
func TestPlaceStandardInput(t *testing.T) {
	if code, out, errw := axleend(t, kept, "place", "-"); code != exitMisuse || out != "" || !strings.Contains(errw, "no tire to place") {
		t.Errorf("exit status %d, %q, %q", code, out, errw)
	}
	one := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, tread: 8/32 in, seen: nothing}]\n"
	code, out, _ := axleend(t, one, "place", "-")
	if code != exitDone || !strings.Contains(out, "LEAVE THE WHEELS WHERE THEY ARE") || !strings.Contains(out, "NOT JUDGED") ||
		!strings.Contains(strings.Join(strings.Fields(out), " "), "None proposed: not every tire on the road was probed") {
		t.Errorf("exit status %d\n%s", code, out)
	}
	narrow(t, out)
	if code, _, _ := axleend(t, one, "place", "-strict", "-"); code != exitStop {
		t.Errorf("strict: exit status %d", code)
	}
}

// TestPlaceRotation shows a rotation that helps, and metric depths.
func TestPlaceRotation(t *testing.T) {
	var b strings.Builder
	b.WriteString("visit: 1\ndate: 2026-10-03\nunits: metric\naxles: [{id: steer, fitment: single}, {id: tag, fitment: single}]\nevery_tire: {model: alpha, size: AX240/75R20, construction: radial, seen: nothing}\ntires:\n")
	for at, mm := range map[string]string{"steer-left": "8 mm", "steer-right": "8 mm", "tag-left": "4 mm", "tag-right": "8 mm", "spare": "8 mm"} {
		b.WriteString("  - {at: " + at + ", tread: " + mm + "}\n")
	}
	code, out, _ := axleend(t, b.String(), "place", "-")
	page := strings.Join(strings.Fields(out), " ")
	if code != exitDone || !strings.Contains(page, "ROTATE: ") || !strings.Contains(page, "It helps: ") || !strings.Contains(page, "8.0 mm") {
		t.Errorf("exit status %d\n%s", code, out)
	}
	narrow(t, out)
}

// TestPlaceReadsBack: the JSON of the command is a Placement again.
func TestPlaceReadsBack(t *testing.T) {
	_, out, _ := axleend(t, "", "place", "-as", "json", demoVisit)
	var r placement.Placement
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	again, err := json.MarshalIndent(r, "", "  ")
	if err != nil || string(again)+"\n" != out {
		t.Errorf("%v: it comes out otherwise", err)
	}
}

func TestPlaceInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errw strings.Builder
	if code := run(ctx, []string{"place", demoVisit}, strings.NewReader(""), &out, &errw); code != exitWrite || out.Len() > 0 || errw.Len() == 0 {
		t.Errorf("exit status %d, %q, %q", code, out.String(), errw.String())
	}
}

// TestPlaceSetsEndsApart: a line is left before each end that is worked at, but before the
// first step of all.
func TestPlaceSetsEndsApart(t *testing.T) {
	second := 0
	for _, visit := range []string{"../wheels/pair.yaml", "../wheels/tag.yaml", demoVisit} {
		_, out, _ := axleend(t, "", "place", visit)
		lines := strings.Split(out, "\n")
		for i, line := range lines {
			number, rest, ok := strings.Cut(strings.TrimLeft(line, " "), ". ")
			if !ok || strings.Trim(number, "0123456789") != "" || i == 0 {
				continue
			}
			lift := strings.HasPrefix(rest, "AT ") || strings.HasPrefix(rest, "BACK AT ")
			if lift && number == "2" {
				second++
			}
			if apart := lines[i-1] == ""; apart != (lift && number != "1") {
				t.Errorf("%s: a line before %q: %v", visit, line, apart)
			}
		}
	}
	if second == 0 {
		t.Error("no page has an end as the second step")
	}
}

// TestPlaceSaysNoAirBesideThePressure: the page of a coach whose wheels stay says beside
// the pressure to set which tires get no air yet, and what says what comes first; an axle
// of them in one word, a tire that moves by the place it comes from (common practice).
func TestPlaceSaysNoAirBesideThePressure(t *testing.T) {
	const coach = `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, placard: 100 psi}, {id: tag, fitment: single, placard: 100 psi}]
every_tire: {last_set: 100 psi, size: AX240/75R20, class: truck, single: 5000 lb at 110 psi, wheel: 6000 lb at 130 psi, model: a, seen: nothing}
tires:
  - {at: steer-left, tread: 9/32 in, number: "2223", found: 99 psi}
  - {at: steer-right, tread: 9/32 in, number: "2223", found: 60 psi, driven_since: no}
  - {at: tag-left, tread: 9/32 in, number: "2223", found: 60 psi, driven_since: no}
  - {at: tag-right, tread: 9/32 in, number: "2223", found: 60 psi, driven_since: no}
`
	code, out, errw := axleend(t, coach, "place", "-")
	flat := strings.Join(strings.Fields(out), " ")
	if !strings.Contains(flat, "LEAVE THE WHEELS") || !strings.Contains(flat, "steer 100 psi, tag 100 psi. NO AIR YET in steer-right, any tire of tag: first do what axleend assess lists about the tire.") {
		t.Errorf("exit status %d, %s\n%s", code, errw, out)
	}
	sound := strings.NewReplacer("60 psi, driven_since: no", "99 psi").Replace(coach)
	if code, out, errw := axleend(t, sound, "place", "-"); code != exitDone || strings.Contains(out, "AIR") {
		t.Errorf("exit status %d, %s\n%s", code, errw, out)
	}
	worn := strings.Replace(sound, "steer-left, tread: 9/32 in", "steer-left, tread: 3/32 in", 1) + "  - {at: spare, tread: 9/32 in, number: \"2223\"}\n"
	_, out, _ = axleend(t, worn, "place", "-")
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, "NO AIR YET in the tire of spare, on steer-left") {
		t.Error(out)
	}
}

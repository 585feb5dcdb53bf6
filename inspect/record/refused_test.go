package record_test

import (
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
)

// TestRefusedAndRead: what cannot be a visit next to what is one, line by line.
func TestRefusedAndRead(t *testing.T) {
	const head = "visit: 1\ndate: 2026-10-03\n"
	const axles = head + "axles: [{id: steer, fitment: single}, {id: drive, fitment: dual, behind_steer: 228 in}]\n"
	const trip = axles + "trip:\n  stations: [{name: bay, behind_steer: 100 in}]\n"
	for _, x := range []struct{ text, wrong string }{
		{axles, ""},
		{head + "axles: [{id: steer, fitment: single}, {id: steer, fitment: dual}]\n", "steer.id: given twice: an axle is called steer already"},
		{head + "axles: [{id: a, fitment: single}, {id: b, fitment: dual}, {id: a, fitment: dual}]\n", "a.id: given twice: an axle is called a already"},
		{axles + "tires: [{at: steer-left}, {at: steer-right}, {at: steer-left}]\n", "given twice: steer-left has an entry already"},
		{axles + "tires: [{at: steer-left}, {at: steer-right}]\n", ""},
		{axles + "tires: [{at: rear-left-inner}, {at: rear-right-inner}]\n", `2 tires name the axle "rear": the axles are steer, drive`},
		{axles + "tires: [{at: rear-left-inner}, {at: steer-left}]\n", `"rear-left-inner": did you mean "drive-left-inner"?`},
		{axles + "coach: x\r\n", ""},
		{axles + "coach: x\r", "a carriage return that ends no line"},
		{axles + "coach: x\ry\n", "a carriage return that ends no line"},

		// Moments need distances: of the coach's axles for a station in the coach, of all
		// for one in the towed unit.
		{trip, ""},
		{strings.Replace(trip, ", behind_steer: 228 in", "", 1), `behind_steer of axle "drive", which the trip's stations need`},
		{strings.Replace(trip, "228 in}", "228 in}, {id: car, fitment: single, towed: yes}", 1), ""},
		{strings.NewReplacer("228 in}", "228 in}, {id: car, fitment: single, towed: yes}", "100 in}", "400 in, towed: yes}").Replace(trip), `behind_steer of axle "car", which the trip's stations need`},
		{strings.NewReplacer("228 in}", "228 in}, {id: car, fitment: single, towed: yes, behind_steer: 500 in}", "100 in}", "400 in, towed: yes}").Replace(trip), "coupling, which stations in the towed unit need"},
		{strings.NewReplacer("228 in}", "228 in}, {id: car, fitment: single, towed: yes, behind_steer: 500 in}", "100 in}", "400 in, towed: yes}", "  stations", "  coupling: tongue\n  stations").Replace(trip), "hitch, which stations in the towed unit need"},
		{strings.NewReplacer("228 in}", "228 in}, {id: car, fitment: single, towed: yes, behind_steer: 500 in}", "100 in}", "400 in, towed: yes}", "  stations", "  coupling: tow bar\n  stations").Replace(trip), ""},

		// No blank behind a colon, and nothing that could be a value.
		{head + "axles:#\n", "no space after the colon"},
		{head + "axles:,\n", "no space after the colon"},
		{head + "axles:]\n", "no space after the colon"},
		{head + "axles: [{id:#\n", "no space after the colon"},
		{"visit:#", "no space after the colon"},

		// Whoever wrote nothing down, or less, meant something else.
		{trip + "  changes: [{name: a, at: bay, add: 0 lb}]\n", "want above zero"},
		{trip + "  changes: [{name: a, at: bay, take_off: 0 lb}]\n", "want above zero"},
		{trip + "  changes: [{name: a, at: bay, fill: 0 gal, fluid: water}]\n", "want above zero"},
		{trip + "  changes: [{name: a, at: bay, drain: 0 gal, fluid: water}]\n", "want above zero"},
		{trip + "  changes: [{name: a, at: bay, add: -1 lb}]\n", "zero"},
		{trip + "  changes: [{name: a, at: bay, take_off: -1 lb}]\n", "zero"},
		{trip + "  changes: [{name: a, at: bay, fill: -1 gal, fluid: water}]\n", "want at least 0 gal"},
		{trip + "  changes: [{name: a, at: bay, add: 1 lb}, {name: b, at: bay, take_off: 1 lb}]\n", ""},
		{trip + "  changes: [{name: a, at: bay, fill: 1 gal, fluid: water}, {name: b, at: bay, drain: 1 gal, fluid: water}]\n", ""},
		{trip + "  changes: [{name: a, at: bay, fill: 1 gal}]\n", "the fluid in the tank: want one of water, "},
		{trip + "  changes: [{name: a, at: bay, drain: 1 gal}]\n", "the fluid in the tank: want one of water, "},
		{trip + "  changes: [{name: a, at: bay, add: 1 lb, fluid: water}]\n", "a fluid goes with fill or drain"},
		{trip + "  changes: [{name: a, at: bay}]\n", "want one of add, take_off, fill, drain"},
		{trip + "  changes: [{name: a, at: bay, add: 1 lb, take_off: 1 lb}]\n", "2 of add, take_off, fill and drain: want one"},
		{trip + "  items: [{name: a, at: bay, mass: 1 lb}]\n", "may_go_to: missing"},
		{trip + "  items: [{name: a, at: bay, mass: 0 lb}]\n", "want above zero"},
	} {
		_, err := record.Read("v.yaml", []byte(x.text))
		if (x.wrong == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), x.wrong) {
			t.Errorf("%s\n%v, want %q", x.text, err, x.wrong)
		}
	}
}

// TestTreadsThatAreNone: a tread without a depth records none, and a list of depths of
// which one is bad is refused for that one.
func TestTreadsThatAreNone(t *testing.T) {
	for tread, wrong := range map[string]string{
		"{}": "no depth", "[]": "an empty list", "{inner: []}": "an empty list", "{inner: not read}": "", "not read": "", "{inner: not read, outer: 9/32 in}": "",
		"[9/32 in, 7 bananas]": "7 bananas", "{center: [9/32 in, deep]}": "deep", "9-10-9": "[9/32 in, 10/32 in, 9/32 in]", "[9-10-9]": "[9/32 in, 10/32 in, 9/32 in]", "9": "no unit: want 9/32 in or 9 mm",
	} {
		v, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 95 psi, tread: "+tread+"}]\n"))
		if (wrong == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), wrong) {
			t.Errorf("%s: %v, want %q", tread, err, wrong)
		}
		if err != nil && strings.Contains(err.Error(), "several depths") != strings.HasPrefix(wrong, "[") {
			t.Errorf("%s: %v", tread, err)
		}
		if err == nil && v.Tires[0].Tread.Is() != strings.Contains(tread, "9/32") {
			t.Errorf("%s: recorded %v", tread, v.Tires[0].Tread)
		}
	}
}

// TestGroupsOfThree: what to write is shown of thousands that are set off, and of no
// other digits with blanks between.
func TestGroupsOfThree(t *testing.T) {
	for text, want := range map[string]string{"41 250 mi": "41250 mi", "1 041 250 mi": "1041250 mi", "4125 250 mi": "", "041 250 mi": "", "41 25 mi": "", "41 250 1 mi": ""} {
		_, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\nodometer: "+text+"\n"))
		whole := strings.ReplaceAll(strings.TrimSuffix(text, " mi"), " ", "") + " mi"
		if err == nil || strings.Contains(err.Error(), whole) != (want != "") {
			t.Errorf("%s: %v, want %q shown", text, err, want)
		}
	}
}

// TestOtherBlanks: the blanks that a word processor puts between a number and its
// unit, or into a word, are blanks, in YAML as in JSON.
func TestOtherBlanks(t *testing.T) {
	for _, blank := range []string{"\u00a0", "\u2007", "\u2009", "\u202f"} {
		yaml := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires:\n" +
			"  - {at: steer-left, found: 95" + blank + "psi, seen: cracked" + blank + "wheel, read_at: not" + blank + "reached, last" + blank + "set: not" + blank + "read}\n"
		json := `{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left", "found": "95` + blank +
			`psi", "seen": "cracked` + blank + `wheel", "read_at": "not` + blank + `reached", "last` + blank + `set": "not` + blank + `read"}]}`
		for _, text := range []string{yaml, json} {
			v, err := record.Read("v", []byte(text))
			if err != nil {
				t.Fatalf("%q: %v", blank, err)
			}
			found, _ := v.Tires[0].Found.Get()
			seen, _ := v.Tires[0].Seen.Get()
			at, _ := v.Tires[0].ReadAt.Get()
			if found != 95*inflation.PSI || !seen.Has(condition.WheelCracked) || at != record.NotReached || v.Tires[0].LastSet.Is() {
				t.Errorf("%q: %s, %v, %v", text, found, seen, at)
			}
		}
	}
}

// TestVisitsHoldSoMuch: a file by hand and a program's JSON hold 64 kB (65,536 bytes) and
// no byte more.
func TestVisitsHoldSoMuch(t *testing.T) {
	const yaml = "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n"
	const json = `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single"}]}`
	for name, c := range map[string]struct {
		text string
		read func(string, []byte) (*record.Visit, error)
	}{"by hand": {yaml, record.Read}, "JSON as a file": {json, record.Read}, "JSON": {json, record.ReadJSON}} {
		for size, fits := range map[int]bool{65536: true, 65537: false} {
			_, err := c.read("v", []byte(c.text+strings.Repeat("\n", size-len(c.text))))
			if (err == nil) != fits || !fits && !strings.Contains(err.Error(), "65536") {
				t.Errorf("%s, %d bytes: %v", name, size, err)
			}
		}
	}
}

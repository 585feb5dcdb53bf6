package record_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// TestNextVisitTakesOverWhatWasSet: the pressure a tire was left at is what it was last
// set to, on that day, in that air and by that technician; where nobody set one, none of
// that is known, and of no visit comes one that says nothing.
func TestNextVisitTakesOverWhatWasSet(t *testing.T) {
	t.Parallel()
	day, then := dotcode.Date{Year: 2027, Month: 4, Day: 1}, dotcode.Date{Year: 2026, Month: 10, Day: 3}
	air := record.Record(inflation.Temperature(0))
	last := record.Visit{Version: record.Version, Date: then, Coach: "an invented coach", AirTemperature: air, Names: record.Names{Customer: "an invented customer", Plate: "INV-1", UnitNumber: "unit 7", WorkOrder: "order 8", Technician: "an invented technician"},
		Odometer: record.Record(weight.Length(1000 * weight.Mile)), Axles: []record.Axle{{ID: "steer", Fitment: weight.Single, GAWR: record.Record(9000 * weight.Pound), TorqueApplied: record.Record(475 * record.FootPound)}},
		Tires: []record.Tire{{At: "steer-left", Size: "XQ1", LastSet: record.Record(90 * inflation.PSI), Found: record.Record(80 * inflation.PSI), Note: "a screw"}, {At: "steer-right", Size: "XQ1"}}}
	for name, left := range map[string]record.Recorded[inflation.Pressure]{"set": record.Record(100 * inflation.PSI), "not set": {}, "not read": record.NotRead[inflation.Pressure]()} {
		v := last
		v.Tires = append([]record.Tire{}, last.Tires...)
		v.Tires[0].LeftAt = left
		n := record.Next(&v, day)
		set := left.Is()
		if n.LastSetOn.Is() != set || n.LastSetAir.Is() != set || (n.Names.LastSetBy == "an invented technician") != set || n.Tires[0].LastSet.Is() != set || set && (n.Tires[0].LastSet != left || n.LastSetOn != record.Record(then) || n.LastSetAir != air) || n.Tires[1].LastSet.Is() {
			t.Errorf("%s: last set %s on %s in %s by %q", name, n.Tires[0].LastSet, n.LastSetOn, n.LastSetAir, n.Names.LastSetBy)
		}
		if n.Date != day || n.Version != record.Version || n.Coach != v.Coach || n.Axles[0].GAWR != v.Axles[0].GAWR || n.Axles[0].TorqueApplied.Is() || n.Tires[0].Size != "XQ1" {
			t.Errorf("%s: what stays: %+v", name, n)
		}
		if want := (record.Names{Customer: "an invented customer", Plate: "INV-1", UnitNumber: "unit 7", LastSetBy: n.Names.LastSetBy}); n.Names != want {
			t.Errorf("%s: names %+v, want %+v", name, n.Names, want)
		}
		for what, r := range map[string]interface{ String() string }{"odometer": n.Odometer, "stood": n.ParkedFor, "air": n.AirTemperature, "found": n.Tires[0].Found, "left": n.Tires[0].LeftAt, "tread": n.Tires[0].Tread, "seen": n.Tires[0].Seen} {
			if r.String() != "not read" {
				t.Errorf("%s: %s is %s, want not read", name, what, r)
			}
		}
	}
	if n := record.Next(nil, day); n.Date != day || n.Version != record.Version || len(n.Tires)+len(n.Axles) != 0 {
		t.Errorf("after no visit: %+v", n)
	}
}

// TestNextVisitDoubtsAnew: what was said of one visit alone, as that an unlikely reading is
// sure, is not said of the next.
func TestNextVisitDoubtsAnew(t *testing.T) {
	t.Parallel()
	v, err := record.Read("v.yaml", []byte(`visit: 1
date: 2026-10-03
sure: [gauge_tolerance]
notes: [a screw, a wet bay]
packs: [towing, own]
axles: [{id: steer, fitment: single, gawr: 9000 lb, sure: [gawr]}]
tires: [{at: steer-left, found: 151 psi, sure: [found], photos: [one.jpg, two.jpg], wheel_fits: [steer]}]
`))
	if err != nil {
		t.Fatal(err)
	}
	n := record.Next(v, dotcode.Date{Year: 2027, Month: 4, Day: 1})
	if len(n.Sure)+len(n.Notes)+len(n.Axles[0].Sure)+len(n.Tires[0].Sure)+len(n.Tires[0].Photos) > 0 {
		t.Errorf("says still: %+v", n)
	}
	if len(n.Packs) != 2 || len(n.Tires[0].WheelFits) != 1 {
		t.Errorf("says no more: packs %q, wheel fits %q", n.Packs, n.Tires[0].WheelFits)
	}
}

// TestWithoutNamesTellsNobody: the visit itself keeps them.
func TestWithoutNamesTellsNobody(t *testing.T) {
	t.Parallel()
	v := &record.Visit{Coach: "an invented coach", Names: record.Names{Customer: "an invented customer", Plate: "INV-1"}, Tires: []record.Tire{{At: "steer-left", InspectedBy: "an invented inspector", Note: "a note"}}}
	out := v.WithoutNames()
	if out.Names != (record.Names{}) || out.Tires[0].InspectedBy != "" || out.Tires[0].Note != "a note" || out.Coach != v.Coach {
		t.Errorf("%+v", out)
	}
	if v.Names.Customer == "" || v.Tires[0].InspectedBy == "" {
		t.Errorf("the visit lost its names: %+v", v)
	}
	if (*record.Visit)(nil).WithoutNames() != nil {
		t.Error("no visit has no names")
	}
}

// TestVisitsReadFromJSON: a program's JSON is read as strictly as a file, by ReadJSON and
// by encoding/json; what is refused changes nothing, and what is YAML is no JSON.
func TestVisitsReadFromJSON(t *testing.T) {
	t.Parallel()
	const good = `{"visit":1,"date":"2026-10-03","coach":"new","axles":[{"id":"steer","fitment":"single"}],"trip":{"stations":[{"name":"bay","behind_steer":"1 in"}]}}`
	for text, wrong := range map[string]string{
		good: "", strings.Replace(good, `"coach"`, `"couch"`, 1): `unknown key "couch"`, strings.Replace(good, `"visit":1`, `"visit":2`, 1): "version", strings.Replace(good, `"steer"`, `"left"`, 1): "left",
		strings.Replace(good, `"stations"`, `"coupling":"rope","stations"`, 1): "want tow bar, tongue or fifth wheel", strings.Replace(good, `"stations"`, `"coupling":"","stations"`, 1): "", strings.Replace(good, `"stations"`, `"coupling":"tongue","stations"`, 1): "",
		strings.Replace(good, `"stations"`, `"label":{"kind":"XCC"},"stations"`, 1): "want NCC, CCC or OCCC", strings.Replace(good, `"stations"`, `"label":{"kind":"occc"},"stations"`, 1): "",
		strings.Replace(good, `"bay"`, `"b ay"`, 1): "", strings.Replace(good, `"bay"`, `"b\nay"`, 1): "several lines",
	} {
		old := record.Visit{Coach: "old"}
		err := json.Unmarshal([]byte(text), &old)
		v, err2 := record.ReadJSON("v.json", []byte(text))
		var ps *origin.Problems
		if (err == nil) != (wrong == "") || (err2 == nil) != (wrong == "") || err != nil && (!errors.As(err, &ps) || !strings.Contains(err.Error(), wrong) || !strings.Contains(err2.Error(), wrong) || old.Coach != "old" || v != nil) {
			t.Errorf("%s: %v and %v, want %q; %q", text, err, err2, wrong, old.Coach)
		}
		if wrong == "" && (old.Coach != "new" || v.Coach != "new") {
			t.Errorf("%s: %q and %q", text, old.Coach, v.Coach)
		}
	}
	if _, err := record.ReadJSON("v.json", []byte("visit: 1\n")); err == nil || !strings.Contains(err.Error(), "JSON") {
		t.Errorf("YAML: %v", err)
	}
}

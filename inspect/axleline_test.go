package inspect_test

import (
	"errors"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/weight"
)

// TestAxlesStandInTheReport: a drawing needs every axle, also the towed car's
// of which nothing was written down, and where each tire runs.
func TestAxlesStandInTheReport(t *testing.T) {
	r, err := inspect.Assess(visittest.Read(t, `
visit: 1
date: 2026-10-03
axles:
  - {id: front, fitment: single}
  - {id: drive, fitment: dual}
  - {id: rear, fitment: single}
  - {id: car-front, fitment: single, towed: yes}
tires: [{at: front-left}, {at: drive-right-inner}, {at: spare}]
`), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	want := []report.AxleLine{
		{ID: "front", Role: record.Steer, Fitment: weight.Single}, {ID: "drive", Role: record.Drive, Fitment: weight.Dual},
		{ID: "rear", Role: record.Tag, Fitment: weight.Single}, {ID: "car-front", Role: record.Towed, Fitment: weight.Single},
	}
	if len(r.Axles) != len(want) {
		t.Fatalf("axles %+v", r.Axles)
	}
	for i, w := range want {
		if a := r.Axles[i]; a.ID != w.ID || a.Role != w.Role || a.Fitment != w.Fitment || a.Rows != nil {
			t.Errorf("axle %d is %+v, want %+v", i, a, w)
		}
	}
	for _, x := range []struct {
		at, axle string
		side     weight.Side
		place    record.Place
	}{
		{"front-left", "front", weight.Left, record.Alone},
		{"front-right", "front", weight.Right, record.Alone}, // not written down, and on the coach all the same
		{"drive-left-outer", "drive", weight.Left, record.Outer},
		{"drive-right-inner", "drive", weight.Right, record.Inner},
		{"spare", "", 0, record.Spare},
	} {
		if line := r.Tire(x.at); line == nil {
			t.Errorf("%s is not in the report", x.at)
		} else if line.Axle != x.axle || line.Side != x.side || line.Place != x.place {
			t.Errorf("%s: axle %q, side %s, place %s", x.at, line.Axle, line.Side, line.Place)
		}
	}
}

// TestAxleHasTheRowsItMayUse: the rows are the table's, for the fitment, up to
// the load range's cap (the invented demo table).
func TestAxleHasTheRowsItMayUse(t *testing.T) {
	v, setup := visittest.Demo(t)
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range []struct{ first, last weight.Mass }{{3950, 4940}, {3630, 4540}} {
		rows := r.Axles[i].Rows
		if len(rows) != 7 || rows[0] != (inflation.Row{Pressure: 80 * inflation.PSI, Load: x.first * weight.Pound}) ||
			rows[6] != (inflation.Row{Pressure: 110 * inflation.PSI, Load: x.last * weight.Pound}) {
			t.Errorf("%s: rows %+v", r.Axles[i].ID, rows)
		}
	}
	capped := `
table: 1
name: invented, two load ranges
size: XV250/72R21
class: truck
pressure_unit: psi
load_unit: lb
single: per tire
caps: {F: 95, G: 100}
minimum: 90
source: {grade: invented, title: made up for this test}
columns: [pressure, single]
rows: [[85, 4000], [90, 4100], [95, 4200], [100, 4300]]
`
	table, err := tablefile.Read("t.yaml", []byte(capped))
	if err != nil {
		t.Fatal(err)
	}
	if setup.Tables, err = inflation.NewTables(table); err != nil {
		t.Fatal(err)
	}
	one := visittest.Read(t, `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: drive, fitment: dual}, {id: tag, fitment: single}]
every_tire: {size: XV250/72R21, load_range: F, class: truck}
tires: [{at: steer-left}]
`)
	if r, err = inspect.Assess(one, setup); err != nil {
		t.Fatal(err)
	}
	for i, want := range []int{2, 0, 2} { // 90 and 95; no dual column; as the first
		if n := len(r.Axles[i].Rows); n != want {
			t.Errorf("%s: %d rows, want %d: %+v", r.Axles[i].ID, n, want, r.Axles[i].Rows)
		}
	}
}

func TestRolesAndPlacesReadBack(t *testing.T) {
	for _, want := range []record.Role{record.Steer, record.Drive, record.Tag, record.Towed} {
		var got record.Role
		text, err := want.MarshalText()
		if err != nil || got.UnmarshalText(text) != nil || got != want {
			t.Errorf("%s came back as %s, %v", text, got, err)
		}
	}
	for _, want := range []record.Place{record.Alone, record.Inner, record.Outer, record.Spare} {
		var got record.Place
		text, err := want.MarshalText()
		if err != nil || got.UnmarshalText(text) != nil || got != want {
			t.Errorf("%s came back as %s, %v", text, got, err)
		}
	}
	var role record.Role
	var place record.Place
	for _, err := range []error{role.UnmarshalText([]byte("lift")), place.UnmarshalText([]byte("not known"))} {
		if !errors.Is(err, record.ErrWord) {
			t.Errorf("%v, want %v", err, record.ErrWord)
		}
	}
	if text, err := role.MarshalText(); err != nil || len(text) > 0 || role.UnmarshalText(text) != nil || role != 0 {
		t.Errorf("a role not known is written %q, %v, and read as %s", text, err, role)
	}
	if text, err := place.MarshalText(); err != nil || len(text) > 0 || place.UnmarshalText(text) != nil || place != 0 {
		t.Errorf("a place not known is written %q, %v, and read as %s", text, err, place)
	}
}

package inspect_test

import (
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// radialTable is for radial truck tires of an invented size.
const radialTable = `table: 1
name: invented radial
size: XV250/72R21
class: truck
construction: radial
pressure_unit: psi
load_unit: lb
single: per tire
caps: {G: 110}
source: {grade: invented, title: made up for this test}
columns: [pressure, single]
rows:
  - [80, 3950]
  - [90, 4295]
  - [95, 4460]
  - [100, 4620]
  - [110, 4940]
`

func radialTables(t *testing.T) inflation.Tables {
	t.Helper()
	table, err := tablefile.Read("radial.yaml", []byte(radialTable))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := inflation.NewTables(table)
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// TestTableForOtherTires: a table for another construction or class sets nothing below
// what is set without it, clears no tire, keeps every stop, and the page says what it is
// for.
func TestTableForOtherTires(t *testing.T) {
	tables := radialTables(t)
	visit := func(left, all, placard, load string) string {
		return "visit: 1\ndate: 2026-10-03\ncold: yes\nstood: 14 h\nnothing_since_set: yes\ndriven_since: yes\ngauge_tolerance: 0.5 psi\nfastest: 65 mph\n" +
			"axles:\n  - {id: steer, fitment: single, gawr: 9200 lb" + placard + "}\n" +
			"every_tire: {size: XV250/72R21, load_range: G, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi" + all + "}\n" +
			"tires:\n  - {at: steer-left" + left + "}\n  - {at: steer-right, found: 101 psi}\n" +
			"weighing: {date: 2026-10-01, as_driven: all, work_since: no, tolerance: 20 lb, readings: [{load: " + load + ", on: steer-left}, {load: 4120 lb, on: steer-right}]}\n"
	}
	const truck, at100 = ", class: truck", ", placard: 100 psi"
	for _, x := range []struct {
		name, left, all, placard, load string
		set                            string // empty: none
		need                           string // to read again at steer-left; empty: nothing
	}{
		{"its own table goes below the placard", ", found: 101 psi", truck + ", construction: radial", at100, "4380 lb", "95 psi", ""},
		{"construction not recorded", ", found: 101 psi", truck, at100, "4380 lb", "95 psi", ""},
		{"bias on a table for radial", ", found: 101 psi", truck + ", construction: bias", at100, "4380 lb", "100 psi", "its construction, read again: bias is written, and the table \"invented radial\" of its size is for radial"},
		{"bias-belted on it", ", found: 101 psi", truck + ", construction: bias-belted", at100, "4380 lb", "100 psi", "is for radial"},
		{"one of the two", ", found: 101 psi, construction: bias", truck, at100, "4380 lb", "100 psi", "is for radial"},
		{"what it asks for above the placard stays", ", found: 101 psi", truck + ", construction: bias", ", placard: 90 psi", "4380 lb", "95 psi", "is for radial"},
		{"one of another class", ", found: 101 psi, class: light truck", truck, at100, "4380 lb", "100 psi", "its class, read again: light truck is written, and the table \"invented radial\" of its size is for truck"},
		{"all of another class", ", found: 101 psi", ", class: light truck", at100, "4380 lb", "100 psi", "is for truck"},
		{"both", ", found: 101 psi", ", class: light truck, construction: bias", at100, "4380 lb", "100 psi", "is for truck"},
		{"no placard", ", found: 101 psi", truck + ", construction: bias", ", placard: none", "4380 lb", "105 psi", "is for radial"},
		{"placard not read", ", found: 101 psi", truck + ", construction: bias", "", "4380 lb", "110 psi", "is for radial"},
	} {
		text := visit(x.left, x.all, x.placard, x.load)
		assess := func(tables inflation.Tables) report.Report {
			r, err := inspect.Assess(visittest.Read(t, text), inspect.Setup{Tables: tables})
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		with, without := assess(tables), assess(inflation.Tables{})
		s, plain := with.Setting("steer"), without.Setting("steer")
		if s == nil || plain == nil || s.Set.String() != x.set || x.need != "" && s.Set < plain.Set {
			t.Errorf("%s: set %+v, without a table %+v, want %s", x.name, s, plain, x.set)
		}
		asked := unjudged(with, "steer-left", "read again: ")
		if asked != (x.need != "") || asked && !unjudged(with, "steer-left", x.need) {
			t.Errorf("%s: want %q of %+v", x.name, x.need, gapsAt(with, "steer-left"))
		}
	}
	// Flat by the table stays flat, too little air for the load stays a stop.
	for _, left := range [...]string{"", ", construction: bias", ", class: light truck"} {
		for found, rule := range map[string]string{"70 psi": "run-low", "84 psi": "load-at-found-pressure"} {
			r, err := inspect.Assess(visittest.Read(t, visit(", found: "+found+left, truck, at100, "4380 lb")), inspect.Setup{Tables: tables})
			if err != nil {
				t.Fatal(err)
			}
			if it, ok := has(r, "steer-left", rule); !ok || !it.Stops {
				t.Errorf("found %s%s: %s is %+v of %+v", found, left, rule, it, r.Todo)
			}
		}
	}
}

package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

// passengerTable is invented, its size too.
const passengerTable = `
table: 1
name: invented, passenger
size: XC185/66R13
class: passenger
pressure_unit: psi
load_unit: lb
single: per tire
source: {grade: invented, title: made up for this test}
columns: [pressure, single]
rows: [[26, 1000], [29, 1100], [32, 1200], [35, 1300]]
`

func oneAxle(t *testing.T, readings string) report.Report {
	t.Helper()
	table, err := tablefile.Read("t.yaml", []byte(passengerTable))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := inflation.NewTables(table)
	if err != nil {
		t.Fatal(err)
	}
	return assess(t, "v.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, gawr: 2400 lb, placard: 30 psi}]
every_tire: {size: XC185/66R13, class: passenger, wheel: 1500 lb at 40 psi}
tires: [{at: steer-left, found: 30 psi}, {at: steer-right, found: 30 psi}]
weighing: {scale: pads, tolerance: 10 lb, readings: `+readings+`}
`), tables)
}

// TestCurveOfAssumedAndDeratedLoads: an axle's total alone counts with 55 % of
// it on one end (common practice), and a passenger tire's load 1.10 times (49
// CFR 571.120 S5.1.2): 1,710 lb x 0.55 x 1.10 is 1,034.55.
func TestCurveOfAssumedAndDeratedLoads(t *testing.T) {
	r := oneAxle(t, "[{load: 1700 lb, on: steer}]")
	if s := r.Settings[0]; s.Grounds.Load != inflation.AxleShare || !s.LookUp.Derated {
		t.Fatalf("setting %+v", s)
	}
	if !strings.Contains(words(page1(t, r)), "55 % of the axle assumed on one end") {
		t.Error("the page does not say what was assumed")
	}
	page := render(t, r, sheet.HTMLOptions{})
	if want := "either end, assumed: 1,035 lb."; !strings.Contains(page, want) {
		t.Errorf("%q is not in the curve's words", want)
	}
	both := render(t, oneAxle(t, "[{load: 900 lb, on: steer-left}, {load: 850 lb, on: steer-right}]"), sheet.HTMLOptions{})
	if want := "left: 1,001 lb. right: 946 lb."; !strings.Contains(both, want) { // 910 and 860, 1.10 times
		t.Errorf("%q is not in the curve's words", want)
	}
}

// TestNoPressureCarriesIt: what no pressure carries has no number on the page.
func TestNoPressureCarriesIt(t *testing.T) {
	r := oneAxle(t, "[{load: 1400 lb, on: steer-left}, {load: 850 lb, on: steer-right}]")
	text := words(page1(t, r))
	for _, want := range []string{"NO PRESSURE CARRIES THIS LOAD", "left end: ", " lb more than the axle's weakest ", "NO PRESSURE "} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page: %s", want, text)
		}
	}
	if strings.Contains(page1(t, r), "SET <b>") {
		t.Error("a number to set all the same")
	}
}

// TestLoadsThatAreNotSure say so wherever they are shown.
func TestLoadsThatAreNotSure(t *testing.T) {
	r := demo(t, demos[0])
	r.Loads[0].Estimate.State, r.Loads[1].Estimate.State = weight.Assumed, weight.Disputed
	r.Loads[2].Ratings = nil
	r.Loads[3].Ratings[0].Verdict = rules.NotRecorded
	text := words(page1(t, r))
	for _, want := range []string{"4,380 lb +/- 20 ASSUMED", "4,120 lb +/- 20 DISPUTED", "no rating recorded each tire 4,480 lb", "not judged end limit 8,750 lb"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page: %s", want, text)
		}
	}
}

// TestNamesComeFromTheVisitAlone: whose coach it is stands on the sheet where the
// visit is handed in, and nowhere else.
func TestNamesComeFromTheVisitAlone(t *testing.T) {
	r := demo(t, demos[0])
	v := &record.Visit{Names: record.Names{Customer: "an invented customer", Plate: "INV-1", Technician: "an invented technician"}}
	with, without := words(render(t, r, sheet.HTMLOptions{Visit: v})), words(render(t, r, sheet.HTMLOptions{}))
	for _, want := range []string{"Customer an invented customer", "Plate INV-1", "Technician an invented technician"} {
		if !strings.Contains(with, want) || strings.Contains(without, want) {
			t.Errorf("%q: with the visit %v, without %v", want, strings.Contains(with, want), strings.Contains(without, want))
		}
	}
	if strings.Contains(with, "Work order") {
		t.Error("a name that nobody wrote down has a place")
	}
}

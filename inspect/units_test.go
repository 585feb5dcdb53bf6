package inspect_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestBoundsInOwnUnits: a bound that a pack writes in the other system's unit is
// also told in the visit's own, to the stricter side: 5 psi is 34.47 kPa,
// 4/32 in is 3.175 mm (NIST SP 811, exact); 1.6 mm is 0.063 in, 3000 kg is
// 6613.9 lb, 6615 lb is 3000.5 kg. Nothing is nothing in either.
func TestBoundsInOwnUnits(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  psi: {title: psi, subject: tire, measure: found, at_most: 5 psi, action: plan, advice: A, source: {grade: computed}}
  depth: {title: depth, subject: tire, measure: tread, at_least: 4/32 in, action: plan, advice: A, source: {grade: computed}}
  none: {title: none, subject: tire, measure: crack_depth, at_most: 0 in, action: plan, advice: A, source: {grade: computed}}
  mass: {title: mass, subject: coach, measure: load, less_than: 3000 kg, action: plan, advice: A, source: {grade: computed}}
  share: {title: share, subject: axle, measure: load, at_most: 50 % of gawr, action: plan, advice: A, source: {grade: computed}}
`)
	for units, want := range map[string]map[string]string{
		"metric": {"psi": "at most 5 psi (34 kPa)", "depth": "at least 4/32 in (3.2 mm)", "none": "at most 0 in", "mass": "less than 3,000 kg",
			"share": "at most 6,615 lb (3,000 kg; 50 % of gawr, 13,230 lb)"},
		"us": {"psi": "at most 5 psi", "depth": "at least 4/32 in", "none": "at most 0 in", "mass": "less than 3,000 kg (6,613 lb)",
			"share": "at most 6,615 lb (50 % of gawr, 13,230 lb)"},
	} {
		v, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\nunits: "+units+`
axles: [{id: steer, fitment: single, gawr: 13230 lb}]
tires: [{at: steer-left, found: 700 kPa, tread: 1 mm, crack_depth: 1 mm}]
weighing: {scale: platform, division: 20 kg, readings: [{load: 4000 kg, on: all}]}
`))
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(v, inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Todo) != len(want) {
			t.Errorf("%s: %+v", units, r.Todo)
		}
		for _, it := range r.Todo {
			if it.Bound != want[it.What] {
				t.Errorf("%s: got %q, want %q", units, it.Bound, want[it.What])
			}
		}
	}
}

// TestFoundInOwnUnits: what was read in the other system's unit is told in the visit's own
// beside it, away from the bound, a plus/minus to both sides: 860 kPa is 124.73 psi, 850 and
// 870 kPa are 123.28 and 126.18 psi, 5 mm is 0.197 in (NIST SP 811); 80 psi is 551.58 kPa.
func TestFoundInOwnUnits(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  low: {title: low, subject: tire, where: {role: steer}, measure: lowest, at_least: 130 psi, action: plan, advice: A, source: {grade: computed}}
  high: {title: high, subject: tire, where: {role: drive}, measure: lowest, at_most: 20 psi, action: plan, advice: A, source: {grade: computed}}
  depth: {title: depth, subject: tire, where: {role: steer}, measure: tread, at_least: 15/32 in, action: plan, advice: A, source: {grade: computed}}
`)
	const unknown = "the gauge's tolerance was not written down)"
	for _, x := range []struct{ units, read, low, high, depth string }{
		{"us", "found: 860 kPa, tread: 5 mm", "860 kPa (124.7 psi; " + unknown, "860 kPa (124.8 psi; " + unknown, "5 mm (0.19 in)"},
		{"us", "found: 124 psi, tread: 5/32 in", "124 psi (" + unknown, "124 psi (" + unknown, "5/32 in"},
		{"metric", "found: 80 psi, tread: 5/32 in", "80 psi (551 kPa; " + unknown, "80 psi (552 kPa; " + unknown, "5/32 in (3.9 mm)"},
		{"us\ngauge_tolerance: 10 kPa", "found: 860 kPa, tread: 5/32 in", "860 kPa +/- 10 kPa (123.2 psi to 126.2 psi)", "860 kPa +/- 10 kPa (123.2 psi to 126.2 psi)", "5/32 in"},
		{"us\npressure_unit: kPa", "found: 860 kPa, tread: 5/32 in", "860 kPa (" + unknown, "860 kPa (" + unknown, "5/32 in"},
	} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\nunits: "+x.units+
			"\naxles: [{id: steer, fitment: single}, {id: drive, fitment: single}]\ntires: [{at: steer-left, "+x.read+"}, {at: drive-left, "+x.read+"}]\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{"low": x.low, "high": x.high, "depth": x.depth}
		for _, it := range r.Todo {
			if it.Found != want[it.What] {
				t.Errorf("%q, %s: found %q, want %q", x.units, x.read, it.Found, want[it.What])
			}
			delete(want, it.What)
		}
		if len(want) > 0 {
			t.Errorf("%q, %s: nothing was found of %v", x.units, x.read, want)
		}
	}
}

// threeRows is the invented table of an invented size.
func threeRows(t *testing.T) inflation.Tables {
	t.Helper()
	table, err := tablefile.Read("t.yaml", []byte(`{table: 1, name: invented, size: LX217/82R17, class: light truck, construction: radial, pressure_unit: psi, load_unit: lb,
single: per tire, source: {grade: invented, title: made up}, columns: [pressure, single], rows: [[45, 1795], [50, 1980], [80, 3040]]}`))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := inflation.NewTables(table)
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// TestOpenBoundInOwnUnits: a capacity below a table's first row, of 1795 lb at 45 psi, is
// that or less: at most 814.2 kg (NIST SP 811).
func TestOpenBoundInOwnUnits(t *testing.T) {
	t.Parallel()
	r, err := inspect.Assess(visittest.Read(t, `visit: 1
date: 2026-10-03
units: metric
axles: [{id: steer, fitment: single, placard: 550 kPa}]
every_tire: {size: LX217/82R17, class: light truck, construction: radial, single: 1379 kg at 550 kPa}
tires: [{at: steer-left, found: 260 kPa}, {at: steer-right, found: 550 kPa}]
weighing: {scale: pads, tolerance: 5 kg, as_driven: yes, readings: [{load: 861 kg, on: [steer-left]}, {load: 861 kg, on: [steer-right]}]}
`), inspect.Setup{Tables: threeRows(t)})
	if err != nil {
		t.Fatal(err)
	}
	const want = "at most 1,795 lb, perhaps less (814 kg; capacity as found)"
	if it, found := has(r, "steer-left", "load-at-found-pressure"); !found || it.Bound != want {
		t.Errorf("got %q, want %q", it.Bound, want)
	}
}

// TestHouseRuleOnAnyTire: a shop's rule may ask of every tire, spares included,
// for what only some have; then it is not judged there, and says why.
func TestHouseRuleOnAnyTire(t *testing.T) {
	t.Parallel()
	text := ""
	for _, s := range inspect.Vocabulary().Definition().Subjects {
		for _, m := range s.Measures {
			bound := map[string]string{"mass": "at_most: 1 lb", "pressure": "at_most: 1 psi", "length": "at_most: 1 in", "age": "at_most: 1 year", "standing": "at_most: 1 h", "torque": "at_most: 1 ft-lb", "speed": "at_most: 1 mph", "count": "at_most: 1"}[m.Dimension.Name]
			switch {
			case m.Flag:
				bound = "is: no"
			case len(m.Words) > 0:
				bound = "is: " + m.Words[0]
			case bound == "":
				t.Fatalf("%s of %s takes %s", m.Name, s.Name, m.Takes())
			}
			text += "  " + strings.ReplaceAll(s.Name+"-"+m.Name, "_", "-") + ": {title: t, subject: " + s.Name + ", measure: " + m.Name + ", " + bound + ", action: plan, advice: A, source: {grade: computed}}\n"
		}
	}
	program := visittest.Compile(t, text)
	r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\n"+surveyAxles+"tires: [{at: steer-left, note: a}, {at: drive-left-outer, note: a}, {at: spare, note: a}]\n"), inspect.Setup{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	for where, want := range map[string]string{
		"spare":      "what it is to carry: it is on no wheel position",
		"steer-left": "what it carries beside a dual mate: it has none",
		"drive-left": "its load: weigh it",
	} {
		if !slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool {
			return g.Where == where && g.Need == want && slices.Contains(g.Rules, "own/tire-load-alone")
		}) {
			t.Errorf("%s: want %q in %+v", where, want, r.Unjudged)
		}
	}
}

// TestBothUnitsInOneVisit: a pressure computed from psi and kPa, or as a part, may
// have no decimal; it is told rounded up, and the report can be written. 690 kPa less 131 psi is 213.2132 kPa (1 psi is 6.894757 kPa, NIST
// SP 811).
func TestBothUnitsInOneVisit(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  low: {title: low, subject: tire, measure: lowest, more_than: last_set divided by 7, action: do_not_drive, advice: A, involves: [ran_low], source: {grade: computed}}
`)
	for units, want := range map[string][3]string{
		"metric": {"213.22 kPa", "51 psi", "99.78 kPa"},
		"us":     {"30.93 psi", "51 psi", "14.48 psi"},
	} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\nunits: "+units+`
axles: [{id: steer, fitment: dual}]
tires: [{at: steer-left-outer, found: 690 kPa, left: 131 psi, last_set: 101.3 psi}, {at: steer-left-inner, found: 131 psi, left: 80 psi, last_set: 101.3 psi}]
`), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		pair := r.Pairs[0]
		got := [3]string{pair.FoundDifference.String(), pair.LeftAtDifference.String(), r.Tires[0].FlatAt.String()}
		if got != want {
			t.Errorf("%s: got %q, want %q", units, got, want)
		}
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatalf("%s: %v", units, err)
		}
		var back report.Report
		if err := json.Unmarshal(data, &back); err != nil {
			t.Errorf("%s: %v", units, err)
		}
	}
}

// TestOnlyALimitIsARating: a shop may want a load to be at least so much; that
// gives no room, nor is it over.
func TestOnlyALimitIsARating(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  least: {title: Too light to steer, subject: axle, measure: load, at_least: 4500 lb, action: plan, advice: A, source: {grade: computed}}
  most: {title: Over 5000, subject: axle, measure: load, less_than: 5000 lb, action: plan, advice: A, source: {grade: computed}}
`)
	for load, broken := range map[string]string{"4000 lb": "own/least", "4800 lb": "", "6000 lb": "own/most"} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\nweighing: {tolerance: 20 lb, as_driven: all, readings: [{load: "+load+", on: steer}]}\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Todo) != 1 && broken != "" || broken != "" && r.Todo[0].Rules[0] != broken {
			t.Errorf("%s: %+v, want %q", load, r.Todo, broken)
		}
		if on := r.Loads[2].Ratings; len(on) != 1 || on[0].Rule != "own/most" {
			t.Errorf("%s: %+v", load, on)
		}
	}
}

// TestRatingsByName: a rule may hold a load to the whole of a rating, to half, to
// another share, or to none.
func TestRatingsByName(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  whole: {title: T, subject: end, measure: load, at_most: gawr, action: plan, advice: A, source: {grade: computed}}
  half: {title: T, subject: end, measure: load, at_most: 50 % of gawr, action: plan, advice: A, source: {grade: computed}}
  third: {title: T, subject: end, measure: load, at_most: gawr divided by 3, action: plan, advice: A, source: {grade: computed}}
  none: {title: Ours, subject: end, measure: load, where: {gawr: {more_than: 0 lb}}, at_most: 5000 lb, action: plan, advice: A, source: {grade: computed}}
`)
	r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single, gawr: 9501 lb}]\nweighing: {tolerance: 20 lb, as_driven: all, readings: [{load: 3000 lb, on: steer-left}]}\n"), inspect.Setup{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, g := range r.Loads[0].Ratings {
		names = append(names, g.Name)
	}
	if want := []string{"GAWR", "half GAWR", "share of GAWR", "Ours"}; !slices.Equal(names, want) {
		t.Errorf("got %q, want %q", names, want)
	}
}

// TestKeptAreCounted: once for each subject, of duals of which one ran low too,
// which are judged twice.
func TestKeptAreCounted(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  flat: {title: flat, subject: tire, measure: lowest, more_than: 80 % of last_set, action: do_not_drive, advice: A, involves: [ran_low], source: {grade: computed}}
  found: {title: found, subject: tire, measure: found, at_least: 1 psi, action: plan, advice: A, source: {grade: computed}}
  end: {title: end, subject: end, measure: load, at_most: 9000 lb, action: plan, advice: A, source: {grade: computed}}
  coach: {title: coach, subject: coach, measure: load, at_most: 9000 lb, action: plan, advice: A, source: {grade: computed}}
`)
	for inner, want := range map[string]int{"100 psi": 4 + 2, "70 psi": 3 + 2} {
		r, err := inspect.Assess(visittest.Read(t, `
visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual}]
every_tire: {last_set: 100 psi}
tires: [{at: drive-left-outer, found: 100 psi}, {at: drive-left-inner, found: `+inner+`}]
weighing: {tolerance: 20 lb, as_driven: all, readings: [{load: 5000 lb, on: drive-left}, {load: 5000 lb, on: drive-right}]}
`), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if r.Kept != want {
			t.Errorf("inner at %s: %d kept, want %d", inner, r.Kept, want)
		}
	}
}

// TestFlatBelowTheHighestBound of several rules that condemn a tire.
func TestFlatBelowTheHighestBound(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  first: {title: a, subject: tire, measure: lowest, more_than: 70 % of last_set, action: do_not_drive, advice: A, involves: [ran_low], source: {grade: computed}}
  second: {title: b, subject: tire, measure: lowest, more_than: 80 % of last_set, action: do_not_drive, advice: A, involves: [ran_low], source: {grade: computed}}
  third: {title: c, subject: tire, measure: lowest, more_than: 75 % of last_set, action: do_not_drive, advice: A, involves: [ran_low], source: {grade: computed}}
  low: {title: d, subject: tire, measure: lowest, more_than: 90 % of last_set, action: before_trip, advice: A, source: {grade: computed}}
  other: {title: e, subject: tire, measure: last_set, more_than: 95 psi, action: before_trip, advice: A, involves: [ran_low], source: {grade: computed}}
`)
	r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, last_set: 100 psi, found: 78 psi}]\n"), inspect.Setup{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	if at := r.Tires[0].FlatAt.String(); at != "80 psi" || r.Tires[0].Low != report.Flat {
		t.Errorf("flat below %s, %s", at, r.Tires[0].Low)
	}
}

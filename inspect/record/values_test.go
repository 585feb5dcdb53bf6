package record_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// TestDaysAsPeopleWriteThem: year first in any of these ways, or with the month in
// letters; what could be two days is shown as both, and nothing is guessed.
func TestDaysAsPeopleWriteThem(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"2026-10-03": "2026-10-03", "2026-1-3": "2026-01-03", "2026/10/03": "2026-10-03", "2026.10.03": "2026-10-03", "2026 oct 3": "2026-10-03", "2026-Oct-03": "2026-10-03",
		"Oct 3, 2026": "2026-10-03", "3 October 2026": "2026-10-03", "octo 3 2026": "2026-10-03", "december 31 2026": "2026-12-31", "1 jan 2026": "2026-01-01",
		"10/3/2026": "write 2026-10-03 or 2026-03-10", "13/3/2026": "write 2026-03-13", "3/13/2026": "write 2026-03-13", "5/5/2026": "write 2026-05-05",
		"oc 3 2026": "want year-month-day", "moon 3 2026": "want year-month-day", "13/13/2026": "want year-month-day", "3/10/26": "want year-month-day", "2026-10": "want year-month-day", "2026-10-03-1": "want year-month-day",
		"2026-13-03": "want year-month-day", "2026-02-29": "want year-month-day", "2028-2-29": "2028-02-29", "2026-10-003": "want year-month-day", "02026-10-03": "want year-month-day", "today": "want year-month-day", "2026 +1 3": "want year-month-day",
	} {
		v, err := record.Read("v.yaml", []byte("visit: 1\ndate: \""+text+"\"\naxles: [{id: steer, fitment: single}]\n"))
		switch {
		case err == nil && v.Date.String() == want:
		case err != nil && errors.Is(err, dotcode.ErrDate) && strings.Contains(err.Error(), want) && strings.HasPrefix(want, "w"):
		default:
			got := "-"
			if v != nil {
				got = v.Date.String()
			}
			t.Errorf("%q: %s, %v, want %s", text, got, err, want)
		}
	}
}

// TestValuesAsPeopleWriteThem: each value is taken, or refused with what to write.
func TestValuesAsPeopleWriteThem(t *testing.T) {
	t.Parallel()
	const coach, tire, weighing = "", "tires: [{at: steer-left, ", "weighing: {readings: [{load: 4000 lb, on: steer}], "
	for _, c := range []struct{ where, text, wrong string }{
		{coach, "odometer: 41250 mi", ""}, {coach, "odometer: 41250", `41250 mi`}, {coach, "odometer: 41.250 mi", "41250 mi for thousands, or one digit as in 41.2 mi"}, {coach, "odometer: 41.25 mi", ""}, {coach, "odometer: 0.250 mi", ""}, {coach, "odometer: 1234.250 mi", ""},
		{coach, "gauge_tolerance: +/- 1 psi", ""}, {coach, "gauge_tolerance: +-1 psi", ""}, {coach, "gauge_tolerance: ± 1 psi", ""}, {coach, "gauge_tolerance: 1 psi", ""}, {coach, "gauge_tolerance: -1 psi", "zero"}, {coach, "gauge_tolerance: -/+ 1 psi", "pressure"},
		{coach, "cold: yes", ""}, {coach, "cold: Y", ""}, {coach, "cold: no", ""}, {coach, "cold: n", ""}, {coach, "cold: maybe", `found "maybe"`}, {coach, "tows: fifth wheel", ""}, {coach, "tows: boat", "trailer"},
		{coach, "customer: x", "names"}, {coach, "gawr: 9000 lb", "it belongs to an axle"}, {coach, "odmeter: 1 mi", `did you mean "odometer"?`}, {coach, "Odometer: 1 mi", ""}, {coach, "parked for: 3 h", `did you mean "stood"?`},
		{coach, "moon: 1", `unknown key "moon"`}, {coach, "coach: ____", ""}, {coach, "coach: [a, b]", "wrong shape"}, {coach, "coach: " + strings.Repeat("x", 201), "200"}, {coach, "odometer: {a: b}", "one value, such as"}, {coach, "cold: [yes]", "one value: yes or no"},
		{coach, "packs: []", ""}, {coach, "packs: coach-care", ""}, {coach, "packs: [coach-care, \"a b\"]", "a b"}, {coach, "notes: [a, b]", ""}, {coach, "notes: a", ""},
		{tire, "found: 95 psi", ""}, {tire, "found: 95", "95 psi, 95 kPa or 95 bar"}, {tire, "found: flat", "a flat tire reads 0 psi"}, {tire, "found: not read", ""}, {tire, "found: \"5,6 bar\"", "5.6 bar"}, {tire, "found: -1 psi", "must not be below zero"},
		{tire, "tread: 8/32 in", ""}, {tire, "tread: 8", "8/32 in"}, {tire, "tread: [9/32 in, 8/32 in]", ""}, {tire, "tread: 1-1/32 in", ""}, {tire, "tread: []", "an empty list"}, {tire, "tread: {}", "no depth"}, {tire, "tread: {inner: 8/32 in, outer: [8/32 in, 7/32 in]}", ""}, {tire, "tread: {inside: 8/32 in}", `did you mean "inner"?`},
		{tire, "tread: {inner: []}", "an empty list"}, {tire, "tread: 9/32 10/32 9/32", "several depths in one"}, {tire, "tread: deep", `"not read" where nobody read it`}, {tire, "stem: metal", ""}, {tire, "stem: rubber", "rubber snap-in"},
		{tire, "seen: nothing", ""}, {tire, "seen: [bulge, cut]", ""}, {tire, "seen: [bulge, moon]", `unknown condition "moon"`}, {tire, "seen: egg", `did you mean "bulge"?`}, {tire, "wheel_fits: [steer, moon]", "moon"}, {tire, "sidewalls: outer", ""}, {tire, "sidewalls: one", "both"},
		{weighing, "scale: pads", ""}, {weighing, "scale: \"\"", ""}, {weighing, "scale: bathroom", "pads"}, {weighing, "as_driven: all", ""}, {weighing, "as_driven: ALL", ""}, {weighing, "as_driven: yes", ""}, {weighing, "as_driven: some", `found "some"`}, {weighing, "level: yes", ""}, {weighing, "division: 20 lb", ""}, {weighing, "division: 0 lb", ""}, {weighing, "tolerance: -1 lb", "zero"},
	} {
		text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n" + c.where + c.text
		switch c.where {
		case tire:
			text += "}]"
		case weighing:
			text += "}"
		}
		_, err := record.Read("v.yaml", []byte(text+"\n"))
		var ps *origin.Problems
		if (err == nil) != (c.wrong == "") || err != nil && (!errors.As(err, &ps) || !strings.Contains(err.Error(), c.wrong)) {
			t.Errorf("%s: %v, want %q", c.text, err, c.wrong)
		}
	}
	for _, fitment := range []string{"", "triple"} {
		if _, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: \""+fitment+"\"}]\n")); err == nil || !strings.Contains(err.Error(), "single") || !strings.Contains(err.Error(), "dual") {
			t.Errorf("fitment %q: %v", fitment, err)
		}
	}
}

// TestBuiltTripsAreChecked: what a program built of a trip is held to all that a file is:
// so many places, items and changes, names once, distances that some coach has.
func TestBuiltTripsAreChecked(t *testing.T) {
	t.Parallel()
	lb := func(n int64) record.Recorded[weight.Mass] { return record.Record(weight.Mass(n) * weight.Pound) }
	gal := func(n int64) record.Recorded[weight.Volume] { return record.Record(weight.Volume(n) * weight.USGallon) }
	change := func(c record.TripChange) func(x *record.Trip) {
		c.Name, c.At = "x", "bay"
		return func(x *record.Trip) { x.Changes = []record.TripChange{c} }
	}
	many := func(n int, of func(i int, x *record.Trip)) func(x *record.Trip) {
		return func(x *record.Trip) {
			for i := range n {
				of(i, x)
			}
		}
	}
	station := func(i int, x *record.Trip) {
		x.Stations = append(x.Stations, record.TripStation{Name: fmt.Sprint("s", i)})
	}
	item := func(i int, x *record.Trip) {
		x.Items = append(x.Items, record.TripItem{Name: fmt.Sprint("i", i), At: "bay", Mass: weight.Pound, MayGoTo: []string{"nose"}})
	}
	added := func(i int, x *record.Trip) {
		x.Changes = append(x.Changes, record.TripChange{Name: fmt.Sprint("c", i), At: "bay", Add: lb(1)})
	}
	for name, c := range map[string]struct {
		set  func(x *record.Trip)
		want string
	}{
		"nothing wrong":    {func(x *record.Trip) {}, ""},
		"as many places":   {many(cargo.MaxStations-2, station), ""},
		"a place too many": {many(cargo.MaxStations-1, station), "61 of them, at most 60"},
		"as many items":    {many(cargo.MaxItems, item), ""},
		"an item too many": {many(cargo.MaxItems+1, item), "61 of them, at most 60"},
		"a change that may move": {func(x *record.Trip) {
			many(cargo.MaxItems, item)(x)
			added(0, x)
			x.Changes[0].MayGoTo = []string{"nose"}
		}, "trip.items: out of range: 61 of them"},
		"a change beside them": {func(x *record.Trip) { many(cargo.MaxItems, item)(x); added(0, x) }, ""},
		"as many changes":      {many(60, added), ""},
		"a change too many":    {many(61, added), "trip.changes: out of range: 61 of them, at most 60"},
		"no track":             {func(x *record.Trip) { x.Track = record.Record(weight.Length(0)) }, "trip.track: out of range: want 40 in to 110 in"},
		"too narrow":           {func(x *record.Trip) { x.Track = record.Record(40*weight.Inch - 1) }, "trip.track: out of range"},
		"a track":              {func(x *record.Trip) { x.Track = record.Record(40 * weight.Inch) }, ""},
		"a wide track":         {func(x *record.Trip) { x.Track = record.Record(110 * weight.Inch) }, ""},
		"too wide":             {func(x *record.Trip) { x.Track = record.Record(110*weight.Inch + 1) }, "trip.track: out of range"},
		"a hitch":              {func(x *record.Trip) { x.Hitch = record.Record(100 * weight.Foot) }, ""},
		"too far a hitch":      {func(x *record.Trip) { x.Hitch = record.Record(100*weight.Foot + 1) }, "trip.hitch: out of range: want above zero, within 100 ft"},
		"a hitch ahead":        {func(x *record.Trip) { x.Hitch = record.Record(weight.Length(-1)) }, "trip.hitch: out of range"},
		"a bus behind":         {func(x *record.Trip) { x.Stations[0].Behind = 100 * weight.Foot }, ""},
		"more than that":       {func(x *record.Trip) { x.Stations[0].Behind = 100*weight.Foot + 1 }, "behind_steer: out of range: want within 100 ft"},
		"a bus ahead":          {func(x *record.Trip) { x.Stations[0].Behind = -100 * weight.Foot }, ""},
		"more than that ahead": {func(x *record.Trip) { x.Stations[0].Behind = -100*weight.Foot - 1 }, "behind_steer: out of range"},
		"off, and no track":    {func(x *record.Trip) { x.Stations[0].Offset = 1 }, "the trip's track, which a place off the centerline needs"},
		"off by ten feet": {func(x *record.Trip) {
			x.Track, x.Stations[0].Offset = record.Record(2*weight.Meter), -record.Offset(10*weight.Foot)
		}, ""},
		"off by more": {func(x *record.Trip) {
			x.Track, x.Stations[0].Offset = record.Record(2*weight.Meter), -record.Offset(10*weight.Foot)-1
		}, "offset: out of range"},
		"a place without a name": {func(x *record.Trip) { x.Stations[0].Name = "" }, "name: missing"},
		"a place twice":          {func(x *record.Trip) { x.Stations[1].Name = "bay" }, `a station is called "bay" already`},
		"an item twice":          {func(x *record.Trip) { item(1, x); item(1, x) }, `"i1" is listed already`},
		"an item and a change":   {func(x *record.Trip) { item(1, x); added(1, x); x.Changes[0].Name = "i1" }, `"i1" is listed already`},
		"an item of no weight":   {func(x *record.Trip) { item(1, x); x.Items[0].Mass = 0 }, "mass: out of range: want above zero"},
		"an item of some":        {func(x *record.Trip) { item(1, x); x.Items[0].Mass = 1 }, ""},
		"an item nowhere":        {func(x *record.Trip) { item(1, x); x.Items[0].At = "bey" }, `did you mean "bay"?`},
		"an item to nowhere":     {func(x *record.Trip) { item(1, x); x.Items[0].MayGoTo = []string{"nose", "moonbase"} }, "want one of bay, nose"},
		"no places":              {func(x *record.Trip) { x.Stations = nil; item(1, x) }, "the trip names none"},
		"eleven places":          {func(x *record.Trip) { many(9, station)(x); item(1, x); x.Items[0].At = "moonbase" }, "bay, nose, s0, s1, s2, s3, s4, s5, s6, s7 or another"},
		"ten places":             {func(x *record.Trip) { many(8, station)(x); item(1, x); x.Items[0].At = "moonbase" }, "bay, nose, s0, s1, s2, s3, s4, s5, s6, s7"},
		"a label without a kind": {func(x *record.Trip) { x.Label.GVWR = lb(1) }, "trip.label.kind: missing: want NCC, CCC or OCCC"},
		"a label of a kind":      {func(x *record.Trip) { x.Label.Kind = record.Record(cargo.OCCC) }, ""},
		"a label of no kind":     {func(x *record.Trip) { x.Label.Kind = record.Record(cargo.OCCC + 1) }, "trip.label.kind: missing"},
		"nothing changes":        {change(record.TripChange{}), "want one of add, take_off, fill, drain"},
		"two things change":      {change(record.TripChange{Add: lb(1), Drain: gal(1), Fluid: record.Record(record.Water)}), "2 of add, take_off, fill and drain"},
		"added":                  {change(record.TripChange{Add: lb(0)}), ""},
		"added less":             {change(record.TripChange{Add: lb(-1)}), "must not be below zero"},
		"taken less":             {change(record.TripChange{TakeOff: lb(-1)}), "must not be below zero"},
		"filled less":            {change(record.TripChange{Fill: gal(-1), Fluid: record.Record(record.Water)}), "must not be below zero"},
		"drained less":           {change(record.TripChange{Drain: gal(-1), Fluid: record.Record(record.Water)}), "must not be below zero"},
		"filled with what":       {change(record.TripChange{Fill: gal(1)}), "the fluid in the tank: want one of water, diesel, gasoline, LP gas"},
		"no tank":                {change(record.TripChange{TakeOff: lb(1), Fluid: record.Record(record.Water)}), "a fluid goes with fill or drain"},
		"taken off and moved":    {change(record.TripChange{TakeOff: lb(1), MayGoTo: []string{"nose"}}), "only cargo that is added may go elsewhere"},
		"a towed place":          {func(x *record.Trip) { x.Stations[1].Towed = true }, "a station in a towed unit, and no axle is towed"},
	} {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual, Behind: record.Record(weight.Length(200 * weight.Inch))}}}
		v.Trip.Stations = []record.TripStation{{Name: "bay", Behind: 100 * weight.Inch}, {Name: "nose"}}
		c.set(&v.Trip)
		_, err := v.Layout()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) || name == "ten places" && strings.Contains(err.Error(), "or another") {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// TestMassOfAChange: what is added counts up, what is taken off down; a fluid by what its
// gallon weighs: water 8.33 lb, diesel 7.1, gasoline 6.1 and LP gas 4.2 (from memory, as
// weight/cargo has them), rounded up.
func TestMassOfAChange(t *testing.T) {
	t.Parallel()
	lb := func(n int64) record.Recorded[weight.Mass] { return record.Record(weight.Mass(n) * weight.Pound) }
	ten := record.Record(10 * weight.USGallon)
	for name, c := range map[string]struct {
		change record.TripChange
		want   func() (weight.Mass, error)
	}{
		"added":     {record.TripChange{Add: lb(5)}, func() (weight.Mass, error) { return 5 * weight.Pound, nil }},
		"taken off": {record.TripChange{TakeOff: lb(5)}, func() (weight.Mass, error) { return -5 * weight.Pound, nil }},
		"water":     {record.TripChange{Fill: ten, Fluid: record.Record(record.Water)}, func() (weight.Mass, error) { return cargo.Water().Mass(10*weight.USGallon, weight.US) }},
		"diesel":    {record.TripChange{Fill: ten, Fluid: record.Record(record.Diesel)}, func() (weight.Mass, error) { return cargo.Diesel().Mass(10*weight.USGallon, weight.US) }},
		"gasoline":  {record.TripChange{Drain: ten, Fluid: record.Record(record.Gasoline)}, func() (weight.Mass, error) { return cargo.Gasoline().Mass(-10*weight.USGallon, weight.US) }},
		"LP gas":    {record.TripChange{Drain: ten, Fluid: record.Record(record.LPGas)}, func() (weight.Mass, error) { return cargo.LPGas().Mass(-10*weight.USGallon, weight.US) }},
	} {
		want, err := c.want()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := c.change.Mass(weight.US); err != nil || got != want || got == 0 {
			t.Errorf("%s: %s, %v, want %s", name, got, err, want)
		}
	}
}

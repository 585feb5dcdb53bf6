package schemacheck_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// An invented coach: nothing in it is a real vehicle or tire.
const goodVisit = `visit: 1
invented: yes
date: 2026-10-03
units: us
coach: Invented coach
odometer: 41,250 mi
load_state: as for the trip
air_temperature: -5 C
stood: 3 h
gauge: the blue one
gauge_tolerance: 0.5 psi
gauge_step: 5 psi
gauge_checked: 2026-09-01
pressure_unit: bar
names: {customer: A. Owner, technician: B. Tech, last_set_by: C. Other, plate: DEMO 1, unit_number: 12, work_order: 34}
use: private
country: US
fastest: 65 mph
moved: no
cold: yes
driven_since: yes
nothing_since_set: yes
last_set_on: 2026-06-01
last_set_air: 70 F
last_set_gauge_tolerance: 1 psi
tows: car
packs: house
sure: [air_temperature, gvwr]
ratings: {gvwr: 26000 lb, gcwr: 31000 lb}
towing: {hitch: 5000 lb, hitch_tongue: 500 lb, ball_mount: not read, tow_bar: 6000 lb, coupler: 5000 lb, gvwr: 3500 lb, tongue: 350 lb}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi, placard_size: XV250/72R21, placard_load_range: G, torque_asked: 475 ft-lb, torque_applied: 640 N-m, sure: gawr}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 228 in}
  - {id: dolly, fitment: single, towed: yes, behind_steer: 380 in}
every_tire: {size: XV250/72R21, load_range: G, class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi, seen: nothing}
every_towed_tire: {size: XV180/72R14, sidewalls: outer, stem: metal, extension: none, stem_fitted: 2024-01-01, sensor_fitted: 2024-01-02, wheel_on: 2026-01-01, torque_checked: 2026-01-02, tread_type: all position}
tires:
  - {at: steer-left, last_set: 100 psi, found: 99 psi, tread: [9/32 in, 10/32 in], number: 2222, decade_mark: no, hot: no, in_sun: no, service: 141/140L, other_number: 22, regrooved: no}
  - {at: steer-right, model: alpha, diameter: 34.1 in, circumference: 107 in, left: 100 psi, dual: 4540 lb at 110 psi, note: scuffed, rotates: right, wheel_fits: [steer, outer, drive-left-inner]}
  - {at: drive-left-inner, read_at: not reached, tread: 12/32 in, retread: no}
  - {at: drive-left-outer, found: 100 psi, lowest: 70 psi, air_added: yes, seen: [cut, boot], crack_depth: 1/32 in, cut_depth: 2/32 in, injury_width: 1/8 in, injury_at: crown}
  - {at: spare, seen: weather cracking, sure: [tread], photos: [a.jpg, b.jpg], inspected_by: B. Tech, cut_at: crown, cut_length: 1 in}
  - {at: drive-right-outer, air_added_by: 5 psi, before_air: 80 psi, low_alarm: no, read_zero: no, driven_since: no, next_day: 99 psi, sensor_reading: 98 psi}
  - {at: spare-2, tread: {inner: 9/32 in, center: [8/32 in, 7/32 in]}}
done:
  - {at: steer-left, rule: run-low, note: demounted and inspected}
declined:
  - {at: spare, rule: too-old, note: next month}
notes: [one line, and another]
next_visit: 2027-03-01
weighing:
  date: 2026-10-02
  place: the quarry
  odometer: 41,200 mi
  as_driven: all
  work_since: no
  raised: steer
  scale: whole axles
  division: 20 lb
  tolerance: 40 lb
  level: yes
  ride_height: yes
  levelers_up: yes
  slides_in: yes
  tanks_as_driven: yes
  fuel_as_driven: yes
  people_as_driven: yes
  hitched: no
  heavier_share: 55 %
  readings:
    - {name: front, load: 8500 lb, tolerance: 20 lb, sure: yes, on: steer}
    - {load: 16860 lb, on: [drive-left, drive-right]}
  unhitched:
    - {load: 16900 lb, on: drive}
trip:
  track: 80 in
  coupling: tow bar
  hitch: 300 in
  least_on_steer: 6000 lb
  stations:
    - {name: front bay, behind_steer: -10 in, offset: 30 in left, most: 300 lb}
    - {name: rear bay, behind_steer: 260 in, offset: center}
    - {name: dolly deck, behind_steer: 360 in, towed: yes}
  items:
    - {name: tools, mass: 120 lb, at: rear bay, may_go_to: front bay}
  changes:
    - {name: two people, at: front bay, add: 300 lb, may_go_to: [rear bay]}
    - {name: waste, at: rear bay, drain: 30 gal, fluid: water}
  label: {kind: OCCC, units: us, gvwr: 26000 lb, uvw: 22000 lb, stated: 2000 lb, fresh_water: 60 gal, lp_tank: 20 gal, sleeping_places: 4, seats: 4, people_aboard: 300 lb, water_aboard: 60 gal, lp_gas_aboard: 10 gal}
`

// TestGoodVisits has what the format allows taken by schema and reader alike.
func TestGoodVisits(t *testing.T) {
	f := visitFormat(t)
	f.taken(t, "the good visit", []byte(goodVisit))
	for _, s := range []swap{
		{"a quoted version", "visit: 1", "visit: '1'"},
		{"a wheel that fits one place", "wheel_fits: [steer, outer, drive-left-inner]", "wheel_fits: alone"},
		{"booleans", "invented: yes", "invented: true"},
		{"nobody read the wheel", "wheel: 5000 lb at 120 psi", "wheel: not read"},
		{"nobody read the placard", "placard: 100 psi", "placard: not read"},
		{"nobody looked", "seen: weather cracking", "seen: not read"},
		{"nobody probed", "tread: 12/32 in", "tread: not read"},
		{"nobody said", "retread: no", "retread: not read"},
		{"nobody weighed", "load: 8500 lb", "load: not read"},
		{"nobody knows the class", "class: truck", "class: not read"},
		{"nobody asked", "stood: 3 h", "stood: not read"},
		{"no thermometer", "air_temperature: -5 C", "air_temperature: not read"},
		{"a speed symbol alone", "service: 141/140L", "service: l"},
		{"a load index alone", "service: 141/140L", "service: 141"},
		{"metric", "units: us\ncoach", "units: metric\ncoach"},
		{"words in capitals", "class: truck", "class: Light Truck"},
		{"units in capitals", "gauge_step: 5 psi", "gauge_step: 35 KPA"},
		{"no blank before the unit", "division: 20 lb", "division: 20lb"},
		{"degrees", "air_temperature: -5 C", "air_temperature: 60 °F"},
		{"a number that starts with 0", "number: 2222", "number: 0523"},
		{"a whole number after DOT", "number: 2222", "number: 1X1 XAXAXA 2222"},
		{"an axle with a number", "{id: dolly,", "{id: axle-3,"},
		{"nothing seen, as a list", "seen: weather cracking", "seen: []"},
		{"a label in small letters", "kind: OCCC", "kind: ccc"},
		{"a fitment in capitals", "fitment: dual", "fitment: Dual"},
		{"a condition in capitals", "seen: weather cracking", "seen: Weather cracking"},
		{"an empty value", "note: scuffed", "note: "},
		{"a pressure that nobody took", "last_set: 100 psi", "last_set: N/A"},
		{"yes in capitals", "invented: yes", "invented: Yes"},
		{"a stamp with a sign for at", "single: 4940 lb at 110 psi", "single: 4940 LBS @ 110 PSI COLD"},
		{"a service with a blank", "service: 141/140L", "service: 141/140 L"},
		{"a mark for inches", "tread: 12/32 in", "tread: 12/32\""},
		{"thirty-seconds", "tread: 12/32 in", "tread: 12/32nds"},
		{"feet and inches", "behind_steer: 228 in", "behind_steer: 19 ft 0 in"},
		{"eighths", "behind_steer: 228 in", "behind_steer: 228-1/8 in"},
		{"a point behind a unit", "division: 20 lb", "division: 20 lbs."},
		{"a day in words", "date: 2026-10-03", "date: 3 Oct 2026"},
		{"a tolerance with its sign", "gauge_tolerance: 0.5 psi", "gauge_tolerance: +/- 0.5 psi"},
		{"a standing in weeks", "stood: 3 h", "stood: 3 weeks"},
	} {
		f.taken(t, s.name, s.in(t, goodVisit))
	}
	for _, system := range []weight.System{weight.US, weight.Metric} {
		data, err := record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, System: system, Spares: 2, Axles: []record.Axle{
			{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}, {ID: "car", Fitment: weight.Single, Towed: true}}}.YAML()
		if err != nil {
			t.Fatal(err)
		}
		f.taken(t, "a blank", data)
		f.taken(t, "a blank with every line in use", regexp.MustCompile(`(?m)^( *)#([^ ])`).ReplaceAll(data, []byte("$1$2")))
	}
	f.taken(t, "the least", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n"))
}

// TestBadVisits has each kind of wrong shape refused by schema and reader
// alike.
func TestBadVisits(t *testing.T) {
	f := visitFormat(t)
	for _, s := range []swap{
		{"no version", "visit: 1\n", ""},
		{"another version", "visit: 1\n", "visit: 2\n"},
		{"no date", "date: 2026-10-03\n", ""},
		{"a date in another order", "date: 2026-10-03", "date: 10/03/2026"},
		{"unknown key", "coach:", "caoch:"},
		{"unknown key of the ratings", "{gvwr: 26000 lb, gcwr", "{gvwr: 26000 lb, gtwr"},
		{"unknown key of an axle", "placard: 100 psi", "pressure: 100 psi"},
		{"unknown key of a tire", "model: alpha", "brand: alpha"},
		{"a tire's own key for all of them", "every_tire: {", "every_tire: {number: 2222, "},
		{"unknown key of the weighing", "  level: yes", "  flat: yes"},
		{"unknown key of a reading", "{name: front, load", "{name: front, mass"},
		{"unknown units", "units: us\ncoach", "units: imperial\ncoach"},
		{"neither yes nor no", "invented: yes", "invented: perhaps"},
		{"a text of two lines", "coach: Invented coach", "coach: |\n  Invented\n  coach"},
		{"a text too long", "coach: Invented", "coach: " + strings.Repeat("x", 201)},
		{"a text that is a list", "load_state: as for the trip", "load_state: [full]"},
		{"a mass without a unit", "gvwr: 26000 lb, gcwr", "gvwr: 26000, gcwr"},
		{"a mass in an unknown unit", "division: 20 lb", "division: 20 stone"},
		{"a mass below zero", "division: 20 lb", "division: -20 lb"},
		{"a mass in psi", "division: 20 lb", "division: 20 psi"},
		{"a pressure in pounds", "gauge_tolerance: 0.5 psi", "gauge_tolerance: 0.5 lb"},
		{"a pressure that is a mapping", "gauge_tolerance: 0.5 psi", "gauge_tolerance: {psi: 0.5}"},
		{"a pressure with an exponent", "gauge_tolerance: 0.5 psi", "gauge_tolerance: 5e1 psi"},
		{"a pressure that ends in a point", "gauge_tolerance: 0.5 psi", "gauge_tolerance: 5. psi"},
		{"a length without a number", "odometer: 41,250 mi", "odometer: mi"},
		{"a temperature without a unit", "air_temperature: -5 C", "air_temperature: -5"},
		{"axles that are a mapping", "axles:\n  - {id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi, placard_size: XV250/72R21, placard_load_range: G, torque_asked: 475 ft-lb, torque_applied: 640 N-m, sure: gawr}\n  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 228 in}\n  - {id: dolly, fitment: single, towed: yes, behind_steer: 380 in}\n", "axles: {id: steer, fitment: single}\n"},
		{"no axle", "axles:\n  - {id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi, placard_size: XV250/72R21, placard_load_range: G, torque_asked: 475 ft-lb, torque_applied: 640 N-m, sure: gawr}\n  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 228 in}\n  - {id: dolly, fitment: single, towed: yes, behind_steer: 380 in}\n", "axles: []\n"},
		{"an axle without a name", "{id: dolly, ", "{"},
		{"an axle in capitals", "id: dolly", "id: Dolly"},
		{"an axle named like a side", "id: dolly", "id: left"},
		{"an axle with a side in its name", "id: dolly", "id: dolly-inner"},
		{"an axle named like the coach", "id: dolly", "id: coach"},
		{"an axle named like a spare", "id: dolly", "id: spare-2"},
		{"an axle with a long name", "id: dolly", "id: " + strings.Repeat("d", 25)},
		{"an axle that ends in a dash", "id: dolly", "id: dolly-"},
		{"no fitment", "fitment: single, towed: yes", "towed: yes"},
		{"an unknown fitment", "fitment: dual", "fitment: triple"},
		{"an unknown class", "class: truck", "class: van"},
		{"an unknown construction", "construction: radial", "construction: solid"},
		{"a stamp without its pressure", "single: 4940 lb at 110 psi", "single: 4940 lb"},
		{"a stamp the wrong way around", "single: 4940 lb at 110 psi", "single: 110 psi at 4940 lb"},
		{"not read of what must be said", "date: 2026-10-03", "date: not read"},
		{"not read in a list", "[9/32 in, 10/32 in]", "[9/32 in, not read]"},
		{"a standing without a unit", "stood: 3 h", "stood: 3"},
		{"a standing in months", "stood: 3 h", "stood: 3 months"},
		{"no speed symbol", "service: 141/140L", "service: 141/140I"},
		{"a service of words", "service: 141/140L", "service: high"},
		{"an unknown sidewall", "sidewalls: outer", "sidewalls: left"},
		{"a hole in an unknown place", "injury_at: crown", "injury_at: tread"},
		{"an unknown place of the tread", "{inner: 9/32 in, ", "{left: 9/32 in, "},
		{"no place of the tread", "{inner: 9/32 in, center: [8/32 in, 7/32 in]}", "{}"},
		{"no depth at a place", "center: [8/32 in, 7/32 in]", "center: []"},
		{"a tire without its place", "{at: spare, seen", "{seen"},
		{"no tread in a list", "[9/32 in, 10/32 in]", "[]"},
		{"a tread without a unit", "tread: 12/32 in", "tread: 12/32"},
		{"read at another place", "read_at: not reached", "read_at: cap"},
		{"an unknown condition", "seen: weather cracking", "seen: looks old"},
		{"nothing among others", "seen: [cut, boot]", "seen: [cut, nothing]"},
		{"an unknown scale", "scale: whole axles", "scale: bathroom"},
		{"a share without %", "heavier_share: 55 %", "heavier_share: 0.55"},
		{"a reading without a load", "load: 8500 lb, ", ""},
		{"a reading of nothing", "on: steer}", "on: []}"},
		{"a reading without a place", ", on: steer}", "}"},
		{"an unknown key of the trip", "  track: 80 in", "  width: 80 in"},
		{"an unknown coupling", "coupling: tow bar", "coupling: chain"},
		{"a station without a place", "behind_steer: 260 in, offset: center", "offset: center"},
		{"an offset without a side", "offset: 30 in left", "offset: 30 in"},
		{"a name of blanks", "name: tools", "name: '  '"},
		{"nowhere to go", "may_go_to: front bay", "may_go_to: []"},
		{"a change of nothing", "add: 300 lb, ", ""},
		{"a change both ways", "add: 300 lb,", "add: 300 lb, take_off: 20 lb,"},
		{"an unknown fluid", "fluid: water", "fluid: milk"},
		{"a tank in pounds", "drain: 30 gal", "drain: 30 lb"},
		{"a label of no kind", "kind: OCCC, ", ""},
		{"an unknown label", "kind: OCCC", "kind: GAWR"},
		{"half a sleeper", "sleeping_places: 4", "sleeping_places: 3.5"},
		{"a thousand seats and one", "seats: 4", "seats: 1001"},
		{"an unknown direction", "rotates: right", "rotates: forward"},
		{"a wheel that fits nothing", "wheel_fits: [steer, outer, drive-left-inner]", "wheel_fits: []"},
		{"a pack with a path", "packs: house", "packs: ../house"},
		{"an unknown tow", "tows: car", "tows: boat"},
		{"a placard of nothing", "placard: 100 psi,", "placard: nothing,"},
		{"a torque in pounds", "torque_asked: 475 ft-lb", "torque_asked: 475 lb"},
		{"an unknown stem", "stem: metal", "stem: brass"},
		{"an unknown use", "use: private", "use: mine"},
		{"sure of a sentence", "sure: [tread]", "sure: [the tread]"},
	} {
		f.refused(t, s.name, s.in(t, goodVisit))
	}
	for name, text := range map[string]string{"a list": "[visit, 1]\n", "a text": "visit\n", "nothing": ""} {
		f.refused(t, name, []byte(text))
	}
}

// objects are the mappings of a visit: where each stands in a file, and in the
// schema.
var objects = []struct{ file, schema string }{
	{"", ""},
	{"ratings", "ratings"},
	{"towing", "towing"},
	{"axles.0", "axle"},
	{"every_tire", "everyTire"},
	{"every_towed_tire", "everyTire"},
	{"tires.0", "tire"},
	{"tires.0.tread", "tread"},
	{"names", "whose"},
	{"towing", "towing"},
	{"weighing", "weighing"},
	{"weighing.readings.0", "reading"},
	{"trip", "trip"},
	{"trip.stations.0", "station"},
	{"trip.items.0", "item"},
	{"trip.changes.0", "tripChange"},
	{"trip.label", "cargoLabel"},
	{"done.0", "done"},
	{"declined.0", "done"},
}

// TestKeys holds the keys of the schema against those that the reader takes,
// for every key that any part of a visit has.
func TestKeys(t *testing.T) {
	keys := make(map[string]bool)
	tags(reflect.TypeFor[record.Visit](), keys)
	for _, place := range []string{"inner", "center", "outer"} { // of a tread, which writes itself
		keys[place] = true
	}
	data, err := os.ReadFile("../../inspect/record/visit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	type object struct {
		Properties map[string]any `json:"properties"`
	}
	var schema struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	listed := make(map[string]bool)
	for _, o := range objects {
		has := schema.Properties
		if o.schema != "" {
			has = schema.Defs[o.schema].Properties
		}
		if len(has) == 0 {
			t.Errorf("%q: no such part of the schema", o.schema)
		}
		listed[o.schema] = true
		for key := range has {
			if !keys[key] {
				t.Errorf("%s: the schema has the key %s, a visit has not", o.schema, key)
			}
		}
		for key := range keys {
			if _, ok := has[key]; ok != readerKnows(t, o.file, key) {
				t.Errorf("%s: key %s: in the schema %t, known to the reader %t", o.file, key, ok, !ok)
			}
		}
	}
	for name, def := range schema.Defs {
		if len(def.Properties) > 0 && !listed[name] {
			t.Errorf("%s: a part of the schema that this test does not look at", name)
		}
	}
}

// tags collects the keys of a struct and of the structs in it.
func tags(typ reflect.Type, keys map[string]bool) {
	for typ.Kind() == reflect.Slice {
		typ = typ.Elem()
	}
	_, leaf := reflect.PointerTo(typ).MethodByName("UnmarshalText")
	_, recorded := reflect.PointerTo(typ).MethodByName("UnmarshalJSON")
	// A whole visit reads itself, and has its parts all the same.
	if leaf || recorded && typ != reflect.TypeFor[record.Visit]() || typ.Kind() != reflect.Struct {
		return
	}
	for i := range typ.NumField() {
		name, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
		keys[name] = true
		tags(typ.Field(i).Type, keys)
	}
}

// readerKnows puts one key, with a value that is never right, into a mapping.
func readerKnows(t *testing.T, at, key string) bool {
	t.Helper()
	text := fmt.Sprintf(`{%q: [[]]}`, key)
	if at != "" {
		parts := strings.Split(at, ".")
		slices.Reverse(parts)
		for _, p := range parts {
			if p == "0" {
				text = "[" + text + "]"
			} else {
				text = fmt.Sprintf("{%q: %s}", p, text)
			}
		}
	}
	_, err := record.Read("visit.yaml", []byte(text))
	var problems *origin.Problems
	if !errors.As(err, &problems) || problems.More() > 0 {
		t.Fatalf("%s: %v", text, err)
	}
	return !slices.ContainsFunc(problems.All(), func(p origin.Problem) bool {
		return p.Code == "unknown-key" && strings.Contains(p.Err.Error(), fmt.Sprintf("%q", key))
	})
}

// TestWords holds the lists of words in the schema against those of the
// packages: whatever one of them writes, the schema takes.
func TestWords(t *testing.T) {
	f := visitFormat(t)
	put := func(s swap) { f.taken(t, s.new, s.in(t, goodVisit)) }
	for c := condition.Condition(1); ; c++ {
		if _, err := c.MarshalText(); err != nil {
			if c < 20 {
				t.Errorf("only %d conditions", c)
			}
			break
		}
		put(swap{"", "seen: weather cracking", "seen: " + c.String()})
	}
	for c := inflation.Class(1); c.String() != "not known"; c++ {
		put(swap{"", "class: truck", "class: " + c.String()})
	}
	for c := inflation.Construction(1); c.String() != "not known"; c++ {
		put(swap{"", "construction: radial", "construction: " + c.String()})
	}
	for k := weight.ScaleKind(1); k.String() != "not known"; k++ {
		put(swap{"", "scale: whole axles", "scale: " + k.String()})
	}
	for r := record.ReadAt(1); r.String() != "not known"; r++ {
		put(swap{"", "read_at: not reached", "read_at: " + r.String()})
	}
	for s := record.Sidewalls(1); s.String() != "not known"; s++ {
		put(swap{"", "sidewalls: outer", "sidewalls: " + s.String()})
	}
	for i := record.InjuryAt(1); i.String() != "not known"; i++ {
		put(swap{"", "injury_at: crown", "injury_at: " + i.String()})
	}
	for s := sidewall.SpeedSymbol(1); s.String() != "not known"; s++ {
		put(swap{"", "service: 141/140L", "service: " + s.String()})
	}
	for r := record.Rotates(1); r.String() != "not known"; r++ {
		put(swap{"", "rotates: right", "rotates: " + r.String()})
	}
	for c := weight.Coupling(1); c.String() != "not known"; c++ {
		put(swap{"", "coupling: tow bar", "coupling: " + c.String()})
	}
	for k := cargo.LabelKind(1); k.String() != "not known"; k++ {
		put(swap{"", "kind: OCCC", "kind: " + k.String()})
	}
	for w := record.Fluid(1); w.String() != "not known"; w++ {
		put(swap{"", "fluid: water", "fluid: " + w.String()})
	}
	// As many axles as the reader takes, and no more.
	for n, took := range map[int]bool{weight.MaxAxles: true, weight.MaxAxles + 1: false} {
		text := "visit: 1\ndate: 2026-10-03\naxles:\n"
		for i := range n {
			text += fmt.Sprintf("  - {id: axle-%d, fitment: single}\n", i)
		}
		if took {
			f.taken(t, fmt.Sprint(n, " axles"), []byte(text))
		} else {
			f.refused(t, fmt.Sprint(n, " axles"), []byte(text))
		}
	}
}

// TestQuantities has every text that a quantity is read from taken by the
// schema, and what has no unit of its kind refused.
func TestQuantities(t *testing.T) {
	numbers := []string{"1", "12", "+7", "-7", "1,250", "0.5", "3/4", "12.25", "12,34", "1e3", ".5", "5.", "1/0", "0,640", "1 000", "007", "--1", "½"}
	units := []string{"psi", "PSI", "kPa", "bar", "Pa", "lb", "LBS", "kg", "g", "in", "Inch", "inches", "mi", "mile", "Miles", "ft", "foot", "feet",
		"mm", "cm", "m", "km", "F", "degF", "°F", "C", "degc", "°C", "%", "gal", "L", "l", "", "stone", "psig", "K",
		"min", "h", "Hours", "day", "days", "lb at 95 psi", "kg at 655 kPa", "lb at 95", "in left", "mm right", "in up"}
	below := func(n int64) error {
		if n < 0 {
			return record.ErrNegative
		}
		return nil
	}
	for place, parse := range map[string]func(string) error{
		"#/$defs/pressure": func(s string) error { v, err := inflation.ParsePressure(s); return errors.Join(err, below(int64(v))) },
		"#/$defs/mass":     func(s string) error { v, err := weight.ParseMass(s); return errors.Join(err, below(int64(v))) },
		"#/$defs/length":   func(s string) error { v, err := weight.ParseLength(s); return errors.Join(err, below(int64(v))) },
		"#/$defs/volume":   func(s string) error { v, err := weight.ParseVolume(s); return errors.Join(err, below(int64(v))) },
		"#/$defs/standing": func(s string) error { _, err := record.ParseParkedFor(s); return err },
		"#/$defs/stamp":    func(s string) error { _, err := record.ParseStamp(s); return err },
		"#/$defs/station/properties/behind_steer":   func(s string) error { _, err := weight.ParseLength(s); return err },
		"#/$defs/station/properties/offset":         func(s string) error { _, err := record.ParseOffset(s); return err },
		"#/properties/air_temperature":              func(s string) error { _, err := inflation.ParseTemperature(s); return err },
		"#/$defs/weighing/properties/heavier_share": func(s string) error { _, err := weight.ParseShare(s); return err },
	} {
		schema := compile(t, os.DirFS("../../inspect/record"), "visit.schema.json"+place)
		read := 0
		for _, n := range numbers {
			for _, u := range units {
				for _, text := range []string{n + " " + u, n + u, " " + n + "  " + u + " "} {
					taken, err := schema.Validate(text) == nil, parse(text)
					switch {
					case err == nil && !taken:
						t.Errorf("%s: %q is read, and the schema refuses it", place, text)
					case (errors.Is(err, origin.ErrUnit) || errors.Is(err, record.ErrNegative)) && taken:
						t.Errorf("%s: %q is not read (%v), and the schema takes it", place, text, err)
					}
					if err == nil {
						read++
					}
				}
			}
		}
		if read < 10 {
			t.Errorf("%s: only %d texts were read", place, read)
		}
	}
}

// TestEveryChangeOfAVisit changes the good visit in one place after another.
// Whatever the reader still takes, the schema must take: an editor that
// underlines what is right teaches people to look away.
func TestEveryChangeOfAVisit(t *testing.T) {
	everyChange(t, visitFormat(t), []byte(goodVisit), false)
}

// TestEveryChangeOfAPack does the same for a pack and its cases, where schema
// and reader agree both ways: all that is left to say of a pack on its own is
// its shape.
func TestEveryChangeOfAPack(t *testing.T) {
	everyChange(t, packFormat(t), []byte(goodPack), true)
	everyChange(t, casesFormat(t), []byte(goodCases), true)
	everyChange(t, clausesFormat(t), []byte(goodClauses), true)
}

package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/rules"
)

// ofRule is what a report says by a rule: to do, asked, not judged, or nothing.
func ofRule(r report.Report, rule string) string {
	for _, it := range r.Todo {
		if slices.Contains(it.Rules, rule) {
			switch it.Verdict {
			case rules.TooClose:
				return "too close"
			case rules.NotRecorded:
				return "asked, " + string(it.Action)
			}
			return string(it.Action)
		}
	}
	for _, g := range r.Unjudged {
		if slices.Contains(g.Rules, rule) {
			return "not judged: " + g.Need
		}
	}
	return "nothing"
}

// van is a light motorhome whose axles are weighed end by end; its GVWR stands in
// its label alone, so that only the label speaks of the whole.
func van(load, more string) string {
	return `
visit: 1
date: 2026-10-03
axles:
  - {id: steer, fitment: single, placard: 65 psi}
  - {id: drive, fitment: single, placard: 65 psi}
every_tire: {class: light truck, load_range: E, single: 3000 lb at 80 psi}
tires: [{at: steer-left}, {at: steer-right}, {at: drive-left}, {at: drive-right}]
weighing:
  as_driven: yes
  scale: platform
  tolerance: 20 lb
  readings:
    - {load: ` + load + `, on: steer-left}
    - {load: 2000 lb, on: steer-right}
    - {load: 2000 lb, on: drive-left}
    - {load: 2000 lb, on: drive-right}
` + more
}

// TestCargoLabelAgainstTheScale: what people and cargo may weigh together (49 CFR
// 571.120 S10.4.4(c)), with water as cargo and full LP gas as part of the coach
// (S10.4.2); on a label of 2000 (as quoted) people, water and gas are taken off. The
// coach weighs 8,000 lb +/- 80 lb.
func TestCargoLabelAgainstTheScale(t *testing.T) {
	for _, x := range []struct{ label, want string }{
		{"kind: OCCC, stated: 1500 lb, uvw: 6500 lb", "too close"}, // 1,500 loaded
		{"kind: OCCC, stated: 1581 lb, uvw: 6500 lb", "nothing"},
		{"kind: OCCC, stated: 1419 lb, uvw: 6500 lb", "before_trip"},
		{"kind: OCCC, stated: 1500 lb, gvwr: 7900 lb", "before_trip"}, // 1,600 loaded
		{"kind: OCCC, stated: 1500 lb, gvwr: 9000 lb", "nothing"},
		{"kind: OCCC, stated: 1500 lb, uvw: 6550 lb, lp_tank: 100 gal, lp_gas_aboard: 0 gal", "before_trip"}, // 1,450 and 336 of gas
		{"kind: OCCC, stated: 1500 lb, uvw: 6550 lb, lp_tank: 100 gal, lp_gas_aboard: 80 gal", "too close"},
		{"kind: OCCC, stated: 1500 lb, uvw: 6550 lb, lp_tank: 100 gal", "asked, before_trip"},
		{"kind: CCC, stated: 1000 lb, uvw: 6500 lb, people_aboard: 300 lb, water_aboard: 0 gal, lp_gas_aboard: 0 gal", "before_trip"},
		{"kind: CCC, stated: 1200 lb, uvw: 6500 lb, people_aboard: 0 lb, water_aboard: 50 gal, lp_gas_aboard: 0 gal", "nothing"}, // 1,500 less 415 of water
		{"kind: CCC, stated: 1000 lb, uvw: 6500 lb, water_aboard: 0 gal, lp_gas_aboard: 0 gal", "asked, before_trip"},
		{"kind: CCC, stated: 1000 lb, uvw: 6500 lb, people_aboard: 0 lb, water_aboard: 0 gal", "asked, before_trip"},
		{"kind: CCC, stated: 1000 lb, uvw: 6500 lb, people_aboard: 0 lb, lp_gas_aboard: 0 gal", "asked, before_trip"},
		{"kind: CCC, stated: 1300 lb, uvw: 6500 lb, people_aboard: 300 lb, water_aboard: 0 gal, lp_gas_aboard: 0 gal", "nothing"},
		{"kind: CCC, stated: 1000 lb, uvw: 6500 lb, people_aboard: 300 lb", "asked, before_trip"},
		{"kind: CCC, stated: 1600 lb, uvw: 6500 lb", "nothing"}, // no more than 1,500 in any case
		{"kind: NCC, stated: 1000 lb, uvw: 6500 lb", "nothing"},
	} {
		r := assessed(t, van("2000 lb", "trip: {label: {"+x.label+"}}\n"))
		if got := ofRule(r, "label/cargo"); got != x.want {
			t.Errorf("%s: %s, want %s", x.label, got, x.want)
		}
	}
	// The label's own GVWR counts, whatever another label says: 1,600 lb loaded.
	if got := ofRule(assessed(t, van("2000 lb", "ratings: {gvwr: 9000 lb}\ntrip: {label: {kind: OCCC, stated: 1500 lb, gvwr: 7900 lb}}\n")), "label/cargo"); got != string(report.BeforeTrip) {
		t.Errorf("two GVWRs: %s", got)
	}
	// Weighed light it is at least that: over stays over, and nothing is kept.
	light := func(stated string) string {
		text := strings.Replace(van("2000 lb", "trip: {label: {kind: OCCC, stated: "+stated+", uvw: 6500 lb}}\n"), "as_driven: yes", "as_driven: no", 1)
		return ofRule(assessed(t, text), "label/cargo")
	}
	if over, under := light("1000 lb"), light("2000 lb"); over != string(report.BeforeTrip) || !strings.HasPrefix(under, "not judged") {
		t.Errorf("weighed light: %s, %s", over, under)
	}
	for _, label := range []string{"kind: OCCC, uvw: 6500 lb", "kind: CCC, stated: 1000 lb"} {
		if got := ofRule(assessed(t, van("2000 lb", "trip: {label: {"+label+"}}\n")), "label/cargo"); !strings.HasPrefix(got, "not judged: for its cargo label") {
			t.Errorf("%s: %s", label, got)
		}
	}
}

// TestReserveAtThePlacard: at most 94 % of what an LT tire carries at the placard's
// pressure (49 CFR 571.110 S4.2.2.3(b)). 3,000 lb at 80 psi is 2,437.5 to 2,704.16
// lb at 65 psi by any law with an exponent from 0.5 to 1 (computed); 94 % of that
// 2,291.25 to 2,541.91 lb. The scale may be off by 20 lb.
func TestReserveAtThePlacard(t *testing.T) {
	const light = "ratings: {gvwr: 10000 lb}\n"
	for _, x := range []struct{ load, more, want string }{
		{"2562 lb", light, string(report.Plan)},
		{"2561 lb", light, "too close"},
		{"2271 lb", light, "nothing"},
		{"2272 lb", light, "asked, plan"},
		{"2562 lb", "ratings: {gvwr: 4536 kg}\n", string(report.Plan)}, // as the section itself writes 10,000 lb
		{"2562 lb", "ratings: {gvwr: 10001 lb}\n", "nothing"},
		{"2562 lb", "", "not judged: the GVWR, from the ratings label"},
	} {
		if got := ofRule(assessed(t, van(x.load, x.more)), "label/placard-reserve"); got != x.want {
			t.Errorf("%s, %s: %s, want %s", x.load, x.more, got, x.want)
		}
	}
	duals := strings.Replace(van("2562 lb", light), "id: drive, fitment: single", "id: drive, fitment: dual", 1)
	duals = strings.Replace(duals, "{at: drive-left}, {at: drive-right}", "{at: drive-left-inner}", 1)
	for _, g := range assessed(t, duals).Unjudged {
		if strings.HasPrefix(g.Where, "drive") && slices.Contains(g.Rules, "label/placard-reserve") {
			t.Errorf("duals are outside: %+v", g)
		}
	}
}

// TestLampIsNoProof: whatever a visit records of a monitor, its report says that a
// lamp which lights at 25 % below the placard proves nothing (49 CFR 571.138 S4.2(a)).
func TestLampIsNoProof(t *testing.T) {
	for keys, want := range map[string]bool{
		"found: 65 psi":                         false,
		"found: 65 psi, low_alarm: no":          true,
		"found: 65 psi, low_alarm: yes":         true,
		"found: 65 psi, sensor_reading: 66 psi": true,
		"sensor_fitted: 2024-05-01":             true,
	} {
		r := assessed(t, one("steer-left", keys))
		if got := strings.Contains(strings.Join(r.Cautions, "\n"), "warning lamp is no proof of pressure"); got != want {
			t.Errorf("%s: %t, want %t", keys, got, want)
		}
	}
}

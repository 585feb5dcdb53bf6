package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// wornSteer is a coach with one steer tire at 3/32 in, by its GVWR.
func wornSteer(more string) string {
	return one("steer-left", "tread: 3/32 in") + more
}

// TestPacksOfAVisit: a visit names packs beside those that it is judged with; one
// that nobody has is said, and one for another coach is left out only where that
// is certain.
func TestPacksOfAVisit(t *testing.T) {
	label, err := inspect.CompilePacks(packs.FS(), "label")
	if err != nil {
		t.Fatal(err)
	}
	yard := visittest.Compile(t, "  yard-tread: {title: t, subject: tire, measure: tread, at_least: 1 in, action: plan, advice: A, source: {grade: computed}}\n")
	named := yard.Packs()[0]
	const left, unsure = "was left out", "It is not known whether this coach is one for"
	for _, x := range []struct {
		name, more string
		ran, out   []string // packs of the report, and those not in it
		caution    string
		need       string
		worn       bool // the steer tire is worn out for it
	}{
		{"none", "", []string{"label"}, []string{"us-in-use"}, "", "", false},
		{"heavy", "packs: [us-in-use]\nratings: {gvwr: 10001 lb}\n", []string{"label", "us-in-use"}, nil, "", "", true},
		{"light", "packs: [us-in-use]\nratings: {gvwr: 10000 lb}\n", []string{"label"}, []string{"us-in-use"}, "us-in-use " + left, "", false},
		{"light, of two", "packs: [us-in-use, us-in-use-light]\nratings: {gvwr: 10000 lb}\n", []string{"label", "us-in-use-light"}, []string{"us-in-use"}, "us-in-use " + left, "", false},
		{"rating not read", "packs: [us-in-use, us-in-use-light]\n", []string{"label", "us-in-use", "us-in-use-light"}, nil, unsure, "GVWR", true},
		{"none of that name", "packs: [us-in-use, moon-law]\nratings: {gvwr: 10001 lb}\n", []string{"label", "us-in-use"}, nil, "", "moon-law", true},
		{"mistyped", "packs: [us-inuse]\nratings: {gvwr: 10001 lb}\n", []string{"label"}, []string{"us-in-use"}, "", "not at hand: did you mean us-in-use?", false},
		{"the same again", "packs: [label]\n", []string{"label"}, nil, "", "", false},
		{"of the shop", "packs: [" + named + "]\n", []string{"label", named}, nil, "", "", false},
	} {
		r, err := inspect.Assess(visittest.Read(t, wornSteer(x.more)), inspect.Setup{Program: label, Beside: []*rules.Program{yard}})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range x.ran {
			if !slices.Contains(r.Packs, p) {
				t.Errorf("%s: %s is not among %v", x.name, p, r.Packs)
			}
		}
		for _, p := range x.out {
			if slices.Contains(r.Packs, p) {
				t.Errorf("%s: %s is among %v", x.name, p, r.Packs)
			}
		}
		all := strings.Join(r.Cautions, "\n")
		if !strings.Contains(all, x.caution) || x.caution == "" && (strings.Contains(all, left) || strings.Contains(all, unsure)) {
			t.Errorf("%s: %s", x.name, all)
		}
		if x.need != "" && !slices.ContainsFunc(r.Unjudged, func(n report.NotJudged) bool { return n.Where == "coach" && strings.Contains(n.Need, x.need) }) {
			t.Errorf("%s: nothing asks for %s: %+v", x.name, x.need, r.Unjudged)
		}
		if worn := slices.ContainsFunc(r.Todo, func(i report.Item) bool { return slices.Contains(i.Rules, "us-in-use/tread-steer") }); worn != x.worn {
			t.Errorf("%s: worn %v", x.name, worn)
		}
	}
}

// TestTwinPacks: of two packs for one law, by weight, exactly one is for each coach
// whose rating was read, at the bound of the classes and to either side of it; where
// it was not, both are.
func TestTwinPacks(t *testing.T) {
	for _, x := range []struct{ light, heavy, last, first string }{
		{"us-in-use-light", "us-in-use", "10000 lb", "10000.01 lb"},
		{"at-kdv-light", "at-kdv", "3500 kg", "3500.001 kg"},
		{"qc-wheels-light", "qc-wheels", "4499.999 kg", "4500 kg"},
	} {
		for _, c := range []struct {
			gvwr         string
			light, heavy bool
		}{{x.last, true, false}, {x.first, false, true}, {"", true, true}} {
			text := "packs: [" + x.light + ", " + x.heavy + "]\n"
			if c.gvwr != "" {
				text += "ratings: {gvwr: " + c.gvwr + "}\n"
			}
			r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, note: a}]\n"+text), inspect.Setup{})
			if err != nil {
				t.Fatal(err)
			}
			if light, heavy := slices.Contains(r.Packs, x.light), slices.Contains(r.Packs, x.heavy); light != c.light || heavy != c.heavy {
				t.Errorf("%s of %q: in force %t, %s: %t", x.light, c.gvwr, light, x.heavy, heavy)
			}
		}
	}
}

// TestPacksOfAnotherVocabulary: a shipped pack stands beside a program that knows
// more measures; packs for a vocabulary with nothing in common are said, and that is
// no error.
func TestPacksOfAnotherVocabulary(t *testing.T) {
	v, err := inspect.Vocabulary().Extend(rules.Definition{Subjects: []rules.Subject{{Name: "tire", Measures: []rules.Measure{{Name: "mood", Doc: "how it feels", Flag: true}}}}})
	if err != nil {
		t.Fatal(err)
	}
	loaded, err := rules.Load(packs.FS(), "label")
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(v, loaded...)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(visittest.Read(t, wornSteer("packs: [us-in-use]\nratings: {gvwr: 10001 lb}\n")), inspect.Setup{Program: program})
	if _, worn := has(r, "steer-left", "tread-steer"); err != nil || !worn {
		t.Errorf("%v: %+v", err, r.Todo)
	}
	other, err := rules.NewVocabulary(inspect.Vocabulary().Definition())
	if err != nil {
		t.Fatal(err)
	}
	foreign, err := rules.Compile(other, loaded...)
	if err != nil {
		t.Fatal(err)
	}
	r, err = inspect.Assess(visittest.Read(t, wornSteer("packs: [label]\n")), inspect.Setup{Program: visittest.Compile(t, "  yard-tread: {title: t, subject: tire, measure: tread, at_least: 1 in, action: plan, advice: A, source: {grade: computed}}\n"), Beside: []*rules.Program{foreign}})
	if err != nil || !unjudged(r, "coach", "pack label, which the visit asks for and which speaks of other measures") {
		t.Errorf("%v: %+v", err, r.Unjudged)
	}
}

// TestFittings holds the measures of stamps, stems, labels and hitches to what a
// visit says of them, at the value and just past it.
func TestFittings(t *testing.T) {
	steer := func(left, right string) string {
		return one("steer-left", left+"}, {at: steer-right, "+right)
	}
	drive := func(inner, outer string) string {
		return "visit: 1\ndate: 2026-10-03\naxles: [{id: drive, fitment: dual}]\ntires: [{at: drive-left-outer}, {at: drive-left-inner, " + inner +
			"}, {at: drive-right-inner}, {at: drive-right-outer, " + outer + "}]\nratings: {gvwr: 10001 lb}\n"
	}
	nuts := func(torque string) string {
		return strings.Replace(one("steer-left", "note: a"), "id: steer,", "id: steer, "+torque+",", 1)
	}
	beside := []string{"towing", "us-in-use", "de-stvzo", "nz-virm-heavy"}
	for _, x := range []besideCase{
		{"no rating read", one("steer-left", "tread: 3/32 in"), "steer-left", "coach-care/tread-steer"},
		{"of a heavy coach", one("steer-left", "tread: 3/32 in") + "ratings: {gvwr: 10001 lb}\n", "steer-left", "coach-care/tread-steer"},
		{"of a light coach", one("steer-left", "tread: 3/32 in") + "ratings: {gvwr: 10000 lb}\n", "steer-left", "-tread-steer"},
		{"worn on a light coach", one("steer-left", "tread: 3/64 in") + "ratings: {gvwr: 10000 lb}\n", "steer-left", "coach-care/tread-steer-light"},
		{"as fast as its symbol", one("steer-left", "service: 143/141L") + "fastest: 75 mph\n", "steer-left", "coach-care/faster-than-rated"},
		{"slower", one("steer-left", "service: 143/141L") + "fastest: 74 mph\n", "steer-left", "-faster-than-rated"},
		{"marked", one("steer-left", "service: 143/141L, seen: speed restricted") + "fastest: 56 mph\n", "steer-left", "coach-care/faster-than-rated"},
		{"marked, without a symbol", one("steer-left", "seen: speed restricted") + "fastest: 55 mph\n", "steer-left", "-faster-than-rated"},
		{"sensor 5 psi under the gauge", one("steer-left", "found: 100 psi, sensor_reading: 95 psi"), "steer-left", "-sensor-off"},
		{"sensor 6 psi under the gauge", one("steer-left", "found: 100 psi, sensor_reading: 94 psi"), "steer-left", "coach-care/sensor-off"},
		{"sensor over the gauge", one("steer-left", "found: 100 psi, sensor_reading: 106 psi"), "steer-left", "coach-care/sensor-off"},
		{"nuts due at this distance", one("steer-left", "note: a") + "odometer: 41250 mi\ntorque_due: 41250 mi\n", "coach", "coach-care/torque-overdue"},
		{"nuts due later", one("steer-left", "note: a") + "odometer: 41250 mi\ntorque_due: 41251 mi\n", "coach", "-torque-overdue"},
		{"nuts due, and checked the same day", one("steer-left", "torque_checked: 2026-10-03") + "odometer: 41250 mi\ntorque_due: 41250 mi\n", "coach", "-torque-overdue"},
		{"gauge checked over a year ago", one("steer-left", "note: a") + "gauge_checked: 2025-10-02\n", "coach", "coach-care/gauge-age"},
		{"gauge checked a year ago", one("steer-left", "note: a") + "gauge_checked: 2025-10-03\n", "coach", "-gauge-age"},
		{"wheel put on", one("steer-left", "wheel_on: 2026-09-30"), "steer-left", "coach-care/torque-due"},
		{"and checked the same day", one("steer-left", "wheel_on: 2026-09-30, torque_checked: 2026-09-30"), "steer-left", "coach-care/torque-due"},
		{"wheel put on today", one("steer-left", "wheel_on: 2026-10-03"), "steer-left", "coach-care/torque-ahead"},
		{"and nothing is due", one("steer-left", "wheel_on: 2026-10-03, torque_checked: 2026-10-03"), "steer-left", "-torque-due"},
		{"wheel put on, and not driven that far", one("steer-left", "wheel_on: 2026-09-30") + "odometer: 41250 mi\ntorque_due: 41251 mi\n", "steer-left", "coach-care/torque-ahead"},
		{"and driven that far", one("steer-left", "wheel_on: 2026-09-30") + "odometer: 41250 mi\ntorque_due: 41250 mi\n", "steer-left", "coach-care/torque-due"},
		{"and not due before that", one("steer-left", "wheel_on: 2026-09-30") + "odometer: 41250 mi\ntorque_due: 41251 mi\n", "steer-left", "-torque-due"},
		{"and checked before that", one("steer-left", "wheel_on: 2026-09-30, torque_checked: 2026-10-01") + "odometer: 41250 mi\ntorque_due: 41251 mi\n", "steer-left", "-torque-ahead"},
		{"left without air", one("steer-left", "left: 0 psi"), "steer-left", "coach-care/left-empty"},
		{"left with some", one("steer-left", "left: 1 psi"), "steer-left", "-left-empty"},
		{"and checked later", one("steer-left", "wheel_on: 2026-09-30, torque_checked: 2026-10-01"), "steer-left", "-torque-due"},
		{"sizes as the placard", steer("size: 275/80R22.5", "size: 275/80R22.5"), "steer", "-size-by-placard"},
		{"one of another size", strings.Replace(steer("size: 275/80R22.5", "size: 255/80R22.5"), "id: steer,", "id: steer, placard_size: 275/80R22.5,", 1), "steer", "label/size-by-placard"},
		{"weaker than the placard", strings.Replace(steer("load_range: G", "load_range: F"), "id: steer,", "id: steer, placard_load_range: G,", 1), "steer", "label/weaker-than-placard"},
		{"one of the two, the other not read", strings.Replace(steer("load_range: F", "note: a"), "id: steer,", "id: steer, placard_load_range: G,", 1), "steer", "label/weaker-than-placard"},
		{"stronger than the placard", strings.Replace(steer("load_range: H", "load_range: H"), "id: steer,", "id: steer, placard_load_range: G,", 1), "steer", "label/stronger-than-placard"},
		{"as strong as the placard", strings.Replace(steer("load_range: G", "load_range: H"), "id: steer,", "id: steer, placard_load_range: G,", 1), "steer", "-than-placard"},
		{"bias-belted beside bias", steer("construction: bias", "construction: bias-belted") + "ratings: {gvwr: 10001 lb}\n", "steer", "us-in-use/one-construction"},
		{"nuts given less than they want", nuts("torque_asked: 475 ft-lb, torque_applied: 474 ft-lb"), "steer", "coach-care/torque-short"},
		{"nuts given what they want", nuts("torque_asked: 475 ft-lb, torque_applied: 475 ft-lb"), "steer", "-torque-short"},
		{"nuts given far more than they want", nuts("torque_asked: 475 ft-lb, torque_applied: 533 ft-lb"), "steer", "coach-care/torque-over"},
		{"nuts given what the upper end of a range may be", nuts("torque_asked: 475 ft-lb, torque_applied: 532 ft-lb"), "steer", "-torque-over"},
		{"nuts that nobody touched", nuts("torque_asked: 475 ft-lb"), "steer", "-torque-short"},
		{"two treads", steer("tread_type: winter", "tread_type: rib"), "steer", "coach-care/two-tread-types"},
		{"two constructions, the first tire's not read", drive("construction: radial", "construction: bias"), "drive", "us-in-use/one-construction"},
		{"two treads, the first tire's not read", drive("tread_type: rib", "tread_type: winter"), "drive", "coach-care/two-tread-types"},
		{"one tread, the first tire's not read", drive("tread_type: rib", "tread_type: rib"), "drive", "-two-tread-types"},
		{"load indices and plies apart", steer("service: 143/141L, load_range: G", "service: 136/133L, load_range: E") + "ratings: {gvwr: 3501 kg}\n", "steer", "nz-virm-heavy/unlike-load-indices"},
		{"load indices apart", steer("service: 143/141L, load_range: G", "service: 136/133L, load_range: F") + "ratings: {gvwr: 3501 kg}\n", "steer", "-unlike-load-indices"},
		{"load indices six apart", steer("service: 143/141L, load_range: G", "service: 137/134L, load_range: E") + "ratings: {gvwr: 3501 kg}\n", "steer", "-unlike-load-indices"},
	} {
		besideFinds(t, x, beside)
	}
}

// A besideCase is a visit and which rule finds something where; of a rule behind a
// hyphen, none does.
type besideCase struct{ name, text, where, rule string }

func besideFinds(t *testing.T, x besideCase, packs []string) {
	t.Helper()
	visit := visittest.Read(t, x.text)
	visit.Packs = packs
	r := visittest.Assess(t, visit)
	var found []string
	for _, it := range r.Todo {
		if it.Where == x.where {
			found = append(found, it.Rules...)
		}
	}
	without, not := strings.CutPrefix(x.rule, "-")
	if has := slices.ContainsFunc(found, func(r string) bool { return r == x.rule || not && strings.Contains(r, without) }); has == not {
		t.Errorf("%s: want %s, found %v; not judged %+v", x.name, x.rule, found, r.Unjudged)
	}
}

// TestClausesOfVisits: what single clauses ask for is found in a visit as it is
// written down, each side of the clause's limit.
func TestClausesOfVisits(t *testing.T) {
	const gauge = "gauge_tolerance: 5 kPa\n"
	for _, x := range []besideCase{
		{"regrooved in front, its stamp not read", one("steer-left", "regrooved: yes"), "steer-left", "us-commercial/regrooved-on-steer"},
		{"regrooved in front, made for 4,920 lb", one("steer-left", "regrooved: yes, class: truck, single: 4920 lb at 110 psi"), "steer-left", "us-commercial/regrooved-from-4920-lb"},
		{"regrooved in front, made for less", one("steer-left", "regrooved: yes, class: truck, single: 4919 lb at 110 psi"), "steer-left", "-regrooved-from-4920-lb"},
		{"at half of its stamp", one("steer-left", "class: truck, single: 2000 kg at 760 kPa, found: 380 kPa"), "steer-left", "qc-wheels/half-of-the-stamp"},
		{"above half of its stamp", one("steer-left", "class: truck, single: 2000 kg at 760 kPa, found: 390 kPa") + gauge, "steer-left", "-half-of-the-stamp"},
		{"half of its stamp, and set since", one("steer-left", "class: truck, single: 2000 kg at 760 kPa, found: 380 kPa, left: 700 kPa") + gauge, "steer-left", "-half-of-the-stamp"},
		{"left at half of its stamp", one("steer-left", "class: truck, single: 2000 kg at 760 kPa, found: 300 kPa, left: 380 kPa") + gauge, "steer-left", "qc-wheels/left-at-half-of-the-stamp"},
		{"a nail in a tire alone", one("steer-left", "seen: nail or object"), "steer-left", "qc-wheels/nail-or-object-alone"},
		{"a nail in one of duals", one("drive-left-outer", "seen: nail or object"), "drive-left-outer", "-nail-or-object-alone"},
		{"not enough tread for winter", one("steer-left", "construction: radial, tread: 4.9 mm"), "steer-left", "at-kdv/winter-tread-radial"},
		{"enough tread for winter", one("steer-left", "construction: radial, tread: 5 mm"), "steer-left", "-winter-tread"},
	} {
		besideFinds(t, x, []string{"us-commercial", "qc-wheels", "at-kdv"})
	}
}

// TestTowing holds what is towed to the ratings of what it hangs on: a trailer
// that was weighed hitched weighs what its axles carry and what rests on the
// hitch; where nobody weighed that, at least the former.
func TestTowing(t *testing.T) {
	visit := func(tows, load, more string) string {
		return "visit: 1\ndate: 2026-10-03\ntows: " + tows + "\npacks: [towing, de-stvzo]\naxles:\n  - {id: steer, fitment: single, gawr: 12000 lb}\n  - {id: drive, fitment: dual, gawr: 20000 lb}\n" +
			"  - {id: cart, fitment: single, towed: yes}\nweighing:\n  hitched: yes\n  as_driven: yes\n  readings: [{load: " + load + ", on: cart}]\n" + more
	}
	for _, x := range []struct {
		name, tows, load, more string
		rule                   string
	}{
		// A load is read to 20 lb more or less.
		{"car at the tow bar's rating", "car", "4980 lb", "towing: {tow_bar: 5000 lb}\n", "-towing/tow-bar"},
		{"car above it", "car", "4981 lb", "towing: {tow_bar: 5000 lb}\n", "towing/tow-bar"},
		{"a trailer has none", "trailer", "5021 lb", "towing: {tow_bar: 5000 lb}\n", "-towing/tow-bar"},
		{"axles and tongue above the hitch's rating", "trailer", "4600 lb", "towing: {hitch: 5000 lb, tongue: 381 lb}\n", "towing/hitch"},
		{"axles and tongue at it", "trailer", "4600 lb", "towing: {hitch: 5000 lb, tongue: 380 lb}\n", "-towing/hitch"},
		{"axles alone above it", "trailer", "5021 lb", "towing: {hitch: 5000 lb}\n", "towing/hitch"},
		{"axles alone below it", "trailer", "4600 lb", "towing: {hitch: 5000 lb}\n", "?towing/hitch"},
		{"ball", "trailer", "5021 lb", "towing: {ball_mount: 5000 lb}\n", "towing/ball-mount"},
		{"coupler", "trailer", "5021 lb", "towing: {coupler: 5000 lb}\n", "towing/coupler"},
		{"its own label", "trailer", "5021 lb", "towing: {gvwr: 5000 lb}\n", "towing/towed-gvwr"},
		{"tongue at the hitch's rating", "trailer", "4600 lb", "towing: {hitch_tongue: 500 lb, tongue: 500 lb}\n", "-towing/tongue-rating"},
		{"tongue above it", "trailer", "4600 lb", "towing: {hitch_tongue: 500 lb, tongue: 501 lb}\n", "towing/tongue-rating"},
		{"light tongue", "trailer", "4500 lb", "towing: {tongue: 497 lb}\n", "towing/tongue-light"},
		{"a tenth on the tongue", "trailer", "4480 lb", "towing: {tongue: 500 lb}\n", "-towing/tongue-light"},
		{"heavy tongue", "trailer", "4250 lb", "towing: {tongue: 754 lb}\n", "towing/tongue-heavy"},
		{"a fifth wheel's pin", "fifth wheel", "4225 lb", "towing: {tongue: 751 lb}\n", "-towing/pin-light"},
		{"a fifth wheel's light pin", "fifth wheel", "4271 lb", "towing: {tongue: 746 lb}\n", "towing/pin-light"},
		{"Germany: 25 kg are enough", "trailer", "1475 kg", "towing: {tongue: 25 kg, gvwr: 3500 kg}\n", "-de-stvzo/tongue-least"},
		{"Germany: 24 kg are not", "trailer", "1476 kg", "towing: {tongue: 24 kg, gvwr: 3500 kg}\n", "de-stvzo/tongue-least"},
	} {
		r := visittest.Assess(t, visittest.Read(t, visit(x.tows, x.load, x.more)))
		mark, rule := x.rule[0], strings.TrimLeft(x.rule, "-?")
		at := slices.IndexFunc(r.Todo, func(i report.Item) bool { return slices.Contains(i.Rules, rule) })
		found := at >= 0
		asked := slices.ContainsFunc(r.Unjudged, func(n report.NotJudged) bool { return slices.Contains(n.Rules, rule) })
		if found != (mark != '-' && mark != '?') || asked != (mark == '?') {
			t.Errorf("%s: %s asked %v, found %+v", x.name, rule, asked, r.Todo[max(0, at):][:1])
		}
	}
}

// TestLabelsTogether holds ratings to each other.
func TestLabelsTogether(t *testing.T) {
	for _, x := range []struct{ name, text, where, rule string }{
		{"ratings of the axles", bare("ratings: {gvwr: 15000 lb}\n", "tires: [{at: steer-left, note: a}]\n"), "coach", "-label/gawr-sum"},
		{"and a pound less", bare("ratings: {gvwr: 15001 lb}\n", "tires: [{at: steer-left, note: a}]\n"), "coach", "label/gawr-sum"},
		{"wheels", one("steer-left", "wheel: 2500 lb at 100 psi}, {at: steer-right, wheel: 2500 lb at 100 psi"), "steer", "-label/axle-wheels"},
		{"and a pound less", one("steer-left", "wheel: 2500 lb at 100 psi}, {at: steer-right, wheel: 2499 lb at 100 psi"), "steer", "label/axle-wheels"},
		{"bias before radial", one("steer-left", "construction: bias}, {at: drive-left-outer, construction: radial") + "packs: [de-stvzo]\nratings: {gvwr: 3500 kg}\n", "coach", "de-stvzo/one-construction-all-around"},
		{"not of a heavy one", one("steer-left", "construction: bias}, {at: drive-left-outer, construction: radial") + "packs: [de-stvzo]\nratings: {gvwr: 3501 kg}\n", "coach", "-de-stvzo/one-construction-all-around"},
	} {
		r := visittest.Assess(t, visittest.Read(t, x.text))
		rule, not := strings.CutPrefix(x.rule, "-")
		if found := slices.ContainsFunc(r.Todo, func(i report.Item) bool { return i.Where == x.where && slices.Contains(i.Rules, rule) }); found == not {
			t.Errorf("%s: %s found %v: %+v", x.name, rule, found, r.Todo)
		}
	}
}

// TestWhomAPackIsFor: a pack says whose coach it was written for; a coach that is
// another, or of which nobody said, is judged by it all the same, and that is said.
func TestWhomAPackIsFor(t *testing.T) {
	const other, unsaid = "its rules were used all the same", "Nobody wrote down whether this coach is one for"
	for _, x := range []struct {
		keys string
		pack string
		want string // "" where nothing is to be said
	}{
		{"country: US", "us-in-use", ""},
		{"country: us", "us-in-use", ""},
		{"country: US-MD", "us-in-use", ""},
		{"country: AT", "us-in-use", other},
		{"", "us-in-use", unsaid},
		{"country: Austria", "us-in-use", unsaid},
		{"country: CA-QC", "qc-wheels", ""},
		{"country: CA", "qc-wheels", unsaid},
		{"country: CA-ON", "qc-wheels", other},
		{"country: US\nuse: commercial", "us-commercial", ""},
		{"country: US\nuse: private", "us-commercial", "in private use: " + other},
		{"country: US", "us-commercial", unsaid},
		{"country: AT", "us-commercial", "registered in AT: " + other},
		{"use: private", "us-commercial", "in private use: " + other},
		{"", "coach-care", ""},
	} {
		r, err := inspect.Assess(visittest.Read(t, wornSteer(x.keys+"\npacks: ["+x.pack+"]\nratings: {gvwr: 20000 lb}\n")), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(r.Packs, x.pack) {
			t.Errorf("%q: %s was left out", x.keys, x.pack)
		}
		all := strings.Join(r.Cautions, "\n")
		if x.want != "" && !strings.Contains(all, x.want) || strings.Contains(all, other) != strings.HasSuffix(x.want, other) || strings.Contains(all, unsaid) != (x.want == unsaid) {
			t.Errorf("%q, %s: want %q in\n%s", x.keys, x.pack, x.want, all)
		}
	}
}

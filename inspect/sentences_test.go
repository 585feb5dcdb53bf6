package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/tabletest"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// TestEachSentence: what is law of judging, a sentence a row, where a broken one
// shows in no other test. The coach is invented; 80 % is of 29 CFR 1910.177(f)(2)(i),
// the rest common practice.
func TestEachSentence(t *testing.T) {
	t.Parallel()
	const (
		steer  = "axles: [{id: steer, fitment: single, gawr: 12000 lb, placard: 100 psi}]\n"
		tire   = "tires: [{at: steer-left, class: truck, single: 6000 lb at 110 psi, seen: nothing, "
		cold   = "cold: yes\n"
		gauge  = "gauge_tolerance: 1 psi\n"
		right  = "}, {at: steer-right, class: truck, single: 6000 lb at 110 psi, seen: nothing, "
		taken  = "weighing: {scale: platform, tolerance: 20 lb, as_driven: all, readings: [{load: 5200 lb, on: steer-left}, {load: 5200 lb, on: steer}]}\n"
		lately = "last_set_on: 2026-11-20\n"
		since  = "nothing_since_set: yes\ndriven_since: yes\n"
		parked = "nothing_since_set: yes\ndriven_since: no\nair_temperature: 60 F\n"
		later  = "next_day_air: 60 F\n"
		empty  = "Leaks: found low after it was parked"
	)
	placard := func(at string) string { return strings.Replace(steer, "100 psi", at, 1) }
	weighed := func(left, right string) string {
		return "weighing: {scale: pads, tolerance: 1 lb, as_driven: all, readings: [{load: " + left + " lb, on: steer-left}, {load: " + right + " lb, on: steer-right}]}\n"
	}
	for _, x := range []struct {
		name, head, axles, tire string
		low                     report.Low // of the first tire
		asks                    string     // of what was not judged, or to be done
		lacks                   string     // of what is to be done
	}{
		{"a gauge's tolerance counts up to 5 psi", cold + since + "gauge_tolerance: 8 psi\n", steer, "last_set: 100 psi, found: 86 psi", report.NotLow, "the gauge's tolerance", ""},
		{"and counts up to there", cold + since + "gauge_tolerance: 5 psi\n", steer, "last_set: 100 psi, found: 85 psi", report.Flat, "", ""},
		{"a gauge nobody knows is asked about within 5 psi", cold + since, steer, "last_set: 100 psi, found: 84 psi", report.LowAsked, "the gauge's tolerance", ""},
		{"beyond them it is not", cold + since, steer, "last_set: 100 psi, found: 86 psi", report.NotLow, "", ""},
		{"nor is what it says warm less asked about", since, steer, "hot: yes, last_set: 100 psi, found: 84 psi", report.LowAsked, "the gauge's tolerance", ""},
		{"warm and beyond them it clears nothing", since, steer, "hot: yes, last_set: 100 psi, found: 86 psi", report.LowUnknown, "its pressure once it is cold", ""},
		{"of two gauges both tolerances count", cold + gauge + since + "last_set_gauge_tolerance: 2 psi\n", steer, "last_set: 100 psi, found: 82 psi", report.Flat, "", ""},
		{"of one gauge only its own", cold + gauge + since, steer, "last_set: 100 psi, found: 82 psi", report.NotLow, "", ""},
		{"what nobody said of the past is asked", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi", report.NotLow, "nothing_since_set: yes", ""},
		{"of air that was added both readings' doubt counts", cold + "gauge_tolerance: 2 psi\ndriven_since: yes\n", steer, "last_set: 100 psi, found: 88 psi, air_added_by: 5 psi", report.Flat, "", ""},
		{"and no more than that", cold + "gauge_tolerance: 1 psi\ndriven_since: yes\n", steer, "last_set: 100 psi, found: 88 psi, air_added_by: 5 psi", report.NotLow, "", ""},
		{"without air what was added is less", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 88 psi, air_added_by: 10 psi", report.Flat, "", ""},
		{"topped up all around, more than 5 psi apart, is asked", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi, air_added: yes" + right + "last_set: 100 psi, found: 106 psi, air_added: yes", report.LowAsked, "Air was added to it alone", ""},
		{"and within them it is not", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi, air_added: yes" + right + "last_set: 100 psi, found: 105 psi, air_added: yes", report.LowUnknown, "Air was added all around", ""},
		{"nor where its mate across shows a sign", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi, air_added: yes" + strings.Replace(right, "seen: nothing", "seen: scuffed shoulder", 1) + "last_set: 100 psi, found: 100 psi, air_added: yes", report.LowAsked, "Air was added to it alone", ""},
		{"nor where the monitor spoke of that one", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi, air_added: yes" + right + "last_set: 100 psi, found: 100 psi, air_added: yes, low_alarm: yes", report.LowAsked, "Air was added to it alone", ""},
		{"24 psi are natural in a year, and nobody said when it was set", cold + gauge + since, placard("90 psi"), "last_set: 120 psi, found: 96 psi", report.NotLow, "", ""},
		{"in 30 days they are not", cold + gauge + since + "last_set_on: 2026-10-30\n", placard("90 psi"), "last_set: 120 psi, found: 96 psi", report.Leaking, "Leaks", ""},
		{"a coach that fell within 5 psi alike is asked about", cold + gauge + "nothing_since_set: yes\n", steer, "last_set: 110 psi, found: 86 psi" + right + "last_set: 110 psi, found: 91 psi", report.LowAsked, "All tires fell alike", ""},
		{"one that did not is not", cold + gauge + "nothing_since_set: yes\n", steer, "last_set: 110 psi, found: 86 psi" + right + "last_set: 110 psi, found: 92 psi", report.Flat, "", ""},
		{"a placard that was read says what is recommended, and 96 of 120 leaks", cold + gauge + since + lately, placard("90 psi"), "last_set: 120 psi, found: 96 psi", report.Leaking, "", ""},
		{"weighed light it may need more, and counts as flat", cold + gauge + since + lately + strings.Replace(weighed("4000", "4000"), "as_driven: all", "as_driven: no", 1), placard("90 psi"), "last_set: 120 psi, found: 96 psi", report.Flat, "", ""},
		{"weighed as driven, none of the laws asks for 90", cold + gauge + since + lately + weighed("4000", "4000"), placard("90 psi"), "last_set: 120 psi, found: 96 psi", report.Leaking, "", ""},
		{"without a placard the load decides, and asks nothing", cold + gauge + since + lately + weighed("4000", "4000"), placard("none"), "last_set: 120 psi, found: 96 psi", report.Leaking, "", ""},
		{"between two laws it is asked", cold + gauge + since + weighed("4200", "4200"), placard("none"), "last_set: 70 psi, found: 60 psi", report.LowAsked, "Far below what its load may need", ""},
		{"above both it is not", cold + gauge + since + weighed("4200", "4200"), placard("none"), "last_set: 75 psi, found: 70 psi", report.NotLow, "", ""},
		{"nobody knows what it was set to: 80 % of the placard is flat", cold + gauge + since, steer, "found: 80 psi" + right + "found: 100 psi", report.Flat, "", ""},
		{"above that it is asked what it was set to", cold + gauge + since, steer, "found: 82 psi" + right + "found: 100 psi", report.LowAsked, "", ""},
		{"a placard in the wrong unit sets nothing", cold + gauge + since, placard("758 psi"), "last_set: 100 psi, found: 100 psi", report.NotLow, "Read again: the placard's pressure", "The placard was not read"},
		{"and neither does a stamp", cold + gauge + since, placard("none"), "last_set: 100 psi, found: 100 psi, wheel: 6000 lb at 1100 psi", report.NotLow, "Read again: the pressure stamped with its load (wheel)", ""},
		{"nor a load that is stamped with a dot for thousands", cold + gauge + since + weighed("4000", "4000"), steer, "last_set: 100 psi, found: 100 psi, wheel: 5.000 lb at 110 psi", report.NotLow, "Read again: the load stamped on it (wheel)", "Wheel over its rating"},
		{"a leak leads its entry, before that it is below what is set", cold + gauge + "nothing_since_set: yes\ndriven_since: no\n", steer, "last_set: 110 psi, found: 50 psi", report.Leaking, "Leaks: found low after it was parked", ""},
		{"one that was empty makes no axle alike", cold + gauge + "driven_since: yes\n", steer, "found: 4 psi" + right + "found: 0 psi", report.Flat, "", ""},
		{"topped up all around says nothing where one is known to have been low", cold + gauge + "driven_since: yes\n", steer, "last_set: 100 psi, found: 100 psi, air_added: yes" + right + "last_set: 100 psi, found: 100 psi, lowest: 60 psi, air_added: yes", report.LowAsked, "Air was added to it alone", ""},
		{"a capacity is breached only beyond the gauge's tolerance", cold + gauge + since + weighed("5200", "5200"), steer, "last_set: 85 psi, found: 82 psi" + right + "last_set: 85 psi, found: 85 psi", report.LowAsked, "", "More load than the tire carries at the pressure as found"},
		{"and beyond it is", cold + gauge + since + weighed("5200", "5200"), steer, "last_set: 85 psi, found: 81 psi" + right + "last_set: 85 psi, found: 85 psi", report.LowAsked, "More load than the tire carries at the pressure as found", ""},
		{"half an axle against its weakest tire is too close, whichever that is", cold + gauge + since + "weighing: {scale: platform, tolerance: 20 lb, as_driven: all, readings: [{load: 10000 lb, on: steer}]}\n", steer,
			"last_set: 100 psi, found: 100 psi" + strings.Replace(right, "6000 lb", "4800 lb", 1) + "last_set: 100 psi, found: 100 psi", report.NotLow, "More load on the axle than its tires carry together at the pressure as found", ""},
		{"an end that carries nothing contradicts", cold + gauge + since + taken, steer, "last_set: 100 psi, found: 100 psi", report.NotLow, "An axle end that carries nothing", ""},
		{"a leak stays until it is read again after 24 hours", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi", report.Leaking, empty, ""},
		{"what is read then ends it", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 100 psi", report.NotLow, "", empty},
		{"less does not", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 99 psi", report.Leaking, empty, ""},
		{"nor does what nobody wrote that it was left at", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 70 psi, next_day: 100 psi", report.Leaking, empty, ""},
		{"nor a reading in air that nobody knows", cold + gauge + parked, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 100 psi", report.Leaking, empty, ""},
		{"nor in air that can hardly be", cold + gauge + parked + "next_day_air: -70 F\n", steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 80 psi", report.Leaking, "Read again: the air temperature of the next day", ""},
		{"nor of a tire that was left warm", gauge + parked + later, steer, "hot: yes, last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 100 psi", report.Leaking, empty, ""},
		{"in colder air 100 psi read 95.6", cold + gauge + parked + "next_day_air: 40 F\n", steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 96 psi", report.NotLow, "", empty},
		{"and no less", cold + gauge + parked + "next_day_air: 40 F\n", steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 95 psi", report.Leaking, empty, ""},
		{"in warmer air 104.4", cold + gauge + parked + "next_day_air: 80 F\n", steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 105 psi", report.NotLow, "", empty},
		{"what it was left at is then less", cold + gauge + parked + "next_day_air: 80 F\n", steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 104 psi", report.Leaking, empty, "Leaks: lost air in the 24 hours after it was set"},
		{"over 5 psi more was aired, or is another tire's", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 106 psi", report.Leaking, empty, ""},
		{"a tire the coach stood on is looked at all the same", cold + gauge + parked + later, steer, "last_set: 100 psi, found: 50 psi, left: 100 psi, next_day: 100 psi", report.Leaking, "Found at half of what it was set to", empty},
		{"a flat is one, whatever it holds", cold + gauge + since + "air_temperature: 60 F\n" + later, steer, "last_set: 100 psi, found: 70 psi, left: 100 psi, next_day: 100 psi", report.Flat, "", ""},
		{"a tire that fell in 24 hours leaks", cold + gauge + since + "air_temperature: 60 F\n" + later, steer, "last_set: 100 psi, found: 100 psi, left: 100 psi, next_day: 98 psi", report.Leaking, "Leaks: lost air in the 24 hours after it was set", ""},
		{"by 1 psi a gauge does not tell", cold + gauge + since + "air_temperature: 60 F\n" + later, steer, "last_set: 100 psi, found: 100 psi, left: 100 psi, next_day: 99 psi", report.NotLow, "", "Leaks: lost air in the 24 hours after it was set"},
		{"colder air excuses a fall", cold + gauge + since + "air_temperature: 60 F\nnext_day_air: 40 F\n", steer, "last_set: 100 psi, found: 100 psi, left: 100 psi, next_day: 95 psi", report.NotLow, "", "Leaks: lost air in the 24 hours after it was set"},
		{"but not one of which nobody knows the air", cold + gauge + since + later, steer, "last_set: 100 psi, found: 100 psi, left: 100 psi, next_day: 95 psi", report.Leaking, "Leaks: lost air in the 24 hours after it was set", ""},
		{"but not of a raised axle", cold + gauge + since + strings.Replace(taken, "scale:", "raised: [steer], scale:", 1), steer, "last_set: 100 psi, found: 100 psi", report.NotLow, "", "An axle end that carries nothing"},
	} {
		t.Run(x.name, func(t *testing.T) {
			r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\n"+x.head+x.axles+tire+x.tire+"}]\n"), inspect.Setup{})
			if err != nil {
				t.Fatal(err)
			}
			if got := r.Tires[0].Low; got != x.low {
				t.Errorf("%s, want %s: %+v", got, x.low, r.Todo)
			}
			says := func(texts ...string) bool {
				return slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, x.asks) })
			}
			asked := slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return says(g.Need) }) ||
				slices.ContainsFunc(r.Todo, func(it report.Item) bool { return says(it.What, it.Found, it.Advice) })
			for _, it := range r.Todo {
				if x.lacks != "" && it.What == x.lacks {
					t.Errorf("%+v", it)
				}
			}
			if !asked {
				t.Errorf("nothing asks %q: %+v; not judged: %+v", x.asks, r.Todo, r.Unjudged)
			}
		})
	}
}

// TestPacksThatJudgeNoLowTire: a rule that only asks for any air at all does not say
// that a tire did not run low.
func TestPacksThatJudgeNoLowTire(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"us-in-use", "us-in-use-light", "us-commercial", "qc-wheels", "qc-wheels-light", "uk-c-and-u", "nz-virm-heavy", "de-stvzo", "at-kdv", "label"} {
		program, err := inspect.CompilePacks(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single, placard: 110 psi}]\n"+
			"tires: [{at: steer-left, last_set: 110 psi, seen: nothing, found: 60 psi}]\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if l := r.Tires[0]; l.Low == report.NotLow || l.Air == report.AirFree {
			t.Errorf("%s: 60 of 110 psi: %s, air %s", name, l.Low, l.Air)
		}
	}
}

// TestForbiddenAirStaysForbidden: also by a rule that has trained people look first.
func TestForbiddenAirStaysForbidden(t *testing.T) {
	t.Parallel()
	for involves, want := range map[string]report.Air{"[no_air]": report.AirForbidden, "[look_first]": report.AirNotKnown, "[no_air, look_first]": report.AirForbidden, "[look_first, no_air]": report.AirForbidden} {
		program := visittest.Compile(t, "  bulge: {title: Bulge, subject: tire, measure: bulge, is: no, action: do_not_drive, involves: "+involves+", advice: None., source: {grade: common practice}}\n")
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single}]\n"+
			"tires: [{at: steer-left, last_set: 100 psi, seen: bulge, found: 100 psi}]\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Tires[0].Air; got != want {
			t.Errorf("%s: air %s, want %s", involves, got, want)
		}
	}
}

// TestCutIsLookedAtBeforeAir: also one that nobody measured: leaving its depth out frees
// no air that 2/32 in would not (common practice).
func TestCutIsLookedAtBeforeAir(t *testing.T) {
	t.Parallel()
	for seen, want := range map[string]report.Air{"cut": report.AirNotKnown, "cut, cut_at: crown, tread: 10/32 in": report.AirNotKnown, "cut, cut_depth: 2/32 in": report.AirNotKnown,
		"nothing": report.AirFree, "cut to the cord": report.AirForbidden} {
		r := visittest.Assess(t, visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\nnothing_since_set: yes\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single, placard: 100 psi}]\n"+
			"tires: [{at: steer-left, class: truck, single: 5000 lb at 110 psi, last_set: 100 psi, found: 100 psi, seen: "+seen+"}]\n"))
		if got := r.Tires[0].Air; got != want {
			t.Errorf("%q: air %s, want %s", seen, got, want)
		}
	}
}

// TestSpareOfAnAxleWithoutANumber: a spare that may go to an axle that its table does not
// fit is held to its own stamp, 110 psi, and not to the 80 psi of the other axle.
func TestSpareOfAnAxleWithoutANumber(t *testing.T) {
	t.Parallel()
	alone := tabletest.Load(t, "alone.yaml", tabletest.Spec{Name: "alone", Size: "AX240/75R20", Class: "truck", LoadRange: "G", PressureUnit: "psi", LoadUnit: "lb",
		Single: "tire", Rows: [][]string{{"80", "4000"}, {"110", "5000"}}}.YAML())
	tables, err := inflation.NewTables(alone)
	if err != nil {
		t.Fatal(err)
	}
	for fitment, low := range map[string]bool{"single": false, "dual": true} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single, placard: 80 psi}, {id: drive, fitment: "+fitment+", placard: 80 psi}]\n"+
			"every_tire: {size: AX240/75R20, class: truck, single: 5000 lb at 110 psi, dual: 4600 lb at 110 psi, seen: nothing}\ntires: [{at: spare, found: 76 psi}]\n"), inspect.Setup{Tables: tables})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return slices.Contains(it.Rules, "coach-care/spare-low") }); got != low {
			t.Errorf("%s: low %t, want %t: %+v", fitment, got, low, r.Settings)
		}
	}
}

// TestNobodyAirsWhatNobodyRead: also by a pack alone that asks nothing of a pressure
// that was not read.
func TestNobodyAirsWhatNobodyRead(t *testing.T) {
	t.Parallel()
	own, err := rules.ReadPack("house.yaml", []byte("format: 1\npack: house\ntitle: House\nrules:\n  low: {title: Low, subject: tire, measure: lowest, more_than: 80 % of last_set, not_recorded: does_not_apply, "+
		"action: do_not_drive, involves: [ran_low, no_air], advice: None., source: {grade: common practice}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(inspect.Vocabulary(), own)
	if err != nil {
		t.Fatal(err)
	}
	for found, want := range map[string]report.Air{"not read": report.AirNotKnown, "100 psi": report.AirFree} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single}]\n"+
			"tires: [{at: steer-left, last_set: 100 psi, seen: nothing, found: "+found+"}]\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Tires[0].Air; got != want {
			t.Errorf("found %s: air %s, want %s", found, got, want)
		}
	}
}

// TestCautionsStandWhereTheyBelong, and nowhere else.
func TestCautionsStandWhereTheyBelong(t *testing.T) {
	const gauge, age, burst = "gauge's tolerance was not written down", "Age alone never clears a tire", "can burst while it is aired"
	for _, x := range []struct {
		keys, tire string
		want       []string
	}{
		{"", "tread: 9/32 in", nil},
		{"", "found: 100 psi", []string{gauge}},
		{"gauge_tolerance: 1 psi\n", "found: 100 psi", nil},
		{"gauge_tolerance: 1 psi\n", "found: 100 psi, number: 2222", []string{age}},
		{"gauge_tolerance: 1 psi\n", "found: 0 psi", []string{burst}},
	} {
		v := visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n"+x.keys+"tires: [{at: steer-left, "+x.tire+"}]\n")
		all := strings.Join(visittest.Assess(t, v).Cautions, "\n")
		for _, caution := range []string{gauge, age, burst} {
			if got, want := strings.Contains(all, caution), slices.Contains(x.want, caution); got != want {
				t.Errorf("%s%s: %q said %t, want %t:\n%s", x.keys, x.tire, caution, got, want, all)
			}
		}
	}
}

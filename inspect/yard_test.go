package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// yard is an invented coach with a tag axle as written down in a yard.
const yard = `visit: 1
invented: yes
date: 2026-11-29
cold: yes
gauge_tolerance: 1 psi
nothing_since_set: yes
axles:
  - {id: steer, fitment: single, gawr: 17000 lb, placard: 120 psi}
  - {id: tag, fitment: single, gawr: 14000 lb, placard: 115 psi}
weighing:
  scale: pads
  tolerance: 20 lb
  as_driven: all
  readings: [{load: 7950 lb, on: steer-left}, {load: 7700 lb, on: steer-right}, {load: 5900 lb, on: tag-left}, {load: 6100 lb, on: tag-right}]
every_tire: {size: AX240/75R20, class: truck, single: 9090 lb at 130 psi, wheel: 9500 lb at 130 psi, seen: nothing, found: 113 psi}
`

// TestReadInTheYard: what one slip, or one word, comes to on the page (common
// practice).
func TestReadInTheYard(t *testing.T) {
	t.Parallel()
	said := func(from, to string) report.Report {
		if !strings.Contains(yard, from) {
			t.Fatalf("%q is not there", from)
		}
		text := strings.Replace(yard, from, to, 1)
		text = strings.Replace(text, ", found: 113 psi}", "}\ntires: [{at: steer-left, found: 120 psi}, {at: steer-right, found: 120 psi}, {at: tag-left, found: 114 psi}, {at: tag-right, found: 113 psi}]", 1)
		return visittest.Assess(t, visittest.Read(t, text))
	}
	item := func(r report.Report, what string) *report.Item {
		for i := range r.Todo {
			if strings.Contains(r.Todo[i].What, what) {
				return &r.Todo[i]
			}
		}
		return nil
	}
	cautions := func(r report.Report) string { return strings.Join(r.Cautions, "\n") }
	if got := cautions(said("as_driven: all", "as_driven: all")); strings.Contains(got, "as for the trip") {
		t.Errorf("all was aboard: %s", got)
	}
	for _, to := range []string{"as_driven: no", "as_driven: all, tanks_as_driven: no", "level: yes"} {
		if got := cautions(said("as_driven: all", strings.ReplaceAll(to, ", ", "\n  "))); !strings.Contains(got, "tanks were not filled as for the trip, or nobody") {
			t.Errorf("%s: %s", to, got)
		}
	}
	for _, x := range []struct {
		from, to, where string
	}{
		{"placard: 115 psi", "placard: 115 kPa", "tag"},
		{"lb at 130 psi, wheel", "lb at 130 kPa, wheel", "tag-left"},
		{"wheel: 9500 lb at 130 psi", "wheel: 9500 lb at 130 kPa", "tag-left"},
	} {
		r := said(x.from, x.to)
		it := item(r, "Read again: the p")
		if it == nil || it.Action != report.BeforeTrip || r.Drive == report.NothingFound {
			t.Errorf("%s: nobody is asked: %+v", x.to, r.Todo)
		}
	}
	if it := item(said("placard: 115 psi", "sure: [placard], placard: 115 kPa"), "Read again"); it != nil {
		t.Errorf("read twice, and still: %s", it.What)
	}
	// No pressure carries the load: nothing is to be set.
	r := said("6100 lb", "6100 kg")
	it := item(r, "More load than the tire carries")
	if it == nil || !it.Stops || it.OnlyAir || it.Air || strings.Contains(it.Advice, "Set the pressure") || !strings.Contains(it.Advice, "Unload") {
		t.Errorf("%+v", it)
	}
	if it := item(r, "No pressure carries"); it == nil || it.Found != "" || it.Bound != "" {
		t.Errorf("a word that says what the title says: %+v", it)
	}
}

// TestOneReadingDecides: answers that rest on one line of the judge each.
func TestOneReadingDecides(t *testing.T) {
	t.Parallel()
	assess := func(axles, tires, more string, names ...string) report.Report {
		t.Helper()
		setup := inspect.Setup{}
		if len(names) > 0 {
			program, err := inspect.CompilePacks(packs.FS(), names...)
			if err != nil {
				t.Fatal(err)
			}
			setup.Program = program
		}
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ninvented: yes\ndate: 2026-11-29\ncold: yes\ngauge_tolerance: 1 psi\n"+more+"axles: ["+axles+"]\ntires: ["+tires+"]\n"), setup)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	const steer, drive = "{id: steer, fitment: single, gawr: 17000 lb, placard: 110 psi}", "{id: drive, fitment: dual, gawr: 24000 lb, placard: 105 psi}"
	air := func(r report.Report, at string) report.Air {
		for i := range r.Tires {
			if r.Tires[i].At == at {
				return r.Tires[i].Air
			}
		}
		t.Fatalf("no line of %s", at)
		return 0
	}
	has := func(r report.Report, where, rule string) bool {
		return slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Where == where && slices.Contains(it.Rules, "coach-care/"+rule) })
	}
	t.Run("who has not looked a tire over does not know its air", func(t *testing.T) {
		for seen, want := range map[string]report.Air{"": report.AirNotKnown, ", seen: nothing": report.AirFree} {
			if got := air(assess(steer, "{at: steer-left, found: 108 psi, last_set: 110 psi"+seen+"}", ""), "steer-left"); got != want {
				t.Errorf("%q: air %s, want %s", seen, got, want)
			}
		}
	})
	t.Run("topped up alike says nothing where nobody looked", func(t *testing.T) {
		for seen, want := range map[string]bool{"": true, ", seen: nothing": false} {
			one := "found: 110 psi, air_added: yes, last_set: 110 psi" + seen + "}"
			r := assess(steer, "{at: steer-left, "+one+", {at: steer-right, "+one, "")
			if got := has(r, "steer-left", "air-in-doubt"); got != want {
				t.Errorf("%q: in doubt %t, want %t", seen, got, want)
			}
		}
	})
	t.Run("load off stands before air", func(t *testing.T) {
		weighed := "weighing: {scale: pads, tolerance: 20 lb, as_driven: all, readings: [{load: 18000 lb, on: steer}]}\n"
		one := ", found: 90 psi, last_set: 92 psi, single: 9500 lb at 120 psi, class: truck, seen: nothing}"
		r := assess(steer, "{at: steer-left"+one+", {at: steer-right"+one, weighed, "coach-care", "label")
		if r.Drive != report.MustNotMove {
			t.Errorf("18,000 lb on a rating of 17,000: %s", r.Drive)
		}
	})
	t.Run("a parked tire was driven at no less than it has", func(t *testing.T) {
		r := assess(steer, "{at: steer-left, found: 0 psi, read_at: stem, last_set: 110 psi, driven_since: no, seen: nothing}", "", "qc-wheels")
		for _, it := range r.Todo {
			if it.Stops && it.Verdict == rules.Breached {
				t.Errorf("parked, and condemned: %+v", it)
			}
		}
	})
	t.Run("two sizes are two, whatever the third is", func(t *testing.T) {
		r := assess(drive, "{at: drive-left-outer, size: AX240/75R20}, {at: drive-left-inner, size: AX260/75R20}, {at: drive-right-inner}, {at: drive-right-outer}", "")
		if !has(r, "drive", "one-size-an-axle") {
			t.Errorf("%+v", r.Todo)
		}
	})
	t.Run("what cannot be is read again", func(t *testing.T) {
		r := assess(steer, "{at: steer-left, found: 151 psi}, {at: steer-right, found: 150 psi}", "")
		for at, want := range map[string]bool{"steer-left": true, "steer-right": false} {
			if got := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Where == at && it.What == "Read again: its pressure" }); got != want {
				t.Errorf("%s: asked %t, want %t", at, got, want)
			}
		}
	})
	t.Run("a value that can hardly be is asked for, at its limit", func(t *testing.T) {
		pads := func(left, right, more string) string {
			return "weighing: {scale: pads, as_driven: all, readings: [{load: " + left + ", on: steer-left}, {load: " + right + ", on: steer-right}]" + more + "}\n"
		}
		one := "{at: steer-left, single: 5000 lb at 110 psi"
		for _, x := range []struct{ axle, tires, rest, ask, none string }{
			{"", one + "}", "air_temperature: -61 F\n", "the air temperature", "air_temperature: -60 F\n"},
			{"", one + "}", "air_temperature: 131 F\n", "the air temperature", "air_temperature: 130 F\n"},
			{"", one + "}", "last_set_air: -61 F\n", "the air temperature when they were set", "last_set_air: -60 F\n"},
			{"", one + "}", "last_set_air: 131 F\n", "the air temperature when they were set", "last_set_air: 130 F\n"},
			{"", one + ", crack_depth: 1.01 in}", "", "how deep its cracks are", ""},
			{"", one + ", cut_depth: 1.01 in}", "", "how deep its cut is", ""},
			{"", one + ", injury_width: 1.01 in}", "", "how wide its hole is", ""},
			{"", "", pads("1090 lb", "1200 lb", ", tolerance: 1100 lb"), "its load, which is less than the scale may be off", pads("1100 lb", "1200 lb", ", tolerance: 1100 lb")},
			{", gawr: 4999 lb", one + "}", "", "the load on its sidewall, which is above its axle's GAWR", ""},
			{"", "", pads("4.380 lb", "4380 lb", ""), "the scale's reading of steer-left", pads("4380 lb", "4380 lb", "")},
			{", gawr: 4.380 lb", one + "}", "", "its GAWR", ""},
			{"", one + ", found: 138 psi}", "", "its pressure", ""}, // 1.25 times 110 psi is 137.5
			{"", one + ", hot: yes, found: 190.5 psi}", "", "its pressure", ""},
			{"", one + ", last_set: 29.5 psi}", "", "the pressure it was last set to", ""},
			{"", "{at: spare, last_set: 29.5 psi}", "", "the pressure it was last set to", ""},
			{"", "", pads("820.5 lb", "900 lb", ""), "the scale's reading of steer-left", pads("820 lb", "900 lb", "")},
		} {
			asked := func(axle, tires, rest string) bool {
				r := assess("{id: steer, fitment: single"+axle+"}", tires, rest)
				return slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.What == "Read again: "+x.ask })
			}
			none := strings.NewReplacer("1.01 in", "1 in", "138 psi", "137 psi", "190.5", "190", "29.5", "30").Replace(x.tires)
			if !asked(x.axle, x.tires, x.rest) || asked(strings.NewReplacer("4999", "5000", "4.380", "4380").Replace(x.axle), none, x.none) {
				t.Errorf("%s: %s %s %q", x.ask, x.axle, x.tires, x.rest)
			}
			key, sure := "}", ""
			switch {
			case strings.HasPrefix(x.rest, "air"):
				sure = "sure: [air_temperature]\n"
			case strings.HasPrefix(x.rest, "last_set_air"):
				sure = "sure: [last_set_air]\n"
			case strings.Contains(x.tires, "depth"), strings.Contains(x.tires, "width"):
				key = ", sure: [crack_depth, cut_depth, injury_width]}"
			case strings.Contains(x.axle, "4999"):
				key = ", sure: [single]}"
			case strings.Contains(x.tires, "found"):
				key = ", sure: [found]}"
			case strings.Contains(x.tires, "last_set"):
				key = ", sure: [last_set]}"
			default:
				continue
			}
			if tires := strings.Replace(x.tires, "}", key, 1); asked(x.axle, tires, x.rest+sure) {
				t.Errorf("%s: asked though it is sure", x.ask)
			}
		}
	})
	t.Run("more may be needed than is set until the placard is read", func(t *testing.T) {
		weighed := "weighing: {scale: pads, tolerance: 20 lb, as_driven: all, readings: [{load: 4300 lb, on: steer-left}, {load: 4300 lb, on: steer-right}]}\n"
		one := ", found: 90 psi, last_set: 90 psi, class: truck, single: 4940 lb at 110 psi, wheel: 5000 lb at 90 psi, seen: nothing}"
		r := assess("{id: steer, fitment: single, gawr: 9000 lb}", "{at: steer-left"+one+", {at: steer-right"+one, weighed)
		if set := r.Settings[0].Set.String(); set != "90 psi" || !has(r, "steer", "pressure-too-close") { // by no law does it surely carry 4,300 lb at 90 psi
			t.Errorf("set %s: %+v", set, r.Todo)
		}
	})
	t.Run("a spare of an axle that no pressure fits is kept at what that axle allows", func(t *testing.T) {
		weighed := "weighing: {scale: pads, tolerance: 20 lb, as_driven: all, readings: [{load: 5200 lb, on: steer-left}, {load: 5200 lb, on: steer-right}]}\n"
		of := ", size: XV250/72R21, class: truck, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi, seen: nothing}"
		r := assess("{id: steer, fitment: single, gawr: 12000 lb, placard: 100 psi}, {id: drive, fitment: single, placard: 70 psi, behind_steer: 228 in}",
			"{at: steer-left"+of+", {at: steer-right"+of+", {at: drive-left"+of+", {at: drive-right"+of+", {at: spare, found: 80 psi"+of, weighed)
		if r.Settings[0].Outcome != inflation.Short || !has(r, "spare", "spare-low") { // 80 of 110 psi
			t.Errorf("%s: %+v", r.Settings[0].Outcome, r.Todo)
		}
	})
	t.Run("a spare that is low, or was not read, is not called not low", func(t *testing.T) {
		for found, want := range map[string]report.Low{"": report.LowUnknown, ", found: 0 psi": report.LowAsked, ", found: 60 psi": report.LowAsked, ", found: 100 psi": report.NotLow} {
			r := assess("{id: steer, fitment: single, placard: 100 psi}", "{at: spare, seen: nothing"+found+"}", "")
			if got := r.Tire("spare").Low; got != want {
				t.Errorf("%q: %s, want %s", found, got, want)
			}
		}
	})
	t.Run("a pressure that can hardly be clears nothing", func(t *testing.T) {
		for found, want := range map[string]report.Low{"151 psi": report.LowUnknown, "150 psi": report.NotLow} {
			r := assess("{id: steer, fitment: single, placard: 100 psi}", "{at: steer-left, last_set: 100 psi, seen: nothing, found: "+found+"}", "")
			if got := r.Tires[0].Low; got != want {
				t.Errorf("%s: %s, want %s", found, got, want)
			}
		}
	})
	t.Run("an end that a plan lightens counts as weighed", func(t *testing.T) {
		r := assess("{id: steer, fitment: single, placard: 100 psi}, {id: drive, fitment: dual, placard: 100 psi, behind_steer: 228 in}",
			"{at: steer-left, class: truck, single: 7000 lb at 120 psi}, {at: steer-right, class: truck, single: 7000 lb at 120 psi}",
			"weighing: {scale: pads, tolerance: 40 lb, as_driven: all, readings: [{load: 6540 lb, on: steer-left}, {load: 5560 lb, on: steer-right}]}\n"+
				"trip: {track: 78 in, stations: [{name: bay, behind_steer: 90 in, offset: 30 in right}, {name: rear, behind_steer: 300 in}], changes: [{name: a, at: bay, add: 300 lb}, {name: b, at: rear, add: 500 lb}]}\n")
		if left := r.Settings[0].Left.Load; left.Load != 6540*weight.Pound || left.PlusMinus != 40*weight.Pound {
			t.Errorf("%v +/- %v, want 6,540 +/- 40 lb", left.Load, left.PlusMinus)
		}
	})
	t.Run("below a pressure that rests on an assumed share is asked", func(t *testing.T) {
		whole := "weighing: {scale: platform, tolerance: 20 lb, as_driven: all, readings: [{load: 9000 lb, on: steer}]}\n"
		for found, want := range map[string]string{"89 psi": "breached", "89.6 psi": "breached", "90 psi": "asked", "109 psi": "asked", "110 psi": "kept"} {
			one := ", class: truck, single: 5000 lb at 110 psi, wheel: 6000 lb at 120 psi, seen: nothing, found: " + found + "}"
			r := assess("{id: steer, fitment: single, placard: none}", "{at: steer-left"+one+", {at: steer-right"+one, whole)
			got := "kept"
			for _, it := range r.Todo {
				if it.Where == "steer-left" && slices.Contains(it.Rules, "coach-care/below-set-by-share") {
					if got = "breached"; it.Verdict == rules.NotRecorded {
						got = "asked"
					}
				}
			}
			if got != want {
				t.Errorf("set %v (need %v), found %s: %s, want %s", r.Settings[0].Set, r.Settings[0].Need, found, got, want)
			}
		}
	})
	t.Run("a lower pressure written down does not make a hot reading cold", func(t *testing.T) {
		for found, want := range map[string]report.Low{"hot: yes, found: 103 psi, lowest: 98 psi": report.LowUnknown, "hot: no, found: 103 psi, lowest: 98 psi": report.NotLow, "hot: yes, found: 103 psi, lowest: 70 psi": report.Flat} {
			r := assess("{id: steer, fitment: single, placard: 100 psi}", "{at: steer-left, last_set: 100 psi, seen: nothing, "+found+"}", "")
			if got := r.Tires[0].Low; got != want {
				t.Errorf("%s: %s, want %s", found, got, want)
			}
		}
	})
	t.Run("a flat that was aired up, found at nobody knows what", func(t *testing.T) {
		for found, want := range map[string]rules.Verdict{", found: 60 psi": rules.Breached, "": rules.NotRecorded} {
			r := assess("{id: steer, fitment: single, placard: 100 psi}", "{at: steer-left, seen: nothing, read_zero: yes, left: 80 psi"+found+"}", "")
			asked := slices.ContainsFunc(r.Unjudged, func(n report.NotJudged) bool { return slices.Contains(n.Rules, "coach-care/aired-up-flat") })
			if has(r, "steer-left", "aired-up-flat") != (want == rules.Breached) || asked != (want == rules.NotRecorded) {
				t.Errorf("%q: %+v", found, r.Unjudged)
			}
		}
	})
	t.Run("a cut deeper than the tread, wherever it is", func(t *testing.T) {
		for at, want := range map[string]report.Air{", cut_at: crown": report.AirForbidden, ", cut_at: sidewall": report.AirNotKnown, "": report.AirNotKnown} {
			r := assess(steer, "{at: steer-left, found: 110 psi, last_set: 110 psi, seen: nothing, tread: 2/32 in, cut_depth: 5/64 in"+at+"}", "")
			if got := air(r, "steer-left"); got != want || has(r, "steer-left", "cut-through-tread") != (at != ", cut_at: sidewall") {
				t.Errorf("%q: air %s, want %s: %+v", at, got, want, r.Todo)
			}
		}
	})
	t.Run("a spare is held to nothing less where one of its axles has no number", func(t *testing.T) {
		for placard, want := range map[string]report.Air{", placard: 95 psi": report.AirForbidden, ", placard: 90 psi": report.AirFree, "": report.AirNotKnown} {
			r := assess("{id: steer, fitment: single, placard: 40 psi}, {id: drive, fitment: dual"+placard+"}", "{at: spare, found: 76 psi, seen: nothing}", "")
			if got := air(r, "spare"); got != want {
				t.Errorf("%q: air %s, want %s", placard, got, want)
			}
		}
	})
}

package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// TestNeedsAreWords: what is missing is said in words of the shop, never by the name
// that a measure has in the rules.
func TestNeedsAreWords(t *testing.T) {
	t.Parallel()
	names := map[string]bool{}
	for _, s := range inspect.Vocabulary().Definition().Subjects {
		for _, m := range s.Measures {
			names[strings.ReplaceAll(m.Name, "_", " ")] = true
		}
	}
	said := 0
	for seed := range uint64(40) {
		c := visittest.NewCoach(7_000_000 + seed)
		visits := []step{{after: c.Write()}}
		visits = append(visits, steps(c)...)
		for i, v := range visits {
			if i%5 != 0 {
				continue
			}
			r, err := inspect.Assess(v.after, c.Setup())
			if err != nil {
				continue
			}
			for _, g := range r.Unjudged {
				if said++; names[g.Need] {
					t.Errorf("%s: %q is a measure's name; rules %v", g.Where, g.Need, g.Rules)
				}
			}
		}
	}
	if said < 1000 {
		t.Errorf("%d things were missing, too few to tell", said)
	}
}

// TestDoubtedPressureClearsNoLoad: a reading that can hardly be is at most what the tire
// has, and what it would carry at that is no load it carries.
func TestDoubtedPressureClearsNoLoad(t *testing.T) {
	t.Parallel()
	const weighed = "weighing: {scale: pads, level: yes, as_driven: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4000 lb, on: steer-right}]}\n"
	for found, want := range map[string]rules.Verdict{"100 psi": rules.Kept, "745 psi": rules.NotRecorded} {
		text := one("steer-left", "found: "+found+", size: XV250/72R21, load_range: G, class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi") + weighed
		_, setup := visittest.Demo(t)
		setup.EveryVerdict = true
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		got := rules.Verdict(0)
		for _, v := range r.Verdicts {
			if v.Where == "steer-left" && v.Rule == "coach-care/load-at-found-pressure" {
				got = v.Verdict
			}
		}
		if got != want {
			t.Errorf("found %s: %s, want %s", found, got, want)
		}
	}
}

// TestLoadsOfAWholeAxleAreNamed: an axle weighed whole is held to what all its tires and
// wheels carry, under that name and not that of the breach.
func TestLoadsOfAWholeAxleAreNamed(t *testing.T) {
	t.Parallel()
	text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single, gawr: 12000 lb}]\n" +
		"every_tire: {size: XV250/72R21, load_range: G, class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi}\n" +
		"tires: [{at: steer-left, found: 100 psi}, {at: steer-right, found: 100 psi}]\nweighing: {scale: platform, as_driven: yes, readings: [{load: 8000 lb, on: steer}]}\n"
	_, setup := visittest.Demo(t)
	line := func(text string) (names []string) {
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range r.Load("steer").Ratings {
			names = append(names, g.Name)
		}
		return names
	}
	want := []string{"GAWR", "all its tires, as rated", "all its tires, at the pressure as found", "all its wheels, as rated"}
	got := line(text)
	for _, name := range want {
		if !slices.Contains(got, name) {
			t.Errorf("%q, want %q among them", got, name)
		}
	}
	if got := line(strings.ReplaceAll(text, "found: 100 psi", "found: 100 psi, left: 105 psi")); !slices.Contains(got, "all its tires, at the pressure as left") {
		t.Errorf("%q", got)
	}
}

// TestAskedOfWhatWasWritten: of a tire that nobody wrote down all of its readings are
// asked, in one line, and a pair of which nobody wrote down a tire is of no make to tell.
func TestAskedOfWhatWasWritten(t *testing.T) {
	t.Parallel()
	const text = `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: drive, fitment: dual}]
tires:
  - {at: drive-left-outer, model: one, found: 95 psi}
  - {at: drive-left-inner, model: one, found: 95 psi}
`
	const makes = "the make and model of duals, and which are retreads, or how large each measures"
	asks := func(r report.Report, where string) (out []string) {
		for _, g := range r.Unjudged {
			if g.Where == where {
				out = append(out, g.Need)
			}
		}
		return out
	}
	r := visittest.Assess(t, visittest.Read(t, text))
	for _, at := range []string{"steer-left", "drive-right-outer", "drive-right-inner"} {
		for _, need := range asks(r, at) {
			if need != "all of its readings, as none was written down" && !strings.HasPrefix(need, "its load") {
				t.Errorf("%s: asks for %q", at, need)
			}
		}
	}
	if slices.Contains(asks(r, "coach"), makes) {
		t.Errorf("asks for %q of a pair that is not written down", makes)
	}
	for _, change := range [][2]string{{"outer, model: one", "outer"}, {"inner, model: one", "inner"}} {
		r := visittest.Assess(t, visittest.Read(t, strings.Replace(text, change[0], change[1], 1)))
		if !slices.Contains(asks(r, "coach"), makes) {
			t.Errorf("%q: does not ask for %q", change[1], makes)
		}
	}
}

// TestConstructionsOfTheCoach: bias and radial tires are surely not mixed only where every
// tire was read, and surely are where two unlike were.
func TestConstructionsOfTheCoach(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `  mixed:
    title: Bias and radial tires
    subject: coach
    measure: mixed_construction
    is: no
    action: before_trip
    advice: Fit tires of one construction.
    source: {grade: common practice}
`)
	tires := func(kinds ...string) string {
		text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}, {id: drive, fitment: single}, {id: cart, fitment: single, towed: yes}]\ntires:\n"
		for i, at := range []string{"steer-left", "steer-right", "drive-left", "drive-right", "cart-left"} {
			if kinds[i] != "" {
				text += "  - {at: " + at + ", construction: " + kinds[i] + "}\n"
			}
		}
		return text
	}
	for _, x := range []struct {
		kinds []string
		want  rules.Verdict
	}{
		{[]string{"radial", "radial", "radial", "radial", "bias"}, rules.Kept},
		{[]string{"bias", "bias", "bias", "bias-belted", ""}, rules.Kept},
		{[]string{"", "radial", "radial", "radial", "radial"}, rules.NotRecorded},
		{[]string{"radial", "radial", "radial", "", "radial"}, rules.NotRecorded},
		{[]string{"radial", "", "", "bias", "radial"}, rules.Breached},
		{[]string{"bias", "bias", "radial", "radial", ""}, rules.Breached},
	} {
		r, err := inspect.Assess(visittest.Read(t, tires(x.kinds...)), inspect.Setup{Program: program, EveryVerdict: true})
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(r.Verdicts, func(v report.VerdictLine) bool { return v.Where == "coach" })
		if i < 0 || r.Verdicts[i].Verdict != x.want {
			t.Errorf("%q: %+v, want %s", x.kinds, r.Verdicts, x.want)
		}
	}
}

// TestCountryInTwoLetters: what is no code of ISO 3166 says nothing of where a coach is
// registered.
func TestCountryInTwoLetters(t *testing.T) {
	t.Parallel()
	for country, asked := range map[string]bool{"": true, "U": true, "USA": true, "America": true, "US": false, "US-TX": false, "DE": false} {
		text := strings.Replace(one("steer-left", "found: 95 psi"), "visit: 1\n", "visit: 1\nuse: private\npacks: us-in-use-light\n", 1)
		if country != "" {
			text = strings.Replace(text, "visit: 1\n", "visit: 1\ncountry: "+country+"\n", 1)
		}
		r := visittest.Assess(t, visittest.Read(t, text))
		if got := slices.ContainsFunc(r.Cautions, func(c string) bool { return strings.Contains(c, "Write down country and use.") }); got != asked {
			t.Errorf("country %q: asked %t, want %t: %q", country, got, asked, r.Cautions)
		}
	}
}

// TestSureOfTheDivision: a scale's division that was read again is doubted no more.
func TestSureOfTheDivision(t *testing.T) {
	t.Parallel()
	base := strings.Replace(yard, ", found: 113 psi}", "}", 1)
	text := strings.Replace(base, "  scale: pads\n", "  scale: pads\n  division: 30 lb\n", 1)
	for text, want := range map[string]int{text: 1, strings.Replace(text, "visit: 1\n", "visit: 1\nsure: [division]\n", 1): 0} {
		n := 0
		for _, it := range visittest.Assess(t, visittest.Read(t, text)).Todo {
			if strings.Contains(it.What, "division") {
				n++
			}
		}
		if n != want {
			t.Errorf("asked about the division %d times, want %d, in\n%s", n, want, text)
		}
	}
}

// TestNothingKeptIsNothingLookedAt: where nothing was kept, as nothing was read, it is not
// said that nothing was found.
func TestNothingKeptIsNothingLookedAt(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `  worn: {title: Worn, subject: tire, measure: tread, at_least: 4/32 in, action: before_trip, advice: A, source: {grade: common practice}}
`)
	for tread, want := range map[string]report.Drive{"": report.BeforeTheTrip, ", tread: 9/32 in": report.NothingFound, ", tread: 3/32 in": report.BeforeTheTrip} {
		r, err := inspect.Assess(visittest.Read(t, one("steer-left", "note: looked at"+tread)), inspect.Setup{Program: program})
		if err != nil || r.Drive != want {
			t.Errorf("%q: %s, want %s: %v", tread, r.Drive, want, err)
		}
	}
}

// TestOneReadingAndATrip: also of a coach that was weighed once, as a whole, what still
// comes aboard counts.
func TestOneReadingAndATrip(t *testing.T) {
	t.Parallel()
	const text = `visit: 1
date: 2026-10-03
ratings: {gvwr: 20000 lb}
axles: [{id: steer, fitment: single, gawr: 9000 lb}, {id: drive, fitment: dual, gawr: 14000 lb, behind_steer: 200 in}]
weighing: {as_driven: yes, scale: platform, level: yes, readings: [{load: 19800 lb, on: coach}]}
trip:
  track: 80 in
  stations: [{name: front, behind_steer: 0 in}]
  changes: [{name: guests, at: front, add: 400 lb}]
`
	for text, over := range map[string]bool{text: true, strings.Replace(text, "400 lb", "100 lb", 1): false} {
		r := visittest.Assess(t, visittest.Read(t, text))
		if _, found := has(r, "coach", "gvwr"); found != over {
			t.Errorf("over its GVWR %t, want %t: %+v", found, over, r.Todo)
		}
	}
}

// TestNotAskedTwice: a coach that tows nothing has no hitch to look at, and what the list
// asks of a tire that may have run low is not asked again of what it was aired up by.
func TestNotAskedTwice(t *testing.T) {
	t.Parallel()
	const coach = "visit: 1\ndate: 2026-10-03\npacks: [towing]\nratings: {gcwr: 20000 lb}\naxles: [{id: steer, fitment: single}]\n"
	for tows, asked := range map[string]bool{"tows: nothing\n": false, "tows: car\n": true, "": true} {
		r := visittest.Assess(t, visittest.Read(t, coach+tows+"weighing: {scale: pads, as_driven: all, readings: [{load: 4000 lb, on: steer-left}, {load: 4000 lb, on: steer-right}]}\n"))
		if got := unjudged(r, "combination", "the weight of the towed unit: weigh it"); got != asked {
			t.Errorf("%q: what is towed is asked for: %t, want %t", tows, got, asked)
		}
	}
	r := visittest.Assess(t, visittest.Read(t, coach+"tows: nothing\ntires: [{at: steer-left, last_set: 100 psi, found: not read, left: 100 psi, low_alarm: yes}, {at: steer-right, found: 80 psi, left: 82 psi, low_alarm: yes}]\n"))
	for at, asked := range map[string]bool{"steer-left": true, "steer-right": false} {
		if got := unjudged(r, at, "its cold pressure, read at the stem"); got != asked || tireOf(t, r, at).Low != report.LowAsked {
			t.Errorf("%s: %s; its pressure is asked for: %t, want %t", at, tireOf(t, r, at).Low, got, asked)
		}
	}
}

package loading_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// TestFormatsAreOfVersionOne: a weighing and a plan say so, are read back, are refused as
// another version, and hold 2 MB (2,097,152 bytes) and no byte more.
func TestFormatsAreOfVersionOne(t *testing.T) {
	v := visittest.Read(t, coach(stations))
	w, err := loading.Weigh(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	p := plan(t, coach(stations))
	for key, c := range map[string]struct {
		doc  any
		read func(data []byte) (version int, err error)
	}{
		"weighing": {w, func(data []byte) (int, error) { r, err := loading.ReadWeighing("w.json", data); return r.Version, err }},
		"load":     {p, func(data []byte) (int, error) { r, err := loading.ReadPlan("p.json", data); return r.Version, err }},
	} {
		data, err := json.Marshal(c.doc)
		if err != nil {
			t.Fatal(err)
		}
		const first = `":1,`
		if !strings.HasPrefix(string(data), `{"`+key+first) {
			t.Errorf("a %s begins %.20s", key, data)
		}
		if version, err := c.read(data); err != nil || version != 1 {
			t.Errorf("%s: read back as version %d, %v", key, version, err)
		}
		if _, err := c.read([]byte(strings.Replace(string(data), first, `":2,`, 1))); err == nil || !strings.Contains(err.Error(), "version") {
			t.Errorf("%s of version 2: %v", key, err)
		}
		for size, fits := range map[int]bool{2097152: true, 2097153: false} {
			padded := append(slices.Clone(data), strings.Repeat(" ", size-len(data))...)
			if _, err := c.read(padded); (err == nil) != fits {
				t.Errorf("%s of %d bytes: %v", key, size, err)
			}
		}
	}
}

// TestVisitIsCheckedBeforeItsReadings: what is wrong with a visit is said also where
// nothing was weighed, and where there is no visit.
func TestVisitIsCheckedBeforeItsReadings(t *testing.T) {
	text, _, _ := strings.Cut(coach(""), "weighing:")
	twice := visittest.Read(t, text)
	twice.Axles = append(twice.Axles, twice.Axles[0])
	var problems *origin.Problems
	for name, run := range map[string]func(v *record.Visit) error{
		"weigh": func(v *record.Visit) error { _, err := loading.Weigh(v, inspect.Setup{}); return err },
		"plan":  func(v *record.Visit) error { _, err := loading.Plan(t.Context(), v, inspect.Setup{}); return err },
	} {
		if err := run(twice); !errors.As(err, &problems) || errors.Is(err, loading.ErrNotWeighed) {
			t.Errorf("%s, an axle twice and nothing weighed: %v", name, err)
		}
		if err := run(nil); !errors.Is(err, record.ErrNothing) {
			t.Errorf("%s, no visit: %v", name, err)
		}
		if err := run(visittest.Read(t, text+"trip: {stations: [{name: bay, behind_steer: 1 in}]}\n")); !errors.Is(err, loading.ErrNotWeighed) {
			t.Errorf("%s, nothing weighed: %v", name, err)
		}
	}
}

// TestMassesTooGreat: what is more than any mass is refused with the place in the trip
// that it comes from, and a context that is done stops a plan.
func TestMassesTooGreat(t *testing.T) {
	for trip, want := range map[string]string{
		"  changes: [{name: x, at: tail, fill: 2436557 gal, fluid: water}]\n":                                        "out of range",
		"  changes: [{name: x, at: tail, add: 9000000 kg}, {name: y, at: tail, add: 9000000 kg}]\n":                  "out of range",
		"  changes: [{name: x, at: tail, add: 9000000 kg, may_go_to: nose}, {name: y, at: tail, add: 9000000 kg}]\n": "out of range",
		"  changes: [{name: x, at: tail, add: 9000000 kg}, {name: y, at: nose, add: 9000000 kg}]\n":                  "out of range",
		"  changes: [{name: x, at: tail, add: 1 lb}]\n  items: [{name: z, mass: 1 lb, at: tail, may_go_to: nose}]\n": "",
	} {
		_, err := loading.Plan(t.Context(), visittest.Read(t, coach(stations+trip)), inspect.Setup{})
		var problems *origin.Problems
		if (err == nil) != (want == "") || err != nil && (!errors.As(err, &problems) || !errors.Is(err, origin.ErrRange) || !strings.HasPrefix(problems.All()[0].Path, "trip")) {
			t.Errorf("%s: %v, want %q", trip, err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := loading.Plan(ctx, visittest.Read(t, coach(stations)), inspect.Setup{}); err != context.Canceled { //nolint:errorlint // the context's own
		t.Errorf("a context that is done: %v", err)
	}
}

// TestWhatRulesWaitForIsSaidOnce: of one missing rating, with all rules that wait for it;
// a load that nobody weighed waits for no rule.
func TestWhatRulesWaitForIsSaidOnce(t *testing.T) {
	text := strings.Replace(strings.Replace(coach(stations), "ratings: {gvwr: 26000 lb, gcwr: 31000 lb}\n", "", 1), ", gawr: 9500 lb", "", 1)
	text = strings.Replace(text, "    - {load: 4000 lb, on: steer-left}\n    - {load: 4100 lb, on: steer-right}\n", "    - {load: 8100 lb, on: steer}\n", 1)
	stamps := []string{"label/tire-capacity", "label/wheel-capacity"}
	want := map[string]struct {
		need  string
		rules []string
	}{
		"steer": {"GAWR", []string{"coach-care/half-gawr", "label/gawr"}}, "coach": {"GVWR", []string{"label/gvwr"}},
		"steer-left": {"its load: weigh it", stamps}, "steer-right": {"its load: weigh it", stamps}, "left side": {"its load: weigh it", nil}, "right side": {"its load: weigh it", nil},
	}
	w, err := loading.Weigh(visittest.Read(t, text), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	p := plan(t, text)
	for _, name := range []string{"coach", "steer"} { // of which no rating is known
		for _, what := range []string{"GVWR", "GAWR"} {
			if m, x := weighLine(t, w, name).Margins, tripLine(t, p, name).Margins; verdict(m, what)+verdict(x, what) != 0 {
				t.Errorf("%s is held to %+v and %+v", name, m, x)
			}
		}
	}
	for name, gaps := range map[string][]report.NotJudged{"weighing": w.Unjudged, "plan": p.Unjudged} {
		seen := map[string]bool{}
		for _, g := range gaps {
			c, is := want[g.Where]
			if !is || seen[g.Where] || !slices.Equal(g.Rules, c.rules) || !strings.Contains(g.Need, c.need) {
				t.Errorf("%s: %+v, want %+v", name, g, c)
			}
			seen[g.Where] = true
		}
		if len(seen) != len(want) {
			t.Errorf("%s: %d things are missing, want %d: %+v", name, len(seen), len(want), gaps)
		}
	}
}

// TestPlanOfAShelf: 100 lb put on the tail, 290 in behind the steer axle and 30 in right of
// the centerline on a track of 80 in, with a wheelbase of 200 in: 145 lb on the drive axle
// and -45 lb on the steer axle, of each (40+30)/80 on the right end (computed by moments).
func TestPlanOfAShelf(t *testing.T) {
	p := plan(t, coach(stations+"  least_on_steer: 8045 lb\n  items: [{name: books, mass: 20 lb, at: belly, may_go_to: nose}]\n  changes: [{name: shelf, at: tail, add: 100 lb}, {name: stove, at: nose, take_off: 8 lb}, {name: cans, at: attic, add: 10 lb, may_go_to: nose}]\n"))
	if want := []loading.ChangeLine{{Name: "shelf", At: "tail", Mass: lb(100)}, {Name: "stove", At: "nose", Mass: lb(-8)}, {Name: "cans", At: "attic", Mass: lb(10)}}; !slices.Equal(p.Changes, want) {
		t.Errorf("changes %+v, want %+v", p.Changes, want)
	}
	for i, want := range []loading.StationLine{
		{Name: "nose", Behind: 20 * weight.Inch, Offset: record.Offset(-30 * weight.Inch), Most: record.Record(lb(300))}, {Name: "belly", Behind: 100 * weight.Inch, Most: record.Record(lb(500)), Held: lb(20)},
		{Name: "tail", Behind: 290 * weight.Inch, Offset: record.Offset(30 * weight.Inch), Held: lb(100)}, {Name: "attic", Behind: 250 * weight.Inch, Offset: record.Offset(-30 * weight.Inch), Most: record.Record(lb(200)), Held: lb(10)},
	} {
		got := p.Stations[i]
		got.Room, got.MovedRoom = want.Room, want.MovedRoom
		sameJSON(t, want, got)
	}
	shelf := plan(t, coach(stations+"  changes: [{name: shelf, at: tail, add: 100 lb}]\n"))
	for name, want := range map[string]string{"steer": "-45 lb", "drive": "145 lb", "coach": "100 lb", "steer-right": "-39.38 lb", "steer-left": "-5.63 lb", "drive-right": "126.88 lb", "drive-left": "18.13 lb", "right side": "87.5 lb", "combination": ""} {
		l := shelf.Load(name)
		if l == nil {
			if want != "" {
				t.Errorf("no line %s", name)
			}
			continue
		}
		if got := l.Expected.Load - l.Weighed.Load; want == "" || max(got-weight.MustParseMass(want), weight.MustParseMass(want)-got) > weight.Pound/100 {
			t.Errorf("%s changes by %s, want %s", name, got, want)
		}
	}
	for most, c := range map[string]struct{ over, clears bool }{"100 lb": {false, true}, "99 lb": {true, false}} {
		r := plan(t, coach(strings.Replace(stations, "offset: 30 in right", "offset: 30 in right, most: "+most, 1)+"  changes: [{name: shelf, at: tail, add: 100 lb}]\n"))
		if s := r.Stations[2]; s.Over != c.over || r.Clears != c.clears || s.Room.Mass != 0 && s.Room.Mass != 1 {
			t.Errorf("a tail that may hold %s: over %v, clears %v, room %+v", most, s.Over, r.Clears, s.Room)
		}
	}
	// The steer axle weighs 8,100 lb, less or more 20, and loses 45 lb of the shelf.
	for least, c := range map[string]struct {
		room weight.Mass
		kept bool
	}{"8035 lb": {0, true}, "8034 lb": {lb(1), true}, "8036 lb": {lb(-1), false}} {
		r := plan(t, coach(stations+"  least_on_steer: "+least+"\n  changes: [{name: shelf, at: tail, add: 100 lb}]\n"))
		if got := (loading.LeastLine{Least: weight.MustParseMass(least), Room: c.room, Kept: c.kept, MovedRoom: c.room, MovedKept: c.kept}); r.Least != got {
			t.Errorf("least %s: %+v, want %+v", least, r.Least, got)
		}
	}
}

// TestPlanThatLiftsAnEnd names each end that would weigh less than nothing, once.
func TestPlanThatLiftsAnEnd(t *testing.T) {
	for add, want := range map[string][]string{
		"9000 lb":  nil,
		"20000 lb": {"steer-left", "steer-right"}, // 4,000 lb less 4,500 of 20,000 x 90/200 each
		"18000 lb": {"steer-left"},                // 4,050 of each: the right one weighs 4,100
	} {
		r := plan(t, coach("trip:\n  stations: [{name: tail, behind_steer: 290 in}]\n  changes: [{name: stones, at: tail, add: "+add+"}]\n"))
		var got []string
		for _, it := range r.Problems {
			if it.What != "This plan would lift an axle end" || it.Action != report.BeforeTrip || it.Verdict != rules.Breached || !strings.HasPrefix(it.Found, it.Where+" at -") {
				t.Errorf("%s: %+v", add, it)
			}
			got = append(got, it.Where)
		}
		if !slices.Equal(got, want) || r.Clears {
			t.Errorf("%s: lifts %q, want %q; clears %v", add, got, want, r.Clears)
		}
	}
}

// TestCautionsStandOnce: those of the scale too, each once and none empty, and the one on
// who decides last.
func TestCautionsStandOnce(t *testing.T) {
	subtracted := strings.Replace(strings.Replace(coach(""), "  level: yes\n", "", 1), "    - {load: 4100 lb, on: steer-right}\n", "    - {load: 8100 lb, on: steer}\n", 1)
	w, err := loading.Weigh(visittest.Read(t, subtracted), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	level, err := loading.Weigh(visittest.Read(t, coach("")), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	trailer, err := loading.Plan(t.Context(), visittest.Read(t, apart), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	for name, list := range map[string][]string{"one side subtracted": w.Cautions, "level": level.Cautions, "a trailer weighed apart": trailer.Cautions} {
		for i, c := range list {
			if c == "" || slices.Contains(list[:i], c) {
				t.Errorf("%s: %q stands there again: %q", name, c, list)
			}
		}
		if last := list[len(list)-1]; !strings.Contains(last, "Local codes and trained, licensed people decide.") {
			t.Errorf("%s: the last is %q", name, last)
		}
	}
	said := func(list []string, words string) bool {
		return slices.ContainsFunc(list, func(c string) bool { return strings.Contains(c, words) })
	}
	if !said(w.Cautions, "not known to be level") || said(level.Cautions, "not known to be level") {
		t.Errorf("a slope that may have moved load: %q, level %q", w.Cautions, level.Cautions)
	}
	for _, words := range []string{"counts that station alone: loading at one takes from the others", "Pressures are set for the heaviest state that will be driven"} {
		if !said(trailer.Cautions, words) || said(level.Cautions, words) {
			t.Errorf("a plan says %q, and a weighing does not: %q", words, trailer.Cautions)
		}
	}
	if !said(trailer.Cautions, "rests on its tongue is not judged") || len(trailer.Cautions) < 4 {
		t.Errorf("a trailer: %q", trailer.Cautions)
	}
}

// TestLessThanALimit: a rule on less than a load lets the step below it rest there, 0.01 lb
// or 1 g; one on at most that load lets all of it: 45 % of 17,500 lb are 7,875 (computed).
func TestLessThanALimit(t *testing.T) {
	for bound, want := range map[string]string{"at_most": "7875 lb", "less_than": "7874.99 lb"} {
		w, err := loading.Weigh(visittest.Read(t, coach("")), inspect.Setup{Program: visittest.Compile(t, strings.Replace(house, "at_most", bound, 1))})
		if err != nil {
			t.Fatal(err)
		}
		if m := weighLine(t, w, "drive-right").Margins; len(m) != 1 || m[0].Rating.String() != want || m[0].Verdict != rules.Breached {
			t.Errorf("%s: %+v, want a rating of %s", bound, m, want)
		}
	}
}

// TestPairOfWhichOneIsRead: where the stamp of one tire or wheel of a pair was not read, the
// pair is held to twice what the other carries: over it stops the coach and clears no plan,
// within it nothing is kept, and what to read is said.
func TestPairOfWhichOneIsRead(t *testing.T) {
	base := strings.Replace(coach("tires: [TIRES]\n"+stations), "gawr: 17500 lb", "gawr: 20000 lb", 1)
	for name, c := range map[string]struct {
		load, tires, what, rating string
		verdict                   rules.Verdict
	}{
		"both read, within":        {"9000 lb", "", "tire capacity", "9080 lb", rules.Kept},
		"both read, over":          {"9200 lb", "", "tire capacity", "9080 lb", rules.Breached},
		"the outer one, over":      {"9200 lb", "{at: drive-left-inner, dual: not read}", "tire capacity", "9080 lb", rules.Breached},
		"the inner one, over":      {"9200 lb", "{at: drive-left-outer, dual: not read}", "tire capacity", "9080 lb", rules.Breached},
		"the outer one, within":    {"9000 lb", "{at: drive-left-inner, dual: not read}", "tire capacity", "9080 lb", rules.NotRecorded},
		"the inner one, within":    {"9000 lb", "{at: drive-left-outer, dual: not read}", "tire capacity", "9080 lb", rules.NotRecorded},
		"the outer wheel, over":    {"9000 lb", "{at: drive-left-outer, wheel: 4200 lb at 120 psi}, {at: drive-left-inner, wheel: not read}", "wheel rating", "8400 lb", rules.Breached},
		"the inner wheel, over":    {"9000 lb", "{at: drive-left-inner, wheel: 4200 lb at 120 psi}, {at: drive-left-outer, wheel: not read}", "wheel rating", "8400 lb", rules.Breached},
		"neither":                  {"9200 lb", "{at: drive-left-outer, dual: not read}, {at: drive-left-inner, dual: not read}", "tire capacity", "0 lb", 0},
		"too close with the inner": {"9075 lb", "{at: drive-left-outer, dual: not read}", "tire capacity", "9080 lb", rules.TooClose},
	} {
		text := strings.NewReplacer("TIRES", c.tires, "load: 8100 lb", "load: "+c.load).Replace(base)
		w, err := loading.Weigh(visittest.Read(t, text), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		p := plan(t, text)
		m := weighLine(t, w, "drive-left").Margins
		if verdict(m, c.what) != c.verdict || rating(m, c.what).String() != c.rating || w.Stops != (c.verdict == rules.Breached) {
			t.Errorf("%s: stops %v, %+v", name, w.Stops, m)
		}
		if x := tripLine(t, p, "drive-left").Margins; verdict(x, c.what) != c.verdict || (c.verdict == rules.Breached || c.verdict == rules.TooClose) && p.Clears {
			t.Errorf("%s: the plan clears %v, %+v", name, p.Clears, x)
		}
		if asked := strings.Contains(c.tires, "not read"); (len(w.Unjudged) > 0) != asked || (len(p.Unjudged) > 0) != asked {
			t.Errorf("%s: not judged %+v, and by the plan %+v", name, w.Unjudged, p.Unjudged)
		}
	}
}

// TestWhatReadingsDisputeIsNeverKept: a second pass that contradicts the first, of an end, an
// axle or the whole, and by little or by much, keeps no limit of what rests on it and clears no
// plan.
func TestWhatReadingsDisputeIsNeverKept(t *testing.T) {
	disputed := 0
	for _, text := range []string{coach(stations), apart} {
		for _, again := range []string{"4050 lb, on: steer-left", "4200 lb, on: steer-left", "4700 lb, on: steer-left", "8200 lb, on: steer", "8500 lb, on: steer", "16800 lb, on: drive", "23800 lb, on: coach", "25900 lb, on: coach"} {
			v := visittest.Read(t, strings.Replace(text, "    - {load: 4000 lb, on: steer-left}\n", "    - {load: 4000 lb, on: steer-left}\n    - {name: again, load: "+again+"}\n", 1))
			w, err := loading.Weigh(v, inspect.Setup{})
			if err != nil {
				t.Fatal(err)
			}
			p, err := loading.Plan(t.Context(), v, inspect.Setup{})
			if err != nil {
				t.Fatal(err)
			}
			if p.Clears {
				t.Errorf("again %s: a plan that clears", again)
			}
			for _, l := range w.Loads {
				if l.Estimate.State != weight.Disputed {
					continue
				}
				disputed++
				for _, m := range slices.Concat(l.Margins, p.Load(l.Name).Margins) {
					if m.Verdict == rules.Kept {
						t.Errorf("again %s: %s, %s is kept", again, l.Name, m.What)
					}
				}
			}
		}
	}
	if disputed < 40 {
		t.Errorf("only %d loads are disputed", disputed)
	}
}

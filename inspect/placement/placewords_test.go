package placement_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

// The sentences that a placement may end with, each by words of its own, in their order.
var (
	assumed  = []string{"Pressures as found do not count", "Loads are those weighed at each place", "(wheel_fits)", "(rotates)", "The towed unit's tires stay where they are.", "Each axle keeps the size"}
	cautions = []string{"changing places does not cure the reason", "can burst: keep clear of its sidewall", "Demounting, mounting and inflating are for trained people", "Whenever a wheel comes off", "Clean the faces", "One dual alone carries double", "Set every tire cold", "the coach has one spare less", "it is no spare", "Local codes and trained, licensed people decide"}
)

// sentences are the places in a list of those that are said; all of them are known, and
// in that order.
func sentences(t *testing.T, said, list []string) []int {
	t.Helper()
	var out []int
	for _, s := range said {
		at := slices.IndexFunc(list, func(words string) bool { return strings.Contains(s, words) })
		if at < 0 || len(out) > 0 && at <= out[len(out)-1] {
			t.Errorf("%q: %d of %q, behind %v", s, at, list, out)
		}
		out = append(out, at)
	}
	return out
}

// everyOne adds what is the same on all tires.
func everyOne(text, own string) string { return strings.ReplaceAll(text, "{at: ", "{"+own+", at: ") }

// TestWhatAPlacementSays: what it took for granted and the cautions, and nothing that is
// not so.
func TestWhatAPlacementSays(t *testing.T) {
	t.Parallel()
	const weak = "single: 3600 lb at 110 psi, dual: 3600 lb at 110 psi"
	bulge := map[string]string{"steer-left": "seen: [bulge]", "spare": "tread: 9/32 in"}
	towed := strings.Replace(wheels(false, nil), "tires:", "  - {id: car, fitment: single, towed: yes}\ntires:", 1)
	const rolled = "wheel_fits: coach, rotates: either side"
	for name, c := range map[string]struct {
		text              string
		assumed, cautions []int
	}{
		"nothing to do":        {wheels(false, nil), []int{0, 1, 2, 3}, []int{9}},
		"all written down":     {everyOne(wheels(false, nil), rolled), []int{0, 1}, []int{9}},
		"one wheel's fit open": {strings.Replace(everyOne(wheels(false, nil), rolled), "wheel_fits: coach, ", "", 1), []int{0, 1, 2}, []int{9}},
		"one arrow open":       {strings.Replace(everyOne(wheels(false, nil), rolled), ", rotates: either side", "", 1), []int{0, 1, 3}, []int{9}},
		"not weighed":          {strings.Split(wheels(false, nil), "weighing:")[0], []int{0, 2, 3}, []int{9}},
		"towing":               {towed, []int{0, 1, 2, 3, 4}, []int{9}},
		"two sizes":            {wheels(false, map[string]string{"steer-left": "size: AX225/75R20", "steer-right": "size: AX225/75R20"}), []int{0, 1, 2, 3, 5}, []int{9}},
		"a size not read":      {wheels(false, map[string]string{"drive-left-outer": "-size-"}), []int{0, 1, 2, 3}, []int{9}},
		"the first not read":   {wheels(false, map[string]string{"steer-left": "-size-"}), []int{0, 1, 2, 3}, []int{9}},
		"a bulge and a spare":  {wheels(false, bulge), []int{0, 1, 2, 3}, []int{1, 3, 4, 5, 6, 7, 9}},
		"overloaded":           {strings.Replace(wheels(false, nil), "4000 lb, on: steer-left}, {load: 4100 lb", "4550 lb, on: steer-left}, {load: 4550 lb", 1), []int{0, 1, 2, 3}, []int{0, 9}},
		"a weak spare":         {wheels(false, map[string]string{"steer-left": weak, "spare": ""}), []int{0, 1, 2, 3}, []int{3, 4, 5, 6, 8, 9}},
		"a spare for the rear": {wheels(false, map[string]string{"steer-left": "retread: yes, tread: 9/32 in", "spare": ""}), []int{0, 1, 2, 3}, []int{3, 4, 5, 6, 9}},
	} {
		r := placed(t, visittest.Read(t, c.text), inspect.Setup{})
		if got := sentences(t, r.Assumptions, assumed); !slices.Equal(got, c.assumed) {
			t.Errorf("%s: assumes %v, want %v: %q", name, got, c.assumed, r.Assumptions)
		}
		if got := sentences(t, r.Cautions, cautions); !slices.Equal(got, c.cautions) {
			t.Errorf("%s: cautions %v, want %v: %q", name, got, c.cautions, r.Cautions)
		}
		if want := visittest.Assess(t, visittest.Read(t, c.text)).Packs; !slices.Equal(r.Packs, want) {
			t.Errorf("%s: packs %q, want %q", name, r.Packs, want)
		}
	}
}

// TestPlacesAndPairsAfterTheWork: each place with the tire that goes there and what it was
// found with, and of each pair that is whole why it is so.
func TestPlacesAndPairsAfterTheWork(t *testing.T) {
	t.Parallel()
	const less, alike = "it has less tread, and the two are of one model (common practice)", "nothing tells the two apart: either may run inside"
	for name, c := range map[string]struct {
		own    map[string]string
		places map[string]string // but those that keep their own
		setup  inspect.Setup
		pairs  []placement.PlacedPair
	}{
		"as found": {nil, nil, inspect.Setup{}, []placement.PlacedPair{{Name: "drive-left", Outer: "drive-left-outer", Inner: "drive-left-inner", Why: alike}, {Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
		"less tread inside": {map[string]string{"drive-left-inner": "tread: 9/32 in"}, nil, inspect.Setup{},
			[]placement.PlacedPair{{Name: "drive-left", Outer: "drive-left-outer", Inner: "drive-left-inner", Why: less}, {Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
		"less tread outside": {map[string]string{"drive-left-outer": "tread: 9/32 in"}, map[string]string{"drive-left-outer": "drive-left-inner", "drive-left-inner": "drive-left-outer"}, inspect.Setup{},
			[]placement.PlacedPair{{Name: "drive-left", Outer: "drive-left-inner", Inner: "drive-left-outer", Why: less}, {Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
		"less tread outside, and no rule on that": {map[string]string{"drive-left-outer": "tread: 9/32 in"}, nil, inspect.Setup{Program: visittest.Compile(t, worn)},
			[]placement.PlacedPair{{Name: "drive-left", Outer: "drive-left-outer", Inner: "drive-left-inner", Why: "though the other belongs there by this: " + less}, {Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
		"a bulge, and no spare": {map[string]string{"drive-left-inner": "seen: [bulge]"}, map[string]string{"drive-left-inner": "drive-left-outer", "drive-left-outer": ""}, inspect.Setup{},
			[]placement.PlacedPair{{Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
		"a bulge and a spare": {map[string]string{"steer-left": "seen: [bulge]", "spare": "tread: 9/32 in"}, map[string]string{"steer-left": "spare", "spare": ""}, inspect.Setup{},
			[]placement.PlacedPair{{Name: "drive-left", Outer: "drive-left-outer", Inner: "drive-left-inner", Why: alike}, {Name: "drive-right", Outer: "drive-right-outer", Inner: "drive-right-inner", Why: alike}}},
	} {
		v := visittest.Read(t, wheels(false, c.own))
		r := placed(t, v, c.setup)
		if !slices.Equal(r.Pairs, c.pairs) {
			t.Errorf("%s: pairs %+v, want %+v", name, r.Pairs, c.pairs)
		}
		if len(r.Places) != len(v.Tires) {
			t.Errorf("%s: %d places, want %d", name, len(r.Places), len(v.Tires))
		}
		for _, p := range r.Places {
			want, moved := c.places[p.At]
			if !moved {
				want = p.At
			}
			if got, of := p.FoundTread.String(), treadOf(v, p.At); got != of {
				t.Errorf("%s: %s was found with %s, want %s", name, p.At, got, of)
			}
			if got, of := p.Tread.String(), treadOf(v, want); got != of {
				t.Errorf("%s: %s has %s then, want %s", name, p.At, got, of)
			}
			if p.Tire != want {
				t.Errorf("%s: %s gets %q, want %q", name, p.At, p.Tire, want)
			}
		}
	}
}

// treadOf is the least tread that a visit records of a tire.
func treadOf(v *record.Visit, at string) string {
	for i := range v.Tires {
		if depths, ok := v.Tires[i].Tread.Get(); ok && v.Tires[i].At == at {
			least, _ := depths.Least()
			return record.Record(least).String()
		}
	}
	return record.Recorded[weight.Length]{}.String()
}

// worn is the only rule of a shop: on tread.
const worn = "  deep: {title: Too little tread, subject: tire, measure: tread, at_least: 9/32 in, action: do_not_drive, advice: Buy., source: {grade: invented, title: a house rule}}\n"

// TestFactsOfAProgramCountInAPlacement: what the program says of a coach is held to its
// rules also while places are looked for.
func TestFactsOfAProgramCountInAPlacement(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, worn)
	asked := map[string]bool{}
	setup := inspect.Setup{Program: program, Facts: func(v *record.Visit, f *rules.Facts) { asked[f.Subject()] = true }}
	if r := placed(t, visittest.Read(t, wheels(false, nil)), setup); r.Outcome != placement.NoMove || !asked["tire"] || !asked["axle"] {
		t.Errorf("%s, asked of %v", r.Outcome, asked)
	}
}

// TestWhatATireToBuyIsAskedFor: each need in words, in their order. The ends weigh 4,000
// and 7,500 lb, less or more 10; half of a pair's counts for each (computed), and no less
// than its mate is good for. On an axle that nobody weighed it is good for no less than
// the tire beside it (common practice). A pair's treads are at most 4/32 in apart, and
// the outer one has no less (as the packs have it).
func TestWhatATireToBuyIsAskedFor(t *testing.T) {
	t.Parallel()
	const (
		young  = "age: less than 5 years (else: Old enough for a yearly expert inspection); less than 10 years (else: Too old, whatever its tread)"
		casing = "casing: not a retread, not regrooved"
		match  = "diameter: match the mate: measure it, mounted and inflated, and let the larger tire run outside"
		pair   = "load rating: at least 4600 lb dual, stamped on its sidewall: no less than its mate"
		wheel  = "its wheel: good for at least 3755 lb, stamped on it"
		worn   = ": if a new tire has more, look for a part-worn one, or replace both of the pair"
		size   = "size: AX225/75R20"
	)
	bulge := "seen: [bulge]"
	for name, c := range map[string]struct {
		own       map[string]string
		weighed   bool
		at, size  string
		mate      string
		least, up string // tread
		needs     []string
	}{
		"a single": {map[string]string{"steer-left": bulge, "drive-left-outer": size, "drive-left-inner": size, "drive-right-outer": size, "drive-right-inner": size}, true, "steer-left", "AX240/75R20", "", "4/32 in", "",
			[]string{"load rating: at least 4010 lb single, stamped on its sidewall", "its wheel: good for at least 4010 lb, stamped on it", "tread: at least 4/32 in", young, casing}},
		"one of a pair": {map[string]string{"drive-left-inner": bulge}, true, "drive-left-outer", "AX240/75R20", "drive-left-outer", "10/32 in", "14/32 in",
			[]string{pair, wheel, "tread: 10/32 in to 14/32 in" + worn, match, young}},
		"beside a worn one": {map[string]string{"drive-left-inner": bulge, "drive-left-outer": "tread: 5/32 in"}, true, "drive-left-outer", "AX240/75R20", "drive-left-outer", "5/32 in", "9/32 in",
			[]string{pair, wheel, "tread: 5/32 in to 9/32 in" + worn, match, young}},
		"beside one not probed": {map[string]string{"drive-left-inner": bulge, "drive-left-outer": "-tread-"}, true, "drive-left-outer", "AX240/75R20", "drive-left-outer", "2/32 in", "",
			[]string{pair, wheel, "tread: at least 2/32 in; and within what its mate allows, whose tread was not probed", match, young}},
		"not weighed": {map[string]string{"steer-left": bulge}, false, "steer-left", "AX240/75R20", "", "4/32 in", "",
			[]string{"load rating: at least 5000 lb single, stamped on its sidewall; what it has to carry was not weighed: no less than the tires beside it", "tread: at least 4/32 in", young, casing}},
	} {
		text := wheels(false, c.own)
		if !c.weighed {
			text, _, _ = strings.Cut(text, "weighing:")
		}
		r := placed(t, visittest.Read(t, text), inspect.Setup{})
		if len(r.Buy) != 1 || r.Outcome != placement.Buy {
			t.Errorf("%s: %s, %d to buy", name, r.Outcome, len(r.Buy))
			continue
		}
		b := r.Buy[0]
		var needs []string
		for _, n := range b.Needs {
			needs = append(needs, n.What+": "+n.Text)
			if n.What == "tread" && (n.Least != c.least || n.Most != c.up) {
				t.Errorf("%s: tread from %q to %q, want %q to %q", name, n.Least, n.Most, c.least, c.up)
			}
			if (len(n.Rules) > 0) != (len(n.Sources) > 0) || len(n.Rules) == 0 && n.What != "diameter" {
				t.Errorf("%s: %s by %q of %v", name, n.What, n.Rules, n.Sources)
			}
		}
		if b.At != c.at || b.Size != c.size || b.Mate != c.mate || b.Construction.String() != "radial" || !slices.Equal(needs, c.needs) {
			t.Errorf("%s: %s %s beside %q: %q, want %q", name, b.At, b.Size, b.Mate, needs, c.needs)
		}
	}
}

// TestFourteenTiresAreLookedAt, and fifteen are too many.
func TestFourteenTiresAreLookedAt(t *testing.T) {
	t.Parallel()
	done, cancel := context.WithCancel(t.Context())
	cancel()
	for spares, want := range map[int]error{4: context.Canceled, 5: placement.ErrTooManyTires} {
		text := "visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: single}, {id: b, fitment: dual}, {id: c, fitment: dual}]\ntires:\n  - {at: spare}\n"
		for i := 2; i <= spares; i++ {
			text += fmt.Sprintf("  - {at: spare-%d}\n", i)
		}
		if _, err := placement.Find(done, visittest.Read(t, text), inspect.Setup{}); !errors.Is(err, want) {
			t.Errorf("%d tires: %v, want %v", 10+spares, err, want)
		}
	}
}

// TestWhatIsSaidOfAllTiresForbidsNoMove: that all were hot, had air added or showed a low
// alarm is of the pressures as found, which the work sets anew.
func TestWhatIsSaidOfAllTiresForbidsNoMove(t *testing.T) {
	t.Parallel()
	text := wheels(false, map[string]string{"steer-left": "seen: [bulge]", "spare": "tread: 9/32 in"})
	want := moves(placed(t, visittest.Read(t, text), inspect.Setup{}))
	for _, all := range []string{"hot: yes", "in_sun: yes", "last_set: 120 psi", "air_added: yes", "low_alarm: yes", "driven_since: yes"} {
		r := placed(t, visittest.Read(t, strings.Replace(text, "tires:", "every_tire: {"+all+"}\ntires:", 1)), inspect.Setup{})
		if got := moves(r); got != want || r.NotProposed != "" {
			t.Errorf("%s: moves %q, want %q; not proposed: %s", all, got, want, r.NotProposed)
		}
	}
}

// TestTireToBuyInside: where the outer tire stays outside, on a wheel to buy or for a tire
// that came off it, the inner place is the one to buy for: beside the first tire of a coach
// as beside any other, and with no more tread than that one has.
func TestTireToBuyInside(t *testing.T) {
	t.Parallel()
	const head = "visit: 1\ninvented: yes\ndate: 2026-10-03\naxles: [{id: drive, fitment: dual, placard: 100 psi}]\n" +
		"every_tire: {size: AX240/75R20, class: truck, construction: radial, model: alpha, dual: 4600 lb at 110 psi, wheel: 6000 lb at 130 psi, last_set: 100 psi}\ntires:\n"
	for name, c := range map[string]struct {
		seen                          [4]string // as the layout has them
		at, mate, tread, moves, wheel string
	}{
		"a bulge inside, a cracked wheel outside": {[4]string{"cracked wheel", "bulge", "nothing", "nothing"}, "drive-left-inner", "drive-left-outer", "4/32 in to 8/32 in", "drive-left-outer>drive-left-outer demount onto ", "drive-left-outer drive-left-outer"},
		"a bulge outside, a cracked wheel inside": {[4]string{"bulge", "cracked wheel", "nothing", "nothing"}, "drive-left-inner", "drive-left-inner", "4/32 in to 8/32 in", "drive-left-inner>drive-left-outer demount onto drive-left-outer", "drive-left-inner "},
		"the same on the right":                   {[4]string{"nothing", "nothing", "bulge", "cracked wheel"}, "drive-right-outer", "drive-right-outer", "8/32 in to 12/32 in", "drive-right-outer>drive-right-inner demount onto drive-right-inner", "drive-right-outer "},
	} {
		text := head
		for i, at := range []string{"drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer"} {
			text += "  - {at: " + at + ", tread: 8/32 in, found: 100 psi, number: 2223, seen: " + c.seen[i] + "}\n"
		}
		r := placed(t, visittest.Read(t, text), inspect.Setup{})
		if len(r.Buy) != 1 || r.Buy[0].At != c.at || r.Buy[0].Mate != c.mate || moves(r) != c.moves || len(r.Wheels) != 1 || r.Wheels[0].At+" "+r.Wheels[0].Tire != c.wheel {
			t.Errorf("%s: to buy %+v, wheels %+v, moves %q", name, r.Buy, r.Wheels, moves(r))
			continue
		}
		for _, n := range r.Buy[0].Needs {
			if n.What == "tread" && !strings.HasPrefix(n.Text, c.tread) {
				t.Errorf("%s: tread %s, want %s", name, n.Text, c.tread)
			}
		}
	}
}

// TestTireToBuyIsAsStrongAsThePlacard: no tire is bought weaker than the load range on the
// placard (49 CFR 571.120 S5.1.2), whatever ran there; a stronger one beside it stays the
// measure.
func TestTireToBuyIsAsStrongAsThePlacard(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ placard, own, want string }{
		{"placard_load_range: G", "load_range: F", "G"},
		{"placard_load_range: G", "load_range: G", "G"},
		{"placard_load_range: G", "load_range: H", "H"},
		{"placard_load_range: LR G", "seen: nothing", "G"},
		{"placard_size: AX240/75R20", "load_range: F", "F"},
		{"placard_size: AX240/75R20", "seen: nothing", ""},
	} {
		own := make(map[string]string)
		for _, at := range []string{"steer-left", "steer-right"} {
			own[at] = tt.own
		}
		own["steer-left"] = strings.Replace(own["steer-left"], "seen: nothing, ", "", 1) + ", number: 2210"
		text := strings.Replace(wheels(false, own), "gawr: 9000 lb", "gawr: 9000 lb, "+tt.placard, 1)
		r := placed(t, visittest.Read(t, text), inspect.Setup{})
		if len(r.Buy) == 0 {
			t.Errorf("%s, %s: %s, %+v", tt.placard, tt.own, r.Outcome, r.Buy)
		}
		for _, b := range r.Buy {
			if b.LoadRange != tt.want {
				t.Errorf("%s, %s: buy load range %q for %s, want %q", tt.placard, tt.own, b.LoadRange, b.At, tt.want)
			}
		}
	}
}

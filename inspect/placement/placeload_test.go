package placement_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/internal/visittest"
)

// TestLoadComesOffFirst: where an end carries more than any tire at hand of its size and
// load range is stamped for, and an axle's rating is broken too, load comes off, and no
// tire is bought or moved for it; where either does not hold, a tire is found (49 CFR
// 571.119 S6.5(d); common practice).
func TestLoadComesOffFirst(t *testing.T) {
	t.Parallel()
	// Duals are stamped for 4,600 lb; 9,400 lb is 4,700 each, and over half of 16,000 lb.
	over := func(text string) string { return strings.Replace(text, "load: 7500 lb", "load: 9400 lb", 1) }
	// Weighed whole, 18,800 lb is over four duals' 18,400 and over 16,000.
	whole := func(text string) string {
		return strings.Replace(text, "{load: 7500 lb, on: drive-left}, {load: 7400 lb, on: drive-right}", "{load: 18800 lb, on: drive}", 1)
	}
	strong := strings.NewReplacer("gawr: 16000 lb", "gawr: 19000 lb")
	for _, tt := range []struct {
		name, text string
		outcome    placement.Outcome
		first, buy string
		moves      string
	}{
		{"over both", over(wheels(false, nil)), placement.NoMove, "drive,drive-left", "", ""},
		{"over the tires alone", strong.Replace(over(wheels(false, nil))), placement.Buy, "", "drive-left-outer", ""},
		{"over the axle alone", strings.Replace(wheels(false, nil), "load: 7500 lb", "load: 8400 lb", 1), placement.NoMove, "", "", ""},
		{"at its stamp", strings.Replace(wheels(false, nil), "load: 7500 lb", "load: 9200 lb", 1), placement.NoMove, "", "", ""},
		{"a stronger tire of that size and range at hand", over(wheels(false, map[string]string{"spare": "dual: 4800 lb at 110 psi"})), placement.Buy, "", "drive-left-outer", ""},
		{"one of another size at hand", over(wheels(false, map[string]string{"spare": "size: AX225/75R20, dual: 4800 lb at 110 psi"})), placement.NoMove, "drive,drive-left", "", ""},
		{"a worn steer tire besides: the spare", over(wheels(false, map[string]string{"steer-left": "tread: 3/32 in", "spare": ""})), placement.MoveWheels, "drive,drive-left", "", "spare>steer-left; steer-left>spare"},
		{"weighed whole", whole(wheels(false, nil)), placement.NoMove, "drive", "", ""},
		{"weighed whole, a worn steer tire besides: the spare", whole(wheels(false, map[string]string{"steer-left": "tread: 3/32 in", "spare": ""})), placement.MoveWheels, "drive", "", "spare>steer-left; steer-left>spare"},
		{"a bulge there besides", over(wheels(false, map[string]string{"drive-left-outer": "seen: bulge"})), placement.Buy, "drive,drive-left", "drive-left-outer", ""},
	} {
		r := placed(t, visittest.Read(t, tt.text), inspect.Setup{})
		var first, buy []string
		for _, it := range r.LoadFirst {
			first = append(first, it.Where)
		}
		for _, b := range r.Buy {
			buy = append(buy, b.At)
			if n := b.Needs[0]; tt.first != "" && (n.Least != "" || !strings.Contains(n.Text, "once load has come off")) {
				t.Errorf("%s: %s: %+v", tt.name, b.At, n)
			}
		}
		if r.Outcome != tt.outcome || strings.Join(first, ",") != tt.first || tt.buy != "" && !slices.Contains(buy, tt.buy) || tt.buy == "" && len(buy) > 0 || tt.moves != "" && moves(r) != tt.moves {
			t.Errorf("%s: %s, first %q, buy %q, moves %q", tt.name, r.Outcome, first, buy, moves(r))
		}
		if tt.first != "" && !r.Stops {
			t.Errorf("%s: a coach over its tires may go", tt.name)
		}
	}
}

// TestOverloadedTireDoesNotComeToSteer: a tire that carried more than it is stamped for
// goes to no place of the steer axle, though it would carry the load there.
func TestOverloadedTireDoesNotComeToSteer(t *testing.T) {
	t.Parallel()
	own := map[string]string{"drive-left-outer": "dual: 3600 lb at 110 psi", "steer-left": "tread: 3/32 in"}
	r := placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{})
	for _, m := range r.Moves {
		if m.Tire == "drive-left-outer" && strings.HasPrefix(m.To, "steer") {
			t.Errorf("%s: %s", r.Outcome, moves(r))
		}
	}
	own["drive-left-outer"] = "tread: 9/32 in"
	if r := placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{}); r.Outcome != placement.Buy && !strings.Contains(moves(r), ">steer-left") {
		t.Errorf("%s: %s", r.Outcome, moves(r))
	}
}

package weight_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
)

func TestSecondPassWithinTolerance(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform}
	readings := append(corners(scale, rig),
		scale.Reading("all again", 26_060*lb, rig.All()))
	sol := mustSolve(t, rig, readings, scale)
	if err := sol.Err(); err != nil {
		t.Fatalf("60 lb apart, 120 lb allowed: %v", err)
	}
	// The mean of equal tolerances (computed), inside both: 26,000 to 26,060.
	if e := sol.Of(rig.All()); e.Load != 26_030*lb || e.PlusMinus != 30*lb {
		t.Errorf("gross %+v, want 26030 lb plus/minus 30 lb", e)
	}
	res := sol.Residuals()
	if res[0].Off != -30*lb || res[4].Off != 30*lb || res[1].Off != 0 {
		t.Errorf("residuals %+v", res)
	}
}

// Agreement ends exactly where the tolerances meet.
func TestAgreementAtTheEdge(t *testing.T) {
	rig := rigtest.Coach()
	for _, c := range []struct {
		second   weight.Mass
		conflict bool
	}{{26_120 * lb, false}, {26_120*lb + 1, true}, {25_880 * lb, false}, {25_880*lb - 1, true}} {
		sol := mustSolve(t, rig, []weight.Reading{
			{Name: "all", Load: 26_000 * lb, Tolerance: 60 * lb, On: rig.All()},
			{Name: "all again", Load: c.second, Tolerance: 60 * lb, On: rig.All()},
		}, weight.Scale{})
		if got := len(sol.Conflicts()) > 0; got != c.conflict {
			t.Errorf("second pass %d: conflict %v", c.second, got)
		}
	}
}

// Least squares may leave one reading beyond its tolerance although loads
// exist that satisfy all: that is agreement.
func TestAgreementIsNotResiduals(t *testing.T) {
	rig := rigtest.Coach()
	// Six passes of one weight: five at the low edge, one high; the mean lies
	// 33 lb from the high one, beyond its 20, but 1,020 suits all.
	var readings []weight.Reading
	for i := range 6 {
		readings = append(readings, weight.Reading{Name: fmt.Sprint("pass ", i+1), Load: 1_000 * lb, Tolerance: 20 * lb, On: rig.All()})
	}
	readings[5].Load = 1_040 * lb
	sol := mustSolve(t, rig, readings, weight.Scale{})
	if err := sol.Err(); err != nil {
		t.Errorf("all can be right at 1020 lb: %v", err)
	}
	if res := sol.Residuals(); res[5].Off <= 20*lb {
		t.Errorf("the case shows nothing: residual %s", res[5].Off)
	}
	if e := sol.Of(rig.All()); e.AtLeast() > 1_020*lb || e.AtMost() < 1_020*lb {
		t.Errorf("1020 lb is outside %+v", e)
	}
}

func TestConflicts(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform}
	left := rig.All() & weight.SideOf(weight.Left)
	base := corners(scale, rig)
	rear := scale.Reading("rear axle", 17_060*lb, weight.AxleOf(1))
	for _, c := range []struct {
		name     string
		readings []weight.Reading
		kind     weight.ConflictKind
		names    []string
		apart    weight.Mass
		within   weight.Mass
		odd      string
		suspects int
		where    weight.Set
	}{
		{"a second pass 500 lb off", append(slices.Clone(base), scale.Reading("front again", 9_500*lb, weight.AxleOf(0))),
			weight.Disagree, []string{"front axle", "front again"}, 500, 40, "", 2, 0},
		{"with a third that backs the first", append(slices.Clone(base), scale.Reading("front again", 9_500*lb, weight.AxleOf(0)), rear),
			weight.Disagree, []string{"front axle", "front again"}, 500, 40, "front again", 1, 0},
		{"a side lighter than its own front end", []weight.Reading{scale.Reading("left side", 5_000*lb, left), scale.Reading("left front", 6_000*lb, weight.EndOf(0, weight.Left))},
			weight.Negative, []string{"left side", "left front"}, 1_000, 40, "", 2, weight.EndOf(1, weight.Left)},
	} {
		sol := mustSolve(t, rig, c.readings, scale)
		got := sol.Conflicts()
		if len(got) != 1 {
			t.Fatalf("%s: %d conflicts: %v", c.name, len(got), sol.Err())
		}
		if g := got[0]; g.Kind != c.kind || !slices.Equal(g.Readings, c.names) || g.Apart != c.apart*lb || g.Allowed != c.within*lb ||
			g.OddOneOut != c.odd || len(g.Suspects) != c.suspects || g.Where != c.where {
			t.Errorf("%s: got %+v", c.name, g)
		}
		var typed *weight.Conflict
		if err := sol.Err(); !errors.Is(err, weight.ErrConflict) || !errors.As(err, &typed) || !strings.Contains(err.Error(), c.names[0]) {
			t.Errorf("%s: error %v", c.name, err)
		}
		if !slices.Contains(sol.Cautions(), weight.ReadingsDisagree) {
			t.Errorf("%s: no caution", c.name)
		}
	}
}

func TestConflictLeavesTheRest(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	sol := mustSolve(t, rig, append(corners(scale, rig), scale.Reading("front again", 9_500*lb, weight.AxleOf(0))), scale)
	// What does not rest on the two fronts is as before.
	if e := sol.Of(weight.EndOf(1, weight.Left)); e.State != weight.Determined || e.Load != 8_600*lb {
		t.Errorf("left rear %+v", e)
	}
	// Either front may be the wrong one: the answer covers both.
	e := sol.Of(weight.AxleOf(0))
	if e.State != weight.Disputed || e.AtLeast() != 8_980*lb || e.AtMost() != 9_520*lb {
		t.Errorf("front axle %+v, want 8980 lb to 9520 lb, disputed", e)
	}
	e = sol.Of(weight.AxleOf(1))
	if e.State != weight.Disputed || e.AtLeast() != 16_420*lb || e.AtMost() != 17_080*lb {
		t.Errorf("rear axle %+v", e)
	}
	// A negative end: whichever reading is left out, the end is open.
	left := rig.All() & weight.SideOf(weight.Left)
	sol = mustSolve(t, rig, []weight.Reading{scale.Reading("left", 5_000*lb, left), scale.Reading("left front", 6_000*lb, weight.EndOf(0, weight.Left))}, scale)
	if e := sol.Of(weight.EndOf(1, weight.Left)); e.Known() {
		t.Errorf("left rear is known: %+v", e)
	}
}

func TestTwoWrongReadings(t *testing.T) {
	rig, scale := rigtest.TaggedWithTrailer(), weight.Scale{Kind: weight.Segmented}
	var readings []weight.Reading
	for i, name := range []string{"steer", "drive", "tag"} {
		readings = append(readings, scale.Reading(name, 9_000*lb, weight.AxleOf(i)))
	}
	readings = append(readings,
		scale.Reading("steer again", 9_400*lb, weight.AxleOf(0)),
		scale.Reading("drive again", 8_300*lb, weight.AxleOf(1)))
	sol := mustSolve(t, rig, readings, scale)
	got := sol.Conflicts()
	if len(got) != 2 || got[0].OddOneOut != "" || got[0].Suspects != nil {
		t.Fatalf("want two conflicts without a suspect, got %v", sol.Err())
	}
	if e := sol.Of(weight.AxleOf(2)); e.State != weight.Determined || e.Load != 9_000*lb {
		t.Errorf("tag %+v", e)
	}
	for i, both := range [][2]weight.Mass{{9_000, 9_400}, {8_300, 9_000}} {
		e := sol.Of(weight.AxleOf(i))
		if e.State != weight.Disputed || e.AtLeast() > both[0]*lb || e.AtMost() < both[1]*lb {
			t.Errorf("axle %d: %+v does not cover %v", i+1, e, both)
		}
	}
	if e := sol.InFractions().Of(weight.AxleOf(0)); e != sol.Of(weight.AxleOf(0)) {
		t.Errorf("in fractions %+v", e)
	}
}

// -5 plus/minus 40 is nothing, -200 plus/minus 40 is a contradiction.
func TestNegativeEnds(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	left := rig.All() & weight.SideOf(weight.Left)
	for _, c := range []struct {
		side     weight.Mass
		conflict bool
	}{{5_995, false}, {5_960, false}, {5_959, true}, {5_800, true}} {
		sol := mustSolve(t, rig, []weight.Reading{
			{Name: "left", Load: c.side * lb, Tolerance: 20 * lb, On: left},
			{Name: "left front", Load: 6_000 * lb, Tolerance: 20 * lb, On: weight.EndOf(0, weight.Left)},
		}, scale)
		if got := len(sol.Conflicts()) > 0; got != c.conflict {
			t.Errorf("side %d lb: conflict %v: %v", c.side, got, sol.Err())
		}
		if e := sol.Of(weight.EndOf(1, weight.Left)); !c.conflict && (e.Load != 0 || e.State != weight.Determined || e.PlusMinus != (c.side-6_000+40)*lb) {
			t.Errorf("side %d lb: left rear %+v", c.side, e)
		}
	}
}

// A contradiction can hide in a sum that is no end: no end is determined here.
func TestHiddenNegativeSum(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	end := func(a int) weight.Set { return weight.EndOf(a, weight.Left) }
	r := func(name string, load weight.Mass, on weight.Set) weight.Reading {
		return weight.Reading{Name: name, Load: load * lb, Tolerance: lb, On: on}
	}
	sol := mustSolve(t, rig, []weight.Reading{
		r("1+2", 10, end(0)|end(1)), r("2+3", 100, end(1)|end(2)), r("3+4", 10, end(2)|end(3)),
	}, weight.Scale{})
	got := sol.Conflicts()
	if len(got) != 1 || got[0].Kind != weight.Negative || got[0].Where != end(0)|end(3) || got[0].Apart != 80*lb {
		t.Errorf("got %v", sol.Err())
	}
	if !strings.Contains(got[0].Error(), "less than nothing") {
		t.Errorf("error %q", got[0])
	}
}

// Random conflicts: one reading far off. The truth stays inside what is said,
// the wrong one is among the suspects, and permuting changes nothing.
func TestOneWrongReading(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 5))
	conflicts := 0
	for k := range 150 {
		rig, tr, readings := randomCase(r)
		wrong := r.IntN(len(readings))
		readings[wrong].Load += 20 * readings[wrong].Tolerance
		sol := mustSolve(t, rig, readings, weight.Scale{Stance: weight.Stance{Level: weight.Yes}})
		shuffled := slices.Clone(readings)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		again := mustSolve(t, rig, shuffled, weight.Scale{Stance: weight.Stance{Level: weight.Yes}})
		found := sol.Conflicts()
		if len(found) != len(again.Conflicts()) {
			t.Fatalf("case %d: permuted, %v becomes %v", k, sol.Err(), again.Err())
		}
		if len(found) == 0 {
			continue
		}
		conflicts++
		if len(found) == 1 && !slices.Contains(found[0].Suspects, readings[wrong].Name) {
			t.Fatalf("case %d: %s is not suspected in %v", k, readings[wrong].Name, found[0])
		}
		for i, c := range found {
			names := slices.Sorted(slices.Values(c.Readings))
			if got := slices.Sorted(slices.Values(again.Conflicts()[i].Readings)); !slices.Equal(got, names) {
				t.Fatalf("case %d: permuted, %v becomes %v", k, names, got)
			}
		}
		for _, set := range asked(r, rig) {
			e := sol.Of(set)
			if e != again.Of(set) {
				t.Fatalf("case %d, %s: %+v, permuted %+v", k, set, e, again.Of(set))
			}
			if e.State == weight.Disputed {
				if gap := tr.on(set) - e.Load; max(gap, -gap) > e.PlusMinus {
					t.Fatalf("case %d, %s: truth %s outside %+v", k, set, tr.on(set), e)
				}
			}
		}
	}
	if conflicts < 40 {
		t.Errorf("only %d conflicts", conflicts)
	}
}

package weight_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
)

// canTake lists, independently, every weighing a scale can take.
func canTake(kind weight.ScaleKind, rig weight.Rig) []weight.Set {
	n := len(rig.Axles)
	var out []weight.Set
	sides := []weight.Set{rig.All(), weight.SideOf(weight.Left), weight.SideOf(weight.Right)}
	for from := range n {
		for to := from; to < n; to++ {
			run := rigtest.Axles(from, to)
			switch {
			case kind == weight.WholeAxles:
				out = append(out, run)
			case kind == weight.Segmented, kind == weight.Platform && (from == 0 || to == n-1):
				for _, s := range sides {
					out = append(out, run&s)
				}
			}
		}
	}
	if kind == weight.Pads {
		for a := range n {
			for _, side := range []weight.Side{weight.Left, weight.Right} {
				out = append(out, weight.EndOf(a, side))
				if rig.Axles[a].Fitment == weight.Dual {
					out = append(out, weight.WheelOf(a, side, weight.Inner), weight.WheelOf(a, side, weight.Outer))
				}
			}
		}
	}
	return out
}

func withWeighings(readings []weight.Reading, plan ...weight.Set) []weight.Reading {
	out := slices.Clone(readings)
	for _, p := range plan {
		out = append(out, weight.Reading{On: p})
	}
	return out
}

// fewest is brute force over subsets of at most most weighings; -1 for none.
func fewest(readings []weight.Reading, can []weight.Set, set weight.Set, most int) int {
	var try func(from, left int, plan []weight.Set) bool
	try = func(from, left int, plan []weight.Set) bool {
		if left == 0 {
			return echelonOf(withWeighings(readings, plan...)).determines(set)
		}
		for i := from; i <= len(can)-left; i++ {
			if try(i+1, left-1, append(slices.Clone(plan), can[i])) {
				return true
			}
		}
		return false
	}
	for k := 0; k <= most; k++ {
		if try(0, k, nil) {
			return k
		}
	}
	return -1
}

// What Settle proposes settles it, is what the scale can take, and is the
// fewest, by brute force.
func TestSettleAgainstBruteForce(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 9))
	counts := map[int]int{}
	for k := range 150 {
		rig := weight.Rig{}
		n := 1 + r.IntN(3)
		for a := range n {
			rig.Axles = append(rig.Axles, weight.Axle{ID: fmt.Sprint("a", a+1), Fitment: weight.Fitment(1 + r.IntN(2))})
		}
		kind := weight.ScaleKind(1 + r.IntN(4))
		can := canTake(kind, rig)
		var readings []weight.Reading
		for i := range r.IntN(4) {
			readings = append(readings, weight.Reading{Name: fmt.Sprint(i), Load: weight.Mass(10+i) * 1000 * lb, Tolerance: 1e6 * lb, On: randomSet(r, rig)})
		}
		sol := mustSolve(t, rig, readings, weight.Scale{Kind: kind})
		for _, set := range asked(r, rig) {
			got := sol.Settle(set)
			want := fewest(readings, can, set, 4)
			var plan []weight.Set
			for _, p := range got.Weighings {
				plan = append(plan, p.On)
				if !slices.Contains(can, p.On) || p.Instruction == "" {
					t.Fatalf("case %d: a %s cannot take %s (%q)", k, kind, p.On, p.Instruction)
				}
			}
			if want >= 0 && len(plan) != want || !got.Fewest {
				t.Fatalf("case %d: %s on %s after %v: %d weighings %v, brute force %d", k, rig.Name(set), kind, readings, len(plan), plan, want)
			}
			if reach := echelonOf(withWeighings(readings, can...)).determines(set); len(plan) == 0 && want != 0 && reach {
				t.Fatalf("case %d: %s on %s can be settled", k, set, kind)
			}
			if len(plan) > 0 && !echelonOf(withWeighings(readings, plan...)).determines(set) {
				t.Fatalf("case %d: %v does not settle %s", k, plan, set)
			}
			counts[len(plan)]++
		}
	}
	for n := range 4 {
		if counts[n] < 20 {
			t.Errorf("only %d sums took %d weighings", counts[n], n)
		}
	}
}

func TestOpenOnTheUsualSlip(t *testing.T) {
	rig, scale := rigtest.TaggedWithTrailer(), weight.Scale{Kind: weight.WholeAxles}
	read := []weight.Reading{
		scale.Reading("steer", 12_000*lb, weight.AxleOf(0)),
		scale.Reading("drive and tag", 24_000*lb, rigtest.Axles(1, 2)),
		scale.Reading("trailer", 9_000*lb, rig.Towed()),
	}
	sol := mustSolve(t, rig, read, scale)
	open := sol.Undetermined()
	by := map[weight.Set]weight.UndeterminedSum{}
	for _, o := range open {
		by[o.Set] = o
	}
	// A whole-axle scale parts drive and tag with one more stop, and never
	// tells an end.
	drive := by[weight.AxleOf(1)]
	if len(drive.Weighings) != 1 || !drive.Fewest || drive.Name != "the drive axle" {
		t.Errorf("drive axle: %+v", drive)
	}
	if end := by[weight.EndOf(0, weight.Left)]; end.Set == 0 || end.Weighings != nil || !end.Fewest {
		t.Errorf("steer end: %+v", end)
	}
	if _, ok := by[weight.AxleOf(0)]; ok {
		t.Error("the steer axle was read")
	}
	if got := sol.SettleAll(); got != nil {
		t.Errorf("a whole-axle scale settles all: %v", got)
	}
	// 5 ends on one side and 1 axle are unknown: a platform needs 6 more.
	sol = mustSolve(t, rig, read, weight.Scale{Kind: weight.Platform})
	all := sol.SettleAll()
	if len(all) != 7 {
		t.Errorf("%d weighings settle all, want 10 ends - 3 readings", len(all))
	}
	more := slices.Clone(read)
	for i, p := range all {
		more = append(more, weight.Reading{Name: fmt.Sprint(i), Load: 1000 * lb, Tolerance: 1e6 * lb, On: p.On})
	}
	if open := mustSolve(t, rig, more, weight.Scale{Kind: weight.Platform}).Undetermined(); open != nil {
		t.Errorf("still open: %v", open)
	}
	// An unknown scale proposes nothing.
	if got := mustSolve(t, rig, read, weight.Scale{}).Settle(weight.AxleOf(1)); got.Weighings != nil {
		t.Errorf("unknown scale: %v", got)
	}
}

// TestLengthsOfARig: a hitch, a track and a height of up to a kilometer, which keeps
// products in range.
func TestLengthsOfARig(t *testing.T) {
	for _, at := range []func(*weight.Rig) *weight.Length{
		func(r *weight.Rig) *weight.Length { return &r.Hitch }, func(r *weight.Rig) *weight.Length { return &r.Track }, func(r *weight.Rig) *weight.Length { return &r.Height },
	} {
		for length, ok := range map[weight.Length]bool{-1: false, 0: true, weight.Kilometer: true, weight.Kilometer + 1: false} {
			rig := rigtest.Coach()
			if *at(&rig) = length; (rig.Check() == nil) != ok {
				t.Errorf("%+v: %v", rig, rig.Check())
			}
		}
	}
}

func TestSettleSpecialCases(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	pads := mustSolve(t, rig, nil, weight.Scale{Kind: weight.Pads})
	if got := pads.Settle(rig.All()); len(got.Weighings) != 10 || !got.Fewest {
		t.Errorf("all by pads: %d", len(got.Weighings))
	}
	if got := pads.Settle(weight.WheelOf(1, weight.Left, weight.Outer)); len(got.Weighings) != 1 {
		t.Errorf("one wheel: %+v", got)
	}
	if got := pads.Settle(weight.WheelOf(0, weight.Left, weight.Outer)); got.Weighings != nil || !got.Fewest {
		t.Errorf("half of a single end: %+v", got)
	}
	if got := pads.Settle(weight.AxleOf(9)); got.Weighings != nil {
		t.Errorf("outside: %+v", got)
	}
	// A plate 20 ft long holds the trailer's axles, or drive and tag, but not
	// steer and drive 260 in apart.
	short := mustSolve(t, rig, nil, weight.Scale{Kind: weight.WholeAxles, Plate: 240 * weight.Inch})
	if got := short.Settle(rigtest.Axles(0, 1)); len(got.Weighings) != 2 {
		t.Errorf("steer and drive on a short plate: %+v", got.Weighings)
	}
	if got := short.Settle(rigtest.Axles(1, 2)); len(got.Weighings) != 1 {
		t.Errorf("drive and tag on a short plate: %+v", got.Weighings)
	}
	unknown := rig
	unknown.Axles = slices.Clone(rig.Axles)
	unknown.Axles[1].Behind = 0
	if got := mustSolve(t, unknown, nil, weight.Scale{Kind: weight.WholeAxles, Plate: 240 * weight.Inch}).Settle(rigtest.Axles(0, 1)); len(got.Weighings) != 1 {
		t.Errorf("an axle at an unknown place: %+v", got.Weighings)
	}
}

// Where the search is cut short the proposal is enough, and says that it may
// not be the fewest.
func TestSettleBudget(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 10))
	rig := weight.Rig{}
	for a := range weight.MaxAxles {
		rig.Axles = append(rig.Axles, weight.Axle{ID: fmt.Sprint("a", a+1), Fitment: weight.Dual})
	}
	cut := 0
	for range 3 {
		var readings []weight.Reading
		for i := range 12 {
			on := weight.Set(r.Uint64()) & rig.All()
			readings = append(readings, weight.Reading{Name: fmt.Sprint(i), Load: 1000 * lb, Tolerance: 1e5 * lb, On: on})
		}
		got := mustSolve(t, rig, readings, weight.Scale{Kind: weight.Pads}).Settle(rig.All())
		var plan []weight.Set
		for _, p := range got.Weighings {
			plan = append(plan, p.On)
		}
		if !echelonOf(withWeighings(readings, plan...)).determines(rig.All()) {
			t.Fatalf("%v does not settle it", plan)
		}
		for i := range plan {
			if less := slices.Delete(slices.Clone(plan), i, i+1); echelonOf(withWeighings(readings, less...)).determines(rig.All()) {
				t.Fatalf("%v holds one too many", plan)
			}
		}
		if !got.Fewest {
			cut++
		}
	}
	if cut == 0 {
		t.Error("no search was cut short")
	}
}

func TestInstructions(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	left := weight.SideOf(weight.Left)
	words := func(kind weight.ScaleKind, set weight.Set) string {
		got := mustSolve(t, rig, nil, weight.Scale{Kind: kind}).Settle(set)
		if len(got.Weighings) != 1 {
			t.Fatalf("%s on %s: %+v", rig.Name(set), kind, got)
		}
		return got.Weighings[0].Instruction
	}
	for _, c := range []struct {
		kind weight.ScaleKind
		set  weight.Set
		want []string
	}{
		{weight.Platform, rig.All(), []string{"whole length", "the steer axle, the drive axle, the tag axle, the front trailer axle and the rear trailer axle"}},
		{weight.Platform, rigtest.Axles(0, 1), []string{"from the front", "only", "the steer axle and the drive axle."}},
		{weight.Platform, rigtest.Axles(3, 4), []string{"still on the plate", "trailer"}},
		{weight.Platform, rigtest.Axles(0, 1) & left, []string{"left side on the plate", "right side beside it"}},
		{weight.Platform, rigtest.Axles(0, 1) &^ left, []string{"right side on the plate"}},
		{weight.Segmented, weight.AxleOf(1), []string{"one plate", "the drive axle"}},
		{weight.Pads, weight.EndOf(1, weight.Left), []string{"pad", "the left end of the drive axle", "both tires"}},
		{weight.Pads, weight.EndOf(0, weight.Left), []string{"pad", "the left end of the steer axle", "same height"}},
		{weight.Pads, weight.WheelOf(1, weight.Right, weight.Outer), []string{"the outer right wheel"}},
	} {
		got := words(c.kind, c.set)
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s on %s: %q lacks %q", rig.Name(c.set), c.kind, got, want)
			}
		}
	}
}

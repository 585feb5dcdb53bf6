package weight_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestRejectedReadings(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform}
	good := corners(scale, rig)
	for _, c := range []struct {
		reading weight.Reading
		want    error
	}{
		{weight.Reading{Name: "empty", Load: lb}, weight.ErrEmptyPlate},
		{weight.Reading{Name: "nothing", On: weight.AxleOf(0)}, weight.ErrNoLoad},
		{weight.Reading{Name: "less than nothing", Load: -lb, On: weight.AxleOf(0)}, weight.ErrNoLoad},
		{weight.Reading{Name: "outside", Load: lb, On: weight.AxleOf(2)}, weight.ErrOutsideRig},
		{weight.Reading{Name: "far outside", Load: lb, On: 1 << 60}, weight.ErrOutsideRig},
		{weight.Reading{Name: "tolerance", Load: lb, Tolerance: -1, On: weight.AxleOf(0)}, weight.ErrTolerance},
		{weight.Reading{Name: "wheel", Load: lb, On: weight.WheelOf(0, weight.Left, weight.Outer)}, weight.ErrOneWheel},
	} {
		sol := mustSolve(t, rig, append([]weight.Reading{c.reading}, good...), scale)
		err := sol.Err()
		if !errors.Is(err, c.want) || !errors.Is(err, weight.ErrReading) || !strings.Contains(err.Error(), c.reading.Name) {
			t.Errorf("%s: got %v, want %v with its name", c.reading.Name, err, c.want)
		}
		var typed *weight.ReadingError
		if !errors.As(err, &typed) || typed.Name != c.reading.Name || len(sol.Rejected()) != 1 {
			t.Errorf("%s: %#v is not that reading's error", c.reading.Name, err)
		}
		if e := sol.Of(weight.AxleOf(1)); e.Load != 17_000*lb || e.State != weight.Determined || len(sol.Readings()) != 4 {
			t.Errorf("%s sinks the rest: %+v", c.reading.Name, e)
		}
	}
}

func TestSolveErrors(t *testing.T) {
	rig := rigtest.Coach()
	one := weight.Reading{Name: "x", Load: 1<<62 + 1, On: rig.All()}
	for _, c := range []struct {
		name     string
		rig      weight.Rig
		readings []weight.Reading
		want     error
	}{
		{"no axle", weight.Rig{}, nil, weight.ErrRig},
		{"too many readings", rig, make([]weight.Reading, weight.MaxReadings+1), weight.ErrTooManyReadings},
		{"sum", rig, []weight.Reading{one, one}, origin.ErrRange},
	} {
		if _, err := weight.Solve(c.rig, c.readings, weight.Scale{}); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.want)
		}
	}
	sol := mustSolve(t, rig, nil, weight.Scale{})
	if e := sol.Of(rig.All()); e.Known() {
		t.Errorf("no reading, but %+v", e)
	}
	if e := sol.Of(0); e.Known() {
		t.Errorf("empty set: %+v", e)
	}
	// A load near the end of the range is still an answer.
	long := weight.Reading{Name: strings.Repeat("ä", 100), On: rig.All()}
	if err := mustSolve(t, rig, []weight.Reading{long}, weight.Scale{}).Err(); len(err.Error()) > 100 || !strings.Contains(err.Error(), "ä…") {
		t.Errorf("a long name: %v", err)
	}
	sol = mustSolve(t, rig, []weight.Reading{{Name: "huge", Load: 1 << 61, Tolerance: lb, On: rig.All()}}, weight.Scale{})
	if e := sol.Of(rig.All()); e.State != weight.Determined {
		t.Errorf("huge: %+v", e)
	}
}

func TestZeroSolution(t *testing.T) {
	var sol weight.Solution
	if sol.Of(1).Known() || sol.Difference(1, 2).Known() || sol.Err() != nil || sol.Undetermined() != nil || sol.SettleAll() != nil ||
		sol.Cautions() != nil || sol.SmallReadings() != nil || sol.OffDivision() != nil || sol.Residuals() != nil || sol.Readings() != nil || sol.Rejected() != nil ||
		sol.Conflicts() != nil || len(sol.Rig().Axles) != 0 || sol.Settle(1).Weighings != nil || sol.Scale().Kind != 0 {
		t.Error("the zero Solution says something")
	}
	if _, heavy := sol.HeavyDiagonal(); heavy {
		t.Error("the zero Solution has a diagonal")
	}
	if sol, err := sol.Assume(55 * weight.Percent); err != nil || sol.Of(1).Known() {
		t.Error("the zero Solution assumes")
	}
}

// A tolerance of 0 is not exact: the scale's own counts.
func TestToleranceFilledIn(t *testing.T) {
	rig := rigtest.Coach()
	sol := mustSolve(t, rig, []weight.Reading{{Name: "all", Load: 26_000 * lb, On: rig.All()}}, weight.Scale{})
	if e := sol.Of(rig.All()); e.PlusMinus != 60*lb {
		t.Errorf("got plus/minus %s, want 60 lb", e.PlusMinus)
	}
	if got := sol.Readings()[0].Tolerance; got != 60*lb {
		t.Errorf("reading kept with %s", got)
	}
}

func TestWholeAxleScale(t *testing.T) {
	// The usual truck-stop slip: steer, drive and tag together, towed unit
	// (common practice).
	rig, scale := rigtest.TaggedWithTrailer(), weight.Scale{Kind: weight.WholeAxles}
	sol := mustSolve(t, rig, []weight.Reading{
		scale.Reading("steer", 12_000*lb, weight.AxleOf(0)),
		scale.Reading("drive", 24_000*lb, rigtest.Axles(1, 2)),
		scale.Reading("trailer", 9_000*lb, rig.Towed()),
	}, scale)
	for set, want := range map[weight.Set]weight.Mass{weight.AxleOf(0): 12_000, rigtest.Axles(1, 2): 24_000, rig.Coach(): 36_000, rig.All(): 45_000, rig.Towed(): 9_000} {
		if e := sol.Of(set); e.Load != want*lb || e.State != weight.Determined {
			t.Errorf("%s: %+v", rig.Name(set), e)
		}
	}
	for _, set := range []weight.Set{weight.AxleOf(1), weight.AxleOf(2), weight.EndOf(0, weight.Left), rig.Coach() & weight.SideOf(weight.Left)} {
		if e := sol.Of(set); e.Known() {
			t.Errorf("%s is said to be %+v", rig.Name(set), e)
		}
	}
	assumed, err := sol.Assume(weight.UsualHeavierEnd)
	if err != nil {
		t.Fatal(err)
	}
	// 55 % of 12,000 is 6,600 at either end, 55 % of 40 is 22 (computed).
	for _, side := range []weight.Side{weight.Left, weight.Right} {
		if e := assumed.Of(weight.EndOf(0, side)); e.Load != 6_600*lb || e.PlusMinus != 22*lb || e.State != weight.Assumed {
			t.Errorf("%s steer end %+v", side, e)
		}
	}
	// Drive and tag were not read apart: their ends stay open, and so does a
	// side that takes them in.
	for _, set := range []weight.Set{weight.EndOf(1, weight.Left), rig.Coach() & weight.SideOf(weight.Left), weight.WheelOf(1, weight.Left, weight.Inner), weight.EndOf(0, weight.Left) | weight.AxleOf(1), 1 << 50} {
		if e := assumed.Of(set); e.Known() {
			t.Errorf("%s is said to be %+v", set, e)
		}
	}
	// A mixed sum is assumed too, and what was read stays determined.
	if e := assumed.Of(weight.EndOf(0, weight.Left) | rigtest.Axles(1, 2)); e.Load != 30_600*lb || e.State != weight.Assumed {
		t.Errorf("mixed: %+v", e)
	}
	if e := assumed.Of(weight.AxleOf(0)); e.State != weight.Determined {
		t.Errorf("steer axle: %+v", e)
	}
	if !slices.Contains(assumed.Cautions(), weight.AssumedShare) || slices.Contains(sol.Cautions(), weight.AssumedShare) {
		t.Error("the caution does not follow the assumption")
	}
	for _, bad := range []weight.Share{50 * weight.Percent, 0, -55 * weight.Percent, 101 * weight.Percent} {
		if _, err := sol.Assume(bad); !errors.Is(err, origin.ErrRange) {
			t.Errorf("assume %s: %v", bad, err)
		}
	}
	// The assumed end leans to the heavy side: never less than half, rounded up.
	odd := mustSolve(t, rig, []weight.Reading{{Name: "steer", Load: 1_111_111_111_111, Tolerance: 1, On: weight.AxleOf(0)}}, scale)
	odd, _ = odd.Assume(55 * weight.Percent)
	if e := odd.Of(weight.EndOf(0, weight.Left)); e.Load*100 < 1_111_111_111_111*55 || e.Load%rig.System.MassGrid() != 0 {
		t.Errorf("assumed end %+v", e)
	}
}

func TestTilt(t *testing.T) {
	rig := rigtest.Coach()
	for _, level := range []weight.YesNo{weight.NotSaid, weight.No, weight.Yes} {
		scale := weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: level}}
		sol := mustSolve(t, rig, corners(scale, rig), scale)
		right := sol.Of(rig.All() & weight.SideOf(weight.Right))
		want := 360 * lb // 26,000 lb, 2 %, 54 in, 78 in (computed)
		if level == weight.Yes {
			want = 0
		}
		if right.FromSlope != want {
			t.Errorf("level %s: tilt of the right side %s, want %s", level, right.FromSlope, want)
		}
		// The plus/minus is the whole doubt: 100 lb of tolerances (60 + 40), and the slope.
		if right.PlusMinus != 100*lb+want || right.FromScale() != 100*lb || right.AtMost() != right.Load+100*lb+want || right.AtLeast() != right.Load-100*lb-want {
			t.Errorf("level %s: the right side %+v, from %s to %s", level, right, right.AtLeast(), right.AtMost())
		}
		if e := sol.Of(weight.EndOf(0, weight.Left)); e.FromSlope != 0 {
			t.Errorf("level %s: an end read in one draft tilts %s", level, e.FromSlope)
		}
		if e := sol.Of(weight.AxleOf(1)); e.FromSlope != 0 {
			t.Errorf("level %s: a whole axle tilts %s", level, e.FromSlope)
		}
		// An end by subtraction 200 lb under its limit: kept only on a level plate.
		limit := cargo.Limit{Name: "half GAWR", Rating: 8_800 * lb, On: weight.EndOf(1, weight.Left)}
		m := cargo.Margins(sol, []cargo.Limit{limit})[0]
		if m.Kept() != (level == weight.Yes) || m.Over() {
			t.Errorf("level %s: %s", level, m.Room)
		}
	}
	// Where the axle is not determined, twice the end serves.
	scale := weight.Scale{Kind: weight.Platform}
	left := rig.All() & weight.SideOf(weight.Left)
	sol := mustSolve(t, rig, []weight.Reading{scale.Reading("left", 13_200*lb, left), scale.Reading("left front", 4_600*lb, weight.EndOf(0, weight.Left))}, scale)
	e := sol.Of(weight.EndOf(1, weight.Left))
	want, _ := weight.CrossfallShift(17_200*lb, 2*weight.Percent, 54*weight.Inch, 78*weight.Inch)
	if e.FromSlope != want.Round(rig.System.MassGrid(), weight.Ceiling) {
		t.Errorf("tilt %s, want %s", e.FromSlope, want)
	}
}

func TestTiltAtTheEdges(t *testing.T) {
	rig := rigtest.Coach()
	left := rig.All() & weight.SideOf(weight.Left)
	scale := weight.Scale{Kind: weight.Platform}
	read := func(side weight.Mass) []weight.Reading {
		return []weight.Reading{{Name: "left", Load: side * lb, Tolerance: 20 * lb, On: left}, {Name: "left front", Load: 6_000 * lb, Tolerance: 20 * lb, On: weight.EndOf(0, weight.Left)}}
	}
	// Nothing tilts where nothing stands.
	if e := mustSolve(t, rig, read(5_990), scale).Of(weight.EndOf(1, weight.Left)); e.Load != 0 || e.FromSlope != 0 {
		t.Errorf("an end of nothing: %+v", e)
	}
	// A track of next to nothing makes the tilt decide nothing.
	rig.Track = 1
	e := mustSolve(t, rig, read(14_000), scale).Of(weight.EndOf(1, weight.Left))
	if m := cargo.MarginOf(cargo.Limit{Rating: 1 << 62}, e); e.FromSlope != 1<<63-1 || m.Kept() || m.Over() {
		t.Errorf("no track: %+v, %s", e, m.Room)
	}
	if got := mustSolve(t, rig, nil, scale).Scale(); got != scale {
		t.Errorf("scale %+v", got)
	}
}

func TestHeavyDiagonal(t *testing.T) {
	rig := rigtest.Coach()
	scale := weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
	read := func(lf, rf, lr, rr weight.Mass) weight.Solution {
		var out []weight.Reading
		for i, load := range []weight.Mass{lf, rf, lr, rr} {
			side := weight.Side(1 + i%2)
			out = append(out, weight.Reading{Name: fmt.Sprint(i), Load: load * lb, Tolerance: 20 * lb, On: weight.EndOf(i/2, side)})
		}
		return mustSolve(t, rig, out, scale)
	}
	for _, c := range []struct {
		name  string
		sol   weight.Solution
		heavy weight.Set
		by    weight.Mass
	}{
		{"left front and right rear", read(4_800, 4_200, 8_200, 8_800), weight.EndOf(0, weight.Left) | weight.EndOf(1, weight.Right), 1_200},
		{"right front and left rear", read(4_200, 4_800, 8_800, 8_200), weight.EndOf(0, weight.Right) | weight.EndOf(1, weight.Left), 1_200},
		{"a heavy side is cargo", read(4_800, 4_200, 8_800, 8_200), 0, 0},
		{"inside the doubt", read(4_520, 4_480, 8_200, 8_800), 0, 0},
	} {
		d, ok := c.sol.HeavyDiagonal()
		if ok != (c.heavy != 0) || d.Heavy != c.heavy || d.By.Load != c.by*lb {
			t.Errorf("%s: got %+v, %v", c.name, d, ok)
		}
		if slices.Contains(c.sol.Cautions(), weight.HeavyDiagonal) != ok {
			t.Errorf("%s: caution", c.name)
		}
	}
	rig.Air = weight.No
	if slices.Contains(read(4_800, 4_200, 8_200, 8_800).Cautions(), weight.HeavyDiagonal) {
		t.Error("ride height is blamed without air suspension")
	}
	rig = weight.Rig{Axles: rig.Axles[:1]}
	if _, ok := mustSolve(t, rig, nil, scale).HeavyDiagonal(); ok {
		t.Error("one axle has a diagonal")
	}
}

func TestOneWheelOfAPair(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
	end, outer := weight.EndOf(1, weight.Left), weight.WheelOf(1, weight.Left, weight.Outer)
	sol := mustSolve(t, rig, []weight.Reading{scale.Reading("pair", 8_600*lb, end), scale.Reading("outer", 5_000*lb, outer)}, scale)
	if e := sol.Of(weight.WheelOf(1, weight.Left, weight.Inner)); e.Load != 3_600*lb || e.State != weight.Determined {
		t.Errorf("inner wheel %+v", e)
	}
	if e := sol.Of(weight.WheelOf(1, weight.Right, weight.Inner)); e.Known() {
		t.Errorf("the other side %+v", e)
	}
}

func TestSolutionIsImmutable(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform}
	readings := corners(scale, rig)
	sol := mustSolve(t, rig, readings, scale)
	before := sol.Of(weight.AxleOf(1))
	readings[0].Load, rig.Axles[0].ID = 1, "changed"
	sol.Readings()[0].Load = 1
	got := sol.Rig()
	got.Axles[0].ID = "changed"
	if sol.Of(weight.AxleOf(1)) != before || sol.Rig().Axles[0].ID != "steer" || sol.Readings()[0].Load != 26_000*lb {
		t.Error("a solution changed from outside")
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for _, set := range sol.Rig().Sums() {
				_ = sol.Of(set)
			}
			_ = sol.Undetermined()
		})
	}
	wg.Wait()
}

// A scale of 20 lb shows 4,380 and 4,400, never 4,390 or 4.38. Without a
// division stated, or on a finer scale, nobody knows better.
func TestOffDivision(t *testing.T) {
	rig, division := rigtest.Coach(), 20*lb
	for _, c := range []struct {
		division weight.Mass
		want     []string
	}{{division, []string{"typed", "tiny"}}, {10 * lb, []string{"tiny"}}, {0, nil}} {
		scale := weight.Scale{Kind: weight.Platform, Division: c.division}
		sol := mustSolve(t, rig, []weight.Reading{
			scale.Reading("read", 4_380*lb, weight.EndOf(0, weight.Left)), scale.Reading("typed", 4_390*lb, weight.EndOf(0, weight.Right)),
			scale.Reading("tiny", 438*lb/100, weight.EndOf(1, weight.Left)),
		}, scale)
		if got := sol.OffDivision(); !slices.Equal(got, c.want) || slices.Contains(sol.Cautions(), weight.OffDivision) != (c.want != nil) {
			t.Errorf("division %s: %v, cautions %v", c.division, got, sol.Cautions())
		}
	}
}

func TestSmallReadings(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform}
	sol := mustSolve(t, rig, []weight.Reading{scale.Reading("tiny", 980*lb, weight.EndOf(0, weight.Left)), scale.Reading("enough", 1_000*lb, weight.EndOf(0, weight.Right))}, scale)
	if got := sol.SmallReadings(); !slices.Equal(got, []string{"tiny"}) {
		t.Errorf("below 50 divisions of 20 lb: %v", got)
	}
	if !slices.Contains(sol.Cautions(), weight.SmallLoad) || !slices.Contains(sol.Cautions(), weight.SplitWeighing) {
		t.Errorf("cautions %v", sol.Cautions())
	}
}

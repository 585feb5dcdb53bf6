package cargo_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// As many items, stations and limits as are taken, and one more of each.
func TestMovesAtTheirBounds(t *testing.T) {
	trip := mustTrip(t, weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400))
	task := func(items, stations, limits, leasts int) (c cargo.Task) {
		for i := range stations {
			c.Stations = append(c.Stations, cargo.Station{Name: fmt.Sprint("bay ", i+1)})
		}
		for range items {
			c.Items = append(c.Items, cargo.Item{Name: "box", Mass: 1, At: "bay 1"})
		}
		for range limits {
			c.Limits = append(c.Limits, cargo.Limit{Name: "GAWR", Rating: 99_000 * lb, On: weight.AxleOf(0)})
		}
		for range leasts {
			c.LeastLoads = append(c.LeastLoads, cargo.LeastLoad{Name: "steer", Load: lb, On: weight.AxleOf(0)})
		}
		return c
	}
	heavy := func(masses ...weight.Mass) cargo.Task {
		c := task(len(masses), 1, 0, 0)
		for i, m := range masses {
			c.Items[i].Mass = m
		}
		return c
	}
	most := 1_000_000 * weight.Kilogram
	for _, c := range []struct {
		name  string
		task  cargo.Task
		stage int
		want  error
	}{
		{"60 items, 60 stations, 200 limits", task(60, 60, 200, 0), 0, nil},
		{"61 items", task(61, 60, 0, 0), 0, cargo.ErrPlan},
		{"61 stations", task(0, 61, 0, 0), 0, cargo.ErrPlan},
		{"100 limits and 100 leasts", task(1, 1, 100, 100), 0, nil},
		{"100 limits and 101 leasts", task(1, 1, 100, 101), 0, cargo.ErrPlan},
		{"201 leasts", task(1, 1, 0, 201), 0, cargo.ErrPlan},
		{"no stage", task(1, 1, 0, 0), -1, cargo.ErrPlan},
		{"a stage too many", task(1, 1, 0, 0), 1, cargo.ErrPlan},
		{"a thousand tons", heavy(most-1, 1), 0, nil},
		{"a nanogram more", heavy(most, 1), 0, origin.ErrRange},
		{"far more", heavy(1<<62, 1<<62, 1<<62), 0, origin.ErrRange},
		{"the least", heavy(1), 0, nil},
		{"nothing", heavy(0), 0, cargo.ErrPlan},
		{"below nothing", heavy(-1), 0, cargo.ErrPlan},
	} {
		if got, err := cargo.PlanMoves(ctx, trip, c.stage, c.task); !errors.Is(err, c.want) || err == nil && got.Outcome != cargo.NothingToMove {
			t.Errorf("%s: %s, %v, want %v", c.name, got.Outcome, err, c.want)
		}
	}
}

// over is a task with an axle end that is over by some pounds, two bays and items in
// the left one.
func over(lbs weight.Mass, items ...cargo.Item) cargo.Task {
	in := weight.Inch
	return cargo.Task{
		Stations: []cargo.Station{{Name: "left", Behind: 252 * in, Offset: -39 * in}, {Name: "right", Behind: 252 * in, Offset: 39 * in}},
		Items:    items,
		Limits:   []cargo.Limit{{Name: "left end", Rating: (8_620 - lbs) * lb, On: weight.EndOf(1, weight.Left)}},
	}
}

func box(name string, m weight.Mass, to ...string) cargo.Item {
	return cargo.Item{Name: name, Mass: m * lb, At: "left", To: to}
}

// The least weight that is enough, then the fewest items; what must stay, and what no
// move keeps. The left end holds 8,600 lb with 20 lb of doubt; a box over it rests on
// it with all it weighs (computed).
func TestMovesAtTheirEdges(t *testing.T) {
	trip := mustTrip(t, weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400))
	right := func(rating weight.Mass) cargo.Limit {
		return cargo.Limit{Name: "right end", Rating: rating * lb, On: weight.EndOf(1, weight.Right)}
	}
	with := func(c cargo.Task, more ...cargo.Limit) cargo.Task {
		c.Limits = append(c.Limits, more...)
		return c
	}
	most := func(c cargo.Task, lbs weight.Mass) cargo.Task {
		c.Stations[1].Most = lbs * lb
		return c
	}
	for _, c := range []struct {
		name     string
		task     cargo.Task
		outcome  cargo.Outcome
		moved    []string
		stay     []string
		least    weight.Mass // lb
		blocking []string
	}{
		{"just kept", over(0, box("a", 10)), cargo.NothingToMove, nil, nil, 0, nil},
		{"just enough", over(10, box("a", 10)), cargo.Best, []string{"a"}, nil, 10, nil},
		{"too little", over(11, box("a", 10)), cargo.Hopeless, nil, nil, 0, []string{"left end"}},
		{"the lightest that is enough", over(10, box("a", 30), box("b", 12), box("c", 9)), cargo.Best, []string{"b"}, nil, 12, nil},
		{"one rather than two", over(10, box("a", 6), box("b", 6), box("c", 12)), cargo.Best, []string{"c"}, nil, 12, nil},
		{"two that weigh less than one", over(10, box("a", 6), box("b", 5), box("c", 12)), cargo.Best, []string{"a", "b"}, nil, 11, nil},
		{"nowhere to go", over(10, box("a", 10, "left")), cargo.MustStay, nil, []string{"a"}, 10, []string{"left end"}},
		{"one that may go", over(10, box("a", 10, "left"), box("b", 12, "right")), cargo.Best, []string{"b"}, nil, 12, nil},
		{"room on the other side", with(over(10, box("a", 10)), right(8_430)), cargo.Best, []string{"a"}, nil, 10, nil},
		{"a pound too little on the other side", with(over(10, box("a", 10)), right(8_429)), cargo.MustStay, nil, []string{"a"}, 10, nil},
		{"room for one of two", with(over(20, box("a", 10), box("b", 11)), right(8_430)), cargo.MustStay, []string{"a"}, []string{"b"}, 11, nil},
		{"room in the bay", most(over(10, box("a", 10)), 10), cargo.Best, []string{"a"}, nil, 10, nil},
		{"a pound too little in the bay", most(over(10, box("a", 10)), 9), cargo.MustStay, nil, []string{"a"}, 10, nil},
		{"two limits, one that nothing keeps", with(over(10, box("a", 10)), right(8_400)), cargo.Hopeless, nil, nil, 0, []string{"right end"}},
		{"neither is kept", with(over(10, box("a", 9)), right(8_400)), cargo.Hopeless, nil, nil, 0, []string{"left end", "right end"}},
	} {
		got, err := cargo.PlanMoves(ctx, trip, 0, c.task)
		var moved []string
		var sum, stay weight.Mass
		for _, m := range got.Moves {
			moved, sum = append(moved, m.Item), sum+m.Mass
			if m.From != "left" || m.To != "right" {
				t.Errorf("%s: %+v", c.name, m)
			}
		}
		for _, it := range c.task.Items {
			if slices.Contains(got.StayHome, it.Name) {
				stay += it.Mass
			}
		}
		if err != nil || got.Outcome != c.outcome || !slices.Equal(moved, c.moved) || !slices.Equal(got.StayHome, c.stay) || got.NoLessThan != c.least*lb || !slices.Equal(got.Blocking, c.blocking) || got.MovedMass != sum || got.StayMass != stay {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
}

// A place holds what it may, what is there already included; a rating of nothing and a
// set that nobody weighed are named, not kept.
func TestWhatIsKept(t *testing.T) {
	trip := mustTrip(t, weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400))
	one := func(lbs weight.Mass) cargo.Task {
		c := over(0, box("a", 10), box("b", 20))
		c.Stations[0].Most = lbs * lb
		return c
	}
	for lbs, want := range map[weight.Mass]cargo.Outcome{31: cargo.NothingToMove, 30: cargo.NothingToMove, 29: cargo.Best, 1: cargo.Best, 0: cargo.NothingToMove, -1: cargo.NothingToMove} {
		if got, err := cargo.PlanMoves(ctx, trip, 0, one(lbs)); err != nil || got.Outcome != want {
			t.Errorf("a bay of %d lb with 30 lb in it: %s, %v", lbs, got.Outcome, err)
		}
	}
	inner := weight.WheelOf(1, weight.Left, weight.Inner)
	c := over(0, box("a", 10))
	c.Limits = []cargo.Limit{
		{Name: "none", Rating: 0, On: weight.AxleOf(0)}, {Name: "below", Rating: -1, On: weight.AxleOf(0)}, {Name: "a wheel", Rating: 1, On: inner},
		{Name: "not there", Rating: 1, On: weight.AxleOf(4)}, {Name: "least", Rating: 9_040 * lb, On: weight.AxleOf(0)},
	}
	c.LeastLoads = []cargo.LeastLoad{{Name: "wheel", Load: 1, On: inner}, {Name: "nor there", Load: 1, On: weight.AxleOf(4)}, {Name: "steer", Load: 8_960 * lb, On: weight.AxleOf(0)}}
	got, err := cargo.PlanMoves(ctx, trip, 0, c)
	if want := []string{"none", "below", "a wheel", "not there", "wheel", "nor there"}; err != nil || got.Outcome != cargo.NothingToMove || !slices.Equal(got.NotJudged, want) {
		t.Errorf("%+v, %v", got, err)
	}
	// A nanogram more is over, or under, and 10 lb over the drive axle help neither.
	c.Limits[4].Rating--
	if got, err := cargo.PlanMoves(ctx, trip, 0, c); err != nil || got.Outcome != cargo.Hopeless || !slices.Equal(got.Blocking, []string{"least"}) {
		t.Errorf("a nanogram over: %+v, %v", got, err)
	}
	c.Limits[4].Rating++
	c.LeastLoads[2].Load++
	if got, err := cargo.PlanMoves(ctx, trip, 0, c); err != nil || got.Outcome != cargo.Hopeless || !slices.Equal(got.Blocking, []string{"steer"}) {
		t.Errorf("a nanogram under: %+v, %v", got, err)
	}
	c.LeastLoads[2].Load--
	c.Limits[0].Rating = 1
	if got, err := cargo.PlanMoves(ctx, trip, 0, c); err != nil || got.Outcome != cargo.Hopeless || !slices.Equal(got.Blocking, []string{"none"}) {
		t.Errorf("a rating of a nanogram: %+v, %v", got, err)
	}
}

// What is needed of a band's tongue: both weights, and both bounds of the band.
func TestTongueIsKept(t *testing.T) {
	trip := mustTrip(t, weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400))
	est := func(m, pm weight.Mass) weight.Estimate {
		return weight.Estimate{Load: m, PlusMinus: pm, State: weight.Determined}
	}
	c := over(0, box("a", 10))
	for _, x := range []struct {
		name          string
		tongue, towed weight.Estimate
		want          cargo.Outcome
		open          bool
	}{
		// 10 to 15 % (common practice) of 10,000: 1,000 to 1,500.
		{"at the least", est(1_000, 0), est(10_000, 0), cargo.NothingToMove, false},
		{"below it", est(999, 0), est(10_000, 0), cargo.Hopeless, false},
		{"at the most", est(1_500, 0), est(10_000, 0), cargo.NothingToMove, false},
		{"above it", est(1_501, 0), est(10_000, 0), cargo.Hopeless, false},
		// With its doubt it has to keep both: 1,001 to 1,499 of 10,000 +/- 7: 1,000.7 to 1,498.95.
		{"doubt, at the least", est(1_002, 1), est(10_000, 7), cargo.NothingToMove, false},
		{"doubt, below it", est(1_001, 1), est(10_000, 7), cargo.Hopeless, false},
		{"doubt, at the most", est(1_497, 1), est(10_000, 7), cargo.NothingToMove, false},
		{"doubt, above it", est(1_498, 1), est(10_000, 7), cargo.Hopeless, false},
		{"no tongue weight", weight.Estimate{}, est(10_000, 0), cargo.NothingToMove, true},
		{"no towed weight", est(1, 0), weight.Estimate{}, cargo.NothingToMove, true},
	} {
		c.Tongue = &cargo.TongueLimit{Band: tongueBand, Weight: x.tongue, Towed: x.towed}
		got, err := cargo.PlanMoves(ctx, trip, 0, c)
		if err != nil || got.Outcome != x.want || slices.Contains(got.NotJudged, "tongue") != x.open {
			t.Errorf("%s: %+v, %v", x.name, got, err)
		}
	}
}

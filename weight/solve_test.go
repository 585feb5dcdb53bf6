package weight_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// corners is FACTS section 3: all, front axle, left side, left front; and its
// difference 26,000 (60) - 9,000 (20) = 17,000 plus/minus 80 (computed).
func corners(scale weight.Scale, rig weight.Rig) []weight.Reading {
	return []weight.Reading{
		scale.Reading("all", 26_000*lb, rig.All()),
		scale.Reading("front axle", 9_000*lb, weight.AxleOf(0)),
		scale.Reading("left side", 13_200*lb, rig.All()&weight.SideOf(weight.Left)),
		scale.Reading("left front", 4_600*lb, weight.EndOf(0, weight.Left)),
	}
}

func TestFourCorners(t *testing.T) {
	rig, scale := coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	sol := mustSolve(t, rig, corners(scale, rig), scale)
	left, right := rig.All()&weight.SideOf(weight.Left), rig.All()&weight.SideOf(weight.Right)
	for _, c := range []struct {
		set      weight.Set
		load, pm weight.Mass
		drafts   int
		minus    bool
	}{
		// Left rear = left side - left front, the same for the right (common
		// practice); each plus/minus the sum of the tolerances used (computed).
		{weight.EndOf(0, weight.Left), 4_600, 20, 1, false},
		{weight.EndOf(0, weight.Right), 4_400, 40, 2, true},
		{weight.EndOf(1, weight.Left), 8_600, 60, 2, true},
		{weight.EndOf(1, weight.Right), 8_400, 140, 4, true},
		{weight.AxleOf(0), 9_000, 20, 1, false},
		{weight.AxleOf(1), 17_000, 80, 2, true},
		{left, 13_200, 40, 1, false},
		{right, 12_800, 100, 2, true},
		{rig.All(), 26_000, 60, 1, false},
	} {
		want := weight.Estimate{Load: c.load * lb, PlusMinus: c.pm * lb, State: weight.Determined, Drafts: c.drafts, Subtracted: c.minus}
		if got := sol.Of(c.set); got != want {
			t.Errorf("%s: got %+v, want %+v", rig.Name(c.set), got, want)
		}
	}
	if err := sol.Err(); err != nil {
		t.Error(err)
	}
	for _, r := range sol.Residuals() {
		if r.Off != 0 {
			t.Errorf("residual %+v of readings that are just enough", r)
		}
	}
	// A difference of two sides carries its own plus/minus: left - right is
	// twice the left side less the gross, 2 x 40 + 60 (computed).
	if d := sol.Difference(left, right); d.Load != 400*lb || d.PlusMinus != 140*lb {
		t.Errorf("left less right: %+v", d)
	}
	if d := sol.Difference(left, left); d.Load != 0 || d.PlusMinus != 0 || !d.Known() {
		t.Errorf("left less left: %+v", d)
	}
}

// A gross weight read in one draft is as sure as that reading, whatever else
// was read.
func TestDirectReadingIsAsSure(t *testing.T) {
	rig := taggedWithTrailer()
	scale := weight.Scale{Kind: weight.Segmented}
	readings := []weight.Reading{scale.Reading("gross", 30_000*lb, rig.Coach())}
	for i, load := range []weight.Mass{10_000, 14_000, 6_000} {
		readings = append(readings, scale.Reading(rig.Axles[i].ID, load*lb, weight.AxleOf(i)))
	}
	sol := mustSolve(t, rig, readings, scale)
	if e := sol.Of(rig.Coach()); e.Load != 30_000*lb || e.PlusMinus != 60*lb {
		t.Errorf("gross: %+v, want 30000 lb plus/minus 60 lb", e)
	}
}

// agrees with an independent solver on 10,000 random cases: what is
// determined, the load, and the worst case.
func TestSolveAgainstFloats(t *testing.T) {
	t.Parallel()
	cases := 10_000
	if testing.Short() {
		cases = 1_000
	}
	r := rand.New(rand.NewPCG(8, 1))
	known, open := 0, 0
	for k := range cases {
		rig, tr, readings := randomCase(r)
		grid := rig.System.MassGrid()
		for i := range readings { // errors well inside the tolerance
			readings[i].Load += weight.Mass(r.IntN(201)-100) * (readings[i].Tolerance / 100)
		}
		sol := mustSolve(t, rig, readings, weight.Scale{Stance: weight.Stance{Level: weight.Yes}})
		if err := sol.Err(); err != nil {
			t.Fatalf("case %d: readings inside their tolerances: %v", k, err)
		}
		space := echelonOf(readings)
		for _, set := range asked(r, rig) {
			e := sol.Of(set)
			if determined := space.determines(set); determined != (e.State == weight.Determined) {
				t.Fatalf("case %d, %s of %v: determined %v, got %+v", k, set, readings, determined, e)
			} else if !determined {
				open++
				continue
			}
			known++
			if gap := tr.on(set) - e.Load; max(gap, -gap) > e.PlusMinus {
				t.Fatalf("case %d, %s: truth %s outside %s plus/minus %s", k, set, tr.on(set), e.Load, e.PlusMinus)
			}
			load, pm := floatSolve(readings, space.pivots, set, float64(grid))
			if got := float64(e.Load) / float64(grid); math.Abs(got-math.Max(load, 0)) > 1.01 {
				t.Fatalf("case %d, %s: load %v, floats say %v", k, set, got, load)
			}
			low, high := load-pm, load+pm
			for _, rd := range readings {
				if rd.On == set {
					low = math.Max(low, float64(rd.Load-rd.Tolerance)/float64(grid))
					high = math.Min(high, float64(rd.Load+rd.Tolerance)/float64(grid))
				}
			}
			if got, want := float64(e.PlusMinus)/float64(grid), math.Max(load-low, high-load); got < want-0.6 || got > want+2.1 {
				t.Fatalf("case %d, %s: plus/minus %v, floats say %v", k, set, got, want)
			}
		}
	}
	if known < cases || open < cases {
		t.Errorf("lopsided cases: %d determined, %d open", known, open)
	}
}

// Without errors Solve returns the truth exactly; in any order of the
// readings; in words or in fractions.
func TestSolveExactAndPermuted(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 2))
	for k := range 300 {
		rig, tr, readings := randomCase(r)
		sol := mustSolve(t, rig, readings, weight.Scale{})
		shuffled := slices.Clone(readings)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		again := mustSolve(t, rig, shuffled, weight.Scale{})
		wide := sol.InFractions()
		for _, set := range asked(r, rig) {
			e := sol.Of(set)
			if e.Known() && e.Load != tr.on(set) {
				t.Fatalf("case %d, %s: %s, truth %s", k, set, e.Load, tr.on(set))
			}
			if got := again.Of(set); got != e {
				t.Fatalf("case %d, %s: %+v, permuted %+v", k, set, e, got)
			}
			if got := wide.Of(set); got != e {
				t.Fatalf("case %d, %s: %+v, in fractions %+v", k, set, e, got)
			}
		}
	}
}

// TestSolverForgets: a Solver answers as a new one does, whatever it solved
// before: readings in agreement, in conflict, and such as cannot be.
func TestSolverForgets(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 22))
	var one weight.Solver
	conflicts, rejected := 0, 0
	for k := range 300 {
		rig, _, readings := randomCase(r)
		switch r.IntN(4) {
		case 0:
			readings[r.IntN(len(readings))].Load *= 3
		case 1:
			readings[r.IntN(len(readings))].Load = 0
		}
		got, err1 := one.Solve(rig, readings, weight.Scale{})
		want, err2 := weight.Solve(rig, readings, weight.Scale{})
		if (err1 == nil) != (err2 == nil) {
			t.Fatalf("case %d: %v, want %v", k, err1, err2)
		}
		conflicts, rejected = conflicts+len(want.Conflicts()), rejected+len(want.Rejected())
		for _, set := range asked(r, rig) {
			if got.Of(set) != want.Of(set) {
				t.Fatalf("case %d, %s: %+v, want %+v", k, set, got.Of(set), want.Of(set))
			}
		}
		told := func(s weight.Solution) []any {
			return []any{fmt.Sprint(s.Err()), s.Residuals(), s.Readings(), s.Cautions(), s.Rig()}
		}
		if !reflect.DeepEqual(told(got), told(want)) {
			t.Fatalf("case %d: %v, want %v", k, told(got), told(want))
		}
	}
	if conflicts < 20 || rejected < 20 {
		t.Errorf("lopsided cases: %d conflicts, %d rejected", conflicts, rejected)
	}
	if _, err := one.Solve(weight.Rig{}, nil, weight.Scale{}); !errors.Is(err, weight.ErrRig) {
		t.Errorf("no rig: %v", err)
	}
}

// Readings of which no two share a position are added up without algebra: the
// same answers as in fractions, on the grid and off it.
func TestReadingsApart(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 21))
	known, open := 0, 0
	for k := range 500 {
		rig, tr, _ := randomCase(r)
		grid := rig.System.MassGrid()
		var readings []weight.Reading
		for rest, try := rig.All(), 0; rest != 0 && try < 10; try++ {
			on := randomSet(r, rig)
			if !rest.Contains(on) {
				continue
			}
			rest &^= on
			rd := weight.Reading{Name: fmt.Sprint("reading ", try), Load: tr.on(on), On: on, Tolerance: weight.Mass(r.IntN(3)) * 2000 * grid}
			switch r.IntN(8) {
			case 0:
				rd.Tolerance += 1 + weight.Mass(r.Int64N(int64(grid)))
			case 1:
				rd.Load += 1 + weight.Mass(r.Int64N(int64(grid)))
			}
			readings = append(readings, rd)
		}
		sol := mustSolve(t, rig, readings, weight.Scale{})
		wide := sol.InFractions()
		sets := asked(r, rig)
		for _, set := range append(sets, weight.AxleOf(weight.MaxAxles-1), 0) {
			other := sets[r.IntN(len(sets))]
			if got, want := sol.Of(set), wide.Of(set); got != want {
				t.Fatalf("case %d, %v, %s: %+v, in fractions %+v", k, readings, set, got, want)
			}
			if got, want := sol.Difference(set, other), wide.Difference(set, other); got != want {
				t.Fatalf("case %d, %v, %s less %s: %+v, in fractions %+v", k, readings, set, other, got, want)
			}
			if sol.Of(set).Known() {
				known++
			} else {
				open++
			}
		}
	}
	if known < 1000 || open < 1000 {
		t.Errorf("lopsided cases: %d determined, %d open", known, open)
	}
}

// Undetermined if and only if two different truths give the same readings:
// the null space, found by fractions, either moves the sum or does not.
func TestOpenIffTwoTruths(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	for k := range 400 {
		rig, tr, readings := randomCase(r)
		if len(rig.Axles) > 4 {
			continue
		}
		sol := mustSolve(t, rig, readings, weight.Scale{})
		null := nullSpace(readings, rig.All())
		for _, set := range asked(r, rig) {
			var other *truth
			for _, v := range null {
				if moved := dot(v, set); moved.Sign() != 0 {
					other = secondTruth(tr, v)
					break
				}
			}
			if (other != nil) != (sol.Of(set).State == weight.Undetermined) {
				t.Fatalf("case %d, %s of %v: second truth %v, got %+v", k, set, readings, other != nil, sol.Of(set))
			}
			if other == nil {
				continue
			}
			for _, rd := range readings {
				if other.on(rd.On) != rd.Load {
					t.Fatalf("case %d: the second truth gives another %s", k, rd.Name)
				}
			}
			if other.on(set) == tr.on(set) {
				t.Fatalf("case %d: the second truth is the same on %s", k, set)
			}
		}
	}
}

func nullSpace(readings []weight.Reading, all weight.Set) [][48]*big.Rat {
	var rows [][48]*big.Rat
	for _, r := range readings {
		var row [48]*big.Rat
		for j := range row {
			row[j] = big.NewRat(int64(r.On>>j&1), 1)
		}
		rows = append(rows, row)
	}
	pivotOf := map[int]int{}
	p := 0
	for col := range 48 {
		k := p
		for k < len(rows) && rows[k][col].Sign() == 0 {
			k++
		}
		if k == len(rows) {
			continue
		}
		rows[p], rows[k] = rows[k], rows[p]
		for i := range rows {
			if i == p || rows[i][col].Sign() == 0 {
				continue
			}
			f := new(big.Rat).Quo(rows[i][col], rows[p][col])
			for j := range 48 {
				rows[i][j] = new(big.Rat).Sub(rows[i][j], new(big.Rat).Mul(f, rows[p][j]))
			}
		}
		pivotOf[col] = p
		p++
	}
	var out [][48]*big.Rat
	for free := range 48 {
		if _, pivot := pivotOf[free]; pivot || all>>free&1 == 0 {
			continue
		}
		var v [48]*big.Rat
		for j := range v {
			v[j] = new(big.Rat)
		}
		v[free] = big.NewRat(1, 1)
		for col, row := range pivotOf {
			v[col].Quo(rows[row][free], rows[row][col]).Neg(v[col])
		}
		out = append(out, v)
	}
	return out
}

func dot(v [48]*big.Rat, set weight.Set) *big.Rat {
	sum := new(big.Rat)
	for j := range v {
		if set>>j&1 != 0 {
			sum.Add(sum, v[j])
		}
	}
	return sum
}

// secondTruth moves along v by whole grid steps, staying above nothing.
func secondTruth(tr *truth, v [48]*big.Rat) *truth {
	lcm := big.NewInt(1)
	for _, x := range v {
		g := new(big.Int).GCD(nil, nil, lcm, x.Denom())
		lcm.Mul(lcm, new(big.Int).Quo(x.Denom(), g))
	}
	out := *tr
	for j, x := range v {
		out[j] += weight.Mass(new(big.Int).Quo(new(big.Int).Mul(x.Num(), lcm), x.Denom()).Int64()) * weight.Gram
	}
	return &out
}

func TestOutgrowsWords(t *testing.T) {
	t.Parallel()
	// Tolerances without a common step: their squares outgrow 64 bits.
	rig := coach()
	readings := corners(weight.Scale{}, rig)
	readings = append(readings,
		weight.Reading{Name: "rear", Load: 17_010*lb + 1, Tolerance: 40*lb + 1, On: weight.AxleOf(1)},
		weight.Reading{Name: "right", Load: 12_790*lb + 7, Tolerance: 17 * weight.Kilogram, On: rig.All() & weight.SideOf(weight.Right)})
	sol := mustSolve(t, rig, readings, weight.Scale{Stance: weight.Stance{Level: weight.Yes}})
	if !sol.OutgrewWords() {
		t.Error("tolerances of no common step stayed in words")
	}
	if err := sol.Err(); err != nil {
		t.Fatal(err)
	}
	for _, set := range rig.Sums() {
		e := sol.Of(set)
		load, _ := floatSolve(readings, echelonOf(readings).pivots, set, float64(rig.System.MassGrid()))
		if got := float64(e.Load) / float64(rig.System.MassGrid()); math.Abs(got-load) > 1.01 {
			t.Errorf("%s: %v, floats say %v", rig.Name(set), got, load)
		}
		if e.Load%rig.System.MassGrid() != 0 || e.PlusMinus%rig.System.MassGrid() != 0 {
			t.Errorf("%s: %+v is off the grid", rig.Name(set), e)
		}
	}
	// Dense random sets give determinants that do so too, at the latest in Of.
	r := rand.New(rand.NewPCG(8, 4))
	big := 0
	for range 30 {
		rig := weight.Rig{}
		var tr truth
		for a := range weight.MaxAxles {
			rig.Axles = append(rig.Axles, weight.Axle{ID: fmt.Sprint(a)})
			for i := range 4 {
				tr[4*a+i] = weight.Mass(1000+r.IntN(3000)) * lb
			}
		}
		var readings []weight.Reading
		for i := range 52 {
			on := weight.Set(r.Uint64()) & rig.All()
			readings = append(readings, weight.Reading{Name: fmt.Sprint(i), Load: tr.on(on), Tolerance: 20 * lb, On: on})
		}
		sol := mustSolve(t, rig, readings, weight.Scale{})
		if sol.OutgrewWords() {
			big++
		}
		space := echelonOf(readings)
		for _, set := range rig.Sums()[:12] {
			if e := sol.Of(set); e.Known() != space.determines(set) || e.Known() && e.Load != tr.on(set) {
				t.Fatalf("%s: %+v, truth %s, determined %v", set, e, tr.on(set), space.determines(set))
			}
		}
		if big > 0 {
			break
		}
	}
	if big == 0 {
		t.Error("no dense case outgrew words")
	}
}

// As many readings as needed, but determinants beyond a word: each reading's
// own set is still exact, and nothing else is made up.
func TestDenseReadings(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 13))
	rig := weight.Rig{}
	var tr truth
	for a := range weight.MaxAxles {
		rig.Axles = append(rig.Axles, weight.Axle{ID: fmt.Sprint(a)})
		for i := range 4 {
			tr[4*a+i] = weight.Mass(1000+r.IntN(3000)) * lb
		}
	}
	var readings []weight.Reading
	for i := range 38 {
		on := weight.Set(r.Uint64()) & rig.All()
		readings = append(readings, weight.Reading{Name: fmt.Sprint(i), Load: tr.on(on), Tolerance: 20 * lb, On: on})
	}
	sol := mustSolve(t, rig, readings, weight.Scale{Stance: weight.Stance{Level: weight.Yes}})
	if err := sol.Err(); err != nil || !sol.OutgrewWords() {
		t.Fatal(err, sol.OutgrewWords())
	}
	for _, rd := range readings[:3] {
		if e := sol.Of(rd.On); e.Load != rd.Load || e.PlusMinus != rd.Tolerance || e.Drafts != 1 {
			t.Errorf("%s: %+v, want %s", rd.Name, e, rd.Load)
		}
	}
	space := echelonOf(readings)
	for a := range 3 {
		set := weight.AxleOf(a)
		if e := sol.Of(set); e.Known() != space.determines(set) || e.Known() && e.Load != tr.on(set) {
			t.Errorf("axle %d: %+v, truth %s", a+1, e, tr.on(set))
		}
	}
}

func TestRejectedReadings(t *testing.T) {
	rig, scale := coach(), weight.Scale{Kind: weight.Platform}
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
	rig := coach()
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
		sol.Cautions() != nil || sol.SmallReadings() != nil || sol.Residuals() != nil || sol.Readings() != nil || sol.Rejected() != nil ||
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
	rig := coach()
	sol := mustSolve(t, rig, []weight.Reading{{Name: "all", Load: 26_000 * lb, On: rig.All()}}, weight.Scale{})
	if e := sol.Of(rig.All()); e.PlusMinus != 60*lb {
		t.Errorf("got plus/minus %s, want 60 lb", e.PlusMinus)
	}
	if got := sol.Readings()[0].Tolerance; got != 60*lb {
		t.Errorf("reading kept with %s", got)
	}
}

func TestSecondPassWithinTolerance(t *testing.T) {
	rig, scale := coach(), weight.Scale{Kind: weight.Platform}
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
	rig := coach()
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

// What falls between two grid steps is rounded, and the plus/minus says so.
func TestRoundingIsCovered(t *testing.T) {
	rig := coach()
	pass := func(hundredths weight.Mass, axle int) weight.Reading {
		return weight.Reading{Name: fmt.Sprint(axle, hundredths), Load: hundredths * lb / 100, Tolerance: 20 * lb, On: weight.AxleOf(axle)}
	}
	for _, c := range []struct {
		front    []weight.Mass
		load, pm weight.Mass // hundredths, with a rear axle of 2,000 lb
	}{
		{[]weight.Mass{100_000, 100_100, 100_100}, 300_067, 4_001},
		{[]weight.Mass{100_000, 100_001}, 300_001, 4_001},
		{[]weight.Mass{100_000, 100_002}, 300_001, 4_000},
	} {
		readings := []weight.Reading{pass(200_000, 1)}
		for _, f := range c.front {
			readings = append(readings, pass(f, 0))
		}
		if e := mustSolve(t, rig, readings, weight.Scale{}).Of(rig.All()); e.Load != c.load*lb/100 || e.PlusMinus != c.pm*lb/100 {
			t.Errorf("%v: %+v", c.front, e)
		}
	}
}

// Least squares may leave one reading beyond its tolerance although loads
// exist that satisfy all: that is agreement.
func TestAgreementIsNotResiduals(t *testing.T) {
	rig := coach()
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
	rig, scale := coach(), weight.Scale{Kind: weight.Platform}
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
	rig, scale := coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
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
	rig, scale := taggedWithTrailer(), weight.Scale{Kind: weight.Segmented}
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
	rig, scale := coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
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
	rig := taggedWithTrailer()
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

func TestWholeAxleScale(t *testing.T) {
	// The usual truck-stop slip: steer, drive and tag together, towed unit
	// (common practice).
	rig, scale := taggedWithTrailer(), weight.Scale{Kind: weight.WholeAxles}
	sol := mustSolve(t, rig, []weight.Reading{
		scale.Reading("steer", 12_000*lb, weight.AxleOf(0)),
		scale.Reading("drive", 24_000*lb, axles(1, 2)),
		scale.Reading("trailer", 9_000*lb, rig.Towed()),
	}, scale)
	for set, want := range map[weight.Set]weight.Mass{weight.AxleOf(0): 12_000, axles(1, 2): 24_000, rig.Coach(): 36_000, rig.All(): 45_000, rig.Towed(): 9_000} {
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
	if e := assumed.Of(weight.EndOf(0, weight.Left) | axles(1, 2)); e.Load != 30_600*lb || e.State != weight.Assumed {
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
	rig := coach()
	for _, level := range []weight.YesNo{weight.NotSaid, weight.No, weight.Yes} {
		scale := weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: level}}
		sol := mustSolve(t, rig, corners(scale, rig), scale)
		right := sol.Of(rig.All() & weight.SideOf(weight.Right))
		want := 360 * lb // 26,000 lb, 2 %, 54 in, 78 in (FACTS section 3, computed)
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
		limit := cargo.Limit{Kind: cargo.HalfGAWR, Rating: 8_800 * lb, On: weight.EndOf(1, weight.Left)}
		verdict := cargo.Margins(sol, []cargo.Limit{limit})[0].Verdict
		if (verdict == cargo.Kept) != (level == weight.Yes) || level != weight.Yes && verdict != cargo.TooClose {
			t.Errorf("level %s: %s", level, verdict)
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
	rig := coach()
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
	if m := cargo.MarginOf(cargo.Limit{Rating: 1 << 62}, e); e.FromSlope != 1<<63-1 || m.Verdict != cargo.TooClose {
		t.Errorf("no track: %+v, %s", e, m.Verdict)
	}
	if got := mustSolve(t, rig, nil, scale).Scale(); got != scale {
		t.Errorf("scale %+v", got)
	}
}

// Tolerances whose squares still fit, but whose mean has too long a fraction.
func TestOutgrowsWordsWhenAsked(t *testing.T) {
	rig := coach()
	readings := []weight.Reading{
		{Name: "a", Load: 9_000 * lb, Tolerance: 1_000_000_007, On: weight.AxleOf(0)},
		{Name: "b", Load: 9_000*lb + 2_000_000_000, Tolerance: 1_000_000_011, On: weight.AxleOf(0)},
	}
	sol := mustSolve(t, rig, readings, weight.Scale{})
	if err := sol.Err(); err != nil || sol.OutgrewWords() {
		t.Fatal(err, sol.OutgrewWords())
	}
	e := sol.Of(weight.AxleOf(0))
	if load, _ := floatSolve(readings, echelonOf(readings).pivots, weight.AxleOf(0), 1e9); math.Abs(float64(e.Load)/1e9-load) > 4.6 || e != sol.InFractions().Of(weight.AxleOf(0)) {
		t.Errorf("got %+v, floats say %v, in fractions %+v", e, load, sol.InFractions().Of(weight.AxleOf(0)))
	}
}

func TestHeavyDiagonal(t *testing.T) {
	rig := coach()
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
	rig, scale := coach(), weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
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
	rig, scale := coach(), weight.Scale{Kind: weight.Platform}
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

func TestSmallReadings(t *testing.T) {
	rig, scale := coach(), weight.Scale{Kind: weight.Platform}
	sol := mustSolve(t, rig, []weight.Reading{scale.Reading("tiny", 980*lb, weight.EndOf(0, weight.Left)), scale.Reading("enough", 1_000*lb, weight.EndOf(0, weight.Right))}, scale)
	if got := sol.SmallReadings(); !slices.Equal(got, []string{"tiny"}) {
		t.Errorf("below 50 divisions of 20 lb: %v", got)
	}
	if !slices.Contains(sol.Cautions(), weight.SmallLoad) || !slices.Contains(sol.Cautions(), weight.SplitWeighing) {
		t.Errorf("cautions %v", sol.Cautions())
	}
}

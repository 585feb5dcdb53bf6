package weight_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/internal/testsize"
	"axleend.example/weight"
)

// corners are those of a usual platform weighing: all, front axle, left side, left front; and its
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
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
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
	rig := rigtest.TaggedWithTrailer()
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
	if !testsize.Full() {
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
	rig := rigtest.Coach()
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

// What falls between two grid steps is rounded, and the plus/minus says so.
func TestRoundingIsCovered(t *testing.T) {
	rig := rigtest.Coach()
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

// Tolerances whose squares still fit, but whose mean has too long a fraction.
func TestOutgrowsWordsWhenAsked(t *testing.T) {
	rig := rigtest.Coach()
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

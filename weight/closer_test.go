package weight

import (
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"testing"
)

// threeEnds is a rig of two single axles, with readings of some of its ends and sums of
// them: the left ends carry 3,000 and 5,000 lb, the right ones 4,000 and 6,000.
func threeEnds(off Mass, on ...Set) *solved {
	loads := map[Set]Mass{EndOf(0, Left): 3_000, EndOf(0, Right): 4_000, EndOf(1, Left): 5_000, EndOf(1, Right): 6_000}
	s := &solved{rig: Rig{Axles: []Axle{{Fitment: Single}, {Fitment: Single}}}}
	for i, set := range on {
		r := Reading{Name: strconv.Itoa(i), On: set, Tolerance: 20 * Pound, Load: off * Mass(i%2)}
		for end, m := range loads {
			if set.Contains(end) {
				r.Load += m * Pound
			}
		}
		s.readings = append(s.readings, r)
	}
	s.build()
	return s
}

// Readings that agree take no closer look: neither those that are just enough, nor more,
// nor many more, nor those that leave something open. Computed.
func TestAgreeingTakesNoCloserLook(t *testing.T) {
	lf, rf, lr, rr := EndOf(0, Left), EndOf(0, Right), EndOf(1, Left), EndOf(1, Right)
	front, rear := lf|rf, lr|rr
	for _, c := range []struct {
		name string
		off  Mass
		on   []Set
		fits bool
	}{
		{"one", 0, []Set{lf}, true},
		{"each end", 0, []Set{lf, rf, lr, rr}, true},
		{"each end by subtraction", 0, []Set{front | rear, front, lf, lf | lr}, true},
		{"open ends", 0, []Set{front, lf | lr}, true},
		{"one more than needed", 0, []Set{lf, rf, front}, true},
		{"one more, just within tolerance", 10 * Pound, []Set{front, front}, true},
		{"one more, at the tolerance", 40 * Pound, []Set{front, front}, true},
		{"one more, beyond it", 40*Pound + 2, []Set{front, front}, false},
		{"many more than needed", 0, []Set{lf, rf, front, front, front, front, front}, true},
		{"many more, within tolerance", 30 * Pound, []Set{front, front, front, front, front, front}, true},
		{"many more, beyond it", 50 * Pound, []Set{front, front, front, front, front, front}, false},
		{"an end at nothing", -4_000 * Pound, []Set{lf, front}, true},
		{"an end below nothing", -4_001 * Pound, []Set{lf, front}, false},
		{"many more, an end below nothing", -4_001 * Pound, []Set{lf, front, lf, front, lf, front, lf, front}, false},
	} {
		s := threeEnds(c.off, c.on...)
		if got := s.fits(); got != c.fits {
			t.Errorf("%s: fits %v", c.name, got)
		}
		big := *s
		if big.widen(); big.fits() != c.fits {
			t.Errorf("%s: in numbers of any size: fits %v", c.name, big.fits())
		}
	}
}

// What all readings together say for each is the same in words and in numbers of any
// size, and is that of the plain way.
func TestFittedAgainstFractions(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	compared := 0
	for k := range 120 {
		rig, readings := oddReadings(r)
		w := solvedThreeWays(t, rig, readings)
		sol, s, plain, anyLength, words, inWords := w.sol, w.sol.s, w.plain, w.anyLength, w.words, w.fit
		var gap [MaxReadings]int64
		inWords = inWords && words.gaps(s.readings, &gap)
		for i, reading := range s.readings {
			var want [4 * MaxAxles]int8
			s.vector(reading.On, 0, &want)
			fit := new(big.Rat)
			for j, c := range plain.coef(&want) {
				fit.Add(fit, new(big.Rat).Mul(c, new(big.Rat).SetInt64(int64(s.readings[j].Load))))
			}
			if got := new(big.Rat).SetFrac(anyLength.fitted(i), anyLength.det); got.Cmp(fit) != 0 {
				t.Fatalf("case %d: reading %d is fitted with %s, plain %s", k, i, got, fit)
			}
			if !inWords {
				continue
			}
			off := new(big.Rat).Sub(new(big.Rat).SetInt64(int64(reading.Load)), fit)
			det := words.det
			if len(s.readings) == words.rank {
				det = 1
			}
			if got := big.NewRat(gap[i], det); got.Cmp(off) != 0 {
				t.Fatalf("case %d: reading %d is off by %s, plain %s", k, i, got, off)
			}
			compared++
		}
		// The residuals are those, on the grid.
		if a, b := sol.Residuals(), sol.InFractions().Residuals(); !slices.Equal(a, b) {
			t.Fatalf("case %d: residuals %+v, in numbers of any size %+v", k, a, b)
		}
		// Classes stand in the order of their positions, each once, and make up each reading.
		all := Set(0)
		for i, c := range s.classes {
			if c == 0 || all&c != 0 || i > 0 && c&-c < s.classes[i-1]&-s.classes[i-1] {
				t.Fatalf("case %d: classes %v", k, s.classes)
			}
			all |= c
			for _, reading := range s.readings {
				if in := reading.On & c; in != 0 && in != c {
					t.Fatalf("case %d: class %s is split by %s", k, c, reading.On)
				}
			}
		}
	}
	if compared < 60 {
		t.Errorf("only %d compared", compared)
	}
}

// Where looking for contradictions has taken enough work, nothing is singled out and
// nothing that nobody looked at is taken for sure.
func TestContradictionsAfterEnoughWork(t *testing.T) {
	front, rear := AxleOf(0), AxleOf(1)
	for _, work := range []int{0, enoughWork + 1} {
		s := threeEnds(500*Pound, front, front, rear, rear, front|rear)
		s.readings[4].Load = 99_000 * Pound
		s.build()
		s.work = work
		s.contradictions()
		sure := work == 0
		if len(s.conflicts) == 0 || len(s.conflicts) > 1 && !sure || len(s.without) != 0 || s.conflicts[0].Suspects != nil {
			t.Errorf("after work of %d: %d conflicts, %d without one, first %+v", work, len(s.conflicts), len(s.without), s.conflicts[0])
		}
		if !sure && slices.Contains(s.inConflict, false) {
			t.Errorf("after work of %d: in a conflict %v", work, s.inConflict)
		}
		if !(Solution{s: s}).StretchedAgree() {
			t.Errorf("after work of %d: the readings do not agree within stretched tolerances %v", work, s.stretched)
		}
		first := s.agree([]int{0, 1, 2, 3, 4})
		for i, r := range s.readings {
			if !sure && s.stretched[i] < r.Tolerance+first.stretch {
				t.Errorf("reading %d: stretched to %s, want %s more than %s", i, s.stretched[i], first.stretch, r.Tolerance)
			}
		}
	}
}

// A sum goes to the grid, nearest, and its plus/minus up, the rounding of the sum
// included; what does not fit in a Mass is not known. Computed.
func TestRoundAtItsBounds(t *testing.T) {
	grid := Pound / 100
	most := greatest / grid * grid
	for _, c := range []struct {
		name     string
		load     [2]int64 // multiplied
		off      [2]int64
		den      int64
		want, pm Mass
		ok       bool
	}{
		{"nothing", [2]int64{0, 1}, [2]int64{0, 1}, 1, 0, 0, true},
		{"on the grid", [2]int64{int64(3 * grid), 1}, [2]int64{int64(grid), 1}, 1, 3 * grid, grid, true},
		{"below the half", [2]int64{int64(3*grid + grid/2 - 1), 1}, [2]int64{0, 1}, 1, 3 * grid, grid, true},
		{"over the half", [2]int64{int64(3*grid + grid/2 + 1), 1}, [2]int64{0, 1}, 1, 4 * grid, grid, true},
		{"below nothing", [2]int64{-int64(3*grid + grid/2 + 1), 1}, [2]int64{0, 1}, 1, -4 * grid, grid, true},
		{"a third", [2]int64{int64(3 * grid), 1}, [2]int64{int64(3 * grid), 1}, 3, grid, grid, true},
		{"the rounding just fits", [2]int64{int64(2 * grid), 1}, [2]int64{int64(2*grid) - 1, 1}, 2, grid, grid, true},
		{"the greatest", [2]int64{int64(most), 1}, [2]int64{0, 1}, 1, most, 0, true},
		{"twice the greatest", [2]int64{int64(greatest), 2}, [2]int64{0, 1}, 1, 0, 0, false},
		{"twice the greatest, below nothing", [2]int64{-int64(greatest), 2}, [2]int64{0, 1}, 1, 0, 0, false},
		{"far beyond", [2]int64{int64(greatest), 1 << 40}, [2]int64{0, 1}, 1, 0, 0, false},
		{"the greatest plus/minus", [2]int64{0, 1}, [2]int64{int64(most), 1}, 1, 0, most, true},
		{"more than that", [2]int64{0, 1}, [2]int64{int64(greatest), 2}, 1, 0, 0, false},
		{"halves of twice the greatest", [2]int64{int64(most), 2}, [2]int64{int64(most), 2}, 2, most, most, true},
	} {
		s := &solved{rig: Rig{System: US}}
		x := raw{w: weights{den: c.den}}
		x.load.addMul(c.load[0], c.load[1])
		x.off.addMul(c.off[0], c.off[1])
		if load, pm, ok := s.round(&x, nil); load != c.want || pm != c.pm || ok != c.ok {
			t.Errorf("%s: %d +/- %d, %v", c.name, load, pm, ok)
		}
		// The same as a combination of two readings, in numbers of any size.
		s.readings = []Reading{{Load: Mass(c.load[0])}, {Tolerance: Mass(c.off[0])}}
		y := raw{big: []*big.Int{big.NewInt(c.load[1]), big.NewInt(c.off[1])}, den: big.NewInt(c.den)}
		load, pm, ok := s.round(&y, nil)
		if c.ok && (load != c.want || pm != c.pm || !ok) || !c.ok && ok && load <= most && pm <= most && load >= -most {
			t.Errorf("%s: in numbers of any size %d +/- %d, %v", c.name, load, pm, ok)
		}
	}
}

// Which runs of axles stand on a plate at once: those that fit it, as far as the
// distances are known; on one platform from the front or up to the rear. Computed.
func TestRunsOnAPlate(t *testing.T) {
	rig := Rig{Axles: []Axle{{}, {Behind: 200 * Inch}, {Behind: 250 * Inch}, {}}}
	run := func(from, to int) (s Set) {
		for a := from; a <= to; a++ {
			s |= AxleOf(a)
		}
		return s
	}
	for _, c := range []struct {
		plate    Length
		from, to int
		want     bool
	}{
		{0, 0, 2, true}, {-1, 0, 2, true}, {1, 0, 1, false}, {1, 1, 1, true}, {1, 0, 3, true}, {1, 3, 3, true}, {1, 1, 3, true},
		{200 * Inch, 0, 1, true}, {200*Inch - 1, 0, 1, false}, {50 * Inch, 1, 2, true}, {50*Inch - 1, 1, 2, false}, {249 * Inch, 0, 2, false}, {250 * Inch, 0, 2, true},
	} {
		s := &solved{rig: rig, scale: Scale{Kind: Segmented, Plate: c.plate}}
		if got := s.onPlate(c.from, c.to); got != c.want {
			t.Errorf("axles %d to %d on a plate of %s: %v", c.from+1, c.to+1, c.plate, got)
		}
	}
	for kind, want := range map[ScaleKind][]Set{
		Segmented: {run(0, 0), run(1, 1), run(2, 2), run(3, 3), run(1, 2), run(2, 3), run(1, 3), run(0, 3)},
		Platform:  {run(0, 0), run(3, 3), run(2, 3), run(1, 3), run(0, 3)},
	} {
		s := &solved{rig: rig, scale: Scale{Kind: kind, Plate: 60 * Inch}}
		if got := s.runs(); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", kind, got, want)
		}
	}
}

// Round figures meet at their bounds, where programs stand still and ties are broken:
// the contradiction is that of the plain way, in words and in numbers of any size.
func TestContradictionsOfRoundFigures(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 5))
	found := 0
	for k := range 800 {
		rig := Rig{}
		for range 1 + r.IntN(3) {
			rig.Axles = append(rig.Axles, Axle{Fitment: Single})
		}
		s := &solved{rig: rig}
		for i := range 2 + r.IntN(7) {
			rd := Reading{Name: strconv.Itoa(i), Load: Mass(1+r.IntN(4)) * Pound, Tolerance: Mass(1+r.IntN(3)) * Pound}
			for rd.On == 0 {
				for a := range rig.Axles {
					for _, side := range []Side{Left, Right} {
						if r.IntN(2) == 0 {
							rd.On |= EndOf(a, side)
						}
					}
				}
			}
			s.readings = append(s.readings, rd)
		}
		s.build()
		list := make([]int, len(s.readings))
		for i := range list {
			list[i] = i
		}
		want := s.agreeInFractions(list)
		if got := s.agree(list); !reflect.DeepEqual(got, want) {
			t.Fatalf("case %d: contradiction %+v, plain %+v", k, got, want)
		}
		big := &program{n: len(s.classes), m: len(list), rows: s.bigRows(list), work: new(int)}
		if optimal, ok := big.run(); !ok || optimal != (want != nil) || optimal && !reflect.DeepEqual(s.contradiction(list, big), want) {
			t.Fatalf("case %d: in numbers of any size: %v, %v", k, optimal, ok)
		}
		if want != nil {
			found++
		}
	}
	if found < 60 {
		t.Errorf("only %d contradictions", found)
	}
}

// A settler whose numbers outgrow their bound says so, and gives nothing.
func TestSettlerOutgrown(t *testing.T) {
	for _, c := range []struct {
		basis, v []int64
		want     []int64
		ok       bool
	}{
		{[]int64{3, 1 << 29}, []int64{2, 1 << 29}, []int64{0, 1}, true},
		{[]int64{3, 1 << 29}, []int64{2, -1 << 29}, []int64{0, 0}, false},
		{[]int64{1, 1}, []int64{1, -small + 1}, []int64{0, -1}, true},
		{[]int64{1, 1}, []int64{1, small}, []int64{0, 1}, true},
		{[]int64{1, -1}, []int64{1, small}, []int64{0, 0}, false},
		{[]int64{1, -1}, []int64{0, small}, []int64{0, small}, true},
	} {
		y := &settler{basis: [][]int64{c.basis}, pivots: []int{0}, ok: true}
		if got := y.rest(c.v, 0); !slices.Equal(got, c.want) || y.ok != c.ok {
			t.Errorf("%d less %d: %d, %v", c.v, c.basis, got, y.ok)
		}
	}
}

// The heavier end carries more than half of an axle, and at most all of it.
func TestAssumeAtItsBounds(t *testing.T) {
	s := threeEnds(0, AxleOf(0))
	for share, want := range map[Share]bool{Whole / 2: false, Whole/2 + 1: true, Whole: true, Whole + 1: false, 0: false, -1: false} {
		sol, err := Solution{s: s}.Assume(share)
		if (err == nil) != want || (sol.assumed == share) != (want || share == 0) {
			t.Errorf("%d: %v", share, err)
		}
	}
}

package weight

import (
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"axleend.example/internal/testsize"
)

// fractions is the plain way, which the solver is held to: elimination that
// keeps track of the readings, and least squares over those that are more than
// needed, in fractions of any size.
type fractions struct {
	n, m  int
	rows  [][]*big.Rat // reduced: n columns of unknowns, then m of readings
	rank  int
	pivot []int
	pull  [][]*big.Rat // inverse of the redundancies' Gram matrix
	var2  []*big.Rat   // tolerance squared
}

func fractionsOf(on []int32, n, m int, readings []Reading) *fractions {
	y := &fractions{n: n, m: m}
	for i := range m {
		row := make([]*big.Rat, n+m)
		for j := range row {
			row[j] = new(big.Rat)
			if j < n {
				row[j].SetInt64(int64(on[i*n+j]))
			} else if j-n == i {
				row[j].SetInt64(1)
			}
		}
		y.rows = append(y.rows, row)
		t := new(big.Rat).SetInt64(int64(readings[i].Tolerance))
		y.var2 = append(y.var2, t.Mul(t, t))
	}
	y.pivot = ratReduce(y.rows, n)
	y.rank = len(y.pivot)
	d := m - y.rank
	if d == 0 {
		return y
	}
	gram := make([][]*big.Rat, d)
	for a := range d {
		gram[a] = make([]*big.Rat, 2*d)
		for b := range d {
			sum, t := new(big.Rat), new(big.Rat)
			for i := range m {
				t.Mul(y.null(a)[i], y.null(b)[i])
				sum.Add(sum, t.Mul(t, y.var2[i]))
			}
			gram[a][b], gram[a][d+b] = sum, new(big.Rat)
		}
		gram[a][d+a].SetInt64(1)
	}
	ratReduce(gram, d)
	for a := range d {
		y.pull = append(y.pull, gram[a][d:])
	}
	return y
}

func (y *fractions) null(k int) []*big.Rat { return y.rows[y.rank+k][y.n:] }

// coef is system.coef; nil means not determined.
func (y *fractions) coef(want *[4 * MaxAxles]int8) []*big.Rat {
	t := new(big.Rat)
	isPivot := make([]bool, y.n)
	for _, pc := range y.pivot {
		isPivot[pc] = true
	}
	for col := range y.n {
		if isPivot[col] {
			continue
		}
		sum := new(big.Rat)
		for p, pc := range y.pivot {
			sum.Add(sum, t.Mul(new(big.Rat).SetInt64(int64(want[pc])), y.rows[p][col]))
		}
		if sum.Cmp(new(big.Rat).SetInt64(int64(want[col]))) != 0 {
			return nil
		}
	}
	c := make([]*big.Rat, y.m)
	for i := range c {
		c[i] = new(big.Rat)
		for p, pc := range y.pivot {
			if want[pc] != 0 {
				c[i].Add(c[i], t.Mul(new(big.Rat).SetInt64(int64(want[pc])), y.rows[p][y.n+i]))
			}
		}
	}
	d := y.m - y.rank
	pull := make([]*big.Rat, d)
	for k := range d {
		pull[k] = new(big.Rat)
		for i, v := range y.null(k) {
			t.Mul(v, y.var2[i])
			pull[k].Add(pull[k], t.Mul(t, c[i]))
		}
	}
	for a := range d {
		shift := new(big.Rat)
		for b := range d {
			shift.Add(shift, t.Mul(y.pull[a][b], pull[b]))
		}
		for i, v := range y.null(a) {
			c[i].Sub(c[i], t.Mul(v, shift))
		}
	}
	return c
}

// agreeInFractions is agree with the dictionary in fractions.
func (s *solved) agreeInFractions(list []int) *agreement {
	n, m := len(s.classes), len(list)
	// A dictionary: each basic variable is rows[i][0] + sum rows[i][1+j] * the
	// j-th nonbasic one. Variables: 0..n-1 loads, n is t, then two slacks a
	// reading.
	rows := make([][]*big.Rat, 2*m+1)
	basic, nonbasic := make([]int, 2*m), make([]int, n+1)
	for j := range nonbasic {
		nonbasic[j] = j
	}
	for k, i := range list {
		r := s.readings[i]
		up, down := ratRow(n+2), ratRow(n+2)
		up[0].SetInt64(int64(r.Load))
		up[0].Add(up[0], new(big.Rat).SetInt64(int64(r.Tolerance)))
		down[0].SetInt64(int64(r.Tolerance))
		down[0].Sub(down[0], new(big.Rat).SetInt64(int64(r.Load)))
		for j, c := range s.classes {
			if r.On&c != 0 {
				up[1+j].SetInt64(-1)
				down[1+j].SetInt64(1)
			}
		}
		up[n+1].SetInt64(1)
		down[n+1].SetInt64(1)
		rows[2*k], rows[2*k+1] = up, down
		basic[2*k], basic[2*k+1] = n+1+2*k, n+2+2*k
	}
	goal := ratRow(n + 2)
	goal[n+1].SetInt64(1)
	rows[2*m] = goal

	first := -1
	for i := range basic {
		if rows[i][0].Sign() < 0 && (first < 0 || rows[i][0].Cmp(rows[first][0]) < 0) {
			first = i
		}
	}
	if first < 0 {
		return nil
	}
	turn(rows, basic, nonbasic, first, n)
	for goal[0].Sign() > 0 {
		// Bland's rule: the lowest variable that helps, so that it ends.
		enter := -1
		for j, v := range nonbasic {
			if goal[1+j].Sign() < 0 && (enter < 0 || v < nonbasic[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			return s.contradiction(list, &program{n: n, m: m, rows: fractionRows(rows), nonbasic: nonbasic})
		}
		leave := -1
		best, ratio := new(big.Rat), new(big.Rat)
		for i, v := range basic {
			if rows[i][1+enter].Sign() >= 0 {
				continue
			}
			ratio.Quo(rows[i][0], rows[i][1+enter]).Neg(ratio)
			if c := ratio.Cmp(best); leave < 0 || c < 0 || c == 0 && v < basic[leave] {
				leave = i
				best.Set(ratio)
			}
		}
		turn(rows, basic, nonbasic, leave, enter)
	}
	return nil
}

// turn exchanges a basic and a nonbasic variable.
func turn(rows [][]*big.Rat, basic, nonbasic []int, i, j int) {
	row := rows[i]
	inv := new(big.Rat).Inv(row[1+j])
	for k, v := range row {
		if k == 1+j {
			v.Set(inv)
		} else {
			v.Mul(v, inv).Neg(v)
		}
	}
	t := new(big.Rat)
	for r, other := range rows {
		f := other[1+j]
		if r == i || f.Sign() == 0 {
			continue
		}
		f = new(big.Rat).Set(f)
		for k, v := range row {
			if k == 1+j {
				other[k].Mul(f, v)
			} else if v.Sign() != 0 {
				other[k].Add(other[k], t.Mul(f, v))
			}
		}
	}
	basic[i], nonbasic[j] = nonbasic[j], basic[i]
}

// fractionRows hands the last rows to contradiction.
type fractionRows [][]*big.Rat

func (d fractionRows) sign(i, j int) int        { return d[i][j].Sign() }
func (d fractionRows) cell(i, j int) *big.Rat   { return d[i][j] }
func (d fractionRows) lower(i, k int) bool      { return d[i][0].Cmp(d[k][0]) < 0 }
func (d fractionRows) nearer(int, int, int) int { return 0 }
func (d fractionRows) turn(int, int) bool       { return false }

// oddReadings is a rig, and readings of it with tolerances of their own; some
// are wrong.
func oddReadings(r *rand.Rand) (Rig, []Reading) {
	var rig Rig
	for range 1 + r.IntN(4) {
		rig.Axles = append(rig.Axles, Axle{Fitment: Fitment(r.IntN(3))})
	}
	var loads [4 * MaxAxles]Mass
	for i := range loads {
		loads[i] = Mass(1+r.IntN(400_000)) * Pound / 100
	}
	var out []Reading
	for i := range 1 + r.IntN(14) {
		rd := Reading{Name: strconv.Itoa(i), On: Set(r.Uint64()) & rig.All(), Tolerance: Mass(1 + r.Int64N(1<<(1+r.IntN(44))))}
		for a, axle := range rig.Axles {
			for _, side := range []Side{Left, Right} {
				if end := EndOf(a, side); r.IntN(3) > 0 || axle.Fitment == Single {
					if rd.On &^= end; r.IntN(2) == 0 {
						rd.On |= end
					}
				}
			}
		}
		for i, m := range loads {
			if rd.On>>i&1 != 0 {
				rd.Load += m
			}
		}
		rd.Load += rd.Tolerance / 100 * Mass(r.IntN(220)-110)
		if r.IntN(8) == 0 {
			rd.Load = rd.Load / 100 * Mass(50+r.IntN(100))
		}
		out = append(out, rd)
	}
	return rig, out
}

// threeWays is one weighing solved the plain way, in numbers of any size, and in words,
// where these hold it.
type threeWays struct {
	sol       Solution
	plain     *fractions
	anyLength *normal
	words     system
	fit       bool // into words
}

func solvedThreeWays(t *testing.T, rig Rig, readings []Reading) threeWays {
	t.Helper()
	sol, err := Solve(rig, readings, Scale{})
	if err != nil {
		t.Fatal(err)
	}
	s := sol.s
	n, m := len(s.classes), len(s.readings)
	on := make([]int32, n*m)
	s.fill(on, n)
	words := system{n: n, m: m, width: n + m, rows: make([]int32, m*(n+m))}
	s.fill(words.rows, n+m)
	fit := words.reduce() && words.balance(s.readings)
	return threeWays{sol, fractionsOf(on, n, m, s.readings), newNormal(on, n, m, s.readings), words, fit}
}

// Every weight of every reading in every sum is that of the plain way, whichever
// form the numbers take, and so is every contradiction and every suspect.
func TestSolvingAgainstFractions(t *testing.T) {
	t.Parallel()
	cases := 800
	if !testsize.Full() {
		cases = 200
	}
	r := rand.New(rand.NewPCG(19, 1))
	sums, contradictions, suspects := 0, 0, 0
	for k := range cases {
		rig, readings := oddReadings(r)
		w := solvedThreeWays(t, rig, readings)
		sol, s, plain, anyLength := w.sol, w.sol.s, w.plain, w.anyLength
		n, m := len(s.classes), len(s.readings)
		for _, set := range append(rig.Sums(), Set(r.Uint64())&rig.All(), Set(r.Uint64())&rig.All()) {
			var want [4 * MaxAxles]int8
			if !s.vector(set, 0, &want) {
				continue
			}
			c := plain.coef(&want)
			got := anyLength.coef(&want)
			var in weights
			known, fit := false, false
			if w.fit {
				known, fit = w.words.coef(&want, &in)
			}
			if (got == nil) != (c == nil) || fit && known != (c != nil) {
				t.Fatalf("case %d: %s determined: %v, in words %v, plain %v", k, set, got != nil, known, c != nil)
			}
			for i, v := range c {
				if new(big.Rat).SetFrac(got[i], anyLength.det).Cmp(v) != 0 || fit && big.NewRat(in.c[i], in.den).Cmp(v) != 0 {
					t.Fatalf("case %d: reading %d counts in %s with %s/%s, plain %s", k, i, set, got[i], anyLength.det, v)
				}
			}
			sums++
		}
		list := make([]int, m)
		for i := range list {
			list[i] = i
		}
		r.Shuffle(m, func(i, j int) { list[i], list[j] = list[j], list[i] })
		first := s.agreeInFractions(list)
		if got := s.agree(list); !reflect.DeepEqual(got, first) {
			t.Fatalf("case %d: contradiction %+v, plain %+v", k, got, first)
		}
		big := &program{n: n, m: m, rows: s.bigRows(list), work: new(int)}
		if optimal, _ := big.run(); optimal != (first != nil) || optimal && !reflect.DeepEqual(s.contradiction(list, big), first) {
			t.Fatalf("case %d: in numbers of any size the readings contradict each other: %v", k, optimal)
		}
		guess := func(class int) Mass { return s.guess(s.classes[class]) }
		if first != nil && (s.fits() || anyLength.fits(s.readings, guess)) {
			t.Fatalf("case %d: the fit is within every tolerance, and yet: %+v", k, first)
		}
		if first == nil {
			continue
		}
		if len(s.without) == 0 && !sol.StretchedAgree() {
			t.Fatalf("case %d: the readings do not agree within stretched tolerances %v", k, s.stretched)
		}
		contradictions++
		var want []string
		for _, i := range first.readings {
			if s.agreeInFractions(slices.DeleteFunc(slices.Clone(list), func(k int) bool { return k == i })) == nil {
				want = append(want, s.readings[i].Name)
			}
		}
		if got := s.suspects(list, first); !slices.Equal(got, want) {
			t.Fatalf("case %d: suspects %q, plain %q", k, got, want)
		}
		suspects += len(want)
	}
	t.Logf("%d sums, %d contradictions, %d suspects", sums, contradictions, suspects)
	if sums < 5*cases || contradictions < cases/10 || suspects < cases/10 {
		t.Errorf("%d cases have %d sums, %d contradictions, %d suspects: that shows little", cases, sums, contradictions, suspects)
	}
}

package weight

import (
	"fmt"
	"math/big"
	"slices"

	"axleend.example/internal/word"
)

type solved struct {
	rig       Rig
	scale     Scale
	readings  []Reading // those used, tolerances filled in
	rejected  []*ReadingError
	conflicts []*Conflict

	classes []Set // positions that always stand on a plate together
	exact   system
	big     *normal // instead of exact, once that outgrew 64 bits, and for many readings
	work    int     // of the linear programs, all together

	// After a conflict: which readings are in one, the solutions without each
	// suspect, and the tolerances it would take to agree.
	inConflict []bool
	without    []*solved
	stretched  []Mass
}

// Solve finds what readings say about every sum of positions. It is exact
// linear algebra over up to [MaxReadings] readings of up to [MaxAxles] axles;
// where there are more readings than needed, least squares weighted by 1 over
// tolerance squared. Readings may come from several scales. Further weighings
// are proposed for scale, and its tolerance serves a reading that has none of
// its own.
//
// A reading that cannot be (an empty set, a reading of nothing, a position
// outside the rig) is left out, and [Solution.Rejected] lists it; readings that
// contradict each other are in [Solution.Conflicts]. What does not rest on them
// is still answered. [Solution.Err] joins both in one error.
//
// Solve fails only where nothing can be said: the error matches [ErrRig],
// [ErrTooManyReadings], or [origin.ErrRange] where loads would not add up within a
// Mass.
func Solve(rig Rig, readings []Reading, scale Scale) (Solution, error) {
	return (&solved{rig: rig, scale: scale}).solve(readings)
}

// solve solves for the rig and the scale of s; nothing else of s is set yet.
func (s *solved) solve(readings []Reading) (Solution, error) {
	if err := s.rig.Check(); err != nil {
		return Solution{}, err
	}
	if len(readings) > MaxReadings {
		return Solution{}, fmt.Errorf("%w: %d: want %d at most", ErrTooManyReadings, len(readings), MaxReadings)
	}
	s.rig.Axles = slices.Clone(s.rig.Axles)
	s.readings = make([]Reading, 0, len(readings))
	all := s.rig.All()
	var rule ToleranceRule // once it is asked for
	var sum Mass
	for i := range readings {
		r := readings[i]
		if r.Tolerance == 0 {
			if rule.Step == 0 {
				rule = s.scale.Tolerance()
			}
			r.Tolerance = rule.at(r.Load)
		}
		if err := s.check(&r, all); err != nil {
			s.rejected = append(s.rejected, &ReadingError{Name: r.Name, On: r.On, Err: err})
			continue
		}
		if sum = satAdd(sum, satAdd(r.Load, r.Tolerance)); sum == greatest {
			return Solution{}, fmt.Errorf("reading %q: %w", word.Clip(r.Name), outOfRange("sum of the readings"))
		}
		s.readings = append(s.readings, r)
	}
	s.build()
	if !s.fits() {
		s.contradictions()
	}
	return Solution{s: s}, nil
}

func (s *solved) check(r *Reading, all Set) error {
	switch {
	case r.On == 0:
		return ErrEmptyPlate
	case !all.Contains(r.On):
		return ErrOutsideRig
	case r.Load <= 0:
		return ErrNoLoad
	case r.Tolerance < 0:
		return ErrTolerance
	}
	if half := (r.On ^ r.On>>1) & (eachAxle * innerBits); half != 0 {
		for _, a := range half.Axles() {
			if s.rig.Axles[a].Fitment == Single {
				return ErrOneWheel
			}
		}
	}
	return nil
}

// build groups the positions into classes and eliminates.
func (s *solved) build() {
	var split [4 * MaxAxles]Set
	classes := split[:0]
	rest := s.rig.All()
	for k := range s.readings {
		set := s.readings[k].On
		for i, n := 0, len(classes); i < n; i++ {
			if in := classes[i] & set; in != 0 && in != classes[i] {
				classes[i] &^= in
				classes = append(classes, in)
			}
		}
		if in := rest & set; in != 0 {
			rest &^= in
			classes = append(classes, in)
		}
	}
	// In order of position, so that the order of the readings is no matter.
	for i := 1; i < len(classes); i++ {
		for k := i; k > 0 && classes[k]&-classes[k] < classes[k-1]&-classes[k-1]; k-- {
			classes[k], classes[k-1] = classes[k-1], classes[k]
		}
	}
	n, m := len(classes), len(s.readings)
	s.classes = slices.Clone(classes)
	if m > n+mostSurplus {
		s.widen()
		return
	}
	s.exact = system{n: n, m: m, width: n + m, rows: make([]int32, m*(n+m)), pivot: make([]uint8, 0, n)}
	s.fill(s.exact.rows, n+m)
	if !s.exact.reduce() || m > s.exact.rank+mostSurplus || m > s.exact.rank && !s.exact.balance(s.readings) {
		s.widen()
	}
}

// fill writes the readings as rows of 0 and 1 over the classes.
func (s *solved) fill(on []int32, width int) {
	for i := range s.readings {
		row, set := on[i*width:][:len(s.classes)], s.readings[i].On
		for j, c := range s.classes {
			if set&c != 0 {
				row[j] = 1
			}
		}
	}
}

// mostSurplus is how many more readings than needed exact takes: its work
// grows with their third power.
const mostSurplus = 4

// widen goes over to numbers of any size.
func (s *solved) widen() { s.big = s.normal() }

func (s *solved) normal() *normal {
	n, m := len(s.classes), len(s.readings)
	on := make([]int32, n*m)
	s.fill(on, n)
	return newNormal(on, n, m, s.readings)
}

// vector gives plus less minus as a number for each class, and false when no
// combination of readings can tell it.
func (s *solved) vector(plus, minus Set, want *[4 * MaxAxles]int8) bool {
	both := plus & minus
	plus, minus = plus&^both, minus&^both
	for j, c := range s.classes {
		switch {
		case plus&c == c:
			want[j] = 1
		case minus&c == c:
			want[j] = -1
		case (plus|minus)&c != 0:
			return false
		}
		plus, minus = plus&^c, minus&^c
	}
	return plus|minus == 0
}

// The bounds within which sums of 64 products stay in 128 bits, and a
// denominator times a grid in 64.
const (
	mostWeight = 1 << 50
	mostDen    = 1 << 30
)

// raw is an exact sum: load and plus/minus as num/den, or big.
type raw struct {
	w          weights
	big        []*big.Int // over den
	den        *big.Int
	load, off  wide
	drafts     int
	subtracted bool
}

// find gives plus less minus as the readings say it, with tolerances tol.
func (s *solved) find(plus, minus Set, tol func(i int) Mass, x *raw) bool {
	var want [4 * MaxAxles]int8
	if !s.vector(plus, minus, &want) {
		return false
	}
	if s.big == nil {
		known, fits := s.exact.coef(&want, &x.w)
		if fits && !known {
			return false
		}
		if fits && x.w.den < mostDen && s.sum(tol, x) {
			return true
		}
	}
	b := s.big
	if b == nil { // rare, and kept nowhere: a Solution does not change
		b = s.normal()
	}
	x.big, x.den, x.drafts, x.subtracted = b.coef(&want), b.det, 0, false
	for i := range x.big {
		if v := x.sign(i); v != 0 {
			x.drafts++
			x.subtracted = x.subtracted || v < 0
		}
	}
	return x.big != nil
}

// sum adds up the readings by their weights.
func (s *solved) sum(tol func(i int) Mass, x *raw) bool {
	x.load, x.off, x.drafts, x.subtracted = wide{}, wide{}, 0, false
	for i := range s.readings {
		c := x.w.c[i]
		if c == 0 {
			continue
		}
		if c >= mostWeight || c <= -mostWeight {
			return false
		}
		x.drafts++
		x.subtracted = x.subtracted || c < 0
		r := &s.readings[i]
		t := r.Tolerance
		if tol != nil {
			t = tol(i)
		}
		x.load.addMul(c, int64(r.Load))
		x.off.addMul(absInt(c), int64(t))
	}
	return true
}

// sign is the sign of the weight of reading i in x.
func (x *raw) sign(i int) int {
	switch {
	case x.big != nil:
		return x.big[i].Sign()
	case x.w.c[i] > 0:
		return 1
	case x.w.c[i] < 0:
		return -1
	}
	return 0
}

// round puts x on the grid.
func (s *solved) round(x *raw, tol func(i int) Mass) (load, pm Mass, ok bool) {
	grid := s.rig.System.MassGrid()
	if x.big != nil {
		return s.roundBig(x, tol, grid)
	}
	den := uint64(x.w.den) * uint64(grid)
	q, ok := x.load.abs().div(den, Nearest)
	if !ok || q > uint64(greatest)/uint64(grid) {
		return 0, 0, false
	}
	load = Mass(q) * grid
	if x.load.neg() {
		load = -load
	}
	gap := x.load
	gap.addMul(-int64(load), x.w.den)
	total := x.off.plus(gap.abs())
	p, ok := total.div(den, Ceiling)
	if !ok || p > uint64(greatest)/uint64(grid) {
		return 0, 0, false
	}
	return load, Mass(p) * grid, true
}

func (s *solved) roundBig(x *raw, tol func(i int) Mass, grid Mass) (load, pm Mass, ok bool) {
	sum, off, t := new(big.Int), new(big.Int), new(big.Int)
	for i, c := range x.big {
		r := s.readings[i]
		if tol != nil {
			r.Tolerance = tol(i)
		}
		sum.Add(sum, t.Mul(c, t.SetInt64(int64(r.Load))))
		off.Add(off, t.Abs(t.Mul(c, t.SetInt64(int64(r.Tolerance)))))
	}
	l := bigDiv(sum, x.den, grid, Nearest)
	off.Add(off, t.Abs(t.Sub(sum, t.Mul(l, x.den))))
	p := bigDiv(off, x.den, grid, Ceiling)
	if !l.IsInt64() || !p.IsInt64() || l.Int64() == -1<<63 {
		return 0, 0, false
	}
	return Mass(l.Int64()), Mass(p.Int64()), true
}

// fits reports whether the fitted loads agree with every reading within its
// tolerance and none is below nothing: then the readings can all be right.
// False only says that it takes a closer look.
func (s *solved) fits() bool {
	y := &s.exact
	if s.big != nil {
		return s.big.fits(s.readings, func(class int) Mass { return s.guess(s.classes[class]) })
	}
	if y.rank == y.m {
		return s.above(nil, 1)
	}
	return s.within()
}

// within is fits for more readings than needed.
func (s *solved) within() bool {
	var gap [MaxReadings]int64 // reading less fitted load, times det
	y := &s.exact
	if !y.gaps(s.readings, &gap) {
		return false
	}
	for i, r := range s.readings {
		var bad bool
		if most := times(int64(r.Tolerance), y.det, &bad); bad || absInt(gap[i]) > most {
			return false
		}
	}
	return s.above(&gap, y.det)
}

// above reports whether no fitted load is below nothing.
func (s *solved) above(gap *[MaxReadings]int64, det int64) bool {
	y := &s.exact
	var bad bool
	for p := range y.rank {
		var load wide
		for i, by := range y.by(p) {
			c := int64(by)
			if c == 0 {
				continue
			}
			f := times(c, det, &bad)
			if bad || absInt(f) >= mostWeight {
				return false
			}
			load.addMul(f, int64(s.readings[i].Load))
			if gap != nil {
				load.addMul(c, -gap[i])
			}
		}
		if !s.lessOpen(p, det, &load) || load.neg() {
			return false
		}
	}
	return true
}

// lessOpen takes off a pivot's load, times det, what its row holds of the classes that
// are open. It reports false where that is too much.
func (s *solved) lessOpen(p int, det int64, load *wide) bool {
	y := &s.exact
	var bad bool
	for _, f := range y.free {
		c := y.at(p)[f]
		if c == 0 {
			continue
		}
		v := times(-int64(c), det, &bad)
		if bad || absInt(v) >= mostWeight {
			return false
		}
		load.addMul(v, int64(s.guess(s.classes[f])))
	}
	return true
}

// guess is a likely load for a class the readings leave open: its part, by
// positions, of the reading that gives it least. If the rest is above nothing
// with that, loads exist that suit; any guess would do.
func (s *solved) guess(class Set) Mass {
	least := greatest
	for i := range s.readings {
		if r := &s.readings[i]; r.On&class != 0 {
			least = min(least, r.Load/Mass(r.On.Len())*Mass(class.Len()))
		}
	}
	return least
}

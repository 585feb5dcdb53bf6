package weight

import (
	"errors"
	"fmt"
	"math/big"
	"slices"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// A Solution is what a set of readings says. It is immutable and safe for
// concurrent use; the zero Solution knows nothing.
type Solution struct {
	s       *solved
	assumed Share
}

type solved struct {
	rig       Rig
	scale     Scale
	readings  []Reading // those used, tolerances filled in
	rejected  []*ReadingError
	conflicts []*Conflict

	classes []Set // positions that always stand on a plate together
	apart   bool  // no two readings share a position, and all are on the grid: addUp tells all
	exact   system
	big     *bigSystem // instead of exact, once that outgrew 64 bits

	// After a conflict: which readings are in one, the solutions without each
	// suspect, and the tolerances it would take to agree.
	inConflict []bool
	without    []*solved
	stretched  []Mass

	// Room for the usual case, so that it takes one allocation.
	smallClasses  [8]Set
	smallRows     [40]int32
	smallColumns  [16]uint8
	smallReadings [6]Reading
	smallAxles    [3]Axle
}

// Solve finds what readings say about every sum of positions. It is exact
// linear algebra over up to [MaxReadings] readings of up to [MaxAxles] axles;
// where there are more readings than needed, least squares weighted by 1 over
// tolerance squared. Readings may come from several scales; scale is the one
// that further placements are asked of, and whose tolerance serves a reading
// that has none.
//
// A reading that cannot be (an empty set, a reading of nothing, a position
// outside the rig) is left out and told by [Solution.Rejected]; readings that
// contradict each other are told by [Solution.Conflicts], and what does not
// rest on them is still answered. [Solution.Err] is both as one error.
//
// The error is for what leaves nothing to say: it matches [ErrRig],
// [ErrTooManyReadings], or [origin.ErrRange] where loads would not add up within a
// Mass.
func Solve(rig Rig, readings []Reading, scale Scale) (Solution, error) {
	return (&solved{rig: rig, scale: scale}).solve(readings)
}

// A Solver is [Solve] for one set of readings after another, in the same memory.
// The zero Solver is ready; it is for one goroutine at a time.
type Solver struct{ s solved }

// Solve is the function [Solve], but the Solution holds only until the next call.
func (v *Solver) Solve(rig Rig, readings []Reading, scale Scale) (Solution, error) {
	v.s = solved{rig: rig, scale: scale}
	return v.s.solve(readings)
}

// solve solves for the rig and on the scale of s, of which nothing else is set.
func (s *solved) solve(readings []Reading) (Solution, error) {
	if err := s.rig.Check(); err != nil {
		return Solution{}, err
	}
	if len(readings) > MaxReadings {
		return Solution{}, fmt.Errorf("%w: %d: want %d at most", ErrTooManyReadings, len(readings), MaxReadings)
	}
	s.rig.Axles = append(s.smallAxles[:0], s.rig.Axles...)
	s.readings = s.smallReadings[:0]
	if len(readings) > cap(s.readings) {
		s.readings = make([]Reading, 0, len(readings))
	}
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
	rest, apart := s.rig.All(), true
	for k := range s.readings {
		set := s.readings[k].On
		apart = apart && rest.Contains(set)
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
	s.classes = append(s.smallClasses[:0], classes...)
	if s.apart = apart && s.onGrid(); s.apart {
		s.exact = system{n: n, m: m, rank: m}
		return
	}
	rows, columns := s.smallRows[:], s.smallColumns[:]
	if need := m * (n + m); need > len(rows) {
		rows = make([]int32, need)
	}
	if 2*n > len(columns) {
		columns = make([]uint8, 2*n)
	}
	s.exact = system{
		n: n, m: m, rows: rows[:m*(n+m)],
		pivot: columns[:0:n], free: columns[n:n],
	}
	s.fill(s.exact.rows, n+m)
	if !s.exact.reduce() || m > s.exact.rank && !s.exact.balance(s.readings) {
		s.widen()
	}
}

func (s *solved) onGrid() bool {
	grid := s.rig.System.MassGrid()
	for i := range s.readings {
		if r := &s.readings[i]; r.Load%grid != 0 || r.Tolerance%grid != 0 {
			return false
		}
	}
	return true
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

// widen goes over to fractions of any size.
func (s *solved) widen() {
	n, m := len(s.classes), len(s.readings)
	on := make([]int32, n*m)
	s.fill(on, n)
	s.big = newBigSystem(on, n, m, s.readings)
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
	big        []*big.Rat
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
		on := make([]int32, len(s.classes)*len(s.readings))
		s.fill(on, len(s.classes))
		b = newBigSystem(on, len(s.classes), len(s.readings), s.readings)
	}
	x.big, x.drafts, x.subtracted = b.coef(&want), 0, false
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

// sign is that of the weight of reading i in x.
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
	sum, off, t := new(big.Rat), new(big.Rat), new(big.Rat)
	for i, c := range x.big {
		r := s.readings[i]
		if tol != nil {
			r.Tolerance = tol(i)
		}
		sum.Add(sum, t.Mul(c, new(big.Rat).SetInt64(int64(r.Load))))
		off.Add(off, t.Abs(t.Mul(c, new(big.Rat).SetInt64(int64(r.Tolerance)))))
	}
	l := bigDiv(sum, grid, Nearest)
	off.Add(off, t.Abs(t.Sub(sum, new(big.Rat).SetInt(l))))
	p := bigDiv(off, grid, Ceiling)
	if !l.IsInt64() || !p.IsInt64() || l.Int64() == -1<<63 {
		return 0, 0, false
	}
	return Mass(l.Int64()), Mass(p.Int64()), true
}

// of is the estimate of plus less minus.
func (s *solved) of(plus, minus Set) Estimate {
	if s == nil || plus|minus == 0 {
		return Estimate{}
	}
	if s.apart {
		return s.addUp(plus, minus)
	}
	var e Estimate
	if !s.quick(plus, minus, &e) {
		e = s.slow(plus, minus)
	}
	if minus == 0 && e.State == Determined {
		if len(s.readings) > s.rank() {
			s.tighten(plus, &e)
		}
		e = e.notBelowNothing()
		if e.Subtracted && s.scale.Stance.Level != Yes {
			e.FromSlope = s.slope(plus, e)
			e.PlusMinus = satAdd(e.PlusMinus, e.FromSlope)
		}
	}
	return e
}

// quick answers the usual question: as many readings as needed, each added,
// subtracted or left out, and a sum that is on the grid. False says nothing.
func (s *solved) quick(plus, minus Set, e *Estimate) bool {
	y := &s.exact
	if s.big != nil || y.rank < y.m || len(y.free) > 0 || s.inConflict != nil {
		return false
	}
	var want [4 * MaxAxles]int8
	if !s.vector(plus, minus, &want) {
		return true // undetermined
	}
	var sum [MaxReadings]int64
	for p, col := range y.pivot {
		if w := int64(want[col]); w != 0 {
			if y.at(p)[col] != 1 {
				return false
			}
			for i, v := range y.by(p) {
				sum[i] += w * int64(v)
			}
		}
	}
	var load, off Mass
	for i := range s.readings {
		// Solve has made sure that all readings add up.
		r := &s.readings[i]
		switch sum[i] {
		case 0:
			continue
		case 1:
			load += r.Load
		case -1:
			load -= r.Load
			e.Subtracted = true
		default:
			return false
		}
		off += r.Tolerance
		e.Drafts++
	}
	if grid := s.rig.System.MassGrid(); load%grid != 0 || off%grid != 0 {
		return false
	}
	e.Load, e.PlusMinus, e.State = load, off, Determined
	return true
}

// addUp answers where no two readings share a position: a sum is made of whole
// readings, or not determined.
func (s *solved) addUp(plus, minus Set) Estimate {
	e := Estimate{State: Determined}
	rest := plus ^ minus // what is in both cancels out
	plus, minus = plus&rest, minus&rest
	for i := 0; i < len(s.readings) && rest != 0; i++ {
		r := &s.readings[i]
		switch {
		case rest&r.On == 0:
			continue
		case plus.Contains(r.On):
			e.Load += r.Load
		case minus.Contains(r.On):
			e.Load -= r.Load
			e.Subtracted = true
		default:
			return Estimate{}
		}
		// Solve has made sure that all readings add up.
		e.PlusMinus += r.Tolerance
		e.Drafts++
		rest &^= r.On
	}
	if rest != 0 {
		return Estimate{}
	}
	return e
}

// slow answers every question.
func (s *solved) slow(plus, minus Set) Estimate {
	var x raw
	if !s.find(plus, minus, nil, &x) {
		return Estimate{}
	}
	if s.inConflict != nil && s.disputed(&x) {
		return s.hull(plus, minus, &x)
	}
	return s.estimate(&x, nil)
}

func (s *solved) rank() int {
	if s.big != nil {
		return s.big.rank
	}
	return s.exact.rank
}

func (s *solved) estimate(x *raw, tol func(i int) Mass) Estimate {
	load, pm, ok := s.round(x, tol)
	if !ok {
		return Estimate{}
	}
	return Estimate{Load: load, PlusMinus: pm, State: Determined, Drafts: x.drafts, Subtracted: x.subtracted}
}

// notBelowNothing moves a negative load to 0; the plus/minus then reaches as
// far up as before.
func (e Estimate) notBelowNothing() Estimate {
	if e.Load < 0 {
		e.PlusMinus = max(e.Load+e.PlusMinus, 0)
		e.Load = 0
	}
	return e
}

// tighten narrows the plus/minus of a sum that was also read in one draft:
// the truth is inside that reading's tolerance too.
func (s *solved) tighten(set Set, e *Estimate) {
	low, high := e.Load-e.PlusMinus, e.Load+e.PlusMinus
	for _, r := range s.readings {
		if r.On == set {
			low, high = max(low, r.Load-r.Tolerance), min(high, r.Load+r.Tolerance)
		}
	}
	if low > high {
		return
	}
	grid := s.rig.System.MassGrid()
	e.PlusMinus = min(e.PlusMinus, max(high-e.Load, e.Load-low).Round(grid, Ceiling))
}

// slope is what a slope may have moved into or out of the one-sided part.
func (s *solved) slope(set Set, e Estimate) Mass {
	axles := set.oneSided()
	if axles == 0 {
		return 0
	}
	base := satMul(e.Load, 2)
	if whole := s.of(axles, 0); whole.State == Determined {
		base = whole.Load
	}
	track := Length(0)
	for a := range s.rig.Axles {
		if t := s.rig.TrackOf(a); axles&AxleOf(a) != 0 && t != 0 && (track == 0 || t < track) {
			track = t
		}
	}
	m, err := CrossfallShift(base, UsualCrossfall, s.rig.Height, track)
	if err != nil {
		return greatest
	}
	return m.Round(s.rig.System.MassGrid(), Ceiling)
}

func (s *solved) disputed(x *raw) bool {
	for i, in := range s.inConflict {
		if in && x.sign(i) != 0 {
			return true
		}
	}
	return false
}

// hull covers the answers of leaving out each suspect. With no suspect it is
// the answer of all with the tolerances stretched until they agree.
func (s *solved) hull(plus, minus Set, x *raw) Estimate {
	if len(s.without) == 0 {
		tol := func(i int) Mass { return s.stretched[i] }
		if !s.find(plus, minus, tol, x) {
			return Estimate{}
		}
		e := s.estimate(x, tol)
		if e.Known() {
			e.State = Disputed
			if minus == 0 {
				e = e.notBelowNothing()
			}
		}
		return e
	}
	var out Estimate
	var low, high Mass
	for i, w := range s.without {
		e := w.of(plus, minus)
		if !e.Known() {
			return Estimate{}
		}
		pm := e.FromScale()
		if i == 0 {
			out, low, high = e, e.Load-pm, e.Load+pm
		}
		low, high = min(low, e.Load-pm), max(high, e.Load+pm)
		out.FromSlope = max(out.FromSlope, e.FromSlope)
		out.Drafts = max(out.Drafts, e.Drafts)
		out.Subtracted = out.Subtracted || e.Subtracted
	}
	grid := s.rig.System.MassGrid()
	out.Load = (low + (high-low)/2).Round(grid, Nearest)
	out.PlusMinus = satAdd(max(high-out.Load, out.Load-low).Round(grid, Ceiling), out.FromSlope)
	out.State = Disputed
	return out
}

// fits reports whether the fitted loads agree with every reading within its
// tolerance and none is below nothing: then the readings can all be right.
// False only says that it takes a closer look.
func (s *solved) fits() bool {
	y := &s.exact
	if s.apart {
		return true
	}
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
		for _, f := range y.free {
			if c := y.at(p)[f]; c != 0 {
				v := times(-int64(c), det, &bad)
				if bad || absInt(v) >= mostWeight {
					return false
				}
				load.addMul(v, int64(s.guess(s.classes[f])))
			}
		}
		if load.neg() {
			return false
		}
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

// Of is what the readings say about the sum of a set. It comes from the
// readings themselves, not from adding the ends, so a gross weight read in
// one draft is as sure as that reading. A load that cannot be negative is not:
// -5 plus/minus 40 is 0. The empty set and positions outside the rig are
// [Undetermined].
func (s Solution) Of(set Set) Estimate {
	if s.s == nil {
		return Estimate{}
	}
	e := s.s.of(set, 0)
	if e.State == Undetermined && s.assumed != 0 {
		e = s.assume(set)
	}
	return e
}

// Difference is what the readings say about the sum of a less that of b; it
// may be negative. Shares assumed with [Solution.Assume] do not enter.
func (s Solution) Difference(a, b Set) Estimate {
	return s.s.of(a, b)
}

// Assume lets ends rest on their axle where only the axle is determined: each
// end is then taken to carry the heavier share of it, rounded up, and is
// Assumed. Both ends get that share, since nobody knows which is heavier, so
// the two add up to more than the axle. 55 % is the usual caution; 50 % or
// less, and more than 100 %, is an error that matches [origin.ErrRange]: an
// axle that carries both ends alike is no assumption to drive on.
func (s Solution) Assume(heavier Share) (Solution, error) {
	if heavier <= Whole/2 || heavier > Whole {
		return s, &origin.TextError{Kind: "share of the heavier end", Text: heavier.String(), Want: "more than 50 %, at most 100 %", Err: origin.ErrRange}
	}
	s.assumed = heavier
	return s, nil
}

// UsualHeavierEnd is the usual share of the heavier end of an axle whose ends
// were not weighed: 55 % (common practice).
const UsualHeavierEnd = 55 * Percent

// assume adds up whole axles, as one, and single ends by the assumed share.
func (s Solution) assume(set Set) Estimate {
	if !s.s.rig.All().Contains(set) {
		return Estimate{}
	}
	grid := s.s.rig.System.MassGrid()
	var whole Set
	var out Estimate
	add := func(e Estimate) bool {
		load, err := Sum(out.Load, e.Load)
		if !e.Known() || err != nil {
			return false
		}
		out.Load, out.PlusMinus, out.FromSlope = load, satAdd(out.PlusMinus, e.PlusMinus), satAdd(out.FromSlope, e.FromSlope)
		out.State = max(out.State, e.State)
		out.Drafts += e.Drafts
		out.Subtracted = out.Subtracted || e.Subtracted
		return true
	}
	for _, a := range set.Axles() {
		part := set & AxleOf(a)
		if part == AxleOf(a) {
			whole |= part
			continue
		}
		if part != EndOf(a, Left) && part != EndOf(a, Right) {
			return Estimate{}
		}
		e := s.s.of(part, 0)
		if !e.Known() {
			if e = s.s.of(AxleOf(a), 0); !e.Known() {
				return Estimate{}
			}
			load, err1 := s.assumed.Of(e.Load, Ceiling)
			pm, err2 := s.assumed.Of(e.PlusMinus, Ceiling)
			if err1 != nil || err2 != nil {
				return Estimate{}
			}
			e.Load, e.PlusMinus = load.Round(grid, Ceiling), pm.Round(grid, Ceiling)
			e.State = max(e.State, Assumed)
		}
		if !add(e) {
			return Estimate{}
		}
	}
	if whole != 0 && !add(s.s.of(whole, 0)) {
		return Estimate{}
	}
	return out
}

// Rig is what was weighed.
func (s Solution) Rig() Rig {
	if s.s == nil {
		return Rig{}
	}
	rig := s.s.rig
	rig.Axles = slices.Clone(rig.Axles)
	return rig
}

// Scale is the scale handed to [Solve].
func (s Solution) Scale() Scale {
	if s.s == nil {
		return Scale{}
	}
	return s.s.scale
}

// Readings lists the readings used, with their tolerances filled in.
func (s Solution) Readings() []Reading {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.readings)
}

// Rejected lists the readings that were left out, and why.
func (s Solution) Rejected() []*ReadingError {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.rejected)
}

// Conflicts lists the readings that contradict each other beyond their
// tolerances. Readings that differ within tolerance agree.
func (s Solution) Conflicts() []*Conflict {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.conflicts)
}

// Err joins what [Solution.Rejected] and [Solution.Conflicts] tell, or is nil.
func (s Solution) Err() error {
	if s.s == nil {
		return nil
	}
	var errs []error
	for _, e := range s.s.rejected {
		errs = append(errs, e)
	}
	for _, e := range s.s.conflicts {
		errs = append(errs, e)
	}
	return errors.Join(errs...)
}

// Residuals gives, for each reading used, how far it lies from the load all
// readings together say. All are 0 unless there are more readings than needed.
func (s Solution) Residuals() []Residual { return s.AppendResiduals(nil) }

// AppendResiduals appends what [Solution.Residuals] gives.
func (s Solution) AppendResiduals(dst []Residual) []Residual {
	if s.s == nil {
		return dst
	}
	dst = slices.Grow(dst, len(s.s.readings))
	for i := range s.s.readings {
		r := &s.s.readings[i]
		dst = append(dst, Residual{Name: r.Name, Load: r.Load, Off: s.s.residual(i), Tolerance: r.Tolerance})
	}
	return dst
}

func (s *solved) residual(i int) Mass {
	if len(s.readings) == s.rank() {
		return 0
	}
	var x raw
	r := s.readings[i]
	if !s.find(r.On, 0, nil, &x) {
		return 0
	}
	load, _, ok := s.round(&x, nil)
	if !ok {
		return 0
	}
	return (r.Load - load).Round(s.rig.System.MassGrid(), Nearest)
}

// SmallReadings names the readings below the scale's minimum load.
func (s Solution) SmallReadings() []string {
	if s.s == nil {
		return nil
	}
	var out []string
	least := s.s.scale.MinimumLoad()
	for i := range s.s.readings {
		if r := &s.s.readings[i]; r.Load < least {
			out = append(out, r.Name)
		}
	}
	return out
}

// HeavyDiagonal reports whether a front end and the coach's ends of the other
// side behind it are surely heavier than the opposite ones, each beyond its
// doubt, and by how much the diagonal is. On air suspension that points to
// ride height first, cargo second (common practice).
func (s Solution) HeavyDiagonal() (Diagonal, bool) {
	if s.s == nil {
		return Diagonal{}, false
	}
	coach := s.s.rig.Coach()
	rear := coach &^ AxleOf(0)
	if coach == 0 || rear == 0 {
		return Diagonal{}, false
	}
	left, right := SideOf(Left), SideOf(Right)
	front := s.Difference(EndOf(0, Left), EndOf(0, Right))
	back := s.Difference(rear&left, rear&right)
	heavy := EndOf(0, Left) | rear&right
	switch {
	case !front.Known() || !back.Known():
		return Diagonal{}, false
	case front.AtLeast() > 0 && back.AtMost() < 0:
	case front.AtMost() < 0 && back.AtLeast() > 0:
		heavy = EndOf(0, Right) | rear&left
	default:
		return Diagonal{}, false
	}
	return Diagonal{Heavy: heavy, By: s.Difference(heavy, coach&^heavy)}, true
}

// Cautions lists what must be said beside these figures: how the vehicle
// stood, that they were put together from several readings, small loads, a
// heavy diagonal (unless the rig is known to have no air suspension), an
// assumed share, and readings that disagree.
func (s Solution) Cautions() []Caution {
	if s.s == nil {
		return nil
	}
	var out []Caution
	if len(s.s.readings) > 1 {
		out = append(out, SplitWeighing)
	}
	if len(s.SmallReadings()) > 0 {
		out = append(out, SmallLoad)
	}
	out = append(out, s.s.scale.Stance.Cautions(s.s.rig)...)
	if _, heavy := s.HeavyDiagonal(); heavy && s.s.rig.Air != No {
		out = append(out, HeavyDiagonal)
	}
	if s.assumed != 0 {
		out = append(out, AssumedShare)
	}
	if len(s.s.conflicts) > 0 {
		out = append(out, ReadingsDisagree)
	}
	return out
}

package weight

import "math/bits"

// system is the exact form of a set of readings: each class of positions that
// always stand on a plate together is one unknown. Gauss-Jordan elimination
// over whole numbers leaves, for each pivot, row . x = by . readings, and for
// each reading more than needed a combination of readings that must be 0.
type system struct {
	n, m   int // unknowns, readings
	width  int // of a row: n, or n+m where the readings are kept track of
	rank   int
	rows   []int32 // m rows: unknowns, then readings; those past rank are the redundancies
	pivot  []uint8 // the pivot column of each reduced row
	free   []uint8 // columns without a pivot
	spread []int64 // each tolerance squared, over their common step squared
	adj    []int64 // adjugate of the redundancies' Gram matrix in spread
	det    int64
}

// at is row p over the unknowns, by the same row over the readings.
func (y *system) at(p int) []int32 { return y.rows[p*y.width : p*y.width+y.n] }
func (y *system) by(p int) []int32 { return y.rows[p*y.width+y.n : (p+1)*y.width] }

// reduce eliminates the 0/1 rows in place. It reports false when an entry
// would outgrow small.
func (y *system) reduce() bool {
	w := y.width
	if w > y.n {
		for i := range y.m {
			y.rows[i*w+y.n+i] = 1
		}
	}
	for col := range y.n {
		best := y.smallest(col)
		if best < 0 {
			y.free = append(y.free, uint8(col))
			continue
		}
		p := y.rank
		y.rank++
		y.pivot = append(y.pivot, uint8(col))
		prow := y.rows[p*w+col : (p+1)*w] // left of col, no row from p on has anything
		if best != p {
			exchange(prow, y.rows[best*w+col:(best+1)*w])
		}
		if prow[0] < 0 {
			negate(prow)
		}
		for i := range y.m {
			if i != p && y.rows[i*w+col] != 0 && !takeOff(y.rows[i*w:(i+1)*w], prow, col) {
				return false
			}
		}
	}
	return true
}

// smallest is the row, of those not reduced yet, with the smallest entry in a column that
// is not 0, or -1.
func (y *system) smallest(col int) int {
	best, least := -1, int64(0)
	for i := y.rank; i < y.m; i++ {
		if v := absInt(int64(y.rows[i*y.width+col])); v != 0 && (best < 0 || v < least) {
			best, least = i, v
		}
	}
	return best
}

func exchange(a, b []int32) {
	b = b[:len(a)]
	for j := range a {
		a[j], b[j] = b[j], a[j]
	}
}

func negate(row []int32) {
	for j := range row {
		row[j] = -row[j]
	}
}

// takeOff takes as much of a pivot's row off another row as makes that one's entry in the
// column 0; prow is the pivot's from the column on, left of it is 0. It reports false when
// an entry would outgrow small.
func takeOff(row, prow []int32, col int) bool {
	left, right := row[:col], row[col:][:len(prow)]
	a, b := int64(1), int64(right[0])
	var high uint64
	if pv := int64(prow[0]); pv != 1 {
		g := gcd(pv, absInt(b))
		a, b = pv/g, b/g
		for j, v := range left {
			x := a * int64(v)
			left[j] = int32(x)
			high |= uint64(x + small)
		}
	}
	for j, v := range prow {
		x := a*int64(right[j]) - b*int64(v)
		right[j] = int32(x)
		high |= uint64(x + small)
	}
	if high >= 2*small { // some entry is not within small either way
		return false
	}
	if a != 1 {
		shrink(row)
	}
	return true
}

// small bounds the entries, so that they fit 32 bits and their products 62.
const small = 1 << 30

// shrink divides a row by its common divisor.
func shrink[T int32 | int64](row []T) {
	var g int64
	for _, v := range row {
		g = gcd(g, absInt(int64(v)))
		if g == 1 {
			return
		}
	}
	if g < 2 {
		return
	}
	for j := range row {
		row[j] = T(int64(row[j]) / g)
	}
}

// balance prepares least squares: the adjugate of the redundancies' Gram matrix, each
// reading counting with its tolerance squared. It reports false on overflow.
func (y *system) balance(readings []Reading) bool {
	m, d := y.m, y.m-y.rank
	words := make([]int64, m+d*d)
	y.spread, y.adj = words[:m], words[m:]
	if !y.squares(readings) {
		return false
	}
	var space [2 * 4 * 4]int64
	gram := space[:]
	if d > 4 {
		gram = make([]int64, 2*d*d)
	}
	var bad bool
	for a := range d {
		for b := range d {
			gram[a*2*d+b] = y.product(a, b, &bad)
		}
		gram[a*2*d+d+a] = 1
	}
	if bad {
		return false
	}
	var ok bool
	if y.det, ok = adjugate(gram, d); !ok {
		return false
	}
	for a := range d {
		copy(y.adj[a*d:(a+1)*d], gram[a*2*d+d:])
	}
	g := y.det
	for _, v := range y.adj {
		g = gcd(g, absInt(v))
	}
	y.det /= g
	for i := range y.adj {
		y.adj[i] /= g
	}
	return true
}

// squares are the tolerances squared, in steps that all have in common.
func (y *system) squares(readings []Reading) bool {
	var step Mass
	for _, r := range readings {
		step = Mass(gcd(int64(step), int64(r.Tolerance)))
	}
	for i, r := range readings {
		t := int64(r.Tolerance / step)
		if t >= 2*small { // its square stays below 62 bits
			return false
		}
		y.spread[i] = t * t
	}
	return true
}

// product is that of two redundancies, each reading counting with its tolerance squared.
func (y *system) product(a, b int, bad *bool) int64 {
	sum, rowB := int64(0), y.null(b)
	for i, na := range y.null(a) {
		if nb := rowB[i]; na != 0 && nb != 0 {
			sum = addTo(sum, times(times(int64(na), int64(nb), bad), y.spread[i], bad), bad)
		}
	}
	return sum
}

// adjugate turns [matrix | 1], d rows, into [det | adjugate] by Bareiss's elimination: a
// positive definite matrix needs no exchange. It reports false on overflow.
func adjugate(rows []int64, d int) (det int64, ok bool) {
	var bad bool
	det = 1
	for p := range d {
		prow := rows[p*2*d : (p+1)*2*d]
		for i := range d {
			if i == p {
				continue
			}
			row := rows[i*2*d : (i+1)*2*d]
			f := row[p]
			for j, v := range prow {
				row[j] = addTo(times(prow[p], row[j], &bad), -times(f, v, &bad), &bad) / det
			}
		}
		if bad {
			return 0, false
		}
		det = prow[p]
	}
	return det, true
}

func (y *system) null(k int) []int32 { return y.by(y.rank + k) }

// weights are a sum of positions as a combination of readings: sum = c.r/den.
type weights struct {
	c   [MaxReadings]int64
	den int64
}

// coef finds the weights of a class vector. It reports whether the readings
// determine it, and whether the numbers stayed in range.
func (y *system) coef(want *[4 * MaxAxles]int8, w *weights) (known, fits bool) {
	m := y.m
	var bad bool
	clear(w.c[:m])
	if w.den = y.common(want, &bad); bad {
		return false, false
	}
	for _, col := range y.free {
		sum := int64(0)
		for p, pc := range y.pivot {
			if s := int64(want[pc]); s != 0 {
				sum = addTo(sum, times(s*(w.den/int64(y.at(p)[pc])), int64(y.at(p)[col]), &bad), &bad)
			}
		}
		if sum != times(int64(want[col]), w.den, &bad) {
			return false, !bad
		}
	}
	for p, pc := range y.pivot {
		s := int64(want[pc])
		if s == 0 {
			continue
		}
		f := s * (w.den / int64(y.at(p)[pc]))
		for i, v := range y.by(p) {
			if v != 0 {
				w.c[i] = addTo(w.c[i], times(f, int64(v), &bad), &bad)
			}
		}
	}
	if d := m - y.rank; d > 0 && !bad {
		y.average(d, w, &bad)
	}
	return true, !bad
}

// common is a multiple of the pivots of all classes in want.
func (y *system) common(want *[4 * MaxAxles]int8, bad *bool) int64 {
	den := int64(1)
	for p, col := range y.pivot {
		if want[col] == 0 {
			continue
		}
		if pv := int64(y.at(p)[col]); pv != 1 {
			den = times(den, pv/gcd(den, pv), bad)
		}
	}
	return den
}

// average moves the weights to those of least squares, each reading counting
// with 1 over its tolerance squared.
func (y *system) average(d int, w *weights, bad *bool) {
	var pull, shift [MaxReadings]int64
	any := false
	for k := range d {
		for i, v := range y.null(k) {
			if v != 0 && w.c[i] != 0 {
				pull[k] = addTo(pull[k], times(times(int64(v), y.spread[i], bad), w.c[i], bad), bad)
			}
		}
		any = any || pull[k] != 0
	}
	if !any || *bad {
		return
	}
	y.shift(d, &pull, &shift, bad)
	g := times(y.det, w.den, bad)
	w.den = g
	for i := range y.m {
		v := times(y.det, w.c[i], bad)
		for k := range d {
			if nv := y.null(k)[i]; nv != 0 {
				v = addTo(v, -times(int64(nv), shift[k], bad), bad)
			}
		}
		w.c[i] = v
		g = gcd(g, absInt(v))
	}
	if g > 1 {
		w.den /= g
		for i := range y.m {
			w.c[i] /= g
		}
	}
}

// shift is det times what sets the redundancies right that are off by so much.
func (y *system) shift(d int, off, shift *[MaxReadings]int64, bad *bool) {
	for a := range d {
		for b := range d {
			shift[a] = addTo(shift[a], times(y.adj[a*d+b], off[b], bad), bad)
		}
	}
}

// gaps are the readings less their least-squares fit, times det.
func (y *system) gaps(readings []Reading, gap *[MaxReadings]int64) bool {
	var bad bool
	var off, shift [MaxReadings]int64
	d := y.m - y.rank
	for k := range d {
		for i, v := range y.null(k) {
			if v != 0 {
				off[k] = addTo(off[k], times(int64(v), int64(readings[i].Load), &bad), &bad)
			}
		}
	}
	y.shift(d, &off, &shift, &bad)
	for k := range d {
		if shift[k] == 0 {
			continue
		}
		for i, v := range y.null(k) {
			if v != 0 {
				gap[i] = addTo(gap[i], times(times(int64(v), y.spread[i], &bad), shift[k], &bad), &bad)
			}
		}
	}
	return !bad
}

func absInt(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

func gcd(a, b int64) int64 {
	for b != 0 {
		if a == 1 || b == 1 {
			return 1
		}
		a, b = b, a%b
	}
	return a
}

// times multiplies; a product of 62 bits or more sets bad, so that sums of
// two never wrap.
func times(a, b int64, bad *bool) int64 {
	hi, lo := bits.Mul64(uint64(absInt(a)), uint64(absInt(b)))
	if hi != 0 || lo >= 1<<62 {
		*bad = true
		return 0
	}
	return a * b
}

func addTo(a, b int64, bad *bool) int64 {
	s := a + b
	if s >= 1<<62 || s <= -1<<62 {
		*bad = true
		return 0
	}
	return s
}

// wide is a 128-bit sum of products, two's complement.
type wide struct{ hi, lo uint64 }

// addMul adds a*b. With 64 products of 62-bit weights and 63-bit masses the
// caller bounds the weights, so that it cannot wrap.
func (w *wide) addMul(a, b int64) {
	hi, lo := bits.Mul64(uint64(absInt(a)), uint64(absInt(b)))
	var c uint64
	if (a < 0) != (b < 0) {
		w.lo, c = bits.Sub64(w.lo, lo, 0)
		w.hi, _ = bits.Sub64(w.hi, hi, c)
		return
	}
	w.lo, c = bits.Add64(w.lo, lo, 0)
	w.hi, _ = bits.Add64(w.hi, hi, c)
}

func (w wide) plus(v wide) wide {
	lo, c := bits.Add64(w.lo, v.lo, 0)
	hi, _ := bits.Add64(w.hi, v.hi, c)
	return wide{hi, lo}
}

func (w wide) neg() bool { return w.hi>>63 != 0 }

func (w wide) abs() wide {
	if !w.neg() {
		return w
	}
	lo, c := bits.Sub64(0, w.lo, 0)
	hi, _ := bits.Sub64(0, w.hi, c)
	return wide{hi, lo}
}

// div divides what is not negative by d, rounded nearest (halves up) or up.
func (w wide) div(d uint64, r Rounding) (uint64, bool) {
	if w.hi >= d {
		return 0, false
	}
	q, rem := bits.Div64(w.hi, w.lo, d)
	if r == Nearest && rem >= d-rem || r == Ceiling && rem > 0 {
		q++
	}
	return q, q < 1<<63
}

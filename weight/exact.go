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
		best := -1
		for i := y.rank; i < y.m; i++ {
			if v := y.rows[i*w+col]; v != 0 && (best < 0 || absInt(int64(v)) < absInt(int64(y.rows[best*w+col]))) {
				best = i
			}
		}
		if best < 0 {
			y.free = append(y.free, uint8(col))
			continue
		}
		p := y.rank
		y.rank++
		y.pivot = append(y.pivot, uint8(col))
		// Left of col the pivot row is 0.
		prow := y.rows[p*w+col : (p+1)*w]
		if best != p {
			other := y.rows[best*w+col : (best+1)*w][:len(prow)]
			for j := range prow {
				prow[j], other[j] = other[j], prow[j]
			}
		}
		if prow[0] < 0 {
			for j := range prow {
				prow[j] = -prow[j]
			}
		}
		pv := int64(prow[0])
		for i := range y.m {
			f := int64(y.rows[i*w+col])
			if i == p || f == 0 {
				continue
			}
			a, b := int64(1), f
			var high uint64
			if pv != 1 {
				g := gcd(pv, absInt(f))
				a, b = pv/g, f/g
				for j, v := range y.rows[i*w : i*w+col] {
					x := a * int64(v)
					y.rows[i*w+j] = int32(x)
					high |= uint64(x + small)
				}
			}
			row := y.rows[i*w+col : (i+1)*w][:len(prow)]
			for j, v := range prow {
				x := a*int64(row[j]) - b*int64(v)
				row[j] = int32(x)
				high |= uint64(x + small)
			}
			if high >= 2*small { // some entry is not within small either way
				return false
			}
			if a != 1 {
				shrink(y.rows[i*w : (i+1)*w])
			}
		}
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

// balance prepares least squares: the redundancies' Gram matrix, each reading
// counting with its tolerance squared. It reports false on overflow.
func (y *system) balance(readings []Reading) bool {
	m, d := y.m, y.m-y.rank
	words := make([]int64, m+d*d)
	y.spread, y.adj = words[:m], words[m:]
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
	var bad bool
	var space [2 * 4 * 4]int64
	gram := space[:]
	if d > 4 {
		gram = make([]int64, 2*d*d)
	}
	for a := range d {
		for b := range d {
			var sum int64
			for i := range m {
				na, nb := int64(y.null(a)[i]), int64(y.null(b)[i])
				if na != 0 && nb != 0 {
					sum = addTo(sum, times(times(na, nb, &bad), y.spread[i], &bad), &bad)
				}
			}
			gram[a*2*d+b] = sum
		}
		gram[a*2*d+d+a] = 1
	}
	if bad {
		return false
	}
	// Bareiss on [gram | 1]: a positive definite matrix needs no exchange.
	last := int64(1)
	for p := range d {
		pv := gram[p*2*d+p]
		for i := range d {
			if i == p {
				continue
			}
			f := gram[i*2*d+p]
			for j := range 2 * d {
				v := addTo(times(pv, gram[i*2*d+j], &bad), -times(f, gram[p*2*d+j], &bad), &bad)
				gram[i*2*d+j] = v / last
			}
		}
		if bad {
			return false
		}
		last = pv
	}
	y.det = last
	for a := range d {
		for b := range d {
			y.adj[a*d+b] = gram[a*2*d+d+b]
		}
	}
	g := y.det
	for _, v := range y.adj[:d*d] {
		g = gcd(g, absInt(v))
	}
	y.det /= g
	for i := range d * d {
		y.adj[i] /= g
	}
	return true
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
	w.den = 1
	clear(w.c[:m])
	for p, col := range y.pivot {
		if want[col] != 0 {
			if pv := int64(y.at(p)[col]); pv != 1 {
				w.den = times(w.den, pv/gcd(w.den, pv), &bad)
			}
		}
	}
	if bad {
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
	for a := range d {
		for b := range d {
			shift[a] = addTo(shift[a], times(y.adj[a*d+b], pull[b], bad), bad)
		}
	}
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
	for a := range d {
		for b := range d {
			shift[a] = addTo(shift[a], times(y.adj[a*d+b], off[b], &bad), &bad)
		}
	}
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

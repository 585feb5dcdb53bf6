package weight

import "math/big"

// bigSystem is system for what outgrows 64 bits: the same elimination and the
// same least squares, over fractions of any size.
type bigSystem struct {
	n, m  int
	rows  [][]*big.Rat // reduced: n columns of unknowns, then m of readings
	rank  int
	pivot []int
	pull  [][]*big.Rat // inverse of the redundancies' Gram matrix
	var2  []*big.Rat   // tolerance squared
}

func newBigSystem(on []int32, n, m int, readings []Reading) *bigSystem {
	y := &bigSystem{n: n, m: m}
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

// ratReduce brings the first n columns to reduced row echelon form and gives
// the pivot columns.
func ratReduce(rows [][]*big.Rat, n int) []int {
	var pivots []int
	t := new(big.Rat)
	for col := 0; col < n && len(pivots) < len(rows); col++ {
		p := len(pivots)
		best := p
		for best < len(rows) && rows[best][col].Sign() == 0 {
			best++
		}
		if best == len(rows) {
			continue
		}
		rows[p], rows[best] = rows[best], rows[p]
		inv := new(big.Rat).Inv(rows[p][col])
		for _, v := range rows[p] {
			v.Mul(v, inv)
		}
		for i, row := range rows {
			if i == p || row[col].Sign() == 0 {
				continue
			}
			f := new(big.Rat).Set(row[col])
			for j, v := range row {
				if rows[p][j].Sign() != 0 {
					v.Sub(v, t.Mul(f, rows[p][j]))
				}
			}
		}
		pivots = append(pivots, col)
	}
	return pivots
}

func (y *bigSystem) null(k int) []*big.Rat { return y.rows[y.rank+k][y.n:] }

// coef is system.coef; nil means not determined.
func (y *bigSystem) coef(want *[4 * MaxAxles]int8) []*big.Rat {
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

// fits is solved.fits: every reading within its tolerance of the fit, and no
// class below nothing, where guess stands in for what is open.
func (y *bigSystem) fits(readings []Reading, guess func(class int) Mass) bool {
	d := y.m - y.rank
	t := new(big.Rat)
	rat := func(m Mass) *big.Rat { return new(big.Rat).SetInt64(int64(m)) }
	off := make([]*big.Rat, d)
	for k := range d {
		off[k] = new(big.Rat)
		for i, v := range y.null(k) {
			off[k].Add(off[k], t.Mul(v, rat(readings[i].Load)))
		}
	}
	fit := make([]*big.Rat, y.m)
	for i, r := range readings {
		gap := new(big.Rat)
		for a := range d {
			for b := range d {
				t.Mul(y.pull[a][b], off[b])
				gap.Add(gap, t.Mul(t, y.null(a)[i]))
			}
		}
		gap.Mul(gap, y.var2[i])
		fit[i] = rat(r.Load)
		fit[i].Sub(fit[i], gap)
		if gap.Abs(gap).Cmp(rat(r.Tolerance)) > 0 {
			return false
		}
	}
	open := make([]*big.Rat, y.n)
	for j := range open {
		open[j] = rat(guess(j))
	}
	for _, pc := range y.pivot {
		open[pc] = nil
	}
	for p := range y.rank {
		load := new(big.Rat)
		for i, f := range fit {
			load.Add(load, t.Mul(y.rows[p][y.n+i], f))
		}
		for j, g := range open {
			if g != nil {
				load.Sub(load, t.Mul(y.rows[p][j], g))
			}
		}
		if load.Sign() < 0 {
			return false
		}
	}
	return true
}

// bigDiv is wide.div over any size, for values of any sign.
func bigDiv(num *big.Rat, grid Mass, r Rounding) *big.Int {
	den := new(big.Int).Mul(num.Denom(), big.NewInt(int64(grid)))
	mag := new(big.Int).Abs(num.Num())
	q, rem := new(big.Int).QuoRem(mag, den, new(big.Int))
	twice := new(big.Int).Lsh(rem, 1).Cmp(den)
	if r == Nearest && twice >= 0 || r == Ceiling && rem.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	q.Mul(q, big.NewInt(int64(grid)))
	if num.Sign() < 0 {
		q.Neg(q)
	}
	return q
}

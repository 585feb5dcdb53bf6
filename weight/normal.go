package weight

import (
	"math/big"
	"slices"
)

// normal is system in whole numbers of any size, for readings that outgrow 64
// bits and for many more readings than needed: least squares by the normal
// equations, whose work grows with the unknowns and not with the surplus.
//
// What readings can tell is made of pivots: each reading is the sum of some of
// them. A reading counts with 1 over its tolerance squared, the tolerance in
// steps q that all have in common, so the equations are N z = b with
// N = sum of on on'/q^2. With T the product of all q^2, T*N is whole, and so
// is T times every leading minor of N: elimination after Bareiss, begun with T
// as its divisor, always divides without a rest, and no number gets longer
// than T*det N.
type normal struct {
	n, m   int
	pivot  []int        // the class of each pivot
	free   []int        // the other classes
	part   [][]*big.Rat // by pivot and free class: how much of the class the pivot holds
	on     [][]int      // by reading: the pivots in it
	square []*big.Int   // by reading: q^2
	total  *big.Int     // T
	rows   [][]*big.Int // T*N eliminated: row k from column k on
	det    *big.Int     // T*det N
	fit    []*big.Int   // by pivot: det times what all readings together say
}

// newNormal sets the equations up for readings given as rows of 0 and 1 over
// the classes.
func newNormal(on []int32, n, m int, readings []Reading) *normal {
	y := &normal{n: n, m: m}
	y.reduce(on)
	y.on = make([][]int, m)
	for i := range m {
		for p, col := range y.pivot {
			if on[i*n+col] != 0 {
				y.on[i] = append(y.on[i], p)
			}
		}
	}
	y.weigh(readings)
	y.eliminate()
	y.fit = make([]*big.Int, len(y.pivot))
	for p := range y.fit {
		y.fit[p] = new(big.Int)
	}
	each, t := new(big.Int), new(big.Int)
	for i, r := range readings {
		each.Quo(y.total, y.square[i])
		each.Mul(each, t.SetInt64(int64(r.Load)))
		for _, p := range y.on[i] {
			y.fit[p].Add(y.fit[p], each)
		}
	}
	y.solve(y.fit)
	return y
}

// reduce finds the pivots, and of what else they hold a part.
func (y *normal) reduce(on []int32) {
	e := system{n: y.n, m: y.m, width: y.n, rows: append([]int32(nil), on...)}
	if !e.reduce() {
		y.reduceBig(on)
		return
	}
	for _, col := range e.pivot {
		y.pivot = append(y.pivot, int(col))
	}
	for _, col := range e.free {
		y.free = append(y.free, int(col))
	}
	y.part = make([][]*big.Rat, len(y.pivot))
	for p, pc := range y.pivot {
		for _, col := range y.free {
			y.part[p] = append(y.part[p], big.NewRat(int64(e.at(p)[col]), int64(e.at(p)[pc])))
		}
	}
}

// reduceBig is reduce where its entries outgrow their bound.
func (y *normal) reduceBig(on []int32) {
	rows := make([][]*big.Rat, y.m)
	for i := range rows {
		rows[i] = ratRow(y.n)
		for j, v := range rows[i] {
			v.SetInt64(int64(on[i*y.n+j]))
		}
	}
	y.pivot = ratReduce(rows, y.n)
	for col, p := 0, 0; col < y.n; col++ {
		if p < len(y.pivot) && y.pivot[p] == col {
			p++
			continue
		}
		y.free = append(y.free, col)
	}
	y.part = make([][]*big.Rat, len(y.pivot))
	for p := range y.pivot {
		for _, col := range y.free {
			y.part[p] = append(y.part[p], rows[p][col])
		}
	}
}

// weigh finds what each reading counts with. Where there are no more readings
// than needed, all count alike: nothing is averaged.
func (y *normal) weigh(readings []Reading) {
	var step Mass
	for _, r := range readings {
		step = Mass(gcd(int64(step), int64(r.Tolerance)))
	}
	y.square, y.total = make([]*big.Int, y.m), big.NewInt(1)
	for i, r := range readings {
		q := big.NewInt(1)
		if y.m > len(y.pivot) {
			q.SetInt64(int64(r.Tolerance / step))
		}
		y.square[i] = q.Mul(q, q)
		y.total.Mul(y.total, q)
	}
}

// eliminate brings T*N, which is symmetric, to rows from the diagonal on.
func (y *normal) eliminate() {
	rank := len(y.pivot)
	y.rows = make([][]*big.Int, rank)
	for k := range y.rows {
		y.rows[k] = make([]*big.Int, rank-k)
		for j := range y.rows[k] {
			y.rows[k][j] = new(big.Int)
		}
	}
	each, t := new(big.Int), new(big.Int)
	for i, on := range y.on {
		each.Quo(y.total, y.square[i])
		for a, p := range on {
			for _, q := range on[a:] {
				y.rows[p][q-p].Add(y.rows[p][q-p], each)
			}
		}
	}
	last := y.total
	for k, row := range y.rows {
		for i := k + 1; i < rank; i++ {
			f := row[i-k]
			for j, v := range y.rows[i] {
				v.Mul(v, row[0])
				v.Sub(v, t.Mul(f, row[i-k+j]))
				v.Quo(v, last)
			}
		}
		last = row[0]
	}
	y.det = last
}

// solve turns b, as it stands beside T*N, into det times N's answer to b/T.
func (y *normal) solve(b []*big.Int) {
	t, last := new(big.Int), y.total
	for k, row := range y.rows {
		for i := k + 1; i < len(b); i++ {
			b[i].Mul(b[i], row[0])
			b[i].Sub(b[i], t.Mul(row[i-k], b[k]))
			b[i].Quo(b[i], last)
		}
		last = row[0]
	}
	for k := len(b) - 1; k >= 0; k-- {
		b[k].Mul(b[k], y.det)
		for j := k + 1; j < len(b); j++ {
			b[k].Sub(b[k], t.Mul(y.rows[k][j-k], b[j]))
		}
		b[k].Quo(b[k], y.rows[k][0])
	}
}

// coef gives the weight of each reading in a sum of classes, times det; nil
// means not determined.
func (y *normal) coef(want *[4 * MaxAxles]int8) []*big.Int {
	sum, t := new(big.Rat), new(big.Rat)
	for f, col := range y.free {
		sum.SetInt64(0)
		for p, pc := range y.pivot {
			if want[pc] != 0 {
				sum.Add(sum, t.Mul(t.SetInt64(int64(want[pc])), y.part[p][f]))
			}
		}
		if sum.Cmp(t.SetInt64(int64(want[col]))) != 0 {
			return nil
		}
	}
	u := make([]*big.Int, len(y.pivot))
	for p, pc := range y.pivot {
		u[p] = big.NewInt(int64(want[pc]))
		u[p].Mul(u[p], y.total)
	}
	y.solve(u)
	c := make([]*big.Int, y.m)
	for i, on := range y.on {
		c[i] = new(big.Int)
		for _, p := range on {
			c[i].Add(c[i], u[p])
		}
		c[i].Quo(c[i], y.square[i])
	}
	return c
}

// fitted is det times what all readings together say for reading i.
func (y *normal) fitted(i int) *big.Int {
	sum := new(big.Int)
	for _, p := range y.on[i] {
		sum.Add(sum, y.fit[p])
	}
	return sum
}

// fits is solved.fits: every reading within its tolerance of the fit, and no
// class below nothing, where guess stands in for what is open.
func (y *normal) fits(readings []Reading, guess func(class int) Mass) bool {
	t, most := new(big.Int), new(big.Int)
	for i, r := range readings {
		gap := y.fitted(i)
		gap.Sub(gap, t.Mul(y.det, t.SetInt64(int64(r.Load))))
		if gap.CmpAbs(most.Mul(y.det, most.SetInt64(int64(r.Tolerance)))) > 0 {
			return false
		}
	}
	for p, fit := range y.fit {
		load, v := new(big.Rat).SetFrac(fit, y.det), new(big.Rat)
		for f, col := range y.free {
			if y.part[p][f].Sign() != 0 {
				load.Sub(load, v.Mul(v.SetInt64(int64(guess(col))), y.part[p][f]))
			}
		}
		if load.Sign() < 0 {
			return false
		}
	}
	return true
}

// ratReduce brings the first n columns to reduced row echelon form and gives
// the pivot columns.
func ratReduce(rows [][]*big.Rat, n int) []int {
	var pivots []int
	t := new(big.Rat)
	for col := 0; col < n && len(pivots) < len(rows); col++ {
		p := len(pivots)
		behind := slices.IndexFunc(rows[p:], func(row []*big.Rat) bool { return row[col].Sign() != 0 })
		if behind < 0 {
			continue
		}
		rows[p], rows[p+behind] = rows[p+behind], rows[p]
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

func ratRow(n int) []*big.Rat {
	cells, row := make([]big.Rat, n), make([]*big.Rat, n)
	for i := range row {
		row[i] = &cells[i]
	}
	return row
}

// bigDiv puts num/den (den above nothing) on a grid.
func bigDiv(num, den *big.Int, grid Mass, r Rounding) *big.Int {
	step := new(big.Int).Mul(den, big.NewInt(int64(grid)))
	q, rem := new(big.Int).QuoRem(new(big.Int).Abs(num), step, new(big.Int))
	twice := new(big.Int).Lsh(rem, 1).Cmp(step)
	away := r == Ceiling // from 0
	if num.Sign() < 0 {
		away = !away
	}
	if r == Nearest && twice >= 0 || r != Nearest && away && rem.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	q.Mul(q, big.NewInt(int64(grid)))
	if num.Sign() < 0 {
		q.Neg(q)
	}
	return q
}

package weight

import "math/big"

// wordRows is a dictionary whose coefficients stay in 62 bits; the constants,
// which hold loads, may be of any size.
type wordRows struct {
	den    int64
	consts []big.Int
	cells  [][]int64
	x, y   big.Int
}

// start gives the rows that the readings listed begin with: their two slacks
// each, then the goal. Each row has its constant, and set calls for what
// else it holds: the loads of a reading with -1 or 1, and t with 1.
func (s *solved) start(list []int, constant func(row int, r *Reading, up bool), set func(row, column int, v int64)) {
	n := len(s.classes)
	for k, i := range list {
		r := &s.readings[i]
		constant(2*k, r, true)
		constant(2*k+1, r, false)
		for j, c := range s.classes {
			if r.On&c != 0 {
				set(2*k, 1+j, -1)
				set(2*k+1, 1+j, 1)
			}
		}
		set(2*k, 1+n, 1)
		set(2*k+1, 1+n, 1)
	}
	set(2*len(list), 1+n, 1)
}

func (s *solved) wordRows(list []int) *wordRows {
	w := len(s.classes) + 1
	d := &wordRows{den: 1, consts: make([]big.Int, 2*len(list)+1), cells: make([][]int64, 2*len(list)+1)}
	words := make([]int64, w*len(d.cells))
	for i := range d.cells {
		d.cells[i] = words[i*w : (i+1)*w]
	}
	s.start(list, func(row int, r *Reading, up bool) {
		d.consts[row].SetInt64(slack(r, up))
	}, func(row, column int, v int64) { d.cells[row][column-1] = v })
	return d
}

// slack is by how much a load may be above a reading (up), or less than
// nothing: tolerance plus load, or tolerance less load.
func slack(r *Reading, up bool) int64 {
	if up {
		return int64(r.Tolerance + r.Load)
	}
	return int64(r.Tolerance - r.Load)
}

func (d *wordRows) sign(i, j int) int {
	if j == 0 {
		return d.consts[i].Sign()
	}
	switch v := d.cells[i][j-1]; {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

func (d *wordRows) cell(i, j int) *big.Rat {
	if j == 0 {
		return new(big.Rat).SetFrac(&d.consts[i], big.NewInt(d.den))
	}
	return big.NewRat(d.cells[i][j-1], d.den)
}

func (d *wordRows) lower(i, k int) bool { return d.consts[i].Cmp(&d.consts[k]) < 0 }

func (d *wordRows) nearer(i, k, j int) int {
	// Both cells are below 0: it is ci/-ai against ck/-ak.
	d.x.Mul(&d.consts[i], d.y.SetInt64(-d.cells[k][j-1]))
	d.y.Mul(&d.consts[k], d.y.SetInt64(-d.cells[i][j-1]))
	return d.x.Cmp(&d.y)
}

func (d *wordRows) turn(i, j int) bool {
	row, den := d.cells[i], d.den
	p, sign := row[j-1], int64(1)
	if p < 0 {
		p, sign = -p, -1
	}
	var bad bool
	for k, other := range d.cells {
		if k == i {
			continue
		}
		f := sign * other[j-1]
		if f == 0 && p == den {
			continue
		}
		for c, v := range row {
			if c != j-1 && (v != 0 || other[c] != 0) {
				other[c] = addTo(times(p, other[c], &bad), -times(f, v, &bad), &bad) / den
			}
		}
		other[j-1] = f
		d.x.Mul(&d.consts[k], d.y.SetInt64(p))
		d.x.Sub(&d.x, d.y.Mul(&d.consts[i], d.y.SetInt64(f)))
		d.consts[k].Quo(&d.x, d.y.SetInt64(den))
	}
	if bad {
		return false
	}
	for c := range row {
		row[c] *= -sign
	}
	row[j-1] = sign * den
	if sign > 0 {
		d.consts[i].Neg(&d.consts[i])
	}
	d.den = p
	return true
}

// bigRows is a dictionary whose numbers may be of any size.
type bigRows struct {
	den   *big.Int
	cells [][]*big.Int
	t     big.Int
}

func (s *solved) bigRows(list []int) *bigRows {
	d := &bigRows{den: big.NewInt(1), cells: make([][]*big.Int, 2*len(list)+1)}
	for i := range d.cells {
		d.cells[i] = make([]*big.Int, len(s.classes)+2)
		for j := range d.cells[i] {
			d.cells[i][j] = new(big.Int)
		}
	}
	s.start(list, func(row int, r *Reading, up bool) {
		d.cells[row][0].SetInt64(slack(r, up))
	}, func(row, column int, v int64) { d.cells[row][column].SetInt64(v) })
	return d
}

func (d *bigRows) sign(i, j int) int { return d.cells[i][j].Sign() }

func (d *bigRows) cell(i, j int) *big.Rat { return new(big.Rat).SetFrac(d.cells[i][j], d.den) }

func (d *bigRows) lower(i, k int) bool { return d.cells[i][0].Cmp(d.cells[k][0]) < 0 }

func (d *bigRows) nearer(i, k, j int) int {
	x := new(big.Int).Mul(d.cells[k][0], d.cells[i][j])
	return x.Cmp(d.t.Mul(d.cells[i][0], d.cells[k][j]))
}

func (d *bigRows) turn(i, j int) bool {
	row := d.cells[i]
	p := new(big.Int).Abs(row[j])
	negative := row[j].Sign() < 0
	for k, other := range d.cells {
		if k == i || other[j].Sign() == 0 && p.Cmp(d.den) == 0 {
			continue
		}
		f := new(big.Int).Set(other[j])
		if negative {
			f.Neg(f)
		}
		for c, v := range row {
			if c != j {
				other[c].Mul(other[c], p)
				other[c].Sub(other[c], d.t.Mul(f, v))
				other[c].Quo(other[c], d.den)
			}
		}
		other[j].Set(f)
	}
	for c, v := range row {
		if c == j {
			v.Set(d.den)
			if negative {
				v.Neg(v)
			}
		} else if !negative {
			v.Neg(v)
		}
	}
	d.den = p
	return true
}

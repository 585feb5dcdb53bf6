package weight

import (
	"cmp"
	"math/big"
	"slices"
)

// agreement asks, exactly, whether loads that are nowhere below nothing can
// lie within every tolerance. The linear program widens all tolerances by one
// amount t, as little as it takes; its dual is a smallest contradiction.
type agreement struct {
	apart, within *big.Int // of the contradiction, in nanograms
	readings      []int    // those in it
	where         Set      // what would weigh less than nothing
	stretch       Mass     // t, rounded up
}

// agree returns nil when the readings listed can all be right.
func (s *solved) agree(list []int) *agreement {
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
			return s.contradiction(list, goal, nonbasic)
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

func ratRow(n int) []*big.Rat {
	cells, row := make([]big.Rat, n), make([]*big.Rat, n)
	for i := range row {
		row[i] = &cells[i]
	}
	return row
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

// contradiction reads the smallest contradiction off the final goal row.
func (s *solved) contradiction(list []int, goal []*big.Rat, nonbasic []int) *agreement {
	n := len(s.classes)
	a := &agreement{apart: new(big.Int), within: new(big.Int)}
	share := ratRow(len(list))
	for j, v := range nonbasic {
		d := goal[1+j]
		switch k := (v - n - 1) / 2; {
		case v < n && d.Sign() > 0:
			a.where |= s.classes[v]
		case v > n && (v-n-1)%2 == 0:
			share[k].Add(share[k], d)
		case v > n:
			share[k].Sub(share[k], d)
		}
	}
	// As whole numbers without a common divisor: mostly 1 and -1.
	lcm, all := big.NewInt(1), new(big.Int)
	t := new(big.Int)
	for _, v := range share {
		lcm.Mul(lcm, t.Div(v.Denom(), t.GCD(nil, nil, lcm, v.Denom())))
	}
	for _, v := range share {
		v.Mul(v, new(big.Rat).SetInt(lcm))
		all.GCD(nil, nil, all, t.Abs(v.Num()))
	}
	for k, v := range share {
		if v.Sign() == 0 {
			continue
		}
		r := s.readings[list[k]]
		c := new(big.Int).Quo(v.Num(), all)
		a.readings = append(a.readings, list[k])
		a.apart.Sub(a.apart, t.Mul(c, big.NewInt(int64(r.Load))))
		a.within.Add(a.within, t.Mul(c.Abs(c), big.NewInt(int64(r.Tolerance))))
	}
	a.stretch = massUp(bigDiv(goal[0], 1, Ceiling))
	slices.Sort(a.readings)
	return a
}

func massUp(v *big.Int) Mass {
	if !v.IsInt64() {
		return greatest
	}
	return Mass(v.Int64())
}

// contradictions finds the conflicts, if any, and what is left to say.
func (s *solved) contradictions() {
	// Sorted, so that the order of the readings is no matter.
	list := make([]int, len(s.readings))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := s.readings[a], s.readings[b]
		return cmp.Or(cmp.Compare(x.On, y.On), cmp.Compare(x.Load, y.Load), cmp.Compare(x.Tolerance, y.Tolerance), cmp.Compare(x.Name, y.Name))
	})
	first := s.agree(list)
	if first == nil {
		return
	}
	s.inConflict = make([]bool, len(s.readings))
	s.stretched = make([]Mass, len(s.readings))
	for i, r := range s.readings {
		s.stretched[i] = r.Tolerance
	}
	var suspects []string
	for _, i := range first.readings {
		if s.agree(slices.DeleteFunc(slices.Clone(list), func(k int) bool { return k == i })) != nil {
			continue
		}
		suspects = append(suspects, s.readings[i].Name)
		w := &solved{rig: s.rig, scale: s.scale}
		w.readings = slices.Delete(slices.Clone(s.readings), i, i+1)
		w.build()
		s.without = append(s.without, w)
	}
	for a := first; a != nil; {
		c := &Conflict{Kind: Disagree, Where: a.where, Suspects: suspects}
		if a.where != 0 {
			c.Kind = Negative
		}
		if len(suspects) == 1 {
			c.OddOneOut = suspects[0]
		}
		grid := s.rig.System.MassGrid()
		c.Apart, c.Allowed = massUp(a.apart).Round(grid, Ceiling), massUp(a.within).Round(grid, Ceiling)
		for _, i := range a.readings {
			c.Readings = append(c.Readings, s.readings[i].Name)
			s.inConflict[i] = true
			off := s.residual(i)
			s.stretched[i] = satAdd(s.stretched[i], max(a.stretch, off, -off))
		}
		s.conflicts = append(s.conflicts, c)
		if len(suspects) > 0 {
			break
		}
		// No single reading explains it: look for more among the others.
		list = slices.DeleteFunc(list, func(k int) bool { return s.inConflict[k] })
		a = s.agree(list)
	}
}

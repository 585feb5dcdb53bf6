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
	p := &program{n: n, m: m, rows: s.wordRows(list), work: &s.work, each: (2*m + 1) * (n + 2)}
	optimal, ok := p.run()
	if !ok {
		p.rows, p.each = s.bigRows(list), p.each*bigCell
		optimal, ok = p.run()
	}
	switch {
	case !ok: // nobody knows how far they are apart
		return &agreement{apart: new(big.Int), within: new(big.Int), readings: slices.Clone(list), stretch: greatest}
	case !optimal:
		return nil
	}
	return s.contradiction(list, p)
}

// Work is counted in cells of a linear program. Leaving readings out and
// looking for further contradictions ends at enoughWork, a program at
// mostWork. A cell of any size counts as bigCell of those in words.
const (
	enoughWork = 10_000_000
	mostWork   = 200_000_000
	bigCell    = 16
)

// program is the linear program as a dictionary: each basic variable is a
// constant (column 0) and so much of each nonbasic one (column 1+j), and so is
// the goal, the last row. Variables: 0..n-1 loads, n is t, then two slacks a
// reading.
type program struct {
	n, m            int
	rows            dictionary
	basic, nonbasic []int
	work            *int // of all programs together
	each            int  // work of one turn
}

// dictionary is the rows of a program over one common denominator above 0.
type dictionary interface {
	sign(i, j int) int
	cell(i, j int) *big.Rat
	// lower compares the constants of two rows, nearer what they allow column
	// j to be.
	lower(i, k int) bool
	nearer(i, k, j int) int
	// turn exchanges the variables of a row and a column. False says that a
	// number outgrew the form; the rows are then spoilt.
	turn(i, j int) bool
}

// run looks for the least t, or until it is seen to be nothing: then not
// optimal. It is not ok when the numbers outgrew the form of the rows.
func (p *program) run() (optimal, ok bool) {
	p.basic, p.nonbasic = make([]int, 2*p.m), make([]int, p.n+1)
	for j := range p.nonbasic {
		p.nonbasic[j] = j
	}
	for i := range p.basic {
		p.basic[i] = p.n + 1 + i
	}
	first := p.lowest()
	if first < 0 {
		return false, true
	}
	if !p.turn(first, p.n) {
		return false, false
	}
	for p.rows.sign(p.goal(), 0) > 0 {
		enter := p.entering()
		if enter < 0 {
			return true, true
		}
		if !p.turn(p.leaving(enter), enter) || *p.work > mostWork {
			return false, false
		}
	}
	return false, true
}

func (p *program) goal() int { return 2 * p.m }

// lowest is the row whose constant is furthest below nothing, or -1.
func (p *program) lowest() int {
	row := -1
	for i := range p.basic {
		if p.rows.sign(i, 0) < 0 && (row < 0 || p.rows.lower(i, row)) {
			row = i
		}
	}
	return row
}

// entering is the column to turn, or -1 where none helps. By Bland's rule it is the
// lowest variable that does, so that it ends.
func (p *program) entering() int {
	enter := -1
	for j, v := range p.nonbasic {
		if p.rows.sign(p.goal(), 1+j) < 0 && (enter < 0 || v < p.nonbasic[enter]) {
			enter = j
		}
	}
	return enter
}

// leaving is the row that stops a column first, by the same rule, or -1.
func (p *program) leaving(enter int) int {
	leave := -1
	for i, v := range p.basic {
		if p.rows.sign(i, 1+enter) >= 0 {
			continue
		}
		if leave < 0 {
			leave = i
		} else if c := p.rows.nearer(i, leave, 1+enter); c < 0 || c == 0 && v < p.basic[leave] {
			leave = i
		}
	}
	return leave
}

func (p *program) turn(i, j int) bool {
	*p.work += p.each
	p.basic[i], p.nonbasic[j] = p.nonbasic[j], p.basic[i]
	return p.rows.turn(i, 1+j)
}

// contradiction reads the smallest contradiction off the final goal row.
func (s *solved) contradiction(list []int, p *program) *agreement {
	n, goal := p.n, p.goal()
	a := &agreement{apart: new(big.Int), within: new(big.Int)}
	share := ratRow(len(list))
	for j, v := range p.nonbasic {
		d := p.rows.cell(goal, 1+j)
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
	stretch := p.rows.cell(goal, 0)
	a.stretch = massUp(bigDiv(stretch.Num(), stretch.Denom(), 1, Ceiling))
	slices.Sort(a.readings)
	return a
}

func massUp(v *big.Int) Mass {
	if !v.IsInt64() {
		return greatest
	}
	return Mass(v.Int64())
}

// suspects names each reading whose leaving out alone lets the rest agree, and
// keeps the solution without it. Such a reading is in every contradiction, so
// each further one found leaves fewer to try. Where that takes more than enough
// work, none is singled out.
func (s *solved) suspects(list []int, first *agreement) []string {
	var names []string
	for may := slices.Clone(first.readings); len(may) > 0; {
		if s.work > enoughWork {
			s.without = nil
			return nil
		}
		i := may[0]
		may = may[1:]
		rest := slices.DeleteFunc(slices.Clone(list), func(k int) bool { return k == i })
		if a := s.agree(rest); a != nil {
			may = slices.DeleteFunc(may, func(k int) bool { return !slices.Contains(a.readings, k) })
			continue
		}
		names = append(names, s.readings[i].Name)
		w := &solved{rig: s.rig, scale: s.scale}
		w.readings = slices.Delete(slices.Clone(s.readings), i, i+1)
		w.build()
		s.without = append(s.without, w)
	}
	return names
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
	suspects := s.suspects(list, first)
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
		if s.work > enoughWork {
			for _, i := range list { // all that nobody has looked at
				s.inConflict[i] = true
			}
			s.stretch(first.stretch)
			return
		}
		a = s.agree(list)
	}
	if len(suspects) == 0 {
		s.reconcile()
	}
}

// stretch sees to it that every tolerance is stretched by that much at least.
func (s *solved) stretch(by Mass) {
	for i, r := range s.readings {
		s.stretched[i] = max(s.stretched[i], satAdd(r.Tolerance, by))
	}
}

// reconcile stretches the tolerances further until all readings agree within
// them: stretched only where a contradiction was found, they may not.
func (s *solved) reconcile() {
	t := &solved{rig: s.rig, classes: s.classes, readings: slices.Clone(s.readings)}
	list := make([]int, len(t.readings))
	for i := range list {
		list[i], t.readings[i].Tolerance = i, s.stretched[i]
	}
	if a := t.agree(list); a != nil {
		for i := range s.stretched {
			s.stretched[i] = satAdd(s.stretched[i], a.stretch)
		}
	}
	s.work += t.work
}

package weight

import (
	"errors"
	"slices"
	"strings"
)

// settler looks for weighings that bring a sum into the span of the
// readings. Unknowns are axle ends, or the wheels of a pair where one wheel
// is read or asked about.
type settler struct {
	s      *solved
	units  []Set
	basis  [][]int64 // readings, then weighings tried; each clears its pivot
	pivots []int
	base   int // how many of them are readings
	ok     bool
	tried  int
}

// settleBudget is how many nodes one search may visit before it settles for
// enough instead of the fewest.
const settleBudget = 2_000

func newSettler(s *solved, asked Set) *settler {
	y := &settler{s: s, ok: true}
	sets := []Set{asked}
	for _, r := range s.readings {
		sets = append(sets, r.On)
	}
	for a, axle := range s.rig.Axles {
		for _, side := range [...]Side{Left, Right} {
			end := EndOf(a, side)
			split := axle.Fitment != Single && slices.ContainsFunc(sets, func(set Set) bool {
				return set&end != 0 && set&end != end
			})
			if split {
				y.units = append(y.units, WheelOf(a, side, Inner), WheelOf(a, side, Outer))
			} else {
				y.units = append(y.units, end)
			}
		}
	}
	for _, r := range s.readings {
		y.add(y.row(r.On))
	}
	y.base = len(y.basis)
	return y
}

func (y *settler) row(set Set) []int64 {
	row := make([]int64, len(y.units))
	for j, u := range y.units {
		if set&u == u {
			row[j] = 1
		}
	}
	return row
}

// rest takes the basis out of a copy of v, from basis row from on.
func (y *settler) rest(v []int64, from int) []int64 {
	v = slices.Clone(v)
	for i := from; i < len(y.basis); i++ {
		b, p := y.basis[i], y.pivots[i]
		f := v[p]
		if f == 0 {
			continue
		}
		g := gcd(absInt(b[p]), absInt(f))
		x, z := b[p]/g, f/g
		var high uint64
		for j := range v {
			v[j] = x*v[j] - z*b[j]
			high |= uint64(v[j] + small)
		}
		if high >= 2*small {
			y.ok = false
			return make([]int64, len(v))
		}
		shrink(v)
	}
	return v
}

// add puts what is new in v into the basis and reports whether anything is.
func (y *settler) add(v []int64) bool {
	v = y.rest(v, 0)
	p := slices.IndexFunc(v, func(x int64) bool { return x != 0 })
	if p < 0 {
		return false
	}
	y.basis, y.pivots = append(y.basis, v), append(y.pivots, p)
	return true
}

func zero(v []int64) bool { return !slices.ContainsFunc(v, func(x int64) bool { return x != 0 }) }

// weighings lists what the scale can take, in the order they are preferred.
func (y *settler) weighings() []Set {
	rig, scale := y.s.rig, y.s.scale
	var out []Set
	add := func(s Set) {
		if s != 0 && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if scale.Kind == Pads {
		for _, u := range y.units {
			add(u)
		}
		for a := range rig.Axles {
			add(EndOf(a, Left))
			add(EndOf(a, Right))
		}
		return out
	}
	runs := y.s.runs()
	switch scale.Kind {
	case Platform, Segmented:
		for _, run := range runs {
			add(run)
		}
		for _, run := range runs {
			add(run & SideOf(Left))
			add(run & SideOf(Right))
		}
	case WholeAxles:
		for _, run := range runs {
			add(run)
		}
	}
	return out
}

// runs are the axles in a row that a scale takes at once, the shorter runs first: on a
// platform they begin or end with the rig.
func (s *solved) runs() []Set {
	last := len(s.rig.Axles) - 1
	var runs []Set
	for more := 0; more <= last; more++ {
		for from := 0; from+more <= last; from++ {
			to := from + more
			if s.scale.Kind == Platform && from != 0 && to != last || !s.onPlate(from, to) {
				continue
			}
			var run Set
			for a := from; a <= to; a++ {
				run |= AxleOf(a)
			}
			runs = append(runs, run)
		}
	}
	return runs
}

// onPlate reports whether a run of axles fits the plate, as far as is known.
func (s *solved) onPlate(from, to int) bool {
	a, b := s.rig.Axles[from], s.rig.Axles[to]
	if s.scale.Plate <= 0 || from == to || b.Behind == 0 || from > 0 && a.Behind == 0 {
		return true
	}
	return b.Behind-a.Behind <= s.scale.Plate
}

// settle finds as few weighings as bring the set into the span; fewest says
// that the search proved it.
func (y *settler) settle(set Set) (plan []Set, fewest bool) {
	sets := y.weighings()
	target := y.rest(y.row(set), 0)
	if zero(target) || !y.ok {
		return nil, y.ok
	}
	cands := make([][]int64, len(sets))
	for i, c := range sets {
		cands[i] = y.rest(y.row(c), 0)
	}
	for _, c := range cands {
		y.add(c)
	}
	reachable := zero(y.rest(target, y.base))
	y.cut()
	if !reachable || !y.ok {
		return nil, y.ok
	}
	for depth := 1; depth <= len(y.units); depth++ {
		if picks, found := y.search(target, cands, depth); found {
			slices.Sort(picks)
			for _, i := range picks {
				plan = append(plan, sets[i])
			}
			return plan, true
		}
		if y.tried > settleBudget || !y.ok {
			break
		}
	}
	return y.enough(sets, target), false
}

// enough leaves out of the weighings one after the other, as long as the rest brings the
// target into the span.
func (y *settler) enough(plan []Set, target []int64) []Set {
	y.cut()
	y.ok = true
	for i := len(plan) - 1; i >= 0; i-- {
		without := slices.Delete(slices.Clone(plan), i, i+1)
		for _, c := range without {
			y.add(y.row(c))
		}
		if zero(y.rest(target, y.base)) && y.ok {
			plan = without
		}
		y.cut()
		y.ok = true
	}
	return plan
}

func (y *settler) cut() { y.basis, y.pivots = y.basis[:y.base], y.pivots[:y.base] }

// search picks at most depth candidates whose span holds the target, which is
// not 0. Some coordinate of the target is not 0, so one of the picks must touch it:
// only those are tried, at the coordinate that the fewest touch. Once they are found
// the settler is done with.
func (y *settler) search(target []int64, cands [][]int64, depth int) ([]int, bool) {
	if y.tried++; depth == 0 || y.tried > settleBudget || !y.ok {
		return nil, false
	}
	at := leastTouched(target, cands)
	cands = slices.Clone(cands)
	for i, c := range cands {
		if c == nil || c[at] == 0 {
			continue
		}
		mark := len(y.basis)
		y.basis, y.pivots = append(y.basis, c), append(y.pivots, at)
		next := y.rest(target, mark)
		if zero(next) && y.ok {
			return []int{i}, true
		}
		if depth > 1 {
			if picks, found := y.search(next, y.left(cands, i, mark), depth-1); found {
				return append(picks, i), true
			}
		}
		y.basis, y.pivots = y.basis[:mark], y.pivots[:mark]
		cands[i] = nil // every plan with it has been tried
	}
	return nil, false
}

// leastTouched is the coordinate of the target, of those that are not 0, that the fewest
// candidates touch.
func leastTouched(target []int64, cands [][]int64) int {
	at, few := -1, 0
	for j, v := range target {
		if v == 0 {
			continue
		}
		n := 0
		for _, c := range cands {
			if c != nil && c[j] != 0 {
				n++
			}
		}
		if at < 0 || n < few {
			at, few = j, n
		}
	}
	return at
}

// left are the candidates but one, less the basis from a row on; nil where nothing of one
// is left.
func (y *settler) left(cands [][]int64, but, from int) [][]int64 {
	out := make([][]int64, len(cands))
	for k, c := range cands {
		if c == nil || k == but {
			continue
		}
		if c = y.rest(c, from); !zero(c) {
			out[k] = c
		}
	}
	return out
}

// Settle gives the fewest further weighings, on the scale passed to [Solve],
// that would determine a set: a platform takes everything from the front or
// from the rear up to an axle, with both sides or one on the plate; pads take
// an end or one wheel of a pair. It is empty for a set that is determined, that
// this scale cannot determine, or that lies outside the rig.
func (s Solution) Settle(set Set) UndeterminedSum {
	if s.s == nil {
		return UndeterminedSum{Set: set}
	}
	out := UndeterminedSum{Set: set, Name: s.s.rig.Name(set)}
	if !s.s.rig.All().Contains(set) || s.s.halves(set) {
		out.Fewest = true
		return out
	}
	plan, fewest := newSettler(s.s, set).settle(set)
	out.Fewest = fewest
	for _, p := range plan {
		out.Weighings = append(out.Weighings, s.s.next(p))
	}
	return out
}

// halves reports whether a set holds half of an end with one tire.
func (s *solved) halves(set Set) bool {
	return errors.Is(s.check(&Reading{On: set, Load: 1}, s.rig.All()), ErrOneWheel)
}

// Undetermined lists each end, axle, side and total that the readings do not
// determine, the smaller parts first, with what would settle it. Sums whose
// readings contradict each other are not among them: see [Solution.Conflicts].
func (s Solution) Undetermined() []UndeterminedSum {
	if s.s == nil {
		return nil
	}
	var out []UndeterminedSum
	for _, set := range s.s.rig.Sums() {
		var x raw
		if !s.s.find(set, 0, nil, &x) {
			out = append(out, s.Settle(set))
		}
	}
	return out
}

// SettleAll gives the fewest further weighings that determine every end, and
// so every sum. It is empty when every end is determined, and when this scale
// cannot determine them all; see [Solution.Settle] for what it can.
func (s Solution) SettleAll() []NextWeighing {
	if s.s == nil {
		return nil
	}
	y := newSettler(s.s, 0)
	var out []NextWeighing
	for _, p := range y.weighings() {
		if y.add(y.row(p)) {
			out = append(out, s.s.next(p))
		}
	}
	if len(y.basis) < len(y.units) || !y.ok {
		return nil
	}
	return out
}

// next puts a weighing into words for the driver.
func (s *solved) next(set Set) NextWeighing {
	var names []string
	for _, a := range set.Axles() {
		names = append(names, s.rig.AxleName(a))
	}
	list := strings.Join(names, " and ")
	if n := len(names); n > 2 {
		list = strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	var b strings.Builder
	if s.scale.Kind == Pads {
		b.WriteString("Put a pad under ")
		b.WriteString(s.rig.Name(set))
		if set.Len() == 2 && s.rig.Axles[set.Axles()[0]].Fitment == Dual {
			b.WriteString(", both tires of the pair on it")
		}
		b.WriteString(", nothing else; all other wheels at the same height.")
		return NextWeighing{On: set, Instruction: b.String()}
	}
	last := AxleOf(len(s.rig.Axles) - 1)
	switch {
	case set&AxleOf(0) != 0 && set&last != 0:
		b.WriteString("Drive on until the whole length is on the plate: ")
	case set&AxleOf(0) != 0:
		b.WriteString("Drive on from the front and stop with only these axles on the plate: ")
	case set&last != 0:
		b.WriteString("Drive off at the front and stop with only these axles still on the plate: ")
	default:
		b.WriteString("Stop with only these axles on one plate: ")
	}
	b.WriteString(list)
	switch set {
	case set & SideOf(Left):
		b.WriteString("; the left side on the plate, the right side beside it")
	case set & SideOf(Right):
		b.WriteString("; the right side on the plate, the left side beside it")
	}
	b.WriteString(".")
	return NextWeighing{On: set, Instruction: b.String()}
}

package placement

import (
	"cmp"
	"context"

	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// MaxTires is how many tires, the spares counted, [Find] finds
// places for.
const MaxTires = 14

// demountWork is what moving a tire to another wheel, or turning it on its
// own, costs besides the move, counted in moves: it takes a machine, a cage
// and trained people.
const demountWork = 2

// A cost ranks arrangements; the least is the best. Its parts count from the
// first down.
type cost struct {
	bare  int // wheel positions left without a tire
	empty int // spare carriers left without one
	soft  int // rules broken whose action can be planned
	inner int // inner tires to buy beside an outer one at hand
	// unread are the tires that come onto the steer axle while something of them was
	// not read, is too close to call or is hidden inside: one that was read through
	// goes there rather.
	unread int
	// used is the tread of all the tires that have a place, below zero: where
	// one has to go, it is the one with less.
	used weight.Length
	work int // moves, a demount counting as three
	// The steer axle's treads, the shallower first, below zero so that more
	// is less.
	low, high weight.Length
	ends      int // axle ends at which a wheel comes off
}

func (c cost) plus(d cost) cost {
	return cost{c.bare + d.bare, c.empty + d.empty, c.soft + d.soft, c.inner + d.inner, c.unread + d.unread, c.used + d.used, c.work + d.work, c.low + d.low, c.high + d.high, c.ends + d.ends}
}

func (c cost) compare(d cost) int {
	return cmp.Or(cmp.Compare(c.bare, d.bare), cmp.Compare(c.empty, d.empty), cmp.Compare(c.soft, d.soft),
		cmp.Compare(c.inner, d.inner), cmp.Compare(c.unread, d.unread), cmp.Compare(c.used, d.used), cmp.Compare(c.work, d.work), cmp.Compare(c.low, d.low), cmp.Compare(c.high, d.high), cmp.Compare(c.ends, d.ends))
}

// sameRules reports whether two arrangements keep the rules as well.
func (c cost) sameRules(d cost) bool {
	return c.bare == d.bare && c.empty == d.empty && c.soft == d.soft
}

// A group is the places that are judged together: an axle's, or one spare's
// carrier.
type group struct {
	axle   int // -1 for a carrier
	places []int
}

// An option is one way to fill a group in which no tire breaks a rule that
// forbids it.
type option struct {
	mask   uint32  // of the tires, by their index on the bench
	tires  [4]int8 // by the group's places, noTire where there is none
	cost   cost
	unsure bool
	banned bool // the assessment after the work has worse to say of it
}

const noTire = -1

// An arrangement gives the tire on each place of the bench, both by their
// index among the visit's places; noTire where there is none.
type arrangement []int

func (a arrangement) at(place int) int { return a[place] }

// A search finds the best arrangement of the tires on a bench. The groups
// share nothing but the tires, so that it looks at each set of tires for each
// group once, and combines the groups by the set of tires that is left.
type search struct {
	*bench
	ctx     context.Context
	groups  []group
	options [][]option
}

func newSearch(ctx context.Context, b *bench) (*search, error) {
	s := &search{bench: b, ctx: ctx}
	for i := range b.as.Visit.Axles {
		if b.as.Visit.Axles[i].Towed {
			continue
		}
		g := group{axle: i}
		for p := b.as.Layout.First[i]; p < b.as.Layout.First[i+1]; p++ {
			g.places = append(g.places, p)
		}
		s.groups = append(s.groups, g)
	}
	for p := len(b.as.Layout.Wheels); p < len(b.as.Tires); p++ {
		s.groups = append(s.groups, group{axle: -1, places: []int{p}})
	}
	s.options = make([][]option, len(s.groups))
	for i := range s.groups {
		if err := s.list(i); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// list lists a group's options in the order of their tires by place.
func (s *search) list(gi int) error {
	if err := s.ctx.Err(); err != nil {
		return err
	}
	g := &s.groups[gi]
	may, err := s.mayGo(g)
	if err != nil {
		return err
	}
	var o option
	var walk func(i int) error
	walk = func(i int) error {
		if i == len(g.places) {
			ok, err := s.judge(g, &o)
			if ok {
				s.options[gi] = append(s.options[gi], o)
			}
			return err
		}
		for t := range s.tires {
			if bit := uint32(1) << t; may[i]&bit != 0 && o.mask&bit == 0 {
				o.mask |= bit
				o.tires[i] = int8(t)
				if err := walk(i + 1); err != nil {
					return err
				}
				o.mask &^= bit
			}
		}
		o.tires[i] = noTire
		return walk(i + 1)
	}
	return walk(0)
}

// mayGo gives the tires that may go to each place of a group.
func (s *search) mayGo(g *group) ([]uint32, error) {
	may := make([]uint32, len(g.places))
	for i, p := range g.places {
		for t, tire := range s.tires {
			if !s.keepsSize(tire, p) || g.axle == 0 && s.overloaded[tire] && s.as.Tires[tire].AxleIndex != 0 { // what it took nobody sees: it does not come to steer
				continue
			}
			v, err := s.judgeTire(tire, p, nil)
			if err != nil {
				return nil, err
			}
			if !v.hard || s.needsSet && !s.condemned(tire) {
				may[i] |= 1 << t
			}
		}
	}
	return may, nil
}

// judge finds what an option costs; ok is false for one that breaks a rule
// that forbids it.
func (s *search) judge(g *group, o *option) (ok bool, err error) {
	o.cost, o.unsure = cost{}, false
	sum, err := s.judgePairs(g, o) // first: they rule out most
	if err != nil || sum.hard {
		return false, err
	}
	var axle axleVerdict
	if g.axle >= 0 && o.mask != 0 {
		if axle, err = s.judgeAxle(g.axle, o.mask); err != nil || axle.hard {
			return false, err
		}
		sum.add(axle.verdict)
	}
	for i, p := range g.places {
		if o.tires[i] == noTire {
			s.countEmpty(g, o, p)
			continue
		}
		tire := s.tires[o.tires[i]]
		v, err := s.judgeTire(tire, p, axle.set)
		if err != nil || v.hard {
			return false, err
		}
		sum.add(v)
		if g.axle == 0 && s.as.Tires[tire].AxleIndex != 0 && s.unread(tire, v) {
			o.cost.unread++
		}
		o.cost.work += s.work(tire, p)
		d, _ := s.as.Tires[tire].Line.Tread.Get() // what was not probed counts as none
		o.cost.used -= d
	}
	o.cost.ends = s.opened(g, o)
	o.cost.soft, o.unsure = int(sum.soft), sum.unsure
	if g.axle == 0 {
		o.cost.low, o.cost.high = s.steerTread(o.tires[:len(g.places)])
	}
	return true, nil
}

// judgePairs judges the pairs of a group, until one breaks a rule that forbids it.
func (s *search) judgePairs(g *group, o *option) (sum verdict, err error) {
	for i := range g.places {
		outer, inner, ok := s.pairAt(g, o, i)
		if !ok {
			continue
		}
		v, err := s.judgePair(outer, inner, g.places[i])
		if sum.add(v); err != nil || v.hard {
			return sum, err
		}
	}
	return sum, nil
}

// countEmpty adds what a place without a tire costs.
func (s *search) countEmpty(g *group, o *option, place int) {
	st := &s.as.Tires[place]
	if st.Position == nil {
		o.cost.empty++
		return
	}
	o.cost.bare++
	if st.Position.Place == record.Inner && o.tires[st.Mate-g.places[0]] != noTire {
		// A bought tire has the more tread, and belongs outside.
		o.cost.inner++
	}
}

// opened counts the ends of an axle at which a wheel comes off or is missing.
func (s *search) opened(g *group, o *option) (ends int) {
	var opened [2]bool // the left and the right one
	for i, p := range g.places {
		w := s.as.Tires[p].Position
		if w == nil || opened[w.Side-weight.Left] {
			continue
		}
		if o.tires[i] == noTire || s.work(s.tires[o.tires[i]], p) > 0 {
			opened[w.Side-weight.Left] = true
			ends++
		}
	}
	return ends
}

// pairAt gives the tires of the pair whose outer one is on the group's i-th
// place.
func (s *search) pairAt(g *group, o *option, i int) (outer, inner int, ok bool) {
	place := s.innerOf(g.places[i])
	if o.tires[i] == noTire || place == noTire {
		return 0, 0, false
	}
	mate := o.tires[place-g.places[0]]
	if mate == noTire {
		return 0, 0, false
	}
	return s.tires[o.tires[i]], s.tires[mate], true
}

// work is what it takes to bring a tire to a place.
func (b *bench) work(tire, place int) int {
	demount := b.turned(tire, place) || !b.fits(tire, place)
	switch {
	case tire == place && !demount:
		return 0
	case demount:
		return 1 + demountWork
	}
	return 1
}

// steerTread gives the treads of the tires on an axle, below zero, the
// shallowest and the deepest; one that was not probed counts as none.
func (s *search) steerTread(tires []int8) (low, high weight.Length) {
	n := 0
	for _, t := range tires {
		if t == noTire {
			continue
		}
		d, _ := s.as.Tires[s.tires[t]].Line.Tread.Get()
		if n == 0 || d < low {
			low = d
		}
		high = max(high, d)
		n++
	}
	return -low, -high
}

// A choice is the best option of those with the same tires.
type choice struct {
	mask  uint32
	index int32
}

// best finds the best arrangement among the options that are allowed, nil for
// all of them. Of several as good it takes the one that comes first in the
// order of tires by place.
func (s *search) best(allow func(*group, *option) bool) (arrangement, cost, error) {
	choices := make([][]choice, len(s.groups))
	for gi := range s.groups {
		at := make([]int, 1<<len(s.tires)) // one more than the choice's index
		for i := range s.options[gi] {
			o := &s.options[gi][i]
			if o.banned || allow != nil && !allow(&s.groups[gi], o) {
				continue
			}
			switch k := at[o.mask] - 1; {
			case k < 0:
				choices[gi] = append(choices[gi], choice{o.mask, int32(i)})
				at[o.mask] = len(choices[gi])
			case o.cost.compare(s.options[gi][choices[gi][k].index].cost) < 0:
				choices[gi][k].index = int32(i)
			}
		}
	}
	c := combiner{search: s, choices: choices, memo: make([][]rest, len(s.groups))}
	for i := range c.memo {
		c.memo[i] = make([]rest, 1<<len(s.tires))
	}
	top := c.from(0, 0)
	if c.err != nil {
		return nil, cost{}, c.err
	}
	out := make(arrangement, len(s.as.Tires))
	for i := range out {
		out[i] = noTire
	}
	used := uint32(0)
	for gi := range s.groups {
		o := &s.options[gi][c.from(gi, used).index]
		used |= o.mask
		for i, p := range s.groups[gi].places {
			if o.tires[i] != noTire {
				out[p] = s.tires[o.tires[i]]
			}
		}
	}
	return out, top.cost, nil
}

// A rest is the best that the groups from one on can do with the tires that
// are left, and the option of the first of them.
type rest struct {
	cost  cost
	index int32
	known bool
}

type combiner struct {
	*search
	choices [][]choice
	memo    [][]rest // by the tires that are used
	err     error
}

func (c *combiner) from(gi int, used uint32) rest {
	if gi == len(c.groups) || c.err != nil {
		return rest{}
	}
	if r := c.memo[gi][used]; r.known {
		return r
	}
	if c.err = c.ctx.Err(); c.err != nil {
		return rest{}
	}
	best := rest{index: -1, known: true}
	for _, ch := range c.choices[gi] {
		if ch.mask&used != 0 {
			continue
		}
		own := c.options[gi][ch.index].cost
		r := rest{own.plus(c.from(gi+1, used|ch.mask).cost), ch.index, true}
		if best.index < 0 {
			best = r
			continue
		}
		if n := r.cost.compare(best.cost); n < 0 || n == 0 && r.index < best.index {
			best = r
		}
	}
	c.memo[gi][used] = best
	return best
}

package cargo

import (
	"context"
	"errors"
	"math/bits"
	"slices"
	"testing"
)

// takes are the uses of a choice, of bound and amount.
func takes(of ...[2]int64) (out []use) {
	for _, u := range of {
		out = append(out, use{bound: int32(u[0]), of: u[1]})
	}
	return out
}

// Which choice is never worse than which: it costs no more and takes no more of any
// bound. Computed.
func TestNoWorse(t *testing.T) {
	for _, c := range []struct {
		a, b    choice
		no, yes bool // a no worse than b; b no worse than a
	}{
		{choice{}, choice{}, true, true},
		{choice{cost: 1}, choice{}, false, true},
		{choice{}, choice{uses: takes([2]int64{0, 1})}, true, false},
		{choice{cost: 1}, choice{uses: takes([2]int64{0, 1})}, false, false},
		{choice{uses: takes([2]int64{0, 1})}, choice{uses: takes([2]int64{0, 1})}, true, true},
		{choice{uses: takes([2]int64{0, 1})}, choice{uses: takes([2]int64{0, 2})}, true, false},
		{choice{uses: takes([2]int64{0, 1})}, choice{uses: takes([2]int64{1, 1})}, false, false},
		{choice{uses: takes([2]int64{1, 1})}, choice{uses: takes([2]int64{0, 1}, [2]int64{1, 1})}, true, false},
		{choice{uses: takes([2]int64{2, 1})}, choice{uses: takes([2]int64{0, 1}, [2]int64{1, 1})}, false, false},
		{choice{uses: takes([2]int64{0, 1}, [2]int64{2, 5})}, choice{uses: takes([2]int64{0, 1}, [2]int64{1, 9}, [2]int64{2, 5})}, true, false},
		{choice{uses: takes([2]int64{0, 1}, [2]int64{2, 6})}, choice{uses: takes([2]int64{0, 1}, [2]int64{1, 9}, [2]int64{2, 5})}, false, false},
		{choice{uses: takes([2]int64{0, 1}, [2]int64{1, 1})}, choice{uses: takes([2]int64{0, 9}, [2]int64{2, 9})}, false, false},
	} {
		if no, yes := c.a.noWorse(&c.b), c.b.noWorse(&c.a); no != c.no || yes != c.yes {
			t.Errorf("%+v and %+v: %v and %v, want %v and %v", c.a, c.b, no, yes, c.no, c.yes)
		}
	}
	// Of some that are alike the first is kept, and of some that are worse none.
	a, b, worse := choice{to: 1}, choice{to: 2}, choice{to: 3, cost: 1}
	p := &choices{items: [][]choice{{worse, a, b}, {a}, {b, a}, {worse}, {a, worse, b, worse}}}
	p.drop()
	for i, want := range []int{1, 1, 2, 3, 1} {
		if list := p.items[i]; len(list) != 1 || list[0].to != want {
			t.Errorf("item %d: %+v is left, want choice %d", i, list, want)
		}
	}
	if p.work != 9+1+4+1+16 {
		t.Errorf("work of %d", p.work)
	}
}

// What narrow leaves: choices that some plan may hold, with what they take of bounds
// that can bind. Computed.
func TestNarrow(t *testing.T) {
	of := func(v ...int64) choice { return choice{of: v} }
	to := func(to int, cost int64, v ...int64) choice { return choice{to: to, cost: cost, of: v} }
	for _, c := range []struct {
		name  string
		items [][]choice
		slack []int64
		none  bool
		left  [][]int      // where the choices go that are left
		uses  [][][2]int64 // of the first choice of each item
		room  []int64
	}{
		{"no bounds", [][]choice{{to(0, 0), to(1, 5)}}, nil, false, [][]int{{0}}, [][][2]int64{nil}, nil},
		{"no choice", [][]choice{{of(1)}, {}}, []int64{9}, true, nil, nil, nil},
		{"just room enough", [][]choice{{of(4)}, {of(5)}}, []int64{9}, false, [][]int{{0}, {0}}, [][][2]int64{nil, nil}, []int64{0}},
		{"too little room", [][]choice{{of(4)}, {of(5)}}, []int64{8}, true, nil, nil, nil},
		{"less than nothing taken", [][]choice{{of(-4)}, {of(5)}}, []int64{1}, false, [][]int{{0}, {0}}, [][][2]int64{nil, nil}, []int64{0}},
		{"a choice that just fits", [][]choice{{to(0, 0, 5), to(1, 1, 1)}, {of(4)}}, []int64{9}, false, [][]int{{0}, {0}}, [][][2]int64{nil, nil}, []int64{4}},
		{"a choice that does not", [][]choice{{to(0, 0, 6), to(1, 1, 1)}, {of(4)}}, []int64{9}, false, [][]int{{1}, {0}}, [][][2]int64{nil, nil}, []int64{4}},
		{"one left out leaves out another", [][]choice{{to(0, 0, 6, 0), to(1, 1, 1, 3)}, {to(0, 0, 4, 3), to(1, 1, 4, 1)}}, []int64{9, 5}, false, [][]int{{1}, {1}}, [][][2]int64{nil, nil}, []int64{4, 1}},
		{"two that bind together", [][]choice{{to(0, 0, 6), to(1, 1, 1)}, {to(0, 0, 6), to(1, 1, 1)}}, []int64{11}, false, [][]int{{0, 1}, {0, 1}}, [][][2]int64{{{0, 5}}, {{0, 5}}}, []int64{9}},
		{"two that do not", [][]choice{{to(0, 0, 6), to(1, 1, 1)}, {to(0, 0, 6), to(1, 1, 1)}}, []int64{12}, false, [][]int{{0}, {0}}, [][][2]int64{nil, nil}, []int64{10}},
	} {
		p := taskOf(c.items, make([]bool, len(c.items)), c.slack, 1000)
		p.narrow()
		if p.none != c.none {
			t.Errorf("%s: none %v", c.name, p.none)
		}
		if c.none {
			continue
		}
		for i, list := range p.items {
			var left []int
			for _, ch := range list {
				left = append(left, ch.to)
			}
			var uses [][2]int64
			for _, u := range list[0].uses {
				uses = append(uses, [2]int64{int64(u.bound), u.of})
				// A part is of the room, in 2^30 of it, rounded down.
				if want, _ := bits.Div64(uint64(u.of)>>34, uint64(u.of)<<30, uint64(p.room[u.bound])); uint64(u.part) != want {
					t.Errorf("%s: item %d: part %d, want %d", c.name, i, u.part, want)
				}
			}
			if !slices.Equal(left, c.left[i]) || !slices.Equal(uses, c.uses[i]) {
				t.Errorf("%s: item %d: to %v with %v, want %v with %v", c.name, i, left, uses, c.left[i], c.uses[i])
			}
		}
		if !slices.Equal(p.room, c.room) {
			t.Errorf("%s: room %v, want %v", c.name, p.room, c.room)
		}
	}
}

// Costs come in grains: what is proven is rounded up to one. Computed.
func TestGrains(t *testing.T) {
	for _, c := range []struct{ a, b, want int64 }{{0, 0, 0}, {0, 5, 5}, {5, 0, 5}, {12, 18, 6}, {18, 12, 6}, {7, 5, 1}, {10, 10, 10}} {
		if got := gcd(c.a, c.b); got != c.want {
			t.Errorf("gcd of %d and %d: %d", c.a, c.b, got)
		}
	}
	p := &choices{}
	p.add([]choice{{cost: 0}, {cost: 40}, {cost: 20}}, false)
	p.add([]choice{{cost: 30}, {cost: 10}}, true)
	if p.grain != 10 || p.dear != 70 || !slices.Equal(p.twin, []bool{false, true}) {
		t.Errorf("grain %d, dear %d, twins %v", p.grain, p.dear, p.twin)
	}
	for v, want := range map[int64]int64{-1: 0, 0: 0, 1: 10, 9: 10, 10: 10, 11: 20, 20: 20} {
		if got := p.grained(v); got != want {
			t.Errorf("%d, in grains: %d, want %d", v, got, want)
		}
	}
	// Units are 8 ng here: what passes dear is a nanogram more than it, no matter by how much.
	p.unit = 3
	for v, want := range map[int64]int64{-1: 0, 0: 0, 1: 8, 8: 64, 9: 72, 10: 71, 1 << 61: 71} {
		if got := p.ng(v); got != want {
			t.Errorf("%d units: %d ng, want %d", v, got, want)
		}
	}
}

// The budget is spent once more work than it is done, and at once when the context is
// done, which is asked every 2^20. Computed.
func TestMeter(t *testing.T) {
	m := meter{ctx: context.Background(), budget: 10}
	for i, c := range []struct {
		n    int
		want bool
	}{{0, false}, {10, false}, {0, false}, {1, true}, {0, true}} {
		if got := m.spent(c.n); got != c.want {
			t.Errorf("step %d: %v at work of %d", i, got, m.work)
		}
	}
	asked := &askedContext{Context: context.Background()}
	m = meter{ctx: asked, budget: 1<<31 - 1}
	for i, c := range []struct {
		n     int
		asked int
	}{{1 << 20, 0}, {0, 0}, {1, 1}, {1 << 20, 1}, {1, 2}, {5 << 20, 3}, {1 << 20, 3}, {1, 4}} {
		if m.spent(c.n) || asked.n != c.asked {
			t.Errorf("step %d: asked %d times, want %d", i, asked.n, c.asked)
		}
	}
	asked.err = errors.New("done")
	if !m.spent(1<<20+1) || m.budget != 0 {
		t.Errorf("done: budget %d", m.budget)
	}
	// A part of the budget is no more than all of it, and is given back.
	for _, c := range []struct{ all, part, want int }{{100, 40, 40}, {100, 400, 100}} {
		m := meter{ctx: context.Background(), budget: c.all}
		m.within(c.part, func() {
			if m.budget != c.want {
				t.Errorf("%d of %d: %d within", c.part, c.all, m.budget)
			}
		})
		if m.budget != c.all {
			t.Errorf("%d of %d: %d afterwards", c.part, c.all, m.budget)
		}
	}
	m = meter{ctx: context.Background(), budget: 100}
	if m.within(40, func() { m.budget = 0 }); m.budget != 0 {
		t.Errorf("a budget comes back although the context is done: %d", m.budget)
	}
	m.budget = 100
	if m.within(1, func() {}); m.budget != 100 {
		t.Errorf("a budget of one: %d afterwards", m.budget)
	}
}

// askedContext counts how often it is asked.
type askedContext struct {
	context.Context
	n   int
	err error
}

func (c *askedContext) Err() error { c.n++; return c.err }

// Of plans the cheaper one is kept, then the one with fewer picks that cost, then the
// first. Computed.
func TestBetter(t *testing.T) {
	p := &choices{items: [][]choice{
		{{to: 7}, {to: 8, cost: 4}, {to: 9, cost: 2}},
		{{to: 7}, {to: 8, cost: 2}, {to: 6}},
	}}
	for i, c := range []struct {
		picks []int
		plan  []int
		cost  int64
		count int
	}{
		{[]int{2, 1}, []int{9, 8}, 4, 2}, // the first that is found
		{[]int{1, 1}, []int{9, 8}, 4, 2}, // dearer
		{[]int{1, 0}, []int{8, 7}, 4, 1}, // as cheap, with fewer
		{[]int{2, 1}, []int{8, 7}, 4, 1}, // as cheap, with more
		{[]int{1, 2}, []int{8, 7}, 4, 1}, // alike
		{[]int{2, 0}, []int{9, 7}, 2, 1}, // cheaper
		{[]int{0, 0}, []int{7, 7}, 0, 0}, // nothing
	} {
		p.better(c.picks)
		if !slices.Equal(p.best, c.plan) || p.bestCost != c.cost || p.bestCount != c.count || !p.found {
			t.Errorf("step %d: %v costs %d in %d", i, p.best, p.bestCost, p.bestCount)
		}
	}
	q := &choices{items: p.items}
	q.begin([]int{9, 6})
	if !slices.Equal(q.best, []int{9, 6}) || q.bestCost != 2 || q.bestCount != 1 {
		t.Errorf("begun with %v at %d in %d", q.best, q.bestCost, q.bestCount)
	}
	// What no plan of that cost can be: better than one of as much in as few picks.
	s := &search{choices: &choices{found: true, bestCost: 6, bestCount: 2}}
	for _, c := range []struct {
		least, total int64
		n            int
		want         bool
	}{
		{5, 5, 9, false}, {6, 6, 1, false}, {6, 6, 2, true}, {6, 6, 3, true},
		{6, 5, 0, false}, {6, 5, 1, true}, {7, 7, 9, false},
	} {
		if got := s.noBetter(c.least, c.total, c.n); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if s.found = false; s.noBetter(6, 6, 2) {
		t.Error("no better than none")
	}
}

// What searching takes off the room it gives back, up to where it did not fit.
func TestTakeAndGiveBack(t *testing.T) {
	s := &search{room: []int64{5, 6, 7}}
	all := takes([2]int64{0, 5}, [2]int64{1, 7}, [2]int64{2, 1})
	if fit := s.take(all); fit != 1 || !slices.Equal(s.room, []int64{0, 6, 7}) {
		t.Errorf("%d fit, %v is left", fit, s.room)
	}
	s.giveBack(all[:1])
	if all[1].of = 6; s.take(all) != 3 || !slices.Equal(s.room, []int64{0, 0, 6}) {
		t.Errorf("%v is left", s.room)
	}
	if s.giveBack(all); !slices.Equal(s.room, []int64{5, 6, 7}) {
		t.Errorf("%v is left", s.room)
	}
}

// mending is a mender with rooms, uses and counts as given.
func mending(items [][]choice, room, used, count []int64, picks ...int) *mender {
	p := &choices{items: items, room: room}
	p.meter = meter{ctx: context.Background(), budget: 1000}
	m := &mender{choices: p, picks: picks, used: used, count: count, step: make([]uint, len(room)), until: make([]int, len(items))}
	return m
}

// What is over a bound's room counts one and one more for each step over it. Computed.
func TestAche(t *testing.T) {
	m := mending(nil, []int64{10, 1 << 40}, []int64{10, 0}, []int64{3, 1})
	m.step[0] = 2
	for used, want := range map[int64]int64{0: 0, 10: 0, 11: 3, 13: 3, 14: 6, 17: 6, 18: 9, 10 + 1<<34: 3 + 3<<32, 1 << 40: 3 + 3<<32} {
		if got := m.ache(0, used); got != want {
			t.Errorf("%d used: %d, want %d", used, got, want)
		}
	}
	if m.over() != nil {
		t.Error("just full is over")
	}
	if m.used[0]++; !slices.Equal(m.over(), []bool{true, false}) {
		t.Errorf("over: %v", m.over())
	}
	// One more of a choice counts what it adds to that.
	c := choice{uses: takes([2]int64{0, 3}, [2]int64{1, 1})}
	if got := m.aches(&c); got != 3 { // from 11 to 14
		t.Errorf("3 more of 11: %d", got)
	}
	if m.used[0] = 7; m.aches(&c) != 0 || !m.fits(&c) || !m.fitsAll(&c) {
		t.Errorf("3 more of 7: %d, fits %v", m.aches(&c), m.fits(&c))
	}
	if m.used[0] = 8; m.aches(&c) != 3 || m.fits(&c) || m.fitsAll(&c) {
		t.Errorf("3 more of 8: %d, fits %v", m.aches(&c), m.fits(&c))
	}
	// fitsAll looks at every bound, and leaves all as it was.
	if m.used = []int64{0, 1<<40 + 1}; !m.fits(&choice{uses: c.uses[:1]}) || m.fitsAll(&choice{uses: c.uses[:1]}) || !slices.Equal(m.used, []int64{0, 1<<40 + 1}) {
		t.Errorf("used %v", m.used)
	}
	for _, b := range []struct {
		bounds []bool
		want   bool
	}{{[]bool{false, false}, false}, {[]bool{true, false}, true}, {[]bool{false, true}, true}} {
		if got := c.usesAny(b.bounds); got != b.want {
			t.Errorf("uses any of %v: %v", b.bounds, got)
		}
	}
	m.count = []int64{1, 1<<16 - 1, 1 << 16, 5}
	if m.countMore([]bool{true, true, true, false}); !slices.Equal(m.count, []int64{2, 1 << 16, 1 << 16, 5}) {
		t.Errorf("counts %v", m.count)
	}
	// A step is so large that a room is 2^16 of them.
	m = mending(nil, []int64{0, 1<<16 - 1, 1 << 16, 1 << 20}, make([]int64, 4), make([]int64, 4))
	if m.start(byPrice); !slices.Equal(m.step, []uint{0, 0, 1, 5}) || !slices.Equal(m.count, []int64{1, 1, 1, 1}) {
		t.Errorf("steps %v, counts %v", m.step, m.count)
	}
}

// Starts: the first choice, or the first that costs least. Computed.
func TestStart(t *testing.T) {
	list := []choice{{cost: 3, uses: takes([2]int64{0, 5})}, {cost: 1, uses: takes([2]int64{0, 7})}, {cost: 1}}
	if byPrice(list) != 0 || byCost(list) != 1 || byCost(list[:1]) != 0 || byCost(list[1:]) != 0 {
		t.Error("not the first, or not the cheapest")
	}
	m := mending([][]choice{list, list}, []int64{9}, []int64{0}, []int64{0}, 0, 0)
	if m.start(byCost); !slices.Equal(m.picks, []int{1, 1}) || m.used[0] != 14 {
		t.Errorf("picks %v use %v", m.picks, m.used)
	}
	if m.set(1, 2); !slices.Equal(m.picks, []int{1, 2}) || m.used[0] != 7 {
		t.Errorf("picks %v use %v", m.picks, m.used)
	}
}

// A plan that fits gets cheaper: an item goes where it costs less, or another one that
// costs less goes in its stead. Computed.
func TestSave(t *testing.T) {
	stay := func(u int64) choice { return choice{uses: takes([2]int64{0, u})} }
	away := func(cost, u int64) choice { return choice{cost: cost, uses: takes([2]int64{0, u})} }
	for _, c := range []struct {
		name  string
		items [][]choice
		room  int64
		picks []int
		want  []int
	}{
		{"back where it costs nothing", [][]choice{{stay(5), away(9, 1)}}, 5, []int{1}, []int{0}},
		{"no room for that", [][]choice{{stay(6), away(9, 1)}}, 5, []int{1}, []int{1}},
		{"where it costs less", [][]choice{{stay(6), away(9, 1), away(4, 5)}}, 5, []int{1}, []int{2}},
		{"not where it costs as much", [][]choice{{stay(6), away(9, 1), away(9, 5)}}, 5, []int{1}, []int{1}},
		{"another in its stead", [][]choice{{stay(6), away(9, 1)}, {stay(5), away(8, 1)}}, 7, []int{1, 0}, []int{0, 1}},
		{"another that costs as much", [][]choice{{stay(6), away(9, 1)}, {stay(5), away(9, 1)}}, 7, []int{1, 0}, []int{1, 0}},
		{"another that is not enough", [][]choice{{stay(6), away(9, 1)}, {stay(5), away(8, 2)}}, 7, []int{1, 0}, []int{1, 0}},
		{"another that has moved", [][]choice{{stay(6), away(9, 1)}, {stay(6), away(8, 1)}}, 7, []int{1, 1}, []int{0, 1}},
	} {
		m := mending(c.items, []int64{c.room}, []int64{0}, []int64{1}, c.picks...)
		for i := range c.items {
			m.take(i, 1)
		}
		m.save()
		used := int64(0)
		for i, k := range m.picks {
			for _, u := range c.items[i][k].uses {
				used += u.of
			}
		}
		if !slices.Equal(m.picks, c.want) || m.used[0] != used {
			t.Errorf("%s: picks %v, want %v; %d used, noted %d", c.name, m.picks, c.want, used, m.used[0])
		}
	}
	// It ends where the budget does, with a plan that fits.
	items := [][]choice{{stay(6), away(9, 1)}, {stay(5), away(8, 1)}}
	for budget := range 12 {
		m := mending(items, []int64{7}, []int64{6}, []int64{1}, 1, 0)
		m.budget = budget
		if m.save(); m.used[0] > 7 || m.used[0] != items[0][m.picks[0]].uses[0].of+items[1][m.picks[1]].uses[0].of {
			t.Errorf("budget %d: picks %v, %d used", budget, m.picks, m.used[0])
		}
	}
}

// Prices go up where more is used than there is room for, and down where less is, but
// never below nothing nor above what is counted. Computed.
func TestStep(t *testing.T) {
	p := &choices{dear: 1 << 10}
	for _, c := range []struct {
		name   string
		now    prices
		used   []int64
		halves uint
		moved  bool
		want   []int64
	}{
		{"all just full", prices{of: []int64{5}}, []int64{whole}, 0, false, []int64{5}},
		{"free, and not full", prices{of: []int64{0}}, []int64{whole / 2}, 0, false, []int64{0}},
		{"less over than counts", prices{of: []int64{0}}, []int64{whole + 1<<15 - 1}, 0, false, []int64{0}},
		// A gap of 2 x 1024, over by 2^14 of 2^15: 2048 x 2^14 x 2^15 / 2^28.
		{"over by a half", prices{of: []int64{0}}, []int64{whole + whole/2}, 0, true, []int64{1 << 12}},
		{"over by a half, halved", prices{of: []int64{0}}, []int64{whole + whole/2}, 1, true, []int64{1 << 11}},
		{"over by a half, some of it proven", prices{of: []int64{0}, value: 512}, []int64{whole + whole/2}, 0, true, []int64{1 << 11}},
		{"over by a half, all of it proven", prices{of: []int64{0}, value: 1024}, []int64{whole + whole/2}, 0, true, []int64{8}},
		{"under by a half", prices{of: []int64{1 << 13}}, []int64{whole / 2}, 0, true, []int64{1 << 12}},
		{"down to nothing", prices{of: []int64{1 << 11}}, []int64{whole / 2}, 0, true, []int64{0}},
		{"one up and one down", prices{of: []int64{0, 1 << 13}}, []int64{whole + whole/2, whole / 2}, 0, true, []int64{1 << 11, 1<<13 - 1<<11}},
		{"no gap left", prices{of: []int64{0}}, []int64{whole + whole/2}, 12, false, []int64{0}},
		{"a step of 2^44 at most", prices{of: []int64{0}, value: -1 << 48}, []int64{whole + 1<<15}, 0, true, []int64{1 << 44}},
		{"a step of 2^44 at most, all in 64 bits", prices{of: []int64{0}, value: -1 << 32}, []int64{whole + 1<<15}, 0, true, []int64{1 << 44}},
		{"as far as is counted", prices{of: []int64{1<<46 - 1}, value: -1 << 48}, []int64{whole + 1<<15}, 0, true, []int64{1 << 46}},
	} {
		if moved := c.now.step(p, c.used, make([]int64, len(c.used)), c.halves); moved != c.moved || !slices.Equal(c.now.of, c.want) {
			t.Errorf("%s: moved %v to %v, want %v to %v", c.name, moved, c.now.of, c.moved, c.want)
		}
	}
	// Once a plan is found, it is the goal; and it counts in units.
	p = &choices{dear: 1 << 20, found: true, bestCost: 1 << 12}
	now := prices{of: []int64{0}, unit: 2}
	if !now.step(p, []int64{whole + whole/2}, []int64{0}, 0) || now.of[0] != 1<<12 {
		t.Errorf("to the best plan: %v", now.of)
	}
}

// The price of a choice is its cost and what its uses cost, each rounded down. Computed.
func TestPriced(t *testing.T) {
	now := prices{of: []int64{100, 0, 1 << 46}, unit: 3}
	for _, c := range []struct {
		c    choice
		want int64
	}{
		{choice{}, 0},
		{choice{cost: 23}, 2},
		{choice{cost: 24, uses: []use{{bound: 0, part: whole / 2}}}, 53},
		{choice{uses: []use{{bound: 0, part: whole/100 - 1}}}, 0},
		{choice{uses: []use{{bound: 1, part: whole}, {bound: 2, part: whole}}}, 1 << 46},
		{choice{uses: []use{{bound: 0, part: whole}, {bound: 2, part: 1<<30 - 1}}}, 100 + 1<<46 - 1<<16},
	} {
		if got := now.priced(&c.c); got != c.want {
			t.Errorf("%+v: %d, want %d", c.c, got, c.want)
		}
	}
	// The prices prove what the cheapest choices cost at them, less the room's price.
	p := &choices{items: [][]choice{
		{{cost: 80}, {cost: 16, uses: []use{{bound: 0, part: whole / 4}}}},            // 10, 27
		{{uses: []use{{bound: 0, part: whole}}}, {cost: 400, uses: nil}, {cost: 400}}, // 100, 50, 50
	}}
	used := []int64{9, 9, 9}
	now.of[2] = 7
	if now.weigh(p, used); now.value != 10+50-107 || !slices.Equal(used, []int64{0, 0, 0}) || p.work != 2 {
		t.Errorf("value %d, used %v, work %d", now.value, used, p.work)
	}
	now.of[0] = 20 // 10, 7; 20, 50, 50
	if now.weigh(p, used); now.value != 7+20-27 || !slices.Equal(used, []int64{whole/4 + whole, 0, 0}) {
		t.Errorf("value %d, used %v", now.value, used)
	}
}

// Choices are tried by their price, and in the order given where it is the same; what
// the prices prove is noted, and that no plan is left where it is more than the best
// costs. Computed.
func TestApply(t *testing.T) {
	list := func() []choice {
		return []choice{{to: 1, cost: 30}, {to: 2, cost: 10}, {to: 3, cost: 30}, {to: 4, cost: 20, uses: []use{{part: whole / 2}}}, {to: 5, cost: 10}}
	}
	for _, c := range []struct {
		name  string
		p     choices
		least int64
		none  bool
	}{
		{"as proven", choices{dear: 60}, 20, false},
		{"more was proven", choices{dear: 60, least: 25}, 25, false},
		{"the best costs as much", choices{dear: 60, found: true, bestCost: 20}, 20, false},
		{"the best costs less", choices{dear: 60, found: true, bestCost: 19}, 20, true},
		{"none costs so much", choices{dear: 19}, 19, true},
		{"none costs more", choices{dear: 20}, 20, false},
		{"in grains", choices{dear: 60, grain: 8}, 24, false},
	} {
		p := c.p
		p.grain = max(p.grain, 1)
		p.items, p.prices.of = [][]choice{list(), list()[1:2]}, []int64{0}
		p.apply()
		var order []int
		for _, ch := range p.items[0] {
			order = append(order, ch.to)
		}
		if !slices.Equal(order, []int{2, 5, 4, 1, 3}) || !slices.Equal(p.low, []int64{10, 10}) || p.value != 20 || p.sum != 0 || p.least != c.least || p.none != c.none || p.work != 1 {
			t.Errorf("%s: order %v, low %v, value %d of %d, least %d, none %v, work %d", c.name, order, p.low, p.value, p.sum, p.least, p.none, p.work)
		}
	}
	// Uses count at their bound's price, whose room all items pay for together.
	p := choices{dear: 60, grain: 1, items: [][]choice{list(), list()[1:2]}}
	p.prices.of = []int64{8}
	if p.apply(); p.items[0][2].price != 24 || p.sum != 8 || p.value != 12 || p.least != 12 {
		t.Errorf("price %d, %d of %d, least %d", p.items[0][2].price, p.value, p.sum, p.least)
	}
	// With a best plan of 30, choices are left out that cost over 30 with the cheapest
	// of the other item.
	p = choices{dear: 60, grain: 1, found: true, bestCost: 30, items: [][]choice{list(), list()[1:2]}}
	p.prices.of = []int64{0}
	if p.apply(); !p.fix() || len(p.items[0]) != 3 || p.items[0][2].to != 4 || len(p.items[1]) != 1 || p.fix() {
		t.Errorf("left: %+v", p.items)
	}
}

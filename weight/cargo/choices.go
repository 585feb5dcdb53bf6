package cargo

import (
	"context"
	"math/bits"
	"slices"
)

// choices is a task in its plain form: of each item pick one choice, so that
// what all picks take of every bound fits its room, at the least cost, then with
// the fewest picks that cost anything.
type choices struct {
	meter
	items [][]choice
	twin  []bool // exchangeable with the item before
	slack []int64
	room  []int64 // slack less the least that the items take anyway
	grain int64   // every cost is a multiple of it
	dear  int64   // what no plan costs more than
	least int64   // what no plan costs less than

	best      []int // the best plan so far, by place
	bestCost  int64
	bestCount int
	found     bool
	none      bool // proven: no plan, or none better than the best

	prices
}

// A choice is one place for an item.
type choice struct {
	to    int
	cost  int64
	of    []int64 // what it does to every bound
	uses  []use   // what it takes of each more than the least the item takes anyway
	price int64   // its cost and uses, in units of price
}

// use is what a choice takes of a bound: in nanograms, and as a part of its
// room, rounded down.
type use struct {
	bound int32
	part  uint32
	of    int64
}

// whole is a bound's whole room in parts.
const whole = 1 << 30

// answer is what a search found: a plan and whether it is proven the best, or
// none and whether it is proven that there is none. No plan costs less than
// bound.
type answer struct {
	plan          []int
	found, proven bool
	bound         int64
}

// meter counts the work, in uses looked at.
type meter struct {
	ctx    context.Context
	work   int
	budget int
	asked  int // the work at which the context was last asked
}

// spent counts n and reports whether that is enough.
func (m *meter) spent(n int) bool {
	if m.work += n; m.work-m.asked > 1<<20 {
		if m.asked = m.work; m.ctx.Err() != nil {
			m.budget = 0
		}
	}
	return m.work > m.budget
}

// within does something with less of a budget.
func (m *meter) within(budget int, do func()) {
	all := m.budget
	m.budget = min(all, budget)
	if do(); m.budget > 0 { // not when the context is done
		m.budget = all
	}
}

// add takes the choices of one more item.
func (p *choices) add(list []choice, twin bool) {
	p.items, p.twin = append(p.items, list), append(p.twin, twin)
	dear := int64(0)
	for _, c := range list {
		p.grain = gcd(p.grain, c.cost)
		dear = max(dear, c.cost)
	}
	p.dear += dear
}

// solve searches, from a plan that fits if there is one.
func (p *choices) solve(plan []int) answer {
	p.grain = max(p.grain, 1)
	if plan != nil {
		p.begin(plan)
	}
	if p.narrow(); !p.none {
		p.setPrices()
	}
	if !p.none {
		p.within(p.work+(p.budget-p.work)/3, p.mend)
	}
	for again := 0; again < 3 && !p.none && p.found; again++ {
		p.setPrices()
		if p.none || !p.fix() {
			break
		}
		if p.narrow(); !p.none {
			p.apply()
		}
	}
	if !p.none {
		p.prove()
	}
	a := answer{plan: p.best, found: p.found, proven: p.none, bound: p.least}
	if p.found && p.none {
		a.bound = p.bestCost
	}
	return a
}

// begin takes over a plan that fits.
func (p *choices) begin(plan []int) {
	picks := make([]int, len(plan))
	for i, to := range plan {
		picks[i] = slices.IndexFunc(p.items[i], func(c choice) bool { return c.to == to })
	}
	p.better(picks)
}

// better keeps picks that fit if they are the best so far.
func (p *choices) better(picks []int) {
	cost, count := int64(0), 0
	plan := make([]int, len(picks))
	for i, k := range picks {
		c := &p.items[i][k]
		plan[i] = c.to
		if cost += c.cost; c.cost > 0 {
			count++
		}
	}
	if !p.found || cost < p.bestCost || cost == p.bestCost && count < p.bestCount {
		p.best, p.bestCost, p.bestCount, p.found = plan, cost, count, true
	}
}

// narrow leaves out choices that fit in no plan, over and over, and then finds
// what each of the others takes of the bounds that can bind.
func (p *choices) narrow() {
	lows := make([][]int64, len(p.items))
	for fewer := true; fewer; {
		if !p.makeRoom(lows) {
			p.none = true
			return
		}
		fewer = p.leaveOut(lows)
	}
	p.use(lows)
	p.drop()
}

// makeRoom finds the least that each item takes anyway, and the room that leaves. It
// reports false where there is none, or an item has no choice.
func (p *choices) makeRoom(lows [][]int64) bool {
	p.room = append(p.room[:0], p.slack...)
	for i, list := range p.items {
		if len(list) == 0 {
			return false
		}
		low := append(lows[i][:0], list[0].of...)
		for _, c := range list[1:] {
			for b, v := range c.of {
				low[b] = min(low[b], v)
			}
		}
		for b, v := range low {
			p.room[b] -= v
		}
		lows[i] = low
		p.work += len(list) * len(low)
	}
	return !slices.ContainsFunc(p.room, func(v int64) bool { return v < 0 })
}

// leaveOut leaves out the choices that take more than there is room for, and reports
// whether there were any.
func (p *choices) leaveOut(lows [][]int64) (fewer bool) {
	for i, list := range p.items {
		p.items[i] = slices.DeleteFunc(list, func(c choice) bool {
			for b, v := range c.of {
				if v-lows[i][b] > p.room[b] {
					return true
				}
			}
			return false
		})
		fewer = fewer || len(p.items[i]) < len(list)
	}
	return fewer
}

// use writes down what each choice takes of the bounds that can bind.
func (p *choices) use(lows [][]int64) {
	most := make([]int64, len(p.room))
	for i, list := range p.items {
		for b := range most {
			high := int64(0)
			for _, c := range list {
				high = max(high, c.of[b]-lows[i][b])
			}
			most[b] = min(most[b]+high, p.room[b]+1)
		}
	}
	var all []use
	for i, list := range p.items {
		for k := range list {
			c := &list[k]
			all = all[:0]
			for b, v := range c.of {
				if v -= lows[i][b]; v > 0 && most[b] > p.room[b] {
					hi, lo := bits.Mul64(uint64(v), whole)
					part, _ := bits.Div64(hi, lo, uint64(p.room[b]))
					all = append(all, use{int32(b), uint32(part), v})
				}
			}
			c.uses = slices.Clip(slices.Clone(all))
		}
	}
}

// drop leaves out each choice that another one of its item is never worse
// than.
func (p *choices) drop() {
	for i, list := range p.items {
		var keep []choice
		for k := range list {
			p.work += len(list)
			if !dropped(list, k) {
				keep = append(keep, list[k])
			}
		}
		p.items[i] = keep
	}
}

// dropped reports whether another choice of the list is never worse than choice k; of two
// that are alike the first is kept.
func dropped(list []choice, k int) bool {
	c := &list[k]
	for o := range list {
		if o != k && list[o].noWorse(c) && (o < k || !c.noWorse(&list[o])) {
			return true
		}
	}
	return false
}

// noWorse reports whether a choice costs no more than another one, and takes no more of
// any bound.
func (c *choice) noWorse(than *choice) bool {
	if c.cost > than.cost || len(c.uses) > len(than.uses) {
		return false
	}
	k := 0
	for _, u := range c.uses {
		for k < len(than.uses) && than.uses[k].bound < u.bound {
			k++
		}
		if k == len(than.uses) || than.uses[k].bound != u.bound || than.uses[k].of < u.of {
			return false
		}
	}
	return true
}

// grained is a proven cost, rounded up to what a cost can be.
func (p *choices) grained(v int64) int64 {
	if v <= 0 {
		return 0
	}
	return (v + p.grain - 1) / p.grain * p.grain
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

package cargo

import (
	"math/bits"
	"slices"
)

// prices are what the room of each bound is worth. With any prices, the sum over
// the items of their cheapest choice, its uses paid for, less the price of all
// room, is less than no plan costs: a plan pays for no more room than there is.
type prices struct {
	of    []int64 // of the whole room of a bound, in units
	sum   int64
	low   []int64 // of each item, its cheapest choice
	value int64   // what no plan costs less than, in units
	unit  uint    // a unit is 1<<unit nanograms
}

// rounds is how often prices are improved.
const rounds = 120

// setPrices looks for prices that prove as much as they can: those of bounds
// that the cheapest choices overfill go up, the others down.
func (p *choices) setPrices() {
	p.unit = uint(max(bits.Len64(uint64(p.dear))-40, 0))
	nb := len(p.room)
	now := prices{of: make([]int64, nb), low: make([]int64, len(p.items)), unit: p.unit}
	if p.prices.of != nil {
		copy(now.of, p.prices.of)
	}
	used, over := make([]int64, nb), make([]int64, nb)
	best, quiet, halves := int64(-1), 0, uint(0)
	for range rounds {
		now.weigh(p, used)
		if quiet++; now.value > best {
			best, quiet = now.value, 0
			p.prices.of = append(p.prices.of[:0], now.of...)
			if p.ng(best) > p.dear {
				break
			}
		}
		if quiet == 8 {
			quiet, halves = 0, halves+1
		}
		if halves > 12 || p.spent(0) || !now.step(p, used, over, halves) {
			break
		}
	}
	p.apply()
}

// weigh finds what the prices prove, and what the cheapest choices at them use, in parts
// of each bound.
func (now *prices) weigh(p *choices, used []int64) {
	clear(used)
	now.value = 0
	for _, v := range now.of {
		now.value -= v
	}
	for _, list := range p.items {
		pick, low := 0, int64(0)
		for k := range list {
			if v := now.priced(&list[k]); k == 0 || v < low {
				pick, low = k, v
			}
			p.work += len(list[k].uses)
		}
		now.value += low
		for _, u := range list[pick].uses {
			used[u.bound] += int64(u.part)
		}
	}
}

// step moves the prices: what is overfilled gets dearer. It reports false when
// nothing is left to move.
func (now *prices) step(p *choices, used, over []int64, halves uint) bool {
	goal := p.dear >> now.unit
	if p.found {
		goal = p.bestCost >> now.unit
	}
	gap := max(goal-now.value, 1+goal>>10) * 2 >> halves
	square := int64(0)
	for b, v := range used {
		over[b] = (v - whole) >> 15
		if over[b] < 0 && now.of[b] == 0 {
			over[b] = 0
		}
		square += over[b] * over[b]
	}
	if square == 0 || gap == 0 {
		return false
	}
	for b, v := range over {
		if v == 0 {
			continue
		}
		hi, lo := bits.Mul64(uint64(gap), uint64(max(v, -v))<<15)
		by := uint64(1) << 44
		if hi < uint64(square) {
			by, _ = bits.Div64(hi, lo, uint64(square))
		}
		d := int64(min(by, 1<<44))
		if v < 0 {
			d = -d
		}
		now.of[b] = min(max(now.of[b]+d, 0), 1<<46)
	}
	return true
}

// priced is the price of a choice: its cost and its uses, each rounded down.
func (now *prices) priced(c *choice) int64 {
	v := c.cost >> now.unit
	for _, u := range c.uses {
		if of := now.of[u.bound]; of != 0 {
			hi, lo := bits.Mul64(uint64(of), uint64(u.part))
			v += int64(hi<<34 | lo>>30)
		}
	}
	return v
}

// ng is a value in nanograms.
func (p *choices) ng(value int64) int64 {
	if value <= 0 {
		return 0
	}
	if value > p.dear>>p.unit+1 {
		return p.dear + 1
	}
	return value << p.unit
}

// apply prices every choice, sorts each item's by it, and notes what that proves.
func (p *choices) apply() {
	p.low = make([]int64, len(p.items))
	p.sum, p.value = 0, 0
	for _, v := range p.prices.of {
		p.sum += v
	}
	p.value = -p.sum
	for i, list := range p.items {
		for k := range list {
			list[k].price = p.priced(&list[k])
			p.work += len(list[k].uses)
		}
		slices.SortStableFunc(list, func(a, b choice) int {
			switch {
			case a.price < b.price:
				return -1
			case a.price > b.price:
				return 1
			}
			return 0
		})
		p.low[i] = list[0].price
		p.value += list[0].price
	}
	least := p.grained(p.ng(p.value))
	if least > p.dear || p.found && least > p.bestCost {
		p.none = true
	}
	p.least = max(p.least, min(least, p.dear))
}

// fix leaves out the choices with which no plan is as good as the best so far.
func (p *choices) fix() (fewer bool) {
	for i := range p.items {
		n := len(p.items[i])
		p.items[i] = slices.DeleteFunc(p.items[i], func(c choice) bool {
			return p.grained(p.ng(p.value+c.price-p.low[i])) > p.bestCost
		})
		fewer = fewer || len(p.items[i]) < n
	}
	return fewer
}

package cargo

import (
	"math/bits"
	"slices"
)

// mender looks for some plan that fits: one change after the other, each the
// one that leaves the least over the room; where that ends, what is over counts
// for more. It may find none where there is one.
type mender struct {
	*choices
	picks []int
	used  []int64
	count []int64 // what a step over a bound's room counts
	step  []uint  // of each bound, as a power of two
	until []int   // no change of an item before this round
}

// changes is how many changes one start may take.
const changes = 600

// mend looks for plans that fit from the cheapest choices at the prices, and
// from those that cost nothing.
func (p *choices) mend() {
	for _, pick := range [...]func(list []choice) int{byPrice, byCost} {
		m := mender{choices: p, picks: make([]int, len(p.items)), used: make([]int64, len(p.room)), count: make([]int64, len(p.room)), step: make([]uint, len(p.room)), until: make([]int, len(p.items))}
		m.start(pick)
		for round := range changes {
			over := m.over()
			if over == nil {
				m.save()
				p.better(m.picks)
				break
			}
			if !m.change(round, over) {
				break
			}
		}
	}
}

// byPrice picks the cheapest choice at the prices: apply has sorted them.
func byPrice([]choice) int { return 0 }

// byCost picks the first choice that costs least.
func byCost(list []choice) int {
	k := 0
	for o := range list {
		if list[o].cost < list[k].cost {
			k = o
		}
	}
	return k
}

// start picks a choice of each item.
func (m *mender) start(pick func(list []choice) int) {
	for b, v := range m.room {
		m.count[b], m.step[b] = 1, uint(max(bits.Len64(uint64(v))-16, 0))
	}
	for i, list := range m.items {
		m.picks[i] = pick(list)
		m.take(i, 1)
	}
}

// take adds what an item's pick uses, or with -1 takes it off.
func (m *mender) take(i int, sign int64) {
	for _, u := range m.items[i][m.picks[i]].uses {
		m.used[u.bound] += sign * u.of
	}
}

// over marks the bounds whose room is exceeded; nil when none is.
func (m *mender) over() []bool {
	var out []bool
	for b, v := range m.used {
		if v > m.room[b] {
			if out == nil {
				out = make([]bool, len(m.used))
			}
			out[b] = true
		}
	}
	return out
}

// ache is what so much use of a bound counts.
func (m *mender) ache(b int32, used int64) int64 {
	if used <= m.room[b] {
		return 0
	}
	return m.count[b] * (1 + min((used-m.room[b])>>m.step[b], 1<<32))
}

// change makes the best change of one item that is in what is over. It reports
// false when there is none, or the budget is spent.
func (m *mender) change(round int, over []bool) bool {
	item, pick, best := -1, 0, int64(0)
	for i, list := range m.items {
		now := m.picks[i]
		if m.until[i] > round || !list[now].usesAny(over) {
			continue
		}
		m.take(i, -1)
		was := m.aches(&list[now])
		for k := range list {
			if k == now {
				continue
			}
			gain := m.aches(&list[k]) - was
			if item < 0 || gain < best || gain == best && list[k].cost < m.items[item][pick].cost {
				item, pick, best = i, k, gain
			}
			if m.spent(2 * len(list[k].uses)) {
				m.take(i, 1)
				return false
			}
		}
		m.take(i, 1)
	}
	if best >= 0 {
		m.countMore(over)
	}
	if item < 0 {
		return true // all wait: the next round may be another's
	}
	m.set(item, pick)
	m.until[item] = round + 3 + round%5
	return true
}

// usesAny reports whether a choice takes of one of the bounds.
func (c *choice) usesAny(bounds []bool) bool {
	return slices.ContainsFunc(c.uses, func(u use) bool { return bounds[u.bound] })
}

// aches is what a choice of an item adds to what all use counts, its present one taken
// off.
func (m *mender) aches(c *choice) int64 {
	sum := int64(0)
	for _, u := range c.uses {
		sum += m.ache(u.bound, m.used[u.bound]+u.of) - m.ache(u.bound, m.used[u.bound])
	}
	return sum
}

// countMore lets what is over count for more.
func (m *mender) countMore(over []bool) {
	for b, is := range over {
		if is && m.count[b] < 1<<16 {
			m.count[b]++
		}
	}
}

// set changes an item's pick.
func (m *mender) set(i, k int) {
	m.take(i, -1)
	m.picks[i] = k
	m.take(i, 1)
}

// fits reports whether an item's other choice fits, its present one taken off.
func (m *mender) fits(c *choice) bool {
	for _, u := range c.uses {
		if m.used[u.bound]+u.of > m.room[u.bound] {
			return false
		}
	}
	return true
}

// save makes a plan that fits cheaper: items go where they cost less, alone or
// with a cheaper one that changes in their stead.
func (m *mender) save() {
	for again := true; again; {
		again = false
		for i := range m.items {
			if m.cheaper(i) || m.instead(i) {
				again = true
			}
			if m.spent(len(m.items)) {
				return
			}
		}
	}
}

func (m *mender) cheaper(i int) bool {
	list, now := m.items[i], m.picks[i]
	if list[now].cost == 0 {
		return false
	}
	m.take(i, -1)
	for k := range list {
		if list[k].cost < list[now].cost && m.fits(&list[k]) {
			m.picks[i] = k
			m.take(i, 1)
			return true
		}
		m.work += len(list[k].uses)
	}
	m.take(i, 1)
	return false
}

// instead lets an item cost nothing, and another one cost something in its stead, but
// less.
func (m *mender) instead(i int) bool {
	list, now := m.items[i], m.picks[i]
	if list[now].cost == 0 {
		return false
	}
	for k := range list {
		if list[k].cost > 0 {
			continue
		}
		m.set(i, k)
		for j := range m.items {
			if j == i || m.items[j][m.picks[j]].cost > 0 {
				continue
			}
			done, spent := m.stepIn(j, list[now].cost)
			if done {
				return true
			}
			if spent {
				m.set(i, now)
				return false
			}
		}
		m.set(i, now)
	}
	return false
}

// stepIn changes an item to a choice that costs something, but less than dear, if
// everything fits then. It also says when the budget is spent.
func (m *mender) stepIn(j int, dear int64) (done, spent bool) {
	m.take(j, -1)
	defer m.take(j, 1)
	for n := range m.items[j] {
		c := &m.items[j][n]
		if c.cost > 0 && c.cost < dear && m.fits(c) && m.fitsAll(c) {
			m.picks[j] = n
			return true, false
		}
		if m.spent(len(c.uses)) {
			return false, true
		}
	}
	return false, false
}

// fitsAll reports whether every bound is kept with one more choice.
func (m *mender) fitsAll(c *choice) bool {
	for _, u := range c.uses {
		m.used[u.bound] += u.of
	}
	ok := m.over() == nil
	for _, u := range c.uses {
		m.used[u.bound] -= u.of
	}
	return ok
}

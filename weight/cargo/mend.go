package cargo

import "math/bits"

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
	for start := range 2 {
		m := &mender{choices: p, picks: make([]int, len(p.items)), used: make([]int64, len(p.room)), count: make([]int64, len(p.room)), step: make([]uint, len(p.room)), until: make([]int, len(p.items))}
		for b, v := range p.room {
			m.count[b], m.step[b] = 1, uint(max(bits.Len64(uint64(v))-16, 0))
		}
		for i, list := range p.items {
			for k := range list {
				if start == 1 && list[k].cost < list[m.picks[i]].cost {
					m.picks[i] = k
				}
			}
			m.take(i, 1)
		}
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
		in := false
		for _, u := range list[m.picks[i]].uses {
			in = in || over[u.bound]
		}
		if !in || m.until[i] > round {
			continue
		}
		was, now := int64(0), m.picks[i]
		for _, u := range list[now].uses {
			was += m.ache(u.bound, m.used[u.bound]) - m.ache(u.bound, m.used[u.bound]-u.of)
		}
		m.take(i, -1)
		for k := range list {
			if k == now {
				continue
			}
			gain := -was
			for _, u := range list[k].uses {
				gain += m.ache(u.bound, m.used[u.bound]+u.of) - m.ache(u.bound, m.used[u.bound])
			}
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
		for b, is := range over {
			if is && m.count[b] < 1<<16 {
				m.count[b]++
			}
		}
	}
	if item < 0 {
		return true // all wait: the next round may be another's
	}
	m.set(item, pick)
	m.until[item] = round + 3 + round%5
	return true
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
			was := m.picks[j]
			if j == i || m.items[j][was].cost > 0 {
				continue
			}
			m.take(j, -1)
			for n := range m.items[j] {
				c := &m.items[j][n]
				if c.cost > 0 && c.cost < list[now].cost && m.fits(c) && m.fitsAll(c) {
					m.picks[j] = n
					m.take(j, 1)
					return true
				}
				if m.spent(len(c.uses)) {
					m.take(j, 1)
					m.set(i, now)
					return false
				}
			}
			m.take(j, 1)
		}
		m.set(i, now)
	}
	return false
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

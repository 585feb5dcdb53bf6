package cargo

// search walks through the choices, item by item, the cheapest first, and turns
// back where no plan of at most limit is left.
type search struct {
	*choices
	limit int64
	room  []int64
	picks []int
	rest  []int64 // the cheapest of the items from one on
}

// prove looks for the best plan and proves it. It tries small limits first, so
// that what it has proven grows even when the budget ends it.
func (p *choices) prove() {
	if !p.found {
		p.none = p.under(p.dear)
		return
	}
	least := p.least
	for part := int64(32); part >= 1 && !p.none; part /= 2 {
		limit := p.bestCost
		if part > 1 {
			limit = least + (p.bestCost-least)/part/p.grain*p.grain
		}
		if part > 1 && limit < p.least {
			continue
		}
		if !p.under(limit) {
			return
		}
		if p.bestCost <= limit {
			p.none = true
			return
		}
		p.least = limit + p.grain
	}
}

// under searches all plans of at most limit for better ones. False says that
// the budget ended it.
func (p *choices) under(limit int64) bool {
	s := &search{choices: p, limit: limit, room: append([]int64(nil), p.room...), picks: make([]int, len(p.items)), rest: make([]int64, len(p.items)+1)}
	for i := len(p.items) - 1; i >= 0; i-- {
		s.rest[i] = s.rest[i+1] + p.low[i]
	}
	return s.descend(0, -p.sum, 0, 0)
}

// descend places the items from i on, those before having cost so much.
func (s *search) descend(i int, price, cost int64, count int) bool {
	if i == len(s.items) {
		s.better(s.picks)
		s.limit = min(s.limit, s.bestCost)
		return true
	}
	first := 0
	if s.twin[i] {
		first = s.picks[i-1] // of equal items, the earlier one has the earlier choice
	}
	for k := first; k < len(s.items[i]); k++ {
		c := &s.items[i][k]
		least := s.grained(s.ng(price + c.price + s.rest[i+1]))
		if least > s.limit {
			break // the others are dearer
		}
		total, n := cost+c.cost, count
		if c.cost > 0 {
			n++
		}
		if least = max(least, total); least > s.limit {
			continue
		}
		if s.noBetter(least, total, n) {
			continue
		}
		if s.spent(len(c.uses) + 1) {
			return false
		}
		fit := s.take(c.uses)
		if fit == len(c.uses) {
			s.picks[i] = k
			if !s.descend(i+1, price+c.price, total, n) {
				return false
			}
		}
		s.giveBack(c.uses[:fit])
	}
	return true
}

// noBetter reports whether no plan of at least that cost is better than the best so far,
// n items costing total already.
func (s *search) noBetter(least, total int64, n int) bool {
	if !s.found || least != s.bestCost {
		return false
	}
	if total < least {
		n++ // some other item has to cost something
	}
	return n >= s.bestCount
}

// take takes uses off the room, up to the first that does not fit, and says how many did.
func (s *search) take(uses []use) (fit int) {
	for fit < len(uses) {
		u := &uses[fit]
		if s.room[u.bound] < u.of {
			break
		}
		s.room[u.bound] -= u.of
		fit++
	}
	return fit
}

func (s *search) giveBack(uses []use) {
	for _, u := range uses {
		s.room[u.bound] += u.of
	}
}

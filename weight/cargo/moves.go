package cargo

import (
	"container/heap"
	"errors"
	"fmt"
	"math/big"
	"math/bits"
	"slices"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// MaxItems and MaxStations are how many items and stations [PlanMoves] takes.
const (
	MaxItems    = 60
	MaxStations = 60
)

// errBudget ends a search.
var errBudget = errors.New("budget spent")

// PlanMoves finds which cargo to move, in the state of a stage, so that every
// limit and least is kept with all its doubt to spare, a tongue stays within
// its band, and no station holds more than its own limit. It moves the least
// weight, then the fewest items, and proves it: subsets of items are tried in
// that order, each with all the places its items may go, by branch and bound.
// When no moves are enough it finds the least weight that must stay home.
// When the budget runs out, the outcome and NoLessThan say what is proven.
//
// Items are part of the weighed state or of the stage; they are where At says.
// Effects are in whole nanograms, rounded to the safe side. What is not known
// (an open end, a rating of 0) is not kept and not judged, and is named.
//
// The error matches [ErrPlan] for input that contradicts itself,
// [ErrGeometry], or [origin.ErrRange].
func PlanMoves(trip Trip, stage int, cargo Task) (Moves, error) {
	m, err := newMover(trip, stage, cargo)
	if err != nil {
		return Moves{}, err
	}
	out := m.run()
	out.NotJudged = m.notJudged
	out.Cautions = trip.Cautions()
	out.Tried = m.tried
	return out, nil
}

// A bound is one thing to keep: the effects of all moves must add up to at
// most slack.
type bound struct {
	name  string
	slack int64
	eff   []int64 // item x (stations + 1); the last is home
}

type mover struct {
	items     []Item
	stations  []Station
	at        []int   // item -> station
	to        [][]int // item -> stations it may go to, its own not among them
	bounds    []bound
	notJudged []string
	budget    int
	tried     int

	nb   int
	eff  []int64 // item x (stations + 1) x bound
	lows [][]int64
	room []int64
	pick []int
}

func newMover(trip Trip, stage int, cargo Task) (*mover, error) {
	if stage < 0 || stage >= len(trip.stages) {
		return nil, fmt.Errorf("%w: no stage %d: want 0 to %d", ErrPlan, stage, len(trip.stages)-1)
	}
	if len(cargo.Items) > MaxItems || len(cargo.Stations) > MaxStations {
		return nil, fmt.Errorf("%w: %d items and %d stations: want %d and %d at most", ErrPlan, len(cargo.Items), len(cargo.Stations), MaxItems, MaxStations)
	}
	m := &mover{stations: cargo.Stations, budget: cargo.Budget}
	if m.budget <= 0 {
		m.budget = UsualBudget
	}
	index := map[string]int{}
	for i, s := range cargo.Stations {
		if _, twice := index[s.Name]; twice {
			return nil, fmt.Errorf("%w: two stations named %s", ErrPlan, word.Quote(s.Name))
		}
		index[s.Name] = i
	}
	station := func(item, name string) (int, error) {
		i, ok := index[name]
		if !ok {
			return 0, fmt.Errorf("%w: item %s: no station %s", ErrPlan, word.Quote(item), word.Quote(name))
		}
		return i, nil
	}
	// The lightest first; the order given decides among equals.
	m.items = slices.Clone(cargo.Items)
	slices.SortStableFunc(m.items, func(a, b Item) int {
		switch {
		case a.Mass < b.Mass:
			return -1
		case a.Mass > b.Mass:
			return 1
		}
		return 0
	})
	var sum weight.Mass
	for _, it := range m.items {
		if it.Mass <= 0 {
			return nil, fmt.Errorf("%w: item %s weighs nothing", ErrPlan, word.Quote(it.Name))
		}
		if sum += min(it.Mass, mostPlanned+1); sum > mostPlanned {
			return nil, outOfRange("sum of the items")
		}
		at, err := station(it.Name, it.At)
		if err != nil {
			return nil, err
		}
		var to []int
		for _, name := range it.To {
			i, err := station(it.Name, name)
			if err != nil {
				return nil, err
			}
			if i != at && !slices.Contains(to, i) {
				to = append(to, i)
			}
		}
		if it.To == nil {
			for i := range cargo.Stations {
				if i != at {
					to = append(to, i)
				}
			}
		}
		m.at, m.to = append(m.at, at), append(m.to, to)
	}
	return m, m.bind(trip, stage, cargo)
}

// bind writes everything to keep as bounds.
func (m *mover) bind(trip Trip, stage int, cargo Task) error {
	reply := make([]*response, len(m.stations))
	for i, s := range m.stations {
		r, err := trip.model.at(s)
		if err != nil {
			return fmt.Errorf("station %s: %w", word.Quote(s.Name), err)
		}
		reply[i] = r
	}
	home := len(m.stations)
	// add writes a bound whose share at each station per gives (home is 0).
	add := func(name string, slack *big.Rat, per func(station int) *big.Rat) error {
		b := bound{name: name, eff: make([]int64, len(m.items)*(home+1))}
		s := new(big.Int).Div(slack.Num(), slack.Denom()) // down
		if !s.IsInt64() || s.BitLen() > 62 {
			return outOfRange("room under " + word.Clip(name))
		}
		b.slack = s.Int64()
		share := make([]*big.Rat, home+1)
		for i := range share {
			share[i] = new(big.Rat)
			if i < home {
				share[i] = per(i)
			}
		}
		for k, it := range m.items {
			for to := range share {
				d := new(big.Rat).Sub(share[to], share[m.at[k]])
				d.Mul(d, new(big.Rat).SetInt64(int64(it.Mass)))
				up := new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(d.Num()), d.Denom()))
				if up.BitLen() > 56 { // 64 of them stay in 62 bits
					return outOfRange("moving " + word.Clip(it.Name))
				}
				b.eff[k*(home+1)+to] = up.Int64()
			}
		}
		m.bounds = append(m.bounds, b)
		return nil
	}
	rat := func(v weight.Mass) *big.Rat { return new(big.Rat).SetInt64(int64(v)) }
	onSet := func(set weight.Set, sign int64) (func(int) *big.Rat, bool) {
		var e ends
		if _, ok := e.on(set); !ok {
			return nil, false
		}
		return func(i int) *big.Rat {
			v, _ := reply[i].ends.on(set)
			return v.Mul(v, big.NewRat(sign, 1))
		}, true
	}
	for _, l := range cargo.Limits {
		e := trip.At(stage, l.On)
		per, ok := onSet(l.On, 1)
		if !ok || !e.Known() || l.Rating <= 0 {
			m.notJudged = append(m.notJudged, limitName(l))
			continue
		}
		if err := add(limitName(l), new(big.Rat).Sub(rat(l.Rating), rat(e.AtMost())), per); err != nil {
			return err
		}
	}
	for _, l := range cargo.LeastLoads {
		e := trip.At(stage, l.On)
		per, ok := onSet(l.On, -1)
		if !ok || !e.Known() {
			m.notJudged = append(m.notJudged, l.Name)
			continue
		}
		if err := add(l.Name, new(big.Rat).Sub(rat(e.AtLeast()), rat(l.Load)), per); err != nil {
			return err
		}
	}
	for i, s := range m.stations {
		if s.Most <= 0 {
			continue
		}
		spare := s.Most
		for k, it := range m.items {
			if m.at[k] == i {
				spare -= it.Mass
			}
		}
		name := StationLimit.String() + ", " + s.Name
		if err := add(name, rat(spare), func(j int) *big.Rat {
			if i == j {
				return big.NewRat(1, 1)
			}
			return new(big.Rat)
		}); err != nil {
			return err
		}
	}
	if t := cargo.Tongue; t != nil {
		if !t.Weight.Known() || !t.Towed.Known() {
			m.notJudged = append(m.notJudged, "tongue")
		} else {
			// The share must hold for the least and for the most the towed unit
			// may weigh: tongue <= high x towed, tongue >= low x towed.
			low, high := big.NewRat(int64(t.Band.Low), int64(weight.Whole)), big.NewRat(int64(t.Band.High), int64(weight.Whole))
			per := func(share *big.Rat, sign int64) func(int) *big.Rat {
				return func(i int) *big.Rat {
					v := new(big.Rat)
					if m.stations[i].Towed {
						v.Sub(&reply[i].hitch, share)
					}
					return v.Mul(v, big.NewRat(sign, 1))
				}
			}
			upper := new(big.Rat).Mul(high, rat(t.Towed.AtLeast()))
			lower := new(big.Rat).Mul(low, rat(t.Towed.AtMost()))
			if err := add("tongue, most", upper.Sub(upper, rat(t.Weight.AtMost())), per(high, 1)); err != nil {
				return err
			}
			if err := add("tongue, least", lower.Sub(rat(t.Weight.AtLeast()), lower), per(low, -1)); err != nil {
				return err
			}
		}
	}
	m.nb = len(m.bounds)
	m.eff = make([]int64, len(m.items)*(home+1)*m.nb)
	for b, bd := range m.bounds {
		for i, v := range bd.eff {
			m.eff[i*m.nb+b] = v
		}
	}
	for range len(m.items) + 1 {
		m.lows = append(m.lows, make([]int64, m.nb))
	}
	m.room = make([]int64, (len(m.items)+1)*m.nb)
	m.pick = make([]int, len(m.items))
	return nil
}

func (m *mover) effects(item, to int) []int64 {
	at := (item*(len(m.stations)+1) + to) * m.nb
	return m.eff[at : at+m.nb]
}

// run is the whole search.
func (m *mover) run() Moves {
	if m.kept(nil) {
		return Moves{Outcome: NothingToMove}
	}
	out := Moves{Blocking: m.blocking()}
	if len(out.Blocking) == 0 {
		plan, least, err := m.least(nil)
		switch {
		case err == nil && plan != nil:
			out.Outcome = Best
			return m.report(out, plan, least)
		case err != nil && plan != nil:
			out.Outcome = BestFound
			return m.report(out, plan, least)
		case err != nil:
			out.Outcome, out.NoLessThan = NotSettled, least
			return out
		}
	}
	return m.leave(out)
}

// report writes a plan down: for each item its station, home, or where it is.
func (m *mover) report(out Moves, plan []int, least weight.Mass) Moves {
	home := len(m.stations)
	for i := len(m.items) - 1; i >= 0; i-- { // the heaviest first
		it, to := m.items[i], plan[i]
		switch to {
		case m.at[i]:
		case home:
			out.StayHome = append(out.StayHome, it.Name)
			out.StayMass += it.Mass
		default:
			out.Moves = append(out.Moves, Move{Item: it.Name, Mass: it.Mass, From: it.At, To: m.stations[to].Name})
			out.MovedMass += it.Mass
		}
	}
	out.NoLessThan = least
	return out
}

// kept reports whether a plan (nil: as it is) keeps every bound.
func (m *mover) kept(plan []int) bool {
	for b := range m.bounds {
		if m.over(plan, b) > 0 {
			return false
		}
	}
	return true
}

func (m *mover) over(plan []int, b int) int64 {
	sum := -m.bounds[b].slack
	for i, to := range plan {
		sum += m.effects(i, to)[b]
	}
	return sum
}

// blocking names the bounds that no moves can keep, each taken alone.
func (m *mover) blocking() []string {
	var out []string
	for b, bd := range m.bounds {
		var best int64
		for i := range m.items {
			low := int64(0)
			for _, to := range m.to[i] {
				low = min(low, m.effects(i, to)[b])
			}
			best += low
		}
		if best > bd.slack {
			out = append(out, bd.name)
		}
	}
	return out
}

// A subset of items in the order of weight, then count.
type subset struct {
	sum   weight.Mass
	count int
	mask  uint64
}

type subsets []subset

func (h subsets) Len() int { return len(h) }
func (h subsets) Less(i, j int) bool {
	a, b := h[i], h[j]
	switch {
	case a.sum != b.sum:
		return a.sum < b.sum
	case a.count != b.count:
		return a.count < b.count
	}
	return a.mask < b.mask
}
func (h subsets) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *subsets) Push(x any)   { *h = append(*h, x.(subset)) }
func (h *subsets) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}

// inOrder calls f with every subset of the items in list, the lightest first,
// until f returns true or an error. Of the list, lightest first, each subset
// follows from one lighter: its heaviest item exchanged for the next heavier,
// or that one added.
func (m *mover) inOrder(list []int, f func(s subset) (bool, error)) (subset, error) {
	if len(list) == 0 {
		return subset{}, nil
	}
	h := &subsets{{m.items[list[0]].Mass, 1, 1 << list[0]}}
	rank := make([]int, len(m.items))
	for r, i := range list {
		rank[i] = r
	}
	for h.Len() > 0 {
		if m.tried > m.budget {
			return (*h)[0], errBudget
		}
		s := heap.Pop(h).(subset)
		m.tried++
		if done, err := f(s); done || err != nil {
			return s, err
		}
		top := 63 - bits.LeadingZeros64(s.mask)
		if r := rank[top] + 1; r < len(list) {
			next := m.items[list[r]].Mass
			heap.Push(h, subset{s.sum - m.items[top].Mass + next, s.count, s.mask&^(1<<top) | 1<<list[r]})
			heap.Push(h, subset{s.sum + next, s.count + 1, s.mask | 1<<list[r]})
		}
	}
	return subset{}, nil
}

// least finds the moves of least weight, the items in away staying home. It
// returns nil when there are none. After errBudget the plan, if any, is only
// enough, and the mass is the bound that is proven.
func (m *mover) least(away []int) ([]int, weight.Mass, error) {
	base := slices.Clone(m.at)
	for _, i := range away {
		base[i] = len(m.stations)
	}
	if m.kept(base) {
		return base, 0, nil
	}
	var list []int
	for i := range m.items {
		if base[i] == m.at[i] && len(m.to[i]) > 0 {
			list = append(list, i)
		}
	}
	var plan []int
	found := m.repair(base, list)
	var most subset
	for i, to := range found {
		if to != base[i] {
			most.sum += m.items[i].Mass
			most.count++
		}
	}
	s, err := m.inOrder(list, func(s subset) (bool, error) {
		if found != nil && (s.sum > most.sum || s.sum == most.sum && s.count >= most.count) {
			plan = found
			return true, nil
		}
		var err error
		plan, err = m.arrange(base, s.mask, false)
		return plan != nil, err
	})
	if err != nil {
		return found, s.sum, err
	}
	if plan == nil {
		plan = found
	}
	if plan == nil {
		return nil, 0, nil
	}
	var sum weight.Mass
	for i, to := range plan {
		if to != base[i] {
			sum += m.items[i].Mass
		}
	}
	return plan, sum, nil
}

// arrange finds places for the items of mask, all of them moved (or, with
// stay, also where they are) and the others where base has them, so that
// every bound is kept; nil when there are none.
func (m *mover) arrange(base []int, mask uint64, stay bool) ([]int, error) {
	var list []int
	for i := len(m.items) - 1; i >= 0; i-- { // the heaviest first
		if mask>>i&1 != 0 {
			list = append(list, i)
		}
	}
	room := m.room[:m.nb]
	for b := range room {
		room[b] = m.bounds[b].slack
	}
	for i, to := range base {
		if mask>>i&1 == 0 && to != m.at[i] {
			for b, v := range m.effects(i, to) {
				room[b] -= v
			}
		}
	}
	// The best that the items from k on can do for each bound.
	clear(m.lows[len(list)])
	for k := len(list) - 1; k >= 0; k-- {
		low, next, i := m.lows[k], m.lows[k+1], list[k]
		for b := range low {
			best := int64(0)
			for n, to := range m.to[i] {
				if v := m.effects(i, to)[b]; n == 0 && !stay || v < best {
					best = v
				}
			}
			low[b] = next[b] + best
		}
	}
	for b, v := range m.lows[0] {
		if v > room[b] {
			return nil, nil
		}
	}
	ok, err := m.descend(list, 0, stay)
	if !ok {
		return nil, err
	}
	plan := slices.Clone(base)
	for k, i := range list {
		plan[i] = m.pick[k]
	}
	return plan, nil
}

// descend places the items of list from k on.
func (m *mover) descend(list []int, k int, stay bool) (bool, error) {
	if k == len(list) {
		return true, nil
	}
	i := list[k]
	room, next, low := m.room[k*m.nb:(k+1)*m.nb], m.room[(k+1)*m.nb:(k+2)*m.nb], m.lows[k+1]
	for n := range len(m.to[i]) + 1 {
		to := m.at[i]
		switch {
		case n > 0:
			to = m.to[i][n-1]
		case !stay:
			continue
		}
		if m.tried++; m.tried > m.budget {
			return false, errBudget
		}
		fits := true
		for b, v := range m.effects(i, to) {
			next[b] = room[b] - v
			if next[b] < low[b] {
				fits = false
				break
			}
		}
		if !fits {
			continue
		}
		m.pick[k] = to
		if ok, err := m.descend(list, k+1, stay); ok || err != nil {
			return ok, err
		}
	}
	return false, nil
}

// repair looks for some plan that is enough: one move after the other, each
// the one that leaves the least over its bounds, then moves taken back that
// are not needed. It may find none where there is one.
func (m *mover) repair(base []int, list []int) []int {
	plan := slices.Clone(base)
	over := func() (sum int64) {
		for b := range m.bounds {
			sum += max(m.over(plan, b), 0)
		}
		return sum
	}
	now := over()
	for range 3 * len(list) {
		if now == 0 {
			break
		}
		bestItem, bestTo, best := -1, 0, now
		for _, i := range list {
			was := plan[i]
			for _, to := range append([]int{m.at[i]}, m.to[i]...) {
				plan[i] = to
				if v := over(); v < best {
					bestItem, bestTo, best = i, to, v
				}
			}
			plan[i] = was
		}
		if bestItem < 0 {
			return nil
		}
		plan[bestItem], now = bestTo, best
	}
	if now != 0 {
		return nil
	}
	for k := len(list) - 1; k >= 0; k-- {
		i := list[k]
		was := plan[i]
		plan[i] = base[i]
		if over() != 0 {
			plan[i] = was
		}
	}
	return plan
}

// leave finds the least weight that must stay home.
func (m *mover) leave(out Moves) Moves {
	home := len(m.stations)
	all := make([]int, len(m.items))
	var every uint64
	for i := range all {
		all[i] = i
		every |= 1 << i
	}
	var enough []int
	s, err := m.inOrder(all, func(s subset) (bool, error) {
		base := slices.Clone(m.at)
		for i := range base {
			if s.mask>>i&1 != 0 {
				base[i] = home
			}
		}
		plan, err := m.arrange(base, every&^s.mask, true)
		enough = plan
		return plan != nil, err
	})
	switch {
	case err != nil:
		// Everything home is enough, or not; both are worth saying.
		base := make([]int, len(m.items))
		for i := range base {
			base[i] = home
		}
		if !m.kept(base) {
			out.Outcome, out.NoLessThan = NotSettled, s.sum
			return out
		}
		out.Outcome = MustStayFound
		return m.report(out, m.bringBack(base), s.sum)
	case enough == nil:
		out.Outcome = Hopeless
		return out
	}
	var away []int
	for i := range m.items {
		if s.mask>>i&1 != 0 {
			away = append(away, i)
		}
	}
	out.Outcome = MustStay
	if plan, _, err := m.least(away); err == nil {
		enough = plan
	}
	return m.report(out, enough, s.sum)
}

// bringBack takes along again what can be, the heaviest first.
func (m *mover) bringBack(plan []int) []int {
	for i := len(plan) - 1; i >= 0; i-- {
		for _, to := range append([]int{m.at[i]}, m.to[i]...) {
			plan[i] = to
			if m.kept(plan) {
				break
			}
			plan[i] = len(m.stations)
		}
	}
	return plan
}

package cargo

import (
	"context"
	"fmt"
	"slices"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// MaxItems, MaxStations and MaxLimits are how many items, stations, and limits
// and least loads together [PlanMoves] takes.
const (
	MaxItems    = 60
	MaxStations = 60
	MaxLimits   = 200
)

// PlanMoves finds which cargo to move, in the state of a stage, so that every
// limit and least load is kept with all its doubt to spare, a tongue stays
// within its band, and no station holds more than its own limit. It moves the
// least weight, then the fewest items, and proves it. When no moves are enough
// it finds the least weight that must stay home. When the budget runs out, the
// outcome and NoLessThan say what is proven.
//
// Items are part of the weighed state or of the stage; they are where At says.
// Effects are in whole nanograms, rounded to the safe side. What is not known
// (an undetermined end, a rating of 0) is not kept and not judged, and is named.
//
// The work is counted, and bounded by the budget; memory stays below 32 MB. The
// error matches [ErrPlan] for input that contradicts itself, [ErrGeometry],
// [origin.ErrRange], or the error of the context once it is done.
func PlanMoves(ctx context.Context, trip Trip, stage int, task Task) (Moves, error) {
	m, err := newMover(trip, stage, task)
	if err != nil {
		return Moves{}, err
	}
	m.ctx = ctx
	out := m.run()
	if err := ctx.Err(); err != nil {
		return Moves{}, err
	}
	out.NotJudged = m.notJudged
	out.Cautions = trip.Cautions()
	out.Work = m.work
	return out, nil
}

// A mover is the task as a table: the effects of every item at every place on
// everything to keep.
type mover struct {
	ctx       context.Context
	items     []Item // the heaviest first
	stations  []Station
	at        []int   // item -> station
	to        [][]int // item -> stations it may go to, its own not among them
	bounds    []bound
	effects   []int64 // item x (stations + 1) x bound; the last station is home
	notJudged []string
	budget    int
	work      int
}

// A bound is one thing to keep: the effects of all moves must add up to at most
// slack.
type bound struct {
	name  string
	slack int64
}

func newMover(trip Trip, stage int, task Task) (*mover, error) {
	if stage < 0 || stage >= len(trip.stages) {
		return nil, fmt.Errorf("%w: no stage %d: want 0 to %d", ErrPlan, stage, len(trip.stages)-1)
	}
	if len(task.Items) > MaxItems || len(task.Stations) > MaxStations {
		return nil, fmt.Errorf("%w: %d items and %d stations: want %d and %d at most", ErrPlan, len(task.Items), len(task.Stations), MaxItems, MaxStations)
	}
	if n := len(task.Limits) + len(task.LeastLoads); n > MaxLimits {
		return nil, fmt.Errorf("%w: %d limits and least loads: want %d at most", ErrPlan, n, MaxLimits)
	}
	m := &mover{stations: task.Stations, budget: task.Budget}
	if m.budget <= 0 {
		m.budget = UsualBudget
	}
	index := map[string]int{}
	for i, s := range task.Stations {
		if _, twice := index[s.Name]; twice {
			return nil, fmt.Errorf("%w: two stations named %s", ErrPlan, word.Quote(s.Name))
		}
		index[s.Name] = i
	}
	// The heaviest first; of equals, the one given last.
	m.items = slices.Clone(task.Items)
	slices.Reverse(m.items)
	slices.SortStableFunc(m.items, func(a, b Item) int {
		switch {
		case a.Mass > b.Mass:
			return -1
		case a.Mass < b.Mass:
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
		if err := m.place(it, index); err != nil {
			return nil, err
		}
	}
	return m, m.bind(trip, stage, task)
}

// place finds where an item is and where it may go, in order.
func (m *mover) place(it Item, index map[string]int) error {
	station := func(name string) (int, error) {
		i, ok := index[name]
		if !ok {
			return 0, fmt.Errorf("%w: item %s: no station %s", ErrPlan, word.Quote(it.Name), word.Quote(name))
		}
		return i, nil
	}
	at, err := station(it.At)
	if err != nil {
		return err
	}
	var to []int
	add := func(i int) {
		if i != at && !slices.Contains(to, i) {
			to = append(to, i)
		}
	}
	for _, name := range it.To {
		i, err := station(name)
		if err != nil {
			return err
		}
		add(i)
	}
	if it.To == nil {
		for i := range m.stations {
			add(i)
		}
	}
	m.at, m.to = append(m.at, at), append(m.to, to)
	return nil
}

// on is what an item does to every bound at a place.
func (m *mover) on(item, to int) []int64 {
	at := (item*(len(m.stations)+1) + to) * len(m.bounds)
	return m.effects[at : at+len(m.bounds)]
}

// run is the whole search.
func (m *mover) run() Moves {
	if m.kept(m.at) {
		return Moves{Outcome: NothingToMove}
	}
	moves := func(i, to int) int64 {
		if to == m.at[i] {
			return 0
		}
		return int64(m.items[i].Mass)
	}
	out := Moves{Blocking: m.blocking()}
	if len(out.Blocking) == 0 {
		// A quarter is kept for what must stay home.
		a := m.choose(m.to, moves, m.budget/4*3, nil)
		switch {
		case a.found && a.proven:
			out.Outcome = Best
			return m.report(out, a)
		case a.found:
			out.Outcome = BestFound
			return m.report(out, a)
		case !a.proven:
			out.Outcome, out.NoLessThan = NotSettled, weight.Mass(a.bound)
			if home := m.leave(m.budget); home.found {
				least := out.NoLessThan
				out = m.report(out, home)
				out.NoLessThan = least
			}
			return out
		}
	}
	a := m.leave(m.work + (m.budget-m.work)/4*3)
	switch {
	case !a.found && a.proven:
		out.Outcome = Hopeless
		return out
	case !a.found:
		out.Outcome, out.NoLessThan = NotSettled, weight.Mass(a.bound)
		return out
	case a.proven:
		out.Outcome = MustStay
	default:
		out.Outcome = MustStayFound
	}
	// The least moves with that at home.
	home, to := len(m.stations), slices.Clone(m.to)
	for i, k := range a.plan {
		if k == home {
			to[i] = nil
		}
	}
	b := m.choose(to, func(i, k int) int64 {
		if k == home {
			return 0
		}
		return moves(i, k)
	}, m.budget, a.plan)
	b.bound = a.bound
	return m.report(out, b)
}

// leave finds the least weight to leave at home.
func (m *mover) leave(budget int) answer {
	home, to := len(m.stations), make([][]int, len(m.items))
	for i := range to {
		to[i] = append(slices.Clone(m.to[i]), home)
	}
	return m.choose(to, func(i, k int) int64 {
		if k != home {
			return 0
		}
		return int64(m.items[i].Mass)
	}, budget, nil)
}

// choose looks for a place for each item, where it is or among to, so that
// every bound is kept at the least cost. With a plan, that is enough to begin
// with, and what it leaves home stays there.
func (m *mover) choose(to [][]int, cost func(item, to int) int64, budget int, plan []int) answer {
	home := len(m.stations)
	p := &choices{meter: meter{ctx: m.ctx, budget: budget, work: m.work}}
	for _, b := range m.bounds {
		p.slack = append(p.slack, b.slack)
	}
	for i := range m.items {
		places := append([]int{m.at[i]}, to[i]...)
		if plan != nil && plan[i] == home {
			places = []int{home}
		}
		var list []choice
		for _, k := range places {
			list = append(list, choice{to: k, cost: cost(i, k), of: m.on(i, k)})
		}
		p.add(list, i > 0 && m.equal(i-1, i, to) && (plan == nil || (plan[i-1] == home) == (plan[i] == home)))
	}
	a := p.solve(plan)
	m.work = p.meter.work
	return a
}

// equal reports whether two items can be exchanged for each other.
func (m *mover) equal(a, b int, to [][]int) bool {
	return m.items[a].Mass == m.items[b].Mass && m.at[a] == m.at[b] && slices.Equal(to[a], to[b])
}

// report writes a plan down: for each item its station, home, or where it is.
func (m *mover) report(out Moves, a answer) Moves {
	home := len(m.stations)
	for i, to := range a.plan {
		it := m.items[i]
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
	out.NoLessThan = weight.Mass(a.bound)
	return out
}

// kept reports whether a plan keeps every bound.
func (m *mover) kept(plan []int) bool {
	for b, bd := range m.bounds {
		sum := -bd.slack
		for i, to := range plan {
			sum += m.on(i, to)[b]
		}
		if sum > 0 {
			return false
		}
	}
	return true
}

// blocking names the bounds that no moves can keep, each taken alone.
func (m *mover) blocking() []string {
	var out []string
	for b, bd := range m.bounds {
		var best int64
		for i := range m.items {
			low := int64(0)
			for _, to := range m.to[i] {
				low = min(low, m.on(i, to)[b])
			}
			best += low
		}
		if best > bd.slack {
			out = append(out, bd.name)
		}
	}
	return out
}

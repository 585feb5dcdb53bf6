package cargo

import (
	"fmt"
	"math"
	"math/big"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Trip is the weighed state and the stages planned from it. It is immutable
// and safe for concurrent use.
//
// Loads are shared by moments: load on an axle = weight x distance from the
// other axle / wheelbase, so cargo behind the last axle lightens the first.
// Several rear axles count as one support, and share in the proportion they
// were weighed at (alike where that is not known). Each axle gives its share
// to its two ends by the offset from the centerline over its track. A tongue
// or pin carries its share to the coach, and no roll; a tow bar carries
// nothing. More supports than two, and the stiffness of a frame, are no
// business of statics alone: this is a plan, weigh again.
type Trip struct {
	weighed weight.Solution
	rig     weight.Rig
	model   *supports
	stages  []tripStage
}

type tripStage struct {
	name string
	add  ends             // exact, in nanograms
	held map[string]int64 // by station, for its own limit
}

// ends holds a number for each end: axle*2, and one more for the right.
type ends [2 * weight.MaxAxles]big.Rat

// PlanTrip plans stages from a weighed state; stage 0 is that state itself.
// Each stage is the weighed state with its own changes, not those of the
// stage before. The error matches [ErrGeometry] when the distance of an axle,
// the hitch or the track that a change needs is not known, and
// [origin.ErrRange] when masses do not add up within a Mass.
func PlanTrip(weighed weight.Solution, stages ...Stage) (Trip, error) {
	t := Trip{weighed: weighed, rig: weighed.Rig()}
	if len(t.rig.Axles) == 0 {
		return Trip{}, fmt.Errorf("%w: nothing was weighed", ErrPlan)
	}
	t.model = newSupports(weighed, t.rig)
	t.stages = append(t.stages, tripStage{name: "as weighed"})
	for _, st := range stages {
		out := tripStage{name: st.Name, held: map[string]int64{}}
		var sum weight.Mass
		for _, ch := range st.Changes {
			u, err := t.model.at(ch.At)
			if err != nil {
				return Trip{}, fmt.Errorf("stage %s, %s: %w", word.Quote(st.Name), word.Quote(ch.Name), err)
			}
			mag := ch.Mass
			if mag < 0 {
				mag = -mag
			}
			if sum += min(max(mag, 0), mostPlanned+1); mag < 0 || sum > mostPlanned {
				return Trip{}, fmt.Errorf("stage %s: %w", word.Quote(st.Name), outOfRange("sum of the changes"))
			}
			out.held[ch.At.Name] += int64(ch.Mass)
			m := new(big.Rat).SetInt64(int64(ch.Mass))
			for i := range out.add {
				v := new(big.Rat).Mul(m, &u.ends[i])
				out.add[i].Add(&out.add[i], v)
			}
		}
		t.stages = append(t.stages, out)
	}
	return t, nil
}

// mostPlanned keeps sums of a plan far inside a Mass: a thousand tons.
const mostPlanned = 1_000_000 * weight.Kilogram

func outOfRange(what string) error {
	return &origin.TextError{Kind: "mass", Text: what, Err: origin.ErrRange}
}

// farthest is as far away as a station may be: no vehicle is a kilometer long.
const farthest = weight.Kilometer

// supports is where a rig stands on the ground and on its hitch.
type supports struct {
	rig   weight.Rig
	coach []support
	towed []support
}

type support struct {
	axle  int
	share *big.Rat // of its group
}

// response is what one unit of load puts on each end, and on the coupling.
type response struct {
	ends  ends
	hitch big.Rat
}

func newSupports(weighed weight.Solution, rig weight.Rig) *supports {
	m := &supports{rig: rig}
	for i, a := range rig.Axles {
		if a.Towed {
			m.towed = append(m.towed, support{axle: i})
		} else {
			m.coach = append(m.coach, support{axle: i})
		}
	}
	group := func(list []support) {
		total := new(big.Rat)
		for i := range list {
			e := weighed.Of(weight.AxleOf(list[i].axle))
			list[i].share = new(big.Rat).SetInt64(int64(e.Load))
			if !e.Known() || e.Load <= 0 {
				total.SetInt64(0)
				break
			}
			total.Add(total, list[i].share)
		}
		for i := range list {
			if total.Sign() == 0 {
				list[i].share = big.NewRat(1, int64(len(list)))
			} else {
				list[i].share.Quo(list[i].share, total)
			}
		}
	}
	if len(m.coach) > 1 {
		group(m.coach[1:])
	}
	if rig.Coupling == weight.TowBar && len(m.towed) > 1 {
		group(m.towed[1:])
	} else {
		group(m.towed)
	}
	return m
}

func ratOf[T ~int64](v T) *big.Rat { return new(big.Rat).SetInt64(int64(v)) }

// center is where a group of axles stands as one support.
func (m *supports) center(list []support) (*big.Rat, error) {
	out := new(big.Rat)
	for _, s := range list {
		a := m.rig.Axles[s.axle]
		if a.Behind == 0 && s.axle != 0 {
			return nil, fmt.Errorf("%w: how far %s stands behind the first axle", ErrGeometry, m.rig.AxleName(s.axle))
		}
		out.Add(out, new(big.Rat).Mul(s.share, ratOf(a.Behind)))
	}
	return out, nil
}

// beam shares a load at x between a first axle and a group behind it.
func (m *supports) beam(list []support, x *big.Rat, offset weight.Length, out *response) error {
	if len(list) < 2 {
		return fmt.Errorf("%w: it takes two axles to share a load", ErrGeometry)
	}
	first := ratOf(m.rig.Axles[list[0].axle].Behind)
	if list[0].axle != 0 && first.Sign() == 0 {
		return fmt.Errorf("%w: how far %s stands behind the first axle", ErrGeometry, m.rig.AxleName(list[0].axle))
	}
	rear, err := m.center(list[1:])
	if err != nil {
		return err
	}
	base := rear.Sub(rear, first)
	back := new(big.Rat).Sub(x, first)
	back.Quo(back, base)
	front := new(big.Rat).Sub(big.NewRat(1, 1), back)
	if err := m.axle(list[0].axle, front, front, offset, out); err != nil {
		return err
	}
	for _, s := range list[1:] {
		part := new(big.Rat).Mul(back, s.share)
		if err := m.axle(s.axle, part, part, offset, out); err != nil {
			return err
		}
	}
	return nil
}

// axle gives a share of the load to an axle, and a share of the roll.
func (m *supports) axle(a int, share, roll *big.Rat, offset weight.Length, out *response) error {
	half := new(big.Rat).Mul(share, big.NewRat(1, 2))
	left, right := &out.ends[2*a], &out.ends[2*a+1]
	left.Add(left, half)
	right.Add(right, half)
	if offset == 0 {
		return nil
	}
	track := m.rig.TrackOf(a)
	if track == 0 {
		return fmt.Errorf("%w: the track of %s, for a load off the centerline", ErrGeometry, m.rig.AxleName(a))
	}
	lean := new(big.Rat).Mul(roll, big.NewRat(int64(offset), int64(track)))
	left.Sub(left, lean)
	right.Add(right, lean)
	return nil
}

// at is the response to a load at a station.
func (m *supports) at(st Station) (*response, error) {
	out := &response{}
	if max(st.Behind, -st.Behind, st.Offset, -st.Offset) > farthest {
		return nil, fmt.Errorf("%w: a station beyond %s", ErrPlan, farthest)
	}
	x := ratOf(st.Behind)
	if !st.Towed {
		return out, m.beam(m.coach, x, st.Offset, out)
	}
	switch m.rig.Coupling {
	case weight.TowBar:
		return out, m.beam(m.towed, x, st.Offset, out)
	case weight.Tongue, weight.FifthWheel:
	default:
		return nil, fmt.Errorf("%w: how the towed unit is coupled", ErrGeometry)
	}
	if len(m.towed) == 0 {
		return nil, fmt.Errorf("%w: a station in a towed unit without axles", ErrPlan)
	}
	if m.rig.Hitch == 0 {
		return nil, fmt.Errorf("%w: where the hitch is", ErrGeometry)
	}
	center, err := m.center(m.towed)
	if err != nil {
		return nil, err
	}
	hitch := ratOf(m.rig.Hitch)
	base := center.Sub(center, hitch)
	if base.Sign() <= 0 {
		return nil, fmt.Errorf("%w: the hitch stands behind the towed axles", ErrPlan)
	}
	back := new(big.Rat).Sub(x, hitch)
	back.Quo(back, base)
	out.hitch.Sub(big.NewRat(1, 1), back)
	for _, s := range m.towed {
		if err := m.axle(s.axle, new(big.Rat).Mul(back, s.share), s.share, st.Offset, out); err != nil {
			return nil, err
		}
	}
	var on response
	if err := m.beam(m.coach, hitch, 0, &on); err != nil {
		return nil, err
	}
	for i := range out.ends {
		out.ends[i].Add(&out.ends[i], on.ends[i].Mul(&on.ends[i], &out.hitch))
	}
	return out, nil
}

// on adds up the ends of a set; false when the set holds half of an end.
func (e *ends) on(set weight.Set) (*big.Rat, bool) {
	sum := new(big.Rat)
	for _, a := range set.Axles() {
		for i, side := range [...]weight.Side{weight.Left, weight.Right} {
			switch part := set & weight.EndOf(a, side); part {
			case 0:
			case weight.EndOf(a, side):
				sum.Add(sum, &e[2*a+i])
			default:
				return nil, false
			}
		}
	}
	return sum, true
}

// Stages names the stages, the first being "as weighed".
func (t Trip) Stages() []string {
	out := make([]string, len(t.stages))
	for i, s := range t.stages {
		out[i] = s.name
	}
	return out
}

// At is what is expected on a set at a stage: the weighed load with the
// stage's changes, on the grid. Its plus/minus is the weighing's, and covers
// the rounding. It is Undetermined where the weighed load is, for one wheel of
// a pair once something changed, and for a stage that does not exist. An end
// that a plan lifts off the ground comes out negative.
func (t Trip) At(stage int, set weight.Set) weight.Estimate {
	if stage < 0 || stage >= len(t.stages) {
		return weight.Estimate{}
	}
	e := t.weighed.Of(set)
	if stage == 0 || !e.Known() {
		return e
	}
	add, ok := t.stages[stage].add.on(set)
	if !ok {
		return weight.Estimate{}
	}
	if add.Sign() == 0 {
		return e
	}
	grid := t.rig.System.MassGrid()
	exact := add.Add(add, new(big.Rat).SetInt64(int64(e.Load)))
	load, err1 := weight.MassOfRat(exact, grid, weight.Nearest)
	gap := exact.Sub(exact, new(big.Rat).SetInt64(int64(load)))
	pm, err2 := weight.MassOfRat(gap.Abs(gap).Add(gap, new(big.Rat).SetInt64(int64(e.PlusMinus))), grid, weight.Ceiling)
	if err1 != nil {
		return weight.Estimate{}
	}
	if e.Load, e.PlusMinus = load, pm; err2 != nil {
		e.PlusMinus = math.MaxInt64 // decides nothing
	}
	return e
}

// Heaviest gives the heaviest load of a set in any stage, doubt included, and
// the index of that stage; 0 is the weighed state. Set pressures for it.
func (t Trip) Heaviest(set weight.Set) (weight.Estimate, int) {
	best, at := t.At(0, set), 0
	for i := 1; i < len(t.stages); i++ {
		if e := t.At(i, set); e.Known() && (!best.Known() || e.AtMost() > best.AtMost()) {
			best, at = e, i
		}
	}
	return best, at
}

// Margins compares the load on each limit's set at a stage with the limit, in
// the order of limits.
func (t Trip) Margins(stage int, limits []Limit) []Margin {
	out := make([]Margin, len(limits))
	for i, l := range limits {
		out[i] = MarginOf(l, t.At(stage, l.On))
	}
	return out
}

// Cautions lists what must be said beside planned figures, those of the
// weighing first.
func (t Trip) Cautions() []weight.Caution {
	out := append(t.weighed.Cautions(), weight.SharedByMoments)
	if t.model != nil && (len(t.model.coach) > 2 || len(t.model.towed) > 1) {
		out = append(out, weight.RearAxlesShare)
	}
	return append(out, weight.WeighAgain)
}

// RoomAt gives how much may still be loaded at a place, at a stage, before the
// first limit or least load binds, and which one that is, with every doubt at
// its worst. A place's own limit counts with what the stage puts there. The
// errors are those of [PlanTrip], and [ErrPlan] for a stage that does not
// exist.
func (t Trip) RoomAt(stage int, at Station, limits []Limit, leasts []LeastLoad) (Room, error) {
	if stage < 0 || stage >= len(t.stages) {
		return Room{}, fmt.Errorf("%w: no stage %d: want 0 to %d", ErrPlan, stage, len(t.stages)-1)
	}
	u, err := t.model.at(at)
	if err != nil {
		return Room{}, err
	}
	r := roomFinder{trip: t, stage: stage, per: &u.ends}
	for _, l := range limits {
		r.limit(l)
	}
	for _, l := range leasts {
		if err := r.least(l); err != nil {
			return Room{}, err
		}
	}
	if at.Most > 0 {
		spare, err := weight.Sum(at.Most, -weight.Mass(t.stages[stage].held[at.Name]))
		if err != nil {
			return Room{}, err
		}
		r.bind(spare, big.NewRat(1, 1), at.Name, 0)
	}
	return r.room, nil
}

// A roomFinder looks for what binds first.
type roomFinder struct {
	trip  Trip
	stage int
	per   *ends // what each part loaded at the place adds to the ends
	room  Room  // that is left by what was looked at
}

// limit holds the room to a limit.
func (r *roomFinder) limit(l Limit) {
	per, ok := r.per.on(l.On)
	if ok && per.Sign() <= 0 && l.On != 0 {
		return
	}
	switch m := MarginOf(l, r.trip.At(r.stage, l.On)); {
	case !ok || !m.Known():
		r.room.NotJudged = append(r.room.NotJudged, l.Name)
	case !m.Kept():
		r.bind(0, per, l.Name, l.On)
	default:
		r.bind(m.Room, per, l.Name, l.On)
	}
}

// least holds the room to what has to stay on a set, where what is loaded lightens it.
func (r *roomFinder) least(l LeastLoad) error {
	per, ok := r.per.on(l.On)
	if ok && per.Sign() >= 0 {
		return nil
	}
	e := r.trip.At(r.stage, l.On)
	switch {
	case !ok || !e.Known():
		r.room.NotJudged = append(r.room.NotJudged, l.Name)
		return nil
	case e.State == weight.Disputed:
		r.bind(0, per.Neg(per), l.Name, l.On)
		return nil
	}
	spare, err := weight.Sum(e.AtLeast(), -l.Load)
	if err == nil {
		r.bind(spare, per.Neg(per), l.Name, l.On)
	}
	return err
}

// bind lowers the room to spare/per, rounded down to the grid.
func (r *roomFinder) bind(spare weight.Mass, per *big.Rat, name string, set weight.Set) {
	var most weight.Mass
	if spare > 0 {
		q := new(big.Rat).SetInt64(int64(spare))
		m, err := weight.MassOfRat(q.Quo(q, per), r.trip.rig.System.MassGrid(), weight.Floor)
		if most = mostPlanned; err == nil {
			most = min(m, mostPlanned)
		}
	}
	if !r.room.Known || most < r.room.Mass {
		r.room = Room{Mass: most, LimitedBy: name, LimitedOn: set, Known: true, NotJudged: r.room.NotJudged}
	}
}

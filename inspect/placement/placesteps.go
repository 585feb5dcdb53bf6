package placement

import (
	"cmp"
	"slices"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/word"
	"axleend.example/rules"
	"axleend.example/weight"
)

// A StepKind is what one step of the work does.
type StepKind uint8

// The steps, as the trade calls them.
const (
	LiftEnd StepKind = iota + 1
	TakeOff
	FetchSpare
	Demount
	PutOn
	LowerEnd
	StowSpare
)

var stepWords = word.List[StepKind]{Kind: "do", Words: []string{"", "lift", "take off", "fetch", "demount", "put on", "lower", "stow"}, Unknown: word.Err}

// String gives "lift", "take off", "fetch", "demount", "put on", "lower",
// "stow" or "not known".
func (k StepKind) String() string { return stepWords.String(k) }

// AppendText appends the word, and nothing for the zero StepKind. An unknown value
// is an error.
func (k StepKind) AppendText(dst []byte) ([]byte, error) { return stepWords.Append(dst, k) }

// MarshalText writes what [StepKind.AppendText] appends.
func (k StepKind) MarshalText() ([]byte, error) { return stepWords.Text(k) }

// UnmarshalText reads what [StepKind.MarshalText] writes.
func (k *StepKind) UnmarshalText(text []byte) error { return stepWords.Read(k, text) }

// A Step is one thing to do, in the order in which it can be done: one axle
// end is open at a time, and no other is ever without its wheels. An end that
// waits for some of its wheels rests on its stand, its weight off the wheel it
// has: one dual alone would carry double. Wheels and tires are called by the
// place where they were found.
type Step struct {
	// Do says what to do.
	Do StepKind `json:"do"`
	// End is the axle end that is lifted, worked at or lowered.
	End string `json:"end,omitzero"`
	// Tire is the tire that is handled, with the wheel it is on.
	Tire string `json:"tire,omitzero"`
	// Bought says that it is the one to buy for the place of that name.
	Bought bool `json:"bought,omitzero"`
	// Borrowed says that it is any wheel that fits, as a guard.
	Borrowed bool `json:"borrowed,omitzero"`
	// Wheel is the wheel that the tire is on by then, where that is not its own.
	Wheel string `json:"wheel,omitzero"`
	// WheelFor is the place that its wheel is bought for, where the wheel that it is
	// on by then, or goes onto, is one to buy.
	WheelFor string `json:"wheel_for,omitzero"`
	// Place is where it comes off, goes on or is stowed.
	Place string `json:"place,omitzero"`
	// OntoWheel is, of a demount, the wheel that the tire goes onto; its own
	// where it is turned on it, empty for one to buy, or any that fits.
	OntoWheel string `json:"onto_wheel,omitzero"`
	// Arrow is, of a demount, the side of the coach on which the arrow on its
	// sidewall is to point forward.
	Arrow weight.Side `json:"arrow,omitzero"`
	// StandOnly marks a wheel that is put on as a guard while its end rests on
	// a stand, not to be driven on.
	StandOnly bool `json:"stand_only,omitzero"`
	// Out marks a wheel that comes off and goes back nowhere, with no tire.
	Out bool `json:"out,omitzero"`
	// NoAir marks one whose tire, or its dual mate, ran low, or that is damaged: its air
	// comes out before it comes off.
	NoAir bool `json:"no_air,omitzero"`
	// InspectFirst marks a spare that trained people look over before it goes on
	// the road: something about it stops or comes before the trip, as its age or
	// that it was low, something of it was not read, or its air is not known to be free.
	InspectFirst bool `json:"inspect_first,omitzero"`
	// Waits marks an end that stays on its stand: it has not all its wheels.
	Waits bool `json:"waits,omitzero"`
	// OnStand marks, of a lift, an end that rests on its stand already: the work goes on
	// there, and nothing is lifted.
	OnStand bool `json:"on_stand,omitzero"`
}

// mounting is what a place carries in the end: which tire on which wheel.
type mounting struct {
	tire, wheel int  // by the place where they were found; noTire if there is none
	turn        bool // turned on its own wheel
	demount     bool // onto another wheel
}

// anyWheel is a wheel for a place that is not at hand: any that fits.
func anyWheel(place int) int { return -100 - place }

// boughtFor is the place that such a wheel is for.
func boughtFor(wheel int) int { return -100 - wheel }

// mountings says which wheel carries each tire. A tire takes its own wheel
// along where that fits. Where it does not, it goes onto the wheel found at
// its new place, which the tire from there has to leave then.
func (b *bench) mountings(a arrangement) []mounting {
	out := make([]mounting, len(a))
	other := b.changeWheels(a)
	free := make([]bool, len(a)) // wheels that no tire at hand needs
	for _, w := range b.tires {
		free[w] = true
	}
	for p, t := range a {
		m := mounting{tire: t, wheel: noTire}
		if t != noTire {
			if m.wheel = t; other[t] {
				m.wheel, m.demount = p, true
			}
			m.turn = b.turned(t, p) && !m.demount
			free[m.wheel] = false
		}
		out[p] = m
	}
	for _, p := range b.tires {
		if a[p] != noTire || b.as.Tires[p].Position == nil {
			continue
		}
		w := b.freeWheel(p, free)
		out[p].wheel, out[p].demount = w, true
		if w >= 0 {
			free[w] = false
		}
	}
	return out
}

// changeWheels finds the tires that go onto another wheel. One that does makes the
// tire leave that was found on the wheel, and so on until no more have to.
func (b *bench) changeWheels(a arrangement) []bool {
	other := make([]bool, len(a))
	for again := true; again; {
		again = false
		for p, t := range a {
			if t == noTire || t == p || other[t] {
				continue
			}
			leaves := slices.ContainsFunc(a, func(x int) bool { return x != noTire && other[x] && slices.Index(a, x) == t })
			if leaves || !b.fits(t, p) {
				other[t], again = true, true
			}
		}
	}
	return other
}

// freeWheel is the wheel for the tire to buy for a place: the one found there, else
// one at hand that fits, else any that does.
func (b *bench) freeWheel(p int, free []bool) int {
	if free[p] {
		return p
	}
	if i := slices.IndexFunc(b.tires, func(x int) bool { return free[x] && b.fits(x, p) }); i >= 0 {
		return b.tires[i]
	}
	return anyWheel(p)
}

// nothing is on a wheel, or on a place.
const nothing = -1

// bought is the tire to buy for a place, among tires.
func bought(place int) int { return -10 - place }

// borrowed is a wheel that is only stood on.
const borrowed = -3

// A shop carries out a change of wheels, one end after the other.
type shop struct {
	*bench
	want  []mounting
	tired map[int]int // the tire on each wheel
	on    []int       // the wheel on each place
	turns map[int]bool
	ends  [][]int // places of the ends that change, the outer ones first
	stood []bool
	keeps int // at so many ends more the inner wheel stays on as a guard, though another end may wait for it
	steps []Step
}

// steps gives the work that turns what was found into what is wanted: with no wheel
// borrowed if that can be, and with the fewest steps.
func (b *bench) steps(want []mounting) []Step {
	borrows := func(steps []Step) (n int) {
		for i := range steps {
			if steps[i].Borrowed {
				n++
			}
		}
		return n
	}
	best, _ := b.stepsBy(want, 0)
	for keeps := 1; keeps <= 2; keeps++ {
		other, done := b.stepsBy(want, keeps)
		if done && cmp.Or(cmp.Compare(borrows(other), borrows(best)), cmp.Compare(len(other), len(best))) < 0 {
			best = other
		}
	}
	return best
}

// stepsBy gives the work with the inner wheel left on at so many ends that wait, and
// whether all of it came out.
func (b *bench) stepsBy(want []mounting, keeps int) ([]Step, bool) {
	s := &shop{bench: b, keeps: keeps, want: slices.Clone(want), tired: make(map[int]int), turns: make(map[int]bool)}
	s.on = make([]int, len(want))
	for p := range want {
		s.on[p] = nothing
	}
	for _, p := range b.tires {
		s.on[p], s.tired[p] = p, p
		if want[p].turn {
			s.turns[want[p].tire] = true
		}
		if want[p].tire == noTire && b.as.Tires[p].Position != nil {
			s.want[p].tire = bought(p)
		}
	}
	for _, p := range b.tires {
		st := &b.as.Tires[p]
		switch {
		case st.Position == nil || st.Position.Place == record.Inner:
		case st.Position.Place == record.Outer:
			s.ends = append(s.ends, []int{p, st.Mate})
		default:
			s.ends = append(s.ends, []int{p})
		}
	}
	s.stood = make([]bool, len(s.ends))
	for {
		next := s.next()
		if next < 0 {
			break
		}
		if !s.open(next) {
			s.stood[next] = true
		}
	}
	s.stow()
	return s.steps, !slices.ContainsFunc(s.ends, func(places []int) bool {
		return slices.ContainsFunc(places, func(p int) bool { return !s.done(p) })
	})
}

// stow puts what is wanted there onto the carriers.
func (s *shop) stow() {
	for p, m := range s.want {
		if s.as.Tires[p].Position == nil && m.tire != noTire && !s.done(p) {
			s.fetch(s.on[p])
			s.make(p)
			s.say(Step{Do: StowSpare, Place: s.name(p)}, m.tire)
			s.on[p] = m.wheel
		}
	}
}

func (s *shop) name(place int) string { return s.as.Tires[place].Name }

// say notes a step about a tire.
func (s *shop) say(step Step, tire int) {
	switch {
	case tire == borrowed:
		step.Borrowed = true
	case tire < borrowed:
		step.Bought, step.Tire = true, s.name(-10-tire)
		if w := s.wheelOf(tire); step.Do != Demount && w >= 0 && w != -10-tire {
			step.Wheel = s.name(w)
		}
	default:
		step.Tire = s.name(tire)
		step.NoAir = step.Do == TakeOff && s.airOut(tire)
		if w := s.wheelOf(tire); step.Do != Demount && w >= 0 && w != tire {
			step.Wheel = s.name(w)
		}
	}
	if w := s.wheelOf(tire); step.Do != Demount && w < nothing {
		step.WheelFor = s.name(boughtFor(w))
	}
	s.steps = append(s.steps, step)
}

func (s *shop) done(p int) bool {
	w := s.want[p]
	tire, ok := s.tired[w.wheel]
	return s.on[p] == w.wheel && ok && tire == w.tire && !s.turns[w.tire]
}

func (s *shop) endDone(e int) bool {
	return !slices.ContainsFunc(s.ends[e], func(p int) bool { return !s.done(p) })
}

// wheelOf gives the wheel that a tire is on, or nothing: it was demounted, or
// is yet to be bought.
func (s *shop) wheelOf(tire int) int {
	for w, t := range s.tired {
		if t == tire {
			return w // no tire is on two
		}
	}
	return nothing
}

// within reports whether a wheel is at hand while an end is open: off the
// coach, on the spare's carrier, or at this end.
func (s *shop) within(wheel, end int) bool {
	return s.loose(wheel) || slices.Contains(s.ends[end], slices.Index(s.on, wheel))
}

// loose reports whether a wheel is off the coach or on the spare's carrier.
func (s *shop) loose(wheel int) bool {
	at := slices.Index(s.on, wheel)
	return wheel == nothing || at < 0 || s.as.Tires[at].Position == nil
}

// canMake reports whether what a place wants can be put together while an end
// is open.
func (s *shop) canMake(p, end int) bool {
	w := s.want[p]
	return s.within(w.wheel, end) && s.within(s.wheelOf(w.tire), end)
}

func (s *shop) ready(end int) bool {
	return !slices.ContainsFunc(s.ends[end], func(p int) bool { return !s.done(p) && !s.canMake(p, end) })
}

// next chooses the end to open: one that can be finished; else, where wheels
// change places in a ring, one that was not opened yet, rather a dual end,
// which may keep one of its wheels.
func (s *shop) next() int {
	ring := -1
	for e := range s.ends {
		switch {
		case s.endDone(e):
		case s.ready(e):
			return e
		case !s.stood[e] && (ring < 0 || len(s.ends[e]) > len(s.ends[ring])):
			ring = e
		}
	}
	return ring
}

// open works at one end and reports whether it is finished then.
func (s *shop) open(e int) bool {
	places := s.ends[e]
	end := s.endOf(places[0])
	ready := s.ready(e)
	if ready { // no end stays open for what can be done on the ground
		s.makeLoose(places)
	}
	s.steps = append(s.steps, Step{Do: LiftEnd, End: end, OnStand: s.stood[e]})
	inner := places[len(places)-1]
	guard := s.keeps > 0 && !ready && len(places) == 2 && !s.done(places[0]) && s.mayStand(s.on[inner])
	if guard {
		s.keeps--
	}
	for _, p := range places {
		if s.comesOff(p, inner) && !(p == inner && guard) {
			s.takeOff(p, end)
		}
	}
	// The inner wheel goes on first.
	for i := len(places) - 1; i >= 0; i-- {
		p := places[i]
		if s.on[p] != nothing || !s.canMake(p, e) || p != inner && !s.done(inner) {
			continue
		}
		s.mount(p, end)
	}
	finished := s.endDone(e)
	if !finished && s.on[inner] == nothing {
		s.stand(e, end)
	}
	s.steps = append(s.steps, Step{Do: LowerEnd, End: end, Waits: !finished})
	return finished
}

// comesOff reports whether the wheel on a place has to come off: an outer one also for the
// inner one behind it.
func (s *shop) comesOff(p, inner int) bool {
	return s.on[p] != nothing && !(s.done(p) && (p == inner || s.done(inner)))
}

// goesOut reports whether a tire has no place to go to.
func (s *shop) goesOut(tire int) bool {
	return tire >= 0 && !slices.ContainsFunc(s.want, func(m mounting) bool { return m.tire == tire })
}

// needed reports whether a wheel goes back on, be it with another tire.
func (s *shop) needed(wheel int) bool {
	return slices.ContainsFunc(s.want, func(m mounting) bool { return m.wheel == wheel })
}

func (s *shop) takeOff(p int, end string) {
	tire, w := borrowed, s.on[p]
	if w != borrowed {
		tire = s.tired[w]
	}
	s.say(Step{Do: TakeOff, End: end, Place: s.name(p), Out: s.goesOut(tire) && !s.needed(w)}, tire)
	s.on[p] = nothing
}

func (s *shop) mount(p int, end string) {
	s.make(p)
	s.say(Step{Do: PutOn, End: end, Place: s.name(p)}, s.want[p].tire)
	s.on[p] = s.want[p].wheel
}

// makeLoose makes what places want of wheels that are all off the coach already.
func (s *shop) makeLoose(places []int) {
	for _, p := range places {
		if w := s.want[p]; !s.done(p) && s.loose(w.wheel) && s.loose(s.wheelOf(w.tire)) {
			s.make(p)
		}
	}
}

// make brings together what a place wants: its wheel and its tire off the
// carrier, the tire onto the wheel.
func (s *shop) make(p int) {
	w := s.want[p]
	s.fetch(w.wheel)
	s.fetch(s.wheelOf(w.tire))
	if on, ok := s.tired[w.wheel]; ok && on == w.tire && !s.turns[w.tire] {
		return
	}
	step := Step{Do: Demount}
	if w.wheel >= 0 {
		step.OntoWheel = s.name(w.wheel)
	} else {
		step.WheelFor = s.name(boughtFor(w.wheel))
	}
	if at := s.as.Tires[p].Position; at != nil && w.tire >= 0 {
		if r, ok := s.as.Tires[w.tire].Rotates.Get(); ok && r != record.EitherSide {
			step.Arrow = at.Side
		}
	}
	s.say(step, w.tire)
	delete(s.tired, s.wheelOf(w.tire))
	s.tired[w.wheel] = w.tire
	delete(s.turns, w.tire)
}

// fetch takes a wheel off the spare's carrier, if it is there.
func (s *shop) fetch(wheel int) {
	if wheel < 0 {
		return
	}
	at := slices.Index(s.on, wheel)
	if at < 0 || s.as.Tires[at].Position != nil {
		return
	}
	s.on[at] = nothing
	if tire, ok := s.tired[wheel]; ok {
		out := s.goesOut(tire)
		s.say(Step{Do: FetchSpare, Place: s.name(at), Out: out && !s.needed(wheel), InspectFirst: tire >= 0 && !out && s.inDoubt(tire)}, tire)
	}
}

// inDoubt reports whether a tire, as it was found, is not one to put on the road
// unseen.
func (s *shop) inDoubt(tire int) bool {
	st := &s.as.Tires[tire]
	return st.Line.Air != report.AirFree || slices.ContainsFunc(s.as.Report.Todo, func(it report.Item) bool {
		return it.Where == st.Name && (it.Action != report.Plan || s.ofAge(it.Rules))
	})
}

// ofAge reports whether one of these rules is about a tire's age.
func (s *shop) ofAge(names []string) bool {
	return s.as.Program.Has(func(r *rules.Rule) bool {
		return r.Measure() == s.as.Refs.Age && slices.Contains(names, r.Name())
	})
}

// stand puts a wheel on an end that would have none until its own come: a
// loose one that no other end waits for, else a borrowed one. Nobody stands a
// coach on a tire that is not to be driven on.
func (s *shop) stand(e int, end string) {
	inner := s.ends[e][len(s.ends[e])-1]
	pick := borrowed
	for _, w := range s.tires {
		at := slices.Index(s.on, w)
		if at >= 0 && s.as.Tires[at].Position != nil || !s.mayStand(w) || !s.fits(w, inner) || s.awaited(w, e) || s.awaited(s.tired[w], e) {
			continue
		}
		pick = w
		break
	}
	defer func() { s.on[inner] = pick }()
	last := len(s.steps) - 1
	switch off := s.steps[last]; {
	case pick != borrowed && off.Do == TakeOff && off.Place == s.name(inner) && off.Tire == s.name(s.tired[pick]):
		s.steps = s.steps[:last] // it stays on
		return
	case pick != borrowed:
		s.fetch(pick)
		s.say(Step{Do: PutOn, End: end, Place: s.name(inner), StandOnly: true}, s.tired[pick])
	default:
		s.say(Step{Do: PutOn, End: end, Place: s.name(inner), StandOnly: true}, borrowed)
	}
}

// mayStand reports whether a wheel may be on an end that rests on its stand: nobody
// stands a coach on a tire that is not to be driven on.
func (s *shop) mayStand(wheel int) bool {
	tire, whole := s.tired[wheel]
	return wheel >= 0 && whole && !s.condemned(tire) && !s.goesOut(tire)
}

// awaited reports whether another end waits for a wheel or a tire.
func (s *shop) awaited(x, e int) bool {
	for i, places := range s.ends {
		if i == e {
			continue
		}
		for _, p := range places {
			if !s.done(p) && (s.want[p].wheel == x || s.want[p].tire == x) {
				return true
			}
		}
	}
	return false
}

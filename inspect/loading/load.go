package loading

import (
	"context"
	"errors"
	"maps"
	"slices"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// ErrNoTrip says that a visit names no station to load at.
var ErrNoTrip = errors.New("no place to load: the visit has no trip with stations")

// A TripReport is what can still be loaded, and what has to move. It is plain
// data and reads back from its JSON unchanged.
type TripReport struct {
	// Version is that of the format, [PlanVersion].
	Version int `json:"load"`
	report.Heading
	// Clears says that every limit that cannot wait for the next service was judged and
	// is surely kept after the changes and the moves, with nothing left at home, by a
	// coach that was weighed as it is driven or whose changes say what was missing. A
	// rating or a load that a limit waits for is in Unjudged: then Clears is false.
	Clears bool `json:"clears"`
	// Changes are those for the trip, in the order of the visit, then what coupling a
	// trailer adds that was weighed apart.
	Changes []ChangeLine `json:"changes,omitempty"`
	// Loads are the ends, axles, sides and wholes, and what else was weighed only together.
	Loads []TripLine `json:"loads"`
	// Least is the least that must rest on the steer axle, where stated.
	Least LeastLine `json:"least,omitzero"`
	// Stations are the places for cargo, in the order of the visit.
	Stations []StationLine `json:"stations"`
	// Moves are the least cargo to move so that every limit judged is surely kept.
	Moves cargo.Moves `json:"moves"`
	// Label is the cargo label beside what is loaded after the changes and the moves,
	// where the visit records one that can be compared.
	Label record.Recorded[LabelLine] `json:"label,omitzero"`
	// Problems are what stands against the plan beside the limits: readings that
	// cannot be, what is to be read again, an end that would be lifted, a pair that
	// shares badly. With any of them, Clears is false.
	Problems []report.Item `json:"problems,omitempty"`
	// Unjudged is what the rules on loads wait for.
	Unjudged []report.NotJudged `json:"unjudged,omitempty"`
	// Cautions are to be shown with the plan, each a sentence.
	Cautions []string `json:"cautions,omitempty"`
	// Packs are the packs whose rules were asked.
	Packs []string `json:"packs,omitempty"`
}

// A ChangeLine is a change for the trip.
type ChangeLine struct {
	// Name is what changes, in the visit's words.
	Name string `json:"name"`
	// At is the station, or where a trailer's weight goes when it is coupled.
	At string `json:"at"`
	// Mass is what is put on, rounded up; below zero what is taken off, rounded toward
	// less.
	Mass weight.Mass `json:"mass"`
}

// A TripLine is what one end, axle, side or whole carries.
type TripLine struct {
	// Name is what it is called in the visit, or in words.
	Name string `json:"name"`
	// On are the axle ends that it is the load of.
	On weight.Set `json:"on"`
	// Weighed is what it carried on the scale.
	Weighed weight.Estimate `json:"weighed"`
	// Expected is what it carries after the changes, with the scale's plus/minus.
	Expected weight.Estimate `json:"expected"`
	// AfterMoves is what it carries after the moves, with what must stay at home left
	// there; as Expected where nothing moves.
	AfterMoves weight.Estimate `json:"after_moves"`
	// Heaviest is the heaviest of the three, doubt included; pressures are set for it.
	Heaviest weight.Estimate `json:"heaviest"`
	// Margins are what rules hold it to after the changes.
	Margins []MarginLine `json:"margins,omitempty"`
	// MovedMargins are those after the moves, where something moves.
	MovedMargins []MarginLine `json:"moved_margins,omitempty"`
}

// A LeastLine is the least that must rest on the steer axle, after the changes and
// after the moves.
type LeastLine struct {
	// Least is what must rest there, as stated.
	Least weight.Mass `json:"least"`
	// Room is what it may surely still lose: below zero where the least is not surely
	// kept, 0 where the load is not known.
	Room weight.Mass `json:"room"`
	// Kept says that the least is surely kept.
	Kept bool `json:"kept"`
	// MovedRoom is Room after the moves.
	MovedRoom weight.Mass `json:"moved_room"`
	// MovedKept is Kept after the moves.
	MovedKept bool `json:"moved_kept"`
}

// A StationLine is one place and what may still be loaded there, alone, after
// the changes.
type StationLine struct {
	// Name is the station's, of the visit.
	Name string `json:"name"`
	// Behind is how far behind the steer axle it lies, below zero ahead of it.
	Behind weight.Length `json:"behind_steer"`
	// Offset is how far from the centerline.
	Offset record.Offset `json:"offset,omitzero"`
	// Towed says that it is in the towed unit.
	Towed bool `json:"towed,omitzero"`
	// Most is the most that the place may hold, not recorded where nobody stated it.
	Most record.Recorded[weight.Mass] `json:"most,omitzero"`
	// Held is what is known to be there: items and changes that put something on.
	Held weight.Mass `json:"held"`
	// Over says that this is more than the place may hold.
	Over bool `json:"over,omitzero"`
	// Room is what may be loaded there, rounded down, and what binds first; its NotJudged
	// names the ratings that nobody read, too.
	Room cargo.Room `json:"room"`
	// MovedRoom is what may be loaded there once the moves are made; it is
	// absent where nothing moves.
	MovedRoom record.Recorded[cargo.Room] `json:"moved_room,omitzero"`
}

// Plan says what a visit's coach is expected to carry after the changes
// for the trip, what may still be loaded at each station and which limit binds
// first, and which cargo to move so that every limit is surely kept. The limits are
// those of the setup's rules, as for [Weigh], but for what can wait until the next
// service. Loads are shared by moments; see
// [cargo.Trip] for what is assumed. It is a plan, so weigh again.
//
// A station's room counts that station alone: loading at one takes from the
// others. The errors are those of [Weigh], [ErrNoTrip], and that of the context
// once it is done.
func Plan(ctx context.Context, v *record.Visit, setup inspect.Setup) (TripReport, error) {
	if v != nil && len(v.Trip.Stations) == 0 && len(v.Weighing.Readings) > 0 {
		return TripReport{}, ErrNoTrip
	}
	w, err := weighVisit(v, setup)
	if err != nil {
		return TripReport{}, err
	}
	p := &planner{weighed: w, out: TripReport{Version: PlanVersion, Heading: w.heading(), Problems: w.problems, Packs: w.Program.Packs()}}
	if err := p.run(ctx); err != nil {
		if ctx.Err() != nil {
			return TripReport{}, ctx.Err()
		}
		return TripReport{}, problem("trip", err)
	}
	return p.out, nil
}

type planner struct {
	*weighed
	out      TripReport
	stations map[string]cargo.Station // with their own limits as they stand
	items    []cargo.Item
	changes  []cargo.Change
	leasts   []cargo.LeastLoad
	limits   []cargo.Limit
	unread   []cargo.Limit // whose rating nobody read
	trip     cargo.Trip
	moved    bool
}

// The stages of the plan; the first is the weighed state.
const (
	afterChanges = 1
	afterMoves   = 2
)

// binding are the limits that are known; one that can wait for the next service forbids
// no load.
func (p *planner) binding() (out []cargo.Limit) {
	for _, h := range p.held {
		if h.known && report.Action(h.rule.Action().Name) != report.Plan {
			out = append(out, h.limit())
		}
	}
	return out
}

func (p *planner) run(ctx context.Context) error {
	t := &p.Visit.Trip
	if least, ok := t.LeastOnSteer.Get(); ok && !p.Visit.Axles[0].Towed {
		p.leasts = []cargo.LeastLoad{{Name: "least on the steer axle", Load: least, On: weight.AxleOf(0)}}
	}
	fixed, held, err := p.collect()
	if err != nil {
		return err
	}
	if p.trip, err = cargo.PlanTrip(p.Solution, cargo.Stage{Name: "after the changes", Changes: p.changes}); err != nil {
		return err
	}
	p.limits = p.binding()
	if label, ok := p.labelLimit(); ok {
		p.limits = append(p.limits, label)
	}
	may := cargo.Task{Items: p.items, Limits: p.limits, LeastLoads: p.leasts}
	ok := true
	for _, s := range t.Stations {
		at := p.stations[s.Name]
		if most, has := s.Most.Get(); has {
			at.Most = spare(most, fixed[s.Name])
			ok = ok && fixed[s.Name] <= most
		}
		may.Stations = append(may.Stations, at)
	}
	if p.out.Moves, err = cargo.PlanMoves(ctx, p.trip, afterChanges, may); err != nil {
		return err
	}
	if err := p.move(); err != nil {
		return err
	}
	judged, err := p.loads()
	if err != nil {
		return err
	}
	ok = p.grounded() && ok
	share, err := p.pairsShare()
	if err != nil {
		return err
	}
	open, err := p.open()
	if err != nil {
		return err
	}
	labeled, err := p.byLabel()
	if err != nil {
		return err
	}
	switch p.out.Moves.Outcome {
	case cargo.NothingToMove, cargo.Best, cargo.BestFound:
		p.out.Clears = ok && labeled && share && judged && !open && len(p.problems) == 0 && p.AsDriven()
	}
	if err := p.rooms(held); err != nil {
		return err
	}
	p.finish()
	return nil
}

// cautionUsedUp is for a plan that fills a tank.
const cautionUsedUp = "What fills a tank is used up on the way, and the load shifts: plan once more with the tank empty, so that every limit is kept then, too, or weigh again."

// labelLimit is what the coach may weigh after the changes so that no more is loaded than
// its cargo label allows.
func (p *planner) labelLimit() (cargo.Limit, bool) {
	coach := p.trip.At(afterChanges, p.rig.Coach())
	label, _, err := p.cargoAfter(coach)
	if err != nil || label == nil || label.AtMost || p.cargoMost == 0 || !coach.Known() {
		return cargo.Limit{}, false
	}
	rating, err := weight.Sum(p.cargoMost, coach.Load, -label.Margin.Estimate.Load)
	return cargo.Limit{Name: label.Label.Kind.String() + " of its cargo label", Rating: rating, On: p.rig.Coach(), Source: label.Label.Source}, err == nil && rating > 0
}

// byLabel holds what is loaded after the moves to the cargo label, and reports whether no
// rule on it stands against the plan.
func (p *planner) byLabel() (bool, error) {
	label, said, err := p.cargoAfter(p.trip.At(afterMoves, p.rig.Coach()))
	if err != nil {
		return false, err
	}
	if p.labelAsWeighed() == nil {
		return said == 0 || said == rules.Kept, nil
	}
	p.out.Label = p.label(label, said)
	switch {
	case said == rules.NotRecorded && label != nil && label.AtMost:
		p.gap("cargo label", "the people, water and LP gas aboard when it was weighed", "")
	case said == rules.Breached, said == rules.TooClose:
		p.out.Problems = append(p.out.Problems, report.Item{Action: report.BeforeTrip, Verdict: said, Where: "coach",
			What: "More would be loaded than its cargo label surely allows", Found: label.Margin.Estimate.Load.String() + ", it allows " + label.Margin.Limit.Rating.String(),
			Advice: "Leave cargo at home.", Sources: []origin.Source{label.Label.Source}})
	}
	return said == 0 || said == rules.Kept, nil
}

// spare is what a place may hold besides; a step, not 0, where that is
// nothing, since 0 is no limit at all.
func spare(most, held weight.Mass) weight.Mass { return max(most-held, 1) }

// collect turns the trip into changes and items. Fixed is what the changes
// leave at each station that cannot move, held all that is known to be there;
// what is taken off counts in neither, for nobody said what was there before.
func (p *planner) collect() (fixed, held map[string]weight.Mass, err error) {
	t := &p.Visit.Trip
	p.stations = make(map[string]cargo.Station, len(t.Stations))
	for _, s := range t.Stations {
		p.stations[s.Name] = cargo.Station{Name: s.Name, Behind: s.Behind, Offset: weight.Length(s.Offset), Towed: s.Towed}
	}
	fixed, held = map[string]weight.Mass{}, map[string]weight.Mass{}
	put := func(to map[string]weight.Mass, at string, m weight.Mass) {
		if err == nil {
			to[at], err = weight.Sum(to[at], m)
		}
	}
	for _, it := range t.Items {
		p.items = append(p.items, cargo.Item{Name: it.Name, Mass: it.Mass, At: it.At, To: it.MayGoTo})
		put(held, it.At, it.Mass)
	}
	for _, c := range t.Changes {
		m, err := c.Mass(p.Visit.System)
		if err != nil {
			return nil, nil, err
		}
		p.out.Changes = append(p.out.Changes, ChangeLine{Name: c.Name, At: c.At, Mass: m})
		p.changes = append(p.changes, p.change(c.Name, m, c.At))
		put(held, c.At, max(m, 0))
		if len(c.MayGoTo) > 0 {
			p.items = append(p.items, cargo.Item{Name: c.Name, Mass: m, At: c.At, To: c.MayGoTo})
		} else {
			put(fixed, c.At, max(m, 0))
		}
	}
	for i, c := range p.Hitching() {
		p.out.Changes = append(p.out.Changes, ChangeLine{Name: c.Name, At: [...]string{"the hitch", "the towed axles"}[i], Mass: c.Mass})
		p.changes = append(p.changes, c)
		p.caution(p.TongueCaution())
	}
	return fixed, held, err
}

// change leaves the station's name out: what a place holds is counted here,
// not by the stage, which knows nothing of the items.
func (p *planner) change(name string, m weight.Mass, at string) cargo.Change {
	s := p.stations[at]
	s.Name = ""
	return cargo.Change{Name: name, Mass: m, At: s}
}

// move plans the stage after the moves.
func (p *planner) move() error {
	changes := append([]cargo.Change(nil), p.changes...)
	at := make(map[string]cargo.Item, len(p.items))
	for _, it := range p.items {
		at[it.Name] = it
	}
	for _, m := range p.out.Moves.Moves {
		changes = append(changes, p.change(m.Item, -m.Mass, m.From), p.change(m.Item, m.Mass, m.To))
	}
	for _, name := range p.out.Moves.StayHome {
		changes = append(changes, p.change(name, -at[name].Mass, at[name].At))
	}
	p.moved = len(changes) > len(p.changes)
	var err error
	p.trip, err = cargo.PlanTrip(p.Solution,
		cargo.Stage{Name: "after the changes", Changes: p.changes}, cargo.Stage{Name: "after the moves", Changes: changes})
	return err
}

// grounded finds ends that the plan would lift: nothing can be lighter than
// nothing, so a change or a distance must be wrong.
func (p *planner) grounded() bool {
	ok := true
	for i, ax := range p.Visit.Axles {
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			for stage := afterChanges; stage <= afterMoves; stage++ {
				e := p.trip.At(stage, weight.EndOf(i, side))
				if e.Load >= 0 {
					continue
				}
				ok = false
				p.out.Problems = append(p.out.Problems, report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: record.EndName(ax.ID, side),
					What: "This plan would lift an axle end", Found: record.EndName(ax.ID, side) + " at " + e.Load.String(),
					Advice: "Check the changes and where the stations are.", Sources: []origin.Source{{Grade: origin.Computed}}})
				break
			}
		}
	}
	return ok
}

// pairsShare finds single wheels of a pair that were weighed beyond what they
// carry. A plan counts pairs as one and cannot clear them.
func (p *planner) pairsShare() (bool, error) {
	ok := true
	for _, h := range p.wheels {
		m, applies, err := h.margin(p.onScale)
		if err != nil {
			return false, err
		}
		if !applies || m.Verdict == rules.Kept || m.Verdict == rules.NotRecorded {
			continue
		}
		ok = false
		p.out.Problems = append(p.out.Problems, report.Item{Action: m.Action, Stops: m.Stops, Verdict: m.Verdict, Where: h.whose,
			What: "One wheel of a pair is not surely within its limit as weighed", Found: h.whose + " at " + p.onScale(h.on).Load.String() + ", " + m.What + " " + m.Rating.String(),
			Advice: "Have the pair's pressures and diameters put right by trained people, and weigh again.", Rules: []string{m.Rule}, Sources: m.Sources})
	}
	return ok, nil
}

// open reports whether a limit that cannot wait could not be judged after the moves,
// and notes those whose rating nobody read.
func (p *planner) open() (bool, error) {
	open := false
	for _, h := range p.held {
		if report.Action(h.rule.Action().Name) == report.Plan {
			continue
		}
		found, err := h.findings(remembered(func(set weight.Set) weight.Estimate { return p.trip.At(afterMoves, set) }))
		if err != nil {
			return false, err
		}
		i := slices.IndexFunc(found, func(f rules.Finding) bool { return f.Verdict == rules.NotRecorded })
		if i < 0 {
			continue
		}
		open = true
		if !h.known || h.atMost {
			p.unread = append(p.unread, p.unreadLimit(h, &found[i]))
		}
	}
	return open, nil
}

// unreadLimit calls a limit by what has to be read for it, where its rating has no name
// until then.
func (p *planner) unreadLimit(h *held, f *rules.Finding) cargo.Limit {
	l := h.limit()
	if h.what != h.rule.Title() {
		return l
	}
	for _, measure := range f.ToRecord() {
		if where, need, _ := p.LimitNeed(f, measure); need != needLoad {
			l.Name = where + ": " + need
		}
	}
	return l
}

// loads lists what everything carries at the stages, and reports whether anything
// was judged.
func (p *planner) loads() (judged bool, err error) {
	at := func(stage int) judge.Of {
		return remembered(func(set weight.Set) weight.Estimate { return p.trip.At(stage, set) })
	}
	expected, moved := at(afterChanges), at(afterMoves)
	for _, set := range p.sums() {
		l := TripLine{Name: p.names[set], On: set, Weighed: p.trip.At(0, set), Expected: p.trip.At(afterChanges, set), AfterMoves: p.trip.At(afterMoves, set)}
		l.Heaviest, _ = p.trip.Heaviest(set)
		if l.Margins, err = margins(p.held, set, expected); err != nil {
			return false, err
		}
		for _, m := range l.Margins {
			judged = judged || m.Verdict != rules.NotRecorded
		}
		if p.moved {
			if l.MovedMargins, err = margins(p.held, set, moved); err != nil {
				return false, err
			}
		}
		if !l.Weighed.Known() {
			p.gap(l.Name, needLoad, "")
		}
		p.out.Loads = append(p.out.Loads, l)
	}
	for _, l := range p.leasts {
		room := func(stage int) (weight.Mass, bool) {
			e := p.trip.At(stage, l.On)
			if !e.Known() {
				return 0, false
			}
			return e.AtLeast() - l.Load, e.AtLeast() >= l.Load && e.State != weight.Disputed
		}
		p.out.Least.Least = l.Load
		p.out.Least.Room, p.out.Least.Kept = room(afterChanges)
		p.out.Least.MovedRoom, p.out.Least.MovedKept = room(afterMoves)
	}
	return judged || len(p.leasts) > 0, nil
}

// heldAfter is what each station holds once what moves has moved, and what stays home is
// taken out.
func (p *planner) heldAfter(held map[string]weight.Mass) map[string]weight.Mass {
	after := maps.Clone(held)
	for _, it := range p.items {
		if slices.Contains(p.out.Moves.StayHome, it.Name) {
			after[it.At] -= it.Mass
		}
	}
	for _, m := range p.out.Moves.Moves {
		after[m.From] -= m.Mass
		after[m.To] += m.Mass
	}
	return after
}

func (p *planner) rooms(held map[string]weight.Mass) error {
	after := p.heldAfter(held)
	for _, s := range p.Visit.Trip.Stations {
		line := StationLine{Name: s.Name, Behind: s.Behind, Offset: s.Offset, Towed: s.Towed, Most: s.Most, Held: held[s.Name]}
		most, limited := s.Most.Get()
		line.Over = limited && line.Held > most
		room := func(stage int, held weight.Mass) (cargo.Room, error) {
			at := p.stations[s.Name]
			unread, err := p.pressed(stage, at)
			if err != nil {
				return cargo.Room{}, err
			}
			if limited {
				at.Most = spare(most, held)
			}
			r, err := p.trip.RoomAt(stage, at, p.limits, p.leasts)
			r.NotJudged = append(r.NotJudged, unread...)
			return r, err
		}
		var err error
		if line.Room, err = room(afterChanges, held[s.Name]); err != nil {
			return err
		}
		if p.moved {
			r, err := room(afterMoves, after[s.Name])
			if err != nil {
				return err
			}
			line.MovedRoom = record.Record(r)
		}
		p.out.Stations = append(p.out.Stations, line)
	}
	return nil
}

// pressed names the ratings that nobody read and that loading at a place presses on.
func (p *planner) pressed(stage int, at cargo.Station) (names []string, err error) {
	for _, l := range p.unread {
		l.Rating = 0 // whatever it is: it binds where the load counts at all
		r, err := p.trip.RoomAt(stage, at, []cargo.Limit{l}, nil)
		if err != nil {
			return nil, err
		}
		if (r.Known || len(r.NotJudged) > 0) && !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	return names, nil
}

func (p *planner) finish() {
	for _, c := range p.trip.Cautions() {
		p.caution(c.String())
	}
	p.caution("What may be loaded at a station counts that station alone: loading at one takes from the others.")
	p.caution("Pressures are set for the heaviest state that will be driven.")
	if slices.ContainsFunc(p.Visit.Trip.Changes, func(c record.TripChange) bool { much, _ := c.Fill.Get(); return much > 0 }) {
		p.caution(cautionUsedUp)
	}
	if c, ok := p.Visit.Trip.Coupling.Get(); ok && c != weight.TowBar {
		what := "tongue"
		if c == weight.FifthWheel {
			what = "pin"
		}
		p.caution("How much of the trailer rests on its " + what + " is not judged here: weigh it, and have the visit assessed with the pack towing.")
	}
	if len(p.wheels) > 0 {
		p.caution("Single wheels of a pair were weighed; the plan holds the pair against twice its weaker tire, as if both shared alike.")
	}
	p.caution(lastWord)
	p.out.Unjudged, p.out.Cautions = p.gaps, p.cautions
}

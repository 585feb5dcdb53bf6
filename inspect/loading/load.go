package loading

import (
	"context"
	"errors"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
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
	// Clears says that every limit judged is surely kept after the changes
	// and the moves, with nothing left at home. What was not judged is in
	// Unjudged, and Clears does not answer for it.
	Clears  bool         `json:"clears"`
	Changes []ChangeLine `json:"changes,omitempty"`
	Loads   []TripLine   `json:"loads"`
	// Least is the least that must rest on the steer axle, where stated.
	Least    LeastLine     `json:"least,omitzero"`
	Stations []StationLine `json:"stations"`
	Moves    cargo.Moves   `json:"moves"`
	// Label is the cargo label beside the weighing, where the visit records one that
	// can be judged.
	Label    record.Recorded[LabelLine] `json:"label,omitzero"`
	Problems []report.Item              `json:"problems,omitempty"`
	Unjudged []report.NotJudged         `json:"unjudged,omitempty"`
	Cautions []string                   `json:"cautions,omitempty"`
}

// A ChangeLine is a change for the trip with its mass, below zero for what is
// taken off.
type ChangeLine struct {
	Name string      `json:"name"`
	At   string      `json:"at"`
	Mass weight.Mass `json:"mass"`
}

// A TripLine is what one end, axle, side or whole carried when weighed and is
// expected to carry after the changes, and after the moves (with what must
// stay left at home). Margins are those after the changes. Heaviest is the
// heaviest of the three, doubt included; pressures are set for it.
type TripLine struct {
	Name       string          `json:"name"`
	On         weight.Set      `json:"on"`
	Weighed    weight.Estimate `json:"weighed"`
	Expected   weight.Estimate `json:"expected"`
	AfterMoves weight.Estimate `json:"after_moves"`
	Heaviest   weight.Estimate `json:"heaviest"`
	Margins    []MarginLine    `json:"margins,omitempty"`
	// MovedMargins are those after the moves, where something moves.
	MovedMargins []MarginLine `json:"moved_margins,omitempty"`
}

// A LeastLine is the least that must rest on the steer axle. Room is what it
// may surely still lose, below zero where the least is not surely kept; the
// two Moved fields say the same after the moves.
type LeastLine struct {
	Least     weight.Mass `json:"least"`
	Room      weight.Mass `json:"room"`
	Kept      bool        `json:"kept"`
	MovedRoom weight.Mass `json:"moved_room"`
	MovedKept bool        `json:"moved_kept"`
}

// A StationLine is one place and what may still be loaded there, alone, after
// the changes. Held is what is known to be there; Over says that it is more
// than the place may hold.
type StationLine struct {
	Name   string                       `json:"name"`
	Behind weight.Length                `json:"behind_steer"`
	Offset record.Offset                `json:"offset,omitzero"`
	Towed  bool                         `json:"towed,omitzero"`
	Most   record.Recorded[weight.Mass] `json:"most,omitzero"`
	Held   weight.Mass                  `json:"held"`
	Over   bool                         `json:"over,omitzero"`
	Room   cargo.Room                   `json:"room"`
	// MovedRoom is what may be loaded there once the moves are made; it is
	// absent where nothing moves.
	MovedRoom record.Recorded[cargo.Room] `json:"moved_room,omitzero"`
}

// Plan says what a visit's coach is expected to carry after the changes
// for the trip, what may still be loaded at each station and which limit binds
// first, and which cargo to move so that every limit is surely kept. Loads are
// shared by moments; see [cargo.Trip] for what is assumed. It is a plan, so
// weigh again.
//
// A station's room counts that station alone: loading at one takes from the
// others. The errors are those of [Weigh], [ErrNoTrip], and that of the context
// once it is done.
func Plan(ctx context.Context, v *record.Visit) (TripReport, error) {
	w, err := weighVisit(v)
	if err != nil {
		return TripReport{}, err
	}
	if len(v.Trip.Stations) == 0 {
		return TripReport{}, ErrNoTrip
	}
	p := &planner{weighed: w, out: TripReport{Version: PlanVersion, Heading: w.heading(), Problems: w.problems, Unjudged: w.gaps}}
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
	trip     cargo.Trip
	moved    bool
}

// The stages of the plan; the first is the weighed state.
const (
	afterChanges = 1
	afterMoves   = 2
)

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
	if err := p.move(held); err != nil {
		return err
	}
	p.loads()
	ok = p.grounded() && ok
	ok = p.pairsShare() && ok
	switch p.out.Moves.Outcome {
	case cargo.NothingToMove, cargo.Best, cargo.BestFound:
		p.out.Clears = ok && !p.disputed()
	}
	if err := p.rooms(held); err != nil {
		return err
	}
	p.finish()
	return nil
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
func (p *planner) move(held map[string]weight.Mass) error {
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
func (p *planner) pairsShare() bool {
	ok := true
	for _, l := range p.wheels {
		m := cargo.MarginOf(l, p.Solution.Of(l.On))
		if m.Verdict == cargo.Kept {
			continue
		}
		verdict := rules.TooClose
		if m.Verdict == cargo.Over {
			verdict = rules.Breached
		}
		ok = false
		p.out.Problems = append(p.out.Problems, report.Item{Action: report.DoNotDrive, Stops: m.Verdict == cargo.Over, Verdict: verdict, Where: l.Name,
			What: "One wheel of a pair is not surely within its limit as weighed", Found: l.Name + " at " + m.Estimate.Load.String() + ", " + l.Kind.String() + " " + l.Rating.String(),
			Advice: "Have the pair's pressures and diameters put right by trained people, and weigh again.", Sources: []origin.Source{l.Source}})
	}
	return ok
}

func (p *planner) disputed() bool {
	for _, l := range p.limits {
		if p.trip.At(afterMoves, l.On).State == weight.Disputed {
			return true
		}
	}
	return false
}

func (p *planner) loads() {
	for _, set := range p.rig.Sums() {
		l := TripLine{Name: p.names[set], On: set, Weighed: p.trip.At(0, set), Expected: p.trip.At(afterChanges, set), AfterMoves: p.trip.At(afterMoves, set)}
		l.Heaviest, _ = p.trip.Heaviest(set)
		l.Margins = marginsOn(set, l.Expected, p.limits)
		if p.moved {
			l.MovedMargins = marginsOn(set, l.AfterMoves, p.limits)
		}
		if !l.Weighed.Known() {
			p.out.Unjudged = append(p.out.Unjudged, report.NotJudged{Where: l.Name, Need: "its load: weigh it"})
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
}

func (p *planner) rooms(held map[string]weight.Mass) error {
	after := make(map[string]weight.Mass, len(held))
	for name, m := range held {
		after[name] = m
	}
	stay := make(map[string]bool)
	for _, name := range p.out.Moves.StayHome {
		stay[name] = true
	}
	for _, it := range p.items {
		if stay[it.Name] {
			after[it.At] -= it.Mass
		}
	}
	for _, m := range p.out.Moves.Moves {
		after[m.From] -= m.Mass
		after[m.To] += m.Mass
	}
	for _, s := range p.Visit.Trip.Stations {
		line := StationLine{Name: s.Name, Behind: s.Behind, Offset: s.Offset, Towed: s.Towed, Most: s.Most, Held: held[s.Name]}
		most, limited := s.Most.Get()
		line.Over = limited && line.Held > most
		room := func(stage int, held weight.Mass) (cargo.Room, error) {
			at := p.stations[s.Name]
			if limited {
				at.Most = spare(most, held)
			}
			return p.trip.RoomAt(stage, at, p.limits, p.leasts)
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

func (p *planner) finish() {
	for _, c := range p.trip.Cautions() {
		p.Caution(c.String())
	}
	p.Caution("What may be loaded at a station counts that station alone: loading at one takes from the others.")
	p.Caution("Pressures are set for the heaviest state that will be driven.")
	if c, ok := p.Visit.Trip.Coupling.Get(); ok && c != weight.TowBar {
		band, what := cargo.TongueBand(), "tongue"
		if c == weight.FifthWheel {
			band, what = cargo.PinBand(), "pin"
		}
		p.Caution("The " + what + " weight is not judged here: weigh it, and keep it at " + band.Low.String() + " to " + band.High.String() + " of the loaded trailer (common practice).")
	}
	if len(p.wheels) > 0 {
		p.Caution("Single wheels of a pair were weighed; the plan holds the pair against twice its weaker tire, as if both shared alike.")
	}
	p.out.Label = p.label(&p.out.Unjudged)
	p.Caution(lastWord)
	p.out.Cautions = p.Cautions
}

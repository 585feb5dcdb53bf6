package loading

import (
	"errors"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/document"
	"axleend.example/internal/judge"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// ErrNotWeighed says that a visit has no scale reading to work from.
var ErrNotWeighed = errors.New("nothing was weighed: the visit records no scale reading")

// WeighingVersion and PlanVersion are the versions of the two formats that this
// package writes and reads, a weighing and a plan for a trip.
const (
	WeighingVersion = 1
	PlanVersion     = 1
)

// MaxSize is how many bytes of a weighing or a plan are read.
const MaxSize = 2 << 20

// ReadWeighing reads a weighing from its JSON, as strictly as [report.Read] reads
// a report; name is the file's name for messages. The error is an
// [*origin.Problems].
func ReadWeighing(name string, data []byte) (WeighReport, error) {
	return document.Read[WeighReport](name, data, document.Format{Key: "weighing", Version: WeighingVersion, Most: MaxSize})
}

// ReadPlan is [ReadWeighing] for a plan.
func ReadPlan(name string, data []byte) (TripReport, error) {
	return document.Read[TripReport](name, data, document.Format{Key: "load", Version: PlanVersion, Most: MaxSize})
}

// A WeighReport is what the scale says: every axle end, axle, side and whole,
// with its margins. It is plain data and reads back from its JSON unchanged.
type WeighReport struct {
	// Version is that of the format, [WeighingVersion].
	Version int `json:"weighing"`
	report.Heading
	// Stops says that a GAWR, GVWR, GCWR, tire or wheel is surely over its
	// limit. Half a GAWR at one end does not stop (common practice).
	Stops    bool                 `json:"stops"`
	Readings []report.ReadingLine `json:"readings,omitempty"`
	// Problems are readings that cannot be, or contradict each other.
	Problems []report.Item `json:"problems,omitempty"`
	Loads    []WeighLine   `json:"loads"`
	// Label is the cargo label beside the weighing, where the visit records one that
	// can be judged.
	Label    record.Recorded[LabelLine] `json:"label,omitzero"`
	Unjudged []report.NotJudged         `json:"unjudged,omitempty"`
	Cautions []string                   `json:"cautions,omitempty"`
}

// A WeighLine is what one end, axle, side or whole carries.
type WeighLine struct {
	Name     string          `json:"name"`
	On       weight.Set      `json:"on"`
	Estimate weight.Estimate `json:"estimate"`
	Margins  []MarginLine    `json:"margins,omitempty"`
	// Settle says, for a load that is open, which further weighings of this
	// scale would settle it.
	Settle []string `json:"settle,omitempty"`
}

// A MarginLine is one limit and what may surely be added before it: rating
// less load less its doubt, below zero where the limit is not surely kept.
type MarginLine struct {
	Kind    cargo.LimitKind `json:"kind"`
	Name    string          `json:"name,omitzero"`
	Rating  weight.Mass     `json:"rating"`
	Room    weight.Mass     `json:"room"`
	Verdict cargo.Verdict   `json:"verdict"`
	Source  origin.Source   `json:"source"`
}

// A LabelLine is the cargo label beside what the scale says was loaded, in
// the label's own units and water factor.
type LabelLine struct {
	Label    cargo.Label  `json:"label"`
	Aboard   cargo.Aboard `json:"aboard"`
	Capacity weight.Mass  `json:"capacity"`
	// FromParts is a CCC computed from its parts, beside the one printed.
	FromParts record.Recorded[weight.Mass] `json:"from_parts,omitzero"`
	Loaded    weight.Estimate              `json:"loaded"`
	Room      weight.Mass                  `json:"room"`
	Verdict   cargo.Verdict                `json:"verdict"`
}

// Weigh says what the scale says of a visit, and nothing else: loads with
// their plus/minus, margins to the ratings and to what is stamped on tires and
// wheels, and what would settle a load that is open. Readings that cannot be
// right are in the report. The error is an [*origin.Problems] for a visit that
// is not consistent, or matches [ErrNotWeighed].
func Weigh(v *record.Visit) (WeighReport, error) {
	w, err := weighVisit(v)
	if err != nil {
		return WeighReport{}, err
	}
	return w.report(), nil
}

// A weighed visit is solved, with the limits it is held against.
type weighed struct {
	*judge.Assessment
	rig      weight.Rig
	names    map[weight.Set]string
	limits   []cargo.Limit
	wheels   []cargo.Limit // of the single wheels that were weighed
	gaps     []report.NotJudged
	problems []report.Item
}

func weighVisit(v *record.Visit) (*weighed, error) {
	layout, err := v.Layout()
	if err != nil {
		return nil, err
	}
	w := &weighed{Assessment: &judge.Assessment{Visit: v, Layout: layout}}
	if len(v.Weighing.Readings) == 0 {
		return nil, ErrNotWeighed
	}
	if err := w.Weigh(); err != nil {
		return nil, err
	}
	w.problems = w.Assessment.Early
	w.LoadLines()
	if err := w.CollectTires(); err != nil {
		return nil, err
	}
	w.rig = w.Solution.Rig()
	w.name()
	return w, w.limit()
}

func (w *weighed) heading() report.Heading {
	v := w.Visit
	return report.Heading{Invented: v.Invented, Date: v.Date, System: v.System, Coach: v.Coach, LoadState: v.LoadState}
}

// name gives every sum its name, the smaller part's where two are the same.
func (w *weighed) name() {
	coach, towed := w.rig.Coach(), w.rig.Towed()
	w.names = map[weight.Set]string{w.rig.All(): "combination"}
	for _, side := range []weight.Side{weight.Left, weight.Right} {
		w.names[towed&weight.SideOf(side)] = "towed unit, " + side.String() + " side"
		w.names[coach&weight.SideOf(side)] = side.String() + " side"
	}
	w.names[towed], w.names[coach] = "towed unit", "coach"
	for i, ax := range w.Visit.Axles {
		w.names[weight.AxleOf(i)] = ax.ID
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			w.names[weight.EndOf(i, side)] = record.EndName(ax.ID, side)
		}
	}
	for _, l := range w.Layout.Wheels {
		w.names[l.Set] = l.Name
	}
}

// limit collects the limits that are recorded, and what is missing of them.
func (w *weighed) limit() error {
	v := w.Visit
	gap := func(where, need string) { w.gaps = append(w.gaps, report.NotJudged{Where: where, Need: need}) }
	rating := func(what string) origin.Source {
		return origin.Source{Grade: origin.Published, Title: "49 CFR 571.3", Locator: what + ", as the coach's label states it"}
	}
	for i, ax := range v.Axles {
		if gawr, ok := ax.GAWR.Get(); ok {
			w.limits = append(w.limits, cargo.AxleLimits(i, ax.ID, gawr, rating("GAWR"))...)
		} else {
			gap(ax.ID, "its GAWR, from the ratings label")
		}
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			if err := w.limitEnd(i, side, gap); err != nil {
				return err
			}
		}
	}
	if gvwr, ok := v.Ratings.GVWR.Get(); ok {
		w.limits = append(w.limits, cargo.Limit{Kind: cargo.GVWR, Rating: gvwr, On: w.rig.Coach(), Source: rating("GVWR")})
	} else {
		gap("coach", "its GVWR, from the ratings label")
	}
	if gcwr, ok := v.Ratings.GCWR.Get(); ok {
		w.limits = append(w.limits, cargo.Limit{Kind: cargo.GCWR, Rating: gcwr, On: w.rig.All(), Source: rating("GCWR")})
	} else if w.rig.Towed() != 0 {
		gap("combination", "its GCWR, from the ratings label")
	}
	return nil
}

// limitEnd finds what the tires and the wheels of an end carry: the weaker
// one of a pair, twice, since a pair shares alike.
func (w *weighed) limitEnd(axle int, side weight.Side, gap func(where, need string)) error {
	id := w.Visit.Axles[axle].ID
	var tires, wheels weight.Mass
	n, allTires, allWheels := int64(0), true, true
	sidewall := origin.Source{Grade: origin.Published, Title: "49 CFR 571.119", Locator: "S6.5(d), the sidewall's maximum load"}
	stamp := origin.Source{Grade: origin.CommonPractice, Locator: "the wheel's own stamped maximum load"}
	for i := range w.Tires {
		st := &w.Tires[i]
		if st.AxleIndex != axle || st.Position == nil || st.Position.Side != side {
			continue
		}
		if !w.Counts(st) {
			return nil // nobody wrote anything down for this towed unit's tires
		}
		capacity, okTire := w.Stamped(st).Get()
		stamped, okWheel := st.Wheel.Get()
		if w.Solution.Of(st.Position.Set).Known() && st.Position.Place != record.Alone {
			if okTire {
				w.wheels = append(w.wheels, cargo.Limit{Kind: cargo.TireCapacity, Name: st.Name, Rating: capacity, On: st.Position.Set, Source: sidewall})
			}
			if okWheel {
				w.wheels = append(w.wheels, cargo.Limit{Kind: cargo.WheelRating, Name: st.Name, Rating: stamped.Load, On: st.Position.Set, Source: stamp})
			}
		}
		if n == 0 || capacity < tires {
			tires = capacity
		}
		if n == 0 || stamped.Load < wheels {
			wheels = stamped.Load
		}
		n, allTires, allWheels = n+1, allTires && okTire, allWheels && okWheel
	}
	add := func(all bool, kind cargo.LimitKind, each weight.Mass, source origin.Source, need string) error {
		if !all {
			gap(record.EndName(id, side), need)
			return nil
		}
		sum, err := each.MulDiv(n, 1, weight.Floor)
		if err != nil {
			return problem("tires", err)
		}
		w.limits = append(w.limits, cargo.Limit{Kind: kind, Name: id + ", " + side.String() + " end", Rating: sum, On: weight.EndOf(axle, side), Source: source})
		return nil
	}
	return errors.Join(
		add(allTires, cargo.TireCapacity, tires, sidewall, "the maximum load on the sidewalls of all its tires"),
		add(allWheels, cargo.WheelRating, wheels, stamp, "the maximum load stamped on all its wheels"))
}

func problem(path string, err error) error {
	var ps origin.Problems
	ps.Add(origin.Problem{Path: path, Code: strictyaml.CodeValue, Err: err})
	return ps.Err()
}

// stops tells the limits that are never to be exceeded from shop practice.
func stops(m MarginLine) bool {
	switch m.Kind {
	case cargo.GAWR, cargo.GVWR, cargo.GCWR, cargo.TireCapacity, cargo.WheelRating:
		return m.Verdict == cargo.Over
	}
	return false
}

func marginsOn(set weight.Set, e weight.Estimate, limits []cargo.Limit) []MarginLine {
	var out []MarginLine
	for _, l := range limits {
		if l.On != set {
			continue
		}
		m := cargo.MarginOf(l, e)
		out = append(out, MarginLine{Kind: l.Kind, Name: l.Name, Rating: l.Rating, Room: m.Room, Verdict: m.Verdict, Source: l.Source})
	}
	return out
}

func (w *weighed) report() WeighReport {
	r := WeighReport{Version: WeighingVersion, Heading: w.heading(), Readings: w.Assessment.Report.Readings, Problems: w.problems, Unjudged: w.gaps}
	line := func(set weight.Set, limits []cargo.Limit) {
		l := WeighLine{Name: w.names[set], On: set, Estimate: w.Solution.Of(set)}
		l.Margins = marginsOn(set, l.Estimate, limits)
		for _, m := range l.Margins {
			r.Stops = r.Stops || stops(m)
		}
		if !l.Estimate.Known() {
			for _, p := range w.Solution.Settle(set).Weighings {
				l.Settle = append(l.Settle, p.Instruction)
			}
			r.Unjudged = append(r.Unjudged, report.NotJudged{Where: l.Name, Need: "its load: weigh it"})
		}
		r.Loads = append(r.Loads, l)
	}
	for _, set := range w.rig.Sums() {
		line(set, w.limits)
	}
	for _, l := range w.Layout.Wheels {
		if l.Place != record.Alone && w.Solution.Of(l.Set).Known() {
			line(l.Set, w.wheels)
		}
	}
	for _, c := range w.Solution.Cautions() {
		w.Caution(c.String())
	}
	r.Label = w.label(&r.Unjudged)
	w.Caution(lastWord)
	r.Cautions = w.Cautions
	return r
}

const lastWord = "Ratings on the coach, its tires and its wheels are limits, not aims. Local codes and trained, licensed people decide."

// label sets the cargo label beside the weighing.
func (w *weighed) label(gaps *[]report.NotJudged) (none record.Recorded[LabelLine]) {
	l, err := w.CargoLabel()
	if err != nil {
		*gaps = append(*gaps, report.NotJudged{Where: "cargo label", Need: judge.OneLine(err)})
	}
	if l == nil {
		return none
	}
	m := l.Margin
	out := LabelLine{Label: l.Label, Aboard: l.Aboard, Capacity: m.Limit.Rating, Loaded: m.Estimate, Room: m.Room, Verdict: m.Verdict}
	if parts, err := l.Label.CapacityFromParts(); err == nil {
		out.FromParts = record.Record(parts)
	}
	if l.Label.Kind == cargo.OCCC {
		w.Caution("On this cargo label water and the tongue weight of a trailer count as cargo: what is still to be filled or hitched takes from the room (49 CFR 571.120 S10.4.4(e)).")
	}
	return record.Record(out)
}

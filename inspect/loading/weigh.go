package loading

import (
	"errors"
	"fmt"
	"slices"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/document"
	"axleend.example/internal/judge"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
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
// with what the rules hold it to. It is plain data and reads back from its JSON
// unchanged.
type WeighReport struct {
	// Version is that of the format, [WeighingVersion].
	Version int `json:"weighing"`
	report.Heading
	// Stops says that something is surely over a limit whose rule stops the coach.
	Stops bool `json:"stops"`
	// Readings are those of the scale as used, in the order of the visit.
	Readings []report.ReadingLine `json:"readings,omitempty"`
	// Problems are readings that cannot be, or contradict each other, and what is to be
	// read again before the limits can be trusted.
	Problems []report.Item `json:"problems,omitempty"`
	// Loads are the ends, axles, sides and wholes, what else was weighed only together
	// (drive + tag), then single wheels of pairs that were weighed by themselves.
	Loads []WeighLine `json:"loads"`
	// Label is the cargo label beside the weighing, where the visit records one that
	// can be compared.
	Label record.Recorded[LabelLine] `json:"label,omitzero"`
	// Unjudged is what the rules on loads wait for.
	Unjudged []report.NotJudged `json:"unjudged,omitempty"`
	// Cautions are to be shown with the answer, each a sentence.
	Cautions []string `json:"cautions,omitempty"`
	// Packs are the packs whose rules were asked.
	Packs []string `json:"packs,omitempty"`
}

// A WeighLine is what one end, axle, side or whole carries.
type WeighLine struct {
	// Name is what it is called in the visit, such as steer-left, or in words: coach,
	// left side, drive + tag.
	Name string `json:"name"`
	// On are the axle ends or wheels that it is the load of.
	On weight.Set `json:"on"`
	// Estimate is the load with its worst-case plus/minus; its State says where it
	// could not be found.
	Estimate weight.Estimate `json:"estimate"`
	// Margins are what rules hold it to, in the order of the packs; none where no
	// rule with a known rating is about it.
	Margins []MarginLine `json:"margins,omitempty"`
	// Settle says, for a load that is open, which further weighings of this
	// scale would settle it.
	Settle []string `json:"settle,omitempty"`
}

// A MarginLine is one rule on the most that something may carry.
type MarginLine struct {
	// Rule is the rule with its pack, such as label/gawr.
	Rule string `json:"rule"`
	// What is the rating that it holds to, such as "half GAWR".
	What string `json:"what"`
	// Name is What and the part that it is about, such as "half GAWR, drive,
	// left end".
	Name string `json:"name"`
	// Rating is the most that may rest there, rounded down; for the tires or wheels
	// of an end, the weakest one's rating times their number, of those that are known.
	Rating weight.Mass `json:"rating"`
	// Room is what may surely be added: rating less load less doubt. It is below zero
	// where the rating is not surely kept, and 0 where the load is not known. For a
	// coach that was weighed light it is the room that there was then, and where the
	// rating of one tire or wheel is not known, what the other leaves.
	Room weight.Mass `json:"room"`
	// Verdict is what the rule says; where it is about tires, of the worst one.
	Verdict rules.Verdict `json:"verdict"`
	// Action is what the rule asks for where it is not kept.
	Action report.Action `json:"action"`
	// Stops says that the rule is surely broken and stops the coach.
	Stops bool `json:"stops,omitzero"`
	// Sources are the rule's.
	Sources []origin.Source `json:"sources"`
}

// A LabelLine is the cargo label beside what the scale says was loaded, in
// the label's own units and water factor.
type LabelLine struct {
	// Label is what was read off it.
	Label cargo.Label `json:"label"`
	// Aboard is what was aboard of the items that the label counts by themselves.
	Aboard cargo.Aboard `json:"aboard"`
	// Capacity is what it lets be loaded, rounded down.
	Capacity weight.Mass `json:"capacity"`
	// FromParts is a CCC computed from its parts, rounded down, beside the one
	// printed; absent for other labels, and where a part was not read.
	FromParts record.Recorded[weight.Mass] `json:"from_parts,omitzero"`
	// Loaded is what was loaded when it was weighed, in a plan after its changes and
	// moves, by the label's way of counting.
	Loaded weight.Estimate `json:"loaded"`
	// Room is capacity less what was loaded less doubt: below zero where it is not
	// surely kept, 0 where the load is not known.
	Room weight.Mass `json:"room"`
	// Verdict is the worst that the rules say of it; not recorded where none does.
	Verdict rules.Verdict `json:"verdict"`
}

// Weigh says what the scale says of a visit, and nothing else: loads with
// their plus/minus, what the rules of the setup let them be, and what would settle
// a load that is open. A rule whose remedy is air is about a pressure and left to
// [inspect.Assess]. Readings that cannot be right are in the report. The error is
// an [*origin.Problems] for a visit that is not consistent, matches
// [ErrNotWeighed], [record.ErrNothing] for no visit, or is that of a program that
// does not fit.
func Weigh(v *record.Visit, setup inspect.Setup) (WeighReport, error) {
	w, err := weighVisit(v, setup)
	if err != nil {
		return WeighReport{}, err
	}
	return w.report()
}

// A weighed visit is judged, with the rules that its loads are held to.
type weighed struct {
	*judge.Assessment
	rig      weight.Rig
	onScale  judge.Of // what each set carried on the scale
	names    map[weight.Set]string
	groups   []judge.Group // what was weighed only together
	held     []*held
	wheels   []*held // single wheels of pairs that were weighed
	gaps     []report.NotJudged
	problems []report.Item
	cautions []string
	coach    *rules.Facts
	// cargo is what the rules say of the cargo label, 0 where none is about it, and
	// cargoMost the least that any lets be loaded.
	cargo     rules.Verdict
	cargoMost weight.Mass
}

func weighVisit(v *record.Visit, setup inspect.Setup) (*weighed, error) {
	if _, err := v.Layout(); err != nil {
		return nil, err
	}
	if len(v.Weighing.Readings) == 0 {
		return nil, ErrNotWeighed
	}
	a, err := judge.New(setup.Program, setup.Tables, setup.Beside...)
	if err != nil {
		return nil, err
	}
	w := &weighed{Assessment: a}
	a.Own, a.Watch = setup.Facts, w.watch
	if err := a.Judge(v); err != nil {
		return nil, err
	}
	if w.solved(); len(w.rig.Axles) == 0 {
		return nil, fmt.Errorf("%w that could be used: read again, or say under sure what is right", ErrNotWeighed)
	}
	for i := range a.Early {
		if judge.OfLoads(&a.Early[i]) {
			w.problems = append(w.problems, a.Early[i])
		}
	}
	slices.SortStableFunc(w.held, func(a, b *held) int { return a.order() - b.order() })
	w.name()
	return w, w.missing()
}

// caution adds what is to be shown with the answer, once.
func (w *weighed) caution(text string) {
	if text != "" && !slices.Contains(w.cautions, text) {
		w.cautions = append(w.cautions, text)
	}
}

func (w *weighed) heading() report.Heading {
	v := w.Visit
	return report.Heading{Invented: v.Invented, Date: v.Date, System: v.System, PressureUnit: v.PressureUnit, Coach: v.Coach, LoadState: v.LoadState}
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
	for _, g := range w.groups {
		w.names[g.Set] = g.Name
	}
}

// sums are what the report lists: the ends, axles, sides and wholes, and what else was
// weighed only together.
func (w *weighed) sums() []weight.Set {
	out := w.rig.Sums()
	for _, g := range w.groups {
		if !slices.Contains(out, g.Set) {
			out = append(out, g.Set)
		}
	}
	return out
}

func problem(path string, err error) error {
	var ps origin.Problems
	ps.Add(origin.Problem{Path: path, Code: strictyaml.CodeValue, Err: err})
	return ps.Err()
}

func (w *weighed) report() (WeighReport, error) {
	r := WeighReport{Version: WeighingVersion, Heading: w.heading(), Readings: w.Assessment.Report.Readings, Problems: w.problems, Packs: w.Program.Packs()}
	for _, set := range w.sums() {
		if err := w.line(&r, set, w.held); err != nil {
			return WeighReport{}, err
		}
	}
	for _, l := range w.Layout.Wheels {
		if l.Place == record.Alone || !w.onScale(l.Set).Known() {
			continue
		}
		if err := w.line(&r, l.Set, w.wheels); err != nil {
			return WeighReport{}, err
		}
	}
	for _, c := range w.Solution.Cautions() {
		w.caution(c.String())
	}
	r.Label = w.label(w.labelAsWeighed(), w.cargo)
	w.caution(lastWord)
	r.Unjudged, r.Cautions = w.gaps, w.cautions
	return r, nil
}

// line adds what a set carries, and what the rules hold it to.
func (w *weighed) line(r *WeighReport, set weight.Set, list []*held) error {
	l := WeighLine{Name: w.names[set], On: set, Estimate: w.onScale(set)}
	var err error
	if l.Margins, err = margins(list, set, w.onScale); err != nil {
		return err
	}
	for _, m := range l.Margins {
		r.Stops = r.Stops || m.Stops
	}
	if !l.Estimate.Known() {
		for _, p := range w.Solution.Settle(set).Weighings {
			l.Settle = append(l.Settle, p.Instruction)
		}
		w.gap(l.Name, needLoad, "")
	}
	r.Loads = append(r.Loads, l)
	return nil
}

// needLoad says what to write down for a load that is not known.
const needLoad = "its load: weigh it"

const lastWord = "Ratings on the coach, its tires and its wheels are limits, not aims. Local codes and trained, licensed people decide."

// labelAsWeighed sets the cargo label beside the weighing, and asks for what it lacks.
func (w *weighed) labelAsWeighed() *judge.CargoLabel {
	l, err := w.CargoLabel()
	if err != nil {
		w.gap("cargo label", judge.OneLine(err), "")
	}
	return l
}

// label is the cargo label's line, with what the rules say of it.
func (w *weighed) label(l *judge.CargoLabel, said rules.Verdict) (none record.Recorded[LabelLine]) {
	if l == nil {
		return none
	}
	if said == 0 {
		said = rules.NotRecorded
	}
	m := l.Margin
	out := LabelLine{Label: l.Label, Aboard: l.Aboard, Capacity: m.Limit.Rating, Loaded: m.Estimate, Room: m.Room, Verdict: said}
	if parts, err := l.Label.CapacityFromParts(); err == nil {
		out.FromParts = record.Record(parts)
	}
	if l.Label.Kind == cargo.OCCC {
		w.caution("On this cargo label water and the tongue weight of a trailer count as cargo: what is still to be filled or hitched takes from the room (49 CFR 571.120 S10.4.4(e)).")
	}
	return record.Record(out)
}

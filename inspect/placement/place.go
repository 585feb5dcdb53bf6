package placement

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/document"
	"axleend.example/internal/judge"
	"axleend.example/internal/word"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Version is the version of the placement format that this package writes and
// reads.
const Version = 1

// MaxSize is how many bytes of a placement are read.
const MaxSize = 2 << 20

// Read reads a placement from its JSON, as strictly as [report.Read] reads a
// report; name is the file's name for messages. The error is an
// [*origin.Problems].
func Read(name string, data []byte) (Placement, error) {
	return document.Read[Placement](name, data, document.Format{Key: "placement", Version: Version, Most: MaxSize})
}

// ErrNoTires says that a visit records no tire that could be placed.
var ErrNoTires = errors.New("no tire to place: the visit records none")

// ErrTooManyTires says that a coach has more than [MaxTires] tires.
var ErrTooManyTires = errors.New("too many tires to place")

// A Outcome says what [Find] proposes.
type Outcome uint8

// The outcomes.
const (
	// NoMove: the wheels stay where they are.
	NoMove Outcome = iota + 1
	// MoveWheels: the moves leave no rule broken that was judged.
	MoveWheels
	// Rotate: no rule asks for a move, but a rotation evens out wear.
	Rotate
	// BuyTires: no arrangement of the tires at hand keeps the rules; what is
	// missing is in the list to buy.
	BuyTires
)

var outcomeWords = word.List[Outcome]{Kind: "outcome", Words: []string{"", "no move", "move wheels", "rotate", "buy tires"}, Unknown: word.Err}

// String gives "no move", "move wheels", "rotate", "buy tires" or "not known".
func (o Outcome) String() string { return outcomeWords.String(o) }

// MarshalText writes the word, and empty text for the zero Outcome.
func (o Outcome) MarshalText() ([]byte, error) {
	return outcomeWords.Text(o)
}

// UnmarshalText reads what [Outcome.MarshalText] writes.
func (o *Outcome) UnmarshalText(text []byte) error { return outcomeWords.Read(o, text) }

// A Placement is which of the tires at hand goes where, the work that takes,
// and what is missing. It is plain data, comes out the same for the same
// input, and reads back from its JSON unchanged.
type Placement struct {
	// Version is that of the format, [Version].
	Version int `json:"placement"`
	report.Heading
	// Outcome says what is proposed.
	Outcome Outcome `json:"outcome"`
	// Stops says that the coach is not to be driven as it stands.
	Stops bool `json:"stops"`
	// NotJudged counts the entries of Unjudged and TooClose: rules that nobody can say the
	// proposed arrangement keeps.
	NotJudged int `json:"not_judged"`

	// Broken are the rules that the tires break where they were found: those
	// that forbid it, and the milder ones that the moves put right.
	Broken []report.Item `json:"broken,omitempty"`
	// Moves are the wheels that end elsewhere, in the order of the places.
	Moves []WheelMove `json:"moves,omitempty"`
	// Steps are the work, in an order in which it can be done.
	Steps []Step `json:"steps,omitempty"`
	// Places are all places of the coach and its spares, with what stood there and what
	// will.
	Places []PlacedTire `json:"places"`
	// Set is the cold pressure of each axle with the tires proposed, where all
	// of them are at hand and it can be said.
	Set []PlacedSetting `json:"set,omitempty"`
	// Out are the tires that go nowhere.
	Out []TireTakenOff `json:"out,omitempty"`
	// Buy are what tires have to be bought.
	Buy []TireToBuy `json:"buy,omitempty"`
	// Pairs are the dual pairs as proposed, both tires at hand.
	Pairs []PlacedPair `json:"pairs,omitempty"`
	// Rotation says whether a rotation helps; it is absent where rules decide.
	Rotation record.Recorded[Rotation] `json:"rotation,omitzero"`
	// Price is what the assessment after the work would list as new and can be
	// planned, or is about a spare. Nothing that stops the coach or comes before the
	// trip, and no new gap in what is known, is the price of a move.
	Price []report.Item `json:"price,omitempty"`
	// NotProposed says what would have come up in better arrangements, which are not
	// proposed for it; empty where none was passed over.
	NotProposed string `json:"not_proposed,omitzero"`
	// StillToDo goes along with a tire wherever it goes.
	StillToDo []report.Item `json:"still_to_do,omitempty"`
	// TooClose are rules that the proposed arrangement may break: too close to call.
	TooClose []report.Item `json:"too_close,omitempty"`
	// Unjudged is what could not be judged of it, each with what would settle it.
	Unjudged []report.NotJudged `json:"unjudged,omitempty"`
	// Assumptions are what was taken for granted, each a sentence.
	Assumptions []string `json:"assumptions,omitempty"`
	// Cautions are to be shown with the placement, each a sentence.
	Cautions []string `json:"cautions,omitempty"`
	// Packs are those whose rules were asked.
	Packs []string `json:"packs,omitempty"`
}

// A WheelMove is a wheel that ends elsewhere than it was found, or a tire that
// is turned on its wheel. Demount says that the tire has to come off a wheel;
// OntoWheel is then the wheel it goes onto, by the place where that was found.
type WheelMove struct {
	// Tire is the place where it was found.
	Tire string `json:"tire"`
	// To is the place where it goes.
	To string `json:"to"`
	// Demount says that the tire has to come off its wheel.
	Demount bool `json:"demount,omitzero"`
	// OntoWheel is then the wheel it goes onto, by the place where that was found.
	OntoWheel string `json:"onto_wheel,omitzero"`
}

// A PlacedTire is one place with the tire found there and the one proposed,
// by the place where that was found; empty is one to buy, or an empty carrier.
type PlacedTire struct {
	// At is the place.
	At string `json:"at"`
	// FoundTread is the least depth of the tire found there.
	FoundTread record.Recorded[weight.Length] `json:"found_tread,omitzero"`
	// Tire is the one proposed, by the place where it was found; empty is one to buy, or
	// an empty carrier.
	Tire string `json:"tire,omitzero"`
	// Tread is its least depth.
	Tread record.Recorded[weight.Length] `json:"tread,omitzero"`
}

// A PlacedSetting is the one cold pressure to set across an axle. Estimated says
// that no table was seen for it.
type PlacedSetting struct {
	// Axle is the axle's ID.
	Axle string `json:"axle"`
	// Set is the pressure, rounded up to the gauge's step.
	Set inflation.Pressure `json:"set"`
	// Estimated says that no table was seen for it.
	Estimated bool `json:"estimated,omitzero"`
}

// An TireTakenOff is a tire that goes nowhere: it is to be replaced, or released by
// trained people. Why are the rules that say so; it is empty where the tire
// only finds no place beside the others. NoAir says that it, or its dual mate,
// ran low.
type TireTakenOff struct {
	// Tire is the place where it was found.
	Tire string `json:"tire"`
	// Stops says that nobody may drive on it.
	Stops bool `json:"stops,omitzero"`
	// NoAir says that it, or its dual mate, ran low.
	NoAir bool `json:"no_air,omitzero"`
	// Why are the rules that say so; empty where it only finds no place beside the others.
	Why []report.Item `json:"why,omitempty"`
}

// A PlacedPair is a dual pair as proposed, by the places where its tires were
// found, and the reason for which one runs inside.
type PlacedPair struct {
	// Name is the axle end's.
	Name string `json:"name"`
	// Outer is the outer tire, by the place where it was found.
	Outer string `json:"outer"`
	// Inner is the inner one.
	Inner string `json:"inner"`
	// Why says why that one runs inside; empty where nothing decides.
	Why string `json:"why"`
}

// A Rotation says whether a rotation evens out wear, and why. Spread is how far
// apart the treads on the road are now. Least is the tread that the most worn
// tire would have left after as much wear again where everything stays,
// LeastRotated that after the rotation; both may be below zero.
type Rotation struct {
	// Helps says that a rotation evens out wear.
	Helps bool `json:"helps"`
	// Reason says why, or why not.
	Reason string `json:"reason"`
	// Spread is how far apart the treads on the road are now; not recorded unless all were
	// probed.
	Spread record.Recorded[weight.Length] `json:"spread,omitzero"`
	// Least is the tread that the most worn tire would have left after as much wear again
	// where everything stays; it may be below zero.
	Least record.Recorded[weight.Length] `json:"least,omitzero"`
	// LeastRotated is that after the rotation.
	LeastRotated record.Recorded[weight.Length] `json:"least_rotated,omitzero"`
	// Rules are those that call for a rotation.
	Rules []string `json:"rules,omitempty"`
	// Sources are where they come from.
	Sources []origin.Source `json:"sources,omitempty"`
}

// Find finds the arrangement of the tires at hand, the spares included, that
// breaks no rule, with the least work, and of those the one with the best
// tread on the steer axle. Candidates are judged by the setup's program on the
// facts that [inspect.Assess] would gather if the tires were there, with pressures set
// again and the heaviest load of the trip; no limit stands in this package. Where a tire has to go, it is the one
// with the least tread. A move counts one, one that is a
// demount three. Of several as good it takes the one that opens the fewest axle
// ends, then by the order of places.
//
// A tire that no one may drive on goes nowhere. Where a rule cannot be kept,
// its place is left for a tire to buy. An arrangement of which something was
// not recorded, or is too close to call, never counts as breaking no rule: it
// comes after any that was judged, and says what is missing.
//
// An axle keeps the sizes that were found on it, and the towed unit's tires stay
// where they are. Errors are those of [inspect.Assess],
// [ErrNoTires], [ErrTooManyTires] beyond [MaxTires], and the context's
// once it is done.
func Find(ctx context.Context, v *record.Visit, setup inspect.Setup) (Placement, error) {
	as, err := judge.New(setup.Program, setup.Tables, setup.Beside...)
	if err != nil {
		return Placement{}, err
	}
	as.Own = setup.Facts
	if err := as.Judge(v); err != nil {
		return Placement{}, err
	}
	if len(v.Tires) == 0 {
		return Placement{}, ErrNoTires
	}
	b, err := newBench(as)
	if err != nil {
		return Placement{}, err
	}
	if n := len(b.tires); n > MaxTires {
		return Placement{}, fmt.Errorf("%w: %d with the spares, at most %d", ErrTooManyTires, n, MaxTires)
	}
	s, err := newSearch(ctx, b)
	if err != nil {
		return Placement{}, err
	}
	p := &placer{search: s, setup: setup, found: make(arrangement, len(as.Tires))}
	for i := range p.found {
		p.found[i] = noTire
	}
	for _, t := range b.tires {
		p.found[t] = t
	}
	return p.report()
}

// A placer turns the search's answer into a report.
type placer struct {
	*search
	setup       inspect.Setup
	found, best arrangement
	want        []mounting
	breached    []rules.Finding // as found
	out         Placement
}

func (p *placer) report() (Placement, error) {
	v := p.as.Visit
	p.out.Version, p.out.Heading = Version, report.Heading{Invented: v.Invented, Date: v.Date, System: v.System, Coach: v.Coach, LoadState: v.LoadState}
	best, c, err := p.chooseSound()
	if err != nil {
		return Placement{}, err
	}
	p.best = best
	p.out.Outcome = MoveWheels
	switch {
	case c.bare > 0:
		p.out.Outcome = BuyTires
	case c.work == 0:
		p.out.Outcome = NoMove
		if err := p.rotate(c); err != nil {
			return Placement{}, err
		}
	}
	p.want = p.mountings(p.best)
	for _, step := range []func() error{p.breaches, p.judged, p.outTires, p.buy, p.settings} {
		if err := step(); err != nil {
			return Placement{}, err
		}
	}
	p.moves()
	p.places()
	p.say()
	return p.out, nil
}

// choose takes the best arrangement; one that was judged throughout if it
// keeps the rules as well.
func (p *placer) choose(allow func(*group, *option) bool) (arrangement, cost, error) {
	best, c, err := p.search.best(allow)
	if err != nil {
		return nil, cost{}, err
	}
	judged, d, err := p.search.best(func(g *group, o *option) bool { return !o.unsure && (allow == nil || allow(g, o)) })
	if err == nil && d.sameRules(c) {
		return judged, d, nil
	}
	return best, c, err
}

// items turns findings into entries, the worst first.
func (p *placer) items(findings []rules.Finding) []report.Item {
	w := p.as.Elsewhere()
	w.Tires, w.Findings = p.as.Tires, findings
	w.Settle()
	return w.Report.Todo
}

// ranLow are the findings that condemn a tire for the pressure it, or its
// mate, was driven at.
func (p *placer) ranLow(tire int) []rules.Finding {
	if !p.condemned(tire) {
		return nil
	}
	var out []rules.Finding
	for _, f := range p.as.Findings {
		if f.Name == p.as.Tires[tire].Name && (f.Rule.Involves(judge.RanLow) || f.Rule.Measure() == p.as.Refs.MateRunLow) {
			out = append(out, f)
		}
	}
	return out
}

// look judges an arrangement once more, with what it found: breaches, what is
// too close to call, and, on the bench's report, what was not recorded.
func (p *placer) look(a arrangement) (breached, unsure []rules.Finding, err error) {
	then := p.then
	take := func(findings []rules.Finding) {
		for i := range findings {
			switch f := &findings[i]; {
			case f.Verdict == rules.TooClose, then.MayNotFit(f):
				unsure = append(unsure, *f)
			case f.Verdict == rules.Breached:
				breached = append(breached, *f)
			default:
				for _, m := range f.ToRecord() {
					then.Gap(then.Need(f, m))
				}
			}
		}
	}
	for gi := range p.groups {
		g := &p.groups[gi]
		mask, n := uint32(0), 0
		for _, at := range g.places {
			if a[at] != noTire {
				mask |= 1 << slices.Index(p.tires, a[at])
				n++
			}
		}
		var set axleVerdict
		if g.axle >= 0 && n > 0 {
			if set, err = p.judgeAxle(g.axle, mask); err != nil {
				return nil, nil, err
			}
		}
		for _, at := range g.places {
			if a[at] == noTire {
				continue
			}
			findings, err := p.tireFindings(a[at], at, set.set)
			if err != nil {
				return nil, nil, err
			}
			take(findings)
			if st := &p.as.Tires[a[at]]; st.Line.Casing != "" {
				then.Gap(st.Name, st.Line.Casing, "")
			}
			if st := &p.as.Tires[a[at]]; !st.RanLow.Is() {
				p.as.WhyLowUnknown(st, then.Gap)
			}
		}
		for _, at := range g.places {
			st := &p.as.Tires[at]
			if st.Mate < 0 || st.Position.Place != record.Outer || a[at] == noTire || a[st.Mate] == noTire {
				continue
			}
			findings, err := p.pairFindings(a[at], a[st.Mate], at)
			if err != nil {
				return nil, nil, err
			}
			take(findings)
		}
		if g.axle >= 0 && n > 0 {
			findings, _, err := p.axleFindings(g.axle, p.fill(g.axle, mask))
			if err != nil {
				return nil, nil, err
			}
			take(findings)
		}
	}
	return breached, unsure, nil
}

// breaches finds what is broken as the wheels were found.
func (p *placer) breaches() error {
	p.asFound = true
	breached, _, err := p.look(p.found)
	if err != nil {
		return err
	}
	p.asFound = false
	for _, t := range p.tires {
		breached = append(breached, p.ranLow(t)...)
	}
	p.breached = breached
	p.out.Stops = p.as.Report.Drive.Stops()
	for _, f := range breached {
		p.out.Stops = p.out.Stops || f.Rule.Action().Stops && !record.IsSpare(f.Name)
	}
	p.then.Report.Unjudged, p.then.Gaps = nil, nil // those of the best count
	return nil
}

// judged lists what the proposed arrangement puts right, what nobody can say of
// it, and what goes along with its tires.
func (p *placer) judged() error {
	stays, unsure, err := p.look(p.best)
	if err != nil {
		return err
	}
	p.out.TooClose, p.out.Unjudged = p.items(unsure), p.then.Report.Unjudged
	p.out.NotJudged = len(p.out.TooClose) + len(p.out.Unjudged)
	var right []rules.Finding
	for _, f := range p.breached {
		same := func(g rules.Finding) bool { return g.Rule == f.Rule && g.Name == f.Name }
		if p.hard(f.Rule) || !slices.ContainsFunc(stays, same) && !p.isOut(f.Name) {
			right = append(right, f)
		}
	}
	p.out.Broken = p.items(right)
	var carried []rules.Finding
	for _, f := range p.as.Findings {
		if p.carried(&f) && !p.isOut(f.Name) || f.Verdict == rules.Breached && aboutMakes(&f) && p.together(f.Name) {
			carried = append(carried, f)
		}
	}
	p.out.StillToDo = p.items(carried)
	return nil
}

// together reports whether the pair found at an end stays one.
func (p *placer) together(end string) bool {
	for at, t := range p.best {
		if m := p.as.Tires[at].Mate; t != noTire && m >= 0 && p.best[m] != noTire && p.as.Tires[t].Mate == p.best[m] && p.endOf(t) == end {
			return true
		}
	}
	return false
}

// isOut reports whether a name is that of a tire that goes nowhere.
func (p *placer) isOut(name string) bool {
	return slices.ContainsFunc(p.tires, func(t int) bool { return p.as.Tires[t].Name == name && !slices.Contains(p.best, t) })
}

// outTires lists the tires that go nowhere, and why: what they break where they
// were found, by themselves or else with their mate or axle.
func (p *placer) outTires() error {
	for _, t := range p.tires {
		st := &p.as.Tires[t]
		if !p.isOut(st.Name) {
			continue
		}
		var own, shared []rules.Finding
		for _, f := range p.breached {
			if !p.hard(f.Rule) {
				continue
			}
			if f.Name == st.Name {
				own = append(own, f)
			} else if w := st.Position; w != nil && (f.Name == p.as.Layout.EndNames[w.Axle][w.Side-weight.Left] || f.Name == p.as.Visit.Axles[w.Axle].ID) {
				shared = append(shared, f)
			}
		}
		out := TireTakenOff{Tire: st.Name, NoAir: p.condemned(t)}
		if len(own) == 0 && !out.NoAir {
			own = shared
		}
		out.Stops, out.Why = out.NoAir, p.items(own)
		for _, it := range out.Why {
			out.Stops = out.Stops || it.Stops
		}
		p.out.Out = append(p.out.Out, out)
	}
	return nil
}

// moves lists the moves, and the steps that carry them out.
func (p *placer) moves() {
	for at, m := range p.want {
		if m.tire == noTire || m.tire == at && !m.turn && !m.demount {
			continue
		}
		move := WheelMove{Tire: p.as.Tires[m.tire].Name, To: p.as.Tires[at].Name, Demount: m.demount || m.turn}
		if move.Demount {
			move.OntoWheel = p.as.Tires[m.wheel].Name
		}
		p.out.Moves = append(p.out.Moves, move)
	}
	p.out.Steps = p.steps(p.want)
}

// settings gives the pressures of the axles that have all of their tires.
func (p *placer) settings() error {
	sets, err := p.setOf(p.best)
	for i := range p.groups {
		if s := sets[p.groups[i].axle]; s != nil {
			p.out.Set = append(p.out.Set, PlacedSetting{p.as.Visit.Axles[p.groups[i].axle].ID, s.Set, s.Answer.Estimated})
		}
	}
	return err
}

// setOf finds what each axle that has all of its tires is to be set to.
func (p *placer) setOf(a arrangement) (map[int]*inflation.Setting, error) {
	out := make(map[int]*inflation.Setting)
	for i := range p.groups {
		g := &p.groups[i]
		mask, bare := uint32(0), g.axle < 0
		for _, at := range g.places {
			if bare = bare || a[at] == noTire; !bare {
				mask |= 1 << slices.Index(p.tires, a[at])
			}
		}
		if bare {
			continue
		}
		v, err := p.judgeAxle(g.axle, mask)
		if err != nil {
			return nil, err
		}
		if s := v.set; s != nil && (s.Outcome == inflation.CanSet || s.Outcome == inflation.TooClose) {
			out[g.axle] = s
		}
	}
	return out, nil
}

func (p *placer) places() {
	for _, at := range p.tires {
		line := PlacedTire{At: p.as.Tires[at].Name, FoundTread: p.as.Tires[at].Line.Tread}
		if t := p.best[at]; t != noTire {
			line.Tire, line.Tread = p.as.Tires[t].Name, p.as.Tires[t].Line.Tread
		}
		p.out.Places = append(p.out.Places, line)
		st := &p.as.Tires[at]
		if st.Mate < 0 || st.Position.Place != record.Outer || p.best[at] == noTire || p.best[st.Mate] == noTire {
			continue
		}
		outer, inner := &p.as.Tires[p.best[at]], &p.as.Tires[p.best[st.Mate]]
		pair := PlacedPair{Name: p.as.Layout.EndNames[st.AxleIndex][st.Position.Side-weight.Left], Outer: outer.Name, Inner: inner.Name}
		switch c := judge.InsideOf(outer, inner); {
		case c.Inside == outer.Name:
			pair.Why = "though the other belongs there by this: " + c.Words()
		default:
			pair.Why = c.Words()
		}
		p.out.Pairs = append(p.out.Pairs, pair)
	}
}

// say fills in what was taken for granted, and the cautions.
func (p *placer) say() {
	o := &p.out
	o.Assumptions = append(o.Assumptions, "Pressures as found do not count: every tire is set cold again once its wheel is on. What a tire was driven at stays with it. Nor does it count how far apart a pair was made.")
	if len(p.as.Visit.Weighing.Readings) > 0 {
		o.Assumptions = append(o.Assumptions, "Loads are those weighed at each place, or expected there after the changes for the trip where that is more, whichever tire runs there.")
	}
	fits, arrows := false, false
	for _, t := range p.tires {
		fits = fits || len(p.as.Tires[t].WheelFits) == 0
		arrows = arrows || !p.as.Tires[t].Rotates.Is()
	}
	if fits {
		o.Assumptions = append(o.Assumptions, "A wheel of which the visit does not say where it fits (wheel_fits) is taken to fit every place of the coach.")
	}
	if arrows {
		o.Assumptions = append(o.Assumptions, "A tire of which the visit does not say how it turns (rotates) is taken to run on either side: look for an arrow before it crosses the coach.")
	}
	if slices.ContainsFunc(p.as.Visit.Axles, func(a record.Axle) bool { return a.Towed }) {
		o.Assumptions = append(o.Assumptions, "The towed unit's tires stay where they are.")
	}
	for _, t := range p.tires {
		if s := p.as.Tires[t].Size; s != "" && p.as.Tires[p.tires[0]].Size != "" && !judge.SameSize(s, p.as.Tires[p.tires[0]].Size) {
			o.Assumptions = append(o.Assumptions, "Each axle keeps the size that was found on it: which size the placard wants there the visit does not say.")
			break
		}
	}
	demount := slices.ContainsFunc(o.Steps, func(s Step) bool { return s.Do == Demount })
	caution := func(text string) { o.Cautions = append(o.Cautions, text) }
	stops := func(it report.Item) bool { return it.Stops }
	if o.Stops && !slices.ContainsFunc(o.Broken, stops) && !slices.ContainsFunc(o.StillToDo, stops) {
		caution("The coach is not to be driven for a reason that changing places does not mend: axleend assess names it.")
	}
	if slices.ContainsFunc(p.tires, p.airOut) {
		caution("A tire that ran low, its dual mate, or one that is damaged can burst: keep clear of its sidewall. Trained people let the air out through the valve core before the wheel comes off (29 CFR 1910.177(f), as guidance).")
	}
	if demount {
		caution("Demounting, mounting and inflating are for trained people: a restraining device, a clip-on chuck, an in-line gauge, standing clear (29 CFR 1910.177(d), as guidance).")
	}
	if len(o.Steps) > 0 {
		caution(judge.CautionWheelOff)
		caution("Clean the faces of wheel, hub and nuts before a wheel goes on; a wheel goes only where it was made to fit (common practice).")
		caution("One dual alone carries double: an end that waits for a wheel rests on its stand, not on the other one (common practice).")
		caution("Set every tire cold once its wheel is on, one pressure across the axle, and assess the coach again (common practice).")
	}
	for _, pl := range o.Places {
		if record.IsSpare(pl.At) && pl.Tire == "" {
			caution("No tire is left for the carrier of " + pl.At + ": the coach has one spare less.")
		}
	}
	caution("Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
	o.Packs = p.as.Program.Packs()
}

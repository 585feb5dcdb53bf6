package placement

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/document"
	"axleend.example/internal/judge"
	"axleend.example/internal/word"
	"axleend.example/rules"
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

// An Outcome says what [Find] proposes.
type Outcome uint8

// The outcomes.
const (
	// NoMove: the wheels stay where they are.
	NoMove Outcome = iota + 1
	// MoveWheels: the moves leave no rule broken that was judged, but where load has to
	// come off first.
	MoveWheels
	// Rotate: no rule asks for a move, but a rotation evens out wear.
	Rotate
	// Buy: no arrangement of what is at hand keeps the rules; what is missing is in
	// the lists of tires and wheels to buy.
	Buy
)

var outcomeWords = word.List[Outcome]{Kind: "outcome", Words: []string{"", "no move", "move wheels", "rotate", "buy"}, Unknown: word.Err}

// String gives "no move", "move wheels", "rotate", "buy" or "not known".
func (o Outcome) String() string { return outcomeWords.String(o) }

// AppendText appends the word, and nothing for the zero Outcome. An unknown value
// is an error.
func (o Outcome) AppendText(dst []byte) ([]byte, error) { return outcomeWords.Append(dst, o) }

// MarshalText writes what [Outcome.AppendText] appends.
func (o Outcome) MarshalText() ([]byte, error) { return outcomeWords.Text(o) }

// UnmarshalText reads what [Outcome.MarshalText] writes.
func (o *Outcome) UnmarshalText(text []byte) error { return outcomeWords.Read(o, text) }

// Find finds the arrangement of the tires at hand, the spares included, that
// breaks no rule, with the least work, and of those the one with the best
// tread on the steer axle. A tire of which something was not read comes onto the steer
// axle only where none that was read can. Candidates are judged by the setup's program on the
// facts that [inspect.Assess] would gather if the tires were there, with pressures set
// again and the heaviest load of the trip; no limit stands in this package. Where a tire has to go, it is the one
// with the least tread. A move counts one, one that is a
// demount three. Of several as good it takes the one that opens the fewest axle
// ends, then by the order of places.
//
// A tire that no one may drive on goes nowhere, nor does a spare that was driven low or
// was read at 0. Where a rule cannot be kept, its
// place is left for a tire to buy; where only the wheel breaks it, the tire goes
// onto a wheel to buy. An arrangement never counts as breaking no rule while
// something about it was not recorded or is too close to call: it comes after any
// that was judged, and says what is missing. Where only readings are missing and no
// rule asks for a move, the wheels stay: they are read first.
//
// Where more is carried than any tire at hand of that size and load range is stamped for,
// and an axle's rating is broken, load comes off first: no tire is moved or bought for it.
// A tire that carried too much does not come to the steer axle.
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
	kept        arrangement // the tires that go onto a wheel to buy, by place
	want        []mounting
	breached    []rules.Finding // as found
	out         Placement
}

func (p *placer) report() (Placement, error) {
	v := p.as.Visit
	p.out.Version, p.out.Heading = Version, report.Heading{Invented: v.Invented, Date: v.Date, System: v.System, PressureUnit: v.PressureUnit, Coach: v.Coach, LoadState: v.LoadState}
	best, c, err := p.chooseSound()
	if err != nil {
		return Placement{}, err
	}
	p.best = best
	p.out.Outcome = MoveWheels
	switch {
	case c.bare > 0:
		p.out.Outcome = Buy
	case c.work == 0:
		p.out.Outcome = NoMove
		if err := p.rotate(c); err != nil {
			return Placement{}, err
		}
	}
	for _, step := range []func() error{p.breaches, p.keepTires, p.unswap, p.judged, p.settings, p.wheels, p.outTires, p.buy} {
		if err := step(); err != nil {
			return Placement{}, err
		}
	}
	p.moves()
	p.places()
	worn, err := p.wornSoon()
	if err != nil {
		return Placement{}, err
	}
	p.assume()
	p.cautions()
	p.out.Cautions = append(worn, p.out.Cautions...)
	return p.out, nil
}

// choose takes the best arrangement; one that was judged throughout if it
// keeps the rules as well. No wheel moves only because something was not read where
// it is: that is read first.
func (p *placer) choose(allow func(*group, *option) bool) (arrangement, cost, error) {
	best, c, err := p.search.best(allow)
	if err != nil {
		return nil, cost{}, err
	}
	if c.work == 0 {
		if only, err := p.onlyUnread(best); only || err != nil {
			return best, c, err
		}
	}
	judged, d, err := p.search.best(func(g *group, o *option) bool { return !o.unsure && (allow == nil || allow(g, o)) })
	if err == nil && d.sameRules(c) {
		return judged, d, nil
	}
	return best, c, err
}

// onlyUnread reports whether all that nobody can say of an arrangement is what was not
// read yet, and no rule is too close to call.
func (p *placer) onlyUnread(a arrangement) (bool, error) {
	_, unsure, err := p.look(a)
	p.forget()
	return len(unsure) == 0, err
}

// forget lets the next look begin anew.
func (p *placer) forget() { p.then.Report.Unjudged, p.then.Gaps = nil, nil }

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
		if f.Name == p.as.Tires[tire].Name && (f.Rule.Involves(judge.RanLow) || f.Rule.Measure() == p.as.Refs.MateRunLow || p.callsLow(&f)) {
			out = append(out, f)
		}
	}
	return out
}

// look judges an arrangement once more, with what it found: breaches, what is
// too close to call, and, on the bench's report, what was not recorded.
func (p *placer) look(a arrangement) (breached, unsure []rules.Finding, err error) {
	take := func(findings []rules.Finding, err error) error {
		for i := range findings {
			switch f := &findings[i]; {
			case f.Verdict == rules.TooClose, p.then.MayNotFit(f):
				unsure = append(unsure, *f)
			case f.Verdict == rules.Breached:
				breached = append(breached, *f)
			default:
				p.then.Missing(f)
			}
		}
		return err
	}
	for gi := range p.groups {
		if err := p.lookAt(a, &p.groups[gi], take); err != nil {
			return nil, nil, err
		}
	}
	return breached, unsure, nil
}

// lookAt judges the places of a group: the tires, the pairs, the axle.
func (p *placer) lookAt(a arrangement, g *group, take func([]rules.Finding, error) error) error {
	mask, _ := p.maskOf(g, a.at)
	var set axleVerdict
	var err error
	if g.axle >= 0 && mask != 0 {
		if set, err = p.judgeAxle(g.axle, mask); err != nil {
			return err
		}
	}
	for _, at := range g.places {
		if a[at] == noTire {
			continue
		}
		if err := take(p.tireFindings(a[at], at, set.set)); err != nil {
			return err
		}
		p.gapsOf(a[at])
	}
	for _, at := range g.places {
		inner := p.innerOf(at)
		if inner == noTire || a[at] == noTire || a[inner] == noTire {
			continue
		}
		if err := take(p.pairFindings(a[at], a[inner], at)); err != nil {
			return err
		}
	}
	if g.axle >= 0 && mask != 0 {
		findings, _, err := p.axleFindings(g.axle, p.fill(g.axle, mask))
		return take(findings, err)
	}
	return nil
}

// gapsOf notes what is not known of a tire, wherever it goes.
func (p *placer) gapsOf(tire int) {
	st := &p.as.Tires[tire]
	if st.Line.Casing != "" {
		p.then.Gap(st.Name, st.Line.Casing, "")
	}
	if p.lowUnknown(tire) {
		p.as.WhyLowUnknown(st, p.then.Gap)
	}
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
	p.sayLoadFirst()
	for _, f := range breached {
		p.out.Stops = p.out.Stops || f.Rule.Action().Stops && !record.IsSpare(f.Name)
	}
	p.forget() // those of the best count
	return nil
}

// judged lists what the proposed arrangement puts right, what nobody can say of
// it, and what goes along with its tires.
func (p *placer) judged() error {
	stays, unsure, err := p.look(p.best)
	if err != nil {
		return err
	}
	p.out.TooClose, p.out.Unjudged = p.items(unsure), append(p.then.Report.Unjudged, p.readAgain()...)
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

// readAgain is what to read again before loads and ratings can be trusted, of the coach
// and of the tires that are used.
func (p *placer) readAgain() []report.NotJudged {
	var out []report.NotJudged
	for i := range p.as.Early {
		it := &p.as.Early[i]
		if what, asks := strings.CutPrefix(it.What, judge.ReadAgain); judge.OfLoads(it) && it.Where != "trip" && !p.isOut(it.Where) {
			if !asks {
				what = "this: " + strings.ToLower(it.What[:1]) + it.What[1:]
			}
			out = append(out, report.NotJudged{Where: it.Where, Need: "read again " + what})
		}
	}
	return out
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
	return slices.ContainsFunc(p.tires, func(t int) bool {
		return p.as.Tires[t].Name == name && !slices.Contains(p.best, t) && !slices.Contains(p.kept, t)
	})
}

// outTires lists the tires that go nowhere, and why.
func (p *placer) outTires() error {
	for _, t := range p.tires {
		st := &p.as.Tires[t]
		if !p.isOut(st.Name) {
			continue
		}
		out := TireTakenOff{Tire: st.Name, NoAir: p.condemned(t)}
		out.Stops, out.Why = out.NoAir, p.why(t)
		for _, it := range out.Why {
			out.Stops = out.Stops || it.Stops
		}
		p.out.Out = append(p.out.Out, out)
	}
	return nil
}

// why is what forbids a tire where it was found: what it breaks by itself, or else
// with its mate or on its axle.
func (p *placer) why(t int) []report.Item {
	st := &p.as.Tires[t]
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
	if len(own) == 0 && !p.condemned(t) {
		own = shared
	}
	return p.items(own)
}

// moves lists the moves, and the steps that carry them out.
func (p *placer) moves() {
	for at, m := range p.want {
		if m.tire == noTire || m.tire == at && !m.turn && !m.demount {
			continue
		}
		move := WheelMove{Tire: p.as.Tires[m.tire].Name, To: p.as.Tires[at].Name, Demount: m.demount || m.turn}
		if move.Demount && m.wheel >= 0 {
			move.OntoWheel = p.as.Tires[m.wheel].Name
		}
		p.out.Moves = append(p.out.Moves, move)
	}
	p.out.Steps = p.steps(p.want)
	for i := range p.out.Steps {
		if s := &p.out.Steps[i]; s.Do == FetchSpare && !s.Out {
			s.InspectFirst = s.InspectFirst || p.open(s.Tire)
		}
	}
}

// open reports whether something of a tire is not judged.
func (p *placer) open(tire string) bool {
	return slices.ContainsFunc(p.out.Unjudged, func(g report.NotJudged) bool { return g.Where == tire }) ||
		slices.ContainsFunc(p.out.TooClose, func(it report.Item) bool { return it.Where == tire })
}

// settings gives the pressures of the axles that have all of their tires.
func (p *placer) settings() error {
	sets, err := p.setOf(p.best)
	for i := range p.groups {
		if s := sets[p.groups[i].axle]; s != nil {
			p.out.Set = append(p.out.Set, PlacedSetting{p.as.Visit.Axles[p.groups[i].axle].ID, s.Set, s.LookUp.Estimated})
		}
	}
	return err
}

// setOf finds what each axle that has all of its tires is to be set to.
func (p *placer) setOf(a arrangement) (map[int]*inflation.Setting, error) {
	out := make(map[int]*inflation.Setting)
	for i := range p.groups {
		g := &p.groups[i]
		mask, all := p.maskOf(g, a.at)
		if g.axle < 0 || !all {
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
		if p.as.Tires[at].Position != nil {
			line.Axle = p.as.Visit.Axles[p.as.Tires[at].AxleIndex].ID
		}
		if t := p.at(at); t != noTire {
			line.Tire, line.Tread, line.Air = p.as.Tires[t].Name, p.as.Tires[t].Line.Tread, p.airAt(at)
		}
		p.out.Places = append(p.out.Places, line)
		mate := p.innerOf(at)
		if mate == noTire || p.best[at] == noTire || p.best[mate] == noTire {
			continue
		}
		outer, inner := &p.as.Tires[p.best[at]], &p.as.Tires[p.best[mate]]
		pair := PlacedPair{Name: p.endOf(at), Outer: outer.Name, Inner: inner.Name}
		switch c := judge.InsideOf(outer, inner); {
		case c.Inside == outer.Name:
			pair.Why = "though the other belongs there by this: " + c.Words()
		default:
			pair.Why = c.Words()
		}
		p.out.Pairs = append(p.out.Pairs, pair)
	}
}

// wornSoon says which tires come onto another axle, or off a carrier, with hardly more
// tread than a rule wants there.
func (p *placer) wornSoon() (said []string, err error) {
	for _, at := range p.tires {
		t, st := p.at(at), &p.as.Tires[at]
		if t == noTire || st.Position == nil || p.as.Tires[t].AxleIndex == st.AxleIndex {
			continue
		}
		soon, err := p.soonWorn(t, at)
		if err != nil {
			return nil, err
		}
		if soon {
			left := p.tread(t).String()
			if p.as.Visit.System == weight.Metric {
				left = string(p.tread(t).AppendIn(nil, weight.Millimeter, 1, weight.Floor)) + " mm"
			}
			said = append(said, "The tire from "+p.as.Tires[t].Name+" has "+left+" of tread left, hardly more than is wanted at "+st.Name+": it is worn out there soon. Look for one with more, and probe it again before every trip.")
		}
	}
	return said, nil
}

// anywhere reports whether a tire breaks at one place on the road at least no rule that
// forbids it, whichever tires run beside it.
func (p *placer) anywhere(tire int) bool {
	return slices.ContainsFunc(p.tires, func(at int) bool {
		v, err := p.judgeTire(tire, at, nil)
		return p.as.Tires[at].Position != nil && err == nil && !v.hard
	})
}

package loading

import (
	"slices"

	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// remembered asks for each set once.
func remembered(of judge.Of) judge.Of {
	known := make(map[weight.Set]weight.Estimate)
	return func(set weight.Set) weight.Estimate {
		e, is := known[set]
		if !is {
			e = of(set)
			known[set] = e
		}
		return e
	}
}

// A held set is one axle end, axle, vehicle, or what is towed, and one rule on the
// most that it may carry. A rule on tires holds their end, and each by its share.
type held struct {
	*judge.Assessment
	rule    *rules.Rule
	measure rules.MeasureRef
	facts   []*rules.Facts
	on      weight.Set
	whose   string // in words: "drive, left end"
	what    string // which rating: "half GAWR"
	rating  weight.Mass
	known   bool // the rating is
	atMost  bool // it is at most what was read, and may be less
}

// watch notes what the rules hold a subject to, while it is judged.
func (w *weighed) watch(f *rules.Facts) error {
	w.solved()
	on, whose := w.about(f)
	if on == 0 {
		return nil
	}
	loads := w.Refs.LoadsOf(f.Subject())
	found, _, err := w.Program.AppendNotKept(nil, f, append(loads, w.Refs.CargoLoaded)...)
	if err != nil {
		return err
	}
	if f.Subject() == "coach" {
		w.coach = f.Clone()
		w.cargo, w.cargoMost = w.ofCargo(found)
	}
	for i := range found {
		x := &found[i]
		most, known, is := judge.Bounds(x)
		if !is || !slices.Contains(loads, x.Rule.Measure()) {
			continue
		}
		h := &held{Assessment: w.Assessment, rule: x.Rule, measure: x.Rule.Measure(), on: on, whose: whose, rating: most, known: known}
		if high, ok := x.Bound().Most(); !known && ok && x.Verdict == rules.Breached { // it is over the most that this may be
			most = weight.Mass(high)
			h.rating, h.known, h.atMost = most, true, true
		}
		if h.measure == w.Refs.TowedLoad {
			h.on, h.whose = w.rig.Towed(), ""
			h.rating -= w.besideAxles()
		}
		if x.Rule.Relation() == rules.LessThan {
			h.rating -= w.Visit.System.MassGrid()
		}
		h.what = w.RatingName(x, most)
		h.facts = []*rules.Facts{f.Clone()}
		if f.Subject() == "tire" {
			w.holdTire(h)
			continue
		}
		w.held = append(w.held, h)
	}
	return nil
}

// ofCargo is what the rules say of the cargo label, and the least that any of them lets be
// loaded: 0 where that is not known.
func (w *weighed) ofCargo(found []rules.Finding) (said rules.Verdict, most weight.Mass) {
	for i := range found {
		f := &found[i]
		if f.Rule.Measure() != w.Refs.CargoLoaded || report.Action(f.Rule.Action().Name) == report.Plan {
			continue
		}
		said = max(said, f.Verdict)
		if m, known, is := judge.Bounds(f); known && is && (most == 0 || m < most) {
			most = m
		}
	}
	return said, most
}

// cargoAfter is what the rules say of the cargo label once the coach weighs so much, after
// the changes for the trip; 0 where none is about it.
func (w *weighed) cargoAfter(coach weight.Estimate) (*judge.CargoLabel, rules.Verdict, error) {
	label, err := w.CargoLabelAfter(coach)
	if err != nil || label == nil || w.coach == nil {
		return nil, w.cargo, nil // what it lacks is said as weighed
	}
	found, _, err := w.Program.AppendNotKept(nil, w.coach.Clone().Set(w.Refs.CargoLoaded, w.LoadedBy(label)), w.Refs.CargoLoaded)
	if err != nil {
		return nil, 0, err
	}
	said, _ := w.ofCargo(found)
	return label, said, nil
}

// solved takes what the readings say, once.
func (w *weighed) solved() {
	if w.onScale == nil {
		w.rig, w.onScale = w.Solution.Rig(), remembered(w.Solution.Of)
		w.groups = w.Groups()
	}
}

// holdTire adds a tire's rule to those of its end: a pair shares alike, so it
// carries twice what the weaker one does. A tire that was weighed by itself is held
// to it alone, too.
func (w *weighed) holdTire(h *held) {
	st := w.TireNamed(h.facts[0].Name())
	if wheel := st.Position.Set; w.onScale(wheel).Known() && wheel != h.on {
		alone := *h
		alone.on, alone.whose = wheel, st.Name
		alone.facts = []*rules.Facts{h.facts[0].Clone()}
		w.wheels = append(w.wheels, &alone)
	}
	if w.Visit.Axles[st.AxleIndex].Fitment == weight.Dual {
		pair, err := h.rating.MulDiv(2, 1, weight.Floor)
		h.rating, h.known = pair, h.known && err == nil
	}
	for _, e := range w.held {
		if e.rule == h.rule && e.on == h.on {
			if h.known && (!e.known || h.rating < e.rating) { // what one of them carries holds though the other was not read
				e.rating, e.known, e.what = h.rating, true, h.what
			}
			e.facts = append(e.facts, h.facts[0])
			return
		}
	}
	w.held = append(w.held, h)
}

// about is what facts are about: nothing that is weighed, for a spare or a pair.
func (w *weighed) about(f *rules.Facts) (on weight.Set, whose string) {
	switch f.Subject() {
	case "coach":
		return w.rig.Coach(), ""
	case "combination":
		return w.rig.All(), ""
	case "group":
		for i := range w.groups {
			if g := &w.groups[i]; g.Name == f.Name() {
				return g.Set, g.Name
			}
		}
	case "axle":
		for i, ax := range w.Visit.Axles {
			if ax.ID == f.Name() {
				return weight.AxleOf(i), ax.ID
			}
		}
	case "end":
		for i := range w.Visit.Axles {
			if k := slices.Index(w.Layout.EndNames[i][:], f.Name()); k >= 0 {
				return w.end(i, weight.Left+weight.Side(k))
			}
		}
	case "tire":
		if st := w.TireNamed(f.Name()); st != nil && st.Position != nil {
			return w.end(st.AxleIndex, st.Position.Side)
		}
	}
	return 0, ""
}

func (w *weighed) end(axle int, side weight.Side) (weight.Set, string) {
	return weight.EndOf(axle, side), w.Visit.Axles[axle].ID + ", " + side.String() + " end"
}

// besideAxles is what the towed unit weighs beside what its axles carry: what rests
// on the hitch, where that counts.
func (w *weighed) besideAxles() weight.Mass {
	axles := w.onScale(w.rig.Towed())
	least, ok := w.Carried(w.Refs.TowedLoad, w.rig.Towed(), w.onScale).Least()
	if !ok || !axles.Known() {
		return 0
	}
	return max(weight.Mass(least)-axles.AtLeast(), 0)
}

// order puts what is stated of an end before what its tires and wheels add up to.
func (h *held) order() int {
	if h.rule.Subject() == "tire" {
		return 1
	}
	return 0
}

// limit is the rule's as a plan takes it.
func (h *held) limit() cargo.Limit {
	l := cargo.Limit{Name: h.what, Rating: h.rating, On: h.on, Source: h.rule.Sources()[0]}
	if h.whose != "" {
		l.Name += ", " + h.whose
	}
	return l
}

// findings are what the rule says of what the set carries, of each of its tires.
func (h *held) findings(of judge.Of) ([]rules.Finding, error) {
	var out []rules.Finding
	for _, f := range h.facts {
		value := h.Carried(h.measure, h.on, of)
		if h.wheel() {
			value = h.Carried(h.Refs.LoadsOf("coach")[0], h.on, of) // it is weighed by itself: nothing is shared
		}
		all, _, err := h.Program.AppendNotKept(nil, f.Set(h.measure, value), h.measure)
		if err != nil {
			return nil, err
		}
		for i := range all {
			if all[i].Rule == h.rule {
				out = append(out, all[i])
			}
		}
	}
	return out, nil
}

// wheel reports whether it is one wheel of a pair.
func (h *held) wheel() bool { return h.rule.Subject() == "tire" && h.Layout.Splits(h.on) }

// margin is what the rule says, of the worst of the tires. ok is false where the rule
// does not apply, or no rating is known.
func (h *held) margin(of judge.Of) (line MarginLine, ok bool, err error) {
	found, err := h.findings(of)
	if err != nil || len(found) == 0 || !h.known {
		return MarginLine{}, false, err
	}
	line = MarginLine{Rule: h.rule.Name(), What: h.what, Name: h.limit().Name, Rating: h.rating, Room: cargo.MarginOf(h.limit(), of(h.on)).Room,
		Action: report.Action(h.rule.Action().Name), Sources: h.rule.Sources()}
	for i := range found {
		line.Verdict = max(line.Verdict, found[i].Verdict)
	}
	line.Stops = line.Verdict == rules.Breached && h.rule.Action().Stops
	return line, true, nil
}

// margins are the lines on one set.
func margins(list []*held, set weight.Set, of judge.Of) ([]MarginLine, error) {
	var out []MarginLine
	for _, h := range list {
		if h.on != set {
			continue
		}
		line, ok, err := h.margin(of)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, line)
		}
	}
	return out, nil
}

// missing is what has to be written down for a rule to be judged, as weighed.
func (w *weighed) missing() error {
	for _, h := range slices.Concat(w.held, w.wheels) {
		found, err := h.findings(w.onScale)
		if err != nil {
			return err
		}
		for i := range found {
			f := &found[i]
			if f.Verdict != rules.NotRecorded {
				continue
			}
			for _, measure := range f.ToRecord() {
				where, need, rule := w.LimitNeed(f, measure)
				w.gap(where, need, rule)
			}
		}
	}
	return nil
}

// gap adds what is missing, once, with the rules that wait for it.
func (w *weighed) gap(where, need, rule string) {
	for i := range w.gaps {
		if g := &w.gaps[i]; g.Where == where && g.Need == need {
			if rule != "" && !slices.Contains(g.Rules, rule) {
				g.Rules = append(g.Rules, rule)
			}
			return
		}
	}
	g := report.NotJudged{Where: where, Need: need}
	if rule != "" {
		g.Rules = []string{rule}
	}
	w.gaps = append(w.gaps, g)
}

package inspect

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func loadValue(e weight.Estimate) rules.Value {
	if !e.Known() {
		return rules.Value{}
	}
	return rules.PlusMinus(e.Load, e.PlusMinus)
}

func value[T ~int64](r Recorded[T]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Quantity(v)
}

// setWhere sets what was recorded, and nothing else.
func setWhere[T ~int64](f *rules.Facts, m rules.MeasureRef, r Recorded[T]) {
	if v, ok := r.Get(); ok {
		f.Set(m, rules.Quantity(v))
	}
}

// bit is the bit at a place, if it is.
func bit(is bool, at int) uint64 {
	if is {
		return 1 << at
	}
	return 0
}

func flag(r Recorded[bool]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Flag(v)
}

func (a *assessment) loadLine(name string, kind LoadKind, set weight.Set) {
	var e weight.Estimate
	line := LoadLine{Name: name, Kind: kind}
	if len(a.visit.Weighing.Readings) > 0 {
		e = a.solution.Of(set)
		if !e.Known() {
			for _, p := range a.solution.Settle(set).Weighings {
				line.Settle = append(line.Settle, p.Instruction)
			}
		}
	}
	line.Estimate = e
	a.report.Loads = append(a.report.Loads, line)
}

// endLoad is what an axle end carries.
func (a *assessment) endLoad(axle int, side weight.Side) weight.Estimate {
	return a.report.Loads[2*axle+int(side-weight.Left)].Estimate
}

// axleLoad is the line of an axle, behind those of all the ends.
func (a *assessment) axleLoad(axle int) *LoadLine {
	return &a.report.Loads[2*len(a.visit.Axles)+axle]
}

// run judges one subject; of what carries a load, its ratings go into its line.
func (a *assessment) run(f *rules.Facts, line *LoadLine, load ...rules.MeasureRef) error {
	from := len(a.findings)
	var err error
	var kept int
	if a.findings, kept, err = a.program.AppendNotKept(a.findings, f, load...); err != nil {
		return err
	}
	a.report.Kept += kept
	for i := from; line != nil && i < len(a.findings); i++ {
		if f := &a.findings[i]; f.Verdict != rules.NotRecorded && slices.Contains(load, f.Rule.Measure()) {
			a.addRating(line, f)
		}
	}
	a.take(from)
	return a.watched(f)
}

func (a *assessment) watched(f *rules.Facts) error {
	if a.watch == nil {
		return nil
	}
	return a.watch(f)
}

// runPlanned judges a load once more as it will be after the changes for the
// trip. What the weighed load breaks already is not said again.
func (a *assessment) runPlanned(f *rules.Facts, load rules.MeasureRef, set weight.Set, also ...rules.MeasureRef) error {
	if !a.changes {
		return nil
	}
	weighed := f.Get(load)
	e := a.trip.At(1, set)
	from := len(a.planned)
	var err error
	if a.planned, _, err = a.program.AppendNotKept(a.planned, f.Set(load, loadValue(e))); err != nil {
		return err
	}
	f.Set(load, weighed)
	stay := from
	for _, p := range a.planned[from:] {
		said := slices.ContainsFunc(a.findings, func(w rules.Finding) bool { return w.Rule == p.Rule && w.Name == p.Name })
		m := p.Rule.Measure()
		if p.Verdict != rules.NotRecorded && (m == load || slices.Contains(also, m)) && !said {
			a.planned[stay] = p
			stay++
		}
	}
	a.planned = a.planned[:stay]
	return nil
}

// judge turns what is known into facts, and holds these to the rules: the
// tires first, since what stops a coach is mostly found there.
func (a *assessment) judge() error {
	a.findings, a.planned = nil, nil
	if err := a.judgeTires(); err != nil {
		return err
	}
	if err := a.judgeAxles(); err != nil {
		return err
	}
	return a.judgeTotals()
}

// loadLines lists what everything carries.
func (a *assessment) loadLines() {
	v := a.visit
	a.report.Loads = make([]LoadLine, 0, 3*len(v.Axles)+2)
	for i := range v.Axles {
		a.loadLine(a.layout.ends[i][0], EndLoad, weight.EndOf(i, weight.Left))
		a.loadLine(a.layout.ends[i][1], EndLoad, weight.EndOf(i, weight.Right))
	}
	for i := range v.Axles {
		a.loadLine(v.Axles[i].ID, AxleLoad, weight.AxleOf(i))
	}
	a.loadLine("coach", CoachLoad, a.layout.coach)
	if a.layout.all != a.layout.coach || v.Ratings.GCWR.Is() {
		a.loadLine("combination", CombinationLoad, a.layout.all)
	}
}

// judgeTires judges each tire, a dual pair's two together: first as if none had
// run low, which tells whether one did. Nobody may be told to air up such a
// tire, or its mate; so where one did, both are judged again with that known.
func (a *assessment) judgeTires() error {
	for i := range a.tires {
		st := &a.tires[i]
		if !a.counts(st) || st.mate >= 0 && st.mate < i {
			continue
		}
		pair, n := [2]*tireState{st}, 1
		if st.mate >= 0 {
			pair[1], n = &a.tires[st.mate], 2
		}
		facts, from, kept := a.facts.tire[:n], len(a.findings), 0
		no := Record(false)
		low, none, first := [2]Recorded[bool]{no, no}, true, from
		for k, f := range facts {
			f.Reset(pair[k].name)
			a.tireFacts(pair[k], f)
			more, err := a.judgeTire(f, no, no, a.refs.runLowBy[:]...)
			if err != nil {
				return err
			}
			kept += more
			low[k] = a.ranLow(pair[k], a.findings[first:])
			none, first = none && low[k] == no, len(a.findings)
		}
		if !none {
			a.findings, kept = a.findings[:from], 0
		}
		for k, f := range facts {
			pair[k].low, pair[k].line.NoAir = low[k], yes(low[k]) || yes(low[1-k])
			if !none {
				more, err := a.judgeTire(f, low[k], low[1-k])
				if err != nil {
					return err
				}
				kept += more
			}
			if err := a.watched(f); err != nil {
				return err
			}
		}
		a.report.Kept += kept
		a.take(from)
	}
	return nil
}

// judgeTire judges one tire, of which and of whose mate is said whether it ran
// low. It returns how many rules are kept, and lists them where they are on the
// measures in also.
func (a *assessment) judgeTire(f *rules.Facts, low, mateLow Recorded[bool], also ...rules.MeasureRef) (kept int, err error) {
	if no := Record(false); low == no && mateLow == no {
		f.SetFlags(a.ran, 0)
	} else {
		f.Set(a.refs.runLow, flag(low)).Set(a.refs.surelyFlat, rules.Flag(yes(low))).Set(a.refs.mateRunLow, flag(mateLow))
	}
	a.findings, kept, err = a.program.AppendNotKept(a.findings, f, also...)
	return kept, err
}

// ranLow says whether its findings condemn a tire for the pressure that it was
// driven at: yes if one that stops the coach does, not recorded while one of
// them could not be judged, else no. The bound below which it counts as flat
// goes into its line: of several the highest, and the worst that any says. A
// pressure that is only a most, hot or after air was added, condemns a tire and
// clears none.
func (a *assessment) ranLow(st *tireState, findings []rules.Finding) Recorded[bool] {
	line, out := st.line, Record(false)
	for i := range findings {
		f := &findings[i]
		if !a.aboutRunLow(f.Rule) {
			continue
		}
		if low, _, ok := f.Bound().Interval(); ok {
			if at, known := line.FlatAt.Get(); !known || inflation.Pressure(low) > at {
				line.FlatAt = Record(a.written(inflation.Pressure(low)))
			}
		}
		if f.Rule.Measure() == a.refs.lowest || f.Verdict > rules.NotRecorded {
			line.RunLow = max(line.RunLow, f.Verdict)
		}
		switch f.Verdict {
		case rules.Breached, rules.TooClose:
			out = Record(true)
		case rules.NotRecorded:
			if !yes(out) {
				out = Recorded[bool]{}
			}
		}
	}
	return out
}

// judgeAxles judges the ends, the dual pairs and the axles.
func (a *assessment) judgeAxles() error {
	v, r := a.visit, a.refs
	end, axle, duals := a.facts.end, a.facts.axle, a.facts.pair
	for i := range v.Axles {
		if !a.counted[i] {
			continue
		}
		ax := &v.Axles[i]
		role := rules.Word(int(a.layout.roles[i]) - 1)
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			line := &a.report.Loads[2*i+k]
			end.Reset(line.Name)
			end.Set(r.endLoad, loadValue(line.Estimate)).Set(r.endGAWR, value(ax.GAWR)).Set(r.endRole, role)
			if err := a.run(end, line, r.endLoad); err != nil {
				return err
			}
			if err := a.runPlanned(end, r.endLoad, weight.EndOf(i, side)); err != nil {
				return err
			}
			tires := a.onAxle(i)
			for j := range tires {
				st := &tires[j]
				if st.mate < 0 || st.wheel.place != Outer || st.wheel.side != side {
					continue
				}
				duals.Reset(line.Name)
				a.pairFacts(st, &a.tires[st.mate], duals)
				if a.report.Pairs[len(a.report.Pairs)-1].InsideBy == disagreeWords {
					a.todo(Item{Action: BeforeTrip, Verdict: rules.NotRecorded, Where: line.Name, What: sizesInDoubt,
						Advice:  "Measure both again, mounted and at one pressure, then see which belongs inside.",
						Sources: []origin.Source{{Grade: origin.Computed}}})
				}
				from := len(a.findings)
				if err := a.run(duals, nil); err != nil {
					return err
				}
				a.split(from)
			}
		}
		axle.Reset(ax.ID)
		var set *inflation.Setting
		for j := range a.report.Settings {
			if a.report.Settings[j].Name == ax.ID {
				set = &a.report.Settings[j]
			}
		}
		a.axleFacts(i, set, axle)
		from := len(a.findings)
		if err := a.run(axle, a.axleLoad(i), r.axleLoad); err != nil {
			return err
		}
		a.saidOfPair(i, from)
		if a.shortOnTrip[i] {
			axle.Set(r.axleNoPressure, rules.Flag(true))
		}
		if err := a.runPlanned(axle, r.axleLoad, weight.AxleOf(i), r.axleNoPressure); err != nil {
			return err
		}
	}
	return nil
}

// split takes back which tire belongs inside where the pair just judged may not
// stay together: swapping the two does not help.
func (a *assessment) split(from int) {
	for i := from; i < len(a.findings); i++ {
		f := &a.findings[i]
		switch m := f.Rule.Measure(); m {
		case a.refs.pairTread, a.refs.pairDiameterDiff, a.refs.pairRoundDiff, a.refs.pairSize, a.refs.pairKind:
			if f.Verdict == rules.Breached {
				line := &a.report.Pairs[len(a.report.Pairs)-1]
				line.Inside, line.InsideBy = "", splitWords
			}
		}
	}
}

// saidOfPair takes back that an axle's tires were found far apart, where the same
// was just said of one of its pairs.
func (a *assessment) saidOfPair(axle, from int) {
	for i := from; i < len(a.findings); i++ {
		f := &a.findings[i]
		if m := f.Rule.Measure(); m != a.refs.axleFoundSpread && m != a.refs.axleFoundSome {
			continue
		}
		if slices.ContainsFunc(a.findings[:from], func(p rules.Finding) bool {
			return p.Rule.Measure() == a.refs.pairPsi && p.Verdict == f.Verdict && p.Value == f.Value && slices.Contains(a.layout.ends[axle][:], p.Name)
		}) {
			a.findings = slices.Delete(a.findings, i, i+1)
			i--
		}
	}
}

// axleFacts fills in what is known of an axle with its tires, set as said, nil
// where no pressure could be found.
func (a *assessment) axleFacts(i int, set *inflation.Setting, f *rules.Facts) {
	r, ax := a.refs, &a.visit.Axles[i]
	f.Set(r.axleLoad, loadValue(a.axleLoad(i).Estimate)).Set(r.axleGAWR, value(ax.GAWR)).Set(r.axleRole, rules.Word(int(a.layout.roles[i])-1))
	f.Set(r.axleTires, value(a.axleCapacity(i))).Set(r.axleMixed, flag(a.mixed(i))).Set(r.axleSizes, flag(a.mixedSize(i)))
	all, some := a.spread(i, (*tireState).coldLeft)
	f.Set(r.axleLeftSpread, value(all)).Set(r.axleLeftSome, value(some))
	all, some = a.spread(i, (*tireState).cold)
	f.Set(r.axleFoundSpread, value(all)).Set(r.axleFoundSome, value(some)).Set(r.axleRanLow, rules.Flag(a.ranLowOn(i)))
	if set != nil && set.Outcome != inflation.NotJudged {
		f.Set(r.axleNoPressure, rules.Flag(set.Outcome == inflation.Short && !a.shortOnTrip[i]))
	}
}

// judgeTotals judges the coach and, where there is one, the combination.
func (a *assessment) judgeTotals() error {
	v, r := a.visit, a.refs
	for i := 3 * len(v.Axles); i < len(a.report.Loads); i++ {
		line := &a.report.Loads[i]
		f, load, set := a.facts.combination, r.comboLoad, a.layout.all
		if line.Kind == CoachLoad {
			f, load, set = a.facts.coach, r.coachLoad, a.layout.coach
		}
		f.Reset(line.Name)
		if line.Kind == CoachLoad {
			off, soon := a.wheelOff()
			f.Set(r.coachGVWR, value(v.Ratings.GVWR)).Set(r.coachStood, value(v.Stood))
			f.Set(r.coachWheelOff, rules.Flag(off)).Set(r.coachOffSoon, rules.Flag(soon))
		} else {
			f.Set(r.comboGCWR, value(v.Ratings.GCWR))
		}
		f.Set(load, loadValue(line.Estimate))
		if err := a.run(f, line, load); err != nil {
			return err
		}
		if err := a.runPlanned(f, load, set); err != nil {
			return err
		}
	}
	return nil
}

// wheelOff reports whether anything that was found takes a wheel off the coach,
// and whether any of that is to be done before the trip.
func (a *assessment) wheelOff() (off, soon bool) {
	for i := range a.findings {
		if f := &a.findings[i]; f.Rule.Involves(WheelOff) && !isSpare(f.Name) {
			off = true
			if soon = f.Rule.Action().Name != Plan; soon {
				break
			}
		}
	}
	return off, soon
}

// treadSpread is how far apart the treads of the coach's tires on the road are;
// not recorded unless all were probed.
func (a *assessment) treadSpread() Recorded[weight.Length] {
	low, high, n := weight.Length(0), weight.Length(0), 0
	for i := range a.layout.wheels {
		st := &a.tires[i]
		if a.visit.Axles[st.axle].Towed {
			continue
		}
		d, ok := st.line.Tread.Get()
		if !ok {
			return Recorded[weight.Length]{}
		}
		if n == 0 || d < low {
			low = d
		}
		high = max(high, d)
		n++
	}
	return Record(high - low)
}

// onAxle are the tires of an axle.
func (a *assessment) onAxle(axle int) []tireState {
	return a.tires[a.layout.first[axle]:a.layout.first[axle+1]]
}

// counts reports whether a tire is part of this visit.
func (a *assessment) counts(st *tireState) bool { return st.axle < 0 || a.counted[st.axle] }

func (a *assessment) tireRole(st *tireState) int {
	if st.axle < 0 {
		return len(allRoles) - 1
	}
	return int(a.layout.roles[st.axle]) - 1
}

// stamped is the tire's rating in its fitment, a passenger tire's (or that of
// a tire of unknown class) divided by 1.10.
func (a *assessment) stamped(st *tireState) Recorded[weight.Mass] {
	if st.axle < 0 {
		return Recorded[weight.Mass]{}
	}
	m, ok := st.tire.RatedLoad(a.visit.Axles[st.axle].Fitment, false, a.visit.System)
	if !ok {
		return Recorded[weight.Mass]{}
	}
	return Record(m)
}

func (a *assessment) axleCapacity(axle int) Recorded[weight.Mass] {
	var sum weight.Mass
	tires := a.onAxle(axle)
	for i := range tires {
		m, ok := a.stamped(&tires[i]).Get()
		if !ok {
			return Recorded[weight.Mass]{}
		}
		var err error
		if sum, err = weight.Sum(sum, m); err != nil {
			return Recorded[weight.Mass]{}
		}
	}
	return Record(sum)
}

func sameSize(x, y string) bool {
	return x == y || sidewall.NormalizeSize(x) == sidewall.NormalizeSize(y)
}

func (a *assessment) mixedSize(axle int) Recorded[bool] {
	mixed := false
	tires := a.onAxle(axle)
	for i := range tires {
		if tires[i].Size == "" {
			return Recorded[bool]{}
		}
		mixed = mixed || !sameSize(tires[0].Size, tires[i].Size)
	}
	return Record(mixed)
}

func (a *assessment) mixed(axle int) Recorded[bool] {
	radial, bias := false, false
	tires := a.onAxle(axle)
	for i := range tires {
		c, ok := tires[i].Construction.Get()
		if !ok {
			return Recorded[bool]{}
		}
		radial, bias = radial || c == inflation.Radial, bias || c != inflation.Radial
	}
	return Record(radial && bias)
}

// cold is the pressure as found where it is a cold one that may be judged.
func (st *tireState) cold() Recorded[inflation.Pressure] {
	if yes(st.Hot) {
		return Recorded[inflation.Pressure]{}
	}
	return st.found
}

// coldLeft is the pressure it was left at, if that was a cold one.
func (st *tireState) coldLeft() Recorded[inflation.Pressure] {
	if yes(st.Hot) {
		return Recorded[inflation.Pressure]{}
	}
	return st.Left
}

// ranLowOn reports whether a tire of the axle ran low, or its mate did.
func (a *assessment) ranLowOn(axle int) bool {
	tires := a.onAxle(axle)
	for i := range tires {
		if tires[i].line.NoAir {
			return true
		}
	}
	return false
}

// spread is how far apart pressures of an axle's tires are: of all of them, or of
// some, where others were not recorded.
func (a *assessment) spread(axle int, of func(*tireState) Recorded[inflation.Pressure]) (all, some Recorded[inflation.Pressure]) {
	low, high, n := inflation.Pressure(0), inflation.Pressure(0), 0
	tires := a.onAxle(axle)
	for i := range tires {
		p, ok := of(&tires[i]).Get()
		if !ok {
			continue
		}
		if n == 0 || p < low {
			low = p
		}
		high = max(high, p)
		n++
	}
	switch {
	case n == len(tires):
		all = Record(high - low)
	case n > 1:
		some = Record(high - low)
	}
	return all, some
}

// foundSpread is the most by which an axle's cold pressures can differ: a tire
// that was not read counts as empty.
func (a *assessment) foundSpread(axle int) inflation.Pressure {
	low, high, n := inflation.Pressure(0), inflation.Pressure(0), 0
	tires := a.onAxle(axle)
	for i := range tires {
		p, _ := tires[i].cold().Get()
		if n == 0 || p < low {
			low = p
		}
		high = max(high, p)
		n++
	}
	return high - low
}

// target is the pressure that a tire is judged by, and which of the words of
// judgedBy says where it comes from.
func (a *assessment) target(st *tireState) (inflation.Pressure, int, bool) {
	if p, ok := st.LastSet.Get(); ok {
		return p, 0, true
	}
	if st.axle < 0 {
		most := a.mostSet(st)
		return most, 3, most > 0
	}
	if p, ok := a.visit.Axles[st.axle].Placard.Get(); ok {
		return p, 1, true
	}
	if st.set != nil && st.set.Minimum > 0 {
		return st.set.Minimum, 2, true
	}
	return 0, 0, false
}

var judgedWords = []string{"last set", "placard", "for its load", "most of any axle"}

// mostSet is the highest pressure to set on an axle that a spare may go to, for
// which it is kept ready, and no more than its own stamps allow; 0 if there is
// none. It may go to any axle of the coach, but to none of another size.
func (a *assessment) mostSet(st *tireState) inflation.Pressure {
	most := inflation.Pressure(0)
	for i := range a.visit.Axles {
		on := a.onAxle(i)
		if on[0].set == nil {
			continue
		}
		fits := !a.visit.Axles[i].Towed && (st.Size == "" || on[0].Size == "")
		for j := range on {
			fits = fits || st.Size != "" && on[j].Size != "" && sameSize(st.Size, on[j].Size)
		}
		if fits {
			most = max(most, on[0].set.Set)
		}
	}
	for _, r := range [...]Recorded[Stamp]{st.Single, st.Dual, st.Wheel} {
		if s, ok := r.Get(); ok {
			most = min(most, s.At)
		}
	}
	return most
}

func (a *assessment) tireFacts(st *tireState, f *rules.Facts) {
	r, tolerance := a.refs, inflation.Pressure(0)
	if t, ok := a.visit.GaugeTolerance.Get(); ok {
		tolerance = t
	}
	place := Spare
	if st.wheel != nil {
		place = st.wheel.place
	}
	f.Set(r.role, rules.Word(a.tireRole(st))).Set(r.place, rules.Word(int(place)-1))
	if c, ok := st.Class.Get(); ok {
		f.Set(r.class, rules.Word(int(c)-1))
	}
	if c, ok := st.Construction.Get(); ok {
		f.Set(r.construction, rules.Word(int(c)-1))
	}
	rated := a.stamped(st)
	f.Set(r.retread, flag(st.Retread)).Set(r.regrooved, flag(st.Regrooved)).Set(r.load, loadValue(st.line.Load)).Set(r.capacity, value(rated))
	if w, ok := st.Wheel.Get(); ok {
		f.Set(r.wheelCapacity, rules.Quantity(w.Load))
	}
	line := st.line
	line.Place = place
	if st.wheel != nil {
		line.Axle, line.Side = a.visit.Axles[st.axle].ID, st.wheel.side
	}
	hot := yes(st.Hot)
	var capacity Recorded[weight.Mass] // as found
	if p, ok := st.found.Get(); ok {
		if hot {
			f.Set(r.hotFound, rules.PlusMinus(p, tolerance))
		} else {
			// The reading as it stands: the pressure to set is set by the same
			// gauge. Its tolerance counts where a tire may be a flat.
			f.Set(r.found, rules.Quantity(p))
			capacity = a.capacityAt(st, p, rated)
			f.Set(r.capacityFound, value(capacity))
		}
	}
	lowest := st.Lowest
	if p, ok := st.found.Get(); ok {
		switch low, known := lowest.Get(); {
		case hot && known && p < low:
			lowest = Recorded[inflation.Pressure]{} // cold it is lower still
		case hot:
		case !known && yes(st.AirAdded):
			f.Set(r.afterAir, rules.PlusMinus(p, tolerance))
		case !known || p < low:
			lowest = st.found
		}
	}
	if p, ok := lowest.Get(); ok {
		f.Set(r.lowest, rules.PlusMinus(p, tolerance))
	}
	if p, by, ok := a.target(st); ok {
		f.Set(r.target, rules.Quantity(p)).Set(r.judgedBy, rules.Word(by))
		line.JudgedBy, line.JudgedOf = Record(p), judgedWords[by]
	}
	above := false
	if st.set != nil {
		if st.set.Outcome == inflation.CanSet || st.set.Outcome == inflation.TooClose {
			f.Set(r.toSet, rules.Quantity(st.set.Set))
		}
		if p, ok := lowest.Get(); ok && st.set.Minimum > 0 {
			above = p-tolerance >= st.set.Minimum
		}
		f.Set(r.axleSpread, rules.Quantity(a.foundSpread(st.axle)))
	}
	if st.wheel != nil {
		if p := a.mostPressure(st); p > 0 {
			f.Set(r.mostPressure, rules.Quantity(p))
		}
		if side, ok := st.Rotates.Get(); ok {
			f.Set(r.againstArrow, rules.Flag(!side.runs(st.wheel.side)))
		}
	}
	if t, ok := st.Tread.Get(); ok {
		if d, ok := t.Least(); ok {
			f.Set(r.tread, rules.Quantity(d))
			line.Tread = Record(d)
		}
		shoulders, center := t.belowCenter()
		setWhere(f, r.shoulders, t.shoulders())
		setWhere(f, r.treadAround, t.around())
		setWhere(f, r.belowCenter, shoulders)
		setWhere(f, r.belowShoulders, center)
	}
	if found, left, ok := both(st.found, st.Left); ok {
		f.Set(r.airedUp, rules.Quantity(max(0, left-found)))
	}
	left := st.coldLeft()
	if p, ok := left.Get(); ok {
		if found, _ := st.found.Get(); p != found || !capacity.Is() {
			capacity = a.capacityAt(st, p, rated)
		}
		f.Set(r.left, rules.Quantity(p)).Set(r.capacityLeft, value(capacity))
	}
	if st.mate >= 0 {
		f.Set(r.loadAlone, loadValue(a.endLoad(st.axle, st.wheel.side)))
	}
	if line.Age != a.aged.age {
		a.aged.age, a.aged.value = line.Age, ageValue(line.Age)
	}
	f.Set(r.age, a.aged.value)
	setWhere(f, r.crackDepth, st.CrackDepth)
	setWhere(f, r.cutDepth, st.CutDepth)
	setWhere(f, r.injuryWidth, st.InjuryWidth)
	if i, ok := st.InjuryAt.Get(); ok {
		f.Set(r.injuryAt, rules.Word(int(i)-1))
	}
	seen, looked := st.Seen.Get()
	f.SetFlags(a.noted, bit(above, 0)|bit(left.Is(), 1)|bit(st.CrackDepth.Is(), 2)|bit(looked, 3))
	if looked {
		f.SetFlags(a.conditions, uint64(seen)>>ExposedCord)
		if hidden := st.hidden(seen); hidden != 0 {
			for _, c := range hidden.All() {
				f.Set(r.conditions[c], rules.Value{})
			}
		}
	}
	line.At, line.Size, line.Hot = st.name, st.Size, hot
	line.Found, line.Lowest, line.Left, line.Seen, line.Note = st.Found, st.Lowest, st.Left, st.Seen, st.Note
	line.TreadAt, line.Service, line.Sidewalls, line.Unjudged = st.Tread, st.Service, st.Sidewalls, st.whyOpen(lowest)
	line.CrackDepth, line.CutDepth, line.InjuryWidth, line.InjuryAt = st.CrackDepth, st.CutDepth, st.InjuryWidth, st.InjuryAt
}

// ageValue is an age from the youngest to the oldest that it can be.
func ageValue(a dotcode.Age) rules.Value {
	oldest, ok1 := a.AtMost()
	youngest, ok2 := a.AtLeast()
	if !ok1 || !ok2 {
		return rules.Value{}
	}
	return rules.Between(ageSteps(youngest), ageSteps(oldest))
}

// hidden are the conditions that a sidewall which nobody looked at may have,
// and what may be between the duals, but for those that were seen.
func (st *tireState) hidden(seen ConditionSet) ConditionSet {
	at, ok := st.Sidewalls.Get()
	if !ok || at == BothSidewalls {
		return 0
	}
	unseen := onSidewall
	if st.mate >= 0 {
		unseen |= betweenDuals
	}
	return unseen &^ seen
}

// alone says what either tire of a pair carries with its mate off the ground:
// on a block that is too short, or beside a flat.
func (a *assessment) alone(outer, inner *tireState, line *PairLine) {
	end := a.endLoad(outer.axle, outer.wheel.side)
	rated, other, ok := both(a.stamped(outer), a.stamped(inner))
	if !ok || !end.Known() {
		return
	}
	rated = min(rated, other)
	percent, err := end.Load.MulDiv(100, int64(rated), weight.Ceiling)
	if err != nil {
		return
	}
	line.AloneLoad, line.AloneRating, line.AlonePercent = end.Load, rated, int(percent)
}

// mostPressure is the lower of what sidewall and wheel state, 0 if neither was
// read.
func (a *assessment) mostPressure(st *tireState) inflation.Pressure {
	most := inflation.Pressure(0)
	lower := func(s Recorded[Stamp]) {
		if v, ok := s.Get(); ok && (most == 0 || v.At < most) {
			most = v.At
		}
	}
	if a.visit.Axles[st.axle].Fitment == weight.Dual {
		lower(st.Dual)
	} else {
		lower(st.Single)
	}
	lower(st.Wheel)
	return most
}

// capacityAt is what the tire carries at a pressure: by its table, else by the
// safe estimate; never more than it is rated for.
func (a *assessment) capacityAt(st *tireState, p inflation.Pressure, rated Recorded[weight.Mass]) Recorded[weight.Mass] {
	if st.axle < 0 {
		return Recorded[weight.Mass]{}
	}
	opt := st.opt
	opt.Method = inflation.Interpolated // what the tire carries, not what a row promises
	m, err := st.tire.CapacityAt(p, a.visit.Axles[st.axle].Fitment, opt, a.visit.System)
	if err != nil {
		return Recorded[weight.Mass]{}
	}
	if most, ok := rated.Get(); ok {
		m = min(m, most)
	}
	return Record(m)
}

// sharing says how two duals share their end's load, where each was weighed.
func (a *assessment) sharing(outer, inner *tireState, f *rules.Facts) {
	x, y := a.solution.Of(outer.wheel.set), a.solution.Of(inner.wheel.set)
	if !x.Known() || !y.Known() {
		return
	}
	f.Set(a.refs.pairHeavier, heavierOf(x, y)).Set(a.refs.pairLoad, loadValue(a.solution.Of(weight.EndOf(outer.axle, outer.wheel.side))))
}

// heavierOf is what the one of two carries that carries more, whichever that is.
func heavierOf(x, y weight.Estimate) rules.Value {
	if x.Load < y.Load {
		x, y = y, x
	}
	low, high := max(x.AtLeast(), y.AtLeast()), max(x.AtMost(), y.AtMost())
	if low != x.AtLeast() || high != x.AtMost() {
		return rules.Between(low, high)
	}
	return loadValue(x)
}

// written is a computed pressure as a report can tell it: exactly where a decimal
// names it, else rounded up. Psi less kPa, or a seventh, may have none.
func (a *assessment) written(p inflation.Pressure) inflation.Pressure {
	grid := inflation.PressureGrid(a.visit.System)
	if p%grid == 0 {
		return p
	}
	var room [64]byte
	if _, err := p.AppendText(room[:0]); err == nil {
		return p
	}
	return p.Round(grid, weight.Ceiling)
}

func absDiff[T ~int64](x, y T) T {
	if x < y {
		return y - x
	}
	return x - y
}

func (a *assessment) pairFacts(outer, inner *tireState, f *rules.Facts) {
	r := a.refs
	line := PairLine{Name: f.Name()}
	if to, ti, ok := both(outer.line.Tread, inner.line.Tread); ok {
		line.TreadDifference, line.DeeperInside = Record(absDiff(to, ti)), Record(ti > to)
		f.Set(r.pairTread, value(line.TreadDifference))
	}
	if do, di, ok := both(outer.Diameter, inner.Diameter); ok {
		f.Set(r.pairDiameter, rules.Quantity(max(do, di))).Set(r.pairDiameterDiff, rules.Quantity(absDiff(do, di)))
		f.Set(r.pairLarger, rules.Flag(di > do))
	}
	if co, ci, ok := both(outer.Circumference, inner.Circumference); ok {
		f.Set(r.pairRoundDiff, rules.Quantity(absDiff(co, ci)))
		if measured(outer.Diameter, inner.Diameter) == 0 {
			f.Set(r.pairLarger, rules.Flag(ci > co))
		}
		if !f.Get(r.pairDiameter).Recorded() {
			// The band a pair falls in: circumference over pi, between two
			// fractions that enclose pi.
			c := max(co, ci)
			low, err1 := c.MulDiv(113, 355, weight.Floor)
			high, err2 := c.MulDiv(106, 333, weight.Ceiling)
			if err1 == nil && err2 == nil {
				f.Set(r.pairDiameter, rules.Between(low, high))
			}
		}
	}
	if outer.Size != "" && inner.Size != "" {
		f.Set(r.pairSize, rules.Flag(sameSize(outer.Size, inner.Size)))
	}
	if co, ci, ok := both(outer.Construction, inner.Construction); ok {
		f.Set(r.pairKind, rules.Flag(co == ci))
	}
	if po, pi, ok := both(outer.cold(), inner.cold()); ok {
		f.Set(r.pairPsi, rules.Quantity(absDiff(po, pi)))
		line.FoundDifference = Record(a.written(absDiff(po, pi)))
	}
	if po, pi, ok := both(outer.coldLeft(), inner.coldLeft()); ok {
		line.LeftDifference = Record(a.written(absDiff(po, pi)))
	}
	f.Set(r.pairRanLow, rules.Flag(outer.line.NoAir || inner.line.NoAir))
	if a, b := outer.line.Age, inner.line.Age; a.Known() && b.Known() {
		f.Set(r.pairAge, madeApart(a, b))
	}
	a.alone(outer, inner, &line)
	if a.byWheel {
		a.sharing(outer, inner, f)
	}
	choice := insideOf(outer, inner)
	line.Inside, line.InsideBy = choice.inside, choice.words()
	switch choice.by {
	case byTread, alike:
		f.Set(r.pairDeeper, flag(line.DeeperInside))
	case bySize, twoModels: // then tread says nothing
		f.Set(r.pairDeeper, rules.Flag(false))
	case sizesDisagree: // nor do the sizes
		f.Set(r.pairDeeper, rules.Flag(false)).Set(r.pairLarger, rules.Value{})
	}
	a.report.Pairs = append(a.report.Pairs, line)
}

// madeApart is how far apart two tires can have been made: at least from the
// latest day of the older one to the earliest of the other, at most from the
// earliest to the latest of all.
func madeApart(a, b dotcode.Age) rules.Value {
	if b.Oldest.Before(a.Oldest) {
		a, b = b, a
	}
	latest := a.Youngest
	if latest.Before(b.Youngest) {
		latest = b.Youngest
	}
	return rules.Between(ageSteps(dotcode.Between(a.Youngest, b.Oldest)), ageSteps(dotcode.Between(a.Oldest, latest)))
}

const (
	// onSidewall are the conditions that a sidewall which nobody looked at may
	// hide.
	onSidewall ConditionSet = 1<<ExposedCord | 1<<Separation | 1<<Bulge | 1<<ZipperSigns | 1<<CutToCord | 1<<BeadDamage |
		1<<CrackingToCord | 1<<CrackingJoined | 1<<ShoulderCracks | 1<<BeadCracks | 1<<Boot | 1<<Cut | 1<<WeatherCracking | 1<<RepairOffCrown
	// betweenDuals are those that show only between the two of a pair.
	betweenDuals ConditionSet = 1<<ObjectBetweenDuals | 1<<DualsTouching
)

package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
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

func Value[T ~int64](r record.Recorded[T]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Quantity(v)
}

// setWhere sets what was recorded, and nothing else.
func setWhere[T ~int64](f *rules.Facts, m rules.MeasureRef, r record.Recorded[T]) {
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

func Flag(r record.Recorded[bool]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Flag(v)
}

func (a *Assessment) loadLine(name string, kind report.LoadKind, set weight.Set) {
	var e weight.Estimate
	line := report.LoadLine{Name: name, Kind: kind}
	if len(a.Visit.Weighing.Readings) > 0 {
		e = a.Solution.Of(set)
		if !e.Known() {
			for _, p := range a.Solution.Settle(set).Weighings {
				line.Settle = append(line.Settle, p.Instruction)
			}
		}
	}
	line.Estimate = e
	a.Report.Loads = append(a.Report.Loads, line)
}

// endLoad is what an axle end carries.
func (a *Assessment) endLoad(axle int, side weight.Side) weight.Estimate {
	return a.Report.Loads[2*axle+int(side-weight.Left)].Estimate
}

// axleLoad is the line of an axle, behind those of all the ends.
func (a *Assessment) axleLoad(axle int) *report.LoadLine {
	return &a.Report.Loads[2*len(a.Visit.Axles)+axle]
}

// run judges one subject; of what carries a load, its ratings go into its line.
func (a *Assessment) run(f *rules.Facts, line *report.LoadLine, load ...rules.MeasureRef) error {
	from := len(a.Findings)
	var err error
	var kept int
	if a.Findings, kept, err = a.Program.AppendNotKept(a.Findings, f, load...); err != nil {
		return err
	}
	a.Report.Kept += kept
	for i := from; line != nil && i < len(a.Findings); i++ {
		if f := &a.Findings[i]; f.Verdict != rules.NotRecorded && slices.Contains(load, f.Rule.Measure()) {
			a.addRating(line, f)
		}
	}
	a.take(from)
	return a.watched(f)
}

func (a *Assessment) watched(f *rules.Facts) error {
	if a.Watch == nil {
		return nil
	}
	return a.Watch(f)
}

// runPlanned judges a load once more as it will be after the changes for the
// trip. What the weighed load breaks already is not said again.
func (a *Assessment) runPlanned(f *rules.Facts, load rules.MeasureRef, set weight.Set, also ...rules.MeasureRef) error {
	if !a.Changes {
		return nil
	}
	weighed := f.Get(load)
	e := a.Trip.At(1, set)
	from := len(a.planned)
	var err error
	if a.planned, _, err = a.Program.AppendNotKept(a.planned, f.Set(load, loadValue(e))); err != nil {
		return err
	}
	f.Set(load, weighed)
	stay := from
	for _, p := range a.planned[from:] {
		said := slices.ContainsFunc(a.Findings, func(w rules.Finding) bool { return w.Rule == p.Rule && w.Name == p.Name })
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
func (a *Assessment) judge() error {
	a.Findings, a.planned = nil, nil
	if err := a.judgeTires(); err != nil {
		return err
	}
	if err := a.judgeAxles(); err != nil {
		return err
	}
	return a.judgeTotals()
}

// LoadLines lists what everything carries.
func (a *Assessment) LoadLines() {
	v := a.Visit
	a.Report.Loads = make([]report.LoadLine, 0, 3*len(v.Axles)+2)
	for i := range v.Axles {
		a.loadLine(a.Layout.EndNames[i][0], report.EndLoad, weight.EndOf(i, weight.Left))
		a.loadLine(a.Layout.EndNames[i][1], report.EndLoad, weight.EndOf(i, weight.Right))
	}
	for i := range v.Axles {
		a.loadLine(v.Axles[i].ID, report.AxleLoad, weight.AxleOf(i))
	}
	a.loadLine("coach", report.CoachLoad, a.Layout.Coach)
	if a.Layout.All != a.Layout.Coach || v.Ratings.GCWR.Is() {
		a.loadLine("combination", report.CombinationLoad, a.Layout.All)
	}
}

// judgeTires judges each tire, a dual pair's two together: first as if none had
// run low, which tells whether one did. Nobody may be told to air up such a
// tire, or its mate; so where one did, both are judged again with that known.
func (a *Assessment) judgeTires() error {
	for i := range a.Tires {
		st := &a.Tires[i]
		if !a.Counts(st) || st.Mate >= 0 && st.Mate < i {
			continue
		}
		pair, n := [2]*TireState{st}, 1
		if st.Mate >= 0 {
			pair[1], n = &a.Tires[st.Mate], 2
		}
		facts, from, kept := a.facts.tire[:n], len(a.Findings), 0
		no := record.Record(false)
		low, none, first := [2]record.Recorded[bool]{no, no}, true, from
		for k, f := range facts {
			f.Reset(pair[k].Name)
			a.TireFacts(pair[k], f)
			more, err := a.judgeTire(f, no, no, a.Refs.runLowBy[:]...)
			if err != nil {
				return err
			}
			kept += more
			low[k] = a.ranLow(pair[k], a.Findings[first:])
			none, first = none && low[k] == no, len(a.Findings)
		}
		if !none {
			a.Findings, kept = a.Findings[:from], 0
		}
		for k, f := range facts {
			pair[k].RanLow, pair[k].Line.NoAir = low[k], record.Yes(low[k]) || record.Yes(low[1-k])
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
		a.Report.Kept += kept
		a.take(from)
	}
	return nil
}

// judgeTire judges one tire, of which and of whose mate is said whether it ran
// low. It returns how many rules are kept, and lists them where they are on the
// measures in also.
func (a *Assessment) judgeTire(f *rules.Facts, low, mateLow record.Recorded[bool], also ...rules.MeasureRef) (kept int, err error) {
	if no := record.Record(false); low == no && mateLow == no {
		f.SetFlags(a.Ran, 0)
	} else {
		f.Set(a.Refs.RunLow, Flag(low)).Set(a.Refs.surelyFlat, rules.Flag(record.Yes(low))).Set(a.Refs.MateRunLow, Flag(mateLow))
	}
	a.Findings, kept, err = a.Program.AppendNotKept(a.Findings, f, also...)
	return kept, err
}

// ranLow says whether its findings condemn a tire for the pressure that it was
// driven at: yes if one that stops the coach does, not recorded while one of
// them could not be judged, else no. The bound below which it counts as flat
// goes into its line: of several the highest, and the worst that any says. A
// pressure that is only a most, hot or after air was added, condemns a tire and
// clears none.
func (a *Assessment) ranLow(st *TireState, findings []rules.Finding) record.Recorded[bool] {
	line, out := st.Line, record.Record(false)
	for i := range findings {
		f := &findings[i]
		if !a.AboutRunLow(f.Rule) {
			continue
		}
		if low, _, ok := f.Bound().Interval(); ok {
			if at, known := line.FlatAt.Get(); !known || inflation.Pressure(low) > at {
				line.FlatAt = record.Record(a.written(inflation.Pressure(low)))
			}
		}
		if f.Rule.Measure() == a.Refs.Lowest || f.Verdict > rules.NotRecorded {
			line.RunLow = max(line.RunLow, f.Verdict)
		}
		switch f.Verdict {
		case rules.Breached, rules.TooClose:
			out = record.Record(true)
		case rules.NotRecorded:
			if !record.Yes(out) {
				out = record.Recorded[bool]{}
			}
		}
	}
	return out
}

// judgeAxles judges the ends, the dual pairs and the axles.
func (a *Assessment) judgeAxles() error {
	v, r := a.Visit, a.Refs
	end, axle, duals := a.facts.end, a.facts.axle, a.facts.pair
	for i := range v.Axles {
		if !a.Counted[i] {
			continue
		}
		ax := &v.Axles[i]
		role := rules.Word(int(a.Layout.Roles[i]) - 1)
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			line := &a.Report.Loads[2*i+k]
			end.Reset(line.Name)
			end.Set(r.endLoad, loadValue(line.Estimate)).Set(r.endGAWR, Value(ax.GAWR)).Set(r.endRole, role)
			if err := a.run(end, line, r.endLoad); err != nil {
				return err
			}
			if err := a.runPlanned(end, r.endLoad, weight.EndOf(i, side)); err != nil {
				return err
			}
			tires := a.OnAxle(i)
			for j := range tires {
				st := &tires[j]
				if st.Mate < 0 || st.Position.Place != record.Outer || st.Position.Side != side {
					continue
				}
				duals.Reset(line.Name)
				a.PairFacts(st, &a.Tires[st.Mate], duals)
				if a.Report.Pairs[len(a.Report.Pairs)-1].InsideBy == disagreeWords {
					a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: line.Name, What: SizesInDoubt,
						Advice:  "Measure both again, mounted and at one pressure, then see which belongs inside.",
						Sources: []origin.Source{{Grade: origin.Computed}}})
				}
				from := len(a.Findings)
				if err := a.run(duals, nil); err != nil {
					return err
				}
				a.split(from)
			}
		}
		axle.Reset(ax.ID)
		var set *inflation.Setting
		for j := range a.Report.Settings {
			if a.Report.Settings[j].Name == ax.ID {
				set = &a.Report.Settings[j]
			}
		}
		a.AxleFacts(i, set, axle)
		from := len(a.Findings)
		if err := a.run(axle, a.axleLoad(i), r.AxleLoad); err != nil {
			return err
		}
		a.saidOfPair(i, from)
		if a.shortOnTrip[i] {
			axle.Set(r.axleNoPressure, rules.Flag(true))
		}
		if err := a.runPlanned(axle, r.AxleLoad, weight.AxleOf(i), r.axleNoPressure); err != nil {
			return err
		}
	}
	return nil
}

// split takes back which tire belongs inside where the pair just judged may not
// stay together: swapping the two does not help.
func (a *Assessment) split(from int) {
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		switch m := f.Rule.Measure(); m {
		case a.Refs.PairTread, a.Refs.PairDiameterDiff, a.Refs.PairRoundDiff, a.Refs.pairSize, a.Refs.pairKind:
			if f.Verdict == rules.Breached {
				line := &a.Report.Pairs[len(a.Report.Pairs)-1]
				line.Inside, line.InsideBy = "", splitWords
			}
		}
	}
}

// saidOfPair takes back that an axle's tires were found far apart, where the same
// was just said of one of its pairs.
func (a *Assessment) saidOfPair(axle, from int) {
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		if m := f.Rule.Measure(); m != a.Refs.AxleFoundSpread && m != a.Refs.AxleFoundSome {
			continue
		}
		if slices.ContainsFunc(a.Findings[:from], func(p rules.Finding) bool {
			return p.Rule.Measure() == a.Refs.PairPsi && p.Verdict == f.Verdict && p.Value == f.Value && slices.Contains(a.Layout.EndNames[axle][:], p.Name)
		}) {
			a.Findings = slices.Delete(a.Findings, i, i+1)
			i--
		}
	}
}

// AxleFacts fills in what is known of an axle with its tires, set as said, nil
// where no pressure could be found.
func (a *Assessment) AxleFacts(i int, set *inflation.Setting, f *rules.Facts) {
	r, ax := a.Refs, &a.Visit.Axles[i]
	f.Set(r.AxleLoad, loadValue(a.axleLoad(i).Estimate)).Set(r.AxleGAWR, Value(ax.GAWR)).Set(r.AxleRole, rules.Word(int(a.Layout.Roles[i])-1))
	f.Set(r.AxleTires, Value(a.axleCapacity(i))).Set(r.axleMixed, Flag(a.mixed(i))).Set(r.axleSizes, Flag(a.mixedSize(i)))
	all, some := a.spread(i, (*TireState).coldLeft)
	f.Set(r.AxleLeftSpread, Value(all)).Set(r.AxleLeftSome, Value(some))
	all, some = a.spread(i, (*TireState).cold)
	f.Set(r.AxleFoundSpread, Value(all)).Set(r.AxleFoundSome, Value(some)).Set(r.AxleRanLow, rules.Flag(a.ranLowOn(i)))
	if set != nil && set.Outcome != inflation.NotJudged {
		f.Set(r.axleNoPressure, rules.Flag(set.Outcome == inflation.Short && !a.shortOnTrip[i]))
	}
}

// judgeTotals judges the coach and, where there is one, the combination.
func (a *Assessment) judgeTotals() error {
	v, r := a.Visit, a.Refs
	for i := 3 * len(v.Axles); i < len(a.Report.Loads); i++ {
		line := &a.Report.Loads[i]
		f, load, set := a.facts.combination, r.comboLoad, a.Layout.All
		if line.Kind == report.CoachLoad {
			f, load, set = a.facts.coach, r.coachLoad, a.Layout.Coach
		}
		f.Reset(line.Name)
		if line.Kind == report.CoachLoad {
			off, soon := a.wheelOff()
			f.Set(r.coachGVWR, Value(v.Ratings.GVWR)).Set(r.coachStood, Value(v.Stood))
			f.Set(r.CoachWheelOff, rules.Flag(off)).Set(r.coachOffSoon, rules.Flag(soon))
		} else {
			f.Set(r.comboGCWR, Value(v.Ratings.GCWR))
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
func (a *Assessment) wheelOff() (off, soon bool) {
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Rule.Involves(WheelOff) && !record.IsSpare(f.Name) {
			off = true
			if soon = f.Rule.Action().Name != report.Plan; soon {
				break
			}
		}
	}
	return off, soon
}

// TreadSpread is how far apart the treads of the coach's tires on the road are;
// not recorded unless all were probed.
func (a *Assessment) TreadSpread() record.Recorded[weight.Length] {
	low, high, n := weight.Length(0), weight.Length(0), 0
	for i := range a.Layout.Wheels {
		st := &a.Tires[i]
		if a.Visit.Axles[st.AxleIndex].Towed {
			continue
		}
		d, ok := st.Line.Tread.Get()
		if !ok {
			return record.Recorded[weight.Length]{}
		}
		if n == 0 || d < low {
			low = d
		}
		high = max(high, d)
		n++
	}
	return record.Record(high - low)
}

// OnAxle are the tires of an axle.
func (a *Assessment) OnAxle(axle int) []TireState {
	return a.Tires[a.Layout.First[axle]:a.Layout.First[axle+1]]
}

// Counts reports whether a tire is part of this visit.
func (a *Assessment) Counts(st *TireState) bool { return st.AxleIndex < 0 || a.Counted[st.AxleIndex] }

func (a *Assessment) tireRole(st *TireState) int {
	if st.AxleIndex < 0 {
		return len(allRoles) - 1
	}
	return int(a.Layout.Roles[st.AxleIndex]) - 1
}

// Stamped is the tire's rating in its fitment, a passenger tire's (or that of
// a tire of unknown class) divided by 1.10.
func (a *Assessment) Stamped(st *TireState) record.Recorded[weight.Mass] {
	if st.AxleIndex < 0 {
		return record.Recorded[weight.Mass]{}
	}
	m, ok := st.Fitted.RatedLoad(a.Visit.Axles[st.AxleIndex].Fitment, false, a.Visit.System)
	if !ok {
		return record.Recorded[weight.Mass]{}
	}
	return record.Record(m)
}

func (a *Assessment) axleCapacity(axle int) record.Recorded[weight.Mass] {
	var sum weight.Mass
	tires := a.OnAxle(axle)
	for i := range tires {
		m, ok := a.Stamped(&tires[i]).Get()
		if !ok {
			return record.Recorded[weight.Mass]{}
		}
		var err error
		if sum, err = weight.Sum(sum, m); err != nil {
			return record.Recorded[weight.Mass]{}
		}
	}
	return record.Record(sum)
}

func SameSize(x, y string) bool {
	return x == y || sidewall.NormalizeSize(x) == sidewall.NormalizeSize(y)
}

func (a *Assessment) mixedSize(axle int) record.Recorded[bool] {
	mixed := false
	tires := a.OnAxle(axle)
	for i := range tires {
		if tires[i].Size == "" {
			return record.Recorded[bool]{}
		}
		mixed = mixed || !SameSize(tires[0].Size, tires[i].Size)
	}
	return record.Record(mixed)
}

func (a *Assessment) mixed(axle int) record.Recorded[bool] {
	radial, bias := false, false
	tires := a.OnAxle(axle)
	for i := range tires {
		c, ok := tires[i].Construction.Get()
		if !ok {
			return record.Recorded[bool]{}
		}
		radial, bias = radial || c == inflation.Radial, bias || c != inflation.Radial
	}
	return record.Record(radial && bias)
}

// cold is the pressure as found where it is a cold one that may be judged.
func (st *TireState) cold() record.Recorded[inflation.Pressure] {
	if record.Yes(st.Hot) {
		return record.Recorded[inflation.Pressure]{}
	}
	return st.Usable
}

// coldLeft is the pressure it was left at, if that was a cold one.
func (st *TireState) coldLeft() record.Recorded[inflation.Pressure] {
	if record.Yes(st.Hot) {
		return record.Recorded[inflation.Pressure]{}
	}
	return st.LeftAt
}

// ranLowOn reports whether a tire of the axle ran low, or its mate did.
func (a *Assessment) ranLowOn(axle int) bool {
	tires := a.OnAxle(axle)
	for i := range tires {
		if tires[i].Line.NoAir {
			return true
		}
	}
	return false
}

// spread is how far apart pressures of an axle's tires are: of all of them, or of
// some, where others were not recorded.
func (a *Assessment) spread(axle int, of func(*TireState) record.Recorded[inflation.Pressure]) (all, some record.Recorded[inflation.Pressure]) {
	low, high, n := inflation.Pressure(0), inflation.Pressure(0), 0
	tires := a.OnAxle(axle)
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
		all = record.Record(high - low)
	case n > 1:
		some = record.Record(high - low)
	}
	return all, some
}

// foundSpread is the most by which an axle's cold pressures can differ: a tire
// that was not read counts as empty.
func (a *Assessment) foundSpread(axle int) inflation.Pressure {
	low, high, n := inflation.Pressure(0), inflation.Pressure(0), 0
	tires := a.OnAxle(axle)
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
func (a *Assessment) target(st *TireState) (inflation.Pressure, int, bool) {
	if p, ok := st.LastSet.Get(); ok {
		return p, 0, true
	}
	if st.AxleIndex < 0 {
		most := a.mostSet(st)
		return most, 3, most > 0
	}
	if placard, ok := a.Visit.Axles[st.AxleIndex].Placard.Get(); ok {
		if p, ok := placard.Pressure(); ok {
			return p, 1, true
		}
	}
	if st.Setting != nil && st.Setting.Minimum > 0 {
		return st.Setting.Minimum, 2, true
	}
	return 0, 0, false
}

var judgedWords = []string{"last set", "placard", "for its load", "most of any axle"}

// mostSet is the highest pressure to set on an axle that a spare may go to, for
// which it is kept ready, and no more than its own stamps allow; 0 if there is
// none. It may go to any axle of the coach, but to none of another size.
func (a *Assessment) mostSet(st *TireState) inflation.Pressure {
	most := inflation.Pressure(0)
	for i := range a.Visit.Axles {
		on := a.OnAxle(i)
		if on[0].Setting == nil {
			continue
		}
		fits := !a.Visit.Axles[i].Towed && (st.Size == "" || on[0].Size == "")
		for j := range on {
			fits = fits || st.Size != "" && on[j].Size != "" && SameSize(st.Size, on[j].Size)
		}
		if fits {
			most = max(most, on[0].Setting.Set)
		}
	}
	for _, r := range [...]record.Recorded[record.Stamp]{st.Single, st.Dual, st.Wheel} {
		if s, ok := r.Get(); ok {
			most = min(most, s.At)
		}
	}
	return most
}

func (a *Assessment) TireFacts(st *TireState, f *rules.Facts) {
	r, tolerance := a.Refs, inflation.Pressure(0)
	if t, ok := a.Visit.GaugeTolerance.Get(); ok {
		tolerance = t
	}
	place := record.Spare
	if st.Position != nil {
		place = st.Position.Place
	}
	f.Set(r.Role, rules.Word(a.tireRole(st))).Set(r.Place, rules.Word(int(place)-1))
	if c, ok := st.Class.Get(); ok {
		f.Set(r.class, rules.Word(int(c)-1))
	}
	if c, ok := st.Construction.Get(); ok {
		f.Set(r.construction, rules.Word(int(c)-1))
	}
	rated := a.Stamped(st)
	f.Set(r.Retread, Flag(st.Retread)).Set(r.Regrooved, Flag(st.Regrooved)).Set(r.Load, loadValue(st.Line.Load)).Set(r.Capacity, Value(rated))
	if w, ok := st.Wheel.Get(); ok {
		f.Set(r.WheelCapacity, rules.Quantity(w.Load))
	}
	line := st.Line
	line.Place = place
	if st.Position != nil {
		line.Axle, line.Side = a.Visit.Axles[st.AxleIndex].ID, st.Position.Side
	}
	hot := record.Yes(st.Hot)
	var capacity record.Recorded[weight.Mass] // as found
	if p, ok := st.Usable.Get(); ok {
		if hot {
			f.Set(r.HotFound, rules.PlusMinus(p, tolerance))
		} else {
			// The reading as it stands: the pressure to set is set by the same
			// gauge. Its tolerance counts where a tire may be a flat.
			f.Set(r.Found, rules.Quantity(p))
			capacity = a.capacityAt(st, p, rated)
			f.Set(r.CapacityFound, Value(capacity))
		}
	}
	lowest := st.LowestDriven
	if p, ok := st.Usable.Get(); ok {
		switch low, known := lowest.Get(); {
		case hot && known && p < low:
			lowest = record.Recorded[inflation.Pressure]{} // cold it is lower still
		case hot:
		case !known && record.Yes(st.AirAdded):
			f.Set(r.AfterAir, rules.PlusMinus(p, tolerance))
		case !known || p < low:
			lowest = st.Usable
		}
	}
	if p, ok := lowest.Get(); ok {
		f.Set(r.Lowest, rules.PlusMinus(p, tolerance))
	}
	if p, by, ok := a.target(st); ok {
		f.Set(r.Target, rules.Quantity(p)).Set(r.JudgedBy, rules.Word(by))
		line.Reference, line.ReferenceFrom = record.Record(p), judgedWords[by]
	}
	above := false
	if st.Setting != nil {
		if st.Setting.Outcome == inflation.CanSet || st.Setting.Outcome == inflation.TooClose {
			f.Set(r.ToSet, rules.Quantity(st.Setting.Set))
		}
		if p, ok := lowest.Get(); ok && st.Setting.Minimum > 0 {
			above = p-tolerance >= st.Setting.Minimum
		}
		f.Set(r.AxleSpread, rules.Quantity(a.foundSpread(st.AxleIndex)))
	}
	if st.Position != nil {
		if p := a.mostPressure(st); p > 0 {
			f.Set(r.mostPressure, rules.Quantity(p))
		}
		if side, ok := st.Rotates.Get(); ok {
			f.Set(r.againstArrow, rules.Flag(!side.RunsOn(st.Position.Side)))
		}
	}
	if t, ok := st.Tread.Get(); ok {
		if d, ok := t.Least(); ok {
			f.Set(r.Tread, rules.Quantity(d))
			line.Tread = record.Record(d)
		}
		shoulders, center := t.BelowCenter()
		setWhere(f, r.shoulders, t.Shoulders())
		setWhere(f, r.treadAround, t.Around())
		setWhere(f, r.belowCenter, shoulders)
		setWhere(f, r.belowShoulders, center)
	}
	if found, left, ok := record.Both(st.Usable, st.LeftAt); ok {
		f.Set(r.AiredUp, rules.Quantity(max(0, left-found)))
	}
	left := st.coldLeft()
	if p, ok := left.Get(); ok {
		if found, _ := st.Usable.Get(); p != found || !capacity.Is() {
			capacity = a.capacityAt(st, p, rated)
		}
		f.Set(r.Left, rules.Quantity(p)).Set(r.CapacityLeft, Value(capacity))
	}
	if st.Mate >= 0 {
		f.Set(r.LoadAlone, loadValue(a.endLoad(st.AxleIndex, st.Position.Side)))
	}
	if line.Age != a.aged.age {
		a.aged.age, a.aged.value = line.Age, ageValue(line.Age)
	}
	f.Set(r.Age, a.aged.value)
	setWhere(f, r.CrackDepth, st.CrackDepth)
	setWhere(f, r.CutDepth, st.CutDepth)
	setWhere(f, r.InjuryWidth, st.InjuryWidth)
	if i, ok := st.InjuryAt.Get(); ok {
		f.Set(r.injuryAt, rules.Word(int(i)-1))
	}
	seen, looked := st.Seen.Get()
	f.SetFlags(a.Noted, bit(above, 0)|bit(left.Is(), 1)|bit(st.CrackDepth.Is(), 2)|bit(looked, 3))
	if looked {
		f.SetFlags(a.Conditions, uint64(seen)>>record.ExposedCord)
		if hidden := st.hidden(seen); hidden != 0 {
			for _, c := range hidden.All() {
				f.Set(r.Conditions[c], rules.Value{})
			}
		}
	}
	line.At, line.Size, line.Hot = st.Name, st.Size, hot
	line.Found, line.LowestDriven, line.LeftAt, line.Seen, line.Note = st.Found, st.LowestDriven, st.LeftAt, st.Seen, st.Note
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
func (st *TireState) hidden(seen record.ConditionSet) record.ConditionSet {
	at, ok := st.Sidewalls.Get()
	if !ok || at == record.BothSidewalls {
		return 0
	}
	unseen := onSidewall
	if st.Mate >= 0 {
		unseen |= betweenDuals
	}
	return unseen &^ seen
}

// alone says what either tire of a pair carries with its mate off the ground:
// on a block that is too short, or beside a flat.
func (a *Assessment) alone(outer, inner *TireState, line *report.PairLine) {
	end := a.endLoad(outer.AxleIndex, outer.Position.Side)
	rated, other, ok := record.Both(a.Stamped(outer), a.Stamped(inner))
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
func (a *Assessment) mostPressure(st *TireState) inflation.Pressure {
	most := inflation.Pressure(0)
	lower := func(s record.Recorded[record.Stamp]) {
		if v, ok := s.Get(); ok && (most == 0 || v.At < most) {
			most = v.At
		}
	}
	if a.Visit.Axles[st.AxleIndex].Fitment == weight.Dual {
		lower(st.Dual)
	} else {
		lower(st.Single)
	}
	lower(st.Wheel)
	return most
}

// capacityAt is what the tire carries at a pressure: by its table, else by the
// safe estimate; never more than it is rated for.
func (a *Assessment) capacityAt(st *TireState, p inflation.Pressure, rated record.Recorded[weight.Mass]) record.Recorded[weight.Mass] {
	if st.AxleIndex < 0 {
		return record.Recorded[weight.Mass]{}
	}
	opt := st.Options
	opt.Method = inflation.Interpolated // what the tire carries, not what a row promises
	m, err := st.Fitted.CapacityAt(p, a.Visit.Axles[st.AxleIndex].Fitment, opt, a.Visit.System)
	if err != nil {
		return record.Recorded[weight.Mass]{}
	}
	if most, ok := rated.Get(); ok {
		m = min(m, most)
	}
	return record.Record(m)
}

// sharing says how two duals share their end's load, where each was weighed.
func (a *Assessment) sharing(outer, inner *TireState, f *rules.Facts) {
	x, y := a.Solution.Of(outer.Position.Set), a.Solution.Of(inner.Position.Set)
	if !x.Known() || !y.Known() {
		return
	}
	f.Set(a.Refs.PairHeavier, heavierOf(x, y)).Set(a.Refs.PairLoad, loadValue(a.Solution.Of(weight.EndOf(outer.AxleIndex, outer.Position.Side))))
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
func (a *Assessment) written(p inflation.Pressure) inflation.Pressure {
	grid := inflation.PressureGrid(a.Visit.System)
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

func (a *Assessment) PairFacts(outer, inner *TireState, f *rules.Facts) {
	r := a.Refs
	line := report.PairLine{Name: f.Name()}
	if to, ti, ok := record.Both(outer.Line.Tread, inner.Line.Tread); ok {
		line.TreadDifference, line.DeeperInside = record.Record(absDiff(to, ti)), record.Record(ti > to)
		f.Set(r.PairTread, Value(line.TreadDifference))
	}
	if do, di, ok := record.Both(outer.Diameter, inner.Diameter); ok {
		f.Set(r.PairDiameter, rules.Quantity(max(do, di))).Set(r.PairDiameterDiff, rules.Quantity(absDiff(do, di)))
		f.Set(r.PairLarger, rules.Flag(di > do))
	}
	if co, ci, ok := record.Both(outer.Circumference, inner.Circumference); ok {
		f.Set(r.PairRoundDiff, rules.Quantity(absDiff(co, ci)))
		if measured(outer.Diameter, inner.Diameter) == 0 {
			f.Set(r.PairLarger, rules.Flag(ci > co))
		}
		if !f.Get(r.PairDiameter).Recorded() {
			// The band a pair falls in: circumference over pi, between two
			// fractions that enclose pi.
			c := max(co, ci)
			low, err1 := c.MulDiv(113, 355, weight.Floor)
			high, err2 := c.MulDiv(106, 333, weight.Ceiling)
			if err1 == nil && err2 == nil {
				f.Set(r.PairDiameter, rules.Between(low, high))
			}
		}
	}
	if outer.Size != "" && inner.Size != "" {
		f.Set(r.pairSize, rules.Flag(SameSize(outer.Size, inner.Size)))
	}
	if co, ci, ok := record.Both(outer.Construction, inner.Construction); ok {
		f.Set(r.pairKind, rules.Flag(co == ci))
	}
	if po, pi, ok := record.Both(outer.cold(), inner.cold()); ok {
		f.Set(r.PairPsi, rules.Quantity(absDiff(po, pi)))
		line.FoundDifference = record.Record(a.written(absDiff(po, pi)))
	}
	if po, pi, ok := record.Both(outer.coldLeft(), inner.coldLeft()); ok {
		line.LeftDifference = record.Record(a.written(absDiff(po, pi)))
	}
	f.Set(r.PairRanLow, rules.Flag(outer.Line.NoAir || inner.Line.NoAir))
	if a, b := outer.Line.Age, inner.Line.Age; a.Known() && b.Known() {
		f.Set(r.PairAge, madeApart(a, b))
	}
	a.alone(outer, inner, &line)
	if a.ByWheel {
		a.sharing(outer, inner, f)
	}
	choice := InsideOf(outer, inner)
	line.Inside, line.InsideBy = choice.Inside, choice.Words()
	switch choice.by {
	case byTread, alike:
		f.Set(r.PairDeeper, Flag(line.DeeperInside))
	case bySize, twoModels: // then tread says nothing
		f.Set(r.PairDeeper, rules.Flag(false))
	case sizesDisagree: // nor do the sizes
		f.Set(r.PairDeeper, rules.Flag(false)).Set(r.PairLarger, rules.Value{})
	}
	a.Report.Pairs = append(a.Report.Pairs, line)
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
	onSidewall record.ConditionSet = 1<<record.ExposedCord | 1<<record.Separation | 1<<record.Bulge | 1<<record.ZipperSigns | 1<<record.CutToCord | 1<<record.BeadDamage |
		1<<record.CrackingToCord | 1<<record.CrackingJoined | 1<<record.ShoulderCracks | 1<<record.BeadCracks | 1<<record.Boot | 1<<record.Cut | 1<<record.WeatherCracking | 1<<record.RepairOffCrown
	// betweenDuals are those that show only between the two of a pair.
	betweenDuals record.ConditionSet = 1<<record.ObjectBetweenDuals | 1<<record.DualsTouching
)

package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Value is a recorded quantity as a fact, read exactly.
func Value[T ~int64](r record.Recorded[T]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Quantity(v)
}

// Flag is a recorded yes or no as a fact.
func Flag(r record.Recorded[bool]) rules.Value {
	v, ok := r.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Flag(v)
}

func pressureOf(n int64) inflation.Pressure { return inflation.Pressure(n) }

// AbsDiff is how far two quantities are apart.
func AbsDiff[T ~int64](x, y T) T {
	if x < y {
		return y - x
	}
	return x - y
}

// run judges one subject. Verdicts on a load go into that load's line, too.
func (a *Assessment) run(f *rules.Facts, line *report.LoadLine, load ...rules.MeasureRef) error {
	a.own(f)
	from := len(a.Findings)
	var err error
	var kept int
	if a.Findings, kept, err = a.Program.AppendNotKept(a.Findings, f, load...); err != nil {
		return err
	}
	a.Report.Kept += kept
	for i := from; line != nil && i < len(a.Findings); i++ {
		if f := &a.Findings[i]; slices.Contains(load, f.Rule.Measure()) {
			a.addRating(line, f)
		}
	}
	a.take(from)
	return a.seen(f)
}

// own lets a program set measures that the visit does not have, or overrule
// those it has.
func (a *Assessment) own(f *rules.Facts) {
	if a.Own != nil {
		a.Own(a.Visit, f)
	}
}

// seen hands on the facts of a subject as judged: every verdict on it to the report,
// where it was asked for, and the facts to whoever watches.
func (a *Assessment) seen(f *rules.Facts) error {
	if a.Every {
		var err error
		if a.all, err = a.Program.AppendRun(a.all[:0], f); err != nil {
			return err
		}
		a.Report.Verdicts = slices.Grow(a.Report.Verdicts, len(a.all))
		for i := range a.all {
			x := &a.all[i]
			a.Report.Verdicts = append(a.Report.Verdicts, report.VerdictLine{Rule: x.Rule.Name(), Subject: f.Subject(), Where: f.Name(), Verdict: x.Verdict, Asked: a.asked(x)})
		}
	}
	if a.Watch == nil {
		return nil
	}
	return a.Watch(f)
}

// runPlanned judges a load once more as it will be after the changes for the
// trip. It does not repeat what the weighed load already breaks for sure.
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
		said := slices.ContainsFunc(a.Findings, func(w rules.Finding) bool {
			return w.Rule == p.Rule && w.Name == p.Name && w.Verdict >= p.Verdict
		})
		m := p.Rule.Measure()
		if p.Verdict != rules.NotRecorded && (m == load || slices.Contains(also, m)) && !said {
			a.planned[stay] = p
			stay++
		}
	}
	a.planned = a.planned[:stay]
	return nil
}

// judge holds the facts to the rules: the tires first, since what stops a coach is
// mostly found there.
func (a *Assessment) judge() error {
	a.Findings, a.planned = make([]rules.Finding, 0, 32), nil // the most that one subject mostly has
	a.lowRules = a.judgesLow()
	if err := a.judgeTires(); err != nil {
		return err
	}
	if err := a.judgeAxles(); err != nil {
		return err
	}
	if err := a.judgeGroups(); err != nil {
		return err
	}
	return a.judgeTotals()
}

// judgeAxles judges the ends, the dual pairs and the axles.
func (a *Assessment) judgeAxles() error {
	v, r := a.Visit, a.Refs
	for i := range v.Axles {
		if !a.Counted[i] {
			continue
		}
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			line := &a.Report.Loads[2*i+k]
			end := a.facts.end
			end.Reset(line.Name)
			r.end.fill(a, endOf{i, side, line}, end)
			if err := a.run(end, line, r.endLoad); err != nil {
				return err
			}
			if err := a.runPlanned(end, r.endLoad, weight.EndOf(i, side)); err != nil {
				return err
			}
			if err := a.judgePair(i, side, line.Name); err != nil {
				return err
			}
		}
		axle := a.facts.axle
		axle.Reset(v.Axles[i].ID)
		set := a.settingOf(i)
		a.AxleFacts(i, set, axle)
		from := len(a.Findings)
		if err := a.run(axle, a.axleLoad(i), r.axleLoad); err != nil {
			return err
		}
		a.saidOfPair(i, from)
		if a.shortOnTrip[i] {
			axle.Set(r.AxleFit, rules.Word(2))
		}
		if err := a.runPlanned(axle, r.axleLoad, weight.AxleOf(i), r.AxleFit); err != nil {
			return err
		}
	}
	return nil
}

func (a *Assessment) settingOf(axle int) *inflation.Setting {
	return a.Report.Setting(a.Visit.Axles[axle].ID)
}

// judgePair judges the pair at an axle end, if there is one.
func (a *Assessment) judgePair(axle int, side weight.Side, name string) error {
	tires := a.OnAxle(axle)
	for j := range tires {
		st := &tires[j]
		if st.Mate < 0 || st.Position.Place != record.Outer || st.Position.Side != side {
			continue
		}
		p := a.newPair(st, &a.Tires[st.Mate], name)
		duals := a.facts.pair
		duals.Reset(name)
		a.PairFacts(p, duals)
		a.Report.Pairs = append(a.Report.Pairs, p.line)
		if p.choice.by == sizesDisagree {
			a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: name, What: SizesInDoubt,
				Advice:  "Measure both again, mounted and at one pressure, then see which belongs inside.",
				Sources: []origin.Source{{Grade: origin.Computed}}})
		}
		from := len(a.Findings)
		if err := a.run(duals, nil); err != nil {
			return err
		}
		a.split(from)
	}
	return nil
}

// PairFacts fills in what is known of a pair.
func (a *Assessment) PairFacts(p *pairOf, f *rules.Facts) { a.Refs.pair.fill(a, p, f) }

// PairOf gathers two tires as the outer and inner one of a pair.
func (a *Assessment) PairOf(outer, inner *TireState, name string) *pairOf {
	return a.newPair(outer, inner, name)
}

// AxleFacts fills in what is known of an axle with its tires, set as said, nil
// where no pressure could be found.
func (a *Assessment) AxleFacts(i int, set *inflation.Setting, f *rules.Facts) {
	a.Refs.axle.fill(a, axleOf{i, a.axleLoad(i), set}, f)
	a.setOwn(a.Visit.Axles[i].Own, f)
}

// split removes the answer to which tire belongs inside, where the pair just
// judged may not stay together: swapping the two does not help.
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

// saidOfPair removes the finding that an axle's tires were far apart, where one
// of its pairs just got the same finding.
func (a *Assessment) saidOfPair(axle, from int) {
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		if m := f.Rule.Measure(); m != a.Refs.FoundSpread && m != a.Refs.FoundOfSome {
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

// judgeTotals judges the coach and, where there is one, the combination.
func (a *Assessment) judgeTotals() error {
	v, r := a.Visit, a.Refs
	for i := 3 * len(v.Axles); i < len(a.Report.Loads); i++ {
		line := &a.Report.Loads[i]
		f, load, set, fill := a.facts.combination, r.comboLoad, a.Layout.All, &r.combination
		if line.Kind == report.CoachLoad {
			f, load, set, fill = a.facts.coach, r.coachLoad, a.Layout.Coach, &r.coach
		}
		f.Reset(line.Name)
		fill.fill(a, line, f)
		if line.Kind == report.CoachLoad {
			a.setOwn(v.Own, f)
		}
		if err := a.run(f, line, load); err != nil {
			return err
		}
		var also []rules.MeasureRef
		if line.Kind == report.CoachLoad && a.Changes {
			f.Set(r.CargoLoaded, a.cargoPlanned())
			also = append(also, r.CargoLoaded)
		}
		if err := a.runPlanned(f, load, set, also...); err != nil {
			return err
		}
	}
	return nil
}

// wheelOff reports whether anything that was found takes a wheel off the coach,
// and whether any of that is to be done before the trip.
func (a *Assessment) wheelOff() (off, soon bool) {
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Verdict == rules.NotRecorded || !f.Rule.Involves(WheelOff) || record.IsSpare(f.Name) {
			continue
		}
		off = true
		if soon = report.Action(f.Rule.Action().Name) != report.Plan; soon {
			break
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

// allOnRoad reports whether something is true of all tires on the road in this visit.
func (a *Assessment) allOnRoad(is func(*TireState) bool) bool {
	for i := range a.Layout.Wheels {
		if st := &a.Tires[i]; a.Counts(st) && !is(st) {
			return false
		}
	}
	return true
}

// Counts reports whether a tire is part of this visit.
func (a *Assessment) Counts(st *TireState) bool { return st.AxleIndex < 0 || a.Counted[st.AxleIndex] }

func (a *Assessment) tireRole(st *TireState) int {
	if st.AxleIndex < 0 {
		return len(roleWords())
	}
	return int(a.Layout.Roles[st.AxleIndex]) - 1
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

// SameSize reports whether two texts are one size.
func SameSize(x, y string) bool {
	return x == y || sidewall.NormalizeSize(x) == sidewall.NormalizeSize(y)
}

// mixedSize says whether two sizes run on an axle: two that differ decide it,
// whatever is not known of the others.
func (a *Assessment) mixedSize(axle int) record.Recorded[bool] {
	first, all := "", true
	tires := a.OnAxle(axle)
	for i := range tires {
		switch size := tires[i].Size; {
		case size == "":
			all = false
		case first == "":
			first = size
		case !SameSize(first, size):
			return record.Record(true)
		}
	}
	if !all {
		return record.Recorded[bool]{}
	}
	return record.Record(false)
}

// mixed says whether bias and radial tires run on an axle, in the same way.
func (a *Assessment) mixed(axle int) record.Recorded[bool] {
	radial, bias, all := false, false, true
	tires := a.OnAxle(axle)
	for i := range tires {
		c, ok := tires[i].Construction.Get()
		all = all && ok
		radial, bias = radial || ok && c == inflation.Radial, bias || ok && c != inflation.Radial
	}
	if !all && !(radial && bias) {
		return record.Recorded[bool]{}
	}
	return record.Record(radial && bias)
}

// atMost reports whether it has at most what it was found at: it was read hot, or what
// was read can hardly be.
func (st *TireState) atMost() bool { return record.Yes(st.Warm) || st.doubts.Found }

// cold is the pressure as found where it is a cold one that may be judged.
func (st *TireState) cold() record.Recorded[inflation.Pressure] {
	if record.Yes(st.Warm) {
		return record.Recorded[inflation.Pressure]{}
	}
	return st.Usable
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

// TireFacts fills in what is known of a tire, and its line in the report.
func (a *Assessment) TireFacts(st *TireState, f *rules.Facts) {
	if t, ok := st.Tread.Get(); ok && !st.doubts.Tread {
		if d, ok := t.Least(); ok {
			st.Line.Tread = record.Record(d)
		}
	}
	a.Refs.tire.fill(a, st, f)
	a.setOwn(st.Own, f)
	if seen, looked := st.Seen.Get(); looked {
		for c := condition.ExposedCord; int(c) < len(a.Refs.Conditions); c++ {
			f.Set(a.Refs.Conditions[c], rules.Flag(uint64(seen)>>c&1 != 0))
		}
		for _, c := range st.hidden(seen).All() {
			f.Set(a.Refs.Conditions[c], rules.Value{})
		}
	}
	a.tireLine(st)
}

// tireLine says in the report what was found on a tire.
func (a *Assessment) tireLine(st *TireState) {
	line := st.Line
	line.At, line.Place, line.Size, line.Hot = st.Name, st.place(), st.Size, record.Yes(st.Warm)
	if st.Position != nil {
		line.Axle, line.Side = a.Visit.Axles[st.AxleIndex].ID, st.Position.Side
	}
	line.Found, line.LowestDriven, line.LeftAt, line.Seen, line.Note = st.Found, st.LowestDriven, st.LeftAt, st.Seen, st.Note
	line.TreadAt, line.Service, line.Sidewalls, line.Unjudged = st.Tread, st.Service, st.Sidewalls, a.whyOpen(st)
	line.CrackDepth, line.CutDepth, line.InjuryWidth, line.InjuryAt = st.CrackDepth, st.CutDepth, st.InjuryWidth, st.InjuryAt
	line.TorqueOpen = st.torqueOpen()
	line.Reference, line.ReferenceFrom = a.reference(st)
}

// reference is the pressure that the page names beside a tire's, and where it
// comes from: what its load needs by a table, else what it was last set to, else
// the placard's, else what its load needs by any law.
func (a *Assessment) reference(st *TireState) (record.Recorded[inflation.Pressure], string) {
	p := &st.Pressures
	switch {
	case st.AxleIndex < 0:
		if at, ok := a.keptReadyAt(st).Most(); ok && a.keptReadyAt(st).Recorded() {
			return record.Record(pressureOf(at)), "kept ready at"
		}
	case p.byWeight:
		return record.Record(a.written(p.need.High)), "for its load"
	case st.LastSet.Is():
		return st.LastSet, "last set"
	case p.placard.Is():
		return p.placard, "placard"
	case p.need.Known():
		return record.Record(a.written(p.need.Low)), "for its load"
	}
	return record.Recorded[inflation.Pressure]{}, ""
}

// mostSet is the highest pressure to set on an axle that a spare may go to, for
// which it is kept ready, and no more than its own stamps allow; 0 if there is
// none, or one of these axles has no number. Of an axle that no pressure fits, what its tires and wheels
// allow counts.
func (a *Assessment) mostSet(st *TireState) inflation.Pressure {
	most := inflation.Pressure(0)
	for i := range a.Visit.Axles {
		on := a.OnAxle(i)
		switch set := on[0].Setting; {
		case !a.fitsAxle(st, i), !a.Counted[i]:
		case set == nil: // a table that does not fit it
			return 0
		case set.Outcome == inflation.Short: // it needs more than any of them allows
			for j := range on {
				if p := a.mostPressure(&on[j]); p >= leastStamped {
					most = max(most, p)
				}
			}
		case set.Set == 0:
			return 0
		default:
			most = max(most, set.Set)
		}
	}
	if low := st.lowestStamp(); low > 0 {
		most = min(most, low)
	}
	return most
}

// mostPressure is the lower of what sidewall and wheel state, 0 if neither was
// read. A spare may run alone or as a dual: the higher of the two counts.
func (a *Assessment) mostPressure(st *TireState) inflation.Pressure {
	most := inflation.Pressure(0)
	lower := func(s record.Recorded[record.Stamp]) {
		if v, ok := s.Get(); ok && v.At > 0 && (most == 0 || v.At < most) {
			most = v.At
		}
	}
	single, _ := st.Single.Get()
	dual, _ := st.Dual.Get()
	switch {
	case st.AxleIndex < 0 && dual.At > single.At, st.AxleIndex >= 0 && a.Visit.Axles[st.AxleIndex].Fitment == weight.Dual:
		lower(st.Dual)
	default:
		lower(st.Single)
	}
	lower(st.Wheel)
	return most
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
func (st *TireState) hidden(seen condition.Set) condition.Set {
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

const (
	// onSidewall are the conditions that a sidewall which nobody looked at may
	// hide.
	onSidewall condition.Set = 1<<condition.ExposedCord | 1<<condition.Separation | 1<<condition.Bulge | 1<<condition.ZipperSigns | 1<<condition.CutToCord | 1<<condition.BeadDamage |
		1<<condition.CrackingToCord | 1<<condition.CrackingJoined | 1<<condition.ShoulderCracks | 1<<condition.BeadCracks | 1<<condition.Boot | 1<<condition.Cut | 1<<condition.WeatherCracking | 1<<condition.RepairOffCrown |
		1<<condition.ScuffedShoulder | 1<<condition.BlueShoulder
	// betweenDuals are those that show only between the two of a pair.
	betweenDuals condition.Set = 1<<condition.ObjectBetweenDuals | 1<<condition.DualsTouching
)

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

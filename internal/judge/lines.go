package judge

import (
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// axleLines lists the axles, with the table rows that their settings rest on.
func (a *Assessment) axleLines() {
	lines := make([]report.AxleLine, len(a.Visit.Axles))
	a.Report.Axles = lines
	for i, ax := range a.Visit.Axles {
		lines[i] = report.AxleLine{ID: ax.ID, Role: a.Layout.Roles[i], Fitment: ax.Fitment}
		st := a.tableTire(i)
		if st == nil {
			continue
		}
		for j := range i {
			if other := a.tableTire(j); other != nil && other.Fitted.Table == st.Fitted.Table &&
				other.Options.LoadRange == st.Options.LoadRange && lines[j].Fitment == ax.Fitment {
				lines[i].Rows = lines[j].Rows // most coaches run on one table
			}
		}
		if lines[i].Rows == nil {
			lines[i].Rows = a.allowedRows(st.Fitted.Table, ax.Fitment, st.Options.LoadRange)
		}
	}
}

// tableTire is the tire whose table an axle's setting rests on: that with the
// highest need, else the first that has one; nil if none has.
func (a *Assessment) tableTire(axle int) *TireState {
	var first *TireState
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.AxleIndex != axle || st.Fitted.Table == nil {
			continue
		}
		if st.Setting != nil && st.Setting.Tire == st.Name {
			return st
		}
		if first == nil {
			first = st
		}
	}
	return first
}

func (a *Assessment) allowedRows(t *inflation.Table, fit weight.Fitment, lr inflation.LoadRange) []inflation.Row {
	lowest, highest, err := t.Range(fit, lr)
	if err != nil {
		return nil // no row is allowed; the setting says so
	}
	var out []inflation.Row
	for r := range t.Rows(fit) {
		if r.Pressure >= lowest.Pressure && r.Pressure <= highest.Pressure {
			out = append(out, r)
		}
	}
	return out
}

// addRating puts a verdict on a load beside that load. A load of which nothing is
// known has none.
func (a *Assessment) addRating(l *report.LoadLine, f *rules.Finding) {
	low, _, ok := f.Bound().Interval()
	if !ok || low == 0 || !f.Value.Recorded() || !l.Estimate.Known() || !AtMost(f.Rule) {
		return // no rating: nobody knows the least that it is, or a load has to be at least so much
	}
	if l.Ratings == nil {
		l.Ratings = a.ratings.two() // mostly half the axle's and the whole
	}
	l.Ratings = append(l.Ratings, report.RatingLine{Rule: f.Rule.Name(), Name: a.ratingName(f, weight.Mass(low)),
		Rating: weight.Mass(low), Room: weight.Mass(low) - l.Estimate.AtMost(), Verdict: f.Verdict})
}

// ratingName says in words which rating a rule on a load holds it to, and whether
// to the whole of it.
func (a *Assessment) ratingName(f *rules.Finding, most weight.Mass) string {
	var name [3]string // the whole, half, another share
	switch r := f.Rule; {
	case r.Uses(a.Refs.groupTires):
		return "all their tires, as rated"
	case r.Uses(a.Refs.groupWheels):
		return "all their wheels, as rated"
	case r.Uses(a.Refs.ratedWhole):
		return "all its tires, as rated"
	case r.Uses(a.Refs.wheelsWhole):
		return "all its wheels, as rated"
	case r.Uses(a.Refs.carriedAsFound):
		return "all its tires, at the pressure as found"
	case r.Uses(a.Refs.carriedAsLeft):
		return "all its tires, at the pressure as left"
	case !f.Of.Recorded(): // it may ask for a rating, but is no share of one
		return r.Title()
	case r.Uses(a.Refs.groupGAWR):
		name = [...]string{"GAWR, added up", "half of GAWR, added up", "share of GAWR, added up"}
	case r.Uses(a.Refs.endGAWR), r.Uses(a.Refs.AxleGAWR):
		name = [...]string{"GAWR", report.HalfGAWR, "share of GAWR"}
	case r.Uses(a.Refs.coachGVWR):
		name = [...]string{"GVWR", "half GVWR", "share of GVWR"}
	case r.Uses(a.Refs.comboGCWR):
		name = [...]string{"GCWR", "half GCWR", "share of GCWR"}
	default:
		return r.Title()
	}
	of, _, ok := f.Of.Interval()
	if !ok { // at most what was read
		of, _ = f.Of.Most()
	}
	switch int64(most) {
	case of:
		return name[0]
	case of / 2:
		return name[1]
	}
	return name[2]
}

// TireNamed is the tire of that name, or nil.
func (a *Assessment) TireNamed(name string) *TireState {
	for i := range a.Tires {
		if a.Tires[i].Name == name {
			return &a.Tires[i]
		}
	}
	return nil
}

// Need says what to write down so that a rule can be judged.
func (a *Assessment) Need(f *rules.Finding, measure string) (where, need, rule string) {
	rule = f.Rule.Name()
	if need := a.ownNeed(f.Rule.Subject(), measure); need != "" {
		return f.Name, need, rule
	}
	switch f.Rule.Subject() {
	case "tire":
		return a.TireNeed(a.TireNamed(f.Name), measure, rule)
	case "end":
		return a.loadNeed(f, measure, a.Refs.end.needs)
	case "axle":
		return a.loadNeed(f, measure, a.Refs.axle.needs)
	case "group":
		return a.loadNeed(f, measure, a.Refs.group.needs)
	case "coach":
		return a.loadNeed(f, measure, a.Refs.coach.needs)
	case "combination":
		return a.loadNeed(f, measure, a.Refs.combination.needs)
	case "dual_pair":
		return f.Name, needText(a.Refs.pair.needs, measure), rule
	}
	return f.Name, needText(nil, measure), rule
}

// What a coach that was weighed light has to say, once for all that it carries.
const needAsDriven = "whether tanks, fuel and people were aboard as for the trip when it was weighed (as_driven: all), or what is still to come (trip)"

// What a coach that pulls a trailer has to say of its weighing.
const needHitched = "whether the trailer was hitched when it was weighed (hitched: yes); if not, what rests on its hitch (towing: tongue) and where that is (trip: coupling, hitch)"

// loadNeed says what a rule on what carries a load waits for.
func (a *Assessment) loadNeed(f *rules.Finding, measure string, needs map[string]string) (where, need, rule string) {
	where, rule = f.Name, f.Rule.Name()
	switch measure {
	case "load":
		if f.Value.Recorded() && !a.asDriven {
			return "coach", a.lightNeed(), rule
		}
	case "gawr":
		where = strings.TrimSuffix(strings.TrimSuffix(where, "-"+weight.Left.String()), "-"+weight.Right.String())
	}
	return where, needText(needs, measure), rule
}

// lightNeed says why a weighing keeps no rating.
func (a *Assessment) lightNeed() string {
	if a.stale() {
		return "a new weighing: the last one is older than a year, or work was done since"
	}
	if a.stoodOtherwise() {
		return "a new weighing: on the level, levelers up, slides in, at ride height"
	}
	if a.doubt.weighing && a.wasDriven() {
		return "the scale's readings, read again"
	}
	if a.hitchMissing() && a.wasDriven() {
		return needHitched
	}
	return needAsDriven
}

// needText is what to write down for a measure, else its name.
func needText(needs map[string]string, measure string) string {
	if need := needs[measure]; need != "" {
		return need
	}
	return strings.ReplaceAll(measure, "_", " ")
}

// pressureNeed says what reading is missing, and why the one there is will not
// do.
func (a *Assessment) pressureNeed(st *TireState) string {
	at, _ := st.ReadAt.Get()
	driven, said := a.drivenSince(st).Get()
	switch found, ok := st.Found.Get(); {
	case at == record.NotReached:
		return needPressure + ": its valve could not be reached"
	case ok && at == record.ThroughExtension && found == 0:
		return needPressure + ": a 0 through an extension proves nothing"
	case said && !driven && !st.LowestDriven.Is():
		return "the reading it was last driven at: it was not driven on as it was found"
	case ok && a.addedUnknown(st):
		return "the lowest pressure it was driven at, before air was added"
	case ok && record.Yes(st.Warm):
		return "its pressure once it is cold and in the shade; a hot reading clears no tire"
	}
	return needPressure
}

// whyOpen says why it cannot be told from what was read whether a tire ran low; it
// is empty where that is known, and for a spare.
func (a *Assessment) whyOpen(st *TireState) string {
	at, _ := st.ReadAt.Get()
	found, ok := st.Found.Get()
	switch {
	case st.Pressures.at.Is() || st.AxleIndex < 0:
		return ""
	case at == record.NotReached:
		return "its valve could not be reached"
	case !ok:
		return "nobody read it"
	case at == record.ThroughExtension && found == 0:
		return "a 0 through an extension proves nothing; read it at the stem"
	case record.Yes(st.Warm):
		return "it was not cold (hot, in the sun, or driven within 3 h), which clears no tire"
	case a.addedUnknown(st):
		return "air was added, and the lowest pressure it was driven at is not known"
	}
	if driven, said := a.drivenSince(st).Get(); said && !driven && !st.LowestDriven.Is() {
		return "it was not driven on as it was found, and the reading it was driven at is not known"
	}
	return ""
}

// orStamp adds to a table that is missing what else would do: nothing for a
// passenger or trailer tire, nor where the sidewall was read.
func (a *Assessment) orStamp(st *TireState) string {
	switch c, _ := st.Class.Get(); {
	case a.Stamped(st).Is(), c == inflation.Passenger, c == inflation.Trailer:
		return ""
	}
	return ", or the sidewall's maximum load"
}

// TireNeed says what has to be written down of a tire.
func (a *Assessment) TireNeed(st *TireState, measure, rule string) (where, need, its string) {
	if measure == "fastest" { // one for all tires
		return "coach", needText(a.Refs.tire.needs, measure), rule
	}
	if !st.Written && measure != "load" && measure != "to_set" {
		return st.Name, notWritten, rule
	}
	switch {
	case st.Position == nil && (measure == "load" || measure == "load_alone" || measure == "to_set"):
		return st.Name, "what it is to carry: it is on no wheel position", rule
	case st.Mate < 0 && measure == "load_alone":
		return st.Name, "what it carries beside a dual mate: it has none", rule
	}
	switch measure {
	case "load", "load_alone":
		if a.tireCarries(st).Recorded() && !a.asDriven {
			return "coach", a.lightNeed(), rule
		}
		return a.Layout.EndNames[st.AxleIndex][st.Position.Side-weight.Left], needLoad, rule
	case "mate_run_low": // what is not known of the mate
		return a.TireNeed(&a.Tires[st.Mate], "run_low", rule)
	case "found", "as_found", "lowest", "lowest_as_read", "run_low", "read":
		return st.Name, a.pressureNeed(st), rule
	case "capacity_as_found":
		if !st.Usable.Is() || record.Yes(st.Warm) {
			return st.Name, a.pressureNeed(st), rule
		}
		return st.Name, "a table that reaches down to the pressure found" + a.orStamp(st), rule
	case "capacity_at_placard":
		if st.Pressures.placard.Is() { // which was read
			return st.Name, "a table that reaches down to the placard's pressure" + a.orStamp(st), rule
		}
	case "capacity_as_left":
		return st.Name, "a table that reaches down to the pressure it was left at" + a.orStamp(st), rule
	case "to_set":
		return a.Visit.Axles[st.AxleIndex].ID, setNeed(st.Setting), rule
	}
	if conditionMeasures()[measure] && st.Seen.Is() {
		return st.Name, "a look at the sidewall that was not looked at", rule
	}
	return st.Name, needText(a.Refs.tire.needs, measure), rule
}

const needLighter = "what to set, once load has come off"

// setNeed says what is missing for an axle's pressure to set.
func setNeed(s *inflation.Setting) string {
	switch {
	case s != nil && s.AskTirePressure:
		return "the maximum pressure on the sidewalls of all its tires"
	case s != nil && s.AskWheelPressure:
		return "the maximum pressure stamped on all its wheels"
	case s != nil && s.Outcome == inflation.Short:
		return needLighter
	case s != nil && s.AskPlacard:
		return "the placard's pressure"
	case s != nil && s.Grounds.Load == inflation.AxleShare:
		return "the load of each end: weigh both"
	}
	return "its load, or the placard's pressure"
}

// SizesMeasured reports whether both tires of a pair were measured alike.
func (a *Assessment) SizesMeasured(end string) bool {
	outer, inner := a.TireNamed(end+"-outer"), a.TireNamed(end+"-inner")
	if outer == nil || inner == nil {
		return false
	}
	return outer.Diameter.Is() && inner.Diameter.Is() || outer.Circumference.Is() && inner.Circumference.Is()
}

// SoundTire gives the facts of a tire as if neither it nor its mate ran low.
func (a *Assessment) SoundTire(st *TireState) *rules.Facts {
	facts := a.facts.tire[0]
	facts.Reset(st.Name)
	a.TireFacts(st, facts)
	return a.ranWell(facts)
}

// ranWell says of a tire that neither it nor its mate ran low.
func (a *Assessment) ranWell(f *rules.Facts) *rules.Facts {
	return f.Set(a.Refs.RunLow, rules.Flag(false)).Set(a.Refs.MateRunLow, rules.Flag(false))
}

// SoundAsLeft gives the facts of such a tire at the pressure it was left at, as
// if found there.
func (a *Assessment) SoundAsLeft(st *TireState) *rules.Facts {
	left, line := *st, *st.Line
	left.Line, left.Usable = &line, st.coldLeft()
	left.Pressures.found = Value(left.Usable)
	return a.SoundTire(&left)
}

// twos gives each of a report's short lists, of which a coach has dozens, room for
// two entries from one piece of memory. A list that grows longer moves out of it.
type twos[T any] struct{ free []T }

func (t *twos[T]) two() []T {
	if len(t.free) < 2 {
		t.free = make([]T, 32)
	}
	out := t.free[:0:2]
	t.free = t.free[2:]
	return out
}

package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// load is a load as a fact. A coach that was weighed with less than it carries on
// the trip weighs at least that.
func (a *Assessment) load(e weight.Estimate) rules.Value {
	v := loadValue(e)
	if v.Recorded() && !a.asDriven {
		return v.OrMore()
	}
	return v
}

// loadValue is a load as it was weighed.
func loadValue(e weight.Estimate) rules.Value {
	if !weighed(e) {
		return rules.Value{}
	}
	return rules.PlusMinus(e.Load, e.PlusMinus)
}

// weighed reports whether a scale says what something carries: an assumed share of an
// axle condemns no end and clears none.
func weighed(e weight.Estimate) bool { return e.Known() && e.State != weight.Assumed }

// byWhole reports whether only the whole axle's load is known, and neither
// end's.
func (a *Assessment) byWhole(axle int) bool {
	return !weighed(a.endLoad(axle, weight.Left)) && !weighed(a.endLoad(axle, weight.Right)) && a.axleLoad(axle).Estimate.Known()
}

// endCarries is what an end carries: at most the axle, where only that was weighed.
func (a *Assessment) endCarries(axle int, line *report.LoadLine) rules.Value {
	if !weighed(line.Estimate) && a.byWhole(axle) && a.asDriven {
		return loadValue(a.axleLoad(axle).Estimate).OrLess()
	}
	return a.load(line.Estimate)
}

// tireCarries is what one tire carries.
func (a *Assessment) tireCarries(st *TireState) rules.Value {
	if st.AxleIndex < 0 {
		return rules.Value{}
	}
	if !weighed(st.Line.Load) && a.byWhole(st.AxleIndex) && a.asDriven {
		return loadValue(a.OnOne(st.AxleIndex, a.axleLoad(st.AxleIndex).Estimate)).OrLess()
	}
	return a.load(st.Line.Load)
}

// aloneCarries is what a dual tire carries with its mate off the ground.
func (a *Assessment) aloneCarries(st *TireState) rules.Value {
	if st.Mate < 0 {
		return rules.Value{}
	}
	e := a.endLoad(st.AxleIndex, st.Position.Side)
	if !weighed(e) && a.byWhole(st.AxleIndex) && a.asDriven {
		return loadValue(a.axleLoad(st.AxleIndex).Estimate).OrLess()
	}
	return a.load(e)
}

// whole is for an axle that was weighed only as a whole: from what it may carry
// with half of it on its weakest tire to what all its tires carry together.
func (a *Assessment) whole(axle int, of func(*TireState) rules.Value) rules.Value {
	if !a.byWhole(axle) {
		return rules.Value{}
	}
	tires := a.OnAxle(axle)
	var weakest, sum int64
	for i := range tires {
		v := of(&tires[i])
		least, _ := v.Least() // nothing is sure of a tire that was read hot
		most, ok := v.Most()
		if !ok {
			return rules.Value{}
		}
		if i == 0 || least < weakest {
			weakest = least
		}
		sum += most
	}
	all, err := weight.Mass(weakest).MulDiv(int64(len(tires)), 1, weight.Floor)
	if err != nil || int64(all) > sum {
		return rules.Value{}
	}
	return rules.Between(all, weight.Mass(sum))
}

func (a *Assessment) anyOn(axle int, is func(*TireState) bool) bool {
	tires := a.OnAxle(axle)
	for i := range tires {
		if is(&tires[i]) {
			return true
		}
	}
	return false
}

// wasDriven says whether the coach was weighed as it is driven: tanks, fuel and
// people, of each as said of it, else as said of all; or with a trip that fills the
// tanks and says that people come aboard. Cargo that is only planned says nothing of what was missing.
// Nobody drives it on its levelers, with a slide out, or off its ride height; and on a
// slope its ends carry other loads than on the road.
func (a *Assessment) wasDriven() bool {
	w := &a.Visit.Weighing
	if len(w.Readings) == 0 || a.stoodOtherwise() {
		return false
	}
	filled := func(with ...record.Fluid) bool {
		return a.Changes && slices.ContainsFunc(a.Visit.Trip.Changes, func(c record.TripChange) bool {
			fluid, _ := c.Fluid.Get()
			much, _ := c.Fill.Get()
			return much > 0 && slices.Contains(with, fluid)
		})
	}
	boarded := a.Changes && slices.ContainsFunc(a.Visit.Trip.Changes, func(c record.TripChange) bool {
		much, _ := c.Add.Get()
		return much > 0 && record.Yes(c.People)
	})
	is := func(r record.Recorded[bool]) bool { return record.Yes(r.Or(w.AsDriven)) }
	return (is(w.TanksAsDriven) || filled(record.Water)) && (is(w.FuelAsDriven) || filled(record.Diesel, record.Gasoline)) && (is(w.PeopleAsDriven) || boarded)
}

// stoodOtherwise reports whether somebody wrote down that the coach stood on the scale as
// it does not on the road: a leveler on the ground takes load off the tires, a slide and
// the air springs bring it onto others, and on a slope it leans onto the lower ends
// (common practice).
func (a *Assessment) stoodOtherwise() bool {
	no := func(r record.Recorded[bool]) bool { yes, said := r.Get(); return said && !yes }
	w := &a.Visit.Weighing
	return no(w.Level) || no(w.LevelersUp) || no(w.SlidesIn) || no(w.RideHeight)
}

// stale reports whether the weighing says too little of today's coach: it is
// older than a year, or work that changes loads was done since (common practice).
func (a *Assessment) stale() bool {
	if record.Yes(a.Visit.Weighing.WorkSince) {
		return true
	}
	on, ok := a.Visit.Weighing.Date.Get()
	return ok && on.IsValid() && daysApart(on, a.Visit.Date) > daysAYear
}

// weighedAgo is how long ago the coach was weighed: on the day of the visit,
// where nothing else is said.
func (a *Assessment) weighedAgo() rules.Value {
	if len(a.Visit.Weighing.Readings) == 0 {
		return rules.Value{}
	}
	on, ok := a.Visit.Weighing.Date.Get()
	if !ok || !on.IsValid() || a.Visit.Date.Before(on) {
		return rules.Quantity(int64(0))
	}
	return rules.Quantity(ageSteps(dotcode.Between(on, a.Visit.Date)))
}

// fits says whether a pressure carries an axle's load.
func (a *Assessment) fits(x axleOf) rules.Value {
	if x.set == nil {
		return rules.Value{}
	}
	switch {
	case x.set.Outcome == inflation.CanSet && (x.set.Minimum == 0 || x.set.AskPlacard) && x.set.Need.Known() && x.set.Need.High > x.set.Set:
		return rules.Word(1) // the load may need more than is set
	case x.set.Outcome == inflation.CanSet && x.set.Minimum == 0:
		return rules.Value{} // nothing says what the load needs
	case x.set.Outcome == inflation.CanSet, a.shortOnTrip[x.axle]:
		return rules.Word(0)
	case x.set.Outcome == inflation.TooClose, x.set.Outcome == inflation.Short && (x.set.Grounds.Load == inflation.AxleShare || x.set.OnlyAsRead):
		return rules.Word(1) // half the axle against one weak part is no sure breach, nor is a load within its plus/minus
	case x.set.Outcome == inflation.Short:
		return rules.Word(2)
	}
	return rules.Value{}
}

// shortPart says which part is too weak, where no pressure carries the load.
func shortPart(s *inflation.Setting) rules.Value {
	if s == nil {
		return rules.Value{}
	}
	if len(s.Short) == 0 {
		return rules.Word(0)
	}
	if s.WheelForbids() {
		return rules.Word(3)
	}
	for _, short := range s.Short {
		if short.Limit.Part != inflation.WheelLoad {
			return rules.Word(1)
		}
	}
	return rules.Word(2)
}

func placardNeeded(s *inflation.Setting) rules.Value {
	if s == nil {
		return rules.Value{}
	}
	return yesNo(s.AskPlacard)
}

// placardTooHigh reports whether the placard asks for more than a tire or wheel of
// the axle allows.
func (a *Assessment) placardTooHigh(x axleOf) rules.Value {
	placard, ok := a.placardPressure(x.axle)
	if !ok {
		return a.noPlacardAt(x.axle)
	}
	return yesNo(a.anyOn(x.axle, func(st *TireState) bool {
		most := a.mostPressure(st)
		return most > 0 && most < placard
	}))
}

// placardRead is an axle's placard, where it can be believed.
func (a *Assessment) placardRead(axle int) record.Recorded[record.Placard] {
	ax := &a.Visit.Axles[axle]
	if a.doubtful(placardKey(ax.ID)) {
		return record.Recorded[record.Placard]{}
	}
	return ax.Placard
}

func (a *Assessment) placardPressure(axle int) (inflation.Pressure, bool) {
	placard, _ := a.placardRead(axle).Get()
	return placard.Pressure()
}

// placardPromises reports whether the placard's pressure promises more than any
// law gives its tires (49 CFR 571.120 S5.3.1).
func (a *Assessment) placardPromises(axle int) rules.Value {
	at, ok := a.placardPressure(axle)
	if !ok {
		return a.noPlacardAt(axle)
	}
	asks := func(placard inflation.Placard) bool {
		return a.anyOn(axle, func(st *TireState) bool {
			c, err := st.carries(at, a.Visit.Axles[axle].Fitment, placard, st.Options, a.Visit.System)
			return err == nil && c.PlacardAsksMore
		})
	}
	known := a.placardOf(axle)
	if asks(known) {
		return yesNo(true)
	}
	// What was not recorded may make it promise more.
	most := known
	if most.Fitted == 0 {
		most.Fitted = inflation.AsPlacard
	}
	if most.GVWR == 0 && !a.Visit.Axles[axle].Towed {
		most.GVWR = 2 * heavyGVWR
	}
	if known.GAWR == 0 || asks(most) {
		return rules.Value{}
	}
	return yesNo(false)
}

// heavyGVWR is the weight above which a placard promises half of the GAWR for each
// end (49 CFR 571.120 S5.3.1).
const heavyGVWR = 10_000 * weight.Pound

// noPlacardAt is no where somebody looked and there is no placard, else not known.
func (a *Assessment) noPlacardAt(axle int) rules.Value {
	if a.placardRead(axle).Is() {
		return yesNo(false)
	}
	return rules.Value{}
}

// oddClass reports whether a trailer or passenger tire runs under the coach.
func (a *Assessment) oddClass(axle int) rules.Value {
	if a.Visit.Axles[axle].Towed {
		return yesNo(false)
	}
	return yesNo(a.anyOn(axle, func(st *TireState) bool {
		c, ok := st.Class.Get()
		return ok && (c == inflation.Trailer || c == inflation.Passenger)
	}))
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
	if a.Layout.All != a.Layout.Coach || v.Ratings.GCWR.Is() || a.towedWritten() {
		a.loadLine("combination", report.CombinationLoad, a.Layout.All)
	}
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

// OnLoad reports whether a rule speaks of what a weighing says, so that only another one
// answers it.
func OnLoad(rule *rules.Rule) bool {
	m := MeasuresOf()
	for _, of := range [...]rules.MeasureRef{m.endLoad, m.axleLoad, m.groupLoad, m.coachLoad, m.comboLoad, m.TowedLoad, m.AxleFit, m.Load, m.LoadAlone, m.PairLoad, m.PairHeavier} {
		if rule.Uses(of) {
			return true
		}
	}
	return false
}

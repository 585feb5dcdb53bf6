package inflation

import (
	"math"

	"axleend.example/inflation/caution"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// pressure settles outcome, minimum and the pressure to set.
func (a *axle) pressure(s *Setting) error {
	s.Outcome = CanSet
	if a.basis != 0 {
		for i := range a.tires {
			if err := a.needOf(&a.tires[i], i == 0, s); err != nil {
				return err
			}
		}
		l, err := a.carried(s)
		if err != nil {
			return err
		}
		a.shortfalls(s, l)
		if s.Outcome == Short {
			return nil
		}
		// Rounding the share of a tire up must not make it not fit.
		a.need, a.needPlain = min(a.need, l.atCap), min(a.needPlain, l.atCap)
	}
	if err := a.minimum(s); err != nil {
		return err
	}
	a.set(s)
	return nil
}

// needOf adds what a tire needs to the axle's need, and sees whether any law
// lets it carry the load at the placard.
func (a *axle) needOf(t *Tire, first bool, s *Setting) error {
	in, class := &a.in, t.class()
	load := Load{Load: a.needPlain, PlusMinus: a.need - a.needPlain, State: Weighed, OpenAbove: a.open || a.basis == OneEnd}
	if a.basis == AxleShare {
		load.OpenBelow, load.AtLeast = true, a.atLeast
	}
	opt := a.opt
	opt.Method, opt.LoadRange = in.Method, t.LoadRange
	n, err := t.need(class, &load, in.Fitment, opt, in.System)
	if err != nil {
		return err
	}
	if s.Need = s.Need.Or(n); first {
		s.Need = n
	}
	if t.Table != nil || in.Placard == 0 {
		return nil
	}
	c, err := t.carries(class, in.Placard, in.Fitment, a.opt, in.System)
	a.lawsShort = a.lawsShort || c.Known() && c.High < a.need
	return err
}

// axleCarries is what the weakest tire or wheel of an axle carries, each math.MaxInt64 where
// nothing says it.
type axleCarries struct {
	// low counts the rating of a tire whose class is not known divided by 1.10,
	// high as stamped.
	low, high weight.Mass
	// atCap is what tables say at the cap, nothing below their first row; of
	// tires without a table what the laws allow there at the most.
	atCap weight.Mass
}

func (a *axle) carried(s *Setting) (axleCarries, error) {
	in := &a.in
	l := axleCarries{math.MaxInt64, math.MaxInt64, math.MaxInt64}
	for i := range a.tires {
		t := &a.tires[i]
		if rated := t.Rated(in.Fitment, a.opt, in.System); rated.Known() {
			l.low, l.high = min(l.low, rated.Low), min(l.high, rated.High)
		}
		if s.Cap.Part == 0 {
			continue
		}
		c, err := t.carries(t.class(), s.Cap.Pressure, in.Fitment, a.opt, in.System)
		if err != nil {
			return l, err
		}
		if c.Known() {
			l.high = min(l.high, c.High)
		}
		if c.From == FromTable {
			l.atCap = min(l.atCap, c.Low)
		} else if c.Known() {
			l.atCap = min(l.atCap, c.High)
		}
	}
	for i := range a.wheels {
		if load := a.wheels[i].MaxLoad; load > 0 {
			l.low, l.high = min(l.low, load), min(l.high, load)
		}
	}
	l.low = min(l.low, l.atCap)
	return l, nil
}

// shortfalls compares each end with what its weakest parts carry.
func (a *axle) shortfalls(s *Setting, l axleCarries) {
	for k := range a.full {
		if a.known[k] && (a.byTire[k] > a.endOf(l.low) || l.low == 0) {
			a.shortfall(s, l, k)
		}
		if a.basis == AxleShare { // both ends are the same share
			break
		}
	}
	if s.Outcome == TooClose {
		s.Cautions = s.Cautions.With(caution.TooClose)
	}
	s.OnlyAsRead = s.Outcome == Short && !a.surelyOver
}

// shortfall takes in an end that carries more than its weakest parts surely do.
func (a *axle) shortfall(s *Setting, l axleCarries, k int) {
	side, plain, sure := weight.Left+weight.Side(k), a.plainByTire[k], a.sureByTire[k]
	if a.basis == AxleShare {
		side, plain, sure = 0, a.half, a.half
	}
	if s.Outcome = max(s.Outcome, TooClose); plain > a.endOf(l.high) {
		s.Outcome = Short
	}
	a.surelyOver = a.surelyOver || sure > a.endOf(l.high)
	a.overAtCap = a.overAtCap || a.byTire[k] > a.endOf(l.atCap) || l.atCap == 0
	a.plainOverAtCap = a.plainOverAtCap || a.plainByTire[k] > a.endOf(l.atCap) || l.atCap == 0
	for _, part := range a.weakest(s, l) {
		if part.Part != 0 && (a.byTire[k] > part.Load || part.Load == 0) {
			s.Short = append(s.Short, Shortfall{Side: side, Limit: part, Over: a.byTire[k] - part.Load})
		}
	}
}

// weakest are the lowest rating of a tire, load of a wheel, and load at the cap,
// each on an end.
func (a *axle) weakest(s *Setting, l axleCarries) (parts [3]Limit) {
	for i := range a.tires {
		t := &a.tires[i]
		lower(&parts[0], Limit{Part: TireRating, Name: t.Name, Load: a.endOf(t.rated(t.class(), a.in.Fitment, a.in.OnPassengerCar, a.grid)), Pressure: t.rating(a.in.Fitment).Pressure})
	}
	for i := range a.wheels {
		lower(&parts[1], Limit{Part: WheelLoad, Name: a.wheels[i].Name, Load: a.endOf(a.wheels[i].MaxLoad)})
	}
	if l.atCap != math.MaxInt64 {
		parts[2] = s.Cap
		parts[2].Load = a.endOf(l.atCap)
	}
	return parts
}

// lower keeps the lower of two limits; one of load 0 was not read.
func lower(into *Limit, l Limit) {
	if l.Load > 0 && (into.Part == 0 || l.Load < into.Load) {
		*into = l
	}
}

// minimum looks up every tire that has a table or may be estimated.
func (a *axle) minimum(s *Setting) error {
	for i := range a.tires {
		if err := a.minimumOf(&a.tires[i], s); err != nil {
			return err
		}
	}
	return nil
}

// minimumOf looks up one tire, and raises the axle's need and minimum by what it says.
func (a *axle) minimumOf(t *Tire, s *Setting) error {
	class := t.class()
	table, known := t.Table != nil, class != 0 || t.Table != nil
	if !table && !t.estimable(class, a.in.Fitment) {
		a.noData = true
		return nil
	}
	a.noData = a.noData || !known // an estimate of a class not known clears nothing
	if a.basis == 0 {
		return nil
	}
	full, plain, err := a.lookUps(t, class, s.Cap.Pressure)
	if err != nil {
		return err
	}
	into, grounds := &a.byEstimate, Grounds{Pressure: FromEstimate, Source: Unlisted{}.Source()}
	if table {
		into, grounds = &a.byTable, Grounds{Pressure: FromTable, Table: t.Table.name, Source: t.Table.source}
	}
	if full.Pressure > into.pressure {
		into.pressure, into.grounds = full.Pressure, grounds
	}
	if !known {
		return nil
	}
	s.PlainMinimum = max(s.PlainMinimum, plain.Pressure)
	if full.Pressure > s.Minimum {
		s.Minimum, s.LookUp, s.Tire = full.Pressure, full, t.Name
		s.restOn(&grounds)
	}
	if full.Estimated {
		s.Cautions = s.Cautions.With(caution.Estimated)
		if full.AtFloor {
			s.Cautions = s.Cautions.With(caution.NoTableFloor)
		}
	}
	return nil
}

// restOn notes what the pressure rests on; what the load does stays.
func (s *Setting) restOn(g *Grounds) {
	s.Grounds.Pressure, s.Grounds.Table, s.Grounds.Source = g.Pressure, g.Table, g.Source
}

// lookUps give a tire's pressure for the load with its plus/minus and without.
func (a *axle) lookUps(t *Tire, class Class, limit Pressure) (full, plain LookUp, err error) {
	if full, err = a.lookUp(t, class, a.need, limit); err != nil || a.needPlain == a.need {
		return full, full, err
	}
	plain, err = a.lookUp(t, class, a.needPlain, limit)
	return full, plain, err
}

// lookUp gives a tire's pressure for a load that may fit at the cap. Where the
// cap lies between two rows, the cap is the answer for what the row above would
// be asked for; where it is below an estimate, nothing is sure.
func (a *axle) lookUp(t *Tire, class Class, load weight.Mass, limit Pressure) (LookUp, error) {
	opt := a.opt
	opt.Method, opt.LoadRange = a.in.Method, t.LoadRange
	if opt.Method == Interpolated {
		opt.Step = a.step
	}
	var ans LookUp
	var err error
	if t.Table != nil {
		ans, err = t.Table.PressureFor(load, a.in.Fitment, opt)
	} else {
		ans, err = t.estimate(class, a.in.Fitment).PressureFor(load, opt)
		a.estimateCapped = a.estimateCapped || err == nil && ans.Pressure > limit
	}
	if err == nil && ans.Pressure > limit {
		ans.Pressure, ans.AtCap = limit, true
	}
	return ans, err
}

// An offer is a pressure that may be set, and what it rests on.
type offer struct {
	pressure Pressure
	capped   bool // the cap keeps it lower
	grounds  *Grounds
}

// cushioned is a need with the shop's cushion, rounded up to the step, at most
// the cap.
func (a *axle) cushioned(s *Setting, need *tireNeed) offer {
	o := offer{grounds: &need.grounds}
	if need.pressure == 0 {
		return o
	}
	cushion := a.in.Cushion
	if cushion > 0 && !(a.wheelPressureRead && a.stampsRead) {
		cushion = 0
		s.Cautions = s.Cautions.With(caution.CushionCut)
	}
	if o.pressure, o.capped = roundUpTo(need.pressure+cushion, a.step, s.Cap.Pressure); o.capped && cushion > 0 {
		s.Cautions = s.Cautions.With(caution.CushionCut)
	}
	return o
}

// take makes an offer the pressure to set.
func (s *Setting) take(o offer, why Why) {
	s.Set, s.Capped, s.Why = o.pressure, o.capped, why
	s.restOn(o.grounds)
}

// set settles the one number.
func (a *axle) set(s *Setting) {
	in := &a.in
	byTable, byEstimate := a.cushioned(s, &a.byTable), a.cushioned(s, &a.byEstimate)
	// No pressure is the minimum for what nothing carries.
	if a.overAtCap {
		s.Minimum = 0
	}
	if a.plainOverAtCap {
		s.PlainMinimum = 0
	}
	if s.Minimum != s.PlainMinimum {
		s.Cautions = s.Cautions.With(caution.PlusMinus)
	}
	switch {
	case a.basis == EndsWeighed && in.AsDriven && !a.open && !a.noData && a.byEstimate.pressure == 0:
		s.take(byTable, WhyNeed)
	case in.PlacardNone && a.needKnown() && byEstimate.pressure > byTable.pressure:
		s.take(byEstimate, WhyNoPlacard)
		a.overEstimate(s)
	case in.PlacardNone && a.needKnown():
		s.take(byTable, WhyNoPlacard)
	case in.Placard > 0:
		a.placardOrMore(s, byTable, byEstimate)
	default:
		if !a.untilRead(s) {
			return
		}
	}
	if limit := s.Cap.Pressure; s.Cap.Part != 0 && (s.Set > limit || a.overAtCap) {
		s.Set, s.Capped = limit, true
	}
	if s.Set < in.Placard && !s.Cautions.Has(caution.PlacardAboveCap) {
		s.Cautions = s.Cautions.With(caution.BelowPlacard)
	}
}

// placardOrMore sets to the placard, or above it to what a table asks for, or to
// what an estimate does where it may.
func (a *axle) placardOrMore(s *Setting, byTable, byEstimate offer) {
	placard := Grounds{Pressure: FromPlacard, Source: origin.Source{Grade: origin.CommonPractice, Title: "vehicle placard"}}
	s.take(offer{pressure: a.in.Placard, grounds: &placard}, WhyPlacard)
	if byTable.pressure > s.Set {
		s.take(byTable, WhyNeedAbovePlacard)
	}
	why := a.raises()
	if why == 0 {
		return
	}
	if byEstimate.pressure > s.Set {
		s.take(byEstimate, why)
	}
	a.overEstimate(s) // also where the limit is the placard's own pressure
}

// needKnown reports whether what was weighed says what the axle needs: of one
// end alone the other may be heavier.
func (a *axle) needKnown() bool { return a.basis != 0 && a.basis != OneEnd && !a.noData }

// raises says why an estimate may go above the placard, if it may.
func (a *axle) raises() Why {
	in := &a.in
	switch {
	case a.lawsShort:
		return WhyLawsFallShort
	case a.basis != EndsWeighed:
		return 0
	case in.GAWR == 0:
		return WhyGAWRNotRead
	case max(a.full[0], a.full[1]) > promisedEnd(in.GAWR):
		return WhyOverHalfGAWR
	case in.Fitted == WeakerThanPlacard:
		return WhyWeakerTires
	}
	return 0
}

// overEstimate says that a limit keeps the pressure below what the estimate
// asks for.
func (a *axle) overEstimate(s *Setting) {
	if !a.estimateCapped || s.Outcome != CanSet {
		return
	}
	s.Outcome, s.Capped = TooClose, true
	s.Cautions = s.Cautions.With(caution.TooClose)
	for k := range a.full {
		if a.known[k] && a.byTire[k] == max(a.byTire[0], a.byTire[1]) {
			if a.basis == AxleShare { // weighed whole
				s.Short = append(s.Short, Shortfall{Limit: s.Cap})
				return
			}
			s.Short = append(s.Short, Shortfall{Side: weight.Left + weight.Side(k), Limit: s.Cap})
		}
	}
}

// untilRead sets to the sidewall's pressure within the wheel's limit, or says
// what has to be read for a number.
func (a *axle) untilRead(s *Setting) bool {
	s.Why = WhyUntilPlacardRead
	if a.in.PlacardNone {
		s.Why = WhyNoPlacardNoNeed
	} else {
		s.AskPlacard = true
	}
	s.restOn(&Grounds{Pressure: FromSidewall, Source: origin.Source{Grade: origin.CommonPractice, Title: "sidewall pressure within the wheel's limit"}})
	if a.stampsRead && a.wheelPressureRead {
		s.Set = s.Cap.Pressure
		return true
	}
	s.AskTirePressure, s.AskWheelPressure = !a.stampsRead, !a.wheelPressureRead
	s.Outcome, s.Set, s.Why = NotJudged, 0, 0
	if a.byEstimate.pressure > a.byTable.pressure {
		s.restOn(&a.byEstimate.grounds)
	} else { // of neither, nothing
		s.restOn(&a.byTable.grounds)
	}
	s.Cautions = s.Cautions.With(caution.NoData)
	return false
}

// rooms fills in what the ends still carry.
func (a *axle) rooms(s *Setting) error {
	if a.basis == 0 || a.basis == AxleShare {
		return nil
	}
	least, known, err := a.leastAt(s.Set)
	if err != nil {
		return err
	}
	for k, room := range [...]*EndRoom{&s.Left, &s.Right} {
		if !a.known[k] {
			continue
		}
		room.Load = a.load[k]
		if room.Known = known; known {
			room.Capacity = a.endOf(least)
			room.Room = room.Capacity - a.byTire[k]
		}
		switch s.Lowest.Part {
		case 0:
		case OtherRating: // of the end as a whole
			room.RatingRoom = s.Lowest.Load - a.full[k]
		default:
			room.RatingRoom = s.Lowest.Load - a.byTire[k]
		}
	}
	return nil
}

// leastAt is what the weakest tire or wheel surely carries at a pressure; known
// is false where nothing says it, and where an estimate may carry more.
func (a *axle) leastAt(p Pressure) (least weight.Mass, known bool, err error) {
	in := &a.in
	least = math.MaxInt64
	if p == 0 {
		return 0, false, nil
	}
	placard := Placard{Pressure: in.Placard, GAWR: in.GAWR, GVWR: in.GVWR, Fitted: in.Fitted}
	for i := range a.tires {
		t := &a.tires[i]
		c, err := t.Carries(p, in.Fitment, placard, a.opt, in.System)
		if err != nil {
			return 0, false, err
		}
		if !c.Known() || (c.From == FromEstimate || c.From == FromSidewall) && c.Low < min(a.need, c.High) {
			return 0, false, nil
		}
		least = min(least, c.Low)
	}
	for i := range a.wheels {
		if load := a.wheels[i].MaxLoad; load > 0 {
			least = min(least, load)
		}
	}
	return least, true, nil
}

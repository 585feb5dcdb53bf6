package inflation

import (
	"fmt"
	"math"

	"axleend.example/internal/problem"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// SetAxle gives the cold pressure to set on one axle, the same in all its
// tires.
//
// Which load: that of the heavier end, in the heavier of the two states, WITH
// its plus/minus on top. A scale that reads low by its tolerance is no rarer
// than one that reads high, and only the one error costs a tire; PlainMinimum
// says what the readings alone would give. On a dual end each tire carries
// half, rounded up. The load a passenger tire is looked up with is 1.10 times
// that.
//
// Which limits: where tires or wheels differ, the highest need and the weakest
// cap, whichever end they are on, since tires get moved. What was not read is
// no license: an unread wheel never lets a pressure go above what the load or
// the placard asks for, so there is no cushion then and no going up to the
// sidewall pressure.
//
// Which pressure: with both ends weighed, the minimum for the load, plus the
// cushion, rounded up to the step, at most the weakest cap; only this may be
// below the placard. With an axle's total alone, or ends that are assumed, the
// higher of that (55 % of the axle on one end) and the placard; with no
// placard, the sidewall pressure within the wheel's limit. Unweighed, the
// placard, else the sidewall pressure within the wheel's limit. A tire with
// no table and no estimate (passenger, trailer) stays at the placard, else at
// its sidewall pressure within the wheel's limit.
//
// A load that nothing allowed carries is no error: the outcome is Short, or
// TooClose where only the plus/minus or the assumed 55 % is too much, and
// Short lists every part that is over and by how much. Errors
// match [ErrFitment] or [ErrInput], or are those of a table that was handed in
// for the wrong fitment, load range, size or class.
func SetAxle(in AxleInput) (Setting, error) {
	a := axle{in: in, opt: Options{Method: Interpolated, OnPassengerCar: in.OnPassengerCar}}
	s := Setting{Name: in.Name, Fitment: in.Fitment, Placard: in.Placard}
	if err := a.prepare(&s); err != nil {
		return Setting{}, err
	}
	a.loads(&s)
	if err := a.limits(&s); err != nil {
		return Setting{}, err
	}
	if err := a.pressure(&s); err != nil {
		return Setting{}, err
	}
	if err := a.rooms(&s); err != nil {
		return Setting{}, err
	}
	return s, nil
}

// axle is the work of one call. It lives on the stack.
type axle struct {
	in AxleInput
	// tires and wheels are those of the axle, one of each where all are alike.
	tires  []Tire
	wheels []Wheel
	opt    Options // for capacities: always between the rows
	n      int64   // tires on an end
	grid   weight.Mass
	step   Pressure
	// ends are left and right in the heavier state, with the plus/minus added
	// and without; known says which are.
	full [2]weight.Mass
	load [2]Load
	// byTire and plainByTire are what an end would carry if all its tires carried
	// as much as the heaviest, with the plus/minus and without: what the limits
	// of tires and wheels are held against.
	byTire, plainByTire [2]weight.Mass
	heaviest            [2]bool
	known               [2]bool
	basis               LoadBasis
	// half of the axle's total, with AxleShare: that much does stand on one end.
	half weight.Mass
	// holds says that the heaviest state is known, not only one end of it.
	holds bool
	// need is the load on one tire of the governing end, plain the same
	// without its plus/minus.
	need, needPlain weight.Mass
	// wheelPressureRead and stampsRead say that no wheel's, no tire's cap is
	// missing; noData that only placard or sidewall speak for some tire.
	wheelPressureRead, stampsRead, noData bool
	// overAtCap says that no data carries the load with its plus/minus,
	// plainOverAtCap that none carries it without.
	overAtCap, plainOverAtCap bool
}

func (a *axle) prepare(s *Setting) error {
	in := &a.in
	if a.n = PerEnd.tiresPer(in.Fitment); a.n == 0 {
		return fmt.Errorf("axle %q, fitment not known: want single or dual: %w", problem.Clip(in.Name), ErrFitment)
	}
	if len(in.Tires) == 0 {
		return a.fail("no tire")
	}
	a.grid = in.System.MassGrid()
	if a.step = in.Step; a.step == 0 {
		if a.step = PSI; in.System == weight.Metric {
			a.step = 10 * Kilopascal
		}
	}
	for _, p := range [...]Pressure{in.Placard, a.step, in.Cushion} {
		if p < 0 || p > maxPressure {
			return a.fail("placard, step or cushion of " + p.String())
		}
	}
	for _, l := range [...]*Load{&in.Weighed.Left, &in.Weighed.Right, &in.Weighed.Total, &in.Heaviest.Left, &in.Heaviest.Right, &in.Heaviest.Total} {
		if l.State == 0 {
			continue
		}
		for _, m := range [...]weight.Mass{l.HeavierTire, l.HeavierPlusMinus} {
			if m < 0 || m > maxLoad {
				return a.fail("heavier tire's load of " + l.HeavierTire.String() + " plus/minus " + l.HeavierPlusMinus.String())
			}
		}
		if l.Load < 0 || l.PlusMinus < 0 || l.Load > maxLoad || l.PlusMinus > maxLoad {
			return a.fail("load of " + l.Load.String() + " plus/minus " + l.PlusMinus.String())
		}
	}
	for i := range in.Wheels {
		w := &in.Wheels[i]
		if w.MaxLoad < 0 || w.MaxLoad > maxLoad || w.MaxPressure < 0 || w.MaxPressure > maxPressure {
			return a.fail("wheel " + problem.Clip(w.Name))
		}
	}
	for i := range in.Ratings {
		if in.Ratings[i].Load < 0 || in.Ratings[i].Load > maxLoad {
			return a.fail("rating " + problem.Clip(in.Ratings[i].Name))
		}
	}
	s.Cautions = s.Cautions.With(CautionColdOnly)
	return nil
}

func (a *axle) fail(what string) error {
	return fmt.Errorf("axle %q: %s: %w", problem.Clip(a.in.Name), what, ErrInput)
}

// loads settles what each end carries and how that is known.
func (a *axle) loads(s *Setting) {
	for i, state := range [...]*AxleLoad{&a.in.Weighed, &a.in.Heaviest} {
		ends := [2]Load{state.Left, state.Right}
		basis := LoadBasis(0)
		switch total := state.Total; {
		case ends[0].State != 0 && ends[1].State != 0:
			basis = weakest(ends[0].State, ends[1].State)
		case total.State != 0 && (ends[0].State != 0 || ends[1].State != 0):
			// The other end is what remains, with both doubts.
			k := 0
			if ends[0].State == 0 {
				k = 1
			}
			basis = weakest(total.State, ends[k].State)
			ends[1-k] = Load{Load: max(total.Load-ends[k].Load, 0), PlusMinus: total.PlusMinus + ends[k].PlusMinus, State: Weighed}
			if basis == EndsAssumed {
				ends[1-k].State = Assumed
			}
		case total.State != 0:
			basis = AxleShare
			share := Load{Load: percentOf(total.Load, HeavierEndPercent, a.grid), PlusMinus: percentOf(total.PlusMinus, HeavierEndPercent, a.grid), State: Assumed}
			ends = [2]Load{share, share}
			a.half = max(a.half, onEach(total.Load, 2, a.grid))
		case ends[0].State != 0 || ends[1].State != 0:
			basis = OneEnd
		default:
			continue
		}
		if a.basis == 0 || basis < a.basis {
			a.basis = basis
		}
		a.holds = a.holds || i == 1 && basis != OneEnd
		for k, l := range ends {
			if l.State == 0 {
				continue
			}
			full := l.Load + l.PlusMinus
			byTire, plain := full, l.Load
			if a.n > 1 && l.HeavierTire > 0 {
				byTire, plain = max(full, weight.Mass(a.n)*(l.HeavierTire+l.HeavierPlusMinus)), max(plain, weight.Mass(a.n)*l.HeavierTire)
			}
			if !a.known[k] || byTire > a.byTire[k] {
				a.byTire[k], a.plainByTire[k], a.heaviest[k] = byTire, plain, i == 1
			}
			if !a.known[k] || full > a.full[k] {
				a.full[k], a.load[k] = full, l
			}
			a.known[k] = true
		}
	}
	s.Grounds.Load = a.basis
	switch a.basis {
	case EndsAssumed:
		s.Cautions = s.Cautions.With(CautionLoadAssumed)
	case AxleShare:
		s.Cautions = s.Cautions.With(CautionShareAssumed)
	case OneEnd, 0:
		s.Cautions = s.Cautions.With(CautionNotWeighed)
	}
	if a.basis == 0 {
		return
	}
	if !a.holds {
		s.Cautions = s.Cautions.With(CautionThisLoadOnly)
	}
	k := 0
	if a.byTire[1] > a.byTire[0] {
		k = 1
	}
	if a.byTire[0] != a.byTire[1] && a.basis != AxleShare {
		s.Governing = weight.Left + weight.Side(k)
	}
	s.HeaviestGoverns = a.heaviest[k]
	a.need = onEach(a.byTire[k], a.n, a.grid)
	a.needPlain = onEach(max(a.plainByTire[0], a.plainByTire[1]), a.n, a.grid)
	s.TireLoad = a.need
}

// limits finds the weakest cap and the lowest rating.
func (a *axle) limits(s *Setting) error {
	in := &a.in
	a.stampsRead, a.wheelPressureRead = true, len(in.Wheels) > 0
	if a.tires = in.Tires; allAlike(in.Tires, (*Tire).alike) {
		a.tires = in.Tires[:1]
	}
	if a.wheels = in.Wheels; len(in.Wheels) > 0 && allAlike(in.Wheels, (*Wheel).alike) {
		a.wheels = in.Wheels[:1]
	}
	if len(a.tires) > 1 || len(a.wheels) > 1 {
		s.Cautions = s.Cautions.With(CautionTiresDiffer)
	}
	if len(in.Wheels) == 0 {
		s.Cautions = s.Cautions.With(CautionWheelPressureNotRead).With(CautionWheelLoadNotRead)
	}
	for i := range a.tires {
		t := &a.tires[i]
		if err := a.checkTire(t); err != nil {
			return err
		}
		class := t.class()
		derated := derates(class, in.OnPassengerCar)
		switch {
		case derated && class == 0:
			s.Cautions = s.Cautions.With(CautionClassNotKnown)
		case derated:
			s.Cautions = s.Cautions.With(CautionDerated)
		}
		r := t.rating(in.Fitment)
		if r.Load == 0 {
			s.Cautions = s.Cautions.With(CautionTireLoadNotRead)
		} else {
			lowerRating(s, Limit{Part: TireRating, Name: t.Name, Load: a.endOf(t.rated(class, in.Fitment, in.OnPassengerCar, a.grid)), Pressure: r.Pressure})
		}
		if p := t.cap(in.Fitment); p == 0 {
			a.stampsRead = false
			s.Cautions = s.Cautions.With(CautionTirePressureNotRead)
		} else {
			lowerCap(s, Limit{Part: TirePressure, Name: t.Name, Pressure: p})
		}
		if t.Table == nil {
			continue
		}
		if t.LoadRange == "" && len(t.Table.caps) > 0 {
			s.Cautions = s.Cautions.With(CautionLoadRangeNotRead)
		}
		_, top, err := t.Table.Range(in.Fitment, t.LoadRange)
		if err != nil {
			return err
		}
		lowerCap(s, Limit{Part: TableRow, Name: t.Name, Pressure: top.Pressure})
		most := top.Load
		if derated {
			most = carries(most, deratedUnity).Round(a.grid, weight.Floor)
		}
		lowerRating(s, Limit{Part: TableRow, Name: t.Name, Load: a.endOf(most), Pressure: top.Pressure})
	}
	for i := range a.wheels {
		w := &a.wheels[i]
		if w.MaxPressure == 0 {
			a.wheelPressureRead = false
			s.Cautions = s.Cautions.With(CautionWheelPressureNotRead)
		} else {
			lowerCap(s, Limit{Part: WheelPressure, Name: w.Name, Pressure: w.MaxPressure})
		}
		if w.MaxLoad == 0 {
			s.Cautions = s.Cautions.With(CautionWheelLoadNotRead)
		} else {
			lowerRating(s, Limit{Part: WheelLoad, Name: w.Name, Load: a.endOf(w.MaxLoad)})
		}
	}
	for _, r := range in.Ratings {
		if r.Load > 0 {
			lowerRating(s, Limit{Part: OtherRating, Name: r.Name, Load: r.Load})
		}
	}
	if in.Placard > 0 && s.Cap.Part != 0 && in.Placard > s.Cap.Pressure {
		s.Cautions = s.Cautions.With(CautionPlacardAboveCap)
	}
	return nil
}

func lowerRating(s *Setting, l Limit) {
	if s.Lowest.Part == 0 || l.Load < s.Lowest.Load {
		s.Lowest = l
	}
}

func lowerCap(s *Setting, l Limit) {
	if s.Cap.Part == 0 || l.Pressure < s.Cap.Pressure {
		s.Cap = l
	}
}

// endOf is what an end carries; "no limit" stays that.
func (a *axle) endOf(perTire weight.Mass) weight.Mass {
	if perTire == math.MaxInt64 {
		return perTire
	}
	return perTire * weight.Mass(a.n)
}

func (a *axle) checkTire(t *Tire) error {
	if min(t.Single.Load, t.Dual.Load) < 0 || max(t.Single.Load, t.Dual.Load) > maxLoad ||
		min(t.Single.Pressure, t.Dual.Pressure, t.MaxPressure, t.LowestPermitted) < 0 ||
		max(t.Single.Pressure, t.Dual.Pressure, t.MaxPressure, t.LowestPermitted) > maxPressure {
		return a.fail("stamps of tire " + problem.Clip(t.Name))
	}
	if t.Table == nil {
		return nil
	}
	var buf [48]byte
	switch {
	case t.Size != "" && t.Size != t.Table.key && string(appendSquashed(buf[:0], t.Size)) != t.Table.key && leadingSize(t.Size) != t.Table.key:
		return a.fail("tire " + problem.Clip(t.Name) + " of size " + problem.Clip(t.Size) + " with a table for " + t.Table.size)
	case t.Class != 0 && t.Class != t.Table.class:
		return a.fail("tire " + problem.Clip(t.Name) + " of class " + t.Class.String() + " with a table for class " + t.Table.class.String())
	}
	return nil
}

// pressure settles outcome, minimum and the pressure to set.
func (a *axle) pressure(s *Setting) error {
	s.Outcome = CanSet
	if a.basis != 0 {
		most, atCap, err := a.most(s)
		if err != nil {
			return err
		}
		a.shortfalls(s, most, atCap)
		if s.Outcome == Short {
			return nil
		}
		// Rounding the share of a tire up must not make it not fit.
		a.need, a.needPlain = min(a.need, atCap), min(a.needPlain, atCap)
	}
	if err := a.minimum(s); err != nil {
		return err
	}
	a.set(s)
	return nil
}

// most is what the weakest tire or wheel carries at the cap, and what the
// tables and estimates alone say (math.MaxInt64 where nothing does).
func (a *axle) most(s *Setting) (most, atCap weight.Mass, err error) {
	in := &a.in
	most, atCap = math.MaxInt64, math.MaxInt64
	for i := range a.tires {
		t := &a.tires[i]
		class := t.class()
		if load := t.rated(class, in.Fitment, in.OnPassengerCar, a.grid); load > 0 {
			most = min(most, load)
		}
		if s.Cap.Part == 0 {
			continue
		}
		load, known, err := t.capacity(class, s.Cap.Pressure, in.Fitment, a.opt, in.System)
		if err != nil {
			return 0, 0, err
		}
		if known {
			atCap = min(atCap, load)
		}
	}
	for i := range a.wheels {
		if load := a.wheels[i].MaxLoad; load > 0 {
			most = min(most, load)
		}
	}
	return min(most, atCap), atCap, nil
}

// shortfalls compares each end with what its weakest parts carry.
func (a *axle) shortfalls(s *Setting, most, atCap weight.Mass) {
	if most == math.MaxInt64 {
		return
	}
	for k := range a.full {
		if !a.known[k] || a.basis == AxleShare && k > 0 {
			continue
		}
		side := weight.Left + weight.Side(k)
		if a.basis == AxleShare {
			side = 0
		}
		if a.byTire[k] <= a.endOf(most) && most > 0 {
			continue
		}
		sure := a.plainByTire[k]
		if a.basis == AxleShare {
			sure = a.half
		}
		if s.Outcome = max(s.Outcome, TooClose); sure > a.endOf(most) || most == 0 {
			s.Outcome = Short
		}
		a.overAtCap = a.overAtCap || a.byTire[k] > a.endOf(atCap)
		a.plainOverAtCap = a.plainOverAtCap || a.plainByTire[k] > a.endOf(atCap)
		var weakest [3]Limit // rating, wheel load, load at the cap
		for i := range a.tires {
			t := &a.tires[i]
			lower(&weakest[0], Limit{Part: TireRating, Name: t.Name, Load: a.endOf(t.rated(t.class(), a.in.Fitment, a.in.OnPassengerCar, a.grid)), Pressure: t.rating(a.in.Fitment).Pressure})
		}
		for i := range a.wheels {
			lower(&weakest[1], Limit{Part: WheelLoad, Name: a.wheels[i].Name, Load: a.endOf(a.wheels[i].MaxLoad)})
		}
		if atCap != math.MaxInt64 {
			weakest[2] = s.Cap
			weakest[2].Load = a.endOf(atCap)
		}
		for _, l := range weakest {
			if l.Part != 0 && (a.byTire[k] > l.Load || l.Load == 0) {
				s.Short = append(s.Short, Shortfall{Side: side, Limit: l, Over: a.byTire[k] - l.Load})
			}
		}
	}
	if s.Outcome == TooClose {
		s.Cautions = s.Cautions.With(CautionTooClose)
	}
}

// lower keeps the lower of two limits; one of load 0 was not read.
func lower(into *Limit, l Limit) {
	if l.Load > 0 && (into.Part == 0 || l.Load < into.Load) {
		*into = l
	}
}

// minimum looks up every tire that has a table or may be estimated.
func (a *axle) minimum(s *Setting) error {
	in := &a.in
	for i := range a.tires {
		t := &a.tires[i]
		class := t.class()
		if t.Table == nil && t.unlisted(class, in.Fitment).check() != nil {
			a.noData = true
			continue
		}
		if a.basis == 0 {
			continue
		}
		full, err := a.lookUp(t, class, a.need, s.Cap.Pressure)
		if err != nil {
			return err
		}
		plain := full
		if a.needPlain != a.need {
			if plain, err = a.lookUp(t, class, a.needPlain, s.Cap.Pressure); err != nil {
				return err
			}
		}
		s.PlainMinimum = max(s.PlainMinimum, plain.Pressure)
		if full.Pressure > s.Minimum {
			s.Minimum, s.Answer, s.Tire = full.Pressure, full, t.Name
			s.Grounds.Pressure, s.Grounds.Table, s.Grounds.Source = grounds(t)
		}
		if full.Estimated {
			s.Cautions = s.Cautions.With(CautionEstimated)
			if full.AtFloor {
				s.Cautions = s.Cautions.With(CautionNoTableFloor)
			}
		}
	}
	return nil
}

func grounds(t *Tire) (PressureBasis, string, origin.Source) {
	if t.Table != nil {
		return FromTable, t.Table.name, t.Table.source
	}
	return FromEstimate, "", EstimateSource()
}

// lookUp gives a tire's pressure for a load that is known to fit at the cap.
// Where the cap lies between two rows, the cap is the answer for what the
// row above would be asked for.
func (a *axle) lookUp(t *Tire, class Class, load weight.Mass, limit Pressure) (Answer, error) {
	opt := a.opt
	opt.Method, opt.LoadRange = a.in.Method, t.LoadRange
	if opt.Method == Interpolated {
		opt.Step = a.step
	}
	var ans Answer
	var err error
	if t.Table != nil {
		ans, err = t.Table.PressureFor(load, a.in.Fitment, opt)
	} else {
		ans, err = t.unlisted(class, a.in.Fitment).PressureFor(load, opt)
	}
	if err == nil && ans.Pressure > limit {
		ans.Pressure, ans.AtCap = limit, true
	}
	return ans, err
}

// set settles the one number.
func (a *axle) set(s *Setting) {
	in := &a.in
	needed := Pressure(0)
	if s.Minimum > 0 {
		cushion := in.Cushion
		if cushion > 0 && !(a.wheelPressureRead && a.stampsRead) {
			cushion = 0
			s.Cautions = s.Cautions.With(CautionCushionCut)
		}
		if needed, s.Capped = roundUpTo(s.Minimum+cushion, a.step, s.Cap.Pressure); s.Capped && cushion > 0 {
			s.Cautions = s.Cautions.With(CautionCushionCut)
		}
	}
	// No pressure is the minimum for what nothing carries.
	if a.overAtCap {
		s.Minimum = 0
	}
	if a.plainOverAtCap {
		s.PlainMinimum = 0
	}
	if s.Minimum != s.PlainMinimum {
		s.Cautions = s.Cautions.With(CautionPlusMinus)
	}
	switch {
	case a.basis == EndsWeighed && !a.noData:
		s.Set = needed
	case in.Placard > 0:
		if s.Set = needed; in.Placard >= needed {
			s.Set, s.Capped = in.Placard, false
			s.Grounds.Pressure, s.Grounds.Table = FromPlacard, ""
			s.Grounds.Source = origin.Source{Grade: origin.CommonPractice, Title: "vehicle placard"}
		}
	case a.stampsRead && a.wheelPressureRead:
		s.Set = s.Cap.Pressure
		s.Grounds.Pressure, s.Grounds.Table = FromSidewall, ""
		s.Grounds.Source = origin.Source{Grade: origin.CommonPractice, Title: "sidewall pressure within the wheel's limit"}
	default:
		s.Outcome, s.Set = NotJudged, 0
		s.Cautions = s.Cautions.With(CautionNoData)
		return
	}
	if limit := s.Cap.Pressure; s.Cap.Part != 0 && (s.Set > limit || a.overAtCap) {
		s.Set, s.Capped = limit, true
	}
	if s.Set < in.Placard && !s.Cautions.Has(CautionPlacardAboveCap) {
		s.Cautions = s.Cautions.With(CautionBelowPlacard)
	}
}

// rooms fills in what the ends still carry.
func (a *axle) rooms(s *Setting) error {
	if a.basis == 0 || a.basis == AxleShare {
		return nil
	}
	in := &a.in
	least, known := weight.Mass(math.MaxInt64), s.Set > 0
	for i := range a.tires {
		t := &a.tires[i]
		if !known {
			break
		}
		load, ok, err := t.capacity(t.class(), s.Set, in.Fitment, a.opt, in.System)
		if err != nil {
			return err
		}
		least, known = min(least, load), ok
	}
	for i := range a.wheels {
		if load := a.wheels[i].MaxLoad; load > 0 {
			least = min(least, load)
		}
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

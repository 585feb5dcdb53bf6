package inflation

import (
	"fmt"
	"math"

	"axleend.example/inflation/caution"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// SetAxle gives the cold pressure to set on one axle, the same in all its
// tires. [Setting.Why] says by type where it came from.
//
// Which load: that of the heavier end, in the heavier of the two states, WITH
// its plus/minus on top. A scale that reads low by its tolerance is no rarer
// than one that reads high, and only reading low costs a tire; PlainMinimum
// says what the readings alone would give. On a dual end each tire carries
// half, rounded up. The load a passenger tire is looked up with is 1.10 times
// that.
//
// Which limits: where tires or wheels differ, the highest need and the weakest
// cap, whichever end they are on, since tires get moved. What was not read
// allows nothing: with an unread wheel the pressure never goes above what the
// load or the placard asks for. No cushion is added then, and the sidewall
// pressure is not used.
//
// Which pressure: the higher of the placard and what the load needs, rounded
// up to the step, at most the weakest cap.
//
//   - Below the placard it goes only by a table, with both ends weighed, all as
//     driven (AxleInput.AsDriven).
//   - An estimate raises it above the placard only where the most that any
//     accepted law allows is less than the load; or, with the ends weighed,
//     where an end is over half the GAWR, the GAWR was not read or the tires
//     are weaker than the placard's.
//   - Where the placard counts and was not read, it is the sidewall's pressure
//     within the wheel's limit until the placard is read; there is no number
//     where a sidewall's or a wheel's pressure was not read. The Ask fields of
//     the answer say what to read.
//   - With AxleInput.PlacardNone the need stands alone.
//   - Of an axle's total alone 55 % is assumed on one end.
//
// A load that nothing allowed carries is no error: the outcome is Short, or
// TooClose where only the plus/minus or the assumed 55 % is too much, and
// Short lists every part that is over and by how much. An estimate is Short
// only beyond the most that any accepted law allows. Errors match [ErrFitment]
// or [ErrInput], or are those of a table that was handed in for the wrong
// fitment, load range, size or class.
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
	// sureByTire is the same with the plus/minus taken off: only what is over by that
	// is surely over.
	sureByTire [2]weight.Mass
	heaviest   [2]bool
	known      [2]bool
	basis      LoadFrom
	// half of the axle's total as read, with AxleShare: that much does stand on
	// one end; atLeast is the same on one tire, with the plus/minus.
	half, atLeast weight.Mass
	// open says that the axle may carry more than was read.
	open bool
	// holds says that the heaviest state is known, not only one end of it.
	holds bool
	// need is the load on one tire of the governing end, plain the same
	// without its plus/minus.
	need, needPlain weight.Mass
	// wheelPressureRead and stampsRead say that no wheel's, no tire's cap is
	// missing; noData that only placard or sidewall speak for some tire.
	wheelPressureRead, stampsRead, noData bool
	// byTable and byEstimate are the highest needs of the tires with a table, and
	// of those without one.
	byTable, byEstimate tireNeed
	// lawsShort says that no accepted law lets some tire carry the load at the
	// placard; estimateCapped that a limit keeps some tire below its estimate.
	lawsShort, estimateCapped bool
	// surelyOver says that an end is over with its plus/minus taken off.
	surelyOver bool
	// overAtCap says that no data carries the load with its plus/minus,
	// plainOverAtCap that none carries it without.
	overAtCap, plainOverAtCap bool
}

// A tireNeed is the need of the tire that needs most.
type tireNeed struct {
	pressure Pressure
	grounds  Grounds
}

func (a *axle) prepare(s *Setting) error {
	in := &a.in
	if a.n = PerEnd.tiresPer(in.Fitment); a.n == 0 {
		return fmt.Errorf("axle %q, fitment not known: want single or dual: %w", word.Clip(in.Name), ErrFitment)
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
	s.Cautions = s.Cautions.With(caution.ColdOnly)
	return a.check()
}

// check refuses figures that no axle has.
func (a *axle) check() error {
	in := &a.in
	for _, p := range [...]Pressure{in.Placard, a.step, in.Cushion} {
		if !possiblePressure(p) {
			return a.fail("placard, step or cushion of " + p.String())
		}
	}
	if in.PlacardNone && in.Placard > 0 {
		return a.fail("placard of " + in.Placard.String() + ", and none")
	}
	if !possibleLoad(in.GAWR) || !possibleLoad(in.GVWR) {
		return a.fail("GAWR of " + in.GAWR.String() + ", GVWR of " + in.GVWR.String())
	}
	for _, l := range [...]*Load{&in.Weighed.Left, &in.Weighed.Right, &in.Weighed.Total, &in.Heaviest.Left, &in.Heaviest.Right, &in.Heaviest.Total} {
		if l.State != 0 && !l.check() {
			return a.fail("load of " + l.Load.String() + " plus/minus " + l.PlusMinus.String())
		}
	}
	for i := range in.Wheels {
		if w := &in.Wheels[i]; !possibleLoad(w.MaxLoad) || !possiblePressure(w.MaxPressure) {
			return a.fail("wheel " + word.Clip(w.Name))
		}
	}
	for i := range in.Ratings {
		if !possibleLoad(in.Ratings[i].Load) {
			return a.fail("rating " + word.Clip(in.Ratings[i].Name))
		}
	}
	return nil
}

func (a *axle) fail(what string) error {
	return fmt.Errorf("axle %q: %s: %w", word.Clip(a.in.Name), what, ErrInput)
}

// loads settles what each end carries and how that is known.
func (a *axle) loads(s *Setting) {
	a.takeState(&a.in.Weighed, false)
	a.takeState(&a.in.Heaviest, true)
	s.Grounds.Load = a.basis
	switch a.basis {
	case EndsAssumed:
		s.Cautions = s.Cautions.With(caution.LoadAssumed)
	case AxleShare:
		s.Cautions = s.Cautions.With(caution.ShareAssumed)
	case OneEnd, 0:
		s.Cautions = s.Cautions.With(caution.NotWeighed)
	}
	if a.basis == 0 {
		return
	}
	if !a.holds {
		s.Cautions = s.Cautions.With(caution.ThisLoadOnly)
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

// takeState takes in what the axle carries in one state of the coach, as weighed or the
// heaviest, if that is known.
func (a *axle) takeState(state *AxleLoad, heaviest bool) {
	ends, basis := state.ends(a.grid)
	if basis == 0 {
		return
	}
	if basis == AxleShare {
		a.half = max(a.half, onEach(state.Total.Load, 2, a.grid))
		a.atLeast = max(a.atLeast, onEach(ends[0].AtLeast, a.n, a.grid))
	}
	if !heaviest || basis <= EndsAssumed { // what the trip is planned with settles it
		a.open = ends[0].OpenAbove || ends[1].OpenAbove
	}
	if a.basis == 0 || basis < a.basis {
		a.basis = basis
	}
	a.holds = a.holds || heaviest && basis != OneEnd
	for k := range ends {
		if l := &ends[k]; l.State != 0 {
			a.takeEnd(k, l, heaviest)
		}
	}
}

// takeEnd keeps the load of an end where it is the heavier one.
func (a *axle) takeEnd(k int, l *Load, heaviest bool) {
	full := l.most()
	byTire, plain := l.shares(a.n)
	if !a.known[k] || byTire > a.byTire[k] {
		a.byTire[k], a.plainByTire[k], a.heaviest[k] = byTire, plain, heaviest
	}
	if sure := l.sure(a.n); !a.known[k] || sure > a.sureByTire[k] {
		a.sureByTire[k] = sure
	}
	if !a.known[k] || full > a.full[k] {
		a.full[k], a.load[k] = full, *l
	}
	a.known[k] = true
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
		s.Cautions = s.Cautions.With(caution.TiresDiffer)
	}
	if len(in.Wheels) == 0 {
		s.Cautions = s.Cautions.With(caution.WheelPressureNotRead).With(caution.WheelLoadNotRead)
	}
	for i := range a.tires {
		t := &a.tires[i]
		if err := a.limitsOfTire(s, t); err != nil {
			return err
		}
	}
	for i := range a.wheels {
		a.limitsOfWheel(s, &a.wheels[i])
	}
	for _, r := range in.Ratings {
		if r.Load > 0 {
			lowerRating(s, Limit{Part: OtherRating, Name: r.Name, Load: r.Load})
		}
	}
	if in.Placard > 0 && s.Cap.Part != 0 && in.Placard > s.Cap.Pressure {
		s.Cautions = s.Cautions.With(caution.PlacardAboveCap)
	}
	return nil
}

// limitsOfTire takes in what a tire's stamps and its table allow.
func (a *axle) limitsOfTire(s *Setting, t *Tire) error {
	if err := a.checkTire(t); err != nil {
		return err
	}
	class := t.class()
	derated := derates(class, a.in.OnPassengerCar)
	if derated && class == 0 {
		s.Cautions = s.Cautions.With(caution.ClassNotKnown)
	} else if derated {
		s.Cautions = s.Cautions.With(caution.Derated)
	}
	r := t.rating(a.in.Fitment)
	if r.Load == 0 {
		s.Cautions = s.Cautions.With(caution.TireLoadNotRead)
	} else {
		lowerRating(s, Limit{Part: TireRating, Name: t.Name, Load: a.endOf(t.rated(class, a.in.Fitment, a.in.OnPassengerCar, a.grid)), Pressure: r.Pressure})
	}
	if p := t.cap(a.in.Fitment); p == 0 {
		a.stampsRead = false
		s.Cautions = s.Cautions.With(caution.TirePressureNotRead)
	} else {
		lowerCap(s, Limit{Part: TirePressure, Name: t.Name, Pressure: p})
	}
	if t.Table == nil {
		return nil
	}
	if t.LoadRange == "" && len(t.Table.caps) > 0 {
		s.Cautions = s.Cautions.With(caution.LoadRangeNotRead)
	}
	_, top, err := t.Table.Range(a.in.Fitment, t.LoadRange)
	if err != nil {
		return err
	}
	lowerCap(s, Limit{Part: TableRow, Name: t.Name, Pressure: top.Pressure})
	most := top.Load
	if derated {
		most = carries(most, deratedUnity).Round(a.grid, weight.Floor)
	}
	lowerRating(s, Limit{Part: TableRow, Name: t.Name, Load: a.endOf(most), Pressure: top.Pressure})
	return nil
}

// limitsOfWheel takes in what is stamped on a wheel.
func (a *axle) limitsOfWheel(s *Setting, w *Wheel) {
	if w.MaxPressure == 0 {
		a.wheelPressureRead = false
		s.Cautions = s.Cautions.With(caution.WheelPressureNotRead)
	} else {
		lowerCap(s, Limit{Part: WheelPressure, Name: w.Name, Pressure: w.MaxPressure})
	}
	if w.MaxLoad == 0 {
		s.Cautions = s.Cautions.With(caution.WheelLoadNotRead)
	} else {
		lowerRating(s, Limit{Part: WheelLoad, Name: w.Name, Load: a.endOf(w.MaxLoad)})
	}
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
		return a.fail("stamps of tire " + word.Clip(t.Name))
	}
	if t.Table == nil {
		return nil
	}
	var buf [48]byte
	switch {
	case t.Size != "" && t.Size != t.Table.key && string(appendSquashed(buf[:0], t.Size)) != t.Table.key && leadingSize(t.Size) != t.Table.key:
		return a.fail("tire " + word.Clip(t.Name) + " of size " + word.Clip(t.Size) + " with a table for " + t.Table.size)
	case t.Class != 0 && t.Class != t.Table.class:
		return a.fail("tire " + word.Clip(t.Name) + " of class " + t.Class.String() + " with a table for class " + t.Table.class.String())
	}
	return nil
}

package judge

import (
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/rules"
	"axleend.example/weight"
)

// How far readings of one kind count as alike, and how much of a gauge's
// tolerance counts against a tire; beyond that the gauge is asked about (common
// practice; 5 psi for stick gauges from memory).
const (
	alikeWithin = 5 * inflation.PSI
	gaugeCounts = 5 * inflation.PSI
)

// LeakPerMonth is natural leakage: the upper end of 1 to 2 psi a month (GAO-07-246R, 2007).
const (
	LeakPerMonth = 2 * inflation.PSI
	daysAMonth   = 30
	daysAYear    = 365
)

// Pressures is what is known of one tire's pressure, and what it is held against.
type Pressures struct {
	// found is the cold pressure as found; of a hot tire, at most that.
	found rules.Value
	// driven is the lowest it was driven at, with the gauge's doubt: a tolerance
	// that was not written down may be 5 psi. asRead is the same as read.
	driven, asRead rules.Value
	// at is the driven pressure as read, where one reading says it exactly.
	at record.Recorded[inflation.Pressure]
	// read says that somebody took its pressure, hot or cold.
	read bool
	// need is the least for the axle as weighed.
	need inflation.Need
	// byWeight says that the recommended pressure is known by a table from ends
	// weighed as driven.
	byWeight bool
	// recommended is what is recommended for it, not recorded where nothing says
	// it; surely says that it is not more.
	recommended record.Recorded[inflation.Pressure]
	surely      bool
	placard     record.Recorded[inflation.Pressure]
	noPlacard   bool
	stamped     record.Recorded[inflation.Pressure]
}

// warm says whether a tire was hot when it was read, where that is known: in the
// sun whatever was said; else as was said of it, or of all; else within three
// hours of being driven, but for a coach that was only moved.
func (a *Assessment) warm(st *TireState) record.Recorded[bool] {
	v := a.Visit
	if record.Yes(st.InSun) {
		return record.Record(true)
	}
	if st.Hot.Is() {
		return st.Hot
	}
	if cold, ok := v.Cold.Get(); ok {
		return record.Record(!cold)
	}
	if st.AxleIndex < 0 {
		return st.Hot
	}
	stood, ok := v.ParkedFor.Get()
	switch {
	case ok && stood < ColdAfter && !record.Yes(v.Moved):
		return record.Record(true)
	case ok || record.Yes(v.Moved):
		return record.Record(false)
	}
	return st.Hot
}

// drivenSince says whether a tire was driven on as it was found.
func (a *Assessment) drivenSince(st *TireState) record.Recorded[bool] {
	if st.AxleIndex < 0 {
		return st.DrivenSince
	}
	return st.DrivenSince.Or(a.Visit.DrivenSince)
}

// airAdded says whether air was added since it was driven on.
func (a *Assessment) airAdded(st *TireState) record.Recorded[bool] {
	if st.AirAddedBy.Is() || st.BeforeAir.Is() {
		return record.Record(true)
	}
	if !st.AirAdded.Is() && record.Yes(a.Visit.NothingSinceSet) {
		return record.Record(false)
	}
	return st.AirAdded
}

// gauge is the gauge's tolerance where it can be believed.
func (a *Assessment) gauge() (inflation.Pressure, bool) {
	t, ok := a.Visit.GaugeTolerance.Get()
	return t, ok && !a.doubtful(ofCoach("gauge_tolerance"))
}

// reading is one pressure, of a gauge that counts so many times, or a most or a
// least.
type reading struct {
	at     inflation.Pressure
	gauges inflation.Pressure
	less   bool // or anything below
	more   bool // or anything above
}

func (r reading) value(doubt inflation.Pressure) rules.Value {
	v := rules.PlusMinus(r.at, doubt*r.gauges)
	if r.less {
		v = v.OrLess()
	}
	if r.more {
		v = v.OrMore()
	}
	return v
}

// lowestDriven is the lowest pressure that a tire was driven at, as far as known.
// A hot reading is at most that cold, and so is one after an unknown amount of air;
// a tire not driven on since was driven at no less than it was found at. Where the air
// that was added makes it much lower than what was read before, that is at most.
func (a *Assessment) lowestDriven(st *TireState) (reading, bool) {
	found, ok := st.Usable.Get()
	low, said := st.LowestDriven.Get()
	before, known := st.BeforeAir.Get()
	if known && (!said || before < low) {
		low, said = before, true
	}
	exact := reading{at: low, gauges: 1, less: st.airContradicts()}
	now := reading{at: found, gauges: 1, less: st.atMost()}
	by, amount := st.AirAddedBy.Get()
	if amount = amount && !known; amount {
		now.at, now.gauges = max(0, found-by), 2
	}
	if driven, known := a.drivenSince(st).Get(); known && !driven {
		switch {
		case ok && amount && (!said || now.at < low): // as if that had been read before
			return now, true
		case said:
			return exact, true
		case ok && !record.Yes(a.airAdded(st)) && !now.less:
			return reading{at: found, gauges: 1, more: true}, true
		}
		return reading{}, false
	}
	if !ok {
		exact.less = true // nobody read what it has now
		return exact, said
	}
	now.less = now.less || record.Yes(a.airAdded(st)) && !known && !amount
	if said && low <= now.at {
		exact.less = exact.less || st.atMost() // cold, it may have less now
		return exact, true
	}
	return now, true
}

// airContradicts reports whether a tire was, by the air that was added, more than two
// readings of one gauge differ lower than what was read before that.
func (st *TireState) airContradicts() bool {
	before, ok1 := st.BeforeAir.Get()
	by, ok2 := st.AirAddedBy.Get()
	found, ok3 := st.Usable.Get()
	return ok1 && ok2 && ok3 && found-by < before-alikeWithin
}

// holdTires finds the lowest pressure each tire was driven at, and the
// pressures to compare it with.
func (a *Assessment) holdTires() {
	for i := range a.Tires {
		st := &a.Tires[i]
		if !a.Counts(st) {
			continue
		}
		st.Pressures = a.asDrivenAt(st)
		if st.AxleIndex >= 0 {
			a.against(st)
		}
	}
	a.alike()
}

// asDrivenAt is what a tire was read at and what it was driven at, by the gauge.
func (a *Assessment) asDrivenAt(st *TireState) Pressures {
	p := Pressures{read: st.Usable.Is()}
	if found, ok := st.Usable.Get(); ok {
		p.found = rules.Quantity(found)
		if st.atMost() {
			p.found = p.found.OrLess()
		}
	}
	r, ok := a.lowestDriven(st)
	if st.AxleIndex < 0 {
		p.found = st.spareHeld(p.found, r, ok)
	}
	if !ok {
		return p
	}
	tolerance, known := a.gauge()
	p.driven, p.asRead = r.value(min(tolerance, gaugeCounts)), r.value(0)
	if !known && !r.more { // of a gauge that nobody knows, what lies between is asked
		if p.driven = rules.Somewhere(r.at-gaugeCounts*r.gauges, r.at); r.less {
			p.driven = p.driven.OrLess()
		}
	}
	if !r.less && !r.more {
		p.at = record.Record(r.at)
	}
	return p
}

// spareHeld is the pressure that a spare is judged by: as found, or a lower one that
// somebody wrote down before air went in.
func (st *TireState) spareHeld(found rules.Value, low reading, ok bool) rules.Value {
	at, known := low.at, ok && !low.more
	if record.Yes(st.ReadZero) {
		at, known = 0, true
	}
	has, read := st.Usable.Get()
	switch {
	case known && !read:
		return rules.Quantity(at).OrLess()
	case known && at < has && found.Open(): // read hot, it may hold less now
		return rules.Quantity(at).OrLess()
	case known && at < has:
		return rules.Quantity(at)
	}
	return found
}

// against finds the pressures that a tire on the road is compared with.
func (a *Assessment) against(st *TireState) {
	p, ax := &st.Pressures, &a.Visit.Axles[st.AxleIndex]
	if placard, ok := a.placardRead(st.AxleIndex).Get(); ok {
		if at, ok := placard.Pressure(); ok {
			p.placard = record.Record(at)
		} else {
			p.noPlacard = true
		}
	}
	stamp := st.Single
	if ax.Fitment == weight.Dual {
		stamp = st.Dual
	}
	if s, ok := stamp.Get(); ok && s.At > 0 {
		p.stamped = record.Record(s.At)
	}
	in := &a.inputs[st.AxleIndex]
	load, basis := in.Weighed.OnTire(ax.Fitment, a.Visit.System)
	need, err := st.needs(load, ax.Fitment, a.Visit.System)
	if err != nil {
		need = inflation.Need{}
	}
	p.need = need
	p.byWeight = need.From == inflation.FromTable && !need.OpenAbove && basis == inflation.EndsWeighed
	if p.byWeight {
		p.recommended, p.surely = record.Record(need.High), true
		return
	}
	placard, ok := p.placard.Get()
	if ok || need.Known() {
		p.recommended = record.Record(max(placard, need.High))
		p.surely = !need.OpenAbove && (ok || p.noPlacard)
	}
}

// belowRecommended reports whether a tire was driven below what is recommended
// for it, for all that is known: nobody said what that is, or that it is not more.
func (st *TireState) belowRecommended() bool {
	p := &st.Pressures
	at, ok1 := p.at.Get()
	recommended, ok2 := p.recommended.Get()
	return !ok1 || !ok2 || !p.surely || at < recommended
}

// naturally is the pressure that a tire falls to by itself since it was last set:
// by the gas law in today's air, and by what tires lose. What is not recorded of
// that counts as a year, and as no change of the air.
func (a *Assessment) naturally(set inflation.Pressure) inflation.Pressure {
	v := a.Visit
	then, ok1 := v.LastSetAir.Get()
	now, ok2 := v.AirTemperature.Get()
	if ok1 && ok2 && !a.doubtful(ofCoach("last_set_air")) && !a.doubtful(ofCoach("air_temperature")) {
		if read, err := cold.WillRead(set, cold.Air{Temperature: then}, cold.Air{Temperature: now}, v.System); err == nil {
			set = min(set, read)
		}
	}
	return set - a.naturalLoss()
}

// naturalLoss is what tires lose by themselves since they were last set; where
// nobody wrote down the date, what they lose in a year.
func (a *Assessment) naturalLoss() inflation.Pressure {
	days := int64(daysAYear)
	if on, ok := a.Visit.LastSetOn.Get(); ok && on.IsValid() && !a.doubtful(ofCoach("last_set_on")) {
		days = max(0, daysApart(on, a.Visit.Date))
	}
	lost, err := LeakPerMonth.MulDiv(days, daysAMonth, weight.Floor)
	if err != nil {
		return mostCold // of so long ago nothing is left
	}
	return lost
}

func daysApart(from, to dotcode.Date) int64 {
	noon := func(d dotcode.Date) time.Time { return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC) }
	return int64(noon(to).Sub(noon(from)) / (24 * time.Hour))
}

// FellNaturally reports whether natural fall explains the pressure a tire was
// found at.
func (a *Assessment) FellNaturally(st *TireState) bool {
	set, ok := st.LastSet.Get()
	at, read := st.Usable.Get()
	if low, said := st.LowestDriven.Get(); said && low < at {
		at = low
	}
	return ok && read && !record.Yes(st.Warm) && !record.Yes(a.airAdded(st)) && at >= a.naturally(set)
}

// HeldSinceSet reports whether a tire lost no more than tires do by themselves since it
// was last set, as the air of both days makes of it: warmer air hides a leak, and air
// that nobody recorded lets nothing be held.
func (a *Assessment) HeldSinceSet(st *TireState) bool {
	set, found, ok := record.Both(st.LastSet, st.Usable)
	then, now, known := record.Both(a.Visit.LastSetAir, a.Visit.AirTemperature)
	if !ok || !known || a.doubtful(ofCoach("last_set_air")) || a.doubtful(ofCoach("air_temperature")) || !a.FellNaturally(st) {
		return false
	}
	reads, err := cold.SetTo(set, cold.Air{Temperature: now}, cold.Air{Temperature: then}, a.Visit.System)
	return err == nil && found >= reads-a.naturalLoss()
}

// nextDay compares a tire's cold pressure 24 hours after it was left with that: held
// says that it is what the air of that day makes of it, or more, but not so much that
// air was added or another tire was read; lost is by how much it fell, less what colder
// air explains, and at most that where it was left warm. Air that nobody recorded
// explains nothing and lets nothing be held.
func (a *Assessment) nextDay(st *TireState) (held bool, lost rules.Value) {
	left, next, ok := record.Both(st.LeftAt, st.NextDay)
	if !ok {
		return false, lost
	}
	v, reads := a.Visit, left
	then, now, known := record.Both(v.AirTemperature, v.NextDayAir)
	if known && !a.doubtful(ofCoach("air_temperature")) && !a.doubtful(ofCoach("next_day_air")) {
		low, err1 := cold.WillRead(left, cold.Air{Temperature: then}, cold.Air{Temperature: now}, v.System)
		high, err2 := cold.SetTo(left, cold.Air{Temperature: now}, cold.Air{Temperature: then}, v.System)
		if now <= then {
			high = min(high, left)
		}
		if err1 == nil && err2 == nil {
			held, reads = next >= high && next <= high+alikeWithin, min(left, low)
		}
	}
	lost = rules.Quantity(max(0, reads-next))
	if record.Yes(st.Warm) {
		return false, lost.OrLess()
	}
	return held, lost
}

// HeldNextDay reports whether a tire held its pressure for 24 hours after it was set.
func (a *Assessment) HeldNextDay(st *TireState) bool {
	held, _ := a.nextDay(st)
	return held
}

// alike finds out whether all of the coach's tires fell alike since they were last set,
// none by more than natural fall: that points to a winter, not to six flats. One that
// did not fall was set to what it was read at.
func (a *Assessment) alike() {
	var low, high inflation.Pressure
	n := 0
	a.fallenAlike = false
	for i := range a.Layout.Wheels {
		st := &a.Tires[i]
		if a.Visit.Axles[st.AxleIndex].Towed {
			continue
		}
		set, ok1 := st.LastSet.Get()
		found, ok2 := st.Usable.Get()
		if !ok1 || !ok2 || !a.FellNaturally(st) || record.Yes(a.drivenSince(st)) || st.LowestDriven.Is() {
			return
		}
		fall := set - found
		if n == 0 || fall < low {
			low = fall
		}
		if n == 0 || fall > high {
			high = fall
		}
		n++
	}
	a.fallenAlike = n > 0 && high-low <= alikeWithin && low > 0
}

// axleAlike reports whether all tires of an axle were driven within 5 psi of each
// other, as exactly as a reading can say. What was empty was not set so.
func (a *Assessment) axleAlike(axle int) bool {
	var low, high inflation.Pressure
	tires := a.OnAxle(axle)
	for i := range tires {
		at, ok := tires[i].Pressures.at.Get()
		if !ok || at <= 0 {
			return false
		}
		if i == 0 || at < low {
			low = at
		}
		high = max(high, at)
	}
	return high-low <= alikeWithin
}

// toppedUp reports whether all tires of an axle were found alike after air of an
// unknown amount went into each, and somebody who looked saw no sign that one ran low.
func (a *Assessment) toppedUp(axle int) bool {
	var low, high inflation.Pressure
	tires := a.OnAxle(axle)
	for i := range tires {
		st := &tires[i]
		found, ok := st.Usable.Get()
		if !ok || !st.Seen.Is() || !a.addedUnknown(st) || st.ranLowSign() || record.Yes(st.LowAlarm) {
			return false
		}
		if i == 0 || found < low {
			low = found
		}
		high = max(high, found)
	}
	return high-low <= alikeWithin
}

// addedUnknown reports whether air of an unknown amount went in, and nothing says
// what the tire was driven at.
func (a *Assessment) addedUnknown(st *TireState) bool {
	return record.Yes(a.airAdded(st)) && !st.AirAddedBy.Is() && !st.BeforeAir.Is() && !st.LowestDriven.Is()
}

// lowSigns are the conditions that show what pressure a tire was driven at,
// whatever a gauge reads now.
const lowSigns = condition.Set(1<<condition.ZipperSigns | 1<<condition.ScuffedShoulder | 1<<condition.BlueShoulder)

func (st *TireState) ranLowSign() bool {
	seen, _ := st.Seen.Get()
	return seen&lowSigns != 0 || record.Yes(st.ReadZero)
}

// carTire reports whether a tire is a passenger tire of a towed car, which runs
// at other pressures than steel-cord tires, and is not derated there.
func (a *Assessment) carTire(st *TireState) bool {
	class, _ := st.Class.Get()
	return st.AxleIndex >= 0 && a.onCar(st.AxleIndex) && class == inflation.Passenger
}

// mayBeCarTire reports whether a tire is one, or may be: nobody wrote down its class,
// or what is towed.
func (a *Assessment) mayBeCarTire(st *TireState) bool {
	if st.AxleIndex < 0 || !a.Visit.Axles[st.AxleIndex].Towed {
		return false
	}
	class, classed := st.Class.Get()
	tows, said := a.Visit.Tows.Get()
	return (!classed || class == inflation.Passenger) && (!said || tows == record.TowsCar)
}

// onCar reports whether an axle is a towed car's.
func (a *Assessment) onCar(axle int) bool {
	tows, _ := a.Visit.Tows.Get()
	return a.Visit.Axles[axle].Towed && tows == record.TowsCar
}

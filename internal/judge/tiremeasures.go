package judge

import (
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/rules"
	"axleend.example/weight"
)

// quantityOf is a recorded quantity as a fact.
func quantityOf[T ~int64](r record.Recorded[T]) rules.Value { return Value(r) }

// yesNo is a fact that is always known.
func yesNo(is bool) rules.Value { return rules.Flag(is) }

// needsOfTire are what has to be written down, where several measures need the
// same.
const (
	needPressure  = "its cold pressure, read at the stem"
	needStamp     = "the maximum load and pressure on its sidewall, for its fitment"
	needReference = "the pressure it was last set to, or the placard's"
	needTread     = "its tread depth"
	needDate      = "its date code (look on both sidewalls)"
	needHole      = "where the hole is: in the crown, a shoulder or a sidewall"
	needCracks    = "how deep its cracks are"
	needClass     = "the class of its size: passenger, light truck, truck or trailer"
)

// tireMeasures are those of one tire with its wheel.
func tireMeasures(d dimensions) []measure[*TireState] {
	list := slices.Concat(tireKind(), tireLoads(d), tireReadings(d), tireAir(d), tireWear(d))
	for _, c := range condition.All() {
		list = append(list, f[*TireState](conditionMeasure(c), "whether this was found: "+c.String(), nil, "a look at both sidewalls, tread, valve and wheel"))
	}
	return list
}

// tireKind are measures of what a tire is, and where it runs.
func tireKind() []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		w("role", "what the tire's axle does", append(roleWords(), "spare"), func(a as, t st) rules.Value { return rules.Word(a.tireRole(t)) }, ""),
		w("place", "where on its axle end the tire runs", wordsOf(record.Alone, record.Inner, record.Outer, record.Spare),
			func(a as, t st) rules.Value { return rules.Word(int(t.place()) - 1) }, ""),
		w("class", "the class of its size", []string{"passenger", "light_truck", "truck", "trailer"}, func(a as, t st) rules.Value { return wordOf(t.Class) }, needClass),
		f("car_tire", "whether it is a passenger tire on a towed car, which runs at other pressures than steel-cord tires",
			func(a as, t st) rules.Value { return yesNo(a.carTire(t)) }, needClass),
		f("may_be_car_tire", "whether it may be such a tire, as far as its class and what is towed are known", func(a as, t st) rules.Value { return yesNo(a.mayBeCarTire(t)) }, needClass),
		w("construction", "how its body plies run", []string{"radial", "bias", "bias_belted"}, func(a as, t st) rules.Value { return wordOf(t.Construction) }, "its construction: radial, bias or bias-belted"),
		f("retread", "whether it is a retread", func(a as, t st) rules.Value { return Flag(t.Retread) }, "whether it is a retread"),
		f("regrooved", "whether its grooves were cut anew", func(a as, t st) rules.Value { return Flag(t.Regrooved) }, "whether it is regrooved"),
	}
}

// tireLoads are measures of what a tire carries, and may carry.
func tireLoads(d dimensions) []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		q("load", "what it carries: as weighed by itself, else its axle end's load, halved on a dual pair; at least that where the coach was weighed light, at most that where only the whole axle was",
			d.mass, func(a as, t st) rules.Value { return a.tireCarries(t) }, ""),
		q("capacity", "the most its sidewall lets it carry in its fitment, a passenger tire's on the coach divided by 1.10", d.mass,
			func(a as, t st) rules.Value { return a.capacity(t) }, needStamp),
		q("load_alone", "what it carries while its dual mate is off the ground: the whole end's load", d.mass,
			func(a as, t st) rules.Value { return a.aloneCarries(t) }, ""),
		q("capacity_as_found", "what it carries at the pressure as found, by its table or between the least and the most that any law for steel-cord tires gives; the gauge's tolerance counts for the tire", d.mass,
			func(a as, t st) rules.Value { return a.carriesAt(t, t.Usable, t.atMost()) }, ""),
		q("capacity_as_left", "the same at the pressure it was left at", d.mass,
			func(a as, t st) rules.Value { return a.carriesAt(t, t.LeftAt, record.Yes(t.Warm)) }, ""),
		q("wheel_capacity", "the most its wheel is stamped for", d.mass, func(a as, t st) rules.Value { return t.wheelLoad() }, "the maximum load and pressure stamped on its wheel"),
	}
}

// tireReadings are measures of what was read of its pressure, and what that is held against.
func tireReadings(d dimensions) []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		f("read", "whether anybody took its pressure", func(a as, t st) rules.Value { return yesNo(t.Pressures.read) }, needPressure),
		q("found", "the cold pressure as found, read at the stem; of a hot tire, at most what was read; of a spare the least that was read of it", d.pressure, func(a as, t st) rules.Value { return t.Pressures.found }, needPressure),
		q("as_found", "the cold pressure as found, whatever was read of it before; of a hot tire, at most what was read", d.pressure, func(a as, t st) rules.Value {
			found := quantityOf(t.Usable)
			if t.Usable.Is() && t.atMost() {
				return found.OrLess()
			}
			return found
		}, needPressure),
		q("lowest", "the lowest cold pressure it was driven at, with the gauge's tolerance (not written down: up to 5 psi below the reading); at most what was read hot or after air was added, at least what was found on a tire that was not driven since", d.pressure,
			func(a as, t st) rules.Value { return t.Pressures.driven }, needPressure),
		q("lowest_as_read", "the same without the gauge's tolerance", d.pressure, func(a as, t st) rules.Value { return t.Pressures.asRead }, needPressure),
		f("driven_on", "whether it was driven on as it was found, or the reading it was driven at is known; no only where somebody said so", func(a as, t st) rules.Value {
			driven, known := a.drivenSince(t).Get()
			return yesNo(!known || driven || t.AxleIndex >= 0 && (t.LowestDriven.Is() || t.BeforeAir.Is() || t.AirAddedBy.Is() && t.Usable.Is()))
		}, ""),
		f("parked", "whether somebody said that it was not driven on as it was found: it lost air after it was parked", func(a as, t st) rules.Value {
			driven, known := a.drivenSince(t).Get()
			return yesNo(known && !driven)
		}, ""),
		q("last_set", "the pressure it was last set to, with the doubt of another gauge", d.pressure, func(a as, t st) rules.Value {
			set, ok := t.LastSet.Get()
			if !ok {
				return rules.Value{}
			}
			other, _ := a.Visit.LastSetGauge.Get()
			return rules.PlusMinus(set, other)
		}, needReference),
		f("set_known", "whether the pressure it was last set to was written down", func(a as, t st) rules.Value { return yesNo(t.LastSet.Is()) }, needReference),
		q("pressure_for_load", "the least that the axle needs as weighed: by the tire's table, else the lowest that any law for steel-cord tires gives", d.pressure,
			func(a as, t st) rules.Value { return needValue(t, t.Pressures.need.Low) }, needReference),
		q("most_for_load", "the least that the axle needs as weighed: by the tire's table, else the highest that any law for steel-cord tires gives", d.pressure,
			func(a as, t st) rules.Value { return needValue(t, t.Pressures.need.High) }, needReference),
		f("need_known", "whether anything says what its load needs", func(a as, t st) rules.Value { return yesNo(t.Pressures.need.Known()) }, needReference),
		f("by_weight", "whether what is recommended for it is known by a table from both ends weighed as driven", func(a as, t st) rules.Value { return yesNo(t.Pressures.byWeight) }, needReference),
		q("placard", "the placard's pressure", d.pressure, func(a as, t st) rules.Value { return quantityOf(t.Pressures.placard) }, needReference),
		f("placard_read", "whether the placard's pressure was read", func(a as, t st) rules.Value { return yesNo(t.Pressures.placard.Is()) }, needReference),
		f("placard_known", "whether the placard was read, or there is none", func(a as, t st) rules.Value {
			return yesNo(t.Pressures.placard.Is() || t.Pressures.noPlacard)
		}, needReference),
		q("stamped", "the pressure that its sidewall states for its fitment", d.pressure, func(a as, t st) rules.Value { return quantityOf(t.Pressures.stamped) }, needStamp),
		f("stamp_known", "whether the pressure on its sidewall was read, for its fitment", func(a as, t st) rules.Value { return yesNo(t.Pressures.stamped.Is()) }, needStamp),
	}
}

// tireAir are measures of what is known of how it lost air, and of what it was left at and is to be set to.
func tireAir(d dimensions) []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		f("recommended_known", "whether anything says which pressure is recommended for it", func(a as, t st) rules.Value { return yesNo(t.Pressures.recommended.Is()) }, needReference),
		f("below_recommended", "whether it was driven below what is recommended for it, for all that is known", func(a as, t st) rules.Value { return yesNo(t.belowRecommended()) }, needReference),
		f("held", "whether there is a pressure to hold it against", func(a as, t st) rules.Value { return yesNo(t.held()) }, needReference),
		f("natural_fall", "whether it fell only as tires do by themselves: by the gas law, and 2 psi a month", func(a as, t st) rules.Value { return yesNo(a.FellNaturally(t)) }, ""),
		f("held_next_day", "whether, 24 hours after it was set, it read at least what that day's air makes of it; no where one of these was not written down", func(a as, t st) rules.Value { return yesNo(a.HeldNextDay(t)) }, ""),
		f("next_day_read", "whether its pressure 24 hours after it was set was written down", func(a as, t st) rules.Value { return yesNo(t.NextDay.Is()) }, ""),
		q("lost_next_day", "how much less it read 24 hours after it was set, beyond what colder air explains; at most that where it was set warm", d.pressure, func(a as, t st) rules.Value {
			_, lost := a.nextDay(t)
			return lost
		}, "the cold pressure it was left at, before it is read again after 24 hours"),
		f("fallen_alike", "whether all of the coach's tires fell alike since they were set, within 5 psi, none by more than is natural", func(a as, t st) rules.Value {
			return yesNo(a.fallenAlike && t.AxleIndex >= 0 && !a.Visit.Axles[t.AxleIndex].Towed)
		}, ""),
		f("axle_alike", "whether all tires of its axle were driven at pressures within 5 psi of each other", func(a as, t st) rules.Value {
			return yesNo(t.AxleIndex >= 0 && a.axleAlike(t.AxleIndex))
		}, ""),
		f("topped_up", "whether air of an unknown amount went into all tires of its axle, all were found alike, and nothing on them says that one ran low", func(a as, t st) rules.Value {
			return yesNo(t.AxleIndex >= 0 && a.addedUnknown(t) && a.toppedUp(t.AxleIndex))
		}, ""),
		f("air_in_doubt", "whether a low-pressure alarm came, or air of an unknown amount went into it and not into all of its axle alike", func(a as, t st) rules.Value {
			return yesNo(t.AxleIndex >= 0 && (record.Yes(t.LowAlarm) && !t.LowestDriven.Is() || a.addedUnknown(t) && !a.toppedUp(t.AxleIndex)))
		}, ""),
		f("read_zero", "whether it was read at 0 at the stem before, whatever it shows now", func(a as, t st) rules.Value { return yesNo(record.Yes(t.ReadZero)) }, ""),
		q("kept_ready_at", "of a spare: the pressure it was last set to, else the highest to set on an axle that it may go to, as far as its stamps allow, else what these allow", d.pressure,
			func(a as, t st) rules.Value { return a.keptReadyAt(t) }, "the pressure it was last set to"),
		q("left", "the cold pressure it was left at; of a hot tire, at most what was read", d.pressure, func(a as, t st) rules.Value { return t.left() }, "the cold pressure it was left at"),
		f("was_set", "whether the cold pressure it was left at was written down", func(a as, t st) rules.Value { return yesNo(t.coldLeft().Is()) }, ""),
		f("left_empty", "whether it was left without any pressure", func(a as, t st) rules.Value {
			left, ok := t.LeftAt.Get()
			if !ok {
				return rules.Value{}
			}
			return yesNo(left == 0)
		}, ""),
		f("left_read", "whether the pressure it was left at was written down, hot or cold", func(a as, t st) rules.Value { return yesNo(t.LeftAt.Is()) }, ""),
		q("aired_up", "how much higher it was left than found, else than read before air was added; 0 if not higher", d.pressure, func(a as, t st) rules.Value {
			found, left, ok := record.Both(t.Usable.Or(t.BeforeAir), t.LeftAt)
			if !ok {
				return rules.Value{}
			}
			return rules.Quantity(max(0, left-found))
		}, "the cold pressure it was found at, before any air"),
		q("to_set", "the pressure to set on its axle; where that rests on an assumed share, or only counts until the placard is read, from what is surely needed", d.pressure,
			func(a as, t st) rules.Value { return a.toSetValue(t) }, ""),
		q("most_pressure", "the highest cold pressure that its sidewall and its wheel allow, as far as they were read; of a spare the higher that its sidewall states, alone or as a dual", d.pressure, func(a as, t st) rules.Value {
			if p := a.mostPressure(t); p >= leastStamped || p > 0 && t.AxleIndex >= 0 && a.Visit.Axles[t.AxleIndex].Towed { // nobody bleeds a tire to less before that is read again
				return rules.Quantity(p)
			}
			return rules.Value{}
		}, "the maximum pressure on its sidewall"),
		f("set_by_share", "whether its pressure to set rests on a share of the axle that is assumed, the placard being read or none", func(a as, t st) rules.Value {
			return yesNo(t.Setting != nil && t.Setting.Grounds.Load == inflation.AxleShare && !t.Setting.AskPlacard)
		}, ""),
		f[st]("run_low", "whether the packs judged it to have run low: nobody may air up such a tire", nil, ""),
		f[st]("mate_run_low", "whether its dual mate was judged to have run low", nil, ""),
	}
}

// tireWear are measures of its tread, age and injuries.
func tireWear(d dimensions) []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		q("tread", "its least tread depth", d.length, func(a as, t st) rules.Value { return quantityOf(t.Line.Tread) }, needTread),
		q("shoulder_difference", "by how much its shoulders differ in tread depth", d.length, func(a as, t st) rules.Value {
			return treadValue(t, func(x record.Treads) record.Recorded[weight.Length] { return x.Shoulders() })
		}, "the tread depth of both shoulders"),
		q("shoulders_below_center", "by how much both shoulders are worn below the center, 0 if they are not", d.length, func(a as, t st) rules.Value {
			return treadValue(t, func(x record.Treads) record.Recorded[weight.Length] { s, _ := x.BelowCenter(); return s })
		}, "the tread depth of center and shoulders"),
		q("center_below_shoulders", "by how much the center is worn below both shoulders, 0 if it is not", d.length, func(a as, t st) rules.Value {
			return treadValue(t, func(x record.Treads) record.Recorded[weight.Length] { _, c := x.BelowCenter(); return c })
		}, "the tread depth of center and shoulders"),
		q("tread_around", "the most by which depths along one line around the tire differ", d.length, func(a as, t st) rules.Value {
			return treadValue(t, func(x record.Treads) record.Recorded[weight.Length] { return x.Around() })
		}, "the tread depth at several points around"),
		q("age", "its age on the day of the visit, from the oldest to the youngest that its date code allows", d.age, func(a as, t st) rules.Value { return ageValue(t.Line.Age) }, needDate),
		q("crack_depth", "how deep its deepest weather crack is", d.length, func(a as, t st) rules.Value { return quantityOf(t.CrackDepth) }, needCracks),
		f("cracks_measured", "whether the depth of its weather cracks was written down", func(a as, t st) rules.Value { return yesNo(t.CrackDepth.Is()) }, ""),
		q("cut_depth", "how deep its deepest cut is", d.length, func(a as, t st) rules.Value { return quantityOf(t.CutDepth) }, "how deep its cut is"),
		f("cut_unmeasured", "whether a cut was written down, and not how deep it is", func(a as, t st) rules.Value {
			return yesNo((t.CutLength.Is() || t.CutAt.Is()) && !t.CutDepth.Is())
		}, ""),
		w("cut_at", "where that cut is; the crown is the tread", wordsOf(record.AtCrown, record.AtShoulder, record.AtSidewall), func(a as, t st) rules.Value { return wordOf(t.CutAt) }, "where the cut is: in the crown, a shoulder or a sidewall"),
		q("injury_width", "how wide the hole is that a nail or another object left", d.length, func(a as, t st) rules.Value { return quantityOf(t.InjuryWidth) }, "how wide the hole is"),
		w("injury_at", "where that hole is", wordsOf(record.AtCrown, record.AtShoulder, record.AtSidewall), func(a as, t st) rules.Value { return wordOf(t.InjuryAt) }, needHole),
		f("looked_over", "whether somebody wrote down what was seen on it", func(a as, t st) rules.Value { return yesNo(t.Seen.Is()) }, ""),
		f("against_arrow", "whether it runs against the direction of rotation that its sidewall shows", func(a as, t st) rules.Value {
			side, ok := t.Rotates.Get()
			if !ok || t.Position == nil {
				return rules.Value{}
			}
			return yesNo(!side.RunsOn(t.Position.Side))
		}, "on which side its arrow lets it run"),
	}
}

func treadValue(t *TireState, of func(record.Treads) record.Recorded[weight.Length]) rules.Value {
	treads, ok := t.Tread.Get()
	if !ok {
		return rules.Value{}
	}
	return quantityOf(of(treads))
}

// wordOf is a recorded word, of an enum that begins at 1, as a fact.
func wordOf[T ~uint8](r record.Recorded[T]) rules.Value {
	v, ok := r.Get()
	if !ok || v == 0 {
		return rules.Value{}
	}
	return rules.Word(int(v) - 1)
}

// needValue is an end of what a tire needs for the axle as weighed. What it may
// need beyond that clears nothing: the last set, the placard and the stamp are held
// against it, too.
func needValue(t *TireState, p inflation.Pressure) rules.Value {
	if !t.Pressures.need.Known() {
		return rules.Value{}
	}
	return rules.Quantity(p)
}

// held reports whether there is a pressure to hold a tire against.
func (st *TireState) held() bool {
	p := &st.Pressures
	return p.recommended.Is() || st.LastSet.Is() || p.stamped.Is()
}

func (st *TireState) place() record.Place {
	if st.Position != nil {
		return st.Position.Place
	}
	return record.Spare
}

func (st *TireState) wheelLoad() rules.Value {
	s, ok := st.Wheel.Get()
	if !ok {
		return rules.Value{}
	}
	return rules.Quantity(s.Load)
}

// left is the pressure it was left at; of a hot tire, at most that.
func (st *TireState) left() rules.Value {
	v := quantityOf(st.LeftAt)
	if v.Recorded() && record.Yes(st.Warm) {
		return v.OrLess()
	}
	return v
}

// coldLeft is the pressure it was left at, if that was a cold one.
func (st *TireState) coldLeft() record.Recorded[inflation.Pressure] {
	if record.Yes(st.Warm) {
		return record.Recorded[inflation.Pressure]{}
	}
	return st.LeftAt
}

// rated is the tire's rating in its fitment as a fact. Of a tire whose class is
// not known it is between the rating as stamped and that divided by 1.10.
func (a *Assessment) rated(st *TireState) rules.Value {
	if st.AxleIndex < 0 {
		return rules.Value{}
	}
	return capacityValue(st.Fitted.Rated(a.Visit.Axles[st.AxleIndex].Fitment, st.Options, a.Visit.System))
}

// capacity is its rating; where that was not read, at most what its load index says,
// and beside a mate what it is rated for alone.
func (a *Assessment) capacity(st *TireState) rules.Value {
	v := a.rated(st)
	if v.Recorded() || st.AxleIndex < 0 {
		return v
	}
	service, _ := st.Service.Get()
	most := weight.Mass(0)
	lower := func(m weight.Mass) {
		if m > 0 && (most == 0 || m < most) {
			most = m
		}
	}
	lower(service.Single.Load())
	if a.Visit.Axles[st.AxleIndex].Fitment == weight.Dual {
		lower(st.Fitted.Single.Load)
		lower(service.Dual.Load())
	}
	if most == 0 {
		return rules.Value{}
	}
	return rules.Quantity(most).OrLess()
}

// Stamped is the tire's rating in its fitment, a passenger tire's on the coach (or
// that of a tire of unknown class) divided by 1.10.
func (a *Assessment) Stamped(st *TireState) record.Recorded[weight.Mass] {
	if st.AxleIndex < 0 {
		return record.Recorded[weight.Mass]{}
	}
	m, ok := st.Fitted.RatedLoad(a.Visit.Axles[st.AxleIndex].Fitment, st.Options.OnPassengerCar, a.Visit.System)
	if !ok {
		return record.Recorded[weight.Mass]{}
	}
	return record.Record(m)
}

// carriesAt is what a tire carries at a pressure as read, up to what it carries at
// the gauge's tolerance above: beyond that it carries surely less. Read hot it
// holds at most that.
func (a *Assessment) carriesAt(st *TireState, at record.Recorded[inflation.Pressure], hot bool) rules.Value {
	p, ok := at.Get()
	if !ok || st.AxleIndex < 0 {
		return rules.Value{}
	}
	tolerance, _ := a.gauge()
	opt := st.Options
	opt.Method = inflation.Interpolated // what the tire carries, not what a row promises
	fit, placard := a.Visit.Axles[st.AxleIndex].Fitment, a.placardOf(st.AxleIndex)
	c, err1 := st.carries(p, fit, placard, opt, a.Visit.System)
	most, err2 := st.carries(p+tolerance, fit, placard, opt, a.Visit.System)
	if err1 != nil || err2 != nil || !c.Known() || !most.Known() {
		return rules.Value{}
	}
	switch openAbove := c.OpenAbove || most.OpenAbove; {
	case hot && openAbove:
		return rules.Value{} // at most what nobody knows
	case hot:
		return rules.Between(c.Low, most.High).OrLess()
	case openAbove:
		return rules.Quantity(c.Low).OrMore()
	case c.Low == c.High:
		return rules.Between(c.Low, most.High)
	}
	return rules.Somewhere(c.Low, most.High)
}

// placardOf is the placard as a tire's capacity rests on it.
func (a *Assessment) placardOf(axle int) inflation.Placard {
	ax := &a.Visit.Axles[axle]
	var out inflation.Placard
	if placard, ok := a.placardRead(axle).Get(); ok {
		var is bool
		out.Pressure, is = placard.Pressure()
		out.None = !is
	}
	if !a.doubtful(gawrKey(ax)) {
		out.GAWR, _ = ax.GAWR.Get()
	}
	if !ax.Towed {
		out.GVWR, _ = a.Visit.Ratings.GVWR.Get()
	}
	out.Fitted = a.fitted[axle]
	return out
}

// keptReadyAt is what a spare's pressure is held against.
func (a *Assessment) keptReadyAt(st *TireState) rules.Value {
	if st.AxleIndex >= 0 {
		return rules.Value{}
	}
	if p, ok := st.LastSet.Get(); ok {
		return rules.Quantity(p)
	}
	if p := a.mostSet(st); p > 0 {
		return rules.Quantity(p)
	}
	if p := st.lowestStamp(); p > 0 {
		return rules.Quantity(p)
	}
	return rules.Value{}
}

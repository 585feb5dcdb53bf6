package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// What is stamped on parts, printed on labels, and said once of the coach: the
// measures of this file are looked up, not worked out.

const needPlacardTire = "the tire size and load range on the placard"

// tireFittings are measures of a tire's stamps, its valve and its wheel.
func tireFittings(d dimensions) []measure[*TireState] {
	type st = *TireState
	type as = *Assessment
	return []measure[*TireState]{
		q("gvwr", "the gross vehicle weight rating of the coach; for the towed unit's tires, that of the towed unit", d.mass,
			func(a as, t st) rules.Value { return a.gvwrOver(t) }, "the GVWR, from the ratings label"),
		q("capacity_at_placard", "what it carries at the placard's pressure, by its table or between the least and the most that any law for steel-cord tires gives", d.mass,
			func(a as, t st) rules.Value { return a.capacityAtPlacard(t) }, "the placard's pressure, and a load and inflation table of its size"),
		q("stamped_single", "the most load for one tire alone that its sidewall states, whatever its class", d.mass,
			func(a as, t st) rules.Value {
				s, ok := t.Single.Get()
				if !ok {
					return rules.Value{}
				}
				return rules.Quantity(s.Load)
			}, "the maximum load for single fitment on its sidewall"),
		q("cut_length", "how long its longest cut is", d.length, func(a as, t st) rules.Value { return quantityOf(t.CutLength) }, "how long its cut is"),
		f("gvwr_known", "whether that GVWR was written down", func(a as, t st) rules.Value { return yesNo(a.gvwrOver(t).Recorded()) }, ""),
		f("cut_in_crown", "whether its deepest cut was written down as in the crown; where nothing is said it counts as elsewhere", func(a as, t st) rules.Value {
			at, _ := t.CutAt.Get()
			return yesNo(at == record.AtCrown)
		}, ""),
		q("cut_in_tread", "how deep its deepest cut goes in the tread: anything up to its depth where its place was not written down; not recorded where it is elsewhere", d.length, func(a as, t st) rules.Value {
			depth, ok := t.CutDepth.Get()
			at, placed := t.CutAt.Get()
			switch {
			case ok && !placed:
				return rules.Somewhere(0, depth)
			case ok && at == record.AtCrown:
				return rules.Quantity(depth)
			}
			return rules.Value{}
		}, "where the cut is: in the crown, a shoulder or a sidewall"),
		q("sensor_off", "by how much what the monitor's sensor shows differs from what the gauge reads", d.pressure, func(a as, t st) rules.Value {
			shown, read, ok := record.Both(t.SensorReading, t.Usable)
			if !ok {
				return rules.Value{}
			}
			return rules.Quantity(max(shown-read, read-shown))
		}, ""),
		f("snap_in_stem", "whether its valve stem was written down as a rubber snap-in", func(a as, t st) rules.Value { return t.stemIs(record.SnapIn) }, ""),
		f("high_pressure_stem", "whether its valve stem was written down as a high-pressure snap-in", func(a as, t st) rules.Value { return t.stemIs(record.HighPressureSnapIn) }, ""),
		q("fastest", "the speed above which the coach is never driven", d.speed, func(a as, t st) rules.Value {
			if t.AxleIndex < 0 {
				return rules.Value{}
			}
			return quantityOf(a.Visit.Fastest)
		}, "the speed above which it is never driven (fastest)"),
		f("fastest_known", "whether the speed above which the coach is never driven was written down", func(a as, t st) rules.Value { return yesNo(a.Visit.Fastest.Is()) }, ""),
		q("rated_speed", "the most speed by its symbol, and no more than 55 mph where it is marked so", d.speed, func(a as, t st) rules.Value { return t.ratedSpeed() },
			"the speed symbol on its sidewall"),
		f("rated_speed_known", "whether its speed symbol was read, or that it is marked for 55 mph", func(a as, t st) rules.Value { return yesNo(t.ratedSpeed().Recorded()) }, ""),
		f("torque_due", "whether its wheel was put on before this day, no torque wrench was on its nuts on a later one, and no odometer reading at which to check them is still to come", func(a as, t st) rules.Value {
			return torqueKnown(t, t.torqueOpen() && !a.torqueAhead(t))
		}, "when its wheel was last put on, and its nuts last checked with a torque wrench"),
		f("torque_ahead", "whether its wheel was put on, and its nuts are to be checked once it has been driven on", func(a as, t st) rules.Value {
			return torqueKnown(t, t.torqueOpen() && a.torqueAhead(t))
		}, "when its wheel was last put on, and its nuts last checked with a torque wrench"),
	}
}

// axleFittings are measures of what an axle's labels and stamps say together.
func axleFittings(d dimensions) []measure[axleOf] {
	return []measure[axleOf]{
		q("wheel_capacity", "what all its wheels are stamped for together", d.mass, func(a *Assessment, x axleOf) rules.Value {
			var sum weight.Mass
			for i := range a.OnAxle(x.axle) {
				s, ok := a.OnAxle(x.axle)[i].Wheel.Get()
				if !ok {
					return rules.Value{}
				}
				sum += s.Load
			}
			return rules.Quantity(sum)
		}, "the maximum load stamped on all its wheels"),
		f("size_as_placard", "whether all its tires are of the size that the placard names", func(a *Assessment, x axleOf) rules.Value {
			size := a.Visit.Axles[x.axle].PlacardSize
			return a.allOn(x.axle, size != "", func(t *TireState) (known, is bool) { return t.Size != "", SameSize(t.Size, size) })
		}, needPlacardTire),
		w("range_against_placard", "how the weakest load range on it stands to the one that the placard names", []string{"weaker", "same", "stronger"},
			func(a *Assessment, x axleOf) rules.Value { return a.rangeAgainstPlacard(x.axle) }, needPlacardTire),
		f("one_construction", "whether all its tires are of one construction: radial, bias or bias-belted", func(a *Assessment, x axleOf) rules.Value {
			return oneOf(a.OnAxle(x.axle), func(t *TireState) record.Recorded[inflation.Construction] { return t.Construction })
		}, "the construction of all its tires"),
		q("torque_applied", "the torque that its wheel nuts were given", d.torque, func(a *Assessment, x axleOf) rules.Value { return quantityOf(a.Visit.Axles[x.axle].TorqueApplied) }, "the torque that its wheel nuts were given"),
		q("torque_asked", "the torque that its wheel nuts want, by the maker of coach or wheel", d.torque, func(a *Assessment, x axleOf) rules.Value { return quantityOf(a.Visit.Axles[x.axle].TorqueAsked) }, "the torque that its wheel nuts want, by the maker of coach or wheel"),
		f("torque_written", "whether the torque that its wheel nuts were given was written down", func(a *Assessment, x axleOf) rules.Value {
			return yesNo(a.Visit.Axles[x.axle].TorqueApplied.Is())
		}, ""),
		f("one_tread_type", "whether the treads of all its tires are of one type", func(a *Assessment, x axleOf) rules.Value {
			return oneOf(a.OnAxle(x.axle), func(t *TireState) record.Recorded[record.TreadType] { return t.TreadType })
		}, "what the treads of all its tires are made for"),
		q("ply_spread", "by how much the ply ratings of its tires differ, by their load ranges", rules.Count(), func(a *Assessment, x axleOf) rules.Value { return a.plySpread(x.axle) },
			"the load range of all its tires"),
		q("load_index_spread", "by how much the load indices of its tires differ", rules.Count(), func(a *Assessment, x axleOf) rules.Value { return a.indexSpread(x.axle) },
			"the load index of all its tires"),
	}
}

// coachFittings are measures of the coach's ratings and of all its tires.
func coachFittings(d dimensions) []measure[*report.LoadLine] {
	return []measure[*report.LoadLine]{
		q("gawr_sum", "the gross axle weight ratings of all its axles together", d.mass, func(a *Assessment, l *report.LoadLine) rules.Value {
			var sum weight.Mass
			for i := range a.Visit.Axles {
				if a.Visit.Axles[i].Towed {
					continue
				}
				gawr, ok := a.Visit.Axles[i].GAWR.Get()
				if !ok {
					return rules.Value{}
				}
				sum += gawr
			}
			return rules.Quantity(sum)
		}, "the GAWR of all axles, from the ratings label"),
		f("mixed_construction", "whether it has radial tires on one axle and bias tires on another, or both on one", func(a *Assessment, l *report.LoadLine) rules.Value {
			return a.mixedCoach()
		}, "the construction of all its tires"),
		f("torque_overdue", "whether the odometer is at or past where the wheel nuts were to be checked again, and none were that day", func(a *Assessment, l *report.LoadLine) rules.Value {
			return a.torqueOverdue()
		}, ""),
		q("gauge_checked_ago", "how long ago the gauge was held against a master gauge", d.age, func(a *Assessment, l *report.LoadLine) rules.Value {
			on, ok := a.Visit.GaugeChecked.Get()
			if !ok || a.Visit.Date.Before(on) {
				return rules.Value{}
			}
			return rules.Quantity(ageSteps(dotcode.Between(on, a.Visit.Date)))
		}, ""),
	}
}

func (a *Assessment) torqueOverdue() rules.Value {
	due, now, ok := record.Both(a.Visit.TorqueDue, a.Visit.Odometer)
	if !ok {
		return rules.Value{}
	}
	today := slices.ContainsFunc(a.Tires, func(st TireState) bool {
		on, ok := st.TorqueChecked.Get()
		return ok && on == a.Visit.Date
	})
	return rules.Flag(now >= due && !today)
}

// combinationFittings are measures of what couples the towed unit.
func combinationFittings(d dimensions) []measure[*report.LoadLine] {
	type line = *report.LoadLine
	part := func(name, doc, need string, of func(*record.Towing) record.Recorded[weight.Mass]) measure[line] {
		return q(name, doc, d.mass, func(a *Assessment, l line) rules.Value { return quantityOf(of(&a.Visit.Towing)) }, need)
	}
	return []measure[line]{
		q("towed_load", "what the towed unit weighs, with what rests on the hitch", d.mass, func(a *Assessment, l line) rules.Value {
			return a.towedLoad(a.Solution.Of(a.Layout.All &^ a.Layout.Coach))
		},
			"the weight of the towed unit: weigh it"),
		q("towed_on_axles", "what the towed unit's own axles carry", d.mass, func(a *Assessment, l line) rules.Value { return a.load(a.Solution.Of(a.Layout.All &^ a.Layout.Coach)) },
			"the weight of the towed unit: weigh it"),
		part("tongue", "what rests on the hitch", "what rests on the hitch: weigh it", func(t *record.Towing) record.Recorded[weight.Mass] { return t.Tongue }),
		part("hitch_rating", "the most weight that the hitch may tow", "the weight that the hitch is stamped for", func(t *record.Towing) record.Recorded[weight.Mass] { return t.Hitch }),
		part("tongue_rating", "the most that may rest on the hitch", "the tongue weight that the hitch is stamped for", func(t *record.Towing) record.Recorded[weight.Mass] { return t.HitchTongue }),
		part("ball_rating", "the most weight that ball mount and ball may tow", "the weight stamped on ball mount and ball", func(t *record.Towing) record.Recorded[weight.Mass] { return t.BallMount }),
		part("tow_bar_rating", "the most weight that the tow bar may tow", "the weight stamped on the tow bar", func(t *record.Towing) record.Recorded[weight.Mass] { return t.TowBar }),
		part("coupler_rating", "the most weight that the coupler may tow", "the weight stamped on the coupler", func(t *record.Towing) record.Recorded[weight.Mass] { return t.Coupler }),
		part("towed_gvwr", "the towed unit's gross vehicle weight rating", "the GVWR of the towed unit, from its label", func(t *record.Towing) record.Recorded[weight.Mass] { return t.GVWR }),
		w("tows", "what is towed", []string{"nothing", "car", "trailer", "fifth_wheel"}, func(a *Assessment, l line) rules.Value { return wordOf(a.Visit.Tows) },
			"what is towed: a car, a trailer or a fifth wheel"),
	}
}

func (a *Assessment) gvwrOver(t *TireState) rules.Value {
	if t.AxleIndex >= 0 && a.Visit.Axles[t.AxleIndex].Towed {
		return quantityOf(a.Visit.Towing.GVWR)
	}
	if a.doubtful(ofCoach("gvwr")) {
		return rules.Value{}
	}
	return quantityOf(a.Visit.Ratings.GVWR)
}

func (t *TireState) stemIs(kind record.Stem) rules.Value {
	stem, _ := t.Stem.Get()
	return yesNo(stem == kind)
}

// ratedSpeed is known to be at most 55 mph where somebody saw that mark, whatever
// else the sidewall says.
func (t *TireState) ratedSpeed() rules.Value {
	var out rules.Value
	if s, ok := t.Service.Get(); ok {
		if s.Speed != 0 {
			out = rules.Quantity(s.Speed.Speed())
		}
	}
	const marked = 55 * inflation.MilePerHour
	if seen, ok := t.Seen.Get(); ok && seen.Has(condition.SpeedRestricted) {
		if most, ok := out.Most(); !ok || most > int64(marked) {
			return rules.Quantity(marked)
		}
	}
	return out
}

// torqueKnown is known where it was written down when the wheel was put on.
func torqueKnown(t *TireState, is bool) rules.Value {
	if !t.WheelOn.Is() {
		return rules.Value{}
	}
	return yesNo(is)
}

// torqueAhead reports whether the nuts of a wheel that was put on cannot be checked yet: it
// was put on this day, or the odometer is not yet where they are to be checked.
func (a *Assessment) torqueAhead(t *TireState) bool {
	on, _ := t.WheelOn.Get()
	now, due, ok := record.Both(a.Visit.Odometer, a.Visit.TorqueDue)
	return on == a.Visit.Date || ok && now < due
}

// torqueOpen tells whether its wheel was put on and no later check is written down.
func (t *TireState) torqueOpen() bool {
	on, ok := t.WheelOn.Get()
	checked, was := t.TorqueChecked.Get()
	return ok && (!was || !on.Before(checked))
}

// oneOf tells whether all tires are of one kind: no as soon as two are known to differ.
func oneOf[T comparable](tires []TireState, kind func(*TireState) record.Recorded[T]) rules.Value {
	var first record.Recorded[T]
	all := true
	for i := range tires {
		switch is := kind(&tires[i]); {
		case !is.Is():
			all = false
		case !first.Is():
			first = is
		case is != first:
			return yesNo(false)
		}
	}
	if !all {
		return rules.Value{}
	}
	return yesNo(true)
}

// allOn tells whether something is true of all tires of an axle: no as soon as
// it is known to be false of one.
func (a *Assessment) allOn(axle int, given bool, of func(*TireState) (known, is bool)) rules.Value {
	if !given {
		return rules.Value{}
	}
	all := true
	tires := a.OnAxle(axle)
	for i := range tires {
		known, is := of(&tires[i])
		if known && !is {
			return yesNo(false)
		}
		all = all && known
	}
	if !all {
		return rules.Value{}
	}
	return yesNo(true)
}

// plies is the ply rating of a load range as written.
func plies(loadRange string) (int, bool) {
	r, err := inflation.ParseLoadRange(loadRange)
	if err != nil {
		return 0, false
	}
	return r.PlyRating()
}

// rangeAgainstPlacard holds the weakest tire's load range to the placard's.
func (a *Assessment) rangeAgainstPlacard(axle int) rules.Value {
	want, ok := plies(a.Visit.Axles[axle].PlacardLoadRange)
	if !ok {
		return rules.Value{}
	}
	const weaker, same, stronger = 0, 1, 2
	out, all := stronger, true
	tires := a.OnAxle(axle)
	for i := range tires {
		switch has, ok := plies(tires[i].LoadRange); {
		case !ok:
			all = false
		case has < want:
			return rules.Word(weaker)
		case has == want:
			out = same
		}
	}
	if !all {
		return rules.Value{}
	}
	return rules.Word(out)
}

// indexSpread is the difference of the highest and the lowest single load index.
func (a *Assessment) indexSpread(axle int) rules.Value {
	return a.spreadOf(axle, func(t *TireState) (int, bool) {
		s, ok := t.Service.Get()
		if !ok || !s.Single.Known() {
			return 0, false
		}
		return s.Single.Number(), true
	})
}

// plySpread is the difference of the highest and the lowest ply rating.
func (a *Assessment) plySpread(axle int) rules.Value {
	return a.spreadOf(axle, func(t *TireState) (int, bool) { return plies(t.LoadRange) })
}

// spreadOf is the difference of the highest and the lowest number of an axle's
// tires: at least that of those which have one.
func (a *Assessment) spreadOf(axle int, of func(*TireState) (int, bool)) rules.Value {
	low, high, have := 0, 0, 0
	tires := a.OnAxle(axle)
	for i := range tires {
		n, ok := of(&tires[i])
		if !ok {
			continue
		}
		if have == 0 {
			low, high = n, n
		}
		low, high, have = min(low, n), max(high, n), have+1
	}
	if have == 0 {
		return rules.Value{}
	}
	spread := rules.Quantity(int64(high - low))
	if have < len(tires) {
		return spread.OrMore()
	}
	return spread
}

// towedLoad is what the towed unit weighs, by what its axles carry. Of a trailer that was weighed hitched
// the axles carry all but what rests on the hitch: at least that much, where
// nobody weighed the tongue.
func (a *Assessment) towedLoad(on weight.Estimate) rules.Value {
	axles := a.load(on)
	tows, _ := a.Visit.Tows.Get()
	hitched, said := a.Visit.Weighing.Hitched.Get()
	if !axles.Recorded() || tows == record.TowsCar || said && !hitched {
		return axles
	}
	if tongue, ok := a.Visit.Towing.Tongue.Get(); ok {
		on.Load += tongue
		return a.load(on)
	}
	return axles.OrMore()
}

// mixedCoach is whether bias and radial tires run under the coach: surely if both
// were read, surely not if all were read alike.
func (a *Assessment) mixedCoach() rules.Value {
	radial, bias, all := false, false, true
	for i := range a.Layout.Wheels {
		if a.Visit.Axles[a.Tires[i].AxleIndex].Towed {
			continue
		}
		c, ok := a.Tires[i].Construction.Get()
		all = all && ok
		radial, bias = radial || ok && c == inflation.Radial, bias || ok && c != inflation.Radial
	}
	if radial && bias || all {
		return yesNo(radial && bias)
	}
	return rules.Value{}
}

// fitsAxle reports whether a spare may go to an axle: to any of the coach's but one of
// another size, to a towed one only where it is known to be of its size.
func (a *Assessment) fitsAxle(spare *TireState, axle int) bool {
	on, read := a.OnAxle(axle), false
	for i := range on {
		if spare.Size != "" && on[i].Size != "" {
			if SameSize(spare.Size, on[i].Size) {
				return true
			}
			read = true
		}
	}
	return !read && !a.Visit.Axles[axle].Towed
}

package judge

import (
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// An endOf is one end of an axle with its line of loads.
type endOf struct {
	axle int
	side weight.Side
	line *report.LoadLine
}

// An axleOf is one axle with its line of loads and its setting, nil where no
// pressure could be found.
type axleOf struct {
	axle int
	line *report.LoadLine
	set  *inflation.Setting
}

// A pairOf is the two tires of a dual axle end.
type pairOf struct {
	outer, inner *TireState
	line         report.PairLine
	choice       insideChoice
}

const needLoad, needGAWR = "its load: weigh it", "its GAWR, from the ratings label"

func (a *Assessment) gawr(axle int) rules.Value {
	ax := &a.Visit.Axles[axle]
	return a.ratingValue(gawrKey(ax), ax.GAWR)
}

// ratingsRead reports whether the GVWR and each GAWR of the coach were read.
func (a *Assessment) ratingsRead() bool {
	return a.Visit.Ratings.GVWR.Is() && !slices.ContainsFunc(a.Visit.Axles, func(ax record.Axle) bool { return !ax.Towed && !ax.GAWR.Is() })
}

// gvwr is the coach's GVWR, of two labels that differ at most the lower.
func (a *Assessment) gvwr() rules.Value {
	is := a.Visit.Ratings.GVWR
	if lower, differ := a.lowerGVWR(); differ && a.doubtful(ofCoach("gvwr")) {
		is = record.Record(lower)
	}
	return a.ratingValue(ofCoach("gvwr"), is)
}

// ratingValue is a rating as a fact: one in doubt counts as not read, or as at most
// what was read.
func (a *Assessment) ratingValue(key doubtKey, is record.Recorded[weight.Mass]) rules.Value {
	switch {
	case slices.Contains(a.doubt.most, key):
		return quantityOf(is).OrLess()
	case a.doubtful(key):
		return rules.Value{}
	}
	return quantityOf(is)
}

func endMeasures(d dimensions) []measure[endOf] {
	return []measure[endOf]{
		q("load", "what it carries; at least that where the coach was weighed light, at most that where only the whole axle was", d.mass,
			func(a *Assessment, e endOf) rules.Value { return a.endCarries(e.axle, e.line) }, needLoad),
		q("gawr", "the gross axle weight rating of its axle", d.mass, func(a *Assessment, e endOf) rules.Value { return a.gawr(e.axle) }, needGAWR),
		w("role", "what its axle does", roleWords(), func(a *Assessment, e endOf) rules.Value { return rules.Word(int(a.Layout.Roles[e.axle]) - 1) }, ""),
	}
}

func axleMeasures(d dimensions) []measure[axleOf] {
	spread := func(of func(*TireState) record.Recorded[inflation.Pressure], some bool) func(*Assessment, axleOf) rules.Value {
		return func(a *Assessment, x axleOf) rules.Value {
			all, part := a.spread(x.axle, of)
			if some {
				return Value(part)
			}
			return Value(all)
		}
	}
	return []measure[axleOf]{
		q("load", "what it carries; at least that where the coach was weighed light", d.mass, func(a *Assessment, x axleOf) rules.Value { return a.load(x.line.Estimate) }, needLoad),
		q("gawr", "its gross axle weight rating", d.mass, func(a *Assessment, x axleOf) rules.Value { return a.gawr(x.axle) }, needGAWR),
		q("tire_capacity", "what all its tires may carry together, passenger tires' on the coach divided by 1.10", d.mass,
			func(a *Assessment, x axleOf) rules.Value { return Value(a.axleCapacity(x.axle)) }, "the maximum load on the sidewalls of all its tires"),
		f("whole_only", "whether only the whole of it was weighed, and neither end", func(a *Assessment, x axleOf) rules.Value { return yesNo(a.byWhole(x.axle)) }, ""),
		q("rated_whole", "where only the whole axle was weighed: from what it may carry with half on its weakest tire to what all its tires are rated for together", d.mass,
			func(a *Assessment, x axleOf) rules.Value {
				return a.whole(x.axle, func(st *TireState) rules.Value { return a.rated(st) })
			}, "the maximum load on the sidewalls of all its tires"),
		q("wheels_whole", "the same for its wheels", d.mass,
			func(a *Assessment, x axleOf) rules.Value {
				return a.whole(x.axle, func(st *TireState) rules.Value { return st.wheelLoad() })
			}, "the maximum load stamped on all its wheels"),
		q("carried_as_found", "the same for what its tires carry as found", d.mass,
			func(a *Assessment, x axleOf) rules.Value {
				return a.whole(x.axle, func(st *TireState) rules.Value { return a.carriesAt(st, st.Usable, st.atMost()) })
			}, "the cold pressure of all its tires"),
		q("carried_as_left", "the same for what its tires carry as left; a tire whose pressure left at was not written down counts as found", d.mass,
			func(a *Assessment, x axleOf) rules.Value {
				return a.whole(x.axle, func(st *TireState) rules.Value { return a.carriesAt(st, st.LeftAt.Or(st.Usable), st.atMost()) })
			}, "the cold pressure that all its tires were left at"),
		f("was_set", "whether the cold pressure that any of its tires was left at was written down", func(a *Assessment, x axleOf) rules.Value {
			return yesNo(a.anyOn(x.axle, func(st *TireState) bool { return st.coldLeft().Is() }))
		}, ""),
		f("left_read", "whether the pressure that any was left at was written down, hot or cold", func(a *Assessment, x axleOf) rules.Value {
			return yesNo(a.anyOn(x.axle, func(st *TireState) bool { return st.LeftAt.Is() }))
		}, ""),
		w("role", "what it does", roleWords(), func(a *Assessment, x axleOf) rules.Value { return rules.Word(int(a.Layout.Roles[x.axle]) - 1) }, ""),
		f("mixed_construction", "whether bias and radial tires run on it together", func(a *Assessment, x axleOf) rules.Value { return Flag(a.mixed(x.axle)) }, "the construction of all its tires"),
		f("mixed_size", "whether tires of two sizes run on it together", func(a *Assessment, x axleOf) rules.Value { return Flag(a.mixedSize(x.axle)) }, "the size of all its tires"),
		w("pressure_fits", "whether a pressure that tires and wheels allow carries its load", []string{"yes", "too_close", "no"}, func(a *Assessment, x axleOf) rules.Value { return a.fits(x) }, ""),
		w("short_part", "what is too weak for the load, where no pressure carries it", []string{"none", "tire", "wheel", "wheel_pressure"}, func(a *Assessment, x axleOf) rules.Value { return shortPart(x.set) }, ""),
		f("ran_low", "whether one of its tires was judged to have run low", func(a *Assessment, x axleOf) rules.Value {
			return yesNo(a.anyOn(x.axle, func(st *TireState) bool { return st.Line.Air == report.AirForbidden }))
		}, ""),
		f("placard_needed", "whether its pressure counts only until the placard is read", func(a *Assessment, x axleOf) rules.Value { return placardNeeded(x.set) }, ""),
		f("placard_too_high", "whether the placard's pressure is above what a tire or wheel allows", func(a *Assessment, x axleOf) rules.Value { return a.placardTooHigh(x) }, "the placard's pressure"),
		f("placard_promises_more", "whether the placard's pressure promises more for half of the GAWR than any law gives its tires", func(a *Assessment, x axleOf) rules.Value { return a.placardPromises(x.axle) }, "the placard's pressure, tire size and load range, the GAWR and the GVWR"),
		f("odd_class", "whether a trailer or passenger tire runs on it under the coach", func(a *Assessment, x axleOf) rules.Value { return a.oddClass(x.axle) }, ""),
		q("left_spread", "the difference between the highest and the lowest pressure its tires were left at", d.pressure, spread((*TireState).coldLeft, false), ""),
		q("left_spread_of_some", "the difference between the pressures that some of its tires were left at, where others' were not recorded", d.pressure, spread((*TireState).coldLeft, true), ""),
		q("found_spread", "the difference between the highest and the lowest pressure as found, where all its tires were read cold and out of the sun", d.pressure, spread((*TireState).cold, false), "the cold pressure of all its tires"),
		q("found_spread_of_some", "the same difference among those that were, where others of its tires were not", d.pressure, spread((*TireState).cold, true), ""),
	}
}

func pairMeasures(d dimensions) []measure[*pairOf] {
	length := func(of func(*TireState) record.Recorded[weight.Length], to func(x, y weight.Length) weight.Length) func(*Assessment, *pairOf) rules.Value {
		return func(a *Assessment, p *pairOf) rules.Value {
			x, y, ok := record.Both(of(p.outer), of(p.inner))
			if !ok {
				return rules.Value{}
			}
			return rules.Quantity(to(x, y))
		}
	}
	tread := func(st *TireState) record.Recorded[weight.Length] { return st.Line.Tread }
	return []measure[*pairOf]{
		q("tread_difference", "the difference of their least tread depths", d.length, length(tread, AbsDiff[weight.Length]), "the tread depth of both tires"),
		f("deeper_inside", "whether the tire with more tread runs inside; no where measured sizes or two models say that tread does not decide",
			func(a *Assessment, p *pairOf) rules.Value { return p.deeperInside() }, "the tread depth of both tires"),
		q("diameter", "the smaller of their outside diameters, measured mounted and inflated; from the circumference where no diameter was", d.length,
			func(a *Assessment, p *pairOf) rules.Value { return p.diameter() }, "the outside diameter of both tires"),
		q("diameter_difference", "the difference of their outside diameters; where one of them was measured around, from that", d.length,
			func(a *Assessment, p *pairOf) rules.Value { return p.diameterDifference() }, "the outside diameter of both tires"),
		q("circumference_difference", "the difference of their circumferences, where both were measured", d.length,
			func(a *Assessment, p *pairOf) rules.Value { return p.circumferenceDifference() }, "the circumference of both tires"),
		f("larger_inside", "whether the tire that measures larger runs inside", func(a *Assessment, p *pairOf) rules.Value { return p.largerInside() }, "the outside diameter of both tires"),
		f("same_size", "whether both have the same size", func(a *Assessment, p *pairOf) rules.Value {
			if p.outer.Size == "" || p.inner.Size == "" {
				return rules.Value{}
			}
			return yesNo(SameSize(p.outer.Size, p.inner.Size))
		}, "the size of both tires"),
		f("same_construction", "whether both have the same construction", func(a *Assessment, p *pairOf) rules.Value {
			x, y, ok := record.Both(p.outer.Construction, p.inner.Construction)
			if !ok {
				return rules.Value{}
			}
			return yesNo(x == y)
		}, "the construction of both tires"),
		f("two_makes", "whether the two are of two models, or a retread runs beside a new tire", func(a *Assessment, p *pairOf) rules.Value { return p.twoMakes() }, "the make and model of both tires"),
		f("measured", "whether the diameters or the circumferences of both were measured", func(a *Assessment, p *pairOf) rules.Value {
			return yesNo(p.measured())
		}, ""),
		f("facing_seen", "whether the sidewalls that face each other were looked at", func(a *Assessment, p *pairOf) rules.Value { return p.facingSeen() }, "a look at the sidewalls that face each other"),
		q("pressure_difference", "the difference of their pressures as found, both cold and out of the sun", d.pressure, func(a *Assessment, p *pairOf) rules.Value {
			x, y, ok := record.Both(p.outer.cold(), p.inner.cold())
			if !ok {
				return rules.Value{}
			}
			return rules.Quantity(AbsDiff(x, y))
		}, "the cold pressure of both tires"),
		q("age_difference", "how far apart they were made, from the least to the most that their date codes allow", d.age, func(a *Assessment, p *pairOf) rules.Value {
			if x, y := p.outer.Line.Age, p.inner.Line.Age; x.Known() && y.Known() {
				return madeApart(x, y)
			}
			return rules.Value{}
		}, needDate),
		f("ran_low", "whether one of them was judged to have run low", func(a *Assessment, p *pairOf) rules.Value {
			return yesNo(p.outer.Line.Low == report.Flat || p.inner.Line.Low == report.Flat)
		}, ""),
		q("load", "what the axle end carries", d.mass, func(a *Assessment, p *pairOf) rules.Value {
			return a.weighedPair(p, a.Solution.Of(weight.EndOf(p.outer.AxleIndex, p.outer.Position.Side)))
		}, needLoad),
		q("heavier_tire", "what the more heavily loaded of the two carries, where each was weighed by itself", d.mass, func(a *Assessment, p *pairOf) rules.Value { return a.heavierOfPair(p) }, "each of the two weighed by itself"),
	}
}

func coachMeasures(d dimensions) []measure[*report.LoadLine] {
	type line = *report.LoadLine
	return []measure[*report.LoadLine]{
		q("load", "what it weighs; at least that where it was weighed light", d.mass, func(a *Assessment, l line) rules.Value { return a.load(l.Estimate) }, needLoad),
		q("gvwr", "its gross vehicle weight rating", d.mass, func(a *Assessment, l line) rules.Value {
			return a.gvwr()
		}, "its GVWR, from the ratings label"),
		q("weighed_ago", "how long ago it was weighed", d.age, func(a *Assessment, l line) rules.Value { return a.weighedAgo() }, "the day of the weighing"),
		f("work_since", "whether work done since then changes what the axles carry the weighing", func(a *Assessment, l line) rules.Value { return yesNo(record.Yes(a.Visit.Weighing.WorkSince)) }, ""),
		q("stood", "how long it has stood since it was driven", d.standing, func(a *Assessment, l line) rules.Value { return Value(a.Visit.ParkedFor) }, "how long it has stood"),
		f("weighed", "whether any load was read off a scale", func(a *Assessment, l line) rules.Value { return yesNo(len(a.Visit.Weighing.Readings) > 0) }, ""),
		f("ratings_read", "whether the GVWR and the GAWR of each axle were read, a towed unit's not asked", func(a *Assessment, l line) rules.Value { return yesNo(a.ratingsRead()) }, ""),
		f("all_looked_at", "whether every tire on the road was looked over and its tread and date code read, those of the towed unit too", func(a *Assessment, l line) rules.Value {
			return yesNo(a.allOnRoad(func(st *TireState) bool { return st.lookedAt() && st.Line.Tread.Is() && st.Line.Age.Known() }))
		}, "a look at every tire, its tread and its date code"),
		f("wheel_off", "whether what is to be done takes a wheel off", func(a *Assessment, l line) rules.Value { off, _ := a.wheelOff(); return yesNo(off) }, ""),
		f("wheel_off_soon", "whether any of that is to be done before the next trip", func(a *Assessment, l line) rules.Value { _, soon := a.wheelOff(); return yesNo(soon) }, ""),
		q[line]("tread_spread", "how much more tread the deepest of the coach's tires on the road has than the shallowest, asked where their places are looked at", d.length, nil, ""),
	}
}

func combinationMeasures(d dimensions) []measure[*report.LoadLine] {
	return []measure[*report.LoadLine]{
		q("load", "what they weigh; at least that where they were weighed light, or the towed unit was not weighed at all", d.mass, func(a *Assessment, l *report.LoadLine) rules.Value {
			v := a.load(l.Estimate)
			if v.Recorded() && a.tows() && a.Layout.All == a.Layout.Coach {
				v = v.OrMore()
			}
			return v
		}, needLoad),
		q("gcwr", "the gross combination weight rating", d.mass, func(a *Assessment, l *report.LoadLine) rules.Value {
			return a.ratingValue(ofCoach("gcwr"), a.Visit.Ratings.GCWR)
		}, "its GCWR, from the ratings label"),
	}
}

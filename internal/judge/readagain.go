package judge

import (
	"strings"

	"axleend.example/inspect/report"
)

// ReadAgain is how the title of an item begins that asks for a value again; what it asks
// for follows, by which a history looks for the value in a later visit.
const ReadAgain = "Read again: "

const (
	againAir        = "the air temperature"
	againNextDayAir = "the air temperature of the next day"
	againLastSetAir = "the air temperature when they were set"
	againLastSetOn  = "the day on which the tires were last set"
	againGauge      = "the gauge's tolerance"
	againTowed      = "what it tows"
	againRatings    = "the ratings, in pounds and in kilograms"
	againPlacard    = "the placard's pressure"
	againPressure   = "its pressure"
	againLastSet    = "the pressure it was last set to"
	againLowest     = "the lowest pressure it was driven at"
	againBeforeAir  = "the reading before air was added"
	againAirAdded   = "how much air was added"
	againCut        = "how deep its cut is"
	againHole       = "how wide its hole is"
	againNuts       = "the day on which its nuts were checked"
	againShare      = "the load on its sidewall, which is above its axle's GAWR"
	againWheel      = "the load on its wheel, which is more than twice its axle's GAWR"
	againEnds       = "the loads of its ends, which are far apart"
	againRaised     = "its load, of an axle that was raised"
	againSmall      = "its load, which is less than the scale may be off"
	againLight      = "the scale's readings, which are less than half of what the coach is rated for"
	againStamps     = "the loads stamped on it and its wheel, in pounds and in kilograms"
	againStamped    = "the load stamped on it ("
	againTrip       = ReadAgain + "what the trip says of "
	endOfNothing    = "An axle end that carries nothing"
)

// OfLoads reports whether an item asks to read something again that loads are judged by:
// what the scale showed, a rating, a load stamped on a tire or its wheel, or what a trip
// adds.
func OfLoads(it *report.Item) bool {
	what, asks := strings.CutPrefix(it.What, ReadAgain)
	switch {
	case it.Where == "weighing", it.Where == "trip" && asks, it.What == endOfNothing, it.What == StampsInDoubt:
		return true
	case !asks:
		return false
	}
	switch what {
	case againShare, againWheel, againEnds, againRaised, againSmall, againStamps, againRatings,
		againRating("gvwr"), againRating("gcwr"), againRating("gawr"):
		return true
	}
	return strings.HasPrefix(what, againStamped)
}

func againRating(key string) string { return "its " + upper(key) }

// ReadSince reports whether this visit has a value that an item of an earlier one asks
// to be read again: an item that this visit does not have is settled by that.
func (a *Assessment) ReadSince(where, title string) bool {
	what, asks := strings.CutPrefix(title, ReadAgain)
	if !asks {
		return false
	}
	v := a.Visit
	if st := a.TireNamed(where); st != nil {
		return st.Written && a.readOfTire(st, what)
	}
	switch what {
	case againAir:
		return v.AirTemperature.Is()
	case againNextDayAir:
		return v.NextDayAir.Is()
	case againLastSetAir:
		return v.LastSetAir.Is()
	case againLastSetOn:
		return v.LastSetOn.Is()
	case againGauge:
		return v.GaugeTolerance.Is()
	case againTowed:
		return v.Tows.Is()
	case againRating("gvwr"), againRatings:
		return v.Ratings.GVWR.Is()
	case againRating("gcwr"):
		return v.Ratings.GCWR.Is()
	}
	for i := range v.Axles {
		switch ax := &v.Axles[i]; {
		case ax.ID != where:
		case what == againPlacard:
			return ax.Placard.Is()
		case what == againRating("gawr"):
			return ax.GAWR.Is()
		}
	}
	return len(v.Weighing.Readings) > 0 // what the scale showed
}

// readOfTire is the same for what was read on a tire.
func (a *Assessment) readOfTire(st *TireState, what string) bool {
	switch what {
	case needTread:
		return st.Tread.Is()
	case againPressure, againLowest, againBeforeAir, againAirAdded:
		return st.Usable.Is()
	case againLastSet:
		return st.LastSet.Is()
	case needCracks:
		return st.CrackDepth.Is()
	case againCut:
		return st.CutDepth.Is()
	case againHole:
		return st.InjuryWidth.Is()
	case againNuts:
		return st.TorqueChecked.Is()
	case againWheel:
		return st.Wheel.Is()
	}
	for _, s := range st.stamped() {
		if strings.HasSuffix(what, "("+s.key+")") {
			return s.is.Is()
		}
	}
	return a.Stamped(st).Is()
}

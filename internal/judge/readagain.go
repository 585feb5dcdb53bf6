package judge

import "strings"

// readAgain is how the title of an item begins that asks for a value again.
const readAgain = "Read again: "

// ReadSince reports whether this visit has a value that an item of an earlier one asks
// to be read again: an item that this visit does not have is settled by that.
func (a *Assessment) ReadSince(where, title string) bool {
	what, asks := strings.CutPrefix(title, readAgain)
	if !asks {
		return false
	}
	v := a.Visit
	if st := a.TireNamed(where); st != nil {
		return st.Written && a.readOfTire(st, what)
	}
	switch what {
	case "the air temperature":
		return v.AirTemperature.Is()
	case "the air temperature of the next day":
		return v.NextDayAir.Is()
	case "the air temperature when they were set":
		return v.LastSetAir.Is()
	case "the day on which the tires were last set":
		return v.LastSetOn.Is()
	case "the gauge's tolerance":
		return v.GaugeTolerance.Is()
	case "what it tows":
		return v.Tows.Is()
	case "its GVWR", "the ratings, in pounds and in kilograms":
		return v.Ratings.GVWR.Is()
	case "its GCWR":
		return v.Ratings.GCWR.Is()
	}
	for i := range v.Axles {
		switch ax := &v.Axles[i]; {
		case ax.ID != where:
		case what == "the placard's pressure":
			return ax.Placard.Is()
		case what == "its GAWR":
			return ax.GAWR.Is()
		}
	}
	return len(v.Weighing.Readings) > 0 // what the scale showed
}

// readOfTire is the same of what was read on a tire.
func (a *Assessment) readOfTire(st *TireState, what string) bool {
	switch what {
	case "its tread depth":
		return st.Tread.Is()
	case "its pressure", "the lowest pressure it was driven at", "the reading before air was added":
		return st.Usable.Is()
	case "the pressure it was last set to":
		return st.LastSet.Is()
	case "how deep its cracks are":
		return st.CrackDepth.Is()
	case "how deep its cut is":
		return st.CutDepth.Is()
	case "how wide its hole is":
		return st.InjuryWidth.Is()
	case "the day on which its nuts were checked":
		return st.TorqueChecked.Is()
	}
	for _, s := range st.stamped() {
		if strings.HasSuffix(what, "("+s.key+")") {
			return s.is.Is()
		}
	}
	return a.Stamped(st).Is()
}

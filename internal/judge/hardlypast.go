package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// yearsUnset is after how many years the day on which tires were last set is asked
// again: nobody leaves them for so long (common practice).
const yearsUnset = 3

// hardlyDays looks at days that cannot be, or excuse too much.
func (a *Assessment) hardlyDays() {
	v := a.Visit
	if on, ok := v.LastSetOn.Get(); ok && on.IsValid() {
		switch {
		case v.Date.Before(on):
			a.againDay("coach", againLastSetOn, on, "")
		case daysApart(on, v.Date) > yearsUnset*daysAYear && a.doubted(ofCoach("last_set_on"), v.Sure):
			a.again("coach", againLastSetOn, on.String(), "Look at its year again. Meanwhile it counts as a year ago.")
		}
	}
	if on, ok := v.Weighing.Date.Get(); ok && v.Date.Before(on) {
		a.doubt.weighing = true
		a.againDay("weighing", "the day of the weighing", on, " Meanwhile the coach may weigh more than was read.")
	}
}

// hardlyTowed looks at axles of a towed unit where nothing is said to be towed.
func (a *Assessment) hardlyTowed() {
	v := a.Visit
	if tows, _ := v.Tows.Get(); tows == record.TowsNothing && a.Layout.All != a.Layout.Coach && !slices.Contains(v.Sure, "tows") {
		a.again("coach", againTowed, tows.String(), "Axles of a towed unit are written down: leave them out where nothing is towed. Meanwhile it counts as not said.")
	}
}

// againDay asks for a day that is after the visit: nobody can be sure of it.
func (a *Assessment) againDay(where, what string, on dotcode.Date, meanwhile string) {
	a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: where, What: ReadAgain + what, Found: on.String(),
		Advice: "It is after the day of the visit: look at both." + meanwhile, Sources: []origin.Source{{Grade: origin.CommonPractice}}})
}

// hardlyPast looks at what was read of a tire before this visit: as much or as little
// as no tire of a coach holds counts as not read where that is more careful.
func (a *Assessment) hardlyPast(st *TireState) {
	if on, ok := st.TorqueChecked.Get(); ok && a.Visit.Date.Before(on) {
		st.TorqueChecked = record.Recorded[dotcode.Date]{}
		a.againDay(st.Name, againNuts, on, " Meanwhile they count as not checked.")
	}
	if st.airContradicts() && !slices.Contains(st.Sure, "air_added_by") {
		a.again(st.Name, againAirAdded, "", "What was read before, and the air that was added, do not make what was found: look at the notes again. Meanwhile it may have been driven lower.")
	}
	for _, x := range [...]struct {
		key, what string
		is        *record.Recorded[inflation.Pressure]
	}{{"last_set", againLastSet, &st.LastSet}, {"lowest", againLowest, &st.LowestDriven}, {"before_air", againBeforeAir, &st.BeforeAir}} {
		p, ok := x.is.Get()
		set := x.key == "last_set"
		switch {
		case !ok || slices.Contains(st.Sure, x.key):
		case p > mostCold && set: // as read it makes a fall
			a.again(st.Name, x.what, p.String(), "Look at the number and its unit again: psi, kPa or bar. Meanwhile it counts as read.")
		case p > mostCold:
			if x.key == "before_air" && !st.AirAddedBy.Is() {
				st.AirAdded = record.Record(true) // how low it was is then not known
			}
			*x.is = record.Recorded[inflation.Pressure]{}
			a.again(st.Name, x.what, p.String(), tooMuchAdvice)
		case set && p < leastStamped && (st.AxleIndex < 0 || !a.Visit.Axles[st.AxleIndex].Towed):
			*x.is = record.Recorded[inflation.Pressure]{}
			a.again(st.Name, x.what, p.String(), tooLittleAdvice)
		}
	}
}

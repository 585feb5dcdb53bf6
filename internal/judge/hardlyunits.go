package judge

import (
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// One scale shows one unit, and so does one label or one sidewall as it was written
// down: pounds beside kilograms are mostly a slip of the hand (common practice).

// massUnits says which units some loads can only have been written in.
type massUnits struct{ pounds, kilograms bool }

func (u *massUnits) see(m weight.Mass) {
	lb, kg := m%weight.Pound == 0, m%weight.Kilogram == 0
	u.pounds, u.kilograms = u.pounds || lb && !kg, u.kilograms || kg && !lb
}

func (u *massUnits) two() bool { return u.pounds && u.kilograms }

// hardlyScale looks at the units of a scale's readings, and at its division.
func (a *Assessment) hardlyScale() {
	w := &a.Visit.Weighing
	var units massUnits
	division, _ := w.Division.Get()
	if slices.Contains(a.Visit.Sure, "division") {
		division = 0
	}
	units.see(division)
	off := ""
	for i := range w.Readings {
		r := &w.Readings[i]
		if r.Sure || a.doubtful(readingKey(i)) {
			continue
		}
		units.see(r.Load)
		if off == "" && division > 0 && r.Load%division != 0 {
			off = readingName(r) + " " + MassText(r.Load) + ", step " + division.String()
		}
	}
	if units.two() {
		a.doubt.weighing = true
		a.again("weighing", "the scale's readings and its division, in pounds and in kilograms", "", "One scale shows one unit: look at the ticket. Meanwhile the coach may weigh more than was read.")
	}
	if kind, _ := w.Scale.Get(); division > 0 && division < leastDivision && kind != 0 && kind != weight.Pads && off == "" {
		a.doubt.keys = append(a.doubt.keys, ofCoach("division"))
		a.again("weighing", "the scale's division", division.String(), "No scale for vehicles has so small a step: look at the ticket and at the scale. Meanwhile the usual one counts.")
	}
	if off != "" {
		a.doubt.keys = append(a.doubt.keys, ofCoach("division"))
		a.again("weighing", "a scale's reading that is no multiple of its division", off, "Look at the ticket, and at the scale's step. Meanwhile the coarser of this step and the usual one counts.")
	}
}

func readingName(r *record.Reading) string {
	if r.Name == "" && len(r.On) > 0 {
		return r.On[0]
	}
	return r.Name
}

// hardlyRatings looks at the units of the ratings on the label.
func (a *Assessment) hardlyRatings() {
	v := a.Visit
	var units massUnits
	var keys []doubtKey
	see := func(key doubtKey, m record.Recorded[weight.Mass], sure []string) {
		if is, ok := m.Get(); ok && !slices.Contains(sure, key.key) && !a.doubtful(key) {
			units.see(is)
			keys = append(keys, key)
		}
	}
	see(ofCoach("gvwr"), v.Ratings.GVWR, v.Sure)
	see(ofCoach("gcwr"), v.Ratings.GCWR, v.Sure)
	for i := range v.Axles {
		ax := &v.Axles[i]
		see(gawrKey(ax), ax.GAWR, ax.Sure)
	}
	if units.two() {
		a.doubt.keys, a.doubt.most = append(a.doubt.keys, keys...), keys
		a.again("coach", againRatings, "", "Look at the number and its unit again. Meanwhile each counts as no more than was read.")
	}
}

// hardlyLarge looks at ratings that do not fit each other, as with a figure too many: an
// axle is rated for no more than its coach, nor a coach for half as much again as all its
// axles. They count as no more than was read.
func (a *Assessment) hardlyLarge() {
	v := a.Visit
	gvwr, ok := v.Ratings.GVWR.Get()
	if !ok || a.doubtful(ofCoach("gvwr")) {
		return
	}
	sum, all := a.axleRatings()
	for i := range v.Axles {
		ax := &v.Axles[i]
		if gawr, ok := ax.GAWR.Get(); ok && !ax.Towed && gawr > gvwr && a.doubted(gawrKey(ax), ax.Sure) {
			a.doubt.most = append(a.doubt.most, gawrKey(ax))
			a.again(ax.ID, againRating("gawr"), MassText(gawr)+", GVWR "+MassText(gvwr), tooLargeAdvice)
		}
	}
	if all && gvwr/endsApartNum > sum/endsApartDen && a.doubted(ofCoach("gvwr"), v.Sure) {
		a.doubt.most = append(a.doubt.most, ofCoach("gvwr"))
		a.again("coach", againRating("gvwr"), MassText(gvwr)+", all axles "+MassText(sum), tooLargeAdvice)
	}
}

// hardlyTwice looks at the GVWR where the ratings label and the cargo label were both read
// and differ, by more than the rounding of one in pounds and one in kilograms. The lower
// counts.
func (a *Assessment) hardlyTwice() {
	if labeled, ok := a.Visit.Trip.Label.GVWR.Get(); ok && thousandsDot(labeled) && !slices.Contains(a.Visit.Sure, "gvwr") {
		a.again("coach", againRating("gvwr"), MassText(labeled)+" on the cargo label", thousandsAdvice(labeled))
		return
	}
	lower, differ := a.lowerGVWR()
	if !differ || a.doubtful(ofCoach("gvwr")) || !a.doubted(ofCoach("gvwr"), a.Visit.Sure) {
		return
	}
	a.doubt.most = append(a.doubt.most, ofCoach("gvwr"))
	higher, _ := a.Visit.Ratings.GVWR.Get()
	if higher == lower {
		higher, _ = a.Visit.Trip.Label.GVWR.Get()
	}
	a.again("coach", againRating("gvwr"), MassText(higher)+" on one label, "+MassText(lower)+" on the other",
		"Look at the ratings label and the cargo label again. Meanwhile it counts as no more than the lower.")
}

// lowerGVWR is the lower GVWR of two labels that differ.
func (a *Assessment) lowerGVWR() (lower weight.Mass, differ bool) {
	rated, labeled, both := record.Both(a.Visit.Ratings.GVWR, a.Visit.Trip.Label.GVWR)
	return min(rated, labeled), both && AbsDiff(rated, labeled) > weight.Kilogram && !thousandsDot(labeled)
}

const tooLargeAdvice = "Look at both on the ratings label again. Meanwhile it counts as no more than was read."

// hardlyTrip looks at what is put aboard for a trip, and at the least on the steer
// axle: figures that look like thousands set off by a dot. They count as read.
func (a *Assessment) hardlyTrip() {
	t := &a.Visit.Trip
	ask := func(name string, m weight.Mass) {
		advice := "Write thousands without a dot. Meanwhile it counts as read."
		if whole, err := m.MulDiv(1000, 1, weight.Floor); err == nil {
			advice = "Write thousands without a dot: was " + MassText(whole) + " meant, or " + m.String() + "? Meanwhile it counts as read."
		}
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: "trip", What: againTrip + name, Found: MassText(m),
			Advice: advice, Sources: []origin.Source{{Grade: origin.CommonPractice}}})
	}
	fine := func(m weight.Mass) bool { return m > 0 && m < smallItem && m%tenthPound != 0 && m%tenthKilogram != 0 }
	if least, ok := t.LeastOnSteer.Get(); ok && thousandsDot(least) {
		ask("the least on the steer axle", least)
	}
	for _, it := range t.Items {
		if fine(it.Mass) {
			ask(it.Name, it.Mass)
		}
	}
	for _, c := range t.Changes {
		for _, m := range [...]record.Recorded[weight.Mass]{c.Add, c.TakeOff} {
			if m, ok := m.Get(); ok && fine(m) {
				ask(c.Name, m)
			}
		}
	}
}

// Nobody weighs what is put aboard more finely.
const (
	tenthPound    = weight.Pound / 10
	tenthKilogram = weight.Kilogram / 10
)

func gawrKey(ax *record.Axle) doubtKey { return doubtKey{place: ax.ID, key: "gawr"} }

func placardKey(axle string) doubtKey { return doubtKey{place: axle, key: "placard"} }

// leastDivision is the least step of a vehicle scale of class III L (NIST Handbook 44,
// 2.20, table 3, from memory).
const leastDivision = 2 * weight.Kilogram

// A stampOf is what is stamped on a tire or its wheel, by its key.
type stampOf struct {
	key string
	is  *record.Recorded[record.Stamp]
}

func (st *TireState) stamped() [3]stampOf {
	return [...]stampOf{{"single", &st.Single}, {"dual", &st.Dual}, {"wheel", &st.Wheel}}
}

// lowestStamp is the lowest pressure that any of them states, 0 where none was read.
func (st *TireState) lowestStamp() inflation.Pressure {
	low := inflation.Pressure(0)
	for _, s := range st.stamped() {
		if x, ok := s.is.Get(); ok && x.At > 0 && (low == 0 || x.At < low) {
			low = x.At
		}
	}
	return low
}

// hardlyStamps looks at what is stamped on a tire and its wheel before anything
// rests on it: more pressure than any tire of a coach is set to, or a load with a dot
// for thousands, counts as not read. A stamp whose pressure does has one of 0.
func (a *Assessment) hardlyStamps(st *TireState) {
	var units massUnits
	for _, s := range st.stamped() {
		x, ok := s.is.Get()
		if !ok || slices.Contains(st.Sure, s.key) {
			continue
		}
		pressure := func() string { return "the pressure stamped with its load (" + s.key + ")" }
		switch {
		case x.At > mostCold:
			a.again(st.Name, pressure(), x.At.String(), tooMuchAdvice)
			*s.is = record.Record(record.Stamp{Load: x.Load}) // its load stays: what is over that stays over
		case thousandsDot(x.Load):
			a.again(st.Name, againStamped+s.key+")", MassText(x.Load), thousandsAdvice(x.Load))
			*s.is = record.Recorded[record.Stamp]{}
			continue
		case x.At < leastStamped && st.AxleIndex >= 0 && !a.Visit.Axles[st.AxleIndex].Towed:
			a.again(st.Name, pressure(), x.At.String(), unitAdvice)
		}
		units.see(x.Load)
	}
	if units.two() {
		a.again(st.Name, againStamps, "", "Look at the number and its unit again. Meanwhile they count as read.")
	}
}

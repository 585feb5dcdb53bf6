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

// Values that can hardly be are asked about, and meanwhile count at whichever is
// more careful, as read or as not read. The limits are common practice.
const (
	mostTread     = 32 * record.ThirtySecond
	mostCold      = 150 * inflation.PSI
	leastStamped  = 30 * inflation.PSI
	mostHot       = 190 * inflation.PSI
	mostGaugeOff  = 5 * inflation.PSI
	mostDamage    = weight.Inch
	coldestAirF   = -60
	warmestAirF   = 130
	overStampNum  = 5 // 1.25 times the sidewall's
	overStampDen  = 4
	leastAxleLoad = 100 * weight.Pound
	wholeLoad     = 1000 * weight.Pound
	smallItem     = 10 * weight.Pound
	endsApartNum  = 3 // the ends of an axle, 3 to 2
	endsApartDen  = 2
)

// A doubtKey names a value of the visit: of the coach where it names no place.
type doubtKey struct {
	place, key string
	reading    int // which of the scale's readings, counted from 1
}

// doubts are the values of a visit that can hardly be, by their keys: they count as
// not read.
type doubts struct {
	keys     []doubtKey
	most     []doubtKey // ratings of these keys that are at most what was read
	weighing bool       // the coach may weigh more than was read
}

// tireDoubts are those of a tire that count as not read.
type tireDoubts struct{ Tread, Found bool }

// doubtful reports whether a value of the visit can hardly be.
func (a *Assessment) doubtful(key doubtKey) bool { return slices.Contains(a.doubt.keys, key) }

func ofCoach(key string) doubtKey { return doubtKey{key: key} }

func readingKey(i int) doubtKey { return doubtKey{reading: i + 1} }

// again asks to read a value once more.
func (a *Assessment) again(where, what, found, advice string) {
	a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: where, What: ReadAgain + what, Found: found,
		Advice: advice + " If it is right, say so under sure.", Sources: []origin.Source{{Grade: origin.CommonPractice}}})
}

// hardly looks at the visit's own values and at what was weighed.
func (a *Assessment) hardly() {
	a.hardlyAir()
	a.hardlyGauge()
	a.hardlyLabel()
	for i := range a.Visit.Weighing.Readings {
		r := &a.Visit.Weighing.Readings[i]
		if thousandsDot(r.Load) && !r.Sure {
			a.doubt.keys = append(a.doubt.keys, readingKey(i))
			a.again("weighing", "the scale's reading of "+readingName(r), MassText(r.Load), thousandsAdvice(r.Load))
		}
	}
	a.hardlyRatings()
	a.hardlyLarge()
	a.hardlyTwice()
	a.hardlyTrip()
	a.hardlyScale()
	a.hardlyDays()
	a.hardlyTowed()
}

// doubted notes that a value can hardly be, unless it is said to be sure.
func (a *Assessment) doubted(key doubtKey, sure []string) bool {
	if slices.Contains(sure, key.key) {
		return false
	}
	a.doubt.keys = append(a.doubt.keys, key)
	return true
}

// hardlyAir looks at the temperatures of the air.
func (a *Assessment) hardlyAir() {
	v := a.Visit
	const inShade = "Read the thermometer again, in the shade."
	for _, air := range [...]struct {
		key, what, advice string
		is                record.Recorded[inflation.Temperature]
	}{{"air_temperature", againAir, inShade, v.AirTemperature}, {"next_day_air", againNextDayAir, inShade, v.NextDayAir},
		{"last_set_air", againLastSetAir, "Look at what was written down that day, and at its unit.", v.LastSetAir}} {
		if t, ok := air.is.Get(); ok && (t < airAt(coldestAirF) || t > airAt(warmestAirF)) && a.doubted(ofCoach(air.key), v.Sure) {
			a.again("coach", air.what, t.String(), air.advice)
		}
	}
}

// hardlyGauge looks at what the gauge may be off by. One that is off by too much
// counts as read.
func (a *Assessment) hardlyGauge() {
	g, ok := a.Visit.GaugeTolerance.Get()
	if !ok || g > 0 && g <= mostGaugeOff || slices.Contains(a.Visit.Sure, "gauge_tolerance") {
		return
	}
	if g == 0 {
		a.doubt.keys = append(a.doubt.keys, ofCoach("gauge_tolerance"))
	}
	a.again("coach", againGauge, g.String(), "Read what the gauge may be off by: few are exact, and one that is off by more is no gauge to judge by.")
}

// hardlyLabel looks at the ratings and the pressures of the labels.
func (a *Assessment) hardlyLabel() {
	v := a.Visit
	rating := func(key doubtKey, where string, is record.Recorded[weight.Mass], sure []string) {
		if m, ok := is.Get(); ok && thousandsDot(m) && a.doubted(key, sure) {
			a.again(where, againRating(key.key), MassText(m), thousandsAdvice(m))
		}
	}
	rating(ofCoach("gvwr"), "coach", v.Ratings.GVWR, v.Sure)
	rating(ofCoach("gcwr"), "combination", v.Ratings.GCWR, v.Sure)
	for i := range v.Axles {
		ax := &v.Axles[i]
		rating(gawrKey(ax), ax.ID, ax.GAWR, ax.Sure)
	}
	for i := range v.Axles {
		ax := &v.Axles[i]
		at, ok := a.placardPressure(i)
		switch {
		case !ok || slices.Contains(ax.Sure, "placard"):
		case at < leastStamped && !ax.Towed:
			a.doubt.keys = append(a.doubt.keys, placardKey(ax.ID)) // nobody is told to set so little
			a.again(ax.ID, againPlacard, at.String(), tooLittleAdvice)
		case at > mostCold:
			a.doubt.keys = append(a.doubt.keys, placardKey(ax.ID))
			a.again(ax.ID, againPlacard, at.String(), tooMuchAdvice)
		}
	}
}

// unitAdvice is for a pressure that is too low for a tire of a coach.
const unitAdvice = "Look at the number and its unit again: psi, kPa or bar. No tire of a coach is kept at so little. Meanwhile it counts as read, and there is no number to set by it."

// tooLittleAdvice is for such a pressure that nothing is set by.
const tooLittleAdvice = "Look at the number and its unit again: psi, kPa or bar. No tire of a coach is kept at so little. Meanwhile it counts as not read."

// tooMuchAdvice is for one that is more than any tire of a coach is set to.
const tooMuchAdvice = "Look at the number and its unit again: psi, kPa or bar. No tire of a coach is set to so much. Meanwhile it counts as not read."

// MassText is a mass as a sentence has it: "26,000 lb".
func MassText(m weight.Mass) string { return string(commas([]byte(m.String()), 0)) }

// airAt is a temperature in degrees Fahrenheit: a thousand steps each, above
// absolute zero at -459.67 (NIST SP 811).
func airAt(degrees int64) inflation.Temperature {
	return inflation.Temperature(459_670 + 1000*degrees)
}

func upper(name string) string {
	out := []byte(name)
	for i, c := range out {
		if c >= 'a' && c <= 'z' {
			out[i] = c - 'a' + 'A'
		}
	}
	return string(out)
}

// thousandsDot reports whether a load reads like one in which a dot was meant to
// set off thousands: below a thousand pounds with a fraction, or less than any axle
// carries.
func thousandsDot(m weight.Mass) bool {
	return m > 0 && (m < leastAxleLoad || m < wholeLoad && m%weight.Pound != 0 && m%weight.Kilogram != 0)
}

func thousandsAdvice(m weight.Mass) string {
	if whole, err := m.MulDiv(1000, 1, weight.Floor); err == nil {
		return "Write thousands without a dot: was " + whole.String() + " meant, or " + m.String() + "? Meanwhile it counts as not read."
	}
	return "Write thousands without a dot. Meanwhile it counts as not read."
}

// hardlyTire looks at what was read on one tire.
func (a *Assessment) hardlyTire(st *TireState) {
	sure := func(key string) bool { return slices.Contains(st.Sure, key) }
	if t, ok := st.Tread.Get(); ok && !sure("tread") && slices.ContainsFunc(slices.Concat(t.Anywhere, t.Inner, t.Center, t.Outer), func(d weight.Length) bool { return d >= mostTread }) {
		st.doubts.Tread = true
		a.again(st.Name, needTread, "", "No tire has that much tread: write thirty-seconds as 9/32 in.")
	}
	if !sure("found") {
		a.hardlyFound(st)
	}
	a.hardlyShare(st)
	for _, d := range [...]struct {
		key, what string
		is        record.Recorded[weight.Length]
	}{{"crack_depth", needCracks, st.CrackDepth}, {"cut_depth", againCut, st.CutDepth}, {"injury_width", againHole, st.InjuryWidth}} {
		if n, ok := d.is.Get(); ok && n > mostDamage && !sure(d.key) {
			a.again(st.Name, d.what, n.String(), "Measure it again. Meanwhile it counts as read.")
		}
	}
}

// hardlyShare looks at the loads stamped on a tire and its wheel beside the rating of
// their axle, which two or four of them share.
func (a *Assessment) hardlyShare(st *TireState) {
	if st.AxleIndex < 0 {
		return
	}
	ax := &a.Visit.Axles[st.AxleIndex]
	gawr, ok := ax.GAWR.Get()
	if !ok || a.doubtful(gawrKey(ax)) {
		return
	}
	const advice = "Read it and the ratings label again. Meanwhile it counts as read."
	share := st.Fitted.Single.Load
	if ax.Fitment == weight.Dual {
		share = st.Fitted.Dual.Load
	}
	if share > gawr && !slices.Contains(st.Sure, "single") && !slices.Contains(st.Sure, "dual") {
		a.again(st.Name, againShare, MassText(share), advice)
	}
	if s, ok := st.Wheel.Get(); ok && s.Load/2 > gawr && !slices.Contains(st.Sure, "wheel") {
		a.again(st.Name, againWheel, MassText(s.Load), advice)
	}
}

// hardlyFound looks at the pressure that a tire was read at.
func (a *Assessment) hardlyFound(st *TireState) {
	if at, _ := st.ReadAt.Get(); at == record.NotReached && st.Found.Is() {
		st.Usable, st.doubts.Found = st.Found, true
		p, _ := st.Found.Get()
		a.again(st.Name, againPressure, p.String(), "It was written down that nobody could reach its valve: read it there. Meanwhile it may have less.")
		return
	}
	p, ok := st.Usable.Get()
	if !ok {
		return
	}
	hot, most := record.Yes(st.Warm), mostCold
	if hot {
		most = mostHot
	}
	stamp := max(st.Fitted.Single.Pressure, st.Fitted.Dual.Pressure)
	over, err := stamp.MulDiv(overStampNum, overStampDen, weight.Floor)
	if p > most || !hot && stamp > 0 && err == nil && p > over {
		st.doubts.Found = true
		a.again(st.Name, againPressure, p.String(), "Read it again with another gauge: no tire of a coach is kept at that.")
	}
}

// hardlyLoads looks at what the ends of the axles were found to carry.
func (a *Assessment) hardlyLoads() {
	v := a.Visit
	for i := range v.Axles {
		ax := &v.Axles[i]
		raised := slices.Contains(v.Weighing.Raised, ax.ID)
		left, right := a.endLoad(i, weight.Left), a.endLoad(i, weight.Right)
		for k, e := range [...]weight.Estimate{left, right} {
			name := a.Layout.EndNames[i][k]
			switch {
			case raised && weighed(e) && e.Load > max(e.PlusMinus, leastAxleLoad):
				a.again(name, againRaised, MassText(e.Load), "A raised axle carries nothing: look at the slip, and whether it was raised.")
			case !e.Known() || raised:
			case e.Load <= 0:
				a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: name, What: endOfNothing,
					Found: e.Load.String() + " +/- " + e.PlusMinus.String(), Advice: "Check the slip and what stood on the plate, and weigh again. Say so if the axle was raised.",
					Sources: []origin.Source{{Grade: origin.Computed}}})
			case e.Load < e.PlusMinus:
				a.again(name, againSmall, e.Load.String()+" +/- "+e.PlusMinus.String(), "Weigh it again by itself.")
			}
		}
		low, high := min(left.Load, right.Load), max(left.Load, right.Load)
		if left.Known() && right.Known() && !raised && low > 0 && high/endsApartNum > low/endsApartDen && !slices.Contains(ax.Sure, "load") {
			a.doubt.weighing = true
			a.again(ax.ID, againEnds, MassText(low)+" and "+MassText(high), "Check which end stood on the plate, and weigh again. Meanwhile each may carry more than was read.")
		}
	}
	a.hardlyLight()
}

// hardlyLight looks at a coach that weighs less than half of what it is rated for,
// which none does: kilograms taken for pounds do.
func (a *Assessment) hardlyLight() {
	v := a.Visit
	whole := a.Solution.Of(a.Layout.Coach)
	if !whole.Known() || whole.Load <= 0 || slices.Contains(v.Sure, "readings") {
		return
	}
	what, rating := "GVWR", weight.Mass(0)
	if m, ok := v.Ratings.GVWR.Get(); ok && !a.doubtful(ofCoach("gvwr")) {
		rating = m
	}
	if sum, ok := a.axleRatings(); ok && sum > rating {
		what, rating = "GAWR of all axles", sum
	}
	if whole.AtMost() < rating/2 {
		a.doubt.weighing = true
		a.again("weighing", againLight, MassText(whole.Load)+", "+what+" "+MassText(rating), "Look at the ticket, and at its unit: pounds or kilograms. Meanwhile the coach may weigh more than was read.")
	}
}

// axleRatings is the sum of the coach's axle ratings, where each was read and is in
// no doubt.
func (a *Assessment) axleRatings() (sum weight.Mass, ok bool) {
	for i := range a.Visit.Axles {
		ax := &a.Visit.Axles[i]
		if ax.Towed {
			continue
		}
		gawr, read := ax.GAWR.Get()
		if !read || a.doubtful(gawrKey(ax)) {
			return 0, false
		}
		var err error
		if sum, err = weight.Sum(sum, gawr); err != nil {
			return 0, false
		}
	}
	return sum, sum > 0
}

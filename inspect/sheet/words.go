package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// units puts quantities into the words of a page, in the system that the
// record was written in, and pressures in the unit that it asks for.
type units struct {
	system   weight.System
	pressure string
}

// temperature shows an air temperature to the whole degree.
func (p units) temperature(v inflation.Temperature) string {
	unit := " F"
	if p.system == weight.Metric {
		unit = " C"
	}
	return string(v.AppendIn(nil, p.system, 0, weight.Nearest)) + unit
}

// mass shows a load to the whole pound or kilogram.
func (p units) mass(m weight.Mass, r weight.Rounding) string {
	unit, name := weight.Pound, " lb"
	if p.system == weight.Metric {
		unit, name = weight.Kilogram, " kg"
	}
	return group(string(m.AppendIn(nil, unit, 0, r))) + name
}

// group puts thousands commas into a whole number.
func group(digits string) string {
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "-", digits[1:]
	}
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

// psi shows a pressure to 0.1 psi, whole kPa or 0.01 bar, without needless zeros.
func (p units) psi(v inflation.Pressure, r weight.Rounding) string {
	return record.PressureText(v, p.pressure, p.system, r)
}

func (p units) estimate(e weight.Estimate) string {
	if !e.Known() {
		return sayNotKnown
	}
	out := p.mass(e.Load, weight.Nearest)
	if e.PlusMinus > 0 {
		out += " +/- " + bare(p.mass(e.PlusMinus, weight.Ceiling))
	}
	switch e.State {
	case weight.Assumed:
		out = fmt.Sprintf(sayAssumed, out)
	case weight.Disputed:
		out = fmt.Sprintf(sayDisputed, out)
	}
	return out
}

// bare takes the unit off where it stands in the same line already.
func bare(text string) string { return text[:strings.LastIndexByte(text, ' ')] }

// heavierGoverns reports whether a setting is for one tire of a dual pair that was
// weighed to carry more than half of its end.
func heavierGoverns(s *inflation.Setting) bool {
	for _, end := range [...]struct {
		side weight.Side
		load *inflation.Load
	}{{weight.Left, &s.Left.Load}, {weight.Right, &s.Right.Load}} {
		l := end.load
		if s.Governing != 0 && s.Governing != end.side || s.Fitment != weight.Dual {
			continue
		}
		if 2*(l.HeavierTire+l.HeavierPlusMinus) > l.Load+l.PlusMinus {
			return true
		}
	}
	return false
}

// margin says how far a load is from a rating, its plus/minus counted against it.
func (p units) margin(g *report.RatingLine) string {
	switch {
	case g.Verdict == rules.Breached:
		return fmt.Sprintf(sayOverBy, p.mass(-g.Room, weight.Ceiling))
	case g.Room < 0:
		return fmt.Sprintf(sayMayBeOverBy, p.mass(-g.Room, weight.Ceiling))
	}
	return fmt.Sprintf(sayRoomOf, p.mass(g.Room, weight.Floor))
}

// depth shows a tread depth in thirty-seconds where it is whole ones, else in
// millimeters or its canonical text.
func (p units) depth(d weight.Length) string {
	if p.system == weight.Metric {
		return strings.TrimSuffix(string(d.AppendIn(nil, weight.Millimeter, 1, weight.Floor)), ".0") + " mm"
	}
	if d%record.ThirtySecond == 0 {
		return fmt.Sprintf("%d/32 in", d/record.ThirtySecond)
	}
	return d.String()
}

// settingLines says what a setting rests on and what it leaves, a line each.
func (p units) settingLines(s *inflation.Setting) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if s.Minimum > 0 {
		out = append(out, p.needLine(s))
		if s.Why == inflation.WhyPlacard && s.Set < s.Minimum {
			say(sayPlacardCounts, p.psi(s.Placard, weight.Ceiling))
		}
		if s.PlusMinusMatters() {
			say(sayIfExact, p.psi(s.PlainMinimum, weight.Ceiling))
		}
	}
	if s.Placard > 0 {
		say(sayPlacard, p.psi(s.Placard, weight.Ceiling))
	}
	for _, end := range []struct {
		side string
		room *inflation.EndRoom
	}{{weight.Left.String(), &s.Left}, {weight.Right.String(), &s.Right}} {
		switch e := end.room; {
		case e.State == 0 || !e.Known:
		case e.Room < 0:
			say(sayNoRoom, end.side, p.mass(-e.Room, weight.Ceiling))
		default:
			say(sayRoom, end.side, p.mass(e.Room, weight.Floor))
		}
	}
	if s.Capped {
		words := sayHeldByTire
		if s.Cap.Part == inflation.WheelPressure {
			words = sayHeldByWheel
		}
		say(words, s.Cap.Name, p.psi(s.Cap.Pressure, weight.Floor))
	}
	out = append(out, p.shortLines(s)...)
	from := s.Grounds.Pressure.String()
	if s.Grounds.Table != "" {
		from = fmt.Sprintf(sayFromTable, from, s.Grounds.Table)
	}
	switch {
	case s.LookUp.Estimated && s.Why == inflation.WhyPlacard:
		from = fmt.Sprintf(sayBesideEstimate, from)
	case s.LookUp.Estimated:
		from = fmt.Sprintf(sayFromEstimate, from)
	}
	if s.HeaviestGoverns {
		say(sayFromTrip, from, s.Grounds.Load)
	} else {
		say(sayFromBy, from, s.Grounds.Load)
	}
	if s.Grounds.Source.Grade != 0 {
		say(saySource, s.Grounds.Source)
	}
	return out
}

// needLine says what the load asks for at least.
func (p units) needLine(s *inflation.Setting) string {
	least, load := p.psi(s.Minimum, weight.Ceiling), p.mass(s.TireLoad, weight.Ceiling)
	switch heavier := heavierGoverns(s); {
	case s.Grounds.Load == inflation.AxleShare:
		return fmt.Sprintf(sayNeedAssumed, least, inflation.HeavierEndPercent, load)
	case s.Governing != 0 && heavier:
		return fmt.Sprintf(sayNeedHeavier, least, s.Governing, load)
	case s.Governing != 0:
		return fmt.Sprintf(sayNeedEnd, least, s.Governing, load)
	case heavier:
		return fmt.Sprintf(sayNeedBothHeavy, least, load)
	}
	return fmt.Sprintf(sayNeedBoth, least, load)
}

// shortSide names the end that falls short.
func shortSide(f *inflation.Shortfall) string {
	if f.Side == 0 { // only the axle was weighed
		return sayTheHeavier
	}
	return f.Side.String()
}

// pressureLine says what was found in a tire, and what that means where it is not
// plainly good.
func (p units) pressureLine(t *report.TireLine) string {
	found, ok := t.Found.Get()
	if !ok {
		if t.Unjudged != "" {
			return fmt.Sprintf(sayNotTakenFor, t.Unjudged)
		}
		return sayNotTaken
	}
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if t.Hot {
		say(sayFoundHot, p.psi(found, weight.Floor))
	} else {
		say(sayFound, p.psi(found, weight.Floor))
	}
	if low, ok := t.LowestDriven.Get(); ok {
		say(sayLowest, p.psi(low, weight.Floor))
	}
	switch t.Low {
	case report.Flat:
		out = append(out, p.flatWords(t))
	case report.Leaking:
		say(sayLowLeaking)
	case report.LowAsked:
		say(sayLowAsked)
	case report.LowUnknown:
		if t.Unjudged != "" {
			say(sayLowUnknownFor, t.Unjudged)
		} else {
			say(sayLowUnknown)
		}
	}
	if left, ok := t.LeftAt.Get(); ok {
		say(sayLeft, p.psi(left, weight.Floor))
	}
	return strings.Join(out, ", ")
}

// flatWords says by what a tire is flat, and that the gauge decides it where it does.
func (p units) flatWords(t *report.TireLine) string {
	flat, ok1 := t.FlatAt.Get()
	by, ok2 := t.Reference.Get()
	if !ok1 || !ok2 {
		return sayFlatBare
	}
	words := sayFlat
	if low, _ := t.LowestDriven.Or(t.Found).Get(); low > flat {
		words = sayFlatGauge
	}
	return fmt.Sprintf(words, p.flatOf(flat, by, t.ReferenceFrom))
}

// flatOf says which part flat is of the reference: one of those at which the packs
// count a tire as flat, a towed car's at half. Where it is none of them another
// pressure than the reference decided, and the reference is left out.
func (p units) flatOf(flat, by inflation.Pressure, from string) string {
	at := p.psi(flat, weight.Ceiling)
	parts := map[string]string{"for its load": sayFlatOfNeed, "last set": sayFlatOfLastSet, "placard": sayFlatOfPlacard, "kept ready at": sayFlatOfReady}
	if by > 0 && parts[from] != "" {
		for _, n := range [...]int64{80, 50} {
			if part, err := by.MulDiv(n, 100, weight.Ceiling); err == nil && p.psi(part, weight.Ceiling) == at {
				return fmt.Sprintf(parts[from], at, n, p.psi(by, weight.Nearest))
			}
		}
	}
	return fmt.Sprintf(sayFlatAt, at)
}

// dateLine says how old a tire is: for three digits first that it is older
// than mid-2000, and always by the oldest day that its code allows.
func dateLine(t *report.TireLine) string {
	if t.Number == "" {
		return sayNoDateCode
	}
	number := numberWords(t)
	oldest, ok := t.Age.AtMost()
	if !ok {
		return fmt.Sprintf(sayCodeUnknown, number)
	}
	youngest, _ := t.Age.AtLeast()
	if !t.MadeBefore.IsZero() && len(t.Made) > 0 {
		years := make([]string, len(t.Made))
		for i, c := range t.Made {
			years[i] = fmt.Sprint(c.Year)
		}
		return fmt.Sprintf(sayCodeBefore, number, t.MadeBefore, t.Made[0].Week, strings.Join(years, ", "), youngest.Years, oldest.Years)
	}
	out := fmt.Sprintf(sayCodeMany, number, len(t.Made), oldest)
	if len(t.Made) == 1 {
		out = fmt.Sprintf(sayCodeOne, number, t.Made[0].First, oldest)
	}
	turns := out
	if l, day := nextAge(t); l != nil {
		turns = fmt.Sprintf(sayTurns, out, l.Age, day)
	} else if n := len(t.AgeLimits); n > 0 {
		turns = fmt.Sprintf(sayPastAge, out, t.AgeLimits[n-1].Age)
	}
	if t.Casing != "" {
		return fmt.Sprintf(sayCasing, turns)
	}
	return turns
}

// numberWords is a tire's number, with a word where it can be no whole one or has
// more symbols than any (49 CFR 574.5: 13), and what the other sidewall has.
func numberWords(t *report.TireLine) string {
	out := t.Number
	switch {
	case t.WholeNumber:
	case symbols(t.Number) > 13:
		out = fmt.Sprintf(sayTooLong, out)
	default:
		out = fmt.Sprintf(sayPartOfNumber, out)
	}
	if t.OtherNumber != "" {
		out = fmt.Sprintf(sayOtherSidewall, out, t.OtherNumber)
	}
	return out
}

// symbols counts the letters and digits of a number.
func symbols(number string) int {
	n := 0
	for _, c := range number {
		if c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			n++
		}
	}
	return n
}

// odometerWords shows an odometer as it was written, with its thousands.
func odometerWords(l weight.Length) string {
	number, unit, _ := strings.Cut(l.String(), " ")
	whole, part, _ := strings.Cut(number, ".")
	if out := group(whole); part != "" {
		return out + "." + part + " " + unit
	}
	return group(whole) + " " + unit
}

// treadLines says what was probed at the shoulders and the center.
func (p units) treadLines(t *report.TireLine) string {
	at, _ := t.TreadAt.Get()
	var parts []string
	for _, l := range []struct {
		name   string
		depths []weight.Length
	}{{"%s", at.Anywhere}, {sayTreadInner, at.Inner}, {sayTreadCenter, at.Center}, {sayTreadOuter, at.Outer}} {
		if l.name == "%s" && len(l.depths) < 2 || len(l.depths) == 0 {
			continue
		}
		words := make([]string, len(l.depths))
		for i, d := range l.depths {
			words[i] = bare(p.depth(d))
		}
		parts = append(parts, fmt.Sprintf(l.name, strings.Join(words, ", ")))
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

// measured says which sidewalls were looked at, if not both, and how deep and
// wide what was found there is.
func (p units) measured(t *report.TireLine) []string {
	var out []string
	if s, ok := t.Sidewalls.Get(); ok && s != record.BothSidewalls {
		out = append(out, fmt.Sprintf(saySidewalls, s))
	}
	for _, m := range []struct {
		words string
		depth record.Recorded[weight.Length]
	}{{sayDeepestCrack, t.CrackDepth}, {sayDeepestCut, t.CutDepth}, {sayHoleWidth, t.InjuryWidth}} {
		if d, ok := m.depth.Get(); ok {
			out = append(out, fmt.Sprintf(m.words, p.depth(d)))
		}
	}
	if at, ok := t.InjuryAt.Get(); ok {
		out = append(out, fmt.Sprintf(sayHoleIn, at))
	}
	return out
}

// pairLines says how a dual pair's pressures and treads compare, what one of the
// two carries alone, as far as that is known, and which belongs inside and why.
func (p units) pairLines(d *report.PairLine) []string {
	var out, parts []string
	say := func(words string, args ...any) { parts = append(parts, fmt.Sprintf(words, args...)) }
	line := func(between string) {
		if len(parts) > 0 {
			out = append(out, fmt.Sprintf(sayPair, d.Name, strings.Join(parts, between)))
		}
		parts = parts[:0]
	}
	if v, ok := d.FoundDifference.Get(); ok && v > 0 {
		say(sayPairFound, p.psi(v, weight.Ceiling))
	}
	if v, ok := d.LeftAtDifference.Get(); ok && v > 0 {
		say(sayPairLeft, p.psi(v, weight.Ceiling))
	}
	line(", ")
	if d.AloneLoad > 0 {
		say(sayPairAlone, p.mass(d.AloneLoad, weight.Ceiling), p.mass(d.AloneRating, weight.Floor), d.AlonePercent)
	}
	line("")
	if diff, ok := d.TreadDifference.Get(); ok {
		switch inside, _ := d.DeeperInside.Get(); {
		case diff == 0:
			say(sayPairAlike)
		case d.Inside != "":
			say(sayPairTread, p.depth(diff))
		case inside:
			say(sayPairDeeper, p.depth(diff))
		default:
			say(sayPairShallower, p.depth(diff))
		}
	}
	switch {
	case strings.HasSuffix(d.Inside, "-"+record.Outer.String()):
		say(sayPairSwap, d.InsideBy)
	case d.Inside != "":
		say(sayPairStay, d.InsideBy)
	case d.InsideBy != "":
		say(sayPairWhich, d.InsideBy)
	}
	line("; ")
	return out
}

// speedLines says which speed the tires' symbols allow at most, rounded down,
// and on which tires none was read.
func (p units) speedLines(s *report.SpeedLine) []string {
	var out []string
	if s.Symbol != 0 {
		unit, words := inflation.MilePerHour, saySlowest
		if p.system == weight.Metric {
			unit, words = inflation.KilometerPerHour, saySlowestMetric
		}
		out = append(out, fmt.Sprintf(words, s.Symbol, s.Speed.AppendIn(nil, unit, 0, weight.Floor), strings.Join(s.At, ", ")))
	}
	if len(s.NotRead) > 0 {
		out = append(out, fmt.Sprintf(saySpeedNotRead, strings.Join(s.NotRead, ", ")))
	}
	return out
}

// gaugeWords says which gauge was used and how far it may be off, "" where
// neither is known.
func (p units) gaugeWords(r *report.Report) string {
	gauge := r.Gauge
	if v, ok := r.GaugeTolerance.Get(); ok {
		gauge = strings.TrimLeft(gauge+" +/- "+p.psi(v, weight.Ceiling), " ")
	}
	return gauge
}

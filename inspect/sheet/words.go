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
// record was written in.
type units struct{ system weight.System }

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

// psi shows a pressure to 0.1 psi, or whole kPa, without needless zeros.
func (p units) psi(v inflation.Pressure, r weight.Rounding) string {
	if p.system == weight.Metric {
		return string(v.AppendIn(nil, inflation.Kilopascal, 0, r)) + " kPa"
	}
	return strings.TrimSuffix(string(v.AppendIn(nil, inflation.PSI, 1, r)), ".0") + " psi"
}

func (p units) estimate(e weight.Estimate) string {
	if !e.Known() {
		return "not known"
	}
	out := p.mass(e.Load, weight.Nearest)
	if e.PlusMinus > 0 {
		out += " +/- " + bare(p.mass(e.PlusMinus, weight.Ceiling))
	}
	switch e.State {
	case weight.Assumed:
		out += " ASSUMED"
	case weight.Disputed:
		out += " DISPUTED"
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
		return "over by up to " + p.mass(-g.Room, weight.Ceiling)
	case g.Room < 0:
		return "may be over by " + p.mass(-g.Room, weight.Ceiling)
	}
	return "room " + p.mass(g.Room, weight.Floor)
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
		end := "both ends alike"
		if s.Governing != 0 {
			end = "the " + s.Governing.String() + " end governs"
		}
		if s.Grounds.Load == inflation.AxleShare {
			end = fmt.Sprintf("%d %% of the axle assumed on one end", inflation.HeavierEndPercent)
		}
		note := ""
		if s.PlusMinusMatters() {
			note = fmt.Sprintf(" (%s if the scale were exact)", p.psi(s.PlainMinimum, weight.Ceiling))
		}
		on := "each tire"
		if heavierGoverns(s) {
			on = "the heavier tire"
		}
		say("minimum for this load %s%s; %s, %s on %s", p.psi(s.Minimum, weight.Ceiling), note, end, p.mass(s.TireLoad, weight.Ceiling), on)
	}
	if s.Placard > 0 {
		say("placard %s", p.psi(s.Placard, weight.Ceiling))
	}
	p.room("left", &s.Left, s, say)
	p.room("right", &s.Right, s, say)
	if s.Capped {
		say("held down by the %s of %s: %s", s.Cap.Part, s.Cap.Name, p.psi(s.Cap.Pressure, weight.Floor))
	}
	for _, f := range s.Short {
		say("%s end: over the %s by %s", shortSide(&f), f.Limit.Part, p.mass(f.Over, weight.Ceiling))
	}
	from := s.Grounds.Pressure.String()
	if s.Grounds.Table != "" {
		from += " " + s.Grounds.Table
	}
	if s.Answer.Estimated {
		from += " (AN ESTIMATE, no table seen)"
	}
	load := s.Grounds.Load.String()
	if s.HeaviestGoverns {
		load += ", with the changes for the trip"
	}
	say("from: %s; load: %s", from, load)
	if s.Grounds.Source.Grade != 0 {
		say("source: %s", s.Grounds.Source)
	}
	return out
}

// shortSide names the end that falls short.
func shortSide(f *inflation.Shortfall) string {
	if f.Side == 0 { // only the axle was weighed
		return "the heavier"
	}
	return f.Side.String()
}

// room says what an end has left at the set pressure and to its lowest rating.
func (p units) room(side string, e *inflation.EndRoom, s *inflation.Setting, say func(string, ...any)) {
	if e.State == 0 {
		return
	}
	out := ""
	if e.Known {
		out = fmt.Sprintf("room %s at this pressure", p.mass(e.Room, weight.Floor))
		if e.Room < 0 {
			out = fmt.Sprintf("%s MORE than it carries at this pressure", p.mass(-e.Room, weight.Ceiling))
		}
	}
	if s.Lowest.Load > 0 {
		if out != "" {
			out += ", "
		}
		name := s.Lowest.Name
		if name == "" {
			name = s.Lowest.Part.String()
		}
		if e.RatingRoom < 0 {
			out += fmt.Sprintf("%s OVER the axle's lowest rating (%s, %s)", p.mass(-e.RatingRoom, weight.Ceiling), name, p.mass(s.Lowest.Load, weight.Floor))
		} else {
			out += fmt.Sprintf("%s to the axle's lowest rating (%s, %s)", p.mass(e.RatingRoom, weight.Floor), name, p.mass(s.Lowest.Load, weight.Floor))
		}
	}
	if out != "" {
		say("%s end: %s", side, out)
	}
}

// pressureLine says what was found in a tire and what it is judged by.
func (p units) pressureLine(t *report.TireLine) string {
	found, ok := t.Found.Get()
	if !ok {
		if t.Unjudged != "" {
			return "PRESSURE NOT TAKEN: " + t.Unjudged
		}
		return "PRESSURE NOT TAKEN"
	}
	out := "found " + p.psi(found, weight.Floor)
	if t.Hot {
		out += " HOT"
	}
	if low, ok := t.LowestDriven.Get(); ok {
		out += ", lowest " + p.psi(low, weight.Floor)
	}
	if flat, ok := t.FlatAt.Get(); ok {
		out += ", flat at " + p.psi(flat, weight.Ceiling) + " or less"
	}
	if by, ok := t.Reference.Get(); ok && t.RunLow != 0 {
		out += fmt.Sprintf(" (judged by %s, %s)", t.ReferenceFrom, p.psi(by, weight.Nearest))
	}
	switch t.RunLow {
	case rules.Breached:
		out += ": FLAT"
		low, _ := t.LowestDriven.Or(t.Found).Get()
		if flat, ok := t.FlatAt.Get(); ok && low > flat {
			out += ", since the gauge may be off by as much"
		}
	case rules.Kept:
		out += ": not flat"
	case rules.NotRecorded:
		out += ": not judged"
		if t.Unjudged != "" {
			out += ", " + t.Unjudged
		}
	}
	if left, ok := t.LeftAt.Get(); ok {
		out += ", left " + p.psi(left, weight.Floor)
	}
	return out
}

// dateLine says how old a tire is: for three digits first that it is older
// than mid-2000, and always by the oldest day that its code allows.
func dateLine(t *report.TireLine) string {
	if t.Number == "" {
		return "no date code recorded"
	}
	out := "code " + t.Number
	oldest, ok := t.Age.AtMost()
	if !ok {
		return out + ": age NOT KNOWN"
	}
	youngest, _ := t.Age.AtLeast()
	switch {
	case !t.MadeBefore.IsZero() && len(t.Made) > 0:
		years := make([]string, len(t.Made))
		for i, c := range t.Made {
			years[i] = fmt.Sprint(c.Year)
		}
		return fmt.Sprintf("%s: made before %s (week %d of %s), at least %d years old, at most %d", out, t.MadeBefore,
			t.Made[0].Week, strings.Join(years, ", "), youngest.Years, oldest.Years)
	case len(t.Made) == 1:
		out += fmt.Sprintf(": week of %s, %s old", t.Made[0].First, oldest)
	default:
		out += fmt.Sprintf(": %d readings, up to %s old", len(t.Made), oldest)
	}
	casing := ""
	if t.Casing != "" {
		casing = "; of a retread the casing is older"
	}
	for _, years := range []int{5, 10} {
		if day, ok := t.Age.Turns(years); ok && t.Age.On.Before(day) {
			return out + fmt.Sprintf(", turns %d on %s%s", years, day, casing)
		}
	}
	return out + ", past 10 years" + casing
}

const aPart = " (a part)"

// partNote says of a number that can be no whole one that it is a part, or has
// more symbols than any (49 CFR 574.5: 13).
func partNote(number string) string {
	n := 0
	for _, c := range number {
		if c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			n++
		}
	}
	if n > 13 {
		return " (too long: in doubt)"
	}
	return aPart
}

// treadLines says what was probed at the shoulders and the center.
func (p units) treadLines(t *report.TireLine) string {
	at, _ := t.TreadAt.Get()
	var parts []string
	for _, l := range []struct {
		name   string
		depths []weight.Length
	}{{"", at.Anywhere}, {"inner ", at.Inner}, {"center ", at.Center}, {"outer ", at.Outer}} {
		if l.name == "" && len(l.depths) < 2 || len(l.depths) == 0 {
			continue
		}
		words := make([]string, len(l.depths))
		for i, d := range l.depths {
			words[i] = bare(p.depth(d))
		}
		parts = append(parts, l.name+strings.Join(words, ", "))
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
		out = append(out, "sidewalls looked at: "+s.String())
	}
	for _, m := range []struct {
		name  string
		depth record.Recorded[weight.Length]
	}{{"deepest crack", t.CrackDepth}, {"deepest cut", t.CutDepth}, {"width of the hole", t.InjuryWidth}} {
		if d, ok := m.depth.Get(); ok {
			out = append(out, m.name+" "+p.depth(d))
		}
	}
	if at, ok := t.InjuryAt.Get(); ok {
		out = append(out, "hole in the "+at.String())
	}
	return out
}

// pairLines says how a dual pair's pressures and treads compare, what one of the
// two carries alone, as far as that is known, and which belongs inside and why.
func (p units) pairLines(d *report.PairLine) []string {
	var out, parts []string
	if v, ok := d.FoundDifference.Get(); ok && v > 0 {
		parts = append(parts, "found "+p.psi(v, weight.Ceiling)+" apart")
	}
	if v, ok := d.LeftDifference.Get(); ok && v > 0 {
		parts = append(parts, "left "+p.psi(v, weight.Ceiling)+" apart")
	}
	if len(parts) > 0 {
		out = append(out, d.Name+" pair: "+strings.Join(parts, ", "))
	}
	if d.AloneLoad > 0 {
		out = append(out, fmt.Sprintf("%s pair: block both tires or neither. One alone, on a block or beside a flat, carries %s on a rating of %s: %d %%",
			d.Name, p.mass(d.AloneLoad, weight.Ceiling), p.mass(d.AloneRating, weight.Floor), d.AlonePercent))
	}
	parts = parts[:0]
	if diff, ok := d.TreadDifference.Get(); ok {
		switch inside, _ := d.DeeperInside.Get(); {
		case diff == 0:
			parts = append(parts, "alike in tread")
		case d.Inside != "":
			parts = append(parts, p.depth(diff)+" apart in tread")
		case inside:
			parts = append(parts, p.depth(diff)+" apart in tread, the DEEPER one inside")
		default:
			parts = append(parts, p.depth(diff)+" apart in tread, the shallower one inside")
		}
	}
	switch {
	case strings.HasSuffix(d.Inside, "-"+record.Outer.String()):
		parts = append(parts, "the OUTER one belongs inside: "+d.InsideBy)
	case d.Inside != "":
		parts = append(parts, "the inner one belongs there: "+d.InsideBy)
	case d.InsideBy != "":
		parts = append(parts, "which belongs inside: "+d.InsideBy)
	}
	if len(parts) > 0 {
		out = append(out, d.Name+" pair: "+strings.Join(parts, "; "))
	}
	return out
}

// speedLines says which speed the tires' symbols allow at most, rounded down,
// and on which tires none was read.
func (p units) speedLines(s *report.SpeedLine) []string {
	var out []string
	if s.Symbol != 0 {
		unit, name := inflation.MilePerHour, "mph"
		if p.system == weight.Metric {
			unit, name = inflation.KilometerPerHour, "km/h"
		}
		out = append(out, fmt.Sprintf("Slowest: symbol %s, at most %s %s - %s", s.Symbol, s.Speed.AppendIn(nil, unit, 0, weight.Floor), name, strings.Join(s.At, ", ")))
	}
	if len(s.NotRead) > 0 {
		out = append(out, "Speed symbol not read, so their limit is not known: "+strings.Join(s.NotRead, ", "))
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

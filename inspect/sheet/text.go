package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/rules"
	"axleend.example/weight"
)

const width = 80

// ActionWords gives an action of the vocabulary in the words of a page:
// "DO NOT DRIVE", "BEFORE THE TRIP", "PLAN", or, for the empty name, "nothing
// found". An action of somebody's own is shown by its name.
func ActionWords(action string) string {
	if action == "" {
		return "nothing found"
	}
	words := strings.ReplaceAll(action, "_", " ")
	if action == inspect.BeforeTrip {
		words = "before the trip"
	}
	return strings.ToUpper(words)
}

// Text renders the report as plain UTF-8 text, at most 80 columns wide, ending
// in a line end. Its first line says the worst action there is and how much
// was not judged.
func Text(r inspect.Report) string {
	p := &page{r: r}
	p.headline()
	p.loads()
	p.settings()
	p.tires()
	p.todo()
	p.numbers()
	p.unjudged()
	p.cautions()
	return p.b.String()
}

type page struct {
	r inspect.Report
	b strings.Builder
}

// line writes one line; what is too long goes on, indented, on the next.
func (p *page) line(format string, args ...any) {
	p.wrap("", "", fmt.Sprintf(format, args...))
}

// wrap writes text behind a first indent, and further lines behind rest.
func (p *page) wrap(first, rest, text string) {
	indent := first
	for {
		room := width - utf8.RuneCountInString(indent)
		runes := []rune(text)
		if len(runes) <= room {
			p.b.WriteString(strings.TrimRight(indent+text, " "))
			p.b.WriteByte('\n')
			return
		}
		cut := room
		for i := room; i > room/3; i-- {
			if runes[i] == ' ' {
				cut = i
				break
			}
		}
		p.b.WriteString(strings.TrimRight(indent+string(runes[:cut]), " "))
		p.b.WriteByte('\n')
		text = strings.TrimLeft(string(runes[cut:]), " ")
		indent = rest
	}
}

func (p *page) title(text string) {
	p.b.WriteByte('\n')
	p.line("%s", text)
	p.line("%s", strings.Repeat("-", utf8.RuneCountInString(text)))
}

func (p *page) headline() {
	r := p.r
	if r.NotJudged == 0 {
		p.line("%s - nothing left unjudged", ActionWords(r.Worst))
	} else {
		p.line("%s - NOT JUDGED: %d, listed below", ActionWords(r.Worst), r.NotJudged)
	}
	if r.Invented {
		p.line("Invented example: no real coach, tire or table.")
	}
	parts := []string{r.Date.String()}
	if r.Coach != "" {
		parts = append([]string{r.Coach}, parts...)
	}
	if v, ok := r.Odometer.Get(); ok {
		parts = append(parts, "odometer "+v.String())
	}
	if v, ok := r.Stood.Get(); ok {
		parts = append(parts, "stood "+v.String())
	}
	if v, ok := r.AirTemperature.Get(); ok {
		unit := " F"
		if r.System == weight.Metric {
			unit = " C"
		}
		parts = append(parts, "air "+string(v.AppendIn(nil, r.System, 0, weight.Nearest))+unit)
	}
	gauge := r.Gauge
	if v, ok := r.GaugeTolerance.Get(); ok {
		gauge = strings.TrimLeft(gauge+" +/- "+p.psi(v, weight.Ceiling), " ")
	}
	if gauge != "" {
		parts = append(parts, "gauge "+gauge)
	}
	p.line("%s", strings.Join(parts, ", "))
	if r.LoadState != "" {
		p.line("Load: %s", r.LoadState)
	}
}

// mass shows a load to the whole pound or kilogram.
func (p *page) mass(m weight.Mass, r weight.Rounding) string {
	unit, name := weight.Pound, " lb"
	if p.r.System == weight.Metric {
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
func (p *page) psi(v inflation.Pressure, r weight.Rounding) string {
	if p.r.System == weight.Metric {
		return string(v.AppendIn(nil, inflation.Kilopascal, 0, r)) + " kPa"
	}
	return strings.TrimSuffix(string(v.AppendIn(nil, inflation.PSI, 1, r)), ".0") + " psi"
}

// setPressure shows a pressure that people are to set: whole psi or kPa, up.
func (p *page) setPressure(v inflation.Pressure) string {
	if p.r.System == weight.Metric {
		return string(v.AppendIn(nil, inflation.Kilopascal, 0, weight.Ceiling)) + " kPa"
	}
	return string(v.AppendIn(nil, inflation.PSI, 0, weight.Ceiling)) + " psi"
}

func (p *page) estimate(e weight.Estimate) string {
	if !e.Known() {
		return "not known"
	}
	out := p.mass(e.Load, weight.Nearest)
	if e.Doubt() > 0 {
		out += " +/- " + bare(p.mass(e.Doubt(), weight.Ceiling))
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

func verdictWord(v rules.Verdict) string {
	switch v {
	case rules.Kept:
		return "within"
	case rules.Breached:
		return "OVER"
	case rules.TooClose:
		return "TOO CLOSE"
	}
	return "not judged"
}

func (p *page) loads() {
	p.title("Weighed")
	if len(p.r.Readings) == 0 {
		p.line("Not weighed.")
	}
	column := 0
	for _, l := range p.r.Loads {
		column = max(column, len(loadName(l)))
	}
	for _, l := range p.r.Loads {
		if len(p.r.Readings) == 0 {
			break
		}
		head := fmt.Sprintf("%-*s %-20s", column, loadName(l), p.estimate(l.Estimate))
		for _, g := range l.Ratings {
			room := g.Room
			what := "room"
			if g.Verdict == rules.Breached {
				what, room = "over by", l.Estimate.Load-g.Rating
			}
			p.line("%s %-9s %-9s %-9s %s %s", head, verdictWord(g.Verdict), g.Name, p.mass(g.Rating, weight.Floor), what, bare(p.mass(room, weight.Floor)))
			head = strings.Repeat(" ", column+21)
		}
		if len(l.Ratings) == 0 {
			p.line("%s", strings.TrimRight(head, " "))
		}
		for _, s := range l.Settle {
			p.wrap("    to settle it: ", "      ", s)
		}
	}
	for _, rd := range p.r.Readings {
		if rd.Residual != 0 {
			p.wrap("  ", "    ", fmt.Sprintf("reading %q %s +/- %s is %s from what all readings say", rd.Name,
				p.mass(rd.Load, weight.Nearest), p.mass(rd.Tolerance, weight.Ceiling), p.mass(rd.Residual, weight.Nearest)))
		}
	}
}

func loadName(l inspect.LoadLine) string {
	if l.Kind == inspect.AxleLoad {
		return l.Name + " axle"
	}
	return l.Name
}

func (p *page) settings() {
	p.title("Cold pressure to set, one number an axle")
	for _, s := range p.r.Settings {
		switch s.Outcome {
		case inflation.CanSet, inflation.TooClose:
			p.line("%-8s SET %s", s.Name, p.setPressure(s.Set))
		case inflation.Short:
			p.line("%-8s NO PRESSURE CARRIES THIS LOAD", s.Name)
		default:
			p.line("%-8s NOT JUDGED: too little was read", s.Name)
		}
		say := func(format string, args ...any) { p.wrap("    ", "      ", fmt.Sprintf(format, args...)) }
		for _, t := range p.r.Tires {
			if t.NoAir && strings.HasPrefix(t.At, s.Name+"-") {
				say("DO NOT AIR UP %s: see below", t.At)
			}
		}
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
				note = fmt.Sprintf(" (%s if the scale were exact)", p.setPressure(s.PlainMinimum))
			}
			say("minimum for this load %s%s; %s, %s on each tire", p.setPressure(s.Minimum), note, end, p.mass(s.TireLoad, weight.Ceiling))
		}
		if s.Placard > 0 {
			say("placard %s", p.psi(s.Placard, weight.Ceiling))
		}
		p.room("left", s.Left, s, say)
		p.room("right", s.Right, s, say)
		if s.Capped {
			say("held down by the %s of %s: %s", s.Cap.Part, s.Cap.Name, p.psi(s.Cap.Pressure, weight.Floor))
		}
		for _, f := range s.Short {
			say("%s end: over the %s by %s", f.Side, f.Limit.Part, p.mass(f.Over, weight.Ceiling))
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
	}
}

func (p *page) room(side string, e inflation.EndRoom, s inflation.Setting, say func(string, ...any)) {
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
			out += fmt.Sprintf("%s OVER the lowest rating (%s, %s)", p.mass(-e.RatingRoom, weight.Ceiling), name, p.mass(s.Lowest.Load, weight.Floor))
		} else {
			out += fmt.Sprintf("%s to the lowest rating (%s, %s)", p.mass(e.RatingRoom, weight.Floor), name, p.mass(s.Lowest.Load, weight.Floor))
		}
	}
	if out != "" {
		say("%s end: %s", side, out)
	}
}

func (p *page) tires() {
	p.title("Tires")
	for _, t := range p.r.Tires {
		head := t.At
		if t.Worst != "" {
			head += ": " + ActionWords(t.Worst)
		}
		p.line("%s", head)
		say := func(format string, args ...any) { p.wrap("    ", "      ", fmt.Sprintf(format, args...)) }
		say("%s", p.pressureLine(t))
		tread := "tread not recorded"
		if d, ok := t.Tread.Get(); ok {
			tread = "tread " + p.depth(d) + p.lines(t)
		}
		say("%s; %s", tread, dateLine(t))
		if s, ok := t.Sidewalls.Get(); ok && s != inspect.BothSidewalls {
			say("sidewalls looked at: %s", s)
		}
		for _, m := range []struct {
			name  string
			depth inspect.Recorded[weight.Length]
		}{{"deepest crack", t.CrackDepth}, {"deepest cut", t.CutDepth}, {"width of the hole", t.InjuryWidth}} {
			if d, ok := m.depth.Get(); ok {
				say("%s %s", m.name, p.depth(d))
			}
		}
		if at, ok := t.InjuryAt.Get(); ok {
			say("hole in the %s", at)
		}
		if seen, ok := t.Seen.Get(); ok {
			if all := seen.All(); len(all) > 0 {
				words := make([]string, len(all))
				for i, c := range all {
					words[i] = c.String()
				}
				say("seen: %s", strings.Join(words, ", "))
			}
		}
		if t.Note != "" {
			say("note: %s", t.Note)
		}
	}
	for _, d := range p.r.Pairs {
		p.pairPressure(d)
		if diff, ok := d.TreadDifference.Get(); ok {
			deeper := p.depth(diff) + " apart in tread, the shallower one inside"
			if inside, _ := d.DeeperInside.Get(); inside {
				deeper = p.depth(diff) + " apart in tread, the DEEPER one inside"
			} else if diff == 0 {
				deeper = "alike in tread"
			}
			p.line("%s pair: %s", d.Name, deeper)
		}
	}
}

// lines says what was probed at the shoulders and the center.
func (p *page) lines(t inspect.TireLine) string {
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

// pairPressure says how far apart a pair's pressures are, and what one of the
// two carries alone.
func (p *page) pairPressure(d inspect.PairLine) {
	var parts []string
	if v, ok := d.FoundDifference.Get(); ok && v > 0 {
		parts = append(parts, "found "+p.psi(v, weight.Ceiling)+" apart")
	}
	if v, ok := d.LeftDifference.Get(); ok && v > 0 {
		parts = append(parts, "left "+p.psi(v, weight.Ceiling)+" apart")
	}
	if len(parts) > 0 {
		p.line("%s pair: %s", d.Name, strings.Join(parts, ", "))
	}
	if d.AloneLoad > 0 {
		p.wrap("", "    ", fmt.Sprintf("%s pair: block both tires or neither. One alone, on a block or beside a flat, carries %s on a rating of %s: %d %%",
			d.Name, p.mass(d.AloneLoad, weight.Ceiling), p.mass(d.AloneRating, weight.Floor), d.AlonePercent))
	}
}

// numbers lists the tires' numbers, and the speed that none of them may pass.
func (p *page) numbers() {
	p.title("Tire numbers: check for recalls")
	column, parts := 0, false
	for _, t := range p.r.Tires {
		column = max(column, utf8.RuneCountInString(t.At))
	}
	for _, t := range p.r.Tires {
		text := t.Number
		switch {
		case text == "":
			text = "not read"
		case !t.WholeNumber:
			text += " (a part)"
			parts = true
		}
		if t.OtherNumber != "" {
			text += "; other sidewall " + t.OtherNumber
		}
		p.wrap(fmt.Sprintf("%-*s  ", column, t.At), strings.Repeat(" ", column+2), text)
	}
	if parts {
		p.line("Of a part, read the rest, perhaps on the other sidewall.")
	}
	s := p.r.Slowest
	if s.Symbol != 0 {
		unit, name := inflation.MilePerHour, "mph"
		if p.r.System == weight.Metric {
			unit, name = inflation.KilometerPerHour, "km/h"
		}
		p.wrap("", "  ", fmt.Sprintf("Slowest: symbol %s, at most %s %s - %s", s.Symbol, s.Speed.AppendIn(nil, unit, 0, weight.Floor), name, strings.Join(s.At, ", ")))
	}
	if len(s.NotRead) > 0 {
		p.wrap("", "  ", "Speed symbol not read, so their limit is not known: "+strings.Join(s.NotRead, ", "))
	}
}

// dateLine says how old a tire is: for three digits first that it is older
// than mid-2000, and always by the oldest day that its code allows.
func dateLine(t inspect.TireLine) string {
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
	case !t.MadeBefore.IsZero():
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
	for _, years := range []int{5, 10} {
		if day, ok := t.Age.Turns(years); ok && t.Age.On.Before(day) {
			return out + fmt.Sprintf(", turns %d on %s", years, day)
		}
	}
	return out + ", past 10 years"
}

// depth shows a tread depth in thirty-seconds where it is whole ones, else in
// millimeters or its canonical text.
func (p *page) depth(d weight.Length) string {
	if p.r.System == weight.Metric {
		return strings.TrimSuffix(string(d.AppendIn(nil, weight.Millimeter, 1, weight.Floor)), ".0") + " mm"
	}
	if d%inspect.ThirtySecond == 0 {
		return fmt.Sprintf("%d/32 in", d/inspect.ThirtySecond)
	}
	return d.String()
}

func (p *page) pressureLine(t inspect.TireLine) string {
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
	if low, ok := t.Lowest.Get(); ok {
		out += ", lowest " + p.psi(low, weight.Floor)
	}
	if flat, ok := t.FlatAt.Get(); ok {
		out += ", flat at " + p.psi(flat, weight.Ceiling) + " or less"
	}
	if by, ok := t.JudgedBy.Get(); ok && t.RunLow != 0 {
		out += fmt.Sprintf(" (judged by %s, %s)", t.JudgedOf, p.psi(by, weight.Nearest))
	}
	switch t.RunLow {
	case rules.Breached:
		out += ": FLAT"
	case rules.Kept:
		out += ": not flat"
	case rules.NotRecorded:
		out += ": not judged"
		if t.Unjudged != "" {
			out += ", " + t.Unjudged
		}
	}
	if left, ok := t.Left.Get(); ok {
		out += ", left " + p.psi(left, weight.Floor)
	}
	return out
}

func (p *page) todo() {
	p.title("To do, worst first")
	if len(p.r.Todo) == 0 {
		p.line("Nothing was found in what was recorded.")
	}
	for i, it := range p.r.Todo {
		word := ActionWords(it.Action)
		if it.Verdict == rules.TooClose {
			word += " (too close to call)"
		}
		p.wrap(fmt.Sprintf("%2d. ", i+1), "    ", fmt.Sprintf("%s - %s: %s", word, it.Where, it.What))
		if it.Found != "" {
			text := it.Found
			if it.Bound != "" {
				text += "; wanted " + it.Bound
			}
			p.wrap("    ", "    ", text)
		}
		p.wrap("    ", "    ", it.Advice)
		if len(it.Causes) > 0 {
			p.wrap("    ", "    ", "Perhaps, the likeliest first: "+strings.Join(it.Causes, "; ")+".")
		}
		if len(it.Rules) > 0 {
			sources := make([]string, len(it.Sources))
			for j, s := range it.Sources {
				sources[j] = s.String()
			}
			p.wrap("    ", "      ", "rule "+strings.Join(it.Rules, ", ")+": "+strings.Join(sources, "; "))
		}
	}
}

func (p *page) unjudged() {
	p.title("Not judged, because it was not recorded")
	if len(p.r.Unjudged) == 0 {
		p.line("Nothing.")
	}
	var needs []string
	places := make(map[string][]string)
	for _, g := range p.r.Unjudged {
		if places[g.Need] == nil {
			needs = append(needs, g.Need)
		}
		places[g.Need] = append(places[g.Need], g.Where)
	}
	for _, need := range needs {
		p.wrap("- ", "    ", need+" - "+strings.Join(places[need], ", "))
	}
}

func (p *page) cautions() {
	p.title("Cautions")
	for _, c := range p.r.Cautions {
		p.wrap("- ", "  ", c)
	}
	p.line("Rules: %s.", strings.Join(p.r.Packs, ", "))
}

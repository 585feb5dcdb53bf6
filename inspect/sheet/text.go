package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// TextOptions say how a page of text is set. The zero value is the short page, 80
// columns wide.
type TextOptions struct {
	// Full prints all that the report or the history says, with its sources.
	Full bool
	// Columns is how wide the page is, 80 where it is 0, and never less than 40.
	Columns int
	// ReadOn is the last line of a short page: where somebody finds the full one.
	ReadOn string
}

// width is how many columns a page may have.
func (o TextOptions) width() int {
	if o.Columns == 0 {
		return 80
	}
	return max(o.Columns, 40)
}

// ActionWords gives an action of the vocabulary in the words of a page: "DO NOT
// DRIVE", "BEFORE THE TRIP", "PLAN", or, for the empty name, "nothing found".
// An action that is not in the shipped vocabulary is shown by its name.
func ActionWords(action report.Action) string {
	if action == "" {
		return sayNothingWord
	}
	words := strings.ReplaceAll(string(action), "_", " ")
	if action == report.BeforeTrip {
		words = sayBeforeTheTrip
	}
	return strings.ToUpper(words)
}

// Text renders the report as plain UTF-8 text, ending in a line end. Its first line
// is the answer about driving. Without [TextOptions.Full] it is one screen: the
// pressure to set and what nobody may air up, what to do, the worst first, by its
// title and place, and what was not judged. The full page says everything, with its
// reasons and sources: what to do comes before what was weighed.
func Text(r report.Report, opt TextOptions) string {
	if !opt.Full {
		return screenText(r, opt)
	}
	p := newPage(r, opt)
	p.headline()
	p.settings()
	p.todo()
	p.unjudged()
	p.loads()
	p.tires()
	p.recalls()
	p.cautions()
	return p.b.String()
}

func newPage(r report.Report, opt TextOptions) *page {
	return &page{units: units{r.System, r.PressureUnit}, r: r, width: opt.width(), full: opt.Full, more: opt.ReadOn}
}

type page struct {
	units
	r     report.Report
	b     strings.Builder
	width int
	full  bool
	tight int    // how far a screen is made shorter
	more  string // where to read on
}

// line writes one line; what is too long goes on, indented, on the next.
func (p *page) line(format string, args ...any) {
	p.wrap("", "", fmt.Sprintf(format, args...))
}

// wrap writes text behind a first indent, and further lines behind rest.
func (p *page) wrap(first, rest, text string) {
	indent, text := first, plain(text)
	for {
		cut, next := breakAt(text, p.width-columns(indent))
		p.b.WriteString(strings.TrimRight(indent+text[:cut], " "))
		p.b.WriteByte('\n')
		if next == len(text) {
			return
		}
		text, indent = text[next:], rest
	}
}

// table writes rows of cells below a head, in columns where they fit beside each
// other, else each row as a line of its own, its head left out.
func (p *page) table(head []string, rows [][]string) {
	widths := make([]int, len(head))
	for _, row := range append([][]string{head}, rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], columns(plain(cell)))
		}
	}
	room := p.width
	for _, w := range widths[:len(widths)-1] {
		room -= w + 2
	}
	if room < min(widths[len(widths)-1], p.width/4) {
		for _, row := range rows {
			var cells []string
			for i, cell := range row[1:] {
				if cell != "" {
					cells = append(cells, head[i+1]+": "+cell)
				}
			}
			text := strings.Join(cells, "; ")
			if row[0] != "" { // else it goes on with the row above
				text = row[0] + ". " + text
			}
			p.wrap("", "    ", text)
		}
		return
	}
	for _, row := range append([][]string{head}, rows...) {
		var b strings.Builder
		for i, cell := range row[:len(row)-1] {
			cell = plain(cell)
			b.WriteString(cell + strings.Repeat(" ", widths[i]+2-columns(cell)))
		}
		p.wrap(b.String(), strings.Repeat(" ", p.width-room), row[len(row)-1])
	}
}

// title begins a section; on a short page it has no rule below, which would cost a
// line each time.
func (p *page) title(text string) {
	p.b.WriteByte('\n')
	p.line("%s", text)
	if !p.full {
		return
	}
	p.line("%s", strings.Repeat("-", min(columns(text), p.width)))
}

func (p *page) headline() {
	p.line("%s", driveWords(&p.r))
	if advice := driveAdvice(&p.r); advice != "" {
		p.line("%s", advice)
	}
	p.line("%s", gapWords(&p.r))
	p.line("%s", strings.Join(p.facts(), ", "))
	if p.r.LoadState != "" && p.tight < factsFew {
		p.line(sayLoaded, p.r.LoadState)
	}
	if p.r.Invented {
		p.line(sayInvented)
	}
}

// facts are the coach, the day, and how it was read.
func (p *page) facts() []string {
	r := &p.r
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if r.Coach == "" {
		add(sayDateFirst, r.Date)
	} else {
		add("%s", r.Coach)
		add(sayDate, r.Date)
	}
	if v, ok := r.Odometer.Get(); ok {
		add(sayOdometer, odometerWords(v))
	}
	if v, ok := r.ParkedFor.Get(); ok {
		add(sayStood, v)
	}
	if v, ok := r.AirTemperature.Get(); ok {
		add(sayAir, p.temperature(v))
	}
	if gauge := p.gaugeWords(r); gauge != "" {
		add(sayGauge, gauge)
	}
	return out
}

func verdictWord(v rules.Verdict) string {
	switch v {
	case rules.Kept:
		return sayWithin
	case rules.Breached:
		return sayOverWord
	case rules.TooClose:
		return sayTooCloseWord
	}
	return sayNotJudgedWord
}

func (p *page) loads() {
	p.title(sayWeighedTitle)
	if len(p.r.Readings) == 0 {
		p.line(sayNotWeighedText)
		return
	}
	var rows [][]string
	half := false
	for _, l := range p.r.Loads {
		row := []string{loadName(l), p.estimate(l.Estimate), "", ""}
		for i := range l.Ratings {
			g := &l.Ratings[i]
			half = half || g.Name == report.HalfGAWR
			row[2], row[3] = fmt.Sprintf(sayRating, g.Name, p.mass(g.Rating, weight.Floor)), p.verdictLine(g)
			rows = append(rows, row)
			row = make([]string, len(row)) // the load is said once
		}
		if len(l.Ratings) == 0 {
			rows = append(rows, row)
		}
	}
	if len(rows) > 0 {
		p.table([]string{detailsWhat, detailsLoad, detailsRating, detailsVerdict}, rows)
	}
	if half {
		p.line(sayHalfGAWR)
	}
	for _, l := range p.r.Loads {
		for _, s := range l.Settle {
			p.wrap("  ", "    ", fmt.Sprintf(saySettle, loadName(l), s))
		}
	}
	for _, rd := range p.r.Readings {
		words, off := sayResidual, rd.Residual
		if off < 0 {
			words, off = sayResidualLess, -off
		}
		if off != 0 {
			p.wrap("  ", "    ", fmt.Sprintf(words, rd.Name, p.mass(rd.Load, weight.Nearest), p.mass(rd.Tolerance, weight.Ceiling), p.mass(off, weight.Nearest)))
		}
	}
}

// verdictLine says how a load stands to a rating, and by how much.
func (p *page) verdictLine(g *report.RatingLine) string {
	switch {
	case g.Verdict == rules.Kept:
		return fmt.Sprintf(sayWithinRoom, bare(p.mass(g.Room, weight.Floor)))
	case g.Verdict == rules.Breached:
		return fmt.Sprintf(sayOverUpTo, bare(p.mass(-g.Room, weight.Ceiling)))
	case g.Verdict == rules.TooClose && g.Room < 0:
		return fmt.Sprintf(sayTooCloseBy, bare(p.mass(-g.Room, weight.Ceiling)))
	}
	return verdictWord(g.Verdict)
}

func loadName(l report.LoadLine) string {
	if l.Kind == report.AxleLoad {
		return fmt.Sprintf(sayAxleNamed, l.Name)
	}
	return l.Name
}

func (p *page) settings() {
	p.title(saySetTitle)
	for _, s := range p.r.Settings {
		p.line("%-8s %s", s.Name, p.setWords(&s))
		for _, l := range airLines(&p.r, s.Name) {
			p.wrap("    ", "      ", l)
		}
		for _, l := range p.settingLines(&s) {
			p.wrap("    ", "      ", l)
		}
	}
	for _, id := range unset(&p.r) {
		p.line("%-8s %s", id, saySetNone)
	}
}

// unset lists the axles that no pressure could be worked out for: a table that does not
// fit their tires.
func unset(r *report.Report) (ids []string) {
	for i := range r.Unjudged {
		if g := &r.Unjudged[i]; strings.HasPrefix(g.Need, report.NeedSetting) {
			ids = append(ids, g.Where)
		}
	}
	return ids
}

func (p *page) tires() {
	p.title(titleTires)
	for i := range p.r.Tires {
		p.oneTire(&p.r.Tires[i])
	}
	for _, d := range p.r.Pairs {
		for _, line := range p.pairLines(&d) {
			p.wrap("", "    ", line)
		}
	}
	for _, line := range p.speedLines(&p.r.Slowest) {
		p.wrap("", "    ", line)
	}
}

func (p *page) oneTire(t *report.TireLine) {
	head := t.At
	if t.Worst != "" {
		head += ": " + ActionWords(t.Worst)
	}
	p.line("%s", head)
	say := func(text string) { p.wrap("    ", "      ", text) }
	say(p.pressureLine(t))
	tread := sayTreadUnknown
	if d, ok := t.Tread.Get(); ok {
		tread = fmt.Sprintf(sayTread, p.depth(d)+p.treadLines(t))
	}
	say(tread + "; " + dateLine(t))
	for _, line := range p.measured(t) {
		say(line)
	}
	if seen := seenWords(t); seen != "" {
		say(fmt.Sprintf(saySeen, seen))
	}
	if t.Note != "" {
		say(fmt.Sprintf(sayNote, t.Note))
	}
}

// seenWords lists what was seen on a tire, "" where that is nothing.
func seenWords(t *report.TireLine) string {
	seen, _ := t.Seen.Get()
	var words []string
	for _, c := range seen.All() {
		words = append(words, c.String())
	}
	return strings.Join(words, ", ")
}

// recalls asks for a look for recalls: each tire's line has its number.
func (p *page) recalls() {
	var parts, none []string
	for _, t := range p.r.Tires {
		switch {
		case t.Number == "":
			none = append(none, t.At)
		case !t.WholeNumber:
			parts = append(parts, t.At)
		}
	}
	p.b.WriteByte('\n')
	if len(parts) > 0 {
		p.line(sayRecallsPart, placesOf(&p.r, parts))
	} else {
		p.line(sayRecalls)
	}
	if len(none) > 0 {
		p.line(sayRecallsNotRead, placesOf(&p.r, none))
	}
}

func (p *page) todo() {
	p.title(sayTodoTitle)
	if len(p.r.Todo) == 0 {
		p.line(sayNothingTodo)
	}
	p.findings(p.r.Todo)
}

// findings lists what is to be done, each with everywhere it is.
func (p *page) findings(todo []report.Item) {
	for _, f := range findings(todo) {
		word := ActionWords(f.action)
		if f.verdict == rules.TooClose {
			word = fmt.Sprintf(sayTooClose, word)
		}
		var places []string
		for _, s := range f.spots {
			places = append(places, s.places...)
		}
		p.wrap(fmt.Sprintf("%2d. ", f.number), "    ", fmt.Sprintf("%s - %s: %s", word, strings.Join(places, ", "), f.what))
		for _, s := range f.spots {
			text := s.found
			if s.bound != "" {
				text = fmt.Sprintf(sayFoundWanted, s.found, s.bound)
			}
			if len(f.spots) > 1 && text != "" {
				text = strings.Join(s.places, ", ") + ": " + text
			}
			if text != "" {
				p.wrap("    ", "      ", text)
			}
		}
		p.because(f.advice, f.causes, f.rules, f.sources)
	}
}

// because says what to do, what may have caused it, and who says so.
func (p *page) because(advice string, causes, rules []string, sources []origin.Source) {
	p.wrap("    ", "    ", advice)
	if len(causes) > 0 {
		p.wrap("    ", "    ", fmt.Sprintf(sayPerhaps, strings.Join(causes, "; ")))
	}
	if len(rules) > 0 {
		list := make([]string, len(sources))
		for i, s := range sources {
			list[i] = s.String()
		}
		p.wrap("    ", "      ", fmt.Sprintf(sayRule, strings.Join(rules, ", "), strings.Join(list, "; ")))
	}
}

func (p *page) unjudged() {
	p.title(titleUnjudged)
	if len(p.r.Unjudged) == 0 {
		p.line(sayNothing)
	}
	for _, g := range gapsByNeed(p.r.Unjudged) {
		p.wrap("- ", "    ", g.need+" - "+strings.Join(g.places, ", "))
	}
}

func (p *page) cautions() {
	p.title(titleCautions)
	for _, c := range ownFirst(&p.r) {
		p.wrap("- ", "  ", c)
	}
	p.line(sayRules, strings.Join(p.r.Packs, ", "))
}

package sheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// HTMLOptions say what [HTML] shows. The zero value is the page for the owner
// with the details behind it.
type HTMLOptions struct {
	// OnePage leaves the details out.
	OnePage bool
}

// HTML writes the report as one self-contained HTML page in UTF-8, with no
// script and nothing to fetch. Its first page prints on one sheet of Letter or
// A4 paper: what must not move and what to do now, the pressure to set, a plan
// view, what to do before the trip and later, every tire, what was not judged,
// cautions, and room to sign. What stops the coach all stands there; of the
// rest, as much as fits, with a count of what stands in the details only. The
// details, on pages of their own, hold every load, reading, curve, verdict
// that is not kept, and source. All text of the report is escaped. The error
// is w's.
func HTML(w io.Writer, r report.Report, opt HTMLOptions) error {
	p := newHTMLPage(&r, opt)
	m := &markup{b: make([]byte, 0, 64<<10)}
	m.lit(pageStart).element("<title>", p.title(), "</title>\n<style>").lit(style).lit("</style>\n</head>\n<body>\n<main>\n")
	p.first(m)
	if !opt.OnePage {
		p.details(m)
	}
	m.lit("</main>\n</body>\n</html>\n")
	_, err := w.Write(m.b)
	return err
}

// The policy is for what opens the page: nothing in it runs, nothing is
// fetched.
const pageStart literal = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<link rel="icon" href="data:,">
`

const (
	noAirWords = "NOBODY MAY AIR UP "
	// wheelOff is common practice.
	wheelOff         = "Wheels that came off: the maker's torque and order, checked again after 50 to 100 miles (common practice)."
	recalls  literal = "Check each full number for recalls; of a part, read the rest, perhaps on the other sidewall."
	handOver literal = "Handed over and explained. This page helps trained people decide; it does not say that a coach is safe."
)

// An htmlPage is what the sheet shows of a report, in words.
type htmlPage struct {
	units
	r     *report.Report
	stops map[string]bool // places that must not move
	all   []finding
	axles []axleView

	// The first page. Its lists are cut to what fits.
	density               density
	facts                 [][2]string
	now, before, later    []entry
	beforeMore, laterMore int
	cards                 []card
	left, right           []tireRow
	ages                  lineList // days on which tires turn 5 or 10
	unjudged              lineList
	cautions              lineList
	elsewhere             literal // where the rest of a list stands
}

// A lineList is a list of lines, and how many more there are.
type lineList struct {
	lines []string
	more  int
}

// An entry is one finding on the first page: where, what was found there,
// what that is, what was wanted, and what to do.
type entry struct {
	number               int
	label                string
	spots                []entrySpot
	what, wanted, advice string
}

type entrySpot struct{ places, found string }

// text is the entry as it runs, for measuring.
func (e *entry) text() string {
	var b strings.Builder
	b.WriteString(strconv.Itoa(e.number) + ". " + e.label)
	for i, s := range e.spots {
		b.WriteString(s.places + " " + s.found)
		if i < len(e.spots)-1 {
			b.WriteString(", ")
		}
	}
	b.WriteString(": " + e.what + ". " + e.wanted + " " + e.advice)
	return b.String()
}

// short takes away what entries can do without: it says what is to be done
// where, and the details say the rest.
func (p *htmlPage) short(list []entry) []entry {
	out := slices.Clone(list)
	for i := range out {
		e := &out[i]
		e.wanted, e.advice = "", ""
		e.spots = []entrySpot{{places: p.places(p.all[e.number-1].places())}}
	}
	return out
}

// places names places, all tires together where it is all of them.
func (p *htmlPage) places(list []string) string {
	all, mounted := 0, 0
	for i := range p.r.Tires {
		t := &p.r.Tires[i]
		if !slices.Contains(list, t.At) {
			continue
		}
		if all++; t.Axle != "" {
			mounted++
		}
	}
	if n := len(list); n > 3 && n == all {
		switch {
		case n == len(p.r.Tires):
			return "every tire"
		case n == mounted && !slices.ContainsFunc(p.r.Tires, func(t report.TireLine) bool { return t.Axle != "" && !slices.Contains(list, t.At) }):
			return "every tire but the spare"
		}
	}
	return strings.Join(list, ", ")
}

// A card is the pressure to set on one axle: a number and its unit, or words
// in the unit's place.
type card struct {
	axle, number, unit string
	noAir              string
	notes              []string
}

// A tireRow is one tire as found. What is empty is left to be written in.
type tireRow struct {
	at, mark, found, left, tread, number string
}

func newHTMLPage(r *report.Report, opt HTMLOptions) *htmlPage {
	p := &htmlPage{units: units{r.System}, r: r, stops: make(map[string]bool), all: findings(r.Todo)}
	p.elsewhere = " more in the details"
	if opt.OnePage {
		p.elsewhere = " more in the details, which this copy leaves out"
	}
	for i := range r.Todo {
		if it := &r.Todo[i]; it.Stops {
			p.stops[it.Where] = true
		}
	}
	p.axles = p.collectAxles()
	p.collectFacts()
	p.collectCards()
	p.collectTires()
	p.ages.lines = p.agesAhead()
	for i := range p.all {
		f := &p.all[i]
		switch {
		case f.stops || f.action == report.DoNotDrive: // also what is too close to call
			p.now = append(p.now, p.entry(f, false))
		case f.action == report.Plan:
			p.later = append(p.later, p.entry(f, true))
		default:
			p.before = append(p.before, p.entry(f, true))
		}
	}
	for _, g := range gapsByNeed(r.Unjudged) {
		p.unjudged.lines = append(p.unjudged.lines, p.places(g.places)+": "+g.need)
	}
	p.cautions.lines = cautionsByText(r)
	p.fit()
	return p
}

func (p *htmlPage) title() string {
	if p.r.Coach == "" {
		return "Tire sheet, " + p.r.Date.String()
	}
	return p.r.Coach + ": tire sheet, " + p.r.Date.String()
}

func (p *htmlPage) coach() string {
	if p.r.Coach == "" {
		return "Coach: name not recorded"
	}
	return p.r.Coach
}

// verdict is the first thing said: the worst action there is. It never says
// that a coach is safe.
func (p *htmlPage) verdict() string {
	switch p.r.Worst {
	case report.DoNotDrive:
		if !p.r.Stops {
			return "DO NOT DRIVE: too close to call"
		}
	case report.BeforeTrip:
		return "TO DO BEFORE THE TRIP"
	case report.Plan:
		return "TO DO AT THE NEXT SERVICE"
	case "":
		return "NOTHING FOUND IN WHAT WAS RECORDED"
	}
	return ActionWords(p.r.Worst)
}

func (p *htmlPage) notJudged() string {
	if p.r.NotJudged == 0 {
		return "nothing left unjudged"
	}
	return "NOT JUDGED: " + strconv.Itoa(p.r.NotJudged)
}

func (p *htmlPage) collectFacts() {
	r := p.r
	fact := func(name, value string) {
		if value == "" {
			value = "not recorded"
		}
		p.facts = append(p.facts, [2]string{name, value})
	}
	odometer, air := "", ""
	if l, ok := r.Odometer.Get(); ok {
		number, unit, _ := strings.Cut(l.String(), " ")
		whole, part, _ := strings.Cut(number, ".")
		if odometer = group(whole); part != "" {
			odometer += "." + part
		}
		odometer += " " + unit
	}
	if t, ok := r.AirTemperature.Get(); ok {
		air = p.temperature(t)
	}
	fact("Date", r.Date.String())
	fact("Odometer", odometer)
	fact("Loaded", r.LoadState)
	fact("Air", air)
	if v, ok := r.Stood.Get(); ok {
		fact("Stood", v.String())
	}
	fact("Gauge", p.gaugeWords(r))
}

// collectCards gives each axle that was looked at its pressure to set.
func (p *htmlPage) collectCards() {
	for i := range p.axles {
		a := &p.axles[i]
		if !a.seen() {
			continue
		}
		c := card{axle: axleTitle(a.line)}
		if low := a.noAir(); len(low) > 1 && len(low) == len(a.ends[0].tires)+len(a.ends[1].tires) {
			c.noAir = "ANY TIRE OF THIS AXLE"
		} else {
			c.noAir = strings.Join(low, ", ")
		}
		s := a.setting
		switch {
		case s == nil:
			c.unit = "NOT JUDGED: see below"
		case s.Outcome == inflation.CanSet, s.Outcome == inflation.TooClose:
			c.number, c.unit, _ = strings.Cut(p.psi(s.Set, weight.Ceiling), " ")
		case s.Outcome == inflation.Short:
			c.unit = "NO PRESSURE CARRIES THIS LOAD"
		default:
			c.unit = "NOT JUDGED: too little was read"
		}
		if s != nil {
			c.notes = p.cardNotes(s)
		}
		p.cards = append(p.cards, c)
	}
}

// cardNotes are the few things that somebody who sets a pressure has to know;
// the details have the rest.
func (p *htmlPage) cardNotes(s *inflation.Setting) []string {
	var out []string
	for i, f := range s.Short {
		if i > 0 && f.Side == s.Short[0].Side {
			continue // the first of each end
		}
		over := " end over the "
		if s.Outcome == inflation.TooClose {
			over = " end may be over the "
		}
		out = append(out, "BUT "+shortSide(&f)+over+f.Limit.Part.String()+" by "+p.mass(f.Over, weight.Ceiling))
	}
	var from []string
	if s.Answer.Estimated {
		from = append(from, "AN ESTIMATE, no table seen")
	}
	if s.Grounds.Load != inflation.EndsWeighed {
		from = append(from, s.Grounds.Load.String())
	}
	if s.Minimum > 0 && s.Minimum != s.Set {
		from = append(from, "at least "+p.psi(s.Minimum, weight.Ceiling))
	}
	switch {
	case s.Grounds.Pressure == inflation.FromPlacard || s.Grounds.Pressure == inflation.FromSidewall:
		from = append(from, "from the "+s.Grounds.Pressure.String())
	case s.Placard > 0 && s.Placard != s.Set:
		from = append(from, "placard "+p.psi(s.Placard, weight.Ceiling))
	}
	if len(from) > 0 {
		out = append(out, strings.Join(from, "; "))
	}
	return out
}

func (p *htmlPage) collectTires() {
	left, right, spares := walk(p.r)
	for _, t := range left {
		p.left = append(p.left, p.tireRow(t))
	}
	for _, t := range slices.Concat(right, spares) {
		p.right = append(p.right, p.tireRow(t))
	}
}

func (p *htmlPage) tireRow(t *report.TireLine) tireRow {
	row := tireRow{at: t.At, number: t.Number, found: "not taken", tread: "not read"}
	switch {
	case t.NoAir && t.RunLow == rules.Breached:
		row.mark = "FLAT: NO AIR"
	case t.NoAir:
		row.mark = "NO AIR"
	case p.stops[t.At]:
		row.mark = "MUST NOT MOVE"
	}
	if f, ok := t.Found.Get(); ok {
		if row.found = p.psi(f, weight.Floor); t.Hot {
			row.found += " HOT"
		}
	}
	if t.Found.Is() && t.RunLow == rules.NotRecorded && row.mark == "" {
		row.mark = "NOT JUDGED"
	}
	if l, ok := t.LeftAt.Get(); ok {
		row.left = p.psi(l, weight.Floor)
	}
	if d, ok := t.Tread.Get(); ok {
		row.tread = p.depth(d)
	}
	switch {
	case row.number == "":
		row.number = "not read"
	case !t.WholeNumber:
		row.number = fmt.Sprintf(sayPartOfNumber, row.number)
	}
	return row
}

// agesAhead says on which day tires turn 5 or 10 years old, the next of the
// two for each, soonest first.
func (p *htmlPage) agesAhead() []string {
	type ahead struct {
		day    string
		years  int
		places []string
	}
	var out []ahead
	for i := range p.r.Tires {
		t := &p.r.Tires[i]
		for _, years := range []int{5, 10} {
			day, ok := t.Age.Turns(years)
			if !ok || !t.Age.On.Before(day) {
				continue
			}
			at := slices.IndexFunc(out, func(a ahead) bool { return a.day == day.String() && a.years == years })
			if at < 0 {
				at = len(out)
				out = append(out, ahead{day: day.String(), years: years})
			}
			out[at].places = append(out[at].places, t.At)
			break
		}
	}
	slices.SortStableFunc(out, func(a, b ahead) int { return strings.Compare(a.day, b.day) })
	lines := make([]string, len(out))
	for i, a := range out {
		lines[i] = fmt.Sprintf("%s: %d years old: %s", a.day, a.years, strings.Join(a.places, ", "))
	}
	return lines
}

// entry puts a finding into the first page's form; brief leaves out how a
// bound came about.
func (p *htmlPage) entry(f *finding, brief bool) entry {
	e := entry{number: f.number, what: f.what, advice: f.advice}
	if f.action != report.DoNotDrive && f.action != report.BeforeTrip && f.action != report.Plan {
		e.label = ActionWords(f.action) + " " // somebody's own action
	}
	if f.verdict == rules.TooClose {
		e.label += "TOO CLOSE TO CALL "
	}
	same := !slices.ContainsFunc(f.spots, func(s spot) bool { return s.bound != f.spots[0].bound })
	for i := range f.spots {
		s := entrySpot{p.places(f.spots[i].places), f.spots[i].found}
		bound := f.spots[i].bound
		if brief {
			bound, _, _ = strings.Cut(bound, " (")
		}
		switch {
		case bound == "":
		case same:
			e.wanted = "Wanted: " + bound + "."
		default:
			s.found += ", wanted " + bound
		}
		e.spots = append(e.spots, s)
	}
	return e
}

func (p *htmlPage) first(m *markup) {
	m.lit(`<article class="sheet `, p.density.class, `" id="page-1">`+"\n"+`<header><div class="top">`)
	if p.longName() {
		m.lit(`<h1 class="long">`)
	} else {
		m.lit("<h1>")
	}
	m.element("<bdi>", p.coach(), `</bdi></h1> <p>Tire sheet`)
	if p.r.Invented {
		m.lit(", INVENTED EXAMPLE")
	}
	m.lit("</p></div>\n" + `<dl class="facts">`)
	for _, f := range p.facts {
		m.element("<div><dt>", f[0], "</dt> ").element("<dd><bdi>", f[1], "</bdi></dd></div>\n")
	}
	m.lit("</dl>\n</header>\n" + `<section class="verdict`)
	if p.r.Stops {
		m.lit(" stops")
	}
	m.element(`"><h2>`, p.verdict(), "</h2> ")
	if len(p.all) > 0 {
		m.lit(`<p class="tally">`).num(len(p.now)).lit(" now, ").num(len(p.before) + p.beforeMore).lit(" before the trip, ").
			num(len(p.later) + p.laterMore).lit(" at the next service</p> ")
	}
	m.element("<p>", p.notJudged(), "</p></section>\n")
	if len(p.now) > 0 {
		m.lit(`<section class="now"><h2>What must not move, and what to do now</h2>` + "\n")
		entries(m, p.now)
		m.lit("</section>\n")
	}

	m.lit(`<section><h2>Cold pressure to SET, one number an axle</h2>` + "\n" + `<div class="set"><ul class="cards">` + "\n")
	for i := range p.cards {
		c := &p.cards[i]
		m.lit(`<li><div class="card`)
		if p.cardRow() < cardRow {
			m.lit(" low")
		}
		m.element(`"><div><h3>`, c.axle, "</h3>\n")
		for _, n := range c.notes {
			m.element("<p>", n, "</p>\n")
		}
		m.lit("</div>\n")
		if c.number != "" {
			m.element(`<p class="psi">SET <b>`, c.number, "</b> ").text(c.unit).lit("</p></div>\n")
		} else {
			m.element(`<p class="words">`, c.unit, "</p></div>\n")
		}
		if c.noAir != "" {
			m.lit(`<p class="noair">` + noAirWords).text(c.noAir).lit("</p>\n")
		}
		m.lit("</li>\n")
	}
	m.lit("</ul>\n<figure>")
	p.plan(m)
	m.lit("</figure></div></section>\n")

	m.lit(`<div class="two"><section class="before"><h2>Before the trip</h2>` + "\n")
	p.entryList(m, p.before, p.beforeMore)
	m.lit(`</section>` + "\n" + `<section class="later"><h2>At the next service</h2>` + "\n")
	p.entryList(m, p.later, p.laterMore)
	p.lineList(m, &p.ages)
	m.lit("</section></div>\n")

	m.lit(`<section><h2 class="unseen">Tires, in the order of a walk round the coach</h2>` + "\n" + `<div class="two">` + "\n")
	tireTable(m, "Tires down the left side, front to rear", p.left)
	tireTable(m, "Tires up the right side, rear to front; spares last", p.right)
	m.lit(`</div><p class="after">` + recalls + "</p></section>\n")

	m.lit(`<div class="two"><section><h2>Not judged, not known to be good: settle it by</h2>` + "\n")
	if p.r.NotJudged == 0 {
		m.lit("<p>Nothing.</p>\n")
	}
	p.lineList(m, &p.unjudged)
	m.lit("</section>\n<section><h2>Cautions</h2>\n")
	p.lineList(m, &p.cautions)
	m.lit("</section></div>\n")

	m.lit(`<footer class="foot two"><section><p>`).text(wheelOff).
		lit(`</p>` + blanks("wheels", "torque", "checked again at, by") + "</section>\n").
		lit("<section><p>" + handOver + "</p>" + blanks("name", "signature", "date") + "</section></footer>\n</article>\n")
}

func blanks(a, b, c literal) literal {
	return `<p class="blanks"><span>` + a + `</span> <span>` + b + `</span> <span>` + c + `</span></p>`
}

// cardRow is the height of a card's first row, with the number to set.
func (p *htmlPage) cardRow() int {
	switch {
	case len(p.cards) > 3 && p.density.class == "least":
		return 70
	case len(p.cards) > 3:
		return 84
	}
	return cardRow
}

const cardRow = 100

func entries(m *markup, list []entry) {
	m.lit(`<ol class="list">` + "\n")
	for i := range list {
		e := &list[i]
		m.lit(`<li><span class="no">`).num(e.number).lit(".</span> ")
		if e.label != "" {
			m.element("<b>", e.label, "</b>")
		}
		for j, s := range e.spots {
			if j > 0 {
				m.lit(", ")
			}
			m.element("<b>", s.places, "</b>")
			if s.found != "" {
				m.element(" ", s.found, "")
			}
		}
		m.element(": ", e.what, ". ").text(e.wanted).lit(" ")
		m.text(e.advice).lit("</li>\n")
	}
	m.lit("</ol>\n")
}

func (p *htmlPage) entryList(m *markup, list []entry, more int) {
	if len(list) > 0 {
		entries(m, list)
	} else if more == 0 {
		m.lit("<p>Nothing was found in what was recorded.</p>\n")
	}
	p.more(m, more)
}

func (p *htmlPage) lineList(m *markup, l *lineList) {
	m.list(l.lines)
	p.more(m, l.more)
}

func (p *htmlPage) more(m *markup, n int) {
	if n > 0 {
		m.lit(`<p class="more">and `).num(n).lit(p.elsewhere, "</p>\n")
	}
}

func tireTable(m *markup, caption string, rows []tireRow) {
	m.element(`<table class="tires"><caption>`, caption, "</caption>\n"+
		`<thead><tr><th scope="col" class="c1">Tire</th><th scope="col" class="c2">Found</th><th scope="col" class="c3">Left at</th>`+
		`<th scope="col" class="c4">Tread</th><th scope="col">Full number</th></tr></thead>`+"\n<tbody>\n")
	for i := range rows {
		r := &rows[i]
		m.element(`<tr><th scope="row">`, r.at, "")
		if r.mark != "" {
			m.element(` <span class="flag">`, r.mark, "</span>")
		}
		m.element("</th><td>", r.found, "</td><td>")
		if r.left != "" {
			m.text(r.left)
		} else {
			m.lit(`<span class="write" role="img" aria-label="to write in"></span>`)
		}
		m.element("</td><td>", r.tread, "</td>").element("<td>", r.number, "</td></tr>\n")
	}
	m.lit("</tbody></table>\n")
}

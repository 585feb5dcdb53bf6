package sheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// HTMLOptions say what [HTML] shows. The zero value is the owner's sheet, front and
// back, with the details behind it.
type HTMLOptions struct {
	// OneSheet leaves the details out.
	OneSheet bool
	// Visit is the record behind the report, nil where it is not at hand: it has what
	// a report does not, such as the wheels' stamps.
	Visit *record.Visit
}

// HTML writes the report as one self-contained HTML page in UTF-8, with no
// script and nothing to fetch. The front, on one side of Letter or A4 paper, has the
// answer about driving, what stops the coach and what comes before the trip with
// every title, the pressure to set, a plan view with each pressure as found, and
// every tire. The back says what the front had no room for, what was not judged,
// the cautions, what the visit records beside that, a card to cut out, what the owner
// declined, and is signed. The details, on pages of their
// own, hold every load, reading, curve, verdict that is not kept, and source. A front
// that is too full has its tires on the back, and says so. All
// text of the report is escaped. The error is w's.
func HTML(w io.Writer, r report.Report, opt HTMLOptions) error {
	p := newHTMLPage(&r, opt)
	m := &markup{b: make([]byte, 0, 64<<10)}
	m.lit(pageStart).element("<title>", p.title(), "</title>\n<style>").lit(style).lit("</style>\n</head>\n<body>\n<main>\n")
	p.first(m)
	p.back(m)
	if !opt.OneSheet {
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
<meta name="color-scheme" content="only light">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<link rel="icon" href="data:,">
`

// An htmlPage is what the sheet shows of a report, in words.
type htmlPage struct {
	units
	r      *report.Report
	visit  *record.Visit   // nil where it is not at hand
	stops  map[string]bool // places that must not move
	answer string          // about driving
	all    []finding
	axles  []axleView

	density            density
	facts              [][2]string
	now, before, later []entry // as they stand on the front
	rest               []entry // whole, of which the front has the title alone
	laterOver          bool    // all of later stands on the back
	tiresOver          bool    // the tires do
	runsOver           bool    // the front does not fit on one side of paper
	cards              []card
	left, right        []tireRow
	ages               []string // days on which tires reach an age limit
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

// short takes away what entries can do without on the front: the back says the rest.
func (p *htmlPage) short(list []entry) []entry {
	out := slices.Clone(list)
	for i := range out {
		e := &out[i]
		e.wanted, e.advice = "", ""
		e.spots = []entrySpot{{places: placesOf(p.r, p.all[e.number-1].places())}}
	}
	return out
}

// A card is the pressure to set on one axle: a number and its unit, or words
// in the unit's place.
type card struct {
	axle, number, unit string
	noAir              []string
	notes              []string
}

// A tireRow is one tire as found. What is empty is left to be written in.
type tireRow struct {
	at, mark, found, left, tread, number string
}

func newHTMLPage(r *report.Report, opt HTMLOptions) *htmlPage {
	p := &htmlPage{units: units{r.System, r.PressureUnit}, r: r, visit: opt.Visit, stops: make(map[string]bool), all: findings(r.Todo), answer: driveWords(r)}
	for i := range r.Todo {
		if it := &r.Todo[i]; it.Stops {
			p.stops[it.Where] = true
		}
	}
	p.axles = p.collectAxles()
	p.collectFacts()
	p.collectCards()
	p.collectTires()
	p.ages = p.agesAhead()
	for i := range p.all {
		f := &p.all[i]
		switch {
		case f.stops || f.action == report.DoNotDrive: // also what is too close to call
			p.now = append(p.now, p.entry(f))
		case f.action == report.Plan:
			p.later = append(p.later, p.entry(f))
		default:
			p.before = append(p.before, p.entry(f))
		}
	}
	p.fit()
	return p
}

func (p *htmlPage) title() string {
	if p.r.Coach == "" {
		return fmt.Sprintf(sheetTitle, p.r.Date)
	}
	return fmt.Sprintf(sheetCoachTitle, p.r.Coach, p.r.Date)
}

func (p *htmlPage) coach() string {
	if p.r.Coach == "" {
		return sheetNoName
	}
	return p.r.Coach
}

func (p *htmlPage) collectFacts() {
	r := p.r
	fact := func(name, value string) {
		if value == "" {
			value = sheetNotRecorded
		}
		p.facts = append(p.facts, [2]string{name, value})
	}
	odometer, air := "", ""
	if l, ok := r.Odometer.Get(); ok {
		odometer = odometerWords(l)
	}
	if t, ok := r.AirTemperature.Get(); ok {
		air = p.temperature(t)
	}
	fact(sheetDate, r.Date.String())
	fact(sheetOdometer, odometer)
	fact(sheetLoaded, r.LoadState)
	fact(sheetAir, air)
	if v, ok := r.ParkedFor.Get(); ok {
		fact(sheetStood, v.String())
	}
	fact(sheetGauge, p.gaugeWords(r))
	if p.visit == nil {
		return
	}
	// Names are in the visit alone; what nobody wrote down is left out.
	n := &p.visit.Names
	for _, f := range [...][2]string{{sheetCustomer, n.Customer}, {sheetPlate, n.Plate}, {sheetUnit, n.UnitNumber}, {sheetWorkOrder, n.WorkOrder}, {sheetTechnician, n.Technician}} {
		if f[1] != "" {
			p.facts = append(p.facts, f)
		}
	}
}

// collectCards gives each axle that was looked at its pressure to set.
func (p *htmlPage) collectCards() {
	for i := range p.axles {
		a := &p.axles[i]
		if !a.seen() {
			continue
		}
		c := card{axle: axleTitle(a.line), noAir: airLines(p.r, a.line.ID)}
		switch s := a.setting; {
		case s == nil:
			c.unit = sayTooLittle
		case s.Set > 0 && (s.Outcome == inflation.CanSet || s.Outcome == inflation.TooClose):
			c.number, c.unit, _ = strings.Cut(p.psi(s.Set, weight.Ceiling), " ")
		default:
			c.unit = p.setWords(s)
		}
		if a.setting != nil {
			c.notes = p.cardNotes(a.setting)
		}
		p.cards = append(p.cards, c)
	}
}

// cardNotes are the few things that somebody who sets a pressure has to know;
// the details have the rest.
func (p *htmlPage) cardNotes(s *inflation.Setting) []string {
	out := p.shortLines(s)
	if s.AskPlacard {
		out = append(out, cardUntilPlacard)
	}
	var from []string
	given := s.Grounds.Pressure == inflation.FromPlacard || s.Grounds.Pressure == inflation.FromSidewall
	beside := given && s.LookUp.Estimated && s.Minimum > 0 // the estimate only asks
	switch {
	case beside:
		from = append(from, fmt.Sprintf(cardAsks, p.psi(s.Minimum, weight.Ceiling)))
	case s.LookUp.Estimated:
		from = append(from, cardEstimate)
	}
	if s.Grounds.Load != inflation.EndsWeighed {
		from = append(from, s.Grounds.Load.String())
	}
	if s.Minimum > 0 && s.Minimum != s.Set && !beside {
		from = append(from, fmt.Sprintf(cardLeast, p.psi(s.Minimum, weight.Ceiling)))
	}
	switch {
	case given:
		from = append(from, fmt.Sprintf(cardFrom, s.Grounds.Pressure))
	case s.Placard > 0 && s.Placard != s.Set:
		from = append(from, fmt.Sprintf(sayPlacard, p.psi(s.Placard, weight.Ceiling)))
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
	row := tireRow{at: t.At, number: numberWords(t), found: sheetNotTaken, tread: sheetNotRead}
	switch {
	case t.Low == report.Flat:
		row.mark = markFlat
	case t.Air == report.AirForbidden:
		row.mark = markNoAir
	case p.stops[t.At]:
		row.mark = markMustNotMove
	case t.Air == report.AirNotKnown && t.Axle != "":
		row.mark = markAskAir
	}
	if f, ok := t.Found.Get(); ok {
		if row.found = p.psi(f, weight.Floor); t.Hot {
			row.found = fmt.Sprintf(sheetHot, row.found)
		}
	}
	if l, ok := t.LeftAt.Get(); ok {
		row.left = p.psi(l, weight.Floor)
	}
	if d, ok := t.Tread.Get(); ok {
		row.tread = p.depth(d)
	}
	if t.Number == "" {
		row.number = sheetNotRead
	}
	if nothingRead(p.r) { // a form: what is to be read is to be written in
		row.found, row.tread, row.number = "", "", ""
	}
	return row
}

// entry puts a finding into the sheet's form.
func (p *htmlPage) entry(f *finding) entry {
	e := entry{number: f.number, what: f.what, advice: f.advice}
	if f.action != report.DoNotDrive && f.action != report.BeforeTrip && f.action != report.Plan {
		e.label = ActionWords(f.action) + " " // somebody's own action
	}
	if f.verdict == rules.TooClose {
		e.label += sheetTooClose
	}
	same := !slices.ContainsFunc(f.spots, func(s spot) bool { return s.bound != f.spots[0].bound })
	for i := range f.spots {
		s := entrySpot{placesOf(p.r, f.spots[i].places), f.spots[i].found}
		bound := f.spots[i].bound
		if f.action != report.DoNotDrive {
			bound = plainBound(bound)
		}
		switch {
		case bound == "":
		case same:
			e.wanted = fmt.Sprintf(sheetWanted, bound)
		default:
			s.found = fmt.Sprintf(sheetWantedHere, s.found, bound)
		}
		e.spots = append(e.spots, s)
	}
	return e
}

// plainBound is a bound without what it was computed from: "at least 4/32 in (3.2 mm)",
// of which the visit's own unit stays.
func plainBound(bound string) string {
	plain, behind, _ := strings.Cut(bound, " (")
	own, _, _ := strings.Cut(strings.TrimSuffix(behind, ")"), ";")
	switch _, unit, _ := strings.Cut(own, " "); unit {
	case "kPa", "psi", "mm", "in", "kg", "lb":
		return plain + " (" + own + ")"
	}
	return plain
}

func (p *htmlPage) first(m *markup) {
	m.lit(`<article class="sheet `, p.density.class, `" id="page-1">`+"\n"+`<header><div class="top">`)
	if p.longName() {
		m.lit(`<h1 class="long">`)
	} else {
		m.lit("<h1>")
	}
	m.element("<bdi>", p.coach(), `</bdi></h1> <p>`)
	m.text(sheetKind)
	if p.r.Invented {
		m.element(", ", sheetInvented, "")
	}
	m.lit("</p></div>\n")
	factList(m, p.facts)
	m.lit("</header>\n" + `<section class="verdict`)
	if p.r.Drive.Stops() {
		m.lit(" stops")
	}
	m.element(`"><h2>`, p.answer, "</h2> ")
	for _, s := range p.answerLines() {
		m.element("<p>", s, "</p>")
	}
	m.lit("</section>\n")
	if p.runsOver {
		m.element(`<p class="after"><b>`, sheetRunsOver, "</b></p>\n")
	}
	if len(p.now) > 0 {
		m.element(`<section class="now"><h2>`, sheetNow, "</h2>\n")
		entries(m, p.now)
		m.lit("</section>\n")
	}

	m.element(`<section><h2>`, sheetSet, `</h2>`+"\n"+`<div class="set"><ul class="cards">`+"\n")
	for i := range p.cards {
		p.setCard(m, &p.cards[i])
	}
	m.lit("</ul>\n<figure>")
	p.plan(m)
	m.lit("</figure></div></section>\n")

	if p.laterOver {
		m.element(`<section class="before wide"><h2>`, sheetBefore, "</h2>\n")
		p.entryList(m, p.before)
		m.element(`</section><p class="after">`, fmt.Sprintf(sheetLaterOver, sheetLater, things(len(p.later))), "</p>\n")
	} else {
		m.element(`<div class="two"><section class="before"><h2>`, sheetBefore, "</h2>\n")
		p.entryList(m, p.before)
		m.element(`</section>`+"\n"+`<section class="later"><h2>`, sheetLater, "</h2>\n")
		p.entryList(m, p.later)
		m.list(p.ages)
		m.lit("</section></div>\n")
	}

	last := sheetFirst
	if p.tiresOver {
		last = sheetGoesOn
	} else {
		p.tireTables(m)
	}
	m.element(`<p class="after"><b>`, last, "</b></p>\n</article>\n")
}

// tireTables writes every tire as found.
func (p *htmlPage) tireTables(m *markup) {
	m.element(`<section><h2 class="unseen">`, sheetTires, `</h2>`+"\n"+`<div class="two">`+"\n")
	tireTable(m, sheetLeftSide, p.left)
	tireTable(m, sheetRightSide, p.right)
	m.lit("</div></section>\n")
}

// answerLines are what stands below the answer about driving.
func (p *htmlPage) answerLines() []string {
	var out []string
	if advice := driveAdvice(p.r); advice != "" {
		out = append(out, advice)
	}
	if len(p.all) > 0 {
		out = append(out, fmt.Sprintf(sheetTally, len(p.now), len(p.before), len(p.later)))
	}
	return append(out, gapWords(p.r))
}

func (p *htmlPage) setCard(m *markup, c *card) {
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
		m.element(`<p class="psi">`, sheetSetWord, " <b>").text(c.number).element("</b> ", c.unit, "</p></div>\n")
	} else {
		m.element(`<p class="words">`, c.unit, "</p></div>\n")
	}
	for _, line := range c.noAir {
		m.element(`<p class="noair">`, line, "</p>\n")
	}
	m.lit("</li>\n")
}

// back writes the other side of the sheet.
func (p *htmlPage) back(m *markup) {
	m.lit(`<article class="sheet back" id="page-2">` + "\n")
	if p.tiresOver {
		p.tireTables(m)
	}
	if len(p.rest) > 0 {
		m.element("<section><h2>", backTitle, "</h2>\n"+`<div class="flow">`)
		entries(m, p.rest)
		m.lit("</div></section>\n")
	}
	if p.laterOver && len(p.ages) > 0 {
		m.element("<section><h2>", backAges, "</h2>\n").list(p.ages).lit("</section>\n")
	}
	m.element(`<div class="flow"><section><h2>`, backGaps, "</h2>\n")
	if len(p.r.Unjudged) == 0 {
		m.element("<p>", sayAllJudged, "</p>\n")
	}
	var gaps []string
	for _, hidden := range []bool{false, true} {
		words := sayReadHere
		if hidden {
			words = sayFindOut
		}
		for _, g := range gapsByNeed(gapsOf(p.r, hidden)) {
			gaps = append(gaps, fmt.Sprintf(words, placesOf(p.r, g.places), g.need))
		}
	}
	m.list(gaps)
	m.element("</section>\n<section><h2>", backCautions, "</h2>\n").list(ownFirst(p.r)).lit("</section></div>\n")
	p.also(m)
	p.card(m)
	m.element(`<footer class="foot"><p>`, sheetRecalls, "</p>\n")
	m.element(`<div class="two"><section><p>`, sheetWheelOff, `</p>`)
	blanks(m, signWheels, signTorque, signChecked)
	m.lit("</section>\n<section>")
	p.declined(m)
	m.element("<p>", sheetHandOver, "</p>")
	blanks(m, signName, signSignature, signDate)
	m.lit("</section></div></footer>\n</article>\n")
}

// ownFirst puts the cautions about this coach's axles before the general ones.
func ownFirst(r *report.Report) []string {
	all := cautionsByText(r)
	slices.SortStableFunc(all, func(a, b string) int { return boolOrder(ofAxle(r, b)) - boolOrder(ofAxle(r, a)) })
	return all
}

func boolOrder(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ofAxle reports whether a caution begins with an axle's name.
func ofAxle(r *report.Report, caution string) bool {
	head, _, ok := strings.Cut(caution, ": ")
	return ok && slices.ContainsFunc(r.Axles, func(a report.AxleLine) bool { return strings.HasPrefix(head, a.ID) })
}

// blanks are lines to write on, each with what belongs there.
func blanks(m *markup, names ...string) {
	m.lit(`<p class="blanks">`)
	for i, name := range names {
		if i > 0 {
			m.lit(" ")
		}
		m.element("<span>", name, "</span>")
	}
	m.lit("</p>")
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
		m.element(": ", e.what, ".")
		for _, s := range []string{e.wanted, e.advice} {
			if s != "" {
				m.element(" ", s, "")
			}
		}
		m.lit("</li>\n")
	}
	m.lit("</ol>\n")
}

func (p *htmlPage) entryList(m *markup, list []entry) {
	if len(list) > 0 {
		entries(m, list)
	} else {
		m.element("<p>", sheetNothing, "</p>\n")
	}
}

func tireTable(m *markup, caption string, rows []tireRow) {
	m.element(`<table class="tires"><caption>`, caption, "</caption>\n<thead><tr>")
	m.element(`<th scope="col" class="c1">`, sheetTire, "</th>").element(`<th scope="col" class="c2">`, sheetFound, "</th>")
	m.element(`<th scope="col" class="c3">`, sheetLeftAt, "</th>").element(`<th scope="col" class="c4">`, sheetTread, "</th>")
	m.element(`<th scope="col">`, sheetNumber, "</th></tr></thead>\n<tbody>\n")
	for i := range rows {
		r := &rows[i]
		m.element(`<tr><th scope="row">`, r.at, "")
		if r.mark != "" {
			m.element(` <span class="flag">`, r.mark, "</span>")
		}
		m.lit("</th>")
		for _, cell := range [...]string{r.found, r.left, r.tread, r.number} {
			if cell == "" {
				m.element(`<td><span class="write" role="img" aria-label="`, sheetWriteIn, `"></span></td>`)
			} else {
				m.element("<td>", cell, "</td>")
			}
		}
		m.lit("</tr>\n")
	}
	m.lit("</tbody></table>\n")
}

package sheet

import (
	"fmt"
	"io"
	"strings"

	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

// HistoryHTML writes a history as one self-contained HTML page in UTF-8, as [HTML]
// does a report: what is still open first, then each load, each tire's tread and
// the air it lost over time as small charts with their plus/minus and limits, and
// what was closed. Six visits to a coach with ten tires print on one sheet of
// Letter or A4 paper. The error is w's.
func HistoryHTML(w io.Writer, h history.History) error {
	p := &historySheet{historyPage: newHistoryPage(h, TextOptions{}), m: &markup{b: make([]byte, 0, 48<<10)}}
	m := p.m
	m.lit(pageStart).element("<title>", p.pageTitle(), "</title>\n<style>").lit(style).lit("</style>\n</head>\n<body>\n<main>\n")
	m.lit(`<article class="sheet history" id="page-1">` + "\n")
	p.heading()
	m.element("<p>", p.summary(), "</p>\n")
	p.openList()
	p.loadCharts()
	p.tireCharts()
	p.gone()
	p.lists()
	m.lit("</article>\n</main>\n</body>\n</html>\n")
	_, err := w.Write(m.b)
	return err
}

// A historySheet is a history being written as HTML.
type historySheet struct {
	*historyPage
	m      *markup
	drawn  int
	number int
}

func (p *historySheet) pageTitle() string {
	return fmt.Sprintf(sayHistoryPageTitle, p.name(), p.last().Date)
}

func (p *historySheet) name() string {
	if p.h.Coach == "" {
		return sayHistoryNoName
	}
	return p.h.Coach
}

func (p *historySheet) heading() {
	m := p.m
	m.element(`<header><div class="top"><h1 class="long"><bdi>`, p.name(), "</bdi></h1> <p>")
	m.text(sayHistoryTitle).lit("</p></div>\n")
	facts := p.headings()
	if p.h.Coach != "" {
		facts = facts[1:]
	}
	m.element("<p>", strings.Join(facts, ", "), "")
	if p.h.Invented {
		m.element(". ", sayInvented, "")
	}
	m.lit("</p></header>\n")
	m.lit(`<section class="verdict`)
	if p.h.Drive.Stops() {
		m.lit(" stops")
	}
	open := things(len(p.h.Open) + len(p.h.Todo))
	m.element(`"><h2>`, p.verdict(), "</h2> <p>")
	m.text(fmt.Sprintf(sayOpenCount, open, p.h.NotJudged)).lit("</p></section>\n")
}

func (p *historySheet) openList() {
	p.m.element("<section><h2>", titleOpen, "</h2>\n")
	if lines := p.openLines(); len(lines) > 0 {
		p.m.lit(`<ul class="list flow">` + "\n")
		for _, s := range lines {
			p.m.element("<li>", s, "</li>\n")
		}
		p.m.lit("</ul>")
	} else {
		p.m.element("<p>", sayNothing, "</p>")
	}
	p.m.lit("</section>\n")
}

// draw draws a chart over all visits.
func (p *historySheet) draw(c *chart) {
	c.from, c.to = p.h.Visits[0].Date, p.last().Date
	var words []string
	for _, line := range c.lines {
		for _, k := range line {
			words = append(words, fmt.Sprintf(sayChartPoint, k.on, k.label))
		}
	}
	if c.limitLabel != "" {
		words = append(words, fmt.Sprintf(sayChartLimit, c.limitLabel))
	}
	c.words = strings.Join(words, " ")
	p.drawn++
	drawChart(p.m, p.drawn, c)
}

// loadCharts draws both ends of each axle in one chart, and each load that stands
// alone in one of its own.
func (p *historySheet) loadCharts() {
	m := p.m
	m.lit("<section>")
	if len(p.h.Weighed) == 0 {
		m.element("<h2>", titleLoads, "</h2>\n").element("<p>", sayNotWeighed, "</p></section>\n")
		return
	}
	m.element("<h2>", titleLoads, " ").element("<small>", fmt.Sprintf(sayLoadsCharts, p.h.Visits[0].Date, p.last().Date), "</small></h2>\n"+`<div class="charts loads">`)
	for i := range p.h.Weighed {
		l := &p.h.Weighed[i]
		switch axle, end := strings.CutSuffix(l.Name, "-"+weight.Left.String()); {
		case l.Kind == report.EndLoad && end && p.weighed(axle, weight.Right) != nil:
			p.loadChart(axle, l, p.weighed(axle, weight.Right))
		case l.Kind == report.EndLoad && p.otherEnd(l.Name), l.Kind == report.AxleLoad && p.weighed(l.Name, weight.Left) != nil && p.weighed(l.Name, weight.Right) != nil:
			// It stands in the chart of its axle.
		default:
			p.loadChart(l.Name, l)
		}
	}
	m.lit("</div></section>\n")
}

// weighed is what is known of an end, nil where it was never weighed.
func (p *historyPage) weighed(axle string, side weight.Side) *history.LoadHistory {
	for i := range p.h.Weighed {
		if l := &p.h.Weighed[i]; l.Kind == report.EndLoad && l.Name == record.EndName(axle, side) {
			return l
		}
	}
	return nil
}

// otherEnd reports whether an end is the right one of an axle whose left one was
// weighed too.
func (p *historySheet) otherEnd(name string) bool {
	axle, right := strings.CutSuffix(name, "-"+weight.Right.String())
	return right && p.weighed(axle, weight.Left) != nil
}

// pastLimit says that a load is over its limit, or may be, "" where it is not.
func pastLimit(l *history.LoadHistory) string {
	switch e := l.At[len(l.At)-1].Load; {
	case l.Limit == 0:
	case e.Load-e.PlusMinus > l.Limit:
		return sayOver
	case e.Load+e.PlusMinus > l.Limit:
		return sayMayBeOver
	}
	return ""
}

func (p *historySheet) loadChart(name string, loads ...*history.LoadHistory) {
	c := chart{title: fmt.Sprintf(sayLoadChart, name), width: 152}
	m, limit := p.m, ""
	m.element("<figure><figcaption><b>", name, "</b>")
	for i, l := range loads {
		var line []chartPoint
		for _, at := range l.At {
			label := bare(p.mass(at.Load.Load, weight.Nearest))
			if len(loads) > 1 {
				label = [...]string{"L ", "R "}[i] + label
			}
			line = append(line, chartPoint{at.Date, int64(at.Load.Load), int64(at.Load.PlusMinus), label})
		}
		c.lines = append(c.lines, line)
		if l.Limit > 0 && (c.limit == 0 || int64(l.Limit) < c.limit) {
			c.limit, c.limitLabel, limit = int64(l.Limit), bare(p.mass(l.Limit, weight.Floor)), l.LimitName
		}
		m.lit("<br>")
		if len(loads) > 1 {
			m.text([...]string{sayLeftEnd, sayRightEnd}[i] + " ")
		}
		m.text(p.estimate(l.At[len(l.At)-1].Load))
		if s := pastLimit(l); s != "" {
			m.element(": <b>", s, "</b>")
		}
		if s := p.changed(l); s != "" {
			m.element("; ", s, "")
		}
	}
	if c.limitLabel != "" {
		m.element("<br>", limitWords(limit, p.mass(weight.Mass(c.limit), weight.Floor)), "")
	}
	m.lit("</figcaption>")
	p.draw(&c)
	m.lit("</figure>\n")
}

// tireCharts draws the tread and the leaks of each tire that is on the coach.
func (p *historySheet) tireCharts() {
	m := p.m
	m.element("<section><h2>", titleTires, " ").element("<small>", sayTiresCharts, "</small></h2>\n"+`<div class="charts treads">`)
	for i := range p.h.Tires {
		t := &p.h.Tires[i]
		if t.Presence != history.OnCoach || !t.Wear.Is() && len(t.Leaks) == 0 {
			continue
		}
		m.element("<figure><figcaption><b>", t.At, "</b>")
		if t.Number != "" {
			m.element(" ", t.Number, "")
		}
		if n := len(t.Sightings); n > 1 && t.Sightings[n-1].At != t.Sightings[0].At {
			m.element(" (", fmt.Sprintf(sayMovedFrom, t.Sightings[0].At), ")")
		}
		if limit := p.nextLimit(t); limit != sayLimitNone {
			m.element("; ", limit, "")
		}
		m.lit("</figcaption>" + `<div class="pair">`)
		p.treadChart(t)
		p.leakChart(t)
		m.lit("</div></figure>\n")
	}
	m.lit("</div></section>\n")
}

func (p *historySheet) treadChart(t *history.TireHistory) {
	var line []chartPoint
	for _, s := range t.Sightings {
		if d, ok := s.Tread.Get(); ok {
			line = append(line, chartPoint{s.Date, int64(d), int64(s.TreadPlusMinus), bare(p.depth(d))})
		}
	}
	if len(line) == 0 {
		return
	}
	c := chart{title: fmt.Sprintf(sayTreadChart, t.At), width: 150, lines: [][]chartPoint{line}}
	if w, ok := t.Wear.Get(); ok && len(w.Limits) > 0 {
		c.limit, c.limitLabel = int64(w.Limits[0].Depth), bare(p.limitDepth(w.Limits[0]))
	}
	p.draw(&c)
}

func (p *historySheet) leakChart(t *history.TireHistory) {
	if len(t.Leaks) == 0 {
		return
	}
	var line []chartPoint
	for _, l := range t.Leaks {
		line = append(line, chartPoint{l.To, int64(l.PerMonth), int64(l.PlusMinus), p.psi(l.PerMonth, weight.Nearest)})
	}
	c := chart{title: fmt.Sprintf(sayLeakChart, t.At), width: 150, bars: true, lines: [][]chartPoint{line}}
	if v, ok := p.h.LeakLimit.Get(); ok {
		c.limit, c.limitLabel = int64(v), p.psi(v, weight.Floor)
	}
	p.draw(&c)
}

// gone names the tires of which there is nothing to draw, and those that left the
// coach.
func (p *historySheet) gone() {
	var lines []string
	for i := range p.h.Tires {
		t := &p.h.Tires[i]
		head := t.At
		if t.Number != "" {
			head += " (" + t.Number + ")"
		}
		switch last := t.Sightings[len(t.Sightings)-1].Date; {
		case t.Presence != history.OnCoach:
			lines = append(lines, fmt.Sprintf(sayGoneLine, fmt.Sprintf(saySeenLast, head, t.Presence, last), p.treadRange(t)))
		case !t.Wear.Is() && len(t.Leaks) == 0:
			lines = append(lines, fmt.Sprintf(sayGoneLine, head, p.treadRange(t)))
		}
	}
	if len(lines) > 0 {
		p.m.element("<section><h3>", sayNotDrawn, "</h3>\n<p>").text(strings.Join(lines, ". ")).lit(".</p></section>\n")
	}
}

// lists are what was closed, what contradicts, what was not judged, in
// two columns, and the cautions.
func (p *historySheet) lists() {
	var closed, contradict, gaps []string
	for i, ad := range p.h.Closed {
		if i == shortClosed {
			closed = append(closed, fmt.Sprintf(sayClosedMore, len(p.h.Closed)-i))
			break
		}
		closed = append(closed, fmt.Sprintf(sayClosedShort, ad.Closed, ad.Item.Where, ad.Item.What, ad.How))
	}
	for _, c := range p.h.Contradictions {
		contradict = append(contradict, fmt.Sprintf("%s, %s: %s", c.Date, c.Where, c.What))
	}
	for _, g := range gapsByNeed(p.h.Unjudged) {
		gaps = append(gaps, strings.Join(g.places, ", ")+": "+g.need)
	}
	p.m.lit(`<div class="flow">`)
	for _, l := range []struct {
		title string
		lines []string
	}{{titleContradict, contradict}, {titleUnjudged, gaps}, {titleClosed, closed}} {
		if len(l.lines) > 0 {
			p.m.element("<section><h2>", l.title, "</h2>\n").list(l.lines).lit("</section>\n")
		}
	}
	p.m.lit("</div>\n" + `<footer class="foot">`)
	for _, c := range p.shortCautions() {
		p.m.element("<p>", c, "</p>")
	}
	p.m.lit("</footer>\n")
}

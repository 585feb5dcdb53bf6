package sheet

import (
	"slices"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// details writes the pages behind the first: everything that the report says.
func (p *htmlPage) details(m *markup) {
	m.lit(`<article class="sheet details" id="details">` + "\n<h2>Details</h2>\n<h2>What everything carries</h2>\n")
	p.loadTable(m)
	m.lit("<h2>Scale readings</h2>\n")
	if len(p.r.Readings) == 0 {
		m.lit("<p>Not weighed.</p>\n")
	} else {
		m.head("", "Reading", "Load", "Plus/minus", "Away from what all readings say")
		for _, x := range p.r.Readings {
			m.row(x.Name, p.mass(x.Load, weight.Nearest), p.mass(x.Tolerance, weight.Ceiling), p.mass(x.Residual, weight.Nearest))
		}
		m.tail()
	}
	m.lit("<h2>Load and pressure, axle by axle</h2>\n")
	for i := range p.axles {
		p.axleDetail(m, &p.axles[i], i+1)
	}
	m.lit("<h2>Tires</h2>\n")
	m.head("", "Tire", "Size", "Load", "Pressure", "Tread", "Made", "Seen, note")
	for i := range p.r.Tires {
		p.tireDetail(m, &p.r.Tires[i])
	}
	m.tail()
	var pairs []string
	for i := range p.r.Pairs {
		pairs = append(pairs, p.pairLines(&p.r.Pairs[i])...)
	}
	m.list(append(pairs, p.speedLines(&p.r.Slowest)...))
	p.verdicts(m)
	m.lit("<h2>Everything that was not judged</h2>\n")
	if len(p.r.Unjudged) == 0 {
		m.lit("<p>Nothing.</p>\n")
	} else {
		m.head("", "Where", "What to record", "Rules that wait for it")
		for _, g := range gapsByNeed(p.r.Unjudged) {
			m.row(strings.Join(g.places, ", "), g.need, strings.Join(g.rules, ", "))
		}
		m.tail()
	}
	m.lit("<h2>All cautions</h2>\n").list(cautionsByText(p.r))
	m.lit("<h2>Sources</h2>\n").list(p.sources())
	m.element("<p>Rule packs: ", strings.Join(p.r.Packs, ", "), ".</p>\n</article>\n")
}

func (p *htmlPage) loadTable(m *markup) {
	m.head("", "What", "Load", "Rating", "Verdict", "Room, plus/minus taken off")
	var settle []string
	for i := range p.r.Loads {
		l := &p.r.Loads[i]
		name, load := loadName(*l), p.estimate(l.Estimate)
		for j := range l.Ratings {
			g := &l.Ratings[j]
			m.row(name, load, g.Name+" "+p.mass(g.Rating, weight.Floor), verdictWord(g.Verdict), p.mass(g.Room, weight.Floor))
			name, load = "", "" // said once
		}
		if len(l.Ratings) == 0 {
			m.row(name, load, "", "not judged", "")
		}
		for _, s := range l.Settle {
			settle = append(settle, loadName(*l)+": "+s)
		}
	}
	m.tail()
	if len(settle) > 0 {
		m.lit("<h3>What would settle the loads that are not known</h3>\n").list(settle)
	}
}

func (p *htmlPage) axleDetail(m *markup, a *axleView, number int) {
	m.element(`<section class="axle"><h3>`, axleTitle(a.line)+" axle, "+a.line.Fitment.String(), "</h3>\n<div><figure>")
	if !p.curve(m, number, a.line, a.setting) {
		if !a.seen() {
			m.lit("Nothing was written down of this axle's tires.")
		} else {
			m.lit("No table was seen for this axle: there is no curve to draw.")
		}
	}
	m.lit("</figure></div>\n<div>")
	if s := a.setting; s != nil {
		m.list(p.settingLines(s)).lit("</div>\n<div>")
		if len(a.line.Rows) > 0 {
			m.head("rows", "Cold pressure", "One tire carries", "Note")
			for _, r := range a.line.Rows {
				note := ""
				switch r.Pressure {
				case s.Set:
					note = "SET"
				case s.Minimum:
					note = "least"
				}
				m.row(p.psi(r.Pressure, weight.Nearest), p.mass(r.Load, weight.Floor), note)
			}
			m.tail()
		}
	}
	m.lit("</div></section>\n")
}

func (p *htmlPage) tireDetail(m *markup, t *report.TireLine) {
	tread, seen, load := "not read", "not looked at", ""
	if d, ok := t.Tread.Get(); ok {
		tread = p.depth(d) + p.treadLines(t)
	}
	if set, ok := t.Seen.Get(); ok {
		words := make([]string, 0, 4)
		for _, c := range set.All() {
			words = append(words, c.String())
		}
		if seen = strings.Join(words, ", "); seen == "" {
			seen = "nothing"
		}
	}
	if t.OtherNumber != "" {
		seen += "; other sidewall's number: " + t.OtherNumber
	}
	for _, line := range p.measured(t) {
		seen += "; " + line
	}
	if t.Note != "" {
		seen += "; note: " + t.Note
	}
	if t.Axle != "" {
		load = p.estimate(t.Load)
	}
	m.row(t.At, t.Size, load, p.pressureLine(t), tread, dateLine(t), seen)
}

func (p *htmlPage) verdicts(m *markup) {
	m.lit("<h2>Every verdict but those that were kept, the worst first</h2>\n" + `<ol class="verdicts">` + "\n")
	for i := range p.all {
		f := &p.all[i]
		m.lit("<li><b>").num(f.number).lit(". ").text(ActionWords(f.action)).lit(": ").text(f.what).lit("</b> (").text(f.verdict.String()).lit(")")
		for j := range f.spots {
			s := &f.spots[j]
			m.lit("<br>").text(strings.Join(s.places, ", "))
			if words := s.figures(); words != "" {
				m.lit(": ").text(words)
			}
		}
		m.element("<br>", f.advice, "")
		if len(f.causes) > 0 {
			m.element("<br>Perhaps, the likeliest first: ", strings.Join(f.causes, "; "), ".")
		}
		m.lit(`<br><span class="rule">`)
		if len(f.rules) > 0 {
			m.element("rule ", strings.Join(f.rules, ", "), ": ")
		}
		for j, s := range f.sources {
			if j > 0 {
				m.lit("; ")
			}
			m.text(s.String())
		}
		m.lit("</span></li>\n")
	}
	m.lit("</ol>\n<p>Besides, ").num(p.r.Kept).lit(" bounds were kept.</p>\n")
}

// sources lists where the figures come from, each once.
func (p *htmlPage) sources() []string {
	var list []origin.Source
	add := func(s origin.Source) {
		if s.Grade != 0 && !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	for i := range p.r.Settings {
		add(p.r.Settings[i].Grounds.Source)
	}
	for i := range p.all {
		for _, s := range p.all[i].sources {
			add(s)
		}
	}
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = s.String()
	}
	return out
}

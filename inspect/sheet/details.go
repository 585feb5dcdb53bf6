package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// details writes the pages behind the first: everything that the report says.
func (p *htmlPage) details(m *markup) {
	m.lit(`<article class="sheet details" id="details">` + "\n")
	heading(m, detailsTitle)
	heading(m, detailsLoads)
	p.loadTable(m)
	heading(m, detailsReadings)
	if len(p.r.Readings) == 0 {
		m.element("<p>", sayNotWeighedText, "</p>\n")
	} else {
		m.head("", detailsReading, detailsLoad, detailsPlusMinus, detailsAway)
		for _, x := range p.r.Readings {
			m.row(x.Name, p.mass(x.Load, weight.Nearest), p.mass(x.Tolerance, weight.Ceiling), p.mass(x.Residual, weight.Nearest))
		}
		m.tail()
	}
	heading(m, detailsAxles)
	for i := range p.axles {
		p.axleDetail(m, &p.axles[i], i+1)
	}
	heading(m, titleTires)
	m.head("", detailsTire, detailsSize, detailsLoad, detailsPressure, detailsTread, detailsMade, detailsSeen)
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
	heading(m, detailsGaps)
	if len(p.r.Unjudged) == 0 {
		m.element("<p>", sayNothing, "</p>\n")
	} else {
		m.head("", detailsWhere, detailsNeed, detailsWaiting)
		for _, g := range gapsByNeed(p.r.Unjudged) {
			m.row(strings.Join(g.places, ", "), g.need, strings.Join(g.rules, ", "))
		}
		m.tail()
	}
	heading(m, detailsCautions)
	m.list(ownFirst(p.r))
	heading(m, detailsSources)
	m.list(p.sources())
	m.element("<p>", fmt.Sprintf(detailsPacks, strings.Join(p.r.Packs, ", ")), "</p>\n</article>\n")
}

func (p *htmlPage) loadTable(m *markup) {
	m.head("", detailsWhat, detailsLoad, detailsRating, detailsVerdict, detailsRoom)
	var settle []string
	half := false
	for i := range p.r.Loads {
		l := &p.r.Loads[i]
		name, load := loadName(*l), p.estimate(l.Estimate)
		for j := range l.Ratings {
			g := &l.Ratings[j]
			half = half || g.Name == report.HalfGAWR
			m.row(name, load, fmt.Sprintf(sayRating, g.Name, p.mass(g.Rating, weight.Floor)), verdictWord(g.Verdict), p.margin(g))
			name, load = "", "" // said once
		}
		if len(l.Ratings) == 0 {
			m.row(name, load, "", sayNotJudgedWord, "")
		}
		for _, s := range l.Settle {
			settle = append(settle, fmt.Sprintf(detailsSettleOf, loadName(*l), s))
		}
	}
	m.tail()
	if half {
		m.element("<p>", sayHalfGAWR, "</p>\n")
	}
	if len(settle) > 0 {
		m.element("<h3>", detailsSettle, "</h3>\n").list(settle)
	}
}

func (p *htmlPage) axleDetail(m *markup, a *axleView, number int) {
	m.element(`<section class="axle"><h3>`, fmt.Sprintf(detailsAxle, axleTitle(a.line), a.line.Fitment), "</h3>\n<div><figure>")
	if !p.curve(m, number, a.line, a.setting) {
		if !a.seen() {
			m.text(detailsUnseen)
		} else {
			m.text(detailsNoTable)
		}
	}
	m.lit("</figure></div>\n<div>")
	if s := a.setting; s != nil {
		m.list(p.settingLines(s)).lit("</div>\n<div>")
		if len(a.line.Rows) > 0 {
			m.head("rows", detailsCold, detailsCarries, detailsNote)
			for _, r := range a.line.Rows {
				note := ""
				switch r.Pressure {
				case s.Set:
					note = detailsSet
				case s.Minimum:
					note = detailsLeast
				}
				m.row(p.psi(r.Pressure, weight.Nearest), p.mass(r.Load, weight.Floor), note)
			}
			m.tail()
		}
	}
	m.lit("</div></section>\n")
}

func (p *htmlPage) tireDetail(m *markup, t *report.TireLine) {
	tread, seen, load := sheetNotRead, sayNotLookedAt, ""
	if d, ok := t.Tread.Get(); ok {
		tread = p.depth(d) + p.treadLines(t)
	}
	if t.Seen.Is() {
		seen = cmp.Or(seenWords(t), detailsSeenNone)
	}
	all := []string{seen}
	if t.OtherNumber != "" {
		all = append(all, fmt.Sprintf(detailsOther, t.OtherNumber))
	}
	all = append(all, p.measured(t)...)
	if t.Note != "" {
		all = append(all, fmt.Sprintf(sayNote, t.Note))
	}
	if t.Axle != "" {
		load = p.estimate(t.Load)
	}
	m.row(t.At, t.Size, load, p.pressureLine(t), tread, dateLine(t), strings.Join(all, "; "))
}

func (p *htmlPage) verdicts(m *markup) {
	heading(m, detailsFound)
	m.lit(`<ol class="verdicts">` + "\n")
	for i := range p.all {
		f := &p.all[i]
		title := fmt.Sprintf(detailsFinding, ActionWords(f.action), f.what)
		if f.verdict == rules.TooClose {
			title = fmt.Sprintf(sayTooClose, title)
		}
		m.lit("<li><b>").num(f.number).lit(". ").text(title).lit("</b>")
		for j := range f.spots {
			s := &f.spots[j]
			line := strings.Join(s.places, ", ")
			if words := s.figures(); words != "" {
				line = fmt.Sprintf(detailsAt, line, words)
			}
			m.element("<br>", line, "")
		}
		m.element("<br>", f.advice, "")
		if len(f.causes) > 0 {
			m.element("<br>", fmt.Sprintf(sayPerhaps, strings.Join(f.causes, "; ")), "")
		}
		sources := make([]string, len(f.sources))
		for j, s := range f.sources {
			sources[j] = s.String()
		}
		said := strings.Join(sources, "; ")
		if len(f.rules) > 0 {
			said = fmt.Sprintf(sayRule, strings.Join(f.rules, ", "), said)
		}
		m.element(`<br><span class="rule">`, said, "</span></li>\n")
	}
	m.element("</ol>\n<p>", fmt.Sprintf(detailsKept, p.r.Kept), "</p>\n")
}

// heading writes the heading of a part.
func heading(m *markup, text string) { m.element("<h2>", text, "</h2>\n") }

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

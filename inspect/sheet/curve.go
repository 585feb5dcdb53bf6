package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

// The curve's measures, in units of the drawing.
const (
	curveUnits  = 560
	curveHeight = 290
	plotLeft    = 84
	plotRight   = 420
	plotTop     = 46
	plotBottom  = 244
	curveSize   = 17
)

// A mark is a load on one tire that stands on the curve.
type mark struct {
	name string
	load weight.Mass
}

// marks are the loads of a setting's ends on one tire, at the top of their
// plus/minus and as they were looked up: a passenger tire's counts 1.10 times.
func marks(s *inflation.Setting) []mark {
	tires := weight.Mass(1)
	if s.Fitment == weight.Dual {
		tires = 2
	}
	looked := func(m weight.Mass) weight.Mass {
		m = (m + tires - 1) / tires
		if s.LookUp.Derated {
			m += (m + 9) / 10
		}
		return m
	}
	var out []mark
	if s.Left.State != 0 {
		out = append(out, mark{weight.Left.String(), looked(s.Left.Load.Load + s.Left.PlusMinus)})
	}
	if s.Right.State != 0 {
		out = append(out, mark{weight.Right.String(), looked(s.Right.Load.Load + s.Right.PlusMinus)})
	}
	if len(out) == 0 && s.TireLoad > 0 {
		load := s.TireLoad
		if s.LookUp.Derated {
			load += (load + 9) / 10
		}
		out = append(out, mark{curveAssumed, load})
	}
	return out
}

// curve draws the table's rows that an axle may use, pressure over the load on
// one tire, with the axle's ends marked. Without a table it draws nothing and reports
// false.
func (p *htmlPage) curve(m *markup, number int, a *report.AxleLine, s *inflation.Setting) bool {
	rows := a.Rows
	if len(rows) < 2 || s == nil {
		return false
	}
	at := marks(s)
	const gram = weight.Kilogram / 1000
	top := rows[len(rows)-1]
	low, high := rows[0].Load, top.Load
	for _, k := range at {
		low, high = min(low, k.load), max(high, k.load)
	}
	first, last := rows[0].Pressure, top.Pressure
	span := (high-low)/gram + 1
	if span <= 0 || low < 0 || last <= first {
		return false // no table that was read: they are refused
	}
	const pascal = inflation.Pascal
	wide := (last-first)/pascal + 1
	x := func(v inflation.Pressure) int {
		v = max(first, min(v, last))
		return plotLeft + 14 + int((v-first)/pascal*(plotRight-plotLeft-28)/wide)
	}
	y := func(v weight.Mass) int { return plotBottom - 12 - int((v-low)/gram*(plotBottom-plotTop-24)/span) }

	words := []string{fmt.Sprintf(curveTable, p.mass(rows[0].Load, weight.Floor), p.psi(first, weight.Nearest),
		p.mass(top.Load, weight.Floor), p.psi(last, weight.Nearest))}
	for _, k := range at {
		words = append(words, fmt.Sprintf(curveMark, k.name, p.mass(k.load, weight.Ceiling)))
	}
	if s.Set > 0 {
		words = append(words, fmt.Sprintf(curveSet, p.psi(s.Set, weight.Ceiling)))
	}

	m.beginDrawing(number, fmt.Sprintf(curveTitle, axleTitle(a)), strings.Join(words, " "), curveUnits, curveHeight)
	m.line("axis", plotLeft, plotTop, plotLeft, plotBottom).line("axis", plotLeft, plotBottom, plotRight, plotBottom)
	m.label("", 4, 15, curveSize, 200, atStart, curveLoad)
	m.label("", plotRight, curveHeight-4, curveSize, 300, atEnd, curvePressure)
	// Between two rows a tire carries what the lower one says: stairs.
	m.lit(`<path class="stairs" d="M`).num(x(first)).lit(` `).num(y(rows[0].Load))
	for _, r := range rows[1:] {
		m.lit(`H`).num(x(r.Pressure)).lit(`V`).num(y(r.Load))
	}
	m.lit(`"/>`)
	left := labelColumn{low: plotTop, high: plotBottom + 4, apart: curveSize + 1}
	left.put(y(rows[0].Load), p.mass(rows[0].Load, weight.Floor))
	left.put(y(top.Load), p.mass(top.Load, weight.Floor))
	for _, l := range left.placed() {
		m.label("", plotLeft-6, l.row+5, curveSize-1, plotLeft-8, atEnd, l.text)
	}
	step := (len(rows) + 5) / 6 // a label for at most six rows, and the last
	for i, r := range rows {
		m.circle("dot", x(r.Pressure), y(r.Load), 3)
		if i%step == 0 && (i+step < len(rows) || i == len(rows)-1) || i == len(rows)-1 {
			m.label("", x(r.Pressure), plotBottom+20, curveSize-1, 70, atMiddle, bare(p.psi(r.Pressure, weight.Nearest)))
		}
	}
	if s.Set > 0 && s.Set >= first && s.Set <= last {
		m.line("set", x(s.Set), plotTop-6, x(s.Set), plotBottom)
		m.label("strong", min(max(x(s.Set), plotLeft+40), plotRight-40), plotTop-10, curveSize, 160, atMiddle, fmt.Sprintf(saySet, p.psi(s.Set, weight.Ceiling)))
	}
	right := labelColumn{low: plotTop, high: plotBottom, apart: curveSize + 1}
	for i, k := range at {
		m.line([...]literal{"end", "end dashed"}[i], plotLeft, y(k.load), plotRight, y(k.load))
		right.put(y(k.load), fmt.Sprintf(curveMarkOf, k.name, p.mass(k.load, weight.Ceiling)))
	}
	for _, l := range right.placed() {
		m.label("strong", plotRight+6, l.row+5, curveSize, curveUnits-plotRight-8, atStart, l.text)
	}
	m.endDrawing()
	return true
}

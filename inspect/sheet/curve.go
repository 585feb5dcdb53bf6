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
	plotLeft    = 92
	plotRight   = 540
	plotTop     = 42
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
		if s.Answer.Derated {
			m += (m + 9) / 10
		}
		return m
	}
	var out []mark
	if s.Left.State != 0 {
		out = append(out, mark{"left", looked(s.Left.Load.Load + s.Left.PlusMinus)})
	}
	if s.Right.State != 0 {
		out = append(out, mark{"right", looked(s.Right.Load.Load + s.Right.PlusMinus)})
	}
	if len(out) == 0 && s.TireLoad > 0 {
		load := s.TireLoad
		if s.Answer.Derated {
			load += (load + 9) / 10
		}
		out = append(out, mark{"either end, assumed", load})
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
	x := func(v weight.Mass) int { return plotLeft + int((v-low)/gram*(plotRight-plotLeft-50)/span) + 25 }
	const pascal = inflation.Pascal
	tall := (last-first)/pascal + 1
	y := func(v inflation.Pressure) int {
		v = max(first, min(v, last))
		return plotBottom - 12 - int((v-first)/pascal*(plotBottom-plotTop-24)/tall)
	}

	var words strings.Builder
	fmt.Fprintf(&words, "On one tire the table carries %s at %s and %s at %s.", p.mass(rows[0].Load, weight.Floor), p.psi(first, weight.Nearest),
		p.mass(top.Load, weight.Floor), p.psi(last, weight.Nearest))
	for _, k := range at {
		fmt.Fprintf(&words, " %s: %s.", k.name, p.mass(k.load, weight.Ceiling))
	}
	if s.Set > 0 {
		fmt.Fprintf(&words, " To set: %s.", p.psi(s.Set, weight.Ceiling))
	}

	m.beginDrawing(number, "Load on one tire and the pressure it needs, "+axleTitle(a)+" axle", words.String(), curveUnits, curveHeight)
	m.line("axis", plotLeft, plotTop, plotLeft, plotBottom).line("axis", plotLeft, plotBottom, plotRight, plotBottom)
	m.label("", 4, 15, curveSize, 300, atStart, "cold pressure")
	m.label("", plotRight, curveHeight-4, curveSize, 300, atEnd, "load on one tire")
	// What the rows promise between two of them is the next one up: stairs.
	m.lit(`<path class="stairs" d="M`).num(plotLeft).lit(` `).num(y(first))
	for i, r := range rows {
		if i > 0 {
			m.lit(`V`).num(y(r.Pressure))
		}
		m.lit(`H`).num(x(r.Load))
	}
	m.lit(`"/>`)
	step := (len(rows) + 7) / 8 // a label for at most eight rows
	for i, r := range rows {
		m.circle("dot", x(r.Load), y(r.Pressure), 3)
		if i%step == 0 || i == len(rows)-1 {
			m.label("", plotLeft-6, y(r.Pressure)+5, curveSize-1, plotLeft-8, atEnd, p.psi(r.Pressure, weight.Nearest))
		}
	}
	m.label("", x(rows[0].Load), plotBottom+20, curveSize-1, 110, atMiddle, p.mass(rows[0].Load, weight.Floor))
	m.label("", x(top.Load), plotBottom+20, curveSize-1, 110, atMiddle, p.mass(top.Load, weight.Floor))
	if s.Set > 0 && s.Set >= first && s.Set <= last {
		m.line("set", plotLeft, y(s.Set), plotRight, y(s.Set))
		m.label("strong", plotLeft+6, y(s.Set)-5, curveSize, 200, atStart, "SET "+p.psi(s.Set, weight.Ceiling))
	}
	for i, k := range at {
		m.line([...]literal{"end", "end dashed"}[i], x(k.load), plotTop-4, x(k.load), plotBottom)
		anchor, shift := atEnd, -4
		if other := at[(i+1)%len(at)].load; k.load > other || k.load == other && i == 1 {
			anchor, shift = atStart, 4
		}
		if x(k.load) > plotRight-150 {
			anchor, shift = atEnd, -4
		} else if x(k.load) < plotLeft+150 {
			anchor, shift = atStart, 4
		}
		m.label("strong", x(k.load)+shift, plotTop-8+18*i, curveSize, 150, anchor, k.name+" "+p.mass(k.load, weight.Ceiling))
	}
	m.endDrawing()
	return true
}

package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A gapGroup is one thing that is missing, and everywhere it is.
type gapGroup struct {
	need   string
	places []string
	rules  []string
	hidden bool // of all of them
}

// gapsByNeed puts together what the same record would settle, in the order in
// which each need first comes.
func gapsByNeed(gaps []report.NotJudged) []gapGroup {
	var out []gapGroup
	for i := range gaps {
		g := &gaps[i]
		at := slices.IndexFunc(out, func(x gapGroup) bool { return x.need == g.Need })
		if at < 0 {
			at = len(out)
			out = append(out, gapGroup{need: g.Need, hidden: true})
		}
		x := &out[at]
		x.hidden = x.hidden && g.Hidden
		x.places = append(x.places, g.Where)
		for _, r := range g.Rules {
			if !slices.Contains(x.rules, r) {
				x.rules = append(x.rules, r)
			}
		}
	}
	return out
}

// A finding is what one rule, or several together, said with one verdict in
// one or more places.
type finding struct {
	number  int // from 1, the worst first
	first   *report.Item
	action  report.Action
	verdict rules.Verdict
	stops   bool
	what    string
	advice  string
	causes  []string
	spots   []spot
	rules   []string
	sources []origin.Source
}

// A spot is where something was found, and how much: places with the same
// figures share one.
type spot struct {
	places       []string
	found, bound string
}

// findings puts together the entries that say the same of several places; they
// keep the report's order, the worst first.
func findings(todo []report.Item) []finding {
	out := make([]finding, 0, len(todo))
	for i := range todo {
		it := &todo[i]
		at := slices.IndexFunc(out, func(f finding) bool { return f.first.SaysAs(it) })
		if at < 0 {
			at = len(out)
			out = append(out, finding{number: at + 1, first: it, action: it.Action, verdict: it.Verdict, stops: it.Stops,
				what: it.What, advice: it.Advice, causes: it.Causes, rules: it.Rules, sources: it.Sources})
		}
		f := &out[at]
		s := slices.IndexFunc(f.spots, func(s spot) bool { return s.found == it.Found && s.bound == it.Bound })
		if s < 0 {
			s = len(f.spots)
			f.spots = append(f.spots, spot{found: it.Found, bound: it.Bound})
		}
		f.spots[s].places = append(f.spots[s].places, it.Where)
	}
	return out
}

// figures says what was found and what was wanted, "" where there is nothing
// to measure.
func (s *spot) figures() string {
	if s.found == "" || s.bound == "" {
		return s.found
	}
	return fmt.Sprintf(sheetWantedHere, s.found, s.bound)
}

// places lists all the places of a finding.
func (f *finding) places() []string {
	var out []string
	for i := range f.spots {
		out = append(out, f.spots[i].places...)
	}
	return out
}

// cautionsByText puts together the cautions that are the same for several
// axles: "steer, drive: ...".
func cautionsByText(r *report.Report) []string {
	type caution struct{ axles, text string }
	out := make([]caution, 0, len(r.Cautions))
	for _, c := range r.Cautions {
		axle, text, ok := strings.Cut(c, ": ")
		if !ok || !slices.ContainsFunc(r.Axles, func(a report.AxleLine) bool { return a.ID == axle }) {
			axle, text = "", c
		}
		at := slices.IndexFunc(out, func(x caution) bool { return x.text == text })
		switch {
		case at < 0:
			out = append(out, caution{axle, text})
		case axle != "" && out[at].axles != "":
			out[at].axles += ", " + axle
		}
	}
	lines := make([]string, len(out))
	for i, c := range out {
		if lines[i] = c.text; c.axles != "" {
			lines[i] = c.axles + ": " + c.text
		}
	}
	return lines
}

// walk lists a report's tires as somebody walks round the coach: down the left
// side from the front, the outer tire of a pair before the inner, then up the
// right side from the rear, then the spares.
func walk(r *report.Report) (left, right, spares []*report.TireLine) {
	for i := range r.Tires {
		switch t := &r.Tires[i]; {
		case t.Axle == "":
			spares = append(spares, t)
		case t.Side == weight.Left:
			left = append(left, t)
		default:
			right = append(right, t)
		}
	}
	// The report has right inner before right outer, axle by axle from the
	// front: backwards it is the way from the rear, the outer one first.
	slices.Reverse(right)
	return left, right, spares
}

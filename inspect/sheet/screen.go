package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules"
)

const (
	// screenLines is what a screen holds. Where everything would take more, what is
	// for the next service is said in one line; what stops the coach and what comes
	// before the trip never is.
	screenLines = 38
	// screenGaps is how many things that were not judged a screen names, and one less
	// each time it is made shorter.
	screenGaps = 3
)

// mostTight is how often a screen can be made shorter.
const mostTight = 2

// screen is the page that fits a screen.
func (p *page) screen(tight int) {
	r := &p.r
	p.headline()

	p.title(saySetTitle)
	indent := 0
	for i := range r.Axles {
		indent = max(indent, columns(r.Axles[i].ID)+2)
	}
	indent = min(indent, p.width/3)
	for i := range r.Settings {
		s := &r.Settings[i]
		p.wrap(fmt.Sprintf("%-*s", indent, s.Name), strings.Repeat(" ", indent), strings.Join(append([]string{p.setWords(s)}, p.shortLines(s)...), "; "))
		for _, l := range airLines(r, s.Name) {
			p.wrap(strings.Repeat(" ", indent), strings.Repeat(" ", indent), l)
		}
	}

	if !nothingRead(r) {
		p.title(sayTodoTitle)
	}
	if len(r.Todo) == 0 && !nothingRead(r) {
		p.line(sayNothingTodo)
	}
	var later []string
	action := report.Action("")
	for _, f := range findings(r.Todo) {
		if tight > 0 && f.action == report.Plan && !f.stops {
			later = append(later, fmt.Sprintf(sayNumbered, f.number, f.what, placesOf(r, f.places())))
			continue
		}
		if f.action != action {
			action = f.action
			p.line("%s", ActionWords(action))
		}
		words := sayDo
		if f.verdict == rules.TooClose {
			words = sayDoClose
		}
		p.wrap(fmt.Sprintf(sayDoNumber, f.number), "    ", fmt.Sprintf(words, placesOf(r, f.places()), f.what))
	}
	switch {
	case len(later) > 0 && tight == mostTight:
		p.line(sayLaterCount, plural(len(later), "thing"))
	case len(later) > 0:
		p.line(sayLaterTitle, strings.Join(later, "; "))
	}

	if len(r.Unjudged) > 0 {
		p.title(titleUnjudged)
	}
	named := screenGaps - tight
	left := named
	for _, hidden := range []bool{false, true} {
		words := sayReadHere
		if hidden {
			words = sayFindOut
		}
		groups := gapsByNeed(gapsOf(r, hidden))
		for _, g := range groups[:min(left, len(groups))] {
			p.wrap("- ", "  ", fmt.Sprintf(words, placesOf(r, g.places), g.need))
			left--
		}
	}
	if more := len(gapsByNeed(r.Unjudged)) - named; more > 0 {
		p.line(sayGapsMore, more)
	}

	p.b.WriteByte('\n')
	for _, c := range p.lastCautions() {
		p.line("%s", c)
	}
	if p.more != "" {
		p.line("%s", p.more)
	}
}

// gapsOf are those that a walk-round shows, or those that it does not.
func gapsOf(r *report.Report, hidden bool) []report.NotJudged {
	var out []report.NotJudged
	for i := range r.Unjudged {
		if r.Unjudged[i].Hidden == hidden {
			out = append(out, r.Unjudged[i])
		}
	}
	return out
}

// lastCautions are the weightiest, which come last: one, or two where the coach
// must not move.
func (p *page) lastCautions() []string {
	n := 1
	if p.r.Drive.Stops() {
		n = 2
	}
	return lastOf(p.r.Cautions, n)
}

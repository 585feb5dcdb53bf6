package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/rules"
)

// A screen is made shorter step by step until it has no more than screenLines in 80
// columns, and as many more as it is narrower. What stops the coach stands there by
// its title and its places whatever the step.
const (
	screenLines   = 40
	screenColumns = 80
)

// The steps, each with what those before it leave out.
const (
	laterTogether = iota + 1 // what is for the next service runs on in one sentence
	laterCounted             // or is counted
	gapsFew                  // one thing that was not judged is named
	factsFew                 // what was aboard is left to the full page
	beforeBare               // what comes before the trip runs on, as far as there is room
	mostTight     = beforeBare
)

// screenGaps is how many things that were not judged a screen names, and
// screenPlaces, at how many places where it names one alone.
const (
	screenGaps   = 3
	screenPlaces = 3
)

// A screen is the short page of a report: its texts, and how they are laid out.
type screen struct {
	page
	groups  []screenGroup
	gaps    []gapGroup // those that are named
	unnamed int        // how many are not
}

// A screenGroup is what is to be done under one action, each text whole but for the
// stop at its end.
type screenGroup struct {
	word         string
	stops, later bool
	tasks        []string // with their places
	titles       []string
}

// screenText writes the page that fits a screen.
func screenText(r report.Report, opt TextOptions) string {
	s := &screen{page: *newPage(r, opt)}
	s.collectGroups()
	s.collectGaps()
	for {
		s.write()
		if s.tight == mostTight || s.lines() <= s.most() {
			return s.b.String()
		}
		size := s.b.Len()
		s.b.Reset()
		s.b.Grow(size)
		s.tight++
	}
}

// lines is how many lines the page has.
func (p *page) lines() int { return strings.Count(p.b.String(), "\n") }

// most is how many it may have.
func (s *screen) most() int { return max(screenLines, screenLines*screenColumns/s.width) }

// collectGroups puts together what has one title under one action.
func (s *screen) collectGroups() {
	all := findings(s.r.Todo)
	seen := make([]bool, len(all))
	last := report.Action("")
	for i := range all {
		f := &all[i]
		if seen[i] {
			continue
		}
		places := f.places()
		for j := i + 1; j < len(all); j++ {
			if f.sameTitle(&all[j]) {
				seen[j] = true
				places = joined(places, all[j].places()...)
			}
		}
		if len(s.groups) == 0 || f.action != last {
			last = f.action
			s.groups = append(s.groups, screenGroup{word: ActionWords(f.action), later: f.action == report.Plan, stops: f.action == report.DoNotDrive})
		}
		g := &s.groups[len(s.groups)-1]
		words := sayDo
		if f.verdict == rules.TooClose {
			words = sayDoClose
		}
		g.stops, g.later = g.stops || f.stops, g.later && !f.stops
		g.tasks, g.titles = append(g.tasks, fmt.Sprintf(words, shortPlaces(&s.r, places), f.what)), append(g.titles, f.what)
	}
}

// sameTitle reports whether two findings are one on a page that shows only titles.
func (f *finding) sameTitle(x *finding) bool {
	return x.what == f.what && x.action == f.action && x.verdict == f.verdict && x.stops == f.stops
}

// joined adds what is not in a list yet.
func joined(list []string, more ...string) []string {
	for _, s := range more {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return list
}

// collectGaps finds what was not judged and is named here: what can be read here first.
func (s *screen) collectGaps() {
	all := append(gapsByNeed(gapsOf(&s.r, false)), gapsByNeed(gapsOf(&s.r, true))...)
	s.gaps = all[:min(screenGaps, len(all))]
	s.unnamed = len(all) - len(s.gaps)
}

func (s *screen) write() {
	s.headline()
	s.settings()
	tail := &screen{page: page{units: s.units, r: s.r, width: s.width, tight: s.tight, more: s.more}, gaps: s.gaps, unnamed: s.unnamed}
	tail.tail()
	s.todo(tail)
	s.b.WriteString(tail.b.String())
}

// settings has the pressure to set on each axle, and what nobody may air up.
func (s *screen) settings() {
	r := &s.r
	s.title(saySetTitle)
	indent := 0
	for i := range r.Axles {
		indent = max(indent, columns(r.Axles[i].ID)+2)
	}
	indent = min(indent, s.width/3)
	rest := strings.Repeat(" ", indent)
	ask := false
	for i := range r.Settings {
		set := &r.Settings[i]
		over := strings.Join(s.shortLines(set), "; ")
		if s.tight >= gapsFew {
			over = s.heavyWords(set)
		}
		text := s.setWords(set)
		if over != "" {
			text += "; " + over
		}
		first := fmt.Sprintf("%-*s", indent, set.Name)
		air := airOf(r, set.Name)
		ask = ask || len(air.unknown) > 0
		for _, l := range air.lines(sayAskAirShort, sayAskAirAxleShort, func(list []string) string { return shortPlaces(r, list) }) {
			if both := text + "; " + l; columns(both) <= s.width-indent {
				text = both
				continue
			}
			s.wrap(first, rest, text)
			first, text = rest, l
		}
		s.wrap(first, rest, text)
	}
	for _, id := range unset(r) {
		s.wrap(fmt.Sprintf("%-*s", indent, id), rest, saySetNone)
	}
	if ask {
		s.line(sayAskAirWhy)
	}
}

// todo lists what is to be done, the worst first, with the tail to come after it.
func (s *screen) todo(tail *screen) {
	switch {
	case len(s.groups) == 0 && nothingRead(&s.r):
		return
	case len(s.groups) == 0:
		s.title(sayTodoTitle)
		s.line(sayNothingTodo)
	case nothingRead(&s.r) || s.tight >= beforeBare: // the headings below say enough
		s.b.WriteByte('\n')
	default:
		s.title(sayTodoTitle)
	}
	after := tail.lines()
	for i := range s.groups {
		if g := &s.groups[i]; g.later {
			later := page{width: s.width}
			later.line(sayLaterCount, things(len(g.tasks)))
			after += later.lines()
		}
	}
	for i := range s.groups {
		switch g := &s.groups[i]; {
		case g.later && s.tight >= laterCounted:
			s.line(sayLaterCount, things(len(g.tasks)))
		case g.later && s.tight >= laterTogether:
			s.line(sayLaterTitle, strings.Join(g.tasks, ". "))
		case !g.stops && s.tight >= beforeBare:
			s.shortened(g, after)
		default:
			s.line("%s", g.word)
			s.bullets(g.tasks)
		}
	}
}

// shortened lists a group as far as the screen has room: the last of it runs on in
// one paragraph, then by its titles alone, and at last it is counted.
func (s *screen) shortened(g *screenGroup, after int) {
	n := len(g.tasks)
	head := s.b.String()
	for apart, with, titles := n, n, n; ; {
		switch {
		case titles == 0:
			s.line(sayCounted, g.word, things(n))
		case with == 0:
			s.line(sayTitles, g.word, strings.Join(g.titles[:titles], ". "))
		case apart == 0:
			s.line(sayRunOn, g.word, strings.Join(g.tasks[:with], ". "))
		default:
			s.line("%s", g.word)
			s.bullets(g.tasks[:apart])
			if with > apart {
				s.line(sayAlso, strings.Join(g.tasks[apart:with], ". "))
			}
		}
		if 0 < with && with < titles {
			s.line(sayAlsoTitles, strings.Join(g.titles[with:titles], ". "))
		}
		if 0 < titles && titles < n {
			s.line(sayMoreBefore, counted(n-titles, sayOneMoreThing, sayMoreThings))
		}
		switch {
		case titles == 0, s.lines()+after <= s.most():
			return
		case apart > 0:
			apart--
		case with > 0:
			with--
		default:
			titles--
		}
		s.b.Reset()
		s.b.WriteString(head)
	}
}

func (s *screen) bullets(tasks []string) {
	for _, task := range tasks {
		s.wrap("- ", "  ", task+".")
	}
}

// tail has what was not judged, the last cautions, and where to read on.
func (s *screen) tail() {
	one := s.tight >= gapsFew && len(s.gaps) > 0
	gaps, more := s.gaps, s.unnamed
	if one {
		gaps, more = s.gaps[:1], s.unnamed+len(s.gaps)-1
	}
	named := make([]string, len(gaps))
	for i := range gaps {
		words := sayReadHere
		if gaps[i].hidden {
			words = sayFindOut
		}
		names := shortNames(&s.r, gaps[i].places)
		places := strings.Join(names, ", ")
		if one {
			places = firstOf(names, screenPlaces)
		}
		named[i] = fmt.Sprintf(words, places, gaps[i].need)
	}
	switch {
	case len(named) == 0:
	case one && more > 0:
		s.b.WriteByte('\n')
		s.line(sayOneGapMore, named[0], more)
	case one:
		s.b.WriteByte('\n')
		s.line(sayOneGap, named[0])
	default:
		s.title(titleUnjudged)
		for _, words := range named {
			s.wrap("- ", "  ", words)
		}
		if more > 0 {
			s.line(sayGapsMore, more)
		}
	}
	s.b.WriteByte('\n')
	for _, c := range s.lastCautions() {
		s.line("%s", c)
	}
	if s.more != "" {
		s.line("%s", s.more)
	}
}

// gapsOf are those that a walk-around shows, or those that it does not.
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

package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inspect/batch"
	"axleend.example/inspect/report"
)

// What a shop's list says.
const (
	listHead       = "%s: %d must not leave as they stand, %d could not be judged, %d have something to do before the trip, %d nothing found."
	listOne        = "%s: %s (%s)"
	listNothing    = "%s"
	listNamed      = "%s, %s"
	listLineOf     = "line %d"
	listOneStops   = "%s, and 1 more that stops it"
	listMoreStops  = "%s, and %d more that stop it"
	listMore       = "%s, and %d more before the trip"
	listDue        = "due %s: %s"
	listGaps       = "%d not judged"
	listProblem    = "%s: %s"
	listMorePlaces = "%s and %d more"
	listCall       = "call %s"
	listNotJudged  = "COULD NOT BE JUDGED"
)

// listPlaces is how many places of one thing a list names.
const listPlaces = 3

// List writes a shop's list, as it is sorted, as plain text: how many coaches there
// are of each answer, then each coach below its answer, with the worst there is to
// do and where, how much else comes before the trip, and what falls due next.
func List(lines []batch.Line, opt TextOptions) string {
	p := &page{width: opt.width()}
	var counts [report.NothingFound + 1]int
	for i := range lines {
		counts[min(lines[i].Drive, report.NothingFound)]++
	}
	p.line(listHead, coaches(len(lines)), counts[report.MustNotMove]+counts[report.NotAtThisPressure], counts[0], counts[report.BeforeTheTrip], counts[report.NothingFound])
	for i := range lines {
		l := &lines[i]
		if i == 0 || l.Drive != lines[i-1].Drive {
			p.title(listAnswer(l.Drive))
		}
		p.wrap("- ", "    ", strings.Join(listLine(l), "; "))
	}
	return p.b.String()
}

// listAnswer is the answer that a part of the list stands under.
func listAnswer(d report.Drive) string {
	switch d {
	case report.MustNotMove:
		return sayMustNotMove
	case report.NotAtThisPressure:
		return sayNotAtPressure
	case report.BeforeTheTrip:
		return sayBeforeTheTrip
	case report.NothingFound:
		return sayNothingFound
	}
	return listNotJudged
}

// listName names a coach so that no other of that name is taken for it: with its file,
// or with its line and the day of the visit.
func listName(l *batch.Line) string {
	name := l.Name()
	add := func(s string) {
		if s != name {
			name = fmt.Sprintf(listNamed, name, s)
		}
	}
	if l.File != "" {
		add(l.File)
		return name
	}
	if l.Line > 0 {
		add(fmt.Sprintf(listLineOf, l.Line))
	}
	if !l.Date.IsZero() {
		add(l.Date.String())
	}
	return name
}

func listLine(l *batch.Line) []string {
	name := listName(l)
	if l.Drive == 0 {
		return []string{fmt.Sprintf(listProblem, name, l.Problem)}
	}
	head := fmt.Sprintf(listNothing, name)
	if l.First != "" {
		places := strings.Join(l.Where[:min(listPlaces, len(l.Where))], ", ")
		if more := len(l.Where) - listPlaces; more > 0 {
			places = fmt.Sprintf(listMorePlaces, places, more)
		}
		head = fmt.Sprintf(listOne, name, l.First, places)
	}
	before := l.Before
	switch { // the first of these stands there already
	case l.Stops == 2:
		head = fmt.Sprintf(listOneStops, head)
	case l.Stops > 2:
		head = fmt.Sprintf(listMoreStops, head, l.Stops-1)
	case l.Stops == 0:
		before--
	}
	if before > 0 {
		head = fmt.Sprintf(listMore, head, before)
	}
	out := []string{head}
	if l.NotJudged > 0 {
		out = append(out, fmt.Sprintf(listGaps, l.NotJudged))
	}
	if !l.Due.On.IsZero() {
		out = append(out, fmt.Sprintf(listDue, l.Due.On, l.Due.Kind))
	}
	if l.Call != "" {
		out = append(out, fmt.Sprintf(listCall, l.Call))
	}
	return out
}

func coaches(n int) string {
	if n == 1 {
		return "1 coach"
	}
	return fmt.Sprintf("%d coaches", n)
}

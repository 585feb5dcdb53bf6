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

func listLine(l *batch.Line) []string {
	if l.Drive == 0 {
		return []string{fmt.Sprintf(listProblem, l.Name(), l.Problem)}
	}
	head := fmt.Sprintf(listNothing, l.Name())
	if l.First != "" {
		places := strings.Join(l.Where[:min(listPlaces, len(l.Where))], ", ")
		if more := len(l.Where) - listPlaces; more > 0 {
			places = fmt.Sprintf(listMorePlaces, places, more)
		}
		head = fmt.Sprintf(listOne, l.Name(), l.First, places)
	}
	if l.Before > len(l.Where) {
		head = fmt.Sprintf(listMore, head, l.Before-len(l.Where))
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

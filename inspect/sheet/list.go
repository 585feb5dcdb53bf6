package sheet

import (
	"cmp"
	"fmt"
	"strings"

	"axleend.example/inspect/batch"
	"axleend.example/inspect/report"
)

// What a shop's list says.
const (
	listHead      = "%s. Must not leave: %d. Could not be judged: %d. Something to do before the trip: %d. Nothing found: %d."
	listHeadSpare = "%s. Must not leave: %d. Could not be judged: %d. Something to do before the trip: %d. Nothing but at the spare: %d. Nothing found: %d."
	listCut       = "Text cut off with ... is whole in the list's CSV and on the coach's page."
	listNotJudged = "COULD NOT BE JUDGED"
	listNamed     = "%s, %s"
	listLineOf    = "line %d"
	listOne       = "%s: %s"
	listOneOf     = "%s +%d: %s"
	listGaps      = "%d not judged"
	listDue       = "%s %s"
	listCutOff    = "..."
	listGap       = "  "
	listOneCoach  = "1 coach"
	listCoaches   = "%d coaches"
	listCoach     = "coach"
	listWorst     = "where, and the worst there"
	listMore      = "more"
	listDueHead   = "due"
	listCall      = "call"
)

const (
	// listColumns is the least width that a line of the list is made for; on a
	// narrower page it is broken.
	listColumns = 80
	// listKinds is the width from which on a line says what falls due, too.
	listKinds = 110
	// listName and listCalled are how many columns a name, of a coach or of whom to
	// call, has at least, if it needs them.
	listName   = 16
	listCalled = 10
)

// List writes a shop's list, as it is sorted, as plain text: how many coaches there
// are of each answer, then a line for each coach below its answer, with the worst
// there is to do and where, how much else comes before the trip, what falls due next,
// and whom to call. What a line has no room for is cut, the names of coaches first,
// then the worst; [batch.WriteCSV] has it whole.
func List(lines []batch.Line, opt TextOptions) string {
	p := &page{width: opt.width()}
	var counts [report.NothingFound + 1]int
	spares := 0
	for i := range lines {
		if counts[min(lines[i].Drive, report.NothingFound)]++; onlySpare(&lines[i]) {
			spares++
		}
	}
	must, trip := counts[report.MustNotMove]+counts[report.NotAtThisPressure], counts[report.BeforeTheTrip]
	if spares > 0 {
		p.line(listHeadSpare, counted(len(lines), listOneCoach, listCoaches), must, counts[0], trip, spares, counts[report.NothingFound]-spares)
	} else {
		p.line(listHead, counted(len(lines), listOneCoach, listCoaches), must, counts[0], trip, counts[report.NothingFound])
	}
	if len(lines) == 0 {
		return p.b.String()
	}
	rows, cut := listRows(lines, max(p.width, listColumns))
	if cut {
		p.line(listCut)
	}
	p.b.WriteByte('\n')
	p.wrap("", "    ", rows[0])
	for i := range lines {
		if answer := listAnswer(&lines[i]); i == 0 || answer != listAnswer(&lines[i-1]) {
			p.line("%s", answer)
		}
		p.wrap("", "    ", rows[i+1])
	}
	return p.b.String()
}

// The columns of the list; that of the worst takes what room the others leave.
const (
	columnCoach = iota
	columnWorst
	columnMore
	columnDue
	columnCall
	listTable
)

// listRows are the list's lines below their head, in so many columns, and whether any
// of them is cut.
func listRows(lines []batch.Line, room int) (out []string, cut bool) {
	rows := [][listTable]string{{listCoach, listWorst, listMore, listDueHead, listCall}}
	for i := range lines {
		l := &lines[i]
		rows = append(rows, [...]string{listedName(l), listedWorst(l), listedMore(l), listedDue(l, room), plain(l.Call)})
	}
	width := listWidths(rows, room, listName)
	// Names that look alike once they are cut have what tells them apart before them.
	seen, least := make(map[string]int), listName
	for _, row := range rows[1:] {
		seen[shortened(row[columnCoach], width[columnCoach])]++
	}
	for i := range lines {
		name := &rows[i+1][columnCoach]
		if apart := toldApart(&lines[i]); seen[shortened(*name, width[columnCoach])] > 1 && apart != "" && apart != *name {
			*name = fmt.Sprintf(listNamed, apart, *name)
			least = max(least, min(columns(apart)+columns(listCutOff), room/3))
		}
	}
	width = listWidths(rows, room, least)
	out = make([]string, len(rows))
	for i, row := range rows {
		var b strings.Builder
		for k, cell := range row {
			if width[k] > 0 {
				short := shortened(cell, width[k])
				cut = cut || short != cell
				b.WriteString(listGap + short + strings.Repeat(" ", max(0, width[k]-columns(short))))
			}
		}
		out[i] = strings.TrimRight(b.String(), " ")
	}
	return out, cut
}

// listWidths are the widths of the columns, none for one in which nothing stands: the
// names of coaches are cut first, down to least, then whom to call, then the worst.
func listWidths(rows [][listTable]string, room, least int) [listTable]int {
	var width [listTable]int
	for _, row := range rows[1:] {
		for k, cell := range row {
			width[k] = max(width[k], columns(cell))
		}
	}
	for k, head := range rows[0] {
		if width[k] > 0 {
			width[k] = max(width[k], columns(head))
			room -= width[k] + len(listGap)
		}
	}
	for _, x := range [...]struct{ column, least int }{{columnCoach, least}, {columnCall, listCalled}, {columnWorst, 1}} {
		if room < 0 {
			cut := min(-room, max(0, width[x.column]-x.least))
			width[x.column] -= cut
			room += cut
		}
	}
	return width
}

// onlySpare reports whether nothing was found on a coach except on a spare.
func onlySpare(l *batch.Line) bool { return l.Drive == report.NothingFound && l.Before > 0 }

// listAnswer is the answer that a part of the list stands under.
func listAnswer(l *batch.Line) string {
	switch {
	case onlySpare(l):
		return sayOnlySpare
	case l.Drive == report.MustNotMove:
		return sayMustNotMove
	case l.Drive == report.NotAtThisPressure:
		return sayNotAtPressure
	case l.Drive == report.BeforeTheTrip:
		return sayBeforeTheTrip
	case l.Drive == report.NothingFound:
		return sayNothingFound
	}
	return listNotJudged
}

// listedName is what a coach is called in the list.
func listedName(l *batch.Line) string {
	if l.Coach == "" {
		return cmp.Or(toldApart(l), l.Name())
	}
	return plain(l.Coach)
}

// toldApart tells a record from others of one name: by its file, or by its line.
func toldApart(l *batch.Line) string {
	switch {
	case l.File != "":
		return plain(l.File)
	case l.Line > 0:
		return fmt.Sprintf(listLineOf, l.Line)
	}
	return ""
}

// listedWorst is where the worst is, and what it is.
func listedWorst(l *batch.Line) string {
	switch {
	case l.Drive == 0:
		return plain(l.Problem)
	case l.First == "" && l.NotJudged > 0:
		return fmt.Sprintf(listGaps, l.NotJudged)
	case len(l.Where) == 0:
		return l.First
	case len(l.Where) > 1:
		return fmt.Sprintf(listOneOf, l.Where[0], len(l.Where)-1, l.First)
	}
	return fmt.Sprintf(listOne, l.Where[0], l.First)
}

// listedMore counts what else stops the coach or comes before the trip.
func listedMore(l *batch.Line) string {
	if n := l.Stops + l.Before - 1; n > 0 { // the first stands there already
		return fmt.Sprintf("%4d", n)
	}
	return ""
}

func listedDue(l *batch.Line, room int) string {
	switch {
	case l.Due.On.IsZero():
		return ""
	case room < listKinds:
		return l.Due.On.String()
	}
	return fmt.Sprintf(listDue, l.Due.On, l.Due.Kind)
}

// shortened is a text in so many columns, its end cut off where it needs more.
func shortened(text string, room int) string {
	if columns(text) <= room {
		return text
	}
	cut, _ := breakAt(text, max(1, room-columns(listCutOff)))
	return strings.TrimRight(text[:cut], " ,;:") + listCutOff
}

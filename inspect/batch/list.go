package batch

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
)

// A Line is one coach in a shop's list.
type Line struct {
	// Line is the record's line in the input, from 1; 0 in a folder.
	Line int `json:"line,omitzero"`
	// File is the record's own file in a folder.
	File string `json:"file,omitzero"`
	// Coach is the coach's name in the visit, empty where it has none.
	Coach string `json:"coach,omitzero"`
	// Date is the day of the visit.
	Date dotcode.Date `json:"date,omitzero"`
	// Drive is the answer about driving, zero where the record could not be judged.
	Drive report.Drive `json:"drive,omitzero"`
	// First is the worst there is to do, in words; empty where nothing was found.
	First string `json:"first,omitzero"`
	// Where are the places that have it.
	Where []string `json:"where,omitempty"`
	// Stops counts what stops the coach, as the pages number it: what says the same of
	// several places is one.
	Stops int `json:"stops,omitzero"`
	// Before counts, in the same way, what else is to be done before the trip.
	Before int `json:"before,omitzero"`
	// Later counts, in the same way, what can wait.
	Later int `json:"later,omitzero"`
	// NotJudged counts what was not judged.
	NotJudged int `json:"not_judged,omitzero"`
	// Due is the next thing that falls due, its zero value where nothing is known.
	Due report.Due `json:"due,omitzero"`
	// Call is who to call. [NewLine] leaves it empty: a list goes round, so names
	// stand in it only where somebody puts them there.
	Call string `json:"call,omitzero"`
	// Problem says why the record could not be judged.
	Problem string `json:"problem,omitzero"`
}

// NewLine makes the line of a record from its answer.
func NewLine(a Answer) Line {
	out := Line{Line: a.Line, File: a.File}
	if a.Visit != nil {
		out.Coach, out.Date = a.Visit.Coach, a.Visit.Date
	}
	if a.Report == nil {
		if a.Err != nil {
			out.Problem = a.Err.Error()
		}
		return out
	}
	r := a.Report
	out.Drive, out.NotJudged = r.Drive, r.NotJudged
	for i := range r.Todo {
		it := &r.Todo[i]
		out.First = r.Todo[0].What
		if it.SaysAs(&r.Todo[0]) && !slices.Contains(out.Where, it.Where) {
			out.Where = append(out.Where, it.Where)
		}
		switch {
		case slices.ContainsFunc(r.Todo[:i], func(x report.Item) bool { return x.SaysAs(it) }): // counted
		case it.Stops:
			out.Stops++
		case it.Action == report.Plan:
			out.Later++
		default:
			out.Before++
		}
	}
	if due := r.Due(); len(due) > 0 {
		out.Due = due[0]
	}
	return out
}

// SortLines puts the worst first: coaches that must not leave as they stand, then
// records that could not be judged, then the others; of one answer those first that
// have most that stops them, then most to do before the trip, then by what falls due,
// name, file and line.
func SortLines(lines []Line) {
	rank := func(l *Line) int {
		if l.Drive == 0 {
			return 2*int(report.NotAtThisPressure) + 1
		}
		return 2 * int(l.Drive)
	}
	slices.SortStableFunc(lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(rank(&a), rank(&b)), cmp.Compare(b.Stops, a.Stops), cmp.Compare(b.Before, a.Before), a.Due.On.Compare(b.Due.On),
			strings.Compare(a.Coach, b.Coach), strings.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
}

// Name is what the list calls a coach: its name, else its file, else its line.
func (l *Line) Name() string {
	return cmp.Or(l.Coach, l.File, fmt.Sprintf("line %d", l.Line))
}

// The head of a list as CSV; its columns do not change with the words of a page.
var csvHead = [...]string{"coach", "file", "line", "date", "drive", "first", "where", "stops", "before", "later", "not judged", "due on", "due", "due where", "problem", "call"}

// WriteCSV writes lines as CSV for a spreadsheet. A cell that a
// spreadsheet would take for a formula has an apostrophe in front, whatever somebody
// called a coach. The error is w's.
func WriteCSV(w io.Writer, lines []Line) error {
	out := csv.NewWriter(w)
	head := csvHead
	rows := [][]string{head[:]}
	for i := range lines {
		l := &lines[i]
		drive, date, on, due := "not judged", "", "", ""
		var counts [4]string // none of a record that could not be judged
		if l.Drive != 0 {
			drive = l.Drive.String()
			for k, n := range [...]int{l.Stops, l.Before, l.Later, l.NotJudged} {
				counts[k] = strconv.Itoa(n)
			}
		}
		if !l.Date.IsZero() {
			date = l.Date.String()
		}
		if !l.Due.On.IsZero() {
			on, due = l.Due.On.String(), l.Due.Kind.String()
		}
		rows = append(rows, []string{l.Coach, l.File, count(l.Line), date, drive, l.First, strings.Join(l.Where, " "),
			counts[0], counts[1], counts[2], counts[3], on, due, strings.Join(l.Due.Where, " "), l.Problem, l.Call})
	}
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// count shows a number, nothing for none.
func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// harmless is a cell that no spreadsheet takes for a formula: those begin with one
// of these, or with white space before one (common practice).
func harmless(cell string) string {
	if text := strings.TrimLeft(cell, " \t\r\n\u00a0"); text != "" && strings.ContainsRune("=+-@|%\uff1d\uff0b\uff0d\uff20", []rune(text)[0]) || strings.ContainsAny(cell[:min(1, len(cell))], "\t\r\n") {
		return "'" + cell
	}
	return cell
}

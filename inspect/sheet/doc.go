// Package sheet renders reports, histories and a shop's list as pages for people:
// plain text as wide as a terminal, self-contained HTML that prints on a sheet of
// paper, a form to fill in by hand, and a calendar file of what falls due.
//
//	report, err := inspect.Assess(visit, setup)
//	fmt.Print(sheet.Text(report, sheet.TextOptions{}))
//	err = sheet.HTML(file, report, sheet.HTMLOptions{Visit: visit})
//
// An HTML page needs no script and fetches nothing. The owner's sheet is the two
// sides of one Letter or A4 paper: the front has the answer about driving, every
// title of what stops the coach or comes before the trip, the pressures to set and
// as found; the back says how, and is signed. The details follow on pages of their
// own. What a page says, it says in words, by position and by pattern, never by
// color, and its drawings carry their text. How much of the entries stands whole on
// the front follows from an estimate of what fits, for type of 9 points and more;
// type is smaller, in print alone, only where the titles need it. No line is hidden.
//
// Set pressures are shown rounded up, rooms rounded down, loads and their
// plus/minus to the nearest pound or kilogram with the plus/minus rounded up.
// Nothing is decided here: what a page says stands in the report, and no page
// says that a coach is safe. All words stand in files of their own, a page kind
// each: textwords.go, sheetwords.go, historywords.go, formwords.go.
package sheet

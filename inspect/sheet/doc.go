// Package sheet renders a report as a page for people: plain text of at most
// 80 columns, or one self-contained HTML file that prints on a sheet of paper.
//
//	report, err := inspect.Assess(visit, setup)
//	fmt.Print(sheet.Text(report))
//	err = sheet.HTML(file, report, sheet.HTMLOptions{})
//
// The HTML page needs no script and fetches nothing. Its first page is for the
// owner and fits Letter and A4; the details follow on pages of their own. What
// it says, it says in words, by position and by pattern, never by color, and
// its drawings carry their text. The size of its type, and how much of the
// lists stands on the first page, follow from an estimate of what fits; type is
// sized by the width of a digit, so that a wider face fits too. Where a browser
// does not know that, it may need a second sheet; no line is ever hidden.
//
// Set pressures are shown rounded up, rooms rounded down, loads and their
// plus/minus to the nearest pound or kilogram with the plus/minus rounded up.
// Nothing is decided here: what a page says stands in the report, and no page
// says that a coach is safe.
package sheet

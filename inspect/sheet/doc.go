// Package sheet renders a report as a page for people: plain text of at most
// 80 columns for a terminal or a printer.
//
//	report, err := inspect.Assess(visit, setup)
//	page := sheet.Text(report)
//	fmt.Print(page)
//
// Set pressures are shown rounded up, rooms rounded down, loads and their
// plus/minus to the nearest pound or kilogram with the plus/minus rounded up.
// Nothing is decided here: what the page says stands in the report.
package sheet

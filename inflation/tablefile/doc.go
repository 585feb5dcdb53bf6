// Package tablefile reads the load and inflation tables that people type in, in
// YAML or, pasted from a spreadsheet, in CSV, and shows them as printed.
//
//	table, err := tablefile.Read("table.yaml", data)
//	answer, err := table.PressureFor(3250*weight.Pound, weight.Single, inflation.Options{})
//	fmt.Print(tablefile.Text(table), tablefile.Curve(table, 80))
//
// A published table belongs to its publisher, so none is shipped; [Outline]
// writes a commented file to fill in. Figures stay as printed. Because tables
// quote dual loads per tire, per pair or per axle, each column says its basis;
// a basis that cannot be right is refused with the reason.
//
//	table: 1                        # version of the format, the first key
//	name: invented AX240/75R20      # what answers call it
//	size: AX240/75R20
//	class: truck                    # passenger, light truck, truck, trailer; if the size does not tell
//	caps: {F: 90, G: 95}            # highest row of each load range; or load_range: G for one
//	minimum: 85                     # lowest row to be used, if not the first
//	pressure_unit: psi              # psi, kPa or bar
//	load_unit: lb                   # lb or kg
//	single: per tire
//	dual: per pair                  # per tire, per end (a pair), per axle
//	source: {grade: invented, title: made up for this page}
//	columns: [pressure, single, dual]
//	rows:
//	  - [85, 3385, 6350]
//	  - [90, 3515, 6590]
//	  - [95, 3640, none]            # none: the table has no figure here
//
// The same in CSV has one `key: value` line for each key (the source as three:
// grade, source, locator; caps as F 90; G 95), then a line of column names,
// then the rows. Commas, semicolons and tabs separate.
//
// [LoadFolder] reads a folder; a file is a table if its first key is "table".
package tablefile

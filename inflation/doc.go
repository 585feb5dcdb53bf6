// Package inflation answers which cold pressure a load needs, and which load
// a pressure carries, from tables that people type in, never to the unsafe
// side of them.
//
//	table, err := inflation.LoadTable("table.yaml", data)
//	answer, err := table.PressureFor(3250*weight.Pound, weight.Single, inflation.Options{})
//	fmt.Println(answer.Pressure) // 80 psi
//
// [Pressure], [Temperature] and [Speed] are whole numbers of a step that is
// exact in both unit systems. Pressures are gauge pressures, and cold unless
// said otherwise. No float decides anything, nothing keeps state, and all
// values may be shared by any number of goroutines once made.
//
// # Tables
//
// A published table belongs to its publisher, so none is shipped: [LoadTable]
// reads the one its user typed in, in YAML or, pasted from a spreadsheet, in
// CSV ([TableOutline] writes a commented file to fill in). Figures stay as
// printed. Because tables quote dual loads per tire, per pair or per axle, each
// column says its basis; one that cannot be is refused with the reason.
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
// [LoadTables] reads a folder; a file is a table if its first key is "table".
// A size may be written in any way ("LT225/75R16", "lt 225/75 r16"):
// [NormalizeSize] makes one of them. Several tables for one size are told
// apart by load range; several with the same figures are one; if they differ,
// [Tables.Find] refuses to choose, and the one meant is asked for by name.
//
// # Settings
//
// [SetAxle] sets one axle from its loads, tires, wheels and placard, and says
// what the number rests on. [Unlisted] estimates where there is no table,
// marked as an estimate. [ShareOf] brings a load per end or axle to one tire.
//
// # Sidewalls and cold pressure
//
// [ParseSidewall] reads stamps, [Sidewall.Doubts] compares them; [LoadIndex],
// [SpeedSymbol] and [LoadRange] are the published lists. [WillRead] and
// [SetTo] are the gas law, [ColdAtMost] bounds the cold pressure of a hot tire,
// [LeakRate] compares two readings, [AlarmFor] suggests where a monitor
// should ring.
//
// # Caution
//
// A tire that was run low can burst while it is aired; a hot tire is never
// bled; a pressure holds for the load it was found for. The figures here are
// no better than what was read and typed in, and take the place of no table,
// placard, local code or trained person. [Caution] carries the sentences to
// show with a setting.
package inflation

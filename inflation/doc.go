// Package inflation answers which cold pressure a load needs, and which load
// a pressure carries, from tables that people type in, never to the unsafe
// side of them.
//
//	table, err := inflation.NewTable(data) // or tablefile.Read("table.yaml", text)
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
// A published table belongs to its publisher, so none is shipped: [NewTable]
// makes one from figures, and package tablefile reads the file that its user
// typed in. Figures stay as printed. Because tables quote dual loads per tire,
// per pair or per axle, each column says its basis; a basis that cannot be
// right is refused with the reason.
//
// A size may be written in any way ("LT225/75R16", "lt 225/75 r16"). Several
// tables for one size are told apart by load range; several with the same
// figures are one; if they differ, [Tables.Find] refuses to choose: ask for one
// by name.
//
// # Needs and capacities
//
// [Tire.Need] says what a tire needs for a load, and [Tire.Carries] what it
// carries at a pressure, each from the least to the most that it can be: one row
// by a table, without a table what the accepted laws between pressure and load
// allow. [LoadOf] makes a load of what a weighing says, and keeps open what that
// leaves open. [Unlisted] is the estimate, marked as one. [ShareOf] brings a
// load per end or axle to one tire.
//
// # Settings
//
// [SetAxle] sets one axle from its loads, tires, wheels and placard. [Setting.Why]
// says as a type which rule gave the number, and the Ask fields say what to read
// before it is final.
//
// # Caution
//
// A tire that was run low can burst while it is aired; a hot tire is never
// bled; a pressure holds for the load it was found for. The figures here are no
// better than what was read and typed in, and replace no table, placard, local
// code or trained person. Package caution carries the sentences to show with a
// setting.
package inflation

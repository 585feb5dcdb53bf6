// Package weight finds what every axle end of a vehicle carries from what
// scales showed. What may still be loaded, and where, is the business of
// package cargo below it.
//
//	scale := weight.Scale{Kind: weight.Platform}
//	sol, err := weight.Solve(rig, []weight.Reading{scale.Reading("left rear", 4820*weight.Pound, weight.EndOf(1, weight.Left))}, scale)
//	fmt.Println(sol.Of(weight.EndOf(1, weight.Left)).Load)
//
// Every scale is one idea: a [Reading] is a load, a tolerance and the [Set] of
// wheel positions on the plate. [Solve] is exact linear algebra over any of
// them: each sum that is determined, with a worst-case plus/minus; each that
// is not, with the further weighings that would settle it; and the readings
// that contradict each other.
//
// Quantities are whole numbers of a step that is exact in both systems:
// [Mass], [Length], [Volume]. Computed masses land on a grid of 0.01 lb or
// 1 g, their plus/minus widened to cover the rounding. No float decides
// anything. What does not fit is an error, never a wrap.
//
// The figures are for loading and tires, and no legal-for-trade weight. Weigh
// again after loading; leave what touches brakes, suspension, hitches and
// tires to trained people, and follow local codes.
package weight

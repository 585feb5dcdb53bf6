package weight_test

import (
	"fmt"
	"math/big"

	"axleend.example/weight"
)

func ExampleMassOfRat() {
	third, err := weight.MassOfRat(big.NewRat(int64(100*weight.Pound), 3), weight.US.MassGrid(), weight.Ceiling)
	fmt.Println(third, err)
	// Output: 33.34 lb <nil>
}

func ExampleShare_Of() {
	most, err := (55 * weight.Percent).Of(9_000*weight.Pound, weight.Ceiling)
	fmt.Println(most, err)
	// Output: 4950 lb <nil>
}

func ExampleRig_TrackOf() {
	rig := exampleRig()
	rig.Axles[1].Track = 74 * weight.Inch
	for i := range rig.Axles {
		fmt.Println(rig.AxleName(i), rig.TrackOf(i))
	}
	// Output:
	// the steer axle 78 in
	// the drive axle 74 in
}

func ExampleSolution_SettleAll() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("all of it", 26_000*weight.Pound, rig.All()),
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
	}, scale)
	for _, p := range sol.SettleAll() {
		fmt.Println(p.Instruction)
	}
	// Output:
	// Drive on from the front and stop with only these axles on the plate: the steer axle; the left side on the plate, the right side beside it.
	// Drive off at the front and stop with only these axles still on the plate: the drive axle; the left side on the plate, the right side beside it.
}

func ExampleRig_Sums() {
	rig := weight.Rig{Coupling: weight.TowBar, Axles: []weight.Axle{
		{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}, {ID: "dolly", Fitment: weight.Single, Towed: true},
	}}
	fmt.Println(rig.Check())
	fmt.Println(rig.Coach(), "and", rig.Towed(), "of", len(rig.Sums()), "sums")
	fmt.Println(weight.Rig{}.Check())
	// Output:
	// <nil>
	// 1 2 and 3 of 13 sums
	// impossible rig: 0 axles: want 1 to 12
}

func ExampleMaintenanceIIIL() {
	division := 20 * weight.Pound
	used, fresh := weight.Scale{Rule: weight.MaintenanceIIIL(division)}, weight.Scale{Rule: weight.AcceptanceIIIL(division)}
	fmt.Println(used.ToleranceFor(20_000*weight.Pound), fresh.ToleranceFor(20_000*weight.Pound))
	fmt.Println(weight.Scale{Division: division}.MinimumLoad(), "by", weight.MinimumLoadSource())
	// Output:
	// 40 lb 20 lb
	// 1000 lb by NIST Handbook 44, UR.3.7 (from memory)
}

func ExampleStance_Cautions() {
	stand := weight.Stance{Level: weight.Yes, RideHeight: weight.Yes, LevelersUp: weight.Yes, SlidesIn: weight.No, Tanks: weight.Yes, Fuel: weight.Yes, People: weight.Yes}
	for _, c := range stand.Cautions(exampleRig()) {
		fmt.Println(c)
	}
	// Output: The slide-outs were not in, as they are on the road, or nobody wrote down that they were.
}

func ExampleSet() {
	left := weight.EndOf(1, weight.Left)
	both := weight.Union(left, weight.EndOf(1, weight.Left.Opposite()))
	fmt.Println(both, both == weight.AxleOf(1), both.Contains(left), both.Len(), both.Axles())
	// Output: 2 true true 4 [1]
}

func ExampleParseShare() {
	share, err := weight.ParseShare("55 %")
	fmt.Println(share, share == weight.UsualHeavierEnd, err)
	_, err = weight.ParseShare("55")
	fmt.Println(err)
	// Output:
	// 55 % true <nil>
	// share "55": no unit: want a number and %, such as "55 %"
}

func ExampleEstimate_FromScale() {
	// A plate that nobody has called level: the right end is found by subtraction.
	scale := weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(exampleRig(), []weight.Reading{
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
		scale.Reading("left front", 4_600*weight.Pound, weight.EndOf(0, weight.Left)),
	}, scale)
	e := sol.Of(weight.EndOf(0, weight.Right))
	fmt.Println(e.Load, "+/-", e.PlusMinus, "of which", e.FromScale(), "from the scale and", e.FromSlope, "from the slope")
	// Output: 4400 lb +/- 164.62 lb of which 40 lb from the scale and 124.62 lb from the slope
}

func ExampleEstimate() {
	sol := exampleSolution()
	e := sol.Of(weight.EndOf(1, weight.Right))
	fmt.Println(e.Known(), e.Load, e.PlusMinus, e.AtLeast(), e.AtMost())
	// One side against the other, straight from the readings.
	d := sol.Difference(weight.EndOf(1, weight.Left), weight.EndOf(1, weight.Right))
	fmt.Println(d.Load, d.PlusMinus)
	// Output:
	// true 8400 lb 140 lb 8260 lb 8540 lb
	// 200 lb 200 lb
}

func ExampleSolution_OffDivision() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform, Division: 20 * weight.Pound}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("left front", 4_380*weight.Pound, weight.EndOf(0, weight.Left)),
		scale.Reading("right front", 4_219*weight.Pound, weight.EndOf(0, weight.Right)),
	}, scale)
	fmt.Println(sol.OffDivision())
	// Output: [right front]
}

func ExampleSolution_Rejected() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
		scale.Reading("nothing", 500*weight.Pound, 0),
		scale.Reading("one wheel", 400*weight.Pound, weight.WheelOf(1, weight.Left, weight.Outer)),
	}, scale)
	fmt.Println(len(sol.Readings()), "readings on a", sol.Scale().Kind)
	for _, r := range sol.Rejected() {
		fmt.Println(r)
	}
	fmt.Println("small:", sol.SmallReadings())
	// Output:
	// 2 readings on a platform
	// reading "nothing": an empty set of positions
	// small: [one wheel]
}

func ExampleSolution_Residuals() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("all of it", 26_000*weight.Pound, rig.All()),
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
		scale.Reading("drive axle", 17_060*weight.Pound, weight.AxleOf(1)),
	}, scale)
	for _, r := range sol.Residuals() {
		fmt.Println(r.Name, r.Off, "of", r.Tolerance)
	}
	// Output:
	// all of it -38.57 lb of 60 lb
	// front axle 4.29 lb of 20 lb
	// drive axle 17.14 lb of 40 lb
}

func ExampleSolution_HeavyDiagonal() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("left front", 4_900*weight.Pound, weight.EndOf(0, weight.Left)),
		scale.Reading("right front", 4_100*weight.Pound, weight.EndOf(0, weight.Right)),
		scale.Reading("left rear", 8_100*weight.Pound, weight.EndOf(1, weight.Left)),
		scale.Reading("right rear", 8_900*weight.Pound, weight.EndOf(1, weight.Right)),
	}, scale)
	d, found := sol.HeavyDiagonal()
	fmt.Println(d.Heavy, d.By.Load, found)
	for _, c := range sol.Cautions() {
		fmt.Println(c)
	}
	// Output:
	// 1L 2R 1600 lb true
	// Figures put together from several readings are good for loading and tires, but are no legal-for-trade weight.
	// The air suspension did not stand at ride height, or nobody wrote down that it did; weigh again with it at ride height before trusting the ends.
	// The levelers were not up, or nobody wrote down that they were; a leveler that touches the ground takes load off the tires.
	// The slide-outs were not in, as they are on the road, or nobody wrote down that they were.
	// The tanks were not filled as for the trip, or nobody wrote down that they were.
	// The fuel was not as for the trip, or nobody wrote down that it was.
	// The people were not aboard as for the trip, or nobody wrote down that they were.
	// One front end and the opposite rear end are heavy. On air suspension that points to ride height first: have it checked by trained people, and weigh again before cargo is moved.
}

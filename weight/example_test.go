package weight_test

import (
	"errors"
	"fmt"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// The coach, the slips and the labels in these examples are invented.
var invented = origin.Source{Grade: origin.Invented, Title: "an invented label"}

func exampleRig() weight.Rig {
	return weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer", Fitment: weight.Single},
			{ID: "drive", Fitment: weight.Dual, Behind: 252 * weight.Inch},
		},
		Track: 78 * weight.Inch,
	}
}

func exampleSolution() weight.Solution {
	rig := exampleRig()
	scale := weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	sol, err := weight.Solve(rig, []weight.Reading{
		scale.Reading("all of it", 26_000*weight.Pound, rig.All()),
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
		scale.Reading("left side", 13_200*weight.Pound, rig.All()&weight.SideOf(weight.Left)),
		scale.Reading("left front", 4_600*weight.Pound, weight.EndOf(0, weight.Left)),
	}, scale)
	if err != nil {
		fmt.Println(err)
	}
	return sol
}

func ExampleSolve() {
	sol := exampleSolution()
	rig := sol.Rig()
	for _, set := range []weight.Set{weight.EndOf(1, weight.Left), weight.EndOf(1, weight.Right), weight.AxleOf(1), rig.All()} {
		e := sol.Of(set)
		fmt.Printf("%s: %s, plus or minus %s\n", rig.Name(set), e.Load, e.PlusMinus)
	}
	// Output:
	// the left end of the drive axle: 8600 lb, plus or minus 60 lb
	// the right end of the drive axle: 8400 lb, plus or minus 140 lb
	// the drive axle: 17000 lb, plus or minus 80 lb
	// the coach: 26000 lb, plus or minus 60 lb
}

func ExampleSolution_Conflicts() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("left side", 5_000*weight.Pound, rig.All()&weight.SideOf(weight.Left)),
		scale.Reading("left front", 6_000*weight.Pound, weight.EndOf(0, weight.Left)),
	}, scale)
	for _, c := range sol.Conflicts() {
		fmt.Println(c)
	}
	fmt.Println(errors.Is(sol.Err(), weight.ErrConflict))
	// Output:
	// readings "left side", "left front" leave 1000 lb less than nothing: their tolerances allow 40 lb
	// true
}

func ExampleSolution_Settle() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.Platform}
	sol, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("all of it", 26_000*weight.Pound, rig.All()),
		scale.Reading("front axle", 9_000*weight.Pound, weight.AxleOf(0)),
	}, scale)
	open := sol.Settle(weight.EndOf(1, weight.Right))
	fmt.Println(open.Name)
	for _, p := range open.Weighings {
		fmt.Println(p.Instruction)
	}
	// Output:
	// the right end of the drive axle
	// Drive off at the front and stop with only these axles still on the plate: the drive axle; the left side on the plate, the right side beside it.
}

func ExampleSolution_Undetermined() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.WholeAxles}
	sol, _ := weight.Solve(rig, []weight.Reading{scale.Reading("steer", 9_000*weight.Pound, weight.AxleOf(0))}, scale)
	for _, o := range sol.Undetermined() {
		fmt.Println(o.Set, "-", o.Name, "-", len(o.Weighings))
	}
	// Output:
	// 1L - the left end of the steer axle - 0
	// 1R - the right end of the steer axle - 0
	// 2L - the left end of the drive axle - 0
	// 2R - the right end of the drive axle - 0
	// 2 - the drive axle - 1
	// 1L 2L - the left side of the coach - 0
	// 1R 2R - the right side of the coach - 0
	// 1 2 - the coach - 1
}

func ExampleSolution_Assume() {
	rig, scale := exampleRig(), weight.Scale{Kind: weight.WholeAxles}
	sol, _ := weight.Solve(rig, []weight.Reading{scale.Reading("steer", 9_000*weight.Pound, weight.AxleOf(0))}, scale)
	sol, err := sol.Assume(weight.UsualHeavierEnd)
	if err != nil {
		fmt.Println(err)
		return
	}
	e := sol.Of(weight.EndOf(0, weight.Left))
	fmt.Println(e.Load, e.State)
	// Output: 4950 lb assumed
}

func ExampleScale_ToleranceFor() {
	scale := weight.Scale{Division: 20 * weight.Pound}
	fmt.Println(scale.ToleranceFor(26_000*weight.Pound), scale.Tolerance().Source)
	// Output: 60 lb NIST Handbook 44, T.N.3, class III L, maintenance (from memory)
}

func ExampleCrossfallShift() {
	moved, err := weight.CrossfallShift(26_000*weight.Pound, 2*weight.Percent, 54*weight.Inch, 78*weight.Inch)
	fmt.Println(moved, err)
	// Output: 360 lb <nil>
}

func ExampleRig_Name() {
	rig := exampleRig()
	fmt.Println(rig.Name(weight.WheelOf(1, weight.Left, weight.Outer)))
	// Output: the outer left wheel of the drive axle
}

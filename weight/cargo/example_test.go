package cargo_test

import (
	"context"
	"fmt"

	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
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

func ExampleTongueFromCoach() {
	hitched := weight.Estimate{Load: 27_100 * weight.Pound, PlusMinus: 60 * weight.Pound, State: weight.Determined}
	alone := weight.Estimate{Load: 26_000 * weight.Pound, PlusMinus: 60 * weight.Pound, State: weight.Determined}
	tongue, _ := cargo.TongueFromCoach(hitched, alone)
	fmt.Println(tongue.Load, tongue.PlusMinus)
	// Output: 1100 lb 120 lb
}

func ExampleLabel_Compare() {
	label := cargo.Label{
		Kind: cargo.CCC, GVWR: 26_000 * weight.Pound, UVW: 21_000 * weight.Pound,
		Water: 50 * weight.USGallon, LPTank: 30 * weight.USGallon, SleepingPlaces: 4, Source: invented,
	}
	weighed := weight.Estimate{Load: 25_000 * weight.Pound, PlusMinus: 60 * weight.Pound, State: weight.Determined}
	m, err := label.Compare(weighed, cargo.Aboard{People: 500 * weight.Pound, Water: 200 * weight.Pound})
	fmt.Println(m.Limit.Rating, m.Estimate.Load, m.Kept(), err)
	// Output: 3868.2 lb 3300 lb true <nil>
}

func ExampleTrip_RoomAt() {
	bay := cargo.Station{Name: "rear bay", Behind: 300 * weight.Inch}
	water, _ := cargo.Water().Mass(40*weight.USGallon, weight.US)
	trip, err := cargo.PlanTrip(exampleSolution(), cargo.Stage{Name: "leaving", Changes: []cargo.Change{
		{Name: "fresh water", Mass: water, At: cargo.Station{Name: "fresh tank", Behind: 200 * weight.Inch}},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	room, _ := trip.RoomAt(1, bay, axleLimits(1, "drive", 18_000*weight.Pound), nil)
	fmt.Println(room.Mass, "until", room.LimitedBy)
	// Output: 348.51 lb until half GAWR, drive, left end
}

func ExamplePlanMoves() {
	in, lb := weight.Inch, weight.Pound
	trip, err := cargo.PlanTrip(exampleSolution())
	if err != nil {
		fmt.Println(err)
		return
	}
	moves, err := cargo.PlanMoves(context.Background(), trip, 0, cargo.Task{
		Stations: []cargo.Station{{Name: "left bay", Behind: 252 * in, Offset: -39 * in}, {Name: "right bay", Behind: 252 * in, Offset: 39 * in}},
		Items:    []cargo.Item{{Name: "tools", Mass: 120 * lb, At: "left bay"}, {Name: "chairs", Mass: 60 * lb, At: "left bay"}},
		Limits:   axleLimits(1, "drive", 17_300*lb),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(moves.Outcome)
	for _, m := range moves.Moves {
		fmt.Println(m.Item, m.Mass, "to the", m.To)
	}
	// Output:
	// best
	// chairs 60 lb to the right bay
}

func ExampleFluid_Mass() {
	for _, f := range []cargo.Fluid{cargo.Water(), cargo.Diesel(), cargo.Gasoline(), cargo.LPGas()} {
		m, err := f.Mass(10*weight.USGallon, weight.US)
		fmt.Println(f.Name, m, err)
	}
	// Output:
	// water 83.5 lb <nil>
	// diesel 71 lb <nil>
	// gasoline 61 lb <nil>
	// LP gas 42 lb <nil>
}

func ExampleLabelWater() {
	// By the cargo label's own factor, not by that of water at room temperature.
	water, _ := cargo.LabelWater(60*weight.USGallon, weight.US)
	gas, _ := cargo.LabelLPGas(20*weight.USGallon, weight.US)
	fmt.Println(water, gas)
	// Output: 498 lb 67.2 lb
}

func ExampleLabel_CapacityFromParts() {
	label := cargo.Label{
		Kind: cargo.CCC, GVWR: 26_000 * weight.Pound, UVW: 21_000 * weight.Pound, Stated: 3_860 * weight.Pound,
		Water: 50 * weight.USGallon, LPTank: 30 * weight.USGallon, SleepingPlaces: 4, Source: invented,
	}
	computed, _ := label.CapacityFromParts()
	printed, _ := label.Capacity()
	fmt.Println(computed, printed)
	// Output: 3868.2 lb 3860 lb
}

func ExampleLeastGVWR() {
	least, _ := cargo.LeastGVWR(21_000*weight.Pound, 3_800*weight.Pound, 6)
	short, _ := cargo.GAWRShortfall(26_000*weight.Pound, 9_000*weight.Pound, 16_500*weight.Pound)
	added, _ := cargo.AddedWeightLimit(26_000 * weight.Pound)
	fmt.Println(least, short, added)
	// Output: 25700 lb 500 lb 100 lb
}

func ExampleTongueFromTowed() {
	alone := weight.Estimate{Load: 12_000 * weight.Pound, PlusMinus: 40 * weight.Pound, State: weight.Determined}
	axles := weight.Estimate{Load: 9_600 * weight.Pound, PlusMinus: 40 * weight.Pound, State: weight.Determined}
	pin, _ := cargo.TongueFromTowed(alone, axles)
	fmt.Println(pin.Load, pin.PlusMinus)
	// Output: 2400 lb 80 lb
}

func ExamplePlanTrip() {
	drive := weight.AxleOf(1)
	trip, err := cargo.PlanTrip(exampleSolution(),
		cargo.Stage{Name: "leaving", Changes: []cargo.Change{{Name: "people", Mass: 320 * weight.Pound, At: cargo.Station{Name: "front seats", Behind: -20 * weight.Inch}}}},
		cargo.Stage{Name: "coming home", Changes: []cargo.Change{{Name: "fresh water", Mass: -300 * weight.Pound, At: cargo.Station{Name: "tank", Behind: 252 * weight.Inch}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, name := range trip.Stages() {
		fmt.Println(name, trip.At(i, drive).Load)
	}
	heaviest, stage := trip.Heaviest(drive)
	fmt.Println("set pressures for", heaviest.Load, "at stage", stage)
	for _, m := range trip.Margins(stage, axleLimits(1, "drive", 17_500*weight.Pound)) {
		fmt.Println(m.Limit.Name, m.Kept(), m.Room)
	}
	for _, c := range trip.Cautions() {
		fmt.Println(c)
	}
	// Output:
	// as weighed 17000 lb
	// leaving 16974.6 lb
	// coming home 16700 lb
	// set pressures for 17000 lb at stage 0
	// GAWR, drive true 420 lb
	// half GAWR, drive, left end true 90 lb
	// half GAWR, drive, right end true 210 lb
	// Figures put together from several readings are good for loading and tires, but are no legal-for-trade weight.
	// The air suspension did not stand at ride height, or nobody wrote down that it did; weigh again with it at ride height before trusting the ends.
	// The levelers were not up, or nobody wrote down that they were; a leveler that touches the ground takes load off the tires.
	// The slide-outs were not in, as they are on the road, or nobody wrote down that they were.
	// The tanks were not filled as for the trip, or nobody wrote down that they were.
	// The fuel was not as for the trip, or nobody wrote down that it was.
	// The people were not aboard as for the trip, or nobody wrote down that they were.
	// Planned loads are shared between the axles by moments about stiff supports, and between the two ends of each axle by the offset from the centerline.
	// This is a plan, not a weighing: weigh again once it is loaded.
}

func ExampleMargins() {
	sol := exampleSolution()
	for _, m := range cargo.Margins(sol, axleLimits(1, "drive", 17_500*weight.Pound)) {
		fmt.Println(m.Limit.Name, m.Kept(), m.Room)
	}
	// Output:
	// GAWR, drive true 420 lb
	// half GAWR, drive, left end true 90 lb
	// half GAWR, drive, right end true 210 lb
}

func ExampleMarginOf() {
	limit := cargo.Limit{Name: "GAWR, drive", Rating: 17_500 * weight.Pound, Source: invented}
	for _, load := range []weight.Mass{17_400, 17_450, 17_600} {
		m := cargo.MarginOf(limit, weight.Estimate{Load: load * weight.Pound, PlusMinus: 80 * weight.Pound, State: weight.Determined})
		fmt.Println(m.Estimate.Load, m.Known(), m.Kept(), m.Over(), m.Room)
	}
	// Output:
	// 17400 lb true true false 20 lb
	// 17450 lb true false false -30 lb
	// 17600 lb true false true -180 lb
}

func ExampleHitching() {
	rig := weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer"}, {ID: "drive", Behind: 250 * weight.Inch}, {ID: "trailer", Behind: 550 * weight.Inch, Towed: true},
		},
		Coupling: weight.Tongue, Hitch: 350 * weight.Inch,
	}
	scale := weight.Scale{Kind: weight.WholeAxles}
	apart, _ := weight.Solve(rig, []weight.Reading{
		scale.Reading("steer", 9_000*weight.Pound, weight.AxleOf(0)),
		scale.Reading("drive", 17_000*weight.Pound, weight.AxleOf(1)),
		scale.Reading("trailer with its tongue", 6_000*weight.Pound, weight.AxleOf(2)),
	}, scale)
	changes, _ := cargo.Hitching(apart, 700*weight.Pound)
	trip, err := cargo.PlanTrip(apart, cargo.Stage{Name: "hitched", Changes: changes})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range rig.Axles {
		fmt.Println(rig.AxleName(i), trip.At(1, weight.AxleOf(i)).Load)
	}
	fmt.Println("all together", trip.At(1, rig.All()).Load)
	// Output:
	// the steer axle 8720 lb
	// the drive axle 17980 lb
	// the trailer axle 5300 lb
	// all together 32000 lb
}

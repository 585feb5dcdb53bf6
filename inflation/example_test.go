package inflation_test

import (
	"errors"
	"fmt"

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// exampleData is an invented table of an invented size, as it would be printed.
var exampleData = inflation.TableData{
	Name: "invented AX240/75R20", Size: "AX240/75R20", Class: inflation.Truck,
	Source:       origin.Source{Grade: origin.Invented, Title: "made up for this example"},
	PressureUnit: inflation.PSI, LoadUnit: weight.Pound,
	Single: inflation.PerTire, Dual: inflation.PerEnd,
	Rows: []inflation.PrintedRow{
		{Pressure: 75 * inflation.PSI, Single: 3120 * weight.Pound, Dual: 5850 * weight.Pound},
		{Pressure: 80 * inflation.PSI, Single: 3250 * weight.Pound, Dual: 6100 * weight.Pound},
		{Pressure: 85 * inflation.PSI, Single: 3385 * weight.Pound, Dual: 6350 * weight.Pound},
		{Pressure: 90 * inflation.PSI, Single: 3515 * weight.Pound, Dual: 6590 * weight.Pound},
		{Pressure: 95 * inflation.PSI, Single: 3640 * weight.Pound, Dual: 6830 * weight.Pound},
	},
	Caps: []inflation.RangeCap{{LoadRange: "F"}},
}

func Example() {
	table, err := inflation.NewTable(exampleData)
	if err != nil {
		fmt.Println(err)
		return
	}
	answer, err := table.PressureFor(3200*weight.Pound, weight.Single, inflation.Options{LoadRange: "F"})
	fmt.Println(answer.Pressure, answer.Upper.Load, err)
	// Output: 80 psi 3250 lb <nil>
}

func ExampleTable_PressureFor() {
	table, err := inflation.NewTable(exampleData)
	if err != nil {
		fmt.Println(err)
		return
	}
	row, err := table.PressureFor(3300*weight.Pound, weight.Single, inflation.Options{})
	fmt.Println(row.Pressure, err)
	line, err := table.PressureFor(3300*weight.Pound, weight.Single, inflation.Options{Method: inflation.Interpolated, Step: inflation.PSI})
	fmt.Println(line.Pressure, "between", line.Lower.Pressure, "and", line.Upper.Pressure, err)
	_, err = table.PressureFor(3700*weight.Pound, weight.Single, inflation.Options{})
	var over *inflation.LoadError
	if errors.As(err, &over) {
		fmt.Println("over by", over.Excess)
	}
	// Output:
	// 85 psi <nil>
	// 82 psi between 80 psi and 85 psi <nil>
	// over by 60 lb
}

func ExampleTable_CapacityAt() {
	table, err := inflation.NewTable(exampleData)
	if err != nil {
		fmt.Println(err)
		return
	}
	at := inflation.MustParsePressure("82.5 psi")
	row, err := table.CapacityAt(at, weight.Dual, inflation.Options{})
	fmt.Println(row, err)
	line, err := table.CapacityAt(at, weight.Dual, inflation.Options{Method: inflation.Interpolated})
	fmt.Println(line, err)
	// Output:
	// 3050 lb <nil>
	// 3112.5 lb <nil>
}

func ExampleSetAxle() {
	table, err := inflation.NewTable(exampleData)
	if err != nil {
		fmt.Println(err)
		return
	}
	weighed := func(load weight.Mass) inflation.Load {
		return inflation.Load{Load: load, PlusMinus: 60 * weight.Pound, State: inflation.Weighed}
	}
	s, err := inflation.SetAxle(inflation.AxleInput{
		AsDriven: true,
		Name:     "drive",
		Fitment:  weight.Dual,
		Weighed:  inflation.AxleLoad{Left: weighed(6180 * weight.Pound), Right: weighed(5420 * weight.Pound)},
		Tires: []inflation.Tire{{Name: "all four", LoadRange: "F", Table: table,
			Dual: inflation.Rating{Load: 3415 * weight.Pound, Pressure: 95 * inflation.PSI}}},
		Wheels:  []inflation.Wheel{{Name: "all four", MaxLoad: 3640 * weight.Pound, MaxPressure: 110 * inflation.PSI}},
		Placard: 90 * inflation.PSI,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("set", s.Set, "in all four; minimum for this load", s.Minimum, "by", s.Grounds.Table)
	fmt.Println("the", s.Governing, "end governs, with", s.TireLoad, "on each tire")
	fmt.Println("room on it:", s.Left.Room, "at this pressure,", s.Left.RatingRoom, "to the", s.Lowest.Part)
	for c := range s.Cautions.All() {
		fmt.Println("-", c.Text())
	}
	// Output:
	// set 85 psi in all four; minimum for this load 85 psi by invented AX240/75R20
	// the left end governs, with 3120 lb on each tire
	// room on it: 110 lb at this pressure, 590 lb to the tire rating
	// - Set it cold: parked three hours, in the shade. Never let air out of a hot tire.
	// - It holds for the load weighed. A heavier load needs a new look-up.
	// - The pressure to set is below the placard, and rests on the weighed ends alone.
}

func ExampleShareOf() {
	share, err := inflation.ShareOf(9400*weight.Pound, inflation.PerEnd, weight.Dual, weight.US)
	fmt.Println(share, err)
	// Output: 9400 lb on the end = 4700 lb on each tire <nil>
}

func ExampleUnlisted() {
	tire := inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 2680 * weight.Pound, Pressure: 80 * inflation.PSI}}
	answer, err := tire.PressureFor(2200*weight.Pound, inflation.Options{})
	fmt.Println(answer.Pressure, "estimated:", answer.Estimated, err)
	// Output: 70 psi estimated: true <nil>
}

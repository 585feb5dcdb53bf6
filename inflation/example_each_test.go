package inflation_test

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func exampleLoaded() *inflation.Table {
	table, err := inflation.NewTable(exampleData)
	if err != nil {
		fmt.Println(err)
	}
	return table
}

func ExampleSetting_PlusMinusMatters() {
	setting, err := inflation.SetAxle(inflation.AxleInput{
		AsDriven: true,
		Fitment:  weight.Single,
		Weighed: inflation.AxleLoad{
			Left:  inflation.Load{Load: 3240 * weight.Pound, PlusMinus: 20 * weight.Pound, State: inflation.Weighed},
			Right: inflation.Load{Load: 3100 * weight.Pound, PlusMinus: 20 * weight.Pound, State: inflation.Weighed},
		},
		Tires: []inflation.Tire{{Name: "both", Table: exampleLoaded(), LoadRange: "F"}},
	})
	fmt.Println(setting.Minimum, setting.PlainMinimum, setting.PlusMinusMatters(), err)
	// Output: 85 psi 80 psi true <nil>
}

func ExampleParseLoadPer() {
	basis, err := inflation.ParseLoadPer("Per Pair")
	class, err2 := inflation.ParseClass("light truck")
	construction, err3 := inflation.ParseConstruction("RADIAL")
	fmt.Println(basis, class, construction, err, err2, err3)
	// Output: per end light truck radial <nil> <nil> <nil>
}

func ExampleUnlisted_CapacityAt() {
	tire := inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 3640 * weight.Pound, Pressure: 95 * inflation.PSI}}
	load, err := tire.CapacityAt(85*inflation.PSI, inflation.Options{}, weight.US)
	fmt.Println(load, tire.Floor(), err)
	fmt.Println(inflation.Unlisted{}.Source())
	// Output:
	// 3256.84 lb 80 psi <nil>
	// estimate from the sidewall's maximum load and pressure (computed)
}

func ExampleLoadRange_Stronger() {
	fitted, placard := inflation.LoadRange("F"), inflation.LoadRange("G")
	fmt.Println(fitted.Stronger(placard))
	// Output: G
}

func ExampleParseLoadRange() {
	letter, err := inflation.ParseLoadRange("load range e")
	ply, known := letter.PlyRating()
	most, _, _ := letter.LTMetricMaximum()
	fmt.Println(letter, ply, known, most, err)
	// Output: E 10 true 80 psi <nil>
}

func ExampleTire_CapacityAt() {
	tire := inflation.Tire{Size: "AX240/75R20", LoadRange: "F", Class: inflation.Truck, Table: exampleLoaded(),
		Single: inflation.Rating{Load: 3640 * weight.Pound, Pressure: 95 * inflation.PSI}}
	load, err := tire.CapacityAt(88*inflation.PSI, weight.Single, inflation.Options{}, weight.US)
	most, read := tire.RatedLoad(weight.Single, false, weight.US)
	fmt.Println(load, err, most, read)
	// Output: 3385 lb <nil> 3640 lb true
}

func ExampleParseSize() {
	size, err := inflation.ParseSize("lt 225 / 75 r 16")
	fmt.Println(size, size.Class(), size.Construction(), size.RimDiameter(), err)
	fmt.Println(sidewall.NormalizeSize("ax240/75R20"), sidewall.NormalizeSize("LT225/75R16 115/112R"))
	_, err = inflation.ParseSize("about 16 inches")
	fmt.Println(err)
	// Output:
	// LT225/75R16 light truck radial 16 in <nil>
	// AX240/75R20 LT225/75R16
	// "about 16 inches": not a size designation: want one such as "LT225/75R16", "ST205/75D15", "11R22.5", "7.50R16LT" or "37x12.50R17LT"
}

func ExampleTable_Rows() {
	table := exampleLoaded()
	fmt.Println(table.System(), table.LoadsPer(weight.Dual), table.Serves("F"), table.Serves("H"))
	for row := range table.Rows(weight.Dual) { // on one tire
		fmt.Println(row.Pressure, row.Load)
	}
	for letter, most := range table.Caps() {
		fmt.Println(letter, most)
	}
	low, high, err := table.Range(weight.Single, "F")
	fmt.Println(low.Pressure, high.Pressure, err)
	// Output:
	// us per end true false
	// 75 psi 2925 lb
	// 80 psi 3050 lb
	// 85 psi 3175 lb
	// 90 psi 3295 lb
	// 95 psi 3415 lb
	// F 95 psi
	// 75 psi 95 psi <nil>
}

func ExampleNewTables() {
	tables, err := inflation.NewTables(exampleLoaded())
	if err != nil {
		fmt.Println(err)
		return
	}
	table, found := tables.Named("Invented AX240/75R20")
	fmt.Println(tables.Len(), table.Size(), found)
	for t := range tables.All() {
		fmt.Print(tablefile.Text(t))
	}
	// Output:
	// 1 AX240/75R20 true
	// invented AX240/75R20
	// size AX240/75R20, truck
	// source: made up for this example (invented)
	// load range F: to 95 psi
	// lowest row to be used: 75 psi
	// loads in lb, single per tire, dual per end
	//
	//      psi    single      dual
	//       75      3120      5850
	//       80      3250      6100
	//       85      3385      6350
	//       90      3515      6590
	//       95      3640      6830
}

func ExampleNewTable() {
	table, err := inflation.NewTable(inflation.TableData{
		Name: "invented", Size: "AX240/75R20", Class: inflation.Truck,
		Source:       origin.Source{Grade: origin.Invented, Title: "made up for this example"},
		PressureUnit: inflation.PSI, LoadUnit: weight.Pound,
		Single: inflation.PerTire, Dual: inflation.PerEnd,
		Rows: []inflation.PrintedRow{
			{Pressure: 90 * inflation.PSI, Single: 3515 * weight.Pound, Dual: 6590 * weight.Pound},
			{Pressure: 95 * inflation.PSI, Single: 3640 * weight.Pound, Dual: 6830 * weight.Pound},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	answer, err := table.PressureFor(3300*weight.Pound, weight.Dual, inflation.Options{})
	fmt.Println(answer.Pressure, err)
	_, err = inflation.NewTable(inflation.TableData{Name: "no figures", Size: "AX240/75R20", Class: inflation.Truck,
		Source: origin.Source{Grade: origin.Computed}, PressureUnit: inflation.PSI, LoadUnit: weight.Pound})
	fmt.Println(err)
	// Output:
	// 95 psi <nil>
	// -: rows: missing: a table has at least one row
}

func ExampleCutSize() {
	size, rest, err := inflation.CutSize("lt225/75 r16 115/112Q")
	fmt.Printf("%s%s %v\n", size, rest, err)
	// Output: LT225/75R16 115/112Q <nil>
}

func ExampleTables_WithSkipped() {
	tables, err := inflation.NewTables(exampleLoaded())
	fmt.Println(tables.WithSkipped([]string{"visit.yaml"}).Skipped(), err)
	// Output: [visit.yaml] <nil>
}

func ExampleTire_Need() {
	tire := inflation.Tire{Class: inflation.LightTruck, Single: inflation.Rating{Load: 2680 * weight.Pound, Pressure: 80 * inflation.PSI}}
	load := inflation.LoadOf(weight.Estimate{Load: 2200 * weight.Pound, PlusMinus: 20 * weight.Pound, State: weight.Determined})
	need, err := tire.Need(load, weight.Single, inflation.Options{}, weight.US)
	fmt.Println(tire.MadeFor())
	fmt.Println(need.Low, "to", need.High, need.From, need.Known(), err)
	tire.Table, tire.Class, tire.LoadRange = exampleLoaded(), 0, "F"
	row, err := tire.Need(load, weight.Single, inflation.Options{}, weight.US)
	fmt.Println(row.Low, "to", row.High, row.From, err)
	fmt.Println(need.Or(row).High)
	// Output:
	// light truck
	// 54.89 psi to 70 psi estimate true <nil>
	// 75 psi to 75 psi table <nil>
	// 75 psi
}

func ExampleTire_Carries() {
	tire := inflation.Tire{Class: inflation.LightTruck, Single: inflation.Rating{Load: 2680 * weight.Pound, Pressure: 80 * inflation.PSI}}
	placard := inflation.Placard{Pressure: 65 * inflation.PSI, GAWR: 4600 * weight.Pound, GVWR: 14050 * weight.Pound, Fitted: inflation.AsPlacard}
	promised, ok := placard.Promises(65*inflation.PSI, weight.Single, weight.US)
	fmt.Println(promised, ok)
	for _, p := range []inflation.Pressure{60 * inflation.PSI, 65 * inflation.PSI} {
		c, err := tire.Carries(p, weight.Single, placard, inflation.Options{}, weight.US)
		fmt.Println(c.Low, "to", c.High, c.From, c.Known(), err)
	}
	fmt.Println(tire.Rated(weight.Single, inflation.Options{}, weight.US).High)
	// Output:
	// 2300 lb true
	// 2010 lb to 2320.94 lb estimate true <nil>
	// 2300 lb to 2415.71 lb estimate true <nil>
	// 2680 lb
}

func ExampleAxleLoad_OnTire() {
	weighed := func(lb weight.Mass) weight.Estimate {
		return weight.Estimate{Load: lb * weight.Pound, PlusMinus: 40 * weight.Pound, State: weight.Determined}
	}
	load, basis := inflation.AxleLoad{Total: inflation.LoadOf(weighed(12000))}.OnTire(weight.Dual, weight.US)
	fmt.Println(load.AtLeast, "to", load.Load+load.PlusMinus, "-", basis)
	end := inflation.LoadOf(weighed(6000)).WithDuals(weighed(2900), weighed(3100))
	load, basis = inflation.AxleLoad{Left: end, Right: inflation.LoadOf(weighed(5800))}.OnTire(weight.Dual, weight.US)
	fmt.Println(load.Load, load.PlusMinus, "-", basis)
	// Output:
	// 3010 lb to 3311 lb - 55 % of the axle assumed on one end
	// 3100 lb 40 lb - ends weighed
}

func ExampleSetting_WheelForbids() {
	setting, err := inflation.SetAxle(inflation.AxleInput{
		Fitment: weight.Single,
		Weighed: inflation.AxleLoad{
			Left:  inflation.Load{Load: 3300 * weight.Pound, State: inflation.Weighed},
			Right: inflation.Load{Load: 3100 * weight.Pound, State: inflation.Weighed},
		},
		Tires:   []inflation.Tire{{Name: "both", Table: exampleLoaded(), LoadRange: "F"}},
		Wheels:  []inflation.Wheel{{Name: "both", MaxLoad: 4000 * weight.Pound, MaxPressure: 80 * inflation.PSI}},
		Placard: 80 * inflation.PSI,
	})
	fmt.Println(setting.Outcome, setting.WheelForbids(), err)
	for _, short := range setting.Short {
		fmt.Println(short.Side, short.Limit.Part, short.Limit.Pressure, short.Over)
	}
	// Output:
	// short true <nil>
	// left wheel pressure 80 psi 50 lb
}

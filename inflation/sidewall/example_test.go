package sidewall_test

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func ExampleParseLoadIndex() {
	index, err := sidewall.ParseLoadIndex("121")
	fmt.Println(index.Number(), index.Load(), index.AgreesWith(3195*weight.Pound), index.AgreesWith(3640*weight.Pound), err)
	same, _ := sidewall.LoadIndexOf(121)
	var none sidewall.LoadIndex
	fmt.Println(same == index, none.Known())
	fmt.Println(index.Source())
	// Output:
	// 121 1450 kg true false <nil>
	// true false
	// ISO 4000-1, load index, one list, and 80 steps to a factor of ten (as quoted)
}

func ExampleStamps_Rating() {
	side, err := sidewall.Parse("LT225/75R16 115/112R MAX LOAD SINGLE 2680 LBS AT 80 PSI COLD")
	fmt.Println(side.Lower(weight.Single) == side.Rating(weight.Single))
	fmt.Println(side.Rating(weight.Single).Load, side.Rating(weight.Single).Pressure, side.Rating(weight.Dual).Load, err)
	// Output:
	// true
	// 2680 lb 80 psi 0 lb <nil>
}

func ExampleParseSpeedSymbol() {
	symbol, err := sidewall.ParseSpeedSymbol("L")
	fmt.Println(symbol.Speed(), symbol.Below(80*inflation.MilePerHour), symbol.Below(65*inflation.MilePerHour), err)
	fmt.Println(symbol.Source())
	// Output:
	// 120 km/h true false <nil>
	// ISO 4000-1, speed symbol, two or more lists agree (as quoted)
}

func ExampleStampedKilopascals() {
	printed, known := sidewall.StampedKilopascals(95 * inflation.PSI)
	fmt.Println(printed, known)
	// Output: 660 kPa true
}

func ExampleParse() {
	s, err := sidewall.Parse("lt225/75 r16 115/112Q load range E, MAX LOAD SINGLE 2680 LBS AT 80 PSI COLD")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s)
	fmt.Println(s.Class(), s.SingleIndex.Load(), s.Speed.Speed())
	for _, d := range s.Doubts(105 * inflation.MilePerHour) {
		fmt.Println(d.Kind, "-", d.Stamped, "-", d.Expected)
	}
	// Output:
	// LT225/75R16 115/112Q load range E; maximum load single 2680 lb at 80 psi cold
	// light truck 1215 kg 160 km/h
	// speed symbol below the road speed - Q = 160 km/h - at least 105 mph
}

func ExampleFindTable() {
	table, err := inflation.NewTable(inflation.TableData{
		Name: "invented", Size: "AX240/75R20", Class: inflation.Truck, Source: origin.Source{Grade: origin.Invented, Title: "made up for this example"},
		PressureUnit: inflation.PSI, LoadUnit: weight.Pound, Single: inflation.PerTire,
		Rows: []inflation.PrintedRow{{Pressure: 95 * inflation.PSI, Single: 3640 * weight.Pound}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	tables, err := inflation.NewTables(table)
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := sidewall.FindTable(tables, "ax240/75 r20", "")
	fmt.Println(found.Name(), err)
	_, err = sidewall.FindTable(tables, "LT225/75R16 115/112Q", "")
	fmt.Println(err)
	// Output:
	// invented <nil>
	// size "LT225/75R16 115/112Q": no table for the size
}

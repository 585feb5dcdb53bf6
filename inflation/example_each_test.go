package inflation_test

import (
	"fmt"
	"strings"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/weight"
)

func exampleLoaded() *inflation.Table {
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
	if err != nil {
		fmt.Println(err)
	}
	return table
}

func ExampleSetting_PlusMinusMatters() {
	setting, err := inflation.SetAxle(inflation.AxleInput{
		Fitment: weight.Single,
		Weighed: inflation.AxleLoad{
			Left:  inflation.Load{Load: 3240 * weight.Pound, PlusMinus: 20 * weight.Pound, State: inflation.Weighed},
			Right: inflation.Load{Load: 3100 * weight.Pound, PlusMinus: 20 * weight.Pound, State: inflation.Weighed},
		},
		Tires: []inflation.Tire{{Name: "both", Table: exampleLoaded(), LoadRange: "F"}},
	})
	fmt.Println(setting.Minimum, setting.PlainMinimum, setting.PlusMinusMatters(), err)
	// Output: 85 psi 80 psi true <nil>
}

func ExampleCautions() {
	s := inflation.Cautions(0).With(inflation.CautionTirePressureNotRead)
	fmt.Println(s.Has(inflation.CautionTirePressureNotRead), s.Has(inflation.CautionTireLoadNotRead))
	for c := range s.All() {
		fmt.Println(c.Text())
	}
	// Output:
	// true false
	// A sidewall's maximum pressure was not read: read it before setting.
}

func ExampleParseBasis() {
	basis, err := inflation.ParseBasis("Per Pair")
	class, err2 := inflation.ParseClass("light truck")
	construction, err3 := inflation.ParseConstruction("RADIAL")
	fmt.Println(basis, class, construction, err, err2, err3)
	// Output: per end light truck radial <nil> <nil> <nil>
}

func ExampleUnlisted_CapacityAt() {
	tire := inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 3640 * weight.Pound, Pressure: 95 * inflation.PSI}}
	load, err := tire.CapacityAt(85*inflation.PSI, inflation.Options{}, weight.US)
	fmt.Println(load, tire.Floor(), err)
	fmt.Println(inflation.EstimateSource())
	// Output:
	// 3256.84 lb 80 psi <nil>
	// estimate from the sidewall's maximum load and pressure (computed)
}

func ExampleParseLoadIndex() {
	index, err := inflation.ParseLoadIndex("121")
	fmt.Println(index.Number(), index.Load(), index.AgreesWith(3195*weight.Pound), index.AgreesWith(3640*weight.Pound), err)
	same, _ := inflation.LoadIndexOf(121)
	var none inflation.LoadIndex
	fmt.Println(same == index, none.Known())
	fmt.Println(index.Source())
	// Output:
	// 121 1450 kg true false <nil>
	// true false
	// ISO 4000-1, load index, one list, and 80 steps to a factor of ten (as quoted)
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
	fmt.Println(inflation.NormalizeSize("ax240/75R20"), inflation.NormalizeSize("LT225/75R16 115/112R"))
	_, err = inflation.ParseSize("about 16 inches")
	fmt.Println(err)
	// Output:
	// LT225/75R16 light truck radial 16 in <nil>
	// AX240/75R20 LT225/75R16
	// "about 16 inches": not a size designation: want one such as "LT225/75R16", "ST205/75D15", "11R22.5", "7.50R16LT" or "37x12.50R17LT"
}

func ExampleSidewall_Rating() {
	side, err := inflation.ParseSidewall("LT225/75R16 115/112R MAX LOAD SINGLE 2680 LBS AT 80 PSI COLD")
	fmt.Println(side.Rating(weight.Single).Load, side.Rating(weight.Single).Pressure, side.Rating(weight.Dual).Load, err)
	// Output: 2680 lb 80 psi 0 lb <nil>
}

func ExampleParseSpeedSymbol() {
	symbol, err := inflation.ParseSpeedSymbol("L")
	fmt.Println(symbol.Speed(), symbol.Below(80*inflation.MilePerHour), symbol.Below(65*inflation.MilePerHour), err)
	fmt.Println(symbol.Source())
	// Output:
	// 120 km/h true false <nil>
	// ISO 4000-1, speed symbol, two or more lists agree (as quoted)
}

func ExampleStampedKilopascals() {
	printed, known := inflation.StampedKilopascals(95 * inflation.PSI)
	fmt.Println(printed, known)
	// Output: 660 kPa true
}

func ExampleTable_Rows() {
	table := exampleLoaded()
	fmt.Println(table.System(), table.Basis(weight.Dual), table.Serves("F"), table.Serves("H"))
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

func ExampleLoader() {
	own := inflation.Loader{MaxBytes: 200} // of what strangers upload
	_, err := own.Load("table.yaml", []byte(exampleTable))
	fmt.Println(err)
	tables, err := inflation.Loader{}.LoadFolder(fstest.MapFS{"own.yaml": {Data: []byte(exampleTable)}, "notes.txt": {Data: []byte("read me")}})
	fmt.Println(tables.Len(), err)
	// Output:
	// table.yaml: file is too large: 350 bytes, at most 200 are read
	// 1 <nil>
}

func ExampleIsTable() {
	fmt.Println(inflation.IsTable([]byte("# typed in on Monday\n"+exampleTable)), inflation.IsTable([]byte("visit: 1\n")))
	// Output: true false
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
		fmt.Print(t.Text())
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

func ExampleTableOutline_CSV() {
	text, err := inflation.TableOutline{Name: "own", Size: "AX240/75R20", Class: inflation.Truck, Single: inflation.PerTire}.CSV()
	head, _, _ := strings.Cut(string(text), "\n")
	fmt.Println(head, err)
	// Output: # A load and inflation table typed in as it is printed: nothing is converted. <nil>
}

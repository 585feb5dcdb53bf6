package inflation_test

import (
	"errors"
	"fmt"
	"os"
	"testing/fstest"
	"time"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// An invented table of an invented size.
const exampleTable = `table: 1
name: invented AX240/75R20
size: AX240/75R20
class: truck
load_range: F
pressure_unit: psi
load_unit: lb
single: per tire
dual: per pair
source: {grade: invented, title: made up for this example}
columns: [pressure, single, dual]
rows:
  - [75, 3120, 5850]
  - [80, 3250, 6100]
  - [85, 3385, 6350]
  - [90, 3515, 6590]
  - [95, 3640, 6830]
`

func Example() {
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
	if err != nil {
		fmt.Println(err)
		return
	}
	answer, err := table.PressureFor(3200*weight.Pound, weight.Single, inflation.Options{LoadRange: "F"})
	fmt.Println(answer.Pressure, answer.Upper.Load, err)
	// Output: 80 psi 3250 lb <nil>
}

func ExampleLoadTable() {
	// The dual loads are per pair, but somebody wrote per tire.
	wrong := []byte(`table: 1
name: wrong
size: AX240/75R20
class: truck
pressure_unit: psi
load_unit: lb
single: per tire
dual: per tire
source: {grade: invented, title: made up for this example}
columns: [pressure, single, dual]
rows:
  - [80, 3250, 6100]
  - [95, 3640, 6830]
`)
	_, err := inflation.LoadTable("wrong.yaml", wrong)
	fmt.Println(err)
	fmt.Println(errors.Is(err, inflation.ErrBasis))
	// Output:
	// wrong.yaml:12:16: rows[0][2]: wrong basis: a dual load of 6100 lb on one tire is above the single load of 3250 lb, which no tire allows: the figure printed, 6100 lb, makes sense as "per end" (3050 lb on one tire); see how the column is headed
	// true
}

func ExampleLoadTable_csv() {
	sheet := `table: 1,,
name: pasted,,
size: AX240/75R20,,
class: truck,,
pressure_unit: kPa,,
load_unit: kg,,
single: per tire,,
dual: per pair,,
grade: invented,,
source: made up for this example,,
pressure,single,dual
550,1475,2770
600,1560,2930
650,1650,3100
`
	table, err := inflation.LoadTable("sheet.csv", []byte(sheet))
	if err != nil {
		fmt.Println(err)
		return
	}
	capacity, err := table.CapacityAt(600*inflation.Kilopascal, weight.Dual, inflation.Options{})
	fmt.Println(capacity.In(weight.Kilogram, 0, weight.Floor), "kg on each tire", err)
	// Output: 1465 kg on each tire <nil>
}

func ExampleLoadTables() {
	folder := fstest.MapFS{ // or os.DirFS("tables")
		"ax240.yaml": {Data: []byte(exampleTable)},
		"visit.yaml": {Data: []byte("visit: 1\n")},
	}
	tables, err := inflation.LoadTables(folder)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := tables.Find("ax 240/75 r20", "F")
	fmt.Println(table.Name(), err)
	fmt.Println(tables.Skipped())
	// Output:
	// invented AX240/75R20 <nil>
	// [visit.yaml]
}

func ExampleTable_PressureFor() {
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
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
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
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

func ExampleTable_Curve() {
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(table.Curve(48))
	// Output:
	//      psi   load on one tire: s single, d dual
	//       95 |                         d          s
	//       90 |                   d          s
	//       85 |             d          s
	//       80 |       d         s
	//       75 | d         s
	//          +-------------------------------------
	//            2925                         3640 lb
}

func ExampleTableOutline_YAML() {
	outline := inflation.TableOutline{Name: "mine", Size: "LT225/75R16", LoadRange: "E", Single: inflation.PerTire, Dual: inflation.PerTire,
		Lowest: 75 * inflation.PSI, Highest: 80 * inflation.PSI, Step: 5 * inflation.PSI}
	data, err := outline.YAML()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = inflation.LoadTable("mine.yaml", data) // what is still to be filled in
	fmt.Println(err)
	// Output:
	// mine.yaml:2:1: source.grade: incomplete source: say where the figures come from
	// mine.yaml:25:10: rows[0][1]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:25:19: rows[0][2]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:26:10: rows[1][1]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:26:19: rows[1][2]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
}

func ExampleSetAxle() {
	table, err := inflation.LoadTable("table.yaml", []byte(exampleTable))
	if err != nil {
		fmt.Println(err)
		return
	}
	weighed := func(load weight.Mass) inflation.Load {
		return inflation.Load{Load: load, PlusMinus: 60 * weight.Pound, State: inflation.Weighed}
	}
	s, err := inflation.SetAxle(inflation.AxleInput{
		Name:    "drive",
		Fitment: weight.Dual,
		Weighed: inflation.AxleLoad{Left: weighed(6180 * weight.Pound), Right: weighed(5420 * weight.Pound)},
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
	// - It is below the placard, and rests on the weighed ends alone.
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

func ExampleParseSidewall() {
	s, err := inflation.ParseSidewall("lt225/75 r16 115/112Q load range E, MAX LOAD SINGLE 2680 LBS AT 80 PSI COLD")
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

func ExampleWillRead() {
	afternoon := inflation.Air{Temperature: inflation.MustParseTemperature("95 F")}
	morning := inflation.Air{Temperature: inflation.MustParseTemperature("60 F")}
	p, err := inflation.WillRead(102*inflation.PSI, afternoon, morning, weight.US)
	fmt.Println(p, err)
	p, err = inflation.SetTo(95*inflation.PSI, afternoon, morning, weight.US)
	fmt.Println(p, err)
	// Output:
	// 94.63 psi <nil>
	// 102.39 psi <nil>
}

func ExampleMornings() {
	now := inflation.Air{Temperature: inflation.MustParseTemperature("60 F")}
	cold := inflation.Air{Temperature: inflation.MustParseTemperature("20 F")}
	warm := inflation.Air{Temperature: inflation.MustParseTemperature("90 F")}
	mornings, err := inflation.Mornings(95*inflation.PSI, 90*inflation.PSI, now, weight.US, cold, warm)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(inflation.MorningLine(95*inflation.PSI, now, weight.US, mornings))
	// Output: 95 psi set at 60 F will read 86 psi at 20 F (add air), 101 psi at 90 F (leave it)
}

func ExampleColdAtMost() {
	bound, err := inflation.ColdAtMost(inflation.HotReading{Pressure: 88 * inflation.PSI, MaxLoad: 3640 * weight.Pound, Speed: 50 * inflation.MilePerHour})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("at most", bound.AtMost, "cold;", "below 85 psi:", bound.Condemns(85*inflation.PSI))
	fmt.Println(bound.Source)
	// Output:
	// at most 83 psi cold; below 85 psi: true
	// 49 CFR 393.75, table 1 (as quoted)
}

func ExampleLeakRate() {
	air := inflation.Air{Temperature: inflation.MustParseTemperature("60 F")}
	gauge := inflation.PSI // plus/minus
	leak, err := inflation.LeakRate(
		inflation.ColdReading{Pressure: 95 * inflation.PSI, PlusMinus: gauge, Air: air},
		inflation.ColdReading{Pressure: 83 * inflation.PSI, PlusMinus: gauge, Air: air},
		60*24*time.Hour, weight.US)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(leak.PerMonth, "a month, plus/minus", leak.PlusMinus, "- more than 2 psi:", leak.Exceeds(2*inflation.PSI))
	// Output: 6 psi a month, plus/minus 1 psi - more than 2 psi: true
}

func ExampleAlarmFor() {
	alarm, err := inflation.AlarmFor(95*inflation.PSI, 85*inflation.PSI, inflation.PSI, 0)
	fmt.Println(alarm.At, "flat at", alarm.FlatAt, err)
	// Output: 86 psi flat at 76 psi <nil>
}

func ExampleStandardAtmosphere() {
	p, err := inflation.StandardAtmosphere(5000 * weight.Foot)
	fmt.Println(p.In(inflation.PSI, 2, weight.Nearest), "psi", err)
	fmt.Fprintln(os.Stdout, inflation.AtmosphereSource())
	// Output:
	// 12.23 psi <nil>
	// US Standard Atmosphere 1976, formula of the lowest layer, -1,000 to 15,000 ft (computed)
}

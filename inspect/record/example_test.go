package record_test

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// twoAxles is an invented coach with duals behind.
func twoAxles() *record.Visit {
	visit, err := record.ReadJSON("visit.json", []byte(`{"visit": 1, "date": "2026-10-03",
		"axles": [{"id": "steer", "fitment": "single"}, {"id": "drive", "fitment": "dual"}],
		"tires": [{"at": "drive-left-outer", "found": "95 psi"}]}`))
	if err != nil {
		fmt.Println(err)
	}
	return visit
}

func ExampleVisit_Layout() {
	layout, err := twoAxles().Layout()
	if err != nil {
		fmt.Println(err)
		return
	}
	outer := layout.Wheels[2]
	left, err := layout.PlaceNamed("left")
	fmt.Println(outer.Name, "beside", layout.Wheels[layout.MateOf(2)].Name, left&outer.Set != 0, err)
	fmt.Println(layout.Splits(outer.Set), layout.Fits([]string{"steer", "inner"}, &outer))
	// Output:
	// drive-left-outer beside drive-left-inner true <nil>
	// true false
}

func ExampleIsSpare() {
	fmt.Println(record.IsSpare("spare-2"), record.IsSpare("drive-left"))
	// Output: true false
}

func ExampleBoth() {
	found, left, ok := record.Both(record.Record(88*inflation.PSI), record.Record(95*inflation.PSI))
	fmt.Println(left-found, ok, record.Yes(record.Record(true)))
	// Output: 7 psi true true
}

func ExampleTreads() {
	t := record.Treads{
		Inner:  []weight.Length{6 * record.ThirtySecond, 8 * record.ThirtySecond},
		Center: []weight.Length{10 * record.ThirtySecond},
		Outer:  []weight.Length{9 * record.ThirtySecond},
	}
	shoulders, center := t.BelowCenter()
	fmt.Println(t.Shoulders(), t.Around(), shoulders, center)
	// Output: 3/32 in 2/32 in 1/32 in 0 in
}

func ExampleTripChange_Mass() {
	change := record.TripChange{Fill: record.Record(50 * weight.USGallon), Fluid: record.Record(record.Water)}
	fmt.Println(change.Mass(weight.US))
	// Output: 417.5 lb <nil>
}

func ExampleTire_Fill() {
	every := record.Tire{Size: "XV250/72R21", LastSet: record.Record(110 * inflation.PSI)}
	tire := record.Tire{At: "steer-left", Found: record.Record(0 * inflation.PSI), ReadAt: record.Record(record.ThroughExtension)}
	tire.Fill(&every)
	fmt.Println(tire.Size, tire.LastSet, tire.FoundAtStem())
	// Output: XV250/72R21 110 psi not recorded
}

func ExampleRotates_RunsOn() {
	fmt.Println(record.OnLeft.RunsOn(weight.Left), record.OnLeft.RunsOn(weight.Right))
	// Output: true false
}

func ExampleParseStem() {
	stem, err := record.ParseStem("rubber snap-in")
	_, wrong := record.ParseStem("rubber")
	fmt.Println(stem == record.SnapIn, err, wrong != nil)
	// Output: true <nil> true
}

func ExampleParseTreadType() {
	tread, err := record.ParseTreadType("traction")
	fmt.Println(tread == record.Traction, err)
	// Output: true <nil>
}

func ExampleParsePlacard() {
	placard, err := record.ParsePlacard("100 psi")
	at, has := placard.Pressure()
	fmt.Println(at, has, placard == record.PlacardAt(100*inflation.PSI), err)
	placard, err = record.ParsePlacard("none") // somebody looked
	_, has = placard.Pressure()
	fmt.Println(has, placard == record.NoPlacard(), err)
	// Output:
	// 100 psi true true <nil>
	// false true <nil>
}

func ExampleParseTow() {
	tow, err := record.ParseTow("car")
	fmt.Println(tow == record.TowsCar, err)
	_, err = record.ParseTow("boat")
	fmt.Println(err)
	// Output:
	// true <nil>
	// unknown word "boat" for tows: want one of nothing, car, trailer, fifth wheel
}

func ExampleParseTorque() {
	torque, err := record.ParseTorque("475 ft-lb")
	fmt.Println(torque, torque > 640*record.NewtonMeter, err)
	// Output: 475 ft-lb true <nil>
}

func ExampleVisit_WithoutNames() {
	visit := twoAxles()
	visit.Names.Customer = "an invented owner"
	fmt.Println(visit.WithoutNames().Names == record.Names{}, visit.Names.Customer)
	// Output: true an invented owner
}

func ExampleFields() {
	for _, f := range record.Fields() {
		if f.Part == "ratings" {
			fmt.Println(f.Key, f.Label, f.Kind, f.Units, f.Example)
		}
	}
	// Output:
	// gvwr GVWR mass [lb kg] 26,000 lb
	// gcwr GCWR mass [lb kg] 31,000 lb
}

// A pressure to set is printed rounded up, a limit rounded down, in the unit that the
// visit asks for; what is set is whole steps of a gauge in that unit.
func ExamplePressureText() {
	set, step := 110*inflation.PSI, record.PressureStep("bar", weight.US)
	fmt.Println(record.PressureText(set, "bar", weight.US, weight.Ceiling))
	fmt.Println(record.PressureText(set, "bar", weight.US, weight.Floor))
	fmt.Println(record.PressureText(set.Round(step, weight.Ceiling), "bar", weight.US, weight.Ceiling))
	// Output:
	// 7.59 bar
	// 7.58 bar
	// 7.6 bar
}

func ExampleOwn_Names() {
	visit, err := record.Read("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, own: {since_mounted: 180 mi, nuts_checked: no}}]
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, name := range visit.Tires[0].Own.Names() {
		fmt.Println(name, visit.Tires[0].Own[name])
	}
	// Output:
	// nuts_checked no
	// since_mounted 180 mi
}

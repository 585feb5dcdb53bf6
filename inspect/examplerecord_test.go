package inspect_test

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/weight"
)

func ExampleConditionSet() {
	c, err := inspect.ParseCondition("bulge")
	set := inspect.ConditionSet(0).With(c).With(inspect.Cut)
	fmt.Println(set.All(), set.Has(inspect.Bulge), set.Has(inspect.Boot), err)
	// Output: [bulge cut] true false <nil>
}

func ExampleEndName() {
	fmt.Println(inspect.EndName("drive", weight.Left))
	// Output: drive-left
}

func ExampleRecorded_Or() {
	visits := inspect.Record(95 * inflation.PSI) // what all tires of the visit share
	own := inspect.Recorded[inflation.Pressure]{}
	fmt.Println(own.Or(visits), inspect.NotRead[inflation.Pressure]().Or(visits))
	// Output: 95 psi not read
}

func ExampleTreads_Least() {
	treads := inspect.Treads{Inner: []weight.Length{5 * inspect.ThirtySecond}, Outer: []weight.Length{9 * inspect.ThirtySecond}}
	least, probed := treads.Least()
	fmt.Println(least, probed)
	// Output: 5/32 in true
}

func ExampleParseStamp() {
	stamp, err := inspect.ParseStamp("3640 lb at 95 psi")
	fmt.Println(stamp.Load, stamp.At, err)
	offset, err := inspect.ParseOffset("30 in left")
	fmt.Println(offset, err)
	service, err := inspect.ParseService("141/140L")
	fmt.Println(service, err)
	stood, err := inspect.ParseStanding("2.5 h")
	fmt.Println(stood, err)
	// Output:
	// 3640 lb 95 psi <nil>
	// 30 in left <nil>
	// 141/140L <nil>
	// 150 min <nil>
}

func ExampleParseReadAt() {
	at, err := inspect.ParseReadAt("not reached")
	fmt.Println(at == inspect.NotReached, err)
	fluid, err := inspect.ParseFluid("diesel")
	fmt.Println(fluid == inspect.Diesel, err)
	_, err = inspect.ParseSidewalls("left")
	fmt.Println(err)
	_, err = inspect.ParseInjuryAt("top")
	fmt.Println(err)
	_, err = inspect.ParseRotates("backward")
	fmt.Println(err)
	// Output:
	// true <nil>
	// true <nil>
	// unknown word "left" for sidewalls: want one of both, outer, inner, neither
	// unknown word "top" for injury_at: want one of crown, shoulder, sidewall
	// unknown word "backward" for rotates: want one of either side, left, right
}

func ExampleReadVisit() {
	_, err := inspect.ReadVisit("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-lefty, found: 95}]
`))
	fmt.Println(err)
	// Output:
	// visit.yaml:5:14: tires[0].at: no such place on this coach: "steer-lefty": did you mean "steer-left"?
	// visit.yaml:5:34: tires[0].found: pressure "95": wrong or missing unit: a bare number: want a number and psi, kPa or bar, such as "95 psi"
}

func ExampleRecord() {
	flat := inspect.Record(inflation.Pressure(0))
	var unread inspect.Recorded[inflation.Pressure]
	fmt.Println(flat, unread)
	// Output: 0 psi not recorded
}

func Example_thirtySecond() {
	fmt.Println(4*inspect.ThirtySecond, 4*inspect.ThirtySecond == weight.Inch/8)
	// Output: 4/32 in true
}

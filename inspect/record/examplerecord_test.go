package record_test

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

func ExampleEndName() {
	fmt.Println(record.EndName("drive", weight.Left))
	// Output: drive-left
}

func ExampleRecorded_Or() {
	visits := record.Record(95 * inflation.PSI) // what all tires of the visit share
	own := record.Recorded[inflation.Pressure]{}
	fmt.Println(own.Or(visits), record.NotRead[inflation.Pressure]().Or(visits))
	// Output: 95 psi not read
}

func ExampleTreads_Least() {
	treads := record.Treads{Inner: []weight.Length{5 * record.ThirtySecond}, Outer: []weight.Length{9 * record.ThirtySecond}}
	least, probed := treads.Least()
	fmt.Println(least, probed)
	// Output: 5/32 in true
}

func ExampleParseStamp() {
	stamp, err := record.ParseStamp("3640 lb at 95 psi")
	fmt.Println(stamp.Load, stamp.At, err)
	offset, err := record.ParseOffset("30 in left")
	fmt.Println(offset, err)
	service, err := record.ParseService("141/140L")
	fmt.Println(service, err)
	stood, err := record.ParseParkedFor("2.5 h")
	fmt.Println(stood, err)
	// Output:
	// 3640 lb 95 psi <nil>
	// 30 in left <nil>
	// 141/140L <nil>
	// 150 min <nil>
}

func ExampleParseReadAt() {
	at, err := record.ParseReadAt("not reached")
	fmt.Println(at == record.NotReached, err)
	fluid, err := record.ParseFluid("diesel")
	fmt.Println(fluid == record.Diesel, err)
	_, err = record.ParseSidewalls("left")
	fmt.Println(err)
	_, err = record.ParseInjuryAt("top")
	fmt.Println(err)
	_, err = record.ParseRotates("backward")
	fmt.Println(err)
	// Output:
	// true <nil>
	// true <nil>
	// unknown word "left" for sidewalls: want one of both, outer, inner, neither
	// unknown word "top" for injury_at: want one of crown, shoulder, sidewall
	// unknown word "backward" for rotates: want one of either side, left, right
}

func ExampleRead() {
	_, err := record.Read("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-lefty, found: 95}]
`))
	fmt.Println(err)
	// Output:
	// visit.yaml:5:14: steer-lefty.at: no such place on this coach: "steer-lefty": did you mean "steer-left"?
	// visit.yaml:5:34: steer-lefty.found: pressure "95": no unit: want 95 psi, 95 kPa or 95 bar
}

func ExampleRecord() {
	flat := record.Record(inflation.Pressure(0))
	var unread record.Recorded[inflation.Pressure]
	fmt.Println(flat, unread)
	// Output: 0 psi not recorded
}

func Example_thirtySecond() {
	fmt.Println(4*record.ThirtySecond, 4*record.ThirtySecond == weight.Inch/8)
	// Output: 4/32 in true
}

package inspect_test

import (
	"encoding/json"
	"fmt"
	"os"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// exampleVisit is an invented coach with one tire.
func exampleVisit() *inspect.Visit {
	visit, err := inspect.ReadVisit("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 76 psi}]
`))
	if err != nil {
		fmt.Println(err)
	}
	return visit
}

func ExampleCompilePacks() {
	program, err := inspect.CompilePacks(packs.FS(), "us-commercial")
	if err != nil {
		fmt.Println(err)
		return
	}
	usual, err := inspect.DefaultProgram()
	fmt.Println(program.Packs(), usual.Packs(), err)
	// Output: [us-commercial] [coach-care dual-matching label servicing-safety] <nil>
}

func ExampleReport_AppendJSON() {
	report, err := inspect.Assess(exampleVisit(), inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	quick, err := report.AppendJSON(nil)
	usual, err2 := json.Marshal(report)
	fmt.Println(string(quick) == string(usual), err, err2)
	// Output: true <nil> <nil>
}

func ExampleCheckPack() {
	report, err := inspect.CheckPack(os.DirFS("../rules/packs"), "dual-matching")
	fmt.Println(report.Pack, len(report.Failures), "failures", len(report.Gaps), "gaps", err)
	// Output: dual-matching 0 failures 0 gaps <nil>
}

func ExampleNearest() {
	fmt.Println(inspect.Nearest("assses", []string{"assess", "weigh", "date"}))
	// Output: assess
}

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

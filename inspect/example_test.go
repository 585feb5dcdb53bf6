package inspect_test

import (
	"fmt"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
)

func ExampleAssess() {
	visit, err := record.Read("visit.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, gawr: 5000 lb}]
tires: [{at: steer-left, last_set: 95 psi, found: 76 psi}]
weighing: {scale: pads, readings: [{load: 3000 lb, on: steer-left}]}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Drive)
	for _, it := range report.Todo {
		fmt.Printf("%s: %s: %s\n", it.Action, it.Where, it.What)
	}
	// Output:
	// must not move
	// do_not_drive: steer-left: Flat: run at 20 % or more below the pressure it was last set to
	// before_trip: steer-right: Its pressure was not read
	// before_trip: steer-left: Axle end over half of its axle's rating
	// before_trip: steer: The placard was not read
	// before_trip: coach: A tire was not looked over, or its tread or date code not read
	// before_trip: coach: Weighed, but a rating of the coach or an axle was not read
	// before_trip: coach: Wheels come off for this work
}

func ExampleVocabulary() {
	for _, a := range inspect.Vocabulary().Definition().Actions {
		fmt.Println(a.Name, a.Stops)
	}
	// Output:
	// do_not_drive true
	// before_trip false
	// plan false
}

package placement_test

import (
	"cmp"
	"context"
	"fmt"
	"os"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
)

func ExampleFind() {
	data, err := os.ReadFile("../../examples/wheels/pair.yaml") // a pair 6/32 in apart, and a spare
	if err != nil {
		fmt.Println(err)
		return
	}
	visit, err := record.Read("pair.yaml", data)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := placement.Find(context.Background(), visit, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Outcome, "- not judged:", r.NotJudged)
	for _, m := range r.Moves {
		fmt.Println(m.Tire, "to", m.To)
	}
	for i, s := range r.Steps {
		fmt.Println(i+1, s.Do, cmp.Or(s.Place, s.End))
	}
	// Output:
	// move wheels - not judged: 0
	// spare to drive-left-inner
	// drive-left-inner to spare
	// 1 fetch spare
	// 2 lift drive-left
	// 3 take off drive-left-outer
	// 4 take off drive-left-inner
	// 5 put on drive-left-inner
	// 6 put on drive-left-outer
	// 7 lower drive-left
	// 8 stow spare
}

func ExampleRead() {
	_, err := placement.Read("coach.json", []byte(`{"placement": 1, "date": "2026-10-03", "units": "us", "outcome": "no move", "stops": false, "not_judged": 0}`))
	fmt.Println(err)
	// Output: coach.json: places: missing
}

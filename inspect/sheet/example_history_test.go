package sheet_test

import (
	"fmt"
	"strings"

	"axleend.example/inspect"
	"axleend.example/inspect/sheet"
)

// Two visits of an invented coach.
func exampleVisits() []*inspect.Visit {
	var visits []*inspect.Visit
	for _, text := range []string{`
visit: 1
date: 2026-03-17
odometer: 20,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 94 psi, tread: 10/32 in}]
`, `
visit: 1
date: 2026-10-03
odometer: 28,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 76 psi, tread: 8/32 in}]
`} {
		v, err := inspect.ReadVisit("visit.yaml", []byte(text))
		if err != nil {
			fmt.Println(err)
			return nil
		}
		visits = append(visits, v)
	}
	return visits
}

func ExampleHistoryText() {
	history, err := inspect.Compare(exampleVisits(), inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	first, _, _ := strings.Cut(sheet.HistoryText(history), "\n")
	fmt.Println(first)
	fmt.Println(sheet.SinceLastVisit(history))
	// Output:
	// DO NOT DRIVE - STILL OPEN: 1, NOT JUDGED: 3, listed below
	// The visit before was on 2026-03-17, 8,000 mi ago. Of what was advised, 0 stand from before, 1 came new, and 0 were closed. 1 of what is open stops the coach. First at a tread limit is steer-left, which lost 0.12 to 0.38/32 in per 1,000 mi: at that pace 4/32 in is reached after 9,300 to 36,000 mi, between 2027-05-24 and 2029-03-21.
}

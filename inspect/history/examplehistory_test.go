package history_test

import (
	"fmt"

	"axleend.example/dotcode"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
)

func ExampleCompare() {
	var visits []*record.Visit
	for _, text := range []string{`
visit: 1
date: 2026-10-03
odometer: 28,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, tread: 8/32 in, seen: bulge}]
`, `
visit: 1
date: 2026-03-17
odometer: 20,000 mi
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, tread: 10/32 in}]
`} {
		visit, err := record.Read("visit.yaml", []byte(text))
		if err != nil {
			fmt.Println(err)
			return
		}
		visits = append(visits, visit)
	}
	history, err := history.Compare(visits, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	wear, _ := history.Tires[0].Wear.Get()
	for _, limit := range wear.Limits {
		fmt.Println(limit.Depth, limit.Soonest, limit.SoonestOn)
	}
	for _, advised := range history.Open {
		fmt.Println(advised.First, advised.At, advised.Item.What)
	}
	// Output:
	// 4/32 in 9300 mi 2027-05-24
	// 2026-10-03 steer-left Bulge
	// 2026-03-17 steer-left Its pressure was not read
	// 2026-03-17 steer-right Its pressure was not read
	// 2026-03-17 steer The placard was not read
	// 2026-03-17 coach A tire was not looked over, or its tread or date code not read
}

func ExampleHistory_Due() {
	h := history.History{Visits: []history.VisitLine{{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}}}}
	for _, d := range h.Due() {
		fmt.Println(d.On, d.Kind)
	}
	// Output: 2027-10-03 next visit
}

func ExampleRead() {
	_, err := history.Read("coach.json", []byte(`{"report": 1, "stops": false}`))
	fmt.Println(err)
	// Output: coach.json: history: missing: this is another document, by its key "report"
}

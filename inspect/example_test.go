package inspect_test

import (
	"context"
	"fmt"
	"strings"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/weight"
)

func ExampleAssess() {
	visit, err := inspect.ReadVisit("visit.yaml", []byte(`
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
	fmt.Println(report.Worst, report.Stops)
	for _, it := range report.Todo {
		fmt.Printf("%s: %s: %s\n", it.Action, it.Where, it.What)
	}
	// Output:
	// do_not_drive true
	// do_not_drive: steer-left: Flat: run at 20 % or more below its pressure
	// before_trip: steer-left: Axle end over half of its axle's rating
	// before_trip: coach: Wheels come off for what is to be done
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

func ExampleVocabulary() {
	for _, a := range inspect.Vocabulary().Definition().Actions {
		fmt.Println(a.Name, a.Stops)
	}
	// Output:
	// do_not_drive true
	// before_trip false
	// plan false
}

func ExampleBatch() {
	in := strings.NewReader(`{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left", "last_set": "95 psi", "found": "76 psi"}]}

{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "left", "found": "95 psi"}]}
`)
	var out strings.Builder
	result, err := inspect.Batch(context.Background(), in, &out, inspect.Setup{}, inspect.BatchOptions{})
	fmt.Println(result.Records, "records,", result.Stops, "must stop,", result.Bad, "bad;", err)
	for line := range strings.Lines(out.String()) {
		fmt.Printf("%.70s\n", line)
	}
	// Output:
	// 2 records, 1 must stop, 1 bad; <nil>
	// {"report":1,"date":"2026-10-03","units":"us","worst":"do_not_drive","s
	// {"bad_record":1,"line":3,"problems":[{"line":3,"column":102,"path":"ti
}

func ExampleBatchFolder() {
	visits := fstest.MapFS{ // or os.DirFS("visits")
		"monday.yaml": {Data: []byte("visit: 1\ndate: 2026-10-05\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 95 psi}]\n")},
	}
	var out strings.Builder
	result, err := inspect.BatchFolder(context.Background(), visits, &out, inspect.Setup{}, inspect.BatchOptions{
		Progress: func(r inspect.BatchResult) { fmt.Println(r.Records, "of", r.Of) },
	})
	fmt.Println(result.Stops, err)
	// Output:
	// 1 of 1
	// 0 <nil>
}

func ExampleFindResume() {
	// What an interrupted batch left: one answer, and half of the next.
	file := strings.NewReader(`{"bad_record":1,"line":1,"problems":[{"line":1,"column":1,"code":"syntax","error":"..."}]}
{"report":1,"date":"2026-`)
	resume, err := inspect.FindResume(file)
	fmt.Println(resume.Records, resume.Bad, resume.Size, err)
	// Truncate the file to resume.Size, go to its end, and hand resume to
	// Batch in its options, with the same input from its beginning.

	// Output: 1 1 91 <nil>
}

func ExampleCompare() {
	var visits []*inspect.Visit
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
		visit, err := inspect.ReadVisit("visit.yaml", []byte(text))
		if err != nil {
			fmt.Println(err)
			return
		}
		visits = append(visits, visit)
	}
	history, err := inspect.Compare(visits, inspect.Setup{})
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
}

package batch_test

import (
	"context"
	"fmt"
	"strings"
	"testing/fstest"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
)

func ExampleRun() {
	in := strings.NewReader(`{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left", "last_set": "95 psi", "found": "76 psi"}]}

{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "left", "found": "95 psi"}]}
`)
	var out strings.Builder
	result, err := batch.Run(context.Background(), in, &out, inspect.Setup{}, batch.Options{})
	fmt.Println(result.Records, "records,", result.Stops, "must stop,", result.Bad, "bad;", err)
	for line := range strings.Lines(out.String()) {
		fmt.Printf("%.70s\n", line)
	}
	// Output:
	// 2 records, 1 must stop, 1 bad; <nil>
	// {"report":1,"date":"2026-10-03","units":"us","drive":"must not move","
	// {"bad_record":1,"line":3,"problems":[{"line":3,"column":102,"path":"le
}

func ExampleRunFolder() {
	visits := fstest.MapFS{ // or os.DirFS("visits")
		"monday.yaml": {Data: []byte("visit: 1\ndate: 2026-10-05\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 95 psi}]\n")},
	}
	var out strings.Builder
	result, err := batch.RunFolder(context.Background(), visits, &out, inspect.Setup{}, batch.Options{
		Progress: func(r batch.Result) { fmt.Println(r.Records, "of", r.Of) },
	})
	fmt.Println(result.Stops, err)
	// Output:
	// 1 of 1
	// 0 <nil>
}

func ExampleRun_behindAnEarlierRun() {
	visits := `{"visit": 1}
{"visit": 1, "date": "2026-10-03", "axles": [{"id": "steer", "fitment": "single"}], "tires": [{"at": "steer-left", "found": "95 psi"}]}
`
	// What an interrupted batch left: one answer, and half of the next. Of a file,
	// this is what stands in it, and what is written goes to its end.
	var whole, more strings.Builder
	if _, err := batch.Run(context.Background(), strings.NewReader(visits), &whole, inspect.Setup{}, batch.Options{}); err != nil {
		fmt.Println(err)
	}
	left := whole.String()[:whole.Len()/2]
	result, err := batch.Run(context.Background(), strings.NewReader(visits), &more, inspect.Setup{}, batch.Options{Earlier: strings.NewReader(left)})
	fmt.Println(result.Records, "records,", result.Bad, "bad;", err, left+more.String() == whole.String())

	// Output: 2 records, 1 bad; <nil> true
}

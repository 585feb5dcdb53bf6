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
	// {"report":1,"date":"2026-10-03","units":"us","worst":"do_not_drive","s
	// {"bad_record":1,"line":3,"problems":[{"line":3,"column":102,"path":"ti
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

func ExampleFindResume() {
	// What an interrupted batch left: one answer, and half of the next.
	file := strings.NewReader(`{"bad_record":1,"line":1,"problems":[{"line":1,"column":1,"code":"syntax","error":"..."}]}
{"report":1,"date":"2026-`)
	resume, err := batch.FindResume(file)
	fmt.Println(resume.Records, resume.Bad, resume.Size, err)
	// Truncate the file to resume.Size, go to its end, and hand resume to
	// Batch in its options, with the same input from its beginning.

	// Output: 1 1 91 <nil>
}

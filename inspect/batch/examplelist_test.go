package batch_test

import (
	"context"
	"fmt"
	"os"
	"strings"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
)

func ExampleSortLines() {
	var lines []batch.Line
	each := func(a batch.Answer) error {
		lines = append(lines, batch.NewLine(a))
		return nil
	}
	if _, err := batch.Run(context.Background(), strings.NewReader(threeCoaches), nil, inspect.Setup{}, batch.Options{Each: each}); err != nil {
		fmt.Println(err)
		return
	}
	batch.SortLines(lines)
	for _, l := range lines {
		fmt.Printf("%s: %s\n", l.Name(), l.Drive)
	}
	// Output:
	// bulge: must not move
	// line 3: not known
	// fine: before the trip
}

func ExampleWriteCSV() {
	if err := batch.WriteCSV(os.Stdout, []batch.Line{{Coach: "=1+1", File: "a.yaml"}}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// coach,file,line,date,drive,first,where,stops,before,later,not judged,due on,due,due where,problem,call
	// '=1+1,a.yaml,,,not judged,,,,,,,,,,,
}

func ExampleFiles() {
	files, err := batch.Files(os.DirFS("../../examples/demo"))
	fmt.Println(files, err)
	// Output: [trip.yaml visit.yaml] <nil>
}

// Command script is a check as an owner would write it for one coach: three
// lines of the library, one visit file in, the page to read out.
//
//	go run ./examples/script examples/demo/visit.yaml
//
// It helps trained people decide and does not say that a coach is safe.
package main

import (
	"fmt"
	"io"
	"os"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "script wants one visit file")
		os.Exit(2)
	}
	if err := check(os.Args[1], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func check(file string, out io.Writer) error {
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	visit, err := record.Read(file, data)
	if err != nil {
		return err
	}
	report, err := inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		return err
	}
	_, err = io.WriteString(out, sheet.Text(report, sheet.TextOptions{Full: true}))
	return err
}

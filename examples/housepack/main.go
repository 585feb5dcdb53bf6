// Command housepack judges a visit by a shop's own limits, on top of those shipped,
// and by a measure that this library does not know: how far each wheel ran since it
// was mounted. The pack says what it measures, the visit gives the values.
//
//	go run ./examples/housepack examples/housepack/visit.yaml
//
// Shop and limits are invented. What it prints does not say that a coach is safe.
package main

import (
	"embed"
	"fmt"
	"io"
	"os"
	"strings"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/rules/packs"
)

//go:embed house.yaml
var files embed.FS

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "housepack wants one visit file")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "housepack:", err)
		os.Exit(2)
	}
}

func run(file string, out io.Writer) error {
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	visit, err := record.Read(file, data)
	if err != nil {
		return err
	}
	program, err := inspect.CompilePacks(files, append(packs.Default(), "house")...) // the shipped packs, and house.yaml
	if err != nil {
		return err
	}
	report, err := inspect.Assess(visit, inspect.Setup{Program: program}) // a value that cannot be is an error at its place
	if err != nil {
		return err
	}
	for _, it := range report.Todo {
		if strings.Contains(strings.Join(it.Rules, " "), "house/") {
			fmt.Fprintf(out, "%s: %s, found %s, wanted %s: %s\n", it.Where, it.What, it.Found, it.Bound, it.Advice)
		}
	}
	for _, n := range report.Unjudged {
		if strings.Contains(strings.Join(n.Rules, " "), "house/nuts-again") {
			fmt.Fprintf(out, "%s: not judged, write down %s\n", n.Where, n.Need)
		}
	}
	return nil
}

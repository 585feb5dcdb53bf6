// Command housepack adds a shop's own measure and limits to those shipped: how
// far each wheel ran since it was mounted, and whether its nuts were checked.
//
//	go run ./examples/housepack 40mi 180mi
//
// Each argument is one wheel with its nuts not yet checked again. Shop and
// limits are invented. What it prints does not say that a wheel is safe.
package main

import (
	_ "embed"
	"fmt"
	"io"
	"os"

	"axleend.example/inspect"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

//go:embed house.yaml
var house []byte

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "housepack:", err)
		os.Exit(2)
	}
}

// program compiles the house pack for the vocabulary of tires, extended by
// what this shop records besides. inspect.Assess takes it too.
func program() (*rules.Program, error) {
	distance := rules.Dimension{
		Name: "distance", Doc: "how far: 100 mi, 160 km",
		Parse:  func(text string) (int64, error) { d, err := weight.ParseLength(text); return int64(d), err },
		Format: func(n int64) string { return weight.Length(n).String() },
	}
	vocabulary, err := inspect.Vocabulary().Extend(rules.Definition{Subjects: []rules.Subject{{
		Name: "tire",
		Measures: []rules.Measure{
			{Name: "since_mounted", Doc: "how far it ran since its wheel was mounted", Dimension: distance},
			{Name: "nuts_checked", Doc: "whether the nuts were checked since then", Flag: true},
		},
	}}})
	if err != nil {
		return nil, err
	}
	list, err := rules.Load(packs.FS(), packs.Default()...)
	if err != nil {
		return nil, err
	}
	own, err := rules.LoadPack("house.yaml", house)
	if err != nil {
		return nil, err
	}
	return rules.Compile(vocabulary, append(list, own)...)
}

func run(distances []string, out io.Writer) error {
	p, err := program()
	if err != nil {
		return err
	}
	for i, d := range distances {
		facts, err := p.Vocabulary().NewFacts("tire", fmt.Sprintf("wheel %d", i+1))
		if err != nil {
			return err
		}
		if err := facts.SetText("since_mounted", d); err != nil {
			return err
		}
		if err := facts.SetText("nuts_checked", "no"); err != nil {
			return err
		}
		findings, err := p.Run(facts)
		if err != nil {
			return err
		}
		for f := range findings {
			if f.Rule.ID() == "nuts-again" {
				fmt.Fprintf(out, "%s: %s: %s (%s)\n", f.Name, f.Verdict, f.Rule.Title(), f.ValueText())
			}
		}
	}
	return nil
}

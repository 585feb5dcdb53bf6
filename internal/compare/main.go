package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"
)

// A bench is several ways to do the same work, ours first.
type bench struct {
	name string
	per  string // what a figure is for, such as "bound"
	of   int    // how many of them one call does
	ways []way
}

// A way is one of them.
type way struct {
	name string
	do   func() error
}

// times makes one call of n, for ways that are too short to be measured alone.
func times(n int, do func(i int) error) func() error {
	return func() error {
		for i := range n {
			if err := do(i); err != nil {
				return err
			}
		}
		return nil
	}
}

// A group is some benches. It holds their answers against each other, and gives
// them only if they are equal; notes say what was counted along with it.
type group struct {
	name  string
	check func() (benches []bench, notes []string, err error)
}

var groups = [...]group{
	{"rules", compareRules},
	{"lookups", compareLookups},
	{"solving", compareSolving},
	{"dates", compareDates},
	{"quantities", compareQuantities},
	{"codecs", compareCodecs},
	{"batch", compareBatch},
	{"growth", compareGrowth},
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errw io.Writer) int {
	flags := flag.NewFlagSet("compare", flag.ContinueOnError)
	flags.SetOutput(errw)
	only := flags.String("only", "", "`groups` with commas between (default: all)")
	check := flags.Bool("check", false, "hold the answers against each other and measure nothing")
	turns := flags.Int("turns", 21, "how often each way is measured")
	length := flags.Duration("for", 20*time.Millisecond, "CPU time of one way in one turn")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	chosen, err := choose(*only)
	if err == nil && (*turns < 1 || *length <= 0 || flags.NArg() > 0) {
		err = fmt.Errorf("want -turns and -for above 0 and nothing else, found %q", args)
	}
	if err != nil {
		fmt.Fprintln(errw, "compare:", err)
		return 2
	}
	m := newMeter(*turns, *length)
	defer m.close()
	if !*check {
		fmt.Fprintf(out, "%s, %s/%s, %d turns of %v CPU each; %s\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, *turns, *length, m.counted())
	}
	for _, g := range chosen {
		benches, notes, err := g.check()
		if err != nil {
			fmt.Fprintf(errw, "compare: %s: %v\n", g.name, err)
			return 1
		}
		fmt.Fprintf(out, "\n== %s: answers checked\n", g.name)
		for _, note := range notes {
			fmt.Fprintln(out, note)
		}
		for _, b := range benches {
			if err := m.bench(out, b, *check); err != nil {
				fmt.Fprintf(errw, "compare: %s: %s: %v\n", g.name, b.name, err)
				return 1
			}
		}
	}
	return 0
}

// choose gives the groups with these names, in the order of the table.
func choose(names string) ([]group, error) {
	if names == "" {
		return groups[:], nil
	}
	want := strings.Split(names, ",")
	var out []group
	for _, g := range groups {
		if i := slices.Index(want, g.name); i >= 0 {
			out, want = append(out, g), slices.Delete(want, i, i+1)
		}
	}
	if len(want) > 0 {
		return nil, fmt.Errorf("no group %q", want)
	}
	return out, nil
}

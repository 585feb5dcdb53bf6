package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// options are what was asked for.
type options struct {
	root, pkg string
	tests     []string // packages; none is pkg itself
	seed      uint64
	n         int
	length    time.Duration
	least     int
	short     bool
	first     string // tests that are run before the others
	lines     bool   // print what a line of the list begins with
	reviewed  string // the text of the list
}

func main() {
	o := options{reviewed: equivalentText}
	flag.StringVar(&o.root, "root", "../..", "`folder` of the module")
	flag.StringVar(&o.pkg, "package", "", "`package` whose tests are asked, such as ./dotcode")
	flag.Uint64Var(&o.seed, "seed", 1, "which changes are tried, and in which order")
	flag.IntVar(&o.n, "n", 50, "how many changes are tried; 0 is all")
	flag.DurationVar(&o.length, "for", 2*time.Minute, "how long it may take, tests that run included")
	flag.IntVar(&o.least, "least", 0, "`percent` that has to be killed")
	flag.BoolVar(&o.short, "short", true, "run the tests with -short")
	flag.StringVar(&o.first, "first", "", "run the tests of this `pattern` before all of them: quick ones that notice much")
	flag.BoolVar(&o.lines, "lines", false, "print behind each survivor the line of equivalent.txt, without its reason")
	flag.Func("tests", "`packages` whose tests are asked, with commas between (default: the package itself)", func(text string) error {
		o.tests = strings.Split(text, ",")
		return nil
	})
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	score, err := mutate(ctx, o, os.Stdout)
	stop()
	switch {
	case err != nil:
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(2)
	case score < o.least:
		os.Exit(1)
	}
}

// mutate tries the changes and gives the percent that was killed, rounded down.
func mutate(ctx context.Context, o options, out io.Writer) (score int, err error) {
	if o.pkg == "" {
		return 0, errors.New("-package not given: want one such as ./dotcode")
	}
	list, err := readReviewed(o.reviewed)
	if err != nil {
		return 0, err
	}
	work, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(work)
	ctx, cancel := context.WithTimeout(ctx, o.length)
	defer cancel()
	root, err := filepath.Abs(o.root)
	if err != nil {
		return 0, err
	}
	b, err := newBench(ctx, root, o, work)
	if err != nil {
		return 0, err
	}
	all, err := b.mutants()
	if err != nil {
		return 0, err
	}
	if err := stale(list, b, all); err != nil {
		return 0, err
	}
	rng := rand.New(rand.NewPCG(o.seed, 0))
	rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })

	how, by, err := b.try(ctx, "", nil)
	if err == nil && how != survived {
		err = fmt.Errorf("the tests fail by themselves: %s", by)
	}
	if err != nil {
		return 0, err
	}
	var counts [3]int
	equivalent, tried := 0, 0
	for _, m := range all {
		if o.n > 0 && tried == o.n {
			break
		}
		if _, ok := list[m.key()]; ok {
			equivalent++
			continue
		}
		src, err := os.ReadFile(filepath.Join(root, m.file))
		if err != nil {
			return 0, err
		}
		how, by, err := b.try(ctx, filepath.Join(root, m.file), m.apply(src))
		if errors.Is(err, context.DeadlineExceeded) {
			break // the time is over
		}
		if err != nil {
			return 0, err
		}
		counts[how]++
		switch how {
		case killed:
			fmt.Fprintf(out, "killed   %s:%d:%d: %s: %s (%s)\n", m.file, m.line, m.column, m.function, m.what, by)
		case survived:
			fmt.Fprintf(out, "SURVIVED %s:%d:%d: %s: %s\n         %s\n", m.file, m.line, m.column, m.function, m.what, m.text)
			if o.lines {
				fmt.Fprintf(out, "%s\t\n", m.key())
			}
		case unbuilt:
			continue
		}
		tried++
	}
	if tried == 0 {
		return 0, errors.New("no change was tried: want more time, or a package with code")
	}
	score = 100 * counts[killed] / tried
	fmt.Fprintf(out, "%s: seed %d: of %d changes %d killed, %d survived: %d %%; %d more are equivalent, %d did not build, %d there are\n",
		b.pkg.ImportPath, o.seed, tried, counts[killed], counts[survived], score, equivalent, counts[unbuilt], len(all))
	return score, nil
}

// mutants are all that there are in the package.
func (b *bench) mutants() ([]mutant, error) {
	var all []mutant
	for _, name := range b.pkg.GoFiles {
		path := filepath.Join(b.pkg.Dir, name)
		src, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		rel, err := filepath.Rel(b.root, path)
		if err != nil {
			return nil, err
		}
		list, err := find(filepath.ToSlash(rel), src)
		if err != nil {
			return nil, err
		}
		all = append(all, list...)
	}
	return all, nil
}

// stale says which entries of the list are about this package and fit nothing
// in it.
func stale(list map[string]reviewed, b *bench, all []mutant) error {
	there := map[string]bool{}
	for _, m := range all {
		there[m.key()] = true
	}
	var errs []error
	for _, r := range list {
		path := filepath.Join(b.root, filepath.FromSlash(r.file))
		if filepath.Dir(path) == b.pkg.Dir && !there[r.key] {
			errs = append(errs, fmt.Errorf("equivalent.txt:%d: no such change any more: look again, or take it out", r.line))
		}
	}
	slices.SortFunc(errs, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
	return errors.Join(errs...)
}

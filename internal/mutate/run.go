package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"time"
)

// A bench is where the changes of one package meet the tests.
type bench struct {
	root  string // of the module
	pkg   listed // what is changed
	tests []suite
	short bool
	first string // tests to run before all of them
	work  string // a folder for what is built
}

// A listed package is one as the go command tells of it.
type listed struct {
	ImportPath, Dir                    string
	GoFiles, TestGoFiles, XTestGoFiles []string
}

// A suite is the tests of one package.
type suite struct {
	listed
	limit time.Duration // for one run, once it is known how long one takes
}

// list asks the go command what a package is made of.
func list(ctx context.Context, root, pkg string) (listed, error) {
	cmd := exec.CommandContext(ctx, "go", "list", "-json=ImportPath,Dir,GoFiles,TestGoFiles,XTestGoFiles", pkg)
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		return listed{}, said(err, out)
	}
	var p listed
	if err := json.Unmarshal(out, &p); err != nil {
		return listed{}, fmt.Errorf("%s: want one package: %w", pkg, err)
	}
	return p, nil
}

// newBench makes ready to run the tests of the packages named, else the
// package's own.
func newBench(ctx context.Context, root string, o options, work string) (*bench, error) {
	b := &bench{root: root, short: o.short, first: o.first, work: work}
	var err error
	if b.pkg, err = list(ctx, root, o.pkg); err != nil {
		return nil, err
	}
	tests := o.tests
	if len(tests) == 0 {
		tests = []string{o.pkg}
	}
	for _, name := range tests {
		p, err := list(ctx, root, name)
		if err != nil {
			return nil, err
		}
		if len(p.TestGoFiles)+len(p.XTestGoFiles) == 0 {
			return nil, fmt.Errorf("%s has no tests: name packages that have, with -tests", p.ImportPath)
		}
		b.tests = append(b.tests, suite{listed: p})
	}
	return b, nil
}

// said adds what a command printed to its error.
func said(err error, out []byte) error {
	if exit := new(exec.ExitError); errors.As(err, &exit) {
		out = append(out, exit.Stderr...)
	}
	return fmt.Errorf("%w\n%s", err, bytes.TrimSpace(out))
}

// An outcome is how the tests took a change.
type outcome int

const (
	survived outcome = iota
	killed
	unbuilt
)

var failed = regexp.MustCompile(`(?m)^\s*--- FAIL: ([^ ]+)`)

// try builds the tests with one file replaced, or none, and runs them. by is
// the test that failed first, or how the run ended.
func (b *bench) try(ctx context.Context, file string, src []byte) (o outcome, by string, err error) {
	var args []string
	if file != "" {
		changed, overlay := filepath.Join(b.work, "changed.go"), filepath.Join(b.work, "overlay.json")
		list, err := json.Marshal(map[string]map[string]string{"Replace": {file: changed}})
		if err = errors.Join(err, os.WriteFile(changed, src, 0o600), os.WriteFile(overlay, list, 0o600)); err != nil {
			return 0, "", err
		}
		args = []string{"-overlay", overlay}
	}
	for i := range b.tests {
		build := exec.CommandContext(ctx, "go", slices.Concat([]string{"test", "-c", "-vet=off", "-o", filepath.Join(b.work, "tests")}, args, []string{b.tests[i].ImportPath})...)
		build.Dir = b.root
		if out, err := build.CombinedOutput(); err != nil {
			return unbuilt, string(out), ctx.Err()
		}
		if b.first != "" && file != "" {
			if o, by, err = b.run(ctx, &b.tests[i], "-test.run", b.first); err != nil || o != survived {
				break
			}
		}
		if o, by, err = b.run(ctx, &b.tests[i]); err != nil || o != survived {
			break
		}
	}
	return o, by, err
}

// run runs the tests that were built. A change may well ask for memory without
// end, so they get 4 GB of address space where the shell can say so.
func (b *bench) run(ctx context.Context, s *suite, which ...string) (outcome, string, error) {
	begun := time.Now()
	limited, cancel := context.WithTimeout(ctx, cmp.Or(s.limit, time.Hour))
	defer cancel()
	args := []string{"-c", `ulimit -v 4194304 2>/dev/null; exec "$@"`, "sh", filepath.Join(b.work, "tests"), "-test.failfast", "-test.count=1"}
	if args = append(args, which...); b.short {
		args = append(args, "-test.short")
	}
	cmd := exec.CommandContext(limited, "sh", args...)
	cmd.Dir = s.Dir
	cmd.WaitDelay = time.Second
	out, err := cmd.CombinedOutput()
	if s.limit == 0 { // the run without a change says how long one takes
		s.limit = max(5*time.Second, 10*time.Since(begun))
	}
	switch exit := new(exec.ExitError); {
	case ctx.Err() != nil:
		return 0, "", ctx.Err()
	case limited.Err() != nil:
		return killed, "it did not end", nil
	case err == nil:
		return survived, "", nil
	case !errors.As(err, &exit):
		return 0, "", err
	}
	if name := failed.FindSubmatch(out); name != nil {
		return killed, string(name[1]), nil
	}
	return killed, "it crashed", nil
}

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
	"time"
)

// A bench is where the tests of one package are run.
type bench struct {
	root  string // of the module
	pkg   string // as it is imported
	dir   string // where its files are
	files []string
	short bool
	work  string // a folder for what is built

	limit time.Duration // for one run of the tests, once it is known
}

// newBench asks the go command what the package is made of.
func newBench(ctx context.Context, root, pkg, work string, short bool) (*bench, error) {
	cmd := exec.CommandContext(ctx, "go", "list", "-json=ImportPath,Dir,GoFiles,TestGoFiles,XTestGoFiles", pkg)
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		return nil, said(err, out)
	}
	var p struct {
		ImportPath, Dir                    string
		GoFiles, TestGoFiles, XTestGoFiles []string
	}
	if err := json.Unmarshal(out, &p); err != nil {
		return nil, fmt.Errorf("want one package: %w", err)
	}
	if len(p.TestGoFiles)+len(p.XTestGoFiles) == 0 {
		return nil, fmt.Errorf("%s has no tests", p.ImportPath)
	}
	return &bench{root: root, pkg: p.ImportPath, dir: p.Dir, files: p.GoFiles, short: short, work: work}, nil
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
	args := []string{"test", "-c", "-vet=off", "-o", filepath.Join(b.work, "tests")}
	if file != "" {
		changed, overlay := filepath.Join(b.work, "changed.go"), filepath.Join(b.work, "overlay.json")
		list, err := json.Marshal(map[string]map[string]string{"Replace": {file: changed}})
		if err = errors.Join(err, os.WriteFile(changed, src, 0o600), os.WriteFile(overlay, list, 0o600)); err != nil {
			return 0, "", err
		}
		args = append(args, "-overlay", overlay)
	}
	build := exec.CommandContext(ctx, "go", append(args, b.pkg)...)
	build.Dir = b.root
	if out, err := build.CombinedOutput(); err != nil {
		return unbuilt, string(out), ctx.Err()
	}
	return b.run(ctx)
}

// run runs the tests that were built. A change may well ask for memory without
// end, so they get 4 GB of address space where the shell can say so.
func (b *bench) run(ctx context.Context) (outcome, string, error) {
	begun := time.Now()
	limited, cancel := context.WithTimeout(ctx, cmp.Or(b.limit, time.Hour))
	defer cancel()
	args := []string{"-c", `ulimit -v 4194304 2>/dev/null; exec "$@"`, "sh", filepath.Join(b.work, "tests"), "-test.failfast", "-test.count=1"}
	if b.short {
		args = append(args, "-test.short")
	}
	cmd := exec.CommandContext(limited, "sh", args...)
	cmd.Dir = b.dir
	cmd.WaitDelay = time.Second
	out, err := cmd.CombinedOutput()
	if b.limit == 0 { // the run without a change says how long one takes
		b.limit = max(5*time.Second, 10*time.Since(begun))
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

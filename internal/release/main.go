// Command release hands the module on: it publishes a version into a folder in
// the layout of a Go module proxy, and moves the module to another path.
//
//	cd internal/release
//	go run . publish -version v0.1.0 -to /srv/goproxy
//	go run . move -to git.shop.example/tools/axleend -into ../../../moved
//
// Publish takes the files from the commit that is checked out, never from the
// folder: the same commit gives the same bytes on any day. It refuses a work
// tree with changes, and a version that is already there with other content.
// The folder is one for GOPROXY=file:///srv/goproxy, or for any web server.
//
// Move writes the new path wherever the old one stands: go.mod of all modules,
// imports, documentation, schemas, the check. Without -into it changes the
// work tree itself, which then must be clean, so that git can undo it.
//
// Both need the go and git commands. Exit status: 0 done; 1 refused, and
// nothing was written; 2 misuse.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
)

// ErrDirty says that the work tree holds what no commit holds.
var ErrDirty = errors.New("the work tree has changes")

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errw io.Writer) int {
	word := ""
	if len(args) > 0 {
		word = args[0]
	}
	flags := flag.NewFlagSet("release "+word, flag.ContinueOnError)
	flags.SetOutput(errw)
	from := flags.String("from", "", "the module's `folder`; left out: the one that the current folder is in")
	to := flags.String("to", "", "publish: the proxy's `folder`; move: the new module path")
	version := flags.String("version", "", "publish: the version, such as v0.1.0")
	into := flags.String("into", "", "move: a new `folder` to write the moved module to; left out: in place")
	if word != "publish" && word != "move" {
		fmt.Fprintln(errw, "release wants publish or move; go doc shows how they are used")
		return 2
	}
	if err := flags.Parse(args[1:]); err != nil {
		return 2
	}
	publishing := word == "publish"
	if flags.NArg() > 0 || *to == "" || publishing != (*version != "") || publishing && *into != "" {
		fmt.Fprintln(errw, "release: publish -version V -to FOLDER, or move -to PATH [-into FOLDER]; both take -from FOLDER")
		return 2
	}
	err := func() (err error) {
		if *from == "" {
			if *from, err = git(".", "rev-parse", "--show-toplevel"); err != nil {
				return err
			}
		}
		if publishing {
			return publish(*from, *version, *to, out)
		}
		return move(*from, *to, *into, out)
	}()
	if err != nil {
		fmt.Fprintln(errw, "release:", err)
		return 1
	}
	return 0
}

// git gives what a git command prints, without the last newline.
func git(dir string, args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	var errw strings.Builder
	cmd.Stderr = &errw
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("git %s: %w: %s", args[0], err, strings.TrimSpace(errw.String()))
	}
	return strings.TrimSuffix(string(out), "\n"), nil
}

// clean refuses a folder where a file was changed or added since its commit.
func clean(dir string) error {
	status, err := git(dir, "status", "--porcelain")
	if err != nil {
		return err
	}
	if status != "" {
		return fmt.Errorf("%w: commit them first:\n%s", ErrDirty, status)
	}
	return nil
}

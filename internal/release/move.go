package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/format"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"golang.org/x/mod/modfile"
	"golang.org/x/mod/module"
)

// ErrMove says that the module cannot be moved to that path or folder.
var ErrMove = errors.New("cannot move there")

// move writes the module of the folder from under a new path, in place or into
// a folder of its own. All is worked out before anything is written.
func move(from, to, into string, out io.Writer) error {
	mod, err := os.ReadFile(filepath.Join(from, "go.mod"))
	if err != nil {
		return err
	}
	old := modfile.ModulePath(mod)
	if err := module.CheckPath(to); err != nil {
		return fmt.Errorf("%w: %w", ErrMove, err)
	}
	_, major, _ := module.SplitPathVersion(to)
	switch {
	case major != "":
		return fmt.Errorf("%w: %s is a path for versions from %s on", ErrMove, to, major)
	case strings.Contains(to, old):
		return fmt.Errorf("%w: %s holds the old path %s, so nobody could see whether one was left", ErrMove, to, old)
	}
	if into == "" {
		if err := clean(from); err != nil {
			return err
		}
		into = from
	} else if entries, err := os.ReadDir(into); err == nil && len(entries) > 0 || err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%w: %s is not an empty folder: %w", ErrMove, into, errors.Join(err, fs.ErrExist))
	}

	names, err := git(from, "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	if err != nil {
		return err
	}
	type file struct {
		name string
		data []byte
		mode fs.FileMode
	}
	var files []file
	changed := 0
	for name := range strings.SplitSeq(strings.TrimSuffix(names, "\x00"), "\x00") {
		source := filepath.Join(from, filepath.FromSlash(name))
		stat, err := os.Stat(source)
		if errors.Is(err, fs.ErrNotExist) {
			continue // removed, and not yet committed
		} else if err != nil {
			return err
		}
		data, err := os.ReadFile(source)
		if err != nil {
			return err
		}
		moved, err := rewrite(name, data, old, to)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if !bytes.Equal(data, moved) {
			changed++
		} else if into == from {
			continue
		}
		files = append(files, file{name, moved, stat.Mode().Perm()})
	}
	for _, f := range files {
		target := filepath.Join(into, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(target, f.data, f.mode); err != nil {
			return err
		}
	}
	_, err = fmt.Fprintf(out, "%s is now %s: %d files changed in %s\n", old, to, changed, into)
	return err
}

// rewrite gives a file with the new path in place of the old one, ordered as
// gofmt and go mod tidy want it.
func rewrite(name string, data []byte, old, to string) ([]byte, error) {
	if !bytes.Contains(data, []byte(old)) {
		return data, nil
	}
	data = bytes.ReplaceAll(data, []byte(old), []byte(to))
	switch {
	case strings.HasSuffix(name, ".go"):
		return format.Source(data)
	case path.Base(name) == "go.mod":
		f, err := modfile.Parse(name, data, nil)
		if err != nil {
			return nil, err
		}
		f.SortBlocks()
		return f.Format()
	}
	return data, nil
}

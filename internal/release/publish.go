package main

import (
	"archive/tar"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"golang.org/x/mod/modfile"
	"golang.org/x/mod/module"
	"golang.org/x/mod/semver"
	"golang.org/x/mod/sumdb/dirhash"
	"golang.org/x/mod/zip"
)

// ErrPublished says that a version is already there, with other content.
// Whoever has downloaded it would get a checksum error from then on.
var ErrPublished = errors.New("already published with other content")

// info is what a proxy says of a version.
type info struct {
	Version string
	Time    time.Time
}

// publish writes one version of the module in the folder from to the proxy's
// folder. A reader of the folder sees the version whole or not at all: the list
// that names it is written last, and each file is renamed into its place.
func publish(from, version, to string, out io.Writer) error {
	if version != module.CanonicalVersion(version) || module.IsPseudoVersion(version) {
		return fmt.Errorf("version %q: want one such as v0.1.0 or v0.2.0-rc.1", version)
	}
	if err := clean(from); err != nil {
		return err
	}
	mod, err := os.ReadFile(filepath.Join(from, "go.mod"))
	if err != nil {
		return err
	}
	m := module.Version{Path: modfile.ModulePath(mod), Version: version}
	if err := module.Check(m.Path, m.Version); err != nil {
		return err
	}
	// The commit's time, not today's: publishing again changes nothing.
	seconds, err := git(from, "show", "-s", "--format=%ct", "HEAD")
	if err != nil {
		return err
	}
	unix, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		return err
	}
	about, err := json.Marshal(info{Version: version, Time: time.Unix(unix, 0).UTC()})
	if err != nil {
		return err
	}
	var archive bytes.Buffer
	committed, err := files(from)
	if err != nil {
		return err
	}
	if err := zip.Create(&archive, m, committed); err != nil {
		return err
	}

	escaped, err := module.EscapePath(m.Path)
	if err != nil {
		return err
	}
	name, err := module.EscapeVersion(version)
	if err != nil {
		return err
	}
	dir := filepath.Join(to, filepath.FromSlash(escaped), "@v")
	parts := []struct {
		name string
		data []byte
	}{{name + ".zip", archive.Bytes()}, {name + ".mod", mod}, {name + ".info", about}}
	for _, f := range parts {
		switch there, err := os.ReadFile(filepath.Join(dir, f.name)); {
		case err == nil && !bytes.Equal(there, f.data):
			return fmt.Errorf("%s %s: %w: %s; give it a new version", m.Path, version, ErrPublished, filepath.Join(dir, f.name))
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return err
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range parts {
		if err := replace(filepath.Join(dir, f.name), f.data); err != nil {
			return err
		}
	}
	if err := list(dir); err != nil {
		return err
	}
	sum, err := dirhash.HashZip(filepath.Join(dir, name+".zip"), dirhash.Hash1)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s %s %s\n%s\n", m.Path, version, sum, dir)
	return err
}

// A committed is a file as its commit holds it.
type committed struct {
	head *tar.Header
	data []byte
}

func (c committed) Path() string                 { return c.head.Name }
func (c committed) Lstat() (fs.FileInfo, error)  { return c.head.FileInfo(), nil }
func (c committed) Open() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(c.data)), nil }

// files reads the commit that is checked out. What the zip format leaves out,
// such as the nested modules, [zip.Create] leaves out. (Its own CreateFromVCS
// knows no linked work trees.)
func files(dir string) ([]zip.File, error) {
	archive, err := git(dir, "-c", "core.autocrlf=input", "-c", "core.eol=lf", "archive", "--format=tar", "HEAD")
	if err != nil {
		return nil, err
	}
	var out []zip.File
	for r := tar.NewReader(strings.NewReader(archive)); ; {
		head, err := r.Next()
		if errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		if head.Typeflag != tar.TypeReg {
			continue
		}
		data, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		out = append(out, committed{head, data})
	}
}

// list names the versions that are whole, the oldest first. It is made from
// what is there, so that two who publish at once lose nothing.
func list(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	var versions []string
	for _, e := range entries {
		if v, is := strings.CutSuffix(e.Name(), ".info"); is {
			if v, err := module.UnescapeVersion(v); err == nil {
				versions = append(versions, v)
			}
		}
	}
	semver.Sort(versions)
	return replace(filepath.Join(dir, "list"), []byte(strings.Join(versions, "\n")+"\n"))
}

// replace puts a whole file in its place, or leaves what is there.
func replace(name string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".part-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

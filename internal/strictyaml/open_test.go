package strictyaml_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/internal/strictyaml"
)

// openFS fails the test that opens what is no file.
type openFS struct {
	t *testing.T
	fstest.MapFS
}

func (o openFS) Open(name string) (fs.File, error) {
	if info, err := o.Stat(name); err == nil && !info.Mode().IsRegular() {
		o.t.Errorf("%s was opened", name)
	}
	return o.MapFS.Open(name)
}

func TestOpen(t *testing.T) {
	folder := openFS{t, fstest.MapFS{
		"file":      {Data: []byte("a")},
		"link":      {Data: []byte("file"), Mode: fs.ModeSymlink},
		"a device":  {Mode: fs.ModeDevice | fs.ModeCharDevice},
		"a pipe":    {Mode: fs.ModeNamedPipe},
		"a socket":  {Mode: fs.ModeSocket},
		"to a pipe": {Data: []byte("a pipe"), Mode: fs.ModeSymlink},
		"a folder":  {Mode: fs.ModeDir},
		"nowhere":   {Data: []byte("none"), Mode: fs.ModeSymlink},
	}}
	for _, name := range []string{"file", "link"} {
		f, err := strictyaml.Open(folder, name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		f.Close()
	}
	for _, name := range []string{"a device", "a pipe", "a socket", "a folder", "to a pipe"} {
		if _, err := strictyaml.Open(folder, name); !errors.Is(err, strictyaml.ErrNoFile) || !strings.Contains(err.Error(), "not a file but "+strings.TrimPrefix(name, "to ")) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"nowhere", "none"} {
		if _, err := strictyaml.Open(folder, name); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

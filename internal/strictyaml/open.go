package strictyaml

import (
	"errors"
	"fmt"
	"io/fs"
)

// ErrNoFile says that what has a file's name is a pipe, a device, a socket or a
// folder.
var ErrNoFile = errors.New("not a file")

// Open opens a file of a folder, also through a link. What is no file, such as
// a pipe at whose other end nobody may ever write, is not opened where fsys can
// tell without: as an fs.StatFS, which os.DirFS gives.
func Open(fsys fs.FS, name string) (fs.File, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: %w but %s", name, ErrNoFile, kindOf(info.Mode()))
	}
	return fsys.Open(name)
}

func kindOf(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "a folder"
	case m&fs.ModeNamedPipe != 0:
		return "a pipe"
	case m&fs.ModeSocket != 0:
		return "a socket"
	}
	return "a device"
}

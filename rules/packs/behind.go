package packs

import (
	"errors"
	"io/fs"
	"path"
)

// Behind returns the files of fsys and, behind them, the shipped ones: a name that
// fsys has not is that of a shipped file, in whatever folder it is looked for. So a
// house pack may extend a shipped one, and stand beside it.
func Behind(fsys fs.FS) fs.FS { return behind{fsys} }

type behind struct{ front fs.FS }

func (b behind) Open(name string) (fs.File, error) {
	f, err := b.front.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		if shipped, none := files.Open(path.Base(name)); none == nil {
			return shipped, nil
		}
	}
	return f, err
}

// Stat looks without opening: a folder may hold pipes.
func (b behind) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(b.front, name)
	if errors.Is(err, fs.ErrNotExist) {
		if shipped, none := fs.Stat(files, path.Base(name)); none == nil {
			return shipped, nil
		}
	}
	return info, err
}

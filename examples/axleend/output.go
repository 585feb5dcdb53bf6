package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// fileFlags are those of a command whose answer can go to a file.
func (c *call) fileFlags() {
	c.flags.StringVar(&c.file, "o", "", "`file` to write, which must not exist yet (default: standard output)")
	c.flags.BoolVar(&c.force, "force", false, "overwrite a file that exists")
}

// save writes an answer to the file asked for, or prints it.
func (c *call) save(data []byte) int {
	if c.file == "" {
		return c.print(string(data))
	}
	if err := c.spared(c.file); err != nil {
		return c.misuse("%v", err)
	}
	if err := writeFile(c.file, data, c.force); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return c.misuse("%s is there already; -force writes over it", c.file)
		}
		return c.unwritten(err)
	}
	return c.print("wrote " + c.file + "\n")
}

// spared refuses an output that is one of the inputs, or that would be among
// the files of a folder that is read.
func (c *call) spared(name string) error {
	out, err := os.Stat(name)
	for _, in := range c.inputs {
		if err == nil && os.SameFile(in, out) {
			return fmt.Errorf("%s is what was read: want another file to write to", name)
		}
	}
	folder, err := os.Stat(filepath.Dir(name))
	if err != nil {
		return nil // which is said when the file is to be made
	}
	for _, read := range c.folders {
		if os.SameFile(read.info, folder) && slices.Contains(read.kinds, strings.ToLower(filepath.Ext(name))) {
			return fmt.Errorf("%s would be read with the other files of its folder: want a file elsewhere, or of another name than *%s",
				name, strings.Join(read.kinds, ", *"))
		}
	}
	return nil
}

// A folder is one that is read, and the kinds of file that are read there.
type folder struct {
	info  fs.FileInfo
	kinds []string
}

// The kinds of file that are read in a folder of tables, and of visits.
var (
	tableKinds = [...]string{".yaml", ".yml", ".csv"}
	visitKinds = [...]string{".yaml", ".yml", ".json"}
)

// reads notes that the files of a folder are read.
func (c *call) reads(dir string, kinds []string) {
	if info, err := os.Stat(dir); err == nil {
		c.folders = append(c.folders, folder{info, kinds})
	}
}

// writeFile writes a file whole or not at all: beside it first, then in its
// place. One that is replaced keeps its permissions; a link to it stays one.
func writeFile(name string, data []byte, force bool) (err error) {
	old, err := os.Stat(name)
	switch _, there := os.Lstat(name); {
	case there != nil: // nothing of that name
	case !force:
		return fs.ErrExist
	case err != nil: // a link to nothing
		return err
	case !old.Mode().IsRegular():
		return fmt.Errorf("%s is a folder, a device or a pipe: want a file", name)
	default:
		if name, err = filepath.EvalSymlinks(name); err != nil {
			return err
		}
	}
	// Of its own permissions, so that the umask counts.
	beside := filepath.Join(filepath.Dir(name), ".axleend-"+rand.Text())
	f, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(beside) // what went wrong before is what is told
		}
	}()
	_, err = f.Write(data)
	if old != nil {
		err = errors.Join(err, f.Chmod(old.Mode().Perm()))
	}
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	if old == nil {
		// A link is refused where the name was taken meanwhile.
		if err = os.Link(beside, name); err == nil {
			return os.Remove(beside)
		} else if errors.Is(err, fs.ErrExist) {
			return err
		}
		// No links here: an empty file takes the name first.
		if err = takeName(name); err != nil {
			return err
		}
	}
	return os.Rename(beside, name)
}

// errTaken says that another run has the file open.
var errTaken = errors.New("another run writes to it; let it end first")

// takeName makes an empty file where there is none.
func takeName(name string) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	return f.Close()
}

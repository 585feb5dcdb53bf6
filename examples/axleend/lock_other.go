//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package main

import "os"

// openAlone opens a file to read and write, or makes it. Nothing here keeps it
// from another run.
func openAlone(name string) (*os.File, error) {
	return os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
}

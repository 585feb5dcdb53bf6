//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"errors"
	"os"
	"syscall"
)

// openAlone opens a file to read and write, or makes it, and keeps it from every
// other run until it is closed, however this one ends.
func openAlone(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	// A device or a remote folder may know no locks; then there is none.
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); errors.Is(err, syscall.EWOULDBLOCK) {
		f.Close()
		return nil, errTaken
	}
	return f, nil
}

//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"os"
	"syscall"
	"unsafe"
)

// terminalColumns is how wide a terminal is, false for what is none.
func terminalColumns(f *os.File) (columns int, ok bool) {
	var size struct{ rows, columns, width, height uint16 }
	_, _, errno := syscall.Syscall(syscall.SYS_IOCTL, f.Fd(), syscall.TIOCGWINSZ, uintptr(unsafe.Pointer(&size)))
	return int(size.columns), errno == 0
}

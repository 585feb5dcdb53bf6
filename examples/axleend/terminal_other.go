//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package main

import "os"

// terminalColumns says whether a file may be a terminal; it gives no width.
func terminalColumns(f *os.File) (columns int, ok bool) {
	info, err := f.Stat()
	return 0, err == nil && info.Mode()&os.ModeCharDevice != 0
}

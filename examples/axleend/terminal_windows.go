package main

import (
	"os"
	"syscall"
)

// terminalColumns says whether a file is a terminal; it gives no width.
func terminalColumns(f *os.File) (columns int, ok bool) {
	var mode uint32
	return 0, syscall.GetConsoleMode(syscall.Handle(f.Fd()), &mode) == nil
}

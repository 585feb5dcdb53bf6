//go:build unix

package main

import (
	"syscall"
	"time"
)

// cpuTime is what the process has used of all processors so far.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err) // it has no way to fail with these arguments
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

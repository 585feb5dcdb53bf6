package main

import (
	"runtime"
	"testing"
	"time"
)

// TestCounter: where no processor counts for us, the kernel's own clock of the
// thread shows that a counter is opened and read as it should be.
func TestCounter(t *testing.T) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	c, err := open(software, taskClock)
	if err != nil {
		t.Skip("no counters here: ", err)
	}
	defer c.close()
	before := c.read()
	for start := cpuTime(); cpuTime()-start < 5*time.Millisecond; {
	}
	if got := time.Duration(c.read() - before); got < 4*time.Millisecond || got > time.Second {
		t.Errorf("counted %v, want some 5ms", got)
	}
	var none *counter
	if none.read() != 0 {
		t.Error("a counter that is none counts")
	}
}

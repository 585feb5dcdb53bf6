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
	before, start, got := c.read(), cpuTime(), time.Duration(0)
	for got < 5*time.Millisecond && cpuTime()-start < time.Second {
		got = time.Duration(c.read() - before)
	}
	if all := cpuTime() - start; got < 5*time.Millisecond || got > all+time.Millisecond {
		t.Errorf("counted %v on this thread, and the whole process took %v", got, all)
	}
	var none *counter
	if none.read() != 0 {
		t.Error("a counter that is none counts")
	}
}

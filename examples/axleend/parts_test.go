//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"axleend.example/internal/testsize"
)

// TestBatchInParts: a visit's answer depends on that visit alone, so an input cut
// into parts, each run as a process of its own from standard input to standard
// output, gives the bytes of one run once the parts are joined.
func TestBatchInParts(t *testing.T) {
	n, parts := 20_000, 8
	if !testsize.Full() {
		n = 400
	}
	var lines []string
	for i := range n {
		text := []string{jsonKept, jsonFlat}[i%7%2]
		text = strings.Replace(text, `"date"`, fmt.Sprintf(`"coach":"invented %d","date"`, i), 1)
		text = strings.NewReplacer(`"50 psi"`, fmt.Sprintf(`"%d psi"`, 40+i%70), `"load":"2000 lb"`, fmt.Sprintf(`"load":"%d lb"`, 1500+20*(i%300))).Replace(text)
		lines = append(lines, text+"\n")
	}
	var want, joined bytes.Buffer
	wait := filter(t, lines, &want)
	wait()
	if got := bytes.Count(want.Bytes(), []byte("\n")); got != n {
		t.Fatalf("%d answers to %d visits", got, n)
	}
	if stops := bytes.Count(want.Bytes(), []byte(`"drive":"must not move"`)); stops == 0 || stops == n {
		t.Fatalf("%d of %d coaches are stopped: want some that are and some that are not", stops, n)
	}
	outs := make([]bytes.Buffer, parts)
	var waits []func()
	for p := range parts {
		from, to := p*p*n/(parts*parts), (p+1)*(p+1)*n/(parts*parts) // no two of a size
		waits = append(waits, filter(t, lines[from:to], &outs[p], "-workers", "1"))
	}
	for p, wait := range waits {
		wait()
		joined.Write(outs[p].Bytes())
	}
	if !bytes.Equal(joined.Bytes(), want.Bytes()) {
		t.Errorf("the parts together are %d bytes, the whole %d, or differ", joined.Len(), want.Len())
	}
}

// filter starts a batch from standard input to out, and gives what waits for its
// end: with the status that some coach must stop.
func filter(t *testing.T, lines []string, out *bytes.Buffer, args ...string) (wait func()) {
	t.Helper()
	cmd := process(t, append([]string{"batch", "-"}, args...)...)
	var errw bytes.Buffer
	cmd.Stdin, cmd.Stdout, cmd.Stderr = strings.NewReader(strings.Join(lines, "")), out, &errw
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return func() {
		t.Helper()
		cmd.Wait()
		if code := cmd.ProcessState.ExitCode(); code != exitStop {
			t.Fatalf("exit status %d, want %d: %s", code, exitStop, errw.String())
		}
	}
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"
)

// A watched reader gives one line at a time, and before each looks at what came
// of the ones before.
type watched struct {
	lines []string
	next  int
	look  func(next int)
}

func (w *watched) Read(p []byte) (int, error) {
	w.look(w.next)
	if w.next == len(w.lines) {
		return 0, io.EOF
	}
	w.next++
	return copy(p, w.lines[w.next-1]), nil
}

// TestLinesAreAnsweredOneByOne: every line is answered before the next is read,
// so that no number of lines has to fit into memory.
func TestLinesAreAnsweredOneByOne(t *testing.T) {
	for _, line := range []string{"date -on 2026-10-03", "date -as json", "sidewall", "sidewall -as json"} {
		var out, errw bytes.Buffer
		seen := 0
		in := &watched{look: func(next int) {
			if next > 0 && out.Len() == seen {
				t.Errorf("%s: line %d has no answer yet", line, next)
			}
			seen = out.Len()
		}}
		for range 100 {
			in.lines = append(in.lines, map[bool]string{true: "0109\n", false: "11R22.5\n"}[strings.HasPrefix(line, "date")])
		}
		code := run(t.Context(), strings.Fields(line), in, &out, &errw)
		if code != exitDone || errw.Len() > 0 {
			t.Errorf("%s: exit status %d, %s", line, code, errw.String())
		}
		if strings.Contains(line, "json") {
			var list []json.RawMessage
			if err := json.Unmarshal(out.Bytes(), &list); err != nil || len(list) != 100 {
				t.Errorf("%s: %d answers: %v", line, len(list), err)
			}
		}
	}
}

// TestLinesAndArgumentsAreAnsweredAlike, to the byte.
func TestLinesAndArgumentsAreAnsweredAlike(t *testing.T) {
	texts := []string{"11R22.5", "LT225/75R16 load range E 8PR"}
	for _, line := range []string{"date -on 2026-10-03", "date -on 2026-10-03 -as json", "sidewall", "sidewall -as json"} {
		args := strings.Fields(line)
		code1, out1, errw1 := axleend(t, "", append(args[:len(args):len(args)], texts...)...)
		code2, out2, errw2 := axleend(t, strings.Join(texts, "\r\n\n \t\n"), args...)
		if code1 != code2 || out1 != out2 || errw1 != errw2 || out1 == "" {
			t.Errorf("%s: %d and %d\n%s\n%s", line, code1, code2, out1, out2)
		}
	}
}

// TestBadLine: an error names its line, and what came before is answered, in
// JSON by a whole array; of bad arguments none is.
func TestBadLine(t *testing.T) {
	long := strings.Repeat("1", maxLine)
	for _, x := range []struct {
		line, in string
		answers  int
		errw     string
	}{
		{"date", "0109\n\n0109\n" + long + "1\n0109\n", 2, "line 4: longer than 1000 bytes\n"},
		{"date", "0109\n" + strings.Repeat("1", 1<<20), 1, "line 2: longer than 1000 bytes\n"},
		{"sidewall", "11R22.5\n" + long + "1", 1, "line 2: longer than 1000 bytes\n"},
		{"sidewall", "11R22.5\n\nbanana\n11R22.5\n", 1, `line 3: "banana"`},
		{"sidewall 11R22.5 banana", "", 0, `sidewall 2: "banana"`},
	} {
		code, out, errw := axleend(t, x.in, append(strings.Fields(x.line), "-as", "json")...)
		var list []json.RawMessage
		err := json.Unmarshal([]byte(out), &list)
		if code != exitMisuse || !strings.HasPrefix(errw, x.errw) || len(list) != x.answers || err != nil && x.answers > 0 || x.answers == 0 && out != "" {
			t.Errorf("%s: exit status %d, %d answers (%v), %s", x.line, code, len(list), err, errw)
		}
	}
	// The longest line there may be.
	if code, out, errw := axleend(t, long+"\r\n"+long, "date"); code != exitStop || strings.Count(out, long[:20]) == 0 || errw != "" {
		t.Errorf("exit status %d, %s%s", code, out, errw)
	}
}

// A silent input never gives anything, as a terminal at which nobody types.
type silent struct{ asked chan struct{} }

func (s silent) Read([]byte) (int, error) {
	s.asked <- struct{}{}
	select {}
}

// TestInterruptEndsWaiting: every command that waits for its input ends at the
// first interrupt, says so, and exits with 3.
func TestInterruptEndsWaiting(t *testing.T) {
	lines := []string{"date", "sidewall", "assess -", "weigh -", "load -", "place -", "history -", "batch -", "tables show -", "tables check -",
		"pressure -table - -size XV250/72R21 -fit dual -load 8200lb -per end"}
	for _, line := range lines {
		ctx, interrupt := context.WithCancel(t.Context())
		in := silent{make(chan struct{}, 1)}
		go func() {
			<-in.asked
			interrupt()
		}()
		var out, errw bytes.Buffer
		code := run(ctx, strings.Fields(line), in, &out, &errw)
		if code != exitWrite || !strings.HasPrefix(errw.String(), "axleend: interrupted") || out.Len() > 0 {
			t.Errorf("%s: exit status %d, %s%s", line, code, out.String(), errw.String())
		}
	}
}

// TestInterruptBetweenLines: what was answered stays, and the array is whole.
func TestInterruptBetweenLines(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	in := &watched{lines: make([]string, 10), look: func(next int) {
		if next == 5 {
			interrupt()
		}
	}}
	for i := range in.lines {
		in.lines[i] = fmt.Sprintf("%02d09\n", i+1)
	}
	var out, errw bytes.Buffer
	code := run(ctx, []string{"date", "-as", "json"}, in, &out, &errw)
	var list []json.RawMessage
	if err := json.Unmarshal(out.Bytes(), &list); err != nil || code != exitWrite || len(list) < 4 || len(list) > 6 {
		t.Errorf("exit status %d, %d answers: %v %s", code, len(list), err, errw.String())
	}
}

// TestInterruptEndsComputing: what does not look at the context is left alone
// after a while; what does has the time to say how far it came.
func TestInterruptEndsComputing(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	var errw bytes.Buffer
	c := &call{ctx: ctx, errw: &errw}
	end := make(chan struct{})
	defer close(end)
	code := c.ends(func() int {
		interrupt()
		<-end
		return exitDone
	}, time.Millisecond)
	if code != exitWrite || errw.String() != "axleend: interrupted\n" {
		t.Errorf("exit status %d, %s", code, errw.String())
	}
	if code := c.ends(func() int { return exitStop }, time.Hour); code != exitStop {
		t.Errorf("exit status %d", code)
	}
}

//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"axleend.example/internal/testsize"
)

// asCommand makes the test's own program the command.
const asCommand = "AXLEEND_TEST_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		main()
	}
	os.Exit(m.Run())
}

// process is the command as a process of its own.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	own, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), own, args...)
	cmd.Env = append(os.Environ(), asCommand+"=1")
	return cmd
}

// manyVisits is an input for a batch, of n different visits.
func manyVisits(n int) string {
	var b strings.Builder
	for i := range n {
		text := []string{jsonKept, jsonFlat, "{}", ""}[i%4]
		b.WriteString(strings.Replace(text, `"date"`, fmt.Sprintf(`"coach":"invented %d","date"`, i), 1) + "\n")
	}
	return b.String()
}

func size(name string) int64 {
	info, err := os.Stat(name)
	if err != nil {
		return 0
	}
	return info.Size()
}

// TestKilledManyTimes: a batch that is killed again and again, its file cut at
// any byte between, ends with the file of one that ran through.
func TestKilledManyTimes(t *testing.T) {
	t.Chdir(folderOf(t, map[string]string{"in.jsonl": manyVisits(2000)}))
	if code, _, errw := axleend(t, "", "batch", "-o", "whole.jsonl", "in.jsonl"); code != exitStop {
		t.Fatal(code, errw)
	}
	want, err := os.ReadFile("whole.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(20, 18))
	times, killed := 5, 0
	if testsize.Full() {
		times = 20
	}
	for i := 0; killed < times; i++ {
		if i > 10*times {
			t.Fatalf("only %d of %d runs could be killed", killed, i)
		}
		cmd := process(t, "batch", "-o", "out.jsonl", "-resume", "in.jsonl")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- cmd.Wait() }()
		// Killed once it wrote something more.
		before := size("out.jsonl")
		more := int64(1 + rng.IntN(len(want)/40))
		for size("out.jsonl") < before+more && len(ended) == 0 {
			time.Sleep(100 * time.Microsecond)
		}
		cmd.Process.Kill()
		<-ended
		got, err := os.ReadFile("out.jsonl")
		if err != nil || !bytes.HasPrefix(want, got) {
			t.Fatalf("run %d left what is not the first of the answers: %v", i, err)
		}
		if len(got) == len(want) { // it ended first
			got = got[:len(got)/2]
		} else {
			killed++
		}
		// A machine that loses its power may have written less.
		if err := os.Truncate("out.jsonl", int64(len(got)-rng.IntN(min(len(got), 300)+1))); err != nil {
			t.Fatal(err)
		}
	}
	if code, _, errw := axleend(t, "", "batch", "-o", "out.jsonl", "-resume", "in.jsonl"); code != exitStop {
		t.Errorf("exit status %d, %s", code, errw)
	}
	if got, err := os.ReadFile("out.jsonl"); err != nil || !bytes.Equal(got, want) {
		t.Errorf("not the file of one run: %d bytes, want %d, %v", len(got), len(want), err)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != 3 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

// TestInterruptedByASignal: the first interrupt ends a process that answered and
// waits for more, with 3.
func TestInterruptedByASignal(t *testing.T) {
	for line, args := range map[string][]string{"0109": {"date"}, jsonKept: {"batch", "-"}} {
		cmd := process(t, args...)
		in, err1 := cmd.StdinPipe()
		out, err2 := cmd.StdoutPipe()
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		var errw bytes.Buffer
		cmd.Stderr = &errw
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(in, line+"\n"); err != nil {
			t.Fatal(err)
		}
		if _, err := io.ReadFull(out, make([]byte, 10)); err != nil { // it has begun
			t.Fatal(err)
		}
		if err := cmd.Process.Signal(os.Interrupt); err != nil {
			t.Fatal(err)
		}
		io.Copy(io.Discard, out)
		cmd.Wait()
		if code := cmd.ProcessState.ExitCode(); code != exitWrite || !strings.Contains(errw.String(), "interrupted") {
			t.Errorf("%v: exit status %d, %s", args, code, errw.String())
		}
	}
}

// TestNowhereToWrite: a full disk, a folder that takes no file, and a reader that
// went away: each command says so and exits with 3, and leaves nothing behind.
func TestNowhereToWrite(t *testing.T) {
	files := map[string]string{"in.jsonl": manyVisits(40)}
	for _, name := range []string{"visit.yaml", "trip.yaml", "xv250.yaml"} {
		data, err := os.ReadFile("../demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(data)
	}
	t.Chdir(folderOf(t, files))
	if err := os.Mkdir("locked", 0o500); err != nil {
		t.Fatal(err)
	}
	nowhere := "locked/x"
	if os.Geteuid() == 0 {
		nowhere = "/proc/axleend-test" // to root no folder is locked
	}
	for _, line := range []string{"new -o NOWHERE", "new -force -o NOWHERE", "assess -o NOWHERE visit.yaml", "batch -o NOWHERE in.jsonl", "batch -resume -o NOWHERE in.jsonl",
		"batch -o /dev/full in.jsonl"} {
		if _, err := os.Stat("/dev/full"); err != nil && strings.Contains(line, "/dev/full") {
			continue
		}
		code, out, errw := axleend(t, "", strings.Fields(strings.ReplaceAll(line, "NOWHERE", nowhere))...)
		if code != exitWrite || out != "" || !strings.Contains(errw, "could not write") {
			t.Errorf("%s: exit status %d, %s%s", line, code, out, errw)
		}
		if resumes := strings.Contains(errw, "the same command with -resume continues"); resumes != strings.Contains(line, "/dev/full") {
			t.Errorf("%s: says that it can be continued: %v: %s", line, resumes, errw)
		}
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	for _, line := range []string{"date 0109", "sidewall 11R22.5", "assess visit.yaml", "weigh visit.yaml", "load trip.yaml", "place visit.yaml", "history visit.yaml",
		"packs", "new", "batch in.jsonl", "completion bash", "help"} {
		if err == nil {
			var errw bytes.Buffer
			code := run(t.Context(), strings.Fields(line), nil, full, &errw)
			if code != exitWrite || errw.Len() == 0 {
				t.Errorf("%s onto a full disk: exit status %d, %s", line, code, errw.String())
			}
		}
		r, w, perr := os.Pipe()
		if perr != nil {
			t.Fatal(perr)
		}
		r.Close()
		cmd := process(t, strings.Fields(line)...)
		var errw bytes.Buffer
		cmd.Stdout, cmd.Stderr = w, &errw
		gone := cmd.Run()
		w.Close()
		var exit *exec.ExitError
		if !errors.As(gone, &exit) || strings.Contains(errw.String(), "panic") {
			t.Errorf("%s to a reader that went away: %v, %s", line, gone, errw.String())
			continue
		}
		if status, ok := exit.Sys().(syscall.WaitStatus); ok && status.Signal() != syscall.SIGPIPE && exit.ExitCode() != exitWrite {
			t.Errorf("%s to a reader that went away: %v, %s", line, gone, errw.String())
		}
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != len(files)+1 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

// TestChangedInput: a batch does not go on where a visit that was answered is
// another one now, and says which; nothing is written.
func TestChangedInput(t *testing.T) {
	in := manyVisits(40)
	half := strings.Join(strings.SplitAfter(in, "\n")[:20], "")
	t.Chdir(folderOf(t, map[string]string{"in.jsonl": in, "half.jsonl": half}))
	if code, _, errw := axleend(t, "", "batch", "-o", "out.jsonl", "half.jsonl"); code != exitStop {
		t.Fatal(code, errw)
	}
	before, err := os.ReadFile("out.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	for was, line := range map[string]int{"invented 0": 1, "invented 1\"": 2, "invented 4": 4, "invented 16": 13} {
		if err := os.WriteFile("in.jsonl", []byte(strings.Replace(in, was, "another one", 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		code, _, errw := axleend(t, "", "batch", "-o", "out.jsonl", "-resume", "in.jsonl")
		if code != exitMisuse || !strings.Contains(errw, fmt.Sprintf("line %d is not what record %d gives", line, line)) {
			t.Errorf("%s: exit status %d, %s", was, code, errw)
		}
		if after, err := os.ReadFile("out.jsonl"); err != nil || !bytes.Equal(before, after) {
			t.Errorf("%s: the file was changed: %v", was, err)
		}
	}
}

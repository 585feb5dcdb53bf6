//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestPermissions: a new file is made as the umask says, one that is replaced
// keeps what it has.
func TestPermissions(t *testing.T) {
	t.Chdir(folderOf(t, map[string]string{"in.jsonl": jsonKept}))
	defer syscall.Umask(syscall.Umask(0o027))
	mode := func(name string, want os.FileMode) {
		t.Helper()
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v %v, want %v", name, info.Mode(), err, want)
		}
	}
	for _, line := range []string{"new -o new.yaml", "batch -o out.jsonl in.jsonl"} {
		if code, _, errw := axleend(t, "", strings.Fields(line)...); code != exitDone {
			t.Fatal(line, code, errw)
		}
	}
	mode("new.yaml", 0o640)
	mode("out.jsonl", 0o640)
	for _, want := range []os.FileMode{0o600, 0o664, 0o755} {
		if err := os.Chmod("new.yaml", want); err != nil {
			t.Fatal(err)
		}
		if code, _, errw := axleend(t, "", "new", "-o", "new.yaml", "-force"); code != exitDone {
			t.Fatal(code, errw)
		}
		mode("new.yaml", want)
	}
}

// TestTwoRunsOntoOneFile: the second is refused while the first one runs, also
// with -resume, and may go on once that has ended.
func TestTwoRunsOntoOneFile(t *testing.T) {
	t.Chdir(folderOf(t, map[string]string{"in.jsonl": jsonKept + "\n" + jsonKept}))
	ctx, interrupt := context.WithCancel(t.Context())
	in := silent{make(chan struct{}, 1)}
	first := make(chan int)
	go func() {
		first <- run(ctx, []string{"batch", "-o", "out.jsonl", "-"}, in, &bytes.Buffer{}, &bytes.Buffer{})
	}()
	<-in.asked
	for _, line := range []string{"batch -o out.jsonl in.jsonl", "batch -o out.jsonl -resume in.jsonl"} {
		if code, _, errw := axleend(t, "", strings.Fields(line)...); code != exitMisuse || !strings.Contains(errw, "another run writes to it") {
			t.Errorf("%s: exit status %d, %s", line, code, errw)
		}
	}
	interrupt()
	if code := <-first; code != exitWrite {
		t.Errorf("the first run's exit status is %d", code)
	}
	if code, _, errw := axleend(t, "", "batch", "-o", "out.jsonl", "-resume", "in.jsonl"); code != exitDone {
		t.Errorf("exit status %d, %s", code, errw)
	}
}

// TestInterruptEndsOpening: a pipe that nobody writes to keeps no command.
func TestInterruptEndsOpening(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := syscall.Mkfifo("pipe.yaml", 0o600); err != nil {
		t.Skip(err)
	}
	for _, line := range []string{"assess pipe.yaml", "weigh pipe.yaml", "load pipe.yaml", "place pipe.yaml", "history pipe.yaml", "batch pipe.yaml",
		"tables show pipe.yaml", "tables check pipe.yaml"} {
		ctx, interrupt := context.WithTimeout(t.Context(), time.Millisecond)
		var errw bytes.Buffer
		if code := run(ctx, strings.Fields(line), nil, &bytes.Buffer{}, &errw); code != exitWrite {
			t.Errorf("%s: exit status %d, %s", line, code, errw.String())
		}
		interrupt()
	}
}

// TestBatchIntoAPipe: what opens a pipe for both ways fills it and waits for
// itself, so a batch writes none but its standard output.
func TestBatchIntoAPipe(t *testing.T) {
	t.Chdir(folderOf(t, map[string]string{"in.jsonl": jsonKept}))
	if err := syscall.Mkfifo("pipe", 0o600); err != nil {
		t.Skip(err)
	}
	for _, line := range []string{"batch -o pipe in.jsonl", "batch -o pipe -resume in.jsonl"} {
		if code, out, errw := axleend(t, "", strings.Fields(line)...); code != exitMisuse || out != "" || !strings.Contains(errw, "pipe is a pipe, want a file") {
			t.Errorf("%s: exit status %d, %s%s", line, code, out, errw)
		}
	}
}

// TestPipesInFolders: of a folder that holds pipes nobody writes to, only the
// files are read, and no command waits.
func TestPipesInFolders(t *testing.T) {
	demo, err := os.ReadFile("../demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(folderOf(t, map[string]string{"visit": kept, "xv250.yaml": string(demo)}))
	for _, name := range []string{"pipe.yaml", "pipe.csv", "pipe.json", "pack.yaml"} {
		if err := syscall.Mkfifo(name, 0o600); err != nil {
			t.Skip(err)
		}
	}
	for line, want := range map[string]int{
		"assess -tables . visit": exitDone, "history -tables . visit": exitDone, "assess visit": exitDone,
		"pressure -tables . -size XV250/72R21 -fit dual -load 8200lb -per end": exitDone,
		"batch .": exitStop, "history .": exitMisuse, "packs show -pack-dir . pack": exitMisuse, "packs check pack.yaml": exitStop,
		"assess -pack-dir . -packs pack visit": exitMisuse,
	} {
		if code, out, errw := axleend(t, "", strings.Fields(line)...); code != want {
			t.Errorf("%s: exit status %d, want %d: %.200s %s", line, code, want, out, errw)
		}
	}
}

// TestPacksAreCompiledWhereTheyJudge: what judges nothing does not read the packs.
// They take more memory than the garbage collector lets pass before its first turn.
func TestPacksAreCompiledWhereTheyJudge(t *testing.T) {
	for line, judges := range map[string]bool{
		"-version": false, "date 2313": false, "sidewall 11R22.5": false, "new": false, "assess -h": false, "tables ../demo": false,
		"assess ../demo/visit.yaml": true,
	} {
		collected, errw := false, bytes.Buffer{}
		for range 10 { // one turn in thirty ends before the collector begins
			cmd := process(t, strings.Fields(line)...)
			cmd.Env = append(cmd.Env, "GODEBUG=gctrace=1", "GOGC=100")
			cmd.Stderr = &errw
			cmd.Run()
			if collected = strings.Contains(errw.String(), "gc 1 @"); collected || !judges {
				break
			}
		}
		if collected != judges {
			t.Errorf("%s: the garbage collector ran: %v, want %v\n%s", line, collected, judges, errw.String())
		}
	}
}

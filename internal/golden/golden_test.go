package golden_test

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"axleend.example/internal/golden"
)

// A stub is a test that fails without ending.
type stub struct {
	testing.TB
	said string
}

func (s *stub) Helper()      {}
func (s *stub) Name() string { return "TestPages/one" }
func (s *stub) Fatal(args ...any) {
	s.said = args[0].(error).Error()
	runtime.Goexit()
}
func (s *stub) Fatalf(format string, args ...any) {
	s.said = strings.TrimSpace(strings.ReplaceAll(format, "%s", "")) + args[2].(string)
	runtime.Goexit()
}

func said(file, got string, update bool) string {
	s := &stub{}
	done := make(chan bool)
	go func() {
		defer close(done)
		golden.Check(s, file, got, update)
	}()
	<-done
	return s.said
}

func TestCheck(t *testing.T) {
	file := filepath.Join(t.TempDir(), "page.txt")
	if got := said(file, "a", false); !strings.Contains(got, "page.txt") {
		t.Errorf("no file: %q", got)
	}
	if got := said(filepath.Join(file, "none"), "a", true); got == "" {
		t.Error("a file that cannot be written was")
	}
	const page = "one\n  a\n  b\n\ntwo\n  c\n"
	if got := said(file, page, true); got != "" {
		t.Errorf("update: %q", got)
	}
	if data, err := os.ReadFile(file); err != nil || string(data) != page {
		t.Errorf("wrote %q, %v", data, err)
	}
	if got := said(file, page, false); got != "" {
		t.Errorf("the same: %q", got)
	}
	for text, under := range map[string]string{"one\n  a\n  x\n\ntwo\n  c\n": ", under one", "one\n  a\n  b\n\ntwo\n  x\n": ", under two", "one\n  a\n": ", under one",
		page + "more\n": ", under ", "": ", under one", page[1:]: ", under one"} {
		if got := said(file, text, false); !strings.HasSuffix(got, under) {
			t.Errorf("%q: %q, want %q", text, got, under)
		}
	}
}

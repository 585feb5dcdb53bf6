package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// folderOf writes files and gives their folder.
func folderOf(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestNoInputIsWrittenOver: whatever is read cannot be what is written, under
// any name and with -force, and stays as it is; nor is an answer put where the
// next run would read it.
func TestNoInputIsWrittenOver(t *testing.T) {
	table, err := os.ReadFile("../demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"visit.yaml": kept, "table.yaml": string(table), "in.jsonl": jsonKept + "\n", "one-line": jsonKept, "pack.yaml": ""}
	dir := folderOf(t, files)
	t.Chdir(dir)
	if err := os.Link("visit.yaml", "linked"); err != nil {
		t.Skip("no hard links here: ", err)
	}
	if err := os.Symlink("visit.yaml", "pointer"); err != nil {
		t.Skip("no links here: ", err)
	}
	files["linked"], files["pointer"] = kept, kept
	for _, x := range []struct {
		line string
		code int
		errw string
	}{
		{"assess -o visit.yaml -force visit.yaml", 2, "is what was read"},
		{"assess -o ./visit.yaml -force visit.yaml", 2, "is what was read"},
		{"assess -o linked -force visit.yaml", 2, "is what was read"},
		{"assess -o pointer -force visit.yaml", 2, "is what was read"},
		{"assess -o visit.yaml -force pointer", 2, "is what was read"},
		{"assess -o table.yaml -force visit.yaml", 2, "would be read"},
		{"assess -o new.CSV -force visit.yaml", 2, "would be read"},
		{"assess -o new.yaml visit.yaml", 2, "would be read"},
		{"assess -o pack.yaml -force -tables . -", 2, "would be read"},
		{"assess -o other.yaml -pack-dir . -packs pack -", 2, "pack"},
		{"batch -o in.jsonl in.jsonl", 2, "is what was read"},
		{"batch -o in.jsonl -resume in.jsonl", 2, "is what was read"},
		{"batch -o visit.yaml -resume .", 2, "would be read"},
		{"batch -o out.json .", 2, "would be read"},
		{"batch -o one-line -resume in.jsonl", 2, "one-line: cannot go on: line 1 is not"},
		{"batch -o table.yaml -resume in.jsonl", 2, "would be read"},
		{"batch -o in.jsonl in.jsonl", 2, "is what was read"},
		{"new -o visit.yaml", 2, "is there already"},
		{"new -o pointer", 2, "is there already"},
	} {
		code, out, errw := axleend(t, kept, strings.Fields(x.line)...)
		if code != x.code || !strings.Contains(errw, x.errw) {
			t.Errorf("%s: exit status %d, %s%s", x.line, code, out, errw)
		}
	}
	for name, want := range files {
		if got, err := os.ReadFile(name); err != nil || string(got) != want {
			t.Errorf("%s is now %q, %v", name, got, err)
		}
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != len(files) {
		t.Errorf("the folder holds %v, %v", left, err)
	}
	stdin, err := os.Open("visit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer stdin.Close()
	var errw strings.Builder
	if code := run(t.Context(), []string{"assess", "-o", "visit.yaml", "-force", "-"}, stdin, full{}, &errw); code != exitMisuse || !strings.Contains(errw.String(), "is what was read") {
		t.Errorf("onto standard input: exit status %d, %s", code, errw.String())
	}
	// Beside them all is well.
	for _, line := range []string{"assess -o page.txt visit.yaml", "assess -as html -o page.html visit.yaml", "batch -o out.jsonl in.jsonl", "batch -o folder.jsonl ."} {
		if code, out, errw := axleend(t, "", strings.Fields(line)...); code > exitStop {
			t.Errorf("%s: exit status %d, %s%s", line, code, out, errw)
		}
	}
}

// TestReplacedThroughALink: with -force a link stays a link, and what it leads to
// is replaced.
func TestReplacedThroughALink(t *testing.T) {
	t.Chdir(folderOf(t, map[string]string{"file": "old"}))
	if err := os.Symlink("file", "pointer"); err != nil {
		t.Skip("no links here: ", err)
	}
	if code, _, errw := axleend(t, "", "new", "-o", "pointer", "-force"); code != exitDone {
		t.Fatal(code, errw)
	}
	info, err := os.Lstat("pointer")
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
	if data, err := os.ReadFile("file"); err != nil || !strings.Contains(string(data), "visit: 1") {
		t.Errorf("the file is %q, %v", data, err)
	}
	if err := os.Symlink("none", "loose"); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"new", "-o", "loose"}, {"new", "-o", "loose", "-force"}, {"new", "-o", ".", "-force"}} {
		if code, _, errw := axleend(t, "", args...); code != exitMisuse && code != exitWrite {
			t.Errorf("%v: exit status %d, %s", args, code, errw)
		}
	}
}

// TestNothingIsLeftOfAFailedWrite: where a file cannot take its place, nothing
// stays beside it.
func TestNothingIsLeftOfAFailedWrite(t *testing.T) {
	dir := folderOf(t, map[string]string{"visit.yaml": kept})
	if err := os.Mkdir(filepath.Join(dir, "taken"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(filepath.Join(dir, "taken"), []byte("x"), true); err == nil {
		t.Error("a folder was replaced")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if code := run(ctx, []string{"assess", "-o", filepath.Join(dir, "page"), filepath.Join(dir, "visit.yaml")}, nil, full{}, full{}); code != exitWrite {
		t.Errorf("interrupted: exit status %d", code)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 2 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

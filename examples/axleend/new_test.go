package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/inspect/record"
)

func TestNew(t *testing.T) {
	check(t, []want{
		{"two axles", "new -on 2026-10-03", 0, []string{"date: 2026-10-03", "units: us", "at: drive-right-outer", "!spare", "!towed: yes"}},
		{"everything", "new -drive 2 -tag 1 -towed 2 -spares 2 -units metric", 0,
			[]string{"units: metric", "id: drive-2", "id: tag,", "id: towed-2", "at: spare-2", "every_towed_tire", "66,400 km"}},
		{"one axle towed", "new -towed 1", 0, []string{"id: towed-1", "!id: towed,"}},
		{"singles", "new -singles", 0, []string{"at: drive-left,", "!fitment: dual", "!dual: not read", "!inner, found"}},
		{"an argument", "new coach", 2, []string{`found "coach"`}},
		{"too many axles", "new -drive 5000000", 2, []string{"-drive 5000000: want 0 to"}},
		{"too many together", "new -drive 9 -tag 9", 2, []string{"axles"}},
		{"no day", "new -on 2026-02-30", 2, []string{"-on:"}},
		{"units", "new -units imperial", 2, []string{"imperial"}},
		{"spares", "new -spares 10", 2, []string{"want 0 to 9"}},
	})
}

// TestNewFromTheLast: the next visit keeps the coach and what was stamped, says
// what tires were left at, and what was advised; with each line in use it reads.
func TestNewFromTheLast(t *testing.T) {
	code, out, errw := axleend(t, "", "new", "-from", "../demo/visit.yaml", "-on", "2030-01-02")
	if code != exitDone || !strings.Contains(out, "date: 2030-01-02") || !strings.Contains(out, "found: not read") ||
		!strings.Contains(out, "rule: coach-care/") {
		t.Fatalf("exit status %d\n%s%s", code, out, errw)
	}
	used := strings.ReplaceAll(strings.ReplaceAll(out, "\n#done:", "\ndone:"), "\n#  - {", "\n  - {")
	if v, err := record.Read("next.yaml", []byte(used)); err != nil || len(v.Done) == 0 {
		t.Errorf("%v\n%s", err, used)
	}
	check(t, []want{
		{"an earlier day", "new -from ../demo/visit.yaml -on 2020-01-02", 2, []string{"want a later day"}},
		{"no file", "new -from nowhere.yaml", 2, []string{"nowhere.yaml"}},
	})
}

// TestNewForm: a form to print, of the axles asked for or of the last visit's coach.
func TestNewForm(t *testing.T) {
	check(t, []want{
		{"two axles", "new -as html -on 2026-10-03", 0, []string{"<!DOCTYPE html>", ">drive-right-outer<", "!2026-10-03", "!towed"}},
		{"metric, towed", "new -as html -units metric -tag 1 -towed 1 -spares 1", 0, []string{">tag-left<", ">towed-1-left<", ">spare<", "GVWR of the towed unit", "kPa"}},
		{"the next visit", "new -as html -from ../demo/visit.yaml -on 2030-01-02", 0, []string{"XV250/72R21", "Invented demo coach", "!2030-01-02"}},
		{"in JSON", "new -as json", 2, []string{`-as "json": want yaml or html`}},
		{"no such axles", "new -as html -drive 9 -tag 9", 2, []string{"axles"}},
	})
	file := filepath.Join(t.TempDir(), "form.html")
	if code, out, errw := axleend(t, "", "new", "-as", "html", "-o", file); code != exitDone {
		t.Fatalf("exit status %d\n%s%s", code, out, errw)
	}
	if data, err := os.ReadFile(file); err != nil || !strings.HasSuffix(string(data), "</html>\n") {
		t.Errorf("%v: %.40s", err, data)
	}
}

// TestNewKeepsAFile: a file that is there stays as it is unless told
// otherwise, and nothing else is left in its folder.
func TestNewKeepsAFile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "visit.yaml")
	run := func(code int, args ...string) {
		t.Helper()
		if got, out, errw := axleend(t, "", append([]string{"new", "-on", "2026-10-03", "-o", file}, args...)...); got != code {
			t.Errorf("%v: exit status %d, want %d\n%s%s", args, got, code, out, errw)
		}
	}
	holds := func(part string) {
		t.Helper()
		data, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(data), part) {
			t.Errorf("%q is not in the file (%v):\n%s", part, err, data)
		}
	}
	run(exitDone)
	holds("units: us")
	if info, err := os.Stat(file); err != nil || info.Mode().Perm()&0o600 != 0o600 {
		t.Errorf("the file's mode: %v, %v", info, err)
	}
	run(exitMisuse, "-units", "metric")
	holds("units: us")
	run(exitDone, "-units", "metric", "-force")
	holds("units: metric")
	run(exitMisuse, "-pressures", "atm", "-force")
	run(exitDone, "-pressures", "bar", "-force")
	holds("pressure_unit: bar")
	file = filepath.Join(dir, "no", "such", "folder.yaml")
	run(exitWrite)
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

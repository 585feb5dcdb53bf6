package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/inspect/report"
)

// axleend runs the command as the shell would.
func axleend(t testing.TB, in string, args ...string) (code int, out, errw string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(in), &o, &e)
	return code, o.String(), e.String()
}

const demoVisit = "../demo/visit.yaml"

// kept is a visit in which everything that is judged is kept.
const kept = `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, gawr: 9000 lb}]
weighing: {scale: pads, readings: [{load: 2400 lb, on: steer-left}, {load: 2400 lb, on: steer-right}]}
`

func TestExitStatuses(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := write("kept.yaml", kept)
	for _, x := range []struct {
		name string
		in   string
		args []string
		code int
		out  string // a part of standard output, or none wanted
		errw string
	}{
		{"nothing", "", nil, 0, "axleend assess", ""},
		{"help", "", []string{"assess", "-h"}, 0, "Exit status:", ""},
		{"mistyped", "", []string{"asess"}, 2, "", `did you mean "assess"?`},
		{"unknown", "", []string{"bake"}, 2, "", "want one of"},
		{"unknown flag", "", []string{"assess", "-tabels", "x", demoVisit}, 2, "", "did you mean -tables?"},
		{"flag of nothing", "", []string{"assess", "-xyzzyx", demoVisit}, 2, "", "unknown flag -xyzzyx;"},
		{"help of one", "", []string{"help", "assess"}, 0, "axleend assess [flags] VISIT", ""},
		{"help of none", "", []string{"help", "asess"}, 2, "", `did you mean "assess"?`},
		{"help of help", "", []string{"--help", "-h"}, 0, "axleend completion", ""},
		{"help mistyped", "", []string{"hlep"}, 2, "", `did you mean "help"?`},
		{"no visit", "", []string{"assess"}, 2, "", "one visit file"},
		{"no such file", "", []string{"assess", "none.yaml"}, 2, "", "none.yaml"},
		{"version", "", []string{"-version"}, 0, "axleend ", ""},
		{"must stop", "", []string{"assess", demoVisit}, 1, "DO NOT DRIVE: drive-right (both)", ""},
		{"flags behind", "", []string{"assess", demoVisit, "-as", "json"}, 1, `"drive": "must not move"`, ""},
		{"kept", "", []string{"assess", good}, 0, "Its pressure was not read", ""},
		{"strict", "", []string{"assess", "-strict", good}, 1, "NOT JUDGED", ""},
		{"standard input", kept, []string{"assess", "-"}, 0, "NOT JUDGED", ""},
		{"bad file", "visit: 1\nvisit: 2\n", []string{"assess", "-"}, 2, "", "-:2:1: duplicate key"},
		{"nothing to judge", "visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: single}]\n", []string{"assess", "-"}, 2, "", "nothing to judge"},
		{"50 MB", strings.Repeat("a: b\n", 10<<20), []string{"assess", "-"}, 2, "", "too large"},
		{"unknown form", "", []string{"assess", "-as", "xml", demoVisit}, 2, "", "want text or json"},
		{"date", "", []string{"date", "-on", "2026-10-03", "2200"}, 0, "2000-05-28 to 2000-06-03", ""},
		{"dates from lines", "0109\n\n2313\n", []string{"date", "-on", "2026-10-03"}, 0, "2009-01-04 to 2009-01-10", ""},
		{"bad date code", "", []string{"date", "-on", "2026-10-03", "0022"}, 1, "0022", ""},
		{"no codes", "", []string{"date"}, 2, "", "wants a number"},
		{"bad day", "", []string{"date", "-on", "tomorrow", "2200"}, 2, "", "-on"},
		{"packs", "", []string{"packs"}, 0, "coach-care", ""},
		{"measures", "", []string{"packs", "measures"}, 0, "do_not_drive", ""},
		{"sentences", "", []string{"packs", "show", "coach-care"}, 0, "run-low", ""},
		{"pack check", "", []string{"packs", "check", "../../rules/packs/label.yaml"}, 0, "0 failed, 0 gaps", ""},
		{"history", "", []string{"history", "-tables", "../demo", "../demo/history/autumn.yaml", "../demo/history/spring.yaml"}, 0, "2 visits, from 2026-04-11 to 2026-10-03", ""},
		{"history must stop", "", []string{"history", "-as", "json", "-tables", "../demo", "../demo/history/spring.yaml", "../demo/history/summer.yaml"}, 1, `"drive": "must not move"`, ""},
		{"history strict", "", []string{"history", "-strict", "-tables", "../demo", "../demo/history/autumn.yaml", "../demo/history/spring.yaml"}, 1, "2 not judged", ""},
		{"history of a folder", "", []string{"history", "-as", "html", "-tables", "../demo", "../demo/history"}, 0, "Tread of steer-left", ""},
		{"history of an empty folder", "", []string{"history", "../demo/history/none"}, 2, "", "none"},
		{"no history", "", []string{"history"}, 2, "", "history wants the visit files"},
		{"one file twice", "", []string{"history", "../demo/history/spring.yaml", "../demo/history/spring.yaml"}, 2, "", "../demo/history/spring.yaml: given twice: a visit of 2026-04-11, also ../demo/history/spring.yaml;"},
		{"history of nothing", "", []string{"history", "../demo/xv250.yaml", "../demo/none.yaml"}, 2, "", "none.yaml"},
		{"no such pack", "", []string{"packs", "show", "none"}, 2, "", "none"},
		{"packs misuse", "", []string{"packs", "bake"}, 2, "", "packs wants"},
	} {
		t.Run(x.name, func(t *testing.T) {
			code, out, errw := axleend(t, x.in, x.args...)
			if code != x.code {
				t.Errorf("exit status %d, want %d\n%s%s", code, x.code, out, errw)
			}
			if !strings.Contains(out, x.out) || x.code == 2 && out != "" {
				t.Errorf("standard output %q, want %q in it", out, x.out)
			}
			if !strings.Contains(errw, x.errw) {
				t.Errorf("standard error %q, want %q in it", errw, x.errw)
			}
		})
	}
}

// TestWelcome: three commands to begin with, each an example that its help has,
// and how to see all; and no page of help is wider than a terminal.
func TestWelcome(t *testing.T) {
	_, out, _ := axleend(t, "")
	n := 0
	for line := range strings.Lines(out) {
		if text, ok := strings.CutPrefix(strings.TrimRight(line, "\n"), "  axleend "); ok {
			n++
			cmd, err := find(strings.Fields(text)[0])
			if err != nil || !strings.Contains(cmd.help, "Example: axleend "+text) {
				t.Errorf("%s: %v", line, err)
			}
		}
	}
	if n != len(beginWith) || !strings.Contains(out, "axleend help") {
		t.Errorf("%d commands to begin with:\n%s", n, out)
	}
	narrow(t, out)
	_, all, _ := axleend(t, "", "help")
	narrow(t, all)
	for _, cmd := range commands() {
		if !strings.Contains(all, "axleend "+cmd.name) {
			t.Errorf("%s is not among all commands", cmd.name)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestCouldNotWrite(t *testing.T) {
	var errw bytes.Buffer
	if code := run(context.Background(), []string{"assess", demoVisit}, nil, full{}, &errw); code != exitWrite {
		t.Errorf("exit status %d, want %d", code, exitWrite)
	}
}

// TestPageFits: at most 80 columns, and a first line that never says safe.
func TestPageFits(t *testing.T) {
	_, out, _ := axleend(t, "", "assess", demoVisit)
	lines := strings.Split(out, "\n")
	for i, l := range lines {
		if n := utf8.RuneCountInString(l); n > 80 {
			t.Errorf("line %d has %d columns: %s", i+1, n, l)
		}
	}
	first := strings.ToLower(lines[0])
	for _, word := range []string{"safe", "pass", "ok"} {
		if strings.Contains(first, word) {
			t.Errorf("the first line says %q: %s", word, lines[0])
		}
	}
	if n := len(lines); n < 24 || n > 41 { // the last one ends the last line
		t.Errorf("%d lines, want one screen", n)
	}
	_, full, _ := axleend(t, "", "assess", "-full", demoVisit)
	for page, wanted := range map[string][]string{
		out: {"SET 95 psi", "SET 110 psi", "Invented example", "DO NOT AIR UP drive-right (both)", "Flat: ", "assess -full"},
		full: {"found 88 psi, FLAT (at 88 psi or less", "PRESSURE NOT TAKEN", "OVER", "SET 95 psi", "SET 110 psi", "5/32 in apart in tread, the DEEPER one inside",
			"made before 2000-07-02", "Invented example", "DO NOT AIR UP drive-right-inner, drive-right-outer"},
	} {
		for _, want := range wanted {
			if !strings.Contains(page, want) {
				t.Errorf("%q is not on the page:\n%s", want, page)
			}
		}
	}
}

func TestJSONReadsBack(t *testing.T) {
	_, out, _ := axleend(t, "", "assess", "-as", "json", demoVisit)
	var r report.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	again, err := json.MarshalIndent(r, "", "  ")
	if err != nil || string(again)+"\n" != out {
		t.Errorf("not the same after reading back: %v", err)
	}
}

func FuzzCommandLine(f *testing.F) {
	f.Add("assess\x00-", kept)
	f.Add("date\x00-on\x002026-10-03\x00439", "")
	f.Add("packs\x00show\x00label", "")
	f.Add("help\x00history", "")
	f.Add("batch\x00-o\x00out\x00-", "")
	f.Add("tables\x00show\x00-", "")
	for _, cmd := range commands() {
		f.Add(cmd.name, "")
		f.Add(cmd.name+"\x00-h", "")
		f.Add(cmd.name+"\x00-", kept)
		f.Add(cmd.name+"\x00-as\x00json\x00-strict\x00-\x00-", kept)
		var c call
		c.flagsOf(cmd)
		c.flags.VisitAll(func(g *flag.Flag) { f.Add(cmd.name+"\x00-"+g.Name+"\x001 2\x00-", kept) })
	}
	dir := f.TempDir() // some commands write files
	f.Fuzz(func(t *testing.T, line, in string) {
		t.Chdir(dir)
		args := strings.Split(line, "\x00")
		if strings.ContainsAny(line, "/\\") {
			return // other people's files are none of this test's business
		}
		code, out, errw := axleend(t, in, args...)
		if code < exitDone || code > exitWrite {
			t.Errorf("exit status %d", code)
		}
		if strings.ContainsFunc(out+errw, hidden) {
			t.Errorf("a hidden character is shown:\n%q\n%q", out, errw)
		}
	})
}

// TestReadmeShowsTheFirstScreen: what the README shows is what the command prints.
func TestReadmeShowsTheFirstScreen(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(readme), "```text\n")
	shown, _, ok := strings.Cut(rest, "```")
	if _, out, _ := axleend(t, "", "assess", demoVisit); !ok || !strings.HasPrefix(out, shown) {
		t.Errorf("README.md shows\n%s\nwant\n%s", shown, out)
	}
}

// TestClip: of what was typed sixty letters are printed back, whatever letters they are.
func TestClip(t *testing.T) {
	for _, letter := range []string{"a", "\u00e9", "\u8f2a"} {
		if got, want := clip(strings.Repeat(letter, 60)), strings.Repeat(letter, 60); got != want {
			t.Errorf("60: %q, want %q", got, want)
		}
		if got, want := clip(strings.Repeat(letter, 61)), strings.Repeat(letter, 60)+"..."; got != want {
			t.Errorf("61: %q, want %q", got, want)
		}
	}
}

package main

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const source = `package p

import "fmt"

const most = 0x10

type room [5]int

func (r *room) f(a, b int, list []string) (out []int) {
	out = make([]int, 3, 9)
	m := make(map[int]int, 4)
	if a < b && !done(m) {
		fmt.Println("1", -a)
	} else {
		a += 2
	}
	for i := 0; i < 3; i++ {
		if a == i {
			continue
		}
	}
	switch {
	case a <= b:
		a = 1
	}
	return out
}

func g(a int) (int, bool) {
	if a > 7 {
		return 1, true
	}
	return 2, false
}

func h(a int) (int, error) {
	if a > 8 {
		return 3, fmt.Errorf("%d", 4)
	}
	return 5, nil
}
`

// TestFind: every change by line, function and words, in the order of the file.
func TestFind(t *testing.T) {
	list, err := find("p/p.go", []byte(source))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range list {
		got = append(got, strings.Join([]string{token.Position{Line: m.line, Column: m.column}.String(), m.function, m.what}, " "))
	}
	for _, w := range []string{"5:14  0x10 becomes 17", "5:14  0x10 becomes 15", "10:2 room.f is left out", "10:20 room.f 3 becomes 4", "10:20 room.f 3 becomes 2", "12:7 room.f < becomes <=", "12:7 room.f < becomes >=",
		"12:11 room.f && becomes ||", "12:14 room.f ! is left out", "12:5 room.f the condition becomes its opposite", "13:3 room.f is left out",
		"13:20 room.f - is left out", "15:3 room.f is left out", "15:5 room.f += becomes -=", "15:8 room.f 2 becomes 3", "17:2 room.f is left out",
		"17:11 room.f 0 becomes 1", "18:3 room.f is left out", "18:8 room.f == becomes !=", "19:4 room.f is left out", "23:9 room.f <= becomes <", "24:3 room.f is left out",
		"31:10 g 1 becomes 2", "31:13 g true becomes false", "33:12 g false becomes true", "38:30 h 4 becomes 5", "40:9 h 5 becomes 6"} {
		if !slices.Contains(got, w) {
			t.Errorf("no %q among\n%s", w, strings.Join(got, "\n"))
		}
	}
	for _, w := range []string{"7:", "10:23", "11:", "3:", "12:2 room.f is left out", "17:11 room.f 0 becomes -1", "33:9", "38:10"} {
		for _, g := range got {
			if strings.HasPrefix(g, w) {
				t.Errorf("%q is no change to make", g)
			}
		}
	}
	keys := map[string]bool{}
	for _, m := range list {
		changed := m.apply([]byte(source))
		if _, err := parser.ParseFile(token.NewFileSet(), "p.go", changed, 0); err != nil {
			t.Errorf("%v: %v", m, err)
		}
		if strings.Count(string(changed), "\n") != strings.Count(source, "\n") {
			t.Errorf("%v: lines moved", m)
		}
		if string(changed) == source || keys[m.key()] {
			t.Errorf("%v: no change, or one that has another's key", m)
		}
		keys[m.key()] = true
	}
}

// sample runs the module under testdata.
func sample(t *testing.T, o options) (int, string, error) {
	t.Helper()
	o.root, o.pkg, o.length = filepath.Join("testdata", "sample"), ".", 10*time.Minute
	var out strings.Builder
	score, err := mutate(t.Context(), o, &out)
	return score, out.String(), err
}

// TestSample: of what is tested nothing survives, of what is not something
// does; a change that makes a loop endless ends; and the tree stays as it is.
func TestSample(t *testing.T) {
	before, err := os.ReadFile("testdata/sample/sample.go")
	if err != nil {
		t.Fatal(err)
	}
	score, out, err := sample(t, options{seed: 1})
	if err != nil || score != 94 || strings.Count(out, "SURVIVED") != 1 || strings.Count(out, "it did not end") != 1 {
		t.Errorf("%d %%, %v\n%s", score, err, out)
	}
	for _, want := range []string{"SURVIVED sample.go:17:9: Sum: 0 becomes 1\n         sum := 0\n", "killed   sample.go:9:7: Over: > becomes >= (TestOver)",
		"sample: seed 1: of 18 changes 17 killed, 1 survived: 94 %; 0 more are equivalent, 1 did not build, 19 there are"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	// What somebody looked at does not count.
	score, out, err = sample(t, options{seed: 1, n: 2, reviewed: "# so\n\nsample.go\tSum\tsum := 0\t0 becomes 1\tonly its sign matters\n"})
	if err != nil || score != 100 || !strings.Contains(out, "1 more are equivalent") {
		t.Errorf("%d %%, %v\n%s", score, err, out)
	}
	if after, err := os.ReadFile("testdata/sample/sample.go"); err != nil || string(after) != string(before) {
		t.Errorf("the file was changed: %v", err)
	}
}

// TestSomeFirst: with some tests before the others the same changes are noticed.
func TestSomeFirst(t *testing.T) {
	last := func(o options) string {
		_, out, err := sample(t, o)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSpace(out), "\n")
		return lines[len(lines)-1]
	}
	want := last(options{seed: 1, n: 6})
	for _, first := range []string{"TestSum", "TestNone"} {
		if got := last(options{seed: 1, n: 6, first: first}); got != want {
			t.Errorf("%s first: %s, want %s", first, got, want)
		}
	}
}

// TestOthersTests: the tests of another package are asked.
func TestOthersTests(t *testing.T) {
	var out strings.Builder
	o := options{root: filepath.Join("testdata", "sample"), pkg: "./more", tests: []string{"./held"}, seed: 1, length: 10 * time.Minute}
	score, err := mutate(t.Context(), o, &out)
	if err != nil || score != 50 || !strings.Contains(out.String(), "3 becomes 2 (TestLeast)") || !strings.Contains(out.String(), "SURVIVED more/more.go:5:15: : 3 becomes 4") {
		t.Errorf("%d %%, %v\n%s", score, err, out.String())
	}
}

// TestSeed: a seed tries the same changes each time, another one others.
func TestSeed(t *testing.T) {
	_, a, err1 := sample(t, options{seed: 1, n: 2})
	_, b, err2 := sample(t, options{seed: 1, n: 2})
	_, c, err3 := sample(t, options{seed: 2, n: 2})
	if err1 != nil || err2 != nil || err3 != nil || a != b || a == c || strings.Count(a, "sample.go") != 2 {
		t.Errorf("%v %v %v\n%s\n%s\n%s", err1, err2, err3, a, b, c)
	}
}

func TestRefused(t *testing.T) {
	for list, want := range map[string]string{
		"sample.go\tSum\tsum := 0\t0 becomes 1\tno\n":                               "equivalent.txt:1: want file",
		"sample.go\tSum\tsum := 0\n":                                                "equivalent.txt:1: want file",
		"#\nsample.go\tSum\tsum := 9\t9 becomes 8\tonly its sign matters\n":         "equivalent.txt:2: no such change any more",
		strings.Repeat("sample.go\tSum\tsum := 0\t0 becomes 1\tonly its sign\n", 2): "equivalent.txt:2: stands in line 1 already",
	} {
		if _, _, err := sample(t, options{reviewed: list}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", list, err, want)
		}
	}
	if _, err := mutate(t.Context(), options{}, &strings.Builder{}); err == nil {
		t.Error("no package was named")
	}
	o := options{root: "testdata/sample", pkg: "./none", length: time.Minute}
	if _, err := mutate(t.Context(), o, &strings.Builder{}); err == nil {
		t.Error("there is no such package")
	}
	o = options{root: "testdata/sample", pkg: ".", tests: []string{"./more"}, length: time.Minute}
	if _, err := mutate(t.Context(), o, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), "has no tests") {
		t.Errorf("tests of a package without: %v", err)
	}
	if _, err := readReviewed(equivalentText); err != nil {
		t.Error(err)
	}
}

// TestListFitsTheTree: what is said of a change of a package is said of one that is
// there still. Where code has moved, so has its line of the list.
func TestListFitsTheTree(t *testing.T) {
	list, err := readReviewed(equivalentText)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	seen := map[string]bool{}
	for _, r := range list {
		if seen[r.file] {
			continue
		}
		seen[r.file] = true
		src, err := os.ReadFile(filepath.Join("../..", filepath.FromSlash(r.file)))
		if err != nil {
			t.Errorf("equivalent.txt:%d: %v", r.line, err)
			continue
		}
		all, err := find(r.file, src)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range all {
			there[m.key()] = true
		}
	}
	for _, r := range list {
		if !there[r.key] {
			t.Errorf("equivalent.txt:%d: no such change any more: look again, or take it out", r.line)
		}
	}
}

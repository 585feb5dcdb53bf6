package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden holds what a command says, on both outputs, and its exit status to a
// file that is read like code. The commands are typed at the root of the
// checkout.
func golden(t *testing.T, name, in string, args ...string) {
	t.Helper()
	code, out, errw := axleend(t, in, args...)
	got := "axleend " + strings.Join(args, " ") + "\n"
	if in != "" {
		got += "<<\n" + in
	}
	got += "\n" + out
	if errw != "" {
		got += "\nstandard error:\n" + errw
	}
	got += fmt.Sprintf("\nexit status %d\n", code)
	file := filepath.Join("examples", "axleend", "testdata", name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Errorf("%s, line %d: got\n%s\nwant\n%s\nIf it is meant: go test ./examples/axleend -run Golden -update", file, i+1,
				strings.Join(g[min(i, len(g)):min(i+3, len(g))], "\n"), strings.Join(w[min(i, len(w)):min(i+3, len(w))], "\n"))
			return
		}
	}
}

// TestGoldenExamples: every example of every command's help, but those whose
// answer is a page of the library, a line of JSON or a pack.
func TestGoldenExamples(t *testing.T) {
	t.Chdir("../..")
	for _, cmd := range commands() {
		if slices.Contains([]string{"assess", "history", "batch", "completion", "packs"}, cmd.name) {
			continue
		}
		n := 0
		for line := range strings.Lines(cmd.help) {
			if text, ok := strings.CutPrefix(line, "Example: axleend "); ok {
				n++
				golden(t, fmt.Sprintf("%s-%d", cmd.name, n), "", words(t, strings.TrimSpace(text))...)
			}
		}
	}
}

// words cuts a command line as a shell does, with double quotes alone.
func words(t *testing.T, line string) []string {
	t.Helper()
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// TestGoldenRest: what the examples do not show: lines from standard input, what
// contradicts, what is refused, and every help page.
func TestGoldenRest(t *testing.T) {
	t.Chdir("../..")
	golden(t, "welcome", "")
	golden(t, "help", "", "help")
	for _, cmd := range commands() {
		golden(t, "help-"+cmd.name, "", "help", cmd.name)
	}
	golden(t, "date-lines", "0109\n\nDOT-R ABC 2313\n1M3 ABCDEF 23I3\n439\n9912\n", "date", "-on", "2026-10-03")
	golden(t, "date-json", "", "date", "-on", "2026-10-03", "-as", "json", "439")
	golden(t, "sidewall-doubt", "LT225/75R16 load range E 8PR\n11R22.5 144/146L max load single 6175 lb\nbanana\n", "sidewall", "-road", "80mph")
	golden(t, "cold-hot-condemned", "", "cold", "-read", "90psi", "-speed", "50mph", "-max-load", "4940lb", "-minimum", "95psi")
	golden(t, "cold-metric", "", "cold", "-read", "655kPa", "-at", "35C", "-to", "0C,20C", "-minimum", "620kPa")
	golden(t, "pressure-over", "", "pressure", "-table", "examples/demo/xv250.yaml", "-size", "XV250/72R21", "-fit", "single", "-load", "5200lb", "-per", "tire")
	golden(t, "pressure-axle", "", "pressure", "-tables", "examples/demo", "-size", "XV250/72R21", "-fit", "dual", "-load", "14000lb", "-per", "axle", "-step", "5psi", "-interpolate")
	golden(t, "tables-bad", "table: 1\nname: x\nsize: banana\nrows: [[80, 1]]\nrows: []\n", "tables", "check", "-", "examples/demo/xv250.yaml")
	golden(t, "tables-csv", "", "tables", "new", "-csv", "-size", "XV250/72R21", "-class", "truck", "-single", "per tire", "-from", "80psi", "-to", "90psi", "-by", "5psi")
	golden(t, "refused-visit", "visit: 1\ndate: 2026-13-01\naxles: [{id: steer, fitment: triple}]\ntires: [{at: steer-left, found: 95}]\nunknown: key\n", "weigh", "-")
	golden(t, "place-nothing", kept, "place", "-")
	golden(t, "load-nothing", kept, "load", "-")
	golden(t, "weigh-kept", kept, "weigh", "-")
}

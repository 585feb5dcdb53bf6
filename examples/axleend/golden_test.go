package main

import (
	"flag"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/internal/golden"
	"axleend.example/internal/visittest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// checkCommand holds what a command says, on both outputs, and its exit status to a
// file that is read like code. The commands are typed at the root of the
// checkout.
func checkCommand(t *testing.T, name, in string, args ...string) {
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
	golden.Check(t, filepath.Join("examples", "axleend", "testdata", name+".golden"), got, *update)
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
				checkCommand(t, fmt.Sprintf("%s-%d", cmd.name, n), "", words(t, strings.TrimSpace(text))...)
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
	checkCommand(t, "welcome", "")
	checkCommand(t, "help", "", "help")
	for _, cmd := range commands() {
		checkCommand(t, "help-"+cmd.name, "", "help", cmd.name)
	}
	checkCommand(t, "date-lines", "0109\n\nDOT-R ABC 2313\n1M3 ABCDEF 23I3\n439\n9912\n", "date", "-on", "2026-10-03")
	checkCommand(t, "date-json", "", "date", "-on", "2026-10-03", "-as", "json", "439")
	checkCommand(t, "sidewall-doubt", "LT225/75R16 load range E 8PR\n11R22.5 144/146L max load single 6175 lb\nbanana\n", "sidewall", "-road", "80mph")
	checkCommand(t, "cold-hot-condemned", "", "cold", "-read", "90psi", "-speed", "50mph", "-max-load", "4940lb", "-minimum", "95psi")
	checkCommand(t, "cold-metric", "", "cold", "-read", "655kPa", "-at", "35C", "-to", "0C,20C", "-minimum", "620kPa")
	checkCommand(t, "pressure-over", "", "pressure", "-table", "examples/demo/xv250.yaml", "-size", "XV250/72R21", "-fit", "single", "-load", "5200lb", "-per", "tire")
	checkCommand(t, "pressure-axle", "", "pressure", "-tables", "examples/demo", "-size", "XV250/72R21", "-fit", "dual", "-load", "14000lb", "-per", "axle", "-step", "5psi", "-interpolate")
	checkCommand(t, "tables-bad", "table: 1\nname: x\nsize: banana\nrows: [[80, 1]]\nrows: []\n", "tables", "check", "-", "examples/demo/xv250.yaml")
	checkCommand(t, "tables-csv", "", "tables", "new", "-csv", "-size", "XV250/72R21", "-class", "truck", "-single", "per tire", "-from", "80psi", "-to", "90psi", "-by", "5psi")
	checkCommand(t, "refused-visit", "visit: 1\ndate: 2026-13-01\naxles: [{id: steer, fitment: triple}]\ntires: [{at: steer-left, found: 95}]\nunknown: key\n", "weigh", "-")
	checkCommand(t, "place-nothing", kept, "place", "-")
	checkCommand(t, "load-nothing", kept, "load", "-")
	checkCommand(t, "weigh-kept", kept, "weigh", "-")
	checkCommand(t, "packs-show", "", "packs", "show", "dual-matching")
	checkCommand(t, "place-pair", "", "place", "examples/wheels/pair.yaml")
	checkCommand(t, "place-tag", "", "place", "examples/wheels/tag.yaml")
	checkCommand(t, "place-rotate", rotates, "place", "-")
	checkCommand(t, "place-wheels", weakWheels, "place", "-")
	checkCommand(t, "place-other-wheel", otherWheel, "place", "-")
}

// TestGoldenCoaches: what weigh, load and place print for random coaches: of each page the
// lines that no page before it has, and how many it has in all.
func TestGoldenCoaches(t *testing.T) {
	t.Chdir("../..")
	var b strings.Builder
	seen := make(map[string]bool)
	left := map[string]int{"weigh": 6, "load": 8, "place": 6} // pages of each
	for seed := uint64(1); left["load"] > 0; seed++ {
		coach := visittest.NewCoach(seed).Write()
		visit, err := record.Marshal(coach)
		if err != nil {
			t.Fatal(err)
		}
		for _, command := range []string{"weigh", "load", "place"} {
			if left[command] == 0 || command == "load" && len(coach.Trip.Stations) == 0 {
				continue
			}
			left[command]--
			code, out, errw := axleend(t, string(visit), command, "-")
			fmt.Fprintf(&b, "\n== coach %d, %s: exit status %d, %d lines%s\n", seed, command, code, strings.Count(out, "\n"), errw)
			for line := range strings.Lines(out) {
				if !seen[line] {
					b.WriteString(line)
				}
				seen[line] = true
			}
		}
	}
	golden.Check(t, filepath.Join("examples", "axleend", "testdata", "coaches.golden"), b.String(), *update)
}

// Invented coaches for place: a rotation that helps, in millimeters; wheels that are too
// weak for what they carry, one of them for its pressure; a spare whose wheel fits
// another axle.
const (
	rotates = `visit: 1
date: 2026-10-03
units: metric
axles: [{id: steer, fitment: single}, {id: tag, fitment: single}]
every_tire: {model: alpha, size: AX240/75R20, construction: radial, seen: nothing}
tires:
  - {at: steer-left, tread: 8 mm}
  - {at: steer-right, tread: 8 mm}
  - {at: tag-left, tread: 4 mm}
  - {at: tag-right, tread: 8 mm}
  - {at: spare, tread: 8 mm}
`
	weakWheels = `visit: 1
date: 2026-10-03
axles:
  - {id: steer, fitment: single, gawr: 9000 lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 16000 lb, placard: 100 psi}
every_tire: {size: AX240/75R20, class: truck, construction: radial, model: alpha, single: 5000 lb at 110 psi, dual: 4600 lb at 110 psi, seen: nothing, last_set: 100 psi}
tires:
  - {at: steer-left, wheel: 3000 lb at 130 psi, wheel_fits: steer, found: 100 psi, number: "2223", tread: 10/32 in}
  - {at: steer-right, wheel: 6000 lb at 90 psi, wheel_fits: steer, found: 100 psi, number: "2223", tread: 10/32 in}
  - {at: drive-left-outer, wheel: 6000 lb at 130 psi, wheel_fits: drive, found: 100 psi, number: "2223", tread: 10/32 in}
  - {at: drive-left-inner, wheel: 6000 lb at 130 psi, wheel_fits: drive, found: 100 psi, number: "2223", tread: 10/32 in}
  - {at: drive-right-outer, wheel: 6000 lb at 130 psi, wheel_fits: drive, found: 100 psi, number: "2223", tread: 10/32 in}
  - {at: drive-right-inner, wheel: 6000 lb at 130 psi, wheel_fits: drive, found: 100 psi, number: "2223", tread: 10/32 in}
weighing: {as_driven: all, scale: pads, tolerance: 10 lb, level: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4100 lb, on: steer-right}, {load: 7500 lb, on: drive-left}, {load: 7400 lb, on: drive-right}]}
`
	otherWheel = `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
every_tire: {last_set: 90 psi, seen: nothing, model: a}
tires:
  - {at: steer-left, found: 90 psi, tread: 3/32 in}
  - {at: steer-right, found: 90 psi, tread: 9/32 in}
  - {at: spare, found: 90 psi, tread: 9/32 in, wheel_fits: tag, rotates: right}
`
)

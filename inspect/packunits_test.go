package inspect_test

import (
	"fmt"
	"io/fs"
	"math/big"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// inMetricUnits writes an exact count of inches or pounds in millimeters or kilograms.
// Both are whole decimals: 1 in is 25.4 mm, 1 lb is 0.45359237 kg (NIST SP 811).
func inMetricUnits(t *testing.T, text string) string {
	t.Helper()
	number, unit, _ := strings.Cut(text, " ")
	n, ok := new(big.Rat).SetString(number)
	if !ok {
		t.Fatalf("no number: %q", text)
	}
	to := map[string]struct{ per, unit string }{"in": {"25.4", "mm"}, "lb": {"0.45359237", "kg"}}[unit]
	per, ok := new(big.Rat).SetString(to.per)
	if !ok {
		t.Fatalf("no unit: %q", text)
	}
	digits, exact := n.Mul(n, per).FloatPrec()
	if !exact {
		t.Fatalf("%q is no whole decimal in %s", text, to.unit)
	}
	return n.FloatString(digits) + " " + to.unit
}

var american = regexp.MustCompile(`\b\d+(?:/\d+|\.\d+)? (?:in|lb)\b`)

// boundLine is a line of a pack that may hold a bound.
var boundLine = regexp.MustCompile(`^ +(?:at_most|at_least|less_than|more_than|where|any|- )`)

// inMetric is the pack with every bound in inches or pounds written in metric.
func inMetric(t *testing.T, text string) (string, int) {
	t.Helper()
	n := 0
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if boundLine.MatchString(line) {
			lines[i] = american.ReplaceAllStringFunc(line, func(s string) string {
				n++
				return inMetricUnits(t, s)
			})
		}
	}
	return strings.Join(lines, "\n"), n
}

// TestPacksInTwoUnits: a pack written in the other units, and facts written in
// the other units, give the same verdicts at the same physical value.
func TestPacksInTwoUnits(t *testing.T) {
	rewritten := 0
	for _, name := range packs.Names() {
		data, err := fs.ReadFile(packs.FS(), name+".yaml")
		if err != nil {
			t.Fatal(err)
		}
		twin, n := inMetric(t, string(data))
		rewritten += n
		programs := make([]*rules.Program, 2)
		for i, text := range []string{string(data), twin} {
			pack, err := rules.LoadPack(name+".yaml", []byte(text))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if programs[i], err = rules.Compile(inspect.Vocabulary(), pack); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		random := rand.New(rand.NewPCG(1, 2))
		for range 300 {
			for _, subject := range inspect.Vocabulary().Definition().Subjects {
				compareUnits(t, random, name, subject, programs)
			}
		}
	}
	if rewritten < 20 {
		t.Errorf("only %d bounds were rewritten", rewritten)
	}
}

// compareUnits judges one random subject four ways: both packs, and its values
// in both units.
func compareUnits(t *testing.T, random *rand.Rand, name string, subject rules.Subject, programs []*rules.Program) {
	t.Helper()
	facts := make([]*rules.Facts, 2)
	for i := range facts {
		var err error
		if facts[i], err = inspect.Vocabulary().NewFacts(subject.Name, "x"); err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range subject.Measures {
		var text string
		switch {
		case random.IntN(4) == 0: // not recorded
			continue
		case m.Flag:
			text = []string{"no", "yes"}[random.IntN(2)]
		case len(m.Words) > 0:
			text = m.Words[random.IntN(len(m.Words))]
		case m.Dimension.Name == "length":
			text = fmt.Sprintf("%d/64 in", random.IntN(40))
		case m.Dimension.Name == "mass":
			text = fmt.Sprintf("%d.%02d lb", 4900+random.IntN(40), random.IntN(100))
		default:
			continue
		}
		other := text
		if strings.HasSuffix(text, " in") || strings.HasSuffix(text, " lb") {
			other = inMetricUnits(t, text)
		}
		for i, text := range []string{text, other} {
			if err := facts[i].SetText(m.Name, text); err != nil {
				t.Fatal(err)
			}
		}
	}
	var first []rules.Finding
	for i, program := range programs {
		for j := range facts {
			found, err := program.AppendRun(nil, facts[j])
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 && j == 0 {
				first = found
				continue
			}
			if len(found) != len(first) {
				t.Fatalf("%s: %d findings, else %d", name, len(found), len(first))
			}
			for k := range found {
				if found[k].Rule.ID() != first[k].Rule.ID() || found[k].Verdict != first[k].Verdict {
					t.Fatalf("%s: %v of %v, else %v of %v", name, found[k].Verdict, found[k].Rule.ID(), first[k].Verdict, first[k].Rule.ID())
				}
			}
		}
	}
}

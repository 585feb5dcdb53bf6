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
	"axleend.example/internal/testsize"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// otherUnits are what a unit is in another one, as a whole decimal: 1 in is 25.4 mm,
// 1 lb is 0.45359237 kg, 1 mi is 1.609344 km, 1 bar is 100 kPa (NIST SP 811). A psi is
// no whole decimal in kPa, so that no text in kPa is the same physical value.
var otherUnits = map[string]struct{ per, unit string }{
	"in": {"25.4", "mm"}, "lb": {"0.45359237", "kg"}, "mph": {"1.609344", "km/h"},
	"mm": {"0.1", "cm"}, "kPa": {"0.01", "bar"},
}

// inOtherUnit writes an exact count in the other unit.
func inOtherUnit(t *testing.T, text string) string {
	t.Helper()
	number, unit, _ := strings.Cut(text, " ")
	n, ok := new(big.Rat).SetString(number)
	if !ok {
		t.Fatalf("no number: %q", text)
	}
	to := otherUnits[unit]
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

var convertible = regexp.MustCompile(`\b\d+(?:/\d+|\.\d+)? (?:in|lb|mph|mm|kPa)\b`)

// inOtherUnits is a text with each quantity in the other unit, where there is one.
func inOtherUnits(t *testing.T, text string) string {
	t.Helper()
	return convertible.ReplaceAllStringFunc(text, func(s string) string { return inOtherUnit(t, s) })
}

// boundLine is a line of a pack that may hold a bound.
var boundLine = regexp.MustCompile(`^ +(?:at_most|at_least|less_than|more_than|where|any|- )`)

// twin is the pack with every bound in the other unit, where there is one.
func twin(t *testing.T, text string) (string, int) {
	t.Helper()
	n := 0
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if boundLine.MatchString(line) {
			n += len(convertible.FindAllString(line, -1))
			lines[i] = inOtherUnits(t, line)
		}
	}
	return strings.Join(lines, "\n"), n
}

// TestPacksInTwoUnits: a pack written in the other units, and facts written in
// the other units, give the same verdicts at the same physical value.
func TestPacksInTwoUnits(t *testing.T) {
	rewritten, cases := 0, 0
	for _, name := range packs.Names() {
		data, err := fs.ReadFile(packs.FS(), name+".yaml")
		if err != nil {
			t.Fatal(err)
		}
		other, n := twin(t, string(data))
		rewritten += n
		programs := make([]*rules.Program, 2)
		for i, text := range []string{string(data), other} {
			pack, err := rules.ReadPack(name+".yaml", []byte(text))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if programs[i], err = rules.Compile(inspect.Vocabulary(), pack); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		random := rand.New(rand.NewPCG(1, 2))
		rounds := 60
		if testsize.Full() {
			rounds = 300
		}
		for range rounds {
			for _, subject := range inspect.Vocabulary().Definition().Subjects {
				compareUnits(t, name, packCase{subject: subject.Name, given: randomFacts(random, subject)}, programs)
			}
		}
		for _, c := range packCases(t, name) { // at each bound, just under and just over it
			cases++
			compareUnits(t, name, c, programs)
		}
	}
	if rewritten < 40 || cases < 2000 {
		t.Errorf("only %d bounds were rewritten, and %d cases", rewritten, cases)
	}
}

// randomFacts are values for some of a subject's measures.
func randomFacts(random *rand.Rand, subject rules.Subject) map[string]string {
	given := make(map[string]string)
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
		case m.Dimension.Name == "pressure":
			text = fmt.Sprintf("%d kPa", random.IntN(900))
		case m.Dimension.Name == "speed":
			text = fmt.Sprintf("%d mph", 50+random.IntN(40))
		default:
			continue
		}
		given[m.Name] = text
	}
	return given
}

// compareUnits judges one subject four ways: by both packs, and its values in both
// units.
func compareUnits(t *testing.T, name string, c packCase, programs []*rules.Program) {
	t.Helper()
	other := packCase{at: c.at, subject: c.subject, given: make(map[string]string)}
	for measure, text := range c.given {
		other.given[measure] = inOtherUnits(t, text)
	}
	facts := []*rules.Facts{c.facts(t), other.facts(t)}
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

package inspect_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// A packCase is a case of a shipped pack as it stands in its file: what is given
// of which subject, and of which rules something is expected.
type packCase struct {
	at, subject string
	given       map[string]string
	expect      map[string]string
}

// packCases reads the cases of a pack word by word.
func packCases(t *testing.T, name string) (out []packCase) {
	t.Helper()
	for _, item := range packNode(t, name+".cases.yaml").Map("cases", "format", "list").Get("list").List() {
		m := item.Map("given", "expect", "source")
		c := packCase{at: item.Pos().String(), given: texts(m.Get("given")), expect: texts(m.Get("expect"))}
		c.subject = c.given["subject"]
		delete(c.given, "subject")
		out = append(out, c)
	}
	return out
}

func packNode(t *testing.T, file string) strictyaml.Node {
	t.Helper()
	data, err := fs.ReadFile(packs.FS(), file)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := strictyaml.Parse(file, data, len(data))
	if err != nil {
		t.Fatal(err)
	}
	return doc.Root()
}

// texts are the values of a mapping as written.
func texts(n strictyaml.Node) map[string]string {
	out := make(map[string]string)
	for _, pair := range n.Pairs() {
		if text, ok := pair.Value.Text(); ok {
			out[pair.Name] = text
		}
	}
	return out
}

// facts are what the case gives.
func (c *packCase) facts(t *testing.T) *rules.Facts {
	t.Helper()
	facts, err := inspect.Vocabulary().NewFacts(c.subject, "x")
	if err != nil {
		t.Fatalf("%s: %v", c.at, err)
	}
	for name, text := range c.given {
		if err := facts.SetText(name, text); err != nil {
			t.Fatalf("%s: %v", c.at, err)
		}
	}
	return facts
}

// just is how near to a bound a case has to come: the step that a gauge, a scale or
// a calendar shows (common practice).
var just = map[string]string{
	"length": "1/64 in", "pressure": "1 psi", "mass": "1 kg", "speed": "1 mph", "age": "1 month", "standing": "1 day", "torque": "1 ft-lb", "count": "1",
}

// quantity is a number with its unit, as a rule writes its bound.
var quantity = regexp.MustCompile(`^[0-9][0-9.,/]* ([A-Za-z]+)$`)

// TestCasesAtEachEdge: each rule that holds a quantity to a bound has a case at it,
// one just under it and one just over it, in the unit that its source writes it in.
func TestCasesAtEachEdge(t *testing.T) {
	edges := 0
	for _, name := range packs.Names() {
		program, err := inspect.CompilePacks(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		stated := packNode(t, name+".yaml").Map("pack", "format", "title", "about", "edition", "for", "scope", "extends", "drop", "change", "rules").Get("rules")
		near := make(map[string]*[3]bool) // of each rule: just under, at, just over
		for _, c := range packCases(t, name) {
			found, err := program.AppendRun(nil, c.facts(t))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range found {
				rule, m := f.Rule, f.Rule.Measure().Measure()
				if m.Flag || len(m.Words) > 0 {
					continue
				}
				sides := near[rule.ID()]
				if sides == nil {
					sides = new([3]bool)
					near[rule.ID()] = sides
				}
				low, high, ok := f.Value.Interval()
				least, most, bounded := f.Bound().Interval()
				if c.expect[rule.ID()] == "" || !ok || !bounded || low != high || least != most || !inUnitOf(c.given[m.Name], boundOf(stated, rule.ID())) {
					continue
				}
				step, err := m.Dimension.Parse(just[m.Dimension.Name])
				if err != nil {
					t.Fatalf("%s: how near is just under, in %s? %v", rule.Name(), m.Dimension.Name, err)
				}
				switch by := low - least; {
				case by == 0:
					sides[1] = true
					sides[0] = sides[0] || least == 0 // nothing is less than nothing
				case by < 0 && by >= -step:
					sides[0] = true
				case by > 0 && by <= step:
					sides[2] = true
				}
			}
		}
		for _, rule := range program.Rules() {
			if m := rule.Measure().Measure(); m.Flag || len(m.Words) > 0 {
				continue
			}
			edges++
			sides := near[rule.ID()]
			for i, where := range [...]string{"just under", "at", "just over"} {
				if sides == nil || !sides[i] {
					t.Errorf("%s: no case %s its bound in the unit that it is written in", rule.Name(), where)
				}
			}
		}
	}
	if edges < 100 {
		t.Errorf("only %d rules with a bound were looked at", edges)
	}
}

// boundOf is the bound of a rule as its pack writes it.
func boundOf(stated strictyaml.Node, id string) string {
	for _, pair := range stated.Pairs() {
		if pair.Name != id {
			continue
		}
		for _, key := range pair.Value.Pairs() {
			switch text, ok := key.Value.Text(); key.Name {
			case "at_most", "less_than", "at_least", "more_than":
				if ok {
					return text
				}
			}
		}
	}
	return ""
}

// inUnitOf reports whether a value is written in the unit of a bound; a bound that
// is a share of something else has none, and years are counted in months and days
// too.
func inUnitOf(value, bound string) bool {
	b := quantity.FindStringSubmatch(bound)
	if b == nil || strings.HasPrefix(b[1], "year") || strings.HasPrefix(b[1], "day") {
		return true
	}
	v := quantity.FindStringSubmatch(value)
	return v != nil && v[1] == b[1]
}

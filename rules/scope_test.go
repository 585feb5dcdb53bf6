package rules_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"axleend.example/rules"
)

// scoped is a pack with one rule, for what its scope says.
func scoped(name, scope string) string {
	return "pack: " + name + "\nformat: 1\ntitle: t\nedition: as of 2026\nscope: " + scope + `
rules:
  pull-` + name + `: {title: t, subject: hose, measure: weight, at_most: 9 lb, action: watch, advice: a, source: {grade: computed}}
`
}

const (
	heavyScope = "{valve: {pull: {more_than: 3 lb}}}"
	lightScope = "{valve: {pull: {at_most: 3 lb}}}"
)

// valveFacts are of a valve with that pull; empty for none recorded.
func valveFacts(t *testing.T, v *rules.Vocabulary, pull string) *rules.Facts {
	t.Helper()
	f, err := v.NewFacts("valve", "v")
	if err != nil {
		t.Fatal(err)
	}
	if pull != "" {
		if err := f.SetText("pull", pull); err != nil {
			t.Fatal(err)
		}
	}
	return f
}

// Only what is certain leaves a pack out: of two packs for scopes that leave no
// gap, one or both are run whatever is known.
func TestWithin(t *testing.T) {
	v := hosed(t)
	program := compiled(t, v, scoped("heavy", heavyScope), scoped("light", lightScope))
	for _, test := range []struct {
		pull string
		want []string
	}{
		{"", []string{"heavy", "light"}},
		{"3 lb", []string{"light"}},
		{"4 lb", []string{"heavy"}},
		{"3 lb +/- 1 lb", []string{"heavy", "light"}},
		{"at most 4 lb", []string{"heavy", "light"}},
		{"at most 3 lb", []string{"light"}},
		{"at least 4 lb", []string{"heavy"}},
	} {
		within, found, err := program.Within(valveFacts(t, v, test.pull))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(test.want, within.Packs()); diff != "" {
			t.Errorf("%q: packs (-want +got)\n%s", test.pull, diff)
		}
		if len(test.want) == 2 && within != program {
			t.Errorf("%q: another program although nothing is left out", test.pull)
		}
		if again, _, err := program.Within(valveFacts(t, v, test.pull)); err != nil || again != within {
			t.Errorf("%q: put together anew for the same valve: %v", test.pull, err)
		}
		if len(found) != 2 {
			t.Fatalf("%q: %+v", test.pull, found)
		}
		for _, f := range found {
			in := slices.Contains(test.want, f.Pack)
			if in == (f.Verdict == rules.Breached) || (f.Verdict == rules.NotRecorded) != (len(test.want) == 2) ||
				(len(f.ToRecord) == 1) != (f.Verdict == rules.NotRecorded) || f.Subject != "valve" {
				t.Errorf("%q: %+v", test.pull, f)
			}
		}
	}
	// Facts on another subject tell nothing, and those of nobody are refused.
	if within, _, err := program.Within(); err != nil || within != program {
		t.Errorf("no facts: %v", err)
	}
	if _, _, err := program.Within(nil); !errors.Is(err, rules.ErrFacts) {
		t.Errorf("nil facts: %v", err)
	}
}

// A pack takes over the scope of the rules that it takes over, unless it states
// its own.
func TestScopeOfExtended(t *testing.T) {
	v := hosed(t)
	taken := "pack: taken\ntitle: t\nextends: [heavy]\nchange:\n  pull-heavy: {action: stop, source: {grade: computed}}\n"
	own := "pack: own\ntitle: t\nextends: [heavy]\nscope: " + lightScope + "\n"
	for _, test := range []struct {
		extends string
		light   int // rules left for a valve of 1 lb
	}{{taken, 0}, {own, 1}} {
		program := compiled(t, v, scoped("heavy", heavyScope), test.extends)
		within, _, err := program.Within(valveFacts(t, v, "1 lb"))
		if err != nil || len(within.Rules()) != test.light {
			t.Errorf("%v, %d rules of\n%s", err, len(within.Rules()), test.extends)
		}
	}
}

func TestScopeRefused(t *testing.T) {
	for _, test := range []struct{ scope, want string }{
		{"{}", "conditions on one subject"},
		{"{valve: {}}", "no condition"},
		{"{valve: {pull: 1 lb}, hose: {weight: 1 lb}}", "conditions on one subject"},
		{"{Valve: {pull: 1 lb}}", "misspelled"},
		{"{valves: {pull: 1 lb}}", `did you mean "valve"`},
		{"{valve: {pul: 1 lb}}", `did you mean "pull"`},
		{"{valve: {pull: 1 year}}", "wrong dimension"},
		{"valve", "want"},
	} {
		p, _ := rules.ReadPack("p.yaml", []byte(scoped("p", test.scope)))
		_, err := rules.Compile(hosed(t), p)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: got %v, want %q", test.scope, err, test.want)
		}
	}
}

func ExampleProgram_Within() {
	vocabulary, err := rules.NewVocabulary(valves())
	if err != nil {
		fmt.Println(err)
		return
	}
	pack, err := rules.ReadPack("rubber-care.yaml", []byte(`format: 1
pack: rubber-care
title: Rubber stems
edition: as of 2026
scope: {valve: {stem: rubber}}
rules:
  leak: {title: leaks, subject: valve, measure: bubbles, is: no, action: stop, advice: Replace it., source: {grade: invented, title: made up}}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	program, err := rules.Compile(vocabulary, pack)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(pack.Edition() + "; for: " + pack.Scope())
	for _, stem := range []string{"metal", ""} {
		facts, err := vocabulary.NewFacts("valve", "left front")
		if err == nil && stem != "" {
			err = facts.SetText("stem", stem)
		}
		if err != nil {
			fmt.Println(err)
			return
		}
		within, found, err := program.Within(facts)
		fmt.Println(len(within.Rules()), found[0].Verdict, found[0].ToRecord, err)
	}
	// Output:
	// as of 2026; for: stem rubber
	// 0 breached [] <nil>
	// 1 not recorded [stem] <nil>
}

// What stands beside a program takes nothing from it and comes once.
func TestWith(t *testing.T) {
	v := hosed(t)
	heavy, light := compiled(t, v, scoped("heavy", heavyScope)), compiled(t, v, scoped("light", lightScope))
	both, err := heavy.With(light, heavy, light)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"heavy", "light"}, both.Packs()); diff != "" || len(both.Rules()) != 2 {
		t.Errorf("%s, %d rules", diff, len(both.Rules()))
	}
	if same, err := both.With(light); err != nil || same != both {
		t.Errorf("another program although nothing is added: %v", err)
	}
	facts, err := v.NewFacts("hose", "h")
	if err != nil {
		t.Fatal(err)
	}
	if err := facts.SetText("weight", "10 lb"); err != nil {
		t.Fatal(err)
	}
	found, err := both.AppendRun(nil, facts)
	if err != nil || len(found) != 2 || found[0].Verdict != rules.Breached || found[1].Verdict != rules.Breached {
		t.Errorf("%v, %+v", err, found)
	}
	for _, other := range []*rules.Program{nil, compiled(t, hosed(t), scoped("light", lightScope))} {
		if _, err := heavy.With(other); !errors.Is(err, rules.ErrVocabulary) {
			t.Errorf("got %v", err)
		}
	}
}

func ExampleProgram_With() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	pack, err := rules.ReadPack("yard.yaml", []byte("format: 1\npack: yard\ntitle: Our own\nrules:\n"+
		"  cap: {title: pulls, subject: valve, measure: pull, at_most: 2 lb, action: watch, advice: Look., source: {grade: invented, title: made up}}\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	own, err := rules.Compile(program.Vocabulary(), pack)
	if err != nil {
		fmt.Println(err)
		return
	}
	both, err := program.With(own)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(both.Packs(), len(both.Rules())-len(program.Rules()))
	// Output: [valve-care yard] 1
}

// hosed is the vocabulary of valves with a second subject.
func hosed(t *testing.T) *rules.Vocabulary {
	t.Helper()
	d := valves()
	d.Subjects = append(d.Subjects, rules.Subject{Name: "hose", Doc: "a hose", Measures: []rules.Measure{
		{Name: "weight", Doc: "what it weighs", Dimension: whole("force", "lb")},
	}})
	v, err := rules.NewVocabulary(d)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

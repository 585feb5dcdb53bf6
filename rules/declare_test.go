package rules_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"axleend.example/rules"
)

// shop declares a measure of each kind, and has a rule on each.
func shop(name, takes string) string {
	return `pack: ` + name + `
title: A made-up shop
measures:
  valve:
    hue: {means: the color of its cap, takes: ` + takes + `}
    soaped: {means: whether soap was put on it, takes: yes or no}
    fizz: {means: how far it fizzes, takes: count}
    worn_share: {means: how much of it is worn, takes: share}
rules:
  ` + name + `-soap: {title: t, subject: valve, measure: fizz, where: {soaped: yes}, at_most: "2", action: stop, advice: a, source: {grade: invented, title: s}}
  ` + name + `-hue: {title: t, subject: valve, measure: hue, is: green, action: watch, advice: a, source: {grade: invented, title: s}}
  ` + name + `-worn: {title: t, subject: valve, measure: worn_share, at_most: 50 %, action: watch, advice: a, source: {grade: invented, title: s}}
`
}

const hues = "[green, black]"

// verdicts judges one valve, by the names of its measures.
func verdicts(t testing.TB, p *rules.Program, values map[string]string) string {
	t.Helper()
	f, err := p.Vocabulary().NewFacts("valve", "left front")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range values {
		if err := f.SetText(name, text); err != nil {
			t.Fatal(err)
		}
	}
	all, err := p.Run(f)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for x := range all {
		out = append(out, x.Rule.Name()+" "+x.Verdict.String())
	}
	return strings.Join(out, "\n")
}

// TestDeclaredMeasures: rules of a pack judge what the pack declares, and what
// nobody recorded of it is not recorded.
func TestDeclaredMeasures(t *testing.T) {
	v := mustVocabulary(t)
	p := compiled(t, v, shop("shop", hues))
	for _, x := range []struct {
		values map[string]string
		want   string
	}{
		{map[string]string{"hue": "green", "soaped": "yes", "fizz": "3", "worn_share": "50 %"}, "shop/shop-soap breached\nshop/shop-hue kept\nshop/shop-worn kept"},
		{map[string]string{"hue": "black", "soaped": "no", "worn_share": "50.0001 %"}, "shop/shop-hue breached\nshop/shop-worn breached"},
		{nil, "shop/shop-soap not recorded\nshop/shop-hue not recorded\nshop/shop-worn not recorded"},
	} {
		if got := verdicts(t, p, x.values); got != x.want {
			t.Errorf("%v: %s, want %s", x.values, got, x.want)
		}
	}
	if _, err := v.Measure("valve", "hue"); !errors.Is(err, rules.ErrName) {
		t.Errorf("the vocabulary that was given has it: %v", err)
	}
}

// TestDeclaredBeside: however programs with measures of their own are brought
// together, they judge as if they were compiled together, and facts of the vocabulary
// that they have in common go on working.
func TestDeclaredBeside(t *testing.T) {
	v := mustVocabulary(t)
	a, b, base := shop("a-shop", hues), strings.Replace(shop("b-shop", hues), "takes: count", "takes: share", 1), baseText
	b = strings.Replace(strings.ReplaceAll(b, "fizz", "froth"), `at_most: "2"`, "at_most: 2 %", 1)
	all := map[string]string{"stem_age": "7 years", "hue": "black", "soaped": "yes", "fizz": "3", "froth": "1 %", "worn_share": "60 %", "pull": "3 lb"}
	want := verdicts(t, compiled(t, v, base, a, b), all)
	with := func(first string, rest ...string) *rules.Program {
		others := make([]*rules.Program, len(rest))
		for i, text := range rest {
			others[i] = compiled(t, v, text)
		}
		p, err := compiled(t, v, first).With(others...)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if got := verdicts(t, with(base, a, b), all); got != want {
		t.Errorf("beside each other:\n%s\nwant\n%s", got, want)
	}
	p, err := with(base, a).With(with(b, base))
	if err != nil || verdicts(t, p, all) != want {
		t.Errorf("twice beside each other: %v\n%s\nwant\n%s", err, verdicts(t, p, all), want)
	}
	// Two packs of the other program declare the same.
	if p, err = compiled(t, v, base).With(compiled(t, v, a, b)); err != nil || verdicts(t, p, all) != want {
		t.Errorf("both beside it: %v", err)
	}
	old, err := v.NewFacts("valve", "of the vocabulary that was given")
	if err != nil {
		t.Fatal(err)
	}
	if err := old.SetText("stem_age", "7 years"); err != nil {
		t.Fatal(err)
	}
	if found, err := p.AppendRun(nil, old); err != nil || found[0].Verdict != rules.Breached || len(found) != len(p.Rules()) {
		t.Errorf("%v, %+v", err, found)
	}
	if again, err := p.With(p, with(base, b)); err != nil || again != p {
		t.Errorf("what is there is added again: %v", err)
	}
}

// TestDeclaredOtherwise: one name is one measure.
func TestDeclaredOtherwise(t *testing.T) {
	v := mustVocabulary(t)
	one, other := shop("a-shop", hues), shop("b-shop", "[green, red]")
	if _, err := rules.Compile(v, loaded(t, one, other)...); !errors.Is(err, rules.ErrTwice) || !strings.Contains(err.Error(), "takes green, black") {
		t.Errorf("compiled together: %v", err)
	}
	if _, err := compiled(t, v, one).With(compiled(t, v, other)); !errors.Is(err, rules.ErrVocabulary) || !errors.Is(err, rules.ErrTwice) {
		t.Errorf("beside each other: %v", err)
	}
	if _, err := compiled(t, v, one).With(compiled(t, mustVocabulary(t), other)); !errors.Is(err, rules.ErrVocabulary) {
		t.Errorf("of another vocabulary: %v", err)
	}
	var many strings.Builder
	for i := range 201 {
		fmt.Fprintf(&many, "    m%d: {means: m, takes: yes or no}\n", i)
	}
	_, err := rules.ReadPack("p.yaml", []byte("pack: p\nformat: 1\ntitle: t\nmeasures:\n  valve:\n"+many.String()+strings.SplitN(baseText, "\n", 3)[2]))
	if !errors.Is(err, rules.ErrLimit) {
		t.Errorf("201 measures: %v", err)
	}
}

// TestDeclaredInCases: the cases of a pack may speak of what it declares.
func TestDeclaredInCases(t *testing.T) {
	cases, err := rules.ReadCases("shop.cases.yaml", []byte(`cases: shop
format: 1
list:
  - {given: {subject: valve, hue: black, soaped: no}, expect: {shop-hue: watch, shop-soap: does not apply}, source: {grade: common practice}}
`))
	if err != nil {
		t.Fatal(err)
	}
	report, err := rules.CheckCases(mustVocabulary(t), loaded(t, shop("shop", hues)), cases)
	if err != nil || len(report.Failures) != 0 || report.Cases != 1 {
		t.Errorf("%+v, %v", report, err)
	}
}

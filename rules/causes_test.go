package rules_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/rules"
)

// TestCausesAndTasks: a rule keeps its causes in their order and its tasks; a
// change replaces them whole or leaves them; the vocabulary must know a task.
func TestCausesAndTasks(t *testing.T) {
	d := valves()
	d.Tasks = []rules.Task{{Name: "weld", Doc: "metal is joined by heat"}}
	v, err := rules.NewVocabulary(d)
	if err != nil {
		t.Fatal(err)
	}
	if v, err = v.Extend(rules.Definition{Tasks: []rules.Task{{Name: "drill", Doc: "a hole is made"}}}); err != nil {
		t.Fatal(err)
	}
	if got := v.Definition().Tasks; len(got) != 2 || got[0].Name != "weld" || got[1].Name != "drill" {
		t.Errorf("tasks %+v", got)
	}
	base := `format: 1
pack: base
title: t
rules:
  age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: See to it., source: {grade: computed}, causes: [old rubber, ozone], involves: [weld, drill]}
`
	shop := `format: 1
pack: shop
title: t
extends: [base]
change: {age: {source: {grade: computed}%s}}
`
	for _, x := range []struct {
		change           string
		causes, involves []string
	}{
		{"", []string{"old rubber", "ozone"}, []string{"weld", "drill"}},
		{", causes: [sun]", []string{"sun"}, []string{"weld", "drill"}},
	} {
		files := fstest.MapFS{"base.yaml": {Data: []byte(base)}, "shop.yaml": {Data: []byte(strings.Replace(shop, "%s", x.change, 1))}}
		packs, err := rules.Load(files, "shop")
		if err != nil {
			t.Fatal(err)
		}
		p, err := rules.Compile(v, packs...)
		if err != nil {
			t.Fatal(err)
		}
		r := p.Rules()[0]
		if !slices.Equal(r.Causes(), x.causes) || !slices.Equal(r.Tasks(), x.involves) {
			t.Errorf("%q: causes %q, involves %q", x.change, r.Causes(), r.Tasks())
		}
		if want := "See to it. Possible causes, likeliest first: " + strings.Join(x.causes, "; ") + "."; !strings.HasSuffix(r.Sentence(), want) {
			t.Errorf("%s\nwant at its end: %s", r.Sentence(), want)
		}
		if !r.Involves(x.involves[0]) || r.Involves("saw") {
			t.Errorf("%q does not tell its tasks", x.change)
		}
		r.Causes()[0], r.Tasks()[0] = "spoiled", "spoiled"
		if !slices.Equal(r.Causes(), x.causes) || !slices.Equal(r.Tasks(), x.involves) {
			t.Error("a caller changed the rule")
		}
	}
	pack, err := rules.ReadPack("shop.yaml", []byte(strings.Replace(shop, "%s", ", involves: [drill]", 1)))
	if want := "5:53: change.age.involves: contradiction: a change cannot alter what the advice involves"; err == nil || !strings.Contains(err.Error(), want) || pack.Name() != "shop" {
		t.Errorf("a change of what is involved: %v, want %q", err, want)
	}
	for _, x := range []struct{ key, want string }{
		{"causes: []", "wrong shape: nothing in causes"},
		{"causes: ozone", "wrong shape"},
		{"causes: [a, a]", `"a"`},
		{"involves: []", "wrong shape: nothing in involves"},
		{"involves: [Weld]", "want lower-case letters"},
		{"involves: [weld, weld]", `"weld"`},
		{"involves: [wled]", `task "wled": did you mean "weld"?`},
	} {
		text := "format: 1\npack: base\ntitle: t\nrules: {age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}, " + x.key + "}}\n"
		pack, _ := rules.ReadPack("base.yaml", []byte(text))
		if _, err := rules.Compile(v, pack); err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s: %v, want %q", x.key, err, x.want)
		}
	}
}

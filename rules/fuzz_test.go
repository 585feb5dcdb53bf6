package rules_test

import (
	"errors"
	"os"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// Whatever the file: no panic; an error is problems with places; a program
// has rules with sources, and judges.
func FuzzReadPack(f *testing.F) {
	sample, err := os.ReadFile("testdata/valve-care.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sample)
	f.Add([]byte(baseText))
	f.Add([]byte(provedText))
	f.Add([]byte(otherText))
	f.Add([]byte(withFormat(shop("shop", hues))))
	f.Add([]byte(manyRules("many", 2)))
	for _, make := range hostile() {
		f.Add([]byte(make(200)))
	}
	v := mustVocabulary(f)
	base := loaded(f, baseText)[0]
	f.Fuzz(func(t *testing.T, data []byte) {
		p, loading := rules.ReadPack("p.yaml", data)
		program, err := rules.Compile(v, base, p)
		if err == nil && loading != nil {
			t.Fatal("a pack that did not load compiles")
		}
		if err != nil {
			var all *origin.Problems
			if !errors.As(err, &all) || all.Len() == 0 {
				t.Fatalf("no problems: %v", err)
			}
			for _, problem := range all.All() {
				if problem.Code == "" || problem.Err == nil || problem.Position.File == "" {
					t.Fatalf("%+v", problem)
				}
			}
			return
		}
		facts, err := v.NewFacts("valve", "v")
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{"stem rubber", "stem_age 5 years", "position inner", "extended yes", "pull 3 lb +/- 1 lb", "valves 2"} {
			for i := range text {
				if text[i] == ' ' {
					if err := facts.SetText(text[:i], text[i+1:]); err != nil {
						t.Fatal(err)
					}
					break
				}
			}
		}
		for _, r := range program.Rules() {
			if len(r.Sources()) == 0 || r.Title() == "" || r.Advice() == "" || r.Sentence() == "" || r.Position().Line == 0 {
				t.Fatalf("%+v", r)
			}
		}
		findings, err := program.AppendRun(nil, facts)
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range rules.Merge(findings) {
			j.Action()
			for _, f := range j.Findings {
				if f.Verdict < rules.Kept || f.Verdict > j.Verdict || f.BoundText() == "" {
					t.Fatalf("%+v", f)
				}
			}
		}
	})
}

func FuzzReadCases(f *testing.F) {
	sample, err := os.ReadFile("testdata/valve-care.cases.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sample)
	f.Add([]byte("cases: proved\nlist:\n" + line("subject: valve, stem: metal", "age: does not apply")))
	v := mustVocabulary(f)
	packs := loaded(f, baseText, provedText)
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := rules.ReadCases("c.yaml", data)
		if err != nil {
			var all *origin.Problems
			if !errors.As(err, &all) || all.Len() == 0 {
				t.Fatalf("no problems: %v", err)
			}
			return
		}
		if _, err := rules.CheckCases(v, packs, c); err != nil {
			var all *origin.Problems
			if !errors.As(err, &all) || all.Len() == 0 {
				t.Fatalf("no problems: %v", err)
			}
		}
	})
}

// What reads as a value is written so that it reads as the same value.
func FuzzValueText(f *testing.F) {
	for _, s := range []string{"3 lb", "3 lb +/- 1 lb", "3 lb ± 1 lb", "-3 lb to 8 lb", "9223372036854775807 lb +/- 9 lb", "x",
		"at most 3 lb", "at least 3 lb +/- 1 lb", "at least 3 lb, at most 8 lb", "at most 3 lb to 8 lb", "at most at least 3 lb"} {
		f.Add(s)
	}
	v := mustVocabulary(f)
	m, err := v.Measure("valve", "pull")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		val, err := m.Parse(text)
		if err != nil {
			return
		}
		again, err := m.Parse(m.Text(val))
		if err != nil || again != val {
			t.Fatalf("%q is %v, written %q, read %v, %v", text, val, m.Text(val), again, err)
		}
	})
}

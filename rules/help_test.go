package rules_test

import (
	"strings"
	"testing"

	"axleend.example/rules"
)

func mustVocabulary(t testing.TB) *rules.Vocabulary {
	t.Helper()
	v, err := rules.NewVocabulary(valves())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func loaded(t testing.TB, texts ...string) []rules.Pack {
	t.Helper()
	var packs []rules.Pack
	for _, text := range texts {
		p, err := rules.ReadPack("test.yaml", []byte(withFormat(text)))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		packs = append(packs, p)
	}
	return packs
}

func compiled(t testing.TB, v *rules.Vocabulary, texts ...string) *rules.Program {
	t.Helper()
	p, err := rules.Compile(v, loaded(t, texts...)...)
	if err != nil {
		t.Fatalf("%v in\n%s", err, texts)
	}
	return p
}

const baseText = `pack: base
title: Base
rules:
  age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}
  load: {title: t, subject: valve, measure: pull, at_most: pull_rating, action: stop, advice: a, source: {grade: computed}}
`

const otherText = `pack: other
title: Other
extends: [base]
change:
  age: {at_most: 4 years, action: watch, source: {grade: common practice}}
`

// withFormat says the format at the end of a text that does not, where it moves
// no line.
func withFormat(text string) string {
	end := strings.TrimRight(text, " \n")
	switch {
	case strings.Contains(text, "format"), !strings.Contains(text, ": "): // or no mapping
		return text
	case strings.HasPrefix(text, "{") && strings.HasSuffix(end, "}"):
		return end[:len(end)-1] + `, "format": 1}`
	case strings.HasPrefix(text, "{"):
		return text
	}
	return text + "\nformat: 1\n"
}

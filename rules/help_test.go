package rules_test

import (
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
		p, err := rules.LoadPack("test.yaml", []byte(withFormat(text)))
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

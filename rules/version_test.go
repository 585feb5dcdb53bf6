package rules_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// A pack or cases of a newer format are refused for that, whatever else they
// hold; so is a file that names no version.
func TestFormatVersion(t *testing.T) {
	const rule = "title: T\nrules: {r: {title: R, subject: s, measure: m, at_most: 1, action: a, advice: A, source: {grade: computed}}}\n"
	const list = "list: [{given: {subject: s}, expect: {r: kept}, source: {grade: computed}}]\n"
	for text, ok := range map[string]bool{
		"":             false,
		"format: 1\n":  true,
		"format: 2\n":  false,
		"format: 0\n":  false,
		"format: 01\n": false,
		"format: v1\n": false,
	} {
		_, err := rules.ReadPack("p.yaml", []byte("pack: p\n"+text+rule))
		if (err == nil) != ok || !ok && text != "" && !errors.Is(err, rules.ErrVersion) {
			t.Errorf("a pack with %q: %v", text, err)
		}
		_, err = rules.ReadCases("p.cases.yaml", []byte("cases: p\n"+text+list))
		if (err == nil) != ok || !ok && text != "" && !errors.Is(err, rules.ErrVersion) {
			t.Errorf("cases with %q: %v", text, err)
		}
	}
	_, err := rules.ReadPack("p.yaml", []byte("pack: p\nformat: 2\n"+rule))
	if want := `p.yaml:2:9: format: unknown version "2" of the format of packs: want 1; a newer file needs a newer program`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// Every shipped file says which format it is in.
func TestShippedFilesSayTheirFormat(t *testing.T) {
	names, err := fs.Glob(packs.FS(), "*.yaml")
	if err != nil || len(names) < 8 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(packs.FS(), name)
		if err != nil || !strings.Contains("\n"+string(data), "\nformat: 1\n") {
			t.Errorf("%s: no format: 1 (%v)", name, err)
		}
	}
}

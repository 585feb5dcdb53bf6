package packs_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/packs"
)

func Example() {
	shipped, err := rules.Load(packs.FS(), packs.Default()...)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range shipped {
		fmt.Println(p.Name())
	}
	// Output:
	// coach-care
	// dual-matching
	// label
	// servicing-safety
}

// Every shipped pack is readable by itself, says what it is about, and has its
// cases beside it. What its rules mean is for those who have the vocabulary.
func TestShipped(t *testing.T) {
	names := packs.Names()
	for _, name := range packs.Default() {
		if !slices.Contains(names, name) {
			t.Errorf("the default pack %s is not there", name)
		}
	}
	for _, name := range names {
		loaded, err := rules.Load(packs.FS(), name)
		if err != nil {
			t.Error(err)
			continue
		}
		if p := loaded[len(loaded)-1]; p.Name() != name || p.Title() == "" || p.About() == "" {
			t.Errorf("%s: %q, %q, %q", name, p.Name(), p.Title(), p.About())
		}
		if c, err := rules.LoadCases(packs.FS(), name); err != nil || c.Pack() != name {
			t.Errorf("cases of %s: %q, %v", name, c.Pack(), err)
		}
	}
	for _, name := range []string{"pack.schema.json", "cases.schema.json"} {
		data, err := fs.ReadFile(packs.FS(), name)
		if err != nil || !json.Valid(data) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

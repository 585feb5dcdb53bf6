// Package packs holds the rule packs that are shipped, as files: each NAME.yaml
// is a pack, NAME.cases.yaml the cases that prove it, NAME.clauses.yaml what its
// sources say, clause by clause, and the schemas are for editors.
//
//	shipped, err := rules.Load(packs.FS(), packs.Default()...)
//	program, err := rules.Compile(vocabulary, shipped...)
//	for _, name := range packs.Names() { ... }
//
// The format is described in package rules.
package packs

import (
	_ "embed"
	"io/fs"
	"strings"
)

//go:embed starter/my-shop.yaml
var starterPack string

//go:embed starter/my-shop.cases.yaml
var starterCases string

// Starter returns a pack to begin with and its cases, under a name of the
// caller's: one rule, with a comment at each key, and cases that pass. A name
// that a pack cannot have gives files that do not load.
func Starter(name string) (pack, cases string) {
	return strings.ReplaceAll(starterPack, "my-shop", name), strings.ReplaceAll(starterCases, "my-shop", name)
}

// FS returns the shipped files: packs, cases, clauses and schemas, all at the
// top; compiled for a browser the packs alone, which is what judging needs. It is
// read-only and safe for concurrent use.
func FS() fs.FS { return files }

// Names returns the names of all shipped packs in order, ready for rules.Load.
func Names() []string {
	entries, err := files.ReadDir(".")
	if err != nil {
		return nil // the embedded top folder is always there
	}
	var out []string
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), ".yaml")
		if ok && !strings.Contains(name, ".") {
			out = append(out, name)
		}
	}
	return out
}

// Default returns the names of the packs that are used unless others are
// asked for.
func Default() []string {
	return []string{"coach-care", "dual-matching", "label", "servicing-safety"}
}

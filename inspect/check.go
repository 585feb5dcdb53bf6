package inspect

import (
	"errors"
	"io/fs"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// CheckPack reads the pack of that name and its cases from fsys, with packs
// that it extends from there or from the shipped ones, and runs the cases. If
// the pack has a list of its sources' clauses, it is held to that too.
// The error is an [*origin.Problems] of all that is wrong with the files.
func CheckPack(fsys fs.FS, name string) (rules.CaseReport, error) {
	list, err := rules.Load(packs.Behind(fsys), name)
	if err != nil {
		return rules.CaseReport{}, err
	}
	clauses, err := rules.LoadClauses(fsys, name)
	if err == nil {
		err = rules.CheckClauses(list[len(list)-1], clauses)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return rules.CaseReport{}, err
	}
	cases, err := rules.LoadCases(fsys, name)
	if err != nil {
		return rules.CaseReport{}, err
	}
	return rules.CheckCases(Vocabulary(), list, cases)
}

// DidYouMean returns the candidate that a mistyped word most likely meant, or ""
// when none is near.
func DidYouMean(word string, candidates []string) string { return strictyaml.Nearest(word, candidates) }

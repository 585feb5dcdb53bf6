package rules

import (
	"io/fs"

	"axleend.example/rules/origin"
)

// Cases is the file of cases that proves a pack.
type Cases struct{ pack string }

// Pack returns the name of the pack that the cases prove.
func (c Cases) Pack() string { return c.pack }

// LoadCases reads the cases of the pack named from the top of fsys: those of
// "valve-care" stand in valve-care.cases.yaml. The error is an
// *origin.Problems; it matches fs.ErrNotExist if the pack has no cases.
func LoadCases(fsys fs.FS, name string) (Cases, error) { panic("being written") }

// ParseCases reads cases from data; file is its name for positions. The error
// is an *origin.Problems.
func ParseCases(file string, data []byte) (Cases, error) { panic("being written") }

// A CaseReport is how the cases of a pack came out.
type CaseReport struct {
	Cases    int
	Failures []origin.Problem // of a [*CaseError] each, in order of the file
	Gaps     []Gap            // what no case covers, in order of the rules
}

// A CaseError is a case that did not come out as expected.
type CaseError struct {
	Rule      string
	Want, Got string // a verdict, an action, or "does not apply"
}

// Error gives rule, what was wanted and what came.
func (e *CaseError) Error() string { return "" }

// Unwrap returns [ErrCase].
func (e *CaseError) Unwrap() error { return ErrCase }

// A Gap is something of a rule of the pack that no case covers.
type Gap struct {
	Rule     string
	Missing  string // in words, such as "a case exactly at the bound"
	Position origin.Position
}

// CheckCases runs cases on the pack that they are for, which must be among
// packs, as must all that it extends. The error is an *origin.Problems: the
// packs do not compile, or a case speaks of what is not there.
func CheckCases(v *Vocabulary, packs []Pack, cases Cases) (CaseReport, error) {
	panic("being written")
}

package rules

import (
	"io/fs"

	"axleend.example/rules/origin"
)

// A Pack is a file of rules that was read, not yet held against a vocabulary.
// It is immutable. The zero Pack is none, and does not compile.
type Pack struct{ file *packFile }

type packFile struct {
	name, title, about string
	extends            []string
}

// Name returns the pack's name, such as "valve-care".
func (p Pack) Name() string { return p.file.name }

// Title returns the pack's one-line title.
func (p Pack) Title() string { return p.file.title }

// About returns the pack's longer description; it may be empty.
func (p Pack) About() string { return p.file.about }

// Extends returns the names of the packs that this one builds on.
func (p Pack) Extends() []string { return p.file.extends }

// A Loader reads packs and cases with limits of the caller's. Its zero value
// has the default limits, as the functions [Load], [LoadPack], [LoadCases] and
// [ParseCases] have them.
type Loader struct {
	MaxBytes int // most bytes of one file; 0 means 256 KiB
}

// Load reads the packs named from the top of fsys: "valve-care" is the file
// valve-care.yaml. Packs that they extend are read too where fsys has them.
// Each pack comes once, and after the packs that it extends. The error is an
// *origin.Problems with all that is wrong with all the files; even then the
// packs may be given to [Compile], which finds what else is wrong.
func Load(fsys fs.FS, names ...string) ([]Pack, error) { return Loader{}.Load(fsys, names...) }

// Load is the function [Load] within the loader's limits.
func (l Loader) Load(fsys fs.FS, names ...string) ([]Pack, error) { panic("being written") }

// LoadPack reads one pack from data; file is its name for positions. The
// error is an *origin.Problems with all that is wrong with it; even then the
// pack may be given to [Compile], which finds what else is wrong.
func LoadPack(file string, data []byte) (Pack, error) { return Loader{}.LoadPack(file, data) }

// LoadPack is the function [LoadPack] within the loader's limits.
func (l Loader) LoadPack(file string, data []byte) (Pack, error) { panic("being written") }

// A Rule is one compiled rule. It is immutable; its methods return copies.
type Rule struct{ id string }

// ID returns the rule's name within its pack, such as "stem-age".
func (r *Rule) ID() string { return r.id }

// Pack returns the name of the pack that the rule stands in: the one that
// changed it last, if any did.
func (r *Rule) Pack() string { return "" }

// Title returns in a few words what is wrong when the rule is breached.
func (r *Rule) Title() string { return "" }

// Advice returns what to do about a breach, in whole sentences.
func (r *Rule) Advice() string { return "" }

// Subject returns the name of the kind of subject that the rule is about.
func (r *Rule) Subject() string { return "" }

// Measure returns the measure that must keep the bound.
func (r *Rule) Measure() MeasureRef { return MeasureRef{} }

// Relation returns how the measure must stand to the bound.
func (r *Rule) Relation() Relation { return 0 }

// Action returns what is to be done about a breach.
func (r *Rule) Action() Action { return Action{} }

// Severity returns the action's place in the vocabulary: 0 is the worst.
func (r *Rule) Severity() int { return 0 }

// Sources returns where the rule comes from; there is at least one.
func (r *Rule) Sources() []origin.Source { return nil }

// Position returns where the rule stands.
func (r *Rule) Position() origin.Position { return origin.Position{} }

// Sentence says the whole rule in words.
func (r *Rule) Sentence() string { return "" }

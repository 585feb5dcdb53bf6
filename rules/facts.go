package rules

import (
	"fmt"
	"slices"

	"axleend.example/internal/strictyaml"
)

// Facts is what was recorded of one subject: one tire, say. It is filled by
// one goroutine; once filled, any number may run programs on it.
type Facts struct {
	vocabulary *Vocabulary
	subject    *subject
	measures   []*measure // of the subject
	index      int        // of the subject
	name       string
	values     []Value
	err        error
}

// NewFacts starts the record of one subject ("tire"), which the caller calls
// name ("left front"). Nothing is recorded yet. The error is a [*NameError].
func (v *Vocabulary) NewFacts(subject, name string) (*Facts, error) {
	i := v.subject(subject)
	if i < 0 {
		return nil, unknown(keySubject, subject, "", v.subjectNames())
	}
	s := v.subjects[i]
	return &Facts{vocabulary: v, subject: s, measures: s.measures, index: i, name: name,
		values: make([]Value, len(s.measures))}, nil
}

// Name returns the name that the caller gave.
func (f *Facts) Name() string { return f.name }

// Subject returns the name of the kind of subject.
func (f *Facts) Subject() string {
	if f.subject == nil {
		return ""
	}
	return f.subject.name
}

// has reports whether r is a measure of this very subject.
func (f *Facts) has(r MeasureRef) bool { return isOf(f.measures, r) }

func isOf(measures []*measure, r MeasureRef) bool {
	return int(r.index) < len(measures) && measures[r.index] == r.m
}

// Set records a value, or takes it back when v is the zero Value, and returns
// f. A measure of another subject or vocabulary, or a value that the measure
// cannot have, is not set; it is kept as the error that [Facts.Err] returns
// and that every run of f then reports.
func (f *Facts) Set(r MeasureRef, v Value) *Facts {
	if f.has(r) && r.kind == kindQuantity && v.form <= formBetween {
		f.values[r.index] = v
		return f
	}
	return f.setOther(r, v)
}

// setOther is Set for all but what is recorded most: quantities that fit.
func (f *Facts) setOther(r MeasureRef, v Value) *Facts {
	if !f.has(r) || !r.fits(v) {
		return f.refuse(r)
	}
	f.values[r.index] = v
	return f
}

func (f *Facts) refuse(r MeasureRef) *Facts {
	if f.err == nil {
		f.err = f.refusal(r)
	}
	return f
}

// SetFlags is [Facts.Set] for many flags: the i-th is yes where bit i of yes is
// 1, else no.
func (f *Facts) SetFlags(flags Flags, yes uint64) *Facts {
	if f.vocabulary == nil || flags.vocabulary != f.vocabulary || flags.subject != f.index {
		return f.setEach(flags, yes)
	}
	for i, r := range flags.refs {
		f.values[r.index] = Flag(yes>>uint(i)&1 != 0)
	}
	return f
}

// setEach is SetFlags where the flags are not known to be among those of f.
func (f *Facts) setEach(flags Flags, yes uint64) *Facts {
	if flags.vocabulary == nil {
		return f.Set(MeasureRef{}, Value{})
	}
	for i, r := range flags.refs {
		f.Set(r, Flag(yes>>uint(i)&1 != 0))
	}
	return f
}

// Flags are flags of one subject that are recorded together, 64 at most. The
// zero Flags are none, and cannot be recorded.
type Flags struct {
	vocabulary *Vocabulary
	subject    int
	refs       []MeasureRef
}

// Flags gathers flags to be recorded together. The error matches [ErrFacts]: for
// more than 64, for what is no flag of v, for flags of two subjects, and for one
// given twice.
func (v *Vocabulary) Flags(refs ...MeasureRef) (Flags, error) {
	out := Flags{vocabulary: v, refs: slices.Clone(refs)}
	if len(refs) > 64 {
		return Flags{}, fmt.Errorf("%w: %d flags: want 64 at most", ErrFacts, len(refs))
	}
	for i, r := range refs {
		switch {
		case r.m == nil || r.m.subject >= len(v.subjects) || !isOf(v.subjects[r.m.subject].measures, r):
			return Flags{}, fmt.Errorf("%w: flag %d: not a measure of this vocabulary", ErrFacts, i)
		case r.kind != kindFlag:
			return Flags{}, fmt.Errorf("%w: %s takes %s: want a flag", ErrFacts, r.m.Name, r.m.Takes())
		case r.m.subject != refs[0].m.subject:
			return Flags{}, fmt.Errorf("%w: %s is of another subject than %s", ErrFacts, r.m.Name, refs[0].m.Name)
		case slices.Contains(refs[:i], r):
			return Flags{}, fmt.Errorf("%w: %s is there twice", ErrFacts, r.m.Name)
		}
		out.subject = r.m.subject
	}
	return out, nil
}

func (f *Facts) refusal(r MeasureRef) error {
	switch {
	case r.m == nil:
		return fmt.Errorf("%w: %s %q: a measure that was not looked up", ErrFacts, f.Subject(), strictyaml.Clip(f.name))
	case !f.has(r):
		return fmt.Errorf("%w: %s %q: %s is a measure of another subject or vocabulary", ErrFacts, f.Subject(), strictyaml.Clip(f.name), r.m.Name)
	}
	return fmt.Errorf("%w: %s %q: a value that %s cannot have: want %s", ErrFacts, f.Subject(), strictyaml.Clip(f.name), r.m.Name, r.m.Takes())
}

// Get returns what is recorded, or the zero Value.
func (f *Facts) Get(r MeasureRef) Value {
	if !f.has(r) {
		return Value{}
	}
	return f.values[r.index]
}

// SetByName is [Facts.Set] for a measure given by name. Its error is returned
// and not kept: a [*NameError] with the nearest name, or one that matches
// [ErrFacts].
func (f *Facts) SetByName(measure string, v Value) error {
	m, err := f.measure(measure)
	if err != nil {
		return err
	}
	r := refTo(m)
	if !r.fits(v) {
		return f.refusal(r)
	}
	f.Set(r, v)
	return nil
}

// SetText records what [MeasureRef.Parse] reads, for a measure given by name.
// The error is a [*NameError] or comes from Parse.
func (f *Facts) SetText(measure, text string) error {
	m, err := f.measure(measure)
	if err != nil {
		return err
	}
	v, err := refTo(m).Parse(text)
	if err != nil {
		return err
	}
	f.Set(refTo(m), v)
	return nil
}

func (f *Facts) measure(name string) (*measure, error) {
	if f.subject == nil {
		return nil, fmt.Errorf("%w: not made by NewFacts", ErrFacts)
	}
	return f.subject.measure(name)
}

// Err returns the first thing that [Facts.Set] refused, or nil. It matches
// [ErrFacts].
func (f *Facts) Err() error { return f.err }

// Reset forgets everything and takes another name, to use the same memory for
// the next subject.
func (f *Facts) Reset(name string) {
	clear(f.values)
	f.name, f.err = name, nil
}

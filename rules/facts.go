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

// Clone returns facts of their own that say the same of the same subject.
func (f *Facts) Clone() *Facts {
	out := *f
	out.values = slices.Clone(f.values)
	return &out
}

// Reset forgets everything and takes another name, to use the same memory for
// the next subject.
func (f *Facts) Reset(name string) {
	clear(f.values)
	f.name, f.err = name, nil
}

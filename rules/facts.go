package rules

import (
	"fmt"

	"axleend.example/internal/strictyaml"
)

// Facts is what was recorded of one subject: one tire, say. It is filled by
// one goroutine; once filled, any number may run programs on it.
type Facts struct {
	vocabulary *Vocabulary
	subject    *subject
	index      int // of the subject
	name       string
	values     []Value
	no         []uint64 // a bit for each measure that is a flag and no
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
	return &Facts{vocabulary: v, subject: s, index: i, name: name,
		values: make([]Value, len(s.measures)), no: make([]uint64, bitWords(len(s.measures)))}, nil
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
func (f *Facts) has(r MeasureRef) bool {
	return r.m != nil && int(r.index) < len(f.values) && f.subject.measures[r.index] == r.m
}

// Set records a value, or takes it back when v is the zero Value, and returns
// f. A measure of another subject or vocabulary, or a value that the measure
// cannot have, is not set; it is kept as the error that [Facts.Err] returns
// and that every run of f then reports.
func (f *Facts) Set(r MeasureRef, v Value) *Facts {
	if f.has(r) && r.fits(v) {
		f.put(int(r.index), v)
	} else if f.err == nil {
		f.err = f.refusal(r)
	}
	return f
}

// SetFlags is [Facts.Set] for many flags: that of refs[i] is yes where bit i of
// yes is 1, else no.
func (f *Facts) SetFlags(refs []MeasureRef, yes uint64) *Facts {
	word, no := int32(0), uint64(0) // of f.no, in hand
	if len(f.no) > 0 {
		no = f.no[0]
	}
	for i, r := range refs {
		if !f.has(r) || r.kind != kindFlag {
			if f.err == nil {
				f.err = f.refusal(r)
			}
			continue
		}
		is := yes >> uint(i) & 1
		f.values[r.index] = Value{int64(is), int64(is), formFlag}
		if w := r.index / 64; w != word {
			f.no[word] = no
			word, no = w, f.no[w]
		}
		no = no&^(1<<(r.index%64)) | (is^1)<<(r.index%64)
	}
	if len(f.no) > 0 {
		f.no[word] = no
	}
	return f
}

func (f *Facts) put(i int, v Value) {
	f.values[i] = v
	bit := uint64(1) << (i % 64)
	if v.form == formFlag && v.low == 0 {
		f.no[i/64] |= bit
	} else {
		f.no[i/64] &^= bit
	}
}

// bitWords is how many words a bit for each of n takes.
func bitWords(n int) int { return (n + 63) / 64 }

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
	if !refTo(m).fits(v) {
		return f.refusal(refTo(m))
	}
	f.put(m.index, v)
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
	f.put(m.index, v)
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

// Reset takes everything back, and renames the subject, so that the same
// memory serves the next one.
func (f *Facts) Reset(name string) {
	clear(f.values)
	clear(f.no)
	f.name, f.err = name, nil
}

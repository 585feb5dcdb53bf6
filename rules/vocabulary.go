package rules

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"axleend.example/internal/quantity"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// A Dimension is a kind of quantity: how its text is read into a whole count
// of steps, and how a count is written. Two measures may be compared when
// their dimensions have the same Name. Parse must return an error for text
// without a unit that it needs; one that matches origin.ErrUnit is reported
// as a wrong dimension. Both functions must be safe for concurrent use.
type Dimension struct {
	Name   string                           // lower-case words joined by underscores, such as "length"
	Doc    string                           // what is counted and how it is written, such as "a length: 4/32 in, 3.2 mm"
	Parse  func(text string) (int64, error) // the count of a text with its unit, exactly
	Format func(n int64) string             // a text that Parse reads as n
	// Append, if there is one, appends what Format writes; it saves memory
	// where much is written.
	Append func(dst []byte, n int64) []byte
}

// Count returns the dimension "count": whole numbers of at most 18 digits,
// without a unit. Measures of this dimension may divide a bound.
func Count() Dimension {
	return Dimension{
		Name: countName, Doc: "a whole number: 6", Parse: parseCount,
		Format: func(n int64) string { return strconv.FormatInt(n, 10) },
	}
}

func parseCount(text string) (int64, error) {
	digits := strings.TrimPrefix(text, "-")
	whole := digits != "" && len(digits) <= 18 && strings.Trim(digits, "0123456789") == ""
	n, err := strconv.ParseInt(text, 10, 64)
	if !whole || err != nil {
		return 0, &origin.TextError{Kind: countName, Text: text, Want: "a whole number in digits only", Err: origin.ErrSyntax}
	}
	return n, nil
}

// Share returns the dimension "share": percentages, counted in steps of
// 0.0001 %, so that 100 % is 1,000,000.
func Share() Dimension {
	c := shareCodec()
	return Dimension{Name: "share", Doc: "a share: 80 %, 12.5 %", Parse: c.Parse, Format: c.String}
}

const (
	countName = "count"
	whole     = 1_000_000 // steps of a share in 100 %
)

func shareCodec() *quantity.Codec {
	return &quantity.Codec{
		Kind: "share", Want: "a percentage such as 80 % with at most four decimals", Min: -1 << 60,
		Units: []quantity.Unit{{Names: []string{"%"}, Steps: whole / 100}},
		Forms: []quantity.Form{{Places: 4, Grid: 1}},
	}
}

// A Measure is something that can be recorded of a subject. It is exactly one
// of three kinds: a quantity of a Dimension, one of up to 64 Words, or a Flag
// (yes or no).
type Measure struct {
	Name      string    // lower-case words joined by underscores, such as "tread_depth"
	Doc       string    // what is recorded and how it is taken
	Dimension Dimension // of a quantity; else zero
	Words     []string  // of a word: lower-case letters, digits, hyphens and underscores; else nil
	Flag      bool      // it is yes or no
}

// Takes says in words what may be recorded: the dimension's name, the words,
// or "yes or no".
func (m Measure) Takes() string {
	switch {
	case len(m.Words) > 0:
		return strings.Join(m.Words, ", ")
	case m.Flag:
		return "yes or no"
	}
	return m.Dimension.Name
}

// A Subject is a kind of thing that rules are about, such as a tire.
type Subject struct {
	Name     string    // lower-case words joined by underscores, such as "dual_pair"
	Doc      string    // what kind of thing it is
	Measures []Measure // what can be recorded of it
}

// An Action is what is to be done about a breach.
type Action struct {
	Name  string // lower-case words joined by underscores, such as "before_trip"; no verdict, and not "asked"
	Doc   string // when it is to be done
	Stops bool   // the vehicle is not to be driven before it is done
}

// A Definition is what a [Vocabulary] is made of. Actions stand in order of
// severity, the worst first.
type Definition struct {
	Subjects []Subject // what rules are about
	Actions  []Action  // the worst first; at least one
	Tasks    []Task    // what advice may involve; rules can name no other
}

// A Task is work that following an advice may take, and that is worth telling
// apart, such as taking a wheel off. Rules name theirs under involves.
type Task struct {
	Name string // lower-case words joined by underscores, such as "wheel_off"
	Doc  string // what is done
}

type kind uint8

const (
	kindQuantity kind = iota + 1
	kindWord
	kindFlag
)

// A measure never changes once made, and an extended vocabulary shares it
// with its base: its address is its identity.
type measure struct {
	Measure
	kind    kind
	subject int
	index   int
}

type subject struct {
	name, doc string
	measures  []*measure
	byName    map[string]*measure
}

// A Vocabulary says what rules may speak of: subjects, their measures, and
// the actions. It is immutable and may be used by any number of goroutines.
type Vocabulary struct {
	base     *Vocabulary // nil, or what was extended
	subjects []*subject
	actions  []Action
	tasks    []Task
}

// NewVocabulary checks d and keeps a copy of it. The error lists all that is
// missing, doubled or misspelled, and matches [ErrVocabulary].
func NewVocabulary(d Definition) (*Vocabulary, error) {
	return (&Vocabulary{}).extend(d, nil)
}

// Extend returns a vocabulary with more in it, and leaves v as it is: subjects
// with new names are added; a subject with a name that v has adds its measures
// to it (its Doc is left empty); actions come after, that is milder than,
// those of v; tasks are added. Measure references and facts of v go on working with the result.
// The error matches [ErrVocabulary].
func (v *Vocabulary) Extend(d Definition) (*Vocabulary, error) { return v.extend(d, v) }

func (v *Vocabulary) extend(d Definition, base *Vocabulary) (*Vocabulary, error) {
	out := &extension{Vocabulary: &Vocabulary{base: base, subjects: slices.Clone(v.subjects), actions: slices.Clone(v.actions), tasks: slices.Clone(v.tasks)}}
	for _, a := range d.Actions {
		out.addAction(a)
	}
	if len(out.actions) == 0 {
		out.bad("no action")
	}
	for _, k := range d.Tasks {
		out.addTask(k)
	}
	out.fresh = make(map[int]bool)
	for _, s := range d.Subjects {
		out.addSubject(s)
	}
	if len(out.errs) > 0 {
		return nil, errors.Join(out.errs...)
	}
	return out.Vocabulary, nil
}

// An extension is a vocabulary in the making.
type extension struct {
	*Vocabulary
	fresh map[int]bool // the subjects that are its own to add to
	errs  []error
}

func (x *extension) bad(format string, args ...any) {
	x.errs = append(x.errs, fmt.Errorf("%w: "+format, append([]any{ErrVocabulary}, args...)...))
}

func (x *extension) addAction(a Action) {
	switch {
	case !isName(a.Name, '_') || a.Name == Kept.String() || a.Name == Breached.String() || a.Name == wordAsked:
		x.bad("action %q: want a name of lower-case words joined by underscores that is no verdict and not asked", strictyaml.Clip(a.Name))
	case strings.TrimSpace(a.Doc) == "":
		x.bad("action %q has no doc", a.Name)
	case slices.Contains(x.actionNames(), a.Name):
		x.bad("action %q is there twice", a.Name)
	}
	x.actions = append(x.actions, a)
}

func (x *extension) addTask(k Task) {
	switch {
	case !isName(k.Name, '_'):
		x.bad("task %q: want a name of lower-case words joined by underscores", strictyaml.Clip(k.Name))
	case strings.TrimSpace(k.Doc) == "":
		x.bad("task %q has no doc", k.Name)
	case slices.Contains(x.taskNames(), k.Name):
		x.bad("task %q is there twice", k.Name)
	}
	x.tasks = append(x.tasks, k)
}

func (x *extension) addSubject(s Subject) {
	to := x.subjectFor(s)
	for _, m := range s.Measures {
		c := &measure{Measure: m, subject: x.subject(s.Name), index: len(to.measures)}
		c.Words = slices.Clone(m.Words)
		if why := c.check(to); why != "" {
			x.bad("measure %q of %s: %s", strictyaml.Clip(m.Name), strictyaml.Clip(s.Name), why)
		}
		to.measures = append(to.measures, c)
		to.byName[m.Name] = c
	}
}

// subjectFor returns the subject of that name to add measures to: a new one, or
// a copy of that which the base has.
func (x *extension) subjectFor(s Subject) *subject {
	i := x.subject(s.Name)
	switch {
	case i < 0:
		if !isName(s.Name, '_') {
			x.bad("subject %q: want a name of lower-case words joined by underscores", strictyaml.Clip(s.Name))
		} else if strings.TrimSpace(s.Doc) == "" {
			x.bad("subject %q has no doc", s.Name)
		}
		i = len(x.subjects)
		x.subjects = append(x.subjects, &subject{name: s.Name, doc: s.Doc, byName: make(map[string]*measure)})
	case x.fresh[i]:
		x.bad("subject %q is there twice", s.Name)
	default:
		old := x.subjects[i]
		if s.Doc != "" && s.Doc != old.doc {
			x.bad("subject %q has a doc already", s.Name)
		}
		x.subjects[i] = &subject{name: old.name, doc: old.doc, measures: slices.Clone(old.measures), byName: maps.Clone(old.byName)}
	}
	x.fresh[i] = true
	return x.subjects[i]
}

const maxWords = 64 // the bits of a set of words

// check sets the kind, or says what is wrong.
func (m *measure) check(in *subject) string {
	quantity := m.Dimension.Name != "" || m.Dimension.Parse != nil || m.Dimension.Format != nil
	switch {
	case !isName(m.Name, '_') || m.Name == keyAny || m.Name == keySubject:
		return "want a name of lower-case words joined by underscores, other than " + keyAny + " and " + keySubject
	case strings.TrimSpace(m.Doc) == "":
		return "no doc"
	case in.byName[m.Name] != nil:
		return "is there twice"
	case quantity && len(m.Words) == 0 && !m.Flag:
		if !isName(m.Dimension.Name, '_') || m.Dimension.Parse == nil || m.Dimension.Format == nil {
			return "a dimension needs a name of lower-case words, Parse and Format"
		}
		m.kind = kindQuantity
	case len(m.Words) > 0 && !quantity && !m.Flag:
		if len(m.Words) > maxWords {
			return fmt.Sprintf("has %d words, at most %d can be told apart", len(m.Words), maxWords)
		}
		for i, w := range m.Words {
			if !isWord(w) || slices.Contains(m.Words[:i], w) {
				return fmt.Sprintf("word %q is there twice, or not of lower-case letters, digits, hyphens and underscores", strictyaml.Clip(w))
			}
		}
		m.kind = kindWord
	case m.Flag && !quantity && len(m.Words) == 0:
		m.kind = kindFlag
	default:
		return "want exactly one of Dimension, Words and Flag"
	}
	return ""
}

// Definition returns a copy of all that v speaks of, in order: to list it, or
// to change it and build another vocabulary.
func (v *Vocabulary) Definition() Definition {
	d := Definition{Actions: slices.Clone(v.actions), Tasks: slices.Clone(v.tasks)}
	for _, s := range v.subjects {
		c := Subject{Name: s.name, Doc: s.doc}
		for _, m := range s.measures {
			c.Measures = append(c.Measures, m.copy())
		}
		d.Subjects = append(d.Subjects, c)
	}
	return d
}

func (m *measure) copy() Measure {
	c := m.Measure
	c.Words = slices.Clone(c.Words)
	return c
}

// Measure looks a measure up by the names of its subject and its own. The
// error is a [*NameError].
func (v *Vocabulary) Measure(subject, name string) (MeasureRef, error) {
	i := v.subject(subject)
	if i < 0 {
		return MeasureRef{}, unknown(keySubject, subject, "", v.subjectNames())
	}
	m, err := v.subjects[i].measure(name)
	if err != nil {
		return MeasureRef{}, err
	}
	return refTo(m), nil
}

// subject returns the index of a subject, or -1.
func (v *Vocabulary) subject(name string) int {
	return slices.IndexFunc(v.subjects, func(s *subject) bool { return s.name == name })
}

func (v *Vocabulary) subjectNames() []string {
	out := make([]string, len(v.subjects))
	for i, s := range v.subjects {
		out[i] = s.name
	}
	return out
}

// action returns the index of an action, or -1.
func (v *Vocabulary) action(name string) int {
	return slices.IndexFunc(v.actions, func(a Action) bool { return a.Name == name })
}

func (v *Vocabulary) actionNames() []string {
	out := make([]string, len(v.actions))
	for i, a := range v.actions {
		out[i] = a.Name
	}
	return out
}

func (v *Vocabulary) taskNames() []string {
	out := make([]string, len(v.tasks))
	for i, k := range v.tasks {
		out[i] = k.Name
	}
	return out
}

func (s *subject) measure(name string) (*measure, error) {
	if m := s.byName[name]; m != nil {
		return m, nil
	}
	return nil, unknown(keyMeasure, name, s.name, s.names())
}

func (s *subject) names() []string {
	out := make([]string, len(s.measures))
	for i, m := range s.measures {
		out[i] = m.Name
	}
	return out
}

// related reports whether one of the two is the other, or extends it: then
// what both have stands at the same places.
func (v *Vocabulary) related(w *Vocabulary) bool { return v.extends(w) || w.extends(v) }

// extends reports whether v is w, or was made from it.
func (v *Vocabulary) extends(w *Vocabulary) bool {
	for x := v; x != nil; x = x.base {
		if x == w {
			return true
		}
	}
	return false
}

// A MeasureRef is a measure that was looked up. It is comparable, and works
// with every vocabulary that extends the one it came from. The zero MeasureRef
// is no measure.
type MeasureRef struct {
	m *measure
	// What recording a value asks of m, where it costs no look at it.
	index int32
	kind  kind
	words uint8
}

func refTo(m *measure) MeasureRef {
	return MeasureRef{m, int32(m.index), m.kind, uint8(len(m.Words))}
}

// Measure returns a copy of what the vocabulary says of the measure.
func (r MeasureRef) Measure() Measure {
	if r.m == nil {
		return Measure{}
	}
	return r.m.copy()
}

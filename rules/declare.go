package rules

import (
	"fmt"
	"slices"

	"axleend.example/internal/strictyaml"
)

// maxDeclared is how many measures one pack may declare.
const maxDeclared = 200

// yesOrNo is what a measure takes that is a flag.
const yesOrNo = "yes or no"

// A declared measure is one that a pack speaks of beside those of the vocabulary.
type declared struct {
	subject, name scalar
	means         string
	takes         scalar   // a dimension's name, or yes or no
	words         []string // or these words
}

// measures reads which measures a pack declares, subject by subject.
func measures(n strictyaml.Node) []declared {
	var out []declared
	for _, on := range n.Pairs() {
		if on.Value.IsMap() && len(on.Value.Pairs()) == 0 {
			on.Value.Fail(strictyaml.CodeShape, fmt.Errorf("%w: no measure; leave %s out", strictyaml.ErrShape, on.Name))
		}
		for _, pair := range on.Value.Pairs() {
			out = append(out, declaration(on, pair))
		}
	}
	if len(out) > maxDeclared {
		n.Fail(codeLimit, fmt.Errorf("%w measures declared: %d, at most %d", ErrLimit, len(out), maxDeclared))
		return nil
	}
	return out
}

// declaration reads what a pack says of one measure.
func declaration(on, pair strictyaml.Pair) declared {
	d := declared{
		subject: scalar{on.Name, on.Key.Pos(), on.Value.Path()},
		name:    scalar{pair.Name, pair.Key.Pos(), pair.Value.Path()},
	}
	m := pair.Value.Map(keyMeans, keyTakes)
	d.means, _ = prose(m.Need(keyMeans), maxTitle)
	if takes := m.Need(keyTakes); takes.IsList() {
		for _, w := range takes.List() {
			if text, ok := w.Text(); ok {
				d.words = append(d.words, text)
			}
		}
		if len(takes.List()) == 0 {
			takes.Fail(strictyaml.CodeShape, fmt.Errorf("%w: no word in %s", strictyaml.ErrShape, keyTakes))
		}
	} else if text, ok := takes.Text(); ok {
		d.takes = scalar{text, takes.Pos(), takes.Path()}
	}
	return d
}

// declare adds to the vocabulary what packs declare. Packs may declare the same
// measure where it takes the same.
func (c *compiler) declare(list []declared) {
	var d Definition
	base := c.vocabulary
	for _, decl := range list {
		i := base.subject(decl.subject.text)
		if i < 0 {
			c.lost(decl.subject, keySubject, "", base.subjectNames)
			continue
		}
		m, ok := c.measureOf(decl)
		if !ok {
			continue
		}
		same := func(x declared) bool {
			return x.subject.text == decl.subject.text && x.name.text == decl.name.text
		}
		known := base.subjects[i].byName[m.Name]
		if at := slices.IndexFunc(d.Subjects, func(s Subject) bool { return s.Name == decl.subject.text }); at >= 0 && known == nil {
			for j := range d.Subjects[at].Measures {
				if x := &d.Subjects[at].Measures[j]; x.Name == m.Name {
					known = &measure{Measure: *x}
				}
			}
		}
		switch {
		case known == nil:
			d.add(decl.subject.text, m)
		case !slices.ContainsFunc(c.declared, same):
			c.fail(decl.name, codeTwice, fmt.Errorf("%w: the vocabulary has a measure %q of %s; take another name", ErrTwice, m.Name, decl.subject.text))
		case known.Takes() != m.Takes():
			c.fail(decl.name, codeTwice, fmt.Errorf("%w: another pack declares %q of %s, which takes %s", ErrTwice, m.Name, decl.subject.text, known.Takes()))
		}
		c.declared = append(c.declared, decl)
	}
	if len(d.Subjects) == 0 {
		return
	}
	v, err := base.Extend(d)
	if err != nil {
		c.fail(list[0].name, codeName, err)
		return
	}
	c.vocabulary = v
}

// add puts a measure to its subject.
func (d *Definition) add(subject string, m Measure) {
	i := slices.IndexFunc(d.Subjects, func(s Subject) bool { return s.Name == subject })
	if i < 0 {
		i = len(d.Subjects)
		d.Subjects = append(d.Subjects, Subject{Name: subject})
	}
	d.Subjects[i].Measures = append(d.Subjects[i].Measures, m)
}

// measureOf makes the measure that is declared, with a dimension of the vocabulary.
func (c *compiler) measureOf(d declared) (Measure, bool) {
	m := Measure{Name: d.name.text, Doc: d.means}
	switch {
	case d.means == "" || d.takes.text == "" && len(d.words) == 0: // a problem of its own
		return m, false
	case len(d.words) > 0:
		m.Words = d.words
	case d.takes.text == yesOrNo:
		m.Flag = true
	default:
		all := c.vocabulary.dimensions()
		dimension := dimensionNamed(all, d.takes.text)
		if dimension == nil {
			c.lost(d.takes, "dimension", "", func() []string {
				names := []string{yesOrNo}
				for _, x := range all {
					names = append(names, x.Name)
				}
				return names
			})
			return m, false
		}
		m.Dimension = *dimension
	}
	if why := (&measure{Measure: m}).check(&subject{}); why != "" {
		c.fail(d.name, codeName, fmt.Errorf("%w: measure %q: %s", ErrVocabulary, strictyaml.Clip(m.Name), why))
		return m, false
	}
	return m, true
}

// dimensions are count, share and those of the vocabulary's quantities, each once.
func (v *Vocabulary) dimensions() []*Dimension {
	count, share := Count(), Share()
	out := []*Dimension{&count, &share}
	for _, s := range v.subjects {
		for _, m := range s.measures {
			if m.kind == kindQuantity && dimensionNamed(out, m.Dimension.Name) == nil {
				out = append(out, &m.Dimension)
			}
		}
	}
	return out
}

func dimensionNamed(list []*Dimension, name string) *Dimension {
	for _, d := range list {
		if d.Name == name {
			return d
		}
	}
	return nil
}

package rules

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
)

// A rawScope is what a pack is for, as written: conditions on one subject.
type rawScope struct {
	pack    string
	subject scalar
	conds   []rawCond
}

// scope is a pack's scope, compiled.
type scope struct {
	pack    string
	subject int
	conds   []cond
	refs    []*measure // in the order of their bits
	text    string
}

// readScope reads a mapping of one subject to conditions.
func (p *packFile) readScope(n strictyaml.Node) *rawScope {
	if !n.IsMap() {
		n.Pairs() // says that a mapping is wanted
		return nil
	}
	pairs := n.Pairs()
	if len(pairs) != 1 {
		n.Fail(codeBound, fmt.Errorf("%w: want conditions on one subject in %s", ErrBound, keyScope))
		return nil
	}
	pair := pairs[0]
	if !isName(pair.Name, '_') {
		pair.Key.Fail(codeSpelling, misspelled(pair.Name, '_'))
		return nil
	}
	if pair.Value.IsMap() && len(pair.Value.Pairs()) == 0 {
		pair.Value.Fail(codeBound, fmt.Errorf("%w: no condition in %s", ErrBound, keyScope))
	}
	return &rawScope{pack: p.name, subject: scalar{pair.Name, pair.Key.Pos(), pair.Value.Path()}, conds: conditions(pair.Value)}
}

// words says the conditions as written: "gvwr more than 10000 lb".
func (s *rawScope) words() string {
	if s == nil {
		return ""
	}
	return rawWords(s.conds)
}

func rawWords(conds []rawCond) string {
	var parts []string
	for _, c := range conds {
		if c.measure.text == keyAny {
			var any []string
			for _, a := range c.any {
				any = append(any, rawWords(a))
			}
			parts = append(parts, "("+strings.Join(any, " or ")+")")
			continue
		}
		for _, b := range c.bounds {
			var terms []string
			for _, t := range b.terms {
				terms = append(terms, spaced(t.text))
			}
			part := spaced(c.measure.text) + " " + strings.Join(terms, " or ")
			if b.relation != Is {
				part = spaced(c.measure.text) + " " + b.relation.words() + " " + strings.Join(terms, " or ")
			}
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " and ")
}

// scope compiles a scope once for all the rules that have it; nil for none, and
// where it cannot be compiled.
func (c *compiler) scope(raw *rawScope) *scope {
	if raw == nil {
		return nil
	}
	if s, done := c.scopes[raw]; done {
		return s
	}
	s := &scope{pack: raw.pack, text: raw.words()}
	c.scopes[raw] = s
	if s.subject = c.vocabulary.subject(raw.subject.text); s.subject < 0 {
		c.lost(raw.subject, keySubject, "", c.vocabulary.subjectNames)
		return s
	}
	c.refs, c.divisors = nil, 0
	s.conds = c.where(c.vocabulary.subjects[s.subject], raw.conds)
	s.refs = c.refs
	if len(s.refs) > maxMeasures {
		c.fail(raw.subject, codeLimit, fmt.Errorf("%w measures in one %s: %d, at most %d", ErrLimit, keyScope, len(s.refs), maxMeasures))
	}
	return s
}

// A ScopeFinding says whether a pack is for the vehicle that facts describe.
type ScopeFinding struct {
	Pack    string // the pack whose scope it is
	Subject string // the kind of subject that the scope speaks of
	Text    string // the scope in words, such as "gvwr more than 10000 lb"
	// Verdict is Kept if the pack is for the vehicle, Breached if it is surely
	// not, and else NotRecorded.
	Verdict  Verdict
	ToRecord []string // if NotRecorded, the measures that would decide
}

// Within returns the program without the packs that are not for the vehicle that
// the facts describe, and a finding on each pack's scope, in the order of the
// packs. A pack is left out only if its scope is breached for certain; if that
// is not recorded, its rules stay. If no pack is left out it returns p itself.
// The error is that of [Program.Run].
func (p *Program) Within(facts ...*Facts) (*Program, []ScopeFinding, error) {
	if err := p.check(facts); err != nil {
		return nil, nil, err
	}
	if len(p.scopes) == 0 {
		return p, nil, nil
	}
	found := make([]ScopeFinding, len(p.scopes))
	out := make([]byte, len(p.scopes)) // which are left out, by 0 and 1
	for i, s := range p.scopes {
		f := &found[i]
		*f = ScopeFinding{Pack: s.pack, Subject: p.vocabulary.subjects[s.subject].name, Text: s.text}
		var unsure uint64
		f.Verdict, unsure = s.judge(p, facts)
		for bit, m := range s.refs {
			if unsure>>uint(bit)&1 != 0 {
				f.ToRecord = append(f.ToRecord, m.Name)
			}
		}
		if f.Verdict == Breached {
			out[i] = 1
		}
	}
	return p.without(out), found, nil
}

// mostNarrowed is how many scopes a program may have to keep what it becomes
// without any of them.
const mostNarrowed = 8

// without is the program less the packs whose scopes are marked. One vehicle is
// judged many times, so that each such program is put together once.
func (p *Program) without(out []byte) *Program {
	if !slices.Contains(out, 1) {
		return p
	}
	if known, ok := p.narrowed.Load(string(out)); ok {
		return known.(*Program)
	}
	rules := make([]*Rule, 0, len(p.rules))
	for _, r := range p.rules {
		if i := slices.Index(p.scopes, r.scope); i < 0 || out[i] == 0 {
			rules = append(rules, r)
		}
	}
	narrowed := assembled(p.vocabulary, rules)
	narrowed.base, narrowed.declared = p.base, p.declared
	if len(p.scopes) <= mostNarrowed {
		p.narrowed.Store(string(out), narrowed)
	}
	return narrowed
}

func (s *scope) judge(p *Program, facts []*Facts) (Verdict, uint64) {
	var values []Value
	for _, f := range facts {
		if f.index == s.subject {
			_, values = p.about(f)
		}
	}
	if values == nil {
		values = make([]Value, len(p.vocabulary.subjects[s.subject].measures))
	}
	switch v, unsure := all(s.conds, values, asCondition); v {
	case Kept, Breached:
		return v, 0
	default:
		return NotRecorded, unsure
	}
}

// With returns the program with the rules of others beside its own, in their
// order; of rules that have one name, such as "yard/stem-age", the first stands.
// Nothing of its own is left out. If nothing is added it is the same program.
// Measures that packs of the others declare are added to its vocabulary. The error
// matches [ErrVocabulary] for a program of another vocabulary, and where packs
// declare one measure each in its own way.
func (p *Program) With(others ...*Program) (*Program, error) {
	rules := slices.Clone(p.rules)
	seen := make(map[string]bool, len(rules))
	for _, r := range rules {
		seen[r.name] = true
	}
	out := &Program{vocabulary: p.vocabulary, declared: slices.Clip(p.declared)}
	for _, other := range others {
		more, err := out.take(other)
		if err != nil {
			return nil, err
		}
		for _, r := range more {
			if !seen[r.name] {
				seen[r.name] = true
				rules = append(rules, r)
			}
		}
	}
	if len(rules) == len(p.rules) {
		return p, nil
	}
	together := assembled(out.vocabulary, rules)
	together.base, together.declared = p.base, out.declared
	return together, nil
}

// take extends the vocabulary of p by what another program's packs declare, and gives
// that program's rules for it.
func (p *Program) take(other *Program) ([]*Rule, error) {
	switch {
	case other == nil || other.vocabulary == nil, !p.vocabulary.extends(other.base):
		return nil, fmt.Errorf("%w: a program of another vocabulary cannot stand beside this one", ErrVocabulary)
	case p.vocabulary.extends(other.vocabulary):
		return other.rules, nil // what it speaks of stands at the same places
	}
	c := compiler{vocabulary: p.vocabulary, declared: p.declared, scopes: make(map[*rawScope]*scope)}
	c.declare(other.declared)
	out := make([]*Rule, 0, len(other.rules))
	for _, r := range other.rules {
		out = append(out, c.rule(r.raw))
	}
	if err := c.problems.Err(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrVocabulary, err)
	}
	p.vocabulary, p.declared = c.vocabulary, c.declared
	return out, nil
}

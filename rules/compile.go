package rules

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"axleend.example/rules/origin"
)

// Compile holds packs against the vocabulary, extended by the measures that they
// declare. A pack that another of them
// extends is run only as extended, changed and dropped there; otherwise each
// pack's rules stand beside the others'. The same pack may be given twice. The
// error is an *origin.Problems with all that is wrong with all the packs, that
// which loading found included.
func Compile(v *Vocabulary, packs ...Pack) (*Program, error) {
	c := &compiler{
		vocabulary: v, byName: make(map[string]*packFile),
		closed: make(map[*packFile][]*rawRule), scopes: make(map[*rawScope]*scope),
	}
	if v == nil {
		c.fail(scalar{}, codeName, fmt.Errorf("%w: none is given", ErrVocabulary))
		return nil, c.problems.Err()
	}
	c.collect(packs)
	for _, p := range c.packs {
		c.declare(p.declares)
	}
	extended := c.extended()
	var all []*Rule
	done := make(map[*rawRule]bool)
	for _, p := range c.packs {
		rules := c.close(p, nil)
		if extended[p] {
			continue
		}
		for _, raw := range rules {
			if done[raw] {
				continue
			}
			done[raw] = true
			if r := c.rule(raw); r != nil {
				all = append(all, r)
			}
		}
	}
	out := assembled(c.vocabulary, all)
	out.base, out.declared = v, c.declared
	for i := range out.bySubject {
		c.contradictions(out.bySubject[i].rules)
	}
	if err := c.problems.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// assembled makes a program of compiled rules.
func assembled(v *Vocabulary, rules []*Rule) *Program {
	out := &Program{vocabulary: v, rules: rules, bySubject: make([]onSubject, len(v.subjects))}
	for _, r := range rules {
		out.bySubject[r.index].rules = append(out.bySubject[r.index].rules, r)
		if !slices.Contains(out.packs, r.pack) {
			out.packs = append(out.packs, r.pack)
		}
		if r.scope != nil && !slices.Contains(out.scopes, r.scope) {
			out.scopes = append(out.scopes, r.scope)
		}
		if r.whom != nil && !slices.Contains(out.whoms, r.whom) {
			out.whoms = append(out.whoms, r.whom)
		}
	}
	for i := range out.bySubject {
		on := &out.bySubject[i]
		on.blocks = newBlocks(on.rules, len(v.subjects[i].measures))
	}
	return out
}

type compiler struct {
	vocabulary *Vocabulary
	packs      []*packFile
	byName     map[string]*packFile
	closed     map[*packFile][]*rawRule // the rules of each pack with those of the packs it extends; nil while being worked out
	scopes     map[*rawScope]*scope
	declared   []declared // by packs
	problems   origin.Problems

	refs     []*measure // of the rule being compiled
	divisors uint64     // the bits of those that divide a bound
}

func (c *compiler) fail(s scalar, code string, err error) {
	c.problems.Add(origin.Problem{Position: s.pos, Path: s.path, Code: code, Err: err})
}

// lost reports a name that is not known. Past the problems that are kept it
// only counts: looking for near names costs too much to do for thousands.
func (c *compiler) lost(s scalar, kind, in string, known func() []string) {
	if c.problems.Len() >= origin.MaxProblems {
		c.fail(s, codeName, ErrName)
		return
	}
	c.fail(s, codeName, unknown(kind, s.text, in, known()))
}

func (c *compiler) names() []string {
	out := make([]string, len(c.packs))
	for i, p := range c.packs {
		out[i] = p.name
	}
	return out
}

// rule compiles one rule, or returns nil where it cannot.
func (c *compiler) rule(raw *rawRule) *Rule {
	before := c.problems.Len()
	r := &Rule{
		vocabulary: c.vocabulary, id: raw.id.text, pack: raw.pack, title: raw.title, advice: raw.advice,
		causes:  raw.causes,
		sources: raw.sources, at: raw.id.pos, name: raw.pack + "/" + raw.id.text,
		closeBreaches: raw.tooClose == asBreached, passUnrecorded: raw.notRecorded == asNothing,
		asks: raw.notRecorded == asAsked, ask: raw.ask, raw: raw,
	}
	c.action(r, raw)
	r.scope, r.whom = c.scope(raw.scope), raw.whom
	if raw.subject.text == "" {
		return nil
	}
	if r.index = c.vocabulary.subject(raw.subject.text); r.index < 0 {
		c.lost(raw.subject, keySubject, "", c.vocabulary.subjectNames)
		return nil
	}
	r.subject = c.vocabulary.subjects[r.index]
	c.refs, c.divisors = nil, 0
	if m := c.measure(r.subject, raw.measure); m != nil && raw.bound != nil {
		r.bound = c.test(r.subject, m, raw.bound)
		if r.bound.form == testSet && r.bound.set == m.allWords() {
			c.fail(raw.bound.at, codeContradiction, fmt.Errorf("%w: every word keeps this bound", ErrContradiction))
		}
	}
	if raw.where != nil {
		r.setWhere(c.where(r.subject, raw.where.conds))
	}
	r.measures, r.divisors = c.refs, c.divisors
	if len(c.refs) > maxMeasures {
		c.fail(raw.id, codeLimit, fmt.Errorf("%w measures in one rule: %d, at most %d", ErrLimit, len(c.refs), maxMeasures))
	}
	if c.problems.Len() > before || r.bound.measure == nil {
		return nil
	}
	return r
}

// action compiles what to do about a breach.
func (c *compiler) action(r *Rule, raw *rawRule) {
	if raw.action.text != "" {
		if r.action = c.vocabulary.action(raw.action.text); r.action < 0 {
			c.lost(raw.action, keyAction, "", c.vocabulary.actionNames)
		}
	}
	for _, name := range raw.involves {
		if !slices.Contains(c.vocabulary.taskNames(), name.text) {
			c.lost(name, "task", "", c.vocabulary.taskNames)
			continue
		}
		r.involves = append(r.involves, name.text)
	}
}

// setWhere sets the conditions, and which of them are on a word or a flag.
func (r *Rule) setWhere(conds []cond) {
	r.where = conds
	for _, w := range conds {
		if w.any == nil && w.form == testSet {
			r.gates = append(r.gates, gate{w.index, w.self, w.set})
		} else {
			r.others = append(r.others, w)
		}
	}
}

const maxMeasures = 64 // the bits of Finding.unsure

func (c *compiler) measure(s *subject, name scalar) *measure {
	if name.text == "" {
		return nil
	}
	m := s.byName[name.text]
	if m == nil {
		c.lost(name, keyMeasure, s.name, s.names)
	}
	return m
}

// bit returns the bit of a measure of the rule being compiled.
func (c *compiler) bit(m *measure) uint64 {
	i := slices.Index(c.refs, m)
	if i < 0 {
		i = len(c.refs)
		c.refs = append(c.refs, m)
	}
	return 1 << min(i, maxMeasures-1)
}

func (c *compiler) where(s *subject, raw []rawCond) []cond {
	var out []cond
	for _, rc := range raw {
		if rc.measure.text == keyAny {
			alternatives := make([][]cond, len(rc.any))
			for i, a := range rc.any {
				alternatives[i] = c.where(s, a)
			}
			out = append(out, cond{any: alternatives})
			continue
		}
		m := c.measure(s, rc.measure)
		if m == nil {
			continue
		}
		first := len(out)
		for i := range rc.bounds {
			out = append(out, cond{test: c.test(s, m, &rc.bounds[i])})
		}
		if low, high := span(out[first:]); low > high {
			c.fail(rc.measure, codeContradiction, fmt.Errorf("%w: no %s can be so", ErrContradiction, spaced(m.Name)))
		}
	}
	return out
}

// span returns the whole steps that keep all the literal bounds; it is empty,
// low above high, if none does.
func span(conds []cond) (low, high int64) {
	low, high = math.MinInt64, math.MaxInt64
	for i := range conds {
		if t := &conds[i].test; t.form == testLiteral && t.relation != IsNot {
			low, high = max(low, t.low), min(high, t.high)
		}
	}
	return low, high
}

// span returns the least and the greatest count that keeps a literal bound; with
// IsNot, that breaches it.
func (t *test) span() (low, high int64) {
	low, high = math.MinInt64, math.MaxInt64
	n := t.literal
	switch t.relation {
	case AtMost:
		high = n
	case LessThan:
		if n == math.MinInt64 {
			return 1, 0
		}
		high = n - 1
	case AtLeast:
		low = n
	case MoreThan:
		if n == math.MaxInt64 {
			return 1, 0
		}
		low = n + 1
	case Is, IsNot:
		low, high = n, n
	}
	return low, high
}

// test compiles a bound on m. What cannot be compiled is a problem, and the
// test is of no use.
func (c *compiler) test(s *subject, m *measure, raw *rawBound) test {
	t := test{measure: m, index: int32(m.index), relation: raw.relation, self: c.bit(m)}
	if m.kind == kindQuantity {
		switch {
		case raw.list:
			c.fail(raw.at, codeDimension, fmt.Errorf("%w: %s (%s): want a single value", ErrDimension, m.Name, m.Takes()))
		case len(raw.terms) == 1:
			c.quantity(&t, s, raw.terms[0])
		}
		return t
	}
	if raw.relation != Is && raw.relation != IsNot {
		c.fail(raw.at, codeDimension, fmt.Errorf("%w: %s (%s): want is or is_not", ErrDimension, m.Name, m.Takes()))
		return t
	}
	words := m.Words
	if m.kind == kindFlag {
		words = yesNo()
	}
	t.form = testSet
	var texts []string
	for _, term := range raw.terms {
		i := slices.Index(words, term.text)
		switch {
		case i < 0:
			c.lost(term, "word", m.Name, func() []string { return words })
			continue
		case t.set>>i&1 != 0:
			c.fail(term, codeTwice, fmt.Errorf("%w: %s", ErrTwice, term.text))
		}
		t.set |= 1 << i
		texts = append(texts, spaced(term.text))
	}
	t.text = strings.Join(texts, " or ")
	if raw.relation == IsNot {
		if t.set == m.allWords() {
			c.fail(raw.at, codeContradiction, fmt.Errorf("%w: no word keeps this bound", ErrContradiction))
		}
		t.set = m.allWords() &^ t.set
	}
	return t
}

// allWords is the set of all words, or of no and yes.
func (m *measure) allWords() uint64 {
	if m.kind == kindFlag {
		return 1<<len(yesNo()) - 1
	}
	return math.MaxUint64 >> (maxWords - len(m.Words))
}

// quantity compiles a literal, a measure, or a share of one.
func (c *compiler) quantity(t *test, s *subject, term scalar) {
	t.text = term.text
	percent, rest, isShare := strings.Cut(term.text, " of ")
	if !isShare || !strings.HasSuffix(percent, "%") {
		if first := term.text[0]; first < 'a' || first > 'z' {
			c.literal(t, term)
			return
		}
		percent, rest = "", term.text
	}
	name, divisor, divided := strings.Cut(rest, " divided by ")
	of := c.measure(s, scalar{name, term.pos, term.path})
	if of == nil {
		return
	}
	switch {
	case of.kind != kindQuantity || of.Dimension.Name != t.measure.Dimension.Name:
		c.fail(term, codeDimension, fmt.Errorf("%w: %s (%s) against %s (%s)", ErrDimension, t.measure.Name, t.measure.Takes(), of.Name, of.Takes()))
		return
	case of == t.measure:
		c.fail(term, codeContradiction, fmt.Errorf("%w: %s is held against itself", ErrContradiction, of.Name))
		return
	}
	sh := &share{num: 1, den: 1, of: of, ofBit: c.bit(of)}
	if percent != "" {
		n, err := shareCodec().Parse(percent)
		if err == nil && (n <= 0 || n > maxShare) {
			err = &origin.TextError{Kind: "share", Text: percent, Want: "above 0 % and at most 1000 %", Err: origin.ErrRange}
		}
		if err != nil {
			c.fail(term, codeBound, fmt.Errorf("%w: %w", ErrBound, err))
			return
		}
		sh.num, sh.den = n, whole
	}
	if divided {
		c.divisor(sh, s, scalar{divisor, term.pos, term.path})
	}
	g := gcd(sh.num, sh.den)
	sh.num, sh.den = sh.num/g, sh.den/g
	t.form, t.share, t.text = testShare, sh, spaced(t.text)
}

// The largest share and the largest literal divisor: with maxDivisor they keep
// a denominator within 64 bits.
const (
	maxShare   = 10 * whole
	maxLiteral = 1000
)

func (c *compiler) divisor(sh *share, s *subject, by scalar) {
	if by.text[0] < 'a' || by.text[0] > 'z' {
		n, err := strconv.ParseUint(by.text, 10, 16)
		if err != nil || n < 1 || n > maxLiteral {
			err := &origin.TextError{Kind: "divisor", Text: by.text, Want: "a whole number from 1 to 1000, or a measure that is a count", Err: origin.ErrRange}
			c.fail(by, codeBound, fmt.Errorf("%w: %w", ErrBound, err))
			return
		}
		sh.den *= int64(n)
		return
	}
	m := c.measure(s, by)
	if m == nil {
		return
	}
	if m.kind != kindQuantity || m.Dimension.Name != countName {
		c.fail(by, codeDimension, fmt.Errorf("%w: %s (%s): only a %s divides", ErrDimension, m.Name, m.Takes(), countName))
		return
	}
	sh.div, sh.divBit = m, c.bit(m)
	c.divisors |= sh.divBit
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (c *compiler) literal(t *test, term scalar) {
	n, err := t.measure.Dimension.Parse(term.text)
	switch {
	case errors.Is(err, origin.ErrUnit):
		c.fail(term, codeDimension, fmt.Errorf("%w: %s (%s): %w", ErrDimension, t.measure.Name, t.measure.Takes(), err))
	case err != nil:
		c.fail(term, codeBound, fmt.Errorf("%w: %w", ErrBound, err))
	default:
		t.form, t.literal = testLiteral, n
		if t.low, t.high = t.span(); t.low > t.high {
			c.fail(term, codeContradiction, fmt.Errorf("%w: no %s can be so", ErrContradiction, spaced(t.measure.Name)))
		}
	}
}

// contradictions looks for two rules that ask for opposite things of one
// measure under the same conditions.
func (c *compiler) contradictions(rules []*Rule) {
	type key struct {
		measure *measure
		where   string
	}
	type span struct {
		low, high   int64
		lows, highs *Rule
	}
	seen := make(map[key]*span)
	for _, r := range rules {
		if r.bound.form != testLiteral || r.bound.relation == IsNot {
			continue
		}
		k := key{r.bound.measure, signature(r.where)}
		s := seen[k]
		if s == nil {
			s = &span{low: math.MinInt64, high: math.MaxInt64}
			seen[k] = s
		}
		low, high := r.bound.low, r.bound.high
		other := s.lows
		if low > s.high {
			other = s.highs
		}
		if low > s.high || high < s.low {
			c.fail(scalar{pos: r.at, path: keyRules + "." + r.id}, codeContradiction,
				fmt.Errorf("%w: no %s keeps both this and rule %q in %s", ErrContradiction, spaced(r.bound.measure.Name), other.id, other.at))
			continue
		}
		if low > s.low {
			s.low, s.lows = low, r
		}
		if high < s.high {
			s.high, s.highs = high, r
		}
	}
}

// signature is the same text for the same conditions in any order.
func signature(conds []cond) string {
	parts := make([]string, len(conds))
	for i := range conds {
		c := &conds[i]
		if c.any == nil {
			parts[i] = fmt.Sprint(c.index, c.relation, c.form, c.literal, c.set)
			if sh := c.share; sh != nil {
				by := -1
				if sh.div != nil {
					by = sh.div.index
				}
				parts[i] += fmt.Sprint("/", sh.num, sh.den, sh.of.index, by)
			}
			continue
		}
		alternatives := make([]string, len(c.any))
		for j, a := range c.any {
			alternatives[j] = signature(a)
		}
		slices.Sort(alternatives)
		parts[i] = "(" + strings.Join(alternatives, "|") + ")"
	}
	slices.Sort(parts)
	return strings.Join(parts, "&")
}

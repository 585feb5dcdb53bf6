package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// The keys of packs and cases.
const (
	keyAny         = "any"
	keySubject     = "subject"
	keyPack        = "pack"
	keyFormat      = "format"
	keyTitle       = "title"
	keyAbout       = "about"
	keyEdition     = "edition"
	keyScope       = "scope"
	keyExtends     = "extends"
	keyDrop        = "drop"
	keyChange      = "change"
	keyRules       = "rules"
	keyMeasures    = "measures"
	keyMeans       = "means"
	keyTakes       = "takes"
	keyMeasure     = "measure"
	keyWhere       = "where"
	keyTooClose    = "too_close"
	keyNotRecorded = "not_recorded"
	keyAction      = "action"
	keyAdvice      = "advice"
	keyCauses      = "causes"
	keyAsk         = "ask"
	keyInvolves    = "involves"
	keySource      = "source"

	asReported = "reported"
	asBreached = "as_breached"
	asNothing  = "does_not_apply"
	asAsked    = "asked"
)

// The codes of problems, beyond those of strictyaml.
const (
	codeSpelling      = "spelling"
	codeText          = "text"
	codeSource        = "source"
	codeName          = "name"
	codeDimension     = "dimension"
	codeBound         = "bound"
	codeContradiction = "contradiction"
	codeTwice         = "twice"
	codeCycle         = "cycle"
	codeLimit         = "limit"
	codeCase          = "case"
	codeClause        = "clause"
)

// FormatVersion is the version of the format of packs and cases that is read.
// A file says so in "format: 1".
const FormatVersion = 1

// The longest texts, in characters.
const (
	maxTitle  = 120
	maxAdvice = 1000
	maxAbout  = 2000
)

// A Pack is a file of rules as read, not yet checked against a vocabulary. It
// is immutable. The zero Pack is none, and does not compile.
type Pack struct{ file *packFile }

type packFile struct {
	name     string
	title    string
	about    string
	edition  string
	scope    *rawScope // what it is for; nil for everything
	whom     *Whom     // for which vehicles it was written; nil for all
	extends  []scalar
	drop     []scalar
	change   []*rawRule
	rules    []*rawRule
	declares []declared
	at       origin.Position
	sum      [16]byte
	problems *origin.Problems // what loading found; nil or never changed again
}

// A scalar is a text of the file with its place.
type scalar struct {
	text string
	pos  origin.Position
	path string
}

// A rawRule is a rule or a change as written; what a change leaves out is
// zero.
type rawRule struct {
	id          scalar
	pack        string
	scope       *rawScope // of the pack
	whom        *Whom     // of the pack
	title       string
	advice      string
	ask         string
	causes      []string
	involves    []scalar
	subject     scalar
	measure     scalar
	where       *rawWhere
	bound       *rawBound
	tooClose    string
	notRecorded string
	action      scalar
	sources     []origin.Source
}

type rawWhere struct{ conds []rawCond }

// A rawCond is either bounds on a measure or alternatives.
type rawCond struct {
	measure scalar
	bounds  []rawBound
	any     [][]rawCond
}

// A rawBound has one text, or several for a list of words.
type rawBound struct {
	relation Relation
	at       scalar // the place of the key
	terms    []scalar
	list     bool
}

func (p Pack) get() *packFile {
	if p.file == nil {
		return &packFile{}
	}
	return p.file
}

// Name returns the pack's name, such as "valve-care".
func (p Pack) Name() string { return p.get().name }

// Title returns the pack's one-line title.
func (p Pack) Title() string { return p.get().title }

// About returns the pack's longer description; it may be empty.
func (p Pack) About() string { return p.get().about }

// Edition returns which state of its sources the pack holds, such as "as of
// 2024"; it may be empty.
func (p Pack) Edition() string { return p.get().edition }

// Scope returns in words what the pack is for, such as "gvwr more than
// 10000 lb"; it is empty for a pack that is for everything.
func (p Pack) Scope() string { return p.get().scope.words() }

// Extends returns the names of the packs that this one builds on.
func (p Pack) Extends() []string {
	var out []string
	for _, e := range p.get().extends {
		out = append(out, e.text)
	}
	return out
}

// checkFormat refuses a file that does not say its format, or names a newer one
// than this.
func checkFormat(m strictyaml.Map) {
	strictyaml.Scalar(m.Need(keyFormat), func(text string) (int, error) {
		if text != strconv.Itoa(FormatVersion) {
			return 0, fmt.Errorf("%w %q of the format of packs: want %d; a newer file needs a newer program", ErrVersion, strictyaml.Clip(text), FormatVersion)
		}
		return FormatVersion, nil
	})
}

// read reads a pack. want is the name that the file's name says, or empty.
func (p *packFile) read(root strictyaml.Node, want string) {
	m := root.Map(keyPack, keyFormat, keyTitle, keyAbout, keyEdition, keyFor, keyScope, keyMeasures, keyExtends, keyDrop, keyChange, keyRules)
	if n := m.Need(keyPack); n.Valid() {
		if s, ok := named(n, '-'); ok {
			p.name = s.text
			if want != "" && want != s.text {
				n.Fail(codeName, fmt.Errorf("%w pack %q: the file's name says %q", ErrName, strictyaml.Clip(s.text), strictyaml.Clip(want)))
			}
		}
	}
	checkFormat(m)
	p.title, _ = prose(m.Need(keyTitle), maxTitle)
	p.about, _ = prose(m.Get(keyAbout), maxAbout)
	p.edition, _ = prose(m.Get(keyEdition), maxTitle)
	if n := m.Get(keyScope); n.Valid() {
		p.scope = p.readScope(n)
	}
	if n := m.Get(keyFor); n.Valid() {
		p.whom = p.readWhom(n)
	}

	p.declares = measures(m.Get(keyMeasures))
	p.readOthers(m)
	for _, pair := range m.Get(keyRules).Pairs() {
		p.rules = append(p.rules, p.rule(pair, false))
	}
	for _, key := range [...]string{keyMeasures, keyExtends, keyDrop, keyChange, keyRules} {
		if n := m.Get(key); n.IsList() && len(n.List()) == 0 || n.IsMap() && len(n.Pairs()) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: nothing in %s; leave it out", strictyaml.ErrShape, key))
		}
	}
	if m.IsMap() && !m.Get(keyRules).Valid() && !m.Get(keyExtends).Valid() {
		m.Fail(strictyaml.CodeMissing, fmt.Errorf("%w: neither %s nor %s", strictyaml.ErrMissing, keyRules, keyExtends))
	}
}

// readOthers reads which packs a pack extends, and what it drops and changes of
// their rules.
func (p *packFile) readOthers(m strictyaml.Map) {
	extends := m.Get(keyExtends)
	if extends.IsList() && len(extends.List()) > maxPacks {
		extends.Fail(codeLimit, fmt.Errorf("%w packs in %s: %d, at most %d", ErrLimit, keyExtends, len(extends.List()), maxPacks))
		extends = strictyaml.Node{}
	}
	for _, e := range names(extends, '-') {
		if e.text == p.name {
			e.node.Fail(codeCycle, fmt.Errorf("%w: %s extends itself", ErrCycle, p.name))
			continue
		}
		p.extends = append(p.extends, e.scalar)
	}
	dropped := make(map[string]bool)
	for _, d := range names(m.Get(keyDrop), '-') {
		p.drop = append(p.drop, d.scalar)
		dropped[d.text] = true
	}
	for _, pair := range m.Get(keyChange).Pairs() {
		r := p.rule(pair, true)
		if r.id.text != "" && dropped[r.id.text] {
			pair.Key.Fail(codeContradiction, fmt.Errorf("%w: rule %q is dropped and changed", ErrContradiction, r.id.text))
		}
		p.change = append(p.change, r)
	}
	for _, key := range [...]string{keyDrop, keyChange} {
		if n := m.Get(key); n.Valid() && !m.Get(keyExtends).Valid() {
			n.Fail(codeName, fmt.Errorf("%w: %s without %s: this pack takes over no other", ErrName, key, keyExtends))
		}
	}
}

type listed struct {
	scalar
	node strictyaml.Node
}

// names reads a list of names, each only once.
func names(n strictyaml.Node, sep byte) []listed {
	var out []listed
	seen := make(map[string]bool)
	for _, item := range n.List() {
		s, ok := named(item, sep)
		if !ok {
			continue
		}
		if seen[s.text] {
			item.Fail(codeTwice, fmt.Errorf("%w: %q", ErrTwice, s.text))
			continue
		}
		seen[s.text] = true
		out = append(out, listed{s, item})
	}
	return out
}

func (p *packFile) rule(pair strictyaml.Pair, change bool) *rawRule {
	r := &rawRule{id: scalar{pos: pair.Key.Pos(), path: pair.Value.Path()}, pack: p.name, scope: p.scope, whom: p.whom}
	if isName(pair.Name, '-') {
		r.id.text = pair.Name
	} else {
		pair.Key.Fail(codeSpelling, misspelled(pair.Name, '-'))
	}
	keys := make([]string, 0, 20)
	if !change {
		keys = append(keys, keySubject, keyMeasure)
	}
	keys = append(keys, keyTitle, keyWhere, keyTooClose, keyNotRecorded, keyAsk, keyAction, keyAdvice, keyCauses, keyInvolves, keySource)
	keys = append(keys, relations.Words[AtMost:]...)
	m := pair.Value.Map(keys...)
	need := m.Need
	if change {
		need = m.Get
	} else {
		r.subject, _ = named(m.Need(keySubject), '_')
		r.measure, _ = named(m.Need(keyMeasure), '_')
	}
	r.title, _ = prose(need(keyTitle), maxTitle)
	r.action, _ = named(need(keyAction), '_')
	r.advice, _ = prose(need(keyAdvice), maxAdvice)
	r.ask, _ = prose(m.Get(keyAsk), maxAdvice)
	r.causes = causes(m.Get(keyCauses))
	if n := m.Get(keyInvolves); change && n.Valid() {
		n.Fail(codeContradiction, fmt.Errorf("%w: a change cannot alter what the advice involves; drop the rule and write one of your own", ErrContradiction))
	}
	for _, name := range names(m.Get(keyInvolves), '_') {
		r.involves = append(r.involves, name.scalar)
	}
	for _, key := range [...]string{keyCauses, keyInvolves} {
		if n := m.Get(key); n.IsList() && len(n.List()) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: nothing in %s; leave it out", strictyaml.ErrShape, key))
		}
	}
	r.tooClose = choice(m.Get(keyTooClose), asReported, asBreached)
	r.notRecorded = choice(m.Get(keyNotRecorded), asReported, asNothing, asAsked)
	if w := m.Get(keyWhere); w.Valid() {
		if w.IsMap() && len(w.Pairs()) == 0 && !change {
			w.Fail(codeBound, fmt.Errorf("%w: no condition in %s; leave it out", ErrBound, keyWhere))
		}
		r.where = &rawWhere{conditions(w)}
	}
	bounds := readBounds(m.Node)
	if len(bounds) > 0 {
		r.bound = &bounds[0]
	}
	if len(bounds) > 1 {
		m.Get(bounds[1].relation.String()).Fail(codeBound, fmt.Errorf("%w: a second bound; make it a rule of its own", ErrBound))
	}
	if len(bounds) == 0 && !change && m.IsMap() {
		m.Fail(codeBound, fmt.Errorf("%w: want one of %s", ErrBound, strings.Join(relations.Words[AtMost:], ", ")))
	}
	r.sources = sources(m)
	return r
}

// causes reads a list of texts, each only once.
func causes(n strictyaml.Node) []string {
	var out []string
	for _, item := range n.List() {
		text, ok := prose(item, maxTitle)
		if !ok {
			continue
		}
		if slices.Contains(out, text) {
			item.Fail(codeTwice, fmt.Errorf("%w: %q", ErrTwice, strictyaml.Clip(text)))
			continue
		}
		out = append(out, text)
	}
	return out
}

// readBounds reads the bounds among the keys of a mapping.
func readBounds(n strictyaml.Node) []rawBound {
	var out []rawBound
	if !n.IsMap() {
		return nil
	}
	for _, pair := range n.Pairs() {
		for rel := AtMost; rel <= IsNot; rel++ {
			if pair.Name != relations.Words[rel] {
				continue
			}
			b := rawBound{relation: rel, at: scalar{pos: pair.Key.Pos(), path: pair.Value.Path()}}
			b.read(pair.Value)
			out = append(out, b)
		}
	}
	return out
}

func (b *rawBound) read(n strictyaml.Node) {
	items := []strictyaml.Node{n}
	if n.IsList() && (b.relation == Is || b.relation == IsNot) {
		b.list = true
		if items = n.List(); len(items) == 0 {
			n.Fail(codeBound, fmt.Errorf("%w: an empty list", ErrBound))
		}
	}
	for _, item := range items {
		if text, ok := prose(item, maxTitle); ok {
			b.terms = append(b.terms, scalar{text, item.Pos(), item.Path()})
		}
	}
}

// conditions reads a mapping of measures to what must be so of them.
func conditions(n strictyaml.Node) []rawCond {
	var out []rawCond
	for _, pair := range n.Pairs() {
		c := rawCond{measure: scalar{pair.Name, pair.Key.Pos(), pair.Value.Path()}}
		switch {
		case pair.Name == keyAny:
			c.any = alternatives(pair.Value)
		case !isName(pair.Name, '_'):
			pair.Key.Fail(codeSpelling, misspelled(pair.Name, '_'))
			continue
		case pair.Value.IsMap():
			m := pair.Value.Map(relations.Words[AtMost:]...)
			if c.bounds = readBounds(m.Node); len(m.Pairs()) == 0 {
				m.Fail(codeBound, fmt.Errorf("%w: want one of %s", ErrBound, strings.Join(relations.Words[AtMost:], ", ")))
			}
		default:
			b := rawBound{relation: Is, at: c.measure}
			b.read(pair.Value)
			c.bounds = []rawBound{b}
		}
		out = append(out, c)
	}
	return out
}

// alternatives reads a list of conditions of which one must hold.
func alternatives(n strictyaml.Node) [][]rawCond {
	var out [][]rawCond
	list := n.List()
	if n.IsList() && len(list) == 0 {
		n.Fail(codeBound, fmt.Errorf("%w: an empty list", ErrBound))
	}
	for _, item := range list {
		if item.IsMap() && len(item.Pairs()) == 0 {
			item.Fail(codeBound, fmt.Errorf("%w: no condition", ErrBound))
		}
		out = append(out, conditions(item))
	}
	return out
}

// sources reads the one key that no rule, change or case may lack.
func sources(m strictyaml.Map) []origin.Source {
	n := m.Get(keySource)
	if !n.Valid() {
		if m.IsMap() {
			m.Fail(codeSource, fmt.Errorf("%w: no %s: say where the rule comes from", origin.ErrSource, keySource))
		}
		return nil
	}
	items := []strictyaml.Node{n}
	if n.IsList() {
		if items = n.List(); len(items) == 0 {
			n.Fail(codeSource, fmt.Errorf("%w: an empty list", origin.ErrSource))
		}
	}
	var out []origin.Source
	for _, item := range items {
		s := item.Map("grade", "title", "locator")
		var src origin.Source
		var ok bool
		if src.Grade, ok = strictyaml.Scalar(s.Need("grade"), origin.ParseGrade); !ok {
			continue
		}
		src.Title, _ = prose(s.Get("title"), maxAdvice)
		src.Locator, _ = prose(s.Get("locator"), maxAdvice)
		if err := src.Check(); err != nil {
			s.Fail(codeSource, err)
		}
		out = append(out, src)
	}
	return out
}

// named reads a scalar that is a name.
func named(n strictyaml.Node, sep byte) (scalar, bool) {
	text, ok := n.Text()
	if !ok {
		return scalar{}, false
	}
	if !isName(text, sep) {
		n.Fail(codeSpelling, misspelled(text, sep))
		return scalar{}, false
	}
	return scalar{text, n.Pos(), n.Path()}, true
}

func misspelled(text string, sep byte) error {
	with := "hyphens"
	if sep == '_' {
		with = "underscores"
	}
	return fmt.Errorf("%w: %q: want lower-case letters, digits and %s, a letter first, at most %d", ErrSpelling, strictyaml.Clip(text), with, maxName)
}

func choice(n strictyaml.Node, want ...string) string {
	text, ok := n.Text()
	if !ok {
		return ""
	}
	for _, w := range want {
		if text == w {
			return text
		}
	}
	n.Fail(codeName, unknown("word", text, n.Path()[strings.LastIndexByte(n.Path(), '.')+1:], want))
	return ""
}

// prose reads a text for people: spaces and line ends become single spaces;
// what a terminal would take for a command is refused.
func prose(n strictyaml.Node, most int) (string, bool) {
	text, ok := n.Text()
	if !ok {
		return "", false
	}
	if utf8.RuneCountInString(text) > most {
		n.Fail(codeText, fmt.Errorf("%w: longer than %d characters", ErrText, most))
		return "", false
	}
	text = strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' }), " ")
	if text == "" {
		n.Fail(codeText, fmt.Errorf("%w: empty", ErrText))
		return "", false
	}
	for _, r := range text {
		if !unicode.IsPrint(r) || r == utf8.RuneError {
			n.Fail(codeText, fmt.Errorf("%w: holds the character %U", ErrText, r))
			return "", false
		}
	}
	return text, true
}

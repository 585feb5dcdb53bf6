package rules

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

const (
	keyClauses = "clauses"
	keySources = "sources"
	keyAt      = "at"
	keySays    = "says"
	keyLeftOut = "left_out"
	keyBeyond  = "beyond"
)

// A Clause is one thing that a pack's source says, and what the pack makes of
// it: either rules judge it, or it is left out for a reason.
type Clause struct {
	Title   string   // of the source, as the rules cite it
	Edition string   // which state of the source was read
	At      string   // where in it, such as "(c)"; a second word tells parts of one place apart
	Says    string   // what it is about, in words of our own
	Rules   []string // ids of the rules that judge it, none where it is left out
	LeftOut string   // why no rule judges it; empty where one does
}

// Clauses are all clauses of a pack's sources, as a file lists them: what holds
// a pack to the texts that it is named after. They are immutable. The zero
// Clauses are of no pack.
type Clauses struct{ file *clauseFile }

type clauseFile struct {
	pack   scalar
	list   []rawClause
	beyond map[string]bool // rules that no clause asks for, and the file says why
}

type rawClause struct {
	Clause
	at    scalar
	rules []scalar
}

// Pack returns the name of the pack whose sources these are.
func (c Clauses) Pack() string {
	if c.file == nil {
		return ""
	}
	return c.file.pack.text
}

// All returns the clauses in the order of the file; they are the caller's own.
func (c Clauses) All() []Clause {
	if c.file == nil {
		return nil
	}
	out := make([]Clause, len(c.file.list))
	for i, raw := range c.file.list {
		out[i] = raw.Clause
		out[i].Rules = slices.Clone(raw.Rules)
	}
	return out
}

// LoadClauses reads the clauses of a pack: those of "valve-care" stand in
// valve-care.clauses.yaml at the top of fsys. The error is an
// *origin.Problems; it matches fs.ErrNotExist if the pack has no such file.
func LoadClauses(fsys fs.FS, name string) (Clauses, error) { return Loader{}.LoadClauses(fsys, name) }

// LoadClauses is the function [LoadClauses] within the loader's limit.
func (l Loader) LoadClauses(fsys fs.FS, name string) (Clauses, error) {
	file := strings.TrimSuffix(name, ".yaml") + ".clauses.yaml"
	data, err := l.read(fsys, file)
	if err != nil {
		var problems origin.Problems
		problems.AddError(origin.Position{File: file}, codeName, err)
		return Clauses{}, problems.Err()
	}
	return l.ReadClauses(file, data)
}

// ReadClauses reads clauses from data; file is its name for positions. The
// error is an *origin.Problems.
func ReadClauses(file string, data []byte) (Clauses, error) {
	return Loader{}.ReadClauses(file, data)
}

// ReadClauses is the function [ReadClauses] within the loader's limit.
func (l Loader) ReadClauses(file string, data []byte) (Clauses, error) {
	doc, err := strictyaml.Parse(file, data, l.limit())
	if err != nil {
		return Clauses{}, err
	}
	c := &clauseFile{beyond: make(map[string]bool)}
	m := doc.Root().Map(keyClauses, keyFormat, keySources, keyBeyond)
	checkFormat(m)
	c.pack, _ = named(m.Need(keyClauses), '-')
	for _, source := range m.Need(keySources).List() {
		s := source.Map(keyTitle, keyEdition, keyList)
		title, _ := prose(s.Need(keyTitle), maxAdvice)
		edition, _ := prose(s.Need(keyEdition), maxTitle)
		for _, item := range s.Need(keyList).List() {
			clause := readClause(item)
			clause.Title, clause.Edition = title, edition
			c.list = append(c.list, clause)
		}
	}
	for _, pair := range m.Get(keyBeyond).Pairs() {
		if !isName(pair.Name, '-') {
			pair.Key.Fail(codeSpelling, misspelled(pair.Name, '-'))
		}
		c.beyond[pair.Name] = true
		prose(pair.Value, maxTitle)
	}
	if err := doc.Probs.Err(); err != nil {
		return Clauses{}, err
	}
	return Clauses{c}, nil
}

func readClause(n strictyaml.Node) rawClause {
	m := n.Map(keyAt, keySays, keyRules, keyLeftOut)
	var c rawClause
	at := m.Need(keyAt)
	c.At, _ = prose(at, maxTitle)
	if at.Valid() {
		c.at = scalar{c.At, at.Pos(), n.Path()}
	}
	c.Says, _ = prose(m.Need(keySays), maxTitle)
	for _, name := range names(m.Get(keyRules), '-') {
		c.rules = append(c.rules, name.scalar)
		c.Rules = append(c.Rules, name.text)
	}
	c.LeftOut, _ = prose(m.Get(keyLeftOut), maxTitle)
	if m.IsMap() && (len(c.rules) > 0) == m.Get(keyLeftOut).Valid() {
		m.Fail(codeClause, fmt.Errorf("%w: want either %s or %s", ErrClause, keyRules, keyLeftOut))
	}
	return c
}

// CheckClauses holds a pack to the clauses of its sources. Each clause that is
// not left out is judged by rules which the pack has and which cite that source
// at that place; each rule is asked for by a clause, or the file says what it is
// there for; and whatever a rule cites of a listed source is in the list. The
// error is an *origin.Problems with all that is wrong, each matching [ErrClause]
// or [ErrName].
func CheckClauses(p Pack, clauses Clauses) error {
	var problems origin.Problems
	fail := func(at scalar, code string, err error) {
		problems.Add(origin.Problem{Position: at.pos, Path: at.path, Code: code, Err: err})
	}
	f := clauses.file
	if f == nil {
		f = &clauseFile{}
	}
	if f.pack.text != p.Name() {
		fail(f.pack, codeName, unknown(keyPack, f.pack.text, "", []string{p.Name()}))
	}
	own := slices.Concat(p.get().rules, p.get().change)
	for _, c := range f.list {
		for _, name := range c.rules {
			i := slices.IndexFunc(own, func(r *rawRule) bool { return r.id.text == name.text })
			switch {
			case i < 0:
				fail(name, codeName, unknown("rule", name.text, p.Name(), ids(own)))
			case !cites(own[i], c.Title, c.At):
				fail(name, codeClause, fmt.Errorf("%w: rule %q does not cite %s %s", ErrClause, name.text, c.Title, c.At))
			}
		}
	}
	asked, listed := f.asked()
	for _, r := range own {
		if !asked[r.id.text] && !f.beyond[r.id.text] {
			fail(r.id, codeClause, fmt.Errorf("%w: no clause asks for rule %q", ErrClause, r.id.text))
		}
		for _, s := range r.sources {
			if rules, ok := listed[s.Title]; ok && !rules[r.id.text] {
				fail(r.id, codeClause, fmt.Errorf("%w: rule %q cites %s, which has no clause for it", ErrClause, r.id.text, s.String()))
			}
		}
	}
	return problems.Err()
}

// asked gives the rules that clauses name: of all sources, and by the source's title.
func (f *clauseFile) asked() (all map[string]bool, bySource map[string]map[string]bool) {
	all, bySource = make(map[string]bool), make(map[string]map[string]bool)
	for _, c := range f.list {
		if bySource[c.Title] == nil {
			bySource[c.Title] = make(map[string]bool)
		}
		for _, name := range c.Rules {
			all[name], bySource[c.Title][name] = true, true
		}
	}
	return all, bySource
}

// cites reports whether a rule names that place of that source: the locator has
// the first word of it.
func cites(r *rawRule, title, at string) bool {
	place, _, _ := strings.Cut(at, " ")
	return slices.ContainsFunc(r.sources, func(s origin.Source) bool {
		if s.Title != title {
			return false
		}
		words := strings.FieldsFunc(s.Locator, func(c rune) bool { return c == ' ' || c == ',' })
		return slices.Contains(words, place)
	})
}

package rules

import (
	"cmp"
	"fmt"
	"io/fs"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

const (
	keyCases  = "cases"
	keyList   = "list"
	keyGiven  = "given"
	keyExpect = "expect"

	doesNotApply = "does not apply"
	wordAsked    = "asked"
)

// Cases is a file of cases that was read: what proves a pack. It is immutable.
// The zero Cases are of no pack.
type Cases struct{ file *caseFile }

type caseFile struct {
	pack scalar
	list []rawCase
}

type rawCase struct {
	subject scalar
	given   []rawPair
	expect  []rawPair
	sources []origin.Source
}

type rawPair struct{ key, value scalar }

// Pack returns the name of the pack that the cases prove.
func (c Cases) Pack() string {
	if c.file == nil {
		return ""
	}
	return c.file.pack.text
}

// LoadCases reads the cases of a pack: those of "valve-care" stand in
// valve-care.cases.yaml at the top of fsys. The error is an *origin.Problems;
// it matches fs.ErrNotExist if the pack has no cases.
func LoadCases(fsys fs.FS, name string) (Cases, error) { return Loader{}.LoadCases(fsys, name) }

// LoadCases is the function [LoadCases] within the loader's limit.
func (l Loader) LoadCases(fsys fs.FS, name string) (Cases, error) {
	file := strings.TrimSuffix(name, ".yaml") + ".cases.yaml"
	data, err := l.read(fsys, file)
	if err != nil {
		var problems origin.Problems
		problems.AddError(origin.Position{File: file}, codeName, err)
		return Cases{}, problems.Err()
	}
	return l.ReadCases(file, data)
}

// ReadCases reads cases from data; file is its name for positions. The error
// is an *origin.Problems.
func ReadCases(file string, data []byte) (Cases, error) { return Loader{}.ReadCases(file, data) }

// ReadCases is the function [ReadCases] within the loader's limit.
func (l Loader) ReadCases(file string, data []byte) (Cases, error) {
	doc, err := strictyaml.Parse(file, data, l.limit())
	if err != nil {
		return Cases{}, err
	}
	c := &caseFile{}
	m := doc.Root().Map(keyCases, keyFormat, keyList)
	checkFormat(m)
	c.pack, _ = named(m.Need(keyCases), '-')
	list := m.Need(keyList)
	if list.IsList() && len(list.List()) == 0 {
		list.Fail(codeCase, fmt.Errorf("%w: an empty list", ErrCase))
	}
	for _, item := range list.List() {
		c.list = append(c.list, readCase(item))
	}
	if err := doc.Probs.Err(); err != nil {
		return Cases{}, err
	}
	return Cases{c}, nil
}

func readCase(n strictyaml.Node) rawCase {
	var out rawCase
	m := n.Map(keyGiven, keyExpect, keySource)
	given := m.Need(keyGiven)
	subject := false
	for _, pair := range given.Pairs() {
		if pair.Name == keySubject {
			out.subject, _ = named(pair.Value, '_')
			subject = true
			continue
		}
		if p, ok := pairOf(pair, '_'); ok {
			out.given = append(out.given, p)
		}
	}
	if given.IsMap() && !subject {
		given.Fail(strictyaml.CodeMissing, fmt.Errorf("%w: %s", strictyaml.ErrMissing, keySubject))
	}
	expect := m.Need(keyExpect)
	for _, pair := range expect.Pairs() {
		if p, ok := pairOf(pair, '-'); ok {
			out.expect = append(out.expect, p)
		}
	}
	if expect.IsMap() && len(expect.Pairs()) == 0 {
		expect.Fail(codeCase, fmt.Errorf("%w: nothing is expected", ErrCase))
	}
	out.sources = sources(m)
	return out
}

func pairOf(pair strictyaml.Pair, sep byte) (rawPair, bool) {
	if !isName(pair.Name, sep) {
		pair.Key.Fail(codeSpelling, misspelled(pair.Name, sep))
		return rawPair{}, false
	}
	text, ok := prose(pair.Value, maxTitle)
	return rawPair{
		key:   scalar{pair.Name, pair.Key.Pos(), pair.Value.Path()},
		value: scalar{text, pair.Value.Pos(), pair.Value.Path()},
	}, ok
}

// A CaseReport is how the cases of a pack came out.
type CaseReport struct {
	Pack     string           // the pack that the cases prove
	Cases    int              // how many were run
	Failures []origin.Problem // of a [*CaseError] each, in the order of the file
	Gaps     []Gap            // what no case covers, in the order of the rules
}

// A CaseError is a rule that said something else of a case than expected.
type CaseError struct {
	Rule    string          // its id
	Want    string          // a verdict, an action, "asked" or "does not apply"
	Got     string          // the same, or a verdict and the action
	Why     string          // the fact and the bound, such as "tread 3/32 in, wanted: at least 4/32 in"
	Sources []origin.Source // of the case
}

// Error gives the rule, what was wanted, what came and why, and where the case
// is from.
func (e *CaseError) Error() string {
	out := fmt.Sprintf("%v: rule %q: want %s, got %s", ErrCase, e.Rule, strictyaml.Clip(e.Want), e.Got)
	if e.Why != "" {
		out += ": " + e.Why
	}
	for i, s := range e.Sources {
		out += [...]string{" (case from ", "; "}[min(i, 1)] + s.String()
	}
	if len(e.Sources) > 0 {
		out += ")"
	}
	return out
}

// Unwrap returns [ErrCase].
func (e *CaseError) Unwrap() error { return ErrCase }

// A Gap is something of a rule that no case covers, in words, such as "a value
// at its bound". Only the rules count that the pack itself states or changes.
type Gap struct {
	Rule     string          // its id
	Missing  string          // what no case covers
	Position origin.Position // of the rule
}

// CheckCases runs cases on the pack that they are for, which must be among
// packs, as must all that it extends; other packs are left alone. The error is
// an *origin.Problems: the packs do not compile, or a case speaks of what is
// not there. Cases that fail are no error but in the report.
func CheckCases(v *Vocabulary, packs []Pack, cases Cases) (CaseReport, error) {
	report := CaseReport{Pack: cases.Pack()}
	needed := reach(packs, report.Pack)
	if len(needed) == 0 {
		c := compiler{}
		known := make([]string, len(packs))
		for i, p := range packs {
			known[i] = p.Name()
		}
		at := scalar{text: report.Pack}
		if cases.file != nil {
			at = cases.file.pack
		}
		c.lost(at, keyPack, "", func() []string { return known })
		return report, c.problems.Err()
	}
	program, err := Compile(v, needed...)
	if err != nil {
		return report, err
	}
	run := &caseRun{compiler: compiler{vocabulary: program.vocabulary}, program: program, byID: make(map[string]*coverage), report: &report}
	for _, r := range program.rules {
		c := &coverage{rule: r}
		c.edges(r.where)
		run.byID[r.id] = c
	}
	for i := range cases.file.list {
		run.one(&cases.file.list[i])
	}
	report.Cases = len(cases.file.list)
	for _, r := range program.rules {
		if r.pack == report.Pack {
			report.Gaps = append(report.Gaps, run.byID[r.id].gaps()...)
		}
	}
	return report, run.problems.Err()
}

// reach returns the named pack and all that it extends, near and far.
func reach(packs []Pack, name string) []Pack {
	called := make(map[string][]Pack)
	for _, p := range packs {
		if p.file != nil {
			called[p.file.name] = append(called[p.file.name], p)
		}
	}
	var out []Pack
	wanted, seen := []string{name}, map[string]bool{name: true}
	for i := 0; i < len(wanted); i++ {
		for _, p := range called[wanted[i]] {
			out = append(out, p)
			for _, e := range p.file.extends {
				if !seen[e.text] {
					seen[e.text] = true
					wanted = append(wanted, e.text)
				}
			}
		}
	}
	return out
}

type caseRun struct {
	compiler
	program *Program
	byID    map[string]*coverage
	report  *CaseReport
}

func (run *caseRun) one(raw *rawCase) {
	facts, err := run.vocabulary.NewFacts(raw.subject.text, raw.subject.pos.String())
	if err != nil {
		run.fail(raw.subject, codeName, err)
		return
	}
	for _, g := range raw.given {
		if m := run.measure(facts.subject, g.key); m != nil {
			if err := facts.SetText(g.key.text, g.value.text); err != nil {
				run.fail(g.value, strictyaml.CodeValue, err)
			}
		}
	}
	found := make(map[*Rule]*Finding)
	findings, err := run.program.AppendRun(nil, facts)
	run.problems.AddError(raw.subject.pos, codeCase, err)
	for i := range findings {
		found[findings[i].Rule] = &findings[i]
	}
	for _, e := range raw.expect {
		c := run.byID[e.key.text]
		if c == nil {
			run.lost(e.key, "rule", run.report.Pack, func() []string {
				out := make([]string, len(run.program.rules))
				for i, r := range run.program.rules {
					out[i] = r.id
				}
				return out
			})
			continue
		}
		if c.rule.subject != facts.subject {
			run.fail(e.key, codeCase, fmt.Errorf("%w: rule %q is about a %s, the case about a %s", ErrCase, c.rule.id, spaced(c.rule.subject.name), spaced(facts.subject.name)))
			continue
		}
		run.expect(raw, c, e, facts, found[c.rule])
	}
}

func (run *caseRun) expect(raw *rawCase, c *coverage, e rawPair, facts *Facts, found *Finding) {
	verdict, err := ParseVerdict(e.value.text)
	action := -1
	switch {
	case e.value.text == wordAsked:
		verdict = NotRecorded
	case err != nil && e.value.text != doesNotApply:
		if action = run.vocabulary.action(e.value.text); action < 0 {
			run.lost(e.value, "verdict or action", "", func() []string {
				return append(append(verdictWords(), wordAsked, doesNotApply), run.vocabulary.actionNames()...)
			})
			return
		}
		verdict = Breached
	}
	got, as := doesNotApply, Verdict(0)
	if found != nil {
		got, as = found.Verdict.String(), found.Verdict
		if as == Breached {
			got += ", " + c.rule.Action().Name
		}
		if found.Asked() {
			got = wordAsked + ", " + c.rule.Action().Name
		}
	}
	if as != verdict || action >= 0 && action != c.rule.action || e.value.text == wordAsked && !found.Asked() {
		run.report.Failures = append(run.report.Failures, origin.Problem{
			Position: e.value.pos, Path: e.value.path, Code: codeCase,
			Err: &CaseError{Rule: c.rule.id, Want: e.value.text, Got: got, Why: why(c.rule, facts, found), Sources: raw.sources},
		})
		return
	}
	c.note(facts, found, action >= 0)
}

// why says by which fact and which bound a rule came to what it says.
func why(r *Rule, facts *Facts, found *Finding) string {
	m, value := r.bound.measure, facts.values[r.bound.index]
	switch {
	case found == nil && r.passUnrecorded && !value.Recorded():
		return spaced(m.Name) + " was not recorded, and then it does not apply"
	case found == nil:
		return "it is for a " + spaced(r.subject.name) + " where " + r.whereText()
	}
	out := spaced(m.Name) + " " + refTo(m).Text(value) + ", wanted: " + found.BoundText()
	if need := found.ToRecord(); len(need) > 0 {
		out += "; that rests on " + spaced(strings.Join(need, ", "))
	}
	return out
}

// Coverage is what the cases that came out as expected show of a rule.
type coverage struct {
	rule                           *Rule
	cases                          int
	below, at, above               bool
	kept, breached, acted          bool
	keptOut, wasClose, unmentioned bool
	asked                          bool
	where                          []edge
}

// An edge is a bound of a quantity in a condition.
type edge struct {
	test *test
	at   bool
}

func (c *coverage) edges(conds []cond) {
	for i := range conds {
		for _, a := range conds[i].any {
			c.edges(a)
		}
		if conds[i].any == nil && conds[i].form != testSet {
			c.where = append(c.where, edge{test: &conds[i].test})
		}
	}
}

func (c *coverage) note(facts *Facts, found *Finding, acted bool) {
	c.cases++
	for i := range c.where {
		if order, ok := c.where[i].test.order(facts.values); ok && order == 0 {
			c.where[i].at = true
		}
	}
	if found == nil {
		if facts.values[c.rule.bound.index].Recorded() {
			c.keptOut = true
		} else {
			c.unmentioned = true
		}
		return
	}
	c.kept = c.kept || found.Verdict == Kept
	c.breached = c.breached || found.Verdict == Breached
	c.acted = c.acted || acted
	c.wasClose = c.wasClose || found.WasTooClose()
	c.asked = c.asked || found.Asked() && !found.Open()
	if order, ok := c.rule.bound.order(facts.values); ok {
		c.below, c.at, c.above = c.below || order < 0, c.at || order == 0, c.above || order > 0
	}
}

// order compares an exact value with its bound; ok is false where either is not
// exact.
func (t *test) order(values []Value) (int, bool) {
	v := values[t.index]
	if t.form == testSet || v.form == formNone || v.low != v.high || v.open != 0 {
		return 0, false
	}
	if t.form == testLiteral {
		return cmp.Compare(v.low, t.literal), true
	}
	of, div := values[t.share.of.index], Quantity[int64](1)
	if t.share.div != nil {
		div = values[t.share.div.index]
	}
	if of.form == formNone || !div.divides() || of.low != of.high || div.low != div.high || of.open|div.open != 0 {
		return 0, false
	}
	bound, _ := t.share.bound(&of, &div)
	return bound.compare(v.low), true
}

// minCases is how many cases each rule needs: one at its bound and one to
// either side of it.
const minCases = 3

func (c *coverage) gaps() []Gap {
	var out []Gap
	need := func(there bool, missing string) {
		if !there {
			out = append(out, Gap{Rule: c.rule.id, Missing: missing, Position: c.rule.at})
		}
	}
	need(c.cases >= minCases, fmt.Sprintf("it from all sides: %d cases are wanted, there are %d", minCases, c.cases))
	need(c.kept, "a case in which it is kept")
	need(c.breached, "a case in which it is breached")
	need(c.acted, "a case that expects its action, "+c.rule.Action().Name)
	if c.rule.bound.form != testSet {
		need(c.below, "an exact value below its bound")
		need(c.at, "an exact value at its bound")
		need(c.above, "an exact value above its bound")
	}
	if len(c.rule.where) > 0 {
		need(c.keptOut, "a case that its conditions keep out")
	}
	for _, e := range c.where {
		need(e.at, "an exact value at the edge of its condition, "+spaced(e.test.measure.Name)+" "+e.test.phrase())
	}
	if c.rule.closeBreaches {
		need(c.wasClose, "a case too close to call, which it counts as breached")
	}
	if c.rule.asks {
		need(c.asked, "a case in which what it needs is not recorded, which it asks for")
	}
	if c.rule.passUnrecorded {
		need(c.unmentioned, "a case without its measure, to which it does not apply")
	}
	return out
}

package rules_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/rules"
)

// The model below knows what a rule means, and nothing of how the engine does
// it: quantities are rationals, intervals their corners, words are words.

type mValue struct {
	kind string // "", "quantity", "word"
	n    [2]int64
	word string
}

type mBound struct {
	measure  string
	relation string
	words    []string
	literal  int64
	of       string
	percent  *big.Rat // nil: the measure itself
	divisor  int64    // 0: none
	divMea   string
}

type mCond struct {
	bound *mBound
	any   [][]mCond
}

type mRule struct {
	id          string
	where       []mCond
	bound       mBound
	asBreached  bool
	passMissing bool
}

type mFacts map[string]mValue

const (
	notRecorded = "not recorded"
	tooClose    = "too close"
)

// compareAll gives how the measure's corners stand to the bound's.
func (b *mBound) signs(f mFacts) (signs []int, missing bool) {
	v := f[b.measure]
	corners := []*big.Rat{}
	if b.of == "" {
		corners = append(corners, new(big.Rat).SetInt64(b.literal))
	} else {
		of, div := f[b.of], mValue{kind: "quantity", n: [2]int64{1, 1}}
		if b.divMea != "" {
			div = f[b.divMea]
		}
		if of.kind == "" || div.kind == "" || div.n[0] < 1 || div.n[1] > 1_000_000 {
			return nil, true
		}
		for _, o := range of.n {
			for _, d := range div.n {
				c := new(big.Rat).SetInt64(o)
				if b.percent != nil {
					c.Mul(c, b.percent).Quo(c, big.NewRat(100, 1))
				}
				if b.divisor > 0 {
					c.Quo(c, new(big.Rat).SetInt64(b.divisor))
				}
				corners = append(corners, c.Quo(c, new(big.Rat).SetInt64(d)))
			}
		}
	}
	if v.kind == "" {
		return nil, true
	}
	for _, n := range v.n {
		for _, c := range corners {
			signs = append(signs, new(big.Rat).SetInt64(n).Cmp(c))
		}
	}
	return signs, false
}

func (b *mBound) judge(f mFacts) string {
	if v := f[b.measure]; len(b.words) > 0 {
		if v.kind == "" {
			return notRecorded
		}
		return verdictOf(slices.Contains(b.words, v.word) == (b.relation == "is"))
	}
	signs, missing := b.signs(f)
	if missing {
		return notRecorded
	}
	every := func(ok func(int) bool) bool { return !slices.ContainsFunc(signs, func(s int) bool { return !ok(s) }) }
	below := func(s int) bool { return s < 0 }
	above := func(s int) bool { return s > 0 }
	same := func(s int) bool { return s == 0 }
	var kept, breached bool
	switch b.relation {
	case "at_most":
		kept, breached = every(func(s int) bool { return s <= 0 }), every(above)
	case "less_than":
		kept, breached = every(below), every(func(s int) bool { return s >= 0 })
	case "at_least":
		kept, breached = every(func(s int) bool { return s >= 0 }), every(below)
	case "more_than":
		kept, breached = every(above), every(func(s int) bool { return s <= 0 })
	case "is":
		kept, breached = every(same), every(below) || every(above)
	case "is_not":
		kept, breached = every(below) || every(above), every(same)
	}
	switch {
	case kept:
		return "kept"
	case breached:
		return "breached"
	}
	return tooClose
}

func verdictOf(kept bool) string {
	if kept {
		return "kept"
	}
	return "breached"
}

// together joins the verdicts of conditions: the first of order that occurs.
func together(verdicts []string, order ...string) string {
	for _, o := range order {
		if slices.Contains(verdicts, o) {
			return o
		}
	}
	return order[len(order)-1]
}

func judgeAll(conds []mCond, f mFacts) string {
	var each []string
	for _, c := range conds {
		if c.bound != nil {
			each = append(each, c.bound.judge(f))
			continue
		}
		var alternatives []string
		for _, a := range c.any {
			alternatives = append(alternatives, judgeAll(a, f))
		}
		each = append(each, together(alternatives, "kept", notRecorded, tooClose, "breached"))
	}
	return together(each, "breached", notRecorded, tooClose, "kept")
}

func (r *mRule) judge(f mFacts) string {
	if r.passMissing && f[r.bound.measure].kind == "" {
		return ""
	}
	where, out := judgeAll(r.where, f), r.bound.judge(f)
	switch where {
	case "breached":
		return ""
	case notRecorded:
		return notRecorded
	case tooClose:
		if out == "breached" {
			out = tooClose
		}
	}
	if out == tooClose && r.asBreached {
		out = "breached"
	}
	return out
}

// What follows makes rules and facts up, and writes the rules as a pack.

var (
	mQuantities = []string{"q0", "q1", "q2", "q3"}
	mCounts     = []string{"c0", "c1"}
	mWords      = []string{"w0", "w1"}
	mFlags      = []string{"f0"}
	wordList    = []string{"red", "green", "blue", "2wd"}
)

func modelVocabulary(t testing.TB) *rules.Vocabulary {
	t.Helper()
	s := rules.Subject{Name: "thing", Doc: "a thing"}
	for _, q := range mQuantities {
		s.Measures = append(s.Measures, rules.Measure{Name: q, Doc: "q", Dimension: whole("mass", "lb")})
	}
	for _, q := range mCounts {
		s.Measures = append(s.Measures, rules.Measure{Name: q, Doc: "c", Dimension: rules.Count()})
	}
	for _, q := range mWords {
		s.Measures = append(s.Measures, rules.Measure{Name: q, Doc: "w", Words: wordList})
	}
	for _, q := range mFlags {
		s.Measures = append(s.Measures, rules.Measure{Name: q, Doc: "f", Flag: true})
	}
	v, err := rules.NewVocabulary(rules.Definition{
		Subjects: []rules.Subject{s},
		Actions:  []rules.Action{{Name: "stop", Doc: "stop", Stops: true}, {Name: "watch", Doc: "watch"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func pick[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// number is small, or now and then as large as can be.
func number(r *rand.Rand) int64 {
	switch r.IntN(12) {
	case 0:
		return math.MaxInt64 - int64(r.IntN(3))
	case 1:
		return math.MinInt64 + int64(r.IntN(3))
	case 2:
		return r.Int64() - r.Int64()
	}
	return int64(r.IntN(25) - 8)
}

func randomBound(r *rand.Rand) mBound {
	relations := []string{"at_most", "less_than", "at_least", "more_than", "is", "is_not"}
	b := mBound{relation: pick(r, relations)}
	switch r.IntN(10) {
	case 0, 1:
		b.measure, b.relation = pick(r, mWords), pick(r, relations[4:])
		b.words = slices.Clone(wordList[:1+r.IntN(3)])
	case 2:
		b.measure, b.relation, b.words = pick(r, mFlags), pick(r, relations[4:]), []string{pick(r, []string{"yes", "no"})}
	default:
		b.measure = pick(r, mQuantities)
		if r.IntN(2) == 0 {
			b.literal = min(max(number(r), math.MinInt64+1), math.MaxInt64-1)
			break
		}
		for b.of = b.measure; b.of == b.measure; {
			b.of = pick(r, mQuantities)
		}
		if r.IntN(3) > 0 {
			b.percent = pick(r, []*big.Rat{big.NewRat(50, 1), big.NewRat(80, 1), big.NewRat(100, 1), big.NewRat(1000, 1), big.NewRat(125, 10), big.NewRat(333333, 10000), big.NewRat(1, 10000)})
		}
		switch r.IntN(4) {
		case 0:
			b.divisor = int64(1 + r.IntN(1000))
		case 1:
			b.divMea = pick(r, mCounts)
		}
	}
	return b
}

func (b *mBound) text() string {
	if len(b.words) == 1 {
		return b.words[0]
	}
	if len(b.words) > 1 {
		return "[" + strings.Join(b.words, ", ") + "]"
	}
	if b.of == "" {
		return fmt.Sprintf("%d lb", b.literal)
	}
	out := b.of
	if b.percent != nil {
		out = b.percent.FloatString(4) + " % of " + out
	}
	if b.divisor > 0 {
		out += fmt.Sprintf(" divided by %d", b.divisor)
	}
	if b.divMea != "" {
		out += " divided by " + b.divMea
	}
	return out
}

func randomWhere(r *rand.Rand, depth int) []mCond {
	var out []mCond
	used := map[string]bool{}
	for range r.IntN(4) {
		if depth > 0 && r.IntN(3) == 0 && !used["any"] {
			used["any"] = true
			c := mCond{any: [][]mCond{}}
			for range 1 + r.IntN(3) {
				var a []mCond
				for len(a) == 0 {
					a = randomWhere(r, depth-1)
				}
				c.any = append(c.any, a)
			}
			out = append(out, c)
			continue
		}
		if b := randomBound(r); !used[b.measure] {
			used[b.measure] = true
			out = append(out, mCond{bound: &b})
		}
	}
	return out
}

func whereText(conds []mCond) string {
	var parts []string
	for _, c := range conds {
		if c.bound != nil {
			parts = append(parts, fmt.Sprintf("%s: {%s: %s}", c.bound.measure, c.bound.relation, c.bound.text()))
			continue
		}
		var alternatives []string
		for _, a := range c.any {
			alternatives = append(alternatives, whereText(a))
		}
		parts = append(parts, "any: ["+strings.Join(alternatives, ", ")+"]")
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

func (r *mRule) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "  %s: {title: t, subject: thing, measure: %s, %s: %s, action: stop, advice: a, source: {grade: computed}",
		r.id, r.bound.measure, r.bound.relation, r.bound.text())
	if len(r.where) > 0 {
		fmt.Fprintf(&b, ", where: %s", whereText(r.where))
	}
	if r.asBreached {
		b.WriteString(", too_close: as_breached")
	}
	if r.passMissing {
		b.WriteString(", not_recorded: does_not_apply")
	}
	return b.String() + "}\n"
}

// want is the value as the engine takes it.
func (v mValue) set(t testing.TB, f *rules.Facts, name string) {
	t.Helper()
	var err error
	switch v.kind {
	case "quantity":
		err = f.SetByName(name, rules.Between(v.n[0], v.n[1]))
	case "word":
		err = f.SetText(name, v.word)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func randomFacts(r *rand.Rand) mFacts {
	f := mFacts{}
	quantity := func(low int64) mValue {
		high := low
		if r.IntN(2) == 0 {
			if high = low + int64(r.IntN(6)); high < low {
				high = low
			}
		}
		return mValue{kind: "quantity", n: [2]int64{low, high}}
	}
	for _, q := range mQuantities {
		if r.IntN(6) > 0 {
			f[q] = quantity(number(r))
		}
	}
	for _, q := range mCounts {
		if r.IntN(6) > 0 {
			f[q] = quantity(pick(r, []int64{-1, 0, 1, 2, 4, 6, 999_999, 1_000_000}))
		}
	}
	for _, q := range mWords {
		if r.IntN(6) > 0 {
			f[q] = mValue{kind: "word", word: pick(r, wordList)}
		}
	}
	for _, q := range mFlags {
		if r.IntN(6) > 0 {
			f[q] = mValue{kind: "word", word: pick(r, []string{"yes", "no"})}
		}
	}
	return f
}

// The engine agrees with the model on random programs and facts.
func TestRunAgainstModel(t *testing.T) {
	v := modelVocabulary(t)
	rounds := 600
	if testing.Short() {
		rounds = 150
	}
	r := rand.New(rand.NewPCG(1, 2))
	seen := map[string]int{}
	for round := range rounds {
		model := make([]mRule, 6)
		text := "format: 1\npack: p\ntitle: t\nrules:\n"
		for i := range model {
			model[i] = mRule{id: fmt.Sprintf("r%d", i), where: randomWhere(r, 2), bound: randomBound(r), asBreached: r.IntN(4) == 0, passMissing: r.IntN(4) == 0}
			text += model[i].text()
		}
		pack, err := rules.LoadPack("p.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		program, err := rules.Compile(v, pack)
		if err != nil {
			// Two random rules may contradict each other; nothing else may
			// be wrong with them.
			if strings.Contains(err.Error(), "contradiction") {
				seen["contradiction"]++
				continue
			}
			t.Fatalf("%v\n%s", err, text)
		}
		for range 12 {
			given := randomFacts(r)
			facts, err := v.NewFacts("thing", "it")
			if err != nil {
				t.Fatal(err)
			}
			for name, val := range given {
				val.set(t, facts, name)
			}
			findings, err := program.AppendRun(nil, facts)
			if err != nil {
				t.Fatal(err)
			}
			checkNotKept(t, program, facts, findings)
			got := map[string]rules.Finding{}
			for _, f := range findings {
				got[f.Rule.ID()] = f
			}
			for _, m := range model {
				want := m.judge(given)
				seen[want]++
				f, found := got[m.id]
				if found != (want != "") || found && f.Verdict.String() != want {
					t.Fatalf("round %d: want %q, got %q for %v\n%s", round, want, f.Verdict, given, m.text())
				}
				if found {
					checkFinding(t, &m, given, f)
				}
			}
		}
	}
	for _, v := range []string{"", "kept", "breached", tooClose, notRecorded, "contradiction"} {
		if seen[v] == 0 && !testing.Short() {
			t.Errorf("no random rule came out %q: %v", v, seen)
		}
	}
}

// Many rules on one subject are judged in blocks, each as one by one.
func TestManyRulesAgainstOneByOne(t *testing.T) {
	t.Parallel()
	v := modelVocabulary(t)
	r := rand.New(rand.NewPCG(3, 4))
	var packs []rules.Pack
	program := (*rules.Program)(nil)
	for n := 0; program == nil || len(program.Rules()) < 130; n++ {
		text := fmt.Sprintf("format: 1\npack: p%d\ntitle: t\nrules:\n", n)
		m := mRule{id: "r", where: randomWhere(r, 2), bound: randomBound(r), asBreached: r.IntN(4) == 0, passMissing: r.IntN(4) == 0}
		text += m.text()
		pack, err := rules.LoadPack("p.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if more, err := rules.Compile(v, append(packs, pack)...); err == nil { // else it contradicts one before
			packs, program = append(packs, pack), more
		}
	}
	for range 40 {
		facts, err := v.NewFacts("thing", "it")
		if err != nil {
			t.Fatal(err)
		}
		for name, val := range randomFacts(r) {
			val.set(t, facts, name)
		}
		findings, err := program.AppendRun(nil, facts)
		if err != nil {
			t.Fatal(err)
		}
		checkNotKept(t, program, facts, findings)
	}
}

// Shares that differ in one thing alone are told apart where they are judged
// together.
func TestSharesAlmostAlike(t *testing.T) {
	t.Parallel()
	subject := rules.Subject{Name: "thing", Doc: "d"}
	for _, name := range []string{"load", "rating", "other", "wheels"} {
		subject.Measures = append(subject.Measures, rules.Measure{Name: name, Doc: "d", Dimension: rules.Count()})
	}
	v, err := rules.NewVocabulary(rules.Definition{Subjects: []rules.Subject{subject}, Actions: []rules.Action{{Name: "stop", Doc: "d"}}})
	if err != nil {
		t.Fatal(err)
	}
	bounds := []string{
		"at_most: rating", "at_least: rating", "less_than: rating", "more_than: rating", "is: rating", "is_not: rating",
		"at_most: other", "at_most: 50 % of rating", "at_most: rating divided by 2", "at_most: rating divided by wheels", "at_most: 200 % of rating",
	}
	text := "pack: p\ntitle: t\nrules:\n"
	for i, b := range bounds {
		text += fmt.Sprintf("  r%c: {title: t, subject: thing, measure: load, %s, action: stop, advice: a, source: {grade: computed}}\n", 'a'+i, b)
	}
	p := compiled(t, v, text)
	values := []string{"", "0", "1", "2", "4", "1 to 3"}
	for n := range len(values) * len(values) * len(values) * len(values) {
		facts, err := v.NewFacts("thing", "it")
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range subject.Measures {
			if text := values[n%len(values)]; text != "" {
				if err := facts.SetText(m.Name, text); err != nil {
					t.Fatal(err)
				}
			}
			n /= len(values)
		}
		all, err := p.AppendRun(nil, facts)
		if err != nil || len(all) != len(bounds) {
			t.Fatal(all, err)
		}
		checkNotKept(t, p, facts, all)
	}
}

// checkNotKept: AppendNotKept gives what AppendRun gives, less the kept ones on
// other measures than it is asked for.
func checkNotKept(t *testing.T, p *rules.Program, facts *rules.Facts, all []rules.Finding) {
	t.Helper()
	var asked []rules.MeasureRef
	for ask := range len(all) + 1 {
		if ask > 0 {
			asked = append(asked, all[ask-1].Rule.Measure())
		}
		var want []rules.Finding
		kept := 0
		for _, f := range all {
			if f.Verdict == rules.Kept {
				kept++
			}
			if f.Verdict != rules.Kept || slices.Contains(asked, f.Rule.Measure()) {
				want = append(want, f)
			}
		}
		got, n, err := p.AppendNotKept(nil, facts, asked...)
		if err != nil || n != kept || !slices.Equal(got, want) {
			t.Fatalf("asked for %d measures: got %v, %d kept, %v, want %v, %d kept", ask, got, n, err, want, kept)
		}
	}
}

// checkFinding holds what a finding says beyond its verdict to the model.
func checkFinding(t *testing.T, m *mRule, given mFacts, f rules.Finding) {
	t.Helper()
	record := f.ToRecord()
	switch {
	case f.Verdict == rules.Kept && len(record) > 0,
		(f.Verdict == rules.NotRecorded || f.Verdict == rules.TooClose) && len(record) == 0,
		f.WasTooClose() && !m.asBreached:
		t.Fatalf("%v with %v to record, %v\n%s", f.Verdict, record, given, m.text())
	}
	for _, name := range record {
		v := given[name]
		missing := v.kind == "" || v.kind == "quantity" && (v.n[0] < 1 || v.n[1] > 1_000_000) && strings.HasPrefix(name, "c")
		if f.Verdict == rules.NotRecorded && !missing || f.Verdict != rules.NotRecorded && (missing || v.n[0] == v.n[1]) {
			t.Fatalf("%v, but %s is %v\n%s", f.Verdict, name, v, m.text())
		}
	}
	if f.BoundText() == "" || f.ValueText() == "" || f.Rule.Sentence() == "" {
		t.Fatalf("a text is empty\n%s", m.text())
	}
	low, high, ok := f.Bound().Interval()
	if !ok || m.bound.of == "" || low == math.MinInt64 || high == math.MaxInt64 || high == math.MinInt64 || low == math.MaxInt64 {
		return
	}
	// A computed bound is on the stricter side of the exact one, by less than
	// a step.
	b := m.bound
	exact := [2]*big.Rat{}
	for i := range exact {
		for _, d := range divisors(b, given) {
			c := new(big.Rat).SetInt64(given[b.of].n[i])
			if b.percent != nil {
				c.Mul(c, b.percent).Quo(c, big.NewRat(100, 1))
			}
			c.Quo(c, new(big.Rat).SetInt64(max(b.divisor, 1)*d))
			if exact[i] == nil || i == 0 && c.Cmp(exact[i]) < 0 || i == 1 && c.Cmp(exact[i]) > 0 {
				exact[i] = c
			}
		}
	}
	for i, got := range []int64{low, high} {
		diff := new(big.Rat).Sub(new(big.Rat).SetInt64(got), exact[i])
		up := b.relation == "at_least" || b.relation == "more_than" || i == 1 && (b.relation == "is" || b.relation == "is_not")
		if diff.Num().CmpAbs(diff.Denom()) >= 0 || up && diff.Sign() < 0 || !up && diff.Sign() > 0 {
			t.Fatalf("bound %d for %v\n%s", got, exact[i], m.text())
		}
	}
}

func divisors(b mBound, given mFacts) []int64 {
	if b.divMea == "" {
		return []int64{1}
	}
	n := given[b.divMea].n
	return n[:]
}

// More plus/minus never turns one certain verdict into the other, and a
// narrower interval keeps a certain verdict.
func TestWiderIsNeverSurer(t *testing.T) {
	v := modelVocabulary(t)
	p := compiled(t, v, "pack: p\ntitle: t\nrules:\n"+
		"  up: {title: t, subject: thing, measure: q0, at_most: 33.3333 % of q1 divided by c0, action: stop, advice: a, source: {grade: computed}}\n"+
		"  down: {title: t, subject: thing, measure: q0, more_than: 33.3333 % of q1 divided by c0, action: stop, advice: a, source: {grade: computed}}\n")
	r := rand.New(rand.NewPCG(3, 4))
	f, err := v.NewFacts("thing", "it")
	if err != nil {
		t.Fatal(err)
	}
	for range 4000 {
		n, of := int64(r.IntN(100)-50), int64(r.IntN(400)-200)
		if err := f.SetByName("c0", rules.Between(1, int64(1+r.IntN(3)))); err != nil {
			t.Fatal(err)
		}
		var last [2]rules.Verdict
		for pm := int64(20); pm >= 0; pm -= 4 {
			_ = f.SetByName("q0", rules.PlusMinus(n, pm))
			_ = f.SetByName("q1", rules.PlusMinus(of, 2*pm))
			found, err := p.AppendRun(nil, f)
			if err != nil || len(found) != 2 {
				t.Fatal(found, err)
			}
			for i := range found {
				if last[i] != 0 && last[i] != rules.TooClose && found[i].Verdict != last[i] {
					t.Fatalf("n %d of %d pm %d: %v after %v", n, of, pm, found[i].Verdict, last[i])
				}
				last[i] = found[i].Verdict
			}
			// at_most and more_than of one bound are each other's opposite.
			if a, b := found[0].Verdict, found[1].Verdict; (a == rules.Kept) != (b == rules.Breached) || (a == rules.TooClose) != (b == rules.TooClose) {
				t.Fatalf("at most: %v, more than: %v", a, b)
			}
		}
	}
}

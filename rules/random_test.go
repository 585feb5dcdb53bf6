package rules_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/testsize"
	"axleend.example/rules"
)

// The model below knows what a rule means, and nothing of how the engine does
// it: quantities are sets of rationals, tried at every place that matters within
// their plus/minus; words are words.

type mValue struct {
	kind string // "", "quantity", "word"
	n    [2]int64
	open string // "", "or less", "or more", "within", "within or less", "within or more"
	word string
}

// An mSet is what a quantity may be; nil is no end.
type mSet struct{ low, high *big.Rat }

func rat(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

// places are the sets that a quantity may be, one for each place of the reading
// at the ends of its plus/minus, and at those of also that lie between.
func (v mValue) places(also []*big.Rat) []mSet {
	switch v.open {
	case "within":
		return []mSet{{rat(v.n[0]), rat(v.n[1])}}
	case "within or less":
		return []mSet{{nil, rat(v.n[1])}}
	case "within or more":
		return []mSet{{rat(v.n[0]), nil}}
	}
	at := []*big.Rat{rat(v.n[0]), rat(v.n[1])}
	for _, p := range also {
		if p.Cmp(at[0]) > 0 && p.Cmp(at[1]) < 0 {
			at = append(at, p)
		}
	}
	out := make([]mSet, len(at))
	for i, p := range at {
		switch out[i] = (mSet{p, p}); v.open {
		case "or less":
			out[i].low = nil
		case "or more":
			out[i].high = nil
		}
	}
	return out
}

func (v mValue) divides() bool {
	return v.kind != "" && v.n[0] >= 1 && v.n[1] <= 1_000_000 && (v.open == "" || v.open == "within")
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
	asks        bool
}

type mFacts map[string]mValue

const (
	notRecorded = "not recorded"
	tooClose    = "too close"
	closeOrOpen = "too close, and open" // of conditions
)

// factor is what a bound's measure is multiplied by.
func (b *mBound) factor() *big.Rat {
	f := big.NewRat(1, max(b.divisor, 1))
	if b.percent != nil {
		f.Mul(f, b.percent).Quo(f, big.NewRat(100, 1))
	}
	return f
}

// bounds are the sets that the bound may be, one for each place of the readings
// that it is computed from; also are places of the measure.
func (b *mBound) bounds(f mFacts, also []*big.Rat) []mSet {
	if b.of == "" {
		return []mSet{{rat(b.literal), rat(b.literal)}}
	}
	divisors := []mSet{{rat(1), rat(1)}}
	if b.divMea != "" {
		var touching []*big.Rat
		for _, p := range also {
			for _, of := range corners(f[b.of].places(nil)) {
				if p.Sign() != 0 {
					d := new(big.Rat).Mul(of, b.factor())
					touching = append(touching, d.Quo(d, p))
				}
			}
		}
		divisors = f[b.divMea].places(touching)
	}
	// Where the measure could stand right at the bound.
	var touching []*big.Rat
	for _, p := range also {
		for _, d := range divisors {
			for _, by := range []*big.Rat{d.low, d.high} {
				p := new(big.Rat).Mul(p, by)
				touching = append(touching, p.Quo(p, b.factor()))
			}
		}
	}
	var out []mSet
	for _, of := range f[b.of].places(touching) {
		for _, d := range divisors {
			var s mSet
			for _, by := range []*big.Rat{d.low, d.high} {
				share := new(big.Rat).Quo(b.factor(), by)
				if of.low != nil {
					if n := new(big.Rat).Mul(of.low, share); s.low == nil || n.Cmp(s.low) < 0 {
						s.low = n
					}
				}
				if of.high != nil {
					if n := new(big.Rat).Mul(of.high, share); s.high == nil || n.Cmp(s.high) > 0 {
						s.high = n
					}
				}
			}
			out = append(out, s)
		}
	}
	return out
}

func corners(sets []mSet) []*big.Rat {
	var out []*big.Rat
	for _, s := range sets {
		for _, p := range []*big.Rat{s.low, s.high} {
			if p != nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// stands gives which of below, at and above x may be, held against y.
func (x mSet) stands(y mSet) (ways [3]bool) {
	ways[0] = x.low == nil || y.high == nil || x.low.Cmp(y.high) < 0
	ways[2] = x.high == nil || y.low == nil || x.high.Cmp(y.low) > 0
	ways[1] = (x.low == nil || y.high == nil || x.low.Cmp(y.high) <= 0) && (x.high == nil || y.low == nil || x.high.Cmp(y.low) >= 0)
	return ways
}

var keptWays = map[string][3]bool{
	"at_most": {true, true, false}, "less_than": {true, false, false}, "at_least": {false, true, true},
	"more_than": {false, false, true}, "is": {false, true, false}, "is_not": {true, false, true},
}

// outcomes gives what holds at the places that the readings may have.
func (b *mBound) outcomes(f mFacts) (kept, breached, open bool) {
	ends := f[b.measure].places(nil)
	bounds := b.bounds(f, corners(ends))
	for _, x := range f[b.measure].places(corners(bounds)) {
		for _, y := range bounds {
			ways, keeps := x.stands(y), keptWays[b.relation]
			var in, out bool
			for i, may := range ways {
				in, out = in || may && keeps[i], out || may && !keeps[i]
			}
			kept, breached, open = kept || in && !out, breached || out && !in, open || in && out
		}
	}
	return kept, breached, open
}

// judge gives the verdict on the bound of a rule, or on that of a condition.
func (b *mBound) judge(f mFacts, condition bool) string {
	v := f[b.measure]
	switch {
	case v.kind == "":
		return notRecorded
	case len(b.words) > 0:
		return verdictOf(slices.Contains(b.words, v.word) == (b.relation == "is"))
	case b.of != "" && f[b.of].kind == "" || b.divMea != "" && !f[b.divMea].divides():
		return notRecorded
	}
	kept, breached, open := b.outcomes(f)
	switch {
	case !breached && !open:
		return "kept"
	case !kept && !open:
		return "breached"
	case condition && kept && open:
		return closeOrOpen
	case condition && kept, !condition && breached:
		return tooClose
	}
	return notRecorded
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
			each = append(each, c.bound.judge(f, true))
			continue
		}
		var alternatives []string
		for _, a := range c.any {
			alternatives = append(alternatives, judgeAll(a, f))
		}
		each = append(each, together(alternatives, "kept", notRecorded, closeOrOpen, tooClose, "breached"))
	}
	return together(each, "breached", notRecorded, closeOrOpen, tooClose, "kept")
}

func (r *mRule) judge(f mFacts) string {
	if r.passMissing && f[r.bound.measure].kind == "" {
		return ""
	}
	where, out := judgeAll(r.where, f), r.bound.judge(f, false)
	switch {
	case where == "breached":
		return ""
	case where == notRecorded, where == closeOrOpen && out == "kept":
		return notRecorded
	case (where == tooClose || where == closeOrOpen) && out == "breached":
		out = tooClose
	}
	if out == tooClose && r.asBreached {
		out = "breached"
	}
	return out
}

// asRead gives the facts with nothing open.
func (f mFacts) asRead() mFacts {
	out := mFacts{}
	for name, v := range f {
		v.open = ""
		out[name] = v
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
	if r.asks {
		b.WriteString(", not_recorded: asked")
	}
	return b.String() + "}\n"
}

// value is a quantity as the engine takes it.
func (v mValue) value() rules.Value {
	read := rules.Between(v.n[0], v.n[1])
	switch v.open {
	case "or less":
		return read.OrLess()
	case "or more":
		return read.OrMore()
	case "within":
		return rules.Somewhere(v.n[0], v.n[1])
	case "within or less":
		return rules.Somewhere(v.n[0], v.n[1]).OrLess()
	case "within or more":
		return rules.Somewhere(v.n[0], v.n[1]).OrMore()
	}
	return read
}

func (v mValue) set(t testing.TB, f *rules.Facts, name string) {
	t.Helper()
	var err error
	switch v.kind {
	case "":
		err = f.SetByName(name, rules.Value{})
	case "quantity":
		err = f.SetByName(name, v.value())
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
		return mValue{kind: "quantity", n: [2]int64{low, high}, open: pick(r, []string{"", "", "", "or less", "or more", "within", "within or less", "within or more"})}
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

func randomRule(r *rand.Rand, id string) mRule {
	m := mRule{id: id, where: randomWhere(r, 2), bound: randomBound(r), asBreached: r.IntN(4) == 0}
	m.passMissing, m.asks = r.IntN(4) == 0, r.IntN(4) == 0
	m.asks = m.asks && !m.passMissing
	return m
}

// randomProgram makes six rules. The program is nil if two of them contradict
// each other, as random ones may; nothing else may be wrong with them.
func randomProgram(t *testing.T, r *rand.Rand, v *rules.Vocabulary) ([]mRule, *rules.Program) {
	t.Helper()
	model := make([]mRule, 6)
	text := "format: 1\npack: p\ntitle: t\nrules:\n"
	for i := range model {
		model[i] = randomRule(r, fmt.Sprintf("r%d", i))
		text += model[i].text()
	}
	pack, err := rules.ReadPack("p.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	program, err := rules.Compile(v, pack)
	if err != nil && !strings.Contains(err.Error(), "contradiction") {
		t.Fatalf("%v\n%s", err, text)
	}
	return model, program
}

// The engine agrees with the model on random programs and facts.
func TestRunAgainstModel(t *testing.T) {
	v := modelVocabulary(t)
	rounds := 600
	if !testsize.Full() {
		rounds = 150
	}
	r := rand.New(rand.NewPCG(1, 2))
	seen := map[string]int{}
	for round := range rounds {
		model, program := randomProgram(t, r, v)
		if program == nil {
			seen["contradiction"]++
			continue
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
		if seen[v] == 0 && testsize.Full() {
			t.Errorf("no random rule came out %q: %v", v, seen)
		}
	}
}

// Many rules on one subject are judged in blocks, each as one by one.
func TestManyRulesAgainstOneByOne(t *testing.T) {
	t.Parallel()
	v := modelVocabulary(t)
	r := rand.New(rand.NewPCG(3, 4))
	text := "format: 1\npack: p\ntitle: t\nrules:\n"
	program := (*rules.Program)(nil)
	for n := 0; program == nil || len(program.Rules()) < 130; n++ {
		m := randomRule(r, fmt.Sprintf("r%d", n))
		pack, err := rules.ReadPack("p.yaml", []byte(text+m.text()))
		if err != nil {
			t.Fatalf("%v\n%s", err, m.text())
		}
		if more, err := rules.Compile(v, pack); err == nil { // else it contradicts one before
			text, program = text+m.text(), more
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
	for _, name := range []string{"load", "rating", "other", "axles"} {
		subject.Measures = append(subject.Measures, rules.Measure{Name: name, Doc: "d", Dimension: rules.Count()})
	}
	v, err := rules.NewVocabulary(rules.Definition{Subjects: []rules.Subject{subject}, Actions: []rules.Action{{Name: "stop", Doc: "d"}}})
	if err != nil {
		t.Fatal(err)
	}
	bounds := []string{
		"at_most: rating", "at_least: rating", "less_than: rating", "more_than: rating", "is: rating", "is_not: rating",
		"at_most: other", "at_most: 50 % of rating", "at_most: rating divided by 2", "at_most: rating divided by axles", "at_most: 200 % of rating",
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
	opened := len(record) > 0
	for _, name := range record {
		v := given[name]
		closed := v
		closed.open = ""
		missing := v.kind == "" || v.kind == "quantity" && strings.HasPrefix(name, "c") && !closed.divides()
		opened = opened && !missing && v.open != ""
		if f.Verdict == rules.NotRecorded && !missing && v.open == "" || f.Verdict != rules.NotRecorded && (missing || v.n[0] == v.n[1] && v.open == "") {
			t.Fatalf("%v, but %s is %v, %v\n%s", f.Verdict, name, v, given, m.text())
		}
	}
	want, closed := f.Verdict.String(), given.asRead()
	if f.Verdict == rules.NotRecorded {
		if want = m.judge(closed); want == "" || m.bound.judge(closed, false) == "kept" {
			want = "kept" // nothing that is missing can bring a breach to light
		}
	}
	if got := f.AsRead(); got.String() != want || f.Open() && !opened || opened && !f.Open() && f.Verdict == rules.NotRecorded {
		t.Fatalf("as read %v, want %v; open %v, of %v, %v\n%s", got, want, f.Open(), record, given, m.text())
	}
	if asked := f.Verdict == rules.NotRecorded && f.AsRead() != rules.Kept && (f.Open() || m.asks); f.Asked() != asked {
		t.Fatalf("asked: %v, want %v, %v\n%s", f.Asked(), asked, given, m.text())
	}
	if f.BoundText() == "" || f.ValueText() == "" || f.Rule.Sentence() == "" {
		t.Fatalf("a text is empty\n%s", m.text())
	}
	low, high, ok := f.Bound().Interval()
	if !ok || f.Bound().Open() || m.bound.of == "" || low == math.MinInt64 || high == math.MaxInt64 || high == math.MinInt64 || low == math.MaxInt64 {
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

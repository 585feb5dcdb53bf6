package rules_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"axleend.example/internal/testsize"
	"axleend.example/rules"
)

// What is said of quantities that are open: the verdict, the verdict as read,
// and whether it is asked. Computed from the definition in the package comment.
func TestOpenQuantities(t *testing.T) {
	t.Parallel()
	const (
		kept, breached, close, open = rules.Kept, rules.Breached, rules.TooClose, rules.NotRecorded
	)
	for _, tc := range []struct {
		pull, rating, bound  string
		want, asRead, asRule rules.Verdict // asRule: with too_close: as_breached
	}{
		// A hot reading: the cold pressure is at most that.
		{"at most 82 lb", "", "more_than: 84 lb", breached, breached, breached},
		{"at most 82 lb +/- 1 lb", "", "more_than: 84 lb", breached, breached, breached},
		{"at most 82 lb +/- 2 lb", "", "more_than: 84 lb", breached, breached, breached},
		{"at most 83 lb +/- 2 lb", "", "more_than: 84 lb", close, close, breached},
		{"at most 84 lb +/- 2 lb", "", "more_than: 84 lb", close, close, breached},
		{"at most 86 lb +/- 2 lb", "", "more_than: 84 lb", close, close, breached},
		{"at most 87 lb +/- 2 lb", "", "more_than: 84 lb", open, kept, open},
		{"at most 95 lb +/- 2 lb", "", "more_than: 84 lb", open, kept, open},
		// An end of an axle that was weighed whole carries at most the axle.
		{"at most 82 lb +/- 2 lb", "", "at_most: 84 lb", kept, kept, kept},
		{"at most 84 lb +/- 2 lb", "", "at_most: 84 lb", open, close, open},
		{"at most 95 lb", "", "at_most: 84 lb", open, breached, open},
		// Not all was aboard: the load is at least that.
		{"at least 86 lb +/- 1 lb", "", "at_most: 84 lb", breached, breached, breached},
		{"at least 84 lb +/- 2 lb", "", "at_most: 84 lb", close, close, breached},
		{"at least 84 lb", "", "at_most: 84 lb", open, kept, open},
		{"at least 40 lb", "", "at_most: 84 lb", open, kept, open},
		{"at least 84 lb", "", "at_least: 84 lb", kept, kept, kept},
		{"at least 84 lb", "", "more_than: 84 lb", open, breached, open},
		{"at least 84 lb", "", "less_than: 84 lb", breached, breached, breached},
		// Limits alone.
		{"at least 40 lb, at most 82 lb", "", "at_most: 84 lb", kept, kept, kept},
		{"at least 40 lb, at most 82 lb", "", "at_most: 60 lb", open, close, open},
		{"at least 40 lb, at most 82 lb", "", "at_most: 39 lb", breached, breached, breached},
		{"40 lb to 82 lb", "", "at_most: 60 lb", close, close, breached},
		// One count: an open quantity is never surely at it.
		{"at most 84 lb", "", "is: 85 lb", breached, breached, breached},
		{"at most 84 lb", "", "is: 84 lb", open, kept, open},
		{"at most 84 lb +/- 2 lb", "", "is: 85 lb", close, close, breached},
		{"at most 84 lb", "", "is_not: 85 lb", kept, kept, kept},
		{"at most 84 lb", "", "is_not: 84 lb", open, breached, open},
		{"at most 84 lb +/- 2 lb", "", "is_not: 85 lb", open, close, open},
		// What the bound is a share of is open: below the lowest row of a table
		// a tire carries more than nothing and at most that row's load.
		{"5100 lb", "at most 10000 lb", "at_most: 50 % of pull_rating", breached, breached, breached},
		{"5100 lb +/- 200 lb", "at most 10000 lb", "at_most: 50 % of pull_rating", close, close, breached},
		{"4900 lb", "at most 10000 lb", "at_most: 50 % of pull_rating", open, kept, open},
		{"4900 lb", "at least 10000 lb", "at_most: 50 % of pull_rating", kept, kept, kept},
		{"5100 lb", "at least 10000 lb", "at_most: 50 % of pull_rating", open, breached, open},
		{"5100 lb", "at least 8000 lb, at most 12000 lb", "at_most: 50 % of pull_rating", open, close, open},
		{"6100 lb", "at least 8000 lb, at most 12000 lb", "at_most: 50 % of pull_rating", breached, breached, breached},
		// Both open, the same way and against each other.
		{"at most 4900 lb", "at least 10000 lb", "at_most: 50 % of pull_rating", kept, kept, kept},
		{"at least 5100 lb", "at most 10000 lb", "at_most: 50 % of pull_rating", breached, breached, breached},
		{"at most 4900 lb", "at most 10000 lb", "at_most: 50 % of pull_rating", open, kept, open},
		{"at least 5100 lb", "at least 10000 lb", "at_most: 50 % of pull_rating", open, breached, open},
	} {
		for _, breaches := range []bool{false, true} {
			key, want, asRead := "", tc.want, tc.asRead
			if breaches {
				key, want = "too_close: as_breached, ", tc.asRule
				if asRead == close {
					asRead = breached
				}
			}
			f := oneFinding(t, fmt.Sprintf("{title: t, subject: valve, measure: pull, %s, %saction: stop, advice: a, source: {grade: computed}}", tc.bound, key),
				map[string]string{"pull": tc.pull, "pull_rating": tc.rating})
			if f.Verdict != want || f.AsRead() != asRead {
				t.Errorf("%s %s of %s, %v: %v, as read %v; want %v and %v", tc.pull, tc.bound, tc.rating, breaches, f.Verdict, f.AsRead(), want, asRead)
			}
			if f.Open() != (want == open) || f.Asked() != (want == open && asRead != kept) {
				t.Errorf("%s %s of %s: open %v, asked %v", tc.pull, tc.bound, tc.rating, f.Open(), f.Asked())
			}
			if open := strings.Contains(tc.pull+tc.rating, "at "); want == rules.NotRecorded && (len(f.ToRecord()) == 0 || !open) {
				t.Errorf("%s %s of %s: to record %v", tc.pull, tc.bound, tc.rating, f.ToRecord())
			}
		}
	}
}

func oneFinding(t *testing.T, rule string, given map[string]string) rules.Finding {
	t.Helper()
	v := mustVocabulary(t)
	facts, err := v.NewFacts("valve", "it")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range given {
		if text == "" {
			continue
		}
		if err := facts.SetText(name, text); err != nil {
			t.Fatal(err)
		}
	}
	found, err := compiled(t, v, "pack: p\ntitle: t\nrules:\n  r: "+rule+"\n").AppendRun(nil, facts)
	if err != nil || len(found) != 1 {
		t.Fatal(found, err)
	}
	return found[0]
}

// A condition on an open quantity, and which questions a rule asks.
func TestOpenConditionsAndQuestions(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name, keys, pull, age string
		want, asRead          rules.Verdict
		open, asked           bool
	}{
		{"holds for certain", "", "9 lb", "at least 6 years", rules.Breached, rules.Breached, false, false},
		{"holds at the most", "", "9 lb", "at least 5 years +/- 1 years", rules.TooClose, rules.TooClose, false, false},
		{"and the bound is kept", "", "7 lb", "at least 5 years +/- 1 years", rules.NotRecorded, rules.Kept, true, false},
		{"holds as read", "", "9 lb", "at most 7 years", rules.NotRecorded, rules.Breached, true, true},
		{"does not hold as read", "", "9 lb", "at least 4 years", rules.NotRecorded, rules.Kept, true, false},
		{"as breached", "too_close: as_breached, ", "9 lb", "at most 7 years", rules.NotRecorded, rules.Breached, true, true},
		{"nothing recorded", "", "9 lb", "", rules.NotRecorded, rules.NotRecorded, false, false},
		{"nothing recorded, asked", "not_recorded: asked, ", "9 lb", "", rules.NotRecorded, rules.NotRecorded, false, true},
		{"nothing recorded, bound kept", "not_recorded: asked, ", "7 lb", "", rules.NotRecorded, rules.Kept, false, false},
		{"measure not recorded", "not_recorded: asked, ", "", "9 years", rules.NotRecorded, rules.NotRecorded, false, true},
		{"measure not recorded, false as read", "not_recorded: asked, ", "", "at least 4 years", rules.NotRecorded, rules.Kept, false, false},
		{"one open, one not recorded", "", "at least 6 lb", "", rules.NotRecorded, rules.Kept, false, false},
	} {
		f := oneFinding(t, "{title: t, subject: valve, measure: pull, at_most: 8 lb, where: {stem_age: {at_least: 6 years}}, "+tc.keys+
			"action: stop, advice: a, ask: Look., source: {grade: computed}}", map[string]string{"pull": tc.pull, "stem_age": tc.age})
		if f.Verdict != tc.want || f.AsRead() != tc.asRead || f.Open() != tc.open || f.Asked() != tc.asked {
			t.Errorf("%s: %v, as read %v, open %v, asked %v; want %v, %v, %v, %v", tc.name, f.Verdict, f.AsRead(), f.Open(), f.Asked(), tc.want, tc.asRead, tc.open, tc.asked)
		}
		if f.Rule.Ask() != "Look." || f.Rule.Asks() != strings.Contains(tc.keys, "asked") || strings.Contains(f.Rule.Sentence(), "asked") != f.Rule.Asks() {
			t.Errorf("%s: %q, %v, %q", tc.name, f.Rule.Ask(), f.Rule.Asks(), f.Rule.Sentence())
		}
	}
}

// What a judgment does with a question: it stands at its action, behind a breach
// beside it.
func TestQuestions(t *testing.T) {
	t.Parallel()
	v := mustVocabulary(t)
	rule := "  %s: {title: t, subject: valve, measure: pull, at_most: %s, action: %s, not_recorded: %s, advice: a, source: {grade: computed}}\n"
	for _, tc := range []struct {
		name, pull, rating string
		verdict            rules.Verdict
		action, question   string
	}{
		{"kept", "5 lb", "40 lb", rules.Kept, "", ""},
		{"asked", "5 lb", "", rules.NotRecorded, "stop", "stop"},
		{"a breach beside a question", "15 lb", "", rules.Breached, "replace", "stop"},
		{"a reading that is open", "at most 15 lb", "40 lb", rules.NotRecorded, "replace", "replace"},
		{"too close beside a question", "10 lb +/- 1 lb", "", rules.TooClose, "stop", "stop"},
	} {
		p := compiled(t, v, "pack: p\ntitle: t\nrules:\n"+fmt.Sprintf(rule, "low", "10 lb", "replace", "reported")+
			fmt.Sprintf(rule, "high", "pull_rating", "stop", "asked")+fmt.Sprintf(rule, "mid", "50 % of pull_rating", "watch", "reported"))
		facts, _ := v.NewFacts("valve", "it")
		for name, text := range map[string]string{"pull": tc.pull, "pull_rating": tc.rating} {
			if text != "" {
				if err := facts.SetText(name, text); err != nil {
					t.Fatal(err)
				}
			}
		}
		found, err := p.AppendRun(nil, facts)
		all := rules.Merge(found)
		if err != nil || len(all) != 1 {
			t.Fatal(all, err)
		}
		j := all[0]
		action, ok := j.Action()
		question, asked := j.Question()
		if j.Verdict != tc.verdict || action.Name != tc.action || ok != (tc.action != "") || question.Name != tc.question || asked != (tc.question != "") {
			t.Errorf("%s: %v, action %q, question %q", tc.name, j.Verdict, action.Name, question.Name)
		}
		if j.Verdict == rules.NotRecorded && !j.Lead().Asked() {
			t.Errorf("%s: %s leads", tc.name, j.Lead().Rule.ID())
		}
	}
}

func TestOpenValues(t *testing.T) {
	t.Parallel()
	end := func(n int64, ok bool) string {
		if !ok {
			return "open"
		}
		return fmt.Sprint(n)
	}
	for _, tc := range []struct {
		v           rules.Value
		least, most string
		open, both  bool
	}{
		{rules.Quantity(int64(5)), "5", "5", false, true},
		{rules.PlusMinus(int64(5), 2), "3", "7", false, true},
		{rules.PlusMinus(int64(5), 2).OrLess(), "open", "7", true, false},
		{rules.PlusMinus(int64(5), 2).OrMore(), "3", "open", true, false},
		{rules.PlusMinus(int64(5), 2).OrLess().OrLess(), "open", "7", true, false},
		{rules.PlusMinus(int64(5), 2).OrLess().AsRead(), "3", "7", false, true},
		{rules.Somewhere(int64(7), 3), "3", "7", true, true},
		{rules.Somewhere(int64(3), 7).AsRead(), "3", "7", false, true},
		{rules.Somewhere(int64(3), 7).OrLess(), "open", "7", true, false},
		{rules.Somewhere(int64(3), 7).OrMore(), "3", "open", true, false},
		{rules.Somewhere(int64(3), 3), "3", "3", false, true},
		{rules.Quantity(int64(5)).OrLess().OrMore(), "open", "open", false, false},
		{rules.Flag(true), "open", "open", false, false},
		{rules.Value{}, "open", "open", false, false},
	} {
		_, _, both := tc.v.Interval()
		if least, most := end(tc.v.Least()), end(tc.v.Most()); least != tc.least || most != tc.most || tc.v.Open() != tc.open || both != tc.both {
			t.Errorf("%+v: least %s, most %s, open %v, both %v", tc.v, least, most, tc.v.Open(), both)
		}
	}
	if rules.Quantity(int64(5)).OrLess().OrMore() != (rules.Value{}) || rules.Flag(true).OrLess() != rules.Flag(true) || rules.Word(1).OrMore() != rules.Word(1) {
		t.Error("nothing is known of what is open on both sides; only a quantity can be open")
	}
}

// Every open value is written so that it reads back, and what cannot be is
// refused.
func TestOpenValueText(t *testing.T) {
	t.Parallel()
	v := mustVocabulary(t)
	m, err := v.Measure("valve", "pull")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]rules.Value{
		"at most 82 lb":                          rules.Quantity(int64(82)).OrLess(),
		"at least 3000 lb +/- 20 lb":             rules.PlusMinus(int64(3000), 20).OrMore(),
		"at least 40 lb, at most 82 lb":          rules.Somewhere(int64(40), 82),
		"at least 3000 lb, at most 4000 lb":      rules.Somewhere(int64(3000), 4000),
		"at most 80 lb to 85 lb":                 rules.Between(int64(80), 85).OrLess(),
		"at most 85 lb, as read 80 lb to 85 lb":  rules.Somewhere(int64(80), 85).OrLess(),
		"at least 80 lb, as read 80 lb to 85 lb": rules.Somewhere(int64(80), 85).OrMore(),
		"at least 40 lb, at most 40 lb":          rules.Quantity(int64(40)),
		"at least -9223372036854775807 lb":       rules.Quantity(int64(-9223372036854775807)).OrMore(),
		"at most 9223372036854775807 lb":         rules.Quantity(int64(9223372036854775807)).OrLess(),
	} {
		got, err := m.Parse(text)
		if err != nil {
			if !strings.Contains(text, "9223372036854775807") {
				t.Errorf("%q: %v", text, err)
			}
			continue
		}
		back, err := m.Parse(m.Text(got))
		if got != want || err != nil || back != got {
			t.Errorf("%q: %+v, written %q, read back %+v, %v", text, got, m.Text(got), back, err)
		}
	}
	for text, want := range map[string]string{
		"at least 40 lb +/- 1 lb, at most 82 lb": "two limits take no plus/minus",
		"at least 40 lb, at most 80 lb to 82 lb": "two limits take no plus/minus",
		"at least 40 lb, at most 30 lb":          "more at least than at most",
		"at least 40 lb, at most":                "unit",
		"at most":                                "",
		"at most 84 lb, as read 80 lb to 85 lb":  "the limit that holds",
		"at most 85 lb, as read 85 lb":           "the limit that holds",
		"80 lb, as read 80 lb to 85 lb":          "the limit that holds",
		"at most 85 lb, as read":                 "",
		"at most 82":                             "unit",
		"at least 40 lb, 50 lb":                  "",
		"at most 82 lb, at least 40 lb":          "",
	} {
		if got, err := m.Parse(text); err == nil || got != (rules.Value{}) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %+v, %v; want an error that says %q", text, got, err, want)
		}
	}
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		want := mValue{kind: "quantity", n: [2]int64{r.Int64N(1e6) - 5e5, 0}, open: pick(r, []string{"", "or less", "or more", "within", "within or less", "within or more"})}
		want.n[1] = want.n[0] + r.Int64N(50)
		if got, err := m.Parse(m.Text(want.value())); err != nil || got != want.value() {
			t.Fatalf("%+v is written %q, read back %+v, %v", want.value(), m.Text(want.value()), got, err)
		}
	}
}

// widen makes what is known of a value less in one way.
func (v mValue) widen(r *rand.Rand) mValue {
	more := int64(r.IntN(4))
	switch way := r.IntN(5); {
	case v.kind != "quantity" || way == 0:
		return mValue{} // forgotten
	case way == 1 && v.open == "":
		v.open = "within"
	case way == 2 && v.open == "within", way == 2 && v.open == "within or less":
		v.open = "within or less"
	case way == 3 && v.open == "within", way == 3 && v.open == "within or more":
		v.open = "within or more"
	case way == 2 && strings.HasPrefix(v.open, "within"), way == 3 && strings.HasPrefix(v.open, "within"):
		return mValue{} // nothing is known any more
	case way == 2 && v.open != "or more":
		v.open = "or less"
	case way == 3 && v.open != "or less":
		v.open = "or more"
	case v.n[0]-more < v.n[0] && v.n[1]+more > v.n[1]:
		v.n[0], v.n[1] = v.n[0]-more, v.n[1]+more
	}
	return v
}

// surer returns what is wrong about the verdicts on facts of which less is known
// than of others; "" is that the rule does not apply.
func surer(less, more string, lessClose, moreClose, ownForgotten bool) string {
	switch {
	case less == "kept" && more != "kept" && more != "":
		return "kept, from " + more
	case less == "breached" && !lessClose && (more != "breached" || moreClose):
		return "surely breached, from " + more
	case less == "" && more != "" && !ownForgotten:
		return "the rule does not apply, from " + more
	}
	return ""
}

// More plus/minus, an open side and forgetting never clear anything, and never
// make a verdict surer. The same property finds the fault if open sides are
// passed over.
func TestKnowingLessNeverClears(t *testing.T) {
	t.Parallel()
	v := modelVocabulary(t)
	r := rand.New(rand.NewPCG(5, 6))
	rounds := 400
	if !testsize.Full() {
		rounds = 100
	}
	names := append(append(append(append([]string{}, mQuantities...), mCounts...), mWords...), mFlags...)
	judge := func(p *rules.Program, given mFacts) map[string]rules.Finding {
		facts, err := v.NewFacts("thing", "it")
		if err != nil {
			t.Fatal(err)
		}
		for name, val := range given {
			val.set(t, facts, name)
		}
		found, err := p.AppendRun(nil, facts)
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]rules.Finding{}
		for _, f := range found {
			out[f.Rule.ID()] = f
		}
		return out
	}
	text := func(f rules.Finding) string {
		if f.Rule == nil {
			return ""
		}
		return f.Verdict.String()
	}
	changes, caught := 0, 0
	for range rounds {
		model, program := randomProgram(t, r, v)
		if program == nil {
			continue
		}
		for range 30 {
			more := randomFacts(r)
			less := mFacts{}
			for name, val := range more {
				less[name] = val
			}
			name := pick(r, names)
			less[name] = less[name].widen(r)
			known, unknown, careless := judge(program, more), judge(program, less), judge(program, less.asRead())
			for _, m := range model {
				own := less[name].kind == "" && name == m.bound.measure && m.passMissing
				a, b, c := known[m.id], unknown[m.id], careless[m.id]
				if text(a) != text(b) {
					changes++
				}
				if fault := surer(text(b), text(a), b.WasTooClose(), a.WasTooClose(), own); fault != "" {
					t.Fatalf("%s: %s %v instead of %v, with %v\n%s", fault, name, less[name], more[name], more, m.text())
				}
				if surer(text(c), text(a), c.WasTooClose(), a.WasTooClose(), own) != "" {
					caught++
				}
			}
		}
	}
	if changes < 100 || caught < 100 {
		t.Errorf("%d verdicts changed, and %d faults of a judge that passes open sides over were seen: the property can hardly fail", changes, caught)
	}
}

// A divisor of which only its limits are known leaves the bound open, and one
// that is open on a side cannot divide.
func TestOpenDivisor(t *testing.T) {
	t.Parallel()
	v := modelVocabulary(t)
	p := compiled(t, v, "pack: p\ntitle: t\nrules: {r: {title: t, subject: thing, measure: q0, at_most: q1 divided by c0, action: stop, advice: a, source: {grade: computed}}}\n")
	for _, tc := range []struct {
		wheels       rules.Value
		want, asRead rules.Verdict
		bound        string
	}{
		{rules.Between[int64](2, 4), rules.TooClose, rules.TooClose, "at most 25 lb to 50 lb"},
		{rules.Somewhere[int64](2, 4), rules.NotRecorded, rules.TooClose, "at most 25 lb to 50 lb, not known closer"},
		{rules.Somewhere[int64](2, 3), rules.Kept, rules.Kept, "at most 33 lb to 50 lb, not known closer"},
		{rules.Quantity[int64](4).OrMore(), rules.NotRecorded, rules.Breached, "at most q1 divided by c0"},
	} {
		f, _ := v.NewFacts("thing", "it")
		for name, val := range map[string]rules.Value{"q0": rules.Quantity[int64](30), "q1": rules.Quantity[int64](100), "c0": tc.wheels} {
			if err := f.SetByName(name, val); err != nil {
				t.Fatal(err)
			}
		}
		found, err := p.AppendRun(nil, f)
		if err != nil || len(found) != 1 || found[0].Verdict != tc.want || found[0].AsRead() != tc.asRead || found[0].Open() != (tc.want == rules.NotRecorded) || !strings.HasPrefix(found[0].BoundText(), tc.bound) {
			t.Errorf("%+v: %v, as read %v, %v, %q", tc.wheels, found[0].Verdict, found[0].AsRead(), found[0].Open(), found[0].BoundText())
		}
		checkNotKept(t, p, f, found)
	}
}

// What is asked for beside what is not kept may be a measure of another subject,
// or none at all; a dimension may append what it writes.
func TestNotKeptOfOtherMeasures(t *testing.T) {
	t.Parallel()
	appended := whole("mass", "lb")
	appended.Append = func(dst []byte, n int64) []byte { return fmt.Appendf(dst, "%d lb", n) }
	v, err := rules.NewVocabulary(rules.Definition{
		Subjects: []rules.Subject{
			{Name: "one", Doc: "d", Measures: []rules.Measure{{Name: "load", Doc: "d", Dimension: appended}}},
			{Name: "two", Doc: "d", Measures: []rules.Measure{{Name: "load", Doc: "d", Dimension: appended}, {Name: "more", Doc: "d", Flag: true}}},
		},
		Actions: []rules.Action{{Name: "stop", Doc: "d"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	p := compiled(t, v, "pack: p\ntitle: t\nrules: {r: {title: t, subject: one, measure: load, at_most: 5 lb, action: stop, advice: a, source: {grade: computed}}}\n")
	f, _ := v.NewFacts("one", "it")
	if err := f.SetText("load", "at most 5 lb +/- 0 lb"); err != nil {
		t.Fatal(err)
	}
	load, _ := v.Measure("one", "load")
	other, _ := v.Measure("two", "load")
	more, _ := v.Measure("two", "more")
	for _, tc := range []struct {
		also []rules.MeasureRef
		want int
	}{{nil, 0}, {[]rules.MeasureRef{load}, 1}, {[]rules.MeasureRef{other}, 0}, {[]rules.MeasureRef{more}, 0}, {[]rules.MeasureRef{{}}, 0}, {[]rules.MeasureRef{other, load}, 1}} {
		found, kept, err := p.AppendNotKept(nil, f, tc.also...)
		if err != nil || kept != 1 || len(found) != tc.want {
			t.Errorf("%v: %v, %d kept, %v", tc.also, found, kept, err)
		}
		if len(found) > 0 && found[0].ValueText() != "at most 5 lb" {
			t.Errorf("written %q", found[0].ValueText())
		}
	}
}

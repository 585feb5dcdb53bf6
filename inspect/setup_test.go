package inspect_test

import (
	"slices"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// TestEveryVerdict: on request a report has what every rule says of every
// subject, once, and what is counted as kept is among it.
func TestEveryVerdict(t *testing.T) {
	t.Parallel()
	v, setup := visittest.Demo(t)
	if r, err := inspect.Assess(v, setup); err != nil || len(r.Verdicts) > 0 {
		t.Fatalf("not asked for, and there are %d: %v", len(r.Verdicts), err)
	}
	setup.EveryVerdict = true
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	seen, kept := make(map[[3]string]bool), 0
	for _, x := range r.Verdicts {
		key := [3]string{x.Rule, x.Subject, x.Where}
		if seen[key] {
			t.Errorf("twice: %v", key)
		}
		seen[key] = true
		if x.Verdict == rules.Kept {
			kept++
		}
	}
	if kept != r.Kept || kept == 0 {
		t.Errorf("%d are kept, and %d are counted", kept, r.Kept)
	}
	for _, it := range r.Todo {
		for _, rule := range it.Rules {
			if !seen[[3]string{rule, "tire", it.Where}] && !seen[[3]string{rule, "end", it.Where}] && !seen[[3]string{rule, "axle", it.Where}] &&
				!seen[[3]string{rule, "dual_pair", it.Where}] && !seen[[3]string{rule, "coach", it.Where}] {
				t.Errorf("%s at %s is to be done and no verdict", rule, it.Where)
			}
		}
	}
}

// TestOwnFacts: a program gives a measure of its own its value, by the visit and
// the name of the subject.
func TestOwnFacts(t *testing.T) {
	t.Parallel()
	vocabulary, err := inspect.Vocabulary().Extend(rules.Definition{Subjects: []rules.Subject{{
		Name: "tire", Measures: []rules.Measure{{Name: "chalked", Doc: "whether the wheel was chalked", Flag: true}},
	}}})
	if err != nil {
		t.Fatal(err)
	}
	list, err := rules.Load(packs.FS(), packs.Default()...)
	if err != nil {
		t.Fatal(err)
	}
	own, err := rules.ReadPack("own.yaml", []byte(`{format: 1, pack: own, title: Own, rules: {chalk: {title: Not chalked, subject: tire, measure: chalked, is: yes,
		action: plan, advice: Chalk it., source: {grade: common practice}}}}`))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(vocabulary, append(list, own)...)
	if err != nil {
		t.Fatal(err)
	}
	v, setup := visittest.Demo(t)
	setup.Program = program
	setup.Facts = func(visit *record.Visit, f *rules.Facts) {
		if visit != v {
			t.Error("another visit")
		}
		if f.Subject() == "tire" && f.Name() == "steer-left" {
			if err := f.SetText("chalked", "no"); err != nil {
				t.Error(err)
			}
		}
	}
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := has(r, "steer-left", "chalk"); !ok {
		t.Errorf("what the program said is not judged: %+v", r.Todo)
	}
	if _, ok := has(r, "steer-right", "chalk"); ok {
		t.Error("what it did not say is judged")
	}
}

// TestOwnLimitOfOneEnd: what a program says one end of an axle may carry limits the
// pressure to set, on whichever side.
func TestOwnLimitOfOneEnd(t *testing.T) {
	t.Parallel()
	load, err := inspect.Vocabulary().Measure("end", "load")
	if err != nil {
		t.Fatal(err)
	}
	vocabulary, err := inspect.Vocabulary().Extend(rules.Definition{Subjects: []rules.Subject{{
		Name: "end", Measures: []rules.Measure{{Name: "spring_limit", Doc: "what its spring may carry", Dimension: load.Measure().Dimension}},
	}}})
	if err != nil {
		t.Fatal(err)
	}
	own, err := rules.ReadPack("own.yaml", []byte(`{format: 1, pack: own, title: Own, rules: {spring: {title: Over its spring, subject: end, measure: load, at_most: spring_limit,
		action: before_trip, advice: Unload it., source: {grade: common practice}}}}`))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(vocabulary, own)
	if err != nil {
		t.Fatal(err)
	}
	for end, limit := range map[string]string{"steer-left": "3000 lb", "steer-right": "3000 lb", "": ""} {
		v, setup := visittest.Demo(t)
		setup.Program, setup.Facts = program, func(_ *record.Visit, f *rules.Facts) {
			if f.Subject() == "end" && f.Name() == end {
				if err := f.SetText("spring_limit", limit); err != nil {
					t.Error(err)
				}
			}
		}
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		if lowest := r.Setting("steer").Lowest; (lowest.Load == 3000*weight.Pound) != (end != "") {
			t.Errorf("%q: lowest %+v", end, lowest)
		}
	}
}

// TestActionsOfOnesOwn: what a program calls an action of its own comes behind ours, in
// the order of its vocabulary.
func TestActionsOfOnesOwn(t *testing.T) {
	t.Parallel()
	v, err := inspect.Vocabulary().Extend(rules.Definition{Actions: []rules.Action{{Name: "tell_shop", Doc: "the shop is told"}, {Name: "note", Doc: "it is noted"}}})
	if err != nil {
		t.Fatal(err)
	}
	pack, err := rules.ReadPack("own.yaml", []byte(`{format: 1, pack: own, title: Own, rules: {
a: {title: A, subject: tire, measure: cut_depth, at_most: 0 in, action: note, advice: A, source: {grade: computed}},
b: {title: B, subject: tire, measure: crack_depth, at_most: 0 in, action: tell_shop, advice: B, source: {grade: computed}},
c: {title: C, subject: tire, measure: tread, at_least: 4/32 in, action: plan, advice: C, source: {grade: computed}}}}`))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(v, pack)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, tread: 1/32 in, crack_depth: 1/32 in, cut_depth: 1/32 in}]\n"), inspect.Setup{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	var got []report.Action
	for _, it := range r.Todo {
		got = append(got, it.Action)
	}
	if want := []report.Action{report.Plan, "tell_shop", "note"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

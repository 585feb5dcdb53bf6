package rules_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

func TestVocabularyRefused(t *testing.T) {
	good := valves()
	measure := func(m rules.Measure) rules.Definition {
		d := valves()
		d.Subjects[0].Measures = append(d.Subjects[0].Measures, m)
		return d
	}
	half := whole("x", "y")
	half.Parse = nil
	var many []string
	for i := range 65 {
		many = append(many, fmt.Sprint("w", i))
	}
	for _, tt := range []struct {
		name string
		d    rules.Definition
		want string
	}{
		{"no action", rules.Definition{Subjects: good.Subjects}, "no action"},
		{"action misspelled", rules.Definition{Actions: []rules.Action{{Name: "Stop", Doc: "d"}}}, `action "Stop": want a name`},
		{"action is a verdict", rules.Definition{Actions: []rules.Action{{Name: "kept", Doc: "d"}}}, `action "kept": want a name`},
		{"action is the other verdict", rules.Definition{Actions: []rules.Action{{Name: "breached", Doc: "d"}}}, `action "breached": want a name`},
		{"action without doc", rules.Definition{Actions: []rules.Action{{Name: "stop"}}}, `action "stop" has no doc`},
		{"action twice", rules.Definition{Actions: append(slices.Clone(good.Actions), good.Actions[0])}, `action "stop" is there twice`},
		{"task misspelled", rules.Definition{Actions: good.Actions, Tasks: []rules.Task{{Name: "wheel off", Doc: "d"}}}, `task "wheel off": want a name`},
		{"task without doc", rules.Definition{Actions: good.Actions, Tasks: []rules.Task{{Name: "wheel_off"}}}, `task "wheel_off" has no doc`},
		{"task twice", rules.Definition{Actions: good.Actions, Tasks: []rules.Task{{Name: "weld", Doc: "d"}, {Name: "weld", Doc: "e"}}}, `task "weld" is there twice`},
		{"subject misspelled", rules.Definition{Actions: good.Actions, Subjects: []rules.Subject{{Name: "a b", Doc: "d"}}}, `subject "a b": want a name`},
		{"subject without doc", rules.Definition{Actions: good.Actions, Subjects: []rules.Subject{{Name: "a"}}}, `subject "a" has no doc`},
		{"subject twice", rules.Definition{Actions: good.Actions, Subjects: append(slices.Clone(good.Subjects), rules.Subject{Name: "valve"})}, `subject "valve" is there twice`},
		{"measure twice", measure(rules.Measure{Name: "stem", Doc: "d", Flag: true}), `measure "stem" of valve: is there twice`},
		{"measure misspelled", measure(rules.Measure{Name: "a-b", Doc: "d", Flag: true}), `measure "a-b" of valve: want a name`},
		{"measure is a key", measure(rules.Measure{Name: "any", Doc: "d", Flag: true}), `measure "any" of valve: want a name`},
		{"measure is the other key", measure(rules.Measure{Name: "subject", Doc: "d", Flag: true}), `measure "subject" of valve: want a name`},
		{"measure too long", measure(rules.Measure{Name: strings.Repeat("a", 65), Doc: "d", Flag: true}), `want a name`},
		{"measure without doc", measure(rules.Measure{Name: "a", Flag: true}), `measure "a" of valve: no doc`},
		{"measure of no kind", measure(rules.Measure{Name: "a", Doc: "d"}), `want exactly one of Dimension, Words and Flag`},
		{"measure of two kinds", measure(rules.Measure{Name: "a", Doc: "d", Flag: true, Words: []string{"x"}}), `want exactly one of`},
		{"measure of two other kinds", measure(rules.Measure{Name: "a", Doc: "d", Dimension: rules.Count(), Words: []string{"x"}}), `want exactly one of`},
		{"flag with dimension", measure(rules.Measure{Name: "a", Doc: "d", Dimension: rules.Count(), Flag: true}), `want exactly one of`},
		{"dimension without parse", measure(rules.Measure{Name: "a", Doc: "d", Dimension: half}), `a dimension needs`},
		{"dimension without name", measure(rules.Measure{Name: "a", Doc: "d", Dimension: rules.Dimension{Format: half.Format}}), `a dimension needs`},
		{"word twice", measure(rules.Measure{Name: "a", Doc: "d", Words: []string{"x", "x"}}), `word "x" is there twice`},
		{"word misspelled", measure(rules.Measure{Name: "a", Doc: "d", Words: []string{"X"}}), `word "X"`},
		{"word starts wrong", measure(rules.Measure{Name: "a", Doc: "d", Words: []string{"-x"}}), `word "-x"`},
		{"many words", measure(rules.Measure{Name: "a", Doc: "d", Words: many}), `has 65 words, at most 64`},
	} {
		v, err := rules.NewVocabulary(tt.d)
		if v != nil || !errors.Is(err, rules.ErrVocabulary) || !strings.Contains(err.Error(), tt.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got %v, want %s", tt.name, err, tt.want)
		}
	}
	two := rules.Definition{Subjects: []rules.Subject{{Name: "A", Doc: "d"}}}
	if _, err := rules.NewVocabulary(two); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("two problems: %v", err)
	}
	d := measure(rules.Measure{Name: "a", Doc: "d", Words: many[:64]})
	if _, err := rules.NewVocabulary(d); err != nil {
		t.Errorf("64 words: %v", err)
	}
}

// A vocabulary keeps nothing that its maker, or a reader, could change.
func TestVocabularyIsImmutable(t *testing.T) {
	d := valves()
	v, err := rules.NewVocabulary(d)
	if err != nil {
		t.Fatal(err)
	}
	spoil := func(d rules.Definition) {
		d.Actions[0].Name = "spoiled"
		d.Subjects[0].Measures[0].Words[0] = "spoiled"
		d.Subjects[0].Measures[1].Name = "spoiled"
	}
	spoil(d)
	spoil(v.Definition())
	m, err := v.Measure("valve", "stem")
	if err != nil {
		t.Fatal(err)
	}
	m.Measure().Words[0] = "spoiled"
	names := func(d rules.Definition) (out []string) {
		for _, a := range d.Actions {
			out = append(out, a.Name, a.Doc, fmt.Sprint(a.Stops))
		}
		for _, s := range d.Subjects {
			out = append(out, s.Name, s.Doc)
			for _, m := range s.Measures {
				out = append(out, m.Name, m.Doc, m.Takes())
			}
		}
		return out
	}
	if diff := cmp.Diff(names(valves()), names(v.Definition())); diff != "" {
		t.Error(diff)
	}
	again, err := rules.NewVocabulary(v.Definition())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(names(valves()), names(again.Definition())); diff != "" {
		t.Error(diff)
	}
}

func TestExtend(t *testing.T) {
	base := mustVocabulary(t)
	more := rules.Definition{
		Actions:  []rules.Action{{Name: "note", Doc: "write it down"}},
		Subjects: []rules.Subject{{Name: "valve", Measures: []rules.Measure{{Name: "cap", Doc: "whether a cap is on", Flag: true}}}, {Name: "hose", Doc: "a hose", Measures: []rules.Measure{{Name: "worn", Doc: "whether it is worn", Flag: true}}}},
	}
	ours, err := base.Extend(more)
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := base.Extend(rules.Definition{Subjects: []rules.Subject{{Name: "valve", Measures: []rules.Measure{{Name: "lid", Doc: "whether a lid is on", Flag: true}}}}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := base.Measure("valve", "cap"); !errors.Is(err, rules.ErrName) {
		t.Errorf("the base was changed: %v", err)
	}
	if got := ours.Definition().Actions[3].Name; got != "note" {
		t.Errorf("action %q", got)
	}
	for _, bad := range []rules.Definition{
		{Subjects: []rules.Subject{{Name: "valve", Doc: "another doc"}}},
		{Subjects: []rules.Subject{{Name: "valve", Measures: []rules.Measure{{Name: "stem", Doc: "d", Flag: true}}}}},
		{Subjects: []rules.Subject{{Name: "valve"}, {Name: "valve"}}},
		{Actions: []rules.Action{{Name: "stop", Doc: "d"}}},
	} {
		if _, err := base.Extend(bad); !errors.Is(err, rules.ErrVocabulary) {
			t.Errorf("%v: %v", bad, err)
		}
	}

	rule := "pack: p\ntitle: t\nrules:\n  r: {title: t, subject: %s, measure: %s, is: no, action: %s, advice: a, source: {grade: computed}}\n"
	cap, err := ours.Measure("valve", "cap")
	if err != nil {
		t.Fatal(err)
	}
	lid, _ := theirs.Measure("valve", "lid")
	bubbles, _ := base.Measure("valve", "bubbles")
	extended := compiled(t, ours, fmt.Sprintf(rule, "valve", "cap", "note"))
	old, err := base.NewFacts("valve", "old")
	if err != nil {
		t.Fatal(err)
	}

	// Facts of the base have nothing to say of the new measure.
	found, err := extended.AppendRun(nil, old)
	if err != nil || len(found) != 1 || found[0].Verdict != rules.NotRecorded || found[0].ToRecord()[0] != "cap" {
		t.Errorf("facts of the base: %v, %v", found, err)
	}
	// Facts of the extension may be judged by a program of the base.
	small := compiled(t, base, fmt.Sprintf(rule, "valve", "bubbles", "stop"))
	f, _ := ours.NewFacts("valve", "ours")
	f.Set(cap, rules.Flag(true)).Set(bubbles, rules.Flag(true))
	if found, err = small.AppendRun(nil, f); err != nil || len(found) != 1 || found[0].Verdict != rules.Breached {
		t.Errorf("a program of the base: %v, %v", found, err)
	}
	hose, _ := ours.NewFacts("hose", "h")
	if found, err = small.AppendRun(nil, hose); err != nil || len(found) != 0 {
		t.Errorf("a subject that the program does not know: %v, %v", found, err)
	}
	// The measures of two extensions stand at one place, and are not mistaken.
	if f.Set(lid, rules.Flag(true)); !errors.Is(f.Err(), rules.ErrFacts) || f.Get(lid).Recorded() {
		t.Errorf("a measure of another extension: %v", f.Err())
	}
	g, _ := theirs.NewFacts("valve", "theirs")
	if _, err = extended.AppendRun(nil, g); !errors.Is(err, rules.ErrFacts) {
		t.Errorf("facts of another extension: %v", err)
	}
	if _, err = extended.Run(g); !errors.Is(err, rules.ErrFacts) {
		t.Errorf("facts of another extension, ranged: %v", err)
	}
}

// TestPlainFlags: rules that ask one flag each are judged together where all are
// kept, and one by one where one is not.
func TestPlainFlags(t *testing.T) {
	flags := []string{"dented", "rusty", "wet"}
	d := rules.Definition{Actions: []rules.Action{{Name: "stop", Doc: "d", Stops: true}}, Subjects: []rules.Subject{{Name: "valve", Doc: "d"}}}
	text := "pack: p\ntitle: t\nrules:\n"
	for _, f := range flags {
		d.Subjects[0].Measures = append(d.Subjects[0].Measures, rules.Measure{Name: f, Doc: "d", Flag: true})
		text += fmt.Sprintf("  %s: {title: t, subject: valve, measure: %s, is: no, action: stop, advice: a, source: {grade: computed}}\n", f, f)
	}
	v, err := rules.NewVocabulary(d)
	if err != nil {
		t.Fatal(err)
	}
	p := compiled(t, v, text)
	refs := make([]rules.MeasureRef, len(flags))
	for i, f := range flags {
		if refs[i], err = v.Measure("valve", f); err != nil {
			t.Fatal(err)
		}
	}
	for yes := range uint64(1) << len(flags) {
		for missing := range uint64(1) << len(flags) {
			facts, _ := v.NewFacts("valve", "it")
			for i, r := range refs {
				if missing>>i&1 == 0 {
					facts.Set(r, rules.Flag(yes>>i&1 != 0))
				}
			}
			all, err := p.AppendRun(nil, facts)
			if err != nil || len(all) != len(flags) {
				t.Fatal(all, err)
			}
			for i, f := range all {
				want := rules.Kept
				switch {
				case missing>>i&1 != 0:
					want = rules.NotRecorded
				case yes>>i&1 != 0:
					want = rules.Breached
				}
				if f.Verdict != want {
					t.Errorf("yes %b, missing %b, %s: got %s, want %s", yes, missing, flags[i], f.Verdict, want)
				}
			}
			checkNotKept(t, p, facts, all)
		}
	}
	other, _ := mustVocabulary(t).NewFacts("valve", "other")
	if other.Set(refs[0], rules.Flag(false)); !errors.Is(other.Err(), rules.ErrFacts) {
		t.Errorf("a flag of another vocabulary: %v", other.Err())
	}
	if _, _, err := p.AppendNotKept(nil, other); !errors.Is(err, rules.ErrFacts) {
		t.Errorf("facts that carry an error: %v", err)
	}
}

func TestFacts(t *testing.T) {
	v := mustVocabulary(t)
	if _, err := v.NewFacts("vallve", ""); err == nil || err.Error() != `unknown subject "vallve": did you mean "valve"?` {
		t.Errorf("subject: %v", err)
	}
	if _, err := v.Measure("vallve", "stem"); !errors.Is(err, rules.ErrName) {
		t.Errorf("subject of a measure: %v", err)
	}
	var name *rules.NameError
	if _, err := v.Measure("valve", "stem_aeg"); !errors.As(err, &name) || name.DidYouMean != "stem_age" || name.In != "valve" || name.Kind != "measure" {
		t.Errorf("measure: %v", err)
	}
	f, err := v.NewFacts("valve", "LF")
	if err != nil {
		t.Fatal(err)
	}
	if f.Name() != "LF" || f.Subject() != "valve" {
		t.Error(f.Name(), f.Subject())
	}
	ref := func(name string) rules.MeasureRef {
		m, err := v.Measure("valve", name)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	for _, tt := range []struct {
		measure rules.MeasureRef
		value   rules.Value
		want    string
	}{
		{rules.MeasureRef{}, rules.Flag(true), "not looked up"},
		{ref("stem"), rules.Word(2), "a value that stem cannot have: want rubber, metal"},
		{ref("stem"), rules.Word(-1), "cannot have"},
		{ref("stem"), rules.Flag(true), "cannot have"},
		{ref("stem"), rules.Quantity[int64](1), "cannot have"},
		{ref("bubbles"), rules.Word(1), "a value that bubbles cannot have: want yes or no"},
		{ref("pull"), rules.Word(1), "a value that pull cannot have: want force"},
	} {
		f.Reset("RF")
		if f.Set(tt.measure, tt.value); !errors.Is(f.Err(), rules.ErrFacts) || !strings.Contains(f.Err().Error(), tt.want) || f.Get(tt.measure).Recorded() {
			t.Errorf("%v: %v", tt, f.Err())
		}
		first := f.Err()
		if f.Set(rules.MeasureRef{}, rules.Value{}); !errors.Is(f.Err(), first) {
			t.Errorf("the first error is lost: %v", f.Err())
		}
		if _, err := compiled(t, v, baseText).AppendRun(nil, f); !errors.Is(err, first) {
			t.Errorf("run: %v", err)
		}
		if tt.measure != (rules.MeasureRef{}) {
			if err := f.SetByName(tt.measure.Measure().Name, tt.value); !errors.Is(err, rules.ErrFacts) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("by name: %v", err)
			}
		}
	}
	f.Reset("RR")
	if f.Err() != nil || f.Name() != "RR" {
		t.Error(f.Err(), f.Name())
	}
	age := ref("stem_age")
	f.Set(age, rules.Quantity[int64](5)).Set(age, rules.Value{})
	if f.Get(age).Recorded() {
		t.Error("was not taken back")
	}
	if err := f.SetByName("stem_age", rules.Quantity[int64](5)); err != nil || f.Get(age) != rules.Quantity[int64](5) {
		t.Error(err, f.Get(age))
	}
	f.Reset("")
	if f.Get(age).Recorded() {
		t.Error("reset keeps a value")
	}
	for _, err := range []error{f.SetByName("stem_aeg", rules.Value{}), f.SetText("stem_aeg", "")} {
		if !errors.As(err, &name) || name.DidYouMean != "stem_age" {
			t.Error(err)
		}
	}
	if err := f.SetText("stem_age", "5 lb"); !errors.Is(err, origin.ErrUnit) {
		t.Error(err)
	}

	// The zero Facts is no subject, and harmless.
	var none rules.Facts
	none.Set(age, rules.Quantity[int64](1)).Set(rules.MeasureRef{}, rules.Value{})
	if none.Subject() != "" || none.Get(age).Recorded() || none.Err() == nil {
		t.Error(none.Err())
	}
	if err := none.SetText("stem_age", "1 years"); !errors.Is(err, rules.ErrFacts) {
		t.Error(err)
	}
	if err := none.SetByName("stem_age", rules.Value{}); !errors.Is(err, rules.ErrFacts) {
		t.Error(err)
	}
	p := compiled(t, v, baseText)
	for _, f := range []*rules.Facts{nil, new(rules.Facts)} {
		dst := make([]rules.Finding, 1)
		if got, err := p.AppendRun(dst, f); !errors.Is(err, rules.ErrFacts) || len(got) != 1 {
			t.Error(got, err)
		}
	}
	if (rules.MeasureRef{}).Measure().Name != "" || (rules.MeasureRef{}).Text(rules.Flag(true)) != "not recorded" {
		t.Error("the zero MeasureRef")
	}
}

func TestValues(t *testing.T) {
	for _, tt := range []struct {
		v         rules.Value
		low, high int64
	}{
		{rules.Quantity[int64](-3), -3, -3},
		{rules.PlusMinus[int64](10, 3), 7, 13},
		{rules.PlusMinus[int64](10, -3), 7, 13},
		{rules.Between[int64](9, 4), 4, 9},
		{rules.PlusMinus[int64](math.MaxInt64, 1), math.MaxInt64 - 1, math.MaxInt64},
		{rules.PlusMinus[int64](math.MinInt64, 1), math.MinInt64, math.MinInt64 + 1},
		{rules.PlusMinus[int64](-5, math.MinInt64), math.MinInt64, math.MaxInt64 - 4},
		{rules.PlusMinus[int64](0, math.MaxInt64), -math.MaxInt64, math.MaxInt64},
		{rules.PlusMinus[int64](-1, math.MinInt64), math.MinInt64, math.MaxInt64},
	} {
		low, high, ok := tt.v.Interval()
		if low != tt.low || high != tt.high || !ok || !tt.v.Recorded() {
			t.Errorf("%v: %d to %d, want %d to %d", tt.v, low, high, tt.low, tt.high)
		}
	}
	if rules.PlusMinus[int64](4, 0) != rules.Quantity[int64](4) || rules.Between[int64](4, 4) != rules.Quantity[int64](4) {
		t.Error("the same value twice is not equal")
	}
	if i, ok := rules.Word(3).Index(); i != 3 || !ok {
		t.Error(i, ok)
	}
	if yes, ok := rules.Flag(true).Yes(); !yes || !ok {
		t.Error(yes, ok)
	}
	if yes, ok := rules.Flag(false).Yes(); yes || !ok {
		t.Error(yes, ok)
	}
	none := rules.Value{}
	_, _, a := none.Interval()
	_, b := none.Index()
	_, c := none.Yes()
	_, _, d := rules.Word(1).Interval()
	_, e := rules.Quantity[int64](1).Yes()
	_, g := rules.Flag(true).Index()
	if a || b || c || d || e || g || none.Recorded() {
		t.Error("a value of one kind is taken for another")
	}
}

func TestValueText(t *testing.T) {
	v := mustVocabulary(t)
	for _, tt := range []struct{ measure, text, want string }{
		{"pull", "20 lb", ""}, {"pull", "20 lb +/- 3 lb", ""}, {"pull", "20 lb ± 3 lb", "20 lb +/- 3 lb"}, {"pull", "20 lb+/-0 lb", "20 lb"},
		{"pull", "3 lb to 8 lb", ""}, {"pull", "3 lb to 3 lb", "3 lb"}, {"stem", "metal", ""}, {"bubbles", "yes", ""}, {"bubbles", "no", ""},
		{"valves", "6", ""}, {"valves", "-6", ""}, {"pull", "-5 lb to -1 lb", ""},
	} {
		m, err := v.Measure("valve", tt.measure)
		if err != nil {
			t.Fatal(err)
		}
		val, err := m.Parse(tt.text)
		if err != nil {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		want := tt.want
		if want == "" {
			want = tt.text
		}
		if got := m.Text(val); got != want {
			t.Errorf("%q: got %q, want %q", tt.text, got, want)
		}
	}
	for _, tt := range []struct {
		measure, text string
		want          error
	}{
		{"pull", "20", origin.ErrUnit}, {"pull", "20 lb +/- 3", origin.ErrUnit}, {"pull", "20 +/- 3 lb", origin.ErrUnit}, {"pull", "20 lb +/- -3 lb", rules.ErrBound},
		{"pull", "9 lb to 3 lb", rules.ErrBound}, {"pull", "x to 3 lb", origin.ErrUnit}, {"pull", "3 lb to x", origin.ErrUnit}, {"pull", "", origin.ErrUnit},
		{"stem", "Metal", rules.ErrName}, {"bubbles", "true", rules.ErrName},
		{"valves", "6.0", origin.ErrSyntax}, {"valves", "+6", origin.ErrSyntax}, {"valves", "", origin.ErrSyntax}, {"valves", "1234567890123456789", origin.ErrSyntax}, {"valves", "--1", origin.ErrSyntax},
	} {
		m, err := v.Measure("valve", tt.measure)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := m.Parse(tt.text); !errors.Is(err, tt.want) || got.Recorded() {
			t.Errorf("%s %q: got %v, %v, want %v", tt.measure, tt.text, got, err, tt.want)
		}
	}
	if _, err := (rules.MeasureRef{}).Parse("1"); !errors.Is(err, rules.ErrFacts) {
		t.Error(err)
	}
	m, _ := v.Measure("valve", "pull")
	if got := m.Text(rules.Flag(true)); got != "not recorded" {
		t.Error(got)
	}
	// A range of an odd number of steps has no middle, and keeps its ends.
	if got := m.Text(rules.Between[int64](1, 4)); got != "1 lb to 4 lb" {
		t.Error(got)
	}
	share := rules.Share()
	n, err := share.Parse("12.5 %")
	if err != nil || n != 125_000 || share.Format(n) != "12.5 %" || rules.Count().Format(-4) != "-4" {
		t.Error(n, err, share.Format(n))
	}
}

func TestVerdictAndRelationText(t *testing.T) {
	for v := rules.Kept; v <= rules.Breached; v++ {
		text, err := v.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		if more, err := v.AppendText([]byte("x")); err != nil || string(more) != "x"+string(text) {
			t.Errorf("%s is appended as %s, %v", text, more, err)
		}
		var back rules.Verdict
		if err := back.UnmarshalText(text); err != nil || back != v {
			t.Errorf("%s: %v, %v", text, back, err)
		}
	}
	var v rules.Verdict
	if err := v.UnmarshalText([]byte("breeched")); err == nil || err.Error() != `unknown verdict "breeched": did you mean "breached"?` || v != 0 {
		t.Error(v, err)
	}
	if _, err := rules.Verdict(5).MarshalText(); !errors.Is(err, rules.ErrName) || rules.Verdict(5).String() != "not known" {
		t.Error(err)
	}
	// The zero Verdict says nothing, and reads back.
	v = rules.Kept
	if text, err := rules.Verdict(0).MarshalText(); err != nil || len(text) != 0 || v.UnmarshalText(text) != nil || v != 0 || v.String() != "not known" {
		t.Error(v, err)
	}
	if rules.Relation(0).String() != "not known" || rules.Relation(7).String() != "not known" || rules.MoreThan.String() != "more_than" {
		t.Error("relations")
	}
}

func TestLoad(t *testing.T) {
	pack := func(name, rest string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte(withFormat("pack: " + name + "\ntitle: t\n" + rest))}
	}
	own := "rules: {r-%s: {title: t, subject: valve, measure: pull, at_most: 1 lb, action: stop, advice: a, source: {grade: computed}}}\n"
	fsys := fstest.MapFS{
		"top.yaml":       pack("top", "extends: [mid, base]\n"),
		"mid.yaml":       pack("mid", "extends: [base]\n"+fmt.Sprintf(own, "mid")),
		"base.yaml":      pack("base", fmt.Sprintf(own, "base")),
		"a.yaml":         pack("a", "extends: [b]\n"),
		"b.yaml":         pack("b", "extends: [c]\n"),
		"c.yaml":         pack("c", "extends: [a]\n"),
		"misnamed.yaml":  pack("another", fmt.Sprintf(own, "x")),
		"shop/sub.yaml":  pack("sub", "extends: [near]\n"),
		"shop/near.yaml": pack("near", fmt.Sprintf(own, "near")),
		"far.yaml":       pack("far", "extends: [elsewhere]\n"),
		"bad.yaml":       pack("bad", "rules: {R: 1}\n"),
		"big.yaml":       {Data: []byte("#" + strings.Repeat(" ", rules.MaxBytes) + "\npack: big\n")},
		"dir.yaml":       {Mode: fs.ModeDir},
		"hasdir.yaml":    pack("hasdir", "extends: [dir]\n"),
	}
	names := func(packs []rules.Pack) string {
		var out []string
		for _, p := range packs {
			out = append(out, p.Name())
		}
		return strings.Join(out, " ")
	}
	v := mustVocabulary(t)
	for _, tt := range []struct{ names, want, loadErr, compileErr string }{
		{"top", "base mid top", "", ""},
		{"base top.yaml base", "base mid top", "", ""},
		{"shop/sub", "near sub", "", ""},
		{"far", "far", "", `far.yaml:3:11: extends[0]: unknown pack "elsewhere": want one of far`},
		{"a", "c b a", "", "b.yaml:3:11: extends[0]: packs extend each other in a circle: c, a, b, c"},
		{"misnamed", "another", `misnamed.yaml:1:7: pack: unknown pack "another": the file's name says "misnamed"`, "the file's name"},
		{"missing base", "base", "missing.yaml: open missing.yaml: file does not exist", ""},
		{"bad", "bad", "bad.yaml:3:9", "bad.yaml:3:9"},
		{"big", "big", "big.yaml: file is too large", "big.yaml: file is too large"},
		{"dir", "", "dir.yaml: ", "unknown pack: none is given"},
		{"hasdir", "hasdir", "dir.yaml: ", `unknown pack "dir"`},
		{"../x", "", "../x.yaml", "unknown pack: none is given"},
		{"", "", "", "unknown pack: none is given"},
	} {
		packs, err := rules.Load(fsys, strings.Fields(tt.names)...)
		if names(packs) != tt.want || (err == nil) != (tt.loadErr == "") || err != nil && !strings.Contains(err.Error(), tt.loadErr) {
			t.Errorf("%s: got %s, %v", tt.names, names(packs), err)
		}
		_, err = rules.Compile(v, packs...)
		if (err == nil) != (tt.compileErr == "") || err != nil && !strings.Contains(err.Error(), tt.compileErr) {
			t.Errorf("%s: compile: %v", tt.names, err)
		}
	}
	if _, err := rules.Load(fsys, "missing"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing: %v", err)
	}
	if _, err := (rules.Loader{MaxBytes: 2 * rules.MaxBytes}).Load(fsys, "big"); err == nil || strings.Contains(err.Error(), "too large") {
		t.Errorf("a raised limit: %v", err)
	}
	if _, err := (rules.Loader{MaxBytes: 10}).ReadPack("p.yaml", []byte(baseText)); err == nil || !strings.Contains(err.Error(), "too large") {
		t.Errorf("a lowered limit: %v", err)
	}
	packs, _ := rules.Load(fsys, "top")
	if got := packs[2].Extends(); !slices.Equal(got, []string{"mid", "base"}) || packs[2].Title() != "t" {
		t.Error(got)
	}
	var none rules.Pack
	if none.Name() != "" || none.Title() != "" || none.About() != "" || none.Extends() != nil {
		t.Error("the zero Pack")
	}
	if _, err := rules.Compile(v, none); !errors.Is(err, rules.ErrName) {
		t.Errorf("the zero Pack: %v", err)
	}
	if _, err := rules.Compile(nil, packs...); !errors.Is(err, rules.ErrVocabulary) {
		t.Errorf("no vocabulary: %v", err)
	}
	if p, err := rules.ReadPack("p.yaml", []byte("format: 1\npack: p\ntitle: |\n  a\n  b\nabout: >\n  long\n\n  text\nextends: [q]\n")); err != nil || p.Title() != "a b" || p.About() != "long text" {
		t.Error(p.Title(), p.About(), err)
	}
}

// Packs on packs: what a program comes to, as "rule pack bound".
func TestExtends(t *testing.T) {
	v := mustVocabulary(t)
	shop := "pack: shop\ntitle: Shop\nextends: [base]\n"
	third := "pack: third\ntitle: Third\nextends: [other]\nchange:\n  load: {title: T, advice: A, where: {stem: metal}, too_close: as_breached, not_recorded: does_not_apply, source: {grade: from memory}}\n"
	same := "pack: same\ntitle: Same\nextends: [base]\n"
	for _, tt := range []struct {
		name  string
		texts []string
		want  []string
	}{
		{"alone", []string{baseText}, []string{"age base at most 6 years", "load base at most pull rating"}},
		{"twice the same", []string{baseText, baseText}, []string{"age base at most 6 years", "load base at most pull rating"}},
		{"extended", []string{baseText, shop}, []string{"age base at most 6 years", "load base at most pull rating"}},
		{"dropped", []string{shop + "drop: [age]\n", baseText}, []string{"load base at most pull rating"}},
		{"changed", []string{baseText, otherText}, []string{"age other at most 4 years", "load base at most pull rating"}},
		{"changed again", []string{baseText, otherText, third}, []string{"age other at most 4 years", "load third at most pull rating"}},
		{"changed and not", []string{baseText, otherText, same}, []string{"age other at most 4 years", "load base at most pull rating", "age base at most 6 years"}},
		{"two ways to one rule", []string{baseText, same, shop, "pack: both\ntitle: t\nextends: [same, shop]\n"}, []string{"age base at most 6 years", "load base at most pull rating"}},
		{"own rule", []string{baseText, shop + "rules:\n  x: {title: t, subject: valve, measure: valves, less_than: 3, action: watch, advice: a, source: {grade: computed}}\n"}, []string{"age base at most 6 years", "load base at most pull rating", "x shop less than 3"}},
	} {
		p := compiled(t, v, tt.texts...)
		var got []string
		for _, r := range p.Rules() {
			_, sentence, _ := strings.Cut(r.Sentence(), " must be ")
			bound, _, _ := strings.Cut(sentence, ".")
			bound, _, _ = strings.Cut(bound, ";")
			got = append(got, r.ID()+" "+r.Pack()+" "+bound)
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
		if p.Vocabulary() != v {
			t.Error("another vocabulary")
		}
	}

	p := compiled(t, v, baseText, otherText, third)
	age, load := p.Rules()[0], p.Rules()[1]
	if age.Title() != "t" || age.Action().Name != "watch" || age.Severity() != 2 || age.Sources()[0].Grade != origin.CommonPractice || age.Position().Line != 5 {
		t.Errorf("%+v", age)
	}
	if load.Title() != "T" || load.Advice() != "A" || load.Action().Name != "stop" || load.Sources()[0].Grade != origin.FromMemory || load.Subject() != "valve" || load.Relation() != rules.AtMost {
		t.Errorf("%+v", load)
	}
	var measures []string
	for _, m := range load.Measures() {
		measures = append(measures, m.Measure().Name)
	}
	if diff := cmp.Diff([]string{"pull", "pull_rating", "stem"}, measures); diff != "" {
		t.Error(diff)
	}
	want := "Each valve where the stem is metal: the pull must be at most pull rating; too close to call counts as breached; not recorded means that it does not apply. If not: stop. A"
	if got := load.Sentence(); got != want {
		t.Error(got)
	}

	// A condition can be taken away again, and what was counted reported.
	fourth := "pack: fourth\ntitle: t\nextends: [third]\nchange:\n  load: {where: {}, too_close: reported, not_recorded: reported, action: replace, source: {grade: computed}}\n"
	load = compiled(t, v, baseText, otherText, third, fourth).Rules()[1]
	if got := load.Sentence(); got != "Each valve: the pull must be at most pull rating. If not: replace. A" {
		t.Error(got)
	}

	// Another file of the same name is another pack.
	packs := append(loaded(t, baseText), loaded(t, strings.Replace(baseText, "6 years", "5 years", 1))...)
	if _, err := rules.Compile(v, packs...); !errors.Is(err, rules.ErrTwice) {
		t.Errorf("two packs of one name: %v", err)
	}
}

func TestSentences(t *testing.T) {
	v := mustVocabulary(t)
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		t.Fatal(err)
	}
	p, err := rules.Compile(v, packs...)
	if err != nil {
		t.Fatal(err)
	}
	more := compiled(t, v, `{"pack": "p", "title": "t", "rules": {"r": {"title": "t", "subject": "valve", "measure": "stem", "is_not": ["rubber"],
		"where": {"any": [{"pull": {"more_than": "3 lb", "less_than": "9 lb"}, "bubbles": "no"}, {"position": {"is_not": ["inner", "outer"]}}]},
		"action": "watch", "advice": "Look again.", "source": {"grade": "computed"}}}}`)
	var got []string
	for _, r := range append(p.Rules(), more.Rules()...) {
		got = append(got, r.Sentence())
	}
	if diff := cmp.Diff([]string{
		"Each valve where the stem is rubber: the stem age must be at most 6 years. If not: replace. Fit a new stem while the tire is off.",
		`Each valve where "extended" is yes and (the position is inner or outer, or the stem age is at least 2 years and less than 10 years): the pull must be at most 50 % of pull rating; too close to call counts as breached. If not: stop. Take the extension off and support the hose.`,
		`Each valve: "bubbles" must be no; not recorded means that it does not apply. If not: stop. Let the air out through the core, and have the valve replaced.`,
		`Each valve where (the pull is more than 3 lb and less than 9 lb and "bubbles" is no, or the position is not inner or outer): the stem must be not rubber. If not: watch. Look again.`,
	}, got); diff != "" {
		t.Error(diff)
	}
}

// Bounds as they are told, with what they were computed from.
func TestFindingTexts(t *testing.T) {
	v := mustVocabulary(t)
	for _, tt := range []struct {
		bound string
		given string
		want  string
		value string
		verd  rules.Verdict
	}{
		{"at_most: 9 lb", "pull 9 lb", "at most 9 lb", "9 lb", rules.Kept},
		{"at_most: 50 % of pull_rating", "pull 3 lb, pull_rating 5 lb", "at most 2 lb (50 % of pull rating, 5 lb)", "3 lb", rules.Breached},
		{"at_least: 50 % of pull_rating", "pull 2 lb, pull_rating 5 lb", "at least 3 lb (50 % of pull rating, 5 lb)", "2 lb", rules.Breached},
		{"more_than: 50 % of pull_rating", "pull 3 lb, pull_rating -5 lb to 5 lb", "more than -2 lb to 3 lb (50 % of pull rating, -5 lb to 5 lb)", "3 lb", rules.Kept},
		{"less_than: pull_rating divided by valves", "pull 2 lb, pull_rating 7 lb, valves 3", "less than 2 lb (pull rating divided by valves, 7 lb and 3)", "2 lb", rules.Kept},
		{"less_than: pull_rating divided by valves", "pull 2 lb, pull_rating 7 lb, valves 0", "less than pull rating divided by valves, 7 lb and 0", "2 lb", rules.NotRecorded},
		{"less_than: pull_rating divided by valves", "pull 2 lb, valves 3", "less than pull rating divided by valves, not recorded and 3", "2 lb", rules.NotRecorded},
		{"is: 50 % of pull_rating", "pull 2 lb, pull_rating 5 lb", "is 2 lb to 3 lb (50 % of pull rating, 5 lb)", "2 lb", rules.Breached},
		{"is_not: pull_rating", "pull_rating 5 lb", "is not 5 lb (pull rating)", "not recorded", rules.NotRecorded},
		{"at_most: 1000 % of pull_rating", "pull 2 lb, pull_rating 9000000000000000000 lb", "at most 9223372036854775807 lb (1000 % of pull rating, 9000000000000000000 lb)", "2 lb", rules.Kept},
		{"at_most: 1000 % of pull_rating", "pull 2 lb, pull_rating -9000000000000000000 lb", "at most -9223372036854775808 lb (1000 % of pull rating, -9000000000000000000 lb)", "2 lb", rules.Breached},
	} {
		rel, bound, _ := strings.Cut(tt.bound, ": ")
		p := compiled(t, v, fmt.Sprintf("pack: p\ntitle: t\nrules: {r: {title: t, subject: valve, measure: pull, %s: %s, action: stop, advice: a, source: {grade: computed}}}\n", rel, bound))
		f, err := v.NewFacts("valve", "v")
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range strings.Split(tt.given, ", ") {
			name, text, _ := strings.Cut(g, " ")
			if err := f.SetText(name, text); err != nil {
				t.Fatal(err)
			}
		}
		found, err := p.AppendRun(nil, f)
		if err != nil || len(found) != 1 {
			t.Fatal(found, err)
		}
		if got := found[0]; got.BoundText() != tt.want || got.ValueText() != tt.value || got.Verdict != tt.verd {
			t.Errorf("%s of %s: got %v %q, %q", tt.bound, tt.given, got.Verdict, got.BoundText(), got.ValueText())
		}
	}
	p := compiled(t, v, "pack: p\ntitle: t\nrules: {r: {title: t, subject: valve, measure: position, is_not: [inner, outer], action: stop, advice: a, source: {grade: computed}}}\n")
	f, _ := v.NewFacts("valve", "v")
	if err := f.SetText("position", "inner"); err != nil {
		t.Fatal(err)
	}
	found, _ := p.AppendRun(nil, f)
	if got := found[0]; got.BoundText() != "not inner or outer" || got.Bound().Recorded() || got.Verdict != rules.Breached || got.ToRecord() != nil {
		t.Error(got.BoundText(), got.Bound(), got.Verdict)
	}
}

func TestTooManyMeasures(t *testing.T) {
	s := rules.Subject{Name: "thing", Doc: "d"}
	where := []string{}
	for i := range 70 {
		name := fmt.Sprint("f", i)
		s.Measures = append(s.Measures, rules.Measure{Name: name, Doc: "d", Flag: true})
		where = append(where, name+": yes")
	}
	v, err := rules.NewVocabulary(rules.Definition{Actions: valves().Actions, Subjects: []rules.Subject{s}})
	if err != nil {
		t.Fatal(err)
	}
	text := "pack: p\ntitle: t\nrules: {r: {title: t, subject: thing, measure: f0, is: no, where: {%s}, action: stop, advice: a, source: {grade: computed}}}\n"
	if _, err := rules.Compile(v, loaded(t, fmt.Sprintf(text, strings.Join(where[1:65], ", ")))...); !errors.Is(err, rules.ErrLimit) {
		t.Errorf("65 measures: %v", err)
	}
	p := compiled(t, v, fmt.Sprintf(text, strings.Join(where[1:64], ", ")))
	f, _ := v.NewFacts("thing", "x")
	found, err := p.AppendRun(nil, f)
	if err != nil || len(found[0].ToRecord()) != 64 || found[0].ToRecord()[63] != "f63" {
		t.Errorf("64 measures: %v, %v", found, err)
	}
}

func TestMerge(t *testing.T) {
	v := mustVocabulary(t)
	rule := func(pack, id, measure, bound, action, more string) string {
		return fmt.Sprintf("pack: %s\ntitle: t\nrules: {%s: {title: t, subject: valve, measure: %s, %s, action: %s, advice: a, source: {grade: invented, title: %s}%s}}\n", pack, id, measure, bound, action, pack, more)
	}
	for _, tt := range []struct {
		name  string
		texts []string
		given map[string]string
		want  []string // verdict, action, then packs in order
	}{
		{"upper: tighter first, worst action", []string{rule("a", "r", "pull", "at_most: 8 lb", "stop", ""), rule("b", "r", "pull", "less_than: 4 lb", "watch", "")}, map[string]string{"pull": "9 lb"}, []string{"breached stop b a"}},
		{"upper: the breached leads", []string{rule("a", "r", "pull", "at_most: 8 lb", "stop", ""), rule("b", "r", "pull", "at_most: 4 lb", "watch", "")}, map[string]string{"pull": "5 lb"}, []string{"breached watch b a"}},
		{"lower: tighter first", []string{rule("a", "r", "pull", "at_least: 2 lb", "watch", ""), rule("b", "r", "pull", "at_least: 4 lb", "replace", ""), rule("c", "r", "pull", "more_than: 3 lb", "stop", "")}, map[string]string{"pull": "1 lb"}, []string{"breached stop b c a"}},
		{"same bound: the strict one first", []string{rule("a", "r", "pull", "at_most: 4 lb", "watch", ""), rule("b", "r", "pull", "less_than: 4 lb", "watch", "")}, map[string]string{"pull": "5 lb"}, []string{"breached watch b a"}},
		{"same lower bound: the strict one first", []string{rule("a", "r", "pull", "at_least: 4 lb", "watch", ""), rule("b", "r", "pull", "more_than: 4 lb", "watch", "")}, map[string]string{"pull": "3 lb"}, []string{"breached watch b a"}},
		{"two directions", []string{rule("a", "r", "pull", "at_least: 4 lb", "watch", ""), rule("b", "r", "pull", "at_most: 8 lb", "stop", "")}, map[string]string{"pull": "9 lb"}, []string{"kept - a", "breached stop b"}},
		{"share and literal", []string{rule("a", "r", "pull", "at_most: 8 lb", "watch", ""), rule("b", "r", "pull", "at_most: 50 % of pull_rating", "watch", "")}, map[string]string{"pull": "9 lb", "pull_rating": "10 lb"}, []string{"breached watch b a"}},
		{"share without its measure is worse than kept", []string{rule("a", "r", "pull", "at_most: 8 lb", "watch", ""), rule("b", "r", "pull", "at_most: 50 % of pull_rating", "stop", "")}, map[string]string{"pull": "7 lb"}, []string{"not recorded - b a"}},
		{"two without: the computed bound first", []string{rule("a", "r", "pull", "at_most: pull_rating", "watch", ""), rule("b", "r", "pull", "at_most: 8 lb", "stop", ", where: {stem: rubber}")}, map[string]string{"pull": "7 lb"}, []string{"not recorded - b a"}},
		{"two without, the other way round", []string{rule("b", "r", "pull", "at_most: 8 lb", "stop", ", where: {stem: rubber}"), rule("a", "r", "pull", "at_most: pull_rating", "watch", "")}, map[string]string{"pull": "7 lb"}, []string{"not recorded - b a"}},
		{"too close", []string{rule("a", "r", "pull", "at_most: 8 lb", "watch", ""), rule("b", "r", "pull", "at_most: 20 lb", "stop", "")}, map[string]string{"pull": "8 lb +/- 1 lb"}, []string{"too close watch a b"}},
		{"words of one set", []string{rule("a", "r", "position", "is: [inner, outer]", "watch", ""), rule("b", "r", "position", "is_not: single", "stop", "")}, map[string]string{"position": "single"}, []string{"breached stop a b"}},
		{"words of two sets", []string{rule("a", "r", "position", "is_not: inner", "watch", ""), rule("b", "r", "position", "is_not: outer", "stop", "")}, map[string]string{"position": "inner"}, []string{"breached watch a", "kept - b"}},
		{"exact figures", []string{rule("a", "r", "pull", "is: 3 lb", "watch", ", where: {stem: rubber}"), rule("b", "r", "pull", "is: 4 lb", "stop", ""), rule("c", "r", "pull", "is: 4 lb", "watch", "")}, map[string]string{"pull": "3 lb", "stem": "rubber"}, []string{"kept - a", "breached stop b c"}},
		{"exact shares", []string{rule("a", "r", "pull", "is_not: 50 % of pull_rating", "watch", ""), rule("b", "r", "pull", "is_not: 40 % of pull_rating", "stop", ""), rule("c", "r", "pull", "is_not: 5 % of pull_rating divided by 1", "stop", "")}, map[string]string{"pull": "3 lb", "pull_rating": "6 lb"}, []string{"breached watch a", "kept - b", "kept - c"}},
	} {
		f, err := v.NewFacts("valve", "v")
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range tt.given {
			if err := f.SetText(name, text); err != nil {
				t.Fatal(err)
			}
		}
		findings, err := compiled(t, v, tt.texts...).AppendRun(nil, f)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, j := range rules.Merge(findings) {
			action, ok := j.Action()
			if !ok {
				action.Name = "-"
			}
			line := j.Verdict.String() + " " + action.Name
			for _, f := range j.Findings {
				line += " " + f.Rule.Pack()
			}
			got = append(got, line)
			if j.Lead() != j.Findings[0] || j.Lead().Verdict != j.Verdict || len(j.Sources()) != len(j.Findings) || j.Sources()[0].Title != j.Lead().Rule.Pack() {
				t.Errorf("%s: lead %v, sources %v", tt.name, j.Lead(), j.Sources())
			}
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	// Two subjects stay two, and a source comes once.
	p := compiled(t, v, rule("a", "r", "pull", "at_most: 8 lb", "watch", ""), strings.Replace(rule("b", "r", "pull", "at_most: 8 lb", "stop", ""), "title: b", "title: a", 1))
	one, _ := v.NewFacts("valve", "one")
	two, _ := v.NewFacts("valve", "two")
	findings, err := p.AppendRun(nil, one, two)
	if err != nil {
		t.Fatal(err)
	}
	if got := rules.Merge(findings); len(got) != 2 || len(got[0].Findings) != 2 || len(got[0].Sources()) != 1 {
		t.Error(got)
	}
	if got := (rules.Judgment{}); got.Lead() != (rules.Finding{}) || got.Sources() != nil {
		t.Error("the zero Judgment")
	}
	if rules.Merge(nil) != nil {
		t.Error("nothing merged is something")
	}
}

func TestRange(t *testing.T) {
	v := mustVocabulary(t)
	p := compiled(t, v, baseText)
	one, _ := v.NewFacts("valve", "one")
	two, _ := v.NewFacts("valve", "two")
	seq, err := p.Run(one, two)
	if err != nil {
		t.Fatal(err)
	}
	want, err := p.AppendRun(nil, one, two)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // a sequence may be ranged over again
		if got := slices.Collect(seq); !slices.Equal(got, want) || len(got) != 4 || got[3].Name != "two" {
			t.Error(got)
		}
	}
	n := 0
	for range seq {
		if n++; n == 3 {
			break
		}
	}
	rs := p.Rules()
	rs[0] = nil
	p.Rules()[0].Sources()[0].Title = "spoiled"
	p.Rules()[0].Measures()[0] = rules.MeasureRef{}
	if p.Rules()[0].Sources()[0].Title != "" || p.Rules()[0].Measures()[0] == (rules.MeasureRef{}) {
		t.Error("a program can be changed from outside")
	}
}

// One vocabulary, pack and program serve many goroutines.
func TestConcurrent(t *testing.T) {
	v := mustVocabulary(t)
	packs := loaded(t, baseText, otherText)
	p, err := rules.Compile(v, packs...)
	if err != nil {
		t.Fatal(err)
	}
	shared, err := v.NewFacts("valve", "shared")
	if err != nil {
		t.Fatal(err)
	}
	if err := shared.SetText("stem_age", "5 years"); err != nil {
		t.Fatal(err)
	}
	want, err := p.AppendRun(nil, shared)
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for range 50 {
				own, err := rules.Compile(v, packs...)
				if err != nil {
					t.Error(err)
					return
				}
				f, _ := v.NewFacts("valve", fmt.Sprint(i))
				if err := f.SetText("stem_age", "5 years"); err != nil {
					t.Error(err)
				}
				for _, p := range []*rules.Program{p, own} {
					got, err := p.AppendRun(nil, shared, f)
					if err != nil || len(got) != 4 || got[0].Verdict != want[0].Verdict || got[2].Verdict != want[0].Verdict || got[0].BoundText() != want[0].BoundText() {
						t.Error(got, err)
					}
					rules.Merge(got)
				}
				if _, err := v.Extend(rules.Definition{Actions: []rules.Action{{Name: "note", Doc: "d"}}}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
}

// Files that are made to hurt are refused.
func TestHostile(t *testing.T) {
	v := mustVocabulary(t)
	for name, make := range hostile() {
		p, _ := rules.ReadPack("hostile.yaml", []byte(make(16<<10)))
		_, err := rules.Compile(v, p)
		var all *origin.Problems
		if !errors.As(err, &all) || len(all.All()) > origin.MaxProblems || len(err.Error()) > 64<<10 {
			t.Errorf("%s: %d bytes of %.200v", name, len(fmt.Sprint(err)), err)
		}
	}
}

// Rules that can all be kept stand beside each other, however close.
func TestNoContradiction(t *testing.T) {
	v := mustVocabulary(t)
	text := "pack: p\ntitle: t\nrules:\n"
	for i, r := range []string{
		"measure: pull, is_not: 3 lb", "measure: pull, is_not: 4 lb", "measure: pull, at_most: 2 lb", "measure: pull, at_least: 2 lb", "measure: pull, is: 2 lb",
		"measure: stem_age, at_least: 5 years, where: {stem: rubber}", "measure: stem_age, at_most: 4 years, where: {stem: metal}",
		"measure: stem_age, at_most: 4 years, where: {any: [{stem: rubber}]}",
		"measure: pull_rating, less_than: 3 lb, where: {pull: {at_most: 50 % of pull_rating}}", "measure: pull_rating, more_than: 3 lb, where: {pull: {at_most: 60 % of pull_rating}}",
		"measure: pull_rating, more_than: 3 lb, where: {pull: {at_most: 50 % of pull_rating divided by valves}}",
	} {
		text += fmt.Sprintf("  r-%d: {title: t, subject: valve, %s, action: stop, advice: a, source: {grade: computed}}\n", i, r)
	}
	compiled(t, v, text)
}

package rules_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

const provedText = `pack: proved
title: Proved
extends: [base]
change:
  age: {at_most: 4 years, where: {stem: rubber, pull: {at_least: 3 lb}}, too_close: as_breached, source: {grade: computed}}
rules:
  drops: {title: t, subject: valve, measure: bubbles, is: no, not_recorded: does_not_apply, action: watch, advice: a, source: {grade: computed}}
  hose: {title: t, subject: valve, measure: pull, less_than: 50 % of pull_rating divided by valves, where: {any: [{stem_age: {less_than: 2 years}}, {extended: yes}]}, action: watch, advice: a, source: {grade: computed}}
`

// line makes a case of what is given and expected.
func line(given, expect string) string {
	return fmt.Sprintf("  - {given: {%s}, expect: {%s}, source: {grade: common practice}}\n", given, expect)
}

func checkCases(t *testing.T, list string) (rules.CaseReport, error) {
	t.Helper()
	c, err := rules.ReadCases("proved.cases.yaml", []byte(withFormat("cases: proved\nlist:\n"+list)))
	if err != nil {
		t.Fatalf("%v in\n%s", err, list)
	}
	if c.Pack() != "proved" {
		t.Error(c.Pack())
	}
	return rules.CheckCases(mustVocabulary(t), loaded(t, otherText, baseText, provedText), c)
}

// All that a pack needs to be covered; leaving out any one case leaves a gap.
func TestCoverage(t *testing.T) {
	const aged = "subject: valve, stem: rubber, pull: 3 lb"
	const hose = "subject: valve, extended: yes, valves: 2"
	all := []string{
		line(aged+", stem_age: 3 years", "age: kept"),
		line(aged+", stem_age: 4 years", "age: kept"),
		line(aged+", stem_age: 5 years", "age: stop"),
		line(aged+", stem_age: 4 years +/- 1 years", "age: breached"),
		line("subject: valve, stem: metal, stem_age: 9 years", "age: does not apply"),
		line("subject: valve, bubbles: no", "drops: kept"),
		line("subject: valve, bubbles: yes", "drops: watch"),
		line("subject: valve", "drops: does not apply"),
		line(hose+", pull: 1 lb, pull_rating: 8 lb", "hose: kept"),
		line(hose+", pull: 2 lb, pull_rating: 8 lb", "hose: breached"),
		line(hose+", pull: 3 lb, pull_rating: 8 lb", "hose: watch"),
		line("subject: valve, extended: no, stem_age: 2 years, pull: 3 lb", "hose: does not apply"),
	}
	gaps := func(list []string) (out []string) {
		report, err := checkCases(t, strings.Join(list, ""))
		if err != nil || len(report.Failures) > 0 || report.Cases != len(list) || report.Pack != "proved" {
			t.Fatalf("%+v, %v", report, err)
		}
		for _, g := range report.Gaps {
			if g.Position.File != "test.yaml" || g.Position.Line < 5 {
				t.Errorf("%+v", g)
			}
			out = append(out, g.Rule+": "+g.Missing)
		}
		return out
	}
	if got := gaps(all); got != nil {
		t.Errorf("gaps in %v", got)
	}
	for i, want := range []string{
		"age: an exact value below its bound",
		"age: an exact value at its bound",
		"age: a case that expects its action, stop|age: an exact value above its bound",
		"age: a case too close to call, which it counts as breached",
		"age: a case that its conditions keep out",
		"drops: it from all sides: 3 cases are wanted, there are 2|drops: a case in which it is kept",
		"drops: it from all sides: 3 cases are wanted, there are 2|drops: a case in which it is breached|drops: a case that expects its action, watch",
		"drops: it from all sides: 3 cases are wanted, there are 2|drops: a case without its measure, to which it does not apply",
		"hose: a case in which it is kept|hose: an exact value below its bound",
		"hose: an exact value at its bound",
		"hose: a case that expects its action, watch|hose: an exact value above its bound",
		"hose: a case that its conditions keep out|hose: an exact value at the edge of its condition, stem age less than 2 years",
	} {
		list := append(append([]string{}, all[:i]...), all[i+1:]...)
		if diff := cmp.Diff(strings.Split(want, "|"), gaps(list)); diff != "" {
			t.Errorf("without case %d: %s", i, diff)
		}
	}
	// Values that are not exact, or whose bound is not, lie on no side of it.
	vague := append([]string{}, all...)
	vague[8] = line(hose+", pull: 1 lb, pull_rating: 8 lb to 9 lb", "hose: kept")
	vague[9] = line("subject: valve, extended: yes, valves: 2 to 3, pull: 2 lb, pull_rating: 8 lb", "hose: breached")
	vague[10] = line("subject: valve, extended: yes, valves: 0, pull: 3 lb, pull_rating: 8 lb", "hose: not recorded")
	vague[0] = line(aged, "age: not recorded")
	if diff := cmp.Diff([]string{
		"age: an exact value below its bound",
		"hose: a case that expects its action, watch",
		"hose: an exact value below its bound", "hose: an exact value at its bound", "hose: an exact value above its bound",
	}, gaps(vague)); diff != "" {
		t.Error(diff)
	}
	// The edge of a condition.
	edgeless := append([]string{}, all...)
	for i := range 4 {
		edgeless[i] = strings.Replace(edgeless[i], "pull: 3 lb", "pull: 4 lb", 1)
	}
	if diff := cmp.Diff([]string{"age: an exact value at the edge of its condition, pull at least 3 lb"}, gaps(edgeless)); diff != "" {
		t.Error(diff)
	}
}

func TestCasesFail(t *testing.T) {
	for _, tt := range []struct{ given, expect, want string }{
		{"subject: valve, bubbles: no", "drops: breached", `rule "drops": want breached, got kept: bubbles no, wanted: no`},
		{"subject: valve, bubbles: no", "drops: watch", `rule "drops": want watch, got kept: bubbles no, wanted: no`},
		{"subject: valve, bubbles: yes", "drops: kept", `rule "drops": want kept, got breached, watch: bubbles yes, wanted: no`},
		{"subject: valve, bubbles: yes", "drops: stop", `rule "drops": want stop, got breached, watch: bubbles yes, wanted: no`},
		{"subject: valve, bubbles: yes", "drops: does not apply", `rule "drops": want does not apply, got breached, watch: bubbles yes, wanted: no`},
		{"subject: valve", "drops: not recorded", `rule "drops": want not recorded, got does not apply: bubbles was not recorded, and then it does not apply`},
		{"subject: valve, pull: 3 lb +/- 1 lb, pull_rating: 3 lb", "load: kept", `rule "load": want kept, got too close: pull 3 lb +/- 1 lb, wanted: at most 3 lb (pull rating); that rests on pull`},
		{"subject: valve, extended: no, stem_age: 3 years, pull: 1 lb, valves: 2, pull_rating: 8 lb", "hose: kept", `rule "hose": want kept, got does not apply: it is for a valve where (the stem age is less than 2 years, or "extended" is yes)`},
	} {
		report, err := checkCases(t, line(tt.given, tt.expect))
		if err != nil || len(report.Failures) != 1 {
			t.Errorf("%+v: %+v, %v", tt, report, err)
			continue
		}
		f := report.Failures[0]
		var as *rules.CaseError
		if !errors.Is(f, rules.ErrCase) || !errors.As(f, &as) || as.Sources[0].Grade != origin.CommonPractice || f.Code != "case" || f.Position.Line != 3 || f.Position.Column == 0 || !strings.HasPrefix(f.Path, "list[0].expect.") {
			t.Errorf("%+v", f)
		}
		if want := "case failed: " + tt.want + " (case from common practice)"; f.Err.Error() != want {
			t.Errorf("got %v, want %s", f.Err, want)
		}
	}
	two := &rules.CaseError{Rule: "r", Want: "kept", Got: "too close", Sources: []origin.Source{{Grade: origin.Computed}, {Grade: origin.Published, Title: "a", Locator: "b"}}}
	if got := two.Error(); got != `case failed: rule "r": want kept, got too close (case from computed; a, b (published))` {
		t.Error(got)
	}
	if got := (&rules.CaseError{Rule: "r", Want: "kept", Got: "too close"}).Error(); got != `case failed: rule "r": want kept, got too close` {
		t.Error(got)
	}
}

func TestCasesRefused(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", "c.yaml:1:1: "},
		{"unknown key", "cases: p\nlst: []\n", `c.yaml:1:1: list: missing|c.yaml:2:1: unknown key "lst": did you mean "list"?`},
		{"no case", "cases: p\nlist: []\n", `c.yaml:2:7: list: case failed: an empty list`},
		{"all missing", "list:\n  - {}\n", `c.yaml:1:1: format: missing|c.yaml:1:1: cases: missing|c.yaml:2:5: list[0].given: missing|c.yaml:2:5: list[0].expect: missing|c.yaml:2:5: list[0]: incomplete source`},
		{"no subject, nothing expected", "cases: p\nlist:\n  - {given: {stem: rubber}, expect: {}, source: {grade: computed}}\n", `c.yaml:3:13: list[0].given: missing: subject|c.yaml:3:37: list[0].expect: case failed: nothing is expected`},
		{"misspelled", "cases: P\nlist:\n  - {given: {subject: Valve, Stem: rubber}, expect: {r_1: kept, r: [kept]}, source: {grade: computed}}\n", `c.yaml:1:8: cases: misspelled|c.yaml:3:23: list[0].given.subject: misspelled|c.yaml:3:30: list[0].given: misspelled|c.yaml:3:54: list[0].expect: misspelled|c.yaml:3:68: list[0].expect.r: wrong shape`},
		{"shapes", "cases: p\nlist:\n  - {given: [], expect: x, source: {grade: computed}}\n", `c.yaml:3:13: list[0].given: wrong shape|c.yaml:3:25: list[0].expect: wrong shape`},
	} {
		text := tt.text
		if tt.name != "all missing" {
			text = withFormat(text)
		}
		_, err := rules.ReadCases("c.yaml", []byte(text))
		var all *origin.Problems
		if !errors.As(err, &all) {
			t.Fatalf("%s: %v", tt.name, err)
		}
		wants := strings.Split(tt.want, "|")
		if all.Len() != len(wants) {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		for i, p := range all.All() {
			if !strings.HasPrefix(p.Error(), wants[i]) {
				t.Errorf("%s: got %v, want %s", tt.name, p, wants[i])
			}
		}
	}
	for _, tt := range []struct{ given, expect, want string }{
		{"subject: vallve", "age: kept", `proved.cases.yaml:3:23: list[0].given.subject: unknown subject "vallve": did you mean "valve"?`},
		{"subject: valve, stemm: rubber", "age: kept", `list[0].given.stemm: unknown measure "stemm" of valve: did you mean "stem"?`},
		{"subject: valve, pull: 3", "age: kept", `list[0].given.pull: force "3": wrong or missing unit`},
		{"subject: valve", "agee: kept", `list[0].expect.agee: unknown rule "agee" of proved: did you mean "age"?`},
		{"subject: valve", "age: keppt", `list[0].expect.age: unknown verdict or action "keppt": did you mean "kept"?`},
		{"subject: valve", "age: does not", `unknown verdict or action "does not": want one of kept, not recorded, too close, breached, asked, does not apply, stop, replace, watch`},
	} {
		if _, err := checkCases(t, line(tt.given, tt.expect)); err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%+v: %v", tt, err)
		}
	}

	v, err := mustVocabulary(t).Extend(rules.Definition{Subjects: []rules.Subject{{Name: "hose", Doc: "d"}}})
	if err != nil {
		t.Fatal(err)
	}
	c, err := rules.ReadCases("c.yaml", []byte(withFormat("cases: base\nlist:\n"+line("subject: hose", "age: kept"))))
	if err != nil {
		t.Fatal(err)
	}
	if _, err = rules.CheckCases(v, loaded(t, baseText), c); !errors.Is(err, rules.ErrCase) || !strings.Contains(err.Error(), `rule "age" is about a valve, the case about a hose`) {
		t.Error(err)
	}
	if _, err = rules.CheckCases(v, append(loaded(t, otherText), rules.Pack{}), c); err == nil || err.Error() != `c.yaml:1:8: cases: unknown pack "base": want one of other, ` {
		t.Error(err)
	}
	if _, err = rules.CheckCases(v, loaded(t, baseText), rules.Cases{}); !errors.Is(err, rules.ErrName) {
		t.Error(err)
	}
	if _, err = rules.CheckCases(nil, loaded(t, baseText), c); !errors.Is(err, rules.ErrVocabulary) {
		t.Error(err)
	}
	if (rules.Cases{}).Pack() != "" {
		t.Error("the zero Cases")
	}
}

func TestLoadCases(t *testing.T) {
	for _, name := range []string{"valve-care", "valve-care.yaml"} {
		c, err := rules.LoadCases(os.DirFS("testdata"), name)
		if err != nil || c.Pack() != "valve-care" {
			t.Error(c.Pack(), err)
		}
	}
	_, err := rules.LoadCases(fstest.MapFS{}, "none")
	var all *origin.Problems
	if !errors.Is(err, fs.ErrNotExist) || !errors.As(err, &all) || !strings.Contains(err.Error(), "none.cases.yaml") {
		t.Error(err)
	}
	small := rules.Loader{MaxBytes: 10}
	if _, err := small.LoadCases(os.DirFS("testdata"), "valve-care"); err == nil || !strings.Contains(err.Error(), "too large") {
		t.Error(err)
	}
}

// The sample pack of the documentation is whole: nothing fails, no gap.
func TestSamplePack(t *testing.T) {
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		t.Fatal(err)
	}
	cases, err := rules.LoadCases(os.DirFS("testdata"), "valve-care")
	if err != nil {
		t.Fatal(err)
	}
	report, err := rules.CheckCases(mustVocabulary(t), packs, cases)
	if err != nil || len(report.Failures) > 0 || len(report.Gaps) > 0 {
		t.Errorf("%+v, %v", report, err)
	}
}

// A case may expect that something is asked, and a rule that asks needs one.
func TestCasesThatAsk(t *testing.T) {
	t.Parallel()
	v := mustVocabulary(t)
	packs := loaded(t, "pack: ask\ntitle: t\nrules:\n"+
		"  load: {title: t, subject: valve, measure: pull, at_most: pull_rating, not_recorded: asked, ask: Read it., action: stop, advice: a, source: {grade: computed}}\n")
	for _, tc := range []struct{ given, expect, failure string }{
		{"pull: 5 lb", "asked", ""},
		{"pull: 5 lb", "not recorded", ""},
		{"pull: at least 5 lb, pull_rating: 9 lb", "not recorded", ""}, // as read it is kept
		{"pull: at most 50 lb, pull_rating: 9 lb", "asked", ""},
		{"pull: at least 5 lb, pull_rating: 9 lb", "asked", "want asked, got not recorded"},
		{"pull: 5 lb, pull_rating: 9 lb", "asked", "want asked, got kept"},
		{"pull: 5 lb", "kept", "want kept, got asked, stop"},
	} {
		c, err := rules.ReadCases("c.yaml", []byte("format: 1\ncases: ask\nlist:\n"+line("subject: valve, "+tc.given, "load: "+tc.expect)))
		if err != nil {
			t.Fatal(err)
		}
		report, err := rules.CheckCases(v, packs, c)
		if err != nil {
			t.Fatal(err)
		}
		failure := ""
		for _, f := range report.Failures {
			failure += f.Error()
		}
		if (failure == "") != (tc.failure == "") || !strings.Contains(failure, tc.failure) {
			t.Errorf("%s, %s: %q, want %q", tc.given, tc.expect, failure, tc.failure)
		}
		missing := slices.ContainsFunc(report.Gaps, func(g rules.Gap) bool { return strings.Contains(g.Missing, "which it asks for") })
		if asked := tc.given == "pull: 5 lb" && tc.failure == ""; missing == asked {
			t.Errorf("%s, %s: a case of the question is missing: %v", tc.given, tc.expect, missing)
		}
	}
}

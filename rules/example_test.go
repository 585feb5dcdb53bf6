package rules_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// whole is a dimension of whole numbers of one unit.
func whole(name, unit string) rules.Dimension {
	return rules.Dimension{
		Name: name,
		Doc:  "whole numbers, such as 3 " + unit,
		Parse: func(text string) (int64, error) {
			digits, ok := strings.CutSuffix(text, " "+unit)
			if !ok {
				return 0, &origin.TextError{Kind: name, Text: text, Want: "3 " + unit, Err: origin.ErrUnit}
			}
			return strconv.ParseInt(digits, 10, 64)
		},
		Format: func(n int64) string { return strconv.FormatInt(n, 10) + " " + unit },
	}
}

// valves is an invented vocabulary: what a made-up shop records of valves.
func valves() rules.Definition {
	return rules.Definition{
		Actions: []rules.Action{
			{Name: "stop", Doc: "do not drive until it is done", Stops: true},
			{Name: "replace", Doc: "before the next trip"},
			{Name: "watch", Doc: "look again at the next service"},
		},
		Subjects: []rules.Subject{{
			Name: "valve", Doc: "a valve with its stem and extension",
			Measures: []rules.Measure{
				{Name: "stem", Doc: "what the stem is made of", Words: []string{"rubber", "metal"}},
				{Name: "stem_age", Doc: "years since the stem was fitted", Dimension: whole("time", "years")},
				{Name: "position", Doc: "which tire of the end", Words: []string{"single", "inner", "outer"}},
				{Name: "extended", Doc: "whether an extension is fitted", Flag: true},
				{Name: "bubbles", Doc: "whether soap water shows bubbles", Flag: true},
				{Name: "pull", Doc: "pull of the hose on the stem", Dimension: whole("force", "lb")},
				{Name: "pull_rating", Doc: "pull that the stem is made for", Dimension: whole("force", "lb")},
				{Name: "valves", Doc: "how many valves share the hose", Dimension: rules.Count()},
			},
		}},
	}
}

// Loading a pack, compiling it, and judging one valve.
func Example() {
	vocabulary, err := rules.NewVocabulary(valves())
	if err != nil {
		fmt.Println(err)
		return
	}
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		fmt.Println(err)
		return
	}
	program, err := rules.Compile(vocabulary, packs...)
	if err != nil {
		fmt.Println(err)
		return
	}
	stem, _ := vocabulary.Measure("valve", "stem")
	age, _ := vocabulary.Measure("valve", "stem_age")
	pull, _ := vocabulary.Measure("valve", "pull")
	extended, _ := vocabulary.Measure("valve", "extended")
	position, _ := vocabulary.Measure("valve", "position")
	facts, err := vocabulary.NewFacts("valve", "left rear, inner")
	if err != nil {
		fmt.Println(err)
		return
	}
	facts.Set(stem, rules.Word(0)).Set(age, rules.Quantity[int64](7))
	facts.Set(extended, rules.Flag(true)).Set(position, rules.Word(1)).Set(pull, rules.PlusMinus[int64](12, 2))

	findings, err := program.Run(facts)
	if err != nil {
		fmt.Println(err)
		return
	}
	for f := range findings {
		fmt.Printf("%s: %s: %s %s, %s\n", f.Name, f.Rule.ID(), f.Rule.Measure().Measure().Name, f.ValueText(), f.BoundText())
		switch f.Verdict {
		case rules.Breached:
			fmt.Printf("  %s: %s\n", f.Rule.Action().Name, f.Rule.Advice())
		case rules.NotRecorded:
			fmt.Printf("  to record: %s\n", strings.Join(f.ToRecord(), ", "))
		}
	}
	// Output:
	// left rear, inner: stem-age: stem_age 7 years, at most 6 years
	//   replace: Fit a new stem while the tire is off.
	// left rear, inner: stem-load: pull 12 lb +/- 2 lb, at most 50 % of pull rating, not recorded
	//   to record: pull_rating
}

// A measure of one's own, with a rule on it, in one's own program: the
// vocabulary is extended, and nothing else changes.
func ExampleVocabulary_Extend() {
	base, err := rules.NewVocabulary(valves())
	if err != nil {
		fmt.Println(err)
		return
	}
	ours, err := base.Extend(rules.Definition{Subjects: []rules.Subject{{
		Name: "valve",
		Measures: []rules.Measure{
			{Name: "torque", Doc: "what the nut of the stem was tightened to", Dimension: whole("torque", "in-lb")},
		},
	}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	pack, err := rules.ReadPack("nuts.yaml", []byte(`
format: 1
pack: nuts
title: The nuts of our stems
rules:
  loose-nut:
    title: The nut of the stem is loose
    subject: valve
    measure: torque
    where: {stem: metal}
    at_least: 30 in-lb
    action: watch
    advice: Tighten the nut with the torque wrench.
    source: {grade: invented, title: the made-up shop's handbook}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	program, err := rules.Compile(ours, pack)
	if err != nil {
		fmt.Println(err)
		return
	}
	facts, err := ours.NewFacts("valve", "spare")
	if err != nil {
		fmt.Println(err)
		return
	}
	for measure, text := range map[string]string{"stem": "metal", "torque": "25 in-lb"} {
		if err := facts.SetText(measure, text); err != nil {
			fmt.Println(err)
			return
		}
	}
	findings, err := program.AppendRun(nil, facts)
	fmt.Println(findings[0].Verdict, findings[0].ValueText(), findings[0].BoundText(), err)
	fmt.Println(findings[0].Rule.Limit())
	fmt.Println(findings[0].Rule.Sentence())
	// Output:
	// breached 25 in-lb at least 30 in-lb <nil>
	// Each valve where the stem is metal: the torque must be at least 30 in-lb
	// Each valve where the stem is metal: the torque must be at least 30 in-lb. If not: watch. Tighten the nut with the torque wrench.
}

// The cases of a pack prove it.
func ExampleCheckCases() {
	vocabulary, err := rules.NewVocabulary(valves())
	if err != nil {
		fmt.Println(err)
		return
	}
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		fmt.Println(err)
		return
	}
	cases, err := rules.LoadCases(os.DirFS("testdata"), "valve-care")
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := rules.CheckCases(vocabulary, packs, cases)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Pack, report.Cases, "cases")
	for _, failure := range report.Failures {
		fmt.Println(failure)
	}
	for _, gap := range report.Gaps {
		fmt.Println(gap.Rule, "needs", gap.Missing)
	}
	// Output:
	// valve-care 13 cases
}

// Several packs may speak of one measure: the tighter bound leads, with the
// sources of all.
func ExampleMerge() {
	vocabulary, err := rules.NewVocabulary(valves())
	if err != nil {
		fmt.Println(err)
		return
	}
	rule := `
format: 1
pack: %s
title: A limit
rules:
  age: {title: Old stem, subject: valve, measure: stem_age, at_most: %d years, action: %s, advice: Replace it.,
    source: {grade: invented, title: %[1]s}}
`
	var packs []rules.Pack
	for _, text := range []string{fmt.Sprintf(rule, "lenient", 8, "replace"), fmt.Sprintf(rule, "severe", 4, "watch")} {
		p, err := rules.ReadPack("", []byte(text))
		if err != nil {
			fmt.Println(err)
			return
		}
		packs = append(packs, p)
	}
	program, err := rules.Compile(vocabulary, packs...)
	if err != nil {
		fmt.Println(err)
		return
	}
	facts, _ := vocabulary.NewFacts("valve", "left front")
	if err := facts.SetText("stem_age", "9 years"); err != nil {
		fmt.Println(err)
		return
	}
	findings, _ := program.AppendRun(nil, facts)
	for _, j := range rules.Merge(findings) {
		action, _ := j.Action()
		fmt.Println(j.Verdict, j.Lead().BoundText(), action.Name, j.Sources())
	}
	// Output:
	// breached at most 4 years replace [severe (invented) lenient (invented)]
}

package rules_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

const baseText = `pack: base
title: Base
rules:
  age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}
  load: {title: t, subject: valve, measure: pull, at_most: pull_rating, action: stop, advice: a, source: {grade: computed}}
`

const otherText = `pack: other
title: Other
extends: [base]
change:
  age: {at_most: 4 years, action: watch, source: {grade: common practice}}
`

// withFormat says the format at the end of a text that does not, where it moves
// no line.
func withFormat(text string) string {
	end := strings.TrimRight(text, " \n")
	switch {
	case strings.Contains(text, "format"), !strings.Contains(text, ": "): // or no mapping
		return text
	case strings.HasPrefix(text, "{") && strings.HasSuffix(end, "}"):
		return end[:len(end)-1] + `, "format": 1}`
	case strings.HasPrefix(text, "{"):
		return text
	}
	return text + "\nformat: 1\n"
}

// refusal loads and compiles a pack, with others where it extends any, and
// gives all problems, a line each: line, column, code, path and cause.
func refusal(t *testing.T, text string) string {
	t.Helper()
	var packs []rules.Pack
	if strings.Contains(text, "extends") {
		packs = loaded(t, baseText, otherText)
	}
	p, loading := rules.LoadPack("p.yaml", []byte(withFormat(text)))
	_, err := rules.Compile(mustVocabulary(t), append(packs, p)...)
	var all *origin.Problems
	if !errors.As(err, &all) {
		t.Fatalf("no *origin.Problems but %v", err)
	}
	if loading != nil && !strings.Contains(err.Error(), loading.(*origin.Problems).All()[0].Error()) {
		t.Errorf("what loading found is missing: %v in %v", loading, err)
	}
	var b strings.Builder
	for i, p := range all.All() {
		if i > 0 {
			b.WriteByte('\n')
		}
		if p.Position.File != "p.yaml" {
			t.Errorf("file of %v", p)
		}
		fmt.Fprintf(&b, "%d:%d %s %s", p.Position.Line, p.Position.Column, p.Code, p.Path)
		// What is no YAML of ours is strictyaml's to word.
		if !slices.Contains([]string{"syntax", "encoding", "forbidden"}, p.Code) {
			fmt.Fprintf(&b, ": %v", p.Err)
		}
	}
	return b.String()
}

// Each of these is refused, with all of its problems at their places.
func TestRefused(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", "1:1 syntax "},
		{"not a mapping", `- a
`, "1:1 shape : wrong shape: want a mapping, found a list"},
		{"bom", "\ufeffpack: p\n", "1:1 encoding "},
		{"tab", "pack: p\nrules:\n\tr: {}\n", "3:1 encoding "},
		{"syntax", `pack: p
title: a: b
`, "2:0 syntax "},
		{"two documents", `pack: p
title: t
---
pack: q
`, "3:1 forbidden "},
		{"anchor and alias", `pack: p
title: t
about: &a x
extends: [*a]
`, `3:8 forbidden about
4:11 forbidden extends[0]`},
		{"anchor", `pack: p
title: &a t
extends: [base]
`, "2:8 forbidden title"},
		{"tag", `pack: p
title: !!str t
extends: [base]
`, "2:8 forbidden title"},
		{"null", `pack: p
title:
extends: [base]
`, "2:7 forbidden title"},
		{"deep", `pack: p
title: t
rules: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
`, "3:40 forbidden rules[0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0]"},
		{"unknown and duplicate keys", `pack: p
title: t
titel: u
title: v
rulez: {}
extends: [base]
`, `3:1 unknown-key : unknown key "titel": did you mean "title"?
4:1 duplicate-key : duplicate key "title", first on line 2
5:1 unknown-key : unknown key "rulez": did you mean "rules"?`},
		{"nothing in it", `pack: p
title: t
`, "1:1 missing : missing: neither rules nor extends"},
		{"no title", `pack: p
extends: [base]
`, "1:1 missing title: missing"},
		{"no pack", `title: t
extends: [base]
`, "1:1 missing pack: missing"},
		{"pack misspelled", `pack: My_Pack
title: t
extends: [base]
`, `1:7 spelling pack: misspelled name: "My_Pack": want lower-case letters, digits and hyphens, a letter first, at most 64`},
		{"empty lists", `pack: p
title: t
extends: []
rules: {}
`, `3:10 shape extends: wrong shape: nothing in extends; leave it out
4:8 shape rules: wrong shape: nothing in rules; leave it out`},
		{"drop without extends", `pack: p
title: t
drop: [r]
change: {s: {source: {grade: computed}}}
rules: {r: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}}
`, `3:7 name drop: unknown: drop without extends: there is nothing of another pack here
4:9 name change: unknown: change without extends: there is nothing of another pack here`},
		{"extends itself", `pack: p
title: t
extends: [p, base]
`, "3:11 cycle extends[0]: packs extend each other in a circle: p extends itself"},
		{"extends twice", `pack: p
title: t
extends: [base, base]
`, `3:17 twice extends[1]: named twice: "base"`},
		{"extends unknown", `pack: p
title: t
extends: [bose]
`, `3:11 name extends[0]: unknown pack "bose": did you mean "base"?`},
		{"extends shape", `pack: p
title: t
extends: base
`, "3:10 shape extends: wrong shape: want a list, found a single value"},
		{"drop unknown", `pack: p
title: t
extends: [base]
drop: [aage, x]
`, `4:8 name drop[0]: unknown rule "aage" of the packs it extends: did you mean "age"?
4:14 name drop[1]: unknown rule "x" of the packs it extends: want one of age, load`},
		{"change unknown", `pack: p
title: t
extends: [base]
change:
  agee: {at_most: 3 years, source: {grade: computed}}
`, `5:3 name change.agee: unknown rule "agee" of the packs it extends: did you mean "age"?`},
		{"drop and change", `pack: p
title: t
extends: [base]
drop: [age]
change:
  age: {at_most: 3 years, source: {grade: computed}}
`, `6:3 contradiction change: contradiction: rule "age" is dropped and changed`},
		{"change without source", `pack: p
title: t
extends: [base]
change:
  age: {at_most: 3 years}
`, "5:8 source change.age: incomplete source: no source: what comes from nowhere is not used"},
		{"change of subject", `pack: p
title: t
extends: [base]
change:
  age: {subject: valve, source: {grade: computed}}
`, `5:9 unknown-key change.age: unknown key "subject": want one of title, where, too_close, not_recorded, ask, action, advice, causes, involves, source, at_most, less_than, at_least, more_than, is, is_not`},
		{"change to two bounds", `pack: p
title: t
extends: [base]
change:
  age: {at_most: 3 years, less_than: 4 years, source: {grade: computed}}
`, "5:38 bound change.age.less_than: unclear bound: a second bound; make it a rule of its own"},
		{"change to another kind", `pack: p
title: t
extends: [base]
change:
  age: {is: rubber, source: {grade: computed}}
`, `5:13 name change.age.is: unknown measure "rubber" of valve: want one of stem, stem_age, position, extended, bubbles, pull, pull_rating, valves`},
		{"rule of a base", `pack: p
title: t
extends: [base]
rules: {age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}}
`, `4:9 twice rules.age: named twice: rule "age" is one of base; change it, or take another name`},
		{"base differs by two ways", `pack: p
title: t
extends: [base, other]
`, `3:17 twice extends[1]: named twice: rule "age" comes from base and, otherwise, from other`},
		{"rule empty", `pack: p
title: t
rules: {r: {}}
`, `3:12 missing rules.r.subject: missing
3:12 missing rules.r.measure: missing
3:12 missing rules.r.title: missing
3:12 missing rules.r.action: missing
3:12 missing rules.r.advice: missing
3:12 bound rules.r: unclear bound: want one of at_most, less_than, at_least, more_than, is, is_not
3:12 source rules.r: incomplete source: no source: what comes from nowhere is not used`},
		{"rule shape", `pack: p
title: t
rules: {r: [], s: x}
`, `3:12 shape rules.r: wrong shape: want a mapping, found a list
3:19 shape rules.s: wrong shape: want a mapping, found a single value`},
		{"rules shape", `pack: p
title: t
rules: [x]
`, "3:8 shape rules: wrong shape: want a mapping, found a list"},
		{"rule id", `pack: p
title: t
rules: {r_1: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}}
`, `3:9 spelling rules: misspelled name: "r_1": want lower-case letters, digits and hyphens, a letter first, at most 64`},
		{"duplicate id", `pack: p
title: t
rules:
  r: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}
  r: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}
`, `5:3 duplicate-key rules: duplicate key "r", first on line 4`},
		{"no source", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
`, "5:5 source rules.r: incomplete source: no source: what comes from nowhere is not used"},
		{"source empty list", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: []
`, "11:13 source rules.r.source: incomplete source: an empty list"},
		{"source without title", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: published}
`, "11:13 source rules.r.source: incomplete source: a source that is published needs a title"},
		{"source grade", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: certain, title: x}
`, `11:21 value rules.r.source.grade: unknown grade "certain": want one of published, as quoted, computed, common practice, from memory, invented`},
		{"source without grade", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: [{title: x}, {grade: computed, page: 3}]
`, `11:14 missing rules.r.source[0].grade: missing
11:44 unknown-key rules.r.source[1]: unknown key "page": want one of grade, title, locator`},
		{"unknown rule key", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    messure: x
`, `12:5 unknown-key rules.r: unknown key "messure": did you mean "measure"?`},
		{"unknown subject", `pack: p
title: t
rules:
  r:
    title: t
    subject: valv
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
`, `6:14 name rules.r.subject: unknown subject "valv": did you mean "valve"?`},
		{"unknown measure", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_agee
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
`, `7:14 name rules.r.measure: unknown measure "stem_agee" of valve: did you mean "stem_age"?`},
		{"measure far off", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: color
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
`, `7:14 name rules.r.measure: unknown measure "color" of valve: want one of stem, stem_age, position, extended, bubbles, pull, pull_rating, valves`},
		{"unknown action", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stopp
    advice: a
    source: {grade: computed}
`, `9:13 name rules.r.action: unknown action "stopp": did you mean "stop"?`},
		{"names misspelled", `pack: p
title: t
rules:
  r:
    title: t
    subject: Valve
    measure: stem-age
    at_most: 6 years
    action: Stop!
    advice: a
    source: {grade: computed}
`, `6:14 spelling rules.r.subject: misspelled name: "Valve": want lower-case letters, digits and underscores, a letter first, at most 64
7:14 spelling rules.r.measure: misspelled name: "stem-age": want lower-case letters, digits and underscores, a letter first, at most 64
9:13 spelling rules.r.action: misspelled name: "Stop!": want lower-case letters, digits and underscores, a letter first, at most 64`},
		{"too_close", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    too_close: as_breach
`, `12:16 name rules.r.too_close: unknown word "as_breach" of too_close: did you mean "as_breached"?`},
		{"not_recorded", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    not_recorded: as_breached
`, `12:19 name rules.r.not_recorded: unknown word "as_breached" of not_recorded: want one of reported, does_not_apply, asked`},
		{"empty texts", `pack: p
title: t
rules:
  r:
    title: " "
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: ""
    source: {grade: computed}
`, `5:12 text rules.r.title: unusable text: empty
10:13 text rules.r.advice: unusable text: empty`},
		{"long title", `pack: p
title: t
rules:
  r:
    title: xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
`, "5:12 text rules.r.title: unusable text: longer than 120 characters"},
		{"control in a text", `pack: p
title: t
rules:
  r:
    title: "a\e[31mb"
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: "a\u200eb"
    source: {grade: computed}
`, `5:12 text rules.r.title: unusable text: holds the character U+001B
10:13 text rules.r.advice: unusable text: holds the character U+200E`},
		{"several problems", `pack: p
title: t
rules:
  r:
    title: t
    subject: valv
    measure: stem_age
    at_most: 6 years
    action: stopp
    advice: a
    too_close: never
`, `5:5 source rules.r: incomplete source: no source: what comes from nowhere is not used
6:14 name rules.r.subject: unknown subject "valv": did you mean "valve"?
9:13 name rules.r.action: unknown action "stopp": did you mean "stop"?
11:16 name rules.r.too_close: unknown word "never" of too_close: want one of reported, as_breached`},
		{"no bound", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    action: stop
    advice: a
    source: {grade: computed}
`, "5:5 bound rules.r: unclear bound: want one of at_most, less_than, at_least, more_than, is, is_not"},
		{"two bounds", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    at_least: 3 years
`, "12:15 bound rules.r.at_least: unclear bound: a second bound; make it a rule of its own"},
		{"bound shape", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: [6 years]
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 shape rules.r.at_most: wrong shape: want a single value, found a list"},
		{"bound mapping", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: {share: 3}
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 shape rules.r.at_most: wrong shape: want a single value, found a mapping"},
		{"wrong dimension", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 lb
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 dimension rules.r.at_most: wrong dimension: stem_age (time): time "6 lb": wrong or missing unit: want 3 years`},
		{"bare number", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 dimension rules.r.at_most: wrong dimension: stem_age (time): time "6": wrong or missing unit: want 3 years`},
		{"malformed number", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6.5 years
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: strconv.ParseInt: parsing "6.5": invalid syntax`},
		{"measure of another dimension", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: pull
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 dimension rules.r.at_most: wrong dimension: stem_age (time) against pull (force)"},
		{"unknown bound measure", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 50 % of stem_agee
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 name rules.r.at_most: unknown measure "stem_agee" of valve: did you mean "stem_age"?`},
		{"held against itself", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 50 % of stem_age
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 contradiction rules.r.at_most: contradiction: stem_age is held against itself"},
		{"share of a word", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: 50 % of stem
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 dimension rules.r.at_most: wrong dimension: pull (force) against stem (rubber, metal)"},
		{"share zero", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: 0 % of pull_rating
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: share "0 %": out of range: want above 0 % and at most 1000 %`},
		{"share negative", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: -5 % of pull_rating
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: share "-5 %": out of range: want above 0 % and at most 1000 %`},
		{"share too large", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: 1000.0001 % of pull_rating
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: share "1000.0001 %": out of range: want above 0 % and at most 1000 %`},
		{"share too fine", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: 0.00001 % of pull_rating
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: share "0.00001 %": finer than can be kept exactly: want a rounder value`},
		{"share malformed", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: half % of pull_rating
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: share "half %": malformed number: want a percentage such as 80 % with at most four decimals`},
		{"share of nothing", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: "50 % of "
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 dimension rules.r.at_most: wrong dimension: pull (force): force "50 % of": wrong or missing unit: want 3 lb`},
		{"divisor zero", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: pull_rating divided by 0
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: divisor "0": out of range: want a whole number from 1 to 1000, or a measure that is a count`},
		{"divisor large", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: pull_rating divided by 1001
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 bound rules.r.at_most: unclear bound: divisor "1001": out of range: want a whole number from 1 to 1000, or a measure that is a count`},
		{"divisor unknown", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: pull_rating divided by valvs
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 name rules.r.at_most: unknown measure "valvs" of valve: did you mean "valves"?`},
		{"divisor no count", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: pull_rating divided by stem_age
    action: stop
    advice: a
    source: {grade: computed}
`, "8:14 dimension rules.r.at_most: wrong dimension: stem_age (time): only a count divides"},
		{"divisor missing", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: pull
    at_most: "pull_rating divided by "
    action: stop
    advice: a
    source: {grade: computed}
`, `8:14 name rules.r.at_most: unknown measure "pull_rating divided by" of valve: want one of stem, stem_age, position, extended, bubbles, pull, pull_rating, valves`},
		{"word with an upper bound", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    at_most: rubber
    action: stop
    advice: a
    source: {grade: computed}
`, "8:5 dimension rules.r.at_most: wrong dimension: stem (rubber, metal): want is or is_not"},
		{"word unknown", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    action: stop
    advice: a
    source: {grade: computed}
    is: ruber
`, `11:9 name rules.r.is: unknown word "ruber" of stem: did you mean "rubber"?`},
		{"word twice", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    action: stop
    advice: a
    source: {grade: computed}
    is: [rubber, rubber]
`, "11:18 twice rules.r.is[1]: named twice: rubber"},
		{"every word", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    action: stop
    advice: a
    source: {grade: computed}
    is: [rubber, metal]
`, "11:5 contradiction rules.r.is: contradiction: every word keeps this bound"},
		{"no word", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    action: stop
    advice: a
    source: {grade: computed}
    is_not: [rubber, metal]
`, "11:5 contradiction rules.r.is_not: contradiction: no word keeps this bound"},
		{"no word at all", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem
    action: stop
    advice: a
    source: {grade: computed}
    is: []
`, "11:9 bound rules.r.is: unclear bound: an empty list"},
		{"flag", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: bubbles
    action: stop
    advice: a
    source: {grade: computed}
    is: true
`, `11:9 name rules.r.is: unknown word "true" of bubbles: want one of no, yes`},
		{"both flags", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: bubbles
    action: stop
    advice: a
    source: {grade: computed}
    is_not: [yes, no]
`, "11:5 contradiction rules.r.is_not: contradiction: no word keeps this bound"},
		{"list of quantities", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    action: stop
    advice: a
    source: {grade: computed}
    is: [6 years, 7 years]
`, "11:5 dimension rules.r.is: wrong dimension: stem_age (time): want a single value"},
		{"below all", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    action: stop
    advice: a
    source: {grade: computed}
    less_than: -9223372036854775808 years
`, "11:16 contradiction rules.r.less_than: contradiction: no stem age is so"},
		{"above all", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    action: stop
    advice: a
    source: {grade: computed}
    more_than: 9223372036854775807 years
`, "11:16 contradiction rules.r.more_than: contradiction: no stem age is so"},
		{"where empty", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {}
`, "12:12 bound rules.r.where: unclear bound: no condition in where; leave it out"},
		{"where shape", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: rubber
`, "12:12 shape rules.r.where: wrong shape: want a mapping, found a single value"},
		{"where unknown", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {stemm: rubber}
`, `12:13 name rules.r.where.stemm: unknown measure "stemm" of valve: did you mean "stem"?`},
		{"where word", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {stem: [rubber, mettal]}
`, `12:28 name rules.r.where.stem[1]: unknown word "mettal" of stem: did you mean "metal"?`},
		{"where misspelled", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {Stem: rubber}
`, `12:13 spelling rules.r.where: misspelled name: "Stem": want lower-case letters, digits and underscores, a letter first, at most 64`},
		{"where bound unknown", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {pull: {at_mots: 3 lb}}
`, `12:20 unknown-key rules.r.where.pull: unknown key "at_mots": did you mean "at_most"?`},
		{"where no bound", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {pull: {}}
`, "12:19 bound rules.r.where.pull: unclear bound: want one of at_most, less_than, at_least, more_than, is, is_not"},
		{"where relation", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {stem: {at_most: rubber}}
`, "12:20 dimension rules.r.where.stem.at_most: wrong dimension: stem (rubber, metal): want is or is_not"},
		{"where contradiction", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {pull: {at_least: 5 lb, less_than: 5 lb}}
`, "12:13 contradiction rules.r.where.pull: contradiction: no pull is so"},
		{"where excludes all", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {stem: {is_not: [metal, rubber]}}
`, "12:20 contradiction rules.r.where.stem.is_not: contradiction: no word keeps this bound"},
		{"where dimension", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {pull: 3 years}
`, `12:19 dimension rules.r.where.pull: wrong dimension: pull (force): force "3 years": wrong or missing unit: want 3 lb`},
		{"where list of quantities", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {pull: [3 lb, 4 lb]}
`, "12:13 dimension rules.r.where.pull: wrong dimension: pull (force): want a single value"},
		{"where empty word list", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {stem: []}
`, "12:19 bound rules.r.where.stem: unclear bound: an empty list"},
		{"any empty", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {any: []}
`, "12:18 bound rules.r.where.any: unclear bound: an empty list"},
		{"any shape", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {any: {stem: rubber}}
`, "12:18 shape rules.r.where.any: wrong shape: want a list, found a mapping"},
		{"any of nothing", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {any: [{}]}
`, "12:19 bound rules.r.where.any[0]: unclear bound: no condition"},
		{"any unknown", `pack: p
title: t
rules:
  r:
    title: t
    subject: valve
    measure: stem_age
    at_most: 6 years
    action: stop
    advice: a
    source: {grade: computed}
    where: {any: [{stem: rubber}, {any: [{stm: metal}]}]}
`, `12:43 name rules.r.where.any[1].any[0].stm: unknown measure "stm" of valve: did you mean "stem"?`},
		{"rules contradict", `pack: p
title: t
rules:
  low: {title: t, subject: valve, measure: stem_age, at_least: 7 years, action: stop, advice: a, source: {grade: computed}}
  high: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: stop, advice: a, source: {grade: computed}}
`, `5:3 contradiction rules.high: contradiction: no stem age keeps both this and rule "low" in p.yaml:4:3`},
		{"rules contradict in one word", `pack: p
title: t
rules:
  one: {title: t, subject: valve, measure: stem_age, is: 7 years, action: stop, advice: a, source: {grade: computed}}
  high: {title: t, subject: valve, measure: stem_age, less_than: 7 years, action: stop, advice: a, source: {grade: computed}}
`, `5:3 contradiction rules.high: contradiction: no stem age keeps both this and rule "one" in p.yaml:4:3`},
		{"rules contradict under conditions", `pack: p
title: t
rules:
  low: {title: t, subject: valve, measure: stem_age, at_most: 6 years, where: {stem: rubber, any: [{bubbles: yes}, {pull: {at_most: pull_rating}}]}, action: stop, advice: a, source: {grade: computed}}
  high: {title: t, subject: valve, measure: stem_age, more_than: 6 years, where: {any: [{pull: {at_most: pull_rating}}, {bubbles: yes}], stem: rubber}, action: stop, advice: a, source: {grade: computed}}
`, `5:3 contradiction rules.high: contradiction: no stem age keeps both this and rule "low" in p.yaml:4:3`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := refusal(t, tt.text); got != tt.want {
				t.Errorf("in\n%s\ngot\n%s\nwant\n%s", tt.text, got, tt.want)
			}
		})
	}
}

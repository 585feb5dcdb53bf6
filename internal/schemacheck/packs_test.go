package schemacheck_test

import (
	"fmt"
	"strings"
	"testing"
)

const goodPack = `format: 1
pack: own-shop
title: Our own limits
about: For the coaches of an invented shop.
edition: as of 2026
for: {country: [US, CA-QC], use: private}
scope: {coach: {gvwr: {more_than: 10000 lb}}}
extends: [coach-care, label]
drop: [gvwr]
change:
  tread-steer:
    at_least: 5/32 in
    source: {grade: invented, title: the made-up shop's handbook}
rules:
  worn:
    title: Worn out
    subject: tire
    measure: tread
    where: {role: steer, age: {at_least: 2 years, less_than: 10 years}, any: [{retread: yes}, {place: [inner, outer]}]}
    at_least: 4/32 in
    too_close: as_breached
    not_recorded: reported
    action: before_trip
    advice: Replace it.
    causes: [long use, "toe, perhaps"]
    involves: [wheel_off]
    source: {grade: common practice}
`

// A swap makes a bad file of a good one.
type swap struct{ name, old, new string }

func (s swap) in(t *testing.T, good string) []byte {
	t.Helper()
	if strings.Count(good, s.old) != 1 {
		t.Fatalf("%s: %q stands %d times in the good file", s.name, s.old, strings.Count(good, s.old))
	}
	return []byte(strings.Replace(good, s.old, s.new, 1))
}

// TestGoodPacks has what the format allows taken by schema and reader alike.
func TestGoodPacks(t *testing.T) {
	f := packFormat(t)
	f.taken(t, "the good pack", []byte(goodPack))
	for _, s := range []swap{
		{"a version", "format: 1\n", "format: '1'\n"},
		{"no about", "about: For the coaches of an invented shop.\n", ""},
		{"one country", "[US, CA-QC]", "US"},
		{"two uses", "use: private", "use: [private, commercial]"},
		{"nothing of whom it is for", "for: {country: [US, CA-QC], use: private}\n", ""},
		{"a title that is a number", "title: Our own limits", "title: 2026"},
		{"no condition any more", "    at_least: 5/32 in\n", "    where: {}\n"},
		{"a change of the source alone", "    at_least: 5/32 in\n", ""},
		{"a share of a measure", "at_least: 4/32 in", "at_least: 50 % of gawr"},
		{"a list of words", "at_least: 4/32 in", "is: [radial, bias]"},
		{"none of some words", "at_least: 4/32 in", "is_not: [radial, bias]"},
		{"yes as a boolean", "at_least: 4/32 in", "is: true"},
		{"a question", "not_recorded: reported", "not_recorded: asked\n    ask: Read it with a probe."},
		{"several sources", "source: {grade: common practice}", "source: [{grade: common practice}, {grade: published, title: X, locator: S1}]"},
		{"alternatives in alternatives", "{retread: yes}", "{any: [{retread: yes}, {retread: no}]}"},
		{"folded text", "advice: Replace it.", "advice: >-\n      Replace it,\n      and soon."},
	} {
		f.taken(t, s.name, s.in(t, goodPack))
	}
	f.taken(t, "JSON", []byte(`{"format": 1, "pack": "own", "title": "T", "rules": {"worn": {"title": "W", "subject": "tire",
		"measure": "tread", "at_least": "2/32 in", "action": "plan", "advice": "A", "source": {"grade": "computed"}}}}`))
	f.taken(t, "only other packs", []byte("format: 1\npack: own\ntitle: T\nextends: [label]\n"))
}

// manyNames is a list of that many names.
func manyNames(n int) string {
	names := make([]string, n)
	for i := range names {
		names[i] = fmt.Sprintf("p%d", i)
	}
	return strings.Join(names, ", ")
}

// TestBadPacks has each kind of wrong shape refused by schema and reader alike.
func TestBadPacks(t *testing.T) {
	f := packFormat(t)
	for _, s := range []swap{
		{"unknown key", "about: ", "abuot: "},
		{"a newer version", "format: 1\n", "format: 2\n"},
		{"a version that is none", "format: 1\n", "format: one\n"},
		{"no version", "format: 1\n", ""},
		{"unknown key of a rule", "    too_close: as_breached\n", "    severity: high\n"},
		{"unknown key of a change", "    at_least: 5/32 in\n", "    limit: 5/32 in\n"},
		{"unknown key of a source", "{grade: common practice}", "{grade: common practice, page: 4}"},
		{"no name", "pack: own-shop\n", ""},
		{"a name with a blank", "pack: own-shop", "pack: own shop"},
		{"a name in capitals", "pack: own-shop", "pack: Own-Shop"},
		{"a name that is a number", "pack: own-shop", "pack: 7"},
		{"no title", "title: Our own limits\n", ""},
		{"an empty title", "title: Our own limits", "title: ''"},
		{"a blank title", "title: Our own limits", "title: '  '"},
		{"a title too long", "title: Our own limits", "title: " + strings.Repeat("x", 121)},
		{"a title that is a list", "title: Our own limits", "title: [Our, own]"},
		{"an about too long", "about: For", "about: " + strings.Repeat("x", 2001)},
		{"extends a text", "extends: [coach-care, label]", "extends: label"},
		{"extends nothing", "extends: [coach-care, label]", "extends: []"},
		{"extends one twice", "extends: [coach-care, label]", "extends: [label, label]"},
		{"drop without extends", "extends: [coach-care, label]\n", ""},
		{"drop nothing", "drop: [gvwr]", "drop: []"},
		{"drop a misspelled name", "drop: [gvwr]", "drop: [GVWR]"},
		{"a change without a source", "    source: {grade: invented, title: the made-up shop's handbook}\n", ""},
		{"a change of the subject", "    at_least: 5/32 in\n", "    subject: axle\n"},
		{"for nobody", "for: {country: [US, CA-QC], use: private}", "for: {}"},
		{"for a country by name", "[US, CA-QC]", "Canada"},
		{"for no country", "[US, CA-QC]", "[]"},
		{"for one country twice", "[US, CA-QC]", "[US, US]"},
		{"for an unknown use", "use: private", "use: hire"},
		{"for another key", "use: private", "class: truck"},
		{"a scope of nothing", "scope: {coach: {gvwr: {more_than: 10000 lb}}}", "scope: {}"},
		{"a scope without a condition", "scope: {coach: {gvwr: {more_than: 10000 lb}}}", "scope: {coach: {}}"},
		{"a scope of two subjects", "scope: {coach: {gvwr: {more_than: 10000 lb}}}", "scope: {coach: {gvwr: 1 lb}, axle: {gawr: 1 lb}}"},
		{"a change of the measure", "    at_least: 5/32 in\n", "    measure: age\n"},
		{"a change to two bounds", "    at_least: 5/32 in\n", "    at_least: 5/32 in\n    at_most: 9/32 in\n"},
		{"a change to a yes and a bound", "    at_least: 5/32 in\n", "    is: yes\n    less_than: 9/32 in\n"},
		{"an invented source without a title", ", title: the made-up shop's handbook}", "}"},
		{"a rule's name with an underscore", "  worn:", "  worn_out:"},
		{"no title of a rule", "    title: Worn out\n", ""},
		{"no subject", "    subject: tire\n", ""},
		{"a subject with a hyphen", "subject: tire", "subject: dual-pair"},
		{"no measure", "    measure: tread\n", ""},
		{"two measures", "measure: tread", "measure: [tread, age]"},
		{"no bound", "    at_least: 4/32 in\n", ""},
		{"two bounds", "    at_least: 4/32 in\n", "    at_least: 4/32 in\n    at_most: 9/32 in\n"},
		{"a bound that is a list", "at_least: 4/32 in", "at_least: [4/32 in]"},
		{"a bound that is a mapping", "at_least: 4/32 in", "at_least: {value: 4, unit: in}"},
		{"an empty bound", "at_least: 4/32 in", "at_least: ''"},
		{"no word of a list", "at_least: 4/32 in", "is: []"},
		{"where a list", "where: {role: steer, age: {at_least: 2 years, less_than: 10 years}, any: [{retread: yes}, {place: [inner, outer]}]}", "where: [steer]"},
		{"where nothing", "where: {role: steer, age: {at_least: 2 years, less_than: 10 years}, any: [{retread: yes}, {place: [inner, outer]}]}", "where: {}"},
		{"an unknown relation", "age: {at_least: 2 years,", "age: {above: 2 years,"},
		{"no relation", "age: {at_least: 2 years, less_than: 10 years}", "age: {}"},
		{"no alternative", "any: [{retread: yes}, {place: [inner, outer]}]", "any: []"},
		{"an empty alternative", "{retread: yes}", "{}"},
		{"alternatives that are a mapping", "any: [{retread: yes}, {place: [inner, outer]}]", "any: {retread: yes}"},
		{"a condition spelled with a blank", "role: steer", "the role: steer"},
		{"too_close another word", "too_close: as_breached", "too_close: ignored"},
		{"not_recorded another word", "not_recorded: reported", "not_recorded: breached"},
		{"no action", "    action: before_trip\n", ""},
		{"an action with a blank", "action: before_trip", "action: before trip"},
		{"an action that is a list", "action: before_trip", "action: [before_trip]"},
		{"an action that is a mapping", "action: before_trip", "action: {do: before_trip}"},
		{"no advice", "    advice: Replace it.\n", ""},
		{"an advice too long", "advice: Replace", "advice: " + strings.Repeat("x", 1001)},
		{"no source", "    source: {grade: common practice}\n", ""},
		{"an empty list of sources", "source: {grade: common practice}", "source: []"},
		{"a source that is a text", "source: {grade: common practice}", "source: common practice"},
		{"a source without a grade", "{grade: common practice}", "{title: X}"},
		{"an unknown grade", "grade: common practice", "grade: hearsay"},
		{"a published source without a title", "grade: common practice", "grade: published"},
		{"a quoted source without a title", "grade: common practice", "grade: as quoted"},
		{"no cause in a list", "causes: [long use, \"toe, perhaps\"]", "causes: []"},
		{"a cause that is no list", "causes: [long use, \"toe, perhaps\"]", "causes: long use"},
		{"one cause twice", "causes: [long use, \"toe, perhaps\"]", "causes: [toe, toe]"},
		{"no task in a list", "involves: [wheel_off]", "involves: []"},
		{"a task with a hyphen", "involves: [wheel_off]", "involves: [wheel-off]"},
		{"a value that is null", "advice: Replace it.", "advice: ~"},
		{"a key without a value", "advice: Replace it.", "advice:"},
	} {
		f.refused(t, s.name, s.in(t, goodPack))
	}
	for name, text := range map[string]string{
		"neither rules nor extends": "format: 1\npack: own\ntitle: T\n",
		"no rule in rules":          "format: 1\npack: own\ntitle: T\nrules: {}\n",
		"rules that are a list":     "format: 1\npack: own\ntitle: T\nrules: []\n",
		"what is involved, changed": "format: 1\npack: own\ntitle: T\nextends: [label]\nchange: {wheel: {involves: [wheel_off], source: {grade: computed}}}\n",
		"too many packs":            "format: 1\npack: own\ntitle: T\nextends: [" + manyNames(65) + "]\n",
		"nothing changed":           "format: 1\npack: own\ntitle: T\nextends: [label]\nchange: {}\n",
		"a list":                    "[pack, own]\n",
		"a text":                    "own\n",
		"nothing":                   "",
		"not YAML":                  "pack: [\n",
	} {
		f.refused(t, name, []byte(text))
	}
}

const goodCases = `format: 1
cases: own-shop
list:
  - given: {subject: tire, role: steer, tread: 4/32 in, age: 4 years to 6 years, retread: no}
    expect: {worn: kept, thin: does not apply}
    source: {grade: published, title: 49 CFR 393.75}
`

const goodClauses = `format: 1
clauses: own-shop
sources:
  - title: 49 CFR 393.75
    edition: as of 2024
    list:
      - {at: (b), says: tread in front, rules: [worn, thin]}
      - {at: (h), says: manufactured homes, left_out: no motorhome is one}
beyond:
  old: our own limit
`

// TestCasesFiles holds files of cases against their schema and their reader.
func TestCasesFiles(t *testing.T) {
	f := casesFormat(t)
	f.taken(t, "the good cases", []byte(goodCases))
	for _, s := range []swap{
		{"several sources", "source: {grade: published, title: 49 CFR 393.75}", "source: [{grade: computed}, {grade: from memory}]"},
		{"a boolean", "retread: no", "retread: false"},
		{"nothing recorded", "{subject: tire, role: steer, tread: 4/32 in, age: 4 years to 6 years, retread: no}", "{subject: tire}"},
	} {
		f.taken(t, s.name, s.in(t, goodCases))
	}
	for _, s := range []swap{
		{"no name", "cases: own-shop\n", ""},
		{"a newer version", "format: 1\n", "format: 2\n"},
		{"a name with a blank", "own-shop", "own shop"},
		{"unknown key", "cases: own-shop\n", "cases: own-shop\ntitle: T\n"},
		{"unknown key of a case", "    expect:", "    why: so\n    expect:"},
		{"no given", "given: {subject: tire, role: steer, tread: 4/32 in, age: 4 years to 6 years, retread: no}\n    ", ""},
		{"no subject", "subject: tire, ", ""},
		{"a subject that is a list", "subject: tire", "subject: [tire]"},
		{"a value that is a list", "role: steer", "role: [steer, drive]"},
		{"a value that is a mapping", "tread: 4/32 in", "tread: {at_least: 4/32 in}"},
		{"a value that is empty", "tread: 4/32 in", "tread: ''"},
		{"a measure with a hyphen", " tread:", " tread-depth:"},
		{"no expect", "    expect: {worn: kept, thin: does not apply}\n", ""},
		{"nothing expected", "{worn: kept, thin: does not apply}", "{}"},
		{"an expected list", "worn: kept", "worn: [kept]"},
		{"a rule with an underscore", "worn: kept", "worn_out: kept"},
		{"no source", "    source: {grade: published, title: 49 CFR 393.75}\n", ""},
		{"an unknown grade", "grade: published", "grade: hearsay"},
		{"a published source without a title", ", title: 49 CFR 393.75", ""},
	} {
		f.refused(t, s.name, s.in(t, goodCases))
	}
	for name, text := range map[string]string{
		"no list":       "format: 1\ncases: own-shop\n",
		"an empty list": "format: 1\ncases: own-shop\nlist: []\n",
		"a mapping":     "format: 1\ncases: own-shop\nlist: {a: b}\n",
		"texts":         "format: 1\ncases: own-shop\nlist: [a, b]\n",
	} {
		f.refused(t, name, []byte(text))
	}
}

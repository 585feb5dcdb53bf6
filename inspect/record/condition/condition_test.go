package condition_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/record/condition"
)

// TestConditionsReadBack: every one has words of its own, which read back, in text and in
// JSON; what is none of them has none.
func TestConditionsReadBack(t *testing.T) {
	t.Parallel()
	all := condition.All()
	seen := make(map[string]bool)
	for i, c := range all {
		word := c.String()
		if int(c) != i+1 || seen[word] || word == "" || word == "no condition" || word != strings.ToLower(word) {
			t.Errorf("%d is %q, condition %d", i+1, word, c)
		}
		seen[word] = true
		if back, err := condition.Parse(word); err != nil || back != c {
			t.Errorf("%q reads back as %d, %v", word, back, err)
		}
		text, err := c.MarshalText()
		if err != nil || string(text) != word {
			t.Errorf("%q is written %q, %v", word, text, err)
		}
		var back condition.Condition
		if err := back.UnmarshalText(text); err != nil || back != c {
			t.Errorf("%q reads back as %d, %v", text, back, err)
		}
	}
	if all[0] != condition.ExposedCord || all[len(all)-1] != condition.BlueShoulder {
		t.Errorf("from %s to %s", all[0], all[len(all)-1])
	}
	for _, none := range []condition.Condition{0, condition.Condition(len(all) + 1), 255} {
		if none.String() != "no condition" {
			t.Errorf("%d is %q", none, none)
		}
		if text, err := none.MarshalText(); !errors.Is(err, condition.ErrUnknown) {
			t.Errorf("%d is written %q, %v", none, text, err)
		}
	}
	c := condition.Bulge
	if err := c.UnmarshalText([]byte("moon")); !errors.Is(err, condition.ErrUnknown) || c != condition.Bulge {
		t.Errorf("no condition: %v, %s", err, c)
	}
}

// TestSetsOfConditions: what was put in is there, and nothing else; as JSON in the order
// of the list, and read back from any.
func TestSetsOfConditions(t *testing.T) {
	t.Parallel()
	all := condition.All()
	if got := (^condition.Set(0)).All(); !slices.Equal(got, all) {
		t.Errorf("a set of more than there are has %v", got)
	}
	for i, c := range all {
		one := condition.Set(0).With(c)
		if !slices.Equal(one.All(), []condition.Condition{c}) || one.With(c) != one {
			t.Errorf("a set of %s has %v", c, one.All())
		}
		for k, other := range all {
			if one.Has(other) != (i == k) {
				t.Errorf("a set of %s has %s: %v", c, other, one.Has(other))
			}
		}
	}
	for text, want := range map[string][]condition.Condition{
		`[]`: nil, `["bulge"]`: {condition.Bulge}, `["bulge","cut"]`: {condition.Bulge, condition.Cut}, `["exposed cord","bulge","blue shoulder"]`: {condition.ExposedCord, condition.Bulge, condition.BlueShoulder},
	} {
		var set condition.Set
		for _, c := range slices.Backward(want) {
			set = set.With(c)
		}
		if data, err := json.Marshal(set); err != nil || string(data) != text {
			t.Errorf("%v as JSON: %s, %v, want %s", want, data, err, text)
		}
		back := condition.Set(0).With(condition.Boot)
		if err := json.Unmarshal([]byte(text), &back); err != nil || back != set {
			t.Errorf("%s reads back as %v, %v", text, back.All(), err)
		}
	}
	set := condition.Set(0).With(condition.Boot)
	for _, bad := range []string{`["moon"]`, `"bulge"`, `{}`, `[1]`} {
		if err := json.Unmarshal([]byte(bad), &set); err == nil || set != condition.Set(0).With(condition.Boot) {
			t.Errorf("%s: %v, %v", bad, err, set.All())
		}
	}
}

// TestWordsThatAreNoCondition: what people call one names it, or says what to write
// instead; else the nearest is named, those that have the word, or those whose words it
// has; else where they are listed.
func TestWordsThatAreNoCondition(t *testing.T) {
	t.Parallel()
	const lists = `"axleend packs measures" lists them, such as "cut", "bulge" or "weather cracking"; what is none of them goes under note`
	for text, want := range map[string]string{
		"egg":                     `did you mean "bulge"?`,
		"bubble":                  `did you mean "bulge"?`,
		"nail":                    `did you mean "nail or object"?`,
		"gash":                    `did you mean "cut" or "cut to the cord"?`,
		"feathered":               `did you mean "feathering", "feathering inward" or "feathering outward"?`,
		"worn uneven":             `did you mean "one shoulder worn", "both shoulders worn", "center worn" or "cupping"?`,
		"crack":                   `did you mean "weather cracking", "` + condition.CrackingJoined.String() + `", "` + condition.CrackingToCord.String() + `", "` + condition.WheelCracked.String() + `" or "` + condition.StemCracked.String() + `"?`,
		"ok":                      `write "nothing" where it was looked over and nothing was found, "not read" where nobody looked`,
		"bald":                    "write the depth under tread, such as tread: 2/32 in",
		"low air":                 "write the pressure under found, such as found: 20 psi; 0 psi is a flat tire",
		"looks old":               "write the number under number: its date says how old it is",
		"issue":                   "write what it is: a cut, a bulge, weather cracking, a nail",
		"buldge":                  `did you mean "bulge"?`,
		"exposd cord":             `did you mean "exposed cord"?`,
		"shoulder worn":           `did you mean "one shoulder worn"?`,
		"valve cap is missing":    `did you mean "missing cap"?`,
		"a big bulge here":        `did you mean "bulge"?`,
		"there is a gash in it":   `did you mean "cut" or "cut to the cord"?`,
		"a sidewall bump I felt":  `did you mean "bulge"?`,
		"an exposed cord there":   `did you mean "exposed cord"?`,
		"a cut, or cut and bulge": `did you mean "bulge"?`, // of two as long the first of the list
		"":                        lists,
		"purple moon":             lists,
		"ho":                      lists, // two letters are a part of too much
		"hol":                     `did you mean "elongated holes"?`,
	} {
		_, err := condition.Parse(text)
		if !errors.Is(err, condition.ErrUnknown) || err.Error() != `unknown condition "`+text+`": `+want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	// The part of a word that several have names all of them, in their order.
	var with []string
	for _, c := range condition.All() {
		if strings.Contains(c.String(), "shoulder") {
			with = append(with, c.String())
		}
	}
	_, err := condition.Parse("shoulder")
	if want := `"` + strings.Join(with[:len(with)-1], `", "`) + `" or "` + with[len(with)-1] + `"?`; err == nil || !strings.HasSuffix(err.Error(), "did you mean "+want) {
		t.Errorf("%v, want %s", err, want)
	}
}

package word_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/word"
)

type side uint8

var (
	errSide  = errors.New("unknown side")
	errState = errors.New("unknown word")
)

var (
	sides  = word.List[side]{Words: []string{"", "left", "right"}, Unknown: errSide}
	states = word.List[side]{Kind: "state", Words: []string{"open", "closed"}, Unknown: errState}
	gaps   = word.List[side]{Words: []string{1: "a", 3: "b"}, Unknown: errSide} // 2 is no value
)

func TestString(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		list word.List[side]
		v    side
		want string
	}{
		{sides, 0, "not known"}, {sides, 1, "left"}, {sides, 2, "right"}, {sides, 3, "not known"}, {sides, 255, "not known"},
		{states, 0, "open"}, {states, 1, "closed"}, {states, 2, "not known"},
		{gaps, 2, "not known"}, {gaps, 3, "b"}, {word.List[side]{}, 0, "not known"},
	} {
		if got := tc.list.String(tc.v); got != tc.want {
			t.Errorf("%d of %q is %q, want %q", tc.v, tc.list.Words, got, tc.want)
		}
	}
	if got := gaps.All(); !slices.Equal(got, []side{1, 3}) {
		t.Errorf("the values of %q are %v", gaps.Words, got)
	}
}

// Every value is either written so that it reads back as it, or refused; and no
// other text is read.
func TestWrittenReadsBack(t *testing.T) {
	t.Parallel()
	for _, list := range []word.List[side]{sides, states, gaps, {Unknown: errSide}} {
		texts := map[string]bool{}
		for v := side(0); ; v++ {
			text, err := list.Text(v)
			appended, err2 := list.Append([]byte("x"), v)
			if (err == nil) != (err2 == nil) || string(appended) != "x"+string(text) {
				t.Errorf("%d of %q: %q and %q, %v and %v", v, list.Words, text, appended, err, err2)
			}
			if has := int(v) < len(list.Words) && (list.Words[v] != "" || v == 0); has != (err == nil) {
				t.Errorf("%d of %q: %q, %v", v, list.Words, text, err)
			}
			back := side(77)
			switch {
			case err != nil && !errors.Is(err, list.Unknown):
				t.Errorf("%d of %q: %v", v, list.Words, err)
			case err == nil:
				if readErr := list.Read(&back, text); readErr != nil || back != v || text == nil || texts[string(text)] {
					t.Errorf("%d of %q is written %q, read back %d, %v", v, list.Words, text, back, readErr)
				}
				texts[string(text)] = true
			}
			if v == 255 {
				break
			}
		}
		for _, text := range []string{"", "lefT", " left", "not known", "0", "a\x00"} {
			back := side(77)
			err := list.Read(&back, []byte(text))
			if (err == nil) != texts[text] || err != nil && (back != 77 || !errors.Is(err, list.Unknown)) {
				t.Errorf("%q of %q: %d, %v", text, list.Words, back, err)
			}
			if _, err := list.Parse(text); err == nil {
				t.Errorf("Parse takes %q of %q", text, list.Words)
			}
		}
	}
}

func TestError(t *testing.T) {
	t.Parallel()
	many := word.List[side]{Words: []string{"", "aa"}, Unknown: errSide}
	for i := range 17 {
		many.Words = append(many.Words, fmt.Sprint("word-", i))
	}
	sixteen := word.List[side]{Words: append([]string{""}, many.Words[2:18]...), Unknown: errSide}
	stems := word.List[side]{Kind: "stem", Words: []string{"", "rubber snap-in", "high pressure", "high mark"}, Unknown: word.Err}
	for _, tc := range []struct {
		list       word.List[side]
		text, want string
	}{
		{sides, "lfet", `unknown side "lfet": did you mean "left"?`},
		{sides, "front", `unknown side "front": want one of left, right`},
		{sides, "", `unknown side "": want one of left, right`},
		{states, "shut", `unknown word "shut" for state: want one of open, closed`},
		{states, strings.Repeat("\n", 50), `unknown word "` + strings.Repeat(`\n`, 40) + `…" for state: want one of open, closed`},
		{stems, "rubber", `unknown word "rubber" for stem: did you mean "rubber snap-in"?`},
		{stems, "high", `unknown word "high" for stem: want one of rubber snap-in, high pressure, high mark`},
		{many, "zzzz", `unknown side "zzzz"`},
		{sixteen, "zzzz", `unknown side "zzzz": want one of ` + strings.Join(sixteen.Words[1:], ", ")},
		{many, "wrd-9", `unknown side "wrd-9": did you mean "word-9"?`},
	} {
		_, err := tc.list.Parse(tc.text)
		var e *word.Error
		if err == nil || err.Error() != tc.want || !errors.As(err, &e) || e.Text != tc.text {
			t.Errorf("%q: %v, want %s", tc.text, err, tc.want)
		}
	}
	if _, err := states.Append(nil, 9); err == nil || err.Error() != "unknown word 9 for state" {
		t.Error(err)
	}
}

// TestNearest: at most two edits, and fewer than half of the letters; of two that are
// as near the first. A swap of neighbors is one edit (computed by hand).
func TestNearest(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("ab", 32)
	for _, tc := range []struct {
		text       string
		candidates []string
		want       string
	}{
		{"elft", []string{"left"}, "left"},
		{"letf", []string{"left"}, "left"},
		{"rigth", []string{"right"}, "right"},
		{"rihgt", []string{"right"}, "right"},
		{"rig", []string{"right"}, "right"},
		{"xrig", []string{"right"}, ""}, // three edits
		{"xxleat", []string{"left"}, ""},
		{"leftxx", []string{"left"}, "left"},
		{"xxleft", []string{"left"}, "left"},
		{"leftxxx", []string{"left"}, ""},
		{"trailing", []string{"trail"}, ""},
		{"outer", []string{"inner", "oute", "outre"}, "oute"},
		{"inne", []string{"outer", "inn", "inner"}, "inn"},
		{"innre", []string{"inn", "inner"}, "inner"},
		{"ab", []string{"cb"}, ""},
		{"abc", []string{"abd"}, "abd"},
		{"abcd", []string{"abef"}, ""},
		{"abcde", []string{"abefe"}, "abefe"},
		{long[:63] + "x", []string{long}, long},
		{long + "x", []string{long}, ""}, // too long to be looked at
		{"prexxure", []string{"pressure"}, "pressure"},
		{"prexxxre", []string{"pressure"}, ""}, // three edits of eight letters
		{"prexxxxe", []string{"pressure"}, ""},
		{"left", nil, ""},
	} {
		if got := word.Nearest(tc.text, tc.candidates); got != tc.want {
			t.Errorf("%q is %q of %q, want %q", tc.text, got, tc.candidates, tc.want)
		}
	}
}

// TestClip: 40 bytes at most, and never a part of a character.
func TestClip(t *testing.T) {
	t.Parallel()
	a := strings.Repeat("a", 41)
	for text, want := range map[string]string{"": "", a[:40]: a[:40], a: a[:40] + "…", a[:39] + "é": a[:39] + "…", a[:38] + "éa": a[:38] + "é…", a[:37] + "\U0001F698": a[:37] + "…",
		strings.Repeat("\x80", 50): "…", "a" + strings.Repeat("\x80", 50): "…"} {
		if got := word.Clip(text); got != want {
			t.Errorf("%q is cut to %q, want %q", text, got, want)
		}
	}
}

func TestReadDoesNotAllocateWhatItKnows(t *testing.T) {
	text, v := []byte("right"), side(0)
	if n := testing.AllocsPerRun(100, func() { _ = sides.Read(&v, text) }); n > 1 {
		t.Errorf("%v allocations", n)
	}
}

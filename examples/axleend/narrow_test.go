package main

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// wide are the lines of a page that are wider than columns although they could be
// folded: a word alone cannot.
func wide(page string, columns int) []string {
	var out []string
	for line := range strings.Lines(page) {
		line = strings.TrimRight(line, "\n")
		if utf8.RuneCountInString(line) > columns && strings.Contains(strings.TrimSpace(line), " ") {
			out = append(out, line)
		}
	}
	return out
}

// said are the words of a page; the rule under a title is none.
func said(page string) string {
	var out []string
	for word := range strings.FieldsSeq(page) {
		if strings.Trim(word, "-") != "" {
			out = append(out, word)
		}
	}
	return strings.Join(out, " ")
}

// TestEveryCommandFollowsTheWidth: what a command prints for people says the same in
// 40 columns and in 80, and no line is wider than that.
func TestEveryCommandFollowsTheWidth(t *testing.T) {
	t.Chdir("../..")
	lines := []string{"", "help", "packs list", "packs show coach-care", "packs measures", "assess -full examples/demo/visit.yaml"}
	for _, cmd := range commands() {
		lines = append(lines, cmd.name+" -h")
		for line := range strings.Lines(cmd.help) {
			example, ok := strings.CutPrefix(strings.TrimSpace(line), "Example: axleend ")
			// What a program or an editor reads stays as it is.
			if ok && !slices.ContainsFunc([]string{"-o ", "-as ", "new", "completion", " check ", "batch"}, func(s string) bool { return strings.Contains(example, s) }) {
				lines = append(lines, example)
			}
		}
	}
	if len(lines) < 25 {
		t.Errorf("only %d lines", len(lines))
	}
	for _, line := range lines {
		t.Run(line, func(t *testing.T) {
			t.Setenv("COLUMNS", "80")
			code, full, errw := axleend(t, "", shellWords(line)...)
			if full == "" {
				t.Fatalf("exit status %d, and nothing: %s", code, errw)
			}
			for _, columns := range []string{"40", "60", "10"} {
				t.Setenv("COLUMNS", columns)
				again, narrow, _ := axleend(t, "", shellWords(line)...)
				if again != code {
					t.Errorf("exit status %d in %s columns, %d in 80", again, columns, code)
				}
				most := map[string]int{"40": 40, "60": 60, "10": 40}[columns]
				if strings.HasPrefix(line, "tables show") { // the curve is drawn anew
					full, _, _ = strings.Cut(full, "     psi   load on one tire")
					narrow, _, _ = strings.Cut(narrow, "     psi   load on one tire")
				}
				for _, s := range wide(narrow, most) {
					t.Errorf("in %s columns: %d: %q", columns, utf8.RuneCountInString(s), s)
				}
				if a, b := said(full), said(narrow); a != b && !strings.HasPrefix(line, "assess") && !strings.HasPrefix(line, "history") {
					t.Errorf("in %s columns it says\n%s\nnot\n%s", columns, b, a)
				}
			}
		})
	}
}

// TestNarrowed: whatever a page is, its words stay, in their order, and no line is
// wider than asked for unless one word is.
func TestNarrowed(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		var b strings.Builder
		for range random.IntN(8) {
			b.WriteString(strings.Repeat(" ", random.IntN(30)))
			for range random.IntN(25) {
				b.WriteString(strings.Repeat("\u00e5x-"[:1+2*random.IntN(2)], 1+random.IntN(20)) + strings.Repeat(" ", 1+random.IntN(4)))
			}
			b.WriteByte('\n')
		}
		page := b.String()
		for _, columns := range []int{40, 55, 79, 80} {
			got := narrowed(page, columns)
			if said(got) != said(page) {
				t.Fatalf("in %d columns\n%s\nis\n%s", columns, page, got)
			}
			if wides := wide(got, columns); columns < 80 && len(wides) > 0 {
				t.Fatalf("in %d columns: %q", columns, wides)
			}
			if columns == 80 && got != page {
				t.Fatal("a page of 80 columns is another one")
			}
		}
	}
	for _, x := range []struct{ page, want string }{
		{"  rest     5 psi of a line that is as long as this one has to be, to be sure: until\n    80 are full\n", "  rest 5 psi of a line that is as long\n    as this one has to be, to be sure:\n    until 80 are full\n"},
		{"short\nand short\n", "short\nand short\n"},
		{strings.Repeat("-", 60) + "\n", strings.Repeat("-", 40) + "\n"},
		{"What can still be loaded, at one station alone\n" + strings.Repeat("-", 46) + "\nnext\n",
			"What can still be loaded, at one station\n  alone\n" + strings.Repeat("-", 40) + "\nnext\n"},
	} {
		if got := narrowed(x.page, 40); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}

// TestSayBreaksBetweenWords: a line has at most 80 columns, nothing of a text is lost, and no
// word of up to 50 letters, such as a station's name, is cut; a longer one fills its lines.
func TestSayBreaksBetweenWords(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 500 {
		var words []string
		for range 1 + r.IntN(9) {
			words = append(words, strings.Repeat("\u00e9", 1+r.IntN(50)))
		}
		p, indent := new(loadPage), r.IntN(5)
		p.say(indent, "%s", strings.Join(words, " "))
		narrow(t, p.String())
		if got := strings.Fields(p.String()); !slices.Equal(got, words) {
			t.Fatalf("text %d: %q, want %q", n, got, words)
		}
	}
	p := new(loadPage)
	p.say(2, "%s", "a "+strings.Repeat("x", 200))
	if want := "  a " + strings.Repeat("x", 76) + "\n    " + strings.Repeat("x", 76) + "\n    " + strings.Repeat("x", 48) + "\n"; p.String() != want {
		t.Errorf("%q, want %q", p.String(), want)
	}
}

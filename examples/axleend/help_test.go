package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// shellWords splits a line as a shell does, for words in double quotes.
func shellWords(line string) []string {
	var words []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			words = append(words, part)
		} else {
			words = append(words, strings.Fields(part)...)
		}
	}
	return words
}

// TestExamplesWorkAsTyped runs every example that a command's help gives, from
// the root of the checkout.
func TestExamplesWorkAsTyped(t *testing.T) {
	t.Chdir("../..")
	for _, cmd := range commands() {
		n := 0
		for line := range strings.Lines(cmd.help) {
			example, ok := strings.CutPrefix(line, "Example: axleend ")
			if !ok {
				continue
			}
			n++
			args := shellWords(example)
			if i := slices.Index(args, "-o"); i >= 0 { // not into the checkout
				args[i+1] = filepath.Join(t.TempDir(), args[i+1])
			}
			code, out, errw := axleend(t, "", args...)
			if code > exitStop || out == "" || errw != "" {
				t.Errorf("axleend %s: exit status %d\n%s%s", example, code, out, errw)
			}
		}
		if n == 0 {
			t.Errorf("%s: its help has no example", cmd.name)
		}
	}
}

// narrow holds a page to 80 columns.
func narrow(t *testing.T, page string) {
	t.Helper()
	for line := range strings.Lines(page) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 80 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

// A run of the command: its exit status, and what has to stand in what it
// prints, or, with an exclamation mark in front, must not.
type want struct {
	name string
	args string
	code int
	has  []string
}

func check(t *testing.T, cases []want) {
	t.Helper()
	for _, x := range cases {
		t.Run(x.name, func(t *testing.T) {
			code, out, errw := axleend(t, "", shellWords(x.args)...)
			if code != x.code {
				t.Errorf("axleend %s: exit status %d, want %d\n%s%s", x.args, code, x.code, out, errw)
			}
			if code >= exitMisuse && out != "" || code < exitMisuse && errw != "" {
				t.Errorf("exit status %d, standard output %q, standard error %q", code, out, errw)
			}
			// Lines are joined, so that a fragment may be wrapped.
			page := strings.Join(strings.Fields(out+errw), " ")
			for _, fragment := range x.has {
				without, no := strings.CutPrefix(fragment, "!")
				if strings.Contains(page, without) == no {
					t.Errorf("axleend %s: want %q in\n%s", x.args, fragment, page)
				}
			}
			// Problems stay on one line, for editors; JSON is for programs, HTML for browsers.
			if !strings.Contains(x.args, "-as json") && !strings.Contains(x.args, "-as html") && !strings.HasPrefix(x.args, "tables check") && code < exitMisuse {
				narrow(t, out)
			}
		})
	}
}

// FuzzTyped types nonsense behind every flag of these commands: whatever comes,
// an answer goes to standard output, and a refusal to standard error alone.
func FuzzTyped(f *testing.F) {
	f.Add("8200lb", "end", "dual", "4540 lb at 110 psi", "truck", "102psi", "95F", "20F,60F", "5000ft", "LT225/75R16 115/112R load range E")
	f.Add("1,000 kg", "per axle", "single", "2680 lb at 80 psi", "light truck", "7 bar", "-10C", "30C", "-1000ft", "11R22.5 144/142L 14PR")
	f.Add("", "", "", "", "", "", "", "", "", "")
	f.Fuzz(func(t *testing.T, load, per, fit, stamp, class, read, at, to, altitude, text string) {
		for _, args := range [][]string{
			{"pressure", "-table", "../demo/xv250.yaml", "-size", "XV250/72R21", "-load", load, "-per", per, "-fit", fit},
			{"pressure", "-stamp", stamp, "-class", class, "-load", load, "-per", per, "-fit", fit},
			{"cold", "-read", read, "-at", at, "-to", to, "-to-altitude", altitude},
			{"cold", "-read", read, "-speed", "50mph", "-max-load", load},
			{"sidewall", "--", text},
			{"tables", "new", "-size", text, "-name", stamp, "-from", read, "-to", read, "-by", read},
		} {
			code, out, errw := axleend(t, "", args...)
			if code > exitMisuse || (code == exitMisuse) != (errw != "") || (code == exitMisuse) != (out == "") {
				t.Errorf("%q: exit status %d, standard output %q, standard error %q", args, code, out, errw)
			}
		}
	})
}

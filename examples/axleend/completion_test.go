package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/testsize"
)

// script writes the completion script of a shell into a file, or skips the
// test where that shell is not installed.
func script(t *testing.T, shell string) string {
	t.Helper()
	if _, err := exec.LookPath(shell); err != nil {
		t.Skipf("no %s on this machine: its completion is not tested here", shell)
	}
	code, out, errw := axleend(t, "", "completion", shell)
	if code != exitDone || errw != "" {
		t.Fatalf("exit status %d, %s", code, errw)
	}
	path := filepath.Join(t.TempDir(), "script")
	if err := os.WriteFile(path, []byte(out), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// completer runs a shell with the script, and gives what it offers for a line
// whose last word is being typed.
type completer func(t *testing.T, script string, line []string) []string

func offered(t *testing.T, cmd *exec.Cmd) []string {
	t.Helper()
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "TERM=dumb")
	out, err := cmd.Output()
	if err != nil {
		var stderr []byte
		if e := (*exec.ExitError)(nil); errors.As(err, &e) {
			stderr = e.Stderr
		}
		t.Fatalf("%v\n%s%s", err, out, stderr)
	}
	var words []string
	for line := range strings.Lines(string(out)) {
		word, _, _ := strings.Cut(strings.TrimSpace(line), "\t")
		if word != "" {
			words = append(words, word)
		}
	}
	return words
}

func inBash(t *testing.T, script string, line []string) []string {
	const run = `source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _axleend; printf '%s\n' "${COMPREPLY[@]}"`
	return offered(t, exec.Command("bash", append([]string{"--norc", "-c", run, "bash", script}, line...)...))
}

// inZsh runs the function itself, with the two builtins of the completion
// system that it calls standing in: they want a terminal.
func inZsh(t *testing.T, script string, line []string) []string {
	const run = `compdef() { [[ $1 == _axleend && $2 == axleend ]] }
_describe() { local w; for w in ${(P)2}; do print -r -- ${${w%%[^\\]:*}}${${(M)w#*[^\\]:}[-2]}; done }
_files() { print -r -- FILES }
source $1; shift; words=("$@"); CURRENT=$#; 
out=(${(f)"$(_axleend)"}); for w in $out; do [[ $w == ${words[CURRENT]}* || $w == FILES ]] && print -r -- $w; done; true`
	return offered(t, exec.Command("zsh", append([]string{"-f", "-c", run, "zsh", script}, line...)...))
}

func inFish(t *testing.T, script string, line []string) []string {
	const run = `source $argv[1]; complete -C "$argv[2]"`
	return offered(t, exec.Command("fish", "--no-config", "-c", run, script, strings.Join(line, " ")))
}

// TestCompletion really runs each shell: every command is offered, and behind
// each command every flag that its flag set has.
func TestCompletion(t *testing.T) {
	var names []string
	flags := make(map[string][]string)
	for _, cmd := range commands() {
		names = append(names, cmd.name)
		var c call
		c.flagsOf(cmd)
		c.flags.VisitAll(func(f *flag.Flag) { flags[cmd.name] = append(flags[cmd.name], "-"+f.Name) })
		flags[cmd.name] = append(flags[cmd.name], "-h")
		slices.Sort(flags[cmd.name])
	}
	names = append(names, "help")
	slices.Sort(names)
	for shell, complete := range map[string]completer{"bash": inBash, "zsh": inZsh, "fish": inFish} {
		t.Run(shell, func(t *testing.T) {
			path := script(t, shell)
			want := func(want []string, line ...string) {
				t.Helper()
				got := complete(t, path, append([]string{"axleend"}, line...))
				slices.Sort(got)
				if !slices.Equal(got, want) {
					t.Errorf("%q: offered %q, want %q", line, got, want)
				}
			}
			want(names, "")
			want([]string{"assess"}, "as")
			want([]string{"date"}, "da")
			want([]string{"text"}, "assess", "-as", "t")
			want([]string{"html"}, "assess", "-as", "h")
			want([]string{"check"}, "packs", "ch")
			want([]string{"bash"}, "completion", "b")
			want([]string{"history"}, "help", "hi")
			want([]string{"-strict"}, "history", "one.yaml", "-s")
			every := names
			if !testsize.Full() {
				every = []string{"assess", "batch"}
			}
			for _, name := range every {
				if name != "help" {
					want(flags[name], name, "-")
				}
			}
		})
	}
}

func TestCompletionRefuses(t *testing.T) {
	check(t, []want{
		{"none", "completion", 2, []string{"one of bash, zsh, fish"}},
		{"unknown", "completion csh", 2, []string{"want bash, zsh or fish"}},
	})
}

package main

import (
	"flag"
	"fmt"
	"regexp"
	"strings"
)

func completionCommand() *command {
	return &command{
		name: "completion", args: "bash | zsh | fish", short: "a script that lets a shell complete what is typed",
		help:  "Prints a script for the shell. To use it, in bash:\n\n  source <(axleend completion bash)\n\nin zsh, after compinit:\n\n  source <(axleend completion zsh)\n\nand in fish:\n\n  axleend completion fish | source\n\nExample: axleend completion bash",
		run:   completion,
		flags: func(*call) {},
	}
}

func completion(c *call, args []string) int {
	if len(args) != 1 {
		return c.misuse("completion wants one of bash, zsh, fish")
	}
	words := completionWords()
	switch args[0] {
	case "bash":
		return c.print(bashScript(words))
	case "zsh":
		return c.print(zshScript(words))
	case "fish":
		return c.print(fishScript(words))
	}
	return c.misuse("completion %q: want bash, zsh or fish", clip(args[0]))
}

// A typed is what can be typed behind a command.
type typed struct {
	*command
	words []string // for its first argument
	forms []string // that -as knows
	flags []typedFlag
}

// A typedFlag is a flag, and whether a value follows it; of the values only
// those of -as are known.
type typedFlag struct {
	name, doc string
	takes     bool
	values    []string
}

var plainWord = regexp.MustCompile(`^[a-z]+$`)

// completionWords is what the command table and the flag sets say, so that no
// script can say anything else.
func completionWords() []typed {
	var out []typed
	for _, cmd := range commands() {
		t := typed{command: cmd}
		for _, choice := range strings.Split(strings.Trim(cmd.args, "[]"), "|") {
			if word, _, _ := strings.Cut(strings.TrimSpace(choice), " "); plainWord.MatchString(word) {
				t.words = append(t.words, word)
			}
		}
		var c call
		c.flagsOf(cmd)
		c.flags.VisitAll(func(f *flag.Flag) {
			_, doc := flag.UnquoteUsage(f)
			doc, _, _ = strings.Cut(doc, "\n")
			g := typedFlag{name: f.Name, doc: doc, takes: true}
			if b, ok := f.Value.(interface{ IsBoolFlag() bool }); ok && b.IsBoolFlag() {
				g.takes = false
			}
			if f.Name == "as" {
				g.values = c.forms
			}
			t.flags = append(t.flags, g)
		})
		t.forms = c.forms
		out = append(out, t)
	}
	return out
}

func namesOf(words []typed) string {
	var b strings.Builder
	for _, t := range words {
		b.WriteString(t.name + " ")
	}
	return b.String() + "help"
}

// bashScript offers commands, then a command's words and flags, else files.
func bashScript(words []typed) string {
	var b strings.Builder
	b.WriteString(`# Completion of axleend for bash: source <(axleend completion bash)
_axleend() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} words= flags= forms=
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "` + namesOf(words) + `" -- "$cur"))
        return
    fi
    case ${COMP_WORDS[1]} in
`)
	for _, t := range words {
		var names []string
		for _, f := range t.flags {
			names = append(names, "-"+f.name)
		}
		fmt.Fprintf(&b, "    %s) words=%q flags=%q forms=%q ;;\n", t.name, strings.Join(t.words, " "), strings.Join(append(names, "-h"), " "), strings.Join(t.forms, " "))
	}
	fmt.Fprintf(&b, "    help) words=%q ;;\n", namesOf(words))
	b.WriteString(`    esac
    if [ "$prev" = -as ]; then
        words=$forms
    elif [ "$COMP_CWORD" -ne 2 ]; then
        words=
    fi
    case $cur in
    -*) words=$flags ;;
    esac
    COMPREPLY=($(compgen -W "$words" -- "$cur"))
}
complete -o default -F _axleend axleend
`)
	return b.String()
}

// shellQuote puts a text into single quotes, for zsh.
func shellQuote(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// zshScript offers the same with what each word means.
func zshScript(words []typed) string {
	described := func(word, doc string) string {
		return shellQuote(strings.ReplaceAll(word, ":", `\:`) + ":" + strings.ReplaceAll(doc, ":", `\:`))
	}
	var b strings.Builder
	b.WriteString(`#compdef axleend
# Completion of axleend for zsh: source <(axleend completion zsh)
_axleend() {
    local -a list
    if (( CURRENT == 2 )); then
        list=(
`)
	for _, t := range words {
		b.WriteString("            " + described(t.name, t.short) + "\n")
	}
	b.WriteString(`            'help:all commands'
        )
        _describe command list
        return
    fi
    case ${words[2]} in
`)
	for _, t := range words {
		b.WriteString("    " + t.name + ")\n")
		b.WriteString("        if [[ ${words[CURRENT-1]} == -as ]]; then\n            list=(" + strings.Join(t.forms, " ") + ")\n")
		b.WriteString("        elif [[ ${words[CURRENT]} == -* ]]; then\n            list=(\n")
		for _, f := range t.flags {
			b.WriteString("                " + described("-"+f.name, f.doc) + "\n")
		}
		b.WriteString("                '-h:how it is used'\n            )\n")
		if len(t.words) > 0 {
			b.WriteString("        elif (( CURRENT == 3 )); then\n            list=(" + strings.Join(t.words, " ") + ")\n")
		}
		b.WriteString("        fi ;;\n")
	}
	b.WriteString("    help) list=(" + strings.TrimSuffix(namesOf(words), " help") + ") ;;\n")
	b.WriteString(`    esac
    if (( $#list )); then
        _describe word list
    else
        _files
    fi
}
compdef _axleend axleend
`)
	return b.String()
}

// fishQuote puts a text into single quotes, for fish.
func fishQuote(text string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(text) + "'"
}

// fishScript states each command, word and flag by itself.
func fishScript(words []typed) string {
	var b strings.Builder
	b.WriteString("# Completion of axleend for fish: axleend completion fish | source\n")
	first := "'test (count (commandline -opc)) -eq 1'"
	for _, t := range words {
		fmt.Fprintf(&b, "complete -c axleend -f -n %s -a %s -d %s\n", first, t.name, fishQuote(t.short))
	}
	fmt.Fprintf(&b, "complete -c axleend -f -n %s -a help -d 'all commands'\n", first)
	fmt.Fprintf(&b, "complete -c axleend -f -n '__fish_seen_subcommand_from help' -a %s\n", fishQuote(strings.TrimSuffix(namesOf(words), " help")))
	for _, t := range words {
		in := fishQuote("__fish_seen_subcommand_from " + t.name)
		if len(t.words) > 0 {
			second := fishQuote("__fish_seen_subcommand_from " + t.name + "; and test (count (commandline -opc)) -eq 2")
			fmt.Fprintf(&b, "complete -c axleend -f -n %s -a %s\n", second, fishQuote(strings.Join(t.words, " ")))
		}
		for _, f := range t.flags {
			fmt.Fprintf(&b, "complete -c axleend -n %s -o %s -d %s", in, f.name, fishQuote(f.doc))
			switch {
			case len(f.values) > 0:
				fmt.Fprintf(&b, " -x -a %s", fishQuote(strings.Join(f.values, " ")))
			case f.takes:
				b.WriteString(" -r")
			}
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "complete -c axleend -n %s -o h -d 'how it is used'\n", in)
	}
	return b.String()
}

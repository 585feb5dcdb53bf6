// Command axleend shows what the Axleend library answers, from the command
// line:
//
//	axleend assess visit.yaml
//	axleend date 2313
//	axleend packs show coach-care
//
// It parses flags, calls the library and prints; it decides nothing itself.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
)

// The exit statuses of every command.
const (
	exitDone   = 0
	exitStop   = 1
	exitMisuse = 2
	exitWrite  = 3
)

const exitHelp = `
Exit status: 0 done, no reason to stop; 1 done, a reason to stop, or a checked
file or code is bad (with -strict: or something was not judged); 2 wrong use,
unreadable input, or nothing in it to judge; 3 could not write, or was
interrupted.
`

const closing = `
What it prints helps trained people decide and does not say that a coach is
safe. Follow local codes.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends it without more ado
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// A command is one word of the command line.
type command struct {
	name  string
	args  string
	short string
	help  string
	run   func(c *call, args []string) int
	flags func(c *call)
}

// A call is one run of a command: its streams and its flags.
type call struct {
	ctx    context.Context
	in     io.Reader
	out    io.Writer
	errw   io.Writer
	screen io.Writer // errw as it was handed in, for what moves the cursor
	page   io.Writer // out as it was handed in, for how wide it is
	flags  *flag.FlagSet

	inputs  []fs.FileInfo // files that were read
	folders []folder      // of which files are read

	as       string
	forms    []string // what as may be
	file     string
	force    bool
	oneSheet bool
	full     bool
	tables   string
	packs    string
	packDir  string
	beside   string
	on       string
	strict   bool
	nameless bool
}

func commands() []*command {
	return []*command{
		{
			name: "assess", args: "VISIT", short: "the whole job: a visit file in, the whole answer out",
			help: "Reads a visit file (\"-\" is standard input) and prints one screen: whether the\ncoach may drive, the cold pressure to set, what is to be done, and what could\nnot be judged. With -full it prints all, with reasons and sources; with -as html\na page to hand over: open it in a browser and print it.\n\nExample: axleend assess examples/demo/visit.yaml\nExample: axleend assess -as html -o sheet.html examples/demo/visit.yaml",
			run:  assess,
			flags: func(c *call) {
				c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the visit's own folder)")
				c.packFlags()
				c.asFlag("html", "ics")
				c.flags.BoolVar(&c.full, "full", false, "print all: reasons, sources, each tire, what was weighed")
				c.flags.BoolVar(&c.oneSheet, "one-sheet", false, "with -as html: the owner's sheet alone, front and back, without the details")
				c.fileFlags()
				c.namesFlag()
				c.flags.BoolVar(&c.strict, "strict", false, "also exit with 1 when something was not judged")
			},
		},
		{
			name: "date", args: "[CODE ...]", short: "when a tire was made, from the number on its sidewall",
			help: "Reads tire numbers or date codes, from the arguments or one per line from\nstandard input, and says when each tire was made and how old it is.\n\nExample: axleend date -on 2026-10-03 2313 439",
			run:  date,
			flags: func(c *call) {
				c.flags.StringVar(&c.on, "on", "", "day of reading, such as 2026-10-03 (default: today)")
				c.asFlag()
			},
		},
		packsListCommand(),
		pressureCommand(),
		sidewallCommand(),
		coldCommand(),
		tablesCommand(),
		weighCommand(),
		loadCommand(),
		batchCommand(),
		newCommand(),
		historyCommand(),
		placeCommand(),
		completionCommand(),
	}
}

// asFlag is how a command prints: text, JSON, and what else it can.
func (c *call) asFlag(more ...string) {
	c.forms = append([]string{"text", "json"}, more...)
	c.flags.StringVar(&c.as, "as", "text", "how to print: "+strings.Join(c.forms, ", "))
}

func (c *call) namesFlag() {
	c.flags.BoolVar(&c.nameless, "without-names", false, "leave out whose coach it is, its plate and numbers, and who worked on it; coach, notes and photos stay as written")
}

// named gives a visit as it may be shown: without names where that is asked for.
func (c *call) named(v *record.Visit) *record.Visit {
	if c.nameless {
		return v.WithoutNames()
	}
	return v
}

func (c *call) packFlags() {
	c.flags.StringVar(&c.packs, "packs", "", "packs to run, separated by commas (default: the default set)")
	c.flags.StringVar(&c.beside, "beside", "", "more packs to run, separated by commas")
	c.flags.StringVar(&c.packDir, "pack-dir", "", "folder of packs of your own; one named like a shipped pack replaces it")
}

// run is main without the process: it returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errw io.Writer) int {
	c := &call{ctx: ctx, in: patientReader{ctx, in}, out: cleanWriter{out}, errw: cleanWriter{errw}, screen: errw, page: out}
	if f, ok := in.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			c.inputs = append(c.inputs, info)
		}
	}
	if len(args) == 0 {
		return c.say(welcome())
	}
	word, rest := args[0], args[1:]
	if word == "-version" || word == "--version" {
		return c.print(version())
	}
	if isHelp(word) || word == "help" {
		if len(rest) == 0 || isHelp(rest[0]) {
			return c.say(overview())
		}
		word, rest = rest[0], []string{"-h"}
	}
	cmd, err := find(word)
	if err != nil {
		return c.misuse("%v", err)
	}
	c.flagsOf(cmd)
	rest, err = parseFlags(c.flags, rest)
	if errors.Is(err, flag.ErrHelp) {
		return c.say(usage(cmd, c.flags))
	}
	if err != nil {
		return c.misuse("%v; axleend %s -h shows how it is used", nearFlag(err, c.flags), cmd.name)
	}
	if len(c.forms) > 0 && !slices.Contains(c.forms, c.as) {
		return c.misuse("-as %q: want %s", c.as, strings.Join(c.forms, " or "))
	}
	return c.ends(func() int { return cmd.run(c, rest) }, 2*time.Second)
}

// ends gives the exit status of work. Once ctx is done, work has so long to end
// by itself, as what writes does; what then still computes is left alone.
func (c *call) ends(work func() int, patience time.Duration) int {
	done := make(chan int, 1)
	go func() { done <- work() }()
	select {
	case code := <-done:
		return code
	case <-c.ctx.Done():
	}
	select {
	case code := <-done:
		return code
	case <-time.After(patience):
		return c.fail(c.ctx.Err())
	}
}

// version is that of the module which the command was built from, and of Go.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "axleend: built without its version\n"
	}
	return "axleend " + info.Main.Version + ", " + info.GoVersion + "\n"
}

func isHelp(word string) bool { return word == "-h" || word == "-help" || word == "--help" }

// find looks a command up, or says which is near.
func find(word string) (*command, error) {
	all := commands()
	names := make([]string, len(all))
	for i, cmd := range all {
		if cmd.name == word {
			return cmd, nil
		}
		names[i] = cmd.name
	}
	names = append(names, "help")
	if near := inspect.DidYouMean(word, names); near != "" {
		return nil, fmt.Errorf("unknown command %q: did you mean %q?", clip(word), near)
	}
	return nil, fmt.Errorf("unknown command %q: want one of %s", clip(word), strings.Join(names, ", "))
}

// clip keeps what somebody typed short enough to print back.
func clip(text string) string {
	if letters := []rune(text); len(letters) > 60 {
		return string(letters[:60]) + "..."
	}
	return text
}

// flagsOf makes the flags of a command.
func (c *call) flagsOf(cmd *command) {
	c.flags = flag.NewFlagSet(cmd.name, flag.ContinueOnError)
	c.flags.SetOutput(io.Discard)
	cmd.flags(c)
}

// nearFlag adds to an unknown flag's error the flag that was likely meant.
func nearFlag(err error, fs *flag.FlagSet) error {
	_, name, ok := strings.Cut(err.Error(), "not defined: -")
	if !ok {
		return err
	}
	var names []string
	fs.VisitAll(func(f *flag.Flag) { names = append(names, f.Name) })
	if near := inspect.DidYouMean(name, names); near != "" {
		return fmt.Errorf("unknown flag -%s: did you mean -%s?", clip(name), near)
	}
	return fmt.Errorf("unknown flag -%s", clip(name))
}

// parseFlags takes flags before and after the arguments, as people type them.
func parseFlags(fs *flag.FlagSet, args []string) ([]string, error) {
	var rest []string
	for {
		if err := fs.Parse(args); err != nil {
			return nil, err
		}
		args = fs.Args()
		if len(args) == 0 {
			return rest, nil
		}
		rest = append(rest, args[0])
		args = args[1:]
	}
}

// beginWith are the commands that somebody new needs first.
var beginWith = [...]string{"new", "assess", "date"}

// example is the first example in a command's help, to be typed as it stands.
func example(cmd *command) string {
	for line := range strings.Lines(cmd.help) {
		if text, ok := strings.CutPrefix(line, "Example: "); ok {
			return strings.TrimSpace(text)
		}
	}
	return "axleend " + cmd.name + " -h"
}

// welcome says how to begin.
func welcome() string {
	var b strings.Builder
	b.WriteString(title + "\nStart with one of these, from the folder of the clone:\n\n")
	for _, name := range beginWith {
		cmd, err := find(name)
		if err != nil {
			continue // a test holds the names to the commands there are
		}
		wrap(&b, "  ", example(cmd))
		wrap(&b, "      ", cmd.short)
	}
	b.WriteString("\nAll commands: axleend help. Each explains itself with -h.\n")
	b.WriteString(closing)
	return b.String()
}

const title = "axleend: what a motorhome's tires carry, and what to do about it\n"

func overview() string {
	var b strings.Builder
	b.WriteString(title + "\n")
	for _, cmd := range commands() {
		wrap(&b, fmt.Sprintf("  axleend %-10s ", cmd.name), cmd.short)
	}
	b.WriteString("\naxleend -version says which it is. Each explains itself with -h.\nTo begin: axleend assess examples/demo/visit.yaml\n")
	b.WriteString(exitHelp)
	b.WriteString(closing)
	return b.String()
}

func usage(cmd *command, fs *flag.FlagSet) string {
	var b, flags strings.Builder
	fs.SetOutput(&flags)
	fs.PrintDefaults()
	fs.SetOutput(io.Discard)
	if flags.Len() == 0 {
		fmt.Fprintf(&b, "axleend %s %s\n\n%s\n", cmd.name, cmd.args, cmd.help)
	} else {
		fmt.Fprintf(&b, "%s\n\n%s\n\nFlags:\n%s", strings.TrimSpace("axleend "+cmd.name+" [flags] "+cmd.args), cmd.help, flags.String())
	}
	b.WriteString(exitHelp)
	b.WriteString(closing)
	return b.String()
}

func (c *call) misuse(format string, args ...any) int {
	fmt.Fprintf(c.errw, "axleend: "+format+"\n", args...)
	return exitMisuse
}

// errWrite says that an answer could not be written.
var errWrite = errors.New("could not write")

// fail prints an error, a line a problem.
func (c *call) fail(err error) int {
	switch {
	case c.ctx.Err() != nil && errors.Is(err, c.ctx.Err()):
		fmt.Fprintln(c.errw, "axleend: interrupted")
		return exitWrite
	case errors.Is(err, errWrite):
		fmt.Fprintf(c.errw, "axleend: %v\n", err)
		return exitWrite
	}
	fmt.Fprintln(c.errw, err)
	return exitMisuse
}

// print writes a whole answer at once, or says that it could not.
func (c *call) print(text string) int {
	if err := c.write(text); err != nil {
		return c.fail(err)
	}
	return exitDone
}

func (c *call) write(text string) error {
	if _, err := io.WriteString(c.out, text); err != nil {
		return fmt.Errorf("%w: %w", errWrite, err)
	}
	return nil
}

func (c *call) unwritten(err error) int { return c.fail(fmt.Errorf("%w: %w", errWrite, err)) }

// worse gives the higher of two exit statuses of an answer that was written.
func worse(written, answer int) int { return max(written, answer) }

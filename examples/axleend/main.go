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
	"os"
	"os/signal"
	"slices"
	"strings"

	"axleend.example/inspect"
)

// The exit statuses of every command.
const (
	exitDone   = 0
	exitStop   = 1
	exitMisuse = 2
	exitWrite  = 3
)

const exitHelp = `
Exit status: 0 done and nothing must stop; 1 done and something must, or a
checked file or code is bad (with -strict: or something was not judged);
2 misuse, unreadable input, or nothing in it to judge; 3 could not write, or
was interrupted.
`

const caution = `
What it prints helps trained people decide and does not say that a coach is
safe. Follow local codes.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
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
	ctx   context.Context
	in    io.Reader
	out   io.Writer
	errw  io.Writer
	flags *flag.FlagSet

	as      string
	forms   []string // what as may be
	file    string
	force   bool
	tables  string
	packs   string
	packDir string
	on      string
	strict  bool
}

func commands() []*command {
	return []*command{
		{
			name: "assess", args: "VISIT", short: "the whole job: one visit in, the whole answer out",
			help: "Reads a visit file (\"-\" is standard input) and prints what every axle end\ncarries, the cold pressure to set, each tire, what is to be done, and what\ncould not be judged. With -as html it is a page to hand over: open it in a\nbrowser and print it.\n\nExample: axleend assess examples/demo/visit.yaml\nExample: axleend assess -as html examples/demo/visit.yaml",
			run:  assess,
			flags: func(c *call) {
				c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the visit's own folder)")
				c.packFlags()
				c.asFlag("html")
				c.fileFlags()
				c.flags.BoolVar(&c.strict, "strict", false, "exit with 1 also when something was not judged")
			},
		},
		{
			name: "date", args: "[CODE ...]", short: "when a tire was made, from the number on its sidewall",
			help: "Reads numbers or date codes from the arguments, or else one a line from\nstandard input, and says of each when the tire was made and how old it is.\n\nExample: axleend date -on 2026-10-03 2313 439",
			run:  date,
			flags: func(c *call) {
				c.flags.StringVar(&c.on, "on", "", "day of reading, such as 2026-10-03 (default: today)")
				c.asFlag()
			},
		},
		{
			name: "packs", args: "[list | show NAME | check FILE... | measures]", short: "the rules: what is held against what, and where it comes from",
			help: "list names the packs, show prints one as sentences, check reads packs and runs\ntheir cases, measures lists what rules may speak of.\n\nExample: axleend packs show coach-care",
			run:  packsCommand,
			flags: func(c *call) {
				c.packFlags()
				c.flags.BoolVar(&c.strict, "strict", false, "check: exit with 1 also when a rule or an edge has no case")
			},
		},
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
	}
}

// asFlag is how a command prints: text, JSON, and what else it can.
func (c *call) asFlag(more ...string) {
	c.forms = append([]string{"text", "json"}, more...)
	c.flags.StringVar(&c.as, "as", "text", "how to print: "+strings.Join(c.forms, ", "))
}

func (c *call) packFlags() {
	c.flags.StringVar(&c.packs, "packs", "", "packs to run, with commas between (default: the default set)")
	c.flags.StringVar(&c.packDir, "pack-dir", "", "folder to read packs from (default: the shipped ones)")
}

// run is main without the process: it returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errw io.Writer) int {
	if len(args) == 0 {
		return (&call{out: out, errw: errw}).print(overview())
	}
	word := args[0]
	if word == "help" || word == "-h" || word == "-help" || word == "--help" {
		return (&call{out: out, errw: errw}).print(overview() + exitHelp)
	}
	var names []string
	for _, cmd := range commands() {
		names = append(names, cmd.name)
		if cmd.name != word {
			continue
		}
		c := &call{ctx: ctx, in: in, out: out, errw: errw}
		c.flags = flag.NewFlagSet(cmd.name, flag.ContinueOnError)
		c.flags.SetOutput(io.Discard)
		cmd.flags(c)
		rest, err := parseFlags(c.flags, args[1:])
		if errors.Is(err, flag.ErrHelp) {
			return c.print(usage(cmd, c.flags))
		}
		if err != nil {
			return c.misuse("%v; axleend %s -h shows how it is used", err, cmd.name)
		}
		if len(c.forms) > 0 && !slices.Contains(c.forms, c.as) {
			return c.misuse("-as %q: want %s", c.as, strings.Join(c.forms, " or "))
		}
		return cmd.run(c, rest)
	}
	c := &call{out: out, errw: errw}
	if near := inspect.Nearest(word, names); near != "" {
		return c.misuse("unknown command %q: did you mean %q?", word, near)
	}
	return c.misuse("unknown command %q: want one of %s", word, strings.Join(names, ", "))
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

func overview() string {
	var b strings.Builder
	b.WriteString("axleend: what a motorhome's tires carry, and what to do about it\n\n")
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "  axleend %-8s %s\n", cmd.name, cmd.short)
	}
	b.WriteString("\nEach explains itself with -h. To begin: axleend assess examples/demo/visit.yaml\n")
	b.WriteString(caution)
	return b.String()
}

func usage(cmd *command, fs *flag.FlagSet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "axleend %s [flags] %s\n\n%s\n\nFlags:\n", cmd.name, cmd.args, cmd.help)
	fs.SetOutput(&b)
	fs.PrintDefaults()
	fs.SetOutput(io.Discard)
	b.WriteString(exitHelp)
	b.WriteString(caution)
	return b.String()
}

func (c *call) misuse(format string, args ...any) int {
	fmt.Fprintf(c.errw, "axleend: "+format+"\n", args...)
	return exitMisuse
}

// fail prints an error, a line a problem.
func (c *call) fail(err error) int {
	fmt.Fprintln(c.errw, err)
	return exitMisuse
}

// print writes a whole answer at once, or says that it could not.
func (c *call) print(text string) int {
	if _, err := io.WriteString(c.out, text); err != nil {
		fmt.Fprintf(c.errw, "axleend: could not write: %v\n", err)
		return exitWrite
	}
	return exitDone
}

// worse gives the higher of two exit statuses of an answer that was written.
func worse(written, answer int) int { return max(written, answer) }

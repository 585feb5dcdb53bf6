package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
)

// batchFlags are what was typed.
type batchFlags struct {
	out     string
	resume  bool
	workers int
	sheets  string
	names   bool
}

// mostWorkers keeps a slip of the finger from taking all memory.
const mostWorkers = 1024

func batchCommand() *command {
	var f batchFlags
	return &command{
		name: "batch", args: "INPUT.jsonl | FOLDER | -", short: "many visits in; JSON lines, a shop's list, or sheets out",
		help: `Reads visits, one a line as JSON ("-" is standard input), or every *.yaml, *.yml
and *.json file of a folder by name, and writes a line of JSON for each in the
same order: the report, or what is wrong with the record. A terminal shows the
progress. With -o, an interrupted batch keeps what is finished. Run the same
command with -resume: it checks each line in the file against its visit, then goes
on after the last one. Where a line differs, it leaves the file as it is.

A bad table is reported and left out; a visit with a tire that no other table is
for is then not judged.

With -as list it prints one line a coach instead, the worst first, with what
stops it and what falls due next; with -as csv the same for a spreadsheet. -sheets
writes each coach's sheet into a folder, beside whatever else is printed; a.yaml
and a.json of one folder become a.yaml.html and a.json.html.

Example: axleend batch examples/demo
Example: axleend batch -as list examples/demo`,
		run: func(c *call, args []string) int { return batchVisits(c, f, args) },
		flags: func(c *call) {
			c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the input's own folder)")
			c.packFlags()
			c.forms = []string{"json", "list", "csv"}
			c.flags.StringVar(&c.as, "as", "json", "what to write: json, list (one line a coach, the worst first), csv")
			c.flags.StringVar(&f.sheets, "sheets", "", "`folder` to write each coach's sheet into, which is made if it is not there")
			c.flags.BoolVar(&f.names, "call", false, "with -as list or csv: say whom to call")
			c.namesFlag()
			c.flags.BoolVar(&c.force, "force", false, "with -sheets: write over sheets that are there")
			c.flags.StringVar(&f.out, "o", "", "`file` to write to, which must not exist yet (default: standard output)")
			c.flags.BoolVar(&f.resume, "resume", false, "go on where the file of -o ends; half a line at its end is completed")
			c.flags.IntVar(&f.workers, "workers", 0, "visits judged at once (default: one for each processor)")
		},
	}
}

// misused says what is wrong with flags and arguments; empty where nothing is.
func (f batchFlags) misused(c *call, args []string) string {
	switch {
	case len(args) != 1:
		return "batch wants one file, folder or -; axleend batch -h shows how it is used"
	case f.resume && f.out == "":
		return "-resume goes on with the file of -o: which one?"
	case c.as != "json" && f.resume:
		return "-resume goes on with lines of JSON; a list is put in order when all are read"
	case f.names && c.nameless:
		return "-call says whom to call, and -without-names leaves that out: which of the two?"
	case f.workers < 0 || f.workers > mostWorkers:
		return fmt.Sprintf("-workers %d: want 1 to %d, or 0 for one for each processor", f.workers, mostWorkers)
	}
	return ""
}

// A batchInput is where visits come from: lines of a file or of standard input, or a
// folder.
type batchInput struct {
	name   string
	lines  io.Reader
	file   *os.File // nil for standard input
	size   int64    // of a file, 0 where it is not known
	folder bool
}

func (c *call) openBatch(name string) (in batchInput, err error) {
	if name == "-" {
		return batchInput{name: name, lines: c.in}, nil
	}
	file, err := c.open(name)
	if err != nil {
		return batchInput{}, err
	}
	info := c.inputs[len(c.inputs)-1]
	if info.IsDir() {
		c.reads(name, visitKinds[:])
		return batchInput{name: name, file: file, folder: true}, nil
	}
	return batchInput{name: name, lines: patientReader{c.ctx, file}, file: file, size: info.Size()}, nil
}

func (in *batchInput) close() {
	if in.file != nil {
		in.file.Close()
	}
}

func (in *batchInput) run(ctx context.Context, out io.Writer, setup inspect.Setup, opts batch.Options) (batch.Result, error) {
	if in.folder {
		return batch.RunFolder(ctx, os.DirFS(in.name), out, setup, opts)
	}
	return batch.Run(ctx, in.lines, out, setup, opts)
}

func batchVisits(c *call, f batchFlags, args []string) int {
	if wrong := f.misused(c, args); wrong != "" {
		return c.misuse("%s", wrong)
	}
	in, err := c.openBatch(args[0])
	if err != nil {
		return c.fail(err)
	}
	defer in.close()
	if in.folder && c.tables == "" {
		c.tables = in.name
	}
	setup, refuse, err := c.batchSetup(in.name)
	if err != nil {
		return c.fail(err)
	}
	opts := batch.Options{Workers: f.workers, Refuse: refuse}
	if opts.Workers == 0 {
		opts.Workers = runtime.GOMAXPROCS(0)
	}
	shop, code := c.openShop(f, in.name, in.folder)
	if code != exitDone {
		return code
	}
	out := shop.joins(&opts)
	if f.out != "" && !shop.lists {
		file, earlier, code := c.openOutput(f)
		if code != exitDone {
			return code
		}
		defer file.Close()
		out, opts.Earlier = file, earlier
	}
	m := &meter{out: c.screen, size: in.size, now: time.Now}
	if isTerminal(c.screen) {
		opts.Progress = m.show
	}
	// The heap is so small that Go would collect it a hundred times a second.
	// Four times as seldom costs 15 MB and gives a sixth of the time back.
	if os.Getenv("GOGC") == "" {
		defer debug.SetGCPercent(debug.SetGCPercent(400))
	}
	res, err := in.run(c.ctx, out, setup, opts)
	m.clear()
	if shop.lists && err == nil && res.Records > 0 {
		return shop.print(res)
	}
	if file, ok := out.(*os.File); ok && f.out != "" && err == nil {
		if err = file.Close(); err != nil {
			err = fmt.Errorf("%w: %w", batch.ErrWrite, err)
		}
	}
	return c.batchEnd(f, in.name, res, err)
}

// openOutput opens the file of -o at its end, and gives what stands in it.
func (c *call) openOutput(f batchFlags) (file *os.File, earlier io.Reader, code int) {
	if err := c.spared(f.out); err != nil {
		return nil, nil, c.misuse("%v", err)
	}
	// A pipe is kept by who opens it for both ways, and nothing in it can be gone on with.
	if info, err := os.Stat(f.out); err == nil && info.Mode()&fs.ModeNamedPipe != 0 {
		return nil, nil, c.misuse("%s is a pipe, want a file; without -o the answers go to the standard output, and a > sends them into a pipe", f.out)
	}
	file, err := openAlone(f.out)
	if errors.Is(err, errTaken) {
		return nil, nil, c.misuse("%s: %v", f.out, err)
	}
	if err != nil {
		return nil, nil, c.unwritten(err)
	}
	info, err := file.Stat()
	if err == nil && info.Mode().IsRegular() && info.Size() > 0 {
		if !f.resume {
			file.Close()
			return nil, nil, c.misuse("%s is there already: -resume continues it; remove it to start over", f.out)
		}
		earlier = io.NewSectionReader(file, 0, info.Size())
		_, err = file.Seek(0, io.SeekEnd)
	}
	if err != nil {
		file.Close()
		return nil, nil, c.unwritten(err)
	}
	return file, earlier, exitDone
}

// batchEnd says how the batch ended.
func (c *call) batchEnd(f batchFlags, input string, res batch.Result, err error) int {
	how := ""
	if f.out != "" && c.as == "json" {
		how = ": the same command with -resume continues after them"
	}
	switch {
	case c.ctx.Err() != nil && errors.Is(err, c.ctx.Err()):
		fmt.Fprintf(c.errw, "axleend: interrupted; %s finished%s\n", records(res.Records), how)
		return exitWrite
	case errors.Is(err, batch.ErrWrite):
		fmt.Fprintf(c.errw, "axleend: %v; %s finished%s\n", err, records(res.Records), how)
		return exitWrite
	case errors.Is(err, batch.ErrEarlier):
		return c.fail(fmt.Errorf("%s: %w", f.out, err))
	case err != nil:
		return c.fail(fmt.Errorf("%s: %w; %s finished", input, err, records(res.Records)))
	case res.Records == 0:
		return c.misuse("%s: no visit in it", input)
	}
	code := exitDone
	if res.Stops > 0 || res.Bad > 0 {
		code = exitStop
	}
	if f.out == "" {
		return code
	}
	return worse(c.say(fmt.Sprintf("%s: %s, %s must not move or go on, %s could not be judged\n",
		f.out, records(res.Records), thousands(res.Stops), thousands(res.Bad))), code)
}

func records(n int) string {
	if n == 1 {
		return "1 record"
	}
	return thousands(n) + " records"
}

// thousands writes a count as people read it.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// A meter keeps one line of a terminal up to date.
type meter struct {
	out    io.Writer
	size   int64 // bytes of the input, 0 if not known
	now    func() time.Time
	first  batch.Result // what the rate is counted from
	begun  time.Time
	shown  time.Time
	length int
}

// meterStep is how often the line changes.
const meterStep = 500 * time.Millisecond

func (m *meter) show(r batch.Result) {
	now := m.now()
	if m.begun.IsZero() {
		m.begun, m.shown, m.first = now, now, r
		return
	}
	if now.Sub(m.shown) < meterStep {
		return
	}
	m.shown = now
	seconds := now.Sub(m.begun).Seconds()
	rate := float64(r.Records-m.first.Records) / seconds
	line := fmt.Sprintf("%s, %s a second", records(r.Records), thousands(int(rate)))
	left := 0.0
	switch {
	case r.Of > 0:
		left = float64(r.Of-r.Records) / rate
	case m.size > 0:
		left = float64(m.size-r.Bytes) * seconds / float64(r.Bytes-m.first.Bytes)
	}
	if left > 0 && left < 1e6 { // two weeks: nothing sure is known yet
		line += ", " + (time.Duration(left) * time.Second).String() + " left"
	}
	m.length = max(m.length, len(line))
	fmt.Fprintf(m.out, "\r%-*s", m.length, line)
}

// clear takes the line away, so that what comes behind it stands alone.
func (m *meter) clear() {
	if m.length > 0 {
		fmt.Fprintf(m.out, "\r%s\r", strings.Repeat(" ", m.length))
	}
}

package batch

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"sync"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// ErrWrite says that a batch's answers could not be written.
var ErrWrite = errors.New("could not write")

// Options say how a batch is run. The zero value is ready to use.
type Options struct {
	// Workers is how many visits are judged at once, 1 if it is less:
	// runtime.GOMAXPROCS(0) keeps all processors busy.
	Workers int
	// Earlier, if not nil, is all that an earlier run over the same input wrote,
	// however it ended. Every record is judged again; what is in Earlier is
	// compared and not written; half a line at its end is completed.
	Earlier io.Reader
	// Refuse, if not nil, is asked about every visit before it is judged, by all
	// workers at once. Its error is then the answer, as for a record that could
	// not be read. Use it to refuse a visit that needs something which could not
	// be loaded, such as a broken table.
	Refuse func(*record.Visit) error
	// Progress, if not nil, is called after every write, always by the
	// goroutine that called the batch.
	Progress func(Result)
	// Each, if not nil, is handed every record with its answer, in the order of the
	// input and by the goroutine that called the batch, before the answer is written.
	// An error ends the batch and is returned. With a nil out nothing is written.
	Each func(Answer) error
}

// An Answer is one record of a batch: its report, or why there is none.
type Answer struct {
	// Line is the record's line in the input, from 1; 0 in a folder.
	Line int
	// File is the record's own file in a folder.
	File string
	// Visit is what was read, nil where that failed.
	Visit *record.Visit
	// Report is the answer, nil beside Err.
	Report *report.Report
	// Err says why it could not be judged.
	Err error
}

// ErrEarlier says that a batch cannot go on behind what an earlier run wrote:
// that is no batch's answer, or the input, the tables or the packs are others
// now. Nothing was written then.
var ErrEarlier = errors.New("cannot go on")

// A Result says how far a batch came, the records that an earlier run answered
// included.
type Result struct {
	// Records counts the records answered; of these, Stops the coaches that
	// must not move or must not go on, and Bad the records that could not be
	// judged.
	Records, Stops, Bad int
	// Of is how many records there are, 0 where that is not known before the
	// end of the input.
	Of int
	// Bytes is how much of the input is answered.
	Bytes int64
}

// BadRecordVersion is the version of [BadRecord] that this package writes.
const BadRecordVersion = 1

// A BadRecord stands among the reports of a batch in the place of one for a
// record that could not be judged. Its JSON begins with "bad_record", that of
// a [report.Report] with "report".
type BadRecord struct {
	// Version is that of the format, [BadRecordVersion].
	Version int `json:"bad_record"`
	// Line is the record's line in the input, counted from 1; 0 in a folder.
	Line int `json:"line,omitzero"`
	// File is the record's own file in a folder.
	File string `json:"file,omitzero"`
	// Problems are what is wrong, in the order in which it was found, at most
	// [origin.MaxProblems].
	Problems []RecordProblem `json:"problems"`
	// More is how many problems there are beyond [origin.MaxProblems].
	More int `json:"more_problems,omitzero"`
}

// A RecordProblem is one thing wrong with a record: where it stands in the
// input, counted from 1, in characters (0 where not known), the path of the
// field, a code that does not change with the wording, and what is wrong.
type RecordProblem struct {
	// Line is where it stands in the input, counted from 1; 0 where that is not known.
	Line int `json:"line,omitzero"`
	// Column is the character of the line, counted from 1; 0 where that is not known.
	Column int `json:"column,omitzero"`
	// Path is the field, such as steer-left.found; empty for the whole record.
	Path string `json:"path,omitzero"`
	// Code says which kind of problem it is, and does not change with the wording.
	Code string `json:"code,omitzero"`
	// Error is what is wrong, in words.
	Error string `json:"error"`
}

// Run reads visits as lines of JSON and writes a line of JSON for each, in
// the same order: the [report.Report] of [inspect.Assess], or a [BadRecord]. Lines of white
// space are no records, but count as lines. JSON is read as strictly as YAML
// is by [record.Read]; a line of more than [record.MaxSize] bytes is a bad record
// and is not held in memory. Memory is bounded by the number of workers,
// however long the input is.
//
// out gets whole lines in every Write, the last of them when the input ends or
// ctx is done: what was begun is then finished, and the error is ctx's. An
// error that matches [ErrWrite] is out's, one that matches [ErrEarlier] says
// what differs from the answers that are there; others are in's or, with no
// record to blame, that of a program that does not fit. The result is right also
// beside an error.
//
// When Run returns, nobody uses in or out any more. So a Read of in that has
// begun is waited for, also when ctx is done: an input that may keep its reader
// waiting for ever has to end with ctx by itself.
func Run(ctx context.Context, in io.Reader, out io.Writer, setup inspect.Setup, opts Options) (Result, error) {
	return runBatch(ctx, newLines(in), out, setup, opts)
}

// RunFolder is [Run] for visits that are files: every *.yaml, *.yml and
// *.json file directly in the folder, in the order of their names, read as by
// [record.Read]. Files that declare themselves tables are left out. A file that
// cannot be read is a bad record.
func RunFolder(ctx context.Context, fsys fs.FS, out io.Writer, setup inspect.Setup, opts Options) (Result, error) {
	src, err := newFolder(fsys)
	if err != nil {
		return Result{}, err
	}
	return runBatch(ctx, src, out, setup, opts)
}

// A input is one visit to be answered, and the memory for it, which later
// ones use again.
type input struct {
	line   int // 0 in a folder
	file   string
	data   []byte
	unread error // why data is not the record
	end    int64 // bytes of the input up to its end
}

// A source gives one record after the other, io.EOF after the last.
type source interface {
	next(*input) error
	ready() bool // whether the next one is there without waiting
	count() int  // how many there are, or 0
}

// A chunk is some records on their way from the input to the output together:
// what one of them takes is too short to hand it from one goroutine to another.
type chunk struct {
	records [perChunk]input
	n       int

	out    []byte // the answers, whole lines
	each   []Answer
	result Result // what this chunk adds; Bytes are those up to its end
	done   chan struct{}
}

// perChunk records take a millisecond or two. perWorker chunks for each worker
// keep it busy while the writer waits for Go's scheduler to give it a turn.
const (
	perChunk  = 8
	perWorker = 4
	chunkSize = 64 << 10 // of input: no record is begun beyond it
)

func runBatch(ctx context.Context, src source, out io.Writer, setup inspect.Setup, opts Options) (Result, error) {
	if err := setup.Check(); err != nil {
		return Result{}, err
	}
	judges := make([]worker, max(opts.Workers, 1))
	for i := range judges {
		judges[i] = worker{setup: setup, refuse: opts.Refuse, silent: out == nil, keep: opts.Each != nil}
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	// All chunks fit into each channel, so that sending never blocks.
	chunks := len(judges) * perWorker
	p := pipe{
		free:  make(chan *chunk, chunks),
		work:  make(chan *chunk, chunks),
		queue: make(chan *chunk, chunks),
		quit:  make(chan struct{}),
	}
	for range chunks {
		p.free <- &chunk{done: make(chan struct{}, 1)}
	}
	var judging sync.WaitGroup
	for i := range judges {
		judging.Go(func() { judges[i].run(&p) })
	}
	var reading sync.WaitGroup
	reading.Go(func() { p.read(ctx, src) })
	w := batchWriter{out: out, earlier: opts.Earlier, progress: opts.Progress, each: opts.Each, result: Result{Of: src.count()}}
	err := w.run(ctx, &p)
	cancel()
	reading.Wait()
	close(p.quit)
	judging.Wait()
	return w.result, err
}

// A pipe is the way of the chunks: free, read, judged, written, free again.
type pipe struct {
	free  chan *chunk
	work  chan *chunk
	queue chan *chunk // in the order of the input; each is in work before
	ended error       // why the queue was closed, nil at the end of the input
	quit  chan struct{}
}

// read fills chunks until the input ends or ctx is done.
func (p *pipe) read(ctx context.Context, src source) {
	defer close(p.queue)
	for p.ended == nil {
		var c *chunk
		select {
		case c = <-p.free:
		case <-ctx.Done():
			p.ended = ctx.Err()
			return
		}
		err := src.next(&c.records[0])
		c.n = 0
		size := 0
		for err == nil {
			size += len(c.records[c.n].data)
			if c.n++; c.n == perChunk || size >= chunkSize || !src.ready() || ctx.Err() != nil {
				break
			}
			err = src.next(&c.records[c.n])
		}
		if c.n > 0 {
			p.work <- c
			p.queue <- c
		}
		if errors.Is(err, io.EOF) {
			return
		}
		p.ended = cmp.Or(err, ctx.Err())
	}
}

// A worker answers records, one at a time.
type worker struct {
	setup  inspect.Setup
	refuse func(*record.Visit) error
	silent bool // nothing is written
	keep   bool // answers are handed on
}

func (j *worker) run(p *pipe) {
	for {
		select {
		case c := <-p.work:
			c.out, c.each, c.result = c.out[:0], c.each[:0], Result{Bytes: c.records[c.n-1].end}
			for i := range c.records[:c.n] {
				var a Answer
				c.out, a = j.answer(c.out, &c.records[i])
				c.result.count(a.Report != nil && a.Report.Drive.Stops(), a.Err != nil)
				if j.keep {
					c.each = append(c.each, a)
				}
			}
			c.done <- struct{}{}
		case <-p.quit:
			return
		}
	}
}

func (r *Result) count(stops, bad bool) {
	r.Records++
	if stops {
		r.Stops++
	}
	if bad {
		r.Bad++
	}
}

// answer appends the answer to one record, a whole line.
func (j *worker) answer(dst []byte, r *input) (out []byte, a Answer) {
	a = Answer{Line: r.line, File: r.file}
	code := strictyaml.CodeValue
	if a.Err = r.unread; a.Err != nil {
		code = "read"
	} else if a.Visit, a.Err = j.visit(r); a.Err != nil {
		// said as it is
	} else if a.Err = j.refused(a.Visit); a.Err != nil {
		code = "refused"
	} else {
		var rep report.Report
		if rep, a.Err = inspect.Assess(a.Visit, j.setup); errors.Is(a.Err, record.ErrNothing) {
			code = "nothing"
		}
		a.Report = &rep
	}
	if a.Err == nil && !j.silent {
		if out, a.Err = a.Report.AppendJSON(dst); a.Err == nil {
			return append(out, '\n'), a
		}
	}
	if a.Err != nil {
		a.Report = nil
	}
	if a.Err == nil || j.silent {
		return dst, a
	}
	return r.refuse(dst, code, a.Err), a
}

func (j *worker) refused(v *record.Visit) error {
	if j.refuse == nil {
		return nil
	}
	return j.refuse(v)
}

func (j *worker) visit(r *input) (*record.Visit, error) {
	if r.file != "" {
		return record.Read(r.file, r.data)
	}
	return record.ReadJSON("", r.data)
}

// refuse appends the answer to a record that cannot be judged.
func (r *input) refuse(dst []byte, code string, err error) []byte {
	var problems origin.Problems
	problems.AddError(origin.Position{}, code, err)
	bad := BadRecord{Version: BadRecordVersion, Line: r.line, File: r.file, More: problems.More()}
	for _, p := range problems.All() {
		line := p.Position.Line
		if r.file == "" {
			line = r.line // of the whole input
		}
		bad.Problems = append(bad.Problems, RecordProblem{Line: line, Column: p.Position.Column, Path: p.Path, Code: p.Code, Error: p.Err.Error()})
	}
	text, _ := json.Marshal(bad) // texts and counts: no error
	return append(append(dst, text...), '\n')
}

// A batchWriter writes the answers in the order of the records.
type batchWriter struct {
	out      io.Writer
	earlier  io.Reader // nil once it has ended
	part     []byte    // of it
	progress func(Result)
	each     func(Answer) error
	result   Result
}

// run writes what is in the queue until it is closed, or, once ctx is done,
// empty: the reader may then be waiting for its input.
func (w *batchWriter) run(ctx context.Context, p *pipe) error {
	for {
		var c *chunk
		var open bool
		select {
		case c, open = <-p.queue:
		case <-ctx.Done():
			select {
			case c, open = <-p.queue:
			default:
				return ctx.Err()
			}
		}
		if !open {
			return cmp.Or(p.ended, w.nothingBehind())
		}
		<-c.done
		if err := w.write(c); err != nil {
			return err
		}
		p.free <- c
	}
}

func (w *batchWriter) write(c *chunk) error {
	for _, a := range c.each {
		if err := w.each(a); err != nil {
			return err
		}
	}
	rest, err := w.missing(c.out)
	if err != nil {
		return err
	}
	if len(rest) > 0 {
		if _, err := w.out.Write(rest); err != nil {
			return fmt.Errorf("%w: %w", ErrWrite, err)
		}
	}
	w.result.Records += c.result.Records
	w.result.Stops += c.result.Stops
	w.result.Bad += c.result.Bad
	w.result.Bytes = c.result.Bytes
	if w.progress != nil {
		w.progress(w.result)
	}
	return nil
}

// missing gives what of the next answers the earlier run did not write.
func (w *batchWriter) missing(answers []byte) ([]byte, error) {
	if w.earlier == nil {
		return answers, nil
	}
	w.part = slices.Grow(w.part[:0], len(answers))[:len(answers)]
	n, err := io.ReadFull(w.earlier, w.part)
	for i := range n {
		if w.part[i] != answers[i] {
			record := w.result.Records + bytes.Count(answers[:i], []byte("\n")) + 1
			return nil, fmt.Errorf("%w: line %d is not what record %d gives: the input, the tables or the packs are others, or it is no batch's output", ErrEarlier, record, record)
		}
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		w.earlier, err = nil, nil
	}
	return answers[n:], err
}

// nothingBehind makes sure that the earlier run answered no more than there is.
func (w *batchWriter) nothingBehind() error {
	if w.earlier == nil {
		return nil
	}
	var one [1]byte
	switch _, err := io.ReadFull(w.earlier, one[:]); {
	case err == nil:
		return fmt.Errorf("%w: the output goes on after the %d records of the input", ErrEarlier, w.result.Records)
	case !errors.Is(err, io.EOF):
		return err
	}
	return nil
}

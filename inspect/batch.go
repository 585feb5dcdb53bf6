package inspect

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"sync"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// ErrWrite says that a batch's answers could not be written.
var ErrWrite = errors.New("could not write")

// BatchOptions say how a batch is run. The zero value is ready to use.
type BatchOptions struct {
	// Workers is how many visits are judged at once, 1 if it is less:
	// runtime.GOMAXPROCS(0) keeps all processors busy.
	Workers int
	// Resume is where an earlier run over the same input ended, from
	// [FindResume]; the zero Resume begins at the beginning.
	Resume Resume
	// Progress, if not nil, is called after every write, always by the
	// goroutine that called the batch.
	Progress func(BatchResult)
}

// A BatchResult says how far a batch came, the records answered by the run it
// resumes included.
type BatchResult struct {
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
// a [Report] with "report".
type BadRecord struct {
	Version int `json:"bad_record"`
	// Line is the record's line in the input, counted from 1; File is the
	// record's own file in a folder.
	Line     int             `json:"line,omitzero"`
	File     string          `json:"file,omitzero"`
	Problems []RecordProblem `json:"problems"`
	// More is how many problems there are beyond [origin.MaxProblems].
	More int `json:"more_problems,omitzero"`
}

// A RecordProblem is one thing wrong with a record: where it stands in the
// input, counted from 1, in characters (0 where not known), the path of the
// field, a code that does not change with the wording, and what is wrong.
type RecordProblem struct {
	Line   int    `json:"line,omitzero"`
	Column int    `json:"column,omitzero"`
	Path   string `json:"path,omitzero"`
	Code   string `json:"code,omitzero"`
	Error  string `json:"error"`
}

// Batch reads visits as lines of JSON and writes a line of JSON for each, in
// the same order: the [Report] of [Assess], or a [BadRecord]. Lines of white
// space are no records, but count as lines. JSON is read as strictly as YAML
// is by [ReadVisit]; a line of more than [MaxVisitSize] bytes is a bad record
// and is not held in memory. Memory is bounded by the number of workers,
// however long the input is.
//
// out gets whole lines in every Write, the last of them when the input ends or
// ctx is done: what was begun is then finished, and the error is ctx's. An
// error that matches [ErrWrite] is out's, one that matches [ErrResume] says
// that the input is not the one that the output was made from; others are in's
// or, with no record to blame, that of a program that does not fit. The result
// is right also beside an error. When ctx is done while in blocks, Batch does
// not wait for it: in must not be used again.
func Batch(ctx context.Context, in io.Reader, out io.Writer, setup Setup, opts BatchOptions) (BatchResult, error) {
	return runBatch(ctx, newLines(in), out, setup, opts)
}

// BatchFolder is [Batch] for visits that are files: every *.yaml, *.yml and
// *.json file directly in the folder, in the order of their names, read as by
// [ReadVisit]. Files that declare themselves tables are left out. A file that
// cannot be read is a bad record.
func BatchFolder(ctx context.Context, fsys fs.FS, out io.Writer, setup Setup, opts BatchOptions) (BatchResult, error) {
	src, err := newFolder(fsys)
	if err != nil {
		return BatchResult{}, err
	}
	return runBatch(ctx, src, out, setup, opts)
}

// A record is one visit on its way from the input to the output, and the
// memory for it, which later ones use again.
type record struct {
	line   int // 0 in a folder
	file   string
	data   []byte
	unread error // why data is not the record
	end    int64 // bytes of the input up to its end
	again  bool  // the last one that the earlier run answered, to be compared

	out   []byte
	stops bool
	bad   bool
	done  chan struct{}
}

// A source gives one record after the other, io.EOF after the last.
type source interface {
	next(*record) error
	count() int // how many there are, or 0
}

// perWorker is how many records there are in memory for each worker: enough
// that none waits for the writer while one visit takes long.
const perWorker = 4

// outSize is how much is written at once when there is as much.
const outSize = 64 << 10

func runBatch(ctx context.Context, src source, out io.Writer, setup Setup, opts BatchOptions) (BatchResult, error) {
	judges := make([]judge, max(opts.Workers, 1))
	for i := range judges {
		var err error
		if judges[i].assessor, err = NewAssessor(setup); err != nil {
			return BatchResult{}, err
		}
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	// All records fit into each channel, so that sending never blocks.
	records := len(judges) * perWorker
	p := pipe{
		free:  make(chan *record, records),
		work:  make(chan *record, records),
		queue: make(chan *record, records),
		quit:  make(chan struct{}),
	}
	for range records {
		p.free <- &record{done: make(chan struct{}, 1)}
	}
	var judging sync.WaitGroup
	for i := range judges {
		judging.Go(func() { judges[i].run(&p) })
	}
	go p.read(ctx, src, opts.Resume.Records)
	w := batchWriter{out: out, opts: opts}
	w.now = BatchResult{Records: opts.Resume.Records, Stops: opts.Resume.Stops, Bad: opts.Resume.Bad, Of: src.count()}
	w.written = w.now
	err := w.run(ctx, &p)
	close(p.quit)
	judging.Wait()
	return w.written, err
}

// A pipe is the way of the records: free, read, judged, written, free again.
type pipe struct {
	free  chan *record
	work  chan *record
	queue chan *record // in the order of the input; each is in work before
	ended error        // why the queue was closed, nil at the end of the input
	quit  chan struct{}
}

// read fills records until the input ends or ctx is done.
func (p *pipe) read(ctx context.Context, src source, answered int) {
	defer close(p.queue)
	for n := 1; ; n++ {
		var r *record
		select {
		case r = <-p.free:
		case <-ctx.Done():
			p.ended = ctx.Err()
			return
		}
		err := src.next(r)
		for ; err == nil && n < answered; n++ { // answered by the earlier run
			if err = ctx.Err(); err == nil {
				err = src.next(r)
			}
		}
		r.again = n == answered
		switch {
		case err == io.EOF && n <= answered:
			p.ended = fmt.Errorf("%w: %d records in the output, %d in the input", ErrResume, answered, n-1)
			return
		case err == io.EOF:
			return
		case err == nil:
			err = ctx.Err()
		}
		if err != nil {
			p.ended = err
			return
		}
		p.work <- r
		p.queue <- r
	}
}

// A judge answers records, one at a time in the same memory.
type judge struct {
	assessor *Assessor
	reader   strictyaml.Reader
}

func (j *judge) run(p *pipe) {
	for {
		select {
		case r := <-p.work:
			j.answer(r)
			r.done <- struct{}{}
		case <-p.quit:
			return
		}
	}
}

// answer judges one record into its out, a whole line.
func (j *judge) answer(r *record) {
	r.stops, r.bad = false, false
	if r.unread != nil {
		r.refuse("read", r.unread)
		return
	}
	visit, err := j.visit(r)
	if err != nil {
		r.refuse(codeValue, err)
		return
	}
	report, err := j.assessor.Assess(visit)
	if err != nil {
		code := codeValue
		if errors.Is(err, ErrNothing) {
			code = "nothing"
		}
		r.refuse(code, err)
		return
	}
	text, err := report.AppendJSON(r.out[:0])
	if err != nil {
		r.refuse(codeValue, err)
		return
	}
	r.out = append(text, '\n')
	r.stops = report.Stops
}

func (j *judge) visit(r *record) (*Visit, error) {
	if r.file != "" {
		return ReadVisit(r.file, r.data)
	}
	doc, err := j.reader.ReadJSON("", r.data, MaxVisitSize)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// refuse answers a record that cannot be judged.
func (r *record) refuse(code string, err error) {
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
	r.out, r.bad = append(append(r.out[:0], text...), '\n'), true
}

// A batchWriter writes the answers in the order of the records.
type batchWriter struct {
	out     io.Writer
	opts    BatchOptions
	buf     []byte // whole lines
	now     BatchResult
	written BatchResult // now, as of the last write
}

// run takes answers from the queue until it is closed, or, once ctx is done,
// empty: the reader may then be waiting for its input.
func (w *batchWriter) run(ctx context.Context, p *pipe) error {
	done := ctx.Done()
	for {
		var r *record
		open := true
		if done != nil {
			select {
			case r, open = <-p.queue:
			case <-done:
				done = nil
				continue
			}
		} else {
			select {
			case r, open = <-p.queue:
			default:
				return cmp.Or(w.flush(), ctx.Err())
			}
		}
		if !open {
			return cmp.Or(w.flush(), p.ended)
		}
		if err := w.take(r); err != nil {
			return cmp.Or(w.flush(), err)
		}
		p.free <- r
		if len(w.buf) >= outSize || len(p.queue) == 0 {
			if err := w.flush(); err != nil {
				return err
			}
		}
	}
}

// take waits for an answer and puts it behind those not written yet.
func (w *batchWriter) take(r *record) error {
	<-r.done
	if r.again {
		w.now.Bytes = r.end
		if last := bytes.TrimSuffix(r.out, []byte("\n")); !bytes.Equal(last, w.opts.Resume.Last) {
			return fmt.Errorf("%w: record %d gives another answer than the last one in the output", ErrResume, w.opts.Resume.Records)
		}
		return nil
	}
	w.buf = append(w.buf, r.out...)
	w.now.Records++
	w.now.Bytes = r.end
	if r.stops {
		w.now.Stops++
	}
	if r.bad {
		w.now.Bad++
	}
	return nil
}

func (w *batchWriter) flush() error {
	if len(w.buf) > 0 {
		if _, err := w.out.Write(w.buf); err != nil {
			return fmt.Errorf("%w: %w", ErrWrite, err)
		}
		w.buf = w.buf[:0]
	}
	if w.now != w.written {
		w.written = w.now
		if w.opts.Progress != nil {
			w.opts.Progress(w.written)
		}
	}
	return nil
}

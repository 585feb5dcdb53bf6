package main

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"axleend.example/inspect/record"
)

// await gives what work gives, or the context's error as soon as that is done:
// opening a pipe, or reading one, may take for ever.
func await[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type answer struct {
		v   T
		err error
	}
	if err := ctx.Err(); err != nil { // select would take either of two that are ready
		var none T
		return none, err
	}
	done := make(chan answer, 1)
	go func() {
		v, err := work()
		done <- answer{v, err}
	}()
	select {
	case a := <-done:
		return a.v, a.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}

// A patientReader reads until ctx is done, also while its input keeps it
// waiting. What is read then is lost.
type patientReader struct {
	ctx context.Context
	in  io.Reader
}

func (r patientReader) Read(p []byte) (int, error) {
	data, err := await(r.ctx, func() ([]byte, error) {
		own := make([]byte, len(p)) // p is the caller's again when ctx is done
		n, err := r.in.Read(own)
		return own[:n], err
	})
	return copy(p, data), err
}

// read reads a file or standard input, no more of it than a visit may have
// and one byte, so that an oversize is seen and not loaded.
func (c *call) read(name string) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(io.LimitReader(c.in, record.MaxSize+1))
	}
	f, err := c.open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(patientReader{c.ctx, f}, record.MaxSize+1))
}

// open opens a file that no output may replace.
func (c *call) open(name string) (*os.File, error) {
	f, err := await(c.ctx, func() (*os.File, error) { return os.Open(name) })
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, err
	}
	c.inputs = append(c.inputs, info)
	return f, nil
}

// maxLine is the longest line of standard input that is read, in bytes: ten
// times what stands on a sidewall.
const maxLine = 1000

// each hands every argument, or else every line of standard input that is not
// empty, to do, with words for where it stands. It ends at the first error.
func (c *call) each(args []string, what string, do func(where, text string) error) error {
	for i, text := range args {
		if err := do(fmt.Sprintf("%s %d", what, i+1), text); err != nil {
			return err
		}
	}
	if len(args) > 0 {
		return nil
	}
	in := bufio.NewScanner(c.in)
	in.Buffer(make([]byte, maxLine+len("\r\n")), maxLine+len("\r\n"))
	n := 1
	for ; in.Scan() && len(in.Bytes()) <= maxLine; n++ {
		if text := strings.TrimSpace(in.Text()); text != "" {
			if err := do(fmt.Sprintf("line %d", n), text); err != nil {
				return err
			}
		}
	}
	if len(in.Bytes()) > maxLine || errors.Is(in.Err(), bufio.ErrTooLong) {
		return fmt.Errorf("line %d: longer than %d bytes", n, maxLine)
	}
	return in.Err()
}

// answers prints one answer after the other, as text or as one array of JSON:
// to lines of standard input as they come, to arguments once all are read.
type answers struct {
	c    *call
	hold bool // until all are there
	held []byte
	n    int
}

// add gives one more answer.
func (a *answers) add(v any, text string) error {
	if a.c.as == "json" {
		data, err := json.MarshalIndent(v, "  ", "  ")
		if err != nil {
			return err
		}
		text = ",\n  " + string(data)
		if a.n == 0 {
			text = "[\n  " + string(data)
		}
	} else {
		text = a.c.narrowed(text)
	}
	a.n++
	if a.hold {
		a.held = append(a.held, text...)
		return nil
	}
	return a.c.write(text)
}

// end says the last words, or closes the array. Of answers that were held none
// is printed where one failed.
func (a *answers) end(err error, words string) error {
	if a.n == 0 || err != nil && a.hold {
		return err
	}
	if a.c.as == "json" {
		words = "\n]\n"
	} else {
		words = a.c.narrowed(words)
	}
	return cmp.Or(err, a.c.write(string(append(a.held, words...))))
}

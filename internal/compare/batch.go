package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/record"
)

// compareBatch holds a batch to the codec alone: the same visits only read into
// plain structs, and their reports only written from such.
func compareBatch() ([]bench, []string, error) {
	c, err := newCoaches()
	if err != nil {
		return nil, nil, err
	}
	const again = 8 // so that what a batch begins with counts for little
	in := bytes.Repeat(append(bytes.Join(c.lines, []byte("\n")), '\n'), again)
	want := bytes.Repeat(append(bytes.Join(c.answers, []byte("\n")), '\n'), again)
	const visits = again * coachCount
	var out bytes.Buffer
	var line []byte
	whole := func() error {
		out.Reset()
		res, err := batch.Run(context.Background(), bytes.NewReader(in), &out, c.setup, batch.Options{Workers: 1})
		if err == nil && res.Bad > 0 {
			err = fmt.Errorf("%d records are bad", res.Bad)
		}
		return err
	}
	codec := func() error {
		out.Reset()
		for i := range visits {
			if err := json.Unmarshal(c.lines[i%coachCount], newPlain(c.visitType)); err != nil {
				return err
			}
			text, err := json.Marshal(c.plainReports[i%coachCount])
			if err != nil {
				return err
			}
			out.Write(append(text, '\n'))
		}
		return nil
	}
	for _, do := range []func() error{whole, codec} {
		if err := do(); err != nil {
			return nil, nil, err
		}
		if !bytes.Equal(out.Bytes(), want) {
			return nil, nil, fmt.Errorf("the output differs: %d bytes, want %d", out.Len(), len(want))
		}
	}
	notes := []string{fmt.Sprintf("A million such visits are %.1f GB in and %.1f GB out.", float64(len(in))/visits/1e3, float64(len(want))/visits/1e3)}
	return []bench{{"a batch of ten-tire visits, one worker", "visit", visits, []way{
		{"batch.Run", whole},
		{"encoding/json in and out, plain structs", codec},
		{"of batch.Run: record.ReadJSON", times(visits, func(i int) error { _, err := record.ReadJSON("", c.lines[i%coachCount]); return err })},
		{"of batch.Run: inspect.Assess", times(visits, func(i int) error { _, err := inspect.Assess(c.visits[i%coachCount], c.setup); return err })},
		{"of batch.Run: Report.AppendJSON", times(visits, func(i int) (err error) { line, err = c.reports[i%coachCount].AppendJSON(line[:0]); return err })},
	}}}, notes, nil
}

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	goccy "github.com/goccy/go-json"
	"gopkg.in/yaml.v3"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

// same holds what each codec reads to what was written: the plain structs hold all
// that there is, and ours comes back as it was.
func (c *coaches) same() error {
	for i := range c.visits {
		for name, read := range map[string]func(data []byte, into any) error{"encoding/json": json.Unmarshal, "go-json": goccy.Unmarshal} {
			visit, answer := newPlain(c.visitType), newPlain(c.reportType)
			if err := errors.Join(read(c.lines[i], visit), read(c.answers[i], answer)); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			for _, write := range []func(v any) ([]byte, error){json.Marshal, goccy.Marshal} {
				line, err1 := write(visit)
				text, err2 := write(answer)
				if err := errors.Join(err1, err2); err != nil || !bytes.Equal(line, c.lines[i]) || !bytes.Equal(text, c.answers[i]) {
					return fmt.Errorf("%s: coach %d comes out otherwise: %w\n%s\n%s\n%s\n%s", name, i, err, c.lines[i], line, c.answers[i], text)
				}
			}
		}
		v, err1 := record.ReadJSON("", c.lines[i])
		r, err2 := report.Read("", c.answers[i])
		if err := errors.Join(err1, err2); err != nil {
			return err
		}
		line, err1 := json.Marshal(v)
		text, err2 := json.Marshal(r)
		if err := errors.Join(err1, err2); err != nil || !bytes.Equal(line, c.lines[i]) || !bytes.Equal(text, c.answers[i]) {
			return fmt.Errorf("coach %d comes out otherwise: %w\n%s\n%s", i, err, line, text)
		}
		if err := c.sameYAML(i); err != nil {
			return err
		}
	}
	return nil
}

// sameYAML holds the plain structs that yaml.v3 fills to ours, by their JSON.
func (c *coaches) sameYAML(i int) error {
	v, err := record.Read("", c.yamls[i])
	if err != nil {
		return err
	}
	want := newPlain(c.visitType)
	line, err := json.Marshal(v)
	if err == nil {
		err = json.Unmarshal(line, want)
	}
	got := newPlain(c.visitType)
	if err := errors.Join(err, yaml.Unmarshal(c.yamls[i], got)); err != nil {
		return fmt.Errorf("yaml.v3: %w\n%s", err, c.yamls[i])
	}
	a, err1 := json.Marshal(want)
	b, err2 := json.Marshal(got)
	if err := errors.Join(err1, err2); err != nil || !bytes.Equal(a, b) {
		return fmt.Errorf("yaml.v3: coach %d: %w\n%s\n%s", i, err, a, b)
	}
	return nil
}

func compareCodecs() ([]bench, []string, error) {
	c, err := newCoaches()
	if err != nil {
		return nil, nil, err
	}
	if err := c.same(); err != nil {
		return nil, nil, err
	}
	sizes := [3]int{}
	for i := range coachCount {
		sizes[0], sizes[1], sizes[2] = sizes[0]+len(c.lines[i]), sizes[1]+len(c.yamls[i]), sizes[2]+len(c.answers[i])
	}
	notes := []string{fmt.Sprintf("%d coaches on ten tires; a visit is %d bytes of JSON and %d of YAML, a report %d of JSON, on the average.",
		coachCount, sizes[0]/coachCount, sizes[1]/coachCount, sizes[2]/coachCount)}
	return []bench{
		{"reading a visit, JSON", "visit", coachCount, []way{
			{"record.ReadJSON, all checked", times(coachCount, func(i int) error { _, err := record.ReadJSON("", c.lines[i]); return err })},
			{"encoding/json, plain structs", times(coachCount, func(i int) error { return json.Unmarshal(c.lines[i], newPlain(c.visitType)) })},
			{"go-json, plain structs", times(coachCount, func(i int) error { return goccy.Unmarshal(c.lines[i], newPlain(c.visitType)) })},
		}},
		{"reading a visit, YAML", "visit", coachCount, []way{
			{"record.Read, all checked", times(coachCount, func(i int) error { _, err := record.Read("", c.yamls[i]); return err })},
			{"yaml.v3, plain structs", times(coachCount, func(i int) error { return yaml.Unmarshal(c.yamls[i], newPlain(c.visitType)) })},
		}},
		{"writing a report", "report", coachCount, []way{
			{"encoding/json, report.Report", times(coachCount, func(i int) error { _, err := json.Marshal(c.reports[i]); return err })},
			{"encoding/json, plain structs", times(coachCount, func(i int) error { _, err := json.Marshal(c.plainReports[i]); return err })},
			{"go-json, plain structs", times(coachCount, func(i int) error { _, err := goccy.Marshal(c.plainReports[i]); return err })},
		}},
		{"reading a report", "report", coachCount, []way{
			{"report.Read", times(coachCount, func(i int) error { _, err := report.Read("", c.answers[i]); return err })},
			{"encoding/json, plain structs", times(coachCount, func(i int) error { return json.Unmarshal(c.answers[i], newPlain(c.reportType)) })},
			{"go-json, plain structs", times(coachCount, func(i int) error { return goccy.Unmarshal(c.answers[i], newPlain(c.reportType)) })},
		}},
	}, notes, nil
}

package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

//go:embed ten.yaml
var tenYAML []byte

// coaches are visits to ten-tire coaches and their reports, in every form.
type coaches struct {
	setup   inspect.Setup
	visits  []*record.Visit
	lines   [][]byte // the visits, a line of JSON each
	yamls   [][]byte // the same as people write them
	reports []report.Report
	answers [][]byte // the reports as JSON

	visitType, reportType reflect.Type // plain
	plainReports          []any
}

const coachCount = 32

// listsOfOne are written without brackets, which plain structs cannot read.
var listsOfOne = regexp.MustCompile("\\bon: ([a-z-]+)")

// newCoaches makes visits of which each has other pressures, treads, numbers and
// loads. Some are in order, in some a lot is wrong.
func newCoaches() (*coaches, error) {
	c := new(coaches)
	table, err := newTable("AX1")
	if err != nil {
		return nil, err
	}
	if c.setup.Tables, err = inflation.NewTables(table); err != nil {
		return nil, err
	}
	if c.setup.Program, err = inspect.CompilePacks(packs.FS(), packs.Names()...); err != nil {
		return nil, err
	}
	if c.visitType, err = plainOf(reflect.TypeFor[record.Visit]()); err != nil {
		return nil, err
	}
	if c.reportType, err = plainOf(reflect.TypeFor[report.Report]()); err != nil {
		return nil, err
	}
	for i := range coachCount {
		if err := c.add(i); err != nil {
			return nil, fmt.Errorf("coach %d: %w", i, err)
		}
	}
	return c, nil
}

func (c *coaches) add(i int) error {
	v, err := record.Read("ten.yaml", tenYAML)
	if err != nil {
		return err
	}
	v.Coach = fmt.Sprintf("Invented coach %d", i)
	for k := range v.Tires {
		t := &v.Tires[k]
		if i%4 > 0 { // the others are in order
			t.Found = record.Record(95*inflation.PSI - inflation.Pressure((i+3*k)%(8*(i%4)))*inflation.PSI/2)
			t.Tread = record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(3+(i*7+k)%10) * record.ThirtySecond}})
			t.Number = record.Record(fmt.Sprintf("1M3 ABCDEF %02d%02d", 1+(i+k)%52, 15+(i+k)%11))
		}
	}
	for k := range v.Weighing.Readings {
		v.Weighing.Readings[k].Load += weight.Mass((i*13+k*7)%11-5) * 20 * weight.Pound
	}
	line, err := json.Marshal(v)
	if err != nil {
		return err
	}
	yaml, err := record.Marshal(v)
	yaml = listsOfOne.ReplaceAll(bytes.ReplaceAll(yaml, []byte("seen: nothing"), []byte("seen: []")), []byte("on: [$1]"))
	if err != nil {
		return err
	}
	r, err := inspect.Assess(v, c.setup)
	if err != nil {
		return err
	}
	answer, err := json.Marshal(r)
	if err != nil {
		return err
	}
	plain := newPlain(c.reportType)
	if err := json.Unmarshal(answer, plain); err != nil {
		return err
	}
	c.visits, c.lines, c.yamls = append(c.visits, v), append(c.lines, line), append(c.yamls, yaml)
	c.reports, c.answers, c.plainReports = append(c.reports, r), append(c.answers, answer), append(c.plainReports, plain)
	return nil
}

package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

func assess(c *call, args []string) int {
	if len(args) != 1 {
		return c.misuse("assess wants one visit file; axleend assess -h shows how it is used")
	}
	data, err := c.read(args[0])
	if err != nil {
		return c.fail(err)
	}
	visit, err := record.Read(args[0], data)
	if err != nil {
		return c.fail(err)
	}
	visit = c.named(visit)
	setup, err := c.setup(args[0], visit)
	if err != nil {
		return c.fail(err)
	}
	report, err := inspect.Assess(visit, setup)
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	code := exitDone
	if report.Drive.Stops() || c.strict && report.NotJudged > 0 {
		code = exitStop
	}
	var page []byte
	switch c.as {
	case "json":
		if page, err = json.MarshalIndent(report, "", "  "); err != nil {
			return c.fail(err)
		}
		page = append(page, '\n')
	case "html":
		var b bytes.Buffer
		if err := sheet.HTML(&b, report, sheet.HTMLOptions{OneSheet: c.oneSheet, Visit: visit}); err != nil {
			return c.fail(err)
		}
		page = b.Bytes()
	case "ics":
		var b bytes.Buffer
		if err := sheet.Calendar(&b, report.Coach, report.Date, report.Due()); err != nil {
			return c.fail(err)
		}
		page = b.Bytes()
	default:
		page = []byte(sheet.Text(report, c.textOptions("assess -full")))
	}
	save := c.save
	switch c.as {
	case "html":
		save = c.savePage
	case "ics":
		save = c.saveExact
	}
	written := save(page)
	if written != exitDone {
		return written
	}
	return code
}

// setup reads the packs, and the tables of the folder that was asked for or of
// the file's own. A table that is wrong is told of, and is an error where one of
// the visits may need it.
func (c *call) setup(file string, visits ...*record.Visit) (inspect.Setup, error) {
	setup, broken, err := c.tableSetup(file, visits...)
	if err != nil || broken == nil {
		return setup, err
	}
	if size, needed := lacksTable(setup.Tables, visits...); needed {
		return setup, fmt.Errorf("%w\nno other table is for size %q: fix it, or take the file out of the folder", broken, clip(size))
	}
	fmt.Fprintf(c.errw, "%v\naxleend: this table is left out: no tire of the visit needs it\n", broken)
	return setup, nil
}

// batchSetup is setup for visits that are not known yet: where a table is wrong it
// gives what refuses those that may need it, and the others are judged.
func (c *call) batchSetup(file string) (setup inspect.Setup, refuse func(*record.Visit) error, err error) {
	setup, broken, err := c.tableSetup(file)
	if err != nil || broken == nil {
		return setup, nil, err
	}
	fmt.Fprintf(c.errw, "%v\naxleend: this table is left out: what has a tire that no other table is for is not judged\n", broken)
	return setup, func(v *record.Visit) error {
		if size, needed := lacksTable(setup.Tables, v); needed {
			return fmt.Errorf("%w %q, and one that is wrong was left out: fix it, or take it out of the folder of tables", inflation.ErrNoTable, clip(size))
		}
		return nil
	}, nil
}

// tableSetup reads packs and tables; broken says what is wrong with tables that were
// left out.
func (c *call) tableSetup(file string, visits ...*record.Visit) (setup inspect.Setup, broken *origin.Problems, err error) {
	if setup, err = c.packSetup(visits...); err != nil {
		return setup, nil, err
	}
	dir := c.tables
	if dir == "" && file != "-" {
		dir = ownFolder(file)
	}
	if dir == "" {
		return setup, nil, nil
	}
	c.reads(dir, tableKinds[:])
	setup.Tables, err = tablefile.LoadFolder(os.DirFS(dir))
	if err != nil && !errors.As(err, &broken) {
		return setup, nil, fmt.Errorf("%s: %w", dir, err)
	}
	return setup, broken, nil
}

// packSetup reads the packs alone.
func (c *call) packSetup(visits ...*record.Visit) (setup inspect.Setup, err error) {
	if c.packs == "" && c.beside == "" && c.packDir == "" {
		return setup, nil
	}
	if c.packDir != "" {
		c.reads(c.packDir, visitKinds[:1])
	}
	for _, name := range c.packNames() {
		if err := c.known(name); err != nil {
			return setup, err
		}
	}
	if setup.Program, err = inspect.CompilePacks(c.packFS(), c.packNames()...); err == nil {
		setup.Beside, err = c.ownPacks(visits)
	}
	return setup, err
}

// lacksTable finds a size of the visits that none of the tables is for.
func lacksTable(tables inflation.Tables, visits ...*record.Visit) (size string, lacks bool) {
	for _, v := range visits {
		for _, every := range []record.Tire{v.EveryTire, v.EveryTowedTire} {
			for _, t := range append([]record.Tire{every}, v.Tires...) {
				size, loadRange := cmp.Or(t.Size, every.Size), cmp.Or(t.LoadRange, every.LoadRange)
				lr, _ := inflation.ParseLoadRange(loadRange) // what cannot be read is said elsewhere
				_, err := sidewall.FindTable(tables, size, lr)
				if size != "" && (errors.Is(err, inflation.ErrNoTable) || errors.Is(err, inflation.ErrLoadRange)) {
					return size, true
				}
			}
		}
	}
	return "", false
}

func (c *call) printJSON(v any) int {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return c.fail(err)
	}
	return c.save(append(data, '\n'))
}

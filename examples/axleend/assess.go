package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
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
	setup, err := c.setup(args[0])
	if err != nil {
		return c.fail(err)
	}
	report, err := inspect.Assess(visit, setup)
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	code := exitDone
	if report.Stops || c.strict && report.NotJudged > 0 {
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
		if err := sheet.HTML(&b, report, sheet.HTMLOptions{OnePage: c.onePage}); err != nil {
			return c.fail(err)
		}
		page = b.Bytes()
	default:
		page = []byte(sheet.Text(report))
	}
	written := c.save(page)
	if written != exitDone {
		return written
	}
	return code
}

func (c *call) setup(visit string) (inspect.Setup, error) {
	var setup inspect.Setup
	var err error
	if c.packs != "" || c.beside != "" || c.packDir != "" {
		if c.packDir != "" {
			c.reads(c.packDir, visitKinds[:1])
		}
		if setup.Program, err = inspect.CompilePacks(c.packFS(), c.packNames()...); err != nil {
			return setup, err
		}
	}
	dir := c.tables
	if dir == "" && visit != "-" {
		dir = filepath.Dir(visit)
	}
	if dir != "" {
		c.reads(dir, tableKinds[:])
		if setup.Tables, err = tablefile.LoadFolder(os.DirFS(dir)); err != nil {
			return setup, err
		}
	}
	return setup, nil
}

func (c *call) printJSON(v any) int {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return c.fail(err)
	}
	return c.print(string(data) + "\n")
}

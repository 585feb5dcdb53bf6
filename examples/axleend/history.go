package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"axleend.example/inspect/batch"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

func historyCommand() *command {
	return &command{
		name: "history", args: "FOLDER | VISIT ...", short: "visits of one coach: wear, leaks, loads, what is still open",
		help: `Reads the visit files of one coach, or all of a folder, in any order, and prints
what they say together: what was advised and is still open, the wear of each tire
and when it reaches a limit at that pace, how much air each loses at one
temperature, and which axle end grew heavier. A tire is followed by its full
number. With -as html it prints a page with small charts.

Example: axleend history -tables examples/demo examples/demo/history
Example: axleend history -as html -o history.html -tables examples/demo examples/demo/history`,
		run: compareVisits,
		flags: func(c *call) {
			c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the first visit's own folder)")
			c.packFlags()
			c.asFlag("html", "ics")
			c.flags.BoolVar(&c.full, "full", false, "print all: advice, causes, sources, every tire's visits")
			c.fileFlags()
			c.namesFlag()
			c.flags.BoolVar(&c.strict, "strict", false, "also exit with 1 when something was not judged")
		},
	}
}

func compareVisits(c *call, args []string) int {
	if len(args) == 0 {
		return c.misuse("history wants the visit files of one coach; axleend history -h shows how it is used")
	}
	files, err := c.visitFiles(args)
	if err != nil {
		return c.fail(err)
	}
	visits := make([]*record.Visit, len(files))
	var ps origin.Problems
	for i, name := range files {
		data, err := c.read(name)
		if err == nil {
			visits[i], err = record.Read(name, data)
			visits[i] = c.named(visits[i])
		}
		ps.AddError(origin.Position{File: name}, "", err)
	}
	if err := ps.Err(); err != nil {
		return c.fail(err)
	}
	setup, err := c.setup(args[0], visits...)
	if err != nil {
		return c.fail(err)
	}
	h, err := history.Compare(visits, setup)
	if err != nil {
		return c.fail(byFile(err, files))
	}
	code := exitDone
	if h.Drive.Stops() || c.strict && (h.NotJudged > 0 || h.Visits[len(h.Visits)-1].NotJudged > 0) {
		code = exitStop
	}
	switch c.as {
	case "json":
		data, err := json.MarshalIndent(h, "", "  ")
		if err != nil {
			return c.fail(err)
		}
		return worse(c.save(append(data, '\n')), code)
	case "html":
		var b bytes.Buffer
		if err := sheet.HistoryHTML(&b, h); err != nil {
			return c.fail(err)
		}
		return worse(c.savePage(b.Bytes()), code)
	}
	if c.as == "ics" {
		var b bytes.Buffer
		if err := sheet.Calendar(&b, h.Coach, h.Visits[len(h.Visits)-1].Date, h.Due()); err != nil {
			return c.fail(err)
		}
		return worse(c.saveExact(b.Bytes()), code)
	}
	return worse(c.save([]byte(sheet.HistoryText(h, c.textOptions("history -full")))), code)
}

// visitFiles puts the visit files of a folder in its place.
func (c *call) visitFiles(args []string) ([]string, error) {
	var out []string
	for _, name := range args {
		if !isFolder(name) {
			out = append(out, name)
			continue
		}
		c.reads(name, visitKinds[:])
		files, err := batch.Files(os.DirFS(name))
		if err != nil {
			return nil, err
		}
		if len(files) == 0 {
			return nil, fmt.Errorf("%s: no visit in it", name)
		}
		for _, file := range files {
			path := filepath.Join(name, file)
			if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
				return nil, fmt.Errorf("%s: no file, but a pipe or a device", path)
			}
			out = append(out, path)
		}
	}
	return out, nil
}

// byFile names the file where a problem counts the visits.
func byFile(err error, files []string) error {
	var many *origin.Problems
	if !errors.As(err, &many) {
		return err
	}
	var out origin.Problems
	for _, p := range many.All() {
		text := p.Err.Error()
		for i, file := range files {
			number := fmt.Sprintf("visits[%d]", i)
			if rest, ok := strings.CutPrefix(p.Path, number); ok {
				p.Position.File, p.Path = file, strings.TrimPrefix(rest, ".")
			}
			text = strings.ReplaceAll(text, number, file)
		}
		p.Err = errors.New(text)
		out.Add(p)
	}
	return out.Err()
}

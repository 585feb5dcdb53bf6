package main

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

func historyCommand() *command {
	return &command{
		name: "history", args: "VISIT ...", short: "visits of one coach: wear, leaks, loads, what is still open",
		help: "Reads the visit files of one coach, in any order, and prints what they say\ntogether: what was advised and is still open, the wear of each tire and when it\nmeets a limit at that pace, how much air each loses at one temperature, and\nwhich axle end grew heavier. A tire is followed by its full number.\n\nExample: axleend history -tables examples/demo examples/demo/history/spring.yaml examples/demo/history/summer.yaml examples/demo/history/autumn.yaml",
		run:  compareVisits,
		flags: func(c *call) {
			c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the first visit's own folder)")
			c.packFlags()
			c.asFlag()
			c.flags.BoolVar(&c.strict, "strict", false, "exit with 1 also when something was not judged")
		},
	}
}

func compareVisits(c *call, args []string) int {
	if len(args) == 0 {
		return c.misuse("history wants the visit files of one coach; axleend history -h shows how it is used")
	}
	visits := make([]*record.Visit, len(args))
	var ps origin.Problems
	for i, name := range args {
		data, err := c.read(name)
		if err == nil {
			visits[i], err = record.Read(name, data)
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
		return c.fail(byFile(err, args))
	}
	code := exitDone
	if h.Stops || c.strict && (h.NotJudged > 0 || h.Visits[len(h.Visits)-1].NotJudged > 0) {
		code = exitStop
	}
	if c.as == "json" {
		return worse(c.printJSON(h), code)
	}
	return worse(c.print(sheet.HistoryText(h)), code)
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

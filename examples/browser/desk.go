// Command browser writes a page of static files that takes down a whole visit on a
// phone or a laptop and judges it there, the library compiled to WebAssembly. Nothing
// is sent anywhere; after the first load no network is needed. Any web server will do:
//
//	go run ./examples/browser -to /tmp/page
//	python3 -m http.server -d /tmp/page
//
// The page helps trained people decide and does not say that a coach is safe.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
)

// A desk answers one page, with the tables that were handed to it.
type desk struct{ tables []*inflation.Table }

// ask answers in JSON: the answer, or the problems of a visit with their paths, or
// what else is wrong.
func (d *desk) ask(what, text string, columns int) string {
	var problems *origin.Problems
	answer, err := d.answer(what, text, columns)
	switch {
	case errors.As(err, &problems):
		answer = problems
	case err != nil:
		answer = map[string]string{"wrong": err.Error()}
	default:
		answer = map[string]any{"answer": answer}
	}
	data, err := json.Marshal(answer)
	if err != nil {
		return `{"wrong":"the answer is no JSON"}`
	}
	return string(data)
}

func (d *desk) answer(what, text string, columns int) (any, error) {
	switch {
	case what == "fields":
		return record.Fields(), nil
	case what == "open" && tablefile.IsTable([]byte(text)):
		table, err := tablefile.Read("table", []byte(text))
		if err != nil {
			return nil, err
		}
		tables := append(d.tables[:len(d.tables):len(d.tables)], table)
		if _, err = inflation.NewTables(tables...); err == nil {
			d.tables = tables
		}
		return map[string]string{"table": table.Name()}, err
	}
	visit, err := record.Read("visit", []byte(text))
	if err != nil {
		return nil, err
	}
	switch what {
	case "open":
		return map[string]any{"visit": visit}, nil
	case "places":
		return visit.Layout()
	case "next":
		return record.Next(visit, visit.Date), nil // the page puts in today
	case "file":
		data, err := record.Marshal(visit)
		return string(data), err
	}
	tables, err := inflation.NewTables(d.tables...)
	if err != nil {
		return nil, err
	}
	report, err := inspect.Assess(visit, inspect.Setup{Tables: tables})
	if err != nil {
		return nil, err
	}
	switch what {
	case "sheet":
		var page bytes.Buffer
		err := sheet.HTML(&page, report, sheet.HTMLOptions{Visit: visit})
		return page.String(), err
	case "report":
		return sheet.Text(report, sheet.TextOptions{Columns: columns, Full: true}), nil
	case "verdict":
		head, _, _ := strings.Cut(sheet.Text(report, sheet.TextOptions{Columns: 1 << 12}), "\n") // on one line
		return map[string]any{"head": head, "drive": report.Drive, "text": sheet.Text(report, sheet.TextOptions{Columns: columns})}, nil
	}
	return nil, fmt.Errorf("the page asks for %q, which is no answer of the library", what)
}

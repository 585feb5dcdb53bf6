// Command browser writes a page of static files on which a browser itself
// judges a visit, the library compiled to WebAssembly; nothing is sent
// anywhere. Any web server can hand the files out:
//
//	go run ./examples/browser -to /tmp/page
//	python3 -m http.server -d /tmp/page
//
// The page helps trained people decide and does not say that a coach is safe.
package main

import (
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

// judge gives the page for a visit as text; the error lists all that is wrong
// with it, by line and column.
func judge(visit string) (string, error) {
	v, err := record.Read("visit", []byte(visit))
	if err != nil {
		return "", err
	}
	report, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		return "", err
	}
	return sheet.Text(report, sheet.TextOptions{Full: true}), nil
}

package main

import (
	_ "embed"
	"fmt"
	"strings"
)

//go:embed equivalent.txt
var equivalentText string

// A reviewed mutant was looked at and changes nothing that could be seen.
type reviewed struct {
	key, file, reason string
	line              int
}

// readReviewed reads the list: lines of file, function, text, change and reason
// with a tab between them, empty lines, and comments.
func readReviewed(text string) (map[string]reviewed, error) {
	out := map[string]reviewed{}
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" || line[0] == '#' {
			continue
		}
		parts := strings.Split(line, "\t")
		if len(parts) != 5 || len(strings.Fields(parts[4])) < 3 {
			return nil, fmt.Errorf("equivalent.txt:%d: want file, function, text, change and a reason in words, with a tab between them", i+1)
		}
		r := reviewed{key: strings.Join(parts[:4], "\t"), file: parts[0], reason: parts[4], line: i + 1}
		if old, ok := out[r.key]; ok {
			return nil, fmt.Errorf("equivalent.txt:%d: stands in line %d already", r.line, old.line)
		}
		out[r.key] = r
	}
	return out, nil
}

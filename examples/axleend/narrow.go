package main

import (
	"strings"
	"unicode/utf8"
)

// The widths of a page of text: as pages are written, and the least that one is
// brought into.
const (
	fullColumns  = 80
	leastColumns = 40
)

// say prints a page of text that is written for 80 columns, as wide as the terminal.
func (c *call) say(text string) int { return c.print(c.narrowed(text)) }

// narrowed is a page of text as wide as the terminal.
func (c *call) narrowed(text string) string {
	return narrowed(text, max(pageColumns(c.page), leastColumns))
}

// narrowed brings a page of text that was written for 80 columns into fewer. Lines
// that went on because 80 were full are one again first. A word that is wider than a
// line stays whole: it may be the name of a file.
func narrowed(page string, columns int) string {
	if columns >= fullColumns {
		return page
	}
	var out strings.Builder
	lines := strings.SplitAfter(page, "\n")
	for i := 0; i < len(lines); i++ {
		line := strings.TrimSuffix(lines[i], "\n")
		text, last, hang := line, line, indent(line)+2
		for i+1 < len(lines) && goesOn(last, lines[i+1]) {
			i++
			last = strings.TrimSuffix(lines[i], "\n")
			hang = indent(last)
			text += " " + strings.TrimLeft(last, " ")
		}
		fold(&out, text, min(hang, columns/3), columns)
		if strings.HasSuffix(lines[i], "\n") {
			out.WriteByte('\n')
		}
	}
	return out.String()
}

// indent counts the spaces that a line begins with.
func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// goesOn reports whether a line is the rest of the one before: its first word found
// no room there.
func goesOn(line, next string) bool {
	words := strings.Fields(next)
	if len(words) == 0 || line == "" || words[0] == "-" || words[0] == "Example:" || isRule(next) || indent(next) < indent(line) {
		return false
	}
	return utf8.RuneCountInString(line)+1+utf8.RuneCountInString(words[0]) > fullColumns
}

// isRule reports whether a line is the rule under a title.
func isRule(line string) bool {
	line = strings.TrimSuffix(line, "\n")
	return line != "" && strings.Trim(line, "-") == ""
}

// fold writes a line in as many as it takes, those after the first behind a hanging
// indent. Only a line that is too long loses the blanks between its columns.
func fold(out *strings.Builder, line string, hang, columns int) {
	if utf8.RuneCountInString(line) <= columns {
		out.WriteString(line)
		return
	}
	if isRule(line) {
		out.WriteString(line[:columns])
		return
	}
	at := min(indent(line), columns/3)
	out.WriteString(strings.Repeat(" ", at))
	for i, word := range strings.Fields(line) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+n > columns:
			out.WriteString("\n" + strings.Repeat(" ", hang))
			at = hang
		default:
			out.WriteByte(' ')
			at++
		}
		out.WriteString(word)
		at += n
	}
}

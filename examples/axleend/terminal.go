package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"axleend.example/inspect/sheet"
)

// isTerminal reports whether somebody may be looking.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	_, ok = terminalColumns(f)
	return ok
}

// widest is how wide a page that is read in a file may be.
const widest = 80

// pageColumns is how wide a page of text is set: as COLUMNS says, else as wide as
// the terminal, and no wider than a page that is read in a file.
func pageColumns(out io.Writer) int { return min(listColumns(out), widest) }

// listColumns is how wide a list is set, a line for each thing: as wide as there is
// room.
func listColumns(out io.Writer) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return n
	}
	if f, ok := out.(*os.File); ok {
		if n, ok := terminalColumns(f); ok && n > 0 {
			return n
		}
	}
	return widest
}

// textOptions are those of a page that the command prints; the words are the
// command that prints the full one.
func (c *call) textOptions(words string) sheet.TextOptions {
	return sheet.TextOptions{Full: c.full, Columns: pageColumns(c.page), ReadOn: fmt.Sprintf("Read on: axleend %s, or -as html -o page.html to print.", words)}
}

// savePage writes an HTML page to the file asked for, or to what is no terminal.
func (c *call) savePage(page []byte) int {
	if c.file == "" && isTerminal(c.page) {
		return c.misuse("a page of HTML is not for a terminal: name a file with -o, such as -o page.html, and open it in a browser")
	}
	return c.save(page)
}

// saveExact saves bytes whose line ends mean what they are. A file gets all of them as
// they are; what else is no terminal may end at one, through a pipe.
func (c *call) saveExact(data []byte) int {
	if c.file != "" || isTerminal(c.page) {
		return c.save(bytes.ReplaceAll(data, []byte("\r\n"), []byte(lineEnd(c.file))))
	}
	lines := bytes.SplitAfter(data, []byte("\r\n"))
	for i, line := range lines {
		text, ended := bytes.CutSuffix(line, []byte("\r\n"))
		if lines[i] = clean(text); ended {
			lines[i] = append(slices.Clip(lines[i]), "\r\n"...)
		}
	}
	if _, err := c.page.Write(bytes.Join(lines, nil)); err != nil {
		return c.unwritten(err)
	}
	return exitDone
}

// lineEnd is that of a file, or that of a terminal.
func lineEnd(file string) string {
	if file == "" {
		return "\n"
	}
	return "\r\n"
}

// isFolder reports whether a name is that of a folder.
func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// ownFolder is the folder that a visit's tables are looked for in.
func ownFolder(name string) string {
	if isFolder(name) {
		return name
	}
	return filepath.Dir(name)
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"axleend.example/inspect/batch"
	"axleend.example/inspect/sheet"
)

// A shop takes the answers of a batch for a day's list and for each coach's sheet.
type shop struct {
	c      *call
	lists  bool
	folder string
	lines  []batch.Line
	file   string
	names  bool // whom to call is asked for
	// taken counts the visit files of each name, with its ending and without, in
	// small letters: many disks tell no others apart.
	taken map[string]int
}

// openShop makes the folder for sheets, and looks which names of the folder that is
// read differ in their endings alone.
func (c *call) openShop(f batchFlags, input string, folder bool) (s *shop, code int) {
	s = &shop{c: c, lists: c.as != "json", folder: f.sheets, file: f.out, names: f.names, taken: make(map[string]int)}
	if s.folder == "" {
		return s, exitDone
	}
	if folder {
		files, err := batch.Files(os.DirFS(input))
		if err != nil {
			return nil, c.fail(err)
		}
		for _, file := range files {
			s.taken[strings.ToLower(file)]++
			s.taken[strings.ToLower(bareName(file))]++
		}
	}
	if err := os.MkdirAll(s.folder, 0o777); err != nil {
		return nil, c.unwritten(err)
	}
	return s, exitDone
}

func bareName(file string) string { return strings.TrimSuffix(file, filepath.Ext(file)) }

// joins has each answer handed on where a list or sheets are wanted, and gives where
// lines of JSON go: nowhere, for a list.
func (s *shop) joins(opts *batch.Options) io.Writer {
	if s.lists || s.folder != "" {
		opts.Each = s.take
	}
	if s.lists {
		return nil
	}
	return s.c.out
}

// take keeps the line of a record and writes its sheet.
func (s *shop) take(a batch.Answer) error {
	a.Visit = s.c.named(a.Visit)
	line := batch.NewLine(a)
	if s.names && a.Visit != nil {
		line.Call = a.Visit.Names.Customer
	}
	if s.lists {
		s.lines = append(s.lines, line)
	}
	if s.folder == "" || a.Report == nil {
		return nil
	}
	var page bytes.Buffer
	if err := sheet.HTML(&page, *a.Report, sheet.HTMLOptions{OneSheet: true, Visit: a.Visit}); err != nil {
		return err
	}
	name := filepath.Join(s.folder, s.sheetName(&line)+".html")
	if err := writeFile(name, page.Bytes(), s.c.force); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%w: %s is there already; -force writes over it", batch.ErrWrite, name)
		}
		return fmt.Errorf("%w: %w", batch.ErrWrite, err)
	}
	return nil
}

// sheetName is a file name for a coach's sheet that no other record of the batch
// has: its file's own, with its ending where two files differ in nothing else, or
// its line and its name in plain letters.
func (s *shop) sheetName(l *batch.Line) string {
	if l.File != "" {
		if bare := bareName(l.File); s.taken[strings.ToLower(bare)] == 1 {
			return bare
		}
		return l.File
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%05d", l.Line)
	dash := true
	for _, r := range strings.ToLower(l.Coach) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if dash {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			dash = false
		} else {
			dash = true
		}
		if b.Len() > 60 {
			break
		}
	}
	return b.String()
}

// print writes the list, the worst first, as text or for a spreadsheet.
func (s *shop) print(res batch.Result) int {
	batch.SortLines(s.lines)
	var b bytes.Buffer
	var err error
	if s.c.as == "csv" {
		err = batch.WriteCSV(&b, s.lines)
	} else {
		_, err = io.WriteString(&b, sheet.List(s.lines, sheet.TextOptions{Columns: listColumns(s.c.page)}))
	}
	if err != nil {
		return s.c.fail(err)
	}
	s.c.file = s.file
	code := exitDone
	if res.Bad > 0 || len(s.lines) > 0 && s.lines[0].Drive.Stops() {
		code = exitStop
	}
	return worse(s.c.saveExact(b.Bytes()), code)
}

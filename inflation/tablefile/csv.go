package tablefile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// ErrCSV says that a file is not valid CSV, a stray quote for instance.
var ErrCSV = errors.New("not valid CSV")

const bom = "\xef\xbb\xbf"

// csvKeys are the keys of the header lines of a CSV table file.
var csvKeys = [...]string{"table", "name", "size", "class", "construction", "load_range", "caps", "minimum",
	"pressure_unit", "load_unit", "single", "dual", "source", "grade", "locator"}

// readCSV takes a table apart that was pasted from a spreadsheet: `key: value`
// lines, then the line of column names, then the rows; separated by commas,
// semicolons or tabs, whichever follows "pressure" or comes before it in the
// line of column names. A byte-order mark, empty lines, lines that start with
// # and empty cells at a line's end are passed over.
func readCSV(name string, data []byte, limit int) (*draft, error) {
	d := &draft{file: name, probs: new(origin.Problems), top: origin.Position{File: name, Line: 1, Column: 1},
		head: make(map[string]cell, 16), gradeKey: "grade", titleKey: "source"}
	if len(data) > limit {
		d.fail(d.cell(0, 0), strictyaml.CodeSize, fmt.Errorf("%w: %d bytes, at most %d are read", strictyaml.ErrSize, len(data), limit))
		return nil, d.probs.Err()
	}
	data = bytes.TrimPrefix(data, []byte(bom))
	lines := bytes.Split(data, []byte("\n"))
	if !d.csvText(lines) {
		return nil, d.probs.Err()
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separator(lines)
	r.Comment = '#'
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = r.Comma != '\t'
	columns := columns{lines: lines, count: utf8.RuneCount}
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			c := d.cell(0, 0)
			if pe, ok := errors.AsType[*csv.ParseError](err); ok {
				c, err = d.cell(pe.Line, columns.at(pe.Line, pe.Column)), pe.Err
			}
			d.fail(c, strictyaml.CodeSyntax, fmt.Errorf("%w: %w", ErrCSV, err))
			return nil, d.probs.Err()
		}
		cells := d.csvCells(record, r, &columns)
		if len(d.rows) == maxRows && len(cells) > 0 {
			d.fail(cells[0], strictyaml.CodeSize, fmt.Errorf("%w: more than %d rows", strictyaml.ErrSize, maxRows))
			return d, nil
		}
		d.csvLine(cells, r.Comma)
	}
	if d.cols == nil {
		d.fail(cell{pos: d.top, path: "columns"}, strictyaml.CodeMissing, fmt.Errorf("%w: the line of column names, such as pressure,single,dual", strictyaml.ErrMissing))
	}
	return d, nil
}

// cell is an empty one at a place of the file.
func (d *draft) cell(line, column int) cell {
	return cell{pos: origin.Position{File: d.file, Line: line, Column: column}}
}

// csvText reports whether the lines are text; the first byte that is none is a problem.
func (d *draft) csvText(lines [][]byte) bool {
	for i, line := range lines {
		for j := 0; j < len(line); {
			r, n := utf8.DecodeRune(line[j:])
			if r == utf8.RuneError && n == 1 || r < ' ' && r != '\t' && r != '\r' || r == 0x7f {
				d.fail(d.cell(i+1, utf8.RuneCount(line[:j])+1), strictyaml.CodeEncoding, fmt.Errorf("%w: byte 0x%02x; save the sheet as CSV in UTF-8", strictyaml.ErrEncoding, line[j]))
				return false
			}
			j += n
		}
	}
	return true
}

// csvCells places the cells of the line that was read last, without the empty ones at
// its end that are in no column; there are none of a line that is empty.
func (d *draft) csvCells(record []string, r *csv.Reader, columns *columns) []cell {
	cells := make([]cell, len(record))
	for i, text := range record {
		line, column := r.FieldPos(i)
		cells[i] = d.cell(line, columns.at(line, column))
		cells[i].text = strings.TrimSpace(text)
	}
	if !slices.ContainsFunc(cells, func(c cell) bool { return c.text != "" }) {
		return nil
	}
	for len(cells) > len(d.cols) && cells[len(cells)-1].text == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// csvLine takes in a line: of the head, of the column names, a row, or an empty one.
func (d *draft) csvLine(cells []cell, comma rune) {
	switch {
	case len(cells) == 0:
	case d.cols != nil:
		d.rows = append(d.rows, d.csvRow(cells))
	case slices.ContainsFunc(cells, func(c cell) bool { return strings.EqualFold(c.text, columnNames[pressureColumn]) }):
		d.cols = cells
	default:
		d.csvHead(cells, comma)
	}
}

// separator finds what stands beside "pressure" in the line of column names.
func separator(lines [][]byte) rune {
	for _, line := range lines {
		text := strings.ToLower(strings.TrimSpace(string(line)))
		if strings.Contains(text, ":") || !strings.Contains(text, columnNames[pressureColumn]) {
			continue
		}
		for _, sep := range ",;\t" {
			if strings.ContainsRune(text, sep) {
				return sep
			}
		}
	}
	return ','
}

// columns turns byte columns into those that count characters, from 1. Going
// along a line it looks at every byte once, however many cells there are.
type columns struct {
	lines [][]byte
	count func([]byte) int

	line, bytes, characters int // how far the last question went
}

func (c *columns) at(line, column int) int {
	if line < 1 || line > len(c.lines) {
		return 0
	}
	text := c.lines[line-1]
	to := min(max(column-1, 0), len(text))
	if line != c.line || to < c.bytes {
		c.line, c.bytes, c.characters = line, 0, 0
	}
	c.characters += c.count(text[c.bytes:to])
	c.bytes = to
	return c.characters + 1
}

// csvRow names each cell of a row by its column, for the problems.
func (d *draft) csvRow(cells []cell) rowCells {
	n := fmt.Sprintf("rows[%d]", len(d.rows))
	for i := range cells {
		cells[i].path = n
		if i < len(d.cols) {
			cells[i].path = n + "." + strictyaml.Clip(d.cols[i].text)
		}
	}
	return rowCells{cell{pos: cells[0].pos, path: n}, cells}
}

// csvHead reads one `key: value` line, which a spreadsheet may have cut into
// cells: they are put together again.
func (d *draft) csvHead(cells []cell, comma rune) {
	key, value, ok := strings.Cut(cells[0].text, ":")
	key = strings.ToLower(strings.TrimSpace(key))
	c := cells[0]
	if !ok {
		d.fail(c, strictyaml.CodeSyntax, fmt.Errorf("%w: want a line such as \"size: AX240/75R20\", or the line of column names", ErrCSV))
		return
	}
	c.path = key
	c.text = strings.TrimSpace(value)
	for _, more := range cells[1:] {
		if c.text == "" {
			c.text, c.pos = more.text, more.pos
			continue
		}
		c.text += string(comma) + " " + more.text
	}
	if !slices.Contains(csvKeys[:], key) {
		hint := ""
		if near := strictyaml.Nearest(key, csvKeys[:]); near != "" {
			hint = fmt.Sprintf(": did you mean %q?", near)
		}
		c.path = ""
		d.fail(c, strictyaml.CodeUnknown, fmt.Errorf("%w %q%s", strictyaml.ErrUnknown, strictyaml.Clip(key), hint))
		return
	}
	if first, twice := d.head[key]; twice {
		d.fail(c, strictyaml.CodeDuplicate, fmt.Errorf("%w %q, first on line %d", strictyaml.ErrDuplicate, key, first.pos.Line))
		return
	}
	if c.text == "" {
		d.fail(c, strictyaml.CodeForbidden, fmt.Errorf("%w: an empty value; leave the line out if there is nothing to say", strictyaml.ErrForbidden))
		return
	}
	if key != "caps" {
		d.head[key] = c
		return
	}
	d.head[key] = c // so that a second one is noticed
	for _, part := range strings.FieldsFunc(c.text, func(r rune) bool { return r == ',' || r == ';' }) {
		lr, p, _ := strings.Cut(strings.TrimSpace(part), " ")
		one, two := c, c
		one.text, two.text = lr, strings.TrimSpace(p)
		d.caps = append(d.caps, capCell{one, two})
	}
}

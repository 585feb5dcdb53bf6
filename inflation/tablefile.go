package inflation

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// TableVersion is the version of the table format, the value of its first
// key.
const TableVersion = 1

// DefaultTableSize is how many bytes of a table file are read unless a
// [Loader] says otherwise.
const DefaultTableSize = 64 << 10

// maxTableRows is more than any published table has.
const maxTableRows = 200

// Sentinel causes of a table that is refused, beside those of the values.
var (
	// ErrOrder says that pressures or loads do not rise from row to row, or
	// that the loads rise faster than any tire's.
	ErrOrder = errors.New("rows out of order")
	// ErrBasis says that the dual loads cannot be on the basis stated.
	ErrBasis = errors.New("wrong basis")
	// ErrTable says that a table's parts contradict each other.
	ErrTable = errors.New("contradiction in the table")
)

// Codes of the problems that are the table's own; those of its shape are the
// same for every file that this library reads.
const (
	CodeOrder = "order"
	CodeBasis = "basis"
	CodeTable = "table"
)

// A Loader reads table files. The zero Loader reads at most
// [DefaultTableSize] of each.
type Loader struct {
	// MaxBytes is the most that is read of one file; 0 is the default.
	MaxBytes int
}

// LoadTable reads one table file with the default [Loader].
func LoadTable(name string, data []byte) (*Table, error) { return Loader{}.Load(name, data) }

// LoadTables reads the table files of a folder with the default [Loader].
func LoadTables(fsys fs.FS) (Tables, error) { return Loader{}.LoadFolder(fsys) }

func (l Loader) limit() int {
	if l.MaxBytes > 0 {
		return l.MaxBytes
	}
	return DefaultTableSize
}

// Load reads one table file: CSV if its name ends in .csv, else YAML. Both say
// the same; the package comment shows them. Nothing is converted: the figures
// stay as printed, in the units and on the basis that the file names. The
// error is an [*origin.Problems] with everything that is wrong, each with line
// and column; a table with a problem is refused whole.
//
// Refused are: a missing name, size, unit, basis, column or source; a class
// that neither the file nor the size tells; pressures or loads that do not
// rise from row to row, or loads that rise faster than the pressure; a dual
// load above the single one per tire, or below 60 % of it, both of which tell
// of a wrong basis; a cap or minimum that is not on a row.
func (l Loader) Load(name string, data []byte) (*Table, error) {
	var d *draft
	var err error
	if isCSV(name) {
		d, err = readCSV(name, data, l.limit())
	} else {
		d, err = readYAML(name, data, l.limit())
	}
	if err != nil {
		return nil, err
	}
	t := d.table()
	if err := d.probs.Err(); err != nil {
		return nil, err
	}
	return t, nil
}

func isCSV(name string) bool { return strings.EqualFold(path.Ext(name), ".csv") }

// LoadFolder reads every *.yaml, *.yml and *.csv file directly in the folder
// that declares itself a table, by "table:" as its first key; the others, such
// as a visit in the same folder, are skipped and listed in [Tables.Skipped].
// The error is an [*origin.Problems] over all files; two tables of one name
// are a problem too.
func (l Loader) LoadFolder(fsys fs.FS) (Tables, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return Tables{}, err
	}
	var probs origin.Problems
	var tables []*Table
	var skipped []string
	for _, e := range entries {
		name := e.Name()
		switch strings.ToLower(path.Ext(name)) {
		case ".yaml", ".yml", ".csv":
		default:
			continue
		}
		if e.IsDir() {
			continue
		}
		data, declared, err := readTableFile(fsys, name, l.limit())
		pos := origin.Position{File: name}
		switch {
		case err != nil:
			probs.AddError(pos, "read", err)
			continue
		case !declared:
			skipped = append(skipped, name)
			continue
		}
		t, err := l.Load(name, data)
		if err != nil {
			probs.AddError(pos, CodeTable, err)
			continue
		}
		for _, u := range tables {
			if strings.EqualFold(u.name, t.name) {
				probs.Add(origin.Problem{Position: pos, Path: "name", Code: strictyaml.CodeDuplicate,
					Err: fmt.Errorf("%w: %q is in %s already", ErrName, strictyaml.Clip(t.name), u.file)})
			}
		}
		tables = append(tables, t)
	}
	if err := probs.Err(); err != nil {
		return Tables{}, err
	}
	ts, err := NewTables(tables...)
	ts.skipped = skipped
	return ts, err
}

// sniffLength is how far into a file its first key is looked for.
const sniffLength = 4 << 10

// readTableFile reads a file that declares itself a table, to one byte more
// than the limit, and only the start of any other.
func readTableFile(fsys fs.FS, name string, limit int) (data []byte, declared bool, err error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, false, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if data, err = io.ReadAll(io.LimitReader(f, sniffLength)); err != nil || !IsTable(data) {
		return nil, false, err
	}
	rest, err := io.ReadAll(io.LimitReader(f, max(int64(limit)+1-int64(len(data)), 0)))
	return append(data, rest...), true, err
}

// IsTable reports whether a file that starts with data declares itself a table:
// its first line that is neither empty nor a comment is the key "table". A
// folder may hold other files beside its tables, such as visits.
func IsTable(data []byte) bool {
	for line := range strings.Lines(strings.TrimPrefix(string(data), bom)) {
		line = strings.TrimLeft(strings.TrimSpace(line), `"{ `)
		if line == "" || line[0] == '#' || line == "---" {
			continue
		}
		rest, ok := strings.CutPrefix(line, "table")
		rest = strings.TrimLeft(rest, `" `)
		return ok && strings.HasPrefix(rest, ":")
	}
	return false
}

// A cell is a text of a file with its place.
type cell struct {
	text string
	pos  origin.Position
	path string
}

// A draft is a table file taken apart, from either format: texts with their
// places, nothing judged yet.
type draft struct {
	file  string
	probs *origin.Problems
	top   origin.Position
	head  map[string]cell // by key; absent keys are not there
	// What the two parts of a source are called in this format.
	gradeKey, titleKey string
	caps               []capCell
	cols               []cell
	rows               []rowCells
}

type capCell struct{ loadRange, max cell }

type rowCells struct {
	cell
	cells []cell
}

func (d *draft) fail(c cell, code string, err error) {
	d.probs.Add(origin.Problem{Position: c.pos, Path: c.path, Code: code, Err: err})
}

// tableKeys are the keys of a YAML table file.
var tableKeys = [...]string{"table", "name", "size", "class", "construction", "load_range", "caps", "minimum",
	"pressure_unit", "load_unit", "single", "dual", "source", "columns", "rows"}

func readYAML(name string, data []byte, limit int) (*draft, error) {
	doc, err := strictyaml.Parse(name, data, limit)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	d := &draft{file: name, probs: &doc.Probs, top: root.Pos(), head: make(map[string]cell, 16), gradeKey: "source.grade", titleKey: "source.title"}
	m := root.Map(tableKeys[:]...)
	for _, key := range tableKeys[:12] {
		if key != "caps" {
			d.put(key, m.Get(key))
		}
	}
	for _, p := range m.Get("caps").Pairs() {
		c := capCell{loadRange: cell{p.Name, p.Key.Pos(), p.Value.Path()}}
		if text, ok := p.Value.Text(); ok {
			c.max = cell{text, p.Value.Pos(), p.Value.Path()}
			d.caps = append(d.caps, c)
		}
	}
	source := m.Get("source").Map("grade", "title", "locator")
	d.put("grade", source.Get("grade"))
	d.put("source", source.Get("title"))
	d.put("locator", source.Get("locator"))
	columns := m.Need("columns")
	if columns.IsList() && len(columns.List()) == 0 {
		columns.Fail(strictyaml.CodeMissing, fmt.Errorf("%w: want pressure and one or both of single, dual", strictyaml.ErrMissing))
	}
	d.cols = texts(columns)
	rows := m.Need("rows").List()
	if len(rows) > maxTableRows {
		rows[maxTableRows].Fail(strictyaml.CodeSize, fmt.Errorf("%w: more than %d rows", strictyaml.ErrSize, maxTableRows))
		rows = rows[:maxTableRows]
	}
	for _, r := range rows {
		d.rows = append(d.rows, rowCells{cell{pos: r.Pos(), path: r.Path()}, texts(r)})
	}
	return d, nil
}

func (d *draft) put(key string, n strictyaml.Node) {
	if text, ok := n.Text(); ok {
		d.head[key] = cell{text, n.Pos(), n.Path()}
	}
}

func texts(list strictyaml.Node) []cell {
	var out []cell
	for _, n := range list.List() {
		text, _ := n.Text()
		out = append(out, cell{text, n.Pos(), n.Path()})
	}
	return out
}

// need returns the cell of a key that must be there.
func (d *draft) need(key string) (cell, bool) {
	c, ok := d.head[key]
	if !ok {
		d.fail(cell{pos: d.top, path: key}, strictyaml.CodeMissing, strictyaml.ErrMissing)
	}
	return c, ok
}

// parsed gives the value of a key's cell, or reports what is wrong with it.
func parsed[T any](d *draft, c cell, parse func(string) (T, error)) (T, bool) {
	v, err := parse(strings.TrimSpace(c.text))
	if err != nil {
		d.fail(c, strictyaml.CodeValue, err)
		return v, false
	}
	return v, true
}

func checkVersion(text string) (int, error) {
	if text != strconv.Itoa(TableVersion) {
		return 0, fmt.Errorf("version %q of the table format: %w: want %d; a newer file needs a newer program", strictyaml.Clip(text), ErrInput, TableVersion)
	}
	return TableVersion, nil
}

// plainLine takes a name or title: not empty, not too long.
func plainLine(most int) func(string) (string, error) {
	return func(text string) (string, error) {
		if text == "" || len(text) > most || strings.ContainsAny(text, "\n\r\t") {
			return "", fmt.Errorf("%q: %w: want one line of 1 to %d bytes", strictyaml.Clip(text), ErrInput, most)
		}
		return text, nil
	}
}

func parsePressureUnit(text string) (Pressure, error) {
	switch text {
	case "psi":
		return PSI, nil
	case "kPa":
		return Kilopascal, nil
	case "bar":
		return Bar, nil
	}
	return 0, fmt.Errorf("%w %q for the unit of pressure: want one of psi, kPa, bar", ErrWord, strictyaml.Clip(text))
}

func parseLoadUnit(text string) (weight.Mass, error) {
	switch text {
	case "lb":
		return weight.Pound, nil
	case "kg":
		return weight.Kilogram, nil
	}
	return 0, fmt.Errorf("%w %q for the unit of load: want one of lb, kg", ErrWord, strictyaml.Clip(text))
}

// withUnit lets a number stand in the file's own unit.
func withUnit[T any](unit string, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		if n := len(text); n > 0 && isDigit(text[n-1]) {
			text += " " + unit
		}
		return parse(text)
	}
}

// table judges the draft. What it returns is whole only if there is no problem.
func (d *draft) table() *Table {
	t := &Table{file: d.file}
	if c, ok := d.need("table"); ok {
		parsed(d, c, checkVersion)
	}
	if c, ok := d.need("name"); ok {
		t.name, _ = parsed(d, c, plainLine(100))
	}
	d.size(t)
	d.source(t)
	pressures, loads := ParsePressure, weight.ParseMass
	unitsKnown := true
	if c, ok := d.need("pressure_unit"); ok {
		t.pressureUnit, ok = parsed(d, c, parsePressureUnit)
		pressures, unitsKnown = withUnit(c.text, ParsePressure), ok
	} else {
		unitsKnown = false
	}
	if c, ok := d.need("load_unit"); ok {
		t.loadUnit, ok = parsed(d, c, parseLoadUnit)
		loads, unitsKnown = withUnit(c.text, weight.ParseMass), unitsKnown && ok
	} else {
		unitsKnown = false
	}
	for _, f := range [...]struct {
		key string
		col *column
	}{{"single", &t.single}, {"dual", &t.dual}} {
		if c, ok := d.head[f.key]; ok {
			f.col.basis, _ = parsed(d, c, ParseBasis)
		}
	}
	t.grid = t.System().MassGrid()
	order, ok := d.columns()
	if !unitsKnown || !ok {
		return t // every figure would be a problem of its own
	}
	grid := d.figures(t, order, pressures, loads)
	d.checkRows(t, grid)
	d.limits(t, grid, pressures)
	return t
}

func (d *draft) size(t *Table) {
	var class Class
	var construction Construction
	sized, open := false, false // open: a metric size without a prefix may be a commercial one
	if c, ok := d.need("size"); ok {
		if t.size, sized = parsed(d, c, plainLine(40)); sized {
			t.key = NormalizeSize(t.size)
			if s, err := ParseSize(t.size); err == nil {
				class, construction = s.Class(), s.Construction()
				open = class == Passenger && s.prefix == ""
			}
		}
	}
	if c, ok := d.head["class"]; ok {
		if t.class, ok = parsed(d, c, ParseClass); ok && class != 0 && class != t.class && !(open && t.class == LightTruck) {
			d.fail(c, CodeTable, fmt.Errorf("class %s, but size %q is a %s size: %w", t.class, strictyaml.Clip(t.size), class, ErrTable))
		}
	} else if t.class = class; class == 0 && sized {
		d.fail(cell{pos: d.top, path: "class"}, strictyaml.CodeMissing,
			fmt.Errorf("%w: size %q does not tell the class: want one of %s", strictyaml.ErrMissing, strictyaml.Clip(t.size), strings.Join(classWords[1:], ", ")))
	}
	if c, ok := d.head["construction"]; ok {
		if t.construction, ok = parsed(d, c, ParseConstruction); ok && construction != 0 && construction != t.construction {
			d.fail(c, CodeTable, fmt.Errorf("construction %s, but size %q says %s: %w", t.construction, strictyaml.Clip(t.size), construction, ErrTable))
		}
	} else {
		t.construction = construction
	}
}

func (d *draft) source(t *Table) {
	c, ok := d.head["grade"]
	if !ok {
		d.fail(cell{pos: d.top, path: d.gradeKey}, strictyaml.CodeMissing, fmt.Errorf("%w: say where the figures come from", origin.ErrSource))
		return
	}
	if t.source.Grade, ok = parsed(d, c, origin.ParseGrade); !ok {
		return
	}
	if c, ok := d.head["source"]; ok {
		t.source.Title, _ = parsed(d, c, plainLine(200))
	}
	if c, ok := d.head["locator"]; ok {
		t.source.Locator, _ = parsed(d, c, plainLine(200))
	}
	if err := t.source.Check(); err != nil {
		d.fail(cell{pos: d.top, path: d.titleKey}, strictyaml.CodeMissing, err)
	}
}

// The columns a table can have, and what stands in each of a row's cells.
const (
	pressureColumn = iota
	singleColumn
	dualColumn
)

var columnNames = [...]string{"pressure", "single", "dual"}

// columns finds out which cell of a row is what.
func (d *draft) columns() (order []int, ok bool) {
	ok = true
	var seen [3]bool
	for _, c := range d.cols {
		at := -1
		for i, name := range columnNames {
			if strings.EqualFold(strings.TrimSpace(c.text), name) {
				at = i
			}
		}
		switch {
		case at < 0:
			ok = false
			d.fail(c, strictyaml.CodeValue, fmt.Errorf("%w %q for a column: want pressure and one or both of single, dual", ErrWord, strictyaml.Clip(c.text)))
			continue
		case seen[at]:
			ok = false
			d.fail(c, strictyaml.CodeDuplicate, fmt.Errorf("%w: column %s", strictyaml.ErrDuplicate, columnNames[at]))
			continue
		}
		seen[at] = true
		order = append(order, at)
	}
	if len(d.cols) > 0 && ok && (!seen[pressureColumn] || !seen[singleColumn] && !seen[dualColumn]) {
		ok = false
		d.fail(d.cols[0], strictyaml.CodeMissing, fmt.Errorf("%w column: want pressure and one or both of single, dual", strictyaml.ErrMissing))
	}
	for _, at := range [...]int{singleColumn, dualColumn} {
		key := columnNames[at]
		c, stated := d.head[key]
		switch {
		case seen[at] && !stated:
			d.fail(cell{pos: d.top, path: key}, strictyaml.CodeMissing,
				fmt.Errorf(`%w: the basis of the %s loads: want "per tire", "per end" (a pair) or "per axle", as the table is headed`, strictyaml.ErrMissing, key))
		case stated && !seen[at] && len(d.cols) > 0:
			d.fail(c, CodeTable, fmt.Errorf("a basis for %s loads, but no such column: %w", key, ErrTable))
		}
	}
	return order, ok && len(d.cols) > 0
}

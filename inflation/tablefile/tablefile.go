package tablefile

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"axleend.example/inflation"
	"axleend.example/internal/problem"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Version is the version of the table format, the value of its first key.
const Version = 1

// DefaultSize is how many bytes of a table file are read unless a [Loader]
// says otherwise.
const DefaultSize = 64 << 10

// maxRows is how many rows a table may have, as [inflation.NewTable] says.
const maxRows = 200

// A Loader reads table files. The zero Loader reads at most
// [DefaultSize] of each.
type Loader struct {
	// MaxBytes is the most that is read of one file; 0 is the default.
	MaxBytes int
}

// Read reads one table file with the default [Loader].
func Read(name string, data []byte) (*inflation.Table, error) { return Loader{}.Read(name, data) }

// LoadFolder reads the table files of a folder with the default [Loader].
func LoadFolder(fsys fs.FS) (inflation.Tables, error) { return Loader{}.LoadFolder(fsys) }

func (l Loader) limit() int {
	if l.MaxBytes > 0 {
		return l.MaxBytes
	}
	return DefaultSize
}

// Read reads one table file: CSV if its name ends in .csv, else YAML. Both say
// the same; the package comment shows them. Nothing is converted: the figures
// stay as printed, in the units and on the basis that the file names. The
// error is an [*origin.Problems] with everything that is wrong, each with line
// and column; a table with a problem is refused whole. Refused is what
// [inflation.NewTable] refuses, and what cannot be read.
func (l Loader) Read(name string, data []byte) (*inflation.Table, error) {
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
// as a visit in the same folder, are skipped and listed in [inflation.Tables.Skipped],
// and so is what is no regular file, which is not opened.
// The error is an [*origin.Problems] over all files; two tables of one name
// are a problem too. Beside it come the tables that have none: a size that one
// of them is for does not depend on the others.
func (l Loader) LoadFolder(fsys fs.FS) (inflation.Tables, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return inflation.Tables{}, err
	}
	var probs origin.Problems
	var tables []*inflation.Table
	var skipped []string
	twice := map[int]bool{} // tables of a name that another one has
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
		case err != nil && !errors.Is(err, strictyaml.ErrNoFile):
			probs.AddError(pos, "read", err)
			continue
		case !declared:
			skipped = append(skipped, name)
			continue
		}
		t, err := l.Read(name, data)
		if err != nil {
			probs.AddError(pos, problem.CodeTable, err)
			continue
		}
		for i, u := range tables {
			if strings.EqualFold(u.Name(), t.Name()) {
				twice[i], twice[len(tables)] = true, true
				probs.Add(origin.Problem{Position: pos, Path: "name", Code: strictyaml.CodeDuplicate,
					Err: fmt.Errorf("%w: %q is in %s already", inflation.ErrName, strictyaml.Clip(t.Name()), u.File())})
			}
		}
		tables = append(tables, t)
	}
	whole := tables[:0]
	for i, t := range tables {
		if !twice[i] {
			whole = append(whole, t)
		}
	}
	ts, err := inflation.NewTables(whole...)
	return ts.WithSkipped(skipped), cmp.Or(probs.Err(), err)
}

// sniffLength is how far into a file its first key is looked for.
const sniffLength = 4 << 10

// readTableFile reads a file that declares itself a table, to one byte more
// than the limit, and only the start of any other.
func readTableFile(fsys fs.FS, name string, limit int) (data []byte, declared bool, err error) {
	f, err := strictyaml.Open(fsys, name)
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
	// at is where the fields of an inflation.TableData stand, by their paths;
	// bad are those of which a problem is told already.
	at  map[string]cell
	bad map[string]bool
}

type capCell struct{ loadRange, max cell }

type rowCells struct {
	cell
	cells []cell
}

func (d *draft) fail(c cell, code string, err error) {
	if !strings.Contains(c.path, "[") { // rows are counted otherwise in an inflation.TableData
		d.spoil(c.path)
	}
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
	if len(rows) > maxRows {
		rows[maxRows].Fail(strictyaml.CodeSize, fmt.Errorf("%w: more than %d rows", strictyaml.ErrSize, maxRows))
		rows = rows[:maxRows]
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
	if text != strconv.Itoa(Version) {
		return 0, fmt.Errorf("version %q of the table format: %w: want %d; a newer file needs a newer program", strictyaml.Clip(text), inflation.ErrInput, Version)
	}
	return Version, nil
}

func parsePressureUnit(text string) (inflation.Pressure, error) {
	switch text {
	case "psi":
		return inflation.PSI, nil
	case "kPa":
		return inflation.Kilopascal, nil
	case "bar":
		return inflation.Bar, nil
	}
	return 0, fmt.Errorf("%w %q for the unit of pressure: want one of psi, kPa, bar", inflation.ErrWord, strictyaml.Clip(text))
}

func parseLoadUnit(text string) (weight.Mass, error) {
	switch text {
	case "lb":
		return weight.Pound, nil
	case "kg":
		return weight.Kilogram, nil
	}
	return 0, fmt.Errorf("%w %q for the unit of load: want one of lb, kg", inflation.ErrWord, strictyaml.Clip(text))
}

// withUnit lets a number stand in the file's own unit.
func withUnit[T any](unit string, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		if n := len(text); n > 0 && '0' <= text[n-1] && text[n-1] <= '9' {
			text += " " + unit
		}
		return parse(text)
	}
}

// spoil says that a field's problem is told.
func (d *draft) spoil(path string) {
	if d.bad == nil {
		d.bad = map[string]bool{}
	}
	d.bad[path] = true
}

// table reads the draft's figures and has them checked. The table is whole
// only if there is no problem.
func (d *draft) table() *inflation.Table {
	data := inflation.TableData{File: d.file}
	d.at = make(map[string]cell, len(d.head)+3*len(d.rows))
	if c, ok := d.need("table"); ok {
		parsed(d, c, checkVersion)
	}
	for _, f := range [...]struct {
		key string
		to  *string
	}{{"name", &data.Name}, {"size", &data.Size}} {
		if c, ok := d.need(f.key); ok {
			*f.to = strings.TrimSpace(c.text)
			d.at[f.key] = c
		}
	}
	d.at["class"] = cell{pos: d.top, path: "class"}
	read(d, "class", &data.Class, inflation.ParseClass)
	read(d, "construction", &data.Construction, inflation.ParseConstruction)
	d.source(&data)
	pressures, pressureUnit := unit(d, "pressure_unit", &data.PressureUnit, parsePressureUnit, inflation.ParsePressure)
	loads, loadUnit := unit(d, "load_unit", &data.LoadUnit, parseLoadUnit, weight.ParseMass)
	read(d, "single", &data.Single, inflation.ParseLoadPer)
	read(d, "dual", &data.Dual, inflation.ParseLoadPer)
	order, ok := d.columns()
	if pressureUnit && loadUnit && ok { // else every figure would be a problem of its own
		d.figures(&data, order, pressures, loads)
		if len(data.Rows) > 0 {
			d.limits(&data, pressures)
		}
	} else {
		for _, path := range [...]string{"rows", "single", "dual"} {
			d.spoil(path)
		}
	}
	t, err := inflation.NewTable(data)
	var found *origin.Problems
	if errors.As(err, &found) {
		d.placeAll(found)
	}
	return t
}

// unit reads the unit that figures are in, and gives what reads them; known is false
// where the file does not say it.
func unit[T any](d *draft, key string, to *T, parseUnit, parse func(string) (T, error)) (figures func(string) (T, error), known bool) {
	c, ok := d.need(key)
	if !ok {
		return parse, false
	}
	*to, known = parsed(d, c, parseUnit)
	return withUnit(c.text, parse), known
}

// read gives a field the value of a key, if it is there.
func read[T any](d *draft, key string, to *T, parse func(string) (T, error)) {
	if c, ok := d.head[key]; ok {
		d.at[key] = c
		*to, _ = parsed(d, c, parse)
	}
}

// placeAll tells the problems of the table, and counts those beyond what it lists.
func (d *draft) placeAll(found *origin.Problems) {
	for _, p := range found.All() {
		d.place(p)
	}
	for n := found.More(); n > 0 && d.probs.Len() >= origin.MaxProblems; n-- {
		d.probs.Add(origin.Problem{}) // counted
	}
}

// place tells a problem of the table where it stands in the file. What is left
// of a field that could not be read is no problem of its own.
func (d *draft) place(p origin.Problem) {
	if d.bad[p.Path] {
		return
	}
	c, ok := d.at[p.Path]
	if !ok {
		c = cell{pos: d.top, path: p.Path}
	}
	d.probs.Add(origin.Problem{Position: c.pos, Path: c.path, Code: p.Code, Err: p.Err})
}

func (d *draft) source(data *inflation.TableData) {
	c, ok := d.head["grade"]
	if !ok {
		d.fail(cell{pos: d.top, path: d.gradeKey}, strictyaml.CodeMissing, fmt.Errorf("%w: say where the figures come from", origin.ErrSource))
		d.spoil("source")
		return
	}
	if data.Source.Grade, ok = parsed(d, c, origin.ParseGrade); !ok {
		d.spoil("source")
		return
	}
	for _, f := range [...]struct {
		key, path string
		to        *string
	}{{"source", "source.title", &data.Source.Title}, {"locator", "source.locator", &data.Source.Locator}} {
		c, ok := d.head[f.key]
		if !ok {
			continue
		}
		d.at[f.path] = c
		if *f.to = strings.TrimSpace(c.text); *f.to == "" {
			d.fail(c, strictyaml.CodeValue, fmt.Errorf("%q: %w: want one line of 1 to 200 bytes", "", inflation.ErrInput))
		}
	}
	d.at["source"] = cell{pos: d.top, path: d.titleKey}
}

// figures reads the cells of all rows. A row that cannot be read is left out.
func (d *draft) figures(data *inflation.TableData, order []int, pressures func(string) (inflation.Pressure, error), loads func(string) (weight.Mass, error)) {
	if len(d.rows) > 0 {
		d.spoil("rows") // the problems of rows that cannot be read are told
	} else {
		d.at["rows"] = cell{pos: d.top, path: "rows"}
	}
	for _, r := range d.rows {
		if len(r.cells) != len(order) {
			d.fail(r.cell, strictyaml.CodeShape, fmt.Errorf("%w: %d figures in the row, want %d, one for each column; leave thousands commas out, write none where the table has no figure",
				strictyaml.ErrShape, len(r.cells), len(order)))
			continue
		}
		var row inflation.PrintedRow
		into := [...]*weight.Mass{singleColumn: &row.Single, dualColumn: &row.Dual}
		whole := true
		for i, c := range r.cells {
			at := order[i]
			d.at[fmt.Sprintf("rows[%d].%s", len(data.Rows), columnNames[at])] = c
			switch text := strings.TrimSpace(c.text); {
			case at == pressureColumn:
				var ok bool
				row.Pressure, ok = parsed(d, c, pressures)
				whole = whole && ok
			case text == "" || text == "-" || text == "–" || strings.EqualFold(text, "none"):
			default:
				load, ok := parsed(d, c, loads)
				if ok && load == 0 {
					d.fail(c, strictyaml.CodeValue, fmt.Errorf("%s: %w: want a load above 0", load, inflation.ErrInput))
					ok = false
				}
				*into[at] = load
				whole = whole && ok
			}
		}
		if whole {
			data.Rows = append(data.Rows, row)
		}
	}
}

// limits reads the caps and the minimum.
func (d *draft) limits(data *inflation.TableData, pressures func(string) (inflation.Pressure, error)) {
	if c, ok := d.head["load_range"]; ok {
		if len(d.caps) > 0 {
			d.fail(c, problem.CodeTable, fmt.Errorf("both load_range and caps: want load_range if all rows are for one, else caps: %w", inflation.ErrTable))
		}
		if lr, ok := parsed(d, c, inflation.ParseLoadRange); ok {
			data.Caps = append(data.Caps, inflation.RangeCap{LoadRange: lr})
		}
	}
	for _, c := range d.caps {
		lr, ok1 := parsed(d, c.loadRange, inflation.ParseLoadRange)
		p, ok2 := parsed(d, c.max, pressures)
		if !ok1 || !ok2 {
			continue
		}
		path := fmt.Sprintf("caps[%d]", len(data.Caps))
		d.at[path+".load_range"], d.at[path+".max"] = c.loadRange, c.max
		data.Caps = append(data.Caps, inflation.RangeCap{LoadRange: lr, Max: p})
	}
	read(d, "minimum", &data.Minimum, pressures)
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
			d.fail(c, strictyaml.CodeValue, fmt.Errorf("%w %q for a column: want pressure and one or both of single, dual", inflation.ErrWord, strictyaml.Clip(c.text)))
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
			d.fail(c, problem.CodeTable, fmt.Errorf("a basis for %s loads, but no such column: %w", key, inflation.ErrTable))
		}
	}
	return order, ok && len(d.cols) > 0
}

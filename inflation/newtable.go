package inflation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/problem"
	"axleend.example/internal/quantity"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Sentinel causes of a table that is refused, beside those of the values.
var (
	// ErrOrder says that pressures or loads do not rise from row to row, or
	// that the loads rise faster than any tire's.
	ErrOrder = errors.New("rows out of order")
	// ErrLoadPer says that the dual loads cannot be on the basis stated.
	ErrLoadPer = errors.New("wrong basis")
	// ErrTable says that a table's parts contradict each other.
	ErrTable = errors.New("contradiction in the table")
)

// maxTableRows is more than any published table has.
const maxTableRows = 200

// A TableData is a load and inflation table in figures as it is printed:
// [NewTable] makes a [Table] of it.
type TableData struct {
	// Name is what answers call the table: one line of 1 to 100 bytes.
	Name string
	// File is where it was read from, if that was a file.
	File string
	// Size is the size designation: one line of 1 to 40 bytes.
	Size string
	// Class is that of the tires; zero is what the size says. A size that does
	// not tell it needs one.
	Class Class
	// Construction is how the plies run; zero is what the size says.
	Construction Construction
	// Source is where the figures come from, checked by [origin.Source.Check].
	Source origin.Source
	// PressureUnit is PSI, Kilopascal or Bar, as printed.
	PressureUnit Pressure
	// LoadUnit is Pound or Kilogram, as printed.
	LoadUnit weight.Mass
	// Single and Dual say what the loads of that column count; zero says that
	// there is no such column.
	Single, Dual LoadPer
	// Rows are the rows as printed, pressures rising, at most 200.
	Rows []PrintedRow
	// Caps are the load ranges that the table serves. None serves every load
	// range to the last row.
	Caps []RangeCap
	// Minimum is the lowest row that may be used; 0 is the first.
	Minimum Pressure
}

// A PrintedRow is a row of a table: a cold pressure and the loads printed for
// it, on the basis of their column; 0 where the table has no figure.
type PrintedRow struct {
	// Pressure is the cold pressure of the row.
	Pressure Pressure
	// Single and Dual are the loads printed for it; 0 is none.
	Single, Dual weight.Mass
}

// A RangeCap is the highest row that a load range allows; a Max of 0 is the
// last row.
type RangeCap struct {
	// LoadRange is the load range.
	LoadRange LoadRange
	// Max is the pressure of its highest row; 0 is the last.
	Max Pressure
}

// The columns of a row.
const (
	singleColumn = iota
	dualColumn
)

var columnNames = [...]string{"single", "dual"}

// A tableCheck is a table while it is checked.
type tableCheck struct {
	data  *TableData
	table *Table
	probs origin.Problems
	rows  []checkedRow // those whose figures can be
}

// A checkedRow is one row, its loads on one tire.
type checkedRow struct {
	at       int // in TableData.Rows
	pressure Pressure
	load     [2]weight.Mass // 0 for none
}

// NewTable makes a table of figures. Nothing is converted or rounded. The
// error is an [*origin.Problems] with everything that is wrong, each with the
// path of its field ("rows[3].dual", counted from 0); a table with a problem
// is refused whole.
//
// Refused are: a missing name, size, unit, basis or source; a class that
// neither the data nor the size tells; pressures or loads that do not rise from
// row to row, or loads that rise faster than the pressure; a dual load above
// the single one per tire, or below 60 % of it, which both point to a wrong
// basis; a cap or minimum that is not on a row.
func NewTable(data TableData) (*Table, error) {
	c := tableCheck{data: &data, table: &Table{name: data.Name, file: data.File, source: data.Source,
		pressureUnit: data.PressureUnit, loadUnit: data.LoadUnit}}
	t := c.table
	if t.single.basis, t.dual.basis = data.Single, data.Dual; max(data.Single, data.Dual) > PerAxle {
		t.single.basis, t.dual.basis = 0, 0 // a problem of its own, and no two
	}
	c.line("name", data.Name, 100)
	c.size()
	c.source()
	if data.PressureUnit != PSI && data.PressureUnit != Kilopascal && data.PressureUnit != Bar {
		c.fail("pressure_unit", problem.CodeValue, fmt.Errorf("%w: want one of psi, kPa, bar", ErrInput))
	}
	if data.LoadUnit != weight.Pound && data.LoadUnit != weight.Kilogram {
		c.fail("load_unit", problem.CodeValue, fmt.Errorf("%w: want one of lb, kg", ErrInput))
	}
	t.grid = t.System().MassGrid()
	c.figures()
	c.order()
	c.limits()
	if err := c.probs.Err(); err != nil {
		return nil, err
	}
	return t, nil
}

func (c *tableCheck) fail(path, code string, err error) {
	c.probs.Add(origin.Problem{Path: path, Code: code, Err: err})
}

// line takes a name or title: one line, not empty, not too long.
func (c *tableCheck) line(path, text string, most int) bool {
	if text == "" || len(text) > most || strings.ContainsAny(text, "\n\r\t") {
		c.fail(path, problem.CodeValue, fmt.Errorf("%q: %w: want one line of 1 to %d bytes", word.Clip(text), ErrInput, most))
		return false
	}
	return true
}

func (c *tableCheck) size() {
	t := c.table
	var class Class
	var construction Construction
	open := false // a metric size without a prefix may be a commercial one
	sized := c.line("size", c.data.Size, 40)
	if sized {
		t.size = c.data.Size
		t.key = normalizeSize(t.size)
		if s, err := ParseSize(t.size); err == nil {
			class, construction = s.Class(), s.Construction()
			open = class == Passenger && s.prefix == ""
		}
	}
	switch t.class = c.data.Class; {
	case t.class > Trailer:
		c.fail("class", problem.CodeValue, fmt.Errorf("%w: want one of %s", ErrWord, strings.Join(classes.Words[1:], ", ")))
	case t.class != 0:
		if class != 0 && class != t.class && !(open && t.class == LightTruck) {
			c.fail("class", problem.CodeTable, fmt.Errorf("class %s, but size %q is a %s size: %w", t.class, word.Clip(t.size), class, ErrTable))
		}
	default:
		if t.class = class; class == 0 && sized {
			c.fail("class", problem.CodeMissing,
				fmt.Errorf("%w: size %q does not tell the class: want one of %s", problem.ErrMissing, word.Clip(t.size), strings.Join(classes.Words[1:], ", ")))
		}
	}
	switch t.construction = c.data.Construction; {
	case t.construction > BiasBelted:
		c.fail("construction", problem.CodeValue, fmt.Errorf("%w: want one of %s", ErrWord, strings.Join(constructions.Words[1:], ", ")))
	case t.construction == 0:
		t.construction = construction
	case construction != 0 && construction != t.construction:
		c.fail("construction", problem.CodeTable, fmt.Errorf("construction %s, but size %q says %s: %w", t.construction, word.Clip(t.size), construction, ErrTable))
	}
}

func (c *tableCheck) source() {
	s := &c.table.source
	if s.Title != "" && !c.line("source.title", s.Title, 200) {
		s.Title = ""
	}
	if s.Locator != "" && !c.line("source.locator", s.Locator, 200) {
		s.Locator = ""
	}
	if err := s.Check(); err != nil {
		c.fail("source", problem.CodeMissing, err)
	}
}

// No tire is inflated beyond these; a figure outside tells of a wrong unit.
const (
	leastPlausible = 5 * PSI
	leastTop       = 25 * PSI
	mostPlausible  = 200 * PSI
)

// figures looks at each figure by itself, and brings the loads to one tire.
func (c *tableCheck) figures() {
	rows := c.data.Rows
	if len(rows) == 0 {
		c.fail("rows", problem.CodeMissing, fmt.Errorf("%w: a table has at least one row", problem.ErrMissing))
	}
	if len(rows) > maxTableRows {
		c.fail(fmt.Sprintf("rows[%d]", maxTableRows), problem.CodeSize, fmt.Errorf("%w: more than %d rows", problem.ErrSize, maxTableRows))
		rows = rows[:maxTableRows]
	}
	var printed [2]bool // columns that have a figure
	for i, r := range rows {
		for at, load := range r.loads() {
			printed[at] = printed[at] || load != 0
		}
		if row, ok := c.row(i, r); ok {
			c.rows = append(c.rows, row)
		}
	}
	c.bases(printed)
}

// loads are the loads of a row by column.
func (r PrintedRow) loads() [2]weight.Mass {
	return [...]weight.Mass{singleColumn: r.Single, dualColumn: r.Dual}
}

// row brings a row to one tire; it is not ok if one of its figures cannot be.
func (c *tableCheck) row(i int, r PrintedRow) (row checkedRow, ok bool) {
	row, ok = checkedRow{at: i, pressure: r.Pressure}, true
	if r.Pressure < leastPlausible || r.Pressure > mostPlausible {
		c.fail(rowPath(i, "pressure"), problem.CodeValue, fmt.Errorf("%s: %w: want %s to %s; is the unit of pressure right?", r.Pressure, ErrInput, leastPlausible, mostPlausible))
		ok = false
	}
	for at, load := range r.loads() {
		if !possibleLoad(load) {
			c.fail(rowPath(i, columnNames[at]), problem.CodeValue, fmt.Errorf("%s: %w: want a load above 0", load, ErrInput))
			ok = false
			continue
		}
		// Without a basis, which is a problem of its own, figures are still read.
		n := weight.Mass(max(c.data.basis(at).tiresPer(weight.Fitment(at+1)), 1))
		if row.load[at] = load / n; row.load[at]*n != load {
			c.fail(rowPath(i, columnNames[at]), problem.CodeValue, fmt.Errorf("%s on %d tires: %w", load, n, origin.ErrPrecision))
		}
	}
	return row, ok
}

// bases looks whether each column that has figures, and no other, has a basis.
func (c *tableCheck) bases(printed [2]bool) {
	for at, name := range columnNames {
		switch basis := c.data.basis(at); {
		case basis > PerAxle || printed[at] && basis == 0:
			c.fail(name, problem.CodeMissing,
				fmt.Errorf(`%w: the basis of the %s loads: want "per tire", "per end" (a pair) or "per axle", as the table is headed`, problem.ErrMissing, name))
		case basis != 0 && !printed[at] && len(c.rows) > 0:
			c.fail(name, problem.CodeTable, fmt.Errorf("no %s load in any row: leave the column out: %w", name, ErrTable))
		}
	}
}

// basis is what the loads of a column count.
func (d *TableData) basis(column int) LoadPer {
	return [...]LoadPer{singleColumn: d.Single, dualColumn: d.Dual}[column]
}

func rowPath(i int, column string) string { return fmt.Sprintf("rows[%d].%s", i, column) }

// order reports rows that cannot be, and fills the table's columns.
func (c *tableCheck) order() {
	rows := c.rows
	for i := 1; i < len(rows); i++ {
		if rows[i].pressure <= rows[i-1].pressure {
			c.fail(rowPath(rows[i].at, "pressure"), problem.CodeOrder, fmt.Errorf("%w: %s after %s: pressures have to rise from row to row", ErrOrder, rows[i].pressure, rows[i-1].pressure))
			return // what follows rests on the order
		}
	}
	if n := len(rows); n > 0 && rows[n-1].pressure < leastTop {
		c.fail(rowPath(rows[n-1].at, "pressure"), problem.CodeValue, fmt.Errorf("%s in the highest row: %w: want at least %s; is the unit of pressure right?", rows[n-1].pressure, ErrInput, leastTop))
	}
	t := c.table
	for at, col := range [...]*column{singleColumn: &t.single, dualColumn: &t.dual} {
		last, ended := -1, false
		for i := range rows {
			if rows[i].load[at] == 0 {
				ended = last >= 0
				continue
			}
			path := rowPath(rows[i].at, columnNames[at])
			if ended {
				c.fail(path, problem.CodeOrder, fmt.Errorf("%w: a figure after a row without one: fill the gap, or leave out what the table does not have", ErrOrder))
				break
			}
			if last >= 0 {
				c.rise(path, rows[last], rows[i], at)
			}
			last = i
			col.pressures = append(col.pressures, rows[i].pressure)
			col.loads = append(col.loads, rows[i].load[at])
		}
	}
	if t.single.basis != 0 && t.dual.basis != 0 {
		c.dual()
	}
}

// rise compares two rows of a column. Load grows with pressure to a power of
// at most 1, so a load that grows faster, 3 % for rounding allowed, is a
// misprint, and one that would let a tire carry too much.
func (c *tableCheck) rise(path string, below, above checkedRow, at int) {
	l0, l1 := below.load[at], above.load[at]
	if l1 <= l0 {
		c.fail(path, problem.CodeOrder, fmt.Errorf("%w: the load on a tire is %s after %s: loads have to rise from row to row", ErrOrder, l1, l0))
		return
	}
	most, ok := quantity.MulDiv(int64(l0), int64(above.pressure), int64(below.pressure), quantity.Ceiling)
	if ok && int64(l1) > most+most/100*3 {
		c.fail(path, problem.CodeOrder, fmt.Errorf("%w: the load rises from %s to %s on a tire, faster than the pressure from %s to %s: no tire does that; check these two rows",
			ErrOrder, l0, l1, below.pressure, above.pressure))
	}
}

// leastDualPercent is far below the 84 to 95 % that tables have, and above the
// half that a basis of one tire for a pair makes of it.
const leastDualPercent = 60

// dual looks for a dual column on another basis than the one stated.
func (c *tableCheck) dual() {
	var both, high, low []int
	for i, row := range c.rows {
		single, dual := row.load[singleColumn], row.load[dualColumn]
		if single == 0 || dual == 0 {
			continue
		}
		both = append(both, i)
		switch {
		case dual > single:
			high = append(high, i)
		case dual < single/100*leastDualPercent:
			low = append(low, i)
		}
	}
	whole := len(high) == len(both) || len(low) == len(both)
	for _, i := range slices.Concat(high, low) {
		path, single, dual := rowPath(c.rows[i].at, "dual"), c.rows[i].load[singleColumn], c.rows[i].load[dualColumn]
		what := "above the single load of %s, which no tire allows"
		if dual <= single {
			what = "below 60 %% of the single load of %s, which no table has"
		}
		text := fmt.Sprintf("a dual load of %s on one tire is "+what, dual, single)
		if !whole {
			c.fail(path, problem.CodeOrder, fmt.Errorf("%w: %s: check this row", ErrOrder, text))
			continue
		}
		c.fail(path, problem.CodeBasis, fmt.Errorf("%w: %s%s", ErrLoadPer, text, c.table.otherBasis(single, dual)))
		return
	}
}

// otherBasis names what would make sense of a dual figure.
func (t *Table) otherBasis(single, dual weight.Mass) string {
	printed := dual * weight.Mass(t.dual.basis.tiresPer(weight.Dual))
	for b := PerTire; b <= PerAxle; b++ {
		load := printed / weight.Mass(b.tiresPer(weight.Dual))
		if b != t.dual.basis && load <= single && load >= single/100*leastDualPercent {
			return fmt.Sprintf(`: the figure printed, %s, makes sense as %q (%s on one tire); see how the column is headed`, printed, b.String(), load)
		}
	}
	return ": see how both columns are headed"
}

// limits reads the caps and the minimum, which have to be rows.
func (c *tableCheck) limits() {
	rows, t := c.rows, c.table
	if len(rows) == 0 {
		return
	}
	top := rows[len(rows)-1].pressure
	for i, given := range c.data.Caps {
		if given.Max == 0 {
			given.Max = top
		}
		c.rangeCap(fmt.Sprintf("caps[%d]", i), given)
	}
	slices.SortStableFunc(t.caps, func(a, b rangeCap) int {
		return cmp.Or(cmp.Compare(a.max, b.max), cmp.Compare(a.loadRange, b.loadRange))
	})
	lowest := top
	if len(t.caps) > 0 {
		lowest = t.caps[0].max
	}
	t.minimum = rows[0].pressure
	if p := c.data.Minimum; p != 0 && c.onRow("minimum", p) {
		if t.minimum = p; p > lowest {
			c.fail("minimum", problem.CodeTable, fmt.Errorf("a minimum of %s is above the lowest cap of %s: %w", p, lowest, ErrTable))
		}
	}
	for _, col := range [...]*column{&t.single, &t.dual} {
		col.lowest = col.lastAt(lowest)
		col.first = col.lastAt(t.minimum-1) + 1
		for _, r := range t.caps {
			col.ranges = append(col.ranges, rangeRow{r.loadRange.code(), col.lastAt(r.max)})
		}
	}
}

// onRow reports whether a pressure is on a row, and that it is a problem if not.
func (c *tableCheck) onRow(path string, p Pressure) bool {
	if slices.ContainsFunc(c.rows, func(r checkedRow) bool { return r.pressure == p }) {
		return true
	}
	c.fail(path, problem.CodeTable, fmt.Errorf("%s is on no row: %w", p, ErrTable))
	return false
}

// rangeCap takes in the cap of a load range, and holds it against those before.
func (c *tableCheck) rangeCap(path string, given RangeCap) {
	lr, err := ParseLoadRange(string(given.LoadRange))
	if err != nil {
		c.fail(path+".load_range", problem.CodeValue, err)
	}
	p := given.Max
	if !c.onRow(path+".max", p) || err != nil {
		return
	}
	for _, other := range c.table.caps {
		n, known := lr.PlyRating()
		m, alsoKnown := other.loadRange.PlyRating()
		switch {
		case other.loadRange == lr:
			c.fail(path+".load_range", problem.CodeDuplicate, fmt.Errorf("%w: load range %s", problem.ErrDuplicate, lr))
		case known && alsoKnown && (n > m && p < other.max || n < m && p > other.max):
			c.fail(path+".max", problem.CodeTable, fmt.Errorf("load range %s to %s, but %s to %s: %w", lr, p, other.loadRange, other.max, ErrTable))
		}
	}
	c.table.caps = append(c.table.caps, rangeCap{loadRange: lr, max: p})
}

// lastAt is the last row not above the pressure, or -1.
func (c *column) lastAt(p Pressure) int {
	n, _ := slices.BinarySearch(c.pressures, p+1)
	return n - 1
}

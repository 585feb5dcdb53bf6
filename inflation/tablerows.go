package inflation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/quantity"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A draftRow is one row in figures: loads on one tire, by column.
type draftRow struct {
	pressure Pressure
	load     [3]weight.Mass
	cells    [3]cell
	has      [3]bool
}

// No tire is inflated beyond these; a figure outside tells of a wrong unit.
const (
	leastPlausible = 5 * PSI
	leastTop       = 25 * PSI
	mostPlausible  = 200 * PSI
)

// figures reads the cells of all rows.
func (d *draft) figures(t *Table, order []int, pressures func(string) (Pressure, error), loads func(string) (weight.Mass, error)) []draftRow {
	if len(d.rows) == 0 {
		d.fail(cell{pos: d.top, path: "rows"}, strictyaml.CodeMissing, fmt.Errorf("%w: a table has at least one row", strictyaml.ErrMissing))
	}
	// Without a basis, which is a problem of its own, figures are still read.
	perTire := [3]int64{singleColumn: max(t.single.basis.tiresPer(weight.Single), 1), dualColumn: max(t.dual.basis.tiresPer(weight.Dual), 1)}
	rows := make([]draftRow, 0, len(d.rows))
	for _, r := range d.rows {
		if len(r.cells) != len(order) {
			d.fail(r.cell, strictyaml.CodeShape, fmt.Errorf("%w: %d figures in the row, want %d, one for each column; leave thousands commas out, write none where the table has no figure",
				strictyaml.ErrShape, len(r.cells), len(order)))
			continue
		}
		var row draftRow
		whole := true
		for i, c := range r.cells {
			at := order[i]
			row.cells[at] = c
			text := strings.TrimSpace(c.text)
			switch {
			case at == pressureColumn:
				if row.pressure, row.has[at] = parsed(d, c, pressures); row.has[at] && (row.pressure < leastPlausible || row.pressure > mostPlausible) {
					d.fail(c, strictyaml.CodeValue, fmt.Errorf("%s: %w: want %s to %s; is the unit of pressure right?", row.pressure, ErrInput, leastPlausible, mostPlausible))
					row.has[at] = false
				}
				whole = whole && row.has[at]
			case text == "" || text == "-" || text == "–" || strings.EqualFold(text, "none"):
			default:
				var load weight.Mass
				if load, row.has[at] = parsed(d, c, loads); row.has[at] && (load <= 0 || load > maxLoad) {
					d.fail(c, strictyaml.CodeValue, fmt.Errorf("%s: %w: want a load above 0", load, ErrInput))
					row.has[at] = false
				}
				whole = whole && row.has[at]
				if n := weight.Mass(perTire[at]); row.has[at] {
					if row.load[at] = load / n; row.load[at]*n != load {
						d.fail(c, strictyaml.CodeValue, fmt.Errorf("%s on %d tires: %w", load, n, origin.ErrPrecision))
					}
				}
			}
		}
		if whole {
			rows = append(rows, row)
		}
	}
	return rows
}

// checkRows reports rows that cannot be, and fills the table's columns.
func (d *draft) checkRows(t *Table, rows []draftRow) {
	for i := 1; i < len(rows); i++ {
		if rows[i].pressure <= rows[i-1].pressure {
			d.fail(rows[i].cells[pressureColumn], CodeOrder, fmt.Errorf("%w: %s after %s: pressures have to rise from row to row", ErrOrder, rows[i].pressure, rows[i-1].pressure))
			return // what follows rests on the order
		}
	}
	if n := len(rows); n > 0 && rows[n-1].pressure < leastTop {
		d.fail(rows[n-1].cells[pressureColumn], strictyaml.CodeValue, fmt.Errorf("%s in the highest row: %w: want at least %s; is the unit of pressure right?", rows[n-1].pressure, ErrInput, leastTop))
	}
	for at, col := range [...]*column{singleColumn: &t.single, dualColumn: &t.dual} {
		if col == nil {
			continue
		}
		last, ended := -1, false
		for i := range rows {
			if !rows[i].has[at] {
				ended = last >= 0
				continue
			}
			c := rows[i].cells[at]
			if ended {
				d.fail(c, CodeOrder, fmt.Errorf("%w: a figure after a row without one: fill the gap, or leave out what the table does not have", ErrOrder))
				break
			}
			if last >= 0 {
				d.checkRise(c, rows[last], rows[i], at)
			}
			last = i
			col.pressures = append(col.pressures, rows[i].pressure)
			col.loads = append(col.loads, rows[i].load[at])
		}
		if last < 0 && col.basis != 0 && len(rows) > 0 && rows[0].cells[at] != (cell{}) {
			d.fail(d.head[columnNames[at]], CodeTable, fmt.Errorf("no %s load in any row: leave the column out: %w", columnNames[at], ErrTable))
		}
	}
	if t.single.basis != 0 && t.dual.basis != 0 {
		d.checkDual(t, rows)
	}
}

// checkRise compares two rows of a column. Load grows with pressure to a
// power of at most 1, so a load that grows faster, 3 % for rounding allowed,
// is a misprint, and one that would let a tire carry too much.
func (d *draft) checkRise(c cell, below, above draftRow, at int) {
	l0, l1 := below.load[at], above.load[at]
	if l1 <= l0 {
		d.fail(c, CodeOrder, fmt.Errorf("%w: the load on a tire is %s after %s: loads have to rise from row to row", ErrOrder, l1, l0))
		return
	}
	most, ok := quantity.MulDiv(int64(l0), int64(above.pressure), int64(below.pressure), quantity.Ceiling)
	if ok && int64(l1) > most+most/100*3 {
		d.fail(c, CodeOrder, fmt.Errorf("%w: the load rises from %s to %s on a tire, faster than the pressure from %s to %s: no tire does that; check these two rows",
			ErrOrder, l0, l1, below.pressure, above.pressure))
	}
}

// leastDualPercent is far below the 84 to 95 % that tables have, and above the
// half that a basis of one tire for a pair makes of it.
const leastDualPercent = 60

// checkDual looks for a dual column on another basis than the one stated.
func (d *draft) checkDual(t *Table, rows []draftRow) {
	var both, high, low []int
	for i := range rows {
		if !rows[i].has[singleColumn] || !rows[i].has[dualColumn] {
			continue
		}
		single, dual := rows[i].load[singleColumn], rows[i].load[dualColumn]
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
		c, single, dual := rows[i].cells[dualColumn], rows[i].load[singleColumn], rows[i].load[dualColumn]
		what := "above the single load of %s, which no tire allows"
		if dual <= single {
			what = "below 60 %% of the single load of %s, which no table has"
		}
		text := fmt.Sprintf("a dual load of %s on one tire is "+what, dual, single)
		if !whole {
			d.fail(c, CodeOrder, fmt.Errorf("%w: %s: check this row", ErrOrder, text))
			continue
		}
		d.fail(c, CodeBasis, fmt.Errorf("%w: %s%s", ErrBasis, text, t.otherBasis(single, dual)))
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
func (d *draft) limits(t *Table, rows []draftRow, pressures func(string) (Pressure, error)) {
	if len(rows) == 0 {
		return
	}
	top := rows[len(rows)-1].pressure
	onRow := func(c cell) (Pressure, bool) {
		p, ok := parsed(d, c, pressures)
		if !ok {
			return 0, false
		}
		if !slices.ContainsFunc(rows, func(r draftRow) bool { return r.pressure == p }) {
			d.fail(c, CodeTable, fmt.Errorf("%s is on no row: %w", p, ErrTable))
			return 0, false
		}
		return p, true
	}
	if c, ok := d.head["load_range"]; ok {
		if len(d.caps) > 0 {
			d.fail(c, CodeTable, fmt.Errorf("both load_range and caps: want load_range if all rows are for one, else caps: %w", ErrTable))
		}
		if lr, ok := parsed(d, c, ParseLoadRange); ok {
			t.caps = append(t.caps, rangeCap{loadRange: lr, max: top})
		}
	}
	for _, c := range d.caps {
		lr, ok1 := parsed(d, c.loadRange, ParseLoadRange)
		p, ok2 := onRow(c.max)
		if !ok1 || !ok2 {
			continue
		}
		for _, other := range t.caps {
			n, known := lr.PlyRating()
			m, alsoKnown := other.loadRange.PlyRating()
			switch {
			case other.loadRange == lr:
				d.fail(c.loadRange, strictyaml.CodeDuplicate, fmt.Errorf("%w: load range %s", strictyaml.ErrDuplicate, lr))
			case known && alsoKnown && (n > m && p < other.max || n < m && p > other.max):
				d.fail(c.max, CodeTable, fmt.Errorf("load range %s to %s, but %s to %s: %w", lr, p, other.loadRange, other.max, ErrTable))
			}
		}
		t.caps = append(t.caps, rangeCap{loadRange: lr, max: p})
	}
	slices.SortStableFunc(t.caps, func(a, b rangeCap) int {
		return cmp.Or(cmp.Compare(a.max, b.max), cmp.Compare(a.loadRange, b.loadRange))
	})
	lowest := top
	if len(t.caps) > 0 {
		lowest = t.caps[0].max
	}
	t.minimum = rows[0].pressure
	if c, ok := d.head["minimum"]; ok {
		if p, ok := onRow(c); ok {
			if t.minimum = p; p > lowest {
				d.fail(c, CodeTable, fmt.Errorf("a minimum of %s is above the lowest cap of %s: %w", p, lowest, ErrTable))
			}
		}
	}
	for _, c := range [...]*column{&t.single, &t.dual} {
		c.lowest = c.lastAt(lowest)
		c.first = c.lastAt(t.minimum-1) + 1
		for _, r := range t.caps {
			c.ranges = append(c.ranges, rangeRow{r.loadRange.code(), c.lastAt(r.max)})
		}
	}
}

// lastAt is the last row not above the pressure, or -1.
func (c *column) lastAt(p Pressure) int {
	n, _ := slices.BinarySearch(c.pressures, p+1)
	return n - 1
}

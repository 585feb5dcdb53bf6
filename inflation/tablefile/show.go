package tablefile

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/weight"
)

func pressureUnitName(unit inflation.Pressure) string {
	switch unit {
	case inflation.Kilopascal:
		return "kPa"
	case inflation.Bar:
		return "bar"
	}
	return "psi"
}

func loadUnitName(unit weight.Mass) string {
	if unit == weight.Kilogram {
		return "kg"
	}
	return "lb"
}

// figure writes a value in a unit with as many decimals as it has, four at
// the most.
func figure(v, unit int64) string {
	text := string(inflation.Pressure(v).AppendIn(nil, inflation.Pressure(unit), 4, weight.Nearest))
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// A shownColumn is the rows of one fitment, in the order of a row.
type shownColumn struct {
	fit  weight.Fitment
	rows []inflation.Row
}

func columnsOf(t *inflation.Table) []shownColumn {
	var out []shownColumn
	for _, fit := range [...]weight.Fitment{weight.Single, weight.Dual} {
		if rows := slices.Collect(t.Rows(fit)); len(rows) > 0 {
			out = append(out, shownColumn{fit, rows})
		}
	}
	return out
}

// levels are the pressures of all rows, lowest first.
func levels(columns []shownColumn) []inflation.Pressure {
	var out []inflation.Pressure
	for _, c := range columns {
		for _, r := range c.rows {
			out = append(out, r.Pressure)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// at is the load at exactly that pressure.
func (c shownColumn) at(p inflation.Pressure) (weight.Mass, bool) {
	for _, r := range c.rows {
		if r.Pressure == p {
			return r.Load, true
		}
	}
	return 0, false
}

// printed is how many tires the loads of a column count.
func printed(t *inflation.Table, fit weight.Fitment) int64 {
	n := int64(1)
	if fit == weight.Dual {
		n = 2
	}
	switch t.LoadsPer(fit) {
	case inflation.PerEnd:
		return n
	case inflation.PerAxle:
		return 2 * n
	}
	return 1
}

// Text gives a table as people read it, its figures as printed, on the basis
// they were printed on, in lines that end in a newline.
func Text(t *inflation.Table) string {
	unit, loadUnit := t.Units()
	columns := columnsOf(t)
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nsize %s, %s", t.Name(), t.Size(), t.Class())
	if t.Construction() != 0 {
		fmt.Fprintf(&b, ", %s", t.Construction())
	}
	fmt.Fprintf(&b, "\nsource: %s\n", t.Source())
	for lr, most := range t.Caps() {
		fmt.Fprintf(&b, "load range %s: to %s %s\n", lr, figure(int64(most), int64(unit)), pressureUnitName(unit))
	}
	fmt.Fprintf(&b, "lowest row to be used: %s %s\n", figure(int64(t.Minimum()), int64(unit)), pressureUnitName(unit))
	fmt.Fprintf(&b, "loads in %s", loadUnitName(loadUnit))
	for _, c := range columns {
		fmt.Fprintf(&b, ", %s %s", c.fit, t.LoadsPer(c.fit))
	}
	fmt.Fprintf(&b, "\n\n%8s", pressureUnitName(unit))
	for _, c := range columns {
		fmt.Fprintf(&b, "%10s", c.fit)
	}
	b.WriteByte('\n')
	for _, p := range levels(columns) {
		fmt.Fprintf(&b, "%8s", figure(int64(p), int64(unit)))
		for _, c := range columns {
			text := "none"
			if load, ok := c.at(p); ok {
				text = figure(int64(load)*printed(t, c.fit), int64(loadUnit))
			}
			fmt.Fprintf(&b, "%10s", text)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Curve draws the loads of ONE tire over the pressures as text of the width
// (40 to 200; others are brought into that), the highest pressure on top: s
// for single, d for dual, * for both in one place. A wrong figure shows as a
// kink.
func Curve(t *inflation.Table, width int) string {
	width = min(max(width, 40), 200) - 12
	columns := columnsOf(t)
	pressures := levels(columns)
	if len(pressures) == 0 {
		return ""
	}
	unit, loadUnit := t.Units()
	var least, most weight.Mass
	for _, c := range columns {
		if least == 0 || c.rows[0].Load < least {
			least = c.rows[0].Load
		}
		most = max(most, c.rows[len(c.rows)-1].Load)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%8s   load on one tire: s single, d dual\n", pressureUnitName(unit))
	for _, p := range slices.Backward(pressures) {
		line := []byte(strings.Repeat(" ", width))
		for _, c := range columns {
			load, ok := c.at(p)
			if !ok {
				continue
			}
			x := int64(0)
			if most > least {
				v, _ := (load - least).MulDiv(int64(width-1), int64(most-least), weight.Nearest)
				x = int64(v)
			}
			mark := c.fit.String()[0]
			if line[x] != ' ' {
				mark = '*'
			}
			line[x] = mark
		}
		fmt.Fprintf(&b, "%8s | %s\n", figure(int64(p), int64(unit)), strings.TrimRight(string(line), " "))
	}
	low := figure(int64(least), int64(loadUnit))
	high := figure(int64(most), int64(loadUnit)) + " " + loadUnitName(loadUnit)
	fmt.Fprintf(&b, "%8s +-%s\n", "", strings.Repeat("-", width))
	fmt.Fprintf(&b, "%11s%s%*s\n", "", low, max(width-len(low), len(high)+1), high)
	return b.String()
}

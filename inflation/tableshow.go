package inflation

import (
	"fmt"
	"strconv"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/weight"
)

func pressureUnitName(unit Pressure) string {
	switch unit {
	case Kilopascal:
		return "kPa"
	case Bar:
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
	text := string(Pressure(v).AppendIn(nil, Pressure(unit), 4, weight.Nearest))
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// fitments that have a column, in the order of a row.
func (t *Table) fitments() []weight.Fitment {
	var out []weight.Fitment
	for _, fit := range [...]weight.Fitment{weight.Single, weight.Dual} {
		if t.columnOf(fit) != nil {
			out = append(out, fit)
		}
	}
	return out
}

// levels are the pressures of all rows, lowest first.
func (t *Table) levels() []Pressure {
	var out []Pressure
	single, dual := t.single.pressures, t.dual.pressures
	for len(single) > 0 || len(dual) > 0 {
		next := Pressure(0)
		switch {
		case len(dual) == 0 || len(single) > 0 && single[0] < dual[0]:
			next = single[0]
		default:
			next = dual[0]
		}
		out = append(out, next)
		if len(single) > 0 && single[0] == next {
			single = single[1:]
		}
		if len(dual) > 0 && dual[0] == next {
			dual = dual[1:]
		}
	}
	return out
}

// at is the row of exactly that pressure, or -1.
func (c *column) at(p Pressure) int {
	if i := c.lastAt(p); i >= 0 && c.pressures[i] == p {
		return i
	}
	return -1
}

// Text gives the table as people read it, its figures as printed, on the
// basis they were printed on, in lines that end in a newline.
func (t *Table) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nsize %s, %s", t.name, t.size, t.class)
	if t.construction != 0 {
		fmt.Fprintf(&b, ", %s", t.construction)
	}
	fmt.Fprintf(&b, "\nsource: %s\n", t.source)
	for _, c := range t.caps {
		fmt.Fprintf(&b, "load range %s: to %s %s\n", c.loadRange, figure(int64(c.max), int64(t.pressureUnit)), pressureUnitName(t.pressureUnit))
	}
	fmt.Fprintf(&b, "lowest row to be used: %s %s\n", figure(int64(t.minimum), int64(t.pressureUnit)), pressureUnitName(t.pressureUnit))
	fmt.Fprintf(&b, "loads in %s", loadUnitName(t.loadUnit))
	for _, fit := range t.fitments() {
		fmt.Fprintf(&b, ", %s %s", fit, t.columnOf(fit).basis)
	}
	fmt.Fprintf(&b, "\n\n%8s", pressureUnitName(t.pressureUnit))
	for _, fit := range t.fitments() {
		fmt.Fprintf(&b, "%10s", fit)
	}
	b.WriteByte('\n')
	for _, p := range t.levels() {
		fmt.Fprintf(&b, "%8s", figure(int64(p), int64(t.pressureUnit)))
		for _, fit := range t.fitments() {
			c := t.columnOf(fit)
			text := "none"
			if i := c.at(p); i >= 0 {
				text = figure(int64(c.loads[i])*c.basis.tiresPer(fit), int64(t.loadUnit))
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
func (t *Table) Curve(width int) string {
	width = min(max(width, 40), 200) - 12
	levels := t.levels()
	if len(levels) == 0 {
		return ""
	}
	var least, most weight.Mass
	for _, fit := range t.fitments() {
		c := t.columnOf(fit)
		if least == 0 || c.loads[0] < least {
			least = c.loads[0]
		}
		most = max(most, c.loads[len(c.loads)-1])
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%8s   load on one tire: s single, d dual\n", pressureUnitName(t.pressureUnit))
	for i := len(levels) - 1; i >= 0; i-- {
		line := []byte(strings.Repeat(" ", width))
		for _, fit := range t.fitments() {
			c := t.columnOf(fit)
			row := c.at(levels[i])
			if row < 0 {
				continue
			}
			x := int64(0)
			if most > least {
				v, _ := (c.loads[row] - least).MulDiv(int64(width-1), int64(most-least), weight.Nearest)
				x = int64(v)
			}
			mark := fit.String()[0]
			if line[x] != ' ' {
				mark = '*'
			}
			line[x] = mark
		}
		fmt.Fprintf(&b, "%8s | %s\n", figure(int64(levels[i]), int64(t.pressureUnit)), strings.TrimRight(string(line), " "))
	}
	low := figure(int64(least), int64(t.loadUnit))
	high := figure(int64(most), int64(t.loadUnit)) + " " + loadUnitName(t.loadUnit)
	fmt.Fprintf(&b, "%8s +-%s\n", "", strings.Repeat("-", width))
	fmt.Fprintf(&b, "%11s%s%*s\n", "", low, max(width-len(low), len(high)+1), high)
	return b.String()
}

// A TableOutline is what is known of a table that somebody is about to type
// in. What is zero is left to be filled in.
type TableOutline struct {
	Name      string
	Size      string
	Class     Class
	LoadRange LoadRange
	// PressureUnit is PSI (the default), Kilopascal or Bar; LoadUnit is Pound
	// (the default) or Kilogram.
	PressureUnit Pressure
	LoadUnit     weight.Mass
	// Single and Dual are the bases of the columns; a zero one is left to be
	// filled in.
	Single, Dual Basis
	// Lowest, Highest and Step lay out the rows; without them there are three
	// to be filled in.
	Lowest, Highest, Step Pressure
}

const fillIn = "fill-in"

func (o TableOutline) rows() ([]string, error) {
	if o.Lowest == 0 && o.Highest == 0 && o.Step == 0 {
		return []string{fillIn, fillIn, fillIn}, nil
	}
	if o.Lowest <= 0 || o.Step <= 0 || o.Highest < o.Lowest || o.Highest > maxPressure || (o.Highest-o.Lowest)/o.Step >= maxTableRows {
		return nil, fmt.Errorf("rows from %s to %s by %s: %w: want 1 to %d of them", o.Lowest, o.Highest, o.Step, ErrInput, maxTableRows)
	}
	var out []string
	for p := o.Lowest; p <= o.Highest; p += o.Step {
		out = append(out, figure(int64(p), int64(o.PressureUnit)))
	}
	return out, nil
}

func (o TableOutline) check() (TableOutline, error) {
	if o.PressureUnit == 0 {
		o.PressureUnit = PSI
	}
	if o.LoadUnit == 0 {
		o.LoadUnit = weight.Pound
	}
	if o.PressureUnit != PSI && o.PressureUnit != Kilopascal && o.PressureUnit != Bar || o.LoadUnit != weight.Pound && o.LoadUnit != weight.Kilogram {
		return o, fmt.Errorf("units of %s and %s: %w: want 1 psi, 1 kPa or 1 bar, and 1 lb or 1 kg", o.PressureUnit, o.LoadUnit, ErrInput)
	}
	if s, err := ParseSize(o.Size); err == nil && o.Class == 0 {
		o.Class = s.Class()
	}
	for _, text := range [...]string{o.Name, o.Size} {
		if text != "" {
			if _, err := plainLine(100)(text); err != nil {
				return o, err
			}
		}
	}
	return o, nil
}

// line is one `key: value` line of a new table file, with a comment on what it
// is for; a value not known is commented out, so that checking the file asks
// for it.
func line(b *strings.Builder, key, value, comment string) {
	if comment != "" {
		b.WriteString("# " + comment + "\n")
	}
	if value == "" {
		b.WriteString("# ")
	}
	b.WriteString(strings.TrimRight(key+": "+value, " ") + "\n")
}

func known[T interface {
	~uint8
	String() string
}](v T) string {
	if v == 0 {
		return ""
	}
	return v.String()
}

const (
	helpBasis     = `the basis, as the column is headed: per tire, per end (a dual pair), per axle; leave out with its column`
	helpLoadRange = `if all rows are for one load range; with several, use caps, the highest pressure of each`
)

// YAML gives a commented YAML table file to fill in. It loads once everything
// marked is filled in, and until then [LoadTable] says what is missing. Errors
// match [ErrInput].
func (o TableOutline) YAML() ([]byte, error) {
	o, err := o.check()
	if err != nil {
		return nil, err
	}
	rows, err := o.rows()
	if err != nil {
		return nil, err
	}
	quoted := func(s string) string {
		if s == "" {
			return ""
		}
		return strconv.Quote(s)
	}
	var b strings.Builder
	b.WriteString("# A load and inflation table, typed in as it is printed: nothing is converted.\n")
	line(&b, "table", strconv.Itoa(TableVersion), "")
	line(&b, "name", quoted(o.Name), "what answers call this table")
	line(&b, "size", quoted(o.Size), "the size designation, without load range or load index")
	line(&b, "class", known(o.Class), "passenger, light truck, truck or trailer; not needed where the size tells")
	line(&b, "load_range", string(o.LoadRange), helpLoadRange)
	b.WriteString("# caps: {D: 65, E: 80}\n")
	line(&b, "minimum", "", "the lowest row that may be used, if that is not the first")
	line(&b, "pressure_unit", pressureUnitName(o.PressureUnit), "psi, kPa or bar, as printed; lb or kg, as printed")
	line(&b, "load_unit", loadUnitName(o.LoadUnit), "")
	line(&b, "single", known(o.Single), helpBasis)
	line(&b, "dual", known(o.Dual), "")
	b.WriteString("# where the figures come from; grade: published, as quoted, computed, common practice, from memory or invented\n")
	b.WriteString("# source: {grade: published, title: \"\", locator: \"\"}\n")
	b.WriteString("columns: [pressure, single, dual]\n# one row a line, pressures rising; none where there is no figure\nrows:\n")
	for _, p := range rows {
		b.WriteString("  - [" + p + ", " + fillIn + ", " + fillIn + "]\n")
	}
	return []byte(b.String()), nil
}

// CSV gives the same file as [TableOutline.YAML], in CSV. Errors match
// [ErrInput].
func (o TableOutline) CSV() ([]byte, error) {
	o, err := o.check()
	if err != nil {
		return nil, err
	}
	rows, err := o.rows()
	if err != nil {
		return nil, err
	}
	if strings.ContainsAny(o.Name+o.Size, `",`) {
		return nil, fmt.Errorf("name %q, size %q: %w: no quotes and no commas in CSV", strictyaml.Clip(o.Name), strictyaml.Clip(o.Size), ErrInput)
	}
	var b strings.Builder
	b.WriteString("# A load and inflation table typed in as it is printed: nothing is converted.\n")
	line(&b, "table", strconv.Itoa(TableVersion), "")
	line(&b, "name", o.Name, "what answers call this table")
	line(&b, "size", o.Size, "the size designation without load range or load index")
	line(&b, "class", known(o.Class), "passenger or light truck or truck or trailer; not needed where the size tells")
	line(&b, "load_range", string(o.LoadRange), helpLoadRange)
	b.WriteString("# caps: D 65; E 80\n")
	line(&b, "minimum", "", "the lowest row that may be used if that is not the first")
	line(&b, "pressure_unit", pressureUnitName(o.PressureUnit), "psi or kPa or bar; lb or kg; as printed")
	line(&b, "load_unit", loadUnitName(o.LoadUnit), "")
	line(&b, "single", known(o.Single), helpBasis)
	line(&b, "dual", known(o.Dual), "")
	line(&b, "grade", "", "published or as quoted or computed or common practice or from memory or invented")
	line(&b, "source", "", "title of the publication; page or number")
	line(&b, "locator", "", "")
	b.WriteString("# one row a line with pressures rising; none where there is no figure\npressure,single,dual\n")
	for _, p := range rows {
		b.WriteString(p + "," + fillIn + "," + fillIn + "\n")
	}
	return []byte(b.String()), nil
}

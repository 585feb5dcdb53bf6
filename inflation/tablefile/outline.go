package tablefile

import (
	"fmt"
	"strconv"
	"strings"

	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/weight"
)

// An Outline is what is known of a table that somebody is about to type
// in. What is zero is left to be filled in.
type Outline struct {
	// Name is what answers will call the table.
	Name string
	// Size is its size designation.
	Size string
	// Class is that of its tires; zero is what the size says.
	Class inflation.Class
	// LoadRange, if all rows are for one.
	LoadRange inflation.LoadRange
	// PressureUnit is PSI (the default), Kilopascal or Bar.
	PressureUnit inflation.Pressure
	// LoadUnit is Pound (the default) or Kilogram.
	LoadUnit weight.Mass
	// Single and Dual are the bases of the columns; a zero one is left to be
	// filled in.
	Single, Dual inflation.LoadPer
	// Lowest, Highest and Step lay out the rows; without them there are three
	// to be filled in.
	Lowest, Highest, Step inflation.Pressure
}

const fillIn = "fill-in"

// mostPressure is ten times what any wheel holds.
const mostPressure = 1000 * inflation.PSI

func (o Outline) rows() ([]string, error) {
	if o.Lowest == 0 && o.Highest == 0 && o.Step == 0 {
		return []string{fillIn, fillIn, fillIn}, nil
	}
	if o.Lowest <= 0 || o.Step <= 0 || o.Highest < o.Lowest || o.Highest > mostPressure || (o.Highest-o.Lowest)/o.Step >= maxRows {
		return nil, fmt.Errorf("rows from %s to %s by %s: %w: want 1 to %d of them", o.Lowest, o.Highest, o.Step, inflation.ErrInput, maxRows)
	}
	var out []string
	for p := o.Lowest; p <= o.Highest; p += o.Step {
		out = append(out, figure(int64(p), int64(o.PressureUnit)))
	}
	return out, nil
}

func (o Outline) check() (Outline, error) {
	if o.PressureUnit == 0 {
		o.PressureUnit = inflation.PSI
	}
	if o.LoadUnit == 0 {
		o.LoadUnit = weight.Pound
	}
	if o.PressureUnit != inflation.PSI && o.PressureUnit != inflation.Kilopascal && o.PressureUnit != inflation.Bar || o.LoadUnit != weight.Pound && o.LoadUnit != weight.Kilogram {
		return o, fmt.Errorf("units of %s and %s: %w: want 1 psi, 1 kPa or 1 bar, and 1 lb or 1 kg", o.PressureUnit, o.LoadUnit, inflation.ErrInput)
	}
	if s, err := inflation.ParseSize(o.Size); err == nil && o.Class == 0 {
		o.Class = s.Class()
	}
	for _, text := range [...]string{o.Name, o.Size} {
		if text != "" {
			if len(text) > 100 || strings.ContainsAny(text, "\n\r\t") {
				return o, fmt.Errorf("%q: %w: want one line of 1 to 100 bytes", strictyaml.Clip(text), inflation.ErrInput)
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
// marked is filled in, and until then [Read] says what is missing. Errors
// match [inflation.ErrInput].
func (o Outline) YAML() ([]byte, error) {
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
	line(&b, "table", strconv.Itoa(Version), "")
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

// CSV gives the same file as [Outline.YAML], in CSV. Errors match
// [inflation.ErrInput].
func (o Outline) CSV() ([]byte, error) {
	o, err := o.check()
	if err != nil {
		return nil, err
	}
	rows, err := o.rows()
	if err != nil {
		return nil, err
	}
	if strings.ContainsAny(o.Name+o.Size, `",`) {
		return nil, fmt.Errorf("name %q, size %q: %w: no quotes and no commas in CSV", strictyaml.Clip(o.Name), strictyaml.Clip(o.Size), inflation.ErrInput)
	}
	var b strings.Builder
	b.WriteString("# A load and inflation table typed in as it is printed: nothing is converted.\n")
	line(&b, "table", strconv.Itoa(Version), "")
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

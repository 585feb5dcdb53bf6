package main

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"unicode/utf8"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// pressureFlags are what was typed; what was not stays empty.
type pressureFlags struct {
	table, size, fit, load, per, step, loadRange, stamp, class, lowest string
	allowance                                                          int
	interpolate, onCar                                                 bool
}

func pressureCommand() *command {
	var f pressureFlags
	return &command{
		name: "pressure", args: "", short: "the cold pressure that a load needs, by a table or a stamp",
		help: `Looks up the least cold pressure at which the tires carry a load. Say with -per
whether the load is on one tire, on one end of the axle (the heavier one), or on
the whole axle (55 % of it is then assumed on one end).
Without a table, -stamp with -class or -size gives an estimate, marked as one.

Example: axleend pressure -table examples/demo/xv250.yaml -size XV250/72R21 -fit dual -load 8200lb -per end -load-range G
Example: axleend pressure -stamp "4540 lb at 110 psi" -class truck -fit dual -load 8200lb -per end`,
		run: func(c *call, args []string) int { return pressure(c, f, args) },
		flags: func(c *call) {
			c.flags.StringVar(&f.table, "table", "", "load and inflation table, a YAML or CSV `file`")
			c.flags.StringVar(&c.tables, "tables", "", "`folder` of tables, in which the size is looked for")
			c.flags.StringVar(&f.size, "size", "", "size on the sidewall, such as LT225/75R16")
			c.flags.StringVar(&f.fit, "fit", "", "single or dual")
			c.flags.StringVar(&f.load, "load", "", "load, such as 9400lb")
			c.flags.StringVar(&f.per, "per", "", "what the load is on: tire, end or axle")
			c.flags.StringVar(&f.step, "step", "", "the gauge's step, such as 5psi, to round up to")
			c.flags.BoolVar(&f.interpolate, "interpolate", false, "read between the rows, rounded up, instead of the next row up")
			c.flags.StringVar(&f.loadRange, "load-range", "", "load range on the sidewall (default: the lowest in the table)")
			c.flags.IntVar(&f.allowance, "allowance", 0, "`percent` to add to the load first")
			c.flags.BoolVar(&f.onCar, "on-car", false, "the tire is on a passenger car, where it carries its full rating")
			c.flags.StringVar(&f.stamp, "stamp", "", "without a table: the sidewall's maximum for this fitment, such as \"4940 lb at 110 psi\"")
			c.flags.StringVar(&f.class, "class", "", "with -stamp: light truck or truck (default: what the size says)")
			c.flags.StringVar(&f.lowest, "lowest", "", "with -stamp: the lowest cold `pressure` that the tire's maker permits")
			c.asFlag()
		},
	}
}

// A pressureAnswer is what the command prints as JSON.
type pressureAnswer struct {
	Share    inflation.TireShare `json:"share"`
	Answer   inflation.LookUp    `json:"answer,omitzero"`
	Over     overload            `json:"over,omitzero"`
	Table    string              `json:"table,omitzero"`
	Estimate bool                `json:"estimate"`
	Source   origin.Source       `json:"source"`
	Cautions caution.Set         `json:"cautions"`
}

// An overload is a load that no pressure carries, on each tire.
type overload struct {
	Load   weight.Mass        `json:"load"`
	Limit  weight.Mass        `json:"limit"`
	At     inflation.Pressure `json:"at"`
	Excess weight.Mass        `json:"excess"`
}

func pressure(c *call, f pressureFlags, args []string) int {
	if len(args) > 0 {
		return c.misuse("pressure takes flags only, not %q; axleend pressure -h shows how it is used", args[0])
	}
	load, err1 := needed("-load", f.load, "a load such as 9400lb", parseLoad)
	per, err2 := needed("-per", f.per, "tire, end or axle: what the load is on", inflation.ParseLoadPer)
	fit, err3 := needed("-fit", f.fit, "single or dual", parseText[weight.Fitment])
	step, err4 := optional("-step", f.step, inflation.ParsePressure)
	lr, err5 := optional("-load-range", f.loadRange, inflation.ParseLoadRange)
	if err := errors.Join(err1, err2, err3, err4, err5, f.sources(c.tables)); err != nil {
		return c.fail(err)
	}
	opt := inflation.Options{Step: step, LoadRange: lr, AllowancePercent: f.allowance, OnPassengerCar: f.onCar}
	if f.interpolate {
		opt.Method = inflation.Interpolated
	}
	var a pressureAnswer
	var table *inflation.Table
	var err error
	if f.stamp != "" {
		a.Estimate, a.Source = true, inflation.Unlisted{}.Source()
		var tire inflation.Unlisted
		if tire, err = f.unlisted(); err != nil {
			return c.fail(err)
		}
		if a.Share, err = inflation.ShareOf(load, per, fit, systemOf(f.load)); err == nil {
			a.Answer, err = tire.PressureFor(a.Share.Tire, opt)
		}
	} else {
		if table, err = c.table(f.table, f.size, lr); err != nil {
			return c.fail(err)
		}
		a.Table, a.Source = table.Name(), table.Source()
		if a.Share, err = inflation.ShareOf(load, per, fit, table.System()); err == nil {
			a.Answer, err = table.PressureFor(a.Share.Tire, fit, opt)
		}
	}
	code := exitDone
	var over *inflation.LoadError
	switch {
	case errors.As(err, &over):
		a.Over, code = overload{Load: over.Load, Limit: over.Limit, At: over.At, Excess: over.Excess}, exitStop
	case errors.Is(err, inflation.ErrNoEstimate):
		return c.misuse("%v: set such a tire to the placard, else to its sidewall's pressure within the wheel's limit", err)
	case err != nil:
		return c.fail(err)
	}
	a.Cautions = a.Answer.Cautions(a.Share, table, opt)
	if c.as == "json" {
		return worse(c.printJSON(a), code)
	}
	return worse(c.say(a.text()), code)
}

// sources checks that the answer is asked of one source only, with the flags
// that it listens to: a flag without effect would be believed to have one.
func (f pressureFlags) sources(tables string) error {
	n := 0
	for _, given := range [...]string{f.table, tables, f.stamp} {
		if given != "" {
			n++
		}
	}
	if n != 1 {
		return errors.New("want one of -table FILE, -tables FOLDER, or, where there is no table, -stamp \"4940 lb at 110 psi\"")
	}
	if f.stamp == "" {
		if f.class != "" || f.lowest != "" {
			return errors.New("-class and -lowest are for an estimate with -stamp: a table has its own")
		}
		if f.size == "" {
			return errors.New("-size not given: want the size on the sidewall; the table has to be for it")
		}
		return nil
	}
	if f.interpolate || f.loadRange != "" || f.onCar {
		return errors.New("-interpolate, -load-range and -on-car are for a table: an estimate has no rows")
	}
	if f.class == "" && f.size == "" {
		return errors.New("-stamp wants -class or -size: truck sizes have another floor, and passenger and trailer tires no estimate")
	}
	return nil
}

func (f pressureFlags) unlisted() (inflation.Unlisted, error) {
	stamp, err1 := needed("-stamp", f.stamp, "", parseStamp)
	class, err2 := optional("-class", f.class, inflation.ParseClass)
	lowest, err3 := optional("-lowest", f.lowest, inflation.ParsePressure)
	side, err4 := optional("-size", f.size, sidewall.Parse)
	if f.class != "" && errors.Is(err4, inflation.ErrSize) {
		err4 = nil // a size that is not known says nothing, and the class is stated
	}
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return inflation.Unlisted{}, err
	}
	if bySize := side.Class(); class == 0 {
		class = bySize
	} else if bySize != 0 && bySize != class {
		return inflation.Unlisted{}, fmt.Errorf("-class %s, but -size %s is a %s size: leave out the one that is wrong", class, side.Size, bySize)
	}
	return inflation.Unlisted{Class: class, Rating: inflation.Rating{Load: stamp.Load, Pressure: stamp.At}, LowestPermitted: lowest}, nil
}

// table gives the table for the size, from one file or from a folder.
func (c *call) table(file, size string, lr inflation.LoadRange) (*inflation.Table, error) {
	var tables inflation.Tables
	if file == "" {
		var err error
		if tables, err = tablefile.LoadFolder(os.DirFS(c.tables)); err != nil {
			err = fmt.Errorf("tables in %s: %w", c.tables, err)
			t, another := tables.Find(size, lr)
			if another != nil {
				return nil, err
			}
			fmt.Fprintln(c.errw, err)
			return t, nil
		}
	} else {
		t, err := c.readTable(file)
		if err != nil {
			return nil, err
		}
		if tables, err = inflation.NewTables(t); err != nil {
			return nil, err
		}
	}
	t, err := sidewall.FindTable(tables, size, lr)
	if skipped := tables.Skipped(); errors.Is(err, inflation.ErrNoTable) && len(skipped) > 0 {
		err = fmt.Errorf("%w (not tables: %s)", err, strings.Join(skipped, ", "))
	}
	if errors.Is(err, inflation.ErrNoTable) && file != "" {
		for only := range tables.All() {
			err = fmt.Errorf("%s is for size %s: %w", file, only.Size(), err)
		}
	}
	return t, err
}

func (c *call) readTable(file string) (*inflation.Table, error) {
	data, err := c.read(file)
	if err != nil {
		return nil, err
	}
	return tablefile.Read(file, data)
}

func (a pressureAnswer) text() string {
	var b strings.Builder
	wrap(&b, "", a.Share.String())
	b.WriteByte('\n')
	ans, least, over := a.Answer, pressureLeast, pressureOver
	if a.Estimate {
		least, over = pressureLeastEstimate, pressureOverEstimate
	}
	if a.Over != (overload{}) {
		wrap(&b, "", fmt.Sprintf(over, a.Over.Limit, a.Share.Fitment, a.Over.At, a.Over.Load, a.Over.Excess))
		b.WriteString(pressureUnload + "\n")
	} else {
		wrap(&b, "", strings.Join(append([]string{fmt.Sprintf(least, ans.Pressure)}, why(ans)...), " "))
		fmt.Fprintf(&b, pressureLookedUp+"\n", ans.Load)
	}
	if a.Share.Assumed {
		b.WriteString(pressureNotWeighed + "\n")
	} else {
		b.WriteString(pressureHeavierEnd + "\n")
	}
	if a.Table != "" {
		wrap(&b, "", fmt.Sprintf(pressureTable, a.Table, a.Source))
	} else {
		wrap(&b, "", fmt.Sprintf(pressureSource, a.Source))
	}
	writeCautions(&b, a.Cautions)
	return b.String()
}

// writeCautions writes what goes along with an answer, a point each.
func writeCautions(b *strings.Builder, cautions caution.Set) {
	b.WriteByte('\n')
	for caution := range cautions.All() {
		wrap(b, "- ", caution.Text())
	}
}

// wrap writes a text in lines of at most 80 columns, the first behind a lead,
// the others indented.
func wrap(b *strings.Builder, lead, text string) {
	const columns = 80
	b.WriteString(lead)
	at := utf8.RuneCountInString(lead)
	for i, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+n > columns:
			b.WriteString("\n    ")
			at = 4
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += n
	}
	b.WriteByte('\n')
}

// why says which rows an answer rests on, a sentence each.
func why(a inflation.LookUp) []string {
	var out []string
	switch {
	case a.Estimated && a.AtFloor:
		out = append(out, pressureFloor)
	case a.Estimated:
	case a.Lower != inflation.Row{}:
		out = append(out, fmt.Sprintf(pressureRows, a.Upper.Pressure, a.Upper.Load, a.Lower.Pressure, a.Lower.Load))
	default:
		out = append(out, fmt.Sprintf(pressureLowestRow, a.Upper.Load))
	}
	if a.Method == inflation.Interpolated && !a.Estimated {
		out = append(out, pressureBetween)
	}
	if a.AtCap {
		out = append(out, pressureHighest)
	}
	return out
}

// needed reads a flag that has to be given.
func needed[T any](flag, text, want string, parse func(string) (T, error)) (T, error) {
	if text == "" {
		var zero T
		return zero, fmt.Errorf("%s not given: want %s", flag, want)
	}
	return optional(flag, text, parse)
}

// optional reads a flag, or gives the zero value of one that was not given.
func optional[T any](flag, text string, parse func(string) (T, error)) (v T, err error) {
	if text == "" {
		return v, nil
	}
	if v, err = parse(text); err != nil {
		err = fmt.Errorf("%s: %w", flag, err)
	}
	return v, err
}

// parseText reads a type by its own text form.
func parseText[T any, P interface {
	*T
	UnmarshalText([]byte) error
}](text string) (v T, err error) {
	err = P(&v).UnmarshalText([]byte(text))
	return v, err
}

// systemOf is the unit system of a quantity as it was typed.
func systemOf(text string) weight.System {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, unit := range [...]string{"lb", "lbs", "psi"} {
		if strings.HasSuffix(text, unit) {
			return weight.US
		}
	}
	return weight.Metric
}

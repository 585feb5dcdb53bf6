package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// tablesFlags are what was typed; what was not stays empty.
type tablesFlags struct {
	name, size, class, loadRange, pressureUnit, loadUnit, single, dual, from, to, by string
	csv                                                                              bool
	width                                                                            int
}

func tablesCommand() *command {
	var f tablesFlags
	return &command{
		name: "tables", args: "check FILE... | show FILE | new", short: "load and inflation tables: check, show, begin a new one",
		help: `check lists everything wrong with table files, each with line and column; show
prints one as it was typed in and draws its curve; new writes a commented file
to fill in from a printed table, as YAML or, with -csv, as CSV.

Example: axleend tables check examples/demo/xv250.yaml
Example: axleend tables show examples/demo/xv250.yaml
Example: axleend tables new -size XV250/72R21 -class truck -single "per tire" -dual "per tire" -from 80psi -to 110psi -by 5psi
         axleend tables new -csv -size XV250/72R21 -class truck -o table.csv`,
		run: func(c *call, args []string) int { return tables(c, f, args) },
		flags: func(c *call) {
			c.flags.StringVar(&f.size, "size", "", "new: size of the tire, without load range or load index")
			c.flags.StringVar(&f.name, "name", "", "new: what answers will call the table")
			c.flags.StringVar(&f.class, "class", "", "new: passenger, light truck, truck or trailer (default: what the size says)")
			c.flags.StringVar(&f.loadRange, "load-range", "", "new: load range, if all rows are for one")
			c.flags.StringVar(&f.pressureUnit, "pressure-unit", "psi", "new: psi, kPa or bar, as printed")
			c.flags.StringVar(&f.loadUnit, "load-unit", "lb", "new: lb or kg, as printed")
			c.flags.StringVar(&f.single, "single", "", "new: basis of the single loads: per tire, per end or per axle")
			c.flags.StringVar(&f.dual, "dual", "", "new: basis of the dual loads: per tire, per end (a pair) or per axle")
			c.flags.StringVar(&f.from, "from", "", "new: lowest `pressure` in the table")
			c.flags.StringVar(&f.to, "to", "", "new: highest `pressure` in the table")
			c.flags.StringVar(&f.by, "by", "", "new: `pressure` from row to row")
			c.flags.BoolVar(&f.csv, "csv", false, "new: write CSV, for a spreadsheet")
			c.flags.IntVar(&f.width, "width", 72, "show: `columns` of the curve")
			c.asFlag()
			c.fileFlags()
		},
	}
}

func tables(c *call, f tablesFlags, args []string) int {
	word := ""
	if len(args) > 0 {
		word = args[0]
	}
	switch {
	case word != "new" && c.file != "":
		return c.misuse("-o goes with tables new alone: check and show print what they found")
	case word == "check" && len(args) > 1:
		return checkTables(c, args[1:])
	case word == "show" && len(args) == 2:
		return showTable(c, args[1], f.width)
	case word == "new" && len(args) == 1:
		return newTable(c, f)
	}
	return c.misuse("tables wants check FILE..., show FILE or new; axleend tables -h shows how it is used")
}

// A tableProblem is one thing wrong with a table file.
type tableProblem struct {
	origin.Position
	Path  string `json:"path,omitzero"`
	Code  string `json:"code,omitzero"`
	Error string `json:"error"`
}

// A checkedTable is what the command prints of one file as JSON.
type checkedTable struct {
	File     string         `json:"file"`
	Good     bool           `json:"good"`
	Name     string         `json:"name,omitzero"`
	Size     string         `json:"size,omitzero"`
	Problems []tableProblem `json:"problems,omitempty"`
	More     int            `json:"more_problems,omitzero"`
}

// A checkedTables is the answer to a check of several files, with what is
// only seen across them.
type checkedTables struct {
	Files []checkedTable `json:"files"`
	Notes []string       `json:"notes,omitempty"`
}

func checkTables(c *call, files []string) int {
	code := exitDone
	var all checkedTables
	var good []*inflation.Table
	for _, file := range files {
		data, err := c.read(file)
		if err != nil {
			return c.fail(err)
		}
		t, err := tablefile.Read(file, data)
		if err != nil {
			all.Files = append(all.Files, problemsOf(file, err))
			code = exitStop
			continue
		}
		all.Files = append(all.Files, checkedTable{File: file, Good: true, Name: t.Name(), Size: t.Size()})
		good = append(good, t)
	}
	set, err := inflation.NewTables(good...)
	if err != nil {
		all.Notes = append(all.Notes, err.Error())
		code = exitStop
	}
	for t := range set.All() {
		// Not bad by itself: a load range may settle which one is meant.
		if _, err := set.Find(t.Size(), ""); err != nil && !slices.Contains(all.Notes, err.Error()) {
			all.Notes = append(all.Notes, err.Error())
		}
	}
	if c.as == "json" {
		return worse(c.printJSON(all), code)
	}
	var b strings.Builder
	for _, file := range all.Files {
		if file.Good {
			fmt.Fprintf(&b, "%s: good: %s, size %s\n", file.File, file.Name, file.Size)
			continue
		}
		fmt.Fprintf(&b, "%s: bad, problems: %d\n", file.File, len(file.Problems)+file.More)
		for _, p := range file.Problems {
			fmt.Fprintf(&b, "  %s\n", origin.Problem{Position: p.Position, Path: p.Path, Code: p.Code, Err: errors.New(p.Error)}.Error())
		}
		if file.More > 0 {
			fmt.Fprintf(&b, "  and %d more\n", file.More)
		}
	}
	for _, note := range all.Notes {
		fmt.Fprintf(&b, "note: %s\n", note)
	}
	if len(good) > 0 {
		b.WriteString(c.narrowed("Good means that nothing contradicts: compare every figure with the page it was\ntyped from.\n"))
	}
	return worse(c.print(b.String()), code) // a problem stays on its line, for editors
}

func problemsOf(file string, err error) checkedTable {
	out := checkedTable{File: file}
	var list *origin.Problems
	if !errors.As(err, &list) {
		out.Problems = []tableProblem{{Position: origin.Position{File: file}, Error: err.Error()}}
		return out
	}
	for _, p := range list.All() {
		what := p.Code
		if p.Err != nil {
			what = p.Err.Error()
		}
		out.Problems = append(out.Problems, tableProblem{Position: p.Position, Path: p.Path, Code: p.Code, Error: what})
	}
	out.More = list.More()
	return out
}

// A shownTable is a table as JSON: loads on one tire.
type shownTable struct {
	Name         string                 `json:"name"`
	Size         string                 `json:"size"`
	Class        inflation.Class        `json:"class"`
	Construction inflation.Construction `json:"construction,omitzero"`
	Source       origin.Source          `json:"source"`
	Minimum      inflation.Pressure     `json:"minimum"`
	Caps         []shownCap             `json:"caps,omitempty"`
	SinglePrint  inflation.LoadPer      `json:"single_printed,omitzero"`
	DualPrint    inflation.LoadPer      `json:"dual_printed,omitzero"`
	Single       []inflation.Row        `json:"single_per_tire,omitempty"`
	Dual         []inflation.Row        `json:"dual_per_tire,omitempty"`
}

type shownCap struct {
	LoadRange inflation.LoadRange `json:"load_range"`
	Max       inflation.Pressure  `json:"max"`
}

func showTable(c *call, file string, width int) int {
	t, err := c.readTable(file)
	if err != nil {
		return c.fail(err)
	}
	if c.as != "json" {
		return c.print(c.narrowed(tablefile.Text(t)) + "\n" + tablefile.Curve(t, min(width, max(pageColumns(c.page), leastColumns))))
	}
	s := shownTable{Name: t.Name(), Size: t.Size(), Class: t.Class(), Construction: t.Construction(), Source: t.Source(), Minimum: t.Minimum(),
		SinglePrint: t.LoadsPer(weight.Single), DualPrint: t.LoadsPer(weight.Dual),
		Single: slices.Collect(t.Rows(weight.Single)), Dual: slices.Collect(t.Rows(weight.Dual))}
	for lr, most := range t.Caps() {
		s.Caps = append(s.Caps, shownCap{lr, most})
	}
	return c.printJSON(s)
}

// A newFile is a file to fill in, as JSON.
type newFile struct {
	Format string `json:"format"`
	Text   string `json:"text"`
}

func newTable(c *call, f tablesFlags) int {
	if f.size == "" {
		return c.misuse("-size not given: want the size of the tire, such as LT225/75R16")
	}
	o := tablefile.Outline{Name: f.name, Size: f.size}
	// One of a unit is what an outline calls the unit.
	one := func(unit string) string { return "1 " + unit }
	var errs [9]error
	o.Class, errs[0] = optional("-class", f.class, inflation.ParseClass)
	o.LoadRange, errs[1] = optional("-load-range", f.loadRange, inflation.ParseLoadRange)
	o.PressureUnit, errs[2] = optional("-pressure-unit", one(f.pressureUnit), inflation.ParsePressure)
	o.LoadUnit, errs[3] = optional("-load-unit", one(f.loadUnit), weight.ParseMass)
	o.Single, errs[4] = optional("-single", f.single, inflation.ParseLoadPer)
	o.Dual, errs[5] = optional("-dual", f.dual, inflation.ParseLoadPer)
	o.Lowest, errs[6] = optional("-from", f.from, inflation.ParsePressure)
	o.Highest, errs[7] = optional("-to", f.to, inflation.ParsePressure)
	o.Step, errs[8] = optional("-by", f.by, inflation.ParsePressure)
	if err := errors.Join(errs[:]...); err != nil {
		return c.fail(err)
	}
	write, format := o.YAML, "yaml"
	if f.csv {
		write, format = o.CSV, "csv"
	}
	data, err := write()
	if err != nil {
		return c.fail(err)
	}
	if c.as == "json" {
		return c.printJSON(newFile{Format: format, Text: string(data)})
	}
	return c.save(data)
}

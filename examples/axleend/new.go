package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

// newFlags are what the new command is told of the coach.
type newFlags struct {
	drive, tag, towed, spares int
	singles                   bool
	units                     weight.System
	from, pressures           string
}

func newCommand() *command {
	var f newFlags
	return &command{
		name: "new", args: "", short: "a visit file to fill in, for this coach's axles",
		help: "Writes a visit file with every wheel position of the coach, to be filled in with\nan editor or, printed, by hand. It is a whole visit as it is: everything in it\nsays \"not read\".\n\n-from writes the coach's next visit from its last one. Axles, ratings, sizes,\nstamps and numbers stay; readings are blank; what a tire was left at becomes its\nlast_set; what was advised is listed at the end, for you to say what was done.\n\n-as html writes a form to print and fill in with a pencil, in the order of the\nwork: one side of a sheet, two for many tires.\n\nExample: axleend new -tag 1 -towed 2 -spares 1 -on 2026-10-03\n         axleend new -from last.yaml -o next.yaml\n         axleend new -as html -tag 1 -spares 1 -o form.html",
		run:  func(c *call, args []string) int { return newVisit(c, args, f) },
		flags: func(c *call) {
			c.flags.IntVar(&f.drive, "drive", 1, "drive axles, with duals")
			c.flags.BoolVar(&f.singles, "singles", false, "no duals: one tire on each end of the drive axles")
			c.flags.IntVar(&f.tag, "tag", 0, "tag axles")
			c.flags.IntVar(&f.towed, "towed", 0, "axles of the towed unit")
			c.flags.IntVar(&f.spares, "spares", 0, "spare tires")
			c.flags.TextVar(&f.units, "units", weight.US, "us or metric")
			c.flags.StringVar(&f.pressures, "pressures", "", "`unit`: psi, kPa or bar (default: psi, or kPa with -units metric)")
			c.flags.StringVar(&f.from, "from", "", "the `file` of the last visit, whose coach it is")
			c.flags.StringVar(&c.on, "on", "", "day of the visit, such as 2026-10-03 (default: today)")
			c.forms = []string{"yaml", "html"}
			c.flags.StringVar(&c.as, "as", "yaml", "how to write it: "+strings.Join(c.forms, ", "))
			c.fileFlags()
		},
	}
}

func newVisit(c *call, args []string, f newFlags) int {
	if len(args) > 0 {
		return c.misuse("new takes flags only, found %q; axleend new -h shows them", args[0])
	}
	blank := record.Blank{Date: dotcode.DateOf(time.Now()), System: f.units, PressureUnit: f.pressures, Spares: f.spares}
	if c.on != "" {
		var err error
		if blank.Date, err = dotcode.ParseDate(c.on); err != nil {
			return c.misuse("-on: %v", err)
		}
	}
	if !slices.Contains([]string{"", "psi", "kPa", "bar"}, f.pressures) {
		return c.misuse("-pressures %q: want psi, kPa or bar", f.pressures)
	}
	if f.from != "" {
		return nextVisit(c, f, blank.Date)
	}
	for _, n := range []struct {
		name  string
		value int
	}{{"drive", f.drive}, {"tag", f.tag}, {"towed", f.towed}} {
		if n.value < 0 || n.value > weight.MaxAxles {
			return c.misuse("-%s %d: want 0 to %d", n.name, n.value, weight.MaxAxles)
		}
	}
	fit := weight.Dual
	if f.singles {
		fit = weight.Single
	}
	blank.Axles = []record.Axle{{ID: "steer", Fitment: weight.Single}}
	add := func(id string, n int, a record.Axle) {
		for i := range n {
			a.ID = id
			if n > 1 || id == "towed" { // which by itself means all of the unit
				a.ID = fmt.Sprintf("%s-%d", id, i+1)
			}
			blank.Axles = append(blank.Axles, a)
		}
	}
	add("drive", f.drive, record.Axle{Fitment: fit})
	add("tag", f.tag, record.Axle{Fitment: weight.Single})
	add("towed", f.towed, record.Axle{Fitment: weight.Single, Towed: true})
	data, err := blank.YAML()
	if err != nil {
		return c.fail(err)
	}
	if c.as != "html" {
		return c.save(data)
	}
	visit, err := record.Read("", data)
	if err != nil {
		return c.fail(err)
	}
	return c.saveForm(visit)
}

// saveForm writes the form of a visit to fill in by hand.
func (c *call) saveForm(v *record.Visit) int {
	var b bytes.Buffer
	if err := sheet.Form(&b, v); err != nil {
		return c.fail(err)
	}
	return c.savePage(b.Bytes())
}

// nextVisit writes the visit after the last one.
func nextVisit(c *call, f newFlags, day dotcode.Date) int {
	file := f.from
	data, err := c.read(file)
	if err != nil {
		return c.fail(err)
	}
	last, err := record.Read(file, data)
	if err != nil {
		return c.fail(err)
	}
	if !last.Date.Before(day) {
		return c.misuse("-on %s: the last visit was on %s, want a later day", day, last.Date)
	}
	next := record.Next(last, day)
	if f.pressures != "" {
		next.PressureUnit = f.pressures
	}
	if c.as == "html" {
		return c.saveForm(next)
	}
	var setup inspect.Setup
	if file != "-" { // a table that cannot be read leaves advice out, and nothing else
		setup.Tables, _ = tablefile.LoadFolder(os.DirFS(ownFolder(file)))
	}
	report, err := inspect.Assess(last, setup)
	if err != nil {
		return c.fail(err)
	}
	page, err := record.Marshal(next)
	if err != nil {
		return c.fail(err)
	}
	out := bytes.NewBufferString("# The next visit. Write over \"not read\" what was read, with its unit; let it stand\n# where nobody read. Look at what is kept from the last visit: it is as it was then.\n")
	out.Write(page)
	if len(report.Todo) > 0 {
		fmt.Fprintf(out, "\n# Advised on %s. Take the # off what was done since, and write how.\n#done:\n", last.Date)
	}
	for _, item := range report.Todo {
		for _, rule := range item.Rules[:min(1, len(item.Rules))] {
			fmt.Fprintf(out, "#  - {at: %s, rule: %s, note: ____}   # %s: %s\n", item.Where, rule, strings.ReplaceAll(string(item.Action), "_", " "), item.What)
		}
	}
	return c.save(out.Bytes())
}

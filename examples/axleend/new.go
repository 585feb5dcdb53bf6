package main

import (
	"fmt"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// newFlags are what the new command is told of the coach.
type newFlags struct {
	drive, tag, towed, spares int
	singles                   bool
	units                     weight.System
}

func newCommand() *command {
	var f newFlags
	return &command{
		name: "new", args: "", short: "a visit file to fill in, for this coach's axles",
		help: "Writes a visit file with every wheel position of the coach, to be filled in with\nan editor or, printed, by hand. It is a whole visit as it is: all in it was \"not\nread\".\n\nExample: axleend new -tag 1 -towed 2 -spares 1 -on 2026-10-03",
		run:  func(c *call, args []string) int { return newVisit(c, args, f) },
		flags: func(c *call) {
			c.flags.IntVar(&f.drive, "drive", 1, "drive axles, with duals")
			c.flags.BoolVar(&f.singles, "singles", false, "no duals: one tire on each end of the drive axles")
			c.flags.IntVar(&f.tag, "tag", 0, "tag axles")
			c.flags.IntVar(&f.towed, "towed", 0, "axles of the towed unit")
			c.flags.IntVar(&f.spares, "spares", 0, "spare tires")
			c.flags.TextVar(&f.units, "units", weight.US, "us or metric")
			c.flags.StringVar(&c.on, "on", "", "day of the visit, such as 2026-10-03 (default: today)")
			c.fileFlags()
		},
	}
}

func newVisit(c *call, args []string, f newFlags) int {
	if len(args) > 0 {
		return c.misuse("new takes flags only, found %q; axleend new -h shows them", args[0])
	}
	blank := record.Blank{Date: dotcode.DateOf(time.Now()), System: f.units, Spares: f.spares}
	if c.on != "" {
		var err error
		if blank.Date, err = dotcode.ParseDate(c.on); err != nil {
			return c.misuse("-on: %v", err)
		}
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
	return c.save(data)
}

package main

import (
	"time"

	"axleend.example/dotcode"
)

func date(c *call, args []string) int {
	on := dotcode.DateOf(time.Now())
	if c.on != "" {
		var err error
		if on, err = dotcode.ParseDate(c.on); err != nil {
			return c.misuse("-on: %v", err)
		}
	}
	code := exitDone
	out := answers{c: c, hold: len(args) > 0}
	err := c.each(args, "code", func(_, text string) error {
		r := dotcode.Explain(text, dotcode.Marks{}, on)
		if r.Err() != nil {
			code = exitStop
		}
		return out.add(r, r.String()+"\n")
	})
	if err = out.end(err, dotcode.Caution+"\n"); err != nil {
		return c.fail(err)
	}
	if out.n == 0 {
		return c.misuse("date wants a number or date code, as an argument or a line of standard input")
	}
	return code
}

package main

import (
	"fmt"
	"strings"
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
	if len(args) == 0 {
		var err error
		if args, err = c.lines(); err != nil {
			return c.fail(err)
		}
	}
	if len(args) == 0 {
		return c.misuse("date wants a number or date code, as an argument or a line of standard input")
	}
	code := exitDone
	var b strings.Builder
	reports := make([]dotcode.Report, len(args))
	for i, text := range args {
		r := dotcode.Explain(text, dotcode.Marks{}, on)
		if reports[i] = r; r.Err() != nil {
			code = exitStop
		}
		fmt.Fprintf(&b, "%s\n", r)
	}
	if c.as == "json" {
		return worse(c.printJSON(reports), code)
	}
	fmt.Fprintf(&b, "%s\n", dotcode.Caution)
	return worse(c.print(b.String()), code)
}

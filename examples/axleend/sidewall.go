package main

import (
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func sidewallCommand() *command {
	var road string
	return &command{
		name: "sidewall", args: `["TEXT" ...]`, short: "what the stamps on a sidewall say, and whether they agree",
		help: `Reads what is stamped on a sidewall: one sidewall per argument, or per line of
standard input. The size comes first, then load index and speed symbol, load
range, ply rating, and the maximum loads. Stamps that contradict each other, or
a speed symbol below -road, are listed, and the exit status is 1.

Example: axleend sidewall "LT225/75R16 115/112R load range E max load single 2680 lb at 80 psi cold"`,
		run: func(c *call, args []string) int { return readSidewalls(c, road, args) },
		flags: func(c *call) {
			c.flags.StringVar(&road, "road", "", "highest road `speed`, such as 65mph, to hold against the speed symbol")
			c.asFlag()
		},
	}
}

// A stampedIndex is a load index with the load it stands for.
type stampedIndex struct {
	Index  sidewall.LoadIndex `json:"index"`
	Load   weight.Mass        `json:"load"`
	Source origin.Source      `json:"source"`
}

// A sidewallAnswer is what the command prints of one sidewall as JSON.
type sidewallAnswer struct {
	Text        string                 `json:"text"`
	Sidewall    sidewall.Stamps        `json:"sidewall"`
	Class       inflation.Class        `json:"class"`
	Rim         weight.Length          `json:"rim_diameter"`
	Build       inflation.Construction `json:"construction"`
	SingleIndex stampedIndex           `json:"single_index,omitzero"`
	DualIndex   stampedIndex           `json:"dual_index,omitzero"`
	Speed       inflation.Speed        `json:"speed,omitzero"`
	Doubts      []sidewall.Doubt       `json:"doubts"`
}

func readSidewalls(c *call, roadText string, args []string) int {
	road, err := optional("-road", roadText, inflation.ParseSpeed)
	if err != nil {
		return c.fail(err)
	}
	code := exitDone
	out := answers{c: c, hold: len(args) > 0}
	err = c.each(args, "sidewall", func(where, text string) error {
		s, err := sidewall.Parse(text)
		if err != nil {
			hint := ""
			if len(args) > 1 && out.n > 0 {
				hint = "; put one whole sidewall into quotes"
			}
			return fmt.Errorf("%s: %w%s", where, err, hint)
		}
		a := sidewallAnswer{Text: text, Sidewall: s, Class: s.Class(), Rim: s.Size.RimDiameter(), Build: s.Size.Construction(),
			SingleIndex: indexOf(s.SingleIndex), DualIndex: indexOf(s.DualIndex), Speed: s.Speed.Speed(), Doubts: s.Doubts(road)}
		if len(a.Doubts) > 0 {
			code = exitStop
		} else {
			a.Doubts = []sidewall.Doubt{}
		}
		var b strings.Builder
		if out.n > 0 {
			b.WriteByte('\n')
		}
		a.write(&b)
		return out.add(a, b.String())
	})
	if err = out.end(err, ""); err != nil {
		return c.fail(err)
	}
	if out.n == 0 {
		return c.misuse("sidewall wants what stands on a sidewall, as an argument in quotes or a line of standard input")
	}
	return code
}

func indexOf(i sidewall.LoadIndex) stampedIndex {
	if !i.Known() {
		return stampedIndex{}
	}
	return stampedIndex{Index: i, Load: i.Load(), Source: i.Source()}
}

func (a sidewallAnswer) write(b *strings.Builder) {
	s := a.Sidewall
	wrap(b, "", s.String())
	wrap(b, "  size            ", fmt.Sprintf("%s: class %s, construction %s, rim %s", s.Size, a.Class, a.Build, a.Rim))
	if s.LoadRange != "" {
		fmt.Fprintf(b, "  load range      %s", s.LoadRange)
		if ply, ok := s.LoadRange.PlyRating(); ok {
			fmt.Fprintf(b, ", ply rating %d", ply)
		}
		b.WriteByte('\n')
	}
	for _, f := range [...]struct {
		fit   weight.Fitment
		index stampedIndex
	}{{weight.Single, a.SingleIndex}, {weight.Dual, a.DualIndex}} {
		if f.index.Index.Known() {
			wrap(b, "  load index      ", fmt.Sprintf("%s %s = %s on one tire; %s", f.fit, f.index.Index, f.index.Load, f.index.Source))
		}
		if r := s.Rating(f.fit); r.Load != 0 {
			fmt.Fprintf(b, "  maximum load    %s %s", f.fit, r.Load)
			if r.Pressure != 0 {
				fmt.Fprintf(b, " at %s cold", r.Pressure)
			} else {
				b.WriteString(", at a pressure that was not read")
			}
			b.WriteByte('\n')
		}
	}
	if s.MaxPressure != 0 {
		fmt.Fprintf(b, "  maximum         %s cold\n", s.MaxPressure)
	}
	if s.Speed != 0 {
		fmt.Fprintf(b, "  speed symbol    %s = %s\n", s.Speed, a.Speed)
	}
	for _, d := range a.Doubts {
		kind := d.Kind.String()
		if d.Fitment != 0 {
			kind += " (" + d.Fitment.String() + ")"
		}
		wrap(b, "  DOUBT           ", fmt.Sprintf("%s: stamped %s, expected %s", kind, d.Stamped, d.Expected))
	}
	if len(a.Doubts) > 0 {
		b.WriteString("Read the sidewall again before relying on it.\n")
	} else {
		b.WriteString("Nothing read contradicts. That says nothing about the tire's condition.\n")
	}
}

package main

import (
	"fmt"
	"strings"

	"axleend.example/inspect/loading"
	"axleend.example/rules"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func loadCommand() *command {
	return &command{
		name: "load", args: "VISIT", short: "what can still be loaded, and what has to move",
		help: "Reads a visit file (\"-\" is standard input) with a trip in it and prints what is\nexpected on every axle end after the changes for the trip, what may still be\nloaded at each station and which limit binds, and the least cargo to move so\nthat every limit is surely kept. Exits with 1 when no moves are enough.\n\nExample: axleend load examples/demo/trip.yaml",
		run:  load, flags: loadFlags,
	}
}

func load(c *call, args []string) int {
	v, code := c.visit("load", args)
	if v == nil {
		return code
	}
	setup, err := c.packSetup(v)
	if err != nil {
		return c.fail(err)
	}
	r, err := loading.Plan(c.ctx, v, setup)
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	code = exitDone
	if !r.Clears && judgedLoads(r) {
		code = exitStop
	}
	if c.as == "json" {
		return worse(c.printJSON(r), code)
	}
	return worse(c.say(loadText(r)), code)
}

func loadText(r loading.TripReport) string {
	p := &loadPage{system: r.System}
	p.say(0, "%s", loadHead(r))
	p.heading(r.Heading)
	p.problems(r.Problems)
	if len(r.Changes) > 0 {
		p.title("Changes for the trip")
	}
	for _, ch := range r.Changes {
		sign := "+"
		if ch.Mass < 0 {
			sign = ""
		}
		p.say(2, "%-28s %12s  at %s", ch.Name, sign+p.mass(ch.Mass, weight.Ceiling), ch.At)
	}
	p.expected(r)
	p.moves(r)
	p.title("What can still be loaded, at one station alone")
	for _, s := range r.Stations {
		p.station(s)
	}
	p.label(r.Label)
	p.unjudged(r.Unjudged)
	p.cautions(r.Cautions)
	return p.String()
}

// judgedLoads reports whether any limit was judged.
func judgedLoads(r loading.TripReport) bool {
	judged := r.Least.Least != 0
	for _, l := range r.Loads {
		for _, m := range l.Margins {
			judged = judged || m.Verdict != rules.NotRecorded
		}
	}
	return judged
}

func loadHead(r loading.TripReport) string {
	judged := judgedLoads(r)
	var head string
	switch o := r.Moves.Outcome; {
	case !judged:
		head = "NOTHING JUDGED: no rating or no load is known"
	case r.Clears && o == cargo.NothingToMove:
		head = "NOTHING HAS TO MOVE"
	case r.Clears:
		head = "MOVE CARGO: the moves below clear every limit judged"
	case o == cargo.MustStay || o == cargo.MustStayFound:
		head = "MOVES ARE NOT ENOUGH: something must stay home"
	case o == cargo.Hopeless:
		head = "NO PLAN CLEARS IT, even with everything that may move left home"
	case o == cargo.NotSettled:
		head = "NO PLAN FOUND"
	default:
		head = "NOT CLEARED: see the readings, the problems and the stations below"
	}
	if n := len(r.Unjudged); n > 0 {
		head += fmt.Sprintf(" - NOT JUDGED: %d", n)
	}
	return head
}

func (p *loadPage) expected(r loading.TripReport) {
	p.title("Expected loads")
	moved := len(r.Moves.Moves) + len(r.Moves.StayHome)
	columns := fmt.Sprintf("%-18s %-20s %-20s", "", "as weighed", "after the changes")
	if moved > 0 {
		columns += " after the moves"
	}
	p.say(0, "%s", columns)
	var limits []loading.MarginLine
	for _, l := range r.Loads {
		limits = append(limits, l.Margins...)
		row := fmt.Sprintf("%-18s %-20s %-20s", l.Name, p.estimate(l.Weighed), p.estimate(l.Expected))
		if moved > 0 {
			row += " " + p.estimate(l.AfterMoves)
		}
		p.say(0, "%s", row)
		for i, m := range l.Margins {
			line := fmt.Sprintf("%-10s %-14s %10s  %s", verdictWord(m.Verdict), m.What, p.mass(m.Rating, weight.Floor), p.room(m.Verdict, m.Room))
			if i < len(l.MovedMargins) {
				after := l.MovedMargins[i]
				line += "; after moves " + p.room(after.Verdict, after.Room)
			}
			p.say(4, "%s", line)
		}
	}
	p.halfGAWR(limits)
	if l := r.Least; l.Least != 0 {
		word := func(kept bool, room weight.Mass) string {
			if kept {
				return "kept, may lose " + p.number(room, weight.Floor)
			}
			return "NOT SURELY KEPT"
		}
		p.say(0, "least on the steer axle %s: %s; after the moves: %s", p.mass(l.Least, weight.Ceiling), word(l.Kept, l.Room), word(l.MovedKept, l.MovedRoom))
	}
}

func (p *loadPage) moves(r loading.TripReport) {
	m := r.Moves
	p.title("Moves")
	if len(m.Moves) == 0 && len(m.StayHome) == 0 {
		p.say(0, "None: %s.", m.Outcome)
	}
	for _, v := range m.Moves {
		p.say(2, "%s (%s): from %s to %s", v.Item, p.mass(v.Mass, weight.Nearest), v.From, v.To)
	}
	if len(m.StayHome) > 0 {
		p.say(2, "leave at home: %s (%s)", strings.Join(m.StayHome, ", "), p.mass(m.StayMass, weight.Nearest))
	}
	switch m.Outcome {
	case cargo.Best:
		p.say(0, "%s moved; proven the least that clears every limit judged.", p.mass(m.MovedMass, weight.Nearest))
	case cargo.BestFound:
		p.say(0, "%s moved, the best found; no plan moves less than %s.", p.mass(m.MovedMass, weight.Nearest), p.mass(m.NoLessThan, weight.Floor))
	case cargo.MustStay:
		p.say(0, "Proven: no less may stay at home.")
	case cargo.MustStayFound:
		p.say(0, "The best found; no less than %s must stay at home.", p.mass(m.NoLessThan, weight.Floor))
	case cargo.NotSettled:
		if len(m.StayHome) > 0 {
			p.say(0, "That is enough; whether less may stay at home is not known.")
		}
	}
	for _, b := range m.Blocking {
		p.say(2, "no move is enough for: %s", b)
	}
}

func (p *loadPage) station(s loading.StationLine) {
	p.say(0, "%-24s %s", s.Name, p.roomAt(s.Room))
	if after, ok := s.MovedRoom.Get(); ok {
		p.say(4, "after the moves: %s", p.roomAt(after))
	}
	if most, ok := s.Most.Get(); ok {
		note := ""
		if s.Over {
			note = " - TOO MUCH"
		}
		p.say(4, "holds %s of the %s it may hold%s", p.mass(s.Held, weight.Ceiling), p.mass(most, weight.Floor), note)
	}
}

func (p *loadPage) roomAt(r cargo.Room) string {
	if !r.Known {
		return "not judged: no limit is known that loading here presses on"
	}
	out := p.mass(r.Mass, weight.Floor)
	if r.Mass == 0 {
		out = "nothing"
	}
	out += ", then " + r.LimitedBy
	if len(r.NotJudged) > 0 {
		out += "; not judged: " + strings.Join(r.NotJudged, "; ")
	}
	return out
}

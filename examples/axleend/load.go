package main

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inspect/loading"
	"axleend.example/rules"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func loadCommand() *command {
	return &command{
		name: "load", args: "VISIT", short: "what can still be loaded, and what has to move",
		help: "Reads a visit file (\"-\" is standard input) with a trip in it and prints what is\nexpected on every axle end after the changes for the trip, what may still be\nloaded at each station and which limit binds, and the least cargo to move so\nthat every limit is surely kept. Exits with 1 when that does not clear the trip:\nno moves are enough, or a rating or a load was not read.\n\nExample: axleend load examples/demo/trip.yaml",
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
	if !r.Clears {
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
		p.title(tripChanges)
	}
	for _, ch := range r.Changes {
		sign := "+"
		if ch.Mass < 0 {
			sign = ""
		}
		p.say(2, tripAt, ch.Name, sign+p.mass(ch.Mass, weight.Ceiling), ch.At)
	}
	p.expected(r)
	p.moves(r)
	p.title(tripStations)
	open := func(s loading.StationLine) bool { return len(s.Room.NotJudged) > 0 }
	if slices.ContainsFunc(r.Stations, open) {
		p.say(0, tripRoomLeft)
	}
	for _, s := range r.Stations {
		p.station(s)
	}
	p.label(r.Label, labelAllowsThen)
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

// left reports whether what was not judged is all that is left to clear a plan, as far
// as its moves go.
func left(r loading.TripReport) bool {
	over := func(s loading.StationLine) bool { return s.Over }
	return len(r.Unjudged) > 0 && len(r.Problems) == 0 && !slices.ContainsFunc(r.Stations, over)
}

func loadHead(r loading.TripReport) string {
	judged := judgedLoads(r)
	var head string
	switch o := r.Moves.Outcome; {
	case !judged:
		head = tripNothing
	case r.Clears && o == cargo.NothingToMove:
		head = tripStay
	case r.Clears:
		head = tripMove
	case left(r) && o == cargo.NothingToMove:
		head = tripStayLeft
	case left(r) && (o == cargo.Best || o == cargo.BestFound):
		head = tripMoveLeft
	case o == cargo.MustStay || o == cargo.MustStayFound:
		head = tripNotEnough
	case o == cargo.Hopeless:
		head = tripHopeless
	case o == cargo.NotSettled:
		head = tripNoPlan
	default:
		head = tripNotCleared
	}
	if n := len(r.Unjudged); n > 0 {
		head = fmt.Sprintf(tripHeadGaps, head, n)
	}
	return head
}

func (p *loadPage) expected(r loading.TripReport) {
	p.title(tripExpected)
	moved := len(r.Moves.Moves) + len(r.Moves.StayHome)
	columns := fmt.Sprintf(tripColumns, "", tripAsWeighed, tripAfterChanges)
	if moved > 0 {
		columns += " " + tripAfterMoves
	}
	p.say(0, "%s", columns)
	var limits []loading.MarginLine
	for _, l := range r.Loads {
		limits = append(limits, l.Margins...)
		row := fmt.Sprintf(tripColumns, l.Name, p.estimate(l.Weighed), p.estimate(l.Expected))
		if moved > 0 {
			row += " " + p.estimate(l.AfterMoves)
		}
		p.say(0, "%s", row)
		for i, m := range l.Margins {
			line := fmt.Sprintf("%-10s %-14s %10s  %s", verdictWord(m.Verdict), m.What, p.mass(m.Rating, weight.Floor), p.room(m.Verdict, m.Room))
			if i < len(l.MovedMargins) {
				after := l.MovedMargins[i]
				line = fmt.Sprintf(tripAfterRoom, line, p.room(after.Verdict, after.Room))
			}
			p.say(4, "%s", line)
		}
	}
	p.halfGAWR(limits)
	if l := r.Least; l.Least != 0 {
		word := func(kept bool, room weight.Mass) string {
			if kept {
				return fmt.Sprintf(tripKept, p.number(room, weight.Floor))
			}
			return tripNotKept
		}
		p.say(0, tripLeast, p.mass(l.Least, weight.Ceiling), word(l.Kept, l.Room), word(l.MovedKept, l.MovedRoom))
	}
}

func (p *loadPage) moves(r loading.TripReport) {
	m := r.Moves
	p.title(tripMoves)
	if len(m.Moves) == 0 && len(m.StayHome) == 0 {
		p.say(0, tripNoMoves, m.Outcome)
	}
	for _, v := range m.Moves {
		p.say(2, tripMoveOne, v.Item, p.mass(v.Mass, weight.Nearest), v.From, v.To)
	}
	if len(m.StayHome) > 0 {
		p.say(2, tripLeave, strings.Join(m.StayHome, ", "), p.mass(m.StayMass, weight.Nearest))
	}
	switch m.Outcome {
	case cargo.Best:
		p.say(0, tripBest, p.mass(m.MovedMass, weight.Nearest))
	case cargo.BestFound:
		p.say(0, tripBestFound, p.mass(m.MovedMass, weight.Nearest), p.mass(m.NoLessThan, weight.Floor))
	case cargo.MustStay:
		p.say(0, tripProven)
	case cargo.MustStayFound:
		p.say(0, tripMustStay, p.mass(m.NoLessThan, weight.Floor))
	case cargo.NotSettled:
		if len(m.StayHome) > 0 {
			p.say(0, tripEnough)
		}
	}
	for _, b := range m.Blocking {
		p.say(2, tripBlocking, b)
	}
}

func (p *loadPage) station(s loading.StationLine) {
	p.say(0, "%-24s %s", s.Name, p.roomAt(s.Room))
	if after, ok := s.MovedRoom.Get(); ok {
		p.say(4, stationAfter, p.roomAt(after))
	}
	if most, ok := s.Most.Get(); ok {
		words := stationHolds
		if s.Over {
			words = stationTooMuch
		}
		p.say(4, words, p.mass(s.Held, weight.Ceiling), p.mass(most, weight.Floor))
	}
}

func (p *loadPage) roomAt(r cargo.Room) string {
	if !r.Known {
		return stationNoLimit
	}
	out := p.mass(r.Mass, weight.Floor)
	if r.Mass == 0 {
		out = stationNothing
	}
	if len(r.NotJudged) > 0 {
		return fmt.Sprintf(stationThenGaps, out, r.LimitedBy, strings.Join(r.NotJudged, "; "))
	}
	return fmt.Sprintf(stationThen, out, r.LimitedBy)
}

package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"axleend.example/inspect/loading"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

func weighCommand() *command {
	return &command{
		name: "weigh", args: "VISIT", short: "only the weighing: each axle end's load and its margins",
		help: "Reads a visit file (\"-\" is standard input) and prints what the scale says of\nevery axle end, axle, side and whole, how sure that is, and how far it is from\neach rating that the packs hold it to. Exits with 1 when something is surely\nover a limit that stops the coach.\n\nExample: axleend weigh examples/demo/trip.yaml",
		run:  weigh, flags: loadFlags,
	}
}

// loadFlags are those of the commands on loads: tables beside a visit say nothing
// about these.
func loadFlags(c *call) {
	c.packFlags()
	c.asFlag()
}

func weigh(c *call, args []string) int {
	v, code := c.visit("weigh", args)
	if v == nil {
		return code
	}
	setup, err := c.packSetup(v)
	if err != nil {
		return c.fail(err)
	}
	r, err := loading.Weigh(v, setup)
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	code = exitDone
	if r.Stops {
		code = exitStop
	}
	if c.as == "json" {
		return worse(c.printJSON(r), code)
	}
	return worse(c.say(weighText(r)), code)
}

// visit reads the one visit that a command wants; it is nil where it cannot,
// beside the exit status.
func (c *call) visit(name string, args []string) (*record.Visit, int) {
	if len(args) != 1 {
		return nil, c.misuse("%s wants one visit file; axleend %s -h shows how it is used", name, name)
	}
	data, err := c.read(args[0])
	if err != nil {
		return nil, c.fail(err)
	}
	v, err := record.Read(args[0], data)
	if err != nil {
		return nil, c.fail(err)
	}
	return v, exitDone
}

// A loadPage is text about loads, at most 80 columns wide.
type loadPage struct {
	strings.Builder
	system weight.System
}

// say writes a line behind an indent; what is too long goes on below it.
func (p *loadPage) say(indent int, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	for at := indent; ; at = indent + 2 {
		runes, room := []rune(text), 80-at
		cut := len(runes)
		if cut > room {
			cut = room
			for i := room; i > room/3; i-- {
				if runes[i] == ' ' {
					cut = i
					break
				}
			}
		}
		p.WriteString(strings.TrimRight(strings.Repeat(" ", at)+string(runes[:cut]), " ") + "\n")
		if text = strings.TrimLeft(string(runes[cut:]), " "); text == "" {
			return
		}
	}
}

func (p *loadPage) title(text string) {
	p.WriteByte('\n')
	p.say(0, "%s", text)
	p.say(0, "%s", strings.Repeat("-", utf8.RuneCountInString(text)))
}

func (p *loadPage) heading(h report.Heading) {
	if h.Invented {
		p.say(0, loadInvented)
	}
	parts := []string{h.Date.String()}
	if h.Coach != "" {
		parts = []string{h.Coach, h.Date.String()}
	}
	p.say(0, "%s", strings.Join(parts, ", "))
	if h.LoadState != "" {
		p.say(0, loadAboard, h.LoadState)
	}
}

// number shows a mass in whole pounds or kilograms, without the unit.
func (p *loadPage) number(m weight.Mass, r weight.Rounding) string {
	unit := weight.Pound
	if p.system == weight.Metric {
		unit = weight.Kilogram
	}
	digits, sign := string(m.AppendIn(nil, unit, 0, r)), ""
	if rest, ok := strings.CutPrefix(digits, "-"); ok {
		digits, sign = rest, "-"
	}
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

func (p *loadPage) mass(m weight.Mass, r weight.Rounding) string {
	if p.system == weight.Metric {
		return p.number(m, r) + " kg"
	}
	return p.number(m, r) + " lb"
}

func (p *loadPage) estimate(e weight.Estimate) string {
	if !e.Known() {
		return loadNotKnown
	}
	out := p.mass(e.Load, weight.Nearest)
	if e.PlusMinus > 0 {
		out += " +/- " + p.number(e.PlusMinus, weight.Ceiling)
	}
	if e.State != weight.Determined {
		out += " " + strings.ToUpper(e.State.String())
	}
	return out
}

// room says in words how far a load is from a limit.
func (p *loadPage) room(v rules.Verdict, room weight.Mass) string {
	switch v {
	case rules.Kept:
		return fmt.Sprintf(loadRoom, p.number(room, weight.Floor))
	case rules.Breached:
		return fmt.Sprintf(loadOverBy, p.number(-room, weight.Ceiling))
	case rules.TooClose:
		if room >= 0 {
			return loadDisagree
		}
		return fmt.Sprintf(loadMayBeOver, p.number(-room, weight.Ceiling))
	case rules.NotRecorded:
		if room > 0 {
			return fmt.Sprintf(loadRoomAsWeighed, p.number(room, weight.Floor))
		}
	}
	return ""
}

func verdictWord(v rules.Verdict) string {
	switch v {
	case rules.Kept:
		return loadWithin
	case rules.Breached:
		return loadOver
	case rules.TooClose:
		return loadTooClose
	}
	return loadNotJudged
}

func (p *loadPage) margin(m loading.MarginLine) {
	p.say(4, "%-10s %-14s %10s  %s", verdictWord(m.Verdict), m.What, p.mass(m.Rating, weight.Floor), p.room(m.Verdict, m.Room))
}

// halfGAWR says once what half GAWR is, where it is one of the limits.
func (p *loadPage) halfGAWR(limits []loading.MarginLine) {
	if slices.ContainsFunc(limits, func(m loading.MarginLine) bool { return m.What == report.HalfGAWR }) {
		p.say(0, loadHalfGAWR)
	}
}

func weighText(r loading.WeighReport) string {
	p := &loadPage{system: r.System}
	counts := map[rules.Verdict]int{}
	for _, l := range r.Loads {
		for _, m := range l.Margins {
			counts[m.Verdict]++
		}
	}
	if l, ok := r.Label.Get(); ok {
		counts[l.Verdict]++
	}
	head := weighWithin
	switch {
	case r.Stops:
		head = weighStops
	case counts[rules.Breached] > 0:
		head = weighOver
	case counts[rules.TooClose] > 0:
		head = weighTooClose
	case counts[rules.Kept] == 0:
		head = weighNothing
	case len(r.Problems) > 0:
		head = weighProblems
	}
	if n := len(r.Unjudged); n > 0 {
		head = fmt.Sprintf(loadHeadGaps, head, n)
	}
	p.say(0, "%s", head)
	p.heading(r.Heading)
	p.problems(r.Problems)
	p.title(weighTitle)
	var limits []loading.MarginLine
	for _, l := range r.Loads {
		limits = append(limits, l.Margins...)
		p.say(0, "%-18s %s", l.Name, p.estimate(l.Estimate))
		for _, m := range l.Margins {
			p.margin(m)
		}
		for _, s := range l.Settle {
			p.say(4, weighTell, l.Name, s)
		}
	}
	p.halfGAWR(limits)
	for _, rd := range r.Readings {
		words, off := weighMore, rd.Residual
		if off < 0 {
			words, off = weighLess, -off
		}
		if off != 0 {
			p.say(2, words, rd.Name, p.mass(rd.Load, weight.Nearest), p.number(rd.Tolerance, weight.Ceiling), p.mass(off, weight.Nearest))
		}
	}
	p.label(r.Label, labelAllows)
	p.unjudged(r.Unjudged)
	p.cautions(r.Cautions)
	return p.String()
}

func (p *loadPage) problems(list []report.Item) {
	if len(list) > 0 {
		p.title(loadProblems)
	}
	var said []report.Item
	where := map[string][]string{} // what is wrong in several places alike is said once
	line := func(it *report.Item) string {
		if it.Found == "" {
			return it.What + ". " + it.Advice
		}
		return it.What + ": " + it.Found + ". " + it.Advice
	}
	for _, it := range list {
		text := line(&it)
		if where[text] == nil {
			said = append(said, it)
		}
		where[text] = append(where[text], it.Where)
	}
	for i := range said {
		text := line(&said[i])
		if at := strings.Join(where[text], ", "); at != "weighing" && at != "trip" {
			text = at + ": " + text
		}
		p.say(0, "%s", text)
	}
}

func (p *loadPage) label(of record.Recorded[loading.LabelLine], words string) {
	l, ok := of.Get()
	if !ok {
		return
	}
	p.title(fmt.Sprintf(labelTitle, l.Label.Kind))
	p.say(0, words, p.mass(l.Capacity, weight.Floor), p.estimate(l.Loaded))
	p.say(4, "%-10s %s", verdictWord(l.Verdict), p.room(l.Verdict, l.Room))
	if parts, ok := l.FromParts.Get(); ok && parts != l.Capacity {
		p.say(4, labelParts, p.mass(parts, weight.Floor))
	}
}

func (p *loadPage) unjudged(list []report.NotJudged) {
	if len(list) > 0 {
		p.title(loadGaps)
	}
	var needs []string
	places := map[string][]string{}
	for _, g := range list { // what the same record would settle is said once
		if places[g.Need] == nil {
			needs = append(needs, g.Need)
		}
		places[g.Need] = append(places[g.Need], g.Where)
	}
	for _, n := range needs {
		p.say(2, "%s: %s", strings.Join(places[n], ", "), n)
	}
}

func (p *loadPage) cautions(list []string) {
	p.title(loadCautions)
	for _, c := range list {
		p.say(0, "- %s", c)
	}
}

package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"axleend.example/inflation"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func placeCommand() *command {
	return &command{
		name: "place", args: "VISIT", short: "which tire goes where: the moves step by step, what to buy",
		help: "Reads a visit file (\"-\" is standard input) and prints which of the tires at\nhand, the spare included, goes to which place, so that no rule is broken, with\nthe least work; the steps in the order in which they can be done; or what tire\nto buy. Exits with 1 when the coach is not to be driven as it stands.\n\nExample: axleend place examples/demo/visit.yaml",
		run:  place,
		flags: func(c *call) {
			c.flags.StringVar(&c.tables, "tables", "", "folder of load and inflation tables (default: the visit's own folder)")
			c.packFlags()
			c.asFlag()
			c.flags.BoolVar(&c.strict, "strict", false, "also exit with 1 when something was not judged")
		},
	}
}

func place(c *call, args []string) int {
	v, code := c.visit("place", args)
	if v == nil {
		return code
	}
	setup, err := c.setup(args[0], v)
	if err != nil {
		return c.fail(err)
	}
	r, err := placement.Find(c.ctx, v, setup)
	if c.ctx.Err() != nil {
		return c.fail(c.ctx.Err())
	}
	if err != nil {
		return c.fail(fmt.Errorf("%s: %w", args[0], err))
	}
	if r.Stops || c.strict && r.NotJudged > 0 {
		code = exitStop
	}
	if c.as == "json" {
		return worse(c.printJSON(r), code)
	}
	return worse(c.say(placeText(r)), code)
}

// A placePage is text about tires and their places.
type placePage struct {
	loadPage
	pressureUnit string
}

func placeText(r placement.Placement) string {
	p := &placePage{loadPage{system: r.System}, r.PressureUnit}
	p.say(0, "%s", placeHead(r))
	p.heading(r.Heading)
	p.loadFirst(r)
	p.items(placeWhyTitle, r.Broken)
	p.steps(r)
	p.arrangement(r)
	p.out(r.Out)
	p.buy(r)
	p.pairsAndWear(r)
	p.open(r)
	if len(r.Assumptions) > 0 {
		p.title(placeGrantedTitle)
	}
	for _, a := range r.Assumptions {
		p.hang("- ", a)
	}
	p.title(loadCautions)
	for _, c := range r.Cautions {
		p.hang("- ", c)
	}
	p.say(0, placeRules, strings.Join(r.Packs, ", "))
	return p.String()
}

func placeHead(r placement.Placement) string {
	demounts := 0
	for _, m := range r.Moves {
		if m.Demount {
			demounts++
		}
	}
	work := counted(len(r.Moves), placeMove, placeMoves)
	switch {
	case demounts == 1:
		work = fmt.Sprintf(placeDemount, work)
	case demounts > 1:
		work = fmt.Sprintf(placeDemounts, work, demounts)
	}
	head := placeHeadLeave
	switch r.Outcome {
	case placement.Buy:
		head = fmt.Sprintf(placeHeadBuy, toBuy(r))
	case placement.MoveWheels:
		head = fmt.Sprintf(placeHeadMove, work)
	case placement.Rotate:
		head = fmt.Sprintf(placeHeadRotate, work)
	}
	if len(r.LoadFirst) > 0 {
		head = fmt.Sprintf(placeHeadLoad, head)
	}
	if r.Stops {
		head = fmt.Sprintf(placeHeadStops, head)
	}
	if r.NotJudged > 0 {
		head = fmt.Sprintf(loadHeadGaps, head, r.NotJudged)
	}
	return head
}

// toBuy counts the tires and wheels to buy.
func toBuy(r placement.Placement) string {
	tires, wheels := counted(len(r.Buy), placeTire, placeTires), counted(len(r.Wheels), placeWheel, placeWheels)
	switch {
	case len(r.Wheels) == 0:
		return tires
	case len(r.Buy) == 0:
		return wheels
	}
	return fmt.Sprintf(placeBoth, tires, wheels)
}

// counted says one in its own words, and any other number in those for many.
func counted(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf(many, n)
}

// item shows an entry behind what is to be done about it.
func (p *placePage) item(it report.Item) {
	text := fmt.Sprintf(placeItem, strings.ToUpper(sheet.ActionWords(it.Action)), it.Where, it.What)
	if it.Found != "" {
		text = fmt.Sprintf(placeItemFound, strings.ToUpper(sheet.ActionWords(it.Action)), it.Where, it.What, it.Found, it.Bound)
	}
	p.hang("- ", text)
	p.hang("    ", it.Advice)
	p.rules(it.Rules, it.Sources)
}

func (p *placePage) rules(rules []string, sources []origin.Source) {
	texts := make([]string, len(sources))
	for i, s := range sources {
		texts[i] = s.String()
	}
	p.hang("    rule ", strings.Join(rules, ", ")+": "+strings.Join(texts, "; "))
}

// loadFirst says where load has to come off before a tire is bought.
func (p *placePage) loadFirst(r placement.Placement) {
	p.items(placeLoadTitle, r.LoadFirst)
	if len(r.LoadFirst) > 0 {
		p.hang("", placeLoadWhy)
	}
}

// items lists them under their title; nothing where there are none.
func (p *placePage) items(title string, list []report.Item) {
	if len(list) > 0 {
		p.title(title)
	}
	for _, it := range list {
		p.item(it)
	}
}

func (p *placePage) steps(r placement.Placement) {
	if len(r.Steps) == 0 {
		return
	}
	p.title(placeStepsTitle)
	p.hang("", placeStepsFirst)
	for i, s := range r.Steps {
		text := stepText(s)
		if s.Do == placement.FetchSpare && s.InspectFirst && slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where == s.Tire }) {
			text = fmt.Sprintf(stepFetchRead, wheelText(s))
		}
		if s.Do == placement.LiftEnd && i > 0 {
			p.WriteByte('\n')
		}
		p.hang(fmt.Sprintf("%2d. ", i+1), text)
	}
}

// hang writes text behind a mark; what is too long goes on below the text.
func (p *placePage) hang(mark, text string) {
	line, indent := mark, strings.Repeat(" ", utf8.RuneCountInString(mark))
	for i, word := range strings.Fields(text) {
		if i > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > 80 {
			p.WriteString(strings.TrimRight(line, " ") + "\n")
			line = indent
		} else if i > 0 {
			line += " "
		}
		line += word
	}
	p.WriteString(line + "\n")
}

// wheelText names what a step is about.
func wheelText(s placement.Step) string {
	switch {
	case s.Wheel != "" && s.Bought: // it bears the chalk of the place it comes from
		return fmt.Sprintf(wheelWithBought, s.Wheel, s.Tire)
	case s.Wheel != "":
		return fmt.Sprintf(wheelWithTire, s.Wheel, s.Tire)
	case s.Tire == "spare" && !s.Bought:
		return wheelSpare
	case s.Borrowed:
		return wheelBorrowed
	case s.Bought && s.WheelFor != "" && s.Do != placement.Demount:
		return fmt.Sprintf(wheelBoughtAndTire, s.WheelFor, s.Tire)
	case s.Bought:
		return fmt.Sprintf(tireBought, s.Tire)
	case s.WheelFor != "" && s.Do != placement.Demount:
		return fmt.Sprintf(wheelBought, s.WheelFor, s.Tire)
	}
	return fmt.Sprintf(wheelFrom, s.Tire)
}

func stepText(s placement.Step) string {
	wheel := wheelText(s)
	either := func(is bool, yes, no string) string {
		if is {
			return yes
		}
		return no
	}
	switch s.Do {
	case placement.LiftEnd:
		return fmt.Sprintf(either(s.OnStand, stepOnStand, stepLift), strings.ToUpper(s.End))
	case placement.LowerEnd:
		return fmt.Sprintf(either(s.Waits, stepWait, stepLower), s.End)
	case placement.TakeOff:
		switch {
		case s.NoAir:
			return fmt.Sprintf(either(s.Out, stepLetOutForGood, stepLetOut), s.Place)
		case s.Tire == s.Place:
			return fmt.Sprintf(either(s.Out, stepTakeOffForGood, stepTakeOff), s.Place)
		}
		return fmt.Sprintf(either(s.Out, stepTakeAgainGood, stepTakeAgain), wheel, s.Place)
	case placement.FetchSpare:
		return fmt.Sprintf(either(s.InspectFirst, stepFetchInspect, stepFetch), wheel)
	case placement.StowSpare:
		switch {
		case s.Tire == s.Place:
			return fmt.Sprintf(stepStowBack, wheel)
		case s.Place == "spare":
			return fmt.Sprintf(stepStowSpare, wheel)
		}
		return fmt.Sprintf(stepStow, wheel, s.Place)
	case placement.Demount:
		return demountText(s, wheel)
	case placement.PutOn:
		switch {
		case s.StandOnly && s.Borrowed:
			return fmt.Sprintf(stepGuardAny, s.Place)
		case s.StandOnly:
			return fmt.Sprintf(stepGuard, wheel, s.Place)
		}
		return fmt.Sprintf(stepPutOn, wheel, s.Place)
	}
	return s.Do.String()
}

// demountText says which tire goes onto which wheel.
func demountText(s placement.Step, wheel string) string {
	switch {
	case s.Bought && s.WheelFor != "":
		return fmt.Sprintf(stepMount, wheel, s.WheelFor)
	case s.WheelFor != "" && s.Arrow != 0:
		return fmt.Sprintf(stepOntoBoughtTurn, wheel, s.WheelFor, s.Arrow)
	case s.WheelFor != "":
		return fmt.Sprintf(stepOntoBought, wheel, s.WheelFor)
	case s.Bought:
		return fmt.Sprintf(stepOldTireOff, s.OntoWheel, wheel)
	case s.OntoWheel == s.Tire:
		return fmt.Sprintf(stepTurn, wheel)
	case s.Arrow != 0:
		return fmt.Sprintf(stepOntoWheelTurn, wheel, s.OntoWheel, s.Arrow)
	}
	return fmt.Sprintf(stepOntoWheel, wheel, s.OntoWheel)
}

func (p *placePage) depth(d record.Recorded[weight.Length]) string {
	v, ok := d.Get()
	if !ok {
		return placeNotProbed
	}
	return p.length(v)
}

// length shows a tread depth in 1/32 in or in mm, rounded down.
func (p *placePage) length(v weight.Length) string {
	if p.system == weight.Metric {
		return string(v.AppendIn(nil, weight.Millimeter, 1, weight.Floor)) + " mm"
	}
	return string(v.AppendIn(nil, record.ThirtySecond, 0, weight.Floor)) + "/32 in"
}

// pressure shows a pressure to set, rounded up.
func (p *placePage) pressure(v inflation.Pressure) string {
	return record.PressureText(v, p.pressureUnit, p.system, weight.Ceiling)
}

func (p *placePage) arrangement(r placement.Placement) {
	p.title(placePlacesTitle)
	p.say(0, "%-20s %-18s %s", "", placeAsFound, placeProposed)
	moved := make(map[string]placement.WheelMove)
	for _, m := range r.Moves {
		moved[m.To] = m
	}
	for _, l := range r.Places {
		to := placeStays
		m, ok := moved[l.At]
		switch {
		case l.Tire == "" && strings.HasPrefix(l.At, "spare"):
			to = placeEmpty
		case l.Tire == "":
			to = placeTireToBuy
		case ok && m.Demount && m.OntoWheel == "":
			to = fmt.Sprintf(placeWheelToBuy, l.Tire)
			if l.Tire == l.At {
				to = placeOwnTireNewWheel
			}
		case ok && m.Demount && m.OntoWheel == m.Tire:
			to = fmt.Sprintf(placeTurned, l.Tire, p.depth(l.Tread))
		case ok && m.Demount:
			to = fmt.Sprintf(placeOtherWheel, l.Tire, p.depth(l.Tread))
		case ok:
			to = fmt.Sprintf("%s, %s", l.Tire, p.depth(l.Tread))
		}
		p.hang(fmt.Sprintf("%-20s %-18s ", l.At, p.depth(l.FoundTread)), to)
	}
	if len(r.Set) > 0 {
		set := make([]string, len(r.Set))
		for i, s := range r.Set {
			words := placeSet
			if s.Estimated {
				words = placeSetEstimate
			}
			set[i] = fmt.Sprintf(words, s.Axle, p.pressure(s.Set))
		}
		p.hang("", fmt.Sprintf(placeSetAll, strings.Join(set, ", ")))
	}
	for _, l := range []struct {
		air   report.Air
		words string
	}{{report.AirForbidden, placeNoAir}, {report.AirNotKnown, placeAskAir}} {
		if names := airNames(r, l.air); len(names) > 0 {
			p.hang("", fmt.Sprintf(l.words, strings.Join(names, ", ")))
		}
	}
}

// airNames names the tires on the road that are proposed and whose air stands so; of
// an axle on which all do, the axle.
func airNames(r placement.Placement, air report.Air) (names []string) {
	var of []string
	whole, axle := true, ""
	flush := func() {
		if whole && len(of) > 1 {
			of = []string{fmt.Sprintf(placeAnyOn, axle)}
		}
		names, of, whole = append(names, of...), nil, true
	}
	for _, l := range r.Places {
		if l.Axle != axle {
			flush()
			axle = l.Axle
		}
		switch {
		case l.Axle == "":
		case l.Air != air:
			whole = false
		case l.Tire == l.At:
			of = append(of, l.At)
		default:
			of = append(of, fmt.Sprintf(placeMoved, l.Tire, l.At))
		}
	}
	flush()
	return names
}

func (p *placePage) out(list []placement.TireTakenOff) {
	if len(list) > 0 {
		p.title(placeOutTitle)
	}
	for _, o := range list {
		why := make([]string, len(o.Why))
		for i, it := range o.Why {
			why[i] = it.What + " (" + strings.Join(it.Rules, ", ") + ")"
		}
		switch {
		case len(why) > 0:
		case o.NoAir:
			why = []string{placeWhyLow}
		default:
			why = []string{placeWhyNoPlace}
		}
		p.hang("- ", o.Tire+": "+strings.Join(why, "; "))
	}
}

func (p *placePage) buy(r placement.Placement) {
	if len(r.Buy)+len(r.Wheels) > 0 {
		p.title(placeBuyTitle)
	}
	for _, w := range r.Wheels {
		p.wheel(w)
	}
	for _, b := range r.Buy {
		what := []string{fmt.Sprintf(buyUse, b.Fitment)}
		if b.Size != "" {
			what = append(what, fmt.Sprintf(buySize, b.Size))
		}
		if b.LoadRange != "" {
			what = append(what, fmt.Sprintf(buyRange, b.LoadRange))
		}
		if c, ok := b.Construction.Get(); ok {
			what = append(what, c.String())
		}
		if b.Mate != "" {
			what = append(what, fmt.Sprintf(buyMate, b.Mate))
		}
		p.hang("- ", fmt.Sprintf(buyTire, b.At, strings.Join(what, ", ")))
		for _, n := range b.Needs {
			p.hang("  - ", n.What+": "+n.Text)
			if len(n.Rules) > 0 {
				p.rules(n.Rules, n.Sources)
			}
		}
	}
}

// wheel says what a wheel to buy has to be, load and pressure, and why.
func (p *placePage) wheel(w placement.WheelToBuy) {
	text := fmt.Sprintf(buyWheel, w.At, w.Fitment)
	if w.Tire != "" {
		text = fmt.Sprintf(buyWheelFor, w.At, w.Fitment, w.Tire)
	}
	p.hang("- ", text)
	load := placeLoadUnknown
	if w.Load > 0 {
		load = fmt.Sprintf(buyAtLeast, p.mass(w.Load, weight.Ceiling))
	}
	p.hang("  - ", fmt.Sprintf(buyLoad, load))
	pressure := placePressureUnknown
	if w.Pressure > 0 {
		pressure = fmt.Sprintf(buyAtLeast, p.pressure(w.Pressure))
	}
	p.hang("  - ", fmt.Sprintf(buyPressure, pressure))
	for _, it := range w.Why {
		p.hang("  - ", fmt.Sprintf(buyWhy, it.What, strings.Join(it.Rules, ", ")))
	}
}

func (p *placePage) pairsAndWear(r placement.Placement) {
	if len(r.Pairs) > 0 {
		p.title(placeInsideTitle)
	}
	for _, d := range r.Pairs {
		p.hang("- ", fmt.Sprintf(placeInside, d.Name, d.Inner, d.Why))
	}
	rot, ok := r.Rotation.Get()
	if !ok {
		return
	}
	p.title(placeRotationTitle)
	if !rot.Helps {
		p.hang("", fmt.Sprintf(placeNoRotation, rot.Reason))
	} else {
		least, _ := rot.Least.Get()
		after, _ := rot.LeastRotated.Get()
		p.hang("", fmt.Sprintf(placeHelps, rot.Reason, p.length(after), p.length(least)))
	}
	if len(rot.Rules) > 0 {
		p.rules(rot.Rules, rot.Sources)
	}
}

func (p *placePage) open(r placement.Placement) {
	p.items(placePriceTitle, r.Price)
	if r.NotProposed != "" {
		p.title(placePassedTitle)
		p.hang("  ", r.NotProposed+".")
	}
	p.items(placeStillTitle, r.StillToDo)
	p.items(placeCloseTitle, r.TooClose)
	p.unjudged(r.Unjudged)
}

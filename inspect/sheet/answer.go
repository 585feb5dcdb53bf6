package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

// driveWords is the answer about driving in the first line of a page, with the
// tires and ends that it is about.
func driveWords(r *report.Report) string {
	at := strings.Join(headNames(r, stopping(r)), ", ")
	if !r.Drive.Stops() && nothingRead(r) {
		return sayNothingRecorded
	}
	switch r.Drive {
	case report.MustNotMove:
		return say(at == "", sayMustNotMove, sayMustNotMoveAt, at)
	case report.NotAtThisPressure:
		return say(at == "", sayNotAtPressure, sayNotAtPressureAt, at)
	case report.BeforeTheTrip:
		at = firstPlaces(r, beforeTrip(r))
		return say(at == "", sayBeforeTheTrip, sayBeforeTripAt, at)
	}
	if at = firstPlaces(r, beforeTrip(r)); at != "" { // of a spare, which keeps no coach from driving
		return fmt.Sprintf(sayNothingBut, at)
	}
	return sayNothingFound
}

// say gives the bare sentence, or the one with its places.
func say(bare bool, alone, with, at string) string {
	if bare {
		return alone
	}
	return fmt.Sprintf(with, at)
}

// driveAdvice is what the answer asks for, in one sentence or two.
func driveAdvice(r *report.Report) string {
	switch r.Drive {
	case report.MustNotMove:
		return doMustNotMove
	case report.NotAtThisPressure:
		set := doNotAtThis
		if slices.ContainsFunc(stopping(r), func(at string) bool { return noNumber(r, at) }) {
			set = doFindSetting
		}
		var ask []string
		for i := range r.Tires {
			if t := &r.Tires[i]; t.Air == report.AirNotKnown && slices.Contains(stopping(r), t.At) {
				ask = append(ask, t.At)
			}
		}
		if len(ask) > 0 {
			return fmt.Sprintf(doAskFirst, strings.Join(ask, ", ")) + " " + set
		}
		return set
	}
	switch {
	case nothingRead(r):
		return doFillIn
	case r.Drive == report.BeforeTheTrip:
		return doBeforeTrip
	case len(beforeTrip(r)) > 0 && r.NotJudged > 0:
		return doSpare + " " + doNothing
	case len(beforeTrip(r)) > 0:
		return doSpare
	case r.NotJudged > 0:
		return doNothing
	}
	return ""
}

// noNumber reports whether the page has no pressure to set for a tire.
func noNumber(r *report.Report, at string) bool {
	t := r.Tire(at)
	if t == nil || t.Axle == "" {
		return false
	}
	s := r.Setting(t.Axle)
	return s == nil || s.Set == 0
}

// stopping names the places of what stops the coach, each once.
func stopping(r *report.Report) []string {
	var out []string
	for i := range r.Todo {
		if it := &r.Todo[i]; it.Stops && !slices.Contains(out, it.Where) {
			out = append(out, it.Where)
		}
	}
	return out
}

// shownPlaces is how many places the first line of a page names.
const shownPlaces = 4

// beforeTrip names the places of what comes before the trip, each once.
func beforeTrip(r *report.Report) []string {
	var out []string
	for i := range r.Todo {
		if it := &r.Todo[i]; it.Action != report.Plan && !slices.Contains(out, it.Where) {
			out = append(out, it.Where)
		}
	}
	return out
}

// firstPlaces names the first of these places.
func firstPlaces(r *report.Report, list []string) string {
	return firstOf(headNames(r, list), shownPlaces)
}

// firstOf names so many places, and counts the others.
func firstOf(names []string, most int) string {
	if more := len(names) - most; more > 0 {
		return fmt.Sprintf(sayMorePlaces, strings.Join(names[:most], ", "), more)
	}
	return strings.Join(names, ", ")
}

// headNames names places once: an axle of which all tires are named stands there with
// them.
func headNames(r *report.Report, list []string) []string {
	names := shortNames(r, list)
	return slices.DeleteFunc(slices.Clone(names), func(name string) bool {
		return slices.ContainsFunc(names, func(x string) bool { return strings.HasPrefix(x, name+" (") })
	})
}

// nothingRead reports whether nobody weighed the coach nor read a tire: such a page
// is a form to fill in, and no good news.
func nothingRead(r *report.Report) bool {
	if len(r.Readings) > 0 {
		return false
	}
	return !slices.ContainsFunc(r.Tires, func(t report.TireLine) bool { return t.Found.Is() || t.Tread.Is() || t.Number != "" || t.Seen.Is() })
}

// gapWords says how much was not judged, and how much of that can be read here.
func gapWords(r *report.Report) string {
	n, hidden := len(r.Unjudged), hiddenGaps(r)
	switch {
	case n == 0:
		return sayAllJudged
	case hidden == 0 && n == 1:
		return sayGapHere
	case hidden == 0:
		return fmt.Sprintf(sayGapsAllHere, things(n))
	case hidden == n:
		return fmt.Sprintf(sayGapsAllHidden, things(n))
	}
	return fmt.Sprintf(sayGaps, things(n), n-hidden, hidden)
}

func hiddenGaps(r *report.Report) int {
	n := 0
	for i := range r.Unjudged {
		if r.Unjudged[i].Hidden {
			n++
		}
	}
	return n
}

// An axleAir is how the air of an axle's tires stands: which nobody may air up, and
// in which there is no air before something was found out.
type axleAir struct {
	forbidden, unknown []string
	tires              int
}

func airOf(r *report.Report, axle string) axleAir {
	var out axleAir
	for i := range r.Tires {
		t := &r.Tires[i]
		if t.Axle != axle || axle == "" {
			continue
		}
		out.tires++
		switch t.Air {
		case report.AirForbidden:
			out.forbidden = append(out.forbidden, t.At)
		case report.AirNotKnown:
			out.unknown = append(out.unknown, t.At)
		}
	}
	return out
}

// lines says it in words: those for tires in doubt, for an axle of them, and for
// places are given.
func (a *axleAir) lines(ask, askAxle string, places func([]string) string) []string {
	var out []string
	for _, l := range []struct {
		list       []string
		all, these string
	}{{a.forbidden, sayNoAirAxle, sayNoAir}, {a.unknown, askAxle, ask}} {
		switch {
		case len(l.list) == 0:
		case len(l.list) == a.tires && a.tires > 1:
			out = append(out, l.all)
		default:
			out = append(out, fmt.Sprintf(l.these, places(l.list)))
		}
	}
	return out
}

// airLines says it where there is room for each tire's name.
func airLines(r *report.Report, axle string) []string {
	air := airOf(r, axle)
	return air.lines(sayAskAir, sayAskAirAxle, func(list []string) string { return strings.Join(list, ", ") })
}

// setWords is the pressure to set on an axle, or why there is no number.
func (p units) setWords(s *inflation.Setting) string {
	switch {
	case s.AskPlacard && (s.AskTirePressure || s.AskWheelPressure): // the nearest to read, and enough
		return sayReadPlacard
	case s.AskTirePressure:
		return sayReadSidewall
	case s.AskWheelPressure:
		return sayReadWheel
	case s.Outcome == inflation.CanSet, s.Outcome == inflation.TooClose:
		set := p.psi(s.Set, weight.Ceiling)
		switch {
		case s.AskPlacard:
			return fmt.Sprintf(saySetUntilPlacard, set)
		case s.Grounds.Pressure == inflation.FromEstimate:
			return fmt.Sprintf(saySetEstimate, set)
		}
		return fmt.Sprintf(saySet, set)
	case s.OnlyAsRead:
		return sayMayBeTooMuch
	case s.Outcome == inflation.Short:
		return sayNoPressure
	}
	return sayTooLittle
}

// shortEnds are the first part of each end that does not carry it.
func shortEnds(s *inflation.Setting) []inflation.Shortfall {
	var out []inflation.Shortfall
	for _, f := range s.Short {
		if !slices.ContainsFunc(out, func(x inflation.Shortfall) bool { return x.Side == f.Side }) {
			out = append(out, f)
		}
	}
	return out
}

// shortLines says by how much an axle's ends are over what carries them.
func (p units) shortLines(s *inflation.Setting) []string {
	words := shortWords
	if s.Outcome == inflation.TooClose || s.OnlyAsRead {
		words = mayBeShortWords
	}
	var out []string
	for _, f := range shortEnds(s) {
		part := int(f.Limit.Part)
		if part >= len(words) {
			part = 0
		}
		if f.Over == 0 { // not known: a limit keeps the pressure below what the estimate asks for
			out = append(out, fmt.Sprintf(sayAsksForMore, shortSide(&f)))
		} else {
			out = append(out, fmt.Sprintf(words[part], shortSide(&f), p.mass(f.Over, weight.Ceiling)))
		}
	}
	return out
}

// heavyWords says by how much an axle's ends are over what carries them, and no more;
// "" where they are not.
func (p units) heavyWords(s *inflation.Setting) string {
	var ends []string
	for _, f := range shortEnds(s) {
		end := sayHeavierEnd
		if f.Side != 0 {
			end = f.Side.String()
		}
		if f.Over > 0 {
			end = fmt.Sprintf(sayHeavyEnd, end, p.mass(f.Over, weight.Ceiling))
		}
		ends = append(ends, end)
	}
	switch {
	case len(ends) == 0:
		return ""
	case s.Outcome == inflation.TooClose:
		return fmt.Sprintf(sayMayBeHeavy, strings.Join(ends, ", "))
	}
	return fmt.Sprintf(sayTooHeavy, strings.Join(ends, ", "))
}

// placesOf names places, all tires together where it is all of them.
func placesOf(r *report.Report, list []string) string {
	return cmp.Or(everyTire(r, list), strings.Join(list, ", "))
}

// everyTire is "" where places are not all of the tires, or are three at most.
func everyTire(r *report.Report, list []string) string {
	all, mounted := 0, 0
	for i := range r.Tires {
		t := &r.Tires[i]
		if !slices.Contains(list, t.At) {
			continue
		}
		if all++; t.Axle != "" {
			mounted++
		}
	}
	if n := len(list); n > 3 && n == all {
		switch {
		case n == len(r.Tires):
			return sayEveryTire
		case n == mounted && !slices.ContainsFunc(r.Tires, func(t report.TireLine) bool { return t.Axle != "" && !slices.Contains(list, t.At) }):
			return sayEveryButSpare
		}
	}
	return ""
}

// shortPlaces names places in as few words as are clear.
func shortPlaces(r *report.Report, list []string) string {
	return strings.Join(shortNames(r, list), ", ")
}

// shortNames has all tires of an axle, both of a pair, and both ends of an axle each
// under one name.
func shortNames(r *report.Report, list []string) []string {
	if len(list) < 2 {
		return list
	}
	if words := everyTire(r, list); words != "" {
		return []string{words}
	}
	left := slices.Clone(list)
	together := func(words, name string, all []string) {
		if len(all) < 2 || slices.ContainsFunc(all, func(x string) bool { return !slices.Contains(left, x) }) {
			return
		}
		first := slices.IndexFunc(left, func(x string) bool { return slices.Contains(all, x) })
		left[first] = fmt.Sprintf(words, name)
		rest := slices.DeleteFunc(slices.Clone(left[first+1:]), func(x string) bool { return slices.Contains(all, x) })
		left = append(left[:first+1], rest...)
	}
	for i := range r.Axles {
		a := r.Axles[i].ID
		ends := []string{record.EndName(a, weight.Left), record.EndName(a, weight.Right)}
		tires, pairs := tiresOf(r, a)
		if r.Axles[i].Fitment == weight.Dual {
			together(sayAllTires, a, tires)
			together(sayBothEnds, a, ends)
		} else {
			together(sayBoth, a, ends)
		}
		for k := range pairs {
			together(sayBoth, ends[k], pairs[k])
		}
	}
	return left
}

// tiresOf gives the tires of an axle, and those of its left and its right pair.
func tiresOf(r *report.Report, axle string) (all []string, pairs [2][]string) {
	for i := range r.Tires {
		t := &r.Tires[i]
		if t.Axle != axle || axle == "" {
			continue
		}
		all = append(all, t.At)
		if t.Place != record.Alone {
			k := 0
			if t.Side == weight.Right {
				k = 1
			}
			pairs[k] = append(pairs[k], t.At)
		}
	}
	return all, pairs
}

package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

// driveWords is the answer about driving in the first line of a page, with the
// tires and ends that it is about.
func driveWords(r *report.Report) string {
	at := placesOf(r, stopping(r))
	if !r.Drive.Stops() && nothingRead(r) {
		return sayNothingRecorded
	}
	switch r.Drive {
	case report.MustNotMove:
		return say(at == "", sayMustNotMove, sayMustNotMoveAt, at)
	case report.NotAtThisPressure:
		return say(at == "", sayNotAtPressure, sayNotAtPressureAt, at)
	case report.BeforeTheTrip:
		at = strings.Join(firstPlaces(r), ", ")
		return say(at == "", sayBeforeTheTrip, sayBeforeTripAt, at)
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
		var ask []string
		for i := range r.Tires {
			if t := &r.Tires[i]; t.Air == report.AirNotKnown && slices.Contains(stopping(r), t.At) {
				ask = append(ask, t.At)
			}
		}
		if len(ask) > 0 {
			return fmt.Sprintf(doAskFirst, strings.Join(ask, ", ")) + " " + doNotAtThis
		}
		return doNotAtThis
	}
	switch {
	case nothingRead(r):
		return doFillIn
	case r.Drive == report.BeforeTheTrip:
		return doBeforeTrip
	case r.NotJudged > 0:
		return doNothing
	}
	return ""
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

// firstPlaces names the first places of what comes before the trip.
func firstPlaces(r *report.Report) []string {
	var out []string
	for i := range r.Todo {
		it := &r.Todo[i]
		if it.Action == report.Plan || slices.Contains(out, it.Where) {
			continue
		}
		if out = append(out, it.Where); len(out) > shownPlaces {
			return append(out[:shownPlaces:shownPlaces], "...")
		}
	}
	return out
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
	case hidden == 0:
		return fmt.Sprintf(sayGapsAllHere, plural(n, "thing"))
	case hidden == n:
		return fmt.Sprintf(sayGapsAllHidden, plural(n, "thing"))
	}
	return fmt.Sprintf(sayGaps, plural(n, "thing"), n-hidden, hidden)
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

// airLines says of an axle's tires which nobody may air up, and in which there is
// no air before something was found out.
func airLines(r *report.Report, axle string) []string {
	var forbidden, unknown []string
	n := 0
	for i := range r.Tires {
		t := &r.Tires[i]
		if t.Axle != axle || axle == "" {
			continue
		}
		n++
		switch t.Air {
		case report.AirForbidden:
			forbidden = append(forbidden, t.At)
		case report.AirNotKnown:
			unknown = append(unknown, t.At)
		}
	}
	var out []string
	for _, l := range []struct {
		list       []string
		all, these string
	}{{forbidden, sayNoAirAxle, sayNoAir}, {unknown, sayAskAirAxle, sayAskAir}} {
		switch {
		case len(l.list) == 0:
		case len(l.list) == n && n > 1:
			out = append(out, l.all)
		default:
			out = append(out, fmt.Sprintf(l.these, strings.Join(l.list, ", ")))
		}
	}
	return out
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
	case s.Outcome == inflation.Short:
		return sayNoPressure
	}
	return sayTooLittle
}

// shortLines says by how much an axle's ends are over what carries them, the first
// part of each end.
func (p units) shortLines(s *inflation.Setting) []string {
	words := shortWords
	if s.Outcome == inflation.TooClose {
		words = mayBeShortWords
	}
	var out []string
	for i, f := range s.Short {
		if i > 0 && f.Side == s.Short[0].Side {
			continue
		}
		part := int(f.Limit.Part)
		if part >= len(words) {
			part = 0
		}
		out = append(out, fmt.Sprintf(words[part], shortSide(&f), p.mass(f.Over, weight.Ceiling)))
	}
	return out
}

// placesOf names places, all tires together where it is all of them.
func placesOf(r *report.Report, list []string) string {
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
			return "every tire"
		case n == mounted && !slices.ContainsFunc(r.Tires, func(t report.TireLine) bool { return t.Axle != "" && !slices.Contains(list, t.At) }):
			return "every tire but the spare"
		}
	}
	return strings.Join(list, ", ")
}

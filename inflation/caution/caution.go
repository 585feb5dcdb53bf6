// Package caution holds the cautions to show with a pressure to set: each is a
// code that does not change with the wording, and a sentence.
//
//	for c := range setting.Cautions.All() {
//		fmt.Println(c.Text())
//	}
package caution

import (
	"encoding/json"
	"errors"
	"fmt"
	"iter"

	"axleend.example/internal/word"
)

// ErrCode says that a text is no caution's code.
var ErrCode = errors.New("unknown code")

// A Caution is something to show wherever the setting that has it is shown.
type Caution uint8

// The cautions, in the order in which they are listed.
const (
	// ColdOnly: pressures are cold; never bleed a hot tire.
	ColdOnly Caution = iota
	// ThisLoadOnly: it holds for the weighed load, no heavier one.
	ThisLoadOnly
	// NotWeighed: no load is known, or only one end.
	NotWeighed
	// ShareAssumed: 55 % of the axle was assumed on one end.
	ShareAssumed
	// LoadAssumed: the ends' loads were not weighed.
	LoadAssumed
	// Estimated: there was no table; the pressure is an estimate.
	Estimated
	// NoTableFloor: the estimate stands at its floor, and no table was
	// seen that says whether the tire may go that low.
	NoTableFloor
	// PlusMinus: the scale's plus/minus changes the row.
	PlusMinus
	// TooClose: with its plus/minus, or an assumed share, the load may be
	// over a limit.
	TooClose
	// BelowPlacard: the pressure to set is below the placard.
	BelowPlacard
	// PlacardAboveCap: a tire or wheel allows less than the placard.
	PlacardAboveCap
	// TiresDiffer: the tires or wheels of the axle are not all alike.
	TiresDiffer
	// TirePressureNotRead, TireLoadNotRead: a sidewall's maximum
	// was not read for this fitment.
	TirePressureNotRead
	TireLoadNotRead
	// WheelPressureNotRead, WheelLoadNotRead: a wheel's maximum
	// was not read; it may be lower than what is asked of it here.
	WheelPressureNotRead
	WheelLoadNotRead
	// LoadRangeNotRead: the table's lowest load range was taken.
	LoadRangeNotRead
	// ClassNotKnown: the tire was treated as a passenger tire.
	ClassNotKnown
	// Derated: passenger tires carry their rating divided by 1.10 here.
	Derated
	// CushionCut: the shop's cushion was left out, or cut at the cap.
	CushionCut
	// NoData: no table, estimate, placard or sidewall says a pressure.
	NoData
	cautionCount
)

var cautionText = [cautionCount][2]string{
	ColdOnly:             {"cold-only", "Set it cold: parked three hours, in the shade. Never let air out of a hot tire."},
	ThisLoadOnly:         {"this-load-only", "It holds for the load weighed. A heavier load needs a new look-up."},
	NotWeighed:           {"not-weighed", "The two ends of this axle were not weighed. Weigh them."},
	ShareAssumed:         {"share-assumed", "Only the axle was weighed: 55 % of it is assumed on one end. Weigh the ends."},
	LoadAssumed:          {"load-assumed", "The loads of the ends are assumed, not weighed."},
	Estimated:            {"estimated", "ESTIMATE: no table was used. Ask the tire's maker for the table of this size."},
	NoTableFloor:         {"no-table-floor", "ESTIMATE at its floor: no table was seen, and the tire's lowest permitted pressure may be higher."},
	PlusMinus:            {"plus-minus", "The scale's plus/minus decides the pressure: the higher one is taken."},
	TooClose:             {"too-close", "With its plus/minus, or the share that is assumed of it, the load may be over a limit: take load off or weigh again."},
	BelowPlacard:         {"below-placard", "The pressure to set is below the placard, and rests on the weighed ends alone."},
	PlacardAboveCap:      {"placard-above-cap", "A tire or wheel of this axle allows less than the placard asks for: have it checked."},
	TiresDiffer:          {"tires-differ", "The tires or wheels of this axle are not all alike: the highest need and the weakest limit were taken."},
	TirePressureNotRead:  {"tire-pressure-not-read", "A sidewall's maximum pressure was not read: read it before setting."},
	TireLoadNotRead:      {"tire-load-not-read", "A sidewall's maximum load was not read."},
	WheelPressureNotRead: {"wheel-pressure-not-read", "A wheel's maximum pressure was not read: read it before setting."},
	WheelLoadNotRead:     {"wheel-load-not-read", "A wheel's maximum load was not read."},
	LoadRangeNotRead:     {"load-range-not-read", "The load range was not read: the lowest one in the table was taken."},
	ClassNotKnown:        {"class-not-known", "The class of tire is not known: its rating was divided by 1.10, as for a passenger tire."},
	Derated:              {"derated", "A passenger tire carries its rating divided by 1.10 here."},
	CushionCut:           {"cushion-cut", "The shop's cushion was left out or cut: a limit is reached or was not read."},
	NoData:               {"no-data", "Nothing that was read says a pressure: no table, no placard, no sidewall within a wheel's limit."},
}

// String gives the caution's code, such as "below-placard"; it does not
// change with the wording.
func (c Caution) String() string {
	if c >= cautionCount {
		return "not known"
	}
	return cautionText[c][0]
}

// Text gives the caution as a sentence for people.
func (c Caution) Text() string {
	if c >= cautionCount {
		return ""
	}
	return cautionText[c][1]
}

// A Set is a set of [Caution]. The zero value is empty.
type Set uint32

// Has reports whether c is in the set.
func (s Set) Has(c Caution) bool { return s&(1<<c) != 0 }

// With returns the set with c in it.
func (s Set) With(c Caution) Set { return s | 1<<c }

// All gives the cautions of the set in their order.
func (s Set) All() iter.Seq[Caution] {
	return func(yield func(Caution) bool) {
		for c := range cautionCount {
			if s.Has(c) && !yield(c) {
				return
			}
		}
	}
}

// MarshalJSON writes the codes as a list.
func (s Set) MarshalJSON() ([]byte, error) { return s.AppendJSON(nil) }

// AppendJSON appends what [Set.MarshalJSON] returns; there is no error.
func (s Set) AppendJSON(dst []byte) ([]byte, error) {
	dst = append(dst, '[')
	first := true
	for c := range s.All() {
		if !first {
			dst = append(dst, ',')
		}
		first = false
		dst = append(append(append(dst, '"'), c.String()...), '"')
	}
	return append(dst, ']'), nil
}

// UnmarshalJSON reads what [Set.MarshalJSON] writes; a code that is none
// gives an error that matches [ErrCode].
func (s *Set) UnmarshalJSON(data []byte) error {
	var codes []string
	if err := json.Unmarshal(data, &codes); err != nil {
		return err
	}
	var set Set
next:
	for _, code := range codes {
		for c := range cautionCount {
			if cautionText[c][0] == code {
				set = set.With(c)
				continue next
			}
		}
		return fmt.Errorf("%w %q of a caution", ErrCode, word.Clip(code))
	}
	*s = set
	return nil
}

// Package condition lists what can be seen, heard or felt on a tire, its valve or
// its wheel, in the trade's words.
//
//	c, err := condition.Parse("bulge")
//	var found condition.Set
//	found = found.With(c).With(condition.BlueShoulder)
//
// What each means for the coach is for the packs to say, not for this list.
package condition

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"axleend.example/internal/strictyaml"
)

// A Condition is something that can be seen, heard or felt on a tire, its
// valve or its wheel, in the trade's words. The zero Condition is none.
type Condition uint8

// The conditions a visit can record, what stops a coach first. What each one
// means for the coach is for the packs to say, not for this list.
const (
	ExposedCord Condition = iota + 1
	Separation
	Bulge
	ZipperSigns
	CutToCord
	BeadDamage
	BeadBurned
	AudibleLeak
	WheelCracked
	WheelHolesElongated
	WheelWelded
	LockRingDamaged
	LugNutLoose
	FastenerDamaged
	DualsTouching
	TouchingVehicle
	AloneOnBlock
	ObjectBetweenDuals
	CrackingToCord
	CrackingJoined
	GrooveCracks
	ShoulderCracks
	BeadCracks
	BeadOily
	Boot
	Chunking
	NotForHighway
	SpeedRestricted
	NailOrObject
	Cut
	ChainMarks
	WeatherCracking
	PlugOnWheel
	RepairOffCrown
	ValveLeaking
	StemCracked
	FlapAtStem
	StemNotRadial
	ExtensionLoose
	WheelBent
	WheelClampWorn
	NarrowBlock
	CapMissing
	FlatSpot
	Cupping
	Feathering
	FeatheringInward
	FeatheringOutward
	OneShoulderWear
	BothShouldersWear
	CenterWear
	DiagonalWear
	OilyDressing
	ScuffedShoulder
	BlueShoulder

	end // one past the last
)

var names = [end]string{
	ExposedCord:         "exposed cord",
	Separation:          "separation",
	Bulge:               "bulge",
	ZipperSigns:         "zipper signs",
	CutToCord:           "cut to the cord",
	BeadDamage:          "bead damage",
	BeadBurned:          "burned bead",
	AudibleLeak:         "audible leak",
	WheelCracked:        "cracked wheel",
	WheelHolesElongated: "elongated holes",
	WheelWelded:         "welded wheel",
	LockRingDamaged:     "damaged lock ring",
	LugNutLoose:         "loose lug nut",
	FastenerDamaged:     "damaged fastener",
	DualsTouching:       "duals touching",
	TouchingVehicle:     "touching the vehicle",
	AloneOnBlock:        "alone on a block",
	ObjectBetweenDuals:  "object between duals",
	CrackingToCord:      "cracking to the cord",
	CrackingJoined:      "joined cracks",
	GrooveCracks:        "groove cracks",
	ShoulderCracks:      "shoulder cracks",
	BeadCracks:          "bead cracks",
	BeadOily:            "oil on the bead",
	Boot:                "boot",
	Chunking:            "chunking",
	NotForHighway:       "not for highway use",
	SpeedRestricted:     "speed restricted",
	NailOrObject:        "nail or object",
	Cut:                 "cut",
	ChainMarks:          "chain marks",
	WeatherCracking:     "weather cracking",
	PlugOnWheel:         "plugged on the wheel",
	RepairOffCrown:      "repair off the crown",
	ValveLeaking:        "leaking valve",
	StemCracked:         "cracked stem",
	FlapAtStem:          "flap at the stem",
	StemNotRadial:       "stem not for radial",
	ExtensionLoose:      "loose extension",
	WheelBent:           "bent wheel",
	WheelClampWorn:      "worn clamp area",
	NarrowBlock:         "narrow block",
	CapMissing:          "missing cap",
	FlatSpot:            "flat spot",
	Cupping:             "cupping",
	Feathering:          "feathering",
	FeatheringInward:    "feathering inward",
	FeatheringOutward:   "feathering outward",
	OneShoulderWear:     "one shoulder worn",
	BothShouldersWear:   "both shoulders worn",
	CenterWear:          "center worn",
	DiagonalWear:        "diagonal wear",
	OilyDressing:        "oily dressing",
	ScuffedShoulder:     "scuffed shoulder",
	BlueShoulder:        "blue shoulder",
}

// ErrUnknown says that a word is none of the conditions.
var ErrUnknown = errors.New("unknown condition")

// String gives the condition as a visit writes it, such as "exposed cord".
func (c Condition) String() string {
	if c == 0 || c >= end {
		return "no condition"
	}
	return names[c]
}

// said are the words that people have for what they see, with the conditions
// meant, the likeliest first.
var said = []struct {
	words string // apart by commas
	mean  []Condition
}{
	{"bubble, sidewall bubble, sidewall bulge, bulging, bump, sidewall bump, knot, lump, blister, egg", []Condition{Bulge}},
	{"dry rot, dry rotted, dryrot, checking, weather checking, ozone cracks, sidewall cracks, crazing, weathered", []Condition{WeatherCracking}},
	{"crack, cracks, cracked, cracking", []Condition{WeatherCracking, CrackingJoined, CrackingToCord, WheelCracked, StemCracked}},
	{"nail, screw, puncture, hole, bolt, object, foreign object, glass", []Condition{NailOrObject}},
	{"cord, cords, cord showing, cords showing, steel, steel showing, wire, wires showing, belt showing, ply showing", []Condition{ExposedCord}},
	{"tread separation, separated, delamination, delaminated, tread coming off, belt separation", []Condition{Separation}},
	{"zipper, ripple, ripples, rippled", []Condition{ZipperSigns}},
	{"gash, slash, sliced, split, splits, tear, sidewall cut, torn", []Condition{Cut, CutToCord}},
	{"plug, plugged, string plug, rope plug", []Condition{PlugOnWheel}},
	{"patch, patched, repair, repaired, sidewall repair, shoulder repair", []Condition{RepairOffCrown, Boot}},
	{"leak, leaks, leaking, hissing, slow leak", []Condition{AudibleLeak, ValveLeaking}},
	{"valve, bad valve, valve leak, valve leaks, stem leaking, leaky valve", []Condition{ValveLeaking, StemCracked}},
	{"cap, no cap, valve cap, cap gone, cap missing, missing valve cap", []Condition{CapMissing}},
	{"rim cracked, cracked rim, wheel cracked", []Condition{WheelCracked}},
	{"rim bent, bent rim, wheel bent, bent", []Condition{WheelBent}},
	{"lug nut, lug, lugs, nut, loose nut, missing nut, missing lug nut, loose lug", []Condition{LugNutLoose, FastenerDamaged}},
	{"kissing, duals kissing, rubbing duals, touching", []Condition{DualsTouching, TouchingVehicle}},
	{"rubbing, rubs, rub", []Condition{TouchingVehicle, DualsTouching}},
	{"rock, stone, rock between duals, stone between duals, debris", []Condition{ObjectBetweenDuals}},
	{"cupped, cups, scallop, scalloped, scalloping, dips", []Condition{Cupping}},
	{"feathered, feather, saw tooth, toe wear", []Condition{Feathering, FeatheringInward, FeatheringOutward}},
	{"edge wear, inside wear, outside wear, inner wear, outer wear, one side worn, camber wear", []Condition{OneShoulderWear}},
	{"shoulder wear, both edges worn, edges worn", []Condition{BothShouldersWear, OneShoulderWear}},
	{"center wear, centre worn, middle worn, worn in the middle", []Condition{CenterWear}},
	{"flat spotted, flat-spotted, flatspot, skid mark", []Condition{FlatSpot}},
	{"chunks missing, chunked, chunks", []Condition{Chunking}},
	{"tire shine, dressing, shiny, oily, greasy", []Condition{OilyDressing, BeadOily}},
	{"trailer tire only, farm, off road, not for highway, nhs", []Condition{NotForHighway}},
	{"uneven wear, wear, worn, worn uneven", []Condition{OneShoulderWear, BothShouldersWear, CenterWear, Cupping}},
}

// others are words that are no condition, and what to write instead.
var others = []struct{ words, write string }{
	{"ok, okay, good, fine, none, no, clean, no damage, no issues, pass, passed, like new, new", `write "nothing" where it was looked over and nothing was found, "not read" where nobody looked`},
	{"bald, worn out, smooth, low tread, no tread, wear bars", "write the depth under tread, such as tread: 2/32 in"},
	{"flat, low, soft, low pressure, underinflated, low air", "write the pressure under found, such as found: 20 psi; 0 psi is a flat tire"},
	{"old, too old, aged, looks old", "write the number under number: its date says how old it is"},
	{"yes, bad, damage, damaged, fail, failed, issue", "write what it is: a cut, a bulge, weather cracking, a nail"},
}

// meanings gives how people say it, for a word that is no condition.
func meanings(text string) string {
	has := func(words string) bool { return slices.Contains(strings.Split(words, ", "), text) }
	if i := slices.Index(names[1:], text); text != "" && i >= 0 {
		return "did you mean " + strconv.Quote(text) + "?"
	}
	for _, s := range said {
		if has(s.words) {
			return "did you mean " + quotedOr(s.mean) + "?"
		}
	}
	for _, o := range others {
		if has(o.words) {
			return o.write
		}
	}
	return ""
}

// within is the longest of the conditions, and of the words that people have for them,
// whose words a text has all, in whatever order: "missing cap" of "valve cap is missing".
func within(text string) string {
	words, best, most := strings.Fields(text), "", 0
	try := func(phrase string) {
		own := strings.Fields(phrase)
		if len(own) > most && !slices.ContainsFunc(own, func(w string) bool { return !slices.Contains(words, w) }) {
			best, most = phrase, len(own)
		}
	}
	for _, name := range names[1:] {
		try(name)
	}
	for _, s := range said {
		for phrase := range strings.SplitSeq(s.words, ", ") {
			try(phrase)
		}
	}
	return best
}

func quotedOr(all []Condition) string {
	var out []string
	for _, c := range all {
		out = append(out, strconv.Quote(c.String()))
	}
	if len(out) == 1 {
		return out[0]
	}
	return strings.Join(out[:len(out)-1], ", ") + " or " + out[len(out)-1]
}

// Parse reads what [Condition.String] writes. Other text gives an
// error that matches [ErrUnknown] and names the conditions that people call by
// that word, else the nearest one, else those that have it as a part.
func Parse(text string) (Condition, error) {
	for c := ExposedCord; c < end; c++ {
		if names[c] == text {
			return c, nil
		}
	}
	says := meanings(text)
	if near := strictyaml.Nearest(text, names[1:]); says == "" && near != "" {
		says = "did you mean " + strconv.Quote(near) + "?"
	}
	if says == "" {
		var with []Condition
		for c := ExposedCord; c < end && len(text) > 2; c++ {
			if strings.Contains(names[c], text) {
				with = append(with, c)
			}
		}
		if len(with) > 0 {
			says = "did you mean " + quotedOr(with) + "?"
		}
	}
	if says == "" {
		says = meanings(within(text))
	}
	if says == "" {
		says = "\"axleend packs measures\" lists them, such as " + quotedOr([]Condition{Cut, Bulge, WeatherCracking}) + "; what is none of them goes under note"
	}
	return 0, fmt.Errorf("%w %q: %s", ErrUnknown, strictyaml.Clip(text), says)
}

// MarshalText writes the condition as [Condition.String] does.
func (c Condition) MarshalText() ([]byte, error) {
	if c == 0 || c >= end {
		return nil, fmt.Errorf("%w %d", ErrUnknown, uint8(c))
	}
	return []byte(names[c]), nil
}

// UnmarshalText reads what [Condition.MarshalText] wrote.
func (c *Condition) UnmarshalText(text []byte) error {
	v, err := Parse(string(text))
	if err != nil {
		return err
	}
	*c = v
	return nil
}

// A Set is a set of conditions, comparable and without allocation.
type Set uint64

// With returns the set with c in it.
func (s Set) With(c Condition) Set { return s | 1<<c }

// Has reports whether c is in the set.
func (s Set) Has(c Condition) bool { return s&(1<<c) != 0 }

// All lists the set's conditions, what stops a coach first.
func (s Set) All() []Condition {
	var out []Condition
	for c := ExposedCord; c < end; c++ {
		if s.Has(c) {
			out = append(out, c)
		}
	}
	return out
}

// All lists every condition, what stops a coach first.
func All() []Condition { return Set(1<<end - 1<<ExposedCord).All() }

// MarshalJSON writes the conditions as a list of words.
func (s Set) MarshalJSON() ([]byte, error) { return s.AppendJSON(nil) }

// AppendJSON appends what [Set.MarshalJSON] returns; there is no error.
func (s Set) AppendJSON(dst []byte) ([]byte, error) {
	dst = append(dst, '[')
	first := true
	for c := ExposedCord; c < end; c++ {
		if s.Has(c) {
			if !first {
				dst = append(dst, ',')
			}
			first = false
			dst = append(append(append(dst, '"'), c.String()...), '"')
		}
	}
	return append(dst, ']'), nil
}

// UnmarshalJSON reads a list of words; errors match [ErrUnknown].
func (s *Set) UnmarshalJSON(data []byte) error {
	var list []Condition
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	*s = 0
	for _, c := range list {
		*s = s.With(c)
	}
	return nil
}

package record

import (
	"errors"
	"fmt"
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

	conditionEnd // one past the last
)

var conditionNames = [conditionEnd]string{
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

// conditionWords lists the names of all conditions.
func conditionWords() []string {
	var out []string
	for _, c := range AllConditions() {
		out = append(out, c.String())
	}
	return out
}

// ErrCondition says that a word is none of the conditions.
var ErrCondition = errors.New("unknown condition")

// String gives the condition as a visit writes it, such as "exposed cord".
func (c Condition) String() string {
	if c == 0 || c >= conditionEnd {
		return "no condition"
	}
	return conditionNames[c]
}

// ParseCondition reads what [Condition.String] writes. Other text gives an
// error that matches [ErrCondition] and names the nearest condition, or those
// that have it as a part.
func ParseCondition(text string) (Condition, error) {
	for c := ExposedCord; c < conditionEnd; c++ {
		if conditionNames[c] == text {
			return c, nil
		}
	}
	if near := strictyaml.Nearest(text, conditionNames[1:]); near != "" {
		return 0, fmt.Errorf("%w %q: did you mean %q?", ErrCondition, strictyaml.Clip(text), near)
	}
	var with []string
	for _, name := range conditionNames[1:] {
		if len(text) > 2 && strings.Contains(name, text) {
			with = append(with, strconv.Quote(name))
		}
	}
	if len(with) > 0 {
		return 0, fmt.Errorf("%w %q: did you mean %s?", ErrCondition, strictyaml.Clip(text), strings.Join(with, " or "))
	}
	return 0, fmt.Errorf("%w %q: \"axleend packs measures\" lists them", ErrCondition, strictyaml.Clip(text))
}

// MarshalText writes the condition as [Condition.String] does.
func (c Condition) MarshalText() ([]byte, error) {
	if c == 0 || c >= conditionEnd {
		return nil, fmt.Errorf("%w %d", ErrCondition, uint8(c))
	}
	return []byte(conditionNames[c]), nil
}

// UnmarshalText reads what [Condition.MarshalText] wrote.
func (c *Condition) UnmarshalText(text []byte) error {
	v, err := ParseCondition(string(text))
	if err != nil {
		return err
	}
	*c = v
	return nil
}

// A ConditionSet is a set of conditions, comparable and without allocation.
type ConditionSet uint64

// With returns the set with c in it.
func (s ConditionSet) With(c Condition) ConditionSet { return s | 1<<c }

// Has reports whether c is in the set.
func (s ConditionSet) Has(c Condition) bool { return s&(1<<c) != 0 }

// All lists the set's conditions, what stops a coach first.
func (s ConditionSet) All() []Condition {
	var out []Condition
	for c := ExposedCord; c < conditionEnd; c++ {
		if s.Has(c) {
			out = append(out, c)
		}
	}
	return out
}

// AllConditions lists every condition, what stops a coach first.
func AllConditions() []Condition { return ConditionSet(1<<conditionEnd - 1<<ExposedCord).All() }

package judge

import (
	"cmp"

	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// An insideReason says what decides which of a pair's tires runs inside.
type insideReason uint8

const (
	unknownInside insideReason = iota // nothing was measured that would say it
	bySize                            // measured: the larger one runs outside
	byTread                           // one model: the shallower one runs inside
	alike                             // nothing tells the two apart
	twoModels                         // tread does not tell which is larger
	sizesDisagree                     // by diameter the one is larger, by circumference the other
)

// An insideChoice is which of a pair's two tires belongs inside and why.
type insideChoice struct {
	by      insideReason
	Inside  string // the name of the tire that does, or ""
	yields  bool   // its tread alone would say the other way round
	unnamed bool   // that the two are of one model is not recorded
}

// InsideOf says which of two tires belongs inside: by measured size first
// (US Army TM 9-2610-200-14, para 2-11: the larger one outside), else, within
// one model, by tread (common practice: the shallower one inside).
func InsideOf(outer, inner *TireState) insideChoice {
	size, round := measured(outer.Diameter, inner.Diameter), measured(outer.Circumference, inner.Circumference)
	if size == 0 {
		size = round
	}
	tread := measured(outer.Line.Tread, inner.Line.Tread)
	c := insideChoice{unnamed: outer.Model == "" || inner.Model == ""}
	pick := func(by insideReason, outerIsMore int) insideChoice {
		c.by = by
		if c.Inside = inner.Name; outerIsMore < 0 {
			c.Inside = outer.Name
		}
		return c
	}
	switch {
	case size*round < 0:
		c.by = sizesDisagree
	case size != 0:
		c.yields = tread != 0 && tread != size
		return pick(bySize, size)
	case outer.Model != inner.Model && !c.unnamed:
		c.by = twoModels
	case tread != 0:
		return pick(byTread, tread)
	case outer.Line.Tread.Is() && inner.Line.Tread.Is():
		c.by = alike
	}
	return c
}

// measured compares two lengths: 0 if they are equal, or one is not recorded.
func measured(outer, inner record.Recorded[weight.Length]) int {
	o, i, ok := record.Both(outer, inner)
	if !ok {
		return 0
	}
	return cmp.Compare(o, i)
}

// splitWords is what is said of a pair that may not stay together.
const splitWords = "neither: split the pair, since swapping the two does not help"

// disagreeWords is what is said of a pair of which no one knows which is larger.
const disagreeWords = "not known: diameter and circumference disagree on which is larger; measure both again, mounted and at one pressure"

// Words says the reason.
func (c insideChoice) Words() string {
	switch c.by {
	case bySize:
		if c.yields {
			return "it measures smaller, and the measured size decides (US Army TM 9-2610-200-14, para 2-11); tread alone would say the other way round"
		}
		return "it measures smaller: the larger tire runs outside (US Army TM 9-2610-200-14, para 2-11)"
	case byTread:
		if c.unnamed {
			return "it has less tread (common practice); holds if the two are of one model, which is not recorded"
		}
		return "it has less tread, and the two are of one model (common practice)"
	case alike:
		return "nothing tells the two apart: either may run inside"
	case sizesDisagree:
		return disagreeWords
	case twoModels:
		return "two models: tread does not tell which is larger; measure both, mounted and at one pressure"
	}
	return "not known: measure both, mounted and at one pressure, or probe both treads"
}

package sidewall

import (
	"strconv"

	"axleend.example/inflation"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A DoubtKind is a way in which stamps contradict each other or the road. The
// zero DoubtKind is none.
type DoubtKind uint8

// The doubts.
const (
	// DoubtLoad: the stated load is not the load index's, by [LoadIndex.AgreesWith].
	DoubtLoad DoubtKind = iota + 1
	// DoubtDual: a dual load or index is above the single one.
	DoubtDual
	// DoubtPly: the ply rating is not the load range's.
	DoubtPly
	// DoubtPressure: the pressure of the maximum load is more than 69 kPa (10
	// psi) above what LT-metric tires of the load range have it at: so far a
	// sidewall's maximum pressure may be above it (49 CFR 571.139 S5.5.6).
	DoubtPressure
	// DoubtSpeed: the speed symbol is below the road speed.
	DoubtSpeed
)

var doubts = word.List[DoubtKind]{Kind: "doubt", Unknown: inflation.ErrWord, Words: []string{"", "load and load index differ", "dual above single", "ply rating and load range differ",
	"pressure above the load range's", "speed symbol below the road speed"}}

// String gives the doubt in words, or "not known".
func (k DoubtKind) String() string { return doubts.String(k) }

// AppendText appends the words, and nothing for none. An unknown value is an error.
func (k DoubtKind) AppendText(dst []byte) ([]byte, error) { return doubts.Append(dst, k) }

// MarshalText writes what [DoubtKind.AppendText] appends.
func (k DoubtKind) MarshalText() ([]byte, error) { return doubts.Text(k) }

// UnmarshalText reads what [DoubtKind.MarshalText] writes; the error matches
// [inflation.ErrWord].
func (k *DoubtKind) UnmarshalText(text []byte) error { return doubts.Read(k, text) }

// A Doubt is one contradiction, with the two things that differ as text.
type Doubt struct {
	// Kind says what contradicts.
	Kind DoubtKind `json:"kind"`
	// Fitment is the fitment that the doubt is about; zero is none.
	Fitment weight.Fitment `json:"fitment,omitzero"`
	// Stamped is what the sidewall says.
	Stamped string `json:"stamped"`
	// Expected is what was expected of it.
	Expected string `json:"expected"`
}

// stampAbove is how far a stamped pressure may be above the one that the
// maximum load is stated at (49 CFR 571.139 S5.5.6).
const stampAbove = 69 * inflation.Kilopascal

// Doubts compares the stamps with each other and with a road speed (0 for
// none). A stamp that was misread, or a tire that does not suit the coach,
// shows here; an empty answer says only that nothing contradicts.
func (s Stamps) Doubts(road inflation.Speed) []Doubt {
	var out []Doubt
	differ := func(fit weight.Fitment, index LoadIndex, load weight.Mass) {
		if index.Known() && load != 0 && !index.AgreesWith(load) {
			out = append(out, Doubt{DoubtLoad, fit, load.String(), index.String() + " = " + index.Load().String()})
		}
	}
	differ(weight.Single, s.SingleIndex, s.Single.Load)
	differ(weight.Dual, s.DualIndex, s.Dual.Load)
	if s.Single.Load != 0 && s.Dual.Load > s.Single.Load {
		out = append(out, Doubt{DoubtDual, weight.Dual, s.Dual.Load.String(), "at most " + s.Single.Load.String()})
	}
	if s.SingleIndex.Known() && s.DualIndex.Number() > s.SingleIndex.Number() {
		out = append(out, Doubt{DoubtDual, weight.Dual, s.DualIndex.String(), "at most " + s.SingleIndex.String()})
	}
	if ply, ok := s.LoadRange.PlyRating(); s.PlyRating != 0 && ok && s.PlyRating != ply {
		out = append(out, Doubt{DoubtPly, 0, strconv.Itoa(s.PlyRating), strconv.Itoa(ply)})
	}
	out = s.appendPressureDoubts(out)
	if s.Speed.Below(road) {
		out = append(out, Doubt{DoubtSpeed, 0, s.Speed.String() + " = " + s.Speed.Speed().String(), "at least " + road.String()})
	}
	return out
}

// appendPressureDoubts appends each pressure above what LT-metric tires of the load
// range have.
func (s Stamps) appendPressureDoubts(out []Doubt) []Doubt {
	most, _, ok := s.LoadRange.LTMetricMaximum()
	if !ok || !s.Size.Metric() || s.Size.Prefix() != "LT" {
		return out
	}
	for _, fit := range [...]weight.Fitment{weight.Single, weight.Dual} {
		if p := s.Rating(fit).Pressure; p > most+stampAbove {
			out = append(out, Doubt{DoubtPressure, fit, p.String(), "at most " + most.String()})
		}
	}
	return out
}

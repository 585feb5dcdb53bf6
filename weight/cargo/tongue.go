package cargo

import (
	"fmt"
	"math/big"
	"math/bits"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// TongueFromCoach is what a tongue or pin puts on the coach: the coach
// hitched less the same coach alone, in the same state. The plus/minus is the
// sum of both. It is
// Undetermined unless both are known. A tongue below nothing stays
// negative: a trailer can lift. What does not fit gives an error that matches
// [origin.ErrRange].
func TongueFromCoach(hitched, alone weight.Estimate) (weight.Estimate, error) {
	return less(hitched, alone)
}

// TongueFromTowed is the same weight seen from the towed unit: what it weighs
// alone, on its tongue and all its axles, less what its axles weigh hitched.
func TongueFromTowed(alone, hitchedAxles weight.Estimate) (weight.Estimate, error) {
	return less(alone, hitchedAxles)
}

// Hitching is what coupling does to a rig whose coach and towed unit were
// weighed apart: the tongue weight goes from the towed axles to the coach. A
// plan that only adds the tongue to the coach counts it twice, for the towed
// unit weighs as much as before. The error matches [ErrGeometry] when the
// coupling, the hitch or an axle's distance is not known, and [ErrPlan] for a
// tow bar, or where nothing is towed.
func Hitching(weighed weight.Solution, tongue weight.Mass) ([]Change, error) {
	rig := weighed.Rig()
	if len(rig.Axles) == 0 || rig.Towed() == 0 || rig.Coupling == weight.TowBar {
		return nil, fmt.Errorf("%w: no towed unit that rests on the hitch", ErrPlan)
	}
	m := newSupports(weighed, rig)
	center, err := m.center(m.towed)
	if err != nil {
		return nil, err
	}
	at := Station{Name: "hitch", Behind: rig.Hitch, Towed: true}
	if _, err := m.at(at); err != nil {
		return nil, err
	}
	axles := new(big.Int).Div(center.Num(), center.Denom()) // to the nanometer
	return []Change{
		{Name: "tongue weight, on the coach", Mass: tongue, At: at},
		{Name: "tongue weight, off the towed axles", Mass: -tongue, At: Station{Name: "towed axles", Behind: weight.Length(axles.Int64()), Towed: true}},
	}, nil
}

// less is a - b of two weighings: errors add, and the less sure state counts.
func less(a, b weight.Estimate) (weight.Estimate, error) {
	if !a.Known() || !b.Known() {
		return weight.Estimate{}, nil
	}
	load, err := weight.Sum(a.Load, -b.Load)
	if err != nil {
		return weight.Estimate{}, err
	}
	pm, err := weight.Sum(a.PlusMinus, b.PlusMinus)
	if err != nil {
		return weight.Estimate{}, err
	}
	slope, err := weight.Sum(a.FromSlope, b.FromSlope)
	if err != nil {
		return weight.Estimate{}, err
	}
	return weight.Estimate{Load: load, PlusMinus: pm, FromSlope: slope, State: max(a.State, b.State), Drafts: a.Drafts + b.Drafts, Subtracted: true}, nil
}

// A Band is between which shares of a whole a part should lie.
type Band struct {
	// Low is the least share.
	Low weight.Share `json:"low"`
	// High is the greatest share.
	High weight.Share `json:"high"`
	// Source is where the shares come from.
	Source origin.Source `json:"source"`
}

// TongueBand is 10 to 15 % of the loaded trailer on a ball hitch (common
// practice).
func TongueBand() Band {
	return Band{10 * weight.Percent, 15 * weight.Percent, origin.Source{Grade: origin.CommonPractice, Locator: "tongue weight"}}
}

// PinBand is 15 to 25 % of the loaded trailer on a fifth-wheel pin (common
// practice).
func PinBand() Band {
	return Band{15 * weight.Percent, 25 * weight.Percent, origin.Source{Grade: origin.CommonPractice, Locator: "fifth-wheel pin weight"}}
}

// BandVerdict is where a share lies against a [Band]. The zero BandVerdict is
// not known.
type BandVerdict uint8

// The verdicts: surely within, surely below, surely above, or a bound inside
// the doubt.
const (
	BandNotKnown BandVerdict = iota
	Within
	Below
	Above
	BandTooClose
)

var bandVerdicts = word.List[BandVerdict]{Kind: "band verdict", Unknown: weight.ErrWord, Words: []string{"", "within", "below", "above", "too close to call"}}

// String gives "within", "below", "above", "too close to call", or "not
// known".
func (v BandVerdict) String() string { return bandVerdicts.String(v) }

// MarshalText gives what String gives; the zero BandVerdict is empty text.
func (v BandVerdict) MarshalText() ([]byte, error) { return bandVerdicts.Text(v) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (v *BandVerdict) UnmarshalText(text []byte) error {
	return bandVerdicts.Read(v, text)
}

// Judge says where part lies against b's shares of whole, in the worst case
// of both doubts, exactly. A whole that may be nothing is not judged, nor is
// anything by a band whose shares are negative or the wrong way around; a
// disputed estimate is never within.
func (b Band) Judge(part, whole weight.Estimate) BandVerdict {
	if !part.Known() || !whole.Known() || whole.AtLeast() <= 0 || b.Low < 0 || b.High < b.Low {
		return BandNotKnown
	}
	// part/whole is greatest at the most of part over the least of whole, and
	// the other way around; a part below nothing is below any band.
	most, least := whole.AtLeast(), whole.AtMost()
	switch {
	case shareCmp(part.AtMost(), most, b.Low) < 0:
		return Below
	case shareCmp(part.AtLeast(), least, b.High) > 0:
		return Above
	case part.State != weight.Disputed && whole.State != weight.Disputed &&
		shareCmp(part.AtLeast(), least, b.Low) >= 0 && shareCmp(part.AtMost(), most, b.High) <= 0:
		return Within
	}
	return BandTooClose
}

// shareCmp compares part/whole (whole positive) with a share (not negative),
// exactly.
func shareCmp(part, whole weight.Mass, s weight.Share) int {
	if part < 0 {
		return -1
	}
	ah, al := bits.Mul64(uint64(part), uint64(weight.Whole))
	bh, bl := bits.Mul64(uint64(whole), uint64(s))
	switch {
	case ah == bh && al == bl:
		return 0
	case ah < bh || ah == bh && al < bl:
		return -1
	}
	return 1
}

package cargo

import (
	"fmt"
	"math/big"

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

// A Band is the range in which a part's share of the whole should lie.
type Band struct {
	// Low is the least share.
	Low weight.Share `json:"low"`
	// High is the greatest share.
	High weight.Share `json:"high"`
	// Source is where the shares come from.
	Source origin.Source `json:"source"`
}

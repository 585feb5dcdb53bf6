package cargo

import (
	"errors"
	"fmt"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// LabelKind is the era of a cargo label. The zero kind is not known.
type LabelKind uint8

// The eras.
const (
	// NCC, net carrying capacity, before September 2000: water and LP gas
	// count as load, as does all else put into the coach (from memory).
	NCC LabelKind = iota + 1
	// CCC, cargo carrying capacity, vehicles built after 1 September 2000:
	// full fresh water, full LP gas and the sleeping places' people are
	// already taken off (trade label of 2000).
	CCC
	// OCCC, occupants and cargo, from 2 June 2008: read off, never computed
	// (72 FR 68442; 49 CFR 571.120 S10).
	OCCC
)

var labelKinds = word.List[LabelKind]{Kind: "kind of label", Unknown: weight.ErrWord, Words: []string{"", "NCC", "CCC", "OCCC"}}

// String gives "NCC", "CCC", "OCCC", or "not known".
func (k LabelKind) String() string { return labelKinds.String(k) }

// AppendText appends what String gives; the zero kind is empty text. An unknown value
// is an error.
func (k LabelKind) AppendText(dst []byte) ([]byte, error) { return labelKinds.Append(dst, k) }

// MarshalText writes what [LabelKind.AppendText] appends.
func (k LabelKind) MarshalText() ([]byte, error) { return labelKinds.Text(k) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (k *LabelKind) UnmarshalText(text []byte) error {
	return labelKinds.Read(k, text)
}

// A Label is a cargo label as read, in its own units: nothing is ever
// converted between its two water factors. 0 is "not on the label" in every
// field but Water and LPTank, where it is no tank.
type Label struct {
	// Kind is the era of the label.
	Kind LabelKind `json:"kind"`
	// System is the unit the label was read in; it picks the water factor.
	System weight.System `json:"system"`
	// GVWR is the gross vehicle weight rating.
	GVWR weight.Mass `json:"gvwr,omitzero"`
	// UVW is the unloaded vehicle weight.
	UVW weight.Mass `json:"uvw,omitzero"`
	// Stated is the capacity printed on the label.
	Stated weight.Mass `json:"stated,omitzero"`
	// Water is the fresh tank with the water heater.
	Water weight.Volume `json:"water,omitzero"`
	// LPTank is the LP tank's full volume; it is filled to 80 %.
	LPTank weight.Volume `json:"lp_tank,omitzero"`
	// SleepingPlaces count on a CCC label.
	SleepingPlaces int `json:"sleeping_places,omitzero"`
	// Seats with belts count on an OCCC label.
	Seats int `json:"seats,omitzero"`
	// Source is where the label's figures come from.
	Source origin.Source `json:"source"`
}

// Sentinel causes of a label that does not say enough.
var (
	// ErrLabel says that a label lacks what is asked, or contradicts itself.
	ErrLabel = errors.New("cargo label")
)

// Aboard is how much of the label's items was aboard when the coach was
// weighed.
type Aboard struct {
	// People is what the people aboard weighed.
	People weight.Mass `json:"people"`
	// Water is what the fresh water aboard weighed.
	Water weight.Mass `json:"water"`
	// LPGas is what the LP gas aboard weighed.
	LPGas weight.Mass `json:"lp_gas"`
}

// What the labels count with.
const (
	sleepingPlace = 154 * weight.Pound // trade label of 2000
	seat          = 150 * weight.Pound // 36 FR 14583
	lpFill        = 80 * weight.Percent
	mostPeople    = 1000
)

// LabelWater is a load of water by the label's own factor, rounded up to the
// grid: 8.3 lb/US gal on a label read in US units (72 FR 68442, as quoted), 1 kg/L
// on one read in metric (49 CFR 571.120 S10.4). What does not fit gives an error that
// matches [origin.ErrRange].
func LabelWater(v weight.Volume, s weight.System) (weight.Mass, error) {
	if s == weight.Metric {
		return massOnGrid(int64(v), int64(weight.Kilogram), int64(weight.Liter), s.MassGrid())
	}
	return massOnGrid(int64(v), int64(83*weight.Pound/10), int64(weight.USGallon), s.MassGrid())
}

// LabelLPGas is a full load of LP gas: 4.2 lb/US gal with the tank 80 % full
// (trade label of 2000, as quoted), rounded up to the grid. A 30 gal tank
// holds 24 gal, 100.8 lb.
func LabelLPGas(tank weight.Volume, s weight.System) (weight.Mass, error) {
	return massOnGrid(int64(tank), int64(LPGas().PerGallon)*int64(lpFill/weight.Percent), int64(weight.USGallon)*100, s.MassGrid())
}

// CapacityFromParts computes a CCC from its parts: GVWR - UVW - full fresh water -
// full LP gas - sleeping places x 154 lb (trade label of 2000). The result is
// rounded down and may be negative. For another kind, or without GVWR and UVW,
// the error matches [ErrLabel]; an OCCC is read off, not computed.
func (l Label) CapacityFromParts() (weight.Mass, error) {
	if l.Kind != CCC {
		return 0, fmt.Errorf("%w: only a CCC is computed from its parts: want CCC, not %s", ErrLabel, l.Kind)
	}
	if l.GVWR <= 0 || l.UVW <= 0 || l.Water < 0 || l.LPTank < 0 || l.SleepingPlaces < 0 || l.SleepingPlaces > mostPeople {
		return 0, fmt.Errorf("%w: want GVWR and UVW, and no part below nothing", ErrLabel)
	}
	water, err := LabelWater(l.Water, l.System)
	if err != nil {
		return 0, err
	}
	gas, err := LabelLPGas(l.LPTank, l.System)
	if err != nil {
		return 0, err
	}
	return weight.Sum(l.GVWR, -l.UVW, -water, -gas, -weight.Mass(l.SleepingPlaces)*sleepingPlace)
}

// Capacity is what the label lets be loaded: the figure printed on it, else,
// for a CCC, that from its parts, and for an NCC, GVWR - UVW. The error
// matches [ErrLabel] when the label says neither.
func (l Label) Capacity() (weight.Mass, error) {
	switch {
	case l.Stated > 0:
		return l.Stated, nil
	case l.Kind == CCC:
		return l.CapacityFromParts()
	case l.Kind == NCC && l.GVWR > 0 && l.UVW > 0:
		return weight.Sum(l.GVWR, -l.UVW)
	}
	return 0, fmt.Errorf("%w: no %s is stated", ErrLabel, l.Kind)
}

// Compare sets what the scale says was really loaded beside the capacity.
// Weighed is the coach as it stood, hitched where something is towed: tongue
// weight counts as cargo. What was loaded is, for
//
//   - NCC: the coach less UVW, water, LP gas and people included;
//   - CCC: the coach less UVW and less the water, LP gas and people aboard;
//   - OCCC: the coach less UVW or GVWR - OCCC, the smaller of the two that is
//     known, plus the LP gas its tank lacks, which is part of the UVW; water is
//     cargo (49 CFR 571.120 S10.4.2, 571.110 S9.3.2).
//
// The error matches [ErrLabel] when a part is missing.
func (l Label) Compare(weighed weight.Estimate, aboard Aboard) (Margin, error) {
	capacity, err := l.Capacity()
	if err != nil {
		return Margin{}, err
	}
	if aboard.People < 0 || aboard.Water < 0 || aboard.LPGas < 0 {
		return Margin{}, fmt.Errorf("%w: what is aboard weighs less than nothing", ErrLabel)
	}
	limit := Limit{Name: l.Kind.String(), Rating: capacity, Source: l.Source}
	loaded := weighed
	switch l.Kind {
	case NCC, CCC:
		if l.UVW <= 0 {
			return Margin{}, fmt.Errorf("%w: want UVW to tell what was loaded", ErrLabel)
		}
		if l.Kind == NCC {
			aboard = Aboard{}
		}
		loaded.Load, err = weight.Sum(weighed.Load, -l.UVW, -aboard.Water, -aboard.LPGas, -aboard.People)
	case OCCC:
		var empty, gas weight.Mass
		if empty, err = l.empty(capacity); err != nil {
			return Margin{}, err
		}
		if gas, err = LabelLPGas(l.LPTank, l.System); err != nil {
			return Margin{}, err
		}
		loaded.Load, err = weight.Sum(weighed.Load, -empty, max(gas-aboard.LPGas, 0))
	default:
		return Margin{}, fmt.Errorf("%w: its kind is not known", ErrLabel)
	}
	if err != nil {
		return Margin{}, err
	}
	if !weighed.Known() {
		loaded.Load = 0
	}
	return MarginOf(limit, loaded), nil
}

// empty is the least that the coach of an OCCC may have weighed without cargo.
func (l Label) empty(capacity weight.Mass) (weight.Mass, error) {
	if l.GVWR <= 0 && l.UVW <= 0 {
		return 0, fmt.Errorf("%w: want GVWR or UVW to tell what was loaded", ErrLabel)
	}
	least, err := weight.Sum(l.GVWR, -capacity)
	if l.GVWR <= 0 || l.UVW > 0 && l.UVW < least {
		return l.UVW, nil
	}
	return least, err
}

// AddedWeightLimit is the weight added before first sale above which a label must
// say so: the lesser of 1.5 % of GVWR, rounded down to one step, and 100 lb
// (72 FR 68442).
func AddedWeightLimit(gvwr weight.Mass) (weight.Mass, error) {
	part, err := (150 * weight.Percent / 100).Of(gvwr, weight.Floor)
	return min(part, 100*weight.Pound), err
}

// LeastGVWR is the least a GVWR may be: unloaded weight, rated cargo and 150 lb
// for each seat (36 FR 14583 in NHTSA letter aiam0613).
func LeastGVWR(uvw, cargo weight.Mass, seats int) (weight.Mass, error) {
	if seats < 0 || seats > mostPeople {
		return 0, fmt.Errorf("%w: %d seats", ErrLabel, seats)
	}
	return weight.Sum(uvw, cargo, weight.Mass(seats)*seat)
}

// GAWRShortfall is by how much the GAWRs fall short of the GVWR they must add
// up to (49 CFR 571.3; NHTSA letter nht74-3.36), 0 when they do not.
func GAWRShortfall(gvwr weight.Mass, gawrs ...weight.Mass) (weight.Mass, error) {
	sum, err := weight.Sum(gawrs...)
	if err != nil {
		return 0, err
	}
	d, err := weight.Sum(gvwr, -sum)
	return max(d, 0), err
}

package weight

import (
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// State says how an [Estimate] came about. The zero State is
// Undetermined.
type State uint8

// The states of an estimate.
const (
	// Undetermined: the readings do not say.
	Undetermined State = iota
	// Determined: the readings say, within the plus/minus.
	Determined
	// Assumed: it rests on an assumed share of an axle. The share leans to the
	// heavy side; the plus/minus comes from what was read alone.
	Assumed
	// Disputed: it rests on readings that contradict each other. The truth
	// lies inside the plus/minus if just one of them is wrong.
	Disputed
)

var states = word.List[State]{Kind: "state", Unknown: ErrWord, Words: []string{"undetermined", "determined", "assumed", "disputed"}}

// String gives "undetermined", "determined", "assumed" or "disputed".
func (s State) String() string { return states.String(s) }

// AppendText appends what String gives. An unknown value is an error.
func (s State) AppendText(dst []byte) ([]byte, error) { return states.Append(dst, s) }

// MarshalText writes what [State.AppendText] appends.
func (s State) MarshalText() ([]byte, error) { return states.Text(s) }

// UnmarshalText reads what String gives; any other text gives an error that
// matches [ErrWord].
func (s *State) UnmarshalText(text []byte) error { return states.Read(s, text) }

// An Estimate is what the readings say about one sum of positions.
type Estimate struct {
	// Load is on the rig's grid (0.01 lb or 1 g, nearest); 0 when
	// Undetermined.
	Load Mass `json:"load"`
	// PlusMinus is the whole doubt, in the worst case: whatever the errors
	// inside the tolerances, and whatever an unlevel plate moved, the truth is
	// no farther from Load. Rounded up to the grid, the rounding of Load
	// included; what does not fit is the greatest Mass.
	PlusMinus Mass `json:"plus_minus"`
	// FromSlope is the part of PlusMinus that an unlevel plate may have moved,
	// where it is not known to be level and one side was found by subtraction;
	// rounded up. The rest comes from the scale: see [Estimate.FromScale].
	FromSlope Mass `json:"from_slope,omitzero"`
	// State says whether there is a load, and how it was found.
	State State `json:"state"`
	// Drafts counts the readings it rests on; 1 is a single draft.
	Drafts int `json:"drafts,omitzero"`
	// Subtracted says that some reading was subtracted.
	Subtracted bool `json:"subtracted,omitzero"`
}

// Known reports whether there is a load at all: anything but [Undetermined].
func (e Estimate) Known() bool { return e.State != Undetermined }

// FromScale is the part of PlusMinus that comes from the tolerances of the
// readings and from rounding; the rest is FromSlope.
func (e Estimate) FromScale() Mass { return max(e.PlusMinus-e.FromSlope, 0) }

// AtMost is Load and PlusMinus together, up to the greatest Mass.
func (e Estimate) AtMost() Mass {
	if e.Load < 0 {
		return e.Load + e.PlusMinus
	}
	return satAdd(e.Load, e.PlusMinus)
}

// AtLeast is Load less PlusMinus; it may be negative.
func (e Estimate) AtLeast() Mass {
	if e.Load < 0 {
		return -satAdd(-e.Load, e.PlusMinus)
	}
	return e.Load - e.PlusMinus
}

// Of is what the readings say about the sum of a set. It comes from the
// readings themselves, not from adding the ends, so a gross weight read in one
// draft is as sure as that reading. Where a load cannot be negative, -5
// plus/minus 40 becomes 0. The empty set and positions outside the rig are
// [Undetermined].
func (s Solution) Of(set Set) Estimate {
	if s.s == nil {
		return Estimate{}
	}
	e := s.s.of(set, 0)
	if e.State == Undetermined && s.assumed != 0 {
		e = s.assume(set)
	}
	return e
}

// Difference is how much more a carries than b, as the readings say it; it may
// be negative. Shares assumed with [Solution.Assume] do not count.
func (s Solution) Difference(a, b Set) Estimate {
	return s.s.of(a, b)
}

// Assume gives loads to the ends of an axle that is determined only as a whole:
// each end is taken to carry the heavier share of it, rounded up, and is
// Assumed. Both ends get that share, since nobody knows which is heavier, so
// the two add up to more than the axle. 55 % is the usual caution; 50 % or
// less, and more than 100 %, is an error that matches [origin.ErrRange]: an
// axle that carries both ends alike is no assumption to drive on.
func (s Solution) Assume(heavier Share) (Solution, error) {
	if heavier <= Whole/2 || heavier > Whole {
		return s, &origin.TextError{Kind: "share of the heavier end", Text: heavier.String(), Want: "more than 50 %, at most 100 %", Err: origin.ErrRange}
	}
	s.assumed = heavier
	return s, nil
}

// UsualHeavierEnd is the usual share of the heavier end of an axle whose ends
// were not weighed: 55 % (common practice).
const UsualHeavierEnd = 55 * Percent

// assume adds up whole axles, as one, and single ends by the assumed share.
func (s Solution) assume(set Set) Estimate {
	if !s.s.rig.All().Contains(set) {
		return Estimate{}
	}
	var whole Set
	var out Estimate
	for _, a := range set.Axles() {
		part := set & AxleOf(a)
		if part == AxleOf(a) {
			whole |= part
			continue
		}
		if part != EndOf(a, Left) && part != EndOf(a, Right) {
			return Estimate{}
		}
		if !out.add(s.assumedEnd(a, part)) {
			return Estimate{}
		}
	}
	if whole != 0 && !out.add(s.s.of(whole, 0)) {
		return Estimate{}
	}
	return out
}

// assumedEnd is what the readings say of an end, else the heavier share of its axle.
func (s Solution) assumedEnd(axle int, end Set) Estimate {
	if e := s.s.of(end, 0); e.Known() {
		return e
	}
	e := s.s.of(AxleOf(axle), 0)
	load, err1 := s.assumed.Of(e.Load, Ceiling)
	pm, err2 := s.assumed.Of(e.PlusMinus, Ceiling)
	if !e.Known() || err1 != nil || err2 != nil {
		return Estimate{}
	}
	grid := s.s.rig.System.MassGrid()
	e.Load, e.PlusMinus = load.Round(grid, Ceiling), pm.Round(grid, Ceiling)
	e.State = max(e.State, Assumed)
	return e
}

// add adds what is on other positions; it reports false where that is not known, or
// does not fit.
func (e *Estimate) add(more Estimate) bool {
	load, err := Sum(e.Load, more.Load)
	if !more.Known() || err != nil {
		return false
	}
	e.Load, e.PlusMinus, e.FromSlope = load, satAdd(e.PlusMinus, more.PlusMinus), satAdd(e.FromSlope, more.FromSlope)
	e.State = max(e.State, more.State)
	e.Drafts += more.Drafts
	e.Subtracted = e.Subtracted || more.Subtracted
	return true
}

// of is the estimate of plus less minus.
func (s *solved) of(plus, minus Set) Estimate {
	if s == nil || plus|minus == 0 {
		return Estimate{}
	}
	e := s.said(plus, minus)
	if minus == 0 && e.State == Determined {
		if len(s.readings) > s.rank() {
			s.tighten(plus, &e)
		}
		e = e.notBelowNothing()
		e = s.tilted(plus, e)
	}
	return e
}

// said is what the readings say, before what is known besides is held to it.
func (s *solved) said(plus, minus Set) Estimate {
	var x raw
	if !s.find(plus, minus, nil, &x) {
		return Estimate{}
	}
	if s.inConflict != nil && s.disputed(&x) {
		return s.hull(plus, minus, &x)
	}
	return s.estimate(&x, nil)
}

func (s *solved) rank() int {
	if s.big != nil {
		return len(s.big.pivot)
	}
	return s.exact.rank
}

func (s *solved) estimate(x *raw, tol func(i int) Mass) Estimate {
	load, pm, ok := s.round(x, tol)
	if !ok {
		return Estimate{}
	}
	return Estimate{Load: load, PlusMinus: pm, State: Determined, Drafts: x.drafts, Subtracted: x.subtracted}
}

// notBelowNothing moves a negative load to 0; the plus/minus then reaches as
// far up as before.
func (e Estimate) notBelowNothing() Estimate {
	if e.Load < 0 {
		e.PlusMinus = max(e.Load+e.PlusMinus, 0)
		e.Load = 0
	}
	return e
}

// tighten narrows the plus/minus of a sum that was also read in one draft:
// the truth is inside that reading's tolerance too.
func (s *solved) tighten(set Set, e *Estimate) {
	low, high := e.Load-e.PlusMinus, e.Load+e.PlusMinus
	for _, r := range s.readings {
		if r.On == set {
			low, high = max(low, r.Load-r.Tolerance), min(high, r.Load+r.Tolerance)
		}
	}
	if low > high {
		return
	}
	grid := s.rig.System.MassGrid()
	e.PlusMinus = min(e.PlusMinus, max(high-e.Load, e.Load-low).Round(grid, Ceiling))
}

// tilted adds what a plate that is not known to be level may have moved.
func (s *solved) tilted(set Set, e Estimate) Estimate {
	if e.Subtracted && s.scale.Stance.Level != Yes {
		e.FromSlope = s.slope(set, e)
		e.PlusMinus = satAdd(e.PlusMinus, e.FromSlope)
	}
	return e
}

// slope is what a slope may have moved into or out of the one-sided part.
func (s *solved) slope(set Set, e Estimate) Mass {
	axles := set.oneSided()
	if axles == 0 {
		return 0
	}
	base := satMul(e.Load, 2)
	if whole := s.of(axles, 0); whole.State == Determined {
		base = whole.Load
	}
	track := Length(0)
	for a := range s.rig.Axles {
		if t := s.rig.TrackOf(a); axles&AxleOf(a) != 0 && t != 0 && (track == 0 || t < track) {
			track = t
		}
	}
	m, err := CrossfallShift(base, UsualCrossfall, s.rig.Height, track)
	if err != nil {
		return greatest
	}
	return m.Round(s.rig.System.MassGrid(), Ceiling)
}

func (s *solved) disputed(x *raw) bool {
	for i, in := range s.inConflict {
		if in && x.sign(i) != 0 {
			return true
		}
	}
	return false
}

// hull covers the answers of leaving out each suspect. With no suspect it is
// the answer of all with the tolerances stretched until they agree.
func (s *solved) hull(plus, minus Set, x *raw) Estimate {
	if len(s.without) == 0 {
		tol := func(i int) Mass { return s.stretched[i] }
		if x.big == nil && !s.find(plus, minus, tol, x) { // else x holds for any tolerance
			return Estimate{}
		}
		e := s.estimate(x, tol)
		if e.Known() {
			e.State = Disputed
			if minus == 0 {
				e = s.tilted(plus, e.notBelowNothing())
			}
		}
		return e
	}
	var out Estimate
	var low, high Mass
	for i, w := range s.without {
		e := w.of(plus, minus)
		if !e.Known() {
			return Estimate{}
		}
		pm := e.FromScale()
		if i == 0 {
			out, low, high = e, e.Load-pm, e.Load+pm
		}
		low, high = min(low, e.Load-pm), max(high, e.Load+pm)
		out.FromSlope = max(out.FromSlope, e.FromSlope)
		out.Drafts = max(out.Drafts, e.Drafts)
		out.Subtracted = out.Subtracted || e.Subtracted
	}
	grid := s.rig.System.MassGrid()
	out.Load = (low + (high-low)/2).Round(grid, Nearest)
	out.PlusMinus = satAdd(max(high-out.Load, out.Load-low).Round(grid, Ceiling), out.FromSlope)
	out.State = Disputed
	return out
}

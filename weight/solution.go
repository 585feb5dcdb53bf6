package weight

import (
	"errors"
	"slices"
)

// A Solution is what a set of readings says. It is immutable and safe for
// concurrent use; the zero Solution knows nothing.
type Solution struct {
	s       *solved
	assumed Share
}

// A Residual is how far a reading lies from what all readings together say.
type Residual struct {
	// Name is the reading's.
	Name string `json:"name"`
	// Load is the reading's, as read.
	Load Mass `json:"load"`
	// Off is the reading less what all readings together say, rounded to the
	// grid (nearest).
	Off Mass `json:"off"`
	// Tolerance is what the reading may be off, either way.
	Tolerance Mass `json:"tolerance"`
}

// A NextWeighing is one further reading that a scale can take.
type NextWeighing struct {
	// On is what stands on the plate.
	On Set `json:"on"`
	// Instruction says what to do, for the driver.
	Instruction string `json:"instruction"`
}

// An UndeterminedSum is a sum the readings do not determine, and the further
// weighings that would settle it.
type UndeterminedSum struct {
	// Set is the sum's positions.
	Set Set `json:"set"`
	// Name is the set in words; see [Rig.Name].
	Name string `json:"name"`
	// Weighings are as few further weighings as settle it; empty when this
	// scale cannot.
	Weighings []NextWeighing `json:"weighings,omitzero"`
	// Fewest is false when the search was cut short: Weighings are enough, but
	// fewer might do.
	Fewest bool `json:"fewest"`
}

// A Diagonal is a heavy pair of opposite ends: a front end and the ends of
// the other side behind it.
type Diagonal struct {
	// Heavy is the positions of the heavier diagonal.
	Heavy Set `json:"heavy"`
	// By is how much more it carries than the other one.
	By Estimate `json:"by"`
}

// Rig is what was weighed.
func (s Solution) Rig() Rig {
	if s.s == nil {
		return Rig{}
	}
	rig := s.s.rig
	rig.Axles = slices.Clone(rig.Axles)
	return rig
}

// Scale is the scale handed to [Solve].
func (s Solution) Scale() Scale {
	if s.s == nil {
		return Scale{}
	}
	return s.s.scale
}

// Readings lists the readings used, with their tolerances filled in.
func (s Solution) Readings() []Reading {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.readings)
}

// Rejected lists the readings that were left out, and why.
func (s Solution) Rejected() []*ReadingError {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.rejected)
}

// Conflicts lists the readings that contradict each other beyond their
// tolerances. Readings that differ within tolerance agree.
func (s Solution) Conflicts() []*Conflict {
	if s.s == nil {
		return nil
	}
	return slices.Clone(s.s.conflicts)
}

// Err joins what [Solution.Rejected] and [Solution.Conflicts] tell, or is nil.
func (s Solution) Err() error {
	if s.s == nil {
		return nil
	}
	var errs []error
	for _, e := range s.s.rejected {
		errs = append(errs, e)
	}
	for _, e := range s.s.conflicts {
		errs = append(errs, e)
	}
	return errors.Join(errs...)
}

// Residuals gives, for each reading used, how far it lies from the load all
// readings together say. All are 0 unless there are more readings than needed.
func (s Solution) Residuals() []Residual {
	if s.s == nil {
		return nil
	}
	out := make([]Residual, 0, len(s.s.readings))
	for i := range s.s.readings {
		r := &s.s.readings[i]
		out = append(out, Residual{Name: r.Name, Load: r.Load, Off: s.s.residual(i), Tolerance: r.Tolerance})
	}
	return out
}

func (s *solved) residual(i int) Mass {
	if len(s.readings) == s.rank() {
		return 0
	}
	r := s.readings[i]
	if grid := s.rig.System.MassGrid(); s.big != nil {
		load := bigDiv(s.big.fitted(i), s.big.det, grid, Nearest)
		if !load.IsInt64() {
			return 0
		}
		return (r.Load - Mass(load.Int64())).Round(grid, Nearest)
	}
	var x raw
	if !s.find(r.On, 0, nil, &x) {
		return 0
	}
	load, _, ok := s.round(&x, nil)
	if !ok {
		return 0
	}
	return (r.Load - load).Round(s.rig.System.MassGrid(), Nearest)
}

// SmallReadings names the readings below the scale's minimum load.
func (s Solution) SmallReadings() []string {
	if s.s == nil {
		return nil
	}
	var out []string
	least := s.s.scale.MinimumLoad()
	for i := range s.s.readings {
		if r := &s.s.readings[i]; r.Load < least {
			out = append(out, r.Name)
		}
	}
	return out
}

// OffDivision names the readings that are no multiple of the division that the
// scale states: the scale cannot have shown them. Without a division stated
// there are none.
func (s Solution) OffDivision() []string {
	if s.s == nil || s.s.scale.Division <= 0 {
		return nil
	}
	var out []string
	for i := range s.s.readings {
		if r := &s.s.readings[i]; r.Load%s.s.scale.Division != 0 {
			out = append(out, r.Name)
		}
	}
	return out
}

// HeavyDiagonal reports whether a front end and the coach's ends of the other
// side behind it are surely heavier than the opposite ones, each beyond its
// doubt, and by how much the diagonal is. On air suspension that points to
// ride height first, cargo second (common practice).
func (s Solution) HeavyDiagonal() (Diagonal, bool) {
	if s.s == nil {
		return Diagonal{}, false
	}
	coach := s.s.rig.Coach()
	rear := coach &^ AxleOf(0)
	if coach == 0 || rear == 0 {
		return Diagonal{}, false
	}
	left, right := SideOf(Left), SideOf(Right)
	front := s.Difference(EndOf(0, Left), EndOf(0, Right))
	back := s.Difference(rear&left, rear&right)
	heavy := EndOf(0, Left) | rear&right
	switch {
	case !front.Known() || !back.Known():
		return Diagonal{}, false
	case front.AtLeast() > 0 && back.AtMost() < 0:
	case front.AtMost() < 0 && back.AtLeast() > 0:
		heavy = EndOf(0, Right) | rear&left
	default:
		return Diagonal{}, false
	}
	return Diagonal{Heavy: heavy, By: s.Difference(heavy, coach&^heavy)}, true
}

// Cautions lists what must be said beside these figures: how the vehicle
// stood, that they were put together from several readings, small loads, a
// heavy diagonal (unless the rig is known to have no air suspension), an
// assumed share, and readings that disagree.
func (s Solution) Cautions() []Caution {
	if s.s == nil {
		return nil
	}
	var out []Caution
	if len(s.s.readings) > 1 {
		out = append(out, SplitWeighing)
	}
	if len(s.SmallReadings()) > 0 {
		out = append(out, SmallLoad)
	}
	if len(s.OffDivision()) > 0 {
		out = append(out, OffDivision)
	}
	out = append(out, s.s.scale.Stance.Cautions(s.s.rig)...)
	if _, heavy := s.HeavyDiagonal(); heavy && s.s.rig.Air != No {
		out = append(out, HeavyDiagonal)
	}
	if s.assumed != 0 {
		out = append(out, AssumedShare)
	}
	if len(s.s.conflicts) > 0 {
		out = append(out, ReadingsDisagree)
	}
	return out
}

package weight

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"axleend.example/internal/word"
)

// Coupling says how a towed unit hangs on the coach. The zero Coupling is not
// known (or nothing is towed).
type Coupling uint8

// The couplings. A tow bar pulls a car on its own four wheels and carries no
// weight; a tongue (ball hitch) and a fifth-wheel pin put part of the trailer
// on the coach.
const (
	TowBar Coupling = iota + 1
	Tongue
	FifthWheel
)

var couplings = word.List[Coupling]{Kind: "coupling", Unknown: ErrWord, Words: []string{"", "tow bar", "tongue", "fifth wheel"}}

// String gives "tow bar", "tongue", "fifth wheel", or "not known".
func (c Coupling) String() string { return couplings.String(c) }

// AppendText appends what String gives; the zero Coupling is empty text. An
// unknown value is an error.
func (c Coupling) AppendText(dst []byte) ([]byte, error) { return couplings.Append(dst, c) }

// MarshalText writes what [Coupling.AppendText] appends.
func (c Coupling) MarshalText() ([]byte, error) { return couplings.Text(c) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [ErrWord].
func (c *Coupling) UnmarshalText(text []byte) error { return couplings.Read(c, text) }

// An Axle is one axle of a [Rig].
type Axle struct {
	// ID is what people call it: "steer", "drive", "tag".
	ID string `json:"id"`
	// Fitment says whether each end has one tire or two.
	Fitment Fitment `json:"fitment,omitzero"`
	// Towed marks an axle of the towed unit.
	Towed bool `json:"towed,omitzero"`
	// Behind is the distance behind the first axle, the towed unit standing
	// straight behind the coach; 0 on the first axle; on any other, 0 means not
	// known.
	Behind Length `json:"behind,omitzero"`
	// Track is the distance between the centers of the two ends (of the dual
	// pairs on a dual axle); 0 is not known, and the rig's Track serves.
	Track Length `json:"track,omitzero"`
}

// A Rig is what was weighed: the coach's axles from the front, then those of
// a towed unit. A towed unit weighed alone is a Rig of towed axles only.
type Rig struct {
	// Axles are listed from the front, at most [MaxAxles].
	Axles []Axle `json:"axles"`
	// System is what the record is written in, and the grid on which computed
	// masses land: 0.01 lb or 1 g.
	System System `json:"system"`
	// Coupling is how the towed unit is coupled; it matters for cargo in it.
	Coupling Coupling `json:"coupling,omitzero"`
	// Hitch is the coupling point's distance behind the first axle; 0 is not
	// known. It matters for cargo in the towed unit.
	Hitch Length `json:"hitch,omitzero"`
	// Track serves axles without one of their own; 0 is not known.
	Track Length `json:"track,omitzero"`
	// Height is the height of the center of gravity; 0 is not known, and 54 in is
	// then assumed.
	Height Length `json:"height,omitzero"`
	// Air says whether the coach rides on air suspension.
	Air YesNo `json:"air,omitzero"`
}

// ErrRig says that a rig cannot be: no axle or more than [MaxAxles], a coach
// axle behind a towed one, a distance that goes backward, or a negative one.
var ErrRig = errors.New("impossible rig")

// Check returns nil for a rig that can be, else an error that matches
// [ErrRig] and says which axle is wrong.
func (r Rig) Check() error {
	if n := len(r.Axles); n == 0 || n > MaxAxles {
		return fmt.Errorf("%w: %d axles: want 1 to %d", ErrRig, n, MaxAxles)
	}
	var last Length
	for i, a := range r.Axles {
		switch {
		case i > 0 && r.Axles[i-1].Towed && !a.Towed:
			return fmt.Errorf("%w: axle %d (%s) is the coach's but stands behind a towed one", ErrRig, i+1, word.Quote(a.ID))
		case a.Fitment > Dual:
			_, err := fitments.Text(a.Fitment)
			return fmt.Errorf("%w: axle %d (%s): %w", ErrRig, i+1, word.Quote(a.ID), err)
		case i == 0 && a.Behind != 0:
			return fmt.Errorf("%w: axle 1 (%s) is %s behind itself: want 0", ErrRig, word.Quote(a.ID), a.Behind)
		case a.Behind < 0 || a.Track < 0 || a.Behind > farthest || a.Track > farthest || a.Behind != 0 && a.Behind <= last:
			return fmt.Errorf("%w: axle %d (%s): distances must be positive and grow toward the rear", ErrRig, i+1, word.Quote(a.ID))
		}
		last = max(last, a.Behind)
	}
	if r.Hitch < 0 || r.Track < 0 || r.Height < 0 || max(r.Hitch, r.Track, r.Height) > farthest {
		return fmt.Errorf("%w: hitch, track and height must not be negative, nor beyond %s", ErrRig, farthest)
	}
	return nil
}

// farthest keeps products of lengths in range; no vehicle is a kilometer long.
const farthest = Kilometer

// All is every position of the rig.
func (r Rig) All() Set {
	n := min(len(r.Axles), MaxAxles)
	return Set(1)<<(4*n) - 1
}

// Coach is the coach's axles.
func (r Rig) Coach() Set { return r.All() &^ r.Towed() }

// Towed is the towed unit's axles, empty when nothing is towed.
func (r Rig) Towed() Set {
	var s Set
	for i, a := range r.Axles {
		if a.Towed {
			s |= AxleOf(i)
		}
	}
	return s
}

// TrackOf gives the track of an axle, its own or else the rig's; 0 is not
// known, also for an axle that the rig does not have.
func (r Rig) TrackOf(axle int) Length {
	if axle < 0 || axle >= len(r.Axles) {
		return 0
	}
	if t := r.Axles[axle].Track; t != 0 {
		return t
	}
	return r.Track
}

// AxleName names an axle by its ID, or by its number from the front.
func (r Rig) AxleName(i int) string {
	if i >= 0 && i < len(r.Axles) && r.Axles[i].ID != "" {
		return "the " + word.Clip(r.Axles[i].ID) + " axle"
	}
	return "axle " + strconv.Itoa(i+1)
}

// Name says in words what a set is: "the coach", "the left side of the coach",
// "the drive axle", "the left end of the drive axle", "the outer left wheel of
// the drive axle", or a list of such. An empty set is "nothing".
func (r Rig) Name(s Set) string {
	s &= everyAxle
	coach, towed := r.Coach(), r.Towed()
	whole := []struct {
		set  Set
		name string
	}{
		{r.All(), "the combination"}, {coach, "the coach"}, {towed, "the towed unit"},
	}
	if towed == 0 {
		whole = whole[1:]
	}
	if len(r.Axles) > 1 {
		for _, w := range whole {
			if w.set == 0 || len(w.set.Axles()) == 1 {
				continue
			}
			switch s {
			case w.set:
				return w.name
			case w.set & SideOf(Left):
				return "the left side of " + w.name
			case w.set & SideOf(Right):
				return "the right side of " + w.name
			}
		}
	}
	var parts []string
	for _, a := range s.Axles() {
		part, name := s&AxleOf(a), r.AxleName(a)
		if part == AxleOf(a) {
			parts = append(parts, name)
			continue
		}
		for _, side := range [...]Side{Left, Right} {
			switch part & SideOf(side) {
			case EndOf(a, side):
				parts = append(parts, "the "+side.String()+" end of "+name)
			case WheelOf(a, side, Inner):
				parts = append(parts, "the inner "+side.String()+" wheel of "+name)
			case WheelOf(a, side, Outer):
				parts = append(parts, "the outer "+side.String()+" wheel of "+name)
			}
		}
	}
	switch len(parts) {
	case 0:
		return "nothing"
	case 1:
		return parts[0]
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// Sums lists what an owner asks about, the smaller parts first: each end,
// each axle, each side of the coach and of the towed unit, the coach, the
// towed unit, the combination. A part that is the same as an earlier one
// (the side of a one-axle trailer) is left out.
func (r Rig) Sums() []Set {
	out := make([]Set, 0, 3*len(r.Axles)+7)
	add := func(s Set) {
		if s != 0 && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for i := range min(len(r.Axles), MaxAxles) {
		add(EndOf(i, Left))
		add(EndOf(i, Right))
	}
	for i := range min(len(r.Axles), MaxAxles) {
		add(AxleOf(i))
	}
	for _, unit := range [...]Set{r.Coach(), r.Towed()} {
		add(unit & SideOf(Left))
		add(unit & SideOf(Right))
	}
	add(r.Coach())
	add(r.Towed())
	add(r.All())
	return out
}

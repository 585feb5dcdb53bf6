package record

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// ErrStation says that no station of the trip has this name.
var ErrStation = errors.New("no such station")

// A Trip is what a visit says about loading: the places where something can
// be loaded, what may move, what will change before the coach is driven, and
// the cargo label. The zero Trip is a visit that says nothing about it.
type Trip struct {
	// Track is the distance between the centers of the two ends of an axle
	// (of the dual pairs on a dual axle); loads off the centerline need it.
	Track Recorded[weight.Length] `json:"track,omitzero"`
	// Coupling is how the towed unit is coupled; stations in it need that.
	Coupling Recorded[weight.Coupling] `json:"coupling,omitzero"`
	// Hitch is how far behind the steer axle the coupling point lies; stations in
	// the towed unit need that.
	Hitch Recorded[weight.Length] `json:"hitch,omitzero"`
	// LeastOnSteer is the least that must rest on the steer axle.
	LeastOnSteer Recorded[weight.Mass] `json:"least_on_steer,omitzero"`
	// Stations are places where something can be loaded.
	Stations []TripStation `json:"stations,omitzero"`
	// Items are cargo that was aboard when weighed, and may move.
	Items []TripItem `json:"items,omitzero"`
	// Changes are what will differ from when it was weighed.
	Changes []TripChange `json:"changes,omitzero"`
	// Label is the cargo label as read.
	Label CargoLabel `json:"label,omitzero"`
}

// A TripStation is a place where something can be loaded.
type TripStation struct {
	// Name is what to call it.
	Name string `json:"name"`
	// Behind is how far behind the steer axle it is, below zero ahead of it.
	Behind weight.Length `json:"behind_steer"`
	// Offset is how far off the centerline it is.
	Offset Offset `json:"offset,omitzero"`
	// Most is the most it may hold by itself.
	Most Recorded[weight.Mass] `json:"most,omitzero"`
	// Towed says that it is in the towed unit.
	Towed bool `json:"towed,omitzero"`
}

// A TripItem is cargo that was aboard when the coach was weighed and may move
// to the stations named.
type TripItem struct {
	// Name is what it is.
	Name string `json:"name"`
	// Mass is what it weighs, above zero.
	Mass weight.Mass `json:"mass"`
	// At is the station where it was when weighed.
	At string `json:"at"`
	// MayGoTo are the stations where it may go.
	MayGoTo []string `json:"may_go_to"`
}

// A TripChange is one thing that will be other than it was weighed. Exactly
// one of Add, TakeOff (people, cargo), Fill and Drain (a tank, with its Fluid)
// is recorded. Cargo that is added may be given other stations to go to.
type TripChange struct {
	// Name is what it is.
	Name string `json:"name"`
	// At is the station where it changes.
	At string `json:"at"`
	// Add is what comes aboard.
	Add Recorded[weight.Mass] `json:"add,omitzero"`
	// TakeOff is what leaves.
	TakeOff Recorded[weight.Mass] `json:"take_off,omitzero"`
	// Fill is what a tank is filled with.
	Fill Recorded[weight.Volume] `json:"fill,omitzero"`
	// Drain is what a tank is drained of.
	Drain Recorded[weight.Volume] `json:"drain,omitzero"`
	// Fluid is what the tank holds.
	Fluid Recorded[Fluid] `json:"fluid,omitzero"`
	// People says that what comes aboard is the people who were missing when the
	// coach was weighed.
	People Recorded[bool] `json:"people,omitzero"`
	// MayGoTo are stations where added cargo may go instead.
	MayGoTo []string `json:"may_go_to,omitzero"`
}

// A CargoLabel is the label as read, in its own units, and what of its items
// was aboard when the coach was weighed. What is not recorded as aboard counts
// as cargo.
type CargoLabel struct {
	// Kind is which label it is.
	Kind Recorded[cargo.LabelKind] `json:"kind,omitzero"`
	// System is the units it is written in.
	System Recorded[weight.System] `json:"units,omitzero"`
	// GVWR is the gross vehicle weight rating on it.
	GVWR Recorded[weight.Mass] `json:"gvwr,omitzero"`
	// UVW is the unloaded vehicle weight on it.
	UVW Recorded[weight.Mass] `json:"uvw,omitzero"`
	// Stated is the capacity that it states.
	Stated Recorded[weight.Mass] `json:"stated,omitzero"`
	// FreshWater is all fresh water, the heater's too.
	FreshWater Recorded[weight.Volume] `json:"fresh_water,omitzero"`
	// LPTank is the size of the LP gas tank.
	LPTank Recorded[weight.Volume] `json:"lp_tank,omitzero"`
	// SleepingPlaces is how many it has.
	SleepingPlaces Recorded[int] `json:"sleeping_places,omitzero"`
	// Seats is how many belted seats it has.
	Seats Recorded[int] `json:"seats,omitzero"`
	// PeopleAboard is the people aboard when weighed.
	PeopleAboard Recorded[weight.Mass] `json:"people_aboard,omitzero"`
	// WaterAboard is the fresh water aboard when weighed.
	WaterAboard Recorded[weight.Volume] `json:"water_aboard,omitzero"`
	// LPGasAboard is the LP gas aboard when weighed.
	LPGasAboard Recorded[weight.Volume] `json:"lp_gas_aboard,omitzero"`
}

// An Offset is how far a place lies from the centerline, to the right; below
// zero it lies to the left. The zero Offset is the centerline.
type Offset weight.Length

// ParseOffset reads "30 in left", "0.8 m right" or "center". The error is an
// [origin.TextError], or that of the length.
func ParseOffset(text string) (Offset, error) {
	if text == "center" {
		return 0, nil
	}
	length, side := text, ""
	if i := strings.LastIndexByte(text, ' '); i >= 0 {
		length, side = text[:i], text[i+1:]
	}
	if side != "left" && side != "right" {
		return 0, &origin.TextError{Kind: "offset", Text: text, Want: `a length and its side, such as "30 in left", or "center"`, Err: origin.ErrSyntax}
	}
	l, err := parseLength(length)
	if err != nil {
		return 0, err
	}
	if side == "left" {
		l = -l
	}
	return Offset(l), nil
}

// String gives the offset as [ParseOffset] reads it.
func (o Offset) String() string {
	switch {
	case o < 0:
		return weight.Length(-o).String() + " left"
	case o > 0:
		return weight.Length(o).String() + " right"
	}
	return "center"
}

// MarshalText writes the offset as [ParseOffset] reads it.
func (o Offset) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// UnmarshalText reads what [ParseOffset] reads.
func (o *Offset) UnmarshalText(text []byte) (err error) {
	*o, err = ParseOffset(string(text))
	return err
}

// Fluid says what a tank holds. The zero Fluid is not known.
type Fluid uint8

// The fluids; fresh and waste water alike are water.
const (
	Water Fluid = iota + 1
	Diesel
	Gasoline
	LPGas
)

var fluidWords = word.List[Fluid]{Kind: "fluid", Words: []string{"", "water", "diesel", "gasoline", "LP gas"}, Unknown: word.Err}

// String gives "water", "diesel", "gasoline", "LP gas" or "not known".
func (f Fluid) String() string { return fluidWords.String(f) }

// ParseFluid reads what [Fluid.String] writes; the error matches [ErrWord].
func ParseFluid(text string) (Fluid, error) { return fluidWords.Parse(text) }

// AppendText appends the word, and nothing for the zero Fluid. An unknown value
// is an error.
func (f Fluid) AppendText(dst []byte) ([]byte, error) { return fluidWords.Append(dst, f) }

// MarshalText writes what [Fluid.AppendText] appends.
func (f Fluid) MarshalText() ([]byte, error) { return fluidWords.Text(f) }

// UnmarshalText reads what [ParseFluid] reads.
func (f *Fluid) UnmarshalText(text []byte) error { return fluidWords.Read(f, text) }

func (f Fluid) weighs() cargo.Fluid {
	switch f {
	case Diesel:
		return cargo.Diesel()
	case Gasoline:
		return cargo.Gasoline()
	case LPGas:
		return cargo.LPGas()
	}
	return cargo.Water()
}

// Mass is what a change puts on, below zero what it takes off; rounded up.
func (c TripChange) Mass(s weight.System) (weight.Mass, error) {
	if m, ok := c.Add.Get(); ok {
		return m, nil
	}
	if m, ok := c.TakeOff.Get(); ok {
		return -m, nil
	}
	fluid, _ := c.Fluid.Get()
	if vol, ok := c.Fill.Get(); ok {
		return fluid.weighs().Mass(vol, s)
	}
	vol, _ := c.Drain.Get()
	return fluid.weighs().Mass(-vol, s)
}

func parseCoupling(text string) (c weight.Coupling, err error) {
	if err = c.UnmarshalText([]byte(text)); err != nil || c == 0 {
		err = fmt.Errorf("%w %q for coupling: want tow bar, tongue or fifth wheel", ErrWord, strictyaml.Clip(text))
	}
	return c, err
}

func parseLabelKind(text string) (k cargo.LabelKind, err error) {
	if err = k.UnmarshalText([]byte(strings.ToUpper(text))); err != nil || k == 0 {
		err = fmt.Errorf("%w %q for a cargo label: want NCC, CCC or OCCC", ErrWord, strictyaml.Clip(text))
	}
	return k, err
}

func parseName(text string) (string, error) {
	if strings.TrimSpace(text) != text || text == "" {
		return "", fmt.Errorf("%w: a name that is empty or has spaces around it", origin.ErrSyntax)
	}
	return parseText(text)
}

const mostPeople = 1000

// No coach with what it tows is longer, wider, or of another track (common practice): a
// distance beyond is a slip of the unit, and shares every load wrongly.
const (
	farthestStation = 100 * weight.Foot
	farthestOffset  = 10 * weight.Foot
	leastTrack      = 40 * weight.Inch
	mostTrack       = 110 * weight.Inch
)

// checkTrip finds what is wrong with a trip as a whole: names, stations, and
// distances that its places need.
func checkTrip(v *Visit, report func(path, code string, err error)) {
	t := &v.Trip
	t.checkRanges(report)
	station := checkStations(v, report)
	stations := func(path, at string, mayGoTo []string) {
		station(path+".at", at)
		for i, to := range mayGoTo {
			station(fmt.Sprintf("%s.may_go_to[%d]", path, i), to)
		}
	}
	names := make(map[string]bool)
	name := func(path, what string) {
		if what == "" {
			report(path+".name", strictyaml.CodeMissing, strictyaml.ErrMissing)
		} else if names[what] {
			report(path+".name", strictyaml.CodeTwice, fmt.Errorf("%w: %q is listed already", ErrTwice, strictyaml.Clip(what)))
		} else {
			names[what] = true
		}
	}
	for i, it := range t.Items {
		path := fmt.Sprintf("trip.items[%d]", i)
		name(path, it.Name)
		if it.Mass <= 0 {
			report(path+".mass", strictyaml.CodeRange, fmt.Errorf("%w: want above zero", origin.ErrRange))
		}
		stations(path, it.At, it.MayGoTo)
	}
	for i, c := range t.Changes {
		path := fmt.Sprintf("trip.changes[%d]", i)
		name(path, c.Name)
		stations(path, c.At, c.MayGoTo)
		c.check(path, report)
	}
	if kind, ok := t.Label.Kind.Get(); !ok && t.Label != (CargoLabel{}) || ok && (kind < cargo.NCC || kind > cargo.OCCC) {
		report("trip.label.kind", strictyaml.CodeMissing, fmt.Errorf("%w: want NCC, CCC or OCCC", strictyaml.ErrMissing))
	}
}

// checkRanges checks how much a trip lists, and the distances that it has once.
func (t *Trip) checkRanges(report func(path, code string, err error)) {
	count := func(path string, n, most int) {
		if n > most {
			report(path, strictyaml.CodeRange, fmt.Errorf("%w: %d of them, at most %d", origin.ErrRange, n, most))
		}
	}
	count("trip.stations", len(t.Stations), cargo.MaxStations)
	movable := len(t.Items)
	for _, c := range t.Changes {
		if len(c.MayGoTo) > 0 {
			movable++
		}
	}
	count("trip.items", movable, cargo.MaxItems)
	count("trip.changes", len(t.Changes), mostChanges)
	if v, ok := t.Track.Get(); ok && (v < leastTrack || v > mostTrack) {
		report("trip.track", strictyaml.CodeRange, fmt.Errorf("%w: want %s to %s", origin.ErrRange, leastTrack, mostTrack))
	}
	if v, ok := t.Hitch.Get(); ok && (v <= 0 || v > farthestStation) {
		report("trip.hitch", strictyaml.CodeRange, fmt.Errorf("%w: want above zero, within %s", origin.ErrRange, farthestStation))
	}
}

// checkStations checks where a trip loads, and gives what checks the name of one
// of these places.
func checkStations(v *Visit, report func(path, code string, err error)) (station func(path, name string)) {
	t := &v.Trip
	names := make(map[string]bool, len(t.Stations))
	var all []string
	onCoach, inTowed := false, false
	for i, s := range t.Stations {
		path := fmt.Sprintf("trip.stations[%d]", i)
		if names[s.Name] {
			report(path+".name", strictyaml.CodeTwice, fmt.Errorf("%w: a station is called %q already", ErrTwice, strictyaml.Clip(s.Name)))
		} else {
			names[s.Name] = true
			all = append(all, s.Name)
		}
		s.check(path, t.Track.Is(), report)
		onCoach, inTowed = onCoach || !s.Towed, inTowed || s.Towed
	}
	checkGeometry(v, onCoach, inTowed, report)
	return func(path, name string) {
		if names[name] {
			return
		}
		err := fmt.Errorf("%w: %q: want one of %s", ErrStation, strictyaml.Clip(name), clipped(all))
		if near := strictyaml.Nearest(name, all); near != "" {
			err = fmt.Errorf("%w: %q: did you mean %q?", ErrStation, strictyaml.Clip(name), strictyaml.Clip(near))
		}
		if len(all) == 0 {
			err = fmt.Errorf("%w: %q: the trip names none", ErrStation, strictyaml.Clip(name))
		}
		report(path, strictyaml.CodePosition, err)
	}
}

// check checks the name of a station and how far it is from axle and centerline.
func (s TripStation) check(path string, track bool, report func(path, code string, err error)) {
	if s.Name == "" {
		report(path+".name", strictyaml.CodeMissing, strictyaml.ErrMissing)
	}
	if max(s.Behind, -s.Behind) > farthestStation {
		report(path+".behind_steer", strictyaml.CodeRange, fmt.Errorf("%w: want within %s", origin.ErrRange, farthestStation))
	}
	if off := weight.Length(s.Offset); max(off, -off) > farthestOffset {
		report(path+".offset", strictyaml.CodeRange, fmt.Errorf("%w: want within %s", origin.ErrRange, farthestOffset))
	}
	if s.Offset != 0 && !track {
		report(path+".offset", strictyaml.CodeMissing, fmt.Errorf("%w: the trip's track, which a place off the centerline needs", strictyaml.ErrMissing))
	}
}

const mostChanges = 60

// check says whether exactly one thing changes, and what a tank holds.
func (c TripChange) check(path string, report func(path, code string, err error)) {
	n, tank := 0, c.Fill.Is() || c.Drain.Is()
	add, _ := c.Add.Get()
	off, _ := c.TakeOff.Get()
	fill, _ := c.Fill.Get()
	drain, _ := c.Drain.Get()
	for _, is := range []bool{c.Add.Is(), c.TakeOff.Is(), c.Fill.Is(), c.Drain.Is()} {
		if is {
			n++
		}
	}
	switch {
	case n == 0:
		report(path, strictyaml.CodeMissing, fmt.Errorf("%w: want one of add, take_off, fill, drain", strictyaml.ErrMissing))
	case n > 1:
		report(path, strictyaml.CodeValue, fmt.Errorf("%w: %d of add, take_off, fill and drain: want one", ErrContradiction, n))
	case min(add, off) < 0 || min(fill, drain) < 0:
		report(path, strictyaml.CodeRange, ErrNegative)
	case tank && !c.Fluid.Is():
		report(path, strictyaml.CodeMissing, fmt.Errorf("%w: the fluid in the tank: want one of %s", strictyaml.ErrMissing, strings.Join(fluidWords.Words[1:], ", ")))
	case !tank && c.Fluid.Is():
		report(path+".fluid", strictyaml.CodeValue, fmt.Errorf("%w: a fluid goes with fill or drain", ErrContradiction))
	case len(c.MayGoTo) > 0 && !c.Add.Is():
		report(path+".may_go_to", strictyaml.CodeValue, fmt.Errorf("%w: only cargo that is added may go elsewhere", ErrContradiction))
	}
}

// checkGeometry finds the distances that moments need and nobody wrote down.
func checkGeometry(v *Visit, onCoach, inTowed bool, report func(path, code string, err error)) {
	towed := false
	for i, ax := range v.Axles {
		towed = towed || ax.Towed
		if behind, _ := ax.Behind.Get(); i > 0 && behind <= 0 && (onCoach && !ax.Towed || inTowed) {
			report(fmt.Sprintf("axles[%d].behind_steer", i), strictyaml.CodeMissing,
				fmt.Errorf("%w: behind_steer of axle %q, which the trip's stations need", strictyaml.ErrMissing, ax.ID))
		}
	}
	if !inTowed {
		return
	}
	coupling, _ := v.Trip.Coupling.Get()
	switch {
	case !towed:
		report("trip.stations", strictyaml.CodePosition, fmt.Errorf("%w: a station in a towed unit, and no axle is towed", ErrContradiction))
	case coupling == 0:
		report("trip.coupling", strictyaml.CodeMissing, fmt.Errorf("%w: coupling, which stations in the towed unit need", strictyaml.ErrMissing))
	case coupling != weight.TowBar && !v.Trip.Hitch.Is():
		report("trip.hitch", strictyaml.CodeMissing, fmt.Errorf("%w: hitch, which stations in the towed unit need", strictyaml.ErrMissing))
	}
}

func clipped(names []string) string {
	short := make([]string, 0, 10)
	for i, n := range names {
		if i == cap(short) {
			return strings.Join(short, ", ") + " or another"
		}
		short = append(short, strictyaml.Clip(n))
	}
	return strings.Join(short, ", ")
}

package record

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/internal/quantity"
	"axleend.example/internal/strictyaml"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// ThirtySecond is 1/32 in, the step of a tread-depth probe: 4*ThirtySecond.
const ThirtySecond = weight.Inch / 32

// ErrWord says that a word is none of those that may stand there.
var ErrWord = word.Err

// ReadAt says where a pressure was read. The zero ReadAt is not recorded and
// counts as the stem.
type ReadAt uint8

// Where a gauge can go.
const (
	AtStem ReadAt = iota + 1
	ThroughExtension
	NotReached
)

var readAtWords = word.List[ReadAt]{Kind: "read_at", Words: []string{"", "stem", "extension", "not reached"}, Unknown: word.Err}

// String gives "stem", "extension", "not reached" or "not known".
func (r ReadAt) String() string { return readAtWords.String(r) }

// ParseReadAt reads what [ReadAt.String] writes; the error matches [ErrWord].
func ParseReadAt(text string) (ReadAt, error) {
	return readAtWords.Parse(text)
}

// AppendText appends the word, and nothing for the zero ReadAt. An unknown value
// is an error.
func (r ReadAt) AppendText(dst []byte) ([]byte, error) { return readAtWords.Append(dst, r) }

// MarshalText writes what [ReadAt.AppendText] appends.
func (r ReadAt) MarshalText() ([]byte, error) { return readAtWords.Text(r) }

// UnmarshalText reads what [ParseReadAt] reads.
func (r *ReadAt) UnmarshalText(text []byte) error { return readAtWords.Read(r, text) }

// A Stamp is a load with the pressure it holds at, as a sidewall or a wheel
// states it.
type Stamp struct {
	// Load is the load, above zero.
	Load weight.Mass
	// At is the cold pressure that it is stated at, above zero.
	At inflation.Pressure
}

// ErrStamp says that a text is no load with its pressure.
var ErrStamp = errors.New("malformed stamp")

// ParseStamp reads "3640 lb at 95 psi", also as sidewalls have it: "3640 LBS AT 95
// PSI COLD", "3640 lb @ 95 psi". Errors match [ErrStamp], or are those
// of one of the two quantities.
func ParseStamp(text string) (Stamp, error) {
	const between = " at "
	i, n := strings.IndexByte(text, '@'), 1
	for j := range len(text) - len(between) + 1 { // not in a lowered copy: lowering changes how long some letters are
		if strings.EqualFold(text[j:j+len(between)], between) {
			i, n = j, len(between)
			break
		}
	}
	if i < 0 {
		return Stamp{}, fmt.Errorf(`%w %q: want a load and its pressure, such as "3640 lb at 95 psi"`, ErrStamp, strictyaml.Clip(text))
	}
	load, at := text[:i], text[i+n:]
	if cut := len(at) - len(" cold"); cut > 0 && strings.EqualFold(at[cut:], " cold") {
		at = at[:cut]
	}
	var s Stamp
	var err1, err2 error
	s.Load, err1 = weight.ParseMass(load)
	s.At, err2 = inflation.ParsePressure(at)
	if err := errors.Join(err1, err2); err != nil {
		if err1 == nil || err2 == nil {
			return Stamp{}, err
		}
		if _, err := weight.ParseMass(strings.TrimSpace(at)); err == nil {
			return Stamp{}, fmt.Errorf("%w %q: the load comes first: %s at %s", ErrStamp, strictyaml.Clip(text), strings.TrimSpace(at), strings.TrimSpace(load))
		}
		return Stamp{}, fmt.Errorf(`%w %q: want a load and its pressure, each with its unit, such as "3640 lb at 95 psi"`, ErrStamp, strictyaml.Clip(text))
	}
	if s.Load <= 0 || s.At <= 0 {
		return Stamp{}, fmt.Errorf("%w %q: both must be above zero", ErrStamp, strictyaml.Clip(text))
	}
	return s, nil
}

// String gives the stamp as [ParseStamp] reads it.
func (s Stamp) String() string { return s.Load.String() + " at " + s.At.String() }

// AppendText appends the stamp as [ParseStamp] reads it.
func (s Stamp) AppendText(dst []byte) ([]byte, error) {
	out, err := s.Load.AppendText(dst)
	if err != nil {
		return dst, err
	}
	return s.At.AppendText(append(out, " at "...))
}

// MarshalText writes what [Stamp.AppendText] appends.
func (s Stamp) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseStamp] reads.
func (s *Stamp) UnmarshalText(text []byte) error {
	v, err := ParseStamp(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// Sidewalls says which sidewalls of a tire were looked at. The zero Sidewalls
// is not recorded: what was seen then counts for both.
type Sidewalls uint8

// Which sidewalls can be looked at: the outer one faces away from the coach.
const (
	BothSidewalls Sidewalls = iota + 1
	OuterSidewall
	InnerSidewall
	NeitherSidewall
)

var sidewallWords = word.List[Sidewalls]{Kind: "sidewalls", Words: []string{"", "both", "outer", "inner", "neither"}, Unknown: word.Err}

// String gives "both", "outer", "inner", "neither" or "not known".
func (s Sidewalls) String() string { return sidewallWords.String(s) }

// ParseSidewalls reads what [Sidewalls.String] writes; the error matches
// [ErrWord].
func ParseSidewalls(text string) (Sidewalls, error) {
	return sidewallWords.Parse(text)
}

// AppendText appends the word, and nothing for the zero Sidewalls. An unknown value
// is an error.
func (s Sidewalls) AppendText(dst []byte) ([]byte, error) { return sidewallWords.Append(dst, s) }

// MarshalText writes what [Sidewalls.AppendText] appends.
func (s Sidewalls) MarshalText() ([]byte, error) { return sidewallWords.Text(s) }

// UnmarshalText reads what [ParseSidewalls] reads.
func (s *Sidewalls) UnmarshalText(text []byte) error { return sidewallWords.Read(s, text) }

// InjuryAt says where a tire was punctured, which decides whether it can be
// repaired at all. The zero InjuryAt is not recorded.
type InjuryAt uint8

// Where an injury can be.
const (
	AtCrown InjuryAt = iota + 1
	AtShoulder
	AtSidewall
)

var injuryWords = word.List[InjuryAt]{Kind: "injury_at", Words: []string{"", "crown", "shoulder", "sidewall"}, Unknown: word.Err}

// String gives "crown", "shoulder", "sidewall" or "not known".
func (i InjuryAt) String() string { return injuryWords.String(i) }

// ParseInjuryAt reads what [InjuryAt.String] writes; the error matches
// [ErrWord].
func ParseInjuryAt(text string) (InjuryAt, error) {
	return injuryWords.Parse(text)
}

// AppendText appends the word, and nothing for the zero InjuryAt. An unknown value
// is an error.
func (i InjuryAt) AppendText(dst []byte) ([]byte, error) { return injuryWords.Append(dst, i) }

// MarshalText writes what [InjuryAt.AppendText] appends.
func (i InjuryAt) MarshalText() ([]byte, error) { return injuryWords.Text(i) }

// UnmarshalText reads what [ParseInjuryAt] reads.
func (i *InjuryAt) UnmarshalText(text []byte) error { return injuryWords.Read(i, text) }

// A Service is the service description behind a tire's size: load index for
// single and dual fitment, and the speed symbol. Its zero parts were not read.
type Service struct {
	// Single is the load index alone on an axle end.
	Single sidewall.LoadIndex
	// Dual is the load index beside a mate.
	Dual sidewall.LoadIndex
	// Speed is the speed symbol.
	Speed sidewall.SpeedSymbol
}

// ParseService reads "141/140L", "149/146 L", "104H", or the speed symbol alone, "L", in
// any case. Errors match [ErrService].
func ParseService(text string) (Service, error) {
	fail := func() (Service, error) {
		return Service{}, fmt.Errorf(`%w %q: want load index and speed symbol, such as "141/140L" or "L"`, ErrService, strictyaml.Clip(text))
	}
	indexes, symbol := strings.ReplaceAll(text, " ", ""), ""
	if i := strings.IndexFunc(indexes, func(r rune) bool { return r != '/' && (r < '0' || r > '9') }); i >= 0 {
		indexes, symbol = indexes[:i], indexes[i:]
	}
	var s Service
	var err error
	if symbol != "" {
		if s.Speed, err = sidewall.ParseSpeedSymbol(symbol); err != nil {
			return fail()
		}
	}
	if indexes == "" {
		if symbol == "" {
			return fail()
		}
		return s, nil
	}
	single, dual, both := strings.Cut(indexes, "/")
	if s.Single, err = sidewall.ParseLoadIndex(single); err != nil {
		return fail()
	}
	if both {
		if s.Dual, err = sidewall.ParseLoadIndex(dual); err != nil {
			return fail()
		}
	}
	return s, nil
}

// ErrService says that a text is no service description.
var ErrService = errors.New("malformed service description")

// String gives the description as [ParseService] reads it; the zero Service
// is "not read".
func (s Service) String() string {
	out := ""
	if s.Single.Known() {
		out = s.Single.String()
		if s.Dual.Known() {
			out += "/" + s.Dual.String()
		}
	}
	if s.Speed != 0 {
		out += s.Speed.String()
	}
	if out == "" {
		return notReadText
	}
	return out
}

// AppendText appends the description as [ParseService] reads it; the zero
// Service, or a dual index alone, gives [ErrService].
func (s Service) AppendText(dst []byte) ([]byte, error) {
	if !s.Single.Known() && (s.Speed == 0 || s.Dual.Known()) {
		return dst, fmt.Errorf("%w: nothing was read of it", ErrService)
	}
	return append(dst, s.String()...), nil
}

// MarshalText writes what [Service.AppendText] appends.
func (s Service) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseService] reads.
func (s *Service) UnmarshalText(text []byte) error {
	v, err := ParseService(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// A ParkedFor is how long a coach has stood since it was driven, in whole
// minutes.
type ParkedFor int64

// The units of a standing.
const (
	Minute ParkedFor = 1
	Hour   ParkedFor = 60
	Day    ParkedFor = 24 * 60
)

var standingCodec = &quantity.Codec{
	Kind: "standing",
	Want: `a number and min, h or days, such as "45 min", "3 h" or "60 days"`,
	Units: []quantity.Unit{
		{Names: []string{"min", "mins", "minute", "minutes"}, Steps: int64(Minute)},
		{Names: []string{"h", "hr", "hrs", "hour", "hours"}, Steps: int64(Hour)},
		{Names: []string{"days", "day"}, Steps: int64(Day)},
		{Names: []string{"weeks", "week"}, Steps: int64(7 * Day)},
	},
	Pairs: []quantity.Pair{{Large: 1, Small: 0}},
	Forms: []quantity.Form{
		{Unit: 2, Grid: int64(Day), Least: 2 * int64(Day)},
		{Unit: 1, Grid: int64(Hour)},
		{Unit: 0, Grid: int64(Minute)},
	},
}

// ParseParkedFor reads a number with min, h or days, such as "45 min", "2.5 h"
// or "60 days", in whole minutes. Errors are an [origin.TextError].
func ParseParkedFor(text string) (ParkedFor, error) {
	v, err := standingCodec.Parse(text)
	return ParkedFor(v), err
}

// String gives the standing as [ParseParkedFor] reads it, in whole days from
// two, whole hours, or minutes.
func (s ParkedFor) String() string { return standingCodec.String(int64(s)) }

// AppendText appends the standing as [ParseParkedFor] reads it; one below zero
// gives [origin.ErrRange].
func (s ParkedFor) AppendText(dst []byte) ([]byte, error) { return standingCodec.Append(dst, int64(s)) }

// MarshalText is AppendText to a new slice.
func (s ParkedFor) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseParkedFor] reads.
func (s *ParkedFor) UnmarshalText(text []byte) error {
	v, err := ParseParkedFor(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// Rotates says for which side of the coach a tire is mounted on its wheel. The
// zero Rotates is not recorded.
type Rotates uint8

// The sides that an arrow on the sidewall asks for.
const (
	EitherSide Rotates = iota + 1
	OnLeft
	OnRight
)

var rotatesWords = word.List[Rotates]{Kind: "rotates", Words: []string{"", "either side", "left", "right"}, Unknown: word.Err}

// String gives "either side", "left", "right" or "not known".
func (r Rotates) String() string { return rotatesWords.String(r) }

// ParseRotates reads what [Rotates.String] writes; the error matches [ErrWord].
func ParseRotates(text string) (Rotates, error) {
	return rotatesWords.Parse(text)
}

// AppendText appends the word, and nothing for the zero Rotates. An unknown value
// is an error.
func (r Rotates) AppendText(dst []byte) ([]byte, error) { return rotatesWords.Append(dst, r) }

// MarshalText writes what [Rotates.AppendText] appends.
func (r Rotates) MarshalText() ([]byte, error) { return rotatesWords.Text(r) }

// UnmarshalText reads what [ParseRotates] reads.
func (r *Rotates) UnmarshalText(text []byte) error { return rotatesWords.Read(r, text) }

// RunsOn reports whether the arrow allows the side.
func (r Rotates) RunsOn(side weight.Side) bool {
	return r == EitherSide || r == OnLeft && side == weight.Left || r == OnRight && side == weight.Right
}

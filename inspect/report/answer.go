package report

import "axleend.example/internal/word"

// A Drive is the one answer to whether the coach may drive. Pages, batch
// summaries, exit statuses and programs all take it from [Report.Drive]. The zero
// Drive is no answer.
type Drive uint8

// The answers, the worst first. None of them says that a coach is safe.
const (
	// MustNotMove: the coach stays where it is until trained people looked at it,
	// or load came off.
	MustNotMove Drive = iota + 1
	// NotAtThisPressure: a tire carries more than it holds at the pressure it was
	// found or left at, and nothing forbids air: set it here, then the coach may
	// go.
	NotAtThisPressure
	// BeforeTheTrip: something is to be done or read before the next trip.
	BeforeTheTrip
	// NothingFound: no rule that was judged asks for anything before the trip.
	NothingFound
)

var drives = word.List[Drive]{Kind: "drive", Words: []string{"", "must not move", "not at this pressure", "before the trip", "nothing found"}, Unknown: ErrWord}

// String gives "must not move", "not at this pressure", "before the trip",
// "nothing found" or "not known".
func (d Drive) String() string { return drives.String(d) }

// Stops reports whether the coach must not leave as it stands.
func (d Drive) Stops() bool { return d == MustNotMove || d == NotAtThisPressure }

// AppendText appends the word. An unknown value is an error.
func (d Drive) AppendText(dst []byte) ([]byte, error) { return drives.Append(dst, d) }

// MarshalText writes what [Drive.AppendText] appends.
func (d Drive) MarshalText() ([]byte, error) { return drives.Text(d) }

// UnmarshalText reads what [Drive.MarshalText] writes; the error matches
// [ErrWord].
func (d *Drive) UnmarshalText(text []byte) error { return drives.Read(d, text) }

// An Air says whether a tire may be aired up on the coach. The zero Air is none
// of the three: that of a place which is not in the visit.
type Air uint8

// The states of a tire's air, the worst last.
const (
	AirFree      Air = iota + 1 // nothing stands against it
	AirNotKnown                 // something has to be read or found first
	AirForbidden                // nobody airs it up before trained people looked inside
)

var airs = word.List[Air]{Kind: "air", Words: []string{"", "free", "not known", "forbidden"}, Unknown: ErrWord}

// String gives "free", "not known" or "forbidden"; the zero Air is "not known",
// too.
func (a Air) String() string { return airs.String(a) }

// AppendText appends the word. An unknown value is an error.
func (a Air) AppendText(dst []byte) ([]byte, error) { return airs.Append(dst, a) }

// MarshalText writes what [Air.AppendText] appends.
func (a Air) MarshalText() ([]byte, error) { return airs.Text(a) }

// UnmarshalText reads what [Air.MarshalText] writes; the error matches
// [ErrWord].
func (a *Air) UnmarshalText(text []byte) error { return airs.Read(a, text) }

// A Low says whether a tire was driven too low. The zero Low is not judged.
type Low uint8

// The ways, the worst last.
const (
	NotLow     Low = iota + 1 // driven at enough, as far as that was judged
	LowUnknown                // not judged: something was not recorded
	LowAsked                  // undecided: something has to be read before the trip
	Leaking                   // it lost air faster than tires do; no flat
	Flat                      // driven at so little that nobody may air it up
)

var lows = word.List[Low]{Kind: "low", Words: []string{"", "not low", "not judged", "asked", "leaking", "flat"}, Unknown: ErrWord}

// String gives "not low", "not judged", "asked", "leaking" or "flat"; the zero
// Low is "not known".
func (l Low) String() string { return lows.String(l) }

// AppendText appends the word. An unknown value is an error.
func (l Low) AppendText(dst []byte) ([]byte, error) { return lows.Append(dst, l) }

// MarshalText writes what [Low.AppendText] appends.
func (l Low) MarshalText() ([]byte, error) { return lows.Text(l) }

// UnmarshalText reads what [Low.MarshalText] writes; the error matches
// [ErrWord].
func (l *Low) UnmarshalText(text []byte) error { return lows.Read(l, text) }

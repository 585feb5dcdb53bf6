package weight

import (
	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
)

// A Share is a part of a whole in hundredths of a percent: 55*Percent.
type Share int32

// The whole and its hundredth.
const (
	Percent Share = 100
	Whole   Share = 100 * Percent
)

var shareCodec = &quantity.Codec{
	Kind:  "share",
	Want:  `a number and %, such as "55 %"`,
	Units: []quantity.Unit{{Names: []string{"%", "percent"}, Steps: int64(Percent)}},
	Forms: []quantity.Form{{Unit: 0, Places: 2, Grid: 1}},
}

// ParseShare reads a share of 0 to 100 % as people write it, such as "55 %".
// Errors are an [origin.TextError].
func ParseShare(text string) (Share, error) {
	v, err := shareCodec.Parse(text)
	if err == nil && v > int64(Whole) {
		return 0, shareRange(text)
	}
	return Share(v), err
}

// String gives the canonical text, such as "55 %".
func (s Share) String() string { return shareCodec.String(int64(s)) }

// MarshalText gives the canonical text.
func (s Share) MarshalText() ([]byte, error) { return shareCodec.Append(nil, int64(s)) }

// UnmarshalText reads what [ParseShare] reads.
func (s *Share) UnmarshalText(text []byte) error {
	v, err := ParseShare(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

func shareRange(text string) error {
	return &origin.TextError{Kind: "share", Text: text, Want: "0 % to 100 %", Err: origin.ErrRange}
}

// Of is the share's part of m, rounded in the given direction to one step.
// What does not fit gives an error that matches [origin.ErrRange].
func (s Share) Of(m Mass, r Rounding) (Mass, error) { return m.MulDiv(int64(s), int64(Whole), r) }

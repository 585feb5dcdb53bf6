package record

import (
	"axleend.example/internal/quantity"
)

// A Torque is a whole number of 4/10^16 newton meters, so that a foot-pound and a
// tenth of a newton meter are exact, to 2,721 ft-lb.
type Torque int64

// Torques exact by definition (NIST SP 811): 1 lbf is 0.45359237 times
// 9.80665 N, 1 ft is 0.3048 m.
const (
	FootPound   Torque = 3_389_544_870_828_501
	NewtonMeter Torque = 2_500_000_000_000_000
)

var torqueCodec = &quantity.Codec{
	Kind: "torque",
	Want: `a number and ft-lb or N-m, such as "475 ft-lb"`,
	Units: []quantity.Unit{
		{Names: []string{"ft-lb", "ft-lbs", "lb-ft", "lbf-ft", "ft lb", "ft lbs", "lb ft", "ftlb", "ft.lb"}, Steps: int64(FootPound)},
		{Names: []string{"N-m", "Nm", "N·m", "N m"}, Steps: int64(NewtonMeter)},
	},
	Forms: []quantity.Form{
		{Unit: 0, Grid: int64(FootPound)},
		{Unit: 1, Places: 1, Grid: int64(NewtonMeter / 10)},
	},
}

// ParseTorque reads a torque as people write it, such as "475 ft-lb" or
// "640 N-m": whole foot-pounds or tenths of a newton meter. Errors are an
// [origin.TextError]; nothing is rounded.
func ParseTorque(text string) (Torque, error) {
	v, err := torqueCodec.Parse(text)
	return Torque(v), err
}

// String gives the torque as [ParseTorque] reads it.
func (t Torque) String() string { return torqueCodec.String(int64(t)) }

// AppendText appends the torque as [ParseTorque] reads it; one below zero gives
// [origin.ErrRange].
func (t Torque) AppendText(dst []byte) ([]byte, error) { return torqueCodec.Append(dst, int64(t)) }

// MarshalText is AppendText to a new slice.
func (t Torque) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText reads what [ParseTorque] reads.
func (t *Torque) UnmarshalText(text []byte) (err error) {
	*t, err = ParseTorque(string(text))
	return err
}

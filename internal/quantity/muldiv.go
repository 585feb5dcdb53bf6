package quantity

import "math/bits"

// Rounding is a direction; weight exports it.
type Rounding uint8

// The directions. Floor is toward minus infinity, Nearest takes halves away
// from zero. Any other value is taken as Floor.
const (
	Floor Rounding = iota
	Ceiling
	Nearest
)

// MulDiv returns a*b/c rounded in the given direction, computed in 128 bits.
// It reports false when c is not positive or the result does not fit.
func MulDiv(a, b, c int64, r Rounding) (int64, bool) {
	if c <= 0 {
		return 0, false
	}
	neg := a^b < 0 // of different signs
	hi, lo := bits.Mul64(abs(a), abs(b))
	if hi >= uint64(c) {
		return 0, false
	}
	q, rem := bits.Div64(hi, lo, uint64(c))
	if q > 1<<63 {
		return 0, false
	}
	if rem != 0 {
		var up bool
		switch r {
		case Ceiling:
			up = !neg
		case Nearest:
			up = rem >= uint64(c)-rem
		default:
			up = neg
		}
		if up {
			q++
		}
	}
	return signed(q, neg)
}

// Round returns v as a multiple of step in the given direction, or false when
// that does not fit.
func Round(v, step int64, r Rounding) (int64, bool) {
	if step > 0 && v%step == 0 {
		return v, true
	}
	q, ok := MulDiv(v, 1, step, r)
	if !ok {
		return 0, false
	}
	hi, lo := bits.Mul64(abs(q), uint64(step))
	if hi != 0 {
		return 0, false
	}
	return signed(lo, q < 0)
}

package quantity

import (
	"math/big"
	"strconv"

	"github.com/shopspring/decimal"

	"axleend.example/rules/origin"
)

// This file shows counts in a unit, rounded, and takes decimals.

// maxPlaces is more than any unit here needs, and keeps 10^places in 64 bits.
const maxPlaces = 12

// AppendIn writes v/unit with exactly places decimals (0 to 12; others are
// clamped), rounded in the given direction. A unit that is not positive gives
// 0.
func AppendIn(dst []byte, v, unit int64, places int, r Rounding) []byte {
	places = clampPlaces(places)
	n, wide := scaled(v, unit, places, r)
	if wide != nil {
		digits := wide.Append(nil, 10) // far more of them than places
		dst = append(dst, digits[:len(digits)-places]...)
		return appendPoint(dst, digits[len(digits)-places:])
	}
	if n < 0 {
		dst = append(dst, '-')
	}
	var buf [24]byte
	digits := appendUint(buf[:0], abs(n), places+1)
	dst = append(dst, digits[:len(digits)-places]...)
	return appendPoint(dst, digits[len(digits)-places:])
}

func appendPoint(dst, decimals []byte) []byte {
	if len(decimals) == 0 {
		return dst
	}
	return append(append(dst, '.'), decimals...)
}

// In gives v/unit as a decimal with the given places (0 to 12; others are
// clamped), rounded in the given direction. A unit that is not positive gives
// 0.
func In(v, unit int64, places int, r Rounding) decimal.Decimal {
	places = clampPlaces(places)
	n, wide := scaled(v, unit, places, r)
	if wide != nil {
		return decimal.NewFromBigInt(wide, -int32(places))
	}
	return decimal.New(n, -int32(places))
}

func clampPlaces(places int) int { return min(max(places, 0), maxPlaces) }

// scaled gives v/unit in units of the last place, in the big.Int when it is
// not nil.
func scaled(v, unit int64, places int, r Rounding) (int64, *big.Int) {
	if unit <= 0 {
		return 0, nil
	}
	ten := int64(1)
	for range places {
		ten *= 10
	}
	if n, ok := MulDiv(v, ten, unit, r); ok {
		return n, nil
	}
	num := new(big.Int).Mul(big.NewInt(v), big.NewInt(ten))
	den := big.NewInt(unit)
	q, m := new(big.Int).DivMod(num, den, new(big.Int)) // Euclidean: m >= 0
	if m.Sign() != 0 {
		twice := m.Lsh(m, 1).Cmp(den)
		if r == Ceiling || r == Nearest && (twice > 0 || twice == 0 && v > 0) {
			q.Add(q, big.NewInt(1))
		}
	}
	return 0, q
}

// maxScale is how many decimals Of works through. Nothing has a use for as
// many, and they keep the work small.
const maxScale = 1000

// Of counts d units in steps: exactly, or an error that matches
// origin.ErrPrecision or origin.ErrRange. However long d is, the work stays
// small: more than 1,000 decimals are too fine even when they are zeros.
func (c *Codec) Of(d decimal.Decimal, unit, offset int64) (int64, error) {
	if unit <= 0 {
		return 0, c.fail("", origin.ErrUnit, "a positive unit")
	}
	outside := c.tooLarge
	if d.Sign() < 0 {
		outside = c.tooSmall
	}
	v := d.Coefficient()
	if exp := int64(d.Exponent()); v.Sign() != 0 {
		// A decimal digit is between 3.32 and 3.33 bits; 64 bits and more
		// are out of range for any unit.
		length := int64(v.BitLen())
		if exp > 0 && exp+length > 2*64 || exp <= 0 && length > 64-exp*333/100 {
			return 0, outside(describe(d))
		}
		if exp < -maxScale {
			return 0, c.tooFine(describe(d))
		}
		v.Mul(v, big.NewInt(unit))
		ten := big.NewInt(10)
		if exp >= 0 {
			v.Mul(v, ten.Exp(ten, big.NewInt(exp), nil))
		} else {
			var rem big.Int
			v.QuoRem(v, ten.Exp(ten, big.NewInt(-exp), nil), &rem)
			if rem.Sign() != 0 {
				return 0, c.tooFine(describe(d))
			}
		}
	}
	v.Add(v, big.NewInt(offset))
	switch {
	case !v.IsInt64():
		return 0, outside(describe(d))
	case v.Int64() < c.Min:
		return 0, c.tooSmall(describe(d))
	}
	return v.Int64(), nil
}

// describe gives a decimal as text without ever spelling out a huge one.
func describe(d decimal.Decimal) string {
	exp := int64(d.Exponent())
	digits := exp + int64(d.Coefficient().BitLen())*301/1000
	if exp >= -maxScale && exp <= 40 && digits <= 40 {
		return d.StringFixed(int32(max(-exp, 0)))
	}
	sign := ""
	if d.Sign() < 0 {
		sign = "-"
	}
	return sign + "1e" + strconv.FormatInt(digits, 10) + " or so"
}

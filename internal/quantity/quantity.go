// Package quantity reads and writes counted quantities as text: one grammar
// and one canonical form per kind, for weight and inflation alike.
//
//	c := &quantity.Codec{Kind: "mass", Units: units, Forms: forms}
//	n, err := c.Parse("3,640 lbs")
//	text, err := c.Append(nil, n)
//
// Nothing in it is a float, and nothing is ever rounded unless the caller
// says in which direction.
package quantity

import (
	"math/big"
	"math/bits"
	"strings"

	"github.com/shopspring/decimal"

	"axleend.example/rules/origin"
)

// A Unit is a name people write, how many steps one of it counts, and where
// its zero lies (other than 0 only for temperatures).
type Unit struct {
	Names  []string
	Steps  int64
	Offset int64
}

// A Form is one way to write a value: so many decimal places of a unit, or a
// fraction of it. It serves values that are whole multiples of its grid and
// lie in its band.
type Form struct {
	Unit   int   // index in Codec.Units
	Places int   // decimal places at most
	Grid   int64 // steps; the value (less the offset) must be a multiple
	Over   int64 // if not 0, written as n/Over
	Least  int64 // smallest absolute value served
	Below  int64 // if not 0, absolute values from here on are not served
}

// A Codec reads and writes one kind of quantity.
type Codec struct {
	Kind  string
	Want  string // what people should write, for error texts
	Units []Unit
	Forms []Form // in order of preference
	Min   int64  // least value accepted
}

// Rounding is a direction; weight exports it.
type Rounding uint8

// The directions. Floor is toward minus infinity, Nearest takes halves away
// from zero.
const (
	Floor Rounding = iota
	Ceiling
	Nearest
)

func (c *Codec) fail(text string, err error) error {
	return &origin.TextError{Kind: c.Kind, Text: text, Want: c.Want, Err: err}
}

// Parse reads sign, digits (thousands commas only in whole groups of three),
// point, digits, or digits/digits, then a unit. It refuses more than 18
// digits, an exponent, a bare number, and what is finer than one step.
func (c *Codec) Parse(text string) (int64, error) {
	num, den, neg, rest, ok := number(text)
	if !ok {
		return 0, c.fail(text, origin.ErrSyntax)
	}
	unit := c.unit(strings.TrimLeft(rest, " "))
	if unit == nil {
		return 0, c.fail(text, origin.ErrUnit)
	}
	hi, lo := bits.Mul64(num, uint64(unit.Steps))
	if hi >= den {
		return 0, c.fail(text, origin.ErrRange)
	}
	q, r := bits.Div64(hi, lo, den)
	if r != 0 {
		return 0, c.fail(text, origin.ErrPrecision)
	}
	if q > 1<<63-1 {
		return 0, c.fail(text, origin.ErrRange)
	}
	v := int64(q)
	if neg {
		v = -v
	}
	sum := v + unit.Offset
	if (sum < v) != (unit.Offset < 0) || sum < c.Min {
		return 0, c.fail(text, origin.ErrRange)
	}
	return sum, nil
}

func (c *Codec) unit(name string) *Unit {
	for i := range c.Units {
		for _, n := range c.Units[i].Names {
			if strings.EqualFold(n, name) {
				return &c.Units[i]
			}
		}
	}
	return nil
}

// number splits a leading number off text and gives it as num/den.
func number(text string) (num, den uint64, neg bool, rest string, ok bool) {
	s := strings.Trim(text, " ")
	if s != "" && (s[0] == '-' || s[0] == '+') {
		neg = s[0] == '-'
		s = s[1:]
	}
	den = 1
	digits, group, commas := 0, 0, false
	i := 0
whole:
	for ; i < len(s); i++ {
		switch ch := s[i]; {
		case ch >= '0' && ch <= '9':
			num = num*10 + uint64(ch-'0')
			digits++
			group++
		case ch == ',':
			if group == 0 || group > 3 || commas && group != 3 {
				return 0, 0, false, "", false
			}
			commas, group = true, 0
		default:
			break whole
		}
		if digits > 18 {
			return 0, 0, false, "", false
		}
	}
	if digits == 0 || commas && group != 3 {
		return 0, 0, false, "", false
	}
	switch {
	case i < len(s) && s[i] == '.':
		start := i + 1
		for i++; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
			if digits++; digits > 18 {
				return 0, 0, false, "", false
			}
			num = num*10 + uint64(s[i]-'0')
			den *= 10
		}
		if i == start {
			return 0, 0, false, "", false
		}
	case i < len(s) && s[i] == '/' && !commas:
		start := i + 1
		den = 0
		for i++; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
			if i-start >= 6 {
				return 0, 0, false, "", false
			}
			den = den*10 + uint64(s[i]-'0')
		}
		if den == 0 {
			return 0, 0, false, "", false
		}
	}
	return num, den, neg, s[i:], true
}

// Append writes v in the first form that serves it, else returns ErrPrecision.
func (c *Codec) Append(dst []byte, v int64) ([]byte, error) {
	for i := range c.Forms {
		f := &c.Forms[i]
		u := &c.Units[f.Unit]
		n := v - u.Offset
		mag := abs(n)
		if n%f.Grid != 0 || mag < uint64(f.Least) || f.Below != 0 && mag >= uint64(f.Below) {
			continue
		}
		if f.Over != 0 {
			dst = appendInt(dst, n/f.Grid)
			dst = append(dst, '/')
			dst = appendInt(dst, f.Over)
		} else {
			dst = appendTrimmed(dst, n, u.Steps, f.Places)
		}
		dst = append(dst, ' ')
		return append(dst, u.Names[0]...), nil
	}
	return dst, c.fail("", origin.ErrPrecision)
}

// String gives the canonical text, or, for a value that has none, the value
// in the last form's unit rounded to nearest and marked with a tilde, which
// Parse refuses.
func (c *Codec) String(v int64) string {
	if b, err := c.Append(make([]byte, 0, 24), v); err == nil {
		return string(b)
	}
	f := c.Forms[len(c.Forms)-1]
	u := c.Units[f.Unit]
	return "~" + string(AppendIn(nil, v-u.Offset, u.Steps, f.Places, Nearest)) + " " + u.Names[0]
}

func abs(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}

func appendInt(dst []byte, v int64) []byte {
	if v < 0 {
		dst = append(dst, '-')
	}
	return appendUint(dst, abs(v), 1)
}

func appendUint(dst []byte, v uint64, width int) []byte {
	var buf [20]byte
	i := len(buf)
	for v > 0 || width > 0 {
		i--
		buf[i] = byte('0' + v%10)
		v /= 10
		width--
	}
	return append(dst, buf[i:]...)
}

// appendTrimmed writes v/unit with at most places decimals and no trailing
// zeros; the caller has made sure that it is exact.
func appendTrimmed(dst []byte, v, unit int64, places int) []byte {
	if v < 0 {
		dst = append(dst, '-')
	}
	mag := abs(v)
	whole, part := mag/uint64(unit), mag%uint64(unit)
	dst = appendUint(dst, whole, 1)
	if part == 0 {
		return dst
	}
	dst = append(dst, '.')
	for range places {
		hi, lo := bits.Mul64(part, 10)
		var q uint64
		q, part = bits.Div64(hi, lo, uint64(unit))
		dst = append(dst, byte('0'+q))
		if part == 0 {
			break
		}
	}
	return dst
}

// MulDiv returns a*b/c rounded in the given direction, computed in 128 bits.
// It reports false when c is not positive or the result does not fit.
func MulDiv(a, b, c int64, r Rounding) (int64, bool) {
	if c <= 0 {
		return 0, false
	}
	neg := (a < 0) != (b < 0)
	hi, lo := bits.Mul64(abs(a), abs(b))
	if hi >= uint64(c) {
		return 0, false
	}
	q, rem := bits.Div64(hi, lo, uint64(c))
	up := false
	if rem != 0 {
		switch r {
		case Floor:
			up = neg
		case Ceiling:
			up = !neg
		case Nearest:
			up = rem >= uint64(c)-rem
		}
	}
	if up {
		q++
	}
	if q > 1<<63-1 {
		return 0, false
	}
	if neg {
		return -int64(q), true
	}
	return int64(q), true
}

// Round returns v as a multiple of step in the given direction, or false when
// that does not fit.
func Round(v, step int64, r Rounding) (int64, bool) {
	q, ok := MulDiv(v, 1, step, r)
	if !ok {
		return 0, false
	}
	hi, lo := bits.Mul64(abs(q), uint64(step))
	if hi != 0 || lo > 1<<63-1 {
		return 0, false
	}
	return q * step, true
}

// maxPlaces is more than any unit here needs, and keeps 10^places in 64 bits.
const maxPlaces = 12

// AppendIn writes v/unit with exactly places decimals (0 to 12; others are
// clamped), rounded in the given direction.
func AppendIn(dst []byte, v, unit int64, places int, r Rounding) []byte {
	places = min(max(places, 0), maxPlaces)
	n := scaled(v, unit, places, r)
	if n.Sign() < 0 {
		dst = append(dst, '-')
		n.Neg(n)
	}
	digits := n.String()
	for len(digits) <= places {
		digits = "0" + digits
	}
	dst = append(dst, digits[:len(digits)-places]...)
	if places > 0 {
		dst = append(dst, '.')
		dst = append(dst, digits[len(digits)-places:]...)
	}
	return dst
}

// In gives v/unit as a decimal with the given places (0 to 12; others are
// clamped), rounded in the given direction.
func In(v, unit int64, places int, r Rounding) decimal.Decimal {
	places = min(max(places, 0), maxPlaces)
	return decimal.NewFromBigInt(scaled(v, unit, places, r), -int32(places))
}

func scaled(v, unit int64, places int, r Rounding) *big.Int {
	if unit <= 0 {
		return new(big.Int)
	}
	ten := int64(1)
	for range places {
		ten *= 10
	}
	if n, ok := MulDiv(v, ten, unit, r); ok {
		return big.NewInt(n)
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
	return q
}

// Of counts d units in steps: exactly, or an error that matches
// origin.ErrPrecision or origin.ErrRange. However long d is, the work stays
// small.
func (c *Codec) Of(d decimal.Decimal, unit, offset int64) (int64, error) {
	if unit <= 0 {
		return 0, c.fail("", origin.ErrUnit)
	}
	coef := d.Coefficient()
	if coef.Sign() != 0 {
		exp := d.Exponent()
		if coef.BitLen() > 400 || exp > 40 || exp < -140 {
			return 0, c.fail("", origin.ErrRange)
		}
		coef.Mul(coef, big.NewInt(unit))
		ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(exp, -exp))), nil)
		if exp >= 0 {
			coef.Mul(coef, ten)
		} else {
			var rem big.Int
			coef.QuoRem(coef, ten, &rem)
			if rem.Sign() != 0 {
				return 0, c.fail(d.StringFixed(maxPlaces), origin.ErrPrecision)
			}
		}
	}
	coef.Add(coef, big.NewInt(offset))
	if !coef.IsInt64() || coef.Int64() < c.Min {
		return 0, c.fail("", origin.ErrRange)
	}
	return coef.Int64(), nil
}

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
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
	"sync"

	"axleend.example/rules/origin"
)

// A Unit is a name people write, how many steps one of it counts, and where
// its zero lies (other than 0 only for temperatures).
type Unit struct {
	Names  []string
	Steps  int64
	Offset int64
	Over   int64 // if not 0, read only behind n/Over: the nds of 9/32nds
	// Pointed says what people should write in place of a fraction of it, which nobody
	// means: 10/32 mm is a slip of the unit; empty where fractions are read.
	Pointed string
}

// A Pair is two units of one value, such as 23 ft 4 in: a whole number of the
// large one, and less than one of it in the small one.
type Pair struct{ Large, Small int } // indices in Codec.Units

// An Other is a unit of another kind that people put by mistake, and what to say.
type Other struct {
	Names []string
	Says  string
}

// A Form is one way to write a value: so many decimal places of a unit, or a
// fraction of it. It serves values that are whole multiples of its grid, lie
// in its band, and need no more digits than Parse reads.
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
	Pairs []Pair
	Not   []Other
	Min   int64 // least value accepted; at least the offsets less MaxInt64
}

// maxDigits is how many digits Parse reads; they keep its numerator and its
// power of ten in 64 bits.
const maxDigits = 18

func (c *Codec) fail(text string, err error, want string) error {
	return &origin.TextError{Kind: c.Kind, Text: text, Want: want, Err: err}
}

func (c *Codec) tooLarge(text string) error {
	u := c.Units[0]
	most := strconv.FormatInt((math.MaxInt64-u.Offset)/u.Steps, 10)
	return c.fail(text, origin.ErrRange, "at most "+most+" "+u.Names[0])
}

func (c *Codec) tooSmall(text string) error {
	if c.Min == math.MinInt64 {
		u := c.Units[0]
		least := strconv.FormatInt((math.MinInt64+u.Offset)/u.Steps, 10)
		return c.fail(text, origin.ErrRange, "at least "+least+" "+u.Names[0])
	}
	return c.fail(text, origin.ErrRange, "at least "+c.String(c.Min))
}

func (c *Codec) tooFine(text string) error {
	return c.fail(text, origin.ErrPrecision, "a rounder value")
}

// errBare is a number without a unit.
var errBare = bare{}

type bare struct{}

func (bare) Error() string        { return "no unit" }
func (bare) Is(target error) bool { return target == origin.ErrUnit }

// What is wrong with a number as much of the world writes it.
const marks = "%w: a point goes before decimals, commas between thousands"

var (
	errComma = fmt.Errorf(marks, origin.ErrSyntax)
	errMarks = fmt.Errorf(marks, origin.ErrUnit)
)

// Parse reads sign, digits (thousands commas only in whole groups of three),
// point, digits, or digits/digits with or without a whole number before it (94
// 1/8, 94-1/8), then a unit. Blanks of other widths, curly marks for feet and
// inches and a point behind a unit (lb.) are read as what they stand for. It
// refuses more than 18 digits, an exponent, a bare number, what is finer than one
// step, and what Append could not write down again.
func (c *Codec) Parse(text string) (int64, error) {
	v, err := c.parse(text)
	if err == nil {
		return v, nil
	}
	if plain := plainer(text); plain != text {
		if v, again := c.parse(plain); again == nil {
			return v, nil
		}
	}
	return 0, err
}

// plain writes characters that mean another one wherever a quantity is read.
var plain = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u202f", " ",
		"\u2033", `"`, "\u201d", `"`, "\u201c", `"`, "\u2032", "'", "\u2019", "'", "\u00b7", "-", "\u2044", "/")
})

// plainer gives the text in the characters of a keyboard, without a point behind
// its unit.
func plainer(text string) string {
	text = plain().Replace(text)
	if cut, ok := strings.CutSuffix(strings.TrimRight(text, " "), "."); ok && cut != "" && lower(cut[len(cut)-1]) >= 'a' && lower(cut[len(cut)-1]) <= 'z' {
		return cut
	}
	return text
}

func (c *Codec) parse(text string) (int64, error) {
	num, den, neg, rest, ok := number(text)
	if !ok {
		if strings.Contains(text, ",") {
			return 0, c.fail(text, errComma, c.Want)
		}
		return 0, c.fail(text, origin.ErrSyntax, c.Want)
	}
	name := strings.TrimLeft(rest, " ")
	unit := c.unit(name, den)
	if unit == nil {
		if v, ok := c.pair(num, den, neg, name); ok {
			return c.kept(text, v)
		}
		return 0, c.wrongUnit(text, name)
	}
	if unit.Pointed != "" && strings.Contains(text, "/") {
		return 0, c.fail(text, origin.ErrUnit, unit.Pointed)
	}
	outside := c.tooLarge
	if neg {
		outside = c.tooSmall
	}
	hi, lo := bits.Mul64(num, uint64(unit.Steps))
	if hi >= den {
		return 0, outside(text)
	}
	q, r := bits.Div64(hi, lo, den)
	if r != 0 {
		return 0, c.tooFine(text)
	}
	v, ok := signed(q, neg)
	if !ok {
		return 0, outside(text)
	}
	sum := v + unit.Offset
	if (sum < v) != (unit.Offset < 0) || sum < c.Min {
		return 0, outside(text)
	}
	return c.kept(text, sum)
}

// kept gives a value that can be written down again.
func (c *Codec) kept(text string, v int64) (int64, error) {
	var buf [40]byte
	if _, ok := c.format(buf[:0], v); !ok {
		return 0, c.tooFine(text)
	}
	return v, nil
}

// wrongUnit says what is wrong with what stands behind the number.
func (c *Codec) wrongUnit(text, name string) error {
	switch {
	case name == "":
		return c.fail(text, errBare, c.Want)
	case strings.ContainsRune(".,'0123456789", rune(name[0])):
		return c.fail(text, errMarks, c.Want)
	}
	for _, o := range c.Not {
		for _, n := range o.Names {
			if equalFold(n, strings.Trim(name, ". ")) {
				return c.fail(text, origin.ErrUnit, o.Says)
			}
		}
	}
	return c.fail(text, origin.ErrUnit, c.Want)
}

// pair reads the rest of a value of two units, behind the number of the large one.
func (c *Codec) pair(num, den uint64, neg bool, rest string) (int64, bool) {
	i := strings.IndexAny(rest, "0123456789")
	if i <= 0 || den != 1 || neg {
		return 0, false
	}
	large := strings.Trim(rest[:i], " .,")
	n, d, minus, name, ok := number(rest[i:])
	if !ok || minus {
		return 0, false
	}
	for _, p := range c.Pairs {
		big, small := &c.Units[p.Large], &c.Units[p.Small]
		if !big.named(large) || !small.named(strings.TrimLeft(name, " ")) {
			continue
		}
		hi, lo := bits.Mul64(n, uint64(small.Steps))
		if hi != 0 || lo%d != 0 || lo/d >= uint64(big.Steps) || num > uint64(math.MaxInt64/big.Steps)-1 {
			return 0, false
		}
		return int64(num)*big.Steps + int64(lo/d), true
	}
	return 0, false
}

func (c *Codec) unit(name string, den uint64) *Unit {
	for i := range c.Units {
		if u := &c.Units[i]; (u.Over == 0 || uint64(u.Over) == den) && u.named(name) {
			return u
		}
	}
	return nil
}

func (u *Unit) named(name string) bool {
	for _, n := range u.Names {
		if equalFold(n, name) {
			return true
		}
	}
	return false
}

// equalFold ignores the case of ASCII letters only: strings.EqualFold takes
// the Kelvin sign for a k and the long s for an s.
func equalFold(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range len(a) {
		if lower(a[i]) != lower(b[i]) {
			return false
		}
	}
	return true
}

func lower(ch byte) byte {
	if 'A' <= ch && ch <= 'Z' {
		return ch + ('a' - 'A')
	}
	return ch
}

// signed gives a magnitude its sign, or false when that does not fit.
func signed(mag uint64, neg bool) (int64, bool) {
	switch {
	case mag <= math.MaxInt64 && neg:
		return -int64(mag), true
	case mag <= math.MaxInt64:
		return int64(mag), true
	case mag == 1<<63 && neg:
		return math.MinInt64, true
	}
	return 0, false
}

// number splits a leading number off text and gives it as num/den.
func number(text string) (num, den uint64, neg bool, rest string, ok bool) {
	s := strings.Trim(text, " ")
	if s != "" && (s[0] == '-' || s[0] == '+') {
		neg = s[0] == '-'
		s = s[1:]
	}
	num, digits, i := whole(s)
	if digits == 0 {
		return 0, 0, false, "", false
	}
	commas := i > digits
	den, ok = 1, true
	var n int
	switch {
	case i < len(s) && s[i] == '.':
		num, n, ok = plainDigits(num, s[i+1:], maxDigits-digits)
		for range n {
			den *= 10
		}
		i += 1 + n
	case i < len(s) && s[i] == '/' && !commas:
		den, n, ok = plainDigits(0, s[i+1:], 6)
		i += 1 + n
	}
	if !ok || den == 0 {
		return 0, 0, false, "", false
	}
	if den == 1 && !commas && digits <= 9 {
		if n, d, behind, ok := fraction(s[i:]); ok {
			return num*d + n, d, neg, behind, true
		}
	}
	return num, den, neg, s[i:], true
}

// whole reads the number in front of s up to end, with commas only between groups of
// three digits; 0 digits where there is none.
func whole(s string) (num uint64, digits, end int) {
	commas, group := false, 0 // group counts the digits since the last comma
	for ; end < len(s); end++ {
		ch := s[end]
		if isDigit(ch) {
			num = num*10 + uint64(ch-'0')
			group++
			if digits++; digits > maxDigits {
				return 0, 0, 0
			}
			continue
		}
		if ch != ',' {
			break
		}
		if group == 0 || group > 3 || commas && group != 3 {
			return 0, 0, 0
		}
		commas, group = true, 0
	}
	// A comma after a leading zero is a decimal comma, as in "0,640 kg":
	// reading it as thousands would be a thousand times too much.
	if commas && (group != 3 || s[0] == '0') {
		return 0, 0, 0
	}
	return num, digits, end
}

// plainDigits puts the digits in front of s behind those of num: at least one, and at
// most so many.
func plainDigits(num uint64, s string, most int) (v uint64, n int, ok bool) {
	for n < len(s) && isDigit(s[n]) {
		if n == most {
			return 0, 0, false
		}
		num = num*10 + uint64(s[n]-'0')
		n++
	}
	return num, n, n > 0
}

func isDigit(ch byte) bool { return '0' <= ch && ch <= '9' }

// fraction reads the part behind a whole number and a blank or dash: less than one, and
// at most three digits over three.
func fraction(s string) (num, den uint64, rest string, ok bool) {
	if s == "" || s[0] != ' ' && s[0] != '-' {
		return 0, 0, "", false
	}
	if s[0] == '-' {
		s = s[1:]
	} else {
		s = strings.TrimLeft(s, " ")
	}
	num, n, ok := plainDigits(0, s, 3)
	if !ok || n == len(s) || s[n] != '/' {
		return 0, 0, "", false
	}
	s = s[n+1:]
	den, n, ok = plainDigits(0, s, 3)
	return num, den, s[n:], ok && 0 < num && num < den
}

// Append writes v in the first form that serves it. Else the error matches
// origin.ErrPrecision, or origin.ErrRange for a value that Parse would not
// accept: below the least one.
func (c *Codec) Append(dst []byte, v int64) ([]byte, error) {
	if v < c.Min {
		return dst, c.tooSmall(c.String(v))
	}
	out, ok := c.format(dst, v)
	if !ok {
		return dst, c.tooFine(c.String(v))
	}
	return out, nil
}

func (c *Codec) format(dst []byte, v int64) ([]byte, bool) {
	if v < c.Min {
		return dst, false
	}
	for i := range c.Forms {
		f := &c.Forms[i]
		u := &c.Units[f.Unit]
		n := v - u.Offset
		mag := abs(n)
		if n%f.Grid != 0 || mag < uint64(f.Least) || f.Below != 0 && mag >= uint64(f.Below) {
			continue
		}
		start := len(dst)
		if f.Over != 0 {
			dst = appendInt(dst, n/f.Grid)
			dst = append(dst, '/')
			dst = appendInt(dst, f.Over)
		} else {
			dst = appendTrimmed(dst, n, u.Steps, f.Places)
		}
		if countDigits(dst[start:]) > maxDigits {
			dst = dst[:start]
			continue
		}
		dst = append(dst, ' ')
		return append(dst, u.Names[0]...), true
	}
	return dst, false
}

func countDigits(text []byte) int {
	n := 0
	for _, ch := range text {
		if isDigit(ch) {
			n++
		}
	}
	return n
}

// String gives the canonical text, or, for a value that has none, the value
// in the last form's unit with its places, rounded to nearest and marked with
// a tilde, which Parse refuses.
func (c *Codec) String(v int64) string {
	if b, ok := c.format(make([]byte, 0, 24), v); ok {
		return string(b)
	}
	f := c.Forms[len(c.Forms)-1]
	u := c.Units[f.Unit]
	n := v - u.Offset
	if n > v { // wrapped: far below any least value
		n = math.MinInt64
	}
	return "~" + string(AppendIn(nil, n, u.Steps, f.Places, Nearest)) + " " + u.Names[0]
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

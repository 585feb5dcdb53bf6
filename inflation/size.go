package inflation

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// ErrSize says that a text is no size designation that is known here.
var ErrSize = errors.New("not a size designation")

const sizeForms = `want one such as "LT225/75R16", "ST205/75D15", "11R22.5", "7.50R16LT" or "37x12.50R17LT"`

// A Size is a tire size designation taken apart: metric (P, LT, ST or no
// prefix), numeric, or flotation. Equal designations are ==, however they
// were written. The zero Size is none.
type Size struct {
	metric       bool   // the width counts millimeters
	prefix       string // "P", "LT", "ST", "T", "HL" or none
	suffix       string // "LT", "ST", "C", "MH" or none
	overall      int    // flotation: 0.01 in
	width        int    // metric: mm, else 0.01 in
	places       int    // decimals of a width in inches: 0 or 2
	aspect       int    // percent, 0 if not part of the designation
	speed        string // letter before the R, as in ZR
	construction Construction
	rim          int // 0.01 in
}

// maxSizeText is the longest text that is read.
const maxSizeText = 512

// ParseSize reads a size designation in any case and spacing: metric
// ("LT225/75R16", "225/70R19.5", "ST205/75D15", "P225/75R15"), numeric
// ("11R22.5", "7.50-16LT", "10.00R20") or flotation ("37x12.50R17LT"). What
// follows a size on a sidewall is for package sidewall. The error matches
// [ErrSize].
func ParseSize(text string) (Size, error) {
	if len(text) <= maxSizeText {
		s, n := scanSize(text)
		if n > 0 && strings.TrimSpace(text[n:]) == "" {
			return s, nil
		}
	}
	return Size{}, notSize(text)
}

// CutSize takes a size designation off the front of a text, as [ParseSize]
// reads one, and gives what follows it. The error matches [ErrSize].
func CutSize(text string) (size Size, rest string, err error) {
	size, n := scanSize(text)
	if n == 0 {
		return Size{}, "", notSize(text)
	}
	return size, text[n:], nil
}

func notSize(text string) error {
	return fmt.Errorf("%q: %w: %s", word.Clip(text), ErrSize, sizeForms)
}

// normalizeSize gives the one writing of a size by which tables are found:
// that of [Size.String] for a known designation, else the text in capitals
// without spaces.
func normalizeSize(text string) string {
	if s, err := ParseSize(text); err == nil {
		return s.String()
	}
	return string(appendSquashed(nil, text))
}

// leadingSize is the one writing of the designation that a text starts with, or
// nothing.
func leadingSize(text string) string {
	s, _ := scanSize(text)
	return s.String()
}

// appendSquashed appends ASCII capitals without spaces.
func appendSquashed(dst []byte, text string) []byte {
	for i := range len(text) {
		switch ch := text[i]; {
		case ch == ' ' || ch == '\t':
		case 'a' <= ch && ch <= 'z':
			dst = append(dst, ch-('a'-'A'))
		default:
			dst = append(dst, ch)
		}
	}
	return dst
}

// A scanner walks a text; its letters are read in capitals.
type scanner struct {
	text string
	at   int
}

func (s *scanner) spaces() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == '\t') {
		s.at++
	}
}

func (s *scanner) peek() byte {
	if s.at >= len(s.text) {
		return 0
	}
	ch := s.text[s.at]
	if 'a' <= ch && ch <= 'z' {
		ch -= 'a' - 'A'
	}
	return ch
}

// word takes one of the words if it comes next.
func (s *scanner) word(words ...string) string {
	for _, w := range words {
		if end := s.at + len(w); end <= len(s.text) && strings.EqualFold(s.text[s.at:end], w) {
			s.at = end
			return w
		}
	}
	return ""
}

// number takes up to four digits and two decimals, as hundredths.
func (s *scanner) number() (hundredths, places int, ok bool) {
	start := s.at
	for s.at < len(s.text) && isDigit(s.text[s.at]) && s.at-start < 4 {
		hundredths = hundredths*10 + int(s.text[s.at]-'0')
		s.at++
	}
	if s.at == start {
		return 0, 0, false
	}
	hundredths *= 100
	if s.at+1 < len(s.text) && s.text[s.at] == '.' && isDigit(s.text[s.at+1]) {
		s.at++
		for unit := 10; unit > 0 && s.at < len(s.text) && isDigit(s.text[s.at]); unit /= 10 {
			hundredths += int(s.text[s.at]-'0') * unit
			places++
			s.at++
		}
	}
	if s.at < len(s.text) && isDigit(s.text[s.at]) {
		return 0, 0, false
	}
	return hundredths, places, true
}

func isDigit(ch byte) bool  { return '0' <= ch && ch <= '9' }
func isLetter(ch byte) bool { return 'A' <= ch && ch <= 'Z' }

// scanSize takes a size off the front and says how many bytes it took, 0 if
// there is none.
func scanSize(text string) (Size, int) {
	var z Size
	s := &scanner{text: text}
	s.spaces()
	z.prefix = s.word("LT", "ST", "HL", "P", "T")
	s.spaces()
	if !s.width(&z) || !s.speed(&z) || !s.construction(&z) {
		return Size{}, 0
	}
	s.spaces()
	if !s.rim(&z) {
		return Size{}, 0
	}
	end := s.at
	s.spaces()
	if z.prefix != "" {
		return z, end
	}
	suffix := s.word("LT", "ST", "MH")
	if suffix == "" && s.at == end && z.overall == 0 {
		suffix = s.word("C")
	}
	if suffix != "" && !isLetter(s.peek()) && !isDigit(s.peek()) {
		z.suffix, end = suffix, s.at
	}
	return z, end
}

// width takes what stands before the construction, and the spaces after it:
// "225/75", "11", "37x12.50".
func (s *scanner) width(z *Size) (ok bool) {
	if z.width, z.places, ok = s.number(); !ok {
		return false
	}
	s.spaces()
	if s.word("X", "×") != "" {
		s.spaces()
		ok = s.flotation(z)
	} else {
		ok = s.aspect(z) && z.metricOrNumeric()
	}
	if z.places == 1 {
		z.places = 2 // 12.5 is written 12.50
	}
	return ok
}

// flotation takes the width behind the overall diameter, and the spaces after it.
func (s *scanner) flotation(z *Size) (ok bool) {
	z.overall = z.width
	z.width, z.places, ok = s.number()
	s.spaces()
	return ok && z.prefix == "" &&
		20_00 <= z.overall && z.overall <= 60_00 && z.overall%50 == 0 &&
		5_00 <= z.width && z.width <= 25_00
}

// aspect takes a slash and the aspect ratio, and the spaces after it, if they are there.
func (s *scanner) aspect(z *Size) bool {
	if s.word("/") == "" {
		return true
	}
	s.spaces()
	aspect, places, ok := s.number()
	if !ok || places > 0 || aspect < 20_00 || aspect > 100_00 {
		return false
	}
	z.aspect = aspect / 100
	s.spaces()
	return true
}

// metricOrNumeric settles whether a width without an overall diameter counts
// millimeters, and reports whether there is one such.
func (z *Size) metricOrNumeric() bool {
	if 100_00 <= z.width && z.width < 1000_00 && z.places == 0 && z.aspect > 0 {
		z.metric, z.width = true, z.width/100
		return true
	}
	switch z.prefix {
	case "HL", "P", "T":
		return false
	}
	return 4_00 <= z.width && z.width <= 25_00 && (z.aspect == 0 || z.width <= 14_00)
}

// speed takes a speed symbol before an R, if one is there.
func (s *scanner) speed(z *Size) bool {
	ch := s.peek()
	if !isLetter(ch) || ch == 'R' || s.at+1 >= len(s.text) || s.text[s.at+1]|' ' != 'r' {
		return true
	}
	z.speed = string(ch)
	s.at++
	return strings.IndexByte("AIOX", ch) < 0 // no speed symbol is one of them
}

func (s *scanner) construction(z *Size) bool {
	switch s.word("R", "-", "D", "B") {
	case "R":
		z.construction = Radial
	case "-", "D":
		z.construction = Bias
	case "B":
		z.construction = BiasBelted
	}
	return z.construction != 0
}

// rim takes the diameter of the rim.
func (s *scanner) rim(z *Size) bool {
	rim, places, ok := s.number()
	z.rim = rim
	return ok && places <= 1 && rim%50 == 0 && 4_00 <= rim && rim <= 63_00
}

// String gives the one writing of the designation, such as "LT225/75R16",
// "11R22.5", "7.50-16LT" or "37x12.50R17LT"; it reads back as the same Size.
// The zero Size is empty.
func (s Size) String() string {
	if s.rim == 0 {
		return ""
	}
	b := append(make([]byte, 0, 24), s.prefix...)
	if s.overall > 0 {
		b = append(appendHundredths(b, s.overall, 1), 'x')
	}
	if s.metric {
		b = strconv.AppendInt(b, int64(s.width), 10)
	} else {
		b = appendHundredths(b, s.width, s.places)
	}
	if s.aspect > 0 {
		b = strconv.AppendInt(append(b, '/'), int64(s.aspect), 10)
	}
	b = append(b, s.speed...)
	switch {
	case s.construction == Radial:
		b = append(b, 'R')
	case s.construction == BiasBelted:
		b = append(b, 'B')
	case s.metric:
		b = append(b, 'D')
	default:
		b = append(b, '-')
	}
	return string(append(appendHundredths(b, s.rim, 1), s.suffix...))
}

// appendHundredths writes v/100 with the places, 0 or 2, or with 1 for halves
// only where there is one.
func appendHundredths(b []byte, v, places int) []byte {
	b = strconv.AppendInt(b, int64(v/100), 10)
	switch {
	case places == 2:
		b = append(b, '.', byte('0'+v/10%10), byte('0'+v%10))
	case v%100 != 0:
		b = append(b, '.', byte('0'+v/10%10))
	}
	return b
}

// MarshalText writes what String gives.
func (s Size) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what [ParseSize] reads, and empty text as none.
func (s *Size) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*s = Size{}
		return nil
	}
	v, err := ParseSize(string(text))
	if err == nil {
		*s = v
	}
	return err
}

// Class is the class that the designation stands for, or not known where it
// tells nothing, as with "7.50-16". Metric sizes without a prefix on whole
// inches count as passenger; a load index with a dual part says otherwise, see
// package sidewall.
func (s Size) Class() Class {
	switch {
	case s.prefix == "ST" || s.suffix == "ST":
		return Trailer
	case s.prefix == "LT" || s.suffix == "LT" || s.suffix == "C":
		return LightTruck
	case s.prefix != "":
		return Passenger
	case s.rim >= 17_50 && s.rim%100 == 50:
		return Truck
	case !s.metric && s.overall == 0 && s.rim >= 20_00 && s.width >= 8_00:
		return Truck
	case s.metric && s.width < 325 && s.rim%100 == 0 && s.suffix == "":
		return Passenger
	}
	return 0
}

// Metric reports whether the width counts millimeters, as in "225/70R19.5".
func (s Size) Metric() bool { return s.metric }

// Prefix is what stands before the width: "P", "LT", "ST", "T", "HL" or nothing.
func (s Size) Prefix() string { return s.prefix }

// Construction is what the designation names.
func (s Size) Construction() Construction { return s.construction }

// RimDiameter is the nominal diameter of the rim.
func (s Size) RimDiameter() weight.Length { return weight.Length(s.rim) * (weight.Inch / 100) }

package judge

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// AgeUnit is how many steps of the age dimension a month counts: more than it
// has days, so that months and days compare like the calendar.
const AgeUnit = 32

// ageSteps counts a span so that longer spans count more, without ever
// turning months into days.
func ageSteps(s dotcode.Span) int64 {
	return int64(s.Years*12+s.Months)*AgeUnit + int64(s.Days)
}

// spanOf is the span of so many steps.
func spanOf(n int64) dotcode.Span {
	months := n / AgeUnit
	return dotcode.Span{Years: int(months / 12), Months: int(months % 12), Days: int(n % AgeUnit)}
}

// ErrAge says that a text is no age.
var ErrAge = errors.New(`malformed age: want years and months, such as "10 years" or "5 years 6 months"`)

func parseAge(text string) (int64, error) {
	words := strings.Fields(text)
	if len(words) == 0 || len(words)%2 != 0 || len(words) > 6 {
		return 0, fmt.Errorf("%w: %q", ErrAge, strictyaml.Clip(text))
	}
	var s dotcode.Span
	last := 0
	for i := 0; i < len(words); i += 2 {
		n, err := strconv.Atoi(words[i])
		if err != nil || n < 0 || n > 1000 {
			return 0, fmt.Errorf("%w: %q", ErrAge, strictyaml.Clip(text))
		}
		rank, most := 0, 1000
		switch strings.TrimSuffix(words[i+1], "s") {
		case "year":
			rank, s.Years = 1, n
		case "month":
			rank, s.Months = 2, n
		case "day":
			rank, s.Days, most = 3, n, AgeUnit-1
		}
		if rank <= last || n > most {
			return 0, fmt.Errorf("%w: %q: %w", ErrAge, strictyaml.Clip(text), origin.ErrUnit)
		}
		last = rank
	}
	return ageSteps(s), nil
}

func formatAge(n int64) string {
	var room [32]byte
	return string(appendAge(room[:0], n))
}

func appendAge(dst []byte, n int64) []byte {
	if n < 0 {
		return appendAge(append(dst, '-'), -n)
	}
	from := len(dst)
	months := n / AgeUnit
	dst = appendCount(dst, from, months/12, "year")
	dst = appendCount(dst, from, months%12, "month")
	dst = appendCount(dst, from, n%AgeUnit, "day")
	if len(dst) == from {
		dst = append(dst, "0 days"...)
	}
	return dst
}

// appendCount appends "2 years", behind a space if something stands behind
// from, and nothing for none.
func appendCount(dst []byte, from int, n int64, unit string) []byte {
	if n == 0 {
		return dst
	}
	if len(dst) > from {
		dst = append(dst, ' ')
	}
	dst = append(strconv.AppendInt(dst, n, 10), ' ')
	dst = append(dst, unit...)
	if n > 1 {
		dst = append(dst, 's')
	}
	return dst
}

// A counted is a quantity: a whole number of steps that writes itself.
type counted interface {
	~int64
	String() string
	AppendText([]byte) ([]byte, error)
}

func dimension[T counted](name, doc string, parse func(string) (T, error)) rules.Dimension {
	return rules.Dimension{
		Name: name,
		Doc:  doc,
		Parse: func(text string) (int64, error) {
			v, err := parse(text)
			return int64(v), err
		},
		Format: func(n int64) string { return T(n).String() },
		Append: func(dst []byte, n int64) []byte {
			out, err := T(n).AppendText(dst)
			if err != nil { // no exact text: String says so
				return append(dst, T(n).String()...)
			}
			return out
		},
	}
}

// readable writes a pressure that no decimal names, as a share of another may be, in
// psi rounded up: most bounds on one are the least that it may be.
func readable(d rules.Dimension) rules.Dimension {
	d.Append = func(dst []byte, n int64) []byte {
		p := pressureOf(n)
		if out, err := p.AppendText(dst); err == nil {
			return out
		}
		return append(p.AppendIn(dst, inflation.PSI, 2, weight.Ceiling), " psi"...)
	}
	return d
}

// commas puts thousands commas into the whole number that begins at from.
func commas(dst []byte, from int) []byte {
	for from < len(dst) && dst[from] == '-' {
		from++
	}
	end := from
	for end < len(dst) && dst[end] >= '0' && dst[end] <= '9' {
		end++
	}
	for end -= 3; end > from; end -= 3 {
		dst = slices.Insert(dst, end, ',')
	}
	return dst
}

// grouped writes a dimension's whole numbers with thousands commas, as people
// read them on a slip.
func grouped(d rules.Dimension) rules.Dimension {
	plain := d.Append
	d.Append = func(dst []byte, n int64) []byte { return commas(plain(dst, n), len(dst)) }
	d.Format = func(n int64) string { return string(d.Append(nil, n)) }
	return d
}

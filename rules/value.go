package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
)

// A Value is what was recorded of one measure: a quantity with its plus/minus,
// a word, a flag, or nothing. The zero Value is "not recorded". Values are
// comparable with ==.
type Value struct {
	low, high int64
	form      form
}

type form uint8

const (
	formNone form = iota
	formPlusMinus
	formBetween
	formWord
	formFlag
)

// Quantity is an exact count of the measure's steps.
func Quantity[T ~int64](n T) Value {
	return Value{int64(n), int64(n), formPlusMinus}
}

// PlusMinus is a count that may be off by up to pm (its sign is ignored)
// either way. What would not fit in 64 bits is cut at their ends.
func PlusMinus[T ~int64](n, pm T) Value {
	v, d := int64(n), int64(pm)
	if d > 0 {
		d = -d // the negative half of int64 is the larger one
	}
	low, high, f := v+d, v-d, formPlusMinus
	if low > v {
		low, f = math.MinInt64, formBetween
	}
	if high < v {
		high, f = math.MaxInt64, formBetween
	}
	return Value{low, high, f}
}

// Between is a count that is known to lie from low to high, both included, in
// either order.
func Between[T ~int64](low, high T) Value {
	a, b := int64(min(low, high)), int64(max(low, high))
	if a == b {
		return Quantity(a)
	}
	return Value{a, b, formBetween}
}

// Word is the word at index i of the measure's Words.
func Word(i int) Value { return Value{int64(i), int64(i), formWord} }

// Flag is yes or no.
func Flag(yes bool) Value {
	if yes {
		return Value{1, 1, formFlag}
	}
	return Value{0, 0, formFlag}
}

// Recorded reports whether v is anything at all.
func (v Value) Recorded() bool { return v.form != formNone }

// Interval returns the least and the greatest count that a quantity may have;
// ok is false for anything but a quantity.
func (v Value) Interval() (low, high int64, ok bool) {
	if v.form != formPlusMinus && v.form != formBetween {
		return 0, 0, false
	}
	return v.low, v.high, true
}

// Index returns the index of a word; ok is false for anything but a word.
func (v Value) Index() (i int, ok bool) { return int(v.low), v.form == formWord }

// Yes returns a flag; ok is false for anything but a flag.
func (v Value) Yes() (yes, ok bool) { return v.low == 1, v.form == formFlag }

// fits says whether the measure can have the value.
func (r MeasureRef) fits(v Value) bool {
	switch v.form {
	case formNone:
		return true
	case formWord:
		return r.kind == kindWord && v.low >= 0 && v.low < int64(r.words)
	case formFlag:
		return r.kind == kindFlag
	}
	return r.kind == kindQuantity
}

// Parse reads a value as files write it: a quantity ("2,600 lb"), with its
// plus/minus ("2,600 lb +/- 40 lb") or as a range ("4 years to 6 years"); a
// word; "yes" or "no". Errors come from the dimension's Parse or are a
// [*NameError].
func (r MeasureRef) Parse(text string) (Value, error) {
	m := r.m
	if m == nil {
		return Value{}, fmt.Errorf("%w: no measure", ErrFacts)
	}
	switch m.kind {
	case kindWord:
		i := slices.Index(m.Words, text)
		if i < 0 {
			return Value{}, unknown("word", text, m.Name, m.Words)
		}
		return Word(i), nil
	case kindFlag:
		if text != "yes" && text != "no" {
			return Value{}, unknown("word", text, m.Name, yesNo())
		}
		return Flag(text == "yes"), nil
	}
	for _, sign := range [...]string{"+/-", "±"} {
		if a, b, ok := strings.Cut(text, sign); ok {
			n, err := m.Dimension.Parse(strings.TrimSpace(a))
			if err != nil {
				return Value{}, err
			}
			pm, err := m.Dimension.Parse(strings.TrimSpace(b))
			if err != nil {
				return Value{}, err
			}
			if pm < 0 {
				return Value{}, fmt.Errorf("%w: %q: a plus/minus below zero", ErrBound, strictyaml.Clip(text))
			}
			return PlusMinus(n, pm), nil
		}
	}
	if a, b, ok := strings.Cut(text, " to "); ok {
		low, err := m.Dimension.Parse(strings.TrimSpace(a))
		if err != nil {
			return Value{}, err
		}
		high, err := m.Dimension.Parse(strings.TrimSpace(b))
		if err != nil {
			return Value{}, err
		}
		if low > high {
			return Value{}, fmt.Errorf("%w: %q: a range that ends below its start", ErrBound, strictyaml.Clip(text))
		}
		return Between(low, high), nil
	}
	n, err := m.Dimension.Parse(text)
	if err != nil {
		return Value{}, err
	}
	return Quantity(n), nil
}

func yesNo() []string { return []string{"no", "yes"} }

// Text writes a value of the measure as [MeasureRef.Parse] reads it; what is
// not recorded, or not a value of this measure, is "not recorded".
func (r MeasureRef) Text(v Value) string { return string(r.AppendText(nil, v)) }

// AppendText appends what [MeasureRef.Text] writes.
func (r MeasureRef) AppendText(dst []byte, v Value) []byte {
	m := r.m
	if m == nil || v.form == formNone || !r.fits(v) {
		return append(dst, NotRecorded.String()...)
	}
	switch v.form {
	case formWord:
		return append(dst, m.Words[v.low]...)
	case formFlag:
		return append(dst, yesNo()[v.low]...)
	case formBetween:
		dst = append(m.Dimension.append(dst, v.low), " to "...)
		return m.Dimension.append(dst, v.high)
	}
	half := (uint64(v.high) - uint64(v.low)) / 2
	dst = m.Dimension.append(dst, v.low+int64(half))
	if half > 0 {
		dst = m.Dimension.append(append(dst, " +/- "...), int64(half))
	}
	return dst
}

func (d *Dimension) append(dst []byte, n int64) []byte {
	if d.Append != nil {
		return d.Append(dst, n)
	}
	return append(dst, d.Format(n)...)
}

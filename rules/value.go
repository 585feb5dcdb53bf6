package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
)

// A Value is what was recorded of one measure: a quantity, a word, a flag, or
// nothing. The zero Value is "not recorded". Values are comparable with ==.
//
// A quantity is what was read, with its plus/minus. Apart from that it may be
// open: [Value.OrLess] and [Value.OrMore] say that the true quantity is at most,
// or at least, what was read, and [Somewhere] that it lies between two limits.
type Value struct {
	low, high int64 // of what was read; of what lies within limits, the limits
	form      form
	open      open
}

// open says what is not known of a quantity besides its plus/minus.
type open uint8

const (
	openBelow  open = 1 << iota // nothing says how small it may be
	openAbove                   // nothing says how large it may be
	openWithin                  // low and high are limits, and nothing was read between them
)

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
	return Value{low: int64(n), high: int64(n), form: formPlusMinus}
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
	return Value{low: low, high: high, form: f}
}

// Between is a count that is known to lie from low to high, both included, in
// either order.
func Between[T ~int64](low, high T) Value {
	a, b := int64(min(low, high)), int64(max(low, high))
	if a == b {
		return Quantity(a)
	}
	return Value{low: a, high: b, form: formBetween}
}

// Somewhere is a count that is known only by its limits, low and high, both
// included, in either order: "at least 40 psi, at most 82 psi". Unlike
// [Between] it is not the plus/minus of a reading: what it leaves undecided is
// not recorded. Limits that have a plus/minus are to be widened by it.
func Somewhere[T ~int64](low, high T) Value {
	v := Between(low, high)
	if v.low != v.high {
		v.open = openWithin
	}
	return v
}

// OrLess is what was read and anything below it: "at most 82 psi". Any lower limit
// of v is lost; only [Value.AsRead] of limits keeps it. Anything but a quantity
// stays as it is; a quantity that was open above is then open on both sides, so
// nothing is known of it.
func (v Value) OrLess() Value { return v.opened(openBelow) }

// OrMore is what was read and anything above it: "at least 3,000 lb". Any upper
// limit of v is lost; only [Value.AsRead] of limits keeps it. Anything but a
// quantity stays as it is; a quantity that was open below is then open on both
// sides, so nothing is known of it.
func (v Value) OrMore() Value { return v.opened(openAbove) }

func (v Value) opened(side open) Value {
	switch {
	case !v.quantity():
		return v
	case v.open&^(side|openWithin) != 0:
		return Value{}
	}
	v.open |= side
	return v
}

// AsRead is the quantity as if it were exactly what was read, within its
// plus/minus: "at most 82 psi" is 82 psi. Of limits it is the range between
// them. Every other value stays as it is.
func (v Value) AsRead() Value {
	v.open = 0
	return v
}

// Open reports whether the quantity is known other than by its plus/minus: open
// below, open above, or by limits alone.
func (v Value) Open() bool { return v.open != 0 }

func (v Value) quantity() bool { return v.form == formPlusMinus || v.form == formBetween }

// Word is the word at index i of the measure's Words.
func Word(i int) Value { return Value{low: int64(i), high: int64(i), form: formWord} }

// Flag is yes or no.
func Flag(yes bool) Value {
	if yes {
		return Value{low: 1, high: 1, form: formFlag}
	}
	return Value{form: formFlag}
}

// Recorded reports whether v is anything at all.
func (v Value) Recorded() bool { return v.form != formNone }

// Interval returns the least and the greatest count that a quantity may have;
// ok is false for anything but a quantity, and for one that is open below or
// above.
func (v Value) Interval() (low, high int64, ok bool) {
	if !v.quantity() || v.open&(openBelow|openAbove) != 0 {
		return 0, 0, false
	}
	return v.low, v.high, true
}

// Least returns the least count that a quantity may have; ok is false for
// anything but a quantity, and for one that is open below.
func (v Value) Least() (n int64, ok bool) {
	if !v.quantity() || v.open&openBelow != 0 {
		return 0, false
	}
	return v.low, true
}

// Most returns the greatest count that a quantity may have; ok is false for
// anything but a quantity, and for one that is open above.
func (v Value) Most() (n int64, ok bool) {
	if !v.quantity() || v.open&openAbove != 0 {
		return 0, false
	}
	return v.high, true
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
// plus/minus ("2,600 lb +/- 40 lb") or as a range ("4 years to 6 years"), open
// below or above ("at most 82 psi +/- 2 psi", "at least 3,000 lb"), known by
// limits ("at least 40 psi, at most 82 psi"), or by limits that are open besides
// ("at most 85 psi, as read 80 psi to 85 psi"); a word; "yes" or "no". Errors come
// from the dimension's Parse, match [ErrBound] where a range, a plus/minus or
// limits cannot be, or are a [*NameError].
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
	return m.open(text)
}

// What a text of a quantity that is open starts with, and what stands between
// two limits.
const (
	textAtMost  = "at most "
	textAtLeast = "at least "
	textAndMost = ", " + textAtMost
	textAsRead  = ", as read " // of limits that are open besides
)

// open reads a quantity that may be open.
func (m *measure) open(text string) (Value, error) {
	if _, within, ok := strings.Cut(text, textAsRead); ok {
		return m.openLimits(text, within)
	}
	if most, ok := strings.CutPrefix(text, textAtMost); ok {
		v, err := m.read(most)
		return v.OrLess(), err
	}
	least, ok := strings.CutPrefix(text, textAtLeast)
	if !ok {
		return m.read(text)
	}
	least, most, both := strings.Cut(least, textAndMost)
	low, err := m.read(least)
	if err != nil || !both {
		return low.OrMore(), err
	}
	high, err := m.read(most)
	switch {
	case err != nil:
		return Value{}, err
	case low.low != low.high || high.low != high.high:
		return Value{}, fmt.Errorf("%w: %q: two limits take no plus/minus; write them that much wider", ErrBound, strictyaml.Clip(text))
	case low.low > high.low:
		return Value{}, fmt.Errorf("%w: %q: more at least than at most", ErrBound, strictyaml.Clip(text))
	}
	return Somewhere(low.low, high.low), nil
}

// openLimits reads limits that are open besides: the one that holds, and both.
func (m *measure) openLimits(text, within string) (Value, error) {
	v, err := m.read(within)
	if err != nil {
		return Value{}, err
	}
	v = Somewhere(v.low, v.high)
	for _, open := range [...]Value{v.OrLess(), v.OrMore()} {
		if v.Open() && refTo(m).Text(open) == text {
			return open, nil
		}
	}
	return Value{}, fmt.Errorf("%w: %q: want the limit that holds, and what was read, such as %q", ErrBound, strictyaml.Clip(text), "at most 85 psi, as read 80 psi to 85 psi")
}

// read reads what was read of a quantity, with its plus/minus or as a range.
func (m *measure) read(text string) (Value, error) {
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
	}
	switch v.open {
	case openWithin | openBelow:
		dst = append(m.Dimension.append(append(dst, textAtMost...), v.high), textAsRead...)
	case openWithin | openAbove:
		dst = append(m.Dimension.append(append(dst, textAtLeast...), v.low), textAsRead...)
	case openWithin:
		dst = append(m.Dimension.append(append(dst, textAtLeast...), v.low), textAndMost...)
		return m.Dimension.append(dst, v.high)
	case openBelow:
		dst = append(dst, textAtMost...)
	case openAbove:
		dst = append(dst, textAtLeast...)
	}
	if v.form == formBetween {
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

// appendLimit writes a bound, and of one that is not known closely "40 lb to 50 lb, not
// known closer", "50 lb, perhaps less" or "40 lb, perhaps more".
func (r MeasureRef) appendLimit(dst []byte, v Value) []byte {
	if !v.Open() {
		return r.AppendText(dst, v)
	}
	write := r.m.Dimension.append
	low, ok := v.Least()
	high, capped := v.Most()
	switch {
	case !capped:
		return append(write(dst, low), ", perhaps more"...)
	case !ok || low <= 0: // that it is no less says nothing
		return append(write(dst, high), ", perhaps less"...)
	}
	return append(write(append(write(dst, low), " to "...), high), ", not known closer"...)
}

func (d *Dimension) append(dst []byte, n int64) []byte {
	if d.Append != nil {
		return d.Append(dst, n)
	}
	return append(dst, d.Format(n)...)
}

package sidewall

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"axleend.example/inflation"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// ErrStamp says that a text is not what a sidewall says; the error is a
// [*StampError].
var ErrStamp = errors.New("not a sidewall's stamp")

// A StampError is a word of a sidewall's text that cannot be read.
type StampError struct {
	// Text is the word.
	Text string
	// Column counts characters from 1.
	Column int
	// Want is what was expected.
	Want string
}

// Error gives column, word and what was expected.
func (e *StampError) Error() string {
	return fmt.Sprintf("column %d: %q: %s: want %s", e.Column, word.Clip(e.Text), ErrStamp, e.Want)
}

// Unwrap returns [ErrStamp].
func (e *StampError) Unwrap() error { return ErrStamp }

const (
	// maxText is the longest text that is read.
	maxText = 512
	// No tire carries or holds a tenth of these.
	maxLoad     = 1_000_000 * weight.Kilogram
	maxPressure = 1000 * inflation.PSI
)

// Stamps are what a sidewall says about size and load. Whatever is zero was
// not read.
type Stamps struct {
	// Size is the designation.
	Size inflation.Size `json:"size"`
	// LoadRange as stamped, empty if it was not.
	LoadRange inflation.LoadRange `json:"load_range,omitzero"`
	// PlyRating as stamped, 0 if it was not.
	PlyRating int `json:"ply_rating,omitzero"`
	// SingleIndex is the load index in single fitment.
	SingleIndex LoadIndex `json:"single_index,omitzero"`
	// DualIndex is the load index in dual fitment.
	DualIndex LoadIndex `json:"dual_index,omitzero"`
	// Speed is the speed symbol.
	Speed SpeedSymbol `json:"speed,omitzero"`
	// Single is the maximum load in single fitment with its cold pressure. Of a
	// load in pounds and in kilograms the lower one is taken; of a pressure in
	// psi and in kPa the psi one, since the other is rounded to 10 kPa.
	Single inflation.Rating `json:"single,omitzero"`
	// Dual is the maximum load in dual fitment, likewise.
	Dual inflation.Rating `json:"dual,omitzero"`
	// MaxPressure is a maximum pressure stated apart from the loads.
	MaxPressure inflation.Pressure `json:"max_pressure,omitzero"`
}

// idle reports whether a word says nothing about size or load.
func idle(word string) bool {
	switch word {
	case "COLD", "TUBELESS", "TUBE", "TYPE", "RADIAL", "STEEL", "BELTED", "M+S", "M/S", "REGROOVABLE", "AND":
		return true
	}
	return false
}

type stampWord struct {
	text   string // in capitals
	column int
}

type stampReader struct {
	words []stampWord
	at    int
	out   Stamps
}

// Parse reads what a sidewall says, in any case: the size first, then
// in any order the load index and speed symbol ("115/112Q"), the load range
// ("E" right after the size, "LR E", "load range E"), the ply rating ("10PR",
// "10 ply rating"), and sentences such as "max load single 3640 lb at 95 psi
// cold", "maximum load dual 1550 kg (3415 lbs) at 660 kPa (95 psi) cold" or
// "max press 300 kPa (44 psi)". A maximum load without single or dual is a
// single one. At most 512 bytes.
//
// Errors: [inflation.ErrSize] for the size, else a [*StampError], also where a stamp
// contradicts itself: two loads more than 1 % apart, two pressures more than
// 10 kPa apart, or one thing said twice. Stamps that contradict each other
// are read, and [Stamps.Doubts] tells.
func Parse(text string) (Stamps, error) {
	if len(text) > maxText {
		return Stamps{}, &StampError{Text: text, Column: maxText + 1, Want: "at most 512 bytes"}
	}
	size, rest, err := inflation.CutSize(text)
	if err != nil {
		return Stamps{}, err
	}
	r := stampReader{out: Stamps{Size: size}, words: stampWords(text, len(text)-len(rest))}
	for r.at < len(r.words) {
		if err := r.next(); err != nil {
			return Stamps{}, err
		}
	}
	return r.out, nil
}

// stampWords splits what follows the size; brackets, semicolons, colons, a
// slash right after the size, and commas and periods at a word's end are only
// separators.
func stampWords(text string, from int) []stampWord {
	var words []stampWord
	column := utf8.RuneCountInString(text[:from]) + 1
	if from < len(text) && text[from] == '/' {
		from, column = from+1, column+1
	}
	start, startColumn := -1, 0
	flush := func(end int) {
		if start >= 0 {
			if w := strings.TrimRight(strings.ToUpper(text[start:end]), ",."); w != "" {
				words = append(words, stampWord{w, startColumn})
			}
		}
		start = -1
	}
	for i, r := range text[from:] {
		if strings.ContainsRune(" \t\r\n()[];:", r) {
			flush(from + i)
		} else if start < 0 {
			start, startColumn = from+i, column
		}
		column++
	}
	flush(len(text))
	return words
}

func (r *stampReader) word(i int) string {
	if i >= len(r.words) {
		return ""
	}
	return r.words[i].text
}

// accept takes the next word if it is one of those.
func (r *stampReader) accept(words ...string) bool {
	for _, w := range words {
		if r.at < len(r.words) && r.words[r.at].text == w {
			r.at++
			return true
		}
	}
	return false
}

func (r *stampReader) fail(i int, want string) error {
	e := &StampError{Want: want}
	if i < len(r.words) {
		e.Text, e.Column = r.words[i].text, r.words[i].column
	} else if n := len(r.words); n > 0 {
		last := r.words[n-1]
		e.Column = last.column + utf8.RuneCountInString(last.text)
	}
	return e
}

func (r *stampReader) next() error {
	start := r.at
	w := r.word(start)
	switch {
	case idle(w):
		r.at++
		return nil
	case r.accept("MAX", "MAXIMUM"):
		return r.maximum(start)
	case r.accept("LOAD"), r.accept("LR"):
		if w == "LOAD" && !r.accept("RANGE") {
			return r.fail(start+1, `"load range E" or "max load single 3640 lb at 95 psi"`)
		}
		return r.loadRange(start, r.word(r.at))
	case r.accept("EXTRA", "STANDARD", "LIGHT"):
		return r.loadRange(start, w+" "+r.word(r.at))
	case isDigit(w[0]):
		return r.figures(start, w)
	case start == 0 || len(w) > 1:
		r.at = start
		return r.loadRange(start, w)
	}
	return r.fail(start, `"load range `+word.Clip(w)+`", or a load index with its symbol such as "115/112Q"`)
}

func isDigit(ch byte) bool { return '0' <= ch && ch <= '9' }

const onlyOnce = "each thing once"

func (r *stampReader) loadRange(start int, text string) error {
	lr, err := inflation.ParseLoadRange(text)
	if err != nil {
		return r.fail(start, `a load index with its symbol such as "115/112Q", a load range such as "load range E", a ply rating such as "10 PR", or "max load single 3640 lb at 95 psi"`)
	}
	if r.out.LoadRange != "" {
		return r.fail(start, onlyOnce)
	}
	r.at++
	r.out.LoadRange = lr
	return nil
}

// figures reads a ply rating or a load index with its speed symbol.
func (r *stampReader) figures(start int, w string) error {
	r.at++
	digits, rest := cutDigits(w)
	if unit := strings.TrimPrefix(rest, "-"); unit == "PR" || unit == "PLY" || unit == "" && r.accept("PR", "PLY") {
		return r.plyRating(start, digits)
	}
	return r.loadIndex(start, digits, rest)
}

// cutDigits takes the digits off the front of a word.
func cutDigits(w string) (digits, rest string) {
	n := 0
	for n < len(w) && isDigit(w[n]) {
		n++
	}
	return w[:n], w[n:]
}

func (r *stampReader) plyRating(start int, digits string) error {
	n, err := strconv.Atoi(digits)
	if err != nil || n < 2 || n > 30 || n%2 != 0 {
		return r.fail(start, "an even ply rating from 2 to 30")
	}
	if r.out.PlyRating != 0 {
		return r.fail(start, onlyOnce)
	}
	r.accept("RATING", "RATED")
	r.out.PlyRating = n
	return nil
}

// loadIndex reads the digits of a load index and what is behind them in its word: the
// dual one and the speed symbol.
func (r *stampReader) loadIndex(start int, digits, rest string) error {
	const want = `load index and speed symbol in one word, such as "125/123L" or "104H"`
	if r.out.SingleIndex.Known() {
		return r.fail(start, onlyOnce)
	}
	single, err := ParseLoadIndex(digits)
	if err != nil {
		return r.fail(start, want)
	}
	var dual LoadIndex
	if after, ok := strings.CutPrefix(rest, "/"); ok {
		digits, rest = cutDigits(after)
		if dual, err = ParseLoadIndex(digits); err != nil {
			return r.fail(start, want)
		}
	}
	var speed SpeedSymbol
	if rest != "" {
		if speed, err = ParseSpeedSymbol(rest); err != nil {
			return r.fail(start, want)
		}
	} else if next := r.word(r.at); len(next) == 1 && 'A' <= next[0] && next[0] <= 'Z' {
		return r.fail(r.at, `a speed symbol right after the load index ("115/112E"), or "load range E"`)
	}
	r.out.SingleIndex, r.out.DualIndex, r.out.Speed = single, dual, speed
	return nil
}

// maximum reads what follows "max".
func (r *stampReader) maximum(start int) error {
	switch {
	case r.accept("LOAD"):
		return r.maximumLoad(start)
	case r.accept("PRESS", "PRESSURE", "INFLATION"):
		r.accept("PRESS", "PRESSURE")
		p, err := r.pressure()
		if err != nil {
			return err
		}
		if r.out.MaxPressure != 0 {
			return r.fail(start, onlyOnce)
		}
		r.out.MaxPressure = p
		return nil
	}
	return r.fail(r.at, `"load" or "press"`)
}

func (r *stampReader) maximumLoad(start int) error {
	into := &r.out.Single
	dual := r.accept("DUAL")
	said := dual || r.accept("SINGLE")
	load, err := r.load()
	if err != nil {
		return err
	}
	if !said {
		if dual = r.accept("DUAL"); !dual {
			r.accept("SINGLE")
		}
	}
	if dual {
		into = &r.out.Dual
	}
	if into.Load != 0 {
		return r.fail(start, onlyOnce)
	}
	into.Load = load
	if r.accept("AT", "@") {
		if into.Pressure, err = r.pressure(); err != nil {
			return err
		}
	}
	return nil
}

// quantity takes a number and its unit, in one word or two.
func (r *stampReader) quantity(units ...string) (string, bool) {
	w := r.word(r.at)
	if w == "" || !isDigit(w[0]) {
		return "", false
	}
	for _, u := range units {
		if strings.HasSuffix(w, u) {
			r.at++
			return w, true
		}
		if next := r.word(r.at + 1); next == u {
			r.at += 2
			return w + " " + u, true
		}
	}
	return "", false
}

func (r *stampReader) load() (weight.Mass, error) {
	var least weight.Mass
	for n := 0; ; n++ {
		start := r.at
		text, ok := r.quantity("LBS", "LB", "KG")
		if !ok {
			if n > 0 {
				return least, nil
			}
			return 0, r.fail(start, `a load such as "3640 lb"`)
		}
		m, err := weight.ParseMass(text)
		if err != nil || m <= 0 || m > maxLoad {
			return 0, r.fail(start, `a load such as "3640 lb"`)
		}
		if n > 0 && max(m-least, least-m) > max(m, least)/100 {
			return 0, r.fail(start, "the same load in both units, within 1 %")
		}
		if n == 0 || m < least {
			least = m
		}
	}
}

func (r *stampReader) pressure() (inflation.Pressure, error) {
	var taken inflation.Pressure
	psi := false
	for n := 0; ; n++ {
		start := r.at
		text, ok := r.quantity("PSI", "KPA", "BAR")
		if !ok {
			if n > 0 {
				return taken, nil
			}
			return 0, r.fail(start, `a pressure such as "95 psi"`)
		}
		p, err := inflation.ParsePressure(text)
		if err != nil || p <= 0 || p > maxPressure {
			return 0, r.fail(start, `a pressure such as "95 psi"`)
		}
		if n > 0 && max(p-taken, taken-p) > 10*inflation.Kilopascal {
			return 0, r.fail(start, "the same pressure in both units, within 10 kPa")
		}
		inPSI := strings.HasSuffix(text, "PSI")
		switch {
		case n == 0 || inPSI && !psi:
			taken = p
		case inPSI == psi:
			taken = min(taken, p)
		}
		psi = psi || inPSI
	}
}

// NormalizeSize gives the form in which sizes are compared, whatever the text:
// that of [inflation.Size.String] if the text starts with a known designation
// and goes on as a sidewall may, else the text in capitals without spaces.
func NormalizeSize(text string) string {
	if s, err := inflation.ParseSize(text); err == nil { // whatever blank stands behind it
		return s.String()
	}
	if s, err := Parse(text); err == nil {
		return s.Size.String()
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ' || r == '\t':
			return -1
		case 'a' <= r && r <= 'z':
			return r - ('a' - 'A')
		}
		return r
	}, text)
}

// FindTable is [inflation.Tables.Find] for a size with more of its sidewall
// behind it, such as "LT225/75R16 115/112Q".
func FindTable(tables inflation.Tables, size string, lr inflation.LoadRange) (*inflation.Table, error) {
	t, err := tables.Find(size, lr)
	if errors.Is(err, inflation.ErrNoTable) {
		if s, bad := Parse(size); bad == nil {
			if t, again := tables.Find(s.Size.String(), lr); !errors.Is(again, inflation.ErrNoTable) {
				return t, again
			}
		}
	}
	return t, err
}

// Class is that of the size, except that a metric size without a prefix whose
// load index has a dual part is light truck: passenger tires have none.
func (s Stamps) Class() inflation.Class {
	if c := s.Size.Class(); c != inflation.Passenger || s.Size.Prefix() != "" || !s.DualIndex.Known() {
		return c
	}
	return inflation.LightTruck
}

// String gives the stamps in one line that [Parse] reads back as the
// same value, such as "LT225/75R16 115/112Q load range E; maximum load single
// 2680 lb at 80 psi cold".
func (s Stamps) String() string {
	var b strings.Builder
	b.WriteString(s.Size.String())
	if s.SingleIndex.Known() {
		b.WriteString(" " + s.SingleIndex.String())
		if s.DualIndex.Known() {
			b.WriteString("/" + s.DualIndex.String())
		}
		if s.Speed != 0 {
			b.WriteString(s.Speed.String())
		}
	}
	if s.LoadRange != "" {
		b.WriteString(" load range " + string(s.LoadRange))
	}
	if s.PlyRating != 0 {
		b.WriteString(" " + strconv.Itoa(s.PlyRating) + " ply rating")
	}
	for _, m := range [...]struct {
		fit weight.Fitment
		inflation.Rating
	}{{weight.Single, s.Single}, {weight.Dual, s.Dual}} {
		if m.Load != 0 {
			b.WriteString("; maximum load " + m.fit.String() + " " + m.Load.String())
			if m.Pressure != 0 {
				b.WriteString(" at " + m.Pressure.String() + " cold")
			}
		}
	}
	if s.MaxPressure != 0 {
		b.WriteString("; maximum pressure " + s.MaxPressure.String())
	}
	return b.String()
}

// Rating is the maximum load for a fitment; a zero one if it was not read.
func (s Stamps) Rating(fit weight.Fitment) inflation.Rating {
	switch fit {
	case weight.Single:
		return s.Single
	case weight.Dual:
		return s.Dual
	}
	return inflation.Rating{}
}

// Lower is the rating to count with. Where a stamped load and a load index
// contradict each other, it is the lower load. A dual load above the single one
// is left out, since it is the figure of a pair or of an axle (49 CFR 571.119
// S6.5(d); trade charts).
func (s Stamps) Lower(fit weight.Fitment) inflation.Rating {
	r := s.Rating(fit)
	index := s.SingleIndex
	if fit == weight.Dual {
		index = s.DualIndex
		if s.Single.Load != 0 && r.Load > s.Single.Load {
			return inflation.Rating{}
		}
	}
	if index.Known() && r.Load != 0 && !index.AgreesWith(r.Load) {
		r.Load = min(r.Load, index.Load())
	}
	return r
}

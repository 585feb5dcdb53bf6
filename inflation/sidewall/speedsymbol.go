package sidewall

import (
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// speedSymbols in their order (ISO 4000-1, as two or more lists quote it).
// H stands after U, not after G.
var speedSymbols = [...]struct {
	symbol string
	kmh    inflation.Speed
}{
	{"A1", 5},
	{"A2", 10},
	{"A3", 15},
	{"A4", 20},
	{"A5", 25},
	{"A6", 30},
	{"A7", 35},
	{"A8", 40},
	{"B", 50},
	{"C", 60},
	{"D", 65},
	{"E", 70},
	{"F", 80},
	{"G", 90},
	{"J", 100},
	{"K", 110},
	{"L", 120},
	{"M", 130},
	{"N", 140},
	{"P", 150},
	{"Q", 160},
	{"R", 170},
	{"S", 180},
	{"T", 190},
	{"U", 200},
	{"H", 210},
	{"V", 240},
	{"W", 270},
	{"Y", 300},
}

// A SpeedSymbol is a speed symbol of ISO 4000-1, A1 to A8 and B to Y. A higher
// one stands for a higher speed. The zero SpeedSymbol is not known.
type SpeedSymbol uint8

// ParseSpeedSymbol reads a symbol such as "L" or "A8" in any case; the error
// matches [inflation.ErrWord].
func ParseSpeedSymbol(text string) (SpeedSymbol, error) {
	for i := range speedSymbols {
		if strings.EqualFold(speedSymbols[i].symbol, text) {
			return SpeedSymbol(i + 1), nil
		}
	}
	return 0, fmt.Errorf("%w %q for a speed symbol: want A1 to A8, or B to Y without I, O and X", inflation.ErrWord, word.Clip(text))
}

// String gives the symbol, or "not known".
func (s SpeedSymbol) String() string {
	if s == 0 || int(s) > len(speedSymbols) {
		return "not known"
	}
	return speedSymbols[s-1].symbol
}

// AppendText appends the symbol, and nothing for one not known. A number without a
// symbol gives [inflation.ErrWord].
func (s SpeedSymbol) AppendText(dst []byte) ([]byte, error) {
	if s == 0 {
		return dst, nil
	}
	if int(s) > len(speedSymbols) {
		return dst, fmt.Errorf("%w %d for a speed symbol", inflation.ErrWord, uint8(s))
	}
	return append(dst, s.String()...), nil
}

// MarshalText writes what [SpeedSymbol.AppendText] appends.
func (s SpeedSymbol) MarshalText() ([]byte, error) { return s.AppendText([]byte{}) }

// UnmarshalText reads what [SpeedSymbol.MarshalText] writes.
func (s *SpeedSymbol) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*s = 0
		return nil
	}
	v, err := ParseSpeedSymbol(string(text))
	if err == nil {
		*s = v
	}
	return err
}

// Speed is the speed that the symbol stands for, exact in km/h; 0 if not
// known. Show it rounded down.
func (s SpeedSymbol) Speed() inflation.Speed {
	if s == 0 || int(s) > len(speedSymbols) {
		return 0
	}
	return speedSymbols[s-1].kmh * inflation.KilometerPerHour
}

// Below reports whether the symbol's speed is below a road speed: the tire is
// too slow for it. A symbol not known is not below anything; see whether it is
// 0 first.
func (s SpeedSymbol) Below(road inflation.Speed) bool { return s != 0 && s.Speed() < road }

// Source is where the symbols' speeds come from.
func (SpeedSymbol) Source() origin.Source {
	return origin.Source{Grade: origin.Quoted, Title: "ISO 4000-1, speed symbol", Locator: "two or more lists agree"}
}

// stampedKilopascals is the kPa figure that sidewalls print beside a psi
// figure, for 20 psi and every 5 psi from there (UN R54 annex 7 appendix 2):
// rounded to 10 kPa, so it is not the psi figure converted.
var stampedKilopascals = [...]uint16{
	140, 170, 210, 240, 280, 310, 340, 380, 410, 450,
	480, 520, 550, 590, 620, 660, 690, 720, 760, 790,
	830, 860, 900, 930, 970, 1000, 1030,
}

// StampedKilopascals gives the kPa figure that a sidewall prints beside a psi
// figure, 20 to 150 psi in steps of 5 (UN R54, annex 7, appendix 2, as
// quoted): 660 kPa beside 95 psi, which is 655 kPa. False for any other
// pressure. Recognize a stamp by it; never set a tire by it.
func StampedKilopascals(p inflation.Pressure) (inflation.Pressure, bool) {
	n := int64(p / (5 * inflation.PSI))
	if p%(5*inflation.PSI) != 0 || n < 4 || n-4 >= int64(len(stampedKilopascals)) {
		return 0, false
	}
	return inflation.Pressure(stampedKilopascals[n-4]) * inflation.Kilopascal, true
}

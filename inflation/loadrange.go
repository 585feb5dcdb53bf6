package inflation

import (
	"fmt"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// A LoadRange is a load range as the sidewall has it: "A" to "N" without I
// and K, or "SL", "LL", "XL", "HL" on passenger tires. Empty is not known.
// Make one with [ParseLoadRange], which fixes the writing.
type LoadRange string

// The letters and their ply ratings, as listed in the trade; K and I are not
// used. The pressures are the highest cold ones of LT-metric tires.
var loadRanges = [...]struct {
	letter LoadRange
	ply    int
	psi    int
	grade  origin.Grade // of the pressure
}{
	{letter: "A", ply: 2},
	{letter: "B", ply: 4},
	{letter: "C", ply: 6, psi: 50, grade: origin.Quoted},
	{letter: "D", ply: 8, psi: 65, grade: origin.Quoted},
	{letter: "E", ply: 10, psi: 80, grade: origin.Quoted},
	{letter: "F", ply: 12, psi: 95, grade: origin.FromMemory},
	{letter: "G", ply: 14},
	{letter: "H", ply: 16},
	{letter: "J", ply: 18},
	{letter: "L", ply: 20},
	{letter: "M", ply: 22},
	{letter: "N", ply: 24},
}

// ParseLoadRange reads "E", "LR E", "LRE", "load range E", "XL", "extra load",
// "SL", "standard load", "LL", "light load" or "HL" in any case. Any other
// text gives an error that matches [ErrWord].
func ParseLoadRange(text string) (LoadRange, error) {
	word := strings.Join(strings.Fields(strings.ToUpper(text)), " ")
	switch word {
	case "SL", "STANDARD LOAD":
		return "SL", nil
	case "XL", "EXTRA LOAD":
		return "XL", nil
	case "LL", "LIGHT LOAD":
		return "LL", nil
	case "HL":
		return "HL", nil
	}
	for _, prefix := range [...]string{"LOAD RANGE ", "LR ", "LR"} {
		if rest, ok := strings.CutPrefix(word, prefix); ok {
			word = rest
			break
		}
	}
	for _, r := range loadRanges {
		if string(r.letter) == word {
			return r.letter, nil
		}
	}
	return "", fmt.Errorf("%w %q for a load range: want a letter from A to N without I and K, or SL, XL, LL, HL", ErrWord, strictyaml.Clip(text))
}

// PlyRating gives the ply rating that goes with a letter, or false for any
// other load range. It is a rating of strength, not a count of plies.
func (r LoadRange) PlyRating() (int, bool) {
	for _, row := range loadRanges {
		if row.letter == r {
			return row.ply, true
		}
	}
	return 0, false
}

// LTMetricMaximum gives the highest cold pressure of an LT-metric tire of
// this load range with its source, or false where no figure is known. Use it
// to doubt a stamp, never in place of one: truck sizes of one letter differ.
func (r LoadRange) LTMetricMaximum() (Pressure, origin.Source, bool) {
	for _, row := range loadRanges {
		if row.letter == r && row.psi > 0 {
			return Pressure(row.psi) * PSI, origin.Source{Grade: row.grade, Title: "LT-metric load ranges"}, true
		}
	}
	return 0, origin.Source{}, false
}

package inflation

import (
	"fmt"
	"strings"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// A LoadRange is a load range as the sidewall has it: "A" to "N" without I
// and K, or "SL", "LL", "XL", "HL" on passenger tires. Empty is not known.
// Make one with [ParseLoadRange], which fixes the writing.
type LoadRange string

// The letters and their ply ratings, as listed in the trade; K and I are not
// used. The pressures are the highest cold ones of LT-metric tires.
var loadRanges = [...]loadRangeRow{
	'A' - 'A': {ply: 2},
	'B' - 'A': {ply: 4},
	'C' - 'A': {ply: 6, psi: 50, grade: origin.Quoted},
	'D' - 'A': {ply: 8, psi: 65, grade: origin.Quoted},
	'E' - 'A': {ply: 10, psi: 80, grade: origin.Quoted},
	'F' - 'A': {ply: 12, psi: 95, grade: origin.FromMemory},
	'G' - 'A': {ply: 14},
	'H' - 'A': {ply: 16},
	'J' - 'A': {ply: 18},
	'L' - 'A': {ply: 20},
	'M' - 'A': {ply: 22},
	'N' - 'A': {ply: 24},
}

type loadRangeRow struct {
	ply   int // 0 for a letter not used
	psi   int
	grade origin.Grade // of the pressure
}

// row is what is known of a letter; a zero row for any other load range.
func (r LoadRange) row() loadRangeRow {
	if len(r) == 1 && r[0] >= 'A' && int(r[0]-'A') < len(loadRanges) {
		return loadRanges[r[0]-'A']
	}
	return loadRangeRow{}
}

// ParseLoadRange reads "E", "LR E", "LRE", "load range E", "XL", "extra load",
// "SL", "standard load", "LL", "light load" or "HL" in any case. Any other
// text gives an error that matches [ErrWord].
func ParseLoadRange(text string) (LoadRange, error) {
	if lr := LoadRange(text); lr.row().ply > 0 {
		return lr, nil
	}
	said := strings.Join(strings.Fields(strings.ToUpper(text)), " ")
	switch said {
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
		if rest, ok := strings.CutPrefix(said, prefix); ok {
			said = rest
			break
		}
	}
	if lr := LoadRange(said); lr.row().ply > 0 {
		return lr, nil
	}
	return "", fmt.Errorf("%w %q for a load range: want a letter from A to N without I and K, or SL, XL, LL, HL", ErrWord, word.Clip(text))
}

// PlyRating gives the ply rating that goes with a letter, or false for any
// other load range. It is a rating of strength, not a count of plies.
func (r LoadRange) PlyRating() (int, bool) {
	ply := r.row().ply
	return ply, ply > 0
}

// Stronger gives the stronger of two load ranges by their ply ratings, the first where
// they are alike. One without a ply rating counts as weaker than any that has one.
func (r LoadRange) Stronger(other LoadRange) LoadRange {
	if other.row().ply > r.row().ply {
		return other
	}
	return r
}

// LTMetricMaximum gives the highest cold pressure of an LT-metric tire of
// this load range with its source, or false where no figure is known. Use it
// to doubt a stamp, never in place of one: truck sizes of one letter differ.
func (r LoadRange) LTMetricMaximum() (Pressure, origin.Source, bool) {
	row := r.row()
	if row.psi == 0 {
		return 0, origin.Source{}, false
	}
	return Pressure(row.psi) * PSI, origin.Source{Grade: row.grade, Title: "LT-metric load ranges"}, true
}

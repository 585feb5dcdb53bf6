package cargo

import (
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Fluid is something tanks hold, and what it weighs.
type Fluid struct {
	// Name is how it is called.
	Name string `json:"name"`
	// PerGallon is the mass of one US gallon.
	PerGallon weight.Mass `json:"per_gallon"`
	// Source is where the figure comes from.
	Source origin.Source `json:"source"`
}

// Water is water for planning: 8.35 lb/US gal (common practice; rounded up
// from 1 kg/L). Labels have factors of their own: see [LabelWater].
func Water() Fluid {
	return Fluid{"water", 835 * weight.Pound / 100, origin.Source{Grade: origin.CommonPractice, Locator: "water for planning"}}
}

// Diesel is about 7.1 lb/US gal (from memory).
func Diesel() Fluid {
	return Fluid{"diesel", 71 * weight.Pound / 10, origin.Source{Grade: origin.FromMemory, Locator: "diesel"}}
}

// Gasoline is about 6.1 lb/US gal (from memory).
func Gasoline() Fluid {
	return Fluid{"gasoline", 61 * weight.Pound / 10, origin.Source{Grade: origin.FromMemory, Locator: "gasoline"}}
}

// LPGas is 4.2 lb/US gal, the factor of the cargo label of 2000 (as quoted).
func LPGas() Fluid {
	return Fluid{"LP gas", 42 * weight.Pound / 10, origin.Source{Grade: origin.Quoted, Title: "cargo carrying capacity label of 2000", Locator: "LP gas 4.2 lb/gal"}}
}

// Mass is what a volume of f weighs, rounded up to the grid of the system.
// A negative volume is what is taken out, and rounds the other way, so that
// never more is taken out than there was. What does not fit gives an error
// that matches [origin.ErrRange].
func (f Fluid) Mass(v weight.Volume, s weight.System) (weight.Mass, error) {
	return massOnGrid(int64(v), int64(f.PerGallon), int64(weight.USGallon), s.MassGrid())
}

// massOnGrid is v*num/den rounded up to the grid, with one rounding only.
func massOnGrid(v, num, den int64, grid weight.Mass) (weight.Mass, error) {
	m, err := weight.Mass(v).MulDiv(num, den, weight.Ceiling)
	if err != nil {
		return 0, outOfRange("volume")
	}
	r := m.Round(grid, weight.Ceiling)
	if r%grid != 0 { // Round leaves what would not fit
		return 0, outOfRange("volume")
	}
	return r, nil
}

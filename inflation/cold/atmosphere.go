package cold

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// The standard atmosphere's pressure in Pa at geometric altitudes from
// -1,000 ft in steps of 500 ft, computed from the formula of the US Standard
// Atmosphere 1976 for its lowest layer (sea level 101,325 Pa and 288.15 K,
// lapse 6.5 K/km of geopotential altitude, earth radius 6,356,766 m), rounded
// to nearest. A standard, not today's weather.
const (
	lowestAltitude  = -1000 * weight.Foot
	highestAltitude = 15_000 * weight.Foot
	altitudeStep    = 500 * weight.Foot
)

// maxPressure keeps sums and products in 64 bits; no wheel holds a tenth.
const maxPressure = 1000 * inflation.PSI

var atmospherePascals = [...]int64{
	105041, 103169, 101325, 99508, 97717, 95952, 94214, 92501,
	90813, 89151, 87513, 85900, 84311, 82746, 81205, 79687,
	78192, 76720, 75271, 73844, 72439, 71056, 69695, 68354,
	67035, 65736, 64458, 63201, 61963, 60745, 59546, 58367,
	57207,
}

// AtmosphereSource is where the pressures of the standard atmosphere come from.
func AtmosphereSource() origin.Source {
	return origin.Source{Grade: origin.Computed, Title: "US Standard Atmosphere 1976", Locator: "formula of the lowest layer, -1,000 to 15,000 ft"}
}

// StandardAtmosphere gives the standard atmosphere's absolute pressure at a
// geometric altitude from -1,000 to 15,000 ft, between the table's rows along
// the straight line, rounded to 1 Pa; it is right to within 5 Pa. The error
// outside matches [inflation.ErrInput].
func StandardAtmosphere(altitude weight.Length) (inflation.Pressure, error) {
	if altitude < lowestAltitude || altitude > highestAltitude {
		return 0, fmt.Errorf("altitude %s: want -1,000 to 15,000 ft: %w", altitude, inflation.ErrInput)
	}
	above := altitude - lowestAltitude
	i, rest := above/altitudeStep, above%altitudeStep
	pa := atmospherePascals[i]
	if rest != 0 {
		drop, _ := quantity.MulDiv(pa-atmospherePascals[i+1], int64(rest), int64(altitudeStep), quantity.Nearest)
		pa -= drop
	}
	return inflation.Pressure(pa) * inflation.Pascal, nil
}

// atmosphereDoubt is how far StandardAtmosphere may be off: 3.4 Pa for the
// straight line over a curve, 0.5 for each of the two roundings.
const atmosphereDoubt = 5 * inflation.Pascal

// An Air is the air around a standing tire: its temperature, which must be
// given, and the altitude.
type Air struct {
	// Temperature is the air's; a tire that stands in it for hours takes it on.
	Temperature inflation.Temperature `json:"temperature"`
	// Altitude is above sea level; 0 is at it.
	Altitude weight.Length `json:"altitude,omitzero"`
}

// WillRead gives what a gauge will read on the same cold tire in other air,
// from the gas law on absolute pressure, rounded DOWN to 0.01 psi or 10 Pa:
// (gauge + atmosphere) / absolute temperature is constant. Nothing leaks, and
// the tire has the air's temperature both times: parked three hours, in the
// shade. The atmosphere is the standard one. A reading below zero is given
// as 0. Errors match [inflation.ErrInput].
func WillRead(read inflation.Pressure, from, to Air, system weight.System) (inflation.Pressure, error) {
	p, err := gasLaw(read, from, to, weight.Floor)
	if err != nil {
		return 0, err
	}
	return max(p.Round(inflation.PressureGrid(system), weight.Floor), 0), nil
}

// SetTo gives what a cold tire has to read now so that it reads the target in
// other air, rounded UP to 0.01 psi or 10 Pa; the rest is as for [WillRead].
// Check it against the caps of tire and wheel before setting it.
func SetTo(target inflation.Pressure, now, then Air, system weight.System) (inflation.Pressure, error) {
	p, err := gasLaw(target, then, now, weight.Ceiling)
	if err != nil {
		return 0, err
	}
	return max(p.Round(inflation.PressureGrid(system), weight.Ceiling), 0), nil
}

func gasLaw(p inflation.Pressure, from, to Air, r weight.Rounding) (inflation.Pressure, error) {
	if p < 0 || p > maxPressure {
		return 0, fmt.Errorf("pressure %s: want 0 to %s: %w", p, maxPressure, inflation.ErrInput)
	}
	const hottest = 1800 * 1000 // 1,000 K
	if from.Temperature <= 0 || to.Temperature <= 0 || from.Temperature > hottest || to.Temperature > hottest {
		return 0, fmt.Errorf("temperatures %s and %s: want both above absolute zero and below 1,000 K: %w", from.Temperature, to.Temperature, inflation.ErrInput)
	}
	a, err := StandardAtmosphere(from.Altitude)
	if err != nil {
		return 0, err
	}
	b, err := StandardAtmosphere(to.Altitude)
	if err != nil {
		return 0, err
	}
	law := func(a, b inflation.Pressure) inflation.Pressure {
		v, ok := quantity.MulDiv(int64(p+a), int64(to.Temperature), int64(from.Temperature), quantity.Rounding(r))
		if !ok {
			return maxPressure
		}
		return inflation.Pressure(v) - b
	}
	// The atmosphere's own doubt goes to the side that the rounding goes to.
	// At one altitude it is one and the same atmosphere.
	d := atmosphereDoubt
	if from.Altitude == to.Altitude {
		low, high := law(a-d, a-d), law(a+d, a+d)
		if r == weight.Floor {
			return min(low, high), nil
		}
		return max(low, high), nil
	}
	if r == weight.Floor {
		return law(a-d, b+d), nil
	}
	return law(a+d, b-d), nil
}

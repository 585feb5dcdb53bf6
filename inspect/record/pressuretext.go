package record

import (
	"bytes"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// PressureText writes a pressure in the unit that a visit asks for, as
// [Visit.PressureUnit] has it: in psi to a tenth, in kPa whole, in bar to a
// hundredth, without needless zeros: "110 psi", "759 kPa", "7.59 bar". It is rounded
// in the direction given. Any other unit stands for that of the system, psi or kPa.
func PressureText(p inflation.Pressure, unit string, system weight.System, r weight.Rounding) string {
	step, places, name := printedIn(unit, system)
	out := p.AppendIn(make([]byte, 0, 16), step, places, r)
	if places > 0 {
		out = bytes.TrimSuffix(bytes.TrimRight(out, "0"), []byte("."))
	}
	return string(append(out, name...))
}

func printedIn(unit string, system weight.System) (step inflation.Pressure, places int, name string) {
	switch {
	case unit == "bar":
		return inflation.Bar, 2, " bar"
	case unit == "kPa", unit != "psi" && system == weight.Metric:
		return inflation.Kilopascal, 0, " kPa"
	}
	return inflation.PSI, 1, " psi"
}

// PressureStep is the step of a gauge in the unit that a visit's pressures are printed
// in: 1 psi, 10 kPa or 0.1 bar.
func PressureStep(unit string, system weight.System) inflation.Pressure {
	switch step, _, _ := printedIn(unit, system); step {
	case inflation.Kilopascal:
		return 10 * inflation.Kilopascal
	case inflation.Bar:
		return inflation.Bar / 10
	}
	return inflation.PSI
}

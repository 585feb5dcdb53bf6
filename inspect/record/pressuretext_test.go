package record_test

import (
	"math/rand/v2"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// TestPressureText: a pressure in the unit that a visit asks for; 1 psi is 6,894.757 Pa
// (NIST SP 811), so 110 psi are 758.423 kPa.
func TestPressureText(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		p        inflation.Pressure
		unit     string
		system   weight.System
		up, down string
	}{
		{110 * inflation.PSI, "", weight.US, "110 psi", "110 psi"},
		{110 * inflation.PSI, "", weight.Metric, "759 kPa", "758 kPa"},
		{110 * inflation.PSI, "bar", weight.US, "7.59 bar", "7.58 bar"},
		{110 * inflation.PSI, "psi", weight.Metric, "110 psi", "110 psi"},
		{110 * inflation.PSI, "kPa", weight.US, "759 kPa", "758 kPa"},
		{700 * inflation.Kilopascal, "bar", weight.Metric, "7 bar", "7 bar"},
		{760 * inflation.Kilopascal, "bar", weight.Metric, "7.6 bar", "7.6 bar"},
		{760 * inflation.Kilopascal, "psi", weight.Metric, "110.3 psi", "110.2 psi"},
		{0, "bar", weight.US, "0 bar", "0 bar"},
		{100 * inflation.Kilopascal, "kPa", weight.US, "100 kPa", "100 kPa"},
		{110 * inflation.PSI, "atm", weight.Metric, "759 kPa", "758 kPa"},
	} {
		if up, down := record.PressureText(x.p, x.unit, x.system, weight.Ceiling), record.PressureText(x.p, x.unit, x.system, weight.Floor); up != x.up || down != x.down {
			t.Errorf("%s in %q, %s: %s and %s, want %s and %s", x.p, x.unit, x.system, up, down, x.up, x.down)
		}
	}
}

// TestPressureTextIsSafe: in whatever unit it is printed, what is rounded up is never
// less and what is rounded down never more than the pressure, by no more than 0.1 psi,
// and a step of a gauge is printed as it is.
func TestPressureTextIsSafe(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(15, 1))
	for range 2000 {
		p := inflation.Pressure(random.Int64N(int64(1000 * inflation.PSI)))
		for _, unit := range [...]string{"psi", "kPa", "bar"} {
			up, err1 := inflation.ParsePressure(record.PressureText(p, unit, weight.US, weight.Ceiling))
			down, err2 := inflation.ParsePressure(record.PressureText(p, unit, weight.US, weight.Floor))
			if err1 != nil || err2 != nil || up < p || down > p || up-down > inflation.Kilopascal {
				t.Fatalf("%s in %s: %s and %s, %v, %v", p, unit, up, down, err1, err2)
			}
			step := record.PressureStep(unit, weight.US)
			whole := p.Round(step, weight.Floor)
			if at, err := inflation.ParsePressure(record.PressureText(whole, unit, weight.US, weight.Ceiling)); err != nil || at != whole {
				t.Fatalf("%s in %s: %s, %v", whole, unit, at, err)
			}
		}
	}
}

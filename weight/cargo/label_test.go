package cargo_test

import (
	"errors"
	"testing"

	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestLabelFactors(t *testing.T) {
	gal := weight.USGallon
	// Worked on the label of 2000 (as quoted): 10 gal heater + 40 gal tank =
	// 50 x 8.3 = 415 lb; 30 gal LP tank = 24 x 4.2 = 100.8 lb.
	if got, err := cargo.LabelWater(50*gal, weight.US); err != nil || got != 415*lb {
		t.Errorf("50 gal: %s, %v", got, err)
	}
	if got, err := cargo.LabelLPGas(30*gal, weight.US); err != nil || got != 1008*lb/10 {
		t.Errorf("30 gal of LP: %s, %v", got, err)
	}
	// 1 kg/L on a metric label (72 FR 68442, as quoted).
	if got, err := cargo.LabelWater(150*weight.Liter, weight.Metric); err != nil || got != 150*weight.Kilogram {
		t.Errorf("150 L: %s, %v", got, err)
	}
	// The two differ by 0.54 % (computed), so neither is turned into the other.
	us, _ := cargo.LabelWater(1000*gal, weight.US)
	metric, _ := cargo.LabelWater(1000*gal, weight.Metric)
	if d := (metric - us) * 10_000 / us; d != 54 {
		t.Errorf("the factors differ by %d hundredths of a percent, want 54", d)
	}
	if _, err := cargo.LabelWater(1<<63-1, weight.Metric); !errors.Is(err, origin.ErrRange) {
		t.Errorf("an ocean: %v", err)
	}
}

func TestFluids(t *testing.T) {
	gal := weight.USGallon
	for _, c := range []struct {
		fluid cargo.Fluid
		gal   weight.Volume
		want  weight.Mass // hundredths of a pound
		grade origin.Grade
	}{
		// Plan with 8.35 (common practice); diesel 7.1, gasoline 6.1 (from
		// memory); LP gas 4.2 (as quoted).
		{cargo.Water(), 100, 83_500, origin.CommonPractice},
		{cargo.Diesel(), 100, 71_000, origin.FromMemory},
		{cargo.Gasoline(), 75, 45_750, origin.FromMemory},
		{cargo.LPGas(), 24, 10_080, origin.Quoted},
		{cargo.Water(), -10, -8_350, origin.CommonPractice},
	} {
		if got, err := c.fluid.Mass(c.gal*gal, weight.US); err != nil || got != c.want*lb/100 || c.fluid.Source.Grade != c.grade || c.fluid.Source.Check() != nil {
			t.Errorf("%d gal of %s: %s, %v, %s", c.gal, c.fluid.Name, got, err, c.fluid.Source)
		}
	}
	// Rounded up going in, and toward nothing coming out.
	in, _ := cargo.Water().Mass(weight.Milliliter, weight.US)
	out, _ := cargo.Water().Mass(-weight.Milliliter, weight.US)
	if in != lb/100 || out != 0 {
		t.Errorf("a milliliter weighs %s in and %s out", in, out)
	}
	if _, err := cargo.Water().Mass(1<<63-1, weight.Metric); !errors.Is(err, origin.ErrRange) {
		t.Errorf("an ocean: %v", err)
	}
}

// An invented coach for every label.
func label(kind cargo.LabelKind) cargo.Label {
	return cargo.Label{
		Kind: kind, GVWR: 26_000 * lb, UVW: 21_000 * lb, Water: 50 * weight.USGallon, LPTank: 30 * weight.USGallon, SleepingPlaces: 4, Seats: 4,
		Source: origin.Source{Grade: origin.Invented, Title: "an invented label"},
	}
}

func TestLabelCapacity(t *testing.T) {
	// GVWR - UVW - water - LP gas - 4 x 154 lb = 26,000 - 21,000 - 415 - 100.8
	// - 616 (trade label of 2000; computed).
	l := label(cargo.CCC)
	want := 38_682 * lb / 10
	if got, err := l.CapacityFromParts(); err != nil || got != want {
		t.Errorf("CCC from parts: %s, %v", got, err)
	}
	if got, err := l.Capacity(); err != nil || got != want {
		t.Errorf("CCC not stated: %s, %v", got, err)
	}
	l.Stated = 3_800 * lb
	if got, _ := l.Capacity(); got != 3_800*lb {
		t.Errorf("CCC stated: %s", got)
	}
	// An NCC is what GVWR leaves over UVW (from memory).
	if got, err := label(cargo.NCC).Capacity(); err != nil || got != 5_000*lb {
		t.Errorf("NCC: %s, %v", got, err)
	}
	// An OCCC is read, never computed (72 FR 68442).
	for _, bad := range []cargo.Label{label(cargo.OCCC), label(0), {Kind: cargo.NCC}, {Kind: cargo.CCC}} {
		if _, err := bad.Capacity(); !errors.Is(err, cargo.ErrLabel) {
			t.Errorf("%s: %v", bad.Kind, err)
		}
	}
	for name, change := range map[string]func(*cargo.Label){
		"kind":   func(l *cargo.Label) { l.Kind = cargo.OCCC },
		"water":  func(l *cargo.Label) { l.Water = -1 },
		"gas":    func(l *cargo.Label) { l.LPTank = -1 },
		"people": func(l *cargo.Label) { l.SleepingPlaces = -1 },
		"crowd":  func(l *cargo.Label) { l.SleepingPlaces = 1_000_000 },
	} {
		l := label(cargo.CCC)
		change(&l)
		if _, err := l.CapacityFromParts(); !errors.Is(err, cargo.ErrLabel) {
			t.Errorf("%s: %v", name, err)
		}
	}
	l = label(cargo.CCC)
	l.Water, l.System = 1<<63-1, weight.Metric
	if _, err := l.CapacityFromParts(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("an ocean: %v", err)
	}
}

func TestLabelCompare(t *testing.T) {
	weighed := weight.Estimate{Load: 25_000 * lb, PlusMinus: 60 * lb, State: weight.Determined}
	aboard := cargo.Aboard{People: 500 * lb, Water: 200 * lb, LPGas: 80 * lb}
	occc := label(cargo.OCCC)
	occc.Stated = 4_200 * lb
	bare, less, own := occc, occc, occc
	bare.UVW, own.GVWR = 0, 0
	less.Stated, less.UVW = 5_800*lb, 20_500*lb // 26,000 - 5,800 is less than the UVW
	metric := occc
	metric.System, metric.Water = weight.Metric, 200*weight.Liter
	gas, err := cargo.LabelLPGas(metric.LPTank, weight.Metric)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		label   cargo.Label
		loaded  weight.Mass
		verdict string
	}{
		// NCC: all that is not UVW. CCC: 25,000 - 21,000 - 200 - 80 - 500.
		// OCCC: 25,000 - the smaller of 21,000 and 26,000 - 4,200, plus the LP gas that
		// the full tank lacks, 100.8 - 80; water is cargo (49 CFR 571.120 S10.4.2).
		{"NCC", label(cargo.NCC), 4_000 * lb, "kept"},
		{"CCC", label(cargo.CCC), 3_220 * lb, "kept"},
		{"OCCC", occc, 4_000*lb + 208*lb/10, "kept"},
		{"OCCC without UVW", bare, 3_200*lb + 208*lb/10, "kept"},
		{"OCCC of a modified coach", less, 4_800*lb + 208*lb/10, "kept"},
		{"OCCC without GVWR", own, 4_000*lb + 208*lb/10, "kept"},
		{"OCCC metric", metric, 4_000*lb + gas - 80*lb, "kept"},
	} {
		m, err := c.label.Compare(weighed, aboard)
		if err != nil || m.Estimate.Load != c.loaded || m.Estimate.PlusMinus != 60*lb || verdict(m) != c.verdict || m.Limit.Name != c.label.Kind.String() {
			t.Errorf("%s: %+v, %v", c.name, m, err)
		}
	}
	heavy := weighed
	heavy.Load = 26_500 * lb
	if m, _ := occc.Compare(heavy, aboard); !m.Over() {
		t.Errorf("500 lb over GVWR: %s", verdict(m))
	}
	if m, err := occc.Compare(weight.Estimate{}, aboard); err != nil || m.Known() || m.Estimate.Load != 0 {
		t.Errorf("not weighed: %+v, %v", m, err)
	}
	// More LP gas than the label's tank takes nothing off, nor does water.
	full := cargo.Aboard{Water: 1_000 * lb, LPGas: 500 * lb}
	if m, _ := occc.Compare(weighed, full); m.Estimate.Load != 4_000*lb {
		t.Errorf("full tanks: %s", m.Estimate.Load)
	}
	for name, bad := range map[string]func() (cargo.Margin, error){
		"no capacity": func() (cargo.Margin, error) { return label(cargo.OCCC).Compare(weighed, aboard) },
		"negative":    func() (cargo.Margin, error) { return occc.Compare(weighed, cargo.Aboard{People: -1}) },
		"no UVW": func() (cargo.Margin, error) {
			return cargo.Label{Kind: cargo.CCC, Stated: lb}.Compare(weighed, aboard)
		},
		"no GVWR, no UVW": func() (cargo.Margin, error) {
			return cargo.Label{Kind: cargo.OCCC, Stated: lb}.Compare(weighed, aboard)
		},
		"no kind": func() (cargo.Margin, error) { return cargo.Label{Stated: lb}.Compare(weighed, aboard) },
	} {
		if _, err := bad(); !errors.Is(err, cargo.ErrLabel) {
			t.Errorf("%s: %v", name, err)
		}
	}
	weighed.Load = -1 << 63
	if _, err := label(cargo.NCC).Compare(weighed, aboard); !errors.Is(err, origin.ErrRange) {
		t.Errorf("past the range: %v", err)
	}
}

func TestRatingRules(t *testing.T) {
	// The lesser of 1.5 % of GVWR or 100 lb, so 100 lb above 6,667 lb (72 FR 68442).
	for gvwr, want := range map[weight.Mass]weight.Mass{6_000: 90, 6_667: 100, 26_000: 100} {
		if got, err := cargo.AddedWeightLimit(gvwr * lb); err != nil || got != want*lb {
			t.Errorf("GVWR %d lb: %s, %v", gvwr, got, err)
		}
	}
	if got, _ := cargo.AddedWeightLimit(6_666 * lb); got >= 100*lb {
		t.Errorf("6,666 lb: %s", got)
	}
	// GVWR at least UVW + cargo + 150 lb a seat (36 FR 14583 in aiam0613).
	if got, err := cargo.LeastGVWR(21_000*lb, 3_000*lb, 4); err != nil || got != 24_600*lb {
		t.Errorf("least GVWR: %s, %v", got, err)
	}
	if _, err := cargo.LeastGVWR(1, 1, -1); !errors.Is(err, cargo.ErrLabel) {
		t.Errorf("fewer than no seats: %v", err)
	}
	// The GAWRs add up to at least the GVWR (571.3; nht74-3.36).
	for _, c := range []struct{ gvwr, want weight.Mass }{{26_000, 0}, {27_000, 0}, {27_001, 1}} {
		if got, err := cargo.GAWRShortfall(c.gvwr*lb, 9_000*lb, 18_000*lb); err != nil || got != c.want*lb {
			t.Errorf("GVWR %d lb: %s, %v", c.gvwr, got, err)
		}
	}
	if _, err := cargo.GAWRShortfall(1, 1<<62, 1<<62); !errors.Is(err, origin.ErrRange) {
		t.Errorf("past the range: %v", err)
	}
}

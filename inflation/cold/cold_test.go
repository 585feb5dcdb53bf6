package cold_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/weight"
)

const (
	psi = inflation.PSI
	kPa = inflation.Kilopascal
	lb  = weight.Pound
	kg  = weight.Kilogram
)

func fahrenheit(t testing.TB, text string) cold.Air {
	t.Helper()
	temp, err := inflation.ParseTemperature(text)
	if err != nil {
		t.Fatal(err)
	}
	return cold.Air{Temperature: temp}
}

// US Standard Atmosphere 1976 (geometric altitudes).
func TestStandardAtmosphere(t *testing.T) {
	for _, tt := range []struct {
		feet weight.Length
		psi  string
	}{{0, "14.696"}, {1000, "14.173"}, {5000, "12.228"}, {10_000, "10.108"}} {
		p, err := cold.StandardAtmosphere(tt.feet * weight.Foot)
		if err != nil || p.In(psi, 3, weight.Nearest).StringFixed(3) != tt.psi {
			t.Errorf("%d ft: %s psi, %v; want %s", tt.feet, p.In(psi, 3, weight.Nearest), err, tt.psi)
		}
	}
	// 101,325 Pa at sea level, exactly (NIST SP 811).
	if p, _ := cold.StandardAtmosphere(0); p != 101_325*inflation.Pascal {
		t.Errorf("sea level: %s", p)
	}
	// The standard's formula in floats, at every 100 ft and odd places.
	for ft := -1000.0; ft <= 15_000; ft += 77 {
		alt := weight.Length(ft * float64(weight.Foot))
		p, err := cold.StandardAtmosphere(alt)
		if want := standardPascals(ft * 0.3048); err != nil || math.Abs(float64(p/inflation.Pascal)-want) > 4.5 {
			t.Errorf("%.0f ft: %s, %v; the formula gives %.1f Pa", ft, p, err, want)
		}
	}
	for _, alt := range []weight.Length{-1001 * weight.Foot, 15_001 * weight.Foot} {
		if _, err := cold.StandardAtmosphere(alt); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%s: %v", alt, err)
		}
	}
	if err := cold.AtmosphereSource().Check(); err != nil {
		t.Error(err)
	}
}

func standardPascals(z float64) float64 {
	h := 6356766 * z / (6356766 + z)
	return 101325 * math.Pow((288.15-0.0065*h)/288.15, 9.80665*0.0289644/(8.31432*0.0065))
}

// TestSlopes: at 70 degF a 10 degF change is 0.94 psi at 35, 1.79 at 80, 2.35
// at 110; "1 psi per 10 degF" holds only near 38 psi
// (computed).
func TestSlopes(t *testing.T) {
	at, warmer := fahrenheit(t, "70 F"), fahrenheit(t, "80 F")
	for _, tt := range []struct{ psi, hundredths inflation.Pressure }{{35, 94}, {80, 179}, {110, 235}, {38, 100}} {
		low, err1 := cold.WillRead(tt.psi*psi, at, warmer, weight.US)
		high, err2 := cold.SetTo(tt.psi*psi, warmer, at, weight.US)
		want := tt.psi*psi + tt.hundredths*psi/100
		if err1 != nil || err2 != nil || low > want || high < want || high-low > psi/100 {
			t.Errorf("%d psi: %s to %s; want %s", tt.psi, low, high, want)
		}
	}
}

func TestWillReadAndSetTo(t *testing.T) {
	f95, f60 := fahrenheit(t, "95 F"), fahrenheit(t, "60 F")
	// (102 + 14.696) x 519.67/554.67 - 14.696 = 94.6364
	if p, err := cold.WillRead(102*psi, f95, f60, weight.US); err != nil || p != 9463*psi/100 {
		t.Errorf("102 psi at 95 F: %s, %v", p, err)
	}
	// (95 + 14.696) x 554.67/519.67 - 14.696 = 102.388, rounded up
	if p, err := cold.SetTo(95*psi, f95, f60, weight.US); err != nil || p != 10239*psi/100 {
		t.Errorf("to have 95 psi at 60 F: %s, %v", p, err)
	}
	// Metric lands on 10 Pa.
	if p, err := cold.WillRead(650*kPa, f95, f60, weight.Metric); err != nil || p%(10*inflation.Pascal) != 0 {
		t.Errorf("metric: %s, %v", p, err)
	}
	// Up a mountain at one temperature the gauge gains what the air loses:
	// 14.696 - 12.228 = 2.468, less the doubt of the table.
	up := f60
	up.Altitude = 5000 * weight.Foot
	if p, err := cold.WillRead(80*psi, f60, up, weight.US); err != nil || p != 8246*psi/100 {
		t.Errorf("at 5,000 ft: %s, %v", p, err)
	}
	if p, err := cold.SetTo(80*psi, f60, up, weight.US); err != nil || p != 7754*psi/100 {
		t.Errorf("to have 80 psi at 5,000 ft: %s, %v", p, err)
	}
	// The same air changes nothing at all.
	for _, air := range []cold.Air{f60, up} {
		down, err1 := cold.WillRead(95*psi, air, air, weight.US)
		upward, err2 := cold.SetTo(95*psi, air, air, weight.US)
		if down != 95*psi || upward != 95*psi || err1 != nil || err2 != nil {
			t.Errorf("same air: %s %s %v %v", down, upward, err1, err2)
		}
	}
	// Below zero is flat.
	if p, err := cold.WillRead(1*psi, f95, fahrenheit(t, "-40 F"), weight.US); err != nil || p != 0 {
		t.Errorf("nearly flat: %s, %v", p, err)
	}
	if p, err := cold.SetTo(0, fahrenheit(t, "-40 F"), f95, weight.US); err != nil || p != 0 {
		t.Errorf("to be flat: %s, %v", p, err)
	}
	high := f60
	high.Altitude = 20_000 * weight.Foot
	for _, tt := range []struct {
		p        inflation.Pressure
		from, to cold.Air
	}{{-1, f60, f95}, {1001 * psi, f60, f95}, {psi, cold.Air{}, f95}, {psi, f60, cold.Air{}}, {psi, high, f60}, {psi, f60, high}, {psi, f60, cold.Air{Temperature: 1 << 40}}} {
		if p, err := cold.WillRead(tt.p, tt.from, tt.to, weight.US); !errors.Is(err, inflation.ErrInput) || p != 0 {
			t.Errorf("%v: %s, %v", tt, p, err)
		}
		if p, err := cold.SetTo(tt.p, tt.from, tt.to, weight.US); !errors.Is(err, inflation.ErrInput) || p != 0 {
			t.Errorf("set %v: %s, %v", tt, p, err)
		}
	}
}

// TestGasLawIsSafe: "will read" is never above, "set to" never below what the
// law gives with the standard's own formula, and by no more than the doubt.
func TestGasLawIsSafe(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 4))
	for range 20_000 {
		p := inflation.Pressure(r.Int64N(int64(150*psi))).Round(psi/100, weight.Nearest)
		air := func() cold.Air {
			return cold.Air{Temperature: inflation.Temperature(400_000 + r.Int64N(200_000)), Altitude: weight.Length(r.IntN(10_000)) * weight.Foot}
		}
		from, to := air(), air()
		if r.IntN(2) == 0 {
			to.Altitude = from.Altitude
		}
		law := func(p inflation.Pressure, from, to cold.Air) float64 {
			a, b := standardPascals(float64(from.Altitude)/float64(weight.Meter)), standardPascals(float64(to.Altitude)/float64(weight.Meter))
			return ((float64(p)/float64(inflation.Pascal)+a)*float64(to.Temperature)/float64(from.Temperature) - b) / float64(psi) * float64(inflation.Pascal)
		}
		down, err := cold.WillRead(p, from, to, weight.US)
		if want := max(law(p, from, to), 0); err != nil || float64(down)/float64(psi) > want+1e-9 || float64(down)/float64(psi) < want-0.015 {
			t.Fatalf("%s from %v to %v will read %s, %v; the law gives %.4f", p, from, to, down, err, want)
		}
		up, err := cold.SetTo(p, from, to, weight.US)
		if want := max(law(p, to, from), 0); err != nil || float64(up)/float64(psi) < want-1e-9 || float64(up)/float64(psi) > want+0.015 {
			t.Fatalf("%s in %v: set to %s in %v, %v; the law gives %.4f", p, to, up, from, err, want)
		}
	}
}

// 49 CFR 393.75 table 1, as quoted.
func TestColdAtMost(t *testing.T) {
	for _, tt := range []struct {
		hot   cold.HotReading
		want  inflation.Pressure
		cause error
	}{
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: 4000 * lb, Speed: 50 * inflation.MilePerHour}, 95 * psi, nil},
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: 4000*lb + 1, Speed: 50 * inflation.MilePerHour}, 85 * psi, nil},
		{cold.HotReading{Pressure: 100 * psi, PlusMinus: 2 * psi, MaxLoad: 4000 * lb, Speed: 41 * inflation.MilePerHour}, 97 * psi, nil},
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: lb, Speed: 55 * inflation.MilePerHour}, 95 * psi, nil},
		{cold.HotReading{Pressure: 10 * psi, MaxLoad: 5000 * lb, Speed: 55 * inflation.MilePerHour}, 0, nil},
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: lb, Speed: 41*inflation.MilePerHour - 1}, 0, cold.ErrSpeedBand},
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: lb, Speed: 55*inflation.MilePerHour + 1}, 0, cold.ErrSpeedBand},
		{cold.HotReading{Pressure: 100 * psi, MaxLoad: lb}, 0, cold.ErrSpeedBand},
		{cold.HotReading{Pressure: 100 * psi, Speed: 50 * inflation.MilePerHour}, 0, inflation.ErrInput},
		{cold.HotReading{Pressure: -1, MaxLoad: lb, Speed: 50 * inflation.MilePerHour}, 0, inflation.ErrInput},
		{cold.HotReading{PlusMinus: -1, MaxLoad: lb, Speed: 50 * inflation.MilePerHour}, 0, inflation.ErrInput},
	} {
		got, err := cold.AtMost(tt.hot)
		if !errors.Is(err, tt.cause) || got.AtMost != tt.want || err == nil && got.Source.Check() != nil {
			t.Errorf("%+v: %+v, %v; want %s, %v", tt.hot, got, err, tt.want, tt.cause)
		}
	}
	b := cold.Bound{AtMost: 76 * psi}
	if b.Condemns(76*psi) || !b.Condemns(76*psi+1) {
		t.Error("condemns at its own bound, or not above")
	}
}

func TestLeakRate(t *testing.T) {
	warm, cool := fahrenheit(t, "80 F"), fahrenheit(t, "60 F")
	reading := func(p, pm int, air cold.Air) cold.Reading {
		return cold.Reading{Pressure: inflation.Pressure(p) * psi, PlusMinus: inflation.Pressure(pm) * psi, Air: air}
	}
	const day = 24 * time.Hour
	for _, tt := range []struct {
		name          string
		first, second cold.Reading
		apart         time.Duration
		rate, pm      string
	}{
		{"3 psi in 60 days", reading(95, 0, cool), reading(92, 0, cool), 60 * day, "1.5 psi", "0 psi"},
		{"with 1 psi at both gauges", reading(95, 1, cool), reading(92, 1, cool), 60 * day, "1.5 psi", "1 psi"},
		{"gained", reading(92, 0, cool), reading(95, 0, cool), 30 * day, "-3 psi", "0 psi"},
		// 109.696 x 519.67/539.67 - 14.696 = 90.935 at 60 F: no leak at all
		{"colder, not leaking", reading(95, 0, warm), cold.Reading{Pressure: 9093 * psi / 100, Air: cool}, 30 * day, "0 psi", "0.01 psi"},
		{"a flat first reading", reading(0, 1, cool), reading(0, 1, cool), 30 * day, "0.5 psi", "1.5 psi"},
	} {
		got, err := cold.LeakRate(tt.first, tt.second, tt.apart, weight.US)
		if err != nil || got.PerMonth.String() != tt.rate || got.PlusMinus.String() != tt.pm {
			t.Errorf("%s: %s plus/minus %s, %v; want %s, %s", tt.name, got.PerMonth, got.PlusMinus, err, tt.rate, tt.pm)
		}
	}
	// Normal leakage is 1 to 2 psi a month (GAO-07-246R, 2007).
	l := cold.Leak{PerMonth: 3 * psi, PlusMinus: psi}
	if l.Exceeds(2*psi) || !l.Exceeds(2*psi-1) {
		t.Error("exceeds at the edge, or not above it")
	}
	for _, tt := range []struct {
		name          string
		first, second cold.Reading
		apart         time.Duration
	}{
		{"no time", reading(95, 0, cool), reading(92, 0, cool), 0},
		{"a nanosecond", reading(95, 0, cool), reading(92, 0, cool), 1},
		{"no temperature", reading(95, 0, cold.Air{}), reading(92, 0, cool), day},
		{"negative", reading(-1, 0, cool), reading(92, 0, cool), day},
		{"negative plus/minus", reading(95, 0, cool), reading(92, -1, cool), day},
	} {
		if got, err := cold.LeakRate(tt.first, tt.second, tt.apart, weight.US); !errors.Is(err, inflation.ErrInput) || got != (cold.Leak{}) {
			t.Errorf("%s: %+v, %v", tt.name, got, err)
		}
	}
}

// TestLeakRateCovers: whatever the true loss, with readings anywhere inside
// their plus/minus, the rate's interval has it.
func TestLeakRateCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 4))
	for range 5000 {
		days := 5 + r.IntN(100)
		true1 := inflation.Pressure(60*psi) + inflation.Pressure(r.Int64N(int64(60*psi)))
		pm := inflation.Pressure(r.Int64N(int64(2 * psi)))
		from := cold.Air{Temperature: inflation.Temperature(480_000 + r.Int64N(80_000))}
		to := cold.Air{Temperature: inflation.Temperature(480_000 + r.Int64N(80_000))}
		err1 := inflation.Pressure(r.Int64N(int64(2*pm+1))) - pm
		err2 := inflation.Pressure(r.Int64N(int64(2*pm+1))) - pm
		unleaked := (float64(true1)+14.69594877*float64(psi))*float64(to.Temperature)/float64(from.Temperature) - 14.69594877*float64(psi)
		lost := float64(r.Int64N(int64(5 * psi)))
		read2 := inflation.Pressure(unleaked-lost) + err2
		l, err := cold.LeakRate(cold.Reading{Pressure: true1 + err1, PlusMinus: pm, Air: from},
			cold.Reading{Pressure: read2, PlusMinus: pm, Air: to}, time.Duration(days)*24*time.Hour, weight.US)
		month := lost * 30 / float64(days)
		if err != nil || math.Abs(month-float64(l.PerMonth)) > float64(l.PlusMinus)+float64(psi)/1e6 {
			t.Fatalf("lost %.3f a month, found %s plus/minus %s, %v", month/float64(psi), l.PerMonth, l.PlusMinus, err)
		}
	}
}

func TestAlarmFor(t *testing.T) {
	for _, tt := range []struct {
		name                   string
		set, minimum, pm, step inflation.Pressure
		want                   cold.Alarm
	}{
		{"the minimum decides", 95 * psi, 85 * psi, 0, 0, cold.Alarm{At: 85 * psi, FlatAt: 76 * psi}},
		{"clear of 80 %", 95 * psi, 0, 0, 0, cold.Alarm{At: 77 * psi, FlatAt: 76 * psi}},
		{"the minimum at 80 % is not clear of it", 95 * psi, 76 * psi, 0, 0, cold.Alarm{At: 77 * psi, FlatAt: 76 * psi}},
		{"the sensor's plus/minus", 95 * psi, 85 * psi, 15 * psi / 10, 0, cold.Alarm{At: 87 * psi, FlatAt: 76 * psi}},
		{"the sensor's step", 95 * psi, 82 * psi, 0, 5 * psi, cold.Alarm{At: 85 * psi, FlatAt: 76 * psi}},
		{"no room", 80 * psi, 80 * psi, 0, 0, cold.Alarm{At: 80 * psi, FlatAt: 64 * psi, NoRoom: true}},
		{"no room for the step", 82 * psi, 81 * psi, 0, 5 * psi, cold.Alarm{At: 82 * psi, FlatAt: 656 * psi / 10, NoRoom: true}},
	} {
		if got, err := cold.AlarmFor(tt.set, tt.minimum, tt.pm, tt.step); err != nil || got != tt.want {
			t.Errorf("%s: %+v, %v; want %+v", tt.name, got, err, tt.want)
		}
	}
	for _, p := range [][4]inflation.Pressure{{0, 0, 0, 0}, {95, 96, 0, 0}, {95, -1, 0, 0}, {95, 0, -1, 0}, {95, 0, 0, -1}, {2000, 0, 0, 0}} {
		if _, err := cold.AlarmFor(p[0]*psi, p[1]*psi, p[2]*psi, p[3]*psi); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%v: %v", p, err)
		}
	}
	// An alarm at 25 % low (49 CFR 571.138 S4.2) would ring inside the flat
	// zone: ours never does.
	for set := 30 * psi; set <= 130*psi; set += psi / 4 {
		a, err := cold.AlarmFor(set, 0, 0, 0)
		if err != nil || a.At <= a.FlatAt || 100*int64(a.At/psi) <= 80*int64(set/psi) || a.At > set {
			t.Fatalf("%s set: %+v, %v", set, a, err)
		}
	}
}

func TestMornings(t *testing.T) {
	now := fahrenheit(t, "60 F")
	ms, err := cold.Mornings(95*psi, 90*psi, now, weight.US, fahrenheit(t, "20 F"), fahrenheit(t, "50 F"), fahrenheit(t, "90 F"))
	if err != nil {
		t.Fatal(err)
	}
	// 109.696 x 479.67/519.67 - 14.696 = 86.556; at 50 F 92.889; at 90 F 101.333
	want := "95 psi set at 60 F will read 86 psi at 20 F (add air), 92 psi at 50 F, 101 psi at 90 F (leave it)"
	if got := cold.MorningLine(95*psi, now, weight.US, ms); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	ms, err = cold.Mornings(650*kPa, 0, now, weight.Metric, fahrenheit(t, "32 F"))
	if got := cold.MorningLine(650*kPa, now, weight.Metric, ms); err != nil || got != "650 kPa set at 16 C will read 600 kPa at 0 C" {
		t.Errorf("metric: %s, %v", got, err)
	}
	if _, err = cold.Mornings(95*psi, 0, cold.Air{}, weight.US, now); !errors.Is(err, inflation.ErrInput) {
		t.Errorf("no temperature: %v", err)
	}
}

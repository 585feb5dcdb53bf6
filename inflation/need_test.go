package inflation_test

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/inflation"
	"axleend.example/internal/testsize"
	"axleend.example/weight"
)

// laws are exponents num/den of the growth of load with pressure, from the
// square root (passenger tires, inch form) over those of the standards bodies
// (0.585, 0.65, 0.7, 0.8, as quoted) to the straight line.
var laws = [][2]int64{{1, 2}, {117, 200}, {13, 20}, {7, 10}, {4, 5}, {1, 1}}

// power is base^exp.
func power(base *big.Int, exp int64) *big.Int { return new(big.Int).Exp(base, big.NewInt(exp), nil) }

// compareLaw compares a/b with (c/d)^(num/den), exactly: -1, 0 or 1.
func compareLaw(a, b, c, d, num, den int64) int {
	big4 := [4]*big.Int{big.NewInt(a), big.NewInt(b), big.NewInt(c), big.NewInt(d)}
	left := new(big.Int).Mul(power(big4[0], den), power(big4[3], num))
	right := new(big.Int).Mul(power(big4[1], den), power(big4[2], num))
	return left.Cmp(right)
}

// randomStamp is a tire without a table.
func randomStamp(r *rand.Rand) inflation.Tire {
	t := inflation.Tire{Name: "stamped", Class: [...]inflation.Class{0, inflation.LightTruck, inflation.Truck}[r.IntN(3)],
		Single: inflation.Rating{Load: weight.Mass(1000+r.IntN(6000)) * lb, Pressure: inflation.Pressure(35+r.IntN(100)) * psi}}
	if r.IntN(3) == 0 {
		t.Single = inflation.Rating{Load: weight.Mass(500+r.IntN(3500)) * kg, Pressure: inflation.Pressure(25+r.IntN(60)) * 10 * kPa}
	}
	return t
}

// times is how often a property is tried: a quarter as often unless at full counts.
func times(n int) int {
	if !testsize.Full() {
		return n / 4
	}
	return n
}

func randomSystem(r *rand.Rand) weight.System {
	return [...]weight.System{weight.US, weight.Metric}[r.IntN(2)]
}

// TestNeedHoldsEveryLaw: what a tire without a table needs by any accepted law
// lies between the ends, and the lower end is exactly full pressure times the
// square of the load's share, rounded down.
func TestNeedHoldsEveryLaw(t *testing.T) {
	r := random()
	for range times(800) {
		tire, system := randomStamp(r), randomSystem(r)
		full := tire.Single
		load := weight.Mass(r.Int64N(int64(full.Load))) + 1
		n, err := tire.Need(inflation.Load{Load: load, State: inflation.Weighed}, weight.Single, inflation.Options{}, system)
		if err != nil || n.From != inflation.FromEstimate || n.OpenAbove != (tire.Class == 0) || n.Low > n.High {
			t.Fatalf("%+v for %s: %+v, %v", tire, load, n, err)
		}
		// needed/full = (load/most)^(1/n), n = num/den
		for _, law := range laws {
			if compareLaw(int64(n.Low), int64(full.Pressure), int64(load), int64(full.Load), law[1], law[0]) > 0 ||
				compareLaw(int64(n.High), int64(full.Pressure), int64(load), int64(full.Load), law[1], law[0]) < 0 {
				t.Fatalf("%+v for %s by the law %v: %+v", tire, load, law, n)
			}
		}
		grid := big.NewInt(int64(inflation.PressureGrid(system)))
		want := new(big.Int).Mul(big.NewInt(int64(full.Pressure)), power(big.NewInt(int64(load)), 2))
		want.Quo(want, new(big.Int).Mul(power(big.NewInt(int64(full.Load)), 2), grid))
		if want.Mul(want, grid).Int64() != int64(n.Low) {
			t.Fatalf("%+v for %s: low %s, want %s", tire, load, n.Low, inflation.Pressure(want.Int64()))
		}
	}
}

// TestCarriesHoldsEveryLaw: the same of what it carries, whose ends are rounded
// down to the record's grid; the upper one is the integer square root.
func TestCarriesHoldsEveryLaw(t *testing.T) {
	r := random()
	for range times(800) {
		tire, system := randomStamp(r), randomSystem(r)
		full, grid := tire.Single, int64(system.MassGrid())
		p := inflation.Pressure(r.Int64N(int64(full.Pressure)))
		c, err := tire.Carries(p, weight.Single, inflation.Placard{}, inflation.Options{}, system)
		if err != nil || c.From != inflation.FromEstimate || c.OpenAbove || c.Low > c.High || c.High > full.Load {
			t.Fatalf("%+v at %s: %+v, %v", tire, p, c, err)
		}
		for _, law := range laws {
			if compareLaw(int64(c.Low), int64(full.Load), int64(p), int64(full.Pressure), law[0], law[1]) > 0 ||
				compareLaw(int64(c.High)+grid, int64(full.Load), int64(p), int64(full.Pressure), law[0], law[1]) <= 0 {
				t.Fatalf("%+v at %s by the law %v: %+v", tire, p, law, c)
			}
		}
		root := new(big.Int).Mul(power(big.NewInt(int64(full.Load)), 2), big.NewInt(int64(p)))
		root.Quo(root, new(big.Int).Mul(big.NewInt(int64(full.Pressure)), power(big.NewInt(grid), 2))).Sqrt(root)
		if root.Int64()*grid != int64(c.High) {
			t.Fatalf("%+v at %s: high %s, want %d steps", tire, p, c.High, root)
		}
		floor := inflation.Unlisted{Class: tire.Class, Rating: full}.Floor()
		line := new(big.Int).Mul(big.NewInt(int64(full.Load)), big.NewInt(int64(p)))
		line.Quo(line, new(big.Int).Mul(big.NewInt(int64(full.Pressure)), big.NewInt(grid)))
		if want := line.Int64() * grid; tire.Class != 0 && p >= floor && want != int64(c.Low) || (tire.Class == 0 || p < floor) && c.Low != 0 {
			t.Fatalf("%+v at %s: low %s, floor %s", tire, p, c.Low, floor)
		}
		at, err := tire.Carries(full.Pressure+inflation.Pressure(r.IntN(20))*psi, weight.Single, inflation.Placard{}, inflation.Options{}, system)
		if err != nil || at.High != full.Load || tire.Class != 0 && at.Low != full.Load {
			t.Fatalf("%+v at its full pressure: %+v, %v", tire, at, err)
		}
	}
}

// TestNeedByTable: a table gives one row, that of the load with its plus/minus,
// found here by walking the rows; beyond the last row it is at least that row.
func TestNeedByTable(t *testing.T) {
	r := random()
	for range times(2000) {
		table, derated := randomTable(t, r)
		fit := weight.Single
		rows := slices.Collect(table.Rows(fit))
		if rows == nil {
			fit = weight.Dual
			rows = slices.Collect(table.Rows(fit))
		}
		lowest, highest, err := table.Range(fit, "")
		if err != nil {
			continue
		}
		tire := inflation.Tire{Table: table}
		load := inflation.Load{Load: weight.Mass(r.Int64N(int64(highest.Load)*6/5)) + 1, PlusMinus: weight.Mass(r.IntN(200)) * lb, State: inflation.Weighed}
		n, err := tire.Need(load, fit, inflation.Options{}, weight.US)
		if err != nil {
			t.Fatal(err)
		}
		want := big.NewRat(int64(load.Load+load.PlusMinus), 1)
		if derated { // 49 CFR 571.120 S5.1.2
			want.Mul(want, big.NewRat(11, 10))
		}
		row, beyond := highest.Pressure, true
		for _, x := range rows {
			if x.Pressure >= lowest.Pressure && x.Pressure <= highest.Pressure && big.NewRat(int64(x.Load), 1).Cmp(want) >= 0 {
				row, beyond = x.Pressure, false
				break
			}
		}
		if n.Low != row || n.High != row || n.OpenAbove != beyond || n.From != inflation.FromTable {
			t.Fatalf("%v for %+v: %+v, want %s, beyond %v", rows, load, n, row, beyond)
		}
		p := inflation.Pressure(r.IntN(140)) * psi
		c, err := tire.Carries(p, fit, inflation.Placard{}, inflation.Options{}, weight.US)
		if err != nil || c.From != inflation.FromTable || c.Low > c.High {
			t.Fatalf("%+v, %v", c, err)
		}
		if p < lowest.Pressure {
			most := big.NewRat(int64(lowest.Load), 1)
			if derated {
				most.Quo(most, big.NewRat(11, 10))
			}
			if high := big.NewRat(int64(c.High), 1); c.Low != 0 || high.Cmp(most) > 0 || most.Sub(most, high).Cmp(big.NewRat(int64(kg), 100)) > 0 {
				t.Fatalf("below the first row %v: %+v", lowest, c)
			}
			continue
		}
		if want, err := table.CapacityAt(p, fit, inflation.Options{Method: inflation.Interpolated}); err != nil || c.Low != want {
			t.Fatalf("%s: %+v, want %s, %v", p, c, want, err)
		}
	}
}

// TestNeedNeverMilder: more load, more doubt, an open side and anything that is
// forgotten of the tire never make High lower, and never open a closed end.
func TestNeedNeverMilder(t *testing.T) {
	r := random()
	for range times(4000) {
		tire, system := randomStamp(r), randomSystem(r)
		if r.IntN(2) == 0 {
			tire.Table, _ = randomTable(t, r)
			tire.Class = 0
		}
		if r.IntN(3) == 0 {
			tire.MaxPressure = tire.Single.Pressure + inflation.Pressure(r.IntN(30)-15)*psi
		}
		load := inflation.Load{Load: weight.Mass(r.IntN(7000)) * lb, PlusMinus: weight.Mass(r.IntN(100)) * lb, State: inflation.Weighed}
		need := func(tire inflation.Tire, l inflation.Load) inflation.Need {
			n, err := tire.Need(l, weight.Single, inflation.Options{}, system)
			if err != nil {
				t.Skip(err)
			}
			return n
		}
		if tire.Table != nil && tire.Table.LoadsPer(weight.Single) == 0 {
			continue
		}
		base := need(tire, load)
		worse := func(what string, tire inflation.Tire, l inflation.Load) {
			n := need(tire, l)
			if n.High < base.High || base.OpenAbove && !n.OpenAbove {
				t.Fatalf("%s: %+v %+v: %+v, before %+v", what, tire, l, n, base)
			}
		}
		more, doubt, below, above := load, load, load, load
		more.Load += weight.Mass(r.IntN(1000)) * lb
		worse("more load", tire, more)
		doubt.PlusMinus += weight.Mass(r.IntN(1000)) * lb
		worse("more doubt", tire, doubt)
		below.OpenBelow, below.AtLeast = true, load.Load/2
		worse("at most", tire, below)
		if n, least := need(tire, below), need(tire, inflation.Load{Load: below.AtLeast, State: inflation.Weighed}); n.Low != least.Low || n.High != base.High {
			t.Fatalf("from %s: %+v, of the least %+v, of the most %+v", below.AtLeast, n, least, base)
		}
		above.OpenAbove = true
		worse("at least", tire, above)
		if n := need(tire, above); !n.OpenAbove || n.Low != base.Low || n.High != base.High {
			t.Fatalf("at least: %+v, before %+v", n, base)
		}
		if tire.Table == nil {
			other := tire
			other.Class = 0
			worse("class forgotten", other, load)
		}
		other := tire
		other.LoadRange = ""
		worse("load range forgotten", other, load)
	}
}

// TestCarriesNeverMilder: less air, and what is forgotten of tire or placard,
// never raise what it surely carries.
func TestCarriesNeverMilder(t *testing.T) {
	r := random()
	for range times(4000) {
		tire, system := randomStamp(r), randomSystem(r)
		placard := inflation.Placard{Pressure: inflation.Pressure(40+r.IntN(60)) * psi, GAWR: weight.Mass(2000+r.IntN(9000)) * lb,
			GVWR: weight.Mass(8000+r.IntN(9000)) * lb, Fitted: inflation.Fitted(r.IntN(3))}
		if r.IntN(4) == 0 {
			tire.Class = [...]inflation.Class{inflation.Passenger, inflation.Trailer}[r.IntN(2)]
		}
		p := inflation.Pressure(r.IntN(130)) * psi
		carries := func(tire inflation.Tire, p inflation.Pressure, placard inflation.Placard) inflation.Capacity {
			c, err := tire.Carries(p, weight.Single, placard, inflation.Options{}, system)
			if err != nil || c.Low > c.High && !c.OpenAbove || !c.OpenAbove && c.High > tire.Single.Load {
				t.Fatalf("%+v at %s: %+v, %v", tire, p, c, err)
			}
			return c
		}
		base := carries(tire, p, placard)
		worse := func(what string, c inflation.Capacity) {
			if c.Low > base.Low {
				t.Fatalf("%s: %+v %+v at %s: %+v, before %+v", what, tire, placard, p, c, base)
			}
		}
		less := carries(tire, p-inflation.Pressure(r.IntN(int(p/psi)+1))*psi, placard)
		worse("less air", less)
		if base.Known() && less.High > base.High {
			t.Fatalf("less air carries more: %+v, before %+v", less, base)
		}
		for what, change := range map[string]func(*inflation.Placard){
			"pressure": func(p *inflation.Placard) { p.Pressure = 0 }, "GAWR": func(p *inflation.Placard) { p.GAWR = 0 },
			"GVWR": func(p *inflation.Placard) { p.GVWR = 0 }, "tires": func(p *inflation.Placard) { p.Fitted = 0 },
			"weaker": func(p *inflation.Placard) { p.Fitted = inflation.WeakerThanPlacard }} {
			other := placard
			change(&other)
			worse("placard's "+what, carries(tire, p, other))
		}
		if tire.Class != inflation.Passenger && tire.Class != inflation.Trailer {
			other := tire
			other.Class = 0
			worse("class forgotten", carries(other, p, placard))
		}
		weaker := tire
		weaker.Single.Load -= weight.Mass(r.IntN(900)) * lb
		if c := carries(weaker, p, placard); c.High > base.High && !base.OpenAbove && base.Known() {
			t.Fatalf("a weaker tire carries more: %+v, before %+v", c, base)
		}
	}
}

// TestPressuresThatContradict: a sidewall's maximum pressure may be up to 10 psi
// (69 kPa) above the one its maximum load is stated at (49 CFR 571.139 S5.5.6). Of
// two that are farther apart the higher is what the load is stated at, and the
// lower the cap.
func TestPressuresThatContradict(t *testing.T) {
	for _, x := range []struct {
		name      string
		max       inflation.Pressure
		high, cap inflation.Pressure // of 2,200 lb: 1.05 x full x 2,200/2,680, up to 5 psi: computed
	}{
		{"alone", 0, 70 * psi, 80 * psi},
		{"within 10 psi above", 90 * psi, 70 * psi, 80 * psi},
		{"within 69 kPa above", 80*psi + 69*kPa, 70 * psi, 80 * psi},
		{"farther above", 91 * psi, 80 * psi, 80 * psi},
		{"below", 72 * psi, 70 * psi, 72 * psi},
	} {
		tire := inflation.Tire{Class: inflation.LightTruck, Single: inflation.Rating{Load: 2680 * lb, Pressure: 80 * psi}, MaxPressure: x.max}
		n, err := tire.Need(weighed(2200, 0), weight.Single, inflation.Options{}, weight.US)
		if err != nil || n.High != x.high {
			t.Errorf("%s: needs up to %s, %v; want %s", x.name, n.High, err, x.high)
		}
		s, err := inflation.SetAxle(inflation.AxleInput{Fitment: weight.Single, Tires: []inflation.Tire{tire}, Wheels: []inflation.Wheel{goodWheel}, Placard: 100 * psi})
		if err != nil || s.Set != x.cap || s.Cap.Part != inflation.TirePressure {
			t.Errorf("%s: set %s, cap %+v, %v; want %s", x.name, s.Set, s.Cap, err, x.cap)
		}
	}
}

// TestCarriesWhatItIsRatedFor: a stamp below what the table or the laws say wins;
// of a class that is not known nobody knows whether it is divided by 1.10.
func TestCarriesWhatItIsRatedFor(t *testing.T) {
	weak := listed(t, "weak")
	weak.Single = inflation.Rating{Load: 3000 * lb, Pressure: 95 * psi}
	unknown := inflation.Tire{Single: inflation.Rating{Load: 3300 * lb, Pressure: 80 * psi}}
	passenger := unknown
	passenger.Class = inflation.Passenger
	trailer := unknown
	trailer.Class = inflation.Trailer
	for _, x := range []struct {
		name      string
		tire      inflation.Tire
		at        inflation.Pressure
		low, high weight.Mass
		rated     [2]weight.Mass
	}{
		{"table", weak, 95 * psi, 3000 * lb, 3000 * lb, [2]weight.Mass{3000 * lb, 3000 * lb}},
		{"class not read", unknown, 90 * psi, 0, 3300 * lb, [2]weight.Mass{3000 * lb, 3300 * lb}},
		{"passenger, above what its sidewall states", passenger, 90 * psi, 3000 * lb, 3000 * lb, [2]weight.Mass{3000 * lb, 3000 * lb}},
		{"passenger, at it", passenger, 80 * psi, 3000 * lb, 3000 * lb, [2]weight.Mass{3000 * lb, 3000 * lb}},
		{"passenger, just below it", passenger, 80*psi - 1, 0, 3000 * lb, [2]weight.Mass{3000 * lb, 3000 * lb}},
		{"trailer, at it", trailer, 80 * psi, 3300 * lb, 3300 * lb, [2]weight.Mass{3300 * lb, 3300 * lb}},
		{"trailer, just below it", trailer, 80*psi - 1, 0, 3300 * lb, [2]weight.Mass{3300 * lb, 3300 * lb}},
	} {
		c, err := x.tire.Carries(x.at, weight.Single, inflation.Placard{}, inflation.Options{}, weight.US)
		rated := x.tire.Rated(weight.Single, inflation.Options{}, weight.US)
		if err != nil || c.Low != x.low || c.High != x.high || rated.Low != x.rated[0] || rated.High != x.rated[1] {
			t.Errorf("%s: %+v, rated %+v, %v", x.name, c, rated, err)
		}
	}
	car := inflation.Options{OnPassengerCar: true} // a towed car carries its rating in full
	if rated := passenger.Rated(weight.Single, car, weight.US); rated.Low != 3300*lb || rated.High != 3300*lb {
		t.Errorf("on a car: %+v", rated)
	}
}

// TestPlacardPromise: 49 CFR 571.120 S5.3.1.
func TestPlacardPromise(t *testing.T) {
	placard := inflation.Placard{Pressure: 80 * psi, GAWR: 10_000 * lb, GVWR: 16_000 * lb, Fitted: inflation.AsPlacard}
	tire := inflation.Tire{Class: inflation.LightTruck, Single: inflation.Rating{Load: 6000 * lb, Pressure: 110 * psi}, Dual: inflation.Rating{Load: 2680 * lb, Pressure: 80 * psi}}
	for _, x := range []struct {
		name      string
		change    func(*inflation.Placard, *inflation.Tire)
		at        inflation.Pressure
		fit       weight.Fitment
		low, high weight.Mass
		more      bool
	}{
		// 6,000 x 80/110 = 4,363.63, 6,000 x sqrt(80/110) = 5,116.81: computed
		{"half the GAWR on a single end", nil, 80 * psi, weight.Single, 5000 * lb, 511681 * lb / 100, false},
		{"below the placard and the floor", nil, 79 * psi, weight.Single, 0, 508473 * lb / 100, false},
		{"a table wins", func(_ *inflation.Placard, x *inflation.Tire) { *x = listed(t, "table") }, 80 * psi, weight.Single, 3250 * lb, 3250 * lb, true},
		{"a table that has it", func(p *inflation.Placard, x *inflation.Tire) { p.GAWR, *x = 6500*lb, listed(t, "table") }, 80 * psi, weight.Single, 3250 * lb, 3250 * lb, false},
		{"more than any law allows", func(p *inflation.Placard, _ *inflation.Tire) { p.GAWR = 11_000 * lb }, 80 * psi, weight.Single, 511681 * lb / 100, 511681 * lb / 100, true},
		{"a quarter of it on a dual tire", nil, 80 * psi, weight.Dual, 2680 * lb, 2680 * lb, false},
		{"10,000 lb or less", func(p *inflation.Placard, _ *inflation.Tire) { p.GVWR = 10_000 * lb }, 80 * psi, weight.Single, 436363 * lb / 100, 511681 * lb / 100, false},
		{"weaker tires", func(p *inflation.Placard, _ *inflation.Tire) { p.Fitted = inflation.WeakerThanPlacard }, 80 * psi, weight.Single, 436363 * lb / 100, 511681 * lb / 100, false},
		{"a trailer tire: nothing else is known", func(_ *inflation.Placard, t *inflation.Tire) { t.Class = inflation.Trailer }, 80 * psi, weight.Single, 5000 * lb, 6000 * lb, false},
		{"passenger tires carry their rating divided by 1.10", func(p *inflation.Placard, t *inflation.Tire) {
			t.Class, t.Single = inflation.Passenger, inflation.Rating{Load: 5060 * lb}
		}, 80 * psi, weight.Single, 4600 * lb, 4600 * lb, true},
	} {
		p, tire := placard, tire
		if x.change != nil {
			x.change(&p, &tire)
		}
		c, err := tire.Carries(x.at, x.fit, p, inflation.Options{}, weight.US)
		if err != nil || c.Low != x.low || c.High != x.high || c.PlacardAsksMore != x.more {
			t.Errorf("%s: %s to %s, more %v, %v; want %s to %s, %v", x.name, c.Low, c.High, c.PlacardAsksMore, err, x.low, x.high, x.more)
		}
	}
}

package inflation_test

import (
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
	"axleend.example/internal/tabletest"
	"axleend.example/internal/testsize"
	"axleend.example/weight"
)

// jatma is the published table of load index 68, standard, single (JATMA, as
// quoted).
var jatma = [][2]int{{180, 265}, {190, 275}, {200, 285}, {210, 290}, {220, 300}, {230, 305}, {240, 315}}

func jatmaTable(t testing.TB) *inflation.Table {
	s := tabletest.Spec{Name: "load index 68", Size: "load index 68", Class: "passenger", PressureUnit: "kPa", LoadUnit: "kg", Single: "per tire"}
	for _, r := range jatma {
		s.Rows = append(s.Rows, []string{fmt.Sprint(r[0]), fmt.Sprint(r[1])})
	}
	return mustLoad(t, "jatma.yaml", s.YAML())
}

func TestJATMARows(t *testing.T) {
	table := jatmaTable(t)
	car := inflation.Options{OnPassengerCar: true}
	for i, r := range jatma {
		p, load := inflation.Pressure(r[0])*kPa, weight.Mass(r[1])*kg
		for _, m := range []inflation.Method{inflation.NextRow, inflation.Interpolated} {
			car.Method = m
			a, err := table.PressureFor(load, weight.Single, car)
			if err != nil || a.Pressure != p || a.Upper != (inflation.Row{Pressure: p, Load: load}) || a.Derated {
				t.Errorf("%s for %s: %+v, %v; want %s", m, load, a, err, p)
			}
			if got, err := table.CapacityAt(p, weight.Single, car); err != nil || got != load {
				t.Errorf("%s at %s: %s, %v; want %s", m, p, got, err, load)
			}
		}
		// On a motorhome the same tire carries its rating divided by 1.10 (49
		// CFR 571.120 S5.1.2), rounded down.
		want := weight.Mass(int64(load)*10/11).Round(weight.Gram, weight.Floor)
		if got, err := table.CapacityAt(p, weight.Single, inflation.Options{}); err != nil || got != want {
			t.Errorf("derated at %s: %s, %v; want %s", p, got, err, want)
		}
		a, err := table.PressureFor(want, weight.Single, inflation.Options{})
		if err != nil || a.Pressure != p || !a.Derated {
			t.Errorf("derated for %s: %+v, %v; want %s", want, a, err, p)
		}
		if i+1 < len(jatma) {
			if a, _ = table.PressureFor(want+weight.Gram, weight.Single, inflation.Options{}); a.Pressure != inflation.Pressure(jatma[i+1][0])*kPa {
				t.Errorf("derated for a gram more than %s: %s, want the next row", want, a.Pressure)
			}
		}
	}
}

func TestPressureFor(t *testing.T) {
	table := invented(t)
	row := func(p, l int) inflation.Row {
		return inflation.Row{Pressure: inflation.Pressure(p) * psi, Load: weight.Mass(l) * lb}
	}
	tests := []struct {
		name string
		load weight.Mass
		fit  weight.Fitment
		opt  inflation.Options
		want inflation.LookUp
	}{
		{"exactly the top row (3,640 lb single at 95 psi: common practice)", 3640 * lb, weight.Single, inflation.Options{},
			inflation.LookUp{Pressure: 95 * psi, Load: 3640 * lb, Lower: row(90, 3515), Upper: row(95, 3640)}},
		{"exactly the top row (3,415 lb dual at 95 psi)", 3415 * lb, weight.Dual, inflation.Options{},
			inflation.LookUp{Pressure: 95 * psi, Load: 3415 * lb, Lower: row(90, 3295), Upper: row(95, 3415)}},
		{"a little over a row", 3250*lb + 1, weight.Single, inflation.Options{},
			inflation.LookUp{Pressure: 85 * psi, Load: 3250*lb + 1, Lower: row(80, 3250), Upper: row(85, 3385)}},
		{"below the first row", 100 * lb, weight.Single, inflation.Options{},
			inflation.LookUp{Pressure: 65 * psi, Load: 100 * lb, Upper: row(65, 2835), AtFloor: true}},
		{"nothing on it", 0, weight.Dual, inflation.Options{Method: inflation.Interpolated},
			inflation.LookUp{Pressure: 65 * psi, Upper: row(65, 2655), AtFloor: true, Method: inflation.Interpolated}},
		{"the first row itself is no floor", 2835 * lb, weight.Single, inflation.Options{},
			inflation.LookUp{Pressure: 65 * psi, Load: 2835 * lb, Upper: row(65, 2835)}},
		// 80 + 5 x 50/135 = 81.85
		{"interpolated, rounded up to 1 psi", 3300 * lb, weight.Single, inflation.Options{Method: inflation.Interpolated},
			inflation.LookUp{Pressure: 82 * psi, Load: 3300 * lb, Lower: row(80, 3250), Upper: row(85, 3385), Method: inflation.Interpolated}},
		{"interpolated, rounded up to 0.1 psi", 3300 * lb, weight.Single, inflation.Options{Method: inflation.Interpolated, Step: psi / 10},
			inflation.LookUp{Pressure: 819 * psi / 10, Load: 3300 * lb, Lower: row(80, 3250), Upper: row(85, 3385), Method: inflation.Interpolated}},
		{"next row, rounded up to 2 psi", 3300 * lb, weight.Single, inflation.Options{Step: 2 * psi},
			inflation.LookUp{Pressure: 86 * psi, Load: 3300 * lb, Lower: row(80, 3250), Upper: row(85, 3385)}},
		{"rounding stops at the last row", 3640 * lb, weight.Single, inflation.Options{Step: 2 * psi},
			inflation.LookUp{Pressure: 95 * psi, Load: 3640 * lb, Lower: row(90, 3515), Upper: row(95, 3640), AtCap: true}},
		// 3,200 + 10 % = 3,520
		{"with an allowance of 10 %", 3200 * lb, weight.Single, inflation.Options{AllowancePercent: 10},
			inflation.LookUp{Pressure: 95 * psi, Load: 3520 * lb, Lower: row(90, 3515), Upper: row(95, 3640)}},
	}
	for _, tt := range tests {
		got, err := table.PressureFor(tt.load, tt.fit, tt.opt)
		if err != nil || got != tt.want {
			t.Errorf("%s:\n got %+v, %v\nwant %+v", tt.name, got, err, tt.want)
		}
	}
}

func TestPressureForRefuses(t *testing.T) {
	table, two := invented(t), pairs(t)
	tests := []struct {
		name  string
		table *inflation.Table
		load  weight.Mass
		fit   weight.Fitment
		opt   inflation.Options
		want  error
	}{
		{"over", table, 3640*lb + 1, weight.Single, inflation.Options{}, inflation.ErrOverload},
		// 315 kg / 1.10 lies between two nanograms.
		{"over by less than a step, derated", jatmaTable(t), 286_363_636_363_637, weight.Single, inflation.Options{}, inflation.ErrOverload},
		{"over with the allowance", table, 3640 * lb, weight.Single, inflation.Options{AllowancePercent: 1}, inflation.ErrOverload},
		{"over beyond 64 bits", table, 1<<63 - 1, weight.Single, inflation.Options{AllowancePercent: 100}, inflation.ErrOverload},
		{"over the load range's cap", two, 1121 * kg, weight.Single, inflation.Options{LoadRange: "D"}, inflation.ErrOverload},
		{"over the lowest cap", two, 1121 * kg, weight.Single, inflation.Options{}, inflation.ErrOverload},
		{"fitment not known", table, lb, 0, inflation.Options{}, inflation.ErrFitment},
		{"no such fitment", table, lb, 9, inflation.Options{}, inflation.ErrFitment},
		{"no dual column", jatmaTable(t), kg, weight.Dual, inflation.Options{}, inflation.ErrFitment},
		{"zero table", new(inflation.Table), kg, weight.Single, inflation.Options{}, inflation.ErrFitment},
		{"another load range", two, kg, weight.Single, inflation.Options{LoadRange: "C"}, inflation.ErrLoadRange},
		{"negative load", table, -1, weight.Single, inflation.Options{}, inflation.ErrInput},
		{"negative step", table, 1, weight.Single, inflation.Options{Step: -1}, inflation.ErrInput},
		{"negative allowance", table, 1, weight.Single, inflation.Options{AllowancePercent: -1}, inflation.ErrInput},
		{"huge allowance", table, 1, weight.Single, inflation.Options{AllowancePercent: 101}, inflation.ErrInput},
	}
	for _, tt := range tests {
		if a, err := tt.table.PressureFor(tt.load, tt.fit, tt.opt); !errors.Is(err, tt.want) || a != (inflation.LookUp{}) {
			t.Errorf("%s: %+v, %v; want %v", tt.name, a, err, tt.want)
		}
	}
	_, err := table.PressureFor(3700*lb, weight.Dual, inflation.Options{})
	var over *inflation.LoadError
	if !errors.As(err, &over) || *over != (inflation.LoadError{Load: 3700 * lb, Limit: 3415 * lb, Excess: 285 * lb, At: 95 * psi, Fitment: weight.Dual}) {
		t.Errorf("excess: %+v", over)
	}
	if want := "load of 3700 lb on a tire (dual): at most 3415 lb at 95 psi, 285 lb too much: load above the last allowed row"; err.Error() != want {
		t.Errorf("got  %s\nwant %s", err, want)
	}
	_, err = jatmaTable(t).PressureFor(290*kg, weight.Single, inflation.Options{})
	// 315 kg / 1.10 = 286.36 kg
	if !errors.As(err, &over) || over.Limit != 315*kg*10/11 {
		t.Errorf("derated excess: %+v", over)
	}
}

func TestCapacityAt(t *testing.T) {
	table, two := invented(t), pairs(t)
	inter := inflation.Options{Method: inflation.Interpolated}
	tests := []struct {
		name  string
		table *inflation.Table
		at    inflation.Pressure
		fit   weight.Fitment
		opt   inflation.Options
		want  weight.Mass
	}{
		{"row", table, 80 * psi, weight.Single, inflation.Options{}, 3250 * lb},
		{"just under a row is the row below", table, 80*psi - 1, weight.Single, inflation.Options{}, 3120 * lb},
		{"just over a row is that row", table, 80*psi + 1, weight.Single, inflation.Options{}, 3250 * lb},
		// 3,250 + 135 x 2.5/5 = 3,317.5
		{"between", table, 825 * psi / 10, weight.Single, inter, 33175 * lb / 10},
		// 3,050 + 125 x 1.11/5 = 3,077.75
		{"between, dual", table, 8111 * psi / 100, weight.Dual, inter, 307775 * lb / 100},
		// 81 psi is 3,277 lb exactly: a hair less is not.
		{"just under the grid", table, 81*psi - 1, weight.Single, inter, 327699 * lb / 100},
		{"above the last row", table, 150 * psi, weight.Dual, inter, 3415 * lb},
		{"above the cap", two, 500 * kPa, weight.Single, inflation.Options{LoadRange: "D"}, 1120 * kg},
		{"above the lowest cap", two, 500 * kPa, weight.Single, inter, 1120 * kg},
		{"its load range's own cap", two, 600 * kPa, weight.Dual, inflation.Options{LoadRange: "E"}, 1170 * kg},
		// 3,640 / 1.25 = 2,912
		{"less the allowance", table, 95 * psi, weight.Single, inflation.Options{AllowancePercent: 25}, 2912 * lb},
	}
	for _, tt := range tests {
		if got, err := tt.table.CapacityAt(tt.at, tt.fit, tt.opt); err != nil || got != tt.want {
			t.Errorf("%s: %s, %v; want %s", tt.name, got, err, tt.want)
		}
	}
	refused := []struct {
		name  string
		table *inflation.Table
		at    inflation.Pressure
		fit   weight.Fitment
		opt   inflation.Options
		want  error
	}{
		{"below the first row", table, 65*psi - 1, weight.Single, inter, inflation.ErrBelowFirstRow},
		{"below the minimum row, though the table has one", two, 340 * kPa, weight.Single, inter, inflation.ErrBelowFirstRow},
		{"flat", table, 0, weight.Dual, inter, inflation.ErrBelowFirstRow},
		{"fitment", table, 80 * psi, 0, inter, inflation.ErrFitment},
		{"load range", two, 450 * kPa, weight.Single, inflation.Options{LoadRange: "H"}, inflation.ErrLoadRange},
		{"allowance", table, 80 * psi, weight.Single, inflation.Options{AllowancePercent: 200}, inflation.ErrInput},
	}
	for _, tt := range refused {
		if got, err := tt.table.CapacityAt(tt.at, tt.fit, tt.opt); !errors.Is(err, tt.want) || got != 0 {
			t.Errorf("%s: %s, %v; want %v", tt.name, got, err, tt.want)
		}
	}
}

func TestLookupDoesNotAllocate(t *testing.T) {
	table, two := invented(t), pairs(t)
	opts := []inflation.Options{{}, {Method: inflation.Interpolated}, {LoadRange: "F", Step: psi}}
	if n := testing.AllocsPerRun(100, func() {
		for _, o := range opts {
			if _, err := table.PressureFor(3300*lb, weight.Single, o); err != nil {
				t.Fatal(err)
			}
			if _, err := table.CapacityAt(82*psi, weight.Dual, o); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := two.PressureFor(900*kg, weight.Dual, inflation.Options{LoadRange: "E"}); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// bigPressure is the look-up done the obvious way over all rows in exact
// rational arithmetic.
func bigPressure(rows []inflation.Row, load weight.Mass, factor *big.Rat, interpolate bool, step inflation.Pressure) (*big.Int, bool) {
	want := new(big.Rat).Mul(big.NewRat(int64(load), 1), factor)
	want.SetInt(ceil(want))
	for i, r := range rows {
		if want.Cmp(big.NewRat(int64(r.Load), 1)) > 0 {
			continue
		}
		p := big.NewRat(int64(r.Pressure), 1)
		if interpolate && i > 0 {
			below := rows[i-1]
			part := new(big.Rat).Sub(want, big.NewRat(int64(below.Load), 1))
			part.Mul(part, big.NewRat(int64(r.Pressure-below.Pressure), int64(r.Load-below.Load)))
			p = part.Add(part, big.NewRat(int64(below.Pressure), 1))
		}
		steps := ceil(new(big.Rat).Quo(p, big.NewRat(int64(step), 1)))
		steps.Mul(steps, big.NewInt(int64(step)))
		if top := big.NewInt(int64(rows[len(rows)-1].Pressure)); steps.Cmp(top) > 0 {
			return top, true
		}
		return steps, true
	}
	return nil, false
}

func ceil(r *big.Rat) *big.Int {
	q, m := new(big.Int).DivMod(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() != 0 {
		q.Add(q, big.NewInt(1))
	}
	return q
}

// bigCapacity is the inverse, the same way, rounded down to the grid once
// anything was computed.
func bigCapacity(rows []inflation.Row, p inflation.Pressure, factor *big.Rat, interpolate bool, grid weight.Mass) *big.Int {
	last := 0
	for i, r := range rows {
		if r.Pressure <= p {
			last = i
		}
	}
	load := big.NewRat(int64(rows[last].Load), 1)
	computed := factor.Cmp(big.NewRat(1, 1)) != 0
	if interpolate && last+1 < len(rows) && p > rows[last].Pressure {
		computed = true
		up := rows[last+1]
		part := big.NewRat(int64(p-rows[last].Pressure), int64(up.Pressure-rows[last].Pressure))
		part.Mul(part, big.NewRat(int64(up.Load-rows[last].Load), 1))
		load.Add(load, part)
	}
	load.Quo(load, factor)
	if computed {
		load.Quo(load, big.NewRat(int64(grid), 1))
		q := new(big.Int).Div(load.Num(), load.Denom())
		return q.Mul(q, big.NewInt(int64(grid)))
	}
	return new(big.Int).Set(load.Num())
}

func randomTable(t testing.TB, r *rand.Rand) (table *inflation.Table, derated bool) {
	derated = r.IntN(3) == 0
	class := "truck"
	if derated {
		class = "passenger"
	}
	metric := r.IntN(2) == 0
	s := tabletest.Spec{Name: "random", Size: "AX1", Class: class, PressureUnit: "psi", LoadUnit: "lb",
		Single: []string{"per tire", "per end", "per axle"}[r.IntN(3)], Dual: []string{"per tire", "per pair", "per axle"}[r.IntN(3)]}
	pn := 1
	if s.Single == "per axle" {
		pn = 2
	}
	pd := map[string]int{"per tire": 1, "per pair": 2, "per axle": 4}[s.Dual]
	p, load := 40+r.IntN(30), 2000+r.IntN(500)
	if metric {
		s.PressureUnit, s.LoadUnit, p, load = "kPa", "kg", p*7, load/2
	}
	for range 1 + r.IntN(20) {
		s.Rows = append(s.Rows, []string{fmt.Sprint(p), fmt.Sprint(load * pn), fmt.Sprint(load * 9 / 10 * pd)})
		next := p + 3 + r.IntN(5)
		if metric {
			next = p + 20 + r.IntN(30)
		}
		if next > 190 && !metric || next > 1350 {
			break
		}
		// A power between 0.4 and 1.0 of the pressure, at least 2 units up.
		load += max(2, load*(next-p)*(4+r.IntN(7))/10/p)
		p = next
	}
	return mustLoad(t, "random.yaml", s.YAML()), derated
}

// TestLookupAgainstBig compares at least 100,000 random look-ups, and as many
// inverses, with an independent computation, and holds each to the safe side.
func TestLookupAgainstBig(t *testing.T) {
	r := random()
	looked, over, most := 0, 0, 100_000
	if !testsize.Full() {
		most = 10_000
	}
	for looked < most {
		table, derated := randomTable(t, r)
		for _, fit := range []weight.Fitment{weight.Single, weight.Dual} {
			rows := slices.Collect(table.Rows(fit))
			grid := table.System().MassGrid()
			for range 250 {
				opt := inflation.Options{Method: inflation.Method(r.IntN(2)), OnPassengerCar: r.IntN(2) == 0}
				if r.IntN(3) == 0 {
					opt.AllowancePercent = r.IntN(21)
				}
				factor := big.NewRat(int64(100+opt.AllowancePercent), 100)
				if derated && !opt.OnPassengerCar {
					factor.Mul(factor, big.NewRat(110, 100))
				}
				opt.Step = []inflation.Pressure{psi, 5 * psi, kPa, 10 * kPa, psi / 10, 1}[r.IntN(6)]
				top := rows[len(rows)-1]
				load := weight.Mass(r.Int64N(int64(top.Load)*12/10)).Round(grid, weight.Floor)
				if r.IntN(4) == 0 {
					load = rows[r.IntN(len(rows))].Load
				}
				looked++
				a, err := table.PressureFor(load, fit, opt)
				want, fits := bigPressure(rows, load, factor, opt.Method == inflation.Interpolated, opt.Step)
				if fits != (err == nil) || fits && want.Cmp(big.NewInt(int64(a.Pressure))) != 0 {
					t.Fatalf("%s\n%s, %s, %+v: %s, %v; want %v", tablefile.Text(table), load, fit, opt, a.Pressure, err, want)
				}
				p := inflation.Pressure(r.Int64N(int64(top.Pressure) * 11 / 10))
				if p >= rows[0].Pressure {
					got, err := table.CapacityAt(p, fit, opt)
					if want := bigCapacity(rows, p, factor, opt.Method == inflation.Interpolated, grid); err != nil || want.Cmp(big.NewInt(int64(got))) != 0 {
						t.Fatalf("%s\n%s, %s, %+v: %s, %v; want %v", tablefile.Text(table), p, fit, opt, got, err, want)
					}
					// Pressure to load to pressure: what it carries needs no more.
					back, err := table.PressureFor(got, fit, inflation.Options{Method: opt.Method, AllowancePercent: opt.AllowancePercent, OnPassengerCar: opt.OnPassengerCar, Step: 1})
					if err != nil || back.Pressure > max(p, rows[0].Pressure) {
						t.Fatalf("%s\n%s carries %s, which needs %s, %v", tablefile.Text(table), p, got, back.Pressure, err)
					}
				}
				if err != nil {
					over++
					continue
				}
				// Load to pressure to load: never below.
				if back, err := table.CapacityAt(a.Pressure, fit, opt); err != nil || back < load.Round(grid, weight.Floor) {
					t.Fatalf("%s\n%s needs %s, which carries %s, %v; %+v", tablefile.Text(table), load, a.Pressure, back, err, opt)
				}
				// The next row up is never below the interpolated pressure.
				opt.Step = 1
				opt.Method = inflation.NextRow
				row, _ := table.PressureFor(load, fit, opt)
				opt.Method = inflation.Interpolated
				if line, _ := table.PressureFor(load, fit, opt); line.Pressure > row.Pressure {
					t.Fatalf("%s\n%s: interpolated %s, next row %s", tablefile.Text(table), load, line.Pressure, row.Pressure)
				}
			}
		}
	}
	if over == 0 || over == looked {
		t.Errorf("%d of %d over: the loads are badly chosen", over, looked)
	}
}

func TestLookupIsMonotonic(t *testing.T) {
	r := random()
	for range 40 {
		table, _ := randomTable(t, r)
		for _, m := range []inflation.Method{inflation.NextRow, inflation.Interpolated} {
			opt := inflation.Options{Method: m}
			rows := slices.Collect(table.Rows(weight.Dual))
			top := rows[len(rows)-1]
			var lastP inflation.Pressure
			for load := weight.Mass(0); load <= top.Load; load += top.Load / 997 {
				a, err := table.PressureFor(load, weight.Dual, opt)
				if err != nil {
					if !errors.Is(err, inflation.ErrOverload) {
						t.Fatal(err)
					}
					break
				}
				if a.Pressure < lastP {
					t.Fatalf("%s\n%s needs %s, less than %s before", tablefile.Text(table), load, a.Pressure, lastP)
				}
				lastP = a.Pressure
			}
			var lastL weight.Mass
			for p := rows[0].Pressure; p <= top.Pressure+psi; p += psi / 7 {
				load, err := table.CapacityAt(p, weight.Dual, opt)
				if err != nil || load < lastL {
					t.Fatalf("%s\n%s carries %s, %v, less than %s before", tablefile.Text(table), p, load, err, lastL)
				}
				lastL = load
			}
		}
	}
}

func TestFind(t *testing.T) {
	table := func(name, size, loadRange string, top int) *inflation.Table {
		s := tabletest.Spec{Name: name, Size: size, Class: "light truck", LoadRange: loadRange, PressureUnit: "psi", LoadUnit: "lb", Single: "per tire",
			Rows: [][]string{{"50", "1940"}, {fmt.Sprint(top), "2680"}}}
		return mustLoad(t, name, s.YAML())
	}
	ts, err := inflation.NewTables(
		table("e", "LT225/75R16", "E", 80), table("d", "lt 225/75 r16", "D", 75), table("copy of e", "LT 225/75R16", "E", 80),
		table("x", "AX240/75R20", "", 80), table("y", "LT235/85R16", "E", 80), table("z", "LT235/85R16", "E", 85))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		size string
		lr   inflation.LoadRange
		want string
		err  error
	}{
		{"LT225/75R16", "E", "copy of e", nil}, // the same figures twice: the first by name
		{"lt 225/75 r16", "E", "copy of e", nil},
		{"LT225/75R16 115/112Q", "D", "d", nil},
		{"LT225/75R16E", "E", "copy of e", nil},
		{"LT225/75R16", "", "", inflation.ErrAmbiguous},
		{"LT225/75R16", "C", "", inflation.ErrLoadRange},
		{"ax240/75 R20", "G", "x", nil},
		{"LT235/85R16", "E", "", inflation.ErrAmbiguous},
		{"P225/75R16", "E", "", inflation.ErrNoTable},
		{"", "", "", inflation.ErrNoTable},
		{strings.Repeat("LT225/75R16 ", 100), "", "", inflation.ErrNoTable},
	} {
		got, err := sidewall.FindTable(ts, tt.size, tt.lr)
		if !errors.Is(err, tt.err) || tt.err == nil && (err != nil || got.Name() != tt.want) {
			t.Errorf("%q %q: %v, %v; want %q, %v", tt.size, tt.lr, got, err, tt.want, tt.err)
		}
	}
	_, err = ts.Find("LT235/85R16", "E")
	var many *inflation.AmbiguousError
	if !errors.As(err, &many) || !slices.Equal(many.Names, []string{"y", "z"}) {
		t.Errorf("names: %v", err)
	}
	if want := `size "LT235/85R16": more than one table for the size: "y", "z": name the one that is meant`; err.Error() != want {
		t.Errorf("got  %s\nwant %s", err, want)
	}
	if _, err = inflation.NewTables(table("a", "AX1", "", 80), table("A", "AX2", "", 80)); !errors.Is(err, inflation.ErrName) {
		t.Errorf("one name twice: %v", err)
	}
	if _, err := (inflation.Tables{}).Find("AX1", ""); !errors.Is(err, inflation.ErrNoTable) {
		t.Errorf("zero tables: %v", err)
	}
	if n := testing.AllocsPerRun(100, func() { _, _ = ts.Find("lt 225/75 r16", "D") }); n != 0 {
		t.Errorf("finding allocates %v times", n)
	}
}

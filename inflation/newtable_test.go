package inflation_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/internal/problem"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// printed is a table in figures, as one is printed: single loads per tire, dual
// ones per pair.
func printed() inflation.TableData {
	return inflation.TableData{Name: "invented", Size: "AX240/75R20", Class: inflation.Truck, Construction: inflation.Radial,
		Source:       origin.Source{Grade: origin.Invented, Title: "made up for this test", Locator: "p. 1"},
		PressureUnit: psi, LoadUnit: lb, Single: inflation.PerTire, Dual: inflation.PerEnd,
		Rows: []inflation.PrintedRow{{85 * psi, 3385 * lb, 6350 * lb}, {90 * psi, 3515 * lb, 6590 * lb}, {95 * psi, 3640 * lb, 0}},
		Caps: []inflation.RangeCap{{"G", 0}, {"F", 90 * psi}}, Minimum: 85 * psi}
}

func TestNewTable(t *testing.T) {
	data := printed()
	table, err := inflation.NewTable(data)
	if err != nil {
		t.Fatal(err)
	}
	if lo, hi, err := table.Range(weight.Dual, "G"); err != nil || lo.Load != 3175*lb || hi.Pressure != 90*psi {
		t.Errorf("dual %v %v %v", lo, hi, err)
	}
	if _, hi, err := table.Range(weight.Single, "F"); err != nil || hi.Pressure != 90*psi {
		t.Errorf("load range F to %v, %v", hi, err)
	}
	if p, l := table.Units(); p != psi || l != lb || table.LoadsPer(weight.Dual) != inflation.PerEnd || table.Minimum() != 85*psi {
		t.Error("head")
	}
	// What was handed in may change afterwards.
	data.Rows[0].Single, data.Caps[0].LoadRange = 1, "A"
	if lo, _, err := table.Range(weight.Single, "G"); err != nil || lo.Load != 3385*lb {
		t.Errorf("changed from outside: %v %v", lo, err)
	}
	// The size tells class and construction; without caps every range is served.
	data = printed()
	data.Size, data.Class, data.Construction, data.Caps, data.Minimum = "225/70R19.5", 0, 0, nil, 0
	if table, err = inflation.NewTable(data); err != nil || table.Class() != inflation.Truck || table.Construction() != inflation.Radial || !table.Serves("H") || table.Minimum() != 85*psi {
		t.Errorf("by its size: %v", err)
	}
}

// TestNewTableRefuses: every way in which figures cannot be a table, each told
// with its field. The bounds of plausible figures are common practice.
func TestNewTableRefuses(t *testing.T) {
	for _, x := range []struct {
		name   string
		change func(*inflation.TableData)
		want   string // path: code
		cause  error
	}{
		{"no name", func(d *inflation.TableData) { d.Name = "" }, "name: value", inflation.ErrInput},
		{"a name of two lines", func(d *inflation.TableData) { d.Name = "a\nb" }, "name: value", inflation.ErrInput},
		{"no size", func(d *inflation.TableData) { d.Size = "" }, "size: value", inflation.ErrInput},
		{"no class", func(d *inflation.TableData) { d.Class = 0 }, "class: missing", problem.ErrMissing},
		{"no such class", func(d *inflation.TableData) { d.Class = 99 }, "class: value", inflation.ErrWord},
		{"another class than the size's", func(d *inflation.TableData) { d.Size, d.Class = "LT225/75R16", inflation.Truck }, "class: table", inflation.ErrTable},
		{"no such construction", func(d *inflation.TableData) { d.Construction = 99 }, "construction: value", inflation.ErrWord},
		{"another construction than the size's", func(d *inflation.TableData) { d.Size, d.Construction = "11R22.5", inflation.Bias }, "construction: table", inflation.ErrTable},
		{"no source", func(d *inflation.TableData) { d.Source = origin.Source{} }, "source: missing", origin.ErrSource},
		{"a title of two lines", func(d *inflation.TableData) { d.Source.Title = "a\nb" }, "source.title: value; source: missing", inflation.ErrInput},
		{"a locator too long", func(d *inflation.TableData) { d.Source.Locator = strings.Repeat("x", 201) }, "source.locator: value", inflation.ErrInput},
		{"no unit of pressure", func(d *inflation.TableData) { d.PressureUnit = 0 }, "pressure_unit: value", inflation.ErrInput},
		{"no unit of load", func(d *inflation.TableData) { d.LoadUnit = 2 * lb }, "load_unit: value", inflation.ErrInput},
		{"no rows", func(d *inflation.TableData) { d.Rows = nil }, "rows: missing", problem.ErrMissing},
		{"too many rows", func(d *inflation.TableData) {
			d.Rows = slices.Repeat(d.Rows, 100)
		}, "rows[200]: size; rows[3].pressure: order", problem.ErrSize},
		{"a pressure no tire has", func(d *inflation.TableData) { d.Rows[2].Pressure = 950 * psi }, "rows[2].pressure: value", inflation.ErrInput},
		{"no pressure that tires have", func(d *inflation.TableData) {
			d.Caps, d.Minimum = nil, 0
			for i := range d.Rows {
				d.Rows[i].Pressure /= 7
			}
		}, "rows[2].pressure: value", inflation.ErrInput},
		{"a load below zero", func(d *inflation.TableData) { d.Rows[1].Single = -lb }, "rows[1].single: value; caps[1].max: table", inflation.ErrInput},
		{"a load that no tire can carry alone", func(d *inflation.TableData) { d.Rows[1].Dual++ }, "rows[1].dual: value", origin.ErrPrecision},
		{"a column whose loads nobody knows", func(d *inflation.TableData) { d.Dual = 0 }, "dual: missing", problem.ErrMissing},
		{"no such count of tires", func(d *inflation.TableData) { d.Dual = 9 }, "dual: missing", problem.ErrMissing},
		{"a column without a load", func(d *inflation.TableData) {
			for i := range d.Rows {
				d.Rows[i].Dual = 0
			}
		}, "dual: table", inflation.ErrTable},
		{"pressures out of order", func(d *inflation.TableData) { d.Rows[0], d.Rows[1] = d.Rows[1], d.Rows[0] }, "rows[1].pressure: order", inflation.ErrOrder},
		{"loads out of order", func(d *inflation.TableData) { d.Rows[2].Single = 3500 * lb }, "rows[2].single: order", inflation.ErrOrder},
		{"a load that rises faster than the pressure", func(d *inflation.TableData) { d.Rows[2].Single = 3950 * lb }, "rows[2].single: order", inflation.ErrOrder},
		{"a gap", func(d *inflation.TableData) { d.Rows[1].Dual, d.Rows[2].Dual = 0, 6800*lb }, "rows[2].dual: order", inflation.ErrOrder},
		{"one dual load above the single one", func(d *inflation.TableData) {
			d.Rows[0].Dual, d.Rows[1].Dual, d.Rows[2].Dual = 6350*lb, 6590*lb, 7290*lb
		}, "rows[2].dual: order; rows[2].dual: order", inflation.ErrOrder},
		{"dual loads of a pair as if of a tire", func(d *inflation.TableData) { d.Dual = inflation.PerTire }, "rows[0].dual: basis", inflation.ErrLoadPer},
		{"dual loads of a tire as if of a pair", func(d *inflation.TableData) {
			for i := range d.Rows {
				d.Rows[i].Dual /= 2
			}
		}, "rows[0].dual: basis", inflation.ErrLoadPer},
		{"dual loads of nothing known", func(d *inflation.TableData) {
			for i := range d.Rows {
				d.Rows[i].Dual *= 7
			}
		}, "rows[0].dual: basis", inflation.ErrLoadPer},
		{"no such load range", func(d *inflation.TableData) { d.Caps[1].LoadRange = "I" }, "caps[1].load_range: value", inflation.ErrWord},
		{"a load range twice", func(d *inflation.TableData) { d.Caps[1].LoadRange = "G" }, "caps[1].load_range: duplicate-key", problem.ErrDuplicate},
		{"a cap on no row", func(d *inflation.TableData) { d.Caps[1].Max = 91 * psi }, "caps[1].max: table", inflation.ErrTable},
		{"a weaker range to a higher row", func(d *inflation.TableData) { d.Caps[0].Max, d.Caps[1].Max = 90*psi, 95*psi }, "caps[1].max: table", inflation.ErrTable},
		{"a minimum on no row", func(d *inflation.TableData) { d.Minimum = 86 * psi }, "minimum: table", inflation.ErrTable},
		{"a minimum above a cap", func(d *inflation.TableData) { d.Minimum = 95 * psi }, "minimum: table", inflation.ErrTable},
	} {
		data := printed()
		x.change(&data)
		table, err := inflation.NewTable(data)
		var found *origin.Problems
		var got []string
		if errors.As(err, &found) {
			for _, p := range found.All() {
				got = append(got, p.Path+": "+p.Code)
			}
		}
		if table != nil || strings.Join(got, "; ") != x.want || !errors.Is(err, x.cause) {
			t.Errorf("%s: %q, want %q\n%v", x.name, strings.Join(got, "; "), x.want, err)
		}
	}
}

// TestNeedAndCarriesRefuse: what makes no sense is an error, not an answer.
func TestNeedAndCarriesRefuse(t *testing.T) {
	table := listed(t, "table")
	single := table
	single.Table = tableOf(t, func(d *inflation.TableData) { d.Dual, d.Rows[0].Dual, d.Rows[1].Dual = 0, 0, 0 })
	single.LoadRange, single.Size = "G", ""
	stamped := inflation.Tire{Class: inflation.Truck, Single: inflation.Rating{Load: 3640 * lb, Pressure: 95 * psi}}
	load := weighed(3000, 0)
	for _, x := range []struct {
		name  string
		tire  inflation.Tire
		load  inflation.Load
		at    inflation.Pressure
		fit   weight.Fitment
		opt   inflation.Options
		cause error
	}{
		{"no dual loads", single, load, 90 * psi, weight.Dual, inflation.Options{}, inflation.ErrFitment},
		{"no fitment", table, load, 90 * psi, 0, inflation.Options{}, inflation.ErrFitment},
		{"an allowance below zero", table, load, 60 * psi, weight.Single, inflation.Options{AllowancePercent: -1}, inflation.ErrInput},
		{"an allowance without a table", stamped, load, 90 * psi, weight.Single, inflation.Options{AllowancePercent: 101}, inflation.ErrInput},
	} {
		if n, err := x.tire.Need(x.load, x.fit, x.opt, weight.US); !errors.Is(err, x.cause) || n != (inflation.Need{}) {
			t.Errorf("%s: need %+v, %v", x.name, n, err)
		}
		if c, err := x.tire.Carries(x.at, x.fit, inflation.Placard{}, x.opt, weight.US); !errors.Is(err, x.cause) || c != (inflation.Capacity{}) {
			t.Errorf("%s: carries %+v, %v", x.name, c, err)
		}
	}
	for _, p := range []inflation.Pressure{-1, 2000 * psi} {
		if _, err := table.Carries(p, weight.Single, inflation.Placard{}, inflation.Options{}, weight.US); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%s: %v", p, err)
		}
	}
	if _, err := table.Need(inflation.Load{Load: -1, State: inflation.Weighed}, weight.Single, inflation.Options{}, weight.US); !errors.Is(err, inflation.ErrInput) {
		t.Errorf("less than nothing: %v", err)
	}
	if n, err := table.Need(inflation.Load{Load: 3000 * lb}, weight.Single, inflation.Options{}, weight.US); err != nil || n.Known() {
		t.Errorf("a load that is not known: %+v, %v", n, err)
	}
	if c, err := stamped.Carries(90*psi, 0, inflation.Placard{}, inflation.Options{}, weight.US); !errors.Is(err, inflation.ErrFitment) {
		t.Errorf("no fitment, no table: %+v, %v", c, err)
	}
	if c, err := stamped.Carries(90*psi, weight.Dual, inflation.Placard{}, inflation.Options{}, weight.US); err != nil || c.Known() {
		t.Errorf("no dual stamp: %+v, %v", c, err)
	}
	// 3,640 x 90/95 / 1.10 = 3,134.92, x sqrt(90/95) / 1.10 = 3,220.83, each rounded down twice: computed
	if c, err := stamped.Carries(90*psi, weight.Single, inflation.Placard{}, inflation.Options{AllowancePercent: 10}, weight.US); err != nil || c.Low != 313492*lb/100 || c.High != 322082*lb/100 {
		t.Errorf("with an allowance of 10 %%: %+v, %v", c, err)
	}
	// The load range that was not read: at the least by F, to 90 psi, at the most by G.
	unread := single
	unread.LoadRange, unread.Single = "", inflation.Rating{}
	if c, err := unread.Carries(95*psi, weight.Single, inflation.Placard{}, inflation.Options{}, weight.US); err != nil || c.Low != 3515*lb || c.High != 3640*lb {
		t.Errorf("load range not read: %+v, %v", c, err)
	}
	var none inflation.Need
	known := inflation.Need{Low: 70 * psi, High: 80 * psi, From: inflation.FromTable}
	open := known
	open.OpenAbove = true
	if none.Or(none) != none || none.Or(known) != open || known.Or(none) != open {
		t.Error("a tire of which nothing is known leaves the other's need open above")
	}
}

func tableOf(t *testing.T, change func(*inflation.TableData)) *inflation.Table {
	t.Helper()
	data := printed()
	change(&data)
	table, err := inflation.NewTable(data)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// TestNewTableListsWhatItTakes: every word that would do.
func TestNewTableListsWhatItTakes(t *testing.T) {
	for _, x := range []struct {
		want   string
		change func(*inflation.TableData)
	}{
		{"want one of radial, bias, bias-belted", func(d *inflation.TableData) { d.Construction = 99 }},
		{"want one of passenger, light truck, truck, trailer", func(d *inflation.TableData) { d.Class = 0 }},
		{"want one of passenger, light truck, truck, trailer", func(d *inflation.TableData) { d.Class = 99 }},
		{"want one of psi, kPa, bar", func(d *inflation.TableData) { d.PressureUnit = 0 }},
		{"want one of lb, kg", func(d *inflation.TableData) { d.LoadUnit = 0 }},
	} {
		data := printed()
		x.change(&data)
		if _, err := inflation.NewTable(data); err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%v, want %s", err, x.want)
		}
	}
}

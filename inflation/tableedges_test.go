package inflation_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// whatIsWrong lists the problems of a table's figures, "path: code".
func whatIsWrong(t *testing.T, data inflation.TableData) string {
	t.Helper()
	_, err := inflation.NewTable(data)
	var found *origin.Problems
	if err != nil && !errors.As(err, &found) {
		t.Fatal(err)
	}
	var out []string
	if found != nil {
		for _, p := range found.All() {
			out = append(out, p.Path+": "+p.Code)
		}
	}
	return strings.Join(out, "; ")
}

// The least and the greatest that a table may have, and one more. The bounds of
// plausible figures are common practice.
func TestNewTableAtItsBounds(t *testing.T) {
	two := func(low, high inflation.Pressure, l0, l1 weight.Mass) func(*inflation.TableData) {
		return func(d *inflation.TableData) {
			d.Dual, d.Caps, d.Minimum = 0, nil, 0
			d.Rows = []inflation.PrintedRow{{Pressure: low, Single: l0}, {Pressure: high, Single: l1}}
		}
	}
	rows := func(n int) func(*inflation.TableData) {
		return func(d *inflation.TableData) {
			d.Dual, d.Caps, d.Minimum, d.Rows = 0, nil, 0, nil
			for i := range weight.Mass(n) {
				d.Rows = append(d.Rows, inflation.PrintedRow{Pressure: 80*psi + inflation.Pressure(i)*psi/10, Single: 3000*lb + i*lb})
			}
		}
	}
	dual := func(loads ...weight.Mass) func(*inflation.TableData) {
		return func(d *inflation.TableData) {
			d.Dual, d.Caps, d.Minimum = inflation.PerTire, nil, 0
			for i := range d.Rows {
				d.Rows[i].Single, d.Rows[i].Dual = weight.Mass(3000+100*i)*lb, loads[i]
			}
		}
	}
	for _, x := range []struct {
		name   string
		change func(*inflation.TableData)
		want   string
	}{
		{"a name of 100 bytes", func(d *inflation.TableData) { d.Name = strings.Repeat("n", 100) }, ""},
		{"a name of 101 bytes", func(d *inflation.TableData) { d.Name = strings.Repeat("n", 101) }, "name: value"},
		{"a name of one byte", func(d *inflation.TableData) { d.Name = "n" }, ""},
		{"a name with a tab", func(d *inflation.TableData) { d.Name = "a\tb" }, "name: value"},
		{"a name with a carriage return", func(d *inflation.TableData) { d.Name = "a\rb" }, "name: value"},
		{"a size of 40 bytes", func(d *inflation.TableData) { d.Size = "AX" + strings.Repeat("2", 38) }, ""},
		{"a size of 41 bytes", func(d *inflation.TableData) { d.Size = "AX" + strings.Repeat("2", 39) }, "size: value"},
		{"a title of 200 bytes", func(d *inflation.TableData) { d.Source.Title = strings.Repeat("t", 200) }, ""},
		{"a title of 201 bytes", func(d *inflation.TableData) { d.Source.Title = strings.Repeat("t", 201) }, "source.title: value; source: missing"},
		{"a locator of 200 bytes", func(d *inflation.TableData) { d.Source.Locator = strings.Repeat("l", 200) }, ""},
		{"bars", func(d *inflation.TableData) { d.PressureUnit = inflation.Bar }, ""},
		{"kilopascals and kilograms", func(d *inflation.TableData) { d.PressureUnit, d.LoadUnit = kPa, kg }, ""},
		{"a trailer tire", func(d *inflation.TableData) { d.Class = inflation.Trailer }, ""},
		{"one class too many", func(d *inflation.TableData) { d.Class = inflation.Trailer + 1 }, "class: value"},
		{"a bias-belted tire", func(d *inflation.TableData) { d.Construction = inflation.BiasBelted }, ""},
		{"one construction too many", func(d *inflation.TableData) { d.Construction = inflation.BiasBelted + 1 }, "construction: value"},
		{"a construction that nothing tells", func(d *inflation.TableData) { d.Construction = 0 }, ""},
		{"a metric size that is a commercial one", func(d *inflation.TableData) { d.Size, d.Class = "225/75R16", inflation.LightTruck }, ""},
		{"a metric size that is no truck's", func(d *inflation.TableData) { d.Size, d.Class = "225/75R16", inflation.Truck }, "class: table"},
		{"a P-metric size that is no light truck's", func(d *inflation.TableData) { d.Size, d.Class = "P225/75R16", inflation.LightTruck }, "class: table"},
		{"5 psi in the first row", two(5*psi, 25*psi, 700*lb, 3500*lb), ""},
		{"less than 5 psi", two(5*psi-1, 25*psi, 700*lb, 3500*lb), "rows[0].pressure: value"},
		{"25 psi in the last row", two(20*psi, 25*psi, 3000*lb, 3500*lb), ""},
		{"less than 25 psi", two(20*psi, 25*psi-1, 3000*lb, 3500*lb), "rows[1].pressure: value"},
		{"200 psi", two(195*psi, 200*psi, 3000*lb, 3050*lb), ""},
		{"more than 200 psi", two(195*psi, 200*psi+1, 3000*lb, 3050*lb), "rows[1].pressure: value"},
		{"200 rows", rows(200), ""},
		{"201 rows", rows(201), "rows[200]: size"},
		{"one row", rows(1), ""},
		{"a load of a step", two(50*psi, 100*psi, 1, 2), ""},
		{"no load in a row", two(50*psi, 100*psi, 0, 2), ""},
		{"no load in any row", two(50*psi, 100*psi, 0, 0), "single: table"},
		{"a load of a thousand tons", two(50*psi, 51*psi, 990_000*kg, 1_000_000*kg), ""},
		{"more than a thousand tons", two(50*psi, 51*psi, 990_000*kg, 1_000_000*kg+1), "rows[1].single: value"},
		{"alike in pressure", two(50*psi, 50*psi, 10*lb, 11*lb), "rows[1].pressure: order"},
		{"alike in load", two(50*psi, 60*psi, 10*lb, 10*lb), "rows[1].single: order"},
		{"a step more load", two(50*psi, 60*psi, 10*lb, 10*lb+1), ""},
		// 1,000 lb x 60/50 and 3 % of it for rounding: 1,236 lb.
		{"as much more as the pressure", two(50*psi, 60*psi, 1000*lb, 1200*lb), ""},
		{"3 % more than that", two(50*psi, 60*psi, 1000*lb, 1236*lb), ""},
		{"a step more than that", two(50*psi, 60*psi, 1000*lb, 1236*lb+1), "rows[1].single: order"},
		{"dual loads as single ones", dual(3000*lb, 3100*lb, 3200*lb), ""},
		{"one a step above", dual(3000*lb, 3100*lb, 3200*lb+1), "rows[2].dual: order"},
		{"all a step above", dual(3000*lb+1, 3100*lb+1, 3200*lb+1), "rows[0].dual: basis"},
		{"dual loads of 60 %", dual(1800*lb, 1860*lb, 1920*lb), ""},
		{"one a step below", dual(1800*lb-1, 1860*lb, 1920*lb), "rows[0].dual: order"},
		{"all a step below", dual(1800*lb-1, 1860*lb-1, 1920*lb-1), "rows[0].dual: basis"},
		{"one above and one below", dual(1800*lb-1, 1860*lb, 3200*lb+1), "rows[2].dual: order; rows[2].dual: order; rows[0].dual: order"},
		{"a cap on the last row", func(d *inflation.TableData) { d.Caps = []inflation.RangeCap{{"G", 95 * psi}} }, ""},
		{"two load ranges to one row", func(d *inflation.TableData) { d.Caps = []inflation.RangeCap{{"G", 90 * psi}, {"F", 90 * psi}} }, ""},
		{"a stronger range to a lower row", func(d *inflation.TableData) { d.Caps = []inflation.RangeCap{{"F", 95 * psi}, {"G", 90 * psi}} }, "caps[1].max: table"},
		{"ranges without a ply rating", func(d *inflation.TableData) { d.Caps = []inflation.RangeCap{{"XL", 85 * psi}, {"SL", 95 * psi}} }, ""},
		{"a range with and one without", func(d *inflation.TableData) {
			d.Caps = []inflation.RangeCap{{"XL", 85 * psi}, {"G", 95 * psi}, {"F", 85 * psi}}
		}, ""},
		{"a minimum on the lowest cap", func(d *inflation.TableData) { d.Minimum = 90 * psi }, ""},
		{"a minimum without caps", func(d *inflation.TableData) { d.Caps, d.Minimum = nil, 95*psi }, ""},
		{"a minimum between rows", func(d *inflation.TableData) { d.Minimum = 90*psi - 1 }, "minimum: table"},
	} {
		data := printed()
		x.change(&data)
		if got := whatIsWrong(t, data); got != x.want {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}

// A basis that cannot be is told with the one that makes sense of the figure printed.
func TestWrongBasisIsNamed(t *testing.T) {
	for _, x := range []struct {
		stated inflation.LoadPer
		times  weight.Mass // of a load of 90 % of the single one
		want   string
	}{
		{inflation.PerTire, 2, `"per end" (3159 lb on one tire)`},
		{inflation.PerTire, 4, `"per axle" (3159 lb on one tire)`},
		{inflation.PerEnd, 1, `"per tire" (3159 lb on one tire)`},
		{inflation.PerEnd, 4, `"per axle" (3159 lb on one tire)`},
		{inflation.PerAxle, 1, `"per tire" (3159 lb on one tire)`},
		{inflation.PerAxle, 2, `"per end" (3159 lb on one tire)`},
		{inflation.PerTire, 9, "see how both columns are headed"},
	} {
		data := printed()
		data.Dual, data.Caps, data.Minimum = x.stated, nil, 0
		for i := range data.Rows {
			data.Rows[i].Single = weight.Mass(3510+100*i) * lb
			data.Rows[i].Dual = data.Rows[i].Single / 10 * 9 * x.times
		}
		if _, err := inflation.NewTable(data); err == nil || !strings.Contains(err.Error(), x.want) || !errors.Is(err, inflation.ErrLoadPer) {
			t.Errorf("%s, printed %d times: %v, want %s", x.stated, x.times, err, x.want)
		}
	}
	// At 60 % and at all of the single load another basis still makes sense; beyond them not.
	for _, x := range []struct {
		dual weight.Mass // printed per tire for single loads of 3,000 lb and more
		want bool
	}{{6000 * lb, true}, {6000*lb + 8, false}, {3600 * lb, true}} {
		data := printed()
		data.Dual, data.Caps, data.Minimum = inflation.PerTire, nil, 0
		for i := range data.Rows {
			data.Rows[i].Single, data.Rows[i].Dual = weight.Mass(3000+i)*lb, x.dual+weight.Mass(i)*2*lb
		}
		if _, err := inflation.NewTable(data); err == nil || strings.Contains(err.Error(), `makes sense as "per end"`) != x.want {
			t.Errorf("%s printed: %v", x.dual, err)
		}
	}
}

// Which rows may be used, by fitment and load range: from the minimum to the cap.
func TestRowsThatMayBeUsed(t *testing.T) {
	table := tableOf(t, func(d *inflation.TableData) {
		d.Caps, d.Minimum = []inflation.RangeCap{{"H", 0}, {"F", 85 * psi}, {"G", 90 * psi}}, 85*psi
		d.Rows = append([]inflation.PrintedRow{{80 * psi, 3250 * lb, 6100 * lb}}, d.Rows...)
	})
	for _, x := range []struct {
		fit       weight.Fitment
		lr        inflation.LoadRange
		low, high inflation.Pressure
		bad       error
	}{
		{weight.Single, "F", 85, 85, nil}, {weight.Single, "G", 85, 90, nil}, {weight.Single, "H", 85, 95, nil}, {weight.Single, "", 85, 85, nil},
		{weight.Dual, "F", 85, 85, nil}, {weight.Dual, "G", 85, 90, nil}, {weight.Dual, "H", 85, 90, nil}, {weight.Dual, "", 85, 85, nil},
		{weight.Single, "E", 0, 0, inflation.ErrLoadRange}, {0, "F", 0, 0, inflation.ErrFitment}, {3, "F", 0, 0, inflation.ErrFitment},
	} {
		low, high, err := table.Range(x.fit, x.lr)
		if low.Pressure != x.low*psi || high.Pressure != x.high*psi || !errors.Is(err, x.bad) {
			t.Errorf("%s, load range %q: %s to %s, %v", x.fit, x.lr, low.Pressure, high.Pressure, err)
		}
		if table.Serves(x.lr) != (x.lr != "E") {
			t.Errorf("serves %q: %v", x.lr, table.Serves(x.lr))
		}
	}
	var caps []string
	for lr, p := range table.Caps() {
		caps = append(caps, fmt.Sprint(lr, " ", p))
	}
	if want := []string{"F 85 psi", "G 90 psi", "H 95 psi"}; !slices.Equal(caps, want) {
		t.Errorf("caps %v", caps)
	}
	for range table.Caps() {
		break
	}
	for range table.Rows(weight.Single) {
		break
	}
	if n := len(slices.Collect(table.Rows(weight.Single))); n != 4 {
		t.Errorf("%d single rows", n)
	}
	if n := len(slices.Collect(table.Rows(weight.Dual))); n != 3 {
		t.Errorf("%d dual rows", n)
	}
	single := tableOf(t, func(d *inflation.TableData) {
		d.Dual = 0
		for i := range d.Rows {
			d.Rows[i].Dual = 0
		}
	})
	for _, fit := range []weight.Fitment{weight.Dual, 0, 3} {
		for row := range single.Rows(fit) {
			t.Errorf("%s: a row %+v of a table for single tires", fit, row)
		}
	}
	// A column without a row under the cap serves nothing, and says why.
	high := tableOf(t, func(d *inflation.TableData) {
		d.Minimum, d.Caps = 0, []inflation.RangeCap{{"F", 85 * psi}, {"G", 0}}
		d.Rows[0].Dual = 0
		d.Rows[2].Dual = 6800 * lb
	})
	if _, _, err := high.Range(weight.Dual, "F"); !errors.Is(err, inflation.ErrFitment) || !strings.Contains(err.Error(), "no row is left") {
		t.Errorf("no row left: %v", err)
	}
	if low, top, err := high.Range(weight.Dual, "G"); err != nil || low.Pressure != 90*psi || top.Pressure != 95*psi {
		t.Errorf("dual rows of G: %s to %s, %v", low.Pressure, top.Pressure, err)
	}
}

// What a load is on the end and on each tire, by what it counts: 55 % of an axle on one
// end (common practice), all rounded up to 0.01 lb or 1 g. Computed.
func TestShareOfAtItsEdges(t *testing.T) {
	for _, x := range []struct {
		load      weight.Mass
		per       inflation.LoadPer
		fit       weight.Fitment
		end, tire weight.Mass
		text      string
		bad       error
	}{
		{1000 * lb, inflation.PerTire, weight.Single, 1000 * lb, 1000 * lb, "1000 lb on each tire", nil},
		{1000 * lb, inflation.PerTire, weight.Dual, 2000 * lb, 1000 * lb, "1000 lb on each tire", nil},
		{1000 * lb, inflation.PerEnd, weight.Single, 1000 * lb, 1000 * lb, "1000 lb on the end = 1000 lb on its one tire", nil},
		{1000 * lb, inflation.PerEnd, weight.Dual, 1000 * lb, 500 * lb, "1000 lb on the end = 500 lb on each tire", nil},
		{1000 * lb, inflation.PerAxle, weight.Single, 550 * lb, 550 * lb, "1000 lb on the axle, 55 % assumed on one end = 550 lb = 550 lb on each tire", nil},
		{1000 * lb, inflation.PerAxle, weight.Dual, 550 * lb, 275 * lb, "1000 lb on the axle, 55 % assumed on one end = 550 lb = 275 lb on each tire", nil},
		{lb / 100, inflation.PerEnd, weight.Dual, lb / 100, lb / 100, "0.01 lb on the end = 0.01 lb on each tire", nil},
		{3 * lb / 100, inflation.PerAxle, weight.Dual, 2 * lb / 100, lb / 100, "0.03 lb on the axle, 55 % assumed on one end = 0.02 lb = 0.01 lb on each tire", nil},
		{0, inflation.PerAxle, weight.Single, 0, 0, "0 lb on the axle, 55 % assumed on one end = 0 lb = 0 lb on each tire", nil},
		{-1, inflation.PerTire, weight.Single, 0, 0, "not known", inflation.ErrInput},
		{1_000_000*kg + 1, inflation.PerTire, weight.Single, 0, 0, "not known", inflation.ErrInput},
		{lb, 0, weight.Single, 0, 0, "not known", inflation.ErrInput},
		{lb, inflation.PerAxle + 1, weight.Single, 0, 0, "not known", inflation.ErrInput},
		{lb, inflation.PerTire, 0, 0, 0, "not known", inflation.ErrFitment},
		{lb, inflation.PerTire, 3, 0, 0, "not known", inflation.ErrFitment},
	} {
		got, err := inflation.ShareOf(x.load, x.per, x.fit, weight.US)
		if got.End != x.end || got.Tire != x.tire || got.String() != x.text || !errors.Is(err, x.bad) || got.Assumed != (x.per == inflation.PerAxle) {
			t.Errorf("%d %s, %s: %+v %q, %v", x.load, x.per, x.fit, got, got, err)
		}
		if x.bad == nil && got.Tires != int(x.fit) {
			t.Errorf("%s: %d tires", x.fit, got.Tires)
		}
	}
	if _, err := inflation.ShareOf(1_000_000*kg, inflation.PerTire, weight.Dual, weight.Metric); err != nil {
		t.Errorf("a thousand tons: %v", err)
	}
}

// TestCarriesBelowTheFirstRow: less than the first row has, which for a passenger tire on
// a coach is divided by 1.10 and rounded down (49 CFR 571.120 S5.1.2; computed: 1501 lb
// and 3385 lb over 1.1 are 1364.54 lb and 3077.27 lb).
func TestCarriesBelowTheFirstRow(t *testing.T) {
	for _, x := range []struct {
		class       inflation.Class
		first, most string
		opt         inflation.Options
	}{
		{inflation.Truck, "1501 lb", "1501 lb", inflation.Options{}},
		{inflation.Passenger, "1501 lb", "1364.54 lb", inflation.Options{}},
		{inflation.Passenger, "3385 lb", "3077.27 lb", inflation.Options{}},
		{inflation.Passenger, "3385 lb", "3385 lb", inflation.Options{OnPassengerCar: true}},
	} {
		table := tableOf(t, func(d *inflation.TableData) {
			d.Class, d.Caps, d.Minimum, d.Dual = x.class, nil, 0, 0
			d.Rows = []inflation.PrintedRow{{30 * psi, weight.MustParseMass(x.first), 0}, {31 * psi, weight.MustParseMass(x.first) + lb, 0}}
		})
		tire := inflation.Tire{Name: "tire", Size: "AX240/75R20", Class: x.class, Table: table}
		c, err := tire.Carries(30*psi-1, weight.Single, inflation.Placard{}, x.opt, weight.US)
		if err != nil || c.Low != 0 || c.High != weight.MustParseMass(x.most) {
			t.Errorf("%s, first row %s: %+v, %v, want at most %s", x.class, x.first, c, err, x.most)
		}
	}
}

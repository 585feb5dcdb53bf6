package main

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/interp"

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

const rows = 20

// rowOf is a row of an invented table whose loads rise by less and less.
func rowOf(i int64) (psi, pounds int64) { return 35 + 5*i, 1800 + 110*i - i*i }

// newTable is the table, of an invented size.
func newTable(size string) (*inflation.Table, error) {
	data := inflation.TableData{
		Name: "twenty rows", Size: size, Class: inflation.Truck,
		Source:       origin.Source{Grade: origin.Invented, Title: "made up for a comparison"},
		PressureUnit: inflation.PSI, LoadUnit: weight.Pound, Single: inflation.PerTire, Dual: inflation.PerTire,
	}
	for i := range int64(rows) {
		psi, pounds := rowOf(i)
		load := weight.Mass(pounds) * weight.Pound
		data.Rows = append(data.Rows, inflation.PrintedRow{Pressure: inflation.Pressure(psi) * inflation.PSI, Single: load, Dual: load - 200*weight.Pound})
	}
	return inflation.NewTable(data)
}

var errAbove = errors.New("above the last row")

// decimalTable reads the same table in decimals, exactly.
type decimalTable struct{ psi, pounds []decimal.Decimal }

func newDecimalTable() (t decimalTable) {
	for i := range int64(rows) {
		psi, pounds := rowOf(i)
		t.psi, t.pounds = append(t.psi, decimal.NewFromInt(psi)), append(t.pounds, decimal.NewFromInt(pounds))
	}
	return t
}

// pressureFor is rounded up to the step.
func (t decimalTable) pressureFor(load, step decimal.Decimal) (decimal.Decimal, error) {
	i, _ := slices.BinarySearchFunc(t.pounds, load, decimal.Decimal.Cmp)
	if i == rows {
		return decimal.Decimal{}, errAbove
	}
	if i == 0 {
		return t.psi[0], nil
	}
	span := t.pounds[i].Sub(t.pounds[i-1]).Mul(step)
	steps, rest := t.psi[i].Sub(t.psi[i-1]).Mul(load.Sub(t.pounds[i-1])).QuoRem(span, 0)
	if !rest.IsZero() {
		steps = steps.Add(decimal.NewFromInt(1))
	}
	return t.psi[i-1].Add(steps.Mul(step)), nil
}

// capacityAt is rounded down to the step.
func (t decimalTable) capacityAt(psi, step decimal.Decimal) (decimal.Decimal, error) {
	i, found := slices.BinarySearchFunc(t.psi, psi, decimal.Decimal.Cmp)
	if i == rows {
		return decimal.Decimal{}, errAbove
	}
	if found {
		return t.pounds[i], nil
	}
	span := t.psi[i].Sub(t.psi[i-1]).Mul(step)
	steps, _ := t.pounds[i].Sub(t.pounds[i-1]).Mul(psi.Sub(t.psi[i-1])).QuoRem(span, 0)
	return t.pounds[i-1].Add(steps.Mul(step)), nil
}

// lookups are the three tables.
type lookups struct {
	table              *inflation.Table
	decimals           decimalTable
	pressure, capacity interp.PiecewiseLinear // gonum's, in psi and lb
}

func newLookups() (*lookups, error) {
	l := &lookups{decimals: newDecimalTable()}
	var err error
	if l.table, err = newTable("AX1"); err != nil {
		return nil, err
	}
	var psi, pounds []float64
	for i := range int64(rows) {
		p, w := rowOf(i)
		psi, pounds = append(psi, float64(p)), append(pounds, float64(w))
	}
	return l, errors.Join(l.pressure.Fit(pounds, psi), l.capacity.Fit(psi, pounds))
}

var (
	opt       = inflation.Options{Method: inflation.Interpolated, Step: inflation.PSI}
	one       = decimal.NewFromInt(1)
	hundredth = decimal.New(1, -2)
)

// loads are all that the table carries, every half pound, and pressures every
// tenth of a psi.
func (l *lookups) loads() (halves []int64) {
	for n := int64(2 * 1800); n <= 2*(1800+110*19-19*19); n++ {
		halves = append(halves, n)
	}
	return halves
}

func (l *lookups) pressures() (tenths []int64) {
	for n := int64(350); n <= 1300; n++ {
		tenths = append(tenths, n)
	}
	return tenths
}

// same holds ours to the decimals and counts where floats are off.
func (l *lookups) same() ([]string, error) {
	off, all := 0, 0
	for _, n := range l.loads() {
		answer, err := l.table.PressureFor(weight.Mass(n)*weight.Pound/2, weight.Single, opt)
		if err != nil {
			return nil, err
		}
		want, err := l.decimals.pressureFor(decimal.New(5*n, -1), one)
		if err != nil || !answer.Pressure.In(inflation.PSI, 4, weight.Floor).Equal(want) {
			return nil, fmt.Errorf("%d half pounds: ours %v, decimals %v psi, %v", n, answer.Pressure, want, err)
		}
		if all++; math.Ceil(l.pressure.Predict(float64(n)/2)) != want.InexactFloat64() {
			off++
		}
	}
	notes := []string{fmt.Sprintf("The pressure for each of %d loads, interpolated and rounded up to 1 psi: ours and decimals equal; floats are another whole psi for %d.", all, off)}
	off, all = 0, 0
	for _, n := range l.pressures() {
		load, err := l.table.CapacityAt(inflation.Pressure(n)*inflation.PSI/10, weight.Single, opt)
		if err != nil {
			return nil, err
		}
		want, err := l.decimals.capacityAt(decimal.New(n, -1), hundredth)
		if err != nil || !load.In(weight.Pound, 4, weight.Floor).Equal(want) {
			return nil, fmt.Errorf("%d tenths of a psi: ours %v, decimals %v lb, %v", n, load, want, err)
		}
		if all++; math.Floor(l.capacity.Predict(float64(n)/10)*100)/100 != want.InexactFloat64() {
			off++
		}
	}
	return append(notes, fmt.Sprintf("What a tire carries at each of %d pressures, rounded down to 0.01 lb: ours and decimals equal; floats are 0.01 lb off for %d.", all, off)), nil
}

func compareLookups() ([]bench, []string, error) {
	l, err := newLookups()
	if err != nil {
		return nil, nil, err
	}
	notes, err := l.same()
	if err != nil {
		return nil, nil, err
	}
	// A call does a hundred, from all over the table; what is looked up stands
	// ready in each way's own form.
	const n = 100
	var loads [n]weight.Mass
	var pressures [n]inflation.Pressure
	var pounds, psi [n]float64
	var decPounds, decPSI [n]decimal.Decimal
	for i := range int64(n) {
		half, tenth := 3600+i*34, 350+i*9
		loads[i], pounds[i], decPounds[i] = weight.Mass(half)*weight.Pound/2, float64(half)/2, decimal.New(5*half, -1)
		pressures[i], psi[i], decPSI[i] = inflation.Pressure(tenth)*inflation.PSI/10, float64(tenth)/10, decimal.New(tenth, -1)
	}
	var last struct{ psi, pounds float64 } // so that no work is left out
	return []bench{
		{"the pressure for a load, interpolated", "look-up", n, []way{
			{"inflation.PressureFor", times(n, func(i int) error { _, err := l.table.PressureFor(loads[i], weight.Single, opt); return err })},
			{"gonum, float64", times(n, func(i int) error { last.psi = math.Ceil(l.pressure.Predict(pounds[i])); return nil })},
			{"decimals", times(n, func(i int) error { _, err := l.decimals.pressureFor(decPounds[i], one); return err })},
		}},
		{"what a tire carries, interpolated", "look-up", n, []way{
			{"inflation.CapacityAt", times(n, func(i int) error { _, err := l.table.CapacityAt(pressures[i], weight.Single, opt); return err })},
			{"gonum, float64", times(n, func(i int) error { last.pounds = math.Floor(l.capacity.Predict(psi[i])*100) / 100; return nil })},
			{"decimals", times(n, func(i int) error { _, err := l.decimals.capacityAt(decPSI[i], hundredth); return err })},
		}},
	}, notes, nil
}

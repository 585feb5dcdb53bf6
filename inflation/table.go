package inflation

import (
	"errors"
	"fmt"
	"iter"
	"math/bits"

	"axleend.example/internal/quantity"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Sentinel causes of a look-up that has no answer.
var (
	// ErrOverload says that the load is above what the last allowed row
	// carries: there is no pressure for it. The error is a [*LoadError].
	ErrOverload = errors.New("load above the last allowed row")
	// ErrBelowFirstRow says that a pressure is below the first row that may be
	// used: nobody has data there, so no load is supported.
	ErrBelowFirstRow = errors.New("pressure below the first row")
	// ErrFitment says that the fitment is not known, or that the table has no
	// column for it. A dual figure is never made from a single one, nor the
	// other way around.
	ErrFitment = errors.New("no loads for this fitment")
	// ErrLoadRange says that the table does not serve the load range.
	ErrLoadRange = errors.New("load range not in the table")
	// ErrInput says that an argument makes no sense, such as a negative load.
	ErrInput = errors.New("unusable input")
)

// A LoadError is a load that nothing allowed can carry: what was asked, what
// is the most one tire may carry (derated where it must be, rounded down) and
// at which pressure, and by how much the load is above that. All per tire.
type LoadError struct {
	// Load is what was asked for.
	Load weight.Mass
	// Limit is the most that one tire may carry, rounded down.
	Limit weight.Mass
	// Excess is Load less Limit.
	Excess weight.Mass
	// At is the pressure at which it carries Limit.
	At Pressure
	// Fitment is the one asked for.
	Fitment weight.Fitment
}

// Error gives the load, the limit, its pressure and the excess.
func (e *LoadError) Error() string {
	return fmt.Sprintf("load of %s on a tire (%s): at most %s at %s, %s too much: %s",
		e.Load, e.Fitment, e.Limit, e.At, e.Excess, ErrOverload)
}

// Unwrap returns [ErrOverload].
func (e *LoadError) Unwrap() error { return ErrOverload }

// A Method is how a pressure is found between two rows. The zero Method is
// NextRow.
type Method uint8

// The methods.
const (
	// NextRow takes the first row whose load is not below the one asked for,
	// the way charts are meant to be read.
	NextRow Method = iota
	// Interpolated goes along the straight line between two rows and rounds up
	// to the gauge's step. Load grows with pressure to a power of at most 1, so
	// that line lies on the safe side of the curve.
	Interpolated
)

var methods = word.List[Method]{Kind: "method", Unknown: ErrWord, Words: []string{"next row", "interpolated"}}

// String gives "next row" or "interpolated".
func (m Method) String() string { return methods.String(m) }

// AppendText appends "next row" or "interpolated". An unknown value is an error.
func (m Method) AppendText(dst []byte) ([]byte, error) { return methods.Append(dst, m) }

// MarshalText writes what [Method.AppendText] appends.
func (m Method) MarshalText() ([]byte, error) { return methods.Text(m) }

// UnmarshalText reads what [Method.MarshalText] writes; the error matches
// [ErrWord].
func (m *Method) UnmarshalText(text []byte) error { return methods.Read(m, text) }

// Options say how a table is read. The zero value is the strictest: next row
// up, the lowest of the table's load-range caps, passenger tires derated.
type Options struct {
	// Method is how to read between rows.
	Method Method
	// Step is the gauge's step: the pressure is rounded up to a multiple of
	// it, but never past the last allowed row, which is then given as printed.
	// 0 leaves a row as printed, and rounds an interpolated pressure up to
	// 1 psi, 10 kPa or 0.1 bar, after the table's unit.
	Step Pressure
	// LoadRange is the tire's. Empty means not known: the lowest of the
	// table's caps holds.
	LoadRange LoadRange
	// AllowancePercent is added to the load before the look-up, 0 to 100, for
	// those who want a reserve. It never makes a pressure lower.
	AllowancePercent int
	// OnPassengerCar says that the vehicle is a passenger car, where passenger
	// tires carry their full rating. Everywhere else they are derated by 1.10.
	OnPassengerCar bool
}

// A Row is one row of a table's column: a cold pressure and the load that ONE
// tire carries at it, neither rounded nor derated.
type Row struct {
	// Pressure is cold.
	Pressure Pressure `json:"pressure"`
	// Load is that on ONE tire.
	Load weight.Mass `json:"load"`
}

// A LookUp is a pressure that was looked up or estimated, and what it rests
// on.
type LookUp struct {
	// Pressure is the least cold pressure that the data supports for the load.
	Pressure Pressure `json:"pressure"`
	// Load is what was looked up, per tire: the load asked for, with the
	// allowance and the 1.10 of a derated passenger tire on top, rounded up.
	Load weight.Mass `json:"load"`
	// Lower is the row below Upper; zero if Upper is the first, and in an
	// estimate.
	Lower Row `json:"lower,omitzero"`
	// Upper is the row that carries the load; zero in an estimate.
	Upper Row `json:"upper,omitzero"`
	// Method is how the answer was read between Lower and Upper.
	Method Method `json:"method"`
	// AtFloor says that the load would need less than the first row of a table,
	// or that an estimate stands at its floor, where a real table might ask for
	// more.
	AtFloor bool `json:"at_floor,omitzero"`
	// AtCap says that the highest allowed pressure stopped the answer short of
	// the next step or row: it carries the load, but lies on neither.
	AtCap bool `json:"at_cap,omitzero"`
	// Derated says that the load was multiplied by 1.10.
	Derated bool `json:"derated,omitzero"`
	// Estimated says that there was no table: see [Estimate]. Whoever shows
	// the pressure shows this with it.
	Estimated bool `json:"estimated,omitzero"`
}

// A Table is one size's load and inflation table as somebody typed it in:
// from [NewTable] only, valid, and never changed afterwards, so any number
// of goroutines may use it. The zero Table has no rows and serves no fitment.
type Table struct {
	name         string
	file         string
	size         string // as written
	key          string // normalized
	class        Class
	construction Construction
	source       origin.Source
	pressureUnit Pressure
	loadUnit     weight.Mass
	grid         weight.Mass // of computed loads
	caps         []rangeCap  // lowest load range first
	minimum      Pressure
	single, dual column
}

// A column is the rows of one fitment, lowest first. Pressures and loads lie
// apart so that a search walks one dense slice.
type column struct {
	basis     LoadPer
	pressures []Pressure
	loads     []weight.Mass // on one tire
	first     int           // the minimum row
	lowest    int           // the last row of the lowest load range
	ranges    []rangeRow    // of the table's caps
}

type rangeCap struct {
	loadRange LoadRange
	max       Pressure
}

// A rangeRow is the last row that a load range allows, -1 for none. The load
// range is one or two letters: comparing them as a number is what keeps a
// look-up fast.
type rangeRow struct {
	code uint16
	last int
}

func (r LoadRange) code() uint16 {
	switch len(r) {
	case 1:
		return uint16(r[0])
	case 2:
		return uint16(r[0])<<8 | uint16(r[1])
	}
	return 0 // what no load range has
}

// Name is what the table calls itself; answers quote it.
func (t *Table) Name() string { return t.name }

// File is the file it was read from.
func (t *Table) File() string { return t.file }

// Size is the size designation as it was given.
func (t *Table) Size() string { return t.size }

// Class is the class of tire, as stated or as the size says.
func (t *Table) Class() Class { return t.class }

// Construction is as stated or as the size says, or not known.
func (t *Table) Construction() Construction { return t.construction }

// Source is where the figures come from.
func (t *Table) Source() origin.Source { return t.source }

// Units are one unit of the pressures and of the loads as printed: PSI,
// Kilopascal or Bar, and Pound or Kilogram.
func (t *Table) Units() (Pressure, weight.Mass) { return t.pressureUnit, t.loadUnit }

// System is the unit system of the table's loads.
func (t *Table) System() weight.System {
	if t.loadUnit == weight.Kilogram {
		return weight.Metric
	}
	return weight.US
}

// LoadsPer is how the loads of a fitment were printed; zero for a fitment that
// the table does not serve.
func (t *Table) LoadsPer(fit weight.Fitment) LoadPer {
	if c := t.columnOf(fit); c != nil {
		return c.basis
	}
	return 0
}

// Minimum is the lowest row that may be used.
func (t *Table) Minimum() Pressure { return t.minimum }

// Rows gives the rows of a fitment from the lowest up, those below the
// minimum and above any cap included, with the load on ONE tire; nothing for
// a fitment that the table does not serve.
func (t *Table) Rows(fit weight.Fitment) iter.Seq[Row] {
	return func(yield func(Row) bool) {
		c := t.columnOf(fit)
		if c == nil {
			return
		}
		for i := range c.pressures {
			if !yield(c.row(i)) {
				return
			}
		}
	}
}

// Caps gives the load ranges that the table serves, each with its highest
// pressure, lowest first. A table without any serves every load range to its
// last row.
func (t *Table) Caps() iter.Seq2[LoadRange, Pressure] {
	return func(yield func(LoadRange, Pressure) bool) {
		for _, c := range t.caps {
			if !yield(c.loadRange, c.max) {
				return
			}
		}
	}
}

// Serves reports whether the table has rows for the load range; one that is
// not known is served by any table.
func (t *Table) Serves(lr LoadRange) bool {
	if lr == "" || len(t.caps) == 0 {
		return true
	}
	for i := range t.caps {
		if t.caps[i].loadRange == lr {
			return true
		}
	}
	return false
}

func (t *Table) columnOf(fit weight.Fitment) *column {
	switch fit {
	case weight.Single:
		if len(t.single.loads) > 0 {
			return &t.single
		}
	case weight.Dual:
		if len(t.dual.loads) > 0 {
			return &t.dual
		}
	}
	return nil
}

// allowed returns the column of a fitment and the last row of the load range,
// or nil: notAllowed says why.
func (t *Table) allowed(fit weight.Fitment, lr LoadRange) (c *column, last int) {
	switch fit {
	case weight.Single:
		c = &t.single
	case weight.Dual:
		c = &t.dual
	default:
		return nil, 0
	}
	last = c.lowest
	if lr != "" && len(c.ranges) > 0 {
		last = -1
		code := lr.code()
		for i := range c.ranges {
			if c.ranges[i].code == code {
				last = c.ranges[i].last
				break
			}
		}
	}
	if last < c.first || last >= len(c.loads) {
		return nil, 0
	}
	return c, last
}

// notAllowed says why there is no row.
func (t *Table) notAllowed(fit weight.Fitment, lr LoadRange) error {
	switch {
	case t.columnOf(fit) == nil:
		return fmt.Errorf("table %q, fitment %s: %w", word.Clip(t.name), fit, ErrFitment)
	case !t.Serves(lr):
		return fmt.Errorf("table %q, load range %s: %w", word.Clip(t.name), word.Clip(string(lr)), ErrLoadRange)
	}
	return fmt.Errorf("table %q, fitment %s: no row is left under the load range's cap: %w", word.Clip(t.name), fit, ErrFitment)
}

func (c *column) row(i int) Row { return Row{c.pressures[i], c.loads[i]} }

// Range gives the lowest and the highest row that may be used for a fitment
// and load range, not derated. Errors match [ErrFitment] or [ErrLoadRange].
func (t *Table) Range(fit weight.Fitment, lr LoadRange) (lowest, highest Row, err error) {
	c, last := t.allowed(fit, lr)
	if c == nil {
		return Row{}, Row{}, t.notAllowed(fit, lr)
	}
	return c.row(c.first), c.row(last), nil
}

// factor is what loads are multiplied by before a look-up, in 1/10,000: the
// 1.10 of 49 CFR 571.120 S5.1.2 for passenger tires, and the allowance.
func factor(derated bool, allowance int) (int64, error) {
	if allowance < 0 || allowance > 100 {
		return 0, fmt.Errorf("load allowance of %d percent: want 0 to 100: %w", allowance, ErrInput)
	}
	f := int64(100 + allowance)
	if derated {
		return f * (deratedUnity / 100), nil
	}
	return f * (unity / 100), nil
}

const (
	unity        = 10_000
	deratedUnity = 11_000
)

// derates reports whether tires of the class carry less than their rating on
// the vehicle; a class not known counts as passenger.
func derates(class Class, onPassengerCar bool) bool {
	return !onPassengerCar && (class == Passenger || class == 0)
}

// PressureFor gives the least cold pressure at which ONE tire carries the
// load in the fitment: the first row whose load is not below it, or, with
// [Interpolated], the point between two rows rounded up to the step. A
// passenger tire's load counts 1.10 times unless the vehicle is a passenger
// car. Below the first row it is the first row. Exact at rows.
//
// Errors: a [*LoadError] with the excess above the last row that the load
// range allows; [ErrFitment], [ErrLoadRange], or [ErrInput] for a negative
// load, step or allowance.
func (t *Table) PressureFor(load weight.Mass, fit weight.Fitment, opt Options) (a LookUp, err error) {
	c, last := t.allowed(fit, opt.LoadRange)
	if c == nil {
		return a, t.notAllowed(fit, opt.LoadRange)
	}
	derated := derates(t.class, opt.OnPassengerCar)
	f := int64(unity)
	if derated || opt.AllowancePercent != 0 {
		if f, err = factor(derated, opt.AllowancePercent); err != nil {
			return a, err
		}
	}
	if load < 0 || opt.Step < 0 {
		return a, negative(load, opt.Step)
	}
	want := load
	if f != unity {
		v, ok := quantity.MulDiv(int64(load), f, unity, quantity.Ceiling)
		if want = weight.Mass(v); !ok {
			want = 1<<63 - 1 // more than any row
		}
	}
	if want > c.loads[last] {
		return a, c.overload(load, fit, last, f)
	}
	lo := c.rowFor(want, last)
	// The result is filled in place: copying it costs as much as finding it.
	a.Load, a.Method, a.Derated = want, opt.Method, derated
	a.Upper.Pressure, a.Upper.Load = c.pressures[lo], c.loads[lo]
	a.Pressure = a.Upper.Pressure
	if lo > c.first {
		a.Lower.Pressure, a.Lower.Load = c.pressures[lo-1], c.loads[lo-1]
	} else {
		a.AtFloor = want < a.Upper.Load
	}
	step := opt.Step
	if opt.Method == Interpolated {
		if lo > c.first {
			a.Pressure = a.between(want)
		}
		if step == 0 && a.Pressure != a.Upper.Pressure {
			step = t.defaultStep()
		}
	}
	if step > 0 {
		a.Pressure, a.AtCap = roundUpTo(a.Pressure, step, c.pressures[last])
	}
	return a, nil
}

// rowFor is the first row to be used, up to the last, that carries the load; the last
// one does.
func (c *column) rowFor(load weight.Mass, last int) int {
	lo := c.first // the answer is in the n rows from lo
	for n := last - lo + 1; n > 1; {
		half := n / 2
		if c.loads[lo+half-1] < load {
			lo += half
		}
		n -= half
	}
	return lo
}

// between is the pressure for a load between the lower row and the upper, rounded up.
func (a *LookUp) between(load weight.Mass) Pressure {
	up, rest := part(int64(a.Upper.Pressure-a.Lower.Pressure), int64(load-a.Lower.Load), int64(a.Upper.Load-a.Lower.Load))
	if rest > 0 {
		up++
	}
	return a.Lower.Pressure + Pressure(up)
}

// part is the share n/of of a whole, rounded down, and what remains; n is from
// 0 to of, so it fits. It is quantity.MulDiv for the two look-ups, where the
// call would cost as much as the division.
func part(whole, n, of int64) (share, rest uint64) {
	hi, lo := bits.Mul64(uint64(whole), uint64(n))
	return bits.Div64(hi, lo, uint64(of))
}

// roundUpTo rounds up to a step, or to the cap where that comes first. p is
// not negative and at most the limit plus what fits twice.
func roundUpTo(p, step, limit Pressure) (Pressure, bool) {
	if rest := p % step; rest != 0 {
		p += step - rest
	}
	if p > limit {
		return limit, true
	}
	return p, false
}

func (t *Table) defaultStep() Pressure {
	if t.pressureUnit == PSI {
		return PSI
	}
	return 10 * Kilopascal
}

func negative(load weight.Mass, step Pressure) error {
	if load < 0 {
		return fmt.Errorf("load of %s: below zero: %w", load, ErrInput)
	}
	return fmt.Errorf("step of %s: below zero: %w", step, ErrInput)
}

func (c *column) overload(load weight.Mass, fit weight.Fitment, last int, f int64) error {
	limit := carries(c.loads[last], f)
	return &LoadError{Load: load, Limit: limit, Excess: load - limit, At: c.pressures[last], Fitment: fit}
}

// carries is what remains of a row's load once the factor is taken out,
// rounded down.
func carries(load weight.Mass, f int64) weight.Mass {
	if f == unity {
		return load
	}
	v, _ := quantity.MulDiv(int64(load), unity, f, quantity.Floor) // f >= unity: fits
	return weight.Mass(v)
}

// CapacityAt gives what ONE tire carries in the fitment at a cold pressure,
// never more than the data supports: the load of the last row not above the
// pressure, or, with [Interpolated], the point between two rows, rounded down
// to 0.01 lb or 1 g. A passenger tire's is divided by 1.10 unless the vehicle
// is a passenger car, and the allowance is taken out as well. Exact at rows.
// Above the last row that the load range allows it is that row's load: more
// air gives no more capacity. The step is not used.
//
// Errors: [ErrBelowFirstRow] with a load of 0 below the lowest row that may
// be used, since nothing says what the tire carries there; [ErrFitment],
// [ErrLoadRange], [ErrInput].
func (t *Table) CapacityAt(p Pressure, fit weight.Fitment, opt Options) (load weight.Mass, err error) {
	c, last := t.allowed(fit, opt.LoadRange)
	if c == nil {
		return 0, t.notAllowed(fit, opt.LoadRange)
	}
	f := int64(unity)
	if derated := derates(t.class, opt.OnPassengerCar); derated || opt.AllowancePercent != 0 {
		if f, err = factor(derated, opt.AllowancePercent); err != nil {
			return 0, err
		}
	}
	if p < c.pressures[c.first] {
		return 0, fmt.Errorf("table %q, %s: the first row to be used is %s: %w", word.Clip(t.name), p, c.pressures[c.first], ErrBelowFirstRow)
	}
	lo := c.first // the last row not above p is in the n rows from lo
	for n := last - lo + 1; n > 1; {
		half := n / 2
		if c.pressures[lo+half] <= p {
			lo += half
		}
		n -= half
	}
	exact := true
	load = c.loads[lo]
	if opt.Method == Interpolated && lo < last && p > c.pressures[lo] {
		more, _ := part(int64(c.loads[lo+1]-load), int64(p-c.pressures[lo]), int64(c.pressures[lo+1]-c.pressures[lo]))
		load, exact = load+weight.Mass(more), false
	}
	if f != unity {
		load, exact = carries(load, f), false
	}
	if !exact {
		load -= load % t.grid // rounds down what is not negative
	}
	return load, nil
}

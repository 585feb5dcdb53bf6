package visittest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Coach is an invented coach as it truly is, and how it was looked at.
// [Coach.Write] gives what was written down of it. The same seed makes the same
// coach.
type Coach struct {
	Seed uint64
	// Base is what is written down as it stands; loads, pressures and what was
	// read of them come from the truth below.
	Base record.Visit
	// Loads is the true load of each wheel by axle, side, and place: outer, then
	// inner. A tire alone on its end has the first.
	Loads [][2][2]weight.Mass
	// Tires are the truth of each of Base.Tires.
	Tires []TrueTire
	// Plates are the readings that the scale gave.
	Plates []Plate
	// Table is that of the coach's own tires, nil for none.
	Table *inflation.Table
	// Hidden is how many of a thousand values nobody wrote down.
	Hidden int
	// power is that of pressure by which a tire's load truly grows, in tenths of
	// a percent.
	power int
	spec  spec
}

// A TrueTire is what a tire held, whatever was read of it.
type TrueTire struct {
	Axle int // -1 for a spare
	Side int // 0 the left
	Dual int // 1 the inner one of a pair
	// Cold is what it held when it was read, as a cold pressure; Lowest, the
	// lowest that it was driven at.
	Cold, Lowest inflation.Pressure
	// Warm is by how much it was warmer when it was read, Off what the gauge
	// added.
	Warm, Off inflation.Pressure
	// Read says that somebody read it, ReadLowest that the lowest is known,
	// ReadAmount and ReadBefore which of the two was written of added air.
	Read, ReadLowest, ReadAmount, ReadBefore bool
	// Left is above Cold by so much as it was aired up; below zero nobody wrote it.
	Left inflation.Pressure
	// Lost is by how much it fell in the 24 hours after that; below zero nobody read it
	// then.
	Lost inflation.Pressure
}

// A Plate is one reading: what stood on it, and by how much it was off.
type Plate struct {
	On  []string
	Off weight.Mass
}

// spec is what the coach's own tires are, by their sidewall.
type spec struct {
	class        inflation.Class
	top          int // pressure of the stamps, psi
	single, dual int // lb
	size, letter string
}

// Invented sizes: no tire has them.
var specs = []spec{
	{inflation.Truck, 110, 4940, 4540, "XV250/72R21", "G"},
	{inflation.Truck, 95, 3640, 3415, "AX240/75R20", "F"},
	{inflation.Truck, 130, 6610, 6000, "XH290/78R23", "H"},
	{inflation.LightTruck, 80, 3042, 2778, "LX217/82R17", "E"},
	{inflation.LightTruck, 65, 2600, 2365, "LX213/81R15", "D"},
}

// roll draws with the weights' chances: the index of one of them.
func roll(r *rand.Rand, weights ...int) int {
	sum := 0
	for _, w := range weights {
		sum += w
	}
	n := r.IntN(sum)
	for i, w := range weights {
		if n < w {
			return i
		}
		n -= w
	}
	return 0
}

func oneIn(r *rand.Rand, n int) bool { return r.IntN(n) == 0 }

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// Psi is a pressure of about as many psi as can be written in the coach's units.
func (c *Coach) Psi(n int) inflation.Pressure {
	p := inflation.Pressure(max(n, 0)) * inflation.PSI
	if c.Base.System == weight.Metric {
		return p.Round(5*inflation.Kilopascal, weight.Floor)
	}
	return p
}

// Lb is a mass of about as many pounds as can be written in the coach's units.
func (c *Coach) Lb(n int) weight.Mass {
	m := weight.Mass(max(n, 0)) * weight.Pound
	if c.Base.System == weight.Metric {
		return m.Round(weight.Kilogram, weight.Floor)
	}
	return m
}

// psi is a pressure in whole psi.
func psi(p inflation.Pressure) int { return int(p / inflation.PSI) }

// NewCoach makes the coach of a seed.
func NewCoach(seed uint64) *Coach {
	r := rand.New(rand.NewPCG(seed, 1910177))
	c := &Coach{Seed: seed, power: 500 + r.IntN(501), spec: pick(r, specs...)}
	v := &c.Base
	v.Version, v.Invented = record.Version, true
	v.Date = dotcode.Date{Year: 2026, Month: 10, Day: 3}
	if oneIn(r, 4) {
		v.System = weight.Metric
	}
	c.Hidden = pick(r, 0, 0, 0, 10, 40, 150)
	c.axles(r)
	c.table(r)
	c.loads(r)
	c.stamps(r)
	c.tires(r)
	c.gauge(r)
	c.weigh(r)
	c.trip(r)
	return c
}

// axles lays out the coach and what it tows.
func (c *Coach) axles(r *rand.Rand) {
	v := &c.Base
	inch := func(n int) record.Recorded[weight.Length] { return record.Record(weight.Length(n) * weight.Inch) }
	rear := weight.Dual
	if oneIn(r, 6) {
		rear = weight.Single
	}
	v.Axles = []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: rear, Behind: inch(228)}}
	if oneIn(r, 5) {
		v.Axles = append(v.Axles, record.Axle{ID: "tag", Fitment: weight.Single, Behind: inch(276)})
	}
	switch roll(r, 6, 2, 1) {
	case 0:
		if oneIn(r, 3) {
			v.Tows = record.Record(record.TowsNothing)
		}
	case 1:
		v.Tows = record.Record(record.TowsCar)
		v.Axles = append(v.Axles, record.Axle{ID: "car-front", Fitment: weight.Single, Towed: true}, record.Axle{ID: "car-rear", Fitment: weight.Single, Towed: true})
		v.EveryTowedTire = record.Tire{
			Size: "PX217/62R16", Class: record.Record(inflation.Passenger), Construction: record.Record(inflation.Radial),
			Single: record.Record(record.Stamp{Load: c.Lb(1653), At: c.Psi(51)}), Seen: record.Record(condition.Set(0)),
		}
	case 2:
		v.Tows = record.Record(record.TowsTrailer)
		v.Axles = append(v.Axles, record.Axle{ID: "trailer", Fitment: weight.Single, Towed: true})
		v.EveryTowedTire = record.Tire{
			Size: "SX207/77R15", LoadRange: "D", Class: record.Record(inflation.Trailer), Construction: record.Record(inflation.Radial),
			Single: record.Record(record.Stamp{Load: c.Lb(2540), At: c.Psi(65)}), Seen: record.Record(condition.Set(0)),
		}
	}
}

// table makes one of an invented size for the coach's own tires, mostly.
func (c *Coach) table(r *rand.Rand) {
	if oneIn(r, 3) {
		return
	}
	s := c.spec
	first := s.top * (60 + r.IntN(26)) / 100 / 5 * 5
	data := inflation.TableData{
		Name: "Invented table", Size: s.size, Class: s.class, Construction: inflation.Radial,
		Source:       origin.Source{Grade: origin.Invented, Title: "made at random"},
		PressureUnit: inflation.PSI, LoadUnit: weight.Pound, Single: inflation.PerTire, Dual: inflation.PerTire,
	}
	for p := first; p <= s.top; p += 5 {
		row := inflation.PrintedRow{Pressure: inflation.Pressure(p) * inflation.PSI}
		row.Single = weight.Mass(c.carries(s.single, p)) * weight.Pound
		row.Dual = weight.Mass(c.carries(s.dual, p)) * weight.Pound
		data.Rows = append(data.Rows, row)
	}
	t, err := inflation.NewTable(data)
	if err != nil {
		panic(fmt.Sprintf("seed %d: %v", c.Seed, err))
	}
	c.Table = t
}

// carries is what a tire of so many pounds at its stamped pressure truly carries
// at another, rounded down to 5 lb as tables are.
func (c *Coach) carries(full, p int) int {
	share := math.Pow(float64(p)/float64(c.spec.top), float64(c.power)/1000)
	return int(float64(full)*share) / 5 * 5
}

// Needs is the least pressure that truly carries the load of a tire on the coach's
// own axles, at most that of the stamps: beyond them nobody has data.
func (c *Coach) Needs(load weight.Mass, fit weight.Fitment) inflation.Pressure {
	full := c.spec.single
	if fit == weight.Dual {
		full = c.spec.dual
	}
	share := math.Pow(float64(load)/float64(full)/float64(weight.Pound), 1000/float64(c.power))
	return min(inflation.Pressure(share*float64(c.spec.top)*float64(inflation.PSI)), inflation.Pressure(c.spec.top)*inflation.PSI)
}

// loads puts weight on each wheel, and gives each axle its rating and placard.
func (c *Coach) loads(r *rand.Rand) {
	v := &c.Base
	gross := weight.Mass(0)
	for i := range v.Axles {
		ax := &v.Axles[i]
		full, n := c.spec.single, 1
		switch {
		case ax.Towed && v.Axles[len(v.Axles)-1].ID == "trailer":
			full = 2540
		case ax.Towed:
			full = 1500
		case ax.Fitment == weight.Dual:
			full, n = c.spec.dual, 2
		}
		use := pick(r, 55, 65, 75, 80, 85, 90, 95, 99, 102)
		left := full * n * use / 100
		right := left * (85 + r.IntN(20)) / 100
		var on [2][2]weight.Mass
		for side, load := range [2]int{left, right} {
			load = load / 20 * 20
			if n == 1 {
				on[side][0] = c.Lb(load)
				continue
			}
			tilt := pick(r, 0, 0, 0, 2, 6) * load / 200
			on[side] = [2]weight.Mass{c.Lb(load/2 - tilt), c.Lb(load/2 + tilt)}
		}
		c.Loads = append(c.Loads, on)
		most := 2 * max(on[0][0]+on[0][1], on[1][0]+on[1][1])
		ax.GAWR = record.Record(c.Lb(int(most/weight.Pound) * pick(r, 97, 101, 105, 110, 120) / 100 / 50 * 50))
		if !ax.Towed {
			gross += on[0][0] + on[0][1] + on[1][0] + on[1][1]
		}
		ax.Placard = c.placard(r, ax, max(left, right)/n)
	}
	v.Ratings.GVWR = record.Record(c.Lb(int(gross/weight.Pound) * pick(r, 99, 103, 110) / 100))
	v.Ratings.GCWR = record.Record(c.Lb(int(gross/weight.Pound) * 13 / 10))
}

func (c *Coach) placard(r *rand.Rand, ax *record.Axle, load int) record.Recorded[record.Placard] {
	top := c.spec.top
	if ax.Towed {
		top = 65
		if c.Base.EveryTowedTire.LoadRange == "" {
			return record.Record(record.PlacardAt(c.Psi(pick(r, 32, 35, 36))))
		}
	}
	need := top
	if !ax.Towed {
		need = psi(c.Needs(weight.Mass(load)*weight.Pound, ax.Fitment))
	}
	switch roll(r, 5, 4, 2, 1, 1) {
	case 0:
		return record.Record(record.PlacardAt(c.Psi(min(top, (need+4)/5*5))))
	case 1:
		return record.Record(record.PlacardAt(c.Psi(top - 5*r.IntN(4))))
	case 2:
		return record.Record(record.PlacardAt(c.Psi(top)))
	case 3:
		return record.Record(record.NoPlacard())
	}
	return record.Recorded[record.Placard]{}
}

// stamps writes what all tires of the coach share.
func (c *Coach) stamps(r *rand.Rand) {
	v, s := &c.Base, c.spec
	v.EveryTire = record.Tire{
		Size: s.size, LoadRange: s.letter, Class: record.Record(s.class), Construction: record.Record(inflation.Radial),
		Single: record.Record(record.Stamp{Load: c.Lb(s.single), At: c.Psi(s.top)}),
		Dual:   record.Record(record.Stamp{Load: c.Lb(s.dual), At: c.Psi(s.top)}),
		Wheel:  record.Record(record.Stamp{Load: c.Lb(s.single * pick(r, 94, 101, 110) / 100), At: c.Psi(s.top + pick(r, -10, 0, 10))}),
		Seen:   record.Record(condition.Set(0)), Retread: record.Record(false), Regrooved: record.Record(false),
	}
	if oneIn(r, 5) {
		v.EveryTire.Class = record.Recorded[inflation.Class]{}
	}
	if oneIn(r, 3) {
		v.EveryTire.Model = "one"
	}
	if oneIn(r, 3) {
		for i := range v.Axles {
			if !v.Axles[i].Towed {
				v.Axles[i].PlacardSize, v.Axles[i].PlacardLoadRange = s.size, pick(r, s.letter, "E", "J")
			}
		}
	}
}

// Setup is what the coach's visits are judged with.
func (c *Coach) Setup() inspect.Setup {
	if c.Table == nil {
		return inspect.Setup{}
	}
	tables, err := inflation.NewTables(c.Table)
	if err != nil {
		panic(fmt.Sprintf("seed %d: %v", c.Seed, err))
	}
	return inspect.Setup{Tables: tables}
}

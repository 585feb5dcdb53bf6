package inflation_test

import (
	"errors"
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

var anyRating = inflation.Rating{Load: 3640 * lb, Pressure: 95 * psi}

// Computed: pressure = Pmax x 1.05 x load / Lmax rounded up
// to 5 psi, at most Pmax; floor 70 % of Pmax, for truck sizes at least 80 psi.
func TestEstimate(t *testing.T) {
	lt := inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 2680 * lb, Pressure: 80 * psi}}
	truck := inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 6175 * lb, Pressure: 110 * psi}}
	tests := []struct {
		name         string
		u            inflation.Unlisted
		load         weight.Mass
		opt          inflation.Options
		want         inflation.Pressure
		floor, atCap bool
	}{
		// 80 x 1.05 x 2,000/2,680 = 62.7
		{"light truck", lt, 2000 * lb, inflation.Options{}, 65 * psi, false, false},
		// 70 % of 80 = 56, rounded up
		{"its floor", lt, 100 * lb, inflation.Options{}, 60 * psi, true, false},
		{"nothing on it", lt, 0, inflation.Options{}, 60 * psi, true, false},
		{"the rating", lt, 2680 * lb, inflation.Options{}, 80 * psi, false, true},
		// 110 x 1.05 x 5,000/6,175 = 93.5
		{"truck", truck, 5000 * lb, inflation.Options{}, 95 * psi, false, false},
		// 70 % of 110 = 77, but 80 for truck sizes
		{"truck floor", truck, 1000 * lb, inflation.Options{}, 80 * psi, true, false},
		{"its lowest permitted stated", inflation.Unlisted{Class: inflation.LightTruck, Rating: lt.Rating, LowestPermitted: 36 * psi}, 100 * lb, inflation.Options{}, 40 * psi, true, false},
		{"80 psi stays for truck sizes", inflation.Unlisted{Class: inflation.Truck, Rating: truck.Rating, LowestPermitted: 65 * psi}, 100 * lb, inflation.Options{}, 80 * psi, true, false},
		{"a higher lowest permitted", inflation.Unlisted{Class: inflation.Truck, Rating: truck.Rating, LowestPermitted: 90 * psi}, 100 * lb, inflation.Options{}, 90 * psi, true, false},
		{"the floor is never above the sidewall", inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 2000 * lb, Pressure: 65 * psi}}, 100 * lb, inflation.Options{}, 65 * psi, true, false},
		// 62.7 with 20 % more = 75.2
		{"with an allowance", lt, 2000 * lb, inflation.Options{AllowancePercent: 20}, 80 * psi, false, false},
		// 84 x 1.05 x 5,000/6,300 is 70 psi exactly; this is half a step more.
		{"a hair over 5 psi", inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 6300*lb + 34, Pressure: 84 * psi}}, 5000*lb + 27, inflation.Options{}, 75 * psi, false, false},
		{"exactly 5 psi", inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 6300 * lb, Pressure: 84 * psi}}, 5000 * lb, inflation.Options{}, 70 * psi, false, false},
		{"gauge step", lt, 2000 * lb, inflation.Options{Step: 2 * psi}, 66 * psi, false, false},
		{"gauge step at the cap", inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 2000 * lb, Pressure: 79 * psi}}, 1800 * lb, inflation.Options{Step: 40 * psi}, 79 * psi, false, true},
		{"5 psi at the cap", inflation.Unlisted{Class: inflation.LightTruck, Rating: inflation.Rating{Load: 2000 * lb, Pressure: 79 * psi}}, 1890 * lb, inflation.Options{Step: 2 * psi}, 79 * psi, false, true},
	}
	for _, tt := range tests {
		a, err := tt.u.PressureFor(tt.load, tt.opt)
		if err != nil || a.Pressure != tt.want || a.AtFloor != tt.floor || a.AtCap != tt.atCap || !a.Estimated || a.Derated {
			t.Errorf("%s: %+v, %v; want %s", tt.name, a, err, tt.want)
		}
	}
}

func TestEstimateCapacity(t *testing.T) {
	u := inflation.Unlisted{Class: inflation.LightTruck, Rating: anyRating}
	tests := []struct {
		at   inflation.Pressure
		want weight.Mass
	}{
		// 3,640 x 76/95, a straight line without the 5 %
		{76 * psi, 2912 * lb},
		{76*psi - 1, 291199 * lb / 100},
		{95 * psi, 3640 * lb},
		{120 * psi, 3640 * lb},
		{70 * psi, 268210 * lb / 100}, // the floor: 70 % of 95 is 66.5, rounded up; 2,682.105
	}
	for _, tt := range tests {
		if got, err := u.CapacityAt(tt.at, inflation.Options{}, weight.US); err != nil || got != tt.want {
			t.Errorf("%s: %s, %v; want %s", tt.at, got, err, tt.want)
		}
	}
	if got, err := u.CapacityAt(95*psi, inflation.Options{AllowancePercent: 4}, weight.Metric); err != nil || got != 3500*lb {
		t.Errorf("with an allowance: %s, %v", got, err)
	}
	if got, err := u.CapacityAt(80*psi, inflation.Options{}, weight.Metric); err != nil || got%weight.Gram != 0 {
		t.Errorf("metric: %s, %v", got, err)
	}
	if got, err := u.CapacityAt(70*psi-1, inflation.Options{}, weight.US); got != 0 || !errors.Is(err, inflation.ErrBelowFirstRow) {
		t.Errorf("below the floor: %s, %v", got, err)
	}
}

func TestEstimateRefuses(t *testing.T) {
	tests := []struct {
		name string
		u    inflation.Unlisted
		load weight.Mass
		opt  inflation.Options
		want error
	}{
		{"passenger", inflation.Unlisted{Class: inflation.Passenger, Rating: anyRating}, lb, inflation.Options{}, inflation.ErrNoEstimate},
		{"trailer", inflation.Unlisted{Class: inflation.Trailer, Rating: anyRating}, lb, inflation.Options{}, inflation.ErrNoEstimate},
		{"class not known", inflation.Unlisted{Rating: anyRating}, lb, inflation.Options{}, inflation.ErrNoEstimate},
		{"load not read", inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Pressure: 95 * psi}}, lb, inflation.Options{}, inflation.ErrNoEstimate},
		{"pressure not read", inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: lb}}, lb, inflation.Options{}, inflation.ErrNoEstimate},
		{"negative lowest", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating, LowestPermitted: -1}, lb, inflation.Options{}, inflation.ErrInput},
		{"huge rating", inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 1 << 62, Pressure: psi}}, lb, inflation.Options{}, inflation.ErrInput},
		{"over, before the cap could hide it", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating}, 3640*lb + 1, inflation.Options{}, inflation.ErrOverload},
		{"over beyond 64 bits", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating}, 1<<63 - 1, inflation.Options{AllowancePercent: 100}, inflation.ErrOverload},
		{"negative load", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating}, -1, inflation.Options{}, inflation.ErrInput},
		{"negative step", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating}, 1, inflation.Options{Step: -1}, inflation.ErrInput},
		{"allowance", inflation.Unlisted{Class: inflation.Truck, Rating: anyRating}, 1, inflation.Options{AllowancePercent: -1}, inflation.ErrInput},
	}
	for _, tt := range tests {
		if a, err := tt.u.PressureFor(tt.load, tt.opt); !errors.Is(err, tt.want) || a != (inflation.LookUp{}) {
			t.Errorf("%s: %+v, %v; want %v", tt.name, a, err, tt.want)
		}
	}
	for _, u := range []inflation.Unlisted{{Class: inflation.Passenger, Rating: anyRating}, {Class: inflation.Truck, Rating: anyRating}} {
		if _, err := u.CapacityAt(95*psi, inflation.Options{AllowancePercent: 300}, weight.US); err == nil {
			t.Errorf("%s: capacity with an allowance of 300 %%", u.Class)
		}
	}
}

// TestEstimateAgainstTables: on generated tables with powers from 0.5 to 1.0
// (standards bodies, as quoted), rows of 5 psi and a first row at or below the
// floor, the estimate is never below the next row up, and its inverse never above what
// the table carries. Where the first row lies above the floor, an answer below
// it says that it stands at its floor, or the table's row is for more load.
func TestEstimateAgainstTables(t *testing.T) {
	checked, aboveFloor := 0, 0
	for _, class := range []inflation.Class{inflation.LightTruck, inflation.Truck} {
		for n := 0.5; n <= 1.0001; n += 0.05 {
			for _, top := range []int{80, 95, 110, 120, 130} {
				u := inflation.Unlisted{Class: class, Rating: inflation.Rating{Load: 3640 * lb, Pressure: inflation.Pressure(top) * psi}}
				floor := int(u.Floor() / psi)
				for _, lowest := range []int{floor - 25, floor - 5, floor, floor + 5} {
					if lowest > top {
						continue
					}
					table := synthetic(t, class.String(), lowest, top, 3640, n)
					for load := weight.Mass(1); load <= 3640*lb; load += 1779 * lb / 100 {
						e, err := u.PressureFor(load, inflation.Options{})
						if err != nil {
							t.Fatal(err)
						}
						row, err := table.PressureFor(load, weight.Single, inflation.Options{})
						if err != nil {
							t.Fatal(err)
						}
						checked++
						if e.Pressure < row.Pressure {
							if lowest <= floor || !e.Estimated {
								t.Fatalf("n %.2f, %d to %d psi, %s: estimate %s below the row %s", n, lowest, top, load, e.Pressure, row.Pressure)
							}
							if !e.AtFloor {
								t.Fatalf("n %.2f, %d to %d psi, %s: estimate %s below the first row %s, and does not say so", n, lowest, top, load, e.Pressure, row.Pressure)
							}
							aboveFloor++
						}
						carried, err := u.CapacityAt(e.Pressure, inflation.Options{}, weight.US)
						if err != nil || carried < load.Round(lb/100, weight.Floor) {
							t.Fatalf("%s: %s carries %s, %v", load, e.Pressure, carried, err)
						}
					}
					for p := max(u.Floor(), inflation.Pressure(lowest)*psi); p <= u.Rating.Pressure; p += psi {
						e, err := u.CapacityAt(p, inflation.Options{}, weight.US)
						if err != nil {
							t.Fatal(err)
						}
						// 5 lb: the tables round their rows down, as charts do.
						if c, err := table.CapacityAt(p, weight.Single, inflation.Options{Method: inflation.Interpolated}); err != nil || e > c+5*lb {
							t.Fatalf("n %.2f at %s: the estimate carries %s, the table %s, %v", n, p, e, c, err)
						}
					}
				}
			}
		}
	}
	if checked < 50_000 || aboveFloor == 0 {
		t.Errorf("%d loads checked, %d below a first row", checked, aboveFloor)
	}
}

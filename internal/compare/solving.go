package main

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
)

// A weighing is readings of a rig, and the ends that are asked for.
type weighing struct {
	rig      weight.Rig
	scale    weight.Scale
	readings []weight.Reading
	ends     []weight.Set

	// The same for linear algebra: which ends each reading has on the plate, and
	// both sides divided by the reading's tolerance, so that all count alike.
	on     [][]bool
	a      *mat.Dense
	b      *mat.VecDense
	solver mat.QR
}

// tolerance is that of the readings: all alike, so that a mean is a mean.
const tolerance = 40 * weight.Pound

// newWeighing reads what the plates of a level scale show of ends with these loads;
// errors are what each reading is off, in pounds.
func newWeighing(rig weight.Rig, plates []weight.Set, loads, errors []weight.Mass) *weighing {
	w := &weighing{rig: rig, scale: weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}}
	for axle := range rig.Axles {
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			w.ends = append(w.ends, rig.All()&weight.EndOf(axle, side))
		}
	}
	w.a, w.b = mat.NewDense(len(plates), len(w.ends), nil), mat.NewVecDense(len(plates), nil)
	for i, plate := range plates {
		r := weight.Reading{Name: rig.Name(plate), On: plate, Tolerance: tolerance, Load: errors[i] * weight.Pound}
		row := make([]bool, len(w.ends))
		for k, end := range w.ends {
			if row[k] = plate&end == end; row[k] {
				r.Load += loads[k] * weight.Pound
				w.a.Set(i, k, 1)
			}
		}
		w.b.SetVec(i, float64(r.Load)/float64(weight.Pound))
		w.readings, w.on = append(w.readings, r), append(w.on, row)
	}
	return w
}

// ours gives the load of each end.
func (w *weighing) ours(out []weight.Estimate) error {
	s, err := weight.Solve(w.rig, w.readings, w.scale)
	if err != nil {
		return err
	}
	for k, end := range w.ends {
		if out[k] = s.Of(end); !out[k].Known() {
			return fmt.Errorf("%v is open", end)
		}
	}
	return s.Err()
}

// floats gives the least squares in pounds by gonum, and with doubts how far each
// load can be off where each reading is off by its tolerance.
func (w *weighing) floats(x, doubts *mat.VecDense) error {
	n, ends := w.a.Dims()
	if doubts == nil && n == ends {
		return x.SolveVec(w.a, w.b)
	}
	w.solver.Factorize(w.a)
	if doubts == nil {
		return w.solver.SolveVecTo(x, false, w.b)
	}
	var inverse mat.Dense
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	if err := w.solver.SolveTo(&inverse, false, mat.NewDiagDense(n, ones)); err != nil {
		return err
	}
	x.MulVec(&inverse, w.b)
	for k := range ends {
		sum := 0.0
		for i := range n {
			sum += math.Abs(inverse.At(k, i))
		}
		doubts.SetVec(k, sum*float64(tolerance/weight.Pound))
	}
	return nil
}

// rationals gives the least squares in nanograms: the normal equations by Gauss.
func (w *weighing) rationals() ([]*big.Rat, error) {
	n := len(w.ends)
	m := make([][]*big.Rat, n)
	for r := range m {
		m[r] = make([]*big.Rat, n+1)
		for c := range m[r] {
			m[r][c] = new(big.Rat)
		}
		for i, on := range w.on {
			if !on[r] {
				continue
			}
			for c := range n {
				if on[c] {
					m[r][c].Add(m[r][c], big.NewRat(1, 1))
				}
			}
			m[r][n].Add(m[r][n], new(big.Rat).SetInt64(int64(w.readings[i].Load)))
		}
	}
	f := new(big.Rat)
	for p := range n {
		at := p
		for at < n && m[at][p].Sign() == 0 {
			at++
		}
		if at == n {
			return nil, fmt.Errorf("end %d is open", p)
		}
		m[p], m[at] = m[at], m[p]
		for r := range n {
			if r == p || m[r][p].Sign() == 0 {
				continue
			}
			q := new(big.Rat).Quo(m[r][p], m[p][p])
			for c := p; c <= n; c++ {
				m[r][c].Sub(m[r][c], f.Mul(q, m[p][c]))
			}
		}
	}
	out := make([]*big.Rat, n)
	for r := range out {
		out[r] = new(big.Rat).Quo(m[r][n], m[r][r])
	}
	return out, nil
}

// same holds ours to the rationals, to 0.01 lb, and the floats to ours, loads to a
// millionth of a pound and doubts to the rounding. It counts loads that the floats
// put on another 0.01 lb.
func (w *weighing) same() (off int, err error) {
	exact, err := w.rationals()
	if err != nil {
		return 0, err
	}
	n := len(w.ends)
	ours := make([]weight.Estimate, n)
	if err := w.ours(ours); err != nil {
		return 0, err
	}
	plain, x, doubts := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	if err := w.floats(plain, nil); err != nil {
		return 0, err
	}
	if err := w.floats(x, doubts); err != nil {
		return 0, err
	}
	for k := range n {
		want, err := weight.MassOfRat(exact[k], weight.Pound/100, weight.Nearest)
		if err != nil || ours[k].Load != want {
			return 0, fmt.Errorf("%v: ours %v, by rationals %v, %v", w.ends[k], ours[k].Load, want, err)
		}
		pounds := new(big.Rat).Quo(exact[k], new(big.Rat).SetInt64(int64(weight.Pound)))
		near, _ := pounds.Float64()
		if math.Abs(plain.AtVec(k)-near) > 1e-6 || math.Abs(x.AtVec(k)-near) > 1e-6 {
			return 0, fmt.Errorf("%v: by rationals %v lb, by gonum %v and %v", w.ends[k], near, plain.AtVec(k), x.AtVec(k))
		}
		if pm := float64(ours[k].PlusMinus) / float64(weight.Pound); pm < doubts.AtVec(k)-1e-6 || pm > doubts.AtVec(k)+0.02 {
			return 0, fmt.Errorf("%v: plus/minus %v lb, by gonum %v", w.ends[k], pm, doubts.AtVec(k))
		}
		if weight.Mass(math.Round(plain.AtVec(k)*100))*weight.Pound/100 != want {
			off++
		}
	}
	return off, nil
}

// axlesAndLefts are a plate for each axle and one for its left end.
func axlesAndLefts(rig weight.Rig) (plates []weight.Set) {
	for axle := range rig.Axles {
		plates = append(plates, rig.All()&weight.AxleOf(axle), rig.All()&weight.EndOf(axle, weight.Left))
	}
	return plates
}

func fourCorners() (weight.Rig, []weight.Set) {
	rig := rigtest.Coach()
	return rig, axlesAndLefts(rig)
}

// twelve are two more than the ten ends need: the trailer, and the tag again.
func twelve() (weight.Rig, []weight.Set) {
	rig := rigtest.TaggedWithTrailer()
	return rig, append(axlesAndLefts(rig), rig.Towed(), rig.All()&weight.AxleOf(2))
}

func compareSolving() ([]bench, []string, error) {
	rng := rand.New(rand.NewPCG(19, 4))
	var benches []bench
	var notes []string
	for _, kind := range []struct {
		name string
		make func() (weight.Rig, []weight.Set)
	}{{"four readings of four ends", fourCorners}, {"twelve readings of ten ends, least squares", twelve}} {
		rig, plates := kind.make()
		var w *weighing
		off, all := 0, 0
		for range 500 {
			loads, errors := make([]weight.Mass, 2*len(rig.Axles)), make([]weight.Mass, len(plates))
			for k := range loads {
				loads[k] = 2000 + weight.Mass(rng.IntN(500))*10
			}
			for i := range errors {
				errors[i] = weight.Mass(rng.IntN(21) - 10)
			}
			w = newWeighing(rig, plates, loads, errors)
			o, err := w.same()
			if err != nil {
				return nil, nil, fmt.Errorf("%s: %w", kind.name, err)
			}
			off, all = off+o, all+len(loads)
		}
		notes = append(notes, fmt.Sprintf("500 random weighings, %s: ours and rationals equal to 0.01 lb; floats are on another 0.01 lb for %d of %d ends.", kind.name, off, all))
		n := len(w.ends)
		ours := make([]weight.Estimate, n)
		x, doubts := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		benches = append(benches, bench{kind.name, "weighing", 1, []way{
			{"weight.Solve and Of, with plus/minus", func() error { return w.ours(ours) }},
			{"gonum/mat, float64", func() error { return w.floats(x, nil) }},
			{"gonum/mat, float64, with plus/minus", func() error { return w.floats(x, doubts) }},
			{"math/big.Rat", func() error { _, err := w.rationals(); return err }},
		}})
	}
	return benches, notes, nil
}

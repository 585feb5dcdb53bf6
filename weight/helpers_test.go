package weight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
)

const lb = weight.Pound

// truth is what every wheel carries, by position.
type truth [4 * weight.MaxAxles]weight.Mass

func (t *truth) on(set weight.Set) weight.Mass {
	var sum weight.Mass
	for i, m := range t {
		if set>>i&1 != 0 {
			sum += m
		}
	}
	return sum
}

// randomCase is a random rig, its truth, and readings of random sets without
// error.
func randomCase(r *rand.Rand) (weight.Rig, *truth, []weight.Reading) {
	n := 1 + r.IntN(6)
	if r.IntN(20) == 0 {
		n = 1 + r.IntN(weight.MaxAxles)
	}
	rig := weight.Rig{System: weight.System(r.IntN(2))}
	towed := n
	if r.IntN(2) == 0 {
		towed = 1 + r.IntN(n)
	}
	grid := rig.System.MassGrid()
	var tr truth
	for a := range n {
		ax := weight.Axle{ID: fmt.Sprint("a", a+1), Fitment: weight.Fitment(r.IntN(3)), Towed: a >= towed}
		rig.Axles = append(rig.Axles, ax)
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			for _, place := range []weight.Place{weight.Inner, weight.Outer} {
				m := weight.Mass(50_000+r.IntN(450_000)) * grid
				w := weight.WheelOf(a, side, place)
				for i := range tr {
					if w>>i&1 != 0 {
						tr[i] = m
					}
				}
			}
		}
	}
	m := 1 + r.IntN(2*n+5)
	var out []weight.Reading
	for i := range m {
		on := randomSet(r, rig)
		out = append(out, weight.Reading{
			Name: fmt.Sprint("reading ", i+1), Load: tr.on(on), On: on,
			Tolerance: weight.Mass(1+r.IntN(4)) * 2000 * grid,
		})
	}
	return rig, &tr, out
}

func randomSet(r *rand.Rand, rig weight.Rig) weight.Set {
	n := len(rig.Axles)
	side := weight.Side(1 + r.IntN(2))
	switch a := r.IntN(n); r.IntN(7) {
	case 0:
		return rigtest.Axles(0, a)
	case 1:
		return rigtest.Axles(a, n-1)
	case 2:
		return rigtest.Axles(0, a) & weight.SideOf(side)
	case 3:
		return weight.EndOf(a, side)
	case 4:
		if rig.Axles[a].Fitment != weight.Single {
			return weight.WheelOf(a, side, weight.Place(1+r.IntN(2)))
		}
		return weight.AxleOf(a)
	case 5:
		return rig.All() & weight.SideOf(side)
	}
	var s weight.Set
	for s == 0 {
		for a := range n {
			for _, side := range []weight.Side{weight.Left, weight.Right} {
				if r.IntN(2) == 0 {
					s |= weight.EndOf(a, side)
				}
			}
		}
	}
	return s
}

// asked is what a test asks of a solution: the usual sums and random ones.
func asked(r *rand.Rand, rig weight.Rig) []weight.Set {
	out := rig.Sums()
	for range 3 {
		out = append(out, randomSet(r, rig))
	}
	return out
}

// Independent mathematics: ranks modulo a prime, least squares in floats by
// normal equations over a basis of columns. Nothing here is shared with Solve.

const prime = 1<<31 - 1

func power(b, e uint64) uint64 {
	out := uint64(1)
	for ; e > 0; e >>= 1 {
		if e&1 == 1 {
			out = out * b % prime
		}
		b = b * b % prime
	}
	return out
}

// echelon is 0/1 rows over single wheels, reduced modulo the prime.
type echelon struct {
	rows   [][48]uint64
	pivots []int
}

func echelonOf(readings []weight.Reading) *echelon {
	e := &echelon{}
	for _, r := range readings {
		if row, p := e.rest(r.On); p >= 0 {
			inv := power(row[p], prime-2)
			for j := range row {
				row[j] = row[j] * inv % prime
			}
			e.rows, e.pivots = append(e.rows, row), append(e.pivots, p)
		}
	}
	return e
}

func (e *echelon) rest(set weight.Set) (row [48]uint64, pivot int) {
	for j := range row {
		row[j] = uint64(set >> j & 1)
	}
	for i, p := range e.pivots {
		if f := row[p]; f != 0 {
			for j := range row {
				row[j] = (row[j] + (prime-f)*e.rows[i][j]) % prime
			}
		}
	}
	for j, v := range row {
		if v != 0 {
			return row, j
		}
	}
	return row, -1
}

// determines reports whether a sum is a combination of the readings.
func (e *echelon) determines(set weight.Set) bool {
	_, p := e.rest(set)
	return p < 0
}

// floatSolve gives the least-squares sum of a determined set, and its worst
// case, in grid steps.
func floatSolve(readings []weight.Reading, cols []int, set weight.Set, grid float64) (load, pm float64) {
	n := len(cols)
	m := make([][]float64, n)
	for a := range m {
		m[a] = make([]float64, n+1)
		m[a][n] = float64(set >> cols[a] & 1)
		for b := range n {
			for _, r := range readings {
				if r.On>>cols[a]&1 == 1 && r.On>>cols[b]&1 == 1 {
					t := float64(r.Tolerance) / grid / 2000
					m[a][b] += 1 / (t * t)
				}
			}
		}
	}
	for p := range n {
		best := p
		for i := p; i < n; i++ {
			if math.Abs(m[i][p]) > math.Abs(m[best][p]) {
				best = i
			}
		}
		m[p], m[best] = m[best], m[p]
		for i := range n {
			if f := m[i][p] / m[p][p]; i != p {
				for j := p; j <= n; j++ {
					m[i][j] -= f * m[p][j]
				}
			}
		}
	}
	for _, r := range readings {
		c := 0.0
		for a := range n {
			if r.On>>cols[a]&1 == 1 {
				c += m[a][n] / m[a][a]
			}
		}
		t := float64(r.Tolerance) / grid
		c /= t * t / 4e6
		load += c * float64(r.Load) / grid
		pm += math.Abs(c) * t
	}
	return load, pm
}

func mustSolve(t testing.TB, rig weight.Rig, readings []weight.Reading, scale weight.Scale) weight.Solution {
	t.Helper()
	sol, err := weight.Solve(rig, readings, scale)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}

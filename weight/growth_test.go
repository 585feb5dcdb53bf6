package weight_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/internal/testsize"
	"axleend.example/weight"
)

// manyReadings is a rig, its dual pairs weighed tire by tire too, read many
// times over with a tolerance of its own for each reading. The errors are inside
// the tolerances, but for a share of the readings that are wrong.
func manyReadings(n, axles int, wrong float64) (weight.Rig, []weight.Reading) {
	r := rand.New(rand.NewPCG(19, uint64(n)))
	rig := weight.Rig{}
	for a := range axles {
		rig.Axles = append(rig.Axles, weight.Axle{ID: fmt.Sprint("axle ", a+1), Fitment: weight.Fitment(1 + (a+1)%2)})
	}
	var tr truth
	for i := range tr {
		tr[i] = weight.Mass(1_500+r.IntN(3_000)) * lb
	}
	var out []weight.Reading
	for i := range n {
		on := randomSet(r, rig)
		tol := weight.Mass(1_000+r.IntN(6_000)) * lb / 100
		by := weight.Mass(r.IntN(2_001)-1_000) * (tol / 1_000)
		if r.Float64() < wrong {
			by += 5 * tol
		}
		out = append(out, weight.Reading{Name: fmt.Sprint("reading ", i+1), Load: tr.on(on) + by, Tolerance: tol, On: on})
	}
	return rig, out
}

// hostileReadings are of random wheels of twelve axles, with tolerances that have
// nothing in common.
func hostileReadings(wrong bool) (weight.Rig, []weight.Reading) {
	r := rand.New(rand.NewPCG(1, 2))
	var rig weight.Rig
	for range weight.MaxAxles {
		rig.Axles = append(rig.Axles, weight.Axle{Fitment: weight.Dual})
	}
	var out []weight.Reading
	for i := range weight.MaxReadings {
		on, tol := weight.Set(r.Uint64())&rig.All(), weight.Mass(1+r.Int64N(1<<47))
		load := weight.Mass(on.Len()) * 3_000 * lb
		if wrong {
			load += weight.Mass(r.Int64N(1 << 49))
		}
		out = append(out, weight.Reading{Name: fmt.Sprint(i), Load: load, Tolerance: tol, On: on})
	}
	return rig, out
}

// The work of looking for contradictions is bounded, whatever is read: what was
// enough, and one program more, whose size is that of 64 readings of 48 wheels.
func TestWorkOnContradictions(t *testing.T) {
	for _, axles := range []int{1, 4, 8, 12} {
		most := 0
		for _, wrong := range []float64{0, 0.02, 0.1, 0.5, 1} {
			rig, readings := manyReadings(weight.MaxReadings, axles, wrong)
			sol := mustSolve(t, rig, readings, weight.Scale{})
			if conflicts := len(sol.Conflicts()); (conflicts > 0) != (wrong >= 0.1) && wrong != 0.02 && wrong != 1 {
				t.Errorf("%d axles, %.0f %% wrong: %d conflicts", axles, 100*wrong, conflicts)
			}
			most = max(most, sol.Work())
		}
		t.Logf("64 readings of %d axles: %d cells at most", axles, most)
		if bound := 400_000 * axles; most > bound || most <= 0 {
			t.Errorf("64 readings of %d axles took %d cells, want some, and %d at most", axles, most, bound)
		}
	}
	if !testsize.Full() {
		return
	}
	for _, wrong := range []bool{false, true} {
		rig, readings := hostileReadings(wrong)
		sol := mustSolve(t, rig, readings, weight.Scale{})
		t.Logf("hostile, wrong %v: %d cells, %d conflicts", wrong, sol.Work(), len(sol.Conflicts()))
		if sol.Work() > 6*weight.EnoughWork {
			t.Errorf("hostile readings took %d cells", sol.Work())
		}
		if !wrong {
			continue
		}
		if !sol.StretchedAgree() {
			t.Error("hostile readings do not agree within stretched tolerances")
		}
		// Nobody has looked at all of them, so none is taken for sure.
		for _, set := range rig.Sums() {
			if e := sol.Of(set); e.State == weight.Determined || e.State == weight.Assumed {
				t.Errorf("%s: %+v", set, e)
			}
		}
	}
}

// FuzzSolve: readings made of any bytes are solved without a panic and in
// bounded work, each estimate holds each single reading of the same positions
// unless they are disputed, and order is no matter.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{2, 1, 2, 0x0f, 0, 10, 5, 0xf0, 0, 20, 5, 0xff, 0, 30, 9})
	f.Add([]byte{1, 2, 3, 0, 9, 1, 3, 0, 20, 1, 12, 0, 3, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() uint64 {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return uint64(b)
		}
		var rig weight.Rig
		for range 1 + next()%4 {
			rig.Axles = append(rig.Axles, weight.Axle{Fitment: weight.Fitment(next() % 3)})
		}
		var readings []weight.Reading
		for len(data) > 0 && len(readings) < weight.MaxReadings {
			on := weight.Set(next() | next()<<8)
			readings = append(readings, weight.Reading{
				Name: fmt.Sprint(len(readings)), On: on, Load: weight.Mass(next()) * 97 * lb / 7, Tolerance: weight.Mass(next()) * lb / 3,
			})
		}
		sol, err := weight.Solve(rig, readings, weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}})
		if err != nil {
			t.Fatal(err)
		}
		if sol.Work() > 4*weight.EnoughWork {
			t.Errorf("%d cells", sol.Work())
		}
		for _, r := range sol.Readings() {
			if e := sol.Of(r.On); e.State == weight.Determined && (e.AtLeast() > r.Load+r.Tolerance+lb/50 || e.AtMost() < r.Load-r.Tolerance-lb/50) {
				t.Errorf("%s: %+v, read %s +/- %s", r.On, e, r.Load, r.Tolerance)
			}
		}
		slices.Reverse(readings)
		again, err := weight.Solve(rig, readings, sol.Scale())
		if err != nil || len(again.Conflicts()) != len(sol.Conflicts()) {
			t.Fatalf("in reverse: %v, %d conflicts and %d", err, len(again.Conflicts()), len(sol.Conflicts()))
		}
		for _, set := range rig.Sums() {
			if a, b := sol.Of(set), again.Of(set); a != b {
				t.Errorf("%s: %+v, in reverse %+v", set, a, b)
			}
		}
	})
}

func BenchmarkReadings(b *testing.B) {
	for _, c := range []struct {
		name  string
		wrong float64
	}{{"agree", 0}, {"one in ten wrong", 0.1}} {
		for _, n := range []int{4, 8, 16, 32, 64} {
			rig, readings := manyReadings(n, 4, c.wrong)
			b.Run(fmt.Sprint(c.name, "/", n), func(b *testing.B) {
				for b.Loop() {
					sol, err := weight.Solve(rig, readings, weight.Scale{Kind: weight.Platform})
					if err != nil {
						b.Fatal(err)
					}
					for _, set := range rig.Sums() {
						sol.Of(set)
					}
					sol.Residuals()
				}
			})
		}
	}
}

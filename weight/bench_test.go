package weight_test

import (
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
)

// Four corners from a platform: solving, and asking for the four ends.
func BenchmarkFourCorners(b *testing.B) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	readings := corners(scale, rig)
	b.Run("solve", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := weight.Solve(rig, readings, scale); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("solve and ends", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sol, err := weight.Solve(rig, readings, scale)
			if err != nil {
				b.Fatal(err)
			}
			for a := range 2 {
				if !sol.Of(weight.EndOf(a, weight.Left)).Known() || !sol.Of(weight.EndOf(a, weight.Right)).Known() {
					b.Fatal("open")
				}
			}
		}
	})
}

// A three-axle coach with a two-axle trailer and 12 readings, two more than
// needed: solving, and asking for the ten ends.
func BenchmarkTwelveReadings(b *testing.B) {
	rig, readings, scale := twelveReadings()
	b.ReportAllocs()
	for b.Loop() {
		sol, err := weight.Solve(rig, readings, scale)
		if err != nil {
			b.Fatal(err)
		}
		for a := range 5 {
			if !sol.Of(weight.EndOf(a, weight.Left)).Known() || !sol.Of(weight.EndOf(a, weight.Right)).Known() {
				b.Fatal("open")
			}
		}
	}
}

func twelveReadings() (weight.Rig, []weight.Reading, weight.Scale) {
	rig, scale := rigtest.TaggedWithTrailer(), weight.Scale{Kind: weight.Platform, Stance: weight.Stance{Level: weight.Yes}}
	var tr truth
	for i, m := range []weight.Mass{6_000, 6_200, 8_000, 8_300, 4_000, 4_400, 2_500, 2_600, 2_400, 2_700} {
		tr[2*i] = m * lb
	}
	var out []weight.Reading
	for k := range 5 {
		run := rigtest.Axles(0, k)
		left := run & weight.SideOf(weight.Left)
		out = append(out, scale.Reading(rig.Name(run), tr.on(run), run), scale.Reading(rig.Name(left), tr.on(left), left))
	}
	out = append(out, scale.Reading("trailer", tr.on(rig.Towed())+20*lb, rig.Towed()))
	out = append(out, scale.Reading("tag", tr.on(weight.AxleOf(2))-20*lb, weight.AxleOf(2)))
	return rig, out, scale
}

func TestTwelveReadingsStayInWords(t *testing.T) {
	rig, readings, scale := twelveReadings()
	sol := mustSolve(t, rig, readings, scale)
	if sol.OutgrewWords() || sol.Err() != nil || len(readings) != 12 {
		t.Errorf("the benchmark measures something else: %v", sol.Err())
	}
}

func BenchmarkSettle(b *testing.B) {
	rig, scale := rigtest.TaggedWithTrailer(), weight.Scale{Kind: weight.Platform}
	sol := mustSolve(b, rig, []weight.Reading{scale.Reading("steer", 12_000*lb, weight.AxleOf(0)), scale.Reading("all", 45_000*lb, rig.All())}, scale)
	b.ReportAllocs()
	for b.Loop() {
		if len(sol.Undetermined()) == 0 {
			b.Fatal("nothing is open")
		}
	}
}

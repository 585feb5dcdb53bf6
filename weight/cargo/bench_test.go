package cargo_test

import (
	"slices"
	"testing"
	"time"

	"axleend.example/weight/cargo"
)

// The fixed set of 200 random coaches, 12 items, 6 stations, 2 % of slack:
// the median and the worst time to a proven plan are reported beside the mean.
func BenchmarkMoves(b *testing.B) {
	type task struct {
		trip  cargo.Trip
		cargo cargo.Task
	}
	var tasks []task
	for seed := range uint64(200) {
		trip, c := randomCargo(b, seed, 12, 6, 20)
		tasks = append(tasks, task{trip, c})
	}
	var times []time.Duration
	b.ResetTimer()
	for i := 0; b.Loop(); i++ {
		tk := tasks[i%len(tasks)]
		start := time.Now()
		got, err := cargo.PlanMoves(ctx, tk.trip, 1, tk.cargo)
		times = append(times, time.Since(start))
		if err != nil || got.Outcome != cargo.Best && got.Outcome != cargo.NothingToMove {
			b.Fatal(got.Outcome, err)
		}
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(times[len(times)-1].Microseconds())/1000, "worst-ms")
}

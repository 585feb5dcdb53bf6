package cargo_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"testing"

	"axleend.example/internal/testsize"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// alikeCargo is a random coach with items that all weigh the same and stand in
// one place.
func alikeCargo(t testing.TB, seed uint64, items, stations int) (cargo.Trip, cargo.Task) {
	trip, c := randomCargo(t, seed, items, stations, 20)
	for i := range c.Items {
		c.Items[i].Mass, c.Items[i].At = 100*lb, c.Stations[0].Name
	}
	return trip, c
}

// hostileCargo has limits that stand a nanogram apart, as many as there may be.
func hostileCargo(t testing.TB, seed uint64) (cargo.Trip, cargo.Task) {
	trip, c := randomCargo(t, seed, cargo.MaxItems, cargo.MaxStations, 0)
	n := len(c.Limits)
	for i := len(c.Limits); i < cargo.MaxLimits; i++ {
		l := c.Limits[i%n]
		l.Rating += weight.Mass(i)
		c.Limits = append(c.Limits, l)
	}
	return trip, c
}

// Work is counted, so that a slow machine shows nothing and a slow way of
// searching shows at once.
func TestMovesWork(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		seeds   int
		make    func(seed uint64) (cargo.Trip, cargo.Task)
		most    int
		settled []cargo.Outcome
	}{
		{"12 items, 6 stations, 2 % of slack", 100, func(s uint64) (cargo.Trip, cargo.Task) { return randomCargo(t, s, 12, 6, 20) },
			10_000_000, []cargo.Outcome{cargo.Best, cargo.NothingToMove}},
		{"12 alike, 6 stations", 100, func(s uint64) (cargo.Trip, cargo.Task) { return alikeCargo(t, s, 12, 6) },
			3_000_000, []cargo.Outcome{cargo.Best, cargo.NothingToMove, cargo.MustStay, cargo.Hopeless}},
		{"60 alike, 6 stations", 1, func(s uint64) (cargo.Trip, cargo.Task) { return alikeCargo(t, s, 60, 6) },
			cargo.UsualBudget + 10_000_000, nil},
		{"12 items, 6 stations, no slack", 4, func(s uint64) (cargo.Trip, cargo.Task) { return randomCargo(t, s, 12, 6, 0) },
			cargo.UsualBudget + 10_000_000, []cargo.Outcome{cargo.MustStay, cargo.MustStayFound, cargo.Hopeless}},
		{"60 items, 60 stations, 2 % of slack", 2, func(s uint64) (cargo.Trip, cargo.Task) { return randomCargo(t, s, 60, 60, 20) },
			cargo.UsualBudget + 10_000_000, []cargo.Outcome{cargo.Best, cargo.BestFound}},
		{"60 items, 60 stations, 200 limits", 1, func(s uint64) (cargo.Trip, cargo.Task) { return hostileCargo(t, s) },
			cargo.UsualBudget + 20_000_000, nil},
	} {
		n, most, outcomes := c.seeds, 0, map[cargo.Outcome]int{}
		if !testsize.Full() {
			n = (min(n, 20) + 1) / 2
		}
		if testing.Short() {
			n = 1
		}
		for seed := range uint64(n) {
			trip, task := c.make(seed)
			got, err := cargo.PlanMoves(ctx, trip, 1, task)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if most = max(most, got.Work); c.settled != nil && !slices.Contains(c.settled, got.Outcome) {
				t.Errorf("%s: seed %d: %s", c.name, seed, got.Outcome)
			}
			outcomes[got.Outcome]++
		}
		t.Logf("%s: %d at most, %v", c.name, most, outcomes)
		if most > c.most {
			t.Errorf("%s: work of %d, want %d at most", c.name, most, c.most)
		}
	}
}

// What is held is looked at whenever the context is asked.
func TestMovesMemory(t *testing.T) {
	trip, task := hostileCargo(t, 1)
	task.Budget = 20_000_000
	held := &heldContext{Context: ctx}
	held.Err()
	before := held.most
	if _, err := cargo.PlanMoves(held, trip, 1, task); err != nil {
		t.Fatal(err)
	}
	got := (held.most - before) >> 20
	t.Logf("%d MB, looked at %d times", got, held.asked)
	if got >= 32 || held.asked < 10 {
		t.Errorf("%d MB, want less than 32; looked at %d times", got, held.asked)
	}
}

// heldContext notes the most memory that is held when it is asked.
type heldContext struct {
	context.Context
	most  uint64
	asked int
}

func (c *heldContext) Err() error {
	var now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&now)
	c.most = max(c.most, now.HeapAlloc)
	c.asked++
	return nil
}

func TestMovesContext(t *testing.T) {
	trip, task := randomCargo(t, 3, 60, 60, 20)
	done, cancel := context.WithCancel(ctx)
	cancel()
	if got, err := cargo.PlanMoves(done, trip, 1, task); !errors.Is(err, context.Canceled) || got.Outcome != 0 {
		t.Errorf("canceled: %+v, %v", got, err)
	}
	// It is asked while the search runs, too.
	counted := &countedContext{Context: ctx, left: 5}
	if _, err := cargo.PlanMoves(counted, trip, 1, task); !errors.Is(err, context.DeadlineExceeded) || counted.left < -3 {
		t.Errorf("a deadline on the way: %v, asked %d times more", err, -counted.left)
	}
}

// countedContext is done once it was asked so often.
type countedContext struct {
	context.Context
	left int
}

func (c *countedContext) Err() error {
	if c.left--; c.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

func TestMovesTooManyLimits(t *testing.T) {
	trip, task := simpleCargo(t)
	for len(task.Limits) <= cargo.MaxLimits {
		task.Limits = append(task.Limits, task.Limits[0])
	}
	if _, err := cargo.PlanMoves(ctx, trip, 0, task); !errors.Is(err, cargo.ErrPlan) {
		t.Errorf("%d limits: %v", len(task.Limits), err)
	}
}

// Out of budget before anything is known about moves alone, a plan that leaves
// something home is given, and it is enough.
func TestNotSettledStillHelps(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine, and long under the race detector")
	}
	t.Parallel()
	helped := 0
	for seed := range uint64(40) {
		trip, task := randomCargo(t, seed, 24, 6, 0)
		task.Budget = 3_000_000
		got, err := cargo.PlanMoves(ctx, trip, 1, task)
		if err != nil {
			t.Fatal(err)
		}
		if got.Outcome != cargo.NotSettled || len(got.StayHome) == 0 {
			continue
		}
		if helped++; !after(t, solutionOf(t, seed), task, got) {
			t.Errorf("seed %d: not enough: %+v", seed, got)
		}
	}
	if helped < 3 {
		t.Errorf("only %d plans", helped)
	}
}

// FuzzPlanMoves: whatever the task, no panic, work within the budget, and a plan
// that is enough and costs no less than what is proven.
func FuzzPlanMoves(f *testing.F) {
	f.Add(uint64(1), uint8(5), uint8(3), int8(20), []byte{1, 2, 3})
	f.Add(uint64(2), uint8(12), uint8(6), int8(0), []byte{0, 0, 0, 0, 9, 9})
	f.Add(uint64(3), uint8(40), uint8(30), int8(-10), []byte{7, 1, 7, 2, 200})
	f.Fuzz(func(t *testing.T, seed uint64, items, stations uint8, slack int8, more []byte) {
		n, s := 1+int(items)%24, 1+int(stations)%12
		trip, task := randomCargo(t, seed, n, s, weight.Mass(slack))
		task.Budget = 50_000
		for i, b := range more {
			it := &task.Items[i%n]
			switch b % 5 {
			case 0:
				it.Mass = weight.Mass(1+int64(b)) * lb
			case 1:
				it.To = append(it.To, task.Stations[int(b)%s].Name)
			case 2:
				task.Stations[int(b)%s].Most = weight.Mass(b) * 10 * lb
			case 3:
				task.Limits[int(b)%len(task.Limits)].Rating -= weight.Mass(b) * lb
			case 4:
				task.LeastLoads = append(task.LeastLoads[:0], cargo.LeastLoad{Name: "steer", On: weight.AxleOf(0), Load: trip.At(1, weight.AxleOf(0)).Load + weight.Mass(int64(b)-100)*lb})
			}
		}
		sol := solutionOf(t, seed)
		trip = mustTrip(t, sol, stageOf(task))
		got, err := cargo.PlanMoves(ctx, trip, 1, task)
		if err != nil {
			t.Fatal(err)
		}
		if most := task.Budget + 40*n*(s+1)*(len(task.Limits)+len(task.LeastLoads)+s); got.Work > most {
			t.Errorf("work of %d, want %d at most", got.Work, most)
		}
		switch got.Outcome {
		case cargo.Best, cargo.BestFound:
			if got.NoLessThan > got.MovedMass || got.StayMass != 0 || got.Outcome == cargo.Best && got.NoLessThan != got.MovedMass {
				t.Errorf("%+v", got)
			}
		case cargo.MustStay, cargo.MustStayFound:
			if got.NoLessThan > got.StayMass || got.StayMass == 0 {
				t.Errorf("%+v", got)
			}
		case cargo.Hopeless, cargo.NothingToMove:
			if len(got.Moves)+len(got.StayHome) != 0 {
				t.Errorf("%+v", got)
			}
		}
		if len(got.Moves)+len(got.StayHome) > 0 && !after(t, sol, task, got) {
			t.Errorf("not enough: %+v", got)
		}
	})
}

func BenchmarkItems(b *testing.B) {
	for _, stations := range []int{6, 60} {
		for _, n := range []int{4, 8, 12, 16, 24, 40, 60} {
			b.Run(fmt.Sprintf("%d stations/%d", stations, n), func(b *testing.B) {
				work, settled := 0, 0
				for seed := uint64(0); b.Loop(); seed++ {
					trip, task := randomCargo(b, seed%20, n, stations, 20)
					got, err := cargo.PlanMoves(ctx, trip, 1, task)
					if err != nil {
						b.Fatal(err)
					}
					if work += got.Work; got.Outcome == cargo.Best || got.Outcome == cargo.NothingToMove {
						settled++
					}
				}
				b.ReportMetric(float64(work)/float64(b.N), "work/op")
				b.ReportMetric(100*float64(settled)/float64(b.N), "%proven")
			})
		}
	}
}

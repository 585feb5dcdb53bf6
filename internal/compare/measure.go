package main

import (
	"fmt"
	"io"
	"runtime"
	"slices"
	"time"
)

// A meter measures ways in turns.
type meter struct {
	turns  int
	length time.Duration
	insns  *counter // nil where instructions cannot be counted
	why    error    // then
}

// newMeter locks the goroutine to its thread, whose instructions are counted.
func newMeter(turns int, length time.Duration) *meter {
	runtime.LockOSThread()
	m := &meter{turns: turns, length: length}
	m.insns, m.why = countInstructions()
	return m
}

func (m *meter) close() {
	if m.insns != nil {
		m.insns.close()
	}
	runtime.UnlockOSThread()
}

// counted says what is counted beside CPU time.
func (m *meter) counted() string {
	if m.insns == nil {
		return fmt.Sprintf("instructions are not counted here (%v)", m.why)
	}
	return "instructions of the measuring thread beside them"
}

// A sample is what one turn of a way took, for one unit of work.
type sample struct {
	ns, insns, allocs, bytes float64
}

// bench measures the ways of b in turns and prints them; with check, it only
// calls each way once. Where one call takes ten turns' time, three turns are enough.
func (m *meter) bench(out io.Writer, b bench, check bool) error {
	calls, turns := make([]int, len(b.ways)), m.turns
	for i, w := range b.ways {
		if err := w.do(); err != nil {
			return fmt.Errorf("%s: %w", w.name, err)
		}
		if check {
			continue
		}
		for calls[i] = 1; ; calls[i] *= 2 {
			s, err := m.sample(w, calls[i])
			if err != nil {
				return fmt.Errorf("%s: %w", w.name, err)
			}
			if s.ns >= float64(10*m.length) {
				turns = min(turns, 3)
			}
			if s.ns >= float64(m.length)/2 {
				calls[i] = max(1, int(float64(calls[i])*float64(m.length)/s.ns))
				break
			}
		}
	}
	if check {
		return nil
	}
	samples := make([][]sample, len(b.ways))
	for turn := range turns {
		for k := range b.ways {
			i := (turn + k) % len(b.ways) // another one first in each turn
			s, err := m.sample(b.ways[i], calls[i])
			if err != nil {
				return fmt.Errorf("%s: %w", b.ways[i].name, err)
			}
			samples[i] = append(samples[i], s.over(float64(calls[i]*b.of)))
		}
	}
	m.print(out, b, samples)
	return nil
}

func (s sample) over(n float64) sample {
	return sample{s.ns / n, s.insns / n, s.allocs / n, s.bytes / n}
}

// sample does a way's work some times and gives what all of it took.
func (m *meter) sample(w way, calls int) (sample, error) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	insns := m.insns.read()
	start := cpuTime()
	for range calls {
		if err := w.do(); err != nil {
			return sample{}, err
		}
	}
	s := sample{ns: float64(cpuTime() - start), insns: float64(m.insns.read() - insns)}
	runtime.ReadMemStats(&after)
	s.allocs, s.bytes = float64(after.Mallocs-before.Mallocs), float64(after.TotalAlloc-before.TotalAlloc)
	return s, nil
}

func (m *meter) print(out io.Writer, b bench, samples [][]sample) {
	fmt.Fprintf(out, "\n%s: CPU ns for one %s\n%-42s %10s %10s %10s %9s  %-20s %8s %9s", b.name, b.per, "", "least", "middle", "most", "by least", "by turns", "allocs", "bytes")
	if m.insns != nil {
		fmt.Fprintf(out, " %10s", "instr.")
	}
	fmt.Fprintln(out)
	var first [3]float64
	for i, w := range b.ways {
		ns := spread(samples[i], func(k int) float64 { return samples[i][k].ns })
		if i == 0 {
			first = ns
		}
		ratio := spread(samples[i], func(k int) float64 { return samples[i][k].ns / samples[0][k].ns })
		last := samples[i][len(samples[i])-1]
		fmt.Fprintf(out, "  %-40s %10s %10s %10s %9.2f  %-20s %8.1f %9.0f", w.name, short(ns[0]), short(ns[1]), short(ns[2]), ns[0]/first[0],
			fmt.Sprintf("%.2f (%.2f to %.2f)", ratio[1], ratio[0], ratio[2]), last.allocs, last.bytes)
		if m.insns != nil {
			fmt.Fprintf(out, " %10.0f", last.insns)
		}
		fmt.Fprintln(out)
	}
}

// short writes a figure with three or more digits.
func short(v float64) string {
	if v < 100 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// spread gives the least, the middle and the greatest of what f says of each
// sample.
func spread(samples []sample, f func(k int) float64) [3]float64 {
	all := make([]float64, len(samples))
	for k := range all {
		all[k] = f(k)
	}
	slices.Sort(all)
	return [3]float64{all[0], all[len(all)/2], all[len(all)-1]}
}

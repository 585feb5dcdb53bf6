package inspect_test

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

var (
	coaches   = flag.Int("coaches", 200, "how many random coaches are made worse and forgotten of")
	full      = flag.Bool("full", false, "2,000 random coaches")
	firstSeed = flag.Uint64("first-coach", 1, "seed of the first random coach")
	showEach  = flag.Int("show", 12, "how many failures of random coaches are shown")
	only      = flag.String("only", "", "show failures of random coaches that this is a part of")
	detail    = flag.Bool("exceptions", false, "count what falls under each exception")
	failDir   = flag.String("failures", "", "folder for one file for each kind of failure of random coaches")
)

// An assessor is what visits are judged by: the library, or one that was broken on
// purpose.
type assessor func(*record.Visit, inspect.Setup) (report.Report, error)

// asItIs is the change that changes nothing.
const asItIs = "as it is"

// A step is a visit and the same one after one change. Both are judged, and a
// relation says what may not come out of it.
type step struct {
	relation      *relation
	change        string
	before, after *record.Visit
	setup, then   *inspect.Setup
	known         *report.Report // of before, where it was judged already
	ranks         map[ruleAt]int // of its verdicts
}

// A hole is what came out milder than it may.
type hole struct {
	aspect, where string // what of the report; of which tire, axle or rule
	said          string
}

func (m hole) String() string { return m.aspect + " " + m.where + ": " + m.said }

// A relation holds between the reports of a visit and of a changed one.
type relation struct {
	name  string
	holds func(*step, *report.Report, *report.Report) []hole
}

// judged is a step with both its reports and what of the relation does not hold,
// exceptions left out.
func (s *step) judged(by assessor, used map[string]int) (bad []hole, before, after report.Report, err error) {
	if s.known != nil {
		before = *s.known
	} else if before, err = by(s.before, *s.setup); err != nil {
		return nil, before, after, err
	}
	if after, err = by(s.after, *s.then); err != nil {
		return nil, before, after, err
	}
	for _, m := range s.relation.holds(s, &before, &after) {
		if name := s.excepted(m, &before, &after); name != "" {
			if used != nil {
				used[name]++
				if *detail {
					used["  "+name+", "+kindOf(s.change)+": "+m.kind()]++
				}
			}
			continue
		}
		bad = append(bad, m)
	}
	return bad, before, after, nil
}

// shrunk is the step with all dropped from both its visits without which the same
// still fails.
func (s *step) shrunk(by assessor, like hole) *step {
	fails := func(t *step) bool {
		if s.change != asItIs && visittest.Same(t.before, t.after) && t.setup == t.then {
			return false
		}
		bad, _, _, err := t.judged(by, nil)
		return err == nil && slices.ContainsFunc(bad, func(m hole) bool { return m.aspect == like.aspect && m.where == like.where })
	}
	out := *s
	out.known, out.ranks = nil, nil
	for again := true; again; {
		again = false
		paths := visittest.Paths(out.before)
		for i := len(paths) - 1; i >= 0; i-- {
			p := paths[i]
			less := out
			less.before = p.Without(out.before)
			if visittest.Has(out.after, p) {
				less.after = p.Without(out.after)
			}
			if fails(&less) {
				out, again = less, true
			}
		}
		if less := out; out.setup == out.then && out.setup != &noTable {
			less.setup, less.then = &noTable, &noTable
			if fails(&less) {
				out, again = less, true
			}
		}
	}
	return &out
}

// String is all that somebody needs to see what went wrong: the smallest visit,
// the change, both answers.
func (s *step) explain(by assessor, m hole) string {
	bad, before, after, err := s.judged(by, nil)
	var b strings.Builder
	fmt.Fprintf(&b, "%s after %q: %s\n", s.relation.name, s.change, m)
	for _, also := range bad {
		if also != m {
			fmt.Fprintf(&b, "  also: %s\n", also)
		}
	}
	if err != nil {
		fmt.Fprintln(&b, err)
	}
	fmt.Fprintf(&b, "--- visit\n%s--- what the change does\n%s", visittest.YAML(s.before), diff(visittest.YAML(s.before), visittest.YAML(s.after)))
	if s.setup != s.then {
		b.WriteString("the table is no longer there\n")
	}
	for _, table := range tablesOf(s.setup) {
		b.WriteString("--- table\n" + table)
	}
	fmt.Fprintf(&b, "--- before: %v, after: %v\n%s", before.Drive, after.Drive, diff(answer(&before), answer(&after)))
	return b.String()
}

// noTable is what a visit is judged with where there is no table.
var noTable = inspect.Setup{EveryVerdict: true}

func tablesOf(s *inspect.Setup) []string {
	var out []string
	for t := range s.Tables.All() {
		text := t.Size() + ":"
		for _, fit := range fitments {
			text += " " + fit.String()
			for row := range t.Rows(fit) {
				text += fmt.Sprintf(", %v %v", row.Pressure, row.Load)
			}
		}
		out = append(out, text+"\n")
	}
	return out
}

// diff lists the lines that only one of two texts has.
func diff(x, y string) string {
	var b strings.Builder
	xs, ys := strings.Split(x, "\n"), strings.Split(y, "\n")
	for _, line := range xs {
		if !slices.Contains(ys, line) {
			b.WriteString("- " + strings.TrimSpace(line) + "\n")
		}
	}
	for _, line := range ys {
		if !slices.Contains(xs, line) {
			b.WriteString("+ " + strings.TrimSpace(line) + "\n")
		}
	}
	return b.String()
}

// answer is what of a report the relations look at.
func answer(r *report.Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "drive: %v; not judged %d\n", r.Drive, r.NotJudged)
	for i := range r.Settings {
		s := &r.Settings[i]
		fmt.Fprintf(&b, "set %s: %v (%v, minimum %v)\n", s.Name, s.Set, s.Outcome, s.Minimum)
	}
	for i := range r.Tires {
		t := &r.Tires[i]
		fmt.Fprintf(&b, "%s: air %v, %v\n", t.At, t.Air, t.Low)
	}
	for _, it := range r.Todo {
		fmt.Fprintf(&b, "%s, %v, %s: %s [%s] %s; bound %s\n", it.Action, it.Verdict, it.Where, it.What, strings.Join(it.Rules, " "), it.Found, it.Bound)
	}
	for _, g := range r.Unjudged {
		fmt.Fprintf(&b, "not judged, %s: %s [%s]\n", g.Where, g.Need, strings.Join(g.Rules, " "))
	}
	return b.String()
}

// steps makes the changes of one coach: everything that can become worse once,
// and some of what can be forgotten.
func steps(c *visittest.Coach) []step {
	r := rand.New(rand.NewPCG(c.Seed, 2))
	before, own := c.Write(), c.Setup()
	own.EveryVerdict = true
	setup := &own
	if c.Table == nil {
		setup = &noTable
	}
	var out []step
	for _, w := range visittest.AllWorse() {
		worse := c.Clone()
		if !w.Do(worse, r) {
			continue
		}
		if after := worse.Write(); !visittest.Same(before, after) {
			out = append(out, step{relation: &worseRelation, change: w.Name, before: before, after: after, setup: setup, then: setup})
		}
	}
	paths := visittest.Paths(before)
	for _, i := range r.Perm(len(paths))[:min(len(paths), 40)] {
		p := paths[i]
		if visittest.Spare(before, p) { // of one that is not written down nobody knows
			continue
		}
		if kind := p.Kind(); p.Whole && kind != "tires[]" && kind != "weighing.readings[]" && kind != "trip.changes[]" || strings.HasPrefix(kind, "coach") || strings.HasSuffix(kind, ".behind_steer") {
			continue
		}
		out = append(out, step{relation: &forgottenRelation, change: p.Name, before: before, after: p.NotRead(before), setup: setup, then: setup})
	}
	if without := *before; before.Trip.Changes != nil {
		without.Trip = record.Trip{}
		out = append(out, step{relation: &forgottenRelation, change: "trip", before: before, after: &without, setup: setup, then: setup})
	}
	if without := *before; before.Weighing.Readings != nil {
		without.Weighing = record.Weighing{}
		out = append(out, step{relation: &forgottenRelation, change: "weighing", before: before, after: &without, setup: setup, then: setup})
	}
	out = append(out, step{relation: &aloneRelation, change: asItIs, before: before, after: before, setup: setup, then: setup})
	if c.Table != nil {
		out = append(out, step{relation: &forgottenRelation, change: "table", before: before, after: before, setup: setup, then: &noTable})
	}
	return out
}

// A tally is what came of a run over many coaches.
type tally struct {
	mu                      sync.Mutex
	explain                 bool // what fails, for people
	visits, refused, change int
	why                     map[string]int // for what visits were refused
	used                    map[string]int
	count                   map[string]int
	first                   map[string]string // an explanation of each kind of failure
	seeds                   map[string]uint64
}

// run judges n coaches and all their changes.
func run(n int, seed uint64, by assessor) *tally { return runOf(n, seed, by, true) }

func runOf(n int, seed uint64, by assessor, explain bool) *tally {
	t := &tally{explain: explain, why: map[string]int{}, used: map[string]int{}, count: map[string]int{}, first: map[string]string{}, seeds: map[string]uint64{}}
	var wait sync.WaitGroup
	work := make(chan uint64)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for s := range work {
				t.coach(visittest.NewCoach(s), by)
			}
		})
	}
	for i := range n {
		work <- seed + uint64(i)
	}
	close(work)
	wait.Wait()
	return t
}

func (t *tally) coach(c *visittest.Coach, by assessor) {
	used, list := map[string]int{}, steps(c)
	refused := 0
	fail := func(key string, say func() string) {
		t.mu.Lock()
		t.count[key]++
		isFirst := t.count[key] == 1
		t.mu.Unlock()
		if isFirst && t.explain {
			text := say()
			t.mu.Lock()
			t.first[key], t.seeds[key] = text, c.Seed
			t.mu.Unlock()
		}
	}
	setup := c.Setup()
	setup.EveryVerdict = true
	for _, bad := range alone(c, c.Write(), setup, by) {
		fail("every visit, "+bad.aspect, func() string {
			v := c.Write()
			r, _ := by(v, setup)
			return bad.String() + "\n--- visit\n" + visittest.YAML(v) + strings.Join(tablesOf(&setup), "") + "--- answer\n" + answer(&r)
		})
	}
	first, err := by(c.Write(), setup)
	if err != nil {
		refused, list = len(list), nil
		t.refuse(err)
	}
	ranks := verdictsOf(&first, false)
	for i := range list {
		s := &list[i]
		s.known, s.ranks = &first, ranks
		bad, _, _, err := s.judged(by, used)
		if err != nil {
			refused++
			t.refuse(err)
			continue
		}
		for _, m := range bad {
			fail(s.relation.name+", "+kindOf(s.change)+": "+m.kind(), func() string { return s.shrunk(by, m).explain(by, m) })
		}
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.visits, t.change, t.refused = t.visits+1, t.change+len(list), t.refused+refused
	for name, n := range used {
		t.used[name] += n
	}
}

func (t *tally) refuse(err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.why[kindOf(strings.SplitN(err.Error(), "\n", 2)[0])]++
}

// show fails for each kind of failure, the most frequent first.
func show(t *testing.T, got *tally) {
	t.Helper()
	t.Logf("%d coaches from seed %d, %d changes, %d of them no visit", got.visits, *firstSeed, got.change, got.refused)
	if got.refused*20 > got.change {
		t.Errorf("%d of %d changes gave no visit: want at most one of twenty: %v", got.refused, got.change, got.why)
	}
	maps.DeleteFunc(got.count, func(key string, _ int) bool { return !strings.Contains(key, *only) })
	kinds := slices.SortedFunc(maps.Keys(got.count), func(x, y string) int { return got.count[y] - got.count[x] })
	for i, key := range kinds {
		text := fmt.Sprintf("%d times, first with seed %d: %s", got.count[key], got.seeds[key], key)
		if i < *showEach {
			text += "\n" + got.first[key]
		}
		t.Error(text)
		if *failDir != "" {
			name := filepath.Join(*failDir, fmt.Sprintf("%03d.txt", i))
			if err := os.WriteFile(name, fmt.Appendf(nil, "%d times, first with seed %d: %s\n%s", got.count[key], got.seeds[key], key, got.first[key]), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestNeverMilder: what is worse, or less known, never has a milder answer.
func TestNeverMilder(t *testing.T) {
	t.Parallel()
	n := *coaches
	if *full {
		n = max(n, 2000)
	}
	if testing.Short() { // under the race detector and on other machines
		n = min(n, 40)
	}
	got := run(n, *firstSeed, inspect.Assess)
	show(t, got)
	if *detail {
		for _, key := range slices.SortedFunc(maps.Keys(got.used), func(x, y string) int { return got.used[y] - got.used[x] }) {
			t.Logf("%6d %s", got.used[key], key)
		}
	}
	for _, e := range exceptions {
		t.Logf("exception %q: %d times", e.name, got.used[e.name])
		if got.used[e.name] == 0 && n >= 20000 { // some are rare
			t.Errorf("the exception %q never occurred: %s", e.name, e.why)
		}
	}
}

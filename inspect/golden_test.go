package inspect_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/golden"
	"axleend.example/internal/visittest"
)

var update = flag.Bool("update", false, "write the reports of testdata anew; read the difference before committing it")

// inLines is what a report decides, line by line.
func inLines(r *report.Report) string {
	var b strings.Builder
	line := func(format string, args ...any) {
		b.WriteString(strings.TrimRight(fmt.Sprintf("  "+format, args...), " ;,") + "\n")
	}
	line("%s; %d not judged, of which %d can be read; %d rules kept; packs %s", r.Drive, r.NotJudged, r.CanRead, r.Kept, strings.Join(r.Packs, " "))
	for i := range r.Settings {
		s := &r.Settings[i]
		line("%s: %s %s, %s; placard %s, lowest %s by %s, cap %s by %s; heavier %s, %s on %s", s.Name, s.Outcome, s.Set, s.Why, s.Placard, s.Lowest.Pressure, s.Lowest.Part, s.Cap.Pressure, s.Cap.Part, s.Governing, s.TireLoad, s.Tire)
	}
	for i := range r.Todo {
		it := &r.Todo[i]
		line("%s, %s: %s: %s; %s; %s; %s", it.Action, it.Verdict, it.Where, it.What, it.Found, it.Bound, strings.Join(it.Causes, "; "))
	}
	for _, g := range r.Unjudged {
		line("to know: %s: %s (%d rules)", g.Where, g.Need, len(g.Rules))
	}
	for i := range r.Loads {
		l := &r.Loads[i]
		text := fmt.Sprintf("%s: %s, %s +/- %s", l.Name, l.Estimate.State, l.Estimate.Load, l.Estimate.PlusMinus)
		for _, to := range l.Ratings {
			text += fmt.Sprintf("; %s %s, room %s, %s", to.Name, to.Rating, to.Room, to.Verdict)
		}
		line("%s", text)
	}
	for i := range r.Tires {
		t := &r.Tires[i]
		line("%s: %s, %s; against %s, %s; flat by %s; worst %s; %s", t.At, t.Air, t.Low, recorded(t.Reference), t.ReferenceFrom, recorded(t.FlatAt), t.Worst, t.Unjudged)
	}
	for _, p := range r.Pairs {
		line("%s: inside %s, %s; alone %s of %s, %d %%", p.Name, p.Inside, p.InsideBy, p.AloneLoad, p.AloneRating, p.AlonePercent)
	}
	for _, c := range r.Cautions {
		first, _, _ := strings.Cut(c, ". ")
		line("caution: %s", first)
	}
	return b.String()
}

func recorded[T any](r record.Recorded[T]) string {
	if v, ok := r.Get(); ok {
		return fmt.Sprint(v)
	}
	return "-"
}

// TestGoldenReports: what is decided of random coaches, and of everyday visits with slips
// in their numbers, was held to the properties of the other tests; another line is to be
// read before it stays.
func TestGoldenReports(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	add := func(title string, v *record.Visit, setup inspect.Setup) {
		r, err := inspect.Assess(v, setup)
		if err != nil {
			fmt.Fprintf(&b, "%s: %v\n\n", title, err)
			return
		}
		fmt.Fprintf(&b, "%s\n%s\n", title, inLines(&r))
	}
	for seed := range uint64(18) {
		c := visittest.NewCoach(20_261_130 + seed)
		add(fmt.Sprintf("random coach %d", seed), c.Write(), c.Setup())
	}
	_, setup := visittest.Demo(t)
	random := rand.New(rand.NewPCG(2, 20261130))
	for n := 0; n < 16; {
		text, told := slipped(random, soundVisit(random), 1+random.IntN(3))
		if v, err := record.Read("slip.yaml", []byte(text)); err == nil {
			add("slip: "+strings.Join(told, " and "), v, setup)
			n++
		}
	}
	golden.Check(t, filepath.Join("testdata", "reports.txt"), b.String(), *update)
}

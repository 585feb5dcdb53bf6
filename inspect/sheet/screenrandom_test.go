package sheet_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
)

// fittingStops is how many different things that stop a coach a screen always has
// room for; with more of them its page may be longer, since each stands there by its
// title and its places.
const fittingStops = 5

// TestScreenOfRandomCoaches: the short page of any coach has at most 40 lines of 80
// columns, longer only where more than fittingStops titles stop it, and never leaves
// out what stops it nor a tire that nobody may air up. What comes before the trip
// stands there by its title, or is counted.
func TestScreenOfRandomCoaches(t *testing.T) {
	n := uint64(250)
	if testing.Short() {
		n = 80
	}
	judged, long := 0, 0
	for seed := range n {
		c := visittest.NewCoach(seed)
		r, err := inspect.Assess(c.Write(), c.Setup())
		if err != nil {
			continue
		}
		judged++
		for _, wide := range []int{80, 40} {
			text := sheet.Text(r, sheet.TextOptions{ReadOn: "Read on.", Columns: wide})
			for _, problem := range screenProblems(r, text, wide) {
				t.Errorf("seed %d, %d wide: %s\n%s", seed, wide, problem, text)
			}
			if wide == 80 && strings.Count(text, "\n") > 32 {
				long++
			}
		}
	}
	if judged < int(n)*9/10 || long < judged/4 {
		t.Errorf("%d of %d coaches were judged, %d of them with a long page: too few to show anything", judged, n, long)
	}
}

// TestScreenProblemsAreSeen: a page that has lost something is caught.
func TestScreenProblemsAreSeen(t *testing.T) {
	r := demo(t, demos[1])
	text := sheet.Text(r, sheet.TextOptions{})
	if problems := screenProblems(r, text, 80); len(problems) > 0 {
		t.Fatal(problems)
	}
	lines := strings.SplitAfter(text, "\n")
	seen := 0
	for i, line := range lines {
		without := strings.Join(slices.Delete(slices.Clone(lines), i, i+1), "")
		lost := len(screenProblems(r, without, 80)) > 0
		if strings.Contains(line, "DO NOT AIR UP") || strings.HasPrefix(line, "- drive-left") {
			if seen++; !lost {
				t.Errorf("nobody misses %q", line)
			}
		}
	}
	if seen < 4 || len(screenProblems(r, text+strings.Repeat("More.\n", 40), 80)) == 0 {
		t.Errorf("%d lines were taken away, and what is too long is not seen", seen)
	}
}

var (
	inFewWords = regexp.MustCompile(`([a-z0-9-]+) \((both|all tires|both ends)\)`)
	countedOut = regexp.MustCompile(`And (\d+) more things? before the trip|BEFORE THE TRIP: (\d+) things?, on the full page`)
)

// spelledOut writes out the places that a page has in few words.
func spelledOut(r *report.Report, text string) string {
	return inFewWords.ReplaceAllStringFunc(text, func(s string) string {
		name, kind, _ := strings.Cut(s, " (")
		var all []string
		for i := range r.Tires {
			x := &r.Tires[i]
			if x.Axle == name && kind != "both ends)" || x.Axle != "" && x.Axle+"-"+x.Side.String() == name {
				all = append(all, x.At)
			}
		}
		if kind != "all tires)" && !strings.HasSuffix(name, "-left") && !strings.HasSuffix(name, "-right") {
			all = append(all, name+"-left", name+"-right")
		}
		return strings.Join(all, ", ")
	})
}

// screenProblems are what is wrong with a short page of so many columns; a narrow one
// may have as many more lines.
func screenProblems(r report.Report, text string, wide int) []string {
	var out []string
	problem := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	page := spaced(text)
	head, rest, _ := strings.Cut(page, "Cold pressure to set")
	set, todo, _ := strings.Cut(rest, "DO NOT DRIVE")
	set, todo = spelledOut(&r, set), spelledOut(&r, todo)
	stops, before := make(map[string]bool), make(map[string]bool)
	for i := range r.Todo {
		it := &r.Todo[i]
		switch {
		case it.Stops:
			stops[it.What] = true
			entry, _, ok := strings.Cut(todo, ": "+it.What)
			entry = entry[strings.LastIndex(entry, "- ")+1:]
			if !ok || !slices.Contains(strings.Split(strings.TrimSpace(entry), ", "), it.Where) && !strings.Contains(entry, "every tire") {
				problem("%q does not stand there of %s", it.What, it.Where)
			}
			if !strings.Contains(spelledOut(&r, head), it.Where) && !strings.Contains(head, "every tire") {
				problem("the first line does not name %s", it.Where)
			}
		case it.Action == report.BeforeTrip:
			before[it.What] = true
		}
	}
	missing, counted := 0, 0
	for what := range before {
		if !strings.Contains(page, what) {
			missing++
		}
	}
	if m := countedOut.FindStringSubmatch(page); m != nil {
		counted, _ = strconv.Atoi(m[1] + m[2])
	}
	if missing > counted {
		problem("%d titles of what comes before the trip are not there, and %d are counted", missing, counted)
	}
	for i := range r.Tires {
		x := &r.Tires[i]
		if x.Axle != "" && x.Air == report.AirForbidden && !strings.Contains(set, x.At) && !strings.Contains(set, "DO NOT AIR UP ANY TIRE") {
			problem("nothing of %s, which nobody may air up", x.At)
		}
	}
	lines := strings.Count(text, "\n")
	if most := 40 * 80 / wide; lines > most && len(stops) <= fittingStops || lines > most+2*len(stops) {
		problem("%d lines, and %d different things stop it", lines, len(stops))
	}
	for line := range strings.Lines(text) {
		if n := columnsOf(strings.TrimSuffix(line, "\n")); n > wide {
			problem("%d columns: %q", n, line)
		}
	}
	return out
}

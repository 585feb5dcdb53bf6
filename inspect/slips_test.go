package inspect_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// quantities are the numbers with a unit in a visit as it is written.
var quantities = regexp.MustCompile(`\b(\d[\d,.]*)(/32)? (lb|psi|in|F|mi|kPa|kg|mm|C|km)\b`)

// A slip is what a hurried or a foreign hand makes of a quantity; it gives ""
// where there is nothing to slip on.
type slip struct {
	name string
	of   func(number, over, unit string) string
}

var slips = []slip{
	{"a comma for a point", func(n, over, unit string) string {
		if !strings.Contains(n, ".") {
			return ""
		}
		return strings.Replace(n, ".", ",", 1) + over + " " + unit
	}},
	{"a point for a thousand", func(n, over, unit string) string {
		n = strings.ReplaceAll(n, ",", "")
		if len(n) < 4 || strings.Contains(n, ".") || over != "" {
			return ""
		}
		return n[:len(n)-3] + "." + n[len(n)-3:] + " " + unit
	}},
	{"the other unit", func(n, over, unit string) string {
		other := map[string]string{"psi": "kPa", "kPa": "psi", "F": "C", "C": "F", "mi": "km", "km": "mi", "lb": "kg", "kg": "lb"}[unit]
		if other == "" {
			return ""
		}
		return n + over + " " + other
	}},
	{"inches for 32nds", func(n, over, unit string) string {
		if over == "" {
			return ""
		}
		return n + " in"
	}},
	{"inches for millimeters", func(n, over, unit string) string {
		if unit != "mm" {
			return ""
		}
		return n + " in"
	}},
}

// slipped is the visit with so many slips in it, and what they are.
func slipped(random *rand.Rand, text string, n int) (string, []string) {
	var told []string
	for range 20 {
		places := quantities.FindAllStringSubmatchIndex(text, -1)
		at := places[random.IntN(len(places))]
		part := func(i int) string {
			if at[2*i] < 0 {
				return ""
			}
			return text[at[2*i]:at[2*i+1]]
		}
		s := slips[random.IntN(len(slips))]
		typed := s.of(part(1), part(2), part(3))
		if typed == "" {
			continue
		}
		line := text[strings.LastIndexByte(text[:at[0]], '\n')+1:]
		line, _, _ = strings.Cut(line, "\n")
		told = append(told, fmt.Sprintf("%s: %s for %s in %q", s.name, typed, part(0), strings.TrimSpace(line)))
		text = text[:at[0]] + typed + text[at[1]:]
		if len(told) == n {
			break
		}
	}
	return text, told
}

// milder says what a report says less of than the true one, and nobody is asked
// about: a lower pressure to set, something found that is neither found nor asked
// where it was, or a coach that may go.
func milder(truth, r report.Report) []string {
	var out []string
	has := func(where, what string) bool {
		return slices.ContainsFunc(r.Todo, func(it report.Item) bool {
			return strings.HasPrefix(it.Where, where) && strings.HasPrefix(it.What, what)
		})
	}
	for _, s := range truth.Settings {
		switch o := r.Setting(s.Name); {
		case o == nil || o.Set == 0 || o.Set >= s.Set:
		// A cap that fell lowers what may be set; that the tires are above it is found,
		// or they are read again.
		case o.Cap.Pressure < s.Cap.Pressure && (has(o.Name, "Above the highest pressure that tire and wheel allow") || has(o.Name, "Read again: its pressure")):
		// A reading in doubt counts as not read: the placard is set until it is read
		// again.
		case (has("weighing", "Read again: the scale's reading") || has("", "Read again: the loads of its ends")) && o.Set >= o.Placard:
		default:
			out = append(out, fmt.Sprintf("SET %s of %s, %s in truth", o.Set, o.Name, s.Set))
		}
	}
	near := func(a, b string) bool { return a == "coach" || strings.HasPrefix(a, b) || strings.HasPrefix(b, a) }
	for _, it := range truth.Todo {
		if !slices.ContainsFunc(r.Todo, func(o report.Item) bool { return o.Verdict != rules.Kept && near(o.Where, it.Where) }) &&
			!slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return near(g.Where, it.Where) }) {
			out = append(out, fmt.Sprintf("%s: nothing of %q", it.Where, it.What))
		}
	}
	if truth.Drive.Stops() && !r.Drive.Stops() && !slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Action == report.BeforeTrip }) {
		out = append(out, "stops no more, and nothing is asked before the trip")
	}
	return out
}

// TestTypedInSlips: ten thousand visits typed in with a comma for a point, a
// point for a thousand or another unit: each is refused, or it lowers no pressure
// to set and clears nothing without asking.
func TestTypedInSlips(t *testing.T) {
	_, setup := visittest.Demo(t)
	random := rand.New(rand.NewPCG(18, 1))
	n := 10_000
	if !testsize.Full() {
		n = 500
	}
	refused, asked, same := 0, 0, 0
	for range n {
		text := soundVisit(random)
		truth := inspectText(t, text, setup)
		typed, told := slipped(random, text, 1+random.IntN(2))
		v, err := record.Read("slip.yaml", []byte(typed))
		if err != nil {
			refused++
			continue
		}
		r, err := inspect.Assess(v, setup)
		if err != nil {
			refused++
			continue
		}
		switch bad := milder(truth, r); {
		case len(bad) > 0:
			t.Errorf("%s: %s", strings.Join(told, " and "), strings.Join(bad, "; "))
		case len(r.Unjudged) > len(truth.Unjudged) || len(r.Todo) > len(truth.Todo):
			asked++
		default:
			same++
		}
	}
	t.Logf("of %d: %d refused, %d found or asked about, %d no milder without", n, refused, asked, same)
	if refused < n/50 || asked < n/3 {
		t.Errorf("the slips are not what they were: of %d %d are refused, %d asked about", n, refused, asked)
	}
}

func inspectText(t *testing.T, text string, setup inspect.Setup) report.Report {
	t.Helper()
	r, err := inspect.Assess(visittest.Read(t, text), setup)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// soundVisit is an everyday visit in which little is wrong, in US or metric units;
// some have a tire that ran low, is worn or overloaded.
func soundVisit(random *rand.Rand) string {
	between := func(from, to int) int { return from + random.IntN(to-from+1) }
	metric := random.IntN(3) == 0
	psi := func(v float64) string {
		if metric {
			return fmt.Sprintf("%.0f kPa", v*6.894757)
		}
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") + " psi"
	}
	lb := func(v int) string {
		if metric {
			return fmt.Sprintf("%d kg", int64(v)*45359237/100_000_000)
		}
		return fmt.Sprintf("%d lb", v)
	}
	depth := func(v int) string {
		if metric {
			return fmt.Sprintf("%.1f mm", float64(v)*25.4/32)
		}
		return fmt.Sprintf("%d/32 in", v)
	}
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	air, odometer, gauge := fmt.Sprintf("%d F", between(40, 90)), fmt.Sprintf("%d mi", between(5000, 90_000)), "0.5 psi"
	if metric {
		air, odometer, gauge = fmt.Sprintf("%d C", between(5, 32)), fmt.Sprintf("%d km", between(8000, 150_000)), "3.5 kPa"
		say("units: metric\n")
	}
	say("visit: 1\ninvented: yes\ndate: 2026-10-03\nodometer: %s\nair_temperature: %s\ngauge_tolerance: %s\n", odometer, air, gauge)
	say("ratings: {gvwr: %s, gcwr: %s}\naxles:\n", lb(26_000), lb(31_000))
	say("  - {id: steer, fitment: single, gawr: %s, placard: %s}\n  - {id: drive, fitment: dual, gawr: %s, placard: %s}\n", lb(9500), psi(100), lb(17_500), psi(110))
	say("every_tire:\n  size: XV250/72R21\n  load_range: G\n  class: truck\n  construction: radial\n  seen: nothing\n")
	say("  single: %s at %s\n  dual: %s at %s\n  wheel: %s at %s\ntires:\n", lb(4940), psi(110), lb(4540), psi(110), lb(5000), psi(120))
	for i, at := range []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer"} {
		set := 100.0
		if i > 1 {
			set = 110
		}
		found, tread := set-float64(between(0, 3)), between(8, 12)
		switch random.IntN(30) {
		case 0:
			found = set * 0.7
		case 1:
			tread = between(1, 4)
		case 2, 3, 4, 5, 6, 7, 8:
			found -= 0.5
		}
		say("  - {at: %s, last_set: %s, found: %s, tread: %s, number: 2222}\n", at, psi(set), psi(found), depth(tread))
	}
	step := "20 lb"
	weighed := func(v int) string { return fmt.Sprintf("%d lb", v/20*20) }
	if metric {
		step = "10 kg"
		weighed = func(v int) string { return fmt.Sprintf("%d kg", int64(v)*45359237/1_000_000_000*10) }
	}
	say("weighing:\n  scale: platform\n  division: %s\n", step)
	for _, key := range []string{"level", "ride_height", "levelers_up", "slides_in", "tanks_as_driven", "fuel_as_driven", "people_as_driven"} {
		say("  %s: yes\n", key)
	}
	front, rear := between(3700, 4500), between(7200, 8600)
	if random.IntN(8) == 0 {
		rear += 900 // over half of the axle's rating, and over its tires
	}
	say("  readings:\n    - {load: %s, on: steer-left}\n    - {load: %s, on: steer-right}\n    - {load: %s, on: drive-left}\n    - {load: %s, on: drive-right}\n",
		weighed(front), weighed(front-between(-200, 200)), weighed(rear), weighed(rear-between(-300, 300)))
	return b.String()
}

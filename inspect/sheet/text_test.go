package sheet_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

func page(t testing.TB, text string) string {
	t.Helper()
	v, err := record.Read("visit.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return sheet.Text(r, sheet.TextOptions{Full: true})
}

const metric = `
visit: 1
units: metric
date: 2026-10-03
coach: a coach with a name that is rather long, to see whether the line of the page that carries it still breaks where it should
air_temperature: 15 C
axles: [{id: steer, fitment: single, gawr: 4000 kg, placard: 655 kPa}]
every_tire: {class: truck, single: 2240 kg at 760 kPa, seen: nothing}
tires:
  - {at: steer-left, last_set: 655 kPa, found: 525 kPa, tread: 3.2 mm, number: 2222}
  - {at: steer-right, last_set: 655 kPa, found: 524 kPa, tread: 3.1 mm, number: 2222}
weighing:
  scale: pads
  division: 10 kg
  readings: [{load: 1900 kg, on: steer-left}, {load: 1950 kg, on: steer-right}]
`

// TestMetricPageIsMetric: a record is shown in the system it was written in,
// set pressures rounded up (the sidewall's 760 kPa is the cap, never 765).
func TestMetricPageIsMetric(t *testing.T) {
	out := page(t, metric)
	// A rule keeps the unit of the publication that it comes from.
	before, rest, _ := strings.Cut(out, "To do, worst first")
	_, after, _ := strings.Cut(rest, "Not judged, because")
	measured := before + after
	for _, bad := range []string{" lb", " psi", "/32 in"} {
		if strings.Contains(measured, bad) {
			t.Errorf("%q stands on a metric page:\n%s", bad, out)
		}
	}
	for _, want := range []string{"1,950 kg", "kPa", "3.2 mm", "air 15 C", "found 524 kPa, not known whether it ran low"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not on the page:\n%s", want, out)
		}
	}
}

func TestEveryPageFits80Columns(t *testing.T) {
	bare := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}, {id: drive, fitment: dual}, {id: tag, fitment: single}]\ntires: [{at: spare}]\n"
	long := fmt.Sprintf("visit: 1\ndate: 2026-10-03\ncoach: %s\naxles: [{id: a-very-long-axle-name-24, fitment: dual}]\ntires: [{at: a-very-long-axle-name-24-left-outer, note: %s}]\n",
		strings.Repeat("x", 190), strings.Repeat("word ", 35))
	for _, text := range []string{metric, bare, long} {
		for i, line := range strings.Split(page(t, text), "\n") {
			if n := utf8.RuneCountInString(line); n > 80 {
				t.Errorf("line %d has %d columns: %s", i+1, n, line)
			}
		}
	}
}

// TestNothingRecordedIsNeverGood: the first line counts what was not judged
// and claims nothing.
func TestNothingRecordedIsNeverGood(t *testing.T) {
	out := page(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: spare}]\n")
	first, _, _ := strings.Cut(out, "\n")
	if first != "NOTHING RECORDED YET" {
		t.Errorf("first line %q", first)
	}
	for _, want := range []string{"Not weighed.", "PRESSURE NOT TAKEN", "NO NUMBER: read the placard first", "NOT JUDGED: "} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not on the page:\n%s", want, out)
		}
	}
}

// TestDepthsAreShownAsRead: whole thirty-seconds as such, and no other depth as the
// thirty-seconds below it.
func TestDepthsAreShownAsRead(t *testing.T) {
	for read, want := range map[string]string{"8/32 in": "8/32 in", "17/64 in": "17/64 in", "0.3 in": "0.3 in"} {
		text := page(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, tread: "+read+"}]\n")
		if !strings.Contains(text, want) || want != "8/32 in" && strings.Contains(text, "tread 8/32") {
			t.Errorf("%s is shown otherwise:\n%s", read, text)
		}
	}
}

// TestHalfGAWRIsSaidOfEndsAlone: what an end is good for is explained where an end
// stands beside a rating, and nowhere else.
func TestHalfGAWRIsSaidOfEndsAlone(t *testing.T) {
	const words = "each end of an axle is good for half"
	for gawr, want := range map[string]bool{"": false, ", gawr: 9000 lb": true} {
		text := page(t, "visit: 1\ndate: 2026-10-03\nratings: {gvwr: 20000 lb}\naxles: [{id: steer, fitment: single"+gawr+"}]\n"+
			"weighing: {as_driven: yes, tolerance: 20 lb, readings: [{load: 4000 lb, on: steer-left}, {load: 4020 lb, on: steer-right}]}\n")
		if strings.Contains(text, words) != want {
			t.Errorf("%q: want %t\n%s", gawr, want, text)
		}
	}
}

// TestNothingToDoIsSaid: where nothing was found the list says so, and elsewhere not.
func TestNothingToDoIsSaid(t *testing.T) {
	r := demo(t, demos[0])
	for _, n := range []int{len(r.Todo), 0} {
		r.Todo = r.Todo[:n]
		text := sheet.Text(r, sheet.TextOptions{Full: true})
		if said := strings.Contains(text, "Nothing was found in what was recorded."); said != (n == 0) {
			t.Errorf("%d to do, said to be nothing: %t", n, said)
		}
	}
}

package history_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/internal/golden"
)

var update = flag.Bool("update", false, "write the histories of testdata anew; read the difference before committing it")

// A worn tire is one as it truly is, which visits read or not.
type wornTire struct {
	number string
	tread  int // 64ths of an inch
	psi    int
	leaks  int // psi a month
}

// years are visits to one coach over some years: its tires wear and lose air, one is
// replaced, two change places, and much is not read.
func years(t testing.TB, r *rand.Rand) []*record.Visit {
	places := []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer", "spare"}
	maybe := func(one, of int, format string, args ...any) string {
		if r.IntN(of) < one {
			return fmt.Sprintf(format, args...)
		}
		return ""
	}
	made, tires, miles := 0, make([]*wornTire, len(places)), 20_000+r.IntN(20_000)
	fit := func() *wornTire {
		made++
		number := fmt.Sprintf("1M3 AX%d DEM %d22", made, 1+r.IntN(52))
		if len(number) < 16 {
			number = number[:12] + "0" + number[12:]
		}
		return &wornTire{number, 20 + r.IntN(8), 105, 1 + r.IntN(2)}
	}
	for i := range tires {
		tires[i] = fit()
	}
	var out []*record.Visit
	on := day("2023-03-04")
	for range 3 + r.IntN(4) {
		var b strings.Builder
		b.WriteString(maybe(5, 6, "odometer: %d mi\n", miles) + maybe(4, 5, "air_temperature: %d F\n", 40+r.IntN(50)) + maybe(4, 5, "cold: yes\n") + maybe(1, 2, "gauge_tolerance: 0.5 psi\n") + maybe(1, 2, "nothing_since_set: yes\n"))
		b.WriteString(maybe(1, 3, "declined: [{at: spare, rule: age-inspect}]\n") + maybe(1, 4, "done: [{at: steer-left, rule: below-set}, {at: drive, rule: placard-not-read, note: by telephone}]\n"))
		b.WriteString("tires:\n")
		for i, at := range places {
			if r.IntN(12) == 0 {
				continue
			}
			x := tires[i]
			tread := fmt.Sprintf("%d/64 in", x.tread)
			if x.tread%2 == 0 {
				tread = fmt.Sprintf("%d/32 in", x.tread/2)
			}
			b.WriteString("  - {at: " + at + maybe(5, 6, ", number: %s", x.number) + maybe(7, 8, ", tread: %s", tread) + maybe(9, 10, ", last_set: 105 psi, found: %d psi", max(0, x.psi)))
			b.WriteString(maybe(1, 2, ", left: 105 psi") + maybe(1, 14, ", air_added: yes") + maybe(1, 14, ", hot: yes") + maybe(1, 14, ", low_alarm: yes") + maybe(1, 8, ", next_day: %d psi", 103+r.IntN(3)))
			b.WriteString(maybe(2, 3, ", seen: %s", pick(r, "nothing", "nothing", "nothing", "cut", "nail or object", "weather cracking", "leaking valve", "bulge", "cupping")) + maybe(1, 6, ", torque_checked: %s", on) + maybe(1, 6, ", wheel_on: %s", on) + "}\n")
		}
		b.WriteString(maybe(2, 3, "weighing: {as_driven: all, scale: pads, tolerance: %d lb, readings: [{load: %d lb, on: steer-left}, {load: %d lb, on: steer-right}, {load: %d lb, on: drive-left}, {load: %d lb, on: drive}]}\n",
			10+r.IntN(30), 4200+r.IntN(600), 4200+r.IntN(600), 7600+r.IntN(900), 15_500+r.IntN(1500)))
		out = append(out, onVisit(t, on.String(), b.String()))

		months, driven := 1+r.IntN(9), r.IntN(9000)
		on, miles = on.AddDays(30*months), miles+driven
		for i, x := range tires {
			x.psi = 105 - x.leaks*months
			if i < 6 {
				x.tread = max(0, x.tread-driven*(3+i%3)/10_000)
			}
			if r.IntN(15) == 0 {
				x.psi -= 10 + r.IntN(15)
			}
		}
		if k := r.IntN(len(tires)); r.IntN(3) == 0 {
			tires[k] = fit()
		}
		if r.IntN(3) == 0 {
			i, k := r.IntN(len(tires)), r.IntN(len(tires))
			tires[i], tires[k] = tires[k], tires[i]
		}
	}
	return out
}

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// unread are the parts of an entry that the report of its visit has as well.
var unread = regexp.MustCompile(`"(advice|causes|sources|source|wheel_off)":("(\\.|[^"\\])*"|\[.*?\]|\{.*?\}|true),?`)

// TestGoldenHistories: what comes out for coaches over some years was read when it was
// written; another line is to be read again.
func TestGoldenHistories(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 20261130))
	var b strings.Builder
	line := func(what string, v any) {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "  %s %s\n", what, strings.ReplaceAll(unread.ReplaceAllString(string(text), ""), `"`, ""))
	}
	for n := range 12 {
		h := compare(t, years(t, r)...)
		fmt.Fprintf(&b, "coach %d\n", n)
		line("drive", []any{h.Drive, h.NotJudged, h.PerMonth, h.LeakLimit, len(h.Todo)})
		list(line, "visit", h.Visits)
		list(line, "open", h.Open)
		list(line, "closed", h.Closed)
		for i := range h.Tires {
			x := h.Tires[i]
			x.Sightings, x.AgeLimits = nil, nil // what is due of them is below
			line("tire", &x)
		}
		list(line, "load", h.Loads)
		list(line, "contradiction", h.Contradictions)
		list(line, "to know", h.Unjudged)
		list(line, "due", h.Due())
		list(line, "caution", h.Cautions)
	}
	golden.Check(t, filepath.Join("testdata", "histories.txt"), b.String(), *update)
}

func list[T any](line func(string, any), what string, of []T) {
	for i := range of {
		line(what, &of[i])
	}
}

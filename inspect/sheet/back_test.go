package sheet_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

// cardOf are the lines of the card to cut out.
func cardOf(t *testing.T, r report.Report, v *record.Visit) []string {
	t.Helper()
	_, card, ok := strings.Cut(render(t, r, sheet.HTMLOptions{OneSheet: true, Visit: v}), `<section class="cut">`)
	if !ok {
		t.Fatal("no card")
	}
	card, _, _ = strings.Cut(card, "</section>")
	_, list, _ := strings.Cut(card, `<div class="flow">`)
	var out []string
	for line := range strings.SplitSeq(list, "<li>") {
		if line = words(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// TestCardToCutOut: how it may be moved, alarms 10 and 15 % below what is set, rounded up
// (common practice), what may still be loaded by what leaves least, what to buy and at
// most four dates. A gallon of water weighs 8.34 lb, rounded up (as weight/cargo has it).
func TestCardToCutOut(t *testing.T) {
	t.Parallel()
	const cold, last = "SET cold, in the morning before driving. Never bleed a hot tire.", "Loads and pressures hold for the coach as weighed. Local codes and trained people decide."
	const visit = "2027-10-03: Weigh the coach again, and have all its tires looked at"
	alarm := func(first, second string) string {
		return "Low alarm of a monitor: " + first + " (SET less 10 %; at 15 % less, " + second + ": stop). A lamp that comes on at 25 % less proves nothing."
	}
	load := func(name string, kind report.LoadKind, room weight.Mass, v rules.Verdict) report.LoadLine {
		return report.LoadLine{Name: name, Kind: kind, Estimate: weighedAs(4000, 20, weight.Determined), Ratings: []report.RatingLine{{Name: "x", Rating: 5000 * weight.Pound, Room: room, Verdict: v}}}
	}
	for name, c := range map[string]struct {
		set  func(r *report.Report)
		want []string // between the cold word and the date of the next visit
	}{
		"nothing":     {func(r *report.Report) {}, nil},
		"a pressure":  {func(r *report.Report) { r.Settings = []inflation.Setting{aSetting()} }, []string{alarm("steer 86 psi", "steer 81 psi")}}, // 85.5 and 80.75
		"none to set": {func(r *report.Report) { s := aSetting(); s.Set = 0; r.Settings = []inflation.Setting{s} }, nil},
		"two axles": {func(r *report.Report) {
			s, x := aSetting(), aSetting()
			x.Name, x.Set = "drive", 110*inflation.PSI
			r.Settings = []inflation.Setting{s, x}
		}, []string{alarm("steer 86 psi, drive 99 psi", "steer 81 psi, drive 94 psi")}},
		"room": {func(r *report.Report) {
			r.Loads = []report.LoadLine{load("steer-left", report.EndLoad, 100*weight.Pound, rules.Kept), load("coach", report.CoachLoad, 8*weight.Pound, rules.TooClose)}
		}, []string{"Room left: steer-left 100 lb (11 gal of water), coach 8 lb (0 gal of water)."}},
		"no room": {func(r *report.Report) {
			r.Loads = []report.LoadLine{load("steer-left", report.EndLoad, 0, rules.TooClose), load("steer-right", report.EndLoad, -1, rules.Breached), load("drive-left", report.EndLoad, 1, rules.Kept)}
		}, []string{"Room left: steer-left NONE, steer-right NONE, drive-left 0 lb (0 gal of water)."}},
		"room not known": {func(r *report.Report) {
			r.Loads = []report.LoadLine{load("steer", report.AxleLoad, 100, rules.Kept), load("steer-left", report.EndLoad, 100, rules.NotRecorded), {Name: "coach", Kind: report.CoachLoad, Estimate: weighedAs(1, 0, weight.Determined)}, {Name: "drive-left", Kind: report.EndLoad, Ratings: []report.RatingLine{{Name: "x"}}}}
		}, nil},
		"by the pressure": {func(r *report.Report) {
			s := aSetting()
			s.Set, s.Left = 0, inflation.EndRoom{Known: true, Room: 50 * weight.Pound}
			r.Settings = []inflation.Setting{s}
			r.Loads = []report.LoadLine{load("steer-left", report.EndLoad, 100*weight.Pound, rules.Kept), load("steer-right", report.EndLoad, 100*weight.Pound, rules.Kept)}
		}, []string{"Room left: steer-left 50 lb (5 gal of water), steer-right 100 lb (11 gal of water)."}},
		"by the right one": {func(r *report.Report) {
			s := aSetting()
			s.Set, s.Right = 0, inflation.EndRoom{Known: true, Room: 150 * weight.Pound}
			r.Settings = []inflation.Setting{s}
			r.Loads = []report.LoadLine{load("steer-right", report.EndLoad, 100*weight.Pound, rules.Kept)}
		}, []string{"Room left: steer-right 100 lb (11 gal of water)."}},
		"stopped": {func(r *report.Report) {
			r.Drive, r.Tires[0].Air, r.Tires[6].Air = report.MustNotMove, report.AirForbidden, report.AirForbidden
		}, []string{"How it may be moved: not on its own wheels. steer-left must carry nothing, roll nowhere and get no air before trained people look inside."}},
		"overloaded":       {func(r *report.Report) { r.Drive = report.MustNotMove }, []string{"How it may be moved: take load off first, then set it as above. Trained people decide."}},
		"stopped by a low": {func(r *report.Report) { r.Drive, r.Tires[0].Air = report.NotAtThisPressure, report.AirForbidden }, nil},
		"wheels off":       {func(r *report.Report) { r.Tires[0].LeftAt, r.Tires[0].TorqueOpen = psi(96), true }, []string{"2026-10-04: Read all tires cold again, 24 hours after they were set", "2026-10-04: Check the wheel nuts again, 50 to 100 miles after a wheel was off: steer-left"}},
	} {
		r := sevenTires()
		r.Drive = report.NothingFound
		c.set(&r)
		want := []string{cold}
		if strings.HasPrefix(strings.Join(c.want, ""), "How it may be moved") {
			want = []string{c.want[0], cold}
		} else {
			want = append(want, c.want...)
		}
		want = append(want, visit, last)
		if got := cardOf(t, r, nil); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	r := sevenTires()
	for i := range r.Tires {
		first := visited.AddYears(-4).AddDays(-i)
		r.Tires[i].Age = dotcode.Age{On: visited, Oldest: first, Youngest: first}
		r.Tires[i].AgeLimits = []report.AgeLimit{{Age: dotcode.Span{Years: 10}, Kind: report.DueReplacement}}
	}
	got := cardOf(t, r, nil)
	if dates := len(got) - 2; dates != 4 || !strings.HasPrefix(got[1], "2027-10-03: ") || !strings.HasPrefix(got[2], "2032-09-27: Replace these tires for their age: spare") || !strings.HasPrefix(got[4], "2032-09-29: ") {
		t.Errorf("%d dates, want the first four: %q", dates, got)
	}
}

// TestColdMornings: what the gauge reads at other temperatures, rounded down: of 100 psi
// set at 60 F 14.696 psi more are in the tire, and they go with the absolute temperature,
// 519.67 R (gas law): at 20 F 91.17, at 40 F 95.59, at 80 F 104.41, at 100 F 108.83 psi.
func TestColdMornings(t *testing.T) {
	t.Parallel()
	table := func(r report.Report) string {
		_, card, _ := strings.Cut(render(t, r, sheet.HTMLOptions{OneSheet: true}), `<section class="cut">`)
		card, _, _ = strings.Cut(card, `<div class="flow">`)
		return words(card)
	}
	air, err := inflation.ParseTemperature("60 F")
	if err != nil {
		t.Fatal(err)
	}
	r := sevenTires()
	s := aSetting()
	s.Set = 100 * inflation.PSI
	r.Settings = []inflation.Setting{s}
	if text := table(r); strings.Contains(text, "the gauge reads cold") {
		t.Errorf("no air temperature: %s", text)
	}
	r.AirTemperature = record.Record(air)
	if text := table(r); !strings.Contains(text, "Set at 60 F, the gauge reads cold: at 20 F at 40 F at 60 F at 80 F at 100 F steer 100 psi 91 95 100 104 108") {
		t.Errorf("in US units: %s", text)
	}
	// The same air, 15.56 C; whole 10 kPa of 689.5: at -5 C 633, at 5 C 661, at 15 C 687,
	// at 25 C 715 and at 35 C 742 (computed).
	r.System = weight.Metric
	if text := table(r); !strings.Contains(text, "Set at 16 C, the gauge reads cold: at -5 C at 5 C at 15 C at 25 C at 35 C steer 690 kPa 630 660 680 710 740") {
		t.Errorf("metric: %s", text)
	}
	r.Settings[0].Set = 0
	if text := table(r); strings.Contains(text, "the gauge reads cold") {
		t.Errorf("no pressure to set: %s", text)
	}
}

// TestWhatToBuySays: what all tires of an axle are stamped with, once where the axles are
// alike; where sizes or wheels differ, that.
func TestWhatToBuySays(t *testing.T) {
	t.Parallel()
	service := func(text string) record.Recorded[record.Service] {
		s, err := record.ParseService(text)
		if err != nil {
			t.Fatal(err)
		}
		return record.Record(s)
	}
	const open = "The least load index is not known: weigh each end and read the GAWR. Until then none below the placard's."
	wheel := func(lb int64) record.Recorded[record.Stamp] {
		return record.Record(record.Stamp{Load: weight.Mass(lb) * weight.Pound, At: 120 * inflation.PSI})
	}
	for name, c := range map[string]struct {
		set  func(r *report.Report, v *record.Visit)
		want []string
	}{
		"no size": {func(r *report.Report, v *record.Visit) {}, nil},
		"a size": {func(r *report.Report, v *record.Visit) { r.Tires[0].Size, r.Tires[1].Size = "XQ1", "XQ1" },
			[]string{"Buy for steer: 2 tires of XQ1. " + open, "A spare: as for the axle of its size that asks most."}},
		"two sizes": {func(r *report.Report, v *record.Visit) { r.Tires[2].Size, r.Tires[5].Size = "XQ1", "XQ2" },
			[]string{"Buy for drive: 4 tires; the sizes fitted differ, so read the placard. " + open, "A spare: as for the axle of its size that asks most."}},
		"no spare": {func(r *report.Report, v *record.Visit) { r.Tires = r.Tires[:6]; r.Tires[0].Size = "XQ1" }, []string{"Buy for steer: 2 tires of XQ1. " + open}},
		"stamps alike": {func(r *report.Report, v *record.Visit) {
			r.Tires = r.Tires[:6]
			for i := range r.Tires {
				r.Tires[i].Size, r.Tires[i].Service = "XQ1", service("141/140L")
			}
		}, []string{"Buy for steer: 2 tires of XQ1. " + open, "Buy for drive: 4 tires of XQ1. " + open, "Speed symbol L or higher. Fitted: 141/140L."}},
		"stamps that differ": {func(r *report.Report, v *record.Visit) {
			r.Tires = r.Tires[:6]
			for i := range r.Tires {
				r.Tires[i].Size, r.Tires[i].Service = "XQ1", service("141/140L")
			}
			r.Tires[1].Service = service("144/142M")
		}, []string{"Buy for steer: 2 tires of XQ1. " + open + " Speed symbol M or higher. Fitted: 141/140L, 144/142M.", "Buy for drive: 4 tires of XQ1. " + open + " Speed symbol L or higher. Fitted: 141/140L."}},
		"ranges and wheels": {func(r *report.Report, v *record.Visit) {
			r.Tires = r.Tires[:2]
			r.Tires[0].Size = "XQ1"
			v.EveryTire.LoadRange, v.EveryTire.Wheel = "G", wheel(5000)
		}, []string{"Buy for steer: 2 tires of XQ1. " + open, "Load range G or higher, as fitted. Wheels allow 5000 lb at 120 psi."}},
		"ranges that differ": {func(r *report.Report, v *record.Visit) {
			r.Tires = r.Tires[:2]
			r.Tires[0].Size = "XQ1"
			v.Tires[0].LoadRange, v.Tires[1].LoadRange, v.Tires[0].Wheel, v.Tires[1].Wheel = "G", "H", wheel(5000), wheel(5005)
		}, []string{"Buy for steer: 2 tires of XQ1. " + open, "The wheels differ: read each one's stamp."}},
		"one wheel not read": {func(r *report.Report, v *record.Visit) {
			r.Tires = r.Tires[:2]
			r.Tires[0].Size = "XQ1"
			v.Tires[0].Wheel = wheel(5000)
		}, []string{"Buy for steer: 2 tires of XQ1. " + open}},
	} {
		r := sevenTires()
		r.Drive = report.NothingFound
		v := &record.Visit{Version: 1, Date: visited}
		for _, a := range r.Axles {
			v.Axles = append(v.Axles, record.Axle{ID: a.ID, Fitment: a.Fitment})
		}
		for i := range r.Tires {
			v.Tires = append(v.Tires, record.Tire{At: r.Tires[i].At})
		}
		c.set(&r, v)
		got := cardOf(t, r, v)
		if got = got[1 : len(got)-2]; !slices.Equal(got, c.want) && len(got)+len(c.want) > 0 {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestCalendarFoldsLines: at 75 octets, and never inside a character (RFC 5545, 3.1).
func TestCalendarFoldsLines(t *testing.T) {
	t.Parallel()
	for n := range 90 {
		coach := strings.Repeat("x", n) + "ä水😀" + strings.Repeat("é", 60)
		var b bytes.Buffer
		if err := sheet.Calendar(&b, coach, visited, []report.Due{report.DueAt(visited, report.DueVisit)}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(strings.TrimSuffix(b.String(), "\r\n"), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) || strings.Contains(line, "\n") {
				t.Errorf("%d: %d octets: %q", n, len(line), line)
			}
		}
		flat := strings.ReplaceAll(b.String(), "\r\n ", "")
		if want := fmt.Sprintf("NAME:Tires of %s\r\n", coach); !strings.Contains(flat, want) {
			t.Errorf("%d: no %q in %q", n, want, flat)
		}
		if longest := slices.MaxFunc(strings.Split(b.String(), "\r\n"), func(a, c string) int { return len(a) - len(c) }); len(longest) < 72 {
			t.Errorf("%d: the longest line has %d octets", n, len(longest))
		}
	}
}

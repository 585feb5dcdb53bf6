package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

func weighedAs(load, plusMinus weight.Mass, state weight.State) weight.Estimate {
	return weight.Estimate{Load: load * weight.Pound, PlusMinus: plusMinus * weight.Pound, State: state}
}

// TestLoadsOfThePage: each load with its doubt, its ratings and what would settle it;
// a room is rounded down, and what is over a rating up.
func TestLoadsOfThePage(t *testing.T) {
	t.Parallel()
	loads := []report.LoadLine{
		{Name: "steer-left", Kind: report.EndLoad, Estimate: weighedAs(4380, 20, weight.Determined), Ratings: []report.RatingLine{
			{Name: report.HalfGAWR, Rating: 6250*weight.Pound + weight.Pound/2, Room: 530*weight.Pound + weight.Pound/2, Verdict: rules.Kept},
			{Name: "each tire", Rating: 4400 * weight.Pound, Room: -weight.Pound / 2, Verdict: rules.Breached},
			{Name: "a third", Rating: 4400 * weight.Pound, Room: -weight.Pound / 2, Verdict: rules.TooClose},
			{Name: "a fourth", Rating: 4400 * weight.Pound, Room: 0, Verdict: rules.TooClose},
			{Name: "a fifth", Rating: 4400 * weight.Pound, Room: 1, Verdict: rules.TooClose},
			{Name: "a sixth", Rating: 4400 * weight.Pound, Room: -1, Verdict: rules.NotRecorded}}},
		{Name: "steer", Kind: report.AxleLoad, Estimate: weighedAs(8760, 0, weight.Determined)},
		{Name: "drive", Kind: report.AxleLoad, Estimate: weighedAs(999, 0, weight.Assumed)},
		{Name: "tag", Kind: report.AxleLoad, Estimate: weighedAs(1000, 10, weight.Disputed)},
		{Name: "coach", Kind: report.CoachLoad, Settle: []string{"weigh the tag axle"}},
	}
	rows := []string{
		"steer-left 4,380 lb +/- 20 half GAWR 6,250 lb within, room 530", "each tire 4,400 lb OVER by up to 1", "a third 4,400 lb TOO CLOSE, by up to 1",
		"a fourth 4,400 lb TOO CLOSE", "a fifth 4,400 lb TOO CLOSE", "a sixth 4,400 lb not judged", "steer axle 8,760 lb", "drive axle 999 lb ASSUMED", "tag axle 1,000 lb +/- 10 DISPUTED", "coach not known",
	}
	readings := []report.ReadingLine{
		{Name: "all", Load: 1000 * weight.Pound, Tolerance: 20*weight.Pound + 1}, {Name: "more", Load: 1000 * weight.Pound, Tolerance: 20 * weight.Pound, Residual: 30 * weight.Pound},
		{Name: "less", Load: 1000 * weight.Pound, Tolerance: 20*weight.Pound + 1, Residual: -30 * weight.Pound},
	}
	said := []string{`reading "more" 1,000 lb +/- 20 lb is 30 lb more than what all readings say`, `reading "less" 1,000 lb +/- 21 lb is 30 lb less than what all readings say`}
	const half, settle = "half GAWR: each end of an axle is good for half of the axle's rating (GAWR)", "To tell the load of coach: weigh the tag axle"
	for name, c := range map[string]struct {
		r    report.Report
		want []string
	}{
		"not weighed":  {report.Report{Loads: loads}, []string{"Not weighed."}},
		"nothing":      {report.Report{Readings: readings[:1]}, nil},
		"all of it":    {report.Report{Loads: loads, Readings: readings}, append(append(slices.Clone(rows), half, settle), said...)},
		"without ends": {report.Report{Loads: loads[1:], Readings: readings[:1]}, append(slices.Clone(rows[6:]), settle)},
		"no half": {report.Report{Loads: []report.LoadLine{{Name: "steer", Kind: report.AxleLoad, Estimate: loads[1].Estimate, Ratings: []report.RatingLine{{Name: "GAWR", Rating: 9000 * weight.Pound, Room: 240 * weight.Pound, Verdict: rules.Kept}}}}, Readings: readings[:1]},
			[]string{"steer axle 8,760 lb GAWR 9,000 lb within, room 240"}},
	} {
		c.r.Date = visited
		got := part(t, c.r, "Weighed")
		for i := range got {
			got[i] = strings.Join(strings.Fields(got[i]), " ")
		}
		if len(got) > 0 && strings.HasPrefix(got[0], "What Load ") {
			got = got[1:]
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	_, details, _ := strings.Cut(render(t, report.Report{Date: visited, Loads: loads, Readings: readings}, sheet.HTMLOptions{}), `id="details"`)
	for _, want := range []string{
		"steer-left 4,380 lb +/- 20 half GAWR 6,250 lb within room 530 lb each tire 4,400 lb OVER over by up to 1 lb a third 4,400 lb TOO CLOSE may be over by 1 lb a fourth 4,400 lb TOO CLOSE room 0 lb a fifth 4,400 lb TOO CLOSE room 0 lb a sixth 4,400 lb not judged may be over by 1 lb steer axle 8,760 lb not judged drive axle",
		"more 1,000 lb 20 lb 30 lb less 1,000 lb 21 lb -30 lb",
	} {
		if !strings.Contains(words(details), want) {
			t.Errorf("no %q in the details: %s", want, words(details))
		}
	}
}

// TestLoadsFallApartOnANarrowPage: in columns where the last has what it needs, or a
// quarter of the page; else each row as a line. The first three columns take 10, 8 and
// 18 and two spaces each, 42; the last needs 16, or 10 (computed).
func TestLoadsFallApartOnANarrowPage(t *testing.T) {
	t.Parallel()
	rating := report.RatingLine{Name: report.HalfGAWR, Rating: 6250 * weight.Pound, Room: 530 * weight.Pound, Verdict: rules.Kept}
	unjudged := rating
	unjudged.Verdict = rules.NotRecorded
	for _, c := range []struct {
		rating report.RatingLine
		wide   int
		want   string
	}{
		{rating, 80, "\nWhat        Load      Rating              Verdict\nsteer-left  4,380 lb  half GAWR 6,250 lb  within, room 530\n"},
		{rating, 58, "\nWhat        Load      Rating              Verdict\nsteer-left  4,380 lb  half GAWR 6,250 lb  within, room 530\n"},
		{rating, 55, "\nWhat        Load      Rating              Verdict\nsteer-left  4,380 lb  half GAWR 6,250 lb  within, room\n                                          530\n"},
		{rating, 54, "\nsteer-left. Load: 4,380 lb; Rating: half GAWR 6,250\n    lb; Verdict: within, room 530\n"},
		{unjudged, 52, "\nWhat        Load      Rating              Verdict\nsteer-left  4,380 lb  half GAWR 6,250 lb  not judged\n"},
		{unjudged, 51, "\nsteer-left. Load: 4,380 lb; Rating: half GAWR 6,250\n    lb; Verdict: not judged\n"},
	} {
		r := report.Report{Date: visited, Readings: []report.ReadingLine{{Name: "all"}}, Loads: []report.LoadLine{{Name: "steer-left", Kind: report.EndLoad, Estimate: weighedAs(4380, 0, weight.Determined), Ratings: []report.RatingLine{c.rating}}}}
		if page := sheet.Text(r, sheet.TextOptions{Full: true, Columns: c.wide}); !strings.Contains(page, c.want) {
			t.Errorf("%d wide: no %q on\n%s", c.wide, c.want, page)
		}
	}
}

// TestHeadOfThePage: which coach, which day, and how it was read; what nobody wrote down
// is left out.
func TestHeadOfThePage(t *testing.T) {
	t.Parallel()
	odometer := func(text string) record.Recorded[weight.Length] {
		l, err := weight.ParseLength(text)
		if err != nil {
			t.Fatal(err)
		}
		return record.Record(l)
	}
	for name, c := range map[string]struct {
		set  func(r *report.Report)
		want string
	}{
		"a day":               {func(r *report.Report) {}, "Visit of 2026-10-03"},
		"a coach":             {func(r *report.Report) { r.Coach = "an invented coach" }, "an invented coach, visit of 2026-10-03"},
		"an odometer":         {func(r *report.Report) { r.Odometer = odometer("41250 mi") }, "Visit of 2026-10-03, odometer 41,250 mi"},
		"three digits":        {func(r *report.Report) { r.Odometer = odometer("999 km") }, "Visit of 2026-10-03, odometer 999 km"},
		"a tenth":             {func(r *report.Report) { r.Odometer = odometer("1234.5 mi") }, "Visit of 2026-10-03, odometer 1,234.5 mi"},
		"parked":              {func(r *report.Report) { r.ParkedFor = record.Record(180 * record.Minute) }, "Visit of 2026-10-03, stood 3 h"},
		"a gauge":             {func(r *report.Report) { r.Gauge = "digital" }, "Visit of 2026-10-03, gauge digital"},
		"a gauge's doubt":     {func(r *report.Report) { r.GaugeTolerance = psi(1) }, "Visit of 2026-10-03, gauge +/- 1 psi"},
		"a gauge and its own": {func(r *report.Report) { r.Gauge, r.GaugeTolerance = "digital", psi(1) }, "Visit of 2026-10-03, gauge digital +/- 1 psi"},
		"loaded":              {func(r *report.Report) { r.LoadState = "full of water" }, "Visit of 2026-10-03\nLoad: full of water"},
		"invented":            {func(r *report.Report) { r.Invented = true }, "Visit of 2026-10-03\nInvented example: no real coach, tire or table."},
	} {
		r := report.Report{Date: visited}
		c.set(&r)
		page := sheet.Text(r, sheet.TextOptions{Full: true, Columns: unbroken})
		head, _, _ := strings.Cut(page, "\n\n")
		if _, got, _ := strings.Cut(head, "Everything that the rules ask for was judged.\n"); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

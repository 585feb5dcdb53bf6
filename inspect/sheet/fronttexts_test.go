package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

// between is what stands on a page from one text to another, without its markup.
func between(t *testing.T, page, from, to string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, from)
	if !ok {
		t.Fatalf("no %q on the page", from)
	}
	text, _, _ := strings.Cut(rest, to)
	return words(text)
}

// TestNotesBesideTheNumber: the few things that somebody who sets a pressure has to know,
// each only where it is so.
func TestNotesBesideTheNumber(t *testing.T) {
	t.Parallel()
	placard := func(s *inflation.Setting) {
		s.Grounds.Pressure, s.Grounds.Table, s.Placard, s.Set = inflation.FromPlacard, "", 90*inflation.PSI, 90*inflation.PSI
	}
	for name, c := range map[string]struct {
		set  func(s *inflation.Setting)
		want string // between the axle and the number
	}{
		"by a table":             {func(s *inflation.Setting) {}, ""},
		"more than the least":    {func(s *inflation.Setting) { s.Minimum = 94 * inflation.PSI }, "at least 94 psi"},
		"no least known":         {func(s *inflation.Setting) { s.Minimum = 0 }, ""},
		"beside a placard":       {func(s *inflation.Setting) { s.Placard = 100 * inflation.PSI }, "placard 100 psi"},
		"as the placard":         {func(s *inflation.Setting) { s.Placard = 95 * inflation.PSI }, ""},
		"from the placard":       {func(s *inflation.Setting) { placard(s); s.Minimum = 0 }, "from the placard"},
		"from the sidewall":      {func(s *inflation.Setting) { s.Grounds.Pressure, s.Minimum = inflation.FromSidewall, 0 }, "from the sidewall"},
		"the estimate asks":      {func(s *inflation.Setting) { placard(s); s.LookUp.Estimated = true }, "AN ESTIMATE asks for 95 psi, no table seen; from the placard"},
		"an estimate of nothing": {func(s *inflation.Setting) { placard(s); s.LookUp.Estimated, s.Minimum = true, 0 }, "AN ESTIMATE, no table seen; from the placard"},
		"an estimate":            {func(s *inflation.Setting) { s.Grounds.Pressure, s.LookUp.Estimated = inflation.FromEstimate, true }, "AN ESTIMATE, no table seen"},
		"an estimate, and more": {func(s *inflation.Setting) {
			s.Grounds.Pressure, s.LookUp.Estimated, s.Minimum = inflation.FromEstimate, true, 94*inflation.PSI
		}, "AN ESTIMATE, no table seen; at least 94 psi"},
		"an axle's share": {func(s *inflation.Setting) { s.Grounds.Load = inflation.AxleShare }, inflation.AxleShare.String()},
		"all of it": {func(s *inflation.Setting) {
			s.Grounds.Load, s.Minimum, s.Placard = inflation.OneEnd, 94*inflation.PSI, 100*inflation.PSI
		}, "one end only; at least 94 psi; placard 100 psi"},
		"too heavy, and to read": {func(s *inflation.Setting) {
			s.Outcome, s.AskPlacard, s.Short = inflation.TooClose, true, []inflation.Shortfall{{Side: weight.Left, Limit: inflation.Limit{Part: inflation.WheelLoad}, Over: weight.Pound}}
		}, "left end: may be 1 lb more than the axle's weakest wheels are rated for until the placard is read"},
	} {
		r := sevenTires()
		s := aSetting()
		c.set(&s)
		r.Settings = []inflation.Setting{s}
		if got := between(t, page1(t, r), "<h3>steer</h3>", `<p class="psi">`); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestEntriesOfTheFront: where it is and what was found there, with the one bound of all
// places behind it or each one's beside it, without what it was computed from where that
// stops nobody.
func TestEntriesOfTheFront(t *testing.T) {
	t.Parallel()
	entry := func(where, found, bound string, action report.Action, verdict rules.Verdict) report.Item {
		return report.Item{Action: action, Stops: action == report.DoNotDrive, Verdict: verdict, Where: where, What: "Worn", Found: found, Bound: bound, Advice: "Replace it."}
	}
	for want, todo := range map[string][]report.Item{
		"1. steer-left : Worn. Replace it.":                                            {entry("steer-left", "", "", report.BeforeTrip, rules.Breached)},
		"1. steer-left 3/32 in: Worn. Replace it.":                                     {entry("steer-left", "3/32 in", "", report.BeforeTrip, rules.Breached)},
		"1. steer-left 3/32 in: Worn. Wanted: at least 4/32 in. Replace it.":           {entry("steer-left", "3/32 in", "at least 4/32 in", report.BeforeTrip, rules.Breached)},
		"1. steer-left 1 psi: Worn. Wanted: at least 2 psi. Replace it.":               {entry("steer-left", "1 psi", "at least 2 psi (80 % of last set, 2.5 psi)", report.BeforeTrip, rules.Breached)},
		"1. steer-left 1 psi: Worn. Wanted: at least 2 psi (13.8 kPa). Replace it.":    {entry("steer-left", "1 psi", "at least 2 psi (13.8 kPa)", report.BeforeTrip, rules.Breached)},
		"1. steer-left 1 lb: Worn. Wanted: at least 2 kg (4 lb). Replace it.":          {entry("steer-left", "1 lb", "at least 2 kg (4 lb; half of it)", report.BeforeTrip, rules.Breached)},
		"1. steer-left 1 psi: Worn. Wanted: at least 2 psi (80 % of 2.5). Replace it.": {entry("steer-left", "1 psi", "at least 2 psi (80 % of 2.5)", report.DoNotDrive, rules.Breached)},
		"1. TOO CLOSE TO CALL steer-left 1: Worn. Replace it.":                         {entry("steer-left", "1", "", report.BeforeTrip, rules.TooClose)},
		"1. CALL THE YARD steer-left 1: Worn. Replace it.":                             {entry("steer-left", "1", "", "call_the_yard", rules.Breached)},
		"1. CALL THE YARD TOO CLOSE TO CALL steer-left 1: Worn. Replace it.":           {entry("steer-left", "1", "", "call_the_yard", rules.TooClose)},
		"1. steer-left, steer-right 3: Worn. Wanted: 4. Replace it.":                   {entry("steer-left", "3", "4", report.BeforeTrip, rules.Breached), entry("steer-right", "3", "4", report.BeforeTrip, rules.Breached)},
		"1. steer-left 3, steer-right 2: Worn. Wanted: 4. Replace it.":                 {entry("steer-left", "3", "4", report.BeforeTrip, rules.Breached), entry("steer-right", "2", "4", report.BeforeTrip, rules.Breached)},
		"1. steer-left 3, wanted 4, spare 2, wanted 5: Worn. Replace it.":              {entry("steer-left", "3", "4", report.BeforeTrip, rules.Breached), entry("spare", "2", "5", report.BeforeTrip, rules.Breached)},
		"1. steer-left 3, spare 2, wanted 5: Worn. Replace it.":                        {entry("steer-left", "3", "", report.BeforeTrip, rules.Breached), entry("spare", "2", "5", report.BeforeTrip, rules.Breached)},
	} {
		r := sevenTires()
		r.Todo = todo
		page := page1(t, r)
		section := `<section class="before"><h2>`
		if todo[0].Stops {
			section = `<section class="now"><h2>`
		}
		got := between(t, page, section, "</ol>")
		if _, got, _ = strings.Cut(got, " 1. "); "1. "+got != want {
			t.Errorf("%q, want %q", "1. "+got, want)
		}
	}
}

// TestTireTableOfTheFront: what was found, left and probed, the number as far as it was
// read, and one mark: the worst.
func TestTireTableOfTheFront(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		set  func(r *report.Report)
		want string
	}{
		"found":     {func(r *report.Report) {}, "steer-left 95 psi not read not read"},
		"hot":       {func(r *report.Report) { r.Tires[0].Hot = true }, "steer-left 95 psi HOT not read not read"},
		"not taken": {func(r *report.Report) { r.Tires[0].Found = record.Recorded[inflation.Pressure]{} }, "steer-left not taken not read not read"},
		"all": {func(r *report.Report) {
			x := &r.Tires[0]
			x.LeftAt, x.Tread, x.Number, x.WholeNumber = psi(100), thirtySeconds(8), "XQ2313", true
		}, "steer-left 95 psi 100 psi 8/32 in XQ2313"},
		"a part": {func(r *report.Report) { r.Tires[0].Number = "2313" }, "steer-left 95 psi not read 2313 (rest not read)"},
		"flat":   {func(r *report.Report) { r.Tires[0].Low, r.Tires[0].Air = report.Flat, report.AirForbidden }, "steer-left FLAT: NO AIR 95 psi not read not read"},
		"no air": {func(r *report.Report) {
			r.Tires[0].Air, r.Todo = report.AirForbidden, items(report.DoNotDrive, "Bulge", "steer-left")
		}, "steer-left NO AIR 95 psi not read not read"},
		"must not move": {func(r *report.Report) {
			r.Tires[0].Air, r.Todo = report.AirNotKnown, items(report.DoNotDrive, "Bulge", "steer-left")
		}, "steer-left MUST NOT MOVE 95 psi not read not read"},
		"asked":      {func(r *report.Report) { r.Tires[0].Air = report.AirNotKnown }, "steer-left NO AIR YET 95 psi not read not read"},
		"of a spare": {func(r *report.Report) { r.Tires[0].Air, r.Tires[0].Axle = report.AirNotKnown, "" }, "steer-left 95 psi not read not read"},
		"a form": {func(r *report.Report) {
			for i := range r.Tires {
				r.Tires[i].Found = record.Recorded[inflation.Pressure]{}
			}
		}, "steer-left"},
		"a form, planned": {func(r *report.Report) {
			for i := range r.Tires {
				r.Tires[i].Found, r.Tires[i].LeftAt = record.Recorded[inflation.Pressure]{}, psi(90)
			}
		}, "steer-left 90 psi"},
	} {
		r := sevenTires()
		c.set(&r)
		if got := between(t, page1(t, r), `<th scope="row">steer-left`, "</tr>"); strings.TrimSpace("steer-left "+got) != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	left := between(t, page1(t, sevenTires()), "Tires down the left side, front to rear</caption>", "</table>")
	right := between(t, page1(t, sevenTires()), "Tires up the right side, rear to front; spares last</caption>", "</table>")
	names := func(text string) (out []string) {
		for _, w := range strings.Fields(text) {
			if strings.HasPrefix(w, "steer-") || strings.HasPrefix(w, "drive-") || w == "spare" {
				out = append(out, w)
			}
		}
		return out
	}
	if !slices.Equal(names(left), []string{"steer-left", "drive-left-outer", "drive-left-inner"}) || !slices.Equal(names(right), []string{"drive-right-outer", "drive-right-inner", "steer-right", "spare"}) {
		t.Errorf("walked %q, then %q", names(left), names(right))
	}
}

// TestCautionsOfAxlesComeFirst: the same words of several axles stand together, before
// what holds for all coaches; what only begins like an axle is no axle's.
func TestCautionsOfAxlesComeFirst(t *testing.T) {
	t.Parallel()
	r := sevenTires()
	r.Cautions = []string{"General.", "steer: Set cold.", "Cold: means rested.", "drive: Set cold.", "drive: Another.", "Set cold.", "General.", "moon: Set cold."}
	got := part(t, r, "Cautions")
	if want := []string{"- steer, drive: Set cold.", "- drive: Another.", "- General.", "- Cold: means rested.", "- moon: Set cold.", "Rules: ."}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	back := between(t, render(t, r, sheet.HTMLOptions{OneSheet: true}), "<h2>Cautions</h2>", "</section>")
	if want := "steer, drive: Set cold. drive: Another. General. Cold: means rested. moon: Set cold."; back != want {
		t.Errorf("%q, want %q", back, want)
	}
}

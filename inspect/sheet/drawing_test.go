package sheet_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// drawn is the first drawing of a page: what it says in words, its labels, and the marks
// of its tires in the order drawn, left end first, then those of its legend.
func drawn(t *testing.T, r report.Report) (words string, labels, marks []string) {
	t.Helper()
	page := page1(t, r)
	_, svg, _ := strings.Cut(page, "<svg")
	svg, _, _ = strings.Cut(svg, "</svg>")
	_, desc, _ := strings.Cut(svg, `<desc id="d0">`)
	words, _, _ = strings.Cut(desc, "</desc>")
	for _, m := range regexp.MustCompile(`<text[^>]*>([^<]*)</text>`).FindAllStringSubmatch(svg, -1) {
		labels = append(labels, m[1])
	}
	for _, m := range regexp.MustCompile(`class="tire ([a-z]*)"`).FindAllStringSubmatch(svg, -1) {
		marks = append(marks, m[1])
	}
	return words, labels, marks
}

// TestDrawingOfAnEnd: its load and how that stands to its worst rating, what each tire of
// a pair carries, and what nobody may do to which of them; each tire is marked by the
// worst of it, and each mark is explained once.
func TestDrawingOfAnEnd(t *testing.T) {
	t.Parallel()
	load := func(pounds weight.Mass, ratings ...report.RatingLine) func(r *report.Report) {
		return func(r *report.Report) {
			r.Loads = []report.LoadLine{{Name: "drive-left", Kind: report.EndLoad, Estimate: weighedAs(pounds, 20, weight.Determined), Ratings: ratings}}
		}
	}
	rating := func(name string, room weight.Mass, v rules.Verdict) report.RatingLine {
		return report.RatingLine{Name: name, Rating: 8750 * weight.Pound, Room: room * weight.Pound, Verdict: v}
	}
	shares := func(outer, inner weight.Mass) func(r *report.Report) {
		return func(r *report.Report) {
			load(8000, rating("GAWR", 100, rules.Kept))(r)
			r.Tires[2].Load, r.Tires[3].Load = weighedAs(outer, 0, weight.Determined), weighedAs(inner, 0, weight.Determined)
			if outer == 0 {
				r.Tires[2].Load = weight.Estimate{}
			}
		}
	}
	airs := func(outer, inner report.Air) func(r *report.Report) {
		return func(r *report.Report) { r.Tires[2].Air, r.Tires[3].Air = outer, inner }
	}
	stops := func(list ...string) func(r *report.Report) {
		return func(r *report.Report) {
			r.Todo, r.Drive = items(report.DoNotDrive, "Bulge", list...), report.MustNotMove
		}
	}
	const none = "load not known"
	for name, c := range map[string]struct {
		set   func(r *report.Report)
		want  string // of the left end, before its pressures
		marks []string
	}{
		"nothing":         {func(r *report.Report) {}, none, nil},
		"no rating":       {load(8000), "8,000 lb +/- 20, no rating recorded", nil},
		"half of GAWR":    {load(8000, rating(report.HalfGAWR, 730, rules.Kept)), "8,000 lb +/- 20, within, room 730 lb, end limit 8,750 lb", nil},
		"another":         {load(8000, rating("tires", 730, rules.Kept)), "8,000 lb +/- 20, within, room 730 lb, tires 8,750 lb", nil},
		"over":            {load(9000, rating("tires", -270, rules.Breached)), "9,000 lb +/- 20, OVER by up to 270 lb, tires 8,750 lb", []string{"over", "over"}},
		"too close":       {load(8740, rating("tires", -10, rules.TooClose)), "8,740 lb +/- 20, TOO CLOSE TO CALL, tires 8,750 lb", []string{"close", "close"}},
		"not judged":      {load(8740, rating("tires", 0, rules.NotRecorded)), "8,740 lb +/- 20, not judged, tires 8,750 lb", nil},
		"the worst":       {load(9000, rating("a", 10, rules.Kept), rating("b", -270, rules.Breached), rating("c", -300, rules.TooClose)), "9,000 lb +/- 20, OVER by up to 270 lb, b 8,750 lb", []string{"over", "over"}},
		"the least room":  {load(9000, rating("a", 20, rules.Kept), rating("b", 10, rules.Kept), rating("c", 10, rules.Kept)), "9,000 lb +/- 20, within, room 10 lb, b 8,750 lb", nil},
		"shared alike":    {shares(4000, 4000), "8,000 lb +/- 20, within, room 100 lb, GAWR 8,750 lb, each tire 4,000 lb", nil},
		"shared unevenly": {shares(4510, 3490), "8,000 lb +/- 20, within, room 100 lb, GAWR 8,750 lb, outer 4,510, inner 3,490", nil},
		"not known how":   {shares(0, 3490), "8,000 lb +/- 20, within, room 100 lb, GAWR 8,750 lb", nil},
		"no air":          {airs(report.AirFree, report.AirForbidden), none + ", NO AIR inner", []string{"", "noair"}},
		"no air in both":  {airs(report.AirForbidden, report.AirForbidden), none + ", NO AIR outer, inner", []string{"noair", "noair"}},
		"asked":           {airs(report.AirNotKnown, report.AirForbidden), none + ", NO AIR inner, NO AIR YET outer", []string{"", "noair"}},
		"must not move":   {stops("drive-left-inner"), none + ", MUST NOT MOVE inner", []string{"", "stop"}},
		"and no air": {func(r *report.Report) {
			stops("drive-left-inner", "drive-left-outer")(r)
			airs(report.AirFree, report.AirForbidden)(r)
		}, none + ", NO AIR inner, MUST NOT MOVE outer", []string{"stop", "noair"}},
		"stops, asked": {func(r *report.Report) { stops("drive-left-inner")(r); airs(report.AirFree, report.AirNotKnown)(r) }, none + ", NO AIR YET inner", []string{"", "stop"}},
		"no pressure": {func(r *report.Report) {
			s := aSetting()
			s.Name, s.Outcome = "drive", inflation.Short
			r.Settings = []inflation.Setting{s}
		}, none, []string{"nofit", "nofit"}},
		"nobody looked": {func(r *report.Report) { r.Tires[2].Found = record.Recorded[inflation.Pressure]{} }, none, []string{"unseen", ""}},
	} {
		r := sevenTires()
		c.set(&r)
		words, _, marks := drawn(t, r)
		found := ", drive-left-outer found 95 psi, drive-left-inner found 95 psi; right end: load not known"
		if name == "nobody looked" {
			found = strings.Replace(found, "drive-left-outer found 95 psi, ", "", 1)
		}
		if want := "drive axle, dual; left end: " + c.want + found; !strings.Contains(words, want) {
			t.Errorf("%s: no %q in %q", name, want, words)
		}
		if len(marks) < 6 {
			t.Errorf("%s: %d tires are drawn: %q", name, len(marks), marks)
			continue
		}
		want := c.marks
		if want == nil {
			want = []string{"", ""}
		}
		if got := marks[2:4]; !slices.Equal(got, want) {
			t.Errorf("%s: the left pair is marked %q, want %q", name, got, want)
		}
		keys, used := marks[6:], map[string]bool{}
		for _, m := range marks[:6] {
			used[m] = m != ""
		}
		n := 0
		for m, is := range used {
			if is {
				n++
				if !slices.Contains(keys, m) {
					t.Errorf("%s: nothing explains %s", name, m)
				}
			}
		}
		if len(keys) != n {
			t.Errorf("%s: keys %q for %d marks", name, keys, n)
		}
	}
}

// TestDrawingSaysWhatToSet: in few words on each axle, and above each tire what it was
// found at: with a star where it was hot, a question mark where nobody read it.
func TestDrawingSaysWhatToSet(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		set  func(s *inflation.Setting)
		want string
	}{
		"a number":      {func(s *inflation.Setting) {}, "SET 95 psi"},
		"too close":     {func(s *inflation.Setting) { s.Outcome = inflation.TooClose }, "SET 95 psi"},
		"none":          {func(s *inflation.Setting) { s.Outcome = inflation.Short }, "NO PRESSURE"},
		"read sidewall": {func(s *inflation.Setting) { s.Outcome, s.AskTirePressure = inflation.NotJudged, true }, "READ FIRST"},
		"read wheel":    {func(s *inflation.Setting) { s.Outcome, s.AskWheelPressure = inflation.NotJudged, true }, "READ FIRST"},
		"not judged":    {func(s *inflation.Setting) { s.Outcome = inflation.NotJudged }, "NOT JUDGED"},
		"no setting":    {nil, "NOT JUDGED"},
		"nobody looked": {nil, "not looked at"},
	} {
		r := sevenTires()
		r.Axles = r.Axles[:1]
		r.Tires = r.Tires[:2]
		if c.set != nil {
			s := aSetting()
			c.set(&s)
			r.Settings = []inflation.Setting{s}
		}
		want := []string{"95", "95", "steer", c.want}
		if name == "nobody looked" {
			r.Axles = append(r.Axles, report.AxleLine{ID: "tag", Role: record.Tag, Fitment: weight.Single})
			want = []string{"tag", c.want}
		}
		_, labels, _ := drawn(t, r)
		for _, l := range want {
			if !slices.Contains(labels, l) {
				t.Errorf("%s: no %q in the drawing: %q", name, l, labels)
			}
		}
	}
	r := sevenTires()
	r.Tires[0].Hot = true
	r.Tires[1].Found, r.Tires[1].Tread = record.Recorded[inflation.Pressure]{}, thirtySeconds(8)
	r.Tires[2].Found = record.Recorded[inflation.Pressure]{}
	r.Tires[3].Found = record.Record(95*inflation.PSI + inflation.PSI*99/1000)
	_, labels, _ := drawn(t, r)
	if i := slices.Index(labels, "95*"); i < 0 || !slices.Contains(labels, "?") || !slices.Contains(labels, "95") || slices.Contains(labels, "95.1") {
		t.Errorf("found: %q", labels)
	}
	for _, l := range []string{"FRONT", "driver&#39;s LEFT", "driver&#39;s RIGHT", "O", "I", "steer", "drive"} {
		if !slices.Contains(labels, l) {
			t.Errorf("no %q in the drawing: %q", l, labels)
		}
	}
	r = sevenTires()
	r.Loads = []report.LoadLine{{Name: "steer", Kind: report.AxleLoad, Estimate: weighedAs(8100, 20, weight.Determined)}}
	if _, labels, _ := drawn(t, r); !slices.Contains(labels, "8,100 lb") {
		t.Errorf("no axle's load in %q", labels)
	}
}

// TestAxlesStandApart: as far as their lines need and 76 at least, 100 where the hitch is
// between, and 72 behind it; the drawing is as high as its axles and its legend need.
func TestAxlesStandApart(t *testing.T) {
	t.Parallel()
	rows := func(r report.Report) (out []int) {
		page := page1(t, r)
		for _, m := range regexp.MustCompile(`<line class="shaft" x1="214" y1="(\d+)" x2="486"`).FindAllStringSubmatch(page, -1) {
			var y int
			if _, err := fmt.Sscan(m[1], &y); err != nil {
				t.Fatal(err)
			}
			out = append(out, y)
		}
		return out
	}
	r := sevenTires()
	r.Axles = append(r.Axles, report.AxleLine{ID: "a", Role: record.Towed, Fitment: weight.Single}, report.AxleLine{ID: "b", Role: record.Towed, Fitment: weight.Single})
	if got, want := rows(r), []int{84, 160, 260, 332}; !slices.Equal(got, want) {
		t.Errorf("axles stand at %v, want %v", got, want)
	}
	// Six lines on the left drive end and one on the steer axle's: 7 of 19 and 10 between
	// are 76 (computed); a seventh line needs 9 more.
	r.Loads = []report.LoadLine{{Name: "drive-left", Kind: report.EndLoad, Estimate: weighedAs(8000, 0, weight.Determined), Ratings: []report.RatingLine{{Name: "x", Rating: 1, Verdict: rules.Kept}}}}
	r.Tires[2].Load, r.Tires[3].Load = weighedAs(4000, 0, weight.Determined), weighedAs(4000, 0, weight.Determined)
	r.Tires[2].Air = report.AirForbidden
	r.Tires[3].Air = report.AirNotKnown
	if got := rows(r); got[1]-got[0] != max(76, (1+6)*19/2+10) {
		t.Errorf("axles stand at %v", got)
	}
}

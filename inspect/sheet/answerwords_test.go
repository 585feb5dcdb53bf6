package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules"
	"axleend.example/weight"
)

// sevenTires is a coach with two tires in front, four behind and a spare, all read.
func sevenTires() report.Report {
	r := report.Report{Date: visited, Axles: []report.AxleLine{{ID: "steer", Role: record.Steer, Fitment: weight.Single}, {ID: "drive", Role: record.Drive, Fitment: weight.Dual}}}
	for _, t := range []report.TireLine{
		{At: "steer-left", Axle: "steer", Side: weight.Left, Place: record.Alone}, {At: "steer-right", Axle: "steer", Side: weight.Right, Place: record.Alone},
		{At: "drive-left-outer", Axle: "drive", Side: weight.Left, Place: record.Outer}, {At: "drive-left-inner", Axle: "drive", Side: weight.Left, Place: record.Inner},
		{At: "drive-right-inner", Axle: "drive", Side: weight.Right, Place: record.Inner}, {At: "drive-right-outer", Axle: "drive", Side: weight.Right, Place: record.Outer},
		{At: "spare"},
	} {
		t.Found, t.Air = psi(95), report.AirFree
		r.Tires = append(r.Tires, t)
	}
	return r
}

func items(action report.Action, what string, places ...string) []report.Item {
	var out []report.Item
	for _, at := range places {
		out = append(out, report.Item{Action: action, Stops: action == report.DoNotDrive, Verdict: rules.Breached, Where: at, What: what, Advice: "Look."})
	}
	return out
}

// TestPlacesInFewWords: all tires of a coach, of an axle and of a pair, and both ends of
// an axle, stand under one name, and nothing else does.
func TestPlacesInFewWords(t *testing.T) {
	t.Parallel()
	const dl, dr = "drive-left-outer,drive-left-inner", "drive-right-inner,drive-right-outer"
	for list, want := range map[string]string{
		"steer-left":                         "steer-left",
		"steer-left,steer-right":             "steer (both)",
		"steer-right,steer-left":             "steer (both)",
		"drive-left,drive-right":             "drive (both ends)",
		dl:                                   "drive-left (both)",
		dr:                                   "drive-right (both)",
		"drive-left-outer,drive-right-outer": "drive-left-outer, drive-right-outer",
		dl + "," + dr:                        "drive (all tires)",
		dl + ",drive-right-inner":            "drive-left (both), drive-right-inner",
		"drive-right-inner," + dl:            "drive-right-inner, drive-left (both)",
		"steer-left," + dl + ",steer-right":  "steer (both), drive-left (both)",
		"steer-left,steer-right," + dl + "," + dr:            "every tire but the spare",
		"steer-left,steer-right," + dl + "," + dr + ",spare": "every tire",
		"steer-left," + dl + "," + dr + ",spare":             "steer-left, drive (all tires), spare",
		"steer-left," + dl + "," + dr:                        "steer-left, drive (all tires)",
		"drive," + dl + "," + dr:                             "drive (all tires)", // the axle stands there with its tires
		"coach,steer-left":                                   "coach, steer-left",
	} {
		r := sevenTires()
		r.Drive, r.Todo = report.MustNotMove, items(report.DoNotDrive, "Bulge", strings.Split(list, ",")...)
		if first, _, _ := strings.Cut(sheet.Text(r, sheet.TextOptions{Columns: unbroken}), "\n"); first != "DO NOT DRIVE: "+want {
			t.Errorf("%s: %q, want %q", list, first, want)
		}
	}
	r := sevenTires()
	r.Tires = r.Tires[:2] // of three tires and less none is "every"
	r.Tires = append(r.Tires, report.TireLine{At: "spare", Found: psi(95)})
	r.Drive, r.Todo = report.MustNotMove, items(report.DoNotDrive, "Bulge", "steer-left", "steer-right", "spare")
	if first, _, _ := strings.Cut(sheet.Text(r, sheet.TextOptions{}), "\n"); first != "DO NOT DRIVE: steer (both), spare" {
		t.Errorf("three tires: %q", first)
	}
}

// TestAnswerAndWhatToDoAboutIt: the first lines of a page, by the answer about driving
// and what was found and not judged.
func TestAnswerAndWhatToDoAboutIt(t *testing.T) {
	t.Parallel()
	const (
		stays, set, trip = "It stays here until trained people have looked at it or load has come off.", "Set these tires here, cold, to the pressure below; then the coach may go.", "Do what is listed under BEFORE THE TRIP, then go."
		spare, fill      = "Fix the spare before the trip: nobody can rely on it as it is.", "This is a form to fill in: walk around the coach, read the tires, then judge it."
		read             = "Nobody looked at what is listed as not judged: read it before the trip."
	)
	gap := func(hidden ...bool) func(r *report.Report) {
		return func(r *report.Report) {
			for i, h := range hidden {
				r.Unjudged = append(r.Unjudged, report.NotJudged{Where: "coach", Need: fmt.Sprint("thing ", i), Hidden: h})
			}
			r.NotJudged = len(hidden)
		}
	}
	unread := func(r *report.Report) {
		for i := range r.Tires {
			r.Tires[i].Found = record.Recorded[inflation.Pressure]{}
		}
	}
	const all = "Everything that the rules ask for was judged."
	for name, c := range map[string]struct {
		drive report.Drive
		todo  []report.Item
		set   func(r *report.Report)
		want  []string
	}{
		"nothing":              {report.NothingFound, nil, nil, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"no answer":            {0, nil, nil, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"one gap":              {report.NothingFound, nil, gap(false), []string{"NOTHING FOUND IN WHAT WAS RECORDED", read, "NOT JUDGED: 1 thing; read it at the coach."}},
		"two gaps":             {report.NothingFound, nil, gap(false, false), []string{"NOTHING FOUND IN WHAT WAS RECORDED", read, "NOT JUDGED: 2 things; read them at the coach."}},
		"a hidden one":         {report.NothingFound, nil, gap(true), []string{"NOTHING FOUND IN WHAT WAS RECORDED", read, "NOT JUDGED: 1 thing that no walk-around shows."}},
		"hidden ones":          {report.NothingFound, nil, gap(true, true), []string{"NOTHING FOUND IN WHAT WAS RECORDED", read, "NOT JUDGED: 2 things that no walk-around shows."}},
		"some hidden":          {report.NothingFound, nil, gap(true, false, false), []string{"NOTHING FOUND IN WHAT WAS RECORDED", read, "NOT JUDGED: 3 things. Read 2 at the coach; 1 no walk-around shows."}},
		"planned":              {report.NothingFound, items(report.Plan, "Old", "steer-left"), nil, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"a spare":              {report.NothingFound, items(report.BeforeTrip, "Old", "spare"), nil, []string{"NOTHING FOUND BUT AT THE SPARE: spare", spare, all}},
		"a spare and a gap":    {report.NothingFound, items(report.BeforeTrip, "Old", "spare"), gap(true), []string{"NOTHING FOUND BUT AT THE SPARE: spare", spare + " " + read, "NOT JUDGED: 1 thing that no walk-around shows."}},
		"before the trip":      {report.BeforeTheTrip, items(report.BeforeTrip, "Old", "steer-left"), nil, []string{"BEFORE THE TRIP: steer-left", trip, all}},
		"nowhere":              {report.BeforeTheTrip, items(report.Plan, "Old", "steer-left"), gap(true), []string{"BEFORE THE TRIP", trip, "NOT JUDGED: 1 thing that no walk-around shows."}},
		"four places":          {report.BeforeTheTrip, items(report.BeforeTrip, "Old", "steer-left", "drive-left-outer", "drive-right-inner", "spare"), nil, []string{"BEFORE THE TRIP: steer-left, drive-left-outer, drive-right-inner, spare", trip, all}},
		"five places":          {report.BeforeTheTrip, items(report.BeforeTrip, "Old", "steer-left", "drive-left-outer", "drive-right-inner", "spare", "coach"), nil, []string{"BEFORE THE TRIP: steer-left, drive-left-outer, drive-right-inner, spare and 1 more", trip, all}},
		"a place twice":        {report.BeforeTheTrip, append(items(report.BeforeTrip, "Old", "steer-left"), items(report.BeforeTrip, "Worn", "steer-left")...), nil, []string{"BEFORE THE TRIP: steer-left", trip, all}},
		"stops":                {report.MustNotMove, items(report.DoNotDrive, "Bulge", "steer-left"), nil, []string{"DO NOT DRIVE: steer-left", stays, all}},
		"stops twice":          {report.MustNotMove, append(items(report.DoNotDrive, "Bulge", "steer-left"), items(report.DoNotDrive, "Cord", "steer-left")...), gap(true), []string{"DO NOT DRIVE: steer-left", stays, "NOT JUDGED: 1 thing that no walk-around shows."}},
		"stops nowhere":        {report.MustNotMove, items(report.Plan, "Old", "steer-left"), nil, []string{"DO NOT DRIVE", stays, all}},
		"pressure":             {report.NotAtThisPressure, items(report.DoNotDrive, "Low", "steer-left"), nil, []string{"NOT AT THIS PRESSURE: steer-left", set, all}},
		"pressure, no number":  {report.NotAtThisPressure, items(report.DoNotDrive, "Low", "steer-left"), func(r *report.Report) { r.Settings = nil }, []string{"NOT AT THIS PRESSURE: steer-left", "No pressure to set can be given yet: read what is asked, then set these tires here, cold.", all}},
		"pressure nowhere":     {report.NotAtThisPressure, nil, nil, []string{"NOT AT THIS PRESSURE", set, all}},
		"pressure, asked":      {report.NotAtThisPressure, items(report.DoNotDrive, "Low", "steer-left"), func(r *report.Report) { r.Tires[0].Air, r.Tires[1].Air = report.AirNotKnown, report.AirNotKnown }, []string{"NOT AT THIS PRESSURE: steer-left", "Before any air, do what is listed below about steer-left. " + set, all}},
		"pressure, not asked":  {report.NotAtThisPressure, items(report.DoNotDrive, "Low", "steer-left"), func(r *report.Report) { r.Tires[1].Air = report.AirNotKnown }, []string{"NOT AT THIS PRESSURE: steer-left", set, all}},
		"a form":               {report.NothingFound, nil, unread, []string{"NOTHING RECORDED YET", fill, all}},
		"a form, to be filled": {report.BeforeTheTrip, items(report.BeforeTrip, "Read", "steer-left"), unread, []string{"NOTHING RECORDED YET", fill, all}},
		"unread, and stops":    {report.MustNotMove, items(report.DoNotDrive, "Bulge", "steer-left"), unread, []string{"DO NOT DRIVE: steer-left", stays, all}},
		"weighed":              {report.NothingFound, nil, func(r *report.Report) { unread(r); r.Readings = make([]report.ReadingLine, 1) }, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"a tread read":         {report.NothingFound, nil, func(r *report.Report) { unread(r); r.Tires[3].Tread = thirtySeconds(8) }, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"a number read":        {report.NothingFound, nil, func(r *report.Report) { unread(r); r.Tires[3].Number = "2313" }, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
		"looked at":            {report.NothingFound, nil, func(r *report.Report) { unread(r); r.Tires[3].Seen = record.Record(condition.Set(0)) }, []string{"NOTHING FOUND IN WHAT WAS RECORDED", all}},
	} {
		r := sevenTires()
		r.Drive, r.Todo = c.drive, c.todo
		r.Settings = []inflation.Setting{{Name: r.Tires[0].Axle, Outcome: inflation.CanSet, Set: 100 * inflation.PSI}}
		if c.set != nil {
			c.set(&r)
		}
		page := sheet.Text(r, sheet.TextOptions{Columns: unbroken})
		if want := strings.Join(c.want, "\n") + "\nVisit of 2026-10-03\n\n"; !strings.HasPrefix(page, want) {
			t.Errorf("%s: want %q at the top of\n%s", name, want, page)
		}
		front := page1(t, r)
		for i, line := range c.want {
			if want := [...]string{"<h2>" + line + "</h2>", "<p>" + line + "</p>"}[min(i, 1)]; !strings.Contains(front, want) {
				t.Errorf("%s: no %q on the sheet", name, want)
			}
		}
	}
}

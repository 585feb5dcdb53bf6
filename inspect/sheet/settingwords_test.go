package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// aSetting is one of an axle that was weighed end by end, 95 psi by a table.
func aSetting() inflation.Setting {
	return inflation.Setting{
		Name: "steer", Fitment: weight.Single, Outcome: inflation.CanSet, Set: 95 * inflation.PSI, Minimum: 95 * inflation.PSI, PlainMinimum: 95 * inflation.PSI,
		TireLoad: 4400 * weight.Pound, Grounds: inflation.Grounds{Load: inflation.EndsWeighed, Pressure: inflation.FromTable, Table: "XV250"},
	}
}

// TestWhatASettingRestsOn: each thing that the full page says below a pressure to set.
func TestWhatASettingRestsOn(t *testing.T) {
	t.Parallel()
	const (
		need = "needs at least 95 psi: both ends alike, 4,400 lb on each tire"
		from = "from: table XV250; load: ends weighed"
	)
	end := func(known bool, room weight.Mass) inflation.EndRoom {
		return inflation.EndRoom{Load: inflation.Load{State: inflation.Weighed}, Known: known, Room: room}
	}
	heavier := func(load, plusMinus, tire, tirePlusMinus int64) inflation.EndRoom {
		return inflation.EndRoom{Load: inflation.Load{State: inflation.Weighed, Load: weight.Mass(load), PlusMinus: weight.Mass(plusMinus), HeavierTire: weight.Mass(tire), HeavierPlusMinus: weight.Mass(tirePlusMinus)}}
	}
	const evenly, byOne = "needs at least 95 psi: both ends alike, 4,400 lb on each tire", "needs at least 95 psi: both ends alike, 4,400 lb on the heavier tire"
	for name, c := range map[string]struct {
		set  func(s *inflation.Setting)
		want []string
	}{
		"plainly":           {func(s *inflation.Setting) {}, []string{need, from}},
		"no need":           {func(s *inflation.Setting) { s.Minimum = 0 }, []string{from}},
		"a need of nothing": {func(s *inflation.Setting) { s.Minimum, s.PlainMinimum = 1, 1 }, []string{"needs at least 0.1 psi: both ends alike, 4,400 lb on each tire", from}},
		"by one end":        {func(s *inflation.Setting) { s.Governing = weight.Left }, []string{"needs at least 95 psi: the left end is the heavier, 4,400 lb on each tire", from}},
		"assumed":           {func(s *inflation.Setting) { s.Grounds.Load = inflation.AxleShare }, []string{"needs at least 95 psi: 55 % of the axle assumed on one end, 4,400 lb on each tire", "from: table XV250; load: " + inflation.AxleShare.String()}},

		// Half of 1,000 are 500: more than that is the heavier tire's.
		"duals alike":              {func(s *inflation.Setting) { s.Fitment, s.Left = weight.Dual, heavier(1000, 0, 500, 0) }, []string{evenly, from}},
		"one of the duals":         {func(s *inflation.Setting) { s.Fitment, s.Left = weight.Dual, heavier(1000, 0, 501, 0) }, []string{byOne, from}},
		"one of the right duals":   {func(s *inflation.Setting) { s.Fitment, s.Right = weight.Dual, heavier(1000, 0, 501, 0) }, []string{byOne, from}},
		"duals by their doubt":     {func(s *inflation.Setting) { s.Fitment, s.Left = weight.Dual, heavier(1000, 0, 500, 1) }, []string{byOne, from}},
		"duals within their doubt": {func(s *inflation.Setting) { s.Fitment, s.Left = weight.Dual, heavier(1000, 2, 500, 1) }, []string{evenly, from}},
		"two singles":              {func(s *inflation.Setting) { s.Left = heavier(1000, 0, 501, 0) }, []string{evenly, from}},
		"of the heavier end": {func(s *inflation.Setting) {
			s.Fitment, s.Governing, s.Left = weight.Dual, weight.Left, heavier(1000, 0, 501, 0)
		}, []string{"needs at least 95 psi: the left end is the heavier, 4,400 lb on its heavier tire", from}},
		"of the lighter end": {func(s *inflation.Setting) {
			s.Fitment, s.Governing, s.Left = weight.Dual, weight.Right, heavier(1000, 0, 501, 0)
		}, []string{"needs at least 95 psi: the right end is the heavier, 4,400 lb on each tire", from}},

		"the placard counts": {func(s *inflation.Setting) {
			s.Why, s.Set, s.Placard = inflation.WhyPlacard, 90*inflation.PSI, 90*inflation.PSI
		}, []string{need, "the placard's 90 psi counts: the need above is an estimate, which errs high, and no end is over half of the GAWR", "placard 90 psi", from}},
		"the placard is enough": {func(s *inflation.Setting) { s.Why, s.Placard = inflation.WhyPlacard, 95*inflation.PSI }, []string{need, "placard 95 psi", from}},
		"above the placard":     {func(s *inflation.Setting) { s.Why, s.Placard = inflation.WhyNeedAbovePlacard, 90*inflation.PSI }, []string{need, "placard 90 psi", from}},
		"set lower, and not for the placard": {func(s *inflation.Setting) {
			s.Why, s.Set, s.Placard = inflation.WhyNeed, 90*inflation.PSI, 90*inflation.PSI
		}, []string{need, "placard 90 psi", from}},
		"the scale decides": {func(s *inflation.Setting) { s.PlainMinimum = 90 * inflation.PSI }, []string{need, "if the scale were exact, 90 psi would do", from}},

		"room":             {func(s *inflation.Setting) { s.Left, s.Right = end(true, 61*weight.Pound-1), end(true, 0) }, []string{need, "left end: room 60 lb at this pressure", "right end: room 0 lb at this pressure", from}},
		"no room":          {func(s *inflation.Setting) { s.Right = end(true, -1) }, []string{need, "right end: 1 lb MORE than it carries at this pressure", from}},
		"room not known":   {func(s *inflation.Setting) { s.Left = end(false, 60*weight.Pound) }, []string{need, from}},
		"an end not known": {func(s *inflation.Setting) { s.Left = inflation.EndRoom{Known: true, Room: 60 * weight.Pound} }, []string{need, from}},
		"held by its wheel": {func(s *inflation.Setting) {
			s.Capped, s.Cap = true, inflation.Limit{Part: inflation.WheelPressure, Name: "steer-left", Pressure: 96*inflation.PSI - 1}
		}, []string{need, "cannot be set higher: the wheel of steer-left allows at most 95.9 psi", from}},
		"held by its tire": {func(s *inflation.Setting) {
			s.Capped, s.Cap = true, inflation.Limit{Part: inflation.TirePressure, Name: "steer-left", Pressure: 95 * inflation.PSI}
		}, []string{need, "cannot be set higher: the sidewall of steer-left allows at most 95 psi", from}},
		"a cap that held nothing": {func(s *inflation.Setting) {
			s.Cap = inflation.Limit{Part: inflation.TirePressure, Name: "steer-left", Pressure: 110 * inflation.PSI}
		}, []string{need, from}},
		"too heavy": {func(s *inflation.Setting) {
			s.Outcome, s.Set = inflation.Short, 0
			s.Short = []inflation.Shortfall{{Side: weight.Right, Limit: inflation.Limit{Part: inflation.WheelLoad}, Over: 100 * weight.Pound}, {Side: weight.Right, Limit: inflation.Limit{Part: inflation.TireRating}, Over: 50 * weight.Pound}, {Limit: inflation.Limit{Part: inflation.OtherRating}, Over: 1}}
		}, []string{need, "right end: 100 lb more than the axle's weakest wheels are rated for", "the heavier end: 1 lb more than its rating", from}},
		"may be too heavy": {func(s *inflation.Setting) {
			s.Outcome, s.Short = inflation.TooClose, []inflation.Shortfall{{Side: weight.Left, Limit: inflation.Limit{Part: inflation.TableRow}, Over: 100 * weight.Pound}}
		}, []string{need, "left end: may be 100 lb more than the axle's weakest tires carry in the last row of the table they may use", from}},
		"an unknown part": {func(s *inflation.Setting) {
			s.Outcome, s.Short = inflation.Short, []inflation.Shortfall{{Side: weight.Left, Limit: inflation.Limit{Part: inflation.OtherRating + 1}, Over: 100 * weight.Pound}}
		}, []string{need, "left end: 100 lb more than it may carry", from}},
		"by how much nobody knows": {func(s *inflation.Setting) {
			s.Outcome, s.Short = inflation.TooClose, []inflation.Shortfall{{Side: weight.Left, Limit: inflation.Limit{Part: inflation.WheelPressure}}}
		}, []string{need, "left end: too close to call, the estimate asks for more pressure than may be set", from}},

		"no table's name": {func(s *inflation.Setting) { s.Grounds.Table = "" }, []string{need, "from: table; load: ends weighed"}},
		"an estimate": {func(s *inflation.Setting) {
			s.Grounds.Table, s.LookUp.Estimated, s.Grounds.Pressure = "", true, inflation.FromEstimate
		}, []string{need, "from: estimate (AN ESTIMATE, no table seen); load: ends weighed"}},
		"beside a placard": {func(s *inflation.Setting) {
			s.Why, s.Grounds.Table, s.LookUp.Estimated, s.Grounds.Pressure = inflation.WhyPlacard, "", true, inflation.FromPlacard
		}, []string{need, "from: placard (what its load needs is AN ESTIMATE, no table seen); load: ends weighed"}},
		"loaded for a trip": {func(s *inflation.Setting) { s.HeaviestGoverns = true }, []string{need, from + ", with the changes for the trip"}},
		"a source": {func(s *inflation.Setting) {
			s.Grounds.Source = origin.Source{Grade: origin.Computed, Title: "made up for this test"}
		}, []string{need, from, "source: " + origin.Source{Grade: origin.Computed, Title: "made up for this test"}.String()}},
	} {
		s := aSetting()
		c.set(&s)
		if got := part(t, report.Report{Date: visited, Settings: []inflation.Setting{s}}, "Cold pressure to set, one number an axle")[1:]; !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestNumberToSet: what stands beside the axle, on the full page and on the screen; what
// is to be read first is the nearest that is enough.
func TestNumberToSet(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		set  func(s *inflation.Setting)
		want string
	}{
		"a number":              {func(s *inflation.Setting) {}, "SET 95 psi"},
		"rounded up":            {func(s *inflation.Setting) { s.Set++ }, "SET 95.1 psi"},
		"too close":             {func(s *inflation.Setting) { s.Outcome = inflation.TooClose }, "SET 95 psi"},
		"an estimate":           {func(s *inflation.Setting) { s.Grounds.Pressure = inflation.FromEstimate }, "SET 95 psi, AN ESTIMATE: no table seen"},
		"until the placard":     {func(s *inflation.Setting) { s.AskPlacard = true }, "SET 95 psi, until the placard is read"},
		"the placard alone":     {func(s *inflation.Setting) { s.AskPlacard, s.AskTirePressure = true, true }, "NO NUMBER: read the placard first"},
		"the placard, not both": {func(s *inflation.Setting) { s.AskPlacard, s.AskWheelPressure = true, true }, "NO NUMBER: read the placard first"},
		"sidewalls":             {func(s *inflation.Setting) { s.AskTirePressure, s.AskWheelPressure = true, true }, "NO NUMBER: read the highest pressure on each sidewall first"},
		"wheels":                {func(s *inflation.Setting) { s.AskWheelPressure = true }, "NO NUMBER: read the highest pressure of each wheel first"},
		"none":                  {func(s *inflation.Setting) { s.Outcome = inflation.Short }, "NO PRESSURE CARRIES THIS LOAD"},
		"nothing read":          {func(s *inflation.Setting) { s.Outcome = inflation.NotJudged }, "NOT JUDGED: too little was read"},
	} {
		s := aSetting()
		c.set(&s)
		r := report.Report{Date: visited, Axles: []report.AxleLine{{ID: "steer"}}, Settings: []inflation.Setting{s}}
		if got := part(t, r, "Cold pressure to set, one number an axle")[0]; got != "steer    "+c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		if page := sheet.Text(r, sheet.TextOptions{Columns: unbroken}); !strings.Contains(page, "\nsteer  "+c.want+"\n") {
			t.Errorf("%s: no %q on\n%s", name, c.want, page)
		}
	}
}

// TestNoSettingIsSaid: an axle for which no pressure could be worked out has a line.
func TestNoSettingIsSaid(t *testing.T) {
	t.Parallel()
	r := report.Report{Date: visited, Axles: []report.AxleLine{{ID: "steer"}}, Unjudged: []report.NotJudged{{Where: "steer", Need: report.NeedSetting + "a table for another class"}}}
	for _, full := range []bool{false, true} {
		if page := sheet.Text(r, sheet.TextOptions{Full: full}); !strings.Contains(page, "\nsteer") || !strings.Contains(page, "none can be given: see its pressure to set") {
			t.Errorf("full %t:\n%s", full, page)
		}
	}
}

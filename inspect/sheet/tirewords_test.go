package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

// A page so wide has a line for each thing that is said.
const unbroken = 2000

// part is what the full page of a report says below a title, a line for each thing.
func part(t *testing.T, r report.Report, title string) []string {
	t.Helper()
	page := "\n" + sheet.Text(r, sheet.TextOptions{Full: true, Columns: unbroken})
	_, rest, ok := strings.Cut(page, "\n"+title+"\n")
	if !ok {
		t.Fatalf("no part %q on\n%s", title, page)
	}
	text, _, _ := strings.Cut(rest, "\n\n")
	lines := strings.Split(strings.TrimSpace(text), "\n")[1:] // below the rule
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines
}

func psi(n int64) record.Recorded[inflation.Pressure] {
	return record.Record(inflation.Pressure(n) * inflation.PSI)
}

func thirtySeconds(n int64) record.Recorded[weight.Length] {
	return record.Record(weight.Length(n) * record.ThirtySecond)
}

var visited = dotcode.Date{Year: 2026, Month: 10, Day: 3}

// made is a date code read in one way, made that many years and days before the visit.
func made(years, days int) (dotcode.Age, []dotcode.Candidate) {
	first := visited.AddYears(-years).AddDays(-days)
	return dotcode.Age{On: visited, Oldest: first, Youngest: first.AddDays(6)}, []dotcode.Candidate{{First: first, Year: first.Year, Week: 39}}
}

// TestWhatIsSaidOfATire: each thing that a report has of one tire, in the words of the
// full page, and what is left out where nothing was read. Days and ages are computed.
func TestWhatIsSaidOfATire(t *testing.T) {
	t.Parallel()
	const nothing = "tread not recorded; no date code recorded"
	numbered := func(x *report.TireLine) { x.Number, x.WholeNumber = "XX4B9AX3DEM1622", true }
	flat := func(from string, at, of, found int64) func(x *report.TireLine) {
		return func(x *report.TireLine) {
			x.Low, x.Found, x.FlatAt, x.Reference, x.ReferenceFrom = report.Flat, psi(found), psi(at), psi(of), from
		}
	}
	for name, c := range map[string]struct {
		set  func(x *report.TireLine)
		want []string // pressure; tread and number; then the rest
	}{
		"nothing":               {func(x *report.TireLine) {}, []string{"PRESSURE NOT TAKEN", nothing}},
		"nothing, and why":      {func(x *report.TireLine) { x.Unjudged = "the cap is stuck" }, []string{"PRESSURE NOT TAKEN: the cap is stuck", nothing}},
		"cold":                  {func(x *report.TireLine) { x.Found, x.Low = psi(95), report.NotLow }, []string{"found 95 psi", nothing}},
		"never rounded up":      {func(x *report.TireLine) { x.Found = record.Record(95*inflation.PSI + inflation.PSI*99/1000) }, []string{"found 95 psi", nothing}},
		"hot, lowest, and left": {func(x *report.TireLine) { x.Found, x.Hot, x.LowestDriven, x.LeftAt = psi(105), true, psi(88), psi(100) }, []string{"found 105 psi HOT, lowest 88 psi, left 100 psi", nothing}},
		"leaking":               {func(x *report.TireLine) { x.Found, x.Low = psi(95), report.Leaking }, []string{"found 95 psi, LEAKING: find the leak before any air", nothing}},
		"asked":                 {func(x *report.TireLine) { x.Found, x.Low = psi(95), report.LowAsked }, []string{"found 95 psi, not known whether it ran low: see what is asked", nothing}},
		"not judged":            {func(x *report.TireLine) { x.Found, x.Low = psi(95), report.LowUnknown }, []string{"found 95 psi, not judged", nothing}},
		"not judged, and why":   {func(x *report.TireLine) { x.Found, x.Low, x.Unjudged = psi(95), report.LowUnknown, "it was hot" }, []string{"found 95 psi, not judged, it was hot", nothing}},

		"flat, no bound":         {func(x *report.TireLine) { x.Found, x.Low, x.Reference = psi(50), report.Flat, psi(100) }, []string{"found 50 psi, FLAT", nothing}},
		"flat, no reference":     {func(x *report.TireLine) { x.Found, x.Low, x.FlatAt = psi(50), report.Flat, psi(80) }, []string{"found 50 psi, FLAT", nothing}},
		"flat by its load":       {flat("for its load", 80, 100, 80), []string{"found 80 psi, FLAT (at 80 psi or less: 80 % of the 100 psi that its load needs)", nothing}},
		"flat, last set":         {flat("last set", 80, 100, 79), []string{"found 79 psi, FLAT (at 80 psi or less: 80 % of the 100 psi it was last set to)", nothing}},
		"flat by the placard":    {flat("placard", 80, 100, 50), []string{"found 50 psi, FLAT (at 80 psi or less: 80 % of the placard's 100 psi)", nothing}},
		"flat, kept ready":       {flat("kept ready at", 80, 100, 50), []string{"found 50 psi, FLAT (at 80 psi or less: 80 % of the 100 psi it is kept ready at)", nothing}},
		"flat by the gauge":      {flat("last set", 80, 100, 81), []string{"found 81 psi, FLAT (at 80 psi or less: 80 % of the 100 psi it was last set to; the gauge may be off by as much)", nothing}},
		"flat, half":             {flat("last set", 50, 100, 50), []string{"found 50 psi, FLAT (at 50 psi or less: 50 % of the 100 psi it was last set to)", nothing}},
		"flat, another part":     {flat("last set", 70, 100, 50), []string{"found 50 psi, FLAT (at 70 psi or less)", nothing}},
		"flat by something else": {flat("the moon", 80, 100, 50), []string{"found 50 psi, FLAT (at 80 psi or less)", nothing}},
		"flat of nothing":        {flat("last set", 0, 0, 0), []string{"found 0 psi, FLAT (at 0 psi or less)", nothing}},
		"flat by what it was driven at": {func(x *report.TireLine) {
			flat("last set", 80, 100, 85)(x)
			x.LowestDriven = psi(80)
		}, []string{"found 85 psi, lowest 80 psi, FLAT (at 80 psi or less: 80 % of the 100 psi it was last set to)", nothing}},

		"a tread": {func(x *report.TireLine) {
			x.Tread, x.TreadAt = thirtySeconds(8), record.Record(record.Treads{Anywhere: []weight.Length{8 * record.ThirtySecond}})
		}, []string{"PRESSURE NOT TAKEN", "tread 8/32 in; no date code recorded"}},
		"a tread between": {func(x *report.TireLine) { x.Tread = record.Record(weight.Length(record.ThirtySecond * 17 / 2)) }, []string{"PRESSURE NOT TAKEN", "tread 17/64 in; no date code recorded"}},
		"two treads anywhere": {func(x *report.TireLine) {
			x.Tread, x.TreadAt = thirtySeconds(8), record.Record(record.Treads{Anywhere: []weight.Length{9 * record.ThirtySecond, 8 * record.ThirtySecond}})
		}, []string{"PRESSURE NOT TAKEN", "tread 8/32 in (9/32, 8/32); no date code recorded"}},
		"one tread of a shoulder": {func(x *report.TireLine) {
			x.Tread, x.TreadAt = thirtySeconds(8), record.Record(record.Treads{Inner: []weight.Length{8 * record.ThirtySecond}})
		}, []string{"PRESSURE NOT TAKEN", "tread 8/32 in (inner 8/32); no date code recorded"}},
		"treads of all places": {func(x *report.TireLine) {
			x.Tread, x.TreadAt = thirtySeconds(5), record.Record(record.Treads{Anywhere: []weight.Length{9 * record.ThirtySecond}, Inner: []weight.Length{8 * record.ThirtySecond}, Center: []weight.Length{7 * record.ThirtySecond, 6 * record.ThirtySecond}, Outer: []weight.Length{5 * record.ThirtySecond}})
		}, []string{"PRESSURE NOT TAKEN", "tread 5/32 in (inner 8/32; center 7/32, 6/32; outer 5/32); no date code recorded"}},

		"a number that cannot be dated": {numbered, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: age NOT KNOWN"}},
		"one week":                      {func(x *report.TireLine) { numbered(x); x.Age, x.Made = made(4, 3) }, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: week of 2022-09-30, 4 years old"}},
		"one of two weeks":              {func(x *report.TireLine) { numbered(x); x.Age, x.Made = made(14, 3); x.Made = append(x.Made, x.Made[0]) }, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: can mean 2 different dates; counted as the oldest, 14 years old"}},
		"an age ahead": {func(x *report.TireLine) {
			numbered(x)
			x.Age, x.Made = made(4, 3)
			x.AgeLimits = []report.AgeLimit{{Age: dotcode.Span{Years: 4}}, {Age: dotcode.Span{Years: 6}}, {Age: dotcode.Span{Years: 10}}}
		}, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: week of 2022-09-30, 4 years old, turns 6 years on 2028-09-30"}},
		"past all ages": {func(x *report.TireLine) {
			numbered(x)
			x.Age, x.Made = made(11, 0)
			x.AgeLimits = []report.AgeLimit{{Age: dotcode.Span{Years: 6}}, {Age: dotcode.Span{Years: 10}}}
		}, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: week of 2015-10-03, 11 years old, past 10 years"}},
		"an age reached today": {func(x *report.TireLine) {
			numbered(x)
			x.Age, x.Made = made(10, 0)
			x.AgeLimits = []report.AgeLimit{{Age: dotcode.Span{Years: 10}}}
		}, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: week of 2016-10-03, 10 years old, past 10 years"}},
		"a retread": {func(x *report.TireLine) { numbered(x); x.Age, x.Made = made(4, 3); x.Casing = "its date" }, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: week of 2022-09-30, 4 years old; a retread's casing is older"}},
		"three digits": {func(x *report.TireLine) {
			numbered(x)
			x.Age = dotcode.Age{On: visited, Oldest: dotcode.Date{Year: 1988, Month: 9, Day: 26}, Youngest: dotcode.Date{Year: 1998, Month: 9, Day: 27}}
			x.Made = []dotcode.Candidate{{Year: 1998, Week: 39}, {Year: 1988, Week: 39}}
			x.MadeBefore = dotcode.Date{Year: 2000, Month: 7, Day: 2}
		}, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622: made before 2000-07-02 (week 39 of 1998, 1988), at least 28 years old, at most 38"}},
		"the other sidewall": {func(x *report.TireLine) { numbered(x); x.OtherNumber = "XX4B" }, []string{"PRESSURE NOT TAKEN", "tread not recorded; number XX4B9AX3DEM1622; other sidewall XX4B: age NOT KNOWN"}},

		"both sidewalls": {func(x *report.TireLine) { x.Sidewalls = record.Record(record.BothSidewalls) }, []string{"PRESSURE NOT TAKEN", nothing}},
		"one sidewall":   {func(x *report.TireLine) { x.Sidewalls = record.Record(record.BothSidewalls + 1) }, []string{"PRESSURE NOT TAKEN", nothing, "sidewalls looked at: " + (record.BothSidewalls + 1).String()}},
		"measured": {func(x *report.TireLine) {
			x.CrackDepth, x.CutDepth, x.InjuryWidth = thirtySeconds(1), thirtySeconds(2), thirtySeconds(8)
			x.InjuryAt = record.Record(record.InjuryAt(1))
		}, []string{"PRESSURE NOT TAKEN", nothing, "deepest crack 1/32 in", "deepest cut 2/32 in", "width of the hole 8/32 in", "hole in the " + record.InjuryAt(1).String()}},
		"seen nothing": {func(x *report.TireLine) { x.Seen = record.Record(condition.Set(0)) }, []string{"PRESSURE NOT TAKEN", nothing}},
		"seen": {func(x *report.TireLine) {
			x.Seen = record.Record(condition.Set(0).With(condition.ExposedCord).With(condition.Bulge))
		}, []string{"PRESSURE NOT TAKEN", nothing, "seen: " + condition.ExposedCord.String() + ", " + condition.Bulge.String()}},
		"a note": {func(x *report.TireLine) { x.Note = "a screw" }, []string{"PRESSURE NOT TAKEN", nothing, "note: a screw"}},
	} {
		r := oneTire()
		c.set(&r.Tires[0])
		if got := part(t, r, "Tires")[1:]; !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// oneTire is a report of a tire of which nobody read anything.
func oneTire() report.Report {
	return report.Report{Date: visited, Axles: []report.AxleLine{{ID: "steer", Role: record.Steer, Fitment: weight.Single}},
		Tires: []report.TireLine{{At: "steer-left", Axle: "steer", Side: weight.Left, Place: record.Alone}}}
}

// TestNumbersTooLong: a whole number has 13 symbols at most (49 CFR 574.5); letters and
// digits are counted, and what stands between them is not.
func TestNumbersTooLong(t *testing.T) {
	t.Parallel()
	for _, c := range []string{"0", "9", "5", "A", "Z", "M", "a", "z", "m"} {
		for n, word := range map[int]string{13: "rest not read", 14: "too long: in doubt"} {
			r := oneTire()
			r.Tires[0].Number = strings.Repeat(c, n) + "/:@[`{ -"
			if got, want := part(t, r, "Tires")[2], "tread not recorded; number "+r.Tires[0].Number+" ("+word+"): age NOT KNOWN"; got != want {
				t.Errorf("%d times %q: %q, want %q", n, c, got, want)
			}
		}
	}
}

// TestTheWorstStandsBesideATire: its action, in capitals.
func TestTheWorstStandsBesideATire(t *testing.T) {
	t.Parallel()
	for action, want := range map[report.Action]string{"": "steer-left", report.DoNotDrive: "steer-left: DO NOT DRIVE", report.BeforeTrip: "steer-left: BEFORE THE TRIP", "call_the_yard": "steer-left: CALL THE YARD"} {
		r := oneTire()
		r.Tires[0].Worst = action
		if got := part(t, r, "Tires")[0]; got != want {
			t.Errorf("%q: %q, want %q", action, got, want)
		}
	}
}

// TestWhatIsSaidOfAPair: how its pressures and treads compare, which tire belongs
// inside, and what one carries alone.
func TestWhatIsSaidOfAPair(t *testing.T) {
	t.Parallel()
	kept := func(d weight.Length, deeper bool) func(x *report.PairLine) {
		return func(x *report.PairLine) { x.TreadDifference, x.DeeperInside = record.Record(d), record.Record(deeper) }
	}
	for name, c := range map[string]struct {
		set  func(x *report.PairLine)
		want []string
	}{
		"nothing":     {func(x *report.PairLine) {}, nil},
		"found alike": {func(x *report.PairLine) { x.FoundDifference, x.LeftAtDifference = psi(0), psi(0) }, nil},
		"found apart": {func(x *report.PairLine) { x.FoundDifference = psi(3) }, []string{"drive-left pair: found 3 psi apart"}},
		"left apart":  {func(x *report.PairLine) { x.LeftAtDifference = record.Record(inflation.PSI + 1) }, []string{"drive-left pair: left 1.1 psi apart"}},
		"both":        {func(x *report.PairLine) { x.FoundDifference, x.LeftAtDifference = psi(3), psi(1) }, []string{"drive-left pair: found 3 psi apart, left 1 psi apart"}},
		"one alone": {func(x *report.PairLine) {
			x.AloneLoad, x.AloneRating, x.AlonePercent = 8960*weight.Pound, 4540*weight.Pound, 198
		}, []string{"drive-left pair: block both tires or neither. One alone, on a block or beside a flat, carries 8,960 lb on a rating of 4,540 lb: 198 %"}},
		"a load of 1 µg": {func(x *report.PairLine) { x.AloneLoad, x.AlonePercent = 1, 1 }, []string{"drive-left pair: block both tires or neither. One alone, on a block or beside a flat, carries 1 lb on a rating of 0 lb: 1 %"}},
		"alike in tread": {kept(0, true), []string{"drive-left pair: alike in tread"}},
		"deeper inside":  {kept(2*record.ThirtySecond, true), []string{"drive-left pair: 2/32 in apart in tread, the DEEPER one inside"}},
		"shallower":      {kept(2*record.ThirtySecond, false), []string{"drive-left pair: 2/32 in apart in tread, the shallower one inside"}},
		"to be swapped": {func(x *report.PairLine) {
			kept(2*record.ThirtySecond, true)(x)
			x.Inside, x.InsideBy = "drive-left-outer", "less tread"
		}, []string{"drive-left pair: 2/32 in apart in tread; the OUTER one belongs inside: less tread"}},
		"to stay": {func(x *report.PairLine) {
			kept(2*record.ThirtySecond, true)(x)
			x.Inside, x.InsideBy = "drive-left-inner", "less tread"
		}, []string{"drive-left pair: 2/32 in apart in tread; the inner one belongs there: less tread"}},
		"alike, by age": {func(x *report.PairLine) { kept(0, true)(x); x.Inside, x.InsideBy = "drive-left-inner", "the newer" }, []string{"drive-left pair: alike in tread; the inner one belongs there: the newer"}},
		"nobody knows":  {func(x *report.PairLine) { x.InsideBy = "read the treads" }, []string{"drive-left pair: which belongs inside? read the treads"}},
		"all": {func(x *report.PairLine) {
			kept(record.ThirtySecond, false)(x)
			x.FoundDifference, x.AloneLoad, x.AloneRating, x.AlonePercent = psi(3), 100*weight.Pound, 50*weight.Pound, 200
		}, []string{"drive-left pair: found 3 psi apart", "drive-left pair: block both tires or neither. One alone, on a block or beside a flat, carries 100 lb on a rating of 50 lb: 200 %", "drive-left pair: 1/32 in apart in tread, the shallower one inside"}},
	} {
		r := report.Report{Date: visited, Pairs: []report.PairLine{{Name: "drive-left"}}}
		c.set(&r.Pairs[0])
		if got := part(t, r, "Tires"); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestSlowestInTheUnitOfThePage: symbol L allows 75 mph, 120 km/h (ISO 4000-1, from
// memory); 120 km/h are 74.56 mph, shown rounded down.
func TestSlowestInTheUnitOfThePage(t *testing.T) {
	t.Parallel()
	l, err := sidewall.ParseSpeedSymbol("L")
	if err != nil {
		t.Fatal(err)
	}
	slowest := report.SpeedLine{Symbol: l, Speed: l.Speed(), At: []string{"steer-left", "steer-right"}}
	unread := []string{"drive-left", "drive-right"}
	for _, c := range []struct {
		system  weight.System
		slowest report.SpeedLine
		want    []string
	}{
		{weight.US, report.SpeedLine{}, nil},
		{weight.US, slowest, []string{"Slowest: symbol L, at most 74 mph - steer-left, steer-right"}},
		{weight.Metric, slowest, []string{"Slowest: symbol L, at most 120 km/h - steer-left, steer-right"}},
		{weight.Metric, report.SpeedLine{NotRead: unread}, []string{"Speed symbol not read, so their limit is not known: drive-left, drive-right"}},
		{weight.US, report.SpeedLine{Symbol: l, Speed: l.Speed(), At: unread[:1], NotRead: unread[1:]}, []string{"Slowest: symbol L, at most 74 mph - drive-left", "Speed symbol not read, so their limit is not known: drive-right"}},
	} {
		if got := part(t, report.Report{Date: visited, System: c.system, Slowest: c.slowest}, "Tires"); !slices.Equal(got, c.want) {
			t.Errorf("%s, %+v: %q, want %q", c.system, c.slowest, got, c.want)
		}
	}
}

package record_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func layoutOf(t *testing.T, axles ...record.Axle) *record.Layout {
	t.Helper()
	v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: axles}
	l, err := v.Layout()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestLayoutNamesEveryPlace: wheels axle by axle, left outer, left inner, right inner,
// right outer; each with its mate; and every end, axle, side and whole by its name.
func TestLayoutNamesEveryPlace(t *testing.T) {
	t.Parallel()
	l := layoutOf(t, record.Axle{ID: "steer", Fitment: weight.Single}, record.Axle{ID: "drive", Fitment: weight.Dual}, record.Axle{ID: "car", Fitment: weight.Single, Towed: true})
	type wheel struct {
		name  string
		axle  int
		side  weight.Side
		place record.Place
		mate  int
	}
	want := []wheel{
		{"steer-left", 0, weight.Left, record.Alone, -1}, {"steer-right", 0, weight.Right, record.Alone, -1},
		{"drive-left-outer", 1, weight.Left, record.Outer, 3}, {"drive-left-inner", 1, weight.Left, record.Inner, 2}, {"drive-right-inner", 1, weight.Right, record.Inner, 5}, {"drive-right-outer", 1, weight.Right, record.Outer, 4},
		{"car-left", 2, weight.Left, record.Alone, -1}, {"car-right", 2, weight.Right, record.Alone, -1},
	}
	var got []wheel
	for i, w := range l.Wheels {
		got = append(got, wheel{w.Name, w.Axle, w.Side, w.Place, l.MateOf(i)})
		if l.TireAt[i] != -1 {
			t.Errorf("%s has tire %d of none", w.Name, l.TireAt[i])
		}
	}
	if !slices.Equal(got, want) || !slices.Equal(l.First, []int{0, 2, 6, 8}) || !slices.Equal(l.Roles, []record.Role{record.Steer, record.Drive, record.Towed}) ||
		!slices.Equal(l.EndNames, [][2]string{{"steer-left", "steer-right"}, {"drive-left", "drive-right"}, {"car-left", "car-right"}}) {
		t.Errorf("%+v, first %v, roles %v, ends %v", got, l.First, l.Roles, l.EndNames)
	}
	left, right := weight.EndOf(0, weight.Left)|weight.EndOf(1, weight.Left), weight.EndOf(0, weight.Right)|weight.EndOf(1, weight.Right)
	for name, set := range map[string]weight.Set{
		"steer-left": weight.EndOf(0, weight.Left), "drive-right": weight.EndOf(1, weight.Right), "drive-left-inner": weight.WheelOf(1, weight.Left, weight.Inner), "drive-right-outer": weight.WheelOf(1, weight.Right, weight.Outer),
		"drive": weight.AxleOf(1), "car": weight.AxleOf(2), "left": left, "right": right, "coach": left | right, "towed": weight.AxleOf(2), "all": left | right | weight.AxleOf(2),
	} {
		if got, err := l.PlaceNamed(name); err != nil || got != set {
			t.Errorf("%s is %v, %v, want %v", name, got, err, set)
		}
	}
	if l.Coach != left|right || l.All != left|right|weight.AxleOf(2) {
		t.Errorf("coach %v, all %v", l.Coach, l.All)
	}
	for name, says := range map[string]string{"drive-lefty": `did you mean "drive-left"?`, "moon": "want one of all, car, car-left, car-right, coach, drive, drive-left, drive-left-inner", "": "want one of", "spare": "want one of"} {
		if _, err := l.PlaceNamed(name); !errors.Is(err, record.ErrPosition) || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", name, err, says)
		}
	}
	for on, want := range map[weight.Set]bool{
		0: false, l.All: false, weight.EndOf(1, weight.Left): false, weight.WheelOf(1, weight.Left, weight.Inner): true, weight.WheelOf(1, weight.Right, weight.Outer) | weight.EndOf(1, weight.Left): true,
		weight.WheelOf(1, weight.Left, weight.Inner) | weight.WheelOf(1, weight.Right, weight.Outer): true, weight.WheelOf(1, weight.Left, weight.Inner) | weight.WheelOf(1, weight.Left, weight.Outer): false, weight.EndOf(0, weight.Left): false,
	} {
		if l.Splits(on) != want {
			t.Errorf("%v splits a pair: %v", on, !want)
		}
	}
}

// TestRolesOfAxles: the first steers, those with duals drive, or the second where none
// has; what else the coach has are tags, and what is towed is towed.
func TestRolesOfAxles(t *testing.T) {
	t.Parallel()
	for fitments, want := range map[string][]record.Role{
		"s": {record.Steer}, "d": {record.Steer}, "ss": {record.Steer, record.Drive}, "sd": {record.Steer, record.Drive}, "sds": {record.Steer, record.Drive, record.Tag}, "ssd": {record.Steer, record.Tag, record.Drive},
		"sss": {record.Steer, record.Drive, record.Tag}, "sdd": {record.Steer, record.Drive, record.Drive}, "ssT": {record.Steer, record.Drive, record.Towed}, "sTT": {record.Steer, record.Towed, record.Towed}, "ssD": {record.Steer, record.Drive, record.Towed},
	} {
		var axles []record.Axle
		for i, f := range fitments {
			a := record.Axle{ID: fmt.Sprint("axle", i), Fitment: weight.Single, Towed: f == 'T' || f == 'D'}
			if f == 'd' || f == 'D' {
				a.Fitment = weight.Dual
			}
			axles = append(axles, a)
		}
		if l := layoutOf(t, axles...); !slices.Equal(l.Roles, want) {
			t.Errorf("%s: %v, want %v", fitments, l.Roles, want)
		}
	}
}

// TestWheelsFitWhereTheyAreSaidTo: a place, an end, an axle, a role, or inner and outer;
// of which nothing is said, everywhere.
func TestWheelsFitWhereTheyAreSaidTo(t *testing.T) {
	t.Parallel()
	l := layoutOf(t, record.Axle{ID: "front", Fitment: weight.Single}, record.Axle{ID: "rear", Fitment: weight.Dual})
	for names, want := range map[string]string{
		"": "front-left front-right rear-left-outer rear-left-inner rear-right-inner rear-right-outer", "front": "front-left front-right", "rear-left": "rear-left-outer rear-left-inner", "rear-left-inner": "rear-left-inner",
		"steer": "front-left front-right", "drive": "rear-left-outer rear-left-inner rear-right-inner rear-right-outer", "tag": "", "inner": "rear-left-inner rear-right-inner", "alone": "front-left front-right",
		"coach": "front-left front-right rear-left-outer rear-left-inner rear-right-inner rear-right-outer", "left": "front-left rear-left-outer rear-left-inner", "moon": "", "moon,front-left": "front-left", "outer,front-right": "front-right rear-left-outer rear-right-outer",
	} {
		var list, got []string
		if names != "" {
			list = strings.Split(names, ",")
		}
		for i := range l.Wheels {
			if l.Fits(list, &l.Wheels[i]) {
				got = append(got, l.Wheels[i].Name)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q fits %q, want %q", names, got, want)
		}
	}
	for name, says := range map[string]string{"front": "", "inner": "", "coach": "", "rear-left": "", "frnt": `did you mean "front"?`, "spare": "want one of all, alone, coach, drive, front", "towed": "want one of"} {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "front", Fitment: weight.Single}}, Tires: []record.Tire{{At: "front-left", WheelFits: []string{name}}}}
		if name == "rear-left" {
			v.Axles = append(v.Axles, record.Axle{ID: "rear", Fitment: weight.Dual})
		}
		if _, err := v.Layout(); (err == nil) != (says == "") || err != nil && (!errors.Is(err, record.ErrPosition) || !strings.Contains(err.Error(), "front-left.wheel_fits: ") || !strings.Contains(err.Error(), says)) {
			t.Errorf("fits %q: %v, want %q", name, err, says)
		}
	}
}

// TestSparesAreNamed: "spare" and "spare-2" to "spare-9", and nothing else.
func TestSparesAreNamed(t *testing.T) {
	t.Parallel()
	for at, want := range map[string]bool{"spare": true, "spare-2": true, "spare-9": true, "spare-1": false, "spare-0": false, "spare-10": false, "spare-": false, "spare2": false, "spares": false, "a-spare": false, "": false, "spare-a": false, "spare:2": false} {
		if record.IsSpare(at) != want {
			t.Errorf("%q is a spare: %v", at, !want)
		}
	}
}

// TestBuiltVisitsAreChecked: what a program built is held to all that a file is, with the
// place in its path; many problems come at once.
func TestBuiltVisitsAreChecked(t *testing.T) {
	t.Parallel()
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	good := func() *record.Visit {
		return &record.Visit{Version: record.Version, Date: day, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}}, Tires: []record.Tire{{At: "steer-left"}, {At: "spare"}}}
	}
	reading := func(name string, on ...string) record.Reading { return record.Reading{Name: name, On: on} }
	twelve := make([]record.Axle, weight.MaxAxles+1)
	for i := range twelve {
		twelve[i] = record.Axle{ID: fmt.Sprint("a", i), Fitment: weight.Single}
	}
	for name, c := range map[string]struct {
		set func(v *record.Visit)
		is  error
		all []string // problems
	}{
		"nothing wrong":      {func(v *record.Visit) {}, nil, nil},
		"another version":    {func(v *record.Visit) { v.Version = 2 }, nil, []string{"visit: "}},
		"no date":            {func(v *record.Visit) { v.Date = dotcode.Date{} }, nil, []string{"date: missing"}},
		"no such date":       {func(v *record.Visit) { v.Date.Day = 32 }, dotcode.ErrDate, []string{"date: "}},
		"no axle":            {func(v *record.Visit) { v.Axles = nil }, nil, []string{"axles: missing: want at least one axle"}},
		"too many axles":     {func(v *record.Visit) { v.Axles, v.Tires = twelve, nil }, nil, []string{fmt.Sprintf("axles: %d axles, at most %d can be weighed", weight.MaxAxles+1, weight.MaxAxles)}},
		"as many as can be":  {func(v *record.Visit) { v.Axles, v.Tires = twelve[:weight.MaxAxles], nil }, nil, nil},
		"no fitment":         {func(v *record.Visit) { v.Axles[1].Fitment = 0 }, nil, []string{"drive.fitment: missing: want single or dual"}},
		"an axle twice":      {func(v *record.Visit) { v.Axles[1].ID = "steer" }, record.ErrTwice, []string{"steer.id: "}},
		"towed before":       {func(v *record.Visit) { v.Axles[0].Towed = true }, record.ErrContradiction, []string{"drive.towed: "}},
		"towed behind":       {func(v *record.Visit) { v.Axles[1].Towed = true }, nil, nil},
		"a tire twice":       {func(v *record.Visit) { v.Tires = append(v.Tires, record.Tire{At: "steer-left"}) }, record.ErrTwice, []string{"steer-left.at: given twice: steer-left has an entry already"}},
		"a spare twice":      {func(v *record.Visit) { v.Tires = append(v.Tires, record.Tire{At: "spare"}) }, record.ErrTwice, []string{"spare.at: given twice: spare has an entry already"}},
		"no such tire":       {func(v *record.Visit) { v.Tires[0].At = "steer-lefty" }, record.ErrPosition, []string{`steer-lefty.at: no such place on this coach: "steer-lefty": did you mean "steer-left"?`}},
		"an axle not there":  {func(v *record.Visit) { v.Tires = []record.Tire{{At: "tag-left"}, {At: "tag-right"}, {At: "rear"}} }, record.ErrPosition, []string{`tag-left.at: no such place on this coach: 2 tires name the axle "tag": the axles are steer, drive`, "rear.at: "}},
		"in other words":     {func(v *record.Visit) { v.Tires[0].At = "Front, Left" }, record.ErrPosition, []string{`did you mean "steer-left"?`}},
		"inside at the rear": {func(v *record.Visit) { v.Tires[0].At = "inside right rear" }, record.ErrPosition, []string{`did you mean "drive-right-inner"?`}},
		"outside":            {func(v *record.Visit) { v.Tires[0].At = "left outside back" }, record.ErrPosition, []string{`did you mean "drive-left-outer"?`}},
		"readings": {func(v *record.Visit) {
			v.Weighing.Readings = []record.Reading{reading("a", "steer"), reading("a", "drive-left", "drive-left-inner"), reading("b"), reading("", "moon"), reading("", "steer-left", "steer-right")}
		}, record.ErrTwice, []string{`weighing.a.on: given twice: "drive-left-inner" is already on the plate`, `weighing.a.name: given twice: a reading is called "a" already`, "weighing.b.on: missing", `weighing.moon.on: no such place on this coach: "moon"`}},
		"unhitched": {func(v *record.Visit) { v.Weighing.Unhitched = []record.Reading{reading("", "moon")} }, record.ErrPosition, []string{`unhitched.moon.on: no such place on this coach: "moon"`}},
		"raised":    {func(v *record.Visit) { v.Weighing.Raised = []string{"drive", "drve"} }, record.ErrPosition, []string{`weighing.raised: no such place on this coach: "drve": did you mean "drive"?`}},
		"a pack":    {func(v *record.Visit) { v.Packs = []string{"coach-care", "../x"} }, nil, []string{`packs: malformed name "../x"`}},
		"done": {func(v *record.Visit) {
			v.Done = []record.Done{{At: "moon", Rule: "x"}, {At: "steer", Rule: " "}, {At: "spare-3", Rule: "x"}, {At: "weighing", Rule: "x"}, {At: "combination", Rule: "x"}}
		}, nil, []string{"done.moon.at: ", "done.steer.rule: missing"}},
		"declined": {func(v *record.Visit) { v.Declined = []record.Done{{At: "moon", Rule: "x"}} }, record.ErrPosition, []string{"declined.moon.at: "}},
		"sure": {func(v *record.Visit) {
			v.Sure, v.Axles[0].Sure, v.Tires[0].Sure = []string{"odometer", "odmeter"}, []string{"gawr", "moon"}, []string{"tread", "thread"}
		}, nil, []string{`sure: unknown key "odmeter": did you mean "odometer"?`, `steer.sure: unknown key "moon"`, `steer-left.sure: unknown key "thread": did you mean "tread"?`}},
		"twice, and fits nowhere": {func(v *record.Visit) {
			v.Tires = append(v.Tires, record.Tire{At: "steer-left", WheelFits: []string{"moon"}})
		}, record.ErrTwice, []string{"steer-left.at: given twice", `steer-left.wheel_fits: no such place on this coach: "moon"`}},
		"many at once": {func(v *record.Visit) {
			v.Date, v.Tires[0].At, v.Weighing.Raised = dotcode.Date{}, "moon", []string{"sun"}
		}, nil, []string{"date: ", "moon.at: ", "weighing.raised: "}},
	} {
		v := good()
		c.set(v)
		_, err := v.Layout()
		if len(c.all) == 0 {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		var ps *origin.Problems
		if !errors.As(err, &ps) || ps.Len() != len(c.all) || c.is != nil && !errors.Is(err, c.is) {
			t.Errorf("%s: %v, want %d problems of %v", name, err, len(c.all), c.is)
			continue
		}
		for i, p := range ps.All() {
			if text := p.Path + ": " + p.Err.Error(); !strings.Contains(text, c.all[i]) {
				t.Errorf("%s: %q, want %q", name, text, c.all[i])
			}
		}
	}
	var none *record.Visit
	if _, err := none.Layout(); !errors.Is(err, record.ErrNothing) {
		t.Errorf("no visit: %v", err)
	}
}

// TestAxleIDs: up to 24 lower-case letters, digits and dashes, no side and no place, and
// none of the words that have another meaning.
func TestAxleIDs(t *testing.T) {
	t.Parallel()
	for id, want := range map[string]bool{
		"steer": true, "a": true, "axle-2": true, "0": true, "9z": true, strings.Repeat("a", 24): true, "bright": true, "leftmost": true,
		"": false, strings.Repeat("a", 25): false, "-a": false, "a-": false, "A": false, "a_b": false, "a b": false, "ä": false, "a/b": false, "a:b": false, "`a": false, "a{": false,
		"left": false, "a-left": false, "inner-a": false, "outer": false, "right-a": false, "coach": false, "combination": false, "towed": false, "all": false, "spare": false, "spare-2": false, "spare-1": true,
	} {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: id, Fitment: weight.Single}}}
		if _, err := v.Layout(); (err == nil) != want || err != nil && !errors.Is(err, record.ErrID) {
			t.Errorf("%q may be an axle: %v, want %v", id, err, want)
		}
	}
}

// TestFoundAtStem: a zero through an extension and what nobody reached are no readings
// (common practice).
func TestFoundAtStem(t *testing.T) {
	t.Parallel()
	psi := func(n int64) record.Recorded[inflation.Pressure] {
		return record.Record(inflation.Pressure(n) * inflation.PSI)
	}
	for _, c := range []struct {
		found record.Recorded[inflation.Pressure]
		at    record.Recorded[record.ReadAt]
		is    bool
	}{
		{psi(95), record.Recorded[record.ReadAt]{}, true}, {psi(0), record.Recorded[record.ReadAt]{}, true}, {psi(0), record.Record(record.AtStem), true}, {psi(95), record.Record(record.ThroughExtension), true},
		{psi(0), record.Record(record.ThroughExtension), false}, {psi(95), record.Record(record.NotReached), false}, {record.Recorded[inflation.Pressure]{}, record.Record(record.AtStem), false},
	} {
		x := record.Tire{Found: c.found, ReadAt: c.at}
		if got := x.FoundAtStem(); got.Is() != c.is || got.Is() && got != c.found {
			t.Errorf("%s at %s: %s", c.found, c.at, got)
		}
	}
}

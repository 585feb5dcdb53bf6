package record_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// a word type, as its zero value, with what it reads into.
type words interface {
	fmt.Stringer
	encoding.TextMarshaler
	encoding.TextAppender
}

// TestWordsReadBack: each word of each type, in its order, as text; the zero value writes
// nothing, a number beyond has no word, and another word is refused and changes nothing.
func TestWordsReadBack(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		of    func(n uint8) words
		read  func(text string) (words, error)
		parse func(text string) (words, error) // nil where there is none
		want  []string
	}{
		"read at":    {func(n uint8) words { return record.ReadAt(n) }, into[record.ReadAt], func(s string) (words, error) { return record.ParseReadAt(s) }, []string{"stem", "extension", "not reached"}},
		"sidewalls":  {func(n uint8) words { return record.Sidewalls(n) }, into[record.Sidewalls], func(s string) (words, error) { return record.ParseSidewalls(s) }, []string{"both", "outer", "inner", "neither"}},
		"injury":     {func(n uint8) words { return record.InjuryAt(n) }, into[record.InjuryAt], func(s string) (words, error) { return record.ParseInjuryAt(s) }, []string{"crown", "shoulder", "sidewall"}},
		"rotates":    {func(n uint8) words { return record.Rotates(n) }, into[record.Rotates], func(s string) (words, error) { return record.ParseRotates(s) }, []string{"either side", "left", "right"}},
		"stem":       {func(n uint8) words { return record.Stem(n) }, into[record.Stem], func(s string) (words, error) { return record.ParseStem(s) }, []string{"rubber snap-in", "high-pressure snap-in", "metal"}},
		"tread type": {func(n uint8) words { return record.TreadType(n) }, into[record.TreadType], func(s string) (words, error) { return record.ParseTreadType(s) }, []string{"rib", "traction", "all position", "winter"}},
		"tows":       {func(n uint8) words { return record.Tow(n) }, into[record.Tow], func(s string) (words, error) { return record.ParseTow(s) }, []string{"nothing", "car", "trailer", "fifth wheel"}},
		"fluid":      {func(n uint8) words { return record.Fluid(n) }, into[record.Fluid], func(s string) (words, error) { return record.ParseFluid(s) }, []string{"water", "diesel", "gasoline", "LP gas"}},
		"role":       {func(n uint8) words { return record.Role(n) }, into[record.Role], nil, []string{"steer", "drive", "tag", "towed"}},
		"place":      {func(n uint8) words { return record.Place(n) }, into[record.Place], nil, []string{"alone", "inner", "outer", "spare"}},
	} {
		for i, want := range c.want {
			x := c.of(uint8(i + 1))
			text, err := x.MarshalText()
			behind, err2 := x.AppendText([]byte("x"))
			if x.String() != want || string(text) != want || string(behind) != "x"+want || err != nil || err2 != nil {
				t.Errorf("%s %d is %q, written %q and %q, %v, %v; want %q", name, i+1, x, text, behind, err, err2, want)
			}
			if back, err := c.read(want); err != nil || back != x {
				t.Errorf("%s: %q reads back as %v, %v", name, want, back, err)
			}
			if c.parse == nil {
				continue
			}
			if back, err := c.parse(want); err != nil || back != x {
				t.Errorf("%s: %q is parsed as %v, %v", name, want, back, err)
			}
		}
		if zero, err := c.of(0).MarshalText(); string(zero) != "" || err != nil || c.of(0).String() != "not known" {
			t.Errorf("%s: zero is %q, %v, %s", name, zero, err, c.of(0))
		}
		beyond := c.of(uint8(len(c.want) + 1))
		if text, err := beyond.MarshalText(); err == nil || beyond.String() != "not known" {
			t.Errorf("%s beyond its words is written %q", name, text)
		}
		if _, err := c.read("moon"); !errors.Is(err, record.ErrWord) {
			t.Errorf("%s: moon: %v", name, err)
		}
		if c.parse != nil {
			if _, err := c.parse("moon"); !errors.Is(err, record.ErrWord) {
				t.Errorf("%s: moon: %v", name, err)
			}
		}
	}
}

// into reads a text into a value.
func into[T words](text string) (words, error) {
	var v T
	err := any(&v).(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
	return v, err
}

// TestTextsReadBack: what each text is read as, how that is written, and what is no such
// text. 1 lbf-ft is 1.3558179483314004 N-m (NIST SP 811).
func TestTextsReadBack(t *testing.T) {
	t.Parallel()
	stamp := func(lb, psi int64) record.Stamp {
		return record.Stamp{Load: weight.Mass(lb) * weight.Pound, At: inflation.Pressure(psi) * inflation.PSI}
	}
	for _, c := range []struct {
		text string
		into any // a pointer to what is wanted
		back string
	}{
		{"3640 lb at 95 psi", ptr(stamp(3640, 95)), "3640 lb at 95 psi"}, {"3640 LBS AT 95 PSI COLD", ptr(stamp(3640, 95)), "3640 lb at 95 psi"}, {"3640 lb @ 95 psi", ptr(stamp(3640, 95)), "3640 lb at 95 psi"},
		{"1 lb at 1 psi", ptr(stamp(1, 1)), "1 lb at 1 psi"},
		{"475 ft-lb", ptr(475 * record.FootPound), "475 ft-lb"}, {"640 N-m", ptr(640 * record.NewtonMeter), "640 N-m"}, {"0.1 Nm", ptr(record.NewtonMeter / 10), "0.1 N-m"}, {"0 ft-lb", ptr(record.Torque(0)), "0 ft-lb"},
		{"45 min", ptr(45 * record.Minute), "45 min"}, {"90 min", ptr(90 * record.Minute), "90 min"}, {"2.5 h", ptr(150 * record.Minute), "150 min"}, {"3 h", ptr(3 * record.Hour), "3 h"}, {"24 h", ptr(record.Day), "24 h"}, {"1 day", ptr(record.Day), "24 h"},
		{"47 h", ptr(47 * record.Hour), "47 h"}, {"48 h", ptr(2 * record.Day), "2 days"}, {"2 weeks", ptr(14 * record.Day), "14 days"}, {"0 min", ptr(record.ParkedFor(0)), "0 h"},
		{"center", ptr(record.Offset(0)), "center"}, {"30 in left", ptr(record.Offset(-30 * weight.Inch)), "30 in left"}, {"0.8 m right", ptr(record.Offset(800 * weight.Millimeter)), "800 mm right"}, {"0 in right", ptr(record.Offset(0)), "center"},
		{"100 psi", ptr(record.PlacardAt(100 * inflation.PSI)), "100 psi"}, {"none", ptr(record.NoPlacard()), "none"}, {"No Placard", ptr(record.NoPlacard()), "none"},
	} {
		got := reflect.New(reflect.TypeOf(c.into).Elem())
		err := got.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(c.text))
		if err != nil || !got.Elem().Equal(reflect.ValueOf(c.into).Elem()) {
			t.Errorf("%q: %v, %v", c.text, got.Elem(), err)
		}
		text, err := got.Elem().Interface().(encoding.TextMarshaler).MarshalText()
		if err != nil || string(text) != c.back || got.Elem().Interface().(fmt.Stringer).String() != c.back {
			t.Errorf("%q is written %q, %v, want %q", c.text, text, err, c.back)
		}
	}
	for _, c := range []struct {
		into encoding.TextUnmarshaler
		text string
		is   error // nil where only the text is known
		says string
	}{
		{new(record.Stamp), "3640 lb", record.ErrStamp, "want a load and its pressure, such as"}, {new(record.Stamp), "3640 lb at95 psi", record.ErrStamp, "want a load"}, {new(record.Stamp), "95 psi at 3640 lb", record.ErrStamp, "the load comes first: 3640 lb at 95 psi"},
		{new(record.Stamp), "3640 at 95", record.ErrStamp, "each with its unit"}, {new(record.Stamp), "3640 at 95 psi", origin.ErrUnit, "3640"}, {new(record.Stamp), "3640 lb at 95", origin.ErrUnit, "95"},
		{new(record.Stamp), "0 lb at 95 psi", record.ErrStamp, "both must be above zero"}, {new(record.Stamp), "3640 lb at 0 psi", record.ErrStamp, "both must be above zero"}, {new(record.Stamp), "3640 lb at cold", origin.ErrSyntax, ""},
		{new(record.Torque), "475", origin.ErrUnit, ""}, {new(record.Torque), "475.5 ft-lb", nil, "475.5"}, {new(record.Torque), "0.05 N-m", nil, ""}, {new(record.Torque), "2722 ft-lb", origin.ErrRange, ""},
		{new(record.ParkedFor), "3", origin.ErrUnit, ""}, {new(record.ParkedFor), "0.01 h", nil, ""},
		{new(record.Offset), "30 in", origin.ErrSyntax, `"30 in left"`}, {new(record.Offset), "left", nil, ""}, {new(record.Offset), "30 left", origin.ErrUnit, ""}, {new(record.Offset), "", origin.ErrSyntax, ""},
		{new(record.Placard), "0 psi", record.ErrNegative, "above zero, or none"}, {new(record.Placard), "100", origin.ErrUnit, ""},
	} {
		if err := c.into.UnmarshalText([]byte(c.text)); err == nil || c.is != nil && !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%T %q: %v, want %v and %q", c.into, c.text, err, c.is, c.says)
		}
	}
	for _, bad := range []encoding.TextMarshaler{record.Torque(-1), record.ParkedFor(-1), record.Service{}} {
		if text, err := bad.MarshalText(); err == nil {
			t.Errorf("%T %v is written %q", bad, bad, text)
		}
	}
	for arrow, want := range map[record.Rotates][2]bool{0: {}, record.EitherSide: {true, true}, record.OnLeft: {true, false}, record.OnRight: {false, true}} {
		if got := [2]bool{arrow.RunsOn(weight.Left), arrow.RunsOn(weight.Right)}; got != want {
			t.Errorf("%s runs left and right: %v, want %v", arrow, got, want)
		}
	}
}

func ptr[T any](v T) *T { return &v }

// TestServiceDescriptions: load indexes and speed symbol as sidewalls have them (ISO
// 4000-1), each part by itself as far as it can stand alone.
func TestServiceDescriptions(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"141/140L": "141/140L", "149/146 L": "149/146L", "104H": "104H", "104h": "104H", "L": "L", "l": "L", "141": "141", "141/140": "141/140", " 104 H ": "104H",
		"": "", "/": "", "141/": "", "/140L": "", "141//140L": "", "999L": "", "141/999L": "", "141L5": "", "141LL": "", "141ü": "", "L141": "", "-1L": "",
	} {
		s, err := record.ParseService(text)
		if want == "" {
			if !errors.Is(err, record.ErrService) {
				t.Errorf("%q: %v, %v", text, s, err)
			}
			continue
		}
		written, err2 := s.MarshalText()
		var back record.Service
		if err != nil || err2 != nil || s.String() != want || string(written) != want || back.UnmarshalText(written) != nil || back != s {
			t.Errorf("%q is %q, written %q, %v, %v; want %q", text, s, written, err, err2, want)
		}
	}
	if s := (record.Service{}); s.String() != "not read" {
		t.Errorf("nothing is %q", s)
	}
	dual, err := record.ParseService("141/140L")
	if err != nil {
		t.Fatal(err)
	}
	dual.Single = record.Service{}.Single
	if text, err := dual.MarshalText(); !errors.Is(err, record.ErrService) {
		t.Errorf("a dual index alone is written %q, %v", text, err)
	}
}

// TestTreadsAcrossATire: the least depth of each line tells how shoulders and center
// differ, and depths along one line how it differs around (computed).
func TestTreadsAcrossATire(t *testing.T) {
	t.Parallel()
	d := func(n ...int64) (out []weight.Length) {
		for _, x := range n {
			out = append(out, weight.Length(x)*record.ThirtySecond)
		}
		return out
	}
	const none = "not recorded"
	for name, c := range map[string]struct {
		treads                                           record.Treads
		least, shoulders, belowCenter, belowSides, round string
		text                                             string // as JSON
	}{
		"nothing":           {record.Treads{}, none, none, none, none, none, `[]`},
		"one":               {record.Treads{Anywhere: d(8)}, "8/32 in", none, none, none, none, `"8/32 in"`},
		"several":           {record.Treads{Anywhere: d(9, 8, 10)}, "8/32 in", none, none, none, none, `["9/32 in","8/32 in","10/32 in"]`},
		"one shoulder":      {record.Treads{Inner: d(8)}, "8/32 in", none, none, none, none, `{"inner":["8/32 in"]}`},
		"both shoulders":    {record.Treads{Inner: d(8), Outer: d(5)}, "5/32 in", "3/32 in", none, none, none, `{"inner":["8/32 in"],"outer":["5/32 in"]}`},
		"the other":         {record.Treads{Inner: d(5), Outer: d(8)}, "5/32 in", "3/32 in", none, none, none, `{"inner":["5/32 in"],"outer":["8/32 in"]}`},
		"center and one":    {record.Treads{Inner: d(8), Center: d(9)}, "8/32 in", none, none, none, none, `{"inner":["8/32 in"],"center":["9/32 in"]}`},
		"shoulders worn":    {record.Treads{Inner: d(6), Center: d(9), Outer: d(5)}, "5/32 in", "1/32 in", "3/32 in", "0 in", none, `{"inner":["6/32 in"],"center":["9/32 in"],"outer":["5/32 in"]}`},
		"center worn":       {record.Treads{Inner: d(8), Center: d(5), Outer: d(9)}, "5/32 in", "1/32 in", "0 in", "3/32 in", none, `{"inner":["8/32 in"],"center":["5/32 in"],"outer":["9/32 in"]}`},
		"alike":             {record.Treads{Inner: d(8), Center: d(8), Outer: d(8)}, "8/32 in", "0 in", "0 in", "0 in", none, `{"inner":["8/32 in"],"center":["8/32 in"],"outer":["8/32 in"]}`},
		"around":            {record.Treads{Inner: d(8, 9), Center: d(7, 10, 6), Outer: d(8)}, "6/32 in", "0 in", "0 in", "2/32 in", "4/32 in", `{"inner":["8/32 in","9/32 in"],"center":["7/32 in","10/32 in","6/32 in"],"outer":["8/32 in"]}`},
		"around the inner":  {record.Treads{Inner: d(8, 5), Center: d(7, 7)}, "5/32 in", none, none, none, "3/32 in", `{"inner":["8/32 in","5/32 in"],"center":["7/32 in","7/32 in"]}`},
		"anywhere as well":  {record.Treads{Anywhere: d(2, 9), Inner: d(8)}, "2/32 in", none, none, none, none, `{"inner":["8/32 in"]}`},
		"around the shadow": {record.Treads{Anywhere: d(2, 9)}, "2/32 in", none, none, none, none, `["2/32 in","9/32 in"]`},
	} {
		inches := func(l weight.Length) string {
			if l == 0 {
				return "0 in"
			}
			return fmt.Sprintf("%d/32 in", l/record.ThirtySecond)
		}
		say := func(r record.Recorded[weight.Length]) string {
			if l, ok := r.Get(); ok {
				return inches(l)
			}
			return none
		}
		least := none
		if l, ok := c.treads.Least(); ok {
			least = inches(l)
		}
		center, sides := c.treads.BelowCenter()
		if got, want := []string{least, say(c.treads.Shoulders()), say(center), say(sides), say(c.treads.Around())}, []string{c.least, c.shoulders, c.belowCenter, c.belowSides, c.round}; !slices.Equal(got, want) {
			t.Errorf("%s: least, shoulders, below center, below shoulders, around %q, want %q", name, got, want)
		}
		data, err := json.Marshal(c.treads)
		if err != nil || string(data) != c.text {
			t.Errorf("%s: %s, %v, want %s", name, data, err, c.text)
		}
		back, plain := record.Treads{Anywhere: d(1)}, c.treads
		if len(plain.Inner) > 0 {
			plain.Anywhere = nil // of which the place is known
		}
		if err := json.Unmarshal(data, &back); err != nil || back.Around() != plain.Around() || !slices.Equal(back.Inner, plain.Inner) || !slices.Equal(back.Center, plain.Center) || !slices.Equal(back.Outer, plain.Outer) || !slices.Equal(back.Anywhere, plain.Anywhere) {
			t.Errorf("%s: %s reads back as %+v, %v", name, data, back, err)
		}
	}
	back := record.Treads{Anywhere: d(1)}
	if err := json.Unmarshal([]byte("null"), &back); err != nil || len(back.Anywhere) != 0 {
		t.Errorf("null: %+v, %v", back, err)
	}
	for _, bad := range []string{`"moon"`, `["moon"]`, `{"inner":"moon"}`, `8`} {
		if err := json.Unmarshal([]byte(bad), &back); err == nil {
			t.Errorf("%s: %+v", bad, back)
		}
	}
}

// TestRecordedReadsBack: a value, "not read" and absence, each as JSON; and of two the
// first that was recorded.
func TestRecordedReadsBack(t *testing.T) {
	t.Parallel()
	type of = record.Recorded[inflation.Pressure]
	psi, unread := record.Record(95*inflation.PSI), record.NotRead[inflation.Pressure]()
	for text, r := range map[string]of{`"95 psi"`: psi, `"not read"`: unread, `null`: {}} {
		data, err := json.Marshal(r)
		back := record.Record(inflation.PSI)
		if err != nil || string(data) != text || json.Unmarshal(data, &back) != nil || back != r {
			t.Errorf("%v is %s, %v, and reads back as %v", r, data, err, back)
		}
	}
	kept := psi
	if err := json.Unmarshal([]byte(`"moon"`), &kept); err == nil || kept != psi {
		t.Errorf("moon: %v, %v", kept, err)
	}
	for _, c := range []struct{ a, b, want of }{{psi, unread, psi}, {unread, psi, unread}, {of{}, psi, psi}, {psi, record.Record(inflation.PSI), psi}} {
		if got := c.a.Or(c.b); got != c.want {
			t.Errorf("%v or %v is %v", c.a, c.b, got)
		}
	}
	if !(of{}).IsZero() || unread.IsZero() || psi.IsZero() || unread.Is() || !psi.Is() || (of{}).Is() || unread.String() != "not read" || (of{}).String() != "not recorded" || psi.String() != "95 psi" {
		t.Errorf("%v, %v, %v", psi, unread, of{})
	}
	if _, _, ok := record.Both(psi, unread); ok {
		t.Error("both were recorded")
	}
	if x, y, ok := record.Both(psi, record.Record(2*inflation.PSI)); !ok || x != 95*inflation.PSI || y != 2*inflation.PSI {
		t.Errorf("both: %v, %v, %v", x, y, ok)
	}
	if record.Yes(record.Record(false)) || !record.Yes(record.Record(true)) || record.Yes(record.NotRead[bool]()) {
		t.Error("yes is a recorded yes")
	}
}

package weight_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestSets(t *testing.T) {
	for a := range weight.MaxAxles {
		left, right := weight.EndOf(a, weight.Left), weight.EndOf(a, weight.Right)
		inner, outer := weight.WheelOf(a, weight.Left, weight.Inner), weight.WheelOf(a, weight.Left, weight.Outer)
		if left|right != weight.AxleOf(a) || left&right != 0 || inner|outer != left || inner&outer != 0 || inner == 0 || outer == 0 {
			t.Fatalf("axle %d is not made of its ends and wheels", a)
		}
		if weight.SideOf(weight.Left)&weight.AxleOf(a) != left || !weight.AxleOf(a).Contains(right) || left.Contains(right) {
			t.Fatalf("axle %d: sides", a)
		}
		if got := weight.AxleOf(a).Axles(); !slices.Equal(got, []int{a}) || weight.AxleOf(a).Len() != 4 {
			t.Fatalf("axle %d: axles %v", a, got)
		}
	}
	for _, s := range []weight.Set{
		weight.AxleOf(-1), weight.AxleOf(weight.MaxAxles), weight.EndOf(0, 0), weight.EndOf(0, 3), weight.SideOf(0),
		weight.WheelOf(0, weight.Left, 0), weight.WheelOf(0, weight.Left, 3), weight.WheelOf(12, weight.Left, weight.Inner), weight.Union(),
	} {
		if s != 0 {
			t.Errorf("what does not exist is %s", s)
		}
	}
	if weight.Union(weight.AxleOf(0), weight.AxleOf(2)) != weight.AxleOf(0)|weight.AxleOf(2) {
		t.Error("union")
	}
}

func TestSetText(t *testing.T) {
	for text, want := range map[string]weight.Set{
		"":          0,
		"1":         weight.AxleOf(0),
		"1L":        weight.EndOf(0, weight.Left),
		"2Ro":       weight.WheelOf(1, weight.Right, weight.Outer),
		"2Li 2R":    weight.WheelOf(1, weight.Left, weight.Inner) | weight.EndOf(1, weight.Right),
		"1 2L 3Ro":  weight.AxleOf(0) | weight.EndOf(1, weight.Left) | weight.WheelOf(2, weight.Right, weight.Outer),
		"12R":       weight.EndOf(11, weight.Right),
		"1 2 3 4 5": rigtest.Axles(0, 4),
	} {
		if got := want.String(); got != text {
			t.Errorf("%q: written as %q", text, got)
		}
		var got weight.Set
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: read as %v, %v", text, got, err)
		}
	}
	var s weight.Set
	if err := s.UnmarshalText([]byte(" 3Ro 1L  1R ")); err != nil || s != weight.AxleOf(0)|weight.WheelOf(2, weight.Right, weight.Outer) {
		t.Errorf("any order: %s, %v", s, err)
	}
	for text, want := range map[string]error{
		"0": origin.ErrSyntax, "L": origin.ErrSyntax, "1X": origin.ErrSyntax, "1Lx": origin.ErrSyntax, "01": origin.ErrSyntax, "1L1R": origin.ErrSyntax,
		"123": origin.ErrSyntax, "-1": origin.ErrSyntax, "13": origin.ErrRange, strings.Repeat("x", 100): origin.ErrSyntax,
	} {
		before := weight.AxleOf(3)
		s := before
		err := s.UnmarshalText([]byte(text))
		if !errors.Is(err, want) || s != before || len(err.Error()) > 250 {
			t.Errorf("%q: %v, %s", text, err, s)
		}
	}
	if _, err := weight.Set(1 << 48).MarshalText(); !errors.Is(err, weight.ErrOutsideRig) {
		t.Errorf("a bit beyond the axles: %v", err)
	}
	if got := weight.Set(1 << 48).String(); got != "" {
		t.Errorf("a bit beyond the axles: %q", got)
	}
}

func FuzzSetText(f *testing.F) {
	for _, s := range []string{"", "1 2L 3Ro", "12Ri", "1L 1R", "0", "9999", "1Lo 1Li"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var s, again weight.Set
		if s.UnmarshalText([]byte(text)) != nil {
			return
		}
		out, err := s.MarshalText()
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if err := again.UnmarshalText(out); err != nil || again != s {
			t.Fatalf("%q: %s reads back as %s, %v", text, out, again, err)
		}
	})
}

// Every word of every small list reads back as itself, and nothing else is
// taken.
func TestWords(t *testing.T) {
	type word interface {
		fmt.Stringer
		encoding.TextMarshaler
	}
	check := func(name string, max int, want error, zero bool, make func(i int) (word, func([]byte) (word, error))) {
		seen := map[string]bool{}
		for i := range max + 1 {
			w, read := make(i)
			text, err := w.MarshalText()
			if err != nil || seen[string(text)] {
				t.Errorf("%s %d: %q twice, or %v", name, i, text, err)
			}
			seen[string(text)] = true
			if got, err := read(text); err != nil || got != w {
				t.Errorf("%s %q reads back as %v, %v", name, text, got, err)
			}
			if i > 0 && (w.String() == "" || w.String() == "not known") || zero != (string(text) == "") && i == 0 {
				t.Errorf("%s %d: %q, %q", name, i, w, text)
			}
		}
		_, read := make(0)
		if _, err := read([]byte("neither of them, and rather long for a word of a list")); !errors.Is(err, want) || len(err.Error()) > 400 {
			t.Errorf("%s: an unknown word gives %v", name, err)
		}
		w, _ := make(max + 1)
		if w.String() != "not known" {
			t.Errorf("%s: the word after the last is %q", name, w)
		}
	}
	fitment := func(i int) (word, func([]byte) (word, error)) {
		return weight.Fitment(i), func(b []byte) (word, error) { var v weight.Fitment; err := v.UnmarshalText(b); return v, err }
	}
	check("fitment", 2, weight.ErrWord, true, fitment)
	check("side", 2, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.Side(i), func(b []byte) (word, error) { var v weight.Side; err := v.UnmarshalText(b); return v, err }
	})
	check("place", 2, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.Place(i), func(b []byte) (word, error) { var v weight.Place; err := v.UnmarshalText(b); return v, err }
	})
	check("answer", 2, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.YesNo(i), func(b []byte) (word, error) { var v weight.YesNo; err := v.UnmarshalText(b); return v, err }
	})
	check("coupling", 3, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.Coupling(i), func(b []byte) (word, error) { var v weight.Coupling; err := v.UnmarshalText(b); return v, err }
	})
	check("scale", 4, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.ScaleKind(i), func(b []byte) (word, error) { var v weight.ScaleKind; err := v.UnmarshalText(b); return v, err }
	})
	check("caution", 17, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.Caution(i), func(b []byte) (word, error) { var v weight.Caution; err := v.UnmarshalText(b); return v, err }
	})
	check("conflict", 2, weight.ErrWord, true, func(i int) (word, func([]byte) (word, error)) {
		return weight.ConflictKind(i), func(b []byte) (word, error) { var v weight.ConflictKind; err := v.UnmarshalText(b); return v, err }
	})
	check("state", 3, weight.ErrWord, false, func(i int) (word, func([]byte) (word, error)) {
		return weight.State(i), func(b []byte) (word, error) { var v weight.State; err := v.UnmarshalText(b); return v, err }
	})
	if weight.Left.Opposite() != weight.Right || weight.Right.Opposite() != weight.Left || weight.Side(0).Opposite() != 0 {
		t.Error("opposite sides")
	}
	// Each caution is a sentence of its own.
	seen := map[string]bool{}
	for c := weight.SplitWeighing; c <= weight.WeighAgain; c++ {
		if s := c.String(); seen[s] || !strings.HasSuffix(s, ".") {
			t.Errorf("caution %d: %q", c, s)
		}
		seen[c.String()] = true
	}
}

func TestShares(t *testing.T) {
	for text, want := range map[string]weight.Share{"55 %": 55 * weight.Percent, "0 %": 0, "100 %": weight.Whole, "1.25 %": 125} {
		got, err := weight.ParseShare(text)
		if err != nil || got != want || got.String() != text {
			t.Errorf("%q: %v, %v", text, got, err)
		}
		var again weight.Share
		if b, err := want.MarshalText(); err != nil || again.UnmarshalText(b) != nil || again != want {
			t.Errorf("%q does not come back", text)
		}
	}
	var s weight.Share
	for text, want := range map[string]error{"55": origin.ErrUnit, "101 %": origin.ErrRange, "-1 %": origin.ErrRange, "0.001 %": origin.ErrPrecision, "many": origin.ErrSyntax} {
		if err := s.UnmarshalText([]byte(text)); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
}

func FuzzShare(f *testing.F) {
	for _, s := range []string{"55 %", "0%", "100.00 %", "x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := weight.ParseShare(text)
		if err != nil {
			return
		}
		if again, err := weight.ParseShare(s.String()); err != nil || again != s || s < 0 || s > weight.Whole {
			t.Fatalf("%q: %v, %v", text, s, err)
		}
	})
}

func TestRigCheck(t *testing.T) {
	in := weight.Inch
	good := rigtest.TaggedWithTrailer()
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	if err := (weight.Rig{Axles: []weight.Axle{{Towed: true}}}).Check(); err != nil {
		t.Errorf("a trailer alone: %v", err)
	}
	for name, change := range map[string]func(r *weight.Rig){
		"no axles":          func(r *weight.Rig) { r.Axles = nil },
		"too many":          func(r *weight.Rig) { r.Axles = make([]weight.Axle, weight.MaxAxles+1) },
		"coach behind":      func(r *weight.Rig) { r.Axles[4].Towed = false },
		"fitment":           func(r *weight.Rig) { r.Axles[1].Fitment = 3 },
		"first behind":      func(r *weight.Rig) { r.Axles[0].Behind = in },
		"backward":          func(r *weight.Rig) { r.Axles[2].Behind = r.Axles[1].Behind },
		"backward past gap": func(r *weight.Rig) { r.Axles[2].Behind, r.Axles[3].Behind = 0, 10*in },
		"negative":          func(r *weight.Rig) { r.Axles[1].Behind = -in },
		"negative track":    func(r *weight.Rig) { r.Axles[1].Track = -in },
		"far":               func(r *weight.Rig) { r.Axles[4].Behind = 2 * weight.Kilometer },
		"hitch":             func(r *weight.Rig) { r.Hitch = -in },
		"track":             func(r *weight.Rig) { r.Track = -in },
		"height":            func(r *weight.Rig) { r.Height = 2 * weight.Kilometer },
	} {
		rig := rigtest.TaggedWithTrailer()
		change(&rig)
		axle := map[string]string{"coach behind": "axle 5 (", "fitment": "axle 2 (", "first behind": "axle 1 (", "backward": "axle 3 (", "backward past gap": "axle 4 (", "negative": "axle 2 (", "negative track": "axle 2 (", "far": "axle 5 ("}[name]
		if err := rig.Check(); !errors.Is(err, weight.ErrRig) || !strings.Contains(err.Error(), axle) {
			t.Errorf("%s: %v, want %s", name, err, axle)
		}
		if _, err := weight.Solve(rig, nil, weight.Scale{}); !errors.Is(err, weight.ErrRig) {
			t.Errorf("%s: Solve: %v", name, err)
		}
	}
}

func TestRigNames(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	left, right := weight.SideOf(weight.Left), weight.SideOf(weight.Right)
	for _, c := range []struct {
		set  weight.Set
		want string
	}{
		{rig.All(), "the combination"},
		{rig.Coach(), "the coach"},
		{rig.Towed(), "the towed unit"},
		{rig.Coach() & left, "the left side of the coach"},
		{rig.Towed() & right, "the right side of the towed unit"},
		{weight.AxleOf(2), "the tag axle"},
		{weight.EndOf(1, weight.Left), "the left end of the drive axle"},
		{weight.WheelOf(1, weight.Right, weight.Outer), "the outer right wheel of the drive axle"},
		{weight.WheelOf(1, weight.Left, weight.Inner), "the inner left wheel of the drive axle"},
		{rigtest.Axles(0, 1), "the steer axle and the drive axle"},
		{rigtest.Axles(0, 1) | weight.EndOf(2, weight.Right), "the steer axle, the drive axle and the right end of the tag axle"},
		{0, "nothing"},
		{weight.AxleOf(7), "axle 8"},
	} {
		if got := rig.Name(c.set); got != c.want {
			t.Errorf("%s: %q, want %q", c.set, got, c.want)
		}
	}
	if got := rigtest.Coach().Name(rigtest.Coach().All()); got != "the coach" {
		t.Errorf("alone: %q", got)
	}
	one := weight.Rig{Axles: []weight.Axle{{Towed: true}}}
	if got := one.Name(one.All()); got != "axle 1" {
		t.Errorf("one axle: %q", got)
	}
	every := rig.Sums()
	if len(every) != 5*2+5+4+3 || len(one.Sums()) != 3 {
		t.Errorf("every: %d and %d", len(every), len(one.Sums()))
	}
	seen := map[weight.Set]bool{}
	for _, s := range every {
		if seen[s] || s == 0 {
			t.Errorf("%s twice", s)
		}
		seen[s] = true
	}
}

func TestReportStructsRoundTrip(t *testing.T) {
	rig, scale := rigtest.Coach(), weight.Scale{Kind: weight.Platform, Class: "III L", Division: 20 * lb}
	sol := mustSolve(t, rig, corners(scale, rig), scale)
	limit := cargo.Limit{Name: "GAWR, drive", Rating: 20_000 * lb, On: weight.AxleOf(1), Source: weight.MinimumLoadSource()}
	m := cargo.Margins(sol, []cargo.Limit{limit})[0]
	b, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	var again cargo.Margin
	if err := json.Unmarshal(b, &again); err != nil || again != m {
		t.Errorf("%s reads back as %+v, %v", b, again, err)
	}
	if want := `"estimate":{"load":"17000 lb","plus_minus":"80 lb","state":"determined","drafts":2,"subtracted":true}`; !strings.Contains(string(b), want) {
		t.Errorf("%s lacks %s", b, want)
	}
	b, err = json.Marshal(rig)
	var back weight.Rig
	if err != nil || json.Unmarshal(b, &back) != nil || back.Axles[1] != rig.Axles[1] {
		t.Errorf("rig %s: %v", b, err)
	}
	b, err = json.Marshal(scale)
	var scaleBack weight.Scale
	if err != nil || json.Unmarshal(b, &scaleBack) != nil || scaleBack != scale {
		t.Errorf("scale %s: %v", b, err)
	}
}

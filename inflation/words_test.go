package inflation_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"axleend.example/inflation"
)

type word interface {
	encoding.TextMarshaler
	fmt.Stringer
}

// words holds a word type to its text codec: each value reads back, zero is
// empty text, one past the last is an error, and other text is one too.
func words[T ~uint8, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, kind string, last T, asWord func(T) word) {
	t.Helper()
	for v := range last + 1 {
		data, err := asWord(v).MarshalText()
		var back T
		if err = errors.Join(err, P(&back).UnmarshalText(data)); err != nil || back != v {
			t.Errorf("%s %d: %q reads back as %d, %v", kind, v, data, back, err)
		}
		if (v == 0) != (len(data) == 0) || v != 0 && string(data) != asWord(v).String() {
			t.Errorf("%s %d: %q, %q", kind, v, data, asWord(v))
		}
	}
	if _, err := asWord(last + 1).MarshalText(); !errors.Is(err, inflation.ErrWord) {
		t.Errorf("%s beyond the last: %v", kind, err)
	}
	if s := asWord(last + 1).String(); s != "not known" && kind != "load basis" {
		t.Errorf("%s beyond the last: %s", kind, s)
	}
	var v T
	if err := P(&v).UnmarshalText([]byte("none such")); !errors.Is(err, inflation.ErrWord) || v != 0 {
		t.Errorf("%s: %v", kind, err)
	}
}

func TestWords(t *testing.T) {
	words(t, "class", inflation.Trailer, func(v inflation.Class) word { return v })
	words(t, "construction", inflation.BiasBelted, func(v inflation.Construction) word { return v })
	words(t, "basis", inflation.PerAxle, func(v inflation.LoadPer) word { return v })
	words(t, "load state", inflation.Assumed, func(v inflation.LoadState) word { return v })
	words(t, "part", inflation.OtherRating, func(v inflation.Part) word { return v })
	words(t, "outcome", inflation.NotJudged, func(v inflation.Outcome) word { return v })
	words(t, "load basis", inflation.OneEnd, func(v inflation.LoadFrom) word { return v })
	words(t, "pressure basis", inflation.FromSidewall, func(v inflation.PressureFrom) word { return v })
	words(t, "fitted", inflation.WeakerThanPlacard, func(v inflation.Fitted) word { return v })
	words(t, "why", inflation.WhyNoPlacardNoNeed, func(v inflation.Why) word { return v })
	if s := inflation.LoadFrom(0).String(); s != "unweighed" {
		t.Errorf("zero load basis: %s", s)
	}
	for _, text := range []string{"Light Truck", " truck "} {
		if _, err := inflation.ParseClass(text); err != nil {
			t.Error(err)
		}
	}
	if _, err := inflation.ParseConstruction("Radial"); err != nil {
		t.Error(err)
	}
	for _, m := range []inflation.Method{inflation.NextRow, inflation.Interpolated} {
		data, err := json.Marshal(m)
		var back inflation.Method
		if err = errors.Join(err, json.Unmarshal(data, &back)); err != nil || back != m {
			t.Errorf("%s: %s %v", m, data, err)
		}
	}
	var m inflation.Method
	if err := m.UnmarshalText([]byte("guess")); !errors.Is(err, inflation.ErrWord) {
		t.Errorf("method: %v", err)
	}
	var size inflation.Size
	if err := size.UnmarshalText([]byte("AX240/75R20")); !errors.Is(err, inflation.ErrSize) {
		t.Errorf("size: %v", err)
	}
	if err := errors.Join(size.UnmarshalText([]byte("11r22.5")), size.UnmarshalText(nil)); err != nil || size != (inflation.Size{}) {
		t.Errorf("size: %q %v", size, err)
	}
}

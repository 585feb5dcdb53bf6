package sidewall_test

import (
	"encoding"
	"errors"
	"fmt"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
)

// readsBack holds a word type to its text codec: each value reads back, zero is
// empty text, one past the last is an error, and so is other text.
func readsBack[T interface {
	~uint8
	encoding.TextMarshaler
	fmt.Stringer
}, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, last T) {
	t.Helper()
	for v := range last + 1 {
		data, err := v.MarshalText()
		var back T
		if err = errors.Join(err, P(&back).UnmarshalText(data)); err != nil || back != v || (v == 0) != (len(data) == 0) || v != 0 && string(data) != v.String() {
			t.Errorf("%d: %q reads back as %d, %v", v, data, back, err)
		}
	}
	if _, err := (last + 1).MarshalText(); !errors.Is(err, inflation.ErrWord) || (last+1).String() != "not known" {
		t.Errorf("beyond the last: %v", err)
	}
	var v T
	if err := P(&v).UnmarshalText([]byte("none such")); !errors.Is(err, inflation.ErrWord) || v != 0 {
		t.Error(err)
	}
}

func TestWords(t *testing.T) {
	t.Parallel()
	readsBack(t, sidewall.DoubtSpeed)
	last, err := sidewall.ParseSpeedSymbol("Y")
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, last)
	for n := range sidewall.MaxLoadIndex + 1 {
		li, err := sidewall.LoadIndexOf(n)
		data, err2 := li.MarshalText()
		var back sidewall.LoadIndex
		if err = errors.Join(err, err2, back.UnmarshalText(data)); err != nil || back != li {
			t.Errorf("load index %d: %q, %v", n, data, err)
		}
	}
	var li sidewall.LoadIndex
	if err := li.UnmarshalText([]byte("300")); !errors.Is(err, inflation.ErrInput) || li.Known() {
		t.Errorf("load index: %v", err)
	}
	if data, err := li.MarshalText(); len(data) != 0 || err != nil {
		t.Errorf("no load index: %q %v", data, err)
	}
	if err := errors.Join(li.UnmarshalText([]byte("0"))); err != nil || !li.Known() || li.Load() != 45*kg {
		t.Errorf("load index 0: %s %v", li.Load(), err)
	}
	if err := li.UnmarshalText(nil); err != nil || li.Known() {
		t.Errorf("empty load index: %v", err)
	}
}

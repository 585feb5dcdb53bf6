package weight_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"axleend.example/weight"
)

func TestRoundingDirections(t *testing.T) {
	t.Parallel()
	// In halves of a pound: what each direction makes of them.
	for _, tc := range []struct {
		r    weight.Rounding
		name string
		want [6]weight.Mass // of -1.5, -1, -0.5, 0.5, 1, 1.5
	}{
		{weight.Floor, "Floor", [6]weight.Mass{-2, -1, -1, 0, 1, 1}},
		{weight.Ceiling, "Ceiling", [6]weight.Mass{-1, -1, 0, 1, 1, 2}},
		{weight.Nearest, "Nearest", [6]weight.Mass{-2, -1, -1, 1, 1, 2}},
		{99, "unknown", [6]weight.Mass{-2, -1, -1, 0, 1, 1}}, // as Floor
	} {
		for i, halves := range []weight.Mass{-3, -2, -1, 1, 2, 3} {
			if got := (halves * weight.Pound / 2).Round(weight.Pound, tc.r); got != tc.want[i]*weight.Pound {
				t.Errorf("%s of %d/2 lb = %v, want %d lb", tc.name, halves, got, tc.want[i])
			}
		}
	}
	if weight.Floor != 0 {
		t.Error("the zero Rounding is not Floor")
	}
}

func TestSystem(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		s    weight.System
		text string
		grid weight.Mass
	}{
		{weight.US, "us", weight.Pound / 100},
		{weight.Metric, "metric", weight.Gram},
	} {
		if got := tc.s.String(); got != tc.text {
			t.Errorf("String() = %q, want %q", got, tc.text)
		}
		data, err := json.Marshal(tc.s)
		if err != nil || string(data) != `"`+tc.text+`"` {
			t.Errorf("JSON is %s, %v", data, err)
		}
		back := weight.System(7)
		if err := json.Unmarshal(data, &back); err != nil || back != tc.s {
			t.Errorf("JSON %s reads back as %v, %v", data, back, err)
		}
		if got := tc.s.MassGrid(); got != tc.grid {
			t.Errorf("the grid of %v is %v, want %v", tc.s, got, tc.grid)
		}
	}
	if weight.US != 0 {
		t.Error("the zero System is not US")
	}
	if got := weight.System(7).String(); got != "not known" {
		t.Errorf("System(7) is shown as %q", got)
	}
	if _, err := weight.System(7).MarshalText(); !errors.Is(err, weight.ErrWord) {
		t.Errorf("System(7) is written: %v", err)
	}
	s := weight.Metric
	err := s.UnmarshalText([]byte("US"))
	if !errors.Is(err, weight.ErrWord) || s != weight.Metric {
		t.Errorf("UnmarshalText(US) = %v, %v", s, err)
	}
	if want := `unknown word "US" for unit system: want one of us, metric`; err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// Every mass on a grid can be written and read back.
func TestGridsAreWritable(t *testing.T) {
	t.Parallel()
	for _, s := range []weight.System{weight.US, weight.Metric} {
		grid := s.MassGrid()
		for _, n := range []weight.Mass{0, 1, 7, 99, 364_001, 999_999_999, -364_001} {
			if !checkRoundTrip(t, weight.ParseMass, n*grid) {
				t.Errorf("%d x %v has no text", n, grid)
			}
		}
	}
}

func ExampleSystem() {
	var s weight.System
	fmt.Println(s, s.MassGrid())
	err := s.UnmarshalText([]byte("metric"))
	fmt.Println(s, s.MassGrid(), err)
	// Output:
	// us 0.01 lb
	// metric 0.001 kg <nil>
}

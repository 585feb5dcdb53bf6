package record

import (
	"bytes"
	"encoding/json"
	"slices"

	"axleend.example/internal/jsonappend"
	"axleend.example/weight"
)

// Treads are the depths probed on one tire; the least one decides. They were
// taken anywhere, or along the inner shoulder (that faces the coach), the
// center and the outer shoulder, each at one or more points around the tire.
// Only depths whose place is known can show a wear pattern. In a file they are
// one depth, a list, or a mapping of inner, center and outer.
type Treads struct {
	// Anywhere are depths whose place nobody wrote down.
	Anywhere []weight.Length
	// Inner are those along the shoulder that faces the coach.
	Inner []weight.Length
	// Center are those along the middle.
	Center []weight.Length
	// Outer are those along the shoulder that faces away.
	Outer []weight.Length
}

type treadLines struct {
	Inner  []weight.Length `json:"inner,omitempty"`
	Center []weight.Length `json:"center,omitempty"`
	Outer  []weight.Length `json:"outer,omitempty"`
}

// Least returns the smallest depth, or false when none was probed.
func (t Treads) Least() (weight.Length, bool) {
	var least weight.Length
	any := false
	for _, line := range [...][]weight.Length{t.Anywhere, t.Inner, t.Center, t.Outer} {
		for _, d := range line {
			if !any || d < least {
				least, any = d, true
			}
		}
	}
	return least, any
}

// leastOf returns the smallest depth of one line.
func leastOf(line []weight.Length) Recorded[weight.Length] {
	if len(line) == 0 {
		return Recorded[weight.Length]{}
	}
	return Record(slices.Min(line))
}

// Shoulders is by how much the shoulders differ.
func (t *Treads) Shoulders() Recorded[weight.Length] {
	if in, out, ok := Both(leastOf(t.Inner), leastOf(t.Outer)); ok {
		return Record(max(in, out) - min(in, out))
	}
	return Recorded[weight.Length]{}
}

// BelowCenter is by how much both shoulders are worn below the center, and
// belowShoulders by how much the center is below both; 0 where they are not.
func (t *Treads) BelowCenter() (belowCenter, belowShoulders Recorded[weight.Length]) {
	in, out, ok := Both(leastOf(t.Inner), leastOf(t.Outer))
	center, known := leastOf(t.Center).Get()
	if !ok || !known {
		return belowCenter, belowShoulders
	}
	return Record(max(0, center-max(in, out))), Record(max(0, min(in, out)-center))
}

// Around is the most by which depths along one line differ around the tire.
func (t *Treads) Around() Recorded[weight.Length] {
	var most Recorded[weight.Length]
	for _, line := range [...][]weight.Length{t.Inner, t.Center, t.Outer} {
		if len(line) > 1 {
			old, _ := most.Get()
			most = Record(max(old, slices.Max(line)-slices.Min(line)))
		}
	}
	return most
}

// MarshalJSON writes one depth taken anywhere as it is, several as a list, and
// those whose place is known as a mapping; it leaves out depths taken anywhere
// beside those.
func (t Treads) MarshalJSON() ([]byte, error) { return t.AppendJSON(nil) }

// AppendJSON appends what [Treads.MarshalJSON] returns; the error is that of a depth.
func (t *Treads) AppendJSON(dst []byte) ([]byte, error) {
	switch {
	case len(t.Inner)+len(t.Center)+len(t.Outer) > 0:
		return jsonappend.Value(dst, &treadLines{t.Inner, t.Center, t.Outer})
	case len(t.Anywhere) == 1:
		return jsonappend.Value(dst, &t.Anywhere[0])
	case len(t.Anywhere) == 0:
		return append(dst, "[]"...), nil
	}
	return jsonappend.Value(dst, &t.Anywhere)
}

// UnmarshalJSON reads what [Treads.MarshalJSON] writes; null is no depth.
func (t *Treads) UnmarshalJSON(data []byte) error {
	*t = Treads{}
	switch data = bytes.TrimSpace(data); {
	case bytes.HasPrefix(data, []byte("{")):
		var lines treadLines
		err := json.Unmarshal(data, &lines)
		t.Inner, t.Center, t.Outer = lines.Inner, lines.Center, lines.Outer
		return err
	case bytes.Equal(data, []byte("null")):
		return nil
	case bytes.HasPrefix(data, []byte("[")):
		return json.Unmarshal(data, &t.Anywhere)
	}
	t.Anywhere = make([]weight.Length, 1)
	return json.Unmarshal(data, &t.Anywhere[0])
}

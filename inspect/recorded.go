package inspect

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// A Recorded is a value that may not have been written down. Absence is the
// zero Recorded and nothing else: 0 psi and 0/32 in are recorded values. In
// JSON absence is null, or the key left out; in YAML the key is left out.
// A Recorded of a comparable type is comparable with ==.
type Recorded[T any] struct {
	value T
	is    bool
}

// Record gives v as recorded.
func Record[T any](v T) Recorded[T] { return Recorded[T]{value: v, is: true} }

// Get returns the value and whether it was recorded; the value of an absence
// is the zero T and must not be used.
func (r Recorded[T]) Get() (T, bool) { return r.value, r.is }

// Is reports whether a value was recorded.
func (r Recorded[T]) Is() bool { return r.is }

// Or returns r where it is recorded, else other.
func (r Recorded[T]) Or(other Recorded[T]) Recorded[T] {
	if r.is {
		return r
	}
	return other
}

// IsZero reports absence, so that the omitzero option leaves the key out.
func (r Recorded[T]) IsZero() bool { return !r.is }

// String gives the value as fmt prints it, or "not recorded".
func (r Recorded[T]) String() string {
	if !r.is {
		return "not recorded"
	}
	return fmt.Sprint(r.value)
}

// MarshalJSON writes the value, or null.
func (r Recorded[T]) MarshalJSON() ([]byte, error) {
	if !r.is {
		return []byte("null"), nil
	}
	return json.Marshal(r.value)
}

// UnmarshalJSON reads what [Recorded.MarshalJSON] wrote; null is absence.
func (r *Recorded[T]) UnmarshalJSON(data []byte) error {
	if bytes.Equal(data, []byte("null")) {
		*r = Recorded[T]{}
		return nil
	}
	var v T
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*r = Record(v)
	return nil
}

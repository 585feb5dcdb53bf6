package record

import (
	"bytes"
	"encoding/json"
	"fmt"

	"axleend.example/internal/jsonappend"
)

// A Recorded is a value that may not have been written down. The zero Recorded
// is absence: 0 psi and 0/32 in are recorded values. In JSON absence is null,
// or the key left out; in YAML the key is left out. [NotRead] is an absence
// that was written down. A Recorded of a comparable type is comparable with ==.
type Recorded[T any] struct {
	value   T
	is      bool
	notRead bool
}

// Record gives v as recorded.
func Record[T any](v T) Recorded[T] { return Recorded[T]{value: v, is: true} }

// NotRead says that somebody wrote "not read": there is no value, and no
// default of the visit takes its place. It is written as those words.
func NotRead[T any]() Recorded[T] { return Recorded[T]{notRead: true} }

// notReadText is how a file says it.
const notReadText = "not read"

// Get returns the value and whether it was recorded; the value of an absence
// is the zero T and must not be used.
func (r Recorded[T]) Get() (T, bool) { return r.value, r.is }

// Is reports whether a value was recorded.
func (r Recorded[T]) Is() bool { return r.is }

// Or returns r where something was written down, [NotRead] included, else
// other.
func (r Recorded[T]) Or(other Recorded[T]) Recorded[T] {
	if r.is || r.notRead {
		return r
	}
	return other
}

// IsZero reports that nothing was written down, so that the omitzero option
// leaves the key out.
func (r Recorded[T]) IsZero() bool { return !r.is && !r.notRead }

// String gives the value as fmt prints it, "not read" or "not recorded".
func (r Recorded[T]) String() string {
	if r.notRead {
		return notReadText
	}
	if !r.is {
		return "not recorded"
	}
	return fmt.Sprint(r.value)
}

// MarshalJSON writes the value, "not read", or null.
func (r Recorded[T]) MarshalJSON() ([]byte, error) { return r.AppendJSON(nil) }

// AppendJSON appends what [Recorded.MarshalJSON] returns; the error is that of the
// value.
func (r *Recorded[T]) AppendJSON(dst []byte) ([]byte, error) {
	switch {
	case r.notRead:
		return append(dst, `"`+notReadText+`"`...), nil
	case !r.is:
		return append(dst, "null"...), nil
	}
	return jsonappend.Value(dst, &r.value)
}

// UnmarshalJSON reads what [Recorded.MarshalJSON] wrote; null is absence.
func (r *Recorded[T]) UnmarshalJSON(data []byte) error {
	if bytes.Equal(data, []byte("null")) {
		*r = Recorded[T]{}
		return nil
	}
	if string(data) == `"`+notReadText+`"` {
		*r = NotRead[T]()
		return nil
	}
	var v T
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*r = Record(v)
	return nil
}

// Both returns two values, and whether both were recorded.
func Both[T any](x, y Recorded[T]) (T, T, bool) {
	u, ok1 := x.Get()
	w, ok2 := y.Get()
	return u, w, ok1 && ok2
}

// Yes reports a recorded yes.
func Yes(r Recorded[bool]) bool {
	v, ok := r.Get()
	return ok && v
}

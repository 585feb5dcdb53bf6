package report_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/visittest"
)

// TestAppendJSON: behind what is there stand the bytes of json.Marshal.
func TestAppendJSON(t *testing.T) {
	visit, setup := visittest.Demo(t)
	r, err := inspect.Assess(visit, setup)
	if err != nil {
		t.Fatal(err)
	}
	want, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := r.AppendJSON([]byte("before "))
	if rest, ok := bytes.CutPrefix(got, []byte("before ")); err != nil || !ok || !bytes.Equal(rest, want) {
		at := 0
		for at < len(rest) && at < len(want) && rest[at] == want[at] {
			at++
		}
		t.Errorf("%v, from byte %d\ngot  %.300s\nwant %.300s", err, at, rest[max(0, at-50):], want[max(0, at-50):])
	}
	room := make([]byte, 0, 2*len(want))
	if n := testing.AllocsPerRun(20, func() { _, _ = r.AppendJSON(room) }); n > 40 {
		t.Errorf("%v allocations: something in it is left to encoding/json", n)
	}
}

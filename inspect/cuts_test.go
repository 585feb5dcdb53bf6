package inspect_test

import (
	"testing"

	"axleend.example/internal/visittest"
)

// TestCutToMeasure: of a cut that was written down the depth is asked for; of one that was
// measured the depth decides.
func TestCutToMeasure(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		cut   string
		asked bool
	}{
		{"cut_length: 3 in", true}, {"cut_at: sidewall", true}, {"cut_length: 3 in, cut_at: crown", true},
		{"cut_length: 3 in, cut_depth: 1/32 in", false}, {"cut_depth: 1/32 in", false}, {"tread: 9/32 in", false},
	} {
		r := visittest.Assess(t, visittest.Read(t, bare("", "tires: [{at: steer-left, "+x.cut+"}]\n")))
		if _, asked := has(r, "steer-left", "cut-not-measured"); asked != x.asked {
			t.Errorf("%s: asked %t, want %t: %+v", x.cut, asked, x.asked, r.Todo)
		}
	}
}

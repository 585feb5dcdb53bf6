package dotcode_test

import (
	"testing"

	"axleend.example/dotcode"
)

// TestTriangles: the triangles of Unicode's Geometric Shapes (U+25B2 to U+25C5) and the
// two deltas (U+0394, U+2206) mark the decade when they stand last, and no other character does.
func TestTriangles(t *testing.T) {
	for c := rune(0x20); c < 0x2600; c++ {
		n, _ := dotcode.Parse("439" + string(c))
		if got, want := n.Marks().Triangle, c >= 0x25B2 && c <= 0x25C5 || c == 0x0394 || c == 0x2206; got != want {
			t.Errorf("439%c (%U): a triangle: %t, want %t", c, c, got, want)
		}
	}
}

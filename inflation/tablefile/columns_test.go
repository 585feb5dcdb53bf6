package tablefile

import (
	"bytes"
	"math/rand/v2"
	"testing"
	"unicode/utf8"
)

// TestColumns: cells asked for in their order, and in any order, stand where
// counting from the start of the line puts them.
func TestColumns(t *testing.T) {
	lines := bytes.Split([]byte("size: 1,ü,é\n\n轮胎,psi,½ ,,,\n,a,\r"), []byte("\n"))
	model := func(line, column int) int {
		if line < 1 || line > len(lines) {
			return 0
		}
		text := lines[line-1]
		return utf8.RuneCount(text[:min(max(column-1, 0), len(text))]) + 1
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		c := columns{lines: lines, count: utf8.RuneCount}
		for range 20 {
			line, column := rng.IntN(len(lines)+2), rng.IntN(20)
			if line > 0 && line <= len(lines) && column > 0 && column <= len(lines[line-1]) && !utf8.RuneStart(lines[line-1][column-1]) {
				continue // no cell begins inside a character
			}
			if got, want := c.at(line, column), model(line, column); got != want {
				t.Fatalf("line %d, byte column %d: %d, want %d", line, column, got, want)
			}
		}
	}
}

// TestColumnsLookOnce: a line of many cells is looked at once, not once for
// each of them.
func TestColumnsLookOnce(t *testing.T) {
	line := bytes.Repeat([]byte{','}, DefaultSize)
	looked := 0
	c := columns{lines: [][]byte{line, line}, count: func(b []byte) int {
		looked += len(b)
		return utf8.RuneCount(b)
	}}
	for i := range 2 {
		for column := range line {
			c.at(i+1, column+1)
		}
	}
	if looked > 2*len(line) {
		t.Errorf("looked at %d bytes of a file of %d", looked, 2*len(line))
	}
}

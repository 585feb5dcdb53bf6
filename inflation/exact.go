package inflation

import (
	"math/bits"

	"axleend.example/weight"
)

// product is a*b*c in 192 bits, the highest word first.
func product(a, b, c uint64) [3]uint64 {
	hi, lo := bits.Mul64(a, b)
	high, mid1 := bits.Mul64(hi, c)
	mid2, low := bits.Mul64(lo, c)
	mid, carry := bits.Add64(mid1, mid2, 0)
	return [3]uint64{high + carry, mid, low}
}

func lessOrEqual(a, b [3]uint64) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return true
}

// squared is a*a*b.
func squared(a, b uint64) [3]uint64 { return product(a, a, b) }

// rootOf is load*sqrt(p/full) rounded down to the grid: the most that a tire
// carries at p if it carries load at full, by any law with an exponent of at
// least 0.5. p is from 0 to full, load at most maxLoad.
func rootOf(load weight.Mass, p, full Pressure, grid weight.Mass) weight.Mass {
	// The greatest k*grid with (k*grid)^2 * full <= load^2 * p.
	bound := squared(uint64(load), uint64(p))
	lo, hi := int64(0), int64(load/grid)
	for lo < hi {
		mid := hi - (hi-lo)/2
		if x := uint64(mid) * uint64(grid); lessOrEqual(squared(x, uint64(full)), bound) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return weight.Mass(lo) * grid
}

// squareOf is full*(load/most)^2 rounded down to the grid: the least that a
// tire needs for load if it needs full for most, by any law with an exponent
// of at least 0.5. load is from 0 to most, most at most maxLoad.
func squareOf(full Pressure, load, most weight.Mass, grid Pressure) Pressure {
	bound := squared(uint64(load), uint64(full))
	lo, hi := int64(0), int64(full/grid)
	for lo < hi {
		mid := hi - (hi-lo)/2
		if lessOrEqual(squared(uint64(most), uint64(mid)*uint64(grid)), bound) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return Pressure(lo) * grid
}

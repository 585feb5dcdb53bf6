// Package sample is what the tests of mutate change.
package sample

// Most is the limit.
const Most = 7

// Over reports whether n is over the limit.
func Over(n int) bool {
	if n > Most {
		return true
	}
	return false
}

// Sum adds, without a test of anything but its sign.
func Sum(list ...int) int {
	sum := 0
	for _, n := range list {
		sum += n
	}
	return sum
}

// Forever never ends once its step is gone.
func Forever(n int) int {
	steps := 0
	for n > 0 {
		n--
		steps++
	}
	return steps
}

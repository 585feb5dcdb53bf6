package held_test

import (
	"testing"

	"sample/more"
)

func TestLeast(t *testing.T) {
	if more.Least < 3 {
		t.Error("the limit is 3")
	}
}

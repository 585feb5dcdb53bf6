package sample

import "testing"

func TestOver(t *testing.T) {
	if !Over(8) || Over(7) {
		t.Error("the limit is 7")
	}
}

func TestSum(t *testing.T) {
	if Sum(1, 2) <= 0 {
		t.Error("a sum of what is above zero is above zero")
	}
}

func TestForever(t *testing.T) {
	if Forever(3) != 3 {
		t.Error("three steps")
	}
}

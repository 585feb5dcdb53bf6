package condition_test

import (
	"fmt"

	"axleend.example/inspect/record/condition"
)

func ExampleAll() {
	all := condition.All()
	fmt.Println(all[0], len(all) > 40)
	// Output: exposed cord true
}

func ExampleSet() {
	c, err := condition.Parse("bulge")
	set := condition.Set(0).With(c).With(condition.Cut)
	fmt.Println(set.All(), set.Has(condition.Bulge), set.Has(condition.Boot), err)
	// Output: [bulge cut] true false <nil>
}

package caution_test

import (
	"fmt"

	"axleend.example/inflation/caution"
)

func ExampleSet() {
	s := caution.Set(0).With(caution.TirePressureNotRead)
	fmt.Println(s.Has(caution.TirePressureNotRead), s.Has(caution.TireLoadNotRead))
	for c := range s.All() {
		fmt.Println(c.Text())
	}
	// Output:
	// true false
	// A sidewall's maximum pressure was not read: read it before setting.
}

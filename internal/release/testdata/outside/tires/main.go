// Prints: 50 psi, E, 1, 60 F
package main

import (
	"fmt"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/cold"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
)

func main() {
	stamps, err := sidewall.Parse("LT225/75R16 LRE")
	if err != nil {
		panic(err)
	}
	air, err := inflation.ParseTemperature("60 F")
	if err != nil {
		panic(err)
	}
	var always caution.Set
	fmt.Printf("%v, %v, %d, %v\n", 50*inflation.PSI, stamps.LoadRange, tablefile.Version+int(always), cold.Air{Temperature: air}.Temperature)
}

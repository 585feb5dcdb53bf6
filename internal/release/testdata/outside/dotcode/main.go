// Prints: 13 years 5 months
package main

import (
	"fmt"

	"axleend.example/dotcode"
)

func main() {
	number, err := dotcode.Parse("DOT 1M3 ABCDEF 2313")
	if err != nil {
		panic(err)
	}
	fmt.Println(number.AgeOn(dotcode.Date{Year: 2026, Month: 11, Day: 25}))
}

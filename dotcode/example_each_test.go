package dotcode_test

import (
	"fmt"

	"axleend.example/dotcode"
)

func ExampleAge_AtMost() {
	number, err := dotcode.Parse("2313")
	if err != nil {
		fmt.Println(err)
		return
	}
	age := number.AgeOn(today)
	least, _ := age.AtLeast()
	most, known := age.AtMost() // the figure that decides
	fmt.Println(least, most, known)
	var nothing dotcode.Age
	fmt.Println(nothing.Known())
	// Output:
	// 13 years 5 months 13 years 5 months true
	// false
}

func ExampleDate_Compare() {
	visit, made := dotcode.Date{Year: 2026, Month: 10, Day: 3}, dotcode.Date{Year: 2013, Month: 6, Day: 9}
	fmt.Println(made.Before(visit), made.After(visit), made.Compare(visit))
	fmt.Println(dotcode.Date{Year: 2026, Month: 2, Day: 30}.IsValid())
	// Output:
	// true false -1
	// false
}

func ExampleNumber_CanBe() {
	number, err := dotcode.Parse("439")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(number.CanBe(dotcode.DateOnly), number.CanBe(dotcode.ThirteenSymbol))
	// Output: true false
}

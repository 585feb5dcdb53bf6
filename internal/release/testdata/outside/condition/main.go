// Prints: bulge
package main

import (
	"fmt"

	"axleend.example/inspect/record/condition"
)

func main() {
	c, err := condition.Parse("bulge")
	if err != nil {
		panic(err)
	}
	fmt.Println(c)
}

// Prints: 4820 lb <nil>
package main

import (
	"fmt"

	"axleend.example/weight"
)

func main() {
	fmt.Println(weight.Sum(4380*weight.Pound, 440*weight.Pound))
}

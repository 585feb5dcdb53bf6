// Prints: 83.5 lb <nil>
package main

import (
	"fmt"

	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func main() {
	fmt.Println(cargo.Water().Mass(10*weight.USGallon, weight.US))
}

// Prints: 655 kPa <nil>
package main

import (
	"fmt"

	"axleend.example/inflation"
)

func main() {
	fmt.Println(inflation.ParsePressure("6.55 bar"))
}

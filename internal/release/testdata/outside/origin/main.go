// Prints: from memory
package main

import (
	"fmt"

	"axleend.example/rules/origin"
)

func main() {
	fmt.Println(origin.Source{Grade: origin.FromMemory})
}

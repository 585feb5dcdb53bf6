// Prints: [coach-care dual-matching label servicing-safety]
package main

import (
	"fmt"

	"axleend.example/rules/packs"
)

func main() {
	fmt.Println(packs.Default())
}

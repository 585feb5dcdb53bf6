// Prints: pack.yaml:1:1: title: missing
package main

import (
	"fmt"
	"strings"

	"axleend.example/rules"
)

func main() {
	_, err := rules.ReadPack("pack.yaml", []byte("format: 1\npack: own\nrules: {}\n"))
	first, _, _ := strings.Cut(err.Error(), "\n")
	fmt.Println(first)
}

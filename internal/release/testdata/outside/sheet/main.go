// Prints: true
package main

import (
	"fmt"
	"strings"

	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

func main() {
	fmt.Println(strings.Contains(sheet.Text(report.Report{Coach: "an invented coach"}, sheet.TextOptions{Full: true}), "an invented coach"))
}

// Prints: do_not_drive true
package main

import (
	"fmt"

	"axleend.example/inspect"
)

const record = `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 76 psi}]
`

func main() {
	visit, err := record.Read("visit.yaml", []byte(record))
	if err != nil {
		panic(err)
	}
	report, err := inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		panic(err)
	}
	fmt.Println(report.Worst, report.Stops)
}

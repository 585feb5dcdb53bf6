// Prints: must not move
package main

import (
	"fmt"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

const written = `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, last_set: 95 psi, found: 70 psi}]
`

func main() {
	visit, err := record.Read("visit.yaml", []byte(written))
	if err != nil {
		panic(err)
	}
	answer, err := inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		panic(err)
	}
	if answer.Drive == report.MustNotMove {
		fmt.Println("must not move")
	}
}

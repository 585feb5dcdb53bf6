// Prints: nothing was weighed: the visit records no scale reading
package main

import (
	"context"
	"fmt"
	"testing/fstest"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/history"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
)

func main() {
	visit, err := record.Read("visit.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 95 psi}]\n"))
	if err != nil {
		panic(err)
	}
	if _, err := placement.Find(context.Background(), visit, inspect.Setup{}); err != nil {
		panic(err)
	}
	if _, err := history.Compare([]*record.Visit{visit}, inspect.Setup{}); err != nil {
		panic(err)
	}
	if _, err := batch.Files(fstest.MapFS{}); err != nil {
		panic(err)
	}
	_, err = loading.Plan(context.Background(), visit, inspect.Setup{})
	fmt.Println(err)
}

package origin_test

import (
	"errors"
	"fmt"

	"axleend.example/rules/origin"
)

func ExampleProblems_More() {
	var problems origin.Problems
	for i := range 130 {
		problems.Add(origin.Problem{Position: origin.Position{File: "own.csv", Line: i + 2}, Err: errors.New("no unit")})
	}
	fmt.Println(len(problems.All()), problems.More(), problems.Len())
	// Output: 100 30 130
}

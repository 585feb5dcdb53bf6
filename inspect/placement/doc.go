// Package placement says which of the tires at hand goes where, the steps that
// takes, and what has to be bought.
//
//	answer, err := placement.Find(ctx, visit, inspect.Setup{})
//	for _, move := range answer.Moves {
//		fmt.Println(move.Tire, "to", move.To)
//	}
//
// Each arrangement is held to the same rules as the tires where they were found.
package placement

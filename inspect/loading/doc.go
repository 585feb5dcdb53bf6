// Package loading works out what each part of a coach carries, what may still
// be loaded for a trip, and what must move.
//
//	weighed, err := loading.Weigh(visit, inspect.Setup{})
//	plan, err := loading.Plan(ctx, visit, inspect.Setup{})
//	fmt.Println(weighed.Stops, plan.Clears, len(plan.Moves.Moves))
//
// A plan is no weighing: weigh again when it is carried out.
package loading

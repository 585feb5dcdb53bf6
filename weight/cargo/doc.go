// Package cargo says what may still be loaded, and where.
//
//	trip, err := cargo.PlanTrip(weighed, cargo.Stage{Name: "leaving", Changes: []cargo.Change{{Name: "water", Mass: water, At: tank}}})
//	room, err := trip.RoomAt(1, rearBay, limits, nil)
//	moves, err := cargo.PlanMoves(trip, 1, cargo.Task{Stations: bays, Items: items, Limits: limits})
//
// A [Limit] is a rating, and a [Margin] what a load leaves of it. A [Trip] is
// what a vehicle weighed and the stages planned from it: tanks filled, people
// seated, cargo put in. [PlanMoves] finds the least cargo to move so that every
// limit is kept. [Label] is the cargo label of a coach, [Fluid] what is in a
// tank, [Band] the share of a trailer that should rest on its tongue or pin.
//
// What is planned is no weighing: weigh again once it is loaded. Leave what
// touches brakes, suspension, hitches and tires to trained people, and follow
// local codes.
package cargo

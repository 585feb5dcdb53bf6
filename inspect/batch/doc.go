// Package batch answers many visits: lines of JSON or the files of a folder, in
// their order, on as many processors as it is told, in memory that does not grow
// with the input.
//
//	result, err := batch.Run(ctx, in, out, inspect.Setup{}, batch.Options{Workers: 2})
//	fmt.Println(result.Records, "answered,", result.Stops, "must stop")
//	result, err = batch.Run(ctx, in, more, inspect.Setup{}, batch.Options{Earlier: output}) // behind an interrupted one
//
// The answer to a visit depends on that visit and the setup alone. So an input can
// be cut between its lines, the parts run anywhere, and the outputs joined in
// order: the same bytes as of one run, but for the line number of a [BadRecord],
// which counts within its part.
package batch

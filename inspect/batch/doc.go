// Package batch answers many visits: lines of JSON or the files of a folder, in
// their order, on as many processors as it is told, in memory that does not grow
// with the input.
//
//	result, err := batch.Run(ctx, in, out, inspect.Setup{}, batch.Options{Workers: 2})
//	fmt.Println(result.Records, "answered,", result.Stops, "must stop")
//	result, err = batch.Run(ctx, in, more, inspect.Setup{}, batch.Options{Earlier: output}) // behind an interrupted one
package batch

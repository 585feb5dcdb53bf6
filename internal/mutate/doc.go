// Command mutate asks whether the tests of a package would notice a mistake. It
// makes small changes to the code, one at a time, and runs the tests: a change
// that a test fails for is killed, one that none fails for has survived, and
// what it changed is not held by anything.
//
//	cd internal/mutate
//	go run . -package ./dotcode -seed 1 -n 50 -for 2m
//
// Where others hold a package, such as internal/judge, -tests names them:
//
//	go run . -package ./internal/judge -tests ./inspect,./inspect/loading
//
// The changes are those that people make: a comparison with or without its
// bound, or turned around; a number one too high or too low; a sign; and for
// or; a condition turned into its opposite; a statement left out. Which of them
// are tried depends on the seed and on the code alone. The tree is never
// touched: a change is built with an overlay.
//
// Some changes change nothing that anybody could see, such as a shortcut left
// out. equivalent.txt lists those that somebody looked at, with the reason; they
// do not count. An entry that fits no change of the package any more is an error,
// so that the list stays right.
//
// Exit status: 0 done, 1 fewer were killed than -least asks for, 2 misuse, or
// tests that fail by themselves.
package main

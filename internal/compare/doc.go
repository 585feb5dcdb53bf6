// Command compare measures Axleend beside general tools that do the same work:
// evaluators of expressions, float and decimal arithmetic, linear algebra, and
// the codecs of the standard library and of others.
//
//	cd internal/compare
//	go run .                    # the whole table, a minute
//	go run . -only rules,dates  # some of it
//	go run . -check             # no times: the answers are equal, or it says where
//
// Answers are held against each other before anything is timed. Where floats go
// wrong, and how often, is counted and printed.
//
// Times are CPU time of the whole process, its garbage collector included, so
// that other work on the machine counts for little. The ways of one table are
// measured in turns, and a way's ratio is the middle of the ratios of its turns,
// with the least and the greatest behind it. Where the processor counts
// instructions and lets a program read them, they stand beside the times; they
// are those of the measuring thread, so most of the garbage collector's are left
// out.
//
// Exit status: 0 done, 1 answers differ, 2 misuse.
package main

// Package testsize says how much the tests do. By default they try a seeded prefix
// of what they try with AXLEEND_TESTS=full, as .ci/run does once:
//
//	rounds := 100
//	if testsize.Full() {
//		rounds = 2600
//	}
package testsize

import "os"

// Full reports whether tests run at their full counts.
func Full() bool { return os.Getenv("AXLEEND_TESTS") == "full" }

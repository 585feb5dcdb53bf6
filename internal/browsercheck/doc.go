// Package browsercheck opens what Axleend makes for browsers in a real one and
// looks: the printed sheet has the pages it should, nothing runs over an edge,
// nothing is fetched, no error stands on the console, all text can be read.
//
//	cd internal/browsercheck
//	go test ./...                         // skipped where there is no Chromium
//	AXLEEND_NEED_BROWSER=1 go test ./...  // fails there instead
//
// A test of another page starts the browser with start and opens a tab; see
// browser_test.go.
package browsercheck

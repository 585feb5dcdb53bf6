// Package origin says where a figure comes from and where a file is wrong.
//
// Every table, rule, tolerance and report line of Axleend carries a [Source];
// every file that is read reports what is wrong with it all at once, as a
// [Problem] each:
//
//	s := origin.Source{Grade: origin.Published, Title: "49 CFR 571.120", Locator: "S5.1.2"}
//	if err := s.Check(); err != nil { ... }
//	fmt.Println(s) // 49 CFR 571.120, S5.1.2 (published)
//
// The package is a leaf: it needs only the standard library, keeps no state,
// and its values are plain data that may be shared by any number of goroutines.
package origin

// Package history compares several visits of one coach: wear, leaks, loads that
// changed, and what was advised and is still open.
//
//	answer, err := history.Compare(visits, inspect.Setup{})
//	fmt.Println(answer.Drive, len(answer.Open), "open")
//	fmt.Println(answer.PerMonth)
//
// Write down the odometer, the air's temperature, whether tires were cold (hot:
// no) and the pressure each was left at; what was advised and was done goes
// under done:
//
//	done:
//	  - {at: drive-right-inner, rule: run-low, note: demounted and inspected}
package history

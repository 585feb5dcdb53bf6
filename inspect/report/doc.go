// Package report holds the answer to one visit as plain data: what each axle
// end carries, the pressure to set, each tire's age, what is to be done, and
// what nobody could judge.
//
//	answer, err := report.Read("report.json", data)
//	fmt.Println(answer.Drive, len(answer.Todo), answer.NotJudged)
//	line, err := json.Marshal(answer)
//
// A report says what was found, not that a coach is safe. It stands beside
// trained people's judgment, the makers' instructions and local codes.
package report

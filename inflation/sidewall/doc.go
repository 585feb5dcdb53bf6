// Package sidewall reads what is stamped on a tire's sidewall, and finds stamps
// that contradict each other.
//
//	stamps, err := sidewall.Parse("LT225/75R16 115/112Q load range E")
//	fmt.Println(stamps.SingleIndex.Load()) // 1215 kg
//	doubts := stamps.Doubts(65 * inflation.MilePerHour)
//
// [LoadIndex] and [SpeedSymbol] are the published lists. An empty list of
// doubts says only that nothing contradicts, never that a tire is sound.
package sidewall

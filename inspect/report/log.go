package report

import "log/slog"

// LogValue gives what a log line needs of a report, as a group: date, drive,
// not_judged and todo, which counts its entries. What a person wrote,
// such as the coach's name, stays out of logs.
func (r Report) LogValue() slog.Value {
	return slog.GroupValue(
		slog.String("date", r.Date.String()),
		slog.String("drive", r.Drive.String()),
		slog.Int("not_judged", r.NotJudged),
		slog.Int("todo", len(r.Todo)),
	)
}

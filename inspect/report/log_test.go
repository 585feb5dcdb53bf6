package report_test

import (
	"bytes"
	"log/slog"
	"os"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
)

func ExampleReport_LogValue() {
	report := report.Report{
		Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Coach: "stays out of it",
		Drive: report.MustNotMove, NotJudged: 17, Todo: make([]report.Item, 2),
	}
	plain := &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}}
	slog.New(slog.NewTextHandler(os.Stdout, plain)).Info("assessed", "report", report)
	// Output: level=INFO msg=assessed report.date=2026-10-03 report.drive="must not move" report.not_judged=17 report.todo=2
}

// A report in a log names no coach, by value and by pointer.
func TestLogNamesNoCoach(t *testing.T) {
	report := report.Report{Coach: "whose coach it is"}
	for _, v := range []any{report, &report} {
		var out bytes.Buffer
		slog.New(slog.NewJSONHandler(&out, nil)).Info("assessed", "report", v)
		if strings.Contains(out.String(), "whose") || !strings.Contains(out.String(), `"not_judged":0`) {
			t.Errorf("%T: %s", v, out.String())
		}
	}
}

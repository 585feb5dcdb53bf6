package sheet_test

import (
	"bytes"
	"flag"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/golden"
)

var update = flag.Bool("update", false, "write the pages of testdata/golden as they are now")

var styles = regexp.MustCompile(`(?s)<style>.*?</style>`)

// checkPage holds a page to the file that was read through when it was made. The
// style sheet of an HTML page is left out: it changes without a word.
func checkPage(t *testing.T, name, page string) {
	t.Helper()
	if strings.HasSuffix(name, ".html") {
		page = styles.ReplaceAllString(page, "<style></style>")
	}
	golden.Check(t, filepath.Join("testdata", "golden", name), page, *update)
}

func TestGoldenHistory(t *testing.T) {
	demo, six := demoHistory(t, "spring", "summer", "autumn"), sixVisits(t)
	checkPage(t, "history.txt", sheet.HistoryText(demo, sheet.TextOptions{}))
	checkPage(t, "history-full.txt", sheet.HistoryText(demo, sheet.TextOptions{Full: true}))
	checkPage(t, "history-six-visits.txt", sheet.HistoryText(six, sheet.TextOptions{}))
	checkPage(t, "history-40-columns.txt", sheet.HistoryText(six, sheet.TextOptions{Columns: 40}))
	var b bytes.Buffer
	if err := sheet.HistoryHTML(&b, demo); err != nil {
		t.Fatal(err)
	}
	checkPage(t, "history.html", b.String())
}

// The pages that are read through when they change: the demo, a coach with all that
// can be found on all tires, one of metric units, and one of which nothing was read.
var read = map[string]string{
	"demo": "../../examples/demo/visit.yaml", "bad": "testdata/three-axle.yaml", "metric": "testdata/metric.yaml", "empty": "testdata/empty.yaml",
}

func TestGoldenReports(t *testing.T) {
	for name, file := range read {
		r := demo(t, file)
		checkPage(t, name+".txt", sheet.Text(r, sheet.TextOptions{}))
		checkPage(t, name+"-full.txt", sheet.Text(r, sheet.TextOptions{Full: true}))
		checkPage(t, name+".html", render(t, r, sheet.HTMLOptions{OneSheet: true}))
		_, details, _ := strings.Cut(render(t, r, sheet.HTMLOptions{}), `<article class="sheet details"`)
		checkPage(t, name+"-details.html", details)
	}
}

// TestGoldenCalendar: a day made again replaces the one in somebody's calendar, so
// that what names it stays as it was.
func TestGoldenCalendar(t *testing.T) {
	var b bytes.Buffer
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	due := []report.Due{report.DueAt(day.AddDays(1), report.DueReplacement, "steer-left"), report.DueAt(day.AddDays(1), report.DueTorque)}
	if err := sheet.Calendar(&b, "an invented coach", day, due); err != nil {
		t.Fatal(err)
	}
	checkPage(t, "calendar.ics", strings.ReplaceAll(b.String(), "\r\n", "\n"))
}

package schemacheck

import (
	"bytes"
	"strings"
	"testing"

	ics "github.com/arran4/golang-ical"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// TestCalendarReadsBack: a parser that many use reads each thing that falls due,
// whatever a coach is called: its day, its words, a UID of its own. No line has more
// than 75 octets, and every line ends as RFC 5545 wants it.
func TestCalendarReadsBack(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 12, Day: 31}
	for _, coach := range []string{"", "an invented coach", `odd; name, with \ and "quotes"`, "Blåfjäll " + strings.Repeat("移動する家", 30), "two\nlines\r\nEND:VCALENDAR"} {
		made := dotcode.Date{Year: 2024, Month: 2, Day: 29}
		due := report.SortDue(append(report.DueOfAge("steer-left", dotcode.Age{Oldest: made, Youngest: made, On: day},
			[]report.AgeLimit{{Age: dotcode.Span{Years: 5}, Kind: report.DueInspection}, {Age: dotcode.Span{Years: 10}, Kind: report.DueReplacement}}),
			report.DueAt(day.AddDays(1), report.DueTorque), report.DueAt(day.AddDays(1), report.DueColdCheck), report.DueAt(day.AddDays(90), report.DueTread, "drive-left-inner", "drive-left-outer")))
		var b bytes.Buffer
		if err := sheet.Calendar(&b, coach, day, due); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			text, ended := strings.CutSuffix(line, "\r\n")
			if !ended || len(text) > 75 || strings.ContainsAny(text, "\r\n") {
				t.Errorf("%q: line %q of %d octets", coach, line, len(text))
			}
		}
		cal, err := ics.ParseCalendar(&b)
		if err != nil {
			t.Fatalf("%q: %v", coach, err)
		}
		events := cal.Events()
		if len(events) != len(due) {
			t.Fatalf("%q: %d events, want %d", coach, len(events), len(due))
		}
		ids := make(map[string]bool)
		for i, e := range events {
			start, err := e.GetAllDayStartAt()
			if err != nil || start.Format("2006-01-02") != due[i].On.String() {
				t.Errorf("%q: event %d starts at %v (%v), want %s", coach, i, start, err, due[i].On)
			}
			end, err := e.GetAllDayEndAt()
			if err != nil || end.Format("2006-01-02") != due[i].On.AddDays(1).String() {
				t.Errorf("%q: event %d ends at %v (%v)", coach, i, end, err)
			}
			summary := e.GetProperty(ics.ComponentPropertySummary)
			for _, at := range due[i].Where {
				if summary == nil || !strings.Contains(summary.Value, at) {
					t.Errorf("%q: %s is not in the words of event %d", coach, at, i)
				}
			}
			if about := e.GetProperty(ics.ComponentPropertyDescription); about == nil || !strings.Contains(about.Value, strings.Join(strings.FieldsFunc(coach, func(r rune) bool { return r == '\n' || r == '\r' }), " ")[:min(3, len(coach))]) || !strings.Contains(about.Value, "licensed people decide") {
				t.Errorf("%q: event %d says %+v", coach, i, about)
			}
			if id := e.Id(); id == "" || ids[id] {
				t.Errorf("%q: UID %q is none, or stands twice", coach, id)
			} else {
				ids[id] = true
			}
		}
	}
}

package sheet

import (
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"io"
	"strings"
	"unicode/utf8"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
)

// What a calendar says of each thing that falls due.
const (
	calendarProduct = "-//axleend.example//tire calendar//EN"
	calendarName    = "Tires of %s"
	calendarCaution = "Reckoned from the visit of %s. The day is the earliest. Local codes and trained, licensed people decide."
	calendarSource  = "Asked for by: %s."
	dueAtPlaces     = "%s: %s"
)

// dueWords say what is to be done, by its kind.
var dueWords = [...]string{
	report.DueColdCheck:   "Read all tires cold again, 24 hours after they were set",
	report.DueTorque:      "Check the wheel nuts again, 50 to 100 miles after a wheel was off",
	report.DueInspection:  "Have an expert inspect these tires every year, for their age",
	report.DueReplacement: "Replace these tires for their age",
	report.DueTread:       "Probe the tread: it can be at its limit",
	report.DueVisit:       "Weigh the coach again, and have all its tires looked at",
}

// dueText is what falls due, with its tires.
func dueText(d *report.Due) string {
	text := d.Kind.String()
	if int(d.Kind) < len(dueWords) && d.Kind > 0 {
		text = dueWords[d.Kind]
	}
	if len(d.Where) == 0 {
		return text
	}
	return fmt.Sprintf(dueAtPlaces, text, strings.Join(d.Where, ", "))
}

// Calendar writes what falls due as an iCalendar file (RFC 5545) of all-day events,
// which every calendar takes. coach may be empty; visit is the day that all is
// reckoned from, and the time stamp of the file, so that the same input gives the
// same bytes. The error is w's.
func Calendar(w io.Writer, coach string, visit dotcode.Date, due []report.Due) error {
	var b strings.Builder
	line := func(name, text string) { foldLine(&b, name+":"+text) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", calendarProduct)
	line("CALSCALE", "GREGORIAN")
	if coach != "" {
		line("NAME", calendarText(fmt.Sprintf(calendarName, coach)))
	}
	for i := range due {
		d := &due[i]
		summary := dueText(d)
		id := fnv.New128a() // the same entry again is the same event
		id.Write([]byte(coach + "\x00" + summary + "\x00" + d.On.String()))
		line("BEGIN", "VEVENT")
		line("UID", hex.EncodeToString(id.Sum(nil))+"@axleend.example")
		line("DTSTAMP", calendarDay(visit)+"T000000Z")
		line("DTSTART;VALUE=DATE", calendarDay(d.On))
		line("DTEND;VALUE=DATE", calendarDay(d.On.AddDays(1)))
		line("SUMMARY", calendarText(summary))
		about := fmt.Sprintf(calendarCaution, visit) + " " + fmt.Sprintf(calendarSource, d.Source)
		if coach != "" {
			about = coach + ". " + about
		}
		line("DESCRIPTION", calendarText(about))
		line("TRANSP", "TRANSPARENT")
		line("END", "VEVENT")
	}
	line("END", "VCALENDAR")
	_, err := io.WriteString(w, b.String())
	return err
}

// calendarDay is a DATE of RFC 5545, 3.3.4.
func calendarDay(d dotcode.Date) string { return fmt.Sprintf("%04d%02d%02d", d.Year, d.Month, d.Day) }

// calendarText escapes a TEXT of RFC 5545, 3.3.11.
func calendarText(s string) string {
	return strings.NewReplacer("\\", "\\\\", ";", "\\;", ",", "\\,", "\n", "\\n").Replace(plain(s))
}

// foldLine ends a line, and breaks it where it has more than 75 octets (RFC 5545,
// 3.1), never inside a character.
func foldLine(b *strings.Builder, s string) {
	const most = 75
	room := most
	for len(s) > room {
		cut := room
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		b.WriteString(s[:cut] + "\r\n ")
		s, room = s[cut:], most-1
	}
	b.WriteString(s + "\r\n")
}

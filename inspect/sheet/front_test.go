package sheet_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// entryHead is the number that an entry begins with.
var entryHead = regexp.MustCompile(`(?:^| )\d+\. `)

// TestWhatStopsIsNeverLeftOff: however much there is, all that stops the coach
// stands on the first page with every place it was found in.
func TestWhatStopsIsNeverLeftOff(t *testing.T) {
	for name, r := range everyReport(t) {
		text := words(page1(t, r))
		section, _, ok := strings.Cut(text, "Cold pressure to SET, one number")
		n := 0
		for _, it := range r.Todo {
			if !it.Stops {
				continue
			}
			n++
			named := slices.ContainsFunc(entryHead.Split(section, -1), func(entry string) bool {
				places, _, is := strings.Cut(entry+" ", ": "+it.What+". ")
				return is && (strings.Contains(places, it.Where) || strings.Contains(places, "every tire"))
			})
			if !named {
				t.Errorf("%s: no entry on the first page says %q of %s", name, it.What, it.Where)
			}
		}
		if !ok || r.Drive.Stops() != (n > 0) {
			t.Errorf("%s: %d entries stop the coach, and the report says %v", name, n, r.Drive.Stops())
		}
	}
}

// TestFrontThatRunsOverSaysSo: what fits on no side of paper is all there, and the
// page says at its top that it goes on.
func TestFrontThatRunsOverSaysSo(t *testing.T) {
	const goesOn = "Page 1 takes more than one side"
	r := demo(t, demos[0])
	if strings.Contains(page1(t, r), goesOn) {
		t.Error("a front that fits says that it does not")
	}
	stop := r.Todo[0]
	for i := range 90 {
		stop.What = fmt.Sprintf("Invented thing %d", i)
		r.Todo = append(r.Todo, stop)
	}
	text := words(page1(t, r))
	head, _, ok := strings.Cut(text, "What must not move, and what to do now")
	if !ok || !strings.Contains(head, goesOn) {
		t.Error("a front that runs over does not say so at its top")
	}
	for i := range 90 {
		if !strings.Contains(text, fmt.Sprintf("Invented thing %d.", i)) {
			t.Errorf("thing %d is left off", i)
		}
	}
}

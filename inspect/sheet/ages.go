package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
)

// agesAhead says on which day tires reach the next age at which a rule asks
// something, soonest first.
func (p *htmlPage) agesAhead() []string {
	type ahead struct {
		day, age string
		places   []string
	}
	var out []ahead
	for i := range p.r.Tires {
		t := &p.r.Tires[i]
		l, on := nextAge(t)
		if l == nil {
			continue
		}
		day, age := on.String(), l.Age.String()
		at := slices.IndexFunc(out, func(a ahead) bool { return a.day == day && a.age == age })
		if at < 0 {
			at = len(out)
			out = append(out, ahead{day: day, age: age})
		}
		out[at].places = append(out[at].places, t.At)
	}
	slices.SortStableFunc(out, func(a, b ahead) int { return strings.Compare(a.day, b.day) })
	lines := make([]string, len(out))
	for i, a := range out {
		lines[i] = fmt.Sprintf(sheetAge, a.day, a.age, strings.Join(a.places, ", "))
	}
	return lines
}

// nextAge is the age limit that a tire reaches next, and the day; nil where it is past
// all of them, or its age is not known.
func nextAge(t *report.TireLine) (*report.AgeLimit, dotcode.Date) {
	for i := range t.AgeLimits {
		l := &t.AgeLimits[i]
		if day, ok := l.On(t.Age); ok && t.Age.On.Before(day) {
			return l, day
		}
	}
	return nil, dotcode.Date{}
}

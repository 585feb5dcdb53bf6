package sheet

import (
	"fmt"
	"slices"
	"strings"
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
		for k := range t.AgeLimits {
			l := &t.AgeLimits[k]
			on, ok := l.On(t.Age)
			if !ok || !t.Age.On.Before(on) {
				continue
			}
			day, age := on.String(), l.Age.String()
			at := slices.IndexFunc(out, func(a ahead) bool { return a.day == day && a.age == age })
			if at < 0 {
				at = len(out)
				out = append(out, ahead{day: day, age: age})
			}
			out[at].places = append(out[at].places, t.At)
			break
		}
	}
	slices.SortStableFunc(out, func(a, b ahead) int { return strings.Compare(a.day, b.day) })
	lines := make([]string, len(out))
	for i, a := range out {
		lines[i] = fmt.Sprintf(sheetAge, a.day, a.age, strings.Join(a.places, ", "))
	}
	return lines
}

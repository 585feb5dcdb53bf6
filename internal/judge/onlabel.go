package judge

import (
	"axleend.example/rules"
)

// OnLabel reports whether a rule holds a load to a rating of the coach's label, which stays
// what it is.
func OnLabel(rule *rules.Rule) bool {
	m := MeasuresOf()
	for _, x := range [...]struct{ load, rating rules.MeasureRef }{
		{m.endLoad, m.endGAWR}, {m.axleLoad, m.AxleGAWR}, {m.groupLoad, m.groupGAWR}, {m.coachLoad, m.coachGVWR}, {m.comboLoad, m.comboGCWR},
	} {
		if rule.Measure() == x.load && rule.Uses(x.rating) {
			return AtMost(rule)
		}
	}
	return false
}

// AtMost reports whether a rule says what something may be at most.
func AtMost(rule *rules.Rule) bool {
	r := rule.Relation()
	return r == rules.AtMost || r == rules.LessThan
}

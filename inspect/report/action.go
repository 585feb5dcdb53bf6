package report

import "cmp"

// An Action is what kind of work something is, by its name in the vocabulary: one of
// those below, or one that a vocabulary extended by somebody adds.
type Action string

// The actions, the worst first. Do not drive stops the coach.
const (
	DoNotDrive Action = "do_not_drive"
	BeforeTrip Action = "before_trip"
	Plan       Action = "plan"
)

// Compare is below zero where a is worse than b, above zero where it is milder. Those
// of somebody's own are milder than [Plan], and equal to each other: a report has
// them in the order of their vocabulary. The empty name, nothing found, is the
// mildest.
func (a Action) Compare(b Action) int { return cmp.Compare(a.rank(), b.rank()) }

func (a Action) rank() int {
	switch a {
	case DoNotDrive:
		return 0
	case BeforeTrip:
		return 1
	case Plan:
		return 2
	case "":
		return 4
	}
	return 3
}

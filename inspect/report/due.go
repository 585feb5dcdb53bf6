package report

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// A DueKind says what falls due. The zero DueKind is none.
type DueKind uint8

// What falls due, in the order in which it stands on one day.
const (
	DueColdCheck DueKind = iota + 1
	DueTorque
	DueInspection
	DueReplacement
	DueTread
	DueVisit
)

var dues = word.List[DueKind]{Kind: "due", Words: []string{"", "cold check", "torque check", "yearly inspection", "replacement by age", "tread limit", "next visit"}, Unknown: ErrWord}

// String gives "cold check", "torque check", "yearly inspection", "replacement by
// age", "tread limit", "next visit" or "not known".
func (k DueKind) String() string { return dues.String(k) }

// AppendText appends the word. An unknown value is an error.
func (k DueKind) AppendText(dst []byte) ([]byte, error) { return dues.Append(dst, k) }

// MarshalText writes what [DueKind.AppendText] appends.
func (k DueKind) MarshalText() ([]byte, error) { return dues.Text(k) }

// UnmarshalText reads what [DueKind.MarshalText] writes; the error matches
// [ErrWord].
func (k *DueKind) UnmarshalText(text []byte) error { return dues.Read(k, text) }

// A Due is something that falls due on a day: the earliest, where the day is not
// sure.
type Due struct {
	// On is the day.
	On dotcode.Date `json:"on"`
	// Kind says what falls due.
	Kind DueKind `json:"kind"`
	// Where names the tires that it is about, none for the whole coach.
	Where []string `json:"where,omitempty"`
	// Source says who asks for it.
	Source origin.Source `json:"source"`
}

// An AgeLimit is an age at which a rule asks something of a tire.
type AgeLimit struct {
	// Age is that age: the rule asks from the day on which the tire can have it.
	Age dotcode.Span `json:"age"`
	// Until says that the day itself is still within the limit: the rule asks from the
	// next.
	Until bool `json:"until,omitzero"`
	// Kind is [DueReplacement], or [DueInspection] where the rule only asks for a plan:
	// that is due every year from then on.
	Kind DueKind `json:"kind"`
	// Source says who asks for it.
	Source origin.Source `json:"source"`
}

// On is the first day on which the limit is past, counted from the oldest day that the
// tire's number allows. ok is false where its age is not known, or the calendar ends
// before.
func (l *AgeLimit) On(age dotcode.Age) (day dotcode.Date, ok bool) {
	if !age.Known() {
		return dotcode.Date{}, false
	}
	day = age.Oldest.AddYears(l.Age.Years)
	for day.IsValid() { // at most a year and a month of days
		had := dotcode.Between(age.Oldest, day)
		if had.Years > l.Age.Years || had.Months > l.Age.Months || had.Months == l.Age.Months && had.Days >= l.Age.Days {
			break
		}
		day = day.AddDays(1)
	}
	if l.Until {
		day = day.AddDays(1)
	}
	return day, day.IsValid()
}

// A dueRule is one line of what falls due, with its source.
type dueRule struct {
	kind   DueKind
	source origin.Source
}

func dueRules() [DueVisit + 1]dueRule {
	practice := origin.Source{Grade: origin.CommonPractice}
	return [...]dueRule{
		DueColdCheck:   {DueColdCheck, practice},  // the day after they were set
		DueTorque:      {DueTorque, practice},     // after 50 to 100 miles, so from the next day on
		DueInspection:  {DueInspection, practice}, // a rule's own source counts
		DueReplacement: {DueReplacement, practice},
		DueTread:       {DueTread, origin.Source{Grade: origin.Computed, Title: "the pace of its wear"}},
		DueVisit:       {DueVisit, practice}, // once a year, weighing included
	}
}

// DueAt makes one thing that falls due, with its source.
func DueAt(on dotcode.Date, kind DueKind, where ...string) Due {
	return Due{On: on, Kind: kind, Where: where, Source: dueRules()[min(kind, DueVisit)].source}
}

// Due says what falls due after the visit, the soonest first: the cold check a day
// after tires were set (see [SetTo]), the torque check once wheels came off or where none is recorded
// since one was put on, the yearly inspection and the replacement of tires by their
// oldest possible age, and the next visit on the day that the visit gives, else within
// a year. What is due already stands in Todo and not here, but for the torque check.
func (r *Report) Due() []Due {
	var out []Due
	set, off := false, false
	var open []string
	for i := range r.Tires {
		t := &r.Tires[i]
		set = set || SetTo(t.Found, t.LeftAt)
		if t.TorqueOpen && t.Axle != "" {
			open = append(open, t.At)
		}
		out = append(out, DueOfAge(t.At, t.Age, t.AgeLimits)...)
	}
	for i := range r.Todo {
		off = off || r.Todo[i].WheelOff
	}
	if set {
		out = append(out, DueAt(r.Date.AddDays(1), DueColdCheck))
	}
	out = append(out, DueTorqueAfter(r.Date, off, open)...)
	out = append(out, DueVisitAfter(r.Date, r.NextVisit))
	return SortDue(out)
}

// SetTo reports whether a tire was set at a visit: left at another pressure than it was
// found at, or at one while nobody read what it was found at.
func SetTo(found, left record.Recorded[inflation.Pressure]) bool {
	to, ok := left.Get()
	was, read := found.Get()
	return ok && (!read || to != was)
}

// DueTorqueAfter says when wheel nuts are to be checked after a visit: those of every
// wheel where work that was advised takes one off, else those of the tires in open,
// whose wheels went on without a check since; nothing where there are none.
func DueTorqueAfter(visit dotcode.Date, off bool, open []string) []Due {
	switch {
	case off:
		open = nil
	case len(open) == 0:
		return nil
	}
	return []Due{DueAt(visit.AddDays(1), DueTorque, open...)}
}

// DueVisitAfter says when the next visit is due: on the day that was written down at
// the last, where that is later than the last, else a year after it.
func DueVisitAfter(visit dotcode.Date, next record.Recorded[dotcode.Date]) Due {
	if on, ok := next.Get(); ok && on.After(visit) {
		d := DueAt(on, DueVisit)
		d.Source.Title = "the last visit"
		return d
	}
	return DueAt(visit.AddYears(1), DueVisit)
}

// DueOfAge says when a tire is to be inspected next and when it is to be replaced
// for its age, by the limits that rules give, counted from the oldest day that its
// number allows; nothing where its age is not known, or where it is past the age at
// which it is to be replaced.
func DueOfAge(at string, age dotcode.Age, limits []AgeLimit) []Due {
	var replace, inspect dotcode.Date
	var by, from *AgeLimit
	for i := range limits {
		l := &limits[i]
		day, ok := l.On(age)
		switch {
		case !ok:
		case l.Kind == DueReplacement && (by == nil || day.Before(replace)):
			replace, by = day, l
		case l.Kind == DueInspection && (from == nil || day.Before(inspect)):
			inspect, from = day, l
		}
	}
	var out []Due
	if by != nil {
		if !age.On.Before(replace) {
			return nil
		}
		out = append(out, Due{On: replace, Kind: DueReplacement, Where: []string{at}, Source: by.Source})
	}
	if from == nil {
		return out
	}
	for inspect.IsValid() && !age.On.Before(inspect) { // every year from then on
		inspect = inspect.AddYears(1)
	}
	if inspect.IsValid() && (by == nil || inspect.Before(replace)) {
		out = append(out, Due{On: inspect, Kind: DueInspection, Where: []string{at}, Source: from.Source})
	}
	return out
}

// SortDue puts what is due on one day for one reason together, with all its places,
// the soonest first.
func SortDue(list []Due) []Due {
	var out []Due
	for _, d := range list {
		at := slices.IndexFunc(out, func(x Due) bool { return x.On == d.On && x.Kind == d.Kind && x.Source == d.Source })
		if at < 0 {
			out = append(out, Due{On: d.On, Kind: d.Kind, Where: slices.Clone(d.Where), Source: d.Source})
			continue
		}
		out[at].Where = append(out[at].Where, d.Where...)
	}
	slices.SortStableFunc(out, func(a, b Due) int {
		if c := a.On.Compare(b.On); c != 0 {
			return c
		}
		return int(a.Kind) - int(b.Kind)
	})
	return out
}

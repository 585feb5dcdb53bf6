package history

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inspect/report"
)

// Due says what falls due after the last visit, as [report.Report.Due] does, and on
// which day each tire that is on the coach can first be at a tread limit, at the
// pace it wore. A yearly inspection that was done is due a year after it.
func (h *History) Due() []report.Due {
	var out []report.Due
	last := h.Visits[len(h.Visits)-1].Date
	off, set := false, false
	var open []string
	for i := range h.Open {
		off = off || h.Open[i].Item.WheelOff
	}
	for i := range h.Tires {
		t := &h.Tires[i]
		if t.Presence != OnCoach {
			continue
		}
		if n := len(t.Sightings); n > 0 {
			seen := &t.Sightings[n-1]
			set = set || seen.Date == last && report.SetTo(seen.Found, seen.LeftAt)
			if seen.TorqueOpen {
				open = append(open, t.At)
			}
		}
		out = append(out, t.dueOfAge()...)
		if w, ok := t.Wear.Get(); ok && len(w.Limits) > 0 && last.Before(w.Limits[0].SoonestOn) {
			out = append(out, report.DueAt(w.Limits[0].SoonestOn, report.DueTread, t.At))
		}
	}
	if set {
		out = append(out, report.DueAt(last.AddDays(1), report.DueColdCheck))
	}
	out = append(out, report.DueTorqueAfter(last, off, open)...)
	out = append(out, report.DueVisitAfter(last, h.Visits[len(h.Visits)-1].NextVisit))
	return report.SortDue(out)
}

// dueOfAge is what [report.DueOfAge] says of a tire, an inspection a year after the last
// once it is old enough for one.
func (t *TireHistory) dueOfAge() []report.Due {
	due := report.DueOfAge(t.At, t.Age, t.AgeLimits)
	next, replace := t.InspectedOn.AddYears(1), dotcode.Date{}
	if t.InspectedOn.IsZero() || !t.Age.On.Before(next) {
		return due
	}
	for i := range due {
		switch {
		case due[i].Kind == report.DueReplacement:
			replace = due[i].On
		case due[i].Kind == report.DueInspection && t.inspectedFrom(next):
			due[i].On = next
		}
	}
	return slices.DeleteFunc(due, func(d report.Due) bool {
		return d.Kind == report.DueInspection && !replace.IsZero() && !d.On.Before(replace)
	})
}

// inspectedFrom reports whether a tire is old enough for a yearly inspection on a day.
func (t *TireHistory) inspectedFrom(day dotcode.Date) bool {
	return slices.ContainsFunc(t.AgeLimits, func(l report.AgeLimit) bool {
		from, ok := l.On(t.Age)
		return ok && l.Kind == report.DueInspection && !day.Before(from)
	})
}

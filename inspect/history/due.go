package history

import "axleend.example/inspect/report"

// Due says what falls due after the last visit, as [report.Report.Due] does, and on
// which day each tire that is on the coach can first be at a tread limit, at the
// pace it wore.
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
		out = append(out, report.DueOfAge(t.At, t.Age, t.AgeLimits)...)
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

package report

import "axleend.example/inflation"

// Axle returns the line of an axle by its ID, nil where the report has none.
func (r *Report) Axle(id string) *AxleLine {
	return find(r.Axles, func(l *AxleLine) bool { return l.ID == id })
}

// Load returns what an axle end, an axle, the coach or the combination carries, by
// its name ("drive-left", "drive", "coach"), nil where the report has none.
func (r *Report) Load(name string) *LoadLine {
	return find(r.Loads, func(l *LoadLine) bool { return l.Name == name })
}

// Setting returns the pressure to set across an axle, by the axle's ID, nil where it
// could not be asked of it. One that is there may still have no number: see its Outcome.
func (r *Report) Setting(axle string) *inflation.Setting {
	return find(r.Settings, func(s *inflation.Setting) bool { return s.Name == axle })
}

// Tire returns a tire by its place ("drive-left-inner", "spare"), nil where the report
// has none.
func (r *Report) Tire(at string) *TireLine {
	return find(r.Tires, func(l *TireLine) bool { return l.At == at })
}

// Pair returns the dual pair of an axle end, nil where it has none.
func (r *Report) Pair(end string) *PairLine {
	return find(r.Pairs, func(l *PairLine) bool { return l.Name == end })
}

// find returns the first line of a list that is the one, as it stands there.
func find[T any](list []T, is func(*T) bool) *T {
	for i := range list {
		if is(&list[i]) {
			return &list[i]
		}
	}
	return nil
}

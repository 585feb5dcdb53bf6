package loading

import "slices"

// Load returns what an end, an axle, a side or a whole carries, by its name
// ("drive-left", "coach", "left side"), nil where the report has none.
func (r *WeighReport) Load(name string) *WeighLine {
	i := slices.IndexFunc(r.Loads, func(l WeighLine) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return &r.Loads[i]
}

// Load returns what an end, an axle, a side or a whole carries, by its name
// ("drive-left", "coach", "left side"), nil where the report has none.
func (r *TripReport) Load(name string) *TripLine {
	i := slices.IndexFunc(r.Loads, func(l TripLine) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return &r.Loads[i]
}

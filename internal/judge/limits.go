package judge

import (
	"strings"

	"axleend.example/inflation"
	"axleend.example/rules"
	"axleend.example/weight"
)

// Of returns what a set carries: as weighed, or at a stage of a plan.
type Of func(weight.Set) weight.Estimate

// LoadsOf are the measures of a kind of subject that say what it carries.
func (m *Measures) LoadsOf(subject string) []rules.MeasureRef {
	switch subject {
	case "end":
		return []rules.MeasureRef{m.endLoad}
	case "axle":
		return []rules.MeasureRef{m.axleLoad}
	case "group":
		return []rules.MeasureRef{m.groupLoad}
	case "coach":
		return []rules.MeasureRef{m.coachLoad}
	case "combination":
		return []rules.MeasureRef{m.comboLoad, m.TowedLoad}
	case "tire":
		return []rules.MeasureRef{m.Load}
	}
	return nil
}

// Carried is one of these measures as a fact, by what the set carries; of a tire
// the set is its axle end, which a pair shares alike.
func (a *Assessment) Carried(measure rules.MeasureRef, on weight.Set, of Of) rules.Value {
	e := of(on)
	switch measure {
	case a.Refs.TowedLoad:
		return a.towedLoad(e)
	case a.Refs.endLoad, a.Refs.Load:
		axle := on.Axles()[0]
		share := func(e weight.Estimate) weight.Estimate {
			if measure == a.Refs.Load {
				return a.OnOne(axle, e)
			}
			return e
		}
		if !weighed(e) && a.asDriven && !weighed(of(weight.EndOf(axle, weight.Left))) && !weighed(of(weight.EndOf(axle, weight.Right))) {
			if whole := of(weight.AxleOf(axle)); whole.Known() {
				return loadValue(share(whole)).OrLess()
			}
		}
		return a.load(share(e))
	}
	return a.load(e)
}

// AsDriven reports whether the coach was weighed as it is driven, not long ago.
func (a *Assessment) AsDriven() bool { return a.asDriven }

// Bounds reports whether a finding is on the most that something may carry, and
// gives that: where the bound is an interval the least of it. Where air is what the
// rule asks for, it is about a pressure, and no limit of a load.
func Bounds(f *rules.Finding) (most weight.Mass, known, is bool) {
	if !AtMost(f.Rule) || f.Rule.Involves(Air) {
		return 0, false, false
	}
	low, _, known := f.Bound().Interval()
	return weight.Mass(low), known, true
}

// LimitNeed is [Assessment.Need] for a rule on a load: of a tire that the visit does
// not list, what is missing by itself.
func (a *Assessment) LimitNeed(f *rules.Finding, measure string) (where, need, rule string) {
	if f.Rule.Subject() == "tire" && measure != "load" && !a.TireNamed(f.Name).Written {
		return f.Name, needText(a.Refs.tire.needs, measure), f.Rule.Name()
	}
	return a.Need(f, measure)
}

// RatingName says in words which rating a rule on a load holds it to.
func (a *Assessment) RatingName(f *rules.Finding, most weight.Mass) string {
	switch r := f.Rule; {
	case r.Subject() == "tire" && r.Uses(a.Refs.Capacity):
		return "tire capacity"
	case r.Subject() == "tire" && r.Uses(a.Refs.WheelCapacity):
		return "wheel rating"
	case r.Measure() == a.Refs.TowedLoad:
		for _, m := range r.Measures() {
			if name := m.Measure().Name; strings.HasSuffix(name, "_rating") || strings.HasSuffix(name, "_gvwr") {
				return strings.ReplaceAll(name, "_", " ")
			}
		}
	}
	return a.ratingName(f, most)
}

// endLimits are what the rules let an end of an axle carry, as its pressure takes
// them.
func (a *Assessment) endLimits(axle int) []inflation.Limit {
	var out []inflation.Limit
	var found []rules.Finding
	for k, side := range [...]weight.Side{weight.Left, weight.Right} {
		if k > 0 && a.Own == nil {
			break // what is held against is the axle's
		}
		line, end := &a.Report.Loads[2*axle+k], a.facts.end
		end.Reset(line.Name)
		a.Refs.end.fill(a, endOf{axle, side, line}, end)
		a.own(end)
		found, _, _ = a.Program.AppendNotKept(found[:0], end, a.Refs.endLoad) // facts that do not fit are said once they are judged
		for i := range found {
			f := &found[i]
			most, known, is := Bounds(f)
			if !is || !known || f.Rule.Measure() != a.Refs.endLoad {
				continue
			}
			l := inflation.Limit{Part: inflation.OtherRating, Name: a.ofAxle(f, most, axle), Load: most}
			if len(out) == 0 || out[len(out)-1] != l {
				out = append(out, l)
			}
		}
	}
	return out
}

// ofAxle names a rating of an end: "half of steer GAWR".
func (a *Assessment) ofAxle(f *rules.Finding, most weight.Mass, axle int) string {
	name, id := a.ratingName(f, most), a.Visit.Axles[axle].ID
	switch part, gawr := strings.CutSuffix(name, "GAWR"); {
	case !gawr:
		return name + ", " + id
	case part == "":
		return id + " GAWR"
	default:
		return strings.TrimSuffix(strings.TrimSuffix(part, " "), " of") + " of " + id + " GAWR"
	}
}

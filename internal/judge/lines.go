package judge

import (
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// axleLines lists the axles, with the table rows that their settings rest on.
func (a *Assessment) axleLines() {
	lines := make([]report.AxleLine, len(a.Visit.Axles))
	a.Report.Axles = lines
	for i, ax := range a.Visit.Axles {
		lines[i] = report.AxleLine{ID: ax.ID, Role: a.Layout.Roles[i], Fitment: ax.Fitment}
		st := a.tableTire(i)
		if st == nil {
			continue
		}
		for j := range i {
			if other := a.tableTire(j); other != nil && other.Fitted.Table == st.Fitted.Table &&
				other.Options.LoadRange == st.Options.LoadRange && lines[j].Fitment == ax.Fitment {
				lines[i].Rows = lines[j].Rows // most coaches run on one table
			}
		}
		if lines[i].Rows == nil {
			lines[i].Rows = a.allowedRows(st.Fitted.Table, ax.Fitment, st.Options.LoadRange)
		}
	}
}

// tableTire is the tire whose table an axle's setting rests on: that with the
// highest need, else the first that has one; nil if none has.
func (a *Assessment) tableTire(axle int) *TireState {
	var first *TireState
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.AxleIndex != axle || st.Fitted.Table == nil {
			continue
		}
		if st.Setting != nil && st.Setting.Tire == st.Name {
			return st
		}
		if first == nil {
			first = st
		}
	}
	return first
}

func (a *Assessment) allowedRows(t *inflation.Table, fit weight.Fitment, lr inflation.LoadRange) []inflation.Row {
	lowest, highest, err := t.Range(fit, lr)
	if err != nil {
		return nil // no row is allowed; the setting says so
	}
	var out []inflation.Row
	for r := range t.Rows(fit) {
		if r.Pressure >= lowest.Pressure && r.Pressure <= highest.Pressure {
			out = append(out, r)
		}
	}
	return out
}

// addRating puts a verdict on a load beside that load.
func (a *Assessment) addRating(l *report.LoadLine, f *rules.Finding) {
	low, _, ok := f.Bound().Interval()
	if r := f.Rule.Relation(); !ok || r != rules.AtMost && r != rules.LessThan {
		return // a load may have to be at least so much, too: that is no rating
	}
	l.Ratings = append(l.Ratings, report.RatingLine{Rule: f.Rule.Name(), Name: a.ratingName(f, weight.Mass(low)),
		Rating: weight.Mass(low), Room: weight.Mass(low) - l.Estimate.AtMost(), Verdict: f.Verdict})
}

// ratingName says in words which rating a rule on a load holds it to, and whether
// to the whole of it.
func (a *Assessment) ratingName(f *rules.Finding, most weight.Mass) string {
	var name [3]string // the whole, half, another share
	switch r := f.Rule; {
	case !f.Of.Recorded(): // it may ask for a rating, but is no share of one
		return r.Title()
	case r.Uses(a.Refs.endGAWR), r.Uses(a.Refs.AxleGAWR):
		name = [...]string{"GAWR", "half GAWR", "share of GAWR"}
	case r.Uses(a.Refs.coachGVWR):
		name = [...]string{"GVWR", "half GVWR", "share of GVWR"}
	case r.Uses(a.Refs.comboGCWR):
		name = [...]string{"GCWR", "half GCWR", "share of GCWR"}
	default:
		return r.Title()
	}
	switch of, _, _ := f.Of.Interval(); int64(most) {
	case of:
		return name[0]
	case of / 2:
		return name[1]
	}
	return name[2]
}

// AboutRunLow reports whether a rule condemns a tire for the pressure that it
// was driven at.
func (a *Assessment) AboutRunLow(r *rules.Rule) bool {
	m, by := r.Measure(), &a.Refs.runLowBy
	return (m == by[0] || m == by[1] || m == by[2]) && r.Action().Stops
}

// TireNamed is the tire of that name, or nil.
func (a *Assessment) TireNamed(name string) *TireState {
	for i := range a.Tires {
		if a.Tires[i].Name == name {
			return &a.Tires[i]
		}
	}
	return nil
}

// Need says what has to be written down so that a rule can be judged.
func (a *Assessment) Need(f *rules.Finding, measure string) (where, need, rule string) {
	rule = f.Rule.Name()
	switch f.Rule.Subject() {
	case "tire":
		return a.TireNeed(a.TireNamed(f.Name), measure, rule)
	case "end", "axle":
		if measure == "load" {
			return f.Name, "its load: weigh it", rule
		}
		if measure == "gawr" {
			name := strings.TrimSuffix(f.Name, "-"+weight.Left.String())
			return strings.TrimSuffix(name, "-"+weight.Right.String()), "its GAWR, from the ratings label", rule
		}
		if measure == "tire_capacity" {
			return f.Name, "the maximum load on the sidewalls of all its tires", rule
		}
		if measure == "mixed_size" {
			return f.Name, "the size of all its tires", rule
		}
		if measure == "mixed_construction" {
			return f.Name, "the construction of all its tires", rule
		}
	case "coach", "combination":
		if measure == "load" {
			return f.Name, "its load: weigh it", rule
		}
		return f.Name, "its " + strings.ToUpper(measure) + ", from the ratings label", rule
	case "dual_pair":
		switch measure {
		case "tread_difference", "deeper_inside":
			return f.Name, "the tread depth of both tires", rule
		case "same_size":
			return f.Name, "the size of both tires", rule
		case "same_construction":
			return f.Name, "the construction of both tires", rule
		}
	}
	return f.Name, strings.ReplaceAll(measure, "_", " "), rule
}

// pressureNeed says what reading is missing, and why the one there is will not
// do.
func (st *TireState) pressureNeed() string {
	at, _ := st.ReadAt.Get()
	switch found, ok := st.Found.Get(); {
	case at == record.NotReached:
		return "its cold pressure, read at the stem: its valve could not be reached"
	case ok && at == record.ThroughExtension && found == 0:
		return "its cold pressure, read at the stem: a 0 through an extension proves nothing"
	case ok && record.Yes(st.Hot):
		return "its pressure once it is cold and in the shade; a hot reading clears no tire"
	}
	return "its cold pressure, read at the stem"
}

// whyOpen says why it cannot be told from the lowest pressure whether a tire
// ran low; it is empty where that is known, and for a spare.
func (st *TireState) whyOpen(lowest record.Recorded[inflation.Pressure]) string {
	at, _ := st.ReadAt.Get()
	found, ok := st.Found.Get()
	switch {
	case lowest.Is() || st.AxleIndex < 0:
		return ""
	case at == record.NotReached:
		return "its valve could not be reached"
	case !ok:
		return "nobody read it"
	case at == record.ThroughExtension && found == 0:
		return "a 0 through an extension proves nothing; read it at the stem"
	case record.Yes(st.Hot):
		return "it was not cold (hot, in the sun, or driven within 3 h), which clears no tire"
	}
	return "air was added, and the lowest pressure it was driven at is not known"
}

// orStamp adds to a table that is missing what else would do: nothing for a
// passenger or trailer tire, nor where the sidewall was read.
func (a *Assessment) orStamp(st *TireState) string {
	switch c, _ := st.Class.Get(); {
	case a.Stamped(st).Is(), c == inflation.Passenger, c == inflation.Trailer:
		return ""
	}
	return ", or the sidewall's maximum load"
}

func (a *Assessment) TireNeed(st *TireState, measure, rule string) (string, string, string) {
	if !st.Written && measure != "load" && measure != "to_set" {
		return st.Name, notWritten, rule
	}
	switch {
	case st.Position == nil && (measure == "load" || measure == "load_alone" || measure == "to_set"):
		return st.Name, "what it is to carry: it is on no wheel position", rule
	case st.Mate < 0 && measure == "load_alone":
		return st.Name, "what it carries beside a dual mate: it has none", rule
	}
	pressure := st.pressureNeed()
	switch measure {
	case "load", "load_alone":
		return a.Layout.EndNames[st.AxleIndex][st.Position.Side-weight.Left], "its load: weigh it", rule
	case "mate_run_low": // what is not known of the mate
		return a.TireNeed(&a.Tires[st.Mate], "run_low", rule)
	case "found":
		return st.Name, pressure, rule
	case "lowest", "run_low":
		if record.Yes(st.AirAdded) {
			return st.Name, "the lowest pressure it was driven at, before air was added", rule
		}
		return st.Name, pressure, rule
	case "capacity_as_found":
		if !st.Usable.Is() || record.Yes(st.Hot) {
			return st.Name, pressure, rule
		}
		return st.Name, "a table that reaches down to the pressure found" + a.orStamp(st), rule
	case "capacity":
		return st.Name, "the maximum load and pressure on its sidewall, for its fitment", rule
	case "wheel_capacity":
		return st.Name, "the maximum load and pressure stamped on its wheel", rule
	case "most_pressure":
		return st.Name, "the maximum pressure on its sidewall", rule
	case "target":
		return st.Name, "the pressure it was last set to, or the placard's", rule
	case "to_set":
		return a.Visit.Axles[st.AxleIndex].ID, "a pressure to set: see the axle", rule
	case "capacity_as_left":
		return st.Name, "a table that reaches down to the pressure it was left at" + a.orStamp(st), rule
	case "tread":
		return st.Name, "its tread depth", rule
	case "class":
		return st.Name, "the class of its size: passenger, light truck, truck or trailer", rule
	case "injury_at":
		return st.Name, "where the hole is: in the crown, a shoulder or a sidewall", rule
	case "age":
		return st.Name, "its date code (look on both sidewalls)", rule
	}
	if conditionMeasures()[measure] {
		if st.Seen.Is() {
			return st.Name, "a look at the sidewall that was not looked at", rule
		}
		return st.Name, "a look at both sidewalls, tread, valve and wheel", rule
	}
	return st.Name, strings.ReplaceAll(measure, "_", " "), rule
}

// SizesMeasured reports whether both tires of a pair were measured alike.
func (a *Assessment) SizesMeasured(end string) bool {
	outer, inner := a.TireNamed(end+"-outer"), a.TireNamed(end+"-inner")
	if outer == nil || inner == nil {
		return false
	}
	return outer.Diameter.Is() && inner.Diameter.Is() || outer.Circumference.Is() && inner.Circumference.Is()
}

// SoundTire gives the facts of a tire that did not run low, nor its mate.
func (a *Assessment) SoundTire(st *TireState) *rules.Facts {
	facts := a.facts.tire[0]
	facts.Reset(st.Name)
	a.TireFacts(st, facts)
	return facts.SetFlags(a.Ran, 0)
}

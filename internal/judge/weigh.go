package judge

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func answer(r record.Recorded[bool]) weight.YesNo {
	v, ok := r.Get()
	switch {
	case !ok:
		return weight.NotSaid
	case v:
		return weight.Yes
	}
	return weight.No
}

// scale is what the visit says of the scale, and of how the coach stood on it.
func (a *Assessment) scale() weight.Scale {
	w := &a.Visit.Weighing
	asDriven := func(own record.Recorded[bool]) record.Recorded[bool] {
		if record.Yes(w.AsDriven) { // a no says not of what
			return own.Or(w.AsDriven)
		}
		return own
	}
	kind, _ := w.Scale.Get()
	division, _ := w.Division.Get()
	if a.doubtful(ofCoach("division")) {
		division = max(division, weight.UsualDivision)
	}
	return weight.Scale{Kind: kind, Division: division, Stance: weight.Stance{
		Level: answer(w.Level), RideHeight: answer(w.RideHeight),
		LevelersUp: answer(w.LevelersUp), SlidesIn: answer(w.SlidesIn),
		Tanks: answer(asDriven(w.TanksAsDriven)), Fuel: answer(asDriven(w.FuelAsDriven)), People: answer(asDriven(w.PeopleAsDriven)), Hitched: answer(w.Hitched),
	}}
}

// Weigh solves the readings.
func (a *Assessment) Weigh() error {
	v, w := a.Visit, &a.Visit.Weighing
	if len(w.Readings) == 0 {
		return nil
	}
	rig := weight.Rig{System: v.System, Axles: make([]weight.Axle, len(v.Axles))}
	for i := range v.Axles {
		ax := &v.Axles[i]
		behind, _ := ax.Behind.Get()
		rig.Axles[i] = weight.Axle{ID: ax.ID, Fitment: ax.Fitment, Towed: ax.Towed, Behind: behind}
	}
	fit(&v.Trip, &rig)
	scale := a.scale()
	readings := a.readings()
	if len(readings) == 0 {
		return nil
	}
	sol, err := weight.Solve(rig, readings, scale)
	if err != nil {
		var ps origin.Problems
		ps.Add(origin.Problem{Path: "weighing", Code: strictyaml.CodeValue, Err: err})
		return ps.Err()
	}
	for _, r := range sol.Rejected() {
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "A scale reading that cannot be",
			Found: r.Error(), Advice: "Check the slip and weigh again.", Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	for _, c := range sol.Conflicts() {
		a.doubt.weighing = true
		advice := "Check the slip and the positions on the plate, and weigh again."
		if c.OddOneOut != "" {
			advice = fmt.Sprintf("Without %q the others agree: read or weigh that one again.", c.OddOneOut)
		}
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: "weighing", What: "Scale readings contradict each other",
			Found: c.Error(), Advice: advice, Sources: []origin.Source{{Grade: origin.Computed}}})
	}
	residuals := sol.Residuals()
	a.Report.Readings = slices.Grow(a.Report.Readings, len(residuals))
	for _, r := range residuals {
		a.Report.Readings = append(a.Report.Readings, report.ReadingLine{Name: r.Name, Load: r.Load, Tolerance: r.Tolerance, Residual: r.Off})
	}
	for _, c := range sol.Cautions() {
		a.Caution(c.String())
	}
	if share, ok := w.HeavierShare.Get(); ok {
		if sol, err = sol.Assume(share); err != nil {
			var ps origin.Problems
			ps.Add(origin.Problem{Path: "weighing.heavier_share", Code: strictyaml.CodeValue, Err: err})
			return ps.Err()
		}
	}
	a.Solution = sol
	return nil
}

// readings are what the scale showed, as it is solved, but for what counts as not read.
func (a *Assessment) readings() []weight.Reading {
	w := &a.Visit.Weighing
	out := make([]weight.Reading, 0, len(w.Readings))
	for i := range w.Readings {
		r := &w.Readings[i]
		if a.doubtful(readingKey(i)) || r.Load == 0 && a.raised(r.On) {
			continue
		}
		read := weight.Reading{Name: r.Name, Load: r.Load}
		if read.Name == "" {
			read.Name = strings.Join(r.On, " + ")
		}
		for _, on := range r.On {
			set, _ := a.Layout.PlaceNamed(on) // checked
			read.On |= set
		}
		a.ByWheel = a.ByWheel || a.Layout.Splits(read.On)
		read.Tolerance, _ = r.Tolerance.Or(w.Tolerance).Get()
		out = append(out, read)
	}
	return out
}

// raised reports whether all that stood on the plate was said to be raised off it.
func (a *Assessment) raised(on []string) bool {
	off := weight.Set(0)
	for _, axle := range a.Visit.Weighing.Raised {
		set, _ := a.Layout.PlaceNamed(axle) // checked
		off |= set
	}
	return !slices.ContainsFunc(on, func(place string) bool {
		set, _ := a.Layout.PlaceNamed(place)
		return set&^off != 0
	})
}

// expect finds what the coach will carry after the changes for the trip, so that
// pressures are set for the heaviest state that is driven.
func (a *Assessment) expect() {
	t := &a.Visit.Trip
	if len(a.Visit.Weighing.Readings) == 0 {
		return
	}
	changes, err := plannedChanges(t, a.Visit.System)
	if err == nil {
		coupled := a.Hitching()
		if changes = append(changes, coupled...); len(changes) == 0 {
			return
		}
		a.coupled = len(coupled) > 0
		a.Trip, err = cargo.PlanTrip(a.Solution, cargo.Stage{Name: "after the changes", Changes: changes})
	}
	if err != nil {
		a.Gap("trip", "what the coach carries after the changes: "+OneLine(err), "")
		a.coupled = false
		return
	}
	a.Changes = true
	for _, c := range a.Trip.Cautions() {
		a.Caution(c.String())
	}
}

// Hitching is what coupling adds to a coach that was weighed without the trailer
// hitched: what rests on the hitch goes from the trailer's axles to the coach.
// It counts where nobody said whether it was hitched, too. There is nothing to add where
// somebody weighed them hitched, behind a tow bar, and where the weight or the place of
// the hitch is not known.
func (a *Assessment) Hitching() []cargo.Change {
	tongue, weighed := a.Visit.Towing.Tongue.Get()
	if record.Yes(a.Visit.Weighing.Hitched) || !weighed || tongue <= 0 {
		return nil
	}
	changes, err := cargo.Hitching(a.Solution, tongue)
	if err != nil {
		return nil // see hitchMissing
	}
	for i := range changes {
		changes[i].At.Name = "" // what a place holds is not counted
	}
	a.Caution(a.TongueCaution())
	return changes
}

// TongueCaution says how what rests on the hitch was counted.
func (a *Assessment) TongueCaution() string {
	if a.Visit.Weighing.Hitched.Is() {
		return CautionTongue
	}
	return cautionNotSaid
}

// hitchMissing reports whether the coach was weighed without the trailer that it
// pulls and what rests on the hitch could not be counted, or whether nobody said that it
// was hitched: it weighs at least what the scale showed. As driven says nothing of a
// trailer. A car on a tow bar rests on nothing.
func (a *Assessment) hitchMissing() bool {
	hitched, said := a.Visit.Weighing.Hitched.Get()
	tows, _ := a.Visit.Tows.Get()
	coupling, _ := a.Visit.Trip.Coupling.Get()
	return !hitched && !(said && a.coupled) && a.towedWritten() && tows != record.TowsCar && coupling != weight.TowBar
}

// towedWritten reports whether anything written down is towed: a towed axle, what rests
// on the hitch, or what is towed.
func (a *Assessment) towedWritten() bool {
	what, said := a.Visit.Tows.Get()
	if said && what == record.TowsNothing {
		return a.Layout.All != a.Layout.Coach
	}
	tongue, _ := a.Visit.Towing.Tongue.Get()
	return a.Layout.All != a.Layout.Coach || a.tows() || tongue > 0
}

// towsNothing reports whether somebody wrote down that the coach tows nothing, and nothing
// says otherwise.
func (a *Assessment) towsNothing() bool {
	what, said := a.Visit.Tows.Get()
	return said && what == record.TowsNothing && a.Layout.All == a.Layout.Coach
}

// tows reports whether somebody wrote down that the coach tows something.
func (a *Assessment) tows() bool {
	what, said := a.Visit.Tows.Get()
	return said && what != record.TowsNothing
}

// heaviest is the most that an axle and its ends carry, as weighed or after the
// changes; nothing where the changes add to none of them. An end that they lighten
// counts as weighed: from the two others it would come with the doubt of both.
func (a *Assessment) heaviest(axle int) inflation.AxleLoad {
	left, i := a.Trip.Heaviest(weight.EndOf(axle, weight.Left))
	right, j := a.Trip.Heaviest(weight.EndOf(axle, weight.Right))
	total, k := a.Trip.Heaviest(weight.AxleOf(axle))
	if max(i, j, k) == 0 {
		return inflation.AxleLoad{}
	}
	return inflation.AxleLoad{Left: inflation.LoadOf(left), Right: inflation.LoadOf(right), Total: inflation.LoadOf(total)}
}

// plannedChanges are the changes for the trip as weight takes them. Stations have no
// names there: what a place holds is not counted.
func plannedChanges(t *record.Trip, system weight.System) ([]cargo.Change, error) {
	out := make([]cargo.Change, len(t.Changes))
	for i, c := range t.Changes {
		m, err := c.Mass(system)
		if err != nil {
			return nil, err
		}
		out[i] = cargo.Change{Name: c.Name, Mass: m}
		for _, s := range t.Stations {
			if s.Name == c.At {
				out[i].At = cargo.Station{Behind: s.Behind, Offset: weight.Length(s.Offset), Towed: s.Towed}
			}
		}
	}
	return out, nil
}

// fit adds to a rig what the trip says about the coach's geometry.
func fit(t *record.Trip, rig *weight.Rig) {
	rig.Track, _ = t.Track.Get()
	rig.Coupling, _ = t.Coupling.Get()
	rig.Hitch, _ = t.Hitch.Get()
}

package judge

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation/caution"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
)

// finish turns findings into the report's lists.
func (a *Assessment) finish() {
	rep := &a.Report
	a.asks()
	a.Settle()
	for i := range rep.Todo {
		it := &rep.Todo[i]
		// The worst comes first: an action that is there already stays.
		if st := a.TireNamed(it.Where); st != nil && st.Line.Worst == "" {
			st.Line.Worst = it.Action
		}
		if pair := rep.Pair(it.Where); pair != nil && pair.Worst == "" {
			pair.Worst = it.Action
		}
	}
	rep.Drive = a.drive()
	rep.Slowest = a.slowest()
	rep.NotJudged = len(rep.Unjudged)
	for i := range rep.Unjudged {
		if !rep.Unjudged[i].Hidden {
			rep.CanRead++
		}
	}
	a.sayCautions()
	rep.Cautions = a.Cautions
	rep.Packs = a.Program.Packs()
}

// sayCautions adds the report's cautions, the weightiest last: a short page keeps
// the last ones.
func (a *Assessment) sayCautions() {
	rep := &a.Report
	a.sayOfSettings()
	monitor := func(st TireState) bool { return st.LowAlarm.Is() || st.SensorReading.Is() || st.SensorFitted.Is() }
	if slices.ContainsFunc(a.Tires, monitor) {
		a.Caution("A monitor's warning lamp is no proof of pressure: where the law asks for one (up to 10,000 lb, no duals), it need not light before 25 % below the placard (49 CFR 571.138 S4.2(a)); a tire counts as flat at 20 % below. Read every tire cold, with a gauge.")
	}
	read, aged := false, false
	for i := range rep.Tires {
		read, aged = read || rep.Tires[i].Found.Is(), aged || rep.Tires[i].Age.Known()
	}
	if read && !a.Visit.GaugeTolerance.Is() {
		a.Caution("The gauge's tolerance was not written down: pressures were judged as if it read exactly.")
	}
	if aged {
		a.Caution(dotcode.Caution)
	}
	if a.Changes {
		a.Caution("A pressure to set holds for the load as weighed, with the changes planned for the trip, and for no heavier one. Weigh again once they are made.")
	} else if len(rep.Settings) > 0 {
		a.Caution("A pressure to set holds for the load as weighed and for no heavier one.")
	}
	// A pack's rule says it in the list of what is to be done; packs without
	// one leave it to this caution.
	if off, _ := a.wheelOff(); (rep.Drive.Stops() || off) && !slices.ContainsFunc(a.Findings, func(f rules.Finding) bool { return f.Rule.Measure() == a.Refs.CoachWheelOff }) {
		a.Caution(CautionWheelOff)
	}
	a.Caution("A pressure is cold once the coach has stood three hours, out of the sun. Never bleed a hot tire (common practice).")
	if rep.Drive.Stops() {
		a.Caution(CautionBurst)
	}
	a.Caution("Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
}

// sayOfSettings adds the cautions about one axle's pressure.
func (a *Assessment) sayOfSettings() {
	for i := range a.Report.Settings {
		s := &a.Report.Settings[i]
		for c := range s.Cautions.All() {
			if c != caution.ColdOnly && c != caution.ThisLoadOnly { // said once for all axles
				a.Caution(s.Name + ": " + c.Text())
			}
		}
	}
}

// drive is the one answer to whether the coach may drive.
func (a *Assessment) drive() report.Drive {
	answer := report.NothingFound
	if a.Report.Kept == 0 {
		answer = report.BeforeTheTrip // nothing was looked at
	}
	return DriveOf(answer, a.Report.Todo)
}

// DriveOf is the worse of an answer and of what has to be done: what is wrong with a
// spare keeps no coach from driving.
func DriveOf(answer report.Drive, todo []report.Item) report.Drive {
	for i := range todo {
		it := &todo[i]
		switch {
		case it.Stops && it.OnlyAir:
			answer = min(answer, report.NotAtThisPressure)
		case it.Stops:
			return report.MustNotMove
		case it.Action != report.Plan && !record.IsSpare(it.Where):
			answer = min(answer, report.BeforeTheTrip)
		}
	}
	return answer
}

const needFacing = "a look at the sidewalls of duals that face each other"

// asks lists what nobody wrote down, once for all tires together.
func (a *Assessment) asks() {
	warm, told := a.toldOfAir()
	facing, makes := a.toldOfDuals()
	if !warm {
		a.Gap("coach", "whether its tires were cold when they were read (cold: yes)", "")
	}
	if !told {
		a.Gap("coach", "whether air was added, a low-pressure alarm came, or a tire was read lower since they were last set (nothing_since_set: yes)", "")
	}
	if !facing {
		a.Gap("coach", needFacing, "")
	}
	if !makes {
		a.Gap("coach", "the make and model of duals, and which are retreads, or how large each measures", "")
	}
	if !a.lowRules {
		a.Gap("coach", "whether a tire ran low: not judged by these packs", "")
	}
	for i := range a.Tires { // those of a spare keep no coach from driving
		st := &a.Tires[i]
		if seen, _ := st.Seen.Get(); st.AxleIndex >= 0 && a.Counts(st) && seen.Has(condition.WeatherCracking) && !st.CrackDepth.Is() {
			a.Gap(st.Name, needCracks, "")
		}
	}
	if a.towingUnjudged() {
		a.Gap("combination", "whether hitch, ball mount, tow bar and coupler are good for what is towed: not judged by these packs (packs: towing)", "")
	}
}

// towingUnjudged reports whether somebody wrote down what a part of the hitch is rated
// for, and no rule looks at what is towed.
func (a *Assessment) towingUnjudged() bool {
	t := &a.Visit.Towing
	if !t.Hitch.Is() && !t.HitchTongue.Is() && !t.BallMount.Is() && !t.TowBar.Is() && !t.Coupler.Is() && !t.GVWR.Is() {
		return false
	}
	return !a.Program.Has(func(r *rules.Rule) bool {
		name := r.Measure().Measure().Name
		return r.Subject() == "combination" && (name == "towed_load" || name == "towed_on_axles" || name == "tongue")
	})
}

// toldOfAir tells, of all tires on the road that were read, whether the visit says
// that each was cold or hot, and whether it says that each was lower since it was
// last set.
func (a *Assessment) toldOfAir() (warm, lower bool) {
	warm, lower = true, true
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.AxleIndex < 0 || !a.Counts(st) || !st.Usable.Is() {
			continue
		}
		warm = warm && st.Warm.Is()
		lower = lower && (st.LowestDriven.Is() || a.airAdded(st).Is() && st.LowAlarm.Is() || record.Yes(a.Visit.NothingSinceSet))
	}
	return warm, lower
}

// toldOfDuals is whether somebody looked at the facing sidewalls of all duals whose
// tires were looked at, and whether of all it is known that they are of one make or how
// large they are.
func (a *Assessment) toldOfDuals() (facing, makes bool) {
	facing, makes = true, true
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.Mate < 0 || !a.Counts(st) {
			continue
		}
		facing = facing && (!st.Seen.Is() || st.Sidewalls.Is())
		if mate := &a.Tires[st.Mate]; st.Mate > i && st.Written && mate.Written {
			p := pairOf{outer: st, inner: mate}
			makes = makes && (p.twoMakes().Recorded() || p.measured())
		}
	}
	return facing, makes
}

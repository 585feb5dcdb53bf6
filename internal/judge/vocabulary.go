package judge

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// The tasks that a rule may name: what following its advice takes, what it rules
// out, and what its breach says of a tire.
const (
	WheelOff = "wheel_off"  // a wheel comes off
	NoAir    = "no_air"     // nobody puts air in before trained people looked at it
	CoreOut  = "core_out"   // trained people let the air out through the valve core first
	Air      = "air"        // the advice leads to air
	RanLow   = "ran_low"    // a breach says that the tire was driven low
	LeakTask = "leak"       // a breach says that it lost air faster than tires do
	AskLow   = "ask_low"    // a breach asks what the tire was driven at
	LookTask = "look_first" // trained people look before any air
)

// A measure is one entry of the vocabulary: its name and text, how its fact is
// found, and what to write down where it is missing. An entry without find is
// set by a later step.
type measure[S any] struct {
	rules.Measure
	find func(*Assessment, S) rules.Value
	need string
}

// q is a measure that is a quantity, w one that is a word, f one that is yes or
// no.
func q[S any](name, doc string, d rules.Dimension, find func(*Assessment, S) rules.Value, need string) measure[S] {
	return measure[S]{rules.Measure{Name: name, Doc: doc, Dimension: d}, find, need}
}

func w[S any](name, doc string, words []string, find func(*Assessment, S) rules.Value, need string) measure[S] {
	return measure[S]{rules.Measure{Name: name, Doc: doc, Words: words}, find, need}
}

func f[S any](name, doc string, find func(*Assessment, S) rules.Value, need string) measure[S] {
	return measure[S]{rules.Measure{Name: name, Doc: doc, Flag: true}, find, need}
}

// A bound measure is found and put into the facts of its subject.
type boundMeasure[S any] struct {
	ref  rules.MeasureRef
	find func(*Assessment, S) rules.Value
}

// A subject is one kind of subject with its measures.
type subject[S any] struct {
	finds []boundMeasure[S]
	needs map[string]string
}

// fill puts all that is known of one into its facts.
func (s *subject[S]) fill(a *Assessment, of S, f *rules.Facts) {
	for i := range s.finds {
		m := &s.finds[i]
		if v := m.find(a, of); v.Recorded() {
			f.Set(m.ref, v)
		}
	}
}

func bind[S any](v *rules.Vocabulary, name string, list []measure[S]) subject[S] {
	s := subject[S]{needs: make(map[string]string)}
	for _, m := range list {
		s.needs[m.Name] = m.need
		if m.find != nil {
			s.finds = append(s.finds, boundMeasure[S]{mustMeasure(v, name, m.Name), m.find})
		}
	}
	return s
}

func plain[S any](list []measure[S]) []rules.Measure {
	out := make([]rules.Measure, len(list))
	for i, m := range list {
		out[i] = m.Measure
	}
	return out
}

func mustMeasure(v *rules.Vocabulary, subject, name string) rules.MeasureRef {
	r, err := v.Measure(subject, name)
	if err != nil {
		panic("judge: " + err.Error())
	}
	return r
}

// dimensions are those of the vocabulary.
type dimensions struct{ mass, length, pressure, speed, standing, torque, age rules.Dimension }

func allDimensions() dimensions {
	return dimensions{
		mass:     grouped(dimension("mass", "a mass: 3,640 lb, 1651 kg", weight.ParseMass)),
		length:   dimension("length", "a length: 4/32 in, 3.2 mm", weight.ParseLength),
		pressure: readable(dimension("pressure", "a pressure: 95 psi, 655 kPa", inflation.ParsePressure)),
		speed:    dimension("speed", "a speed: 65 mph, 105 km/h", inflation.ParseSpeed),
		standing: dimension("standing", "how long a coach stands: 45 min, 3 h, 60 days", record.ParseParkedFor),
		torque:   dimension("torque", "a torque: 475 ft-lb, 640 N-m", record.ParseTorque),
		age:      rules.Dimension{Name: "age", Doc: "an age by the calendar: 10 years, 5 years 6 months", Parse: parseAge, Format: formatAge, Append: appendAge},
	}
}

// Measures are the measures of the vocabulary, looked up once: those that are
// spoken of by name, and of each subject how they are found.
type Measures struct {
	vocabulary *rules.Vocabulary

	tire        subject[*TireState]
	end         subject[endOf]
	axle        subject[axleOf]
	pair        subject[*pairOf]
	group       subject[*Group]
	coach       subject[*report.LoadLine]
	combination subject[*report.LoadLine]

	endLoad, axleLoad, groupLoad, coachLoad, comboLoad, endGAWR, AxleGAWR, coachGVWR, comboGCWR, TowedLoad, CargoLoaded rules.MeasureRef

	groupGAWR, groupTires, groupWheels                                                                                 rules.MeasureRef
	ratedWhole, wheelsWhole, carriedAsFound, carriedAsLeft                                                             rules.MeasureRef
	AxleTires, AxleRanLow, AxleFit, placardNeeded, FoundSpread, FoundOfSome                                            rules.MeasureRef
	OddClass, PlacardTooHigh, PlacardPromises, LeftSpread, LeftOfSome, MostPressure, TorqueDue, TorqueAhead, LeftEmpty rules.MeasureRef
	CoachWheelOff, coachOffSoon, CoachWear, Stood                                                                      rules.MeasureRef

	Load, Capacity, CapacityFound, CapacityLeft, WheelCapacity, LoadAlone        rules.MeasureRef
	Found, asFound, Left, Lowest, ToSet, RunLow, MateRunLow, WasSet, HeldNextDay rules.MeasureRef
	AirInDoubt, Role, Place, Retread, Regrooved, Age                             rules.MeasureRef
	Tread, CrackDepth, CutDepth, CutInTread, InjuryWidth                         rules.MeasureRef
	Conditions                                                                   []rules.MeasureRef // by condition

	PairTread, PairDeeper, PairDiameter, PairDiameterDiff, PairRoundDiff, PairLarger, pairSize, pairKind, PairPsi, PairHeavier, PairLoad rules.MeasureRef

	Leak, LeakOverMates rules.MeasureRef

	// unasked are the measures of how tires were found and left: none says
	// anything of another arrangement of the same tires, where all are set anew.
	Unasked []rules.MeasureRef
	// HeldTo are the pressures that what a tire was driven at is held against.
	HeldTo []rules.MeasureRef
	// fixed are those of a place, whichever tire runs there.
	Fixed []rules.MeasureRef
}

// wordsOf are the words of an enum.
func wordsOf[T fmt.Stringer](list ...T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = v.String()
	}
	return out
}

func roleWords() []string {
	return wordsOf(record.Steer, record.Drive, record.Tag, record.Towed)
}

// conditionMeasure names the measure of a condition.
func conditionMeasure(c condition.Condition) string { return strings.ReplaceAll(c.String(), " ", "_") }

// conditionMeasures are the measures of all the conditions by name.
var conditionMeasures = sync.OnceValue(func() map[string]bool {
	names := make(map[string]bool)
	for _, c := range condition.All() {
		names[conditionMeasure(c)] = true
	}
	return names
})

// Vocabulary returns what rules may speak of: axle ends, axles, the coach and
// the combination, tires and dual pairs with all that is measured of them,
// and the actions, the worst first. Extend it to add measures of your own.
func Vocabulary() *rules.Vocabulary { return MeasuresOf().vocabulary }

// MeasuresOf looks the vocabulary's measures up, once.
var MeasuresOf = sync.OnceValue(func() *Measures {
	d := allDimensions()
	tire, end, pair := slices.Concat(tireMeasures(d), tireFittings(d)), endMeasures(d), pairMeasures(d)
	axle := slices.Concat(axleMeasures(d), axleFittings(d))
	coach, combination := slices.Concat(coachMeasures(d), coachFittings(d), labelMeasures(d)), slices.Concat(combinationMeasures(d), combinationFittings(d))
	group := groupMeasures(d)
	v, err := rules.NewVocabulary(rules.Definition{
		Actions: []rules.Action{
			{Name: string(report.DoNotDrive), Doc: "the coach is not to be driven before this is done", Stops: true},
			{Name: string(report.BeforeTrip), Doc: "to be done before the next trip"},
			{Name: string(report.Plan), Doc: "to be done at the next service, or by its day"},
		},
		Tasks: []rules.Task{
			{Name: WheelOff, Doc: "a wheel comes off"},
			{Name: NoAir, Doc: "nobody puts air in before trained people looked at it"},
			{Name: CoreOut, Doc: "trained people let the air out through the valve core before a nut is loosened, of both tires of a pair"},
			{Name: Air, Doc: "the advice leads to air; where the rule stops the coach, air is all it takes"},
			{Name: RanLow, Doc: "a breach says that the tire was driven low: it counts as flat, and so its mate is looked at"},
			{Name: LookTask, Doc: "a breach leaves open whether the tire may have air: trained people look first"},
			{Name: LeakTask, Doc: "a breach says that the tire leaks: the leak is found before any air"},
			{Name: AskLow, Doc: "a breach asks what the tire was driven at, before any air"},
		},
		Subjects: []rules.Subject{
			{Name: "end", Doc: "one end of an axle", Measures: plain(end)},
			{Name: "axle", Doc: "one axle", Measures: plain(axle)},
			{Name: "group", Doc: "axles, axle ends or wheels of which the scale says only what they carry together", Measures: plain(group)},
			{Name: "coach", Doc: "the coach as a whole", Measures: plain(coach)},
			{Name: "combination", Doc: "coach and towed unit together", Measures: plain(combination)},
			{Name: "tire", Doc: "one tire with its wheel", Measures: plain(tire)},
			{Name: "dual_pair", Doc: "the two tires of a dual axle end", Measures: plain(pair)},
			{Name: "between_visits", Doc: "one tire from one visit to the next", Measures: []rules.Measure{
				{Name: "leak", Doc: "what it lost in 30 days at one temperature, from as left to as found", Dimension: d.pressure},
				{Name: "leak_over_mates", Doc: "how much more that is than the median of its axle's other tires, else of the coach's", Dimension: d.pressure},
			}},
		},
	})
	if err != nil {
		panic("judge: the vocabulary is not complete: " + err.Error())
	}
	m := &Measures{vocabulary: v,
		tire: bind(v, "tire", tire), end: bind(v, "end", end), axle: bind(v, "axle", axle),
		pair: bind(v, "dual_pair", pair), group: bind(v, "group", group), coach: bind(v, "coach", coach), combination: bind(v, "combination", combination),
	}
	m.name()
	return m
})

// name looks up the measures that are spoken of by name.
func (m *Measures) name() {
	for subject, refs := range map[string]map[string]*rules.MeasureRef{
		"end": {"load": &m.endLoad, "gawr": &m.endGAWR},
		"axle": {"load": &m.axleLoad, "gawr": &m.AxleGAWR, "tire_capacity": &m.AxleTires, "rated_whole": &m.ratedWhole, "wheels_whole": &m.wheelsWhole, "carried_as_found": &m.carriedAsFound, "carried_as_left": &m.carriedAsLeft, "ran_low": &m.AxleRanLow, "pressure_fits": &m.AxleFit, "placard_needed": &m.placardNeeded,
			"found_spread": &m.FoundSpread, "found_spread_of_some": &m.FoundOfSome, "left_spread": &m.LeftSpread, "left_spread_of_some": &m.LeftOfSome,
			"odd_class": &m.OddClass, "placard_too_high": &m.PlacardTooHigh, "placard_promises_more": &m.PlacardPromises},
		"group":       {"load": &m.groupLoad, "gawr": &m.groupGAWR, "tires_rated": &m.groupTires, "wheels_rated": &m.groupWheels},
		"coach":       {"load": &m.coachLoad, "cargo_loaded": &m.CargoLoaded, "gvwr": &m.coachGVWR, "wheel_off": &m.CoachWheelOff, "wheel_off_soon": &m.coachOffSoon, "tread_spread": &m.CoachWear, "stood": &m.Stood},
		"combination": {"load": &m.comboLoad, "towed_load": &m.TowedLoad, "gcwr": &m.comboGCWR},
		"tire": {"load": &m.Load, "capacity": &m.Capacity, "capacity_as_found": &m.CapacityFound, "capacity_as_left": &m.CapacityLeft,
			"wheel_capacity": &m.WheelCapacity, "load_alone": &m.LoadAlone, "found": &m.Found, "as_found": &m.asFound, "left": &m.Left, "lowest": &m.Lowest, "to_set": &m.ToSet,
			"run_low": &m.RunLow, "mate_run_low": &m.MateRunLow, "was_set": &m.WasSet, "held_next_day": &m.HeldNextDay, "torque_due": &m.TorqueDue, "torque_ahead": &m.TorqueAhead, "left_empty": &m.LeftEmpty, "most_pressure": &m.MostPressure, "air_in_doubt": &m.AirInDoubt, "role": &m.Role, "place": &m.Place, "retread": &m.Retread,
			"regrooved": &m.Regrooved, "age": &m.Age, "tread": &m.Tread, "crack_depth": &m.CrackDepth, "cut_depth": &m.CutDepth, "cut_in_tread": &m.CutInTread, "injury_width": &m.InjuryWidth},
		"dual_pair": {"tread_difference": &m.PairTread, "deeper_inside": &m.PairDeeper, "diameter": &m.PairDiameter, "diameter_difference": &m.PairDiameterDiff, "circumference_difference": &m.PairRoundDiff,
			"larger_inside": &m.PairLarger, "same_size": &m.pairSize, "same_construction": &m.pairKind, "pressure_difference": &m.PairPsi,
			"heavier_tire": &m.PairHeavier, "load": &m.PairLoad},
		"between_visits": {"leak": &m.Leak, "leak_over_mates": &m.LeakOverMates},
	} {
		for name, ref := range refs {
			*ref = mustMeasure(m.vocabulary, subject, name)
		}
	}
	m.Conditions = make([]rules.MeasureRef, len(condition.All())+1)
	for _, c := range condition.All() {
		m.Conditions[c] = mustMeasure(m.vocabulary, "tire", conditionMeasure(c))
	}
	for subject, names := range map[string][]string{
		"tire": {"found", "as_found", "left", "left_empty", "was_set", "left_read", "aired_up", "lowest", "lowest_as_read", "read", "driven_on", "parked",
			"last_set", "set_known", "pressure_for_load", "most_for_load", "need_known", "by_weight", "placard", "placard_read", "placard_known", "stamped", "stamp_known", "recommended_known", "below_recommended",
			"held", "held_next_day", "next_day_read", "lost_next_day", "natural_fall", "fallen_alike", "axle_alike", "topped_up", "air_in_doubt", "read_zero", "kept_ready_at",
			"capacity_as_found", "capacity_as_left", "run_low", "mate_run_low", "torque_due", "torque_ahead", "sensor_off", "fastest", "fastest_known"},
		"axle": {"left_spread", "left_spread_of_some", "found_spread", "found_spread_of_some", "ran_low", "carried_as_found", "carried_as_left", "was_set", "left_read", "placard_needed", "placard_promises_more",
			"torque_applied", "torque_asked", "torque_written"},
		"dual_pair":      {"pressure_difference", "ran_low", "age_difference", "heavier_tire"},
		"coach":          {"all_looked_at", "ratings_read", "torque_overdue", "gauge_checked_ago"},
		"between_visits": {"leak", "leak_over_mates"},
	} {
		for _, name := range names {
			m.Unasked = append(m.Unasked, mustMeasure(m.vocabulary, subject, name))
		}
	}
	for _, name := range [...]string{"pressure_for_load", "most_for_load", "last_set", "placard", "stamped", "to_set"} {
		m.HeldTo = append(m.HeldTo, mustMeasure(m.vocabulary, "tire", name))
	}
	m.Fixed = []rules.MeasureRef{m.Role, m.Place, m.Load, m.axleLoad, m.AxleGAWR, m.PairLoad, mustMeasure(m.vocabulary, "axle", "role")}
}

// OfAxleRating reports whether a rule holds the load of an axle or of one of its ends
// against the axle's rating.
func (m *Measures) OfAxleRating(r *rules.Rule) bool {
	return r.Measure() == m.axleLoad && r.Uses(m.AxleGAWR) || r.Measure() == m.endLoad && r.Uses(m.endGAWR)
}

// OfLoadCarried reports whether a rule holds a load against what tires or wheels are
// stamped for, or asks whether any pressure carries it.
func (m *Measures) OfLoadCarried(r *rules.Rule) bool {
	return r.Measure() == m.AxleFit || r.Measure() == m.Load && (r.Uses(m.Capacity) || r.Uses(m.WheelCapacity)) ||
		r.Measure() == m.axleLoad && (r.Uses(m.ratedWhole) || r.Uses(m.wheelsWhole))
}

package judge

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// The tasks that a rule may name: what following its advice takes, and what it
// rules out.
const (
	WheelOff = "wheel_off" // a wheel comes off
	NoAir    = "no_air"    // nobody puts air in before trained people looked at it
	CoreOut  = "core_out"  // trained people let the air out through the valve core first
	Air      = "air"       // the advice leads to air
)

// AgeUnit is how many steps of the age dimension a month counts: more than it
// has days, so that months and days compare like the calendar.
const AgeUnit = 32

// ageSteps counts a span so that longer spans count more, without ever
// turning months into days.
func ageSteps(s dotcode.Span) int64 {
	return int64(s.Years*12+s.Months)*AgeUnit + int64(s.Days)
}

// ErrAge says that a text is no age.
var ErrAge = errors.New(`malformed age: want years and months, such as "10 years" or "5 years 6 months"`)

func parseAge(text string) (int64, error) {
	words := strings.Fields(text)
	if len(words) == 0 || len(words)%2 != 0 || len(words) > 6 {
		return 0, fmt.Errorf("%w: %q", ErrAge, strictyaml.Clip(text))
	}
	var s dotcode.Span
	last := 0
	for i := 0; i < len(words); i += 2 {
		n, err := strconv.Atoi(words[i])
		if err != nil || n < 0 || n > 1000 {
			return 0, fmt.Errorf("%w: %q", ErrAge, strictyaml.Clip(text))
		}
		rank, most := 0, 1000
		switch strings.TrimSuffix(words[i+1], "s") {
		case "year":
			rank, s.Years = 1, n
		case "month":
			rank, s.Months = 2, n
		case "day":
			rank, s.Days, most = 3, n, AgeUnit-1
		}
		if rank <= last || n > most {
			return 0, fmt.Errorf("%w: %q: %w", ErrAge, strictyaml.Clip(text), origin.ErrUnit)
		}
		last = rank
	}
	return ageSteps(s), nil
}

func formatAge(n int64) string {
	var room [32]byte
	return string(appendAge(room[:0], n))
}

func appendAge(dst []byte, n int64) []byte {
	if n < 0 {
		return appendAge(append(dst, '-'), -n)
	}
	from := len(dst)
	months := n / AgeUnit
	dst = appendCount(dst, from, months/12, "year")
	dst = appendCount(dst, from, months%12, "month")
	dst = appendCount(dst, from, n%AgeUnit, "day")
	if len(dst) == from {
		dst = append(dst, "0 days"...)
	}
	return dst
}

// appendCount appends "2 years", behind a space if something stands behind
// from, and nothing for none.
func appendCount(dst []byte, from int, n int64, unit string) []byte {
	if n == 0 {
		return dst
	}
	if len(dst) > from {
		dst = append(dst, ' ')
	}
	dst = append(strconv.AppendInt(dst, n, 10), ' ')
	dst = append(dst, unit...)
	if n > 1 {
		dst = append(dst, 's')
	}
	return dst
}

// A counted is a quantity: a whole number of steps that writes itself.
type counted interface {
	~int64
	String() string
	AppendText([]byte) ([]byte, error)
}

func dimension[T counted](name, doc string, parse func(string) (T, error)) rules.Dimension {
	return rules.Dimension{
		Name: name,
		Doc:  doc,
		Parse: func(text string) (int64, error) {
			v, err := parse(text)
			return int64(v), err
		},
		Format: func(n int64) string { return T(n).String() },
		Append: func(dst []byte, n int64) []byte {
			out, err := T(n).AppendText(dst)
			if err != nil { // no exact text: String says so
				return append(dst, T(n).String()...)
			}
			return out
		},
	}
}

// commas puts thousands commas into the whole number that begins at from.
func commas(dst []byte, from int) []byte {
	for from < len(dst) && dst[from] == '-' {
		from++
	}
	end := from
	for end < len(dst) && dst[end] >= '0' && dst[end] <= '9' {
		end++
	}
	for end -= 3; end > from; end -= 3 {
		dst = slices.Insert(dst, end, ',')
	}
	return dst
}

// grouped writes a dimension's whole numbers with thousands commas, as people
// read them on a slip.
func grouped(d rules.Dimension) rules.Dimension {
	plain := d.Append
	d.Append = func(dst []byte, n int64) []byte { return commas(plain(dst, n), len(dst)) }
	d.Format = func(n int64) string { return string(d.Append(nil, n)) }
	return d
}

// Measures are the measures of the vocabulary, looked up once.
type Measures struct {
	vocabulary *rules.Vocabulary
	runLowBy   [3]rules.MeasureRef // what tells that a tire ran low

	endLoad, endGAWR, endRole rules.MeasureRef

	AxleLoad, AxleGAWR, AxleTires, AxleRole, axleMixed, axleNoPressure, AxleLeftSpread rules.MeasureRef
	AxleFoundSpread, AxleFoundSome, AxleLeftSome, AxleRanLow, axleSizes                rules.MeasureRef

	coachLoad, coachGVWR, coachStood, CoachWheelOff, coachOffSoon, CoachWear, comboLoad, comboGCWR rules.MeasureRef

	Role, Place, class, construction, Retread                                  rules.MeasureRef
	Load, Capacity, CapacityFound, WheelCapacity                               rules.MeasureRef
	Found, HotFound, Lowest, Target, JudgedBy, ToSet                           rules.MeasureRef
	mostPressure, AxleSpread, AboveNeed, RunLow, surelyFlat, MateRunLow, Tread rules.MeasureRef
	Age, CrackDepth, CutDepth, InjuryWidth, injuryAt, Regrooved                rules.MeasureRef
	AfterAir, Left, WasSet, CapacityLeft, LoadAlone, lookedOver                rules.MeasureRef
	shoulders, belowCenter, belowShoulders, treadAround                        rules.MeasureRef
	AiredUp, cracksMeasured, againstArrow                                      rules.MeasureRef
	Conditions                                                                 []rules.MeasureRef // by condition
	PairTread, PairDeeper, PairDiameter, PairDiameterDiff                      rules.MeasureRef
	PairRoundDiff, PairLarger, pairSize, pairKind, PairPsi                     rules.MeasureRef
	PairAge, PairRanLow, PairHeavier, PairLoad                                 rules.MeasureRef
	Leak, LeakOverMates                                                        rules.MeasureRef
}

var (
	roles    = wordsOf(record.Steer, record.Drive, record.Tag, record.Towed)
	allRoles = append(append([]string{}, roles...), "spare")
	judgedBy = []string{"last_set", "placard", "load", "axles"}
	classes  = []string{"passenger", "light_truck", "truck", "trailer"}
	builds   = []string{"radial", "bias", "bias_belted"}
)

// wordsOf are the words of an enum.
func wordsOf[T fmt.Stringer](list ...T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = v.String()
	}
	return out
}

// conditionMeasure names the measure of a condition.
func conditionMeasure(c record.Condition) string { return strings.ReplaceAll(c.String(), " ", "_") }

// conditionMeasures are the measures of all the conditions by name.
var conditionMeasures = sync.OnceValue(func() map[string]bool {
	names := make(map[string]bool)
	for _, c := range record.AllConditions() {
		names[conditionMeasure(c)] = true
	}
	return names
})

// Vocabulary returns what rules may speak of: axle ends, axles, the coach and
// the combination, tires and dual pairs with all that is measured of them,
// and the actions, the worst first. Extend it to add measures of your own.
func Vocabulary() *rules.Vocabulary { return MeasuresOf().vocabulary }

var MeasuresOf = sync.OnceValue(func() *Measures {
	mass := grouped(dimension("mass", "a mass: 3,640 lb, 1651 kg", weight.ParseMass))
	length := dimension("length", "a length: 4/32 in, 3.2 mm", weight.ParseLength)
	pressure := dimension("pressure", "a pressure: 95 psi, 655 kPa", inflation.ParsePressure)
	standing := dimension("standing", "how long a coach stands: 45 min, 3 h, 60 days", record.ParseParkedFor)
	age := rules.Dimension{Name: "age", Doc: "an age by the calendar: 10 years, 5 years 6 months", Parse: parseAge, Format: formatAge, Append: appendAge}

	q := func(name, doc string, d rules.Dimension) rules.Measure {
		return rules.Measure{Name: name, Doc: doc, Dimension: d}
	}
	w := func(name, doc string, words []string) rules.Measure {
		return rules.Measure{Name: name, Doc: doc, Words: words}
	}
	f := func(name, doc string) rules.Measure { return rules.Measure{Name: name, Doc: doc, Flag: true} }

	tire := []rules.Measure{
		w("role", "what the tire's axle does", allRoles),
		w("place", "where on its axle end the tire runs", wordsOf(record.Alone, record.Inner, record.Outer, record.Spare)),
		w("class", "the class of its size", classes),
		w("construction", "how its body plies run", builds),
		f("retread", "whether it is a retread"),
		f("regrooved", "whether its grooves were cut anew"),
		q("load", "what it carries: as weighed by itself, else its axle end's load, halved on a dual pair", mass),
		q("capacity", "the most its sidewall lets it carry in its fitment, a passenger tire's divided by 1.10", mass),
		q("load_alone", "what it carries while its dual mate is off the ground: the whole end's load", mass),
		q("capacity_as_found", "what it carries at the pressure as found, by its table or a safe estimate", mass),
		q("capacity_as_left", "what it carries at the pressure it was left at, by its table or a safe estimate", mass),
		q("wheel_capacity", "the most its wheel is stamped for", mass),
		q("found", "the cold pressure as found, read at the stem", pressure),
		q("hot_found", "the pressure as found on a tire that is not cold: its cold pressure is lower", pressure),
		q("after_air", "the pressure as found after air was added: it was driven at no more than that", pressure),
		q("left", "the cold pressure it was left at", pressure),
		f("was_set", "whether the cold pressure it was left at was written down"),
		q("aired_up", "by how much more it was left at than it was found at, 0 if not more", pressure),
		q("lowest", "the lowest cold pressure it was driven at, as far as known", pressure),
		q("target", "the pressure it is judged by: last set, else the placard's, else that for its load; for a spare last set, else the highest to set on an axle that it may go to, as far as its stamps allow", pressure),
		w("judged_by", "where that pressure comes from", judgedBy),
		q("to_set", "the pressure to set on its axle", pressure),
		q("most_pressure", "the highest cold pressure that its sidewall and its wheel allow, as far as they were read", pressure),
		q("axle_spread", "the most by which pressures on its axle can differ; a tire that was not read may be flat", pressure),
		f("above_need", "whether it is known to hold at least what its load needs"),
		f("run_low", "whether the packs judged it to have run low: nobody may air up such a tire"),
		f("surely_flat", "whether the packs judged it for certain to have run low; what else is said of its pressure is then idle"),
		f("mate_run_low", "whether its dual mate was judged to have run low"),
		q("tread", "its least tread depth", length),
		q("shoulder_difference", "by how much its shoulders differ in tread depth", length),
		q("shoulders_below_center", "by how much both shoulders are worn below the center, 0 if they are not", length),
		q("center_below_shoulders", "by how much the center is worn below both shoulders, 0 if it is not", length),
		q("tread_around", "the most by which depths along one line around the tire differ", length),
		q("age", "its age on the day of the visit, from the oldest to the youngest that its date code allows", age),
		q("crack_depth", "how deep its deepest weather crack is", length),
		f("cracks_measured", "whether the depth of its weather cracks was written down"),
		q("cut_depth", "how deep its deepest cut is", length),
		q("injury_width", "how wide the hole is that a nail or another object left", length),
		w("injury_at", "where that hole is", wordsOf(record.AtCrown, record.AtShoulder, record.AtSidewall)),
		f("looked_over", "whether somebody wrote down what was seen on it"),
		f("against_arrow", "whether it runs against the direction of rotation that its sidewall shows"),
	}
	for _, c := range record.AllConditions() {
		tire = append(tire, f(conditionMeasure(c), "whether this was found: "+c.String()))
	}
	v, err := rules.NewVocabulary(rules.Definition{
		Actions: []rules.Action{
			{Name: report.DoNotDrive, Doc: "the coach is not to be driven before this is done", Stops: true},
			{Name: report.BeforeTrip, Doc: "to be done before the next trip"},
			{Name: report.Plan, Doc: "to be done at the next service, or by its day"},
		},
		Tasks: []rules.Task{
			{Name: WheelOff, Doc: "a wheel comes off"},
			{Name: NoAir, Doc: "nobody puts air in before trained people looked at it"},
			{Name: CoreOut, Doc: "trained people let the air out through the valve core before a nut is loosened, of both tires of a pair"},
			{Name: Air, Doc: "air is put in"},
		},
		Subjects: []rules.Subject{
			{Name: "end", Doc: "one end of an axle", Measures: []rules.Measure{
				q("load", "what it carries", mass),
				q("gawr", "the gross axle weight rating of its axle", mass),
				w("role", "what its axle does", roles),
			}},
			{Name: "axle", Doc: "one axle", Measures: []rules.Measure{
				q("load", "what it carries", mass),
				q("gawr", "its gross axle weight rating", mass),
				q("tire_capacity", "what all its tires may carry together, passenger tires' divided by 1.10", mass),
				w("role", "what it does", roles),
				f("mixed_construction", "whether bias and radial tires run on it together"),
				f("mixed_size", "whether tires of two sizes run on it together"),
				f("no_pressure", "whether no pressure that tires and wheels allow carries its load"),
				q("found_spread", "the difference between the highest and the lowest pressure as found, where all its tires were read cold and out of the sun", pressure),
				f("ran_low", "whether one of its tires was judged to have run low"),
				q("left_spread", "the difference between the highest and the lowest pressure its tires were left at", pressure),
				q("found_spread_of_some", "the same difference among those that were, where others of its tires were not", pressure),
				q("left_spread_of_some", "the difference between the pressures that some of its tires were left at, where others' were not recorded", pressure),
			}},
			{Name: "coach", Doc: "the coach as a whole", Measures: []rules.Measure{
				q("load", "what it weighs", mass),
				q("gvwr", "its gross vehicle weight rating", mass),
				q("stood", "how long it has stood since it was driven", standing),
				f("wheel_off", "whether what is to be done takes a wheel off"),
				f("wheel_off_soon", "whether any of that is to be done before the next trip"),
				q("tread_spread", "how much more tread the deepest of the coach's tires on the road has than the shallowest, asked where their places are looked at", length),
			}},
			{Name: "combination", Doc: "coach and towed unit together", Measures: []rules.Measure{
				q("load", "what they weigh", mass),
				q("gcwr", "the gross combination weight rating", mass),
			}},
			{Name: "tire", Doc: "one tire with its wheel", Measures: tire},
			{Name: "dual_pair", Doc: "the two tires of a dual axle end", Measures: []rules.Measure{
				q("tread_difference", "the difference of their least tread depths", length),
				f("deeper_inside", "whether the tire with more tread runs inside; no where measured sizes or two models say that tread does not decide"),
				q("diameter", "the larger of their outside diameters, measured mounted and inflated", length),
				q("diameter_difference", "the difference of their outside diameters", length),
				q("circumference_difference", "the difference of their circumferences", length),
				f("larger_inside", "whether the tire that measures larger runs inside"),
				f("same_size", "whether both have the same size"),
				f("same_construction", "whether both have the same construction"),
				q("pressure_difference", "the difference of their pressures as found, both cold and out of the sun", pressure),
				q("age_difference", "how far apart they were made, from the least to the most that their date codes allow", age),
				f("ran_low", "whether one of them was judged to have run low"),
				q("load", "what the axle end carries", mass),
				q("heavier_tire", "what the one of the two carries that carries more, where each was weighed by itself", mass),
			}},
			{Name: "between_visits", Doc: "one tire from one visit to the next", Measures: []rules.Measure{
				q("leak", "what it lost in 30 days at one temperature, from as left to as found", pressure),
				q("leak_over_mates", "how much more that is than the middle one of its axle's other tires, else of the coach's", pressure),
			}},
		},
	})
	if err != nil {
		panic("inspect: the vocabulary is not complete: " + err.Error())
	}
	ref := func(subject, name string) rules.MeasureRef {
		r, err := v.Measure(subject, name)
		if err != nil {
			panic("inspect: " + err.Error())
		}
		return r
	}
	r := &Measures{
		vocabulary: v,
		endLoad:    ref("end", "load"), endGAWR: ref("end", "gawr"), endRole: ref("end", "role"),
		AxleLoad: ref("axle", "load"), AxleGAWR: ref("axle", "gawr"), AxleTires: ref("axle", "tire_capacity"),
		AxleRole: ref("axle", "role"), axleMixed: ref("axle", "mixed_construction"), axleSizes: ref("axle", "mixed_size"), AxleLeftSpread: ref("axle", "left_spread"), axleNoPressure: ref("axle", "no_pressure"),
		AxleFoundSpread: ref("axle", "found_spread"), AxleFoundSome: ref("axle", "found_spread_of_some"), AxleLeftSome: ref("axle", "left_spread_of_some"), AxleRanLow: ref("axle", "ran_low"),
		coachLoad: ref("coach", "load"), coachGVWR: ref("coach", "gvwr"), coachStood: ref("coach", "stood"), CoachWheelOff: ref("coach", "wheel_off"), coachOffSoon: ref("coach", "wheel_off_soon"), CoachWear: ref("coach", "tread_spread"),
		comboLoad: ref("combination", "load"), comboGCWR: ref("combination", "gcwr"),
		Role: ref("tire", "role"), Place: ref("tire", "place"), class: ref("tire", "class"),
		construction: ref("tire", "construction"), Retread: ref("tire", "retread"),
		Load: ref("tire", "load"), Capacity: ref("tire", "capacity"), CapacityFound: ref("tire", "capacity_as_found"),
		WheelCapacity: ref("tire", "wheel_capacity"), Found: ref("tire", "found"), HotFound: ref("tire", "hot_found"),
		Lowest: ref("tire", "lowest"), Target: ref("tire", "target"), JudgedBy: ref("tire", "judged_by"),
		ToSet: ref("tire", "to_set"), mostPressure: ref("tire", "most_pressure"), AxleSpread: ref("tire", "axle_spread"),
		AboveNeed: ref("tire", "above_need"), RunLow: ref("tire", "run_low"), surelyFlat: ref("tire", "surely_flat"), MateRunLow: ref("tire", "mate_run_low"), Tread: ref("tire", "tread"),
		Age: ref("tire", "age"), CrackDepth: ref("tire", "crack_depth"), CutDepth: ref("tire", "cut_depth"),
		InjuryWidth: ref("tire", "injury_width"), injuryAt: ref("tire", "injury_at"), Regrooved: ref("tire", "regrooved"),
		AfterAir: ref("tire", "after_air"), Left: ref("tire", "left"), WasSet: ref("tire", "was_set"), AiredUp: ref("tire", "aired_up"), cracksMeasured: ref("tire", "cracks_measured"),
		CapacityLeft: ref("tire", "capacity_as_left"), LoadAlone: ref("tire", "load_alone"), lookedOver: ref("tire", "looked_over"),
		shoulders: ref("tire", "shoulder_difference"), belowCenter: ref("tire", "shoulders_below_center"),
		belowShoulders: ref("tire", "center_below_shoulders"), treadAround: ref("tire", "tread_around"), againstArrow: ref("tire", "against_arrow"),
		PairTread: ref("dual_pair", "tread_difference"), PairDeeper: ref("dual_pair", "deeper_inside"),
		PairDiameter: ref("dual_pair", "diameter"), PairDiameterDiff: ref("dual_pair", "diameter_difference"),
		PairRoundDiff: ref("dual_pair", "circumference_difference"), PairLarger: ref("dual_pair", "larger_inside"),
		pairSize: ref("dual_pair", "same_size"), pairKind: ref("dual_pair", "same_construction"),
		PairPsi: ref("dual_pair", "pressure_difference"), PairRanLow: ref("dual_pair", "ran_low"), PairHeavier: ref("dual_pair", "heavier_tire"), PairLoad: ref("dual_pair", "load"), PairAge: ref("dual_pair", "age_difference"),
		Leak: ref("between_visits", "leak"), LeakOverMates: ref("between_visits", "leak_over_mates"),
	}
	r.Conditions = make([]rules.MeasureRef, len(record.AllConditions())+1)
	r.runLowBy = [...]rules.MeasureRef{r.Lowest, r.HotFound, r.AfterAir}
	for _, c := range record.AllConditions() {
		r.Conditions[c] = ref("tire", conditionMeasure(c))
	}
	return r
})

package inspect_test

import (
	"slices"
	"strings"
	"sync"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// An exception is where something may come out milder, and why. One that never
// occurs fails the test.
type exception struct {
	name, why string
	relation  *relation
	is        func(s *step, m hole, before, after *report.Report) bool
}

// excepted is the name of the exception that a hole falls under, or "".
func (s *step) excepted(m hole, before, after *report.Report) string {
	for i := range exceptions {
		if e := &exceptions[i]; e.relation == s.relation && e.is(s, m, before, after) {
			return e.name
		}
	}
	return ""
}

// changes is an exception for changes of these names, whatever of the aspects
// comes out milder: "" stands for all.
func changes(names []string, aspects ...string) func(*step, hole, *report.Report, *report.Report) bool {
	return func(s *step, m hole, _, _ *report.Report) bool {
		kind := kindOf(s.change)
		for _, name := range names {
			if kind == name || strings.HasSuffix(name, "*") && strings.HasPrefix(kind, strings.TrimSuffix(name, "*")) {
				for _, a := range aspects {
					if a == m.aspect || a == "" {
						return true
					}
				}
			}
		}
		return false
	}
}

var exceptions = []exception{
	{"how warm it was", "a warm reading is a most: as a cold one it is known, and can clear", &forgottenRelation,
		changes([]string{"tires[].hot", "tires[].in_sun", "stood", "moved", "cold"}, "air", "low", "verdict", "item", "kept", "nothing found", "nothing left unjudged")},
	{"the weighing", "what a coach carries, and what that asks for, is then not known", &forgottenRelation,
		changes([]string{"weighing", "weighing.readings[]"}, "")},
	{"when it was weighed", "not said, it was on the day of the visit, and no work was done since", &forgottenRelation,
		changes([]string{"weighing.date", "weighing.work_since"}, "set", "low", "air", "item", "verdict", "kept", "nothing found", "nothing left unjudged")},
	{"how exact the scale is", "not said, the handbook's tolerance counts, which can be less", &forgottenRelation,
		changes([]string{"weighing.tolerance", "weighing.division", "weighing.scale"}, "set", "low", "air", "item", "verdict", "kept", "nothing found", "nothing left unjudged")},
	{"the past", "what nobody wrote down of alarms, air added and lower readings counts as none", &forgottenRelation,
		changes([]string{"tires[].lowest", "tires[].air_added", "tires[].air_added_by", "tires[].before_air", "tires[].low_alarm", "tires[].read_zero"}, "")},
	{"a last set that only ends a leak", "without it no fall is seen, and enough for load and placard is enough", &forgottenRelation,
		func(s *step, m hole, before, _ *report.Report) bool {
			if !changes([]string{"tires[].last_set", "last_set_on", "last_set_air"}, "")(s, m, before, nil) {
				return false
			}
			if s.change == "last_set_on" { // a year by itself explains more: the coach fell alike
				return true
			}
			if line := before.Tire(m.where); line != nil {
				return line.Low == report.Leaking || m.aspect == "air" && leaking(before, line)
			}
			if m.aspect == "nothing left unjudged" { // what is asked of a leak
				return slices.ContainsFunc(before.Tires, func(t report.TireLine) bool { return t.Low == report.Leaking })
			}
			name, where, _ := strings.Cut(m.where, " at ")
			return (m.aspect == "item" || m.aspect == "kept") && tasksOf()[name]["leak"] && before.Tire(where).Low == report.Leaking || m.aspect == "nothing found" && onlyBy(before, func(rule string) bool { return tasksOf()[rule]["leak"] })
		}},
	{"what it was left at", "the reading as found counts again", &forgottenRelation,
		changes([]string{"tires[].left"}, "")},
	{"a reading a day later", "it only shows a leak: without it no fall is seen", &forgottenRelation,
		changes([]string{"tires[].next_day"}, "low", "air", "item", "nothing found", "nothing left unjudged")},
	{"the trip", "its load raises what is set", &forgottenRelation,
		changes([]string{"trip*"}, "set", "item", "verdict", "kept", "nothing found", "nothing left unjudged")},
	{"a spare of what the trip raises", "it is kept at the most of any of its places", &forgottenRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return strings.HasPrefix(s.change, "trip") && (m.aspect == "low" || m.aspect == "air") && strings.HasPrefix(m.where, "spare")
	}},
	{"a table", "it may ask for more than the placard", &forgottenRelation,
		changes([]string{"table", "every_tire.size", "every_tire.load_range"}, "set", "low", "air", "verdict", "item", "kept", "nothing left unjudged")},
	{"a stamp", "the rating is then asked", &forgottenRelation,
		changes([]string{"every_tire.single", "every_tire.dual", "every_tire.wheel", "every_towed_tire.single", "tires[].single"}, "item", "verdict", "kept", "set", "stop", "nothing found", "low", "air")},
	{"that it was not driven", "driven on, what was asked counts as flat, and nothing else is asked of it", &forgottenRelation, func(s *step, m hole, _, after *report.Report) bool {
		return kindOf(s.change) == "driven_since" && m.aspect == "nothing left unjudged" && after.Drive == report.MustNotMove
	}},
	{"where a zero was read", "through an extension it proves nothing; of one read at the stem it is known that it is not too much", &forgottenRelation,
		func(s *step, m hole, _, _ *report.Report) bool {
			return kindOf(s.change) == "tires[].read_at" && (m.aspect == "kept" || strings.Contains(m.where, "/spare-not-read"))
		}},
	{"what the placard asks for", "more than its tires or wheels allow is asked of the placard itself", &forgottenRelation, func(s *step, m hole, before, _ *report.Report) bool {
		return kindOf(s.change) == "axles[].placard" && m.aspect == "nothing found" && onlyBy(before, func(rule string) bool { return strings.HasSuffix(rule, "/placard-above-stamps") })
	}},
	{"what the placard promises", "of a coach that nobody weighed the label is listed as not read, and not asked before the trip", &forgottenRelation, func(s *step, m hole, before, _ *report.Report) bool {
		return changes([]string{"axles[].gawr", "axles[].placard*", "ratings.gvwr", "every_tire.load_range", "every_tire.size"}, "nothing found")(s, m, before, nil) &&
			s.before.Weighing.Readings == nil && onlyBy(before, func(rule string) bool { return strings.HasSuffix(rule, "/placard-promises-more") })
	}},
	{"the rating of coach and towed unit together", "of a coach of which nobody wrote down what it tows", &forgottenRelation,
		func(s *step, m hole, _, _ *report.Report) bool {
			return s.change == "ratings.gcwr" && m.aspect == "item" && strings.Contains(m.where, "/gcwr") && !slices.ContainsFunc(s.after.Axles, func(a record.Axle) bool { return a.Towed })
		}},
	{"which sidewalls were looked at", "what was seen then counts for both, and the coach's line asks for those that face each other", &forgottenRelation,
		changes([]string{"tires[].sidewalls"}, "low", "air", "item", "verdict", "kept", "nothing left unjudged")},
	{"a car's last set stands in", "for the placard of a towed car, which is then asked", &forgottenRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return kindOf(s.change) == "axles[].placard" && (strings.Contains(m.where, "car-") || strings.Contains(m.where, "trailer-")) && (m.aspect == "low" || m.aspect == "air" || m.aspect == "item")
	}},
	{"a last set above the stamp", "without it the tire is held to what its sidewall states", &forgottenRelation, aboveStamp},
	{"said otherwise of what is less known", "what it was driven at is asked about, or it counts as flat: of its air nothing else is said", &forgottenRelation,
		func(_ *step, m hole, before, after *report.Report) bool {
			name, where, _ := strings.Cut(m.where, " at ")
			if m.aspect != "item" && m.aspect != "kept" {
				return false
			}
			line := after.Tire(where)
			if line != nil && strings.HasSuffix(name, "/mate-run-low") && line.Air != report.AirFree {
				return true
			}
			if planBreached(after, where) || strings.HasSuffix(name, "/placard-not-read") && short(after, where) {
				return true
			}
			return m.aspect == "kept" && strings.HasSuffix(name, "/aired-up-flat") || aboutLow(name) && line != nil && (line.Low >= report.LowAsked || line.Low == report.LowUnknown && line.Air != report.AirFree) || leadsToAir(name) && airWorse(before, after, where)
		}},
	{"what is said of all tires", "it stands for one that has no entry of its own", &forgottenRelation, changes([]string{"tires[]"}, "kept")},
	{"by which gauge it was set", "not said, it was the same one, and compares as read", &forgottenRelation,
		changes([]string{"last_set_gauge_tolerance"}, "low", "air", "item", "kept", "nothing found")},
	{"more is set", "what is less known needs more, and that carries the load", &forgottenRelation, func(s *step, m hole, before, after *report.Report) bool {
		rule, where := named(m)
		return m.aspect == "item" && rule == "pressure-fits" && noMore(after, before, where)
	}},
	{"a reading that can hardly be", "it is asked again; one that is not there is not", &forgottenRelation,
		func(_ *step, m hole, before, _ *report.Report) bool {
			return (m.aspect == "item" || m.aspect == "kept") && strings.HasPrefix(m.where, "Read again") ||
				m.aspect == "nothing found" && onlyReadAgain(before)
		}},
	{"the tire that the placard names", "not read, nothing says that weaker ones are fitted", &forgottenRelation, func(s *step, m hole, before, after *report.Report) bool {
		return changes([]string{"axles[].placard_size", "axles[].placard_load_range"}, "set", "kept", "item")(s, m, before, after) ||
			changes([]string{"axles[].placard_size", "axles[].placard_load_range", "every_tire.load_range"}, "nothing found")(s, m, before, after) &&
				onlyBy(before, func(rule string) bool { return strings.HasSuffix(rule, "/weaker-than-placard") })
	}},
	{"a spare's last set", "without it the spare is kept at the most of any of its places", &forgottenRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return kindOf(s.change) == "tires[].last_set" && strings.HasSuffix(m.where, "spare")
	}},
	{"a sign that it ran low", "it is of the past, like a reading; nobody may air what was not looked over", &forgottenRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return kindOf(s.change) == "tires[].seen" && (m.aspect == "low" || (m.aspect == "kept" || m.aspect == "item") && strings.Contains(m.where, "/mate-run-low"))
	}},
	{"its class", "a passenger tire's rating is divided by 1.10 on the coach; of an unknown class what lies between is too close to call", &forgottenRelation,
		changes([]string{"every_towed_tire.class", "every_tire.class"}, "set", "kept")},
	{"a tire with stamps of its own", "without it the axle's others speak, and a spare is kept at what is set", &forgottenRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return kindOf(s.change) == "tires[]" && (m.aspect == "set" || m.aspect != "nothing found" && strings.HasSuffix(m.where, "spare"))
	}},
	{"measured only where it was found", "a crack, cut or hole of which anything was written down was found: who looked and wrote down none has none", &forgottenRelation, measuredOnly},
	{"where it was found", "it is asked for where that decides", &forgottenRelation,
		changes([]string{"tires[].cut_at", "tires[].injury_at"}, "item", "kept", "nothing found")},
	{"said otherwise", "of a flat tire nothing else is said about its pressure; what is seen stands before what is measured of it", &worseRelation, saidOtherwise},
	{"stamps that contradict", "a lower one can agree with the others", &worseRelation, func(_ *step, m hole, _, _ *report.Report) bool {
		return m.aspect == "verdict" && strings.HasPrefix(m.where, "Stamps on its sidewall contradict")
	}},
	{"a spare that is kept at less", "the limit of its wheel fell, and it is kept at no more", &worseRelation, func(s *step, m hole, _, _ *report.Report) bool {
		_, where := named(m)
		return s.change == "wheels for less pressure" && strings.HasPrefix(where+m.where, "spare")
	}},
	{"planned on three axles", "how they share what is loaded is assumed from what each carries now", &worseRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return len(s.before.Trip.Changes) > 0 && len(s.before.Axles) > 2 && s.before.Axles[2].ID == "tag" && strings.HasPrefix(s.change, "more load on") && (m.aspect == "verdict" || m.aspect == "set")
	}},
	{"planned on duals", "how two share what is loaded is assumed from what each carries now", &worseRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return len(s.before.Trip.Changes) > 0 && s.change == "more load on one wheel" && (m.aspect == "verdict" || m.aspect == "set")
	}},
	{"more than the air of the next day explains", "air was added, or another tire read: on a warmer day, or of a lower reading, less of it is too much", &worseRelation, func(s *step, m hole, _, after *report.Report) bool {
		return (s.change == "read on a warmer day" || s.change == "lost more by the next day") && slices.ContainsFunc(s.before.Tires, func(t record.Tire) bool {
			line := after.Tire(t.At)
			return t.NextDay.Is() && line != nil && (strings.HasSuffix(m.where, t.At) || m.aspect == "air" && line.Axle != "" && strings.HasPrefix(m.where, line.Axle+"-"+line.Side.String()))
		})
	}},
	{"a heavier reading has more doubt", "the handbook's tolerance and a slope's shift grow with the load, and what is found by subtraction has that of both", &worseRelation, func(s *step, m hole, _, after *report.Report) bool {
		tolerance, _ := s.before.Weighing.Tolerance.Get() // one of 0 counts as not said
		return (tolerance == 0 || !record.Yes(s.before.Weighing.Level)) && strings.HasPrefix(s.change, "more load on") &&
			(m.aspect == "verdict" && strings.HasPrefix(m.said, "too close") || m.aspect == "drive" && after.Drive == report.BeforeTheTrip)
	}},
	{"a reading that could hardly be", "one that can be, such as less air, is then known", &worseRelation, func(s *step, m hole, before, after *report.Report) bool {
		asks := func(r *report.Report, was report.Item) bool {
			return slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Where == was.Where && it.What == was.What })
		}
		return slices.ContainsFunc(before.Tires, func(t report.TireLine) bool {
			known := slices.ContainsFunc(before.Todo, func(it report.Item) bool { return it.Where == t.At && pressureAgain(it.What) && !asks(after, it) })
			return known && (strings.HasSuffix(m.where, t.At) || m.aspect == "drive" || t.Axle != "" && (strings.HasSuffix(m.where, t.Axle) || m.aspect == "air" && strings.HasPrefix(m.where, t.Axle+"-")))
		})
	}},
	{"too much air", "less air in a tire is less above what it may have", &worseRelation, tooMuchAir},
	{"rules for lighter vehicles", "at 10,000 lb or less a steer tire may have less tread (49 CFR 570.9)", &worseRelation, func(s *step, m hole, _, _ *report.Report) bool {
		return s.change == "lower gross rating" && strings.Contains(m.where, "/tread-steer")
	}},
	{"ratings held against each other", "a lower rating asks less of the parts that have to reach it", &worseRelation, ratingsCompared},
	{"nearer to the other", "two tires differ less where the better one becomes worse", &worseRelation, nearer},
	{"a cut no longer held to the tread", "one deeper than a worn tread counts as to the cord; one in a sidewall is looked at before any air", &worseRelation,
		func(s *step, m hole, before, after *report.Report) bool {
			stops := func(r *report.Report) bool {
				return slices.ContainsFunc(r.Todo, func(it report.Item) bool { return slices.Contains(it.Rules, "coach-care/cut-through-tread") })
			}
			return s.change == "cut nearer the sidewall" && stops(before) && !stops(after) && (m.aspect == "drive" || after.Tire(m.where) != nil && after.Tire(m.where).Air != report.AirFree)
		}},
	{"all alike", "what befell all tires alike is asked about, and no flat of its own", &worseRelation, allAlike},
	{"a worse gauge", "it is less known, not worse", &worseRelation, changes([]string{"worse gauge", "worse scale"}, "")},
	{"a higher placard ends an estimate", "from where the placard promises enough, it counts", &worseRelation,
		changes([]string{"higher placard"}, "")},
	{"a zero through an extension", "a closed extension reads 0: it proves nothing", &worseRelation,
		func(s *step, _ hole, _, _ *report.Report) bool {
			for i := range s.after.Tires {
				w := &s.after.Tires[i]
				at, _ := w.ReadAt.Get()
				found, ok := w.Found.Get()
				if ok && found == 0 && at == record.ThroughExtension && w.Found != s.before.Tires[i].Found {
					return true
				}
			}
			return false
		}},
}

// pressureRules speak about one tire's pressure too.
var pressureRules = []string{"aired-up-flat"}

// program is the default packs, compiled once.
var program = sync.OnceValue(func() *rules.Program {
	p, err := inspect.CompilePacks(packs.FS(), packs.Default()...)
	if err != nil {
		panic(err)
	}
	return p
})

// tasksOf are the default packs' rules by what their advice involves, adviceOf by
// the advice.
var tasksOf = sync.OnceValue(func() map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for _, r := range program().Rules() {
		out[r.Name()] = map[string]bool{}
		for _, task := range r.Tasks() {
			out[r.Name()][task] = true
		}
	}
	return out
})

var adviceOf = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, r := range program().Rules() {
		out[r.Name()] = r.Advice()
	}
	return out
})

// leadsToAir reports whether following a rule's advice puts air in.
func leadsToAir(rule string) bool { return tasksOf()[rule]["air"] }

// aboutLow reports whether a rule says how a tire stands to what it was driven at:
// whichever of them says it, that state is held to the relation.
func aboutLow(rule string) bool {
	tasks := tasksOf()[rule]
	return tasks["ran_low"] && !strings.Contains(rule, "/seen-") || tasks["leak"] || tasks["ask_low"] || strings.HasSuffix(rule, "/mate-run-low")
}

// measuredOnly: nobody wrote down that it was seen, or what was seen is an item by itself.
func measuredOnly(s *step, m hole, before, after *report.Report) bool {
	if !changes([]string{"tires[].crack_depth", "tires[].cut_depth", "tires[].cut_at", "tires[].cut_length", "tires[].injury_width"}, "item", "kept", "nothing found", "nothing left unjudged", "air")(s, m, before, after) {
		return false
	}
	for i := range s.before.Tires {
		was, is := s.before.Tires[i], s.after.Tires[i]
		was.Fill(&s.before.EveryTire)
		seen, _ := was.Seen.Get()
		for _, x := range []struct {
			gone bool
			seen condition.Condition
			rule string
		}{
			{was.CrackDepth.Is() && !is.CrackDepth.Is(), condition.WeatherCracking, "seen-weather-cracking"},
			{was.CutDepth.Is() && !is.CutDepth.Is(), condition.Cut, "seen-cut"},
			{was.InjuryWidth.Is() && !is.InjuryWidth.Is(), condition.NailOrObject, "seen-nail-or-object"},
		} {
			if x.gone && seen.Has(x.seen) && !saysAt(after, x.rule, was.At) {
				return false
			}
		}
	}
	return true
}

// noMore reports whether an axle has no longer a pressure to set, or a lower one.
func noMore(before, after *report.Report, axle string) bool {
	set := func(r *report.Report) inflation.Pressure {
		if s := r.Setting(axle); s != nil {
			return s.Set
		}
		return 0
	}
	return set(after) < set(before) || short(after, axle)
}

// aboveStamp: it was set to more than its sidewall states.
func aboveStamp(s *step, m hole, _, _ *report.Report) bool {
	if kindOf(s.change) != "tires[].last_set" {
		return false
	}
	for i := range s.before.Tires {
		w := s.before.Tires[i]
		if !s.after.Tires[i].LastSet.Is() && w.LastSet.Is() {
			w.Fill(&s.before.EveryTire)
			if towed := s.before.EveryTowedTire; strings.HasPrefix(w.At, "car-") || strings.HasPrefix(w.At, "trailer-") {
				w = s.before.Tires[i]
				w.Fill(&towed)
			}
			set, _ := w.LastSet.Get()
			single, ok1 := w.Single.Get()
			dual, ok2 := w.Dual.Get()
			gauge, _ := s.before.LastSetGauge.Get()
			return ok1 && set+gauge > single.At || ok2 && set+gauge > dual.At
		}
	}
	return false
}

// leaking reports whether one tire of a tire's end leaks.
func leaking(r *report.Report, of *report.TireLine) bool {
	for i := range r.Tires {
		if t := &r.Tires[i]; t.Low == report.Leaking && t.Axle == of.Axle && t.Side == of.Side {
			return true
		}
	}
	return false
}

// saysAt reports whether a report has an item of a rule at a place.
func saysAt(r *report.Report, rule, where string) bool {
	_, found := has(*r, where, rule)
	return found
}

// planBreached reports whether a report says of a place that it will be over
// something after the changes for the trip.
func planBreached(r *report.Report, where string) bool {
	return slices.ContainsFunc(r.Todo, func(it report.Item) bool {
		return it.Where == where && strings.HasPrefix(it.What, "With the changes") && it.Verdict == rules.Breached
	})
}

// short reports whether nothing that tires and wheels of an axle allow carries its load.
func short(r *report.Report, axle string) bool {
	s := r.Setting(axle)
	return s != nil && s.Outcome == inflation.Short
}

// saidBySeen are the rules on measured wear that give way to what was seen.
var saidBySeen = map[string]string{
	"one-shoulder-measured": "seen-one-shoulder-worn", "both-shoulders-measured": "seen-both-shoulders-worn",
	"center-measured": "seen-center-worn", "uneven-around": "seen-", "seen-weather-cracking": "crack-depth",
	"wheel-off-later": "wheel-off", "hole-measured": "seen-nail-or-object",
}

func named(m hole) (rule, where string) {
	rule, where, _ = strings.Cut(m.where, " at ")
	if _, own, ok := strings.Cut(rule, "/"); ok {
		rule = own
	}
	return rule, where
}

func saidOtherwise(s *step, m hole, before, after *report.Report) bool {
	if m.aspect != "verdict" {
		return false
	}
	rule, where := named(m)
	if name, _, _ := strings.Cut(m.where, " at "); aboutLow(name) {
		return true
	}
	if s.change == "left lower" && rule == "aired-up-flat" { // no air went in
		return true
	}
	if m.said == "nothing, before too close" || m.said == "not judged, before too close" { // a worse one on the same load is said of the plan
		if planBreached(after, where) {
			return true
		}
	}
	if rule == "pressure-fits" && saysAt(after, "placard-not-read", where) { // without it there is no number
		return true
	}
	if s.change == "cut nearer the sidewall" && strings.HasSuffix(m.said, "before not judged") { // against a tread that nobody read
		return true
	}
	if strings.HasPrefix(m.where, "Read again: a scale's reading") { // another load is another reading
		return true
	}
	if rule == "pressure-fits" && noMore(after, before, where) { // more is set, and that carries it
		return true
	}
	if s.change == "wheels for less pressure" && strings.HasSuffix(rule, "pressure-fits") && saysAt(after, "placard-above-stamps", where) {
		return true
	}
	if rule == "below-set" || rule == "left-below-set" || rule == "placard-not-read" { // no pressure carries it, or less is allowed
		axle := where
		if line := after.Tire(where); line != nil {
			axle = line.Axle
		}
		if noMore(before, after, axle) || m.said == "too close, before breached" && saysAt(after, "placard-not-read", axle) { // its number only counts until then
			return true
		}
	}
	if name, _, _ := strings.Cut(m.where, " at "); leadsToAir(name) || slices.Contains(pressureRules, rule) {
		if airWorse(before, after, where) {
			return true
		}
		for _, it := range before.Todo { // with something else, which was said; where nobody may put air in, this alone is not
			if it.Where == where && strings.HasPrefix(it.What, "With the changes") && slices.ContainsFunc(after.Tires, func(t report.TireLine) bool {
				return t.Air == report.AirForbidden && stands(&t, where)
			}) {
				return true
			}
		}
	}
	if by, ok := saidBySeen[rule]; ok {
		for _, it := range after.Todo {
			for _, r := range it.Rules {
				if strings.Contains(r, "/"+by) && it.Where == where {
					return true
				}
			}
		}
	}
	return false
}

// airWorse reports whether the state of a tire at a place became worse.
func airWorse(before, after *report.Report, place string) bool {
	for i := range after.Tires {
		t := &after.Tires[i]
		if b := before.Tire(t.At); b != nil && stands(t, place) && (t.Air > b.Air || lowRank(t.Low) > lowRank(b.Low)) {
			return true
		}
	}
	return false
}

// differences are the rules on how two tires differ.
var differences = []string{
	"dual-tread", "shallower-inside", "wear-apart", "pair-age", "found-spread", "found-spread-of-some", "pair-found-apart", "equal-across-axle",
	"equal-among-some", "dual-share", "one-shoulder-measured", "both-shoulders-measured", "center-measured", "uneven-around", "bias-and-radial", "same-construction",
}

func isDifference(rule string) bool {
	if _, own, ok := strings.Cut(rule, "/"); ok {
		rule = own
	}
	for _, d := range differences {
		if rule == d {
			return true
		}
	}
	return false
}

func nearer(_ *step, m hole, before, after *report.Report) bool {
	switch m.aspect {
	case "verdict":
		rule, _ := named(m)
		return isDifference(rule) || derived("/"+rule)
	case "drive":
		return onlyBy(before, isDifference)
	}
	return false
}

// onlyBy reports whether only some rules make the answer about driving what it is.
func onlyBy(r *report.Report, by func(rule string) bool) bool {
	for _, it := range r.Todo {
		if record.IsSpare(it.Where) { // it keeps no coach from driving
			continue
		}
		own := false
		for _, rule := range it.Rules {
			own = own || !by(rule) && !derived(rule)
		}
		worst := it.Action == report.BeforeTrip && r.Drive == report.BeforeTheTrip || it.Action == report.DoNotDrive && r.Drive.Stops()
		if (own || len(it.Rules) == 0) && worst {
			return false
		}
	}
	return true
}

// onlyReadAgain reports whether nothing but a reading that can hardly be makes the
// answer about driving what it is.
func onlyReadAgain(r *report.Report) bool {
	return !slices.ContainsFunc(r.Todo, func(it report.Item) bool {
		return it.Action != report.Plan && !strings.HasPrefix(it.What, "Read again")
	})
}

// isTooMuch reports whether a rule is about too much air.
func isTooMuch(rule string) bool { return strings.Contains(rule, "/most-pressure") }

// pressureAgain reports whether an item asks to read again what a tire holds, or held
// before: less of it can be.
func pressureAgain(what string) bool {
	return strings.HasPrefix(what, "Read again: its pressure") || strings.HasPrefix(what, "Read again: the lowest pressure it was driven at") || strings.HasPrefix(what, "Read again: the pressure it was last set to") || strings.HasPrefix(what, "Read again: the reading before air was added")
}

// tooMuchAir: with less air there is less too much of it.
func tooMuchAir(s *step, m hole, before, _ *report.Report) bool {
	if kind := kindOf(s.change); kind != "less air" && kind != "driven lower" && kind != "more air added" && kind != "left lower" && kind != "warm when read" && kind != "in the sun" && kind != "not moved a little but far" && kind != "a zero through an extension" {
		return false
	}
	return m.aspect == "verdict" && (strings.Contains(m.where, "/most-pressure") || pressureAgain(m.where)) || m.aspect == "drive" && onlyBy(before, isTooMuch)
}

// ratingsCompared: the tires of an axle have to be good for its rating, and are
// held to less where that is lower.
func ratingsCompared(s *step, m hole, before, _ *report.Report) bool {
	lower := func(rule string) bool {
		return strings.HasSuffix(rule, "label/axle-tires") || strings.HasSuffix(rule, "label/axle-wheels") || strings.HasSuffix(rule, "label/gawr-sum") || strings.HasSuffix(rule, "/placard-promises-more")
	}
	if s.change != "lower axle rating" && s.change != "lower gross rating" {
		return false
	}
	return m.aspect == "verdict" && lower(strings.SplitN(m.where, " at ", 2)[0]) || m.aspect == "drive" && onlyBy(before, lower)
}

// allAlike: an axle or the whole coach that fell alike, or was topped up alike,
// is asked about. It never makes a tire good.
func allAlike(s *step, m hole, before, after *report.Report) bool {
	asked := func(at string) bool {
		now := after.Tire(at)
		return slices.ContainsFunc(after.Tires, func(t report.TireLine) bool { // it, or its mate
			return t.Low != report.NotLow && t.Axle == now.Axle && t.Side == now.Side && (alikeNow(s.after, now) || fallenAlike(after, t.At))
		})
	}
	switch m.aspect {
	case "low", "air":
		return asked(m.where)
	case "verdict":
		rule, where := named(m)
		if after.Tire(where) != nil && before.Tire(where) != nil {
			name, _, _ := strings.Cut(m.where, " at ")
			return (leadsToAir(name) || slices.Contains(pressureRules, rule)) && asked(where)
		}
	case "drive":
		for i := range after.Tires {
			t := &after.Tires[i]
			if b := before.Tire(t.At); b != nil && lowRank(t.Low) < lowRank(b.Low) && asked(t.At) {
				return true
			}
		}
	}
	return false
}

// fallenAlike reports whether a report says of a tire that all fell alike.
func fallenAlike(r *report.Report, at string) bool {
	return slices.ContainsFunc([]string{"fallen-alike", "fallen-alike-last-set", "fallen-alike-placard"}, func(rule string) bool { return saysAt(r, rule, at) })
}

// alikeNow reports whether the readings of a tire's axle lie within 5 psi.
func alikeNow(v *record.Visit, of *report.TireLine) bool {
	low, high, n := inflation.Pressure(0), inflation.Pressure(0), 0
	for i := range v.Tires {
		found, ok := v.Tires[i].Found.Get()
		p := found
		for _, was := range []record.Recorded[inflation.Pressure]{v.Tires[i].LowestDriven, v.Tires[i].BeforeAir} {
			if low, said := was.Get(); said {
				p = min(p, low)
			}
		}
		if by, said := v.Tires[i].AirAddedBy.Get(); said {
			p = min(p, found-by)
		}
		if !ok || !strings.HasPrefix(v.Tires[i].At, of.Axle+"-") {
			continue
		}
		if n == 0 || p < low {
			low = p
		}
		high, n = max(high, p), n+1
	}
	return n > 1 && high-low <= 5*inflation.PSI+inflation.PSI/2
}

// weighedBySides reports whether the loads of both ends of an axle were read.
func weighedBySides(c *visittest.Coach, v *record.Visit) bool {
	scale, _ := v.Weighing.Scale.Get()
	return len(v.Weighing.Readings) == len(c.Plates) && (scale == weight.Segmented || scale == weight.Pads)
}

// drivenLow gives the pressure that a tire's load needed, where by what was read
// it was driven at 80 % of it or less.
func drivenLow(c *visittest.Coach, v *record.Visit, t *visittest.TrueTire, w *record.Tire) (inflation.Pressure, bool) {
	need := c.Needs(c.Loads[t.Axle][t.Side][t.Dual], v.Axles[t.Axle].Fitment)
	stood, said := v.ParkedFor.Get()
	if warm := record.Yes(w.Hot) || record.Yes(w.InSun) || said && stood < 3*record.Hour; t.Warm > 0 && !warm { // the page asks
		return 0, false
	}
	driven := min(t.Cold, t.Lowest)
	if since, ok := v.DrivenSince.Get(); ok && !since {
		if driven = t.Lowest; !w.LowestDriven.Is() && !w.AirAddedBy.Is() { // who knows
			return 0, false
		}
	} else if t.Lowest < t.Cold && !w.LowestDriven.Is() {
		driven = t.Cold
	}
	return need, driven*10 <= need*8 && t.Off <= 0
}

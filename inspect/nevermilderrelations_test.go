package inspect_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

var fitments = [...]weight.Fitment{weight.Single, weight.Dual}

// The two relations, and what holds in every report.
var (
	worseRelation     = relation{"worse", worse}
	forgottenRelation = relation{"forgotten", forgotten}
	aloneRelation     = relation{"every visit", func(_ *step, r, _ *report.Report) []hole {
		return slices.Concat(airAdvised(r), flatUnsaid(r), unreadable(r))
	}}
)

var inNumbers = regexp.MustCompile(`\[\d+\]`)

// kindOf is a change without its number.
func kindOf(change string) string { return inNumbers.ReplaceAllString(change, "[]") }

// kind is what came out milder, without the place.
func (m hole) kind() string {
	if m.aspect == "verdict" || m.aspect == "item" || m.aspect == "kept" {
		rule, _, _ := strings.Cut(m.where, " at ")
		return m.aspect + " of " + rule
	}
	return m.aspect
}

// lowRank orders how a tire stands to what it was driven at: asked and leaking
// are of one rank.
func lowRank(l report.Low) int {
	return map[report.Low]int{report.NotLow: 1, report.LowUnknown: 2, report.LowAsked: 3, report.Leaking: 3, report.Flat: 4}[l]
}

// families are rules on one thing, of which the worst counts: what one of them
// says, another may say after a change.
var families = map[string]string{
	"no-pressure": "pressure-fits", "no-pressure-wheel": "pressure-fits", "pressure-too-close": "pressure-fits",
	"found-spread-of-some": "found-spread", "equal-among-some": "equal-across-axle", "wheel-off-later": "wheel-off",
	"spare-low-never-driven": "spare-low", "spare-half": "spare-low", "injury-place-of-nail": "injury-place",
	"left-below-set": "below-set", "below-set-by-share": "below-set", "load-at-left-pressure": "load-at-found-pressure", "most-pressure-left": "most-pressure", "most-pressure-spare-left": "most-pressure-spare",
	"topped-up": "air-in-doubt", "cut-depth-tread": "cut-depth", "cut-through-tread": "cut-depth",
}

// family is the name of the rule's family, its own where it has none.
func family(rule string) string {
	pack, own, _ := strings.Cut(rule, "/")
	if f, ok := families[own]; ok {
		return pack + "/" + f
	}
	return rule
}

// ruleAt is a rule, or its family, on one subject.
type ruleAt struct{ rule, where string }

func (k ruleAt) String() string { return k.rule + " at " + k.where }

// verdictsOf are the verdicts of the rules on each subject, as ranks: 0 kept, or
// not for this subject, 1 not judged, 2 too close, 3 breached. What is asked counts
// as too close, or as not judged: questions about what only a whole axle tells are
// no items.
func verdictsOf(r *report.Report, asked bool) map[ruleAt]int {
	out := make(map[ruleAt]int, len(r.Verdicts))
	put := func(rule, where string, rank int) {
		key := ruleAt{family(rule), where}
		out[key] = max(out[key], rank)
	}
	for _, v := range r.Verdicts {
		rank := 0
		switch {
		case v.Verdict == rules.Breached:
			rank = 3
		case v.Verdict == rules.TooClose || v.Asked && asked:
			rank = 2
		case v.Verdict == rules.NotRecorded:
			rank = 1
		}
		put(v.Rule, v.Where, rank)
	}
	for _, it := range r.Todo {
		rank := 2
		if it.Verdict == rules.Breached {
			rank = 3
		}
		for _, rule := range it.Rules {
			if strings.HasPrefix(it.What, "With the changes") {
				put(rule, it.Where, rank)
			}
		}
		if len(it.Rules) == 0 { // what no rule says
			put(it.What, it.Where, 2)
		}
	}
	return out
}

// ranksOf are the verdicts on the visit before its change.
func (s *step) ranksOf(before *report.Report) map[ruleAt]int {
	if s.ranks != nil {
		return s.ranks
	}
	return verdictsOf(before, false)
}

// worse: nothing is milder on a coach that is worse.
func worse(s *step, before, after *report.Report) []hole {
	var out []hole
	add := func(aspect, where, format string, args ...any) {
		out = append(out, hole{aspect, where, fmt.Sprintf(format, args...)})
	}
	if after.Drive > before.Drive {
		add("drive", "coach", "%v, before %v", after.Drive, before.Drive)
	}
	for i := range after.Tires {
		t := &after.Tires[i]
		b := before.Tire(t.At)
		if b == nil {
			continue
		}
		if t.Air < b.Air {
			add("air", t.At, "%v, before %v", t.Air, b.Air)
		}
		if lowRank(t.Low) < lowRank(b.Low) {
			add("low", t.At, "%v, before %v", t.Low, b.Low)
		}
	}
	now := verdictsOf(after, true)
	for key, v := range s.ranksOf(before) {
		if now[key] < v {
			add("verdict", key.String(), "%s, before %s", rankWords[now[key]], rankWords[v])
		}
	}
	out = append(out, lowerSet(before, after)...)
	slices.SortFunc(out, func(x, y hole) int { return strings.Compare(x.String(), y.String()) })
	return out
}

var rankWords = [...]string{"nothing", "not judged", "too close", "breached"}

// hasNumber reports whether there is a pressure to set.
func hasNumber(s *inflation.Setting) bool { return s.Set > 0 }

// lowerSet lists the axles whose pressure to set is lower, but where what tire or
// wheel allows fell.
func lowerSet(before, after *report.Report) []hole {
	var out []hole
	for i := range after.Settings {
		s := &after.Settings[i]
		switch b := before.Setting(s.Name); {
		case b == nil:
		case !hasNumber(b) && hasNumber(s) && b.Outcome == inflation.Short:
			out = append(out, hole{"set", s.Name, fmt.Sprintf("%v, before no pressure carried it", s.Set)})
		case hasNumber(b) && hasNumber(s) && s.Set < b.Set:
			if s.Cap.Pressure > 0 && (b.Cap.Pressure == 0 || s.Cap.Pressure < b.Cap.Pressure) && s.Set <= s.Cap.Pressure && s.Set > s.Cap.Pressure-5*inflation.PSI {
				continue
			}
			out = append(out, hole{"set", s.Name, fmt.Sprintf("%v, before %v", s.Set, b.Set)})
		}
	}
	return out
}

// forgotten: what is not known clears nothing.
func forgotten(s *step, before, after *report.Report) []hole {
	var out []hole
	add := func(aspect, where, format string, args ...any) {
		out = append(out, hole{aspect, where, fmt.Sprintf(format, args...)})
	}
	if after.Drive == report.NothingFound && before.Drive != report.NothingFound {
		if before.Drive.Stops() {
			add("stop", "coach", "%v, before %v", after.Drive, before.Drive)
		} else {
			add("nothing found", "coach", "%v, before %v", after.Drive, before.Drive)
		}
	}
	if after.NotJudged == 0 && before.NotJudged > 0 {
		add("nothing left unjudged", "coach", "before %d", before.NotJudged)
	}
	for i := range after.Tires {
		t := &after.Tires[i]
		b := before.Tire(t.At)
		if b == nil {
			continue
		}
		if t.Air == report.AirFree && b.Air != report.AirFree {
			add("air", t.At, "%v, before %v", t.Air, b.Air)
		}
		if t.Low == report.NotLow && b.Low != report.NotLow {
			add("low", t.At, "%v, before %v", t.Low, b.Low)
		}
	}
	now, told := verdictsOf(after, true), toldOf(before, after)
	for key, v := range s.ranksOf(before) {
		if is, judged := now[key]; judged && is == 0 && v > 0 && !derived(key.rule) {
			add("kept", key.String(), "before %s", rankWords[v])
		}
		if now[key] == 0 && v >= 2 && !told[key.rule] && !told[key.where] && !derived(key.rule) {
			add("item", key.String(), "gone, and not under what was not judged; before %s", rankWords[v])
		}
	}
	out = append(out, lowerSet(before, after)...)
	slices.SortFunc(out, func(x, y hole) int { return strings.Compare(x.String(), y.String()) })
	return out
}

// toldOf are the rules that what was not judged names, and the places of which
// it asks for more than before: a tire's stand for its pair, axle and coach.
func toldOf(before, after *report.Report) map[string]bool {
	told := map[string]bool{}
	for _, g := range after.Unjudged {
		for _, rule := range g.Rules {
			told[rule] = true
		}
		if slices.ContainsFunc(before.Unjudged, func(b report.NotJudged) bool { return b.Where == g.Where && b.Need == g.Need }) {
			continue
		}
		for at := g.Where; ; at = at[:strings.LastIndexByte(at, '-')] {
			told[at] = true
			if strings.LastIndexByte(at, '-') < 0 {
				break
			}
		}
		if line := after.Tire(g.Where); line != nil {
			told[line.Axle], told["coach"] = true, true
			for _, t := range after.Tires { // what is asked of one of a pair is asked of both
				if line.Place != record.Alone && t.Axle == line.Axle && t.Side == line.Side {
					told[t.At] = true
				}
			}
		}
	}
	return told
}

// derived reports whether a rule asks for something only because another does.
func derived(rule string) bool {
	return strings.HasSuffix(rule, "/wheel-off") || strings.HasSuffix(rule, "/wheel-off-later")
}

// airAdvised lists advice that leads to air for a tire whose air is not free, or
// for a pair or an axle with one.
func airAdvised(r *report.Report) []hole {
	var out []hole
	for _, it := range r.Todo {
		for _, rule := range it.Rules {
			if !leadsToAir(rule) || !strings.Contains(it.Advice, adviceOf()[rule]) {
				continue
			}
			for i := range r.Tires {
				if t := &r.Tires[i]; t.Air != report.AirFree && stands(t, it.Where) {
					out = append(out, hole{"air advised", it.Where, rule + " is given, and the air of " + t.At + " is " + t.Air.String()})
				}
			}
		}
	}
	return out
}

// flatUnsaid lists the tires on the road that count as flat without an item that
// stops the coach and says so.
func flatUnsaid(r *report.Report) []hole {
	var out []hole
	for i := range r.Tires {
		t := &r.Tires[i]
		said := t.Axle == "" || t.Low != report.Flat
		for _, it := range r.Todo {
			for _, rule := range it.Rules {
				said = said || it.Where == t.At && it.Stops && tasksOf()[rule]["ran_low"]
			}
		}
		if !said || t.Low == report.Flat && t.Axle != "" && !r.Drive.Stops() {
			out = append(out, hole{"flat unsaid", t.At, fmt.Sprintf("it counts as flat, its item says so: %v; drive: %v", said, r.Drive)})
		}
	}
	return out
}

// unreadable lists figures that nobody writes: with a dozen decimals, in a unit that
// is not the visit's.
func unreadable(r *report.Report) []hole {
	var out []hole
	for _, it := range r.Todo {
		if strings.Contains(it.Found+it.Bound, "~") {
			out = append(out, hole{"unreadable", it.Where, it.Found + "; " + it.Bound})
		}
	}
	return out
}

// stands reports whether a tire is at a place: its own, its pair's, end's or axle's.
func stands(t *report.TireLine, place string) bool {
	return t.At == place || t.Axle == place || t.Axle != "" && strings.HasPrefix(t.At, place+"-")
}

// alone lists what one visit's report may never say, by what the coach truly is:
// that a tire is not low which was driven at 80 % or less of what it needed, or that
// a rating is kept that is not.
func alone(c *visittest.Coach, v *record.Visit, setup inspect.Setup, by assessor) []hole {
	r, err := by(v, setup)
	if err != nil {
		return nil
	}
	out := falselyKept(c, v, &r)
	for i := range v.Tires {
		t, w := &c.Tires[i], &v.Tires[i]
		line := r.Tire(w.At)
		if t.Axle < 0 || line == nil || v.Axles[t.Axle].Towed || !weighedBySides(c, v) || c.Loads[t.Axle][t.Side][1] > 0 && c.Loads[t.Axle][t.Side][0] != c.Loads[t.Axle][t.Side][1] {
			continue
		}
		rating, every := w.Single, v.EveryTire.Single
		if v.Axles[t.Axle].Fitment == weight.Dual {
			rating, every = w.Dual, v.EveryTire.Dual
		}
		if len(tablesOf(&setup)) == 0 && !rating.Is() && !every.Is() { // nothing says what its load needs
			continue
		}
		if need, ok := drivenLow(c, v, t, w); ok && line.Low == report.NotLow {
			out = append(out, hole{"not low", w.At, fmt.Sprintf("driven at %v or less, and its load needed %v", min(t.Lowest, t.Cold), need)})
		}
	}
	return out
}

// falselyKept lists the ratings that are said to be kept, and truly are not.
func falselyKept(c *visittest.Coach, v *record.Visit, r *report.Report) []hole {
	layout, err := v.Layout()
	if err != nil {
		return nil
	}
	var out []hole
	for _, said := range r.Verdicts {
		if said.Verdict != rules.Kept {
			continue
		}
		over, of := false, weight.Mass(0)
		switch strings.SplitN(said.Rule, "/", 2)[1] {
		case "gvwr":
			of, _ = v.Ratings.GVWR.Get()
			over = c.Load(layout, "coach") > of
		case "gawr":
			for _, a := range v.Axles {
				if a.ID == said.Where {
					of, _ = a.GAWR.Get()
					over = c.Load(layout, a.ID) > of
				}
			}
		case "half-gawr":
			for _, a := range v.Axles {
				if strings.HasPrefix(said.Where, a.ID+"-") {
					of, _ = a.GAWR.Get()
					over = c.Load(layout, said.Where) > of/2
				}
			}
		case "load-at-found-pressure":
			over, of = c.Overloaded(v, said.Where)
		}
		if over {
			out = append(out, hole{"falsely kept", said.Rule + " at " + said.Where, fmt.Sprintf("of %v", of)})
		}
	}
	return out
}

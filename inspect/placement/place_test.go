package placement_test

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

func placed(t testing.TB, v *record.Visit, setup inspect.Setup) placement.Placement {
	t.Helper()
	r, err := placement.Find(context.Background(), v, setup)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A spot is a place of the test's own model of a coach.
type spot struct {
	name  string
	axle  string // "" for a spare
	end   string
	inner bool
	mate  int // index, or -1
	left  bool
}

func (s spot) road() bool { return s.axle != "" }

// spots writes the places of a coach out anew: steer, drive with duals, and
// maybe a tag axle, then spares.
func spots(tag bool, spares int) []spot {
	list := []spot{
		{"steer-left", "steer", "steer-left", false, -1, true}, {"steer-right", "steer", "steer-right", false, -1, false},
		{"drive-left-outer", "drive", "drive-left", false, 3, true}, {"drive-left-inner", "drive", "drive-left", true, 2, true},
		{"drive-right-inner", "drive", "drive-right", true, 5, false}, {"drive-right-outer", "drive", "drive-right", false, 4, false},
	}
	if tag {
		list = append(list, spot{"tag-left", "tag", "tag-left", false, -1, true}, spot{"tag-right", "tag", "tag-right", false, -1, false})
	}
	for i := range spares {
		name := "spare"
		if i > 0 {
			name = fmt.Sprintf("spare-%d", i+1)
		}
		list = append(list, spot{name: name, mate: -1})
	}
	return list
}

// A trial is a random coach with its tires, and what the test's own scorer
// needs of them.
type trial struct {
	spots []spot
	visit *record.Visit
}

func pick[T any](r *rand.Rand, list ...T) T { return list[r.IntN(len(list))] }

func newTrial(r *rand.Rand, tag bool, spares int) trial {
	x := trial{spots: spots(tag, spares)}
	none := record.Record(record.NoPlacard())
	v := &record.Visit{
		Version: 1, Invented: true, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3},
		Axles: []record.Axle{{ID: "steer", Fitment: weight.Single, GAWR: record.Record(7600 * weight.Pound), Placard: none},
			{ID: "drive", Fitment: weight.Dual, GAWR: record.Record(13000 * weight.Pound), Placard: none}},
	}
	ends := []string{"steer-left", "steer-right", "drive-left", "drive-right"}
	loads := []int{2500, 2600, 5200, 6000}
	if tag {
		v.Axles = append(v.Axles, record.Axle{ID: "tag", Fitment: weight.Single, GAWR: record.Record(7600 * weight.Pound), Placard: none})
		ends, loads = append(ends, "tag-left", "tag-right"), append(loads, 2300, 2400)
	}
	v.Weighing.Scale, v.Weighing.Level = record.Record(weight.Pads), record.Record(true)
	v.Weighing.Tolerance, v.Weighing.AsDriven = record.Record(10*weight.Pound), record.Record(true)
	for i, e := range ends {
		v.Weighing.Readings = append(v.Weighing.Readings, record.Reading{Load: weight.Mass(loads[i]) * weight.Pound, On: []string{e}})
	}
	wild := r.IntN(3) // how many things are unlike
	for _, s := range x.spots {
		t := record.Tire{At: s.name, Size: "AX240/75R20", Class: record.Record(inflation.Truck), Construction: record.Record(inflation.Radial),
			LastSet: record.Record(100 * inflation.PSI), Found: record.Record(100 * inflation.PSI), Number: record.Record("2223"),
			Seen: record.Record(condition.Set(0)), Wheel: record.Record(record.Stamp{Load: 9000 * weight.Pound, At: 130 * inflation.PSI})}
		single, dual := 4000, 3700
		if r.IntN(12) == 0 {
			single, dual = 2900, 2800 // enough but for the heavier drive end
		}
		t.Single = record.Record(record.Stamp{Load: weight.Mass(single) * weight.Pound, At: 110 * inflation.PSI})
		t.Dual = record.Record(record.Stamp{Load: weight.Mass(dual) * weight.Pound, At: 110 * inflation.PSI})
		if r.IntN(14) > 0 || wild == 0 {
			t.Tread = record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(1+r.IntN(6+4*wild)) * record.ThirtySecond}})
		}
		odd := func(n int) bool { return wild > 0 && r.IntN(n) == 0 }
		if odd(2) {
			t.Model = pick(r, "alpha", "beta")
		}
		if odd(3) {
			t.Diameter = record.Record(41*weight.Inch + weight.Length(r.IntN(10))*weight.Inch/10)
		}
		if odd(10) {
			t.Size = "AX225/75R20"
		}
		if odd(10) {
			t.Construction = record.Record(inflation.Bias)
		}
		if odd(6) {
			t.Retread = record.Record(true)
		}
		if odd(8) {
			t.Number = record.Record(pick(r, "2210", "2219")) // 16 and 7 years old
		}
		if odd(7) {
			t.Seen = record.Record(condition.Set(0).With(pick(r, condition.ExposedCord, condition.Bulge, condition.ValveLeaking, condition.NailOrObject)))
		}
		if odd(8) {
			t.Found = record.Record(70 * inflation.PSI) // a flat, on the road
		}
		if odd(4) {
			t.Rotates = record.Record(pick(r, record.OnLeft, record.OnRight, record.EitherSide))
		}
		if odd(5) {
			t.WheelFits = pick(r, []string{"steer"}, []string{"outer"}, []string{"drive"}, []string{"inner", "alone"}, []string{"drive-left"})
			if s.road() && !fitsSpot(t.WheelFits, s) {
				t.WheelFits = nil
			}
		}
		v.Tires = append(v.Tires, t)
	}
	x.visit = v
	return x
}

func fitsSpot(names []string, s spot) bool {
	if len(names) == 0 || !s.road() {
		return true
	}
	for _, n := range names {
		switch n {
		case s.axle, s.end, s.name:
			return true
		case "inner":
			if s.inner {
				return true
			}
		case "outer":
			if s.mate >= 0 && !s.inner {
				return true
			}
		case "alone":
			if s.mate < 0 {
				return true
			}
		}
	}
	return false
}

// A score is the test's own judgment of an arrangement, in the order that
// PlaceTires documents; lower is better.
type score struct {
	bare, empty, soft, unsure, inner int
	unread                           int // come onto the steer axle
	used, work                       int
	low, high                        int // treads of the steer axle, below zero
	ends                             int // opened
}

func (s score) compare(o score) int {
	return cmp.Or(s.bare-o.bare, s.empty-o.empty, s.soft-o.soft, s.unsure-o.unsure, s.inner-o.inner, s.unread-o.unread, s.used-o.used, s.work-o.work, s.low-o.low, s.high-o.high, s.ends-o.ends)
}

const notProbed = -99

func tread(t *record.Tire) int {
	d, ok := t.Tread.Get()
	if !ok {
		return notProbed
	}
	return int(d.Anywhere[0] / record.ThirtySecond)
}

func inches(t *record.Tire) float64 {
	d, _ := t.Diameter.Get()
	return float64(d) / float64(weight.Inch)
}

// flat reports a tire that was driven at 80 % of its pressure or less.
func (x trial) flat(i int) bool {
	f, _ := x.visit.Tires[i].Found.Get()
	return x.spots[i].road() && f <= 80*inflation.PSI
}

// alone judges one tire at one place by the rules of the default packs,
// written out anew: 49 CFR 393.75 and common practice.
func (x trial) alone(i, at int) (ok bool, soft, unsure int) {
	t, s := &x.visit.Tires[i], x.spots[at]
	if m := x.spots[i].mate; x.flat(i) || m >= 0 && x.flat(m) {
		return false, 0, 0
	}
	if seen, _ := t.Seen.Get(); seen.Has(condition.ExposedCord) || seen.Has(condition.Bulge) {
		return false, 0, 0
	}
	size := !s.road() // an axle keeps the sizes found on it
	for k, other := range x.spots {
		size = size || other.axle == s.axle && x.visit.Tires[k].Size == t.Size
	}
	if !size {
		return false, 0, 0
	}
	least := 2
	if s.axle == "steer" {
		least = 4
	}
	switch d := tread(t); {
	case d == notProbed:
		unsure = 1
	case d < least:
		return false, 0, 0
	}
	if seen, _ := t.Seen.Get(); seen.Has(condition.NailOrObject) {
		unsure = 1 // nobody said where
	}
	if re, _ := t.Retread.Get(); re && s.axle == "steer" {
		return false, 0, 0
	}
	switch n, _ := t.Number.Get(); n {
	case "2210":
		return false, 0, 0
	case "2219":
		soft = 1
	}
	if single, _ := t.Single.Get(); s.axle == "steer" && x.spots[i].end == "drive-right" && single.Load < 3000*weight.Pound {
		return false, 0, 0 // it carried more than its 2800 lb: not to the steer axle
	}
	if single, _ := t.Single.Get(); s.axle == "drive" && single.Load < 3000*weight.Pound {
		return false, 0, 0 // 3000 lb on each tire of the heavier end, one good for 2800
	}
	return true, soft, unsure
}

// pairOf judges a dual pair: common practice; US Army TM 9-2610-200-14 table
// 2-1 and para 2-11; COMAR 11.14.05.05.
func (x trial) pairOf(o, i int) (ok bool, soft, unsure int) {
	to, ti := &x.visit.Tires[o], &x.visit.Tires[i]
	if to.Size != ti.Size || to.Construction != ti.Construction {
		return false, 0, 0
	}
	bySize := false
	if to.Diameter.Is() && ti.Diameter.Is() {
		d := inches(to) - inches(ti)
		if d > 0.501 || d < -0.001 {
			return false, 0, 0
		}
		bySize = d > 0.001
	}
	if to.Model != "" && ti.Model != "" && to.Model != ti.Model && !(to.Diameter.Is() && ti.Diameter.Is()) && x.spots[o].mate != i {
		return false, 0, 0 // two makes that nobody measured
	}
	do, di := tread(to), tread(ti)
	if do == notProbed || di == notProbed {
		return true, 0, 1
	}
	if max(do-di, di-do) > 4 {
		return false, 0, 0
	}
	models := to.Model != "" && ti.Model != "" && to.Model != ti.Model
	if di > do && !bySize && !models {
		soft = 1
	}
	return true, soft, 0
}

func (x trial) score(at []int) (s score, ok bool) {
	opened := map[string]bool{}
	for p, t := range at {
		sp := x.spots[p]
		if sp.road() && (t < 0 || x.work(t, p) > 0) && !opened[sp.end] {
			opened[sp.end] = true
			s.ends++
		}
		if t < 0 {
			switch {
			case !sp.road():
				s.empty++
				continue
			case sp.inner && at[sp.mate] >= 0:
				s.inner++
			}
			s.bare++
			continue
		}
		ok, soft, unsure := x.alone(t, p)
		if !ok {
			return s, false
		}
		s.soft += soft
		s.unsure = max(s.unsure, unsure)
		if sp.axle == "steer" && x.spots[t].axle != "steer" {
			s.unread += unsure
		}
		if sp.mate >= 0 && !sp.inner && at[sp.mate] >= 0 {
			ok, soft, unsure := x.pairOf(t, at[sp.mate])
			if !ok {
				return s, false
			}
			s.soft += soft
			s.unsure = max(s.unsure, unsure)
		}
		s.work += x.work(t, p)
		s.used -= max(0, tread(&x.visit.Tires[t]))
	}
	steer := []int{}
	for _, axle := range []string{"steer", "drive", "tag"} {
		full, n, sum, bias, size := true, 0, 0, 0, ""
		for p, sp := range x.spots {
			if sp.axle != axle {
				continue
			}
			t := at[p]
			if t < 0 {
				full = false
				continue
			}
			n++
			if own := x.visit.Tires[t].Size; size != "" && own != size {
				return s, false // two sizes on one axle (COMAR 11.14.05.05)
			}
			size = x.visit.Tires[t].Size
			c, _ := x.visit.Tires[t].Construction.Get()
			if c == inflation.Bias {
				bias++
			}
			single, _ := x.visit.Tires[t].Single.Get()
			dual, _ := x.visit.Tires[t].Dual.Get()
			if sp.mate >= 0 {
				sum += int(dual.Load / weight.Pound)
			} else {
				sum += int(single.Load / weight.Pound)
			}
			if axle == "steer" {
				steer = append(steer, max(0, tread(&x.visit.Tires[t])))
			}
		}
		if bias > 0 && bias < n {
			return s, false
		}
		if gawr := map[string]int{"steer": 7600, "drive": 13000, "tag": 7600}[axle]; full && n > 0 && sum < gawr {
			s.soft++
		}
	}
	if len(steer) > 0 {
		s.low, s.high = -slices.Min(steer), -slices.Max(steer)
	}
	return s, true
}

// work counts a move as one and a demount as two more.
func (x trial) work(t, p int) int {
	side, arrow := x.visit.Tires[t].Rotates.Get()
	sp := x.spots[p]
	wrong := arrow && sp.road() && (side == record.OnLeft && !sp.left || side == record.OnRight && sp.left)
	demount := wrong || t != p && !fitsSpot(x.visit.Tires[t].WheelFits, sp)
	switch {
	case demount:
		return 3
	case t == p:
		return 0
	}
	return 1
}

// best is the score of what is to be proposed: of the arrangement that brute finds, or
// of the wheels as they stand where they are the best once what is missing was read.
func (x trial) best() score {
	if read, at := x.brute(false); read.work == 0 {
		s, _ := x.score(at)
		return s
	}
	s, _ := x.brute(true)
	return s
}

// brute tries every arrangement there is, but those that leave more wheel
// positions bare than one that was scored: none of these is the best. What was not
// read may count.
func (x trial) brute(unread bool) (score, []int) {
	at := make([]int, len(x.spots))
	used := make([]bool, len(x.spots))
	best, found, where := score{}, false, []int(nil)
	var walk func(p, bare int)
	walk = func(p, bare int) {
		if found && bare > best.bare {
			return
		}
		if p == len(at) {
			s, ok := x.score(at)
			if !unread {
				s.unsure = 0
			}
			if ok && (!found || s.compare(best) < 0) {
				best, found, where = s, true, slices.Clone(at)
			}
			return
		}
		for t := range used {
			if used[t] {
				continue
			}
			if ok, _, _ := x.alone(t, p); !ok {
				continue
			}
			used[t], at[p] = true, t
			walk(p+1, bare)
			used[t] = false
		}
		if at[p] = -1; x.spots[p].road() {
			bare++
		}
		walk(p+1, bare)
	}
	walk(0, 0)
	return best, where
}

func (x trial) index(name string) int {
	return slices.IndexFunc(x.spots, func(s spot) bool { return s.name == name })
}

// TestPlacementAgainstBruteForce holds the search against every arrangement
// there is, scored by rules written out anew, and carries out its steps.
func TestPlacementAgainstBruteForce(t *testing.T) {
	sets := 2600
	if !testsize.Full() {
		sets = 60
	}
	r := rand.New(rand.NewPCG(5, 20261003))
	outcomes := map[placement.Outcome]int{}
	for n := range sets {
		x := newTrial(r, false, 1) // six places and a spare
		if n%130 == 40 {
			x = newTrial(r, true, 0) // eight places
		}
		res := placed(t, x.visit, inspect.Setup{})
		outcomes[res.Outcome]++
		at := make([]int, len(x.spots))
		for i, l := range res.Places {
			if at[i] = -1; l.Tire != "" {
				at[i] = x.index(l.Tire)
			}
		}
		got, ok := x.score(at)
		want := x.best()
		if !ok {
			t.Errorf("set %d: the arrangement breaks a rule: %v", n, at)
		} else if res.Outcome != placement.Rotate && got != want {
			t.Errorf("set %d: %+v scores %+v, the best %+v; not proposed: %s", n, at, got, want, res.NotProposed)
		}
		casing := slices.ContainsFunc(at, func(t int) bool { // how old it is nobody reads, wherever it goes
			if t < 0 {
				return false
			}
			re, _ := x.visit.Tires[t].Retread.Get()
			return re
		})
		if (want.unsure > 0 || casing) != (res.NotJudged > 0) && res.Outcome != placement.Rotate {
			t.Errorf("set %d: not judged %d, want %d at least: %+v %+v", n, res.NotJudged, want.unsure, res.Unjudged, res.TooClose)
		}
		if err := x.carryOut(res); err != nil {
			t.Errorf("set %d: %v\n%s", n, err, steps(res))
		}
		if t.Failed() {
			data, _ := json.Marshal(x.visit)
			t.Fatalf("%s", data)
		}
	}
	for o := placement.NoMove; o <= placement.Buy; o++ {
		if o != placement.Rotate && outcomes[o] == 0 && testsize.Full() {
			t.Errorf("no set came out as %q: %v", o, outcomes)
		}
	}
}

// TestStepsOfLargerCoaches: with a tag axle and two spares there is too much to
// try everything; the rules are kept, what was found is not beaten by less
// work, and the steps can be carried out.
func TestStepsOfLargerCoaches(t *testing.T) {
	sets := 400
	if !testsize.Full() {
		sets = 40
	}
	r := rand.New(rand.NewPCG(7, 20261003))
	for n := range sets {
		x := newTrial(r, true, 2)
		res := placed(t, x.visit, inspect.Setup{})
		at, found := make([]int, len(x.spots)), make([]int, len(x.spots))
		for i, l := range res.Places {
			if found[i], at[i] = i, -1; l.Tire != "" {
				at[i] = x.index(l.Tire)
			}
		}
		got, ok := x.score(at)
		if !ok {
			t.Errorf("set %d: the arrangement breaks a rule: %v", n, at)
		}
		if before, ok := x.score(found); ok && before.compare(got) < 0 && res.Outcome != placement.Rotate {
			t.Errorf("set %d: found %+v, proposed %+v", n, before, got)
		}
		if err := x.carryOut(res); err != nil {
			t.Errorf("set %d: %v\n%s", n, err, steps(res))
		}
		if t.Failed() {
			data, _ := json.Marshal(x.visit)
			t.Fatalf("%s", data)
		}
	}
}

func steps(r placement.Placement) string {
	var b strings.Builder
	for _, s := range r.Steps {
		fmt.Fprintf(&b, "%+v\n", s)
	}
	return b.String()
}

// carryOut does the steps with wheels that are somewhere: no place ever holds
// two, an inner one moves only while the outer one is off, one end is open at
// a time and no other without its wheels, and what was proposed comes out.
func (x trial) carryOut(r placement.Placement) error {
	on := map[string]string{}   // the wheel on each place
	tire := map[string]string{} // the tire on each wheel
	turned := map[string]bool{} // tires turned on their wheel
	arrow := map[string]weight.Side{}
	spot := map[string]spot{} // by name
	for _, s := range x.spots {
		on[s.name], tire[s.name], spot[s.name] = s.name, s.name, s
	}
	label := func(s placement.Step) string {
		switch {
		case s.Borrowed:
			return "borrowed"
		case s.Bought:
			return "bought for " + s.Tire
		}
		return s.Tire
	}
	wheelWith := func(t string) string {
		if t == "borrowed" {
			return t
		}
		for w, have := range tire {
			if have == t {
				return w
			}
		}
		return ""
	}
	loose := func(w string) bool {
		for p, have := range on {
			if have == w && w != "borrowed" {
				return p == ""
			}
		}
		return true
	}
	open, waiting := "", map[string]bool{} // on its stand
	for i, s := range r.Steps {
		bad := func(text string, args ...any) error {
			return fmt.Errorf("step %d, %+v: %s", i+1, s, fmt.Sprintf(text, args...))
		}
		sp := spot[s.Place]
		w := wheelWith(label(s))
		if s.Out && slices.ContainsFunc(r.Steps[i+1:], func(after placement.Step) bool { return after.OntoWheel == w || after.Wheel == w }) {
			return bad("%s goes back on after all", w)
		}
		// The chalk is on the wheel: whoever carries it has to be told which.
		if s.Do != placement.Demount {
			at, bought := w, ""
			if place, is := strings.CutPrefix(w, "any wheel for "); is {
				at, bought = "", place
			} else if s.Borrowed || w == s.Tire {
				at = ""
			}
			if s.Wheel != at || s.WheelFor != bought {
				return bad("its tire is on wheel %q", w)
			}
		}
		switch s.Do {
		case placement.LiftEnd:
			if open != "" {
				return bad("%s is still open", open)
			}
			if s.OnStand != waiting[s.End] {
				return bad("on its stand already: %t", waiting[s.End])
			}
			open = s.End
		case placement.LowerEnd:
			if open != s.End {
				return bad("%s is open", open)
			}
			waiting[open], open = s.Waits, ""
		case placement.TakeOff:
			if sp.end != open || on[s.Place] != w || w == "" {
				return bad("%q is there, %s is open", on[s.Place], open)
			}
			if sp.inner && on[x.spots[sp.mate].name] != "" {
				return bad("the outer wheel is on")
			}
			on[s.Place] = ""
		case placement.FetchSpare:
			if sp.road() || on[s.Place] != w || w == "" {
				return bad("%q is on the carrier", on[s.Place])
			}
			on[s.Place] = ""
		case placement.StowSpare:
			if sp.road() || on[s.Place] != "" || w == "" || !loose(w) {
				return bad("%q is on the carrier; loose %t", on[s.Place], loose(w))
			}
			on[s.Place] = w
		case placement.PutOn:
			if sp.end != open || on[s.Place] != "" || w == "" || !loose(w) {
				return bad("%q is there, %s is open, loose %t", on[s.Place], open, loose(w))
			}
			if sp.inner && on[x.spots[sp.mate].name] != "" {
				return bad("the outer wheel is on")
			}
			if before := r.Steps[i-1]; s.StandOnly && before.Do == placement.TakeOff && before.Place == s.Place && before.Tire == s.Tire {
				return bad("it comes off to go back on")
			}
			if s.StandOnly && !s.Borrowed && x.flat(x.index(s.Tire)) {
				return bad("stands on a flat")
			}
			if home := x.index(w); home >= 0 && !fitsSpot(x.visit.Tires[home].WheelFits, sp) && home != x.index(s.Place) {
				return bad("wheel %s does not fit", w)
			}
			on[s.Place] = w
		case placement.Demount:
			if w != "" && !loose(w) || s.OntoWheel != "" && !loose(s.OntoWheel) {
				return bad("a wheel is not off")
			}
			arrow[label(s)] = s.Arrow
			if w != "" && w == s.OntoWheel {
				turned[s.Tire] = !turned[s.Tire]
				continue
			}
			delete(tire, w)
			onto := s.OntoWheel
			if onto == "" {
				onto = "any wheel for " + s.WheelFor
			}
			tire[onto] = label(s)
		default:
			return bad("unknown")
		}
		bare := map[string]int{}
		for _, p := range x.spots {
			if p.road() && on[p.name] != "" {
				bare[p.end]++
			}
		}
		for _, p := range x.spots {
			if p.road() && bare[p.end] == 0 && p.end != open {
				return bad("%s stands without a wheel", p.end)
			}
		}
	}
	if open != "" || slices.Contains(slices.Collect(maps.Values(waiting)), true) {
		return fmt.Errorf("%s is left open, on stands: %v", open, waiting)
	}
	for i, l := range r.Places {
		want := l.Tire
		if want == "" && x.spots[i].road() {
			want = "bought for " + l.At
		}
		got := tire[on[l.At]]
		if got != want && (want != "" || !slices.ContainsFunc(r.Out, func(o placement.TireTakenOff) bool { return o.Tire == got }) && got != "") {
			return fmt.Errorf("%s has %q, wanted %q", l.At, got, want)
		}
		if want != "" && x.spots[i].road() && l.Tire != "" {
			t := &x.visit.Tires[x.index(l.Tire)]
			side, ok := t.Rotates.Get()
			wrong := ok && (side == record.OnLeft && !x.spots[i].left || side == record.OnRight && x.spots[i].left)
			demounted := on[l.At] != l.Tire
			if wrong && !turned[l.Tire] && !demounted {
				return fmt.Errorf("%s runs against its arrow", l.At)
			}
			// Onto another wheel it goes whichever way round: that is to be said.
			if told := weight.Left; ok && side != record.EitherSide && demounted {
				if !x.spots[i].left {
					told = weight.Right
				}
				if arrow[l.Tire] != told {
					return fmt.Errorf("%s: its arrow is to point forward on the %s side, told %s", l.At, told, arrow[l.Tire])
				}
			}
		}
	}
	return nil
}

// TestPlacementIsStable: same input, same bytes, and the JSON reads back.
func TestPlacementIsStable(t *testing.T) {
	v, setup := visittest.Demo(t)
	a, b := placed(t, v, setup), placed(t, v, setup)
	x, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	if y, err := json.Marshal(b); err != nil || string(x) != string(y) {
		t.Errorf("two runs differ: %v", err)
	}
	var back placement.Placement
	if err := json.Unmarshal(x, &back); err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff(a, back, gocmp.AllowUnexported(record.Recorded[weight.Length]{}, record.Recorded[placement.Rotation]{}, record.Recorded[inflation.Construction]{})); diff != "" {
		t.Error(diff)
	}
}

func TestPlacementErrors(t *testing.T) {
	none := visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\nweighing: {as_driven: all, readings: [{load: 2000 lb, on: steer}]}\n")
	if _, err := placement.Find(context.Background(), none, inspect.Setup{}); !errors.Is(err, placement.ErrNoTires) {
		t.Errorf("no tires: %v", err)
	}
	many := "visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: dual}, {id: b, fitment: dual}, {id: c, fitment: dual}, {id: d, fitment: dual}]\ntires: [{at: spare}]\n"
	if _, err := placement.Find(context.Background(), visittest.Read(t, many), inspect.Setup{}); !errors.Is(err, placement.ErrTooManyTires) {
		t.Errorf("17 tires: %v", err)
	}
	v, setup := visittest.Demo(t)
	if _, err := placement.Find(context.Background(), v, inspect.Setup{Program: new(rules.Program)}); !errors.Is(err, rules.ErrVocabulary) {
		t.Errorf("a program that was not compiled: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := placement.Find(ctx, v, setup); !errors.Is(err, context.Canceled) {
		t.Errorf("canceled: %v", err)
	}
}

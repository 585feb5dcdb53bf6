package judge

import (
	"slices"
	"strings"

	"axleend.example/rules"
	"axleend.example/weight"
)

// A Group are axles, axle ends or wheels of which the scale says only what they carry
// together, as of a drive and a tag axle on one plate: nothing then says which of them is
// over its rating, but together they carry no more than all their ratings.
type Group struct {
	// Name is what it is called: "drive + tag", "left side".
	Name string
	Set  weight.Set
	// Whether none of its parts was weighed by itself, and none of its axles.
	noPart, noAxle bool
}

// Groups finds those of a weighing: what was read on one plate, what a side or a whole
// adds up to, and what these differ by, where none of what it consists of is known.
func (a *Assessment) Groups() []Group {
	if len(a.Solution.Readings()) == 0 || a.everyEndWeighed() {
		return nil
	}
	known := a.weighedSets()
	var out []Group
	for _, set := range known {
		if byItself(set) {
			continue
		}
		g := Group{Set: set, noPart: true, noAxle: a.wholeAxles(set)}
		for _, part := range known {
			if part == set || part&^set != 0 {
				continue
			}
			g.noPart = false
			g.noAxle = g.noAxle && !a.wholeAxles(part)
		}
		if g.noPart || g.noAxle {
			g.Name = a.groupName(set)
			out = append(out, g)
		}
	}
	return out
}

func (a *Assessment) everyEndWeighed() bool {
	for i := range a.Visit.Axles {
		if !weighed(a.endLoad(i, weight.Left)) || !weighed(a.endLoad(i, weight.Right)) {
			return false
		}
	}
	return true
}

// weighedSets are the sets of which a scale says what they carry.
func (a *Assessment) weighedSets() []weight.Set {
	var out []weight.Set
	tried := make(map[weight.Set]bool)
	try := func(set weight.Set) {
		if set != 0 && !tried[set] {
			tried[set] = true
			if weighed(a.Solution.Of(set)) {
				out = append(out, set)
			}
		}
	}
	for _, set := range a.Solution.Rig().Sums() {
		try(set)
	}
	for _, r := range a.Solution.Readings() {
		try(r.On)
	}
	for _, whole := range slices.Clone(out) {
		for _, part := range slices.Clone(out) {
			if part&^whole == 0 {
				try(whole &^ part)
			}
		}
	}
	return out
}

// byItself reports whether a set is an axle, an axle end or a wheel, which has rules of
// its own.
func byItself(set weight.Set) bool {
	axles := set.Axles()
	if len(axles) > 1 {
		return false
	}
	i := axles[0]
	return set.Len() == 1 || set == weight.AxleOf(i) || set == weight.EndOf(i, weight.Left) || set == weight.EndOf(i, weight.Right)
}

// wholeAxles reports whether a set is of whole axles.
func (a *Assessment) wholeAxles(set weight.Set) bool {
	return !slices.ContainsFunc(set.Axles(), func(i int) bool { return weight.AxleOf(i)&^set != 0 })
}

// groupName names a group as a weighing does, else by what it consists of.
func (a *Assessment) groupName(set weight.Set) string {
	coach, towed := a.Layout.Coach, a.Layout.All&^a.Layout.Coach
	for _, side := range [...]weight.Side{weight.Left, weight.Right} {
		switch on := weight.SideOf(side); set {
		case coach & on:
			return side.String() + " side"
		case towed & on:
			return "towed unit, " + side.String() + " side"
		}
	}
	switch set {
	case coach:
		return coachName
	case towed:
		return "towed unit"
	case a.Layout.All:
		return "combination"
	}
	var names []string
	for _, i := range set.Axles() {
		if weight.AxleOf(i)&^set == 0 {
			names = append(names, a.Visit.Axles[i].ID)
			continue
		}
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			switch end := weight.EndOf(i, side); {
			case end&^set == 0:
				names = append(names, a.Layout.EndNames[i][k])
			case end&set != 0:
				names = append(names, a.wheelNames(end&set)...)
			}
		}
	}
	return strings.Join(names, " + ")
}

func (a *Assessment) wheelNames(set weight.Set) (names []string) {
	for i := range a.Layout.Wheels {
		if w := &a.Layout.Wheels[i]; w.Set&^set == 0 {
			names = append(names, w.Name)
		}
	}
	return names
}

// gawrs is what the axles of a group are rated for together: not known where one was not
// read, or part of an axle is weighed with others.
func (a *Assessment) gawrs(g *Group) rules.Value {
	if !g.noAxle {
		return rules.Value{}
	}
	sum := weight.Mass(0)
	atMost := false
	for _, i := range g.Set.Axles() {
		v := a.gawr(i)
		most, ok := v.Most()
		if !ok {
			return rules.Value{}
		}
		atMost = atMost || v.Open()
		var err error
		if sum, err = weight.Sum(sum, weight.Mass(most)); err != nil {
			return rules.Value{}
		}
	}
	if atMost {
		return rules.Quantity(sum).OrLess()
	}
	return rules.Quantity(sum)
}

// rates is what the tires or wheels of a group are good for together: not known where
// that of one is not, or some of its parts was weighed by itself.
func (a *Assessment) rates(g *Group, of func(*TireState) rules.Value) rules.Value {
	if !g.noPart {
		return rules.Value{}
	}
	var least, most int64
	for i := range a.Layout.Wheels {
		st := &a.Tires[i]
		if st.Position.Set&g.Set == 0 {
			continue
		}
		v := of(st)
		low, _ := v.Least()
		high, ok := v.Most()
		if !ok {
			return rules.Value{}
		}
		least, most = least+low, most+high
	}
	return rules.Between(least, most)
}

func groupMeasures(d dimensions) []measure[*Group] {
	type as = *Assessment
	gawr := func(a as, g *Group) rules.Value { return a.gawrs(g) }
	tires := func(a as, g *Group) rules.Value { return a.rates(g, a.rated) }
	wheels := func(a as, g *Group) rules.Value { return a.rates(g, (*TireState).wheelLoad) }
	read := func(of func(as, *Group) rules.Value) func(as, *Group) rules.Value {
		return func(a as, g *Group) rules.Value { return yesNo(of(a, g).Recorded()) }
	}
	return []measure[*Group]{
		q("load", "what they carry together; at least that where the coach was weighed light", d.mass, func(a as, g *Group) rules.Value { return a.load(a.Solution.Of(g.Set)) }, needLoad),
		q("gawr", "the gross axle weight ratings of the axles added up", d.mass, gawr, needGAWR),
		q("tires_rated", "what all their tires are rated for added up, each as it runs, single or dual", d.mass, tires, "the maximum load on the sidewalls of all their tires"),
		q("wheels_rated", "what all their wheels are stamped for added up", d.mass, wheels, "the maximum load stamped on all their wheels"),
		f("gawr_known", "whether the rating of each was read, and only whole axles were weighed together, none of them by itself", read(gawr), ""),
		f("tires_known", "whether the rating of each tire was read, and no part of them was weighed by itself", read(tires), ""),
		f("wheels_known", "the same for their wheels", read(wheels), ""),
	}
}

// judgeGroups judges what the scale says only of several together.
func (a *Assessment) judgeGroups() error {
	groups := a.Groups()
	for i := range groups {
		g := &groups[i]
		facts := a.facts.group
		facts.Reset(g.Name)
		a.Refs.group.fill(a, g, facts)
		if err := a.run(facts, nil, a.Refs.groupLoad); err != nil {
			return err
		}
		if err := a.runPlanned(facts, a.Refs.groupLoad, g.Set); err != nil {
			return err
		}
	}
	return nil
}

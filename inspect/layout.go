package inspect

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/weight"
)

// A Role is what an axle does, which decides what its tires must be.
type Role uint8

// The roles. The first axle steers; behind it an axle with duals drives, or
// the first one where none has duals; the coach's others are tag axles.
const (
	Steer Role = iota + 1
	Drive
	Tag
	Towed
)

var roleWords = []string{"", "steer", "drive", "tag", "towed"}

// String gives "steer", "drive", "tag", "towed" or "not known".
func (r Role) String() string { return wordOf(r, roleWords) }

// A wheel is one wheel position of a coach.
type wheel struct {
	name  string
	axle  int
	side  weight.Side
	place Place
	set   weight.Set
}

// A Place is where on its axle end a tire runs.
type Place uint8

// The places. A tire alone on its end is neither inner nor outer.
const (
	Alone Place = iota + 1
	Inner
	Outer
	Spare
)

var placeWords = []string{"", "alone", "inner", "outer", "spare"}

// String gives "alone", "inner", "outer", "spare" or "not known".
func (p Place) String() string { return wordOf(p, placeWords) }

// A layout is the coach's geometry by name.
type layout struct {
	wheels []wheel // axle by axle from the front: left outer, left inner, right inner, right outer
	roles  []Role
	names  map[string]weight.Set
}

// maxAxles is how many axles weight solves for.
const maxAxles = weight.MaxAxles

var reservedIDs = []string{"left", "right", "coach", "towed", "all", "spare", "inner", "outer"}

// newLayout names every place of the axles. The caller has checked them with
// checkAxles.
func newLayout(axles []Axle) *layout {
	l := &layout{names: make(map[string]weight.Set, 8*len(axles)+5), roles: make([]Role, len(axles))}
	hasDual := slices.ContainsFunc(axles, func(a Axle) bool { return !a.Towed && a.Fitment == weight.Dual })
	driven := false
	var left, right, coach, towed weight.Set
	for i, a := range axles {
		switch {
		case a.Towed:
			l.roles[i] = Towed
		case i == 0:
			l.roles[i] = Steer
		case a.Fitment == weight.Dual, !hasDual && !driven:
			l.roles[i], driven = Drive, true
		default:
			l.roles[i] = Tag
		}
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			end := weight.EndOf(i, side)
			endName := EndName(a.ID, side)
			l.names[endName] = end
			if a.Fitment != weight.Dual {
				l.wheels = append(l.wheels, wheel{endName, i, side, Alone, end})
				continue
			}
			outer := wheel{endName + "-outer", i, side, Outer, weight.WheelOf(i, side, weight.Outer)}
			inner := wheel{endName + "-inner", i, side, Inner, weight.WheelOf(i, side, weight.Inner)}
			l.names[outer.name], l.names[inner.name] = outer.set, inner.set
			if side == weight.Left {
				l.wheels = append(l.wheels, outer, inner)
			} else {
				l.wheels = append(l.wheels, inner, outer)
			}
		}
		l.names[a.ID] = weight.AxleOf(i)
		if a.Towed {
			towed |= weight.AxleOf(i)
		} else {
			coach |= weight.AxleOf(i)
			left |= weight.EndOf(i, weight.Left)
			right |= weight.EndOf(i, weight.Right)
		}
	}
	l.names["left"], l.names["right"], l.names["coach"], l.names["all"] = left, right, coach, coach|towed
	if towed != 0 {
		l.names["towed"] = towed
	}
	return l
}

// EndName gives the name of an axle end, such as "drive-left".
func EndName(axle string, side weight.Side) string { return axle + "-" + side.String() }

// place finds a name of the coach, or says which is near.
func (l *layout) place(name string) (weight.Set, error) {
	if s, ok := l.names[name]; ok {
		return s, nil
	}
	all := make([]string, 0, len(l.names))
	for n := range l.names {
		all = append(all, n)
	}
	slices.Sort(all)
	return 0, noPlace(name, all)
}

func noPlace(name string, all []string) error {
	if near := strictyaml.Nearest(name, all); near != "" {
		return fmt.Errorf("%w: %q: did you mean %q?", ErrPosition, strictyaml.Clip(name), near)
	}
	return fmt.Errorf("%w: %q: want one of %s", ErrPosition, strictyaml.Clip(name), strings.Join(all, ", "))
}

// wheelNames lists the wheel positions in the order of the layout.
func (l *layout) wheelNames() []string {
	out := make([]string, len(l.wheels))
	for i, w := range l.wheels {
		out[i] = w.name
	}
	return out
}

// isSpare reports whether a position is a spare's: "spare", "spare-2" to
// "spare-9".
func isSpare(at string) bool {
	n, ok := strings.CutPrefix(at, "spare")
	return ok && (n == "" || len(n) == 2 && n[0] == '-' && n[1] >= '2' && n[1] <= '9')
}

// checkAxleID says what is wrong with an axle's id.
func checkAxleID(id string) error {
	plain := id != "" && len(id) <= 24 && id[0] != '-' && id[len(id)-1] != '-'
	for _, c := range []byte(id) {
		plain = plain && (c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-')
	}
	if !plain {
		return fmt.Errorf("%w %q: want up to 24 lower-case letters, digits and dashes, such as drive", ErrID, strictyaml.Clip(id))
	}
	for _, part := range strings.Split(id, "-") {
		if part == "left" || part == "right" || part == "inner" || part == "outer" {
			return fmt.Errorf("%w %q: the part %q names a side or a place", ErrID, id, part)
		}
	}
	if slices.Contains(reservedIDs, id) || isSpare(id) {
		return fmt.Errorf("%w %q: the word has another meaning here", ErrID, id)
	}
	return nil
}

// checkVisit finds what is wrong with a visit as a whole: ids, positions,
// places, doubles. Paths are those of the file ("tires[2].at"). It returns the
// layout, nil where the axles make none.
func checkVisit(v *Visit, report func(path, code string, err error)) *layout {
	if v.Version != VisitVersion {
		report("visit", codeVersion, fmt.Errorf("%w %d of the visit format: want %d", ErrVersion, v.Version, VisitVersion))
	}
	if v.Date.IsZero() {
		report("date", strictyaml.CodeMissing, strictyaml.ErrMissing)
	}
	if !checkAxles(v.Axles, report) {
		return nil
	}
	l := newLayout(v.Axles)
	places := l.wheelNames()
	seen := make(map[string]int, len(v.Tires))
	for i, t := range v.Tires {
		at := func() string { return fmt.Sprintf("tires[%d].at", i) }
		if !isSpare(t.At) && !slices.Contains(places, t.At) {
			report(at(), codePosition, noPlace(t.At, append(slices.Clone(places), "spare")))
			continue
		}
		if first, dup := seen[t.At]; dup {
			report(at(), codeTwice, fmt.Errorf("%w: position %q, first in tires[%d]", ErrTwice, t.At, first))
			continue
		}
		seen[t.At] = i
		if low, ok := t.Lowest.Get(); ok {
			if found, ok := t.Found.Get(); ok && low > found && !yes(t.AirAdded) && !yes(t.Hot) {
				report(fmt.Sprintf("tires[%d].lowest", i), codeValue, fmt.Errorf("%w: lowest %s is above found %s", ErrContradiction, low, found))
			}
		}
	}
	names := make(map[string]int, len(v.Weighing.Readings))
	for i, r := range v.Weighing.Readings {
		path := func(rest string) string { return fmt.Sprintf("weighing.readings[%d].%s", i, rest) }
		var on weight.Set
		for j, name := range r.On {
			at := func() string { return path(fmt.Sprintf("on[%d]", j)) }
			s, err := l.place(name)
			if err != nil {
				report(at(), codePosition, err)
				continue
			}
			if on&s != 0 {
				report(at(), codeTwice, fmt.Errorf("%w: %q is already on the plate", ErrTwice, name))
			}
			on |= s
		}
		if len(r.On) == 0 {
			report(path("on"), strictyaml.CodeMissing, strictyaml.ErrMissing)
		}
		if r.Name == "" {
			continue
		}
		if first, dup := names[r.Name]; dup {
			report(path("name"), codeTwice, fmt.Errorf("%w: a reading named %q, first in readings[%d]", ErrTwice, r.Name, first))
		}
		names[r.Name] = i
	}
	checkTrip(v, report)
	return l
}

func checkAxles(axles []Axle, report func(path, code string, err error)) bool {
	ok := true
	fail := func(path, code string, err error) {
		report(path, code, err)
		ok = false
	}
	if len(axles) == 0 {
		fail("axles", strictyaml.CodeMissing, fmt.Errorf("%w: want at least one axle", strictyaml.ErrMissing))
	}
	if len(axles) > maxAxles {
		fail("axles", codeRange, fmt.Errorf("%d axles, at most %d can be weighed", len(axles), maxAxles))
	}
	seen := make(map[string]int, len(axles))
	towed := false
	for i, a := range axles {
		path := fmt.Sprintf("axles[%d]", i)
		if err := checkAxleID(a.ID); err != nil {
			fail(path+".id", codePosition, err)
		} else if first, dup := seen[a.ID]; dup {
			fail(path+".id", codeTwice, fmt.Errorf("%w: axle %q, first in axles[%d]", ErrTwice, a.ID, first))
		}
		seen[a.ID] = i
		if a.Fitment != weight.Single && a.Fitment != weight.Dual {
			fail(path+".fitment", strictyaml.CodeMissing, fmt.Errorf("%w: want single or dual", strictyaml.ErrMissing))
		}
		if towed && !a.Towed {
			fail(path+".towed", codeValue, fmt.Errorf("%w: an axle of the coach behind one of the towed unit", ErrContradiction))
		}
		towed = towed || a.Towed
	}
	return ok
}

// yes reports a recorded yes.
func yes(r Recorded[bool]) bool {
	v, ok := r.Get()
	return ok && v
}

package record

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/internal/strictyaml"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
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

var roleWords = word.List[Role]{Kind: "role", Words: []string{"", "steer", "drive", "tag", "towed"}, Unknown: word.Err}

// String gives "steer", "drive", "tag", "towed" or "not known".
func (r Role) String() string { return roleWords.String(r) }

// AppendText appends the word, and nothing for the zero Role. An unknown value
// is an error.
func (r Role) AppendText(dst []byte) ([]byte, error) { return roleWords.Append(dst, r) }

// MarshalText writes what [Role.AppendText] appends.
func (r Role) MarshalText() ([]byte, error) { return roleWords.Text(r) }

// UnmarshalText reads what [Role.MarshalText] writes.
func (r *Role) UnmarshalText(text []byte) error { return roleWords.Read(r, text) }

// A Wheel is one wheel position of a coach.
type Wheel struct {
	Name  string      // such as "drive-left-outer"
	Axle  int         // from the front, 0 the first
	Side  weight.Side // seen from the driver's seat
	Place Place       // alone on its end, or inner or outer of a pair
	Set   weight.Set  // the position as a plate sees it
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

var placeWords = word.List[Place]{Kind: "place", Words: []string{"", "alone", "inner", "outer", "spare"}, Unknown: word.Err}

// String gives "alone", "inner", "outer", "spare" or "not known".
func (p Place) String() string { return placeWords.String(p) }

// AppendText appends the word, and nothing for the zero Place. An unknown value
// is an error.
func (p Place) AppendText(dst []byte) ([]byte, error) { return placeWords.Append(dst, p) }

// MarshalText writes what [Place.AppendText] appends.
func (p Place) MarshalText() ([]byte, error) { return placeWords.Text(p) }

// UnmarshalText reads what [Place.MarshalText] writes.
func (p *Place) UnmarshalText(text []byte) error { return placeWords.Read(p, text) }

// A Layout is the coach's geometry by name, and which of the visit's tires is
// where. It is read only.
type Layout struct {
	Wheels   []Wheel     // axle by axle from the front: left outer, left inner, right inner, right outer
	First    []int       // the first wheel of each axle, and the end of wheels
	Roles    []Role      // what each axle does
	EndNames [][2]string // each axle's left and right end by name
	Coach    weight.Set  // all of the coach's wheels
	All      weight.Set  // with those of a towed unit
	TireAt   []int       // the visit's tire on each wheel, -1 where none was recorded
	Spares   []int       // the visit's tires on no wheel, by name

	names []named // every place there is
	duals [][2]weight.Set
}

// named is a place of the coach, one wheel or several.
type named struct {
	name string
	set  weight.Set
}

var reservedIDs = []string{"left", "right", "coach", "combination", "towed", "all", "spare", "inner", "outer"}

// vacate takes the tires off the layout.
func (l *Layout) vacate() {
	l.TireAt, l.Spares = make([]int, len(l.Wheels)), nil
	for w := range l.TireAt {
		l.TireAt[w] = -1
	}
}

// build names every place of the axles. The caller has checked them with
// checkAxles.
func (l *Layout) build(axles []Axle) {
	n := len(axles)
	*l = Layout{
		Wheels: make([]Wheel, 0, 4*n), First: make([]int, 0, n+1), Roles: make([]Role, n),
		EndNames: make([][2]string, n), names: make([]named, 0, 7*n+5), duals: make([][2]weight.Set, 0, 2*n),
	}
	hasDual := slices.ContainsFunc(axles, func(a Axle) bool { return !a.Towed && a.Fitment == weight.Dual })
	driven := false
	var left, right, towed weight.Set
	for i, a := range axles {
		switch {
		case a.Towed:
			l.Roles[i] = Towed
		case i == 0:
			l.Roles[i] = Steer
		case a.Fitment == weight.Dual, !hasDual && !driven:
			l.Roles[i], driven = Drive, true
		default:
			l.Roles[i] = Tag
		}
		l.First = append(l.First, len(l.Wheels))
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			// The names of an end and its wheels are parts of two texts.
			outer := a.ID + "-" + side.String() + "-outer"
			end := outer[:len(outer)-len("-outer")]
			l.EndNames[i][k] = end
			set := weight.EndOf(i, side)
			l.names = append(l.names, named{end, set})
			if a.Fitment != weight.Dual {
				l.Wheels = append(l.Wheels, Wheel{end, i, side, Alone, set})
				continue
			}
			pair := [2]Wheel{
				{outer, i, side, Outer, weight.WheelOf(i, side, weight.Outer)},
				{end + "-inner", i, side, Inner, weight.WheelOf(i, side, weight.Inner)},
			}
			l.duals = append(l.duals, [2]weight.Set{pair[0].Set, pair[1].Set})
			for _, w := range pair {
				l.names = append(l.names, named{w.Name, w.Set})
			}
			if side == weight.Right {
				pair[0], pair[1] = pair[1], pair[0]
			}
			l.Wheels = append(l.Wheels, pair[:]...)
		}
		l.names = append(l.names, named{a.ID, weight.AxleOf(i)})
		if a.Towed {
			towed |= weight.AxleOf(i)
		} else {
			l.Coach |= weight.AxleOf(i)
			left |= weight.EndOf(i, weight.Left)
			right |= weight.EndOf(i, weight.Right)
		}
	}
	l.First = append(l.First, len(l.Wheels))
	l.All = l.Coach | towed
	l.names = append(l.names, named{"left", left}, named{"right", right}, named{"coach", l.Coach}, named{"all", l.All})
	if towed != 0 {
		l.names = append(l.names, named{"towed", towed})
	}
}

// MateOf is the other wheel of a dual pair, or -1.
func (l *Layout) MateOf(wheel int) int {
	w := &l.Wheels[wheel]
	if w.Place == Alone {
		return -1
	}
	first := l.First[w.Axle]
	return first + (wheel - first) ^ 1
}

// Splits reports whether a plate held one tire of a dual pair and not the other.
func (l *Layout) Splits(on weight.Set) bool {
	for _, pair := range l.duals {
		if (on&pair[0] != 0) != (on&pair[1] != 0) {
			return true
		}
	}
	return false
}

// wheel finds a wheel by name, or gives -1. Where it may stand is looked at
// first: most visits list the tires as the layout does.
func (l *Layout) wheel(name string, may int) int {
	if may < len(l.Wheels) && l.Wheels[may].Name == name {
		return may
	}
	for i := range l.Wheels {
		if l.Wheels[i].Name == name {
			return i
		}
	}
	return -1
}

// EndName gives the name of an axle end, such as "drive-left".
func EndName(axle string, side weight.Side) string { return axle + "-" + side.String() }

// PlaceNamed finds a name of the coach, or says which is near.
func (l *Layout) PlaceNamed(name string) (weight.Set, error) {
	for i := range l.names {
		if l.names[i].name == name {
			return l.names[i].set, nil
		}
	}
	all := make([]string, len(l.names))
	for i, n := range l.names {
		all[i] = n.name
	}
	slices.Sort(all)
	return 0, noPlace(name, all)
}

// checkFit says what is wrong with a place that a wheel is said to fit.
func (l *Layout) checkFit(name string) error {
	if l.kindOfPlace(name) {
		return nil
	}
	if _, err := l.PlaceNamed(name); err == nil {
		return nil
	}
	kinds := append(slices.Clone(roleWords.Words[Steer:Towed]), placeWords.Words[Alone:Spare]...)
	for _, n := range l.names {
		kinds = append(kinds, n.name)
	}
	slices.Sort(kinds)
	return noPlace(name, slices.Compact(kinds))
}

func (l *Layout) kindOfPlace(name string) bool {
	return slices.Contains(roleWords.Words[Steer:Towed], name) || slices.Contains(placeWords.Words[Alone:Spare], name)
}

// Fits reports whether a wheel that fits the named places fits this one.
// Without names it fits everywhere.
func (l *Layout) Fits(names []string, w *Wheel) bool {
	for _, name := range names {
		if name == l.Roles[w.Axle].String() || name == w.Place.String() {
			return true
		}
		if !l.kindOfPlace(name) {
			if set, err := l.PlaceNamed(name); err == nil && w.Set&set == w.Set {
				return true
			}
		}
	}
	return len(names) == 0
}

func noPlace(name string, all []string) error {
	if near := strictyaml.Nearest(name, all); near != "" {
		return fmt.Errorf("%w: %q: did you mean %q?", ErrPosition, strictyaml.Clip(name), near)
	}
	return fmt.Errorf("%w: %q: want one of %s", ErrPosition, strictyaml.Clip(name), strings.Join(all, ", "))
}

// axleOf gives the axle that a wheel position or an axle end is named after.
func axleOf(place string) string {
	for _, end := range [...]string{"-outer", "-inner", "-left", "-right"} {
		place = strings.TrimSuffix(place, end)
	}
	return place
}

// noTirePlace says that a tire is where no wheel is, or, where several name an
// axle that is not there, that.
func (l *Layout) noTirePlace(v *Visit, at, axle string) error {
	n := 0
	for _, t := range v.Tires {
		if axleOf(t.At) == axle {
			n++
		}
	}
	if ids := axleIDs(v.Axles); n > 1 && axle != "" && !slices.Contains(ids, axle) {
		return fmt.Errorf("%w: %d tires name the axle %q: the axles are %s", ErrPosition, n, strictyaml.Clip(axle), strings.Join(ids, ", "))
	}
	if meant := l.meant(v, at); meant != "" {
		return fmt.Errorf("%w: %q: did you mean %q?", ErrPosition, strictyaml.Clip(at), meant)
	}
	return noPlace(at, append(l.wheelNames(), "spare"))
}

// meant gives the position that somebody named in other words or in another order:
// left-front, "Right Rear Outer".
func (l *Layout) meant(v *Visit, at string) string {
	axle, side, place := "", "", ""
	ids := axleIDs(v.Axles)
	for _, w := range strings.FieldsFunc(strings.ToLower(at), func(r rune) bool { return r < 'a' || r > 'z' }) {
		switch {
		case w == "left" || w == "right":
			side = "-" + w
		case w == "inner" || w == "outer":
			place = "-" + w
		case w == "inside":
			place = "-inner"
		case w == "outside":
			place = "-outer"
		case slices.Contains(ids, w):
			axle = w
		case w == "front":
			axle = ids[0]
		case w == "rear" || w == "back":
			for i, r := range l.Roles {
				if r == Drive {
					axle = ids[i]
				}
			}
		}
	}
	if name := axle + side + place; slices.Contains(l.wheelNames(), name) {
		return name
	}
	return ""
}

// wheelNames lists the wheel positions in the order of the layout.
func (l *Layout) wheelNames() []string {
	out := make([]string, len(l.Wheels))
	for i, w := range l.Wheels {
		out[i] = w.Name
	}
	return out
}

// IsSpare reports whether a position is a spare's: "spare", "spare-2" to
// "spare-9".
func IsSpare(at string) bool {
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
	for part := range strings.SplitSeq(id, "-") {
		if part == "left" || part == "right" || part == "inner" || part == "outer" {
			return fmt.Errorf("%w %q: the part %q names a side or a place", ErrID, id, part)
		}
	}
	if slices.Contains(reservedIDs, id) || IsSpare(id) {
		return fmt.Errorf("%w %q: the word has another meaning here", ErrID, id)
	}
	return nil
}

// Layout names every place of the coach. The error is an [*origin.Problems] of
// all that is wrong with the visit as a whole: ids, positions, what stands twice
// or cannot be; paths name the place ("drive-left-inner.found").
func (v *Visit) Layout() (*Layout, error) {
	if v == nil {
		return nil, fmt.Errorf("%w: there is no visit", ErrNothing)
	}
	var ps origin.Problems
	l := new(Layout)
	checkVisit(v, l, func(path, code string, err error) {
		ps.Add(origin.Problem{Path: v.named(path, nil), Code: code, Err: err})
	})
	if err := ps.Err(); err != nil {
		return nil, err
	}
	return l, nil
}

// checkVisit finds what is wrong with a visit as a whole: ids, positions,
// places, doubles. Paths are those of the file ("tires[2].at"). It builds the
// layout, where the axles make one.
func checkVisit(v *Visit, l *Layout, report func(path, code string, err error)) {
	if v.Version != Version {
		report("visit", strictyaml.CodeVersion, fmt.Errorf("%w %d of the visit format: want %d", ErrVersion, v.Version, Version))
	}
	if v.Date.IsZero() {
		report("date", strictyaml.CodeMissing, strictyaml.ErrMissing)
	} else if !v.Date.IsValid() {
		report("date", strictyaml.CodeValue, dotcode.ErrDate)
	}
	if !checkAxles(v.Axles, report) {
		return
	}
	l.build(v.Axles)
	l.vacate()
	unknown := l.take(v, report)
	// The report does not depend on the order in which spares are written.
	slices.SortFunc(l.Spares, func(x, y int) int { return strings.Compare(v.Tires[x].At, v.Tires[y].At) })
	checkReadings("weighing.readings", v.Weighing.Readings, l, &unknown, report)
	checkReadings("weighing.unhitched", v.Weighing.Unhitched, l, &unknown, report)
	for i, id := range v.Weighing.Raised {
		if !slices.ContainsFunc(v.Axles, func(a Axle) bool { return a.ID == id }) {
			report(fmt.Sprintf("weighing.raised[%d]", i), strictyaml.CodePosition, noPlace(id, axleIDs(v.Axles)))
		}
	}
	for i, name := range v.Packs {
		if _, err := parsePackName(name); err != nil {
			report(fmt.Sprintf("packs[%d]", i), strictyaml.CodeValue, err)
		}
	}
	checkTrip(v, report)
	checkDone("done", v.Done, l, report)
	checkDone("declined", v.Declined, l, report)
	checkSure(v, report)
	checkOwn("own", v.Own, report)
	for i := range v.Axles {
		if own := v.Axles[i].Own; len(own) > 0 {
			checkOwn(fmt.Sprintf("axles[%d].own", i), own, report)
		}
	}
	for i := range v.Tires {
		if own := v.Tires[i].Own; len(own) > 0 {
			checkOwn(fmt.Sprintf("tires[%d].own", i), own, report)
		}
	}
}

// take puts the tires on their places, and gives the axles that tires name and the
// coach has not: told once each.
func (l *Layout) take(v *Visit, report func(path, code string, err error)) (unknown axleNames) {
	for i := range v.Tires {
		t := &v.Tires[i]
		at := func() string { return fmt.Sprintf("tires[%d].at", i) }
		placed, twice := l.put(v, i)
		if !placed {
			if axle := axleOf(t.At); unknown.add(axle) {
				report(at(), strictyaml.CodePosition, l.noTirePlace(v, t.At, axle))
			}
			continue
		}
		if twice {
			report(at(), strictyaml.CodeTwice, fmt.Errorf("%w: %s has an entry already", ErrTwice, t.At))
		}
		for j, name := range t.WheelFits {
			if err := l.checkFit(name); err != nil {
				report(fmt.Sprintf("tires[%d].wheel_fits[%d]", i, j), strictyaml.CodePosition, err)
			}
		}
	}
	return unknown
}

// put puts a tire on its wheel or among the spares, unless one is there.
func (l *Layout) put(v *Visit, tire int) (placed, twice bool) {
	at := v.Tires[tire].At
	if w := l.wheel(at, tire); w >= 0 {
		if l.TireAt[w] >= 0 {
			return true, true
		}
		l.TireAt[w] = tire
		return true, false
	}
	if !IsSpare(at) {
		return false, false
	}
	if slices.ContainsFunc(l.Spares, func(s int) bool { return v.Tires[s].At == at }) {
		return true, true
	}
	l.Spares = append(l.Spares, tire)
	return true, false
}

// axleNames are axles that the coach has not, each told once.
type axleNames []string

// add adds one, and reports whether it is new.
func (a *axleNames) add(axle string) bool {
	if slices.Contains(*a, axle) {
		return false
	}
	*a = append(*a, axle)
	return true
}

// checkReadings finds places that the coach has not, and names that stand twice.
func checkReadings(where string, readings []Reading, l *Layout, unknown *axleNames, report func(path, code string, err error)) {
	var names map[string]bool
	for i := range readings {
		r := &readings[i]
		path := func(rest string) string { return fmt.Sprintf("%s[%d].%s", where, i, rest) }
		var on weight.Set
		for j, name := range r.On {
			at := func() string { return path(fmt.Sprintf("on[%d]", j)) }
			s, err := l.PlaceNamed(name)
			switch {
			case err == nil && on&s != 0:
				report(at(), strictyaml.CodeTwice, fmt.Errorf("%w: %q is already on the plate", ErrTwice, name))
			case err != nil && unknown.add(axleOf(name)):
				report(at(), strictyaml.CodePosition, err)
			}
			on |= s
		}
		if len(r.On) == 0 {
			report(path("on"), strictyaml.CodeMissing, strictyaml.ErrMissing)
		}
		if r.Name == "" {
			continue
		}
		if names[r.Name] {
			report(path("name"), strictyaml.CodeTwice, fmt.Errorf("%w: a reading is called %q already", ErrTwice, strictyaml.Clip(r.Name)))
		}
		if names == nil {
			names = make(map[string]bool, len(readings))
		}
		names[r.Name] = true
	}
}

func axleIDs(axles []Axle) []string {
	out := make([]string, len(axles))
	for i, a := range axles {
		out[i] = a.ID
	}
	return out
}

// checkSure finds what is said to be sure and is no key.
func checkSure(v *Visit, report func(path, code string, err error)) {
	check := func(path func() string, sure []string, keys func() []string) {
		for i, key := range sure {
			if known := keys(); !slices.Contains(known, key) {
				err := fmt.Errorf("%w %q", strictyaml.ErrUnknown, strictyaml.Clip(key))
				if near := strictyaml.Nearest(key, known); near != "" {
					err = fmt.Errorf("%w: did you mean %q?", err, near)
				}
				report(fmt.Sprintf("%s[%d]", path(), i), strictyaml.CodeUnknown, err)
			}
		}
	}
	check(func() string { return "sure" }, v.Sure, func() []string {
		return slices.Concat(visitPart().keys(false), ratingsPart().keys(false), weighingPart().keys(false))
	})
	for i := range v.Axles {
		check(func() string { return fmt.Sprintf("axles[%d].sure", i) }, v.Axles[i].Sure, func() []string { return axlePart().keys(false) })
	}
	for i := range v.Tires {
		check(func() string { return fmt.Sprintf("tires[%d].sure", i) }, v.Tires[i].Sure, func() []string { return tirePart().keys(false) })
	}
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
	if len(axles) > weight.MaxAxles {
		fail("axles", strictyaml.CodeRange, fmt.Errorf("%d axles, at most %d can be weighed", len(axles), weight.MaxAxles))
	}
	towed := false
	for i := range axles {
		a := &axles[i]
		path := func(key string) string { return fmt.Sprintf("axles[%d].%s", i, key) }
		if err := checkAxleID(a.ID); err != nil {
			fail(path("id"), strictyaml.CodePosition, err)
		} else if slices.ContainsFunc(axles[:min(i, weight.MaxAxles)], func(b Axle) bool { return b.ID == a.ID }) {
			fail(path("id"), strictyaml.CodeTwice, fmt.Errorf("%w: an axle is called %s already", ErrTwice, a.ID))
		}
		if a.Fitment != weight.Single && a.Fitment != weight.Dual {
			fail(path("fitment"), strictyaml.CodeMissing, fmt.Errorf("%w: want single or dual", strictyaml.ErrMissing))
		}
		if towed && !a.Towed {
			fail(path("towed"), strictyaml.CodeValue, fmt.Errorf("%w: an axle of the coach behind one of the towed unit", ErrContradiction))
		}
		towed = towed || a.Towed
	}
	return ok
}

// checkDone says what is wrong with what a visit says was done or declined.
func checkDone(where string, done []Done, l *Layout, report func(path, code string, err error)) {
	for i, d := range done {
		path := fmt.Sprintf("%s[%d]", where, i)
		if d.At != "weighing" && d.At != "combination" && !IsSpare(d.At) {
			if _, err := l.PlaceNamed(d.At); err != nil {
				report(path+".at", strictyaml.CodePosition, err)
			}
		}
		if strings.TrimSpace(d.Rule) == "" {
			report(path+".rule", strictyaml.CodeMissing, strictyaml.ErrMissing)
		}
	}
}

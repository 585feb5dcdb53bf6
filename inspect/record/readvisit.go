package record

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Sentinel causes of the problems of a visit, beside those of the quantities
// in it.
var (
	// ErrVersion says that the format version is not one this package reads.
	ErrVersion = errors.New("unknown version")
	// ErrPosition says that a wheel position, axle end or axle is not on this
	// coach.
	ErrPosition = errors.New("no such place on this coach")
	// ErrTwice says that something stands twice that may stand once.
	ErrTwice = errors.New("stands twice")
	// ErrNegative says that a value is below zero where that cannot be.
	ErrNegative = errors.New("must not be below zero")
	// ErrNothing says that a visit has neither a tire nor a reading to judge.
	ErrNothing = errors.New("nothing to judge: the visit records no tire and no scale reading")
	// ErrID says that an axle id is not made of lower-case letters, digits and
	// dashes, or is a word with another meaning.
	ErrID = errors.New("malformed axle id")
	// ErrContradiction says that two things recorded cannot both be so.
	ErrContradiction = errors.New("contradiction")
	// ErrYesNo says that a text is neither yes nor no.
	ErrYesNo = errors.New("want yes or no")
)

// Read reads a visit of at most [MaxSize] bytes: JSON if it is valid
// JSON, else YAML; the same keys and values give the same visit either way.
// name is the file's name for messages. All problems of the file come back at
// once as an [*origin.Problems], each with line and column; then the Visit is
// nil. A date code that makes no sense, or readings that contradict each
// other, are no problems of the file: [inspect.Assess] reports them.
func Read(name string, data []byte) (*Visit, error) {
	doc, err := strictyaml.Parse(name, data, MaxSize)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// ReadJSON is [Read] for JSON alone, as programs write it: what is no
// valid JSON is not tried as YAML.
func ReadJSON(name string, data []byte) (*Visit, error) {
	doc, err := new(strictyaml.Reader).ReadJSON(name, data, MaxSize)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// visitOf is the one decoder of visits, whatever they were written in.
func visitOf(doc *strictyaml.Doc) (*Visit, error) {
	v, readingAt := readVisit(doc.Root())
	// What could not be read has its problem already; what was read is still
	// checked, so that one pass over the file is enough.
	known := doc.Probs.All()
	checkVisit(v, new(Layout), func(path, code string, err error) {
		for _, p := range known {
			if strings.HasPrefix(p.Path, path) {
				return
			}
		}
		doc.Locate(inFile(path, readingAt)).Fail(code, err)
	})
	if err := doc.Probs.Err(); err != nil {
		return nil, err
	}
	return v, nil
}

// inFile gives the path in the file of a path in the visit, which has no
// readings that were not read.
func inFile(path string, readingAt []int) string {
	const readings = "weighing.readings["
	rest, ok := strings.CutPrefix(path, readings)
	number, rest, found := strings.Cut(rest, "]")
	i, err := strconv.Atoi(number)
	if !ok || !found || err != nil || i >= len(readingAt) {
		return path
	}
	return readings + strconv.Itoa(readingAt[i]) + "]" + rest
}

// rec reads an optional key.
func rec[T any](m strictyaml.Map, key string, parse func(string) (T, error)) Recorded[T] {
	if v, ok := strictyaml.Scalar(m.Get(key), parse); ok {
		return Record(v)
	}
	return Recorded[T]{}
}

// recOrNot reads an optional key whose value may be "not read".
func recOrNot[T any](m strictyaml.Map, key string, parse func(string) (T, error)) Recorded[T] {
	if saysNotRead(m.Get(key)) {
		return NotRead[T]()
	}
	return rec(m, key, parse)
}

func saysNotRead(n strictyaml.Node) bool {
	text, ok := scalarText(n)
	return ok && text == notReadText
}

func notNegative[T ~int64](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v < 0 {
			return 0, ErrNegative
		}
		return v, err
	}
}

var (
	parseMass     = notNegative(weight.ParseMass)
	parseLength   = notNegative(weight.ParseLength)
	parsePressure = notNegative(inflation.ParsePressure)
)

// maxText keeps names and notes to what fits on a sheet.
const maxText = 200

func parseText(text string) (string, error) {
	if len(text) > maxText {
		return "", fmt.Errorf("%w: a text of %d bytes, at most %d", origin.ErrRange, len(text), maxText)
	}
	if strings.ContainsAny(text, "\r\n") {
		return "", fmt.Errorf("%w: a text of several lines, want one", strictyaml.ErrShape)
	}
	return text, nil
}

// parseLine reads a text in somebody's own words; the line of a form that was
// not filled in is none.
func parseLine(text string) (string, error) {
	if strings.Trim(text, "_") == "" {
		return "", nil
	}
	return parseText(text)
}

// parseWords is parseLine where "not read" is none as well.
func parseWords(text string) (string, error) {
	if text == notReadText {
		return "", nil
	}
	return parseLine(text)
}

func parseYesNo(text string) (bool, error) {
	switch text {
	case "yes", "true":
		return true, nil
	case "no", "false":
		return false, nil
	}
	return false, fmt.Errorf("%w, found %q", ErrYesNo, strictyaml.Clip(text))
}

// parseAll reads yes or no, or "all" for yes.
func parseAll(text string) (bool, error) {
	if text == "all" {
		return true, nil
	}
	return parseYesNo(text)
}

func parseSystem(text string) (s weight.System, err error) {
	err = s.UnmarshalText([]byte(text))
	return s, err
}

func parseFitment(text string) (f weight.Fitment, err error) {
	if err = f.UnmarshalText([]byte(text)); err == nil && f == 0 {
		err = weight.ErrFitment
	}
	return f, err
}

func parseScaleKind(text string) (k weight.ScaleKind, err error) {
	if err = k.UnmarshalText([]byte(text)); err == nil && k == 0 {
		err = fmt.Errorf("%w: want platform, segmented, pads or whole axles", ErrWord)
	}
	return k, err
}

func parseVersion(text string) (int, error) {
	v, err := strconv.Atoi(text)
	if err != nil || v != Version {
		return 0, fmt.Errorf("%w %q of the visit format: want %d; a newer file needs a newer program", ErrVersion, strictyaml.Clip(text), Version)
	}
	return v, nil
}

func readVisit(root strictyaml.Node) (v *Visit, readingAt []int) {
	m := root.Map("visit", "invented", "date", "units", "coach", "odometer", "load_state", "stood",
		"air_temperature", "gauge", "gauge_tolerance", "gauge_step", "moved", "cold", "driven_since", "nothing_since_set", "last_set_on", "last_set_air", "last_set_gauge_tolerance", "tows", "towing", "fastest", "packs", "sure", "ratings", "axles", "every_tire", "every_towed_tire", "tires", "weighing", "trip", "done")
	v = &Visit{}
	v.Version, _ = strictyaml.Scalar(m.Need("visit"), parseVersion)
	v.Invented, _ = strictyaml.Scalar(m.Get("invented"), parseYesNo)
	v.Date, _ = strictyaml.Scalar(m.Need("date"), dotcode.ParseDate)
	v.System, _ = strictyaml.Scalar(m.Get("units"), parseSystem)
	v.Coach, _ = strictyaml.Scalar(m.Get("coach"), parseWords)
	v.Odometer = recOrNot(m, "odometer", parseLength)
	v.LoadState, _ = strictyaml.Scalar(m.Get("load_state"), parseWords)
	v.Stood = recOrNot(m, "stood", ParseParkedFor)
	v.Moved = recOrNot(m, "moved", parseYesNo)
	v.Cold = recOrNot(m, "cold", parseYesNo)
	v.DrivenSince = recOrNot(m, "driven_since", parseYesNo)
	v.NothingSinceSet = recOrNot(m, "nothing_since_set", parseYesNo)
	v.LastSetOn = recOrNot(m, "last_set_on", dotcode.ParseDate)
	v.LastSetAir = recOrNot(m, "last_set_air", inflation.ParseTemperature)
	v.LastSetGauge = recOrNot(m, "last_set_gauge_tolerance", parsePressure)
	v.Tows = recOrNot(m, "tows", ParseTow)
	v.Towing = readTowing(m.Get("towing"))
	v.Fastest = recOrNot(m, "fastest", notNegative(inflation.ParseSpeed))
	v.Packs = readTexts(m.Get("packs"))
	v.Sure = readTexts(m.Get("sure"))
	v.Gauge, _ = strictyaml.Scalar(m.Get("gauge"), parseWords)
	v.AirTemperature = recOrNot(m, "air_temperature", inflation.ParseTemperature)
	v.GaugeTolerance = recOrNot(m, "gauge_tolerance", parsePressure)
	v.GaugeStep = recOrNot(m, "gauge_step", parsePressure)
	r := m.Get("ratings").Map("gvwr", "gcwr")
	v.Ratings = Ratings{GVWR: recOrNot(r, "gvwr", parseMass), GCWR: recOrNot(r, "gcwr", parseMass)}
	for _, n := range m.Need("axles").List() {
		v.Axles = append(v.Axles, readAxle(n))
	}
	if n := m.Get("every_tire"); n.Valid() {
		v.EveryTire = readTire(n, false)
	}
	if n := m.Get("every_towed_tire"); n.Valid() {
		v.EveryTowedTire = readTire(n, false)
	}
	tires := m.Get("tires").List()
	v.Tires = slices.Grow(v.Tires, len(tires))
	for _, n := range tires {
		v.Tires = append(v.Tires, readTire(n, true))
	}
	v.Weighing, readingAt = readWeighing(m.Get("weighing"))
	v.Trip = readTrip(m.Get("trip"))
	for _, n := range m.Get("done").List() {
		d := n.Map("at", "rule", "note")
		var out Done
		out.At, _ = strictyaml.Scalar(d.Need("at"), parseText)
		out.Rule, _ = strictyaml.Scalar(d.Need("rule"), parseText)
		out.Note, _ = strictyaml.Scalar(d.Get("note"), parseText)
		v.Done = append(v.Done, out)
	}
	return v, readingAt
}

func readAxle(n strictyaml.Node) Axle {
	m := n.Map("id", "fitment", "towed", "gawr", "placard", "placard_size", "placard_load_range", "behind_steer", "sure")
	var a Axle
	a.ID, _ = strictyaml.Scalar(m.Need("id"), parseText)
	a.Fitment, _ = strictyaml.Scalar(m.Need("fitment"), parseFitment)
	a.Towed, _ = strictyaml.Scalar(m.Get("towed"), parseYesNo)
	a.GAWR = recOrNot(m, "gawr", parseMass)
	a.Placard = recOrNot(m, "placard", ParsePlacard)
	a.PlacardSize, _ = strictyaml.Scalar(m.Get("placard_size"), parseWords)
	a.PlacardLoadRange, _ = strictyaml.Scalar(m.Get("placard_load_range"), parseWords)
	a.Sure = readTexts(m.Get("sure"))
	a.Behind = recOrNot(m, "behind_steer", parseLength)
	return a
}

func readTire(n strictyaml.Node, one bool) Tire {
	keys := []string{"size", "load_range", "service", "class", "construction", "model", "single", "dual", "wheel", "retread", "regrooved", "stem", "tread_type", "wheel_on", "torque_checked",
		"last_set", "read_at", "hot", "in_sun", "seen", "sidewalls", "air_added", "low_alarm", "driven_since"}
	if one {
		keys = append(keys, "at", "number", "other_number", "decade_mark", "tread", "diameter", "circumference", "found",
			"lowest", "air_added_by", "before_air", "read_zero", "next_day", "cut_at", "cut_length", "sure", "left", "crack_depth", "cut_depth", "injury_width", "injury_at", "note", "rotates", "wheel_fits")
	}
	m := n.Map(keys...)
	var t Tire
	if one {
		t.At, _ = strictyaml.Scalar(m.Need("at"), parseText)
	}
	t.Size, _ = strictyaml.Scalar(m.Get("size"), parseLine)
	t.LoadRange, _ = strictyaml.Scalar(m.Get("load_range"), parseLine)
	t.Service = recOrNot(m, "service", ParseService)
	t.Class = recOrNot(m, "class", inflation.ParseClass)
	t.Construction = recOrNot(m, "construction", inflation.ParseConstruction)
	t.Model, _ = strictyaml.Scalar(m.Get("model"), parseLine)
	t.Single = recOrNot(m, "single", ParseStamp)
	t.Dual = recOrNot(m, "dual", ParseStamp)
	t.Wheel = recOrNot(m, "wheel", ParseStamp)
	t.Number = recOrNot(m, "number", parseText)
	t.OtherNumber = recOrNot(m, "other_number", parseText)
	t.DecadeMark = recOrNot(m, "decade_mark", parseYesNo)
	t.Retread = recOrNot(m, "retread", parseYesNo)
	t.Regrooved = recOrNot(m, "regrooved", parseYesNo)
	t.Tread = readTreads(m.Get("tread"))
	t.Diameter = recOrNot(m, "diameter", parseLength)
	t.Circumference = recOrNot(m, "circumference", parseLength)
	t.LastSet = recOrNot(m, "last_set", parsePressure)
	t.Found = recOrNot(m, "found", parsePressure)
	t.LowestDriven = recOrNot(m, "lowest", parsePressure)
	t.AirAdded = recOrNot(m, "air_added", parseYesNo)
	t.AirAddedBy = recOrNot(m, "air_added_by", parsePressure)
	t.BeforeAir = recOrNot(m, "before_air", parsePressure)
	t.LowAlarm = recOrNot(m, "low_alarm", parseYesNo)
	t.ReadZero = recOrNot(m, "read_zero", parseYesNo)
	t.DrivenSince = recOrNot(m, "driven_since", parseYesNo)
	t.NextDay = recOrNot(m, "next_day", parsePressure)
	t.CutAt = recOrNot(m, "cut_at", ParseInjuryAt)
	t.CutLength = recOrNot(m, "cut_length", parseLength)
	t.Stem = recOrNot(m, "stem", ParseStem)
	t.TreadType = recOrNot(m, "tread_type", ParseTreadType)
	t.WheelOn = recOrNot(m, "wheel_on", dotcode.ParseDate)
	t.TorqueChecked = recOrNot(m, "torque_checked", dotcode.ParseDate)
	t.Sure = readTexts(m.Get("sure"))
	t.Hot = recOrNot(m, "hot", parseYesNo)
	t.InSun = recOrNot(m, "in_sun", parseYesNo)
	t.ReadAt = recOrNot(m, "read_at", ParseReadAt)
	t.LeftAt = recOrNot(m, "left", parsePressure)
	t.Seen = readSeen(m.Get("seen"))
	t.Sidewalls = recOrNot(m, "sidewalls", ParseSidewalls)
	t.CrackDepth = recOrNot(m, "crack_depth", parseLength)
	t.CutDepth = recOrNot(m, "cut_depth", parseLength)
	t.InjuryWidth = recOrNot(m, "injury_width", parseLength)
	t.InjuryAt = recOrNot(m, "injury_at", ParseInjuryAt)
	t.Note, _ = strictyaml.Scalar(m.Get("note"), parseWords)
	t.Rotates = recOrNot(m, "rotates", ParseRotates)
	if n := m.Get("wheel_fits"); n.Valid() && !saysNotRead(n) {
		for _, e := range oneOrMore(n) {
			if text, ok := strictyaml.Scalar(e, parseText); ok {
				t.WheelFits = append(t.WheelFits, text)
			}
		}
		if n.IsList() && len(t.WheelFits) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: an empty list; leave the key out if the wheel fits everywhere", strictyaml.ErrShape))
		}
	}
	return t
}

// readTexts reads one text or a list of them.
func readTexts(n strictyaml.Node) []string {
	var out []string
	if !n.Valid() || saysNotRead(n) {
		return nil
	}
	for _, e := range oneOrMore(n) {
		if text, ok := strictyaml.Scalar(e, parseText); ok {
			out = append(out, text)
		}
	}
	return out
}

// oneOrMore gives a node's elements, taking a single value for a list of one.
func oneOrMore(n strictyaml.Node) []strictyaml.Node {
	if n.IsScalar() {
		return []strictyaml.Node{n}
	}
	return n.List()
}

func readTreads(n strictyaml.Node) Recorded[Treads] {
	var t Treads
	switch {
	case saysNotRead(n):
		return NotRead[Treads]()
	case !n.IsMap():
		t.Anywhere = readDepths(n)
	default:
		m := n.Map("inner", "center", "outer")
		t = Treads{Inner: readDepths(m.Get("inner")), Center: readDepths(m.Get("center")), Outer: readDepths(m.Get("outer"))}
		if len(m.Pairs()) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: no depth; leave the key out if nothing was probed", strictyaml.ErrShape))
		}
	}
	if _, ok := t.Least(); !ok {
		return Recorded[Treads]{}
	}
	return Record(t)
}

// readDepths reads one depth or a list of them.
func readDepths(n strictyaml.Node) []weight.Length {
	var out []weight.Length
	if saysNotRead(n) {
		return out
	}
	for _, e := range oneOrMore(n) {
		if d, ok := strictyaml.Scalar(e, parseLength); ok {
			out = append(out, d)
		}
	}
	if n.IsList() && len(n.List()) == 0 {
		n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: an empty list; leave the key out if nothing was probed", strictyaml.ErrShape))
	}
	return out
}

func readSeen(n strictyaml.Node) Recorded[ConditionSet] {
	if !n.Valid() {
		return Recorded[ConditionSet]{}
	}
	if saysNotRead(n) {
		return NotRead[ConditionSet]()
	}
	var s ConditionSet
	if text, ok := scalarText(n); ok && text == "nothing" {
		return Record(s)
	}
	for _, e := range oneOrMore(n) {
		if c, ok := strictyaml.Scalar(e, ParseCondition); ok {
			s = s.With(c)
		}
	}
	return Record(s)
}

func scalarText(n strictyaml.Node) (string, bool) {
	if !n.IsScalar() {
		return "", false
	}
	return n.Text()
}

// readWeighing also gives the places that the readings have in the file.
func readWeighing(n strictyaml.Node) (w Weighing, readingAt []int) {
	m := n.Map("scale", "division", "tolerance", "level", "ride_height", "levelers_up", "slides_in",
		"tanks_as_driven", "fuel_as_driven", "people_as_driven", "hitched", "heavier_share", "readings", "date", "odometer", "as_driven", "work_since", "raised")
	w = Weighing{
		Scale:          recOrNot(m, "scale", parseScaleKind),
		Division:       recOrNot(m, "division", parseMass),
		Tolerance:      recOrNot(m, "tolerance", parseMass),
		Level:          recOrNot(m, "level", parseYesNo),
		RideHeight:     recOrNot(m, "ride_height", parseYesNo),
		LevelersUp:     recOrNot(m, "levelers_up", parseYesNo),
		SlidesIn:       recOrNot(m, "slides_in", parseYesNo),
		TanksAsDriven:  recOrNot(m, "tanks_as_driven", parseYesNo),
		FuelAsDriven:   recOrNot(m, "fuel_as_driven", parseYesNo),
		PeopleAsDriven: recOrNot(m, "people_as_driven", parseYesNo),
		Hitched:        recOrNot(m, "hitched", parseYesNo),
		HeavierShare:   recOrNot(m, "heavier_share", weight.ParseShare),
		Date:           recOrNot(m, "date", dotcode.ParseDate),
		Odometer:       recOrNot(m, "odometer", parseLength),
		AsDriven:       recOrNot(m, "as_driven", parseAll),
		WorkSince:      recOrNot(m, "work_since", parseYesNo),
		Raised:         readTexts(m.Get("raised")),
	}
	for i, e := range m.Get("readings").List() {
		r := e.Map("name", "load", "tolerance", "on", "sure")
		if saysNotRead(r.Get("load")) {
			continue // a line of a form that was not filled in
		}
		var out Reading
		out.Name, _ = strictyaml.Scalar(r.Get("name"), parseText)
		out.Load, _ = strictyaml.Scalar(r.Need("load"), parseMass)
		out.Tolerance = recOrNot(r, "tolerance", parseMass)
		out.Sure, _ = strictyaml.Scalar(r.Get("sure"), parseYesNo)
		for _, p := range oneOrMore(r.Need("on")) {
			if text, ok := strictyaml.Scalar(p, parseText); ok {
				out.On = append(out.On, text)
			}
		}
		w.Readings, readingAt = append(w.Readings, out), append(readingAt, i)
	}
	return w, readingAt
}

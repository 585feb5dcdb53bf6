package inspect

import (
	"errors"
	"fmt"
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

// Codes of the problems found here, beside those of any strict file.
const (
	codeVersion  = "version"
	codePosition = "position"
	codeTwice    = "twice"
	codeRange    = "range"
	codeValue    = strictyaml.CodeValue
)

// ReadVisit reads a visit of at most [MaxVisitSize] bytes: JSON if it is valid
// JSON, else YAML; the same keys and values give the same visit either way.
// name is the file's name for messages. All problems of the file come back at
// once as an [*origin.Problems], each with line and column; then the Visit is
// nil. A date code that makes no sense, or readings that contradict each
// other, are no problems of the file: [Assess] reports them.
func ReadVisit(name string, data []byte) (*Visit, error) {
	doc, err := strictyaml.Parse(name, data, MaxVisitSize)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// visitOf is the one decoder of visits, whatever they were written in.
func visitOf(doc *strictyaml.Doc) (*Visit, error) {
	v := readVisit(doc.Root())
	// What could not be read has its problem already; what was read is still
	// checked, so that one pass over the file is enough.
	known := doc.Probs.All()
	checkVisit(v, new(layout), func(path, code string, err error) {
		for _, p := range known {
			if strings.HasPrefix(p.Path, path) {
				return
			}
		}
		doc.Locate(path).Fail(code, err)
	})
	if err := doc.Probs.Err(); err != nil {
		return nil, err
	}
	return v, nil
}

// rec reads an optional key.
func rec[T any](m strictyaml.Map, key string, parse func(string) (T, error)) Recorded[T] {
	if v, ok := strictyaml.Scalar(m.Get(key), parse); ok {
		return Record(v)
	}
	return Recorded[T]{}
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
		return "", fmt.Errorf("%w: a text of several lines, want one", origin.ErrSyntax)
	}
	return text, nil
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
	if err != nil || v != VisitVersion {
		return 0, fmt.Errorf("%w %q of the visit format: want %d; a newer file needs a newer program", ErrVersion, strictyaml.Clip(text), VisitVersion)
	}
	return v, nil
}

func readVisit(root strictyaml.Node) *Visit {
	m := root.Map("visit", "invented", "date", "units", "coach", "odometer", "load_state",
		"air_temperature", "gauge_tolerance", "gauge_step", "ratings", "axles", "every_tire", "tires", "weighing", "trip")
	v := &Visit{}
	v.Version, _ = strictyaml.Scalar(m.Need("visit"), parseVersion)
	v.Invented, _ = strictyaml.Scalar(m.Get("invented"), parseYesNo)
	v.Date, _ = strictyaml.Scalar(m.Need("date"), dotcode.ParseDate)
	v.System, _ = strictyaml.Scalar(m.Get("units"), parseSystem)
	v.Coach, _ = strictyaml.Scalar(m.Get("coach"), parseText)
	v.Odometer = rec(m, "odometer", parseLength)
	v.LoadState, _ = strictyaml.Scalar(m.Get("load_state"), parseText)
	v.AirTemperature = rec(m, "air_temperature", inflation.ParseTemperature)
	v.GaugeTolerance = rec(m, "gauge_tolerance", parsePressure)
	v.GaugeStep = rec(m, "gauge_step", parsePressure)
	r := m.Get("ratings").Map("gvwr", "gcwr")
	v.Ratings = Ratings{GVWR: rec(r, "gvwr", parseMass), GCWR: rec(r, "gcwr", parseMass)}
	for _, n := range m.Need("axles").List() {
		v.Axles = append(v.Axles, readAxle(n))
	}
	if n := m.Get("every_tire"); n.Valid() {
		v.EveryTire = readTire(n, false)
	}
	for _, n := range m.Get("tires").List() {
		v.Tires = append(v.Tires, readTire(n, true))
	}
	v.Weighing = readWeighing(m.Get("weighing"))
	v.Trip = readTrip(m.Get("trip"))
	return v
}

func readAxle(n strictyaml.Node) Axle {
	m := n.Map("id", "fitment", "towed", "gawr", "placard", "behind_steer")
	var a Axle
	a.ID, _ = strictyaml.Scalar(m.Need("id"), parseText)
	a.Fitment, _ = strictyaml.Scalar(m.Need("fitment"), parseFitment)
	a.Towed, _ = strictyaml.Scalar(m.Get("towed"), parseYesNo)
	a.GAWR = rec(m, "gawr", parseMass)
	a.Placard = rec(m, "placard", parsePressure)
	a.Behind = rec(m, "behind_steer", parseLength)
	return a
}

func readTire(n strictyaml.Node, one bool) Tire {
	shared := []string{"size", "load_range", "class", "construction", "model", "single", "dual", "wheel", "retread"}
	own := []string{"at", "number", "decade_mark", "tread", "diameter", "circumference", "last_set", "found",
		"lowest", "air_added", "hot", "read_at", "left", "seen", "crack_depth", "note"}
	keys := append(shared, "last_set", "read_at", "hot", "seen")
	if one {
		keys = append(shared, own...)
	}
	m := n.Map(keys...)
	var t Tire
	if one {
		t.At, _ = strictyaml.Scalar(m.Need("at"), parseText)
	}
	t.Size, _ = strictyaml.Scalar(m.Get("size"), parseText)
	t.LoadRange, _ = strictyaml.Scalar(m.Get("load_range"), parseText)
	t.Class = rec(m, "class", inflation.ParseClass)
	t.Construction = rec(m, "construction", inflation.ParseConstruction)
	t.Model, _ = strictyaml.Scalar(m.Get("model"), parseText)
	t.Single = rec(m, "single", ParseStamp)
	t.Dual = rec(m, "dual", ParseStamp)
	t.Wheel = rec(m, "wheel", ParseStamp)
	t.Number = rec(m, "number", parseText)
	t.DecadeMark = rec(m, "decade_mark", parseYesNo)
	t.Retread = rec(m, "retread", parseYesNo)
	t.Tread = readTreads(m.Get("tread"))
	t.Diameter = rec(m, "diameter", parseLength)
	t.Circumference = rec(m, "circumference", parseLength)
	t.LastSet = rec(m, "last_set", parsePressure)
	t.Found = rec(m, "found", parsePressure)
	t.Lowest = rec(m, "lowest", parsePressure)
	t.AirAdded = rec(m, "air_added", parseYesNo)
	t.Hot = rec(m, "hot", parseYesNo)
	t.ReadAt = rec(m, "read_at", ParseReadAt)
	t.Left = rec(m, "left", parsePressure)
	t.Seen = readSeen(m.Get("seen"))
	t.CrackDepth = rec(m, "crack_depth", parseLength)
	t.Note, _ = strictyaml.Scalar(m.Get("note"), parseText)
	return t
}

// one gives a node's elements, taking a single value for a list of one.
func oneOrMore(n strictyaml.Node) []strictyaml.Node {
	if n.IsScalar() {
		return []strictyaml.Node{n}
	}
	return n.List()
}

func readTreads(n strictyaml.Node) Recorded[Treads] {
	var t Treads
	for _, e := range oneOrMore(n) {
		if d, ok := strictyaml.Scalar(e, parseLength); ok {
			t = append(t, d)
		}
	}
	if len(t) == 0 {
		if n.IsList() {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: an empty list; leave the key out if nothing was probed", strictyaml.ErrShape))
		}
		return Recorded[Treads]{}
	}
	return Record(t)
}

func readSeen(n strictyaml.Node) Recorded[ConditionSet] {
	if !n.Valid() {
		return Recorded[ConditionSet]{}
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

func readWeighing(n strictyaml.Node) Weighing {
	m := n.Map("scale", "division", "tolerance", "level", "ride_height", "levelers_up", "slides_in",
		"tanks_as_driven", "fuel_as_driven", "people_as_driven", "hitched", "heavier_share", "readings")
	w := Weighing{
		Scale:          rec(m, "scale", parseScaleKind),
		Division:       rec(m, "division", parseMass),
		Tolerance:      rec(m, "tolerance", parseMass),
		Level:          rec(m, "level", parseYesNo),
		RideHeight:     rec(m, "ride_height", parseYesNo),
		LevelersUp:     rec(m, "levelers_up", parseYesNo),
		SlidesIn:       rec(m, "slides_in", parseYesNo),
		TanksAsDriven:  rec(m, "tanks_as_driven", parseYesNo),
		FuelAsDriven:   rec(m, "fuel_as_driven", parseYesNo),
		PeopleAsDriven: rec(m, "people_as_driven", parseYesNo),
		Hitched:        rec(m, "hitched", parseYesNo),
		HeavierShare:   rec(m, "heavier_share", weight.ParseShare),
	}
	for _, e := range m.Get("readings").List() {
		r := e.Map("name", "load", "tolerance", "on")
		var out Reading
		out.Name, _ = strictyaml.Scalar(r.Get("name"), parseText)
		out.Load, _ = strictyaml.Scalar(r.Need("load"), parseMass)
		out.Tolerance = rec(r, "tolerance", parseMass)
		for _, p := range oneOrMore(r.Need("on")) {
			if text, ok := strictyaml.Scalar(p, parseText); ok {
				out.On = append(out.On, text)
			}
		}
		w.Readings = append(w.Readings, out)
	}
	return w
}

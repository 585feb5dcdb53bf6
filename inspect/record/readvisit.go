package record

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

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
	// ErrTwice says that something is there twice that may be there once.
	ErrTwice = errors.New("given twice")
	// ErrNegative says that a value is below zero where that cannot be.
	ErrNegative = errors.New("must not be below zero")
	// ErrNothing says that a visit has neither a tire nor a reading to judge.
	ErrNothing = errors.New("nothing to judge: the visit records no tire and no scale reading")
	// ErrID says that an axle id is not made of lower-case letters, digits and
	// dashes, or is a word with another meaning.
	ErrID = errors.New("malformed axle id")
	// ErrContradiction says that two things recorded cannot both be so.
	ErrContradiction = errors.New("contradiction")
	// ErrName says that a text is no name of a rule pack, or of a measure.
	ErrName = errors.New("malformed name")
	// ErrYesNo says that a text is neither yes nor no.
	ErrYesNo = errors.New("want yes or no")
)

// Read reads a visit of at most [MaxSize] bytes: JSON if it is valid
// JSON, else YAML; the same keys and values give the same visit either way.
// Values are read as people write them where only one thing can be meant: 9/32",
// 94-1/8 in, 23 ft 4 in, 3640 lbs @ 95 psi, Yes; an empty value and N/A are "not
// read".
// name is the file's name for messages. All problems of the file come back at
// once as an [*origin.Problems], each with line and column; then the Visit is
// nil. A date code that makes no sense, or readings that contradict each
// other, are no problems of the file: [inspect.Assess] reports them.
func Read(name string, data []byte) (*Visit, error) {
	doc, err := strictyaml.ByHand{Key: isKey, Limit: MaxSize}.Parse(name, data)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// isKey reports whether a word is a key of some part of a visit.
func isKey(word string) bool {
	_, is := partOf()[word]
	return is
}

// partOf names of every key the first part that has it.
var partOf = sync.OnceValue(func() map[string]string {
	out := make(map[string]string)
	for _, f := range Fields() {
		if _, there := out[f.Key]; !there {
			out[f.Key] = f.Part
		}
	}
	return out
})

// ReadJSON is [Read] for JSON alone, as programs write it: what is no
// valid JSON is not tried as YAML.
func ReadJSON(name string, data []byte) (*Visit, error) {
	doc, err := (&strictyaml.Reader{ByHand: true}).ReadJSON(name, data, MaxSize)
	if err != nil {
		return nil, err
	}
	return visitOf(doc)
}

// UnmarshalJSON reads a visit as strictly as [ReadJSON] does: a key that is not
// known, another version, or a visit that is not consistent is refused. The error
// is an [*origin.Problems]; v is then left as it was.
func (v *Visit) UnmarshalJSON(data []byte) error {
	read, err := ReadJSON("", data)
	if err != nil {
		return err
	}
	*v = *read
	return nil
}

// visitOf is the one decoder of visits, whatever they were written in.
func visitOf(doc *strictyaml.Doc) (*Visit, error) {
	v, c := new(Visit), new(context)
	visitPart().read(doc.Root(), v, c)
	if !doc.Root().IsMap() {
		return nil, doc.Probs.Err()
	}
	// What could not be read has its problem already; what was read is still
	// checked, so that one pass over the file is enough.
	known := doc.Probs.All()
	checkVisit(v, new(Layout), func(path, code string, err error) {
		if slices.Contains(c.excused, path) {
			return
		}
		for _, p := range known {
			if strings.HasPrefix(p.Path, path) || p.Code == strictyaml.CodeShape && strings.HasPrefix(path, p.Path+".") {
				return
			}
		}
		doc.Locate(inFile(path, c.readingAt)).Fail(code, err)
	})
	if doc.Probs.Len() == 0 {
		return v, nil
	}
	var named origin.Problems
	for _, p := range doc.Probs.All() {
		p.Path = v.named(p.Path, c.readingAt)
		named.Add(p)
	}
	for range doc.Probs.More() {
		named.Add(origin.Problem{}) // only counted
	}
	return nil, named.Err()
}

// named gives a path by the names of tires, axles, readings and stations instead
// of their places in a list: drive-left-inner.found for tires[3].found. readingAt
// are the places of the readings in the file, where it has others between them.
func (v *Visit) named(path string, readingAt []int) string {
	if cut := strings.LastIndexByte(path, '['); cut > 0 && strings.HasSuffix(path, "]") && slices.Contains(wordLists, path[strings.LastIndexByte(path[:cut], '.')+1:cut]) {
		path = path[:cut]
	}
	for _, list := range [...]struct {
		of, one, under string
		name           func(i int) string
	}{
		{"tires", "tire", "", func(i int) string { return nth(v.Tires, i).At }},
		{"axles", "axle", "", func(i int) string { return nth(v.Axles, i).ID }},
		{"weighing.readings", "reading", "weighing.", func(i int) string {
			if readingAt != nil {
				i = slices.Index(readingAt, i)
			}
			return nth(v.Weighing.Readings, i).said()
		}},
		{"weighing.unhitched", "reading", "unhitched.", func(i int) string { return nth(v.Weighing.Unhitched, i).said() }},
		{"trip.stations", "station", "trip.", func(i int) string { return nth(v.Trip.Stations, i).Name }},
		{"trip.items", "item", "trip.", func(i int) string { return nth(v.Trip.Items, i).Name }},
		{"trip.changes", "change", "trip.", func(i int) string { return nth(v.Trip.Changes, i).Name }},
		{"done", "entry", "done.", func(i int) string { return nth(v.Done, i).At }},
		{"declined", "entry", "declined.", func(i int) string { return nth(v.Declined, i).At }},
	} {
		rest, ok := strings.CutPrefix(path, list.of+"[")
		number, rest, closed := strings.Cut(rest, "]")
		i, err := strconv.Atoi(number)
		if !ok || !closed || err != nil {
			continue
		}
		name := strictyaml.Clip(list.name(i))
		if name == "" || strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) {
			name = fmt.Sprintf("%s %d", list.one, i+1)
		}
		return list.under + name + rest
	}
	return path
}

// wordLists are the keys that hold several words.
var wordLists = []string{"on", "sure", "packs", "raised", "wheel_fits", "may_go_to", "photos", "notes", "seen", "tread", "inner", "center", "outer"}

func nth[T any](list []T, i int) T {
	if i < 0 || i >= len(list) {
		return *new(T)
	}
	return list[i]
}

// said is what a reading is called, else what stood on the plate.
func (r Reading) said() string {
	if r.Name != "" {
		return r.Name
	}
	return strings.Join(r.On, " and ")
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

// saysNotRead reports a value that nobody read, or that was left empty.
func saysNotRead(n strictyaml.Node) bool {
	if n.Empty() {
		return true
	}
	text, ok := scalarText(n)
	return ok && isNotRead(text)
}

// isNotRead reports the texts that people leave where nothing was read. What could
// be a finding (none, nothing, 0, no) is none of them.
func isNotRead(text string) bool {
	if len(text) > 40 {
		return false // and is not copied
	}
	switch text = strings.ToLower(tidy(text)); text {
	case notReadText, "n/a", "na", "n.a.", "not taken", "not checked", "not measured", "?", "-", "--", "\u2014", "\u2013":
		return true
	}
	return text == ""
}

// isBlank reports the line of a form that was not filled in.
func isBlank(n strictyaml.Node) bool {
	text, ok := scalarText(n)
	return ok && text != "" && strings.Trim(text, "_") == ""
}

var otherBlanks = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u202f", " ")
})

// tidy gives a text without blanks around it, and with plain ones in it.
func tidy(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r >= 0x80 }) >= 0 {
		text = otherBlanks().Replace(text)
	}
	return strings.TrimSpace(text)
}

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

// parseWords reads a text in somebody's own words; the line of a form that was
// not filled in is none.
func parseWords(text string) (string, error) {
	if strings.Trim(text, "_") == "" {
		return "", nil
	}
	return parseText(text)
}

func parseYesNo(text string) (bool, error) {
	switch strings.ToLower(text) {
	case "yes", "y", "true":
		return true, nil
	case "no", "n", "false":
		return false, nil
	}
	return false, fmt.Errorf("%w, found %q", ErrYesNo, strictyaml.Clip(text))
}

// parseAll reads yes or no, or "all" for yes.
func parseAll(text string) (bool, error) {
	if strings.EqualFold(text, "all") {
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
		err = fmt.Errorf("%w: want single or dual", weight.ErrWord)
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

// oneOrMore gives a node's elements, taking a single value for a list of one.
func oneOrMore(n strictyaml.Node) []strictyaml.Node {
	if n.IsScalar() {
		return []strictyaml.Node{n}
	}
	return n.List()
}

func scalarText(n strictyaml.Node) (string, bool) {
	if !n.IsScalar() {
		return "", false
	}
	return n.Text()
}

package record

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

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
	// ErrName says that a text is no name of a rule pack.
	ErrName = errors.New("malformed name")
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
	v, c := new(Visit), new(context)
	visitPart().read(doc.Root(), v, c)
	// What could not be read has its problem already; what was read is still
	// checked, so that one pass over the file is enough.
	known := doc.Probs.All()
	checkVisit(v, new(Layout), func(path, code string, err error) {
		for _, p := range known {
			if strings.HasPrefix(p.Path, path) {
				return
			}
		}
		doc.Locate(inFile(path, c.readingAt)).Fail(code, err)
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

func saysNotRead(n strictyaml.Node) bool {
	text, ok := scalarText(n)
	return ok && text == notReadText
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

package origin

import (
	"errors"
	"fmt"
	"strings"
)

// A Grade says how sure a figure is, from a publication that was seen to
// demo data that somebody made up. The zero Grade is none of them: a Source
// without a grade is refused wherever one is asked for.
type Grade uint8

// The six grades, from the surest down.
const (
	// Published: wording or figure seen in the source named.
	Published Grade = iota + 1
	// Quoted: published, but seen only as a second page quotes it.
	Quoted
	// Computed: worked out from other facts.
	Computed
	// CommonPractice: what the trade does; no publication stands behind it.
	CommonPractice
	// FromMemory: remembered, not looked up; never the only support of a
	// default that can make an answer less safe.
	FromMemory
	// Invented: made up for a demonstration.
	Invented
)

var gradeNames = [...]string{
	Published:      "published",
	Quoted:         "as quoted",
	Computed:       "computed",
	CommonPractice: "common practice",
	FromMemory:     "from memory",
	Invented:       "invented",
}

// Sentinel causes of a source that is refused.
var (
	// ErrGrade says that a word is none of the six grades.
	ErrGrade = errors.New("unknown grade")
	// ErrSource says that a source lacks its grade or its title.
	ErrSource = errors.New("incomplete source")
)

// String gives the grade as it is written in files, or "ungraded" for the
// zero Grade and any other value that is not one of the six.
func (g Grade) String() string {
	if g == 0 || int(g) >= len(gradeNames) {
		return "ungraded"
	}
	return gradeNames[g]
}

// ParseGrade reads a grade as [Grade.String] writes it. Any other text gives
// an error that matches [ErrGrade] and lists the six.
func ParseGrade(text string) (Grade, error) {
	for g := Published; g <= Invented; g++ {
		if text == gradeNames[g] {
			return g, nil
		}
	}
	return 0, fmt.Errorf("%w %q: want one of %s", ErrGrade, clip(text, 40), strings.Join(gradeNames[1:], ", "))
}

// MarshalText writes the grade as [Grade.String] does; the zero Grade is
// written as empty text.
func (g Grade) MarshalText() ([]byte, error) {
	if g == 0 {
		return []byte{}, nil
	}
	if int(g) >= len(gradeNames) {
		return nil, fmt.Errorf("%w %d", ErrGrade, uint8(g))
	}
	return []byte(gradeNames[g]), nil
}

// UnmarshalText reads what [Grade.MarshalText] wrote; errors match [ErrGrade].
func (g *Grade) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*g = 0
		return nil
	}
	v, err := ParseGrade(string(text))
	if err != nil {
		return err
	}
	*g = v
	return nil
}

// A Source is where a figure comes from: how sure it is, what was read, and
// where in it. It is plain data; == compares all three parts.
type Source struct {
	Grade   Grade  `json:"grade"`
	Title   string `json:"title,omitzero"`
	Locator string `json:"locator,omitzero"`
}

// IsZero reports whether nothing at all is said.
func (s Source) IsZero() bool { return s == Source{} }

// Check returns nil for a source that may stand beside a figure: it has one
// of the six grades and, unless that is common practice, from memory or
// computed, a title. The error matches [ErrSource].
func (s Source) Check() error {
	switch s.Grade {
	case Published, Quoted, Invented:
		if strings.TrimSpace(s.Title) == "" {
			return fmt.Errorf("%w: a source that is %s needs a title", ErrSource, s.Grade)
		}
		return nil
	case Computed, CommonPractice, FromMemory:
		return nil
	}
	return fmt.Errorf("%w: want a grade, one of %s", ErrSource, strings.Join(gradeNames[1:], ", "))
}

// String gives title, locator and grade on one line, such as
// "49 CFR 571.120, S5.1.2 (published)"; with neither title nor locator it is
// the grade alone.
func (s Source) String() string {
	parts := make([]string, 0, 2)
	if s.Title != "" && s.Title != s.Grade.String() {
		parts = append(parts, s.Title)
	}
	if s.Locator != "" {
		parts = append(parts, s.Locator)
	}
	if len(parts) == 0 {
		return s.Grade.String()
	}
	return strings.Join(parts, ", ") + " (" + s.Grade.String() + ")"
}

// clip shortens text that came from outside before it is printed.
func clip(text string, most int) string {
	if len(text) <= most {
		return text
	}
	cut := most
	for cut > 0 && text[cut]&0xC0 == 0x80 {
		cut--
	}
	return text[:cut] + "…"
}

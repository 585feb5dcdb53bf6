package origin

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/internal/word"
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

var grades = word.List[Grade]{
	Words: []string{
		Published:      "published",
		Quoted:         "as quoted",
		Computed:       "computed",
		CommonPractice: "common practice",
		FromMemory:     "from memory",
		Invented:       "invented",
	},
	Unknown: ErrGrade,
}

// Sentinel causes of a source that is refused.
var (
	// ErrGrade says that a word is none of the six grades.
	ErrGrade = errors.New("unknown grade")
	// ErrSource says that a source lacks its grade or its title.
	ErrSource = errors.New("incomplete source")
)

// String gives the grade as it is written in files, or "not known" for the
// zero Grade and any other value that is not one of the six.
func (g Grade) String() string { return grades.String(g) }

// ParseGrade reads a grade as [Grade.String] writes it. Any other text gives
// an error that matches [ErrGrade], with the nearest grade or all six.
func ParseGrade(text string) (Grade, error) { return grades.Parse(text) }

// AppendText appends the grade as [Grade.String] writes it, and nothing for the
// zero Grade; any other value is an error that matches [ErrGrade].
func (g Grade) AppendText(dst []byte) ([]byte, error) { return grades.Append(dst, g) }

// MarshalText writes what [Grade.AppendText] appends.
func (g Grade) MarshalText() ([]byte, error) { return grades.Text(g) }

// UnmarshalText reads what [Grade.MarshalText] wrote; errors match [ErrGrade].
func (g *Grade) UnmarshalText(text []byte) error { return grades.Read(g, text) }

// A Source is where a figure comes from: how sure it is, what was read, and
// where in it. It is plain data; == compares all three parts.
type Source struct {
	Grade   Grade  `json:"grade"`            // how sure it is
	Title   string `json:"title,omitzero"`   // what was read, such as "49 CFR 571.120"
	Locator string `json:"locator,omitzero"` // where in it, such as "S5.1.2"
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
	return fmt.Errorf("%w: want a grade, one of %s", ErrSource, strings.Join(grades.Words[Published:], ", "))
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
	grade := s.Grade.String()
	if s.Grade == 0 {
		grade = "grade not known"
	}
	if len(parts) == 0 {
		return grade
	}
	return strings.Join(parts, ", ") + " (" + grade + ")"
}

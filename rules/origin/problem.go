package origin

import (
	"cmp"
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"
)

// A Position is a place in a file. Line and Column count from 1, columns in
// characters; 0 means not known.
type Position struct {
	File   string `json:"file,omitzero"`   // its name or path, as it was given
	Line   int    `json:"line,omitzero"`   // from 1
	Column int    `json:"column,omitzero"` // from 1, in characters
}

// String gives "file:line:column" without the parts that are not known, or
// "-" when nothing is.
func (p Position) String() string {
	out := p.File
	if p.Line > 0 {
		if out != "" {
			out += ":"
		}
		out += strconv.Itoa(p.Line)
		if p.Column > 0 {
			out += ":" + strconv.Itoa(p.Column)
		}
	}
	if out == "" {
		return "-"
	}
	return out
}

// A Problem is one thing wrong with a file. It is an error; [errors.Is] and
// [errors.As] see its cause. As JSON it is its parts, the cause as text.
type Problem struct {
	Position Position // where it stands
	Path     string   // of the field, such as "axles[1].gawr"; may be empty
	Code     string   // that does not change with the wording, such as "unknown-key"
	Err      error    // the cause
}

// Error gives position, path and cause, or the code where no cause is known.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.Position.String())
	b.WriteString(": ")
	if p.Path != "" {
		b.WriteString(p.Path)
		b.WriteString(": ")
	}
	switch {
	case p.Err != nil:
		b.WriteString(p.Err.Error())
	case p.Code != "":
		b.WriteString(p.Code)
	default:
		b.WriteString("not accepted")
	}
	return b.String()
}

// Unwrap returns the cause.
func (p Problem) Unwrap() error { return p.Err }

// problemJSON is a Problem as JSON.
type problemJSON struct {
	Position
	Path string `json:"path,omitzero"`
	Code string `json:"code,omitzero"`
	Text string `json:"text,omitzero"`
}

// MarshalJSON writes file, line, column, path and code as far as they are known,
// and the cause under text.
func (p Problem) MarshalJSON() ([]byte, error) {
	out := problemJSON{Position: p.Position, Path: p.Path, Code: p.Code}
	if p.Err != nil {
		out.Text = p.Err.Error()
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what [Problem.MarshalJSON] wrote. Of the cause only its
// text comes back.
func (p *Problem) UnmarshalJSON(data []byte) error {
	var in problemJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	*p = Problem{Position: in.Position, Path: in.Path, Code: in.Code}
	if in.Text != "" {
		p.Err = errors.New(in.Text)
	}
	return nil
}

// MaxProblems is how many problems a [Problems] keeps; the rest it counts.
const MaxProblems = 100

// Problems collects all that is wrong with one or more files: the first
// [MaxProblems] found, and a count of those left out. The zero value is ready
// to use. It is not safe for concurrent use while problems are being added.
type Problems struct {
	list []Problem
	more int
}

// Add keeps p, or counts it once [MaxProblems] are kept.
func (ps *Problems) Add(p Problem) {
	if len(ps.list) >= MaxProblems {
		ps.more++
		return
	}
	ps.list = append(ps.list, p)
}

// AddError adds err: all the problems of a *Problems inside it, every Problem
// inside it, or else a problem at pos with code and err as its cause. Of
// several errors joined, those that are no problem become one at pos each. A
// nil err adds nothing.
func (ps *Problems) AddError(pos Position, code string, err error) {
	switch e := err.(type) { // not errors.As, which stops at the first of several
	case nil:
		return
	case *Problems:
		if e == nil {
			return
		}
		for _, p := range e.list {
			ps.Add(p)
		}
		ps.more += e.more
		return
	case Problem:
		ps.Add(e)
		return
	}
	if holdsProblem(err) {
		switch e := err.(type) {
		case interface{ Unwrap() []error }:
			for _, inner := range e.Unwrap() {
				ps.AddError(pos, code, inner)
			}
			return
		case interface{ Unwrap() error }:
			ps.AddError(pos, code, e.Unwrap())
			return
		}
	}
	ps.Add(Problem{Position: pos, Code: code, Err: err})
}

func holdsProblem(err error) bool {
	var many *Problems
	var one Problem
	return errors.As(err, &many) || errors.As(err, &one)
}

// Len returns how many problems there are, those left out included.
func (ps *Problems) Len() int {
	if ps == nil {
		return 0
	}
	return len(ps.list) + ps.more
}

// All returns a copy of the problems kept, in order of file, line and column.
func (ps *Problems) All() []Problem {
	if ps == nil {
		return nil
	}
	out := slices.Clone(ps.list)
	slices.SortStableFunc(out, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.Position.File, b.Position.File),
			cmp.Compare(a.Position.Line, b.Position.Line),
			cmp.Compare(a.Position.Column, b.Position.Column),
		)
	})
	return out
}

// More returns how many problems were left out beyond those of [Problems.All].
func (ps *Problems) More() int {
	if ps == nil {
		return 0
	}
	return ps.more
}

// Err returns nil when there is no problem, else the collection itself.
func (ps *Problems) Err() error {
	if ps.Len() == 0 {
		return nil
	}
	return ps
}

// Error lists the problems in order, a line each, and last how many were left
// out.
func (ps *Problems) Error() string {
	var b strings.Builder
	for i, p := range ps.All() {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.Error())
	}
	if n := ps.More(); n > 0 {
		b.WriteString("\nand ")
		b.WriteString(strconv.Itoa(n))
		b.WriteString(" more")
	}
	return b.String()
}

// MarshalJSON writes the list of the problems kept, in order, under problems,
// and under more how many were left out, if any were.
func (ps *Problems) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Problems []Problem `json:"problems"`
		More     int       `json:"more,omitzero"`
	}{append([]Problem{}, ps.All()...), ps.More()})
}

// Unwrap returns the problems kept, for [errors.Is] and [errors.As].
func (ps *Problems) Unwrap() []error {
	all := ps.All()
	out := make([]error, len(all))
	for i, p := range all {
		out[i] = p
	}
	return out
}

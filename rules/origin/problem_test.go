package origin_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"axleend.example/rules/origin"
)

var errShape = errors.New("wrong shape")

func problem(file string, line, column int) origin.Problem {
	return origin.Problem{
		Position: origin.Position{File: file, Line: line, Column: column},
		Path:     "axles[1].gawr", Code: "shape", Err: errShape,
	}
}

func TestPositionString(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		in   origin.Position
		want string
	}{
		{origin.Position{}, "-"},
		{origin.Position{File: "visit.yaml"}, "visit.yaml"},
		{origin.Position{File: "visit.yaml", Line: 12}, "visit.yaml:12"},
		{origin.Position{File: "visit.yaml", Line: 12, Column: 3}, "visit.yaml:12:3"},
		{origin.Position{Line: 12, Column: 3}, "12:3"},
		{origin.Position{Line: 12}, "12"},
		{origin.Position{Column: 3}, "-"},
		{origin.Position{File: "visit.yaml", Column: 3}, "visit.yaml"},
	} {
		if got := tc.in.String(); got != tc.want {
			t.Errorf("%#v.String() = %q, want %q", tc.in, got, tc.want)
		}
	}
}

func TestProblemError(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		in   origin.Problem
		want string
	}{
		{problem("visit.yaml", 4, 9), "visit.yaml:4:9: axles[1].gawr: wrong shape"},
		{origin.Problem{Err: errShape}, "-: wrong shape"},
		{origin.Problem{Position: origin.Position{File: "a"}, Code: "missing"}, "a: missing"},
		{origin.Problem{}, "-: not accepted"},
	} {
		if got := tc.in.Error(); got != tc.want {
			t.Errorf("Error() = %q, want %q", got, tc.want)
		}
	}
	if err := error(problem("a", 1, 1)); !errors.Is(err, errShape) {
		t.Error("errors.Is does not see the cause of a Problem")
	}
	if got := (origin.Problem{}).Unwrap(); got != nil {
		t.Errorf("Unwrap of a Problem without cause = %v", got)
	}
}

func TestNoProblemsAreNoError(t *testing.T) {
	t.Parallel()
	var none origin.Problems
	if err := none.Err(); err != nil {
		t.Errorf("Err() = %v, want a nil error", err)
	}
	var null *origin.Problems
	if err := null.Err(); err != nil {
		t.Errorf("Err() of a nil collection = %v, want a nil error", err)
	}
	if null.Len() != 0 || null.More() != 0 || len(null.All()) != 0 || len(null.Unwrap()) != 0 || null.Error() != "" {
		t.Error("a nil collection is not empty")
	}
}

func TestProblemsComeInOrder(t *testing.T) {
	t.Parallel()
	var ps origin.Problems
	for _, p := range []origin.Problem{
		problem("b.yaml", 1, 1), problem("a.yaml", 10, 2), problem("a.yaml", 2, 7), problem("a.yaml", 2, 5),
	} {
		ps.Add(p)
	}
	twin := problem("a.yaml", 2, 5) // same place: stays after the one added first
	twin.Path = "axles[2].gawr"
	ps.Add(twin)
	want := `a.yaml:2:5: axles[1].gawr: wrong shape
a.yaml:2:5: axles[2].gawr: wrong shape
a.yaml:2:7: axles[1].gawr: wrong shape
a.yaml:10:2: axles[1].gawr: wrong shape
b.yaml:1:1: axles[1].gawr: wrong shape`
	if got := ps.Err().Error(); got != want {
		t.Errorf("Error() =\n%s\nwant\n%s", got, want)
	}
	if ps.Len() != 5 || ps.More() != 0 {
		t.Errorf("Len() = %d, More() = %d, want 5 and 0", ps.Len(), ps.More())
	}
	all := ps.All()
	all[0].Path = "changed"
	if ps.All()[0].Path == "changed" {
		t.Error("All() hands out the collection's own slice")
	}
	if !errors.Is(ps.Err(), errShape) {
		t.Error("errors.Is does not see the causes")
	}
	var first origin.Problem
	if !errors.As(ps.Err(), &first) || first.Position.Line != 2 || first.Position.Column != 5 {
		t.Errorf("errors.As gives %v, want the first in order", first)
	}
}

func TestProblemsKeepAHundredAndCountTheRest(t *testing.T) {
	t.Parallel()
	var ps origin.Problems
	for i := range 250 {
		ps.Add(problem("a.yaml", i+1, 1))
	}
	if got := len(ps.All()); got != origin.MaxProblems || origin.MaxProblems != 100 {
		t.Errorf("%d problems are kept, want 100", got)
	}
	if ps.Len() != 250 || ps.More() != 150 {
		t.Errorf("Len() = %d, More() = %d, want 250 and 150", ps.Len(), ps.More())
	}
	text := ps.Error()
	if !strings.HasSuffix(text, "\nand 150 more") || strings.Count(text, "\n") != 100 {
		t.Errorf("the text does not end with the count:\n%s", text)
	}

	var one origin.Problems
	for i := range 101 {
		one.Add(problem("a.yaml", i+1, 1))
	}
	if text := one.Error(); !strings.HasSuffix(text, "\nand 1 more") {
		t.Errorf("the text does not end with the count:\n%s", text)
	}

	// One file's problems added to another's: nothing gets lost on the way.
	var sum origin.Problems
	sum.Add(problem("b.yaml", 1, 1))
	sum.AddError(origin.Position{}, "", ps.Err())
	if sum.Len() != 251 || sum.More() != 151 {
		t.Errorf("after adding: Len() = %d, More() = %d, want 251 and 151", sum.Len(), sum.More())
	}
}

func TestAddError(t *testing.T) {
	t.Parallel()
	at := origin.Position{File: "pack.yaml", Line: 3, Column: 4}
	p, q := problem("a.yaml", 1, 2), problem("a.yaml", 5, 6)
	plain := origin.Problem{Position: at, Code: "code", Err: fs.ErrNotExist}
	var two origin.Problems
	two.Add(p)
	two.Add(q)
	wrapped := fmt.Errorf("while reading: %w", fs.ErrNotExist)
	double := fmt.Errorf("%w: %w", errShape, fs.ErrNotExist)
	for _, tc := range []struct {
		name string
		err  error
		want []origin.Problem
	}{
		{"nil", nil, nil},
		{"a nil collection", (*origin.Problems)(nil), nil},
		{"a nil collection, wrapped", fmt.Errorf("pack: %w", (*origin.Problems)(nil)), nil},
		{"an empty collection", &origin.Problems{}, nil},
		{"any error", fs.ErrNotExist, []origin.Problem{plain}},
		{"any error, wrapped", wrapped, []origin.Problem{{Position: at, Code: "code", Err: wrapped}}},
		{"two causes, no problem", double, []origin.Problem{{Position: at, Code: "code", Err: double}}},
		{"a problem", p, []origin.Problem{p}},
		{"a problem, wrapped", fmt.Errorf("pack: %w", p), []origin.Problem{p}},
		{"a collection", two.Err(), []origin.Problem{p, q}},
		{"a collection, wrapped", fmt.Errorf("pack: %w", two.Err()), []origin.Problem{p, q}},
		{"two problems joined", errors.Join(p, q), []origin.Problem{p, q}},
		{"joined with a collection", errors.Join(fs.ErrNotExist, fmt.Errorf("pack: %w", two.Err())), []origin.Problem{p, q, plain}},
		{"joined with another error", errors.Join(p, fs.ErrNotExist), []origin.Problem{p, plain}},
	} {
		var ps origin.Problems
		ps.AddError(at, "code", tc.err)
		got := ps.All()
		if len(got) != len(tc.want) {
			t.Errorf("%s: %d problems, want %d: %v", tc.name, len(got), len(tc.want), got)
			continue
		}
		for i := range got {
			if got[i] != tc.want[i] {
				t.Errorf("%s: problem %d is %v, want %v", tc.name, i, got[i], tc.want[i])
			}
		}
	}
}

// asProblem gives a Problem to errors.As, but unwraps to nothing.
type asProblem struct{}

func (asProblem) Error() string { return "odd" }

func (asProblem) As(target any) bool {
	if p, ok := target.(*origin.Problem); ok {
		*p = origin.Problem{Code: "odd"}
		return true
	}
	return false
}

func TestAddErrorKeepsWhatItCannotTakeApart(t *testing.T) {
	t.Parallel()
	var ps origin.Problems
	ps.AddError(origin.Position{File: "a"}, "code", asProblem{})
	if got := ps.Error(); got != "a: odd" {
		t.Errorf("got %q, want the error itself at its place", got)
	}
}

func TestTextError(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("9", 1_000_000)
	for _, tc := range []struct {
		in   *origin.TextError
		want string
	}{
		{&origin.TextError{Kind: "mass", Text: "3640", Want: "a number and lb or kg", Err: origin.ErrUnit},
			`mass "3640": wrong or missing unit: want a number and lb or kg`},
		{&origin.TextError{Kind: "mass", Text: "1\n2", Err: origin.ErrSyntax}, `mass "1\n2": malformed number`},
		{&origin.TextError{Kind: "mass", Text: long, Err: origin.ErrSyntax},
			`mass "` + strings.Repeat("9", 40) + `…": malformed number`},
		{&origin.TextError{Kind: "mass"}, `mass "": not accepted`},
	} {
		if got := tc.in.Error(); got != tc.want {
			t.Errorf("Error() = %q, want %q", got, tc.want)
		}
	}
	err := fmt.Errorf("tires[2]: %w", &origin.TextError{Kind: "mass", Err: origin.ErrRange})
	var te *origin.TextError
	if !errors.Is(err, origin.ErrRange) || !errors.As(err, &te) || te.Kind != "mass" {
		t.Errorf("errors.Is and errors.As do not see through %v", err)
	}
}

// Problems are written with their texts, and each problem reads back but for the
// type of its cause.
func TestProblemsAsJSON(t *testing.T) {
	t.Parallel()
	var ps origin.Problems
	ps.Add(problem("b.yaml", 2, 7))
	ps.Add(origin.Problem{Code: "size"})
	text, err := json.Marshal(ps.Err())
	want := `{"problems":[{"code":"size"},{"file":"b.yaml","line":2,"column":7,"path":"axles[1].gawr","code":"shape","text":"wrong shape"}]}`
	if err != nil || string(text) != want {
		t.Errorf("%s, %v, want %s", text, err, want)
	}
	for _, p := range ps.All() {
		var back origin.Problem
		text, err := json.Marshal(p)
		if err == nil {
			err = json.Unmarshal(text, &back)
		}
		if err != nil || back.Error() != p.Error() || back.Position != p.Position || back.Path != p.Path || back.Code != p.Code {
			t.Errorf("%s: read back %v, %v", text, back, err)
		}
	}
	for range 150 {
		ps.Add(problem("c.yaml", 1, 1))
	}
	if text, err := json.Marshal(&ps); err != nil || !strings.HasSuffix(string(text), `"more":52}`) {
		t.Errorf("%s, %v", text, err)
	}
	if text, err := json.Marshal(new(origin.Problems)); err != nil || string(text) != `{"problems":[]}` {
		t.Errorf("%s, %v", text, err)
	}
	var p origin.Problem
	if err := json.Unmarshal([]byte(`{"line": "x"}`), &p); err == nil {
		t.Error("a line that is a text is taken")
	}
}

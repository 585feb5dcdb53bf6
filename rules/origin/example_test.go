package origin_test

import (
	"errors"
	"fmt"

	"axleend.example/rules/origin"
)

func ExampleSource() {
	s := origin.Source{Grade: origin.Published, Title: "49 CFR 571.120", Locator: "S5.1.2"}
	fmt.Println(s)
	fmt.Println(origin.Source{Grade: origin.CommonPractice})
	// Output:
	// 49 CFR 571.120, S5.1.2 (published)
	// common practice
}

func ExampleSource_Check() {
	s := origin.Source{Grade: origin.Quoted}
	err := s.Check()
	fmt.Println(err)
	fmt.Println(errors.Is(err, origin.ErrSource))
	// Output:
	// incomplete source: a source that is as quoted needs a title
	// true
}

func ExampleParseGrade() {
	g, err := origin.ParseGrade("as quoted")
	fmt.Println(g, err, g == origin.Quoted)
	_, err = origin.ParseGrade("hearsay")
	fmt.Println(err)
	// Output:
	// as quoted <nil> true
	// unknown grade "hearsay": want one of published, as quoted, computed, common practice, from memory, invented
}

func ExamplePosition() {
	fmt.Println(origin.Position{File: "visit.yaml", Line: 12, Column: 5})
	// Output: visit.yaml:12:5
}

func ExampleProblems() {
	var ps origin.Problems
	ps.Add(origin.Problem{
		Position: origin.Position{File: "visit.yaml", Line: 7, Column: 11},
		Path:     "tires[2].pressure", Code: "value",
		Err: &origin.TextError{Kind: "pressure", Text: "95", Err: origin.ErrUnit},
	})
	ps.Add(origin.Problem{
		Position: origin.Position{File: "visit.yaml", Line: 3, Column: 1},
		Path:     "coach", Code: "missing", Err: errors.New("missing"),
	})
	err := ps.Err()
	fmt.Println(err)
	fmt.Println(errors.Is(err, origin.ErrUnit))
	// Output:
	// visit.yaml:3:1: coach: missing
	// visit.yaml:7:11: tires[2].pressure: pressure "95": wrong or missing unit
	// true
}

func ExampleProblems_All() {
	var ps origin.Problems
	ps.AddError(origin.Position{File: "tables.csv", Line: 4}, "value", errors.New("loads must rise"))
	for _, p := range ps.All() {
		fmt.Println(p.Position.Line, p.Code, p.Err)
	}
	// Output: 4 value loads must rise
}

func ExampleTextError() {
	err := fmt.Errorf("steer axle: %w", &origin.TextError{
		Kind: "mass", Text: "3640", Want: "a number and lb or kg", Err: origin.ErrUnit,
	})
	var te *origin.TextError
	if errors.As(err, &te) {
		fmt.Println(te.Text, "-", te.Want)
	}
	// Output: 3640 - a number and lb or kg
}

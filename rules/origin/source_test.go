package origin_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"axleend.example/rules/origin"
)

var grades = []struct {
	grade origin.Grade
	text  string
}{
	{origin.Published, "published"},
	{origin.Quoted, "as quoted"},
	{origin.Computed, "computed"},
	{origin.CommonPractice, "common practice"},
	{origin.FromMemory, "from memory"},
	{origin.Invented, "invented"},
}

func TestGradeText(t *testing.T) {
	t.Parallel()
	for _, tc := range grades {
		if got := tc.grade.String(); got != tc.text {
			t.Errorf("Grade(%d).String() = %q, want %q", tc.grade, got, tc.text)
		}
		got, err := origin.ParseGrade(tc.text)
		if err != nil || got != tc.grade {
			t.Errorf("ParseGrade(%q) = %d, %v, want %d", tc.text, got, err, tc.grade)
		}
		text, err := tc.grade.MarshalText()
		if err != nil || string(text) != tc.text {
			t.Errorf("Grade(%d).MarshalText() = %q, %v", tc.grade, text, err)
		}
		var back origin.Grade
		if err := back.UnmarshalText(text); err != nil || back != tc.grade {
			t.Errorf("UnmarshalText(%q) = %d, %v, want %d", text, back, err, tc.grade)
		}
	}
}

func TestGradesRunFromTheSurestDown(t *testing.T) {
	t.Parallel()
	for i := 1; i < len(grades); i++ {
		if grades[i-1].grade >= grades[i].grade {
			t.Errorf("%s does not come before %s", grades[i-1].text, grades[i].text)
		}
	}
	if first := grades[0].grade; first != 1 {
		t.Errorf("Published is %d: the zero Grade must be none of the six", first)
	}
}

func TestGradeThatIsNone(t *testing.T) {
	t.Parallel()
	for _, g := range []origin.Grade{0, 7, 255} {
		if got := g.String(); got != "not known" {
			t.Errorf("Grade(%d).String() = %q, want not known", g, got)
		}
	}
	if text, err := origin.Grade(0).MarshalText(); err != nil || len(text) != 0 {
		t.Errorf("the zero Grade is written as %q, %v, want empty text", text, err)
	}
	if _, err := origin.Grade(7).MarshalText(); !errors.Is(err, origin.ErrGrade) {
		t.Errorf("Grade(7).MarshalText() error = %v, want ErrGrade", err)
	}
	if text, err := origin.Quoted.AppendText([]byte("x ")); err != nil || string(text) != "x as quoted" {
		t.Errorf("Quoted is appended as %q, %v", text, err)
	}
	g := origin.Published
	if err := g.UnmarshalText(nil); err != nil || g != 0 {
		t.Errorf("empty text gives %v, %v, want the zero Grade", g, err)
	}
	for _, text := range []string{"Published", " published", "quoted", "not known", "1"} {
		got, err := origin.ParseGrade(text)
		if !errors.Is(err, origin.ErrGrade) || got != 0 {
			t.Errorf("ParseGrade(%q) = %v, %v, want ErrGrade", text, got, err)
		}
	}
	if _, err := origin.ParseGrade(""); !errors.Is(err, origin.ErrGrade) {
		t.Errorf("ParseGrade of empty text: %v, want ErrGrade", err)
	}
	g = origin.Quoted
	if err := g.UnmarshalText([]byte("rumor")); !errors.Is(err, origin.ErrGrade) || g != origin.Quoted {
		t.Errorf("a refused text changes the grade to %v, error %v", g, err)
	}
}

func TestGradeErrorSaysWhatIsWantedAndStaysShort(t *testing.T) {
	t.Parallel()
	_, err := origin.ParseGrade(strings.Repeat("é", 100_000))
	for _, tc := range grades {
		if !strings.Contains(err.Error(), tc.text) {
			t.Errorf("the error does not list %q: %v", tc.text, err)
		}
	}
	if n := len(err.Error()); n > 250 {
		t.Errorf("the error is %d bytes long", n)
	}
	if strings.ContainsRune(err.Error(), '\uFFFD') {
		t.Errorf("the error cuts a character in two: %v", err)
	}
}

func TestSourceCheck(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name string
		in   origin.Source
		ok   bool
	}{
		{"published", origin.Source{Grade: origin.Published, Title: "49 CFR 571.120", Locator: "S5.1.2"}, true},
		{"published, no locator", origin.Source{Grade: origin.Published, Title: "36 FR 14583"}, true},
		{"published, no title", origin.Source{Grade: origin.Published, Locator: "S5.1.2"}, false},
		{"published, blank title", origin.Source{Grade: origin.Published, Title: " \t"}, false},
		{"quoted, no title", origin.Source{Grade: origin.Quoted}, false},
		{"invented, no title", origin.Source{Grade: origin.Invented}, false},
		{"invented", origin.Source{Grade: origin.Invented, Title: "demo coach"}, true},
		{"computed", origin.Source{Grade: origin.Computed}, true},
		{"common practice", origin.Source{Grade: origin.CommonPractice}, true},
		{"from memory", origin.Source{Grade: origin.FromMemory}, true},
		{"nothing", origin.Source{}, false},
		{"no grade", origin.Source{Title: "49 CFR 571.120"}, false},
		{"no such grade", origin.Source{Grade: 7, Title: "49 CFR 571.120"}, false},
	} {
		err := tc.in.Check()
		if (err == nil) != tc.ok {
			t.Errorf("%s: Check() = %v", tc.name, err)
		}
		if err != nil && !errors.Is(err, origin.ErrSource) {
			t.Errorf("%s: Check() = %v does not match ErrSource", tc.name, err)
		}
	}
}

func TestSourceString(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		in   origin.Source
		want string
	}{
		{origin.Source{}, "grade not known"},
		{origin.Source{Grade: origin.CommonPractice}, "common practice"},
		{origin.Source{Grade: origin.CommonPractice, Title: "common practice"}, "common practice"},
		{origin.Source{Grade: origin.CommonPractice, Title: "common practice", Locator: "duals"}, "duals (common practice)"},
		{origin.Source{Grade: origin.Published, Title: "49 CFR 571.120", Locator: "S5.1.2"}, "49 CFR 571.120, S5.1.2 (published)"},
		{origin.Source{Grade: origin.Quoted, Title: "49 CFR 393.75"}, "49 CFR 393.75 (as quoted)"},
		{origin.Source{Title: "49 CFR 393.75"}, "49 CFR 393.75 (grade not known)"},
	} {
		if got := tc.in.String(); got != tc.want {
			t.Errorf("%#v.String() = %q, want %q", tc.in, got, tc.want)
		}
	}
}

func TestSourceJSON(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		in   origin.Source
		want string
	}{
		{origin.Source{Grade: origin.Published, Title: "TM 9-2610-200-14", Locator: "table 2-1"},
			`{"grade":"published","title":"TM 9-2610-200-14","locator":"table 2-1"}`},
		{origin.Source{Grade: origin.CommonPractice}, `{"grade":"common practice"}`},
		{origin.Source{}, `{"grade":""}`},
	} {
		text, err := json.Marshal(tc.in)
		if err != nil || string(text) != tc.want {
			t.Errorf("Marshal(%v) = %s, %v, want %s", tc.in, text, err, tc.want)
		}
		var back origin.Source
		if err := json.Unmarshal(text, &back); err != nil || back != tc.in {
			t.Errorf("Unmarshal(%s) = %#v, %v, want %#v", text, back, err, tc.in)
		}
	}
	var s origin.Source
	if err := json.Unmarshal([]byte(`{"grade":"hearsay"}`), &s); !errors.Is(err, origin.ErrGrade) {
		t.Errorf("a grade that is none: %v, want ErrGrade", err)
	}
}

func TestSourceIsZero(t *testing.T) {
	t.Parallel()
	if !(origin.Source{}).IsZero() {
		t.Error("the zero Source is not zero")
	}
	for _, s := range []origin.Source{{Grade: origin.Computed}, {Title: "x"}, {Locator: "x"}} {
		if s.IsZero() {
			t.Errorf("%#v is zero", s)
		}
	}
}

func FuzzGrade(f *testing.F) {
	for _, tc := range grades {
		f.Add(tc.text)
	}
	f.Add("")
	f.Add("\xff")
	f.Fuzz(func(t *testing.T, text string) {
		g, err := origin.ParseGrade(text)
		if err == nil && g.String() != text {
			t.Errorf("ParseGrade(%q) = %v", text, g)
		}
		if err != nil && (g != 0 || !errors.Is(err, origin.ErrGrade)) {
			t.Errorf("ParseGrade(%q) = %v, %v", text, g, err)
		}
	})
}

package inspect_test

import (
	"fmt"
	"slices"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// TestAges: how an age is written in packs, each on the list above the one before it;
// the others are none. Months have at most 31 days, and nobody counts beyond 1,000.
func TestAges(t *testing.T) {
	t.Parallel()
	age, err := inspect.Vocabulary().Measure("tire", "age")
	if err != nil {
		t.Fatal(err)
	}
	last := int64(-1)
	for _, x := range []struct{ text, want string }{
		{"0 days", "0 days"}, {"1 day", "1 day"}, {"2 days", "2 days"}, {"31 days", "31 days"}, {"1 months", "1 month"}, {"1 month 1 day", "1 month 1 day"},
		{"11 months 31 days", "11 months 31 days"}, {"12 months", "1 year"}, {"1 year 31 days", "1 year 31 days"}, {"13 months", "1 year 1 month"}, {"2 years 3 months 4 days", "2 years 3 months 4 days"},
		{"5 years 6 months", "5 years 6 months"}, {" 6  years ", "6 years"}, {"1000 months", "83 years 4 months"}, {"1000 years", "1000 years"},
	} {
		v, err := age.Parse(x.text)
		n, _, ok := v.Interval()
		if err != nil || !ok || n <= last || age.Text(v) != x.want {
			t.Errorf("%q: %s, %d after %d, %v", x.text, age.Text(v), n, last, err)
		}
		last = n
	}
	for _, text := range []string{"", "10", "years", "years 10", "5 years 6", "-1 years", "1.5 years", "1001 years", "1001 months", "32 days", "6 months 5 years", "5 years 5 years", "1 day 1 year",
		"1 year 2 months 3 days 4 days", "1 year 1 month 1 day 1", "5 decades", "5 yearss", "5 Years"} {
		if v, err := age.Parse(text); err == nil {
			t.Errorf("%q is taken for %s", text, age.Text(v))
		}
	}
	// Nobody writes an age below zero, but whoever makes one sees what it is.
	if got := age.Text(rules.Quantity[int64](-(13*judge.AgeUnit + 2))); got != "-1 year 1 month 2 days" {
		t.Errorf("13 months and 2 days below zero: %q", got)
	}
}

// TestTitleWithinASentence: the title of a rule that is asked stands behind "Not known",
// with a small letter but for an abbreviation.
func TestTitleWithinASentence(t *testing.T) {
	t.Parallel()
	for title, want := range map[string]string{
		"Cracks too deep": "cracks too deep", "Zigzags": "zigzags", "As deep as that": "as deep as that", "GAWR of it": "GAWR of it", "A crack": "A crack", "X": "X", "small": "small", "2 cracks": "2 cracks", "[Cracks]": "[Cracks]",
	} {
		own := visittest.Compile(t, fmt.Sprintf("\n  r: {title: %q, subject: tire, measure: crack_depth, at_most: 1 mm, not_recorded: asked, action: before_trip, advice: A, source: {grade: computed}}\n", title))
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\n"+surveyAxles+"tires: [{at: steer-left, number: 2222}]\n"), inspect.Setup{Program: own})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.What == "Not known: "+want }) {
			t.Errorf("%q: %+v", title, r.Todo)
		}
	}
}

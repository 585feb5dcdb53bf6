package inspect_test

import (
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestAgesComeFromTheRules: what falls due by age is what the packs in force ask for,
// each at its own tires: from the day of an age for less than it, the day after for at
// most it, every year for what is only planned. Week 22 of 2022 begins on 29 May.
func TestAgesComeFromTheRules(t *testing.T) {
	t.Parallel()
	own := visittest.Compile(t, `
  look: {title: look, subject: tire, measure: age, less_than: 3 years, action: plan, advice: A, source: {grade: computed, title: own look}}
  swap: {title: swap, subject: tire, where: {role: steer}, measure: age, at_most: 6 years 6 months, action: before_trip, advice: A, source: {grade: computed, title: own swap}}
`)
	visit := visittest.Read(t, "visit: 1\ndate: 2026-10-03\n"+surveyAxles+"tires: [{at: steer-left, number: 2222}, {at: drive-left-outer, number: 2222}, {at: spare, note: not read}]\n")
	r, err := inspect.Assess(visit, inspect.Setup{Program: own})
	if err != nil {
		t.Fatal(err)
	}
	got := make(map[report.DueKind]report.Due)
	for _, d := range r.Due() {
		got[d.Kind] = d
	}
	if d := got[report.DueReplacement]; d.On.String() != "2028-11-30" || len(d.Where) != 1 || d.Where[0] != "steer-left" || d.Source.Title != "own swap" {
		t.Errorf("replaced: %+v", d)
	}
	if d := got[report.DueInspection]; d.On.String() != "2027-05-29" || len(d.Where) != 2 || d.Source.Title != "own look" {
		t.Errorf("looked at: %+v", d)
	}
	r, err = inspect.Assess(visit, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Tires {
		x := &r.Tires[i]
		if n := len(x.AgeLimits); x.Number == "2222" && (n != 2 || x.AgeLimits[0].Age.Years != 5 || x.AgeLimits[0].Kind != report.DueInspection || x.AgeLimits[1].Age.Years != 10 || x.AgeLimits[1].Kind != report.DueReplacement) {
			t.Errorf("%s by the packs shipped: %+v", x.At, x.AgeLimits)
		}
	}
}

package judge

import (
	"fmt"

	"axleend.example/inspect/record"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// checkOwn compares the house measures in the visit with the vocabulary. A value
// that its measure cannot have is a problem of the visit, and so is a value for a
// measure that has a key of its own. A name that no pack declares is listed as not
// judged: a typo silences no rule.
func (a *Assessment) checkOwn() error {
	v := a.Visit
	var ps origin.Problems
	a.checkOwnOf("coach", "", v.Own, &ps)
	for i := range v.Axles {
		a.checkOwnOf("axle", v.Axles[i].ID, v.Axles[i].Own, &ps)
	}
	for _, places := range [...][]int{a.Layout.TireAt, a.Layout.Spares} {
		for _, i := range places {
			if i >= 0 {
				a.checkOwnOf("tire", v.Tires[i].At, v.Tires[i].Own, &ps)
			}
		}
	}
	return ps.Err()
}

// checkOwnOf checks those of the axle or tire at a place, or of the coach, which has
// none.
func (a *Assessment) checkOwnOf(subject, place string, own record.Own, ps *origin.Problems) {
	for _, name := range own.Names() {
		where, path := place, place+".own."+name
		if place == "" {
			where, path = coachName, "own."+name
		}
		fail := func(code string, err error) { ps.Add(origin.Problem{Path: path, Code: code, Err: err}) }
		if isOurs(subject, name) {
			fail(strictyaml.CodeUnknown, fmt.Errorf("%w %q under own: it is no house measure, and found from the visit's other keys", strictyaml.ErrUnknown, name))
			continue
		}
		m, err := a.Program.Vocabulary().Measure(subject, name)
		if err != nil {
			need := "the rule pack that declares " + name + ", which stands under own"
			if near := strictyaml.Nearest(name, a.declared(subject)); near != "" {
				need += "; did you mean " + near + "?"
			}
			a.Gap(where, need, "")
			continue
		}
		if _, err := m.Parse(own[name]); err != nil {
			fail(strictyaml.CodeValue, err)
		}
	}
}

// setOwn puts the visit's house measures into the facts of a subject; checkOwn
// has reported those that cannot be.
func (a *Assessment) setOwn(own record.Own, f *rules.Facts) {
	for name, text := range own {
		if m, err := a.Program.Vocabulary().Measure(f.Subject(), name); err == nil && !isOurs(f.Subject(), name) {
			if v, err := m.Parse(text); err == nil {
				f.Set(m, v)
			}
		}
	}
}

// isOurs reports whether a measure is found from what the visit records.
func isOurs(subject, name string) bool {
	_, err := Vocabulary().Measure(subject, name)
	return err == nil
}

// declared are the house measures of a subject.
func (a *Assessment) declared(subject string) []string {
	var out []string
	for _, s := range a.Program.Vocabulary().Definition().Subjects {
		for _, m := range s.Measures {
			if s.Name == subject && !isOurs(subject, m.Name) {
				out = append(out, m.Name)
			}
		}
	}
	return out
}

// ownNeed says what to write down for a house measure; "" for any other.
func (a *Assessment) ownNeed(subject, name string) string {
	if a.Program.Vocabulary() == Vocabulary() {
		return ""
	}
	m, err := a.Program.Vocabulary().Measure(subject, name)
	switch {
	case err != nil || isOurs(subject, name):
		return ""
	case subject == "tire" || subject == "axle" || subject == "coach":
		return m.Measure().Doc + " (own: " + name + ")"
	}
	return m.Measure().Doc
}

package judge

import (
	"slices"
	"strings"
	"sync"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// shipped are the shipped packs by name, each compiled by itself when a visit first
// asks for it.
var shipped = sync.OnceValue(func() map[string]func() (*rules.Program, error) {
	out := make(map[string]func() (*rules.Program, error))
	for _, name := range packs.Names() {
		out[name] = sync.OnceValues(func() (*rules.Program, error) { return Compile(packs.FS(), name) })
	}
	return out
})

// choosePacks makes the program of this visit: the one it is judged with and the
// packs that the visit wants beside it, less those that are surely for another
// coach. The report says what is not at hand, what was left out, and what cannot
// be told.
func (a *Assessment) choosePacks() error {
	program, err := a.withWanted()
	if err != nil {
		return err
	}
	coach := a.facts.coach
	coach.Reset(coachName)
	if !a.doubtful(ofCoach("gvwr")) {
		coach.Set(a.Refs.coachGVWR, Value(a.Visit.Ratings.GVWR))
	}
	var found []rules.ScopeFinding
	if a.Program, found, err = program.Within(coach); err != nil {
		return err
	}
	var unsure []string
	for i := range found {
		f := &found[i]
		switch f.Verdict {
		case rules.Breached:
			a.Caution("The pack " + f.Pack + " was left out: it is for a coach with " + f.Text + ".")
		case rules.NotRecorded:
			unsure = append(unsure, f.Pack)
			for _, m := range f.ToRecord {
				need := a.Refs.coach.needs[m]
				if need == "" {
					need = strings.ReplaceAll(m, "_", " ")
				}
				a.Gap(coachName, need, "")
			}
		}
	}
	if a.factsOf != a.Program.Vocabulary() {
		if err := a.newFacts(); err != nil {
			return err
		}
	}
	if err := a.checkOwn(); err != nil {
		return err
	}
	a.sayWhom()
	if len(unsure) > 0 {
		a.Caution("It is not known whether this coach is one for " + strings.Join(unsure, ", ") + ": their rules were used, so that the stricter decides.")
	}
	return nil
}

// sayWhom says which packs were written for other coaches than this one, and of
// which nobody can tell. They judge all the same: a law of the road holds where a
// coach is driven, and a rule for trucks is a benchmark.
func (a *Assessment) sayWhom() {
	var unsure strings.Builder
	country := strings.ToUpper(strings.TrimSpace(a.Visit.Country))
	use, used := a.Visit.Use.Get()
	for _, w := range a.Program.For() {
		where := among(country, w.Countries)
		if len(w.Uses) > 0 && !used {
			where = max(where, notSaid)
		}
		switch {
		case where == elsewhere:
			a.Caution("The pack " + w.Pack + " is for a coach " + w.String() + ", and this one is registered in " + country + ": its rules were used all the same.")
		case used && len(w.Uses) > 0 && !slices.Contains(w.Uses, use):
			a.Caution("The pack " + w.Pack + " is for a coach " + w.String() + ", and this one is in " + use + " use: its rules were used all the same.")
		case where == notSaid:
			if unsure.Len() > 0 {
				unsure.WriteString("; ")
			} else {
				unsure.Grow(256)
			}
			unsure.WriteString(w.Pack)
			unsure.WriteString(" (")
			unsure.WriteString(w.String())
			unsure.WriteString(")")
		}
	}
	if unsure.Len() > 0 {
		a.Caution("Nobody wrote down whether this coach is one for " + unsure.String() + ": their rules were used. Write down country and use.")
	}
}

// Whether a coach is registered in one of some countries.
const (
	there     = iota
	notSaid   // not known, or of a part of the country not known
	elsewhere // surely not
)

// among looks for a country, by the letters of ISO 3166, in a list: CA-QC is in CA,
// and CA may be in CA-QC.
func among(country string, list []string) int {
	if len(list) == 0 {
		return there
	}
	if len(country) < 2 || len(country) > 2 && country[2] != '-' {
		return notSaid // no letters of ISO 3166
	}
	out := elsewhere
	for _, c := range list {
		switch {
		case country == c || strings.HasPrefix(country, c+"-"):
			return there
		case strings.HasPrefix(c, country+"-"):
			out = notSaid
		}
	}
	return out
}

// coachName is what a report calls the coach as a whole.
const coachName = "coach"

// withWanted is the program with the packs that the visit wants beside it. The
// visits of one coach mostly want the same.
func (a *Assessment) withWanted() (*rules.Program, error) {
	if len(a.Visit.Packs) == 0 {
		return a.given, nil
	}
	var beside []*rules.Program
	var names []string
	for _, name := range a.Visit.Packs {
		if slices.Contains(a.given.Packs(), name) {
			continue
		}
		p, err := a.atHand(name)
		if err != nil {
			return nil, err
		}
		if p == nil {
			a.Gap(coachName, "the rules of the pack "+name+", which the visit asks for and which is not at hand"+a.meantPack(name), "")
			continue
		}
		beside, names = append(beside, p), append(names, name)
	}
	if a.together == nil || !slices.Equal(beside, a.beside) {
		a.beside, a.together, a.unfit = beside, a.given, nil
		for i, p := range beside {
			together, err := a.together.With(p)
			if err != nil {
				a.unfit = append(a.unfit, names[i])
				continue
			}
			a.together = together
		}
	}
	for _, name := range a.unfit {
		a.Gap(coachName, "the rules of the pack "+name+", which the visit asks for and which speaks of other measures than the packs that it is judged with", "")
	}
	return a.together, nil
}

// atHand is a pack by name: of those given beside the program where there are
// any, else a shipped one; nil for none.
func (a *Assessment) atHand(name string) (*rules.Program, error) {
	for _, p := range a.Beside {
		if slices.Contains(p.Packs(), name) {
			return p, nil
		}
	}
	if compile := shipped()[name]; compile != nil {
		return compile()
	}
	return nil, nil
}

// meantPack says which pack a name may stand for that none at hand has.
func (a *Assessment) meantPack(name string) string {
	known := slices.Concat(a.given.Packs(), packs.Names())
	for _, p := range a.Beside {
		known = append(known, p.Packs()...)
	}
	near := strictyaml.Nearest(name, known)
	if near == "" || near == name {
		return ""
	}
	return ": did you mean " + near + "?"
}

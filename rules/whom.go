package rules

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
)

const (
	keyFor     = "for"
	keyCountry = "country"
	keyUse     = "use"
)

// A Whom says for which vehicles a pack was written: that of [Pack.For]. Unlike a
// scope it leaves no pack out: a law of the road holds where a vehicle is driven,
// not where it is registered, and a rule for trucks may serve as a benchmark.
type Whom struct {
	// Pack is the name of the pack that says so.
	Pack string
	// Countries are where the vehicles are registered, in the letters of ISO 3166:
	// "AT", "CA-QC"; none for any country.
	Countries []string
	// Uses are "private", "commercial" or both; none for any use.
	Uses []string
}

// String gives it in words: "registered in AT, commercial use"; empty for every
// vehicle.
func (w Whom) String() string {
	switch countries, uses := strings.Join(w.Countries, " or "), strings.Join(w.Uses, " or "); {
	case uses == "" && countries == "":
		return ""
	case uses == "":
		return "registered in " + countries
	case countries == "":
		return uses + " use"
	default:
		return "registered in " + countries + ", " + uses + " use"
	}
}

// For returns for which vehicles the pack was written, as its file states.
func (p Pack) For() Whom {
	w := Whom{Pack: p.Name()}
	if of := p.get().whom; of != nil {
		w = copied([]*Whom{of})[0]
	}
	return w
}

// For returns what the packs of the program state of whom they were written for,
// in their order; a pack that states nothing is not among them.
func (p *Program) For() []Whom {
	return copied(p.whoms)
}

// copied are the caller's own, their lists in one piece of memory: every assessment
// asks for them.
func copied(whoms []*Whom) []Whom {
	out := make([]Whom, len(whoms))
	n := 0
	for _, w := range whoms {
		n += len(w.Countries) + len(w.Uses)
	}
	lists := make([]string, 0, n)
	own := func(list []string) []string {
		from := len(lists)
		if lists = append(lists, list...); from == len(lists) {
			return nil
		}
		return lists[from:len(lists):len(lists)]
	}
	for i, w := range whoms {
		out[i] = Whom{Pack: w.Pack, Countries: own(w.Countries), Uses: own(w.Uses)}
	}
	return out
}

// readWhom reads a mapping of country and use.
func (p *packFile) readWhom(n strictyaml.Node) *Whom {
	m := n.Map(keyCountry, keyUse)
	if m.IsMap() && !m.Get(keyCountry).Valid() && !m.Get(keyUse).Valid() {
		n.Fail(codeBound, fmt.Errorf("%w: neither %s nor %s in %s; leave it out", ErrBound, keyCountry, keyUse, keyFor))
	}
	return &Whom{Pack: p.name, Countries: oneOrMore(m.Get(keyCountry), country), Uses: oneOrMore(m.Get(keyUse), func(n strictyaml.Node) string { return choice(n, "private", "commercial") })}
}

// oneOrMore reads a value, or a list of values, each only once.
func oneOrMore(n strictyaml.Node, read func(strictyaml.Node) string) []string {
	items := []strictyaml.Node{n}
	switch {
	case !n.Valid():
		return nil
	case n.IsList():
		if items = n.List(); len(items) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: nothing in it; leave it out", strictyaml.ErrShape))
		}
	}
	var out []string
	for _, item := range items {
		switch text := read(item); {
		case text == "":
		case slices.Contains(out, text):
			item.Fail(codeTwice, fmt.Errorf("%w: %q", ErrTwice, text))
		default:
			out = append(out, text)
		}
	}
	return out
}

// country reads the two letters of ISO 3166-1, or these with those of a part of the
// country by ISO 3166-2.
func country(n strictyaml.Node) string {
	text, ok := n.Text()
	if !ok {
		return ""
	}
	letters, part, parted := strings.Cut(text, "-")
	capital := func(r rune) bool { return r < 'A' || r > 'Z' }
	if len(letters) != 2 || strings.ContainsFunc(letters, capital) ||
		parted && (part == "" || len(part) > 3 || strings.ContainsFunc(part, func(r rune) bool { return capital(r) && (r < '0' || r > '9') })) {
		n.Fail(codeSpelling, fmt.Errorf("%w: %q: want the letters of ISO 3166, such as US or CA-QC", ErrSpelling, strictyaml.Clip(text)))
		return ""
	}
	return text
}

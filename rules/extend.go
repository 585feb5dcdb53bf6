package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"axleend.example/rules/origin"
)

// The most that packs which extend each other may come to: far more than any
// shop has, and little enough that reading and refusing them takes no time.
const (
	maxPacks = 64     // packs that are loaded or compiled together, or stand in one extends
	maxRules = 10_000 // rules of one pack with those that it extends
)

// failf is fail with an error that is only put into words while problems are
// kept.
func (c *compiler) failf(s scalar, code, format string, args ...any) {
	if c.problems.Len() >= origin.MaxProblems {
		c.problems.Add(origin.Problem{Position: s.pos, Code: code})
		return
	}
	c.fail(s, code, fmt.Errorf(format, args...))
}

// shortened leaves out the middle of a long list of names.
func shortened(names []string) []string {
	const most = 8
	if len(names) <= most {
		return names
	}
	return append(append(slices.Clone(names[:most-1]), "…"), names[len(names)-1])
}

// collect takes the packs in, each once.
func (c *compiler) collect(packs []Pack) {
	if len(packs) > maxPacks {
		c.fail(scalar{}, codeLimit, fmt.Errorf("%w packs: %d, at most %d", ErrLimit, len(packs), maxPacks))
		return
	}
	for _, p := range packs {
		f := p.file
		if f == nil {
			c.fail(scalar{}, codeName, fmt.Errorf("%w pack: one that was not loaded", ErrName))
			continue
		}
		if first := c.byName[f.name]; first != nil && f.name != "" {
			if first != f && first.sum != f.sum {
				c.fail(scalar{pos: f.at}, codeTwice, fmt.Errorf("%w: pack %q, also in %s", ErrTwice, f.name, first.at))
			}
			continue
		}
		if f.problems.Len() > 0 {
			c.problems.AddError(f.at, codeName, f.problems)
		}
		c.byName[f.name] = f
		c.packs = append(c.packs, f)
	}
	if len(packs) == 0 {
		// A program of no rules would pass everything in silence.
		c.fail(scalar{}, codeName, fmt.Errorf("%w pack: none is given", ErrName))
	}
}

// extended returns the packs that another one extends.
func (c *compiler) extended() map[*packFile]bool {
	out := make(map[*packFile]bool)
	for _, p := range c.packs {
		for _, e := range p.extends {
			if base := c.byName[e.text]; base != nil {
				out[base] = true
			} else {
				c.lost(e, keyPack, "", c.names)
			}
		}
	}
	return out
}

// close returns all the rules of a pack: those of the packs that it extends less
// the dropped, with its changes, then its own. above are the packs that led here.
func (c *compiler) close(p *packFile, above []string) []*rawRule {
	if rules, ok := c.closed[p]; ok {
		return rules
	}
	rules := c.inherited(p, append(above, p.name))
	place := make(map[string]int, len(rules)) // of an id in rules
	for i, r := range rules {
		place[r.id.text] = i
	}
	kept := c.revised(p, rules, place)
	for _, r := range p.rules {
		if i, there := place[r.id.text]; there && r.id.text != "" {
			c.failf(r.id, codeTwice, "%w: rule %q is one of %s; change it, or take another name", ErrTwice, r.id.text, rules[i].pack)
			continue
		}
		kept = append(kept, r)
	}
	if len(kept) > maxRules {
		c.fail(scalar{pos: p.at, path: keyExtends}, codeLimit, fmt.Errorf("%w rules in one pack with those it extends: %d, at most %d", ErrLimit, len(kept), maxRules))
		kept = nil
	}
	for i, r := range kept {
		// Its own scope, and what it says of whom it is for, hold for all its rules.
		if scope, whom := cmp.Or(p.scope, r.scope), cmp.Or(p.whom, r.whom); scope != r.scope || whom != r.whom {
			own := *r
			own.scope, own.whom = scope, whom
			kept[i] = &own
		}
	}
	c.closed[p] = kept
	return kept
}

// inherited returns the rules of the packs that a pack extends. Rules that come
// through two of them and were not changed are one.
func (c *compiler) inherited(p *packFile, above []string) []*rawRule {
	var rules []*rawRule
	place := make(map[string]int)
	for _, e := range p.extends {
		base := c.byName[e.text]
		if base == nil {
			continue
		}
		if i := slices.Index(above, base.name); i >= 0 {
			c.failf(e, codeCycle, "%w: %s, %s", ErrCycle, strings.Join(shortened(above[i:]), ", "), base.name)
			continue
		}
		for _, r := range c.close(base, above) {
			i, there := place[r.id.text]
			switch {
			case !there:
				place[r.id.text] = len(rules)
				rules = append(rules, r)
			case rules[i] != r:
				c.failf(e, codeTwice, "%w: rule %q comes from %s and, with another content, from %s", ErrTwice, r.id.text, rules[i].pack, r.pack)
			}
		}
	}
	return rules
}

// revised returns rules with a pack's changes and without those it drops.
func (c *compiler) revised(p *packFile, rules []*rawRule, place map[string]int) []*rawRule {
	find := func(id scalar) (int, bool) {
		i, ok := place[id.text]
		if !ok && id.text != "" && len(p.extends) > 0 {
			c.lost(id, "rule", "the packs it extends", func() []string { return ids(rules) })
		}
		return i, ok
	}
	for _, ch := range p.change {
		if i, ok := find(ch.id); ok {
			rules[i] = rules[i].changed(ch)
		}
	}
	gone := make(map[*rawRule]bool)
	for _, d := range p.drop {
		if i, ok := find(d); ok {
			gone[rules[i]] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(rules), func(r *rawRule) bool { return gone[r] })
}

func ids(rules []*rawRule) []string {
	out := make([]string, len(rules))
	for i, r := range rules {
		out[i] = r.id.text
	}
	return out
}

// changed returns r with what ch says.
func (r *rawRule) changed(ch *rawRule) *rawRule {
	out := *r
	out.id, out.pack = ch.id, ch.pack
	out.title = cmp.Or(ch.title, r.title)
	out.advice = cmp.Or(ch.advice, r.advice)
	if ch.causes != nil {
		out.causes = ch.causes
	}
	out.tooClose = cmp.Or(ch.tooClose, r.tooClose)
	out.notRecorded = cmp.Or(ch.notRecorded, r.notRecorded)
	out.action = cmp.Or(ch.action, r.action)
	out.ask = cmp.Or(ch.ask, r.ask)
	out.where = cmp.Or(ch.where, r.where)
	out.bound = cmp.Or(ch.bound, r.bound)
	out.sources = ch.sources
	return &out
}

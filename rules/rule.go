package rules

import (
	"slices"

	"axleend.example/rules/origin"
)

// A Rule is one compiled rule. It is immutable; what its methods return is the
// caller's own.
type Rule struct {
	vocabulary *Vocabulary
	scope      *scope // of its pack; nil for everything
	whom       *Whom  // for which vehicles its pack was written; nil for all
	subject    *subject
	index      int // of the subject

	where          []cond
	gates          []gate // what of where is a word or a flag
	others         []cond // the rest of where
	bound          test
	closeBreaches  bool
	passUnrecorded bool
	asks           bool

	divisors uint64     // the bits of the measures that divide a bound
	measures []*measure // all that it speaks of, in the order of their bits
	action   int
	id       string
	pack     string
	name     string // pack/id
	title    string
	advice   string
	ask      string
	causes   []string
	involves []string
	sources  []origin.Source
	at       origin.Position
	raw      *rawRule // as written
}

// ID returns the rule's name within its pack, such as "stem-age".
func (r *Rule) ID() string { return r.id }

// Pack returns the name of the pack that the rule stands in: the one that
// changed it last, if any did.
func (r *Rule) Pack() string { return r.pack }

// Name returns the pack and the id, such as "yard/stem-age", which names the
// rule among all.
func (r *Rule) Name() string { return r.name }

// Title returns in a few words what is wrong when the rule is breached.
func (r *Rule) Title() string { return r.title }

// Advice returns what to do about a breach, in whole sentences.
func (r *Rule) Advice() string { return r.advice }

// Asks reports whether a verdict of NotRecorded is a question at the rule's
// action: not_recorded: asked. See [Finding.Asked].
func (r *Rule) Asks() bool { return r.asks }

// Ask returns what to read where a finding is [Finding.Asked], in whole
// sentences; it is empty where the rule does not say.
func (r *Rule) Ask() string { return r.ask }

// Causes returns what may have led to a breach, the likeliest first; none of
// them is certain, and most rules name none.
func (r *Rule) Causes() []string { return slices.Clone(r.causes) }

// Tasks returns the names of the tasks that following the advice takes.
func (r *Rule) Tasks() []string { return slices.Clone(r.involves) }

// Involves reports whether following the advice takes the task of that name.
func (r *Rule) Involves(task string) bool { return slices.Contains(r.involves, task) }

// Subject returns the name of the kind of subject that the rule is about.
func (r *Rule) Subject() string { return r.subject.name }

// Measure returns the measure that must keep the bound.
func (r *Rule) Measure() MeasureRef { return refTo(r.bound.measure) }

// Relation returns how the measure must stand to the bound.
func (r *Rule) Relation() Relation { return r.bound.relation }

// Measures returns all that the rule speaks of: its measure, then those of its
// bound and its conditions, each once.
func (r *Rule) Measures() []MeasureRef {
	out := make([]MeasureRef, len(r.measures))
	for i, m := range r.measures {
		out[i] = refTo(m)
	}
	return out
}

// Uses reports whether the rule speaks of a measure: in its bound, or in a
// condition.
func (r *Rule) Uses(m MeasureRef) bool { return slices.Contains(r.measures, m.m) }

// Action returns what is to be done about a breach.
func (r *Rule) Action() Action { return r.vocabulary.actions[r.action] }

// Severity returns the action's place in the vocabulary: 0 is the worst.
func (r *Rule) Severity() int { return r.action }

// Sources returns where the rule comes from; there is at least one.
func (r *Rule) Sources() []origin.Source { return slices.Clone(r.sources) }

// AppendSources is [Rule.Sources] into a slice of the caller's, less those that
// stand there already.
func (r *Rule) AppendSources(dst []origin.Source) []origin.Source {
	for _, s := range r.sources {
		if !slices.Contains(dst, s) {
			dst = append(dst, s)
		}
	}
	return dst
}

// Position returns where the rule stands.
func (r *Rule) Position() origin.Position { return r.at }

package rules

import (
	"fmt"
	"iter"
	"math"
	"math/bits"
	"slices"
	"strings"
	"sync"

	"axleend.example/internal/quantity"
	"axleend.example/internal/strictyaml"
)

// A Program is packs compiled for a vocabulary. It is immutable and may be
// used by any number of goroutines.
type Program struct {
	vocabulary *Vocabulary // with what the packs declare
	base       *Vocabulary // that it was compiled for
	declared   []declared  // by packs
	rules      []*Rule
	packs      []string
	bySubject  []onSubject
	scopes     []*scope // of its packs, in their order
	whoms      []*Whom  // the same
	narrowed   sync.Map // what [Program.Within] gave, by the scopes left out
}

// onSubject are the rules on one kind of subject, in their order.
type onSubject struct {
	rules  []*Rule
	blocks blocks // the same, to judge them together
}

// Vocabulary returns the vocabulary that the program was compiled for, with the
// measures that its packs declare.
func (p *Program) Vocabulary() *Vocabulary { return p.vocabulary }

// Rules returns the rules in the order of packs and files.
func (p *Program) Rules() []*Rule { return slices.Clone(p.rules) }

// Has reports whether match is true of any of the rules.
func (p *Program) Has(match func(*Rule) bool) bool { return slices.ContainsFunc(p.rules, match) }

// Packs returns the names of the packs that the rules stand in, in their order.
func (p *Program) Packs() []string { return slices.Clone(p.packs) }

// Run judges facts, one after the other, by each rule that applies, and yields
// a finding for each, whatever its verdict. The error matches [ErrFacts] and
// is that of the first facts that are of an unrelated vocabulary or carry an
// error; then nothing is judged. Facts must not be changed while the sequence
// is being ranged over.
func (p *Program) Run(facts ...*Facts) (iter.Seq[Finding], error) {
	if err := p.check(facts); err != nil {
		return nil, err
	}
	return func(yield func(Finding) bool) {
		for _, f := range facts {
			on, values := p.about(f)
			for _, r := range on.rules {
				verdict, unsure, applies := r.judge(values)
				if !applies {
					continue
				}
				var found Finding
				if r.fill(&found, f.name, values, verdict, unsure); !yield(found) {
					return
				}
			}
		}
	}, nil
}

// AppendRun is [Program.Run] into a slice. On an error dst is returned as it
// was.
func (p *Program) AppendRun(dst []Finding, facts ...*Facts) ([]Finding, error) {
	if err := p.check(facts); err != nil {
		return dst, err
	}
	for _, f := range facts {
		on, values := p.about(f)
		dst = slices.Grow(dst, len(on.rules))
		for _, r := range on.rules {
			if verdict, unsure, applies := r.judge(values); applies {
				dst = dst[:len(dst)+1]
				r.fill(&dst[len(dst)-1], f.name, values, verdict, unsure)
			}
		}
	}
	return dst, nil
}

// AppendNotKept judges facts as [Program.AppendRun] does, appends the findings
// whose verdict is not Kept, and counts those that are. Findings on the measures
// in also are appended even if they are Kept. Where most rules are kept it takes
// half the time or less. On an error dst is returned as it was.
func (p *Program) AppendNotKept(dst []Finding, f *Facts, also ...MeasureRef) (out []Finding, kept int, err error) {
	if err := p.check([]*Facts{f}); err != nil {
		return dst, 0, err
	}
	on, values := p.about(f)
	dst, kept = on.blocks.notKept(dst, f.name, values, also)
	return dst, kept, nil
}

func (p *Program) check(facts []*Facts) error {
	for _, f := range facts {
		switch {
		case f == nil || f.vocabulary == nil:
			return fmt.Errorf("%w: not made by NewFacts", ErrFacts)
		case f.err != nil:
			return f.err
		case f.vocabulary != p.vocabulary && !f.vocabulary.related(p.vocabulary):
			return fmt.Errorf("%w: %s %q is of another vocabulary than the program", ErrFacts, f.Subject(), strictyaml.Clip(f.name))
		}
	}
	return nil
}

// about returns the rules on the facts' subject, and as many values as they
// can ask for: facts may be of a vocabulary that the program's extends, or of
// one that extends it.
func (p *Program) about(f *Facts) (*onSubject, []Value) {
	if f.index >= len(p.bySubject) {
		return &onSubject{}, nil
	}
	values := f.values
	if n := len(p.vocabulary.subjects[f.index].measures); len(values) < n {
		values = append(slices.Clone(values), make([]Value, n-len(values))...)
	}
	return &p.bySubject[f.index], values
}

// A Finding is one rule's verdict on one subject.
type Finding struct {
	Rule    *Rule   // the rule that was held against the facts
	Name    string  // the facts' name
	Verdict Verdict // what the rule says
	asRead  Verdict
	open    bool
	Value   Value // of the rule's measure
	Of      Value // of the measure that the bound is a share of, if it is one
	Divisor Value // that the share is divided by, if a measure divides it
	unsure  uint64
}

// AsRead returns the verdict that there would be if every open quantity were
// exactly what was read, within its plus/minus. Of a verdict other than
// NotRecorded it is the same. Where it is Kept although the verdict is
// NotRecorded, reading again can hardly bring a breach to light: what is known
// of the bound is kept as read, or a condition is false as read.
func (f Finding) AsRead() Verdict { return f.asRead }

// Open reports whether the verdict is NotRecorded although all that decides was
// recorded: a quantity that is open below or above, or known by limits alone,
// leaves it undecided. [Finding.ToRecord] names it, to be read properly.
func (f Finding) Open() bool { return f.open }

// Asked reports whether the verdict is NotRecorded and what [Finding.ToRecord]
// names is to be asked for at the rule's action: because the rule says
// not_recorded: asked, or because of a quantity that is open. Nothing is asked
// where AsRead is Kept.
func (f Finding) Asked() bool {
	return f.Verdict == NotRecorded && f.asRead != Kept && (f.open || f.Rule.asks)
}

// Bound returns the bound that held: a literal as it stands; a share computed
// from Of and Divisor, an interval if they have a plus/minus, in whole steps
// rounded to the stricter side (upper bounds down, lower bounds up, others
// apart) and cut at the ends of 64 bits. It is open where Of is, and known by
// limits alone where Divisor is open. It is the zero Value if Of or Divisor
// was not recorded, and for words and flags. Verdicts do not rest on it: they
// are found without rounding.
func (f Finding) Bound() Value {
	t := &f.Rule.bound
	switch t.form {
	case testSet:
		return Value{}
	case testLiteral:
		return Quantity(t.literal)
	}
	div := f.Divisor
	if t.share.div == nil {
		div = Quantity[int64](1)
	}
	if !f.Of.Recorded() || !div.divides() {
		return Value{}
	}
	low, high := t.share.bound(&f.Of, &div)
	if f.Of.open|div.open == 0 {
		return t.relation.strict(low, high)
	}
	lower, upper := t.share.ends(&f.Of, &div)
	switch {
	case lower.none:
		return t.relation.strict(upper.low, upper.high).OrLess()
	case upper.none:
		return t.relation.strict(lower.low, lower.high).OrMore()
	}
	v := t.relation.strict(lower.low, upper.high)
	return Somewhere(v.low, v.high)
}

// strict is a bound from low to high in whole steps, rounded to the stricter
// side.
func (r Relation) strict(low, high ratio) Value {
	down, up := quantity.Floor, quantity.Ceiling
	switch {
	case r.upper():
		up = down
	case r.lower():
		down = up
	}
	n := low.round(down)
	if low == high && down == up {
		return Quantity(n)
	}
	return Between(n, high.round(up))
}

func (r ratio) round(to quantity.Rounding) int64 {
	n, ok := quantity.MulDiv(r.n, r.num, r.den, to)
	switch {
	case ok:
		return n
	case r.n < 0:
		return math.MinInt64
	}
	return math.MaxInt64
}

// BoundText writes the relation and the bound, a computed one with what it was
// computed from, such as "at most 2,500 lb (50 % of gawr, 5,000 lb)".
func (f Finding) BoundText() string { return string(f.AppendBoundText(nil)) }

// AppendBoundText appends what [Finding.BoundText] writes.
func (f Finding) AppendBoundText(dst []byte) []byte {
	t := &f.Rule.bound
	if t.form == testSet {
		return append(dst, t.phrase()...)
	}
	dst = append(append(dst, t.relation.words()...), ' ')
	ref := refTo(t.measure)
	if t.form == testLiteral {
		return ref.AppendText(dst, Quantity(t.literal))
	}
	b := f.Bound()
	if b.Recorded() {
		dst = append(ref.appendLimit(dst, b), " ("...)
		if b == f.Of { // nothing was computed
			return append(append(dst, t.text...), ')')
		}
	}
	dst = append(append(dst, t.text...), ", "...)
	dst = refTo(t.share.of).AppendText(dst, f.Of)
	if t.share.div != nil {
		dst = refTo(t.share.div).AppendText(append(dst, " and "...), f.Divisor)
	}
	if b.Recorded() {
		dst = append(dst, ')')
	}
	return dst
}

// ValueText writes the value as [MeasureRef.Text] does.
func (f Finding) ValueText() string { return f.Rule.Measure().Text(f.Value) }

// ToRecord returns the names of the measures that keep the verdict from being
// certain: to be recorded if it is NotRecorded; to be measured more closely if
// it is TooClose, or was before the rule counted that as breached; else none.
func (f Finding) ToRecord() []string {
	if f.unsure == 0 {
		return nil
	}
	out := make([]string, 0, bits.OnesCount64(f.unsure))
	for i, m := range f.Rule.measures {
		if f.unsure>>uint(i)&1 != 0 {
			out = append(out, m.Name)
		}
	}
	return out
}

// WasTooClose reports whether the verdict is Breached only because the rule
// counts what is too close to call as breached.
func (f Finding) WasTooClose() bool { return f.Verdict == Breached && f.unsure != 0 }

// phrase says the bound in words: "at most 6 years", "rubber or metal".
func (t *test) phrase() string {
	switch {
	case t.form != testSet:
		return t.relation.words() + " " + t.text
	case t.relation == IsNot:
		return "not " + t.text
	}
	return t.text
}

// Limit says in words what the rule asks for, and of what: "Each tire where the
// role is steer: the tread must be at least 4/32 in".
func (r *Rule) Limit() string {
	var b strings.Builder
	b.WriteString("Each " + spaced(r.subject.name))
	if len(r.where) > 0 {
		b.WriteString(" where " + r.whereText())
	}
	b.WriteString(": " + calledText(r.bound.measure) + " must be " + r.bound.phrase())
	if r.closeBreaches {
		b.WriteString("; too close to call counts as breached")
	}
	if r.passUnrecorded {
		b.WriteString("; not recorded means that it does not apply")
	}
	if r.asks {
		b.WriteString("; not recorded is asked")
	}
	return b.String()
}

// calledText calls a measure by its name, a flag in quotes: "the driven on is yes" is no
// sentence.
func calledText(m *measure) string {
	if m.Flag {
		return `"` + spaced(m.Name) + `"`
	}
	return "the " + spaced(m.Name)
}

func (r *Rule) whereText() string {
	var b strings.Builder
	writeAll(&b, r.where)
	return b.String()
}

// Sentence says the whole rule in words: its [Rule.Limit], what is to be done
// if it is not kept, and what may have led to that.
func (r *Rule) Sentence() string {
	var b strings.Builder
	b.WriteString(r.Limit() + ". If not: " + spaced(r.Action().Name) + ". " + r.advice)
	if len(r.causes) > 0 {
		b.WriteString(" Possible causes, likeliest first: " + strings.Join(r.causes, "; ") + ".")
	}
	return b.String()
}

func writeAll(b *strings.Builder, conds []cond) {
	for i := range conds {
		c := &conds[i]
		switch {
		case i == 0:
		case c.any == nil && c.test.measure == conds[i-1].test.measure:
			b.WriteString(" and " + c.phrase()) // a second bound of one measure
			continue
		default:
			b.WriteString(" and ")
		}
		if c.any == nil {
			b.WriteString(calledText(c.test.measure) + " is " + c.phrase())
			continue
		}
		b.WriteString("(")
		for j, alternative := range c.any {
			if j > 0 {
				b.WriteString(", or ")
			}
			writeAll(b, alternative)
		}
		b.WriteString(")")
	}
}

package rules

import "iter"

// A Program is packs compiled for a vocabulary. It is immutable and may be
// used by any number of goroutines.
type Program struct{ vocabulary *Vocabulary }

// Compile holds packs against the vocabulary. A pack that another of them
// extends is run only as extended, changed and dropped there; otherwise each
// pack's rules stand beside the others'. The error is an *origin.Problems with
// all that is wrong with all the packs, that which loading found included.
func Compile(v *Vocabulary, packs ...Pack) (*Program, error) { panic("being written") }

// Vocabulary returns the vocabulary that the program was compiled for.
func (p *Program) Vocabulary() *Vocabulary { return p.vocabulary }

// Rules returns the rules in the order of packs and files.
func (p *Program) Rules() []*Rule { return nil }

// Run judges facts, one after the other, by each rule that applies, and yields
// a finding for each, whatever its verdict. The error matches [ErrFacts] and
// is that of the first facts that are of an unrelated vocabulary or carry an
// error; then nothing is judged. Facts must not be changed while the sequence
// is being ranged over.
func (p *Program) Run(facts ...*Facts) (iter.Seq[Finding], error) { panic("being written") }

// AppendRun is [Program.Run] into a slice. On an error dst is returned as it
// was.
func (p *Program) AppendRun(dst []Finding, facts ...*Facts) ([]Finding, error) {
	panic("being written")
}

// A Finding is one rule's verdict on one subject.
type Finding struct {
	Rule    *Rule
	Name    string // the facts' name
	Verdict Verdict
	Value   Value // of the rule's measure
	Of      Value // of the measure that the bound is a share of, if it is one
	Divisor Value // that the share is divided by, if a measure divides it
	unsure  uint64
}

// Bound returns the bound that held: a literal as it stands; a share computed
// from Of and Divisor, as an interval if they have a plus/minus, rounded to
// whole steps on the stricter side (upper bounds down, lower bounds up); the
// zero Value if Of or Divisor was not recorded, or the bound is of words.
func (f Finding) Bound() Value { return Value{} }

// BoundText writes relation and bound, and the share that it was computed
// from, such as "at most 2,500 lb (50 % of gawr 5,000 lb)".
func (f Finding) BoundText() string { return "" }

// ValueText writes the value as [MeasureRef.Text] does.
func (f Finding) ValueText() string { return "" }

// ToRecord returns the names of the measures that keep the rule from being
// certain: to be recorded when the verdict is NotRecorded; to be measured more
// closely when it is TooClose, or was before the rule counted that as
// breached; otherwise none.
func (f Finding) ToRecord() []string { return nil }

// WasTooClose reports a Breached that is one only because the rule counts what
// is too close to call as breached.
func (f Finding) WasTooClose() bool { return f.Verdict == Breached && f.unsure != 0 }

// A Judgment is what all rules in one direction say of one measure of one
// subject.
type Judgment struct {
	Verdict  Verdict   // the worst of the findings
	Findings []Finding // those with this verdict first, tighter bounds first among them
}

// Merge brings together the findings with the same subject, measure and
// direction (at_most and less_than are one, at_least and more_than another;
// words and flags only with the same bound), in the order in which each first
// comes.
func Merge(findings []Finding) []Judgment { return nil }

// Lead returns the finding that stands for the others: the worst verdict with
// the tightest bound.
func (j Judgment) Lead() Finding { return j.Findings[0] }

// Action returns the worst action among the findings that are as the
// judgment: what to do if Breached, what may have to be done if TooClose. For
// other verdicts ok is false.
func (j Judgment) Action() (a Action, ok bool) { return Action{}, false }

// Package rules judges what was recorded of a vehicle by rules that stand in
// files: limits that a shop can read, change and prove. The engine knows no
// tires; a [Vocabulary] says what there is to measure.
//
//	packs, err := rules.Load(os.DirFS("packs"), "valve-care")
//	program, err := rules.Compile(vocabulary, packs...)
//	findings, err := program.AppendRun(nil, facts) // kept, breached, too close, not recorded
//
// Everything decides in whole numbers; shares are compared exactly, in 128
// bits. Vocabularies, packs, programs and rules are immutable and may be used
// by any number of goroutines.
//
// # A pack
//
// A pack is one YAML file (JSON is YAML too) that is named like the pack:
//
//	pack: valve-care                  # lower-case words joined by hyphens
//	format: 1                         # the format's version
//	title: Valves and their stems     # one line
//	about: Longer, if there is more to say.
//	edition: as of 2026               # which state of its sources; may be left out
//	for: {country: [US, CA], use: private} # whose vehicles it was written for; may be left out
//	scope: {valve: {stem: rubber}}    # what the pack is for; left out: everything
//
//	rules:
//	  stem-load:                      # the rule's id, like a pack's name
//	    title: The valve carries more than its share of the hose
//	    subject: valve
//	    measure: pull
//	    where:                        # which valves; left out: all of them
//	      extended: yes
//	      stem_age: {at_least: 2 years, less_than: 10 years}
//	      any:
//	        - position: [inner, outer]
//	        - stem: rubber
//	    at_most: 50 % of pull_rating
//	    too_close: as_breached
//	    action: stop
//	    advice: Take the extension off and support the hose.
//	    source: {grade: invented, title: the made-up shop's handbook, locator: page 4}
//
// It says: for each valve that meets the conditions, the pull must be at most
// half of the pull rating; else comes the action, with the advice.
//
// The keys of a rule:
//
//	title         what is wrong when it is breached, in a few words
//	subject       what the rule is about: a subject of the vocabulary
//	measure       what of it must keep the bound
//	where         conditions that must all hold for the rule to apply
//	at_most, less_than, at_least, more_than, is, is_not
//	              the bound: exactly one of the six
//	too_close     reported (as when left out) or as_breached
//	not_recorded  reported (as when left out), does_not_apply or asked
//	ask           what to read, in whole sentences, where that is asked
//	action        what to do about a breach: an action of the vocabulary
//	advice        the same in whole sentences
//	causes        a list of what may have led to it, the likeliest first
//	involves      a list of tasks of the vocabulary that the advice takes
//	source        where the rule comes from; a list if from several places
//
// All but where, too_close, not_recorded, ask, causes and involves are needed.
// None of the causes is certain: the advice says what to check next.
//
// # Bounds
//
//	at_most: 6 years                            a literal, with its unit
//	at_most: pull_rating                        another measure of the same subject
//	at_most: 50 % of pull_rating                a share of it, of up to four decimals
//	at_most: 100 % of gross divided by wheels   divided by a count, or by a number
//	is: rubber                                  a word, or yes or no for a flag
//	is: [rubber, metal]                         one of these words; is_not: none of them
//
// A literal starts with a digit, a sign or a point, so no measure can be
// mistaken for one. A share is above 0 % and at most 1000 %; a number that
// divides is from 1 to 1000. A divisor that was recorded as less than 1 or
// more than a million, or is open below or above, cannot divide and counts as
// not recorded.
//
// # Conditions
//
// In where, each key is a measure of the same subject, with a word, a list of
// words, or a mapping of one or more of the six bounds. All must hold. Under
// any comes a list of such mappings; one of them must hold. It may be nested.
//
// # Verdicts
//
// A quantity is what was read, with its plus/minus: it lies somewhere from
// value - plus/minus to value + plus/minus. So does a bound that is a share of
// another measure. A rule is kept if every pair of values from the two keeps
// it, breached if none does, and else too close to call.
//
// Apart from its plus/minus a quantity may be open: at most what was read, or
// at least, or only limits of it are known.
//
//	at most 82 psi +/- 2 psi           read hot: cold it is no more than that
//	at least 3,000 lb                  weighed before all was aboard
//	at least 40 psi, at most 82 psi    limits, and nothing read between them
//
// An open side never condemns by itself and never clears. Take each place within
// the plus/minus in turn, together with everything on its open side. At that
// place all of it keeps the rule, all of it breaches the rule, or some of it
// does each. The verdict is
//
//	kept            if all of it keeps the rule, at every place
//	breached        if all of it breaches the rule, at every place
//	too close       if all of it breaches the rule at some places, not at every one
//	not recorded    else: the same measure is to be read properly
//
// So, held to "more than 84 psi" and to "at most 84 psi":
//
//	at most 82 psi +/- 1 psi    breached        kept
//	at most 84 psi +/- 2 psi    too close       not recorded
//	at most 95 psi +/- 2 psi    not recorded    not recorded
//
// [Finding.AsRead] is the verdict on what was read, as if nothing were open.
//
// A condition that is false for certain means that the rule does not apply and
// there is no finding. If no condition is false for certain, but a measure that
// decides one was not recorded, the verdict is not recorded, whatever the bound
// says. If a condition is only too close to call, the verdict is kept where the
// bound is kept, not recorded where it cannot be judged, and else too close.
// Within any, one condition that holds for certain is enough.
//
// A condition on an open quantity is too close if all of it holds at some
// places. If it does so at none, and does not fail at every place, it is not
// recorded. A rule with such a condition is never kept.
//
// With too_close: as_breached what would be too close is breached, in favor of
// the safe side; what an open side leaves undecided stays not recorded.
//
// With not_recorded: does_not_apply there is no finding where the rule's own
// measure was not recorded, for things that are written down only when they are
// seen, such as a bulge; what conditions and bounds need is reported as missing
// all the same. With not_recorded: asked it is a question that stands at the
// rule's action, unless the bound is kept, or a condition fails, by what was
// read: see [Finding.Asked]. Every rule asks about an open reading that would
// not be kept as read.
//
// # Packs on packs
//
//	format: 1
//	pack: north-shop
//	title: Our own limits
//	extends: [valve-care]             # all its rules, but:
//	drop: [leak]                      # not this one
//	change:
//	  stem-age:                       # this one, in what is written here
//	    at_most: 4 years
//	    source: {grade: common practice}
//	rules: ...                        # and these besides
//
// A change may give title, where, the bound, too_close, not_recorded, ask,
// action, advice and causes, each replacing the old one whole (where: {} is no
// condition), and must give its own source, since the old one did not say so.
// It cannot give another subject or measure: that is another rule. Nor can it
// say that the same advice involves something else.
//
// In a program, a pack that another one extends runs only as extended. Packs
// that do not extend each other stand side by side, each with its own rules;
// [Merge] brings together what they say of the same measure.
//
// # Measures of a pack's own
//
// A pack may speak of what its vocabulary does not have, and says what that is:
//
//	measures:
//	  valve:
//	    hose_length: {means: how long its hose is, takes: length}
//	    soaped: {means: whether soap was put on it, takes: yes or no}
//	    cap: {means: what its cap is made of, takes: [brass, plastic]}
//
// It takes a dimension of the vocabulary (or count, or share), yes or no, or one of
// some words. Packs that run together may declare the same one where it takes the
// same. At most 200 are declared by one pack.
//
// # Scope
//
// A scope names one subject and, as in where, what must be so of it for the
// pack to be used at all. [Program.Within] leaves out the rules of packs whose
// scope is false for certain; where that cannot be told they stay, so that of
// two packs for different scopes the stricter decides. A pack that extends
// others has their scopes for their rules, unless it states its own.
//
// What a pack states under "for" leaves nothing out: a law of the road holds where a
// vehicle is driven, not where it is registered, and a rule for trucks may serve as a
// benchmark. Country is the letters of ISO 3166 (US, CA-QC), use private or
// commercial. [Program.For] has what the packs of a program say, so that a program
// for people can tell them.
//
// # Cases
//
// The cases that prove a pack stand in a sibling file, valve-care.cases.yaml,
// that running never reads:
//
//	cases: valve-care
//	list:
//	  - given: {subject: valve, stem: rubber, stem_age: 6 years}
//	    expect: {stem-age: kept, leak: does not apply}
//	    source: {grade: common practice}
//	  - given: {subject: valve, stem: rubber, stem_age: 7 years +/- 2 years}
//	    expect: {stem-age: too close}
//	    source: {grade: common practice}
//	  - given: {subject: valve, stem: rubber, stem_age: 7 years to 8 years}
//	    expect: {stem-age: replace}
//	    source: {grade: common practice}
//
// Given is one subject as [MeasureRef.Parse] reads its values. Expected of a
// rule is kept, breached, too close, not recorded, asked (not recorded, and a
// question), does not apply, or an action, which means breached with that
// action. [CheckCases] runs them and tells what no case covers.
//
// # Clauses
//
// A pack that is named after a regulation is held to it by a sibling file,
// valve-care.clauses.yaml, which lists what each source says, clause by clause:
//
//	clauses: valve-care
//	format: 1
//	sources:
//	  - title: the made-up shop's handbook    # as the rules cite it
//	    edition: third, of 2026
//	    list:
//	      - {at: page 3, says: old stems, rules: [stem-age]}
//	      - {at: page 5, says: the color of caps, left_out: nobody has been hurt by one}
//	beyond:
//	  leak: a valve that leaks is seen to whatever the handbook says
//
// The locator of a rule has to hold the first word of "at". [CheckClauses] tells
// which clause no rule judges and which rule no clause asks for.
//
// At most 64 packs are loaded or compiled together, and one pack has at most
// 10,000 rules with those that it extends.
//
// # What is refused
//
// A file is read whole and all its problems are reported at once, each with
// file, line, column and a code: size, syntax, encoding (a tab, a byte-order
// mark), forbidden (an anchor, an alias, a tag, an empty value, a second
// document, deep nesting), shape, unknown-key, duplicate-key, missing, value;
// spelling, text, source, name, dimension, bound, contradiction, twice, cycle,
// limit; case; clause. The errors for errors.Is stand below.
package rules

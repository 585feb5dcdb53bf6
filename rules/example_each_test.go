package rules_test

import (
	"fmt"
	"os"

	"axleend.example/rules"
)

// exampleProgram is the invented pack on valves, compiled.
func exampleProgram() (*rules.Program, error) {
	vocabulary, err := rules.NewVocabulary(valves())
	if err != nil {
		return nil, err
	}
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		return nil, err
	}
	return rules.Compile(vocabulary, packs...)
}

func ExampleLoader() {
	own := rules.Loader{MaxBytes: 100} // of what strangers upload
	_, err := own.ReadPack("p.yaml", []byte("format: 1\npack: own\ntitle: T\nabout: more than a hundred bytes of it, all in all, for a start\nextends: [valve-care]\n"))
	fmt.Println(err)
	packs, err := rules.Loader{}.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		fmt.Println(err)
		return
	}
	cases, err := rules.Loader{}.LoadCases(os.DirFS("testdata"), "valve-care")
	fmt.Println(packs[0].Name(), packs[0].Extends(), cases.Pack(), err)
	// Output:
	// p.yaml: file is too large: 115 bytes, at most 100 are read
	// valve-care [] valve-care <nil>
}

func ExampleReadCases() {
	text := []byte("format: 1\ncases: own\nlist:\n  - given: {subject: valve, stem_age: 6 years}\n    expected: {stem-age: kept}\n    source: {grade: computed}\n")
	_, err := rules.ReadCases("own.cases.yaml", text)
	_, same := rules.Loader{MaxBytes: 1000}.ReadCases("own.cases.yaml", text)
	fmt.Println(err)
	fmt.Println(same.Error() == err.Error())
	// Output:
	// own.cases.yaml:4:5: list[0].expect: missing
	// own.cases.yaml:5:5: list[0]: unknown key "expected": did you mean "expect"?
	// true
}

// A hot reading says how high the cold pressure is at most; a load weighed
// before all was aboard is at least that much.
func ExampleValue_OrLess() {
	hot := rules.PlusMinus[int64](84, 2).OrLess()
	light := rules.Quantity[int64](3000).OrMore()
	_, bounded := hot.Least()
	most, _ := hot.Most()
	fmt.Println(hot.Open(), bounded, most, light.Open(), hot.AsRead() == rules.PlusMinus[int64](84, 2))
	limits := rules.Somewhere[int64](40, 82)
	fmt.Println(limits.Interval())
	// Output:
	// true false 86 true true
	// 40 82 true
}

// The pull is at most 60 lb: kept or breached is not recorded, and as read it
// would be breached, so that it is asked at the rule's action.
func ExampleFinding_Asked() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	facts, err := program.Vocabulary().NewFacts("valve", "left front")
	if err != nil {
		fmt.Println(err)
		return
	}
	for measure, text := range map[string]string{"extended": "yes", "position": "inner", "pull": "at most 60 lb", "pull_rating": "100 lb", "stem": "rubber"} {
		if err := facts.SetText(measure, text); err != nil {
			fmt.Println(err)
		}
	}
	findings, err := program.AppendRun(nil, facts)
	for _, j := range rules.Merge(findings) {
		f := j.Lead()
		action, ok := j.Question()
		fmt.Println(f.Rule.ID(), f.Verdict, f.AsRead(), f.Open(), f.Asked(), f.ToRecord(), action.Name, ok)
	}
	fmt.Println(err)
	// Output:
	// stem-age not recorded not recorded false false [stem_age]  false
	// stem-load not recorded breached true true [pull] stop true
	// <nil>
}

func ExampleFacts() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	facts, err := program.Vocabulary().NewFacts("valve", "left front")
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := facts.SetByName("stem_age", rules.Between[int64](5, 7)); err != nil {
		fmt.Println(err)
		return
	}
	age, _ := program.Vocabulary().Measure("valve", "stem_age")
	low, high, known := facts.Get(age).Interval()
	fmt.Println(facts.Subject(), facts.Name(), age.Text(facts.Get(age)), low, high, known)
	kept := facts.Clone()
	facts.Reset("right front") // for the next one, in the same memory
	fmt.Println(facts.Name(), facts.Get(age).Recorded(), kept.Name(), kept.Get(age).Recorded())
	// Output:
	// valve left front 5 years to 7 years 5 7 true
	// right front false left front true
}

func ExampleMeasureRef_Parse() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	pull, _ := program.Vocabulary().Measure("valve", "pull")
	stem, _ := program.Vocabulary().Measure("valve", "stem")
	v, err := pull.Parse("12 lb +/- 2 lb")
	fmt.Println(pull.Text(v), err)
	w, err := stem.Parse("metal")
	index, known := w.Index()
	fmt.Println(index, known, err, "takes", stem.Measure().Takes())
	_, err = stem.Parse("plastic")
	fmt.Println(err)
	// Output:
	// 12 lb +/- 2 lb <nil>
	// 1 true <nil> takes rubber, metal
	// unknown word "plastic" of stem: want one of rubber, metal
}

func ExampleProgram_Has() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	asks := program.Has(func(r *rules.Rule) bool { return r.Asks() })
	named := program.Has(func(r *rules.Rule) bool { return r.Name() == "valve-care/stem-load" })
	fmt.Println(asks, named)
	// Output: false true
}

func ExampleRule() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	pull, _ := program.Vocabulary().Measure("valve", "pull")
	for _, r := range program.Rules() {
		if !r.Uses(pull) {
			continue
		}
		fmt.Println(program.Packs(), r.Name(), r.Sources(), len(r.AppendSources(nil)))
		for _, m := range r.Measures() {
			fmt.Println("reads", m.Measure().Name)
		}
		fmt.Println(len(r.Causes()), "causes,", len(r.Tasks()), "tasks,", r.Involves("airing up"))
	}
	// Output:
	// [valve-care] valve-care/stem-load [the made-up shop's handbook, page 4 (invented) common practice] 2
	// reads pull
	// reads pull_rating
	// reads extended
	// reads position
	// reads stem_age
	// 0 causes, 0 tasks, false
}

func ExampleProgram_AppendNotKept() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	facts, err := program.Vocabulary().NewFacts("valve", "left front")
	if err != nil {
		fmt.Println(err)
		return
	}
	for measure, text := range map[string]string{"stem": "rubber", "stem_age": "7 years +/- 2 years", "bubbles": "no"} {
		if err := facts.SetText(measure, text); err != nil {
			fmt.Println(err)
			return
		}
	}
	findings, kept, err := program.AppendNotKept(nil, facts)
	fmt.Println(kept, "kept", err)
	for _, f := range findings {
		fmt.Println(f.Rule.ID(), f.Verdict, string(f.AppendBoundText(nil)), f.Bound().Recorded(), f.WasTooClose())
	}
	// Output:
	// 1 kept <nil>
	// stem-age too close at most 6 years true false
	// stem-load not recorded at most 50 % of pull rating, not recorded false false
}

func ExampleParseVerdict() {
	v, err := rules.ParseVerdict("too close")
	fmt.Println(v == rules.TooClose, err)
	_, err = rules.ParseVerdict("fine")
	fmt.Println(err)
	// Output:
	// true <nil>
	// unknown verdict "fine": want one of kept, not recorded, too close, breached
}

func ExampleShare() {
	n, err := rules.Share().Parse("80 %")
	fmt.Println(n, rules.Share().Format(n), err)
	// Output: 800000 80 % <nil>
}

// Yes is what a flag says, where it was recorded.
func ExampleValue_Yes() {
	fmt.Println(rules.Flag(true).Yes())
	fmt.Println(rules.Value{}.Yes())
	// Output:
	// true true
	// false false
}

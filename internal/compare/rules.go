package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"axleend.example/rules"
)

// A bound is value at_most most, or at_most share percent of rating.
type bound struct {
	value, rating int // which of the measures
	most          int64
	share         int64 // 0: the bound is most
}

const (
	measures = 16 // values, and as many ratings
	bounds   = 64
)

// steps is a dimension of whole numbers.
var steps = rules.Dimension{
	Name: "step", Doc: "whole numbers, such as 3 steps",
	Parse: func(text string) (int64, error) {
		return strconv.ParseInt(strings.TrimSuffix(text, " steps"), 10, 64)
	},
	Format: func(n int64) string { return strconv.FormatInt(n, 10) + " steps" },
}

// measureNames are v0, r0, v1 and so on.
func measureNames() (names []string) {
	for i := range measures {
		names = append(names, fmt.Sprintf("v%d", i), fmt.Sprintf("r%d", i))
	}
	return names
}

func vocabulary(names ...string) (*rules.Vocabulary, error) {
	subject := rules.Subject{Name: "thing", Doc: "a thing"}
	for _, name := range names {
		subject.Measures = append(subject.Measures, rules.Measure{Name: name, Doc: "a count", Dimension: steps})
	}
	return rules.NewVocabulary(rules.Definition{
		Subjects: []rules.Subject{subject},
		Actions:  []rules.Action{{Name: "stop", Doc: "do not go on", Stops: true}},
	})
}

func loadPack(name string, list []string) (rules.Pack, error) {
	text := "format: 1\npack: " + name + "\ntitle: Compared\nrules:\n"
	for i, r := range list {
		text += fmt.Sprintf("  rule-%d: {title: t, subject: thing, %s, action: stop, advice: a, source: {grade: invented, title: t}}\n", i, r)
	}
	return rules.ReadPack(name+".yaml", []byte(text))
}

func compile(v *rules.Vocabulary, list []string) (*rules.Program, error) {
	pack, err := loadPack("compared", list)
	if err != nil {
		return nil, err
	}
	return rules.Compile(v, pack)
}

// evaluators are the same bounds for every engine.
type evaluators struct {
	program *rules.Program
	facts   *rules.Facts
	cel     []cel.Program // one for each bound
	celAll  cel.Program   // all of them as one list
	celEnv  cel.Activation
	expr    []*vm.Program
	exprAll *vm.Program
	exprEnv map[string]any
}

// newEvaluators makes 64 bounds, half of them shares, on 16 values and 16
// ratings. breaks says which of them are broken.
func newEvaluators(breaks func(i int) bool) (*evaluators, error) {
	v, err := vocabulary(measureNames()...)
	if err != nil {
		return nil, err
	}
	e := &evaluators{exprEnv: make(map[string]any)}
	if e.facts, err = v.NewFacts("thing", "one"); err != nil {
		return nil, err
	}
	celEnv := make(map[string]any)
	var list, expressions []string
	for i := range measures {
		for name, n := range map[string]int64{"v": 1000 + 37*int64(i), "r": 2000 + 11*int64(i)} {
			name += strconv.Itoa(i)
			if err := e.facts.SetByName(name, rules.Quantity(n)); err != nil {
				return nil, err
			}
			celEnv[name], e.exprEnv[name] = types.Int(n), n
		}
	}
	for i := range bounds {
		b := bound{value: i % measures, rating: (i * 7) % measures}
		value, rating := 1000+37*int64(b.value), 2000+11*int64(b.rating)
		if b.most = value + int64(i); breaks(i) {
			b.most = value - 1 - int64(i)
		}
		if i%2 == 1 {
			if b.share = value*100/rating + 1; breaks(i) {
				b.share = value * 100 / rating
			}
			if breaks(i) && b.share*rating == value*100 {
				b.share--
			}
		}
		list, expressions = append(list, b.rule()), append(expressions, b.expression())
	}
	if e.program, err = compile(v, list); err != nil {
		return nil, err
	}
	if err := e.compileCEL(celEnv, expressions); err != nil {
		return nil, err
	}
	return e, e.compileExpr(expressions)
}

func (b bound) rule() string {
	if b.share > 0 {
		return fmt.Sprintf("measure: v%d, at_most: %d %% of r%d", b.value, b.share, b.rating)
	}
	return fmt.Sprintf("measure: v%d, at_most: %d steps", b.value, b.most)
}

func (b bound) expression() string {
	if b.share > 0 {
		return fmt.Sprintf("v%d * 100 <= %d * r%d", b.value, b.share, b.rating)
	}
	return fmt.Sprintf("v%d <= %d", b.value, b.most)
}

func (e *evaluators) compileCEL(values map[string]any, expressions []string) (err error) {
	var options []cel.EnvOption
	for name := range values {
		options = append(options, cel.Variable(name, cel.IntType))
	}
	env, err := cel.NewEnv(options...)
	if err != nil {
		return err
	}
	one := func(text string) (cel.Program, error) {
		tree, issues := env.Compile(text)
		if issues.Err() != nil {
			return nil, issues.Err()
		}
		return env.Program(tree, cel.EvalOptions(cel.OptOptimize))
	}
	for _, text := range expressions {
		p, err := one(text)
		if err != nil {
			return err
		}
		e.cel = append(e.cel, p)
	}
	if e.celEnv, err = cel.NewActivation(values); err != nil {
		return err
	}
	e.celAll, err = one("[" + strings.Join(expressions, ", ") + "]")
	return err
}

func (e *evaluators) compileExpr(expressions []string) (err error) {
	for _, text := range expressions {
		p, err := expr.Compile(text, expr.Env(e.exprEnv), expr.AsBool())
		if err != nil {
			return err
		}
		e.expr = append(e.expr, p)
	}
	e.exprAll, err = expr.Compile("["+strings.Join(expressions, ", ")+"]", expr.Env(e.exprEnv))
	return err
}

// same holds the engines to each other, bound by bound.
func (e *evaluators) same(breaks func(i int) bool) error {
	findings, err := e.program.AppendRun(nil, e.facts)
	if err != nil || len(findings) != bounds {
		return fmt.Errorf("%d findings of %d: %w", len(findings), bounds, err)
	}
	not, kept, err := e.program.AppendNotKept(nil, e.facts)
	if err != nil || len(not)+kept != bounds {
		return fmt.Errorf("%d not kept and %d kept, of %d: %w", len(not), kept, bounds, err)
	}
	celList, _, err := e.celAll.Eval(e.celEnv)
	if err != nil {
		return err
	}
	celAll, err := celList.ConvertToNative(boolsType)
	if err != nil {
		return err
	}
	exprAll, err := expr.Run(e.exprAll, e.exprEnv)
	if err != nil {
		return err
	}
	for i, f := range findings {
		fromCEL, _, err1 := e.cel[i].Eval(e.celEnv)
		fromExpr, err2 := expr.Run(e.expr[i], e.exprEnv)
		if err1 != nil || err2 != nil {
			return fmt.Errorf("bound %d: %v, %v", i, err1, err2)
		}
		want := !breaks(i)
		listed := slices.ContainsFunc(not, func(n rules.Finding) bool { return n.Rule == f.Rule })
		got := []any{f.Verdict == rules.Kept, !listed, fromCEL.Value(), celAll.([]bool)[i], fromExpr, exprAll.([]any)[i]}
		for _, g := range got {
			if g != want {
				return fmt.Errorf("bound %d, %q: %v, want all of them %v", i, f.BoundText(), got, want)
			}
		}
	}
	return nil
}

func (e *evaluators) ways() []way {
	room := make([]rules.Finding, 0, bounds)
	var last struct { // so that no work is left out
		cel  ref.Val
		expr any
	}
	machine := new(vm.VM)
	return []way{
		{"rules, what is not kept", func() (err error) {
			room, _, err = e.program.AppendNotKept(room[:0], e.facts)
			return err
		}},
		{"rules, every finding", func() (err error) {
			room, err = e.program.AppendRun(room[:0], e.facts)
			return err
		}},
		{"cel-go, a program for each bound", func() (err error) {
			for _, p := range e.cel {
				if last.cel, _, err = p.Eval(e.celEnv); err != nil {
					return err
				}
			}
			return nil
		}},
		{"cel-go, one program with a list", func() (err error) {
			last.cel, _, err = e.celAll.Eval(e.celEnv)
			return err
		}},
		{"expr, a program for each bound", func() (err error) {
			for _, p := range e.expr {
				if last.expr, err = machine.Run(p, e.exprEnv); err != nil {
					return err
				}
			}
			return nil
		}},
		{"expr, one program with a list", func() (err error) {
			last.expr, err = machine.Run(e.exprAll, e.exprEnv)
			return err
		}},
	}
}

func compareRules() ([]bench, []string, error) {
	var benches []bench
	for _, kind := range []struct {
		name   string
		breaks func(i int) bool
	}{
		{"mostly kept (4 of 64 broken)", func(i int) bool { return i%16 == 5 }},
		{"mixed (32 of 64 broken)", func(i int) bool { return i%4 < 2 }},
		{"mostly broken (60 of 64)", func(i int) bool { return i%16 != 5 }},
	} {
		e, err := newEvaluators(kind.breaks)
		if err == nil {
			err = e.same(kind.breaks)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", kind.name, err)
		}
		benches = append(benches, bench{name: kind.name, per: "bound", of: bounds, ways: e.ways()})
	}
	notes, err := exactShares()
	return benches, notes, err
}

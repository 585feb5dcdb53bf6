package main

import (
	"fmt"
	"reflect"
	"strconv"

	"cel.dev/cel-go/cel"
	"github.com/expr-lang/expr"

	"axleend.example/rules"
)

var boolsType = reflect.TypeFor[[]bool]()

// exactShares asks of values that lie exactly on a share of a rating whether
// they keep it, as at_most and as at_least: both are kept. Every whole percent
// from 1 to 99 of every rating from 60 to 130 in steps of a half; values as people
// write them, in decimals.
func exactShares() ([]string, error) {
	v, err := vocabulary("value", "rating")
	if err != nil {
		return nil, err
	}
	var list []string
	for p := 1; p < 100; p++ {
		list = append(list, fmt.Sprintf("measure: value, at_most: %d %% of rating", p), fmt.Sprintf("measure: value, at_least: %d %% of rating", p))
	}
	program, err := compile(v, list)
	if err != nil {
		return nil, err
	}
	floats, err := newFloatShares()
	if err != nil {
		return nil, err
	}
	facts, err := v.NewFacts("thing", "one")
	if err != nil {
		return nil, err
	}
	n, ours, wrong := 0, 0, 0
	var findings []rules.Finding
	for p := int64(1); p < 100; p++ {
		for rating := int64(60_000); rating <= 130_000; rating += 500 { // thousandths
			n++
			value := rating * p / 100 // which leaves no rest
			for name, k := range map[string]int64{"value": value, "rating": rating} {
				if err := facts.SetByName(name, rules.Quantity(k)); err != nil {
					return nil, err
				}
			}
			if findings, err = program.AppendRun(findings[:0], facts); err != nil {
				return nil, err
			}
			if findings[2*p-2].Verdict != rules.Kept || findings[2*p-1].Verdict != rules.Kept {
				ours++
			}
			kept, err := floats.kept(value, rating, p)
			if err != nil {
				return nil, err
			}
			if !kept {
				wrong++
			}
		}
	}
	if ours > 0 || wrong == 0 {
		return nil, fmt.Errorf("of %d exact shares: %d wrong by rules, want 0; %d by floats, want some", n, ours, wrong)
	}
	return []string{fmt.Sprintf("Exactly on a share, which keeps at_most and at_least: of %d, rules 0 wrong; float64, and cel-go and expr with it, %d wrong.", n, wrong)}, nil
}

// floatShares are both bounds in float64, by Go and by the evaluators.
type floatShares struct {
	cel  cel.Program
	expr func(env map[string]any) (any, error)
}

func newFloatShares() (*floatShares, error) {
	const text = "value <= percent / 100.0 * rating && value >= percent / 100.0 * rating"
	env, err := cel.NewEnv(cel.Variable("value", cel.DoubleType), cel.Variable("rating", cel.DoubleType), cel.Variable("percent", cel.DoubleType))
	if err != nil {
		return nil, err
	}
	tree, issues := env.Compile(text)
	if issues.Err() != nil {
		return nil, issues.Err()
	}
	f := new(floatShares)
	if f.cel, err = env.Program(tree); err != nil {
		return nil, err
	}
	p, err := expr.Compile(text, expr.Env(map[string]any{"value": 0.0, "rating": 0.0, "percent": 0.0}))
	f.expr = func(env map[string]any) (any, error) { return expr.Run(p, env) }
	return f, err
}

// kept gives what all three say; that they do not say the same is an error.
func (f *floatShares) kept(value, rating, percent int64) (bool, error) {
	v, err1 := strconv.ParseFloat(thousandths(value), 64)
	r, err2 := strconv.ParseFloat(thousandths(rating), 64)
	if err1 != nil || err2 != nil {
		return false, fmt.Errorf("%v, %v", err1, err2)
	}
	p := float64(percent)
	kept := v <= p/100*r && v >= p/100*r
	values := map[string]any{"value": v, "rating": r, "percent": p}
	fromCEL, _, err := f.cel.Eval(values)
	if err != nil {
		return false, err
	}
	fromExpr, err := f.expr(values)
	if err == nil && (fromCEL.Value() != kept || fromExpr != kept) {
		err = fmt.Errorf("%d %% of %v and %v: float64 %v, cel-go %v, expr %v", percent, r, v, kept, fromCEL.Value(), fromExpr)
	}
	return kept, err
}

func thousandths(n int64) string { return fmt.Sprintf("%d.%03d", n/1000, n%1000) }

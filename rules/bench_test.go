package rules_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"axleend.example/rules"
)

func benchProgram(b *testing.B) (*rules.Program, *rules.Facts) {
	b.Helper()
	v := mustVocabulary(b)
	packs, err := rules.Load(os.DirFS("testdata"), "valve-care")
	if err != nil {
		b.Fatal(err)
	}
	p, err := rules.Compile(v, packs...)
	if err != nil {
		b.Fatal(err)
	}
	f, err := v.NewFacts("valve", "one")
	if err != nil {
		b.Fatal(err)
	}
	for name, text := range map[string]string{
		"stem": "rubber", "stem_age": "7 years", "extended": "yes", "position": "inner",
		"pull": "19 lb +/- 1 lb", "pull_rating": "40 lb", "bubbles": "no",
	} {
		if err := f.SetText(name, text); err != nil {
			b.Fatal(err)
		}
	}
	return p, f
}

// The three rules of valve-care on one valve: a literal under one condition, a
// share under two with alternatives, and a flag.
func BenchmarkRun(b *testing.B) {
	p, f := benchProgram(b)
	dst := make([]rules.Finding, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		dst, _ = p.AppendRun(dst[:0], f)
	}
	if len(dst) != 3 {
		b.Fatal(len(dst))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/3, "ns/rule")
}

// A hundred rules, each a share with one condition, on one valve.
func BenchmarkRunHundred(b *testing.B) {
	v := mustVocabulary(b)
	p := compiled(b, v, manyRules("many", 100))
	_, f := benchProgram(b)
	g, _ := v.NewFacts("valve", "one")
	for _, name := range []string{"stem", "pull", "pull_rating"} {
		m, _ := v.Measure("valve", name)
		if err := g.SetByName(name, f.Get(m)); err != nil {
			b.Fatal(err)
		}
	}
	dst := make([]rules.Finding, 0, 128)
	b.ReportAllocs()
	for b.Loop() {
		dst, _ = p.AppendRun(dst[:0], g)
	}
	if len(dst) != 100 {
		b.Fatal(len(dst))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/100, "ns/rule")
}

func BenchmarkRange(b *testing.B) {
	p, f := benchProgram(b)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		findings, err := p.Run(f)
		if err != nil {
			b.Fatal(err)
		}
		for range findings {
			n++
		}
	}
	if n == 0 {
		b.Fatal("nothing found")
	}
}

// Four packs of 25 rules each, about what is shipped as the default set.
func BenchmarkLoadCompile(b *testing.B) {
	v := mustVocabulary(b)
	var texts []string
	for i := range 4 {
		texts = append(texts, withFormat(manyRules(fmt.Sprintf("pack-%d", i), 25)))
	}
	b.ReportAllocs()
	for b.Loop() {
		packs := make([]rules.Pack, len(texts))
		for i, text := range texts {
			p, err := rules.ReadPack("p.yaml", []byte(text))
			if err != nil {
				b.Fatal(err)
			}
			packs[i] = p
		}
		if _, err := rules.Compile(v, packs...); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHostile(b *testing.B) {
	v := mustVocabulary(b)
	for name, make := range hostile() {
		for _, size := range []int{64 << 10, 256 << 10} {
			text := []byte(make(size))
			b.Run(fmt.Sprintf("%s/%dKiB", name, size>>10), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					p, _ := rules.ReadPack("hostile.yaml", text)
					if _, err := rules.Compile(v, p); err == nil {
						b.Fatal("was taken")
					}
				}
			})
		}
	}
}

// hostile returns makers of files of a size that are to be refused quickly.
func hostile() map[string]func(size int) string {
	fill := func(head string, line func(i int) string, tail string) func(int) string {
		return func(size int) string {
			var b strings.Builder
			b.WriteString(head)
			for i := 0; ; i++ {
				l := line(i)
				if b.Len()+len(l)+len(tail) > size {
					break
				}
				b.WriteString(l)
			}
			return b.String() + tail
		}
	}
	constant := func(s string) func(int) string { return func(int) string { return s } }
	rule := "  r%d: {title: t, subject: valve, measure: %s, at_most: %s, action: stop, advice: a, source: {grade: invented, title: t}}\n"
	head := "pack: h\ntitle: h\nrules:\n"
	return map[string]func(int) string{
		"flow nesting":     fill("pack: ", constant("["), ""),
		"flow maps":        fill("pack: ", constant("{a: "), ""),
		"block nesting":    fill("", constant("- "), "x"),
		"unknown keys":     fill("pack: h\ntitle: h\n", func(i int) string { return fmt.Sprintf("rulez%d: 1\n", i) }, ""),
		"repeated key":     fill("", constant("pack: 1\n"), ""),
		"aliases":          fill("pack: &a [1]\nrules: [", constant("*a, "), "*a]\n"),
		"empty rules":      fill(head, func(i int) string { return fmt.Sprintf("  r%d: {}\n", i) }, ""),
		"unknown measures": fill(head, func(i int) string { return fmt.Sprintf(rule, i, "stem_agee", "1 years") }, ""),
		"contradictions": fill(head, func(i int) string {
			return fmt.Sprintf(strings.Replace(rule, "at_most", []string{"at_most", "at_least"}[i%2], 1), i, "stem_age", fmt.Sprintf("%d years", i%2*5))
		}, ""),
		"unknown changes":    fill("pack: h\ntitle: h\nextends: [g]\nchange:\n", func(i int) string { return fmt.Sprintf("  r%d: {source: {grade: common practice}}\n", i) }, ""),
		"long any":           fill(head+"  r: {title: t, subject: valve, measure: pull, at_most: 1 lb, action: stop, advice: a, source: {grade: computed}, where: {any: [", constant("{stem: x}, "), "{stem: rubber}]}}\n"),
		"long scalar":        fill("pack: \"", constant("x"), "\"\n"),
		"escapes":            fill("pack: \"", constant("\\u0041"), "\"\n"),
		"one line of quotes": fill("pack: ", constant("'"), ""),
		"comments":           fill("", constant("#\n"), ""),
		"colons":             fill("", constant(": "), ""),
		"question marks":     fill("", constant("? "), ""),
		"tags":               fill("pack: ", constant("!a "), "x"),
		"folded":             fill("pack: >\n", constant("  x\n"), ""),
	}
}

func manyRules(name string, n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "pack: %s\ntitle: Many rules\nrules:\n", name)
	for i := range n {
		fmt.Fprintf(&b, `  rule-%d:
    title: The valve carries more than its share of the hose
    subject: valve
    measure: pull
    where: {stem: rubber}
    at_most: %d.%d %% of pull_rating
    action: stop
    advice: Take the extension off and support the hose, and look at it again.
    source: {grade: invented, title: the made-up shop's handbook, locator: page %d}
`, i, 10+i%90, i%10, i)
	}
	return b.String()
}

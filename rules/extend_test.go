package rules_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/rules"
)

// opened counts the files that are opened.
type opened struct {
	fstest.MapFS
	n *int
}

func (o opened) Open(name string) (fs.File, error) {
	*o.n++
	return o.MapFS.Open(name)
}

func packText(name, extends, rest string) string {
	if extends != "" {
		extends = "extends: [" + extends + "]\n"
	}
	return "format: 1\npack: " + name + "\ntitle: t\n" + extends + rest
}

func someRules(id string, n int) string {
	var b strings.Builder
	b.WriteString("rules:\n")
	for i := range n {
		fmt.Fprintf(&b, "  %s%d: {title: t, subject: valve, measure: pull, at_most: 1 lb, action: stop, advice: a, source: {grade: computed}}\n", id, i)
	}
	return b.String()
}

// However packs extend each other, few files are opened and little is
// remembered before they are refused or compiled.
func TestExtendsInBoundedWork(t *testing.T) {
	list := func(n, from int) string {
		names := make([]string, n)
		for i := range names {
			names[i] = fmt.Sprintf("p%d", from+i)
		}
		return strings.Join(names, ", ")
	}
	many := func(n int, extends func(i int) string, rules func(i int) string) map[string]string {
		out := map[string]string{}
		for i := range n {
			out[fmt.Sprintf("p%d", i)] = packText(fmt.Sprintf("p%d", i), extends(i), rules(i))
		}
		return out
	}
	none := func(int) string { return "" }
	for _, tc := range []struct {
		name  string
		packs map[string]string
		want  error // nil: it compiles
	}{
		{"10,000 names", map[string]string{"p0": packText("p0", list(10_000, 1), "")}, rules.ErrLimit},
		{"65 names", map[string]string{"p0": packText("p0", list(65, 1), "")}, rules.ErrLimit},
		{"64 names, none of them there", map[string]string{"p0": packText("p0", list(64, 1), "")}, rules.ErrName},
		{"64 packs", many(64, func(i int) string {
			if i == 0 {
				return list(63, 1)
			}
			return ""
		}, func(i int) string {
			if i == 0 {
				return ""
			}
			return someRules(fmt.Sprintf("r%d-", i), 20)
		}), nil},
		{"a chain of 64", many(64, func(i int) string {
			if i == 63 {
				return ""
			}
			return list(1, i+1)
		}, func(i int) string { return someRules(fmt.Sprintf("r%d-", i), 10) }), nil},
		{"a chain of 10,000", many(10_000, func(i int) string { return list(1, i+1) }, none), rules.ErrLimit},
		{"a ring of 64", many(64, func(i int) string { return list(1, (i+1)%64) }, none), rules.ErrCycle},
		{"each of 64 all the next", many(64, func(i int) string { return list(63-i, i+1) }, func(i int) string {
			return someRules(fmt.Sprintf("r%d-", i), 2)
		}), nil},
		{"each of 60 all the others", many(60, func(i int) string { return list(60, 0) }, none), rules.ErrCycle},
		{"too many rules", many(12, func(i int) string {
			if i == 0 {
				return list(11, 1)
			}
			return ""
		}, func(i int) string {
			if i == 0 {
				return ""
			}
			return someRules(fmt.Sprintf("r%d-", i), 1000)
		}), rules.ErrLimit},
		{"the same ids in 64 packs", many(64, func(i int) string {
			if i == 0 {
				return list(63, 1)
			}
			return ""
		}, func(i int) string {
			if i == 0 {
				return ""
			}
			return someRules("r", 150)
		}), rules.ErrTwice},
	} {
		t.Run(tc.name, func(t *testing.T) {
			files, n := fstest.MapFS{}, 0
			for name, text := range tc.packs {
				files[name+".yaml"] = &fstest.MapFile{Data: []byte(text)}
			}
			v := mustVocabulary(t)
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			packs, loading := rules.Load(opened{files, &n}, "p0")
			_, err := rules.Compile(v, packs...)
			runtime.ReadMemStats(&after)
			if err = errors.Join(loading, err); !errors.Is(err, tc.want) || (tc.want == nil) != (err == nil) {
				t.Errorf("%v, want %v", err, tc.want)
			}
			if err != nil && len(err.Error()) > 40_000 {
				t.Errorf("the error has %d bytes", len(err.Error()))
			}
			if n > 2*64 { // each is looked at, then opened
				t.Errorf("%d files opened", n)
			}
			bytes := 0
			for i := range min(64, len(tc.packs)) {
				bytes += len(tc.packs[fmt.Sprintf("p%d", i)])
			}
			// Reading a file takes about 40 times its bytes.
			if used := after.TotalAlloc - before.TotalAlloc; used > uint64(100*bytes)+10<<20 {
				t.Errorf("%d kB for %d kB of packs", used>>10, bytes>>10)
			}
		})
	}
}

// Cases of a pack that extends many run on those alone.
func TestCasesOfManyPacks(t *testing.T) {
	t.Parallel()
	var texts []string
	for i := range 60 {
		extends := ""
		if i > 0 {
			extends = fmt.Sprintf("p%d", i-1)
		}
		texts = append(texts, packText(fmt.Sprintf("p%d", i), extends, someRules(fmt.Sprintf("r%d-", i), 1)))
	}
	c, err := rules.ReadCases("c.yaml", []byte("format: 1\ncases: p9\nlist:\n"+line("subject: valve, pull: 1 lb", "r0-0: kept, r9-0: kept")))
	if err != nil {
		t.Fatal(err)
	}
	report, err := rules.CheckCases(mustVocabulary(t), loaded(t, texts...), c)
	if err != nil || report.Cases != 1 || len(report.Failures) > 0 || len(report.Gaps) == 0 {
		t.Errorf("%+v, %v", report, err)
	}
}

// FuzzExtends makes four packs that extend, drop and change each other, and the
// cases of the last: no panic, and whatever they come to, what is compiled is
// what was asked for.
func FuzzExtends(f *testing.F) {
	for seed := range uint64(20) {
		f.Add(seed, "age: {at_most: 4 years}", "age: kept")
	}
	f.Add(uint64(0), "load: {where: {}, not_recorded: asked, ask: Look.}", "load: asked")
	f.Add(uint64(1), "age: {too_close: as_breached, action: stop}\n  load: {is: yes}", "age: stop, load: does not apply")
	v := mustVocabulary(f)
	f.Fuzz(func(t *testing.T, seed uint64, change, expect string) {
		r := rand.New(rand.NewPCG(seed, 1))
		ids := []string{"age", "load", "leak"}
		var packs []rules.Pack
		for i := range 4 {
			var text strings.Builder
			fmt.Fprintf(&text, "format: 1\npack: p%d\ntitle: t\n", i)
			var above []string
			for j := range 4 {
				if r.IntN(3) == 0 && (j < i || r.IntN(8) == 0) {
					above = append(above, fmt.Sprintf("p%d", j))
				}
			}
			if len(above) > 0 {
				fmt.Fprintf(&text, "extends: [%s]\n", strings.Join(above, ", "))
				if r.IntN(2) == 0 {
					fmt.Fprintf(&text, "drop: [%s]\n", pick(r, ids))
				}
				switch r.IntN(3) {
				case 0:
					fmt.Fprintf(&text, "change:\n  %s\n", change)
				case 1:
					fmt.Fprintf(&text, "change: {%s: {at_most: %d years, source: {grade: computed}}}\n", pick(r, ids), r.IntN(9))
				}
			}
			if len(above) == 0 || r.IntN(2) == 0 {
				fmt.Fprintf(&text, "rules:\n  %s: {title: t, subject: valve, measure: stem_age, at_most: %d years, action: stop, advice: a, source: {grade: computed}}\n", pick(r, ids), 1+r.IntN(9))
			}
			p, _ := rules.ReadPack(fmt.Sprintf("p%d.yaml", i), []byte(text.String()))
			packs = append(packs, p)
		}
		program, err := rules.Compile(v, packs...)
		if err == nil {
			holdExtended(t, program, packs)
		}
		c, err := rules.ReadCases("p3.cases.yaml", []byte("format: 1\ncases: p3\nlist:\n"+line("subject: valve, stem_age: 5 years", expect)))
		if err != nil {
			return
		}
		report, err := rules.CheckCases(v, packs, c)
		if err == nil && report.Cases != 1 {
			t.Errorf("%d cases run", report.Cases)
		}
	})
}

// holdExtended holds a program to what its packs say: each rule is of a pack
// that was given, has a source, stands once under its name, and a pack that
// another extends states none of the rules that run.
func holdExtended(t *testing.T, program *rules.Program, packs []rules.Pack) {
	t.Helper()
	given, extended := map[string]bool{}, map[string]bool{}
	for _, p := range packs {
		given[p.Name()] = true
		for _, e := range p.Extends() {
			extended[e] = true
		}
	}
	if len(program.Rules()) > 0 && len(extended) == len(given) {
		t.Error("all packs are extended, and rules run")
	}
	for _, r := range program.Rules() {
		if !given[r.Pack()] || len(r.Sources()) == 0 || r.Position().Line == 0 {
			t.Errorf("%s of %v, at %v", r.Name(), r.Pack(), r.Position())
		}
	}
}

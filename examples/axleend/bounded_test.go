package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"axleend.example/internal/testsize"
)

// largeVisit is a visit at the limits: axles with duals, spares, and readings of
// several ends each with a tolerance of its own.
func largeVisit(axles, spares, readings int) string {
	var b strings.Builder
	b.WriteString("visit: 1\ninvented: yes\ndate: 2026-10-03\naxles:\n  - {id: steer, fitment: single, gawr: 9000 lb, placard: 100 psi}\n")
	names, ends := []string{"steer-left", "steer-right"}, []string{"steer-left", "steer-right"}
	for i := 1; i < axles; i++ {
		fmt.Fprintf(&b, "  - {id: a%d, fitment: dual, gawr: 17000 lb, placard: 105 psi, behind_steer: %d in}\n", i, 100+40*i)
		for _, side := range []string{"left", "right"} {
			end := fmt.Sprintf("a%d-%s", i, side)
			ends = append(ends, end)
			names = append(names, end+"-inner", end+"-outer")
		}
	}
	for i := range spares {
		names = append(names, strings.TrimSuffix(fmt.Sprintf("spare-%d", i+1), "-1"))
	}
	b.WriteString("every_tire: {size: XV250/72R21, load_range: G, class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}\ntires:\n")
	for i, name := range names {
		fmt.Fprintf(&b, "  - {at: %s, found: %d psi, tread: [%d/32 in, %d/32 in, 9/32 in], number: %d%d, seen: [flat spot, cupping]}\n", name, 96+i%11, 4+i%9, 5+i%8, 10+i%40, 10+i%15)
	}
	b.WriteString("weighing:\n  scale: platform\n  division: 20 lb\n  readings:\n")
	for i := range readings {
		var on []string
		for j := 0; j <= i%5; j++ {
			on = append(on, ends[(i*7+j)%len(ends)])
		}
		fmt.Fprintf(&b, "    - {name: r%d, load: %d lb, on: [%s], tolerance: %d lb}\n", i, 4000*len(on)+i%37, strings.Join(on, ", "), 10+i%13)
	}
	return b.String()
}

// largeTrip is a trip of the demo in which much may go to many places.
func largeTrip(t *testing.T, items, stations int) string {
	t.Helper()
	data, err := os.ReadFile("../demo/trip.yaml")
	if err != nil {
		t.Fatal(err)
	}
	base, _, _ := strings.Cut(strings.Replace(string(data), "12760 lb", "13900 lb", 1), "trip:")
	var b strings.Builder
	b.WriteString(base + "trip:\n  track: 78 in\n  least_on_steer: 7000 lb\n  stations:\n")
	for i := range stations {
		fmt.Fprintf(&b, "    - {name: s%d, behind_steer: %d in, offset: %d in left, most: %d lb}\n", i, 20+i*400/stations, i%40, 400+13*i)
	}
	b.WriteString("  items:\n")
	for i := range items {
		var to []string
		for j := range stations {
			if j != i%stations {
				to = append(to, fmt.Sprintf("s%d", j))
			}
		}
		fmt.Fprintf(&b, "    - {name: i%d, mass: %d lb, at: s%d, may_go_to: [%s]}\n", i, 50+7*i, i%stations, strings.Join(to, ", "))
	}
	return b.String()
}

const housePack = "format: 1\npack: %s\ntitle: t\n"

func houseRule(i int) string {
	return fmt.Sprintf("  r%d: {title: t%d, subject: tire, measure: found, at_least: %d psi, action: plan, advice: A., source: {grade: invented, title: x}}\n", i, i, 10+i%90)
}

// TestBoundedMemory: whatever a file under the size limits holds, the command asks
// for no more memory than 50 MB all in all where it refuses, 100 MB where it
// answers. It sees what is copied or blown up; work without memory is counted
// where it is done: in columns of a file, steps of a solver, plans looked at.
func TestBoundedMemory(t *testing.T) {
	if raced {
		t.Skip("the race detector drops what pools hold, and asks for memory of its own")
	}
	again := func(n int, part string) string { return strings.Repeat(part, n) }
	numbered := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	table, err := os.ReadFile("../demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(table), "rows:")
	files := map[string]string{
		"keys.yaml":     "visit: 1\n" + numbered(6000, "k%d: x\n"),
		"one-key.yaml":  again(6500, "visit: 1\n"),
		"deep.yaml":     "a: " + again(60_000, "["),
		"empty.yaml":    "visit: 1\ntires: [" + again(16_000, "{}, ") + "]\n",
		"commas.yaml":   "[" + again(64_000, ",") + "]",
		"anchors.yaml":  "a: &a [x]\n" + numbered(5000, "b%d: *a\n"),
		"bomb.yaml":     "a: &a [x, x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]\nc: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b]\nd: &d [*c, *c, *c, *c, *c, *c, *c, *c]\ne: [*d, *d, *d, *d, *d, *d]\n",
		"escapes.yaml":  `coach: "` + again(10_000, `\u0041`) + "\"\n",
		"block.yaml":    "coach: |\n" + again(20_000, " x\n"),
		"odd-keys.yaml": "{" + again(7000, "[a]: b, ") + "}\n",
		"question.yaml": again(32_000, "? "),
		"dashes.yaml":   again(32_000, "- "),
		"tags.yaml":     "a: " + again(20_000, "!x ") + "\n",
		"colons.yaml":   "coach: " + again(20_000, "a: ") + "\n",
		"no-blank.yaml": "{" + again(12_000, "at:x,") + "}\n",
		"no-value.yaml": "{" + again(14_000, "at:,") + "}\n",
		"groups.yaml":   "[" + again(7000, "1,000 lb,") + "]\n",
		"comments.yaml": again(30_000, "#\n") + "visit: 1\n",
		"json.json":     "[" + again(30_000, "1,") + "1]",
		"keys.json":     "{" + numbered(5000, `"k%d":1,`) + `"visit":1}`,
		"commas.csv":    again(65_000, ","),
		"columns.csv":   "table: 1\npressure" + again(9000, ",single") + "\n",
		"quotes.csv":    again(65_000, `"`),
		"lines.csv":     "table: 1\npressure,single\n" + again(15_000, "1,1\n"),
		"rows.yaml":     head + "rows:\n" + numbered(4000, "  - [%d, 1, 1]\n"),
		"large.yaml":    largeVisit(12, 9, 64),
		"two.yaml":      largeVisit(3, 4, 64),
		"trip.yaml":     largeTrip(t, 24, 8),
		"many.yaml": fmt.Sprintf(housePack, "many") + "rules:\n" + func() (out string) {
			for i := range 1600 {
				out += houseRule(i)
			}
			return out
		}(),
		"extends.yaml": fmt.Sprintf(housePack, "extends") + "extends: [" + numbered(9000, "p%d, ") + "]\nrules: {}\n",
		"any.yaml":     fmt.Sprintf(housePack, "any") + "rules:\n  a: {title: t, subject: tire, measure: found, at_least: 10 psi, where: {any: [" + again(6000, "{tread: {at_most: 4/32 in}}, ") + "]}, action: plan, advice: A., source: {grade: invented, title: x}}\n",
	}
	dir := folderOf(t, files)
	tables := folderOf(t, map[string]string{"xv250.yaml": string(table)})
	var visits []string
	once := largeVisit(3, 1, 8)
	for i := range 100 {
		name := filepath.Join(dir, fmt.Sprintf("visit-%d", i))
		if err := os.WriteFile(name, []byte(strings.Replace(once, "2026-10-03", fmt.Sprintf("20%02d-%02d-03", 10+i/12, 1+i%12), 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		visits = append(visits, name)
	}
	try := func(args ...string) {
		t.Helper()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		code, _, _ := axleend(t, "", args...)
		runtime.ReadMemStats(&after)
		most := uint64(50 << 20)
		if code < exitMisuse {
			most = 100 << 20
		}
		if got := after.TotalAlloc - before.TotalAlloc; got > most {
			t.Errorf("%.90q: exit status %d, %d MB asked for, want at most %d", args, code, got>>20, most>>20)
		} else if testing.Verbose() {
			t.Logf("%3d MB, exit status %d: %s %s", got>>20, code, args[0], filepath.Base(args[len(args)-1]))
		}
	}
	for name, text := range files {
		if limit := 256 << 10; len(text) > limit {
			t.Errorf("%s is %d bytes: too large to be read at all", name, len(text))
		}
		file := filepath.Join(dir, name)
		cmds := []string{"assess", "weigh", "load", "place", "history"}
		if !testsize.Full() && !strings.HasPrefix(name, "t") && !strings.HasPrefix(name, "large") {
			cmds = cmds[:1] // they read alike
		}
		for _, cmd := range cmds {
			args := []string{cmd, file}
			if cmd != "weigh" && cmd != "load" {
				args = []string{cmd, "-tables", tables, file}
			}
			try(args...)
		}
		try("tables", "check", file)
		try("packs", "check", file)
	}
	for _, name := range []string{"many", "any", "extends"} {
		try("packs", "show", "-pack-dir", dir, name)
		try("assess", "-tables", tables, "-pack-dir", dir, "-packs", name, filepath.Join(dir, "two.yaml"))
	}
	try(append([]string{"history", "-tables", tables}, visits...)...)
}

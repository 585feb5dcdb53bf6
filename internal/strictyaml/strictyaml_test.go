package strictyaml_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

var update = flag.Bool("update", false, "write the files of expected output anew; read the difference before committing it")

// walk reads the little schema that the files of testdata are about, and says
// what it read.
func walk(d *strictyaml.Doc) string {
	var b strings.Builder
	say := func(n strictyaml.Node, what any) {
		p := n.Pos()
		fmt.Fprintf(&b, "%d:%d %s %q\n", p.Line, p.Column, n.Path(), fmt.Sprint(what))
	}
	root := d.Root().Map("coach", "axles", "notes", "any")
	if text, ok := root.Need("coach").Text(); ok {
		say(root.Get("coach"), text)
	}
	for _, a := range root.Get("axles").List() {
		axle := a.Map("id", "count")
		if text, ok := axle.Need("id").Text(); ok {
			say(axle.Get("id"), text)
		}
		if n, ok := strictyaml.Scalar(axle.Need("count"), strictyaml.Int(0, 9)); ok {
			say(axle.Get("count"), n)
		}
	}
	for _, n := range root.Get("notes").List() {
		if text, ok := n.Text(); ok {
			say(n, text)
		}
	}
	return b.String()
}

func read(file string, data []byte) (said string, probs *origin.Problems) {
	d, err := strictyaml.Parse(file, data, 256<<10)
	if err != nil {
		if !errors.As(err, &probs) {
			panic(err)
		}
		return "", probs
	}
	said = walk(d)
	return said, &d.Probs
}

// explain gives the problems with their codes.
func explain(probs *origin.Problems) string {
	var b strings.Builder
	for _, p := range probs.All() {
		fmt.Fprintf(&b, "%s [%s]\n", p.Error(), p.Code)
	}
	if n := probs.More(); n > 0 {
		fmt.Fprintf(&b, "and %d more\n", n)
	}
	return b.String()
}

func files(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	for _, ext := range []string{"*.yaml", "*.json"} {
		names, err := filepath.Glob(filepath.Join(dir, ext))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, names...)
	}
	if len(out) == 0 {
		t.Fatalf("no files in %s", dir)
	}
	return out
}

func compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%swant (%s)\n%s", got, file, want)
	}
}

func TestBadFiles(t *testing.T) {
	t.Parallel()
	for _, name := range files(t, "testdata/err") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			_, probs := read(filepath.Base(name), data)
			if probs.Len() == 0 {
				t.Fatal("nothing is wrong with it")
			}
			compare(t, name+".want", explain(probs))
			checkPositions(t, data, probs)
		})
	}
}

func TestGoodFiles(t *testing.T) {
	t.Parallel()
	for _, name := range files(t, "testdata/ok") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			said, probs := read(filepath.Base(name), data)
			if probs.Len() != 0 {
				t.Fatalf("%v", probs)
			}
			compare(t, name+".want", said)
		})
	}
}

// checkPositions holds every problem to a place inside the file. A line alone
// is enough for a syntax error.
func checkPositions(t *testing.T, data []byte, probs *origin.Problems) {
	t.Helper()
	lines := bytes.Split(data, []byte("\n"))
	for _, p := range probs.All() {
		at := p.Position
		if at.Line == 0 && (p.Code == strictyaml.CodeSize || p.Code == strictyaml.CodeForbidden && len(data) > 64<<10) {
			continue // the file as a whole, and an alias not worth the search
		}
		if at.File == "" || at.Line < 1 || at.Line > len(lines) {
			t.Errorf("%v: outside of the %d lines", p, len(lines))
			continue
		}
		width := len(bytes.TrimSuffix(lines[at.Line-1], []byte("\r")))
		if at.Column < 0 || at.Column > width+1 || at.Column == 0 && p.Code != strictyaml.CodeSyntax && p.Code != strictyaml.CodeForbidden {
			t.Errorf("%v: outside of the %d bytes of its line", p, width)
		}
		if strings.ContainsAny(p.Path, "\n\x1b") {
			t.Errorf("%q carries control characters", p.Path)
		}
		if p.Code == "" || p.Err == nil || len(p.Error()) > 2000 {
			t.Errorf("%v lacks its code or cause, or is too long", p)
		}
	}
}

func TestCauses(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text string
		want error
	}{
		{"a: [", strictyaml.ErrSyntax},
		{"", strictyaml.ErrSyntax},
		{"\ufeffcoach: x", strictyaml.ErrEncoding},
		{"coach: x\ufeff", strictyaml.ErrEncoding},
		{"coach: x\ufffe", strictyaml.ErrEncoding},
		{"coach: x\uffff", strictyaml.ErrEncoding},
		{"coach: x\u2028", strictyaml.ErrEncoding},
		{"coach: x\u2029", strictyaml.ErrEncoding},
		{"coach: x\u0080", strictyaml.ErrEncoding},
		{"coach: x\u009f", strictyaml.ErrEncoding},
		{"coach: x\x1f", strictyaml.ErrEncoding},
		{"coach: x\r", strictyaml.ErrEncoding}, // a bare carriage return at the end
		{"coach: x\ry: z", strictyaml.ErrEncoding},
		{"coach: ~", strictyaml.ErrForbidden},
		{"coach: {}", strictyaml.ErrShape},
		{"coach: x\nother: y", strictyaml.ErrUnknown},
		{"coach: x\ncoach: y", strictyaml.ErrDuplicate},
		{"notes: []", strictyaml.ErrMissing},
		{"coach: x\naxles: [{id: a, count: b}]", origin.ErrSyntax},
		{"coach: x\naxles: [{id: a, count: 10}]", origin.ErrRange},
		{strings.Repeat(" ", 256<<10+1), strictyaml.ErrSize},
	} {
		_, probs := read("a.yaml", []byte(tc.text))
		if probs.Len() != 1 || !errors.Is(probs, tc.want) {
			t.Errorf("%.20q: %v, want one problem that matches %v", tc.text, probs, tc.want)
		}
	}
}

// TestCommaInBraces: the hint at a thousands comma is for a mapping in braces
// alone.
func TestCommaInBraces(t *testing.T) {
	t.Parallel()
	const hint = "a comma inside { } starts a new entry"
	for text, want := range map[string]bool{"{coach: 3,640 lb}": true, "coach: 3\n640 lb:\n": false, "{coach: 3, 64 lb}": false} {
		_, probs := read("a.yaml", []byte(text))
		if probs.Len() == 0 || strings.Contains(probs.Error(), hint) != want {
			t.Errorf("%q: %v", text, probs)
		}
	}
}

func TestSizeLimit(t *testing.T) {
	t.Parallel()
	data := []byte("coach: x\n")
	if _, err := strictyaml.Parse("a.yaml", data, len(data)); err != nil {
		t.Errorf("a file of exactly the limit: %v", err)
	}
	_, err := strictyaml.Parse("a.yaml", data, len(data)-1)
	if want := "a.yaml: file is too large: 9 bytes, at most 8 are read"; err == nil || err.Error() != want {
		t.Errorf("a byte more: %v, want %s", err, want)
	}
}

func TestDepthLimit(t *testing.T) {
	t.Parallel()
	nested := func(n int) []byte {
		return []byte(strings.Repeat("[", n) + "x" + strings.Repeat("]", n))
	}
	if d, err := strictyaml.Parse("a.yaml", nested(32), 1<<20); err != nil || d.Probs.Len() != 0 {
		t.Errorf("32 deep: %v", err)
	}
	for _, n := range []int{33, 1000, 9_000} {
		_, err := strictyaml.Parse("a.yaml", nested(n), 1<<20)
		if !errors.Is(err, strictyaml.ErrForbidden) {
			t.Errorf("%d deep: %v, want ErrForbidden", n, err)
		}
	}
	if _, err := strictyaml.Parse("a.yaml", nested(20_000), 1<<20); !errors.Is(err, strictyaml.ErrSyntax) {
		t.Errorf("20,000 deep: %v, want the parser's own limit", err)
	}
}

func TestNodeLimit(t *testing.T) {
	t.Parallel()
	d, err := strictyaml.Parse("a.yaml", []byte("["+strings.Repeat("x,", 39_998)+"x]"), 1<<20)
	if err != nil || d.Probs.Len() != 0 {
		t.Errorf("40,000 values: %v", err)
	}
	_, err = strictyaml.Parse("a.yaml", []byte("["+strings.Repeat("x,", 39_999)+"x]"), 1<<20)
	if !errors.Is(err, strictyaml.ErrSize) {
		t.Errorf("40,001 values: %v, want ErrSize", err)
	}
}

const hostileSize = 256 << 10

// hostile files of the largest size that is read by hand: each of them is
// known to be dear to some reader of YAML.
func hostile() map[string]string {
	fill := func(s string) string { return strings.Repeat(s, hostileSize/len(s)) }
	var unique strings.Builder
	for i := 0; unique.Len() < hostileSize-100; i++ {
		fmt.Fprintf(&unique, "k%d: v\n", i)
	}
	var stairs strings.Builder
	for i := range 700 {
		stairs.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return map[string]string{
		"a key repeated 20,000 times":    strings.Repeat("a: 1\n", 20_000),
		"a key repeated in a flow":       "{" + strings.Repeat("a: 1, ", 20_000) + "}",
		"a bare key repeated":            "{" + strings.Repeat("a, ", 20_000) + "}",
		"20,000 unknown keys":            unique.String(),
		"opening brackets":               fill("["),
		"nested 9,000 deep":              strings.Repeat("[", 9000) + strings.Repeat("]", 9000),
		"nested mappings":                fill("{a: "),
		"nested dashes":                  fill("- "),
		"nested question marks":          fill("? "),
		"stairs":                         stairs.String(),
		"empty items":                    fill("-\n"),
		"empty lists":                    "[" + strings.Repeat("[],", 80_000) + "]",
		"anchors":                        fill("- &a 1\n"),
		"aliases":                        "a: &x 1\nb: [" + strings.Repeat("*x,", 80_000) + "]",
		"aliases of aliases":             laughs(),
		"alias of nobody at the end":     unique.String() + "z: *x\n",
		"comments":                       fill("#\n"),
		"comments on items":              fill("- #\n"),
		"comments between":               fill("#a\n- b\n"),
		"comments in a flow":             "[" + strings.Repeat("#\n1,", 60_000) + "]",
		"one long word":                  fill("a"),
		"one long line":                  fill("a "),
		"one long paragraph":             fill("a\n"),
		"escapes":                        "\"" + strings.Repeat("\\n", 120_000) + "\"",
		"open quote":                     "\"" + fill("\n"),
		"block scalar":                   "a: |\n" + strings.Repeat(" x\n", 80_000),
		"folded scalar":                  "a: >\n" + strings.Repeat(" a\n\n", 60_000),
		"spaces":                         fill(" "),
		"line ends":                      fill("\n"),
		"tags":                           fill("- !!str a\n"),
		"a tag":                          fill("!"),
		"tag directives":                 fill("%TAG !a! b\n"),
		"documents":                      fill("---\n"),
		"colons":                         fill(":"),
		"colons and words":               fill("a:"),
		"question marks in a flow":       "{" + strings.Repeat("? a : b, ", 28_000) + "}",
		"an error at the end":            unique.String() + " - x\n",
		"a bad key at the end, 64 KiB":   unique.String()[:60_000] + "\nk: 'x' y\n",
		"a list that ends badly, 64 KiB": "a:\n" + strings.Repeat("  - b\n", 10_000) + "  c: d\n",
		"a million-digit number":         "a: " + fill("9"),
	}
}

func laughs() string {
	var b strings.Builder
	b.WriteString("a0: &a0 [x, x]\n")
	for i := 1; i < 60; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [*a%d, *a%d, *a%d]\n", i, i, i-1, i-1, i-1)
	}
	return b.String()
}

// The bounds are far above what is needed here (0.3 s and 170 MB over the
// whole run of a file, most of it garbage), and far below what a reader that
// falls for the file takes.
func TestHostileFiles(t *testing.T) {
	const (
		mostTime   = 20 * time.Second
		mostMemory = 400 << 20
	)
	for name, text := range hostile() {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			_, probs := read("hostile.yaml", []byte(text))
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			if probs.Len() == 0 {
				t.Error("nothing is wrong with it")
			}
			if took > mostTime {
				t.Errorf("took %v", took)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > mostMemory {
				t.Errorf("allocated %d MB", used>>20)
			}
			if got := len(probs.Error()); got > 200_000 {
				t.Errorf("the problems are %d bytes of text", got)
			}
			checkPositions(t, []byte(text), probs)
		})
	}
}

func TestRepeatedKeyIsReportedOnceEach(t *testing.T) {
	t.Parallel()
	_, probs := read("a.yaml", []byte(strings.Repeat("coach: 1\n", 15_000)))
	if probs.Len() != 14_999 || len(probs.All()) != origin.MaxProblems {
		t.Errorf("%d problems, %d kept, want 14,999 and 100", probs.Len(), len(probs.All()))
	}
}

func TestBeyond64KiBABlockErrorStandsAtItsStart(t *testing.T) {
	t.Parallel()
	text := "coach: demo\nnotes:\n" + strings.Repeat("  - a\n", 20_000) + "  b: c\n"
	_, probs := read("a.yaml", []byte(text))
	if got := explain(probs); got != "a.yaml:3: not valid YAML: did not find expected '-' indicator in the block that started on line 3 [syntax]\n" {
		t.Error(got)
	}
}

func TestInt(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text      string
		low, high int
		want      int
		err       error
	}{
		{"0", 0, 9, 0, nil},
		{"9", 0, 9, 9, nil},
		{"017", 0, 99, 17, nil}, // never octal
		{"10", 0, 9, 0, origin.ErrRange},
		{"1", 2, 9, 0, origin.ErrRange},
		{strconv.Itoa(math.MaxInt), 0, math.MaxInt, math.MaxInt, nil},
		{"9223372036854775808", 0, math.MaxInt, 0, origin.ErrRange},
		{strings.Repeat("9", 1000), 0, 9, 0, origin.ErrRange},
		{"", 0, 9, 0, origin.ErrSyntax},
		{" 1", 0, 9, 0, origin.ErrSyntax},
		{"+1", 0, 9, 0, origin.ErrSyntax},
		{"-1", -9, 9, 0, origin.ErrSyntax},
		{"1.0", 0, 9, 0, origin.ErrSyntax},
		{"1e0", 0, 9, 0, origin.ErrSyntax},
		{"0x1", 0, 9, 0, origin.ErrSyntax},
		{"1_0", 0, 99, 0, origin.ErrSyntax},
		{"1,000", 0, 9999, 0, origin.ErrSyntax},
		{"١", 0, 9, 0, origin.ErrSyntax},
		{"one", 0, 9, 0, origin.ErrSyntax},
	} {
		got, err := strictyaml.Int(tc.low, tc.high)(tc.text)
		if got != tc.want || !errors.Is(err, tc.err) {
			t.Errorf("Int(%d, %d)(%.20q) = %d, %v, want %d, %v", tc.low, tc.high, tc.text, got, err, tc.want, tc.err)
		}
		if err != nil && len(err.Error()) > 150 {
			t.Errorf("the error is %d bytes long", len(err.Error()))
		}
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	words := []string{"axle", "axles", "gawr", "gvwr", "pressure", "tread_depth", "id"}
	for _, tc := range []struct{ word, want string }{
		{"axel", "axle"},  // neighbors swapped
		{"axls", "axle"},  // as near to axles: the first counts
		{"gawrr", "gawr"}, // one too many
		{"gvwt", "gvwr"},  // one wrong
		{"presure", "pressure"},
		{"pres", ""},
		{"tread_deth", "tread_depth"},
		{"treaddepht", "tread_depth"}, // two edits
		{"trdepht", ""},
		{"i", ""}, // half of the letters
		{"ix", ""},
		{"xx", ""},
		{"", ""},
		{"axle", "axle"},
		{strings.Repeat("a", 65), ""},
		{strings.Repeat("a", 1_000_000), ""},
	} {
		if got := strictyaml.Nearest(tc.word, words); got != tc.want {
			t.Errorf("Nearest(%.20q) = %q, want %q", tc.word, got, tc.want)
		}
	}
	if got := strictyaml.Nearest("axle", nil); got != "" {
		t.Errorf("Nearest of nothing = %q", got)
	}
}

func TestHintsListTheKeysWhenNoneIsNear(t *testing.T) {
	t.Parallel()
	d, err := strictyaml.Parse("a.yaml", []byte("wheelbase: 1"), 100)
	if err != nil {
		t.Fatal(err)
	}
	many := make([]string, 17)
	for i := range many {
		many[i] = fmt.Sprintf("key%d", i)
	}
	d.Root().Map("id", "count")
	d.Root().Map(many...)
	d.Root().Map()
	want := `a.yaml:1:1: unknown key "wheelbase": want one of id, count [unknown-key]
a.yaml:1:1: unknown key "wheelbase" [unknown-key]
a.yaml:1:1: unknown key "wheelbase" [unknown-key]
`
	if got := explain(&d.Probs); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestNodes(t *testing.T) {
	t.Parallel()
	d, err := strictyaml.Parse("a.yaml", []byte("text: x\nlist: [a, b]\nmap: {k: v}\n"), 100)
	if err != nil {
		t.Fatal(err)
	}
	m := d.Root().Map("text", "list", "map")
	for _, tc := range []struct {
		key                 string
		scalar, list, isMap bool
	}{
		{"text", true, false, false},
		{"list", false, true, false},
		{"map", false, false, true},
		{"nothing", false, false, false},
	} {
		n := m.Get(tc.key)
		if n.IsScalar() != tc.scalar || n.IsList() != tc.list || n.IsMap() != tc.isMap {
			t.Errorf("%s: scalar %v, list %v, map %v", tc.key, n.IsScalar(), n.IsList(), n.IsMap())
		}
		if n.Valid() != (tc.key != "nothing") {
			t.Errorf("%s: Valid() = %v", tc.key, n.Valid())
		}
	}
	pairs := m.Get("map").Pairs()
	if len(pairs) != 1 || pairs[0].Name != "k" || pairs[0].Value.Path() != "map.k" || pairs[0].Key.Pos().Column != 7 {
		t.Errorf("Pairs() = %+v", pairs)
	}

	// What is not there gives zero values and no problem.
	var none strictyaml.Node
	if text, ok := none.Text(); text != "" || ok {
		t.Error("the zero Node has a text")
	}
	if len(none.List()) != 0 || len(none.Pairs()) != 0 || none.Pos() != (origin.Position{}) || none.Path() != "" {
		t.Error("the zero Node is not empty")
	}
	none.Fail("code", strictyaml.ErrShape)
	empty := none.Map("a")
	if empty.Get("a").Valid() || empty.Need("a").Valid() {
		t.Error("the zero Node has keys")
	}
	if m.Get("text").Map().Get("a").Valid() { // one problem: no mapping
		t.Error("a text has keys")
	}
	if v, ok := strictyaml.Scalar(none, strictyaml.Int(1, 2)); v != 0 || ok {
		t.Error("the zero Node is a number")
	}
	if got, want := explain(&d.Probs), "a.yaml:1:7: text: wrong shape: want keys with values, found a single value [shape]\n"; got != want {
		t.Errorf("got %swant %s", got, want)
	}
}

func TestLocate(t *testing.T) {
	t.Parallel()
	d, err := strictyaml.Parse("a.yaml", []byte("axles:\n  - id: steer\n  - id: drive\n    gawr: 1\n"), 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		path         string
		line, column int
	}{
		{"", 1, 1},
		{"axles", 2, 3},
		{"axles[1]", 3, 5},
		{"axles[1].gawr", 4, 11},
		{"axles[1].loads[3].left", 3, 5}, // as far as the file goes
		{"axles[2].gawr", 2, 3},
		{"axles[x]", 2, 3},
		{"axles[", 2, 3},
		{"axles[99999999999999999999]", 2, 3},
		{"axles.id", 2, 3},
		{"tires[0]", 1, 1},
	} {
		n := d.Locate(tc.path)
		if p := n.Pos(); p.Line != tc.line || p.Column != tc.column || n.Path() != tc.path {
			t.Errorf("Locate(%q) = %v %q, want %d:%d", tc.path, p, n.Path(), tc.line, tc.column)
		}
	}
}

func TestClip(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ in, want string }{
		{"", ""},
		{strings.Repeat("a", 40), strings.Repeat("a", 40)},
		{strings.Repeat("a", 41), strings.Repeat("a", 40) + "…"},
		{strings.Repeat("€", 20), strings.Repeat("€", 13) + "…"},
		{strings.Repeat("\x80", 50), "…"},
	} {
		if got := strictyaml.Clip(tc.in); got != tc.want {
			t.Errorf("Clip(%q) = %q, want %q", tc.in, got, tc.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("?")) // an empty value that the library puts on a line after the last
	for _, dir := range []string{"testdata/err", "testdata/ok"} {
		for _, ext := range []string{"*.yaml", "*.json"} {
			names, err := filepath.Glob(filepath.Join(dir, ext))
			if err != nil {
				f.Fatal(err)
			}
			for _, name := range names {
				data, err := os.ReadFile(name)
				if err != nil {
					f.Fatal(err)
				}
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		said, probs := read("fuzz.yaml", data)
		checkPositions(t, data, probs)
		again, probsAgain := read("fuzz.yaml", data)
		if said != again || explain(probs) != explain(probsAgain) {
			t.Error("read twice, it says two things")
		}
	})
}

func BenchmarkParse(b *testing.B) {
	var text strings.Builder
	text.WriteString("coach: demo\naxles:\n")
	for i := range 200 {
		fmt.Fprintf(&text, "  - id: axle%d\n    count: 4\n", i)
	}
	data := []byte(text.String())
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, probs := read("bench.yaml", data); probs.Len() != 0 {
			b.Fatal(probs)
		}
	}
}

// TestByHandHostileFiles: what people's files are mended with takes no longer
// than the rest, whatever is in them.
func TestByHandHostileFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine, and long under the race detector")
	}
	for name, text := range hostile() {
		start := time.Now()
		doc, err := strictyaml.ByHand{Key: func(w string) bool { return w == "a" }, Limit: hostileSize}.Parse("hostile.yaml", []byte(text))
		if took := time.Since(start); took > 20*time.Second {
			t.Errorf("%s took %v", name, took)
		}
		if err == nil && doc == nil {
			t.Errorf("%s: neither a document nor an error", name)
		}
	}
}

// TestByHandPositions: a place told is that of the file as it was written, with
// tabs, a byte-order mark and mended slips before it.
func TestByHandPositions(t *testing.T) {
	for text, want := range map[string]string{
		"a: {load: 4,380 lb, b: ~}\n":            "a.yaml:1:11: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
		"\xef\xbb\xbfa: x: y\n":                  "a.yaml:1:5: a colon inside a text; put the text in quotes: \"x: y\"",
		"a: {a:1, load: 4,380 lb}\n":             "a.yaml:1:5: no space after the colon; write a: 1\na.yaml:1:16: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
		"a:\n\tb: {a:1, load: 4,380 lb}\n":       "a.yaml:2:1: a tab in the indent; use spaces\na.yaml:2:6: no space after the colon; write a: 1\na.yaml:2:17: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
		"a: \"x: y, 4,380 lb\"\nb: 'it''s: z'\n": "",
		"a: [1/2 in, 4 in] # b: 4,380 lb\n":      "",
		"a: {b: see: this, c: d}\n":              "a.yaml:1:11: a colon inside a text; put the text in quotes: \"see: this\"",
		"a: see: this, and that\n":               "a.yaml:1:7: a colon inside a text; put the text in quotes: \"see: this, and that\"",
		"a: {a:, b: 4,380 lb}\n":                 "a.yaml:1:12: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
		"a: |\n  x: y: z\n  {4,380 lb}\nb: 1\n":  "",
		"a:\nb:\u00a0x\n":                        "",
		// A backslash takes the quote behind it along between double quotes, and is a
		// character like others between single ones.
		"a: [\"x\\\", 4,380 lb\", b]\n": "",
		"a: ['x\\', 4,380 lb]\n":        "a.yaml:1:11: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
		"a: [\"x\\\\\", 4,380 lb]\n":    "a.yaml:1:12: \"4,380 lb\": a comma inside { } starts a new entry; write 4380 lb, or \"4,380 lb\" in quotes",
	} {
		doc, err := strictyaml.ByHand{Key: func(w string) bool { return w == "a" }, Limit: 1000}.Parse("a.yaml", []byte(text))
		got := ""
		if err != nil {
			got = err.Error()
		} else if err := doc.Probs.Err(); err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%q:\n%s\nwant\n%s", text, got, want)
		}
	}
}

// TestThousandsCommaIsGivenBack: a number whose comma was looked past on the way reads
// as it was written, beside its problem.
func TestThousandsCommaIsGivenBack(t *testing.T) {
	doc, err := strictyaml.ByHand{Key: func(string) bool { return false }, Limit: 100}.Parse("a.yaml", []byte("a: [4,380 lb, b]\n"))
	if doc == nil {
		t.Fatal(err)
	}
	list := doc.Root().Map("a").Get("a").List()
	if len(list) != 2 {
		t.Fatalf("%d entries", len(list))
	}
	if text, _ := list[0].Text(); text != "4,380 lb" {
		t.Errorf("%q", text)
	}
}

// TestEmptyKeys: a key without a value is empty, one with a value and a node that is
// not there are not.
func TestEmptyKeys(t *testing.T) {
	doc, err := strictyaml.ByHand{Key: func(string) bool { return true }, Limit: 100}.Parse("a.yaml", []byte("a:\nb: x\nc: []\n"))
	if err != nil {
		t.Fatal(err)
	}
	m := doc.Root().Map("a", "b", "c", "d")
	for key, want := range map[string]bool{"a": true, "b": false, "c": false, "d": false} {
		if got := m.Get(key).Empty(); got != want {
			t.Errorf("%s: %t", key, got)
		}
	}
	n := 0
	for key, value := range doc.Root().Each() {
		n++
		if key.Name() == "b" {
			if text, _ := value.Text(); text != "x" {
				t.Errorf("%q", text)
			}
		}
	}
	if n != 3 {
		t.Errorf("%d of 3 pairs", n)
	}
}

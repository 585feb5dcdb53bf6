package strictyaml_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// plainValue gives a document as encoding/json would, numbers, true and false
// as text.
func plainValue(n strictyaml.Node) any {
	switch {
	case n.IsMap():
		m := map[string]any{}
		for _, p := range n.Pairs() {
			m[p.Name] = plainValue(p.Value)
		}
		return m
	case n.IsList():
		list := []any{}
		for _, e := range n.List() {
			list = append(list, plainValue(e))
		}
		return list
	}
	text, _ := n.Text()
	return text
}

// texts does the same to a value of encoding/json.
func texts(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = texts(v[k])
		}
	case []any:
		for i := range v {
			v[i] = texts(v[i])
		}
	case json.Number:
		return v.String()
	case bool:
		return fmt.Sprint(v)
	}
	return v
}

// everything says all there is in a document, with places and paths.
func everything(n strictyaml.Node, say func(n strictyaml.Node, what string)) {
	switch {
	case n.IsMap():
		say(n, "{")
		for _, p := range n.Pairs() {
			say(p.Key, p.Name)
			everything(p.Value, say)
		}
	case n.IsList():
		say(n, "[")
		for _, e := range n.List() {
			everything(e, say)
		}
	default:
		text, ok := n.Text()
		say(n, fmt.Sprintf("%q %v", text, ok))
	}
}

func told(d *strictyaml.Doc, err error) string {
	var b strings.Builder
	probs := new(origin.Problems)
	if err != nil {
		errors.As(err, &probs)
	} else {
		probs = &d.Probs
		everything(d.Root(), func(n strictyaml.Node, what string) {
			fmt.Fprintf(&b, "%d:%d %s %s\n", n.Pos().Line, n.Pos().Column, n.Path(), what)
		})
	}
	return b.String() + explain(probs)
}

func TestNotJSON(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ text, want string }{
		{``, `1:1: want a value`},
		{" \n ", `2:2: want a value`},
		{`{`, `1:2: want a key in double quotes`},
		{`{a: 1}`, `1:2: want a key in double quotes`},
		{`{"a"}`, `1:5: want a colon after the key`},
		{`{"a":}`, `1:6: want a value`},
		{`{"a`, `1:2: no closing quote`},
		{`{"a":1,}`, `1:8: want a key in double quotes`},
		{`{"a":1]`, `1:7: want a comma or }`},
		{`{]`, `1:2: want a comma or }`},
		{`[1 2]`, `1:4: want a comma or ]`},
		{`[1,]`, `1:4: want a value`},
		{"[1,\n  2}", `2:4: want a comma or ]`},
		{`[}`, `1:2: want a comma or ]`},
		{`[[1]`, `1:5: want a comma or ]`},
		{`[1] 2`, `1:5: more text after the end of the document`},
		{`{} {}`, `1:4: more text after the end of the document`},
		{`[yes]`, `1:2: want a value`},
		{`[nullo]`, `1:2: want a value`},
		{`[TRUE]`, `1:2: want a value`},
		{`['a']`, `1:2: want a value`},
		{`[#]`, `1:2: want a value`},
		{`[01]`, `1:2: a number with a leading zero`},
		{`[-]`, `1:3: want a digit`},
		{`[+1]`, `1:2: want a value`},
		{`[.5]`, `1:2: want a value`},
		{`[1.]`, `1:4: want a digit`},
		{`[1e]`, `1:4: want a digit`},
		{`[1e+]`, `1:5: want a digit`},
		{`[0x10]`, `1:3: want a comma or ]`},
		{`["a`, `1:2: no closing quote for the text that starts here`},
		{`["a\"]`, `1:2: no closing quote for the text that starts here`},
		{"[\"a\nb\"]", `1:4: a line end or tab inside a text`},
		{"[\"a\tb\"]", `1:4: a line end or tab inside a text`},
		{`["é\x41"]`, `1:4: an escape that is none of`},
		{`["\`, `1:3: an escape that is none of`},
		{`["\u12"]`, `1:3: want four hexadecimal digits after \u`},
		{`["\u12g4"]`, `1:3: want four hexadecimal digits after \u`},
		{`["\u+123"]`, `1:3: want four hexadecimal digits after \u`},
		{`["\ud83d"]`, `1:3: half of a pair of surrogates`},
		{`["\ud83dx"]`, `1:3: half of a pair of surrogates`},
		{`["\ud83d\n"]`, `1:3: half of a pair of surrogates`},
		{`["\ud83d\ud83d"]`, `1:3: half of a pair of surrogates`},
		{`["\ude00\ud83d"]`, `1:3: half of a pair of surrogates`},
	} {
		_, err := parseJSON("a.json", []byte(tc.text), 1000)
		place, what, _ := strings.Cut(tc.want, ": ")
		want := "a.json:" + place + ": not valid JSON: " + what
		if err == nil || !errors.Is(err, strictyaml.ErrSyntax) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v, want %s", tc.text, err, want)
		}
	}
}

// TestJSONForms takes what RFC 8259 allows through both readers.
func TestJSONForms(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		`{}`, `[]`, `""`, `0`, `-0`, `-12.50e+07`, `1E-2`, `true`, `false`,
		" \t\r\n[ 1 ,\t2 ]\r\n", `{"a" : {"b":[[],{},[{}]]}}`, `[{"a":1},{"a":2}]`,
		`["\"\\\/\b\f\n\r\t\u0041\u00e9\u20ac\ud83d\ude00", "é€😀"]`, `["\u0000"]`, `["\u2028\u0085"]`,
		"{\n\"a\"\n:\n1\n}",
	} {
		d, err := parseJSON("a.json", []byte(text), 1000)
		if err != nil || d.Probs.Len() != 0 {
			t.Errorf("%s: %v", text, err)
			continue
		}
		checkAgainstStandard(t, []byte(text), d)
		if other, err := strictyaml.Parse("a.json", []byte(text), 1000); err != nil && text[0] != '"' {
			t.Errorf("%s: refused by Parse: %v", text, err)
		} else if err == nil && !reflect.DeepEqual(plainValue(other.Root()), plainValue(d.Root())) {
			t.Errorf("%s: Parse reads %v", text, plainValue(other.Root()))
		}
	}
}

// checkAgainstStandard holds what was read to what encoding/json reads.
func checkAgainstStandard(t *testing.T, data []byte, d *strictyaml.Doc) {
	t.Helper()
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var want any
	if err := dec.Decode(&want); err != nil {
		t.Fatalf("%q: encoding/json refuses what was read: %v", data, err)
	}
	if got := plainValue(d.Root()); !reflect.DeepEqual(got, texts(want)) {
		t.Errorf("%q reads as\n%v, want\n%v", data, got, want)
	}
}

// TestJSONIsHeldToSizeAndText: what is read as JSON alone is refused as any file is
// for its size and for what is no text, at its place; the size has no place.
func TestJSONIsHeldToSizeAndText(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		text, says string
		is         error
	}{
		{`{"a": "` + strings.Repeat("x", 100) + `"}`, "a.json: file is too large: 109 bytes, at most 100 are read", strictyaml.ErrSize},
		{"{\"a\":\n\"\xff\"}", "a.json:2:2: ", strictyaml.ErrEncoding},
		{"{\"a\": \"\x01\"}", "a.json:1:8: ", strictyaml.ErrEncoding},
	} {
		_, err := parseJSON("a.json", []byte(x.text), 100)
		if !errors.Is(err, x.is) || !strings.HasPrefix(err.Error(), x.says) {
			t.Errorf("%q: %v, want %s", x.text, err, x.says)
		}
		var ps *origin.Problems
		if errors.Is(x.is, strictyaml.ErrSize) && errors.As(err, &ps) && (ps.All()[0].Position.Line != 0 || ps.All()[0].Position.Column != 0) {
			t.Errorf("a size has no place: %+v", ps.All()[0].Position)
		}
	}
	if _, err := parseJSON("a.json", []byte(`{"a": "`+strings.Repeat("x", 91)+`"}`), 100); err != nil {
		t.Errorf("100 bytes: %v", err)
	}
}

func TestReaderInTheSameMemory(t *testing.T) {
	t.Parallel()
	var r strictyaml.Reader
	read := func(text string) string {
		return told(r.ReadJSON("a.json", []byte(text), 100))
	}
	long := `{"a": [1, 2, {"b": "c"}], "d": null, "d": 3}`
	want := read(long)
	for _, between := range []string{`{`, `{"a": 1}`, `[[[[]]]]`, "\xff", strings.Repeat(" ", 101), `{"a": null}`} {
		read(between)
		if got := read(long); got != want {
			t.Errorf("after %s: got\n%swant\n%s", between, got, want)
		}
	}
	d, err := r.ReadJSON("a.json", []byte(`{"a": "kept\n"}`), 100)
	if err != nil {
		t.Fatal(err)
	}
	text, _ := d.Root().Map("a").Get("a").Text()
	read(long)
	if text != "kept\n" {
		t.Errorf("the text became %q", text)
	}
}

// FuzzJSON holds the reader of JSON to encoding/json and to the reader of
// YAML: the same values and problems, at the same places.
func FuzzJSON(f *testing.F) {
	for _, pattern := range []string{"testdata/*/*.json", "testdata/*/flow*"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatal(err, "no files")
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Add([]byte(`["\"\\\/\b\f\n\r\t\u0041\ud83d\ude00", -12.50e+07, {"a": {"a": null, "a": "é"}}]`))
	f.Add([]byte(`{"": {"a": 1}, "b": {"": 2, "c": 3, "": 4}}`))
	f.Add([]byte(strings.Repeat("[", 40) + strings.Repeat("]", 40)))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := parseJSON("a.json", data, 64<<10)
		var probs *origin.Problems
		if err != nil && !errors.As(err, &probs) {
			t.Fatal(err)
		}
		checkPositions(t, data, probs)
		if !json.Valid(data) {
			if err == nil || probs.Len() != 1 || probs.All()[0].Code == strictyaml.CodeForbidden {
				t.Fatalf("not valid JSON, but read with %v", err)
			}
			return
		}
		if err == nil && d.Probs.Len() == 0 {
			checkAgainstStandard(t, data, d)
		}
		if syntax := errors.Is(err, strictyaml.ErrSyntax); syntax && !bytes.Contains(bytes.ToLower(data), []byte(`\ud`)) {
			t.Fatalf("valid JSON, but %v", err)
		}
		if !utf8.Valid(data) || errors.Is(err, strictyaml.ErrEncoding) || errors.Is(err, strictyaml.ErrSyntax) {
			return
		}
		for _, layout := range []func(*bytes.Buffer, []byte) error{
			json.Compact,
			func(b *bytes.Buffer, data []byte) error { return json.Indent(b, data, "", "\t") },
		} {
			var b bytes.Buffer
			if err := layout(&b, bytes.TrimSpace(data)); err != nil {
				t.Fatal(err)
			}
			asJSON := told(parseJSON("a", b.Bytes(), 1<<20))
			if got := told(strictyaml.Parse("a", b.Bytes(), 1<<20)); got != asJSON && (data[0] == '{' || data[0] == '[') {
				t.Errorf("%s: Parse gives\n%swant\n%s", b.Bytes(), got, asJSON)
			}
			b.Truncate(len(bytes.TrimSpace(b.Bytes())))
			b.WriteString(" # a comment makes it YAML\n")
			y, err := strictyaml.Parse("a", b.Bytes(), 1<<20)
			if errors.Is(err, strictyaml.ErrSyntax) && yamlHasNot(b.Bytes()) {
				return
			}
			if got := told(y, err); got != asJSON {
				t.Errorf("%s: as YAML\n%sas JSON\n%s", b.Bytes(), got, asJSON)
			}
		}
	})
}

// yamlHasNot reports whether a JSON text may have something that YAML has not:
// an escaped slash or surrogates, a key longer than 1,024 characters, nesting
// beyond 10,000.
func yamlHasNot(text []byte) bool {
	lower := bytes.ToLower(text)
	return bytes.Contains(text, []byte(`\/`)) || bytes.Contains(lower, []byte(`\ud`)) || len(text) > 1000
}

func BenchmarkJSON(b *testing.B) {
	var list []map[string]any
	for i := range 200 {
		list = append(list, map[string]any{"id": fmt.Sprintf("axle%d", i), "count": 4})
	}
	data, err := json.Marshal(map[string]any{"coach": "demo", "axles": list})
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	var r strictyaml.Reader
	for b.Loop() {
		d, err := r.ReadJSON("bench.json", data, 64<<10)
		if err != nil {
			b.Fatal(err)
		}
		if walk(d); d.Probs.Len() != 0 {
			b.Fatal(&d.Probs)
		}
	}
}

func parseJSON(file string, data []byte, limit int) (*strictyaml.Doc, error) {
	return new(strictyaml.Reader).ReadJSON(file, data, limit)
}

package strictyaml_test

import (
	"errors"
	"strings"
	"testing"

	"axleend.example/internal/strictyaml"
)

// TestInvisibleCharacters: which characters have no business in a file, and their
// neighbors, which have. In double quotes, as a sheet or a phone leaves them.
func TestInvisibleCharacters(t *testing.T) {
	t.Parallel()
	for r, bad := range map[rune]bool{
		0x00: true, 0x01: true, 0x08: true, 0x0b: true, 0x0c: true, 0x1f: true, ' ': false, '!': false, '~': false, 0x7f: true, 0x80: true, 0x85: true, 0x9f: true, 0xa0: false, 0xe9: false,
		0x2027: false, 0x2028: true, 0x2029: true, 0x202a: false, 0xfefe: false, 0xfeff: true, 0xff00: false, 0xfffd: false, 0xfffe: true, 0xffff: true, 0x10000: false, 0x1f698: false,
	} {
		doc, err := strictyaml.Parse("a.yaml", []byte("é: 1\na: \"x"+string(r)+"\"\n"), 1000)
		if errors.Is(err, strictyaml.ErrEncoding) != bad || (doc == nil) != bad {
			t.Errorf("%U: %v", r, err)
		}
		if bad && !strings.Contains(err.Error(), "a.yaml:2:6:") {
			t.Errorf("%U: not told where it stands: %v", r, err)
		}
	}
	// A carriage return ends a line or is refused; a tab is refused in the indent of YAML.
	for text, bad := range map[string]bool{
		"a: 1\r\nb: 2\r\n": false, "a: 1\rb: 2\n": true, "a: 1\n\r": true, "a: \"x\ty\"\n": false, "a: 1\t# x\n": false, "a:\n\tb: 1\n": true, "a:\n \tb: 1\n": true, "\ta: 1\n": false, "{\n\t\"a\": 1\n}\n": false, "[\n\t1\n]\n": false,
	} {
		if _, err := strictyaml.Parse("a.yaml", []byte(text), 1000); errors.Is(err, strictyaml.ErrEncoding) != bad {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// TestByHandJSON: JSON that people send is read like the YAML they write: an empty value
// is no problem, a second one of a key is.
func TestByHandJSON(t *testing.T) {
	t.Parallel()
	h := strictyaml.ByHand{Key: func(string) bool { return true }, Limit: 40}
	for text, want := range map[string]string{
		`{"a": null}`:                            "",
		`{"a": null, "b": [1, {"c": null}]}`:     "",
		`{"a": 1}`:                               "",
		`{"a": [null]}`:                          "a.json:1:8: a[0]: not allowed here: an empty value; leave the key out if there is nothing to say",
		`{"a": 1, "a": 2}`:                       "a.json:1:10: a: set twice \"a\", first on line 1",
		`{"a": 1}` + strings.Repeat(" ", 40-8):   "",
		`{"a": 1}` + strings.Repeat(" ", 40-8+1): "a.json: too large: 41 bytes, at most 40 are read",
	} {
		doc, err := h.Parse("a.json", []byte(text))
		if err == nil {
			err = doc.Probs.Err()
		}
		got := ""
		if err != nil {
			got = err.Error()
		}
		if !sameButCause(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

// sameButCause compares what is told but for the words of its cause, which are another
// package's: its place and what comes behind it.
func sameButCause(got, want string) bool {
	if want == "" || got == "" {
		return got == want
	}
	return got[:strings.Index(got, " ")] == want[:strings.Index(want, " ")]
}

// TestNoBlankBehindTheColon: what is to be written instead ends where the value does:
// at a comma or bracket between brackets, else at the line's end.
func TestNoBlankBehindTheColon(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"a:x, y\n":                 "write a: x, y",
		"a:x}y\n":                  "write a: x}y",
		"b: {a:x, c: d}\n":         "write a: x",
		"b: {a:x}\n":               "write a: x",
		"b: [{a:x}]\n":             "write a: x",
		"a: 1\nc:\n  a:x y  # z\n": "write a: x y  # z",
	} {
		doc, err := strictyaml.ByHand{Key: func(w string) bool { return w == "a" }, Limit: 1000}.Parse("a.yaml", []byte(text))
		if err == nil {
			err = doc.Probs.Err()
		}
		if err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// TestThousandsCommaBetweenBrackets: which numbers are taken for one with a thousands
// comma, with their sign and unit, and which entries are not.
func TestThousandsCommaBetweenBrackets(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"[4,380 lb]": "4,380 lb", "[-4,380 lb]": "-4,380 lb", "[+4,380 lb]": "+4,380 lb", "[x, 1,234,567.5 kg]": "1,234,567.5 kg", "[12,345lb]": "12,345 lb", "[123,456 lb]": "123,456 lb",
		"[1234,567 lb]": "", "[4,38 lb]": "", "[4,3800 lb]": "", "[4, 380 lb]": "", "[4-3,380 lb]": "", "[--4,380 lb]": "", "[x4,380 lb]": "", "[,380 lb]": "", "[\"4,380 lb\"]": "", "['4,380 lb']": "",
	} {
		doc, err := strictyaml.ByHand{Key: func(string) bool { return false }, Limit: 1000}.Parse("a.yaml", []byte("a: "+text+"\n"))
		if err == nil {
			err = doc.Probs.Err()
		}
		got := ""
		if err != nil {
			if _, said, ok := strings.Cut(err.Error(), "a.yaml:1:"); ok {
				_, said, _ = strings.Cut(said, "\"")
				got, _, _ = strings.Cut(said, "\": a comma inside")
			}
			if !strings.Contains(err.Error(), "a comma inside") {
				got = ""
			}
		}
		if got != want {
			t.Errorf("%s: %q, want %q: %v", text, got, want, err)
		}
	}
}

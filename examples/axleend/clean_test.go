package main

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// hidden reports whether a terminal would do something with r that is not
// writing a character.
func hidden(r rune) bool {
	return r != '\n' && r != '\t' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Cs)
}

// evil colors a terminal, clears it, goes back to the start of the line, rings,
// and turns the order of what follows around; the last one is beyond 16 bits.
const evil = "a\x1b[31mb\u009b2Jc\rd\ae\x7ff\u202eg\u2066h\u200fi\u2028j\U000E0041k"

// evilYAML is what of it a visit takes in a quoted text, which has to be one
// line.
const evilYAML = `a\e[31mb\x9b2Jd\ae\x7ff\u202eg\u2066h\u200fi\u2028j\U000E0041k`

func TestCleanWriter(t *testing.T) {
	for in, want := range map[string]string{
		"":                      "",
		"plain\n\ttext":         "plain\n\ttext",
		"25 °F, ½ in, é, 轮胎, 🛞": "25 °F, ½ in, é, 轮胎, 🛞",
		evil:                    `a\u001b[31mb\u009b2Jc\u000dd\u0007e\u007ff\u202eg\u2066h\u200fi\u2028j\udb40\udc41k`,
		"\x1b":                  `\u001b`,
		"a\x9bb\xff":            "a\ufffdb\ufffd", // an 8-bit terminal's escape, and no UTF-8
		"\ufffd":                "\ufffd",
	} {
		var b bytes.Buffer
		n, err := cleanWriter{&b}.Write([]byte(in))
		if err != nil || n != len(in) || b.String() != want {
			t.Errorf("%q: %d, %v, %q, want %q", in, n, err, b.String(), want)
		}
	}
	if n, err := (cleanWriter{full{}}).Write([]byte("a")); n != 0 || err == nil {
		t.Errorf("a failed write says %d, %v", n, err)
	}
}

// TestCleanKeepsJSON: whatever is in a text, its JSON reads the same behind the
// writer, and nothing in it is hidden.
func TestCleanKeepsJSON(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 3))
	for range 20_000 {
		var text []rune
		for range rng.IntN(12) {
			r := rune(rng.IntN(0x300))
			switch rng.IntN(4) {
			case 0:
				r = rune(0x2000 + rng.IntN(0x70))
			case 1:
				r = rune(rng.IntN(unicode.MaxRune + 1))
			}
			if utf8.ValidRune(r) {
				text = append(text, r)
			}
		}
		data, err := json.Marshal(string(text))
		if err != nil {
			t.Fatal(err)
		}
		out := clean(data)
		var back string
		if err := json.Unmarshal(out, &back); err != nil || back != string(text) {
			t.Fatalf("%q reads back as %q: %v", text, back, err)
		}
		if strings.ContainsFunc(string(out), hidden) {
			t.Fatalf("%q shows %q", text, out)
		}
	}
}

// TestNothingHiddenReachesTheTerminal: every command, given files, names and
// arguments that hold control and direction characters, shows none, neither in
// its answer nor in an error.
func TestNothingHiddenReachesTheTerminal(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	demo := func(name string) string {
		data, err := os.ReadFile("../demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	put := strings.NewReplacer("\"Invented demo", "\"Invented "+evilYAML, ": Invented demo coach, two axles", ": \"Invented "+evilYAML+"\"", "{name: left front,", "{name: \""+evilYAML+"\",",
		"{name: tool chest,", "{name: \""+evilYAML+"\",", "name: right rear bay", "name: \"rear "+evilYAML+"\"", "at: right rear bay", "at: \"rear "+evilYAML+"\"")
	trip := write("trip.yaml", put.Replace(demo("trip.yaml")))
	visit := write("visit.yaml", put.Replace(demo("visit.yaml")))
	table := write("table.yaml", strings.Replace(demo("xv250.yaml"), "\nname: ", "\nname: \"a\\u202eg\\u2066h\\x9bi\" #", 1))
	badKey := write("bad.yaml", "visit: 1\n\""+evilYAML+"\": 3\n")
	badName := write("\x1b[31m\u202e.yaml", "visit: 1\n")
	pack := write("pack.yaml", "pack: 1\n\""+evilYAML+"\": \""+evilYAML+"\"\n")
	lines := evil + "\nLT225/75R16 " + evil + "\n"
	for _, args := range [][]string{
		{"assess", visit}, {"assess", "-as", "json", visit}, {"assess", "-as", "html", visit}, {"assess", badKey}, {"assess", badName},
		{"assess", "-as", "ics", visit}, {"history", "-as", "ics", visit}, {"batch", "-as", "csv", "-call", dir}, {"batch", "-as", "list", dir},
		{"assess", evil}, {"assess", "-as", evil}, {"assess", "-" + evil}, {evil}, {"help", evil},
		{"weigh", trip}, {"weigh", "-as", "json", trip}, {"weigh", badKey},
		{"load", trip}, {"load", "-as", "json", trip}, {"load", badKey}, {"load", evil},
		{"place", visit}, {"place", "-as", "json", visit}, {"place", badKey},
		{"history", visit}, {"history", visit, trip}, {"history", badKey, badName},
		{"batch", dir}, {"batch", "-"}, {"batch", evil}, {"batch", "-o", filepath.Join(dir, evil, "x"), "-"},
		{"tables", "show", table}, {"tables", "check", table, badKey}, {"tables", "show", "-as", "json", table}, {"tables", "new", "-size", evil},
		{"tables", "new", "-size", "XV250/72R21", "-class", "truck", "-name", evil, "-single", "per tire", "-from", "80psi", "-to", "110psi", "-by", "5psi"},
		{"pressure", "-tables", dir, "-size", evil, "-fit", "dual", "-load", "8200lb", "-per", "end"},
		{"pressure", "-table", table, "-size", "XV250/72R21", "-fit", "dual", "-load", "8200lb", "-per", "end", "-load-range", "G"},
		{"pressure", "-table", badKey, "-size", evil, "-fit", evil, "-load", evil, "-per", evil},
		{"date"}, {"date", evil}, {"date", "-as", "json", evil}, {"date", "-on", evil, "2313"},
		{"sidewall"}, {"sidewall", "LT225/75R16 " + evil}, {"sidewall", "-as", "json", evil}, {"sidewall", "-road", evil, "LT225/75R16"},
		{"cold", "-read", evil, "-at", evil, "-to", evil}, {"cold", "-" + evil, "x"},
		{"packs", "show", evil}, {"packs", "check", pack, badKey, badName}, {"packs", evil},
		{"new", "-units", evil}, {"new", evil}, {"new", "-o", filepath.Join(dir, evil)}, {"completion", evil},
	} {
		code, out, errw := axleend(t, lines, args...)
		out = strings.ReplaceAll(out, "\r\n", "\n") // of a calendar
		if i := strings.IndexFunc(out, hidden); i >= 0 {
			t.Errorf("%q: standard output: %q", args, out[max(i-40, 0):min(i+40, len(out))])
		}
		if i := strings.IndexFunc(errw, hidden); i >= 0 {
			t.Errorf("%q: standard error: %q", args, errw[max(i-40, 0):min(i+40, len(errw))])
		}
		if code == exitDone && out == "" || code == exitMisuse && errw == "" {
			t.Errorf("%q: exit status %d and nothing said", args, code)
		}
	}
	// The test would see it: what is handed in is in the answers.
	for _, args := range [][]string{{"load", trip}, {"weigh", trip}, {"tables", "show", table}, {"pressure", "-table", table, "-size", "XV250/72R21", "-fit", "dual", "-load", "8200lb", "-per", "end", "-load-range", "G"}} {
		if _, out, errw := axleend(t, "", args...); !strings.Contains(out, `\u202e`) {
			t.Errorf("%q does not show the name that was given: %s%s", args, out, errw)
		}
	}
}

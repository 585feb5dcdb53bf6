package dotcode_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
)

const (
	thirteen = dotcode.ThirteenSymbol
	older    = dotcode.Older
	retread  = dotcode.Retread
	partial  = dotcode.Partial
	dateOnly = dotcode.DateOnly
)

func parse(t testing.TB, text string) dotcode.Number {
	t.Helper()
	n, err := dotcode.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Lengths and groups: 49 CFR 574.5(a),(b) and 80 FR 19553; the older lengths: 574.5(g). All numbers are invented.
func TestParse(t *testing.T) {
	type forms = []dotcode.Form
	for _, c := range []struct {
		text    string
		symbols string
		forms   forms
		digits  int
		plant   string // of the first form
		maker   string
		date    string
	}{
		{"DOT 1M3 ABCDEF 2313", "1M3ABCDEF2313", forms{thirteen}, 4, "1M3", "ABCDEF", "2313"},
		{"1M3ABCDEF2313", "1M3ABCDEF2313", forms{thirteen}, 4, "1M3", "ABCDEF", "2313"},
		{"dot-1m3-abcdef-2313", "1M3ABCDEF2313", forms{thirteen}, 4, "1M3", "ABCDEF", "2313"},
		{" D.O.T. 1M3\r\nABC·DEF\u00a0–\n23.13 ", "1M3ABCDEF2313", forms{thirteen}, 4, "1M3", "ABCDEF", "2313"},
		{"1M3 ABCDE1 439", "1M3ABCDE1439", forms{older}, 3, "1M", "3ABCDE1", "439"}, // 12 symbols, the date apart
		{"1M3 ABCDEF 2 313", "1M3ABCDEF2313", forms{thirteen}, 4, "1M3", "ABCDEF", "2313"},
		{"4B9Y ABC 2313", "4B9YABC2313", forms{older}, 4, "4B", "9YABC", "2313"},
		{"4B9Y ABC 439", "4B9YABC439", forms{older}, 3, "4B", "9YABC", "439"},
		{"4B9YABCX439", "4B9YABCX439", forms{older}, 3, "4B", "9YABCX", "439"},
		{"4B9YABC9439", "4B9YABC9439", forms{older}, 3, "4B", "9YABC9", "439"}, // 9439 is no week
		{"4B9Y 2313", "4B9Y2313", forms{older, partial}, 4, "4B", "9Y", "2313"},
		{"4B9YA2313", "4B9YA2313", forms{older, partial}, 4, "4B", "9YA", "2313"}, // nine symbols: both
		{"1M3ABCDEF", "1M3ABCDEF", forms{partial}, 0, "1M3", "ABCDEF", ""},
		{"DOT 4B9Y ABC", "4B9YABC", forms{partial}, 0, "", "4B9YABC", ""},
		{"ABC 2313", "ABC2313", forms{older, retread, partial}, 4, "AB", "C", "2313"},
		{"DOT-R ABC 2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"R ABC2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"DOTR ABC 2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"DOT-RABC2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"DOT-R ABC2 313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"r abc2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"dot r abc2313", "ABC2313", forms{retread}, 4, "ABC", "", "2313"},
		{"DOXABC2313", "DOXABC2313", forms{older}, 4, "DO", "XABC", "2313"}, // no DOT, and all of it is the number
		{"DXTABC2313", "DXTABC2313", forms{older}, 4, "DX", "TABC", "2313"},
		{"XOTABC2313", "XOTABC2313", forms{older}, 4, "XO", "TABC", "2313"},
		{"DOT RABC2313", "RABC2313", forms{older, partial}, 4, "RA", "BC", "2313"}, // R may be the plant's
		{"DOT-R ABC X4 YYYY 2303", "ABCX4YYYY2303", forms{thirteen, retread}, 4, "ABC", "X4YYYY", "2303"},
		{"DOT-R ABC X4 439", "ABCX4439", forms{retread}, 3, "ABC", "X4", "439"},
		{"2313", "2313", forms{dateOnly}, 4, "", "", "2313"},
		{"23 13", "2313", forms{dateOnly}, 4, "", "", "2313"},
		{"2 313", "2313", forms{dateOnly}, 4, "", "", "2313"},
		{"DOT 2313", "2313", forms{dateOnly}, 4, "", "", "2313"},
		{"439", "439", forms{dateOnly}, 3, "", "", "439"},
		{"4 39", "439", forms{dateOnly}, 3, "", "", "439"},
		{"439 ▲", "439", forms{dateOnly}, 3, "", "", "439"},
		{"A 439", "A439", forms{partial}, 3, "", "A", "439"},
		{"AB 2313", "AB2313", forms{partial}, 4, "", "AB", "2313"},
		{"12 2313", "122313", forms{partial}, 4, "", "12", "2313"}, // digits alone, of which the date stands apart
		{"1A2313", "1A2313", forms{partial}, 4, "", "1A", "2313"},
		{"4B9YA9912", "4B9YA9912", forms{partial}, 0, "4B9", "YA9912", ""}, // no week: a partial number only
		{"4B9YAX99A", "4B9YAX99A", forms{partial}, 0, "4B9", "YAX99A", ""},
	} {
		n, err := dotcode.Parse(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if n.Text() != c.text || n.Symbols() != c.symbols || !slices.Equal(n.Forms(), c.forms) || n.DateDigits() != c.digits {
			t.Errorf("%q: got %q, %v, %d digits", c.text, n.Symbols(), n.Forms(), n.DateDigits())
		}
		want := dotcode.Groups{Form: c.forms[0], Plant: c.plant, Maker: c.maker, Date: c.date}
		if groups := n.Groups(); len(groups) != len(c.forms) || groups[0] != want {
			t.Errorf("%q: got groups %+v, want first %+v", c.text, groups, want)
		}
		for _, g := range n.Groups() {
			if g.Plant+g.Maker+g.Date != c.symbols {
				t.Errorf("%q: the groups %+v are not the number", c.text, g)
			}
		}
	}
}

// Both forms of a nine-symbol number: its digits are a date in one and not in the other.
func TestNineSymbols(t *testing.T) {
	want := []dotcode.Groups{
		{Form: older, Plant: "4B", Maker: "9YA", Date: "2313"},
		{Form: partial, Plant: "4B9", Maker: "YA2313"},
	}
	n := parse(t, "4B9YA2313")
	if got := n.Groups(); !slices.Equal(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if notes := n.Notes(); len(notes) != 1 || notes[0].Code != "perhaps_partial" || notes[0].Symbol != "2313" || notes[0].Index != 5 {
		t.Errorf("got %+v", notes)
	}
}

func TestMarks(t *testing.T) {
	for text, want := range map[string]dotcode.Marks{
		"439": {}, "439▲": {Triangle: true}, "439 △.": {Triangle: true}, "439 ◄ -\u00a0": {Triangle: true}, "439Δ": {Triangle: true},
		"DOT-R ABC 2313": {Retread: true}, "r ABC 2313": {Retread: true}, "RABC 2313": {}, "DOT ABCR 2313": {},
	} {
		if got := parse(t, text).Marks(); got != want {
			t.Errorf("%q: got %+v, want %+v", text, got, want)
		}
	}
	n, err := dotcode.ParseMarked("439▲", dotcode.Marks{Retread: true})
	if got := n.Marks(); err != nil || got != (dotcode.Marks{Triangle: true, Retread: true}) {
		t.Errorf("given and read: got %+v, %v", got, err)
	}
	n, err = dotcode.ParseMarked("2313", dotcode.Marks{Triangle: true, Retread: true})
	if got := n.Marks(); err != nil || got != (dotcode.Marks{Triangle: true, Retread: true}) {
		t.Errorf("given: got %+v, %v", got, err)
	}
}

// Nothing is corrected silently: each error points at the symbol and suggests the likely misreading.
func TestSymbolErrors(t *testing.T) {
	for _, c := range []struct {
		text       string
		cause      error
		index      int
		position   int
		symbol     string
		suggestion string
	}{
		{"DOT 1M3 ABCDEF 23I3", dotcode.ErrSymbol, 17, 12, "I", "1"},
		{"1M3ABCDEF231S", dotcode.ErrSymbol, 12, 13, "S", "5"},
		{"1M3ABCDEF2B13", dotcode.ErrSymbol, 10, 11, "B", "8"},
		{"1M3ABCDEFo313", dotcode.ErrSymbol, 9, 10, "o", "0"},
		{"1M3ABCDEF23x3", dotcode.ErrSymbol, 11, 12, "x", ""},
		{"1M3ABCDEF23é3", dotcode.ErrSymbol, 11, 12, "é", ""},
		{"ABC 23I3", dotcode.ErrSymbol, 6, 6, "I", "1"},
		{"ABC23I3", dotcode.ErrSymbol, 5, 6, "I", "1"},
		{"MMABCZ39", dotcode.ErrSymbol, 5, 6, "Z", "2"},
		{"MMABCDEI39", dotcode.ErrSymbol, 7, 8, "I", "1"},
		{"MMABCDEO313", dotcode.ErrSymbol, 7, 8, "O", "0"}, // 0313, not 313
		{"4B9YABCD23I3", dotcode.ErrSymbol, 10, 11, "I", "1"},
		{"DOT-R ABCXY", dotcode.ErrSymbol, 8, 3, "C", ""}, // a marked retread must end in a date
		{"DOT-R ABC 2Z13", dotcode.ErrSymbol, 11, 5, "Z", "2"},
		{"4Q9", dotcode.ErrSymbol, 1, 2, "Q", "0"},
		{"4L9", dotcode.ErrSymbol, 1, 2, "L", "1"},
		{"4|9", dotcode.ErrSymbol, 1, 2, "|", "1"},
		{"23G3", dotcode.ErrSymbol, 2, 3, "G", "6"},
		{"D313", dotcode.ErrSymbol, 0, 1, "D", "0"},
		{"A439", dotcode.ErrSymbol, 0, 1, "A", ""},
		{"0013", dotcode.ErrWeek, 0, 1, "00", ""},
		{"5413", dotcode.ErrWeek, 0, 1, "54", ""},
		{"9912", dotcode.ErrWeek, 0, 1, "99", ""},
		{"008", dotcode.ErrWeek, 0, 1, "00", ""},
		{"8160", dotcode.ErrWeek, 0, 1, "81", "0918"}, // upside down
		{"6006", dotcode.ErrWeek, 0, 1, "60", ""},     // 9009 is no better
		{"7810", dotcode.ErrWeek, 0, 1, "78", ""},     // 7 is no digit upside down, so 01 is no week of 8-
		{"812", dotcode.ErrWeek, 0, 1, "81", ""},
		{"DOT 1M3 ABCDEF 9913", dotcode.ErrWeek, 15, 10, "99", ""},
		{"4B9Y ABC 5413", dotcode.ErrWeek, 9, 8, "54", ""},
		{"4B9Y 9912", dotcode.ErrWeek, 5, 5, "99", ""}, // apart it is meant as a date, run together it may be a partial number
		{"4B9YABCD0000", dotcode.ErrWeek, 8, 9, "00", ""},
		{"4B9YABCDE990", dotcode.ErrWeek, 9, 10, "99", "066"},
		{"", dotcode.ErrLength, -1, 0, "", ""},
		{"DOT", dotcode.ErrLength, -1, 0, "", ""},
		{"DOT-R", dotcode.ErrLength, -1, 0, "", ""},
		{"12", dotcode.ErrLength, -1, 0, "", ""},
		{"DOT 1M3 ABCDEF 23134", dotcode.ErrLength, 19, 14, "4", ""},
		{"DOT R 1M3 ABCDEF 23134567890", dotcode.ErrLength, 21, 14, "4", ""},
		{strings.Repeat("2313 ", 1000), dotcode.ErrLength, -1, 0, "", ""},
		// Digits alone that are no date: the last four would make a tire of 2012 one of 2020 or 2022.
		{"2212.0", dotcode.ErrLength, -1, 0, "", ""},
		{"22120", dotcode.ErrLength, -1, 0, "", ""},
		{"2012-22", dotcode.ErrLength, -1, 0, "", ""},
		{"2012-05-22", dotcode.ErrLength, -1, 0, "", ""},
		{"DOT 123452212", dotcode.ErrLength, -1, 0, "", ""},
		{strings.Repeat("▲", 1000), dotcode.ErrLength, -1, 0, "", ""},
	} {
		n, err := dotcode.Parse(c.text)
		var e *dotcode.SymbolError
		if !errors.As(err, &e) || !errors.Is(err, c.cause) {
			t.Errorf("%.40q: got %v, want %v", c.text, err, c.cause)
			continue
		}
		if e.Index != c.index || e.Position != c.position || e.Symbol != c.symbol || e.Suggestion != c.suggestion || e.Text != c.text {
			t.Errorf("%.40q: got %+v", c.text, e)
		}
		if e.Index >= 0 && !strings.HasPrefix(c.text[e.Index:], e.Symbol) {
			t.Errorf("%.40q: no %q at %d", c.text, e.Symbol, e.Index)
		}
		if message := err.Error(); len(message) > 250 || !strings.Contains(message, c.suggestion) || !strings.Contains(message, e.Symbol) && !errors.Is(c.cause, dotcode.ErrLength) {
			t.Errorf("%.40q: message %q", c.text, message)
		}
		if n.Text() != c.text {
			t.Errorf("%.40q: the text as read is lost", c.text)
		}
		if errors.Is(c.cause, dotcode.ErrSymbol) && (n.DateDigits() != 0 || len(n.Candidates(date("2026-11-25"))) != 0 || len(n.Forms()) == 0) {
			t.Errorf("%.40q: a date was read, or no form: %v", c.text, n.Forms())
		}
	}
}

func TestSeveralSymbols(t *testing.T) {
	n, err := dotcode.Parse("1M3ABCDEFZ3I3")
	for _, want := range []string{`"Z" at symbol 10`, "misread 2", `"I" at symbol 12`, "misread 1"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if !errors.Is(err, dotcode.ErrSymbol) || !n.CanBe(thirteen) || n.Groups()[0].Date != "Z3I3" || n.Notes() != nil {
		t.Errorf("got %v, %v, %v", err, n.Groups(), n.Notes())
	}
}

// With a misread date the forms are those of the number it would be.
func TestFormsOfMisread(t *testing.T) {
	n, err := dotcode.Parse("ABC 23I3")
	if err == nil || !slices.Equal(n.Forms(), []dotcode.Form{older, retread, partial}) {
		t.Errorf("got %v, %v", n.Forms(), err)
	}
}

// A letter that is never used hides no date outside of it.
func TestNotes(t *testing.T) {
	for _, c := range []struct {
		text, code, symbol, suggestion string
		index, position, digits        int
	}{
		{"1M3 ABCDEO 2313", "never_used", "O", "0", 9, 9, 4},
		{"IM3 ABCDEF 2313", "never_used", "I", "1", 0, 1, 4},
		{"1M3 ABsDEF 2313", "never_used", "s", "5", 6, 6, 4},
		{"MMABCDO 439", "never_used", "O", "0", 6, 7, 3},
		{"MMABCDEG439", "never_used", "G", "6", 7, 8, 3}, // 64 is no week, so the date is 439
		{"MMABCDES439", "never_used", "S", "5", 7, 8, 3}, // nor is 54
		{"1M3 ABCD?F 2313", "no_symbol", "?", "", 8, 8, 4},
		{"1M3 ABCDéF 2313", "no_symbol", "é", "", 8, 8, 4},
		{"1M3 ABCD▲F 2313", "no_symbol", "▲", "", 8, 8, 4},
		{"1M3 ABCD\xff\x00F 2313", "no_symbol", "\xff", "", 8, 8, 4},
		{"1M3 AB23B3", "perhaps_digit", "B", "8", 8, 8, 0},
		{"4B9Y 2B13", "perhaps_digit", "B", "8", 6, 6, 0},
		{"4B9YA2B13", "perhaps_digit", "B", "8", 6, 7, 0},
		{"4B9YA9912", "no_week", "9912", "", 5, 6, 0},
		{"4B9YAX990", "no_week", "990", "", 6, 7, 0},
	} {
		n, err := dotcode.Parse(c.text)
		notes := n.Notes()
		if err != nil || n.DateDigits() != c.digits || len(notes) != 1 {
			t.Errorf("%q: got %v, %d digits, %+v", c.text, err, n.DateDigits(), notes)
			continue
		}
		got := notes[0]
		if got.Text == "" {
			t.Errorf("%q: no words", c.text)
		}
		got.Text = ""
		if want := (dotcode.Note{Code: c.code, Index: c.index, Position: c.position, Symbol: c.symbol, Suggestion: c.suggestion}); got != want {
			t.Errorf("%q: got %+v, want %+v", c.text, got, want)
		}
	}
	for _, letter := range "GIOQSZ" {
		if notes := parse(t, "1M3ABCDE"+string(letter)+"2313").Notes(); len(notes) != 1 || notes[0].Suggestion == "" {
			t.Errorf("%c: got %+v", letter, notes)
		}
	}
	for _, letter := range "ABCDEFHJKLMNPRTUVWXY0123456789" {
		if notes := parse(t, "1M3ABCDE"+string(letter)+"2313").Notes(); notes != nil {
			t.Errorf("%c: got %+v", letter, notes)
		}
	}
	if notes := (dotcode.Number{}).Notes(); notes != nil {
		t.Errorf("nothing read: got %+v", notes)
	}
}

// Four bare digits take a short way; it must agree with the long one.
func TestShortWay(t *testing.T) {
	on := date("2026-11-25")
	for i := range 10000 {
		text := string([]byte{'0' + byte(i/1000), '0' + byte(i/100%10), '0' + byte(i/10%10), '0' + byte(i%10)})
		a, errA := dotcode.Parse(text)
		b, errB := dotcode.Parse(text + " ")
		if (errA == nil) != (errB == nil) || !slices.Equal(a.Candidates(on), b.Candidates(on)) ||
			!slices.Equal(a.Groups(), b.Groups()) || a.DateDigits() != b.DateDigits() {
			t.Fatalf("%s: %v %v", text, a, b)
		}
	}
}

func TestNames(t *testing.T) {
	type names struct {
		Forms []dotcode.Form
		Kinds []dotcode.Kind
	}
	in := names{
		[]dotcode.Form{thirteen, older, retread, partial, dateOnly},
		[]dotcode.Kind{dotcode.WeekYear, dotcode.EarlyWeekYear, dotcode.WeekDigit, dotcode.DayWeekDigit, dotcode.YearEnd, dotcode.ISOWeek},
	}
	text, err := json.Marshal(in)
	want := `{"Forms":["thirteen_symbol","older","retread","partial","date_only"],` +
		`"Kinds":["week_year","early_week_year","week_digit","day_week_digit","year_end","iso_week"]}`
	if err != nil || string(text) != want {
		t.Errorf("got %s, %v", text, err)
	}
	var out names
	if err := json.Unmarshal(text, &out); err != nil || !slices.Equal(in.Forms, out.Forms) || !slices.Equal(in.Kinds, out.Kinds) {
		t.Errorf("got %v, %v", out, err)
	}
	for _, bad := range []string{`{"Forms":["new"]}`, `{"Forms":["0"]}`, `{"Kinds":["week"]}`} {
		if err := json.Unmarshal([]byte(bad), &out); !errors.Is(err, dotcode.ErrWord) || !strings.Contains(err.Error(), "want one of") {
			t.Errorf("%s: got %v", bad, err)
		}
	}
	if got := dotcode.Form(0).String() + dotcode.Form(9).String() + dotcode.Kind(0).String(); got != "not knownnot knownnot known" {
		t.Errorf("got %s", got)
	}
	if text, err := json.Marshal(names{Forms: []dotcode.Form{0}, Kinds: []dotcode.Kind{0}}); err != nil || string(text) != `{"Forms":[""],"Kinds":[""]}` || json.Unmarshal(text, &out) != nil || out.Forms[0] != 0 {
		t.Errorf("the zero values are written %s, %v, read back %v", text, err, out)
	}
	form, err := dotcode.Retread.AppendText([]byte("x "))
	kind, err2 := dotcode.WeekDigit.AppendText(nil)
	if err != nil || err2 != nil || string(form) != "x retread" || string(kind) != "week_digit" {
		t.Errorf("appended %s and %s, %v, %v", form, kind, err, err2)
	}
	if _, err := dotcode.Form(9).MarshalText(); !errors.Is(err, dotcode.ErrWord) {
		t.Errorf("form 9: %v", err)
	}
	if got := thirteen.String() + ", " + dotcode.ISOWeek.String(); got != "thirteen symbol, iso week" {
		t.Errorf("got %s", got)
	}
}

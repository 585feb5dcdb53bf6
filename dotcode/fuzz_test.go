package dotcode_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/dotcode"
)

// FuzzParse: no panic, errors that point into the text, groups that are the number, and never an age younger than a
// candidate supports.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{"DOT 1M3 ABCDEF 2313", "dot-r abc 2313", "439▲", "4 39", "5320", "5026", "2299", "4B9YA2313", "ABC 23I3",
		"MMABCDEO313", "W2Y9X99439", "8160", "0022", "\xff\xfe13", "1M3ABCDé2313", "", "R R R 439", "DOT.DOT.2313", "23\u200b13", "▲▲▲439▲"} {
		f.Add(seed, false, false, 2026, 11, 25)
	}
	f.Add("0000000\xcc \x800100", true, false, 1994, 0, -18) // two broken bytes that meet are a letter
	f.Add("439", true, true, 1975, 6, 1)
	f.Add("2313", false, false, 2026, 13, -25)
	f.Fuzz(func(t *testing.T, text string, triangle, retread bool, year, month, day int) {
		on := dotcode.Date{Year: year, Month: 1, Day: 1}.AddDays(month%12*30 + day%30)
		if year%7 == 0 {
			on.Day = day // perhaps no day at all
		}
		marks := dotcode.Marks{Triangle: triangle, Retread: retread}
		n, err := dotcode.ParseMarked(text, marks)
		var e *dotcode.SymbolError
		if err != nil {
			if !errors.As(err, &e) || e.Index >= len(text) || e.Index >= 0 && !strings.HasPrefix(text[e.Index:], e.Symbol) && !errors.Is(err, dotcode.ErrWeek) {
				t.Fatalf("%q: %+v", text, err)
			}
			if len(err.Error()) > 2000 || utf8.ValidString(text) && !utf8.ValidString(err.Error()) {
				t.Fatalf("%q: message %q", text, err)
			}
		}
		if n.Text() != text {
			t.Fatalf("%q became %q", text, n.Text())
		}
		for _, g := range n.Groups() {
			if g.Plant+g.Maker+g.Date != n.Symbols() {
				t.Fatalf("%q: %+v of %q", text, g, n.Symbols())
			}
		}
		for _, note := range n.Notes() {
			if !strings.HasPrefix(text[note.Index:], note.Symbol) || note.Position < 1 || note.Position > 13 {
				t.Fatalf("%q: %+v", text, note)
			}
		}
		if err == nil && len(n.Forms()) == 0 || n.DateDigits() == 0 && n.Candidates(on) != nil {
			t.Fatalf("%q: %v, %v", text, n.Forms(), n.Candidates(on))
		}
		checkAge(t, n, n.AgeOn(on))

		// What is read as a number reads the same when written plainly.
		if plain := n.Symbols(); err == nil && n.DateDigits() == 4 && n.CanBe(dotcode.ThirteenSymbol) && !strings.HasPrefix(plain, "DOT") {
			again, err := dotcode.ParseMarked(plain, n.Marks())
			if err != nil || again.AgeOn(on) != n.AgeOn(on) {
				t.Fatalf("%q written %q: %v", text, plain, err)
			}
		}
		report := dotcode.Explain(text, marks, on)
		if (report.Err() == nil) != (len(report.Problems) == 0) || strings.Contains(report.String(), "\n") {
			t.Fatalf("%q: %v", text, report)
		}
		if _, err := json.Marshal(report); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
	})
}

// FuzzParseDate: what reads as a day is written the same.
func FuzzParseDate(f *testing.F) {
	for _, seed := range []string{"2026-11-25", "2024-02-29", "2023-02-29", "0000-00-00", "9999-12-31", "2026-1-1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := dotcode.ParseDate(text)
		if err != nil {
			if !errors.Is(err, dotcode.ErrDate) || !d.IsZero() {
				t.Fatalf("%q: %v, %v", text, d, err)
			}
			return
		}
		if d.String() != text || !d.IsValid() || d.AddDays(0) != d {
			t.Fatalf("%q: %v", text, d)
		}
		code, err := dotcode.CodeFor(d)
		if err == nil && (d.Before(code.First) || d.After(code.Last)) {
			t.Fatalf("%v: %+v", d, code)
		}
	})
}

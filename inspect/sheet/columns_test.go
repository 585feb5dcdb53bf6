package sheet_test

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// columnsOf counts the columns of a terminal the plain way, for the texts of
// these tests only: two for what is East Asian, none for what combines.
func columnsOf(line string) int {
	n := 0
	for _, r := range line {
		switch {
		case r >= 0x300 && r < 0x370, r == 0x200D, r == 0xFE0F:
		case r >= 0x1100 && r < 0x1160, r >= 0x2E80 && r < 0xA4D0, r >= 0xAC00 && r < 0xD7A4, r >= 0xFF00 && r < 0xFF61, r >= 0x1F000:
			n += 2
		default:
			n++
		}
	}
	return n
}

func TestTextFits80ColumnsWhateverIsInIt(t *testing.T) {
	reports := everyReport(t)
	for name, coach := range map[string]string{
		"accents":   strings.Repeat("Équipage Große Blåfjäll Çömert ", 6),
		"combining": strings.Repeat("e\u0301te\u0301 ", 40),
		"wide":      strings.Repeat("移動する家", 30),
		"wide-word": strings.Repeat("移動", 60),
		"hangul":    strings.Repeat("캠핑카 ", 40),
		"emoji":     strings.Repeat("🚐 van ", 30),
		"one word":  strings.Repeat("x", 190),
	} {
		r := demo(t, demos[0])
		r.Coach, r.LoadState = coach, coach
		for i := range r.Tires {
			r.Tires[i].Note = coach
		}
		reports[name] = r
	}
	for name, r := range reports {
		out := sheet.Text(r, sheet.TextOptions{Full: true})
		for i, line := range strings.Split(out, "\n") {
			if n := columnsOf(line); n > 80 {
				t.Errorf("%s, line %d: %d columns: %s", name, i+1, n, line)
			}
			if strings.HasSuffix(line, " ") {
				t.Errorf("%s, line %d ends in a space", name, i+1)
			}
		}
		if !utf8.ValidString(out) || strings.ContainsAny(out, "\x1b\t\r") {
			t.Errorf("%s: the page is not plain UTF-8", name)
		}
		if r.Coach != "" {
			got := strings.Join(strings.Fields(out), "")
			if want := strings.Join(strings.Fields(r.Coach), ""); !strings.Contains(got, want) {
				t.Errorf("%s: the coach's name was broken:\n%s", name, out)
			}
		}
	}
}

// TestTextStaysInItsColumns: the load table lines up under names of any
// length, and a rating's verdict starts in the same column for all ends.
func TestTextStaysInItsColumns(t *testing.T) {
	for _, file := range demos[:2] {
		column := -1
		for line := range strings.Lines(sheet.Text(demo(t, file), sheet.TextOptions{Full: true})) {
			i := strings.Index(line, "half GAWR")
			if i < 0 || !strings.Contains(line, "+/-") {
				continue
			}
			if column < 0 {
				column = i
			}
			if i != column {
				t.Errorf("%s: the rating stands in column %d, not %d: %s", filepath.Base(file), i, column, line)
			}
		}
		if column < 0 {
			t.Errorf("%s: no rating on the page", file)
		}
	}
}

// TestTextCannotSteerTheTerminal: what people wrote cannot clear the screen,
// start a line of its own or turn the text around.
func TestTextCannotSteerTheTerminal(t *testing.T) {
	r := assess(t, "v.yaml", []byte(metric), inflation.Tables{})
	r.Coach = "a\x1b[2Jb\nDO NOT BELIEVE THIS\u202ec\u0085d\u2028e"
	r.Todo = append(r.Todo, report.Item{Action: report.Plan, What: "x\ny", Where: "z\x07", Advice: "\u2066w"})
	out := sheet.Text(r, sheet.TextOptions{Full: true})
	for _, bad := range []string{"\x1b", "\x07", "\u202e", "\u2066", "\u0085", "\u2028", "\nDO NOT BELIEVE"} {
		if strings.Contains(out, bad) {
			t.Errorf("%q stands on the page", bad)
		}
	}
}

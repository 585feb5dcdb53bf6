package sheet_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

// TestColumnsOfCharacters: how many of one character a line of 40 columns holds: 40 that
// are narrow, 20 that are wide (East Asian Width W or F of Unicode Standard Annex 11, from
// memory), all that join the one before them. The first and the last of a block are wide,
// and what stands beside it is not.
func TestColumnsOfCharacters(t *testing.T) {
	t.Parallel()
	narrow := []rune{'x', '~', 0xE9, 0x2FF, 0x370, 0x3B1, 0x436, 0x5D0, 0x10FF, 0x1160, 0x2319, 0x231C, 0x23E8, 0x23F4, 0x25FC, 0x25FF, 0x2613, 0x2616, 0x2647, 0x2654, 0x267E, 0x2700, 0x2704, 0x2729, 0x274B, 0x2758, 0x2794, 0x27C0,
		0x2B1A, 0x2B56, 0x2E7F, 0x303F, 0x3040, 0xA4D0, 0xA95F, 0xA97D, 0xABFF, 0xD7A4, 0xF8FF, 0xFB00, 0xFE1A, 0xFE70, 0xFEFE, 0xFF61, 0xFFDF, 0xFFE7, 0x16FDF, 0x18E00, 0x1AFEF, 0x1B300, 0x1EFFF, 0x1FB00, 0x1FFFF}
	wide := []rune{0x1100, 0x115F, 0x231A, 0x231B, 0x23E9, 0x23F3, 0x25FD, 0x25FE, 0x2614, 0x2615, 0x2648, 0x2653, 0x267F, 0x26FF, 0x2705, 0x2728, 0x274C, 0x2757, 0x2795, 0x27BF, 0x2B1B, 0x2B55, 0x2E80, 0x303E, 0x3041, 0xA4CF, 0xA960, 0xA97C,
		0xAC00, 0xD7A3, 0xF900, 0xFAFF, 0xFE10, 0xFE19, 0xFE30, 0xFE6F, 0xFF00, 0xFF60, 0xFFE0, 0xFFE6, 0x16FE0, 0x18DFF, 0x1AFF0, 0x1B2FF, 0x1F000, 0x1FAFF, 0x20000, 0x3FFFD}
	joins := []rune{0x300, 0x301, 0x36F, 0x483, 0x20DD, 0x200D, 0xFE0F}
	for want, list := range map[int][]rune{40: narrow, 20: wide, 100: joins} {
		for _, c := range list {
			page := sheet.Text(report.Report{Date: visited, Coach: strings.Repeat(string(c), 100)}, sheet.TextOptions{Columns: 40})
			_, rest, _ := strings.Cut(page, "judged.\n")
			line, _, _ := strings.Cut(rest, "\n")
			if got := strings.Count(line, string(c)); got != want {
				t.Errorf("%U: a line has %d, want %d", c, got, want)
			}
		}
	}
}

// TestLinesBreakAtASpace: one beyond a third of the room, else inside the word; the spaces
// that it breaks at are gone.
func TestLinesBreakAtASpace(t *testing.T) {
	t.Parallel()
	x := func(n int) string { return strings.Repeat("x", n) }
	for coach, want := range map[string]string{
		x(37) + " y": x(37) + " y,\nvisit", x(38) + " y": x(38) + "\ny, visit", x(39) + " y": x(39) + "\ny, visit of 2026-10-03\n", x(40) + " y": x(40) + "\ny, visit", x(41): x(40) + "\nx, visit",
		x(13) + " " + x(40): x(13) + "\n" + x(40) + "\n, visit", x(12) + " " + x(40): x(12) + " " + x(27) + "\n" + x(13) + ", visit", x(20) + "   " + x(30): x(20) + "\n" + x(30) + ", visit",
		x(20) + " " + x(10) + " " + x(20): x(20) + " " + x(10) + "\n" + x(20) + ", visit",
	} {
		page := sheet.Text(report.Report{Date: visited, Coach: coach}, sheet.TextOptions{Columns: 40})
		if _, rest, _ := strings.Cut(page, "judged.\n"); !strings.HasPrefix(rest, want) {
			t.Errorf("%q: want %q:\n%s", coach, want, rest)
		}
	}
	for columns, most := range map[int]int{0: 80, 1: 40, 39: 40, 40: 40, 41: 41, 120: 120} {
		page := sheet.Text(report.Report{Date: visited, Coach: x(300)}, sheet.TextOptions{Columns: columns})
		if line := regexp.MustCompile(`(?m)^x+`).FindString(page); len(line) != most {
			t.Errorf("%d columns: a line of %d, want %d", columns, len(line), most)
		}
	}
}

// TestCurveOfATable: what it says in words, its rows as stairs, the labels apart by 18 at
// least, and the mark of what is to be set between the first row and the last.
func TestCurveOfATable(t *testing.T) {
	t.Parallel()
	row := func(psi, lb int64) inflation.Row {
		return inflation.Row{Pressure: inflation.Pressure(psi) * inflation.PSI, Load: weight.Mass(lb) * weight.Pound}
	}
	curve := func(set func(a *report.AxleLine, s *inflation.Setting)) string {
		r := sevenTires()
		s := aSetting()
		r.Axles = r.Axles[:1]
		r.Axles[0].Rows = []inflation.Row{row(80, 4000), row(90, 4300), row(100, 4600)}
		s.Set = 90 * inflation.PSI
		set(&r.Axles[0], &s)
		r.Settings = []inflation.Setting{s}
		_, details, _ := strings.Cut(render(t, r, sheet.HTMLOptions{}), `id="details"`)
		_, section, _ := strings.Cut(details, `<section class="axle">`)
		section, _, _ = strings.Cut(section, "</section>")
		return section
	}
	end := func(pounds, plusMinus weight.Mass) inflation.EndRoom {
		return inflation.EndRoom{Load: inflation.Load{State: inflation.Weighed, Load: pounds * weight.Pound, PlusMinus: plusMinus * weight.Pound}}
	}
	const table = "On one tire the table carries 4,000 lb at 80 psi and 4,600 lb at 100 psi."
	for name, c := range map[string]struct {
		set  func(a *report.AxleLine, s *inflation.Setting)
		want string // in words, "" where nothing is drawn
	}{
		"ends":             {func(a *report.AxleLine, s *inflation.Setting) { s.Left, s.Right = end(4200, 20), end(4100, 0) }, table + " left: 4,220 lb. right: 4,100 lb. To set: 90 psi."},
		"one end":          {func(a *report.AxleLine, s *inflation.Setting) { s.Right = end(4100, 1) }, table + " right: 4,101 lb. To set: 90 psi."},
		"of a pair":        {func(a *report.AxleLine, s *inflation.Setting) { s.Fitment, s.Left = weight.Dual, end(8401, 0) }, table + " left: 4,201 lb. To set: 90 psi."},
		"derated":          {func(a *report.AxleLine, s *inflation.Setting) { s.LookUp.Derated, s.Left = true, end(4000, 0) }, table + " left: 4,400 lb. To set: 90 psi."},
		"assumed":          {func(a *report.AxleLine, s *inflation.Setting) {}, table + " either end, assumed: 4,400 lb. To set: 90 psi."},
		"assumed, derated": {func(a *report.AxleLine, s *inflation.Setting) { s.LookUp.Derated, s.TireLoad = true, 4000*weight.Pound }, table + " either end, assumed: 4,400 lb. To set: 90 psi."},
		"half of a hair more": {func(a *report.AxleLine, s *inflation.Setting) {
			s.Fitment, s.Left = weight.Dual, inflation.EndRoom{Load: inflation.Load{State: inflation.Weighed, Load: 8400*weight.Pound + 1}}
		}, table + " left: 4,201 lb. To set: 90 psi."},
		"no load":          {func(a *report.AxleLine, s *inflation.Setting) { s.TireLoad = 0 }, table + " To set: 90 psi."},
		"nothing to set":   {func(a *report.AxleLine, s *inflation.Setting) { s.Set, s.TireLoad = 0, 0 }, table},
		"one row":          {func(a *report.AxleLine, s *inflation.Setting) { a.Rows = a.Rows[:1] }, ""},
		"two rows":         {func(a *report.AxleLine, s *inflation.Setting) { a.Rows, s.TireLoad = a.Rows[1:], 0 }, "On one tire the table carries 4,300 lb at 90 psi and 4,600 lb at 100 psi. To set: 90 psi."},
		"a pressure twice": {func(a *report.AxleLine, s *inflation.Setting) { a.Rows = []inflation.Row{row(90, 4000), row(90, 4100)} }, ""},
	} {
		svg := curve(c.set)
		_, desc, drawn := strings.Cut(svg, "<desc")
		_, desc, _ = strings.Cut(desc, ">")
		desc, _, _ = strings.Cut(desc, "</desc>")
		if drawn != (c.want != "") || desc != c.want {
			t.Errorf("%s: %q, want %q", name, desc, c.want)
		}
	}
	// Ten elevenths of 1,002 kg and the least more: 1.10 times that is more than 1,002 kg.
	for name, set := range map[string]func(s *inflation.Setting){
		"either end, assumed": func(s *inflation.Setting) { s.TireLoad = (1002*weight.Kilogram-1)/11*10 + 1 },
		"left": func(s *inflation.Setting) {
			s.Left = inflation.EndRoom{Load: inflation.Load{State: inflation.Weighed, Load: (1002*weight.Kilogram-1)/11*10 + 1}}
		},
	} {
		r := sevenTires()
		s := aSetting()
		s.LookUp.Derated = true
		set(&s)
		r.System, r.Settings = weight.Metric, []inflation.Setting{s}
		r.Axles[0].Rows = []inflation.Row{row(80, 4000), row(90, 4300)}
		if page := render(t, r, sheet.HTMLOptions{}); !strings.Contains(page, name+": 1,003 kg.") {
			t.Errorf("%s is not rounded up", name)
		}
	}
	rows := func(svg, class string) (out []int) {
		for _, m := range regexp.MustCompile(`<text class="`+class+`" x="426" y="(\d+)"`).FindAllStringSubmatch(svg, -1) {
			var y int
			if _, err := fmt.Sscan(m[1], &y); err != nil {
				t.Fatal(err)
			}
			out = append(out, y)
		}
		return out
	}
	for _, right := range []weight.Mass{4200, 4201, 4210, 4400} {
		svg := curve(func(a *report.AxleLine, s *inflation.Setting) { s.Left, s.Right = end(4200, 0), end(right, 0) })
		if y := rows(svg, "strong"); len(y) != 2 || y[1]-y[0] < 18 || right < 4220 && y[1]-y[0] != 18 {
			t.Errorf("4,200 and %d lb: labels at %v, want 18 apart at least", right, y)
		}
	}
	for set, drawn := range map[int64]bool{79: false, 80: true, 90: true, 100: true, 101: false} {
		svg := curve(func(a *report.AxleLine, s *inflation.Setting) { s.Set = inflation.Pressure(set) * inflation.PSI })
		if strings.Contains(svg, `class="set"`) != drawn {
			t.Errorf("%d psi is marked: %v", set, !drawn)
		}
	}
	// At most six rows have their pressure below them, and the last.
	for n, want := range map[int]int{2: 2, 6: 6, 7: 4, 12: 6, 13: 5} {
		svg := curve(func(a *report.AxleLine, s *inflation.Setting) {
			a.Rows = nil
			for i := range n {
				a.Rows = append(a.Rows, row(int64(60+5*i), int64(3000+100*i)))
			}
		})
		if got := len(regexp.MustCompile(`<text[^>]* y="264"`).FindAllString(svg, -1)); got != want {
			t.Errorf("%d rows: %d pressures below them, want %d", n, got, want)
		}
	}
}

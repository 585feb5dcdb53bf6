package browsercheck

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// formMargin is the margin that a form asks for, in inches.
const formMargin = 6 / 25.4

// The forms that are looked at, with how many pages each takes: a coach with two
// axles, with a tag axle and a towed unit, the visit after the demo's, and one of the
// most and longest names, which takes what it takes.
func forms(t *testing.T) map[string]struct {
	page  []byte
	pages int
} {
	t.Helper()
	two := []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}}
	three := append(two[:2:2], record.Axle{ID: "tag", Fitment: weight.Single},
		record.Axle{ID: "towed-1", Fitment: weight.Single, Towed: true}, record.Axle{ID: "towed-2", Fitment: weight.Single, Towed: true})
	day := dotcode.Date{Year: 2027, Month: 4, Day: 1}
	page := func(v *record.Visit) []byte {
		var b bytes.Buffer
		if err := sheet.Form(&b, v); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	blank := func(system weight.System, spares int, axles []record.Axle) []byte {
		v := &record.Visit{Version: record.Version, Date: day, System: system, Axles: axles}
		for i := range spares {
			at := "spare"
			if i > 0 {
				at = fmt.Sprintf("spare-%d", i+1)
			}
			v.Tires = append(v.Tires, record.Tire{At: at})
		}
		return page(v)
	}
	data, err := os.ReadFile(visits["demo"].file)
	if err != nil {
		t.Fatal(err)
	}
	last, err := record.Read("visit.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	long := make([]record.Axle, 0, weight.MaxAxles)
	for i := range cap(long) {
		long = append(long, record.Axle{ID: fmt.Sprintf("axle-of-the-longest-nam%c", 'a'+i), Fitment: weight.Dual})
	}
	return map[string]struct {
		page  []byte
		pages int
	}{
		"most of all":             {blank(weight.US, 9, long), 0},
		"two axles":               {blank(weight.US, 1, two), 1},
		"two axles, two spares":   {blank(weight.US, 2, two), 1},
		"two axles, metric":       {blank(weight.Metric, 1, two), 1},
		"three axles, towed":      {blank(weight.US, 1, three), 2},
		"three axles, in metric":  {blank(weight.Metric, 2, three), 2},
		"the visit after another": {page(record.Next(last, day)), 1},
	}
}

// written gives the least height and width of the boxes to write in, in millimeters.
const written = `(() => {
	const mm = 96 / 25.4, out = {line: 99, box: 99, width: 99};
	for (const e of document.querySelectorAll('.f .v')) { const b = e.getBoundingClientRect(); out.line = Math.min(out.line, b.height / mm); out.width = Math.min(out.width, b.width / mm); }
	for (const e of document.querySelectorAll('.big td')) { const b = e.getBoundingClientRect(); out.box = Math.min(out.box, b.height / mm); out.width = Math.min(out.width, b.width / mm); }
	return out;
})()`

// TestFormsInTheBrowser prints each form on both papers, in type of 9 points, with
// boxes that a hand can write in, and looks at it on a desk and in a hand.
func TestFormsInTheBrowser(t *testing.T) {
	browser := start(t)
	for name, form := range forms(t) {
		t.Run(name, func(t *testing.T) {
			address := saved(t, form.page)
			tab := open(t, browser)
			tab.visit(t, address)
			for paper, size := range papers {
				if n := pages(tab.pdf(t, size)); n != form.pages && form.pages > 0 {
					t.Errorf("%s: %d pages, want %d", paper, n, form.pages)
				}
				width, height := (size.Width-2*formMargin)*96, (size.Height-2*formMargin)*96
				tab.media(t, "print", int64(width), int64(height))
				got := eval[found](t, tab, layout)
				got.report(t, paper)
				if got.Small < 12 {
					t.Errorf("%s: type of %.1f px, want 12: %s", paper, got.Small, got.Smallest)
				}
				if tall := eval[float64](t, tab, `document.getElementById('page-1').getBoundingClientRect().height`); form.pages == 1 && tall > height-8 {
					t.Errorf("%s: %.0f px high, want at most %.0f and a little to spare", paper, tall, height)
				}
				for _, s := range eval[[]string](t, tab, cramped) {
					t.Errorf("%s: too little room: %s", paper, s)
				}
				room := eval[struct {
					Line  float64 `json:"line"`
					Box   float64 `json:"box"`
					Width float64 `json:"width"`
				}](t, tab, written)
				if room.Line < 5.3 || room.Box < 10 || room.Width < 12 {
					t.Errorf("%s: lines %.1f mm high, boxes %.1f, the narrowest %.1f wide", paper, room.Line, room.Box, room.Width)
				}
			}
			for where, size := range map[string][2]int64{"desk": {1280, 900}, "phone": {390, 844}} {
				tab.media(t, "screen", size[0], size[1])
				eval[found](t, tab, layout).report(t, where)
			}
			quiet(t, tab, address)
		})
	}
}

// cramped finds what is wider than what it stands in.
const cramped = `[...document.querySelectorAll('.form td, .form th, .form .f, .form li, .form h2')].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.tagName + ' ' + e.textContent.slice(0, 40))`

// TestFormInForcedColors: where the reader's colors are forced, or dark ones, every
// word can be read.
func TestFormInForcedColors(t *testing.T) {
	browser := start(t)
	for _, scheme := range []string{"light", "dark"} {
		tab := open(t, browser)
		tab.visit(t, saved(t, forms(t)["the visit after another"].page))
		_, err := chromedp.Call(tab.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
			{Name: "forced-colors", Value: "active"}, {Name: "prefers-color-scheme", Value: scheme}}})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range eval[[]string](t, tab, unreadable) {
			t.Errorf("%s: hard to read: %s", scheme, s)
		}
		if _, err := chromedp.Call(tab.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}); err != nil {
			t.Fatal(err)
		}
		yes := true
		if _, err := chromedp.Call(tab.ctx, emulation.SetAutoDarkModeOverride, emulation.SetAutoDarkModeOverrideParams{Enabled: &yes}); err != nil {
			t.Fatal(err)
		}
		for _, s := range eval[[]string](t, tab, unreadable) {
			t.Errorf("forced dark: hard to read: %s", s)
		}
	}
}

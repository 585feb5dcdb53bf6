package browsercheck

import (
	"bytes"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// The sheets that are looked at, all invented: the shipped demo, a coach with a
// tag axle and a towed car and much to find, one of which one pressure was
// recorded, one of metric units, one of which nothing was read, and two that hardly
// fit. Each with the least size of body type, in CSS pixels on paper, that its front
// may come to (12 px are 9 points), and how many pages the owner's sheet takes.
var visits = map[string]struct {
	file     string
	leastPix float64
	pages    int
}{
	"demo":         {"../../examples/demo/visit.yaml", 12, 2},
	"metric":       {"../../inspect/sheet/testdata/metric.yaml", 12, 3},
	"empty":        {"../../inspect/sheet/testdata/empty.yaml", 12, 2},
	"one-pressure": {"../../inspect/sheet/testdata/one-pressure.yaml", 12, 2},
	"three-axle":   {"../../inspect/sheet/testdata/three-axle.yaml", 12, 4},
	"long-names":   {"../../inspect/sheet/testdata/long-names.yaml", 9.3, 4},
	"crowded":      {"../../inspect/sheet/testdata/crowded.yaml", 9.3, 4},
}

func assessed(t *testing.T, file string) report.Report {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	v, err := record.Read(file, data)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS(filepath.Dir(file)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// save writes a sheet and gives its address.
func save(t *testing.T, r report.Report, opt sheet.HTMLOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.HTML(&b, r, opt); err != nil {
		t.Fatal(err)
	}
	return saved(t, b.Bytes())
}

// saved writes a page to a file and gives its address.
func saved(t *testing.T, page []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: file}).String()
}

var pageObject = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// pages counts the sheets of a printed page.
func pages(pdf []byte) int { return len(pageObject.FindAll(pdf, -1)) }

var papers = map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4}

// The margins that the page asks for, and a point to spare for rounding.
const marginInches = 8 / 25.4

// layout finds what sticks out of the page, which text cannot be read, what
// has a color, and what a screen reader would miss.
const layout = `(() => {
	const out = {small: 99, smallest: '', over: [], dim: [], colored: [], unnamed: [], positions: [], scripts: document.scripts.length};
	const root = document.documentElement;
	if (root.scrollWidth > root.clientWidth) out.over.push('page ' + root.scrollWidth + ' of ' + root.clientWidth);
	const numbers = c => (c.match(/[\d.]+/g) || []).map(Number);
	const light = ([r, g, b]) => {
		const f = v => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4 };
		return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b);
	};
	const behind = e => {
		for (; e; e = e.parentElement) {
			const c = numbers(getComputedStyle(e).backgroundColor);
			if (c.length && (c.length < 4 || c[3] > 0)) return c;
		}
		return [255, 255, 255];
	};
	const gray = (name, c, e) => {
		const v = numbers(c);
		if (v.length >= 3 && Math.max(...v.slice(0, 3)) - Math.min(...v.slice(0, 3)) > 24) out.colored.push(name + ' ' + c + ' ' + e.tagName);
	};
	for (const e of document.body.querySelectorAll('*')) {
		const s = getComputedStyle(e);
		if (e.closest('.scroll, .unseen, title, desc, defs')) continue;
		const box = e.getBoundingClientRect();
		const scrolls = e.closest('figure') && getComputedStyle(e.closest('figure')).overflowX === 'auto';
		if (box.width && !scrolls && (box.right > root.clientWidth + 1 || box.left < -1)) out.over.push(e.tagName + '.' + (e.className.baseVal ?? e.className) + ': ' + e.textContent.slice(0, 40));
		gray('color', s.color, e); gray('border', s.borderTopColor, e); gray('background', s.backgroundColor, e);
		if (e instanceof SVGElement) { gray('fill', s.fill, e); gray('stroke', s.stroke, e); }
		const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
		if (!own) continue;
		const ink = numbers(e instanceof SVGElement ? s.fill : s.color);
		const a = light(ink) + 0.05, b = light(behind(e)) + 0.05;
		if (Math.max(a, b) / Math.min(a, b) < 4.5) out.dim.push(e.textContent.slice(0, 40) + ' ' + Math.max(a, b) / Math.min(a, b));
		let size = parseFloat(s.fontSize);
		if (e instanceof SVGElement) {
			const svg = e.ownerSVGElement, frame = svg.getBoundingClientRect(), units = svg.viewBox.baseVal;
			size *= Math.min(frame.width / units.width, frame.height / units.height);
		}
		if (size < out.small) { out.small = size; out.smallest = e.textContent.slice(0, 40); }
	}
	for (const svg of document.querySelectorAll('svg')) {
		const frame = svg.getBoundingClientRect();
		if (!svg.querySelector('title')?.textContent || !svg.querySelector('desc')?.textContent) out.unnamed.push('svg');
		for (const text of svg.querySelectorAll('text')) {
			const box = text.getBoundingClientRect();
			if (box.right > frame.right + 1 || box.left < frame.left - 1 || box.bottom > frame.bottom + 1 || box.top < frame.top - 1) out.over.push('in a drawing: ' + text.textContent);
		}
	}
	for (const th of document.querySelectorAll('th')) if (!th.scope) out.unnamed.push('th ' + th.textContent);
	for (const th of document.querySelectorAll('.tires tbody th')) out.positions.push(th.firstChild.textContent.trim());
	return out;
})()`

type found struct {
	Over      []string `json:"over"`
	Dim       []string `json:"dim"`
	Colored   []string `json:"colored"`
	Unnamed   []string `json:"unnamed"`
	Positions []string `json:"positions"`
	Scripts   int      `json:"scripts"`
	Small     float64  `json:"small"` // of the smallest type
	Smallest  string   `json:"smallest"`
}

func (f found) report(t *testing.T, where string) {
	t.Helper()
	for _, s := range f.Over {
		t.Errorf("%s: runs over: %s", where, s)
	}
	for _, s := range f.Dim {
		t.Errorf("%s: hard to read: %s", where, s)
	}
	for _, s := range f.Colored {
		t.Errorf("%s: a color that a gray printer loses: %s", where, s)
	}
	for _, s := range f.Unnamed {
		t.Errorf("%s: nothing for a screen reader: %s", where, s)
	}
	if f.Scripts != 0 {
		t.Errorf("%s: %d scripts", where, f.Scripts)
	}
}

// TestSheetsInTheBrowser prints each sheet on both papers and looks at it on
// paper, on a desk and in a hand.
func TestSheetsInTheBrowser(t *testing.T) {
	browser := start(t)
	for name, visit := range visits {
		t.Run(name, func(t *testing.T) {
			r := assessed(t, visit.file)
			for _, onePage := range []bool{true, false} {
				address := save(t, r, sheet.HTMLOptions{OneSheet: onePage})
				tab := open(t, browser)
				tab.visit(t, address)
				for paper, size := range papers {
					n := pages(tab.pdf(t, size))
					if onePage && n > visit.pages {
						t.Errorf("%s: %d pages, want at most %d", paper, n, visit.pages)
					}
					if !onePage && n < 3 {
						t.Errorf("%s: %d sheets with the details, want two or more", paper, n)
					}
					width, height := (size.Width-2*marginInches)*96, (size.Height-2*marginInches)*96
					tab.media(t, "print", int64(width), int64(height))
					got := eval[found](t, tab, layout)
					got.report(t, paper)
					if body := eval[float64](t, tab, `parseFloat(getComputedStyle(document.getElementById('page-1')).fontSize)`); body < visit.leastPix {
						t.Errorf("%s: body type of %.1f px, want at least %.1f", paper, body, visit.leastPix)
					}
					if got.Small < 0.8*visit.leastPix { // a label that is squeezed into its drawing
						t.Errorf("%s: type of %.1f px, want at least %.1f: %s", paper, got.Small, 0.8*visit.leastPix, got.Smallest)
					}
					if tall := eval[float64](t, tab, `document.getElementById('page-1').getBoundingClientRect().height`); tall > height {
						t.Errorf("%s: the first page is %.0f px high, want at most %.0f", paper, tall, height)
					}
					for _, tire := range r.Tires {
						if !slices.Contains(got.Positions, tire.At) {
							t.Errorf("%s: %s is not on the sheet", paper, tire.At)
						}
					}
					if len(got.Positions) != len(r.Tires) {
						t.Errorf("%s: %d tires on the sheet, want %d", paper, len(got.Positions), len(r.Tires))
					}
				}
				for where, size := range map[string][2]int64{"desk": {1280, 900}, "phone": {390, 844}} {
					tab.media(t, "screen", size[0], size[1])
					got := eval[found](t, tab, layout)
					got.report(t, where)
				}
				quiet(t, tab, address)
			}
		})
	}
}

// quiet holds a tab to having asked for its own page alone, without error.
func quiet(t *testing.T, tab *tab, address string) {
	t.Helper()
	if requests := tab.asked(); len(requests) == 0 {
		t.Error("nothing was asked for, not even the page: the listening does not work")
	}
	for _, r := range tab.asked() {
		if r != address && !strings.HasPrefix(r, "data:") {
			t.Errorf("asked for %s", r)
		}
	}
	for _, p := range tab.complaints() {
		t.Error(p)
	}
}

// TestWiderFaceStillFits: with a face a good tenth wider than those the fit
// was worked out for, the type gets smaller instead of running over.
func TestWiderFaceStillFits(t *testing.T) {
	browser := start(t)
	for name, visit := range visits {
		tab := open(t, browser)
		tab.visit(t, save(t, assessed(t, visit.file), sheet.HTMLOptions{OneSheet: true}))
		eval[bool](t, tab, `(() => { document.body.style.fontFamily = '"DejaVu Sans", Verdana, sans-serif'; return true })()`)
		for paper, size := range papers {
			if n := pages(tab.pdf(t, size)); n > visit.pages+1 {
				t.Errorf("%s, %s: %d pages, want at most %d", name, paper, n, visit.pages+1)
			}
		}
		tab.media(t, "print", 733, 900) // A4 less its margins
		for _, s := range eval[found](t, tab, layout).Over {
			t.Errorf("%s: runs over: %s", name, s)
		}
	}
}

// TestPhoneTypeIsLarge: body type of 16 px in a hand, and labels of a drawing that can
// be read there: one that is wider than the hand scrolls by itself, the page does not.
func TestPhoneTypeIsLarge(t *testing.T) {
	browser := start(t)
	for name, page := range map[string][]byte{"history": historyPage(t, histories["demo"]), "sheet": sheetBytes(t, visits["demo"].file)} {
		tab := open(t, browser)
		tab.visit(t, saved(t, page))
		tab.media(t, "screen", 390, 844)
		if px := eval[float64](t, tab, `Math.min(...[...document.querySelectorAll('p, li, td, th, dd')].filter(e => e.textContent.trim() && e.getClientRects().length).map(e => parseFloat(getComputedStyle(e).fontSize)))`); px < 16 {
			t.Errorf("%s: type of %.1f px, want at least 16", name, px)
		}
		small := eval[float64](t, tab, `Math.min(...[...document.querySelectorAll('svg text')].map(e => {
			const svg = e.ownerSVGElement, frame = svg.getBoundingClientRect(), units = svg.viewBox.baseVal;
			return parseFloat(getComputedStyle(e).fontSize) * Math.min(frame.width / units.width, frame.height / units.height);
		}))`)
		if small < 11.5 || small > 30 {
			t.Errorf("%s: a label of a drawing has %.1f px, want at least 11.5", name, small)
		}
		for _, width := range []int64{390, 320} {
			tab.media(t, "screen", width, 844)
			if wide := eval[float64](t, tab, `document.documentElement.scrollWidth`); wide > float64(width) {
				t.Errorf("%s: %.0f px wide in %d", name, wide, width)
			}
		}
	}
}

func sheetBytes(t *testing.T, file string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.HTML(&b, assessed(t, file), sheet.HTMLOptions{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// unreadable finds text that has less than 4.5 to 1 against what stands behind it,
// drawings too.
const unreadable = `(() => {
	const numbers = c => (c.match(/[\d.]+/g) || []).map(Number);
	const light = ([r, g, b]) => {
		const f = v => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4 };
		return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b);
	};
	const canvas = document.createElement('div');
	canvas.style.cssText = 'color:Canvas;forced-color-adjust:none';
	document.body.append(canvas);
	const paper = numbers(getComputedStyle(canvas).color);
	canvas.remove();
	const behind = e => {
		for (; e; e = e.parentElement) {
			const c = numbers(getComputedStyle(e).backgroundColor);
			if (c.length && (c.length < 4 || c[3] > 0)) return c;
		}
		return paper;
	};
	const out = [];
	for (const e of document.body.querySelectorAll('*')) {
		if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) || e.closest('title, desc, .unseen')) continue;
		const s = getComputedStyle(e);
		const a = light(numbers(e instanceof SVGElement ? s.fill : s.color)) + 0.05, b = light(behind(e)) + 0.05;
		if (Math.max(a, b) / Math.min(a, b) < 4.5) out.push(e.tagName + ' ' + e.textContent.slice(0, 40) + ' ' + (Math.max(a, b) / Math.min(a, b)).toFixed(1));
	}
	return out;
})()`

// TestEveryWordInHighContrast: where the reader's colors are forced, black on white
// or white on black, every word can be read, in the drawings too; and where dark
// colors are forced, the drawings' words turn with the others.
func TestEveryWordInHighContrast(t *testing.T) {
	browser := start(t)
	for name, page := range map[string][]byte{"history": historyPage(t, histories["demo"]), "sheet": sheetBytes(t, visits["three-axle"].file)} {
		for _, scheme := range []string{"light", "dark"} {
			tab := open(t, browser)
			tab.visit(t, saved(t, page))
			_, err := chromedp.Call(tab.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
				{Name: "forced-colors", Value: "active"}, {Name: "prefers-color-scheme", Value: scheme}}})
			if err != nil {
				t.Fatal(err)
			}
			if !eval[bool](t, tab, `matchMedia('(forced-colors: active)').matches`) {
				t.Fatal("colors are not forced")
			}
			for _, s := range eval[[]string](t, tab, unreadable) {
				t.Errorf("%s, %s: hard to read: %s", name, scheme, s)
			}
			if _, err := chromedp.Call(tab.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}); err != nil {
				t.Fatal(err)
			}
			yes := true
			if _, err := chromedp.Call(tab.ctx, emulation.SetAutoDarkModeOverride, emulation.SetAutoDarkModeOverrideParams{Enabled: &yes}); err != nil {
				t.Fatal(err)
			}
			for _, s := range eval[[]string](t, tab, unreadable) {
				t.Errorf("%s, forced dark: hard to read: %s", name, s)
			}
		}
	}
}

// TestHostileTextStaysText: text that would be a script is text.
func TestHostileTextStaysText(t *testing.T) {
	const hostile = `</style></title><script>document.title='run'</script><img src="https://axleend.invalid/x.png" onerror="document.title='run'">`
	r := assessed(t, visits["demo"].file)
	r.Coach, r.LoadState = hostile, hostile
	for i := range r.Tires {
		r.Tires[i].Note, r.Tires[i].Number = hostile, hostile
	}
	for i := range r.Todo {
		r.Todo[i].What, r.Todo[i].Advice = hostile, hostile
	}
	tab := open(t, start(t))
	address := save(t, r, sheet.HTMLOptions{})
	tab.visit(t, address)
	if title := eval[string](t, tab, `document.title`); !strings.HasPrefix(title, hostile[:20]) {
		t.Errorf("the title is %q", title)
	}
	if n := eval[int](t, tab, `document.querySelectorAll('script, img').length`); n != 0 {
		t.Errorf("%d elements were made of text", n)
	}
	quiet(t, tab, address)
}

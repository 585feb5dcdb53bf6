package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect/sheet"
)

// TestPageTellsWhatWasRecorded: what a visit records of stamps, sidewalls,
// tread and pressures stands on the page, with why a tire was not judged.
func TestPageTellsWhatWasRecorded(t *testing.T) {
	out := page(t, `
visit: 1
date: 2026-10-03
stood: 2 h
gauge: dial number 2
gauge_tolerance: 1 psi
axles: [{id: steer, fitment: single}, {id: drive, fitment: dual}]
every_tire: {class: truck, single: 3640 lb at 95 psi, dual: 3415 lb at 95 psi, service: 125/123L, last_set: 95 psi}
tires:
  - {at: steer-left, found: 95 psi, number: 1X1 XAXAXA 2222, tread: {inner: 6/32 in, center: [8/32 in, 9/32 in], outer: 8/32 in}}
  - {at: steer-right, read_at: not reached, number: XAXAXA, other_number: 2222, service: K, seen: bulge, sidewalls: outer, crack_depth: 1/32 in, cut_depth: 2/32 in}
  - {at: drive-left-outer, retread: yes, number: 1AX2223, hot: no, found: 100 psi, left: 95 psi, injury_width: 1/8 in, injury_at: crown, service: not read}
  - {at: drive-left-inner, hot: no, found: 94 psi, left: 94 psi, number: 1AXT1AAAAAA2223}
  - {at: drive-right-outer, hot: no, found: 95 psi, left: 95 psi}
  - {at: drive-right-inner, hot: no, found: 95 psi, left: 95 psi}
weighing: {scale: pads, tolerance: 0 lb, readings: [{load: 5800 lb, on: drive-left}]}
`)
	joined := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"stood 2 h, gauge dial number 2 +/- 1 psi",
		"not judged, it was not cold (hot, in the sun, or driven within 3 h), which clears no tire",
		"PRESSURE NOT TAKEN: its valve could not be reached",
		"tread 6/32 in (inner 6/32; center 8/32, 9/32; outer 8/32)",
		"sidewalls looked at: outer", "deepest crack 1/32 in", "deepest cut 2/32 in", "hole in the crown",
		"turns 5 years on 2028-05-28; a retread's casing is older",
		"found 6 psi apart, left 1 psi apart",
		"carries 5,800 lb on a rating of 3,415 lb: 170 %",
		"for recalls", "1X1 XAXAXA 2222", "2222 (rest not read); other sidewall XAXAXA", "1AXT1AAAAAA2223 (too long: in doubt)",
		"symbol K, at most 68 mph - steer-right", // 110 km/h is 68.35 mph
		"Speed symbol not read, so their limit is not known: drive-left-outer",
		"Possible causes, likeliest first: camber out of adjustment",
		"50 to 100 miles",
	} {
		if !strings.Contains(joined, want) {
			t.Errorf("%q is not on the page:\n%s", want, out)
		}
	}
	if strings.Contains(joined, " 0 psi apart") {
		t.Errorf("what does not differ is apart:\n%s", out)
	}
}

// TestTextSaysEachThingOnce: tires of one age, or axles with one caution, share
// an entry, and each is named in it.
func TestTextSaysEachThingOnce(t *testing.T) {
	out := page(t, `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: drive, fitment: single}]
every_tire: {seen: missing cap}
tires:
  - {at: steer-left, found: 95 psi, number: 2219}
  - {at: steer-right, found: 95 psi, number: 2219}
  - {at: drive-left, found: 95 psi, number: 2318}
  - {at: drive-right, found: 95 psi, number: 2222}
`)
	joined := strings.Join(strings.Fields(out), " ")
	for _, once := range []string{"Have it inspected by an expert every year", "Fit a metal cap", "steer, drive: The two ends of this axle were not weighed"} {
		if n := strings.Count(joined, once); n != 1 {
			t.Errorf("%q stands %d times on the page:\n%s", once, n, out)
		}
	}
	for _, want := range []string{"PLAN - steer-left, steer-right, drive-left: Old enough", "steer-left, steer-right: 7 years 3 months",
		"drive-left: 8 years", "PLAN - steer-left, steer-right, drive-left, drive-right: Valve cap missing"} {
		if !strings.Contains(joined, want) {
			t.Errorf("%q is not on the page:\n%s", want, out)
		}
	}
}

// TestPageSaysWhichDualBelongsInside: in the text and in the details of the
// page, with the reason (US Army TM 9-2610-200-14, para 2-11; common practice).
func TestPageSaysWhichDualBelongsInside(t *testing.T) {
	for _, x := range []struct{ outer, inner, want string }{
		{"tread: 8/32 in, model: a", "tread: 7/32 in, model: a", "drive-left pair: 1/32 in apart in tread; the inner one belongs there: it has less tread, and the two are of one model"},
		{"tread: 7/32 in", "tread: 8/32 in", "drive-left pair: 1/32 in apart in tread; the OUTER one belongs inside: it has less tread (common practice); holds if"},
		{"diameter: 40 in, tread: 7/32 in", "diameter: 39.8 in, tread: 8/32 in", "the inner one belongs there: it measures smaller, and the measured size decides"},
		{"tread: 12/32 in", "tread: 7/32 in", "5/32 in apart in tread, the shallower one inside; which belongs inside? neither: split the pair"},
		{"tread: 7/32 in", "tread: 7/32 in", "alike in tread; which belongs inside? nothing tells the two apart"},
		{"tread: 7/32 in, model: a", "tread: 8/32 in, model: b", "which belongs inside? two models"},
		{"diameter: 40 in, circumference: 125 in", "diameter: 39.9 in, circumference: 126 in", "diameter and circumference disagree"},
		{"model: a", "model: a", "drive-left pair: which belongs inside? not known: measure both"},
	} {
		text := "visit: 1\ndate: 2026-10-03\naxles: [{id: drive, fitment: dual}]\ntires:\n  - {at: drive-left-outer, " + x.outer + "}\n  - {at: drive-left-inner, " + x.inner + "}\n"
		r := assess(t, "v.yaml", []byte(text), inflation.Tables{})
		if out := strings.Join(strings.Fields(sheet.Text(r, sheet.TextOptions{Full: true})), " "); !strings.Contains(out, x.want) {
			t.Errorf("%s beside %s: %q is not in the text:\n%s", x.outer, x.inner, x.want, out)
		}
		if out := words(render(t, r, sheet.HTMLOptions{})); !strings.Contains(out, x.want) {
			t.Errorf("%s beside %s: %q is not on the HTML page", x.outer, x.inner, x.want)
		}
	}
}

// TestPageNamesTheHeavierEnd where only the axle was weighed: 55 % of 17,000 lb
// and its doubt is more than 2 x 4,540 lb.
func TestPageNamesTheHeavierEnd(t *testing.T) {
	r := assess(t, "v.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual, placard: 100 psi}]
every_tire: {class: truck, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}
tires: [{at: drive-left-outer, size: AX240/75R20}, {at: drive-left-inner}, {at: drive-right-inner}, {at: drive-right-outer}]
weighing: {scale: whole axles, division: 20 lb, readings: [{load: 17000 lb, on: drive}]}
`), inflation.Tables{})
	page := render(t, r, sheet.HTMLOptions{})
	if out := words(page); strings.Contains(out, "not known end") || !strings.Contains(out, "the heavier end") {
		t.Errorf("which end is over:\n%s", out)
	}
	// A size or a load broken in its middle is misread.
	for _, want := range []string{`<td class="short">AX240/75R20</td>`, `<td class="short">not known</td>`} {
		if !strings.Contains(page, want) {
			t.Errorf("%s is not on the page", want)
		}
	}
}

// TestNumberIsAsLongAsItsSymbols: 13 are the most (49 CFR 574.5), whatever stands
// between them.
func TestNumberIsAsLongAsItsSymbols(t *testing.T) {
	r := demo(t, demos[0])
	for number, want := range map[string]string{"1X1 XAX-AXA 2222": "(rest not read)", "1X1 XAX-AXA 22223": "(too long: in doubt)"} {
		r.Tires[0].Number, r.Tires[0].OtherNumber, r.Tires[0].WholeNumber = number, "", false
		if text := words(sheet.Text(r, sheet.TextOptions{Full: true})); !strings.Contains(text, number+" "+want) {
			t.Errorf("%s: want %s:\n%s", number, want, text)
		}
	}
}

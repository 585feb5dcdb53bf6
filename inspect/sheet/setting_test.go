package sheet_test

import (
	"bytes"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
)

// TestSettingSaysWhatCounts: an estimate above the placard does not read as if too
// little were set: 120 psi x 7,230 lb / 7,830 lb, 5 psi more, in steps of 5 (computed),
// where at 115 psi any law gives 7,503 lb; and where no number can be given, the
// placard is what to read first.
func TestSettingSaysWhatCounts(t *testing.T) {
	visit := func(placard string) string {
		return "visit: 1\ninvented: yes\ndate: 2026-10-03\ncold: yes\nratings: {gvwr: 30000 lb}\naxles: [{id: steer, fitment: single, gawr: 15400 lb" + placard + "}]\n" +
			"every_tire: {class: truck, single: 7830 lb at 120 psi}\ntires: [{at: steer-left, found: 115 psi}, {at: steer-right, found: 115 psi}]\n" +
			"weighing: {scale: segmented, tolerance: 20 lb, as_driven: all, readings: [{load: 7210 lb, on: steer-left}, {load: 6900 lb, on: steer-right}]}\n"
	}
	for placard, want := range map[string][]string{
		", placard: 115 psi": {"SET 115 psi", "needs at least 120 psi: the left end is the heavier, 7,230 lb on each tire the placard's 115 psi counts: the need above is an estimate",
			"from: placard (what its load needs is AN ESTIMATE, no table seen)"},
		"":                   {"NO NUMBER: read the placard first", "The placard was not read"},
		", placard: 690 psi": {"NO NUMBER: read the placard first", "Read again: the placard's pressure"},
		", placard: none":    {"SET 120 psi", "from: estimate (AN ESTIMATE, no table seen)"},
	} {
		r, err := inspect.Assess(visittest.Read(t, visit(placard)), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		page := strings.Join(strings.Fields(sheet.Text(r, sheet.TextOptions{Full: true})), " ")
		for _, text := range want {
			if !strings.Contains(page, text) {
				t.Errorf("placard %q: no %q on\n%s", placard, text, page)
			}
		}
		var b bytes.Buffer
		if err := sheet.HTML(&b, r, sheet.HTMLOptions{OneSheet: true}); err != nil {
			t.Fatal(err)
		}
		if asks := strings.Contains(b.String(), "<p>AN ESTIMATE asks for 120 psi, no table seen; from the placard</p>"); asks != (placard == ", placard: 115 psi") || asks && strings.Contains(b.String(), "at least 120 psi") {
			t.Errorf("placard %q: the sheet says that an estimate asks for more: %v", placard, asks)
		}
		if counts := strings.Contains(page, "counts: the need above is"); counts != (placard == ", placard: 115 psi") {
			t.Errorf("placard %q: says that the placard counts: %v", placard, counts)
		}
	}
}

// TestCappedEstimateHasNoFigure: 110 psi x 4,620 lb / 4,940 lb, 5 psi more, in steps of
// 5, is 110 psi (computed), above what the wheels allow: by how much the end is too
// heavy nobody knows, and no page says that it is by nothing.
func TestCappedEstimateHasNoFigure(t *testing.T) {
	visit := func(wheel string) string {
		return "visit: 1\ninvented: yes\ndate: 2026-10-03\ncold: yes\naxles: [{id: steer, fitment: single, placard: 95 psi, gawr: 9500 lb}]\n" +
			"every_tire: {class: truck, single: 4940 lb at 110 psi, wheel: 5000 lb at " + wheel + "}\ntires: [{at: steer-left, found: 95 psi}, {at: steer-right, found: 95 psi}]\n" +
			"weighing: {scale: segmented, tolerance: 20 lb, as_driven: all, readings: [{load: 4600 lb, on: steer-left}, {load: 4500 lb, on: steer-right}]}\n"
	}
	for wheel, capped := range map[string]bool{"105 psi": true, "110 psi": false} {
		r, err := inspect.Assess(visittest.Read(t, visit(wheel)), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		var html strings.Builder
		if err := sheet.HTML(&html, r, sheet.HTMLOptions{}); err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{sheet.Text(r, sheet.TextOptions{}), sheet.Text(r, sheet.TextOptions{Full: true}), html.String()} {
			page := strings.Join(strings.Fields(text), " ")
			if said := strings.Contains(page, "left end: too close to call, the estimate asks for more pressure than may be set"); said != capped || strings.Contains(page, " 0 lb") {
				t.Errorf("wheel %s: said %v on\n%s", wheel, said, page)
			}
		}
	}
}

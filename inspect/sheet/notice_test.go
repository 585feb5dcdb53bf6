package sheet_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
	"axleend.example/weight"
)

// spaced is a text with single spaces, so that it does not matter where a line
// breaks.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

func demoReport(t *testing.T) report.Report {
	t.Helper()
	v, _ := visittest.Demo(t)
	return visittest.Assess(t, v)
}

// TestInventedMark: what is invented says so on every page, and what is not never
// does.
func TestInventedMark(t *testing.T) {
	r := demoReport(t)
	h := demoHistory(t, "spring", "summer", "autumn")
	for _, invented := range []bool{true, false} {
		r.Invented, h.Invented = invented, invented
		var html bytes.Buffer
		if err := sheet.HTML(&html, r, sheet.HTMLOptions{}); err != nil {
			t.Fatal(err)
		}
		for name, page := range map[string]string{"text": sheet.Text(r, sheet.TextOptions{Full: true}), "history": sheet.HistoryText(h, sheet.TextOptions{Full: true}), "sheet": html.String()} {
			page = strings.ReplaceAll(page, r.Coach, "") // a name says what it likes
			if got := strings.Contains(strings.ToLower(page), "invented example"); got != invented {
				t.Errorf("%s: invented is %v, and the page says so: %v", name, invented, got)
			}
		}
	}
}

// TestRoomOfAnEnd: room is room, and what an end carries too much is never shown
// as room.
func TestRoomOfAnEnd(t *testing.T) {
	for _, x := range []struct {
		room   weight.Mass
		says   string
		denies string
	}{
		{120 * weight.Pound, "room 120 lb at this pressure", "MORE than it carries"},
		{0, "room 0 lb at this pressure", "MORE than it carries"},
		{-weight.Pound / 10, "1 lb MORE than it carries at this pressure", "room 0 lb at this pressure"},
		{-120 * weight.Pound, "120 lb MORE than it carries at this pressure", "room 120 lb"},
	} {
		r := demoReport(t)
		r.Settings = slices.Clone(r.Settings)
		for i := range r.Settings {
			for _, e := range []*inflation.EndRoom{&r.Settings[i].Left, &r.Settings[i].Right} {
				e.Known, e.Room = true, x.room
			}
		}
		page := spaced(sheet.Text(r, sheet.TextOptions{Full: true}))
		if !strings.Contains(page, x.says) || strings.Contains(page, x.denies) {
			t.Errorf("room %s: want %q and not %q on the page:\n%s", x.room, x.says, x.denies, sheet.Text(r, sheet.TextOptions{Full: true}))
		}
	}
}

// TestCountsSinceTheLastVisit: what is new, still open, closed, and stops the coach
// is counted, each by its own day.
func TestCountsSinceTheLastVisit(t *testing.T) {
	h := demoHistory(t, "spring", "summer", "autumn")
	first, last := h.Visits[0].Date, h.Visits[len(h.Visits)-1].Date
	advised := func(since, closed dotcode.Date, stops bool) history.Advised {
		return history.Advised{First: since, Last: last, Closed: closed, Item: report.Item{Stops: stops, Where: "drive-left", What: "Something", Action: "plan"}}
	}
	var never dotcode.Date
	for _, x := range []struct {
		old, fresh, closed, closedBefore, stops int
		says                                    string
	}{
		{3, 2, 1, 2, 0, "Of what was advised: 3 still open from before, 2 new, 1 closed."},
		{0, 1, 0, 4, 1, "Of what was advised: 0 still open from before, 1 new, 0 closed. 1 of what is open stops the coach."},
		{4, 0, 3, 0, 2, "Of what was advised: 4 still open from before, 0 new, 3 closed. 2 of what is open stop the coach."},
	} {
		h.Open, h.Closed = nil, nil
		for i := range x.old {
			h.Open = append(h.Open, advised(first, never, i < x.stops))
		}
		for i := range x.fresh {
			h.Open = append(h.Open, advised(last, never, x.old == 0 && i < x.stops))
		}
		for range x.closed {
			h.Closed = append(h.Closed, advised(first, last, true))
		}
		for range x.closedBefore {
			h.Closed = append(h.Closed, advised(first, h.Visits[1].Date, true))
		}
		if page := spaced(sheet.HistoryText(h, sheet.TextOptions{Full: true})); !strings.Contains(page, x.says) || strings.Contains(page, "the coach.") && x.stops == 0 && strings.Contains(page, "of what is open stop") {
			t.Errorf("want %q on the page:\n%s", x.says, sheet.HistoryText(h, sheet.TextOptions{Full: true}))
		}
	}
}

// TestMoreOrLessThanItsMates: a tire that loses less than its mates is not said to
// lose more.
func TestMoreOrLessThanItsMates(t *testing.T) {
	h := demoHistory(t, "spring", "summer", "autumn")
	h.Tires = slices.Clone(h.Tires)
	for _, x := range []struct {
		by   inflation.Pressure
		says string
	}{{inflation.PSI, "; 1 +/- 0.5 psi more than its 3 mates taken together (their median)"}, {-inflation.PSI, "; 1 +/- 0.5 psi less than its 3 mates taken together (their median)"}} {
		n := 0
		for i := range h.Tires {
			leaks := slices.Clone(h.Tires[i].Leaks)
			if len(leaks) == 0 {
				continue
			}
			l := &leaks[len(leaks)-1]
			l.Mates, l.OverMates = 3, record.Record(cold.Leak{PerMonth: x.by, PlusMinus: inflation.PSI / 2})
			h.Tires[i].Leaks = leaks
			n++
		}
		page := spaced(sheet.HistoryText(h, sheet.TextOptions{Full: true}))
		other := map[bool]string{true: "psi less than its 3 mates", false: "psi more than its 3 mates"}[x.by > 0]
		if got := strings.Count(page, x.says); n == 0 || got != n || strings.Contains(page, other) {
			t.Errorf("%d times %q on the page, want %d:\n%s", got, x.says, n, sheet.HistoryText(h, sheet.TextOptions{Full: true}))
		}
	}
}

package record_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// TestWrittenLinesBreakWhereTheyMust: a line of several entries has at most 80 characters,
// and none is broken before an entry that it has room for.
func TestWrittenLinesBreakWhereTheyMust(t *testing.T) {
	t.Parallel()
	broken := 0
	for n := 1; n <= 90; n++ {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}},
			Tires: []record.Tire{{At: "steer-left", Found: record.Record(95 * inflation.PSI), Note: strings.Repeat("x", n), Model: "alpha"}, {At: "spare", Note: "y"}}}
		data, err := record.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		_, text, _ := strings.Cut(string(data), "\ntires:\n")
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		for i, line := range lines {
			if len(line) > 80 && strings.Contains(strings.TrimLeft(line, " -{"), ", ") {
				t.Errorf("note of %d: %d characters: %s", n, len(line), line)
			}
			if i == 0 || !strings.HasSuffix(lines[i-1], ",") {
				continue
			}
			broken++
			first, _, more := strings.Cut(strings.TrimLeft(line, " "), ",")
			if !more {
				first = strings.TrimSuffix(first, "}")
			}
			if whole := len(lines[i-1]) + len(" ") + len(first) + len(","); whole <= 80 {
				t.Errorf("note of %d: broken before %q, which fits in %d: %s", n, first, whole, lines[i-1])
			}
		}
	}
	if broken < 40 {
		t.Errorf("only %d lines were broken", broken)
	}
}

// TestBlankAsksForStamps: what all tires share, in the order of a sidewall; of a pair
// where the coach has one, and of the towed unit's tires where one is towed.
func TestBlankAsksForStamps(t *testing.T) {
	t.Parallel()
	single, dual, towed := record.Axle{ID: "steer", Fitment: weight.Single}, record.Axle{ID: "drive", Fitment: weight.Dual}, record.Axle{ID: "car", Fitment: weight.Single, Towed: true}
	towedDual := record.Axle{ID: "car", Fitment: weight.Dual, Towed: true}
	plain := []string{"#size", "#load_range", "service", "class", "construction", "single", "wheel", "last_set", "#retread"}
	paired := slices.Insert(slices.Clone(plain), 6, "dual")
	for _, c := range []struct {
		axles      []record.Axle
		own, other []string // nil where the part is not there
	}{{[]record.Axle{single}, plain, nil}, {[]record.Axle{single, dual}, paired, nil}, {[]record.Axle{single, towed}, plain, plain}, {[]record.Axle{single, dual, towed}, paired, plain}, {[]record.Axle{single, towedDual}, plain, plain}} {
		page, err := record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: c.axles}.YAML()
		if err != nil {
			t.Fatal(err)
		}
		for part, want := range map[string][]string{"\nevery_tire:": c.own, "\nevery_towed_tire:": c.other} {
			_, rest, there := strings.Cut(string(page), part)
			if there != (want != nil) {
				t.Errorf("%v: has %q: %v", c.axles, part, there)
				continue
			}
			var got []string
			for line := range strings.Lines(rest) {
				key, _, ok := strings.Cut(line, ":")
				if !strings.HasPrefix(line, " ") && len(got) > 0 {
					break
				}
				if ok && strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") {
					got = append(got, strings.TrimSpace(key))
				}
			}
			if there && !slices.Equal(got, want) {
				t.Errorf("%v, %s %q, want %q", c.axles, part, got, want)
			}
		}
	}
}

// TestWrittenOnceForAll: what every tire has of its own stands in place of what was said
// of all, also where that comes first.
func TestWrittenOnceForAll(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		every, left, right string
		want               string
	}{
		"said of all":    {"XQ1", "", "", "every_tire: {size: XQ1}\n\ntires:\n  - {at: steer-left}\n  - {at: steer-right}\n"},
		"of each":        {"", "XQ1", "XQ1", "every_tire: {size: XQ1}\n\ntires:\n  - {at: steer-left}\n  - {at: steer-right}\n"},
		"otherwise":      {"XQ1", "XQ2", "XQ2", "every_tire: {size: XQ2}\n\ntires:\n  - {at: steer-left}\n  - {at: steer-right}\n"},
		"of one":         {"XQ1", "XQ2", "", "every_tire: {size: XQ1}\n\ntires:\n  - {at: steer-left, size: XQ2}\n  - {at: steer-right}\n"},
		"of one, alone":  {"", "XQ2", "", "tires:\n  - {at: steer-left, size: XQ2}\n  - {at: steer-right}\n"},
		"nothing of any": {"", "", "", "tires:\n  - {at: steer-left}\n  - {at: steer-right}\n"},
	} {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}},
			EveryTire: record.Tire{Size: c.every}, Tires: []record.Tire{{At: "steer-left", Size: c.left}, {At: "steer-right", Size: c.right}}}
		data, err := record.Marshal(v)
		if want := "visit: 1\ndate: 2026-10-03\n\naxles:\n  - {id: steer, fitment: single}\n\n" + c.want; err != nil || string(data) != want {
			t.Errorf("%s: %v\n%s\nwant\n%s", name, err, data, want)
		}
	}
}

// TestWrittenOnceSaysTheSame: whatever four tires and what is said of all of them say of a
// size, it is read back of each: what most say alike is not said of one that says nothing.
func TestWrittenOnceSaysTheSame(t *testing.T) {
	t.Parallel()
	said := []string{"", "XQ1", "XQ2", "not read"}
	places := []string{"steer-left", "steer-right", "drive-left", "drive-right"}
	for n := range 4 * 4 * 4 * 4 * 2 {
		v := &record.Visit{Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Single}},
			EveryTire: record.Tire{Size: said[n>>8]}}
		for i, at := range places {
			v.Tires = append(v.Tires, record.Tire{At: at, Size: said[n>>(2*i)&3]})
		}
		data, err := record.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		back, err := record.Read("v.yaml", data)
		if err != nil {
			t.Fatal(err)
		}
		for i := range v.Tires {
			want, got := v.Tires[i], back.Tires[i]
			want.Fill(&v.EveryTire)
			got.Fill(&back.EveryTire)
			if got.Size != want.Size {
				t.Fatalf("%s says %q, want %q of\n%s", got.At, got.Size, want.Size, data)
			}
		}
	}
}

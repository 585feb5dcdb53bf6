package record_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/internal/testsize"
	"axleend.example/weight"
)

// texts are what people write in their own words, quotes and colons and all.
var texts = []string{"the blue one", "a: b", "9,500 lb, or so", `6" cut`, "driver's", "# 4", "- none -", "{x}", "[y", "true", "0523", "null", "~", "é ½", "x ", " x", "@noon", "100%", "yes", "a #b", "ends:", "a\tb"}

// A maker makes visits in which any key may stand, from the fields.
type maker struct{ *rand.Rand }

func (m maker) one(all ...string) string { return all[m.IntN(len(all))] }

func (m maker) value(f record.Field) any {
	n := 1 + m.IntN(200)
	number := func(units ...string) string { return fmt.Sprint(n, " ", m.one(units...)) }
	switch f.Kind {
	case "mass":
		return number("lb", "kg")
	case "length", "signed length":
		if slices.Contains(f.Units, "/32 in") {
			return fmt.Sprint(m.IntN(40), "/32 in")
		}
		return number("in", "mm", "ft")
	case "volume":
		return number("gal", "L")
	case "pressure":
		if f.Key == "lowest" { // never above what was found
			return "0 psi"
		}
		return number("psi", "kPa")
	case "placard":
		return m.one("none", number("psi"))
	case "temperature":
		return fmt.Sprint(n-100, " ", m.one("F", "C"))
	case "speed":
		return number("mph", "km/h")
	case "time":
		return number("min", "h", "days")
	case "torque":
		return number("ft-lb", "N-m")
	case "share":
		return fmt.Sprint(50+m.IntN(20), " %")
	case "yes or no":
		return m.one("yes", "no")
	case "date":
		return fmt.Sprintf("20%02d-%02d-%02d", m.IntN(30), 1+m.IntN(12), 1+m.IntN(28))
	case "number":
		return m.IntN(9)
	case "version":
		return record.Version
	case "word":
		return m.one(f.Words...)
	case "stamp":
		return fmt.Sprintf("%d lb at %d psi", 100*n, n)
	case "service":
		return m.one("141/140L", "L", "128")
	case "pack":
		return m.one("house", "coach-care")
	case "condition":
		return m.one(append(f.Words, "nothing")...)
	case "key":
		return m.one("sure")
	case "treads":
		return []any{m.one("9/32 in", "0 in"), []string{"9/32 in", "3.2 mm"}, obj{"inner", "9/32 in", "outer", []string{"8/32 in", "7/32 in"}}}[m.IntN(3)]
	case "name", "text":
		return m.one(texts...)
	case "offset":
		return "center"
	}
	return nil
}

func (m maker) part(name string, every bool, fixed obj, without ...string) obj {
	out := slices.Clone(fixed)
	for _, f := range record.Fields() {
		if f.Part != name || every && !f.Shared || slices.Contains(without, f.Key) || slices.Contains(fixed, any(f.Key)) || m.IntN(3) > 0 {
			continue
		}
		value := m.value(f)
		if value == nil {
			continue
		}
		if f.Unread && m.IntN(6) == 0 {
			value = "not read"
		}
		out = append(out, f.Key, value)
	}
	return out
}

func (m maker) visit() []byte {
	axles := []obj{
		m.part("axle", false, obj{"id", "steer", "fitment", "single"}, "towed", "sure"),
		m.part("axle", false, obj{"id", "drive", "fitment", "dual"}, "towed"),
		m.part("axle", false, obj{"id", "car", "fitment", "single", "towed", "yes"}),
	}
	var tires, readings []obj
	alike := m.IntN(2) == 0
	for _, at := range []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-outer", "car-left", "car-right", "spare"} {
		if m.IntN(5) == 0 {
			continue
		}
		own := m
		if alike { // the same draws: most keys have one value
			own = maker{rand.New(rand.NewPCG(7, 7))}
		}
		tire := own.part("tire", false, obj{"at", at}, "at")
		if m.IntN(3) == 0 {
			tire = append(tire, m.part("tire", true, nil)...)
			tire = once(tire)
		}
		tires = append(tires, tire)
	}
	for i, on := range []any{"steer", []string{"drive-left", "drive-right"}} {
		readings = append(readings, m.part("reading", false, obj{"load", fmt.Sprint(m.IntN(9000), " lb"), "on", on, "name", fmt.Sprint("r", i)}))
	}
	trip := m.part("trip", false, nil, "track", "hitch")
	if m.IntN(3) == 0 {
		trip = append(trip, "track", m.one("78 in", "2 m", "6 ft 4 in", "1995 mm"))
	}
	if m.IntN(3) == 0 {
		trip = append(trip, "hitch", m.one("41 ft", "12.5 m", "400 in"))
	}
	v := m.part("visit", false, obj{"visit", 1, "date", "2026-10-03", "axles", axles})
	v = append(v, "tires", tires, "every_tire", m.part("tire", true, nil), "names", m.part("names", false, nil), "ratings", m.part("ratings", false, nil),
		"towing", m.part("towing", false, nil), "weighing", append(m.part("weighing", false, nil), "readings", readings), "done", []obj{{"at", "steer", "rule", m.one(texts[:3]...)}},
		"trip", append(trip, "label", m.part("label", false, obj{"kind", "OCCC"})))
	data, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return data
}

// once drops keys that stand twice.
func once(o obj) obj {
	var out obj
	for i := 0; i < len(o); i += 2 {
		if !slices.Contains(out, o[i]) || i == 0 {
			out = append(out, o[i], o[i+1])
		}
	}
	return out
}

// filled is a visit with what its tires share in each of them.
func filled(t *testing.T, v *record.Visit) string {
	t.Helper()
	w := *v
	w.Tires = slices.Clone(v.Tires)
	for i := range w.Tires {
		every := &v.EveryTire
		if strings.HasPrefix(w.Tires[i].At, "car") {
			every = &v.EveryTowedTire
		}
		w.Tires[i].Fill(every)
	}
	w.EveryTire, w.EveryTowedTire = record.Tire{}, record.Tire{}
	data, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestMarshalReadsBack: a visit that is written says the same of every tire when
// it is read, and is written in the same bytes the second time.
func TestMarshalReadsBack(t *testing.T) {
	lines, shared := 0, 0
	seeds := uint64(40)
	if testsize.Full() {
		seeds = 150
	}
	for seed := range seeds {
		data := maker{rand.New(rand.NewPCG(seed, 15))}.visit()
		v, err := record.Read("made.json", data)
		if err != nil {
			t.Fatalf("%d: %v\n%s", seed, err, data)
		}
		first, err := record.Marshal(v)
		if err != nil {
			t.Fatalf("%d: %v\n%s", seed, err, data)
		}
		back, err := record.Read("first.yaml", first)
		if err != nil {
			t.Fatalf("%d: %v\n%s", seed, err, first)
		}
		if len(v.Tires) > 0 {
			if want, got := filled(t, v), filled(t, back); want != got {
				t.Fatalf("%d: written\n%s\nand read back, it says\n%s\nand not\n%s", seed, first, got, want)
			}
		}
		second, err := record.Marshal(back)
		if err != nil || !bytes.Equal(first, second) {
			t.Fatalf("%d: %v\n%s\nthe second time\n%s", seed, err, first, second)
		}
		lines += bytes.Count(first, []byte("\n"))
		shared += bytes.Count(first, []byte("every_tire"))
	}
	if shared*150 < 40*int(seeds) {
		t.Errorf("%d of %d visits have something that all tires share", shared, seeds)
	}
}

func ExampleMarshal() {
	v := &record.Visit{
		Version: record.Version, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3},
		Axles: []record.Axle{{ID: "steer", Fitment: weight.Single, Placard: record.Record(record.PlacardAt(100 * inflation.PSI))}},
		Tires: []record.Tire{
			{At: "steer-left", Size: "XV250/72R21", Found: record.Record(99 * inflation.PSI), Hot: record.Record(false)},
			{At: "steer-right", Size: "XV250/72R21", Found: record.Record(97 * inflation.PSI), Hot: record.Record(false)},
		},
	}
	data, err := record.Marshal(v)
	fmt.Print(string(data), err)
	// Output:
	// visit: 1
	// date: 2026-10-03
	//
	// axles:
	//   - {id: steer, fitment: single, placard: 100 psi}
	//
	// every_tire: {size: XV250/72R21, hot: no}
	//
	// tires:
	//   - {at: steer-left, found: 99 psi}
	//   - {at: steer-right, found: 97 psi}
	// <nil>
}

// TestTextsThatLookLikeSomethingElse are read back as they were written.
func TestTextsThatLookLikeSomethingElse(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"0", "05", "0:", "0.5", "0523", "00", "-1", "-05", "1e3", "0x1F", "yes", "no", "null", "Null", "~", "- a", "a: b", "a #b", "#a", "[a]", "{a}", "*a", "&a", "!a", "%a", "@a", "'a'", `"a"`, "a\"b", "12:30", "2026-10-03", ".5", "a-", "?", "|", ">", "not read"} {
		v := twoAxles()
		v.Coach, v.Notes, v.Tires[0].Model, v.Tires[0].Note = text, []string{text, "b"}, text, text
		data, err := record.Marshal(v)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		back, err := record.Read("v.yaml", data)
		if err != nil || text != "not read" && text != "?" && (back.Coach != text || back.Notes[0] != text || back.Tires[0].Model != text || back.Tires[0].Note != text) {
			t.Errorf("%q: %v\n%s", text, err, data)
		}
	}
}

func ExampleNext() {
	last := twoAxles()
	last.Tires[0].LeftAt = record.Record(100 * inflation.PSI)
	next := record.Next(last, dotcode.Date{Year: 2027, Month: 4, Day: 1})
	fmt.Println(next.Tires[0].LastSet, next.LastSetOn, next.Tires[0].Found, last.Tires[0].Found)
	// Output: 100 psi 2026-10-03 not read 95 psi
}

// TestNext: what stays is kept, word for word, what was read is not, and the last
// visit is as it was.
func TestNext(t *testing.T) {
	for seed := range uint64(40) {
		data := maker{rand.New(rand.NewPCG(seed, 16))}.visit()
		last, err := record.Read("made.json", data)
		if err != nil {
			t.Fatal(err)
		}
		before, _ := json.Marshal(last)
		day := dotcode.Date{Year: 2027, Month: 1, Day: 2}
		next := record.Next(last, day)
		if after, _ := json.Marshal(last); !bytes.Equal(before, after) {
			t.Fatalf("%d: the last visit is changed", seed)
		}
		if _, err := next.Layout(); err != nil || next.Date != day || len(next.Tires) != len(last.Tires) || len(next.Weighing.Readings) > 0 {
			t.Fatalf("%d: %v %+v", seed, err, next)
		}
		for i, x := range next.Tires {
			y := last.Tires[i]
			if x.Found.Is() || x.LeftAt.Is() || x.Tread.Is() || x.Seen.Is() || x.NextDay.Is() || x.Hot.Is() {
				t.Errorf("%d: %s has a reading", seed, x.At)
			}
			if x.Size != y.Size || x.Number != y.Number || x.Single != y.Single || x.Wheel != y.Wheel || x.StemFitted != y.StemFitted {
				t.Errorf("%d: %s is another tire", seed, x.At)
			}
			if x.LastSet != y.LeftAt && y.LeftAt.Is() || x.LastSet.Is() && !y.LeftAt.Is() {
				t.Errorf("%d: %s was left at %s, and last set to %s", seed, x.At, y.LeftAt, x.LastSet)
			}
		}
		if _, err := record.Marshal(next); err != nil {
			t.Fatalf("%d: %v", seed, err)
		}
	}
}

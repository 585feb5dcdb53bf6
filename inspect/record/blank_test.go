package record_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func ExampleBlank_YAML() {
	data, err := record.Blank{
		Date:  dotcode.Date{Year: 2026, Month: 10, Day: 3},
		Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}},
	}.YAML()
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := record.Read("visit.yaml", data)
	fmt.Println(len(v.Tires), v.Tires[2].At, v.Tires[2].Found, err)
	// Output: 6 drive-left-outer not read <nil>
}

// blanks are coaches of every kind, in both systems.
func blanks() map[string]record.Blank {
	single := func(id string) record.Axle { return record.Axle{ID: id, Fitment: weight.Single} }
	dual := func(id string) record.Axle { return record.Axle{ID: id, Fitment: weight.Dual} }
	towed := func(id string) record.Axle {
		return record.Axle{ID: id, Fitment: weight.Single, Towed: true}
	}
	known := single("steer")
	known.GAWR = record.Record(12345*weight.Pound + weight.Pound/2)
	known.Placard = record.Record(record.PlacardAt(100 * inflation.PSI))
	far := dual("drive")
	far.Behind = record.Record(5_800 * weight.Millimeter)
	out := make(map[string]record.Blank)
	for name, axles := range map[string][]record.Axle{
		"two axles": {single("steer"), dual("drive")},
		"singles":   {single("steer"), single("drive")},
		"tag":       {single("steer"), dual("drive"), single("tag")},
		"tandem":    {single("steer"), dual("drive-1"), dual("drive-2"), single("tag")},
		"car":       {single("steer"), dual("drive"), towed("towed-1"), towed("towed-2")},
		"known":     {known, far},
		"long name": {single("a-very-long-axle-name-24"), dual("another-long-axle-name-2")},
	} {
		for spares := range 3 {
			for _, system := range []weight.System{weight.US, weight.Metric} {
				out[fmt.Sprint(name, spares, system)] = record.Blank{
					Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, System: system, Axles: axles, Spares: spares}
			}
		}
	}
	return out
}

// TestBlankRecordsNothing: as it is written, and with every line in use, a
// blank is a visit in which nobody read anything; it fits a page's width and
// two pages' length.
func TestBlankRecordsNothing(t *testing.T) {
	for name, b := range blanks() {
		data, err := b.YAML()
		if err != nil {
			t.Fatal(name, err)
		}
		lines := strings.Split(string(data), "\n")
		if len(lines) > 132 { // two pages of 66 lines
			t.Errorf("%s: %d lines", name, len(lines))
		}
		unused := regexp.MustCompile(`^( *)#([^ ])`)
		whole := make([]string, len(lines))
		for i, l := range lines {
			if utf8.RuneCountInString(l) > 80 {
				t.Errorf("%s: more than 80 columns: %s", name, l)
			}
			if whole[i] = unused.ReplaceAllString(l, "$1$2"); whole[i] != l && b.Spares == 1 {
				one := append([]string(nil), lines...)
				one[i] = whole[i]
				blank(t, name+", "+l, one, b)
			}
		}
		blank(t, name, lines, b)
		blank(t, name+", all in use", whole, b)
	}
}

func blank(t *testing.T, name string, lines []string, b record.Blank) {
	t.Helper()
	v, err := record.Read("visit.yaml", []byte(strings.Join(lines, "\n")))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	wheels := 0
	for i, a := range v.Axles {
		if a.ID != b.Axles[i].ID || a.Fitment != b.Axles[i].Fitment || a.Towed != b.Axles[i].Towed ||
			a.GAWR.Is() != b.Axles[i].GAWR.Is() || a.Placard.Is() != b.Axles[i].Placard.Is() || a.Behind.Is() != b.Axles[i].Behind.Is() {
			t.Errorf("%s: axle %+v, want %+v", name, a, b.Axles[i])
		}
		if wheels += 2; a.Fitment == weight.Dual {
			wheels += 2
		}
	}
	if len(v.Tires) != wheels+b.Spares || v.Date != b.Date || v.System != b.System {
		t.Errorf("%s: %d tires, %s, %s", name, len(v.Tires), v.Date, v.System)
	}
	if len(v.Weighing.Readings) > 0 || v.Ratings.GVWR.Is() || v.Odometer.Is() || v.EveryTire.Single.Is() || v.EveryTire.Wheel.Is() {
		t.Errorf("%s: something is recorded: %+v", name, v)
	}
	for _, tire := range v.Tires {
		if tire.Found.Is() || tire.LeftAt.Is() || tire.Tread.Is() || tire.Number.Is() || tire.Seen.Is() {
			t.Errorf("%s: something is recorded of %+v", name, tire)
		}
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(name, err)
	}
	if r.Drive.Stops() || r.NotJudged < 6*len(v.Tires) {
		t.Errorf("%s: stops %v, not judged %d of %d tires", name, r.Drive.Stops(), r.NotJudged, len(v.Tires))
	}
}

// TestBlankNamesEveryKeyOfATire: nobody has to look up what a tire can have.
func TestBlankNamesEveryKeyOfATire(t *testing.T) {
	data, err := os.ReadFile("visit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var schema struct {
		Defs map[string]struct {
			Properties map[string]any `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	page, err := blanks()["car1 us"].YAML()
	if err != nil {
		t.Fatal(err)
	}
	for key := range schema.Defs["tire"].Properties {
		if !regexp.MustCompile(`\b` + key + `\b`).Match(page) {
			t.Errorf("%s is not on the page", key)
		}
	}
	for c := condition.ExposedCord; ; c++ {
		if _, err := c.MarshalText(); err != nil {
			break
		}
		if !regexp.MustCompile(strings.ReplaceAll(c.String(), " ", `[\s#]+`)).Match(page) {
			t.Errorf("%s is not on the page", c)
		}
	}
}

func TestBlankRefused(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	steer := []record.Axle{{ID: "steer", Fitment: weight.Single}}
	for _, x := range []struct {
		name  string
		blank record.Blank
		want  error
	}{
		{"no axle", record.Blank{Date: day}, nil},
		{"no date", record.Blank{Axles: steer}, nil},
		{"no day of the calendar", record.Blank{Date: dotcode.Date{Year: 2026, Month: 2, Day: 30}, Axles: steer}, dotcode.ErrDate},
		{"ten spares", record.Blank{Date: day, Axles: steer, Spares: 10}, origin.ErrRange},
		{"spares below zero", record.Blank{Date: day, Axles: steer, Spares: -1}, origin.ErrRange},
		{"an axle that is none", record.Blank{Date: day, Axles: []record.Axle{{ID: "Steer\n", Fitment: weight.Single}}}, record.ErrID},
	} {
		data, err := x.blank.YAML()
		var ps *origin.Problems
		if data != nil || !errors.As(err, &ps) || x.want != nil && !errors.Is(err, x.want) {
			t.Errorf("%s: %d bytes, %v", x.name, len(data), err)
		}
	}
}

// TestBlankOfNineSpares: as many as have a name, each with a line of its own.
func TestBlankOfNineSpares(t *testing.T) {
	data, err := record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}}, Spares: 9}.YAML()
	if err != nil || !strings.Contains(string(data), "at: spare-9") {
		t.Errorf("%v\n%s", err, data)
	}
}

// TestBlankInBar: a blank may ask for a unit of pressure, and shows it in its examples.
func TestBlankInBar(t *testing.T) {
	b := record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, PressureUnit: "bar", Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}}}
	data, err := b.YAML()
	if err != nil {
		t.Fatal(err)
	}
	v, err := record.Read("visit.yaml", data)
	if err != nil || v.PressureUnit != "bar" {
		t.Fatalf("%q, %v", v.PressureUnit, err)
	}
	if text := string(data); !strings.Contains(text, "cold: 6.5 bar") || strings.Contains(text, "psi") || strings.Contains(text, "kPa") {
		t.Errorf("not in bar: %s", text)
	}
	b.PressureUnit = "atm"
	if _, err := b.YAML(); !errors.Is(err, record.ErrWord) {
		t.Errorf("atm: %v", err)
	}
}

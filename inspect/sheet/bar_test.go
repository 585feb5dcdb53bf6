package sheet_test

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
)

// inUnit judges a visit of testdata that asks for a unit of pressure, or for none.
func inUnit(t *testing.T, file, unit string) (*record.Visit, report.Report) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if unit != "" {
		data = []byte(strings.Replace(string(data), "\ndate:", "\npressure_unit: "+unit+"\ndate:", 1))
	}
	v, err := record.Read(file, data)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return v, r
}

// asWritten is what stays in its own unit: what is stamped, what a source says, and
// what falls by itself.
var asWritten = regexp.MustCompile(`(lb|kg) at \d+ (psi|kPa)|\(2003\), 5 psi|1 to 2 psi a month`)

// TestPressuresInTheUnitAskedFor: a visit of either system that asks for bar, kPa or psi
// has them on the screen, the sheet and the form, and is judged as before.
func TestPressuresInTheUnitAskedFor(t *testing.T) {
	t.Parallel()
	for _, file := range []string{"../../examples/demo/visit.yaml", "testdata/metric.yaml", "testdata/three-axle.yaml"} {
		for _, unit := range []string{"bar", "kPa", "psi"} {
			v, r := inUnit(t, file, unit)
			var form bytes.Buffer
			if err := sheet.Form(&form, record.Next(v, dotcode.Date{Year: 2027, Month: 4, Day: 1})); err != nil {
				t.Fatal(err)
			}
			inSome := regexp.MustCompile(`\d ?(psi|kPa|bar)\b`)
			for name, page := range map[string]string{"screen": strings.Join(strings.Fields(sheet.Text(r, sheet.TextOptions{Full: true})), " "), "form": styles.ReplaceAllString(form.String(), ""),
				"sheet": styles.ReplaceAllString(render(t, r, sheet.HTMLOptions{Visit: v}), "")} {
				page = asWritten.ReplaceAllString(page, "")
				if n := strings.Count(page, " "+unit); n < 3 {
					t.Errorf("%s, %s in %s: says it %d times", file, name, unit, n)
				}
				for _, m := range inSome.FindAllStringSubmatchIndex(page, -1) {
					if page[m[2]:m[3]] != unit {
						t.Errorf("%s, %s in %s: %s", file, name, unit, page[max(0, m[0]-40):m[1]])
					}
				}
			}
			_, plain := inUnit(t, file, "")
			if r.Drive != plain.Drive || len(r.Todo) != len(plain.Todo) {
				t.Errorf("%s in %s: %s and %d to do, want %s and %d", file, unit, r.Drive, len(r.Todo), plain.Drive, len(plain.Todo))
				continue
			}
			for i := range r.Todo {
				if r.Todo[i].What != plain.Todo[i].What || r.Todo[i].Where != plain.Todo[i].Where {
					t.Errorf("%s in %s: %s, want %s", file, unit, r.Todo[i].What, plain.Todo[i].What)
				}
			}
		}
	}
}

// TestPressuresRoundToTheSafeSide: 80 % of 110 psi are 6.0674 bar: what is asked for is
// printed as more, what was found as less (NIST SP 811 has 1 psi as 6,894.757 Pa).
func TestPressuresRoundToTheSafeSide(t *testing.T) {
	t.Parallel()
	_, r := inUnit(t, "../../examples/demo/visit.yaml", "bar")
	it := r.Todo[0]
	if it.Found != "6.06 bar +/- 0.04 bar" || it.Bound != "more than 6.07 bar (80 % of last set, 7.59 bar)" {
		t.Errorf("found %s, wanted %s", it.Found, it.Bound)
	}
	page := sheet.Text(r, sheet.TextOptions{})
	for _, want := range []string{"steer  SET 6.9 bar", "drive  SET 7.59 bar", "gauge +/- 0.04 bar"} { // of 100 and 110 psi, and 0.5
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
}

// TestGaugeInTheUnitAskedFor: where nobody said what the gauge reads in, what is to be
// set is whole steps of a gauge in the unit that was asked for.
func TestGaugeInTheUnitAskedFor(t *testing.T) {
	t.Parallel()
	const visit = "visit: 1\ninvented: yes\nunits: metric\nUNIT\ndate: 2026-10-03\ncold: yes\naxles: [{id: steer, fitment: single, gawr: 4200 kg, placard: none}]\n" +
		"every_tire: {size: XM260/71R20, class: truck, single: 2240 kg at 760 kPa, wheel: 2300 kg at 830 kPa, last_set: 690 kPa, seen: nothing}\ntires: [{at: steer-left, found: 690 kPa}]\n" +
		"weighing: {scale: pads, tolerance: 1 kg, as_driven: all, readings: [{load: 1981 kg, on: steer-left}, {load: 1950 kg, on: steer-right}]}\n"
	for unit, step := range map[string]inflation.Pressure{"": 10 * inflation.Kilopascal, "pressure_unit: kPa": 10 * inflation.Kilopascal, "pressure_unit: bar": inflation.Bar / 10, "pressure_unit: psi": inflation.PSI} {
		v, err := record.Read("visit", []byte(strings.Replace(visit, "UNIT\n", unit+"\n", 1)))
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Settings[0]; s.Minimum <= 0 || s.Set%step != 0 || s.Set < s.Minimum || s.Set-step >= s.Minimum {
			t.Errorf("%q: set %s for a need of %s, want whole steps of %s", unit, s.Set, s.Minimum, step)
		}
	}
}

// TestHistoryInTheUnitAskedFor: a history has its pressures in the unit that its visits
// ask for.
func TestHistoryInTheUnitAskedFor(t *testing.T) {
	t.Parallel()
	visits := visittest.Files(t, "../../examples/demo/history/spring.yaml", "../../examples/demo/history/summer.yaml", "../../examples/demo/history/autumn.yaml")
	for _, v := range visits {
		v.PressureUnit = "bar"
	}
	h, err := history.Compare(visits, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(sheet.HistoryText(h, sheet.TextOptions{Full: true})), " ")
	if !strings.Contains(page, "lost 0.22 +/- 0.03 bar a month") { // 3.3 +/- 0.4 psi
		t.Errorf("no leak in bar: %s", page)
	}
	for _, quoted := range []string{"within 5 psi of each other", "(2003), 5 psi", "1 to 2 psi a month", "at most 1 psi more"} {
		page = strings.ReplaceAll(page, quoted, "")
	}
	if other := regexp.MustCompile(`.{0,40}\d (psi|kPa)`).FindString(page); other != "" {
		t.Errorf("not in bar: %s", other)
	}
}

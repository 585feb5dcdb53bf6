package sheet_test

import (
	"bytes"
	"errors"
	"html"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// blank is a visit to fill in.
func blank(t testing.TB, system weight.System, spares int, axles ...record.Axle) *record.Visit {
	t.Helper()
	data, err := record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, System: system, Axles: axles, Spares: spares}.YAML()
	if err != nil {
		t.Fatal(err)
	}
	v, err := record.Read("blank", data)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

var (
	twoAxles = []record.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}}
	allAxles = append(slices.Clone(twoAxles), record.Axle{ID: "tag", Fitment: weight.Single},
		record.Axle{ID: "towed-1", Fitment: weight.Single, Towed: true}, record.Axle{ID: "towed-2", Fitment: weight.Single, Towed: true})
)

func form(t testing.TB, v *record.Visit) string {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.Form(&b, v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// nextOfDemo is the visit after the demo's, of which everything was left as found.
func nextOfDemo(t testing.TB) *record.Visit {
	t.Helper()
	data, err := os.ReadFile("../../examples/demo/visit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	last, err := record.Read("visit.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	for i := range last.Tires {
		last.Tires[i].LeftAt = last.Tires[i].LastSet
	}
	return record.Next(last, dotcode.Date{Year: 2027, Month: 4, Day: 1})
}

func TestGoldenForm(t *testing.T) {
	checkPage(t, "form-two-axles.html", form(t, blank(t, weight.US, 1, twoAxles...)))
	checkPage(t, "form-all-axles.html", form(t, blank(t, weight.Metric, 1, allAxles...)))
	checkPage(t, "form-next.html", form(t, nextOfDemo(t)))
}

// leftOff are fields that are not on a form of paper, each with why.
var leftOff = map[string]string{
	"visit.visit":                    "a form of paper has no version",
	"visit.invented":                 "no demonstration is filled in by hand",
	"visit.units":                    "each box has its unit",
	"visit.pressure_unit":            "each box has its unit",
	"visit.use":                      "asked once, when the coach is first written down",
	"visit.country":                  "asked once, when the coach is first written down",
	"visit.fastest":                  "asked once, when the coach is first written down",
	"visit.last_set_gauge_tolerance": "nobody knows it of another's gauge in a yard",
	"visit.gauge_step":               "the gauge's own, written down once",
	"visit.packs":                    "chosen where the visit is typed in",
	"visit.own":                      "what it holds is the rule pack's",
	"axle.own":                       "what it holds is the rule pack's",
	"tire.own":                       "what it holds is the rule pack's",
	"visit.sure":                     "answers a question that the program asks",
	"visit.done":                     "axleend new -from lists it to be settled",
	"visit.trip":                     "planned at a desk, with stations and tanks",
	"axle.fitment":                   "the boxes are those of the fitment",
	"axle.towed":                     "the boxes are those of the towed unit",
	"axle.behind_steer":              "measured once, for trips",
	"axle.sure":                      "answers a question that the program asks",
	"tire.model":                     "a word of one's own, found when typing",
	"tire.regrooved":                 "rare: a note",
	"tire.other_number":              "rare: a second line beside the number",
	"tire.decade_mark":               "of a tire of the 1990s: drawn behind its number",
	"tire.lowest":                    "rare: a note",
	"tire.driven_since":              "asked once for the coach",
	"tire.sensor_fitted":             "rare: a note",
	"tire.hot":                       "asked once for the coach: all read cold",
	"tire.in_sun":                    "asked once for the coach: all read cold",
	"tire.stem_fitted":               "rare: a note",
	"tire.diameter":                  "measured only where duals differ in size",
	"tire.circumference":             "measured only where duals differ in size",
	"tire.crack_depth":               "measured only where a crack is: beside its number",
	"tire.cut_depth":                 "measured only where a cut is: beside its number",
	"tire.cut_at":                    "where a cut is: beside its number",
	"tire.cut_length":                "measured only where a cut is: beside its number",
	"tire.injury_width":              "measured only where a nail is: beside its number",
	"tire.injury_at":                 "where a nail is: beside its number",
	"tire.note":                      "notes has room for them",
	"tire.photos":                    "names of files",
	"tire.inspected_by":              "off the wheel, in a shop",
	"tire.rotates":                   "for moving tires about, not for a visit",
	"tire.wheel_fits":                "for moving tires about, not for a visit",
	"tire.sure":                      "answers a question that the program asks",
	"weighing.as_driven":             "its three boxes say it",
	"weighing.work_since":            "of an older weighing, asked at a desk",
	"weighing.raised":                "rare: written beside the boxes",
	"weighing.heavier_share":         "assumed at a desk",
	"weighing.unhitched":             "a second strip",
	"reading.name":                   "the place on the plate is its name",
	"reading.tolerance":              "the scale's is asked",
	"reading.sure":                   "answers a question that the program asks",
	"done.note":                      "written behind it",
}

var labels = regexp.MustCompile(`<span class="k" data-field="([^"]*)">([^<]*)</span>`)

// labelsOf are the fields of a form by part and key, with what it calls them.
func labelsOf(page string) map[string]string {
	out := make(map[string]string)
	for _, m := range labels.FindAllStringSubmatch(page, -1) {
		out[m[1]] = html.UnescapeString(m[2])
	}
	return out
}

// wrongWithForm says which labels are no field's, and which fields are neither on the
// form nor left off with a reason.
func wrongWithForm(page string) []string {
	on := labelsOf(page)
	var out []string
	parts := make(map[string]bool)
	for _, f := range record.Fields() {
		parts[f.Part] = true
	}
	known := make(map[string]bool)
	for _, f := range record.Fields() {
		name := f.Part + "." + f.Key
		known[name] = true
		label, shown := on[name]
		reason, left := leftOff[name]
		_, tripLeft := leftOff["visit.trip"]
		ofTrip := tripLeft && slices.Contains([]string{"trip", "station", "item", "change", "label"}, f.Part)
		switch {
		case shown && label != f.Label:
			out = append(out, name+" is called "+label+", not "+f.Label)
		case shown && left:
			out = append(out, name+" is on the form and left off: "+reason)
		case !shown && !left && !ofTrip && !parts[f.Kind]:
			out = append(out, name+" is neither on the form nor left off with a reason")
		}
	}
	for name := range maps.Keys(on) {
		if !known[name] {
			out = append(out, name+" is on the form and no field")
		}
	}
	for name := range leftOff {
		if !known[name] {
			out = append(out, name+" is left off and no field")
		}
	}
	return out
}

// TestFormIsMadeOfTheFields: each label is that of a field, each field is on the
// form or left off with a reason, and each condition stands in the list.
func TestFormIsMadeOfTheFields(t *testing.T) {
	page := form(t, blank(t, weight.US, 1, allAxles...))
	for _, s := range wrongWithForm(page) {
		t.Error(s)
	}
	for i, c := range condition.All() {
		if line := "<li><b>" + strconv.Itoa(i+1) + "</b> " + c.String() + "</li>"; !strings.Contains(page, line) {
			t.Errorf("no %q", line)
		}
	}
	// A box, a row and a column each begin with a label, an axle or one of these.
	plain := []string{"as stamped", "tire no.", "owner&#39;s signature"}
	for _, a := range allAxles {
		plain = append(plain, a.ID, a.ID+"-left", a.ID+"-right")
	}
	for _, m := range regexp.MustCompile(`<(?:div class="f(?: first| many)?"|th scope="(?:row|col)"(?: class="c0")?)>(?:<span>)?([^<]*)<([^>]*)>`).FindAllStringSubmatch(page, -1) {
		number := strings.HasPrefix(m[2], `span class="no"`)
		if !number && !strings.HasPrefix(m[2], `span class="k" data-field=`) && !slices.Contains(plain, m[1]) {
			t.Errorf("a box that is no field: %q", m[0])
		}
	}
	// What is looked for is found where it is wrong.
	for _, bad := range []string{
		strings.ReplaceAll(page, ">GAWR<", ">axle rating<"), strings.ReplaceAll(page, "axle.gawr", "axle.no_such"), strings.ReplaceAll(page, "axle.gawr", "axle.sure"),
	} {
		if len(wrongWithForm(bad)) == 0 {
			t.Error("a form that calls a field by another name passes")
		}
	}
}

// TestFormHasEveryTire: each wheel and spare has one number, in the order of a lap,
// and each has its boxes.
func TestFormHasEveryTire(t *testing.T) {
	for _, axles := range [][]record.Axle{twoAxles, allAxles} {
		v := blank(t, weight.US, 2, axles...)
		page := form(t, v)
		heads := regexp.MustCompile(`<span class="no">(\d+)</span>([a-z0-9-]+)</th>`).FindAllStringSubmatch(page, -1)
		if len(heads) != len(v.Tires) {
			t.Errorf("%d places, want %d", len(heads), len(v.Tires))
		}
		for i, h := range heads {
			if h[1] != strconv.Itoa(i+1) {
				t.Errorf("number %s, want %d", h[1], i+1)
			}
		}
		first, last := heads[0][2], heads[len(heads)-3][2]
		if first != "steer-left" || last != "steer-right" {
			t.Errorf("the lap goes from %s to %s, want steer-left to steer-right", first, last)
		}
	}
}

// TestFormsFlatLines: each flat line on the form is judged flat, one unit more is
// not (29 CFR 1910.177(f)(2)(i): 80 % or less).
func TestFormsFlatLines(t *testing.T) {
	pairs := regexp.MustCompile(`<span>([\d.]+): <b>([\d.]+)</b></span>`)
	for _, unit := range []string{"psi", "kPa", "bar"} {
		v := blank(t, weight.US, 0, twoAxles...)
		v.PressureUnit = unit
		all := pairs.FindAllStringSubmatch(form(t, v), -1)
		if len(all) < 10 {
			t.Errorf("%s: %d flat lines", unit, len(all))
		}
		for _, m := range all {
			set, err := inflation.ParsePressure(m[1] + " " + unit)
			if err != nil {
				t.Fatal(err)
			}
			line, err := inflation.ParsePressure(m[2] + " " + unit)
			if err != nil {
				t.Fatal(err)
			}
			for above := range 2 {
				found := line
				if above == 1 {
					found += inflation.PSI
				}
				v := blank(t, weight.US, 0, twoAxles...)
				v.GaugeTolerance, v.DrivenSince = record.Record(inflation.Pressure(0)), record.Record(true)
				v.Tires[0].LastSet, v.Tires[0].Found = record.Record(set), record.Record(found)
				r, err := inspect.Assess(v, inspect.Setup{})
				if err != nil {
					t.Fatal(err)
				}
				if got := r.Tire(v.Tires[0].At).Low; (got == report.Flat) != (above == 0) {
					t.Errorf("set to %s, found %s: %v", set, found, got)
				}
			}
		}
	}
}

// TestFormTakesOver: what the last visit knows is in its box, what was read is not.
func TestFormTakesOver(t *testing.T) {
	page := form(t, nextOfDemo(t))
	for _, want := range []string{"Invented demo coach, two axles", "26000 lb", "17500 lb", "XV250/72R21", "4940 lb at 110 psi", "2222", `<td><bdi class="known">110 psi</bdi></td>`} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the form", want)
		}
	}
	for _, no := range []string{"99 psi", "2027-04-01", "not read"} {
		if strings.Contains(page, no) {
			t.Errorf("%q is on the form", no)
		}
	}
	v := blank(t, weight.US, 0, twoAxles...)
	v.Tires[0].Size, v.Tires[1].Size = "XV250/72R21", "XV235/75R17"
	if page := form(t, v); !strings.Contains(page, "tire no. 1</th><td><bdi class=\"known\">XV250/72R21") {
		t.Error("a tire that differs has no row of its own")
	}
}

// TestFormEscapesText: text that would be markup is text.
func TestFormEscapesText(t *testing.T) {
	const hostile = `</td></style><script>alert(1)</script>"'`
	v := nextOfDemo(t)
	v.Coach, v.Gauge, v.Names.Customer, v.EveryTire.Size, v.Tires[0].Size, v.Axles[0].PlacardSize = hostile, hostile, hostile, hostile, hostile+"2", hostile
	v.Tires[0].Number = record.Record(hostile)
	page := form(t, v)
	if strings.Contains(page, "<script") || strings.Count(page, "</style>") != 1 || strings.Count(page, html.EscapeString(hostile)) < 7 {
		t.Errorf("%d times as text", strings.Count(page, html.EscapeString(hostile)))
	}
}

func TestFormRefuses(t *testing.T) {
	var problems *origin.Problems
	if err := sheet.Form(io.Discard, &record.Visit{Version: record.Version}); !errors.As(err, &problems) {
		t.Errorf("no axles: %v", err)
	}
	if err := sheet.Form(full{}, blank(t, weight.US, 0, twoAxles...)); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
}

// TestFrontOnEveryBand: whoever looks at one band alone sees where the front is, and
// from where left and right are said.
func TestFrontOnEveryBand(t *testing.T) {
	for name, axles := range map[string][]record.Axle{"two axles": twoAxles, "all axles": allAxles} {
		bands := strings.Split(form(t, blank(t, weight.US, 1, axles...)), "<h2>")[1:]
		if len(bands) != 6 {
			t.Errorf("%s: %d bands", name, len(bands))
		}
		for _, band := range bands {
			if title, _, _ := strings.Cut(band, " <small>"); !strings.Contains(band, "FRONT") || !strings.Contains(band, "left and right from the driver&#39;s seat") {
				t.Errorf("%s: %s: no front, or no seat", name, title)
			}
		}
	}
}

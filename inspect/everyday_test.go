package inspect_test

import (
	"os"
	"strings"
	"testing"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// An everyday visit is the sound coach below with what is otherwise said, and
// what its report must say and must not. Lines are "key: value; key: value"; a
// value of - leaves the key out.
type everyday struct {
	name string // the subject it is about, and the story
	// visit, steer, drive, car, every and weighing change the mappings of the
	// file; tires those of the tires whose place begins so.
	visit, steer, drive, car, every, weighing string
	readings                                  string // "steer-left: 4100 lb; drive: 16500 lb" in place of the ends'
	tires                                     map[string]string
	more                                      string // further lines of the file
	table                                     bool
	program                                   func(*testing.T) *rules.Program

	drives report.Drive
	or     report.Drive          // where both are right
	low    map[string]report.Low // by beginning of the place, as above
	not    map[string]report.Low
	air    map[string]report.Air
	set    map[string]string // by axle; "" is no number
	// has and lacks are "rule at place" of the list of what to do, "? text" of what
	// was not judged, or texts of the whole page.
	has, lacks []string
	clears     bool           // no rating may be kept
	quiet      bool           // a house pack made a flat milder
	lines      map[string]int // how many lines of what was not judged have a text
}

// The sound coach: an invented coach with a tire of an invented size, read, looked
// over and weighed as it is driven. By its table the steer axle needs 85 psi and
// the drive axle 100 (computed from the demo's invented table).
const soundCoach = "visit: 1; date: 2026-10-03; cold: yes; driven_since: yes; nothing_since_set: yes; last_set_on: 2026-09-20; last_set_air: 60 F; " +
	"air_temperature: 60 F; gauge_tolerance: 0.5 psi; gauge_step: 5 psi; ratings: {gvwr: 26000 lb}"

const (
	soundSteer    = "id: steer; fitment: single; gawr: 9200 lb; placard: 100 psi; placard_size: XV250/72R21; placard_load_range: G"
	soundDrive    = "id: drive; fitment: dual; gawr: 17500 lb; placard: 110 psi; placard_size: XV250/72R21; placard_load_range: G; behind_steer: 228 in"
	soundEvery    = "size: XV250/72R21; load_range: G; class: truck; construction: radial; model: one; single: 4940 lb at 110 psi; dual: 4540 lb at 110 psi; wheel: 5000 lb at 120 psi; retread: no; regrooved: no; seen: nothing; sidewalls: both; service: 136/133L"
	soundWeighing = "scale: segmented; division: 20 lb; tolerance: 20 lb; level: yes; ride_height: yes; levelers_up: yes; slides_in: yes; as_driven: all; work_since: no; date: 2026-10-03"
	soundReadings = "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 8300 lb; drive-right: 8200 lb"
	soundTire     = "tread: 10/32 in; number: 1M3 ABCDEF 2223"
	soundCar      = "size: PX217/62R16; class: passenger; construction: radial; single: 1653 lb at 51 psi; seen: nothing; retread: no; tread: 8/32 in; number: 1M3 ABCDEF 2223; last_set: 35 psi"
)

// merged is a line of keys with some of them said otherwise.
func merged(line, other string) (keys []string, value map[string]string) {
	value = map[string]string{}
	for _, part := range append(strings.Split(line, "; "), strings.Split(other, "; ")...) {
		key, v, ok := strings.Cut(part, ": ")
		if !ok {
			continue
		}
		if _, old := value[key]; !old {
			keys = append(keys, key)
		}
		value[key] = v
	}
	return keys, value
}

func flow(line, other string) string {
	keys, value := merged(line, other)
	var parts []string
	for _, k := range keys {
		if value[k] != "-" {
			parts = append(parts, k+": "+value[k])
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// file writes the visit.
func (e *everyday) file() string {
	var b strings.Builder
	keys, value := merged(soundCoach, e.visit)
	for _, k := range keys {
		if value[k] != "-" {
			b.WriteString(k + ": " + value[k] + "\n")
		}
	}
	b.WriteString("invented: yes\naxles:\n  - " + flow(soundSteer, e.steer) + "\n  - " + flow(soundDrive, e.drive) + "\n")
	if e.car != "" {
		b.WriteString("  - " + flow("id: car; fitment: single; towed: yes; placard: 35 psi", e.car) + "\n")
	}
	b.WriteString("every_tire: " + flow(soundEvery, e.every) + "\ntires:\n")
	tire := func(at, own string) {
		other := ""
		for _, prefix := range []string{"", at[:strings.IndexAny(at+"-", "-")], at[:max(0, strings.LastIndexByte(at, '-'))], at} {
			if more, ok := e.tires[prefix]; ok && (prefix == "" || !strings.Contains(other, more)) {
				other += "; " + more
			}
		}
		b.WriteString("  - " + flow("at: "+at+"; "+own, other) + "\n")
	}
	for _, at := range []string{"steer-left", "steer-right"} {
		tire(at, soundTire+"; last_set: 90 psi; found: 90 psi")
	}
	for _, at := range []string{"drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer"} {
		tire(at, soundTire+"; last_set: 105 psi; found: 105 psi")
	}
	if e.car != "" {
		for _, at := range []string{"car-left", "car-right"} {
			tire(at, soundCar+"; found: 35 psi")
		}
	}
	if _, ok := e.tires["spare"]; ok {
		tire("spare", soundTire)
	}
	readings := soundReadings
	if e.readings != "" {
		readings = e.readings
	}
	if e.weighing != "none" {
		b.WriteString("weighing:\n")
		keys, value := merged(soundWeighing, e.weighing)
		for _, k := range keys {
			if value[k] != "-" {
				b.WriteString("  " + k + ": " + value[k] + "\n")
			}
		}
		b.WriteString("  readings:\n")
		for _, r := range strings.Split(readings, "; ") {
			on, load, _ := strings.Cut(r, ": ")
			b.WriteString("    - {load: " + load + ", on: " + on + "}\n")
		}
	}
	return b.String() + e.more
}

// assess judges the visit.
func (e *everyday) assess(t *testing.T) report.Report {
	t.Helper()
	v, err := record.Read("everyday.yaml", []byte(e.file()))
	if err != nil {
		t.Fatalf("%v\n%s", err, e.file())
	}
	setup := inspect.Setup{}
	if e.table {
		if setup.Tables, err = tablefile.LoadFolder(os.DirFS(visittest.DemoFolder(t))); err != nil {
			t.Fatal(err)
		}
	}
	if e.program != nil {
		setup.Program = e.program(t)
	}
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatalf("%v\n%s", err, e.file())
	}
	return r
}

// withPacks compiles packs by name.
func withPacks(names ...string) func(*testing.T) *rules.Program {
	return func(t *testing.T) *rules.Program {
		t.Helper()
		p, err := inspect.CompilePacks(packs.FS(), names...)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

// says reports whether a report has what an everyday visit expects.
func says(r *report.Report, what string) bool {
	if rule, where, ok := strings.Cut(what, " at "); ok && !strings.Contains(rule, " ") {
		_, found := has(*r, where, rule)
		return found
	}
	if text, ok := strings.CutPrefix(what, "? "); ok {
		for _, g := range r.Unjudged {
			if strings.Contains(g.Where+": "+g.Need, text) {
				return true
			}
		}
		return false
	}
	return strings.Contains(everything(r), what)
}

// everything is all that a report says in words.
func everything(r *report.Report) string {
	text := answer(r)
	for _, it := range r.Todo {
		text += it.Advice + "\n" + strings.Join(it.Causes, "\n") + "\n"
	}
	return text + strings.Join(r.Cautions, "\n")
}

// TestEverydayVisits: what a visit to a coach must say, and what it must not.
func TestEverydayVisits(t *testing.T) {
	t.Parallel()
	if sound, n := soundVisits(), len(everydays()); n < 40 || 2*sound < n-10 {
		t.Errorf("%d everyday visits, %d of them sound or merely asked: want 40, half of them", n, sound)
	}
	for _, e := range everydays() {
		t.Run(e.name, func(t *testing.T) {
			t.Parallel()
			r := e.assess(t)
			e.check(t, &r)
			if t.Failed() {
				t.Logf("%s\n%s", e.file(), answer(&r))
			}
		})
	}
}

// soundVisits counts those on which nothing stops.
func soundVisits() int {
	n := 0
	for _, e := range everydays() {
		if !e.drives.Stops() {
			n++
		}
	}
	return n
}

func (e *everyday) check(t *testing.T, r *report.Report) {
	t.Helper()
	if r.Drive != e.drives && r.Drive != e.or {
		t.Errorf("may it drive: %q, want %q", r.Drive, e.drives)
	}
	for i := range r.Tires {
		line := &r.Tires[i]
		if want, ok := byPlace(e.low, line.At); ok && line.Low != want {
			t.Errorf("%s: %q, want %q", line.At, line.Low, want)
		}
		if not, ok := byPlace(e.not, line.At); ok && line.Low == not {
			t.Errorf("%s: %q, want anything else", line.At, line.Low)
		}
		if want, ok := byPlace(e.air, line.At); ok && line.Air != want {
			t.Errorf("%s: air %q, want %q", line.At, line.Air, want)
		}
	}
	for _, bad := range append(airAdvised(r), flatUnsaid(r)...) {
		if e.quiet && bad.aspect == "flat unsaid" {
			continue
		}
		t.Error(bad)
	}
	for i := range r.Loads {
		for _, rating := range r.Loads[i].Ratings {
			if e.clears && rating.Verdict == rules.Kept {
				t.Errorf("%s: the rating of %v is said to be kept", r.Loads[i].Name, rating.Rating)
			}
		}
	}
	for axle, want := range e.set {
		got := ""
		if s := r.Setting(axle); s != nil && s.Set > 0 {
			got = s.Set.String()
		}
		if want != got {
			t.Errorf("%s: set %q, want %q", axle, got, want)
		}
	}
	for _, what := range e.has {
		if !says(r, what) {
			t.Errorf("it does not say %q", what)
		}
	}
	for _, what := range e.lacks {
		if says(r, what) {
			t.Errorf("it says %q", what)
		}
	}
	for text, want := range e.lines {
		n := 0
		for _, g := range r.Unjudged {
			if strings.Contains(g.Where+": "+g.Need, text) {
				n++
			}
		}
		if n != want {
			t.Errorf("%d lines of what was not judged have %q, want %d", n, text, want)
		}
	}
}

// byPlace finds the longest beginning of a place.
func byPlace[T any](m map[string]T, at string) (T, bool) {
	best, found := "", false
	for prefix := range m {
		if strings.HasPrefix(at, prefix) && len(prefix) >= len(best) {
			best, found = prefix, true
		}
	}
	return m[best], found
}

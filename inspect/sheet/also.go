package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// An alsoLine is one thing that a visit records beside what is judged, and how it is
// at each place, in the order in which it first comes.
type alsoLine struct {
	label string
	at    []alsoAt
}

type alsoAt struct {
	places []string
	value  string
}

// add says how it is at one more place, nothing where that is not recorded.
func (l *alsoLine) add(place, value string) {
	if value == "" {
		return
	}
	i := slices.IndexFunc(l.at, func(a alsoAt) bool { return a.value == value })
	if i < 0 {
		i = len(l.at)
		l.at = append(l.at, alsoAt{value: value})
	}
	l.at[i].places = append(l.at[i].places, place)
}

// labels are what each field of a visit is called, by part and key.
func labels() map[string]string {
	out := make(map[string]string)
	for _, f := range record.Fields() {
		out[f.Part+"."+f.Key] = f.Label
	}
	return out
}

// recordedText is a value as a file has it, "" where it is not recorded.
func recordedText[T any](r record.Recorded[T]) string {
	if !r.Is() {
		return ""
	}
	return r.String()
}

// since is a day and how long ago it was at the visit.
func (p *htmlPage) since(r record.Recorded[dotcode.Date]) string {
	day, ok := r.Get()
	if !ok || day.After(p.r.Date) {
		return recordedText(r)
	}
	return fmt.Sprintf("%s (%s)", day, dotcode.Between(day, p.r.Date))
}

// alsoOfVisit are the single things that the visit records.
func (p *htmlPage) alsoOfVisit(label map[string]string) [][2]string {
	v := p.visit
	tongue := ""
	if m, ok := v.Towing.Tongue.Get(); ok {
		tongue = p.mass(m, weight.Ceiling)
	}
	var out [][2]string
	air := ""
	if t, ok := v.NextDayAir.Get(); ok {
		air = p.temperature(t)
	}
	for _, f := range [...][2]string{
		{"visit.next_day_air", air}, {"names.last_set_by", v.Names.LastSetBy}, {"visit.last_set_on", recordedText(v.LastSetOn)},
		{"visit.gauge_checked", recordedText(v.GaugeChecked)}, {"towing.tongue", tongue},
		{"visit.torque_due", recordedText(v.TorqueDue)}, {"visit.next_visit", recordedText(v.NextVisit)}, {"visit.notes", strings.Join(v.Notes, "; ")},
	} {
		if f[1] != "" {
			out = append(out, [2]string{label[f[0]], f[1]})
		}
	}
	return out
}

// alsoByPlace are the things that the visit records of axles and tires.
func (p *htmlPage) alsoByPlace(label map[string]string) []alsoLine {
	asked, applied := alsoLine{label: label["axle.torque_asked"]}, alsoLine{label: label["axle.torque_applied"]}
	for i := range p.visit.Axles {
		a := &p.visit.Axles[i]
		asked.add(a.ID, recordedText(a.TorqueAsked))
		applied.add(a.ID, recordedText(a.TorqueApplied))
	}
	out := []alsoLine{asked, applied}
	tires := make([]*record.Tire, len(p.visit.Tires))
	for i := range tires {
		tires[i] = p.tire(p.visit.Tires[i].At) // with what all tires share
	}
	for _, f := range [...]struct {
		key  string
		text func(t *record.Tire) string
	}{
		{"wheel_on", func(t *record.Tire) string { return recordedText(t.WheelOn) }},
		{"torque_checked", func(t *record.Tire) string { return recordedText(t.TorqueChecked) }},
		{"stem", func(t *record.Tire) string { return recordedText(t.Stem) }},
		{"extension", func(t *record.Tire) string { return recordedText(t.Extension) }},
		{"stem_fitted", func(t *record.Tire) string { return p.since(t.StemFitted) }},
		{"sensor_reading", func(t *record.Tire) string {
			if v, ok := t.SensorReading.Get(); ok {
				return p.psi(v, weight.Floor)
			}
			return ""
		}},
		{"sensor_fitted", func(t *record.Tire) string { return p.since(t.SensorFitted) }},
		{"next_day", func(t *record.Tire) string {
			if v, ok := t.NextDay.Get(); ok {
				return p.psi(v, weight.Floor)
			}
			return ""
		}},
		{"inspected_by", func(t *record.Tire) string { return t.InspectedBy }},
		{"photos", func(t *record.Tire) string { return strings.Join(t.Photos, ", ") }},
		{"note", func(t *record.Tire) string { return t.Note }},
	} {
		line := alsoLine{label: label["tire."+f.key]}
		for _, t := range tires {
			line.add(t.At, f.text(t))
		}
		out = append(out, line)
	}
	return slices.DeleteFunc(out, func(l alsoLine) bool { return len(l.at) == 0 })
}

// unhitched sets what the scale showed with the towed unit off beside its other
// readings, a row for whatever stood on the plate.
func (p *htmlPage) unhitched() [][3]string {
	w := &p.visit.Weighing
	if len(w.Unhitched) == 0 {
		return nil
	}
	var out [][3]string
	for column, readings := range [...][]record.Reading{w.Readings, w.Unhitched} {
		for i := range readings {
			on := strings.Join(slices.Sorted(slices.Values(readings[i].On)), ", ")
			at := slices.IndexFunc(out, func(row [3]string) bool { return row[0] == on })
			if at < 0 {
				at = len(out)
				out = append(out, [3]string{on})
			}
			cell := &out[at][1+column]
			if *cell != "" { // the same plate, read again
				*cell += ", "
			}
			*cell += p.mass(readings[i].Load, weight.Nearest)
		}
	}
	return out
}

// also writes what the visit records beside what is judged, nothing where it
// records none of it.
func (p *htmlPage) also(m *markup) {
	if p.visit == nil {
		return
	}
	label := labels()
	facts, lines, rows := p.alsoOfVisit(label), p.alsoByPlace(label), p.unhitched()
	if len(facts)+len(lines)+len(rows) == 0 {
		return
	}
	m.element("<section><h2>", backAlso, "</h2>\n")
	if len(facts) > 0 {
		factList(m, facts)
	}
	if len(lines) > 0 {
		p.placeList(m, lines)
	}
	if len(rows) > 0 {
		p.unhitchedTable(m, label, rows)
	}
	m.lit("</section>\n")
}

// placeList writes a line for each field, with what each place has.
func (p *htmlPage) placeList(m *markup, lines []alsoLine) {
	m.lit(`<ul class="list flow">` + "\n")
	for _, l := range lines {
		m.element("<li>", l.label, ": ")
		for i, a := range l.at {
			if i > 0 {
				m.lit("; ")
			}
			m.element("<b>", placesOf(p.r, a.places), "</b> ").element("<bdi>", a.value, "</bdi>")
		}
		m.lit("</li>\n")
	}
	m.lit("</ul>\n")
}

func (p *htmlPage) unhitchedTable(m *markup, label map[string]string, rows [][3]string) {
	hitched := label["weighing.readings"]
	if record.Yes(p.visit.Weighing.Hitched) {
		hitched += ", " + label["weighing.hitched"]
	}
	m.head("", label["reading.on"], hitched, label["weighing.unhitched"])
	for _, row := range rows {
		for i := range row {
			if row[i] == "" {
				row[i] = sheetNotRecorded
			}
		}
		m.row(row[:]...)
	}
	m.tail()
}

// factList writes names and values side by side.
func factList(m *markup, facts [][2]string) {
	m.lit(`<dl class="facts">`)
	for _, f := range facts {
		m.element("<div><dt>", f[0], "</dt> ").element("<dd><bdi>", f[1], "</bdi></dd></div>\n")
	}
	m.lit("</dl>\n")
}

// declined writes what the owner declined, for the signature below it.
func (p *htmlPage) declined(m *markup) {
	if p.visit == nil || len(p.visit.Declined) == 0 {
		return
	}
	lines := make([]string, len(p.visit.Declined))
	for i, d := range p.visit.Declined {
		lines[i] = d.At + ": " + p.adviceNamed(d.Rule)
		if d.Note != "" {
			lines[i] += " (" + d.Note + ")"
		}
	}
	m.element("<section><h2>", backDeclined, "</h2>\n").list(lines).lit("</section>\n")
}

// adviceNamed is the title of a rule that this report names, else what was written.
func (p *htmlPage) adviceNamed(rule string) string {
	for i := range p.all {
		if slices.ContainsFunc(p.all[i].rules, func(r string) bool { return r == rule || strings.HasSuffix(r, "/"+rule) }) {
			return p.all[i].what
		}
	}
	return rule
}

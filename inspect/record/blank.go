package record

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Blank is a visit that is still to be filled in.
type Blank struct {
	// Date is the day of the visit.
	Date dotcode.Date
	// System is the units that it is to be filled in with.
	System weight.System
	// PressureUnit is the unit of its pressures, as [Visit.PressureUnit] has it; empty
	// for that of System.
	PressureUnit string
	// Axles are all of them from the front, the towed unit's last. What is
	// known of them, such as a placard's pressure, is filled in.
	Axles []Axle
	// Spares is how many it carries, 0 to 9.
	Spares int
}

// maxSpares is how many spares have a name.
const maxSpares = 9

// examples are of the units of a blank.
type examples struct{ odometer, air, gauge, step, load, stamped, division, pressure, depth string }

// examples gives them: those of the system, its pressures in the unit asked for.
func (b *Blank) examples() examples {
	e := examples{"41,250 mi", "60 F", "1 psi", "5 psi", "4940 lb", "110 psi", "20 lb", "95 psi", "9/32 in"}
	unit := "psi"
	if b.System == weight.Metric {
		unit = "kPa"
		e.odometer, e.air, e.load, e.division, e.depth = "66,400 km", "15 C", "2240 kg", "10 kg", "7 mm"
	}
	if b.PressureUnit != "" {
		unit = b.PressureUnit
	}
	switch unit {
	case "kPa":
		e.gauge, e.step, e.stamped, e.pressure = "7 kPa", "35 kPa", "760 kPa", "655 kPa"
	case "bar":
		e.gauge, e.step, e.stamped, e.pressure = "0.1 bar", "0.1 bar", "7.6 bar", "6.5 bar"
	}
	return e
}

// YAML writes the blank as a file for a technician to fill in, at most 80
// columns wide. [Read] reads it as it is, with nothing recorded: every
// reading says "not read", and with the # off so does each line that is
// commented out. The error is an [*origin.Problems] of axles, spares, a unit or a
// date that make no visit.
func (b Blank) YAML() ([]byte, error) {
	var ps origin.Problems
	report := func(path, code string, err error) { ps.Add(origin.Problem{Path: path, Code: code, Err: err}) }
	if b.Spares < 0 || b.Spares > maxSpares {
		report("spares", strictyaml.CodeRange, fmt.Errorf("%w: %d spares, want 0 to %d", origin.ErrRange, b.Spares, maxSpares))
	}
	if b.PressureUnit != "" {
		if _, err := pressureUnitKind().parse(b.PressureUnit); err != nil {
			report("pressure_unit", strictyaml.CodeValue, err)
		}
	}
	var l Layout
	checkVisit(&Visit{Version: Version, Date: b.Date, Axles: b.Axles}, &l, report)
	if err := ps.Err(); err != nil {
		return nil, err
	}
	w := blankWriter{b: b, wheels: l.Wheels}
	w.top()
	w.axles()
	w.shared()
	w.tires()
	w.weighing()
	return w.out.Bytes(), nil
}

type blankWriter struct {
	b      Blank
	wheels []Wheel
	out    bytes.Buffer
}

func (w *blankWriter) line(format string, args ...any) {
	fmt.Fprintf(&w.out, format+"\n", args...)
}

// key writes a key with its value, and beside it what may stand there.
func (w *blankWriter) key(key, value, hint string) {
	w.line("%-29s # %s", key+": "+value, hint)
}

// text stands where words go: a text says nothing about the coach.
const text = "____"

func (w *blankWriter) top() {
	e := w.b.examples()
	w.line("# A visit to fill in. Write over \"not read\" what was read, with its unit; let it")
	w.line("# stand where nobody read. 0 is a reading: a tire at 0 is flat. A line that")
	w.line("# starts with # and no space is for use when needed: take its # off.")
	w.line("visit: %d", Version)
	w.line("date: %s", w.b.Date)
	if w.b.PressureUnit == "" {
		w.key("units", w.b.System.String(), "pressure_unit: bar prints pressures in bar")
	} else {
		w.line("units: %s\npressure_unit: %s", w.b.System, w.b.PressureUnit)
	}
	w.key("#coach", text, "which one, in your own words")
	w.key("odometer", notReadText, e.odometer)
	w.key("#load_state", text, "the people, water, fuel and cargo aboard")
	w.key("stood", notReadText, "since it was driven: 45 min, 3 h, 60 days")
	w.key("air_temperature", notReadText, e.air)
	w.key("#gauge", text, "which one")
	w.key("gauge_tolerance", notReadText, "by how much it may be off: "+e.gauge)
	w.key("#gauge_step", notReadText, "pressures to set are rounded up to it: "+e.step)
	w.key("#cold", notReadText, "yes: every tire read cold, in the shade")
	w.key("#driven_since", notReadText, "no: found low only after it was parked")
	w.key("#nothing_since_set", notReadText, "yes: no air added, no alarm, none read lower")
	w.key("#last_set_on", notReadText, "the day the tires were set: 2026-04-30")
	w.key("#last_set_air", notReadText, "and the air then: "+e.air)
	w.key("#tows", notReadText, "nothing, car, trailer or fifth wheel")
	w.line("#names: {customer: %s, technician: %[1]s, plate: %[1]s, work_order: %[1]s}", text)
	w.line("ratings: {gvwr: %s, gcwr: %[1]s}", notReadText)
}

// filled gives what is known, or "not read". No quantity is written with a
// comma, which would end the value between brackets.
func filled[T any](r Recorded[T]) string {
	if v, ok := r.Get(); ok {
		return fmt.Sprint(v)
	}
	return notReadText
}

// entry writes a mapping between brackets as an entry of a list, broken only
// between its parts.
func (w *blankWriter) entry(parts ...string) {
	line := "  - {" + parts[0]
	for _, p := range parts[1:] {
		line += ","
		if len(line)+len(p)+2 > 80 {
			w.line("%s", line)
			line = "    "
		}
		line += " " + p
	}
	w.line("%s}", line)
}

func (w *blankWriter) axles() {
	w.line("\naxles:                        # from the front; placard: its cold pressure")
	for i, a := range w.b.Axles {
		entry := []string{"id: " + a.ID, "fitment: " + a.Fitment.String()}
		if a.Towed {
			entry = append(entry, "towed: yes")
		}
		entry = append(entry, "gawr: "+filled(a.GAWR), "placard: "+filled(a.Placard))
		if i > 0 {
			entry = append(entry, "behind_steer: "+filled(a.Behind))
		}
		w.entry(entry...)
	}
}

func (w *blankWriter) shared() {
	dual, towed := false, false
	for _, a := range w.b.Axles {
		dual, towed = dual || a.Fitment == weight.Dual && !a.Towed, towed || a.Towed
	}
	w.line("\nevery_tire:                   # what the coach's share; a tire's own entry wins")
	w.stamps(dual)
	if towed {
		w.line("every_towed_tire:             # the same for the towed unit's")
		w.stamps(false)
	}
}

func (w *blankWriter) stamps(dual bool) {
	e := w.b.examples()
	w.key("  #size", text, "as stamped, letters and all")
	w.key("  #load_range", text, "a letter")
	w.key("  service", notReadText, "load index and speed symbol: 141/140L")
	w.key("  class", notReadText, "passenger, light truck, truck or trailer")
	w.key("  construction", notReadText, "radial, bias or bias-belted")
	w.key("  single", notReadText, "its most alone: "+e.load+" at "+e.stamped)
	if dual {
		w.key("  dual", notReadText, "its most beside a mate, for one tire")
	}
	w.key("  wheel", notReadText, "stamped on the wheel")
	w.key("  last_set", notReadText, "cold: "+e.pressure)
	w.key("  #retread", notReadText, "yes or no")
}

func (w *blankWriter) tires() {
	e := w.b.examples()
	w.line("")
	for _, l := range wrapped("found, left: pressure as found and as left. tread: "+e.depth+", or {inner: "+e.depth+", center: "+e.depth+", outer: "+e.depth+"} "+
		"at the shoulders and the center. number: the whole one after DOT, in quotes. seen: nothing, one of the words below, or several in [ ]. "+
		"Where it helps also "+strings.Join(w.others(), ", ")+".", 78) {
		w.line("# %s", l)
	}
	for _, l := range wrapped(strings.Join(conditionWords(), ", ")+".", 77) {
		w.line("#  %s", l)
	}
	w.line("tires:")
	tire := func(at string) {
		w.entry("at: "+at, "found: not read", "left: not read", "tread: not read", "number: not read, seen: not read")
	}
	for _, wheel := range w.wheels {
		tire(wheel.Name)
	}
	for i := range w.b.Spares {
		if i == 0 {
			tire("spare")
		} else {
			tire(fmt.Sprintf("spare-%d", i+1))
		}
	}
}

// others are the keys of a tire that the blank does not show elsewhere, with
// their words where these are few.
func (w *blankWriter) others() []string {
	shown := []string{"at", "size", "load_range", "service", "class", "construction", "single", "dual", "wheel", "last_set", "found", "left", "tread", "number", "seen"}
	var out []string
	for _, f := range tirePart().fields {
		text := f.Key
		switch {
		case slices.Contains(shown, f.Key):
			continue
		case f.Kind == "word":
			text += " (" + strings.Join(f.Words, ", ") + ")"
		case f.Kind == "date":
			text += " (date)"
		}
		out = append(out, text)
	}
	return out
}

// wrapped breaks a text between words.
func wrapped(text string, width int) []string {
	var out []string
	for len(text) > width {
		cut := strings.LastIndexByte(text[:width+1], ' ')
		out, text = append(out, text[:cut]), text[cut+1:]
	}
	return append(out, text)
}

func (w *blankWriter) weighing() {
	w.line("\nweighing:")
	w.key("  scale", notReadText, "platform, segmented, pads or whole axles")
	w.key("  division", notReadText, "its step: "+w.b.examples().division)
	w.key("  #date", notReadText, "the day of the weighing, if another one")
	w.key("  #as_driven", notReadText, "yes: water, fuel and people as for the trip")
	for _, k := range [...]string{"level", "ride_height", "levelers_up", "slides_in", "tanks_as_driven", "fuel_as_driven", "people_as_driven"} {
		w.key("  "+k, notReadText, "yes or no")
	}
	towed := false
	w.line("  readings:                   # on may also be left, right, coach, towed or all")
	for _, a := range w.b.Axles {
		towed = towed || a.Towed
		w.line("    - {load: %s, on: %s}", notReadText, EndName(a.ID, weight.Left))
		w.line("    - {load: %s, on: %s}", notReadText, EndName(a.ID, weight.Right))
		w.line("    #- {load: %s, on: %s}", notReadText, a.ID)
	}
	if towed {
		w.key("  #hitched", notReadText, "yes or no")
	}
}

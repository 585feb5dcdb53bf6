package sheet

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// Form writes a visit as one self-contained HTML page in UTF-8 to print and fill in
// by hand, in the order of the work: what is asked, cold pressures in one lap, what
// is looked at and measured, stamps, what is set and told, and a strip to cut off for
// the scale. It needs the visit's axles, and its spares under Tires; what else stands
// there and stays with the coach is printed in its box ([record.Next] makes such a
// visit of the last one), but the date, since forms are printed ahead. Labels, units
// and words are those of [record.Fields]. Two axles take one side of Letter or A4
// paper, three with a towed unit two. The error is that of [record.Visit.Layout], or
// w's.
func Form(w io.Writer, v *record.Visit) error {
	l, err := v.Layout()
	if err != nil {
		return err
	}
	data, err := json.Marshal(v)
	if err != nil {
		return err
	}
	p := &formPage{m: &markup{b: make([]byte, 0, 48<<10)}, v: v, l: l, fields: make(map[string]record.Field)}
	if err := json.Unmarshal(data, &p.values); err != nil {
		return err
	}
	for _, f := range record.Fields() {
		p.fields[f.Part+"."+f.Key] = f
	}
	p.tires = p.walk()
	p.long = len(p.tires) > mostColumns
	p.write()
	_, err = w.Write(p.m.b)
	return err
}

// A formPage is a form being written.
type formPage struct {
	m      *markup
	v      *record.Visit
	l      *record.Layout
	fields map[string]record.Field // by part and key
	values values                  // the visit as its file has it
	tires  []formTire              // as walked: down the left side, up the right one, spares
	long   bool                    // two pages: there is room for what is rarely asked
}

// values are a mapping of the visit.
type values map[string]any

// A formTire is a tire with the number that the form gives it.
type formTire struct {
	number int
	at     string
	side   weight.Side // zero for a spare
	towed  bool
	own    values
}

// in is a mapping inside another, nil where there is none.
func (v values) in(key string) values {
	out, _ := v[key].(map[string]any)
	return out
}

// list are the mappings of a list.
func (v values) list(key string) []values {
	all, _ := v[key].([]any)
	out := make([]values, len(all))
	for i := range all {
		out[i], _ = all[i].(map[string]any)
	}
	return out
}

// said is what is known of a field, a pressure in the unit of the form, rounded up: what
// is printed of one is set, or fallen from.
func (p *formPage) said(of values, name string) string {
	f := p.field(name)
	text := of.text(f.Key)
	if p.v.PressureUnit != "" && (f.Kind == "pressure" || f.Kind == "placard") {
		if at, err := inflation.ParsePressure(text); err == nil {
			return record.PressureText(at, p.v.PressureUnit, p.v.System, weight.Ceiling)
		}
	}
	return text
}

// text is what is known, "" where it is not or nobody read it.
func (v values) text(key string) string {
	switch x := v[key].(type) {
	case string:
		if x != formNotRead {
			return x
		}
	case bool:
		if x {
			return "yes"
		}
		return "no"
	}
	return ""
}

// formNotRead is how a file says that nobody read it.
const formNotRead = "not read"

// walk numbers the tires in the order of a lap round the coach from the left front.
func (p *formPage) walk() []formTire {
	own := make(map[string]values)
	for _, t := range p.values.list("tires") {
		own[t.text("at")] = t
	}
	var left, right []formTire
	for i := range p.l.Wheels {
		w := &p.l.Wheels[i]
		t := formTire{at: w.Name, side: w.Side, towed: p.l.Roles[w.Axle] == record.Towed, own: own[w.Name]}
		if w.Side == weight.Left {
			left = append(left, t)
		} else {
			right = append(right, t)
		}
	}
	slices.Reverse(right)
	out := slices.Concat(left, right)
	for _, i := range p.l.Spares {
		out = append(out, formTire{at: p.v.Tires[i].At, own: own[p.v.Tires[i].At]})
	}
	for i := range out {
		out[i].number = i + 1
	}
	return out
}

// towed reports whether the coach has a towed unit.
func (p *formPage) towed() bool { return slices.Contains(p.l.Roles, record.Towed) }

// field gives the description of a field by part and key.
func (p *formPage) field(name string) *record.Field {
	f := p.fields[name]
	return &f
}

// unit is what a quantity is written in on this form, "" for what has none.
func (p *formPage) unit(f *record.Field) string {
	switch {
	case len(f.Units) == 0:
		return ""
	case f.Kind == "time":
		return strings.Join(f.Units, " / ")
	case p.v.PressureUnit != "" && slices.Contains(f.Units, p.v.PressureUnit):
		return p.v.PressureUnit
	case p.v.System == weight.Metric:
		for _, u := range f.Units {
			if slices.Contains([]string{"kPa", "kg", "mm", "km", "C", "N-m"}, u) {
				return u
			}
		}
	}
	return f.Units[0]
}

// label writes a field's name, with its unit where head says so.
func (p *formPage) label(name string, unit bool) *markup {
	f := p.field(name)
	p.m.element(`<span class="k" data-field="`, name, `">`).element("", f.Label, "</span>")
	if u := p.unit(f); u != "" && unit {
		p.m.element(` <span class="u">`, u, "</span>")
	}
	return p.m
}

// known writes a value that the visit has already.
func (p *formPage) known(text string) *markup {
	return p.m.element(`<bdi class="known">`, text, "</bdi>")
}

// tick writes a box to tick, ticked where set, and its word.
func (p *formPage) tick(word string, set bool) {
	mark := ""
	if set {
		mark = "X"
	}
	p.m.element(`<span class="t"><span class="b">`, mark, "</span>").element("<span>", word, "</span></span>")
}

// box writes a field with room to write, or with its words to tick.
func (p *formPage) box(of values, name string) {
	f := p.field(name)
	text := p.said(of, name)
	p.m.lit(`<div class="f">`)
	p.label(name, false)
	switch {
	case len(f.Words) > 0:
		for _, word := range f.Words {
			p.tick(word, word == text)
		}
	default:
		if p.m.lit(`<span class="v`); f.Kind == "text" {
			p.m.lit(" wide")
		}
		p.m.lit(`">`)
		p.known(text).lit("</span>")
		if u := p.unit(f); u != "" && text == "" {
			p.m.element(`<span class="u">`, u, "</span>")
		}
	}
	p.m.lit("</div>\n")
}

// boxes writes fields of one part side by side.
func (p *formPage) boxes(of values, part string, keys ...string) {
	for _, key := range keys {
		p.box(of, part+"."+key)
	}
}

// so writes a field of yes or no as one box to tick.
func (p *formPage) so(of values, name string) {
	f := p.field(name)
	p.m.lit(`<span class="t"><span class="b">`)
	if of.text(f.Key) == "yes" {
		p.m.lit("X")
	}
	p.m.lit("</span>")
	p.label(name, false).lit("</span>\n")
}

// ticks writes a field of the tires as a box for each.
func (p *formPage) ticks(name string) {
	p.m.lit(`<div class="f many">`)
	p.label(name, false)
	for _, t := range p.tires {
		p.tick(strconv.Itoa(t.number), t.own.text(p.field(name).Key) == "yes")
	}
	p.m.lit("</div>\n")
}

// heading begins a band, with where the front is where its tables do not say so.
func (p *formPage) heading(text, front string) {
	p.m.element("<h2>", text, " <small>")
	if front != "" {
		p.m.element("<b>", front, "</b> ")
	}
	p.m.text(formSeat).lit("</small></h2>\n")
}

// mostColumns is how many tires stand side by side.
const mostColumns = 8

// stretches are the tires that stand side by side: all, else each side of the coach,
// the spares with the right one.
func (p *formPage) stretches() [][]formTire {
	if len(p.tires) <= mostColumns {
		return [][]formTire{p.tires}
	}
	left := slices.IndexFunc(p.tires, func(t formTire) bool { return t.side != weight.Left })
	return slices.Collect(func(yield func([]formTire) bool) {
		for _, side := range [][]formTire{p.tires[:left], p.tires[left:]} {
			for some := range slices.Chunk(side, mostColumns) {
				if !yield(some) {
					return
				}
			}
		}
	})
}

// What stands over the tires of a band beside their numbers.
const (
	noWay      = iota // nothing: the band's heading says where the front is
	withFront         // which one stands at the front
	withPlaces        // places, and which way they are walked
)

// bands writes a table for each stretch of the walk, headed by numbers.
func (p *formPage) bands(over int, rows func(some []formTire)) {
	for _, some := range p.stretches() {
		p.m.lit(`<div class="scroll"><table class="walk"><thead>`)
		if over == withPlaces {
			p.way(some)
		}
		p.m.lit(`<tr><th scope="col" class="c0">`)
		p.label("tire.at", false).lit("</th>")
		for i, t := range some {
			p.m.lit(`<th scope="col"><span class="no">`).num(t.number).lit("</span>")
			switch {
			case over == withPlaces:
				p.m.text(t.at)
			case over == noWay:
			case t.number == 1:
				p.m.text(formFrontHere)
			case t.side == weight.Right && (i+1 == len(some) || some[i+1].side != weight.Right):
				p.m.text(formFrontEnd)
			}
			p.m.lit("</th>")
		}
		p.m.lit("</tr></thead>\n<tbody>\n")
		rows(some)
		p.m.tail()
	}
}

// way says over the tires which way they are walked.
func (p *formPage) way(some []formTire) {
	p.m.lit(`<tr class="way"><td class="c0"></td>`)
	for len(some) > 0 {
		same := slices.IndexFunc(some, func(t formTire) bool { return t.side != some[0].side })
		if same < 0 {
			same = len(some)
		}
		p.m.lit(`<td colspan="`).num(same)
		switch some[0].side {
		case weight.Left:
			p.m.element(`">`, formLeftSide, "</td>")
		case weight.Right:
			p.m.element(`" class="up">`, formRightSide, "</td>")
		default:
			p.m.element(`">`, formSpares, "</td>")
		}
		some = some[same:]
	}
	p.m.lit("</tr>")
}

// tireRow writes a field of each tire in a row; parts are what a box is divided in.
func (p *formPage) tireRow(class literal, name string, some []formTire, cell func(t *formTire), parts ...string) {
	p.m.lit(`<tr class="`, class, `"><th scope="row">`)
	p.label(name, true)
	for _, part := range parts {
		p.m.lit(" ")
		p.label(part, false)
	}
	p.m.lit("</th>")
	for i := range some {
		p.m.lit("<td>")
		cell(&some[i])
		p.m.lit("</td>")
	}
	p.m.lit("</tr>\n")
}

// valueCell has what is known of a tire, or room.
func (p *formPage) valueCell(key string) func(t *formTire) {
	return func(t *formTire) {
		if text := t.own.text(key); text != "" {
			p.known(text)
		}
	}
}

// wordsCell has words to tick.
func (p *formPage) wordsCell(words ...string) func(t *formTire) {
	return func(*formTire) {
		for _, w := range words {
			p.tick(w, false)
		}
	}
}

// flatLines writes pressures with the flat line of each, rounded up to whole psi or
// kPa, or to tenths of a bar.
func (p *formPage) flatLines() {
	from, to, step, tenths := 35, 130, 5, false
	switch p.unit(p.field("tire.found")) {
	case "kPa":
		from, to, step = 250, 900, 50
	case "bar":
		from, to, step, tenths = 25, 90, 5, true
	}
	number := func(n int) string {
		if tenths {
			return fmt.Sprintf("%d.%d", n/10, n%10)
		}
		return strconv.Itoa(n)
	}
	p.m.element(`<p class="flat"><b>`, fmt.Sprintf(formFlat, cold.FlatPercent), "</b>")
	for n := from; n <= to; n += step {
		p.m.element(" <span>", number(n)+":", " <b>").text(number((n*cold.FlatPercent + 99) / 100)).lit("</b></span>")
	}
	p.m.lit("</p>")
}

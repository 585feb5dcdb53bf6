package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// write writes the page.
func (p *formPage) write() {
	m := p.m
	title := formTitle
	if coach := p.values.text("coach"); coach != "" {
		title = fmt.Sprintf(formCoachTitle, coach)
	}
	m.lit(pageStart).element("<title>", title, "</title>\n<style>").lit(style, formStyle).lit("</style>\n</head>\n<body>\n<main>\n")
	m.lit(`<article class="sheet form`)
	if p.long {
		m.lit(" long")
	}
	m.element(`" id="page-1">`+"\n"+`<header><div class="top"><h1>`, formTitle, "</h1> ").element("<p>", formHow, "</p></div>\n")
	m.element(`<p class="warn">`, formCaution, "</p></header>\n")
	p.ask()
	p.lap()
	p.look()
	p.stamps()
	m.lit(`<div class="two">`)
	p.set()
	p.tell()
	m.lit("</div>\n")
	p.weigh()
	m.lit("</article>\n</main>\n</body>\n</html>\n")
}

// ask has what is asked before anybody looks.
func (p *formPage) ask() {
	m, v := p.m, p.values
	names := v.in("names")
	m.lit("<section>")
	p.heading(formAsk, formFrontUp)
	m.lit(`<div class="row">`)
	p.boxes(v, "visit", "coach")
	p.boxes(names, "names", "unit_number", "customer")
	p.boxes(nil, "visit", "date")
	if p.long {
		p.boxes(names, "names", "plate", "work_order")
	}
	p.boxes(v, "visit", "odometer")
	p.boxes(v.in("ratings"), "ratings", "gvwr")
	p.boxes(v, "visit", "stood", "last_set_on", "last_set_air")
	p.boxes(names, "names", "last_set_by")
	p.boxes(v, "visit", "driven_since", "tows", "nothing_since_set")
	p.ticks("tire.air_added")
	p.boxes(nil, "tire", "air_added_by")
	p.ticks("tire.low_alarm")
	if p.long {
		p.boxes(v, "visit", "moved")
		p.boxes(nil, "tire", "before_air")
		p.ticks("tire.read_zero")
	}
	if p.towed() {
		p.boxes(v.in("ratings"), "ratings", "gcwr")
		p.boxes(v.in("towing"), "towing", "gvwr", "hitch", "hitch_tongue", "ball_mount", "tow_bar", "coupler", "tongue")
	}
	m.lit(`</div>` + "\n" + `<div class="beside">`)
	p.axles("axle.gawr", "axle.placard", "axle.placard_size", "axle.placard_load_range", "tire.last_set")
	p.flatLines()
	m.lit("</div></section>\n")
}

// axles has a row for each axle from the front.
func (p *formPage) axles(names ...string) {
	p.m.lit(`<div class="scroll"><table class="axles"><thead><tr><th scope="col">`)
	p.label("axle.id", false).lit("</th>")
	p.heads(true, names)
	all := p.values.list("axles")
	for i := range p.v.Axles {
		p.m.element(`<tr class="low"><th scope="row">`, p.v.Axles[i].ID, "</th>")
		all[i]["last_set"] = p.lastSet(i) // which a file has with the tires
		p.cells(all[i], names)
	}
	p.m.tail()
}

// lastSet is what all tires of an axle were last set to, "" where they differ or one
// is not known.
func (p *formPage) lastSet(axle int) string {
	same := ""
	for i, w := range p.l.Wheels {
		if w.Axle != axle {
			continue
		}
		t := p.tires[slices.IndexFunc(p.tires, func(t formTire) bool { return t.at == p.l.Wheels[i].Name })]
		text := t.own.text("last_set")
		if text == "" || same != "" && text != same {
			return ""
		}
		same = text
	}
	return same
}

// heads ends a table's head with the labels of fields.
func (p *formPage) heads(units bool, names []string) {
	for _, name := range names {
		p.m.lit(`<th scope="col">`)
		p.label(name, units).lit("</th>")
	}
	p.m.lit("</tr></thead>\n<tbody>\n")
}

// cells ends a table's row with what is known, or room.
func (p *formPage) cells(of values, names []string) {
	for _, name := range names {
		p.m.lit("<td>")
		if text := p.said(of, name); text != "" {
			p.known(text)
		}
		p.m.lit("</td>")
	}
	p.m.lit("</tr>\n")
}

// lap has the cold pressures.
func (p *formPage) lap() {
	m := p.m
	m.lit("<section>")
	p.heading(formCold, "")
	m.element(`<p class="warn">`, formStop, `</p>`+"\n"+`<div class="row">`)
	p.boxes(p.values, "visit", "air_temperature", "gauge", "gauge_tolerance")
	if p.long {
		p.boxes(p.values, "visit", "gauge_checked")
	}
	p.boxes(nil, "visit", "cold")
	m.lit("</div>\n")
	p.bands(withPlaces, func(some []formTire) {
		p.tireRow("big", "tire.found", some, func(*formTire) {})
		p.tireRow("", "tire.read_at", some, p.wordsCell(p.field("tire.read_at").Words...))
		if p.long {
			p.tireRow("low", "tire.sensor_reading", some, func(*formTire) {})
		}
	})
	m.lit("</section>\n")
}

// look has what is measured and seen, and the list of what can be.
func (p *formPage) look() {
	m := p.m
	across := []string{"tread.outer", "tread.center", "tread.inner"}
	m.lit("<section>")
	p.heading(formLook, "")
	p.bands(withFront, func(some []formTire) {
		p.tireRow("mid", "tire.tread", some, func(*formTire) {
			m.lit(`<div class="three">`)
			for _, name := range across {
				m.element("<span>", p.field(name).Label[:1], "</span>")
			}
			m.lit("</div>")
		}, across...)
		p.tireRow("mid", "tire.number", some, p.valueCell("number"))
		p.tireRow("", "tire.sidewalls", some, p.wordsCell(record.OuterSidewall.String(), record.InnerSidewall.String()))
		p.tireRow("mid", "tire.seen", some, func(*formTire) {
			p.tick(formSeenNone, false)
			m.text(formSeenMore)
		})
	})
	m.element(`<ol class="numbers"><li>`, formList, "</li>\n")
	for i, word := range p.field("tire.seen").Words {
		m.lit("<li><b>").num(i+1).element("</b> ", word, "</li>\n")
	}
	m.lit("</ol></section>\n")
}

// stamps has what is stamped, once for all and where a tire differs.
func (p *formPage) stamps() {
	m := p.m
	names := []string{"tire.size", "tire.load_range", "tire.service", "tire.single", "tire.dual", "tire.wheel"}
	words := []string{"class", "stem"}
	if p.long {
		words = append(words, "construction", "tread_type", "retread", "extension")
	}
	coach, towed := p.shared("every_tire", false), p.shared("every_towed_tire", true)
	m.element(`<section><div class="scroll"><table class="stamps"><thead><tr><th scope="col">`, formStamps, "</th>")
	p.heads(false, names)
	m.lit(`<tr class="low"><th scope="row">`)
	p.label("visit.every_tire", false).lit("</th>")
	p.cells(coach, names)
	if p.towed() {
		m.lit(`<tr class="low"><th scope="row">`)
		p.label("visit.every_towed_tire", false).lit("</th>")
		p.cells(towed, names)
	}
	for _, t := range p.tires {
		of := coach
		if t.towed {
			of = towed
		}
		if slices.ContainsFunc(names, func(name string) bool {
			text := t.own.text(p.field(name).Key)
			return text != "" && text != of.text(p.field(name).Key)
		}) {
			m.element(`<tr class="low"><th scope="row">`, formDiffers+" "+strconv.Itoa(t.number), "</th>")
			p.cells(t.own, names)
		}
	}
	m.element(`<tr class="low"><th scope="row">`, formDiffers, "</th>")
	p.cells(nil, names)
	m.tail().lit(`<div class="row">`)
	p.boxes(coach, "tire", words...)
	m.lit("</div></section>\n")
}

// shared is what the visit says of all tires, of the coach or of the towed unit, in
// one place or of each of them.
func (p *formPage) shared(key string, towed bool) values {
	out := make(values)
	maps.Copy(out, p.values.in(key))
	for name, f := range p.fields {
		if f.Part != "tire" || !f.Shared || out.text(f.Key) != "" {
			continue
		}
		same, n := "", 0
		for _, t := range p.tires {
			if text := t.own.text(p.field(name).Key); t.towed == towed && t.side != 0 {
				if n++; n > 1 && text != same {
					same = ""
					break
				}
				same = text
			}
		}
		if same != "" {
			out[f.Key] = same
		}
	}
	return out
}

// set has what the tires were left at, and the nuts' torque.
func (p *formPage) set() {
	m := p.m
	m.lit("<section>")
	p.heading(formSet, formFrontUp)
	p.bands(noWay, func(some []formTire) {
		p.tireRow("mid", "tire.left", some, func(*formTire) {})
		if !p.long { // else there is more room on the other side
			p.nextDay(some)
		}
	})
	all := p.values.list("axles")
	for _, name := range [...]string{"axle.torque_asked", "axle.torque_applied"} {
		m.lit(`<div class="row"><div class="f first">`)
		p.label(name, true).lit("</div>")
		for i := range p.v.Axles {
			m.element(`<div class="f"><span>`, p.v.Axles[i].ID, `</span><span class="v">`)
			p.known(all[i].text(p.field(name).Key)).lit("</span></div>")
		}
		m.lit("</div>\n")
	}
	m.lit(`<div class="row">`)
	p.boxes(nil, "tire", "wheel_on")
	p.boxes(nil, "visit", "torque_due")
	m.lit("</div></section>\n")
}

// nextDay has the cold pressures a day later, in the unit of those above.
func (p *formPage) nextDay(some []formTire) {
	p.tireRow("low", "tire.next_day", some, func(*formTire) {})
}

// tell has what the owner was told and declined, and what is looked at afterwards.
func (p *formPage) tell() {
	m := p.m
	m.lit("<section>")
	p.heading(formTell, formFrontUp)
	m.lit(`<div class="row">`)
	p.boxes(nil, "visit", "notes")
	m.lit("</div>\n")
	for range 2 {
		m.lit(`<div class="row"><div class="f first">`)
		p.label("visit.declined", false).lit("</div>")
		p.boxes(nil, "done", "at", "rule")
		m.lit("</div>\n")
	}
	m.lit(`<div class="row">`)
	p.boxes(nil, "visit", "next_visit")
	p.boxes(p.values.in("names"), "names", "technician")
	m.element("</div>\n<p>", formRecheck, "</p>\n")
	if p.long {
		p.bands(noWay, p.nextDay)
	}
	m.lit(`<div class="row">`)
	p.boxes(nil, "tire", "torque_checked")
	p.boxes(nil, "visit", "next_day_air")
	m.lit(`</div><div class="row">`)
	m.element(`<div class="f"><span>`, formSignature, `</span><span class="v wide"></span></div></div></section>`+"\n")
}

// weigh is the strip to take to the scale.
func (p *formPage) weigh() {
	m := p.m
	w := p.values.in("weighing")
	m.lit(`<section class="strip">`)
	p.heading(formWeigh, formFrontUp)
	m.lit(`<div class="row">`)
	p.boxes(w, "weighing", "date", "place", "scale", "division")
	if p.long {
		p.boxes(w, "weighing", "tolerance", "odometer")
	}
	m.lit(`</div><div class="row">`)
	p.boxes(nil, "visit", "load_state")
	m.lit("</div>\n" + `<div class="so">`)
	for _, key := range [...]string{"level", "ride_height", "levelers_up", "slides_in", "tanks_as_driven", "fuel_as_driven", "people_as_driven"} {
		p.so(w, "weighing."+key)
	}
	if p.towed() {
		p.so(w, "weighing.hitched")
	}
	m.lit("</div>\n")
	for some := range slices.Chunk(p.v.Axles, axlesWeighed) {
		p.loads(some)
	}
	m.lit("</section>\n")
}

// axlesWeighed is how many axles a row of boxes for loads has.
const axlesWeighed = 3

// loads has a box for each end of the axles and for the whole axle.
func (p *formPage) loads(axles []record.Axle) {
	p.m.lit(`<div class="scroll"><table class="loads"><thead><tr><th scope="col">`)
	p.label("reading.on", false).lit("</th>")
	for _, a := range axles {
		for _, place := range [...]string{record.EndName(a.ID, weight.Left), record.EndName(a.ID, weight.Right), a.ID} {
			p.m.element(`<th scope="col">`, place, "</th>")
		}
	}
	p.m.lit(`</tr></thead><tbody><tr class="mid"><th scope="row">`)
	p.label("reading.load", true).lit("</th>")
	for range 3 * len(axles) {
		p.m.lit("<td></td>")
	}
	p.m.lit("</tr></tbody></table></div>\n")
}

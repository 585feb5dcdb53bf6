package sheet

import (
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// shownDue is how many dates a card has room for.
const shownDue = 4

// cardLines are the lines of the card to cut out, below its pressures.
func (p *htmlPage) cardLines() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	switch stopped := p.forbidden(); {
	case p.r.Drive == report.MustNotMove && len(stopped) > 0:
		say(cardStopped, strings.Join(stopped, ", "))
	case p.r.Drive == report.MustNotMove:
		say(cardOverload)
	}
	say(cardCold)
	if alarm := p.alarms(); alarm != nil {
		say(cardAlarm, alarm[0], alarm[1])
	}
	out = append(out, p.roomLines()...)
	out = append(out, p.buyLines()...)
	for i, d := range p.r.Due() {
		if i == shownDue {
			break
		}
		say(cardDue, d.On, dueText(&d))
	}
	return append(out, cardCaution)
}

// forbidden names the tires that nobody may air up.
func (p *htmlPage) forbidden() []string {
	var out []string
	for i := range p.r.Tires {
		if t := &p.r.Tires[i]; t.Air == report.AirForbidden && t.Axle != "" {
			out = append(out, t.At)
		}
	}
	return out
}

// settable are the settings with a number.
func (p *htmlPage) settable() []*inflation.Setting {
	var out []*inflation.Setting
	for i := range p.r.Settings {
		if s := &p.r.Settings[i]; s.Set > 0 {
			out = append(out, s)
		}
	}
	return out
}

// alarms gives each axle's pressure 10 and 15 % below the one to set (common
// practice), rounded up: an alarm that comes early is on the safe side. Nil without
// a pressure to set.
func (p *htmlPage) alarms() []string {
	var out [2][]string
	for _, s := range p.settable() {
		for i, percent := range [...]inflation.Pressure{90, 85} {
			out[i] = append(out[i], s.Name+" "+p.psi((s.Set/100*percent).Round(p.gaugeStep(), weight.Ceiling), weight.Ceiling))
		}
	}
	if len(out[0]) == 0 {
		return nil
	}
	return []string{strings.Join(out[0], ", "), strings.Join(out[1], ", ")}
}

// gaugeRows says what each axle's gauge reads on cold mornings, rounded down, where
// the air was read when the pressure was set: a row for each axle, a head of the
// temperatures.
func (p *htmlPage) gaugeRows() (head []string, rows [][]string) {
	air, ok := p.r.AirTemperature.Get()
	if !ok {
		return nil, nil
	}
	degrees := [...]string{"20 F", "40 F", "60 F", "80 F", "100 F"}
	if p.system == weight.Metric {
		degrees = [...]string{"-5 C", "5 C", "15 C", "25 C", "35 C"}
	}
	head = []string{""}
	for _, text := range degrees {
		head = append(head, cardAt+" "+text)
	}
	for _, s := range p.settable() {
		row := []string{s.Name + " " + p.psi(s.Set, weight.Ceiling)}
		for _, text := range degrees {
			then, err := inflation.ParseTemperature(text)
			if err != nil {
				return nil, nil // the texts above are temperatures
			}
			reads, err := cold.WillRead(s.Set, cold.Air{Temperature: air}, cold.Air{Temperature: then}, p.system)
			if err != nil {
				return nil, nil
			}
			row = append(row, bare(p.psi(reads.Round(p.gaugeStep(), weight.Floor), weight.Floor)))
		}
		rows = append(rows, row)
	}
	return head, rows
}

// gaugeStep is what a gauge in the page's unit reads in.
func (p units) gaugeStep() inflation.Pressure { return record.PressureStep(p.pressure, p.system) }

// roomLines say what may still be loaded on each axle end and the coach, in mass and
// in water, by the rating or pressure that leaves least. Nothing where a load is not
// known.
func (p *htmlPage) roomLines() []string {
	var rooms []string
	unit, name := weight.USGallon, "gal"
	if p.system == weight.Metric {
		unit, name = weight.Liter, "L"
	}
	each, err := cargo.Water().Mass(unit, p.system)
	if err != nil || each <= 0 {
		return nil
	}
	for i := range p.r.Loads {
		l := &p.r.Loads[i]
		if l.Kind != report.EndLoad && l.Kind != report.CoachLoad || !l.Estimate.Known() || len(l.Ratings) == 0 {
			continue
		}
		rating := worstRating(l.Ratings)
		if rating.Verdict == rules.NotRecorded {
			continue
		}
		room := rating.Room
		if e := p.endRoom(l.Name); e != nil && e.Known {
			room = min(room, e.Room)
		}
		if room <= 0 {
			rooms = append(rooms, fmt.Sprintf(cardNoRoom, l.Name))
			continue
		}
		rooms = append(rooms, fmt.Sprintf(cardRoomOf, l.Name, p.mass(room, weight.Floor), fmt.Sprintf("%d %s", room/each, name)))
	}
	if len(rooms) == 0 {
		return nil
	}
	return []string{fmt.Sprintf(cardRoom, strings.Join(rooms, ", "))}
}

// endRoom is the room of an end at the pressure to set, nil where none was worked
// out.
func (p *htmlPage) endRoom(end string) *inflation.EndRoom {
	for i := range p.axles {
		a := &p.axles[i]
		if a.setting == nil {
			continue
		}
		switch end {
		case record.EndName(a.line.ID, weight.Left):
			return &a.setting.Left
		case record.EndName(a.line.ID, weight.Right):
			return &a.setting.Right
		}
	}
	return nil
}

// card writes the card to cut out.
func (p *htmlPage) card(m *markup) {
	m.element(`<section class="cut"><h2>`, cardTitle, " <small>").text(p.coach() + ", " + p.r.Date.String()).lit("</small></h2>\n")
	m.lit(`<p class="sets">`)
	for i := range p.r.Settings {
		s := &p.r.Settings[i]
		m.element("<span><b>", s.Name, "</b> ").text(p.setWords(s)).lit("</span> ")
	}
	m.lit("</p>\n")
	if head, rows := p.gaugeRows(); len(rows) > 0 {
		air, _ := p.r.AirTemperature.Get()
		m.element("<p>", fmt.Sprintf(cardGauge, p.temperature(air)), "</p>\n")
		m.head("rows", head...)
		for _, row := range rows {
			m.row(row...)
		}
		m.tail()
	}
	m.lit(`<div class="flow">`).list(p.cardLines()).lit("</div></section>\n")
}

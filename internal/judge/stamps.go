package judge

import (
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// ColdAfter is how long a coach stands until its tires are cold (common
// practice).
const ColdAfter = 3 * record.Hour

// warmth says whether a tire was hot when it was read, where that is known: in
// the sun whatever was said, else as was said, else within three hours of
// being driven.
func warmth(v *record.Visit, st *TireState) record.Recorded[bool] {
	switch stood, ok := v.Stood.Get(); {
	case record.Yes(st.InSun):
		return record.Record(true)
	case !st.Hot.Is() && ok && stood < ColdAfter && st.AxleIndex >= 0:
		return record.Record(true)
	}
	return st.Hot
}

// stamps compares what is stamped on one tire with itself. Of a dual load
// above the single one, which no tire has, nothing is used: it is the figure
// of a pair or of an axle (49 CFR 571.119 S6.5(d); trade charts).
func (a *Assessment) stamps(st *TireState) {
	service, _ := st.Service.Get()
	wall := sidewall.Stamps{LoadRange: st.Options.LoadRange, SingleIndex: service.Single, DualIndex: service.Dual,
		Single: st.Fitted.Single, Dual: st.Fitted.Dual}
	if wall == a.sound {
		return
	}
	doubts := wall.Doubts(0)
	if len(doubts) == 0 {
		a.sound = wall
		return
	}
	words := make([]string, len(doubts))
	for i, d := range doubts {
		words[i] = d.Kind.String()
		if d.Fitment != 0 {
			words[i] += ", " + d.Fitment.String()
		}
		words[i] += ": " + d.Stamped + "; want " + d.Expected
		if d.Kind == sidewall.DoubtDual && wall.Dual.Load > wall.Single.Load {
			st.Fitted.Dual, st.Dual = inflation.Rating{}, record.Recorded[record.Stamp]{}
		}
	}
	a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: st.Name, What: StampsInDoubt,
		Found: strings.Join(words, "; "), Advice: "Read them again. A dual figure above the single one is that of a pair or an axle.",
		Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 571.119", Locator: "S6.5(d)"}}})
}

// slowest finds the lowest speed symbol of the mounted tires.
func (a *Assessment) slowest() report.SpeedLine {
	var out report.SpeedLine
	for i := range a.Tires {
		st := &a.Tires[i]
		if st.AxleIndex < 0 || !a.Counts(st) {
			continue
		}
		service, _ := st.Service.Get()
		switch s := service.Speed; {
		case s == 0:
			out.NotRead = append(out.NotRead, st.Name)
		case out.Symbol == 0 || s < out.Symbol:
			out.Symbol, out.Speed, out.At = s, s.Speed(), []string{st.Name}
		case s == out.Symbol:
			out.At = append(out.At, st.Name)
		}
	}
	return out
}

// number reads the numbers of both sidewalls. The one with a date decides, of
// two dates the older one; ok is false where nothing was read.
func (a *Assessment) number(st *TireState) (n dotcode.Number, err error, ok bool) {
	on := a.Visit.Date
	read := func(text string) (dotcode.Number, error) {
		n, err := dotcode.ParseMarked(text, dotcode.Marks{Triangle: record.Yes(st.DecadeMark), Retread: record.Yes(st.Retread)})
		if err == nil {
			err = n.Check(on)
		}
		return n, err
	}
	text, ok := st.Number.Get()
	other, also := st.OtherNumber.Get()
	switch {
	case !ok && !also:
		return n, nil, false
	case !ok:
		text, other = other, ""
		n, err = read(text)
	case !also:
		n, err = read(text)
	default:
		var m dotcode.Number
		var err2 error
		n, err = read(text)
		m, err2 = read(other)
		mine, its := n.AgeOn(on), m.AgeOn(on)
		// A retread has its casing's number beside its own.
		if !record.Yes(st.Retread) && mine.Known() && its.Known() && (mine.Oldest != its.Oldest || mine.Youngest != its.Youngest) {
			a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: st.Name, What: DatesDiffer,
				Found: text + " and " + other, Advice: "Read both again. Until then it counts as the older one.",
				Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 574.5"}}})
		}
		older := its.Known() && (!mine.Known() || its.Oldest.Before(mine.Oldest))
		if older || its == mine && len(m.Symbols()) > len(n.Symbols()) {
			n, err, text, other = m, err2, other, text
		}
	}
	st.Line.Number, st.Line.OtherNumber = text, other
	st.Line.WholeNumber = n.CanBe(dotcode.ThirteenSymbol) || n.CanBe(dotcode.Older) || n.CanBe(dotcode.Retread)
	return n, err, true
}

package inspect

import (
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// coldAfter is how long a coach stands until its tires are cold (common
// practice).
const coldAfter = 3 * Hour

// warmth says whether a tire was hot when it was read, where that is known: in
// the sun whatever was said, else as was said, else within three hours of
// being driven.
func warmth(v *Visit, st *tireState) Recorded[bool] {
	switch stood, ok := v.Stood.Get(); {
	case yes(st.InSun):
		return Record(true)
	case !st.Hot.Is() && ok && stood < coldAfter && st.axle >= 0:
		return Record(true)
	}
	return st.Hot
}

// stamps compares what is stamped on one tire with itself. Of a dual load
// above the single one, which no tire has, nothing is used: it is the figure
// of a pair or of an axle (49 CFR 571.119 S6.5(d); trade charts).
func (a *assessment) stamps(st *tireState) {
	service, _ := st.Service.Get()
	wall := sidewall.Stamps{LoadRange: st.opt.LoadRange, SingleIndex: service.Single, DualIndex: service.Dual,
		Single: st.tire.Single, Dual: st.tire.Dual}
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
			st.tire.Dual, st.Dual = inflation.Rating{}, Recorded[Stamp]{}
		}
	}
	a.todo(Item{Action: BeforeTrip, Verdict: rules.NotRecorded, Where: st.name, What: stampsInDoubt,
		Found: strings.Join(words, "; "), Advice: "Read them again. A dual figure above the single one is that of a pair or an axle.",
		Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 571.119", Locator: "S6.5(d)"}}})
}

// slowest finds the lowest speed symbol of the mounted tires.
func (a *assessment) slowest() SpeedLine {
	var out SpeedLine
	for i := range a.tires {
		st := &a.tires[i]
		if st.axle < 0 || !a.counts(st) {
			continue
		}
		service, _ := st.Service.Get()
		switch s := service.Speed; {
		case s == 0:
			out.NotRead = append(out.NotRead, st.name)
		case out.Symbol == 0 || s < out.Symbol:
			out.Symbol, out.Speed, out.At = s, s.Speed(), []string{st.name}
		case s == out.Symbol:
			out.At = append(out.At, st.name)
		}
	}
	return out
}

// number reads the numbers of both sidewalls. The one with a date decides, of
// two dates the older one; ok is false where nothing was read.
func (a *assessment) number(st *tireState) (n dotcode.Number, err error, ok bool) {
	on := a.visit.Date
	read := func(text string) (dotcode.Number, error) {
		n, err := dotcode.ParseMarked(text, dotcode.Marks{Triangle: yes(st.DecadeMark), Retread: yes(st.Retread)})
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
		if !yes(st.Retread) && mine.Known() && its.Known() && (mine.Oldest != its.Oldest || mine.Youngest != its.Youngest) {
			a.todo(Item{Action: BeforeTrip, Verdict: rules.NotRecorded, Where: st.name, What: datesDiffer,
				Found: text + " and " + other, Advice: "Read both again. Until then it counts as the older one.",
				Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 574.5"}}})
		}
		older := its.Known() && (!mine.Known() || its.Oldest.Before(mine.Oldest))
		if older || its == mine && len(m.Symbols()) > len(n.Symbols()) {
			n, err, text, other = m, err2, other, text
		}
	}
	st.line.Number, st.line.OtherNumber = text, other
	st.line.WholeNumber = n.CanBe(dotcode.ThirteenSymbol) || n.CanBe(dotcode.Older) || n.CanBe(dotcode.Retread)
	return n, err, true
}

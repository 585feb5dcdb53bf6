package judge

import (
	"errors"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// date reads the tire's number, and which days it can have been made on.
func (a *Assessment) date(st *TireState) {
	n, err, ok := a.number(st)
	if !ok {
		return
	}
	st.Line.Made = n.AppendCandidates(nil, a.Visit.Date)
	st.Line.Age = dotcode.AgeOn(st.Line.Made, a.Visit.Date)
	st.Line.MadeBefore, _ = n.MadeBefore()
	if err != nil {
		action := report.Plan
		if errors.Is(err, dotcode.ErrAfter) {
			action = report.BeforeTrip // it can hardly be
		}
		a.todo(report.Item{Action: action, Verdict: rules.NotRecorded, Where: st.Name, What: DateInDoubt,
			Found: OneLine(err), Advice: "Read the number again, on both sidewalls, and write it down as it stands.",
			Sources: []origin.Source{{Grade: origin.Published, Title: "49 CFR 574.5"}}})
	}
}

// casing says what is missing about a retread: its date is that of the
// retreading, and the casing is older (49 CFR 574.5), but for one whose other
// sidewall has the casing's own, older number.
func (a *Assessment) casing(st *TireState) {
	retread, said := st.Retread.Get()
	other, err := dotcode.Parse(st.Line.OtherNumber)
	its := other.AgeOn(a.Visit.Date)
	switch {
	case said && !retread, retread && err == nil && its.Known() && st.Line.Age.Oldest.Before(its.Oldest):
		return
	case retread:
		st.Line.Casing = "its casing's own number: the date that was read is that of the retreading, and the casing is older"
	default:
		st.Line.Casing = "whether it is a retread, as its number can be: then the date is that of the retreading, and the casing is older"
	}
	a.Gap(st.Name, st.Line.Casing, "")
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

package judge

import (
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// ColdAfter is how long a coach stands until its tires are cold (common
// practice).
const ColdAfter = 3 * record.Hour

// stamps compares what is stamped on one tire with itself. A dual load
// above the single one, which no tire has, is the figure of a pair or of an axle
// (49 CFR 571.119 S6.5(d); trade charts).
func (a *Assessment) stamps(st *TireState) {
	service, _ := st.Service.Get()
	size, _ := inflation.ParseSize(st.Size) // of one that cannot be read nothing is known
	wall := sidewall.Stamps{Size: size, LoadRange: st.Options.LoadRange, SingleIndex: service.Single, DualIndex: service.Dual,
		Single: st.Fitted.Single, Dual: st.Fitted.Dual}
	doubts := wall.Doubts(0)
	if len(doubts) == 0 {
		return
	}
	words := make([]string, len(doubts))
	for i, d := range doubts {
		words[i] = d.Kind.String()
		if d.Fitment != 0 {
			words[i] += ", " + d.Fitment.String()
		}
		words[i] += ": " + d.Stamped + "; want " + d.Expected
	}
	// Until they are read again the lower load counts.
	st.Fitted.Single, st.Fitted.Dual = wall.Lower(weight.Single), wall.Lower(weight.Dual)
	if most := st.Fitted.Single.Load; most > 0 && wall.Dual.Load > most {
		if service.Dual.Known() {
			most = min(most, service.Dual.Load())
		}
		st.Fitted.Dual = inflation.Rating{Load: most, Pressure: wall.Dual.Pressure}
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
			out.Symbol, out.Speed, out.At = s, s.Speed(), append(out.At[:0], st.Name)
		case s == out.Symbol:
			out.At = append(out.At, st.Name)
		}
	}
	return out
}

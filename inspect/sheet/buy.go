package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/weight"
)

// buyLines say what to ask for when tires are bought, an axle a line: size, how many,
// least load index; and speed symbol, load range and what the wheels allow, once
// where all axles have the same.
func (p *htmlPage) buyLines() []string {
	var out, stamps []string
	for i := range p.axles {
		if line, stamp := p.buyLine(&p.axles[i]); line != "" {
			out, stamps = append(out, line), append(stamps, stamp)
		}
	}
	if len(out) == 0 {
		return nil
	}
	var last []string
	if len(slices.Compact(slices.Clone(stamps))) == 1 {
		last = append(last, stamps[0])
	} else {
		for i := range out {
			out[i] = strings.TrimSpace(out[i] + " " + stamps[i])
		}
	}
	if slices.ContainsFunc(p.r.Tires, func(t report.TireLine) bool { return t.Axle == "" }) {
		last = append(last, buySpare)
	}
	if line := strings.TrimSpace(strings.Join(last, " ")); line != "" {
		out = append(out, line)
	}
	return out
}

// buyLine is what to buy for an axle, and what its tires and wheels are stamped
// with; "" where no size was read.
func (p *htmlPage) buyLine(a *axleView) (line, stamp string) {
	on := p.stampsOn(a)
	if len(on.sizes) == 0 {
		return "", ""
	}
	line = fmt.Sprintf(buyAxle, a.line.ID, tiresOn(a.line.Fitment), on.sizes[0])
	if len(on.sizes) > 1 {
		line = fmt.Sprintf(buySizesDiffer, a.line.ID, tiresOn(a.line.Fitment))
	}
	var say []string
	if on.speed != 0 {
		say = append(say, fmt.Sprintf(buySpeed, on.speed))
	}
	if words := p.rangeWords(a, on.ranges); words != "" {
		say = append(say, words)
	}
	if len(on.fitted) > 0 {
		say = append(say, fmt.Sprintf(buyFitted, strings.Join(on.fitted, ", ")))
	}
	if wheels := p.wheelWords(a); wheels != "" {
		say = append(say, wheels)
	}
	return line + " " + p.indexWords(a), strings.Join(say, " ")
}

// axleStamps is what an axle's tires are stamped with, each once: sizes, load ranges,
// service descriptions; and the fastest of their speed symbols.
type axleStamps struct {
	sizes, ranges, fitted []string
	speed                 sidewall.SpeedSymbol
}

func (p *htmlPage) stampsOn(a *axleView) (on axleStamps) {
	add := func(list *[]string, s string) {
		if s != "" {
			*list = joined(*list, s)
		}
	}
	for _, e := range a.ends {
		for _, t := range e.tires {
			add(&on.sizes, t.Size)
			if own := p.tire(t.At); own != nil {
				add(&on.ranges, own.LoadRange)
			}
			if s, ok := t.Service.Get(); ok {
				add(&on.fitted, s.String())
				if s.Speed.Speed() > on.speed.Speed() {
					on.speed = s.Speed
				}
			}
		}
	}
	return on
}

// rangeWords says the least load range to buy: that of the tires fitted, but the
// placard's where one of them is weaker (49 CFR 571.120 S5.1.2), or where they differ.
func (p *htmlPage) rangeWords(a *axleView, fitted []string) string {
	var placard inflation.LoadRange
	if p.visit != nil {
		for i := range p.visit.Axles {
			if ax := &p.visit.Axles[i]; ax.ID == a.line.ID {
				placard, _ = inflation.ParseLoadRange(ax.PlacardLoadRange)
			}
		}
	}
	_, known := placard.PlyRating()
	if len(fitted) == 1 {
		if has, err := inflation.ParseLoadRange(fitted[0]); !known || err == nil && has.Stronger(placard) == has {
			return fmt.Sprintf(buyRange, fitted[0])
		}
	}
	if !known {
		return ""
	}
	return fmt.Sprintf(buyRangePlacard, placard)
}

// tiresOn is how many tires an axle has.
func tiresOn(fit weight.Fitment) int {
	if fit == weight.Dual {
		return 4
	}
	return 2
}

// indexWords says the least load index that an axle asks for: by the heavier end as
// weighed, with its plus/minus, or by the GAWR where that is more (49 CFR 571.120
// S5.1.2). Where one of them is not known, neither is the index.
func (p *htmlPage) indexWords(a *axleView) string {
	gawr := p.gawr(a)
	s := a.setting
	if s == nil || s.Grounds.Load != inflation.EndsWeighed || s.Left.Load.OpenAbove || s.Right.Load.OpenAbove || s.TireLoad <= 0 || gawr <= 0 {
		return buyNoIndex
	}
	if s.Cautions.Has(caution.ClassNotKnown) {
		return buyNoClass
	}
	n := weight.Mass(tiresOn(a.line.Fitment))
	need := max(s.TireLoad, (gawr+n-1)/n)
	stands := need
	if s.Cautions.Has(caution.Derated) { // its rating counts divided by 1.10
		stands = need + need/10 + 1
	}
	for number := range sidewall.MaxLoadIndex + 1 {
		index, err := sidewall.LoadIndexOf(number)
		if err != nil || index.Load() < stands {
			continue
		}
		words := buySingle
		if a.line.Fitment == weight.Dual {
			words = buyDual
		}
		return fmt.Sprintf(words, number, p.mass(need, weight.Ceiling))
	}
	return buyNoIndex
}

// gawr is the axle's rating, 0 where it is not known.
func (p *htmlPage) gawr(a *axleView) weight.Mass {
	if a.total != nil {
		for _, r := range a.total.Ratings {
			if r.Name == "GAWR" {
				return r.Rating
			}
		}
	}
	return 0
}

// tire is what the visit says of a tire, nil where the visit is not at hand.
func (p *htmlPage) tire(at string) *record.Tire {
	if p.visit == nil {
		return nil
	}
	i := slices.IndexFunc(p.visit.Tires, func(t record.Tire) bool { return t.At == at })
	if i < 0 {
		return nil
	}
	t := p.visit.Tires[i]
	every := &p.visit.EveryTire
	if slices.ContainsFunc(p.visit.Axles, func(a record.Axle) bool {
		return a.Towed && (strings.HasPrefix(at, record.EndName(a.ID, weight.Left)) || strings.HasPrefix(at, record.EndName(a.ID, weight.Right)))
	}) {
		every = &p.visit.EveryTowedTire
	}
	t.Fill(every)
	return &t
}

// wheelWords says what the wheels of an axle are stamped with, "" where nobody read
// it of one.
func (p *htmlPage) wheelWords(a *axleView) string {
	same := ""
	for _, e := range a.ends {
		for _, t := range e.tires {
			own := p.tire(t.At)
			if own == nil || !own.Wheel.Is() {
				return ""
			}
			s, _ := own.Wheel.Get()
			if text := s.String(); same != "" && text != same {
				return buyWheelsDiffer
			}
			same = s.String()
		}
	}
	if same == "" {
		return ""
	}
	return fmt.Sprintf(buyWheels, same)
}

package placement

import (
	"slices"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
)

// assume fills in what was taken for granted.
func (p *placer) assume() {
	o := &p.out
	o.Assumptions = append(o.Assumptions, "Pressures as found do not count: every tire is set cold again once its wheel is on. What a tire was driven at stays with it. How far apart a pair was made does not count.")
	if len(p.as.Visit.Weighing.Readings) > 0 {
		o.Assumptions = append(o.Assumptions, "Loads are those weighed at each place, or expected there after the changes for the trip where that is more, whichever tire runs there.")
	}
	fits, arrows := false, false
	for _, t := range p.tires {
		fits = fits || len(p.as.Tires[t].WheelFits) == 0
		arrows = arrows || !p.as.Tires[t].Rotates.Is()
	}
	if fits {
		o.Assumptions = append(o.Assumptions, "Where the visit does not say which places a wheel fits (wheel_fits), it is taken to fit them all.")
	}
	if arrows {
		o.Assumptions = append(o.Assumptions, "Where the visit does not say how a tire turns (rotates), it is taken to run on either side: look for an arrow before it crosses the coach.")
	}
	if slices.ContainsFunc(p.as.Visit.Axles, func(a record.Axle) bool { return a.Towed }) {
		o.Assumptions = append(o.Assumptions, "The towed unit's tires stay where they are.")
	}
	first := ""
	for _, t := range p.tires {
		s := p.as.Tires[t].Size
		if first == "" {
			first = s
		}
		if s != "" && !judge.SameSize(s, first) {
			o.Assumptions = append(o.Assumptions, "Each axle keeps the size that was found on it: the visit does not say which size the placard wants there.")
			break
		}
	}
}

// cautions fills in the cautions.
func (p *placer) cautions() {
	o := &p.out
	demount := slices.ContainsFunc(o.Steps, func(s Step) bool { return s.Do == Demount })
	caution := func(text string) { o.Cautions = append(o.Cautions, text) }
	stops := func(it report.Item) bool { return it.Stops }
	if o.Stops && !slices.ContainsFunc(o.Broken, stops) && !slices.ContainsFunc(o.StillToDo, stops) {
		caution("Do not drive the coach: changing places does not cure the reason, which axleend assess names.")
	}
	if slices.ContainsFunc(p.tires, p.airOut) {
		caution("A tire that ran low, its dual mate, or one that is damaged can burst: keep clear of its sidewall. Trained people let the air out through the valve core before the wheel comes off (29 CFR 1910.177(f), as guidance).")
	}
	if demount {
		caution("Demounting, mounting and inflating are for trained people: a restraining device, a clip-on chuck, an in-line gauge, standing clear (29 CFR 1910.177(d), as guidance).")
	}
	if len(o.Steps) > 0 {
		caution(judge.CautionWheelOff)
		caution("Clean the faces of wheel, hub and nuts before a wheel goes on; a wheel goes only where it was made to fit (common practice).")
		caution("One dual alone carries double: an end that waits for a wheel rests on its stand, not on the other one (common practice).")
		caution(p.setCaution())
	}
	for _, at := range p.tires {
		switch t, st := p.best[at], &p.as.Tires[at]; {
		case st.Position != nil:
		case t == noTire:
			caution("No tire is left for the carrier of " + st.Name + ": the coach has one spare less.")
		case !p.anywhere(t):
			caution("The tire from " + p.as.Tires[t].Name + ", on the carrier of " + st.Name + ", may run at no place of this coach: it is no spare.")
		}
	}
	caution("Local codes and trained, licensed people decide; this page does not say that a coach is safe.")
	o.Packs = p.as.Program.Packs()
}

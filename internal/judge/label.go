package judge

import (
	"errors"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// A CargoLabel is the coach's cargo label beside what the scale says was loaded.
type CargoLabel struct {
	Label  cargo.Label
	Aboard cargo.Aboard
	Margin cargo.Margin
	// AtMost says that not all was recorded of what the label takes off itself: no
	// more than what the margin says was loaded.
	AtMost bool
}

// CargoLabel sets the cargo label beside the weighing; nil where the visit has none.
// Whatever was aboard of its own items is rounded down, so that never too little
// counts as cargo. The error is that of [cargo.Label.Compare].
func (a *Assessment) CargoLabel() (*CargoLabel, error) {
	return a.cargoLabelOf(a.Solution.Of(a.Layout.Coach), false)
}

// CargoLabelAfter is the same for what the coach weighs after the changes for the trip,
// with the people, water and LP gas that these bring.
func (a *Assessment) CargoLabelAfter(coach weight.Estimate) (*CargoLabel, error) {
	return a.cargoLabelOf(coach, true)
}

func (a *Assessment) cargoLabelOf(coach weight.Estimate, changed bool) (*CargoLabel, error) {
	in := a.Visit.Trip.Label
	kind, ok := in.Kind.Get()
	if !ok {
		return nil, nil
	}
	l := cargo.Label{Kind: kind, System: a.Visit.System, Source: labelSource(kind)}
	if s, ok := in.System.Get(); ok {
		l.System = s
	}
	l.GVWR, _ = in.GVWR.Or(a.Visit.Ratings.GVWR).Get()
	l.UVW, _ = in.UVW.Get()
	l.Stated, _ = in.Stated.Get()
	l.Water, _ = in.FreshWater.Get()
	l.LPTank, _ = in.LPTank.Get()
	l.SleepingPlaces, _ = in.SleepingPlaces.Get()
	l.Seats, _ = in.Seats.Get()
	out := &CargoLabel{Label: l}
	out.Aboard.People, _ = in.PeopleAboard.Get()
	water, _ := in.WaterAboard.Get()
	gas, _ := in.LPGasAboard.Get()
	waterMass, err1 := cargo.LabelWater(-water, l.System)
	gasMass, err2 := cargo.LPGas().Mass(-gas, l.System)
	out.Aboard.Water, out.Aboard.LPGas = -waterMass, -gasMass
	err := errors.Join(err1, err2)
	if err == nil && changed {
		err = a.board(&out.Aboard, &l)
	}
	if err == nil {
		out.Margin, err = l.Compare(coach, out.Aboard)
	}
	if err != nil {
		return nil, err
	}
	switch kind {
	case cargo.CCC:
		out.AtMost = !in.PeopleAboard.Is() || !in.WaterAboard.Is() || !in.LPGasAboard.Is()
	case cargo.OCCC:
		out.AtMost = l.LPTank > 0 && !in.LPGasAboard.Is()
	}
	return out, nil
}

// board adds what the changes for the trip bring of what the label counts by itself,
// rounded down, and no more water than its fresh tank holds.
func (a *Assessment) board(aboard *cargo.Aboard, l *cargo.Label) error {
	full, err := cargo.LabelWater(l.Water, l.System)
	if err != nil {
		return err
	}
	for _, c := range a.Visit.Trip.Changes {
		m, err := c.Mass(a.Visit.System)
		if err != nil {
			return err
		}
		fill, _ := c.Fill.Get()
		fluid, _ := c.Fluid.Get()
		switch {
		case record.Yes(c.People):
			aboard.People = max(aboard.People+m, 0)
		case fluid == record.Water:
			if fill > 0 {
				if less, err := cargo.LabelWater(-fill, l.System); err == nil {
					m = min(m, -less)
				}
			}
			aboard.Water = max(aboard.Water+m, 0)
			if full > 0 {
				aboard.Water = min(aboard.Water, full)
			}
		case fluid == record.LPGas:
			aboard.LPGas = max(aboard.LPGas+m, 0)
		}
	}
	return nil
}

func labelSource(k cargo.LabelKind) origin.Source {
	switch k {
	case cargo.OCCC:
		return origin.Source{Grade: origin.Published, Title: "49 CFR 571.120", Locator: "S10.4.4(c), as the coach's label states it"}
	case cargo.CCC:
		return origin.Source{Grade: origin.Quoted, Title: "trade label of 2000", Locator: "as the coach's label states it"}
	}
	return origin.Source{Grade: origin.FromMemory, Title: "trade label before 2000", Locator: "as the coach's label states it"}
}

// cargoLoaded is what was loaded by the cargo label. Of a coach that was weighed
// light it is at least that; where the label's own items were not all recorded, at
// most that.
func (a *Assessment) cargoLoaded() rules.Value { return a.LoadedBy(a.cargo) }

// cargoPlanned is the same after the changes for the trip.
func (a *Assessment) cargoPlanned() rules.Value {
	label, _ := a.CargoLabelAfter(a.Trip.At(1, a.Layout.Coach)) // what it lacks is asked for as weighed
	return a.LoadedBy(label)
}

// LoadedBy is the same for a label beside what the coach weighs at another time; nothing
// for nil.
func (a *Assessment) LoadedBy(label *CargoLabel) rules.Value {
	if label == nil {
		return rules.Value{}
	}
	v := a.load(label.Margin.Estimate)
	if label.AtMost {
		return v.OrLess()
	}
	return v
}

const needLabel = "for its cargo label: what it states, its GVWR or UVW, the weight of the coach, and the people, water and LP gas aboard then"

// labelMeasures are those of the coach's cargo label.
func labelMeasures(d dimensions) []measure[*report.LoadLine] {
	return []measure[*report.LoadLine]{
		w("cargo_label", "which cargo label was written down", []string{"none", "ncc", "ccc", "occc"}, func(a *Assessment, _ *report.LoadLine) rules.Value {
			kind, _ := a.Visit.Trip.Label.Kind.Get()
			return rules.Word(int(kind))
		}, ""),
		q("cargo_capacity", "what its cargo label lets be loaded", d.mass, func(a *Assessment, _ *report.LoadLine) rules.Value {
			if a.cargo == nil {
				return rules.Value{}
			}
			return rules.Quantity(a.cargo.Margin.Limit.Rating)
		}, needLabel),
		q("cargo_loaded", "what was loaded when it was weighed, counted as its cargo label counts it", d.mass, func(a *Assessment, _ *report.LoadLine) rules.Value { return a.cargoLoaded() },
			needLabel),
	}
}

// capacityAtPlacard is what a tire carries at the placard's pressure.
func (a *Assessment) capacityAtPlacard(st *TireState) rules.Value {
	if st.AxleIndex < 0 {
		return rules.Value{}
	}
	at, ok := a.placardPressure(st.AxleIndex)
	if !ok {
		return rules.Value{}
	}
	opt := st.Options
	opt.Method = inflation.Interpolated
	c, err := st.carries(at, a.Visit.Axles[st.AxleIndex].Fitment, a.placardOf(st.AxleIndex), opt, a.Visit.System)
	if err != nil {
		return rules.Value{}
	}
	return capacityValue(c)
}

// capacityValue is a capacity as a fact.
func capacityValue(c inflation.Capacity) rules.Value {
	switch {
	case !c.Known():
		return rules.Value{}
	case c.OpenAbove:
		return rules.Quantity(c.Low).OrMore()
	}
	return rules.Somewhere(c.Low, c.High)
}

package judge

import (
	"slices"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// compareTable asks for a tire's construction and class again where the table of its size is for
// another: one of the two was misread, or the table is not its own.
func (a *Assessment) compareTable(st *TireState) {
	t := st.Fitted.Table
	if t == nil {
		return
	}
	ask := func(key, is, of string) {
		if is == of {
			return
		}
		st.OtherTable = true
		if a.Counts(st) {
			a.Gap(st.Name, "its "+key+", read again: "+is+" is written, and the table \""+t.Name()+"\" of its size is for "+of, "")
		}
	}
	if c, ok := st.Construction.Get(); ok && t.Construction() != 0 {
		ask("construction", c.String(), t.Construction().String())
	}
	if c, ok := st.Class.Get(); ok {
		ask("class", c.String(), t.Class().String())
	}
}

// untabled is the tire as if there were no table, where the one that there is was made
// for another construction or class. Such a table may condemn and clears nothing: of the
// two answers, with it and without, the more careful one counts.
func (st *TireState) untabled() (inflation.Tire, bool) {
	t := *st.Fitted
	t.Table = nil
	return t, st.OtherTable && st.Fitted.Table != nil
}

// AppendToSet appends the tire as its axle's pressure rests on it: with a table for
// another tire it stands there twice, with it and without.
func (st *TireState) AppendToSet(dst []inflation.Tire) []inflation.Tire {
	t := *st.Fitted
	if own, twice := st.untabled(); twice {
		t.Class = t.Table.Class()
		dst = append(dst, own)
	}
	return append(dst, t)
}

// setAxle gives the pressure to set on an axle with these tires: where a table is for
// other tires, as without it, unless it asks for more or allows less.
func setAxle(in inflation.AxleInput, tires []TireState) (inflation.Setting, error) {
	if !slices.ContainsFunc(tires, func(st TireState) bool { return st.OtherTable }) {
		return inflation.SetAxle(in)
	}
	own, both := make([]inflation.Tire, len(tires)), []inflation.Tire(nil)
	for i := range tires {
		both = tires[i].AppendToSet(both)
		if t, is := tires[i].untabled(); is {
			own[i] = t
		} else {
			own[i] = *tires[i].Fitted
		}
	}
	in.Tires = own
	without, err := inflation.SetAxle(in)
	if err != nil {
		return without, err
	}
	in.Tires = both
	with, err := inflation.SetAxle(in)
	if err != nil || with.Outcome == without.Outcome && with.Set <= without.Set {
		return without, nil
	}
	return with, nil
}

// needs is what the tire needs for a load.
func (st *TireState) needs(load inflation.Load, fit weight.Fitment, system weight.System) (inflation.Need, error) {
	n, err := st.Fitted.Need(load, fit, st.Options, system)
	own, twice := st.untabled()
	if err != nil || !twice {
		return n, err
	}
	without, err := own.Need(load, fit, st.Options, system)
	return n.Or(without), err
}

// carries is what the tire carries at a pressure.
func (st *TireState) carries(at inflation.Pressure, fit weight.Fitment, placard inflation.Placard, opt inflation.Options, system weight.System) (inflation.Capacity, error) {
	c, err := st.Fitted.Carries(at, fit, placard, opt, system)
	own, twice := st.untabled()
	if err != nil || !twice {
		return c, err
	}
	without, err := own.Carries(at, fit, placard, opt, system)
	switch {
	case !c.Known():
		return without, err
	case without.Known() && !without.OpenAbove && (c.OpenAbove || without.High < c.High):
		c.High, c.OpenAbove = without.High, false
	}
	c.Low = min(c.Low, without.Low)
	c.PlacardAsksMore = c.PlacardAsksMore || without.PlacardAsksMore
	return c, err
}

package judge

import (
	"errors"
	"slices"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A TireState is one position with all that is known of it, the defaults of
// the visit filled in.
type TireState struct {
	record.Tire
	Name      string
	AxleIndex int // -1 for a spare
	Position  *record.Wheel
	Written   bool
	Mate      int // index of the dual mate, or -1
	Options   inflation.Options
	Fitted    *inflation.Tire
	Setting   *inflation.Setting
	Usable    record.Recorded[inflation.Pressure] // as found, where it may be judged
	Warm      record.Recorded[bool]               // whether it was hot when it was read
	Pressures Pressures
	doubts    tireDoubts
	RanLow    record.Recorded[bool] // whether it was judged to have run low
	airBy     report.Air            // what the findings on it say of its air, but for how low it ran
	condemned bool                  // it, or its dual mate, ran low
	Line      *report.TireLine      // in the report

	OtherTable bool // the table of its size is for another construction or class
}

// CollectTires brings together what is known of each wheel position and spare,
// the defaults of the visit filled in.
func (a *Assessment) CollectTires() error {
	v, l := a.Visit, a.Layout
	for i := range v.Axles {
		ax := &v.Axles[i]
		tires := l.TireAt[l.First[i]:l.First[i+1]]
		// A towed axle counts only if something of it was written down.
		a.Counted[i] = !ax.Towed || ax.GAWR.Is() || ax.Placard.Is() || slices.ContainsFunc(tires, func(t int) bool { return t >= 0 })
	}
	places := len(l.Wheels) + len(l.Spares)
	a.Tires = make([]TireState, places)
	a.Report.Tires = make([]report.TireLine, 0, places)
	a.toSet = make([]inflation.Tire, places)
	for i := range a.Tires {
		a.collect(i)
	}
	for i := range v.Axles {
		a.fitted[i] = a.compareFitted(i)
	}
	return nil
}

// collect brings together what is known of the tire at a place.
func (a *Assessment) collect(i int) {
	st := a.placed(i)
	a.hardlyStamps(st)
	st.Warm = a.warm(st)
	if a.Counts(st) {
		a.Report.Tires = a.Report.Tires[:len(a.Report.Tires)+1]
		st.Line = &a.Report.Tires[len(a.Report.Tires)-1]
	} else {
		st.Line = new(report.TireLine)
	}
	lr, err := a.loadRange(i)
	if err != nil {
		a.todo(report.Item{Action: report.BeforeTrip, Verdict: rules.NotRecorded, Where: st.Name, What: RangeInDoubt,
			Found: err.Error(), Advice: "Read the load range off the sidewall again.", Sources: []origin.Source{{Grade: origin.CommonPractice}}})
	}
	st.Options = inflation.Options{LoadRange: lr, OnPassengerCar: st.AxleIndex >= 0 && a.onCar(st.AxleIndex)}
	st.Fitted.Name, st.Fitted.Size, st.Fitted.LoadRange = st.Name, st.Size, lr
	st.Fitted.Table = a.table(i, lr)
	st.Fitted.Class, _ = st.Class.Get()
	a.compareTable(st)
	if s, ok := st.Single.Get(); ok {
		st.Fitted.Single = inflation.Rating{Load: s.Load, Pressure: s.At}
	}
	if s, ok := st.Dual.Get(); ok {
		st.Fitted.Dual = inflation.Rating{Load: s.Load, Pressure: s.At}
	}
	a.stamps(st)
	if st.Position != nil && len(a.Visit.Weighing.Readings) > 0 {
		st.Line.Load = a.tireLoad(st)
	}
	st.Usable = st.FoundAtStem()
	a.hardlyTire(st)
	a.hardlyPast(st)
	a.date(st)
	if st.Line.Age.Retread {
		a.casing(st)
	}
	if !st.Written && a.Counts(st) {
		a.Gap(st.Name, notWritten, "")
	}
}

// placed is the tire at a place, with what its entry and the visit say of it.
func (a *Assessment) placed(i int) *TireState {
	v, l := a.Visit, a.Layout
	st := &a.Tires[i]
	st.AxleIndex, st.Mate, st.Fitted = -1, -1, &a.toSet[i]
	var tire int
	if i < len(l.Wheels) {
		st.Position = &l.Wheels[i]
		st.Name, st.AxleIndex, st.Mate, tire = st.Position.Name, st.Position.Axle, l.MateOf(i), l.TireAt[i]
	} else {
		tire = l.Spares[i-len(l.Wheels)]
		st.Name = v.Tires[tire].At
	}
	if st.Written = tire >= 0; st.Written {
		st.Tire = v.Tires[tire]
	}
	if st.AxleIndex >= 0 && v.Axles[st.AxleIndex].Towed { // a towed car runs on other tires
		st.Tire.Fill(&v.EveryTowedTire)
	} else {
		st.Tire.Fill(&v.EveryTire)
	}
	return st
}

// compareFitted compares an axle's tires with those that the placard names.
func (a *Assessment) compareFitted(axle int) inflation.Fitted {
	ax := &a.Visit.Axles[axle]
	wanted, err := inflation.ParseLoadRange(ax.PlacardLoadRange)
	if ax.PlacardSize == "" || ax.PlacardLoadRange == "" || err != nil {
		return 0
	}
	most, ok := wanted.PlyRating()
	if !ok {
		return 0
	}
	as := inflation.AsPlacard
	tires := a.OnAxle(axle)
	for i := range tires {
		st := &tires[i]
		plies, ok := st.Options.LoadRange.PlyRating()
		switch {
		case st.Size == "" || !SameSize(st.Size, ax.PlacardSize) || !ok:
			return 0
		case plies < most:
			as = inflation.WeakerThanPlacard
		}
	}
	return as
}

// table finds the i-th tire's table. Two that differ for one size are a finding;
// none at all is shown by the setting, which is then an estimate.
func (a *Assessment) table(i int, lr inflation.LoadRange) *inflation.Table {
	st := &a.Tires[i]
	if st.Size == "" || a.Tables.Len() == 0 {
		return nil
	}
	for j := range a.Tires[:i] {
		if t := a.Tires[j].Fitted.Table; t != nil && a.Tires[j].Size == st.Size && a.Tires[j].Options.LoadRange == lr {
			return t // most coaches run on one size
		}
	}
	t, err := sidewall.FindTable(a.Tables, st.Size, lr)
	if errors.Is(err, inflation.ErrAmbiguous) {
		a.Gap(st.Name, "which table is its own: "+err.Error(), "")
	}
	return t
}

// loadRange reads the i-th tire's load range; mostly it is that of the one
// before.
func (a *Assessment) loadRange(i int) (inflation.LoadRange, error) {
	text := a.Tires[i].LoadRange
	switch {
	case text == "":
		return "", nil
	case i > 0 && text == a.Tires[i-1].LoadRange && a.Tires[i-1].Options.LoadRange != "":
		return a.Tires[i-1].Options.LoadRange, nil
	}
	return inflation.ParseLoadRange(text)
}

// tireLoad is what one tire carries: weighed by itself, or its end's load,
// halved on a dual pair and rounded up.
func (a *Assessment) tireLoad(st *TireState) weight.Estimate {
	end := a.endLoad(st.AxleIndex, st.Position.Side)
	if a.Visit.Axles[st.AxleIndex].Fitment != weight.Dual {
		return end
	}
	if a.ByWheel {
		if e := a.Solution.Of(st.Position.Set); e.Known() {
			return e
		}
	}
	return a.OnOne(st.AxleIndex, end)
}

// OnOne is what one tire has of what its axle end carries: half on a dual pair,
// rounded up.
func (a *Assessment) OnOne(axle int, end weight.Estimate) weight.Estimate {
	if a.Visit.Axles[axle].Fitment != weight.Dual {
		return end
	}
	grid := a.Visit.System.MassGrid()
	half := func(m weight.Mass) weight.Mass { return (m/2 + m%2).Round(grid, weight.Ceiling) }
	end.Load, end.PlusMinus, end.FromSlope = half(end.Load), half(end.PlusMinus), half(end.FromSlope)
	return end
}

// notWritten is what is said once of a tire that the visit leaves out.
const notWritten = "all of its readings, as none was written down"

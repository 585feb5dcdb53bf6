package judge

import (
	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// toLoad is a load as inflation takes it; of a coach that was weighed light, at
// least that.
func (a *Assessment) toLoad(e weight.Estimate) inflation.Load {
	l := inflation.LoadOf(e)
	l.OpenAbove = l.OpenAbove || l.State != 0 && !a.asDriven
	return l
}

// StampedWheel is what the tire's wheel allows.
func (st *TireState) StampedWheel() inflation.Wheel {
	s, _ := st.Wheel.Get()
	return inflation.Wheel{Name: st.Name, MaxLoad: s.Load, MaxPressure: s.At}
}

// AxleInput is what an axle's pressure rests on, but for its tires, wheels and
// rating.
func (a *Assessment) AxleInput(i int) inflation.AxleInput {
	v, ax := a.Visit, &a.Visit.Axles[i]
	in := inflation.AxleInput{Name: ax.ID, Fitment: ax.Fitment, System: v.System}
	placard, said := a.placardRead(i).Get()
	in.Placard, _ = placard.Pressure()
	in.PlacardNone = said && in.Placard == 0
	if !a.doubtful(gawrKey(ax)) {
		in.GAWR, _ = ax.GAWR.Get()
	}
	if !ax.Towed {
		in.GVWR, _ = v.Ratings.GVWR.Get()
	}
	in.Fitted, in.OnPassengerCar = a.fitted[i], a.onCar(i)
	if in.Step, _ = v.GaugeStep.Get(); in.Step == 0 {
		in.Step = record.PressureStep(v.PressureUnit, v.System)
	}
	in.AsDriven = a.asDriven
	if len(v.Weighing.Readings) == 0 {
		return in
	}
	left, right := a.endLoad(i, weight.Left), a.endLoad(i, weight.Right)
	if left.State != weight.Assumed {
		in.Weighed.Left, in.Weighed.Right = a.heavierTire(a.toLoad(left), i, weight.Left), a.heavierTire(a.toLoad(right), i, weight.Right)
	}
	in.Weighed.Total = a.toLoad(a.axleLoad(i).Estimate)
	if a.Changes {
		in.Heaviest = a.heaviest(i)
		in.Heaviest.Left, in.Heaviest.Right = shared(in.Heaviest.Left, in.Weighed.Left), shared(in.Heaviest.Right, in.Weighed.Right)
	}
	if in.Weighed.Left.State == 0 && in.Weighed.Right.State == 0 && in.Weighed.Total.State == inflation.Assumed {
		in.Weighed.Total = inflation.Load{}
	}
	return in
}

// heavierTire adds to an end's load what the heavier of its duals carries, where
// each was weighed.
func (a *Assessment) heavierTire(l inflation.Load, axle int, side weight.Side) inflation.Load {
	if !a.ByWheel || a.Visit.Axles[axle].Fitment != weight.Dual || l.State == 0 {
		return l
	}
	x, y := a.Solution.Of(weight.WheelOf(axle, side, weight.Outer)), a.Solution.Of(weight.WheelOf(axle, side, weight.Inner))
	if x.Known() && y.Known() {
		l.HeavierTire = max(x.Load, y.Load)
		l.HeavierPlusMinus = max(x.AtMost(), y.AtMost()) - l.HeavierTire
	}
	return l
}

// shared is a planned load whose duals share it as they shared the weighed one.
func shared(planned, weighed inflation.Load) inflation.Load {
	if planned.State == 0 || weighed.HeavierTire == 0 || weighed.Load <= 0 {
		return planned
	}
	tire, err1 := weighed.HeavierTire.MulDiv(int64(planned.Load), int64(weighed.Load), weight.Ceiling)
	most, err2 := weighed.HeavierPlusMinus.MulDiv(int64(planned.Load), int64(weighed.Load), weight.Ceiling)
	if err1 == nil && err2 == nil {
		planned.HeavierTire, planned.HeavierPlusMinus = tire, most
	}
	return planned
}

// setAxles finds the pressure to set on each axle.
func (a *Assessment) setAxles() {
	v, l := a.Visit, a.Layout
	a.Report.Settings = make([]inflation.Setting, 0, len(v.Axles)) // tires point into it
	a.inputs = make([]inflation.AxleInput, len(v.Axles))
	wheels := make([]inflation.Wheel, len(l.Wheels))
	for i := range wheels {
		st := &a.Tires[i]
		wheels[i] = st.StampedWheel()
	}
	for i := range v.Axles {
		if !a.Counted[i] {
			continue
		}
		ax := &v.Axles[i]
		in := a.AxleInput(i)
		if a.Changes && !a.Trip.At(1, weight.AxleOf(i)).Known() {
			a.Gap(ax.ID, "what it carries after the changes for the trip", "")
		}
		in.Ratings = a.endLimits(i)
		first, end := l.First[i], l.First[i+1]
		in.Tires, in.Wheels = a.toSet[first:end], wheels[first:end]
		a.inputs[i] = in
		s, err := setAxle(in, a.Tires[first:end])
		if err != nil { // a table that does not fit this axle: the rest is still answered
			a.Gap(ax.ID, report.NeedSetting+OneLine(err), "")
			continue
		}
		if s.Outcome == inflation.Short && s.HeaviestGoverns {
			in.Heaviest = inflation.AxleLoad{}
			weighed, err := setAxle(in, a.Tires[first:end])
			a.shortOnTrip[i] = err == nil && weighed.Outcome != inflation.Short
		}
		if !ax.Towed {
			withholdUnset(&s)
		}
		a.Report.Settings = append(a.Report.Settings, s)
		for j := first; j < end; j++ {
			a.Tires[j].Setting = &a.Report.Settings[len(a.Report.Settings)-1]
		}
	}
}

// withholdUnset removes a pressure to set that is too low for any coach tire. The
// stamp behind it is to be read again: mostly it is in another unit.
func withholdUnset(s *inflation.Setting) {
	if s.Set == 0 || s.Set >= leastStamped || s.Cap.Pressure == 0 || s.Cap.Pressure >= leastStamped {
		return
	}
	said := caution.TirePressureNotRead
	if s.AskWheelPressure = s.Cap.Part == inflation.WheelPressure; s.AskWheelPressure {
		said = caution.WheelPressureNotRead
	} else {
		s.AskTirePressure = true
	}
	s.Outcome, s.Set, s.Why = inflation.NotJudged, 0, 0
	s.Cautions = s.Cautions.With(said)
}

// toSetValue is the pressure to set as a fact: from what is surely needed to what
// is set, where that rests on an assumed share or only counts until the placard is
// read.
func (a *Assessment) toSetValue(st *TireState) rules.Value {
	s := st.Setting
	if s == nil || s.Outcome != inflation.CanSet && s.Outcome != inflation.TooClose {
		return rules.Value{}
	}
	if s.Grounds.Load == inflation.AxleShare || s.AskPlacard {
		placard, _ := a.placardPressure(st.AxleIndex)
		step := a.inputs[st.AxleIndex].Step
		need := (s.Need.Low + step - 1) / step * step // what would be set for it alone
		return rules.Somewhere(min(max(placard, need), s.Set), s.Set)
	}
	return rules.Quantity(s.Set)
}

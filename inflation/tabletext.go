package inflation

// Cautions gives what goes along with an answer to the load of a share
// whenever it is shown, and, for the zero Answer, with a load that nothing
// carries: t is the table that was asked, nil for an estimate, and opt how.
// A look-up by itself has seen neither a sidewall's nor a wheel's maximum, and
// says so; an estimate rests on the sidewall's. What a whole axle needs is for
// [SetAxle].
func (a Answer) Cautions(share TireShare, t *Table, opt Options) Cautions {
	s := Cautions(0).With(CautionColdOnly).With(CautionThisLoadOnly).With(CautionWheelPressureNotRead).With(CautionWheelLoadNotRead)
	if share.Assumed {
		s = s.With(CautionShareAssumed)
	}
	if t == nil {
		s = s.With(CautionEstimated)
		if a.AtFloor {
			s = s.With(CautionNoTableFloor)
		}
		return s
	}
	s = s.With(CautionTirePressureNotRead).With(CautionTireLoadNotRead)
	if opt.LoadRange == "" && len(t.caps) > 0 {
		s = s.With(CautionLoadRangeNotRead)
	}
	if derates(t.class, opt.OnPassengerCar) {
		s = s.With(CautionDerated)
	}
	return s
}

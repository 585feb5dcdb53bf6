// Package rigtest makes rigs for tests: invented coaches.
//
//	rig := rigtest.Coach()
//	steer := rigtest.Axles(0, 0)
//	solution, err := weight.Solve(rig, readings, scale)
package rigtest

import "axleend.example/weight"

// Coach is an invented coach: steer and drive.
func Coach() weight.Rig {
	return weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer", Fitment: weight.Single},
			{ID: "drive", Fitment: weight.Dual, Behind: 252 * weight.Inch},
		},
		Track: 78 * weight.Inch, Height: 54 * weight.Inch,
	}
}

// TaggedWithTrailer is an invented coach with a tag axle and a two-axle trailer.
func TaggedWithTrailer() weight.Rig {
	in := weight.Inch
	return weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer", Fitment: weight.Single},
			{ID: "drive", Fitment: weight.Dual, Behind: 260 * in},
			{ID: "tag", Fitment: weight.Single, Behind: 310 * in},
			{ID: "front trailer", Fitment: weight.Single, Behind: 590 * in, Towed: true},
			{ID: "rear trailer", Fitment: weight.Single, Behind: 625 * in, Towed: true},
		},
		Coupling: weight.Tongue, Hitch: 440 * in, Track: 80 * in, Height: 54 * in,
	}
}

// Axles is all that stands on the axles from one to another.
func Axles(from, to int) weight.Set {
	var s weight.Set
	for a := from; a <= to; a++ {
		s |= weight.AxleOf(a)
	}
	return s
}

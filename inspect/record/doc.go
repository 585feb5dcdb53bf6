// Package record holds what was written down in one visit: the coach, its axles
// and ratings, scale readings, and what was stamped, measured and seen on each
// tire.
//
//	visit, err := record.Read("visit.yaml", data) // all problems at once
//	pressure, ok := visit.Tires[0].Found.Get()    // or nobody read it
//	blank, err := record.Blank{Axles: visit.Axles}.YAML()
//
// # A visit
//
// A visit is a short YAML file (JSON has the same shape). Every quantity has its
// unit; what was not looked at is left out, or says "not read", and is reported as
// not judged. The page visit.md in this folder has all the keys; [record.Blank]
// writes a file to fill in, [record.Marshal] writes a visit as a file, [record.Next]
// makes the next visit from the last, and [record.Fields] describes every key, to
// draw a form from.
//
//	visit: 1                         # the format's version
//	date: 2026-10-03
//	units: us                        # or metric: how people are shown it
//	gauge_tolerance: 0.5 psi
//	ratings: {gvwr: 26000 lb, gcwr: 31000 lb}
//	axles:                           # from the front; towed ones last
//	  - {id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi}
//	  - {id: drive, fitment: dual, gawr: 17500 lb, placard: 110 psi}
//	every_tire:                      # what all the coach's tires share
//	  {size: XV250/72R21, class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, seen: nothing}
//	tires:                           # what is one tire's own
//	  - {at: steer-left, found: 99 psi, tread: [9/32 in, 10/32 in], number: 2222}
//	  - {at: drive-right-inner, last_set: 110 psi, found: 88 psi, seen: [cut, missing cap]}
//	weighing:
//	  {scale: platform, division: 20 lb, level: yes, readings: [{load: 4380 lb, on: steer-left}, {load: 13340 lb, on: left}]}
//
// Wheel positions are made of the axle's id, the side and, on duals, the
// place: steer-left, drive-left-outer; spare, spare-2. A reading is on any of
// these, on an axle end (drive-left), an axle, left, right, coach, towed or
// all. Inside { } a thousands comma starts a new entry: write 9500 lb there.
//
// Where a wheel was made for some places only, or an arrow on the sidewall asks
// for one side, a tire says so: wheel_fits: [steer, outer], rotates: left.
//
// [history.Compare] sets several visits of one coach beside each other. For that
// write down the odometer, the air's temperature, whether tires were cold (hot:
// no), and the pressure each was left at; what an earlier visit advised and was
// done since goes under done:
//
//	done:
//	  - {at: drive-right-inner, rule: run-low, note: demounted and inspected}
package record

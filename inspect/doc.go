// Package inspect takes the record of one visit to a motorhome and gives the
// whole answer: loads, pressures to set, ages, duals, flats, and what to do.
//
//	visit, err := inspect.ReadVisit("visit.yaml", data)
//	report, err := inspect.Assess(visit, inspect.Setup{Tables: tables})
//	fmt.Println(report.Worst, report.Stops, report.NotJudged)
//
// # A visit
//
// A visit is a short YAML file (JSON has the same shape). Every quantity has
// its unit; what was not looked at is left out, or says "not read", and is
// reported as not judged. The page visit.md in this folder has all the keys;
// [Blank] writes a file to fill in.
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
// [Compare] sets several visits of one coach beside each other. For that
// write down the odometer, the air's temperature, whether tires were cold
// (hot: no), and the pressure each was left at; what an earlier visit advised
// and was done goes under done:
//
//	done:
//	  - {at: drive-right-inner, rule: run-low, note: demounted and inspected}
//
// # What is judged, and how
//
// No limit stands in this package: all are rules in packs, judged by
// [axleend.example/rules] on the measures that [Vocabulary] lists. Loads count
// with their worst-case plus/minus, gauges with their tolerance where a tire
// may be a flat, ages with the oldest day that a date code allows. Nobody is
// told to air up a tire that ran low, or its dual mate. A hot reading can
// condemn a tire and never clears one.
//
// [PlaceTires] holds other arrangements of the same tires to the same rules, and
// says which tire goes where, the steps that takes, and what has to be bought.
//
// A report says what was found, not that a coach is safe. It stands beside
// trained people's judgment, the makers' instructions and local codes.
//
// # Many visits
//
// [Batch] reads visits as lines of JSON and writes their reports as lines of
// JSON in the same order, [BatchFolder] reads the files of a folder: on as many
// processors as it is told, in memory that does not grow with the input. [FindResume] finds
// where an interrupted one goes on.
//
// Values are plain data without shared state; a compiled program and loaded
// tables may be used by any number of goroutines.
package inspect

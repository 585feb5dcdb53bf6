package browsercheck

import "fmt"

// typedVisit is what typeVisit types in, written by hand: an invented coach with
// duals on an invented day.
const typedVisit = `visit: 1
invented: yes
date: 2026-10-03
coach: Invented coach, typed in
odometer: 41,250 mi
load_state: as for the trip
stood: 14 h
nothing_since_set: yes
air_temperature: 60 F
gauge_tolerance: 0.5 psi
ratings: {gvwr: 26000 lb}
names: {technician: An invented hand}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: none, behind_steer: 228 in}
every_tire:
  {size: XV250/72R21, load_range: G, service: 136/133L, class: truck, construction: radial, single: 4940 lb at 110 psi,
   dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi, last_set: 110 psi, sidewalls: both}
tires:
  - {at: steer-left, last_set: 100 psi, found: 99 psi, tread: {outer: 9/32 in, center: 10/32 in, inner: 9/32 in}, number: 2222, seen: nothing}
  - {at: steer-right, last_set: 100 psi, found: 98.5 psi, tread: 10/32 in, number: 2222, seen: nothing}
  - {at: drive-left-outer, found: 109 psi, tread: [7/32 in, 8/32 in], number: 1819, seen: nothing}
  - {at: drive-left-inner, read_at: not reached, tread: 12/32 in, number: "0523"}
  - {at: drive-right-inner, size: not read, found: 88 psi, tread: 8/32 in, number: 1819, seen: nothing, hot: no}
  - {at: drive-right-outer, found: 110 psi, tread: 8/32 in, number: 1819, seen: [missing cap, weather cracking], crack_depth: 1/32 in}
  - {at: spare, found: 100 psi, tread: 13/32 in, number: 439}
weighing:
  scale: platform
  division: 20 lb
  level: yes
  ride_height: yes
  levelers_up: yes
  slides_in: yes
  as_driven: yes
  readings:
    - {load: 4380 lb, on: steer-left}
    - {name: left side, load: 13340 lb, on: left}
    - {load: 4120 lb, on: steer-right}
    - {load: 12020 lb, on: right}
declined:
  - {at: spare, rule: cracks, note: next year}
notes: [parks on gravel, tows nothing]
`

// fullVisit has something in every corner of the record, in units of both systems.
const fullVisit = `visit: 1
invented: yes
date: 2026-10-03
units: metric
pressure_unit: bar
coach: "Invented: \"7\", # one"
names: {customer: Nobody, technician: An invented hand, last_set_by: N. N., plate: "0123", unit_number: "7", work_order: "00042"}
use: private
country: CA-QC
odometer: 66400 km
fastest: 65 mph
load_state: as for the trip
stood: 45 min
moved: no
cold: no
driven_since: not read
nothing_since_set: yes
last_set_on: 2026-04-30
last_set_air: -5 C
last_set_gauge_tolerance: 7 kPa
tows: car
air_temperature: 60 F
next_day_air: 12 C
gauge: dial
gauge_tolerance: 0.5 psi
gauge_step: 35 kPa
gauge_checked: 2026-01-02
ratings: {gvwr: 11793.4 kg, gcwr: 31000 lb}
packs: [towing, us-in-use]
sure: [odometer, gvwr]
axles:
  - {id: steer, fitment: single, gawr: 4309 kg, placard: 100 psi, placard_size: XV250/72R21, placard_load_range: G, torque_asked: 475 ft-lb, torque_applied: 644 N-m, sure: gawr}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: none, behind_steer: 228 in}
  - {id: tag, fitment: single, behind_steer: 7.1 m}
  - {id: car, fitment: single, towed: yes, behind_steer: 500 in}
every_tire: {size: XV250/72R21, service: 136/133L, class: truck, single: 2240 kg at 760 kPa, dual: 4540 lb at 110 psi, seen: nothing, retread: no, last_set: 7.5 bar}
every_towed_tire: {size: XQ155/70R14, class: passenger, last_set: 32 psi}
tires:
  - {at: steer-left, size: not read, service: not read, single: not read, seen: not read, last_set: not read, retread: not read, found: 655 kPa, tread: {inner: [9/32 in, 8.5 mm], center: 7 mm, outer: 9/32 in}, rotates: left, wheel_fits: [steer, outer], sure: [tread, found]}
  - {at: steer-right, number: 1M3 AXLE DEMO 2222, other_number: 1M3 AXLE DEMO, decade_mark: no, tread: [9/32 in, 10/32 in, 7.5 mm], note: "<b> & \"quotes\"", photos: [a.jpg, "b, c.jpg"], inspected_by: N. N.}
  - {at: drive-left-outer, found: 0 psi, read_zero: yes, lowest: 0 psi, seen: [cut, weather cracking], cut_depth: 2/32 in, cut_length: 25 mm, cut_at: shoulder, crack_depth: 1 mm, stem: metal, extension: none, stem_fitted: 2020-02-29}
  - {at: drive-left-inner, read_at: not reached, diameter: 34 1/8 in, circumference: 2718 mm, model: rib-a, tread_type: all position}
  - {at: drive-right-inner, found: 100 psi, left: 110 psi, air_added: yes, air_added_by: 10 psi, before_air: 100 psi, next_day: 109.5 psi, sensor_reading: 99 psi, sensor_fitted: 2024-01-01}
  - {at: drive-right-outer, hot: yes, in_sun: no, low_alarm: no, driven_since: yes, sidewalls: outer, injury_width: 1/8 in, injury_at: crown, wheel: 5000 lb at 120 psi}
  - {at: tag-left, wheel_on: 2026-09-01, torque_checked: 2026-09-02, regrooved: no, construction: radial, load_range: G}
  - {at: spare-2, found: 99 psi}
weighing:
  date: 2026-10-02
  place: yard
  odometer: 41,200 mi
  as_driven: no
  work_since: no
  raised: tag
  scale: segmented
  division: 20 lb
  tolerance: 10 kg
  tanks_as_driven: no
  hitched: no
  heavier_share: 55 %
  readings:
    - {name: first, load: 4380 lb, on: [steer-left, steer-right], tolerance: 5 kg, sure: yes}
    - {load: 9000 kg, on: [drive]}
  unhitched:
    - {load: 8900 kg, on: [drive]}
towing: {hitch: 10000 lb, hitch_tongue: 450 kg, tongue: 200 lb}
trip:
  track: 78 in
  coupling: tow bar
  hitch: 8.2 m
  stations: [{name: "bay, left", behind_steer: -10 in, offset: 30 in left, most: 300 lb}, {name: rear, behind_steer: 260 in}]
  items: [{name: tools, mass: 55 kg, at: "bay, left", may_go_to: [rear]}]
  changes: [{name: water, at: rear, fill: 150 L, fluid: water}, {name: two, at: "bay, left", add: 300 lb, may_go_to: [rear]}]
  label: {kind: CCC, uvw: 21900 lb, sleeping_places: 4, fresh_water: 60 gal}
done: [{at: drive-left-outer, rule: run-low, note: demounted}]
declined: [{at: spare-2, rule: cracks}]
notes: ["one, with a comma", two]
torque_due: 66500 km
next_visit: 2027-04-01
`

// typeVisit fills the page in: the layout first, what is shared once, then tire by
// tire, the scale last.
func typeVisit(f form) {
	f.t.Helper()
	f.run(`{ const spares = byId("spares"); spares.value = "1"; spares.dispatchEvent(new Event("input")); }`)
	f.fill("steer.gawr", "9500")
	f.fill("steer.placard", "100")
	f.fill("drive.gawr", "17500")
	f.run(`fieldAt("drive.placard").querySelector("button").click()`) // none
	f.fill("drive.behind_steer", "228")

	f.choose("invented", "yes")
	f.fill("date", "2026-10-03")
	f.fill("coach", "Invented coach, typed in")
	f.fill("odometer", "41,250")
	f.fill("load_state", "as for the trip")
	f.fill("stood", "14")
	f.choose("nothing_since_set", "yes")
	f.fill("air_temperature", "60")
	f.fill("gauge_tolerance", "0.5")
	f.fill("ratings.gvwr", "26000")
	f.fill("names.technician", "An invented hand")
	f.fill("notes", "parks on gravel\ntows nothing")

	f.fill("every_tire.size", "XV250/72R21")
	f.fill("every_tire.load_range", "G")
	f.fill("every_tire.service", "136/133L")
	f.choose("every_tire.class", "truck")
	f.choose("every_tire.construction", "radial")
	f.fill("every_tire.single", "4940", "110")
	f.fill("every_tire.dual", "4540", "110")
	f.fill("every_tire.wheel", "5000", "120")
	f.fill("every_tire.last_set", "110")
	f.choose("every_tire.sidewalls", "both")

	f.tire("steer-left")
	f.fill("steer-left.found", "99")
	f.run(`for (const depth of [9, 10, 9]) fieldAt("steer-left.tread").querySelectorAll(".depths button")[depth].click()`) // by touch
	f.fill("steer-left.number", "2222")
	f.choose("steer-left.seen", "nothing")
	f.fill("steer-left.last_set", "100")
	f.press("Next: drive-left-outer")
	f.fill("drive-left-outer.found", "109")
	f.fill("drive-left-outer.tread", "", "", "", "7 8")
	f.fill("drive-left-outer.number", "1819")
	f.choose("drive-left-outer.seen", "nothing")
	f.press("Next: drive-left-inner")
	f.choose("drive-left-inner.read_at", "not reached")
	f.fill("drive-left-inner.tread", "", "", "", "12")
	f.fill("drive-left-inner.number", "0523")
	f.tire("drive-right-outer")
	f.fill("drive-right-outer.found", "110 psi")
	f.fill("drive-right-outer.tread", "", "", "", "8/32 in")
	f.fill("drive-right-outer.number", "1819")
	f.choose("drive-right-outer.seen", "something found", "weather cracking", "missing cap")
	f.fill("drive-right-outer.crack_depth", "1")
	f.tire("drive-right-inner")
	f.fill("drive-right-inner.found", "88")
	f.fill("drive-right-inner.tread", "", "", "", "8")
	f.fill("drive-right-inner.number", "1819")
	f.choose("drive-right-inner.seen", "nothing")
	f.choose("drive-right-inner.hot", "no")
	f.run(`fieldAt("drive-right-inner.size").querySelector("button").click()`) // not read
	f.tire("steer-right")
	f.press("Copy stamps and last set from") // the other side
	if got := eval[string](f.t, f.tab, `Object.keys(doc.tires[1]).join()`); got != "at,last_set" {
		f.t.Errorf("copied what is read: %s", got)
	}
	f.fill("steer-right.found", "98.5")
	f.fill("steer-right.tread", "", "", "", "10")
	f.fill("steer-right.number", "2222")
	f.choose("steer-right.seen", "nothing")
	f.tire("spare")
	f.fill("spare.found", "100")
	f.fill("spare.tread", "", "", "", "13")
	f.fill("spare.number", "439")

	f.choose("weighing.scale", "platform")
	f.fill("weighing.division", "20")
	for _, key := range []string{"as_driven", "level", "ride_height", "levelers_up", "slides_in"} {
		f.choose("weighing."+key, "yes")
	}
	for i, one := range [][2]string{{"steer-left", "4380"}, {"left", "13340"}, {"steer-right", "4120"}, {"right", "12020"}} {
		f.press("Add to readings")
		f.choose(fmt.Sprintf("weighing.reading %d.on", i+1), one[0])
		f.fill("weighing."+one[0]+".load", one[1])
	}
	f.fill("weighing.left.name", "left side")

	f.run(`fieldAt("towing.hitch")`) // opens what stands behind lines
	f.press("Add to declined")
	f.choose("declined.entry 1.at", "spare")
	f.fill("declined.spare.rule", "cracks")
	f.fill("declined.spare.note", "next year")
}

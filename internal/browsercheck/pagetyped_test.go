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

package record

import (
	"fmt"
	"sync"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/weight"
)

var visitPart = sync.OnceValue(func() *part[Visit] {
	type v = Visit
	return newPart("visit", []field[v]{
		plain("visit", "format", "the version of this format", versionKind(), func(x *v) *int { return &x.Version }).needed(),
		plain("invented", "invented", "made up for a demonstration or a test", yesNoKind(), func(x *v) *bool { return &x.Invented }).stays(),
		plain("date", "date", "the day of the visit", dateKind(), func(x *v) *dotcode.Date { return &x.Date }).needed(),
		plain("units", "units", "how computed figures are rounded and shown; left out, us", systemKind(), func(x *v) *weight.System { return &x.System }).stays(),
		plain("pressure_unit", "pressures in", "the unit in which pressures are printed; left out, psi or kPa as `units` says", pressureUnitKind(), func(x *v) *string { return &x.PressureUnit }).stays(),
		line("coach", "coach", "which coach, in your own words", func(x *v) *string { return &x.Coach }).stays(),
		inside("names", "names", "whose coach it is and who worked on it; nothing is judged by it", "names", namesPart, func(x *v) *Names { return &x.Names }),
		recorded("use", "used", "whether it earns money: hire, cargo or passengers for pay", useKind(), func(x *v) *Recorded[string] { return &x.Use }).stays(),
		line("country", "registered in", "where it is registered, in the two letters of ISO 3166: US, CA-QC", func(x *v) *string { return &x.Country }).stays(),
		recorded("odometer", "odometer", "as it stands", distanceKind(), func(x *v) *Recorded[weight.Length] { return &x.Odometer }).named("mileage", "miles"),
		recorded("fastest", "never faster than", "the speed above which the coach is never driven", speedKind(), func(x *v) *Recorded[inflation.Speed] { return &x.Fastest }).stays(),
		line("load_state", "loaded with", "the people, water, fuel and cargo aboard", func(x *v) *string { return &x.LoadState }),
		recorded("stood", "parked for", "how long it has stood since it was driven. Under 3 h its tires are not cold, unless `cold: yes` or `hot: no`", standingKind(), func(x *v) *Recorded[ParkedFor] { return &x.ParkedFor }).named("parked", "parked_for", "standing"),
		recorded("moved", "moved in the yard", "within those hours it was only moved, under a mile at yard speed after three hours' rest: its tires are cold", yesNoKind(), func(x *v) *Recorded[bool] { return &x.Moved }),
		recorded("cold", "all read cold", "every tire was read cold and in the shade", yesNoKind(), func(x *v) *Recorded[bool] { return &x.Cold }),
		recorded("driven_since", "driven as found", "it was driven on its tires as they were found. No: they were found low after it was parked", yesNoKind(), func(x *v) *Recorded[bool] { return &x.DrivenSince }),
		recorded("nothing_since_set", "no air, no alarm since set", "since the tires were set no air was added, no low-pressure alarm came, and none was read lower", yesNoKind(), func(x *v) *Recorded[bool] { return &x.NothingSinceSet }),
		recorded("last_set_on", "last set on", "the day on which the tires were last set", dateKind(), func(x *v) *Recorded[dotcode.Date] { return &x.LastSetOn }),
		recorded("last_set_air", "air when set", "the air temperature when they were set", temperatureKind(), func(x *v) *Recorded[inflation.Temperature] { return &x.LastSetAir }),
		recorded("last_set_gauge_tolerance", "tolerance of that gauge", "by how much the gauge that set them may be off, if it was another one", offKind(pressureKind(), "1 psi"), func(x *v) *Recorded[inflation.Pressure] { return &x.LastSetGauge }),
		recorded("tows", "tows", "what the coach tows", towKind(), func(x *v) *Recorded[Tow] { return &x.Tows }).stays(),
		recorded("air_temperature", "air", "temperature of the air", temperatureKind(), func(x *v) *Recorded[inflation.Temperature] { return &x.AirTemperature }).named("temperature", "ambient"),
		recorded("next_day_air", "air next day", "temperature of the air when tires were read again the day after they were set (`next_day`); without both days' no leak is closed", temperatureKind(), func(x *v) *Recorded[inflation.Temperature] { return &x.NextDayAir }),
		line("gauge", "gauge", "which gauge", func(x *v) *string { return &x.Gauge }).stays(),
		recorded("gauge_tolerance", "gauge tolerance", "by how much the gauge may be off either way; counted against a tire that may be a flat", offKind(pressureKind(), "1 psi"), func(x *v) *Recorded[inflation.Pressure] { return &x.GaugeTolerance }).stays(),
		recorded("gauge_step", "gauge step", "pressures to set are rounded up to it", pressureKind().such("5 psi"), func(x *v) *Recorded[inflation.Pressure] { return &x.GaugeStep }).stays(),
		recorded("gauge_checked", "gauge checked", "the day it was compared with a master gauge", dateKind(), func(x *v) *Recorded[dotcode.Date] { return &x.GaugeChecked }).stays(),
		inside("ratings", "ratings", "the coach's own", "ratings", ratingsPart, func(x *v) *Ratings { return &x.Ratings }).stays(),
		several("packs", "rule packs", "more rule packs to judge this visit with", packKind(), func(x *v) *[]string { return &x.Packs }).stays(),
		ownValues("values of the coach for measures that rule packs of your own declare; see packs.md", "{bay_door_gap: 1/4 in}", func(x *v) *Own { return &x.Own }),
		several("sure", "read twice", "keys of the visit, its ratings or its weighing that were read again and are right, unlikely as they look", keyKind().such("air_temperature"), func(x *v) *[]string { return &x.Sure }),
		listed("axles", "axles", "all axles from the front, those of the towed unit last", "axle", axlePart, func(x *v) *[]Axle { return &x.Axles }).needed().stays(),
		every("every_tire", "all tires", "what the coach's tires and spares share; a tire's own entry wins", func(x *v) *Tire { return &x.EveryTire }),
		every("every_towed_tire", "all towed tires", "the same for the towed unit's tires", func(x *v) *Tire { return &x.EveryTowedTire }),
		listed("tires", "tires", "each wheel position and spare with what is its own", "tire", tirePart, func(x *v) *[]Tire { return &x.Tires }),
		inside("weighing", "weighing", "the scale and what it showed", "weighing", weighingPart, func(x *v) *Weighing { return &x.Weighing }),
		inside("towing", "towing", "what the hitch and the towed unit are rated for, and the tongue's weight", "towing", towingPart, func(x *v) *Towing { return &x.Towing }).stays(),
		inside("trip", "trip", "where something can be loaded, what may move, what will change; see trip.md", "trip", tripPart, func(x *v) *Trip { return &x.Trip }),
		listed("done", "done", "advice of earlier visits that was carried out before this one; for `axleend history`", "done", donePart, func(x *v) *[]Done { return &x.Done }),
		listed("declined", "declined", "advice that the owner declined", "done", donePart, func(x *v) *[]Done { return &x.Declined }),
		several("notes", "notes", "anything else about the visit", textKind(), func(x *v) *[]string { return &x.Notes }),
		recorded("torque_due", "torque due at", "the odometer reading at which to check the wheel nuts again", distanceKind(), func(x *v) *Recorded[weight.Length] { return &x.TorqueDue }),
		recorded("next_visit", "next visit", "the day the next visit is due", dateKind(), func(x *v) *Recorded[dotcode.Date] { return &x.NextVisit }),
	})
})

// every is what all tires of the coach, or of the towed unit, share.
func every(key, label, meaning string, at func(*Visit) *Tire) field[Visit] {
	f := inside(key, label, meaning, "tire", tirePart, at)
	f.read = func(n strictyaml.Node, v *Visit, c *context) { tirePart().readSome(n, at(v), c, true) }
	return f.stays()
}

var namesPart = sync.OnceValue(func() *part[Names] {
	type v = Names
	fields := []field[v]{
		line("customer", "customer", "the owner's name", func(x *v) *string { return &x.Customer }).named("owner", "name").stays(),
		line("technician", "technician", "who did the work", func(x *v) *string { return &x.Technician }).named("tech"),
		line("last_set_by", "last set by", "who set the tires last", func(x *v) *string { return &x.LastSetBy }),
		line("plate", "plate", "the license plate", func(x *v) *string { return &x.Plate }).stays(),
		line("unit_number", "unit number", "its number in a fleet", func(x *v) *string { return &x.UnitNumber }).named("unit").stays(),
		line("work_order", "work order", "the number of the order", func(x *v) *string { return &x.WorkOrder }),
	}
	for i := range fields {
		fields[i] = fields[i].private()
	}
	return newPart("names", fields)
})

var ratingsPart = sync.OnceValue(func() *part[Ratings] {
	type v = Ratings
	return newPart("ratings", []field[v]{
		recorded("gvwr", "GVWR", "gross vehicle weight rating", massKind().such("26,000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.GVWR }).named("gvw").stays(),
		recorded("gcwr", "GCWR", "gross combination weight rating: coach and towed unit", massKind().such("31,000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.GCWR }).named("gcw").stays(),
	})
})

var axlePart = sync.OnceValue(func() *part[Axle] {
	type v = Axle
	return newPart("axle", []field[v]{
		plain("id", "axle", "its name, of small letters, digits and dashes. Ends and tires are named after it: drive-left, drive-left-inner", placeKind().such("drive"), func(x *v) *string { return &x.ID }).needed().stays().named("name", "axle"),
		plain("fitment", "tires an end", "one tire on each end, or two", fitmentKind(), func(x *v) *weight.Fitment { return &x.Fitment }).needed().stays(),
		plain("towed", "towed", "it belongs to the towed unit", yesNoKind(), func(x *v) *bool { return &x.Towed }).stays(),
		recorded("gawr", "GAWR", "gross axle weight rating", massKind().such("17,500 lb"), func(x *v) *Recorded[weight.Mass] { return &x.GAWR }).stays(),
		recorded("placard", "placard", "the placard's cold pressure for it; `none` where the coach has no placard", placardKind(), func(x *v) *Recorded[Placard] { return &x.Placard }).stays().named("pressure", "cold_pressure"),
		line("placard_size", "placard size", "the tire size on the placard", func(x *v) *string { return &x.PlacardSize }).stays(),
		line("placard_load_range", "placard load range", "the load range on the placard", func(x *v) *string { return &x.PlacardLoadRange }).stays(),
		recorded("behind_steer", "behind the steer axle", "how far it stands behind the steer axle", lengthKind(), func(x *v) *Recorded[weight.Length] { return &x.Behind }).stays().named("wheelbase"),
		recorded("torque_asked", "torque asked", "the torque for its wheel nuts, by the maker of coach or wheel", torqueKind(), func(x *v) *Recorded[Torque] { return &x.TorqueAsked }).stays().named("torque"),
		recorded("torque_applied", "torque applied", "the torque they were tightened to", torqueKind(), func(x *v) *Recorded[Torque] { return &x.TorqueApplied }),
		ownValues("values of the axle for measures that rule packs of your own declare", "{hub_play: 0.4 mm}", func(x *v) *Own { return &x.Own }),
		several("sure", "read twice", "its keys that were read again and are right, unlikely as they look", keyKind().such("gawr"), func(x *v) *[]string { return &x.Sure }),
	})
})

var weighingPart = sync.OnceValue(func() *part[Weighing] {
	type v = Weighing
	return newPart("weighing", []field[v]{
		recorded("date", "date", "the day of the weighing; left out, the visit's", dateKind(), func(x *v) *Recorded[dotcode.Date] { return &x.Date }),
		line("place", "scale at", "where the scale is", func(x *v) *string { return &x.Place }),
		recorded("odometer", "odometer", "what it read at the weighing", distanceKind(), func(x *v) *Recorded[weight.Length] { return &x.Odometer }),
		recorded("as_driven", "as for the trip", "tanks, fuel and people were as for the trip; `all` means yes. A key of their own, where given, counts instead", allKind(), func(x *v) *Recorded[bool] { return &x.AsDriven }),
		recorded("work_since", "work since", "work done since then changes what the axles carry", yesNoKind(), func(x *v) *Recorded[bool] { return &x.WorkSince }),
		several("raised", "raised axles", "axles that were raised off the plate", placeKind().such("tag"), func(x *v) *[]string { return &x.Raised }),
		recorded("scale", "scale", "what kind of scale", scaleKind(), func(x *v) *Recorded[weight.ScaleKind] { return &x.Scale }),
		recorded("division", "division", "its step", massKind().such("20 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Division }),
		recorded("tolerance", "tolerance", "by how much a reading may be off either way, if known", offKind(massKind(), "20 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Tolerance }),
		recorded("level", "level plate", "the plate is known to be level", yesNoKind(), func(x *v) *Recorded[bool] { return &x.Level }),
		recorded("ride_height", "at ride height", "the air suspension stood at ride height", yesNoKind(), func(x *v) *Recorded[bool] { return &x.RideHeight }),
		recorded("levelers_up", "levelers up", "the levelers were up", yesNoKind(), func(x *v) *Recorded[bool] { return &x.LevelersUp }),
		recorded("slides_in", "slide-outs in", "the slide-outs were in", yesNoKind(), func(x *v) *Recorded[bool] { return &x.SlidesIn }),
		recorded("tanks_as_driven", "water as for the trip", "water as for the trip", yesNoKind(), func(x *v) *Recorded[bool] { return &x.TanksAsDriven }),
		recorded("fuel_as_driven", "fuel as for the trip", "fuel as for the trip", yesNoKind(), func(x *v) *Recorded[bool] { return &x.FuelAsDriven }),
		recorded("people_as_driven", "people as for the trip", "people aboard as for the trip", yesNoKind(), func(x *v) *Recorded[bool] { return &x.PeopleAsDriven }),
		recorded("hitched", "hitched", "the towed unit was hitched", yesNoKind(), func(x *v) *Recorded[bool] { return &x.Hitched }),
		recorded("heavier_share", "heavier end", "the share to assume for the heavier end where only a whole axle was weighed", shareKind(), func(x *v) *Recorded[weight.Share] { return &x.HeavierShare }),
		scaleReadings("readings", "readings", "what the scale showed, each time", true, func(x *v) *[]Reading { return &x.Readings }),
		scaleReadings("unhitched", "unhitched", "what it showed with the towed unit off, for comparison; nothing is judged by it", false, func(x *v) *[]Reading { return &x.Unhitched }),
	})
})

// scaleReadings is a list of readings, without the lines of a form that were not
// filled in. Where the places of its entries in the file are kept, kept is true.
func scaleReadings(key, label, meaning string, kept bool, at func(*Weighing) *[]Reading) field[Weighing] {
	f := listed(key, label, meaning, "reading", readingPart, at)
	f.read = func(n strictyaml.Node, w *Weighing, c *context) {
		for i, e := range n.List() {
			if e.IsMap() && saysNotRead(strictyaml.Map{Node: e}.Get("load")) {
				continue
			}
			var r Reading
			readingPart().read(e, &r, c)
			*at(w) = append(*at(w), r)
			if kept {
				c.readingAt = append(c.readingAt, i)
			}
		}
	}
	return f
}

var readingPart = sync.OnceValue(func() *part[Reading] {
	type v = Reading
	load := plain("load", "load", "what it showed; with `not read` the reading does not count", massKind(), func(x *v) *weight.Mass { return &x.Load }).needed().named("mass", "weight")
	load.Unread = true
	return newPart("reading", []field[v]{
		plain("name", "name", "what to call it", numberKind().such("front"), func(x *v) *string { return &x.Name }),
		load,
		recorded("tolerance", "tolerance", "by how much this one may be off", offKind(massKind(), "20 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Tolerance }),
		some("on", "on the plate", "what stood on the plate: wheel positions, axle ends, axles, left, right, coach, towed, all. Where each tire of a dual pair is weighed, the pressure is set for the heavier one", placeKind().such("drive-left"), func(x *v) *[]string { return &x.On }).needed().named("at", "place"),
		plain("sure", "read twice", "the load was read again and is right, unlikely as it looks", yesNoKind(), func(x *v) *bool { return &x.Sure }),
	})
})

var towingPart = sync.OnceValue(func() *part[Towing] {
	type v = Towing
	return newPart("towing", []field[v]{
		recorded("hitch", "hitch rating", "the most the hitch may pull, as stamped", massKind().such("10,000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Hitch }).stays(),
		recorded("hitch_tongue", "hitch tongue rating", "the most that may rest on the hitch", massKind().such("1000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.HitchTongue }).stays(),
		recorded("ball_mount", "ball mount rating", "the most the ball mount and its ball may pull", massKind().such("7500 lb"), func(x *v) *Recorded[weight.Mass] { return &x.BallMount }).stays(),
		recorded("tow_bar", "tow bar rating", "the most the tow bar may pull", massKind().such("7500 lb"), func(x *v) *Recorded[weight.Mass] { return &x.TowBar }).stays(),
		recorded("coupler", "coupler rating", "the most the towed unit's coupler or base plate is made for", massKind().such("7500 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Coupler }).stays(),
		recorded("gvwr", "GVWR of the towed unit", "the towed unit's own gross vehicle weight rating", massKind().such("5000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.GVWR }).stays(),
		recorded("tongue", "tongue weight", "what rests on the hitch, as measured; where coach and trailer were weighed apart (hitched: no), or nobody said, it is counted with the coach: list no change for it", massKind().such("450 lb"), func(x *v) *Recorded[weight.Mass] { return &x.Tongue }),
	})
})

var donePart = sync.OnceValue(func() *part[Done] {
	type v = Done
	return newPart("done", []field[v]{
		plain("at", "where", "where it was advised, or where the tire is now", placeKind(), func(x *v) *string { return &x.At }).needed().named("tire", "position", "place", "where"),
		plain("rule", "what", "the rule that advised it, or its title: run-low, coach-care/run-low, Valve leaks", numberKind().such("run-low"), func(x *v) *string { return &x.Rule }).needed().named("what", "advice", "advised"),
		plain("note", "note", "how it was done, or why it was not", numberKind().such("demounted and inspected"), func(x *v) *string { return &x.Note }),
	})
})

// The words of the coach's own.
func useKind() kind[string]          { return oneOf("private", "commercial") }
func pressureUnitKind() kind[string] { return oneOf("psi", "kPa", "bar") }

// parsePackName reads the name of a rule pack: no path, no address.
func parsePackName(text string) (string, error) {
	plain := text != "" && len(text) <= 64 && text[0] != '-'
	for _, c := range []byte(text) {
		plain = plain && (c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-')
	}
	if !plain {
		return "", fmt.Errorf("%w %q: want a pack's name of small letters, digits and dashes, such as coach-care", ErrName, strictyaml.Clip(text))
	}
	return text, nil
}

package record

import (
	"sync"

	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

var tripPart = sync.OnceValue(func() *part[Trip] {
	type v = Trip
	return newPart("trip", []field[v]{
		recorded("track", "track", "between the centers of the tires of an axle; on a dual axle, of its dual pairs", someLengthKind(), func(x *v) *Recorded[weight.Length] { return &x.Track }).stays(),
		recorded("coupling", "coupling", "how the towed unit is coupled", couplingKind(), func(x *v) *Recorded[weight.Coupling] { return &x.Coupling }).stays(),
		recorded("hitch", "hitch", "how far behind the steer axle the coupling point lies", someLengthKind().such("300 in"), func(x *v) *Recorded[weight.Length] { return &x.Hitch }).stays(),
		recorded("least_on_steer", "least on steer", "the least that must rest on the steer axle", someMassKind().such("6000 lb"), func(x *v) *Recorded[weight.Mass] { return &x.LeastOnSteer }).stays(),
		listed("stations", "stations", "places where something can be loaded", "station", stationPart, func(x *v) *[]TripStation { return &x.Stations }).stays(),
		listed("items", "cargo", "cargo that was aboard when weighed, and may move", "item", itemPart, func(x *v) *[]TripItem { return &x.Items }),
		listed("changes", "changes", "what will differ from when it was weighed", "change", changePart, func(x *v) *[]TripChange { return &x.Changes }),
		inside("label", "cargo label", "the cargo label as read", "label", labelPart, func(x *v) *CargoLabel { return &x.Label }).stays(),
	})
})

var stationPart = sync.OnceValue(func() *part[TripStation] {
	type v = TripStation
	return newPart("station", []field[v]{
		plain("name", "station", "what to call it", nameKind().such("rear bay"), func(x *v) *string { return &x.Name }).needed(),
		plain("behind_steer", "behind the steer axle", "behind the steer axle; below zero: ahead of it", signedKind(), func(x *v) *weight.Length { return &x.Behind }).needed(),
		plain("offset", "off center", "off the centerline", offsetKind(), func(x *v) *Offset { return &x.Offset }),
		recorded("most", "most", "the most it may hold by itself", someMassKind(), func(x *v) *Recorded[weight.Mass] { return &x.Most }),
		plain("towed", "towed", "it is in the towed unit", yesNoKind(), func(x *v) *bool { return &x.Towed }),
	})
})

var itemPart = sync.OnceValue(func() *part[TripItem] {
	type v = TripItem
	return newPart("item", []field[v]{
		plain("name", "cargo", "what it is", nameKind().such("tools"), func(x *v) *string { return &x.Name }).needed(),
		plain("mass", "weight", "what it weighs", someMassKind().such("120 lb"), func(x *v) *weight.Mass { return &x.Mass }).needed().named("weight", "load"),
		plain("at", "at", "the station where it was when weighed", stationKind(), func(x *v) *string { return &x.At }).needed(),
		some("may_go_to", "may go to", "the stations where it may go", stationKind(), func(x *v) *[]string { return &x.MayGoTo }).needed(),
	})
})

var changePart = sync.OnceValue(func() *part[TripChange] {
	type v = TripChange
	return newPart("change", []field[v]{
		plain("name", "change", "what it is", nameKind().such("two people"), func(x *v) *string { return &x.Name }).needed(),
		plain("at", "at", "the station where it changes", stationKind(), func(x *v) *string { return &x.At }).needed(),
		recorded("add", "add", "what comes aboard; one of these four is there", someMassKind(), func(x *v) *Recorded[weight.Mass] { return &x.Add }),
		recorded("take_off", "take off", "what leaves", someMassKind(), func(x *v) *Recorded[weight.Mass] { return &x.TakeOff }),
		recorded("fill", "fill", "what a tank is filled with", someVolumeKind(), func(x *v) *Recorded[weight.Volume] { return &x.Fill }),
		recorded("drain", "drain", "what a tank is drained of", someVolumeKind(), func(x *v) *Recorded[weight.Volume] { return &x.Drain }),
		recorded("fluid", "fluid", "what the tank holds", fluidKind(), func(x *v) *Recorded[Fluid] { return &x.Fluid }),
		recorded("people", "people", "what is added are the people who were not aboard when it was weighed", yesNoKind(), func(x *v) *Recorded[bool] { return &x.People }),
		some("may_go_to", "may go to", "stations where added cargo may go instead", stationKind(), func(x *v) *[]string { return &x.MayGoTo }),
	})
})

var labelPart = sync.OnceValue(func() *part[CargoLabel] {
	type v = CargoLabel
	type mass = Recorded[weight.Mass]
	type volume = Recorded[weight.Volume]
	return newPart("label", []field[v]{
		recorded("kind", "label", "which label it is", labelKind(), func(x *v) *Recorded[cargo.LabelKind] { return &x.Kind }).needed(),
		recorded("units", "units", "the units it is written in", systemKind(), func(x *v) *Recorded[weight.System] { return &x.System }),
		recorded("gvwr", "GVWR", "the gross vehicle weight rating on it", someMassKind().such("26,000 lb"), func(x *v) *mass { return &x.GVWR }),
		recorded("uvw", "UVW", "the unloaded vehicle weight on it", someMassKind().such("22,000 lb"), func(x *v) *mass { return &x.UVW }),
		recorded("stated", "states", "the capacity that it states", someMassKind().such("2000 lb"), func(x *v) *mass { return &x.Stated }),
		recorded("fresh_water", "fresh water", "all fresh water, the heater's too", volumeKind().such("60 gal"), func(x *v) *volume { return &x.FreshWater }),
		recorded("lp_tank", "LP tank", "the size of the LP gas tank", volumeKind().such("20 gal"), func(x *v) *volume { return &x.LPTank }),
		recorded("sleeping_places", "sleeping places", "its sleeping places", peopleKind(), func(x *v) *Recorded[int] { return &x.SleepingPlaces }),
		recorded("seats", "belted seats", "its belted seats", peopleKind(), func(x *v) *Recorded[int] { return &x.Seats }),
		recorded("people_aboard", "people aboard", "the people aboard when weighed", massKind().such("300 lb"), func(x *v) *mass { return &x.PeopleAboard }),
		recorded("water_aboard", "water aboard", "the fresh water aboard when weighed", volumeKind(), func(x *v) *volume { return &x.WaterAboard }),
		recorded("lp_gas_aboard", "LP gas aboard", "the LP gas aboard when weighed", volumeKind().such("10 gal"), func(x *v) *volume { return &x.LPGasAboard }),
	})
})

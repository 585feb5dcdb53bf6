package main

// What the page of pressure says, each text whole: a translation puts another in its
// place.
const (
	pressureLeast         = "At least %s cold."
	pressureLeastEstimate = "ESTIMATE, no table used: at least %s cold."
	pressureOver          = "NO PRESSURE CARRIES THIS: at most %s on each tire (%s), at %s; %s is %s too much."
	pressureOverEstimate  = "ESTIMATE, no table used: NO PRESSURE CARRIES THIS: at most %s on each tire (%s), at %s; %s is %s too much."
	pressureUnload        = "Take load off that end; more air does not make up for it."
	pressureLookedUp      = "Looked up: %s on each tire."
	pressureFloor         = "That is the floor, below which nothing is known."
	pressureRows          = "%s carries %s on each tire, %s only %s."
	pressureLowestRow     = "That is the lowest row that may be used; it carries %s on each tire."
	pressureBetween       = "Read between the rows."
	pressureHighest       = "That is the highest pressure allowed, short of the next step."
	pressureNotWeighed    = "Set the higher of this and the placard: the ends were not weighed."
	pressureHeavierEnd    = "All tires of the axle get the pressure that its heavier end needs."
	pressureTable         = "Table: %s; %s"
	pressureSource        = "Source: %s"
)

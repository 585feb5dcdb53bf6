package sheet

// What the pages of a report say wherever they say it, whole: a translation puts
// another text in its place. The sheet's own words stand in sheetwords.go, those of
// a history in historywords.go.
const (
	// The answer about driving, which is the first line of every page.
	sayMustNotMove     = "DO NOT DRIVE"
	sayMustNotMoveAt   = "DO NOT DRIVE: %s"
	sayNotAtPressure   = "NOT AT THIS PRESSURE"
	sayNotAtPressureAt = "NOT AT THIS PRESSURE: %s"
	sayBeforeTheTrip   = "BEFORE THE TRIP"
	sayBeforeTripAt    = "BEFORE THE TRIP: %s"
	sayNothingFound    = "NOTHING FOUND IN WHAT WAS RECORDED"
	sayNothingRecorded = "NOTHING RECORDED YET"

	// What to do about it.
	doMustNotMove = "It stays where it is until trained people looked at this, or load came off."
	doNotAtThis   = "Set these tires here, cold, to the pressure below; then the coach may go."
	doAskFirst    = "Before any air: answer what is asked below of %s."
	doBeforeTrip  = "Do what is listed under before the trip, then go."
	doFillIn      = "This is a form to fill in: read the tires on a walk round the coach, and judge it then."
	doNothing     = "Nobody looked at what is listed as not judged: read it before the trip."

	sayAllJudged      = "Everything that the rules ask for was judged."
	sayGaps           = "NOT JUDGED: %s. %d of them can be read here, %d no walk-round shows."
	sayGapsAllHere    = "NOT JUDGED: %s, all of which can be read here."
	sayGapsAllHidden  = "NOT JUDGED: %s that no walk-round shows."
	sayReadHere       = "Read here: %s - %s"
	sayFindOut        = "Find out: %s - %s"
	sayGapsMore       = "%d more on the full page."
	sayDate           = "Visit of %s"
	sayOdometer       = "odometer %s"
	sayStood          = "stood %s"
	sayAir            = "air %s"
	sayGauge          = "gauge %s"
	sayLoaded         = "Load: %s"
	sayDo             = "%s: %s."
	sayDoClose        = "%s: %s (too close to call)."
	sayDoNumber       = "%2d. "
	saySetTitle       = "Cold pressure to set, one number an axle"
	sayTodoTitle      = "To do, worst first"
	sayLaterTitle     = "At the next service: %s."
	sayLaterCount     = "At the next service: %s, on the full page."
	sayNumbered       = "%d %s (%s)"
	sayWeighedTitle   = "Weighed"
	sayNotWeighedText = "Not weighed."
	saySettle         = "this would tell it: %s"
	sayResidual       = "reading %q %s +/- %s is %s from what all readings say"
	sayHalfGAWR       = "half GAWR: each end of an axle is good for half of the axle's rating (GAWR)"
	sayNothingTodo    = "Nothing was found in what was recorded."
	sayRules          = "Rules: %s."
	sayPerhaps        = "Perhaps, the likeliest first: %s."

	saySet             = "SET %s"
	saySetEstimate     = "SET %s, AN ESTIMATE: no table seen"
	saySetUntilPlacard = "SET %s, until the placard is read"
	sayNoPressure      = "NO PRESSURE CARRIES THIS LOAD"
	sayReadSidewall    = "NO NUMBER: read the highest pressure on each sidewall first"
	sayReadWheel       = "NO NUMBER: read the highest pressure of each wheel first"
	sayTooLittle       = "NOT JUDGED: too little was read"
	sayNotLookedAt     = "not looked at"
	sayNoAir           = "DO NOT AIR UP %s"
	sayNoAirAxle       = "DO NOT AIR UP ANY TIRE OF THIS AXLE"
	sayAskAir          = "NO AIR YET in %s: first find out what is asked"
	sayAskAirAxle      = "NO AIR YET in any tire of this axle: first find out what is asked"

	sayNeedBoth      = "needs at least %s: both ends alike, %s on each tire"
	sayNeedEnd       = "needs at least %s: the %s end is the heavier, %s on each tire"
	sayNeedHeavier   = "needs at least %s: the %s end is the heavier, %s on its heavier tire"
	sayNeedBothHeavy = "needs at least %s: both ends alike, %s on the heavier tire"
	sayNeedAssumed   = "needs at least %s: %d %% of the axle assumed on one end, %s on each tire"
	sayIfExact       = "if the scale were exact, %s would do"
	sayPlacard       = "placard %s"
	sayRoom          = "%s end: room %s at this pressure"
	sayNoRoom        = "%s end: %s MORE than it carries at this pressure"
	sayHeldDown      = "held down by the %s of %s: %s"
	sayFromBy        = "from: %s; load: %s"
	sayFromTrip      = "from: %s; load: %s, with the changes for the trip"
	sayFromTable     = "%s %s"
	sayFromEstimate  = "%s (AN ESTIMATE, no table seen)"
	saySource        = "source: %s"
	sayHeavierEnd    = "the heavier"

	sayNotTaken       = "PRESSURE NOT TAKEN"
	sayNotTakenFor    = "PRESSURE NOT TAKEN: %s"
	sayFound          = "found %s"
	sayFoundHot       = "found %s HOT"
	sayLowest         = "lowest %s"
	sayFlat           = "FLAT (%s)"
	sayFlatGauge      = "FLAT (%s; the gauge may be off by as much)"
	sayFlatBare       = "FLAT"
	sayFlatAt         = "at %s or less"
	sayFlatOfNeed     = "at %s or less: %d %% of the %s that its load needs"
	sayFlatOfLastSet  = "at %s or less: %d %% of the %s it was last set to"
	sayFlatOfPlacard  = "at %s or less: %d %% of the placard's %s"
	sayFlatOfReady    = "at %s or less: %d %% of the %s it is kept ready at"
	sayLowLeaking     = "LEAKING: find the leak before any air"
	sayLowAsked       = "not known whether it ran low: see what is asked"
	sayLowUnknown     = "not judged"
	sayLowUnknownFor  = "not judged, %s"
	sayLeft           = "left %s"
	sayNoDateCode     = "no date code recorded"
	sayCodeUnknown    = "number %s: age NOT KNOWN"
	sayCodeBefore     = "number %s: made before %s (week %d of %s), at least %d years old, at most %d"
	sayCodeOne        = "number %s: week of %s, %s old"
	sayCodeMany       = "number %s: can mean %d different dates; counted as the oldest, %s old"
	sayTurns          = "%s, turns %d on %s"
	sayPastTen        = "%s, past 10 years"
	sayCasing         = "%s; of a retread the casing is older"
	sayPartOfNumber   = "%s (rest not read)"
	sayTooLong        = "%s (too long: in doubt)"
	sayOtherSidewall  = "%s; other sidewall %s"
	sayRecalls        = "Check each full number for recalls."
	sayRecallsPart    = "Check each full number for recalls. Of these only a part was read; the rest is perhaps on the other sidewall: %s."
	sayRecallsNotRead = "Number not read: %s."
	sayTreadUnknown   = "tread not recorded"
	sayTread          = "tread %s"
	saySeen           = "seen: %s"
	sayNote           = "note: %s"
	saySidewalls      = "sidewalls looked at: %s"
	sayDeepestCrack   = "deepest crack %s"
	sayDeepestCut     = "deepest cut %s"
	sayHoleWidth      = "width of the hole %s"
	sayHoleIn         = "hole in the %s"

	sayPair          = "%s pair: %s"
	sayPairFound     = "found %s apart"
	sayPairLeft      = "left %s apart"
	sayPairAlone     = "block both tires or neither. One alone, on a block or beside a flat, carries %s on a rating of %s: %d %%"
	sayPairAlike     = "alike in tread"
	sayPairTread     = "%s apart in tread"
	sayPairDeeper    = "%s apart in tread, the DEEPER one inside"
	sayPairShallower = "%s apart in tread, the shallower one inside"
	sayPairSwap      = "the OUTER one belongs inside: %s"
	sayPairStay      = "the inner one belongs there: %s"
	sayPairWhich     = "which belongs inside: %s"

	saySlowest       = "Slowest: symbol %s, at most %s mph - %s"
	saySlowestMetric = "Slowest: symbol %s, at most %s km/h - %s"
	saySpeedNotRead  = "Speed symbol not read, so their limit is not known: %s"
)

// shortWords and mayBeShortWords say by how much an end is, or may be, over a part,
// by the part; "the tire pressure" would be none that a load can be over.
var (
	shortWords = [...]string{
		"%s end: %s more than it may carry", "%s end: %s more than its tires are rated for",
		"%s end: %s more than its tires carry at the highest pressure on their sidewalls", "%s end: %s more than its tires carry in the last row of the table they may use",
		"%s end: %s more than its wheels are rated for", "%s end: %s more than its tires carry at the highest pressure its wheels allow", "%s end: %s more than its rating",
	}
	mayBeShortWords = [...]string{
		"%s end: may be %s more than it may carry", "%s end: may be %s more than its tires are rated for",
		"%s end: may be %s more than its tires carry at the highest pressure on their sidewalls", "%s end: may be %s more than its tires carry in the last row of the table they may use",
		"%s end: may be %s more than its wheels are rated for", "%s end: may be %s more than its tires carry at the highest pressure its wheels allow", "%s end: may be %s more than its rating",
	}
)

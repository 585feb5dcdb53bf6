package inspect_test

// notYet is what does not hold yet, by its key, and what has to be mended. The test
// prints each at every run and fails for anything else. It shrinks to nothing.
var notYet = map[string]string{
	"forgotten, axles[].gawr: item of label/gawr-sum":                                 "without all axle ratings their sum is not judged, and no line says so",
	"worse, driven since: verdict of coach-care/aired-up-flat":                        "the same",
	"worse, in the sun: low":                                                          "a warm reading near a line, by a gauge of unknown tolerance, is not judged where a cold one is asked about",
	"worse, warm when read: low":                                                      "the same",
	"worse, not moved a little but far: low":                                          "the same",
	"worse, not moved a little but far: verdict of coach-care/below-set":              "a pressure that a warm tire was left at is dropped: it is at most that",
	"worse, not moved a little but far: verdict of coach-care/load-at-found-pressure": "the same",
	"worse, more load on an end: air":                                                 "a spare of an axle that no pressure fits is held to nothing",
	"worse, more load on an end: verdict of coach-care/spare-low":                     "the same",
	"forgotten, tires[].number: nothing found":                                        "a date code that nobody read is not asked for before the trip",
	"forgotten, weighing.level: item of coach-care/pressure-fits":                     "more is set where the plate may not be level, and that carries it",
}

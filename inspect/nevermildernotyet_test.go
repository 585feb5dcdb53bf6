package inspect_test

// notYet is what does not hold yet, by its key, and what has to be mended. The test
// prints each at every run and fails for anything else. It shrinks to nothing.
var notYet = map[string]string{}

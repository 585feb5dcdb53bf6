// Package more has no tests of its own: those of held hold it.
package more

// Least is the lower limit.
const Least = 3

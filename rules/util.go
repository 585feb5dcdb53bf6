package rules

import "strings"

const (
	keyAny     = "any"
	keySubject = "subject"
)

func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

package record

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// Own are values of measures that this library does not know and a rule pack
// declares, by their names: "since_mounted" is "180 mi". What one takes is known
// where it is judged.
type Own map[string]string

// maxOwn is how many values of house measures one part may have.
const maxOwn = 64

// ownValues is a field for values of measures that the library does not know, by
// their names. What each takes is known where it is judged: here it is a text.
func ownValues[S any](meaning, example string, at func(*S) *Own) field[S] {
	return field[S]{
		fieldKey: fieldKey{Field: Field{Key: "own", Label: "house measures", Meaning: meaning, Kind: "own values", Example: example, Unread: true}, group: true},
		read:     func(n strictyaml.Node, s *S, _ *context) { *at(s) = readOwn(n, example) },
		clear:    func(s *S) { *at(s) = nil },
	}
}

// readOwn reads names with their values; one that nobody read is left out.
func readOwn(n strictyaml.Node, example string) Own {
	if saysNotRead(n) {
		return nil
	}
	if !n.IsMap() {
		n.Want("names with their values, such as " + example)
		return nil
	}
	own := make(Own)
	one := Field{Example: "180 mi"}
	for key, value := range n.Each() {
		if saysNotRead(value) || isBlank(value) {
			continue
		}
		if text, ok := scalar(value, &one, parseText); ok {
			own[key.Name()] = ownText(text)
		}
	}
	if len(own) == 0 {
		return nil
	}
	return own
}

// Names are the names of the measures, in order.
func (o Own) Names() []string {
	names := make([]string, 0, len(o))
	for name := range o {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// ownText is a value as rules read it: yes and no as words.
func ownText(text string) string {
	text = tidy(text)
	switch strings.ToLower(text) {
	case "true", "yes":
		return "yes"
	case "false", "no":
		return "no"
	}
	return text
}

// checkOwn finds names that no measure can have, and values that no line can hold.
func checkOwn(path string, own Own, report func(path, code string, err error)) {
	if len(own) > maxOwn {
		report(path, strictyaml.CodeRange, fmt.Errorf("%w: %d values, at most %d", origin.ErrRange, len(own), maxOwn))
		return
	}
	for _, name := range own.Names() {
		at := path + "." + strictyaml.Clip(name)
		if !isMeasureName(name) {
			report(at, strictyaml.CodeValue, fmt.Errorf("%w %q: want a measure's name of small letters, digits and underscores, such as since_mounted", ErrName, strictyaml.Clip(name)))
		}
		if text, err := parseText(own[name]); err != nil {
			report(at, strictyaml.CodeValue, err)
		} else if saysNothing(text) {
			report(at, strictyaml.CodeMissing, fmt.Errorf("%w: leave the name out where nobody read it", strictyaml.ErrMissing))
		} else if text != ownText(text) {
			report(at, strictyaml.CodeValue, fmt.Errorf("%w: want %q", origin.ErrSyntax, ownText(text)))
		}
	}
}

func saysNothing(text string) bool { return isNotRead(text) || strings.Trim(text, "_") == "" }

// isMeasureName reports whether rules could call a measure so.
func isMeasureName(name string) bool {
	if name == "" || len(name) > 64 || name[0] < 'a' || name[0] > 'z' {
		return false
	}
	return strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789_") == ""
}

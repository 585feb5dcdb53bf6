package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// The kinds of values in a visit.
func textKind() kind[string] { return kind[string]{Field{Kind: "text"}, parseWords} }
func nameKind() kind[string] { return kind[string]{Field{Kind: "name"}, parseName} }
func placeKind() kind[string] {
	return kind[string]{Field{Kind: "place", Example: "drive-left-inner"}, parseText}
}
func stationKind() kind[string] {
	return kind[string]{Field{Kind: "station name", Example: "rear bay"}, parseName}
}
func keyKind() kind[string] { return kind[string]{Field{Kind: "key", Example: "tread"}, parseText} }
func packKind() kind[string] {
	return kind[string]{Field{Kind: "pack", Example: "coach-care"}, parsePackName}
}
func yesNoKind() kind[bool] {
	return kind[bool]{Field{Kind: "yes or no", Words: []string{"yes", "no"}}, parseYesNo}
}
func allKind() kind[bool] {
	return kind[bool]{Field{Kind: "yes or no", Words: []string{"yes", "no"}}, parseAll}
}
func dateKind() kind[dotcode.Date] {
	return kind[dotcode.Date]{Field{Kind: "date", Example: "2026-10-03"}, parseDay}
}
func massKind() kind[weight.Mass] {
	return kind[weight.Mass]{Field{Kind: "mass", Units: []string{"lb", "kg"}, Example: "4380 lb"}, parseMass}
}
func someMassKind() kind[weight.Mass] {
	return kind[weight.Mass]{Field{Kind: "mass", Units: []string{"lb", "kg"}, Example: "300 lb"}, parseSomeMass}
}
func lengthKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "length", Units: []string{"in", "ft", "mm", "cm", "m"}, Example: "228 in"}, parseLength}
}
func someLengthKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "length", Units: lengthKind().is.Units, Example: "80 in"}, parseSomeLength}
}
func signedKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "signed length", Units: lengthKind().is.Units, Example: "260 in"}, weight.ParseLength}
}
func distanceKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "length", Units: []string{"mi", "km"}, Example: "41,250 mi"}, parseDistance}
}
func depthKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "length", Units: []string{"/32 in", "mm"}, Example: "9/32 in"}, parseLength}
}
func offKind[T any](k kind[T], example string) kind[T] {
	k.parse = tolerance(k.parse)
	return k.such(example)
}
func volumeKind() kind[weight.Volume] {
	return kind[weight.Volume]{Field{Kind: "volume", Units: []string{"gal", "L"}, Example: "40 gal"}, weight.ParseVolume}
}
func someVolumeKind() kind[weight.Volume] {
	return kind[weight.Volume]{Field{Kind: "volume", Units: volumeKind().is.Units, Example: "40 gal"}, parseSomeVolume}
}
func pressureKind() kind[inflation.Pressure] {
	return kind[inflation.Pressure]{Field{Kind: "pressure", Units: []string{"psi", "kPa", "bar"}, Example: "95 psi"}, parsePressure}
}
func temperatureKind() kind[inflation.Temperature] {
	return kind[inflation.Temperature]{Field{Kind: "temperature", Units: []string{"F", "C"}, Example: "60 F"}, inflation.ParseTemperature}
}
func speedKind() kind[inflation.Speed] {
	return kind[inflation.Speed]{Field{Kind: "speed", Units: []string{"mph", "km/h"}, Example: "65 mph"}, inflation.ParseSpeed}
}
func standingKind() kind[ParkedFor] {
	return kind[ParkedFor]{Field{Kind: "time", Units: []string{"min", "h", "days"}, Example: "3 h"}, ParseParkedFor}
}
func torqueKind() kind[Torque] {
	return kind[Torque]{Field{Kind: "torque", Units: []string{"ft-lb", "N-m"}, Example: "475 ft-lb"}, ParseTorque}
}
func shareKind() kind[weight.Share] {
	return kind[weight.Share]{Field{Kind: "share", Units: []string{"%"}, Example: "55 %"}, weight.ParseShare}
}
func stampKind() kind[Stamp] {
	return kind[Stamp]{Field{Kind: "stamp", Example: "4940 lb at 110 psi"}, ParseStamp}
}
func serviceKind() kind[Service] {
	return kind[Service]{Field{Kind: "service", Example: "141/140L"}, ParseService}
}
func placardKind() kind[Placard] {
	return kind[Placard]{Field{Kind: "placard", Units: pressureKind().is.Units, Example: "100 psi"}, ParsePlacard}
}
func offsetKind() kind[Offset] {
	return kind[Offset]{Field{Kind: "offset", Example: "30 in left"}, ParseOffset}
}
func numberKind() kind[string] {
	return kind[string]{Field{Kind: "text", Example: "1M3 AXLE DEMO 2222"}, parseText}
}
func peopleKind() kind[int] {
	return kind[int]{Field{Kind: "number", Example: "4"}, strictyaml.Int(0, mostPeople)}
}
func versionKind() kind[int] { return kind[int]{Field{Kind: "version", Example: "1"}, parseVersion} }

func systemKind() kind[weight.System] {
	return words(parseSystem, "us", "metric")
}
func fitmentKind() kind[weight.Fitment] {
	return words(parseFitment, "single", "dual")
}
func scaleKind() kind[weight.ScaleKind] {
	return words(parseScaleKind, "platform", "segmented", "pads", "whole axles")
}
func couplingKind() kind[weight.Coupling] {
	return words(parseCoupling, "tow bar", "tongue", "fifth wheel")
}
func labelKind() kind[cargo.LabelKind] {
	return words(parseLabelKind, "NCC", "CCC", "OCCC")
}
func fluidKind() kind[Fluid] {
	return words(ParseFluid, spelled(fluidWords.All())...)
}
func towKind() kind[Tow] { return words(ParseTow, spelled(towWords.All())...) }
func classKind() kind[inflation.Class] {
	return words(inflation.ParseClass, "passenger", "light truck", "truck", "trailer")
}
func constructionKind() kind[inflation.Construction] {
	return words(inflation.ParseConstruction, "radial", "bias", "bias-belted")
}
func readAtKind() kind[ReadAt] {
	return words(ParseReadAt, spelled(readAtWords.All())...)
}
func sidewallsKind() kind[Sidewalls] {
	return words(ParseSidewalls, spelled(sidewallWords.All())...)
}
func injuryKind() kind[InjuryAt] {
	return words(ParseInjuryAt, spelled(injuryWords.All())...)
}
func stemKind() kind[Stem] { return words(ParseStem, spelled(stemWords.All())...) }
func treadTypeKind() kind[TreadType] {
	return words(ParseTreadType, spelled(treadTypeWords.All())...)
}
func rotatesKind() kind[Rotates] {
	return words(ParseRotates, spelled(rotatesWords.All())...)
}

// words is a kind whose values are a few words, in any case.
func words[T any](parse func(string) (T, error), all ...string) kind[T] {
	return kind[T]{Field{Kind: "word", Words: all, Example: all[0]}, func(text string) (T, error) {
		for _, w := range all {
			if strings.EqualFold(w, text) {
				return parse(w)
			}
		}
		return parse(text)
	}}
}

// spelled gives values as they are written.
func spelled[T fmt.Stringer](all []T) []string {
	out := make([]string, len(all))
	for i, v := range all {
		out[i] = v.String()
	}
	return out
}

// oneOf is a kind of text that is one of a few words.
func oneOf(all ...string) kind[string] {
	return words(func(text string) (string, error) {
		if slices.Contains(all, text) {
			return text, nil
		}
		if near := strictyaml.Nearest(text, all); near != "" {
			return "", fmt.Errorf("%w %q: did you mean %q?", ErrWord, strictyaml.Clip(text), near)
		}
		return "", fmt.Errorf("%w %q: want one of %s", ErrWord, strictyaml.Clip(text), strings.Join(all, ", "))
	}, all...)
}

// parseDay reads a day as ISO 8601 has it, with or without zeros ahead, or with
// the month in letters. What could be two days is an error that shows both.
func parseDay(text string) (dotcode.Date, error) {
	if d, err := dotcode.ParseDate(text); err == nil {
		return d, nil
	}
	parts := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" -/.,", r) })
	if len(parts) != 3 {
		return dotcode.Date{}, fmt.Errorf("%w: %q: want year-month-day, such as 2026-10-03", dotcode.ErrDate, strictyaml.Clip(text))
	}
	day := func(y, m, d string) (dotcode.Date, bool) {
		date := dotcode.Date{Year: whole(y), Month: month(m), Day: whole(d)}
		return date, len(y) == 4 && len(d) <= 2 && date.IsValid()
	}
	if d, ok := day(parts[0], parts[1], parts[2]); ok {
		return d, nil
	}
	var may []string
	for i, order := range [...][2]int{{0, 1}, {1, 0}} { // month first, day first
		d, ok := day(parts[2], parts[order[0]], parts[order[1]])
		if lettered := whole(parts[order[0]]) < 0; ok && lettered {
			return d, nil
		}
		if ok && (i == 0 || !slices.Contains(may, d.String())) {
			may = append(may, d.String())
		}
	}
	if len(may) > 0 {
		return dotcode.Date{}, fmt.Errorf("%w: %q: write %s", dotcode.ErrDate, strictyaml.Clip(text), strings.Join(may, " or "))
	}
	return dotcode.Date{}, fmt.Errorf("%w: %q: want year-month-day, such as 2026-10-03", dotcode.ErrDate, strictyaml.Clip(text))
}

// whole reads up to four digits; -1 is none.
func whole(text string) int {
	if n, err := strconv.Atoi(text); err == nil && len(text) <= 4 && text[0] >= '0' && text[0] <= '9' {
		return n
	}
	return -1
}

// month reads a month's number, or its name or the first letters of it.
func month(text string) time.Month {
	if n := whole(text); n >= 0 {
		return time.Month(n)
	}
	for m := time.January; m <= time.December; m++ {
		if len(text) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), text) {
			return m
		}
	}
	return 0
}

// parseDistance reads what an odometer shows. Three decimals, which none has, are
// thousands set off by a point, or are not: that is asked, not guessed.
func parseDistance(text string) (weight.Length, error) {
	v, err := parseLength(text)
	if err != nil {
		return v, err
	}
	before, behind, _ := strings.Cut(text, ".")
	digits := len(behind) - len(strings.TrimLeft(behind, "0123456789"))
	unit := strings.TrimSpace(behind[digits:])
	road := strings.HasPrefix(strings.ToLower(unit), "mi") || strings.HasPrefix(strings.ToLower(unit), "km")
	if digits != 3 || !road || len(before) > 3 || strings.HasPrefix(before, "0") {
		return v, nil
	}
	return 0, &origin.TextError{Kind: "length", Text: text, Err: fmt.Errorf("%w: three digits after a point", origin.ErrSyntax),
		Want: fmt.Sprintf("%s%s %s for thousands, or one digit as in %s.%s %s", before, behind[:digits], unit, before, behind[:1], unit)}
}

// ungrouped writes a number whose thousands are set off by blanks or marks without
// them; "" where it is none: 41250 mi for 41 250 mi.
func ungrouped(text string) string {
	text = tidy(text)
	end := len(text) - len(strings.TrimLeft(text, "0123456789 '\u2019"))
	groups := strings.FieldsFunc(text[:end], func(r rune) bool { return r < '0' || r > '9' })
	if len(groups) < 2 || len(groups[0]) > 3 || groups[0][0] == '0' || slices.ContainsFunc(groups[1:], func(g string) bool { return len(g) != 3 }) {
		return ""
	}
	return strings.Join(groups, "") + " " + text[end:]
}

// tolerance reads what a quantity may be off either way, with or without its sign.
func tolerance[T any](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		for _, sign := range [...]string{"+/-", "\u00b1", "+-"} {
			if rest, ok := strings.CutPrefix(text, sign); ok {
				return parse(strings.TrimLeft(rest, " "))
			}
		}
		return parse(text)
	}
}

func notNegative[T ~int64](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v < 0 {
			return 0, ErrNegative
		}
		return v, err
	}
}

func notZero[T ~int64](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v <= 0 {
			return 0, fmt.Errorf("%w: %q: want above zero", origin.ErrRange, strictyaml.Clip(text))
		}
		return v, err
	}
}

var (
	parseMass       = notNegative(weight.ParseMass)
	parseLength     = notNegative(weight.ParseLength)
	parsePressure   = notNegative(inflation.ParsePressure)
	parseSomeMass   = notZero(weight.ParseMass)
	parseSomeVolume = notZero(weight.ParseVolume)
	parseSomeLength = notZero(weight.ParseLength)
)

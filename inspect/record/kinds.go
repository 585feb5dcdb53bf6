package record

import (
	"fmt"
	"slices"
	"strings"

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
	return kind[dotcode.Date]{Field{Kind: "date", Example: "2026-10-03"}, dotcode.ParseDate}
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
	return kind[weight.Length]{Field{Kind: "length", Units: []string{"mi", "km"}, Example: "41,250 mi"}, parseLength}
}
func depthKind() kind[weight.Length] {
	return kind[weight.Length]{Field{Kind: "length", Units: []string{"/32 in", "mm"}, Example: "9/32 in"}, parseLength}
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
	return kind[weight.System]{oneWord("us", "metric"), parseSystem}
}
func fitmentKind() kind[weight.Fitment] {
	return kind[weight.Fitment]{oneWord("single", "dual"), parseFitment}
}
func scaleKind() kind[weight.ScaleKind] {
	return kind[weight.ScaleKind]{oneWord("platform", "segmented", "pads", "whole axles"), parseScaleKind}
}
func couplingKind() kind[weight.Coupling] {
	return kind[weight.Coupling]{oneWord("tow bar", "tongue", "fifth wheel"), parseCoupling}
}
func labelKind() kind[cargo.LabelKind] {
	return kind[cargo.LabelKind]{oneWord("NCC", "CCC", "OCCC"), parseLabelKind}
}
func fluidKind() kind[Fluid] {
	return kind[Fluid]{oneWord(slices.Clone(fluidWords.Words)[1:]...), ParseFluid}
}
func towKind() kind[Tow] { return kind[Tow]{oneWord(slices.Clone(towWords.Words)[1:]...), ParseTow} }
func classKind() kind[inflation.Class] {
	return kind[inflation.Class]{oneWord("passenger", "light truck", "truck", "trailer"), inflation.ParseClass}
}
func constructionKind() kind[inflation.Construction] {
	return kind[inflation.Construction]{oneWord("radial", "bias", "bias-belted"), inflation.ParseConstruction}
}
func readAtKind() kind[ReadAt] {
	return kind[ReadAt]{oneWord(slices.Clone(readAtWords.Words)[1:]...), ParseReadAt}
}
func sidewallsKind() kind[Sidewalls] {
	return kind[Sidewalls]{oneWord(slices.Clone(sidewallWords.Words)[1:]...), ParseSidewalls}
}
func injuryKind() kind[InjuryAt] {
	return kind[InjuryAt]{oneWord(slices.Clone(injuryWords.Words)[1:]...), ParseInjuryAt}
}
func stemKind() kind[Stem] {
	return kind[Stem]{oneWord(slices.Clone(stemWords.Words)[1:]...), ParseStem}
}
func treadTypeKind() kind[TreadType] {
	return kind[TreadType]{oneWord(slices.Clone(treadTypeWords.Words)[1:]...), ParseTreadType}
}
func rotatesKind() kind[Rotates] {
	return kind[Rotates]{oneWord(slices.Clone(rotatesWords.Words)[1:]...), ParseRotates}
}

// oneWord describes a value that is one of a few words.
func oneWord(words ...string) Field { return Field{Kind: "word", Words: words, Example: words[0]} }

// oneOf is a kind of text that is one of a few words.
func oneOf(words ...string) kind[string] {
	return kind[string]{oneWord(words...), func(text string) (string, error) {
		if slices.Contains(words, text) {
			return text, nil
		}
		if near := strictyaml.Nearest(text, words); near != "" {
			return "", fmt.Errorf("%w %q: did you mean %q?", ErrWord, strictyaml.Clip(text), near)
		}
		return "", fmt.Errorf("%w %q: want one of %s", ErrWord, strictyaml.Clip(text), strings.Join(words, ", "))
	}}
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

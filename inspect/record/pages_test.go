package record_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
)

var update = flag.Bool("update", false, "write the schema and the tables of the pages from the fields")

// obj is a JSON object whose keys keep their order.
type obj []any

func (o obj) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i := 0; i+1 < len(o); i += 2 {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(o[i])
		if err != nil {
			return nil, err
		}
		var value bytes.Buffer
		enc := json.NewEncoder(&value)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(o[i+1]); err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(bytes.TrimSpace(value.Bytes()))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func ref(def string) obj { return obj{"$ref", "#/$defs/" + def} }

// anyCase is a pattern for some words in any case.
func anyCase(words ...string) string {
	var all []string
	for _, w := range words {
		var b strings.Builder
		for _, r := range w {
			switch lower, upper := unicode.ToLower(r), unicode.ToUpper(r); {
			case r < 0x80 && lower != upper:
				fmt.Fprintf(&b, "[%c%c]", lower, upper)
			case strings.ContainsRune(".+", r):
				fmt.Fprintf(&b, "[%c]", r)
			default:
				b.WriteRune(r)
			}
		}
		all = append(all, b.String())
	}
	return "(" + strings.Join(all, "|") + ")"
}

const number = "([0-9][0-9,]*([.][0-9]+|/[0-9]+)?|[0-9]+([ ]+|-)[0-9]+/[0-9]+) *"

// pointed is a number without a fraction: of a metric length nobody writes one.
const pointed = "[0-9][0-9,]*([.][0-9]+)? *"

// feetInches is what may follow a number of feet.
var feetInches = "( *(" + number + ")" + anyCase("in", "inch", "inches", `"`) + ")?"

var (
	lengths = "(" + number + anyCase("inches", "inch", "in", "miles", "mile", "mi", "foot", "feet", "ft", `"`, "''", "'", "32nds", "32nd", "nds", "nd", "ths", "th", "nds in", "ths in", "nds of an inch") + feetInches +
		"|" + pointed + anyCase("mm", "cm", "km", "m") + ")"
	massUnits     = anyCase("lbs", "lb", "kgs", "kg", "g", "pounds", "pound", "#")
	pressureUnits = anyCase("psig", "psi", "kpa", "bars", "bar", "pa")
)

func quantity(units, says string) obj { return measured(number+units, says) }

func measured(pattern, says string) obj {
	return obj{"type", "string", "pattern", "^ *([+]|[+]/?-|±)? *" + pattern + "[.]? *$", "description", says}
}

// plain is one of some words, in any case.
func plain(words ...string) obj {
	return obj{"type", "string", "pattern", "^[ ]*" + anyCase(words...) + "[ ]*$"}
}

// kinds are the defs that a field's kind refers to, and those they need.
func kinds() obj {
	var conditions []string
	for _, c := range condition.All() {
		conditions = append(conditions, c.String())
	}
	text := obj{"type", []string{"string", "number", "boolean"}, "maxLength", 200, "pattern", "^[^\\r\\n]*$"}
	oneOrSome := func(def string) obj {
		return obj{"anyOf", []obj{ref(def), {"type", "array", "minItems", 1, "items", ref(def)}}}
	}
	return obj{
		"notRead", obj{"anyOf", []obj{{"const", "not read"}, {"type", "null"}, {"type", "string", "pattern", "^ *([nN][oO][tT] [rR][eE][aA][dD]|[nN]/?[aA]|[nN][.][aA][.]|[nN][oO][tT] ([tT][aA][kK][eE][nN]|[cC][hH][eE][cC][kK][eE][dD]|[mM][eE][aA][sS][uU][rR][eE][dD])|[?]|--?|—|–|_+)? *$"}},
			"description", "Nobody read it, and no default stands in for it."},
		"yesNo", obj{"anyOf", []obj{{"enum", []any{"yes", "no", true, false}}, {"type", "string", "pattern", "^ *" + anyCase("yes", "no", "y", "n", "true", "false") + " *$"}}},
		"text", obj{"anyOf", []obj{text, {"type", "null"}}},
		"name", obj{"type", []string{"string", "number", "boolean"}, "maxLength", 200, "pattern", "^[^\\r\\n]*[^ \\r\\n][^\\r\\n]*$"},
		"place", obj{"type", []string{"string", "number"}, "pattern", "^[a-z0-9][a-z0-9-]*$"},
		"key", obj{"type", "string", "pattern", "^[a-z_]+$", "description", "A key of this part."},
		"pack", obj{"type", []string{"string", "number"}, "pattern", "^[a-z0-9][a-z0-9-]*$", "maxLength", 64},
		"date", obj{"type", "string", "pattern", "^ *([0-9]{4}[-/ .][0-9]{1,2}[-/ .][0-9]{1,2}|[0-9]{1,2}[ -.,]+[a-zA-Z]{3,9}[ -.,]+[0-9]{4}|[a-zA-Z]{3,9}[ -.,]+[0-9]{1,2}[ -.,]+[0-9]{4}) *$"},
		"mass", quantity(massUnits, "A mass with its unit: 3,640 lb, 1651 kg."),
		"length", measured(lengths, "A length with its unit: 4/32 in, 3.2 mm, 41,250 mi."),
		"signedLength", obj{"type", "string", "pattern", "^ *[+-]?" + lengths + " *$"},
		"volume", quantity(anyCase("gal", "gals", "gallon", "gallons", "l", "liter", "liters"), "A volume with its unit: 40 gal, 150 L."),
		"pressure", quantity(pressureUnits, "A pressure with its unit: 95 psi, 655 kPa."),
		"temperature", obj{"type", "string", "pattern", "^ *[+-]?" + number + "(°|[dD][eE][gG] ?|[dD][eE][gG][rR][eE][eE][sS] )?[fFcC] *$"},
		"speed", quantity(anyCase("mph", "km/h", "kmh", "kph"), "A speed with its unit: 65 mph, 105 km/h."),
		"standing", quantity(anyCase("min", "mins", "minute", "minutes", "h", "hr", "hrs", "hour", "hours", "days", "day", "weeks", "week")+"( *"+number+anyCase("min", "mins", "minute", "minutes")+")?", "A time in whole minutes with its unit: 45 min, 2.5 h, 60 days."),
		"torque", quantity(anyCase("ft-lbs", "ft-lb", "lb-ft", "lbf-ft", "ft lbs", "ft lb", "lb ft", "ftlb", "ft.lb", "n-m", "nm", "n·m", "n m"), "A torque with its unit: 475 ft-lb, 640 N-m."),
		"share", obj{"type", "string", "pattern", "^ *[+]?" + number + "(%|[pP][eE][rR][cC][eE][nN][tT]) *$"},
		"stamp", obj{"type", "string", "pattern", "^ *[+]?" + number + massUnits + "[.]?( +[aA][tT] +| *@ *)[+]?" + number + pressureUnits + "( +[cC][oO][lL][dD])? *$", "description", "A load at its pressure: 3640 lb at 95 psi."},
		"service", obj{"type", []string{"string", "integer"}, "pattern", "^ *([0-9]+( */ *[0-9]+)?)? *([aA][1-8]|[b-hB-Hj-nJ-Np-wP-WyY])? *$", "minLength", 1},
		"placard", obj{"anyOf", []obj{ref("pressure"), {"type", "string", "pattern", "^ *([nN][oO] [pP][lL][aA][cC][aA][rR][dD]|[nN][oO][nN][eE]) *$"}}},
		"offset", obj{"type", "string", "pattern", "^(center| *[+]?" + lengths + " +(left|right))$"},
		"people", obj{"type", []string{"integer", "string"}, "minimum", 0, "maximum", 1000, "pattern", "^[0-9]+$"},
		"class", plain("passenger", "light truck", "truck", "trailer"),
		"construction", plain("radial", "bias", "bias-belted"),
		"labelKind", obj{"type", "string", "pattern", "^([oO]?[cC]|[nN])[cC][cC]$"},
		"depths", oneOrSome("length"),
		"places", oneOrSome("place"),
		"names", oneOrSome("name"),
		"own", obj{"type", "object", "maxProperties", 64, "propertyNames", obj{"pattern", "^[a-z][a-z0-9_]{0,63}$"}, "additionalProperties", obj{"anyOf", []obj{text, {"type", "null"}}},
			"description", "Values of measures that rule packs of one's own declare, each by its name, with its unit."},
		"condition", obj{"anyOf", []obj{{"enum", conditions}, plain(conditions...)}},
		"seen", obj{"anyOf", []obj{plain("nothing"), ref("condition"), {"type", "array", "items", ref("condition")}}},
		"axleID", obj{"type", []string{"string", "number"}, "pattern", "^[a-z0-9]([a-z0-9-]{0,22}[a-z0-9])?$",
			"not", obj{"anyOf", []obj{
				{"type", "string", "pattern", "(^|-)(left|right|inner|outer)(-|$)"},
				{"enum", []string{"coach", "towed", "all"}},
				{"type", "string", "pattern", "^spare(-[2-9])?$"},
			}}},
	}
}

// defs are the parts as the schema calls them.
var defs = map[string]string{"change": "tripChange", "label": "cargoLabel", "names": "whose"}

func def(part string) string {
	if d, ok := defs[part]; ok {
		return d
	}
	return part
}

// value is what a field's value looks like.
func value(f record.Field) []obj {
	one := func() obj {
		switch f.Kind {
		case "version":
			return obj{"enum", []any{record.Version, fmt.Sprint(record.Version)}}
		case "yes or no":
			if f.Key == "as_driven" {
				return obj{"anyOf", []obj{ref("yesNo"), plain("all")}}
			}
			return ref("yesNo")
		case "word":
			switch f.Key {
			case "class", "construction":
				return ref(f.Key)
			case "kind":
				return ref("labelKind")
			}
			return obj{"anyOf", []obj{{"enum", f.Words}, plain(f.Words...)}}
		case "time":
			return ref("standing")
		case "signed length":
			return ref("signedLength")
		case "station name", "name":
			return ref("name")
		case "number":
			return ref("people")
		case "treads":
			return obj{"anyOf", []obj{ref("depths"), ref("tread")}}
		case "condition":
			return ref("seen")
		case "own values":
			return ref("own")
		}
		if f.Key == "id" {
			return ref("axleID")
		}
		return ref(def(f.Kind))
	}()
	switch {
	case strings.HasPrefix(f.Key, "every_"):
		one = ref("everyTire")
	case f.Kind == "treads" || f.Kind == "condition":
	case slices.Contains([]string{"station name", "place"}, f.Kind) && f.Many && f.Key != "raised":
		one = ref(map[string]string{"station name": "names", "place": "places"}[f.Kind])
	case f.Many && f.Part == "tread":
		one = ref("depths")
	case f.Key == "axles":
		one = obj{"type", "array", "minItems", 1, "maxItems", 12, "items", one}
	case f.Many && isPart(f.Kind):
		one = obj{"type", []string{"array", "null"}, "items", one}
	case f.Many:
		return []obj{one, {"type", "array", "items", one}}
	}
	return []obj{one}
}

func isPart(kind string) bool {
	return slices.ContainsFunc(record.Fields(), func(f record.Field) bool { return f.Part == kind })
}

func object(part string, every bool) obj {
	var needed []string
	properties := obj{}
	for _, f := range record.Fields() {
		if f.Part != part || every && !f.Shared {
			continue
		}
		if f.Needed {
			needed = append(needed, f.Key)
		}
		says := strings.ToUpper(f.Meaning[:1]) + f.Meaning[1:]
		if f.Example != "" && len(f.Words) == 0 {
			says += ". Such as " + f.Example
		}
		all := value(f)
		group := isPart(f.Kind)
		if !f.Needed && group && !f.Many {
			all = append(all, obj{"type", "null"})
		} else if (f.Unread || !f.Needed) && !group && f.Kind != "text" {
			all = append(all, ref("notRead"))
		}
		schema := all[0]
		if len(all) > 1 {
			schema = obj{"anyOf", all}
		}
		properties = append(properties, f.Key, append(slices.Clone(schema), "description", says+"."))
	}
	out := obj{"type", "object", "additionalProperties", false}
	if len(needed) > 0 {
		out = append(out, "required", needed)
	}
	if part == "tread" {
		out = append(out, "minProperties", 1)
	}
	out = append(out, "properties", properties)
	if part == "change" {
		out = append(out, "oneOf", []obj{{"required", []string{"add"}}, {"required", []string{"take_off"}}, {"required", []string{"fill"}}, {"required", []string{"drain"}}})
	}
	return out
}

func partNames() []string {
	var out []string
	for _, f := range record.Fields() {
		if !slices.Contains(out, f.Part) {
			out = append(out, f.Part)
		}
	}
	return out
}

// schema makes the whole schema of the fields.
func schema() ([]byte, error) {
	all := kinds()
	for _, p := range partNames()[1:] {
		all = append(all, def(p), object(p, false))
	}
	all = append(all, "everyTire", object("tire", true))
	top := append(obj{
		"$schema", "https://json-schema.org/draft/2020-12/schema",
		"$id", "https://axleend.example/inspect/record/visit.schema.json",
		"title", "Axleend visit",
		"description", "The record of one call: the coach, what was weighed, and what was stamped, measured and seen on each tire. What was not recorded is left out. The shape only: that places exist and readings agree is checked by the reader.",
	}, append(object("visit", false), "$defs", all)...)
	data, err := json.Marshal(top)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = layOut(&b, data, "")
	return append(b.Bytes(), '\n'), err
}

// layOut writes a JSON value over several lines where one would be long.
func layOut(b *bytes.Buffer, data json.RawMessage, indent string) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	open, err := dec.Token()
	if err != nil {
		return err
	}
	if _, container := open.(json.Delim); !container || len(data)+len(indent) <= 140 {
		return json.Compact(b, data)
	}
	fmt.Fprint(b, open)
	for sep := ""; dec.More(); sep = "," {
		b.WriteString(sep + "\n  " + indent)
		if open == json.Delim('{') {
			key, err := dec.Token()
			if err != nil {
				return err
			}
			fmt.Fprintf(b, "%q: ", key)
		}
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			return err
		}
		if err := layOut(b, value, indent+"  "); err != nil {
			return err
		}
	}
	end, err := dec.Token()
	fmt.Fprintf(b, "\n%s%s", indent, end)
	return err
}

// row is a field's line on the page.
func row(f record.Field) string {
	holds := f.Kind
	switch {
	case f.Kind == "version":
		holds = fmt.Sprint(record.Version)
	case isPart(f.Kind) && f.Many:
		holds = "list"
	case isPart(f.Kind):
		holds = "mapping"
	case f.Kind == "own values":
		holds = "mapping"
	case f.Kind == "condition":
		holds = "condition, list, nothing"
	case f.Kind == "treads":
		holds = "depth, list, mapping"
	case f.Part == "tread":
		holds = "depth or list"
	case f.Kind == "word":
		holds = strings.Join(f.Words, ", ")
	case f.Many:
		holds = strings.TrimSuffix(holds, " name") + " or list"
	case slices.Contains([]string{"stamp", "service", "place", "share", "offset"}, f.Kind):
		holds = f.Example
	case f.Kind == "signed length":
		holds = "length"
	case f.Kind == "name":
		holds = "text"
	case f.Kind == "station name":
		holds = "station"
	case f.Kind == "placard":
		holds = "pressure, none"
	}
	says := f.Meaning
	if f.Needed {
		says += "; always there"
	}
	star := ""
	if f.Part == "tire" {
		star = " |"
		if f.Shared {
			star = " * |"
		}
	}
	return fmt.Sprintf("| `%s` |%s %s | %s |", f.Key, star, holds, says)
}

// page puts the rows of each part into its table.
func page(old string) string {
	var out []string
	part := ""
	for _, line := range strings.Split(old, "\n") {
		if name, ok := strings.CutPrefix(line, "## "); ok {
			part = name
		}
		switch {
		case strings.HasPrefix(line, "| `"):
			continue
		case strings.HasPrefix(line, "| ---"):
			out = append(out, line)
			for _, f := range record.Fields() {
				if f.Part == part {
					out = append(out, row(f))
				}
			}
		default:
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// TestPages: schema and pages say what the fields are.
func TestPages(t *testing.T) {
	made, err := schema()
	if err != nil {
		t.Fatal(err)
	}
	for name, make := range map[string]func(string) string{
		"visit.schema.json": func(string) string { return string(made) },
		"visit.md":          page,
		"trip.md":           page,
	} {
		old, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		want := make(string(old))
		if want == string(old) {
			continue
		}
		if !*update {
			t.Errorf("%s is not what the fields say: go test ./inspect/record -run Pages -update", name)
		} else if err := os.WriteFile(name, []byte(want), 0o644); err != nil {
			t.Error(err)
		}
	}
}

package record

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record/condition"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

var tirePart = sync.OnceValue(func() *part[Tire] {
	type v = Tire
	type pressure = Recorded[inflation.Pressure]
	type length = Recorded[weight.Length]
	type yesNo = Recorded[bool]
	type day = Recorded[dotcode.Date]
	return newPart("tire", []field[v]{
		plain("at", "tire", "its place. Spares are spare, spare-2 to spare-9", placeKind(), func(x *v) *string { return &x.At }).needed().stays().named("position", "place"),
		stamped("size", "size", "as stamped, letters and all", "XV250/72R21", func(x *v) *string { return &x.Size }).stays(),
		stamped("load_range", "load range", "as stamped", "G", func(x *v) *string { return &x.LoadRange }).stays().named("range"),
		recorded("service", "service description", "load index, single and dual, and speed symbol; any one of them will do", serviceKind(), func(x *v) *Recorded[Service] { return &x.Service }).shared().stays().named("load_index", "speed"),
		recorded("class", "class", "the class of its size; if not known, the strictest counts", classKind(), func(x *v) *Recorded[inflation.Class] { return &x.Class }).shared().stays(),
		recorded("construction", "construction", "how its body plies run", constructionKind(), func(x *v) *Recorded[inflation.Construction] { return &x.Construction }).shared().stays(),
		stamped("model", "make and model", "one word of your own per make and model, to show which are alike", "rib-a", func(x *v) *string { return &x.Model }).stays().named("brand", "make"),
		recorded("tread_type", "tread type", "what its tread is made for", treadTypeKind(), func(x *v) *Recorded[TreadType] { return &x.TreadType }).shared().stays().named("pattern"),
		recorded("single", "max load single", "its maximum load alone, with the cold pressure, as stamped", stampKind(), func(x *v) *Recorded[Stamp] { return &x.Single }).shared().stays().named("max_load", "max_load_single"),
		recorded("dual", "max load dual", "its maximum load beside a dual mate, for one tire", stampKind().such("4540 lb at 110 psi"), func(x *v) *Recorded[Stamp] { return &x.Dual }).shared().stays().named("max_load_dual"),
		recorded("wheel", "wheel", "the maximum stamped on the wheel", stampKind().such("5000 lb at 120 psi"), func(x *v) *Recorded[Stamp] { return &x.Wheel }).shared().stays().named("rim"),
		recorded("retread", "retread", "it is a retread", yesNoKind(), func(x *v) *yesNo { return &x.Retread }).shared().stays().named("recap"),
		recorded("regrooved", "regrooved", "its grooves were cut anew", yesNoKind(), func(x *v) *yesNo { return &x.Regrooved }).shared().stays(),
		recorded("number", "tire number", "the number after DOT, all of it where possible, from the sidewall with the date", numberKind(), func(x *v) *Recorded[string] { return &x.Number }).stays().named("dot", "tin", "dot_code", "date_code"),
		recorded("other_number", "other side's number", "what the other sidewall shows of it; on a retread, its casing's number", numberKind().such("1M3 AXLE DEMO"), func(x *v) *Recorded[string] { return &x.OtherNumber }).stays(),
		recorded("decade_mark", "triangle", "a triangle follows the date code", yesNoKind(), func(x *v) *yesNo { return &x.DecadeMark }).stays(),
		recorded("last_set", "last set", "the cold pressure it was last set to: it is judged by this, else by the placard, else by its load; a spare by this, else by the highest to set on an axle of its size", pressureKind(), func(x *v) *pressure { return &x.LastSet }).shared(),
		recorded("found", "found", "the pressure as found", pressureKind(), func(x *v) *pressure { return &x.Found }).named("pressure", "psi", "cold", "cold_pressure"),
		recorded("left", "left at", "the pressure it was left at", pressureKind(), func(x *v) *pressure { return &x.LeftAt }).named("left_at", "set", "set_to"),
		recorded("lowest", "lowest driven", "the lowest cold pressure it was driven at, where known", pressureKind(), func(x *v) *pressure { return &x.LowestDriven }),
		recorded("air_added", "air added", "air was added since it was lowest on the road; how low that was is then not known, and it is not cleared", yesNoKind(), func(x *v) *yesNo { return &x.AirAdded }).shared(),
		recorded("air_added_by", "by how much", "how much air was added", pressureKind().such("10 psi"), func(x *v) *pressure { return &x.AirAddedBy }),
		recorded("before_air", "before air", "the reading before any was added", pressureKind(), func(x *v) *pressure { return &x.BeforeAir }),
		recorded("low_alarm", "low alarm", "a monitor's low-pressure alarm came since it was last set", yesNoKind(), func(x *v) *yesNo { return &x.LowAlarm }).shared(),
		recorded("read_zero", "read 0 before", "it was read at 0 at the stem before, whatever it shows now", yesNoKind(), func(x *v) *yesNo { return &x.ReadZero }),
		recorded("driven_since", "driven as found", "it was driven on as it was found; for a spare, whether it was on the road since it last held its pressure", yesNoKind(), func(x *v) *yesNo { return &x.DrivenSince }).shared(),
		recorded("next_day", "next day", "its cold pressure 24 hours after it was `left`: it ends a leak, or shows one", pressureKind(), func(x *v) *pressure { return &x.NextDay }),
		recorded("sensor_reading", "sensor shows", "what the monitor's sensor shows when the gauge reads `found`", pressureKind(), func(x *v) *pressure { return &x.SensorReading }),
		recorded("sensor_fitted", "sensor fitted", "the day its sensor was fitted", dateKind(), func(x *v) *day { return &x.SensorFitted }).shared().stays(),
		recorded("hot", "hot", "read warm: that can condemn a tire and clears none", yesNoKind(), func(x *v) *yesNo { return &x.Hot }).shared(),
		recorded("in_sun", "in the sun", "the sun shone on it: it counts as not cold", yesNoKind(), func(x *v) *yesNo { return &x.InSun }).shared(),
		recorded("read_at", "read at", "where the gauge sat; a 0 through an extension proves nothing", readAtKind(), func(x *v) *Recorded[ReadAt] { return &x.ReadAt }).shared(),
		recorded("stem", "valve stem", "the kind of its valve stem, which limits its pressure", stemKind(), func(x *v) *Recorded[Stem] { return &x.Stem }).shared().stays(),
		recorded("extension", "extension", "whether the stem has an extension, and which", extensionKind(), func(x *v) *Recorded[string] { return &x.Extension }).shared().stays(),
		recorded("stem_fitted", "stem fitted", "the day its stem was fitted", dateKind(), func(x *v) *day { return &x.StemFitted }).shared().stays(),
		recorded("wheel_on", "wheel put on", "the day its wheel was last put on", dateKind(), func(x *v) *day { return &x.WheelOn }).shared().stays().named("wheel_mounted"),
		recorded("torque_checked", "torque rechecked", "the day its nuts were last checked with a torque wrench", dateKind(), func(x *v) *day { return &x.TorqueChecked }).shared().stays(),
		{
			fieldKey: fieldKey{
				Field: Field{Key: "tread", Label: "tread", Meaning: "its depth, several depths, or where they were taken; the least decides", Kind: "treads", Units: depthKind().is.Units, Example: "9/32 in", Many: true, Unread: true},
				also:  []string{"tread_depth", "depth"},
			},
			read: func(n strictyaml.Node, t *v, c *context) {
				if r := readTreads(n, c); r.Is() {
					t.Tread = r
				}
			},
			unread: func(t *v) { t.Tread = NotRead[Treads]() },
			clear:  func(t *v) { t.Tread = Recorded[Treads]{} },
		},
		recorded("diameter", "diameter", "outside diameter, mounted and inflated", lengthKind().such("34.1 in"), func(x *v) *length { return &x.Diameter }),
		recorded("circumference", "circumference", "the same all around", lengthKind().such("107 in"), func(x *v) *length { return &x.Circumference }),
		{
			fieldKey: fieldKey{
				Field: Field{Key: "seen", Label: "seen", Meaning: "what was found; `nothing` once it was looked over", Kind: "condition", Words: conditionWords(), Example: "weather cracking", Many: true, Unread: true, Shared: true},
				also:  []string{"condition", "conditions", "damage"},
			},
			read:   func(n strictyaml.Node, t *v, _ *context) { t.Seen = readSeen(n) },
			unread: func(t *v) { t.Seen = NotRead[condition.Set]() },
			fill:   func(t, every *v) { t.Seen = t.Seen.Or(every.Seen) },
			clear:  func(t *v) { t.Seen = Recorded[condition.Set]{} },
		},
		recorded("sidewalls", "sidewalls looked at", "which ones were looked at; left out: both. The outer one faces away from the coach", sidewallsKind(), func(x *v) *Recorded[Sidewalls] { return &x.Sidewalls }).shared(),
		recorded("crack_depth", "crack depth", "depth of its deepest weather crack", depthKind().such("1/32 in"), func(x *v) *length { return &x.CrackDepth }),
		recorded("cut_depth", "cut depth", "depth of its deepest cut", depthKind().such("2/32 in"), func(x *v) *length { return &x.CutDepth }),
		recorded("cut_at", "cut in", "where its deepest cut is (the crown is the tread); left out, it counts as in the sidewall", injuryKind(), func(x *v) *Recorded[InjuryAt] { return &x.CutAt }),
		recorded("cut_length", "cut length", "length of its longest cut", lengthKind().such("1 in"), func(x *v) *length { return &x.CutLength }),
		recorded("injury_width", "hole width", "width of the hole that a nail or another object made", lengthKind().such("1/8 in"), func(x *v) *length { return &x.InjuryWidth }),
		recorded("injury_at", "hole in", "where that hole is", injuryKind(), func(x *v) *Recorded[InjuryAt] { return &x.InjuryAt }),
		line("note", "note", "anything else about it", func(x *v) *string { return &x.Note }),
		several("photos", "photos", "names of picture files", numberKind().such("left-inner-1.jpg"), func(x *v) *[]string { return &x.Photos }),
		line("inspected_by", "inspected by", "who inspected it off its wheel", func(x *v) *string { return &x.InspectedBy }).private(),
		recorded("rotates", "arrow", "the side of the coach where it turns the way its arrow points, as mounted on its wheel; left out: `axleend place` takes it to run on either", rotatesKind(), func(x *v) *Recorded[Rotates] { return &x.Rotates }).stays(),
		some("wheel_fits", "wheel fits", "where its wheel fits: axles, steer, drive, tag, inner, outer, alone, positions; left out: everywhere on the coach", placeKind().such("steer"), func(x *v) *[]string { return &x.WheelFits }).stays(),
		ownValues("values of the tire for measures that rule packs of your own declare", "{since_mounted: 180 mi, nuts_checked: no}", func(x *v) *Own { return &x.Own }),
		several("sure", "read twice", "its keys that were read again and are right, unlikely as they look", keyKind(), func(x *v) *[]string { return &x.Sure }),
	})
})

func extensionKind() kind[string] { return oneOf("none", "rigid", "flexible") }

var treadPart = sync.OnceValue(func() *part[Treads] {
	return newPart("tread", []field[Treads]{
		depths("inner", "inner", "at the shoulder that faces the coach; several are taken around the tire", func(t *Treads) *[]weight.Length { return &t.Inner }).named("inside"),
		depths("center", "center", "in the middle", func(t *Treads) *[]weight.Length { return &t.Center }).named("middle", "centre"),
		depths("outer", "outer", "at the shoulder that faces away", func(t *Treads) *[]weight.Length { return &t.Outer }).named("outside"),
	})
})

func depths(key, label, meaning string, at func(*Treads) *[]weight.Length) field[Treads] {
	f := field[Treads]{
		fieldKey: fieldKey{Field: depthKind().field(key, label, meaning)},
		read:     func(n strictyaml.Node, t *Treads, _ *context) { *at(t) = readDepths(n) },
		clear:    func(t *Treads) { *at(t) = nil },
	}
	f.Many, f.Unread = true, true
	return f
}

func readTreads(n strictyaml.Node, c *context) Recorded[Treads] {
	var t Treads
	if n.IsMap() {
		treadPart().read(n, &t, c)
		if len(n.Pairs()) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: no depth; leave the key out if nothing was probed", strictyaml.ErrShape))
		}
	} else {
		t.Anywhere = readDepths(n)
	}
	if _, ok := t.Least(); !ok {
		return Recorded[Treads]{}
	}
	return Record(t)
}

// readDepths reads one depth or a list of them.
func readDepths(n strictyaml.Node) []weight.Length {
	var out []weight.Length
	f := depthKind().is
	f.Unread = true
	for _, e := range oneOrMore(n) {
		if all := depthsIn(e); all != "" {
			text, _ := scalarText(e)
			e.Fail(strictyaml.CodeValue, &origin.TextError{Kind: f.Kind, Text: text, Want: all, Err: fmt.Errorf("%w: several depths in one", origin.ErrSyntax)})
		} else if d, ok := scalar(e, &f, parseLength); ok {
			out = append(out, d)
		}
	}
	if n.IsList() && len(n.List()) == 0 {
		n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: an empty list; leave the key out if nothing was probed", strictyaml.ErrShape))
	}
	return out
}

// depthsIn gives as a list what a text has of depths one behind another, such as
// 9/32 10/32 9/32, or 9-10-9 which a probe that shows thirty-seconds is read as; ""
// where it is one depth.
func depthsIn(n strictyaml.Node) string {
	text, _ := scalarText(n)
	if _, err := parseLength(text); err == nil || !severalDepths().MatchString(text) {
		return ""
	}
	var all []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789/", r) }) {
		if part = strings.TrimSuffix(part, "/32"); part != "/" {
			all = append(all, part+"/32 in")
		}
	}
	return "[" + strings.Join(all, ", ") + "]"
}

var severalDepths = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^ *[0-9]{1,2}(/32)?( ?in)?(( *[,;-] *| +/ +| +)[0-9]{1,2}(/32)?( ?in)?){1,8} *$`)
})

func readSeen(n strictyaml.Node) Recorded[condition.Set] {
	var s condition.Set
	if text, ok := scalarText(n); ok && strings.EqualFold(tidy(text), "nothing") {
		return Record(s)
	}
	for _, e := range oneOrMore(n) {
		if c, ok := scalar(e, &Field{}, func(text string) (condition.Condition, error) { return condition.Parse(strings.ToLower(text)) }); ok {
			s = s.With(c)
		}
	}
	return Record(s)
}

// Fill takes over what the visit says once for all tires.
func (t *Tire) Fill(every *Tire) {
	fields := tirePart().fields
	for i := range fields {
		if f := &fields[i]; f.Shared {
			f.fill(t, every)
		}
	}
}

// told is a text of a tire's own, else of all; "not read" is none, and no other
// stands in for it.
func told(own, every string) string {
	if own == "" {
		own = every
	}
	if own == notReadText {
		return ""
	}
	return own
}

// conditionWords lists the names of all conditions.
func conditionWords() []string {
	var out []string
	for _, c := range condition.All() {
		out = append(out, c.String())
	}
	return out
}

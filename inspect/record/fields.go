package record

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// A Field says what one key of a visit holds: enough to draw a form from, and
// what the page and the schema of the format are made of. All of them are in
// [Fields].
type Field struct {
	// Key is how a file writes it: "gawr".
	Key string `json:"key"`
	// Part is the mapping that it stands in: visit, names, ratings, axle, tire,
	// tread, weighing, reading, towing, trip, station, item, change, label or done.
	Part string `json:"part"`
	// Label is what a form calls it, in the trade's words: "GAWR".
	Label string `json:"label"`
	// Meaning is a line on what is written there.
	Meaning string `json:"meaning"`
	// Kind is what the value is: a quantity (mass, length, signed length, volume,
	// pressure, temperature, speed, time, torque, share), yes or no, text, name (a
	// text without blanks around it), date, number, version, word (one of Words),
	// stamp (a load at its pressure), service, placard (a pressure, or none), place
	// (a name of this coach), pack, condition, station name, offset, key (of this
	// part), treads (depths, or a tread), own values (names with a value each), or the name of another part.
	Kind string `json:"kind"`
	// Units are those that a form offers, the US one first; empty where the kind
	// has none.
	Units []string `json:"units,omitempty"`
	// Words are all that may stand there; empty where any text of the kind may.
	Words []string `json:"words,omitempty"`
	// Example is a value as people write it.
	Example string `json:"example,omitempty"`
	// Needed says that the key is always there.
	Needed bool `json:"needed,omitzero"`
	// Many says that it takes a list, and one value alone for a list of one.
	Many bool `json:"many,omitzero"`
	// Shared says that every_tire and every_towed_tire may say it for all tires.
	Shared bool `json:"shared,omitzero"`
	// Stays says that it is the same at the next visit, until somebody says
	// otherwise; see [Next].
	Stays bool `json:"stays,omitzero"`
	// Unread says that it may say "not read".
	Unread bool `json:"unread,omitzero"`
	// Private says that it names a person, or tells whose coach it is.
	Private bool `json:"private,omitzero"`
}

// Fields lists every key of a visit, part by part, in the order in which a file
// has them. The list is the caller's own.
func Fields() []Field {
	var out []Field
	for _, p := range parts() {
		out = append(out, p.list()...)
	}
	return out
}

// A fieldKey is what the reader knows of a field, whatever it is in.
type fieldKey struct {
	Field
	// group says that it holds mappings.
	group bool
	// also are other words that people write for it.
	also []string
}

// A field is a key of an S: what it is, and how a file's value gets into the S.
type field[S any] struct {
	fieldKey
	// read takes over a value that is there.
	read func(n strictyaml.Node, s *S, c *context)
	// unread takes note of a value that nobody read; nil where that is the same as
	// leaving the key out.
	unread func(s *S)
	// fill takes over what every_tire says where s says nothing; nil where every
	// tire has its own.
	fill func(s, every *S)
	// clear makes s say nothing.
	clear func(s *S)
}

// A context is what the reader knows beside the mapping it is in.
type context struct {
	// readingAt are the places of the scale readings in the file, which may have
	// blank ones between them.
	readingAt []int
	// excused are paths of what is missing because its key is misspelled.
	excused []string
}

// stays marks a field that is the same at the next visit.
func (f field[S]) stays() field[S] { f.Stays = true; return f }

// needed marks a key that is always there.
func (f field[S]) needed() field[S] { f.Needed = true; return f }

// private marks what tells who somebody is.
func (f field[S]) private() field[S] { f.Private = true; return f }

// named adds other words that people write for the key.
func (f field[S]) named(also ...string) field[S] { f.also = also; return f }

// shared marks what every_tire may say.
func (f field[S]) shared() field[S] { f.Shared = true; return f }

// A keyring is all keys of a mapping.
type keyring struct {
	name string
	all  []*fieldKey
	at   map[string]int
}

// A part is a mapping with its fields, one for each of its keys.
type part[S any] struct {
	keyring
	fields []field[S]
}

func newPart[S any](name string, fields []field[S]) *part[S] {
	p := &part[S]{keyring{name, make([]*fieldKey, len(fields)), make(map[string]int, len(fields))}, fields}
	for i := range fields {
		fields[i].Part = name
		p.all[i] = &fields[i].fieldKey
		p.at[fields[i].Key] = i
	}
	return p
}

// list gives the descriptions of the fields.
func (p *keyring) list() []Field {
	out := make([]Field, len(p.all))
	for i, f := range p.all {
		out[i] = f.Field
		out[i].Units, out[i].Words = slices.Clone(f.Units), slices.Clone(f.Words)
	}
	return out
}

// keys gives the keys, in every_tire those that it may have.
func (p *keyring) keys(every bool) []string {
	var out []string
	for _, f := range p.all {
		if f.Shared || !every {
			out = append(out, f.Key)
		}
	}
	return out
}

// read takes a mapping over into s. A key that the part has not is a problem that
// names the one most likely meant.
func (p *part[S]) read(n strictyaml.Node, s *S, c *context) { p.readSome(n, s, c, false) }

func (p *part[S]) readSome(n strictyaml.Node, s *S, c *context, every bool) {
	if !n.IsMap() {
		n.Want(keysWanted(p.name, every))
		return
	}
	var meant []string // needed keys that were misspelled
	for key, value := range n.Each() {
		i, known := p.find(key.Name())
		switch {
		case known && (p.all[i].Shared || !every):
			p.fields[i].take(value, s, c)
		case !key.HalfNumber():
			if near := p.refuse(key, known, every); near != "" {
				meant = append(meant, near)
				c.excused = append(c.excused, strings.TrimPrefix(n.Path()+"."+near, "."))
			}
		}
	}
	if !every {
		p.need(n, meant)
	}
}

// take takes over what a file has under the field's key.
func (f *field[S]) take(value strictyaml.Node, s *S, c *context) {
	switch f.says(value) {
	case saidValue:
		f.read(value, s, c)
	case saidUnread:
		if f.unread != nil {
			f.unread(s)
		}
	}
}

// A said is what a file says under a key.
type said uint8

const (
	saidNothing said = iota // or something wrong, which is told
	saidValue
	saidUnread
)

// says finds what a value says, and tells what is wrong with its shape.
func (f *fieldKey) says(value strictyaml.Node) said {
	switch {
	case value.Empty() && f.Needed:
		value.Fail(strictyaml.CodeMissing, fmt.Errorf("%w: want %s", strictyaml.ErrMissing, f.wanted()))
		return saidNothing
	case isBlank(value) && !f.Needed:
		return saidNothing
	case f.group && !value.Empty(), !f.group && !saysNotRead(value), f.Needed && !f.Unread:
		if want := f.wrongShape(value); want != "" {
			value.Want(want)
			return saidNothing
		}
		return saidValue
	}
	return saidUnread
}

// find finds a key, also as people write it: Last set.
func (p *keyring) find(key string) (i int, known bool) {
	if i, known = p.at[key]; !known {
		i, known = p.at[strings.ToLower(strings.ReplaceAll(tidy(key), " ", "_"))]
	}
	return i, known
}

// refuse says that a key does not belong here, and gives the one most likely meant.
func (p *keyring) refuse(key strictyaml.Key, known, every bool) (near string) {
	err := strictyaml.ErrUnknown
	if key.Room() { // a hostile file has thousands
		near, err = p.unknown(key.Name(), known, every)
	}
	key.Fail(strictyaml.CodeUnknown, err)
	return near
}

// need reports every needed key that is missing, except one that was
// misspelled.
func (p *keyring) need(n strictyaml.Node, meant []string) {
	for _, f := range p.all {
		if f.Needed && !slices.Contains(meant, f.Key) {
			m := strictyaml.Map{Node: n}
			if !m.Get(f.Key).Valid() {
				m.Lacks(f.Key, f.wanted())
			}
		}
	}
}

// unknown says what a key may have meant: the key, and an error that says so.
func (p *keyring) unknown(key string, known, every bool) (near string, err error) {
	if known {
		return "", fmt.Errorf("%w %q here: it is said of one tire at a time, under tires", strictyaml.ErrUnknown, strictyaml.Clip(key))
	}
	plain := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(key), " ", "_"))
	keys := p.keys(every)
	for _, f := range p.all {
		if (f.Key == plain || slices.Contains(f.also, plain)) && (f.Shared || !every) {
			near = f.Key
		}
	}
	if near == "" {
		near = strictyaml.Nearest(plain, keys)
	}
	switch {
	case near != "":
		return near, fmt.Errorf("%w %q: did you mean %q?", strictyaml.ErrUnknown, strictyaml.Clip(key), near)
	case len(keys) <= 16:
		return "", fmt.Errorf("%w %q: want one of %s", strictyaml.ErrUnknown, strictyaml.Clip(key), strings.Join(keys, ", "))
	}
	if part, ok := partOf()[plain]; ok {
		return "", fmt.Errorf("%w %q here: it belongs to %s", strictyaml.ErrUnknown, strictyaml.Clip(key), belongs[part])
	}
	return "", fmt.Errorf("%w %q", strictyaml.ErrUnknown, strictyaml.Clip(key))
}

// belongs says of each part where a file has it.
var belongs = map[string]string{
	"visit": "the visit itself, without an indent", "names": "names", "ratings": "ratings", "axle": "an axle", "tire": "a tire", "tread": "tread",
	"weighing": "weighing", "reading": "a reading of weighing", "towing": "towing", "trip": "trip", "station": "a station of trip",
	"item": "an item of trip", "change": "a change of trip", "label": "the label of trip", "done": "an entry of done",
}

// parts are all mappings of a visit, in the order of the page.
var parts = sync.OnceValue(func() []interface{ list() []Field } {
	return []interface{ list() []Field }{
		visitPart(), namesPart(), ratingsPart(), axlePart(), tirePart(), treadPart(), weighingPart(), readingPart(), towingPart(),
		tripPart(), stationPart(), itemPart(), changePart(), labelPart(), donePart(),
	}
})

// written shows of each part how a file has it.
var written = map[string]string{
	"visit": "visit: 1 and date: 2026-10-03", "names": "{customer: ...}", "ratings": "{gvwr: 26000 lb}", "axle": "{id: drive, fitment: dual}",
	"tire": "{at: drive-left-inner, found: 95 psi}", "tread": "{inner: 9/32 in}", "weighing": "{readings: [{load: 4380 lb, on: steer-left}]}",
	"reading": "{load: 4380 lb, on: steer-left}", "towing": "{tongue: 450 lb}", "trip": "{track: 80 in}", "station": "{name: rear bay, behind_steer: 260 in}",
	"item": "{name: tools, mass: 120 lb, at: rear bay, may_go_to: front bay}", "change": "{name: two people, at: sofa, add: 300 lb}",
	"label": "{kind: CCC, stated: 2000 lb}", "done": "{at: drive-left-inner, rule: run-low}",
}

// keysWanted says what a part is made of.
func keysWanted(part string, every bool) string {
	such := written[part]
	if every {
		such = "{size: XV250/72R21}"
	}
	return "keys with values, such as " + such
}

// wrongShape says what is wanted where the value is neither keys, a list nor a
// single value as the field has it; "" where it is.
func (f *fieldKey) wrongShape(n strictyaml.Node) string {
	switch {
	case f.group && f.Many:
		if !n.IsList() {
			return "a list, such as [" + written[f.Kind] + "]"
		}
	case f.group: // says so itself
	case n.IsScalar(), f.Many && n.IsList(), f.Kind == "treads":
	default:
		return f.single()
	}
	return ""
}

// single says that one value may stand there, or several.
func (f *Field) single() string {
	one := "one value"
	if f.Many {
		one = "one value, or a list of them"
	}
	switch {
	case f.Example != "":
		return one + ", such as " + f.Example
	case len(f.Words) > 0:
		return one + ": " + strings.Join(f.Words, " or ")
	}
	return one
}

// wanted says what may stand there.
func (f *Field) wanted() string {
	switch {
	case len(f.Words) > 0:
		return strings.Join(f.Words, " or ")
	case f.Example != "":
		return "one, such as " + f.Example
	case f.Many:
		return "at least one " + f.Kind
	}
	return "a value"
}

// better gives an error of a value in the words of its field: a number without a
// unit is shown with those that it can have.
func (f *Field) better(text string, err error) error {
	var e *origin.TextError
	text = tidy(text)
	if errors.As(err, &e) && f.Unread && !strings.ContainsAny(text, "0123456789") {
		better := *e
		better.Want += `, or "not read" where nobody read it`
		if f.Kind == "pressure" {
			better.Want += "; a flat tire reads 0 psi"
		}
		return &better
	}
	if !errors.As(err, &e) || len(f.Units) == 0 || strings.Trim(text, "0123456789.,/") != "" || text == "" {
		return err
	}
	var all []string
	for _, u := range f.Units {
		if rest, over := strings.CutPrefix(u, "/32"); over && !strings.Contains(text, "/") {
			all = append(all, text+"/32"+rest)
		} else if over || !strings.Contains(text, "/") {
			all = append(all, text+" "+strings.TrimSpace(rest))
		}
	}
	if len(all) == 0 {
		return err
	}
	want := all[len(all)-1]
	if len(all) > 1 {
		want = strings.Join(all[:len(all)-1], ", ") + " or " + want
	}
	better := *e
	better.Want = want
	return &better
}

// scalar reads a single value of a field, in spite of blanks around it or of
// another width.
func scalar[T any](n strictyaml.Node, f *Field, parse func(string) (T, error)) (T, bool) {
	if !n.IsScalar() {
		n.Want(f.single())
		return *new(T), false
	}
	text, ok := n.Text()
	if !ok {
		return *new(T), false
	}
	v, err := parse(text)
	if err != nil {
		if plain := tidy(text); plain != text {
			if w, again := parse(plain); again == nil {
				return w, true
			}
		}
		err = f.better(text, err)
		if head, tail, ok := strings.Cut(text, ","); ok && len(tail)-len(strings.TrimLeft(tail, "0123456789")) < 3 { // 5,6 mm is no thousand
			cure := head + "." + tail
			if _, again := parse(cure); again == nil {
				err = &origin.TextError{Kind: f.Kind, Text: text, Want: strictyaml.Clip(cure), Err: fmt.Errorf("%w: a point goes before decimals", origin.ErrSyntax)}
			}
		}
		if cure := ungrouped(text); cure != "" {
			if _, again := parse(cure); again == nil {
				err = &origin.TextError{Kind: f.Kind, Text: text, Want: strictyaml.Clip(cure),
					Err: fmt.Errorf("%w: thousands set off by a space or a mark", origin.ErrSyntax)}
			}
		}
		n.Fail(strictyaml.CodeValue, err)
		return *new(T), false
	}
	return v, true
}

// A kind is what a value of a type is, and how its text is read.
type kind[T any] struct {
	is    Field
	parse func(string) (T, error)
}

// such gives the kind with another example.
func (k kind[T]) such(example string) kind[T] { k.is.Example = example; return k }

// field makes a description of the kind.
func (k kind[T]) field(key, label, meaning string) Field {
	f := k.is
	f.Key, f.Label, f.Meaning = key, label, meaning
	return f
}

// recorded is a field that may be not recorded, or say "not read".
func recorded[S, T any](key, label, meaning string, k kind[T], at func(*S) *Recorded[T]) field[S] {
	is := k.field(key, label, meaning)
	is.Unread = true
	f := field[S]{
		fieldKey: fieldKey{Field: is},
		read: func(n strictyaml.Node, s *S, _ *context) {
			if v, ok := scalar(n, &is, k.parse); ok {
				*at(s) = Record(v)
			}
		},
		unread: func(s *S) { *at(s) = NotRead[T]() },
		fill:   func(s, every *S) { *at(s) = at(s).Or(*at(every)) },
		clear:  func(s *S) { *at(s) = Recorded[T]{} },
	}
	return f
}

// plain is a field whose zero value says nothing.
func plain[S, T any](key, label, meaning string, k kind[T], at func(*S) *T) field[S] {
	var zero T
	is := k.field(key, label, meaning)
	return field[S]{
		fieldKey: fieldKey{Field: is},
		read: func(n strictyaml.Node, s *S, _ *context) {
			if v, ok := scalar(n, &is, k.parse); ok {
				*at(s) = v
			}
		},
		clear: func(s *S) { *at(s) = zero },
	}
}

// line is a text in somebody's own words.
func line[S any](key, label, meaning string, at func(*S) *string) field[S] {
	f := plain(key, label, meaning, textKind(), at)
	f.Unread = true
	return f
}

// stamped is a text that every_tire may say, and that a tire may say was not read.
func stamped[S any](key, label, meaning, example string, at func(*S) *string) field[S] {
	f := line(key, label, meaning, at)
	f.Example = example
	f.unread = func(s *S) { *at(s) = notReadText }
	f.fill = func(s, every *S) { *at(s) = told(*at(s), *at(every)) }
	return f.shared()
}

// several is a list of texts, or one of them alone.
func several[S any](key, label, meaning string, k kind[string], at func(*S) *[]string) field[S] {
	f := field[S]{
		fieldKey: fieldKey{Field: k.field(key, label, meaning)},
		read: func(n strictyaml.Node, s *S, _ *context) {
			for _, e := range oneOrMore(n) {
				if text, ok := strictyaml.Scalar(e, k.parse); ok {
					*at(s) = append(*at(s), text)
				}
			}
		},
		clear: func(s *S) { *at(s) = nil },
	}
	f.Many, f.Unread = true, true
	return f
}

// some is a list with at least one entry.
func some[S any](key, label, meaning string, k kind[string], at func(*S) *[]string) field[S] {
	f := several(key, label, meaning, k, at)
	read := f.read
	f.read = func(n strictyaml.Node, s *S, c *context) {
		read(n, s, c)
		if n.IsList() && len(n.List()) == 0 {
			n.Fail(strictyaml.CodeShape, fmt.Errorf("%w: an empty list; leave the key out where there is nothing to say", strictyaml.ErrShape))
		}
	}
	return f
}

// inside is a mapping.
func inside[S, T any](key, label, meaning, of string, p func() *part[T], at func(*S) *T) field[S] {
	return field[S]{
		fieldKey: fieldKey{Field: Field{Key: key, Label: label, Meaning: meaning, Kind: of}, group: true},
		read:     func(n strictyaml.Node, s *S, c *context) { p().read(n, at(s), c) },
		clear:    func(s *S) { *at(s) = *new(T) },
	}
}

// listed is a list of mappings.
func listed[S, T any](key, label, meaning, of string, p func() *part[T], at func(*S) *[]T) field[S] {
	return field[S]{
		fieldKey: fieldKey{Field: Field{Key: key, Label: label, Meaning: meaning, Kind: of, Many: true}, group: true},
		read: func(n strictyaml.Node, s *S, c *context) {
			all := n.List()
			out := slices.Grow(*at(s), len(all))
			for _, e := range all {
				out = append(out, *new(T))
				p().read(e, &out[len(out)-1], c)
			}
			*at(s) = out
		},
		clear: func(s *S) { *at(s) = nil },
	}
}

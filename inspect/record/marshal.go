package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// Marshal writes a visit as a file that a person wants to read: what the tires
// share stands once under every_tire, where each position has an entry; lists and
// mappings stand on as few lines as fit, yes and no are words. [Read] gives a visit
// that says the same of every position, and Marshal of that gives the same bytes. The error is an
// [*origin.Problems] of a visit that is not consistent, or of a text that a file
// cannot hold.
func Marshal(v *Visit) ([]byte, error) {
	l, err := v.Layout()
	if err != nil {
		return nil, err
	}
	data, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	top, err := treeOf(json.NewDecoder(bytes.NewReader(data)))
	if err != nil {
		return nil, err
	}
	// What is written once for all is also of a tire that has no entry.
	coach, towed := true, true
	for w := range l.Wheels {
		if l.TireAt[w] >= 0 {
			continue
		}
		if v.Axles[l.Wheels[w].Axle].Towed {
			towed = false
		} else {
			coach = false
		}
	}
	top.fold("every_tire", coach, func(at string) bool { return !v.isTowed(at) })
	top.fold("every_towed_tire", towed, v.isTowed)
	var w yamlWriter
	w.top(top)
	if _, err := Read("", w.out.Bytes()); err != nil {
		return nil, err
	}
	return w.out.Bytes(), nil
}

// isTowed reports whether a position is on an axle of the towed unit.
func (v *Visit) isTowed(at string) bool {
	return slices.ContainsFunc(v.Axles, func(a Axle) bool { return a.Towed && a.ID == axleOf(at) })
}

// A branch is a value of a document: a mapping with its keys in order, a list, or
// a single value as text.
type branch struct {
	kind byte // '{', '[' or 0
	text string
	keys []string
	in   []*branch // of the keys, or of the list
}

// treeOf reads what the JSON encoder wrote.
func treeOf(dec *json.Decoder) (*branch, error) {
	dec.UseNumber()
	token, err := dec.Token()
	if err != nil {
		return nil, err
	}
	b := &branch{}
	switch t := token.(type) {
	case json.Delim:
		b.kind = byte(t)
		for dec.More() {
			if b.kind == '{' {
				key, err := dec.Token()
				if err != nil {
					return nil, err
				}
				b.keys = append(b.keys, fmt.Sprint(key))
			}
			in, err := treeOf(dec)
			if err != nil {
				return nil, err
			}
			b.in = append(b.in, in)
		}
		_, err = dec.Token()
	case bool:
		if b.text = "no"; t {
			b.text = "yes"
		}
	default:
		b.text = fmt.Sprint(t)
	}
	return b, err
}

func (b *branch) get(key string) *branch {
	if i := slices.Index(b.keys, key); i >= 0 {
		return b.in[i]
	}
	return nil
}

// put sets a key, before the first of those given that is there.
func (b *branch) put(key string, in *branch, before ...string) {
	if i := slices.Index(b.keys, key); i >= 0 {
		b.in[i] = in
		return
	}
	at := slices.IndexFunc(b.keys, func(k string) bool { return slices.Contains(before, k) })
	if at < 0 {
		at = len(b.keys)
	}
	b.keys, b.in = slices.Insert(b.keys, at, key), slices.Insert(b.in, at, in)
}

func (b *branch) drop(key string) {
	if i := slices.Index(b.keys, key); i >= 0 {
		b.keys, b.in = slices.Delete(b.keys, i, i+1), slices.Delete(b.in, i, i+1)
	}
}

// same is equality of two values, as they are written.
func (b *branch) same(c *branch) bool { return b != nil && c != nil && b.flow() == c.flow() }

// fold takes what all tires of a group say, and most of them alike, into what
// every one of them has, where all of the group have an entry. "not read" is left
// where it stands, to be written over.
func (b *branch) fold(every string, listed bool, mine func(at string) bool) {
	all := b.get("tires")
	if all == nil {
		return
	}
	var group []*branch
	for _, t := range all.in {
		if mine(t.get("at").text) {
			group = append(group, t)
		}
	}
	if len(group) == 0 {
		return
	}
	shared := b.get(every)
	if shared == nil {
		shared = &branch{kind: '{'}
	}
	keys := tirePart().keys(true)
	for i, key := range keys {
		if listed {
			if best := mostSaid(group, key); best != nil {
				shared.put(key, best, keys[i+1:]...)
			}
		}
		for _, t := range group {
			if value := t.get(key); value.same(shared.get(key)) && value.text != notReadText {
				t.drop(key)
			}
		}
	}
	if len(shared.keys) > 0 {
		b.put(every, shared, "every_towed_tire", "tires")
	}
}

// mostSaid is what most of a group say alike where all of it say something, nil where
// no two do.
func mostSaid(group []*branch, key string) (best *branch) {
	most := 1
	for _, t := range group {
		value := t.get(key)
		if value == nil {
			return nil
		}
		if n := countSame(group, key, value); n > most && value.text != notReadText {
			best, most = value, n
		}
	}
	return best
}

func countSame(group []*branch, key string, value *branch) int {
	n := 0
	for _, t := range group {
		if t.get(key).same(value) {
			n++
		}
	}
	return n
}

// plainText is what needs no quotes, between brackets neither.
var plainText = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(-?[0-9]|[A-Za-z])([A-Za-z0-9 ./%()+&'_·°-]*[A-Za-z0-9./%)+'_·°-])?$`)
})

// quoted gives a single value as YAML has it.
func quoted(text string) string {
	switch strings.ToLower(text) {
	case "null", "":
		return `"` + text + `"`
	}
	if plainText().MatchString(text) && !(len(text) > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9') {
		return text
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(text); err != nil {
		return text
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// flow gives a value on one line.
func (b *branch) flow() string {
	switch b.kind {
	case '{':
		return "{" + strings.Join(b.parts(), ", ") + "}"
	case '[':
		if len(b.in) == 1 && b.in[0].kind == 0 {
			return b.in[0].flow()
		}
		var all []string
		for _, in := range b.in {
			all = append(all, in.flow())
		}
		return "[" + strings.Join(all, ", ") + "]"
	}
	return quoted(b.text)
}

// parts gives the entries of a mapping. Where a tire was looked over and nothing
// was seen, it says so.
func (b *branch) parts() []string {
	var out []string
	for i, key := range b.keys {
		value := b.in[i].flow()
		if key == "seen" && b.in[i].kind == '[' && len(b.in[i].in) == 0 {
			value = "nothing"
		}
		out = append(out, key+": "+value)
	}
	return out
}

// groups reports a list of mappings.
func (b *branch) groups() bool { return b.kind == '[' && len(b.in) > 0 && b.in[0].kind == '{' }

type yamlWriter struct{ out bytes.Buffer }

// width is how long a line may get where it can be broken.
const width = 80

// wrap writes entries between brackets, broken only between them.
func (w *yamlWriter) wrap(start, indent string, parts []string) {
	line := start + "{"
	for i, p := range parts {
		if i > 0 {
			line += ","
			if len(line)+len(p)+2 > width {
				w.out.WriteString(line + "\n")
				line = indent
			} else {
				line += " "
			}
		}
		line += p
	}
	w.out.WriteString(line + "}\n")
}

// top writes the whole visit, its large parts apart from each other.
func (w *yamlWriter) top(b *branch) {
	for i, key := range b.keys {
		if slices.Contains([]string{"axles", "every_tire", "tires", "weighing", "trip", "done"}, key) {
			w.out.WriteByte('\n')
		}
		w.entry("", key, b.in[i], key == "weighing" || key == "trip")
	}
}

// entry writes a key with its value; open mappings have a line for each key.
func (w *yamlWriter) entry(indent, key string, b *branch, open bool) {
	switch {
	case b.groups():
		fmt.Fprintf(&w.out, "%s%s:\n", indent, key)
		for _, in := range b.in {
			w.wrap(indent+"  - ", indent+"    ", in.parts())
		}
	case b.kind == '{' && open:
		fmt.Fprintf(&w.out, "%s%s:\n", indent, key)
		for i, k := range b.keys {
			w.entry(indent+"  ", k, b.in[i], false)
		}
	case b.kind == '{':
		if line := indent + key + ": " + b.flow(); len(line) <= width {
			w.out.WriteString(line + "\n")
			return
		}
		fmt.Fprintf(&w.out, "%s%s:\n", indent, key)
		w.wrap(indent+"  ", indent+"   ", b.parts())
	default:
		fmt.Fprintf(&w.out, "%s%s: %s\n", indent, key, b.flow())
	}
}

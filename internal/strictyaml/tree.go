package strictyaml

import (
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"axleend.example/rules/origin"
)

// A tree is all values of a document in one piece of memory, each before what
// is in it. A mapping holds keys; the value of a key comes right behind it.
type tree struct {
	values []value
	tags   map[int32]string // the YAML tags written
}

// none stands for no value, where an index of one is wanted.
const none = -1

type kind uint8

const (
	scalar kind = iota
	mapping
	list
)

// marks are what there is to say about a value or key besides.
type marks uint8

const (
	isKey      marks = 1 << iota
	noWord           // a key that is not a plain word
	again            // a key that its mapping has already
	halfNumber       // a key that is half of a number
	null             // an empty value
	tagged
	anchored
	refused // not to be complained about a second time
)

// A value of a document, or a key.
type value struct {
	text string // of a scalar or a key
	// The first value in it is right behind it if it has one, in which case
	// last is not 0; next is the one after it in the same list, or the next
	// key; the last one's is none.
	next, last int32
	up         int32 // what it is in
	index      int32 // of an element in its list
	line, col  int32
	kind       kind
	is         marks
}

func (t *tree) clear() {
	clear(t.values) // so that it holds on to no text
	t.values = t.values[:0]
	t.tags = nil
}

// add puts a value at the end.
func (t *tree) add(v value, up int32) int32 {
	v.up, v.next = up, none
	t.values = append(t.values, v)
	return int32(len(t.values) - 1)
}

// link makes id, an element or key of up, the one after last.
func (t *tree) link(up, last, id int32) int32 {
	if last != none {
		t.values[last].next = id
		t.values[id].index = t.values[last].index + 1
	}
	t.values[up].last = id
	return id
}

// first gives the first element or key, or none.
func (t *tree) first(id int32) int32 {
	if t.values[id].last == 0 {
		return none
	}
	return id + 1
}

// path gives the field path of a value, and of a key that of its mapping.
func (t *tree) path(id int32) string {
	v := &t.values[id]
	if v.up == none {
		return ""
	}
	path := t.path(v.up)
	switch {
	case v.is&isKey != 0:
	case t.values[v.up].kind == list:
		path += "[" + strconv.Itoa(int(v.index)) + "]"
	case t.values[id-1].kind == scalar:
		path = join(path, t.values[id-1].text)
	}
	return path
}

func join(path, key string) string {
	key = Clip(key)
	if strings.ContainsFunc(key, func(r rune) bool { return !unicode.IsPrint(r) }) {
		key = strconv.Quote(key) // no line breaks or terminal codes in a path
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// at gives the place of a value. The YAML library puts an empty value at the
// end of the file on a line of its own.
func (d *Doc) at(id int32) origin.Position {
	v := &d.values[id]
	if int(v.line) > d.last.Line {
		return origin.Position{File: d.file, Line: d.last.Line, Column: d.last.Column}
	}
	return origin.Position{File: d.file, Line: int(v.line), Column: int(v.col)}
}

// fail adds a problem at a value; path is nil for its own.
func (d *Doc) fail(id int32, path *string, code string, err error) {
	if d.Probs.Len() >= origin.MaxProblems {
		d.Probs.Add(origin.Problem{}) // only counted
		return
	}
	p := origin.Problem{Position: d.at(id), Code: code, Err: err}
	if path != nil {
		p.Path = *path
	} else {
		p.Path = d.path(id)
	}
	d.Probs.Add(p)
}

// check walks everything once for what is never allowed, and marks the keys
// that do not count. It returns false where walking on makes no sense.
func (d *Doc) check(id int32, depth int) bool {
	d.nodes++
	if d.nodes > maxNodes {
		d.fail(id, nil, CodeSize, fmt.Errorf("%w: more than %d values", ErrSize, maxNodes))
		return false
	}
	if depth > maxDepth {
		d.fail(id, nil, CodeForbidden, fmt.Errorf("%w: nested more than %d deep", ErrForbidden, maxDepth))
		return false
	}
	v := &d.values[id]
	if v.is&anchored != 0 {
		d.fail(id, nil, CodeForbidden, fmt.Errorf("%w: anchors and aliases; write the value out", ErrForbidden))
	}
	if v.is&tagged != 0 {
		d.fail(id, nil, CodeForbidden, fmt.Errorf("%w: tags such as %s", ErrForbidden, Clip(d.tags[id])))
	}
	if v.is&null != 0 && !d.mayBeEmpty(id) {
		d.fail(id, nil, CodeForbidden, fmt.Errorf("%w: an empty value; leave the key out if there is nothing to say", ErrForbidden))
	}
	switch v.kind {
	case mapping:
		return d.checkMapping(id, depth)
	case list:
		for e := d.first(id); e != none; e = d.values[e].next {
			if !d.check(e, depth+1) {
				return false
			}
		}
	}
	return true
}

// mayBeEmpty reports whether a value may say nothing: a key's, in a file that
// people write.
func (d *Doc) mayBeEmpty(id int32) bool {
	up := d.values[id].up
	return d.byHand && up != none && d.values[up].kind == mapping
}

func (d *Doc) checkMapping(id int32, depth int) bool {
	met := met{doc: d}
	for k := d.first(id); k != none; k = d.values[k].next {
		key := &d.values[k]
		if key.is&noWord != 0 {
			d.fail(k, nil, CodeForbidden, fmt.Errorf("%w: a key that is not a plain word", ErrForbidden))
		} else if first := met.before(k); first != none {
			key.is |= again
			if d.Probs.Len() < origin.MaxProblems { // else the line is not worth counting
				d.fail(k, nil, CodeDuplicate, fmt.Errorf("%w %q, first on line %d", ErrDuplicate, Clip(key.text), d.at(first).Line))
			} else {
				d.fail(k, nil, CodeDuplicate, ErrDuplicate)
			}
		}
		if key.is&halfNumber != 0 {
			d.fail(k, nil, CodeForbidden, fmt.Errorf("%w: %q: a comma inside { } starts a new entry; write 3640 lb, or \"3,640 lb\" in quotes", ErrForbidden, Clip(key.text)))
			continue
		}
		if !d.check(k+1, depth+1) {
			return false
		}
	}
	return true
}

// met are the keys of a mapping seen so far: a few are compared one by one,
// and only those that a 64-bit sketch does not rule out; many go into a map.
type met struct {
	doc    *Doc
	sketch uint64
	few    [32]int32
	n      int
	many   map[string]int32
}

// before gives an equal key that came before, or none, and takes note of k.
func (m *met) before(k int32) int32 {
	text := m.doc.values[k].text
	if m.many != nil {
		if first, ok := m.many[text]; ok {
			return first
		}
		m.many[text] = k
		return none
	}
	bit := uint64(1) << ((len(text)*29 + int(text[0])*5 + int(text[len(text)-1])) & 63)
	if m.sketch&bit != 0 {
		for _, f := range m.few[:m.n] {
			if m.doc.values[f].text == text {
				return f
			}
		}
	}
	m.sketch |= bit
	if m.n < len(m.few) {
		m.few[m.n] = k
		m.n++
		return none
	}
	m.many = make(map[string]int32, 4*len(m.few))
	for _, f := range m.few {
		m.many[m.doc.values[f].text] = f
	}
	m.many[text] = k
	return none
}

// A Node is a value with its place: a mapping, a list or a scalar. It is good
// for as long as its document is.
type Node struct {
	doc  *Doc // nil for a value that is not there
	id   int32
	path *string // where it is not the value's own
}

// Locate returns the node at a field path such as "tires[2].at", or, where the
// path goes on beyond what is in the file, the last node on the way with the
// whole path, so that a problem found later still has its place.
func (d *Doc) Locate(path string) Node {
	n := d.Root()
	for rest := path; rest != ""; {
		var next Node
		if next, rest = n.step(rest); !next.Valid() {
			break
		}
		n = next
	}
	n.path = &path
	return n
}

// step goes to what a path begins with, an element or a key, and gives the rest of it.
func (n Node) step(path string) (next Node, rest string) {
	if path[0] == '[' {
		num, after, closed := strings.Cut(path[1:], "]")
		if i, err := strconv.Atoi(num); closed && err == nil {
			next = n.element(i)
		}
		return next, strings.TrimPrefix(after, ".")
	}
	end := strings.IndexAny(path, ".[")
	if end < 0 {
		end = len(path)
	}
	return Map{n}.Get(path[:end]), strings.TrimPrefix(path[end:], ".")
}

// element is the i-th of a list, counted from 0, or a node that is not there.
func (n Node) element(i int) Node {
	if i < 0 || !n.IsList() {
		return Node{}
	}
	e := n.doc.first(n.id)
	for ; e != none && i > 0; e = n.doc.values[e].next {
		i--
	}
	if e == none {
		return Node{}
	}
	return Node{doc: n.doc, id: e}
}

// Root returns the document's outermost value.
func (d *Doc) Root() Node { return Node{doc: d} }

// Valid reports whether the node stands for a value of the file; the zero
// Node (a key that was not there) does not.
func (n Node) Valid() bool { return n.doc != nil }

func (n Node) value() *value { return &n.doc.values[n.id] }

// Pos returns where the value starts.
func (n Node) Pos() origin.Position {
	if n.doc == nil {
		return origin.Position{}
	}
	return n.doc.at(n.id)
}

// Path returns the field path, such as "axles[1].gawr".
func (n Node) Path() string {
	switch {
	case n.path != nil:
		return *n.path
	case n.doc == nil:
		return ""
	}
	return n.doc.path(n.id)
}

// Fail adds a problem at the node.
func (n Node) Fail(code string, err error) {
	if n.doc != nil {
		n.doc.fail(n.id, n.path, code, err)
	}
}

func (n Node) isA(k kind) bool { return n.doc != nil && n.value().kind == k }

// IsScalar reports whether the node is a single value.
func (n Node) IsScalar() bool { return n.isA(scalar) }

// IsList reports whether the node is a list.
func (n Node) IsList() bool { return n.isA(list) }

// IsMap reports whether the node is a mapping.
func (n Node) IsMap() bool { return n.isA(mapping) }

// Want adds the problem that a node that is there is of the wrong kind, unless it
// has one already.
func (n Node) Want(kind string) {
	if n.doc != nil && n.value().is&refused == 0 {
		n.Fail(CodeShape, fmt.Errorf("%w: want %s, found %s", ErrShape, kind, n.kind()))
	}
}

func (n Node) kind() string {
	switch n.value().kind {
	case mapping:
		return "keys with values"
	case list:
		return "a list"
	}
	return "a single value"
}

// Empty reports whether a key has no value.
func (n Node) Empty() bool { return n.doc != nil && n.value().is&null != 0 }

// Text returns the scalar as written, trimmed of nothing; false for a node
// that is not there, and for one that is no scalar, which is a problem.
func (n Node) Text() (text string, ok bool) {
	if n.doc == nil {
		return "", false
	}
	v := n.value()
	if v.kind != scalar || v.is&refused != 0 {
		n.Want("a single value")
		return "", false
	}
	return v.text, true
}

// List returns the elements; a node that is there but no list is a problem.
func (n Node) List() []Node {
	if n.doc == nil {
		return nil
	}
	if n.value().kind != list {
		n.Want("a list")
		return nil
	}
	count := 0
	for e := n.doc.first(n.id); e != none; e = n.doc.values[e].next {
		count++
	}
	out := make([]Node, 0, count)
	for e := n.doc.first(n.id); e != none; e = n.doc.values[e].next {
		out = append(out, Node{doc: n.doc, id: e})
	}
	return out
}

// A Map is a mapping whose keys were checked.
type Map struct {
	Node
}

// A Pair is a key of a mapping and its value; Key's node stands at the key.
type Pair struct {
	Name  string
	Key   Node
	Value Node
}

// Pairs returns the pairs in the order written, without the keys that were
// refused, and the first of each duplicate only; a node that is there but no
// mapping is a problem.
func (n Node) Pairs() []Pair {
	var out []Pair
	for k := n.firstKey(); k != none; k = n.doc.values[k].next {
		if v := &n.doc.values[k]; v.is&(noWord|again) == 0 {
			out = append(out, Pair{Name: v.text, Key: Node{doc: n.doc, id: k}, Value: Node{doc: n.doc, id: k + 1}})
		}
	}
	return out
}

// A Key is a key of a mapping, with its own place.
type Key struct{ Node }

// Name is the key as written.
func (k Key) Name() string { return k.value().text }

// HalfNumber says that the key is no key but the second half of a number with a
// thousands comma, which has its problem already.
func (k Key) HalfNumber() bool { return k.value().is&halfNumber != 0 }

// Each goes through the pairs in the order written, as [Node.Pairs] has them.
func (n Node) Each() iter.Seq2[Key, Node] {
	return func(yield func(Key, Node) bool) {
		for k := n.firstKey(); k != none; k = n.doc.values[k].next {
			if n.doc.values[k].is&(noWord|again) == 0 && !yield(Key{Node{doc: n.doc, id: k}}, Node{doc: n.doc, id: k + 1}) {
				return
			}
		}
	}
}

// firstKey gives the first key, or none; a node that is there but no mapping
// is a problem.
func (n Node) firstKey() int32 {
	if n.doc == nil {
		return none
	}
	if n.value().kind != mapping {
		n.Want("keys with values")
		return none
	}
	return n.doc.first(n.id)
}

// Room reports whether one more problem of the document would be shown, so that
// it is worth looking for what was meant.
func (n Node) Room() bool { return n.doc.Probs.Len() < origin.MaxProblems }

// Map returns the mapping after checking that each key is one of those
// allowed; an unknown key is a problem that names the nearest allowed one
// (as long as there is room for the problem: a hostile file has thousands).
func (n Node) Map(allowed ...string) Map {
	for k := n.firstKey(); k != none; k = n.doc.values[k].next {
		v := &n.doc.values[k]
		if v.is&(noWord|again|halfNumber) != 0 || slices.Contains(allowed, v.text) {
			continue
		}
		var hint string
		if n.Room() {
			hint = unknownHint(v.text, allowed)
		}
		n.doc.fail(k, nil, CodeUnknown, fmt.Errorf("%w %q%s", ErrUnknown, Clip(v.text), hint))
	}
	return Map{n}
}

func unknownHint(name string, allowed []string) string {
	if near := Nearest(name, allowed); near != "" {
		return fmt.Sprintf(": did you mean %q?", near)
	}
	if len(allowed) > 0 && len(allowed) <= 16 {
		return ": want one of " + strings.Join(allowed, ", ")
	}
	return ""
}

// Get returns the value of a key, or the zero Node.
func (m Map) Get(key string) Node {
	if !m.IsMap() {
		return Node{}
	}
	for k := m.doc.first(m.id); k != none; k = m.doc.values[k].next {
		if v := &m.doc.values[k]; v.text == key && v.kind == scalar {
			return Node{doc: m.doc, id: k + 1}
		}
	}
	return Node{}
}

// Need is Get for a key that must be there: its absence is a problem at the
// mapping.
func (m Map) Need(key string) Node {
	n := m.Get(key)
	if !n.Valid() && m.IsMap() {
		path := join(m.Path(), key)
		m.doc.fail(m.id, &path, CodeMissing, ErrMissing)
	}
	return n
}

// Lacks adds the problem that a key is missing, and what it would hold.
func (m Map) Lacks(key, want string) {
	path := join(m.Path(), key)
	m.doc.fail(m.id, &path, CodeMissing, fmt.Errorf("%w: want %s", ErrMissing, want))
}

// Scalar parses the node's text with parse; an error of parse is a problem at
// the node. A node that is not there gives the zero value and false.
func Scalar[T any](n Node, parse func(string) (T, error)) (T, bool) {
	var zero T
	text, ok := n.Text()
	if !ok {
		return zero, false
	}
	v, err := parse(text)
	if err != nil {
		n.Fail(CodeValue, err)
		return zero, false
	}
	return v, true
}

// Int reads a whole number in digits only, between low and high. The error
// matches origin.ErrSyntax or origin.ErrRange.
func Int(low, high int) func(string) (int, error) {
	return func(text string) (int, error) {
		cause := origin.ErrRange
		if text == "" || strings.Trim(text, "0123456789") != "" {
			cause = origin.ErrSyntax
		} else if v, err := strconv.Atoi(text); err == nil && v >= low && v <= high {
			return v, nil
		}
		return 0, fmt.Errorf("%w: %q: want a whole number from %d to %d", cause, Clip(text), low, high)
	}
}

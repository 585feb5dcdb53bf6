// Package strictyaml is the one place that reads YAML: a small, strict part of
// it, with the position of every value.
//
//	root, err := strictyaml.Parse("visit.yaml", data, 64<<10)
//	m := root.Map("visit", "coach", "tires")
//	axle := m.Text("axle")
//
// Refused are anchors, aliases, merge keys, nulls, tags, several documents,
// empty, duplicate and unknown keys, tabs, a byte-order mark, control bytes,
// deep nesting and oversize. A syntax error or an oversize is one problem;
// all others are collected in the origin.Problems of the document. Scalars
// are handed out as the text that was written: the caller says what they are.
// A JSON document is YAML too, and reads the same.
package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"axleend.example/rules/origin"
)

// Codes of the problems found here.
const (
	CodeSize      = "size"
	CodeSyntax    = "syntax"
	CodeEncoding  = "encoding"
	CodeForbidden = "forbidden"
	CodeShape     = "shape"
	CodeUnknown   = "unknown-key"
	CodeDuplicate = "duplicate-key"
	CodeMissing   = "missing"
	CodeValue     = "value"
)

// Causes, for errors.Is.
var (
	ErrSize      = errors.New("file is too large")
	ErrSyntax    = errors.New("not valid YAML")
	ErrEncoding  = errors.New("not plain UTF-8 text")
	ErrForbidden = errors.New("not allowed here")
	ErrShape     = errors.New("wrong shape")
	ErrUnknown   = errors.New("unknown key")
	ErrDuplicate = errors.New("duplicate key")
	ErrMissing   = errors.New("missing")
)

const (
	maxDepth = 32
	maxNodes = 40_000
)

// A Doc is one parsed document and the problems met so far.
type Doc struct {
	file  string
	nodes int
	Probs origin.Problems
	root  Node
}

// A Node is a value with its place: a mapping, a list or a scalar.
type Node struct {
	doc  *Doc
	y    *yaml.Node
	path string
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// Parse reads one document of at most limit bytes. A document that cannot be
// walked at all gives a nil Doc and an *origin.Problems with one problem.
// Otherwise what is forbidden anywhere in it is already among doc.Probs.
func Parse(file string, data []byte, limit int) (*Doc, error) {
	d := &Doc{file: file}
	if len(data) > limit {
		return nil, d.one(0, 0, CodeSize, fmt.Errorf("%w: %d bytes, at most %d are read", ErrSize, len(data), limit))
	}
	if line, col, err := plainText(data); err != nil {
		return nil, d.one(line, col, CodeEncoding, err)
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var top yaml.Node
	if err := decode(dec, &top); err != nil {
		return nil, d.syntax(data, err)
	}
	var second yaml.Node
	if err := decode(dec, &second); err == nil {
		return nil, d.one(second.Line, 0, CodeForbidden, fmt.Errorf("%w: more than one document in the file", ErrForbidden))
	} else if !errors.Is(err, io.EOF) {
		return nil, d.syntax(data, err)
	}
	if top.Kind != yaml.DocumentNode || len(top.Content) != 1 {
		return nil, d.one(0, 0, CodeSyntax, fmt.Errorf("%w: the file is empty", ErrSyntax))
	}
	d.root = Node{doc: d, y: top.Content[0]}
	if !d.check(d.root.y, "", 0) {
		return nil, d.Probs.Err()
	}
	return d, nil
}

// decode keeps the library's panics (it has some) from our callers.
func decode(dec *yaml.Decoder, into *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	return dec.Decode(into)
}

func (d *Doc) syntax(data []byte, err error) error {
	if errors.Is(err, io.EOF) {
		return d.one(0, 0, CodeSyntax, fmt.Errorf("%w: the file is empty", ErrSyntax))
	}
	line, text := 0, err.Error()
	if m := yamlLine.FindStringSubmatch(text); m != nil {
		// The parser counts the lines of its own errors from zero.
		if n, convErr := strconv.Atoi(m[1]); convErr == nil {
			line = min(n+1, bytes.Count(data, []byte("\n"))+1)
		}
		text = m[2]
	}
	return d.one(line, 0, CodeSyntax, fmt.Errorf("%w: %s", ErrSyntax, text))
}

func (d *Doc) one(line, col int, code string, err error) error {
	var ps origin.Problems
	ps.Add(origin.Problem{Position: origin.Position{File: d.file, Line: line, Column: col}, Code: code, Err: err})
	return ps.Err()
}

func plainText(data []byte) (line, col int, err error) {
	if bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
		return 1, 1, fmt.Errorf("%w: starts with a byte-order mark", ErrEncoding)
	}
	line, col = 1, 1
	indent := true
	for i := 0; i < len(data); {
		b := data[i]
		switch {
		case b == '\n':
			line, col, indent = line+1, 1, true
			i++
			continue
		case b == '\t':
			if indent {
				return line, col, fmt.Errorf("%w: a tab in the indent; use spaces", ErrEncoding)
			}
		case b < 0x20 && b != '\r' || b == 0x7f:
			return line, col, fmt.Errorf("%w: control character 0x%02x", ErrEncoding, b)
		}
		if b != ' ' && b != '\t' {
			indent = false
		}
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return line, col, fmt.Errorf("%w: byte 0x%02x is no UTF-8", ErrEncoding, b)
		}
		// A byte-order mark or a second kind of line end inside would shift
		// every position that is reported.
		if r == 0xFEFF || r == 0x2028 || r == 0x2029 || r == 0x85 {
			return line, col, fmt.Errorf("%w: character U+%04X", ErrEncoding, r)
		}
		i += n
		col++
	}
	return 0, 0, nil
}

// check walks everything once for what is never allowed. It returns false
// where walking on makes no sense.
func (d *Doc) check(y *yaml.Node, path string, depth int) bool {
	d.nodes++
	if d.nodes > maxNodes {
		d.add(y, path, CodeSize, fmt.Errorf("%w: more than %d values", ErrSize, maxNodes))
		return false
	}
	if depth > maxDepth {
		d.add(y, path, CodeForbidden, fmt.Errorf("%w: nested more than %d deep", ErrForbidden, maxDepth))
		return false
	}
	if y.Anchor != "" || y.Kind == yaml.AliasNode {
		d.add(y, path, CodeForbidden, fmt.Errorf("%w: anchors and aliases; write the value out", ErrForbidden))
		return y.Kind != yaml.AliasNode
	}
	if y.Style&yaml.TaggedStyle != 0 {
		d.add(y, path, CodeForbidden, fmt.Errorf("%w: tags such as %s", ErrForbidden, clip(y.Tag)))
	}
	switch y.Kind {
	case yaml.ScalarNode:
		if y.Tag == "!!null" && y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0 {
			d.add(y, path, CodeForbidden, fmt.Errorf("%w: an empty value; leave the key out if there is nothing to say", ErrForbidden))
		}
	case yaml.MappingNode:
		seen := make(map[string]int, len(y.Content)/2)
		for i := 0; i+1 < len(y.Content); i += 2 {
			k := y.Content[i]
			if k.Kind != yaml.ScalarNode || k.Anchor != "" || k.Value == "" || k.Tag == "!!merge" {
				d.add(k, path, CodeForbidden, fmt.Errorf("%w: a key that is not a plain word", ErrForbidden))
				if k.Kind == yaml.AliasNode {
					return false
				}
			} else if first, dup := seen[k.Value]; dup {
				d.add(k, path, CodeDuplicate, fmt.Errorf("%w %q, first on line %d", ErrDuplicate, clip(k.Value), first))
			} else {
				seen[k.Value] = k.Line
			}
			if !d.check(y.Content[i+1], join(path, k.Value), depth+1) {
				return false
			}
		}
	case yaml.SequenceNode:
		for i, c := range y.Content {
			if !d.check(c, path+"["+strconv.Itoa(i)+"]", depth+1) {
				return false
			}
		}
	}
	return true
}

func join(path, key string) string {
	key = clip(key)
	if path == "" {
		return key
	}
	return path + "." + key
}

func (d *Doc) add(y *yaml.Node, path, code string, err error) {
	d.Probs.Add(origin.Problem{Position: d.at(y), Path: path, Code: code, Err: err})
}

func (d *Doc) at(y *yaml.Node) origin.Position {
	return origin.Position{File: d.file, Line: y.Line, Column: y.Column}
}

// clip keeps what a hostile file says from filling the screen.
func clip(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	cut := most
	for cut > 0 && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut] + "…"
}

// Root returns the document's outermost value.
func (d *Doc) Root() Node { return d.root }

// Valid reports whether the node stands for a value of the file; the zero
// Node (a key that was not there) does not.
func (n Node) Valid() bool { return n.y != nil }

// Pos returns where the value starts.
func (n Node) Pos() origin.Position {
	if n.y == nil {
		return origin.Position{}
	}
	return n.doc.at(n.y)
}

// Path returns the field path, such as "axles[1].gawr".
func (n Node) Path() string { return n.path }

// Fail adds a problem at the node.
func (n Node) Fail(code string, err error) {
	if n.y != nil {
		n.doc.add(n.y, n.path, code, err)
	}
}

// IsScalar, IsList and IsMap tell the kind without complaint.
func (n Node) IsScalar() bool { return n.y != nil && n.y.Kind == yaml.ScalarNode }

// IsList reports whether the node is a list.
func (n Node) IsList() bool { return n.y != nil && n.y.Kind == yaml.SequenceNode }

// IsMap reports whether the node is a mapping.
func (n Node) IsMap() bool { return n.y != nil && n.y.Kind == yaml.MappingNode }

func (n Node) want(kind string) {
	n.Fail(CodeShape, fmt.Errorf("%w: want %s, found %s", ErrShape, kind, n.kind()))
}

func (n Node) kind() string {
	switch n.y.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return "a list"
	}
	return "a single value"
}

// Text returns the scalar as written, trimmed of nothing. A node that is
// there but no scalar is a problem; either way ok is false.
func (n Node) Text() (text string, ok bool) {
	if n.y == nil {
		return "", false
	}
	if n.y.Kind != yaml.ScalarNode {
		n.want("a single value")
		return "", false
	}
	return n.y.Value, true
}

// List returns the elements; a node that is there but no list is a problem.
func (n Node) List() []Node {
	if n.y == nil {
		return nil
	}
	if n.y.Kind != yaml.SequenceNode {
		n.want("a list")
		return nil
	}
	out := make([]Node, len(n.y.Content))
	for i, c := range n.y.Content {
		out[i] = Node{doc: n.doc, y: c, path: n.path + "[" + strconv.Itoa(i) + "]"}
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

// Pairs returns the pairs in the order written, first of each duplicate only;
// a node that is there but no mapping is a problem.
func (n Node) Pairs() []Pair {
	if n.y == nil {
		return nil
	}
	if n.y.Kind != yaml.MappingNode {
		n.want("a mapping")
		return nil
	}
	out := make([]Pair, 0, len(n.y.Content)/2)
	seen := make(map[string]bool, len(n.y.Content)/2)
	for i := 0; i+1 < len(n.y.Content); i += 2 {
		k := n.y.Content[i]
		if k.Kind != yaml.ScalarNode || seen[k.Value] {
			continue
		}
		seen[k.Value] = true
		path := join(n.path, k.Value)
		out = append(out, Pair{
			Name:  k.Value,
			Key:   Node{doc: n.doc, y: k, path: n.path},
			Value: Node{doc: n.doc, y: n.y.Content[i+1], path: path},
		})
	}
	return out
}

// Map returns the mapping after checking that each key is one of those
// allowed; an unknown key is a problem that names the nearest allowed one.
func (n Node) Map(allowed ...string) Map {
	for _, p := range n.Pairs() {
		if !contains(allowed, p.Name) {
			hint := ""
			if near := Nearest(p.Name, allowed); near != "" {
				hint = fmt.Sprintf(": did you mean %q?", near)
			} else if len(allowed) <= 16 {
				hint = ": want one of " + strings.Join(allowed, ", ")
			}
			p.Key.Fail(CodeUnknown, fmt.Errorf("%w %q%s", ErrUnknown, clip(p.Name), hint))
		}
	}
	return Map{n}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// Get returns the value of a key, or the zero Node.
func (m Map) Get(key string) Node {
	if m.y == nil || m.y.Kind != yaml.MappingNode {
		return Node{}
	}
	for i := 0; i+1 < len(m.y.Content); i += 2 {
		if k := m.y.Content[i]; k.Kind == yaml.ScalarNode && k.Value == key {
			return Node{doc: m.doc, y: m.y.Content[i+1], path: join(m.path, key)}
		}
	}
	return Node{}
}

// Need is Get for a key that must be there: its absence is a problem at the
// mapping.
func (m Map) Need(key string) Node {
	n := m.Get(key)
	if n.y == nil && m.y != nil && m.y.Kind == yaml.MappingNode {
		m.doc.add(m.y, join(m.path, key), CodeMissing, ErrMissing)
	}
	return n
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

// Int reads a whole number in digits only, between low and high.
func Int(low, high int) func(string) (int, error) {
	return func(text string) (int, error) {
		if len(text) > 0 && len(text) <= 9 {
			v, digits := 0, true
			for i := range len(text) {
				digits = digits && text[i] >= '0' && text[i] <= '9'
				v = v*10 + int(text[i]-'0')
			}
			if digits && v >= low && v <= high {
				return v, nil
			}
		}
		return 0, fmt.Errorf("%w: %q: want a whole number from %d to %d", origin.ErrSyntax, clip(text), low, high)
	}
}

// Nearest returns the candidate that a mistyped word most likely meant, or ""
// when none is near: at most two edits and fewer than half of the letters.
func Nearest(word string, candidates []string) string {
	best, bestDist := "", 3
	if len(word) > 64 {
		return ""
	}
	for _, c := range candidates {
		if d := distance(word, c); d < bestDist && 2*d < max(len(word), len(c)) {
			best, bestDist = c, d
		}
	}
	return best
}

// distance counts insertions, deletions, substitutions and swaps of
// neighbors.
func distance(a, b string) int {
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}

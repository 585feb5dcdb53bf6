// Package strictyaml is the one place that reads YAML: a small, strict part of
// it, with the position of every value.
//
//	root, err := strictyaml.Parse("visit.yaml", data, 64<<10)
//	m := root.Map("visit", "coach", "tires")
//	axle := m.Text("axle")
//
// Refused are anchors, aliases, merge keys, nulls, tags, several documents,
// empty, duplicate and unknown keys, tabs in the indent, a byte-order mark,
// control bytes, deep nesting and oversize. A syntax error or an oversize is
// one problem; all others are collected in the origin.Problems of the
// document. Scalars are handed out as the text that was written: the caller
// says what they are. A JSON document is YAML too, and reads the same, also
// when tabs indent it; only its escapes \/ and \ud800 to \udfff are refused.
package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"
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
	last  origin.Position // where the text of the file ends
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

// Parse reads one document of at most limit bytes. One that cannot be walked
// to its end gives a nil Doc and an *origin.Problems. Otherwise what is
// forbidden anywhere in it is already among doc.Probs, and the walker adds no
// second problem for the same value.
func Parse(file string, data []byte, limit int) (*Doc, error) {
	d := &Doc{file: file}
	if len(data) > limit {
		return nil, d.one(0, 0, CodeSize, fmt.Errorf("%w: %d bytes, at most %d are read", ErrSize, len(data), limit))
	}
	if line, col, err := plainText(data); err != nil {
		return nil, d.one(line, col, CodeEncoding, err)
	}
	d.last = end(data)
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var top yaml.Node
	if err := decode(dec, &top); err != nil {
		return nil, d.syntax(data, err)
	}
	var second yaml.Node
	if err := decode(dec, &second); err == nil {
		at := d.at(&second)
		return nil, d.one(at.Line, at.Column, CodeForbidden, fmt.Errorf("%w: more than one document in the file", ErrForbidden))
	} else if !errors.Is(err, io.EOF) {
		return nil, d.syntax(data, err)
	}
	if top.Kind != yaml.DocumentNode || len(top.Content) != 1 {
		return nil, d.empty()
	}
	d.root = Node{doc: d, y: top.Content[0]}
	if !d.check(d.root.y, "", 0) {
		return nil, d.Probs.Err()
	}
	return d, nil
}

// end gives the place after the last character; a line break at the end ends
// a line and starts none.
func end(data []byte) origin.Position {
	data = bytes.TrimSuffix(bytes.TrimSuffix(data, []byte("\n")), []byte("\r"))
	start := bytes.LastIndexByte(data, '\n') + 1
	return origin.Position{Line: bytes.Count(data, []byte("\n")) + 1, Column: utf8.RuneCount(data[start:]) + 1}
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

func (d *Doc) empty() error {
	return d.one(1, 1, CodeSyntax, fmt.Errorf("%w: the file is empty", ErrSyntax))
}

// syntax puts an error of the library where it belongs. The library gives the
// line where the surrounding value starts, counted from 0 for one family of
// errors and from 1 for the other, and none at all on the first line. With an
// empty line put before the file there always is one, and the two families
// are told apart by their texts.
func (d *Doc) syntax(data []byte, err error) error {
	if errors.Is(err, io.EOF) {
		return d.empty()
	}
	full := append([]byte{'\n'}, data...)
	line, text := complaint(full)
	code, cause := CodeSyntax, ErrSyntax
	switch {
	case strings.HasPrefix(text, "did not find expected key"),
		strings.HasPrefix(text, "did not find expected '-' indicator"):
		// Given is the line where the block starts, which may be far above.
		line, text = firstBad(full, text, line), text+" in the block that started on line "+strconv.Itoa(line)
	case strings.HasPrefix(text, "did not find expected ',' or"):
		text += " to match the bracket opened here"
	case strings.HasPrefix(text, "did not find expected <document start>"):
		text = "more text after the end of the document"
	case strings.HasPrefix(text, "unknown anchor"):
		line, text = firstBad(full, text, line), "anchors and aliases; write the value out"
		code, cause = CodeForbidden, ErrForbidden
	case strings.HasPrefix(text, "did not find expected node content"),
		strings.HasPrefix(text, "found undefined tag handle"),
		strings.HasPrefix(text, "found duplicate %"),
		strings.HasPrefix(text, "found incompatible"):
	default:
		line--
		if text == "found unexpected end of stream" {
			text = "no closing quote for the text that starts here"
		}
	}
	return d.one(min(max(line, 0), d.last.Line), 0, code, fmt.Errorf("%w: %s", cause, text))
}

// complaint gives the library's error about data: its line as given and its
// text, which is empty when there is no error in the first two documents.
func complaint(data []byte) (line int, text string) {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	for range 2 {
		var n yaml.Node
		if err := decode(dec, &n); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return split(err)
		}
	}
	return 0, ""
}

func split(err error) (line int, text string) {
	text = strings.TrimPrefix(err.Error(), "yaml: ")
	if after, ok := strings.CutPrefix(text, "line "); ok {
		if num, rest, ok := strings.Cut(after, ": "); ok {
			if n, convErr := strconv.Atoi(num); convErr == nil {
				return n, rest
			}
		}
	}
	return 0, text
}

// firstBad gives the least number of lines of data after which the library
// makes the same complaint, from the given line on. That holds for complaints
// that the end of a file does not bring about. In a file larger than anyone
// writes by hand it is not worth the many parses: the line stays as given.
func firstBad(data []byte, text string, line int) int {
	if len(data) > 64<<10 {
		return line
	}
	var ends []int
	for i, b := range data {
		if b == '\n' {
			ends = append(ends, i+1)
		}
	}
	return line + sort.Search(len(ends)-line, func(k int) bool {
		n, t := complaint(data[:ends[line+k]])
		return n == line && t == text
	})
}

func (d *Doc) one(line, col int, code string, err error) error {
	var ps origin.Problems
	ps.Add(origin.Problem{Position: origin.Position{File: d.file, Line: line, Column: col}, Code: code, Err: err})
	return ps.Err()
}

// plainText finds the first character that has no business in a file written
// by hand, or that would shift the positions which are reported.
func plainText(data []byte) (line, col int, err error) {
	if bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
		return 1, 1, fmt.Errorf("%w: starts with a byte-order mark", ErrEncoding)
	}
	line, col = 1, 1
	indent, flow := true, false // flow: a JSON document, which may be indented by tabs
	begun := false
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			return line, col, fmt.Errorf("%w: byte 0x%02x is no UTF-8", ErrEncoding, data[i])
		case r == '\n':
			line, col, indent = line+1, 1, true
			i++
			continue
		case r == '\r':
			if i+1 >= len(data) || data[i+1] != '\n' {
				return line, col, fmt.Errorf("%w: a carriage return that ends no line", ErrEncoding)
			}
		case r == '\t':
			if indent && begun && !flow {
				return line, col, fmt.Errorf("%w: a tab in the indent; use spaces", ErrEncoding)
			}
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff || r == 0xfffe || r == 0xffff:
			return line, col, fmt.Errorf("%w: character U+%04X", ErrEncoding, r)
		}
		if r != ' ' && r != '\t' && r != '\r' {
			if !begun {
				begun, flow = true, r == '{' || r == '['
			}
			indent = false
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
	}
	if y.Style&yaml.TaggedStyle != 0 {
		d.add(y, path, CodeForbidden, fmt.Errorf("%w: tags such as %s", ErrForbidden, Clip(y.Tag)))
	}
	switch y.Kind {
	case yaml.ScalarNode:
		if isNull(y) && y.Style&yaml.TaggedStyle == 0 {
			d.add(y, path, CodeForbidden, fmt.Errorf("%w: an empty value; leave the key out if there is nothing to say", ErrForbidden))
		}
	case yaml.MappingNode:
		seen := make(map[string]int, len(y.Content)/2)
		for i := 0; i+1 < len(y.Content); i += 2 {
			k, at := y.Content[i], path
			if !isWord(k) {
				d.add(k, path, CodeForbidden, fmt.Errorf("%w: a key that is not a plain word", ErrForbidden))
			} else if first, dup := seen[k.Value]; dup {
				d.add(k, path, CodeDuplicate, fmt.Errorf("%w %q, first on line %d", ErrDuplicate, Clip(k.Value), first))
			} else {
				seen[k.Value] = k.Line
			}
			if k.Kind == yaml.ScalarNode {
				at = join(path, k.Value)
			}
			if splitNumber(y, k, y.Content[i+1]) {
				d.add(k, path, CodeForbidden, fmt.Errorf("%w: %q: a comma inside { } starts a new entry; write 3640 lb, or \"3,640 lb\" in quotes", ErrForbidden, Clip(k.Value)))
				continue
			}
			if !d.check(y.Content[i+1], at, depth+1) {
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

func isNull(y *yaml.Node) bool {
	return y.Kind == yaml.ScalarNode && y.Tag == "!!null"
}

// refused reports whether check has a problem for the value already, so that
// the walker need not add that it is of the wrong kind, too.
func refused(y *yaml.Node) bool { return y.Kind == yaml.AliasNode || isNull(y) }

func isWord(k *yaml.Node) bool {
	return k.Kind == yaml.ScalarNode && k.Value != "" && k.Anchor == "" &&
		k.Style&yaml.TaggedStyle == 0 && k.Tag != "!!merge" && k.Tag != "!!null"
}

// splitNumber reports a key that is the second half of a number with a
// thousands comma, as in {load: 3,640 lb}.
func splitNumber(m, key, value *yaml.Node) bool {
	return m.Style&yaml.FlowStyle != 0 && value.Kind == yaml.ScalarNode && value.Tag == "!!null" && value.Value == "" &&
		len(key.Value) > 3 && strings.Trim(key.Value[:3], "0123456789") == ""
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

func (d *Doc) add(y *yaml.Node, path, code string, err error) {
	d.Probs.Add(origin.Problem{Position: d.at(y), Path: path, Code: code, Err: err})
}

// at gives the place of y. The library puts an empty value at the end of the
// file on a line of its own.
func (d *Doc) at(y *yaml.Node) origin.Position {
	if y.Line > d.last.Line {
		return origin.Position{File: d.file, Line: d.last.Line, Column: d.last.Column}
	}
	return origin.Position{File: d.file, Line: y.Line, Column: y.Column}
}

// Clip shortens text from outside to 40 bytes before it is printed, so that a
// hostile file cannot fill the screen.
func Clip(s string) string {
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

// Locate returns the node at a field path such as "tires[2].at", or, where the
// path goes on beyond what is in the file, the last node on the way with the
// whole path, so that a problem found later still has its place.
func (d *Doc) Locate(path string) Node {
	n := d.root
	for rest := path; rest != "" && n.y != nil; {
		var next *yaml.Node
		if rest[0] == '[' {
			num, after, ok := strings.Cut(rest[1:], "]")
			i, err := strconv.Atoi(num)
			if ok && err == nil && n.y.Kind == yaml.SequenceNode && i >= 0 && i < len(n.y.Content) {
				next = n.y.Content[i]
			}
			rest = strings.TrimPrefix(after, ".")
		} else {
			end := strings.IndexAny(rest, ".[")
			if end < 0 {
				end = len(rest)
			}
			if v := (Map{n}).Get(rest[:end]); v.y != nil {
				next = v.y
			}
			rest = strings.TrimPrefix(rest[end:], ".")
		}
		if next == nil {
			break
		}
		n.y = next
	}
	n.path = path
	return n
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

// IsScalar reports whether the node is a single value.
func (n Node) IsScalar() bool { return n.y != nil && n.y.Kind == yaml.ScalarNode }

// IsList reports whether the node is a list.
func (n Node) IsList() bool { return n.y != nil && n.y.Kind == yaml.SequenceNode }

// IsMap reports whether the node is a mapping.
func (n Node) IsMap() bool { return n.y != nil && n.y.Kind == yaml.MappingNode }

func (n Node) want(kind string) {
	if refused(n.y) {
		return
	}
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

// Text returns the scalar as written, trimmed of nothing; false for a node
// that is not there, and for one that is no scalar, which is a problem.
func (n Node) Text() (text string, ok bool) {
	if n.y == nil {
		return "", false
	}
	if n.y.Kind != yaml.ScalarNode || refused(n.y) {
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

// Pairs returns the pairs in the order written, without the keys that were
// refused, and the first of each duplicate only; a node that is there but no
// mapping is a problem.
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
		if !isWord(k) || seen[k.Value] {
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
// allowed; an unknown key is a problem that names the nearest allowed one
// (as long as there is room for the problem: a hostile file has thousands).
func (n Node) Map(allowed ...string) Map {
	for _, p := range n.Pairs() {
		if !slices.Contains(allowed, p.Name) && !splitNumber(n.y, p.Key.y, p.Value.y) {
			var hint string
			if n.doc.Probs.Len() < origin.MaxProblems {
				hint = unknownHint(p.Name, allowed)
			}
			p.Key.Fail(CodeUnknown, fmt.Errorf("%w %q%s", ErrUnknown, Clip(p.Name), hint))
		}
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

// Nearest returns the candidate that a mistyped word most likely meant, or ""
// when none is near: at most two edits and fewer than half of the letters.
func Nearest(word string, candidates []string) string {
	best, bestDist := "", 3
	if len(word) > 64 {
		return ""
	}
	for _, c := range candidates {
		if len(c) > len(word)+2 || len(word) > len(c)+2 {
			continue
		}
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

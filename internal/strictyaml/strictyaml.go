// Package strictyaml is the one place that reads YAML and JSON: a small, strict
// part of YAML, all of JSON, with the position of every value.
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
// says what they are, so that 1 and "1" are the same.
//
// What is valid JSON is read by a JSON reader of our own, some twenty times as
// fast, everything else as YAML; both give the same values and the same
// problems. Only a JSON text may have the escapes \/ and, in pairs, \ud800 to
// \udfff, and a line end between a key and its colon.
package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"axleend.example/internal/problem"
	"axleend.example/rules/origin"
)

// Codes of the problems found here: those of every reader.
const (
	CodeSize      = problem.CodeSize
	CodeSyntax    = problem.CodeSyntax
	CodeEncoding  = problem.CodeEncoding
	CodeForbidden = problem.CodeForbidden
	CodeShape     = problem.CodeShape
	CodeUnknown   = problem.CodeUnknown
	CodeDuplicate = problem.CodeDuplicate
	CodeMissing   = problem.CodeMissing
	CodeValue     = problem.CodeValue
	CodeVersion   = problem.CodeVersion
	CodePosition  = problem.CodePosition
	CodeTwice     = problem.CodeTwice
	CodeRange     = problem.CodeRange
)

// Causes, for errors.Is.
var (
	ErrSize      = problem.ErrSize
	ErrSyntax    = problem.ErrSyntax
	ErrEncoding  = problem.ErrEncoding
	ErrForbidden = problem.ErrForbidden
	ErrShape     = problem.ErrShape
	ErrUnknown   = problem.ErrUnknown
	ErrDuplicate = problem.ErrDuplicate
	ErrMissing   = problem.ErrMissing
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
	tree

	byHand  bool            // a file that people write: see [ByHand]
	shifts  map[int][]shift // by line
	restore bool            // texts have stand-ins
}

// Parse reads one document of at most limit bytes, JSON or YAML. One that
// cannot be walked to its end gives a nil Doc and an *origin.Problems.
// Otherwise what is forbidden anywhere in it is already among doc.Probs, and
// the walker adds no second problem for the same value.
func Parse(file string, data []byte, limit int) (*Doc, error) {
	d := &Doc{file: file}
	if err := d.plain(data, limit); err != nil {
		return nil, err
	}
	var asJSON error
	if text := bytes.TrimLeft(data, " \t\r\n"); len(text) > 0 && (text[0] == '{' || text[0] == '[') {
		if asJSON = d.readJSON(data); asJSON == nil {
			return d.checked()
		}
		if text = bytes.TrimLeft(text[1:], " \t\r\n"); len(text) == 0 || text[0] != '"' {
			asJSON = nil // a key without quotes: it was never meant to be JSON
		}
	}
	if err := d.readYAML(data); err != nil {
		if asJSON != nil && errors.Is(err, ErrSyntax) {
			return nil, asJSON // which knows the column, too
		}
		return nil, err
	}
	return d.checked()
}

// plain refuses what is too large or no plain text.
func (d *Doc) plain(data []byte, limit int) error {
	if len(data) > limit {
		return d.one(0, 0, CodeSize, fmt.Errorf("%w: %d bytes, at most %d are read", ErrSize, len(data), limit))
	}
	if plainASCII(data) {
		return nil
	}
	if line, col, err := plainText(data); err != nil {
		return d.one(line, col, CodeEncoding, err)
	}
	return nil
}

// checked gives the document once it has been held to what is never allowed.
func (d *Doc) checked() (*Doc, error) {
	if !d.check(0, 0) {
		return nil, d.Probs.Err()
	}
	return d, nil
}

func (d *Doc) readYAML(data []byte) error {
	d.clear()
	d.last = end(data)
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var top yaml.Node
	if err := decode(dec, &top); err != nil {
		return d.syntax(data, err)
	}
	var second yaml.Node
	if err := decode(dec, &second); err == nil {
		return d.one(min(second.Line, d.last.Line), second.Column, CodeForbidden, fmt.Errorf("%w: more than one document in the file", ErrForbidden))
	} else if !errors.Is(err, io.EOF) {
		return d.syntax(data, err)
	}
	if top.Kind != yaml.DocumentNode || len(top.Content) != 1 {
		return d.empty()
	}
	d.addYAML(top.Content[0], none)
	return nil
}

// addYAML takes a value and all that is in it over into the tree. The library
// itself nests no deeper than 10,000.
func (d *Doc) addYAML(y *yaml.Node, up int32) int32 {
	id := d.add(d.yamlValue(y), up)
	if y.Style&yaml.TaggedStyle != 0 {
		if d.tags == nil {
			d.tags = make(map[int32]string)
		}
		d.tags[id] = y.Tag
	}
	var last int32 = none
	switch y.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(y.Content); i += 2 {
			last = d.link(id, last, d.add(d.yamlKey(y, y.Content[i], y.Content[i+1]), id))
			d.addYAML(y.Content[i+1], id)
		}
	case yaml.SequenceNode:
		for _, c := range y.Content {
			last = d.link(id, last, d.addYAML(c, id))
		}
	}
	return id
}

// yamlValue is a value without what is in it.
func (d *Doc) yamlValue(y *yaml.Node) value {
	v := value{line: int32(y.Line), col: int32(d.original(y.Line, y.Column)), kind: scalar, text: d.unmarked(y.Value)}
	switch y.Kind {
	case yaml.MappingNode:
		v.kind = mapping
	case yaml.SequenceNode:
		v.kind = list
	case yaml.AliasNode:
		v.is |= anchored | refused
	}
	if y.Anchor != "" {
		v.is |= anchored
	}
	if y.Style&yaml.TaggedStyle != 0 {
		v.is |= tagged
	}
	if y.Kind == yaml.ScalarNode && y.Tag == "!!null" {
		v.is |= refused
		if y.Style&yaml.TaggedStyle == 0 {
			v.is |= null
		}
	}
	return v
}

// yamlKey is a key of a mapping.
func (d *Doc) yamlKey(in, k, of *yaml.Node) value {
	key := value{line: int32(k.Line), col: int32(d.original(k.Line, k.Column)), kind: scalar, is: isKey, text: d.unmarked(k.Value)}
	if k.Kind != yaml.ScalarNode {
		key.kind = mapping // what is in it does not matter
	}
	if k.Kind != yaml.ScalarNode || k.Value == "" || k.Anchor != "" ||
		k.Style&yaml.TaggedStyle != 0 || k.Tag == "!!merge" || k.Tag == "!!null" {
		key.is |= noWord
	}
	if splitNumber(in, k, of) {
		key.is |= halfNumber
	}
	return key
}

// unmarked gives a text without stand-ins.
func (d *Doc) unmarked(text string) string {
	if d.restore {
		return unmark(text)
	}
	return text
}

// splitNumber reports a key that is the second half of a number with a
// thousands comma, as in {load: 3,640 lb}.
func splitNumber(m, key, value *yaml.Node) bool {
	return m.Style&yaml.FlowStyle != 0 && value.Kind == yaml.ScalarNode && value.Tag == "!!null" && value.Value == "" &&
		len(key.Value) > 3 && strings.Trim(key.Value[:3], "0123456789") == ""
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
	if line = min(max(line, 0), d.last.Line); d.byHand {
		return d.one(line, 0, code, slip{plainly(text), cause})
	}
	return d.one(line, 0, code, fmt.Errorf("%w: %s", cause, text))
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

// plainASCII reports whether plainText would find nothing, as it does in most
// files; where it cannot tell, it says false.
func plainASCII(data []byte) bool {
	for i, b := range data {
		if b < 0x20 || b > 0x7e {
			if b != '\n' && (b != '\r' || i+1 >= len(data) || data[i+1] != '\n') {
				return false
			}
		}
	}
	return true
}

// invisible reports characters that show nothing: controls, line separators of
// Unicode, byte-order marks.
func invisible(r rune) bool {
	return r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff || r == 0xfffe || r == 0xffff
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
		case invisible(r):
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

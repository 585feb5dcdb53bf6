package strictyaml

import (
	"bytes"
	"slices"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// A Reader reads one JSON document after the other in the same memory. The
// zero Reader is ready to use, by one goroutine at a time.
type Reader struct {
	// ByHand takes an empty value of a key for no problem.
	ByHand bool

	doc Doc
}

// ReadJSON reads one document of at most limit bytes as Parse does, but only
// if it is JSON (RFC 8259): the error then matches ErrSyntax and says where it is not.
// The document, and all Nodes of it, are good until the next call; texts stay.
func (r *Reader) ReadJSON(file string, data []byte, limit int) (*Doc, error) {
	d := &r.doc
	t := d.tree
	t.clear()
	*d = Doc{file: file, tree: t, byHand: r.ByHand}
	if err := d.plain(data, limit); err != nil {
		return nil, err
	}
	if err := d.readJSON(data); err != nil {
		return nil, err
	}
	return d.checked()
}

// notJSON is what is wrong with the syntax of a JSON text.
type notJSON string

func (e notJSON) Error() string        { return "not valid JSON: " + string(e) }
func (e notJSON) Is(target error) bool { return target == ErrSyntax }

// readJSON fills the tree from a JSON text that was found to be plain.
func (d *Doc) readJSON(data []byte) error {
	d.clear()
	// Each value and key but the first comes behind one of these.
	most := 1
	for _, b := range [...]string{"{", "[", ",", ":"} {
		most += bytes.Count(data, []byte(b))
	}
	d.values = slices.Grow(d.values, min(most, maxNodes))
	p := jsonParser{doc: d, text: string(data), line: 1, start: -1}
	if !p.parse() {
		d.clear()
		return d.one(int(p.line), int(p.column()), CodeSyntax, p.err)
	}
	d.last.Line = int(p.line)
	return nil
}

// A jsonParser goes through the text once, however deep it is nested.
type jsonParser struct {
	doc  *Doc
	text string
	i    int     // where it is; after false where the error is
	err  notJSON // what is wrong there
	// The line it is in, and where it starts, less one and more by one for
	// every byte in it that starts no character.
	line  int32
	start int
	// The innermost container that is open, and what it holds last, an element or
	// a key.
	in, last int32
}

// column counts characters from 1.
func (p *jsonParser) column() int32 { return int32(p.i - p.start) }

func (p *jsonParser) fail(what notJSON) bool {
	p.err = what
	return false
}

// peek skips white space and gives the next byte, 0 at the end.
func (p *jsonParser) peek() byte {
	for ; p.i < len(p.text); p.i++ {
		switch b := p.text[p.i]; b {
		case '\n':
			p.line, p.start = p.line+1, p.i
		case ' ', '\t', '\r':
		default:
			return b
		}
	}
	return 0
}

// parse reads one value and wants the end of the text behind it. The
// containers that are open are the line upwards from the innermost one.
func (p *jsonParser) parse() bool {
	p.in = none
	for {
		complete, ok := p.value()
		if !ok {
			return false
		}
		if !complete { // what is in it comes next
			continue
		}
		if done, ok := p.close(); done || !ok {
			return ok
		}
	}
}

// value reads a value, in a mapping its key first. Of a container that is not empty
// it reads the bracket that opens it.
func (p *jsonParser) value() (complete, ok bool) {
	d := p.doc
	if p.in != none && d.values[p.in].kind == mapping && !p.key() {
		return false, false
	}
	b := p.peek()
	v := value{line: p.line, col: p.column()}
	switch {
	case b == '{':
		v.kind = mapping
	case b == '[':
		v.kind = list
	default:
		if !p.scalar(b, &v) {
			return false, false
		}
	}
	id := d.add(v, p.in)
	if p.in != none && d.values[p.in].kind == list {
		p.last = d.link(p.in, p.last, id)
	}
	if v.kind == scalar {
		return true, true
	}
	p.i++
	if b = p.peek(); b != '}' && b != ']' {
		p.in, p.last = id, none
		return false, true
	}
	if b != closing(v.kind) {
		return false, p.wrongEnd(v.kind)
	}
	p.i++
	return true, true
}

// close reads what is behind a value: a comma, or what closes the containers that are
// complete with it. It is done where the text is.
func (p *jsonParser) close() (done, ok bool) {
	d := p.doc
	for {
		b := p.peek()
		if p.in == none {
			if p.i < len(p.text) {
				return false, p.fail("more text after the end of the document")
			}
			return true, true
		}
		k := d.values[p.in].kind
		if b == ',' {
			p.i++
			return false, true
		}
		if b != closing(k) {
			return false, p.wrongEnd(k)
		}
		p.i++
		id := p.in
		p.in = d.values[id].up
		if p.last = id; p.in != none && d.values[p.in].kind == mapping {
			p.last = id - 1
		}
	}
}

func closing(k kind) byte {
	if k == mapping {
		return '}'
	}
	return ']'
}

func (p *jsonParser) wrongEnd(k kind) bool {
	if k == mapping {
		return p.fail("want a comma or }")
	}
	return p.fail("want a comma or ]")
}

// key reads a key of the mapping and its colon.
func (p *jsonParser) key() bool {
	if p.peek() != '"' {
		return p.fail("want a key in double quotes")
	}
	v := value{line: p.line, col: p.column(), is: isKey}
	if !p.string(&v.text) {
		return false
	}
	if v.text == "" {
		v.is |= noWord
	}
	p.last = p.doc.link(p.in, p.last, p.doc.add(v, p.in))
	if p.peek() != ':' {
		return p.fail("want a colon after the key")
	}
	p.i++
	return true
}

func (p *jsonParser) scalar(b byte, v *value) bool {
	start := p.i
	switch {
	case b == '"':
		return p.string(&v.text)
	case b == '-' || b >= '0' && b <= '9':
		if !p.number() {
			return false
		}
	default:
		for p.i < len(p.text) && (p.text[p.i]|0x20 >= 'a' && p.text[p.i]|0x20 <= 'z') {
			p.i++
		}
		switch p.text[start:p.i] {
		case "true", "false":
		case "null":
			v.is |= null | refused
		default:
			p.i = start
			return p.fail("want a value: a text in double quotes, a number, true, false, { or [")
		}
	}
	v.text = p.text[start:p.i]
	return true
}

// number reads an optional minus, digits without a leading zero, and perhaps a
// fraction and an exponent.
func (p *jsonParser) number() bool {
	if p.text[p.i] == '-' {
		p.i++
	}
	if start := p.i; !p.digits() {
		return false
	} else if p.text[start] == '0' && p.i > start+1 {
		p.i = start
		return p.fail("a number with a leading zero; put it in double quotes")
	}
	if p.i < len(p.text) && p.text[p.i] == '.' {
		p.i++
		if !p.digits() {
			return false
		}
	}
	if p.i < len(p.text) && p.text[p.i]|0x20 == 'e' {
		p.i++
		if p.i < len(p.text) && (p.text[p.i] == '+' || p.text[p.i] == '-') {
			p.i++
		}
		return p.digits()
	}
	return true
}

func (p *jsonParser) digits() bool {
	start := p.i
	for p.i < len(p.text) && p.text[p.i] >= '0' && p.text[p.i] <= '9' {
		p.i++
	}
	if p.i == start {
		return p.fail("want a digit")
	}
	return true
}

// string reads a text in double quotes. One without escapes, as nearly all
// are, is a part of the document's text.
func (p *jsonParser) string(out *string) bool {
	open, line := p.i, p.start
	p.i++
	start := p.i
	var buf []byte
	for p.i < len(p.text) {
		switch b := p.text[p.i]; {
		case b == '"':
			if buf == nil {
				*out = p.text[start:p.i]
			} else {
				*out = string(append(buf, p.text[start:p.i]...))
			}
			p.i++
			return true
		case b == '\\':
			buf = append(buf, p.text[start:p.i]...)
			var ok bool
			if buf, ok = p.escape(buf); !ok {
				return false
			}
			start = p.i
		case b < 0x20:
			return p.fail("a line end or tab inside a text; write \\n or \\t")
		default:
			p.i++
			if b >= 0x80 && b < 0xc0 {
				p.start++
			}
		}
	}
	p.i, p.start = open, line
	return p.fail("no closing quote for the text that starts here")
}

// escapes are the bytes that may follow a backslash, and what they stand for.
const escapes = "\"\"\\\\//b\bf\fn\nr\rt\t"

func (p *jsonParser) escape(buf []byte) ([]byte, bool) {
	if p.i+1 < len(p.text) {
		b := p.text[p.i+1]
		for i := 0; i < len(escapes); i += 2 {
			if escapes[i] == b {
				p.i += 2
				return append(buf, escapes[i+1]), true
			}
		}
		if b == 'u' {
			r, ok := p.unit(p.i)
			if !ok {
				return nil, p.fail("want four hexadecimal digits after \\u")
			}
			n := 6
			if utf16.IsSurrogate(r) {
				second, _ := p.unit(p.i + n)
				if r = utf16.DecodeRune(r, second); r == utf8.RuneError {
					return nil, p.fail("half of a pair of surrogates")
				}
				n *= 2
			}
			p.i += n
			return utf8.AppendRune(buf, r), true
		}
	}
	return nil, p.fail("an escape that is none of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u")
}

// unit reads \u and four digits at an offset.
func (p *jsonParser) unit(at int) (rune, bool) {
	if len(p.text) < at+6 || p.text[at] != '\\' || p.text[at+1] != 'u' {
		return 0, false
	}
	n, err := strconv.ParseUint(p.text[at+2:at+6], 16, 16)
	return rune(n), err == nil
}

package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"axleend.example/rules/origin"
)

// ByHand reads a file that people write, in the yard and on a phone. Beside what
// Parse takes:
//
//   - a byte-order mark, and blanks of another width, are no matter;
//   - an empty value of a key is no problem: see [Node.Empty];
//   - known slips (a tab in the indent, a thousands comma between brackets, a colon
//     inside a text, no blank behind a colon) are problems, each with its cure, and
//     are mended for reading on, so that they hide nothing;
//   - what is wrong with the syntax otherwise is said in plain words.
type ByHand struct {
	// Key reports whether a word is a key somewhere in the format.
	Key func(word string) bool
	// Limit is how many bytes are read at most.
	Limit int
}

// Parse reads one document. JSON is tried first, as everywhere.
func (h ByHand) Parse(file string, data []byte) (*Doc, error) {
	d := &Doc{file: file, byHand: true}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if text := bytes.TrimLeft(data, " \t\r\n"); len(text) > 0 && (text[0] == '{' || text[0] == '[') {
		doc, err := Parse(file, data, h.Limit)
		if err == nil && doc.Probs.Len() == 0 || errors.Is(err, ErrSize) {
			return doc, err
		}
		j := &Doc{file: file, byHand: true}
		if j.plain(data, h.Limit) == nil && j.readJSON(data) == nil {
			return j.checked()
		}
	}
	if len(data) > h.Limit {
		return nil, d.plain(data, h.Limit)
	}
	m := mender{key: h.Key, shifts: make(map[int][]shift), file: file}
	mended := m.mend(string(data))
	d.shifts, d.restore = m.shifts, m.marked
	err := d.plain([]byte(mended), 2*h.Limit)
	if err == nil {
		err = d.readYAML([]byte(mended))
	}
	if err != nil {
		if m.tabs { // how far a tab indents is not known
			return nil, m.probs.Err()
		}
		m.probs.AddError(origin.Position{}, CodeSyntax, err)
		return nil, m.probs.Err()
	}
	for _, p := range m.probs.All() {
		d.Probs.Add(p)
	}
	return d.checked()
}

// A shift is how many characters were put into a line before a column.
type shift struct{ column, by int }

// Stand-ins for a comma and a colon that are part of a text. They have the width
// of one character, so that no position moves.
const (
	commaMark = '\ue000'
	colonMark = '\ue001'
)

func unmark(text string) string {
	return strings.NewReplacer(string(commaMark), ",", string(colonMark), ":").Replace(text)
}

// original gives the column as written.
func (d *Doc) original(line, col int) int {
	for _, s := range d.shifts[line] {
		if s.column < col {
			col -= s.by
		}
	}
	return max(col, 1)
}

// A mender goes through the lines of a file once, before they are read.
type mender struct {
	key    func(string) bool
	file   string
	probs  origin.Problems
	shifts map[int][]shift
	marked bool // a stand-in was put
	tabs   bool

	depth int  // of brackets
	quote byte // that is open, or 0
}

func (m *mender) tell(line, col int, code string, cause error, format string, args ...any) {
	m.probs.Add(origin.Problem{Position: origin.Position{File: m.file, Line: line, Column: col}, Code: code,
		Err: slip{fmt.Sprintf(format, args...), cause}})
}

// A slip is what is wrong, in the words of who made it, and its cause.
type slip struct {
	says  string
	cause error
}

func (s slip) Error() string { return s.says }
func (s slip) Unwrap() error { return s.cause }

func (m *mender) mend(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r >= 0x80 }) >= 0 {
		text = strings.NewReplacer("\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u202f", " ").Replace(text)
		if strings.ContainsRune(text, commaMark) || strings.ContainsRune(text, colonMark) {
			return text
		}
	}
	lines := strings.SplitAfter(text, "\n")
	block := -1 // the indent of a text of several lines
	for i, l := range lines {
		body := strings.TrimRight(l, "\r\n")
		if indent := len(body) - len(strings.TrimLeft(body, " \t")); block >= 0 && (body == "" || indent > block) {
			continue
		}
		block = -1
		fixed := m.line(i+1, body)
		if m.depth == 0 && m.quote == 0 && strings.ContainsAny(fixed, "|>") && blockText().MatchString(fixed) {
			block = len(fixed) - len(strings.TrimLeft(fixed, " "))
		}
		lines[i] = fixed + l[len(body):]
	}
	return strings.Join(lines, "")
}

// once compiles an expression when it is first needed.
func once(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}

var (
	blockText   = once(`:\s+[|>][-+0-9]*\s*(#.*)?$`)
	thousands   = once(`^[+-]?[0-9]{1,3}(,[0-9]{3})+([.][0-9]+)?( ?[A-Za-z%°]|[^0-9,.\s\]}])`)
	leadingTabs = once(`^[ \t]*\t[ \t]*`)
)

// line mends one line.
func (m *mender) line(n int, l string) string {
	if m.depth == 0 && m.quote == 0 && strings.Contains(l, "\t") {
		if tabs := leadingTabs().FindString(l); tabs != "" && strings.TrimSpace(l) != "" {
			if !m.tabs {
				m.tell(n, 1, CodeEncoding, ErrEncoding, "a tab in the indent; use spaces")
			}
			m.tabs = true
			spaces := strings.ReplaceAll(tabs, "\t", "  ")
			m.shifts[n] = append(m.shifts[n], shift{len(spaces), len(spaces) - len(tabs)})
			l = spaces + l[len(tabs):]
		}
	}
	s := scan{m: m, n: n, in: []rune(l)}
	s.out = make([]rune, 0, len(s.in)+8)
	return s.run()
}

// A scan goes through one line character by character.
type scan struct {
	m   *mender
	n   int
	in  []rune
	out []rune
	at  int
	// value says that a key's value has begun in plain characters; start is where.
	value bool
	start int
}

func (s *scan) column() int { return s.m.columnOf(s.n, len(s.out)+1) }

// columnOf gives the column as written of one in the mended line.
func (m *mender) columnOf(line, col int) int {
	for _, sh := range m.shifts[line] {
		if sh.column < col {
			col -= sh.by
		}
	}
	return max(col, 1)
}

func (s *scan) run() string {
	fresh := true // a key or an entry may start here
	if s.m.depth == 0 && s.m.quote == 0 {
		s.marks()
	}
	for s.at < len(s.in) {
		c := s.in[s.at]
		if s.m.quote != 0 {
			s.quoted(c)
			continue
		}
		switch {
		case c == '#' && s.behindBlank():
			s.out = append(s.out, s.in[s.at:]...)
			return string(s.out)
		case (c == '"' || c == '\'') && fresh:
			s.m.quote, fresh = byte(c), false
			s.put()
		case (c == '{' || c == '[') && fresh:
			s.m.depth++
			s.put()
			s.value = false
		case (c == '}' || c == ']' || c == ',') && s.m.depth > 0:
			s.end(c)
			fresh = c == ','
		case c == ' ':
			s.put()
		case fresh && s.m.depth > 0 && s.thousands():
			fresh = false
		case fresh && !s.value && s.keyHere():
			fresh = true
		case c == ':' && s.value && (s.at+1 == len(s.in) || s.in[s.at+1] == ' '):
			s.colon()
			fresh = false
		default:
			fresh = false
			s.put()
		}
	}
	return string(s.out)
}

// behindBlank reports whether the scan is at the start of the line or behind a blank.
func (s *scan) behindBlank() bool {
	if len(s.out) == 0 {
		return true
	}
	before := s.out[len(s.out)-1]
	return before == ' ' || before == '\t'
}

// end takes what ends a value between brackets: a comma, or the bracket that closes.
func (s *scan) end(c rune) {
	if c != ',' {
		s.m.depth--
	}
	s.put()
	s.value = false
}

// look is how far a scan looks ahead, so that a long line takes no long time.
const look = 100

// ahead gives the characters from a place on.
func (s *scan) ahead(from int) string { return string(s.in[from:min(len(s.in), from+look)]) }

// marks passes over the indent and the marks of list entries.
func (s *scan) marks() {
	for {
		for s.at < len(s.in) && s.in[s.at] == ' ' {
			s.put()
		}
		if s.at+1 >= len(s.in) || s.in[s.at] != '-' || s.in[s.at+1] != ' ' {
			return
		}
		s.put()
	}
}

func (s *scan) put() {
	s.out = append(s.out, s.in[s.at])
	s.at++
}

// quoted passes over a character between quotes.
func (s *scan) quoted(c rune) {
	twice := c == '\'' && s.m.quote == '\'' && s.at+1 < len(s.in) && s.in[s.at+1] == '\''
	if twice || c == '\\' && s.m.quote == '"' && s.at+1 < len(s.in) {
		s.put()
	} else if byte(c) == s.m.quote && c < 0x80 {
		s.m.quote = 0
	}
	s.put()
}

// keyAhead gives the place behind a key of letters, blanks and underscores and its
// colon, or where the scan is if there is none.
func (s *scan) keyAhead() int {
	for i, c := range s.in[s.at:min(len(s.in), s.at+look)] {
		switch {
		case c == '_' || c|0x20 >= 'a' && c|0x20 <= 'z' || c == ' ' && i > 0:
		case c == ':' && i > 0:
			return s.at + i + 1
		default:
			return s.at
		}
	}
	return s.at
}

// keyHere takes a key with its colon, and puts a blank behind it where that is
// missing.
func (s *scan) keyHere() bool {
	next := s.keyAhead()
	if next == s.at {
		return false
	}
	key := s.in[s.at:next]
	spaced := next == len(s.in) || s.in[next] == ' '
	empty := !spaced && s.m.depth > 0 && strings.ContainsRune(",}]", s.in[next])
	word := ""
	if !spaced {
		if word = string(key[:len(key)-1]); s.m.key == nil || !s.m.key(word) {
			return false
		}
	}
	start := s.column()
	s.out = append(s.out, key...)
	s.at = next
	if empty {
		s.m.shifts[s.n] = append(s.m.shifts[s.n], shift{len(s.out), 1})
		s.out = append(s.out, ' ')
	} else if !spaced {
		value := s.ahead(next)
		if end := strings.IndexAny(value, ",}]#"); s.m.depth > 0 && end > 0 {
			value = value[:end]
		}
		s.m.tell(s.n, start, CodeSyntax, ErrSyntax, "no space after the colon; write %s: %s", word, Clip(strings.TrimSpace(value)))
		s.m.shifts[s.n] = append(s.m.shifts[s.n], shift{len(s.out), 1})
		s.out = append(s.out, ' ')
	}
	s.value, s.start = true, len(s.out)
	return true
}

// commaAhead reports a comma behind a sign and three digits at most, as only few
// values have it.
func (s *scan) commaAhead() bool {
	for i, c := range s.in[s.at:min(len(s.in), s.at+len("-123,"))] {
		switch {
		case c == ',':
			return i > 0
		case (c < '0' || c > '9') && (i > 0 || c != '-' && c != '+'):
			return false
		}
	}
	return false
}

// thousands takes a number with a thousands comma between brackets.
func (s *scan) thousands() bool {
	if !s.commaAhead() {
		return false
	}
	rest := s.ahead(s.at)
	match := thousands().FindStringSubmatch(rest)
	if match == nil {
		return false
	}
	number := strings.TrimSuffix(match[0], match[3])
	unit := strings.FieldsFunc(strings.TrimLeft(rest[len(number):], " "), func(r rune) bool { return strings.ContainsRune(" ,}]", r) })
	text := number
	if len(unit) > 0 {
		text += " " + unit[0]
	}
	s.m.tell(s.n, s.column(), CodeForbidden, ErrForbidden, "%q: a comma inside { } starts a new entry; write %s, or %q in quotes", text, strings.ReplaceAll(text, ",", ""), text)
	s.m.marked = true
	for _, r := range number {
		if r == ',' {
			r = commaMark
		}
		s.out = append(s.out, r)
	}
	s.at += len(number)
	return true
}

// colon takes a colon inside a text.
func (s *scan) colon() {
	text := strings.TrimSpace(string(s.out[s.start:min(len(s.out), s.start+look)]) + s.ahead(s.at))
	if s.m.depth > 0 {
		if end := strings.IndexAny(text, ",}]"); end >= 0 {
			text = text[:end]
		}
	}
	s.m.tell(s.n, s.column(), CodeSyntax, ErrSyntax, "a colon inside a text; put the text in quotes: %q", Clip(unmark(text)))
	s.m.marked = true
	s.out = append(s.out, colonMark)
	s.at++
}

// plainly says an error of the library in words for who wrote the file.
func plainly(text string) string {
	for _, t := range [...]struct{ has, says string }{
		{"did not find expected key in the block", "this line does not fit to those above it: look at its indent, and at quotes and colons"},
		{"did not find expected '-' indicator", "this line does not fit to the list above it: look at its indent, and at its -"},
		{"mapping values are not allowed", "a colon where none can be: look at the end of the line above, and at the indent"},
		{"could not find expected ':'", "a line without a colon: want a key, a colon, a space and a value"},
		{"found character that cannot start any token", "a character that cannot start a text; put the text in quotes"},
		{"did not find expected ',' or", "no bracket that closes the one opened here, or a comma is missing between its entries"},
		{"did not find expected node content", "nothing where an entry should be: look for two commas, or a comma without an entry"},
		{"block sequence entries are not allowed", "a - where no list can start: put it on a line of its own, below its key"},
		{"found unknown escape character", "a backslash in a text with double quotes; use single quotes"},
	} {
		if strings.HasPrefix(text, t.has) {
			return t.says
		}
	}
	return text
}

package dotcode

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"axleend.example/internal/word"
)

// Form is one of the shapes a number can have.
type Form uint8

// The forms. Lengths count symbols without DOT, R, separators and triangle.
const (
	// ThirteenSymbol is the form of new tires since 13 April 2015: 3 plant, 6 maker's, 4 date (80 FR 19553).
	ThirteenSymbol Form = iota + 1
	// Older is the form before: 2 plant, maker's symbols, 3 or 4 date, 7 to 12 symbols in all (49 CFR 574.5(g)). Plants
	// and retreaders could keep it until 13 April 2025 (574.5(a)(5)).
	Older
	// Retread is a retreader's number: since 2015 3 plant and 4 date (49 CFR 574.5(b)); other lengths only with the mark.
	Retread
	// Partial is a part of a number: the short number on a side that carries no date, or what could be read of a longer one.
	Partial
	// DateOnly is the three or four digits of the date alone.
	DateOnly
)

var formNames = word.List[Form]{Kind: "form", Words: []string{ThirteenSymbol: "thirteen_symbol", Older: "older", Retread: "retread", Partial: "partial", DateOnly: "date_only"}, Unknown: ErrWord}

// String gives the form in plain words, or "not known".
func (f Form) String() string { return strings.ReplaceAll(formNames.String(f), "_", " ") }

// AppendText appends "thirteen_symbol", "older", "retread", "partial" or "date_only", and nothing for the zero Form; any other value is an
// error that matches [ErrWord].
func (f Form) AppendText(dst []byte) ([]byte, error) { return formNames.Append(dst, f) }

// MarshalText gives what [Form.AppendText] appends.
func (f Form) MarshalText() ([]byte, error) { return formNames.Text(f) }

// UnmarshalText reads what [Form.MarshalText] writes; any other text gives an error that matches [ErrWord].
func (f *Form) UnmarshalText(text []byte) error { return formNames.Read(f, text) }

// Marks are what stands on the sidewall beside the number.
type Marks struct {
	// Triangle is the decade mark after the date. It was voluntary for 1990 to 1999: its presence suggests the 1990s, its
	// absence proves nothing (NHTSA letter 12375wkm, 1996; common practice).
	Triangle bool `json:"triangle,omitzero"`
	// Retread is R or DOT-R.
	Retread bool `json:"retread,omitzero"`
}

// Number is what was read on a sidewall. It is a small comparable value; the zero Number is nothing read.
type Number struct {
	text     string
	marks    Marks
	count    uint8 // symbols without marks
	digits   uint8 // of the date: 0, 3 or 4
	tail     uint8 // symbols that hold the date, readable or not
	date     [4]uint8
	isolated bool  // the date stands apart, so the symbol before it is no part of it
	forms    uint8 // bit set of Form
}

// Groups are the parts of a number under one of its forms. A part is empty when the form has none or it cannot be told.
type Groups struct {
	Form  Form   `json:"form"`           // under which these are the parts
	Plant string `json:"plant,omitzero"` // the plant code
	Maker string `json:"maker,omitzero"` // size and descriptive symbols, not split further: older lengths varied
	Date  string `json:"date,omitzero"`  // the symbols of the date
}

// Note points at a symbol that is odd but hides no date, or at a problem in a [Report].
type Note struct {
	Code       string `json:"code"`                // never_used, no_symbol, perhaps_digit, perhaps_partial, no_week; in a Report also the problems
	Index      int    `json:"index"`               // byte offset into the text as read, or -1
	Position   int    `json:"position,omitzero"`   // the symbol's place in the number, from 1
	Symbol     string `json:"symbol,omitzero"`     // as read
	Suggestion string `json:"suggestion,omitzero"` // the likely misreading
	Text       string `json:"text"`                // the note in words
}

// Parse reads what is on a sidewall: with or without DOT, in any case, with spaces, dashes, dots and line breaks, the
// whole number, a partial one, a retread's or only the date. A triangle after the date and a leading R or DOT-R are taken
// as [Marks].
//
// Errors are [*SymbolError]; several at once are joined. [ErrLength]: fewer than 3 or more than 13 symbols, or 5 to 9
// digits alone of which the last 3 or 4 do not stand apart. [ErrSymbol]: a
// symbol in the date is no digit, with the likely misreading. [ErrWeek]: week 00 or 54 and above. With an error the Number
// still carries the text, forms and groups, and after ErrWeek what other forms the date allows; its age may be unknown but
// never young. Letters that are never used are no error outside the date: see [Number.Notes].
func Parse(text string) (Number, error) { return ParseMarked(text, Marks{}) }

// ParseMarked is [Parse] for a caller who has recorded the marks apart from the number. Marks in the text count as well.
func ParseMarked(text string, marks Marks) (Number, error) {
	if len(text) == 4 && isDigit(text[0]) && isDigit(text[1]) && isDigit(text[2]) && isDigit(text[3]) && isWeek(text[0], text[1]) {
		// The commonest input needs no search for its date.
		return Number{text: text, marks: marks, count: 4, digits: 4, tail: 4, isolated: true, forms: 1 << DateOnly,
			date: [4]uint8{text[0] - '0', text[1] - '0', text[2] - '0', text[3] - '0'}}, nil
	}
	var s scan
	s.read(text)
	n := Number{text: text, marks: Marks{marks.Triangle || s.marks.Triangle, marks.Retread || s.marks.Retread}, count: uint8(s.count)}
	if s.count < 3 || s.count > maxSymbols {
		return n, s.lengthError(text)
	}
	d := s.findDate(n.marks.Retread)
	if !d.isolated && !n.marks.Retread && s.digitsAlone() {
		n.forms = 1 << Partial
		return n, s.lengthError(text)
	}
	n.digits, n.tail, n.isolated = uint8(d.digits), uint8(d.tail()), d.isolated
	for i, c := range s.symbol[s.count-d.digits : s.count] {
		n.date[i] = c - '0'
	}
	n.forms = formsOf(s.count, d.tail(), n.marks.Retread)
	if d.misread > 0 || d.noWeek {
		return n, s.dateErrors(text, d)
	}
	return n, nil
}

// Text returns the text as read, unchanged.
func (n Number) Text() string { return n.text }

// Marks returns the marks read or given.
func (n Number) Marks() Marks { return n.marks }

// DateDigits returns 3 or 4, or 0 when the number carries no readable date. A run of digits at the end of an older number
// written without spaces counts as 4 when that makes a week.
func (n Number) DateDigits() int { return int(n.digits) }

// CanBe reports whether the number can have the form.
func (n Number) CanBe(form Form) bool { return n.forms>>form&1 != 0 }

// Forms returns every form the number can have: nine symbols may be a partial number or an older whole one.
func (n Number) Forms() []Form {
	var forms []Form
	for form := ThirteenSymbol; form <= DateOnly; form++ {
		if n.CanBe(form) {
			forms = append(forms, form)
		}
	}
	return forms
}

// Symbols returns the symbols in upper case without separators and marks, U+FFFD for a
// byte that is no UTF-8.
func (n Number) Symbols() string {
	var s scan
	s.read(n.text)
	var b strings.Builder
	for i := range min(s.count, maxSymbols) {
		b.WriteString(s.upper(n.text, i))
	}
	return b.String()
}

// Groups returns the parts of the number, once for each of its forms.
func (n Number) Groups() []Groups {
	var s scan
	s.read(n.text)
	part := func(from, to int) string {
		var b strings.Builder
		for i := from; i < to; i++ {
			b.WriteString(s.upper(n.text, i))
		}
		return b.String()
	}
	var groups []Groups
	for _, form := range n.Forms() {
		plant, end := 0, s.count-int(n.tail)
		switch form {
		case ThirteenSymbol:
			plant, end = 3, 9
		case Retread:
			plant = min(3, end)
		case Older:
			plant = 2
		case Partial:
			// Nine symbols are the first two groups of the thirteen; the digits they end in are no date then.
			if s.count == 9 {
				plant, end = 3, 9
			}
		}
		groups = append(groups, Groups{form, part(0, plant), part(plant, end), part(end, s.count)})
	}
	return groups
}

// Notes returns what is odd about the number without hiding its date: letters that are never used (G I O Q S Z: 49 CFR
// 574.5(f)) and other strange symbols outside the date, a letter that may be a digit of a date, trailing digits
// that are no week, and digits that are no date if so short a number is a partial one.
func (n Number) Notes() []Note {
	if n.forms == 0 {
		return nil
	}
	var s scan
	s.read(n.text)
	d := s.findDate(n.marks.Retread)
	var notes []Note
	for i := range s.count {
		note := s.note(n.text, i)
		switch {
		case d.misread>>i&1 != 0 || i >= s.count-d.digits:
			continue // in the date: an error, or a digit
		case d.perhaps>>i&1 != 0:
			note.Code = "perhaps_digit"
			note.Text = word.Quote(note.Symbol) + " may be a misread " + note.Suggestion + ": if this is the date, read it again"
		case neverUsed(s.symbol[i]):
			note.Code = "never_used"
			note.Text = "the letter " + note.Symbol + " is never used in a number; likely a misread " + note.Suggestion
		case !isSymbol(s.symbol[i]):
			note.Code = "no_symbol"
			note.Text = word.Quote(note.Symbol) + " is no letter or digit"
		default:
			continue
		}
		notes = append(notes, note)
	}
	if n.digits > 0 && n.CanBe(Partial) {
		note := s.note(n.text, s.count-d.digits)
		note.Code, note.Symbol, note.Suggestion = "perhaps_partial", n.text[note.Index:s.end], ""
		note.Text = "in so few symbols the last digits are no date if this is the side without one; read the other side"
		notes = append(notes, note)
	}
	if d.ignored > 0 {
		note := s.note(n.text, s.count-d.ignored)
		note.Code, note.Symbol, note.Suggestion = "no_week", n.text[note.Index:s.end], ""
		note.Text = "the last digits are no week and year, so this can only be a partial number; if it is whole, read them again"
		notes = append(notes, note)
	}
	return notes
}

// formsOf returns the set of forms for a count of symbols of which the last ones, 0, 3 or 4, hold the date.
func formsOf(count, date int, retread bool) uint8 {
	var forms uint8
	can := func(form Form, is bool) {
		if is {
			forms |= 1 << form
		}
	}
	whole := count >= 7 && date != 0
	can(DateOnly, count == date)
	can(ThirteenSymbol, count == maxSymbols)
	can(Retread, whole && retread || count == 7 && date == 4)
	can(Older, whole && !retread && count < maxSymbols)
	can(Partial, count != date && count <= 9 && !(whole && retread))
	return forms
}

const (
	maxSymbols = 13
	// maxText bounds the text looked at: a sidewall carries no more.
	maxText = 255
)

// scan is the text taken apart: its symbols in order, without separators and marks.
type scan struct {
	symbol [maxSymbols + 6]byte  // upper case; other for what is not ASCII
	offset [maxSymbols + 6]uint8 // into the text
	gap    uint32                // bit i: a separator stands before symbol i
	count  int                   // of symbols, also of those that found no room
	end    int                   // offset behind the last symbol
	marks  Marks
}

const other = 0xFF

func (s *scan) read(text string) {
	gap := false
	seen, end := 0, 0
	looked := text[:min(len(text), maxText)]
	for i := 0; i < len(looked); {
		if c := looked[i]; isSymbol(c) { // as nearly all of a number are
			s.put(seen, c, i, gap)
			seen, gap = seen+1, false
			i++
			end = i
			continue
		}
		c, size := rune(looked[i]), 1
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRuneInString(text[i:])
		}
		switch {
		case isSeparator(c):
			gap = true
		case isTriangle(c) && onlySeparators(text[i+size:]):
			s.marks.Triangle = true
			i = len(text)
		default:
			s.put(seen, upperASCII(c), i, gap)
			seen, gap = seen+1, false
			end = i + size
		}
		i += size
	}
	if len(text) > maxText {
		seen = len(s.symbol) + 1 // too long whatever it holds
	}
	s.count, s.end = seen, end
	s.dropMarks(text)
}

// put takes in symbol i, if it finds room.
func (s *scan) put(i int, c byte, at int, gap bool) {
	if i >= len(s.symbol) {
		return
	}
	s.symbol[i], s.offset[i] = c, uint8(at)
	if gap {
		s.gap |= 1 << i
	}
}

// dropMarks removes a leading DOT and a leading R that stands apart.
func (s *scan) dropMarks(text string) {
	from := 0
	if s.count >= 3 && s.symbol[0] == 'D' && s.symbol[1] == 'O' && s.symbol[2] == 'T' {
		from = 3
	}
	if from < s.count && s.symbol[from] == 'R' {
		// "DOT-R" is the mark as it is written, even when the seven symbols of a retread follow without a space.
		dashed := from == 3 && s.count == 11 && text[s.offset[from]-1] == '-'
		if s.gap>>(from+1)&1 != 0 || dashed {
			s.marks.Retread = true
			from++
		}
	}
	if from == 0 {
		return
	}
	copy(s.symbol[:], s.symbol[from:])
	copy(s.offset[:], s.offset[from:])
	s.gap >>= from
	s.count -= from
}

// finding is what the end of a number says about its date.
type finding struct {
	digits   int    // 0, 3 or 4
	isolated bool   // the date stands apart
	misread  uint32 // symbols in the date that are no digits
	perhaps  uint32 // good letters that would complete a date if they were digits
	ignored  int    // trailing digits that are no week, in what can be a partial number
	noWeek   bool   // the date names week 00, or 54 and above
	width    int    // of the date that has misread symbols
}

// tail counts the symbols that hold the date, readable or not.
func (d *finding) tail() int { return max(d.digits, d.width) }

func (s *scan) findDate(retread bool) finding {
	// In these lengths there must be a date; from five to nine symbols a number may be a partial one.
	mandatory := s.count <= 4 || s.count >= 10 || retread
	trailing := 0
	for trailing < 4 && trailing < s.count && isDigit(s.symbol[s.count-1-trailing]) {
		trailing++
	}
	last := s.lastToken()
	var d finding
	width := 0 // of a date whose place is known; 0 when the number runs into it
	switch {
	case s.count == maxSymbols, s.count == 4 && !(last == 3 && trailing == 3), retread && s.count == 7 && trailing == 4:
		width = 4
	case s.count == 3:
		width = 3
	case last == 3 || last == 4:
		width = last
	}
	d.isolated = width != 0
	switch {
	case width != 0 && trailing >= width:
		d.digits = width
	case width != 0:
		s.judgeMisread(&d, width, mandatory)
	case trailing == 4:
		d.digits = 4
	case trailing == 3 && !s.startsWeek(s.count-4):
		d.digits = 3
	default:
		// A never-used letter in front of three digits is likely a digit itself, so it belongs to the date.
		width = 3
		if c := s.symbol[s.count-4]; isDigit(c) || neverUsed(c) {
			width = 4
		}
		s.judgeMisread(&d, width, mandatory)
		if d.misread == 0 && width == 4 {
			s.judgeMisread(&d, 3, mandatory)
		}
	}
	s.checkWeek(&d, mandatory)
	return d
}

// startsWeek reports whether the symbol is a never-used letter that, as the digit it looks like, makes a week with the next.
func (s *scan) startsWeek(i int) bool {
	return neverUsed(s.symbol[i]) && isWeek(lookAlike(s.symbol[i]), s.symbol[i+1])
}

// lastToken counts the symbols behind the last separator.
func (s *scan) lastToken() int {
	for i := s.count - 1; i > 0; i-- {
		if s.gap>>i&1 != 0 {
			return s.count - i
		}
	}
	return s.count
}

// judgeMisread marks what is no digit in a window at the end. Where the number may have no date, the window is one only if
// at least two digits stand in it and the rest are letters no number uses.
func (s *scan) judgeMisread(d *finding, width int, mandatory bool) {
	var bad, perhaps uint32
	numerals, never := 0, 0
	for i := s.count - width; i < s.count; i++ {
		switch c := s.symbol[i]; {
		case isDigit(c):
			numerals++
			continue
		case neverUsed(c):
			never++
		case lookAlike(c) != 0:
			perhaps |= 1 << i
		}
		bad |= 1 << i
	}
	switch {
	case mandatory || numerals >= 2 && numerals+never == width:
		d.misread, d.width = bad, width
	case numerals >= 2 && bad == perhaps:
		d.perhaps = perhaps
	}
}

// checkWeek tests the week of the date that was found. No date is taken back where a whole number of this length must
// have one.
func (s *scan) checkWeek(d *finding, mandatory bool) {
	if d.digits == 0 || s.week(d.digits) {
		return
	}
	if d.digits == 4 && !d.isolated && s.week(3) {
		d.digits = 3 // four digits cannot be a date here, the last three can
		return
	}
	if !mandatory && !d.isolated {
		d.digits, d.ignored = 0, d.digits
		return
	}
	d.noWeek = true
}

func (s *scan) week(digits int) bool {
	i := s.count - digits
	return isWeek(s.symbol[i], s.symbol[i+1])
}

func (s *scan) lengthError(text string) error {
	e := &SymbolError{Text: text, Index: -1, Symbols: s.count, Err: ErrLength}
	if s.count > maxSymbols && len(text) <= maxText {
		note := s.note(text, maxSymbols)
		e.Index, e.Position, e.Symbol = note.Index, note.Position, note.Symbol
	}
	return e
}

func (s *scan) dateErrors(text string, d finding) error {
	if d.noWeek {
		at := s.note(text, s.count-d.digits)
		week := string(s.symbol[s.count-d.digits : s.count-d.digits+2])
		return &SymbolError{text, at.Index, at.Position, week, s.upsideDown(d.digits), s.count, ErrWeek}
	}
	var errs []error
	for i := range s.count {
		if d.misread>>i&1 != 0 {
			at := s.note(text, i)
			errs = append(errs, &SymbolError{text, at.Index, at.Position, at.Symbol, at.Suggestion, s.count, ErrSymbol})
		}
	}
	if len(errs) == 1 {
		return errs[0]
	}
	return errors.Join(errs...)
}

// upsideDown turns a date by half a turn, and returns it if it is made of digits that stay digits and is a week then.
func (s *scan) upsideDown(digits int) string {
	const turned = "01----9-86" // 2, 3, 4, 5 and 7 are no digits upside down
	var turn scan
	for i := range digits {
		c := turned[s.symbol[s.count-1-i]-'0']
		if !isDigit(c) {
			return ""
		}
		turn.symbol[i] = c
	}
	turn.count = digits
	if !turn.week(digits) {
		return ""
	}
	return string(turn.symbol[:digits])
}

// note starts a note at a symbol.
func (s *scan) note(text string, i int) Note {
	note := Note{Index: int(s.offset[i]), Position: i + 1, Symbol: s.at(text, i)}
	if digit := lookAlike(s.symbol[i]); digit != 0 {
		note.Suggestion = string(rune(digit))
	}
	return note
}

// at returns a symbol as read.
func (s *scan) at(text string, i int) string {
	_, size := utf8.DecodeRuneInString(text[s.offset[i]:])
	return text[s.offset[i] : int(s.offset[i])+size]
}

func (s *scan) upper(text string, i int) string {
	if s.symbol[i] == other {
		return strings.ToValidUTF8(s.at(text, i), "\uFFFD") // two broken bytes that meet could be a letter
	}
	return string(rune(s.symbol[i]))
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func isSymbol(c byte) bool { return isDigit(c) || 'A' <= c && c <= 'Z' }

func upperASCII(c rune) byte {
	switch {
	case 'a' <= c && c <= 'z':
		return byte(c - 'a' + 'A')
	case c < utf8.RuneSelf:
		return byte(c)
	}
	return other
}

// neverUsed reports whether no number has this letter (49 CFR 574.5(f)).
func neverUsed(c byte) bool {
	switch c {
	case 'G', 'I', 'O', 'Q', 'S', 'Z':
		return true
	}
	return false
}

// lookAlike returns the digit a symbol is likely misread for, or 0.
func lookAlike(c byte) byte {
	switch c {
	case 'O', 'Q', 'D':
		return '0'
	case 'I', 'L', '|':
		return '1'
	case 'Z':
		return '2'
	case 'S':
		return '5'
	case 'G':
		return '6'
	case 'B':
		return '8'
	}
	return 0
}

func isSeparator(c rune) bool {
	return c <= ' ' || c == '-' || c == '.' || c >= utf8.RuneSelf && isForeignSeparator(c)
}

// isForeignSeparator is isSeparator for what is not ASCII.
func isForeignSeparator(c rune) bool {
	switch c {
	case '\u00AD', '\u00B7', '\u2022', '\u2212', '\u200B', '\uFEFF': // soft hyphen, dots, minus, zero-width
		return true
	}
	return unicode.IsSpace(c) || unicode.Is(unicode.Pd, c)
}

func isTriangle(c rune) bool {
	switch c {
	case '\u0394', '\u2206': // Greek delta and the increment sign look the same
		return true
	}
	return c >= '\u25B2' && c <= '\u25C5'
}

func onlySeparators(text string) bool {
	for _, c := range text {
		if !isSeparator(c) {
			return false
		}
	}
	return true
}

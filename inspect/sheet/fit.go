package sheet

// What fits on the first page is estimated here, since nothing else can know
// it before the page is printed: lengths are in tenths of a millimeter, text
// is measured in thousandths of its size. A paper's Letter width and A4 height
// do not both count: the page fits the smaller of the two each way.
const (
	pageWidth  = 1920 // A4 is 210 mm wide, less margins of 8 mm and a little to spare
	pageHeight = 2618 // Letter is 279.4 mm high
	halfWidth  = 935  // of two columns with their gap
	cardsWidth = 640  // the pressures to set, left of the drawing
	planWidth  = 1240
	planMost   = 1000 // the greatest height of the drawing
)

// boldPercent is how wide bold text is beside plain text.
const boldPercent = 108

// oddWidths are the widths of the narrow and of the wide characters in the
// sans-serif faces that browsers have, 5 % over those of the most common one.
var oddWidths = [0x80]uint16{
	' ': 286, 'i': 230, 'j': 230, 'l': 230, 't': 286, 'f': 286, 'r': 342, 'I': 292, '.': 292, ',': 292, ':': 292, ';': 292,
	'\'': 200, '|': 273, '!': 292, '/': 292, '(': 350, ')': 350, '-': 350, 'm': 875, 'w': 758, 'M': 875, 'W': 991, '@': 1066, '%': 934, '+': 613,
}

func runeWidth(r rune) int {
	switch {
	case r < 0x80 && oddWidths[r] > 0:
		return int(oddWidths[r])
	case r >= 'A' && r <= 'Z':
		return 700
	case r < 0x80:
		return 578
	case r < 0x1100:
		return 700
	}
	return 1000
}

func textWidth(s string) int {
	n := 0
	for _, r := range s {
		n += runeWidth(r)
	}
	return n
}

// roomOf is how much text of a size, in tenths of a point of 0.3528 mm, a width
// holds; an int may have 32 bits.
func roomOf(width, size int) int { return int(int64(width) * 10_000_000 / int64(size*3528)) }

// linesOf is how many lines a text takes in a column that wide at a size in
// tenths of a point; a word that is wider than the column is broken.
func linesOf(s string, width, size int) int {
	room := roomOf(width, size)
	lines, used, word := 1, 0, 0
	for _, r := range s {
		w := runeWidth(r)
		if r == ' ' {
			used += word + w
			word = 0
			continue
		}
		if word += w; used+word <= room {
			continue
		}
		lines++
		if used = 0; word > room { // one word longer than a line
			word = w
		}
	}
	return lines
}

// A density is how tightly the front is set in print.
type density struct {
	class literal
	size  int // of body text, in tenths of a point
	row   int // the least height of a row of the tire tables
}

// The densities, the easiest to read first; the last two only where 9 points do not
// hold every title. style.go has the same sizes.
var densities = [...]density{{"roomy", 100, 62}, {"dense", 90, 54}, {"tight", 80, 47}, {"least", 70, 40}}

// line is the height of a line of body text.
func (d density) line() int { return d.size * 3528 / 10_000 * 123 / 100 }

// heading is the height of a section's heading.
func (d density) heading() int { return d.line()*115/100 + 33 }

// paragraph is the height of a list entry.
func (d density) paragraph(text string, width int) int {
	return linesOf(text, width, d.size)*d.line() + d.size*3528/10_000*30/100
}

func (d density) list(items []string, width int) int {
	h := 0
	for _, s := range items {
		h += d.paragraph(s, width)
	}
	return h
}

// listWidth is what a list entry's bar and gap leave of a column.
const listWidth = halfWidth - 25

// fit chooses how tightly the front is set, and what of the entries stands on it
// whole. What does not fit stands there with its title, and whole on the back; then
// the tires go to the back, before type gets smaller than 9 points. What fits on no
// side runs over, and says so.
func (p *htmlPage) fit() {
	now, before, later := p.now, p.before, p.later
	for _, try := range [...]struct {
		density      int
		now, before  bool // shortened to titles
		later, moved bool // shortened; moved to the back
		tires        bool // moved to the back
	}{
		{}, {later: true}, {before: true, later: true},
		{density: 1, later: true}, {density: 1, before: true, later: true}, {now: true, before: true, later: true},
		{density: 1, now: true, before: true, later: true}, {density: 1, before: true, later: true, moved: true},
		{density: 1, now: true, before: true, later: true, moved: true},
		{density: 1, before: true, later: true, moved: true, tires: true},
		{density: 1, now: true, before: true, later: true, moved: true, tires: true},
		{density: 2, now: true, before: true, later: true, moved: true, tires: true},
		{density: 3, now: true, before: true, later: true, moved: true, tires: true},
	} {
		p.density, p.laterOver, p.tiresOver = densities[try.density], try.moved && len(later) > 0, try.tires
		p.now, p.before, p.later, p.rest = now, before, later, nil
		if try.now {
			p.now, p.rest = p.short(now), append(p.rest, now...)
		}
		if try.before {
			p.before, p.rest = p.short(before), append(p.rest, before...)
		}
		if try.later || try.moved {
			p.later, p.rest = p.short(later), append(p.rest, later...)
		}
		if p.runsOver = !p.fits(); !p.runsOver {
			return
		}
	}
}

// fits estimates whether the front fits.
func (p *htmlPage) fits() bool {
	d := p.density
	before := d.list(texts(p.before), listWidth)
	lists := max(before, d.list(texts(p.later), listWidth)+d.list(p.ages, listWidth))
	if p.laterOver { // before stands in both columns, and one line says where later is
		lists = before/2 + 5*d.line()/2 // columns are uneven by half an entry at most
	}
	return p.fixed()+d.list(texts(p.now), pageWidth-25)+max(lists, d.line()) <= pageHeight
}

func texts(list []entry) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = list[i].text()
	}
	return out
}

func lastOf(list []string, n int) []string { return list[max(0, len(list)-n):] }

// fixed is the height of everything on the first page but its lists.
func (p *htmlPage) fixed() int {
	sum := 0
	for _, h := range p.parts() {
		sum += h
	}
	return sum
}

// longName reports a coach's name that would take several lines as a heading;
// it is set smaller.
func (p *htmlPage) longName() bool { return linesOf(p.coach(), pageWidth, 160*boldPercent/100) > 1 }

// parts are the heights from the top: head, verdict, heading of what to do
// now, pressures and drawing, heading of the lists, tires, and the foot.
func (p *htmlPage) parts() [7]int {
	d := p.density
	facts := 0
	for _, f := range p.facts {
		facts += textWidth(f[0]) + textWidth(f[1]) + 2600
	}
	var h [7]int
	h[0] = linesOf(p.coach()+sheetKind+sheetInvented, pageWidth-100, 160*boldPercent/100) * 68
	h[0] += d.line() * (1 + facts/roomOf(pageWidth, d.size))
	h[1] = linesOf(p.answer, pageWidth-100, 150*boldPercent/100)*62 + 40 // the verdict in its frame
	for _, line := range p.answerLines() {
		h[1] += linesOf(line, pageWidth-100, d.size*11/10*boldPercent/100) * d.line() * 11 / 10
	}
	if len(p.now) > 0 {
		h[2] = d.heading()
	}
	cards := 0
	for _, c := range p.cards {
		beside := linesOf(c.axle, cardsWidth/2, d.size*120/100) * d.line()
		for _, n := range c.notes {
			beside += linesOf(n, cardsWidth/2-10, d.size) * d.line()
		}
		if c.number == "" {
			beside = max(beside, linesOf(c.unit, cardsWidth*6/10, 130)*52)
		}
		cards += max(beside, p.cardRow()) + 23
		for _, line := range c.noAir {
			cards += linesOf(line, cardsWidth-40, d.size*boldPercent/100)*d.line() + 20
		}
	}
	h[3] = d.heading() + max(cards, min(planHeight(p.axles)*planWidth/planUnits, planMost))
	h[4] = d.heading() // before and later
	rows := func(list []tireRow) int {
		sum := 0
		for _, r := range list {
			lines := linesOf(r.at, 256, d.size*boldPercent/100)
			if r.mark != "" {
				lines += linesOf(r.mark, 256, d.size*boldPercent/100)
			}
			sum += max(d.row, max(lines, linesOf(r.number, 250, d.size), linesOf(r.found, 136, d.size))*d.line()+9)
		}
		return sum
	}
	if !p.tiresOver {
		h[5] = d.heading() + 2*d.line() + 25 + max(rows(p.left), rows(p.right))
	}
	h[6] = d.line() // where to read on
	return h
}

package sheet

import "slices"

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

// A density is how tightly the first page is set.
type density struct {
	class literal
	size  int // of body text, in tenths of a point
	row   int // the least height of a row of the tire tables
	plan  int // the greatest height of the drawing
}

// The densities, the easiest to read first. style.go has the same sizes.
var densities = [...]density{{"roomy", 94, 62, 1000}, {"dense", 84, 54, 850}, {"tight", 75, 47, 700}, {"least", 67, 40, 620}}

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

// upTo is how many of the items fit into a height, with a line to spare that
// says how many more there are if not all do.
func (d density) upTo(items []string, width, height int) int {
	if d.list(items, width) <= height {
		return len(items)
	}
	height -= d.line()
	for i, s := range items {
		if height -= d.paragraph(s, width); height < 0 {
			return i
		}
	}
	return len(items)
}

// listWidth is what a list entry's bar and gap leave of a column.
const listWidth = halfWidth - 25

// fit chooses how tightly the first page is set and how much of each list
// stands on it. What stops the coach always does.
func (p *htmlPage) fit() {
	var before, later []string
	var rest, upper, lower int
	measure := func(cautions int) bool {
		d := p.density
		before, later = texts(p.before), texts(p.later)
		rest = pageHeight - p.fixed() - d.list(texts(p.now), pageWidth-25)
		upper = max(d.list(before, listWidth), d.list(later, listWidth)+d.list(p.ages.lines, listWidth))
		// The least that the lower lists get.
		lower = max(d.list(p.unjudged.lines[:min(2, len(p.unjudged.lines))], listWidth), d.list(lastOf(p.cautions.lines, cautions), listWidth)) + d.line()
		return upper+lower <= rest
	}
	// Larger type comes before advice for later, which the details give; what
	// to do before the trip is cut down last.
	fits := false
	full := p.later
	for _, try := range [...]struct {
		density, cautions int
		short             bool
	}{{0, 2, false}, {1, 2, false}, {1, 2, true}, {2, 2, false}, {2, 2, true}} {
		p.density, p.later = densities[try.density], full
		if try.short {
			p.later = p.short(full)
		}
		if fits = measure(try.cautions); fits {
			break
		}
	}
	if !fits {
		p.before = p.short(p.before)
		p.ages.keep(min(2, len(p.ages.lines)))
		for _, p.density = range densities[2:] {
			if measure(1) || rest-lower > 4*p.density.line() {
				break // enough of the lists is left to be worth the larger type
			}
		}
		if upper+lower > rest {
			upper = max(rest-lower, rest/2)
			p.ages.keep(p.density.upTo(p.ages.lines, listWidth, upper-2*p.density.line()))
		}
	}
	lower = rest - upper
	d := p.density
	if all := texts(full); d.list(all, listWidth)+d.list(p.ages.lines, listWidth) <= upper {
		p.later, later = full, all // the column beside it is as high
	}
	n := d.upTo(before, listWidth, upper)
	p.before, p.beforeMore = p.before[:n], len(before)-n
	n = d.upTo(later, listWidth, upper-d.list(p.ages.lines, listWidth))
	p.later, p.laterMore = p.later[:n], len(later)-n
	p.unjudged.keep(d.upTo(p.unjudged.lines, listWidth, lower))
	// The last cautions are the general ones, which every page needs.
	back := slices.Clone(p.cautions.lines)
	slices.Reverse(back)
	n = max(d.upTo(back, listWidth, lower), min(1, len(back)))
	p.cautions.lines, p.cautions.more = lastOf(p.cautions.lines, n), len(back)-n
}

// keep cuts a list to its first n lines.
func (l *lineList) keep(n int) { l.lines, l.more = l.lines[:n], l.more+len(l.lines)-n }

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
// now, pressures and drawing, headings of the lists, tires, and the foot.
func (p *htmlPage) parts() [7]int {
	d := p.density
	facts := 0
	for _, f := range p.facts {
		facts += textWidth(f[0]) + textWidth(f[1]) + 2600
	}
	var h [7]int
	h[0] = linesOf(p.coach()+" Tire sheet, INVENTED", pageWidth-100, 160*boldPercent/100) * 68
	h[0] += d.line() * (1 + facts/roomOf(pageWidth, d.size))
	h[1] = 118 // the verdict in its frame
	if textWidth(p.verdict())*170+45*580*d.size+textWidth(p.notJudged())*130 > (pageWidth-150)*10_000_000/3528 {
		h[1] += 60
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
		if c.noAir != "" {
			cards += linesOf(noAirWords+c.noAir, cardsWidth-40, d.size*boldPercent/100)*d.line() + 20
		}
	}
	h[3] = d.heading() + max(cards, min(planHeight(p.axles)*planWidth/planUnits, d.plan))
	h[4] = d.heading() * 2 // before and later, unjudged and cautions
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
	h[5] = d.heading() + 2*d.line() + 25 + max(rows(p.left), rows(p.right))
	h[6] = 20 + linesOf(wheelOff, halfWidth, d.size)*d.line() + 110 // torque and signature
	return h
}

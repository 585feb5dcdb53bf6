package sheet

import (
	"strconv"
	"strings"
	"sync"
)

// A literal is markup of our own. Only constants become one by themselves, so
// the compiler refuses whatever came out of a report: that goes through
// [markup.text].
type literal string

// markup writes HTML and SVG.
type markup struct{ b []byte }

func (m *markup) lit(parts ...literal) *markup {
	for _, s := range parts {
		m.b = append(m.b, s...)
	}
	return m
}

func (m *markup) num(n int) *markup {
	m.b = strconv.AppendInt(m.b, int64(n), 10)
	return m
}

// escapes are those of html.EscapeString, whose package brings a table of all
// entities: 50 kB more for a browser to fetch.
var escapes = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("&", "&amp;", "'", "&#39;", "<", "&lt;", ">", "&gt;", `"`, "&#34;")
})

// text writes text that may be anything, escaped for an element's content or
// a quoted attribute.
func (m *markup) text(s string) *markup {
	m.b = append(m.b, escapes().Replace(plain(s))...)
	return m
}

// element writes an element that holds text alone.
func (m *markup) element(open literal, text string, end literal) *markup {
	return m.lit(open).text(text).lit(end)
}

// list writes an unordered list of lines, nothing for none.
func (m *markup) list(lines []string) *markup {
	if len(lines) == 0 {
		return m
	}
	m.lit(`<ul class="list">`)
	for _, s := range lines {
		m.element("<li>", s, "</li>\n")
	}
	return m.lit("</ul>\n")
}

// shortCell is how long a cell may be that is kept on one line: a size or a load
// broken in its middle is misread.
const shortCell = 15

// row writes a table row, its first cell a heading unless it is empty.
func (m *markup) row(cells ...string) {
	m.lit("<tr>")
	for i, s := range cells {
		switch {
		case i == 0 && s != "":
			m.element(`<th scope="row">`, s, "</th>")
		case len(s) <= shortCell:
			m.element(`<td class="short">`, s, "</td>")
		default:
			m.element("<td>", s, "</td>")
		}
	}
	m.lit("</tr>\n")
}

// head begins a table and its body.
func (m *markup) head(class literal, cells ...string) {
	m.lit(`<div class="scroll"><table class="`, class, `"><thead><tr>`)
	for _, s := range cells {
		if strings.Contains(s, " ") {
			m.element(`<th scope="col">`, s, "</th>")
		} else {
			m.element(`<th scope="col" class="short">`, s, "</th>")
		}
	}
	m.lit("</tr></thead>\n<tbody>\n")
}

// tail ends what head began.
func (m *markup) tail() *markup { return m.lit("</tbody></table></div>\n") }

// beginDrawing opens an SVG drawing of that many units, with the text that
// stands for it where it cannot be seen. number makes its ids unique.
func (m *markup) beginDrawing(number int, title, description string, width, height int) {
	m.lit(`<svg class="drawing" role="img" aria-labelledby="t`).num(number).lit(` d`).num(number).lit(`" viewBox="0 0 `)
	m.num(width).lit(` `).num(height).lit(`" xmlns="http://www.w3.org/2000/svg"><title id="t`).num(number).lit(`">`)
	m.text(title).lit(`</title><desc id="d`).num(number).lit(`">`).text(description).lit(`</desc>`)
}

func (m *markup) endDrawing() { m.lit("</svg>\n") }

func (m *markup) rect(class literal, x, y, w, h, round int) {
	m.lit(`<rect class="`, class, `" x="`).num(x).lit(`" y="`).num(y).lit(`" width="`).num(w).lit(`" height="`).num(h)
	m.lit(`" rx="`).num(round).lit(`"/>`)
}

func (m *markup) line(class literal, x1, y1, x2, y2 int) *markup {
	m.lit(`<line class="`, class, `" x1="`).num(x1).lit(`" y1="`).num(y1).lit(`" x2="`).num(x2).lit(`" y2="`).num(y2)
	return m.lit(`"/>`)
}

func (m *markup) circle(class literal, x, y, r int) {
	m.lit(`<circle class="`, class, `" cx="`).num(x).lit(`" cy="`).num(y).lit(`" r="`).num(r).lit(`"/>`)
}

// Where on a label its position lies.
const (
	atStart  literal = "start"
	atMiddle literal = "middle"
	atEnd    literal = "end"
)

// label writes a line of text into a drawing. What would be wider than the
// room is squeezed into it: it never runs into its neighbor.
func (m *markup) label(class literal, x, y, size, room int, at literal, s string) {
	m.lit(`<text class="`, class, `" x="`).num(x).lit(`" y="`).num(y).lit(`" font-size="`).num(size)
	m.lit(`" text-anchor="`, at, `"`)
	percent := 100
	if class == "strong" {
		percent = boldPercent
	}
	if textWidth(s)*size*percent/100 > room*1000 {
		m.lit(` textLength="`).num(room).lit(`" lengthAdjust="spacingAndGlyphs"`)
	}
	m.lit(`>`).text(s).lit(`</text>`)
}

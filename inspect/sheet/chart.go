package sheet

import (
	"slices"
	"time"

	"axleend.example/dotcode"
)

// A chart shows values at several visits, their plus/minus, and a limit. Values
// are counts of whatever the chart is of; the labels say them in words.
type chart struct {
	title, words string // for whoever cannot see it
	width        int    // in units of the drawing
	from, to     dotcode.Date
	lines        [][]chartPoint // one or two; the second is dashed
	bars         bool           // from zero, and not joined
	limit        int64
	limitLabel   string // "" where there is no limit
}

type chartPoint struct {
	on               dotcode.Date
	value, plusMinus int64
	label            string
}

// The measures of every chart, in units of the drawing; labels stand left and
// right of the plot.
const (
	chartHeight = 48
	chartMargin = 38
	chartSize   = 11
)

// A chartScale puts values and days into a chart.
type chartScale struct {
	low, step   int64
	first, days int
	width       int
}

func (c *chart) scale() chartScale {
	low, high := c.lines[0][0].value, c.lines[0][0].value
	for _, line := range c.lines {
		for _, k := range line {
			low, high = min(low, k.value-k.plusMinus), max(high, k.value+k.plusMinus)
		}
	}
	if c.limitLabel != "" {
		low, high = min(low, c.limit), max(high, c.limit)
	}
	if c.bars {
		low, high = min(low, 0), max(high, 0)
	}
	first := day(c.from)
	return chartScale{low, max((high-low)/(chartHeight-12), 1), first, max(day(c.to)-first, 1), c.width - 2*chartMargin - 12}
}

func (s *chartScale) y(v int64) int { return chartHeight - 6 - int((v-s.low)/s.step) }

func (s *chartScale) x(on dotcode.Date) int {
	return chartMargin + 6 + (day(on)-s.first)*s.width/s.days
}

// drawChart draws a chart: what the last points show at its right, the limit and
// what the first points show at its left where there is room.
func drawChart(m *markup, number int, c *chart) {
	s := c.scale()
	m.beginDrawing(number, c.title, c.words, c.width, chartHeight)
	m.line("axis", chartMargin, 2, chartMargin, chartHeight-2)
	if c.bars {
		m.line("axis", chartMargin, s.y(0), c.width-chartMargin, s.y(0))
	}
	left := labelColumn{low: 7, high: chartHeight - 8, apart: chartSize}
	right := left
	if c.limitLabel != "" {
		m.line("end dashed", chartMargin, s.y(c.limit), c.width-chartMargin, s.y(c.limit))
		left.put(s.y(c.limit), c.limitLabel)
	}
	for i, line := range c.lines {
		s.drawLine(m, line, c.bars, [...]literal{"trace", "trace second"}[i])
		right.put(s.y(line[len(line)-1].value), line[len(line)-1].label)
		if !c.bars && len(line) > 1 {
			left.put(s.y(line[0].value), line[0].label)
		}
	}
	for _, l := range left.placed() {
		m.label("", chartMargin-3, l.row+4, chartSize, chartMargin-4, atEnd, l.text)
	}
	for _, l := range right.placed() {
		m.label("strong", c.width-chartMargin+3, l.row+4, chartSize, chartMargin-4, atStart, l.text)
	}
	m.endDrawing()
}

func (s *chartScale) drawLine(m *markup, line []chartPoint, bars bool, class literal) {
	for i, k := range line {
		at, value := s.x(k.on), s.y(k.value)
		if low, high := s.y(k.value-k.plusMinus), s.y(k.value+k.plusMinus); k.plusMinus > 0 {
			m.line("doubt", at, low, at, high).line("doubt", at-3, low, at+3, low).line("doubt", at-3, high, at+3, high)
		}
		switch {
		case bars:
			m.rect("bar", at-3, min(value, s.y(0)), 6, max(value, s.y(0))-min(value, s.y(0)), 0)
			continue
		case i > 0:
			m.line(class, s.x(line[i-1].on), s.y(line[i-1].value), at, value)
		}
		m.circle("dot", at, value, 3)
	}
}

// A labelColumn holds the labels beside a chart, from a lowest to a highest row.
type labelColumn struct {
	low, high, apart int
	labels           []rowLabel
}

type rowLabel struct {
	row  int
	text string
}

func (c *labelColumn) put(row int, text string) { c.labels = append(c.labels, rowLabel{row, text}) }

// placed moves labels off each other and into the chart, in their order.
func (c *labelColumn) placed() []rowLabel {
	slices.SortStableFunc(c.labels, func(a, b rowLabel) int { return a.row - b.row })
	for i := range c.labels {
		c.labels[i].row = max(c.labels[i].row, c.low)
		if i > 0 {
			c.labels[i].row = max(c.labels[i].row, c.labels[i-1].row+c.apart)
		}
	}
	lowest := c.high
	for i := len(c.labels) - 1; i >= 0; i-- {
		c.labels[i].row = min(c.labels[i].row, lowest)
		lowest = c.labels[i].row - c.apart
	}
	return c.labels
}

// day counts days, for the distance between two dates.
func day(d dotcode.Date) int {
	return int(time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// The plan view's measures, in units of the drawing.
const (
	planUnits  = 700
	bodyLeft   = 206
	bodyRight  = planUnits - bodyLeft
	labelRoom  = bodyLeft - 16
	tireLength = 42
	carLength  = 34 // of a towed car's tire
	tireWidth  = 26
	tireStep   = tireWidth + 14
	noseRoom   = 84 // from the top to the first axle
	labelSize  = 18
)

// An axleView is one axle as the page shows it.
type axleView struct {
	line    *report.AxleLine
	setting *inflation.Setting // nil where none was worked out
	total   *report.LoadLine
	ends    [2]endView // left, right
}

// An endView is one axle end: what it carries, and what was said of it.
type endView struct {
	side  weight.Side
	load  *report.LoadLine
	tires []*report.TireLine // from the outside in
	worst rules.Verdict      // on its load
	lines []string           // in words, the load first
}

// collectAxles brings together what the report says of each axle.
func (p *htmlPage) collectAxles() []axleView {
	r := p.r
	out := make([]axleView, len(r.Axles))
	for i := range r.Axles {
		v := &out[i]
		v.line = &r.Axles[i]
		v.setting, v.total = r.Setting(v.line.ID), r.Load(v.line.ID)
		for k, side := range [...]weight.Side{weight.Left, weight.Right} {
			v.ends[k].side, v.ends[k].load = side, r.Load(record.EndName(v.line.ID, side))
		}
		for j := range r.Tires {
			if t := &r.Tires[j]; t.Axle == v.line.ID && t.Axle != "" {
				e := &v.ends[0]
				if t.Side == weight.Right {
					e = &v.ends[1]
				}
				if e.tires = append(e.tires, t); t.Place == record.Outer {
					slices.Reverse(e.tires)
				}
			}
		}
		for k := range v.ends {
			p.describe(&v.ends[k])
		}
	}
	return out
}

// seen reports whether anything was written down about an axle's tires: a towed
// car that nobody looked at stands in the drawing all the same.
func (v *axleView) seen() bool { return len(v.ends[0].tires)+len(v.ends[1].tires) > 0 }

// describe puts an end into words.
func (p *htmlPage) describe(e *endView) {
	p.describeLoad(e)
	var noAir, ask, stop []string
	for _, t := range e.tires {
		switch {
		case t.Air == report.AirForbidden:
			noAir = append(noAir, placeWord(t))
		case t.Air == report.AirNotKnown:
			ask = append(ask, placeWord(t))
		case p.stops[t.At]:
			stop = append(stop, placeWord(t))
		}
	}
	if len(noAir) > 0 {
		e.lines = append(e.lines, placesLine(planNoAir, noAir))
	}
	if len(ask) > 0 {
		e.lines = append(e.lines, placesLine(planAskAir, ask))
	}
	if len(stop) > 0 {
		e.lines = append(e.lines, placesLine(planMustNotMove, stop))
	}
}

// describeLoad says what an end carries, how that stands to its worst rating, and what
// each tire of a pair carries.
func (p *htmlPage) describeLoad(e *endView) {
	if e.load == nil || !e.load.Estimate.Known() {
		e.lines = append(e.lines, planNoLoad)
		return
	}
	e.lines = append(e.lines, p.estimate(e.load.Estimate))
	if g := worstRating(e.load.Ratings); g != nil {
		e.worst = g.Verdict
		e.lines = append(e.lines, p.ratingLine(g), limitWords(g.Name, p.mass(g.Rating, weight.Floor)))
	} else {
		e.lines = append(e.lines, planNoRating)
	}
	if len(e.tires) < 2 {
		return
	}
	a, b := e.tires[0].Load, e.tires[1].Load
	if !a.Known() || !b.Known() {
		return
	}
	if x, y := p.mass(a.Load, weight.Ceiling), p.mass(b.Load, weight.Ceiling); x == y {
		e.lines = append(e.lines, fmt.Sprintf(planTire, x))
	} else {
		e.lines = append(e.lines, fmt.Sprintf(planTires, bare(x), bare(y)))
	}
}

// placeWord is "", or which of the two of a pair a tire is.
func placeWord(t *report.TireLine) string {
	if t.Place == record.Alone {
		return ""
	}
	return t.Place.String()
}

// placesLine says of which tires of an end something holds, bare where it has one.
func placesLine(words string, places []string) string {
	if places[0] == "" {
		return words
	}
	return fmt.Sprintf(planPlaces, words, strings.Join(places, ", "))
}

// limitWords name the rating of an end and its load; half of an axle's rating is the
// limit of each of its ends.
func limitWords(name, load string) string {
	if name == report.HalfGAWR {
		return fmt.Sprintf(planHalf, load)
	}
	return fmt.Sprintf(sayRating, name, load)
}

// worstRating is the rating that an end keeps least, nil if it has none.
func worstRating(list []report.RatingLine) *report.RatingLine {
	var out *report.RatingLine
	for i := range list {
		if g := &list[i]; out == nil || g.Verdict > out.Verdict || g.Verdict == out.Verdict && g.Room < out.Room {
			out = g
		}
	}
	return out
}

// ratingLine says how a load stands to a rating, and by how much.
func (p *htmlPage) ratingLine(g *report.RatingLine) string {
	switch g.Verdict {
	case rules.Kept:
		return fmt.Sprintf(planWithin, p.margin(g))
	case rules.Breached:
		return fmt.Sprintf(planOver, p.mass(-g.Room, weight.Ceiling))
	case rules.TooClose:
		return planTooClose
	}
	return sayNotJudgedWord
}

// axleTitle names an axle, with its role where the name does not say it.
func axleTitle(a *report.AxleLine) string {
	if a.ID == a.Role.String() {
		return a.ID
	}
	return a.ID + " (" + a.Role.String() + ")"
}

// plan draws the coach from above, its front up, and says the same in words.
func (p *htmlPage) plan(m *markup) {
	axles := p.axles
	y := planRows(axles)
	towed := len(axles)
	for i := range axles {
		if axles[i].line.Role == record.Towed {
			towed = i
			break
		}
	}
	height := planHeight(axles)
	m.beginDrawing(0, planTitle, p.planWords(axles), planUnits, height)
	m.lit(patterns)
	if towed > 0 {
		m.lit(`<path class="body" d="M`).num(bodyLeft).lit(` 46Q`).num(bodyLeft).lit(` 12 `).num(bodyLeft + 40).lit(` 10H`).num(bodyRight - 40)
		m.lit(`Q`).num(bodyRight).lit(` 12 `).num(bodyRight).lit(` 46V`).num(y[towed-1] + 46).lit(`H`).num(bodyLeft).lit(`Z"/>`)
	}
	m.label("strong", planUnits/2, 32, labelSize, 150, atMiddle, planFront)
	m.label("", bodyLeft-12, 17, labelSize, labelRoom, atEnd, planLeft)
	m.label("", bodyRight+12, 17, labelSize, labelRoom, atStart, planRight)
	if towed < len(axles) {
		top := y[towed] - 44
		if towed > 0 {
			m.line("shaft", planUnits/2, y[towed-1]+46, planUnits/2, top)
		}
		m.rect("body", bodyLeft, top, bodyRight-bodyLeft, y[len(y)-1]+46-top, 10)
	}
	used := make(map[literal]bool)
	for i := range axles {
		p.drawAxle(m, &axles[i], y[i], used)
	}
	drawLegend(m, height-labelSize-18, used)
	m.endDrawing()
}

// planRows gives the height at which each axle is drawn: as far from the one
// before it as what stands beside the two needs.
func planRows(axles []axleView) []int {
	y := make([]int, len(axles))
	at := noseRoom
	for i := range axles {
		if i > 0 {
			least := 76
			switch {
			case axles[i].line.Role != record.Towed:
			case axles[i-1].line.Role == record.Towed:
				least = 72
			default:
				least = 100 // the hitch between
			}
			at += max(least, (axles[i-1].deepest()+axles[i].deepest())*(labelSize+1)/2+10)
		}
		y[i] = at
	}
	return y
}

func planHeight(axles []axleView) int {
	y := planRows(axles)
	if len(y) == 0 {
		return noseRoom + 40
	}
	return y[len(y)-1] + max(48, axles[len(axles)-1].deepest()*(labelSize+1)/2+8) + 2*(labelSize+8)
}

// deepest is how many lines stand beside an axle.
func (v *axleView) deepest() int { return max(len(v.ends[0].lines), len(v.ends[1].lines)) }

// The patterns that mark a tire; each has its word beside the axle too.
const patterns literal = `<defs><pattern id="p-over" width="9" height="9" patternUnits="userSpaceOnUse"><path class="mark" d="M-2 2L2 -2M0 9L9 0M7 11L11 7"/></pattern>` +
	`<pattern id="p-close" width="8" height="8" patternUnits="userSpaceOnUse"><circle class="spot" cx="4" cy="4" r="1.7"/></pattern></defs>`

func (p *htmlPage) drawAxle(m *markup, v *axleView, y int, used map[literal]bool) {
	m.line("shaft", bodyLeft+8, y, bodyRight-8, y)
	n, length := 1, tireLength
	if v.line.Fitment == weight.Dual {
		n = 2
	}
	if v.line.Role == record.Towed {
		length = carLength
	}
	for k := range v.ends {
		e := &v.ends[k]
		for i := range n {
			x := bodyLeft + 5 + i*tireStep
			if e.side == weight.Right {
				x = bodyRight - 5 - tireWidth - i*tireStep
			}
			var t *report.TireLine
			if i < len(e.tires) {
				t = e.tires[i]
			}
			p.drawTire(m, x, y, length, v, e, t, used)
			m.label("strong", x+tireWidth/2, y-length/2-4, labelSize-1, tireStep+4, atMiddle, p.foundWords(t))
			if n > 1 {
				m.label("", x+tireWidth/2, y+length/2+labelSize-3, labelSize-1, tireStep, atMiddle, [...]string{planOuter, planInner}[i])
			}
		}
		e.drawLines(m, y)
	}
	room := bodyRight - bodyLeft - 14 - 2*n*tireStep
	m.label("strong", planUnits/2, y-8, labelSize, room, atMiddle, axleTitle(v.line))
	m.label("strong", planUnits/2, y+20, labelSize+1, room, atMiddle, settingWords(p.units, v))
	if v.total != nil && v.total.Estimate.Known() {
		m.label("", planUnits/2, y+38, labelSize-1, room, atMiddle, p.mass(v.total.Estimate.Load, weight.Nearest))
	}
}

// drawLines writes what an end carries, and what was said of it, beside the body.
func (e *endView) drawLines(m *markup, y int) {
	x, at := bodyLeft-12, atEnd
	if e.side == weight.Right {
		x, at = bodyRight+12, atStart
	}
	top := y + 6 - (len(e.lines)-1)*(labelSize+1)/2
	for i, s := range e.lines {
		class, size := literal(""), labelSize
		switch {
		case i == 0:
			class, size = "strong", labelSize+1
		case s[0] >= 'A' && s[0] <= 'Z': // a word of warning
			class = "strong"
		}
		m.label(class, x, top+i*(labelSize+1), size, labelRoom, at, s)
	}
}

// foundWords is a tire's pressure as found, without its unit, with a star where it
// was hot; a question mark where it was not taken, nothing of a tire nobody looked
// at.
func (p *htmlPage) foundWords(t *report.TireLine) string {
	if t == nil || !looked(t) {
		return ""
	}
	found, ok := t.Found.Get()
	if !ok {
		return planNotTaken
	}
	out := bare(p.psi(found, weight.Floor))
	if t.Hot {
		out += planHot
	}
	return out
}

// looked reports whether anything was read or seen of a tire.
func looked(t *report.TireLine) bool {
	return t.Found.Is() || t.LeftAt.Is() || t.Tread.Is() || t.Seen.Is() || t.Number != "" || t.Note != ""
}

// settingWords says in a few words what to set on an axle.
func settingWords(u units, v *axleView) string {
	switch {
	case !v.seen():
		return sayNotLookedAt
	case v.setting == nil:
		return planNotJudged
	case v.setting.Outcome == inflation.CanSet, v.setting.Outcome == inflation.TooClose:
		return fmt.Sprintf(saySet, u.psi(v.setting.Set, weight.Ceiling))
	case v.setting.OnlyAsRead:
		return planNoNumber
	case v.setting.Outcome == inflation.Short:
		return planNoFit
	case v.setting.AskTirePressure || v.setting.AskWheelPressure:
		return planNoNumber
	}
	return planNotJudged
}

func (p *htmlPage) drawTire(m *markup, x, y, length int, v *axleView, e *endView, t *report.TireLine, used map[literal]bool) {
	class := literal("")
	switch {
	case t == nil || !looked(t):
		class = "unseen"
	case t.Air == report.AirForbidden:
		class = "noair"
	case p.stops[t.At]:
		class = "stop"
	case v.setting != nil && v.setting.Outcome == inflation.Short:
		class = "nofit"
	case e.worst == rules.Breached:
		class = "over"
	case e.worst == rules.TooClose:
		class = "close"
	}
	used[class] = true
	drawMark(m, class, x, y-length/2, tireWidth, length)
}

func drawMark(m *markup, class literal, x, y, w, h int) {
	m.lit(`<rect class="tire `, class, `" x="`).num(x).lit(`" y="`).num(y).lit(`" width="`).num(w).lit(`" height="`).num(h).lit(`" rx="4"/>`)
	if class == "nofit" {
		m.line("cross", x+w/2, y+4, x+w/2, y+h-4)
	}
	if class == "noair" {
		m.line("cross", x+2, y+3, x+w-2, y+h-3).line("cross", x+2, y+h-3, x+w-2, y+3)
	}
}

// drawLegend explains the marks that were used, in as many rows as they need, and
// the numbers.
func drawLegend(m *markup, y int, used map[literal]bool) {
	x := 0
	for _, k := range [...]struct {
		class literal
		words string
		width int
	}{
		{"over", planKeyOver, 170}, {"close", planKeyClose, 200}, {"noair", planKeyNoAir, 146},
		{"stop", planKeyStop, 152}, {"nofit", planKeyNoFit, 166}, {"unseen", planKeyUnseen, 140},
	} {
		if !used[k.class] {
			continue
		}
		if x+k.width > planUnits { // the drawing has room for one row more of keys
			break
		}
		drawMark(m, k.class, x+1, y-10, 14, 22)
		m.label("", x+21, y+6, labelSize-1, k.width-27, atStart, k.words)
		x += k.width
	}
	m.label("", 0, y+labelSize+12, labelSize-1, planUnits, atStart, planKeyNumbers)
}

// planWords says what the plan view shows, from the front to the rear.
func (p *htmlPage) planWords(axles []axleView) string {
	out := make([]string, len(axles))
	for i := range axles {
		v := &axles[i]
		words := planDuals
		if v.line.Fitment == weight.Single {
			words = planSingles
		}
		parts := []string{fmt.Sprintf(words, axleTitle(v.line))}
		for k := range v.ends {
			lines := v.ends[k].lines
			for _, t := range v.ends[k].tires {
				if f, ok := t.Found.Get(); ok {
					lines = append(lines, fmt.Sprintf(planFound, t.At, p.psi(f, weight.Floor)))
				}
			}
			parts = append(parts, fmt.Sprintf(planEnd, v.ends[k].side, strings.Join(lines, ", ")))
		}
		out[i] = fmt.Sprintf(planSentence, strings.Join(parts, "; "))
	}
	return strings.Join(out, " ")
}

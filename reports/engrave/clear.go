package engrave

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// The engraver puts digits clear of their own voice, but not of the stems, flags and beams of another, nor of slurs; words and
// dynamics it sets between notes and their digits. clearDigits moves digits outwards, away from the notes, until nothing lies
// under them, and words and dynamics out of the way of digits (words.go); what finds no room stays. It gives how far above the drawing's
// upper edge something lies now, 0 for nothing, and how many digits are cramped between two staves (cramped.go).
func clearDigits(inner *etree.Element, glyphs glyphBoxes) (above float64, cramped int) {
	heads, obstacles := obstaclesOf(inner, glyphs)
	signs := signsOf(inner, glyphs)
	walls := stavesOf(inner)
	var digits []*movable
	for _, sign := range inner.FindElements(".//g") {
		if firstClass(sign) != "fing" {
			continue
		}
		text := sign.SelectElement("text")
		if text == nil {
			continue
		}
		letters, size := measured(text)
		note := strings.TrimPrefix(sign.SelectAttrValue("data-startid", ""), "#")
		head, known := heads[note]
		if !known || letters == 0 {
			continue
		}
		x, y, half := number(text, "x"), number(text, "y"), size*digitHalf*float64(letters)
		d := &movable{text: text, box: box{x - half, y - size*digitHeight, x + half, y}, step: -clearStep, head: head, note: note}
		if y > head {
			d.step = clearStep
		}
		if isRow(text) { // its bracket
			if d.step < 0 {
				d.top -= rowRoom
			} else {
				d.bottom += rowRoom
			}
		}
		digits = append(digits, d)
	}
	liftSigns(inner, glyphs, digits, obstacles)
	_, obstacles = obstaclesOf(inner, glyphs)
	acrossFermatas(inner, digits)
	inOneColumn(inner, digits)
	ofSeconds(digits)
	ofTwoVoices(digits)
	// From the notes outwards, column by column: what is moved takes along what stands beyond it.
	slices.SortStableFunc(digits, func(a, b *movable) int {
		return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.step*a.top, b.step*b.top))
	})
	columns := columnsOf(digits)
	clear := &clearer{signs, digits, obstacles, walls, underSlurs(inner)}
	clear.editorsFirst()
	for _, c := range columns {
		asNotesStand(c)
		moveColumn(c, others(digits, c), obstacles, walls)
	}
	for _, c := range columns {
		clear.column(c)
	}
	clear.rest()
	for _, c := range columns { // signs that found no room
		var stuck []box
		for _, s := range signs {
			stuck = append(stuck, s.boxes...)
		}
		moveColumn(c, others(digits, c), append(stuck, obstacles...), walls)
	}
	acrossFermatas(inner, digits)
	clear.rest()
	var texts []box
	for _, d := range digits {
		texts = append(texts, d.box)
	}
	ofDigits := slices.Clone(texts)
	for _, s := range signs {
		texts = append(texts, s.boxes...)
	}
	clearPedals(inner, texts, walls, glyphs)
	above = clearBrackets(inner, signs, ofDigits, obstacles, walls)
	above = max(above, clearEndings(inner, walls, texts))
	for _, s := range signs {
		above = max(above, -s.reach().top)
	}
	for _, d := range digits {
		above = max(above, -d.top)
	}
	return above, crampedDigits(inner, digits, obstacles, walls)
}

// columnsOf gives the digits of each stroke on one side, from the notes outwards; the digits are in the order of their places.
func columnsOf(digits []*movable) (out [][]*movable) {
	for i := 0; i < len(digits); {
		end := i + 1
		for end < len(digits) && digits[end].left-digits[end-1].left < clearStep && digits[end].step == digits[i].step &&
			math.Abs(digits[end].top-digits[end-1].top) < columnGap {
			end++
		}
		out = append(out, slices.Clone(digits[i:end]))
		i = end
	}
	return out
}

// others gives the digits that are not of a column.
func others(digits, column []*movable) (out []*movable) {
	for _, d := range digits {
		if !slices.Contains(column, d) {
			out = append(out, d)
		}
	}
	return out
}

const (
	digitHalf   = 0.22 // half the width of a digit, and its height, for its size
	digitHeight = 0.66
	clearStep   = 45.0   // by so much something is moved at a time, in the units of the drawing
	clearMost   = 1400.0 // and no farther than this: beyond, it would be taken for another note's
	digitStep   = 290.0  // the digits of a column stand so far apart
	columnGap   = 460.0  // digits of one stroke stand closer than this, one above the other
)

// box is a rectangle in the units of the drawing, y downwards.
type box struct{ left, top, right, bottom float64 }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

func (b box) by(dy float64) box { return box{b.left, b.top + dy, b.right, b.bottom + dy} }

// movable is a text that can be moved up (a negative step) or down.
type movable struct {
	text *etree.Element
	box
	step float64
	head float64 // of a digit, where its note stands
	note string  // and its id
}

func (m *movable) move(dy float64) {
	if dy != 0 {
		m.text.CreateAttr("y", rounded(number(m.text, "y")+dy))
		m.box = m.by(dy)
	}
}

// free gives how far a box has to move, in steps, to meet nothing; 0 where it meets nothing, or finds no room this side of
// the next staff.
func free(b box, step float64, walls []box, others ...[]box) float64 {
	for dy := 0.0; math.Abs(dy) <= clearMost; dy += step {
		if dy != 0 && slices.ContainsFunc(walls, func(w box) bool { return w.meets(b.by(dy)) && !w.meets(b) }) {
			return 0
		}
		if !slices.ContainsFunc(others, func(list []box) bool { return slices.ContainsFunc(list, b.by(dy).meets) }) {
			return dy
		}
	}
	return 0
}

// clearPedals moves the pedal signs of a system down together, so far that none lies over a digit.
func clearPedals(inner *etree.Element, digits, walls []box, glyphs glyphBoxes) {
	const size = 0.72 // of staff spaces, as the engraver draws these signs
	rows := map[float64][]*etree.Element{}
	for _, g := range inner.FindElements(".//g[@class='pedal']") {
		for _, use := range g.SelectElements("use") {
			if _, y, ok := placeOf(use); ok {
				rows[y] = append(rows[y], use)
			}
		}
	}
	for y, row := range rows { // each by itself
		down := 0.0
		for _, use := range row {
			x, _, _ := placeOf(use)
			wide := 4.1
			if strings.HasSuffix(use.SelectAttrValue("href", ""), "E655") { // the sign of release
				wide = 1.9
			}
			sign := box{x, y - 2.6*size*staffSpace, x + wide*size*staffSpace, y + 0.1*staffSpace}
			if b, ok := glyphs.of(use); ok {
				const room = 40.0 // a line below a digit
				sign = b
				sign.top -= room
			}
			down = max(down, free(sign, clearStep, walls, digits))
		}
		for _, use := range row {
			if x, _, _ := placeOf(use); down > 0 {
				at := use.SelectAttrValue("transform", "")
				use.CreateAttr("transform", placed.ReplaceAllLiteralString(at, "translate("+rounded(x)+", "+rounded(y+down)+")"))
			}
		}
	}
}

// inOneColumn brings the digits of a chord on one side over each other: where two of its notes are a second apart their heads
// stand side by side, and the engraver sets the digits so too, which are read as those of other notes.
func inOneColumn(inner *etree.Element, digits []*movable) {
	chordOf := map[string]*etree.Element{}
	for _, chord := range inner.FindElements(".//g[@class='chord']") {
		for _, note := range chord.FindElements(".//g[@class='note']") {
			chordOf[note.SelectAttrValue("data-id", "")] = chord
		}
	}
	for i, d := range digits {
		chord := chordOf[d.note]
		if chord == nil {
			continue
		}
		column := []*movable{d}
		seen := false
		for k, other := range digits {
			if k != i && chordOf[other.note] == chord && other.step == d.step {
				seen = seen || k < i // done with the first of them
				column = append(column, other)
			}
		}
		if !seen && len(column) > 1 {
			stack(column)
		}
	}
}

// ofSeconds does the same for two voices that strike a second at once: the heads stand side by side, the digits over each other.
func ofSeconds(digits []*movable) {
	const headWide = 1.18 * staffSpace
	for i, d := range digits {
		for _, other := range digits[i+1:] {
			dx, dy := math.Abs(number(other.text, "x")-number(d.text, "x")), math.Abs(other.head-d.head)
			if other.step == d.step && dx > clearStep && dx < 1.1*headWide && dy > 0 && dy < 0.6*staffSpace {
				stack([]*movable{d, other})
			}
		}
	}
}

// stack sets digits that stand side by side in the column of most of them, from the notes outwards.
func stack(column []*movable) {
	count := map[float64]int{}
	for _, d := range column {
		count[number(d.text, "x")]++
	}
	if len(count) == 1 {
		return
	}
	most, innermost := math.Inf(1), column[0].bottom
	for _, d := range column {
		if x := number(d.text, "x"); math.IsInf(most, 1) || count[x] > count[most] || count[x] == count[most] && x < most {
			most = x
		}
		if (d.bottom-innermost)*d.step < 0 {
			innermost = d.bottom
		}
	}
	slices.SortStableFunc(column, func(a, b *movable) int { return cmp.Compare(-a.head*a.step, -b.head*b.step) })
	for i, d := range column {
		dx := most - number(d.text, "x")
		d.text.CreateAttr("x", rounded(most))
		d.left, d.right = d.left+dx, d.right+dx
		d.move(innermost + float64(i)*digitStep*math.Copysign(1, d.step) - d.bottom)
	}
}

// asNotesStand puts the digits of a stroke one above the other as its notes stand: at the notes of a second the engraver has
// them the other way round.
func asNotesStand(column []*movable) {
	places := make([]float64, len(column))
	for i, d := range column {
		places[i] = d.bottom
	}
	slices.Sort(places)
	inOrder := slices.Clone(column)
	slices.SortStableFunc(inOrder, func(a, b *movable) int {
		return cmp.Or(cmp.Compare(a.head, b.head), cmp.Compare(a.bottom, b.bottom))
	})
	for i, d := range inOrder {
		d.move(places[i] - d.bottom)
	}
	slices.SortStableFunc(column, func(a, b *movable) int { return cmp.Compare(a.step*a.top, b.step*b.top) })
}

// moveColumn moves the digits of one stroke on one side.
func moveColumn(column, others []*movable, obstacles, walls []box) {
	var near []box
	within := func(o box) bool {
		return slices.ContainsFunc(column, func(d *movable) bool { return o.left < d.right && d.left < o.right })
	}
	for _, o := range obstacles {
		if within(o) {
			near = append(near, o)
		}
	}
	for _, d := range others {
		if within(d.box) {
			near = append(near, d.box)
		}
	}
	moved, to := 0.0, make([]float64, len(column))
	for i, d := range column {
		moved += free(d.by(moved), d.step, walls, near)
		to[i] = moved
		// What is moved along must not get into the staff beyond, where it would be read as the other hand's: then all stay.
		if slices.ContainsFunc(walls, func(w box) bool { return w.meets(d.through(moved)) && !w.meets(d.box) }) {
			return
		}
	}
	together(column, to, walls, near)
	for i, d := range column {
		d.move(to[i])
	}
}

// together keeps the digits of a column together where something would tear them, as words between two: all go beyond it, if they find room.
func together(column []*movable, to []float64, walls, near []box) {
	last := len(to) - 1
	if math.Abs(to[last]-to[0]) < 0.6*digitStep {
		return
	}
	for dy := to[last]; math.Abs(dy) <= clearMost; dy += column[0].step {
		lies := func(d *movable) bool {
			at := d.by(dy)
			return slices.ContainsFunc(near, at.meets) ||
				slices.ContainsFunc(walls, func(w box) bool { return w.meets(d.through(dy)) && !w.meets(d.box) })
		}
		if !slices.ContainsFunc(column, lies) {
			for i := range to {
				to[i] = dy
			}
			return
		}
	}
}

// through is the room that a box takes and passes on its way.
func (b box) through(dy float64) box {
	return b.around(b.by(dy))
}

var (
	numbers = regexp.MustCompile(`-?\d+(?:\.\d+)?`)
	flagUp  = regexp.MustCompile(`E24[02468ACE]$`)
)

// obstaclesOf gives the places of note heads, by the id of their note, and what digits should not lie over.
func obstaclesOf(inner *etree.Element, glyphs glyphBoxes) (heads map[string]float64, out []box) {
	heads = map[string]float64{}
	const (
		thick  = 22.0 // half of a line with the room about it
		beside = 52.0 // digits are not set between stems, as high as these
		// A digit that touches a head is read as standing at it, or not read at all.
		offHead = 40.0
	)
	for _, g := range inner.FindElements(".//g") {
		switch firstClass(g) {
		case "note":
			if head := g.FindElement(".//g[@class='notehead']/use"); head != nil {
				if x, y, ok := placeOf(head); ok {
					heads[g.SelectAttrValue("data-id", "")] = y
					out = append(out, box{x, y - staffSpace/2 - offHead, x + 1.18*staffSpace, y + staffSpace/2 + offHead})
				}
			}
		case "stem":
			if path := g.SelectElement("path"); path != nil {
				if p := numbersIn(path, "d"); len(p) == 4 {
					out = append(out, box{p[0] - beside, min(p[1], p[3]), p[2] + beside, max(p[1], p[3])})
				}
			}
		case "flag":
			for _, use := range g.SelectElements("use") {
				if x, y, ok := placeOf(use); ok {
					b := box{x, y - 2.6*staffSpace, x + staffSpace, y}
					if flagUp.MatchString(use.SelectAttrValue("href", "")) { // of a stem up: it hangs from its end
						b = b.by(2.6 * staffSpace)
					}
					out = append(out, b)
				}
			}
		case "beam":
			for _, polygon := range g.SelectElements("polygon") {
				if p := numbersIn(polygon, "points"); len(p) == 8 {
					out = append(out, alongBeam(p)...)
				}
			}
		case "slur", "tie":
			for _, path := range g.SelectElements("path") {
				if p := numbersIn(path, "d"); len(p) >= 8 {
					out = append(out, alongCurve(p[:8], thick)...)
				}
			}
		case "hairpin":
			for _, line := range g.SelectElements("polyline") {
				if p := numbersIn(line, "points"); len(p) >= 6 {
					for k := 0; k+3 < len(p); k += 2 {
						out = append(out, alongLine(p[k:k+4], thick)...)
					}
				}
			}
		case "trill", "mordent", "turn":
			for _, use := range g.FindElements(".//use") {
				if b, ok := glyphs.of(use); ok {
					const room = 30.0
					out = append(out, box{b.left - room, b.top - room, b.right + room, b.bottom + room})
				} else if x, y, ok := placeOf(use); ok {
					out = append(out, box{x, y - 1.5*staffSpace, x + 1.6*staffSpace, y + 0.4*staffSpace})
				}
			}
		}
	}
	return heads, out
}

// stavesOf gives the staves, each with the lines of a measure.
func stavesOf(inner *etree.Element) (out []box) {
	for _, staff := range inner.FindElements(".//g[@class='staff']") {
		wall, found := box{}, false
		for _, line := range staff.SelectElements("path") {
			p := numbersIn(line, "d")
			if len(p) != 4 || p[1] != p[3] {
				continue
			}
			if !found {
				wall, found = box{p[0], p[1], p[2], p[1]}, true
			}
			wall.top, wall.bottom = min(wall.top, p[1]), max(wall.bottom, p[1])
		}
		if found {
			out = append(out, wall)
		}
	}
	return out
}

func placeOf(use *etree.Element) (x, y float64, ok bool) {
	at := placed.FindStringSubmatch(use.SelectAttrValue("transform", ""))
	if at == nil {
		return 0, 0, false
	}
	x, _ = strconv.ParseFloat(at[1], 64)
	y, _ = strconv.ParseFloat(at[2], 64)
	return x, y, true
}

func numbersIn(element *etree.Element, attribute string) []float64 {
	return numbersOf(element.SelectAttrValue(attribute, ""))
}

func numbersOf(text string) (out []float64) {
	for _, word := range numbers.FindAllString(text, -1) {
		v, _ := strconv.ParseFloat(word, 64)
		out = append(out, v)
	}
	return out
}

// textBox is what a text takes, by the size of its font.
func textBox(text *etree.Element) box {
	letters, size := measured(text)
	x, y, width := number(text, "x"), number(text, "y"), 0.5*size*float64(letters)
	switch text.SelectAttrValue("text-anchor", "") {
	case "middle":
		x -= width / 2
	case "end":
		x -= width
	}
	return box{x, y - 0.7*size, x + width, y + 0.2*size}
}

// pieces is into how many boxes a slanting thing is taken apart.
const pieces = 24

// alongBeam takes a beam apart; its corners are upper left, upper right, lower right, lower left.
func alongBeam(p []float64) (out []box) {
	left, right := min(p[0], p[2]), max(p[0], p[2])
	top := func(t float64) float64 { return p[1] + t*(p[3]-p[1]) }
	bottom := func(t float64) float64 { return p[7] + t*(p[5]-p[7]) }
	for k := range pieces {
		from, to := float64(k)/pieces, float64(k+1)/pieces
		out = append(out, box{left + from*(right-left), min(top(from), top(to), bottom(from), bottom(to)),
			left + to*(right-left), max(top(from), top(to), bottom(from), bottom(to))})
	}
	return out
}

// underSlurs gives the room between slurs and the line from their beginning to their end: what stands there is read as part of
// what they hold together.
func underSlurs(inner *etree.Element) (out []box) {
	for _, slur := range inner.FindElements(".//g[@class='slur']") {
		for _, path := range slur.SelectElements("path") {
			p := numbersIn(path, "d")
			if len(p) < 8 {
				continue
			}
			for _, b := range alongCurve(p[:8], 0) {
				if p[6] == p[0] {
					break
				}
				chord := p[1] + (p[7]-p[1])*((b.left+b.right)/2-p[0])/(p[6]-p[0])
				out = append(out, box{b.left, min(b.top, chord), b.right, max(b.bottom, chord)})
			}
		}
	}
	return out
}

// alongLine takes a line apart.
func alongLine(p []float64, thick float64) (out []box) {
	for k := range pieces {
		from, to := float64(k)/pieces, float64(k+1)/pieces
		x0, y0, x1, y1 := p[0]+from*(p[2]-p[0]), p[1]+from*(p[3]-p[1]), p[0]+to*(p[2]-p[0]), p[1]+to*(p[3]-p[1])
		out = append(out, box{min(x0, x1), min(y0, y1) - thick, max(x0, x1), max(y0, y1) + thick})
	}
	return out
}

// alongCurve takes a cubic curve apart.
func alongCurve(p []float64, thick float64) (out []box) {
	at := func(t float64, k int) float64 {
		u := 1 - t
		return u*u*u*p[k] + 3*u*u*t*p[2+k] + 3*u*t*t*p[4+k] + t*t*t*p[6+k]
	}
	for k := range pieces {
		from, to := float64(k)/pieces, float64(k+1)/pieces
		x0, y0, x1, y1 := at(from, 0), at(from, 1), at(to, 0), at(to, 1)
		out = append(out, box{min(x0, x1), min(y0, y1) - thick, max(x0, x1), max(y0, y1) + thick})
	}
	return out
}

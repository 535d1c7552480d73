package engrave

import (
	"math"
	"slices"
	"strings"

	"github.com/beevik/etree"
)

// belowMark is the colour by which a bracket that stands below its staff is known again in the drawing: the engraver reads no
// side of brackets and draws each above, where it is read as the right hand's.
const belowMark = "#00000b"

// markBrackets marks the brackets of a measure that stand below their staff.
func markBrackets(measure *etree.Element) {
	for _, direction := range measure.SelectElements("direction") {
		for _, bracket := range direction.FindElements("direction-type/bracket") {
			bracket.RemoveAttr("color")
			if direction.SelectAttrValue("placement", "") == "below" {
				bracket.CreateAttr("color", belowMark)
			}
		}
	}
}

// What a bracket keeps to.
const (
	bracketShort = 0.8 * staffSpace // a bracket ends so far before what is struck next: over it, it would take that in
	bracketHook  = 0.7 * staffSpace
	bracketRoom  = 0.3 * staffSpace
	bracketLeast = 2 * staffSpace
)

// handBracket is a bracket along notes, or the part of one that a system has.
type handBracket struct {
	element *etree.Element
	line    *etree.Element
	y       float64
	box
	starts, ends bool // has its hook
	below        bool
}

// bracketsOf lists the broken brackets of a drawing.
func bracketsOf(inner *etree.Element) (out []*handBracket) {
	for _, g := range inner.FindElements(".//g") {
		if firstClass(g) != "bracketSpan" {
			continue
		}
		line := g.SelectElement("path")
		if line == nil || line.SelectAttr("stroke-dasharray") == nil {
			continue
		}
		p := numbersIn(line, "d")
		if len(p) != 4 || p[1] != p[3] {
			continue
		}
		b := &handBracket{element: g, line: line, y: p[1], below: g.SelectAttrValue("color", "") == belowMark}
		for _, hook := range g.SelectElements("polyline") {
			x := numbersIn(hook, "points")
			b.starts = b.starts || len(x) > 0 && x[0] == p[0]
			b.ends = b.ends || len(x) > 0 && x[0] == p[2]
		}
		b.box = box{p[0], p[1] - bracketRoom, p[2], p[1] + bracketHook}
		if b.below {
			b.box.top, b.box.bottom = p[1]-bracketHook, p[1]+bracketRoom
		}
		out = append(out, b)
	}
	return out
}

// clearBrackets sets brackets on their side of the staff and ends them before what follows. One below begins behind its hand
// sign, as print has it, where nothing stands in the way; else it goes where the least lies in it. It gives how far above the
// drawing's upper edge one lies.
func clearBrackets(inner *etree.Element, signs []*sign, digits, obstacles, walls []box) (above float64) {
	texts := slices.Clone(digits)
	for _, s := range signs {
		texts = append(texts, s.boxes...)
	}
	for _, b := range bracketsOf(inner) {
		if b.ends && b.right-b.left > bracketLeast {
			b.right -= bracketShort
		}
		edge, ok := under(b.box, walls)
		switch {
		case ok && b.behind(signs, digits, obstacles, walls, edge, false):
		case !b.below:
			up := b.freest(-clearStep, walls, texts, obstacles)
			if slices.ContainsFunc(texts, b.by(up).meets) && b.behind(signs, digits, obstacles, walls, edge, true) {
				break
			}
			b.move(up)
		case ok:
			b.move(edge + bracketHook + bracketRoom - b.y)
			b.move(b.freest(clearStep, walls, texts, obstacles))
		}
		texts = append(texts, b.box)
		b.write()
		above = max(above, -b.top)
	}
	return above
}

func (b *handBracket) move(dy float64) { b.box, b.y = b.by(dy), b.y+dy }

// behind lets a bracket begin behind the sign that stands at its beginning, at its height: one below the staff, and one that the
// engraver drew over another staff than its sign's; stuck says that there is no room for it where it was drawn.
func (b *handBracket) behind(signs []*sign, digits, obstacles, walls []box, edge float64, stuck bool) bool {
	for _, s := range signs {
		at := s.reach()
		if !s.editors || math.Abs(at.left-b.left) > bracketLeast {
			continue
		}
		apart := slices.ContainsFunc(walls, func(w box) bool {
			between := at.bottom < w.top && w.bottom < b.y || b.y < w.top && w.bottom < at.top
			return between && w.left < at.right && at.left < w.right
		})
		if b.below && at.top < edge || !b.below && !apart && !stuck {
			continue
		}
		y := (at.top + at.bottom + bracketRoom) / 2
		line := box{at.right + bracketRoom, y - bracketHook, b.right, y + bracketRoom}
		if !b.below {
			line.top, line.bottom = y-bracketRoom, y+bracketHook
		}
		in := func(lists ...[]box) bool {
			return slices.ContainsFunc(lists, func(list []box) bool { return slices.ContainsFunc(list, line.meets) })
		}
		wide := line.right - line.left
		if apart && wide < bracketHook/2 && at.right < b.right { // the sign is as long as the bracket: its end is left
			line.left, wide = b.right-bracketHook/2, bracketHook/2
		}
		if wide > bracketLeast/2 && !in(digits, obstacles, walls) || apart && !b.below && wide > bracketRoom && !in(digits, walls) {
			b.box, b.y, b.starts = line, y, false
			return true
		}
		gone := b.below && slices.ContainsFunc(walls, func(w box) bool {
			return edge < w.top && w.bottom < at.top && w.left < at.right && at.left < w.right
		})
		switch {
		case gone: // the notes went over, the sign with them
			b.move(at.bottom + bracketHook + bracketRoom - b.y)
			b.move(b.freest(clearStep, walls, append(slices.Clone(digits), at), obstacles))
			return true
		case apart && !b.below: // at least over its own notes
			b.move(at.bottom - b.y)
			b.move(b.freest(-clearStep, walls, append(slices.Clone(digits), at), obstacles))
			return true
		}
	}
	return false
}

// freest gives how far a bracket is moved, no farther than the next staff: to where the fewest digits and words and then the
// fewest notes lie in it, the nearest of these places.
func (b *handBracket) freest(step float64, walls, texts, obstacles []box) (best float64) {
	const ofText = 100
	least := math.MaxInt
	for dy := 0.0; math.Abs(dy) <= clearMost && least > 0; dy += step {
		at := b.by(dy)
		if slices.ContainsFunc(walls, func(w box) bool { return w.meets(at) && !w.meets(b.box) }) {
			break
		}
		count := 0
		for _, o := range texts {
			if o.meets(at) {
				count += ofText
			}
		}
		for _, o := range obstacles {
			if o.meets(at) {
				count++
			}
		}
		if count < least {
			best, least = dy, count
		}
	}
	return best
}

// under gives the lower edge of the staff above which a bracket was drawn.
func under(b box, walls []box) (edge float64, ok bool) {
	nearest := math.Inf(1)
	for _, w := range walls {
		if w.left < b.right && b.left < w.right && w.bottom > b.bottom && w.top < nearest {
			nearest = w.top
		}
	}
	for _, w := range walls {
		if w.top == nearest && w.left < b.right && b.left < w.right {
			edge, ok = max(edge, w.bottom), true
		}
	}
	return edge, ok
}

// write draws the bracket anew.
func (b *handBracket) write() {
	hook := b.y + bracketHook
	if b.below {
		hook = b.y - bracketHook
	}
	for _, old := range b.element.SelectElements("polyline") {
		b.element.RemoveChild(old)
	}
	b.line.CreateAttr("d", "M"+rounded(b.left)+" "+rounded(b.y)+" L"+rounded(b.right)+" "+rounded(b.y))
	for _, end := range []struct {
		has     bool
		x, into float64
	}{{b.starts, b.left, staffSpace / 2}, {b.ends, b.right, -staffSpace / 2}} {
		if !end.has {
			continue
		}
		line := b.element.CreateElement("polyline")
		for _, name := range []string{"stroke-width", "stroke-linecap"} {
			line.CreateAttr(name, b.line.SelectAttrValue(name, ""))
		}
		line.CreateAttr("fill", "none")
		line.CreateAttr("points", strings.Join([]string{
			rounded(end.x) + "," + rounded(hook), rounded(end.x) + "," + rounded(b.y), rounded(end.x+end.into) + "," + rounded(b.y),
		}, " "))
	}
	if b.below {
		b.element.RemoveAttr("color")
		b.element.RemoveAttr("fill")
	}
}

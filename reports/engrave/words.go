package engrave

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/beevik/etree"
)

// sign is a word, a tempo mark or a dynamic: what may give way to digits.
type sign struct {
	element *etree.Element
	boxes   []box
	editors bool // in brackets or parentheses: it belongs to its chord
	tempo   bool
}

// signsOf gives the words and dynamics of a drawing.
func signsOf(inner *etree.Element, glyphs glyphBoxes) (out []*sign) {
	for _, g := range inner.FindElements(".//g") {
		class := firstClass(g)
		if class != "dir" && class != "dynam" && class != "tempo" {
			continue
		}
		s := &sign{element: g, tempo: class == "tempo"}
		for _, text := range g.SelectElements("text") {
			b := textBox(text)
			b.top -= 0.2 * staffSpace // brackets and strokes up reach higher than letters
			if b.right > b.left {
				s.boxes = append(s.boxes, b)
			}
			written := ""
			for _, span := range text.FindElements(".//tspan") {
				written += strings.TrimSpace(span.Text())
			}
			s.editors = s.editors || strings.HasPrefix(written, "[") || strings.HasPrefix(written, "(")
		}
		for _, use := range g.FindElements(".//use") {
			if b, ok := glyphs.of(use); ok {
				s.boxes = append(s.boxes, b)
			} else if x, y, ok := placeOf(use); ok {
				s.boxes = append(s.boxes, box{x, y - 1.1*staffSpace, x + 1.8*staffSpace, y + 0.5*staffSpace})
			}
		}
		if len(s.boxes) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// reach is the box about a sign.
func (s *sign) reach() box {
	b := s.boxes[0]
	for _, o := range s.boxes[1:] {
		b = b.around(o)
	}
	return b
}

// meets says that a sign, moved so, would lie over one of these.
func (s *sign) meets(dx, dy float64, others []box) bool {
	return slices.ContainsFunc(s.boxes, func(b box) bool {
		at := box{b.left + dx, b.top + dy, b.right + dx, b.bottom + dy}
		return slices.ContainsFunc(others, at.meets)
	})
}

func (s *sign) move(dx, dy float64) {
	if dx == 0 && dy == 0 {
		return
	}
	for i := range s.boxes {
		b := s.boxes[i]
		s.boxes[i] = box{b.left + dx, b.top + dy, b.right + dx, b.bottom + dy}
	}
	for _, text := range s.element.FindElements(".//text") {
		for _, e := range append(text.FindElements(".//tspan"), text) {
			for name, by := range map[string]float64{"x": dx, "y": dy} { // each by itself
				if e.SelectAttr(name) != nil && by != 0 {
					e.CreateAttr(name, rounded(number(e, name)+by))
				}
			}
		}
	}
	for _, use := range s.element.FindElements(".//use") {
		if x, y, ok := placeOf(use); ok {
			at := use.SelectAttrValue("transform", "")
			use.CreateAttr("transform", placed.ReplaceAllLiteralString(at, "translate("+rounded(x+dx)+", "+rounded(y+dy)+")"))
		}
	}
}

// clearer moves signs clear of digits and of each other, within bounds.
type clearer struct {
	signs     []*sign
	digits    []*movable
	obstacles []box // heads, stems, beams, slurs
	walls     []box // staves
	slurred   []box // between slurs and their notes
}

const (
	signAway   = 1400.0 // signs above or below all staves are moved no farther than this,
	signWithin = 900.0  // signs between staves than this,
	signAside  = 540.0  // and to the right than this
	signRoom   = 30.0
)

// places gives the moves that are tried for a sign, the nearest first.
func (c *clearer) places(s *sign) (out [][2]float64) {
	at := s.reach()
	above, below := true, true // nothing of a staff lies beyond it
	for _, w := range c.walls {
		if w.left < at.right && at.left < w.right {
			above, below = above && w.top > at.top, below && w.bottom < at.bottom
		}
	}
	for dy := -signAway; dy <= signAway; dy += clearStep {
		switch {
		case above && dy > 0, below && dy < 0: // towards the staff
			continue
		case !above && !below && math.Abs(dy) > signWithin:
			continue
		}
		for dx := 0.0; dx <= signAside; dx += 2 * clearStep {
			out = append(out, [2]float64{dx, dy})
		}
	}
	slices.SortStableFunc(out, func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(2*a[0]+math.Abs(a[1]), 2*b[0]+math.Abs(b[1])), cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	return out
}

// place finds where a sign lies over nothing: not over digits or other signs, nor over anything else that it has not lain over.
func (c *clearer) place(s *sign) (dx, dy float64, ok bool) {
	var never, new []box
	for _, d := range c.digits {
		never = append(never, box{d.left - signRoom, d.top - signRoom, d.right + signRoom, d.bottom + signRoom})
	}
	for _, o := range c.signs {
		if o != s {
			if overlap := s.meets(0, 0, o.boxes); overlap {
				continue // that they stand so is no fault of the digits
			}
			never = append(never, o.boxes...)
		}
	}
	for _, list := range [3][]box{c.obstacles, c.walls, c.slurred} {
		for _, o := range list {
			if !s.meets(0, 0, []box{o}) {
				new = append(new, o)
			}
		}
	}
	near := s.reach()
	near = box{near.left - signAside, near.top - signAway, near.right + 2*signAside, near.bottom + signAway}
	far := func(b box) bool { return !b.meets(near) }
	never, new = slices.DeleteFunc(never, far), slices.DeleteFunc(new, far)
	for _, p := range c.places(s) {
		if !s.meets(p[0], p[1], never) && !s.meets(p[0], p[1], new) {
			return p[0], p[1], true
		}
	}
	return 0, 0, false
}

// under says that a sign lies over a digit, or between it and its note.
func (c *clearer) under(s *sign, d *movable) bool {
	for _, b := range s.boxes {
		if b.meets(d.box) {
			return true
		}
		if b.left >= d.right || d.left >= b.right {
			continue
		}
		if d.step < 0 && d.bottom <= b.top && b.bottom <= d.head || d.step > 0 && b.bottom <= d.top && d.head <= b.top {
			return true
		}
	}
	return false
}

// inwards gives how far the digits of a column can be moved towards their notes: they keep off the staff and all else.
func (c *clearer) inwards(column []*movable) float64 {
	toward := -column[0].step
	in := func(d *movable) bool { return slices.Contains(column, d) }
	blocked := func(dy float64) bool {
		for _, d := range column {
			at := d.by(dy)
			if d.step < 0 && at.bottom > d.head-0.6*staffSpace || d.step > 0 && at.top < d.head+0.6*staffSpace {
				return true
			}
			if slices.ContainsFunc(c.obstacles, at.meets) || slices.ContainsFunc(c.walls, at.meets) ||
				slices.ContainsFunc(c.digits, func(o *movable) bool { return !in(o) && o.meets(at) }) {
				return true
			}
		}
		return false
	}
	found := 0.0
	for dy := toward; math.Abs(dy) <= signAway; dy += toward {
		if !blocked(dy) {
			found = dy
		}
		if past := column[0].by(dy); column[0].step < 0 && past.bottom > column[0].head || column[0].step > 0 && past.top < column[0].head {
			break
		}
	}
	return found
}

// column brings the digits of a stroke to their notes where signs stand between, and moves those signs beyond; where they find
// no room, all stays.
func (c *clearer) column(column []*movable) {
	var between []*sign
	for _, s := range c.signs {
		if slices.ContainsFunc(column, func(d *movable) bool { return c.under(s, d) }) {
			between = append(between, s)
		}
	}
	if len(between) == 0 {
		return
	}
	dy := c.inwards(column)
	if dy == 0 {
		return
	}
	for _, d := range column {
		d.move(dy)
	}
	type moved struct {
		s      *sign
		dx, dy float64
	}
	var done []moved
	// From the notes outwards: what is moved makes room before the next is asked.
	slices.SortStableFunc(between, func(a, b *sign) int {
		return cmp.Compare(column[0].step*a.reach().top, column[0].step*b.reach().top)
	})
	for _, s := range slices.Backward(between) { // the outermost makes room first
		if !slices.ContainsFunc(column, func(d *movable) bool { return c.under(s, d) }) {
			continue
		}
		sx, sy, ok := c.place(s)
		if !ok {
			for _, m := range done {
				m.s.move(-m.dx, -m.dy)
			}
			for _, d := range column {
				d.move(-dy)
			}
			return
		}
		s.move(sx, sy)
		done = append(done, moved{s, sx, sy})
	}
}

// editorsFirst brings an editor's sign, as that of a rolled chord, to its chord where other words stand between.
func (c *clearer) editorsFirst() {
	for _, s := range c.signs {
		if !s.editors {
			continue
		}
		for _, o := range c.signs {
			a, b := s.reach(), o.reach()
			if o == s || o.editors || a.left >= b.right || b.left >= a.right || a.bottom > b.top+0.5*staffSpace || b.top-a.bottom > 2*staffSpace {
				continue
			}
			if slices.ContainsFunc(c.walls, func(w box) bool { return w.left < a.right && a.left < w.right && w.top < b.bottom }) {
				continue // only above all staves
			}
			down, up := b.bottom-a.bottom, a.top-b.top
			if s.meets(0, down, c.obstacles) || o.meets(0, up, c.obstacles) {
				continue
			}
			s.move(0, down)
			o.move(0, up)
		}
	}
}

// rest moves the signs that still lie over a digit.
func (c *clearer) rest() {
	for _, s := range c.signs {
		if slices.ContainsFunc(c.digits, func(d *movable) bool { return s.meets(0, 0, []box{d.box}) }) {
			if dx, dy, ok := c.place(s); ok {
				s.move(dx, dy)
			}
		}
	}
}

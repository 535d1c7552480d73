package engrave

import (
	"math"
	"slices"

	"github.com/beevik/etree"
)

// stavesApart is how far apart staves are drawn at least, in half staff spaces, one after the other as long as digits are
// cramped between them; 0 is as the engraver has them.
var stavesApart = []int{0, 18, 24}

// crampedDigits counts the digits between two staves that want more room there: they lie over something, or stand nearer to a
// note of the other staff than to one of their own, and would be read as the other hand's.
func crampedDigits(inner *etree.Element, digits []*movable, obstacles, walls []box) (count int) {
	heads := headsByStaff(inner, walls)
	for _, d := range digits {
		own := staffOf(walls, (d.left+d.right)/2, d.head)
		if !slices.ContainsFunc(walls, func(w box) bool { // a staff lies beyond it
			return w != own && w.left < d.right && d.left < w.right && (w.top-own.top)*d.step > 0
		}) {
			continue
		}
		over := slices.ContainsFunc(obstacles, d.meets) || slices.ContainsFunc(walls, func(w box) bool { return w != own && w.meets(d.box) }) ||
			slices.ContainsFunc(digits, func(o *movable) bool { return o != d && o.meets(d.box) })
		nearest, others := math.Abs((d.top+d.bottom)/2-d.head), math.Inf(1)
		for _, h := range heads {
			if h.left > d.right || d.left > h.right {
				continue
			}
			if away := math.Abs((d.top + d.bottom - h.top - h.bottom) / 2); h.staff == own {
				nearest = min(nearest, away)
			} else {
				others = min(others, away)
			}
		}
		if over || others < nearest {
			count++
		}
	}
	return count
}

// headOn is a note head and the staff on which it stands.
type headOn struct {
	box
	staff box
}

func headsByStaff(inner *etree.Element, walls []box) (out []headOn) {
	for _, head := range inner.FindElements(".//g[@class='notehead']/use") {
		if x, y, ok := placeOf(head); ok {
			b := box{x, y - staffSpace/2, x + 1.18*staffSpace, y + staffSpace/2}
			out = append(out, headOn{b, staffOf(walls, x, y)})
		}
	}
	return out
}

// staffOf is the staff nearest to a place: a note of one hand may stand on the other's staff.
func staffOf(walls []box, x, y float64) (out box) {
	nearest := math.Inf(1)
	for _, w := range walls {
		if x < w.left || x > w.right {
			continue
		}
		if away := max(0, w.top-y, y-w.bottom); away < nearest {
			out, nearest = w, away
		}
	}
	return out
}

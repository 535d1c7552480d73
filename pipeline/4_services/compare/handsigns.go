package compare

import (
	"strings"

	"fingerproof/corpus/score"
)

// placedSign is a sign of a hand (m.d., m.s. and their sisters) in B's time, on a staff numbered as in B.
type placedSign struct {
	sign  *score.Direction
	words string // as they stand, brackets included
	at    score.Fraction
	staff int // also of a sign between two staves: by it a reader knows whose notes it is for
	used  bool
}

// side is on which side of its staff a sign stands, where the file says so.
func (p *placedSign) side() score.Placement {
	switch {
	case p.sign.Above:
		return score.Above
	case p.sign.Below:
		return score.Below
	}
	return score.PlacementUnset
}

// handSigns compares the signs of hands by moment: which hand they name, then how they read, brackets included, and on
// which staff they stand; in layout, on which side of it.
func (c *comparison) handSigns() {
	old, new := c.placedSigns(c.a, true), c.placedSigns(c.b, false)
	match := func(fits func(p, q *placedSign) bool, then func(p, q *placedSign)) {
		for i := range old {
			for j := range new {
				p, q := &old[i], &new[j]
				if !p.used && !q.used && p.at == q.at && fits(p, q) {
					p.used, q.used = true, true
					then(p, q)
				}
			}
		}
	}
	sameHand := func(p, q *placedSign) bool { return p.sign.Hand == q.sign.Hand }
	match(func(p, q *placedSign) bool { return sameHand(p, q) && p.words == q.words && p.staff == q.staff }, c.sideOfSign)
	match(func(p, q *placedSign) bool { return sameHand(p, q) && p.staff == q.staff }, c.signChanged)
	match(sameHand, c.signChanged)
	match(func(p, q *placedSign) bool { return p.staff == q.staff }, c.signChanged)
	match(func(p, q *placedSign) bool { return true }, c.signChanged)
	for i := range old {
		if p := &old[i]; !p.used {
			c.atMoment(HandSign, c.a.placeOfSign(p.sign), nil, p.words, "")
		}
	}
	for j := range new {
		if q := &new[j]; !q.used {
			c.atMoment(HandSign, nil, c.b.placeOfSign(q.sign), "", q.words)
		}
	}
}

// placedSigns gathers the signs of hands of one side.
func (c *comparison) placedSigns(v *view, inA bool) (out []placedSign) {
	for i := range v.score.Directions {
		d := &v.score.Directions[i]
		if d.Kind != score.HandSign {
			continue
		}
		m, onset, ok := d.Measure, d.Onset, true
		staff := v.staves.of(d.Part, d.Staff)
		if inA {
			m, onset, ok = c.al.MomentToB(d.Measure, d.Onset)
			staff = c.staffToB(d.Part, d.Staff)
		}
		if !ok {
			continue
		}
		out = append(out, placedSign{
			sign: d, words: strings.Join(strings.Fields(d.Text), " "), at: c.b.score.Measures[m].Start.Add(onset), staff: staff,
		})
	}
	return out
}

// signChanged tells what differs between two signs at one moment.
func (c *comparison) signChanged(p, q *placedSign) {
	x, y := p.words, q.words
	if p.staff != q.staff {
		x += ", " + c.a.staffWords(p.sign.Part, p.sign.Staff)
		y += ", " + c.b.staffWords(q.sign.Part, q.sign.Staff)
	}
	if x != y {
		c.atMoment(HandSign, c.a.placeOfSign(p.sign), c.b.placeOfSign(q.sign), x, y)
	}
}

// sideOfSign tells where a sign stands on the other side of its staff: layout.
func (c *comparison) sideOfSign(p, q *placedSign) {
	x, y := p.side(), q.side()
	if !c.layout || x == y || x == score.PlacementUnset || y == score.PlacementUnset {
		return
	}
	c.atMoment(StaffSide, c.a.placeOfSign(p.sign), c.b.placeOfSign(q.sign), p.words+" "+x.String(), q.words+" "+y.String())
	c.changes[len(c.changes)-1].look = [2]string{x.String(), y.String()}
}

// placeOfSign is where a sign of a hand stands.
func (v *view) placeOfSign(d *score.Direction) *Place {
	p := v.moment(d.Measure, d.Onset)
	p.Staff, p.Line = d.Staff, d.Line
	return p
}

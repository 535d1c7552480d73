package musicxml

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// tupletSign follows the sign of a tuplet from its beginning to its end: within a measure, and by its number.
func (p *partReader) tupletSign(note int, e *xmltree.Element) {
	number := e.Attribute("number")
	from, open := p.tuplets[number]
	switch kind := e.Attribute("type"); {
	case kind == "start" && open && p.score.Notes[from].Onset == p.at:
	case kind == "start":
		if open {
			p.unpaired(from, "begins here and does not end")
		}
		p.tuplets[number] = note
	case kind == "stop" && open:
		p.tupletSigns[0]++
		delete(p.tuplets, number)
		p.tupletEnds = append(p.tupletEnds, [2]int{from, note})
	case kind == "stop":
		p.unpaired(note, "ends here and has not begun")
	}
}

// hiddenTuplets follows signs of tuplets that are not shown: they have a beginning and an end like others.
func (p *partReader) hiddenTuplets(note int, notations *xmltree.Element) {
	for c := notations.First; c != nil; c = c.Next {
		if c.Name == "tuplet" {
			p.tupletSign(note, c)
		}
	}
}

// tooFew notes the signs of tuplets of a measure that end before their notes are whole: they begin where notes without a
// tuplet could, end where none could, and other notes of the tuplet follow.
func (p *partReader) tooFew() {
	s := p.score
	for _, x := range p.tupletEnds {
		if x[1] >= len(s.Notes) {
			continue
		}
		p.tupletSpans.usual++
		a, z := &s.Notes[x[0]], &s.Notes[x[1]]
		end := z.Onset.Add(z.Duration)
		if z.Tuplet.Actual < 2 || !a.InVoiceOf(z) || a.Grace > 0 || z.Grace > 0 || !dyadic(a.Onset) || dyadic(end) || end.Den()%odd(int64(z.Tuplet.Actual)) != 0 {
			continue
		}
		for n := p.firstNote; n < len(s.Notes); n++ {
			if y := &s.Notes[n]; y.InVoiceOf(z) && y.Onset == end && y.Grace == 0 && y.Tuplet == z.Tuplet {
				p.except(&p.tupletSpans, score.OddTuplet, x[0], p.measure, a.Line, "the sign of the tuplet that begins here ends before its notes are whole")
				break
			}
		}
	}
	p.tupletEnds = nil
}

// dyadic says that a length is one of halves of halves of a quarter.
func dyadic(f score.Fraction) bool { return odd(f.Den()) == 1 }

// odd is what is left of a number without its factors of two.
func odd(n int64) int64 {
	for n > 1 && n%2 == 0 {
		n /= 2
	}
	return n
}

// openTuplets notes the signs of tuplets that a measure leaves open.
func (p *partReader) openTuplets() {
	p.tooFew()
	for n := p.firstNote; n < len(p.score.Notes); n++ {
		for _, from := range p.tuplets {
			if from == n {
				p.unpaired(n, "begins here and does not end")
			}
		}
	}
}

// unpaired notes the sign of a tuplet that lacks its other half.
func (p *partReader) unpaired(note int, how string) {
	p.tupletSigns[1]++
	line := 0
	if note < len(p.score.Notes) {
		line = p.score.Notes[note].Line
	}
	p.odd(score.OddTuplet, note, p.part, p.measure, line, "the sign of a tuplet %s", how)
}

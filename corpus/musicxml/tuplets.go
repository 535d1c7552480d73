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
	case kind == "stop":
		p.unpaired(note, "ends here and has not begun")
	}
}

// openTuplets notes the signs of tuplets that a measure leaves open.
func (p *partReader) openTuplets() {
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

package musicxml

import (
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// number reads a whole number of a sane size, from least to most. One that cannot be read is noted, as what it is and
// with what is taken for it.
func (p *partReader) number(note int, c *xmltree.Element, what, then string, least, most int) (int, bool) {
	n, err := strconv.Atoi(c.Trimmed())
	if err != nil || n < least || n > most {
		p.unreadable(note, c, what, then)
		return 0, false
	}
	return n, true
}

// unreadable notes a value that cannot be read: the text that stands there, and what follows from it.
func (p *partReader) unreadable(note int, c *xmltree.Element, what, then string) {
	if c == nil || len(p.score.Oddities) >= mostOddities {
		return
	}
	if c.Trimmed() == "" {
		p.missing(note, c, what, then)
		return
	}
	line := p.place(c.Span.Start).Line
	p.odd(score.OddValue, note, p.part, p.measure, line, "%s %.40q cannot be read; %s", what, c.Trimmed(), then)
}

// missing notes a value that does not stand in an element.
func (p *partReader) missing(note int, e *xmltree.Element, what, then string) {
	if len(p.score.Oddities) < mostOddities {
		line := p.place(e.Span.CloseStart).Line
		p.odd(score.OddValue, note, p.part, p.measure, line, "%s is missing; %s", what, then)
	}
}
